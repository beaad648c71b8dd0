//! What was asked for, checked: enough to make the scene again.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::finish::{Finish, FinishError, Finishing, Top};
use crate::measure::{Length, Ruler, Seam, ShopCuts};
use crate::unit::{Square, Vocabulary, VocabularyError};

/// How the ends of rows are made to fit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum RowEnds {
    /// Every filler is cut to size.
    #[default]
    Exact,
    /// Fillers at row ends are cut an inch (2.5 cm) over and the row is trimmed once its middle is matched.
    Spare,
}

impl RowEnds {
    /// What a filler at the end of a row is cut longer.
    pub fn extra(self, ruler: Ruler) -> Length {
        match (self, ruler) {
            (Self::Exact, _) => Length::ZERO,
            (Self::Spare, Ruler::Inch) => Length::INCH,
            (Self::Spare, Ruler::Metric) => Length::mm(25),
        }
    }
}

/// How seams are pressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Pressing {
    /// To one side, so that seams that meet nest.
    #[default]
    Side,
    /// Open.
    Open,
}

impl Pressing {
    fn is_side(&self) -> bool {
        *self == Self::Side
    }
}

/// How deep the scene is divided.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Depth {
    /// Rows across the whole top.
    #[default]
    Rows,
    /// Bands that may be split into columns with rows of their own.
    Bands,
}

/// How much is done to suit proposed colours to the scene.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Effort {
    /// They stay as proposed.
    #[default]
    None,
    /// They are fitted to one scene.
    Quick,
    /// They are fitted to scene after scene, and the best is kept.
    Full,
}

impl Effort {
    fn is_none(&self) -> bool {
        *self == Self::None
    }
}

/// What is to be truer and finer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Focus {
    /// What stands out.
    #[default]
    Auto,
    /// All alike.
    None,
    /// What is bright in a picture of its own.
    Mask,
}

impl Focus {
    fn is_auto(&self) -> bool {
        *self == Self::Auto
    }
}

/// Everything that was asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Request {
    /// What the maker calls the scene; its picture's name where that is nothing.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub title: String,
    /// File name of the picture.
    pub picture: String,
    /// How the picture was brought to the top's shape: `centre`, `whole` or `x,y,w,h`.
    pub crop: String,
    /// Whether long edges of a photo that are nearly level or upright are made so.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub straighten: bool,
    /// What is to be truer and finer.
    #[serde(default, skip_serializing_if = "Focus::is_auto")]
    pub focus: Focus,
    /// Finished width of the top.
    pub width: Length,
    /// Finished height of the top.
    pub height: Length,
    /// The grid that all finished sizes are on.
    pub grid: Length,
    /// The seam allowance.
    pub seam: Seam,
    /// The ruler that sizes are shown in.
    pub ruler: Ruler,
    /// The squares that triangle units are made from.
    pub squares: Vec<Square>,
    /// Strips that may be cut off, narrowest first.
    pub strips: Vec<Length>,
    /// Least finished side of a filler, a trimmed unit or a slice.
    pub least: Length,
    /// Usable width of yardage.
    pub cloth_width: Length,
    /// How row ends are cut.
    pub row_ends: RowEnds,
    /// How seams are pressed.
    #[serde(default, skip_serializing_if = "Pressing::is_side")]
    pub pressing: Pressing,
    /// Whether the maker cuts the squares herself, from lengths, where fabrics are bought.
    #[serde(default, skip_serializing_if = "is_no")]
    pub cut_squares: bool,
    /// What comes off the end of each length, to make it straight; none for what is usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end_cut: Option<Length>,
    /// How deep the scene is divided.
    pub depth: Depth,
    /// The step that column and band edges stand on.
    pub edge_step: Length,
    /// How many fabrics were to be proposed, or taken of a stash; none for the whole stash.
    pub colours: Option<u32>,
    /// Letters of the fabrics that were held as they are while others were proposed beside them; they come first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<String>,
    /// How much is done to suit the proposed ones to the scene.
    #[serde(default, skip_serializing_if = "Effort::is_none")]
    pub suit: Effort,
    /// Labour against likeness, in per cent; more is finer.
    pub detail: u32,
    /// Lean to triangle units, in per cent; more has fewer plain fillers.
    pub triangles: u32,
    /// Lean to trimmed units, in per cent; more has more of them, and truer slopes.
    #[serde(default = "usual_dial")]
    pub trims: u32,
    /// Units of two near fabrics, in per cent; fewer than 100 charges each, so that one cut serves where two nearly match.
    #[serde(default = "usual_dial")]
    pub quiet: u32,
    /// How far the colours of stray units may change to save their squares, in per cent; 0 for not at all.
    #[serde(default)]
    pub thrift: u32,
    /// Seed of all that is drawn at random.
    pub seed: u64,
    /// What is bought over what is cut, in per cent.
    #[serde(default)]
    pub margin: u32,
    /// Rounds in which scarce cloth is priced.
    #[serde(default = "usual_rounds", skip_serializing_if = "is_usual_rounds")]
    pub rounds: u32,
    /// After how many scenes brought within squares and sheets the maker had enough; none where the search ended by itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<u32>,
    /// How the quilt is finished, borders first; it changes nothing of the top.
    #[serde(default, skip_serializing_if = "Finish::is_none")]
    pub finish: Finish,
}

