//! README and DEVELOPERS.md say what is so.

use std::collections::BTreeSet;
use std::path::Path;

fn root(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &str) -> String {
    std::fs::read_to_string(root(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

#[test]
fn the_module_list_is_the_modules() {
    let text = read("DEVELOPERS.md");
    let table = text.split("| module |").nth(1).expect("the module list").split("\n\n").next().unwrap_or_default();
    let listed: BTreeSet<String> =
        table.lines().filter_map(|line| Some(line.strip_prefix("| `")?.split('`').next()?.to_owned())).collect();
    let folders = std::fs::read_dir(root("src")).unwrap().map(Result::unwrap);
    let folders: BTreeSet<String> =
        folders.filter(|entry| entry.path().is_dir()).map(|entry| entry.file_name().into_string().unwrap()).collect();
    assert_eq!(listed, folders);
    let crate_root = read("src/lib.rs");
    for module in folders.iter().filter(|module| *module != "cli") {
        assert!(crate_root.contains(&format!("pub mod {module};")), "{module} is not in lib.rs");
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
