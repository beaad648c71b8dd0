//! What a person asks of a scene, before the picture and the usual sizes have settled it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::fabric::{Fabrics, OnHand, Stash};
use crate::finish::Finish;
use crate::measure::{Length, Ruler, Seam};
use crate::picture::{Crop, CropError};
use crate::plan::{Depth, Effort, Focus, MOST_MARGIN, MOST_ROUNDS, Plan, Pressing, Request, RowEnds, USUAL_ROUNDS};
use crate::unit::Square;

/// The version of briefs that is read and written.
pub const VERSION: u32 = 1;
/// Fabrics that are proposed where no number is asked for.
const USUAL_COLOURS: u32 = 12;
/// Fewest and most fabrics.
const LEAST_COLOURS: u32 = 2;
/// Most fabrics that are proposed, or taken of a stash.
pub const MOST_COLOURS: u32 = 60;
/// Least and most per cent of a dial.
pub const DIAL: [u32; 2] = [10, 2_000];
/// Thrift where nothing is said of it, in per cent.
const USUAL_THRIFT: u32 = 100;

/// Checks the numbers that briefs and changes share; what is not given holds.
pub(super) fn check_numbers(dials: [Option<u32>; 4], margin: Option<u32>, rounds: u32) -> Result<(), BriefError> {
    let names =
        ["a dial of detail", "a dial of triangles", "a dial of trimmed units", "a dial of units that nearly match"];
    names.into_iter().zip(dials).try_for_each(|(name, dial)| in_range(name, dial, DIAL))?;
    in_range("a margin", margin, [0, MOST_MARGIN])?;
    in_range("a number of tries", Some(rounds), [1, MOST_ROUNDS])
}

pub(super) fn in_range(what: &'static str, given: Option<u32>, [least, most]: [u32; 2]) -> Result<(), BriefError> {
    match given.filter(|given| !(least..=most).contains(given)) {
        Some(given) => Err(BriefError::Range { what, given, least, most }),
        None => Ok(()),
    }
}

/// Whether what finishes the quilt is to be of fabrics that are there.
pub(super) fn check_finish(finish: &Finish, fabrics: &Fabrics) -> Result<(), BriefError> {
    let letters = || fabrics.iter().map(|fabric| &fabric.letter);
    let missing = finish.letters().into_iter().find(|(_, letter)| !letters().any(|known| known == letter));
    missing.map_or(Ok(()), |(what, letter)| {
        Err(BriefError::NoFinishFabric { what, letter: letter.to_owned(), letters: letters().cloned().collect() })
    })
}

/// Sizes that scenes and units are worked out with; what is not given is usual for the ruler. It grows: write it with
/// `..Sizes::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Sizes {
    /// Squares that triangle units are made from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub squares: Option<Vec<Square>>,
    /// The seam allowance as it is sewn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seam: Option<Length>,
    /// The grid that all finished sizes are on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grid: Option<Length>,
    /// Strips that may be cut off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strips: Option<Vec<Length>>,
    /// Least finished side of a filler, a trimmed unit or a slice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least: Option<Length>,
}

/// Everything that can be asked of a scene. It grows: write it with `..Brief::usual(ruler)`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
#[schemars(title = "Rowscape brief")]
pub struct Brief {
    /// 1.
    pub version: u32,
    /// What the maker calls the scene; its picture's name where that is nothing.
    pub title: String,
    /// File name of the picture.
    pub picture: String,
    /// `centre`, `whole`, or left, top, width and height in pixels.
    pub crop: String,
    /// Whether long edges of a photo that are nearly level or upright are made so.
    pub straighten: bool,
    /// What is to be truer and finer.
    pub focus: Focus,
    /// The ruler that sizes are shown in, and that says what is usual.
    pub ruler: Ruler,
    /// Finished width of the top; from the picture's shape where only the height is given.
    pub width: Option<Length>,
    /// Finished height of the top; from the picture's shape where only the width is given.
    pub height: Option<Length>,
    /// Whether the largest top is asked for that the stash makes; width and height then bound it.
    pub largest: bool,
    /// Sizes of squares, seam, grid and strips.
    pub sizes: Sizes,
    /// Usable width of yardage.
    pub cloth_width: Option<Length>,
    /// Step that the edges of bands and columns are on.
    pub edge_step: Option<Length>,
    /// How row ends are cut.
    pub row_ends: RowEnds,
    /// How seams are pressed.
    pub pressing: Pressing,
    /// Whether the maker cuts the squares herself, from lengths, where fabrics are bought.
    pub cut_squares: bool,
    /// What comes off the end of each length, to make it straight; an inch or 2.5 cm where it does not say.
    pub end_cut: Option<Length>,
    /// How deep the scene is divided.
    pub depth: Depth,
    /// The maker's fabrics, a stash as TOML; none for fabrics proposed from the picture.
    pub stash: Option<String>,
    /// Whether every print of the stash with an up and a down stands upright in triangle units too.
    pub upright_in_triangles: bool,
    /// Fabrics that are held as they are while others are proposed beside them, a stash as TOML.
    pub held: Option<String>,
    /// How many fabrics are proposed, held ones among them, 12 where it does not say, or taken of the stash, all where it does not say.
    pub colours: Option<u32>,
    /// How long proposed fabrics are suited to the scene; by the size of the picture where it does not say.
    pub suit: Option<Effort>,
    /// Likeness against labour, in per cent.
    pub detail: u32,
    /// Lean to triangle units, in per cent.
    pub triangles: u32,
    /// Lean to trimmed units, in per cent.
    pub trims: u32,
    /// Units of two near fabrics, in per cent.
    pub quiet: u32,
    /// How far the colours of stray units may change to save their squares, in per cent; 0 for not at all.
    pub thrift: u32,
    /// What is bought over what is cut, in per cent.
    pub margin: u32,
    /// Seed of all that is drawn at random.
    pub seed: u64,
    /// Rounds in which scarce cloth is priced.
    pub rounds: u32,
    /// After how many scenes within the stash the search ends; none for as many as are worth it.
    pub steps: Option<u32>,
    /// How the quilt is finished; nothing but the top where it does not say.
    pub finish: Finish,
}

