//! Every question that a person asks, as one call: a brief or a plan goes in, an answer comes out.
//!
//! | question | call |
//! |---|---|
//! | what scene does this picture make? | [`compose()`] (the largest one that a stash makes, where the brief says so) |
//! | the same once more, from its plan alone | [`again()`] |
//! | what becomes of it if this is changed? | [`revise()`], [`changes()`] |
//! | how does it look in these stashes? | [`audition()`] |
//! | what is in a picture that a page cannot show? | [`as_png()`] |
//! | what do squares give? | [`sizes()`] |
//! | what is in this stash, and what reads as one colour? | [`look_through()`], [`group()`] |
//! | which fabrics are in this photo, and which of them in two? | [`swatches()`], [`twice()`] |
//! | what stash do they make? | [`stash_of()`] |
//! | a row came out too long: what now? | [`remedy()`] |
//! | what would one square or one print more do? | [`one_more()`] |
//! | what is to be cut and sewn, and every file of it | [`work()`], [`files()`] |
//! | what is done next at the machine, and what is done of it | [`steps()`], [`ticked()`] |
//! | how long does it take? | [`estimate()`] |
//! | who of several sewers sews what, with a page for each | [`packets()`] |
//! | does what was written come out right? | [`prove()`] |
//!
//! Nothing here reads a file, a clock, the environment or a terminal. Whatever may take long takes a
//! [`Watch`](crate::watch::Watch). To add a question: a file with its call, its refusals in `error`, its answer in
//! [`answer`](crate::answer); what that says in words goes to `render`.

mod advise;
mod audition;
mod brief;
mod compose;
mod error;
mod estimate;
mod files;
mod largest;
mod packets;
mod picture;
mod prepare;
mod prove;
mod revise;
mod sizes;
mod stash;
mod steps;
mod swatches;

pub use crate::compose::{ComposeError, RefitError, SceneError, SubsetError, Ungranted};
pub use crate::make::{Effort, Rates};
pub use crate::revise::{Change, Obstacle, PartError, ReviseError, TopPart, Unmoved};
pub use crate::stock::StockError;
pub use crate::swatch::{Amid, Asked, Doubt, Found, Marks, Neutral, Point, Swatch, Twin};
pub use advise::{one_more, remedy};
pub use audition::{Auditioned, Candidate, audition, file_names as audition_files};
pub use brief::{Brief, BriefError, DIAL, MOST_COLOURS, Sizes, schema as brief_schema};
pub use compose::{again, compose};
pub use error::{JobError, Subject};
pub use estimate::estimate;
pub use files::{FILES, File, Made, PRINTS, STENCIL, files, work};
pub use packets::{MOST_SEWERS, SharedOut, file_names as packet_files, packets};
pub use picture::as_png;
pub use prove::prove;
pub use revise::{Bought, ReviseBrief, changes, revise, schema as change_schema};
pub use sizes::sizes;
pub use stash::{LookedThrough, group, look_through};
pub use steps::{steps, ticked};
pub use swatches::{Amount, Gathered, Gathering, Pack, Shown, stash_of, swatches, swatches_by_size, taken_png, twice};
