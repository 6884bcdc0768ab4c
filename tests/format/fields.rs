//! Every field of every record, wrong in every way: refused with its path, the value, and what is
//! permitted with its unit.

use crate::{MAXIMAL, at, item_schema, object_schema, parsed, written};
use serde_json::{Map, Value, json};
use sisterframe_core::project::{FieldError, Project, json_schema};
use std::collections::BTreeSet;

/// A field of the maximal project with its part of the schema.
struct Field {
    pointer: String,
    schema: Value,
    required: bool,
}

/// The place of an object with the properties its schema gives it.
type Object = (String, Map<String, Value>);

/// Every field, and every object with its properties.
fn fields() -> (Vec<Field>, Vec<Object>) {
    let (mut fields, mut objects) = (Vec::new(), Vec::new());
    collect(&parsed(MAXIMAL), &json_schema(), "", &mut fields, &mut objects);
    (fields, objects)
}

fn collect(value: &Value, schema: &Value, pointer: &str, fields: &mut Vec<Field>, objects: &mut Vec<Object>) {
    match value {
        Value::Object(entries) => {
            let schema = object_schema(schema, value);
            let Some(properties) = schema["properties"].as_object() else { panic!("{pointer} is no object") };
            let required = schema["required"].as_array().map(Vec::as_slice).unwrap_or_default();
            objects.push((pointer.to_owned(), properties.clone()));
            for (key, own) in properties {
                let place = format!("{pointer}/{key}");
                let Some(entry) = entries.get(key) else { panic!("the maximal project lacks {place}") };
                if own.get("const").is_none() {
                    let required = required.iter().any(|name| name == key);
                    fields.push(Field { pointer: place.clone(), schema: own.clone(), required });
                }
                collect(entry, own, &place, fields, objects);
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                let Some(own) = item_schema(schema, index) else { panic!("{pointer} is no list") };
                let place = format!("{pointer}/{index}");
                if item.is_number() || item.is_string() {
                    fields.push(Field { pointer: place.clone(), schema: own.clone(), required: false });
                }
                collect(item, own, &place, fields, objects);
            }
        }
        _ => {}
    }
}

/// Days the reader takes.
const DAYS: &str = "1900-01-01 to 2199-12-31";
/// Hours of use the reader takes.
const HOURS: &str = "such as 8-16 or 08:30-15:30, up to 00:00-24:00";

/// What the reader says to the maximal project with one value replaced.
fn refusal(pointer: &str, with: Value) -> FieldError {
    let mut project = parsed(MAXIMAL);
    *at(&mut project, pointer) = with.clone();
    match Project::from_value(&project) {
        Err(error) => error,
        Ok(_) => panic!("{pointer} = {with} is accepted"),
    }
}

#[track_caller]
fn assert_refused(field: &Field, with: Value, permitted: &[String]) {
    let error = refusal(&field.pointer, with.clone());
    assert_eq!(error.path, written(&field.pointer), "{with}: {error}");
    let found = match &with {
        Value::Array(items) => format!("a list of {}", items.len()),
        Value::Object(_) => "an object".to_owned(),
        Value::Null => "nothing".to_owned(),
        plain => plain.to_string().chars().take(30).collect(),
    };
    assert!(error.value.starts_with(&found), "{error}: found {}, not {found}", error.value);
    for part in permitted {
        assert!(error.permitted.to_string().contains(part.as_str()), "{error}: nothing of {part}");
    }
    assert!(!error.problem.is_empty() && !error.problem.to_string().contains("missing"), "{error}");
}

fn number(schema: &Value, key: &str) -> f64 {
    schema[key].as_f64().unwrap_or_else(|| panic!("{key} in {schema}"))
}

/// Range and unit of a number as the reader writes them.
fn range(schema: &Value) -> Vec<String> {
    let unit = schema["x-unit"].as_str().unwrap_or("");
    let space = if unit.is_empty() { "" } else { " " };
    vec![format!("{} to {}{space}{unit}", number(schema, "minimum"), number(schema, "maximum"))]
}

fn kind(schema: &Value) -> &str {
    match schema.get("enum") {
        Some(_) => "enum",
        None if schema["format"] == "date" => "date",
        // The only texts with a pattern.
        None if schema.get("pattern").is_some() => "hours",
        None => schema["type"].as_str().unwrap_or("measure"),
    }
}

