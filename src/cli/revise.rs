//! `revise`: a new plan from an old one, around what stands.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use clap::Args;
use rowscape::fabric::printable;
use rowscape::make::make;
use rowscape::measure::Length;
use rowscape::picture::{Crop, Picture, salience};
use rowscape::plan::{Address, Plan, Request, State};
use rowscape::revise::{Change, Changes, Count, Part, ReviseError, Revision, compare, revise};
use rowscape::stock::ROUNDS;

use super::compose::{DETAIL, QUIET, TRIANGLES, TRIMS, mask, within};
use super::folder::Folder;
use super::made::{FILES, write_down};
use super::read::{focus, read_picture, read_plan};
use super::request::{DepthChoice, Measured, RowEndsChoice, SizeArguments, dial, measured, value};
use super::{Failure, account};

const EXAMPLES: &str = "Examples:
  rowscape revise lighthouse --sewn 2.1 --without K --out lighthouse-2
  rowscape revise lighthouse --keep 0in,36in,54in,36in --detail fine --out lighthouse-2
  rowscape revise lighthouse --turn 2.1.9.2=90 --patch 2.1.11.3:A=B --whole 2.1.3.2 --out lighthouse-2
A part is a unit (1.1.3.7), a row (1.1.3), a column (1.1), a band (1), `all`,
or left, top, width and height of a rectangle (0in,36in,54in,36in).";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct ReviseArguments {
    /// The scene: its plan.json, or the folder that holds it
    pub(super) plan: PathBuf,
    /// Folder to write the new scene into; the old plan is kept there too
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: PathBuf,
    /// Write over a scene that the folder holds; its plan is kept all the same
    #[arg(long)]
    replace: bool,
    /// Part that is not to be changed, until it is released; may be given again, as all the marks and wishes below
    #[arg(long, value_name = "PART")]
    keep: Vec<Part>,
    /// Part whose rows are sewn: it stays to the last stitch
    #[arg(long, value_name = "PART")]
    sewn: Vec<Part>,
    /// Part that may be changed again
    #[arg(long, value_name = "PART")]
    release: Vec<Part>,
    /// Fabric that ran out: only what stands keeps it
    #[arg(long, value_name = "LETTER")]
    without: Vec<String>,
    /// Turn a unit clockwise by 90, 180 or 270; it is kept so
    #[arg(long, value_name = "UNIT=DEGREES", value_parser = turn)]
    turn: Vec<Change>,
    /// Give one patch of a unit another fabric: its letter now, and then; it is kept so
    #[arg(long, value_name = "UNIT:NOW=THEN", value_parser = patch)]
    patch: Vec<Change>,
    /// Want a filler where a unit is, of the best fabric or of the one named
    #[arg(long, value_name = "UNIT[=LETTER]", value_parser = filler)]
    filler: Vec<Change>,
    /// Want a whole triangle unit where a unit is
    #[arg(long, value_name = "UNIT", value_parser = whole)]
    whole: Vec<Change>,
    /// Finished width of the top
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    width: Option<Measured<Length>>,
    /// Finished height of the top
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    height: Option<Measured<Length>>,
    #[command(flatten)]
    sizes: SizeArguments,
    /// Usable width of yardage for fillers
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    cloth_width: Option<Measured<Length>>,
    /// How row ends are cut
    #[arg(long, value_enum)]
    row_ends: Option<RowEndsChoice>,
    /// How deep the scene is divided
    #[arg(long, value_enum)]
    depth: Option<DepthChoice>,
    /// Step that the edges of bands and columns are on
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    edge_step: Option<Measured<Length>>,
    /// Likeness against labour: broad, even, fine, finest, or per cent of even
    #[arg(long, value_parser = |text: &str| dial(text, &DETAIL))]
    detail: Option<u32>,
    /// How much of the top is triangle units: few, some, many, most, or per cent of many
    #[arg(long, value_parser = |text: &str| dial(text, &TRIANGLES))]
    triangles: Option<u32>,
    /// How many triangle units may have a strip cut off, for truer slopes: few, some, many, or per cent of some
    #[arg(long, value_parser = |text: &str| dial(text, &TRIMS))]
    trims: Option<u32>,
    /// How many units of two fabrics that nearly match: many, some, few, or per cent of many; with fewer of them, more of
    /// the top is cut from one fabric
    #[arg(long, value_parser = |text: &str| dial(text, &QUIET))]
    quiet: Option<u32>,
    /// The picture once more, or another, for a top of another size or grid; without it, the plan's own cells serve
    #[arg(long, value_name = "FILE")]
    picture: Option<PathBuf>,
    /// What is to be truer and finer: `auto`, `none`, or a picture that is bright there
    #[arg(long, value_name = "auto|none|MASK")]
    focus: Option<String>,
    /// Rounds in which scarce cloth is priced, for a plan whose fabrics have counts: more rounds, a better scene
    #[arg(long, default_value_t = ROUNDS, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..=1000))]
    rounds: u32,
    /// Leave the seam lines out of the pictures
    #[arg(long)]
    no_seams: bool,
}

