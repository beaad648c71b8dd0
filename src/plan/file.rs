//! The plan as JSON: versioned, strict, with its schema.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use typed_index_collections::{TiSlice, TiVec};

use super::error::{PlanError, VERSION, wrong};
use super::model::{cannot_stand, stand};
use super::on_hand::HandFile;
use super::progress::{Piles, Progress, Was, Why};
use super::written::Written;
use super::{Band, Column, Numbers, Piece, Placed, Plan, Request, Row, State, Unit};
use crate::fabric::{Fabric, OnHand, Print, Rgb, Stash, is_unprintable};
use crate::measure::Length;
use crate::unit::{Corner, Cut, Triangle, Vocabulary};

const FORMAT: &str = "rowscape-plan";
/// Most characters in a file name.
const MOST_CHARACTERS: usize = 255;

/// The first fields of any plan file.
#[derive(Deserialize)]
struct Head {
    format: String,
    version: u32,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Rowscape plan")]
struct PlanFile {
    /// `rowscape-plan`.
    format: String,
    /// 1.
    version: u32,
    /// What was asked for.
    request: Request,
    /// Every fabric that the scene uses.
    fabrics: Vec<Fabric>,
    /// What is sewn and cut already, for this scene to use.
    #[serde(default, skip_serializing_if = "HandFile::is_empty")]
    on_hand: HandFile,
    /// The picture's colour in each cell: one text of `rrggbb` after `rrggbb` a row of cells.
    picture: Vec<String>,
    /// The weight of each cell, one letter each from `a` = 1/4; none where all weigh 1.
    focus: Vec<String>,
    /// Bands from the top.
    bands: Vec<BandFile>,
    /// Numbers of pairs and fillers in an earlier list, by what they are: they keep them.
    #[serde(default, skip_serializing_if = "Numbers::is_empty")]
    numbers: Numbers,
    /// Whether fabrics and pieces on hand are as they are now, without what is cut and sewn.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    begun: bool,
    /// Letters of fabrics that no change uses again.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    out: Vec<String>,
    /// Whether fabrics were exchanged by hand in a part, which nothing but the maker may undo.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    by_hand: bool,
    /// Numbers that made pieces on hand lie under, by what they are.
    #[serde(default, skip_serializing_if = "Piles::is_empty")]
    piles: Piles,
    /// The scene before its last change.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    was: Option<WasFile>,
    /// What was written with it, so that later changes by hand are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    written: Option<Written>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WasFile {
    /// What was asked for then.
    request: Request,
    /// The fabrics then.
    fabrics: Vec<Fabric>,
    /// What was on hand then.
    #[serde(default, skip_serializing_if = "HandFile::is_empty")]
    on_hand: HandFile,
    /// Bands from the top.
    bands: Vec<BandFile>,
    /// Numbers of pairs and fillers then.
    #[serde(default, skip_serializing_if = "Numbers::is_empty")]
    numbers: Numbers,
    /// What was changed since.
    why: Vec<Why>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct BandFile {
    /// Height in cells.
    height: u32,
    /// Columns from the left.
    columns: Vec<ColumnFile>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct ColumnFile {
    /// Width in cells.
    width: u32,
    /// Rows from the top.
    rows: Vec<RowFile>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct RowFile {
    /// Height in cells.
    height: u32,
    /// Units from the left.
    units: Vec<UnitFile>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct UnitFile {
    /// `band.column.row.unit`.
    address: String,
    /// `filler`, or big, small, mini with `trimmed` or `slice` where it is one.
    kind: String,
    /// Width in cells; the height is the row's.
    width: u32,
    /// Whether it may be changed.
    state: State,
    /// For a triangle unit, what it is made of.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    triangle: Option<TriangleFile>,
    /// The visible pieces.
    patches: Vec<PatchFile>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct TriangleFile {
    /// Finished side of the whole unit, in cells.
    block: u32,
    /// Which part of it is used.
    cut: Cut,
    /// The corner that the first patch fills.
    corner: Corner,
}

#[derive(Serialize, Deserialize, JsonSchema, PartialEq)]
#[serde(deny_unknown_fields)]
struct PatchFile {
    /// Letter of its fabric.
    fabric: String,
    /// Outline in cells of the top, clockwise from the uppermost left corner.
    outline: Vec<(u32, u32)>,
}

/// The JSON Schema of a plan file.
pub fn schema() -> String {
    let schema = schemars::schema_for!(PlanFile);
    serde_json::to_string_pretty(&schema).expect("a schema has no keys but texts") + "\n"
}

/// The plan as JSON text.
pub fn write(plan: &Plan) -> String {
    text(plan, None)
}

/// The plan as JSON text that knows itself and the files written with it, by their digests.
pub fn write_with(plan: &Plan, files: &[(&str, &[u8])]) -> String {
    let written = Written::of(files);
    written.sealed(text(plan, Some(written.clone())))
}

fn text(plan: &Plan, written: Option<Written>) -> String {
    serde_json::to_string_pretty(&file(plan, written)).unwrap_or_default() + "\n"
}

fn band_files(plan: &Plan) -> Vec<BandFile> {
    let vocabulary = plan.vocabulary();
    let mut placed = plan.placed().into_iter();
    let bands = plan.bands.iter().map(|band| BandFile {
        height: band.height,
        columns: band.columns.iter().map(|column| column_file(plan, column, &vocabulary, &mut placed)).collect(),
    });
    bands.collect()
}

fn was_file(was: &Was) -> WasFile {
    let plan = &was.plan;
    WasFile {
        request: plan.request.clone(),
        fabrics: plan.fabrics.raw.clone(),
        on_hand: HandFile::new(&plan.hand, &plan.fabrics),
        bands: band_files(plan),
        numbers: plan.numbers.clone(),
        why: was.why.clone(),
    }
}

fn file(plan: &Plan, written: Option<Written>) -> PlanFile {
    let width = plan.request.cells().0.max(1) as usize;
    PlanFile {
        format: FORMAT.into(),
        version: VERSION,
        request: plan.request.clone(),
        fabrics: plan.fabrics.raw.clone(),
        on_hand: HandFile::new(&plan.hand, &plan.fabrics),
        picture: plan.picture.chunks(width).map(picture_row).collect(),
        focus: plan.focus.chunks(width).map(|row| row.iter().map(|&w| focus_letter(w)).collect()).collect(),
        bands: band_files(plan),
        numbers: plan.numbers.clone(),
        begun: plan.progress.begun,
        out: plan.progress.out.clone(),
        by_hand: plan.progress.by_hand,
        piles: plan.progress.piles.clone(),
        was: plan.progress.was.as_deref().map(was_file),
        written,
    }
}

impl Serialize for Plan {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        file(self, None).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Plan {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        PlanFile::deserialize(deserializer)?.try_into().map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for Plan {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Plan".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        PlanFile::json_schema(generator)
    }
}

fn focus_letter(weight: u8) -> char {
    char::from(b'a' + weight.clamp(1, 16) - 1)
}

fn picture_row(row: &[Rgb]) -> String {
    row.iter().map(|colour| colour.to_string().split_off(1)).collect()
}

fn column_file(
    plan: &Plan,
    column: &Column,
    vocabulary: &Vocabulary,
    placed: &mut impl Iterator<Item = Placed>,
) -> ColumnFile {
    let rows = column.rows.iter().map(|row| RowFile {
        height: row.height,
        units: placed.by_ref().take(row.units.len()).map(|unit| unit_file(plan, &unit, vocabulary)).collect(),
    });
    ColumnFile { width: column.width, rows: rows.collect() }
}

fn unit_file(plan: &Plan, placed: &Placed, vocabulary: &Vocabulary) -> UnitFile {
    let triangle = match placed.unit.piece {
        Piece::Filler(_) => None,
        Piece::Triangle(t) => Some(TriangleFile { block: t.block, cut: t.cut, corner: t.corner }),
    };
    UnitFile {
        address: placed.address.to_string(),
        kind: placed.unit.piece.kind(vocabulary),
        width: placed.unit.width,
        state: placed.unit.state,
        triangle,
        patches: patch_files(plan, placed),
    }
}

fn patch_files(plan: &Plan, placed: &Placed) -> Vec<PatchFile> {
    let file = |patch: crate::unit::Patch<Print>| PatchFile {
        fabric: plan.fabrics[patch.fabric].letter.clone(),
        outline: patch.outline,
    };
    placed.patches().into_iter().map(file).collect()
}

/// Reads and checks a plan.
pub fn read(text: &str) -> Result<Plan, PlanError> {
    let head: Head = serde_json::from_str(text)?;
    head.check()?;
    serde_json::from_str::<PlanFile>(text)?.try_into()
}

impl Head {
    fn check(&self) -> Result<(), PlanError> {
        if self.format != FORMAT {
            return Err(PlanError::Foreign(self.format.chars().take(40).collect()));
        }
        if self.version != VERSION {
            return Err(PlanError::Version(self.version));
        }
        Ok(())
    }
}

impl TryFrom<PlanFile> for Plan {
    type Error = PlanError;

    fn try_from(file: PlanFile) -> Result<Self, PlanError> {
        Head { format: file.format.clone(), version: file.version }.check()?;
        checked(&file)
    }
}

fn checked(file: &PlanFile) -> Result<Plan, PlanError> {
    file.piles.check()?;
    let was = file.was.as_ref().map(checked_was).transpose()?.map(Box::new);
    let parts = (&file.fabrics, &file.on_hand, file.bands.as_slice(), &file.numbers);
    Ok(Plan {
        picture: read_picture(file)?,
        focus: read_focus(file)?,
        progress: Progress {
            begun: file.begun,
            out: file.out.clone(),
            by_hand: file.by_hand,
            piles: file.piles.clone(),
            was,
        },
        ..checked_scene(&file.request, parts)?
    })
}

fn checked_was(file: &WasFile) -> Result<Was, PlanError> {
    let parts = (&file.fabrics, &file.on_hand, file.bands.as_slice(), &file.numbers);
    let was = Was { plan: checked_scene(&file.request, parts)?, why: file.why.clone() };
    was.check().map(|()| was)
}

/// All of a scene but its picture.
fn checked_scene(
    request: &Request,
    (fabrics, on_hand, bands, numbers): (&Vec<Fabric>, &HandFile, &[BandFile], &Numbers),
) -> Result<Plan, PlanError> {
    let vocabulary = request.check()?;
    check_texts(request)?;
    let letters: TiVec<Print, &str> = fabrics.iter().map(|fabric| fabric.letter.as_str()).collect();
    check_letters(&letters.raw)?;
    let mut plan = Plan {
        bands: bands.iter().map(|band| read_band(band, &letters)).collect::<Result<_, _>>()?,
        picture: Vec::new(),
        focus: Vec::new(),
        hand: on_hand.read(&letters)?,
        fabrics: fabrics.clone().into(),
        request: request.clone(),
        numbers: numbers.clone(),
        progress: Progress::default(),
    };
    stand(&mut plan.bands, &plan.fabrics);
    plan.numbers.check()?;
    check_stash(&plan)?;
    check_sums(&plan)?;
    check_units(&plan, &vocabulary, bands)?;
    Ok(plan)
}

/// What is shown of the request stands on one line and hides nothing.
fn check_texts(request: &Request) -> Result<(), PlanError> {
    let texts = [("title", &request.title), ("picture", &request.picture), ("crop", &request.crop)];
    for (name, text) in texts.into_iter().chain(request.held.iter().map(|letter| ("held", letter))) {
        if text.chars().count() > MOST_CHARACTERS || text.chars().any(is_unprintable) {
            return Err(wrong(format!("the request's {name}"), "it is too long, or has characters that are not shown"));
        }
    }
    Ok(())
}

/// Fabrics and what is on hand keep the rules of a stash, so that all that is written of them is read again.
fn check_stash(plan: &Plan) -> Result<(), PlanError> {
    let read = Stash::read(&plan.stash().write()).map_err(|error| wrong("fabrics", error.message()))?;
    // What a fabric has squares alone of is not written: it is read off the rest.
    let written = |fabric: &Fabric| Fabric { only_squares: None, remnants: None, ..fabric.clone() };
    if !read.prints.iter().map(written).eq(plan.fabrics.iter().map(written)) || read.hand != plan.hand {
        return Err(wrong("fabrics", "they would not be read again as they are: take off spaces round names"));
    }
    check_remnants(plan)?;
    match plan.fabrics.iter().find(|f| f.only_squares.is_some_and(|s| s <= Length::ZERO || s > Stash::LONGEST)) {
        Some(fabric) => Err(wrong("fabrics", format!("the squares of fabric {} have no size", fabric.letter))),
        None => Ok(()),
    }
}

/// What is left of what was bought keeps the rules of a stash too.
fn check_remnants(plan: &Plan) -> Result<(), PlanError> {
    let left = |fabric: &Fabric| Fabric { supply: fabric.remnants.clone(), only_squares: None, ..fabric.clone() };
    if plan.fabrics.iter().any(|fabric| fabric.remnants.is_some() && fabric.supply.is_some()) {
        return Err(wrong("fabrics", "one is both counted and bought"));
    }
    let stash = Stash { prints: plan.fabrics.iter().map(left).collect(), hand: OnHand::default() };
    let read = Stash::read(&stash.write()).map_err(|error| wrong("fabrics", error.message()))?;
    match read.prints.iter().map(|fabric| &fabric.supply).eq(plan.fabrics.iter().map(|fabric| &fabric.remnants)) {
        true => Ok(()),
        false => Err(wrong("fabrics", "what is left of one would not be read again as it is")),
    }
}

fn check_letters(letters: &[&str]) -> Result<(), PlanError> {
    let mut sorted = letters.to_vec();
    sorted.sort_unstable();
    match sorted.windows(2).find(|two| two[0] == two[1]) {
        Some(two) => Err(wrong("fabrics", format!("the letter `{}` stands twice", two[0]))),
        None => Ok(()),
    }
}

fn read_band(band: &BandFile, letters: &TiSlice<Print, &str>) -> Result<Band, PlanError> {
    let columns = band.columns.iter().map(|column| {
        let rows = column.rows.iter().map(|row| {
            let units = row.units.iter().map(|unit| read_unit(unit, letters)).collect::<Result<_, _>>()?;
            Ok(Row { height: row.height, units })
        });
        Ok(Column { width: column.width, rows: rows.collect::<Result<_, PlanError>>()? })
    });
    Ok(Band { height: band.height, columns: columns.collect::<Result<_, PlanError>>()? })
}

fn read_unit(unit: &UnitFile, letters: &TiSlice<Print, &str>) -> Result<Unit, PlanError> {
    let fabric = |patch: &PatchFile| {
        let index = letters.position(|letter| *letter == patch.fabric);
        index.ok_or_else(|| wrong(&unit.address, format!("no fabric has the letter `{}`", patch.fabric)))
    };
    let piece = match (&unit.triangle, unit.patches.as_slice()) {
        (None, [patch]) => Piece::Filler(fabric(patch)?),
        (Some(t), [tip, rest]) => Piece::Triangle(Triangle {
            block: t.block,
            cut: t.cut,
            corner: t.corner,
            tip: fabric(tip)?,
            rest: fabric(rest)?,
            upright: false,
        }),
        (_, patches) => return Err(wrong(&unit.address, format!("{} patches do not make this unit", patches.len()))),
    };
    Ok(Unit { width: unit.width, piece, state: unit.state })
}

fn read_picture(file: &PlanFile) -> Result<Vec<Rgb>, PlanError> {
    let (width, height) = file.request.cells();
    let fits = file.picture.len() == height as usize
        && file.picture.iter().all(|row| row.len() == 6 * width as usize && row.is_ascii());
    let cells = fits.then(|| {
        let colours = file.picture.iter().flat_map(|row| row.as_bytes().chunks(6));
        colours.map(|hex| format!("#{}", String::from_utf8_lossy(hex)).parse()).collect::<Result<_, _>>()
    });
    match cells {
        Some(Ok(cells)) => Ok(cells),
        Some(Err(error)) => Err(wrong("picture", error)),
        None => Err(wrong("picture", format!("it is not {height} rows of {width} colours"))),
    }
}

fn read_focus(file: &PlanFile) -> Result<Vec<u8>, PlanError> {
    let (width, height) = file.request.cells();
    let weights: Vec<u8> = file.focus.iter().flat_map(|row| row.bytes().map(|b| b.wrapping_sub(b'a' - 1))).collect();
    let rows = file.focus.len() == height as usize && file.focus.iter().all(|row| row.len() == width as usize);
    let fits = file.focus.is_empty() || (rows && weights.iter().all(|w| (1..=16).contains(w)));
    fits.then_some(weights).ok_or_else(|| wrong("focus", format!("it is not {height} rows of {width} letters a to p")))
}

fn check_sums(plan: &Plan) -> Result<(), PlanError> {
    let (width, height) = plan.request.cells();
    let sum = |parts: &mut dyn Iterator<Item = u32>| parts.map(u64::from).sum::<u64>();
    let tells = |at: String, what: &str, got: u64, due: u32| match got == u64::from(due) {
        _ if due == 0 => Err(wrong(at, "it has no size")),
        true => Ok(()),
        false => Err(wrong(at, format!("{what} sum to {got} cells and must make {due}"))),
    };
    tells("the top".into(), "band heights", sum(&mut plan.bands.iter().map(|b| b.height)), height)?;
    for (i, band) in (1..).zip(&plan.bands) {
        tells(format!("band {i}"), "column widths", sum(&mut band.columns.iter().map(|c| c.width)), width)?;
        for (j, column) in (1..).zip(&band.columns) {
            tells(
                format!("column {i}.{j}"),
                "row heights",
                sum(&mut column.rows.iter().map(|r| r.height)),
                band.height,
            )?;
            for (k, row) in (1..).zip(&column.rows) {
                tells(
                    format!("row {i}.{j}.{k}"),
                    "unit widths",
                    sum(&mut row.units.iter().map(|u| u.width)),
                    column.width,
                )?;
            }
        }
    }
    Ok(())
}

fn check_units(plan: &Plan, vocabulary: &Vocabulary, bands: &[BandFile]) -> Result<(), PlanError> {
    let shapes = vocabulary.shapes();
    let rows = bands.iter().flat_map(|b| &b.columns).flat_map(|c| &c.rows);
    let units = rows.flat_map(|r| &r.units);
    for (placed, unit) in plan.placed().iter().zip(units) {
        let at = placed.address.to_string();
        if unit.address != at {
            return Err(wrong(at, format!("it is addressed `{}`", unit.address)));
        }
        if placed.height == 0 || placed.unit.width == 0 {
            return Err(wrong(at, "it has no size"));
        }
        if let Some(shape) = placed.unit.piece.shape(placed.unit.width, placed.height)
            && !shapes.contains(&shape)
        {
            return Err(wrong(&at, "the squares give no such unit"));
        }
        if cannot_stand(placed, &plan.fabrics, vocabulary) {
            return Err(wrong(&at, "the squares give no such unit with its print upright"));
        }
        if unit.kind != placed.unit.piece.kind(vocabulary) {
            return Err(wrong(at, format!("its kind is `{}`", unit.kind)));
        }
        if unit.patches != patch_files(plan, placed) {
            return Err(wrong(at, "its patches are not those of the unit"));
        }
    }
    Ok(())
}
