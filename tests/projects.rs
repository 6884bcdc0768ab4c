//! Random projects that the reader of project files accepts.
//!
//! Every project goes through the public file format, as a user's would. Parts are drawn one by
//! one and kept only if the file is still accepted with them, so a project is valid by
//! construction and its seed alone brings it back.

use crate::dice::Dice;
use serde_json::{Value, json};
use sisterframe_core::project::{Building, Direction, Measure, Project, RuleSet};
use std::collections::BTreeMap;
use std::fmt::Write;

/// The project of a seed.
pub fn project(seed: u64) -> Project {
    let mut dice = Dice::new(seed);
    // A bare building can be refused (a column may fill its bay), so some are drawn again.
    let mut file = bare(&mut dice);
    let mut tries = 1;
    while let Err(problem) = Project::from_value(&file) {
        tries += 1;
        assert!(tries < 50, "seed {seed}: no bare building is accepted: {problem}");
        file = bare(&mut dice);
    }
    furnish(&mut dice, &mut file);
    scheme_up(&mut dice, &mut file);
    by_rules(&mut dice, &mut file);
    own_rooms(&mut dice, &mut file);
    match Project::from_value(&file) {
        Ok(project) => project,
        Err(problem) => unreachable!("every part was accepted: {problem}"),
    }
}

/// A rule set, and for some a ground motion by ground acceleration and type. Drawn last, so that the buildings stay
/// what they are.
fn by_rules(dice: &mut Dice, file: &mut Value) {
    file["rules"] = json!(one_of(dice, &["american", "american", "european"]));
    if dice.happens(0.2) {
        file["ground_motion"]["by_ground"] = json!({
            "rock_g": on_grid(dice, 0.06, 0.6, 0.02),
            "ground": one_of(dice, &["a", "b", "c", "d", "e"]),
            "shape": one_of(dice, &["type_1", "type_2"]),
        });
    }
}

/// Rooms of the project's own, some of them ways out or zones. Drawn after all else, as rules are.
fn own_rooms(dice: &mut Dice, file: &mut Value) {
    if !dice.happens(0.4) {
        return;
    }
    let count = |list: &str| file.pointer(list).and_then(Value::as_array).map_or(1, Vec::len);
    let storeys = count("/building/storeys");
    let [bays, strips] = ["/building/x_lines", "/building/y_lines"].map(|list| count(list) - 1);
    if file.pointer("/building/rooms").is_none() {
        file["building"]["rooms"] = json!({});
    }
    for number in 0..dice.whole(1, 8) {
        let kind = one_of(dice, &["classroom", "ward", "office", "corridor", "stair", "other"]);
        let mut room = json!({
            "name": format!("R{number}"),
            "kind": kind,
            "storey": dice.whole(1, storeys),
            "strips": Bounds::span(dice, strips),
            "bays": Bounds::span(dice, bays),
            "zone": one_of(dice, &["", "", "North", "South"]),
            "days": one_of(dice, &["building", "building", "five", "seven", "always"]),
        });
        if dice.happens(0.4) {
            room["hours"] = json!(one_of(dice, &["00:00-24:00", "07:30-12:00", "17:00-21:30", "22:00-06:00"]));
        }
        offer(file, "/building/rooms/own", room);
    }
}

/// Runs a check on the projects of the first `seeds` seeds; a check that fails names its seed.
pub fn each_project(seeds: u64, mut check: impl FnMut(u64, Project)) {
    for seed in 0..seeds {
        let _named = Named(seed);
        check(seed, project(seed));
    }
}

/// Says which seed was at work when a check failed.
struct Named(u64);

impl Drop for Named {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("failed at seed {} (projects::project({}))", self.0, self.0);
        }
    }
}

/// A length on a grid of `step`.
fn on_grid(dice: &mut Dice, low: f64, high: f64, step: f64) -> f64 {
    // Whole steps, divided: 3.35 is then the number a file would say.
    let per_unit = (1.0 / step).round();
    (dice.within(low, high) * per_unit).round() / per_unit
}

fn mm(dice: &mut Dice, low: f64, high: f64) -> f64 {
    (dice.within(low, high) / 10.0).round() * 10.0
}

/// One of some items.
fn one_of<T: Copy>(dice: &mut Dice, items: &[T]) -> T {
    items[dice.whole(0, items.len() - 1)]
}

