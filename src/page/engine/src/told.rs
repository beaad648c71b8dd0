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
    pub stage: At,
    /// Which part of the stage has begun, 1 being the first.
    pub part: u32,
    /// Parts that the stage has at most; 0 where that is not known.
    pub parts: u32,
    /// A scene that is better than all before.
    pub best: Option<Plan>,
    /// How far that scene is from the best, at most.
    pub gap: Option<f64>,
}

/// What a job is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum At {
    /// The picture is read.
    Picture,
    /// Colours are proposed, and suited to the scene.
    Colours,
    /// The scene is composed.
    Scene,
    /// Scarce cloth is priced.
    Cloth,
    /// Scenes are brought within whole squares and sheets.
    Squares,
    /// Sizes of the top are tried.
    Size,
    /// Stashes are tried.
    Stash,
    /// Every file is drawn.
    Files,
    /// What is written is sewn on paper.
    Proof,
}

impl Told {
    /// What was heard.
    pub fn of(news: &News) -> Self {
        let best = news.best.map(|best| best.plan.clone());
        Self {
            stage: At::of(news.stage),
            part: news.part,
            parts: news.parts,
            best,
            gap: news.best.map(|best| best.gap),
        }
    }
}

impl At {
    fn of(stage: Stage) -> Self {
        match stage {
            Stage::Picture => Self::Picture,
            Stage::Colours => Self::Colours,
            Stage::Cloth => Self::Cloth,
            Stage::Squares => Self::Squares,
            Stage::Size => Self::Size,
            Stage::Stash => Self::Stash,
            Stage::Files => Self::Files,
            Stage::Proof => Self::Proof,
            // A stage that is new to the engine is part of composing until it has a name here.
            _ => Self::Scene,
        }
    }
}
