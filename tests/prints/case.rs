//! Small scenes with prints on them, and pieces on hand for some.

use std::collections::BTreeMap;

use rowscape::fabric::{Fabric, Fabrics, FillerOnHand, OnHand, Print, Rgb, SliceOnHand, Supply, UnitOnHand};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Band, Column, Item, Numbers, Piece, Plan, Progress, Request, Row, RowEnds, State, Unit, items};
use rowscape::prints::{Rules, spread_on_hand};
use rowscape::unit::{Corner, Shape, Triangle};
use rowscape::watch::UNWATCHED;
use typed_index_collections::{TiSlice, TiVec};

/// A small seeded generator (Knuth's MMIX constants).
pub struct Seeded(u64);

impl Seeded {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }
}

/// A scene with prints on it, and whether each print is counted.
#[derive(Clone)]
pub struct Case {
    pub plan: Plan,
    pub families: Vec<Vec<Print>>,
    pub counted: TiVec<Print, bool>,
}

impl Case {
    pub fn new(seed: u64) -> Self {
        let mut dice = Seeded(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let mut families: Vec<Vec<Print>> = Vec::new();
        let mut prints = 0;
        for _ in 0..2 + dice.below(2) {
            let more = 1 + dice.below(3);
            families.push((prints..prints + more).map(Print).collect());
            prints += more;
        }
        let free = dice.below(3);
        let counted: TiVec<Print, bool> = (0..prints).map(|_| free == 0 || free == 1 && dice.below(2) == 0).collect();
        let fabrics = families.iter().enumerate().flat_map(|(family, prints)| {
            let counted = &counted;
            let fabric = move |&print: &Print| Fabric {
                family: format!("family {family}"),
                supply: counted[print].then(Supply::default),
                ..Fabric::new(format!("{}", print.0), format!("print {}", print.0), Rgb([128; 3]))
            };
            prints.iter().map(fabric)
        });
        let fabrics: Fabrics = fabrics.collect();
        let row_ends = if dice.below(2) == 0 { RowEnds::Spare } else { RowEnds::Exact };
        let request = Request {
            picture: "quay".into(),
            width: Length::INCH * 12i64,
            height: Length::INCH * 10i64,
            grid: Length::INCH,
            squares: vec!["5in".parse().unwrap()],
            strips: vec![Length::INCH],
            row_ends,
            ..Request::usual(Ruler::Inch)
        };
        let bands = bands(&mut dice, &request, &families);
        let picture = vec![Rgb([128; 3]); 120];
        let mut plan = Plan {
            request,
            fabrics,
            hand: OnHand::default(),
            picture,
            focus: Vec::new(),
            bands,
            numbers: Numbers::NONE,
            progress: Progress::default(),
        };
        if dice.below(2) == 0 {
            plan.hand = on_hand(&mut dice, &plan, &families);
        }
        Self { plan, families, counted }
    }

    pub fn family(&self, print: Print) -> usize {
        self.families.iter().position(|prints| prints.contains(&print)).unwrap()
    }

    pub fn spread(&self) -> Plan {
        let mut plan = self.plan.clone();
        let spare_ends = plan.request.row_ends == RowEnds::Spare;
        let vocabulary = plan.vocabulary();
        let rules = Rules {
            families: TiSlice::from_ref(&self.families),
            vocabulary: &vocabulary,
            counted: &self.counted,
            spare_ends,
            watch: &UNWATCHED,
        };
        spread_on_hand(&mut plan.bands, &rules, &items(&plan.hand, &plan.request));
        plan
    }
}

/// Some of the scene's own pieces, and others of the same families and sizes.
fn on_hand(dice: &mut Seeded, plan: &Plan, families: &[Vec<Print>]) -> OnHand {
    let mut hand = OnHand::default();
    let finished = |cells: u32| plan.request.grid * cells;
    for placed in plan.placed() {
        if dice.below(2) == 0 {
            continue;
        }
        let other = dice.below(3) == 0;
        let mut print = |print: Print| {
            let prints = families.iter().find(|prints| prints.contains(&print)).unwrap();
            if other { prints[dice.below(prints.len())] } else { print }
        };
        let count = 1;
        match placed.item() {
            Item::Unit { first, second, block, .. } => {
                let (fabrics, finished) = ([print(first), print(second)], finished(block));
                hand.units.extend((fabrics[0] != fabrics[1]).then_some(UnitOnHand {
                    finished,
                    fabrics,
                    stands: None,
                    count,
                }));
            }
            Item::Slice { tip, rest, block, width, leans, .. } => {
                let (tip, rest, from, width) = (print(tip), print(rest), finished(block), finished(width));
                hand.slices.extend((tip != rest).then_some(SliceOnHand {
                    from,
                    width,
                    tip,
                    rest,
                    leans,
                    stands: None,
                    count,
                }));
            }
            Item::Filler { fabric, long, short } => {
                let (fabric, width, height) = (print(fabric), finished(long), finished(short));
                hand.fillers.push(FillerOnHand { fabric, width, height, count });
            }
        }
    }
    hand
}

/// Rows of 4, 4 and 2 cells in one band, or a column of them beside another.
fn bands(dice: &mut Seeded, request: &Request, families: &[Vec<Print>]) -> Vec<Band> {
    let shapes = request.check().unwrap().shapes();
    let left = [12, 8, 5][dice.below(3)];
    // Pairs of prints change now and then, as lots of squares do.
    let mut pairs: BTreeMap<(usize, usize), [Print; 2]> = BTreeMap::new();
    let mut column = |width: usize| {
        let mut heights = [4, 4, 2];
        heights.swap(dice.below(3), 2);
        let row = |&height: &usize| {
            let mut units = Vec::new();
            let mut room = width;
            while room > 0 {
                let unit = unit(dice, &shapes, height, room, families, &mut pairs);
                room -= unit.width as usize;
                units.push(unit);
            }
            Row { height: height as u32, units }
        };
        Column { width: width as u32, rows: heights.iter().map(row).collect() }
    };
    let columns = [left, 12 - left].into_iter().filter(|width| *width > 0).map(&mut column).collect();
    vec![Band { height: 10, columns }]
}

fn unit(
    dice: &mut Seeded,
    shapes: &[Shape],
    height: usize,
    room: usize,
    families: &[Vec<Print>],
    pairs: &mut BTreeMap<(usize, usize), [Print; 2]>,
) -> Unit {
    let fits: Vec<&Shape> = shapes.iter().filter(|s| s.height as usize == height && s.width as usize <= room).collect();
    let state = if dice.below(8) == 0 { State::Kept } else { State::Free };
    let print = |dice: &mut Seeded, family: usize| families[family][dice.below(families[family].len())];
    let (one, other) = (dice.below(families.len()), dice.below(families.len()));
    if fits.is_empty() || dice.below(4) == 0 || one == other && families[one].len() == 1 {
        let width = (1 + dice.below(5)).min(room) as u32;
        return Unit { width, piece: Piece::Filler(print(dice, one)), state };
    }
    let shape = fits[dice.below(fits.len())];
    let key = (one.min(other), one.max(other));
    if dice.below(3) == 0 || !pairs.contains_key(&key) {
        let first = print(dice, key.0);
        let second = loop {
            let second = print(dice, key.1);
            if second != first {
                break second;
            }
        };
        pairs.insert(key, [first, second]);
    }
    let [mut tip, mut rest] = pairs[&key];
    if dice.below(2) == 0 {
        (tip, rest) = (rest, tip);
    }
    let triangle =
        Triangle { block: shape.block, cut: shape.cut, corner: Corner::ALL[dice.below(4)], tip, rest, upright: false };
    Unit { width: shape.width, piece: Piece::Triangle(triangle), state }
}
