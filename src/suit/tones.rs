//! A palette on its way, and what no step of the way may lose.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use palette::color_difference::HyAb;

use super::fit::shown;
use super::guard::QUIET;
use super::median::Lab;
use crate::fabric::{Fabric, Fabrics, Rgb, named, named_beside, value_step};

/// Share of the picture under which a colour is a small thing's.
const SMALL: f64 = 0.04;
/// How far a small thing's colour is from every other.
const STANDS_OUT: f64 = 12.0;
/// A colour no farther than this stands for a small thing, a quiet pair for another.
const STANDS_FOR: f64 = 12.0;

/// One colour of a palette.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tone {
    pub(super) colour: Rgb,
    /// From where it may move only so far.
    pub(super) began: Rgb,
    /// It is a small thing's, that stands out.
    pub(super) accent: bool,
    /// The maker holds it as it is.
    pub(super) held: bool,
}

/// Tones from light to dark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tones(Vec<Tone>);

impl Tones {
    /// The tones in order.
    pub(super) fn new(mut tones: Vec<Tone>) -> Self {
        let key = |tone: &Tone| (tone.colour, tone.began, tone.accent, tone.held);
        let lightness = |tone: &Tone| tone.colour.lightness();
        tones.sort_by(|one, other| lightness(other).total_cmp(&lightness(one)).then(key(one).cmp(&key(other))));
        Self(tones)
    }

    /// Proposed colours, the first `held` ones as they are; those of small things by the picture's cells.
    pub(super) fn proposed(fabrics: &[Fabric], held: usize, cells: &[Lab]) -> Self {
        let labs: Vec<Lab> = fabrics.iter().map(|fabric| fabric.colour.lab()).collect();
        let mut served = vec![0_usize; labs.len()];
        for cell in cells {
            let far = labs.iter().map(|lab| lab.hybrid_distance(*cell)).enumerate();
            if let Some((nearest, _)) = far.min_by(|one, other| one.1.total_cmp(&other.1)) {
                served[nearest] += 1;
            }
        }
        let alone = |i: usize| (0..labs.len()).all(|j| i == j || labs[i].hybrid_distance(labs[j]) > STANDS_OUT);
        let small = |i: usize| (served[i] as f64) < SMALL * cells.len() as f64;
        let tone = |(i, fabric): (usize, &Fabric)| Tone {
            colour: fabric.colour,
            began: fabric.colour,
            accent: small(i) && alone(i),
            held: i < held,
        };
        Self::new(fabrics.iter().enumerate().map(tone).collect())
    }

    /// Other colours for the same tones, but for the held ones.
    pub(super) fn moved(&self, colours: Vec<Rgb>) -> Self {
        let to = |(tone, colour): (&Tone, Rgb)| if tone.held { *tone } else { Tone { colour, ..*tone } };
        Self::new(self.0.iter().zip(colours).map(to).collect())
    }

    /// Half the way to other colours for the same tones.
    pub(super) fn halfway(&self, colours: &[Rgb]) -> Self {
        let half = |(tone, to): (&Tone, &Rgb)| shown((tone.colour.lab() + to.lab()) / 2.0).unwrap_or(tone.colour);
        self.moved(self.0.iter().zip(colours).map(half).collect())
    }

    /// Colours chosen anew, in the place of these: they begin where they are, but small things' where those began.
    pub(super) fn replaced(&self, colours: &[Rgb]) -> Self {
        let mut tones: Vec<Tone> =
            colours.iter().map(|&colour| Tone { colour, began: colour, accent: false, held: false }).collect();
        for held in self.0.iter().filter(|tone| tone.held) {
            if let Some(same) = tones.iter_mut().find(|tone| tone.colour == held.colour && !tone.held) {
                *same = *held;
            }
        }
        for accent in self.0.iter().filter(|tone| tone.accent && !tone.held) {
            let far = tones.iter().map(|tone| distance(tone.colour, accent.began)).enumerate();
            let far = far.filter(|(at, _)| !tones[*at].held);
            if let Some((nearest, _)) = far.min_by(|one, other| one.1.total_cmp(&other.1)) {
                tones[nearest] = Tone { colour: tones[nearest].colour, ..*accent };
            }
        }
        Self::new(tones)
    }

