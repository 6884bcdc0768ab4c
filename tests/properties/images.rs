//! The same building seen otherwise: mirrored, turned, moved, renamed.

use crate::{evaluated, seeds, studied};
use sisterframe_core::place::Place;
use sisterframe_core::project::{
    BeamPlacing, ColumnPlacing, Direction, JacketFaces, Masonry, Measure, Names, Project, Sides, Span,
};
use sisterframe_core::study::{DirectionResult, ForceBound, OptionResult, Study};
use sisterframe_tests::numbers::numbers;
use sisterframe_tests::projects::each_project;

/// The project with rooms of one bay, which look the same from everywhere.
fn with_small_rooms(mut project: Project) -> Project {
    project.building.rooms.bays_per_room = 1;
    project.building.rooms.corridor_strips.0.clear();
    project.building.rooms.own.clear();
    project
}

/// The building mirrored so that what lay towards higher ordinates in a direction lies towards lower.
fn mirrored(project: &Project, direction: Direction) -> Project {
    let mut image = project.clone();
    let before = &project.building;
    let count = before.bays(direction);
    let flips = |line: &str| before.line(line).is_some_and(|(own, _)| own == direction);
    let flip = |span: Span| Span { first: count + 1 - span.last, last: count + 1 - span.first };
    let building = &mut image.building;
    let lines = match direction {
        Direction::X => &mut building.x_lines,
        Direction::Y => &mut building.y_lines,
    };
    lines.reverse();
    lines.iter_mut().for_each(|line| line.at_m = -line.at_m);
    building.beams = before.beams.iter().map(|placing| flip_beam(placing, &flips, &flip)).collect();
    building.masonry = before.masonry.iter().map(|masonry| flip_masonry(masonry, &flips, &flip)).collect();
    for wall in building.walls.iter_mut().filter(|wall| flips(&wall.line)) {
        wall.bay = count + 1 - wall.bay;
    }
    for measure in image.schemes.iter_mut().flat_map(|scheme| &mut scheme.measures) {
        match measure {
            Measure::InfillWall(infill) if flips(&infill.line) => infill.bays = flip(infill.bays),
            Measure::ExternalFrame(frame) if flips(&frame.face) => frame.bays = flip(frame.bays),
            Measure::Jacket(jacket) => jacket.faces = mirrored_faces(jacket.faces, direction),
            Measure::WingWall(wing) if wing.direction == direction => {
                wing.sides = match wing.sides {
                    Sides::Both => Sides::Both,
                    Sides::Higher => Sides::Lower,
                    Sides::Lower => Sides::Higher,
                };
            }
            _ => {}
        }
    }
    image
}

/// Faces of a jacket in a building mirrored along a direction.
fn mirrored_faces(faces: JacketFaces, direction: Direction) -> JacketFaces {
    use JacketFaces as F;
    match (direction, faces) {
        (Direction::X, F::LowerX) => F::HigherX,
        (Direction::X, F::HigherX) => F::LowerX,
        (Direction::X, F::ThreeNotLowerX) => F::ThreeNotHigherX,
        (Direction::X, F::ThreeNotHigherX) => F::ThreeNotLowerX,
        (Direction::Y, F::LowerY) => F::HigherY,
        (Direction::Y, F::HigherY) => F::LowerY,
        (Direction::Y, F::ThreeNotLowerY) => F::ThreeNotHigherY,
        (Direction::Y, F::ThreeNotHigherY) => F::ThreeNotLowerY,
        (_, other) => other,
    }
}

/// The same with x and y exchanged.
const fn turned_faces(faces: JacketFaces) -> JacketFaces {
    use JacketFaces as F;
    match faces {
        F::All => F::All,
        F::LowerX => F::LowerY,
        F::LowerY => F::LowerX,
        F::HigherX => F::HigherY,
        F::HigherY => F::HigherX,
        F::ThreeNotLowerX => F::ThreeNotLowerY,
        F::ThreeNotLowerY => F::ThreeNotLowerX,
        F::ThreeNotHigherX => F::ThreeNotHigherY,
        F::ThreeNotHigherY => F::ThreeNotHigherX,
    }
}

fn all_one_way(lines: &Names, flips: &impl Fn(&str) -> bool) -> Option<bool> {
    let ways: Vec<bool> = lines.0.iter().map(|line| flips(line)).collect();
    ways.first().copied().filter(|first| ways.iter().all(|way| way == first))
}

