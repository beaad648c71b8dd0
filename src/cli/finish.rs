//! How a quilt is finished, in options or in a file.

use std::path::Path;

use clap::{Args, ValueEnum};
use rowscape::finish::{
    Backing, Bed, Binding, Border, BorderUnits, ComeTo, Corners, Facing, Finish, First, Fold, Grain, Joins, Label,
    Motif, Pieced, Quilting, bed, wall,
};
use rowscape::measure::{Length, Ruler};

use super::Failure;
use super::read::bounded_text;
use super::request::{Measured, measured, value};

/// Most bytes of a file that says how a quilt is finished.
const MOST_BYTES: u64 = 1 << 20;

/// How the quilt is finished: any of these, in `revise`, states all of it anew.
#[derive(Args)]
#[command(next_help_heading = "From the top to the quilt")]
pub struct FinishArguments {
    /// How the quilt is finished: `usual` (backing, batting, a double binding), `none`, or a TOML file; the options below
    /// add to it
    #[arg(long, value_name = "usual|none|FILE")]
    finish: Option<String>,
    /// Border round the top, the innermost first, up to three: its finished width, or `fit` to come to the bed or the size
    /// asked for; and its fabric's letter, if you like: `3in=K` [default: the darkest fabric]. `squares:3in=A,B`,
    /// `rectangles:fit` or `triangles:2in` is pieced of units that come out even [default: of what the top leaves]; a border
    /// before it that is to `fit` is made to suit it
    #[arg(long, value_name = "[UNITS:]WIDTH[=LETTER]", value_parser = border)]
    border: Vec<Wide>,
    /// Corners of the borders
    #[arg(long, value_enum, default_value = "square", requires = "border")]
    corners: CornersChoice,
    /// Fabric of cornerstones [default: the lightest]
    #[arg(long, value_name = "LETTER", requires = "border")]
    cornerstones: Option<String>,
    /// Which strips of a border are sewn on first
    #[arg(long, value_enum, default_value = "sides", requires = "border")]
    border_first: FirstChoice,
    /// How the strips of borders lie on the cloth: from selvedge to selvedge, joined, or along it in one piece
    #[arg(long, value_enum, default_value = "across", requires = "border")]
    border_strips: GrainChoice,
    /// How the strips of borders are joined
    #[arg(long, value_enum, default_value = "straight", requires = "border")]
    border_joins: JoinsChoice,
    /// Bed that the quilt is to cover: crib, twin, twin-long, full, queen, king, california-king, cot, single, small-double,
    /// double, wide-double, or a mattress as `60inx80in`
    #[arg(long, value_name = "NAME|WIDTHxLENGTH", value_parser = mattress, conflicts_with = "quilt_size")]
    bed: Option<Sides>,
    /// What hangs at both sides and the foot of the bed, from the mattress's upper edge [default: 14in, or 35cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, requires = "bed", allow_hyphen_values = true)]
    drop: Option<Measured<Length>>,
    /// What is tucked under the pillow [default: nothing]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, requires = "bed", allow_hyphen_values = true)]
    tuck: Option<Measured<Length>>,
    /// How deep the mattress is, to check the drop by
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, requires = "bed")]
    mattress_depth: Option<Measured<Length>>,
    /// Size that the quilt is to come to: throw, baby, or as `60inx80in`
    #[arg(long, value_name = "NAME|WIDTHxHEIGHT", value_parser = quilt_size)]
    quilt_size: Option<Sides>,
    /// A backing; and its fabric's letter, if it is of one of the scene's
    #[arg(long, value_name = "LETTER", num_args = 0..=1, default_missing_value = "")]
    backing: Option<String>,
    /// Usable width of the backing's cloth [default: that of all cloth]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>)]
    backing_width: Option<Measured<Length>>,
    /// Split the second of two lengths, its halves beside the first, so that no seam runs down the middle
    #[arg(long)]
    backing_halves: bool,
    /// Piece a strip through the middle of the back of what the top leaves, in place of one of its lengths
    #[arg(long)]
    backing_pieced: bool,
    /// Batting
    #[arg(long)]
    batting: bool,
    /// What backing and batting reach past the top on each side [default: 4in, or 10cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, allow_hyphen_values = true)]
    overhang: Option<Measured<Length>>,
    /// How it is quilted: in the ditch, in straight lines along the rows, or in half circles, with a stencil at full size
    #[arg(long, value_enum)]
    quilting: Option<MotifChoice>,
    /// Most that lines are apart [default: 2in, or 5cm], or the radius of half circles [default: 3in, or 7.5cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, requires = "quilting")]
    quilting_scale: Option<Measured<Length>>,
    /// A binding; and its fabric's letter, if it is not the outer border's
    #[arg(long, value_name = "LETTER", num_args = 0..=1, default_missing_value = "")]
    binding: Option<String>,
    /// What shows of the binding on the front [default: 3/8in, or 1cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, allow_hyphen_values = true)]
    binding_width: Option<Measured<Length>>,
    /// How the binding's strip is folded
    #[arg(long, value_enum)]
    binding_fold: Option<FoldChoice>,
    /// Cut the binding on the bias, in one strip from a square
    #[arg(long)]
    bias: bool,
    /// A facing in place of a binding, turned wholly to the back; and its fabric's letter, if it is not the backing's
    #[arg(
        long,
        value_name = "LETTER",
        num_args = 0..=1,
        default_missing_value = "",
        conflicts_with_all = ["binding", "binding_width", "binding_fold", "bias"]
    )]
    facing: Option<String>,
    /// Width that the facing's strips are cut [default: 2 1/2in, or 6.5cm]
    #[arg(long, value_name = "LENGTH", value_parser = measured::<Length>, requires = "facing", allow_hyphen_values = true)]
    facing_strip: Option<Measured<Length>>,
    /// How the facing's strips are folded [default: double]
    #[arg(long, value_enum, requires = "facing")]
    facing_fold: Option<FoldChoice>,
    /// A sleeve to hang it by
    #[arg(long)]
    sleeve: bool,
    /// Who made it, for a label
    #[arg(long, value_name = "WHO")]
    label_maker: Option<String>,
    /// When, for a label
    #[arg(long, value_name = "WHEN")]
    label_date: Option<String>,
    /// Where, for a label
    #[arg(long, value_name = "WHERE")]
    label_place: Option<String>,
    /// How it is washed, for a label
    #[arg(long, value_name = "HOW")]
    label_care: Option<String>,
}

