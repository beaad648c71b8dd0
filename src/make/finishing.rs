//! The cloth of what finishes the quilt: what the top leaves comes first, then what is bought.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::Work;
use super::leftovers::{SpareCloth, SpareSquares};
use crate::cutting::SheetKind;
use crate::fabric::Print;
use crate::finish::{BindingCut, BorderUnits, Finishing, Middle, PiecedWork, Run};
use crate::measure::Length;
use crate::plan::{FinishFabrics, Plan};

/// Cloth for all that finishes a quilt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FinishCloth {
    /// Its fabrics.
    pub fabrics: FinishFabrics,
    /// Fabrics of the units of each border, round it; none of a border of strips.
    pub rings: Vec<Option<Ring>>,
    /// What is cut, in the order in which it is taken off what is left.
    pub parts: Vec<FinishPart>,
    /// What is left of the stash then: by fabric and then large to small.
    pub left: Vec<SpareCloth>,
}

/// Fabrics of a pieced border, from the upper left corner on clockwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ring {
    /// A fabric for each place, corners with them.
    pub places: Vec<Print>,
    /// The other half of triangle units, and the corners between them.
    pub ground: Option<Print>,
}

/// Something that is cut for the finishing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FinishPart {
    /// What it is for.
    pub what: PartOf,
    /// Its fabric; none where it is other cloth.
    pub fabric: Option<Print>,
    /// What is cut.
    pub cut: PartCut,
    /// What is left of the stash that it comes off.
    pub off: Vec<Off>,
    /// The length of cloth that is bought for it.
    pub bought: Length,
}

/// What a part is for; borders by their index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartOf {
    /// Strips of a border.
    Border(usize),
    /// Cornerstones of a border.
    Cornerstones(usize),
    /// Units of a pieced border.
    Units(usize),
    /// Corners of a pieced border.
    Corners(usize),
    /// The back.
    Backing,
    /// What is pieced through the middle of the back.
    Middle,
    /// The binding.
    Binding,
    /// The facing.
    Facing,
    /// The sleeve.
    Sleeve,
}

/// What is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartCut {
    /// Strips, joined.
    Strips(Run),
    /// Pieces of one size.
    Pieces {
        /// Their sides.
        size: [Length; 2],
        /// How many.
        count: i64,
    },
    /// Lengths of cloth.
    Lengths {
        /// Width of the cloth, and how long each is.
        size: [Length; 2],
        /// How many.
        count: i64,
    },
}

/// A piece of cloth that is left, and what comes off it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Off {
    /// Its sides.
    pub of: [Length; 2],
    /// How many such pieces.
    pub sheets: u32,
    /// What comes off them all.
    pub gives: i64,
    /// How long strips are that come off them.
    pub each: Length,
}

impl FinishCloth {
    /// Every fabric.
    pub fn prints(&self) -> BTreeSet<Print> {
        let rings = self.rings.iter().flatten();
        let rings = rings.flat_map(|ring| ring.places.iter().copied().chain(ring.ground));
        self.parts.iter().filter_map(|part| part.fabric).chain(rings).collect()
    }

    /// Strips as they are cut: so many, each so long; off what is left, or all across bought cloth.
    pub fn strips(&self, what: PartOf) -> Vec<(Run, Vec<(Length, i64)>)> {
        let parts = self.parts.iter().filter(|part| part.what == what);
        let lots = |part: &FinishPart| part.off.iter().map(|off| (off.each, off.gives)).collect();
        parts
            .filter_map(|part| match part.cut {
                PartCut::Strips(run) => Some((run, lots(part))),
                _ => None,
            })
            .collect()
    }
}

/// How long joined strips are, those off what is left or those of the run.
pub fn made(run: &Run, lots: &[(Length, i64)]) -> Length {
    if lots.is_empty() {
        return run.made();
    }
    let (long, count) = lots.iter().fold((Length::ZERO, 0), |(long, count), lot| (long + lot.0 * lot.1, count + lot.1));
    long - run.join * (count - 1)
}