fn flip_beam(placing: &BeamPlacing, flips: &impl Fn(&str) -> bool, flip: &impl Fn(Span) -> Span) -> BeamPlacing {
    let mut image = placing.clone();
    if let Some(bays) = placing.bays {
        let Some(own) = all_one_way(&placing.lines, flips) else { panic!("bays are drawn for one direction only") };
        image.bays = Some(if own { flip(bays) } else { bays });
    }
    image
}

fn flip_masonry(masonry: &Masonry, flips: &impl Fn(&str) -> bool, flip: &impl Fn(Span) -> Span) -> Masonry {
    let mut image = masonry.clone();
    if let Some(bays) = masonry.bays {
        let Some(own) = all_one_way(&masonry.lines, flips) else { panic!("bays are drawn for one direction only") };
        image.bays = Some(if own { flip(bays) } else { bays });
    }
    image
}

/// The building with its axes exchanged: what ran along x runs along y.
fn turned(project: &Project) -> Project {
    let mut image = project.clone();
    let building = &mut image.building;
    std::mem::swap(&mut building.x_lines, &mut building.y_lines);
    for kind in &mut building.column_types {
        std::mem::swap(&mut kind.x_mm, &mut kind.y_mm);
        std::mem::swap(&mut kind.hoop_legs_x, &mut kind.hoop_legs_y);
    }
    for placing in &mut building.columns {
        let ColumnPlacing { x, y, .. } = placing;
        std::mem::swap(x, y);
    }
    for measure in image.schemes.iter_mut().flat_map(|scheme| &mut scheme.measures) {
        match measure {
            Measure::Jacket(jacket) => {
                std::mem::swap(&mut jacket.x, &mut jacket.y);
                jacket.faces = turned_faces(jacket.faces);
            }
            Measure::Release(release) => std::mem::swap(&mut release.x, &mut release.y),
            Measure::WingWall(wing) => {
                std::mem::swap(&mut wing.x, &mut wing.y);
                wing.direction = wing.direction.across();
            }
            Measure::InfillWall(_) | Measure::ExternalFrame(_) => {}
        }
    }
    image
}

/// What two images of a building must share, with the scale each is compared on.
struct Comparison<'a> {
    which: String,
    one: &'a DirectionResult,
    other: &'a DirectionResult,
    /// Sign of ordinates across the direction in the image.
    sign: f64,
}

const TOLERANCE: f64 = 1e-8;

impl Comparison<'_> {
    fn near(&self, what: &str, one: f64, other: f64, scale: f64) {
        let slack = TOLERANCE * scale.abs().max(one.abs());
        assert!((one - other).abs() <= slack, "{}, {what}: {one} against {other}", self.which);
    }

    fn run(&self) {
        let Self { one, other, sign, .. } = self;
        let (shear, width) = (one.base_shear_kn, 30.0);
        self.near("period", one.period_s, other.period_s, 0.0);
        self.near("mass", one.effective_mass, other.effective_mass, 1.0);
        self.near("weight", one.weight_kn, other.weight_kn, 0.0);
        self.near("base shear", one.base_shear_kn, other.base_shear_kn, 0.0);
        self.near("strength", one.strength_kn, other.strength_kn, 0.0);
        self.near("eccentricity", one.eccentricity_m.abs(), other.eccentricity_m.abs(), width);
        if one.eccentricity_share > 1e-3 && !two_like(one) {
            self.near("eccentricity's sense", one.eccentricity_m, sign * other.eccentricity_m, width);
        }
        for (a, b) in one.storeys.iter().zip(&other.storeys) {
            let s = a.storey;
            self.near(&format!("storey {s} shear"), a.shear_kn, b.shear_kn, 0.0);
            self.near(&format!("storey {s} drift"), a.drift_mm, b.drift_mm, one.storeys[0].drift_mm);
            self.near(&format!("storey {s} strength"), a.strength_kn, b.strength_kn, 0.0);
            for (class, (a, b)) in a.class_shear_kn.iter().zip(&b.class_shear_kn).enumerate() {
                self.near(&format!("storey {s} class {class}"), *a, *b, shear);
            }
            assert_eq!(a.members.len(), b.members.len(), "{}, storey {s}", self.which);
            for member in a.members.iter().filter(|member| !matches!(member.place, Place::Panel { .. })) {
                let Some(image) =
                    b.members.iter().find(|it| same_place(&it.place, &member.place, &it.line, &member.line))
                else {
                    panic!("{}: nothing at {}", self.which, member.place)
                };
                let at = member.place.to_string();
                self.near(&format!("{at} shear"), member.shear_kn, image.shear_kn, shear);
                self.near(&format!("{at} strength"), member.strength_kn, image.strength_kn, 1.0);
                self.near(&format!("{at} load"), member.axial_kn, image.axial_kn, 1.0);
            }
            let walls = |of: &[sisterframe_core::study::MemberResult]| -> f64 {
                of.iter().filter(|it| matches!(it.place, Place::Panel { .. })).map(|it| it.strength_kn).sum()
            };
            self.near(&format!("storey {s} walls"), walls(&a.members), walls(&b.members), 1.0);
        }
        assert_eq!(one.lines.len(), other.lines.len(), "{}", self.which);
        for line in &one.lines {
            let Some(image) = other.lines.iter().find(|it| it.name == line.name) else {
                panic!("{}: no line {}", self.which, line.name)
            };
            for s in 0..line.shear_kn.len() {
                let at = format!("line {} storey {}", line.name, s + 1);
                self.near(&at, line.shear_kn[s], image.shear_kn[s], shear);
                self.near(&at, line.drift_mm[s], image.drift_mm[s], one.storeys[0].drift_mm);
                let [a, b] = [line, image].map(|it| it.shear_with_accidental_kn[s].abs());
                self.near(&format!("{at} accidental"), a, b, shear);
            }
        }
    }
}

