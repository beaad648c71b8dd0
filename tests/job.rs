//! Questions asked through the one room of them: again the same, stopped, and as JSON.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};

use rowscape::answer::{Answer, Scene};
use rowscape::fabric::Stash;
use rowscape::job::{
    self, Brief, BriefError, Candidate, FILES, JobError, ReviseBrief, again, audition, compose, files, revise,
};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{self, Effort, Plan, State};
use rowscape::render::Options;
use rowscape::revise::{Change, TopPart};
use rowscape::watch::{News, Stage, UNWATCHED, Watch, Watcher};

const SKETCH: &[u8] = include_bytes!("../sample-sketches/lighthouse-dusk.png");
const PHOTO: &[u8] = include_bytes!("../sample-sketches/headland-photo.jpg");
const STASH: &str = include_str!("../sample-sketches/stash-two-packs.toml");
const COTTAGE: &str = include_str!("../sample-sketches/stash-cottage.toml");

/// One that no part of the headland looks like, and one that is counted.
const HELD: &str = r##"
[[fabric]]
letter = "R"
name = "signal red"
colour = "#c8202a"
family = "signals"

[[fabric]]
letter = "C"
name = "harbour at noon"
colour = "#3f6f94"
squares = [{ size = "10in", count = 2 }]
"##;

fn brief(inches: i64) -> Brief {
    Brief { picture: "a.png".into(), width: Some(Length::INCH * inches), ..Brief::usual(Ruler::Inch) }
}

fn counted() -> Brief {
    Brief { stash: Some(STASH.into()), rounds: 8, ..brief(36) }
}

fn scene(brief: &Brief, picture: &[u8]) -> Scene {
    compose(brief, picture, None, &UNWATCHED).unwrap()
}

/// A brief, a plan and a picture say the same scene.
#[test]
fn a_scene_can_be_asked_for_again() {
    let some = Brief { colours: Some(9), ..counted() };
    let held = Brief { held: Some(HELD.into()), colours: Some(7), ..brief(30) };
    let asked = [(brief(36), SKETCH), (brief(30), PHOTO), (counted(), SKETCH), (some, PHOTO), (held, PHOTO)];
    for (brief, picture) in asked {
        let first = scene(&brief, picture);
        let read = plan::read(&plan::write(&first.plan)).unwrap();
        assert_eq!(read, first.plan);
        assert_eq!(again(&read, &UNWATCHED).unwrap().plan, first.plan, "{}", brief.rounds);
        assert_eq!(scene(&Brief::of(&read), picture).plan.bands, first.plan.bands, "{:?}", brief.colours);
    }
}

/// Held fabrics come first and as they are, whatever is proposed beside them and suited to the scene.
#[test]
fn what_is_held_stays_as_it_is() {
    let held = Stash::read(HELD).unwrap().prints;
    for (picture, colours, suit) in
        [(PHOTO, 4, Some(Effort::Full)), (PHOTO, 9, Some(Effort::Quick)), (SKETCH, 8, None), (PHOTO, 2, None)]
    {
        let asked = Brief { held: Some(HELD.into()), colours: Some(colours), suit, ..brief(30) };
        let Plan { fabrics, request, .. } = scene(&asked, picture).plan;
        assert_eq!(fabrics.raw[..2], held.raw, "{colours} {suit:?}");
        assert_eq!(request.held, ["R", "C"]);
        assert!(fabrics.len() <= colours as usize && (colours == 2 || fabrics.len() > 2), "{fabrics:?}");
        let letters: BTreeSet<&str> = fabrics.iter().map(|fabric| &*fabric.letter).collect();
        assert_eq!(letters.len(), fabrics.len());
    }
}

