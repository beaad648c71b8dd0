//! The plan as this check reads it: its request, and every unit with its patches.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use super::cloth::Patch;
use super::cutting::HandKind;
use super::fabric::FabricFile;
use super::fault::{Fault, short};
use super::on_hand::HandFile;
use super::paper::{Point, Size, point, tidy};
use super::request::{RequestFile, RowEndsFile, RulerFile, SquareFile};
use super::tile::{leak, runs_round};
use super::triangle::TriangleFile;
use crate::measure::{Length, Ruler};

/// What the maker asked for, and the scene to compare with.
#[derive(Debug)]
pub struct Scene {
    /// What was asked for.
    pub asked: RequestFile,
    /// Finished size of the top.
    pub size: Size,
    /// The working seam.
    pub seam: Length,
    /// The ruler that sizes are shown in.
    pub ruler: Ruler,
    /// Sides of the squares that are paired, and of those they were bought as.
    pub squares: Vec<(Length, Length)>,
    /// Usable width of yardage.
    pub cloth_width: Length,
    /// Whether fillers at row ends are cut over.
    pub spare: bool,
    /// Letters of the fabrics.
    pub letters: Vec<String>,
    /// The fabrics by their letters.
    pub fabrics: BTreeMap<String, FabricFile>,
    /// What is sewn and cut already.
    pub hand: HandFile,
    /// The colours of the picture's cells, and their weights: one text a row.
    pub cells: [Vec<String>; 2],
    /// Bands from the top.
    pub bands: Vec<Vec<Column>>,
    /// The scene before its last change.
    pub was: Option<Was>,
    /// Numbers that lists before gave, such as `P3`.
    pub numbers: BTreeSet<String>,
}

/// A scene before a change.
#[derive(Debug)]
pub struct Was {
    /// Its units by their patches, and how many there were of each kind.
    pub units: BTreeSet<Vec<Patch>>,
    /// How many units there were of each kind.
    pub kinds: BTreeMap<String, u32>,
    /// What was asked for.
    pub why: Vec<Why>,
}

/// One thing that was asked for; parts by their addresses, fabrics by their letters.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Why {
    Marked { part: String, state: StateFile },
    Lost { unit: String },
    Turned { unit: String },
    Wanted { unit: String },
    Exchanged { part: String, now: String, then: String },
    RanOut { letter: String },
    Bought { letter: String },
    Stash,
    Asked,
    Finished,
}

/// Rows from the top of a column.
pub type Column = Vec<Row>;

/// Units from the left of a row.
pub type Row = Vec<Unit>;

/// A unit as planned.
#[derive(Debug)]
pub struct Unit {
    /// Where it stands.
    pub address: String,
    /// Whether it is sewn already.
    pub sewn: bool,
    /// Whether it is cut already.
    pub cut: bool,
    /// Whether the plan says what triangle unit it is.
    pub told: bool,
    /// `filler`, `big`, `small trimmed` and so on.
    pub kind: String,
    /// Finished size.
    pub size: Size,
    /// Its patches in their places in the top.
    pub patches: Vec<Patch>,
}

#[derive(Deserialize)]
struct File {
    format: String,
    version: u32,
    request: RequestFile,
    fabrics: Vec<FabricFile>,
    #[serde(default)]
    on_hand: HandFile,
    #[serde(default)]
    picture: Vec<String>,
    #[serde(default)]
    focus: Vec<String>,
    bands: Vec<BandFile>,
    #[serde(default)]
    numbers: BTreeMap<String, u32>,
    was: Option<WasFile>,
}

#[derive(Deserialize)]
struct WasFile {
    request: RequestFile,
    fabrics: Vec<FabricFile>,
    bands: Vec<BandFile>,
    why: Vec<Why>,
}

#[derive(Deserialize)]
struct BandFile {
    height: u32,
    columns: Vec<ColumnFile>,
}

#[derive(Deserialize)]
struct ColumnFile {
    width: u32,
    rows: Vec<RowFile>,
}

#[derive(Deserialize)]
struct RowFile {
    height: u32,
    units: Vec<UnitFile>,
}

