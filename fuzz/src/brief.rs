//! The check of the target `brief`.

use rowscape::job::{Brief, ReviseBrief};

/// Any text as a brief or a change: what is read is written the same, and holds or says what does not.
pub fn brief(text: &str) {
    if let Ok(brief) = serde_json::from_str::<Brief>(text) {
        let again = serde_json::to_string(&brief).expect("a brief is JSON");
        assert_eq!(serde_json::from_str::<Brief>(&again).ok().as_ref(), Some(&brief));
        assert!(brief.check().err().is_none_or(|error| !error.to_string().is_empty()));
    }
    if let Ok(change) = serde_json::from_str::<ReviseBrief>(text) {
        let again = serde_json::to_string(&change).expect("a change is JSON");
        assert_eq!(serde_json::from_str::<ReviseBrief>(&again).ok(), Some(change));
    }
}
