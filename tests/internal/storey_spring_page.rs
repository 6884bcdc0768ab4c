//! The page that sets storey springs of hand calculations beside the frame analysis: written from
//! results, and compared with what is committed.

use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::project::Project;
use sisterframe_core::study::{DirectionResult, OptionResult, Study};
use sisterframe_tests::pages::assert_page;
use std::fmt::Write;

const DEMOS: [(&str, &str); 4] = [
    ("School", include_str!("../../demo-scenarios/school.json")),
    ("Clinic", include_str!("../../demo-scenarios/clinic.json")),
    ("Office", include_str!("../../demo-scenarios/office.json")),
    ("Corner building", include_str!("../../demo-scenarios/corner.json")),
];

const HEAD: &str = "# Storey springs and the frame analysis\n\n\
Hand calculations put one spring in each storey: columns by the D-value method, walls held against rotation in every \
storey, strengths added at a drift all members can reach. The tables set that beside what the frames give: base shear \
over roof displacement under the same elastic forces, and the largest base shear when the building is pushed over. \
A figure of +20 % says that the hand method gives a fifth more.\n\n\
How to read it. Springs know nothing of how a wall turns over the height or rocks on its footing, so with walls they are \
ten to forty times too stiff; frames without walls come out a quarter to a half too soft, since joints are stiff over \
their size and slabs help the beams. Sums of strength by storey are mostly lower than the push, by up to a quarter, \
because the weakest storey is judged alone while frames let storeys help each other. Jackets beside sill walls are the \
exception: the storey counts short, strong columns, but beams and joints let go before them.\n\n\
Written by a test from the results; not a design aid.\n\n";

/// A frame of four lines each way: the storeys, the beams against the columns, a wall in two bays or none.
fn family(storeys: u32, beam_depth_mm: u32, wall: bool) -> Project {
    let lines = |names: [&str; 4], bay: f64| -> Vec<Value> {
        names.iter().enumerate().map(|(i, name)| json!({"name": name, "at_m": bay * i as f64})).collect()
    };
    let walls = if wall {
        json!([
            {"line": "A", "bay": 2, "storeys": [1, storeys], "thickness_mm": 150, "bar_mm": 10, "bar_spacing_mm": 200, "curtains": 1,
             "footing": {"length_m": 8, "width_m": 2, "bearing_kpa": 200}},
            {"line": "D", "bay": 2, "storeys": [1, storeys], "thickness_mm": 150, "bar_mm": 10, "bar_spacing_mm": 200, "curtains": 1,
             "footing": {"length_m": 8, "width_m": 2, "bearing_kpa": 200}},
        ])
    } else {
        json!([])
    };
    let project = json!({
        "sisterframe": 1, "name": "Family", "ground_motion": {"sxs_g": 0.5, "sx1_g": 0.3},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": lines(["1", "2", "3", "4"], 5.5),
            "y_lines": lines(["A", "B", "C", "D"], 5.5),
            "storeys": vec![json!({"height_m": 3.5, "slab_mm": 120, "finishes_kpa": 1.5, "live_kpa": 2.5}); storeys as usize],
            "materials": {"concrete_mpa": 20, "steel_mpa": 300, "hoop_steel_mpa": 240},
            "column_types": [{"name": "K1", "x_mm": 450, "y_mm": 450, "bars": 8, "bar_mm": 20, "hoop_mm": 10, "hoop_spacing_mm": 150}],
            "beam_types": [{"name": "G1", "width_mm": 300, "depth_mm": beam_depth_mm, "top_bars": 4, "top_bar_mm": 19,
                            "bottom_bars": 3, "bottom_bar_mm": 19, "stirrup_mm": 10, "stirrup_spacing_mm": 150}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}], "walls": walls,
        },
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

fn difference(hand: f64, ours: f64) -> String {
    format!("{:+.0} %", 100.0 * (hand / ours - 1.0)).replace('-', "−")
}

/// Figures of a direction as cells: stiffness of frames and springs, strength of push and storeys.
fn cells(result: &DirectionResult) -> Option<String> {
    let capacity = result.capacity.as_ref()?;
    let [frames, springs] = result.roof_stiffness_kn_m;
    let (ours, hand) = (capacity.strength_kn, result.strength_kn);
    let [frames_mn, springs_mn] = [frames, springs].map(|own| own / 1000.0);
    Some(format!(
        "{frames_mn:.1} | {springs_mn:.1} | {} | {ours:.0} | {hand:.0} | {} |",
        difference(springs, frames),
        difference(hand, ours)
    ))
}

const COLUMNS: &str = "stiffness, MN/m | by springs | | strength, kN | by storeys | |\n";

fn page() -> String {
    let mut page = HEAD.to_owned();
    for (name, text) in DEMOS {
        let project = Project::from_json(text).unwrap_or_else(|error| panic!("{error}"));
        let Study { options, .. } = study(&project);
        let _ = write!(page, "## {name}\n\n| option | along | {COLUMNS}|---|---|---:|---:|---:|---:|---:|---:|\n");
        for OptionResult { letter, name, directions, .. } in &options {
            for result in directions {
                let along = if result.along_x { "x" } else { "y" };
                if let Some(cells) = cells(result) {
                    let _ = writeln!(page, "| {} | {along} | {cells}", format!("{letter} {name}").trim());
                }
            }
        }
        page.push('\n');
    }
    let _ = write!(
        page,
        "## A family of frames\n\nFour lines of columns 450 × 450 mm each way, 5.5 m apart, storeys of 3.5 m; along x.\n\n\
         | storeys | beams, mm | walls | {COLUMNS}|---:|---:|---|---:|---:|---:|---:|---:|---:|\n"
    );
    for storeys in 1..=6 {
        for depth in [400, 550, 750] {
            for wall in [false, true] {
                let study = study(&family(storeys, depth, wall));
                let cells = study.options[0].directions.first().and_then(cells).expect("a curve");
                let _ = writeln!(page, "| {storeys} | 300 × {depth} | {} | {cells}", if wall { "two" } else { "none" });
            }
        }
    }
    page
}

#[test]
fn the_page_is_what_the_results_say() {
    assert_page("storey-springs.md", &page());
}
