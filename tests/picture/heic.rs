//! HEIC as phones write it; `tests/data/heic/SOURCES.md` says what the files are.

use image::ImageEncoder;
use image::codecs::png::PngEncoder;
use moxcms::ColorProfile;
use rowscape::picture::hush_contained_panics;

use super::*;

const FOLDER: &str = "tests/data/heic";

fn file(name: &str) -> Vec<u8> {
    std::fs::read(format!("{FOLDER}/{name}.heic")).unwrap()
}

fn sketch() -> Vec<u8> {
    std::fs::read("sample-sketches/lighthouse-dusk.png").unwrap()
}

/// The cells of the sketch's own pixels.
fn cells(bytes: &[u8]) -> Vec<Rgb> {
    decoded(bytes).unwrap().cells(&Crop::Centre, 60, 80).unwrap()
}

fn worst(one: &[Rgb], other: &[Rgb]) -> u8 {
    assert_eq!(one.len(), other.len());
    one.iter().zip(other).map(|(&one, &other)| apart(one, other)).max().unwrap()
}

#[test]
fn gives_the_cells_of_the_same_picture_as_png() {
    let known = cells(&sketch());
    for name in ["plain", "turned-90", "turned-180", "turned-270", "mirrored", "tiles", "ten-bit"] {
        let picture = decoded(&file(name)).unwrap();
        assert!(picture.notes().is_empty() && picture.height() * 3 == picture.width() * 4, "{name}");
        assert!(worst(&cells(&file(name)), &known) <= 1, "{name}");
    }
    let lossy = cells(&file("phone-420"));
    let off: Vec<u32> = lossy.iter().zip(&known).map(|(&one, &other)| u32::from(apart(one, other))).collect();
    assert!(off.iter().sum::<u32>() <= 3 * off.len() as u32, "{}", off.iter().sum::<u32>());
}

#[test]
fn a_profile_or_its_codes_become_srgb() {
    let pixels = image::load_from_memory(&sketch()).unwrap().into_rgb8();
    let mut same = Vec::new();
    let mut encoder = PngEncoder::new(&mut same);
    encoder.set_icc_profile(ColorProfile::new_display_p3().encode().unwrap()).unwrap();
    encoder.write_image(&pixels, 60, 80, image::ExtendedColorType::Rgb8).unwrap();
    let known = cells(&same);
    assert!(worst(&known, &cells(&sketch())) > 20, "the profile changes colours");
    for name in ["display-p3", "p3-by-codes"] {
        assert!(decoded(&file(name)).unwrap().notes().is_empty());
        assert!(worst(&cells(&file(name)), &known) <= 1, "{name}");
    }
}

#[test]
fn greys_and_half_hidden_colours_are_as_in_png() {
    let pixels = image::load_from_memory(&sketch()).unwrap();
    let known: Vec<Rgb> = pixels.to_rgb8().pixels().map(|p| Rgb(p.0)).collect();
    // ITU-R BT.601, 2.5.1.
    let grey = |Rgb([r, g, b]): Rgb| 0.299 * f64::from(r) + 0.587 * f64::from(g) + 0.114 * f64::from(b);
    for (found, known) in cells(&file("grey")).into_iter().zip(known) {
        assert!(found.0.iter().all(|&level| (f64::from(level) - grey(known)).abs() <= 1.5), "{found} {known}");
    }
    assert!(worst(&cells(&file("alpha")), &cells(&sketch())) <= 1, "no white shows through where no pixel is clear");
}

#[test]
fn is_refused_by_its_size_before_it_is_decoded() {
    let bytes = file("tiles");
    let limits = |side, pixels, bytes| Limits { side, pixels, bytes };
    let refused = |limits: Limits| Picture::decode(&bytes, &limits).err();
    assert_eq!(refused(limits(240, 43_200, 1 << 20)), None);
    assert!(matches!(refused(limits(239, 43_200, 1 << 20)), Some(PictureError::TooLong { .. })));
    assert!(matches!(refused(limits(240, 43_199, 1 << 20)), Some(PictureError::TooMany { .. })));
    assert_eq!(refused(limits(240, 43_200, 43_200 * 12)), Some(PictureError::TooHeavy("HEIC")));
}

#[test]
fn one_cut_short_or_with_a_byte_changed_ends_in_words() {
    hush_contained_panics();
    for name in ["plain", "turned-90", "phone-420"] {
        let bytes = file(name);
        for length in (12..bytes.len()).step_by(bytes.len() / 150).chain(bytes.len() - 12..bytes.len()) {
            assert!(decoded(&bytes[..length]).is_err(), "{name} {length}");
        }
        for at in (0..bytes.len()).step_by(bytes.len() / 150) {
            let mut changed = bytes.clone();
            changed[at] ^= 0x5a;
            if let Err(error) = decoded(&changed) {
                assert!(error.to_string().contains(':'), "{error}");
            }
        }
    }
}
