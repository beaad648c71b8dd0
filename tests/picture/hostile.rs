//! Empty, cut, wrong, huge and random files end in an error, never a panic.

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, ImageFormat, Rgba, RgbaImage};
use proptest::prelude::*;
use rowscape::picture::hush_contained_panics;

use super::*;

#[test]
fn each_wrong_file_is_told_by_name() {
    let cases: [(&[u8], &str); 14] = [
        (b"", "the file is empty"),
        (b"%PDF-1.7\n...", "this is a PDF document"),
        (b"<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"/>", "this is an SVG drawing"),
        (b"<!DOCTYPE html><html></html>", "this is a web page"),
        (b"PK\x03\x04rest", "this is a packed folder"),
        (b"Raffle quilt, 60 x 80 in\r\n", "this is a text file"),
        ("na\u{ef}ve".as_bytes(), "this is a text file"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "the HEIC file is cut short"),
        (b"\0\0\0\x18ftypmif1\0\0\0\0mif1heix", "the HEIC file is cut short"),
        (b"\0\0\0\x1cftypmif1\0\0\0\0mif1avifmiaf", "AVIF format"),
        (b"\0\0\0\x18ftypavif", "AVIF format"),
        (b"\0\0\0\x18ftypisom\0\0\0\0isommp42", "this is a film"),
        (b"qoif\0\0\0\x01\0\0\0\x01\x03\0", "not a picture that can be read"),
        (&[0x80, 0x00, 0xfe, 0x01], "not a picture that can be read"),
    ];
    for (bytes, words) in cases {
        let error = decoded(bytes).unwrap_err().to_string();
        assert!(error.contains(words), "{words}: {error}");
        assert!(error.contains(':') && !error.ends_with('.'), "says what to do next: {error}");
    }
    let phone = decoded(b"\0\0\0\x18ftypavif").unwrap_err().to_string();
    assert!(phone.contains("share or export it as JPEG"), "{phone}");
}

#[test]
fn a_file_cut_short_is_told_at_any_length() {
    hush_contained_panics();
    let source = harbour(61, 47);
    for format in FORMATS {
        let bytes = written(&source.clone().into(), format);
        for length in (1..bytes.len() - 8).step_by(bytes.len() / 300 + 1).chain(bytes.len() - 64..bytes.len() - 20) {
            let error = decoded(&bytes[..length]).expect_err(&format!("{format:?} {length} of {}", bytes.len()));
            let told = matches!(error, PictureError::Broken(_) | PictureError::Unknown | PictureError::Other(_));
            assert!(told || length < 64, "{format:?} {length}: {error}");
        }
    }
}

/// Formats that can lose their last bytes and still show their first picture.
#[test]
fn a_file_that_lacks_its_last_byte_is_told() {
    hush_contained_panics();
    let mut film = Vec::new();
    let frame = |_| image::Frame::new(image::DynamicImage::from(harbour(40, 30)).into_rgba8());
    let mut encoder = image::codecs::gif::GifEncoder::new(&mut film);
    encoder.encode_frames((0..3).map(frame)).unwrap();
    drop(encoder);
    let mut cases: Vec<(&str, Vec<u8>)> = [
        ("PNG", ImageFormat::Png),
        ("JPEG", ImageFormat::Jpeg),
        ("WebP", ImageFormat::WebP),
        ("GIF", ImageFormat::Gif),
    ]
    .map(|(name, format)| (name, written(&harbour(61, 47).into(), format)))
    .into();
    cases.push(("GIF", film));
    cases.push(("TIFF", tiff_data_last(&[90; 40 * 30])));
    for (name, bytes) in cases {
        assert!(decoded(&bytes).is_ok(), "{name} whole");
        let from = if bytes.starts_with(b"GIF") { bytes.len() / 2 } else { bytes.len() - 12 };
        for length in from..bytes.len() {
            assert_eq!(decoded(&bytes[..length]), Err(PictureError::Broken(name)), "{length} of {}", bytes.len());
        }
    }
}

/// A grey TIFF of 40 x 30 whose pixels, packed without loss by bytes that stand for themselves, come last.
fn tiff_data_last(pixels: &[u8]) -> Vec<u8> {
    let packed: Vec<u8> = pixels.chunks(40).flat_map(|row| [&[39_u8][..], row].concat()).collect();
    let length = u32::try_from(packed.len()).unwrap();
    // Width, height, bits, PackBits, black is 0, offset, samples, rows a strip, length.
    let tags: [(u16, u32); 9] = [
        (256, 40),
        (257, 30),
        (258, 8),
        (259, 32_773),
        (262, 1),
        (273, 8 + 2 + 9 * 12 + 4),
        (277, 1),
        (278, 30),
        (279, length),
    ];
    let mut bytes = b"II*\0\x08\0\0\0\x09\0".to_vec();
    for (tag, value) in tags {
        bytes.extend(
            [&tag.to_le_bytes()[..], &4_u16.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat(),
        );
    }
    bytes.extend([0; 4]);
    bytes.extend(packed);
    bytes
}

/// A PNG of one grey row less than it claims, with honest checksums.
fn png_claiming(width: u32, height: u32) -> Vec<u8> {
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
    let mut bytes = b"\x89PNG\r\n\x1a\n".to_vec();
    for (name, data) in [(b"IHDR", &header[..]), (b"IDAT", &[0x78, 0x9c, 0x03, 0, 0, 0, 0, 1]), (b"IEND", &[])] {
        let body = [&name[..], data].concat();
        bytes.extend(u32::try_from(data.len()).unwrap().to_be_bytes());
        bytes.extend(&body);
        bytes.extend(checksum(&body).to_be_bytes());
    }
    bytes
}

/// CRC-32 as in the PNG specification, annex D.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 })
    })
}