impl Work {
    /// What cloth the finishing takes, part by part.
    pub fn finish_cloth(&self, plan: &Plan, finishing: &Finishing) -> FinishCloth {
        let fabrics = plan.finish_fabrics(finishing);
        let mut bench = Bench::new(self, plan);
        let mut rings = Vec::new();
        for (at, work) in finishing.borders.iter().enumerate() {
            let [strips, stones] = fabrics.borders[at];
            if let Some(pieced) = &work.pieced {
                let ring = bench.ring(pieced, work.asked.pieced.iter().flat_map(|asked| &asked.fabrics), &fabrics);
                bench.units(at, pieced, &ring);
                rings.push(Some(ring));
                continue;
            }
            rings.push(None);
            match work.runs.as_slice() {
                [] => bench.lengths(PartOf::Border(at), Some(strips), [plan.request.cloth_width, work.cloth], 1),
                runs => runs.iter().for_each(|run| bench.strips(PartOf::Border(at), Some(strips), run)),
            }
            if let Some(work) = &work.cornerstones {
                bench.pieces(PartOf::Cornerstones(at), Some(stones), work.cut, 4, false);
            }
        }
        if let Some(work) = &finishing.backing {
            bench.lengths(PartOf::Backing, fabrics.backing, [work.cloth, work.length], work.lengths);
            if let Some(middle) = &work.middle {
                bench.middle(middle, work.seam * 2i64, fabrics.backing);
            }
        }
        if let Some(work) = &finishing.binding {
            match work.cut {
                BindingCut::Straight(run) => bench.strips(PartOf::Binding, fabrics.binding, &run),
                BindingCut::Bias { squares, side, .. } => {
                    bench.pieces(PartOf::Binding, fabrics.binding, [side; 2], squares, false);
                }
            }
        }
        if let Some(work) = &finishing.facing {
            bench.strips(PartOf::Facing, fabrics.facing, &work.run);
        }
        if let Some(work) = &finishing.sleeve {
            bench.strips(PartOf::Sleeve, fabrics.backing, &work.run);
        }
        let left = bench.left();
        FinishCloth { fabrics, rings, parts: bench.parts, left }
    }
}

/// A kind of sheet, its width and its height.
type Sheet = (SheetKind, Length, Length);

/// What is left, and what was taken of it.
struct Bench {
    left: BTreeMap<(Print, Sheet), u32>,
    parts: Vec<FinishPart>,
    /// Usable width of what is bought, and the least side of what is kept.
    cloth: Length,
    least: Length,
}

impl Bench {
    fn new(work: &Work, plan: &Plan) -> Self {
        let leftovers = work.leftovers(plan);
        let mut left = BTreeMap::<(Print, Sheet), u32>::new();
        let squares = leftovers.squares.iter().map(|squares| {
            let SpareSquares { fabric, side, count } = *squares;
            ((fabric, (SheetKind::Square, side, side)), count)
        });
        let cloth =
            leftovers.cloth.iter().map(|cloth| ((cloth.fabric, (cloth.kind, cloth.width, cloth.height)), cloth.count));
        for (sheet, count) in squares.chain(cloth) {
            let there = left.entry(sheet).or_default();
            *there = there.saturating_add(count);
        }
        let least = plan.request.least + plan.request.seam.both();
        Self { left, parts: Vec::new(), cloth: plan.request.cloth_width, least }
    }

    fn left(&self) -> Vec<SpareCloth> {
        let mut left: Vec<SpareCloth> = self
            .left
            .iter()
            .filter(|(_, count)| **count > 0)
            .map(|((fabric, (kind, width, height)), count)| SpareCloth {
                fabric: *fabric,
                kind: *kind,
                width: *width,
                height: *height,
                count: *count,
            })
            .collect();
        left.sort_by_key(|cloth| (cloth.fabric, cloth.kind, Reverse((cloth.width, cloth.height))));
        left
    }