#[derive(Deserialize)]
struct UnitFile {
    address: String,
    kind: String,
    width: u32,
    #[serde(default)]
    state: StateFile,
    triangle: Option<TriangleFile>,
    patches: Vec<PatchFile>,
}

/// Whether a unit may be changed.
#[derive(Debug, Deserialize, Default, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum StateFile {
    #[default]
    Free,
    Kept,
    Cut,
    Sewn,
}

#[derive(Deserialize)]
struct PatchFile {
    fabric: String,
    outline: Vec<(u32, u32)>,
}

/// The plan in `text`, once its patches are found to tile the top.
pub fn read(text: &str) -> Result<Scene, Fault> {
    let file: File = serde_json::from_str(text).map_err(|error| {
        Fault::new(format!("plan.json:{}", error.line()), format!("the plan cannot be read: {error}"))
    })?;
    if (file.format.as_str(), file.version) != ("rowscape-plan", 1) {
        let what = format!("it is `{}` of version {}, not a plan of version 1", short(&file.format), file.version);
        return Err(Fault::new("plan.json", what));
    }
    let request = &file.request;
    request.check()?;
    check_fabrics(&file)?;
    let reader = Reader { grid: request.grid, letters: file.fabrics.iter().map(|f| f.letter.clone()).collect() };
    let size = Size { width: request.width, height: request.height };
    let bands = reader.bands(file.bands, size)?;
    let numbers = file.numbers.iter().filter_map(|(thing, number)| Some(format!("{}{number}", thing.chars().next()?)));
    let numbers = numbers.collect();
    let was = file.was.map(before).transpose()?;
    let side = |square: &SquareFile| if square.quartered { square.cut + square.cut } else { square.cut };
    Ok(Scene {
        size,
        seam: request.seam.working,
        ruler: match request.ruler {
            RulerFile::Inch => Ruler::Inch,
            RulerFile::Metric => Ruler::Metric,
        },
        squares: request.squares.iter().map(|square| (square.cut, side(square))).collect(),
        cloth_width: request.cloth_width,
        spare: request.row_ends == RowEndsFile::Spare,
        letters: reader.letters,
        hand: file.on_hand,
        cells: [file.picture, file.focus],
        asked: file.request,
        fabrics: file.fabrics.into_iter().map(|fabric| (fabric.letter.clone(), fabric)).collect(),
        bands,
        was,
        numbers,
    })
}

/// The scene before its last change.
fn before(file: WasFile) -> Result<Was, Fault> {
    file.request.check()?;
    let letters = file.fabrics.into_iter().map(|fabric| fabric.letter).collect();
    let reader = Reader { grid: file.request.grid, letters };
    let size = Size { width: file.request.width, height: file.request.height };
    let bands = reader.bands(file.bands, size)?;
    let (mut units, mut kinds) = (BTreeSet::new(), BTreeMap::new());
    for unit in bands.into_iter().flatten().flatten().flatten() {
        units.insert(unit.patches);
        *kinds.entry(unit.kind).or_default() += 1;
    }
    Ok(Was { units, kinds, why: file.why })
}

/// Letters and names stand for one fabric each, and whatever is there has a size.
fn check_fabrics(file: &File) -> Result<(), Fault> {
    let (mut letters, mut names) = (BTreeSet::new(), BTreeSet::new());
    for fabric in &file.fabrics {
        let (letter, at) = (short(&fabric.letter), "plan.json");
        if !letters.insert(fabric.letter.to_lowercase()) {
            return Err(Fault::new(at, format!("the letter `{letter}` stands for two fabrics")));
        }
        if !names.insert(fabric.name.to_lowercase()) {
            return Err(Fault::new(at, format!("fabric {letter} has the name of another")));
        }
        let sheets = fabric.cloth().into_iter().flat_map(|supply| supply.sheets());
        let mut sides = sheets.flat_map(|sheet| [sheet.1.0, sheet.1.1]).chain(fabric.only_squares);
        if sides.any(|side| side <= Length::ZERO) {
            return Err(Fault::new(at, format!("a piece of fabric {letter} has no size")));
        }
    }
    match file.on_hand.has_sizes() {
        true => Ok(()),
        false => Err(Fault::new("plan.json", "a piece on hand has no size, or is a strip as wide as its unit")),
    }
}