#[test]
fn twenty_thousand_pixels_a_side_are_refused() {
    let bytes = png_claiming(20_000, 20_000);
    let expected = PictureError::TooLong { width: 20_000, height: 20_000, most: 12_000 };
    assert_eq!(decoded(&bytes), Err(expected.clone()));
    assert_eq!(decoded(&bytes[..33]), Err(expected.clone()), "the header alone");
    let words = expected.to_string();
    assert!(words.contains("20000 x 20000 px") && words.contains("scale it down"), "{words}");
    let mut bmp = written(&harbour(4, 4).into(), ImageFormat::Bmp);
    bmp[18..22].copy_from_slice(&20_000_u32.to_le_bytes());
    bmp[22..26].copy_from_slice(&20_000_u32.to_le_bytes());
    assert_eq!(decoded(&bmp), Err(expected));
}

#[test]
fn limits_refuse_and_permit() {
    let bytes = png(harbour(120, 80));
    let limits = |side, pixels, bytes| Limits { side, pixels, bytes };
    let with = |limits: Limits| Picture::decode(&bytes, &limits).map(|picture| picture.width());
    let roomy = 1 << 20;
    assert_eq!(with(limits(120, 9_600, roomy)), Ok(120));
    assert_eq!(with(limits(119, 9_600, roomy)), Err(PictureError::TooLong { width: 120, height: 80, most: 119 }));
    assert_eq!(with(limits(120, 9_599, roomy)), Err(PictureError::TooMany { width: 120, height: 80, most: 9_599 }));
    assert_eq!(with(limits(120, 9_600, 28_799)), Err(PictureError::TooHeavy("PNG")));
    let many = decoded(&png_claiming(11_000, 10_000)).unwrap_err();
    assert_eq!(many, PictureError::TooMany { width: 11_000, height: 10_000, most: 100_000_000 });
    assert!(many.to_string().contains("at most 100 million px in all"), "{many}");
    assert_eq!(
        decoded(&png_claiming(12_000, 1)),
        Err(PictureError::Broken("PNG")),
        "short of pixels, yet not too long"
    );
}

#[test]
fn a_small_file_does_not_grow_past_the_limit() {
    let bomb = png(RgbaImage::from_pixel(2_000, 2_000, Rgba([1, 2, 3, 255])));
    assert!(bomb.len() < 200_000);
    let limits = |bytes| Limits { bytes, ..Limits::default() };
    assert_eq!(Picture::decode(&bomb, &limits(1 << 20)), Err(PictureError::TooHeavy("PNG")));
    assert!(Picture::decode(&bomb, &limits(1 << 25)).is_ok());
}

