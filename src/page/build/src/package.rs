//! Both packages: one file to open, and a folder to host.

use std::path::{Path, PathBuf};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;
use sha2::{Digest, Sha256};

use crate::tools::Wrong;
use crate::{Places, icons};

const NAME: &str = "Rowscape";
/// The colour of the page's paper, as `style.css` has it.
const PAPER: &str = "#f6f1e7";

/// Writes them; gives the path of the one file.
pub fn write(places: &Places) -> Result<PathBuf, Wrong> {
    let built = places.out.join("built");
    let page = Page {
        frame: text(&places.page.join("view/index.html"))?,
        style: text(&built.join("style.css"))?,
        view: text(&built.join("view.js"))?,
        engine: printable(&bytes(&built.join("engine.wasm.gz"))?),
    };
    let file = places.out.join("rowscape.html");
    put(&file, page.html(false).as_bytes())?;
    let site = places.out.join("site");
    let index = page.html(true);
    put(&site.join("index.html"), index.as_bytes())?;
    put(&site.join("manifest.webmanifest"), manifest().as_bytes())?;
    let worker = text(&places.page.join("view/service-worker.js"))?;
    let version = digest(&format!("{index}{worker}"));
    put(&site.join("service-worker.js"), worker.replace("VERSION", &version[..12]).as_bytes())?;
    println!("{} ({} kB)\n{}", file.display(), page.html(false).len() / 1000, site.display());
    Ok(file)
}

struct Page {
    frame: String,
    style: String,
    view: String,
    engine: String,
}

impl Page {
    /// The page, all in one; hosted, it may have its manifest and its service worker, and still no connection.
    fn html(&self, hosted: bool) -> String {
        // What ends a script in its own text would end it for the browser.
        let view = self.view.replace("</script", "<\\/script");
        let hash = STANDARD.encode(Sha256::digest(&view));
        let (own, workers, images) =
            if hosted { ("'self'", "'self' blob:", "'self' data: blob:") } else { ("'none'", "blob:", "data: blob:") };
        let policy = format!(
            "default-src 'none'; script-src 'sha256-{hash}' 'wasm-unsafe-eval'; style-src 'unsafe-inline'; \
             img-src {images}; worker-src {workers}; manifest-src {own}; connect-src 'none'; base-uri 'none'; form-action 'none'"
        );
        let linked = if hosted {
            "<link rel=\"manifest\" href=\"manifest.webmanifest\">\n<link rel=\"icon\" href=\"icon-192.png\">\n\
             <link rel=\"apple-touch-icon\" href=\"icon-192.png\">"
        } else {
            "<link rel=\"icon\" href=\"data:,\">"
        };
        let filled = [
            ("POLICY", policy.as_str()),
            ("LINKED", linked),
            ("PAPER", PAPER),
            ("STYLE", &self.style),
            ("HOSTED", if hosted { "yes" } else { "no" }),
            ("ENGINE", &self.engine),
            ("VIEW", &view),
        ];
        // One pass, so that nothing that is put in is looked through again.
        let mut pieces = self.frame.split("{{");
        let mut html = pieces.next().unwrap_or_default().to_owned();
        for piece in pieces {
            let (name, rest) = piece.split_once("}}").unwrap_or(("", piece));
            html += filled.iter().find(|(filled, _)| *filled == name).map_or("", |(_, with)| with);
            html += rest;
        }
        html
    }
}

fn manifest() -> String {
    let icon = |side: u32| json!({ "src": format!("icon-{side}.png"), "sizes": format!("{side}x{side}"), "type": "image/png", "purpose": "any maskable" });
    let manifest = json!({
        "name": NAME,
        "short_name": NAME,
        "description": "From a photo to a pieced scene quilt",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": PAPER,
        "icons": icons::SIDES.map(icon),
    });
    format!("{manifest:#}\n")
}

/// Printable characters that mean nothing in a page or a script: 85 of them, so that five hold four bytes (base64 takes
/// four for three). `unpack.ts` has them too.
fn characters() -> Vec<u8> {
    (b'!'..=b'~').filter(|code| !b"<>&'\"\\`${".contains(code)).collect()
}

/// Bytes as such characters; what is left of four takes one more than it has bytes.
fn printable(bytes: &[u8]) -> String {
    let characters = characters();
    let mut text = String::with_capacity(bytes.len().div_ceil(4) * 5);
    for four in bytes.chunks(4) {
        let mut padded = [0; 4];
        padded[..four.len()].copy_from_slice(four);
        let value = u32::from_be_bytes(padded);
        let digits = [52_200_625, 614_125, 7_225, 85, 1].map(|place| value / place % 85);
        text.extend(digits[..=four.len()].iter().map(|&digit| char::from(characters[digit as usize])));
    }
    text
}

fn digest(text: &str) -> String {
    Sha256::digest(text).iter().map(|byte| format!("{byte:02x}")).collect()
}

fn text(path: &Path) -> Result<String, Wrong> {
    std::fs::read_to_string(path).map_err(|error| Wrong::at(path, error))
}

fn bytes(path: &Path) -> Result<Vec<u8>, Wrong> {
    std::fs::read(path).map_err(|error| Wrong::at(path, error))
}

fn put(path: &Path, bytes: &[u8]) -> Result<(), Wrong> {
    std::fs::write(path, bytes).map_err(|error| Wrong::at(path, error))
}
