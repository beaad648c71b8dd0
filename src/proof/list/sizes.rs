//! How the sizes work: the seam, its test and its drift; and what each method gives.

use super::Reader;
use super::page::{fault, has_class, of_class, of_tag};
use crate::measure::{Length, Ruler};
use crate::proof::cutting::{Gives, Method, Pairs};
use crate::proof::fault::Fault;
use crate::proof::paper::Size;

impl Reader<'_> {
    pub(super) fn sizes(&self) -> Result<(), Fault> {
        let section = self.page.section("sizes").ok_or_else(|| fault("it does not say how its sizes work"))?;
        let (mut notes, mut words) = (Vec::new(), Vec::new());
        for p in of_tag(section, "p") {
            if has_class(&p, "note") { notes.push(p) } else { words.push(p) }
        }
        let [_, seam] = words.as_slice() else { return Err(fault("it does not say how its sizes work")) };
        self.page.figures(*seam, "what it says of the seam", &self.seam())?;
        let drift = self.drift();
        match (notes.as_slice(), &drift) {
            ([], None) => Ok(()),
            ([note], Some(due)) => self.page.figures(*note, "what it says of the measured seam", due),
            _ => Err(fault("what it says of the measured seam is not what is due")),
        }
    }

    /// The seam, two of them, and three scraps sewn side by side.
    fn seam(&self) -> String {
        let scrap = if self.scene.ruler == Ruler::Inch { Length::inches(3, 2) } else { Length::CM * 4_i64 };
        let both = self.scene.both();
        let sewn = scrap * 3_i64 - both * 2_i64;
        let mut due = format!("{} {}", self.show(self.scene.seam), self.show(both));
        if sewn > scrap {
            due += &format!(" {} {} {}", self.show(scrap), self.show(sewn), self.show(scrap - both));
        }
        due
    }

    fn mark(&self) -> Length {
        if self.scene.ruler == Ruler::Inch { Length::inches(1, 16) } else { Length::MM }
    }

    /// What a seam off the ruler does to rows, to the top and to columns.
    fn drift(&self) -> Option<String> {
        let (measured, working) = (self.scene.asked.seam.measured, self.scene.seam);
        if measured == working {
            return None;
        }
        let bands = &self.scene.bands;
        let units = |band: &Vec<Vec<_>>, most: bool| -> i64 {
            let of = |column: &Vec<Vec<_>>| {
                let counts = column.iter().map(|row: &Vec<_>| row.len() as i64);
                if most { counts.max() } else { counts.min() }.unwrap_or(0)
            };
            band.iter().map(of).sum()
        };
        let fewest = bands.iter().map(|band| units(band, false)).min().unwrap_or(0);
        let most = bands.iter().map(|band| units(band, true)).max().unwrap_or(0);
        let tall = |band: &Vec<Vec<_>>| band.iter().map(|column: &Vec<_>| column.len() as i64).max().unwrap_or(0);
        let rows: i64 = bands.iter().map(tall).sum();
        let lost = |seams: i64| (measured - working) * 2_i64 * seams;
        let size = self.scene.size;
        let (narrowest, between) =
            ((size.width - lost(fewest)).min(size.width - lost(most)), lost(most - fewest).abs());
        let near = |length: Length| length.round_to(self.mark());
        let real = Size { width: near(narrowest + between / 2), height: near(size.height - lost(rows)) };
        let rows = if between < self.mark() { self.mark() } else { near(between) };
        let mut due = format!(
            "{} {} {} {} {}",
            self.show(measured),
            self.show(working),
            self.size(real),
            self.size(size),
            self.show(rows)
        );
        if between > Length::inches(1, 8) {
            due += &format!(" {}", self.show(working));
        }
        let apart = |band: &Vec<Vec<Vec<_>>>| {
            let counts = || band.iter().map(|column| column.len() as i64);
            counts().max().unwrap_or(0) - counts().min().unwrap_or(0)
        };
        let differ = lost(bands.iter().map(apart).max().unwrap_or(0)).abs();
        if differ >= self.mark() {
            due += &format!(" {}", self.show(near(differ)));
        }
        Some(due)
    }

    /// What is said of each method that is used, then what its squares come out at.
    pub(super) fn methods(&self) -> Result<(), Fault> {
        let mut pairs: Vec<&Pairs> = self
            .written
            .bench
            .supplies()
            .iter()
            .filter_map(|supply| match &supply.gives {
                Gives::Units(pairs) => Some(pairs),
                _ => None,
            })
            .collect();
        pairs.sort_by_key(|pairs| pairs.method as u8);
        let cards = of_class(self.page.root(), "card");
        let (cards, others): (Vec<_>, Vec<_>) = cards.partition(|card| of_class(*card, "gives").next().is_some());
        for card in others {
            let trim = of_tag(card, "h4").any(|head| head.text() == Some("Trim to size"));
            self.page.figures(card, "what it says of trimming", if trim { super::needs::RULER } else { "" })?;
        }
        let mut cards = cards.into_iter();
        for method in pairs.chunk_by(|one, other| one.method == other.method) {
            let card = cards.next().ok_or_else(|| fault("a method is missing"))?;
            let words = of_tag(card, "p").next().ok_or_else(|| fault("a method has no words"))?;
            self.page.figures(words, "what it says of a method", &self.show(self.scene.seam))?;
            let mut seen: Vec<(Length, Length, Length)> = Vec::new();
            let mut lines = of_tag(card, "li");
            for pairs in method {
                let key = (pairs.square, pairs.bought, pairs.trimmed);
                if !seen.contains(&key) {
                    seen.push(key);
                    let line = lines.next().ok_or_else(|| fault("a size that a method gives is missing"))?;
                    self.page.figures(line, "what a method gives", &self.gives(pairs))?;
                }
            }
        }
        Ok(())
    }

    fn gives(&self, pairs: &Pairs) -> String {
        let quarter = if pairs.bought == pairs.square || self.scene.asked.cut_squares {
            String::new()
        } else {
            self.show(pairs.bought)
        };
        let rough = self.rough(pairs);
        let near = if rough > pairs.trimmed { self.show(rough) } else { String::new() };
        let (square, trimmed) = (self.show(pairs.square), self.show(pairs.trimmed));
        format!("{quarter} {square} {near} {trimmed} {}", self.show(pairs.trimmed - self.scene.both()))
    }

    /// The last mark of the ruler that an untrimmed unit reaches.
    fn rough(&self, pairs: &Pairs) -> Length {
        let (c, s, m) =
            (i128::from(pairs.square.ticks()), i128::from(self.scene.seam.ticks()), i128::from(self.mark().ticks()));
        // Whether a unit reaches so many marks, squared so that no root is taken.
        let reaches = |marks: i128| {
            let u = marks * m;
            match pairs.method {
                Method::Two => c >= u && (c - u) * (c - u) >= 2 * s * s,
                Method::Four => c >= 2 * s && (c - 2 * s) * (c - 2 * s) >= 2 * u * u,
                Method::Eight => c >= 2 * u && (c - 2 * u) * (c - 2 * u) >= 8 * s * s,
            }
        };
        let (mut low, mut high) = (0, c / m + 1);
        while low + 1 < high {
            let middle = (low + high) / 2;
            if reaches(middle) { low = middle } else { high = middle }
        }
        Length::from_ticks(i64::try_from(low * m).unwrap_or_default())
    }
}