/// Rounds in which scarce cloth is priced, where nothing else is asked for.
pub const USUAL_ROUNDS: u32 = 60;
/// Most rounds.
pub const MOST_ROUNDS: u32 = 1_000;

fn usual_rounds() -> u32 {
    USUAL_ROUNDS
}

fn is_usual_rounds(rounds: &u32) -> bool {
    *rounds == USUAL_ROUNDS
}

fn yes() -> bool {
    true
}

fn is_no(yes: &bool) -> bool {
    !*yes
}

fn is_yes(yes: &bool) -> bool {
    *yes
}

/// What a dial stood at in plans that do not have it.
fn usual_dial() -> u32 {
    100
}

/// Most per cent that may be bought over what is cut.
pub const MOST_MARGIN: u32 = 200;

/// Most that may come off a length to make it straight.
pub const MOST_END_CUT: Length = Length::YARD;

/// Why a request cannot be worked with.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RequestError {
    /// A length that must be positive is not.
    #[error("the {what} is {}: it must be more than nothing", ruler.show(*.length))]
    NotPositive {
        /// Which length.
        what: &'static str,
        /// What was given.
        length: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A list is longer than any scene has use for.
    #[error("there are {count} {what}: {most} are the most that can be worked with")]
    Many {
        /// Squares or strips.
        what: &'static str,
        /// How many.
        count: usize,
        /// Most of them.
        most: usize,
    },
    /// The grid does not divide the size.
    #[error(
        "the {what} of {} is not a whole number of {} cells: take {} or {}",
        ruler.show(*.length), ruler.show(*.grid), ruler.show(*.below), ruler.show(*.below + *.grid)
    )]
    OffGrid {
        /// Width or height.
        what: &'static str,
        /// What was given.
        length: Length,
        /// The grid.
        grid: Length,
        /// The nearest below; the nearest above is a cell more.
        below: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The size is out of range.
    #[error(
        "the {what} of {} is {cells} cells of {}: between {least} and {most} cells can be composed",
        ruler.show(*.length), ruler.show(*.grid)
    )]
    Range {
        /// Width or height.
        what: &'static str,
        /// What was given.
        length: Length,
        /// Its cells.
        cells: i64,
        /// The grid.
        grid: Length,
        /// Fewest cells.
        least: u32,
        /// Most cells.
        most: u32,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The squares give nothing.
    #[error(transparent)]
    Vocabulary(#[from] VocabularyError),
    /// More is bought over than anyone needs.
    #[error("a margin of {0} % is more than can be worked with: give at most {MOST_MARGIN} %")]
    Margin(u32),
    /// More is cut off a length than anyone needs, or less than nothing.
    #[error("{} cannot be cut off each length to straighten it: give from nothing to {MOST_END_CUT}", .1.show(*.0))]
    EndCut(Length, Ruler),
    /// The quilt cannot be finished so.
    #[error(transparent)]
    Finish(#[from] FinishError),
    /// The cloth gives no filler.
    #[error(
        "cloth of {} usable width gives no filler of {}: give the width between the selvedges",
        ruler.show(*.width), ruler.show(*.least)
    )]
    Cloth {
        /// Usable width.
        width: Length,
        /// Least filler.
        least: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
}

impl Request {
    /// What is usual on a ruler; no picture, no size and no palette yet.
    pub fn usual(ruler: Ruler) -> Self {
        let pick = |inch: Length, metric: Length| match ruler {
            Ruler::Inch => inch,
            Ruler::Metric => metric,
        };
        let strip = pick(Length::INCH, Length::CM * 2i64);
        Self {
            title: String::new(),
            picture: String::new(),
            crop: "centre".into(),
            straighten: true,
            focus: Focus::Auto,
            width: Length::ZERO,
            height: Length::ZERO,
            grid: pick(Length::inches(1, 2), Length::CM),
            seam: Seam::measured(pick(Length::inches(1, 4), Length::MM * 15i64 / 2), ruler),
            ruler,
            squares: vec![Square { cut: pick(Length::INCH * 10i64, Length::CM * 25i64), quartered: false }],
            strips: (1..=3i64).map(|n| strip * n).collect(),
            least: ruler.least_strip(),
            cloth_width: pick(Length::INCH * 42i64, Length::CM * 110i64),
            row_ends: RowEnds::Exact,
            pressing: Pressing::Side,
            cut_squares: false,
            end_cut: None,
            depth: Depth::Bands,
            edge_step: pick(Length::INCH * 3i64, Length::CM * 8i64),
            colours: None,
            held: Vec::new(),
            suit: Effort::None,
            detail: 100,
            triangles: 100,
            trims: 100,
            quiet: 100,
            thrift: 0,
            seed: 1,
            margin: 10,
            rounds: USUAL_ROUNDS,
            steps: None,
            finish: Finish::default(),
        }
    }

    /// Whether both ask for the same scene: what it is called, what is bought over, how long is searched and how the quilt
    /// is finished apart.
    pub fn asks_the_same(&self, other: &Self) -> bool {
        let Self { title, margin, rounds, steps, finish, .. } = other.clone();
        Self { title, margin, rounds, steps, finish, ..self.clone() } == *other
    }

    /// All that finishes the quilt, borders first, or why it cannot be.
    pub fn finishing(&self) -> Result<Finishing, FinishError> {
        let Self { width, height, cloth_width, ruler, .. } = *self;
        self.finish.work(&Top { width, height, seam: self.seam.working, cloth_width, ruler })
    }

    /// The least finished side where none is asked for: half as much again as a strip must be, where that is on the grid
    /// and every whole unit of the squares is as wide; else that of a strip.
    pub fn usual_least(&self) -> Length {
        let strip = self.ruler.least_strip();
        let wide = strip * 3i64 / 2;
        let whole =
            |least| Vocabulary::new(&self.squares, self.seam, self.grid, &[], least).ok().map(|all| all.sides());
        if wide.is_multiple_of(self.grid) && whole(wide) == whole(strip) { wide } else { strip }
    }

    /// Most cells along one side of a top.
    pub const MOST_CELLS: u32 = 600;
    /// Most squares, and most strips.
    pub const MOST_SIZES: usize = 48;

    /// Checks all lengths and gives the vocabulary that they make.
    pub fn check(&self) -> Result<Vocabulary, RequestError> {
        self.positive()?;
        self.few()?;
        let vocabulary = Vocabulary::new(&self.squares, self.seam, self.grid, &self.strips, self.least)?;
        self.on_grid("width", self.width, vocabulary.least_cells())?;
        self.on_grid("height", self.height, vocabulary.least_cells())?;
        if self.filler_limit(self.cloth_width) < self.least {
            return Err(RequestError::Cloth { width: self.cloth_width, least: self.least, ruler: self.ruler });
        }
        if let Some(end) = self.end_cut.filter(|end| *end < Length::ZERO || *end > MOST_END_CUT) {
            return Err(RequestError::EndCut(end, self.ruler));
        }
        if self.margin > MOST_MARGIN {
            return Err(RequestError::Margin(self.margin));
        }
        self.finishing()?;
        Ok(vocabulary)
    }

    /// What the scene is called.
    pub fn name(&self) -> &str {
        if self.title.is_empty() { &self.picture } else { &self.title }
    }

    /// The longest filler that cloth of `across` gives, finished.
    pub fn filler_limit(&self, across: Length) -> Length {
        across - self.seam.both() - self.row_ends.extra(self.ruler)
    }

    /// What comes off the end of a length before the first strip: an inch or 2.5 cm (common practice, no source), or what is asked for.
    pub fn end_cut(&self) -> Length {
        let usual = if self.ruler == Ruler::Inch { Length::INCH } else { Length::mm(25) };
        self.end_cut.unwrap_or(usual)
    }

    /// A length that is cut, with what straightens its end and the margin, rounded up to what a shop cuts.
    pub fn to_shop(&self, cut: Length) -> Length {
        ShopCuts::of(self.ruler).round_up(Length::from_ticks(self.over((cut + self.end_cut()).ticks())))
    }

    /// So many, with the margin, rounded up.
    pub fn over(&self, needed: i64) -> i64 {
        let more = i128::from(needed) * (100 + i128::from(self.margin));
        i64::try_from((more + 99).div_euclid(100)).unwrap_or(i64::MAX / 4)
    }

    /// Width and height of the top in cells.
    pub fn cells(&self) -> (u32, u32) {
        let cells = |length: Length| u32::try_from(length.floor_div(self.grid)).unwrap_or(0);
        (cells(self.width), cells(self.height))
    }

    fn positive(&self) -> Result<(), RequestError> {
        let lengths = [
            ("width", self.width),
            ("height", self.height),
            ("grid", self.grid),
            ("seam", self.seam.measured),
            ("seam worked with", self.seam.working),
            ("cloth width", self.cloth_width),
            ("least piece", self.least),
            ("edge step", self.edge_step),
        ];
        let squares = self.squares.iter().map(|square| ("square", square.cut));
        let strips = self.strips.iter().map(|strip| ("strip", *strip));
        match lengths.into_iter().chain(squares).chain(strips).find(|(_, length)| *length <= Length::ZERO) {
            Some((what, length)) => Err(RequestError::NotPositive { what, length, ruler: self.ruler }),
            None => Ok(()),
        }
    }

    fn few(&self) -> Result<(), RequestError> {
        let lists = [("squares", self.squares.len()), ("strips", self.strips.len())];
        match lists.into_iter().find(|(_, count)| *count > Self::MOST_SIZES) {
            Some((what, count)) => Err(RequestError::Many { what, count, most: Self::MOST_SIZES }),
            None => Ok(()),
        }
    }

    fn on_grid(&self, what: &'static str, length: Length, least: u32) -> Result<(), RequestError> {
        let Self { grid, ruler, .. } = *self;
        let (cells, most) = (length.floor_div(grid), Self::MOST_CELLS);
        if cells < i64::from(least) || cells > i64::from(most) {
            return Err(RequestError::Range { what, length, cells, grid, least, most, ruler });
        }
        if !length.is_multiple_of(grid) {
            return Err(RequestError::OffGrid { what, length, grid, below: grid * cells, ruler });
        }
        Ok(())
    }
}
