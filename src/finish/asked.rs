//! What is asked for beyond the top; nothing by default.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::fabric::is_unprintable;
use crate::measure::{Length, Ruler};

/// Most borders.
pub const MOST_BORDERS: usize = 3;

/// Most letters of a text that is printed.
pub(super) const MOST_LETTERS: usize = 80;

/// How the quilt is finished. It grows: write it with `..Finish::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Finish {
    /// Borders from the top outward, three at most.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub borders: Vec<Border>,
    /// What the whole quilt is to come to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub come_to: Option<ComeTo>,
    /// The back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub backing: Option<Backing>,
    /// Whether there is batting.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub batting: bool,
    /// What backing and batting reach past the top on each side; 4 in or 10 cm where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overhang: Option<Length>,
    /// How the layers are quilted; in the ditch where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quilting: Option<Quilting>,
    /// How the edge is bound.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub binding: Option<Binding>,
    /// How the edge is faced, in place of a binding.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing: Option<Facing>,
    /// Whether it gets a sleeve to hang by.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub sleeve: bool,
    /// What is written on its label.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<Label>,
}

/// A border of one fabric. It grows: write it with `..Border::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Border {
    /// Finished width; worked out from what the quilt is to come to where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Length>,
    /// Letter of its fabric; the darkest of the scene where it does not say or there is none such.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fabric: Option<String>,
    /// Its corners.
    #[serde(skip_serializing_if = "is_usual")]
    pub corners: Corners,
    /// Letter of the cornerstones' fabric; the lightest of the scene where it does not say or there is none such.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cornerstones: Option<String>,
    /// Which of its strips are sewn on first, where the corners are square.
    #[serde(skip_serializing_if = "is_usual")]
    pub first: First,
    /// How its strips lie on the cloth.
    #[serde(skip_serializing_if = "is_usual")]
    pub strips: Grain,
    /// How strips are joined end to end.
    #[serde(skip_serializing_if = "is_usual")]
    pub joins: Joins,
    /// What it is pieced of, in place of strips. It comes out even: by a width that is worked out where none is given, and by
    /// a plain border inside it. That is the one before it in the list, where it has no width, or is put in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pieced: Option<Pieced>,
}

/// What a border is pieced of. It grows: write it with `..Pieced::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Pieced {
    /// Its units.
    #[serde(skip_serializing_if = "is_usual")]
    pub units: BorderUnits,
    /// Finished length of rectangles along the border; twice its width where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<Length>,
    /// Letters of its fabrics, in turn; what the top leaves over, the most first, where it does not say.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub fabrics: Vec<String>,
}

/// Units of a border, in a row.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum BorderUnits {
    /// Squares.
    #[default]
    Squares,
    /// Plain rectangles, with squares in the corners.
    Rectangles,
    /// Triangle units, with squares of the last fabric in the corners.
    Triangles,
}

/// The corners of a border.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Corners {
    /// Strips run past one another.
    #[default]
    Square,
    /// A square in each corner.
    Cornerstones,
    /// Strips meet on the diagonal.
    Mitred,
}

/// Which strips of a border are sewn on first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum First {
    /// Those at the sides.
    #[default]
    Sides,
    /// Those at the top and the bottom.
    Ends,
}

/// How strips lie on the cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Grain {
    /// From selvedge to selvedge, joined.
    #[default]
    Across,
    /// Along the selvedges, each in one piece.
    Along,
}

/// How strips are joined end to end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Joins {
    /// Straight across.
    #[default]
    Straight,
    /// On the diagonal.
    Bias,
}

/// What the whole quilt is to come to, its binding on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ComeTo {
    /// What covers a bed.
    Bed(Bed),
    /// Width and height.
    Size([Length; 2]),
}

/// A bed by its mattress.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bed {
    /// Width of the mattress.
    pub width: Length,
    /// Length of the mattress.
    pub length: Length,
    /// How deep it is, against which the drop is checked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth: Option<Length>,
    /// What hangs from its upper edge at both sides and the foot; nothing hangs at the head.
    pub drop: Length,
    /// What is tucked under the pillow.
    #[serde(default)]
    pub tuck: Length,
}

/// The back of a quilt. It grows: write it with `..Backing::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Backing {
    /// Letter of its fabric; some other cloth where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fabric: Option<String>,
    /// Usable width of its cloth; that of all other cloth where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Length>,
    /// Whether the second of two lengths is split, its halves beside the first.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub halves: bool,
    /// Whether a strip pieced of what is left runs through its middle, in place of one of its lengths.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub pieced: bool,
}

/// How the layers are quilted. It grows: write it with `..Quilting::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Quilting {
    /// Along what.
    #[serde(skip_serializing_if = "is_usual")]
    pub motif: Motif,
    /// Most that lines are apart, 2 in or 5 cm, or the radius of half circles, 3 in or 7.5 cm, where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<Length>,
}

/// What quilting follows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Motif {
    /// The long seams of the top, stitched in the ditch.
    #[default]
    Ditch,
    /// Straight lines along the rows of the scene.
    Rows,
    /// Half circles in rows.
    HalfCircles,
}

