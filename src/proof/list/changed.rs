//! What has changed: how many units are done, new, more or fewer, and what is new to cut.

use std::collections::{BTreeMap, BTreeSet};

use super::page::{fault, of_class, of_tag};
use super::{Reader, count};
use crate::proof::fault::Fault;
use crate::proof::scene::Was;

impl Reader<'_> {
    pub(super) fn changed(&self) -> Result<(), Fault> {
        let section = self.page.section("changed");
        let (Some(was), Some(section)) = (&self.scene.was, section) else {
            return match (&self.scene.was, section) {
                (None, None) => Ok(()),
                _ => Err(fault("it says what has changed, or does not, and the plan otherwise")),
            };
        };
        let asked: Vec<String> = was.why.iter().flat_map(texts).collect();
        for line in of_tag(section, "li") {
            let words = self.page.words(line);
            // Each part and letter stands there as it was asked for.
            let known = |part: &str| asked.iter().any(|asked| asked.split(' ').any(|one| one == part));
            let mut parts = words
                .split(' ')
                .map(|part| part.trim_end_matches(['.', ':']))
                .filter(|part| part.contains(|c: char| c.is_ascii_digit()));
            if !parts.all(known) {
                return Err(fault(format!("`{words}` was not asked for")));
            }
        }
        let done = of_class(section, "done").next().ok_or_else(|| fault("it does not say how much is done"))?;
        self.page.figures(done, "what is done", &self.done(was))?;
        self.page.table("changes", self.kinds(was))
    }

    /// Units in all, sewn, cut and new, and the numbers that no list had before.
    fn done(&self, was: &Was) -> String {
        let units = || self.scene.bands.iter().flatten().flatten().flatten();
        let (sewn, cut) = (units().filter(|unit| unit.sewn).count(), units().filter(|unit| unit.cut).count());
        let new = units().filter(|unit| !was.units.contains(&unit.patches)).count();
        let lines = self.written.bench.supplies().iter().map(|supply| supply.line.text("id"));
        let new_lines: Vec<&str> =
            lines.filter(|id| id.starts_with(['P', 'F']) && !self.scene.numbers.contains(*id)).collect();
        let some = |count: usize| if count > 0 { format!(" {count}") } else { String::new() };
        let made = if cut > 0 { format!(" {sewn} {cut}") } else { some(sewn) };
        format!("{}{made}{} {}", count(units().count() as u64, "unit"), some(new), new_lines.join(" "))
    }

    /// Kinds of which there are more or fewer.
    fn kinds(&self, was: &Was) -> Vec<Vec<String>> {
        let mut now: BTreeMap<&str, u32> = BTreeMap::new();
        for unit in self.scene.bands.iter().flatten().flatten().flatten() {
            *now.entry(&unit.kind).or_default() += 1;
        }
        let all: BTreeSet<&str> = was.kinds.keys().map(String::as_str).chain(now.keys().copied()).collect();
        let line = |kind: &str| {
            let (before, now) = (was.kinds.get(kind).copied().unwrap_or(0), now.get(kind).copied().unwrap_or(0));
            (before != now).then(|| vec![kind.to_owned(), before.to_string(), now.to_string()])
        };
        all.into_iter().filter_map(line).collect()
    }
}

/// Every text in a value.
fn texts(value: &serde_json::Value) -> Vec<String> {
    match value {
        serde_json::Value::String(text) => vec![text.clone()],
        serde_json::Value::Object(fields) => fields.values().flat_map(texts).collect(),
        _ => Vec::new(),
    }
}
