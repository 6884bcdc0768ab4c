//! The project file: what it refuses and how it says so, what it lets in, and its schema.

mod anything;
mod fields;
mod schema;
mod words;

use serde_json::Value;

/// A project with every record and every field of the format.
const MAXIMAL: &str = include_str!("maximal.json");

/// The demo projects by name.
const DEMOS: [(&str, &str); 4] = [
    ("clinic", include_str!("../../demo-scenarios/clinic.json")),
    ("corner", include_str!("../../demo-scenarios/corner.json")),
    ("office", include_str!("../../demo-scenarios/office.json")),
    ("school", include_str!("../../demo-scenarios/school.json")),
];

/// A text that is JSON.
fn parsed(text: &str) -> Value {
    match serde_json::from_str(text) {
        Ok(value) => value,
        Err(problem) => panic!("{problem}"),
    }
}

/// The value at a pointer, which is there.
fn at<'v>(value: &'v mut Value, pointer: &str) -> &'v mut Value {
    match value.pointer_mut(pointer) {
        Some(found) => found,
        None => panic!("nothing at {pointer}"),
    }
}

/// A JSON pointer as the reader writes paths: `/building/storeys/1/height_m` is
/// `building.storeys[1].height_m`.
fn written(pointer: &str) -> String {
    let mut path = String::new();
    for part in pointer.split('/').skip(1) {
        if part.chars().all(|digit| digit.is_ascii_digit()) {
            path.push_str(&format!("[{part}]"));
        } else {
            if !path.is_empty() {
                path.push('.');
            }
            path.push_str(part);
        }
    }
    path
}

/// The part of the schema that describes an item of a list.
fn item_schema(schema: &Value, index: usize) -> Option<&Value> {
    schema["prefixItems"].get(index).or_else(|| schema.get("items"))
}

/// The part of the schema that describes an object: of several kinds the one it names.
fn object_schema<'s>(schema: &'s Value, object: &Value) -> &'s Value {
    match schema["oneOf"].as_array() {
        Some(kinds) => {
            let own = kinds.iter().find(|kind| kind["properties"]["kind"]["const"] == object["kind"]);
            own.unwrap_or_else(|| panic!("no kind {} in the schema", object["kind"]))
        }
        None => schema,
    }
}
