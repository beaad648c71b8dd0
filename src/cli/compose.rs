//! `compose`: from a picture to a folder with the plan, its pictures and the work.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::fabric::is_unprintable;
use rowscape::job::{self, Brief, File, MOST_COLOURS};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::Crop;
use rowscape::plan::{MOST_ROUNDS, USUAL_ROUNDS};
use rowscape::render::{self, Account, Options};

use super::files::{names, pictured_in};
use super::finish::FinishArguments;
use super::folder::Folder;
use super::given::Given;
use super::read::{file_name, read_picture, read_stash};
use super::request::{
    DepthChoice, EffortChoice, Measured, PressingChoice, RowEndsChoice, SizeArguments, SquaresFrom, StraightenChoice,
    dial, focus, measured, value,
};
use super::{Failure, screen};

pub const DETAIL: [(&str, u32); 4] = [("broad", 50), ("even", 100), ("fine", 200), ("finest", 500)];
pub const TRIANGLES: [(&str, u32); 4] = [("few", 30), ("some", 60), ("many", 100), ("most", 250)];
pub const TRIMS: [(&str, u32); 3] = [("few", 50), ("some", 100), ("many", 200)];
pub const QUIET: [(&str, u32); 3] = [("few", 20), ("some", 50), ("many", 100)];
pub const THRIFT: [(&str, u32); 3] = [("none", 0), ("some", 100), ("much", 300)];

/// Most characters of a title.
const MOST_TITLE: usize = 80;