impl Scene {
    /// Whether a strip so wide may come off a unit; a slice is cut as wide as the grid lets it finish.
    pub fn is_strip(&self, kind: &str, width: Length) -> bool {
        let (grid, both) = (self.asked.grid, self.both());
        let mut may = self.asked.strips.iter();
        match kind.ends_with(" slice") {
            true => may.any(|strip| grid * (*strip - both).floor_div(grid) + both == width),
            false => may.any(|strip| *strip == width),
        }
    }

    /// Two seams.
    pub fn both(&self) -> Length {
        self.seam + self.seam
    }

    /// Whether squares are asked for that are paired at `square` and bought as `bought`, or are cut in four for it.
    pub fn has_square(&self, square: Length, bought: Length) -> bool {
        let quarter = square + square == bought && self.squares.contains(&(bought, bought));
        quarter || self.squares.contains(&(square, bought))
    }

    /// Whether there is so much of a fabric and no more.
    pub fn has_supply(&self, letter: &str) -> bool {
        self.fabrics.get(letter).is_some_and(|fabric| fabric.supply.is_some())
    }

    /// Whether a print has an up and a down.
    pub fn is_directional(&self, letter: &str) -> bool {
        self.fabrics.get(letter).is_some_and(|fabric| fabric.directional)
    }

    /// Whether a print is to stand upright in triangle units too.
    pub fn is_upright(&self, letter: &str) -> bool {
        self.fabrics.get(letter).is_some_and(|fabric| fabric.upright)
    }

    /// Whether any is.
    pub fn has_upright(&self) -> bool {
        self.fabrics.values().any(|fabric| fabric.upright)
    }

    /// How many pieces of a kind the plan has on hand, standing so; of a slice the width and the length it finishes at are
    /// given.
    pub fn on_hand(&self, kind: HandKind, fabrics: &[String], finished: Size, stands: Option<u8>) -> u64 {
        self.hand.count(kind, fabrics, finished, stands)
    }

    /// The length as the maker measures it.
    pub fn show(&self, length: Length) -> String {
        self.ruler.show(length)
    }

    /// The size as the maker measures it.
    pub fn show_size(&self, size: Size) -> String {
        format!("{} x {}", self.ruler.number(size.width), self.show(size.height))
    }
}

/// Turns cells into lengths and checks each unit as it goes.
struct Reader {
    grid: Length,
    letters: Vec<String>,
}

impl Reader {
    fn bands(&self, bands: Vec<BandFile>, size: Size) -> Result<Vec<Vec<Column>>, Fault> {
        let mut y = Length::ZERO;
        let mut read = Vec::new();
        for (number, band) in (1_u32..).zip(bands) {
            let at = number.to_string();
            let height = self.cells(&at, band.height)?;
            read.push(self.columns(&at, band.columns, Size { height, ..size }, y)?);
            y = further(&at, y, height)?;
        }
        sums("top", "bands are", "tall", y, size.height).map(|()| read)
    }

    fn columns(&self, band: &str, columns: Vec<ColumnFile>, size: Size, y: Length) -> Result<Vec<Column>, Fault> {
        let mut x = Length::ZERO;
        let mut read = Vec::new();
        for (number, column) in (1_u32..).zip(columns) {
            let at = format!("{band}.{number}");
            let width = self.cells(&at, column.width)?;
            read.push(self.rows(&at, column.rows, Size { width, ..size }, point(x, y))?);
            x = further(&at, x, width)?;
        }
        sums(band, "columns are", "wide", x, size.width).map(|()| read)
    }