#[test]
fn briefs_and_answers_are_json_of_their_schemas() {
    let valid = |schema: String, json: &serde_json::Value| {
        jsonschema::validator_for(&serde_json::from_str(&schema).unwrap()).unwrap().is_valid(json)
    };
    let full = Brief::of(&scene(&counted(), SKETCH).plan);
    for brief in [brief(36), counted(), full, Brief::usual(Ruler::Metric)] {
        let json = serde_json::to_value(&brief).unwrap();
        assert!(valid(job::brief_schema(), &json));
        assert_eq!(serde_json::from_value::<Brief>(json).unwrap(), brief);
    }
    let few: Brief = serde_json::from_str(r#"{ "version": 1, "width": "36in" }"#).unwrap();
    assert_eq!(few, Brief { picture: String::new(), ..brief(36) });
    assert!(serde_json::from_str::<Brief>(r#"{ "wide": "36in" }"#).is_err());
    let answer = Answer::from(scene(&counted(), SKETCH));
    let json = serde_json::to_value(&answer).unwrap();
    assert!(valid(rowscape::answer::schema(), &json));
    assert_eq!(serde_json::from_value::<Answer>(json).unwrap(), answer);
    let change = ReviseBrief {
        changes: vec![
            Change::Mark(TopPart::Column(1, 1), State::Sewn),
            Change::Mark(TopPart::Rectangle([Length::ZERO, Length::CM, Length::INCH, Length::INCH]), State::Kept),
        ],
        ..ReviseBrief::default()
    };
    assert!(valid(job::change_schema(), &serde_json::to_value(&change).unwrap()));
    let text = serde_json::to_string(&change).unwrap();
    assert_eq!(serde_json::from_str::<ReviseBrief>(&text).unwrap(), change, "{text}");
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let refused = |brief: Brief| match compose(&brief, SKETCH, None, &UNWATCHED) {
        Err(JobError::Brief(error)) => error,
        other => panic!("{other:?}"),
    };
    assert_eq!(refused(Brief { version: 2, ..brief(36) }), BriefError::Version(2));
    assert_eq!(refused(Brief::usual(Ruler::Inch)), BriefError::NoSize);
    assert_eq!(refused(Brief { largest: true, ..brief(36) }), BriefError::NoStash);
    assert_eq!(refused(Brief { focus: plan::Focus::Mask, ..brief(36) }), BriefError::NoMask);
    assert!(matches!(refused(Brief { crop: "middle".into(), ..brief(36) }), BriefError::Crop(_)));
    for odd in [
        Brief { detail: 9, ..brief(36) },
        Brief { colours: Some(1), ..brief(36) },
        Brief { rounds: 0, ..brief(36) },
        Brief { margin: 201, ..brief(36) },
    ] {
        assert!(matches!(refused(odd), BriefError::Range { .. }));
    }
    let (plan, odd) = (scene(&brief(12), SKETCH).plan, ReviseBrief { detail: Some(0), ..ReviseBrief::default() });
    let changed = revise(&plan, &odd, None, None, &UNWATCHED);
    assert!(matches!(changed, Err(JobError::Brief(BriefError::Range { given: 0, .. }))), "{changed:?}");
    assert!(matches!(compose(&brief(36), b"no picture", None, &UNWATCHED), Err(JobError::Picture(_))));
    let held = Some(HELD.to_owned());
    let both = Brief { held: held.clone(), ..counted() };
    assert_eq!(refused(both), BriefError::HeldInStash);
    let third = format!("{HELD}[[fabric]]\nletter = \"D\"\nname = \"sail\"\ncolour = \"#f3e9d2\"\n");
    let few = Brief { held: Some(third), colours: Some(2), ..brief(36) };
    assert_eq!(refused(few), BriefError::Held { held: 3, asked: 2 });
    let torn = Brief { held: Some("[[fabric".into()), ..brief(36) };
    assert!(matches!(compose(&torn, SKETCH, None, &UNWATCHED), Err(JobError::Stash(0, _))));
    let torn = Brief { stash: Some("[[fabric".into()), ..brief(36) };
    assert!(matches!(compose(&torn, SKETCH, None, &UNWATCHED), Err(JobError::Stash(0, _))));
}

#[test]
fn every_file_comes_from_the_plan_alone() {
    let plan = scene(&counted(), SKETCH).plan;
    let made = files(&plan, &Options::default(), &UNWATCHED).unwrap();
    let names: Vec<&str> = made.files.iter().map(|file| file.name.as_str()).collect();
    assert_eq!(names, FILES);
    let read = plan::read(std::str::from_utf8(&made.files[0].bytes).unwrap()).unwrap();
    assert_eq!(files(&read, &Options::default(), &UNWATCHED).unwrap().files, made.files);
}

/// Says stop when it is asked for the so-manyth time, and counts.
#[derive(Default)]
struct Impatient {
    asked: AtomicU64,
    most: Option<u64>,
}

impl Watcher for Impatient {
    fn stops(&self) -> bool {
        let asked = self.asked.fetch_add(1, Ordering::SeqCst);
        self.most.is_some_and(|most| asked >= most)
    }
}

type Question<'a> = (&'a str, Box<dyn Fn(&Watch) -> Result<(), JobError> + 'a>);

/// Wherever it is stopped, each question gives nothing but that it was stopped; then it can be asked again.
#[test]
fn every_question_stops_where_it_is_told_to() {
    let planned = scene(&brief(24), SKETCH).plan;
    let sewn = scene(&Brief { width: Some(Length::INCH * 24i64), ..counted() }, SKETCH).plan;
    let change = ReviseBrief {
        changes: vec![Change::Mark(TopPart::Row(1, 1, 1), State::Sewn)],
        rounds: 4,
        ..ReviseBrief::default()
    };
    let scarce = Brief { width: Some(Length::INCH * 24i64), ..counted() };
    let largest = Brief { largest: true, rounds: 4, width: Some(Length::INCH * 14i64), ..counted() };
    let stashes = [STASH, COTTAGE].map(|stash| Candidate { name: if stash == STASH { "a" } else { "b" }, stash });
    let asked = |plan: Result<Scene, JobError>| plan.map(|_| ());
    let questions: [Question; 8] = [
        ("compose a sketch", Box::new(|watch| asked(compose(&brief(24), SKETCH, None, watch)))),
        ("compose a photo", Box::new(|watch| asked(compose(&brief(24), PHOTO, None, watch)))),
        ("compose within a stash", Box::new(|watch| asked(compose(&scarce, SKETCH, None, watch)))),
        ("find the largest", Box::new(|watch| asked(compose(&largest, SKETCH, None, watch)))),
        ("compose again", Box::new(|watch| asked(again(&sewn, watch)))),
        ("revise", Box::new(|watch| revise(&sewn, &change, None, None, watch).map(|_| ()))),
        ("audition", Box::new(|watch| audition(&planned, &stashes, false, watch).map(|_| ()))),
        ("files", Box::new(|watch| files(&planned, &Options::default(), watch).map(|_| ()))),
    ];
    for (name, question) in &questions {
        let counting = Arc::new(Impatient::default());
        question(&Watch::new(counting.clone())).unwrap_or_else(|error| panic!("{name}: {error}"));
        let all = counting.asked.load(Ordering::SeqCst);
        for turn in 1..=20_u64 {
            // Spread by the golden section.
            let most = ((turn * 2_654_435_769 % (1 << 32)) * all) >> 32;
            let watch = Watch::new(Arc::new(Impatient { most: Some(most), ..Impatient::default() }));
            let stopped = question(&watch);
            assert!(matches!(stopped, Err(JobError::Stopped(_))), "{name}, {most} of {all}: {stopped:?}");
        }
    }
}

/// Has enough as soon as there is a scene, and remembers what it heard.
#[derive(Default)]
struct Content {
    best: Mutex<Option<(Plan, f64)>>,
    stages: Mutex<Vec<Stage>>,
}

impl Watcher for Content {
    fn hear(&self, news: &News) {
        self.stages.lock().unwrap().push(news.stage);
        if let Some(best) = &news.best {
            *self.best.lock().unwrap() = Some((best.plan.clone(), best.gap));
        }
    }

    fn has_enough(&self) -> bool {
        self.best.lock().unwrap().is_some()
    }
}

#[test]
fn the_scene_that_was_enough_comes_out_again() {
    let content = Arc::new(Content::default());
    let brief = Brief { colours: Some(9), ..counted() };
    let scene = compose(&brief, PHOTO, None, &Watch::new(content.clone())).unwrap();
    let (plan, gap) = content.best.lock().unwrap().clone().unwrap();
    assert_eq!((&plan.bands, gap), (&scene.plan.bands, scene.gaps.unwrap().whole));
    assert!(scene.plan.request.steps.is_some());
    assert_eq!(again(&scene.plan, &UNWATCHED).unwrap().plan, scene.plan);
    let stages = content.stages.lock().unwrap();
    assert!([Stage::Picture, Stage::Scene, Stage::Cloth, Stage::Squares].iter().all(|stage| stages.contains(stage)));
}
