//! The head of the page, its legend, its feet and the names on its map.

use std::collections::BTreeSet;

use super::page::{fault, has_class, of_class, of_tag};
use super::prints::touches;
use super::{Reader, count};
use crate::measure::math::cbrt;
use crate::proof::fault::Fault;
use crate::proof::light::light;
use crate::proof::rows::{Record, Step};
use crate::proof::words::numbers;

const VALUES: [&str; 5] = ["light", "medium light", "medium", "medium dark", "dark"];

impl Reader<'_> {
    pub(super) fn opening(&self, text: &str) -> Result<(), Fault> {
        let title = self.scene.asked.title();
        let body = of_tag(self.page.root(), "body").next().ok_or_else(|| fault("it has no body"))?;
        let head = of_tag(body, "h1").next().ok_or_else(|| fault("its title is missing"))?;
        self.page.same(head, "build-list.html", "title", &title)?;
        self.picture(text)?;
        self.summary()?;
        let used: BTreeSet<&str> = self
            .units()
            .filter_map(|step| step.unit.as_ref())
            .flat_map(|unit| [Some(unit.first.as_str()), unit.second.as_deref()])
            .flatten()
            .collect();
        let legend = self.scene.letters.iter().filter(|letter| used.contains(letter.as_str()));
        self.page.table("legend", legend.map(|letter| vec![self.fabric(letter), self.value(letter)]))?;
        self.prints()?;
        self.addresses()?;
        self.sections()?;
        self.feet(text, &title)
    }

    pub(super) fn units(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().filter(|step| step.record == Record::Unit)
    }

    /// The scene as it is drawn in picture.svg.
    fn picture(&self, text: &str) -> Result<(), Fault> {
        let drawn = of_class(self.page.root(), "scene").next().ok_or_else(|| fault("its picture is missing"))?;
        self.page.words(drawn);
        let svg = of_tag(drawn, "svg").next().and_then(|svg| text.get(svg.range()));
        match svg == Some(self.written.svg.trim()) {
            true => Ok(()),
            false => Err(fault("its picture is not picture.svg")),
        }
    }

    fn summary(&self) -> Result<(), Fault> {
        let (units, rows) = (self.units().count(), self.steps.iter().filter(|step| step.record == Record::Row).count());
        let triangles = self.units().filter_map(|step| step.unit.as_ref()).filter(|unit| unit.second.is_some()).count();
        let (width, height) = (self.show(self.scene.size.width), self.show(self.scene.size.height));
        let due = format!("{width} {height} {units} {rows} {triangles} {}", units - triangles);
        let lede = of_class(self.page.root(), "lede").next().ok_or_else(|| fault("its summary is missing"))?;
        self.page.figures(lede, "its summary", &due)
    }

    /// Five boxes with one filled, and the step in words.
    pub(super) fn value(&self, letter: &str) -> String {
        let colour = self.scene.fabrics.get(letter).map_or("", |fabric| fabric.colour.as_str());
        let luminance = light(colour) as f64 / 1e6;
        // CIE 15: lightness from luminance.
        let lightness = match luminance > (6.0_f64 / 29.0) * (6.0 / 29.0) * (6.0 / 29.0) {
            true => 116.0 * cbrt(luminance) - 16.0,
            false => 24389.0 / 27.0 * luminance,
        };
        let step = [80.0, 60.0, 40.0, 20.0].iter().filter(|&&step| lightness < step).count();
        let boxes: String = (0..VALUES.len()).map(|at| if at == step { '■' } else { '□' }).collect();
        format!("{boxes} {}", VALUES.get(step).copied().unwrap_or_default())
    }

    /// In how many places touching patches show one print.
    fn prints(&self) -> Result<(), Fault> {
        let line = of_tag(self.page.root(), "p").find(|p| p.text().is_some_and(|text| text.starts_with("Prints: ")));
        let Some(line) = line else { return Ok(()) };
        let due = match touches(self.scene) {
            0 => "Prints: touching patches of one family all show different prints.".to_owned(),
            n => format!("Prints: touching patches show one print in {}", count(n, "place")),
        };
        let families = self.scene.fabrics.values().map(|fabric| format!("{:?}", fabric.family));
        self.page.begins(line, "what it says of prints", &due, &families.collect::<Vec<_>>())
    }

    fn addresses(&self) -> Result<(), Fault> {
        let Some(last) = self.units().map(|step| numbers(step.line.text("address"))).max() else { return Ok(()) };
        let numbers: Vec<String> = last.iter().map(u32::to_string).collect();
        let note = of_class(self.page.root(), "note")
            .find(|note| note.text().is_some_and(|text| text.starts_with("Every unit")));
        let note = note.ok_or_else(|| fault("it does not say what an address is"))?;
        self.page.figures(note, "what it says of addresses", &format!("{} {}", numbers.join("."), numbers.join(" ")))
    }

    /// Sections are numbered in order.
    fn sections(&self) -> Result<(), Fault> {
        let numbers = of_class(self.page.root(), "no").map(|number| self.page.words(number));
        let known = ["needs", "sizes", "safety", "cutting", "rows", "joining", "leftovers", "finishing"];
        let there = known.iter().zip(1..).filter(|(id, _)| self.page.section(id).is_some());
        match numbers.eq(there.map(|(_, number)| number.to_string())) {
            true => Ok(()),
            false => Err(fault("its sections are not numbered in order")),
        }
    }

    /// What stands at the foot of each sheet of paper: the title, and which rows a chapter holds.
    fn feet(&self, text: &str, title: &str) -> Result<(), Fault> {
        let style = text.split("</style>").next().unwrap_or_default();
        let safe: String = title
            .chars()
            .map(|c| match c {
                '"' | '\\' | '<' | '&' => format!("\\{:x} ", u32::from(c)),
                c => c.to_string(),
            })
            .collect();
        let mut due = vec![format!("@page {{ @bottom-left {{ content: \"{safe}\"; }} }}\n")];
        let chapters: Vec<_> = of_class(self.page.root(), "chapter").collect();
        for (number, chapter) in (1..).zip(&chapters) {
            let rows: Vec<&str> =
                of_tag(*chapter, "article").filter_map(|row| row.attribute("id")?.strip_prefix("row-")).collect();
            let (Some(first), Some(last)) = (rows.first(), rows.last()) else { continue };
            let also = if number == chapters.len() { ", and joining them" } else { "" };
            due.push(format!(
                "@page rows-{number} {{ @bottom-center {{ content: \"rows {first} to {last}{also}\"; }} }}\n"
            ));
            if !has_class(chapter, &format!("chapter-{number}")) {
                return Err(fault("its chapters are not numbered in order"));
            }
        }
        let feet = style.matches("content: \"rows ").count();
        match due.iter().find(|due| !style.contains(due.as_str())) {
            None if feet + 1 == due.len() => Ok(()),
            None => Err(fault("it has more feet than chapters")),
            Some(due) => Err(fault(format!("the foot of its sheets is not `{}`", due.trim()))),
        }
    }

    /// The bands and the columns on the map; its rows are read with the rows.
    pub(super) fn map(&self) -> Result<(), Fault> {
        let bands = (1..=self.scene.bands.len()).map(|band| format!("Band {band}"));
        let columns = (1..=self.scene.bands.first().map_or(0, Vec::len)).map(|column| format!("Column 1.{column}"));
        let section = self.page.section("map").ok_or_else(|| fault("its map is missing"))?;
        let names = of_class(section, "side").map(|name| self.page.words(name));
        match names.eq(bands.chain(columns)) {
            true => Ok(()),
            false => Err(fault("the bands and columns on its map are not those of the plan")),
        }
    }
}
