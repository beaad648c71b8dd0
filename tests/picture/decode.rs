//! Formats, depths, alpha, orientation and profiles.

use image::codecs::png::PngEncoder;
use image::{DynamicImage, ExtendedColorType, ImageBuffer, ImageEncoder, ImageFormat, Luma, Rgba, RgbaImage};
use moxcms::ColorProfile;

use super::*;

#[test]
fn reads_all_six_formats() {
    let source = harbour(40, 24);
    for format in FORMATS {
        let picture = decoded(&written(&source.clone().into(), format)).unwrap();
        assert_eq!((picture.width(), picture.height()), (40, 24), "{format:?}");
        assert!(picture.notes().is_empty(), "{format:?}");
        let lossy = matches!(format, ImageFormat::Jpeg | ImageFormat::Gif);
        let off: Vec<u8> = source.pixels().zip(pixels(&picture)).map(|(from, to)| apart(Rgb(from.0), to)).collect();
        let mean = off.iter().map(|&off| u32::from(off)).sum::<u32>() / u32::try_from(off.len()).unwrap();
        assert!(if lossy { mean <= 8 } else { off.iter().all(|&off| off == 0) }, "{format:?} {mean}");
    }
}

#[test]
fn keeps_every_one_of_256_levels() {
    let ramp = RgbImage::from_fn(256, 1, |x, _| image::Rgb([u8::try_from(x).unwrap(), 0, 255]));
    let expected: Vec<Rgb> = ramp.pixels().map(|pixel| Rgb(pixel.0)).collect();
    assert_eq!(pixels(&decoded(&png(ramp)).unwrap()), expected);
}

#[test]
fn reads_sixteen_bits_and_grey() {
    let deep = ImageBuffer::from_fn(3, 1, |x, _| {
        image::Rgb([0_u16, 32_896, 65_535].map(|v| v / u16::try_from(x + 1).unwrap()))
    });
    for format in [ImageFormat::Png, ImageFormat::Tiff] {
        let picture = decoded(&written(&DynamicImage::ImageRgb16(deep.clone()), format)).unwrap();
        assert_eq!(pixels(&picture), [Rgb([0, 128, 255]), Rgb([0, 64, 127]), Rgb([0, 43, 85])]);
    }
    let grey = ImageBuffer::from_fn(2, 1, |x, _| Luma([100 + u8::try_from(x).unwrap()]));
    assert_eq!(pixels(&decoded(&png(grey)).unwrap()), [Rgb([100; 3]), Rgb([101; 3])]);
    let deep_grey = ImageBuffer::from_fn(2, 1, |x, _| Luma([257 * (7 + u16::try_from(x).unwrap())]));
    assert_eq!(pixels(&decoded(&png(deep_grey)).unwrap()), [Rgb([7; 3]), Rgb([8; 3])]);
}

#[test]
fn half_hidden_colours_do_not_bleed() {
    let clear_red = Rgba([255, 0, 0, 0]);
    let blue = Rgba([0, 0, 255, 255]);
    let image = RgbaImage::from_fn(4, 2, |x, _| if x == 0 { blue } else { clear_red });
    let picture = decoded(&png(image)).unwrap();
    let cells = picture.cells(&Crop::Centre, 2, 1).unwrap();
    assert_eq!(cells, [Rgb([0, 0, 255]), Rgb([255; 3])], "the hidden half is white");
    let faint = RgbaImage::from_pixel(2, 2, Rgba([10, 20, 30, 1]));
    assert_eq!(decoded(&png(faint)).unwrap().cells(&Crop::Centre, 1, 1).unwrap(), [Rgb([10, 20, 30])]);
}

