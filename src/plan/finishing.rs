//! Which fabrics of the scene its finishing is made of.

use std::collections::BTreeMap;

use super::Plan;
use crate::fabric::{Print, Rgb};
use crate::finish::{Border, Finishing, LongSeams, QuiltingWork};

/// Fabrics of what finishes the quilt, in the order in which they are asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FinishFabrics {
    /// Each border, and its cornerstones.
    pub borders: Vec<[Print; 2]>,
    /// Those asked for in pieced borders, by their letters.
    pub lettered: BTreeMap<String, Print>,
    /// The darkest that the top shows.
    pub darkest: Print,
    /// The lightest that the top shows.
    pub lightest: Print,
    /// The backing; none where it is of other cloth.
    pub backing: Option<Print>,
    /// The binding.
    pub binding: Option<Print>,
    /// The facing; none where it is of other cloth.
    pub facing: Option<Print>,
}

impl Plan {
    /// The fabrics of what finishes the quilt.
    ///
    /// Another stash may not have the letters that were asked for: then borders and binding are of the darkest fabric that
    /// the top shows, cornerstones of the lightest.
    pub fn finish_fabrics(&self, finishing: &Finishing) -> FinishFabrics {
        let used = self.used();
        let light = |print: &Print| light(self.fabrics[*print].colour);
        let darkest = used.iter().copied().min_by_key(light).unwrap_or_else(|| Print::from(0));
        let lightest = used.iter().rev().copied().max_by_key(light).unwrap_or_else(|| Print::from(0));
        let of = |letter: &Option<String>| self.fabrics.position(|fabric| Some(&fabric.letter) == letter.as_ref());
        let finish = &self.request.finish;
        let own =
            |border: &Border| [of(&border.fabric).unwrap_or(darkest), of(&border.cornerstones).unwrap_or(lightest)];
        let borders: Vec<[Print; 2]> = finishing.borders.iter().map(|border| own(&border.asked)).collect();
        let outer = borders.last().map_or(darkest, |[strips, _]| *strips);
        let pieced = finish.borders.iter().filter_map(|border| border.pieced.as_ref());
        let lettered = pieced.flat_map(|pieced| &pieced.fabrics);
        let lettered = lettered.filter_map(|letter| Some((letter.clone(), of(&Some(letter.clone()))?))).collect();
        let binding = finish.binding.as_ref().map(|binding| of(&binding.fabric).unwrap_or(outer));
        let backing = finish.backing.as_ref().and_then(|backing| of(&backing.fabric));
        let facing = finish.facing.as_ref().and_then(|facing| of(&facing.fabric).or(backing));
        FinishFabrics { borders, lettered, darkest, lightest, backing, binding, facing }
    }
}

impl Plan {
    /// Every row, and the length of all seams between rows, columns and bands.
    pub fn long_seams(&self) -> LongSeams {
        let grid = self.request.grid;
        let mut rows = Vec::new();
        let mut length = self.request.width * (self.bands.len() as i64 - 1);
        for band in &self.bands {
            length += grid * band.height * (band.columns.len() as i64 - 1);
            for column in &band.columns {
                length += grid * column.width * (column.rows.len() as i64 - 1);
                rows.extend(column.rows.iter().map(|row| [grid * row.height, grid * column.width]));
            }
        }
        LongSeams { rows, length }
    }

    /// What is quilted: in the ditch, where nothing else is asked for.
    pub fn quilting(&self, finishing: &Finishing) -> QuiltingWork {
        let mut seams = self.long_seams();
        seams.length += finishing.borders.iter().map(|border| (border.inner[0] + border.inner[1]) * 2i64).sum();
        let asked = self.request.finish.quilting.clone().unwrap_or_default();
        asked.work(finishing.bordered, &seams, self.request.ruler)
    }
}

/// Light that a colour throws back, in millionths (IEC 61966-2-1, weights of ITU-R BT.709).
fn light(colour: Rgb) -> i64 {
    let [r, g, b] = colour.linear();
    ((0.2126 * r + 0.7152 * g + 0.0722 * b) * 1e6).round() as i64
}
