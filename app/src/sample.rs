//! A study made by hand for tests of drawings, sheets and the chart: the forces balance,
//! the strengths are invented.

use sisterframe_core::finding::{CAUTIONS, Code, Finding};
use sisterframe_core::measure::describe;
use sisterframe_core::model::{Model, PanelOrigin};
use sisterframe_core::place::{Class, Place};
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::study::{
    Added, Band, DirectionResult, Failure, FloorMove, ForceBound, Headline, LineResult, OptionKind, OptionResult,
    Programmed, SiteClosed, SlabResult, StoreyFacts, StoreyResult, Study, Weakest, WorksResult,
};
use sisterframe_core::works::programme::Figures;

/// The clinic, which has two external frames in its last scheme.
pub const CLINIC: &str = include_str!("../../demo-scenarios/clinic.json");

/// A project that is known to open.
pub fn project(text: &str) -> Project {
    Project::from_json(text).unwrap_or_else(|error| panic!("{error}"))
}

/// The building as it stands.
pub fn bare() -> Scheme {
    Scheme { name: "As it stands".to_owned(), note: String::new(), measures: Vec::new() }
}

/// Results of every option of a project.
pub fn study(project: &Project) -> Study {
    let building = &project.building;
    let as_built = Model::new(building, &bare());
    let weight: f64 = as_built.floors.iter().map(|floor| floor.weight_kn).sum();
    let mut options = vec![option(project, &bare(), OptionKind::AsItStands, 0, weight)];
    for (index, scheme) in project.schemes.iter().enumerate() {
        options.push(option(project, scheme, OptionKind::Scheme { index }, index + 1, weight));
    }
    let mut rebuild = option(project, &bare(), OptionKind::Rebuild, 0, weight);
    rebuild.name = "Rebuild".to_owned();
    rebuild.directions.clear();
    rebuild.strength_gain = None;
    rebuild.strength_to_demand = None;
    rebuild.ductility_needed = None;
    rebuild.weakest = None;
    rebuild.findings = vec![Finding::new(Code::RebuildByCode, Place::Building, "")];
    rebuild.works = Some(WorksResult {
        man_days: Band { low: 9000.0, mid: 12_400.0, high: 16_000.0 },
        closed: Some(SiteClosed {
            rooms: 24,
            weeks: Band { low: 52.2, mid: 65.2, high: 78.3 },
            room_days_in_use: Band { low: 5200.0, mid: 6300.0, high: 7700.0 },
        }),
        ..WorksResult::default()
    });
    rebuild.programme = None;
    options.push(rebuild);
    Study {
        project: project.name.clone(),
        rules: "American: ASCE 7-16, ASCE 41-17, ACI 318-19".to_owned(),
        ground_motion: "Plateau 0.70 g, immediate use".to_owned(),
        weight_kn: weight,
        floor_area_m2: as_built.floors.iter().map(|floor| floor.area_m2).sum(),
        storeys: StoreyFacts::of(&as_built.floors),
        options,
        cautions: CAUTIONS.iter().map(|caution| (*caution).to_owned()).collect(),
    }
}

