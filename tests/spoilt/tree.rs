//! Changes of the plan and of the leftovers: every value, every entry of a list.

use std::sync::Arc;

use rowscape::measure::Length;
use serde_json::Value;

use crate::spoilt::change::{Change, next_address, next_colour, next_letter, next_word};
use crate::spoilt::scene::Scene;

pub fn plan(scene: &Scene) -> Vec<Change> {
    let tree: Value = serde_json::from_str(scene.text("plan.json")).unwrap();
    changes(scene, "plan.json", tree, |tree| tree.to_string().into_bytes())
}

pub fn leftovers(scene: &Scene) -> Vec<Change> {
    let tree: Value = toml::from_str(scene.text("leftovers.toml")).unwrap();
    changes(scene, "leftovers.toml", tree, |tree| toml::to_string(tree).unwrap().into_bytes())
}

fn changes(scene: &Scene, file: &'static str, tree: Value, write: fn(&Value) -> Vec<u8>) -> Vec<Change> {
    let mut found = Vec::new();
    walk(scene, &tree, String::new(), String::new(), &mut found);
    let tree = Arc::new(tree);
    let change = |found: Found| {
        let tree = Arc::clone(&tree);
        Change::new(file, found.class, found.place, move || {
            let mut tree = Value::clone(&tree);
            (found.change)(tree.pointer_mut(&found.pointer).unwrap());
            write(&tree)
        })
    };
    // Written anew a file looks otherwise, so that what stays the same is found here.
    let same = |found: &Found| {
        let mut value = tree.pointer(&found.pointer).unwrap().clone();
        (found.change)(&mut value);
        value == *tree.pointer(&found.pointer).unwrap()
    };
    found.into_iter().filter(|found| !same(found)).map(change).collect()
}

struct Found {
    class: &'static str,
    place: String,
    pointer: String,
    change: Box<dyn Fn(&mut Value) + Send + Sync>,
}

fn walk(scene: &Scene, value: &Value, pointer: String, place: String, found: &mut Vec<Found>) {
    let mut add = |class, change: Box<dyn Fn(&mut Value) + Send + Sync>| {
        found.push(Found { class, place: place.clone(), pointer: pointer.clone(), change });
    };
    let mut set = |class, new: Value| add(class, Box::new(move |value| *value = new.clone()));
    match value {
        Value::Null => set("count", 3.into()),
        Value::Bool(flag) => set("flag", (!flag).into()),
        Value::Number(number) => {
            set("count", (number.as_i64().unwrap() + 1).into());
            set("count", (number.as_i64().unwrap() - 1).into());
        }
        Value::String(text) => texts(scene, text).into_iter().for_each(|(class, new)| set(class, new.into())),
        Value::Array(entries) => {
            // Corners of an outline are changed as numbers.
            for at in (0..entries.len()).filter(|_| !entries.iter().any(Value::is_number)) {
                add("missing", Box::new(move |list| drop(list.as_array_mut().unwrap().remove(at))));
                add(
                    "doubled",
                    Box::new(move |list| {
                        let list = list.as_array_mut().unwrap();
                        list.insert(at, list[at].clone());
                    }),
                );
                if at + 1 < entries.len() {
                    add("order", Box::new(move |list| list.as_array_mut().unwrap().swap(at, at + 1)));
                }
            }
            for (at, entry) in entries.iter().enumerate() {
                walk(scene, entry, format!("{pointer}/{at}"), place.clone(), found);
            }
        }
        Value::Object(fields) => {
            for (name, field) in fields {
                let name_of = if place.is_empty() { name.clone() } else { format!("{place}.{name}") };
                let escaped = name.replace('~', "~0").replace('/', "~1");
                walk(scene, field, format!("{pointer}/{escaped}"), name_of, found);
            }
        }
    }
}

/// A text's new values, by class.
fn texts(scene: &Scene, text: &str) -> Vec<(&'static str, String)> {
    let sixteenth = Length::inches(1, 16);
    if let Ok(length) = text.parse::<Length>() {
        return [sixteenth, -sixteenth, -(length + length)]
            .map(|more| ("length", (length + more).to_string()))
            .to_vec();
    }
    let new = next_letter(text, &scene.letters)
        .map(|new| ("letter", new))
        .or_else(|| next_colour(text).map(|new| ("colour", new)))
        .or_else(|| next_address(text).map(|new| ("address", new)))
        .or_else(|| next_word(text).map(|new| ("word", new)));
    let longer = || {
        let cells = text.len() > 20 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        let last = if text.ends_with('a') { 'b' } else { 'a' };
        match cells {
            true => ("colour", format!("{}{last}", &text[..text.len() - 1])),
            false => ("text", format!("{text}x")),
        }
    };
    vec![new.unwrap_or_else(longer)]
}
