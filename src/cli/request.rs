//! From the maker's words to a checked request.

use clap::{Args, ValueEnum};
use rowscape::measure::{Length, LengthError, Ruler, Seam};
use rowscape::plan::{Depth, Effort, Request, RowEnds};
use rowscape::unit::{Square, SquareError};

use super::Failure;

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
    let named = stops.iter().find(|(name, _)| *name == text.trim()).map(|(_, value)| *value);
    let number = || text.trim().parse().ok().filter(|n| (10..=2_000).contains(n));
    named.or_else(number).ok_or_else(|| {
        let names: Vec<&str> = stops.iter().map(|(name, _)| *name).collect();
        format!("take {} or a number from 10 to 2000", names.join(", "))
    })
}

impl SizeArguments {
    /// The ruler of the first size that was given.
    pub fn ruler(&self) -> Option<Ruler> {
        let squares = self.square.first().map(|square| square.ruler);
        squares.or(self.grid.as_ref().map(|grid| grid.ruler)).or(self.seam.as_ref().map(|seam| seam.ruler))
    }

    /// What is usual on a ruler, with the sizes that are given.
    pub fn afresh(&self, ruler: Ruler) -> Result<Request, Failure> {
        let request = self.over(&Request::usual(ruler))?;
        Ok(Request { least: value(&self.least, request.usual_least()), ..request })
    }

    /// A request with the sizes that are given in the place of its own.
    pub fn over(&self, request: &Request) -> Result<Request, Failure> {
        let mut request = request.clone();
        let ruler = request.ruler;
        if !self.square.is_empty() {
            request.squares = self.square.iter().map(|square| square.value).collect();
        }
        if let Some(Measured { value, .. }) = self.seam {
            if value <= Length::ZERO {
                return Err(Failure::new(format!("the seam is {}", ruler.show(value)))
                    .hint("sew two strips together and measure it: `1/4in` and `0.75cm` are usual"));
            }
            request.seam = Seam::measured(value, ruler);
        }
        request.grid = value(&self.grid, request.grid);
        if request.grid <= Length::ZERO {
            return Err(Failure::new(format!("the grid is {}", ruler.show(request.grid))).hint("take `1/2in` or `1cm`"));
        }
        if let Some(strips) = &self.strips {
            request.strips.clone_from(&strips.0);
        }
        request.least = value(&self.least, request.least);
        Ok(request)
    }
}

/// What is given, or else what is held.
pub fn value(given: &Option<Measured<Length>>, held: Length) -> Length {
    given.map_or(held, |given| given.value)
}

/// A square's error in the words of a length's.
impl From<SquareError> for Failure {
    fn from(error: SquareError) -> Self {
        Self::new(error)
    }
}
