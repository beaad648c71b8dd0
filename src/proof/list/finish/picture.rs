//! The picture of the quilt: binding, borders with their seams, and the scene as picture.svg has it.

use resvg::usvg::roxmltree::Node;

use super::{Due, Sides};
use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::finish::{CornersFile, FirstFile};
use crate::proof::list::page::{fault, of_tag};

impl Due<'_> {
    pub(super) fn picture(&self, figure: Node, text: &str) -> Result<(), Fault> {
        self.reader.page.words(figure);
        let drawn = of_tag(figure, "svg").next().and_then(|svg| text.get(svg.range()));
        match drawn == Some(self.drawing().trim()) {
            true => Ok(()),
            false => Err(fault("the picture of the quilt is not what was asked for")),
        }
    }

    fn drawing(&self) -> String {
        let [width, height] = self.quilt;
        let thin = Length::from_ticks(width.max(height).ticks() / 600);
        let mut parts = vec![format!(
            "<svg viewBox=\"0 0 {} {}\" stroke=\"#1d1b18\" stroke-width=\"{}\" role=\"img\" aria-label=\"The finished quilt\">",
            six(width),
            six(height),
            six(thin)
        )];
        let mut at = [Length::ZERO; 2];
        if let Some(letter) = self.binding_letter() {
            parts.push(self.rect(&letter, at, self.quilt));
            let binds = self.asked.binds(self.reader.scene.ruler);
            at = [binds, binds];
        }
        let mut size = self.bordered;
        for number in (0..self.asked.borders.len()).rev() {
            parts.extend(self.border(number, at, size));
            let [sides, ends] = self.widths[number];
            at = [at[0] + sides, at[1] + ends];
            size = [size[0] - sides - sides, size[1] - ends - ends];
        }
        let longer = size[0].max(size[1]);
        let scale = i128::from(longer.ticks()) * 1_000_000 / (900 * i128::from(Length::INCH.ticks()));
        let scale = trimmed(format!("{}.{:06}", scale / 1_000_000, scale % 1_000_000));
        parts.push(format!(
            "<g transform=\"translate({} {}) scale({scale})\" stroke=\"none\">",
            six(at[0]),
            six(at[1])
        ));
        parts.push(self.reader.written.svg.trim_end().to_owned());
        parts.push("</g>\n</svg>".into());
        parts.join("\n")
    }

    fn rect(&self, letter: &str, [x, y]: Sides, [width, height]: Sides) -> String {
        let colour = self.reader.scene.fabrics.get(letter).map_or("", |fabric| fabric.colour.as_str());
        let [x, y, width, height] = [x, y, width, height].map(six);
        format!("<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{colour}\"/>")
    }

    /// A border and where its strips meet.
    fn border(&self, number: usize, [x, y]: Sides, [width, height]: Sides) -> Vec<String> {
        let (border, [strips, stones]) = (&self.asked.borders[number], self.border_letters(number));
        let [sides, ends] = self.widths[number];
        let (far, low) = (x + width, y + height);
        let inner =
            [[x + sides, y + ends], [far - sides, y + ends], [x + sides, low - ends], [far - sides, low - ends]];
        let outer = [[x, y], [far, y], [x, low], [far, low]];
        let line = |from: Sides, to: Sides| {
            let [[a, b], [c, d]] = [from, to].map(|point| point.map(six));
            format!("<path d=\"M{a},{b}L{c},{d}\" fill=\"none\"/>")
        };
        let mut parts = vec![self.rect(&strips, [x, y], [width, height])];
        match (border.corners, border.first) {
            (CornersFile::Mitred, _) => parts.extend((0..4).map(|at| line(outer[at], inner[at]))),
            (CornersFile::Square, FirstFile::Sides) => {
                parts.extend([inner[0][1], inner[2][1]].map(|level| line([x, level], [far, level])));
            }
            (CornersFile::Square, FirstFile::Ends) => {
                parts.extend([inner[0][0], inner[1][0]].map(|upright| line([upright, y], [upright, low])));
            }
            (CornersFile::Cornerstones, _) => {
                let corners = [[x, y], [far - sides, y], [x, low - ends], [far - sides, low - ends]];
                parts.extend(corners.map(|corner| self.rect(&stones, corner, [sides, ends])));
            }
        }
        parts
    }
}

/// A length in inches, to the nearest of six places.
pub(super) fn six(length: Length) -> String {
    let inch = i128::from(Length::INCH.ticks());
    let millionths = (i128::from(length.ticks()) * 1_000_000 + inch / 2).div_euclid(inch);
    let sign = if millionths < 0 { "-" } else { "" };
    let size = millionths.abs();
    trimmed(format!("{sign}{}.{:06}", size / 1_000_000, size % 1_000_000))
}

/// Without zeros at the end.
fn trimmed(number: String) -> String {
    number.trim_end_matches('0').trim_end_matches('.').to_owned()
}
