//! One sheet with its cuts: strips numbered, pieces with their names and sizes, what remains hatched.

use std::ops::Range;

use crate::cutting::Size;
use crate::cutting::layout::{PieceAt, PieceToCut, Remain, SheetLayout, StripCut};
use crate::measure::{Length, Ruler};
use crate::render::text::{by, escape, px};

/// Widest and tallest that a sheet is drawn, in pixels.
const WIDEST: f64 = 620.0;
const TALLEST: f64 = 860.0;
/// The smallest letters, in pixels: 8 points on paper.
const LEAST: f64 = 10.7;
/// Room above the sheet for its width, right for heights, and left for numbers: of one strip, or of some cut alike.
const MARGIN: (f64, f64) = (18.0, 58.0);
const LEFT: [f64; 2] = [26.0, 56.0];
const INK: &str = "#23211d";
const SOFT: &str = "#6b665c";
const FACE: &str = "ui-sans-serif, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif";

/// The sheet as an SVG, its cloth at most so wide and at most so many pixels to an inch; `pieces` are those that were
/// laid out.
pub(super) fn cutting_drawing(
    sheet: &SheetLayout,
    pieces: &[PieceToCut],
    ruler: Ruler,
    (widest, closest): (f64, f64),
) -> String {
    let label = label(sheet, ruler);
    let (sheet, names) = shown(sheet);
    let sheet = &sheet;
    let height = sheet.height.unwrap_or(sheet.used_length);
    let inches = |length: Length| length.as_inches().max(0.001);
    let scale = (widest / inches(sheet.width)).min(TALLEST / inches(height)).min(closest);
    let left = LEFT[usize::from(names.iter().any(|name| name.len() > 2))];
    let pen = Pen { scale, pieces, ruler, left };
    let mut body = sheet.remains(Length::ZERO).iter().map(|remain| pen.remain(remain)).collect::<String>();
    body += &cloth(&pen, sheet, height);
    for (name, strip) in names.iter().zip(&sheet.strips) {
        body += &pen.strip(name, strip, sheet.width);
    }
    let (top, right) = MARGIN;
    let (width, height) = (px(pen.at(sheet.width) + left + right), px(pen.at(height) + top + 4.0));
    format!(
        "<svg class=\"cutting\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{} {} {width} {height}\" width=\"{width}\" \
         height=\"{height}\" role=\"img\" aria-label=\"{}\" font-family=\"{FACE}\" text-anchor=\"middle\" fill=\"{INK}\">{body}</svg>",
        px(-left),
        px(-top),
        escape(&label),
    )
}

fn label(sheet: &SheetLayout, ruler: Ruler) -> String {
    let cuts: usize = sheet.strips.iter().map(|strip| strip.cuts.len()).sum();
    let (strips, width) = (sheet.strips.len(), ruler.show(sheet.width));
    format!("cloth {width} wide, cut across {strips} times, in all into {cuts} pieces")
}

/// What is drawn, with the number of each strip: of long cloth, strips cut alike are drawn once.
fn shown(sheet: &SheetLayout) -> (SheetLayout, Vec<String>) {
    let mut shown = sheet.clone();
    let length = sheet.height.unwrap_or(sheet.used_length);
    if length.as_inches() * WIDEST <= sheet.width.as_inches() * TALLEST {
        return (shown, (1..=sheet.strips.len()).map(|number| number.to_string()).collect());
    }
    (shown.strips, shown.used_length) = (Vec::new(), Length::ZERO);
    let mut names = Vec::new();
    for run in runs(&sheet.strips, alike) {
        let Some(first) = sheet.strips.get(run.start) else { continue };
        shown.strips.push(StripCut { at: shown.used_length, ..first.clone() });
        shown.used_length += first.height;
        names.push(match run.len() {
            1 => run.end.to_string(),
            _ => format!("{} to {}", run.start + 1, run.end),
        });
    }
    shown.height = sheet.height.map(|height| height - sheet.used_length + shown.used_length);
    (shown, names)
}

/// Stretches of strips of which each is like the first.
fn runs(strips: &[StripCut], like: impl Fn(&StripCut, &StripCut) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for (index, strip) in strips.iter().enumerate() {
        match runs.last_mut() {
            Some(run) if strips.get(run.start).is_some_and(|first| like(first, strip)) => run.end = index + 1,
            _ => runs.push(index..index + 1),
        }
    }
    runs
}