impl Default for Brief {
    fn default() -> Self {
        Self::usual(Ruler::Inch)
    }
}

/// Why a brief cannot be worked with.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum BriefError {
    /// A version that is not known.
    #[error("the brief is of version {0}, and this program reads version {VERSION}")]
    Version(u32),
    /// A number out of its range.
    #[error("{what} of {given} cannot be worked with: between {least} and {most} can")]
    Range {
        /// What it is.
        what: &'static str,
        /// What was given.
        given: u32,
        /// Least.
        least: u32,
        /// Most.
        most: u32,
    },
    /// The crop says nothing.
    #[error(transparent)]
    Crop(#[from] CropError),
    /// No seam.
    #[error("the seam is {}", .1.show(*.0))]
    Seam(Length, Ruler),
    /// No grid.
    #[error("the grid is {}", .1.show(*.0))]
    Grid(Length, Ruler),
    /// No size.
    #[error("the top has no size")]
    NoSize,
    /// The largest top of no end of cloth.
    #[error("the largest top is asked for that a stash makes, and there is no stash")]
    NoStash,
    /// Prints are to stand upright, and none has an up and a down.
    #[error("prints are to stand upright in triangle units, and no stash says of one that it has an up and a down")]
    NoDirectional,
    /// Fabrics to be held, and a stash, of which all hold.
    #[error("fabrics are given to be held, and a stash too: a stash's fabrics all hold")]
    HeldInStash,
    /// More fabrics are held than there are to be.
    #[error("{held} fabrics are to be held, and only {asked} are asked for")]
    Held {
        /// How many are held.
        held: usize,
        /// How many are asked for, held ones among them.
        asked: u32,
    },
    /// Something is to be finished in a fabric that is not there.
    #[error("the {what} is to be of fabric `{letter}`, and there is none such: the fabrics are {}", letters.join(", "))]
    NoFinishFabric {
        /// What is to be of it.
        what: &'static str,
        /// Its letter.
        letter: String,
        /// The letters of all.
        letters: Vec<String>,
    },
    /// The picture that is bright where the scene is to be finer is missing.
    #[error("the picture that says what is to be finer is missing")]
    NoMask,
}

impl Brief {
    /// What is usual on a ruler; no picture and no size yet.
    pub fn usual(ruler: Ruler) -> Self {
        let usual = Request::usual(ruler);
        Self {
            version: VERSION,
            title: String::new(),
            picture: String::new(),
            crop: usual.crop,
            straighten: true,
            focus: Focus::Auto,
            ruler,
            width: None,
            height: None,
            largest: false,
            sizes: Sizes::default(),
            cloth_width: None,
            edge_step: None,
            row_ends: RowEnds::Exact,
            pressing: Pressing::Side,
            cut_squares: false,
            end_cut: None,
            depth: Depth::Bands,
            stash: None,
            upright_in_triangles: false,
            held: None,
            colours: None,
            suit: None,
            detail: usual.detail,
            triangles: usual.triangles,
            trims: usual.trims,
            quiet: usual.quiet,
            thrift: USUAL_THRIFT,
            margin: usual.margin,
            seed: usual.seed,
            rounds: USUAL_ROUNDS,
            steps: None,
            finish: Finish::default(),
        }
    }

