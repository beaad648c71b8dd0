//! What a page asks.

use rowscape::fabric::Fabric;
use rowscape::job::{Asked, Brief, Gathering, Rates, ReviseBrief, Sizes, Swatch};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Address, Plan};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A question; pictures come beside it.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "camelCase")]
#[schemars(title = "Rowscape question")]
pub enum Question {
    /// What scene does the picture make?
    Compose(Box<Composing>),
    /// The picture as a PNG of at most so many pixels a side, where the browser cannot read it.
    Picture(u32),
    /// What does this plan file hold?
    Open(String),
    /// What becomes of a scene if this is changed?
    Revise(Box<Revising>),
    /// What is to be bought, and what is each unit?
    Work(Box<Plan>),
    /// The list to read and print.
    List(Box<Listing>),
    /// Every file of it, proved.
    Files(Box<Listing>),
    /// The same in packets for several sewers, proved.
    Packets(Box<Listing>, u32),
    /// What is in this stash?
    Stash(String),
    /// The stash as a file, of a scene or of fabrics that are counted by hand.
    WriteStash(Box<Plan>),
    /// The same, of fabrics that are in no scene yet.
    WriteFabrics(Vec<Fabric>),
    /// Families proposed for the fabrics of a stash that have none.
    Group(String),
    /// Which prints are in the photo of fabrics that comes beside it?
    Swatches(Asked),
    /// Which swatches of several photos look like one fabric? Those of each photo together.
    Twice(Vec<Vec<Swatch>>),
    /// The stash of fabrics that were found in photos, with how much there is.
    Gather(Gathering),
    /// How does a scene look in these stashes?
    Trial(Box<Trying>),
    /// What do squares give?
    Sizes(Box<SizesAsked>),
    /// A row came out too long or too short: what now?
    Remedy(Box<Measured>),
    /// What would one square or one print more do to a scene within a stash?
    OneMore(Box<Plan>),
    /// How long does a scene take, and what does it cost?
    Estimate(Box<Estimating>),
    /// What is done next at the machine?
    Steps(Box<Plan>),
}

/// A brief, with fabrics in the place of its stash's where some were changed by hand, or to be held while others are
/// proposed.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Composing {
    /// The brief.
    pub brief: Brief,
    /// The fabrics.
    pub fabrics: Option<Vec<Fabric>>,
    /// Those that are held.
    pub held: Vec<Fabric>,
}

/// A scene and what is to be changed of it.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Revising {
    /// The scene.
    pub plan: Plan,
    /// The change.
    pub change: ReviseBrief,
    /// Keys of the steps that are ticked: what they cut and sewed is held, before all else.
    #[serde(default)]
    pub ticks: Vec<String>,
}

/// A scene, and a row of it as it came out.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// The scene.
    pub plan: Plan,
    /// A unit of the row.
    pub at: Address,
    /// What the row measures from raw edge to raw edge.
    pub measures: Length,
}

/// A scene, how quick its maker is, and what cloth costs her, as she writes it.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Estimating {
    /// The scene.
    pub plan: Plan,
    /// Seconds that each thing takes; the usual ones where it does not say.
    pub rates: Option<Rates>,
    /// A precut square, a yard or metre of cloth, and the batting.
    pub prices: [String; 3],
    /// A square, and a yard or metre, of fabrics that cost other than the rest, by letter.
    pub fabrics: Vec<(String, [String; 2])>,
}

/// A scene, and how it is to be written.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Listing {
    /// The scene.
    pub plan: Plan,
    /// Whether the list ends in a large map.
    pub large_map: bool,
    /// Whether colours are shown as greys.
    pub greys: bool,
}

/// A scene and the stashes to try it in.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Trying {
    /// The scene.
    pub plan: Plan,
    /// Name and text of each stash.
    pub stashes: Vec<(String, String)>,
    /// Whether each is composed afresh; otherwise the pieces stay.
    pub afresh: bool,
}

/// Sizes of squares, seam, grid and strips on a ruler.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SizesAsked {
    /// The sizes.
    pub sizes: Sizes,
    /// The ruler.
    pub ruler: Ruler,
}
