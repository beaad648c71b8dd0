//! Every unit, row, column and band in sewing order, as a table.

use super::palette::Palette;
use super::press_words::{join, way};
use super::text::{count, decimal};
use super::words::{row_words, source, unit_words};
use super::{Options, RenderError};
use crate::cutting::Size;
use crate::make::{Joint, RowWork, UnitWork, Work};
use crate::measure::{Length, Ruler};
use crate::plan::{Band, Column, Plan};

const NAME: &str = "rows.csv";

/// One line of the table, empty where nothing applies.
#[derive(Default)]
struct Line {
    record: &'static str,
    address: String,
    kind: String,
    first: String,
    second: String,
    turn: String,
    finished: Option<Size>,
    unfinished: Option<Size>,
    cut: (Option<Length>, Option<Length>),
    from: String,
    strip: Option<Length>,
    strip_side: &'static str,
    offcut: String,
    joint: Option<(Joint, bool)>,
    bias: String,
    words: String,
}

/// The rows as CSV.
pub fn rows_csv(plan: &Plan, work: &Work, options: &Options) -> Result<String, RenderError> {
    let palette = Palette::new(plan, options);
    let ruler = plan.request.ruler;
    let mut lines = Vec::new();
    let mut rows = work.rows.iter();
    for (i, band) in (1..).zip(&plan.bands) {
        for (j, column) in (1..).zip(&band.columns) {
            for row in rows.by_ref().take(column.rows.len()) {
                lines.extend(row.units.iter().map(|unit| unit_line(row, unit, work, &palette, ruler)));
                lines.push(row_line(work, row, ruler));
            }
            lines.push(column_line(plan, work, [i, j], band, column));
        }
        lines.push(band_line(plan, work, i, band));
    }
    lines.push(top_line(plan));
    super::cutting_csv::table(NAME, &header(ruler), lines.iter().map(|line| line.fields(ruler)))
}

fn header(ruler: Ruler) -> Vec<String> {
    let names = "record,address,kind,first,second,turn,finished_width_,finished_height_,unfinished_width_,\
                 unfinished_height_,cut_width_,cut_height_,from,strip_,strip_side,offcut,press,meets,nests,bias,words";
    names.split(',').map(|name| super::cutting_csv::with_unit(name, ruler)).collect()
}

impl Line {
    /// With the seam that joins it to the part before.
    fn joined(mut self, joint: Option<(Joint, bool)>, before: &str) -> Self {
        if let Some((joint, upright)) = joint {
            self.words = format!("{}; {}", self.words, join(joint, before, upright));
        }
        Self { joint, ..self }
    }

    fn fields(&self, ruler: Ruler) -> Vec<String> {
        let show = |length: Option<Length>| length.map(|length| decimal(ruler, length)).unwrap_or_default();
        let wide = |size: Option<Size>| show(size.map(|size| size.width));
        let tall = |size: Option<Size>| show(size.map(|size| size.height));
        vec![
            self.record.into(),
            self.address.clone(),
            self.kind.clone(),
            self.first.clone(),
            self.second.clone(),
            self.turn.clone(),
            wide(self.finished),
            tall(self.finished),
            wide(self.unfinished),
            tall(self.unfinished),
            show(self.cut.0),
            show(self.cut.1),
            self.from.clone(),
            show(self.strip),
            self.strip_side.into(),
            self.offcut.clone(),
            self.joint.map_or("", |(joint, upright)| way(joint.way, upright)).into(),
            self.joint.map(|(joint, _)| joint.meets.to_string()).unwrap_or_default(),
            self.joint.map(|(joint, _)| joint.nests.to_string()).unwrap_or_default(),
            self.bias.clone(),
            self.words.clone(),
        ]
    }
}

fn unit_line(row: &RowWork, unit: &UnitWork, work: &Work, palette: &Palette, ruler: Ruler) -> Line {
    let at = unit.placed.address;
    Line {
        record: "unit",
        address: at.to_string(),
        kind: unit.kind.clone(),
        first: palette.letter(unit.first).into(),
        second: unit.second.map(|second| palette.letter(second).into()).unwrap_or_default(),
        turn: unit.turn.map(|turn| (90 * turn.quarter_turns()).to_string()).unwrap_or_default(),
        finished: Some(unit.finished),
        unfinished: Some(unit.unfinished),
        cut: (unit.cut.map(|cut| cut.width), unit.cut.map(|cut| cut.height)),
        from: source(work, unit),
        strip: unit.strip.map(|strip| strip.cut),
        strip_side: unit.strip.map_or("", |strip| strip.side.words()),
        offcut: unit.offcut_to.map(|to| to.to_string()).unwrap_or_default(),
        joint: joint(work, [at.band, at.column, at.row, at.unit]),
        bias: unit.bias.iter().map(|side| side.words()).collect::<Vec<_>>().join(" "),
        words: unit_words(work, row, unit, palette, ruler),
    }
}

/// How the part is joined to the one before.
fn joint(work: &Work, [band, column, row, unit]: [usize; 4]) -> Option<(Joint, bool)> {
    let upright = unit > 0 || (column > 0 && row == 0);
    Some((work.joints.of(band, column, row, unit)?, upright))
}

fn row_line(work: &Work, row: &RowWork, ruler: Ruler) -> Line {
    let spare = row.sewn_width > row.unfinished.width;
    let (trim, seams) = row_words(work, row, ruler);
    let at = row.address;
    let joint = joint(work, [at.band, at.column, at.row, 0]);
    let joined = joint.map(|(joint, upright)| join(joint, "the row above", upright));
    Line {
        record: "row",
        address: row.address.row_words(),
        finished: Some(row.finished),
        unfinished: Some(row.unfinished),
        cut: (spare.then_some(row.sewn_width), None),
        joint,
        words: [trim, Some(seams), joined].into_iter().flatten().collect::<Vec<_>>().join("; "),
        ..Line::default()
    }
}

fn part(plan: &Plan, record: &'static str, address: String, finished: Size, words: String) -> Line {
    let unfinished = Some(finished.unfinished(plan.request.seam.both()));
    Line { record, address, finished: Some(finished), unfinished, words, ..Line::default() }
}

fn column_line(plan: &Plan, work: &Work, [i, j]: [usize; 2], band: &Band, column: &Column) -> Line {
    let grid = plan.request.grid;
    let finished = Size { width: grid * column.width, height: grid * band.height };
    let words = match column.rows.len() as u64 {
        1 => "it is the one row".into(),
        n => format!("sew its {} together", count(n, "row", "rows")),
    };
    part(plan, "column", format!("{i}.{j}"), finished, words).joined(joint(work, [i, j, 0, 0]), "the column before it")
}

fn band_line(plan: &Plan, work: &Work, i: usize, band: &Band) -> Line {
    let finished = Size { width: plan.request.width, height: plan.request.grid * band.height };
    let words = match band.columns.len() as u64 {
        1 => "it is the one column".into(),
        n => format!("sew its {} together", count(n, "column", "columns")),
    };
    part(plan, "band", i.to_string(), finished, words).joined(joint(work, [i, 0, 0, 0]), "the band above")
}

fn top_line(plan: &Plan) -> Line {
    let finished = Size { width: plan.request.width, height: plan.request.height };
    let words = match plan.bands.len() as u64 {
        1 => "it is the one band; the top is square when its two diagonals are equal".into(),
        n => format!(
            "sew its {} together; the top is square when its two diagonals are equal",
            count(n, "band", "bands")
        ),
    };
    part(plan, "top", "top".into(), finished, words)
}