    /// Which of these have to stay for what other colours would lose: a small thing's colour, a step of light, middle and
    /// dark, a quiet pair.
    pub(super) fn lost(&self, others: &[Rgb]) -> Vec<usize> {
        let mut stay = Vec::new();
        for (i, tone) in self.0.iter().enumerate() {
            let step = value_step(tone.colour);
            let first = self.0[..i].iter().all(|before| value_step(before.colour) != step);
            let is_lost = first && others.iter().all(|other| value_step(*other) != step);
            let stands = |other: &Rgb| distance(*other, tone.began) <= STANDS_FOR;
            if is_lost || (tone.accent && !others.iter().any(stands)) {
                stay.push(i);
            }
        }
        let held = quiet_pairs(others);
        for ([i, j], middle) in quiet_pairs(&self.colours()) {
            if held.iter().all(|(_, other)| other.hybrid_distance(middle) > STANDS_FOR) {
                stay.extend([i, j]);
            }
        }
        stay.sort_unstable();
        stay.dedup();
        stay
    }

    pub(super) fn colours(&self) -> Vec<Rgb> {
        self.0.iter().map(|tone| tone.colour).collect()
    }

    pub(super) fn began(&self) -> Vec<Rgb> {
        self.0.iter().map(|tone| tone.began).collect()
    }

    /// Which of these are held.
    pub(super) fn held(&self) -> Vec<bool> {
        self.0.iter().map(|tone| tone.held).collect()
    }

    /// A fabric of each.
    pub(super) fn fabrics(&self) -> Fabrics {
        named(self.colours())
    }

    /// The held fabrics, and one of each tone beside them.
    pub(super) fn fabrics_beside(&self, held: &[Fabric]) -> Fabrics {
        named_beside(held, self.0.iter().filter(|tone| !tone.held).map(|tone| tone.colour).collect())
    }
}

/// Pairs of colours so near that they make quiet units, each with what lies in its middle.
fn quiet_pairs(colours: &[Rgb]) -> Vec<([usize; 2], Lab)> {
    let labs: Vec<Lab> = colours.iter().map(|colour| colour.lab()).collect();
    let pairs = (0..labs.len()).flat_map(|j| (0..j).map(move |i| [i, j]));
    let quiet = pairs.filter(|&[i, j]| labs[i].hybrid_distance(labs[j]) <= QUIET);
    quiet.map(|[i, j]| ([i, j], (labs[i] + labs[j]) / 2.0)).collect()
}

fn distance(one: Rgb, other: Rgb) -> f64 {
    crate::fabric::hyab(one, other)
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAMP: Rgb = Rgb([255, 204, 64]);
    const SKY: [Rgb; 2] = [Rgb([200; 3]), Rgb([190; 3])];
    const ROCK: Rgb = Rgb([60; 3]);

    /// A sky of two near shades, rock, and a lamp of five cells in a thousand.
    fn dusk() -> Tones {
        let counts = [(SKY[0], 400), (SKY[1], 395), (ROCK, 200), (LAMP, 5)];
        let cells: Vec<Lab> = counts.iter().flat_map(|&(colour, n)| vec![colour.lab(); n]).collect();
        Tones::proposed(&named(counts.map(|(colour, _)| colour).to_vec()).raw, 0, &cells)
    }

    #[test]
    fn a_lamp_is_an_accent_and_stands_first() {
        let tones = dusk();
        assert_eq!(tones.colours(), [LAMP, SKY[0], SKY[1], ROCK]);
        assert_eq!(tones.0.iter().map(|tone| tone.accent).collect::<Vec<_>>(), [true, false, false, false]);
    }

    #[test]
    fn lamp_dark_and_the_two_shades_of_the_sky_are_missed() {
        let tones = dusk();
        let near = Rgb([250, 200, 70]);
        assert!(tones.lost(&[near, SKY[0], SKY[1], ROCK]).is_empty());
        assert_eq!(tones.lost(&[SKY[0], SKY[1], ROCK]), [0], "no lamp");
        assert_eq!(tones.lost(&[LAMP, SKY[0], ROCK]), [1, 2], "one shade of the sky");
        assert_eq!(tones.lost(&[LAMP, SKY[0], SKY[1]]), [3], "no dark");
    }

    #[test]
    fn what_stands_for_the_lamp_begins_where_the_lamp_did() {
        let near = Rgb([250, 200, 70]);
        let replaced = dusk().replaced(&[ROCK, near, SKY[0], SKY[1]]);
        assert!(replaced.0.contains(&Tone { colour: near, began: LAMP, accent: true, held: false }), "{replaced:?}");
    }

    #[test]
    fn halfway_lies_between() {
        let tones = dusk();
        let half = tones.halfway(&[LAMP, SKY[0], SKY[1], Rgb([80; 3])]);
        assert_eq!(half.began(), tones.began());
        let dark = half.colours()[3].lightness();
        assert!(ROCK.lightness() < dark && dark < Rgb([80; 3]).lightness(), "{dark}");
    }
}
