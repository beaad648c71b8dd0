//! `compose`: from a picture to a folder with the plan, its pictures and the work.

use std::path::PathBuf;

use clap::Args;
use rowscape::compose::{Order, subset};
use rowscape::fabric::{Fabric, Rgb, named, propose};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Picture};
use rowscape::plan::Request;
use rowscape::stock::{Gaps, ROUNDS, StockError, compose};

use super::folder::Folder;
use super::made::{FILES, write_down};
use super::read::{focus, read_picture, read_stash};
use super::request::{DepthChoice, Measured, RowEndsChoice, SizeArguments, dial, measured, value};
use super::{Failure, account};

pub const DETAIL: [(&str, u32); 4] = [("broad", 50), ("even", 100), ("fine", 200), ("finest", 500)];
pub const TRIANGLES: [(&str, u32); 4] = [("few", 30), ("some", 60), ("many", 100), ("most", 250)];
const USUAL_COLOURS: u32 = 12;
const MOST_COLOURS: u32 = 60;

const EXAMPLES: &str = "Examples:
  rowscape compose sample-sketches/lighthouse-dusk.png --width 54in --out lighthouse
  rowscape compose headland.jpg --width 54in --square 10in/4 --out headland
  rowscape compose harbour.jpg --height 150cm --stash my-fabrics.toml --out harbour
  rowscape compose cliffs.jpg --crop 120,0,800,1000 --row-ends spare --out cliffs";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct ComposeArguments {
    /// Photo or sketch: PNG, JPEG, WebP, TIFF, GIF or BMP
    picture: PathBuf,
    /// Folder to write the scene into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    out: PathBuf,
    /// Write over a scene that the folder holds
    #[arg(long)]
    replace: bool,
    /// Finished width of the top; without it, taken from the picture's shape
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, required_unless_present = "height")]
    width: Option<Measured<Length>>,
    /// Finished height of the top; without it, taken from the picture's shape
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    height: Option<Measured<Length>>,
    #[command(flatten)]
    sizes: SizeArguments,
    /// Fabrics to propose from the picture, near shades for flat areas included [default: 12]; with a stash, how many of
    /// its fabrics to take, the best for the picture [default: all]
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(2..=i64::from(MOST_COLOURS)))]
    colours: Option<u32>,
    /// Your own fabrics, a TOML file; the scene keeps within its counts, and takes freely what has none
    #[arg(long, value_name = "FILE")]
    stash: Option<PathBuf>,
    /// `centre` fills the top and cuts what is over, `whole` keeps the whole picture and draws its edges out,
    /// `X,Y,W,H` takes a part in pixels
    #[arg(long, default_value = "centre", value_name = "CROP")]
    crop: Crop,
    /// What is to be truer and finer: `auto` for what stands out, `none`, or a picture that is bright there
    #[arg(long, default_value = "auto", value_name = "auto|none|MASK")]
    focus: String,
    /// Usable width of yardage for fillers [default: 42in, or 110cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    cloth_width: Option<Measured<Length>>,
    /// How row ends are cut
    #[arg(long, value_enum, default_value = "exact")]
    row_ends: RowEndsChoice,
    /// How deep the scene is divided
    #[arg(long, value_enum, default_value = "bands")]
    depth: DepthChoice,
    /// Step that the edges of bands and columns are on [default: 3in, or 8cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    edge_step: Option<Measured<Length>>,
    /// Likeness against labour: broad, even, fine, finest, or per cent of even
    #[arg(long, default_value = "even", value_parser = |text: &str| dial(text, &DETAIL))]
    detail: u32,
    /// How much of the top is triangle units: few, some, many, most, or per cent of many
    #[arg(long, default_value = "many", value_parser = |text: &str| dial(text, &TRIANGLES))]
    triangles: u32,
    /// How much more to buy than is cut, in per cent
    #[arg(long, default_value_t = 10, value_name = "PER CENT", value_parser = clap::value_parser!(u32).range(0..=100))]
    margin: u32,
    /// Seed of the proposed palette
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Rounds in which scarce cloth is priced, for a stash with counts: more rounds, a better scene
    #[arg(long, default_value_t = ROUNDS, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..=1000))]
    rounds: u32,
    /// Leave the seam lines out of the pictures
    #[arg(long)]
    no_seams: bool,
}

