//! Rules of the repository itself.

use std::fs;
use std::path::{Path, PathBuf};

/// The repository.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every file below a folder whose name ends so, with its text and its path from the root.
fn files(folder: &str, ending: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
        for entry in entries.map(|entry| entry.expect("an entry").path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if entry.to_string_lossy().ends_with(ending) {
                let text = fs::read_to_string(&entry).unwrap_or_default();
                let name = entry.strip_prefix(root()).expect("below the root").to_string_lossy().into_owned();
                found.push((name, text));
            }
        }
    }
    assert!(!found.is_empty(), "no *{ending} below {folder}");
    found.sort();
    found
}

/// Lines of code: without comments and without what follows the tests of a module.
fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let end = text.find("#[cfg(test)]").unwrap_or(text.len());
    text[..end].lines().zip(1..).map(|(line, number)| (number, line)).filter(|(_, line)| {
        let line = line.trim_start();
        !line.starts_with("//")
    })
}

#[test]
fn only_agreed_entries_stand_at_the_top() {
    const AGREED: [&str; 11] = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "app",
        "core",
        "index.html",
        "style",
        "tests",
    ];
    for entry in fs::read_dir(root()).expect("the repository") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        let made = ["target", "dist", "demo-scenarios"].contains(&name.as_str());
        assert!(made || name.starts_with('.') || AGREED.contains(&name.as_str()), "{name} stands at the top");
    }
}

#[test]
fn only_the_rule_sets_name_themselves() {
    for (name, text) in files("core/src", ".rs") {
        // The project file names the sets it may choose.
        if name.contains("/rules/") || name.ends_with("project/mod.rs") {
            continue;
        }
        for (number, line) in code(&text) {
            let line = line.to_lowercase();
            assert!(
                !line.contains("american") && !line.contains("european"),
                "{name}:{number} names a rule set: {line}"
            );
        }
    }
}

#[test]
fn the_core_is_pure_and_total() {
    const REFUSED: [&str; 10] = [
        "HashMap",
        "HashSet",
        "SystemTime",
        "Instant::",
        "println!",
        "std::fs",
        "std::env",
        ".unwrap()",
        "web_sys",
        "wasm_bindgen",
    ];
    for (name, text) in files("core/src", ".rs") {
        for (number, line) in code(&text) {
            for word in REFUSED {
                assert!(!line.contains(word), "{name}:{number} has {word}: {line}");
            }
        }
    }
}

#[test]
fn no_file_holds_too_much() {
    for folder in ["core", "app", "tests"] {
        for (name, text) in files(folder, ".rs") {
            let lines = text.lines().count();
            assert!(lines <= 750, "{name} has {lines} lines; does it hold two ideas?");
        }
    }
}

#[test]
fn nothing_is_left_unfinished() {
    // Written in two parts so that this file does not find itself.
    let refused = [["TO", "DO"], ["FIX", "ME"], ["todo", "!("], ["unimplemented", "!("]].map(|parts| parts.concat());
    for folder in ["core", "app", "tests"] {
        for (name, text) in files(folder, ".rs") {
            for (line, number) in text.lines().zip(1..) {
                for word in &refused {
                    assert!(!line.contains(word.as_str()), "{name}:{number}: {line}");
                }
            }
        }
    }
}
