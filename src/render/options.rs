//! What the maker may choose about the outputs, and what can go wrong.

/// Choices that all renderers share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Options {
    /// Whether the picture shows its seams as quiet lines.
    pub seams: bool,
    /// Whether colours are shown as greys, to judge light and dark.
    pub greys: bool,
    /// Whether the build list ends in a large map, over sheets to be taped together.
    pub large_map: bool,
    /// Longer side of the PNG in pixels.
    pub pixels: u32,
}

impl Default for Options {
    fn default() -> Self {
        Self { seams: true, greys: false, large_map: false, pixels: 1600 }
    }
}

/// Why an output could not be made.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum RenderError {
    /// The size is out of range.
    #[error("a picture of {asked} pixels cannot be drawn: ask for {least} to {most} on its longer side")]
    Pixels {
        /// What was asked for.
        asked: u32,
        /// Least.
        least: u32,
        /// Most.
        most: u32,
    },
    /// The drawing did not become a picture.
    #[error("the scene could not be drawn as a picture: {0}; the SVG has the same scene")]
    Drawing(String),
    /// The swatches did not become a picture.
    #[error("the swatches could not be drawn: {0}")]
    Swatches(String),
    /// A table could not be written.
    #[error("the table {name} could not be written: {source}")]
    Table {
        /// Which table.
        name: &'static str,
        /// Why.
        source: csv::Error,
    },
}
