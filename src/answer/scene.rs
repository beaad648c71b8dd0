//! A scene and its figures, and both as JSON for whoever asks from afar.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::note::Note;
use crate::likeness::{Likeness, PieceCounts, likeness, pieces};
use crate::plan::Plan;
use crate::stock::Gaps;

/// The version of answers.
const VERSION: u32 = 1;

/// A scene that was composed.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Scene {
    /// The plan, with what was asked for.
    pub plan: Plan,
    /// How good it is for the stash, where that is counted.
    pub gaps: Option<Gaps>,
    /// What is to be said beside it.
    pub notes: Vec<Note>,
}

/// What a scene comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Figures {
    /// Units by kind.
    pub pieces: PieceCounts,
    /// Per cent of the area that is triangle units.
    pub triangle_share: u64,
    /// Bands, columns and rows.
    pub layout: [usize; 3],
    /// Fabrics that are used.
    pub fabrics: usize,
    /// How near it comes to its picture.
    pub likeness: Likeness,
    /// How good it is for the stash, where that is counted.
    pub gaps: Option<Gaps>,
}

/// A scene for whoever asks from afar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Rowscape answer")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Answer {
    /// 1.
    pub version: u32,
    /// The plan.
    pub plan: Plan,
    /// What it comes to.
    pub figures: Figures,
    /// What is to be said beside it.
    pub notes: Vec<Note>,
}

/// A scene that is there already: nothing is to be said of how it was made.
impl From<Plan> for Scene {
    fn from(plan: Plan) -> Self {
        Self { plan, gaps: None, notes: Vec::new() }
    }
}

impl Figures {
    /// Of a scene.
    pub fn of(plan: &Plan, gaps: Option<Gaps>) -> Self {
        let counts = pieces(plan);
        let columns = plan.bands.iter().map(|band| band.columns.len()).sum();
        Self {
            triangle_share: counts.triangle_share(),
            layout: [plan.bands.len(), columns, plan.rows().len()],
            fabrics: plan.used().len(),
            pieces: counts,
            likeness: likeness(plan),
            gaps,
        }
    }
}

impl From<Scene> for Answer {
    fn from(scene: Scene) -> Self {
        let figures = Figures::of(&scene.plan, scene.gaps);
        Self { version: VERSION, plan: scene.plan, figures, notes: scene.notes }
    }
}

/// The JSON Schema of answers.
pub fn schema() -> String {
    format!("{:#}\n", schemars::schema_for!(Answer).as_value())
}