/// A border's width, none where it is worked out, the letter of its fabric, and what it is pieced of.
#[derive(Clone)]
struct Wide {
    width: Option<Length>,
    fabric: Option<String>,
    pieced: Option<Pieced>,
}

/// Two sides.
type Sides = Measured<[Length; 2]>;

/// The corners of borders.
#[derive(Clone, Copy, ValueEnum)]
enum CornersChoice {
    /// Strips run past one another
    Square,
    /// A square in each corner
    Cornerstones,
    /// Strips meet on the diagonal
    Mitred,
}

/// Which strips are sewn on first.
#[derive(Clone, Copy, ValueEnum)]
enum FirstChoice {
    /// Those at the sides
    Sides,
    /// Those at the top and the bottom
    Ends,
}

/// How strips lie on the cloth.
#[derive(Clone, Copy, ValueEnum)]
enum GrainChoice {
    /// From selvedge to selvedge, joined
    Across,
    /// Along the selvedges, in one piece
    Along,
}

/// How strips are joined.
#[derive(Clone, Copy, ValueEnum)]
enum JoinsChoice {
    /// Straight across
    Straight,
    /// On the diagonal
    Bias,
}

/// What quilting follows.
#[derive(Clone, Copy, ValueEnum)]
enum MotifChoice {
    /// The long seams
    Ditch,
    /// The rows, with lines between their seams
    Rows,
    /// Half circles in rows
    HalfCircles,
}

/// How a binding or a facing is folded.
#[derive(Clone, Copy, ValueEnum)]
enum FoldChoice {
    /// In half: two layers on the edge
    Double,
    /// One layer, its other edge turned under
    Single,
}

impl FoldChoice {
    fn fold(self) -> Fold {
        match self {
            Self::Double => Fold::Double,
            Self::Single => Fold::Single,
        }
    }
}

