//! How long each question takes to stop once it is told to.
//!
//! `cargo bench --bench stops` asks each of them for tops of 60 x 80 in and 100 x 100 in, and stops it at 20 moments
//! spread over the time that it takes whole. One decoding of a picture or one drawing is let run out, and shows. Nothing
//! here passes or fails.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use rowscape::job::{Brief, Candidate, JobError, ReviseBrief, again, audition, compose, files, revise};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Plan, State};
use rowscape::render::Options;
use rowscape::revise::{Change, TopPart};
use rowscape::watch::{News, Stage, UNWATCHED, Watch, Watcher};

const MOMENTS: u32 = 20;

/// Stops once it is told to, and knows what the job was at.
#[derive(Default)]
struct Button {
    pressed: AtomicBool,
    stage: Mutex<Option<Stage>>,
}

impl Watcher for Button {
    fn hear(&self, news: &News) {
        *self.stage.lock().expect("a lock") = Some(news.stage);
    }

    fn stops(&self) -> bool {
        self.pressed.load(Ordering::Relaxed)
    }
}

fn main() {
    println!("{:<34} {:>9} {:>8} {:>8}  the worst was at", "", "whole ms", "median", "worst");
    for [width, height] in [[60, 80], [100, 100]] {
        questions([width, height]);
    }
}

fn read(path: &str) -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).expect("a file of the project")
}

fn questions([width, height]: [i64; 2]) {
    let (sketch, photo) = (read("sample-sketches/lighthouse-dusk.png"), read("tests/data/photos/sunset_hills.jpg"));
    let text = |path: &str| String::from_utf8(read(path)).expect("text");
    let (packs, cottage) = (text("sample-sketches/stash-two-packs.toml"), text("sample-sketches/stash-cottage.toml"));
    let inches = |side: i64| Some(Length::INCH * side);
    let free = Brief { width: inches(width), height: inches(height), ..Brief::usual(Ruler::Inch) };
    let scarce = Brief { width: inches(54), height: inches(54), stash: Some(packs.clone()), ..free.clone() };
    let largest = Brief { largest: true, ..scarce.clone() };
    let plan =
        |brief: &Brief, picture: &[u8]| -> Plan { compose(brief, picture, None, &UNWATCHED).expect("a scene").plan };
    let (planned, sewn) = (plan(&free, &sketch), plan(&scarce, &sketch));
    let change =
        ReviseBrief { changes: vec![Change::Mark(TopPart::Row(1, 1, 1), State::Sewn)], ..ReviseBrief::default() };
    let stashes = [Candidate { name: "packs", stash: &packs }, Candidate { name: "cottage", stash: &cottage }];
    let show =
        |name: &str, ask: &dyn Fn(&Watch) -> Result<(), JobError>| show(&format!("{name} {width} x {height}"), ask);
    show("a sketch", &|watch| compose(&free, &sketch, None, watch).map(|_| ()));
    show("a photo", &|watch| compose(&free, &photo, None, watch).map(|_| ()));
    show("again", &|watch| again(&planned, watch).map(|_| ()));
    show("within a stash (54 in)", &|watch| compose(&scarce, &photo, None, watch).map(|_| ()));
    show("the largest", &|watch| compose(&largest, &photo, None, watch).map(|_| ()));
    show("revise (54 in)", &|watch| revise(&sewn, &change, None, None, watch).map(|_| ()));
    show("audition", &|watch| audition(&planned, &stashes, false, watch).map(|_| ()));
    show("audition afresh", &|watch| audition(&planned, &stashes, true, watch).map(|_| ()));
    show("files", &|watch| files(&planned, &Options::default(), watch).map(|_| ()));
}

fn show(name: &str, ask: &dyn Fn(&Watch) -> Result<(), JobError>) {
    let began = Instant::now();
    let answered = ask(&Watch::new(Arc::new(Button::default())));
    let whole = began.elapsed();
    if let Err(error) = answered {
        return println!("{name:<34} {error}");
    }
    let mut waits: Vec<(Duration, Option<Stage>)> =
        (1..=MOMENTS).filter_map(|turn| wait(whole * turn / (MOMENTS + 1), ask)).collect();
    waits.sort_by_key(|(wait, _)| *wait);
    let ms = |wait: Duration| wait.as_secs_f64() * 1e3;
    if let (Some(worst), Some(median)) = (waits.last(), waits.get(waits.len() / 2)) {
        println!("{name:<34} {:>9.0} {:>8.1} {:>8.1}  {:?}", ms(whole), ms(median.0), ms(worst.0), worst.1);
    }
}

/// From the moment at which it is told to stop until it has; none where it had ended before.
fn wait(after: Duration, ask: &dyn Fn(&Watch) -> Result<(), JobError>) -> Option<(Duration, Option<Stage>)> {
    let button = Arc::new(Button::default());
    std::thread::scope(|scope| {
        let press = scope.spawn(|| {
            std::thread::sleep(after);
            button.pressed.store(true, Ordering::Relaxed);
            (Instant::now(), *button.stage.lock().expect("a lock"))
        });
        let stopped = ask(&Watch::new(button.clone()));
        let ended = Instant::now();
        let (pressed, stage) = press.join().expect("a press");
        matches!(stopped, Err(JobError::Stopped(_))).then(|| (ended.saturating_duration_since(pressed), stage))
    })
}
