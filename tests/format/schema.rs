//! The published schema of the project file.

use crate::{DEMOS, MAXIMAL, item_schema, object_schema, parsed};
use serde_json::Value;
use sisterframe_core::project::json_schema;
use std::path::Path;

/// Rewrites the published schema instead of comparing it.
const REWRITE: &str = "SISTERFRAME_WRITE_SCHEMA";

#[test]
fn the_published_schema_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/schema/project.schema.json");
    let mut current = serde_json::to_string_pretty(&json_schema()).unwrap_or_default();
    current.push('\n');
    if std::env::var_os(REWRITE).is_some() {
        std::fs::write(&path, &current).unwrap_or_else(|problem| panic!("{problem}"));
    }
    let published = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(published == current, "the schema has changed: run the tests once with {REWRITE}=1 and commit the file");
}

/// Every demo, and the maximal project, is what the schema describes.
#[test]
fn the_schema_describes_the_demos() {
    let schema = json_schema();
    for (name, text) in DEMOS.into_iter().chain([("maximal", MAXIMAL)]) {
        let problems = problems(&parsed(text), &schema, name);
        assert!(problems.is_empty(), "{problems:?}");
    }
}

/// It refuses what the reader refuses: a demo with one value out of range is none any more.
#[test]
fn the_schema_refuses_values_out_of_range() {
    let schema = json_schema();
    for (pointer, value) in [
        ("/building/storeys/0/height_m", serde_json::json!(80)),
        ("/building/occupancy", serde_json::json!("castle")),
        ("/schemes/0/measures/0/bars", serde_json::json!(8.5)),
        ("/schemes/0/measures", serde_json::json!(3)),
        ("/building/materials", serde_json::json!({"concrete_mpa": 20})),
    ] {
        let mut project = parsed(MAXIMAL);
        *crate::at(&mut project, pointer) = value;
        assert_eq!(problems(&project, &schema, "").len(), 1, "{pointer}");
    }
}

/// Where a value is not what a schema describes, by the keywords the schema uses; one it does not
/// know fails the test.
fn problems(value: &Value, schema: &Value, path: &str) -> Vec<String> {
    let schema = if value.is_object() { object_schema(schema, value) } else { schema };
    let mut found = Vec::new();
    let bound = |key: &str| schema[key].as_f64().unwrap_or(f64::NAN);
    let mut require = |holds: bool, what: &str| {
        if !holds {
            found.push(format!("{path}: {what}"));
        }
    };
    let size = match value {
        Value::Array(items) => items.len(),
        Value::String(text) => text.chars().count(),
        _ => 0,
    } as f64;
    for (keyword, expected) in schema.as_object().into_iter().flatten() {
        match keyword.as_str() {
            "type" => require(
                match expected.as_str() {
                    Some("object") => value.is_object(),
                    Some("array") => value.is_array(),
                    Some("string") => value.is_string(),
                    Some("boolean") => value.is_boolean(),
                    Some("number") => value.is_number(),
                    Some("integer") => value.as_f64().is_some_and(|number| number.fract() == 0.0),
                    _ => false,
                },
                "type",
            ),
            "minimum" => require(value.as_f64().is_none_or(|number| number >= bound("minimum")), "minimum"),
            "maximum" => require(value.as_f64().is_none_or(|number| number <= bound("maximum")), "maximum"),
            "minItems" | "minLength" => require(size >= bound(keyword) || value.is_number(), keyword),
            "maxItems" | "maxLength" => require(size <= bound(keyword), keyword),
            "enum" => require(expected.as_array().is_some_and(|words| words.contains(value)), "enum"),
            "const" => require(expected == value, "const"),
            "format" => require(value.as_str().is_some_and(is_date) && expected == "date", "format"),
            // The only texts with a pattern are hours of use.
            "pattern" => require(value.as_str().is_some_and(are_hours), "pattern"),
            "required" => {
                let names = expected.as_array().map(Vec::as_slice).unwrap_or_default();
                let missing = |name: &&Value| value.get(name.as_str().unwrap_or("")).is_none();
                require(!value.is_object() || !names.iter().any(|name| missing(&name)), "required");
            }
            "additionalProperties" => {
                let known = |key: &String| schema["properties"].get(key).is_some();
                require(value.as_object().is_none_or(|object| object.keys().all(known)), "additionalProperties");
            }
            "properties" | "items" | "prefixItems" | "oneOf" => {}
            "title" | "default" | "x-unit" | "$schema" => {}
            other => panic!("the schema uses {other}, which this test does not know"),
        }
    }
    if !found.is_empty() {
        return found;
    }
    match value {
        Value::Object(object) => {
            for (key, own) in object {
                found.extend(problems(own, &schema["properties"][key], &format!("{path}/{key}")));
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                let own = item_schema(schema, index).cloned().unwrap_or_default();
                found.extend(problems(item, &own, &format!("{path}/{index}")));
            }
        }
        _ => {}
    }
    found
}

/// Whether a text is two times of the 24-hour clock with a dash between them.
fn are_hours(text: &str) -> bool {
    let time = |text: &str| {
        let (hour, minute) = text.split_once(':').unwrap_or((text, "00"));
        let number = |text: &str| (1..=2).contains(&text.len()).then(|| text.parse::<u32>().ok()).flatten();
        Some(60 * number(hour)? + number(minute).filter(|minute| *minute < 60)?).filter(|time| *time <= 1440)
    };
    let mut ends = text.split(['-', '–']).map(|end| time(end.trim()));
    let (from, to) = (ends.next().flatten(), ends.next().flatten());
    from.is_some_and(|from| from < 1440) && to.is_some() && ends.next().is_none()
}

/// Whether a text has the shape of an ISO 8601 day.
fn is_date(text: &str) -> bool {
    let mut parts = text.split('-').map(|part| (part.len(), part.parse::<u32>().is_ok()));
    [4, 2, 2].iter().all(|digits| parts.next() == Some((*digits, true))) && parts.next().is_none()
}
