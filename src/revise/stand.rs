//! What stands of the old plan, measured in the cells of the new one.

use super::change::Wished;
use super::{Change, Obstacle, ReviseError, Revision, TopPart};
use crate::compose::{Before, Lock, Standing, Wish};
use crate::cutting::{gives_filler, lacking};
use crate::fabric::Print;
use crate::plan::{Address, Depth, Item, Placed, Plan, Request, RequestError, State, cannot_stand, items};
use crate::unit::{Shape, Vocabulary};

/// The prints that ran out, and those that others took the place of everywhere.
pub fn left_out(plan: &Plan, revision: &Revision) -> Result<Vec<Print>, ReviseError> {
    let index = |letter: &String| plan.fabrics.position(|fabric| fabric.letter == *letter);
    let exchanged = revision.changes.iter().filter_map(|change| match change {
        Change::Exchange { part: TopPart::All, now, .. } => Some(now),
        _ => None,
    });
    let letters = revision.without.iter().chain(exchanged);
    let out = letters.map(|letter| index(letter).ok_or_else(|| ReviseError::no_fabric(plan, letter)));
    let mut out = out.collect::<Result<Vec<_>, _>>()?;
    out.sort_unstable();
    out.dedup();
    Ok(out)
}

/// Whether all of a plan may stay as it is: nothing else is asked for, and there is enough of all that it takes.
pub fn may_stay(plan: &Plan, revision: &Revision, without: &[Print]) -> bool {
    let left = |placed: &Placed| placed.unit.piece.fabrics().any(|print| without.contains(&print));
    let vocabulary = plan.vocabulary();
    plan.request.asks_the_same(&revision.request)
        && revision.picture == plan.picture
        && revision.focus == plan.focus
        && !plan.placed().iter().any(|placed| !stays(placed) && left(placed))
        && !plan.placed().iter().any(|placed| cannot_stand(placed, &plan.fabrics, &vocabulary))
        && lacking(plan).is_empty()
}

/// Refuses what is kept or cut and cannot be made with its print upright.
pub fn can_stand(marked: &Plan, request: &Request) -> Result<(), ReviseError> {
    let vocabulary = marked.vocabulary();
    let placed = marked.placed();
    let not = placed.iter().find(|placed| stays(placed) && cannot_stand(placed, &marked.fabrics, &vocabulary));
    let block = |placed: &Placed| placed.unit.piece.cut_from().map_or(0, |(block, _)| block);
    let why = |placed: &Placed| {
        let finished = marked.request.grid * block(placed);
        cannot_stay(placed, Obstacle::Upright { finished, ruler: request.ruler })
    };
    not.map_or(Ok(()), |placed| Err(why(placed)))
}

/// Every unit of the marked plan that stays, and every wish, checked against what is asked for now; what is free costs
/// so many per cent less where it stays as it was.
pub fn standing(marked: &Plan, request: &Request, wishes: Vec<Wished>, less: u32) -> Result<Standing, ReviseError> {
    let vocabulary = request.check()?;
    let fit = Fit { marked, request, shapes: vocabulary.shapes(), vocabulary: &vocabulary };
    let mut standing = Standing::default();
    let placed = marked.placed();
    for row in placed.chunk_by(|a, b| row_of(a.address) == row_of(b.address)) {
        for run in row.chunk_by(|a, b| stays(a) == stays(b)).filter(|run| stays(&run[0])) {
            standing.locks.push(fit.lock(run, run.len() == row.len())?);
        }
    }
    for wish in wishes {
        let wish = fit.wish(&wish, &standing)?;
        standing.wishes.push(wish);
    }
    if super::stands(&standing) {
        standing.edges = fit.edges(&placed);
    }
    standing.before = fit.before(&placed, less);
    Ok(standing)
}

fn stays(placed: &Placed) -> bool {
    placed.unit.state != State::Free
}

fn cannot_stay(placed: &Placed, why: Obstacle) -> ReviseError {
    ReviseError::CannotStay { at: placed.address, why }
}

fn row_of(at: Address) -> (usize, usize, usize) {
    (at.band, at.column, at.row)
}

struct Fit<'a> {
    marked: &'a Plan,
    request: &'a Request,
    vocabulary: &'a Vocabulary,
    shapes: Vec<Shape>,
}