    /// Sheets of a fabric with how many there are.
    fn of(&self, fabric: Option<Print>) -> Vec<(Sheet, u32)> {
        let of = self.left.iter().filter(|((print, _), count)| Some(*print) == fabric && **count > 0);
        of.map(|((_, sheet), count)| (*sheet, *count)).collect()
    }

    /// Takes sheets; of each `rest` stays, where it is wide enough to be kept.
    fn take(&mut self, fabric: Print, sheet: Sheet, count: u32, rest: [Length; 2]) {
        if let Some(left) = self.left.get_mut(&(fabric, sheet)) {
            *left -= count.min(*left);
        }
        if rest[0].min(rest[1]) >= self.least {
            let (kind, width, _) = sheet;
            let kind = if kind == SheetKind::Length && rest[0] == width { kind } else { SheetKind::Oddment };
            let left = self.left.entry((fabric, (kind, rest[0], rest[1]))).or_default();
            *left = left.saturating_add(count);
        }
    }

    /// Whole lengths: all of them off lengths that are left, the shortest that suffices first, or all bought.
    fn lengths(&mut self, what: PartOf, fabric: Option<Print>, size: [Length; 2], count: i64) {
        let kept = self.left.clone();
        let mut off = Vec::new();
        for _ in 0..count {
            let suffices = |((kind, width, height), _): &(Sheet, u32)| {
                *kind == SheetKind::Length && *width >= size[0] && *height >= size[1]
            };
            let shortest =
                self.of(fabric).into_iter().filter(suffices).min_by_key(|((_, width, height), _)| (*height, *width));
            let (Some((sheet, _)), Some(print)) = (shortest, fabric) else { break };
            self.take(print, sheet, 1, [sheet.1, sheet.2 - size[1]]);
            off.push(Off { of: [sheet.1, sheet.2], sheets: 1, gives: 1, each: size[1] });
        }
        if (off.len() as i64) < count {
            (self.left, off) = (kept, Vec::new());
        }
        let bought = if off.is_empty() { size[1] * count } else { Length::ZERO };
        self.parts.push(FinishPart { what, fabric, cut: PartCut::Lengths { size, count }, off, bought });
    }

    /// Joined strips: off one length that is left, off smaller pieces, the longest strips first, or all bought.
    fn strips(&mut self, what: PartOf, fabric: Option<Print>, run: &Run) {
        let cut = PartCut::Strips(*run);
        let of_one = |((kind, width, height), _): &(Sheet, u32)| {
            *kind == SheetKind::Length && *width >= run.each && *height >= run.cloth()
        };
        let one = self.of(fabric).into_iter().filter(of_one).min_by_key(|((_, width, height), _)| (*height, *width));
        if let (Some((sheet, _)), Some(print)) = (one, fabric) {
            self.take(print, sheet, 1, [sheet.1, sheet.2 - run.cloth()]);
            let off = vec![Off { of: [sheet.1, sheet.2], sheets: 1, gives: run.count, each: run.each }];
            return self.parts.push(FinishPart { what, fabric, cut, off, bought: Length::ZERO });
        }
        let (kept, mut off, mut made) = (self.left.clone(), Vec::<Off>::new(), Length::ZERO);
        let mut sheets: Vec<(Length, Sheet, u32)> = self
            .of(fabric)
            .into_iter()
            .map(|(sheet, count)| {
                (if sheet.0 == SheetKind::Length { sheet.1 } else { sheet.1.max(sheet.2) }, sheet, count)
            })
            .filter(|(each, (_, width, height), _)| {
                *each >= run.join * 2i64 && *each >= run.strip && width.min(height) >= &run.strip
            })
            .collect();
        sheets.sort_by_key(|(each, sheet, _)| (Reverse(*each), *sheet));
        for (each, sheet, count) in sheets {
            let across = if sheet.0 == SheetKind::Length || sheet.1 >= sheet.2 { sheet.2 } else { sheet.1 };
            for _ in 0..count {
                // The first strip of all has no join.
                let lacks = run.needed - made;
                if lacks <= Length::ZERO {
                    break;
                }
                let adds = each - run.join;
                let needed =
                    if made == Length::ZERO { 1 + (lacks - each).ceil_div(adds).max(0) } else { lacks.ceil_div(adds) };
                let gives = across.floor_div(run.strip).min(needed);
                made += adds * gives + if made == Length::ZERO { run.join } else { Length::ZERO };
                let rest = across - run.strip * gives;
                let rest =
                    if sheet.0 == SheetKind::Length || sheet.1 >= sheet.2 { [sheet.1, rest] } else { [rest, sheet.2] };
                if let Some(print) = fabric {
                    self.take(print, sheet, 1, rest);
                }
                match off.last_mut().filter(|last| last.of == [sheet.1, sheet.2] && last.each == each) {
                    Some(last) => (last.sheets, last.gives) = (last.sheets + 1, last.gives + gives),
                    None => off.push(Off { of: [sheet.1, sheet.2], sheets: 1, gives, each }),
                }
            }
        }
        if made < run.needed {
            (self.left, off) = (kept, Vec::new());
        }
        let bought = if off.is_empty() { run.cloth() } else { Length::ZERO };
        self.parts.push(FinishPart { what, fabric, cut, off, bought });
    }