fn grid(dice: &mut Dice, most: usize, names: &[&str]) -> Value {
    let count = dice.whole(2, most);
    let mut at = if dice.happens(0.3) { on_grid(dice, -40.0, 60.0, 0.05) } else { 0.0 };
    let even = dice.happens(0.3).then(|| on_grid(dice, 3.0, 7.5, 0.05));
    let lines = names.iter().take(count).map(|name| {
        let here = at;
        at = ((at + even.unwrap_or_else(|| on_grid(dice, 2.6, 8.4, 0.05))) * 100.0).round() / 100.0;
        json!({"name": name, "at_m": here})
    });
    lines.collect()
}

/// A building of columns and beams only.
fn bare(dice: &mut Dice) -> Value {
    let storeys = dice.whole(1, 8);
    let typical = on_grid(dice, 2.8, 4.2, 0.05);
    let storeys: Vec<Value> = (0..storeys)
        .map(|s| {
            let height = match s {
                0 if dice.happens(0.4) => on_grid(dice, 3.5, 5.5, 0.05),
                _ if dice.happens(0.15) => on_grid(dice, 2.6, 5.0, 0.05),
                _ => typical,
            };
            let slab = mm(dice, 90.0, 220.0);
            let loads = [on_grid(dice, 0.0, 3.0, 0.1), on_grid(dice, 0.0, 5.0, 0.25)];
            json!({"height_m": height, "slab_mm": slab, "finishes_kpa": loads[0], "live_kpa": loads[1]})
        })
        .collect();
    let column_types: Vec<Value> = ["K1", "K2", "K3"].iter().map(|name| column_type(dice, name)).collect();
    let beam_types: Vec<Value> = ["G1", "G2"].iter().map(|name| beam_type(dice, name)).collect();
    json!({
        "sisterframe": 1,
        "name": "Drawn",
        "ground_motion": ground_motion(dice),
        "building": {
            "occupancy": one_of(dice, &["school", "clinic", "office", "other"]),
            "year": dice.whole(1930, 1990),
            "x_lines": grid(dice, 7, &["1", "2", "3", "4", "5", "6", "7"]),
            "y_lines": grid(dice, 6, &["A", "B", "C", "D", "E", "F"]),
            "storeys": storeys,
            "live_share": on_grid(dice, 0.0, 0.6, 0.05),
            "materials": {
                "concrete_mpa": on_grid(dice, 7.0, 45.0, 0.5),
                "steel_mpa": (dice.within(220.0, 500.0) / 5.0).round() * 5.0,
                "hoop_steel_mpa": (dice.within(220.0, 450.0) / 5.0).round() * 5.0,
            },
            "column_types": column_types,
            "beam_types": beam_types,
            "columns": [{"column": "K1"}],
            "beams": [{"beam": "G1"}],
        },
    })
}

fn ground_motion(dice: &mut Dice) -> Value {
    let sxs = on_grid(dice, 0.1, 2.0, 0.05);
    let mut motion = json!({
        "sxs_g": sxs,
        "sx1_g": (sxs * dice.within(0.3, 1.0) * 100.0).round() / 100.0,
        "importance": one_of(dice, &[1.0, 1.25, 1.5]),
        "damping": one_of(dice, &[0.05, 0.05, 0.05, 0.03, 0.1]),
    });
    if dice.happens(0.15) {
        let peak = dice.within(0.2, 1.2);
        motion["table"] = json!([[0.0, peak / 2.5], [0.15, peak], [0.5, peak], [1.0, peak / 2.0], [3.0, peak / 6.0]]);
    }
    motion
}

fn column_type(dice: &mut Dice, name: &str) -> Value {
    let x = mm(dice, 260.0, 700.0);
    let square = dice.happens(0.5);
    let mut column = json!({
        "name": name,
        "x_mm": x,
        "y_mm": if square { x } else { mm(dice, 260.0, 700.0) },
        "bars": 2 * dice.whole(2, 9),
        "bar_mm": dice.whole(12, 28),
        "cover_mm": dice.whole(20, 40),
        "hoop_mm": dice.whole(6, 12),
        "hoop_spacing_mm": mm(dice, 80.0, 400.0),
        "hoop_legs_x": dice.whole(2, 4),
        "hoop_legs_y": dice.whole(2, 4),
        "hooks": one_of(dice, &["90", "90", "135"]),
        "base": one_of(dice, &["fixed", "fixed", "fixed", "pinned"]),
    });
    if dice.happens(0.35) {
        column["lap_mm"] = mm(dice, 200.0, 1200.0).into();
    }
    column
}

