//! No text makes the reader panic, and nothing it accepts makes the engine panic or answer with a
//! number that is none.

use crate::{DEMOS, MAXIMAL, item_schema, object_schema, parsed};
use serde_json::{Value, json};
use sisterframe_core::evaluate::{outline, study};
use sisterframe_core::project::{Project, json_schema};
use sisterframe_tests::dice::Dice;
use sisterframe_tests::numbers::assert_every_number_is_one;
use sisterframe_tests::projects::project;

/// Texts and projects tried, unless `SISTERFRAME_SEEDS` asks for more.
const SEEDS: u64 = 400;

/// Of so many projects one is pushed over; that costs a hundred times what the rest does.
const PUSHED: u64 = 4;

fn seeds() -> u64 {
    std::env::var("SISTERFRAME_SEEDS").ok().and_then(|count| count.parse().ok()).unwrap_or(SEEDS)
}

/// Reads a text; whatever is accepted is written, read again and evaluated.
fn try_text(which: &str, text: &str, pushed: bool) -> bool {
    let _named = Named(which);
    match Project::from_json(text) {
        Ok(project) => {
            try_project(which, &project, pushed);
            true
        }
        Err(error) => {
            assert!(!error.problem.is_empty() && !error.to_string().is_empty(), "{which}");
            false
        }
    }
}

fn try_project(which: &str, project: &Project, pushed: bool) {
    let again = Project::from_json(&project.to_json());
    assert_eq!(again.as_ref(), Ok(project), "{which}");
    let study = if pushed { study(project) } else { outline(project) };
    assert_every_number_is_one(which, &study);
}

/// Says which case was at work when something panicked.
struct Named<'a>(&'a str);

impl Drop for Named<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("failed at {}", self.0);
        }
    }
}

fn texts() -> Vec<(&'static str, &'static str)> {
    DEMOS.into_iter().chain([("maximal", MAXIMAL)]).collect()
}

#[test]
fn truncated_files_are_refused() {
    for (name, text) in texts() {
        for end in (0..text.trim_end().len()).step_by(7).filter(|end| text.is_char_boundary(*end)) {
            let refused = Project::from_json(&text[..end]);
            assert!(refused.is_err(), "{name} cut at {end} is accepted");
        }
    }
}

#[test]
fn garbled_files_are_read_or_refused() {
    const BITS: &[&str] = &[
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "0",
        "9",
        "-",
        ".",
        "e",
        "1e308",
        "-1e308",
        "5e-324",
        "null",
        "true",
        "\\u0000",
        "\\ud800",
        "é",
        "\u{0}",
        "\n",
        "[[[[",
        "{\"a\":",
        "99999999999999999999",
        "\"none\"",
    ];
    let mut accepted = 0;
    for seed in 0..10 * seeds() {
        let mut dice = Dice::new(seed);
        let all = texts();
        let (name, text) = all[dice.whole(0, all.len() - 1)];
        let mut characters: Vec<char> = text.chars().collect();
        for _ in 0..dice.whole(1, 4) {
            let at = dice.whole(0, characters.len() - 1);
            match dice.whole(0, 3) {
                0 => drop(characters.remove(at)),
                1 => {
                    let end = (at + dice.whole(1, 60)).min(characters.len());
                    let part: Vec<char> = characters[at..end].to_vec();
                    characters.splice(at..at, part);
                }
                _ => {
                    let bit: Vec<char> = BITS[dice.whole(0, BITS.len() - 1)].chars().collect();
                    let end = at + dice.whole(0, 1);
                    characters.splice(at..end, bit);
                }
            }
        }
        let garbled: String = characters.into_iter().collect();
        accepted += u64::from(try_text(&format!("garbled {name}, seed {seed}"), &garbled, false));
    }
    println!("{accepted} of {} garbled files are accepted", 10 * seeds());
    assert!(accepted > 0, "garbling never leaves a valid file");
}

#[test]
fn deep_files_are_refused() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}"), ("{\"building\":", "}"), ("[{\"schemes\":", "}]")] {
        for depth in [10, 127, 128, 1000, 100_000] {
            assert!(!try_text("nested", &format!("{}1{}", open.repeat(depth), close.repeat(depth)), false));
            assert!(!try_text("left open", &open.repeat(depth), false));
        }
    }
    // Deep within a file that is sound otherwise.
    let mut project = parsed(MAXIMAL);
    let mut deep = json!(1);
    for _ in 0..100 {
        deep = json!([deep]);
    }
    project["building"]["storeys"] = deep;
    assert!(!try_text("deep storeys", &project.to_string(), false));
}

