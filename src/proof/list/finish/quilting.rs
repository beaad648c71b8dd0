//! Quilting: how much is stitched, the thread for it, and a stencil that is as large as it is marked.

use std::collections::BTreeSet;

use resvg::usvg::roxmltree::Node;

use super::picture::six;
use super::{Due, Sides};
use crate::measure::{Length, Ruler};
use crate::proof::fault::Fault;
use crate::proof::finish::{MotifFile, STENCIL, repeats, usual};
use crate::proof::list::page::{fault, of_class, of_tag};

impl Due<'_> {
    pub(super) fn quilting(&mut self, section: Node, text: &str) -> Result<(), Fault> {
        let (scene, ruler) = (self.reader.scene, self.reader.scene.ruler);
        let (motif, scale) = self.asked.quilting(ruler);
        let mut ditch = Length::ZERO;
        let mut between = Length::ZERO;
        let mut heights = BTreeSet::new();
        for (at, band) in scene.bands.iter().enumerate() {
            ditch += if at > 0 { scene.size.width } else { Length::ZERO };
            for (at, column) in band.iter().enumerate() {
                for (at, row) in column.iter().enumerate() {
                    let width: Length = row.iter().map(|unit| unit.size.width).sum();
                    let height = row.first().map_or(Length::ZERO, |unit| unit.size.height);
                    ditch += if at > 0 { width } else { Length::ZERO };
                    between += width * (parts(height, scale) - 1);
                    heights.insert(height);
                }
                let tall: Length = column.iter().filter_map(|row| Some(row.first()?.size.height)).sum();
                ditch += if at > 0 { tall } else { Length::ZERO };
            }
        }
        let mut inner = [scene.size.width, scene.size.height];
        for [sides, ends] in self.rounds.iter().map(|round| &round.widths) {
            ditch += inner[0] + inner[0] + inner[1] + inner[1];
            inner = [inner[0] + *sides + *sides, inner[1] + *ends + *ends];
        }
        let stitched = match motif {
            MotifFile::Ditch => ditch,
            MotifFile::Rows => ditch + between,
            MotifFile::HalfCircles => circled(inner, scale),
        };
        let mut lines = Vec::new();
        match motif {
            MotifFile::Ditch => {}
            MotifFile::Rows => {
                self.say(self.show(scale), "level lines");
                let mark = usual(ruler, 1, 2);
                lines.extend(heights.into_iter().map(|height| {
                    let parts = parts(height, scale);
                    let apart = Length::from_ticks(height.ticks() / parts).round_to(mark);
                    let apart = if parts > 1 { self.show(apart) } else { "–".into() };
                    vec![self.show(height), (parts - 1).to_string(), apart]
                }));
            }
            MotifFile::HalfCircles => self.say(self.show(scale), "Half circles"),
        }
        self.reader.page.table("finish-lines", lines)?;
        let (step, name) = if ruler == Ruler::Inch { (Length::YARD, "yd") } else { (Length::METRE, "m") };
        let up = |length: Length| (length.ticks() + step.ticks() - 1).div_euclid(step.ticks());
        let bobbin = if ruler == Ruler::Inch { 60 } else { 55 };
        let thread = Length::from_ticks(stitched.ticks() * 5 / 2);
        let lower = Length::from_ticks(stitched.ticks() * 5 / 4);
        let bobbins = (lower.ticks() + bobbin * step.ticks() - 1).div_euclid(bobbin * step.ticks()).max(1);
        self.say(format!("{} {name} {} {name} {bobbins} {bobbin} {name}", up(stitched), up(thread)), "of stitching");
        self.stencil(section, text, if motif == MotifFile::HalfCircles { Some(scale) } else { None })
    }

    /// Its sheets, each as it is drawn.
    fn stencil(&mut self, section: Node, text: &str, radius: Option<Length>) -> Result<(), Fault> {
        let due = radius.map(sheets).unwrap_or_default();
        let mut drawn = of_class(section, "stencil");
        for (at, due) in (1..).zip(&due) {
            let wrong = || fault(format!("sheet {at} of its stencil is not as it is to be marked"));
            let svg = drawn.next().and_then(|figure| of_tag(figure, "svg").next()).ok_or_else(wrong)?;
            self.reader.page.words(svg);
            if text.get(svg.range()) != Some(due.as_str()) {
                return Err(wrong());
            }
        }
        for at in 1..=due.len() {
            self.say(format!("{at} {}", due.len()), "Stencil");
        }
        match drawn.next() {
            Some(_) => Err(fault("its stencil has a sheet too many")),
            None => Ok(()),
        }
    }
}

