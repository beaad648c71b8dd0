//! leftovers.toml against what was there or bought, less what is used.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use super::cut::Bench;
use super::cutting::{Gives, HandKind};
use super::fabric::{FAT_QUARTER, OddmentFile, SquaresFile, YardageFile};
use super::fault::{Fault, short};
use super::laid::{Cut, Kind, Laid};
use super::list::Shelf;
use super::on_hand::{HandFile, LeanFile};
use super::paper::Size;
use super::rows::Step;
use super::scene::Scene;
use crate::measure::Length;

/// Most entries that are written in one list, and most pieces that one of them counts.
const MOST_ENTRIES: usize = 200;
const MOST_PIECES: u64 = 100_000;
/// The longest piece that is written.
const LONGEST: Length = Length::from_ticks(50 * Length::METRE.ticks());

/// Pieces that are alike: what they are, their fabrics' letters and their sizes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Piece {
    /// What they are.
    pub what: What,
    /// Letters of their fabrics.
    pub letters: Vec<String>,
    /// Their sides.
    pub size: [Length; 2],
    /// The corner that the first of them fills as a print stands upright.
    pub stands: Option<u8>,
}

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A piece on hand.
    Hand(HandKind),
    /// Cloth.
    Cloth(Kind),
}

/// How many there are of each.
pub type Counts = BTreeMap<Piece, u64>;

/// The file as a stash.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StashFile {
    fabric: Vec<LeftFile>,
    #[serde(default)]
    unit: Vec<super::on_hand::UnitOnHand>,
    #[serde(default)]
    slice: Vec<super::on_hand::SliceOnHand>,
    #[serde(default)]
    filler: Vec<super::on_hand::FillerOnHand>,
}

/// A fabric, and what is left of it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LeftFile {
    letter: String,
    name: String,
    colour: String,
    family: Option<String>,
    sketch: Option<String>,
    #[serde(default)]
    directional: bool,
    #[serde(default)]
    upright_in_triangles: bool,
    squares: Option<Vec<SquaresFile>>,
    yardage: Option<Vec<YardageFile>>,
    fat_quarters: Option<u32>,
    oddments: Option<Vec<OddmentFile>>,
    thumbnail: Option<String>,
    swatch_width: Option<Length>,
}

/// Checks that the file lists every fabric, and exactly what is left.
pub fn check(
    scene: &Scene,
    steps: &[Step],
    bench: &Bench,
    laid: &[Laid],
    shelf: Option<&Shelf>,
    text: &str,
) -> Result<(), Fault> {
    let file: StashFile = toml::from_str(text).map_err(|error| fault(format!("it cannot be read: {error}")))?;
    fabrics(scene, &file.fabric)?;
    let (written, full) = written(file);
    let due = due(scene, steps, bench, laid, shelf)?;
    for piece in written.keys().chain(due.keys()) {
        let count = |counts: &Counts| counts.get(piece).copied().unwrap_or(0);
        let (said, left) = (count(&written), count(&due));
        let list = (piece.what, piece.letters.first().filter(|_| matches!(piece.what, What::Cloth(_))).cloned());
        // A list that is full has no room for more kinds, and a count no more than it may be.
        let cut_short = said < left && ((said == 0 && full.contains(&list)) || said >= MOST_PIECES);
        if said != left && !cut_short {
            let (letters, [one, other]) = (piece.letters.join(" and "), piece.size);
            let size = format!("{} x {}", scene.ruler.number(one), scene.show(other));
            let what = format!("{} of fabric {}, {size}", piece.what.words(), short(&letters));
            return Err(fault(format!("it has {said} pieces, {what}, and {left} are left")));
        }
    }
    Ok(())
}

fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("leftovers.toml", what)
}

fn fabrics(scene: &Scene, written: &[LeftFile]) -> Result<(), Fault> {
    if !written.iter().map(|fabric| &fabric.letter).eq(&scene.letters) {
        return Err(fault("its fabrics have not the letters of those of the plan"));
    }
    for left in written {
        let Some(fabric) = scene.fabrics.get(&left.letter) else { continue };
        let name = (&left.name, left.family.as_ref().unwrap_or(&left.name));
        let looks = (&left.colour, &left.sketch, left.directional, left.upright_in_triangles);
        let due = (&fabric.colour, &fabric.sketch, fabric.directional, fabric.upright);
        let shown = (&left.thumbnail, left.swatch_width) == (&fabric.thumbnail, fabric.swatch_width);
        let same = name == (&fabric.name, &fabric.family) && looks == due && shown;
        if !same {
            return Err(fault(format!("its fabric {} is not that of the plan", short(&left.letter))));
        }
        if left.squares.is_none() && left.yardage.is_none() && left.fat_quarters.is_none() && left.oddments.is_none() {
            return Err(fault(format!("it does not say how much of fabric {} is left", short(&left.letter))));
        }
    }
    Ok(())
}

