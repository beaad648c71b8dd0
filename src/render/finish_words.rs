//! What finishes a quilt, in words that the list and the screen share.

use super::text::{count, listed};
use crate::fabric::Print;
use crate::finish::{BattingWork, Finishing, Pack, Roll};
use crate::make::{FinishPart, PartCut, PartOf, Work};
use crate::measure::{Length, Ruler, shop_words};
use crate::plan::{Offer, Plan};

/// Cloth for one part of the finishing.
pub(super) struct Needed {
    /// Which part.
    pub part: String,
    /// Its fabric; none where it is other cloth.
    pub fabric: Option<Print>,
    /// What is cut.
    pub cut: String,
    /// What is bought, or of what it is cut.
    pub buy: String,
    /// The length that is bought; none where it is cut of what is left of the stash.
    pub bought: Option<Length>,
}

/// All that finishes the quilt; none where nothing was asked for.
pub(super) fn finishing(plan: &Plan) -> Option<Finishing> {
    let asked = !plan.request.finish.is_none();
    asked.then(|| plan.request.finishing().expect("the request was checked when the plan was made or read"))
}

/// What would make the border come out evenly; nothing where it does.
pub(super) fn offer_words(plan: &Plan) -> Option<String> {
    let Offer { steps, square, top, border } = plan.offer()?;
    let ruler = plan.request.ruler;
    let part = |steps: i64, what: &str| match steps {
        0 => None,
        steps => Some(format!("one {what} of {} {}", ruler.show(square), if steps < 0 { "less" } else { "more" })),
    };
    let parts: Vec<String> = [part(steps[0], "column"), part(steps[1], "row")].into_iter().flatten().collect();
    Some(format!(
        "with {}, the scene would be {}, and the border {} wide all round: compose it in that size, if you like that better",
        listed(&parts),
        sides(ruler, top),
        ruler.show(border)
    ))
}

/// Cloth for all of it, part by part; batting after the back.
pub(super) fn needed(plan: &Plan, work: &Work, finishing: &Finishing) -> Vec<Needed> {
    let ruler = plan.request.ruler;
    let cloth = work.finish_cloth(plan, finishing);
    let is_layer = |part: &&FinishPart| matches!(part.what, PartOf::Binding | PartOf::Facing | PartOf::Sleeve);
    let of = |part: &FinishPart| needed_of(plan, part);
    let batting = finishing.batting.iter().map(|work| Needed {
        part: "Batting".into(),
        fabric: None,
        cut: sides(ruler, work.size),
        buy: batting(ruler, work),
        bought: None,
    });
    let first = cloth.parts.iter().filter(|part| !is_layer(part)).map(of);
    first.chain(batting).chain(cloth.parts.iter().filter(is_layer).map(of)).collect()
}

pub(super) fn sides(ruler: Ruler, [width, height]: [Length; 2]) -> String {
    format!("{} × {}", ruler.number(width), ruler.show(height))
}

fn needed_of(plan: &Plan, part: &FinishPart) -> Needed {
    let (request, ruler) = (&plan.request, plan.request.ruler);
    let name = match part.what {
        PartOf::Border(at) => format!("Border {}", at + 1),
        PartOf::Cornerstones(at) => format!("Border {}, cornerstones", at + 1),
        PartOf::Units(at) => format!("Border {}, units", at + 1),
        PartOf::Corners(at) => format!("Border {}, corners", at + 1),
        PartOf::Backing => "Backing".into(),
        PartOf::Middle => "Backing, middle".into(),
        PartOf::Binding => "Binding".into(),
        PartOf::Facing => "Facing".into(),
        PartOf::Sleeve => "Sleeve".into(),
    };
    let cut = match part.cut {
        PartCut::Strips(run) if part.off.is_empty() => ruler.show(run.cloth()),
        PartCut::Strips(run) => {
            let strips: i64 = part.off.iter().map(|off| off.gives).sum();
            format!("{} of {}", count(strips.unsigned_abs(), "strip", "strips"), ruler.show(run.strip))
        }
        PartCut::Lengths { size, count } => ruler.show(size[1] * count),
        PartCut::Pieces { size, count } => format!("{count} of {}", sides(ruler, size)),
    };
    let is_bought = part.bought > Length::ZERO;
    let bought = is_bought.then(|| request.to_shop(part.bought));
    let shop = bought.map(|length| {
        let wide = match part.cut {
            PartCut::Lengths { size, .. } if part.what == PartOf::Backing => format!(", {} wide", ruler.show(size[0])),
            _ => String::new(),
        };
        shop_words(ruler, length) + &wide
    });
    let off: Vec<String> = part.off.iter().map(|off| format!("{} of {}", off.sheets, sides(ruler, off.of))).collect();
    let gives: i64 = part.off.iter().map(|off| off.gives).sum();
    let off = listed(&off);
    let buy = match shop {
        None => format!("nothing: it comes off what is left of {off}"),
        Some(shop) if part.off.is_empty() => shop,
        Some(shop) => {
            let come = if gives == 1 { "comes" } else { "come" };
            format!("{shop}; {gives} {come} off what is left of {off}")
        }
    };
    Needed { part: name, fabric: part.fabric, cut, buy, bought }
}

/// The least that is sold and covers it.
fn batting(ruler: Ruler, work: &BattingWork) -> String {
    // What is sold in inches is shown in whole centimetres.
    let sold = |length: Length| match ruler {
        Ruler::Inch => length,
        Ruler::Metric => Length::CM * length.floor_div(Length::CM),
    };
    let pack = work.pack.map(|Pack { name, size: [one, other] }| {
        format!("a {name} pack, {} × {}", ruler.number(sold(one)), ruler.show(sold(other)))
    });
    let roll = work
        .roll
        .map(|Roll { width, length }| format!("{} of a roll {} wide", ruler.show(length), ruler.show(sold(width))));
    match (pack, roll) {
        (Some(pack), Some(roll)) => format!("{pack}, or {roll}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => "two widths of a roll, joined".into(),
    }
}
