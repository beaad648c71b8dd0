//! README and DEVELOPERS.md say what is so.

use std::collections::BTreeSet;
use std::path::Path;

fn root(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &str) -> String {
    std::fs::read_to_string(root(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The modules of DEVELOPERS.md in their order, each with those that it uses.
fn listed() -> Vec<(String, BTreeSet<String>)> {
    let text = read("DEVELOPERS.md");
    let table = text.split("| module |").nth(1).expect("the module list").split("\n\n").next().unwrap_or_default();
    let row = |line: &str| {
        let mut fields = line.split('|').skip(1).map(str::trim);
        let module = fields.next()?.strip_prefix('`')?.strip_suffix('`')?.to_owned();
        let uses = fields.next()?.split(", ").filter(|used| *used != "–").map(str::to_owned).collect();
        Some((module, uses))
    };
    table.lines().filter_map(row).collect()
}

#[test]
fn the_module_list_is_the_modules() {
    let listed: BTreeSet<String> = listed().into_iter().map(|(module, _)| module).collect();
    let folders = std::fs::read_dir(root("src")).unwrap().map(Result::unwrap);
    let folders: BTreeSet<String> =
        folders.filter(|entry| entry.path().is_dir()).map(|entry| entry.file_name().into_string().unwrap()).collect();
    assert_eq!(listed, folders);
    let crate_root = read("src/lib.rs");
    for module in folders.iter().filter(|module| !matches!(module.as_str(), "cli" | "page")) {
        assert!(
            crate_root.contains(&format!(
                "pub mod {module};
"
            )),
            "{module} is not in lib.rs"
        );
    }
}

/// What a folder's files name of the other modules, tests apart.
fn used(folder: &Path, modules: &[String]) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.ends_with("node_modules") {
            // What the page is built with is no part of it.
        } else if entry.is_dir() {
            used.extend(self::used(&entry, modules));
        } else if entry.extension().is_some_and(|end| end == "rs") && entry.file_name().unwrap() != "tests.rs" {
            let text = std::fs::read_to_string(entry).unwrap();
            let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
            let named = ["crate::", "rowscape::"].into_iter().flat_map(|root| code.split(root).skip(1));
            let names =
                named.map(|rest| rest.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or_default());
            used.extend(names.filter(|name| modules.iter().any(|module| module == name)).map(str::to_owned));
        }
    }
    used
}

#[test]
fn modules_use_what_stands_above_them_in_the_list() {
    let listed = listed();
    let modules: Vec<String> = listed.iter().map(|(module, _)| module.clone()).collect();
    for (at, (module, uses)) in listed.iter().enumerate() {
        let mut used = used(&root("src").join(module), &modules);
        used.remove(module);
        assert_eq!(*uses, used, "what {module} uses");
        let above: BTreeSet<String> = modules[..at].iter().cloned().collect();
        assert!(uses.is_subset(&above), "{module} uses {:?} below it", uses.difference(&above));
    }
}

#[test]
fn files_that_the_readme_names_are_there() {
    let readme = read("README.md");
    let named = readme.split(['"', '`', '(', ')', ' ']).filter(|word| word.starts_with("sample-sketches/"));
    let named: BTreeSet<&str> = named.filter(|name| !name.contains("scenes/")).collect();
    assert!(named.len() >= 2, "{named:?}");
    for file in named {
        assert!(root(file).exists(), "{file}");
    }
}
