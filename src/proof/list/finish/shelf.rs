//! The cloth that the top leaves, as the finishing is cut off it: what comes off which piece, and what stays.

use std::collections::BTreeMap;

use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::laid::{Kind, Laid};
use crate::proof::left::{Counts, What, remains, uncut};
use crate::proof::scene::Scene;

/// A piece of cloth: what it is, its width and its height.
type Sheet = (Kind, Length, Length);

/// What is left, by letter and sheet.
#[derive(Clone)]
pub struct Shelf {
    sheets: BTreeMap<(String, Sheet), u64>,
    /// The least side of what is kept.
    least: Length,
}

/// What comes off pieces of one size.
pub struct Off {
    pub of: [Length; 2],
    pub sheets: u64,
    pub gives: i64,
    /// How long strips are.
    pub each: Length,
}

/// Rectangles of one length and one fabric.
pub struct Lot {
    pub letter: String,
    pub long: Length,
    pub off: Vec<Off>,
}

/// Strips that are joined.
pub struct Strips {
    pub wide: Length,
    /// How long each is across bought cloth.
    pub each: Length,
    pub join: Length,
    pub needed: Length,
    /// How many of those there are to be.
    pub count: i64,
}

impl Shelf {
    pub fn new(scene: &Scene, laid: &[Laid]) -> Result<Self, Fault> {
        let mut counts = Counts::new();
        uncut(scene, laid, &mut counts)?;
        laid.iter().for_each(|laid| remains(scene, laid, &mut counts));
        let mut sheets = BTreeMap::new();
        for (piece, count) in counts.into_iter().filter(|(_, count)| *count > 0) {
            let (What::Cloth(kind), Some(letter)) = (piece.what, piece.letters.first()) else { continue };
            *sheets.entry((letter.clone(), (kind, piece.size[0], piece.size[1]))).or_default() += count;
        }
        Ok(Self { sheets, least: scene.asked.least + scene.both() })
    }

    /// What is left now: letter, kind, width and height, and how many.
    pub fn left(&self) -> impl Iterator<Item = (&str, Kind, [Length; 2], u64)> {
        let there = self.sheets.iter().filter(|(_, count)| **count > 0);
        there.map(|((letter, (kind, width, height)), count)| (letter.as_str(), *kind, [*width, *height], *count))
    }

    fn of(&self, letter: &str) -> Vec<(Sheet, u64)> {
        self.left().filter(|sheet| sheet.0 == letter).map(|(_, kind, [w, h], count)| ((kind, w, h), count)).collect()
    }

    /// One sheet less, and the rest of it more.
    fn cut(&mut self, letter: &str, sheet: Sheet, rest: [Length; 2]) {
        if let Some(count) = self.sheets.get_mut(&(letter.to_owned(), sheet)) {
            *count -= 1;
        }
        if rest[0] >= self.least && rest[1] >= self.least {
            let stays = sheet.0 == Kind::Length && rest[0] == sheet.1;
            let kind = if stays { Kind::Length } else { Kind::Oddment };
            *self.sheets.entry((letter.to_owned(), (kind, rest[0], rest[1]))).or_default() += 1;
        }
    }

    /// The shortest length so wide and long.
    fn length(&self, letter: &str, size: [Length; 2]) -> Option<Sheet> {
        let mut lengths: Vec<Sheet> = self.of(letter).into_iter().map(|(sheet, _)| sheet).collect();
        lengths.retain(|(kind, width, height)| *kind == Kind::Length && *width >= size[0] && *height >= size[1]);
        lengths.into_iter().min_by_key(|(_, width, height)| (*height, *width))
    }

    /// So many lengths, each off a length that is left; none where not all are.
    pub fn lengths(&mut self, letter: &str, size: [Length; 2], count: i64) -> Vec<Off> {
        let before = self.clone();
        let mut off = Vec::new();
        while (off.len() as i64) < count {
            let Some(sheet) = self.length(letter, size) else {
                *self = before;
                return Vec::new();
            };
            self.cut(letter, sheet, [sheet.1, sheet.2 - size[1]]);
            off.push(Off { of: [sheet.1, sheet.2], sheets: 1, gives: 1, each: size[1] });
        }
        off
    }

    /// Strips off one length, or off whatever gives the longest; none where that does not suffice.
    pub fn strips(&mut self, letter: &str, strips: &Strips) -> Vec<Off> {
        let deep = strips.wide * strips.count;
        if let Some(sheet) = self.length(letter, [strips.each, deep]) {
            self.cut(letter, sheet, [sheet.1, sheet.2 - deep]);
            return vec![Off { of: [sheet.1, sheet.2], sheets: 1, gives: strips.count, each: strips.each }];
        }
        let before = self.clone();
        // Strips run across a length, and along the longer side of all else.
        let upright = |(kind, width, height): Sheet| kind != Kind::Length && height > width;
        let sides = |sheet: Sheet| if upright(sheet) { (sheet.2, sheet.1) } else { (sheet.1, sheet.2) };
        let mut sheets = self.of(letter);
        sheets.retain(|(sheet, _)| {
            let (long, across) = sides(*sheet);
            long >= strips.join + strips.join && long >= strips.wide && across >= strips.wide
        });
        sheets.sort_by(|(one, _), (other, _)| sides(*other).0.cmp(&sides(*one).0).then(one.cmp(other)));
        let (mut off, mut made) = (Vec::<Off>::new(), None::<Length>);
        for (sheet, count) in sheets {
            let (long, across) = sides(sheet);
            for _ in 0..count {
                let mut gives = 0;
                while made.is_none_or(|made| made < strips.needed) && strips.wide * (gives + 1) <= across {
                    made = Some(made.map_or(long, |made| made + long - strips.join));
                    gives += 1;
                }
                if gives == 0 {
                    break;
                }
                let rest = across - strips.wide * gives;
                self.cut(letter, sheet, if upright(sheet) { [rest, long] } else { [long, rest] });
                note(&mut off, sheet, gives, long);
            }
        }
        if made.is_none_or(|made| made < strips.needed) {
            *self = before;
            return Vec::new();
        }
        off
    }

