//! One file per output, each made from the plan and the work alone.

mod account;
mod auditions;
mod cloth_csv;
mod cutting_csv;
mod cutting_plan;
mod honest;
mod html;
mod leftovers;
mod lettering;
mod markup;
mod news;
mod notes;
mod options;
mod palette;
mod png;
mod press_words;
mod rows_csv;
mod shopping;
mod stash;
mod svg;
mod text;
mod words;

#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;

pub use account::{Account, changes_account, scene_account};
pub use auditions::{auditions_account, auditions_html, auditions_png};
pub use cloth_csv::cloth_csv;
pub use cutting_csv::cutting_csv;
pub use cutting_plan::{cutting_drawing, cutting_words};
pub use html::build_list;
pub use leftovers::leftovers_toml;
pub use news::news_words;
pub use notes::note_words;
pub use options::{Options, RenderError};
pub use png::png;
pub use rows_csv::rows_csv;
use shopping::shopping_account;
pub use stash::{stash_account, stash_png};
pub use svg::svg;