impl ReviseArguments {
    /// The files that are read beside the plan, which is kept whatever is written.
    pub(super) fn reading(&self) -> Vec<&Path> {
        self.picture.as_deref().into_iter().chain(mask(self.focus.as_deref())).collect()
    }
}

pub fn run(arguments: &ReviseArguments) -> Result<String, Failure> {
    let (old, text) = read_plan(&arguments.plan)?;
    let mut notes = Vec::new();
    let revision = revision(arguments, &old, &mut notes)?;
    let before = unused(&arguments.out);
    let names: Vec<&str> = FILES.into_iter().chain([before.as_str()]).collect();
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &arguments.reading())?;
    let (plan, gaps) = revise(&old, &revision).map_err(|error| refused(&error))?;
    notes.extend(gaps.map(|gaps| within(&gaps)));
    let (made, mut contents) = write_down(plan, notes, !arguments.no_seams)?;
    contents.push(text.into_bytes());
    let contents: Vec<&[u8]> = contents.iter().map(Vec::as_slice).collect();
    folder.write(&contents)?;
    let changes = compare((&old, &make(&old)), (&made.plan, &made.work));
    Ok(account::account(&made, &arguments.out) + &told(&changes, &made.plan, &before))
}

fn refused(error: &ReviseError) -> Failure {
    let failure = Failure::new(error);
    match error.hint() {
        Some(hint) => failure.hint(hint),
        None => failure,
    }
}

fn revision(arguments: &ReviseArguments, old: &Plan, notes: &mut Vec<String>) -> Result<Revision, Failure> {
    let request = request(arguments, &old.request)?;
    request.check().map_err(Failure::new)?;
    let (columns, rows) = request.cells();
    let same = request.cells() == old.request.cells() && arguments.picture.is_none();
    let picture = match &arguments.picture {
        _ if same => old.picture.clone(),
        Some(path) => {
            let crop: Crop = old.request.crop.parse().unwrap_or_default();
            read_picture(path)?.cells(&crop, columns, rows).map_err(|error| Failure::at(path, error))?
        }
        None => {
            notes.push(
                "the picture is the old plan's, drawn larger or smaller; give --picture for its finer parts".into(),
            );
            let cells = Picture::of_cells(&old.picture, old.request.cells().0);
            let cells = cells.ok_or_else(|| Failure::at(&arguments.plan, "holds no picture"))?;
            cells.cells(&Crop::Centre, columns, rows).map_err(|error| Failure::at(&arguments.plan, error))?
        }
    };
    let weights = match &arguments.focus {
        Some(asked) => focus(asked, &picture, columns, rows)?,
        None if same => old.focus.clone(),
        None if old.focus.is_empty() => Vec::new(),
        None => salience(&picture, columns, rows),
    };
    Ok(Revision {
        request,
        picture,
        focus: weights,
        without: arguments.without.clone(),
        changes: changes(arguments),
        rounds: arguments.rounds,
    })
}

