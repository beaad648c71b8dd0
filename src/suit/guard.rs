//! How far colours may move.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use crate::fabric::{Rgb, hyab, value_step};

/// Farthest from where it began, in HyAB.
const FARTHEST: f64 = 12.0;
/// Colours nearer than this may only part.
pub(super) const NEAR: f64 = 4.0;
/// Two shades no farther apart than this make quiet units.
pub(super) const QUIET: f64 = 9.0;

/// Where the colours began, and which of them are a quiet pair.
pub(super) struct Guard {
    began: Vec<Rgb>,
    pairs: Vec<[usize; 2]>,
    /// The least and the most lightness.
    span: [f64; 2],
}

impl Guard {
    /// For colours that are to be moved, and where they began before they were moved at all.
    pub(super) fn new(colours: &[Rgb], began: &[Rgb]) -> Self {
        let pairs = (0..began.len()).flat_map(|j| (0..j).map(move |i| [i, j]));
        let quiet = |&[i, j]: &[usize; 2]| [colours, began].iter().all(|held| hyab(held[i], held[j]) <= QUIET);
        Self { began: began.to_vec(), pairs: pairs.filter(quiet).collect(), span: span(colours.iter().copied()) }
    }

    /// Whether a colour may move there: near its beginning, apart from all others, with its quiet partner, so that the
    /// lightest and the darkest stay as far apart as they were, and not as the last out of its step of light and dark.
    pub(super) fn allows(&self, colours: &[Rgb], fabric: usize, to: Rgb) -> bool {
        let apart = |other: usize| {
            let far = hyab(to, colours[other]);
            far >= NEAR || far >= hyab(colours[fabric], colours[other])
        };
        hyab(to, self.began[fabric]) <= FARTHEST
            && (0..colours.len()).filter(|other| *other != fabric).all(apart)
            && self.stays_quiet(colours, fabric, to)
            && self.spans(colours, fabric, to)
            && !leaves_a_step_empty(colours, fabric, to)
    }

    fn stays_quiet(&self, colours: &[Rgb], fabric: usize, to: Rgb) -> bool {
        let partners = self.pairs.iter().filter(|pair| pair.contains(&fabric));
        partners.map(|[i, j]| if *i == fabric { *j } else { *i }).all(|other| hyab(to, colours[other]) <= QUIET)
    }

    fn spans(&self, colours: &[Rgb], fabric: usize, to: Rgb) -> bool {
        let moved = colours.iter().enumerate().map(|(i, colour)| if i == fabric { to } else { *colour });
        let [least, most] = span(moved);
        least <= self.span[0] + 1e-9 && most >= self.span[1] - 1e-9
    }
}

fn leaves_a_step_empty(colours: &[Rgb], fabric: usize, to: Rgb) -> bool {
    let step = value_step(colours[fabric]);
    value_step(to) != step && (0..colours.len()).all(|other| other == fabric || value_step(colours[other]) != step)
}

fn span(colours: impl Iterator<Item = Rgb>) -> [f64; 2] {
    let wider = |[least, most]: [f64; 2], light: f64| [least.min(light), most.max(light)];
    colours.map(Rgb::lightness).fold([f64::INFINITY, f64::NEG_INFINITY], wider)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grey(level: u8) -> Rgb {
        Rgb([level; 3])
    }

    /// Black, two quiet greys and white.
    #[test]
    fn quiet_pairs_stay_and_light_and_dark_keep_their_span() {
        let colours = [grey(0), grey(119), grey(135), grey(255)];
        let guard = Guard::new(&colours, &colours);
        assert!(guard.allows(&colours, 1, grey(116)));
        assert!(!guard.allows(&colours, 1, grey(100)), "no quiet pair any more");
        assert!(!guard.allows(&colours, 1, grey(130)), "one fabric twice");
        assert!(!guard.allows(&colours, 0, grey(20)), "the darkest is lighter");
        assert!(!guard.allows(&colours, 3, grey(240)), "the lightest is darker");
        assert!(!guard.allows(&colours, 0, Rgb([0, 0, 60])), "too far");
    }

    /// L* of #a0a0a0 is 65.9 and of #8c8c8c 58.3 (CIE 15): one is medium light, the other medium.
    #[test]
    fn the_last_of_a_step_stays_in_it() {
        let lonely = [grey(0), grey(160), grey(255)];
        assert!(Guard::new(&lonely, &lonely).allows(&lonely, 1, grey(150)));
        assert!(!Guard::new(&lonely, &lonely).allows(&lonely, 1, grey(140)));
        let two = [grey(0), grey(160), grey(190), grey(255)];
        assert!(Guard::new(&two, &two).allows(&two, 1, grey(140)));
    }
}
