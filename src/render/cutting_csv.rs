//! Pairs to sew and fillers to cut, as a table.

use super::palette::Palette;
use super::text::decimal;
use super::{Options, RenderError};
use crate::cutting::{Batch, FillerCut, HandPiece};
use crate::fabric::{Lean, Print};
use crate::make::{Work, darker};
use crate::measure::Ruler;
use crate::plan::{Item, Plan};
use crate::unit::{AtATime, Diagonal};

const COLUMNS: usize = 14;
/// More columns where a print stands upright: the line that is sewn along, which square lies below with its print
/// upright, the side that the other's top is to, units used by the corner that the first fabric fills, and that corner
/// of a piece on hand.
const UPRIGHT: &str = "diagonal,below,top_to,upper_left,upper_right,lower_right,lower_left,stands";

/// The cutting as CSV.
pub fn cutting_csv(plan: &Plan, work: &Work, options: &Options) -> Result<String, RenderError> {
    let palette = Palette::new(plan, options);
    let ruler = plan.request.ruler;
    let names = "record,id,fabric,second,method,square_,bought_,width_,height_,count,yield,needed,spare,press";
    let upright = plan.fabrics.iter().any(|fabric| fabric.upright);
    let more = upright.then_some(UPRIGHT).into_iter().flat_map(|names| names.split(','));
    let header: Vec<String> = names.split(',').chain(more).map(|name| with_unit(name, ruler)).collect();
    let pairs = work.batches.iter().map(|batch| pair_fields(plan, batch, &palette));
    let fillers = work.fillers.iter().map(|filler| filler_fields(filler, &palette, ruler));
    let hand = work.hand.iter().map(|used| hand_fields(plan, used, &palette));
    let lines = pairs.chain(fillers).chain(hand).map(|mut line| {
        line.resize(header.len(), String::new());
        line
    });
    table("cutting.csv", &header, lines)
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

fn pair_fields(plan: &Plan, batch: &Batch, palette: &Palette) -> Vec<String> {
    let show = |length| decimal(plan.request.ruler, length);
    let mut fields = vec![
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
        darker(plan, batch).map_or("open", |fabric| palette.letter(fabric)).into(),
    ];
    if let Some(upright) = batch.upright {
        fields.push(upright.diagonal.map_or("both", Diagonal::word).into());
        fields.push(palette.letter(batch.below(upright)).into());
        fields.push(upright.top_to().unwrap_or_default().into());
        fields.extend(upright.needed.map(|count| count.to_string()));
    }
    fields
}

/// Sizes with their seams on; a slice that leans left has its tip, the first fabric, in the upper left when stood up.
fn hand_fields(plan: &Plan, used: &HandPiece, palette: &Palette) -> Vec<String> {
    let request = &plan.request;
    let size = |cells: u32| decimal(request.ruler, request.grid * cells + request.seam.both());
    let letter = |fabric: Print| palette.letter(fabric).to_owned();
    let (record, first, second, width, height) = match used.item {
        Item::Unit { first, second, block, .. } => ("unit on hand", first, letter(second), block, block),
        Item::Slice { tip, rest, block, width, leans: Lean::Left, .. } => {
            ("left slice on hand", tip, letter(rest), width, block)
        }
        Item::Slice { tip, rest, block, width, leans: Lean::Right, .. } => {
            ("right slice on hand", tip, letter(rest), width, block)
        }
        Item::Filler { fabric, long, short } => ("filler on hand", fabric, String::new(), long, short),
    };
    let mut fields = fields([
        (0, record.to_owned()),
        (1, used.id.clone()),
        (2, letter(first)),
        (3, second),
        (7, size(width)),
        (8, size(height)),
        (9, used.there.to_string()),
        (11, used.used.to_string()),
        (12, (used.there - used.used).to_string()),
    ]);
    if let Some(corner) = used.item.stands() {
        fields.resize(COLUMNS + UPRIGHT.split(',').count() - 1, String::new());
        fields.push(corner.words().into());
    }
    fields
}

fn filler_fields(filler: &FillerCut, palette: &Palette, ruler: Ruler) -> Vec<String> {
    fields([
        (0, "filler".to_owned()),
        (1, filler.id.clone()),
        (2, palette.letter(filler.fabric).into()),
        (7, decimal(ruler, filler.cut.width)),
        (8, decimal(ruler, filler.cut.height)),
        (9, filler.count.to_string()),
    ])
}

/// A line with these columns filled, by index.
fn fields<const N: usize>(known: [(usize, String); N]) -> Vec<String> {
    let mut fields = vec![String::new(); COLUMNS];
    known.into_iter().for_each(|(column, text)| fields[column] = text);
    fields
}
