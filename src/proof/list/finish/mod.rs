//! What finishes the quilt, worked out anew from what was asked for: borders, layers, binding, and the picture of it all.

mod borders;
mod edge;
mod layers;
mod offer;
mod picture;
mod quilting;
mod shelf;
mod units;

use resvg::usvg::roxmltree::Node;

use super::page::{collapsed, fault, figures, of_class};
use super::{Reader, listed};
use crate::measure::{Length, shop_words};
use crate::proof::fault::Fault;
use crate::proof::finish::{ComeToFile, FinishFile, Round};
use crate::proof::light::light;
pub use shelf::Shelf;
use shelf::{Off, Strips};
use units::Ring;

/// Width and height.
type Sides = [Length; 2];

/// The chapter as it is to be.
struct Due<'a> {
    reader: &'a Reader<'a>,
    asked: &'a FinishFile,
    /// Every border.
    rounds: Vec<Round>,
    /// Fabrics of pieced borders, place by place.
    rings: Vec<Option<Ring>>,
    /// Finished size of the top with its borders.
    bordered: Sides,
    /// The whole quilt.
    quilt: Sides,
    /// Numbers of each paragraph, and a word that it has.
    said: Vec<(String, &'static str)>,
    /// Lines of what is to be bought.
    needed: Vec<Vec<String>>,
    /// What the top leaves, as it is taken.
    shelf: Shelf,
}

impl Reader<'_> {
    pub(in crate::proof::list) fn finish(&self, text: &str) -> Result<Option<Shelf>, Fault> {
        let asked = &self.scene.asked.finish;
        let Some(section) = self.page.section("finishing") else {
            let none = self.page.table("finish-needs", []);
            none?;
            return if asked.is_asked() { Err(fault("it does not say how the quilt is finished")) } else { Ok(None) };
        };
        if !asked.is_asked() {
            return Err(fault("it says how the quilt is finished, which was not asked for"));
        }
        let size = [self.scene.size.width, self.scene.size.height];
        let rounds = asked.rounds(size, self.scene.ruler)?;
        let mut bordered = size;
        for [sides, ends] in rounds.iter().map(|round| round.widths) {
            bordered = [bordered[0] + sides + sides, bordered[1] + ends + ends];
        }
        let binds = asked.binds(self.scene.ruler);
        let quilt = bordered.map(|side| side + binds + binds);
        let shelf = Shelf::new(self.scene, self.written.laid)?;
        let (said, needed) = (Vec::new(), Vec::new());
        let rings = vec![None; rounds.len()];
        let mut due = Due { reader: self, asked, rounds, rings, bordered, quilt, said, needed, shelf };
        let drawn = of_class(section, "quilt").next().ok_or_else(|| fault("the picture of the quilt is missing"))?;
        due.hang();
        due.offer();
        due.borders()?;
        due.picture(drawn, text)?;
        due.layers()?;
        if asked.is_layered() {
            due.quilting(section, text)?;
        }
        due.edge(section)?;
        let shelf = due.shelf.clone();
        due.read(section)?;
        Ok(Some(shelf))
    }
}