impl FinishArguments {
    /// The file that is read, where one is.
    pub fn file(&self) -> Option<&Path> {
        self.finish.as_deref().filter(|asked| !matches!(*asked, "none" | "usual")).map(Path::new)
    }

    /// Whether any of them is given.
    fn is_given(&self) -> bool {
        let Self { finish, border, bed, quilt_size, backing, backing_width, overhang, binding, facing, .. } = self;
        let Self { binding_width, binding_fold, label_maker, label_date, label_place, label_care, .. } = self;
        let texts = [finish, backing, binding, facing, label_maker, label_date, label_place, label_care];
        texts.into_iter().any(Option::is_some)
            || [backing_width, overhang, binding_width].into_iter().any(Option::is_some)
            || [self.batting, self.sleeve, self.bias, self.backing_halves, self.backing_pieced].contains(&true)
            || !border.is_empty()
            || [bed, quilt_size].into_iter().any(Option::is_some)
            || binding_fold.is_some()
            || self.quilting.is_some()
    }

    /// What they ask for; none where they say nothing.
    pub fn asked(&self, ruler: Ruler) -> Result<Option<Finish>, Failure> {
        if !self.is_given() {
            return Ok(None);
        }
        let mut finish = match (self.finish.as_deref(), self.file()) {
            (_, Some(path)) => read(path)?,
            (Some("usual"), None) => Finish::usual(),
            _ => Finish::default(),
        };
        finish.borders.extend(self.border.iter().map(|wide| self.border_of(wide)));
        if let Some(come_to) = self.come_to(ruler) {
            finish.come_to = Some(come_to);
        }
        self.layers(&mut finish);
        self.edge(&mut finish);
        Ok(Some(finish))
    }

    fn border_of(&self, Wide { width, fabric, pieced }: &Wide) -> Border {
        if pieced.is_some() {
            return Border { width: *width, pieced: pieced.clone(), ..Border::default() };
        }
        Border {
            width: *width,
            pieced: None,
            fabric: fabric.clone(),
            corners: match self.corners {
                CornersChoice::Square => Corners::Square,
                CornersChoice::Cornerstones => Corners::Cornerstones,
                CornersChoice::Mitred => Corners::Mitred,
            },
            cornerstones: self.cornerstones.clone(),
            first: match self.border_first {
                FirstChoice::Sides => First::Sides,
                FirstChoice::Ends => First::Ends,
            },
            strips: match self.border_strips {
                GrainChoice::Across => Grain::Across,
                GrainChoice::Along => Grain::Along,
            },
            joins: match self.border_joins {
                JoinsChoice::Straight => Joins::Straight,
                JoinsChoice::Bias => Joins::Bias,
            },
        }
    }

    fn come_to(&self, ruler: Ruler) -> Option<ComeTo> {
        let bed = self.bed.map(|sides| {
            let usual = Bed::usual(sides.value, ruler);
            ComeTo::Bed(Bed {
                depth: value(&self.mattress_depth),
                drop: value(&self.drop).unwrap_or(usual.drop),
                tuck: value(&self.tuck).unwrap_or(usual.tuck),
                ..usual
            })
        });
        bed.or(self.quilt_size.map(|sides| ComeTo::Size(sides.value)))
    }

    fn layers(&self, finish: &mut Finish) {
        if self.backing.is_some() || self.backing_width.is_some() || self.backing_halves || self.backing_pieced {
            let backing: &mut Backing = finish.backing.get_or_insert_default();
            backing.fabric = letter(&self.backing).or(backing.fabric.take());
            backing.width = value(&self.backing_width).or(backing.width);
            backing.halves |= self.backing_halves;
            backing.pieced |= self.backing_pieced;
        }
        if let Some(motif) = self.quilting {
            let motif = match motif {
                MotifChoice::Ditch => Motif::Ditch,
                MotifChoice::Rows => Motif::Rows,
                MotifChoice::HalfCircles => Motif::HalfCircles,
            };
            finish.quilting = Some(Quilting { motif, scale: value(&self.quilting_scale) });
        }
        finish.batting |= self.batting;
        finish.overhang = value(&self.overhang).or(finish.overhang);
    }

