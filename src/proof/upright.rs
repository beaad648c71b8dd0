//! Prints that stand upright in triangle units: squares laid, mirrored across their seams and opened on paper.

use super::cutting::Method;
use super::fault::Fault;
use super::scene::Scene;
use super::sheet::Line;

/// A direction on paper, to the right and down.
type Way = (i8, i8);

const UP: Way = (0, -1);

/// Corners clockwise from the upper left, as quarter turns count.
pub const CORNERS: [&str; 4] = ["upper left", "upper right", "lower right", "lower left"];

/// How the squares of a pair lie, and which of its units are used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lay {
    /// Directions of the lines that are sewn along.
    lines: Vec<Way>,
    /// The letter of the square below, face up, its top up.
    pub below: String,
    /// Where the top of the other's print is to; none where that is all the same.
    pub top_to: Option<Way>,
    /// Units used by the corner that the first fabric fills.
    pub needed: [u32; 4],
}

const RISING: Way = (1, -1);
const FALLING: Way = (1, 1);
const TOPS: [(&str, Way); 2] = [("left", (-1, 0)), ("right", (1, 0))];

impl Lay {
    /// What a line of cutting.csv says of it; none where it says nothing.
    pub fn read(line: &Line) -> Result<Option<Self>, Fault> {
        let counts = ["upper_left", "upper_right", "lower_right", "lower_left"];
        if line.some("diagonal").is_none() {
            line.nothing_in(&["below", "top_to", "stands"])?;
            return line.nothing_in(&counts).map(|()| None);
        }
        line.nothing_in(&["stands"])?;
        let lines = line
            .choice("diagonal", &[("rising", &[RISING][..]), ("falling", &[FALLING]), ("both", &[RISING, FALLING])])?;
        let top_to = line.some("top_to").map(|_| line.choice("top_to", &TOPS)).transpose()?;
        let mut needed = [0; 4];
        for (needed, name) in needed.iter_mut().zip(counts) {
            *needed = line.count(name)?;
        }
        Ok(Some(Self { lines: lines.to_vec(), below: line.due("below")?.to_owned(), top_to, needed }))
    }

    /// Units of one pair in which every print stands that is to, by the corner that the first fabric fills.
    pub fn gives(&self, scene: &Scene, [first, second]: &[String; 2]) -> [u32; 4] {
        let below_is_first = self.below == *first;
        let above = if below_is_first { second } else { first };
        // Along both lines the squares are cut in quarters: two of them have a part of each line.
        let each = if self.lines.len() == 2 { 2 } else { 1 };
        let mut gives = [0; 4];
        for &line in &self.lines {
            let stands = !scene.is_upright(above) || self.top_to.is_some_and(|top| mirrored(top, line) == UP);
            for side in [(line.1, -line.0), (-line.1, line.0)] {
                let corner = match side {
                    (x, y) if x < 0 && y < 0 => 0,
                    (x, y) if x > 0 && y < 0 => 1,
                    (x, y) if x > 0 && y > 0 => 2,
                    _ => 3,
                };
                let corner: usize = if below_is_first { corner } else { (corner + 2) % 4 };
                if let Some(gives) = gives.get_mut(corner).filter(|_| stands) {
                    *gives += each;
                }
            }
        }
        gives
    }

    /// How many lines are sewn along.
    pub fn along(&self) -> usize {
        self.lines.len()
    }

    /// In words, as the list has them.
    pub fn words(&self) -> &'static str {
        match self.lines.as_slice() {
            [RISING] => "line from lower left to upper right",
            [FALLING] => "line from upper left to lower right",
            _ => "both lines",
        }
    }

    /// The word for where the upper print's top is to.
    pub fn top_word(&self) -> Option<&'static str> {
        TOPS.iter().find(|(_, way)| Some(*way) == self.top_to).map(|(word, _)| *word)
    }
}

/// A direction mirrored across a line that rises or falls by as much as it goes: its two parts change places.
fn mirrored((x, y): Way, line: Way) -> Way {
    if line.0 == line.1 { (y, x) } else { (-y, -x) }
}

/// Checks how a pair is laid against its method and the prints that are to stand.
pub fn check(
    scene: &Scene,
    line: &Line,
    (fabrics, method, pairs, needed): (&[String; 2], Method, u32, u32),
    lay: Option<&Lay>,
) -> Result<(), Fault> {
    let [first, second] = fabrics;
    let upright = scene.is_upright(first) || scene.is_upright(second);
    let Some(lay) = lay else {
        return match upright {
            false => Ok(()),
            true => Err(line.fault("a print of it is to stand upright, and nothing says how its squares are laid")),
        };
    };
    if !upright {
        return Err(line.fault("it says how its squares are laid, and no print of it is to stand upright"));
    }
    let due = match method {
        Method::Two => 1,
        Method::Eight => 2,
        Method::Four => return Err(line.fault("four at a time turn a print that is to stand upright")),
    };
    if lay.along() != due {
        return Err(line.fault("its diagonal is not that of its method"));
    }
    if !fabrics.contains(&lay.below) || !scene.is_upright(&lay.below) {
        return Err(line.fault("the square below is to be of a print that stands upright"));
    }
    if lay.top_to.is_some() != (scene.is_upright(first) && scene.is_upright(second)) {
        return Err(
            line.fault("it says where the top of a print is to that need not stand, or not where it is to stand")
        );
    }
    let sum: u64 = lay.needed.iter().map(|count| u64::from(*count)).sum();
    if sum != u64::from(needed) {
        return Err(line.fault(format!("{needed} units are needed, and by their corners {sum}")));
    }
    let gives = lay.gives(scene, fabrics).map(|each| u64::from(each) * u64::from(pairs));
    for ((corner, gives), needed) in CORNERS.iter().zip(gives).zip(lay.needed) {
        if gives < u64::from(needed) {
            let what = format!("with {first} in the {corner} it gives {gives} units that stand upright");
            return Err(line.fault(format!("{what}, and {needed} are needed")));
        }
    }
    Ok(())
}

/// The corner that a fabric fills of a unit in which another, or the same, fills `turn`.
pub fn corner_of(fabric: &str, first: &str, turn: u8) -> usize {
    usize::from(if fabric == first { turn % 4 } else { (turn + 2) % 4 })
}
