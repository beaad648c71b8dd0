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
        engine: printable(&bytes(&built.join("engine.wasm.xz"))?),
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

/// Bits that two of 91 characters hold, and one that is left over.
const PAIR: usize = 13;
const ALONE: usize = 5;

/// Printable characters that end no script and escape nothing: 91 of them, two of which hold 13 bits (base64 takes four
/// for three bytes, this 16 for 13). `unpack.ts` has them too.
fn characters() -> Vec<u8> {
    (b'!'..=b'~').filter(|code| !b"<&\\".contains(code)).collect()
}

/// Bytes as such characters.
fn printable(bytes: &[u8]) -> String {
    let characters = characters();
    let digit = |value: usize| char::from(characters[value]);
    let mut text = String::with_capacity(bytes.len().div_ceil(13) * 16);
    let (mut held, mut bits) = (0_usize, 0);
    for &byte in bytes {
        (held, bits) = (held << 8 | usize::from(byte), bits + 8);
        if bits >= PAIR {
            bits -= PAIR;
            text.extend([digit((held >> bits) / characters.len()), digit((held >> bits) % characters.len())]);
            held &= (1 << bits) - 1;
        }
    }
    // What is left lies in one character where it is so little that a pair would hold a byte more.
    match bits {
        0 => {}
        1..=ALONE => text.push(digit(held << (ALONE - bits))),
        _ => {
            let value = held << (PAIR - bits);
            text.extend([digit(value / characters.len()), digit(value % characters.len())]);
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    /// As many bits as there are bytes of, and no byte more when they are read back.
    #[test]
    fn bytes_are_printed_in_as_few_characters_as_hold_them() {
        assert_eq!(characters().len(), 91);
        for long in 0..40_usize {
            let bytes: Vec<u8> = (0..long as u8).map(|at| at.wrapping_mul(97) ^ 255).collect();
            let text = printable(&bytes);
            assert_eq!((text.len() / 2 * PAIR + text.len() % 2 * ALONE) / 8, long, "{text}");
            assert!(!text.contains(['<', '&', '\\']));
        }
    }
}
