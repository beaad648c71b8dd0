//! The questions of the page's bench answered natively: their times in milliseconds, as JSON.
//!
//! `RAYON_NUM_THREADS=1` keeps it to one thread, as the browser has it.

use std::time::Instant;

use rowscape::watch::UNWATCHED;
use rowscape_engine::reply::{Given, reply};
use serde_json::{Value, json};

fn asked(question: &Value, picture: Option<&[u8]>) -> (Value, f64) {
    let began = Instant::now();
    let (json, _) = reply(&question.to_string(), &Given { picture, mask: None, watch: &UNWATCHED })
        .unwrap_or_else(|refusal| panic!("{}", refusal.words));
    let took = began.elapsed().as_secs_f64() * 1000.0;
    (serde_json::from_str(&json).expect("a reply is JSON"), took)
}

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../../sample-sketches/headland-photo.jpg");
    let picture = std::fs::read(path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let brief = json!({ "width": "60in", "height": "80in", "depth": "bands", "colours": 12 });
    let (shown, compose) =
        asked(&json!({ "compose": { "brief": brief, "fabrics": null, "held": [] } }), Some(&picture));
    let plan = &shown["scene"]["answer"]["plan"];
    let dial =
        |detail: u32| asked(&json!({ "revise": { "plan": plan, "change": { "detail": detail, "stay": 0 } } }), None).1;
    let mut times = [85, 120, 170, 50].map(dial);
    times.sort_by(f64::total_cmp);
    println!("{}", json!({ "compose": compose, "revise": times[2] }));
}
