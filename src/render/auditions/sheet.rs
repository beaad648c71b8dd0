//! The contact sheet as a picture: one drawing, its letters as strokes.

use super::scene::{CRISP, View, cells, patches};
use super::{as_planned, fabrics, heading, lede, place};
use crate::audition::{Audition, Entry, FIGURES, RULE, figures};
use crate::fabric::Print;
use crate::render::lettering::Hand;
use crate::render::palette::Palette;
use crate::render::png::sheet;
use crate::render::text::px;
use crate::render::{Options, RenderError};

const WIDTH: f64 = 1600.0;
const MARGIN: f64 = 64.0;
const GAP: f64 = 28.0;
/// Four pictures side by side.
const PANEL: f64 = (WIDTH - 2.0 * MARGIN - 3.0 * GAP) / 4.0;
const TALLEST: f64 = 440.0;
const INK: &str = "#23211d";
const SOFT: &str = "#6b665c";
const MARK: &str = "#8c2f2b";

const TITLE: Hand = Hand { height: 30.0, weight: 0.75, ink: INK };
const NAME: Hand = Hand { height: 20.0, weight: 0.9, ink: INK };
const PLACE: Hand = Hand { height: 20.0, weight: 0.9, ink: MARK };
const FIGURE: Hand = Hand { height: 15.0, weight: 0.85, ink: INK };
const BODY: Hand = Hand { height: 12.5, weight: 0.8, ink: INK };
const FINE: Hand = Hand { height: 10.5, weight: 0.8, ink: SOFT };

/// Width and height of a fabric's chip.
const CHIP: (f64, f64) = (38.0, 26.0);
/// Up to so many fabrics are named; more of them only carry their letters.
const NAMED: usize = 24;

/// The contact sheet as PNG, in the colours and in greys.
pub fn auditions_png(audition: &Audition) -> Result<Vec<u8>, RenderError> {
    let (body, height) = drawing(audition);
    sheet(&body, WIDTH, height).map_err(RenderError::Drawing)
}

/// The drawing, without its frame, and its height.
fn drawing(audition: &Audition) -> (String, f64) {
    let mut pen = Pen { out: String::new(), y: MARGIN, panel: panel(audition) };
    pen.head(audition);
    pen.original(audition);
    for entry in &audition.entries {
        pen.entry(audition, entry);
    }
    let height = pen.y + MARGIN;
    (pen.out, height)
}

/// Width and height of each picture on the sheet.
fn panel(audition: &Audition) -> (f64, f64) {
    let (columns, rows) = audition.planned.request.cells();
    let shape = f64::from(rows.max(1)) / f64::from(columns.max(1));
    let width = PANEL.min(TALLEST / shape);
    (width, width * shape)
}

/// Where the sheet is being drawn.
struct Pen {
    out: String,
    y: f64,
    panel: (f64, f64),
}

impl Pen {
    fn head(&mut self, audition: &Audition) {
        self.y += TITLE.height;
        self.out += &TITLE.line(MARGIN, self.y, &TITLE.cut(&heading(audition), WIDTH - 2.0 * MARGIN));
        self.y += 18.0;
        self.y = self.paragraph(BODY, MARGIN, self.y, WIDTH - 2.0 * MARGIN, &lede(audition));
        self.y = self.paragraph(FINE, MARGIN, self.y + 4.0, WIDTH - 2.0 * MARGIN, &format!("{RULE} {FIGURES}"));
        self.y += 26.0;
    }

    /// The picture and the scene as it was planned.
    fn original(&mut self, audition: &Audition) {
        let plan = &audition.planned;
        let as_planned = as_planned(audition);
        let panels = [
            ("the picture", cells(plan, View::Colour, CRISP)),
            ("in greys", cells(plan, View::Greys, CRISP)),
            (as_planned.as_str(), patches(plan, View::Colour)),
            ("in greys", patches(plan, View::Greys)),
        ];
        for (at, (caption, drawing)) in (0_u8..).zip(panels) {
            self.picture(audition, MARGIN + f64::from(at) * (PANEL + GAP), self.y, caption, &drawing);
        }
        self.y += self.panel.1 + 44.0;
    }