/// Whether two storeys have eccentricities of the same size and other sense, so that rounding
/// picks the one that is shown.
fn two_like(direction: &DirectionResult) -> bool {
    direction.storeys.len() > 1 && direction.eccentricity_share < 0.02
}

/// An external frame is named by its first column, which the mirror changes.
fn same_place(one: &Place, other: &Place, line: &str, other_line: &str) -> bool {
    match (one, other) {
        (Place::FrameColumn { face: a, storey: s, .. }, Place::FrameColumn { face: b, storey: t, .. }) => {
            a == b && s == t
        }
        (Place::Column { x: x1, y: y1, storey: s }, Place::Column { x: x2, y: y2, storey: t }) => {
            // With the axes exchanged the names of a crossing are, too.
            s == t && ((x1 == x2 && y1 == y2) || (x1 == y2 && y1 == x2)) && line == other_line
        }
        _ => one == other,
    }
}

fn compare_slabs(which: &str, one: &OptionResult, other: &OptionResult) {
    assert_eq!(one.slabs.len(), other.slabs.len(), "{which}");
    for slab in &one.slabs {
        let image = other.slabs.iter().find(|it| it.face == slab.face && it.level == slab.level);
        let Some(image) = image else { panic!("{which}: no slab on {}, level {}", slab.face, slab.level) };
        let near = |what: &str, a: f64, b: f64| {
            let close = (a - b).abs() <= 1e-7 * a.abs().max(1.0);
            assert!(close, "{which}, slab on {}, level {}, {what}: {a} against {b}", slab.face, slab.level);
        };
        near("stiffness", slab.stiffness_kn_m, image.stiffness_kn_m);
        // Where strength falls, like hinges may go together or one after the other: a push and its
        // image need not take the same way, nor give the same force at the performance point.
        if [slab, image].iter().all(|own| own.bound != ForceBound::PerformancePoint) {
            near("demand", slab.demand_kn, image.demand_kn);
            near("strength", slab.strength_kn, image.strength_kn);
        }
    }
}

fn compare(which: &str, one: &Study, other: &Study, turn: bool, sign: impl Fn(bool) -> f64) {
    for (a, b) in one.options.iter().zip(&other.options) {
        let which = format!("{which}, {}", a.name);
        assert_eq!(a.directions.len(), b.directions.len(), "{which}");
        for direction in &a.directions {
            let image = b.directions.iter().find(|it| it.along_x == (direction.along_x != turn));
            let Some(image) = image else { panic!("{which}: a direction is missing") };
            let along = if direction.along_x { "x" } else { "y" };
            let which = format!("{which} along {along}");
            Comparison { which, one: direction, other: image, sign: sign(direction.along_x) }.run();
        }
        compare_slabs(&which, a, b);
        let near = |what: &str, a: f64, b: f64| {
            assert!((a - b).abs() <= 1e-8 * a.abs().max(1.0), "{which}, {what}: {a} against {b}");
        };
        near("added weight", a.added.weight_kn, b.added.weight_kn);
        near("added concrete", a.added.concrete_m3, b.added.concrete_m3);
        near("added steel", a.added.steel_t, b.added.steel_t);
        let man_days = |of: &OptionResult| of.works.as_ref().map_or(0.0, |works| works.man_days.mid);
        // Pits of unlike footings that run into each other are dug with the one that comes second.
        let (one, other) = (man_days(a), man_days(b));
        assert!((one - other).abs() <= 0.01 * one, "{which}, man-days: {one} against {other}");
    }
}

