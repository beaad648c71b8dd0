//! The plan's fabrics as they are named and painted.

use maud::{Markup, html};

use super::Options;
use crate::fabric::{Fabric, Rgb};
use crate::plan::Plan;
use crate::render::markup::shown;

/// Fabrics by index, in colour or as greys.
pub(super) struct Palette<'a> {
    fabrics: &'a [Fabric],
    greys: bool,
}

impl<'a> Palette<'a> {
    pub fn new(plan: &'a Plan, options: &Options) -> Self {
        Self { fabrics: &plan.fabrics, greys: options.greys }
    }

    /// Every index in order.
    pub fn indices(&self) -> std::ops::Range<usize> {
        0..self.fabrics.len()
    }

    pub fn letter(&self, index: usize) -> &'a str {
        self.fabrics.get(index).map_or("?", |fabric| fabric.letter.as_str())
    }

    pub fn name(&self, index: usize) -> &'a str {
        self.fabrics.get(index).map_or("unknown fabric", |fabric| fabric.name.as_str())
    }

    /// The colour that it is painted in.
    pub fn colour(&self, index: usize) -> Rgb {
        let colour = self.fabrics.get(index).map_or(Rgb([128; 3]), |fabric| fabric.colour);
        if self.greys { grey(colour) } else { colour }
    }

    /// Black or white, whichever reads on it.
    pub fn ink(&self, index: usize) -> &'static str {
        if self.colour(index).lightness() > 55.0 { "#111111" } else { "#ffffff" }
    }

    /// One of five steps, 1 light to 5 dark.
    pub fn value(&self, index: usize) -> usize {
        let lightness = self.colour(index).lightness();
        [80.0, 60.0, 40.0, 20.0].iter().filter(|&&step| lightness < step).count() + 1
    }
}

/// The five steps in words (common practice, no source).
pub(super) const VALUES: [&str; 5] = ["light", "medium light", "medium", "medium dark", "dark"];

/// The grey of the same luminance (IEC 61966-2-1).
pub(super) fn grey(colour: Rgb) -> Rgb {
    let [r, g, b] = colour.linear();
    Rgb::from_linear([0.2126 * r + 0.7152 * g + 0.0722 * b; 3])
}

/// A fabric's letter on its colour, for a page.
pub(super) fn chip(palette: &Palette, fabric: usize) -> Markup {
    let (colour, ink) = (palette.colour(fabric).to_string(), palette.ink(fabric));
    html! {
        span class="chip" style={ "background:" (colour) ";color:" (ink) } { (shown(palette.letter(fabric))) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grey_is_as_light_as_its_colour() {
        for colour in [[58, 58, 102], [244, 180, 130], [0, 0, 255], [255, 255, 255]].map(Rgb) {
            let grey = grey(colour);
            assert!(grey.0[0] == grey.0[1] && grey.0[1] == grey.0[2]);
            assert!((grey.lightness() - colour.lightness()).abs() < 0.5, "{colour}");
        }
    }
}
