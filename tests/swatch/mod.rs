//! Prints found in photos of packs, rendered from published reflectances.
//!
//! `ROWSCAPE_PHOTOS=all cargo test --test all swatch::table -- --nocapture` prints the whole table.

mod cloth;
mod packs;
mod photo;

use rowscape::fabric::{Rgb, Stash, Thumbnail, ciede2000};
use rowscape::job::{Amount, Gathered, Gathering, Pack, stash_of, swatches};
use rowscape::swatch::{Amid, Asked, Doubt, Neutral, Point, Swatch, twice};

use cloth::{Dice, Under};
use packs::{Tally, asked, matched, pack, tally};
use photo::{Lie, Photo, of_cloths, photo};

/// A photo of a pack whose sheet of paper lies at so many pixels from the left.
pub fn pack_beside_paper(x: f64) -> Vec<u8> {
    let near = |photo: &Photo| (photo.paper.x * photo::WIDE as f64 - x).abs() < 40.0;
    (1..99).map(|seed| pack(seed, Lie::Apart, Under::Daylight)).find(near).expect("one of them").jpeg
}

/// How packs of each sort are found, and how far their colours are.
#[test]
fn table() {
    let all = std::env::var_os("ROWSCAPE_PHOTOS").is_some();
    let seeds = if all { 1..6 } else { 1..2 };
    println!(
        "from 2 m: the mean under a Gaussian of at most {:.1} mm, thrice what melts together",
        3.0 * packs::FROM_AFAR
    );
    let mut all_of = Tally::default();
    for lie in Lie::ALL {
        let mut lies = Tally::default();
        for under in [Under::Daylight, Under::Lamp] {
            let mut tallies = [Tally::default(), Tally::default()];
            for seed in seeds.clone() {
                let photo = pack(seed * 100 + lie as u64 * 10 + under as u64, lie, under);
                tallies[0].add(tally(&photo, true));
                tallies[1].add(tally(&photo, false));
            }
            println!("{:<9} {:<9} paper  {}", format!("{lie:?}"), format!("{under:?}"), tallies[0].line());
            println!("{:<9} {:<9} none   {}", "", "", tallies[1].line());
            lies.add(tallies[0].clone());
        }
        assert!(lies.found * 100 >= lies.laid * 95, "{lie:?} {}", lies.line());
        all_of.add(lies);
    }
    println!("all, paper:       {}", all_of.line());
    assert!(Tally::middling(&all_of.off) <= 3.0, "{}", all_of.line());
    assert!(Tally::middling(&all_of.busy) <= 4.0, "{}", all_of.line());
}

fn one() -> Photo {
    photo(7, Lie::Apart, Under::Daylight, 20)
}

fn found(photo: &Photo, asked: &Asked) -> Vec<Swatch> {
    swatches(&photo.jpeg, asked).unwrap().swatches
}

#[test]
fn the_same_photo_gives_the_same_swatches_on_one_thread() {
    let photo = one();
    let first = found(&photo, &asked(&photo, true));
    let alone = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    assert_eq!(alone.install(|| found(&photo, &asked(&photo, true))), first);
    assert!(first.iter().all(|swatch| Thumbnail::read(&swatch.thumbnail).is_ok()));
}

#[test]
fn taps_boxes_merges_and_what_is_taken_away_are_heeded() {
    let photo = one();
    let plain = asked(&photo, true);
    let all = found(&photo, &plain);
    let middle = |swatch: &Swatch| {
        let count = swatch.outline.len() as f64;
        let sum = swatch.outline.iter().fold([0.0, 0.0], |[x, y], point| [x + point.x, y + point.y]);
        Point { x: sum[0] / count, y: sum[1] / count }
    };
    let (one, two) = (middle(&all[0]), middle(&all[1]));
    let fewer = found(&photo, &Asked { without: vec![one], ..plain.clone() });
    assert_eq!(fewer.len(), all.len() - 1);
    let merged = found(&photo, &Asked { merges: vec![[one, two]], ..plain.clone() });
    assert_eq!(merged.len(), all.len() - 1);
    let small =
        Amid { from: Point { x: one.x - 0.01, y: one.y - 0.01 }, to: Point { x: one.x + 0.01, y: one.y + 0.01 } };
    let only = Asked { boxes: vec![small], taps: vec![two], only_given: true, ..plain.clone() };
    let given = found(&photo, &only);
    assert_eq!(given.len(), 2);
    let near = |swatch: &Swatch, other: &Swatch| ciede2000(swatch.colour, other.colour);
    assert!(given.iter().all(|swatch| near(swatch, &all[0]).min(near(swatch, &all[1])) < 8.0));
}