fn beam_type(dice: &mut Dice, name: &str) -> Value {
    json!({
        "name": name,
        "width_mm": mm(dice, 200.0, 450.0),
        "depth_mm": mm(dice, 300.0, 850.0),
        "top_bars": dice.whole(2, 6),
        "top_bar_mm": dice.whole(12, 28),
        "bottom_bars": dice.whole(2, 6),
        "bottom_bar_mm": dice.whole(12, 28),
        "stirrup_mm": dice.whole(6, 12),
        "stirrup_spacing_mm": mm(dice, 80.0, 350.0),
    })
}

/// Adds an item to the list at a pointer if the file is accepted with it.
fn offer(file: &mut Value, list: &str, item: Value) -> bool {
    let mut with = file.clone();
    match with.pointer_mut(list).map(|list| (list.is_array(), list)) {
        Some((true, list)) => list.as_array_mut().into_iter().for_each(|list| list.push(item.clone())),
        _ => {
            let Some((parent, key)) = list.rsplit_once('/') else { return false };
            if let Some(parent) = with.pointer_mut(parent) {
                parent[key] = json!([item]);
            }
        }
    }
    let accepted = Project::from_value(&with).is_ok();
    if accepted {
        *file = with;
    }
    accepted
}

/// What random parts are drawn within.
struct Bounds {
    storeys: usize,
    /// Names of lines across x and across y.
    names: [Vec<String>; 2],
}

impl Bounds {
    fn of(file: &Value) -> Self {
        let count = |key: &str| file["building"][key].as_array().map_or(0, Vec::len);
        let names = |key: &str| {
            let lines = file["building"][key].as_array().map(Vec::as_slice).unwrap_or_default();
            lines.iter().filter_map(|line| line["name"].as_str()).map(str::to_owned).collect()
        };
        Self { storeys: count("storeys"), names: [names("x_lines"), names("y_lines")] }
    }

    /// A line by name with the bays it has.
    fn line(&self, dice: &mut Dice) -> (&str, usize) {
        let across = dice.whole(0, 1);
        let own = &self.names[across];
        (&own[dice.whole(0, own.len() - 1)], self.names[1 - across].len() - 1)
    }

    /// Some line names across an axis; none stands for all.
    fn some(&self, dice: &mut Dice, across: usize) -> Vec<&str> {
        let all = &self.names[across];
        match dice.whole(0, 3) {
            0 => Vec::new(),
            1 => vec![&all[dice.whole(0, all.len() - 1)]],
            _ => all.iter().filter(|_| dice.happens(0.5)).map(String::as_str).collect(),
        }
    }

    fn span(dice: &mut Dice, most: usize) -> [usize; 2] {
        let first = dice.whole(1, most);
        [first, dice.whole(first, most)]
    }

    /// From the ground up, as walls mostly stand.
    fn wall_storeys(&self, dice: &mut Dice) -> [usize; 2] {
        if dice.happens(0.85) {
            [1, if dice.happens(0.7) { self.storeys } else { dice.whole(1, self.storeys) }]
        } else {
            Self::span(dice, self.storeys)
        }
    }
}

