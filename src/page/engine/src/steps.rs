//! The work step by step, for a page.

use rowscape::answer::{Chapter, Part, Step, Task};
use rowscape::job::{steps, work};
use rowscape::measure::Length;
use rowscape::plan::{Address, Plan};
use rowscape::render::{StepWords, chapter_words, step_words};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Every step of a scene, in the order of the work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Steps {
    /// The chapters that some step is in.
    pub chapters: Vec<ChapterShown>,
    /// The steps.
    pub steps: Vec<StepShown>,
}

/// A chapter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ChapterShown {
    /// What tells it from every other.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// What is to be known before its first step.
    pub words: String,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

/// A step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StepShown {
    /// What tells it from every other, also when the scene is changed.
    pub key: String,
    /// Its chapter.
    pub chapter: String,
    /// What it is, in a few words.
    pub title: String,
    /// What is done, sentence by sentence.
    pub words: Vec<String>,
    /// Letters of the fabrics that are in it.
    pub fabrics: Vec<String>,
    /// Addresses of the units that it is for; of a seam those on both sides along it.
    pub units: Vec<String>,
    /// The row that it belongs to, as `1.1.3`.
    pub row: Option<String>,
    /// What a seam joins, the part before first: the beginning of the addresses that are in it.
    pub parts: Option<[String; 2]>,
    /// Which way a seam is pressed: `left`, `up`, `open` and so on, or the letter of the fabric; empty where none is.
    pub press: String,
    /// Width and height of a piece to cut, in inches.
    pub size: Option<[f64; 2]>,
    /// A pair of squares with what is sewn and cut, as SVG.
    pub drawing: Option<String>,
    /// Whether the plan says that it is done.
    pub made: bool,
    /// How much it is: pieces, or inches of seam.
    pub amount: u32,
}

/// The steps of a scene.
pub fn shown(plan: &Plan) -> Steps {
    let steps = steps(plan);
    let mut chapters: Vec<Chapter> = steps.iter().map(|step| step.chapter).collect();
    chapters.sort_unstable();
    chapters.dedup();
    let words = step_words(plan, &work(plan), &steps);
    let shown = steps.iter().zip(words).map(|(step, words)| one(plan, step, words)).collect();
    Steps { chapters: chapters.into_iter().map(chapter).collect(), steps: shown }
}

fn one(plan: &Plan, step: &Step, words: StepWords) -> StepShown {
    let parts = match &step.task {
        Task::Join(before, part, _) => Some([*before, *part].map(beginning)),
        _ => None,
    };
    StepShown {
        key: step.key.clone(),
        chapter: id(step.chapter).into(),
        title: words.title,
        words: words.words,
        fabrics: step.fabrics.iter().map(|print| plan.fabrics[*print].letter.clone()).collect(),
        units: step.units.iter().map(Address::to_string).collect(),
        row: step.row.map(Address::row_words),
        parts,
        press: words.press,
        size: words.size.map(|size| [size.width, size.height].map(Length::as_inches)),
        drawing: words.drawing,
        made: step.made,
        amount: step.amount,
    }
}

/// The addresses of a part begin so.
fn beginning(part: Part) -> String {
    match part {
        Part::Unit(at) => at.to_string(),
        Part::Row(at) => format!("{}.", at.row_words()),
        Part::Column(band, column) => format!("{band}.{column}."),
        Part::Band(band) => format!("{band}."),
    }
}

fn chapter(chapter: Chapter) -> ChapterShown {
    let words = chapter_words(chapter);
    ChapterShown {
        id: id(chapter).into(),
        title: words.title.into(),
        words: words.words.into(),
        cautions: words.cautions.into_iter().map(str::to_owned).collect(),
    }
}

fn id(chapter: Chapter) -> &'static str {
    match chapter {
        Chapter::Cut => "cut",
        Chapter::Pair => "pair",
        Chapter::Sew => "sew",
        Chapter::Apart => "apart",
        Chapter::Press => "press",
        Chapter::Trim => "trim",
        Chapter::Strips => "strips",
        Chapter::OnHand => "hand",
        Chapter::Rows => "rows",
        Chapter::Columns => "columns",
        Chapter::Bands => "bands",
        Chapter::Top => "top",
        Chapter::Finish => "finish",
    }
}