#[test]
fn without_paper_it_says_so_and_is_less_certain() {
    let photo = one();
    let mean = |swatches: &[Swatch]| swatches.iter().map(|s| s.certainty).sum::<f64>() / swatches.len() as f64;
    let (with, without) = (found(&photo, &asked(&photo, true)), found(&photo, &Asked::default()));
    assert!(mean(&with) > mean(&without) + 0.2);
    assert!(without.iter().all(|swatch| swatch.doubts.contains(&Doubt::NoPaper)));
    assert!(with.iter().all(|swatch| !swatch.doubts.contains(&Doubt::NoPaper)));
}

/// The same prints in two photos, in other light and in another order.
#[test]
fn a_fabric_seen_twice_is_known_again() {
    let cloths: Vec<_> = (0..12).map(|at| cloth::Cloth::any(&mut Dice(900 + at), 99)).collect();
    let other: Vec<_> = (0..12).map(|at| cloth::Cloth::any(&mut Dice(950 + at), 99)).collect();
    let again: Vec<_> = cloths[..6].iter().rev().chain(&other[..6]).cloned().collect();
    let photos = [
        of_cloths(Dice(1), Lie::Apart, Under::Daylight, cloths),
        of_cloths(Dice(2), Lie::Apart, Under::Daylight, again),
    ];
    let seen = photos.each_ref().map(|photo| swatches(&photo.jpeg, &asked(photo, true)).unwrap());
    let place = |photo: usize, print: usize| {
        let swatch = matched(&photos[photo], &seen[photo])[print]?;
        seen[photo].swatches.iter().position(|other| other == swatch)
    };
    let twins = twice(&seen.each_ref().map(|found| found.swatches.clone()));
    let right = |twin: &rowscape::swatch::Twin| {
        (0..6).any(|print| place(0, print) == Some(twin.one[1]) && place(1, 5 - print) == Some(twin.other[1]))
    };
    let good = twins.iter().filter(|twin| right(twin)).count();
    println!("{good} of 6 known again, {} offered", twins.len());
    assert!(good >= 3 && twins.len() - good <= 1, "{good} of {}", twins.len());
}

#[test]
fn a_stash_is_gathered_with_letters_names_and_amounts() {
    let inch = rowscape::measure::Length::INCH;
    let red =
        Gathered { name: "rose".into(), amounts: vec![Amount::FatQuarters(2)], ..Gathered::new(Rgb([200, 40, 50])) };
    let strips = Amount::Strips { width: inch * 5i64 / 2i64, length: None, count: 3 };
    let blue = Gathered {
        name: "Rose".into(),
        amounts: vec![strips, Amount::FatEighths(1)],
        ..Gathered::new(Rgb([20, 40, 150]))
    };
    let free = Gathered { letter: Some("A".into()), name: "night".into(), ..Gathered::new(Rgb([20, 20, 40])) };
    let pack = Pack { size: inch * 10i64, count: 5, fabrics: vec![0, 1] };
    let text = stash_of(&Gathering { fabrics: vec![red, blue, free], packs: vec![pack] }).unwrap();
    let prints = Stash::read(&text).unwrap().prints.raw;
    assert_eq!(prints.iter().map(|p| p.letter.as_str()).collect::<Vec<_>>(), ["B", "C", "A"]);
    assert_eq!(prints[1].name, "Rose 2");
    assert_eq!(prints[0].supply.as_ref().unwrap().squares[0].count, 3);
    assert_eq!(prints[1].supply.as_ref().unwrap().oddments.len(), 2);
    assert_eq!(prints[2].supply, None);
    let twice = Gathered { letter: Some("a".into()), name: "x".into(), ..Gathered::new(Rgb([0; 3])) };
    let same = Gathering { fabrics: vec![twice.clone(), twice], packs: Vec::new() };
    assert!(stash_of(&same).unwrap_err().message().contains("stands for two fabrics"));
}

#[test]
fn pictures_of_nothing_and_places_that_are_none_end_in_words_or_in_nothing() {
    let blank = image::RgbImage::from_pixel(64, 48, image::Rgb([200, 190, 180]));
    let mut png = std::io::Cursor::new(Vec::new());
    blank.write_to(&mut png, image::ImageFormat::Png).unwrap();
    let png = png.into_inner();
    assert!(swatches(&png, &Asked::default()).unwrap().swatches.is_empty());
    assert!(swatches(b"a letter", &Asked::default()).is_err());
    let odd = Point { x: f64::NAN, y: 1e300 };
    let amid = Amid { from: odd, to: Point { x: -5.0, y: f64::INFINITY } };
    let asked = Asked {
        neutral: vec![Neutral::Paper(odd), Neutral::CardIn(amid)],
        taps: vec![odd; 3],
        boxes: vec![amid],
        merges: vec![[odd, odd]],
        without: vec![Point { x: 0.5, y: 0.5 }],
        only_given: false,
    };
    swatches(&png, &asked).unwrap();
    let dot = image::RgbImage::from_pixel(1, 1, image::Rgb([9, 9, 9]));
    let mut png = std::io::Cursor::new(Vec::new());
    dot.write_to(&mut png, image::ImageFormat::Png).unwrap();
    swatches(png.get_ref(), &asked).unwrap();
}