    /// The brief that asks for a plan's scene once more: with its picture the same scene comes out.
    ///
    /// Fabrics that were not proposed come as a stash. A picture that says what is to be finer must be given again.
    pub fn of(plan: &Plan) -> Self {
        let request = plan.request.clone();
        let proposed = request.colours.is_some() && plan.is_proposed();
        Self {
            version: VERSION,
            title: request.title,
            picture: request.picture,
            crop: request.crop,
            straighten: request.straighten,
            focus: request.focus,
            ruler: request.ruler,
            width: Some(request.width),
            height: Some(request.height),
            largest: false,
            sizes: Sizes {
                squares: Some(request.squares),
                seam: Some(request.seam.measured),
                grid: Some(request.grid),
                strips: Some(request.strips),
                least: Some(request.least),
            },
            cloth_width: Some(request.cloth_width),
            edge_step: Some(request.edge_step),
            row_ends: request.row_ends,
            pressing: request.pressing,
            cut_squares: request.cut_squares,
            end_cut: request.end_cut,
            depth: request.depth,
            // Its stash says so of each print.
            upright_in_triangles: false,
            stash: (!proposed).then(|| plan.stash().write()),
            held: (proposed && !request.held.is_empty())
                .then(|| Stash { prints: plan.held().to_vec().into(), hand: OnHand::default() }.write()),
            colours: request.colours.filter(|_| proposed),
            suit: proposed.then_some(request.suit),
            detail: request.detail,
            triangles: request.triangles,
            trims: request.trims,
            quiet: request.quiet,
            thrift: request.thrift,
            margin: request.margin,
            seed: request.seed,
            rounds: request.rounds,
            steps: request.steps,
            finish: request.finish,
        }
    }

    /// Checks what needs no picture.
    pub fn check(&self) -> Result<(), BriefError> {
        if self.version != VERSION {
            return Err(BriefError::Version(self.version));
        }
        let dials = [self.detail, self.triangles, self.trims, self.quiet].map(Some);
        check_numbers(dials, Some(self.margin), self.rounds)?;
        in_range("thrift", Some(self.thrift), [0, DIAL[1]])?;
        in_range("a number of fabrics", self.colours, [LEAST_COLOURS, MOST_COLOURS])?;
        if self.largest && self.stash.is_none() {
            return Err(BriefError::NoStash);
        }
        if self.held.is_some() && self.stash.is_some() {
            return Err(BriefError::HeldInStash);
        }
        if !self.largest && self.width.or(self.height).is_none() {
            return Err(BriefError::NoSize);
        }
        self.crop().map(|_| ())
    }

    pub(super) fn crop(&self) -> Result<Crop, BriefError> {
        Ok(self.crop.parse()?)
    }

    /// How many fabrics are proposed.
    pub(super) fn proposed(&self) -> u32 {
        self.colours.unwrap_or(USUAL_COLOURS)
    }

    /// All that is asked for but the size.
    pub(super) fn request(&self) -> Result<Request, BriefError> {
        let usual = self.sizes.afresh(self.ruler)?;
        let grid = usual.grid;
        Ok(Request {
            title: self.title.clone(),
            picture: self.picture.clone(),
            crop: self.crop()?.to_string(),
            straighten: self.straighten,
            focus: self.focus,
            cloth_width: self.cloth_width.unwrap_or(usual.cloth_width),
            row_ends: self.row_ends,
            pressing: self.pressing,
            cut_squares: self.cut_squares,
            end_cut: self.end_cut,
            depth: self.depth,
            edge_step: self.edge_step.unwrap_or(usual.edge_step).round_to(grid).max(grid),
            colours: self.colours.or(self.stash.is_none().then_some(USUAL_COLOURS)),
            detail: self.detail,
            triangles: self.triangles,
            trims: self.trims,
            quiet: self.quiet,
            thrift: self.thrift,
            seed: self.seed,
            margin: self.margin,
            rounds: self.rounds,
            steps: self.steps,
            finish: self.finish.clone(),
            ..usual
        })
    }
}

impl Sizes {
    /// What is usual on a ruler, with the sizes that are given.
    pub fn afresh(&self, ruler: Ruler) -> Result<Request, BriefError> {
        let request = self.over(&Request::usual(ruler))?;
        Ok(Request { least: self.least.unwrap_or_else(|| request.usual_least()), ..request })
    }

    /// A request with the sizes that are given in the place of its own.
    pub fn over(&self, request: &Request) -> Result<Request, BriefError> {
        let mut request = request.clone();
        let ruler = request.ruler;
        if let Some(squares) = &self.squares {
            request.squares.clone_from(squares);
        }
        if let Some(seam) = self.seam {
            if seam <= Length::ZERO {
                return Err(BriefError::Seam(seam, ruler));
            }
            request.seam = Seam::measured(seam, ruler);
        }
        request.grid = self.grid.unwrap_or(request.grid);
        if request.grid <= Length::ZERO {
            return Err(BriefError::Grid(request.grid, ruler));
        }
        if let Some(strips) = &self.strips {
            request.strips.clone_from(strips);
        }
        request.least = self.least.unwrap_or(request.least);
        Ok(request)
    }
}

/// The JSON Schema of briefs.
pub fn schema() -> String {
    format!("{:#}\n", schemars::schema_for!(Brief).as_value())
}