#[test]
fn the_maximal_project_is_accepted_and_survives_its_file() {
    let project = Project::from_json(MAXIMAL).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(Project::from_json(&project.to_json()), Ok(project.clone()));
    // Every field is written, none is changed on the way.
    let (written, given) = (project.to_value(), parsed(MAXIMAL));
    let (fields, _) = fields();
    assert!(fields.len() > 150, "only {} fields", fields.len());
    for field in &fields {
        let (one, other) = (written.pointer(&field.pointer), given.pointer(&field.pointer));
        let same = match (one, other) {
            (Some(Value::Number(one)), Some(Value::Number(other))) => one.as_f64() == other.as_f64(),
            (Some(Value::Array(_) | Value::Object(_)), Some(_)) => true,
            (one, other) => one == other,
        };
        assert!(same, "{}: {other:?} was written as {one:?}", field.pointer);
    }
}

#[test]
fn numbers_below_and_above_their_range_are_refused() {
    for field in fields().0 {
        if !matches!(kind(&field.schema), "number" | "integer") || field.pointer == "/sisterframe" {
            continue;
        }
        let (least, most) = (number(&field.schema, "minimum"), number(&field.schema, "maximum"));
        let whole = kind(&field.schema) == "integer";
        let step = if whole { 1.0 } else { 1e-6 * (most - least) };
        let permitted = range(&field.schema);
        for outside in [least - step, least - 1e9, -1e300, most + step, most + 1e9, 1e300] {
            assert_refused(&field, json!(outside), &permitted);
        }
        if whole {
            assert_refused(&field, json!(least + 0.5), &permitted);
        }
        for end in [least, most] {
            // The ends themselves are in range; what refuses them, if anything, is another rule.
            let mut project = parsed(MAXIMAL);
            *at(&mut project, &field.pointer) = if whole { json!(end as i64) } else { json!(end) };
            if let Err(error) = Project::from_value(&project) {
                assert!(!error.problem.to_string().contains("the permitted range"), "{error}");
            }
        }
    }
}

#[test]
fn values_of_another_type_are_refused() {
    for field in fields().0 {
        let own = kind(&field.schema);
        let permitted = match own {
            "number" | "integer" => range(&field.schema),
            "enum" => {
                let words = field.schema["enum"].as_array().map(Vec::as_slice).unwrap_or_default();
                words.iter().filter_map(Value::as_str).map(str::to_owned).collect()
            }
            "boolean" => vec!["true".to_owned(), "false".to_owned()],
            "string" => vec![format!("to {} characters", field.schema["maxLength"])],
            "array" => vec!["list".to_owned()],
            "date" => vec![DAYS.to_owned()],
            "hours" => vec![HOURS.to_owned()],
            _ => Vec::new(),
        };
        let wrong = [
            ("string", json!("no such word")),
            ("number", json!(12)),
            ("boolean", json!(true)),
            ("array", json!(["a", "b", "c", "d", "e"])),
            ("object", json!({"a": 1})),
        ];
        for (kind, value) in wrong {
            let numeric = kind == "number" && own == "integer";
            // Lists are refused by their items where they may have any length.
            if kind != own && !numeric && !(own == "measure" && kind == "object") {
                // The version has a check of its own before the table's.
                if field.pointer != "/sisterframe" || kind != "number" {
                    assert_refused(&field, value, &permitted);
                }
            }
        }
    }
}

#[test]
fn words_and_texts_out_of_bounds_are_refused() {
    for field in fields().0 {
        match kind(&field.schema) {
            "enum" => {
                let words = field.schema["enum"].as_array().cloned().unwrap_or_default();
                let words: Vec<String> = words.iter().filter_map(Value::as_str).map(str::to_owned).collect();
                assert_refused(&field, json!("elsewhere"), &words);
                assert_refused(&field, json!(words[0].to_uppercase() + "x"), &words);
            }
            "date" => {
                // A day in no year, one written otherwise, two beyond the ends.
                for wrong in ["2027-02-29", "29.2.2028", "2028-2-29", "1899-12-31", "2200-01-01", "+028-02-29"] {
                    assert_refused(&field, json!(wrong), &[DAYS.to_owned()]);
                }
            }
            "hours" => {
                for wrong in [
                    "",
                    "8",
                    "8 to 16",
                    "08:60-16:00",
                    "24:00-08:00",
                    "08:00-24:01",
                    "9-9",
                    "8-12-16",
                    "+8-16",
                    "8:5-16",
                ] {
                    assert_refused(&field, json!(wrong), &[HOURS.to_owned()]);
                }
            }
            "string" => {
                let most = number(&field.schema, "maxLength") as usize;
                let permitted = [format!("to {most} characters")];
                assert_refused(&field, json!("m".repeat(most + 1)), &permitted);
                if number(&field.schema, "minLength") > 0.0 {
                    assert_refused(&field, json!(""), &permitted);
                }
            }
            "array" => {
                let most = number(&field.schema, "maxItems");
                let mut project = parsed(MAXIMAL);
                let items = at(&mut project, &field.pointer).as_array().cloned().unwrap_or_default();
                let permitted = if field.schema.get("prefixItems").is_some() {
                    vec!["[s, g]".to_owned()]
                } else {
                    vec![format!("a list of {} to {most}", number(&field.schema, "minItems"))]
                };
                let long = vec![items[0].clone(); most as usize + 1];
                assert_refused(&field, Value::Array(long), &permitted);
                if number(&field.schema, "minItems") > 0.0 {
                    assert_refused(&field, json!([]), &permitted);
                }
            }
            _ => {}
        }
    }
}

