//! All that one command makes.

use rowscape::make::Work;
use rowscape::plan::Plan;
use rowscape::proof::Proven;

/// The files of a scene, in the order in which they are written.
pub const FILES: [&str; 6] = ["plan.json", "picture.svg", "picture.png", "build-list.html", "rows.csv", "cutting.csv"];

/// All that one command makes, before it is written.
pub struct Made {
    pub plan: Plan,
    pub work: Work,
    pub proven: Proven,
    pub notes: Vec<String>,
}
