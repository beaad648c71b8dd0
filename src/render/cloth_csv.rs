//! Every cut piece with its place on its sheet of cloth, as a table.

use super::cutting_csv::{table, with_unit};
use super::palette::Palette;
use super::text::decimal;
use super::{Options, RenderError};
use crate::cutting::SheetCut;
use crate::cutting::layout::PieceToCut;
use crate::make::Work;
use crate::measure::Ruler;
use crate::plan::Plan;

/// One line a piece; sheets that are cut alike share their lines.
pub fn cloth_csv(plan: &Plan, work: &Work, options: &Options) -> Result<String, RenderError> {
    let palette = Palette::new(plan, options);
    let ruler = plan.request.ruler;
    let names =
        "sheet,fabric,kind,sheets,sheet_width_,sheet_height_,turned,strip_at_,strip_height_,at_,width_,height_,for";
    let header: Vec<String> = names.split(',').map(|name| with_unit(name, ruler)).collect();
    let lines = work.cloth.iter_enumerated().flat_map(|(fabric, cut)| {
        let letter = palette.letter(fabric);
        cut.sheets.iter().flat_map(move |sheet| fields(letter, sheet, &cut.pieces, ruler))
    });
    table("cloth.csv", &header, lines)
}

fn fields(letter: &str, sheet: &SheetCut, pieces: &[PieceToCut], ruler: Ruler) -> Vec<Vec<String>> {
    let show = |length| decimal(ruler, length);
    let layout = &sheet.layout;
    let height = layout.height.unwrap_or(layout.used_length);
    let cuts = layout.strips.iter().flat_map(|strip| strip.cuts.iter().map(move |cut| (strip, cut)));
    let line = |(strip, cut): (&crate::cutting::layout::StripCut, &crate::cutting::layout::PieceAt)| {
        vec![
            sheet.id.clone(),
            letter.into(),
            sheet.kind.words().into(),
            sheet.count.to_string(),
            show(layout.width),
            show(height),
            if layout.turned { "yes".into() } else { String::new() },
            show(strip.at),
            show(strip.height),
            show(cut.at),
            show(cut.width),
            show(cut.height),
            pieces[cut.piece].id.clone(),
        ]
    };
    cuts.map(line).collect()
}
