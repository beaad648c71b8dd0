//! Averages in linear light, and the parts of a picture that fill a top.

use image::{GrayImage, Luma, Rgba, RgbaImage};
use proptest::prelude::*;

use super::*;

fn checkerboard(width: u32, height: u32) -> Picture {
    let image = GrayImage::from_fn(width, height, |x, y| Luma([if (x + y) % 2 == 0 { 0 } else { 255 }]));
    decoded(&png(image)).unwrap()
}

#[test]
fn black_and_white_average_in_linear_light() {
    // Half of full light is level 188 (IEC 61966-2-1: 1.055 * 0.5^(1/2.4) - 0.055 = 0.7354).
    assert_eq!(checkerboard(64, 48).cells(&Crop::Centre, 8, 6).unwrap(), vec![Rgb([188; 3]); 48]);
    assert_eq!(checkerboard(2, 2).cells(&Crop::Whole, 1, 1).unwrap(), [Rgb([188; 3])]);
}

#[test]
fn a_mask_averages_the_grey_as_painted() {
    assert_eq!(checkerboard(64, 48).mask(&Crop::Centre, 8, 6).unwrap(), vec![128; 48]);
    let ramp = GrayImage::from_fn(256, 1, |x, _| Luma([u8::try_from(x).unwrap()]));
    let levels = decoded(&png(ramp)).unwrap().mask(&Crop::Centre, 256, 1).unwrap();
    assert_eq!(levels, (0..=255).collect::<Vec<u8>>());
    let layer = RgbaImage::from_fn(2, 1, |x, _| Rgba([255, 255, 255, if x == 0 { 255 } else { 0 }]));
    assert_eq!(decoded(&png(layer)).unwrap().mask(&Crop::Centre, 2, 1).unwrap(), [255, 0]);
    let plain = |colour| decoded(&png(RgbImage::from_pixel(1, 1, image::Rgb(colour)))).unwrap();
    // ITU-R BT.709: 0.2126 red, 0.7152 green, 0.0722 blue.
    let of = |colour| plain(colour).mask(&Crop::Centre, 1, 1).unwrap();
    assert_eq!([of([255, 0, 0]), of([0, 255, 0]), of([0, 0, 255])], [[54], [182], [18]]);
}

/// Four columns of two: red, green, blue, white over black.
fn columns() -> Picture {
    let colours = [[255, 0, 0], [0, 255, 0], [0, 0, 255], [255, 255, 255]];
    decoded(&png(RgbImage::from_fn(4, 2, |x, _| image::Rgb(colours[usize::try_from(x).unwrap()])))).unwrap()
}

const RED: Rgb = Rgb([255, 0, 0]);
const GREEN: Rgb = Rgb([0, 255, 0]);
const BLUE: Rgb = Rgb([0, 0, 255]);
const WHITE: Rgb = Rgb([255; 3]);

#[test]
fn centre_cuts_whole_draws_out_and_region_picks() {
    let picture = columns();
    assert_eq!(picture.cells(&Crop::Centre, 2, 2).unwrap(), [GREEN, BLUE, GREEN, BLUE]);
    assert_eq!(picture.cells(&Crop::Whole, 4, 4).unwrap(), [RED, GREEN, BLUE, WHITE].repeat(4));
    assert_eq!(picture.cells(&Crop::Whole, 8, 2).unwrap(), [RED, RED, RED, GREEN, BLUE, WHITE, WHITE, WHITE].repeat(2));
    let right = Crop::Region { x: 2, y: 0, w: 2, h: 2 };
    assert_eq!(picture.cells(&right, 2, 2).unwrap(), [BLUE, WHITE, BLUE, WHITE]);
    let wide = Crop::Region { x: 0, y: 1, w: 3, h: 1 };
    assert_eq!(picture.cells(&wide, 1, 1).unwrap(), [GREEN], "the middle of the region");
}

#[test]
fn a_pixel_may_fill_many_cells() {
    let picture = columns();
    let cells = picture.cells(&Crop::Centre, 40, 20).unwrap();
    let row: Vec<Rgb> = [RED, GREEN, BLUE, WHITE].into_iter().flat_map(|colour| [colour; 10]).collect();
    assert_eq!(cells, row.repeat(20));
    let one = decoded(&png(RgbImage::from_pixel(1, 1, image::Rgb([9, 8, 7])))).unwrap();
    assert_eq!(one.cells(&Crop::Whole, 30, 20).unwrap(), vec![Rgb([9, 8, 7]); 600]);
}

#[test]
fn shape_comes_from_the_part_that_is_used() {
    let picture = decoded(&png(harbour(400, 300))).unwrap();
    assert_eq!(picture.size(&Crop::Centre), Ok((400, 300)));
    assert_eq!(picture.aspect(&Crop::Whole), Ok((4, 3)));
    assert_eq!(picture.aspect(&Crop::Region { x: 10, y: 20, w: 160, h: 90 }), Ok((16, 9)));
}

