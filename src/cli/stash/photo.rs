//! `stash photo`: a stash from photos of fabrics, and a picture of what was taken.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use clap::Args;
use rowscape::fabric::{Stash, printable};
use rowscape::job::{self, Amid, Amount, Asked, Found, Gathered, Gathering, Neutral, Pack, Point, Swatch};
use rowscape::measure::Length;
use rowscape::render;

use super::file::{free, write};
use crate::cli::Failure;
use crate::cli::given::Given;
use crate::cli::read::{read_picture, stash_failure};
use crate::cli::screen::width;

const EXAMPLES: &str = "Examples:
  rowscape stash photo pack.jpg --paper 620,810 --out my-fabrics.toml --picture taken.png
  rowscape stash photo one.heic two.heic --paper 620,810 --paper 2:300,90 --pack 10in,42 --out my-fabrics.toml
  rowscape stash photo drawer.jpg --box 40,60,300,200 --only-given --fat-quarters 1 --out my-fabrics.toml

Places are pixels of the upright photo, from its upper left corner; with several photos, `2:` before them names the second.";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct PhotoArguments {
    /// The photos: JPEG, HEIC, PNG and others
    #[arg(required = true, num_args = 1..=MOST_PHOTOS)]
    pub(super) files: Vec<PathBuf>,
    /// Write the stash here, a TOML file
    #[arg(long, value_name = "FILE")]
    pub(super) out: PathBuf,
    /// Also draw what was taken, each swatch with its outline, letter, name and certainty, into this PNG file
    #[arg(long, value_name = "FILE")]
    pub(super) picture: Option<PathBuf>,
    /// A place on a sheet of white paper in the photo, by which light is evened out
    #[arg(long, value_name = "X,Y")]
    paper: Vec<Place<2>>,
    /// A place on a grey card of 18 % in the photo
    #[arg(long, value_name = "X,Y")]
    card: Vec<Place<2>>,
    /// A place on a print that is not found by itself
    #[arg(long, value_name = "X,Y")]
    tap: Vec<Place<2>>,
    /// A box inside a print: left, top, width and height; it is taken as it is
    #[arg(long = "box", value_name = "X,Y,W,H")]
    boxes: Vec<Place<4>>,
    /// Two places on swatches that are one print
    #[arg(long, value_name = "X,Y,X,Y")]
    merge: Vec<Place<4>>,
    /// A place on a swatch that is none
    #[arg(long, value_name = "X,Y")]
    without: Vec<Place<2>>,
    /// Take nothing but taps and boxes
    #[arg(long)]
    only_given: bool,
    /// A fabric that is seen in two photos is taken once
    #[arg(long)]
    once: bool,
    /// How wide each swatch is on the table, so that the scene is shown in the prints to scale
    #[arg(long, value_name = "LENGTH")]
    swatch_width: Option<Length>,
    /// A pack of squares shared out among all the prints: their side, and how many
    #[arg(long, value_name = "SIZE,COUNT")]
    pack: Vec<Sized>,
    /// Squares of each print: their side, and how many
    #[arg(long, value_name = "SIZE,COUNT")]
    squares: Vec<Sized>,
    /// Fat quarters of each print, 18 by 22 in
    #[arg(long, value_name = "COUNT")]
    fat_quarters: Option<u32>,
    /// A length of each print
    #[arg(long, value_name = "LENGTH")]
    length: Option<Length>,
    /// Write over files that are there
    #[arg(long)]
    replace: bool,
}

/// Most photos at a time.
const MOST_PHOTOS: usize = 20;

/// Numbers in pixels, and which photo they are of, from 0.
#[derive(Clone, Copy)]
struct Place<const N: usize> {
    photo: usize,
    pixels: [u32; N],
}