    /// Pieces of one size: off what is left, the smallest first, all of them or, in `part`, as many as it gives.
    fn pieces(&mut self, what: PartOf, fabric: Option<Print>, size: [Length; 2], count: i64, part: bool) {
        let (kept, mut off, mut lacks) = (self.left.clone(), Vec::<Off>::new(), count);
        let mut sheets = self.of(fabric);
        sheets.sort_by_key(|((kind, width, height), _)| {
            (*kind == SheetKind::Length, i128::from(width.ticks()) * i128::from(height.ticks()), *width, *height, *kind)
        });
        for (sheet, there) in sheets {
            let lies = Lies::of(sheet, size);
            let all = lies.all();
            for _ in 0..there {
                let gives = all.min(lacks);
                if gives == 0 {
                    break;
                }
                if let Some(print) = fabric {
                    self.take(print, sheet, 1, lies.rest(sheet, gives));
                }
                lacks -= gives;
                match off.last_mut().filter(|last| last.of == [sheet.1, sheet.2]) {
                    Some(last) => (last.sheets, last.gives) = (last.sheets + 1, last.gives + gives),
                    None => off.push(Off { of: [sheet.1, sheet.2], sheets: 1, gives, each: Length::ZERO }),
                }
            }
        }
        if lacks > 0 && !part {
            (self.left, off, lacks) = (kept, Vec::new(), count);
        }
        let a_row = self.cloth.floor_div(size[0]).max(1);
        let rows = Length::from_ticks(lacks).ceil_div(Length::from_ticks(a_row));
        let cut = PartCut::Pieces { size, count };
        self.parts.push(FinishPart { what, fabric, cut, off, bought: size[1] * rows });
    }

