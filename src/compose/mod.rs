//! The scene solver: the cheapest top that the maker's squares and cloth can give, found exactly.
//!
//! The cost of a top is the error of every patch (the sum over its cells of 16 HyAB between the picture
//! and the patch's colour; half for cells on a diagonal) plus the labour of every unit and seam. All costs
//! are whole numbers and doubled. Steps: cell costs and sums of them (`cost`), the best unit of each shape
//! at each place (`units`), the cheapest row between any two edges (`row`), the cheapest stack of rows,
//! columns and bands (`stack`), and the chosen rows unit by unit (`trace`).

mod before;
mod cost;
mod design;
mod draft;
mod exchange;
mod labour;
mod live;
mod pieces;
mod prices;
mod problem;
mod refit;
mod row;
mod scene;
mod sizes;
mod stack;
mod subset;
mod trace;
mod units;

pub use before::{Before, release};
pub use cost::{CostMap, PER_HYAB, Tables};
pub use design::{Choice, ComposeError, Composed, Counts, Design, Layer, Lock, filler_cloth, half_cloth, pair_cloth};
pub use draft::{Draft, Free, free, free_mut};
pub use labour::Labour;
pub use live::Live;
pub use pieces::cloth_of_each;
pub use prices::{Parts, PriceList, SquarePrices};
pub use problem::Problem;
pub use refit::{RefitError, refit};
pub use scene::{Order, Ready, SceneError, Standing, Ungranted, Wish, scene};
pub use subset::{Subset, SubsetError, subset};
pub use units::BestUnit;