impl<const N: usize> FromStr for Place<N> {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let whole = |text: &str| text.trim().parse::<u32>().ok().filter(|_| !text.contains('+'));
        let read = || {
            let (photo, rest) = text.split_once(':').map_or(Some((1, text)), |(n, rest)| Some((whole(n)?, rest)))?;
            let pixels: Vec<u32> = rest.split(',').map(whole).collect::<Option<_>>()?;
            let pixels = pixels.try_into().ok()?;
            (1..=MOST_PHOTOS as u32).contains(&photo).then_some(Self { photo: photo as usize - 1, pixels })
        };
        let example = if N == 2 { "`620,810`" } else { "`40,60,300,200`" };
        read().ok_or_else(|| {
            format!("write {N} whole numbers of pixels as {example}, with `2:` before them for the second photo")
        })
    }
}

/// Squares of a size.
#[derive(Clone, Copy)]
struct Sized {
    size: Length,
    count: u32,
}

impl FromStr for Sized {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let read = || {
            let (size, count) = text.rsplit_once(',')?;
            Some(Self { size: size.parse().ok()?, count: count.trim().parse().ok()? })
        };
        read().ok_or_else(|| "write the side and how many, as `10in,42`".into())
    }
}

pub fn run(arguments: &PhotoArguments) -> Result<String, Failure> {
    let (files, out) = (&arguments.files, &arguments.out);
    for target in std::iter::once(out).chain(&arguments.picture) {
        files.iter().try_for_each(|file| free(target, arguments.replace, file))?;
    }
    if arguments.picture.as_ref() == Some(out) {
        return Err(Failure::at(out, "cannot be both the stash and the picture").hint("give --picture another name"));
    }
    arguments.photos_are_there()?;
    let bytes = files.iter().map(|file| read_picture(file)).collect::<Result<Vec<_>, _>>()?;
    let found = |(at, (file, bytes)): (usize, (&PathBuf, &Vec<u8>))| {
        let failed = |error| Given { picture: Some(file), ..Given::default() }.failure(error);
        job::swatches_by_size(bytes, |size| arguments.asked(at, size)).map_err(failed)
    };
    let photos = files.iter().zip(&bytes).enumerate().map(found).collect::<Result<Vec<Found>, Failure>>()?;
    if photos.iter().all(|photo| photo.swatches.is_empty()) {
        let failure = Failure::at(&files[0], "shows no print that can be told from the table");
        return Err(failure.hint("name places on the prints with --tap X,Y, or boxes inside them with --box X,Y,W,H"));
    }
    let swatches: Vec<Vec<Swatch>> = photos.into_iter().map(|photo| photo.swatches).collect();
    let twins = job::twice(&swatches);
    let again = |at: [usize; 2]| arguments.once && twins.iter().any(|twin| twin.other == at);
    let places = || {
        let each = swatches.iter().enumerate();
        each.flat_map(|(photo, of)| of.iter().enumerate().map(move |(at, swatch)| ([photo, at], swatch)))
    };
    let taken: Vec<([usize; 2], &Swatch)> = places().filter(|(at, _)| !again(*at)).collect();
    let text = job::stash_of(&arguments.gathering(&taken)).map_err(|error| stash_failure(out, "", &error))?;
    let stash = Stash::read(&text).map_err(|error| stash_failure(out, &text, &error))?;
    let prints = &stash.prints.raw;
    let picture = arguments.picture.as_ref().map(|_| {
        let mut photos: Vec<job::Shown> = Vec::new();
        for (photo, of) in swatches.iter().enumerate() {
            let print = |at: usize| taken.iter().position(|(place, _)| *place == [photo, at]).map(|at| &prints[at]);
            let shown = of.iter().enumerate().map(|(at, swatch)| (swatch, print(at))).collect();
            photos.push((bytes[photo].as_slice(), shown));
        }
        job::taken_png(&photos).map_err(|error| Given::default().failure(error))
    });
    let picture = picture.transpose()?;
    write(out, text.as_bytes())?;
    let mut account = format!("{}\n", names(files));
    let rows: Vec<(&Swatch, &rowscape::fabric::Fabric)> = taken.iter().map(|(_, swatch)| *swatch).zip(prints).collect();
    account += &render::swatches_account(&rows, width());
    for twin in twins.iter().filter(|_| !arguments.once) {
        let letter = |at: [usize; 2]| taken.iter().position(|(place, _)| *place == at).map(|at| &prints[at].letter);
        if let (Some(one), Some(other)) = (letter(twin.one), letter(twin.other)) {
            account += &format!("  {one} and {other} look like one fabric: give --once to take such a fabric once\n");
        }
    }
    account += &format!("  {:<10}{}\n", "written", out.display());
    if let (Some(path), Some(bytes)) = (&arguments.picture, picture) {
        write(path, &bytes)?;
        account += &format!("  {:<10}{}\n", "", path.display());
    }
    Ok(account)
}

