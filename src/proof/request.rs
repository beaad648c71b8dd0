//! What the maker asked for, as this check reads it in the plan.

use serde::Deserialize;

use super::fault::Fault;
use super::finish::FinishFile;
use crate::measure::Length;

/// What the maker asked for.
#[derive(Debug, Deserialize)]
pub struct RequestFile {
    /// What the maker calls the scene.
    #[serde(default)]
    title: String,
    /// File name of the picture.
    pub picture: String,
    /// Finished width of the top.
    pub width: Length,
    /// Finished height of the top.
    pub height: Length,
    /// The grid of finished sizes.
    pub grid: Length,
    /// The seam.
    pub seam: SeamFile,
    /// The ruler that sizes are shown in.
    pub ruler: RulerFile,
    /// Squares that are paired.
    pub squares: Vec<SquareFile>,
    /// Strips that may come off.
    pub strips: Vec<Length>,
    /// Least finished side of any piece.
    pub least: Length,
    /// Usable width of yardage.
    pub cloth_width: Length,
    /// How row ends are cut.
    pub row_ends: RowEndsFile,
    /// How seams are pressed.
    #[serde(default)]
    pub pressing: PressingFile,
    /// Whether squares are cut from lengths where fabrics are bought.
    #[serde(default)]
    pub cut_squares: bool,
    /// What is bought over what is cut, in per cent.
    #[serde(default)]
    pub margin: u32,
    /// What comes off the end of a length; none for what is usual.
    end_cut: Option<Length>,
    edge_step: Length,
    /// How the quilt is finished.
    #[serde(default)]
    pub finish: FinishFile,
}

/// The seam as it is sewn and as it is worked with.
#[derive(Debug, Deserialize)]
pub struct SeamFile {
    /// The seam as the machine sews it.
    pub measured: Length,
    /// The seam that all sizes have.
    pub working: Length,
}

/// A ruler.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum RulerFile {
    /// Inches.
    Inch,
    /// Centimetres.
    Metric,
}

/// How row ends are cut.
#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum RowEndsFile {
    /// To size.
    Exact,
    /// Over.
    Spare,
}

/// How seams are pressed.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum PressingFile {
    /// To one side.
    #[default]
    Side,
    /// Open.
    Open,
}

/// A square that is paired.
#[derive(Debug, Deserialize)]
pub struct SquareFile {
    /// Its side.
    pub cut: Length,
    /// Whether it is cut from one twice as wide.
    pub quartered: bool,
}

impl RequestFile {
    /// The scene's title: the maker's, or the name of its picture's file in words.
    pub fn title(&self) -> String {
        if !self.title.is_empty() {
            return self.title.clone();
        }
        let picture = self.picture.rsplit(['/', '\\']).next().unwrap_or_default();
        let stem = picture.rsplit_once('.').map_or(picture, |(stem, _)| stem).replace(['-', '_'], " ");
        let mut letters = stem.trim().chars();
        match letters.next() {
            Some(first) => first.to_uppercase().chain(letters).collect(),
            None => "Scene".into(),
        }
    }

    /// What comes off the end of a length before its first strip: an inch or 2.5 cm where nothing was asked for.
    pub fn end_cut(&self) -> Length {
        let usual =
            if self.ruler == RulerFile::Inch { Length::INCH } else { Length::from_ticks(Length::CM.ticks() * 5 / 2) };
        self.end_cut.unwrap_or(usual)
    }

    /// Whether its lengths are something, and its seam the nearest mark to the one that was measured.
    pub fn check(&self) -> Result<(), Fault> {
        let squares = self.squares.iter().map(|square| ("square", square.cut));
        let strips = self.strips.iter().map(|strip| ("strip", *strip));
        let lengths = [
            ("width", self.width),
            ("height", self.height),
            ("grid", self.grid),
            ("seam", self.seam.measured),
            ("working seam", self.seam.working),
            ("least piece", self.least),
            ("step of edges", self.edge_step),
            ("cloth width", self.cloth_width),
        ];
        if let Some((name, _)) =
            lengths.into_iter().chain(squares).chain(strips).find(|(_, length)| *length <= Length::ZERO)
        {
            return Err(Fault::new("plan.json", format!("the {name} asked for is not more than nothing")));
        }
        if self.end_cut() < Length::ZERO {
            return Err(Fault::new("plan.json", "what comes off the end of a length is less than nothing"));
        }
        self.finish.check()?;
        let (measured, working) = (self.seam.measured, self.seam.working);
        let mark = match self.ruler {
            RulerFile::Inch => Length::inches(1, 32),
            RulerFile::Metric => Length::from_ticks(Length::MM.ticks() / 2),
        };
        let near = (measured - working).abs() + (measured - working).abs() <= mark;
        if !working.is_multiple_of(mark) || !(near || (working == mark && measured < mark)) {
            let what = format!("a seam of {measured} was measured, and {working} is not the nearest mark to it");
            return Err(Fault::new("plan.json", what));
        }
        Ok(())
    }
}