/// Whether two strips are cut alike.
fn alike(one: &StripCut, other: &StripCut) -> bool {
    one.height == other.height && one.cuts == other.cuts
}

/// The edges of the cloth, and its width above.
fn cloth(pen: &Pen, sheet: &SheetLayout, height: Length) -> String {
    let (width, height) = (pen.at(sheet.width), pen.at(height));
    let edge = format!(
        "<rect width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.2\"/>",
        px(width),
        px(height)
    );
    edge + &text(&pen.ruler.show(sheet.width), (width / 2.0, -6.0), 11.0, SOFT)
}

struct Pen<'a> {
    scale: f64,
    pieces: &'a [PieceToCut],
    ruler: Ruler,
    left: f64,
}

impl Pen<'_> {
    fn at(&self, length: Length) -> f64 {
        length.as_inches() * self.scale
    }

    /// The strip's number and height, its lower cut, and its pieces.
    fn strip(&self, name: &str, strip: &StripCut, width: Length) -> String {
        let (top, height, width) = (self.at(strip.at), self.at(strip.height), self.at(width));
        let middle = top + height / 2.0;
        let size = (height * 0.9).clamp(LEAST, 12.0);
        let mut body: String = strip.cuts.iter().map(|cut| self.piece(cut, strip.at)).collect();
        let below = px(top + height);
        body += &format!("<path d=\"M0 {below}H{}\" stroke=\"{INK}\" stroke-width=\"1.6\"/>", px(width));
        body += &text(name, (-self.left / 2.0, middle + 0.36 * size), size, INK);
        let size = size.min(11.0);
        body + &text(&self.ruler.show(strip.height), (width + 30.0, middle + 0.36 * size), size, SOFT)
    }

    fn piece(&self, cut: &PieceAt, top: Length) -> String {
        let (x, y, w, h) = (self.at(cut.at), self.at(top), self.at(cut.width), self.at(cut.height));
        let outline = format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#f1ece0\" stroke=\"{INK}\" stroke-width=\".8\"/>",
            px(x),
            px(y),
            px(w),
            px(h)
        );
        let Some(piece) = self.pieces.get(cut.piece) else { return outline };
        outline + &lettering(&piece.id, &by(self.ruler, own(piece)), (x, y, w, h))
    }

    /// What stays whole, hatched lightly; its size where there is room.
    fn remain(&self, remain: &Remain) -> String {
        let (x, y) = (self.at(remain.left), self.at(remain.top));
        let (w, h) = (self.at(remain.width), self.at(remain.height));
        let size = by(self.ruler, Size { width: remain.width, height: remain.height });
        let fits = h > 16.0 && w > 6.2 * size.chars().count() as f64 + 14.0;
        let words = if fits { plate(&size, (x + w / 2.0, y + h / 2.0)) } else { String::new() };
        format!("<path d=\"{}\" stroke=\"#cfc8b8\" stroke-width=\".8\" fill=\"none\"/>{words}", hatch(x, y, w, h))
    }
}

/// The size of a piece as the maker gave it.
fn own(piece: &PieceToCut) -> Size {
    Size { width: piece.width, height: piece.height }
}

/// Name and size inside a piece: on two lines, on one, upright or turned, whichever is largest.
fn lettering(id: &str, size: &str, (x, y, w, h): (f64, f64, f64, f64)) -> String {
    let long = |lines: &[&str]| lines.iter().map(|line| line.chars().count()).max().unwrap_or(1).max(1) as f64;
    let one = format!("{id}  {size}");
    let ways: [Vec<&str>; 3] = [vec![id, size], vec![&one], vec![id]];
    let fit = |lines: &[&str], (w, h): (f64, f64)| {
        ((w - 4.0) / (0.58 * long(lines))).min((h - 2.0) / (1.15 * lines.len() as f64)).min(12.0)
    };
    let sizes = ways.iter().flat_map(|lines| [(lines, false, fit(lines, (w, h))), (lines, true, fit(lines, (h, w)))]);
    let sizes: Vec<_> = sizes.collect();
    // The name alone only where nothing more can be read.
    let legible = sizes.iter().take(4).any(|way| way.2 >= LEAST);
    let open = if legible { &sizes[..4] } else { &sizes[4..] };
    let Some((lines, turned, size)) = open.iter().reduce(|best, way| if way.2 > best.2 + 0.4 { way } else { best })
    else {
        return String::new();
    };
    // A name may reach a little over the edge of a small piece.
    if *size < 6.0 {
        return String::new();
    }
    let size = &size.max(LEAST);
    let middle = (x + w / 2.0, y + h / 2.0);
    let line = |(row, words): (usize, &&str)| {
        let down = (row as f64 - (lines.len() as f64 - 1.0) / 2.0) * 1.15 * size + 0.36 * size;
        text(words, (0.0, down), *size, INK)
    };
    let turn = if *turned { " rotate(-90)" } else { "" };
    let body: String = lines.iter().enumerate().map(line).collect();
    format!("<g transform=\"translate({} {}){turn}\">{body}</g>", px(middle.0), px(middle.1))
}