/// How the edge is bound. It grows: write it with `..Binding::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Binding {
    /// What shows of it on the front; 3/8 in or 1 cm where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Length>,
    /// How its strip is folded.
    #[serde(skip_serializing_if = "is_usual")]
    pub fold: Fold,
    /// Whether its strip is cut on the bias, in one from a square.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub bias: bool,
    /// Letter of its fabric; that of the outer border, or the darkest of the scene, where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fabric: Option<String>,
    /// What the strip is longer than the edge, for the corners and where its ends meet; 10 in or 25 cm where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allowance: Option<Length>,
}

/// How the edge is faced: strips sewn to it and turned wholly to the back, so that none of them shows on the front. It
/// grows: write it with `..Facing::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Facing {
    /// Width that its strips are cut; 2 1/2 in or 6.5 cm where it does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip: Option<Length>,
    /// How its strips are folded.
    #[serde(skip_serializing_if = "is_usual")]
    pub fold: Fold,
    /// Letter of its fabric; the backing's where it does not say or there is none such.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fabric: Option<String>,
}

/// How the strip of a binding or a facing is folded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Fold {
    /// In half, two layers on the edge.
    #[default]
    Double,
    /// Not: one layer, its other edge turned under.
    Single,
}

/// What is written on a label beside the title. It grows: write it with `..Label::default()`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Label {
    /// Who made it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub maker: String,
    /// When.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub date: String,
    /// Where.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// How it is washed.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub care: String,
}

fn is_usual<T: Default + PartialEq>(choice: &T) -> bool {
    *choice == T::default()
}

impl Finish {
    /// Whether nothing is asked for.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }

    /// Backing, batting and a double binding, in the sizes that are usual.
    pub fn usual() -> Self {
        Self { backing: Some(Backing::default()), batting: true, binding: Some(Binding::default()), ..Self::default() }
    }

    /// The radius of half circles, where layers are quilted in them.
    pub fn stencil(&self, ruler: Ruler) -> Option<Length> {
        let layered = self.backing.is_some() || self.batting;
        let quilting = self.quilting.as_ref().filter(|quilting| layered && quilting.motif == Motif::HalfCircles);
        quilting.map(|quilting| quilting.scale(ruler))
    }

    /// What backing and batting reach past the top: 4 in or 10 cm (published: 2 to 4 in, 4 for a frame).
    pub fn overhang(&self, ruler: Ruler) -> Length {
        self.overhang.unwrap_or_else(|| pick(ruler, Length::INCH * 4i64, Length::CM * 10i64))
    }

    /// Letters of fabrics that are asked for, each with what it is for.
    pub fn letters(&self) -> Vec<(&'static str, &str)> {
        let borders = self.borders.iter().flat_map(|border| {
            let pieced = border.pieced.iter().flat_map(|pieced| &pieced.fabrics);
            let own = [("border", border.fabric.as_deref()), ("cornerstones", border.cornerstones.as_deref())];
            own.into_iter().chain(pieced.map(|letter| ("border", Some(letter.as_str()))))
        });
        let backing = self.backing.iter().map(|backing| ("backing", backing.fabric.as_deref()));
        let binding = self.binding.iter().map(|binding| ("binding", binding.fabric.as_deref()));
        let facing = self.facing.iter().map(|facing| ("facing", facing.fabric.as_deref()));
        borders.chain(backing).chain(binding).chain(facing).filter_map(|(what, letter)| Some((what, letter?))).collect()
    }

    /// A text that cannot be printed as it was given.
    pub(super) fn unprintable(&self) -> Option<&'static str> {
        let wrong = |text: &str| text.chars().count() > MOST_LETTERS || text.chars().any(is_unprintable);
        self.texts().into_iter().find(|(_, text)| wrong(text)).map(|(what, _)| what)
    }

    /// Every text, each with what it is.
    fn texts(&self) -> Vec<(&'static str, &str)> {
        let label = self.label.iter().flat_map(|label| {
            let Label { maker, date, place, care } = label;
            [
                ("maker on the label", maker),
                ("date on the label", date),
                ("place on the label", place),
                ("care on the label", care),
            ]
            .map(|(what, text)| (what, text.as_str()))
        });
        label.chain(self.letters()).collect()
    }
}

impl Binding {
    /// What shows of it on the front: 3/8 in or 1 cm (common practice, no source).
    pub fn finished(&self, ruler: Ruler) -> Length {
        self.width.unwrap_or_else(|| pick(ruler, Length::inches(3, 8), Length::CM))
    }

    /// What its strip is longer than the edge. Published figures have 0, 10, 20 and 24 in; 10 suffice for ends joined on
    /// the diagonal and four corners.
    pub fn allowance(&self, ruler: Ruler) -> Length {
        self.allowance.unwrap_or_else(|| pick(ruler, Length::INCH * 10i64, Length::CM * 25i64))
    }
}

/// The length for a ruler.
pub(super) fn pick(ruler: Ruler, inch: Length, metric: Length) -> Length {
    match ruler {
        Ruler::Inch => inch,
        Ruler::Metric => metric,
    }
}