/// Other column types, missing columns, set-backs, other and missing beams, walls, masonry.
fn furnish(dice: &mut Dice, file: &mut Value) {
    let bounds = Bounds::of(file);
    let columns = "/building/columns";
    if bounds.storeys > 2 && dice.happens(0.5) {
        let from = dice.whole(2, bounds.storeys);
        offer(file, columns, json!({"column": "K2", "storeys": [from, bounds.storeys]}));
    }
    if dice.happens(0.4) {
        offer(file, columns, json!({"column": "K3", "y": bounds.some(dice, 1)}));
    }
    for _ in 0..dice.whole(0, 3) {
        let (x, y) = (one_name(dice, &bounds.names[0]), one_name(dice, &bounds.names[1]));
        let from = if dice.happens(0.5) { 1 } else { dice.whole(1, bounds.storeys) };
        offer(file, columns, json!({"column": "none", "x": [x], "y": [y], "storeys": [from, bounds.storeys]}));
    }
    if bounds.storeys > 1 && dice.happens(0.3) {
        let across = dice.whole(0, 1);
        let all = &bounds.names[across];
        let keep = dice.whole(1, all.len() - 1);
        let gone: Vec<&String> =
            if dice.happens(0.5) { all[keep..].iter().collect() } else { all[..keep].iter().collect() };
        let from = dice.whole(2, bounds.storeys);
        offer(file, columns, json!({"column": "none", ["x", "y"][across]: gone, "storeys": [from, bounds.storeys]}));
    }
    if dice.happens(0.5) {
        let line = bounds.line(dice).0;
        offer(file, "/building/beams", json!({"beam": "G2", "lines": [line]}));
    }
    if dice.happens(0.25) {
        let (line, bays) = bounds.line(dice);
        offer(file, "/building/beams", json!({"beam": "none", "lines": [line], "bays": Bounds::span(dice, bays)}));
    }
    for _ in 0..one_of(dice, &[0, 0, 1, 2, 4]) {
        let wall = wall(dice, &bounds);
        offer(file, "/building/walls", wall);
    }
    for _ in 0..one_of(dice, &[0, 0, 1, 2, 3]) {
        let (line, bays) = bounds.line(dice);
        let mut masonry = json!({"lines": [line], "thickness_mm": mm(dice, 100.0, 300.0)});
        if dice.happens(0.5) {
            masonry["sill_mm"] = mm(dice, 400.0, 1800.0).into();
        }
        if dice.happens(0.4) {
            masonry["bays"] = json!(Bounds::span(dice, bays));
        }
        if dice.happens(0.4) {
            masonry["storeys"] = json!(Bounds::span(dice, bounds.storeys));
        }
        offer(file, "/building/masonry", masonry);
    }
    file["building"]["masonry_counts"] = dice.happens(0.8).into();
    if dice.happens(0.5) {
        let mut with = file.clone();
        with["building"]["rooms"] = json!({"bays_per_room": dice.whole(1, 3), "corridor_strips": [1]});
        *file = with;
    }
}

fn one_name<'n>(dice: &mut Dice, names: &'n [String]) -> &'n str {
    &names[dice.whole(0, names.len() - 1)]
}

fn wall(dice: &mut Dice, bounds: &Bounds) -> Value {
    let (line, bays) = bounds.line(dice);
    let mut wall = json!({
        "line": line,
        "bay": dice.whole(1, bays),
        "storeys": bounds.wall_storeys(dice),
        "thickness_mm": mm(dice, 100.0, 300.0),
        "bar_mm": dice.whole(6, 16),
        "bar_spacing_mm": mm(dice, 100.0, 350.0),
        "curtains": dice.whole(1, 2),
    });
    add_opening(dice, &mut wall);
    add_footing(dice, &mut wall, [4.0, 14.0]);
    wall
}

fn add_opening(dice: &mut Dice, to: &mut Value) {
    if dice.happens(0.3) {
        to["opening"] = json!({"width_mm": mm(dice, 400.0, 2400.0), "height_mm": mm(dice, 400.0, 2400.0)});
    }
}

fn add_footing(dice: &mut Dice, to: &mut Value, length: [f64; 2]) {
    if dice.happens(0.7) {
        let mut footing = json!({
            "length_m": on_grid(dice, length[0], length[1], 0.1),
            "width_m": on_grid(dice, 1.0, 3.0, 0.1),
            "bearing_kpa": mm(dice, 60.0, 400.0),
        });
        if dice.happens(0.3) {
            footing["subgrade_mn_m3"] = dice.whole(5, 200).into();
        }
        to["footing"] = footing;
    }
}

/// One scheme without measures, one of each kind alone, and mixtures.
fn scheme_up(dice: &mut Dice, file: &mut Value) {
    let bounds = Bounds::of(file);
    offer(file, "/schemes", json!({"name": "Nothing", "measures": []}));
    for (kind, _) in Measure::KINDS {
        add_scheme(dice, file, kind, &[kind], &bounds);
    }
    let kinds: Vec<&str> = Measure::KINDS.iter().map(|(kind, _)| *kind).collect();
    for name in ["Mixture", "Other mixture"] {
        let drawn: Vec<&str> = (0..dice.whole(2, 5)).map(|_| one_of(dice, &kinds)).collect();
        add_scheme(dice, file, name, &drawn, &bounds);
    }
}

fn add_scheme(dice: &mut Dice, file: &mut Value, name: &str, kinds: &[&str], bounds: &Bounds) {
    let place = file["schemes"].as_array().map_or(0, Vec::len);
    offer(file, "/schemes", json!({"name": name, "measures": []}));
    for kind in kinds {
        // A measure that does not fit is drawn a few times more, so that most schemes have theirs.
        for _ in 0..6 {
            let measure = measure(dice, kind, bounds);
            if offer(file, &format!("/schemes/{place}/measures"), measure) {
                break;
            }
        }
    }
}