/// Words on a pale plate, so that they read on the hatching.
fn plate(words: &str, (x, y): (f64, f64)) -> String {
    let width = 6.2 * words.chars().count() as f64 + 8.0;
    let (left, top, wide) = (px(x - width / 2.0), px(y - 7.5), px(width));
    let plate = format!("<rect x=\"{left}\" y=\"{top}\" width=\"{wide}\" height=\"15\" fill=\"#fff\"/>");
    plate + &text(words, (x, y + 3.8), LEAST, SOFT)
}

/// Lines at 45 degrees across a rectangle.
fn hatch(x: f64, y: f64, w: f64, h: f64) -> String {
    const STEP: f64 = 7.0;
    // Lines lie where x + y is a multiple of the step, so that neighbours join.
    let first = ((x + y) / STEP).floor() as i64 + 1;
    let last = ((x + y + w + h) / STEP).ceil() as i64;
    let line = |step: i64| {
        let sum = step as f64 * STEP;
        let from = (sum - y).min(x + w);
        let to = (sum - y - h).max(x);
        format!("M{} {}L{} {}", px(from), px(sum - from), px(to), px(sum - to))
    };
    (first..last).map(line).collect()
}

fn text(words: &str, (x, y): (f64, f64), size: f64, colour: &str) -> String {
    format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{colour}\">{}</text>",
        px(x),
        px(y),
        px(size),
        escape(words)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::layout::{Sheet, lay_out};

    fn piece(id: &str, halves: (i64, i64), count: u32) -> PieceToCut {
        let half = |halves| Length::inches(halves, 2);
        PieceToCut { id: id.into(), width: half(halves.0), height: half(halves.1), count, turn: true }
    }

    fn laid(pieces: &[PieceToCut], height: Option<i64>) -> SheetLayout {
        let length = |inches| Length::inches(inches, 1);
        let sheet = Sheet { id: "cloth <a>".into(), width: length(42), height: height.map(length), count: 1 };
        lay_out(pieces, &[sheet]).unwrap().sheets.remove(0)
    }

    #[test]
    fn every_piece_and_strip_is_drawn() {
        let pieces = [piece("F1", (20, 20), 6), piece("<F2>", (9, 8), 5)];
        let layout = laid(&pieces, Some(36));
        let svg = cutting_drawing(&layout, &pieces, Ruler::Inch, (WIDEST, 26.0));
        let document = roxmltree::Document::parse(&svg).unwrap();
        let words =
            |of: &str| document.descendants().filter(|node| node.text() == Some(of) && node.is_element()).count();
        assert_eq!((words("10 x 10 in"), words("F1"), words("<F2>")), (6, 6, 5));
        assert!((1..=layout.strips.len()).all(|number| words(&number.to_string()) == 1));
        assert_eq!(words("42 in"), 1);
    }

    #[test]
    fn strips_cut_alike_are_drawn_once_on_long_cloth() {
        let pieces = [piece("F1", (20, 20), 42)];
        let layout = laid(&pieces, None);
        let svg = cutting_drawing(&layout, &pieces, Ruler::Inch, (WIDEST, 26.0));
        assert_eq!((svg.matches(">F1<").count(), svg.matches(">1 to 10<").count()), (6, 1));
        assert!(svg.contains("across 11 times, in all into 42 pieces"));
    }
}
