//! How far colours may move.

use crate::fabric::{Rgb, hyab};

/// Farthest from where it began, in HyAB.
const FARTHEST: f64 = 12.0;
/// Colours nearer than this may only part.
const NEAR: f64 = 4.0;
/// Two shades no farther apart than this make quiet units.
const QUIET: f64 = 9.0;

/// Where the colours began, and which of them are a quiet pair.
pub(super) struct Guard {
    began: Vec<Rgb>,
    pairs: Vec<[usize; 2]>,
    /// The least and the most lightness.
    span: [f64; 2],
}

impl Guard {
    pub(super) fn new(began: &[Rgb]) -> Self {
        let pairs = (0..began.len()).flat_map(|j| (0..j).map(move |i| [i, j]));
        let pairs = pairs.filter(|&[i, j]| hyab(began[i], began[j]) <= QUIET).collect();
        Self { began: began.to_vec(), pairs, span: span(began.iter().copied()) }
    }

    /// Whether a colour may move there: near its beginning, apart from all others, with its quiet partner, and so that
    /// the lightest and the darkest stay as far apart as they were.
    pub(super) fn allows(&self, colours: &[Rgb], fabric: usize, to: Rgb) -> bool {
        let apart = |other: usize| {
            let far = hyab(to, colours[other]);
            far >= NEAR || far >= hyab(colours[fabric], colours[other])
        };
        hyab(to, self.began[fabric]) <= FARTHEST
            && (0..colours.len()).filter(|other| *other != fabric).all(apart)
            && self.stays_quiet(colours, fabric, to)
            && self.spans(colours, fabric, to)
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
        let guard = Guard::new(&colours);
        assert!(guard.allows(&colours, 1, grey(116)));
        assert!(!guard.allows(&colours, 1, grey(100)), "no quiet pair any more");
        assert!(!guard.allows(&colours, 1, grey(130)), "one fabric twice");
        assert!(!guard.allows(&colours, 0, grey(20)), "the darkest is lighter");
        assert!(!guard.allows(&colours, 3, grey(240)), "the lightest is darker");
        assert!(!guard.allows(&colours, 0, Rgb([0, 0, 60])), "too far");
    }
}
