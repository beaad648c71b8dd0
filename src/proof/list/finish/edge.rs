//! Binding, sleeve and label: that the strip reaches round with its joins.

use resvg::usvg::roxmltree::Node;

use super::{Due, Strips};
use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::finish::{BindingFile, FacingFile, FoldFile, bias, joined, usual};
use crate::proof::list::page::{fault, of_class, of_tag};

/// Most squares that a bias strip is cut from.
const SQUARES: i64 = 4;

impl Due<'_> {
    pub(super) fn edge(&mut self, section: Node) -> Result<(), Fault> {
        if let Some(binding) = &self.asked.binding {
            self.binding(binding)?;
        }
        if let Some(facing) = &self.asked.facing {
            self.facing(facing)?;
        }
        if self.asked.sleeve {
            self.sleeve()?;
        }
        self.label(section)
    }

    fn binding(&mut self, binding: &BindingFile) -> Result<(), Fault> {
        let scene = self.reader.scene;
        let (ruler, seam) = (scene.ruler, scene.seam);
        let shows = self.asked.binds(ruler);
        if shows < seam {
            return Err(fault("its binding is narrower than its seam"));
        }
        match shows - seam {
            Length::ZERO => self.say(String::new(), "level with the raw edge"),
            past => self.say(self.show(past), "outside the raw edge"),
        }
        let strip = binding.strip(shows, seam, ruler);
        let edge = self.quilt.into_iter().map(|side| side + side).sum::<Length>();
        let needed = edge + binding.allowance(ruler);
        let round = format!("{} {}", self.show(edge), self.show(needed));
        let never = || fault("no strips are as long as the edge");
        let letter = self.binding_letter();
        if binding.bias {
            let (squares, side, made) = self.squares(needed, strip).ok_or_else(never)?;
            let mark = usual(ruler, 1, 2);
            let made = Length::from_ticks(made.ticks() - made.ticks() % mark.ticks());
            self.say(
                format!("{round} {squares} {} {} {}", self.show(side), self.show(strip), self.show(made)),
                "bias edge",
            );
            self.pieces("Binding".into(), letter.as_deref(), [side; 2], squares, false)?;
        } else {
            let each = scene.cloth_width;
            let (count, _) = joined(needed, each, strip).ok_or_else(never)?;
            let strips = Strips { wide: strip, each, join: strip, needed, count };
            let (cut, made, _) = self.strips("Binding".into(), letter.as_deref(), &strips);
            self.say(format!("{round} {cut} {}", self.show(made)), "join them on the diagonal");
        }
        self.say(self.show(seam), "raw edges");
        self.say(self.show(shows), "to the back");
        Ok(())
    }

    /// Four strips: along the whole raw sides, and past the finished width by what is turned in at both ends.
    fn facing(&mut self, facing: &FacingFile) -> Result<(), Fault> {
        let scene = self.reader.scene;
        let (ruler, seam) = (scene.ruler, scene.seam);
        if self.asked.binding.is_some() {
            return Err(fault("its edge is both bound and faced"));
        }
        let strip = facing.strip.unwrap_or(usual(ruler, 40, 130));
        let turned = usual(ruler, 8, 20);
        let [width, height] = self.quilt;
        let (sides, ends) = (height + self.both(), width + turned + turned);
        let deep = match facing.fold {
            FoldFile::Double => Length::from_ticks(strip.ticks() / 2) - seam,
            FoldFile::Single => strip - seam - seam,
        };
        if deep < seam {
            return Err(fault("its facing has nothing to sew down"));
        }
        let needed = sides + sides + ends + ends;
        let each = scene.cloth_width;
        let (count, _) = joined(needed, each, strip).ok_or_else(|| fault("no strips face the edge"))?;
        self.say(String::new(), "level with the raw edge");
        let strips = Strips { wide: strip, each, join: strip, needed, count };
        let (cut, ..) = self.strips("Facing".into(), self.facing_letter().as_deref(), &strips);
        let [needed, sides, ends] = [needed, sides, ends].map(|length| self.show(length));
        self.say(format!("{cut} {needed} 2 {sides} 2 {ends}"), "none of it shows");
        self.say(self.show(seam), "raw edges level");
        self.say(self.show(turned), "clip the corners");
        self.say(self.show(deep), "deep on the back");
        Ok(())
    }

    /// The fewest squares of cloth, and the least side of them, that give so much bias strip, all joins sewn.
    fn squares(&self, needed: Length, strip: Length) -> Option<(i64, Length, Length)> {
        let scene = self.reader.scene;
        let step = usual(scene.ruler, 16, 20);
        for squares in 1..=SQUARES {
            let mut side = step;
            while side <= scene.cloth_width && side.ticks() <= 1000 * step.ticks() {
                let each = bias(side, strip, scene.seam);
                let made = each * squares - strip * (squares - 1);
                if each > strip && made >= needed {
                    return Some((squares, side, made));
                }
                side += step;
            }
        }
        None
    }

    fn sleeve(&mut self) -> Result<(), Fault> {
        let scene = self.reader.scene;
        let (strip, hem) = (usual(scene.ruler, 144, 460), usual(scene.ruler, 16, 50));
        let never = || fault("no strips are as long as the sleeve");
        let each = scene.cloth_width;
        let (count, _) = joined(self.quilt[0], each, self.both()).ok_or_else(never)?;
        let strips = Strips { wide: strip, each, join: self.both(), needed: self.quilt[0], count };
        let (cut, ..) = self.strips("Sleeve".into(), self.backing_letter().as_deref(), &strips);
        let flat = Length::from_ticks((strip - self.both()).ticks() / 2);
        let [width, hem, flat] = [self.quilt[0], hem, flat].map(|length| self.show(length));
        self.say(format!("{cut} {width} {hem} {flat}"), "to a tube");
        Ok(())
    }

    /// The label says what was asked for, and nothing is printed where nothing was.
    fn label(&self, section: Node) -> Result<(), Fault> {
        let title = self.reader.scene.asked.title();
        let due: Vec<&str> = match &self.asked.label {
            Some(label) => {
                let lines = [&title, &label.maker, &label.date, &label.place, &label.care];
                lines.into_iter().map(String::as_str).filter(|text| !text.is_empty()).collect()
            }
            None => Vec::new(),
        };
        let lines = of_class(section, "quilt-label").flat_map(|label| of_tag(label, "p"));
        let written: Vec<String> = lines.map(|line| self.reader.page.words(line)).collect();
        let due: Vec<String> = due.into_iter().map(super::collapsed).collect();
        match written == due {
            true => Ok(()),
            false => Err(fault("its label does not say what was asked for")),
        }
    }
}
