//! The blur fit: colours for pieces that stay as they are.
//!
//! In linear light a blurred top is the sum over its fabrics of their blurred mask times their colour. The error is
//! the sum over all points of weight times HyAB between that and the blurred picture. Each colour in turn takes the
//! step along L, a or b that lowers it most, by shorter and shorter steps; so the error never rises, and it ends.

use palette::color_difference::HyAb;
use palette::white_point::D65;
use rayon::prelude::*;

use super::guard::Guard;
use crate::fabric::Rgb;
use crate::fabric::light;

type Lab = palette::Lab<D65, f64>;

/// Steps in L, a and b, longest first.
const STEPS: [f64; 4] = [6.0, 3.0, 1.5, 0.75];
/// Most times that all colours are gone through with one step.
const PASSES: usize = 6;

/// What is seen of a top from across the room, point by point.
pub struct Seen {
    /// The blurred picture in linear light.
    pub picture: Vec<[f64; 3]>,
    /// What each point counts for.
    pub weights: Vec<f64>,
    /// The blurred mask of each fabric, 0 to 1; all of a point come to 1.
    pub masks: Vec<Vec<f64>>,
}

/// The fabrics' colours, each where it makes the top as seen most like the picture; none moves
/// farther than it may from where it `began`, and those that are `held` not at all; none is where that ends.
pub fn fit(seen: &Seen, colours: &[Rgb], began: &[Rgb], held: &[bool]) -> Vec<Rgb> {
    let mut state = State::new(seen, colours);
    let guard = Guard::new(colours, began);
    let free: Vec<usize> = (0..colours.len()).filter(|at| !held.get(*at).copied().unwrap_or_default()).collect();
    for step in STEPS {
        for _ in 0..PASSES {
            let moved = free.iter().filter(|&&fabric| state.step(fabric, step, &guard)).count();
            if moved == 0 {
                break;
            }
        }
    }
    state.colours
}

/// Where the fit stands.
struct State {
    colours: Vec<Rgb>,
    picture: Vec<Lab>,
    weights: Vec<f64>,
    /// Points at which each fabric is seen, and how much of it.
    parts: Vec<Vec<(usize, f64)>>,
    /// The top as seen, in linear light, and its weighted error.
    light: Vec<[f64; 3]>,
    errors: Vec<f64>,
}

impl State {
    fn new(seen: &Seen, colours: &[Rgb]) -> Self {
        let picture: Vec<Lab> = seen.picture.iter().map(|light| lab(*light)).collect();
        let part = |mask: &Vec<f64>| mask.iter().copied().enumerate().filter(|(_, share)| *share > 0.0).collect();
        let parts: Vec<Vec<(usize, f64)>> = seen.masks.iter().map(part).collect();
        let mut light = vec![[0.0; 3]; picture.len()];
        for (mask, colour) in seen.masks.iter().zip(colours) {
            let colour = colour.linear();
            light.iter_mut().zip(mask).for_each(|(light, share)| *light = moved(*light, colour, *share));
        }
        let far = light.iter().zip(&picture).map(|(light, lab_there)| lab(*light).hybrid_distance(*lab_there));
        let errors = far.zip(&seen.weights).map(|(far, weight)| far * weight).collect();
        Self { colours: colours.to_vec(), picture, weights: seen.weights.clone(), parts, light, errors }
    }

    /// Moves a colour one step the best way; tells whether any was better.
    fn step(&mut self, fabric: usize, step: f64, guard: &Guard) -> bool {
        let from = self.colours[fabric];
        let ways = around(from, step).filter(|to| *to != from && guard.allows(&self.colours, fabric, *to));
        let ways: Vec<Rgb> = ways.collect();
        let gains: Vec<f64> = ways.par_iter().map(|to| self.gain(fabric, *to)).collect();
        let best = gains.into_iter().zip(ways).max_by(|one, other| one.0.total_cmp(&other.0));
        let Some((gain, to)) = best else { return false };
        if gain <= 1e-9 * self.errors.len() as f64 {
            return false;
        }
        self.take(fabric, to);
        true
    }

    /// By how much the error falls.
    fn gain(&self, fabric: usize, to: Rgb) -> f64 {
        let by = change(self.colours[fabric], to);
        self.parts[fabric].iter().map(|&(at, share)| self.errors[at] - self.error(at, by, share)).sum()
    }

    fn error(&self, at: usize, by: [f64; 3], share: f64) -> f64 {
        lab(moved(self.light[at], by, share)).hybrid_distance(self.picture[at]) * self.weights[at]
    }

    fn take(&mut self, fabric: usize, to: Rgb) {
        let by = change(self.colours[fabric], to);
        for &(at, share) in &self.parts[fabric] {
            self.errors[at] =
                lab(moved(self.light[at], by, share)).hybrid_distance(self.picture[at]) * self.weights[at];
            self.light[at] = moved(self.light[at], by, share);
        }
        self.colours[fabric] = to;
    }
}

/// Colours a step away along L, a or b that can be shown.
fn around(from: Rgb, step: f64) -> impl Iterator<Item = Rgb> {
    let from = from.lab();
    let ways = [[step, 0.0, 0.0], [0.0, step, 0.0], [0.0, 0.0, step]];
    let both = ways.into_iter().flat_map(|way| [way, way.map(|along| -along)]);
    both.filter_map(move |[l, a, b]| shown(Lab::new(from.l + l, from.a + a, from.b + b)))
}

/// The eight-bit colour, if there is one.
pub(super) fn shown(lab: Lab) -> Option<Rgb> {
    let light = light::of_lab(lab);
    light.iter().all(|value| (0.0..=1.0).contains(value)).then(|| Rgb::from_linear(light))
}

