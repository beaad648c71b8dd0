//! The engine for a page in the browser: a question in JSON goes in, a reply in JSON comes out; pictures and files
//! are bytes.
//!
//! [`reply`](reply::reply) answers what [`Question`](question::Question)s ask; here it is bound to a worker.

mod hint;
mod plain;
pub mod question;
pub mod refusal;
pub mod reply;
pub mod steps;
pub mod told;

use std::cell::RefCell;
use std::sync::Arc;

use js_sys::{Array, Function, Uint8Array};
use rowscape::watch::{News, Watch, Watcher};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use reply::Given;
use told::Told;

thread_local! {
    /// Whom the job under way tells; a worker has one job at a time, and one thread.
    static TELL: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Passes on what a job tells.
struct Teller;

impl Watcher for Teller {
    fn hear(&self, news: &News) {
        let told = serde_json::to_string(&Told::of(news)).unwrap_or_default();
        // What the page does with it is its own affair.
        TELL.with_borrow(|tell| tell.as_ref().map(|tell| tell.call1(&JsValue::NULL, &told.into()).is_ok()));
    }
}

/// Asks: gives the reply as JSON, then the bytes of each file that it names; throws a refusal as JSON.
#[wasm_bindgen]
pub fn ask(
    question: &str,
    picture: Option<Vec<u8>>,
    mask: Option<Vec<u8>>,
    tell: Option<Function>,
) -> Result<Array, JsValue> {
    TELL.replace(tell);
    let given = Given { picture: picture.as_deref(), mask: mask.as_deref(), watch: &Watch::new(Arc::new(Teller)) };
    let replied = reply::reply(question, &given);
    TELL.replace(None);
    let (json, files) = replied.map_err(|refusal| JsValue::from(refusal.json()))?;
    let bytes = files.iter().map(|file| JsValue::from(Uint8Array::from(file.as_slice())));
    Ok(std::iter::once(JsValue::from(json)).chain(bytes).collect())
}
