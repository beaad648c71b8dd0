//! One file per output, each made from the plan and the work alone.

mod account;
mod advice;
mod auditions;
mod cautions;
mod changes_words;
mod cloth_csv;
mod cutting_csv;
mod cutting_drawing;
mod estimate;
mod finish_words;
mod honest;
mod html;
mod leftovers;
mod lettering;
mod markup;
mod method_words;
mod news;
mod notes;
mod options;
mod packets;
mod palette;
mod png;
mod press_words;
mod prints_png;
mod rows_csv;
mod shopping;
mod stash;
mod stencil;
mod steps;
mod svg;
mod text;
mod words;

#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;

pub use account::{Account, changes_account, scene_account};
pub use advice::{one_more_words, remedy_words};
pub use auditions::auditions_account;
pub use estimate::{Cost, Estimated, Prices, cost, cost_account, time_account};
pub use honest::{doubts, near_words};
pub use html::build_list;
pub use news::news_words;
pub use notes::note_words;
pub use options::{Options, RenderError};
pub use packets::packets_account;
pub use shopping::buy_words;
use shopping::shopping_account;
pub(crate) use stash::{Taken, photos_png};
pub use stash::{stash_account, stash_png, swatches_account};
pub use steps::{ChapterWords, StepWords, chapter_words, step_words};
pub use words::units_words;

inner!(auditions::{auditions_html, auditions_png});
inner!(cloth_csv::cloth_csv);
inner!(cutting_csv::cutting_csv);
inner!(html::{packet_list, packets_list});
inner!(leftovers::leftovers_toml);
inner!(png::png);
inner!(prints_png::prints_png);
inner!(rows_csv::rows_csv);
inner!(stencil::stencil_svg);
inner!(svg::svg);
