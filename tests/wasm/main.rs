//! The digest of every file of a scene made of the picture on standard input, and of each step on the way.
//!
//! `.ci/run` runs it natively and as wasm: the lines are to be the same.

use std::io::{Cursor, Read};

use image::ImageFormat;
use rowscape::compose::Order;
use rowscape::fabric::{named, propose};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, level, salience};
use rowscape::plan::{self, Effort, Request};
use rowscape::render::{self, Options};
use rowscape::stock::free;
use rowscape::suit::suited;
use sha2::{Digest, Sha256};

fn say(name: &str, bytes: impl AsRef<[u8]>) {
    println!("{name} {:x?}", Sha256::digest(bytes));
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut bytes = Vec::new();
    std::io::stdin().read_to_end(&mut bytes)?;
    let picture = Picture::decode(&bytes, &Limits::default())?;
    let mut webp = Cursor::new(Vec::new());
    image::load_from_memory(&bytes)?.to_rgb8().write_to(&mut webp, ImageFormat::WebP)?;
    say("as WebP", format!("{:?}", Picture::decode(webp.get_ref(), &Limits::default())?.cells(&Crop::Centre, 40, 30)?));
    let (across, down) = picture.aspect(&Crop::Centre)?;
    let usual = Request::usual(Ruler::Inch);
    let width = Length::INCH * 36i64;
    let height = (width * i64::from(down) / i64::from(across)).round_to(usual.grid).max(usual.grid);
    let request = Request { picture: "picture".into(), width, height, suit: Effort::Full, ..usual };
    let (columns, rows) = request.cells();
    let cells = level(&picture.cells(&Crop::Centre, columns, rows)?, columns, rows);
    let focus = salience(&cells, columns, rows);
    let proposed = named(propose(&cells, columns, rows, &focus, 12, request.seed));
    say("cells", format!("{cells:?}"));
    say("focus", &focus);
    say("proposed", format!("{proposed:?}"));
    let fabrics = suited(&Order::new(&request, &cells, &focus, &proposed), request.suit, |_, _| ())?;
    let plan = free(&Order::new(&request, &cells, &focus, &fabrics))?;
    let (work, options) = (make(&plan), Options::default());
    say("plan.json", plan::write(&plan));
    say("rows.csv", render::rows_csv(&plan, &work, &options)?);
    say("cutting.csv", render::cutting_csv(&plan, &work, &options)?);
    say("cloth.csv", render::cloth_csv(&plan, &work, &options)?);
    say("build-list.html", render::build_list(&plan, &work, &options));
    say("picture.svg", render::svg(&plan, &work, &options));
    say("picture.png", render::png(&plan, &work, &options)?);
    say("leftovers.toml", render::leftovers_toml(&plan, &work));
    Ok(())
}