fn names(files: &[PathBuf]) -> String {
    let names: Vec<String> = files.iter().map(|file| printable(&file.display().to_string())).collect();
    names.join(", ")
}

impl PhotoArguments {
    /// The files that are read, and those that are written.
    pub(super) fn paths(&self) -> impl Iterator<Item = &Path> {
        self.files.iter().chain([&self.out]).chain(&self.picture).map(PathBuf::as_path)
    }

    fn photos_are_there(&self) -> Result<(), Failure> {
        let two = self.paper.iter().chain(&self.card).chain(&self.tap).chain(&self.without).map(|place| place.photo);
        let four = self.boxes.iter().chain(&self.merge).map(|place| place.photo);
        match two.chain(four).find(|&photo| photo >= self.files.len()) {
            Some(photo) => Err(Failure::new(format!("there is no photo {}", photo + 1))
                .hint("photos are numbered from 1 in the order in which they are given")),
            None => Ok(()),
        }
    }

    fn asked(&self, photo: usize, [width, height]: [u32; 2]) -> Asked {
        let point = |x: u32, y: u32| Point {
            x: (f64::from(x) + 0.5) / f64::from(width),
            y: (f64::from(y) + 0.5) / f64::from(height),
        };
        let one = |places: &[Place<2>]| -> Vec<Point> {
            let of = places.iter().filter(|place| place.photo == photo);
            of.map(|place| point(place.pixels[0], place.pixels[1])).collect()
        };
        let four = |places: &[Place<4>]| -> Vec<[u32; 4]> {
            places.iter().filter(|place| place.photo == photo).map(|place| place.pixels).collect()
        };
        let amid = |[x, y, w, h]: [u32; 4]| Amid {
            from: point(x, y),
            to: point(x.saturating_add(w.saturating_sub(1)), y.saturating_add(h.saturating_sub(1))),
        };
        let papers = one(&self.paper).into_iter().map(Neutral::Paper);
        Asked {
            neutral: papers.chain(one(&self.card).into_iter().map(Neutral::Card)).collect(),
            taps: one(&self.tap),
            boxes: four(&self.boxes).into_iter().map(amid).collect(),
            merges: four(&self.merge).into_iter().map(|[x, y, u, v]| [point(x, y), point(u, v)]).collect(),
            without: one(&self.without),
            only_given: self.only_given,
        }
    }

    fn gathering(&self, taken: &[([usize; 2], &Swatch)]) -> Gathering {
        let mut amounts: Vec<Amount> = Vec::new();
        amounts.extend(self.squares.iter().map(|squares| Amount::Squares { size: squares.size, count: squares.count }));
        amounts.extend(self.fat_quarters.map(Amount::FatQuarters));
        amounts.extend(self.length.map(|length| Amount::Length { length, width: None }));
        let fabric = |swatch: &Swatch| Gathered {
            name: swatch.name.clone(),
            thumbnail: rowscape::fabric::Thumbnail::read(&swatch.thumbnail).ok(),
            swatch_width: self.swatch_width,
            shown: Some(swatch.shown),
            amounts: amounts.clone(),
            ..Gathered::new(swatch.colour)
        };
        let pack = |pack: &Sized| Pack { size: pack.size, count: pack.count, fabrics: (0..taken.len()).collect() };
        Gathering {
            fabrics: taken.iter().map(|(_, swatch)| fabric(swatch)).collect(),
            packs: self.pack.iter().map(pack).collect(),
        }
    }
}
