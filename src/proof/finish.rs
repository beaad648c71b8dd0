//! What was asked for beyond the top, as this check reads it in the plan, and what that takes.

use serde::Deserialize;

use super::fault::Fault;
use crate::measure::{Length, Ruler};

/// What finishes the quilt.
#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct FinishFile {
    pub borders: Vec<BorderFile>,
    pub come_to: Option<ComeToFile>,
    pub backing: Option<BackingFile>,
    pub batting: bool,
    overhang: Option<Length>,
    pub quilting: Option<QuiltingFile>,
    pub binding: Option<BindingFile>,
    pub facing: Option<FacingFile>,
    pub sleeve: bool,
    pub label: Option<LabelFile>,
}

/// A border.
#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct BorderFile {
    width: Option<Length>,
    pub fabric: Option<String>,
    pub corners: CornersFile,
    pub cornerstones: Option<String>,
    pub first: FirstFile,
    pub strips: StripsFile,
    pub joins: JoinsFile,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum CornersFile {
    #[default]
    Square,
    Cornerstones,
    Mitred,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum FirstFile {
    #[default]
    Sides,
    Ends,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum StripsFile {
    #[default]
    Across,
    Along,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum JoinsFile {
    #[default]
    Straight,
    Bias,
}

#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum ComeToFile {
    Bed(BedFile),
    Size([Length; 2]),
}

/// A mattress and what is to hang from it.
#[derive(Debug, Deserialize, PartialEq)]
pub struct BedFile {
    pub width: Length,
    pub length: Length,
    pub depth: Option<Length>,
    pub drop: Length,
    #[serde(default)]
    pub tuck: Length,
}

#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct BackingFile {
    pub fabric: Option<String>,
    pub width: Option<Length>,
    pub halves: bool,
}

#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct QuiltingFile {
    pub motif: MotifFile,
    pub scale: Option<Length>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum MotifFile {
    #[default]
    Ditch,
    Rows,
    HalfCircles,
}

#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct BindingFile {
    width: Option<Length>,
    pub fold: FoldFile,
    pub bias: bool,
    pub fabric: Option<String>,
    allowance: Option<Length>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum FoldFile {
    #[default]
    Double,
    Single,
}

#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct FacingFile {
    pub strip: Option<Length>,
    pub fold: FoldFile,
    pub fabric: Option<String>,
}

#[derive(Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct LabelFile {
    pub maker: String,
    pub date: String,
    pub place: String,
    pub care: String,
}

/// Most of any length that is asked for: no quilt is larger than ten metres.
const MOST: Length = Length::from_ticks(10 * Length::METRE.ticks());

/// Lengths as an inch ruler and a metric one have them, in sixteenths of an inch and in half millimetres.
pub fn usual(ruler: Ruler, sixteenths: i64, half_mm: i64) -> Length {
    match ruler {
        Ruler::Inch => Length::inches(sixteenths, 16),
        Ruler::Metric => Length::from_ticks(Length::MM.ticks() / 2 * half_mm),
    }
}

impl FinishFile {
    /// Whether anything is asked for.
    pub fn is_asked(&self) -> bool {
        *self != Self::default()
    }

    pub fn overhang(&self, ruler: Ruler) -> Length {
        self.overhang.unwrap_or(usual(ruler, 64, 200))
    }

    /// What shows of the binding; nothing where there is none.
    pub fn binds(&self, ruler: Ruler) -> Length {
        self.binding.as_ref().map_or(Length::ZERO, |binding| binding.width.unwrap_or(usual(ruler, 6, 20)))
    }

