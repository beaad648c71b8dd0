//! The lines of cutting.csv as they are cut and paired.

use std::collections::BTreeSet;

use super::fault::Fault;
use super::paper::Size;
use super::sheet::{Layout, Line, lines};
use crate::measure::Length;

const LAYOUT: Layout = Layout {
    file: "cutting.csv",
    key: "id",
    columns: &[
        "record", "id", "fabric", "second", "method", "square*", "bought*", "width*", "height*", "count", "yield",
        "needed", "spare", "press",
    ],
};

/// How a pair is sewn and cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Two at a time.
    Two,
    /// Four at a time.
    Four,
    /// Eight at a time.
    Eight,
}

/// A line of cutting.csv, and how many pieces rows took from it so far.
pub struct Supply {
    /// The line as written, for its faults.
    pub line: Line,
    /// What it gives.
    pub gives: Gives,
    /// Pieces taken by the rows.
    pub taken: u32,
}

/// What a line gives.
pub enum Gives {
    /// Triangle units.
    Units(Pairs),
    /// Fillers.
    Fillers(Fillers),
    /// Pieces on hand.
    Hand(Hand),
}

/// Pieces of one kind that were there before.
pub struct Hand {
    /// What they are.
    pub kind: HandKind,
    /// Letters of the two fabrics, one of a filler; of a slice the small triangle's first.
    pub fabrics: Vec<String>,
    /// Size with its seams on; of a slice its width and length.
    pub size: Size,
    /// How many there are.
    pub there: u32,
    /// How many the scene uses.
    pub needed: u32,
    /// How many are left.
    pub spare: u32,
}

impl Hand {
    /// What makes it the same as another, whichever way round it is told.
    fn same(&self) -> (HandKind, Vec<String>, [Length; 2]) {
        let (mut fabrics, mut sides) = (self.fabrics.clone(), [self.size.width, self.size.height]);
        match self.kind {
            HandKind::Unit => fabrics.sort_unstable(),
            HandKind::Filler => sides.sort_unstable(),
            HandKind::Slice(_) => {}
        }
        (self.kind, fabrics, sides)
    }
}

/// What a piece on hand is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HandKind {
    /// A whole triangle unit.
    Unit,
    /// A strip: whether its tip is in the upper left corner when it stands.
    Slice(bool),
    /// A rectangle.
    Filler,
}

/// Pairs of squares sewn alike.
pub struct Pairs {
    /// Letters of the two fabrics.
    pub fabrics: [String; 2],
    /// How they are sewn.
    pub method: Method,
    /// Side of the squares that are paired.
    pub square: Length,
    /// Side of the squares as bought.
    pub bought: Length,
    /// The side that each unit is trimmed to.
    pub trimmed: Length,
    /// How many pairs.
    pub pairs: u32,
    /// Units that a pair gives.
    pub yields: u32,
    /// Units that the scene uses.
    pub needed: u32,
    /// Units left over.
    pub spare: u32,
    /// Letter of the fabric that its diagonals are pressed to, or `open`.
    pub press: String,
}

/// Rectangles of one fabric.
pub struct Fillers {
    /// Letter of the fabric.
    pub fabric: String,
    /// Size as cut.
    pub cut: Size,
    /// How many.
    pub count: u32,
}

#[derive(Clone, Copy)]
enum Record {
    Pair,
    Filler,
    Hand(HandKind),
}

const RECORDS: [(&str, Record); 6] = [
    ("pair", Record::Pair),
    ("filler", Record::Filler),
    ("unit on hand", Record::Hand(HandKind::Unit)),
    ("left slice on hand", Record::Hand(HandKind::Slice(true))),
    ("right slice on hand", Record::Hand(HandKind::Slice(false))),
    ("filler on hand", Record::Hand(HandKind::Filler)),
];
const METHODS: [(&str, Method); 3] = [("two", Method::Two), ("four", Method::Four), ("eight", Method::Eight)];

/// Every line of cutting.csv; no id stands twice, nor any kind of piece on hand.
pub fn read(text: &str, unit: &'static str) -> Result<Vec<Supply>, Fault> {
    let (mut ids, mut kinds) = (BTreeSet::new(), BTreeSet::new());
    let mut supplies = Vec::new();
    for line in lines(&LAYOUT, text, unit)? {
        if !ids.insert(line.due("id")?.to_owned()) {
            return Err(line.fault("the id stands twice"));
        }
        let gives = match line.choice("record", &RECORDS)? {
            Record::Pair => Gives::Units(pairs(&line)?),
            Record::Filler => Gives::Fillers(fillers(&line)?),
            Record::Hand(kind) => Gives::Hand(hand(&line, kind)?),
        };
        if let Gives::Hand(hand) = &gives
            && !kinds.insert(hand.same())
        {
            return Err(line.fault("pieces of this kind stand on another line too, and would be counted twice"));
        }
        supplies.push(Supply { line, gives, taken: 0 });
    }
    Ok(supplies)
}

fn pairs(line: &Line) -> Result<Pairs, Fault> {
    let trimmed = line.size("")?;
    if trimmed.width != trimmed.height {
        return Err(line.fault("a triangle unit is trimmed square, and its width and height differ"));
    }
    Ok(Pairs {
        fabrics: [line.due("fabric")?.to_owned(), line.due("second")?.to_owned()],
        method: line.choice("method", &METHODS)?,
        square: line.length("square")?,
        bought: line.length("bought")?,
        trimmed: trimmed.width,
        pairs: line.count("count")?,
        yields: line.count("yield")?,
        needed: line.count("needed")?,
        spare: line.count("spare")?,
        press: line.due("press")?.to_owned(),
    })
}

fn hand(line: &Line, kind: HandKind) -> Result<Hand, Fault> {
    line.nothing_in(&["method", "square", "bought", "yield", "press"])?;
    let mut fabrics = vec![line.due("fabric")?.to_owned()];
    match kind {
        HandKind::Filler => line.nothing_in(&["second"])?,
        _ => fabrics.push(line.due("second")?.to_owned()),
    }
    let (there, needed, spare) = (line.count("count")?, line.count("needed")?, line.count("spare")?);
    Ok(Hand { kind, fabrics, size: line.size("")?, there, needed, spare })
}

fn fillers(line: &Line) -> Result<Fillers, Fault> {
    line.nothing_in(&["second", "method", "square", "bought", "yield", "needed", "spare", "press"])?;
    Ok(Fillers { fabric: line.due("fabric")?.to_owned(), cut: line.size("")?, count: line.count("count")? })
}
