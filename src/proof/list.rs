//! build-list.html against all else that is written: every number of its rows, pairs, fillers, pieces on hand and joins.

use std::collections::BTreeMap;

use resvg::usvg::roxmltree::{Document, Node, ParsingOptions};

use super::cutting::{Gives, HandKind, Method, Pairs, Supply};
use super::fault::{Fault, short};
use super::iron::{Tone, Tones};
use super::paper::Size;
use super::rows::{Press, Record, Step, UnitStep};
use super::scene::Scene;
use super::words::{joined, numbers, side_words, staystitched};
use crate::measure::Length;

struct Reader<'a> {
    scene: &'a Scene,
    steps: &'a [Step],
    supplies: BTreeMap<&'a str, &'a Supply>,
    tones: &'a Tones,
}

/// Checks the list; the lines of the tables were found to be in order.
pub fn check(scene: &Scene, steps: &[Step], supplies: &[Supply], tones: &Tones, text: &str) -> Result<(), Fault> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let document =
        Document::parse_with_options(text, options).map_err(|error| fault(format!("it cannot be read: {error}")))?;
    let by_id = supplies.iter().map(|supply| (supply.line.text("id"), supply)).collect();
    let reader = Reader { scene, steps, supplies: by_id, tones };
    reader.rows(&document)?;
    let of = |wanted: fn(&Gives) -> bool| supplies.iter().filter(move |supply| wanted(&supply.gives));
    reader.table(&document, "pairs", of(|gives| matches!(gives, Gives::Units(_))).map(|s| reader.supply(s)))?;
    reader.table(&document, "fillers", of(|gives| matches!(gives, Gives::Fillers(_))).map(|s| reader.supply(s)))?;
    reader.table(&document, "hand", of(|gives| matches!(gives, Gives::Hand(_))).map(|s| reader.supply(s)))?;
    reader.table(&document, "parts", reader.parts().into_iter())
}

fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("build-list.html", what)
}

/// All words of an element, one space between them.
fn words(node: Node) -> String {
    let mut words = String::new();
    for part in node.descendants() {
        match part.is_text() {
            true => words.push_str(part.text().unwrap_or_default()),
            false if part.has_tag_name("br") => words.push(' '),
            false => {}
        }
    }
    collapsed(&words)
}

fn collapsed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn has_class(node: &Node, class: &str) -> bool {
    node.attribute("class").is_some_and(|classes| classes.split(' ').any(|one| one == class))
}

fn of_class<'a, 'b>(node: Node<'a, 'b>, class: &'static str) -> impl Iterator<Item = Node<'a, 'b>> {
    node.descendants().filter(move |node| has_class(node, class))
}

fn same(at: &str, what: &str, written: &str, due: &str) -> Result<(), Fault> {
    match written == collapsed(due) {
        true => Ok(()),
        false => {
            let what = format!("in build-list.html its {what} says `{}`, not `{}`", short(written), short(due));
            Err(Fault::new(at, what))
        }
    }
}

