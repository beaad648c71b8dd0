//! Values as makers write them: a number as a text or a text as a number, one in place of a list, colours by name.

use std::fmt;
use std::marker::PhantomData;

use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{Deserialize, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use toml::Spanned;

use super::file::YardageEntry;

use crate::fabric::Rgb;
use crate::measure::Length;

/// A text; a number serves.
pub(super) struct Text(pub String);

/// An amount; a text that says one serves.
pub(super) struct Amount(pub i64);

/// Yes or no.
#[derive(Default)]
pub(super) struct Truth(pub bool);

/// A colour in figures or by its name.
#[derive(Clone, Copy)]
pub(super) struct Colour(pub Rgb);

/// A length with its unit.
pub(super) struct Side(pub Length);

/// A length of cloth that is given alone: a number is yards.
pub(super) struct OfCloth(pub Length);

/// A list; one in its place is a list of one.
pub(super) struct Many<T>(pub Vec<T>);

/// What a text, a number or a truth says.
enum Said {
    Text(String),
    Whole(i64),
    Real(f64),
    Truth(bool),
}

struct SaidVisitor(&'static str);

impl Visitor<'_> for SaidVisitor {
    type Value = Said;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(self.0)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Said, E> {
        Ok(Said::Text(text.to_owned()))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Said, E> {
        Ok(Said::Whole(number))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Said, E> {
        Ok(Said::Real(number))
    }

    fn visit_bool<E: Error>(self, truth: bool) -> Result<Said, E> {
        Ok(Said::Truth(truth))
    }
}

/// Reads what is said as `read` understands it; what it does not is told with what to write.
fn said<'de, D: Deserializer<'de>, T>(
    deserializer: D,
    wanted: &'static str,
    read: impl Fn(&Said) -> Option<Result<T, String>>,
) -> Result<T, D::Error> {
    let said = deserializer.deserialize_any(SaidVisitor(wanted))?;
    let shown = match &said {
        Said::Text(text) => text.chars().take(40).collect(),
        Said::Whole(number) => number.to_string(),
        Said::Real(number) => number.to_string(),
        Said::Truth(truth) => truth.to_string(),
    };
    let told = || Err(format!("`{shown}` is not {wanted}"));
    read(&said).unwrap_or_else(told).map_err(D::Error::custom)
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = |said: &Said| match said {
            Said::Text(text) => Some(Ok(Self(text.clone()))),
            Said::Whole(number) => Some(Ok(Self(number.to_string()))),
            Said::Real(number) => Some(Ok(Self(number.to_string()))),
            Said::Truth(_) => None,
        };
        said(deserializer, "a text: write it in quotes, as `\"evening sky\"`", read)
    }
}

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = |said: &Said| match said {
            Said::Whole(number) => Some(Ok(Self(*number))),
            Said::Text(text) => text.trim().parse().ok().map(Self).map(Ok),
            _ => None,
        };
        said(deserializer, "an amount: write a whole number, as `4`", read)
    }
}

impl<'de> Deserialize<'de> for Truth {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = |said: &Said| match said {
            Said::Truth(truth) => Some(Ok(Self(*truth))),
            Said::Text(text) => match text.trim().to_lowercase().as_str() {
                "yes" | "true" => Some(Ok(Self(true))),
                "no" | "false" => Some(Ok(Self(false))),
                _ => None,
            },
            _ => None,
        };
        said(deserializer, "yes or no: write `true` or `false`", read)
    }
}

impl<'de> Deserialize<'de> for Colour {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = |said: &Said| match said {
            Said::Text(text) => Rgb::understood(text).map(Self).map(Ok),
            Said::Whole(number) => Rgb::understood(&number.to_string()).map(Self).map(Ok),
            _ => None,
        };
        said(
            deserializer,
            "a colour: write it as `\"#3a3a66\"`, or by a name that browsers know, as `\"cornflower blue\"`",
            read,
        )
    }
}

impl<'de> Deserialize<'de> for Side {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = |said: &Said| match said {
            Said::Text(text) => {
                Some(text.parse().map(Self).map_err(|error: crate::measure::LengthError| error.to_string()))
            }
            Said::Whole(number) => {
                Some(Err(format!("`{number}` has no unit: write `\"{number}in\"` or `\"{number}cm\"`")))
            }
            Said::Real(number) => {
                Some(Err(format!("`{number}` has no unit: write `\"{number}in\"` or `\"{number}cm\"`")))
            }
            Said::Truth(_) => None,
        };
        said(deserializer, "a length: write it with its unit, as `\"9 1/2 in\"` or `\"24.1cm\"`", read)
    }
}

impl<'de> Deserialize<'de> for OfCloth {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let told = |error: crate::measure::LengthError| error.to_string();
        let read = |said: &Said| match said {
            Said::Text(text) => {
                let yards = format!("{} yd", text.trim()).parse();
                Some(text.parse().or_else(|error| yards.map_err(|_| error)).map(Self).map_err(told))
            }
            Said::Whole(number) => Some(format!("{number} yd").parse().map(Self).map_err(told)),
            Said::Real(number) => Some(format!("{number} yd").parse().map(Self).map_err(told)),
            Said::Truth(_) => None,
        };
        said(deserializer, "a length of cloth: write it with its unit, as `\"1 1/2 yd\"` or `\"0.7m\"`", read)
    }
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Whole {
    width: Option<Spanned<Side>>,
    length: Spanned<OfCloth>,
}

struct YardageVisitor;

impl<'de> Visitor<'de> for YardageVisitor {
    type Value = YardageEntry;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a length of cloth, as `{ width = \"42in\", length = \"1 1/2 yd\" }` or `\"1 1/2 yd\"`")
    }

    fn visit_map<A: MapAccess<'de>>(self, table: A) -> Result<YardageEntry, A::Error> {
        let Whole { width, length } = Whole::deserialize(MapAccessDeserializer::new(table))?;
        Ok(YardageEntry { width, length })
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<YardageEntry, E> {
        OfCloth::deserialize(text.into_deserializer()).map(alone)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<YardageEntry, E> {
        OfCloth::deserialize(number.into_deserializer()).map(alone)
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<YardageEntry, E> {
        OfCloth::deserialize(number.into_deserializer()).map(alone)
    }
}

fn alone(length: OfCloth) -> YardageEntry {
    YardageEntry { width: None, length: Spanned::new(0..0, length) }
}

impl<'de> Deserialize<'de> for YardageEntry {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(YardageVisitor)
    }
}

struct ManyVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for ManyVisitor<T> {
    type Value = Many<T>;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a list, as `[{ size = \"10in\", count = 4 }]`")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<Many<T>, A::Error> {
        Vec::deserialize(SeqAccessDeserializer::new(list)).map(Many)
    }

    fn visit_map<A: MapAccess<'de>>(self, one: A) -> Result<Many<T>, A::Error> {
        T::deserialize(MapAccessDeserializer::new(one)).map(|one| Many(vec![one]))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Many<T>, E> {
        T::deserialize(text.into_deserializer()).map(|one| Many(vec![one]))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Many<T>, E> {
        T::deserialize(number.into_deserializer()).map(|one| Many(vec![one]))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Many<T>, E> {
        T::deserialize(number.into_deserializer()).map(|one| Many(vec![one]))
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Many<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ManyVisitor(PhantomData))
    }
}