/// Into how many parts lines at most `scale` apart divide a row.
fn parts(height: Length, scale: Length) -> i64 {
    let mut parts = 1;
    while scale > Length::ZERO && scale * parts < height && parts < 1_000 {
        parts += 1;
    }
    parts
}

/// Half circles over a whole quilt: half a circle of this radius for every two radii by one, with π as 355/113.
fn circled([width, height]: Sides, radius: Length) -> Length {
    let area = i128::from(width.ticks()) * i128::from(height.ticks());
    let length = (area * 355).div_euclid(226 * i128::from(radius.ticks().max(1)));
    Length::from_ticks(i64::try_from(length).unwrap_or(i64::MAX / 8))
}

/// The sheets of a stencil: windows of 6 1/2 by 6 1/4 in on as many whole repeats as there is room for, one at least.
fn sheets(radius: Length) -> Vec<String> {
    let (room, whole) = (STENCIL, repeats(radius));
    let mut sheets = Vec::new();
    let mut y = Length::ZERO;
    while y < whole[1] && sheets.len() < 100 {
        let mut x = Length::ZERO;
        while x < whole[0] && sheets.len() < 100 {
            sheets.push(sheet([x, y], [room[0].min(whole[0] - x), room[1].min(whole[1] - y)], radius, whole));
            x += room[0];
        }
        y += room[1];
    }
    sheets
}

fn sheet([x, y]: Sides, [width, height]: Sides, radius: Length, whole: Sides) -> String {
    let quarter = Length::inches(1, 4);
    let [left, top, wide, tall, q] = [x, y, width, height, quarter].map(six);
    let mut arcs = String::new();
    let mut level = Length::ZERO;
    let mut shifted = false;
    while level <= whole[1] {
        let mut at = if shifted { Length::ZERO - radius } else { Length::ZERO };
        arcs += &format!("M{},{}", six(at), six(level));
        while at < whole[0] {
            at += radius + radius;
            arcs += &format!("A{0},{0} 0 0 1 {1},{2}", six(radius), six(at), six(level));
        }
        (level, shifted) = (level + radius, !shifted);
    }
    let arm = Length::inches(3, 20);
    let mut crosses = String::new();
    for down in [quarter, quarter + height] {
        for across in [quarter, quarter + width] {
            let (a, b) = (six(across - arm), six(across + arm));
            let (c, d) = (six(down - arm), six(down + arm));
            crosses += &format!("M{a},{}H{b}M{},{c}V{d}", six(down), six(across));
        }
    }
    let ink = "fill=\"none\" stroke=\"#1d1b18\"";
    let square = |x: Length, side: Length, name: &str| {
        let top = Length::inches(69, 10);
        let half = Length::from_ticks(side.ticks() / 2);
        let (side, middle, level) = (six(side), six(x + half), six(top + half));
        format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{side}\" height=\"{side}\" {ink} stroke-width=\"0.01\"/>\n\
             <text x=\"{middle}\" y=\"{level}\">{name}</text>\n",
            six(x),
            six(top)
        )
    };
    [
        "<svg viewBox=\"0 0 7 9\" style=\"width:7in;height:9in\" role=\"img\" aria-label=\"Half circles in rows\">\n"
            .to_owned(),
        format!(
            "<svg x=\"{q}\" y=\"{q}\" width=\"{wide}\" height=\"{tall}\" viewBox=\"{left} {top} {wide} {tall}\">\n"
        ),
        format!("<path d=\"{arcs}\" {ink} stroke-width=\"0.02\"/>\n</svg>\n"),
        format!("<path d=\"{crosses}\" {ink} stroke-width=\"0.01\"/>\n"),
        square(quarter, Length::INCH, "1 in"),
        square(Length::inches(7, 4), Length::from_ticks(Length::CM.ticks() * 5), "5 cm"),
        "</svg>".to_owned(),
    ]
    .concat()
}
