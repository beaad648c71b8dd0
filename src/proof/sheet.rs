//! Reading a csv file line by line, strictly.

use std::collections::BTreeMap;

use super::fault::{Fault, short};
use super::paper::Size;
use crate::measure::Length;

/// Most lines that are read, so that no sum of lengths overflows.
const MOST_LINES: usize = 1_000_000;
/// Most pieces that one line counts.
const MOST_PIECES: u32 = 1_000_000;

/// What a file must look like.
pub struct Layout {
    /// Its name.
    pub file: &'static str,
    /// Its columns; those that end in `*` hold lengths and are headed with their unit.
    pub columns: &'static [&'static str],
    /// The column that names a line.
    pub key: &'static str,
}

/// One line of a file.
pub struct Line {
    /// The address or id of the line, or the file and line where it has none.
    pub at: String,
    place: String,
    unit: &'static str,
    cells: BTreeMap<&'static str, String>,
}

/// Every line of `text`, with its lengths in `unit`.
pub fn lines(layout: &Layout, text: &str, unit: &'static str) -> Result<Vec<Line>, Fault> {
    let mut reader = csv::ReaderBuilder::new().from_reader(text.as_bytes());
    let names = names(layout, &mut reader, unit)?;
    let mut lines = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| unreadable(layout, &error))?;
        let number = record.position().map_or(0, csv::Position::line);
        if lines.len() == MOST_LINES {
            return Err(Fault::new(format!("{}:{number}", layout.file), format!("more than {MOST_LINES} lines")));
        }
        let cells: BTreeMap<_, _> = names.iter().copied().zip(record.iter().map(str::to_owned)).collect();
        let key = cells.get(layout.key).filter(|key| !key.is_empty()).map(|key| short(key));
        let at = key.unwrap_or_else(|| format!("{}:{number}", layout.file));
        lines.push(Line { at, place: format!("{} line {number}", layout.file), unit, cells });
    }
    Ok(lines)
}

/// The column that each heading stands for.
fn names(layout: &Layout, reader: &mut csv::Reader<&[u8]>, unit: &'static str) -> Result<Vec<&'static str>, Fault> {
    let headings = reader.headers().map_err(|error| unreadable(layout, &error))?;
    let at = || format!("{}:1", layout.file);
    let mut names = Vec::new();
    for heading in headings {
        let column = layout.columns.iter().find(|column| column.replace('*', &format!("_{unit}")) == heading);
        let name = column.map(|column| column.trim_end_matches('*'));
        let name = name.ok_or_else(|| Fault::new(at(), format!("the column `{}` is not known", short(heading))))?;
        if names.contains(&name) {
            return Err(Fault::new(at(), format!("the column `{heading}` stands twice")));
        }
        names.push(name);
    }
    let missing = layout.columns.iter().find(|column| !names.contains(&column.trim_end_matches('*')));
    match missing {
        Some(column) => {
            let heading = column.replace('*', &format!("_{unit}"));
            Err(Fault::new(at(), format!("the column `{heading}` is missing")))
        }
        None => Ok(names),
    }
}

fn unreadable(layout: &Layout, error: &csv::Error) -> Fault {
    let line = error.position().map_or(1, csv::Position::line);
    let what = match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            format!("the line has {len} cells and the heading has {expected_len}")
        }
        _ => "the line cannot be read".to_owned(),
    };
    Fault::new(format!("{}:{line}", layout.file), what)
}

impl Line {
    /// A fault of this line.
    pub fn fault(&self, what: impl std::fmt::Display) -> Fault {
        Fault::new(&self.at, format!("{what} ({})", self.place))
    }

    /// The cell as written.
    pub fn text(&self, name: &str) -> &str {
        self.cells.get(name).map_or("", String::as_str)
    }

    /// The cell where there is something in it.
    pub fn some(&self, name: &str) -> Option<&str> {
        Some(self.text(name)).filter(|text| !text.is_empty())
    }

    /// The cell, which must not be empty.
    pub fn due(&self, name: &str) -> Result<&str, Fault> {
        self.some(name).ok_or_else(|| self.fault(format!("the {} is missing", words(name))))
    }

    /// One of the words that the cell may hold.
    pub fn choice<T: Copy>(&self, name: &str, choices: &[(&str, T)]) -> Result<T, Fault> {
        let text = self.text(name);
        let found = choices.iter().find(|(word, _)| *word == text).map(|(_, choice)| *choice);
        found.ok_or_else(|| {
            let known: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
            self.fault(format!("the {} is `{}` and must be one of {}", words(name), short(text), known.join(", ")))
        })
    }

    /// A length of more than nothing.
    pub fn length(&self, name: &str) -> Result<Length, Fault> {
        self.at_least(name, Length::from_ticks(1))
    }

    /// A length from an edge.
    pub fn place(&self, name: &str) -> Result<Length, Fault> {
        self.at_least(name, Length::ZERO)
    }

    fn at_least(&self, name: &str, least: Length) -> Result<Length, Fault> {
        let text = self.due(name)?;
        nearest(text, self.unit).filter(|length| *length >= least).ok_or_else(|| {
            self.fault(format!("the {} is `{}` and must be a length, as `9.5`", words(name), short(text)))
        })
    }

    /// A length, where one is written.
    pub fn some_length(&self, name: &str) -> Result<Option<Length>, Fault> {
        self.some(name).map(|_| self.length(name)).transpose()
    }

    /// The lengths `{name}_width` and `{name}_height`.
    pub fn size(&self, name: &str) -> Result<Size, Fault> {
        let side = |side| self.length(&format!("{name}{side}"));
        Ok(Size { width: side("width")?, height: side("height")? })
    }

    /// A whole number of pieces.
    pub fn count(&self, name: &str) -> Result<u32, Fault> {
        let text = self.due(name)?;
        let plain = text.bytes().all(|byte| byte.is_ascii_digit());
        let count = if plain { text.parse().ok() } else { None };
        count.filter(|count| *count <= MOST_PIECES).ok_or_else(|| {
            self.fault(format!("the {} is `{}` and must be a whole number of pieces", words(name), short(text)))
        })
    }

    /// Refuses anything in cells that do not apply.
    pub fn nothing_in(&self, names: &[&str]) -> Result<(), Fault> {
        match names.iter().find_map(|name| Some((name, self.some(name)?))) {
            Some((name, text)) => {
                Err(self.fault(format!("`{}` is written as its {}, which it has not", short(text), words(name))))
            }
            None => Ok(()),
        }
    }
}

/// A column's name in words.
fn words(name: &str) -> String {
    name.replace('_', " ")
}

/// The length that the decimal says; one without an end in this unit may lack what is past its tenth place.
fn nearest(text: &str, unit: &str) -> Option<Length> {
    let (whole, places) = text.split_once('.').unwrap_or((text, ""));
    let digits = format!("{whole}{places}");
    let plain = !whole.is_empty() && digits.len() <= 18 && digits.bytes().all(|byte| byte.is_ascii_digit());
    let one = format!("1{unit}").parse::<Length>().ok()?;
    let scaled = i128::from(plain.then(|| digits.parse::<i64>().ok())??) * i128::from(one.ticks());
    let scale = 10_i128.pow(u32::try_from(places.len()).ok()?);
    let ticks = (scaled * 2 + scale).div_euclid(scale * 2);
    let near = (scaled - ticks * scale).abs() * 1000 < scale;
    let length = Length::from_ticks(i64::try_from(ticks).ok()?);
    Some(length).filter(|length| near && *length <= Length::LIMIT)
}