#[test]
fn nothing_to_see_is_an_error() {
    let clear = RgbaImage::from_pixel(3, 3, Rgba([255, 0, 0, 0]));
    assert_eq!(decoded(&png(clear)), Err(PictureError::Hidden));
    let corner = RgbaImage::from_fn(4, 4, |x, y| Rgba([9, 9, 9, if x + y == 0 { 255 } else { 0 }]));
    let picture = decoded(&png(corner)).unwrap();
    assert_eq!(picture.cells(&Crop::Region { x: 2, y: 2, w: 2, h: 2 }, 2, 2), Err(PictureError::Hidden));
}

/// A TIFF block with tag 274 alone (Exif 2.32, table 4, Orientation).
fn exif(orientation: u8) -> Vec<u8> {
    let mut block = b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    block.extend([orientation, 0, 0, 0, 0, 0, 0, 0]);
    block
}

fn jpeg_with_exif(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let block = [b"Exif\0\0".to_vec(), exif(orientation)].concat();
    let length = u16::try_from(block.len() + 2).unwrap().to_be_bytes();
    [&jpeg[..2], &[0xff, 0xe1], &length, &block, &jpeg[2..]].concat()
}

fn png_with_exif(image: &RgbImage, orientation: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = PngEncoder::new(&mut bytes);
    encoder.set_exif_metadata(exif(orientation)).unwrap();
    encoder.write_image(image, image.width(), image.height(), ExtendedColorType::Rgb8).unwrap();
    bytes
}

/// Where the stored pixel belongs: which sides the 0th row and column are (Exif 2.32, 4.6.4 A).
fn upright(orientation: u8, column: u32, row: u32, columns: u32, rows: u32) -> (u32, u32) {
    let (right, bottom) = (columns - 1 - column, rows - 1 - row);
    match orientation {
        1 => (column, row),
        2 => (right, row),
        3 => (right, bottom),
        4 => (column, bottom),
        5 => (row, column),
        6 => (bottom, column),
        7 => (bottom, right),
        8 => (row, right),
        _ => panic!("there are eight"),
    }
}

#[test]
fn turns_upright_by_all_eight_orientations() {
    let block = 16;
    let colours = [[250, 10, 10], [10, 250, 10], [10, 10, 250], [250, 250, 10], [10, 10, 10], [245, 245, 245]];
    let colour = |column, row| image::Rgb(colours[usize::try_from(row * 3 + column).unwrap()]);
    let image = RgbImage::from_fn(3 * block, 2 * block, |x, y| colour(x / block, y / block));
    let jpeg = written(&image.clone().into(), ImageFormat::Jpeg);
    for orientation in 1..=8 {
        for bytes in [jpeg_with_exif(&jpeg, orientation), png_with_exif(&image, orientation)] {
            let picture = decoded(&bytes).unwrap();
            let (across, down) = if orientation < 5 { (3, 2) } else { (2, 3) };
            assert_eq!((picture.width(), picture.height()), (across * block, down * block));
            let cells = picture.cells(&Crop::Centre, across, down).unwrap();
            for (column, row) in (0..3).flat_map(|column| (0..2).map(move |row| (column, row))) {
                let (x, y) = upright(orientation, column, row, 3, 2);
                let found = cells[usize::try_from(y * across + x).unwrap()];
                assert!(apart(found, Rgb(colour(column, row).0)) < 30, "{orientation}: {column} {row} {found}");
            }
        }
    }
}

fn png_with_profile(samples: &[u8], width: u32, kind: ExtendedColorType, profile: Vec<u8>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = PngEncoder::new(&mut bytes);
    encoder.set_icc_profile(profile).unwrap();
    encoder.write_image(samples, width, 1, kind).unwrap();
    bytes
}

/// Display P3 and its sRGB, by the primaries of SMPTE EG 432-1 and IEC 61966-2-1.
const P3: [([u8; 3], [u8; 3]); 6] = [
    ([234, 51, 35], [255, 0, 0]),
    ([200, 100, 50], [215, 93, 31]),
    ([100, 150, 200], [83, 152, 205]),
    ([60, 120, 70], [30, 122, 64]),
    ([128, 128, 128], [128, 128, 128]),
    ([255, 255, 255], [255, 255, 255]),
];