#[test]
fn spans_that_end_before_they_begin_are_refused() {
    let spans = fields()
        .0
        .into_iter()
        .filter(|field| field.schema["items"]["type"] == "integer" && field.schema["maxItems"].as_f64() == Some(2.0));
    let mut seen = 0;
    for field in spans {
        seen += 1;
        assert_refused(&field, json!([2, 1]), &["[first, last]".to_owned()]);
    }
    assert!(seen >= 8, "only {seen} spans");
}

#[test]
fn missing_fields_are_named_and_optional_ones_are_not() {
    let mut optional = 0;
    for field in fields().0 {
        let Some((parent, key)) = field.pointer.rsplit_once('/') else { continue };
        let mut project = parsed(MAXIMAL);
        let Some(object) = at(&mut project, parent).as_object_mut() else { continue };
        object.remove(key);
        let outcome = Project::from_value(&project);
        if field.required {
            let Err(error) = outcome else { panic!("{} is not missed", field.pointer) };
            assert_eq!(error.path, written(&field.pointer), "{error}");
            assert!(error.problem.to_string().starts_with("missing"), "{error}");
            if matches!(kind(&field.schema), "number" | "integer") && field.pointer != "/sisterframe" {
                assert_eq!(vec![error.permitted.to_string()], range(&field.schema), "{error}");
            }
            assert!(!error.permitted.is_empty(), "{error}");
        } else {
            optional += 1;
            if let Err(error) = outcome {
                assert!(!error.problem.to_string().starts_with("missing"), "{error}");
            }
            // What stands in for a missing field is what the schema says.
            if let Some(default) = field.schema.get("default") {
                *at(&mut project, parent) = {
                    let mut parent = at(&mut project, parent).clone();
                    parent[key] = default.clone();
                    parent
                };
                let mut without = parsed(MAXIMAL);
                at(&mut without, parent).as_object_mut().map(|object| object.remove(key));
                assert_eq!(Project::from_value(&project), Project::from_value(&without), "{}", field.pointer);
            }
        }
    }
    assert!(optional > 40, "only {optional} optional fields");
}

/// A key with a slip of the pen: its second letter left out, or a short one's last written twice.
fn slip_of(key: &str) -> String {
    let letters: Vec<char> = key.chars().collect();
    match letters.as_slice() {
        [first, _, rest @ ..] if !rest.is_empty() => std::iter::once(first).chain(rest).collect(),
        [.., last] => format!("{key}{last}"),
        [] => String::new(),
    }
}

#[test]
fn unknown_keys_are_refused_with_the_nearest_known_one() {
    let mut kinds = BTreeSet::new();
    for (pointer, properties) in fields().1 {
        for key in properties.keys().filter(|key| *key != "kind" && *key != "sisterframe") {
            let slip = slip_of(key);
            if properties.contains_key(&slip) {
                continue;
            }
            let mut project = parsed(MAXIMAL);
            if let Some(object) = at(&mut project, &pointer).as_object_mut() {
                let value = object.shift_remove(key).unwrap_or_default();
                object.insert(slip.clone(), value);
            }
            let Err(error) = Project::from_value(&project) else { panic!("{pointer}/{slip} is accepted") };
            assert_eq!(error.path, written(&format!("{pointer}/{slip}")), "{error}");
            assert!(error.problem.to_string().contains("unknown key"), "{error}");
            assert!(
                error.problem.to_string().contains(&format!("“{key}”")),
                "{error}: {key} is not named as the nearest"
            );
            assert!(error.permitted.to_string().contains(key.as_str()), "{error}");
            kinds.insert(error.permitted.to_string());
        }
    }
    // Every record has a list of keys of its own.
    assert!(kinds.len() >= 20, "only {} kinds of record", kinds.len());
}
