//! Why a stash file cannot be used, and where.

use std::ops::Range;

use super::Stash;
use crate::fabric::{Rgb, ThumbnailError};

/// What is wrong in a stash file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum StashProblem {
    /// Not TOML, or not of the right shape.
    #[error("{0}")]
    Unreadable(String),
    /// Something is left out.
    #[error("the {0} is missing")]
    Missing(String),
    /// The file is too large.
    #[error("the stash file has {0} bytes: {most} is the limit", most = Stash::MOST_BYTES)]
    TooLarge(usize),
    /// There is nothing to sew with.
    #[error("the stash has no fabric")]
    NoFabric,
    /// Too many fabrics.
    #[error("the stash has {0} fabrics: {most} is the limit", most = Stash::MOST_FABRICS)]
    TooManyFabrics(usize),
    /// Too many entries in one list.
    #[error("there are {0} of `{1}`: {most} is the limit of one list", most = Stash::MOST_ENTRIES)]
    TooManyEntries(usize, &'static str),
    /// A letter cannot be used.
    #[error("`{0}` is not a letter for a fabric")]
    Letter(String),
    /// Two fabrics have one letter.
    #[error("the letter `{0}` stands for two fabrics")]
    SameLetter(String),
    /// A name cannot be used.
    #[error("`{0}` is not a name for a fabric or a family")]
    Name(String),
    /// Two fabrics have one name.
    #[error("the name `{0}` stands for two fabrics")]
    SameName(String),
    /// Two fabrics are to be what is painted in one colour.
    #[error("what is painted {0} would be made of two fabrics")]
    SameSketch(Rgb),
    /// A length is nothing or less.
    #[error("the {0} is {1}: it must be more than nothing")]
    NotPositive(&'static str, String),
    /// A length is beyond all use.
    #[error("the {0} is {1}: 50 m is the limit")]
    TooLong(&'static str, String),
    /// A count is out of range.
    #[error("the count of {0} is out of range")]
    Count(i64),
    /// Lines that say the same come to too many.
    #[error("with the lines before it that say the same, these are {0} pieces, more than can be counted")]
    InAll(u32),
    /// A letter that no fabric has.
    #[error("no fabric of the stash has the letter `{0}`")]
    UnknownLetter(String),
    /// A pack of nothing.
    #[error("the pack names no print")]
    EmptyPack,
    /// A print is named twice in one pack.
    #[error("the pack names the print `{0}` twice")]
    TwiceInPack(String),
    /// A unit of more or fewer than two fabrics.
    #[error("the unit names {0} fabrics: a triangle unit joins two")]
    TwoFabrics(usize),
    /// A unit or slice of one fabric only.
    #[error("both halves are of `{0}`: a triangle unit joins two fabrics")]
    OneFabric(String),
    /// A line of a palette says no colour.
    #[error("line {0} of the palette says no colour")]
    PaletteLine(usize),
    /// The small picture of a print cannot be used.
    #[error("the small picture of the print {0}")]
    Thumbnail(ThumbnailError),
    /// A slice as wide as the unit that it came from.
    #[error("a slice {width} wide cannot come off a unit that finishes {from}")]
    WideSlice {
        /// Finished width of the slice.
        width: String,
        /// Finished side of the unit.
        from: String,
    },
}

/// Why a stash file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{problem}")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct StashError {
    /// What is wrong.
    pub problem: StashProblem,
    /// The bytes of the file that say so, where one place does.
    pub span: Option<Range<usize>>,
}

impl StashError {
    pub(super) fn at(problem: StashProblem, span: Range<usize>) -> Self {
        Self { problem, span: Some(span) }
    }

    pub(super) fn of_file(problem: StashProblem) -> Self {
        Self { problem, span: None }
    }

    /// What is wrong, in one line.
    pub fn message(&self) -> String {
        self.problem.to_string()
    }

    /// What to do about it.
    pub fn help(&self) -> &'static str {
        match &self.problem {
            StashProblem::Unreadable(_) => {
                "a stash is a TOML file: `[[fabric]]`, then lines as `name = \"evening sky\"`, `colour = \"#8fb0c9\"`"
            }
            StashProblem::Missing(key) => missing(key),
            StashProblem::TooLarge(_) => {
                "take a smaller file: a stash of 400 fabrics needs about a hundred thousand bytes, and some thousand more for each small picture"
            }
            StashProblem::NoFabric => "add one: `[[fabric]]`, then `name = \"night sky\"`, `colour = \"#3a3a66\"`",
            StashProblem::TooManyFabrics(_) => "leave out the fabrics that this scene does not want",
            StashProblem::TooManyEntries(..) => "put entries of one size together with their count",
            StashProblem::Letter(_) => "take one to three letters or digits, as `A` or `B2`",
            StashProblem::SameLetter(_) => "give one of them another letter; `a` and `A` count as one",
            StashProblem::Name(_) => "take 1 to 60 characters on one line",
            StashProblem::SameName(_) => "give one of them another name; prints that read as one share a `family`",
            StashProblem::SameSketch(_) => "paint the two in two colours, or keep one `sketch` line",
            StashProblem::NotPositive(..) => "measure it again, or leave the line out",
            StashProblem::TooLong(..) => "check the unit: in, yd, cm or m",
            StashProblem::Count(_) => "give a whole number from 0 to 100000, or no count where there is enough",
            StashProblem::InAll(_) => "give the same pieces at most 100000 in all",
            StashProblem::UnknownLetter(_) => "use the letter or the name of a `[[fabric]]`, as it is written there",
            StashProblem::EmptyPack => "name the prints in it: `prints = [\"A\", \"B\"]`",
            StashProblem::TwiceInPack(_) => "name each print once; squares are shared out evenly",
            StashProblem::TwoFabrics(_) => "name two: `fabrics = [\"A\", \"B\"]`",
            StashProblem::OneFabric(_) => "name two fabrics; a plain piece is a `[[filler]]`",
            StashProblem::PaletteLine(_) => {
                "write red, green and blue from 0 to 255 and a name, or one colour as `#8fb0c9` a line"
            }
            StashProblem::Thumbnail(_) => {
                "take the line out: `rowscape stash photo` writes it, and nothing else needs it"
            }
            StashProblem::WideSlice { .. } => "give the finished width of the strip and the finished size of the unit",
        }
    }
}

/// A line that says what is left out.
fn missing(key: &str) -> &'static str {
    match key {
        "name" => "add a line: `name = \"evening sky\"`",
        "colour" => "add a line: `colour = \"#8fb0c9\"`, or `colour = \"cornflower blue\"`",
        "size" => "say how large: `size = \"10in\"`",
        "count" => "say how many: `count = 4`",
        "width" => "say how wide: `width = \"7in\"`",
        "height" => "say how high: `height = \"12in\"`",
        "length" => "say how long: `length = \"1 1/2 yd\"`",
        "prints" => "name the prints in the pack: `prints = [\"A\", \"B\"]`",
        "finished" => "say what size it finishes at: `finished = \"6in\"`",
        "fabrics" => "name its two fabrics: `fabrics = [\"A\", \"B\"]`",
        "from" => "say what size the whole unit finished at: `from = \"9in\"`",
        "tip" => "name the fabric of the small triangle in the corner: `tip = \"A\"`",
        "rest" => "name the fabric of the rest: `rest = \"B\"`",
        "leans" => "stand it up with its tip on top, and say in which corner that is: `leans = \"left\"`",
        "fabric" => "name its fabric: `fabric = \"A\"`",
        _ => "add a line for it",
    }
}