/// CIELAB of linear light, to some fourteen digits.
pub(super) fn lab(light: [f64; 3]) -> Lab {
    light::lab_by(light, cube_root)
}

/// The cube root of what is above nothing, to some fourteen digits: a third of the time of the fit went into exact ones.
///
/// A third of the exponent is within 6 per cent (FreeBSD's `cbrt`, from memory); each of Halley's steps triples the digits.
fn cube_root(of: f64) -> f64 {
    let near = f64::from_bits(of.to_bits() / 3 + (715_094_163 << 32));
    (0..3).fold(near, |root, _| {
        let cube = root * root * root;
        root * (cube + 2.0 * of) / (2.0 * cube + of)
    })
}

fn moved(light: [f64; 3], by: [f64; 3], share: f64) -> [f64; 3] {
    std::array::from_fn(|i| light[i] + by[i] * share)
}

fn change(from: Rgb, to: Rgb) -> [f64; 3] {
    let (from, to) = (from.linear(), to.linear());
    std::array::from_fn(|i| to[i] - from[i])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fabric::hyab;
    use palette::{IntoColor, LinSrgb};

    /// The objective by a plain double loop.
    fn error(seen: &Seen, colours: &[Rgb]) -> f64 {
        let mut sum = 0.0;
        for (at, picture) in seen.picture.iter().enumerate() {
            let mut light = [0.0; 3];
            for (mask, colour) in seen.masks.iter().zip(colours) {
                light.iter_mut().zip(colour.linear()).for_each(|(light, channel)| *light += mask[at] * channel);
            }
            sum += seen.weights[at] * lab(light).hybrid_distance(lab(*picture));
        }
        sum
    }

    fn case(colours: &[Rgb], picture: &[Rgb], shares: &[u8]) -> Seen {
        let mut masks = vec![Vec::new(); colours.len()];
        for at in 0..picture.len() {
            let share = |fabric: usize| f64::from(shares[(at * colours.len() + fabric) % shares.len()]) + 0.01;
            let all: f64 = (0..colours.len()).map(share).sum();
            (0..colours.len()).for_each(|fabric| masks[fabric].push(share(fabric) / all));
        }
        let weights = (0..picture.len()).map(|at| 1.0 + (at % 3) as f64).collect();
        Seen { picture: picture.iter().map(|colour| colour.linear()).collect(), weights, masks }
    }

    #[test]
    fn a_mean_of_light_and_dark_is_drawn_apart_again() {
        let (light, dark) = (Rgb([190; 3]), Rgb([70; 3]));
        let seen = Seen {
            picture: vec![Rgb([205; 3]).linear(), Rgb([55; 3]).linear()],
            weights: vec![1.0; 2],
            masks: vec![vec![0.9, 0.1], vec![0.1, 0.9]],
        };
        let fitted = fit(&seen, &[light, dark], &[light, dark], &[]);
        assert!(fitted[0].lightness() > light.lightness() && fitted[1].lightness() < dark.lightness(), "{fitted:?}");
    }

    #[test]
    fn a_fabric_that_is_not_seen_stays() {
        let colours = [Rgb([200, 10, 10]), Rgb([10, 200, 10])];
        let seen = Seen { picture: vec![[0.5; 3]], weights: vec![1.0], masks: vec![vec![1.0], vec![0.0]] };
        assert_eq!(fit(&seen, &colours, &colours, &[])[1], colours[1]);
    }

    #[test]
    fn lab_is_that_of_the_palette() {
        for level in 0..=1000 {
            let light =
                [f64::from(level) / 1000.0, f64::from(level * 7 % 1001) / 1000.0, f64::from(level % 10) / 1000.0];
            let known: Lab = LinSrgb::new(light[0], light[1], light[2]).into_color();
            assert!(lab(light).hybrid_distance(known) < 1e-9, "{light:?}");
        }
    }

    proptest! {
        #[test]
        fn the_error_never_rises_and_the_guards_hold(
            colours in prop::collection::btree_set(prop::array::uniform3(any::<u8>()), 1..6),
            picture in prop::collection::vec(prop::array::uniform3(any::<u8>()), 1..12),
            shares in prop::collection::vec(any::<u8>(), 1..40),
        ) {
            let colours: Vec<Rgb> = colours.into_iter().map(Rgb).collect();
            let picture: Vec<Rgb> = picture.into_iter().map(Rgb).collect();
            let seen = case(&colours, &picture, &shares);
            let fitted = fit(&seen, &colours, &colours, &[]);
            prop_assert!(error(&seen, &fitted) <= error(&seen, &colours) + 1e-9);
            for (i, one) in fitted.iter().enumerate() {
                prop_assert!(hyab(*one, colours[i]) <= 12.0);
                for j in 0..i {
                    let [before, after] = [hyab(colours[i], colours[j]), hyab(*one, fitted[j])];
                    prop_assert!(after >= before.min(4.0) - 1e-9, "{after} apart, {before} before");
                }
            }
        }

        /// What the fit adds up step by step is what the plain loop finds in the end.
        #[test]
        fn the_error_held_is_the_error(
            picture in prop::collection::vec(prop::array::uniform3(any::<u8>()), 1..12),
            shares in prop::collection::vec(any::<u8>(), 1..40),
        ) {
            let colours = [Rgb([30, 60, 90]), Rgb([200, 180, 90]), Rgb([120, 20, 40])];
            let picture: Vec<Rgb> = picture.into_iter().map(Rgb).collect();
            let seen = case(&colours, &picture, &shares);
            let mut state = State::new(&seen, &colours);
            for fabric in 0..3 {
                state.step(fabric, 6.0, &Guard::new(&colours, &colours));
            }
            let held: f64 = state.errors.iter().sum();
            prop_assert!((held - error(&seen, &state.colours)).abs() < 1e-6 * (1.0 + held));
        }
    }
}