/// What the file says, and which of its lists are full.
fn written(file: StashFile) -> (Counts, BTreeSet<(What, Option<String>)>) {
    let (mut counts, mut full) = (Counts::new(), BTreeSet::new());
    for left in file.fabric {
        let mut entries: BTreeMap<What, usize> = BTreeMap::new();
        let mut add = |kind: Kind, size: (Length, Length), count: u32| {
            *entries.entry(What::Cloth(kind)).or_default() += 1;
            *counts.entry(Piece::cloth(kind, &left.letter, size)).or_default() += u64::from(count);
        };
        left.squares.into_iter().flatten().for_each(|s| add(Kind::Square, (s.size, s.size), s.count));
        left.yardage.into_iter().flatten().for_each(|y| add(Kind::Length, (y.width, y.length), 1));
        left.oddments.into_iter().flatten().for_each(|o| add(Kind::Oddment, (o.width, o.height), o.count));
        left.fat_quarters.into_iter().for_each(|count| add(Kind::FatQuarter, FAT_QUARTER, count));
        let lists = entries.into_iter().filter(|(_, entries)| *entries >= MOST_ENTRIES);
        full.extend(lists.map(|(what, _)| (what, Some(left.letter.clone()))));
    }
    for (kinds, entries) in [
        (&[HandKind::Unit][..], file.unit.len()),
        (&[HandKind::Slice(true), HandKind::Slice(false)], file.slice.len()),
        (&[HandKind::Filler], file.filler.len()),
    ] {
        full.extend(kinds.iter().filter(|_| entries >= MOST_ENTRIES).map(|kind| (What::Hand(*kind), None)));
    }
    on_hand(&HandFile { units: file.unit, slices: file.slice, fillers: file.filler }, &mut counts);
    (counts, full)
}

/// Adds what a list of units, strips and rectangles holds.
fn on_hand(hand: &HandFile, counts: &mut Counts) {
    let mut add = |piece: Piece, count: u32| *counts.entry(piece).or_default() += u64::from(count);
    for unit in &hand.units {
        let size = Size { width: unit.finished, height: unit.finished };
        add(Piece::hand(HandKind::Unit, &unit.fabrics, size, unit.stands.map(|corner| corner as u8)), unit.count);
    }
    for slice in &hand.slices {
        let size = Size { width: slice.width, height: slice.from };
        let kind = HandKind::Slice(slice.leans == LeanFile::Left);
        let stands = slice.stands.map(|corner| corner as u8);
        add(Piece::hand(kind, &[slice.tip.clone(), slice.rest.clone()], size, stands), slice.count);
    }
    for filler in &hand.fillers {
        let size = Size { width: filler.width, height: filler.height };
        add(Piece::hand(HandKind::Filler, std::slice::from_ref(&filler.fabric), size, None), filler.count);
    }
}

/// What must be left.
fn due(scene: &Scene, steps: &[Step], bench: &Bench, laid: &[Laid], shelf: Option<&Shelf>) -> Result<Counts, Fault> {
    let mut counts = Counts::new();
    on_hand(&scene.hand, &mut counts);
    let both = scene.both();
    for supply in bench.supplies() {
        match &supply.gives {
            Gives::Units(pairs) => {
                let side = pairs.trimmed - both;
                let size = Size { width: side, height: side };
                for (stands, spare) in pairs.spares(scene) {
                    *counts.entry(Piece::hand(HandKind::Unit, &pairs.fabrics, size, stands)).or_default() += spare;
                }
            }
            Gives::Hand(hand) => {
                let piece = Piece::hand(hand.kind, &hand.fabrics, hand.size.less(both), hand.stands);
                let left = counts.entry(piece).or_default();
                let more = || supply.line.fault("more are used than there are");
                *left = left.checked_sub(u64::from(hand.needed)).ok_or_else(more)?;
            }
            Gives::Fillers(_) => {}
        }
    }
    for step in steps {
        let Some(unit) = &step.unit else { continue };
        if let Some((fabrics, left, size)) = bench.left_over(step, unit).filter(|(_, _, size)| size.width > both) {
            let stands = fabrics.first().and_then(|tip| bench.standing(unit, tip));
            let piece = Piece::hand(HandKind::Slice(left), &fabrics, size.less(both), stands);
            *counts.entry(piece).or_default() += 1;
        }
    }
    match shelf {
        // Finishing is cut off it too.
        Some(shelf) => {
            for (letter, kind, [width, height], count) in shelf.left() {
                *counts.entry(Piece::cloth(kind, letter, (width, height))).or_default() += count;
            }
        }
        None => {
            uncut(scene, laid, &mut counts)?;
            laid.iter().for_each(|laid| remains(scene, laid, &mut counts));
        }
    }
    counts.retain(|piece, count| *count > 0 && piece.size[0].max(piece.size[1]) <= LONGEST);
    Ok(counts)
}

