//! Pairs to sew and fillers to cut, as a table.

use super::palette::Palette;
use super::text::decimal;
use super::{Options, RenderError};
use crate::make::{Batch, FillerCut, Work};
use crate::measure::Ruler;
use crate::plan::Plan;
use crate::unit::AtATime;

/// The cutting as CSV.
pub fn cutting_csv(plan: &Plan, work: &Work, options: &Options) -> Result<String, RenderError> {
    let palette = Palette::new(plan, options);
    let ruler = plan.request.ruler;
    let names = "record,id,fabric,second,method,square_,bought_,width_,height_,count,yield,needed,spare";
    let header: Vec<String> = names.split(',').map(|name| with_unit(name, ruler)).collect();
    let pairs = work.batches.iter().map(|batch| pair_fields(batch, &palette, ruler));
    let fillers = work.fillers.iter().map(|filler| filler_fields(filler, &palette, ruler));
    table("cutting.csv", &header, pairs.chain(fillers))
}

/// The column's name; one that ends in `_` takes the ruler's unit.
pub(super) fn with_unit(name: &str, ruler: Ruler) -> String {
    if name.ends_with('_') { format!("{name}{}", ruler.unit()) } else { name.into() }
}

/// A table with its header first.
pub(super) fn table(
    name: &'static str,
    header: &[String],
    lines: impl Iterator<Item = Vec<String>>,
) -> Result<String, RenderError> {
    let failed = |source| RenderError::Table { name, source };
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(header).map_err(failed)?;
    for line in lines {
        writer.write_record(line).map_err(failed)?;
    }
    let bytes = writer.into_inner().map_err(|error| failed(error.into_error().into()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn method(at_a_time: AtATime) -> &'static str {
    match at_a_time {
        AtATime::Two => "two",
        AtATime::Four => "four",
        AtATime::Eight => "eight",
    }
}

fn pair_fields(batch: &Batch, palette: &Palette, ruler: Ruler) -> Vec<String> {
    let show = |length| decimal(ruler, length);
    vec![
        "pair".into(),
        batch.id.clone(),
        palette.letter(batch.first).into(),
        palette.letter(batch.second).into(),
        method(batch.at_a_time).into(),
        show(batch.square.cut),
        show(batch.square.bought()),
        show(batch.trimmed),
        show(batch.trimmed),
        batch.pairs.to_string(),
        batch.at_a_time.yields().to_string(),
        batch.needed.to_string(),
        batch.spare().to_string(),
    ]
}

fn filler_fields(filler: &FillerCut, palette: &Palette, ruler: Ruler) -> Vec<String> {
    let mut fields = vec![String::new(); 13];
    let known = [
        (0, "filler".to_owned()),
        (1, filler.id.clone()),
        (2, palette.letter(filler.fabric).into()),
        (7, decimal(ruler, filler.cut.width)),
        (8, decimal(ruler, filler.cut.height)),
        (9, filler.count.to_string()),
    ];
    for (column, text) in known {
        fields[column] = text;
    }
    fields
}