#[test]
fn a_mirrored_building_gives_mirrored_results() {
    each_project(seeds(), |seed, project| {
        let project = with_small_rooms(project);
        let direction = if seed % 2 == 0 { Direction::X } else { Direction::Y };
        let image = mirrored(&project, direction);
        assert_eq!(image.check(), Ok(()), "seed {seed}");
        assert_eq!(mirrored(&image, direction), project, "seed {seed}: mirrored twice");
        let which = format!("seed {seed} mirrored {}", direction.label());
        // Ordinates across a direction change sign if the mirror acts across it.
        let sign = |along_x: bool| if (direction == Direction::Y) == along_x { -1.0 } else { 1.0 };
        compare(&which, &evaluated(seed, &project), &evaluated(seed, &image), false, sign);
    });
}

#[test]
fn exchanging_the_axes_exchanges_the_results() {
    each_project(seeds(), |seed, project| {
        let project = with_small_rooms(project);
        let image = turned(&project);
        assert_eq!(image.check(), Ok(()), "seed {seed}");
        compare(&format!("seed {seed} turned"), &evaluated(seed, &project), &evaluated(seed, &image), true, |_| 1.0);
    });
}

#[test]
fn moving_the_origin_changes_nothing() {
    each_project(seeds(), |seed, project| {
        let mut moved = project.clone();
        // On the grid of centimetres that ordinates keep in practice.
        moved.building.x_lines.iter_mut().for_each(|line| line.at_m = (100.0 * line.at_m + 23_457.0).round() / 100.0);
        moved.building.y_lines.iter_mut().for_each(|line| line.at_m = (100.0 * line.at_m - 18_643.0).round() / 100.0);
        assert_eq!(moved.check(), Ok(()), "seed {seed}");
        compare(&format!("seed {seed} moved"), &studied(seed), &evaluated(seed, &moved), false, |_| 1.0);
    });
}

#[test]
fn new_names_change_no_number() {
    each_project(seeds(), |seed, project| {
        let renamed = renamed(&project);
        assert_eq!(renamed.check(), Ok(()), "seed {seed}");
        let (one, other) = (numbers(&*studied(seed)), numbers(&evaluated(seed, &renamed)));
        for (a, b) in one.iter().zip(&other) {
            assert_eq!((&a.0, a.1.to_bits()), (&b.0, b.1.to_bits()), "seed {seed}");
        }
        assert_eq!(one.len(), other.len(), "seed {seed}");
    });
}

/// New names, in an order of their own, for lines, types and schemes.
fn renamed(project: &Project) -> Project {
    let mut image = project.clone();
    let new =
        |old: &str| if old == "none" { old.to_owned() } else { format!("{}q", old.chars().rev().collect::<String>()) };
    let all = |names: &mut Names| names.0.iter_mut().for_each(|name| *name = new(name));
    let building = &mut image.building;
    for line in building.x_lines.iter_mut().chain(&mut building.y_lines) {
        line.name = new(&line.name);
    }
    building.column_types.iter_mut().for_each(|kind| kind.name = new(&kind.name));
    building.beam_types.iter_mut().for_each(|kind| kind.name = new(&kind.name));
    for placing in &mut building.columns {
        placing.column = new(&placing.column);
        all(&mut placing.x);
        all(&mut placing.y);
    }
    for placing in &mut building.beams {
        placing.beam = new(&placing.beam);
        all(&mut placing.lines);
    }
    building.walls.iter_mut().for_each(|wall| wall.line = new(&wall.line));
    building.masonry.iter_mut().for_each(|masonry| all(&mut masonry.lines));
    for scheme in &mut image.schemes {
        scheme.name = new(&scheme.name);
        for measure in &mut scheme.measures {
            let (x, y) = match measure {
                Measure::Jacket(own) => (&mut own.x, &mut own.y),
                Measure::WingWall(own) => (&mut own.x, &mut own.y),
                Measure::Release(own) => (&mut own.x, &mut own.y),
                Measure::InfillWall(own) => {
                    own.line = new(&own.line);
                    continue;
                }
                Measure::ExternalFrame(own) => {
                    own.face = new(&own.face);
                    continue;
                }
            };
            all(x);
            all(y);
        }
    }
    image
}
