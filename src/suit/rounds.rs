//! Rounds of composing and fitting.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use super::anew::{of_cells, of_patches};
use super::seen::{Scene, Sight};
use super::tones::Tones;
use crate::compose::{Order, SceneError};
use crate::fabric::{Fabrics, Rgb};
use crate::plan::Effort;
use crate::watch::{Stage, Stopped};

/// Rounds at full effort.
const ROUNDS: usize = 2;
/// A scene may have so much less of its area in triangle units than the first.
const LESS: f64 = 0.02;

/// The order's fabrics, proposed ones, with colours suited to its scene.
///
/// Quick: one scene, and its colours fitted. Full: from the proposed colours and from medians of the cells, whichever
/// fits better, rounds of a scene in the fitted colours and of one in medians of the best scene's patches. All are judged
/// by the scene that is composed of them, so that none is worse than the first as it is seen. As many fabrics come out:
/// the first `held` ones as they are, the others named anew from light to dark.
pub fn suited(order: &Order, held: usize, effort: Effort) -> Result<Fabrics, SceneError> {
    let scenes = match effort {
        Effort::None => return Ok(order.fabrics.to_vec()),
        Effort::Quick => 3,
        Effort::Full => 4 + 4 * ROUNDS as u32,
    };
    let mut begun = 0;
    let next = || {
        begun += 1;
        order.watch.begins(Stage::Colours, begun, scenes)
    };
    let sight = Sight::new(order);
    let held = &order.fabrics.raw[..held.min(order.fabrics.len())];
    let proposed = Tones::proposed(&order.fabrics.raw, held.len(), &sight.labs);
    let mut course = Course::begin(&sight, &proposed, next)?;
    if effort == Effort::Full {
        course.try_out(of_cells(&sight, &proposed))?;
        for _ in 0..ROUNDS {
            course.go_on()?;
            course.choose_anew()?;
        }
    }
    course.go_on()?;
    let unchanged = course.best.tones == proposed;
    Ok(if unchanged { order.fabrics.to_vec() } else { course.best.tones.fabrics_beside(held) })
}

/// How far it has come.
struct Course<'a, T> {
    sight: &'a Sight<'a>,
    told: T,
    /// All tones of which a scene was composed.
    tried: Vec<Tones>,
    /// The first scene's error as it is seen, and the least share of triangle units.
    most: f64,
    least: f64,
    /// The best scene, and its score.
    best: Scene,
    score: f64,
    /// The last scene, if it was refused.
    refused: Option<Scene>,
    /// The tones with the best fit, the colours of it, and what their scene comes to in these.
    fitted: (Tones, Vec<Rgb>),
    promise: f64,
}

impl<'a, T: FnMut() -> Result<(), Stopped>> Course<'a, T> {
    fn begin(sight: &'a Sight<'a>, tones: &Tones, mut told: T) -> Result<Self, SceneError> {
        told()?;
        let scene = sight.scene(tones)?;
        let fitted = sight.fitted(&scene);
        let [first, then] = [&tones.colours(), &fitted].map(|colours| sight.judged(&scene, colours));
        Ok(Self {
            sight,
            told,
            tried: vec![tones.clone()],
            most: first.blurred,
            least: scene.share - LESS,
            best: scene,
            score: first.score,
            refused: None,
            fitted: (tones.clone(), fitted),
            promise: then.score,
        })
    }

    /// Composes a scene of tones that are new, and fits them to it; tells whether it is the best.
    fn try_out(&mut self, tones: Option<Tones>) -> Result<bool, SceneError> {
        let Some(tones) = tones.filter(|tones| !self.tried.contains(tones)) else { return Ok(false) };
        self.tried.push(tones.clone());
        (self.told)()?;
        let scene = self.sight.scene(&tones)?;
        let fitted = self.sight.fitted(&scene);
        let [now, then] = [&tones.colours(), &fitted].map(|colours| self.sight.judged(&scene, colours));
        if scene.share < self.least {
            self.refused = Some(scene);
            return Ok(false);
        }
        if then.score < self.promise {
            (self.fitted, self.promise) = ((tones, fitted), then.score);
        }
        let better = now.score < self.score && now.blurred <= self.most;
        if better {
            (self.best, self.score, self.refused) = (scene, now.score, None);
        } else {
            self.refused = Some(scene);
        }
        Ok(better)
    }