fn measure(dice: &mut Dice, kind: &str, bounds: &Bounds) -> Value {
    let storeys = if dice.happens(0.5) { [1, bounds.storeys] } else { Bounds::span(dice, bounds.storeys) };
    let (x, y) = (bounds.some(dice, 0), bounds.some(dice, 1));
    let new = json!({"concrete_mpa": dice.whole(20, 50), "steel_mpa": one_of(dice, &[345, 420, 500])});
    let mut measure = match kind {
        "jacket" => json!({
            "x": x, "y": y, "storeys": storeys,
            "thickness_mm": mm(dice, 60.0, 200.0),
            "bars": 4 * dice.whole(1, 5),
            "bar_mm": dice.whole(12, 28),
            "hoop_mm": dice.whole(8, 16),
            "hoop_spacing_mm": mm(dice, 60.0, 200.0),
            "continuous": dice.happens(0.8),
            "faces": one_of(dice, &["all", "all", "all", "not_lower_x", "not_higher_y", "lower_y", "higher_x"]),
            "relieved": dice.happens(0.3),
            "surface": one_of(dice, &["roughened", "roughened", "plain"]),
            "hoop_embedment_mm": if dice.happens(0.7) { json!(mm(dice, 100.0, 250.0)) } else { Value::Null },
        }),
        "wing_wall" => json!({
            "x": x, "y": y, "storeys": storeys,
            "edge_embedment_mm": if storeys[0] == 1 { json!(180) } else { Value::Null },
            "direction": one_of(dice, &["x", "y"]),
            "sides": one_of(dice, &["both", "higher", "lower"]),
            "length_mm": mm(dice, 300.0, 1000.0),
            "thickness_mm": mm(dice, 120.0, 260.0),
            "bar_mm": dice.whole(8, 16),
            "bar_spacing_mm": mm(dice, 100.0, 250.0),
            "embedment_mm": one_of(dice, &[0, 150, 300]),
            "footing": if storeys[1] % 2 == 0 { json!({"length_m": 3, "width_m": 1.5, "bearing_kpa": 200}) } else { Value::Null },
        }),
        "infill_wall" => {
            let (line, bays) = bounds.line(dice);
            let mut infill = json!({
                "line": line,
                "bays": if dice.happens(0.7) { [dice.whole(1, bays); 2] } else { Bounds::span(dice, bays) },
                "storeys": bounds.wall_storeys(dice),
                "thickness_mm": mm(dice, 120.0, 300.0),
                "bar_mm": dice.whole(8, 16),
                "bar_spacing_mm": mm(dice, 100.0, 250.0),
                "dowel_mm": dice.whole(12, 22),
                "dowel_spacing_mm": mm(dice, 100.0, 350.0),
                "dowel_embedment_mm": mm(dice, 80.0, 300.0),
            });
            add_opening(dice, &mut infill);
            add_footing(dice, &mut infill, [4.0, 14.0]);
            infill
        }
        "external_frame" => {
            let across = dice.whole(0, 1);
            let own = &bounds.names[across];
            let face = if dice.happens(0.5) { &own[0] } else { &own[own.len() - 1] };
            let bays = bounds.names[1 - across].len() - 1;
            let mut frame = json!({
                "face": face,
                "bays": if dice.happens(0.5) { [1, bays] } else { Bounds::span(dice, bays) },
                "gap_m": on_grid(dice, 0.2, 2.0, 0.05),
                "column_along_mm": 25.0 * (dice.within(400.0, 900.0) / 25.0).round(),
                "column_across_mm": 25.0 * (dice.within(400.0, 700.0) / 25.0).round(),
                "column_bars": 4 * dice.whole(2, 5),
                "column_bar_mm": dice.whole(16, 32),
                "beam_width_mm": 25.0 * (dice.within(300.0, 500.0) / 25.0).round(),
                "beam_depth_mm": 25.0 * (dice.within(450.0, 900.0) / 25.0).round(),
                "beam_bars": dice.whole(2, 6),
                "beam_bar_mm": dice.whole(16, 28),
                "slab_mm": mm(dice, 120.0, 250.0),
                "across_bar_mm": dice.whole(12, 20),
                "across_spacing_mm": mm(dice, 100.0, 300.0),
                "across_layers": dice.whole(1, 2),
                "embedment_mm": mm(dice, 80.0, 300.0),
                "along_bar_mm": dice.whole(10, 20),
                "along_spacing_mm": mm(dice, 100.0, 300.0),
                "surface": one_of(dice, &["roughened", "plain"]),
            });
            if dice.happens(0.3) {
                frame["storeys"] = dice.whole(1, bounds.storeys).into();
            }
            add_footing(dice, &mut frame, [1.2, 4.0]);
            // Drawn from what is there, so that older seeds keep their buildings.
            if frame["across_layers"] == 2 {
                frame["slab_drop_mm"] = 100.into();
                frame["slab_openings_m"] = 0.8.into();
            }
            frame
        }
        "release" => {
            return json!({"kind": kind, "x": x, "y": y, "storeys": storeys, "gap_mm": 5 * dice.whole(3, 10)});
        }
        other => unreachable!("{other} is a kind of measure this generator does not know"),
    };
    if let (Some(measure), Value::Object(new)) = (measure.as_object_mut(), new) {
        measure.insert("kind".to_owned(), kind.into());
        measure.extend(new);
    }
    measure
}