/// The old request with what is given now.
fn request(arguments: &ReviseArguments, old: &Request) -> Result<Request, Failure> {
    let mut request = arguments.sizes.over(old)?;
    request.width = value(&arguments.width, old.width);
    request.height = value(&arguments.height, old.height);
    request.cloth_width = value(&arguments.cloth_width, old.cloth_width);
    request.edge_step = value(&arguments.edge_step, old.edge_step).round_to(request.grid).max(request.grid);
    request.row_ends = arguments.row_ends.map_or(old.row_ends, Into::into);
    request.depth = arguments.depth.map_or(old.depth, Into::into);
    request.detail = arguments.detail.unwrap_or(old.detail);
    request.triangles = arguments.triangles.unwrap_or(old.triangles);
    request.trims = arguments.trims.unwrap_or(old.trims);
    request.quiet = arguments.quiet.unwrap_or(old.quiet);
    if let Some(name) = arguments.picture.as_deref().and_then(Path::file_name) {
        request.picture = printable(&name.to_string_lossy());
    }
    Ok(request)
}

fn changes(arguments: &ReviseArguments) -> Vec<Change> {
    let marks = [(&arguments.release, State::Free), (&arguments.keep, State::Kept), (&arguments.sewn, State::Sewn)];
    let marks = marks.into_iter().flat_map(|(parts, state)| parts.iter().map(move |&part| Change::Mark(part, state)));
    let wishes = [&arguments.turn, &arguments.patch, &arguments.filler, &arguments.whole];
    // What is turned or exchanged may be sewn by the same order: marks of sewn parts come last.
    let (last, first): (Vec<Change>, Vec<Change>) =
        marks.partition(|change| matches!(change, Change::Mark(_, State::Sewn)));
    first.into_iter().chain(wishes.into_iter().flatten().cloned()).chain(last).collect()
}

/// `plan-before-1.json`, or the next number that the folder does not hold.
fn unused(folder: &Path) -> String {
    let name = |number: u32| format!("plan-before-{number}.json");
    (1..).map(name).find(|name| !folder.join(name).exists()).unwrap_or_default()
}

fn parse<T: FromStr>(text: &str) -> Result<T, String>
where
    T::Err: std::fmt::Display,
{
    text.parse().map_err(|error: T::Err| error.to_string())
}

fn turn(text: &str) -> Result<Change, String> {
    let (unit, degrees) = text.split_once('=').unwrap_or((text, "90"));
    let quarters = match degrees.trim() {
        "90" => 1,
        "180" => 2,
        "270" => 3,
        _ => return Err("write the unit and 90, 180 or 270, as `1.1.3.7=90`".into()),
    };
    Ok(Change::Turn(parse(unit)?, quarters))
}

fn patch(text: &str) -> Result<Change, String> {
    let parts = text.split_once(':').and_then(|(unit, letters)| Some((unit, letters.split_once('=')?)));
    let (unit, (now, then)) =
        parts.ok_or("write the unit, the patch's letter now and its letter then, as `1.1.3.7:C=D`")?;
    Ok(Change::Patch { at: parse(unit)?, now: now.trim().into(), then: then.trim().into() })
}

fn filler(text: &str) -> Result<Change, String> {
    let (unit, letter) = text.split_once('=').map_or((text, None), |(unit, letter)| (unit, Some(letter.trim().into())));
    Ok(Change::Filler(parse::<Address>(unit)?, letter))
}

fn whole(text: &str) -> Result<Change, String> {
    Ok(Change::Whole(parse(text)?))
}

/// What changed, in a few lines.
fn told(changes: &Changes, plan: &Plan, before: &str) -> String {
    let mut text = String::new();
    let mut line = |name: &str, words: String| {
        let _ = writeln!(text, "  {name:<15}{words}");
    };
    let count = |state: State| plan.placed().iter().filter(|placed| placed.unit.state == state).count();
    line("stands", format!("kept {}, sewn {}, free {}", count(State::Kept), count(State::Sewn), count(State::Free)));
    let new = changes.units - changes.same;
    line("changed", format!("new or elsewhere {new}, as they were {}", changes.same));
    for (name, counts) in [("pieces", &changes.kinds), ("pairs", &changes.pairs), ("fillers", &changes.fillers)] {
        for Count { what, before, after } in counts {
            line(name, format!("{what}: {before}, now {after}"));
        }
    }
    line("old plan", format!("kept as {before}"));
    text
}
