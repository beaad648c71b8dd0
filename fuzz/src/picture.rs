//! The check of the target `picture`.

use rowscape::fabric::propose;
use rowscape::picture::{Crop, Limits, Picture, hush_contained_panics, salience};

/// Small, so that time goes into odd files and not into large ones.
const LIMITS: Limits = Limits { side: 400, pixels: 40_000, bytes: 1 << 22 };

/// Any bytes as a picture, brought to a top and given a palette.
pub fn picture(bytes: &[u8]) {
    // The harness ends at any panic it is told of: those of decoders are caught and become a broken file.
    hush_contained_panics();
    let Ok(picture) = Picture::decode(bytes, &LIMITS) else { return };
    for crop in [Crop::Centre, Crop::Whole] {
        let Ok(cells) = picture.cells(&crop, 9, 7) else { continue };
        assert_eq!(picture.mask(&crop, 9, 7).map(|mask| mask.len()), Ok(63));
        let focus = salience(&cells, 9, 7);
        assert!((1..=6).contains(&propose(&cells, 9, 7, &focus, 6, 1).len()));
    }
}
