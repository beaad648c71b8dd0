//! Row by row: heads, drawings, lines of units, sums and pressing.

use resvg::usvg::roxmltree::Node;

use super::page::{fault, has_class, number, of_class, of_tag, same};
use super::{Reader, count};
use crate::measure::Length;
use crate::proof::cutting::{Gives, HandKind};
use crate::proof::fault::Fault;
use crate::proof::iron::Tone;
use crate::proof::paper::Size;
use crate::proof::rows::{Press, Record, SEWN, Step, UnitStep};
use crate::proof::words::{joined, numbers, side_words, staystitched};

fn is_sewn(step: &Step) -> bool {
    step.unit.as_ref().is_some_and(|unit| unit.from == SEWN)
}

impl Reader<'_> {
    pub(super) fn rows(&self) -> Result<(), Fault> {
        self.parts_of_rows()?;
        let mut articles = of_tag(self.page.root(), "article");
        let mut names = of_class(self.page.root(), "row-name");
        let mut units: Vec<&Step> = Vec::new();
        for step in self.steps {
            match step.record {
                Record::Unit => units.push(step),
                Record::Row => {
                    let address = step.line.text("address");
                    let missing = || fault(format!("the row {address} is missing"));
                    self.page.same(names.next().ok_or_else(missing)?, address, "name on the map", address)?;
                    self.row(step, &std::mem::take(&mut units), articles.next().ok_or_else(missing)?)?;
                }
                _ => {}
            }
        }
        match (articles.next(), names.next()) {
            (None, None) => Ok(()),
            _ => Err(fault("it has more rows than the plan")),
        }
    }

    /// What is said before the rows, and the head of each column.
    fn parts_of_rows(&self) -> Result<(), Fault> {
        let section = self.page.section("rows").ok_or_else(|| fault("it does not say how rows are sewn"))?;
        let intro = of_class(section, "intro").next().ok_or_else(|| fault("it does not say how rows are sewn"))?;
        self.page.figures(intro, "what it says of rows", "P1 F1 H1")?;
        let mut due = Vec::new();
        for (i, band) in (1..).zip(&self.scene.bands) {
            for (j, column) in (1..).zip(band) {
                let units = column.first().into_iter().flatten();
                let width = units.map(|unit| unit.size.width).sum();
                let height = column.iter().filter_map(|row| row.first()).map(|unit| unit.size.height).sum();
                let name = if band.len() > 1 { format!("Band {i}, column {j}") } else { format!("Band {i}") };
                due.push(format!(
                    "{name} {}, {} finished",
                    count(column.len() as u64, "row"),
                    self.size(Size { width, height })
                ));
            }
        }
        if due.len() == 1 {
            due.clear();
        }
        let heads = of_class(self.page.root(), "part").filter_map(|part| of_tag(part, "h3").next());
        match heads.map(|head| self.page.words(head)).eq(due) {
            true => Ok(()),
            false => Err(fault("the heads of its columns are not those of the plan")),
        }
    }

    fn row(&self, row: &Step, units: &[&Step], article: Node) -> Result<(), Fault> {
        let address = row.line.text("address");
        let heads = of_tag(article, "h4").map(|head| self.page.words(head));
        let units_words = count(units.len() as u64, "unit");
        let due = format!("Row {address} {units_words}, {} finished", self.size(row.finished));
        same(address, "head", &heads.collect::<Vec<_>>().join(" "), &due)?;
        if article.attribute("id").and_then(|id| id.strip_prefix("row-")) != Some(address) {
            return Err(Fault::new(address, "its place in build-list.html has another name"));
        }
        if units.iter().all(|step| is_sewn(step)) {
            let said: Vec<String> = of_tag(article, "p").map(|said| self.page.words(said)).collect();
            return same(address, "work", &said.join(" "), "Sewn.");
        }
        self.drawn(row, units, article)?;
        let lines =
            of_class(article, "units").flat_map(|table| table.children().filter(|node| node.has_tag_name("tbody")));
        let lines: Vec<Node> = lines.flat_map(|body| body.children().filter(|node| node.has_tag_name("tr"))).collect();
        let (mut rest, mut terms) = (units, Vec::new());
        let mut lines = lines.into_iter().peekable();
        while let Some(line) = lines.next() {
            let also = lines.next_if(|line| has_class(line, "also"));
            let cells = line.children().filter(|node| node.has_tag_name("td"));
            let cells: Vec<String> = cells.map(|cell| self.page.words(cell)).collect();
            let span = cells.first().map_or(1, |cell| self.span(cell, rest));
            let (run, after) =
                rest.split_at_checked(span).ok_or_else(|| Fault::new(address, "it lists a unit too many"))?;
            rest = after;
            let Some(first) = run.first() else { break };
            self.unit(run, &cells, units, &also.map(|also| self.page.words(also)).unwrap_or_default())?;
            let width = self.scene.ruler.number(first.finished.width);
            terms.push(if span > 1 { format!("{span} × {width}") } else { width });
        }
        if !rest.is_empty() {
            return Err(Fault::new(address, "a unit is missing in build-list.html"));
        }
        let check = of_class(article, "check").next().and_then(|node| node.children().find(Node::is_element));
        let check = check.map(|check| self.page.words(check)).unwrap_or_default();
        same(address, "check", &check, &self.check(row, units, &terms))
    }

    /// The numbers and the letters of a row's drawing: each number below the middle of its unit.
    fn drawn(&self, row: &Step, units: &[&Step], article: Node) -> Result<(), Fault> {
        let address = row.line.text("address");
        let drawing = of_class(article, "strip").next().ok_or_else(|| Fault::new(address, "it is not drawn"))?;
        let (wide, all) = (number(drawing, "width") - 2.0, row.finished.width.as_inches().max(0.001));
        let letters = |of: &[&Step]| -> Vec<String> {
            let units = of.iter().filter_map(|step| step.unit.as_ref());
            units.flat_map(|unit| [Some(unit.first.clone()), unit.second.clone()]).flatten().collect()
        };
        let known = letters(units);
        for text in of_tag(drawing, "text") {
            let words = self.page.words(text);
            let wrong = || {
                Fault::new(address, format!("`{words}` stands in the wrong place of its drawing in build-list.html"))
            };
            if !has_class(&text, "num") {
                known.contains(&words).then_some(()).ok_or_else(wrong)?;
                continue;
            }
            let before = words.parse::<usize>().ok().and_then(|number| number.checked_sub(1)).ok_or_else(wrong)?;
            let (Some(unit), Some(left)) = (units.get(before), units.get(..before)) else { return Err(wrong()) };
            let left: Length = left.iter().map(|unit| unit.finished.width).sum();
            let middle = (left + unit.finished.width / 2).as_inches() / all * wide;
            if (middle - number(text, "x")).abs() > 1.0 {
                return Err(wrong());
            }
        }
        Ok(())
    }

    /// How many units a line says that it stands for: those up to the address that follows `to`.
    fn span(&self, cell: &str, rest: &[&Step]) -> usize {
        let mut parts = cell.split(' ').skip(1);
        let last = if parts.next() == Some("to") { parts.next() } else { None };
        let at = last.and_then(|last| rest.iter().position(|step| step.line.text("address") == last));
        at.map_or(1, |at| at + 1)
    }

    fn unit(&self, run: &[&Step], cells: &[String], row: &[&Step], also: &str) -> Result<(), Fault> {
        let ([first, ..], [.., last]) = (run, run) else { return Ok(()) };
        let (address, Some(unit)) = (first.line.text("address"), &first.unit) else { return Ok(()) };
        let key = |step: &Step| {
            let columns = ["kind", "first", "second", "turn", "from", "strip", "strip_side", "offcut", "bias"];
            let cells = columns.map(|name| step.line.text(name).to_owned());
            (cells, step.unfinished, step.cut)
        };
        if run.iter().any(|step| key(step) != key(first)) {
            return Err(Fault::new(address, "units share its line in build-list.html that are not alike"));
        }
        let word = unit.kind.split(' ').next().unwrap_or_default();
        let name = match run.len() {
            1 => format!("{address} {word}"),
            n => format!("{address} to {} {word}, {n} alike", last.line.text("address")),
        };
        let corners = ["upper left", "upper right", "lower right", "lower left"];
        let corner = |turn: u8| corners.get(usize::from(turn % 4)).copied().unwrap_or_default();
        let fabrics = match &unit.second {
            None => self.fabric(&unit.first),
            Some(second) if unit.from == SEWN => format!("{} {}", self.fabric(&unit.first), self.fabric(second)),
            Some(second) => {
                let turn = unit.turn.unwrap_or_default();
                let (first, second) = (self.fabric(&unit.first), self.fabric(second));
                let stands = if self.stands(unit) { " print upright" } else { "" };
                format!("{first} {}, {second} {}{stands}", corner(turn), corner(turn + 2))
            }
        };
        let (finished, unfinished) = (self.size(first.finished), self.size(first.unfinished));
        let mut measures = format!("{unfinished} finishes {finished}");
        if let (Some(width), Some(height)) = first.cut
            && (Size { width, height }) != first.unfinished
        {
            measures = format!("cut {} {measures}", self.size(Size { width, height }));
        }
        let [unit_cell, _, fabric_cell, from_cell, size_cell] = cells else {
            return Err(Fault::new(address, "its line in build-list.html is not whole"));
        };
        same(address, "name", unit_cell, &name)?;
        same(address, "fabrics", fabric_cell, &fabrics)?;
        same(address, "source", from_cell, &unit.from)?;
        same(address, "size", size_cell, &measures)?;
        let first_of_all = staystitched(first).map(|words| format!("First {words}. ")).unwrap_or_default();
        same(address, "cut", also, &format!("{first_of_all}{}", self.also(first, unit, row)))
    }

    /// Whether a print of a unit stands upright.
    fn stands(&self, unit: &UnitStep) -> bool {
        [Some(&unit.first), unit.second.as_ref()].into_iter().flatten().any(|letter| self.scene.is_upright(letter))
    }

    fn also(&self, step: &Step, unit: &UnitStep, row: &[&Step]) -> String {
        let Some((width, side)) = unit.strip else { return self.over(step, row) };
        let address = step.line.text("address");
        let lies = if self.stands(unit) { "lying" } else { "turned" };
        match self.supplies.get(unit.from.as_str()).map(|supply| &supply.gives) {
            None => {
                let later = numbers(&unit.from) > numbers(address);
                let make = if later { format!(" Make {} first.", unit.from) } else { String::new() };
                format!("Slice: the strip from {} goes to {address}.{make}", unit.from)
            }
            Some(Gives::Hand(hand)) if matches!(hand.kind, HandKind::Slice(_)) => {
                format!("Slice: a strip on hand, {lies} so; nothing is cut.")
            }
            Some(_) => {
                let slice = unit.kind.ends_with(" slice");
                let what = if slice { "Slice" } else { "Trimmed" };
                let end = match &unit.offcut {
                    _ if slice => " and use that strip.".into(),
                    Some(to) => format!("; the strip from {address} goes to {to}."),
                    None => ".".to_owned(),
                };
                format!("{what}: {lies} so, cut {} off the {}{end}", self.show(width), side_words(side))
            }
        }
    }

    fn over(&self, step: &Step, row: &[&Step]) -> String {
        let over = step.cut.0.map_or(Length::ZERO, |width| width - step.unfinished.width);
        let is = |other: Option<&&Step>| other.is_some_and(|other| std::ptr::eq(*other, step));
        let place = match (is(row.first()), is(row.last())) {
            (true, true) => "for both ends of the row",
            (true, false) => "at the row's left end",
            _ => "at the row's right end",
        };
        if over == Length::ZERO { String::new() } else { format!("{} of it is spare, {place}.", self.show(over)) }
    }

    fn check(&self, row: &Step, units: &[&Step], terms: &[String]) -> String {
        let mut check = String::new();
        if units.len() > 1 {
            check += &format!("{} = {} finished. ", terms.join(" + "), self.show(row.finished.width));
            check += &self.pressed(units);
        }
        let spare = self.spare(row, units);
        let measures = if spare.is_empty() { "It measures" } else { "Then it measures" };
        let join = joined(row, "the row above").map(|words| format!(" Then {words}.")).unwrap_or_default();
        format!("{check}{spare}{measures} {}.{join}", self.size(row.unfinished))
    }

    /// Which way most of a row's seams are pressed, those that are not, and where a dark allowance is trimmed.
    fn pressed(&self, units: &[&Step]) -> String {
        let seams: Vec<(Press, &str)> =
            units.iter().filter_map(|step| Some((step.press?, step.line.text("address")))).collect();
        if seams.iter().any(|(press, _)| *press == Press::Open) {
            return "Press its seams open. ".into();
        }
        let on = seams.iter().filter(|(press, _)| *press == Press::On).count();
        let (most, way, other) =
            if 2 * on > seams.len() { (Press::On, "right", "left") } else { (Press::Back, "left", "right") };
        let others: Vec<&str> = seams.iter().filter(|(press, _)| *press != most).map(|(_, at)| *at).collect();
        let shows = seams.iter().filter(|(_, at)| self.written.tones.get(*at) == Some(&Tone::Shows));
        let shows: Vec<&str> = shows.map(|(_, at)| *at).collect();
        let but = if others.is_empty() {
            String::new()
        } else {
            format!(", but those before {} to the {other}", others.join(", "))
        };
        let trim = if shows.is_empty() {
            String::new()
        } else {
            let before = shows.join(", ");
            format!(
                "Before {before} trim the dark allowance a little narrower than the pale one, so that it does not show. "
            )
        };
        format!("Press its seams to the {way}{but}. {trim}")
    }

    fn spare(&self, row: &Step, units: &[&Step]) -> String {
        let over = |step: Option<&&Step>| {
            step.is_some_and(|step| step.cut.0.is_some_and(|width| width > step.unfinished.width))
        };
        let address = numbers(row.line.text("address"));
        let alike = |step: &&Step| {
            let other = numbers(step.line.text("address"));
            step.record == Record::Row && other.iter().take(2).eq(address.iter().take(2))
        };
        let beside = match address.last() {
            Some(1) if self.steps.iter().filter(alike).count() < 2 => None,
            Some(1) => Some("below"),
            _ => Some("above"),
        };
        let fit = match (over(units.first()), over(units.last()), beside) {
            (false, false, _) => return String::new(),
            (true, true, Some(row)) => format!("match its middle to the middle of the row {row}, and trim both ends"),
            (true, false, Some(row)) => format!("line up its right end with the row {row}, and trim the left end"),
            (false, true, Some(row)) => format!("line up its left end with the row {row}, and trim the right end"),
            (true, true, None) => "trim both ends alike".into(),
            (true, false, None) => "trim the left end".into(),
            (false, true, None) => "trim the right end".into(),
        };
        let sewn = self.show(row.cut.0.unwrap_or(row.unfinished.width));
        format!("As sewn it is {sewn} wide: {fit} to {}. ", self.show(row.unfinished.width))
    }
}
