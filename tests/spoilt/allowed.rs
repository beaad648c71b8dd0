//! Changes that change nothing that is sewn, each with its reason.

use crate::change::Change;

/// Changes that need not be found.
pub struct Allowed {
    pub file: &'static str,
    /// The class, or any.
    class: &'static str,
    /// The place, or what it ends in.
    pub place: &'static str,
    #[expect(dead_code, reason = "it is for the reader")]
    reason: &'static str,
}

impl Allowed {
    pub fn covers(&self, change: &Change) -> bool {
        self.file == change.file && (self.class == change.class || self.class.is_empty()) && self.place == change.place
    }
}

const fn allowed(file: &'static str, class: &'static str, place: &'static str, reason: &'static str) -> Allowed {
    Allowed { file, class, place, reason }
}

const PLAN: &str = "plan.json";

pub const ALLOWED: [Allowed; 1] =
    [allowed(PLAN, "", "request.crop", "how the picture was cut; the cells that it gave are in the plan")];
