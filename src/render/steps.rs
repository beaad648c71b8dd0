//! The work step by step, in the words of the list.

use super::Options;
use super::cautions::{BLADE, IRON, MANUALS, NEEDLE};
use super::html::{PINNING, SQUARE, diagonal, drawing};
use super::method_words::{BIAS, Method, TRIMMING};
use super::palette::Palette;
use super::press_words::{join, met, seam, staystitch, way};
use super::text::{by, capital, count, listed};
use super::words::{cut_words, row_words, size_word, source, unit_is};
use crate::cutting::{Batch, SheetCut, Size};
use crate::fabric::Print;
use crate::make::{Chapter, Joint, Part, RowWork, Source, Step, Task, UnitWork, Work, darker};
use crate::measure::Ruler;
use crate::plan::{Address, Item, Plan};
use crate::unit::Diagonal;

/// A chapter as it is called, what is to be known in it, and what can hurt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChapterWords {
    /// What it is called.
    pub title: &'static str,
    /// What is to be known before its first step.
    pub words: &'static str,
    /// The usual cautions.
    pub cautions: Vec<&'static str>,
}

/// A step in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepWords {
    /// What it is, in a few words.
    pub title: String,
    /// What is done, sentence by sentence.
    pub words: Vec<String>,
    /// Which way a seam is pressed: `left`, `up`, `open` and so on, or a fabric's letter; nothing where none is.
    pub press: String,
    /// The size of a piece to cut.
    pub size: Option<Size>,
    /// A pair of squares with what is sewn and cut, as SVG.
    pub drawing: Option<String>,
}

/// What a chapter is called and what is to be known in it.
pub fn chapter_words(chapter: Chapter) -> ChapterWords {
    let blade = || BLADE.into_iter().chain([MANUALS]).collect::<Vec<_>>();
    let iron = || vec![IRON, MANUALS];
    let needle = || vec![NEEDLE, IRON, MANUALS];
    let (title, words, cautions) = match chapter {
        Chapter::Cut => (
            "Cut",
            "Fabric by fabric. Cut right across the whole width of each piece of cloth first; the list draws how.",
            blade(),
        ),
        Chapter::Pair => {
            ("Pair squares", "One square of each fabric makes a pair. Keep each line under its number.", vec![])
        }
        Chapter::Sew => {
            ("Sew pairs", "Sew a line in one chain, pair after pair without cutting the thread.", vec![NEEDLE, MANUALS])
        }
        Chapter::Apart => ("Cut apart", "Keep the units of a line together under its number, spare ones too.", blade()),
        Chapter::Press => ("Press units", "Press, do not slide the iron.", iron()),
        Chapter::Trim => ("Trim units", TRIMMING, blade()),
        Chapter::Strips => (
            "Cut strips off",
            "Turn each unit as it is drawn, measure the strip from the raw edge on the side named, and cut. Pin its address \
             to each strip that is used again.",
            blade(),
        ),
        Chapter::OnHand => ("Lay out what is on hand", "Sewn and cut before: lay it out and measure it first.", vec![]),
        Chapter::Rows => (
            "Sew rows",
            "Lay each row out before you sew it. A unit measures what its line in the list says before it is sewn.",
            needle(),
        ),
        Chapter::Columns => ("Join rows", PINNING, needle()),
        Chapter::Bands => (
            "Join columns",
            "Measure the columns first: they must be equally tall. Match their middles and ends, pin between, and sew.",
            needle(),
        ),
        Chapter::Top => (
            "Join bands",
            "Measure the bands first: they must be equally wide. Match their middles and ends, pin between, and sew.",
            needle(),
        ),
        Chapter::Finish => ("Finish the top", "", needle()),
    };
    ChapterWords { title, words, cautions }
}

/// Each step in words.
pub fn step_words(plan: &Plan, work: &Work, steps: &[Step]) -> Vec<StepWords> {
    let desk = Desk { plan, work, palette: Palette::new(plan, &Options::default()), ruler: plan.request.ruler };
    steps.iter().map(|step| desk.step(step)).collect()
}

struct Desk<'a> {
    plan: &'a Plan,
    work: &'a Work,
    palette: Palette<'a>,
    ruler: Ruler,
}

