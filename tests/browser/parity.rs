//! The page and the machine it was built on compute the same numbers, bit for bit.

use std::fs;

use serde_json::Value;
use sisterframe_core::{evaluate, project::Project};

use crate::page::{Page, View};

/// Where two values differ first, as a path; numbers count as equal only if they are the same.
fn difference(one: &Value, other: &Value, path: &str) -> Option<String> {
    match (one, other) {
        (Value::Number(a), Value::Number(b)) => {
            (a.as_f64() != b.as_f64()).then(|| format!("{path}: {a} natively, {b} in the page"))
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            a.iter().zip(b).enumerate().find_map(|(index, (a, b))| difference(a, b, &format!("{path}[{index}]")))
        }
        (Value::Object(a), Value::Object(b)) if a.len() == b.len() => {
            a.iter().find_map(|(key, a)| difference(a, b.get(key).unwrap_or(&Value::Null), &format!("{path}.{key}")))
        }
        (a, b) => (a != b).then(|| format!("{path}: {a} natively, {b} in the page")),
    }
}

#[test]
fn the_page_computes_the_same_bits() {
    let page = Page::open(View::DESK);
    let mut numbers = 0;
    for key in ["school", "clinic", "office", "corner"] {
        let path = format!("{}/../demo-scenarios/{key}.json", env!("CARGO_MANIFEST_DIR"));
        let project = Project::from_json(&fs::read_to_string(path).expect("a demo")).expect("a valid demo");
        let native = serde_json::to_string(&evaluate::study(&project)).expect("a study");
        // As text, so that nothing on the way rounds a number.
        let text =
            page.script("return JSON.stringify(window.sisterframe.evaluate(arguments[0]))", &[project.to_value()]);
        let text = text.as_str().expect("a study as text");
        let [native, shown] = [native.as_str(), text].map(|text| serde_json::from_str::<Value>(text).expect("JSON"));
        assert_eq!(difference(&native, &shown, key), None);
        numbers += count(&native);
    }
    println!("{numbers} numbers are the same in the page");
    assert!(numbers > 10_000, "only {numbers} numbers compared");
}

fn count(value: &Value) -> usize {
    match value {
        Value::Number(_) => 1,
        Value::Array(items) => items.iter().map(count).sum(),
        Value::Object(fields) => fields.values().map(count).sum(),
        _ => 0,
    }
}
