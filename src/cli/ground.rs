//! What a scene is composed of: the request, the picture in its cells, and the fabrics.

use rowscape::compose::{Order, subset};
use rowscape::fabric::{Fabrics, OnHand, Print, Rgb, Stash, named, printable, propose};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Picture, level};
use rowscape::plan::{Effort, Request, left_aside};
use rowscape::stock::StockError;
use rowscape::suit::suited;

use super::compose::{ComposeArguments, short};
use super::read::focus;
use super::request::{StraightenChoice, value};
use super::{Failure, screen};

const USUAL_COLOURS: u32 = 12;
/// The most dots that are still drawn one by one: 200 by 200.
const SKETCH: u64 = 40_000;
/// Cells up to which a photo's colours are suited at length, 60 by 80 in, and quickly.
const FULLY_SUITED: usize = 19_200;
const QUICKLY_SUITED: usize = 38_400;
const LEVELLED: &str =
    "a long edge of the picture that is nearly level or upright was made so (--straighten none leaves it)";

/// All that an order is made of, and what is to be said of it.
pub struct Ground {
    pub request: Request,
    cells: Vec<Rgb>,
    focus: Vec<u8>,
    fabrics: Fabrics,
    hand: OnHand,
    pub notes: Vec<String>,
}

impl Ground {
    pub fn new(
        arguments: &ComposeArguments,
        picture: &Picture,
        stash: Option<&Stash>,
        mut request: Request,
    ) -> Result<Self, Failure> {
        request.check().map_err(Failure::new)?;
        let (columns, rows) = request.cells();
        let drawn = picture.cells(&arguments.crop, columns, rows).map_err(|e| Failure::at(&arguments.picture, e))?;
        let is_photo = is_photo(picture, arguments, columns);
        if stash.is_none() {
            request.suit = arguments.suit.map_or_else(|| usual_effort(is_photo, drawn.len()), Effort::from);
        }
        let cells = match arguments.straighten {
            StraightenChoice::Auto if is_photo => level(&drawn, columns, rows),
            _ => drawn.clone(),
        };
        let focus = focus(&arguments.focus, &cells, columns, rows)?;
        let fabrics = match stash {
            Some(stash) => stash.fabrics(),
            None => proposed(&cells, columns, rows, &focus, arguments),
        };
        let hand = stash.map(|stash| stash.hand.clone()).unwrap_or_default();
        let mut notes = left_aside(&hand, &request);
        if cells != drawn {
            notes.push(LEVELLED.into());
        }
        let ground = Self { request, cells, focus, fabrics, hand, notes };
        match (stash, arguments.colours) {
            (Some(_), Some(most)) => ground.fewer(most),
            (Some(_), None) => Ok(ground),
            (None, _) => ground.suited(),
        }
    }

    pub fn order(&self) -> Order<'_> {
        let order = Order::new(&self.request, &self.cells, &self.focus, &self.fabrics);
        Order { hand: &self.hand, ..order }
    }

    /// The proposed fabrics, suited to the scene.
    fn suited(mut self) -> Result<Self, Failure> {
        let told = |round, rounds| screen::progress(&format!("suiting the colours, round {round} of {rounds}"));
        self.fabrics = suited(&self.order(), self.request.suit, told).map_err(StockError::Scene).map_err(short)?;
        screen::progress("");
        Ok(self)
    }

    /// The best so many fabrics of the stash.
    fn fewer(mut self, most: u32) -> Result<Self, Failure> {
        let whole = Order::new(&self.request, &self.cells, &self.focus, &self.fabrics);
        let taken = subset(&whole, most as usize).map_err(Failure::new)?.prints;
        self.notes.extend(left_out(&self.fabrics, &taken, most));
        self.fabrics = taken.iter().map(|&print| self.fabrics[print].clone()).collect();
        self.hand = self.hand.of(&taken);
        Ok(self)
    }
}

/// Whether the picture is finer than the top's cells and than a sketch; what is drawn dot by dot is meant so.
fn is_photo(picture: &Picture, arguments: &ComposeArguments, columns: u32) -> bool {
    picture
        .size(&arguments.crop)
        .is_ok_and(|(width, height)| width > columns && u64::from(width) * u64::from(height) > SKETCH)
}

/// How long a photo's colours are suited to the scene, by its cells: full where that takes about a second.
fn usual_effort(is_photo: bool, cells: usize) -> Effort {
    match cells {
        ..=FULLY_SUITED if is_photo => Effort::Full,
        ..=QUICKLY_SUITED if is_photo => Effort::Quick,
        _ => Effort::None,
    }
}

/// The request with a missing side from the picture's shape, and notes on what was rounded.
pub fn ask(arguments: &ComposeArguments, picture: &Picture) -> Result<(Request, Vec<String>), Failure> {
    let usual = usual(arguments)?;
    let (ruler, grid) = (usual.ruler, usual.grid);
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
    Ok((Request { width, height, ..usual }, notes))
}

/// All that is asked for but the size.
pub fn usual(arguments: &ComposeArguments) -> Result<Request, Failure> {
    let given = [arguments.width, arguments.height].into_iter().flatten().next();
    let ruler = given.map(|length| length.ruler).or(arguments.sizes.ruler()).unwrap_or(Ruler::Inch);
    let usual = arguments.sizes.afresh(ruler)?;
    let grid = usual.grid;
    let name = arguments.picture.file_name().map(|name| printable(&name.to_string_lossy()));
    Ok(Request {
        picture: name.unwrap_or_default(),
        crop: arguments.crop.to_string(),
        cloth_width: value(&arguments.cloth_width, usual.cloth_width),
        row_ends: arguments.row_ends.into(),
        depth: arguments.depth.into(),
        edge_step: value(&arguments.edge_step, usual.edge_step).round_to(grid).max(grid),
        colours: arguments.colours.or(arguments.stash.is_none().then_some(USUAL_COLOURS)),
        detail: arguments.detail,
        triangles: arguments.triangles,
        trims: arguments.trims,
        quiet: arguments.quiet,
        thrift: arguments.thrift,
        seed: arguments.seed,
        margin: arguments.margin,
        ..usual
    })
}

/// Which fabrics of the stash the scene goes without; nothing where it has them all.
fn left_out(fabrics: &Fabrics, taken: &[Print], most: u32) -> Option<String> {
    let left: Vec<String> = fabrics
        .keys()
        .filter(|print| !taken.contains(print))
        .map(|print| format!("{} {}", fabrics[print].letter, fabrics[print].name))
        .collect();
    match left.len() {
        0 if taken.len() < most as usize => Some(format!("the stash has {} fabrics: all are taken", taken.len())),
        0 => None,
        count => Some(format!("the best {} fabrics of the stash; {count} left out: {}", taken.len(), left.join(", "))),
    }
}

fn proposed(cells: &[Rgb], columns: u32, rows: u32, focus: &[u8], arguments: &ComposeArguments) -> Fabrics {
    let colours =
        propose(cells, columns, rows, focus, arguments.colours.unwrap_or(USUAL_COLOURS) as usize, arguments.seed);
    named(colours)
}
