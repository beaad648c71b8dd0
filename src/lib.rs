//! From a photo or sketch to a pieced scene.
pub mod fabric;
pub mod make;
pub mod measure;
pub mod plan;
pub mod proof;
pub mod unit;