#[test]
fn display_p3_becomes_srgb_in_8_and_16_bits() {
    let profile = ColorProfile::new_display_p3().encode().unwrap();
    let shallow: Vec<u8> = P3.iter().flat_map(|(from, _)| *from).collect();
    let deep: Vec<u8> = shallow.iter().flat_map(|&level| [level, level]).collect();
    for (samples, kind) in [(shallow, ExtendedColorType::Rgb8), (deep, ExtendedColorType::Rgb16)] {
        let picture = decoded(&png_with_profile(&samples, 6, kind, profile.clone())).unwrap();
        assert!(picture.notes().is_empty());
        for ((_, expected), found) in P3.iter().zip(pixels(&picture)) {
            assert!(apart(found, Rgb(*expected)) <= 1, "{kind:?} {expected:?} {found}");
        }
    }
}

#[test]
fn an_srgb_profile_changes_nothing_to_speak_of() {
    let profile = ColorProfile::new_srgb().encode().unwrap();
    let samples: Vec<u8> = (0..=255).flat_map(|level: u8| [level, 255 - level, level / 2]).collect();
    let picture = decoded(&png_with_profile(&samples, 256, ExtendedColorType::Rgb8, profile)).unwrap();
    for (from, to) in samples.chunks(3).zip(pixels(&picture)) {
        assert!(apart(Rgb(from.try_into().unwrap()), to) <= 1, "{from:?} {to}");
    }
}

#[test]
fn grey_profiles_and_alpha() {
    let profile = ColorProfile::new_gray_with_gamma(1.0).encode().unwrap();
    // Half of full light is level 188 (IEC 61966-2-1).
    let cases: [(&[u8], ExtendedColorType); 4] = [
        (&[128, 0, 255], ExtendedColorType::L8),
        (&[128, 255, 0, 255, 255, 255], ExtendedColorType::La8),
        (&[128, 128, 0, 0, 255, 255], ExtendedColorType::L16),
        (&[128, 128, 255, 255, 0, 0, 255, 255, 255, 255, 255, 255], ExtendedColorType::La16),
    ];
    for (samples, kind) in cases {
        let picture = decoded(&png_with_profile(samples, 3, kind, profile.clone())).unwrap();
        assert!(picture.notes().is_empty(), "{kind:?}");
        let found = pixels(&picture);
        assert!(apart(found[0], Rgb([188; 3])) <= 1, "{kind:?} {}", found[0]);
        assert_eq!(found[1..], [Rgb([0; 3]), Rgb([255; 3])], "{kind:?}");
    }
    let p3 = ColorProfile::new_display_p3().encode().unwrap();
    let samples = [234, 51, 35, 0, 128, 128, 128, 255];
    let picture = decoded(&png_with_profile(&samples, 2, ExtendedColorType::Rgba8, p3)).unwrap();
    assert_eq!(pixels(&picture), [Rgb([255; 3]), Rgb([128; 3])]);
}

#[test]
fn a_profile_that_cannot_be_used_is_a_note() {
    let whole = ColorProfile::new_display_p3().encode().unwrap();
    let grey = ColorProfile::new_gray_with_gamma(2.2).encode().unwrap();
    let mut inks = whole.clone();
    inks[16..20].copy_from_slice(b"CMYK");
    let cases = [
        (b"no profile at all".to_vec(), "is damaged"),
        (whole[..whole.len() / 2].to_vec(), "is damaged"),
        (grey, "does not fit"),
        (inks, "printing inks"),
    ];
    for (profile, word) in cases {
        let bytes = png_with_profile(&[200, 100, 50], 1, ExtendedColorType::Rgb8, profile);
        let picture = decoded(&bytes).unwrap();
        assert!(picture.notes().iter().any(|note| note.contains(word)), "{word} {:?}", picture.notes());
        assert_eq!(pixels(&picture), [Rgb([200, 100, 50])]);
    }
}