/// Sheets of the stash that stay as they are.
pub fn uncut(scene: &Scene, laid: &[Laid], counts: &mut Counts) -> Result<(), Fault> {
    for (letter, fabric) in &scene.fabrics {
        for (kind, size, count) in fabric.cloth().into_iter().flat_map(|supply| supply.sheets()) {
            *counts.entry(Piece::cloth(kind, letter, size)).or_default() += u64::from(count);
        }
    }
    let bought = |kind: Kind| matches!(kind, Kind::BoughtSquare | Kind::BoughtLength);
    for Laid { sheet, .. } in laid.iter().filter(|laid| !bought(laid.sheet.kind)) {
        let size = sheet.upright();
        let piece = Piece::cloth(sheet.kind, &sheet.fabric, (size.width, size.height));
        let left = counts.entry(piece).or_default();
        let more = || fault(format!("more sheets of fabric {} are cut than there are", short(&sheet.fabric)));
        *left = left.checked_sub(u64::from(sheet.count)).ok_or_else(more)?;
    }
    Ok(())
}

/// What stays of a sheet that is cut: quarters of a square, or rectangles that a filler could come from.
pub fn remains(scene: &Scene, laid: &Laid, counts: &mut Counts) {
    let (sheet, size) = (&laid.sheet, laid.sheet.size);
    let mut add = |kind: Kind, size: Size, count: u64| {
        let piece = Piece::cloth(kind, &sheet.fabric, (size.width, size.height));
        *counts.entry(piece).or_default() += u64::from(sheet.count) * count;
    };
    let quarter = |cut: &Cut| cut.size.width + cut.size.width == size.width && cut.size.width == cut.size.height;
    match sheet.kind {
        Kind::BoughtLength => return,
        Kind::Square | Kind::BoughtSquare if laid.cuts.len() < 4 && laid.cuts.iter().all(quarter) => {
            let side = laid.cuts.first().map_or(Length::ZERO, |cut| cut.size.width);
            return add(Kind::Square, Size { width: side, height: side }, 4 - laid.cuts.len() as u64);
        }
        _ => {}
    }
    let mut strips: BTreeMap<Length, (Length, Length)> = BTreeMap::new();
    let mut parts = Vec::new();
    for cut in &laid.cuts {
        let strip = strips.entry(cut.strip_at).or_insert((cut.strip_height, Length::ZERO));
        strip.1 = strip.1.max(cut.at + cut.size.width);
        parts.push(Size { width: cut.size.width, height: cut.strip_height - cut.size.height });
    }
    let used = strips.iter().map(|(at, (height, _))| *at + *height).max().unwrap_or_default();
    parts.push(Size { width: size.width, height: size.height - used });
    parts.extend(strips.values().map(|(height, end)| Size { width: size.width - *end, height: *height }));
    let least = scene.asked.least + scene.both();
    for part in parts.into_iter().filter(|part| part.width.min(part.height) >= least) {
        let kind = if sheet.kind == Kind::Length && part.width == size.width { Kind::Length } else { Kind::Oddment };
        add(kind, if sheet.turned { part.on_its_side() } else { part }, 1);
    }
}

impl Piece {
    /// The same whichever way round it is told.
    fn hand(kind: HandKind, letters: &[String], finished: Size, stands: Option<u8>) -> Self {
        let turned = kind == HandKind::Unit && !letters.is_sorted();
        let stands = stands.map(|corner| if turned { (corner + 2) % 4 } else { corner });
        let (mut letters, mut size) = (letters.to_vec(), [finished.width, finished.height]);
        match kind {
            HandKind::Unit => letters.sort_unstable(),
            HandKind::Filler => size.sort_unstable(),
            HandKind::Slice(_) => {}
        }
        Self { what: What::Hand(kind), letters, size, stands }
    }

    fn cloth(kind: Kind, letter: &str, (width, height): (Length, Length)) -> Self {
        Self { what: What::Cloth(kind), letters: vec![letter.to_owned()], size: [width, height], stands: None }
    }
}

impl What {
    fn words(self) -> &'static str {
        match self {
            Self::Hand(HandKind::Unit) => "triangle units",
            Self::Hand(HandKind::Slice(true)) => "strips that lean left",
            Self::Hand(HandKind::Slice(false)) => "strips that lean right",
            Self::Hand(HandKind::Filler) => "fillers",
            Self::Cloth(kind) => super::laid::KINDS.iter().find(|known| known.1 == kind).map_or("", |known| known.0),
        }
    }
}
