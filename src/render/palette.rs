//! The plan's fabrics as they are named and painted.

use maud::{Markup, html};
use typed_index_collections::TiSlice;

use super::Options;
use crate::fabric::{Fabric, Print, Rgb};
use crate::plan::Plan;
use crate::render::markup::shown;

/// Fabrics by print, in colour or as greys.
pub(super) struct Palette<'a> {
    fabrics: &'a TiSlice<Print, Fabric>,
    greys: bool,
}

impl<'a> Palette<'a> {
    pub fn new(plan: &'a Plan, options: &Options) -> Self {
        Self { fabrics: &plan.fabrics, greys: options.greys }
    }

    /// Every print in order.
    pub fn prints(&self) -> impl Iterator<Item = Print> + use<> {
        self.fabrics.keys()
    }

    pub fn letter(&self, print: Print) -> &'a str {
        &self.fabrics[print].letter
    }

    pub fn name(&self, print: Print) -> &'a str {
        &self.fabrics[print].name
    }

    /// The colour that it is painted in.
    pub fn colour(&self, print: Print) -> Rgb {
        let colour = self.fabrics[print].colour;
        if self.greys { grey(colour) } else { colour }
    }

    /// Black or white, whichever reads on it.
    pub fn ink(&self, print: Print) -> &'static str {
        if self.colour(print).lightness() > 55.0 { "#111111" } else { "#ffffff" }
    }

    /// One of five steps, 1 light to 5 dark.
    pub fn value(&self, print: Print) -> usize {
        let lightness = self.colour(print).lightness();
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
pub(super) fn chip(palette: &Palette, fabric: Print) -> Markup {
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