    /// Rectangles off the smallest pieces first; none, unless `part`, where not all come off.
    pub fn pieces(&mut self, letter: &str, size: [Length; 2], count: i64, part: bool) -> Vec<Off> {
        let before = self.clone();
        let mut sheets = self.of(letter);
        let area = |(_, width, height): Sheet| i128::from(width.ticks()) * i128::from(height.ticks());
        sheets.sort_by_key(|(sheet, _)| (sheet.0 == Kind::Length, area(*sheet), sheet.1, sheet.2, sheet.0));
        let (mut off, mut lacks) = (Vec::<Off>::new(), count);
        for (sheet, there) in sheets {
            let (a_row, rows, turned) = grid(sheet, size);
            for _ in 0..there {
                let gives = (a_row * rows).min(lacks);
                if gives == 0 {
                    break;
                }
                let deep = size[1] * ((gives + a_row - 1) / a_row);
                let rest = if turned { [sheet.1 - deep, sheet.2] } else { [sheet.1, sheet.2 - deep] };
                self.cut(letter, sheet, rest);
                lacks -= gives;
                note(&mut off, sheet, gives, Length::ZERO);
            }
        }
        if lacks > 0 && !part {
            *self = before;
            off.clear();
        }
        off
    }

    /// Rectangles so wide, end to end, the longest first, whatever they are of; and how long the one is that lacks.
    pub fn middle(&mut self, letters: &[String], wide: Length, long: Length, join: Length) -> (Vec<Lot>, Length) {
        let mut sheets: Vec<(Length, usize, Sheet, u64, bool)> = Vec::new();
        for (index, letter) in letters.iter().enumerate() {
            for (sheet, count) in self.of(letter) {
                let (_, across, tall) = sheet;
                let straight = tall * (across.ticks() / wide.ticks().max(1));
                let turned = across * (tall.ticks() / wide.ticks().max(1));
                let each = if turned > straight { across } else { tall };
                if straight.max(turned) > Length::ZERO && each >= join + join {
                    sheets.push((each, index, sheet, count, turned > straight));
                }
            }
        }
        sheets.sort_by(|one, other| other.0.cmp(&one.0).then((one.1, one.2).cmp(&(other.1, other.2))));
        let mut lots: Vec<Lot> = Vec::new();
        let mut made = None::<Length>;
        for (each, index, sheet, there, turned) in sheets {
            let across = if turned { sheet.2 } else { sheet.1 };
            for _ in 0..there {
                let mut gives = 0;
                while made.is_none_or(|made| made < long) && wide * (gives + 1) <= across {
                    made = Some(made.map_or(each, |made| made + each - join));
                    gives += 1;
                }
                if gives == 0 {
                    break;
                }
                let rest = across - wide * gives;
                self.cut(&letters[index], sheet, if turned { [sheet.1, rest] } else { [rest, sheet.2] });
                let known = lots.iter().position(|lot| lot.letter == letters[index] && lot.long == each);
                let at = known.unwrap_or_else(|| {
                    lots.push(Lot { letter: letters[index].clone(), long: each, off: Vec::new() });
                    lots.len() - 1
                });
                note(&mut lots[at].off, sheet, gives, each);
            }
        }
        let lacks = match made {
            None => long,
            Some(made) if made < long => long - made + join,
            Some(_) => Length::ZERO,
        };
        (lots, lacks)
    }

    /// How many rectangles each fabric gives, in the order of `letters`.
    pub fn gives(&self, letters: &[String], size: [Length; 2]) -> Vec<(String, i64)> {
        let all = |letter: &String| {
            let of = self.of(letter).into_iter();
            of.map(|(sheet, count)| {
                let (a_row, rows, _) = grid(sheet, size);
                a_row * rows * count as i64
            })
            .sum::<i64>()
        };
        letters.iter().map(|letter| (letter.clone(), all(letter))).collect()
    }
}

fn note(off: &mut Vec<Off>, sheet: Sheet, gives: i64, each: Length) {
    let of = [sheet.1, sheet.2];
    match off.last_mut() {
        Some(last) if last.of == of && last.each == each => {
            last.sheets += 1;
            last.gives += gives;
        }
        _ => off.push(Off { of, sheets: 1, gives, each }),
    }
}

/// Pieces in a row and rows, and whether they lie on their side, which is not done to a length.
fn grid((kind, width, height): Sheet, size: [Length; 2]) -> (i64, i64, bool) {
    let fit = |side: Length, piece: Length| side.ticks() / piece.ticks().max(1);
    let straight = (fit(width, size[0]), fit(height, size[1]), false);
    let turned = (fit(height, size[0]), fit(width, size[1]), true);
    let more = turned.0 * turned.1 > straight.0 * straight.1;
    if more && kind != Kind::Length { turned } else { straight }
}