    fn entry(&mut self, audition: &Audition, entry: &Entry) {
        self.out += &format!(
            "<path d=\"M{} {}H{}\" stroke=\"{INK}\" stroke-width=\"1.5\"/>\n",
            MARGIN,
            px(self.y),
            WIDTH - MARGIN
        );
        let top = self.y + 24.0;
        self.picture(audition, MARGIN, top, &entry.name, &patches(&entry.plan, View::Colour));
        self.picture(audition, MARGIN + PANEL + GAP, top, "in greys", &patches(&entry.plan, View::Greys));
        let bottom = self.words(audition, entry, MARGIN + 2.0 * (PANEL + GAP), top);
        self.y = (top + self.panel.1 + 24.0).max(bottom) + 24.0;
    }

    /// Place, name, figures, reasons and fabrics; gives where they end.
    fn words(&mut self, audition: &Audition, entry: &Entry, x: f64, top: f64) -> f64 {
        let wide = WIDTH - MARGIN - x;
        let place = place(audition, entry);
        let mut y = top + NAME.height;
        self.out += &PLACE.line(x, y, &place);
        let name = x + PLACE.width(&place) + 18.0;
        self.out += &NAME.line(name, y, &NAME.cut(&entry.name, WIDTH - MARGIN - name));
        y += 22.0;
        for (at, (label, figure)) in (0_u8..).zip(figures(&entry.likeness)) {
            let x = x + f64::from(at) * wide / 4.0;
            self.out += &FIGURE.line(x, y + FIGURE.height, &figure);
            self.out += &FINE.line(x, y + FIGURE.height + 20.0, label);
        }
        y += FIGURE.height + 40.0;
        for why in &entry.why {
            y = self.paragraph(BODY, x, y, wide, why) + 4.0;
        }
        self.swatches(entry, x, y + 10.0, wide)
    }

    /// The fabrics that the scene uses, then the letters of the others.
    fn swatches(&mut self, entry: &Entry, x: f64, y: f64, wide: f64) -> f64 {
        let palette = Palette::new(&entry.plan, &Options::default());
        let (used, unused) = fabrics(entry);
        let named = used.len() <= NAMED;
        let (across, step) = if named { (3, wide / 3.0) } else { (15, wide / 15.0) };
        let mut bottom = y;
        for (line, fabrics) in (0_u32..).zip(used.chunks(across)) {
            let top = y + f64::from(line) * (CHIP.1 + 7.0);
            for (at, &fabric) in (0_u32..).zip(fabrics) {
                let x = x + f64::from(at) * step;
                self.chip(&palette, fabric, x, top);
                if named {
                    let (name, room) = (palette.name(fabric), step - CHIP.0 - 22.0);
                    self.out += &FINE.line(x + CHIP.0 + 10.0, top + 18.0, &FINE.cut(name, room));
                }
            }
            bottom = top + CHIP.1;
        }
        if unused.is_empty() {
            return bottom;
        }
        let letters: Vec<&str> = unused.iter().map(|&fabric| palette.letter(fabric)).collect();
        self.paragraph(FINE, x, bottom + 8.0, wide, &format!("Not used: {}.", letters.join(", ")))
    }

    /// A fabric's letter on its colour.
    fn chip(&mut self, palette: &Palette, fabric: Print, x: f64, y: f64) {
        self.out += &format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\" stroke=\"{INK}\" stroke-width=\"0.6\"/>\n",
            px(x),
            px(y),
            CHIP.0,
            CHIP.1,
            palette.colour(fabric)
        );
        let hand = Hand { height: 10.5, weight: 0.95, ink: palette.ink(fabric) };
        self.out += &hand.centred(x + CHIP.0 / 2.0, y + 18.0, palette.letter(fabric));
    }

    /// A picture in its frame, its caption below.
    fn picture(&mut self, audition: &Audition, x: f64, y: f64, caption: &str, drawing: &str) {
        let (width, height) = self.panel;
        let scale = width / f64::from(audition.planned.request.cells().0.max(1));
        self.out += &format!(
            "<g transform=\"translate({} {}) scale({scale:.6})\">\n{drawing}</g>\n\
             <rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"1\"/>\n",
            px(x),
            px(y),
            px(x),
            px(y),
            px(width),
            px(height)
        );
        self.out += &FINE.line(x, y + height + 18.0, &FINE.cut(caption, PANEL));
    }

    /// Lines below `y`; gives where they end.
    fn paragraph(&mut self, hand: Hand, x: f64, y: f64, wide: f64, text: &str) -> f64 {
        let step = hand.height * 1.75;
        let lines = hand.wrap(text, wide);
        for (at, line) in (1_u32..).zip(&lines) {
            self.out += &hand.line(x, y + f64::from(at) * step - (step - hand.height) / 2.0, line);
        }
        y + lines.len() as f64 * step
    }
}