impl Desk<'_> {
    fn step(&self, step: &Step) -> StepWords {
        let mut drawn = None;
        let (mut press, mut size) = (String::new(), None);
        let (title, words) = match &step.task {
            Task::Squares(print, batch) => {
                size = Some(Size { width: batch.square.cut, height: batch.square.cut });
                self.squares(*print, batch)
            }
            Task::Fillers(index) => {
                size = Some(self.work.fillers[*index].cut);
                self.fillers(*index)
            }
            Task::Pairs(batch) => {
                if step.chapter < Chapter::Press {
                    drawn = Some(drawing(batch.at_a_time).into_string());
                } else if step.chapter == Chapter::Press {
                    press = darker(self.plan, batch).map_or("open", |print| self.palette.letter(print)).to_owned();
                }
                self.pairs(step.chapter, batch)
            }
            Task::Strip(at) => self.strip(*at),
            Task::OnHand(index) => self.on_hand(*index),
            Task::Join(before, part, joint) => {
                press = way(joint.way, matches!(part, Part::Unit(_) | Part::Column(..))).to_owned();
                self.join(*before, *part, *joint)
            }
            Task::Row(at) => self.row(*at),
            Task::Finish => self.finish(),
        };
        StepWords { title, words, press, size, drawing: drawn }
    }

    /// `sea (A)`.
    fn fabric(&self, print: Print) -> String {
        let (name, letter) = (self.palette.name(print), self.palette.letter(print));
        if name == letter { name.to_owned() } else { format!("{name} ({letter})") }
    }

    fn squares(&self, print: Print, batch: &Batch) -> (String, Vec<String>) {
        let (id, fabric) = (&batch.id, self.fabric(print));
        let sheets = self.sheets(print, id);
        let whole = !sheets.is_empty() && sheets.iter().all(|sheet| sheet.kind.is_square() && sheet.is_whole());
        let squares = count(batch.pairs, "square", "squares");
        let size = self.ruler.show(batch.square.cut);
        let words = if whole {
            vec![format!("Take {squares} of {size} of {fabric} for {id}: whole, nothing is cut."), names(&sheets)]
        } else {
            vec![format!("Cut {squares} of {size} of {fabric} for {id}."), names(&sheets)]
        };
        (
            format!("{}: squares for {id}", capital(&fabric)),
            words.into_iter().filter(|words| !words.is_empty()).collect(),
        )
    }

    fn fillers(&self, index: usize) -> (String, Vec<String>) {
        let filler = &self.work.fillers[index];
        let (id, fabric) = (&filler.id, self.fabric(filler.fabric));
        let size = by(self.ruler, filler.cut);
        let pieces = count(filler.count, "rectangle", "rectangles");
        let upright = self.plan.fabrics[filler.fabric].directional;
        let words = [
            format!("Cut {pieces} of {size} of {fabric}, wide by high, for {id}."),
            if upright { "Its print stands upright: keep its top up.".into() } else { String::new() },
            names(&self.sheets(filler.fabric, id)),
        ];
        (format!("{}: {id}", capital(&fabric)), words.into_iter().filter(|words| !words.is_empty()).collect())
    }

    /// The sheets that pieces of a number are cut from.
    fn sheets(&self, print: Print, id: &str) -> Vec<&SheetCut> {
        let Some(cut) = self.work.cloth.get(print) else { return Vec::new() };
        let holds = |sheet: &&SheetCut| {
            let mut pieces = sheet.layout.strips.iter().flat_map(|strip| &strip.cuts);
            pieces.any(|at| cut.pieces.get(at.piece).is_some_and(|piece| piece.id == id))
        };
        cut.sheets.iter().filter(holds).collect()
    }

    fn pairs(&self, chapter: Chapter, batch: &Batch) -> (String, Vec<String>) {
        let (id, how) = (&batch.id, Method::of(batch.at_a_time));
        let (first, second) = (self.fabric(batch.first), self.fabric(batch.second));
        let show = |length| self.ruler.show(length);
        // Of pairs that an earlier list had cut it says no number.
        let all = |one: &str, many: &str, n: u32| if n == 0 { format!("all {many}") } else { count(n, one, many) };
        let pairs = all("pair", "pairs", batch.pairs);
        let units = all("unit", "units", batch.made());
        let (does, words) = match chapter {
            Chapter::Pair => {
                let size = show(batch.square.cut);
                let laid = batch.upright.map(|_| self.laid(batch));
                let what = format!("Make {pairs} of {first} and {second}, squares of {size}.");
                ("pair", vec![Some(what), Some(format!("{}.", how.lay)), laid])
            }
            Chapter::Sew => {
                let seam = show(self.plan.request.seam.working);
                let chain = if batch.pairs == 1 { "" } else { ", in one chain" };
                let what = format!("Sew {pairs} of {first} and {second}{chain}: {seam} {}.", how.sew);
                ("sew", vec![Some(what)])
            }
            Chapter::Apart => {
                let what = format!("{} of {first} and {second}: {}.", capital(&pairs), how.cut);
                let gives = format!("Each pair gives {} units.", batch.at_a_time.yields());
                ("cut apart", vec![Some(what), Some(gives)])
            }
            Chapter::Press => {
                let side = darker(self.plan, batch).map(|print| format!("to {}", self.fabric(print)));
                let side = side.unwrap_or_else(|| "open".into());
                let bias = (batch.at_a_time.yields() == 4).then(|| format!("{} {}", BIAS.0, BIAS.1));
                ("press", vec![Some(format!("Press the seams of {units} {side}.")), bias])
            }
            _ => {
                let spare = (batch.pairs > 0 && batch.spare() > 0).then(|| {
                    format!(
                        "{} spare: keep {} under {id}.",
                        batch.spare(),
                        if batch.spare() == 1 { "it" } else { "them" }
                    )
                });
                let (trimmed, finished) = (show(batch.trimmed), show(batch.finished));
                let what = format!("Trim {units} of {first} and {second} to {trimmed}. They finish at {finished}.");
                ("trim", vec![Some(what), spare])
            }
        };
        let title = format!("{id}: {does} {} with {}", self.palette.name(batch.first), self.palette.name(batch.second));
        (title, words.into_iter().flatten().collect())
    }

    /// How squares lie of which a print stands upright.
    fn laid(&self, batch: &Batch) -> String {
        let Some(upright) = batch.upright else { return String::new() };
        let line = match upright.diagonal {
            Some(Diagonal::Rising) => "line from lower left to upper right",
            Some(Diagonal::Falling) => "line from upper left to lower right",
            None => "both lines",
        };
        let (below, above) = (self.fabric(batch.below(upright)), self.fabric(batch.above(upright)));
        let top = upright.top_to().map(|side| format!(", its top to the {side}")).unwrap_or_default();
        format!("Print upright: {line}; {below} below, its top up; {above} on it, face down{top}.")
    }

    fn strip(&self, at: Address) -> (String, Vec<String>) {
        let Some((row, unit)) = self.unit(at) else { return (at.to_string(), Vec::new()) };
        let is =
            format!("Take one from {}: {}.", source(self.work, unit), unit_is(row, unit, &self.palette, self.ruler));
        let cut = cut_words(self.work, unit, self.ruler).map(|words| format!("{}.", capital(&words)));
        (format!("Unit {at}: cut a strip off"), std::iter::once(is).chain(cut).collect())
    }

    fn on_hand(&self, index: usize) -> (String, Vec<String>) {
        let hand = &self.work.hand[index];
        let what = match hand.item {
            Item::Unit { .. } => count(hand.used, "triangle unit", "triangle units"),
            Item::Slice { .. } => count(hand.used, "strip", "strips"),
            Item::Filler { .. } => count(hand.used, "filler", "fillers"),
        };
        let fabrics: Vec<String> = hand.item.fabrics().into_iter().map(|print| self.fabric(print)).collect();
        let words = format!("Lay out {what} of {}, and measure them.", listed(&fabrics));
        (format!("{}: on hand", hand.id), vec![words])
    }

    fn unit(&self, at: Address) -> Option<(&RowWork, &UnitWork)> {
        let rows = self.work.rows.iter();
        rows.flat_map(|row| row.units.iter().map(move |unit| (row, unit))).find(|(_, unit)| unit.placed.address == at)
    }

    fn row_at(&self, at: Address) -> Option<&RowWork> {
        self.work.rows.iter().find(|row| row.address == at)
    }

    /// What a unit is, and where it lies ready.
    fn lies(&self, at: Address) -> String {
        let Some((row, unit)) = self.unit(at) else { return at.to_string() };
        if unit.source == Source::Sewn {
            let fabrics =
                [Some(unit.first), unit.second].into_iter().flatten().map(|print| self.palette.name(print).to_owned());
            return format!("{at}, sewn already: {} of {}.", size_word(unit), listed(&fabrics.collect::<Vec<_>>()));
        }
        let first = staystitch(unit).map(|words| format!(" First {words}.")).unwrap_or_default();
        let from = match unit.source {
            Source::Offcut(from) => format!("the strip from {from}"),
            _ => source(self.work, unit),
        };
        format!("{at}, {from}: {}.{first}", unit_is(row, unit, &self.palette, self.ruler))
    }

    fn join(&self, before: Part, part: Part, joint: Joint) -> (String, Vec<String>) {
        match (before, part) {
            (Part::Unit(left), Part::Unit(right)) => {
                let one = match left.unit {
                    1 => self.lies(left),
                    _ => format!("the row as it is so far, to {left}."),
                };
                let press = match joint.meets {
                    0 => format!("Then {}.", seam(joint, "this seam")),
                    _ => format!("Then {}. {}.", seam(Joint { meets: 0, ..joint }, "this seam"), capital(&met(joint))),
                };
                let row = right.row_words();
                let words = vec![format!("Left: {one}"), format!("Right: {}", self.lies(right)), press];
                (format!("Row {row}: {} to {}", right.unit, left.unit), words)
            }
            _ => {
                let upright = matches!(part, Part::Column(..));
                let words = format!("{}: {}.", capital(&named(part)), join(joint, &named(before), upright));
                let measure = self.measures(part).map(|size| format!("All of it then measures {size}."));
                (
                    format!("{} to {}", capital(&named(part)), named(before)),
                    std::iter::once(words).chain(measure).collect(),
                )
            }
        }
    }

    /// What is measured once the last part of a whole is joined.
    fn measures(&self, part: Part) -> Option<String> {
        let (request, bands) = (&self.plan.request, &self.plan.bands);
        let size = |width, height| by(self.ruler, Size { width, height }.unfinished(request.seam.both()));
        match part {
            Part::Unit(_) => None,
            Part::Row(at) => {
                let band = bands.get(at.band - 1)?;
                let column = band.columns.get(at.column - 1).filter(|column| column.rows.len() == at.row)?;
                Some(size(request.grid * column.width, request.grid * band.height))
            }
            Part::Column(band, column) => {
                let band = bands.get(band - 1).filter(|band| band.columns.len() == column)?;
                Some(size(request.width, request.grid * band.height))
            }
            Part::Band(band) => (bands.len() == band).then(|| size(request.width, request.height)),
        }
    }

    fn row(&self, at: Address) -> (String, Vec<String>) {
        let address = at.row_words();
        let Some(row) = self.row_at(at) else { return (address, Vec::new()) };
        let (trim, seams) = row_words(self.work, row, self.ruler);
        let measures = format!("It measures {}.", by(self.ruler, row.unfinished));
        let one = (row.units.len() == 1).then(|| self.lies(at));
        let words = [one, Some(format!("{}.", capital(&seams))), trim.map(|trim| format!("{}.", capital(&trim)))];
        let does = if row.units.len() == 1 { "measure" } else { "press and measure" };
        (format!("Row {address}: {does}"), words.into_iter().flatten().chain([measures]).collect())
    }

    fn finish(&self) -> (String, Vec<String>) {
        let [measure, then, last] = SQUARE;
        let about = self.ruler.show(diagonal(self.plan));
        ("The top: is it square?".into(), vec![format!("{measure} {about} {then}"), last.into()])
    }
}

fn named(part: Part) -> String {
    match part {
        Part::Unit(at) => format!("unit {at}"),
        Part::Row(at) => format!("row {}", at.row_words()),
        Part::Column(band, column) => format!("column {band}.{column}"),
        Part::Band(band) => format!("band {band}"),
    }
}

/// `Out of .`
fn names(sheets: &[&SheetCut]) -> String {
    let names: Vec<String> = sheets.iter().map(|sheet| sheet.id.clone()).collect();
    if names.is_empty() { String::new() } else { format!("Out of {}.", listed(&names)) }
}
