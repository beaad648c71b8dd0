//! From the top to the bed: borders, backing, batting, binding, sleeve and label, in exact lengths.
//!
//! It stands below the plan, whose request holds what is asked for, so that a plan that is read is known to finish.

mod asked;
mod backing;
mod batting;
mod beds;
mod binding;
mod borders;
mod error;
mod facing;
mod pieced;
mod quilting;
mod strips;
mod sum;
#[cfg(test)]
mod tests;

pub use asked::{
    Backing, Bed, Binding, Border, BorderUnits, ComeTo, Corners, Facing, Finish, First, Fold, Grain, Joins, Label,
    MOST_BORDERS, Motif, Pieced, Quilting,
};
pub use backing::{BackingWork, Halves, Middle, Seams};
pub use batting::{BattingWork, Pack, Roll};
pub use beds::{BEDS, NamedBed, WALLS, bed, wall};
pub use binding::{BindingCut, BindingWork};
pub use borders::{BorderWork, Cornerstones, Pieces};
pub use error::FinishError;
pub use facing::FacingWork;
pub use pieced::PiecedWork;
pub use quilting::{LongSeams, QuiltingWork};
pub use strips::Run;
pub use sum::{Finishing, Hang, SleeveWork, Top};

inner!(backing::panels);
inner!(binding::{bias_from_square, strip_width});
inner!(quilting::{STENCIL_SHEET, lines, repeats});
inner!(strips::strips_for);