pub fn run(arguments: &ComposeArguments) -> Result<String, Failure> {
    let picture = read_picture(&arguments.picture)?;
    let (request, mut notes) = ask(arguments, &picture)?;
    request.check().map_err(Failure::new)?;
    let stash = arguments.stash.as_deref().map(read_stash).transpose()?;
    let (columns, rows) = request.cells();
    let cells = picture.cells(&arguments.crop, columns, rows).map_err(|e| Failure::at(&arguments.picture, e))?;
    let focus = focus(&arguments.focus, &cells, columns, rows)?;
    notes.extend(picture.notes().iter().map(|note| format!("{}: {note}", arguments.picture.display())));
    let mut fabrics = match &stash {
        Some(stash) => stash.fabrics(),
        None => proposed(&cells, columns, rows, &focus, arguments),
    };
    let mut hand = stash.map(|stash| stash.hand).unwrap_or_default();
    if let (Some(_), Some(most)) = (&arguments.stash, arguments.colours) {
        let whole = Order::new(&request, &cells, &focus, &fabrics);
        let taken = subset(&whole, most as usize).map_err(Failure::new)?.prints;
        notes.extend(left_out(&fabrics, &taken, most));
        fabrics = taken.iter().filter_map(|&print| fabrics.get(print).cloned()).collect();
        hand = hand.of(&taken);
    }
    let folder = Folder::open(&arguments.out, &FILES, arguments.replace)?;
    let order = Order { hand: &hand, ..Order::new(&request, &cells, &focus, &fabrics) };
    let (plan, gaps) = compose(&order, arguments.rounds).map_err(short)?;
    notes.extend(gaps.map(|gaps| within(&gaps)));
    let (made, contents) = write_down(plan, notes, !arguments.no_seams)?;
    let contents: Vec<&[u8]> = contents.iter().map(Vec::as_slice).collect();
    folder.write(&contents)?;
    Ok(account::account(&made, &arguments.out))
}

fn short(error: StockError) -> Failure {
    let hint = match &error {
        StockError::Short(_) => {
            "compose a smaller top, add to the stash, or take counts out of it to see what it would need"
        }
        StockError::Scene(_) => "change the size, the squares or the stash",
    };
    Failure::new(&error).hint(hint)
}

/// How good the scene is for the stash.
pub fn within(gaps: &Gaps) -> String {
    format!("within the stash: {gaps}")
}

/// The request with a missing side from the picture's shape, and notes on what was rounded.
fn ask(arguments: &ComposeArguments, picture: &Picture) -> Result<(Request, Vec<String>), Failure> {
    let given = [arguments.width, arguments.height].into_iter().flatten().next();
    let ruler = given.map(|length| length.ruler).or(arguments.sizes.ruler()).unwrap_or(Ruler::Inch);
    let usual = arguments.sizes.over(&Request::usual(ruler))?;
    let grid = usual.grid;
    let (across, down) = picture.aspect(&arguments.crop).map_err(|error| Failure::at(&arguments.picture, error))?;
    let scaled = |length: Length, up: u32, under: u32| {
        let ticks = i128::from(length.ticks()) * i128::from(up) / i128::from(under.max(1));
        Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 4)).round_to(grid).max(grid)
    };
    let mut notes = Vec::new();
    let (width, height) = match (arguments.width, arguments.height) {
        (Some(width), Some(height)) => (width.value, height.value),
        (Some(width), None) => {
            let height = scaled(width.value, down, across);
            notes.push(format!("height from the picture's shape: {}", ruler.show(height)));
            (width.value, height)
        }
        (None, Some(height)) => {
            let width = scaled(height.value, across, down);
            notes.push(format!("width from the picture's shape: {}", ruler.show(width)));
            (width, height.value)
        }
        (None, None) => return Err(Failure::new("the top has no size").hint("give --width, --height or both")),
    };
    let name = arguments.picture.file_name().map(|name| name.to_string_lossy().into_owned());
    let request = Request {
        picture: name.unwrap_or_default(),
        crop: arguments.crop.to_string(),
        width,
        height,
        cloth_width: value(&arguments.cloth_width, usual.cloth_width),
        row_ends: arguments.row_ends.into(),
        depth: arguments.depth.into(),
        edge_step: value(&arguments.edge_step, usual.edge_step).round_to(grid).max(grid),
        colours: arguments.colours.or(arguments.stash.is_none().then_some(USUAL_COLOURS)),
        detail: arguments.detail,
        triangles: arguments.triangles,
        seed: arguments.seed,
        margin: arguments.margin,
        ..usual
    };
    Ok((request, notes))
}

/// Which fabrics of the stash the scene goes without; nothing where it has them all.
fn left_out(fabrics: &[Fabric], taken: &[usize], most: u32) -> Option<String> {
    let left: Vec<String> = (0..fabrics.len())
        .filter(|print| !taken.contains(print))
        .map(|print| format!("{} {}", fabrics[print].letter, fabrics[print].name))
        .collect();
    match left.len() {
        0 if taken.len() < most as usize => Some(format!("the stash has {} fabrics: all are taken", taken.len())),
        0 => None,
        count => Some(format!("the best {} fabrics of the stash; {count} left out: {}", taken.len(), left.join(", "))),
    }
}

fn proposed(cells: &[Rgb], columns: u32, rows: u32, focus: &[u8], arguments: &ComposeArguments) -> Vec<Fabric> {
    let colours =
        propose(cells, columns, rows, focus, arguments.colours.unwrap_or(USUAL_COLOURS) as usize, arguments.seed);
    named(colours)
}
