//! The lines of rows.csv as they are sewn.

use super::fault::Fault;
use super::paper::Size;
use super::sheet::{Layout, Line, lines};
use crate::measure::Length;

const LAYOUT: Layout = Layout {
    file: "rows.csv",
    key: "address",
    columns: &[
        "record",
        "address",
        "kind",
        "first",
        "second",
        "turn",
        "finished_width*",
        "finished_height*",
        "unfinished_width*",
        "unfinished_height*",
        "cut_width*",
        "cut_height*",
        "from",
        "strip*",
        "strip_side",
        "offcut",
        "press",
        "meets",
        "nests",
        "bias",
        "words",
    ],
};

/// Where a unit comes from that is sewn already.
pub const SEWN: &str = "sewn";

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Record {
    /// One unit of a row.
    Unit,
    /// A row, after its units.
    Row,
    /// A column, after its rows.
    Column,
    /// A band, after its columns.
    Band,
    /// The whole top.
    Top,
}

/// One line with what all lines have.
pub struct Step {
    /// The line as written, for its faults.
    pub line: Line,
    /// What it stands for.
    pub record: Record,
    /// Finished size.
    pub finished: Size,
    /// Unfinished size.
    pub unfinished: Size,
    /// What is cut, for a unit.
    pub unit: Option<UnitStep>,
    /// Which way the seam to the part before is pressed.
    pub press: Option<Press>,
    /// Places along that seam where seams of both sides meet.
    pub meets: Option<u32>,
    /// Those of them where they nest.
    pub nests: Option<u32>,
    /// Sides on the bias, on the outside of the top.
    pub bias: Vec<Side>,
    /// Width and height as cut or as first sewn.
    pub cut: (Option<Length>, Option<Length>),
}

/// What is cut and turned for one unit.
pub struct UnitStep {
    /// `filler`, `big`, `small trimmed` and so on.
    pub kind: String,
    /// Letter of its first fabric.
    pub first: String,
    /// Letter of its second fabric.
    pub second: Option<String>,
    /// Quarter turns clockwise.
    pub turn: Option<u8>,
    /// Id of the line it is cut from, or the address whose strip it is.
    pub from: String,
    /// Width of the strip that is cut off, and from which side.
    pub strip: Option<(Length, Side)>,
    /// Address of the slice that the strip becomes.
    pub offcut: Option<String>,
}

/// A side of a unit as it lies in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The left.
    Left,
    /// The right.
    Right,
    /// The upper side.
    Top,
    /// The lower side.
    Bottom,
}

/// Which way a seam is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// To the part before: left or up.
    Back,
    /// To the part itself: right or down.
    On,
    /// Open.
    Open,
}

const RECORDS: [(&str, Record); 5] = [
    ("unit", Record::Unit),
    ("row", Record::Row),
    ("column", Record::Column),
    ("band", Record::Band),
    ("top", Record::Top),
];
const TURNS: [(&str, u8); 4] = [("0", 0), ("90", 1), ("180", 2), ("270", 3)];
const SIDES: [(&str, Side); 4] =
    [("left", Side::Left), ("right", Side::Right), ("top", Side::Top), ("bottom", Side::Bottom)];
const ACROSS: [(&str, Press); 3] = [("left", Press::Back), ("right", Press::On), ("open", Press::Open)];
const DOWN: [(&str, Press); 3] = [("up", Press::Back), ("down", Press::On), ("open", Press::Open)];

/// Every line of rows.csv.
pub fn read(text: &str, unit: &'static str) -> Result<Vec<Step>, Fault> {
    lines(&LAYOUT, text, unit)?.into_iter().map(step).collect()
}

fn step(line: Line) -> Result<Step, Fault> {
    let record = line.choice("record", &RECORDS)?;
    line.due("address")?;
    if record != Record::Unit {
        line.nothing_in(&["kind", "first", "second", "turn", "from", "strip", "strip_side", "offcut"])?;
    }
    if record != Record::Unit {
        line.nothing_in(&["bias"])?;
    }
    let press = press(&line, record)?;
    if press.is_none() {
        line.nothing_in(&["meets", "nests"])?;
    }
    if !matches!(record, Record::Unit | Record::Row) {
        line.nothing_in(&["cut_width", "cut_height"])?;
    }
    Ok(Step {
        record,
        finished: line.size("finished_")?,
        unfinished: line.size("unfinished_")?,
        unit: if record == Record::Unit { Some(unit_step(&line)?) } else { None },
        press,
        meets: press.map(|_| line.count("meets")).transpose()?,
        nests: press.map(|_| line.count("nests")).transpose()?,
        bias: line.text("bias").split_whitespace().map(|side| side_of(&line, side)).collect::<Result<_, _>>()?,
        cut: (line.some_length("cut_width")?, line.some_length("cut_height")?),
        line,
    })
}

/// Units and columns are joined from the left, rows and bands from the top.
fn press(line: &Line, record: Record) -> Result<Option<Press>, Fault> {
    let ways = match record {
        Record::Unit | Record::Column => &ACROSS,
        Record::Row | Record::Band => &DOWN,
        Record::Top => return line.nothing_in(&["press"]).map(|()| None),
    };
    line.some("press").map(|_| line.choice("press", ways)).transpose()
}

fn side_of(line: &Line, word: &str) -> Result<Side, Fault> {
    let known = SIDES.iter().find(|(side, _)| *side == word).map(|(_, side)| *side);
    known.ok_or_else(|| line.fault("its edges on the bias are not named by their sides"))
}

fn unit_step(line: &Line) -> Result<UnitStep, Fault> {
    let strip = match line.some_length("strip")? {
        Some(width) => Some((width, line.choice("strip_side", &SIDES)?)),
        None => line.nothing_in(&["strip_side"]).map(|()| None)?,
    };
    Ok(UnitStep {
        kind: line.due("kind")?.to_owned(),
        first: line.due("first")?.to_owned(),
        second: line.some("second").map(str::to_owned),
        turn: line.some("turn").map(|_| line.choice("turn", &TURNS)).transpose()?,
        from: line.due("from")?.to_owned(),
        strip,
        offcut: line.some("offcut").map(str::to_owned),
    })
}
