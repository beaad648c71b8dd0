//! The pictures, and their scenes as `rowscape compose --width 54in` makes them.

use std::path::{Path, PathBuf};

use rowscape::compose::{Composed, Order, scene};
use rowscape::fabric::{Fabrics, Rgb, named, propose};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::{Effort, Plan, Request};
use rowscape::suit::suited;
use rowscape::unit::Square;

const COLOURS: u32 = 12;

/// A picture as the cells of its top, with the fabrics proposed for it.
pub struct Sitter {
    /// File name without its ending.
    pub name: String,
    /// What is asked for at even detail.
    pub request: Request,
    /// The picture's cells.
    pub cells: Vec<Rgb>,
    /// Their weights.
    pub focus: Vec<u8>,
    /// The fabrics.
    pub fabrics: Fabrics,
}

/// All sample sketches, then all photos.
pub fn sitters() -> Vec<Sitter> {
    let found = folders().into_iter().flat_map(|folder| pictures(&folder));
    found.map(|path| Sitter::new(&path)).collect()
}

/// The folders that are always read.
pub fn folders() -> [PathBuf; 2] {
    ["sample-sketches", "tests/data/photos"].map(|folder| Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
}

/// The pictures of a folder, in order.
pub fn pictures(folder: &Path) -> Vec<PathBuf> {
    let files = std::fs::read_dir(folder).expect("the folder is there").map(|entry| entry.expect("a file").path());
    let picture = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "png" || ending == "jpg");
    let mut found: Vec<PathBuf> = files.filter(picture).collect();
    found.sort();
    found
}

impl Sitter {
    fn new(path: &Path) -> Self {
        Self::asked(path, request)
    }

    /// As large as fits within so many inches, the longer of them along the picture's longer side.
    pub fn within(path: &Path, [long, short]: [i64; 2], square: Square) -> Self {
        Self::asked(path, |across, down| {
            let [longer, shorter] = [across.max(down), across.min(down)].map(i64::from);
            let fits = long * shorter <= short * longer;
            let grid = Length::inches(1, 2);
            let side = |pixels: u32| {
                let (most, over) = if fits { (long, longer) } else { (short, shorter) };
                Length::from_ticks((Length::INCH * most).ticks() * i64::from(pixels) / over).round_to(grid)
            };
            let (width, height) = (side(across), side(down));
            Request { width, height, squares: vec![square], ..request(across, down) }
        })
    }

    fn asked(path: &Path, request: impl Fn(u32, u32) -> Request) -> Self {
        let bytes = std::fs::read(path).expect("the picture can be read");
        let picture = Picture::decode(&bytes, &Limits::default()).expect("it is a picture");
        let (across, down) = picture.aspect(&Crop::Centre).expect("it has a shape");
        let request = request(across, down);
        let (columns, rows) = request.cells();
        let cells = picture.cells(&Crop::Centre, columns, rows).expect("cells");
        let focus = salience(&cells, columns, rows);
        let colours = propose(&cells, columns, rows, &focus, COLOURS as usize, request.seed);
        let name = path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        Self { name, request, cells, focus, fabrics: named(colours) }
    }

    /// With the fabrics suited to the scene.
    pub fn suited(mut self, effort: Effort) -> Self {
        let order = Order::new(&self.request, &self.cells, &self.focus, &self.fabrics);
        self.fabrics = suited(&order, 0, effort).expect("a scene");
        self
    }

    /// The scene at a detail in per cent.
    pub fn compose(&self, detail: u32) -> (Plan, Composed) {
        let request = Request { detail, ..self.request.clone() };
        let (picture, focus, fabrics) = (&self.cells, &self.focus, &self.fabrics);
        scene(&Order::new(&request, picture, focus, fabrics)).expect("a scene")
    }
}

fn request(across: u32, down: u32) -> Request {
    let (width, grid) = (Length::INCH * 54i64, Length::inches(1, 2));
    let height = Length::from_ticks(width.ticks() * i64::from(down) / i64::from(across)).round_to(grid);
    Request { width, height, grid, colours: Some(COLOURS), ..Request::usual(Ruler::Inch) }
}