    /// Rectangles of whatever is left, the longest first, end to end; what lacks is bought.
    fn middle(&mut self, middle: &Middle, join: Length, backing: Option<Print>) {
        let width = middle.width;
        let mut sheets: Vec<(Length, Print, Sheet, u32)> = Vec::new();
        for ((print, sheet), count) in &self.left {
            let (_, wide, tall) = *sheet;
            let [upright, level] = [tall * wide.floor_div(width), wide * tall.floor_div(width)];
            let long = if level > upright { wide } else { tall };
            if upright.max(level) > Length::ZERO && long >= join * 2i64 {
                sheets.push((long, *print, *sheet, *count));
            }
        }
        sheets.sort_by_key(|(long, print, sheet, _)| (Reverse(*long), *print, *sheet));
        // What it is long, less one join.
        let mut joined = Length::ZERO;
        let mut parts: Vec<FinishPart> = Vec::new();
        for (long, print, sheet, there) in sheets {
            let (_, wide, tall) = sheet;
            let turned = wide * tall.floor_div(width) > tall * wide.floor_div(width);
            let across = if turned { tall } else { wide };
            for _ in 0..there {
                let lacks = middle.length - join - joined;
                let gives = across.floor_div(width).min(lacks.ceil_div(long - join)).max(0);
                if gives == 0 {
                    break;
                }
                joined += (long - join) * gives;
                let rest = across - width * gives;
                self.take(print, sheet, 1, if turned { [wide, rest] } else { [rest, tall] });
                let off = Off { of: [wide, tall], sheets: 1, gives, each: long };
                let same = |part: &&mut FinishPart| part.fabric == Some(print) && part.off[0].each == long;
                match parts.iter_mut().find(same) {
                    Some(part) => {
                        match part.off.last_mut().filter(|last| last.of == off.of) {
                            Some(last) => (last.sheets, last.gives) = (last.sheets + 1, last.gives + gives),
                            None => part.off.push(off),
                        }
                        if let PartCut::Pieces { count, .. } = &mut part.cut {
                            *count += gives;
                        }
                    }
                    None => parts.push(FinishPart {
                        what: PartOf::Middle,
                        fabric: Some(print),
                        cut: PartCut::Pieces { size: [width, long], count: gives },
                        off: vec![off],
                        bought: Length::ZERO,
                    }),
                }
            }
        }
        self.parts.extend(parts);
        if joined + join < middle.length {
            let lacks = middle.length - joined;
            let cut = PartCut::Pieces { size: [width, lacks], count: 1 };
            self.parts.push(FinishPart { what: PartOf::Middle, fabric: backing, cut, off: Vec::new(), bought: lacks });
        }
    }

    /// How many pieces of a size each fabric that is left gives, the most first.
    fn room(&self, size: [Length; 2]) -> Vec<(Print, i64)> {
        let mut room = BTreeMap::<Print, i64>::new();
        for ((print, sheet), count) in &self.left {
            *room.entry(*print).or_default() += Lies::of(*sheet, size).all() * i64::from(*count);
        }
        let mut room: Vec<(Print, i64)> = room.into_iter().filter(|(_, gives)| *gives > 0).collect();
        room.sort_by_key(|(print, gives)| (Reverse(*gives), *print));
        room
    }

