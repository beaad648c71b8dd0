//! Changes that change nothing that is sewn, each with its reason.

use crate::spoilt::change::Change;

/// Changes that need not be found.
pub struct Allowed {
    pub file: &'static str,
    /// The class, or any.
    class: &'static str,
    /// The place, or all below it where it ends in a dot.
    pub place: &'static str,
    /// The scenes, or any.
    scenes: &'static [&'static str],
    #[expect(dead_code, reason = "it is for the reader")]
    reason: &'static str,
}

impl Allowed {
    pub fn covers(&self, scene: &str, change: &Change) -> bool {
        let place = change.place == self.place || (self.place.ends_with('.') && change.place.starts_with(self.place));
        self.file == change.file
            && place
            && (self.class.is_empty() || self.class == change.class)
            && (self.scenes.is_empty() || self.scenes.contains(&scene))
    }

    const fn only(self, scenes: &'static [&'static str]) -> Self {
        Self { scenes, ..self }
    }
}

const fn allowed(file: &'static str, class: &'static str, place: &'static str, reason: &'static str) -> Allowed {
    Allowed { file, class, place, scenes: &[], reason }
}

const PLAN: &str = "plan.json";
const LEFT: &str = "leftovers.toml";
const AGAIN: &str = "it only guides a later composing; what it led to stands in the bands";
const DIGEST: &str = "it tells whose a file is: one that differs from it is hers, and never written over";
const LISTED: &str = "pieces are counted, in whatever order they are listed";

pub const ALLOWED: [Allowed; 57] = [
    allowed(PLAN, "", "was.", "the scene before: of it only kinds and places are shown beside the new one")
        .only(&["begun"]),
    allowed(PLAN, "", "numbers.", "what a later list calls its pairs and fillers").only(&["begun"]),
    allowed(PLAN, "", "piles.", "what a later list calls pieces that are made").only(&["begun"]),
    allowed(PLAN, "order", "fabrics.remnants.oddments", LISTED).only(&["begun"]),
    allowed(PLAN, "flag", "begun", "whether a later change takes more off the stash").only(&["begun"]),
    allowed(PLAN, "", "out", AGAIN).only(&["begun"]),
    allowed(
        PLAN,
        "missing",
        "request.finish.borders",
        "the border that makes the next one come out even is put in by itself",
    )
    .only(&["packs"]),
    allowed(PLAN, "colour", "written.files.build-list.html", DIGEST),
    allowed(PLAN, "colour", "written.files.cloth.csv", DIGEST),
    allowed(PLAN, "colour", "written.files.cutting.csv", DIGEST),
    allowed(PLAN, "colour", "written.files.leftovers.toml", DIGEST),
    allowed(PLAN, "colour", "written.files.picture.png", DIGEST),
    allowed(PLAN, "colour", "written.files.picture.svg", DIGEST),
    allowed(PLAN, "colour", "written.files.rows.csv", DIGEST),
    allowed(PLAN, "colour", "written.files.stencil.svg", DIGEST),
    allowed(PLAN, "colour", "written.plan", DIGEST),
    allowed(PLAN, "", "request.crop", "how the picture was cut; the cells that it gave are in the plan"),
    allowed(PLAN, "text", "request.picture", "the end of a file name; the name itself is the drawing's title"),
    allowed(PLAN, "count", "request.colours", AGAIN),
    allowed(PLAN, "word", "request.depth", AGAIN),
    allowed(PLAN, "count", "request.detail", AGAIN),
    allowed(PLAN, "length", "request.edge_step", AGAIN),
    allowed(PLAN, "count", "request.seed", AGAIN),
    allowed(PLAN, "count", "request.thrift", AGAIN),
    allowed(PLAN, "count", "request.triangles", AGAIN),
    allowed(PLAN, "count", "request.trims", AGAIN),
    allowed(PLAN, "count", "request.quiet", AGAIN),
    allowed(PLAN, "count", "request.margin", "what is bought over what is cut, where nothing is bought")
        .only(&["packs", "heap", "begun"]),
    allowed(PLAN, "length", "request.least", "found where a piece or a remnant is as narrow as that, and else idle"),
    allowed(PLAN, "word", "request.row_ends", "where no row ends in a filler; else it is cut over, or is not")
        .only(&["heap"]),
    allowed(PLAN, "order", "request.squares", AGAIN),
    allowed(PLAN, "missing", "request.squares", "a square that no pair is of").only(&["metric, spare ends", "heap"]),
    allowed(PLAN, "doubled", "request.squares", "a list of what may be used"),
    allowed(PLAN, "length", "request.squares.cut", "a square that no pair is of").only(&["metric, spare ends", "heap"]),
    allowed(PLAN, "flag", "request.squares.quartered", "a square that no pair is of")
        .only(&["metric, spare ends", "heap"]),
    allowed(PLAN, "order", "request.strips", AGAIN),
    allowed(PLAN, "missing", "request.strips", "a strip that comes off no unit"),
    allowed(PLAN, "doubled", "request.strips", "a list of what may be used"),
    allowed(PLAN, "length", "request.strips", "a strip that comes off no unit"),
    allowed(PLAN, "word", "bands.columns.rows.units.state", "what a revision may change; it is sewn all the same"),
    allowed(PLAN, "colour", "picture", AGAIN),
    allowed(PLAN, "order", "picture", AGAIN),
    allowed(PLAN, "colour", "focus", AGAIN),
    allowed(PLAN, "order", "focus", AGAIN),
    allowed(PLAN, "order", "on_hand.units", LISTED),
    allowed(PLAN, "order", "on_hand.slices", LISTED),
    allowed(PLAN, "order", "on_hand.fillers", LISTED),
    allowed(PLAN, "order", "on_hand.units.fabrics", "the two fabrics of a whole unit, which turns"),
    allowed(LEFT, "order", "fabric.squares", LISTED),
    allowed(LEFT, "order", "fabric.oddments", LISTED),
    allowed(LEFT, "order", "unit", LISTED),
    allowed(LEFT, "order", "slice", LISTED),
    allowed(LEFT, "order", "filler", LISTED),
    allowed(LEFT, "order", "unit.fabrics", "the two fabrics of a whole unit, which turns"),
    allowed("cutting.csv", "order", "line", "each line is cut by itself"),
    allowed("cloth.csv", "order", "line", "each piece says where on its sheet it lies"),
    allowed("cloth.csv", "filled", "turned", "a square lies the same way when it is turned"),
];
