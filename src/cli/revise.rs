//! `revise`: a new plan from an old one, around what stands.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use clap::Args;
use rowscape::fabric::{Squares, Supply, Yardage};
use rowscape::job::{self, Bought, Change, ReviseBrief, TopPart};
use rowscape::measure::Length;
use rowscape::plan::{Address, MOST_ROUNDS, Plan, State, USUAL_ROUNDS};
use rowscape::render;

use super::compose::{DETAIL, Drawn, QUIET, THRIFT, TRIANGLES, TRIMS, account, bytes, title};
use super::files::{names, pictured, pictured_in};
use super::finish::FinishArguments;
use super::folder::Folder;
use super::given::Given;
use super::read::{file_name, read_picture, read_plan, read_stash};
use super::request::{
    DepthChoice, Measured, PressingChoice, RowEndsChoice, SizeArguments, SquaresFrom, dial, focus, measured,
    named_or_within, value,
};
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape revise lighthouse --sewn 2.1 --without K --out lighthouse-2
  rowscape revise lighthouse --exchange D=E --out lighthouse-2
  rowscape revise lighthouse --keep 0in,36in,54in,36in --detail fine --out lighthouse-2
  rowscape revise lighthouse --turn 2.1.9.2=90 --patch 2.1.11.3:A=B --whole 2.1.3.2 --out lighthouse-2
A part is a unit (1.1.3.7), a row (1.1.3), a column (1.1), a band (1), `all`,
or left, top, width and height of a rectangle (0in,36in,54in,36in).";

const STAY: [(&str, u32); 3] = [("most", 100), ("some", 50), ("none", 0)];

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
    /// TopPart that is not to be changed, until it is released; may be given again, as all the marks and wishes below
    #[arg(long, value_name = "PART")]
    keep: Vec<TopPart>,
    /// TopPart whose rows are sewn: it stays to the last stitch
    #[arg(long, value_name = "PART")]
    sewn: Vec<TopPart>,
    /// Part whose pieces are cut and paired: it stays, and is not asked for again
    #[arg(long, value_name = "PART")]
    cut: Vec<TopPart>,
    /// Unit that was spoilt or lost: a spare one takes its place, or one more is made, or the least is changed
    #[arg(long, value_name = "UNIT")]
    lost: Vec<Address>,
    /// Part that may be changed again
    #[arg(long, value_name = "PART")]
    release: Vec<TopPart>,
    /// Give one fabric the place of another, everywhere or in a part, but in what is sewn
    #[arg(long, value_name = "NOW=THEN[:PART]", value_parser = exchange)]
    exchange: Vec<Change>,
    /// What there is now of fabrics with these letters, as a stash file; fabrics with new letters may be used too
    #[arg(long, value_name = "FILE")]
    stash: Option<PathBuf>,
    /// Cloth bought of a counted fabric since: squares `C=3x10in`, a length `C=1/2yd`, or fat quarters `C=2fq`
    #[arg(long, value_name = "LETTER=CLOTH", value_parser = bought)]
    bought: Vec<Bought>,
    /// How much stays as it was: most, some, none (composed afresh), or per cent; most, where nothing else is asked for of
    /// the whole scene, none where a size, a picture or a dial is
    #[arg(long, value_parser = |text: &str| named_or_within(text, &STAY, [0, 100]))]
    stay: Option<u32>,
    /// Fabric that ran out: only what is kept or sewn stays of it
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
    /// How far the colours of stray units may change to save their squares: none, some, much, or per cent of some
    #[arg(long = "save-squares", value_parser = |text: &str| dial(text, &THRIFT))]
    thrift: Option<u32>,
    /// Seed of the proposed palette, for a picture that is given again
    #[arg(long)]
    seed: Option<u64>,
    /// What the scene is called, at the head of its list
    #[arg(long, value_name = "TITLE", value_parser = title)]
    title: Option<String>,
    /// How much more to buy than is cut, in per cent
    #[arg(long, value_name = "PER CENT", value_parser = clap::value_parser!(u32).range(0..=100))]
    margin: Option<u32>,
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
    /// How seams are pressed
    #[arg(long, value_enum)]
    pressing: Option<PressingChoice>,
    /// Where the squares of bought fabrics come from
    #[arg(long, value_enum)]
    squares_from: Option<SquaresFrom>,
    /// What comes off the end of each length, bought or of the stash, to make it straight
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    end_cut: Option<Measured<Length>>,
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
    #[arg(long = "near-pairs", value_parser = |text: &str| dial(text, &QUIET))]
    quiet: Option<u32>,
    /// The picture once more, or another, for a top of another size or grid; without it, the plan's own cells serve
    #[arg(long, value_name = "FILE")]
    picture: Option<PathBuf>,
    /// What is to be truer and finer: `auto`, `none`, or a picture that is bright there
    #[arg(long, value_name = "auto|none|MASK")]
    focus: Option<String>,
    /// How often a scene is sought anew where cloth is scarce, for a plan whose fabrics have counts: more often, a better one
    #[arg(long = "tries", default_value_t = USUAL_ROUNDS, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_ROUNDS)))]
    rounds: u32,
    #[command(flatten)]
    finish: FinishArguments,
    #[command(flatten)]
    drawn: Drawn,
}

impl ReviseArguments {
    /// The files that are read beside the plan, which is kept whatever is written.
    pub(super) fn reading(&self) -> Vec<&Path> {
        let given = [self.picture.as_deref(), self.mask(), self.stash.as_deref(), self.finish.file()];
        given.into_iter().flatten().collect()
    }

    fn mask(&self) -> Option<&Path> {
        self.focus.as_deref().and_then(|asked| focus(asked).1)
    }

