//! The lines of cutting.csv as they are cut and paired.

use std::collections::BTreeSet;

use super::fault::Fault;
use super::paper::Size;
use super::scene::Scene;
use super::sheet::{Layout, Line, lines};
use super::upright::{CORNERS, Lay};
use crate::measure::Length;

const LAYOUT: Layout = Layout {
    file: "cutting.csv",
    key: "id",
    columns: &[
        "record", "id", "fabric", "second", "method", "square*", "bought*", "width*", "height*", "count", "yield",
        "needed", "spare", "press",
    ],
};

/// The same where a print is to stand upright.
const UPRIGHT: Layout = Layout {
    file: "cutting.csv",
    key: "id",
    columns: &[
        "record",
        "id",
        "fabric",
        "second",
        "method",
        "square*",
        "bought*",
        "width*",
        "height*",
        "count",
        "yield",
        "needed",
        "spare",
        "press",
        "diagonal",
        "below",
        "top_to",
        "upper_left",
        "upper_right",
        "lower_right",
        "lower_left",
        "stands",
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
    /// Triangle units among them, by the corner that the line's first fabric fills.
    pub corners: [u32; 4],
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
    /// The corner that its first fabric fills as a print in it stands upright.
    pub stands: Option<u8>,
}

impl Hand {
    /// What makes it the same as another, whichever way round it is told.
    fn same(&self) -> (HandKind, Vec<String>, [Length; 2], Option<u8>) {
        let (mut fabrics, mut sides) = (self.fabrics.clone(), [self.size.width, self.size.height]);
        let turned = self.kind == HandKind::Unit && !fabrics.is_sorted();
        let stands = self.stands.map(|corner| if turned { (corner + 2) % 4 } else { corner });
        match self.kind {
            HandKind::Unit => fabrics.sort_unstable(),
            HandKind::Filler => sides.sort_unstable(),
            HandKind::Slice(_) => {}
        }
        (self.kind, fabrics, sides, stands)
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
    /// How its squares are laid, where a print is to stand upright.
    pub lay: Option<Lay>,
}

impl Pairs {
    /// Units left over that are alike: all, or where a print is to stand upright those with the first fabric in one corner.
    pub fn spares(&self, scene: &Scene) -> Vec<(Option<u8>, u64)> {
        let Some(lay) = &self.lay else { return vec![(None, u64::from(self.spare))] };
        let gives = lay.gives(scene, &self.fabrics).map(|each| u64::from(each) * u64::from(self.pairs));
        let spare = |(gives, needed): (u64, u32)| gives.saturating_sub(u64::from(needed));
        (0..).map(Some).zip(gives.into_iter().zip(lay.needed).map(spare)).collect()
    }
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

/// Every line of cutting.csv, with more columns where a print is to stand `upright`; no id stands twice, nor any kind of
/// piece on hand.
pub fn read(text: &str, unit: &'static str, upright: bool) -> Result<Vec<Supply>, Fault> {
    let layout = if upright { &UPRIGHT } else { &LAYOUT };
    let (mut ids, mut kinds) = (BTreeSet::new(), BTreeSet::new());
    let mut supplies = Vec::new();
    for line in lines(layout, text, unit)? {
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
        supplies.push(Supply { line, gives, taken: 0, corners: [0; 4] });
    }
    Ok(supplies)
}

/// What is said of squares that are laid for their prints.
const LAID: [&str; 7] = ["diagonal", "below", "top_to", "upper_left", "upper_right", "lower_right", "lower_left"];

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
        lay: Lay::read(line)?,
    })
}

fn hand(line: &Line, kind: HandKind) -> Result<Hand, Fault> {
    line.nothing_in(&["method", "square", "bought", "yield", "press"])?;
    line.nothing_in(&LAID)?;
    let mut fabrics = vec![line.due("fabric")?.to_owned()];
    match kind {
        HandKind::Filler => line.nothing_in(&["second"])?,
        _ => fabrics.push(line.due("second")?.to_owned()),
    }
    let (there, needed, spare) = (line.count("count")?, line.count("needed")?, line.count("spare")?);
    let corners: [(&str, u8); 4] = [(CORNERS[0], 0), (CORNERS[1], 1), (CORNERS[2], 2), (CORNERS[3], 3)];
    let stands = line.some("stands").map(|_| line.choice("stands", &corners)).transpose()?;
    Ok(Hand { kind, fabrics, size: line.size("")?, there, needed, spare, stands })
}

fn fillers(line: &Line) -> Result<Fillers, Fault> {
    line.nothing_in(&["second", "method", "square", "bought", "yield", "needed", "spare", "press", "stands"])?;
    line.nothing_in(&LAID)?;
    Ok(Fillers { fabric: line.due("fabric")?.to_owned(), cut: line.size("")?, count: line.count("count")? })
}