    /// The fabric of every place round a pieced border: those asked for in turn; else what is left, in turn while it lasts.
    fn ring<'a>(&self, work: &PiecedWork, letters: impl Iterator<Item = &'a String>, fabrics: &FinishFabrics) -> Ring {
        let triangles = work.units == BorderUnits::Triangles;
        let mut asked: Vec<Print> = letters.filter_map(|letter| fabrics.lettered.get(letter).copied()).collect();
        let ground = if triangles && asked.len() > 1 { asked.pop() } else { None };
        let other = || if asked.first() == Some(&fabrics.lightest) { fabrics.darkest } else { fabrics.lightest };
        let ground = ground.or_else(|| triangles.then(other));
        let places = work.places();
        if !asked.is_empty() {
            return Ring { places: asked.iter().copied().cycle().take(places).collect(), ground };
        }
        let side = work.pair.map_or(work.cut, |side| [side; 2]);
        let each = if triangles { 2 } else { 1 };
        let room = self.room(side).into_iter().filter(|(print, _)| Some(*print) != ground);
        let mut room: Vec<(Print, i64)> = room.map(|(print, gives)| (print, gives * each)).collect();
        let mut order: Vec<Print> = room.iter().map(|(print, _)| *print).collect();
        if order.is_empty() {
            order = if triangles { vec![fabrics.darkest] } else { vec![fabrics.darkest, fabrics.lightest] };
        }
        // Where it is not enough for all, they take turns alike, and what lacks is bought.
        if room.iter().map(|(_, gives)| gives).sum::<i64>() < places as i64 {
            return Ring { places: order.into_iter().cycle().take(places).collect(), ground };
        }
        let mut dealt = Vec::new();
        let mut turn = 0;
        while dealt.len() < places {
            let lasts = (0..room.len()).map(|step| (turn + step) % room.len()).find(|at| room[*at].1 > 0);
            let Some(at) = lasts else { break };
            room[at].1 -= 1;
            dealt.push(order[at]);
            turn = (at + 1) % order.len();
        }
        Ring { places: dealt, ground }
    }

    /// What the units of a pieced border are cut of, by fabric as they come round it; then its corners.
    fn units(&mut self, border: usize, work: &PiecedWork, ring: &Ring) {
        let corners = work.corners();
        let mut counts: Vec<(Print, [i64; 2])> = Vec::new();
        for (at, print) in ring.places.iter().enumerate() {
            let place = usize::from(corners.contains(&at));
            match counts.iter_mut().find(|(known, _)| known == print) {
                Some((_, counts)) => counts[place] += 1,
                None => counts.push((*print, [1 - place as i64, place as i64])),
            }
        }
        let corner = [work.corner; 2];
        match work.units {
            BorderUnits::Squares => {
                for (print, [units, corners]) in counts {
                    self.pieces(PartOf::Units(border), Some(print), work.cut, units + corners, true);
                }
            }
            BorderUnits::Rectangles => {
                for (print, [units, _]) in counts.iter().filter(|(_, [units, _])| *units > 0) {
                    self.pieces(PartOf::Units(border), Some(*print), work.cut, *units, true);
                }
                for (print, [_, corners]) in counts.iter().filter(|(_, [_, corners])| *corners > 0) {
                    self.pieces(PartOf::Corners(border), Some(*print), corner, *corners, true);
                }
            }
            BorderUnits::Triangles => {
                let side = [work.pair.unwrap_or_default(); 2];
                let pairs = |units: i64| (units + 1) / 2;
                for (print, [units, _]) in counts.iter().filter(|(_, [units, _])| *units > 0) {
                    self.pieces(PartOf::Units(border), Some(*print), side, pairs(*units), true);
                }
                let all: i64 = counts.iter().map(|(_, [units, _])| pairs(*units)).sum();
                self.pieces(PartOf::Units(border), ring.ground, side, all, true);
                self.pieces(PartOf::Corners(border), ring.ground, corner, 4, true);
            }
        }
    }
}

/// How pieces lie on a sheet: rows of them across it, or, on its side, up it, whichever gives more.
struct Lies {
    a_row: i64,
    rows: i64,
    deep: Length,
    turned: bool,
}

impl Lies {
    fn of((kind, width, height): Sheet, size: [Length; 2]) -> Self {
        let lies = |a: Length, b: Length, turned| Self {
            a_row: a.floor_div(size[0]).max(0),
            rows: b.floor_div(size[1]).max(0),
            deep: size[1],
            turned,
        };
        let (straight, turned) = (lies(width, height, false), lies(height, width, true));
        // A length is cut from its end, so that it stays one.
        if kind != SheetKind::Length && turned.all() > straight.all() { turned } else { straight }
    }

    fn all(&self) -> i64 {
        self.a_row * self.rows
    }

    /// What stays beside the rows that so many pieces take.
    fn rest(&self, (_, width, height): Sheet, gives: i64) -> [Length; 2] {
        let used = self.deep * Length::from_ticks(gives).ceil_div(Length::from_ticks(self.a_row.max(1)));
        if self.turned { [width - used, height] } else { [width, height - used] }
    }
}