impl Reader<'_> {
    fn size(&self, size: Size) -> String {
        format!("{} × {}", self.scene.ruler.number(size.width), self.scene.show(size.height))
    }

    fn fabric(&self, letter: &str) -> String {
        let name = self.scene.fabrics.get(letter).map_or("", |fabric| fabric.name.as_str());
        format!("{letter} {name}")
    }

    /// Every line of a table, cell by cell; a cell that is to be ticked has no words.
    fn table(
        &self,
        document: &Document,
        class: &'static str,
        due: impl Iterator<Item = Vec<String>>,
    ) -> Result<(), Fault> {
        let tables = of_class(document.root(), class).filter(|node| node.has_tag_name("table"));
        let mut lines = tables.flat_map(|table| table.descendants().filter(|node| node.has_tag_name("tr")).skip(1));
        for due in due {
            let name = due.first().cloned().unwrap_or_default();
            let line = lines.next().ok_or_else(|| fault(format!("{name} is missing")))?;
            let cells: Vec<Node> = line.children().filter(|node| node.has_tag_name("td")).collect();
            if cells.len() != due.len() {
                return Err(fault(format!("the line of {name} has {} cells", cells.len())));
            }
            for (cell, due) in cells.into_iter().zip(&due) {
                same(&name, cell.attribute("data-label").unwrap_or("cell"), &words(cell), due)?;
            }
        }
        lines.next().map_or(Ok(()), |_| Err(fault(format!("there is a line too many in its table of {class}"))))
    }

    fn rows(&self, document: &Document) -> Result<(), Fault> {
        let mut articles = document.descendants().filter(|node| node.has_tag_name("article"));
        let mut names = of_class(document.root(), "row-name");
        let mut units: Vec<&Step> = Vec::new();
        for step in self.steps {
            match step.record {
                Record::Unit => units.push(step),
                Record::Row => {
                    let address = step.line.text("address");
                    let missing = || fault(format!("the row {address} is missing"));
                    same(address, "name on the map", &words(names.next().ok_or_else(missing)?), address)?;
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

    fn row(&self, row: &Step, units: &[&Step], article: Node) -> Result<(), Fault> {
        let address = row.line.text("address");
        let heads = article.descendants().filter(|node| node.has_tag_name("h4"));
        let head: Vec<String> = heads.map(words).collect();
        let plural = if units.len() == 1 { "unit" } else { "units" };
        let due = format!("Row {address} {} {plural}, {} finished", units.len(), self.size(row.finished));
        same(address, "head", &head.join(" "), &due)?;
        let mut last = 0;
        for number in of_class(article, "num").map(words) {
            let after = number.parse::<usize>().ok().filter(|number| *number > last && *number <= units.len());
            last = after.ok_or_else(|| Fault::new(address, "a number below its drawing is not in order"))?;
        }
        let lines =
            of_class(article, "units").flat_map(|table| table.children().filter(|node| node.has_tag_name("tbody")));
        let lines: Vec<Node> = lines.flat_map(|body| body.children().filter(|node| node.has_tag_name("tr"))).collect();
        let (mut rest, mut terms) = (units, Vec::new());
        let mut lines = lines.into_iter().peekable();
        while let Some(line) = lines.next() {
            let also = lines.next_if(|line| has_class(line, "also"));
            let cells: Vec<String> = line.children().filter(|node| node.has_tag_name("td")).map(words).collect();
            let span = cells.first().map_or(1, |cell| self.span(cell, rest));
            let (run, after) =
                rest.split_at_checked(span).ok_or_else(|| Fault::new(address, "it lists a unit too many"))?;
            rest = after;
            let Some(first) = run.first() else { break };
            self.unit(run, &cells, units, &also.map(words).unwrap_or_default())?;
            let width = self.scene.ruler.number(first.finished.width);
            terms.push(if span > 1 { format!("{span} × {width}") } else { width });
        }
        if !rest.is_empty() {
            return Err(Fault::new(address, "a unit is missing in build-list.html"));
        }
        let check = of_class(article, "check").next().and_then(|node| node.children().find(Node::is_element));
        same(address, "check", &check.map(words).unwrap_or_default(), &self.check(row, units, &terms))
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
            Some(second) => {
                let turn = unit.turn.unwrap_or_default();
                let (first, second) = (self.fabric(&unit.first), self.fabric(second));
                format!("{first} {}, {second} {}", corner(turn), corner(turn + 2))
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

    fn also(&self, step: &Step, unit: &UnitStep, row: &[&Step]) -> String {
        let Some((width, side)) = unit.strip else { return self.over(step, row) };
        let address = step.line.text("address");
        match self.supplies.get(unit.from.as_str()).map(|supply| &supply.gives) {
            None => {
                let later = numbers(&unit.from) > numbers(address);
                let make = if later { format!(" Make {} first.", unit.from) } else { String::new() };
                format!("Slice: the strip from {} goes to {address}.{make}", unit.from)
            }
            Some(Gives::Hand(hand)) if matches!(hand.kind, HandKind::Slice(_)) => {
                "Slice: a strip on hand, turned so; nothing is cut.".into()
            }
            Some(_) => {
                let slice = unit.kind.ends_with(" slice");
                let what = if slice { "Slice" } else { "Trimmed" };
                let end = match &unit.offcut {
                    _ if slice => " and use that strip.".into(),
                    Some(to) => format!("; the strip from {address} goes to {to}."),
                    None => ".".to_owned(),
                };
                format!("{what}: turned so, cut {} off the {}{end}", self.scene.show(width), side_words(side))
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
        if over == Length::ZERO { String::new() } else { format!("{} of it is spare, {place}.", self.scene.show(over)) }
    }

    fn check(&self, row: &Step, units: &[&Step], terms: &[String]) -> String {
        let mut check = String::new();
        if units.len() > 1 {
            check += &format!("{} = {} finished. ", terms.join(" + "), self.scene.show(row.finished.width));
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
        let shows = seams.iter().filter(|(_, at)| self.tones.get(*at) == Some(&Tone::Shows));
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
        let sewn = self.scene.show(row.cut.0.unwrap_or(row.unfinished.width));
        format!("As sewn it is {sewn} wide: {fit} to {}. ", self.scene.show(row.unfinished.width))
    }

    /// The cells of a line to cut.
    fn supply(&self, supply: &Supply) -> Vec<String> {
        let id = supply.line.text("id").to_owned();
        let (rows, tick) = (self.rows_of(&id), String::new());
        match &supply.gives {
            Gives::Units(pairs) => self.pairs(id, pairs, rows),
            Gives::Fillers(fillers) => {
                vec![id, self.fabric(&fillers.fabric), self.size(fillers.cut), fillers.count.to_string(), rows, tick]
            }
            Gives::Hand(hand) => {
                let fabrics: Vec<String> = hand.fabrics.iter().map(|letter| self.fabric(letter)).collect();
                let what = match hand.kind {
                    HandKind::Unit => "triangle unit",
                    HandKind::Slice(true) => "strip; stood up, the tip in the upper left",
                    HandKind::Slice(false) => "strip; stood up, the tip in the upper right",
                    HandKind::Filler => "filler",
                };
                let (used, left) = (hand.needed.to_string(), hand.spare.to_string());
                vec![id, what.into(), fabrics.join(" "), self.size(hand.size), used, left, rows, tick]
            }
        }
    }

    fn pairs(&self, id: String, pairs: &Pairs, rows: String) -> Vec<String> {
        let method = match pairs.method {
            Method::Two => "two at a time",
            Method::Four => "four at a time",
            Method::Eight => "eight at a time",
        };
        let mut units = self.steps.iter().filter_map(|step| step.unit.as_ref());
        let size = units.find(|unit| unit.from == id).and_then(|unit| unit.kind.split(' ').next()).unwrap_or_default();
        let show = |length| self.scene.show(length);
        let whole = pairs.bought == pairs.square || self.scene.asked.cut_squares;
        let square = match whole {
            true => show(pairs.square),
            false => format!("{} a quarter of {}", show(pairs.square), show(pairs.bought)),
        };
        let [first, second] = &pairs.fabrics;
        vec![
            id,
            format!("{} {}", self.fabric(first), self.fabric(second)),
            square,
            if pairs.press == "open" { method.into() } else { format!("{method}, press to {}", pairs.press) },
            pairs.pairs.to_string(),
            (u64::from(pairs.pairs) * u64::from(pairs.yields)).to_string(),
            pairs.spare.to_string(),
            show(pairs.trimmed),
            format!("{} {size}", show(pairs.trimmed - self.scene.both())),
            rows,
            String::new(),
        ]
    }

    /// The rows that take from a line, those of a column after its first two numbers: `2.1.3, 4, 7 to 9; 2.2.1`.
    fn rows_of(&self, id: &str) -> String {
        let taken = self.steps.iter().filter(|step| step.unit.as_ref().is_some_and(|unit| unit.from == id));
        let mut columns: BTreeMap<Vec<u32>, Vec<u32>> = BTreeMap::new();
        for step in taken {
            let address = numbers(step.line.text("address"));
            let [band, column, row, ..] = address[..] else { continue };
            let rows = columns.entry(vec![band, column]).or_default();
            if rows.last() != Some(&row) {
                rows.push(row);
            }
        }
        let one = |(column, rows): (Vec<u32>, Vec<u32>)| {
            let mut words = Vec::new();
            let mut at = 0;
            while let Some(first) = rows.get(at) {
                let run = rows.iter().skip(at).zip(*first..).take_while(|(row, due)| *row == due).count();
                let step = if run < 3 { 1 } else { run };
                words.push(if run < 3 { first.to_string() } else { format!("{first} to {}", first + run as u32 - 1) });
                at += step;
            }
            let column: Vec<String> = column.iter().map(u32::to_string).collect();
            format!("{}.{}", column.join("."), words.join(", "))
        };
        columns.into_iter().map(one).collect::<Vec<_>>().join("; ")
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
