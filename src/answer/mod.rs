//! Answers as values: a scene with its figures, and what is to be said beside it.

mod advice;
mod note;
mod scene;

pub use crate::audition::{Audition, Entry, Served};
pub use crate::cutting::Lacking;
pub use crate::likeness::{Likeness, PieceCounts};
pub use crate::make::{
    Chapter, Handed, Handover, JoinedRows, Meeting, Packet, Packets, Part, Remedy, RemedyWay, Step, Task, Work,
};
pub use crate::revise::{Changes, Count};
pub use crate::stock::{Gaps, Lack, Ruling, Shortage};
pub use advice::{OneMore, Thing};
pub use note::{Again, Missed, Note};
pub use scene::{Answer, Figures, Scene, schema};
