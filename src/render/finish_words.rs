//! What finishes a quilt, in words that the list and the screen share.

use crate::cutting::SheetKind;
use crate::fabric::Print;
use crate::finish::{BattingWork, BindingCut, Finishing, Pack, Roll};
use crate::make::Work;
use crate::measure::{Length, Ruler, shop_words};
use crate::plan::Plan;

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

/// Lengths of the stash that are left when the top is cut.
struct Rest(Vec<Remnant>);

/// A fabric, the width of its cloth, its length and how many.
type Remnant = (Print, Length, Length, u32);

impl Rest {
    fn of(plan: &Plan, work: &Work) -> Self {
        let cloth = work.leftovers(plan).cloth.into_iter();
        let lengths = cloth.filter(|cloth| cloth.kind == SheetKind::Length);
        Self(lengths.map(|cloth| (cloth.fabric, cloth.width, cloth.height, cloth.count)).collect())
    }

    /// Takes a length off the shortest that suffices, and says which that is.
    fn take(&mut self, fabric: Print, [width, length]: [Length; 2]) -> Option<[Length; 2]> {
        let suffices = |rest: &&mut Remnant| rest.0 == fabric && rest.1 >= width && rest.2 >= length && rest.3 > 0;
        let rest = self.0.iter_mut().filter(suffices).min_by_key(|rest| (rest.2, rest.1))?;
        let (_, wide, long, _) = *rest;
        rest.3 -= 1;
        self.0.push((fabric, wide, long - length, 1));
        Some([wide, long])
    }
}

/// Cloth for all of it, part by part.
pub(super) fn needed(plan: &Plan, work: &Work, finishing: &Finishing) -> Vec<Needed> {
    let (request, ruler) = (&plan.request, plan.request.ruler);
    let fabrics = plan.finish_fabrics().unwrap_or_default();
    let mut rest = Rest::of(plan, work);
    let sides = |[width, height]: [Length; 2]| format!("{} × {}", ruler.number(width), ruler.show(height));
    let mut of = |part: String, fabric: Option<Print>, size: [Length; 2]| {
        let left = fabric.and_then(|fabric| rest.take(fabric, size));
        let bought = left.is_none().then(|| request.to_shop(size[1]));
        let buy = match left {
            Some(left) => format!("nothing: it is in the {} that are left of the stash", sides(left)),
            None => shop_words(ruler, request.to_shop(size[1])),
        };
        Needed { part, fabric, cut: ruler.show(size[1]), buy, bought }
    };
    let cloth = request.cloth_width;
    let mut needed = Vec::new();
    for (number, (work, [strips, corners])) in (1..).zip(finishing.borders.iter().zip(&fabrics.borders)) {
        needed.push(of(format!("Border {number}"), Some(*strips), [cloth, work.cloth]));
        if let Some(stones) = &work.cornerstones {
            needed.push(of(format!("Border {number}, cornerstones"), Some(*corners), [cloth, stones.cloth]));
        }
    }
    if let Some(work) = &finishing.backing {
        let backing = of("Backing".into(), fabrics.backing, [work.cloth, work.cut()]);
        let wide = if backing.bought.is_none() { String::new() } else { format!(", {} wide", ruler.show(work.cloth)) };
        needed.push(Needed { buy: backing.buy + &wide, ..backing });
    }
    if let Some(work) = &finishing.batting {
        let (part, buy) = ("Batting".into(), batting(ruler, work));
        needed.push(Needed { part, fabric: None, cut: sides(work.size), buy, bought: None });
    }
    if let Some(work) = &finishing.binding {
        let cut = match work.cut {
            BindingCut::Straight(run) => ruler.show(run.cloth()),
            BindingCut::Bias { squares: 1, side, .. } => format!("a square of {}", ruler.show(side)),
            BindingCut::Bias { squares, side, .. } => format!("{squares} squares of {}", ruler.show(side)),
        };
        needed.push(Needed { cut, ..of("Binding".into(), fabrics.binding, [cloth, work.cloth()]) });
    }
    if let Some(work) = &finishing.facing {
        needed.push(of("Facing".into(), fabrics.facing, [cloth, work.run.cloth()]));
    }
    if let Some(work) = &finishing.sleeve {
        needed.push(of("Sleeve".into(), fabrics.backing, [cloth, work.run.cloth()]));
    }
    needed
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