/// How often what came up, to show that the draws reach everything.
#[derive(Debug, Default)]
pub struct Coverage(BTreeMap<&'static str, u64>);

impl Coverage {
    /// Counts what a project has.
    pub fn count(&mut self, project: &Project) {
        let building = &project.building;
        let mut note = |what, there: bool| *self.0.entry(what).or_default() += u64::from(there);
        note("projects", true);
        note("one storey", building.storeys.len() == 1);
        note("seven storeys or more", building.storeys.len() >= 7);
        note("unequal bays", is_uneven(building));
        note("missing columns or set-backs", building.columns.iter().any(|it| it.column == "none"));
        note("missing beams", building.beams.iter().any(|it| it.beam == "none"));
        note("pinned bases", building.column_types.iter().any(|it| it.base.key() == "pinned"));
        note("short laps possible", building.column_types.iter().any(|it| it.lap_mm.is_some()));
        note("walls", !building.walls.is_empty());
        note("walls with openings", building.walls.iter().any(|wall| wall.opening.is_some()));
        note("walls without footings", building.walls.iter().any(|wall| wall.footing.is_none()));
        note("full-height masonry", building.masonry.iter().any(|it| it.sill_mm.is_none()));
        note("masonry not counted", !building.masonry_counts);
        note("sills", building.masonry.iter().any(|it| it.sill_mm.is_some()));
        note("second rule set", project.rules != RuleSet::USUAL);
        note("rooms of its own", !project.building.rooms.own.is_empty());
        note("ground acceleration and type", project.ground_motion.by_ground.is_some());
        note("pasted spectra", !project.ground_motion.table.is_empty());
        let measures = || project.schemes.iter().flat_map(|scheme| &scheme.measures);
        note("jackets", measures().any(|it| matches!(it, Measure::Jacket(_))));
        note("jackets that stop at floors", measures().any(|it| matches!(it, Measure::Jacket(own) if !own.continuous)));
        note("jackets on some faces", measures().any(|it| matches!(it, Measure::Jacket(own) if !own.closed())));
        note("jackets on relieved columns", measures().any(|it| matches!(it, Measure::Jacket(own) if own.relieved)));
        note("wing walls", measures().any(|it| matches!(it, Measure::WingWall(_))));
        note("infill walls", measures().any(|it| matches!(it, Measure::InfillWall(_))));
        note("external frames", measures().any(|it| matches!(it, Measure::ExternalFrame(_))));
        note(
            "low external frames",
            measures().any(|it| matches!(it, Measure::ExternalFrame(own) if own.storeys.is_some())),
        );
        note("releases", measures().any(|it| matches!(it, Measure::Release(_))));
        let mixed = |least: usize| project.schemes.iter().any(|scheme| scheme.measures.len() >= least);
        note("two measures or more", mixed(2));
        note("four measures or more", mixed(4));
    }

    /// The counts, one a line.
    pub fn table(&self) -> String {
        let mut text = String::new();
        for (what, count) in &self.0 {
            let _ = writeln!(text, "{count:6}  {what}");
        }
        text
    }

    /// What never came up.
    pub fn missing(&self) -> Vec<&'static str> {
        self.0.iter().filter(|(_, count)| **count == 0).map(|(what, _)| *what).collect()
    }
}

fn is_uneven(building: &Building) -> bool {
    Direction::BOTH.iter().any(|direction| {
        let lines = match direction {
            Direction::X => &building.x_lines,
            Direction::Y => &building.y_lines,
        };
        let bays: Vec<f64> = lines.windows(2).map(|pair| pair[1].at_m - pair[0].at_m).collect();
        bays.iter().any(|bay| (bay - bays[0]).abs() > 0.01)
    })
}