impl Fit<'_> {
    /// A run of neighbours as it stays; a full row stays a row, unless the top's new width lets it grow.
    fn lock(&self, run: &[Placed], full: bool) -> Result<Lock, ReviseError> {
        let units = run.iter().map(|placed| self.unit(placed)).collect::<Result<Vec<_>, _>>()?;
        let [x, y, _, height] = self.cells(&run[0]).map_err(|why| cannot_stay(&run[0], why))?;
        let width = units.iter().map(|unit| unit.width as usize).sum();
        let old = &self.marked.request;
        let across = run.iter().map(|placed| placed.unit.width).sum::<u32>() == old.cells().0;
        let row = full && old.width == self.request.width && (across || self.request.depth == Depth::Bands);
        Ok(Lock { x, y, width, height, units, row, cost: 0 })
    }

    /// The unit in cells of the new grid, which its seam, its size and the squares must allow.
    fn unit(&self, placed: &Placed) -> Result<crate::plan::Unit, ReviseError> {
        let (old, new) = (&self.marked.request, self.request);
        let ruler = new.ruler;
        let no = |why| Err(cannot_stay(placed, why));
        if placed.unit.state == State::Sewn && old.seam.working != new.seam.working {
            return no(Obstacle::Seam { seam: old.seam.working, ruler });
        }
        let [x, y, width, height] = self.cells(placed).map_err(|why| cannot_stay(placed, why))?;
        let (columns, rows) = new.cells();
        let past = [(x + width, columns, new.width, true), (y + height, rows, new.height, false)];
        if let Some((end, _, side, across)) = past.into_iter().find(|(end, cells, ..)| *end > *cells as usize) {
            return no(Obstacle::PastTop { end: new.grid * end as i64, side, across, ruler });
        }
        let mut unit = placed.unit;
        unit.width = width as u32;
        if let Some((block, _)) = unit.piece.cut_from() {
            let finished = old.grid * block;
            unit.piece = unit.piece.of_block(self.vocabulary.cells(finished));
            let shape = unit.piece.shape(width as u32, height as u32);
            if !finished.is_multiple_of(new.grid) || !shape.is_some_and(|shape| self.shapes.contains(&shape)) {
                return no(Obstacle::NotGiven { finished, ruler });
            }
            if cannot_stand(&placed.of(unit), &self.marked.fabrics, self.vocabulary) {
                return no(Obstacle::Upright { finished, ruler });
            }
        }
        Ok(unit)
    }

    /// Left, top, width and height in new cells.
    fn cells(&self, placed: &Placed) -> Result<[usize; 4], Obstacle> {
        let (old, new) = (self.marked.request.grid, self.request.grid);
        let sides = [placed.x, placed.y, placed.unit.width, placed.height].map(|cells| old * cells);
        if let Some(off) = sides.iter().find(|side| !side.is_multiple_of(new)) {
            return Err(Obstacle::OffGrid { at: *off, grid: new, ruler: self.request.ruler });
        }
        Ok(sides.map(|side| usize::try_from(side.floor_div(new)).unwrap_or(usize::MAX)))
    }

    /// A wish where the unit stood; a whole unit may reach over its neighbours or stay short of them.
    fn wish(&self, wished: &Wished, standing: &Standing) -> Result<Wish, ReviseError> {
        let at = wished.placed.address;
        let no = |why| ReviseError::CannotBe { at, why };
        let [mut x, mut y, mut width, mut height] = self.cells(&wished.placed).map_err(no)?;
        let (columns, rows) = self.request.cells();
        if wished.whole {
            let side = self.whole_side(height).ok_or_else(|| no(Obstacle::NoWhole))?;
            (width, height) = (side, side);
            (x, y) = (x.min((columns as usize).saturating_sub(side)), y.min((rows as usize).saturating_sub(side)));
        } else if let Some(print) = wished.print {
            self.filler_fits(print, width as u32, height as u32).map_err(no)?;
        }
        if x + width > columns as usize || y + height > rows as usize {
            return Err(no(Obstacle::Outside));
        }
        let wish = Wish { x, y, width, height, whole: wished.whole, print: wished.print };
        let meets = |ox: usize, oy: usize, ow: usize, oh: usize| {
            x < ox + ow && ox < x + width && y < oy + oh && oy < y + height
        };
        let taken = standing.locks.iter().any(|lock| meets(lock.x, lock.y, lock.width, lock.height))
            || standing.wishes.iter().any(|other| meets(other.x, other.y, other.width, other.height));
        if taken { Err(no(Obstacle::Taken)) } else { Ok(wish) }
    }

    /// The side of the largest whole unit no taller than the row, or of the smallest there is.
    fn whole_side(&self, height: usize) -> Option<usize> {
        let sides = || self.shapes.iter().filter(|s| s.cut.is_whole()).map(|s| s.width as usize);
        sides().filter(|side| *side <= height).max().or_else(|| sides().min())
    }

    /// A filler of a print that is there, or that its cloth gives in one piece.
    fn filler_fits(&self, print: Print, width: u32, height: u32) -> Result<(), Obstacle> {
        let (request, fabric) = (self.request, &self.marked.fabrics[print]);
        let size = [width, height].map(|cells| request.grid * cells);
        let there = || items(&self.marked.hand, request).contains_key(&Item::filler(print, width, height));
        if gives_filler(fabric, request, size) || there() {
            return Ok(());
        }
        let [width, height] = size;
        Err(Obstacle::NoFillerOf { letter: fabric.letter.clone(), width, height, ruler: request.ruler })
    }

    /// What is free and may stay as it was, and the seams around it.
    fn before(&self, placed: &[Placed], less: u32) -> Before {
        let free = placed.iter().filter(|placed| !stays(placed)).filter_map(|placed| {
            let unit = self.unit(placed).ok()?;
            let [x, y, _, height] = self.cells(placed).ok()?.map(|cells| u32::try_from(cells).unwrap_or(u32::MAX));
            Some(Placed { x, y, height, ..placed.of(unit) })
        });
        let old = self.marked.request.grid;
        let cell = |cells: u32| {
            let at = old * cells;
            at.is_multiple_of(self.request.grid).then(|| at.floor_div(self.request.grid) as usize)
        };
        let (mut rows, mut edges, mut top) = (Vec::new(), Vec::new(), 0);
        for band in &self.marked.bands {
            let mut left = 0;
            for column in &band.columns {
                let mut y = top;
                for row in &column.rows {
                    rows.push([left, y, left + column.width, y + row.height]);
                    y += row.height;
                }
                edges.push([left, top, top + band.height]);
                left += column.width;
            }
            top += band.height;
        }
        let in_cells = |sides: [u32; 4]| Some([cell(sides[0])?, cell(sides[1])?, cell(sides[2])?, cell(sides[3])?]);
        let edge = |[left, top, bottom]: [u32; 3]| Some([cell(left)?, cell(top)?, cell(bottom)?]);
        Before {
            less,
            units: free.collect(),
            rows: rows.into_iter().filter_map(in_cells).collect(),
            edges: edges.into_iter().filter_map(edge).collect(),
        }
    }

    /// Edges of the columns and bands in which something stands, so that they may stay where they were.
    fn edges(&self, placed: &[Placed]) -> [Vec<usize>; 2] {
        let mut edges = [Vec::new(), Vec::new()];
        let mut top = 0;
        for (band, b) in (1..).zip(&self.marked.bands) {
            let mut left = 0;
            let split = b.columns.len() > 1;
            for (column, c) in (1..).zip(&b.columns) {
                let here = |unit: &Placed| stays(unit) && (unit.address.band, unit.address.column) == (band, column);
                if split && placed.iter().any(here) {
                    edges[0].extend([left, left + c.width].map(|cells| self.edge(cells)));
                    edges[1].extend([top, top + b.height].map(|cells| self.edge(cells)));
                }
                left += c.width;
            }
            top += b.height;
        }
        edges
    }

    fn edge(&self, cells: u32) -> usize {
        let at = self.marked.request.grid * cells;
        // An edge off the new grid cannot be kept; what stands there was refused before.
        usize::try_from(at.floor_div(self.request.grid)).expect("an edge lies within the top")
    }
}

