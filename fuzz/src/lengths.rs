//! The check of the target `lengths`.

use rowscape::measure::{Length, Ruler, Seam};
use rowscape::picture::Crop;
use rowscape::unit::{Square, Vocabulary};

/// Any text as a length, a square or a crop; what is read prints as itself.
pub fn lengths(text: &str) {
    let _ = text.parse::<Crop>();
    if let Ok(square) = text.parse::<Square>() {
        assert!(square.cut > Length::ZERO && square.bought() >= square.cut);
    }
    let lengths: Vec<Length> = text.split(',').filter_map(|part| part.parse().ok()).collect();
    for length in &lengths {
        assert_eq!(length.to_string().parse(), Ok(*length));
        assert!(!Ruler::of_text(text).show(*length).is_empty());
        assert_eq!(Ruler::Metric.show(*length).parse(), Ok(*length));
    }
    if let [cut, seam, grid, least, strips @ ..] = lengths.as_slice() {
        let squares = [Square { cut: *cut, quartered: false }];
        let _ = Vocabulary::new(&squares, Seam::measured(*seam, Ruler::of_text(text)), *grid, strips, *least);
    }
}