    /// A scene in the best fit; where that is no better, in colours half the way to it.
    fn go_on(&mut self) -> Result<(), SceneError> {
        let (tones, fitted) = self.fitted.clone();
        let half = tones.halfway(&fitted);
        if !self.try_out(Some(tones.moved(fitted)))? {
            self.try_out(Some(half))?;
        }
        Ok(())
    }

    /// A scene in colours chosen anew for the best scene's patches, or for those of the last.
    fn choose_anew(&mut self) -> Result<(), SceneError> {
        let last = self.refused.take();
        let tones = of_patches(self.sight, &self.best, &self.best.tones);
        if !self.try_out(tones)?
            && let Some(last) = last
        {
            let tones = of_patches(self.sight, &last, &last.tones);
            self.try_out(tones)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::{Arc, Mutex};

    use super::*;
    use crate::compose::scene;
    use crate::fabric::{named, propose};
    use crate::likeness::likeness;
    use crate::measure::{Length, Ruler};
    use crate::plan::Request;
    use crate::watch::{News, Watch, Watcher};

    /// Parts begun, and how many there may be.
    #[derive(Default)]
    struct Told(Mutex<Vec<(u32, u32)>>);

    impl Watcher for Told {
        fn hear(&self, news: &News) {
            self.0.lock().unwrap().push((news.part, news.parts));
        }
    }

    /// A sky that pales downward over a dark slope, 24 x 24 in, with a lamp of nine cells.
    fn headland() -> (Request, Vec<Rgb>, Fabrics) {
        let side = Length::INCH * 24i64;
        let request = Request { width: side, height: side, ..Request::usual(Ruler::Inch) };
        let colour = |x: u32, y: u32| match (x, y) {
            (30..33, 20..23) => [255, 204, 64],
            _ if y < 26 + x / 4 => [120 + y * 2, 150 + y, 190 + (x * 7 + y * 5) % 9],
            _ => [40 + y / 2, 60 + (x * 3 + y) % 7, 58],
        };
        let cells = (0..48).flat_map(|y| (0..48).map(move |x| colour(x, y)));
        let picture: Vec<Rgb> = cells.map(|colour| Rgb(colour.map(|value| value as u8))).collect();
        let fabrics = named(propose(&picture, 48, 48, &[], 8, 1));
        (request, picture, fabrics)
    }

    #[test]
    fn no_effort_makes_it_worse_and_the_lamp_stays() {
        let (request, picture, fabrics) = headland();
        let seen =
            |fabrics: &Fabrics| likeness(&scene(&Order::new(&request, &picture, &[], fabrics)).unwrap().0).squinted;
        let order = Order::new(&request, &picture, &[], &fabrics);
        assert_eq!(suited(&order, 0, Effort::None).unwrap(), fabrics);
        for effort in [Effort::Quick, Effort::Full] {
            let told = Arc::new(Told::default());
            let watch = Watch::new(told.clone());
            let found =
                suited(&Order { watch: &watch, ..Order::new(&request, &picture, &[], &fabrics) }, 0, effort).unwrap();
            assert_eq!(found.len(), fabrics.len());
            // The points are every second cell: the mean over all of them may differ a little.
            let [before, after] = [seen(&fabrics), seen(&found)];
            assert!(after <= before * 1.01, "{effort:?}: {before} to {after}");
            assert!(found.iter().any(|f| crate::fabric::hyab(f.colour, Rgb([255, 204, 64])) < 15.0), "{found:?}");
            let told = told.0.lock().unwrap();
            assert!(told.len() > 1 && told.iter().all(|(done, all)| done <= all), "{told:?}");
        }
    }

    #[test]
    fn the_number_of_threads_changes_nothing() {
        let (request, picture, fabrics) = headland();
        let order = Order::new(&request, &picture, &[], &fabrics);
        let on = |threads| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| suited(&order, 0, Effort::Full).unwrap())
        };
        assert_eq!(on(1), on(4));
    }
}
