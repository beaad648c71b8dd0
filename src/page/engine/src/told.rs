//! What a long job tells while it goes on.

use rowscape::plan::Plan;
use rowscape::watch::{News, Stage};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How far a job is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Rowscape news")]
pub struct Told {
    /// What it is at.
    pub stage: Stage,
    /// Which part of the stage has begun, 1 being the first.
    pub part: u32,
    /// Parts that the stage has at most; 0 where that is not known.
    pub parts: u32,
    /// A scene that is better than all before.
    pub best: Option<Plan>,
    /// How far that scene is from the best, at most.
    pub gap: Option<f64>,
}

impl Told {
    /// What was heard.
    pub fn of(news: &News) -> Self {
        let best = news.best.map(|best| best.plan.clone());
        Self { stage: news.stage, part: news.part, parts: news.parts, best, gap: news.best.map(|best| best.gap) }
    }
}
