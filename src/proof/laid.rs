//! The lines of cloth.csv as sheets with their pieces.

use std::collections::BTreeMap;

use super::fault::Fault;
use super::paper::Size;
use super::sheet::{Layout, Line, lines};
use crate::measure::Length;

const LAYOUT: Layout = Layout {
    file: "cloth.csv",
    key: "sheet",
    columns: &[
        "sheet",
        "fabric",
        "kind",
        "sheets",
        "sheet_width*",
        "sheet_height*",
        "turned",
        "strip_at*",
        "strip_height*",
        "at*",
        "width*",
        "height*",
        "for",
    ],
};

/// What a sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A square of the stash.
    Square,
    /// A length of the stash.
    Length,
    /// A fat quarter of the stash.
    FatQuarter,
    /// An odd piece of the stash.
    Oddment,
    /// A square to buy.
    BoughtSquare,
    /// A length to buy.
    BoughtLength,
}

/// The kinds and their words.
pub const KINDS: [(&str, Kind); 6] = [
    ("square", Kind::Square),
    ("length", Kind::Length),
    ("fat quarter", Kind::FatQuarter),
    ("oddment", Kind::Oddment),
    ("bought square", Kind::BoughtSquare),
    ("bought length", Kind::BoughtLength),
];

const TURNED: [(&str, bool); 2] = [("", false), ("yes", true)];

/// Sheets that are cut alike.
pub struct Laid {
    /// What its lines agree in.
    pub sheet: Sheet,
    /// Everything that is cut from one of them.
    pub cuts: Vec<Cut>,
}

/// What every line of a sheet says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Letter of its fabric.
    pub fabric: String,
    /// What it is.
    pub kind: Kind,
    /// How many are cut so.
    pub count: u32,
    /// Its size as it lies.
    pub size: Size,
    /// Whether it lies turned by a quarter.
    pub turned: bool,
}

/// One piece of a sheet.
pub struct Cut {
    /// The line as written, for its faults.
    pub line: Line,
    /// Where its strip begins, from the top.
    pub strip_at: Length,
    /// How wide its strip is cut.
    pub strip_height: Length,
    /// Where it begins in its strip.
    pub at: Length,
    /// Its size as the sheet lies.
    pub size: Size,
    /// The line of cutting.csv that it is for.
    pub whose: String,
}

impl Sheet {
    /// Its size before it was turned.
    pub fn upright(&self) -> Size {
        if self.turned { self.size.on_its_side() } else { self.size }
    }
}

/// Every sheet of cloth.csv, by its id; lines of one sheet agree.
pub fn read(text: &str, unit: &'static str) -> Result<Vec<Laid>, Fault> {
    let mut sheets: BTreeMap<String, Laid> = BTreeMap::new();
    for line in lines(&LAYOUT, text, unit)? {
        let (id, sheet, cut) = (line.due("sheet")?.to_owned(), sheet(&line)?, cut(line)?);
        let laid = sheets.entry(id).or_insert_with(|| Laid { sheet: sheet.clone(), cuts: Vec::new() });
        if laid.sheet != sheet {
            return Err(cut.line.fault("its lines do not agree on what sheet it is"));
        }
        laid.cuts.push(cut);
    }
    Ok(sheets.into_values().collect())
}

fn sheet(line: &Line) -> Result<Sheet, Fault> {
    let sheet = Sheet {
        fabric: line.due("fabric")?.to_owned(),
        kind: line.choice("kind", &KINDS)?,
        count: line.count("sheets")?,
        size: line.size("sheet_")?,
        turned: line.choice("turned", &TURNED)?,
    };
    if sheet.count == 0 { Err(line.fault("no sheet is cut so")) } else { Ok(sheet) }
}

fn cut(line: Line) -> Result<Cut, Fault> {
    Ok(Cut {
        strip_at: line.place("strip_at")?,
        strip_height: line.length("strip_height")?,
        at: line.place("at")?,
        size: line.size("")?,
        whose: line.due("for")?.to_owned(),
        line,
    })
}