    /// What is to be changed.
    fn brief(&self, stash: Option<String>, old: &Plan) -> Result<ReviseBrief, Failure> {
        let mut bought = self.bought.clone();
        let lengths = bought.iter_mut().flat_map(|bought| &mut bought.supply.yardage);
        lengths.for_each(|length| length.width = old.request.cloth_width);
        Ok(ReviseBrief {
            stash,
            bought,
            stay: self.stay,
            thrift: self.thrift,
            seed: self.seed,
            title: self.title.clone(),
            picture: self.picture.as_deref().map(file_name),
            focus: self.focus.as_deref().map(|asked| focus(asked).0),
            width: value(&self.width),
            height: value(&self.height),
            sizes: self.sizes.given(),
            cloth_width: value(&self.cloth_width),
            edge_step: value(&self.edge_step),
            row_ends: self.row_ends.map(Into::into),
            pressing: self.pressing.map(Into::into),
            cut_squares: self.squares_from.map(SquaresFrom::is_cut),
            end_cut: value(&self.end_cut),
            depth: self.depth.map(Into::into),
            detail: self.detail,
            triangles: self.triangles,
            trims: self.trims,
            quiet: self.quiet,
            margin: self.margin,
            without: self.without.clone(),
            changes: changes(self),
            rounds: self.rounds,
            steps: None,
            finish: self.finish.asked(old.request.ruler)?,
        })
    }
}

pub fn run(arguments: &ReviseArguments) -> Result<String, Failure> {
    let (old, text) = read_plan(&arguments.plan)?;
    let picture = arguments.picture.as_deref().map(read_picture).transpose()?;
    let mask = arguments.mask().map(read_picture).transpose()?;
    let stash = arguments.stash.as_deref().map(read_stash).transpose()?;
    let given = Given {
        picture: arguments.picture.as_deref(),
        mask: arguments.mask(),
        stashes: arguments.stash.iter().map(PathBuf::as_path).zip(&stash).collect(),
        plan: Some(&arguments.plan),
    };
    let before = unused(&arguments.out);
    let (brief, watch) = (arguments.brief(stash.clone(), &old)?, screen::watch());
    let finish = brief.finish.as_ref().unwrap_or(&old.request.finish);
    let pictured = pictured(&old.fabrics.raw) || stash.iter().any(|stash| pictured_in(stash));
    let written = names(&arguments.out, finish, old.request.ruler, pictured)?;
    let names: Vec<&str> = written.into_iter().chain([before.as_str()]).collect();
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &arguments.reading())?;
    let revised = job::revise(&old, &brief, picture.as_deref(), mask.as_deref(), &watch);
    let scene = revised.map_err(|error| given.failure(error))?;
    let made = job::files(&scene.plan, &arguments.drawn.options(), &watch).map_err(|error| given.failure(error))?;
    let mut contents = bytes(&made.files);
    contents.push(text.as_bytes());
    folder.holding(&made.files).write(&contents)?;
    let told = render::scene_account(&scene, &made.work, &made.proven, &account(&arguments.out, &made.files));
    let changes = job::changes(&old, &scene.plan, &made.work);
    Ok(told + &render::changes_account(&changes, &scene.plan, &before))
}

fn changes(arguments: &ReviseArguments) -> Vec<Change> {
    let marks = [
        (&arguments.release, State::Free),
        (&arguments.keep, State::Kept),
        (&arguments.cut, State::Cut),
        (&arguments.sewn, State::Sewn),
    ];
    let marks = marks.into_iter().flat_map(|(parts, state)| parts.iter().map(move |&part| Change::Mark(part, state)));
    let wishes = [&arguments.exchange, &arguments.turn, &arguments.patch, &arguments.filler, &arguments.whole];
    // What is turned or exchanged may be sewn by the same order: marks of what is made come last.
    let (last, first): (Vec<Change>, Vec<Change>) =
        marks.partition(|change| matches!(change, Change::Mark(_, State::Cut | State::Sewn)));
    let lost = arguments.lost.iter().map(|&at| Change::Lost(at));
    first.into_iter().chain(wishes.into_iter().flatten().cloned()).chain(last).chain(lost).collect()
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

fn exchange(text: &str) -> Result<Change, String> {
    let (letters, part) = text.split_once(':').unwrap_or((text, "all"));
    let (now, then) =
        letters.split_once('=').ok_or("write the letter now, the letter then and, if you like, a part: `C=D:1.1.3`")?;
    Ok(Change::Exchange { part: parse(part)?, now: now.trim().into(), then: then.trim().into() })
}

/// Cloth of a fabric as it is bought; how wide a length is, the plan says.
fn bought(text: &str) -> Result<Bought, String> {
    let wrong = || "write squares as `C=3x10in`, a length as `C=1/2yd`, or fat quarters as `C=2fq`".to_owned();
    let (letter, cloth) = text.split_once('=').ok_or_else(wrong)?;
    let mut supply = Supply::default();
    if let Some(count) = cloth.trim().strip_suffix("fq") {
        supply.fat_quarters = count.trim().parse().map_err(|_| wrong())?;
    } else if let Some((count, size)) = cloth.split_once('x') {
        let count = count.trim().parse().map_err(|_| wrong())?;
        supply.squares.push(Squares { size: parse(size)?, count });
    } else {
        supply.yardage.push(Yardage { width: Length::ZERO, length: parse(cloth)? });
    }
    Ok(Bought { letter: letter.trim().into(), supply })
}

fn whole(text: &str) -> Result<Change, String> {
    Ok(Change::Whole(parse(text)?))
}