#[test]
fn a_profile_that_unpacks_without_end_is_harmless() {
    let mut bytes = Vec::new();
    let mut encoder = PngEncoder::new(&mut bytes);
    encoder.set_icc_profile(vec![0; 32 << 20]).unwrap();
    encoder.write_image(&[9, 8, 7], 1, 1, ExtendedColorType::Rgb8).unwrap();
    assert!(bytes.len() < 200_000);
    let limits = Limits { bytes: 1 << 20, ..Limits::default() };
    let outcome = Picture::decode(&bytes, &limits).map(|picture| pixels(&picture));
    assert!(matches!(outcome, Err(PictureError::TooHeavy(_))) || outcome == Ok(vec![Rgb([9, 8, 7])]), "{outcome:?}");
}

#[test]
fn one_pixel_and_one_colour() {
    for format in FORMATS {
        for (width, height) in [(1, 1), (1, 50), (50, 1)] {
            let image = RgbImage::from_pixel(width, height, image::Rgb([120, 120, 120]));
            let picture = decoded(&written(&image.into(), format)).unwrap();
            let cells = picture.cells(&Crop::Centre, 7, 5).unwrap();
            assert!(cells.iter().all(|cell| apart(*cell, Rgb([120; 3])) <= 2), "{format:?} {cells:?}");
        }
    }
}

#[test]
fn floating_samples_are_bounded() {
    hush_contained_panics();
    let tiff = |sample| {
        let image = image::Rgb32FImage::from_pixel(2, 2, image::Rgb([sample, 0.0, 1.0]));
        decoded(&written(&image.into(), ImageFormat::Tiff)).map(|picture| pixels(&picture)[0])
    };
    assert_eq!(tiff(1e30), Ok(Rgb([255, 0, 255])));
    assert_eq!(tiff(-4.0), Ok(Rgb([0, 0, 255])));
    for odd in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
        let outcome = tiff(odd);
        let blue = outcome.clone().is_ok_and(|colour| colour.0[1..] == [0, 255]);
        assert!(blue || outcome == Err(PictureError::Broken("TIFF")), "{odd} {outcome:?}");
    }
}

/// Reads it, and where it can be read takes cells and a mask from it.
fn survives(bytes: &[u8]) {
    let limits = Limits { side: 500, pixels: 100_000, bytes: 1 << 22 };
    if let Ok(picture) = Picture::decode(bytes, &limits) {
        let _ = picture.cells(&Crop::Whole, 5, 4);
        assert_eq!(picture.mask(&Crop::Centre, 5, 4).map(|mask| mask.len()), Ok(20));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_500))]

    #[test]
    fn random_bytes_never_panic(start in 0_usize..9, tail in proptest::collection::vec(any::<u8>(), 0..400)) {
        hush_contained_panics();
        let starts: [&[u8]; 9] =
            [b"", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF89a", b"II*\0", b"MM\0*", b"BM", b"RIFF\0\0\0\0WEBP", b"\0\0\0\x18ftyp"];
        survives(&[starts[start], &tail].concat());
    }

    #[test]
    fn mutated_files_never_panic(
        format in 0_usize..6,
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
        near_the_start: bool,
    ) {
        hush_contained_panics();
        let mut bytes = written(&harbour(33, 21).into(), FORMATS[format]);
        let reach = if near_the_start { bytes.len().min(160) } else { bytes.len() };
        changes.iter().for_each(|(place, value)| bytes[place.index(reach)] = *value);
        survives(&bytes);
    }

    #[test]
    fn mutated_profiles_never_panic(changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12)) {
        hush_contained_panics();
        let mut profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
        changes.iter().for_each(|(place, value)| { let place = place.index(profile.len()); profile[place] = *value });
        let mut bytes = Vec::new();
        let mut encoder = PngEncoder::new(&mut bytes);
        encoder.set_icc_profile(profile).unwrap();
        encoder.write_image(&[200, 100, 50], 1, 1, ExtendedColorType::Rgb8).unwrap();
        survives(&bytes);
    }
}
