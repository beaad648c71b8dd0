//! `compose`: from a picture to a folder with the plan, its pictures and the work.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::compose::{Composed, Order, scene, subset};
use rowscape::fabric::{Fabric, Rgb, Stash, letters, names, propose};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::{Plan, Request};
use rowscape::proof::{Files, prove};
use rowscape::render::{self, Options};

use super::folder::{Folder, plain};
use super::made::{FILES, Made};
use super::request::{Asked, DepthChoice, Measured, RowEndsChoice, SizeArguments, dial, measured, request};
use super::{Failure, account};

const DETAIL: [(&str, u32); 4] = [("broad", 50), ("even", 100), ("fine", 200), ("finest", 500)];
const TRIANGLES: [(&str, u32); 4] = [("few", 30), ("some", 60), ("many", 100), ("most", 250)];
const USUAL_COLOURS: u32 = 12;
const MOST_COLOURS: u32 = 60;
const MOST_BYTES: u64 = 512 << 20;

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
    /// Your own fabrics, a TOML file; every fabric in it is free to use, whatever its counts
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
    /// Seed of the proposed palette
    #[arg(long, default_value_t = 1)]
    seed: u64,
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
    let focus = focus(arguments, &cells, columns, rows)?;
    notes.extend(picture.notes().iter().map(|note| format!("{}: {note}", arguments.picture.display())));
    let (mut fabrics, mut sketches): (Vec<Fabric>, Vec<Option<Rgb>>) = match &stash {
        Some(stash) => (stash.fabrics(), stash.prints.iter().map(|print| print.sketch).collect()),
        None => (proposed(&cells, columns, rows, &focus, arguments), Vec::new()),
    };
    if stash.is_some_and(|stash| stash.prints.iter().any(|print| print.supply.is_some())) {
        notes.push(
            "the stash's counts are not held to yet: compare what the build list needs with what you have".into(),
        );
    }
    if let (Some(_), Some(most)) = (&arguments.stash, arguments.colours) {
        let whole = Order { request: &request, picture: &cells, focus: &focus, fabrics: &fabrics, sketches: &sketches };
        let taken = subset(&whole, most as usize).map_err(Failure::new)?.prints;
        notes.extend(left_out(&fabrics, &taken, most));
        sketches = taken.iter().filter_map(|&print| sketches.get(print).copied()).collect();
        fabrics = taken.iter().filter_map(|&print| fabrics.get(print).cloned()).collect();
    }
    let folder = Folder::open(&arguments.out, &FILES, arguments.replace)?;
    let order = Order { request: &request, picture: &cells, focus: &focus, fabrics: &fabrics, sketches: &sketches };
    let (plan, composed) = scene(&order).map_err(Failure::new)?;
    let (made, contents) = write_down(plan, composed, notes, !arguments.no_seams)?;
    let contents: Vec<&[u8]> = contents.iter().map(Vec::as_slice).collect();
    folder.write(&contents)?;
    Ok(account::account(&made, &arguments.out))
}

/// Makes the work, renders every file, and proves them as they will be read.
fn write_down(
    plan: Plan,
    composed: Composed,
    notes: Vec<String>,
    seams: bool,
) -> Result<(Made, Vec<Vec<u8>>), Failure> {
    let work = make(&plan);
    let options = Options { seams, ..Options::default() };
    let json = rowscape::plan::write(&plan);
    let rows = render::rows_csv(&plan, &work, &options).map_err(Failure::new)?;
    let cutting = render::cutting_csv(&plan, &work, &options).map_err(Failure::new)?;
    let proven = prove(&Files { plan: &json, rows: &rows, cutting: &cutting }).map_err(|fault| {
        Failure::new(format!("the proof failed, nothing was written: {fault}"))
            .hint("this is a fault of the program, please report it")
    })?;
    let contents = vec![
        json.into_bytes(),
        render::svg(&plan, &work, &options).into_bytes(),
        render::png(&plan, &work, &options).map_err(Failure::new)?,
        render::build_list(&plan, &work, &options).into_bytes(),
        rows.into_bytes(),
        cutting.into_bytes(),
    ];
    Ok((Made { plan, composed, work, proven, notes }, contents))
}

pub fn read_picture(path: &Path) -> Result<Picture, Failure> {
    let size =
        std::fs::metadata(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    if size.len() > MOST_BYTES {
        return Err(Failure::at(path, "is larger than 512 MiB").hint("save the picture smaller"));
    }
    let bytes = std::fs::read(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    Picture::decode(&bytes, &Limits::default()).map_err(|error| Failure::at(path, error))
}

fn read_stash(path: &Path) -> Result<Stash, Failure> {
    let text = std::fs::read(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    let text =
        String::from_utf8(text).map_err(|_| Failure::at(path, "is not text").hint("a stash is a TOML text file"))?;
    Stash::read(&text).map_err(|error| {
        let failure = Failure::at(path, error.message()).hint(error.help());
        match error.span.clone() {
            Some(span) if span.end <= text.len() && span.start <= span.end => {
                failure.underline(path, text.clone(), span)
            }
            _ => failure,
        }
    })
}

/// The request with a missing side from the picture's shape, and notes on what was rounded.
fn ask(arguments: &ComposeArguments, picture: &Picture) -> Result<(Request, Vec<String>), Failure> {
    let given = [arguments.width, arguments.height].into_iter().flatten().next();
    let ruler = given.map(|length| length.ruler).or(arguments.sizes.ruler()).unwrap_or(Ruler::Inch);
    let grid = arguments.sizes.grid(ruler)?;
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
    let asked = Asked {
        picture: name.unwrap_or_default(),
        crop: arguments.crop.to_string(),
        width,
        height,
        cloth_width: arguments.cloth_width.map(|width| width.value),
        row_ends: arguments.row_ends,
        depth: arguments.depth,
        edge_step: arguments.edge_step.map(|step| step.value),
        colours: arguments.colours.or(arguments.stash.is_none().then_some(USUAL_COLOURS)),
        detail: arguments.detail,
        triangles: arguments.triangles,
        seed: arguments.seed,
        sizes: &arguments.sizes,
    };
    Ok((request(asked, ruler)?, notes))
}

/// Weights of the cells; empty where all are plain.
fn focus(arguments: &ComposeArguments, cells: &[Rgb], columns: u32, rows: u32) -> Result<Vec<u8>, Failure> {
    match arguments.focus.as_str() {
        "auto" => Ok(salience(cells, columns, rows)),
        "none" => Ok(Vec::new()),
        mask => {
            let path = Path::new(mask);
            let mask = read_picture(path)?.mask(&Crop::Centre, columns, rows).map_err(|e| Failure::at(path, e))?;
            // Black weighs half, middle grey about plain, white four times.
            Ok(mask.into_iter().map(|level| 2 + (u32::from(level).pow(2) * 14 / 65_025) as u8).collect())
        }
    }
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
    let names = names(&colours);
    let fabric = |((letter, name), colour): ((String, String), Rgb)| Fabric {
        letter,
        family: name.clone(),
        name,
        colour,
        only_squares: None,
    };
    letters(colours.len()).into_iter().zip(names).zip(colours).map(fabric).collect()
}