impl Due<'_> {
    fn show(&self, length: Length) -> String {
        self.reader.show(length)
    }

    fn size(&self, [width, height]: Sides) -> String {
        format!("{} × {}", self.reader.scene.ruler.number(width), self.show(height))
    }

    /// Two seams.
    fn both(&self) -> Length {
        self.reader.scene.both()
    }

    /// What is to be read next, with a word that it has.
    fn say(&mut self, numbers: String, word: &'static str) {
        self.said.push((numbers, word));
    }

    /// A line of what is to be bought.
    fn need(&mut self, part: String, fabric: String, cut: String, buy: String) {
        self.needed.push(vec![part, fabric, cut, buy]);
    }

    /// The line of something: what comes off what is left, or is bought, so long.
    fn line(&mut self, part: String, letter: Option<&str>, cut: String, off: &[Off], bought: Length, wide: &str) {
        let fabric = letter.map_or_else(|| "cloth of your choice".into(), |letter| self.reader.fabric(letter));
        let sheets: Vec<String> = off.iter().map(|off| format!("{} of {}", off.sheets, self.size(off.of))).collect();
        let of = format!("what is left of {}", listed(&sheets));
        let gives: i64 = off.iter().map(|off| off.gives).sum();
        let shop = || shop_words(self.reader.scene.ruler, self.reader.as_shops_cut(bought)) + wide;
        let buy = match (bought > Length::ZERO, off.is_empty()) {
            (false, _) => format!("nothing: it comes off {of}"),
            (true, true) => shop(),
            (true, false) if gives == 1 => format!("{}; 1 comes off {of}", shop()),
            (true, false) => format!("{}; {gives} come off {of}", shop()),
        };
        self.need(part, fabric, cut, buy);
    }

    /// Whole lengths.
    fn lengths(&mut self, part: String, letter: Option<&str>, size: Sides, count: i64, wide: &str) {
        let off = letter.map(|letter| self.shelf.lengths(letter, size, count)).unwrap_or_default();
        let bought = if off.is_empty() { size[1] * count } else { Length::ZERO };
        self.line(part, letter, self.show(size[1] * count), &off, bought, wide);
    }

    /// Joined strips, as the chapter says that they are cut; how long they are, joined; and whether there is only one.
    fn strips(&mut self, part: String, letter: Option<&str>, strips: &Strips) -> (String, Length, bool) {
        let off = letter.map(|letter| self.shelf.strips(letter, strips)).unwrap_or_default();
        let count = if off.is_empty() { strips.count } else { off.iter().map(|off| off.gives).sum() };
        let words = format!("{} of {}", super::count(count.unsigned_abs(), "strip"), self.show(strips.wide));
        let deep = strips.wide * strips.count;
        let cut = if off.is_empty() { self.show(deep) } else { words.clone() };
        let bought = if off.is_empty() { deep } else { Length::ZERO };
        self.line(part, letter, cut, &off, bought, "");
        let across = off.iter().all(|off| off.each == strips.each);
        let mut made = strips.each * strips.count;
        if !off.is_empty() {
            made = off.iter().map(|off| off.each * off.gives).sum();
        }
        made = made - strips.join * (count - 1);
        if across {
            return (format!("{words} across the cloth"), made, count == 1);
        }
        let lots: Vec<String> = off.iter().map(|off| format!("{} of {}", off.gives, self.show(off.each))).collect();
        (format!("{words} off what is left: {} long", listed(&lots)), made, count == 1)
    }

    /// Pieces of one size.
    fn pieces(
        &mut self,
        part: String,
        letter: Option<&str>,
        size: Sides,
        count: i64,
        in_part: bool,
    ) -> Result<(), Fault> {
        let off = letter.map(|letter| self.shelf.pieces(letter, size, count, in_part)).unwrap_or_default();
        let lacks = count - off.iter().map(|off| off.gives).sum::<i64>();
        let a_row = self.row(size[0])?;
        let rows = (lacks + a_row - 1) / a_row;
        self.line(part, letter, format!("{count} of {}", self.size(size)), &off, size[1] * rows, "");
        Ok(())
    }

    /// The letter that was asked for, where there is such a fabric.
    fn letter(&self, asked: Option<&String>) -> Option<&str> {
        let letters = &self.reader.scene.letters;
        letters.iter().find(|letter| Some(*letter) == asked).map(String::as_str)
    }

    /// The darkest and the lightest of the fabrics that the top shows, the first of those that are alike.
    fn tones(&self) -> Option<(&str, &str)> {
        let scene = self.reader.scene;
        let patches = || scene.bands.iter().flatten().flatten().flatten().flat_map(|unit| &unit.patches);
        let shown = scene.letters.iter().filter(|letter| patches().any(|patch| patch.fabric == **letter));
        let mut lit: Vec<(i64, &str)> = Vec::new();
        for letter in shown {
            let colour = scene.fabrics.get(letter).map_or("", |fabric| fabric.colour.as_str());
            lit.push((light(colour), letter));
        }
        let darkest =
            lit.iter().fold(None, |best: Option<&(i64, &str)>, one| best.filter(|b| b.0 <= one.0).or(Some(one)));
        let lightest =
            lit.iter().fold(None, |best: Option<&(i64, &str)>, one| best.filter(|b| b.0 >= one.0).or(Some(one)));
        Some((darkest?.1, lightest?.1))
    }

    /// Letters of a border's strips and of its cornerstones.
    fn border_letters(&self, number: usize) -> [String; 2] {
        let (darkest, lightest) = self.tones().unwrap_or_default();
        let border = &self.rounds[number].border;
        let strips = self.letter(border.fabric.as_ref()).unwrap_or(darkest);
        [strips, self.letter(border.cornerstones.as_ref()).unwrap_or(lightest)].map(str::to_owned)
    }

    /// The letter of the binding: its own, the outer border's, or the darkest.
    fn binding_letter(&self) -> Option<String> {
        let own = self.letter(self.asked.binding.as_ref()?.fabric.as_ref()).map(str::to_owned);
        let outer = self.rounds.len().checked_sub(1).map(|last| self.border_letters(last)[0].clone());
        own.or(outer).or(self.tones().map(|(darkest, _)| darkest.to_owned()))
    }

    /// The letter of the back, where it is of a fabric of the scene.
    fn backing_letter(&self) -> Option<String> {
        self.letter(self.asked.backing.as_ref()?.fabric.as_ref()).map(str::to_owned)
    }

    /// The letter of the facing: its own, or the back's.
    fn facing_letter(&self) -> Option<String> {
        let own = self.letter(self.asked.facing.as_ref()?.fabric.as_ref()).map(str::to_owned);
        own.or_else(|| self.backing_letter())
    }

    /// The size of the quilt, and how it lies on its bed.
    fn hang(&mut self) {
        let mut measures = self.size(self.quilt);
        if let Some(ComeToFile::Size(wanted)) = &self.asked.come_to {
            measures += &format!(" {}", self.size(*wanted));
        }
        self.say(measures, "quilt measures");
        let Some(ComeToFile::Bed(bed)) = &self.asked.come_to else { return };
        let sides = Length::from_ticks((self.quilt[0] - bed.width).ticks() / 2);
        let foot = self.quilt[1] - bed.length - bed.tuck;
        let mut numbers =
            format!("{} {} {}", self.size([bed.width, bed.length]), self.show(sides.abs()), self.show(foot.abs()));
        if bed.tuck > Length::ZERO {
            numbers += &format!(" {}", self.show(bed.tuck));
        }
        if let Some(depth) = bed.depth {
            numbers += &format!(" {}", self.show(depth));
        }
        let word = match (bed.depth, sides < Length::ZERO, foot < Length::ZERO) {
            (Some(depth), ..) if sides >= depth && foot >= depth => "all of it is covered",
            (Some(_), ..) => "its lower edge shows",
            (None, false, false) => "it hangs",
            (None, true, _) => "it falls short by",
            (None, false, true) => "side and falls short by",
        };
        self.say(numbers, word);
    }

    /// Holds the chapter against all that is due.
    fn read(self, section: Node) -> Result<(), Fault> {
        let page = &self.reader.page;
        let mut said = of_class(section, "figures");
        for (numbers, word) in &self.said {
            let node = said.next().ok_or_else(|| fault(format!("it does not say `{word}` of the quilt")))?;
            let words = page.words(node);
            if figures(&words) != figures(numbers) || !words.contains(word) {
                let due = collapsed(numbers);
                return Err(fault(format!("where it says `{word}` of the quilt, its numbers are to be `{due}`")));
            }
        }
        if said.next().is_some() {
            return Err(fault("it says more of the quilt than there is"));
        }
        page.table("finish-needs", self.needed)
    }
}
