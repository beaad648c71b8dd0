//! From the maker's words to what a brief says.

use std::path::Path;

use clap::{Args, ValueEnum};
use rowscape::job::{DIAL, Sizes};
use rowscape::measure::{Length, LengthError, Ruler};
use rowscape::plan::{Depth, Effort, Focus, Pressing, RowEnds};
use rowscape::unit::Square;

/// The sizes that scenes and units are worked out with.
#[derive(Args)]
pub struct SizeArguments {
    /// Precut square that triangle units are made from; `10in/4` for squares quartered first; may be given twice
    /// [default: 10in, or 25cm]
    #[arg(long, value_name = "SIDE", value_parser = measured::<Square>)]
    pub square: Vec<Measured<Square>>,
    /// Seam allowance as your machine sews it [default: 1/4in, or 0.75cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub seam: Option<Measured<Length>>,
    /// Grid that all finished sizes are on [default: 1/2in, or 1cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub grid: Option<Measured<Length>>,
    /// Strips that may be cut off big units; small units go without the widest, mini units without the two widest; `none`
    /// for whole units only
    /// [default: 1in,2in,3in, or 2cm,4cm,6cm]
    #[arg(long, value_name = "LENGTHS", value_parser = strips)]
    pub strips: Option<Strips>,
    /// Least finished side of a filler, a trimmed unit or a slice [default: 1 1/2in, or 3cm, where
    /// every whole unit is as wide; else 1in, or 2cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    pub least: Option<Measured<Length>>,
}

/// A value with the ruler that it was written for.
#[derive(Clone, Copy)]
pub struct Measured<T> {
    pub value: T,
    pub ruler: Ruler,
}

/// A list of strips, narrowest first.
#[derive(Clone)]
pub struct Strips(pub Vec<Length>);

/// Where the edges of rows are cut.
#[derive(Clone, Copy, ValueEnum)]
pub enum RowEndsChoice {
    /// Every filler is cut to size
    Exact,
    /// Fillers at row ends are cut an inch (2.5 cm) over, and each row is trimmed once it is sewn
    Spare,
}

/// How seams are pressed.
#[derive(Clone, Copy, ValueEnum)]
pub enum PressingChoice {
    /// To one side, so that seams that meet nest
    Side,
    /// Open
    Open,
}

/// Where the squares of bought fabrics come from.
#[derive(Clone, Copy, ValueEnum)]
pub enum SquaresFrom {
    /// Bought cut
    Bought,
    /// Cut from lengths
    Lengths,
}

impl SquaresFrom {
    pub fn is_cut(self) -> bool {
        matches!(self, Self::Lengths)
    }
}

/// How deep a scene is divided.
#[derive(Clone, Copy, ValueEnum)]
pub enum DepthChoice {
    /// Rows across the whole top
    Rows,
    /// Bands that may be split into columns with rows of their own
    Bands,
}

/// How much is done to suit proposed colours.
#[derive(Clone, Copy, ValueEnum)]
pub enum EffortChoice {
    /// They stay as proposed
    None,
    /// Fitted to one scene
    Quick,
    /// Fitted to scene after scene, the best kept
    Full,
}

/// What becomes of long edges that are nearly level or upright.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum StraightenChoice {
    /// They are made so
    Auto,
    /// They stay as they are
    None,
}

/// What is to be truer and finer, and the picture that says so where it is one.
pub fn focus(asked: &str) -> (Focus, Option<&Path>) {
    match asked {
        "auto" => (Focus::Auto, None),
        "none" => (Focus::None, None),
        mask => (Focus::Mask, Some(Path::new(mask))),
    }
}

impl From<EffortChoice> for Effort {
    fn from(choice: EffortChoice) -> Self {
        match choice {
            EffortChoice::None => Self::None,
            EffortChoice::Quick => Self::Quick,
            EffortChoice::Full => Self::Full,
        }
    }
}

impl From<RowEndsChoice> for RowEnds {
    fn from(choice: RowEndsChoice) -> Self {
        match choice {
            RowEndsChoice::Exact => Self::Exact,
            RowEndsChoice::Spare => Self::Spare,
        }
    }
}

impl From<PressingChoice> for Pressing {
    fn from(choice: PressingChoice) -> Self {
        match choice {
            PressingChoice::Side => Self::Side,
            PressingChoice::Open => Self::Open,
        }
    }
}

impl From<DepthChoice> for Depth {
    fn from(choice: DepthChoice) -> Self {
        match choice {
            DepthChoice::Rows => Self::Rows,
            DepthChoice::Bands => Self::Bands,
        }
    }
}

pub fn measured<T: std::str::FromStr>(text: &str) -> Result<Measured<T>, T::Err> {
    let ruler = Ruler::of_text(text.trim().trim_end_matches("/4").trim_end());
    Ok(Measured { value: text.parse()?, ruler })
}

fn strips(text: &str) -> Result<Strips, LengthError> {
    if text.trim() == "none" {
        return Ok(Strips(Vec::new()));
    }
    let mut lengths = text.split(',').map(str::parse).collect::<Result<Vec<Length>, _>>()?;
    lengths.sort_unstable();
    lengths.dedup();
    Ok(Strips(lengths))
}

/// A number, or one of a few named stops.
pub fn dial(text: &str, stops: &[(&str, u32)]) -> Result<u32, String> {
    named_or_within(text, stops, DIAL)
}

/// A named stop, or a number within bounds.
pub fn named_or_within(text: &str, stops: &[(&str, u32)], [least, most]: [u32; 2]) -> Result<u32, String> {
    let named = stops.iter().find(|(name, _)| *name == text.trim()).map(|(_, value)| *value);
    let number = || text.trim().parse().ok().filter(|n| (least..=most).contains(n));
    named.or_else(number).ok_or_else(|| {
        let names: Vec<&str> = stops.iter().map(|(name, _)| *name).collect();
        format!("take {} or a number from {least} to {most}", names.join(", "))
    })
}

impl SizeArguments {
    /// The ruler of the first size that was given.
    pub fn ruler(&self) -> Option<Ruler> {
        let squares = self.square.first().map(|square| square.ruler);
        squares.or(self.grid.as_ref().map(|grid| grid.ruler)).or(self.seam.as_ref().map(|seam| seam.ruler))
    }

    /// The sizes that are given.
    pub fn given(&self) -> Sizes {
        Sizes {
            squares: (!self.square.is_empty()).then(|| self.square.iter().map(|square| square.value).collect()),
            seam: value(&self.seam),
            grid: value(&self.grid),
            strips: self.strips.as_ref().map(|strips| strips.0.clone()),
            least: value(&self.least),
        }
    }
}

/// What is given, without its ruler.
pub fn value(given: &Option<Measured<Length>>) -> Option<Length> {
    given.map(|given| given.value)
}
