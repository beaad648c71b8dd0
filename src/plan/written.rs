//! The digests by which a plan knows itself and the files written with it.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// What was written with a plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Written {
    /// SHA-256 of each other file, by name.
    files: BTreeMap<String, String>,
    /// SHA-256 of this file while this text is empty.
    plan: String,
}

/// A plan file as far as its digests go.
#[derive(Deserialize)]
struct Sealed {
    #[serde(default)]
    written: Option<Written>,
}

/// The SHA-256 of bytes in hexadecimal digits.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

impl Written {
    /// Of files by name, in a plan that is not sealed yet.
    pub(super) fn of(files: &[(&str, &[u8])]) -> Self {
        let files = files.iter().map(|(name, bytes)| ((*name).to_owned(), digest(bytes)));
        Self { files: files.collect(), plan: String::new() }
    }

    /// The text, which ends in this with no digest yet, with its digest put in.
    pub(super) fn sealed(&self, text: String) -> String {
        put(&text, "", &digest(text.as_bytes())).unwrap_or(text)
    }

    /// What a plan's text says was written with it; none where it says nothing.
    pub fn read(text: &str) -> Option<Self> {
        serde_json::from_str::<Sealed>(text).ok()?.written
    }

    /// Whether the plan's text is as it was written, to the last byte.
    pub fn seals(&self, text: &str) -> bool {
        put(text, &self.plan, "").is_some_and(|bare| digest(bare.as_bytes()) == self.plan)
    }

    /// Whether a file of this name was written with this digest.
    pub fn holds(&self, name: &str, digest: &str) -> bool {
        self.files.get(name).is_some_and(|known| known == digest)
    }
}

/// The text with the plan's own digest, its last field, exchanged.
fn put(text: &str, now: &str, then: &str) -> Option<String> {
    let (before, after) = text.rsplit_once(&format!("\"plan\": \"{now}\""))?;
    Some(format!("{before}\"plan\": \"{then}\"{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From FIPS 180-2, appendix B.1.
    #[test]
    fn the_digest_is_the_published_one() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn a_seal_holds_until_a_byte_changes() {
        let bare = "{\n  \"a\": 1,\n  \"written\": {\n    \"files\": {},\n    \"plan\": \"\"\n  }\n}\n".to_owned();
        let text = Written::default().sealed(bare.clone());
        let written = Written::read(&text).unwrap();
        assert!(written.seals(&text) && !written.seals(&bare) && !written.seals(&text.replace('1', "2")));
        assert!(!written.seals(&format!("{text}\n")), "a byte more");
        assert_eq!(Written::read("{\"a\": 1}"), None);
    }
}
