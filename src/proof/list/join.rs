//! What is joined to what, and how the top is measured.

use super::Reader;
use super::page::{fault, of_class};
use crate::measure::{Length, Ruler};
use crate::proof::fault::Fault;
use crate::proof::rows::{Record, Step};
use crate::proof::words::{joined, numbers};

impl Reader<'_> {
    pub(super) fn joins(&self) -> Result<(), Fault> {
        self.page.table("parts", self.parts())?;
        let section = self.page.section("joining").ok_or_else(|| fault("it does not say what is joined"))?;
        let note =
            of_class(section, "note").next().ok_or_else(|| fault("it does not say whether the top is square"))?;
        self.page.figures(note, "what it says of diagonals", &self.show(self.diagonal()))
    }

    /// From corner to corner of the unfinished top, to the nearest 1/8 in or 5 mm.
    fn diagonal(&self) -> Length {
        let square = |side: Length| i128::from((side + self.scene.both()).ticks()).pow(2);
        let ticks = (square(self.scene.size.width) + square(self.scene.size.height)).isqrt();
        let step = if self.scene.ruler == Ruler::Inch { Length::inches(1, 8) } else { Length::MM * 5_i64 };
        Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 2)).round_to(step)
    }

    /// The lines of what is joined: columns, bands and the top, each once.
    fn parts(&self) -> Vec<Vec<String>> {
        let bands = &self.scene.bands;
        let mut lines = Vec::new();
        for step in self.steps {
            let address = numbers(step.line.text("address"));
            let band = address.first().and_then(|band| bands.get(*band as usize - 1));
            let single = band.is_some_and(|band| band.len() == 1);
            let (name, mut from) = match (step.record, band, &address[..]) {
                (Record::Column, Some(band), [i, j]) if !(single && bands.len() == 1) => {
                    let rows = band.get(*j as usize - 1).map_or(0, Vec::len);
                    let name = if single { format!("Band {i}") } else { format!("Column {i}.{j}") };
                    (name, span("row", &format!("{i}.{j}."), rows))
                }
                (Record::Band, Some(band), [i]) if !single && bands.len() > 1 => {
                    (format!("Band {i}"), span("column", &format!("{i}."), band.len()))
                }
                (Record::Top, ..) => ("The top".into(), self.whole()),
                _ => continue,
            };
            // A band of one column is joined as a band.
            let of_band = |other: &&Step| {
                other.record == Record::Band && numbers(other.line.text("address")).first() == address.first()
            };
            let (joint, before) = match name.starts_with("Column") {
                true => (Some(step), "the column before it"),
                false => (self.steps.iter().find(of_band), "the band above"),
            };
            if let Some(words) = joint.filter(|_| step.record != Record::Top).and_then(|joint| joined(joint, before)) {
                from += &format!("; {words}");
            }
            lines.push(vec![name, from, self.size(step.unfinished), self.size(step.finished), String::new()]);
        }
        lines
    }

    fn whole(&self) -> String {
        match self.scene.bands.as_slice() {
            [band] => match band.as_slice() {
                [column] => span("row", "1.1.", column.len()),
                columns => span("column", "1.", columns.len()),
            },
            bands => span("band", "", bands.len()),
        }
    }
}

fn span(one: &str, before: &str, n: usize) -> String {
    match n {
        1 => format!("{one} {before}1"),
        2 => format!("{one}s {before}1 and {before}2"),
        n => format!("{one}s {before}1 to {before}{n}"),
    }
}
