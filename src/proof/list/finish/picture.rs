//! The picture of the quilt: binding, borders with their seams, and the scene as picture.svg has it.

use resvg::usvg::roxmltree::Node;

use super::units::{Ring, corners};
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
        for number in (0..self.rounds.len()).rev() {
            match &self.rings[number] {
                Some(ring) => parts.extend(self.pieced(number, ring, at, size)),
                None => parts.extend(self.border(number, at, size)),
            }
            let [sides, ends] = self.rounds[number].widths;
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
        let colour = self.colour(letter);
        let [x, y, width, height] = [x, y, width, height].map(six);
        format!("<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{colour}\"/>")
    }

    fn colour(&self, letter: &str) -> &str {
        self.reader.scene.fabrics.get(letter).map_or("", |fabric| fabric.colour.as_str())
    }

    /// A pieced border, place by place round it.
    fn pieced(&self, number: usize, ring: &Ring, [x, y]: Sides, [width, height]: Sides) -> Vec<String> {
        let Some((units, _)) = self.pieced_at(number) else { return Vec::new() };
        let (wide, along) = (units.wide, units.along);
        let corners = corners(units);
        let (far, low) = (x + width, y + height);
        let mut parts = Vec::new();
        for (at, letter) in ring.places.iter().enumerate() {
            let side = corners.iter().rposition(|corner| *corner <= at).unwrap_or(0);
            let step = (at - corners[side]) as i64;
            let is_corner = step == 0;
            // How far it begins from the corner before it, and how long it is.
            let (gone, long) = if is_corner { (Length::ZERO, wide) } else { (wide + along * (step - 1), along) };
            // Its outer edge, as the ring runs, and which way is inward.
            let (from, to, inward) = match side {
                0 => ([x + gone, y], [x + gone + long, y], [Length::ZERO, wide]),
                1 => ([far, y + gone], [far, y + gone + long], [Length::ZERO - wide, Length::ZERO]),
                2 => ([far - gone, low], [far - gone - long, low], [Length::ZERO, Length::ZERO - wide]),
                _ => ([x, low - gone], [x, low - gone - long], [wide, Length::ZERO]),
            };
            let add = |[a, b]: Sides, [c, d]: Sides| [a + c, b + d];
            let (inner, inner_to) = (add(from, inward), add(to, inward));
            let least = [from[0].min(inner_to[0]), from[1].min(inner_to[1])];
            let size = [(from[0] - inner_to[0]).abs(), (from[1] - inner_to[1]).abs()];
            parts.push(self.rect(ring.ground.as_ref().unwrap_or(letter), least, size));
            if ring.ground.is_some() && !is_corner {
                let [[a, b], [c, d], [e, f]] = [inner, inner_to, from].map(|point| point.map(six));
                parts.push(format!("<path d=\"M{a},{b}L{c},{d}L{e},{f}Z\" fill=\"{}\"/>", self.colour(letter)));
            }
        }
        parts
    }

    /// A border and where its strips meet.
    fn border(&self, number: usize, [x, y]: Sides, [width, height]: Sides) -> Vec<String> {
        let (border, [strips, stones]) = (&self.rounds[number].border, self.border_letters(number));
        let [sides, ends] = self.rounds[number].widths;
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