const EXAMPLES: &str = "Examples:
  rowscape compose sample-sketches/lighthouse-dusk.png --width 54in --out lighthouse
  rowscape compose headland.jpg --width 54in --square 10in/4 --out headland
  rowscape compose harbour.jpg --height 150cm --stash my-fabrics.toml --out harbour
  rowscape compose harbour.jpg --stash my-fabrics.toml --largest --out harbour
  rowscape compose cliffs.jpg --width 54in --crop 120,0,800,1000 --row-ends spare --out cliffs";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct ComposeArguments {
    /// Photo or sketch: PNG, JPEG, WebP, TIFF, GIF or BMP
    pub(super) picture: PathBuf,
    /// Folder to write the scene into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: PathBuf,
    /// Write over a scene that the folder holds
    #[arg(long)]
    replace: bool,
    /// What the scene is called, at the head of its list [default: the picture's name]
    #[arg(long, value_name = "TITLE", value_parser = title)]
    title: Option<String>,
    /// Finished width of the top; without it, taken from the picture's shape
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, required_unless_present_any = ["height", "largest"])]
    pub(super) width: Option<Measured<Length>>,
    /// Finished height of the top; without it, taken from the picture's shape
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub(super) height: Option<Measured<Length>>,
    #[command(flatten)]
    pub(super) sizes: SizeArguments,
    /// Fabrics to propose from the picture, near shades for flat areas included [default: 12]; with a stash, how many of
    /// its fabrics to take, the best for the picture [default: all]
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(2..=i64::from(MOST_COLOURS)))]
    pub(super) colours: Option<u32>,
    /// Your own fabrics, a TOML file; the scene keeps within its counts, and takes freely what has none
    #[arg(long, value_name = "FILE")]
    pub(super) stash: Option<PathBuf>,
    /// Every print of the stash with an up and a down (`directional = true`) stands upright in triangle units too, not in
    /// fillers alone: such units are sewn for their corners and never turned, which takes more squares
    #[arg(long, requires = "stash")]
    upright_in_triangles: bool,
    /// Fabrics to hold as they are, a TOML file like a stash's; the others, up to --colours in all, are proposed beside them
    #[arg(long, value_name = "FILE", conflicts_with = "stash")]
    pub(super) hold: Option<PathBuf>,
    /// `centre` fills the top and cuts what is over, `whole` keeps the whole picture and draws its edges out,
    /// `X,Y,W,H` takes a part in pixels
    #[arg(long, default_value = "centre", value_name = "CROP")]
    pub(super) crop: Crop,
    /// What is to be truer and finer: `auto` for what stands out, `none`, or a picture that is bright there
    #[arg(long, default_value = "auto", value_name = "auto|none|MASK")]
    pub(super) focus: String,
    /// Long edges of the picture that are nearly level or upright: a horizon, a tower
    #[arg(long, value_enum, default_value = "auto")]
    pub(super) straighten: StraightenChoice,
    /// Usable width of yardage for fillers [default: 42in, or 110cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub(super) cloth_width: Option<Measured<Length>>,
    /// How row ends are cut
    #[arg(long, value_enum, default_value = "exact")]
    pub(super) row_ends: RowEndsChoice,
    /// How seams are pressed
    #[arg(long, value_enum, default_value = "side")]
    pub(super) pressing: PressingChoice,
    /// Where the squares of bought fabrics come from
    #[arg(long, value_enum, default_value = "bought")]
    pub(super) squares_from: SquaresFrom,
    /// What comes off the end of each length, bought or of the stash, to make it straight [default: 1in, or 2.5cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub(super) end_cut: Option<Measured<Length>>,
    /// How deep the scene is divided
    #[arg(long, value_enum, default_value = "bands")]
    pub(super) depth: DepthChoice,
    /// Step that the edges of bands and columns are on [default: 3in, or 8cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub(super) edge_step: Option<Measured<Length>>,
    /// How long to suit the proposed fabrics to the scene that is sewn of them; a stash's colours stay [default: a
    /// photo's full up to 60 by 80 in, quick up to twice that; a sketch's none]
    #[arg(long, value_enum)]
    pub(super) suit: Option<EffortChoice>,
    /// Likeness against labour: broad, even, fine, finest, or per cent of even
    #[arg(long, default_value = "even", value_parser = |text: &str| dial(text, &DETAIL))]
    pub(super) detail: u32,
    /// How much of the top is triangle units: few, some, many, most, or per cent of many
    #[arg(long, default_value = "many", value_parser = |text: &str| dial(text, &TRIANGLES))]
    pub(super) triangles: u32,
    /// How many triangle units may have a strip cut off, for truer slopes: few, some, many, or per cent of some
    #[arg(long, default_value = "some", value_parser = |text: &str| dial(text, &TRIMS))]
    pub(super) trims: u32,
    /// How many units may be of two fabrics that nearly match: many, some, few, or per cent of many; with fewer of them, more of
    /// the top is cut from one fabric
    #[arg(long = "near-pairs", default_value = "many", value_parser = |text: &str| dial(text, &QUIET))]
    pub(super) quiet: u32,
    /// How much more to buy than is cut, in per cent
    #[arg(long, default_value_t = 10, value_name = "PER CENT", value_parser = clap::value_parser!(u32).range(0..=100))]
    pub(super) margin: u32,
    /// How far the colours of stray units may change to save their squares: none, some, much, or per cent of some
    #[arg(long = "save-squares", default_value = "some", value_parser = |text: &str| dial(text, &THRIFT))]
    pub(super) thrift: u32,
    /// Seed of the proposed palette
    #[arg(long, default_value_t = 1)]
    pub(super) seed: u64,
    /// Make the largest top that the stash can make, of the picture's shape or of the shape of --width and --height, which
    /// then bound it
    #[arg(long)]
    largest: bool,
    /// How often a scene is sought anew where cloth is scarce, for a stash with counts: more often, a better scene
    #[arg(long = "tries", default_value_t = USUAL_ROUNDS, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_ROUNDS)))]
    pub(super) rounds: u32,
    #[command(flatten)]
    finish: FinishArguments,
    #[command(flatten)]
    drawn: Drawn,
}

impl ComposeArguments {
    /// The files that are read.
    pub(super) fn reading(&self) -> Vec<&Path> {
        let mask = focus(&self.focus).1;
        [Some(self.picture.as_path()), self.stash.as_deref(), self.hold.as_deref(), mask, self.finish.file()]
            .into_iter()
            .flatten()
            .collect()
    }

