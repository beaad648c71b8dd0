//! From a photo or sketch to a scene that can be pieced, and the work for it, row by row.
//!
//! One way through: a [`picture`] becomes cells of the top; with [`fabric`]s and the [units](mod@unit) that the
//! squares give, the best scene is found; the frozen [`plan`] holds it; what to cut and sew is worked out from it;
//! [`render`] writes it down; [`proof`] sews on paper what was written and compares. Whoever asks goes through [`job`]:
//!
//! ```
//! use rowscape::job::{Brief, compose, files};
//! use rowscape::measure::Ruler;
//! use rowscape::render::Options;
//! use rowscape::watch::UNWATCHED;
//!
//! let picture = std::fs::read("sample-sketches/lighthouse-dusk.png")?;
//! let brief = Brief { picture: "lighthouse-dusk.png".into(), width: Some("54in".parse()?), ..Brief::usual(Ruler::Inch) };
//! let scene = compose(&brief, &picture, None, &UNWATCHED)?;
//! # let folder = std::env::temp_dir().join(format!("rowscape-front-page-{}", std::process::id()));
//! # std::fs::create_dir_all(&folder)?;
//! for file in files(&scene.plan, &Options::default(), &UNWATCHED)?.files {
//!     std::fs::write(folder.join(&file.name), &file.bytes)?;
//! }
//! # assert_eq!(std::fs::read_dir(&folder)?.count(), 8);
//! # std::fs::remove_dir_all(&folder)?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

/// Brings up what a room holds for the other rooms alone: tests and benches see it, callers do not.
macro_rules! inner {
    ($($path:tt)+) => {
        #[cfg(not(feature = "internals"))]
        #[allow(unused_imports)]
        pub(crate) use $($path)+;
        #[cfg(feature = "internals")]
        #[doc(hidden)]
        pub use $($path)+;
    };
}

pub mod answer;
pub mod fabric;
pub mod finish;
pub mod job;
pub mod measure;
pub mod picture;
pub mod plan;
pub mod proof;
pub mod render;
pub mod unit;
pub mod watch;

/// The rooms behind [`job`].
#[path = ""]
#[cfg_attr(not(feature = "internals"), allow(unused_imports))]
mod inner {
    pub mod audition;
    pub mod compose;
    pub mod cutting;
    pub mod likeness;
    pub mod make;
    pub mod prints;
    pub mod revise;
    pub mod stock;
    pub mod suit;
    pub mod swatch;
}

#[cfg(not(feature = "internals"))]
use inner::*;
#[cfg(feature = "internals")]
#[doc(hidden)]
pub use inner::*;
