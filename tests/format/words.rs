//! What the reader says to files that are not for it.

use crate::{MAXIMAL, at, parsed};
use serde_json::{Value, json};
use sisterframe_core::project::{FORMAT, FieldError, MAX_CHARS, Project};

fn refusal(text: &str) -> FieldError {
    match Project::from_json(text) {
        Err(error) => error,
        Ok(project) => panic!("{} is accepted", project.name),
    }
}

fn with(pointer: &str, value: Value) -> String {
    let mut project = parsed(MAXIMAL);
    *at(&mut project, pointer) = value;
    project.to_string()
}

#[test]
fn a_newer_file_is_refused_as_one() {
    for version in [json!(FORMAT + 1), json!(f64::from(FORMAT) + 0.5), json!(1e12)] {
        let error = refusal(&with("/sisterframe", version.clone()));
        assert_eq!(error.path, "sisterframe");
        assert!(error.problem.to_string().contains("written by a newer version"), "{error}");
        assert_eq!(error.permitted.to_string(), format!("1 to {FORMAT}"));
        assert_eq!(error.value, version.to_string());
    }
    // A newer file may have keys this version does not know; its age is said first.
    let mut project = parsed(MAXIMAL);
    project["sisterframe"] = json!(FORMAT + 1);
    project["roof_garden"] = json!({});
    assert!(refusal(&project.to_string()).problem.to_string().contains("newer version"));
}

#[test]
fn files_of_something_else_are_refused() {
    for (text, words) in [
        ("", "not a JSON file"),
        ("Dear colleague,", "not a JSON file"),
        ("{\"name\": \"x\"", "not a JSON file"),
        ("{\"name\": 1e999}", "not a JSON file"),
        ("{}", "not a Sisterframe project"),
        ("{\"type\": \"FeatureCollection\"}", "not a Sisterframe project"),
        ("[]", "an object is needed"),
        ("7", "an object is needed"),
        ("null", "an object is needed"),
        ("{\"sisterframe\": \"one\"}", "a number is needed"),
        ("{\"sisterframe\": 0}", "below the permitted range"),
        ("{\"sisterframe\": -1}", "below the permitted range"),
    ] {
        let error = refusal(text);
        assert!(error.problem.to_string().contains(words), "{text}: {error}");
        assert!(!error.permitted.is_empty(), "{text}: {error}");
    }
    let long = refusal(&" ".repeat(MAX_CHARS + 1));
    assert!(
        long.problem.to_string().contains("too large") && long.permitted.to_string().contains(&MAX_CHARS.to_string()),
        "{long}"
    );
}

#[test]
fn a_byte_order_mark_is_no_reason_to_refuse() {
    assert!(Project::from_json(&format!("\u{feff}{MAXIMAL}")).is_ok());
}

#[test]
fn errors_read_as_one_line() {
    let error = refusal(&with("/building/storeys/1/height_m", json!(31)));
    assert_eq!(
        error.to_string(),
        "building.storeys[1].height_m: above the permitted range (found 31); permitted: 2 to 8 m"
    );
    let error = refusal("no");
    assert!(error.to_string().starts_with("project file: not a JSON file"), "{error}");
}