    /// What is asked for.
    fn brief(&self, stash: Option<String>, held: Option<String>) -> Result<Brief, Failure> {
        let given = [self.width, self.height].into_iter().flatten().next();
        let ruler = given.map(|length| length.ruler).or(self.sizes.ruler()).unwrap_or(Ruler::Inch);
        let Self { largest, colours, detail, triangles, trims, quiet, thrift, margin, seed, rounds, .. } = *self;
        Ok(Brief {
            title: self.title.clone().unwrap_or_default(),
            picture: file_name(&self.picture),
            crop: self.crop.to_string(),
            straighten: matches!(self.straighten, StraightenChoice::Auto),
            focus: focus(&self.focus).0,
            width: value(&self.width),
            height: value(&self.height),
            largest,
            sizes: self.sizes.given(),
            cloth_width: value(&self.cloth_width),
            edge_step: value(&self.edge_step),
            row_ends: self.row_ends.into(),
            pressing: self.pressing.into(),
            cut_squares: self.squares_from.is_cut(),
            end_cut: value(&self.end_cut),
            depth: self.depth.into(),
            stash,
            upright_in_triangles: self.upright_in_triangles,
            held,
            colours,
            suit: self.suit.map(Into::into),
            detail,
            triangles,
            trims,
            quiet,
            thrift,
            margin,
            seed,
            rounds,
            finish: self.finish.asked(ruler)?.unwrap_or_default(),
            ..Brief::usual(ruler)
        })
    }
}

pub fn run(arguments: &ComposeArguments) -> Result<String, Failure> {
    let picture = read_picture(&arguments.picture)?;
    let mask = focus(&arguments.focus).1;
    let mask_bytes = mask.map(read_picture).transpose()?;
    let stash = arguments.stash.as_deref().map(read_stash).transpose()?;
    let held = arguments.hold.as_deref().map(read_stash).transpose()?;
    let given = Given {
        picture: Some(&arguments.picture),
        mask,
        // One of the two at most is given.
        stashes: arguments
            .stash
            .iter()
            .chain(&arguments.hold)
            .map(PathBuf::as_path)
            .zip(stash.iter().chain(&held))
            .collect(),
        plan: None,
    };
    let brief = arguments.brief(stash.clone(), held.clone())?;
    let pictured = stash.iter().chain(&held).any(|stash| pictured_in(stash));
    let names = names(&arguments.out, &brief.finish, brief.ruler, pictured)?;
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &arguments.reading())?;
    let watch = screen::watch();
    let scene = job::compose(&brief, &picture, mask_bytes.as_deref(), &watch).map_err(|error| given.failure(error))?;
    let made = job::files(&scene.plan, &arguments.drawn.options(), &watch).map_err(|error| given.failure(error))?;
    folder.holding(&made.files).write(&bytes(&made.files))?;
    Ok(render::scene_account(&scene, &made.work, &made.proven, &account(&arguments.out, &made.files)))
}

/// How scenes are drawn.
#[derive(Args)]
pub struct Drawn {
    /// Leave the seam lines out of the pictures
    #[arg(long)]
    no_seams: bool,
    /// End the build list in a large map, over sheets to be taped together, with every unit's address
    #[arg(long)]
    large_map: bool,
}

impl Drawn {
    pub fn options(&self) -> Options {
        let mut options = Options::default();
        (options.seams, options.large_map) = (!self.no_seams, self.large_map);
        options
    }
}

/// The contents of files, in their order.
pub fn bytes(files: &[File]) -> Vec<&[u8]> {
    files.iter().map(|file| file.bytes.as_slice()).collect()
}

/// Where all files of a scene were written, and how wide the account may be.
pub fn account(out: &Path, files: &[File]) -> Account {
    let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
    Account { written: format!("{} in {}", names.join(", "), out.display()), width: screen::width() }
}

/// A name that can be printed on one line.
pub fn title(text: &str) -> Result<String, String> {
    let title = text.trim();
    match title.chars().count() {
        1..=MOST_TITLE if !title.chars().any(is_unprintable) => Ok(title.to_owned()),
        _ => Err(format!("write 1 to {MOST_TITLE} letters, on one line")),
    }
}
