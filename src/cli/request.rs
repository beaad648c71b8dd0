//! From the maker's words to a checked request.

use clap::{Args, ValueEnum};
use rowscape::measure::{Length, LengthError, Ruler, Seam};
use rowscape::plan::{Depth, Request, RowEnds};
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
    /// Least finished side of a filler, a trimmed unit or a slice [default: 1in, or 2cm]
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

    pub fn squares(&self, ruler: Ruler) -> Vec<Square> {
        let side = pick(ruler, Length::INCH * 10i64, Length::CM * 25i64);
        let given: Vec<Square> = self.square.iter().map(|square| square.value).collect();
        if given.is_empty() { vec![Square { cut: side, quartered: false }] } else { given }
    }

    pub fn seam(&self, ruler: Ruler) -> Result<Seam, Failure> {
        let measured = value(&self.seam, pick(ruler, Length::inches(1, 4), Length::MM * 15i64 / 2));
        if measured <= Length::ZERO {
            return Err(Failure::new(format!("the seam is {}", ruler.show(measured)))
                .hint("sew two strips together and measure it: `1/4in` and `0.75cm` are usual"));
        }
        Ok(Seam::measured(measured, ruler))
    }

    pub fn grid(&self, ruler: Ruler) -> Result<Length, Failure> {
        let grid = value(&self.grid, pick(ruler, Length::inches(1, 2), Length::CM));
        if grid <= Length::ZERO {
            return Err(Failure::new(format!("the grid is {}", ruler.show(grid))).hint("take `1/2in` or `1cm`"));
        }
        Ok(grid)
    }

    pub fn strips(&self, ruler: Ruler) -> Vec<Length> {
        let step = pick(ruler, Length::INCH, Length::CM * 2i64);
        let usual = || (1..=3i64).map(|n| step * n).collect();
        self.strips.as_ref().map_or_else(usual, |strips| strips.0.clone())
    }

    pub fn least(&self, usual: Length) -> Length {
        value(&self.least, usual)
    }

    /// An old request with the sizes that are given now.
    pub fn over(&self, old: &Request) -> Result<Request, Failure> {
        let mut request = old.clone();
        let ruler = self.ruler().unwrap_or(old.ruler);
        if !self.square.is_empty() {
            request.squares = self.squares(ruler);
        }
        if self.seam.is_some() {
            request.seam = self.seam(ruler)?;
        }
        if self.grid.is_some() {
            request.grid = self.grid(ruler)?;
        }
        if self.strips.is_some() {
            request.strips = self.strips(ruler);
        }
        request.least = self.least(old.least);
        Ok(request)
    }
}

fn value(given: &Option<Measured<Length>>, usual: Length) -> Length {
    given.as_ref().map_or(usual, |given| given.value)
}

/// The figure for the ruler.
pub fn pick(ruler: Ruler, inch: Length, metric: Length) -> Length {
    match ruler {
        Ruler::Inch => inch,
        Ruler::Metric => metric,
    }
}

/// What is asked for apart from the units' sizes.
pub struct Asked<'a> {
    pub picture: String,
    pub crop: String,
    pub width: Length,
    pub height: Length,
    pub cloth_width: Option<Length>,
    pub row_ends: RowEndsChoice,
    pub depth: DepthChoice,
    pub edge_step: Option<Length>,
    pub colours: Option<u32>,
    pub detail: u32,
    pub triangles: u32,
    pub seed: u64,
    pub sizes: &'a SizeArguments,
}

/// The request in full; `Request::check` tells whether it holds.
pub fn request(asked: Asked, ruler: Ruler) -> Result<Request, Failure> {
    let grid = asked.sizes.grid(ruler)?;
    let edge_step = asked.edge_step.unwrap_or_else(|| pick(ruler, Length::INCH * 3i64, Length::CM * 8i64));
    Ok(Request {
        picture: asked.picture,
        crop: asked.crop,
        width: asked.width,
        height: asked.height,
        grid,
        seam: asked.sizes.seam(ruler)?,
        ruler,
        squares: asked.sizes.squares(ruler),
        strips: asked.sizes.strips(ruler),
        least: asked.sizes.least(ruler.least_strip()),
        cloth_width: asked.cloth_width.unwrap_or_else(|| pick(ruler, Length::INCH * 42i64, Length::CM * 110i64)),
        row_ends: asked.row_ends.into(),
        depth: asked.depth.into(),
        edge_step: edge_step.round_to(grid).max(grid),
        colours: asked.colours,
        detail: asked.detail,
        triangles: asked.triangles,
        seed: asked.seed,
    })
}

/// A square's error in the words of a length's.
impl From<SquareError> for Failure {
    fn from(error: SquareError) -> Self {
        Self::new(error)
    }
}