/// Names that refer to nothing, and parts that contradict each other: path and what is permitted.
#[test]
fn contradictions_between_fields_are_refused_in_words() {
    let cases: &[(&str, Value, &str, &str)] = &[
        ("/building/columns/0/column", json!("K9"), "building.columns[0].column", "K1"),
        ("/building/columns/0/x/1", json!("Z"), "building.columns[0].x[1]", "1, 2, 3, 4"),
        ("/building/columns/0/storeys", json!([1, 3]), "building.columns[0].storeys", "1 to 2"),
        ("/building/beams/2/beam", json!("G9"), "building.beams[2].beam", "G1"),
        ("/building/beams/1/bays", json!([3, 4]), "building.beams[1].bays", "1 to 3"),
        ("/building/walls/0/line", json!("Q"), "building.walls[0].line", "A, B, C, 1, 2, 3, 4"),
        ("/building/walls/0/bay", json!(3), "building.walls[0].bay", "1 to 2"),
        ("/building/walls/0/opening/width_mm", json!(5500), "building.walls[0].opening.width_mm", "200 to 4800 mm"),
        ("/building/walls/0/opening/height_mm", json!(3600), "building.walls[0].opening.height_mm", "mm"),
        ("/building/masonry/0/sill_mm", json!(3500), "building.masonry[0].sill_mm", "mm"),
        ("/building/rooms/corridor_strips", json!([3]), "building.rooms.corridor_strips[0]", "1 to 2"),
        ("/building/rooms/own/0/storey", json!(3), "building.rooms.own[0].storey", "1 to 2"),
        ("/building/rooms/own/0/strips", json!([2, 3]), "building.rooms.own[0].strips", "1 to 2"),
        ("/building/rooms/own/1/bays", json!([3, 4]), "building.rooms.own[1].bays", "1 to 3"),
        ("/building/rooms/own/1/bays/0", json!(0), "building.rooms.own[1].bays[0]", "1 to 29"),
        ("/building/rooms/own/1/kind", json!("attic"), "building.rooms.own[1].kind", "classroom, ward, office"),
        ("/building/rooms/own/1/name", json!(""), "building.rooms.own[1].name", "1 to 24"),
        (
            "/building/rooms/own/1",
            json!({"name": "Store", "storey": 1, "strips": [1, 2], "bays": [2, 3]}),
            "building.rooms.own[1].bays",
            "do not overlap",
        ),
        (
            "/building/rooms/own/1",
            json!({"name": "Hall", "storey": 1, "strips": [2, 2], "bays": [1, 1]}),
            "building.rooms.own[1].name",
            "a name of its own",
        ),
        ("/building/x_lines/1/at_m", json!(0.5), "building.x_lines[1].at_m", "1 to 25 m"),
        ("/building/x_lines/2/name", json!("A"), "building.y_lines[0].name", "a name of its own"),
        ("/building/beam_types/0/depth_mm", json!(1990), "building.beam_types[0].depth_mm", "mm"),
        ("/building/column_types/0/cover_mm", json!(80), "", ""),
        ("/building/column_types/0/bars", json!(7), "building.column_types[0].bars", "4, 6, 8"),
        ("/ground_motion/sx1_g", json!(2.9), "ground_motion.sx1_g", "g"),
        ("/ground_motion/table/2/0", json!(0.1), "ground_motion.table[2]", "s"),
        ("/schemes/0/measures/0/bars", json!(40), "schemes[0].measures[0].bars", "clear between bars"),
        ("/schemes/0/measures/0/x", json!(["9"]), "schemes[0].measures[0].x[0]", "1, 2, 3, 4"),
        ("/building/x_lines/3/at_m", json!(14), "schemes[0].measures[1].length_mm", "mm"),
        ("/schemes/0/measures/2/line", json!("1"), "schemes[0].measures[2].bays", "bays without a wall"),
        ("/schemes/0/measures/3/face", json!("B"), "schemes[0].measures[3].face", "A, C"),
        ("/schemes/0/measures/3/storeys", json!(3), "schemes[0].measures[3].storeys", "1 to 2"),
        ("/schemes/0/measures/3/slab_mm", json!(500), "", ""),
        ("/working_times/breaks/0/last", json!("2027-07-04"), "working_times.breaks[0].last", "not before the first"),
        (
            "/working_times/breaks",
            json!([
                {"name": "Summer", "first": "2027-07-05", "last": "2027-08-29"},
                {"name": "Camp", "first": "2027-08-29", "last": "2027-09-02"}
            ]),
            "working_times.breaks[1].last",
            "do not overlap",
        ),
        ("/schemes/0/measures/0/kind", json!("prayer"), "schemes[0].measures[0].kind", "jacket, wing_wall"),
        ("/works/rates/0/activity", json!("DRILLS"), "works.rates[0].activity", "table of rates"),
        ("/works/rates/0/usual", json!(20), "works.rates[0].usual", "slow ≤ usual ≤ fast"),
        ("/works/rates/0/fast", json!(40), "works.rates[0].fast", "slow ≤ usual ≤ fast"),
        ("/works/labour_mid", json!(0.5), "works.labour_high", "low ≤ usual ≤ high"),
        ("/works/rebuild_months_low", json!(20), "works.rebuild_months_mid", "low ≤ usual ≤ high"),
    ];
    for (pointer, value, path, permitted) in cases {
        let text = with(pointer, value.clone());
        if path.is_empty() {
            // Allowed as long as it fits.
            assert!(Project::from_json(&text).is_ok(), "{pointer}");
            continue;
        }
        let Err(error) = Project::from_json(&text) else { panic!("{pointer} = {value} is accepted") };
        assert_eq!(error.path, *path, "{error}");
        assert!(error.permitted.to_string().contains(permitted), "{error}: {permitted}");
        assert!(!error.problem.is_empty(), "{error}");
    }
}