    fn rows(&self, column: &str, rows: Vec<RowFile>, size: Size, mut at: Point) -> Result<Column, Fault> {
        let top = at.y;
        let mut read = Vec::new();
        for (number, row) in (1_u32..).zip(rows) {
            let name = format!("{column}.{number}");
            let height = self.cells(&name, row.height)?;
            read.push(self.units(&name, row.units, Size { height, ..size }, at)?);
            at.y = further(&name, at.y, height)?;
        }
        sums(column, "rows are", "tall", at.y - top, size.height).map(|()| read)
    }

    fn units(&self, row: &str, units: Vec<UnitFile>, size: Size, mut at: Point) -> Result<Row, Fault> {
        let left = at.x;
        let mut read = Vec::new();
        for (number, unit) in (1_u32..).zip(units) {
            let name = format!("{row}.{number}");
            let width = self.cells(&name, unit.width)?;
            read.push(self.unit(&name, unit, Size { width, ..size }, at)?);
            at.x = further(&name, at.x, width)?;
        }
        sums(row, "units are", "wide", at.x - left, size.width).map(|()| read)
    }

    fn unit(&self, address: &str, unit: UnitFile, size: Size, at: Point) -> Result<Unit, Fault> {
        if unit.address != address {
            let what = format!("the plan has `{}` in the place of {address}", short(&unit.address));
            return Err(Fault::new(address, what));
        }
        let patches: Vec<Patch> = unit.patches.into_iter().map(|p| self.patch(address, p)).collect::<Result<_, _>>()?;
        if let Some(leak) = leak(patches.iter().map(|patch| &patch.outline), at, size) {
            let what = format!("its patches in the plan gap or overlap {} from the left, {} down", leak.x, leak.y);
            return Err(Fault::new(address, what));
        }
        if let (Some(triangle), Some(first)) = (&unit.triangle, patches.first()) {
            let block = self.cells(address, triangle.block)?;
            triangle.check(address, &unit.kind, (at, size), block, &first.outline)?;
        }
        let mut patches: Vec<Patch> =
            patches.into_iter().map(|patch| Patch { outline: tidy(patch.outline), ..patch }).collect();
        patches.sort();
        let (told, sewn, cut) = (unit.triangle.is_some(), unit.state == StateFile::Sewn, unit.state == StateFile::Cut);
        if told && patches.len() != 2 {
            return Err(Fault::new(address, "the plan has it as a triangle unit, which has two patches"));
        }
        Ok(Unit { address: address.to_owned(), sewn, cut, told, kind: unit.kind, size, patches })
    }

    fn patch(&self, address: &str, patch: PatchFile) -> Result<Patch, Fault> {
        let corner = |&(x, y): &(u32, u32)| Ok(point(self.cells(address, x)?, self.cells(address, y)?));
        let outline = patch.outline.iter().map(corner).collect::<Result<Vec<Point>, Fault>>()?;
        if !self.letters.contains(&patch.fabric) {
            let what = format!("no fabric of the plan has the letter `{}`", short(&patch.fabric));
            return Err(Fault::new(address, what));
        }
        if !runs_round(&outline) {
            return Err(Fault::new(address, "a patch of it in the plan does not run once round, clockwise"));
        }
        Ok(Patch { outline, fabric: patch.fabric })
    }

    fn cells(&self, at: &str, cells: u32) -> Result<Length, Fault> {
        let ticks = i64::from(cells).checked_mul(self.grid.ticks()).filter(|ticks| *ticks <= Length::LIMIT.ticks());
        ticks.map(Length::from_ticks).ok_or_else(|| Fault::new(at, "it reaches further than 1 km in the plan"))
    }
}

/// A sum that stays within what a length may be, however many parts there are.
fn further(at: &str, sum: Length, part: Length) -> Result<Length, Fault> {
    Some(sum + part)
        .filter(|sum| *sum <= Length::LIMIT)
        .ok_or_else(|| Fault::new(at, "it reaches further than 1 km in the plan"))
}

fn sums(at: &str, parts: &str, way: &str, sum: Length, due: Length) -> Result<(), Fault> {
    if sum == due {
        return Ok(());
    }
    Err(Fault::new(at, format!("its {parts} {sum} {way} together in the plan and must make {due}")))
}
