//! What has changed: how many units are done, new, more or fewer, and what is new to cut.

use std::collections::{BTreeMap, BTreeSet};

use super::page::{fault, of_class, of_tag};
use super::{Reader, count};
use crate::proof::cutting::Gives;
use crate::proof::fault::Fault;
use crate::proof::scene::{StateFile, Was, Why};

impl Reader<'_> {
    pub(super) fn changed(&self) -> Result<(), Fault> {
        let section = self.page.section("changed");
        let (Some(was), Some(section)) = (&self.scene.was, section) else {
            return match (&self.scene.was, section) {
                (None, None) => Ok(()),
                _ => Err(fault("it says what has changed, or does not, and the plan otherwise")),
            };
        };
        let mut asked: Vec<String> = Vec::new();
        for words in was.why.iter().map(said) {
            if !asked.contains(&words) {
                asked.push(words);
            }
        }
        let lines = of_tag(section, "li").map(|line| self.page.words(line));
        if !lines.eq(asked) {
            return Err(fault("what was asked for is not what the plan says"));
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
        let to_cut = self.written.bench.supplies().iter().filter(|supply| !matches!(supply.gives, Gives::Hand(_)));
        let lines = to_cut.map(|supply| supply.line.text("id"));
        let new_lines: Vec<&str> = lines.filter(|id| !self.scene.numbers.contains(*id)).collect();
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

/// What was asked for, in the words of the list.
fn said(why: &Why) -> String {
    let part = |part: &str| match part.split('.').count() {
        _ if part == "all" => "All of it".to_owned(),
        _ if part.contains(',') => format!("What lies in {part}"),
        1 => format!("Band {part}"),
        2 => format!("Column {part}"),
        3 => format!("Row {part}"),
        _ => format!("Unit {part}"),
    };
    match why {
        Why::Marked { part: of, state } => {
            let is = match state {
                StateFile::Free => "may be changed again",
                StateFile::Kept => "is kept as it is",
                StateFile::Cut => "is cut and paired",
                StateFile::Sewn => "is sewn",
            };
            format!("{} {is}.", part(of))
        }
        Why::Lost { unit } => format!("Unit {unit} was lost, and is made again."),
        Why::Turned { unit } => format!("Unit {unit} is turned."),
        Why::Wanted { unit } => format!("Unit {unit} is made otherwise."),
        Why::Exchanged { part: of, now, then } => {
            let place = if of == "all" { String::new() } else { format!(" in {}", part(of).to_lowercase()) };
            format!("Fabric {then} takes the place of {now}{place}.")
        }
        Why::RanOut { letter } => format!("Fabric {letter} is used no more, but where it is made already."),
        Why::Bought { letter } => format!("There is more of fabric {letter}."),
        Why::Stash => "The stash is told anew.".into(),
        Why::Asked => "Another size, picture or dial is asked for.".into(),
        Why::Finished => "The quilt is finished another way, which changes nothing of the top.".into(),
    }
}
