//! How the assistant lays a building out: grid, sections, what stands where.

use super::Answers;
use crate::eras::{FEATURES, bars, column_bars, hooks, lap_mm, note, typical, up_to};
use crate::project::{
    Base, BeamPlacing, BeamType, Building, ColumnPlacing, ColumnType, Corridors, Feature, GridLine, Knowledge, Masonry,
    Materials, Names, Occupancy, Rooms, Span, Storey,
};
use crate::units::System;

/// What is typical of the era and practice answered.
#[derive(Clone, Copy)]
struct Usual<'a>(&'a Answers);

impl Usual<'_> {
    fn of(self, feature: Feature) -> f64 {
        typical(feature, self.0.practice, self.0.year, self.0.occupancy).in_units(feature, self.0.system).value
    }

    /// Steps of sections and of slabs, mm.
    const fn steps_mm(self) -> [f64; 2] {
        match self.0.system {
            System::Si => [50.0, 10.0],
            System::Us => [50.8, 12.7],
        }
    }

    /// One value in SI, another in US units: the round numbers of each.
    const fn either(self, metric: f64, us: f64) -> f64 {
        match self.0.system {
            System::Si => metric,
            System::Us => us,
        }
    }
}

/// The widest strip a line carries, m: half the spans on both of its sides.
fn strip_m(spans: &[f64]) -> f64 {
    let inner = spans.windows(2).map(|pair| 0.5 * (pair[0] + pair[1])).fold(0.0, f64::max);
    inner.max(0.5 * spans.iter().copied().fold(0.0, f64::max))
}

fn longest(spans: &[f64]) -> f64 {
    spans.iter().copied().fold(0.0, f64::max)
}

/// A column that carries its load at about a third of the concrete's strength (common practice, no
/// source) and leaves room in the shortest bay.
fn column_type(name: &str, load_kn: f64, shortest_m: f64, answers: &Answers) -> ColumnType {
    let usual = Usual(answers);
    let [step_mm, _] = usual.steps_mm();
    let room_mm = ((1000.0 * shortest_m - 600.0).min(2000.0) / step_mm).floor() * step_mm;
    let side_mm =
        up_to((1000.0 * load_kn / (0.35 * usual.of(Feature::Concrete))).sqrt(), step_mm).clamp(6.0 * step_mm, room_mm);
    let (bars, bar_mm) = column_bars(side_mm, side_mm, usual.of(Feature::ColumnBars), answers.system);
    // Legs between the corners came with closer hoops (common practice, no source).
    let hoop_spacing_mm = usual.of(Feature::HoopSpacing);
    let legs = if hoop_spacing_mm > 205.0 { 2 } else { ((side_mm / 350.0).ceil() as u32 + 1).clamp(2, 12) };
    ColumnType {
        name: name.to_owned(),
        x_mm: side_mm,
        y_mm: side_mm,
        bars,
        bar_mm,
        cover_mm: usual.of(Feature::Cover),
        hoop_mm: usual.of(Feature::Hoop),
        hoop_spacing_mm,
        hoop_legs_x: legs,
        hoop_legs_y: legs,
        hooks: hooks(usual.of(Feature::Hooks)),
        lap_mm: lap_mm(usual.of(Feature::Lap), bar_mm, answers.system),
        base: Base::Fixed,
    }
}

/// A beam as deep as an eleventh of its span, with bars for the moment of its load at half
/// their yield strength (common practice, no source).
fn beam_type(name: &str, span_m: f64, load_kn_m: f64, widest_mm: f64, answers: &Answers) -> BeamType {
    let usual = Usual(answers);
    let [step_mm, _] = usual.steps_mm();
    let half_storey = (500.0 * answers.height_m / step_mm).floor() * step_mm;
    let least_mm = 7.0 * step_mm;
    let depth_mm = up_to(1000.0 * span_m / 11.0, step_mm).clamp(least_mm, half_storey.max(least_mm));
    let width_mm = up_to(0.5 * depth_mm, step_mm).max(5.0 * step_mm).min(widest_mm);
    let moment_knm = load_kn_m * span_m * span_m / 11.0;
    let lever_mm = 0.8 * depth_mm;
    let area_mm2 = 1e6 * moment_knm / (0.5 * usual.of(Feature::Steel) * lever_mm);
    let (top_bars, top_bar_mm) = bars(area_mm2, 2, 6.max((width_mm / 60.0) as u32), answers.system);
    BeamType {
        name: name.to_owned(),
        width_mm,
        depth_mm,
        top_bars,
        top_bar_mm,
        bottom_bars: (top_bars / 2).max(2),
        bottom_bar_mm: top_bar_mm,
        cover_mm: usual.of(Feature::Cover),
        stirrup_mm: usual.of(Feature::Stirrup),
        stirrup_spacing_mm: usual.of(Feature::StirrupSpacing),
    }
}

fn lines(spans: &[f64], name: impl Fn(usize) -> String) -> Vec<GridLine> {
    let mut at_m = 0.0;
    let mut lines = vec![GridLine { name: name(0), at_m }];
    for (place, span) in spans.iter().enumerate() {
        at_m += span;
        // To the millimetre, so that sums of spans stay readable.
        lines.push(GridLine { name: name(place + 1), at_m: (at_m * 1000.0).round() / 1000.0 });
    }
    lines
}