/// Any value in place of any other.
#[test]
fn values_of_any_kind_in_any_place_are_read_or_refused() {
    for (name, text) in texts() {
        let whole = parsed(text);
        let mut places = Vec::new();
        list_places(&whole, String::new(), &mut places);
        let strange = [
            json!(null),
            json!(-0.0),
            json!(1e308),
            json!(-1e308),
            json!(5e-324),
            json!(u64::MAX),
            json!(i64::MIN),
            json!(""),
            json!("\u{0}\u{202e}"),
            json!([]),
            json!({}),
            json!([[], {}]),
            json!({"kind": "jacket"}),
            json!(false),
        ];
        for place in &places {
            for value in &strange {
                let mut with = whole.clone();
                *crate::at(&mut with, place) = value.clone();
                let outcome = Project::from_value(&with);
                // Most are refused; what is not (an optional part left out, say) is evaluated once
                // for each place.
                if let (Ok(project), true) = (outcome, value.is_null()) {
                    try_project(&format!("{name} without {place}"), &project, false);
                }
            }
        }
    }
}

fn list_places(value: &Value, pointer: String, places: &mut Vec<String>) {
    match value {
        Value::Object(object) => {
            object.iter().for_each(|(key, own)| list_places(own, format!("{pointer}/{key}"), places))
        }
        // Lists of like items: the first and the last stand for all.
        Value::Array(items) => {
            for index in [0, items.len().saturating_sub(1)] {
                if let Some(item) = items.get(index) {
                    list_places(item, format!("{pointer}/{index}"), places);
                }
            }
        }
        _ => {}
    }
    if !pointer.is_empty() {
        places.push(pointer);
    }
}

/// Values anywhere in their permitted range, ends above all: many combinations no one would build,
/// each of which the validator either refuses or the engine must answer.
#[test]
fn extreme_projects_are_evaluated() {
    let schema = json_schema();
    let (mut accepted, mut changed) = (0, 0);
    for seed in 0..seeds() {
        let mut dice = Dice::new(seed);
        let mut whole = match dice.whole(0, 2) {
            0 => parsed(MAXIMAL),
            1 => parsed(DEMOS[dice.whole(0, DEMOS.len() - 1)].1),
            _ => project(seed).to_value(),
        };
        let mut leaves = Vec::new();
        list_leaves(&whole, &schema, String::new(), &mut leaves);
        for _ in 0..dice.whole(5, 40) {
            let (pointer, leaf) = &leaves[dice.whole(0, leaves.len() - 1)];
            let Some(value) = drawn(&mut dice, leaf) else { continue };
            let mut with = whole.clone();
            *crate::at(&mut with, pointer) = value;
            if Project::from_value(&with).is_ok() {
                whole = with;
                changed += 1;
            }
        }
        if let Ok(project) = Project::from_value(&whole) {
            accepted += 1;
            let which = format!("extreme project, seed {seed}");
            let _named = Named(&which);
            try_project(&which, &project, seed.is_multiple_of(PUSHED));
        }
    }
    println!("{accepted} of {} extreme projects with {changed} extreme values", seeds());
    assert!(accepted > seeds() * 9 / 10 && changed > 10 * seeds());
}

fn list_leaves(value: &Value, schema: &Value, pointer: String, leaves: &mut Vec<(String, Value)>) {
    match value {
        Value::Object(object) => {
            let schema = object_schema(schema, value);
            for (key, own) in object {
                list_leaves(own, &schema["properties"][key], format!("{pointer}/{key}"), leaves);
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                if let Some(own) = item_schema(schema, index) {
                    list_leaves(item, own, format!("{pointer}/{index}"), leaves);
                }
            }
        }
        _ => leaves.push((pointer, schema.clone())),
    }
}

/// A permitted value of a leaf, often at an end of its range; `None` for names.
fn drawn(dice: &mut Dice, schema: &Value) -> Option<Value> {
    if let Some(words) = schema["enum"].as_array() {
        return Some(words[dice.whole(0, words.len() - 1)].clone());
    }
    let (least, most) = (schema["minimum"].as_f64()?, schema["maximum"].as_f64()?);
    let number = match dice.whole(0, 3) {
        0 => least,
        1 => most,
        _ => dice.within(least, most),
    };
    Some(if schema["type"] == "integer" { json!(number.round()) } else { json!(number) })
}

/// The largest building the format allows.
#[test]
fn the_largest_building_is_evaluated() {
    let lines = |prefix: &str| -> Vec<Value> {
        (0..30).map(|index| json!({"name": format!("{prefix}{index}"), "at_m": 6 * index})).collect()
    };
    let mut project = parsed(MAXIMAL);
    let building = &mut project["building"];
    building["x_lines"] = lines("x").into();
    building["y_lines"] = lines("y").into();
    building["storeys"] = vec![json!({"height_m": 3.5, "slab_mm": 150, "finishes_kpa": 1, "live_kpa": 2}); 12].into();
    building["columns"] = json!([{"column": "K1"}]);
    building["beams"] = json!([{"beam": "G1"}]);
    building["walls"] = json!([]);
    building["masonry"] = json!([{"lines": ["x0", "y0"], "thickness_mm": 200}]);
    building["rooms"] = json!({});
    let mut frame = project["schemes"][0]["measures"][3].clone();
    frame["face"] = "y0".into();
    frame["bays"] = json!([1, 29]);
    frame["storeys"] = json!(12);
    project["schemes"] = json!([{"name": "Frame", "measures": [frame]}]);
    assert!(try_text("the largest building", &project.to_string(), true));
}
