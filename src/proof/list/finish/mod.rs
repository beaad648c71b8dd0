//! What finishes the quilt, worked out anew from what was asked for: borders, layers, binding, and the picture of it all.

mod borders;
mod edge;
mod layers;
mod picture;
mod quilting;

use resvg::usvg::roxmltree::Node;

use super::Reader;
use super::left::ClothLeft;
use super::page::{collapsed, fault, figures, of_class};
use crate::measure::{Length, shop_words};
use crate::proof::fault::Fault;
use crate::proof::finish::{ComeToFile, FinishFile};
use crate::proof::laid::Kind;
use crate::proof::light::light;

/// Width and height.
type Sides = [Length; 2];

/// The chapter as it is to be.
struct Due<'a> {
    reader: &'a Reader<'a>,
    asked: &'a FinishFile,
    /// Widths of each border at the sides and at the ends.
    widths: Vec<Sides>,
    /// Finished size of the top with its borders.
    bordered: Sides,
    /// The whole quilt.
    quilt: Sides,
    /// Numbers of each paragraph, and a word that it has.
    said: Vec<(String, &'static str)>,
    /// Lines of what is to be bought.
    needed: Vec<Vec<String>>,
    /// Lengths of the stash that the top leaves: letter, width and length.
    left: Vec<(String, Length, Length)>,
}

/// Most lengths of one size that are told apart.
const ALIKE: u64 = 20;

impl Reader<'_> {
    pub(in crate::proof::list) fn finish(&self, text: &str) -> Result<(), Fault> {
        let asked = &self.scene.asked.finish;
        let Some(section) = self.page.section("finishing") else {
            let none = self.page.table("finish-needs", []);
            return if asked.is_asked() { Err(fault("it does not say how the quilt is finished")) } else { none };
        };
        if !asked.is_asked() {
            return Err(fault("it says how the quilt is finished, which was not asked for"));
        }
        let size = [self.scene.size.width, self.scene.size.height];
        let widths = asked.widths(size, self.scene.ruler);
        let mut bordered = size;
        for [sides, ends] in &widths {
            bordered = [bordered[0] + *sides + *sides, bordered[1] + *ends + *ends];
        }
        let binds = asked.binds(self.scene.ruler);
        let quilt = bordered.map(|side| side + binds + binds);
        let mut left = Vec::new();
        for (letter, cloth) in ClothLeft::of(self.scene, self.written.laid)?.cloth {
            for ((kind, width, length), count) in cloth {
                let lengths = if kind == Kind::Length { count.min(ALIKE) } else { 0 };
                left.extend((0..lengths).map(|_| (letter.clone(), width.0, length.0)));
            }
        }
        let (said, needed) = (Vec::new(), Vec::new());
        let mut due = Due { reader: self, asked, widths, bordered, quilt, said, needed, left };
        let drawn = of_class(section, "quilt").next().ok_or_else(|| fault("the picture of the quilt is missing"))?;
        due.picture(drawn, text)?;
        due.hang();
        due.borders()?;
        due.layers()?;
        if asked.backing.is_some() || asked.batting {
            due.quilting(section, text)?;
        }
        due.edge(section)?;
        due.read(section)
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

    /// A length as a shop cuts it, or the length of the stash that it is cut off; `wide` is said of what is bought.
    fn buy(&mut self, letter: Option<&str>, size: Sides, wide: &str) -> String {
        self.left.sort_by_key(|(_, width, length)| (*length, *width));
        let suffices = |(of, width, length): &(String, Length, Length)| {
            Some(of.as_str()) == letter && *width >= size[0] && *length >= size[1]
        };
        match self.left.iter().position(suffices) {
            Some(at) => {
                let (letter, width, length) = self.left.remove(at);
                self.left.push((letter, width, length - size[1]));
                format!("nothing: it is in the {} that are left of the stash", self.size([width, length]))
            }
            None => shop_words(self.reader.scene.ruler, self.reader.as_shops_cut(size[1])) + wide,
        }
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
        let border = &self.asked.borders[number];
        let strips = self.letter(border.fabric.as_ref()).unwrap_or(darkest);
        [strips, self.letter(border.cornerstones.as_ref()).unwrap_or(lightest)].map(str::to_owned)
    }

    /// The letter of the binding: its own, the outer border's, or the darkest.
    fn binding_letter(&self) -> Option<String> {
        let own = self.letter(self.asked.binding.as_ref()?.fabric.as_ref()).map(str::to_owned);
        let outer = self.asked.borders.len().checked_sub(1).map(|last| self.border_letters(last)[0].clone());
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

    /// The line of something cut of a fabric, or of other cloth.
    fn need_of(&mut self, part: String, letter: Option<String>, cut: String, size: Sides, wide: &str) {
        let fabric = letter.as_ref().map_or_else(|| "cloth of your choice".into(), |letter| self.reader.fabric(letter));
        let buy = self.buy(letter.as_deref(), size, wide);
        self.need(part, fabric, cut, buy);
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
