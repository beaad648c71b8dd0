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
#[derive(Clone, Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct BorderFile {
    pub width: Option<Length>,
    pub fabric: Option<String>,
    pub corners: CornersFile,
    pub cornerstones: Option<String>,
    pub first: FirstFile,
    pub strips: StripsFile,
    pub joins: JoinsFile,
    pub pieced: Option<PiecedFile>,
}

#[derive(Clone, Debug, Default, Deserialize, PartialEq)]
#[serde(default)]
pub struct PiecedFile {
    pub units: UnitsFile,
    along: Option<Length>,
    pub fabrics: Vec<String>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum UnitsFile {
    #[default]
    Squares,
    Rectangles,
    Triangles,
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
    pub pieced: bool,
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

    /// What quilting follows, and how far apart it lies.
    pub fn quilting(&self, ruler: Ruler) -> (MotifFile, Length) {
        let motif = self.quilting.as_ref().map_or(MotifFile::Ditch, |quilting| quilting.motif);
        let usual = if motif == MotifFile::HalfCircles { usual(ruler, 48, 150) } else { usual(ruler, 32, 100) };
        (motif, self.quilting.as_ref().and_then(|quilting| quilting.scale).unwrap_or(usual))
    }

    /// Whether there are layers to be quilted.
    pub fn is_layered(&self) -> bool {
        self.backing.is_some() || self.batting
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
        more.extend(self.borders.iter().filter_map(|border| border.pieced.as_ref()).map(|pieced| pieced.along));
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

    /// What the whole quilt is to come to.
    fn wanted(&self) -> Option<[Length; 2]> {
        match &self.come_to {
            Some(ComeToFile::Bed(bed)) => Some([bed.width + bed.drop + bed.drop, bed.length + bed.drop + bed.tuck]),
            Some(ComeToFile::Size(size)) => Some(*size),
            None => None,
        }
    }

    /// Every border round a top of this size, from the top outward, with what makes pieced ones come out even.
    pub fn rounds(&self, mut size: [Length; 2], ruler: Ruler) -> Result<Vec<Round>, Fault> {
        let none = |what: &str| Fault::new("plan.json", format!("its borders cannot be: {what}"));
        if self.borders.len() > 3 {
            return Err(none("there are more than three"));
        }
        let mut rounds = Vec::new();
        let mut spacer: Option<&BorderFile> = None;
        let last_pieced = self.borders.iter().rposition(|border| border.pieced.is_some());
        let worked_out = |at: usize, border: &BorderFile| {
            let even = self.borders.get(at + 1).is_some_and(|next| next.pieced.is_some());
            border.width.is_none() && border.pieced.is_none() && !even
        };
        let any_worked_out = self.borders.iter().enumerate().any(|(at, border)| worked_out(at, border));
        for (at, border) in self.borders.iter().enumerate() {
            // What the borders beyond it and the binding take at each edge.
            let beyond: Length = self.borders[at + 1..].iter().filter_map(|border| border.width).sum();
            let beyond = beyond + self.binds(ruler);
            let room = self.wanted().map(|wanted| wanted.map(|side| side - beyond - beyond));
            let inner = size;
            let mut add = |border: &BorderFile, widths: [Length; 2], units: Option<Units>, evens: bool| {
                size = [size[0] + widths[0] + widths[0], size[1] + widths[1] + widths[1]];
                rounds.push(Round { border: border.clone(), widths, units, evens });
            };
            match (&border.pieced, border.width) {
                (Some(pieced), width) => {
                    let room = if any_worked_out || Some(at) != last_pieced { None } else { room };
                    let even = even(pieced, width, inner, spacer.is_some(), room, ruler);
                    let (units, gaps) = even.ok_or_else(|| none("no units come out even"))?;
                    if gaps != [Length::ZERO; 2] {
                        add(spacer.unwrap_or(&BorderFile::default()), gaps, None, true);
                    }
                    spacer = None;
                    add(border, [units.wide, units.wide], Some(units), false);
                }
                (None, Some(width)) => add(border, [width, width], None, false),
                (None, None) if worked_out(at, border) => {
                    let room = room.ok_or_else(|| none("one has no width"))?;
                    let mark = usual(ruler, 1, 2);
                    let half = |axis: usize| mark * (room[axis] - inner[axis]).ticks().div_euclid(mark.ticks() * 2);
                    add(border, [half(0), half(1)], None, false);
                }
                (None, None) => spacer = Some(border),
            }
        }
        Ok(rounds)
    }
}

/// A border as it is sewn on.
pub struct Round {
    pub border: BorderFile,
    /// Finished widths at the sides and at the ends.
    pub widths: [Length; 2],
    /// What it is pieced of.
    pub units: Option<Units>,
    /// Whether it makes the one round it come out even.
    pub evens: bool,
}

/// Units of a pieced border: how wide it is, how long each is along it, and how many at a side and at an end.
#[derive(Clone, Copy)]
pub struct Units {
    pub wide: Length,
    pub along: Length,
    pub sides: i64,
    pub ends: i64,
}

/// The units that come out even, and what is left for a plain border inside them at the sides and at the ends.
fn even(
    pieced: &PiecedFile,
    width: Option<Length>,
    inner: [Length; 2],
    spaced: bool,
    room: Option<[Length; 2]>,
    ruler: Ruler,
) -> Option<(Units, [Length; 2])> {
    let [common, narrow, wide] = [usual(ruler, 48, 150), usual(ruler, 32, 100), usual(ruler, 72, 220)];
    let step = usual(ruler, 2, 10);
    let mut tried = vec![width.unwrap_or(common)];
    let mut off = step;
    while width.is_none() && off <= wide - narrow {
        tried.extend([common - off, common + off].into_iter().filter(|width| *width >= narrow && *width <= wide));
        off += step;
    }
    let least = usual(ruler, 8, 30);
    let mut best: Option<((Length, bool), Units, [Length; 2])> = None;
    for wide in tried.into_iter().filter(|wide| *wide > Length::ZERO) {
        let along = match pieced.units {
            UnitsFile::Rectangles => pieced.along.unwrap_or(wide + wide),
            _ => wide,
        };
        // Finer units are not worked with, nor larger ones.
        let most = usual(ruler, 192, 600);
        if wide < least || wide > most || along < least || (along > most && along != wide + wide) {
            return None;
        }
        let whole = |side: Length| side.ticks() % along.ticks() == 0;
        let plain = !spaced && whole(inner[0]) && whole(inner[1]);
        let count = |axis: usize| {
            let over = |count: i64| along * count - inner[axis];
            let marked = |count: &i64| over(*count).ticks() % usual(ruler, 2, 4).ticks() == 0;
            let bare = |count: i64| plain && over(count) == Length::ZERO;
            let fits = |count: &i64| bare(*count) || over(*count) >= least + least;
            let about = inner[axis].ticks() / along.ticks();
            match room {
                None if plain => Some(about),
                None => {
                    let fewest = (about..).find(|count| fits(count))?;
                    (fewest..fewest + 8).find(marked).or(Some(fewest))
                }
                Some(room) => {
                    let most = (room[axis] - wide - wide).ticks().div_euclid(along.ticks());
                    let few = || (most.saturating_sub(7)..=most).rev().filter(fits);
                    few().find(marked).or_else(|| few().next())
                }
            }
        };
        let (Some(ends), Some(sides)) = (count(0), count(1)) else { continue };
        let over = [along * ends - inner[0], along * sides - inner[1]];
        let gaps = over.map(|over| Length::from_ticks(over.ticks() / 2));
        if gaps != [Length::ZERO; 2] && (gaps[0] < least || gaps[1] < least) {
            continue;
        }
        let short =
            |room: [Length; 2]| (room[0] - along * ends - wide - wide).max(room[1] - along * sides - wide - wide);
        let rank = (room.map_or(Length::ZERO, short), room.is_none() && gaps != [Length::ZERO; 2]);
        if best.as_ref().is_none_or(|(least, ..)| rank < *least) {
            best = Some((rank, Units { wide, along, sides, ends }, gaps));
        }
    }
    best.map(|(_, units, gaps)| (units, gaps))
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

/// What a sheet of a stencil shows: 6 1/2 by 6 1/4 in.
pub const STENCIL: [Length; 2] = [Length::inches(13, 2), Length::inches(25, 4)];

/// As many whole repeats of two radii as such a sheet has room for, one at least.
pub fn repeats(radius: Length) -> [Length; 2] {
    let two = radius + radius;
    STENCIL.map(|room| if two > Length::ZERO && two <= room { two * room.floor_div(two) } else { two })
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