#[test]
fn a_region_must_lie_inside() {
    let picture = columns();
    let region = |x, y, w, h| Crop::Region { x, y, w, h };
    for inside in [region(0, 0, 4, 2), region(3, 1, 1, 1)] {
        assert!(picture.cells(&inside, 2, 2).is_ok(), "{inside}");
        assert!(picture.mask(&inside, 2, 2).is_ok(), "{inside}");
    }
    for outside in
        [region(0, 0, 5, 2), region(4, 0, 1, 1), region(1, 1, 1, 2), region(u32::MAX, 0, 2, 1), region(0, 0, 0, 1)]
    {
        let error = PictureError::Outside { crop: outside, width: 4, height: 2 };
        assert_eq!(picture.cells(&outside, 2, 2), Err(error.clone()));
        assert_eq!(picture.mask(&outside, 2, 2), Err(error.clone()));
        assert_eq!(picture.size(&outside), Err(error));
    }
}

#[test]
fn an_empty_or_endless_grid_is_refused() {
    let picture = columns();
    for (columns, rows) in [(0, 5), (5, 0), (u32::MAX, u32::MAX), (1025, 1024)] {
        assert!(matches!(picture.cells(&Crop::Centre, columns, rows), Err(PictureError::Cells { .. })));
        assert!(matches!(picture.mask(&Crop::Centre, columns, rows), Err(PictureError::Cells { .. })));
    }
    assert_eq!(picture.cells(&Crop::Centre, 1024, 1024).map(|cells| cells.len()), Ok(1024 * 1024));
}

#[test]
fn threads_change_nothing() {
    let picture = decoded(&png(harbour(301, 203))).unwrap();
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| (picture.cells(&Crop::Centre, 72, 54), picture.mask(&Crop::Whole, 72, 54)))
    };
    assert_eq!(with(1), with(5));
}

/// Overlap of two stretches.
fn overlap(one: (f64, f64), other: (f64, f64)) -> f64 {
    (one.1.min(other.1) - one.0.max(other.0)).max(0.0)
}

/// The slow, plain way: every pixel, drawn out at the edges, against the cell.
fn plainly(image: &RgbaImage, crop: Crop, columns: u32, rows: u32) -> Vec<[f64; 4]> {
    let (width, height) = (f64::from(image.width()), f64::from(image.height()));
    let (across, down) = (width / f64::from(columns), height / f64::from(rows));
    let side = if crop == Crop::Whole { across.max(down) } else { across.min(down) };
    let left = (width - side * f64::from(columns)) / 2.0;
    let top = (height - side * f64::from(rows)) / 2.0;
    let stretch = |index: u32, length: u32| {
        let from = if index == 0 { -1e6 } else { f64::from(index) };
        (from, if index + 1 == length { 1e6 } else { f64::from(index + 1) })
    };
    let cell = |column: u32, row: u32| {
        let (x, y) = (left + side * f64::from(column), top + side * f64::from(row));
        let mut sums = [0.0; 4];
        for (px, py, pixel) in image.enumerate_pixels() {
            let [r, g, b, alpha] = pixel.0;
            let share = overlap((x, x + side), stretch(px, image.width()))
                * overlap((y, y + side), stretch(py, image.height()))
                * f64::from(alpha);
            let light = Rgb([r, g, b]).linear();
            [light[0], light[1], light[2], 1.0].iter().zip(&mut sums).for_each(|(value, sum)| *sum += value * share);
        }
        sums
    };
    (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row))).map(|(x, y)| cell(x, y)).collect()
}

proptest! {
    #[test]
    fn equals_the_slow_plain_way(
        (width, height) in (1_u32..9, 1_u32..9),
        (columns, rows) in (1_u32..9, 1_u32..9),
        whole: bool,
        seed in proptest::collection::vec(any::<u8>(), 64 * 4),
    ) {
        let mut image = RgbaImage::from_raw(width, height, seed[..usize::try_from(width * height * 4).unwrap()].to_vec()).unwrap();
        image.pixels_mut().for_each(|pixel| pixel.0[3] = pixel.0[3].max(1));
        let crop = if whole { Crop::Whole } else { Crop::Centre };
        let picture = decoded(&png(image.clone())).unwrap();
        let cells = picture.cells(&crop, columns, rows).unwrap();
        for (found, [r, g, b, alpha]) in cells.into_iter().zip(plainly(&image, crop, columns, rows)) {
            let expected = Rgb::from_linear([r / alpha, g / alpha, b / alpha]);
            prop_assert!(apart(found, expected) <= 1, "{found} {expected}");
        }
    }
}

#[test]
fn in_fewer_pixels_cells_are_the_same_within_a_step() {
    // More than one strip, and a pixel that is left off.
    let whole = decoded(&png(harbour(2401, 1801))).unwrap();
    let (bytes, size) = whole.reduced(1000).unwrap();
    assert_eq!(size, [800, 600]);
    let fewer = decoded(&bytes).unwrap();
    assert_eq!([fewer.width(), fewer.height()], size);
    let [before, after] = [&whole, &fewer].map(|picture| picture.cells(&Crop::Whole, 80, 60).unwrap());
    let most = before.iter().zip(&after).map(|(&one, &other)| apart(one, other)).max();
    assert!(most <= Some(1), "{most:?}");
    assert_eq!(fewer.reduced(1000).unwrap(), (bytes, size), "what is small enough stays as it is");
}