    /// Whether no length is out of all proportion.
    pub fn check(&self) -> Result<(), Fault> {
        let mut more: Vec<Option<Length>> = self.borders.iter().map(|border| border.width).collect();
        more.extend(self.quilting.iter().map(|quilting| quilting.scale));
        more.extend(self.backing.iter().map(|backing| backing.width));
        more.extend(self.binding.iter().flat_map(|binding| [binding.width, binding.allowance]));
        more.extend(self.facing.iter().map(|facing| facing.strip));
        let mut or_nothing = vec![self.overhang];
        match &self.come_to {
            Some(ComeToFile::Bed(bed)) => {
                more.extend([Some(bed.width), Some(bed.length), bed.depth]);
                or_nothing.extend([Some(bed.drop), Some(bed.tuck)]);
            }
            Some(ComeToFile::Size(size)) => more.extend(size.map(Some)),
            None => {}
        }
        let wrong = |length: &&Length, least: i64| length.ticks() < least || **length > MOST;
        let more = more.iter().flatten().find(|length| wrong(length, 1));
        match more.or(or_nothing.iter().flatten().find(|length| wrong(length, 0))) {
            Some(length) => Err(Fault::new("plan.json", format!("a quilt cannot be finished with {length}"))),
            None => Ok(()),
        }
    }

    /// Finished widths of each border at the sides and at the ends, round a top of this size.
    pub fn widths(&self, size: [Length; 2], ruler: Ruler) -> Vec<[Length; 2]> {
        let binds = self.binds(ruler);
        let mut left = match &self.come_to {
            Some(ComeToFile::Bed(bed)) => [bed.width + bed.drop + bed.drop, bed.length + bed.drop + bed.tuck],
            Some(ComeToFile::Size(size)) => *size,
            None => size,
        };
        for (left, side) in left.iter_mut().zip(size) {
            *left = *left - side - binds - binds;
            for width in self.borders.iter().filter_map(|border| border.width) {
                *left = *left - width - width;
            }
        }
        let mark = usual(ruler, 1, 2);
        let half = |left: Length| mark * (left.ticks().div_euclid(mark.ticks() * 2));
        let free = left.map(half);
        self.borders.iter().map(|border| border.width.map_or(free, |width| [width, width])).collect()
    }
}

impl BindingFile {
    /// Width of its strip: over the edge and back, once or twice, and a little for what it goes round.
    pub fn strip(&self, shows: Length, seam: Length, ruler: Ruler) -> Length {
        let layers = match self.fold {
            FoldFile::Double => shows + shows + shows + shows + seam + seam,
            FoldFile::Single => shows + shows + seam + seam,
        };
        layers + usual(ruler, 4, 10)
    }

    pub fn allowance(&self, ruler: Ruler) -> Length {
        self.allowance.unwrap_or(usual(ruler, 160, 500))
    }
}

/// How many strips, joined one by one, are as long as is needed; none where they never are.
pub fn joined(needed: Length, each: Length, join: Length) -> Option<(i64, Length)> {
    let (mut count, mut made) = (1, each);
    while made < needed {
        if each <= join || count > 10_000 {
            return None;
        }
        (count, made) = (count + 1, made - join + each);
    }
    Some((count, made))
}

/// The strip that a square gives along the bias, in whole ticks: of the lines across half its diagonal, each as long as all
/// of that, less what the seam of the tube takes where one goes on in the next.
pub fn bias(side: Length, strip: Length, seam: Length) -> Length {
    let square = |length: i64| i128::from(length) * i128::from(length);
    let half = side.ticks() - 2 * seam.ticks();
    let fits = |lines: i64| half > 0 && 2 * square(lines * strip.ticks()) <= square(half);
    let lines = (1..10_000).take_while(|lines| fits(*lines)).count() as i64;
    // The greatest whole number whose square is at most twice that of a side.
    let diagonal = |side: i64| {
        let (mut low, mut high) = (0, 2 * side + 1);
        while high - low > 1 {
            let middle = (low + high) / 2;
            if square(middle) <= 2 * square(side) { low = middle } else { high = middle }
        }
        low
    };
    let made = lines * diagonal(side.ticks()) - (lines - 1) * (diagonal(2 * seam.ticks()) + 1);
    Length::from_ticks(if lines == 0 { 0 } else { made })
}