fn option(project: &Project, scheme: &Scheme, kind: OptionKind, rank: usize, weight: f64) -> OptionResult {
    let model = Model::new(&project.building, scheme);
    let mut slabs = Vec::new();
    let directions: Vec<DirectionResult> =
        Direction::BOTH.into_iter().map(|way| direction(&model, way, rank, &mut slabs)).collect();
    let weaker = if directions[0].storeys[0].ratio <= directions[1].storeys[0].ratio { 0 } else { 1 };
    let worst = directions[weaker]
        .storeys
        .iter()
        .min_by(|a, b| a.ratio.total_cmp(&b.ratio))
        .map_or((1.0, 1), |storey| (storey.ratio, storey.storey));
    let headline = Headline { ratio: worst.0, along_x: weaker == 0, storey: worst.1 };
    let mut findings = vec![Finding::new(Code::JointsAsBuilt, Place::Building, "")];
    if slabs.iter().any(|slab: &SlabResult| slab.utilisation > 1.0) {
        findings.insert(0, Finding::new(Code::SlabShort, Place::Building, "line A, level 2"));
    }
    if rank == 0 {
        findings.insert(0, Finding::new(Code::ColumnShearGoverned, Place::Building, "12 columns in storey 1"));
    }
    OptionResult {
        kind,
        letter: if rank == 0 { String::new() } else { char::from(b'A' + rank as u8 - 1).to_string() },
        name: scheme.name.clone(),
        measures: scheme.measures.iter().map(|measure| describe(measure, &project.building)).collect(),
        pending: false,
        strength_gain: Some(Headline { ratio: 1.0 + 0.4 * rank as f64, ..headline }),
        strength_to_demand: Some(headline),
        ductility_needed: Some((1.0 / headline.ratio).max(1.0)),
        capacity_to_demand: None,
        weakest: Some(Weakest {
            along_x: headline.along_x,
            storey: headline.storey,
            failure: if rank == 0 { Failure::Shear } else { Failure::FlexureShear },
            first: None,
        }),
        added: Added {
            weight_kn: model.added_kn,
            weight_share: model.added_kn / weight,
            concrete_m3: model.added_kn / 25.0,
            steel_t: model.added_kn / 25.0 * 0.12,
        },
        works: Some(if rank == 0 {
            WorksResult::default()
        } else {
            let mid = 200.0 + 90.0 * rank as f64;
            WorksResult { man_days: Band { low: mid * 0.7, mid, high: mid * 1.6 }, ..WorksResult::default() }
        }),
        programme: (rank > 0).then(|| {
            let own = Figures {
                room_days_in_use: if slabs.is_empty() { 240 - 30 * rank as u32 } else { 0 },
                ..Figures::default()
            };
            Programmed { paces: [own.clone(), own.clone(), own], spilled: [0; 3] }
        }),
        programme_pending: false,
        slabs,
        connections: Vec::new(),
        findings,
        directions,
    }
}