/// So that `?` on a request's error reads well.
impl From<RequestError> for ReviseError {
    fn from(error: RequestError) -> Self {
        Self::Scene(error.into())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::compose::{Order, Ready};
    use crate::cutting::{cut_of, layout};
    use crate::fabric::{Fabric, Family, FillerOnHand, Oddment, OnHand, Rgb, Squares, Supply, Yardage};
    use crate::measure::{Length, Ruler};
    use crate::plan::RowEnds;

    fn fabric() -> impl Strategy<Value = Fabric> {
        let inches = |most: i64| (2..=most).prop_map(|inches| Length::INCH * inches);
        let squares = prop::collection::vec((inches(12), 0..3_u32), 0..3);
        let yardage = prop::collection::vec((inches(60), inches(60)), 0..2);
        let oddments = prop::collection::vec((inches(30), inches(30), 0..3_u32), 0..3);
        let supply =
            (squares, yardage, 0..2_u32, oddments).prop_map(|(squares, yardage, fat_quarters, oddments)| Supply {
                squares: squares.into_iter().map(|(size, count)| Squares { size, count }).collect(),
                yardage: yardage.into_iter().map(|(width, length)| Yardage { width, length }).collect(),
                fat_quarters,
                oddments: oddments.into_iter().map(|(width, height, count)| Oddment { width, height, count }).collect(),
            });
        let fabrics = (prop::option::weighted(0.8, supply), prop::option::of(inches(12)), any::<bool>());
        fabrics.prop_map(|(supply, only_squares, directional)| {
            let only_squares = only_squares.filter(|_| supply.is_none());
            Fabric { supply, only_squares, directional, ..Fabric::new("A", "quay", Rgb([90; 3])) }
        })
    }

    fn plan(fabric: Fabric, row_ends: RowEnds) -> Plan {
        let side = Length::INCH * 40i64;
        let request =
            Request { width: side, height: side, grid: Length::INCH, row_ends, ..Request::usual(Ruler::Inch) };
        let (hand, picture) = (OnHand::default(), Vec::new());
        Plan {
            request,
            fabrics: vec![fabric].into(),
            hand,
            picture,
            focus: Vec::new(),
            bands: Vec::new(),
            numbers: crate::plan::Numbers::NONE,
            progress: crate::plan::Progress::default(),
        }
    }

    fn filler_fits(plan: &Plan, width: u32, height: u32) -> bool {
        let vocabulary = plan.request.check().unwrap();
        let shapes = vocabulary.shapes();
        Fit { marked: plan, request: &plan.request, shapes, vocabulary: &vocabulary }
            .filler_fits(Print(0), width, height)
            .is_ok()
    }

    proptest! {
        #[test]
        fn a_wish_is_granted_where_the_solver_could_place_it_and_then_it_can_be_cut(
            fabric in fabric(),
            spare in any::<bool>(),
            (width, height) in (2..40_u32, 2..40_u32),
        ) {
            let plan = plan(fabric, if spare { RowEnds::Spare } else { RowEnds::Exact });
            let (request, fabric) = (&plan.request, &plan.fabrics[Print(0)]);
            let ready = Ready::new(&Order::new(request, &[], &[], &plan.fabrics)).unwrap();
            let fits = filler_fits(&plan, width, height);
            prop_assert_eq!(fits, ready.choices[Family(0)].longest(height as usize) >= width as usize);
            let cut = |cells: u32| request.grid * cells + request.seam.both();
            let piece = layout::PieceToCut {
                id: "F1".into(),
                width: cut(width) + request.row_ends.extra(request.ruler),
                height: cut(height),
                count: 1,
                turn: true,
            };
            prop_assert!(!fits || cut_of(fabric, request, &[], vec![piece]).unplaced.is_empty());
        }
    }

    #[test]
    fn a_filler_on_hand_needs_no_cloth() {
        let empty = Fabric { supply: Some(Supply::default()), ..Fabric::new("A", "quay", Rgb([90; 3])) };
        let mut plan = plan(empty, RowEnds::Exact);
        assert!(!filler_fits(&plan, 5, 3));
        let [width, height] = [3, 5].map(|inches| Length::INCH * i64::from(inches));
        plan.hand.fillers = vec![FillerOnHand { fabric: Print(0), width, height, count: 1 }];
        assert!(filler_fits(&plan, 5, 3) && !filler_fits(&plan, 5, 4));
    }
}
