//! From a photo or sketch to a pieced scene.
pub mod compose;
pub mod fabric;
pub mod make;
pub mod measure;
pub mod picture;
pub mod plan;
pub mod render;
pub mod unit;