fn direction(model: &Model, way: Direction, rank: usize, slabs: &mut Vec<SlabResult>) -> DirectionResult {
    let along_x = way == Direction::X;
    let frames: Vec<_> = model.frames.iter().filter(|frame| frame.direction == way).collect();
    let weight: f64 = model.floors.iter().map(|floor| floor.weight_kn).sum::<f64>() + model.added_kn;
    let acceleration = 0.55 + 0.02 * rank as f64;
    let base = acceleration * weight;
    let moment: f64 = model.floors.iter().map(|floor| floor.weight_kn * floor.level_m).sum();
    let forces: Vec<f64> = model.floors.iter().map(|floor| base * floor.weight_kn * floor.level_m / moment).collect();
    let count = forces.len();
    let shear = |index: usize| forces[index..].iter().sum::<f64>();
    // A frame carries most at the base and, at the roof, may be pushed by the building.
    let frame_shear = |index: usize| -> f64 {
        if frames.is_empty() || index >= count {
            return 0.0;
        }
        let height = index as f64 / (count.max(2) - 1) as f64;
        shear(index) * (0.56 - 0.5 * height) / frames.len() as f64
    };
    let own = |index: usize| if frames.is_empty() { 0.0 } else { forces[index] * 0.05 / frames.len() as f64 };
    for frame in &frames {
        for index in 0..count {
            let force = frame_shear(index) - frame_shear(index + 1) - own(index);
            let (friction, strip) = (620.0, 560.0 + 40.0 * index as f64);
            let demand = force.abs() * 1.1;
            slabs.push(SlabResult {
                face: frame.spec.face.clone(),
                along_x,
                level: index as u32 + 1,
                stiffness_kn_m: 1e6,
                elastic_force_kn: force,
                shear_above_kn: frame_shear(index + 1),
                shear_below_kn: frame_shear(index),
                own_inertia_kn: own(index),
                demand_kn: demand,
                bound: if index == 0 { ForceBound::FrameMechanism } else { ForceBound::ElasticSpectrum },
                friction_kn: friction,
                friction_capped: false,
                peak: 1.0,
                bar_stress_mpa: 230.0,
                anchorage_limited: true,
                strip_kn: strip,
                strip_capped: false,
                strength_kn: f64::min(friction, strip),
                friction_governs: friction <= strip,
                phi: [0.75, 0.6],
                moment_kn_m: force.abs() * frame.lever_m,
                chord_kn: force.abs() * 0.1,
                tension_kn: 0.0,
                utilisation: demand / f64::min(friction, strip),
            });
        }
    }
    let walls = model
        .panels
        .iter()
        .filter(|panel| panel.direction == way && matches!(panel.origin, PanelOrigin::Infill(_)))
        .count();
    let strengthened = model.columns.iter().any(|column| column.class() == Class::Strengthened);
    let storeys: Vec<StoreyResult> = (0..count)
        .map(|index| {
            let external = frame_shear(index) * frames.len() as f64;
            let rest = shear(index) - external;
            let height = index as f64 / count as f64;
            let wall = if walls > 0 { rest * (0.75 - 1.1 * height) } else { 0.0 };
            let skin = if strengthened { (rest - wall) * 0.6 } else { 0.0 };
            let drift = 18.0 * (1.0 - 0.5 * height) / (1.0 + 0.5 * rank as f64);
            let ratio = 0.42 + 0.14 * rank as f64 + 0.3 * height + if along_x { 0.0 } else { 0.06 };
            StoreyResult {
                storey: index as u32 + 1,
                floor_force_kn: forces[index],
                shear_kn: shear(index),
                class_shear_kn: [rest - wall - skin, skin, wall + external],
                drift_mm: drift,
                drift_ratio: drift / model.floors[index].height_m / 1000.0,
                stiffness_kn_m: shear(index) / drift * 1000.0,
                strength_kn: shear(index) * ratio,
                strength_drift_mm: drift * 0.7,
                ratio,
                failure: if rank == 0 { Failure::Shear } else { Failure::FlexureShear },
                lost: Vec::new(),
                p_delta: 0.01,
                sway: None,
                eccentricity_m: None,
                floor: FloorMove { weight_kn: model.floors[index].weight_kn, ..FloorMove::default() },
                members: Vec::new(),
            }
        })
        .collect();
    let grid = model.lines(way);
    let mut lines: Vec<LineResult> = grid
        .iter()
        .enumerate()
        .map(|(place, line)| {
            let share =
                (1.0 + 0.15 * place as f64) / (0..grid.len()).map(|other| 1.0 + 0.15 * other as f64).sum::<f64>();
            let shears: Vec<f64> =
                (0..count).map(|index| (shear(index) - frame_shear(index) * frames.len() as f64) * share).collect();
            LineResult {
                name: line.name.clone(),
                external: false,
                ordinate_m: line.at_m,
                shear_with_accidental_kn: shears.iter().map(|shear| shear * 1.08).collect(),
                shear_kn: shears,
                drift_mm: storeys.iter().map(|storey| storey.drift_mm * (1.0 + 0.1 * place as f64)).collect(),
            }
        })
        .collect();
    lines.extend(frames.iter().map(|frame| {
        let shears: Vec<f64> = (0..count).map(frame_shear).collect();
        LineResult {
            name: frame.name(),
            external: true,
            ordinate_m: frame.ordinate_m,
            shear_with_accidental_kn: shears.iter().map(|shear| shear * 1.05).collect(),
            shear_kn: shears,
            drift_mm: storeys.iter().map(|storey| storey.drift_mm * 0.95).collect(),
        }
    }));
    DirectionResult {
        along_x,
        period_s: 0.62 / (1.0 + 0.15 * rank as f64),
        effective_mass: 0.86,
        acceleration_g: acceleration,
        weight_kn: weight,
        base_shear_kn: base,
        strength_kn: storeys[0].strength_kn,
        strength_storey: 1,
        eccentricity_m: 0.4 * rank as f64,
        eccentricity_share: 0.03 * rank as f64,
        capacity: None,
        roof_stiffness_kn_m: [1.0; 2],
        storeys,
        lines,
        beams: Vec::new(),
    }
}