    fn edge(&self, finish: &mut Finish) {
        if self.binding.is_some() || self.binding_width.is_some() || self.binding_fold.is_some() || self.bias {
            let binding: &mut Binding = finish.binding.get_or_insert_default();
            binding.fabric = letter(&self.binding).or(binding.fabric.take());
            binding.width = value(&self.binding_width).or(binding.width);
            binding.bias |= self.bias;
            binding.fold = self.binding_fold.map_or(binding.fold, FoldChoice::fold);
        }
        if self.facing.is_some() {
            // The usual binding gives way; one that a file asks for is refused.
            if self.file().is_none() {
                finish.binding = None;
            }
            let facing: &mut Facing = finish.facing.get_or_insert_default();
            facing.fabric = letter(&self.facing).or(facing.fabric.take());
            facing.strip = value(&self.facing_strip).or(facing.strip);
            facing.fold = self.facing_fold.map_or(facing.fold, FoldChoice::fold);
        }
        finish.sleeve |= self.sleeve;
        let written = [&self.label_maker, &self.label_date, &self.label_place, &self.label_care];
        if written.into_iter().any(Option::is_some) {
            let label: &mut Label = finish.label.get_or_insert_default();
            let places = [&mut label.maker, &mut label.date, &mut label.place, &mut label.care];
            for (place, text) in places.into_iter().zip(written) {
                if let Some(text) = text {
                    text.trim().clone_into(place);
                }
            }
        }
    }
}

/// A letter that was given, and was not left empty.
fn letter(given: &Option<String>) -> Option<String> {
    given.as_deref().map(str::trim).filter(|letter| !letter.is_empty()).map(str::to_owned)
}

fn read(path: &Path) -> Result<Finish, Failure> {
    let hint = "write it as README.md shows, or give `usual` or `none`";
    let text = bounded_text(path, MOST_BYTES).map_err(|failure| failure.or_hint(hint))?;
    toml::from_str(&text).map_err(|error| Failure::at(path, error.message()).hint(hint))
}

fn border(text: &str) -> Result<Wide, String> {
    let (units, text) = text.split_once(':').map_or((None, text), |(units, text)| (Some(units.trim()), text));
    let units = match units {
        None => None,
        Some("squares") => Some(BorderUnits::Squares),
        Some("rectangles") => Some(BorderUnits::Rectangles),
        Some("triangles") => Some(BorderUnits::Triangles),
        Some(other) => return Err(format!("`{other}`: a border is pieced of squares, rectangles or triangles")),
    };
    let (width, letters) = text.split_once('=').map_or((text, None), |(width, letters)| (width, Some(letters.trim())));
    let width = match width.trim() {
        "fit" => None,
        width => Some(width.parse::<Length>().map_err(|error| format!("{error}, or `fit`"))?),
    };
    let Some(units) = units else { return Ok(Wide { width, fabric: letters.map(str::to_owned), pieced: None }) };
    let fabrics =
        letters.iter().flat_map(|letters| letters.split(',')).map(|letter| letter.trim().to_owned()).collect();
    Ok(Wide { width, fabric: None, pieced: Some(Pieced { units, fabrics, ..Pieced::default() }) })
}

fn mattress(text: &str) -> Result<Sides, String> {
    match bed(text.trim()) {
        Some(known) => Ok(Measured { value: known.size, ruler: known.ruler }),
        None => sides(text).map_err(|error| format!("it is no bed of those that are named, and {error}")),
    }
}

fn quilt_size(text: &str) -> Result<Sides, String> {
    match wall(text.trim()) {
        Some(value) => Ok(Measured { value, ruler: Ruler::Inch }),
        None => sides(text),
    }
}

/// `60inx80in`, or `60x80in`.
fn sides(text: &str) -> Result<Sides, String> {
    let (width, length) = text.split_once('x').ok_or("two sides are written as `60inx80in`")?;
    let ruler = Ruler::of_text(length.trim());
    let bare = width.trim().ends_with(|last: char| last.is_ascii_digit());
    let width = if bare { format!("{width}{}", ruler.unit()) } else { width.to_owned() };
    let read = |text: &str| text.trim().parse::<Length>().map_err(|error| error.to_string());
    Ok(Measured { value: [read(&width)?, read(length)?], ruler })
}