/// Letters in order: A, B … Z.
fn lettered(place: usize) -> String {
    char::from(b'A' + (place % 26) as u8).to_string()
}

/// The building the answers describe.
pub(super) fn building(answers: &Answers) -> Building {
    let usual = Usual(answers);
    let live_kpa = usual.of(Feature::Live);
    let (along_x, along_y) = (&answers.spans_x_m, &answers.spans_y_m);
    // The slab spans the shorter way between beams.
    let slab_span = longest(along_x).min(longest(along_y));
    let [_, step_mm] = usual.steps_mm();
    let slab_mm = up_to(1000.0 * slab_span / 35.0, step_mm).max(usual.either(120.0, 127.0));
    let floor =
        |finishes_kpa: f64, live_kpa: f64| Storey { height_m: answers.height_m, slab_mm, finishes_kpa, live_kpa };
    // 30, 25 and 20 psf in US units.
    let finishes_kpa = usual.either(1.5, 1.436_408);
    let mut storeys = vec![floor(finishes_kpa, live_kpa); answers.storeys as usize - 1];
    storeys.push(floor(usual.either(1.2, 1.197_006), usual.either(0.96, 0.957_605)));
    // Beams, columns and partitions beside the slab, kPa (common practice, no source).
    let floor_kpa = slab_mm / 1000.0 * 24.0 + 1.5 + live_kpa + 3.0;
    let (strip_x, strip_y) = (strip_m(along_x), strip_m(along_y));
    let load_kn = |floors: u32| strip_x * strip_y * floor_kpa * f64::from(floors);
    let shortest = along_x.iter().chain(along_y).copied().fold(f64::INFINITY, f64::min);
    let lower = column_type("C1", load_kn(answers.storeys), shortest, answers);
    let x_lines = lines(along_x, |place| (place + 1).to_string());
    let y_lines = lines(along_y, lettered);
    let all = |column: &str, storeys| ColumnPlacing {
        column: column.to_owned(),
        x: Names::default(),
        y: Names::default(),
        storeys,
    };
    let mut column_types = vec![lower];
    let mut columns = vec![all("C1", None)];
    // From four storeys on the upper half has smaller columns.
    if answers.storeys >= 4 {
        let first = answers.storeys / 2 + 1;
        column_types.push(column_type("C2", load_kn(answers.storeys + 1 - first), shortest, answers));
        columns.push(all("C2", Some(Span { first, last: answers.storeys })));
    }
    let narrowest = column_types.iter().map(|column| column.x_mm).fold(f64::INFINITY, f64::min);
    let beam_types = vec![
        beam_type("B1", longest(along_x), strip_y * floor_kpa, narrowest, answers),
        beam_type("B2", longest(along_y), strip_x * floor_kpa, narrowest, answers),
    ];
    let beam = |beam: &str, lines: &[GridLine]| BeamPlacing {
        beam: beam.to_owned(),
        lines: Names(lines.iter().map(|line| line.name.clone()).collect()),
        bays: None,
        storeys: None,
    };
    let beams = vec![beam("B1", &y_lines), beam("B2", &x_lines)];
    let mut masonry = Vec::new();
    if answers.sills {
        let fronts = [y_lines.first(), y_lines.last()].into_iter().flatten();
        masonry.push(Masonry {
            lines: Names(fronts.map(|line| line.name.clone()).collect()),
            bays: None,
            storeys: None,
            thickness_mm: usual.either(200.0, 203.2),
            sill_mm: Some(usual.either(900.0, 914.4)),
            compressive_mpa: usual.of(Feature::MasonryCompression),
            shear_mpa: usual.of(Feature::MasonryShear),
        });
    }
    // A strip too narrow for rooms beside wider ones is taken for a corridor.
    let is_corridor = |span: &f64| *span <= 3.5 && longest(along_y) > 1.5 * span;
    let strips = along_y.iter().enumerate().filter(|(_, span)| is_corridor(span));
    let most = along_x.len() as u32;
    let mut building = Building {
        occupancy: answers.occupancy,
        year: answers.year,
        practice: answers.practice,
        x_lines,
        y_lines,
        storeys,
        live_share: usual.of(Feature::LiveShare),
        materials: Materials {
            concrete_mpa: usual.of(Feature::Concrete),
            steel_mpa: usual.of(Feature::Steel),
            hoop_steel_mpa: usual.of(Feature::HoopSteel),
            knowledge: Knowledge::Assumed,
        },
        column_types,
        beam_types,
        columns,
        beams,
        walls: Vec::new(),
        masonry,
        masonry_counts: true,
        rooms: Rooms {
            bays_per_room: if answers.occupancy == Occupancy::School { most.min(2) } else { 1 },
            corridor_strips: Corridors(strips.map(|(place, _)| place as u32 + 1).collect()),
            own: Vec::new(),
        },
        assumed: Vec::new(),
    };
    for feature in FEATURES {
        note(&mut building, feature, answers.practice, answers.year);
    }
    building
}
