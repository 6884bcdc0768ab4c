//! Sections to look at: their sizes by hand, their curves against the strength of the section, and the
//! moments that act against what the sections carry.

use sisterframe_core::evaluate::{self, Upright, end_moments, whole_option};
use sisterframe_core::fitting::Spot;
use sisterframe_core::material::{Bar, ConcreteLaw};
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, GridLine, Measure, Project};
use sisterframe_core::section::Sense;
use sisterframe_core::section_shapes::{ColumnShape, PerimeterBars};
use sisterframe_core::section_view::{Special, interaction, section_view};
use sisterframe_core::study::{Failure, OptionKind, Way};
use sisterframe_tests::approx::assert_near;

fn clinic() -> Project {
    Project::from_json(include_str!("../../demo-scenarios/clinic.json")).expect("a valid demo")
}

const fn scheme(index: usize) -> OptionKind {
    OptionKind::Scheme { index }
}

/// DERIVED: squash 0.85·f·(A_g − A_s) + A_s·f_y, tension A_s·f_y, and at the balanced point the
/// farthest bar at its yield strain with c = d·0.003/(0.003 + f_y/E), all in closed form; every point
/// of the curve is the strength at its own axial force.
#[test]
fn curves_pass_through_the_closed_forms() {
    let bars = PerimeterBars {
        count: 8,
        bar: Bar { diameter_mm: 19.0, area_mm2: 286.5 },
        cover_mm: 40.0,
        hoop_diameter_mm: 10.0,
        yield_mpa: 300.0,
    };
    let law = ConcreteLaw::Block { strength_mpa: 25.0, factor: 0.85, depth_ratio: 0.85, ultimate_strain: 0.003 };
    let section = ColumnShape { width_mm: 400.0, depth_mm: 500.0, concrete: law, bars }.section().expect("fits");
    let curve = interaction(&section, Sense::Plus, 800.0, 1.0);
    let at = |special: Special| curve.named.iter().find(|own| own.special == special).expect("named").at;
    let steel = 8.0 * 286.5;
    assert_near("squash", at(Special::Squash)[1], (0.85 * 25.0 * (400.0 * 500.0 - steel) + steel * 300.0) / 1e3, 1e-9);
    assert_near("tension", at(Special::Tension)[1], -steel * 300.0 / 1e3, 1e-9);
    let depth = 500.0 - 59.5;
    let axis = depth * 0.003 / (0.003 + 300.0 / 200_000.0);
    let balanced = section.at_neutral_axis(axis, Sense::Plus, 0.0);
    assert_near("balanced N", at(Special::Balanced)[1], balanced.axial_kn, 1e-9);
    assert_near("balanced M", at(Special::Balanced)[0], balanced.moment_knm, 1e-9);
    assert!(at(Special::Bending)[1].abs() < 1e-6);
    let most = curve.points.iter().map(|point| point[0]).fold(0.0, f64::max);
    assert!(curve.points.len() > 40 && most <= 1.01 * balanced.moment_knm.max(most));
    for [moment, axial] in &curve.points {
        let own = section.strength(*axial, Sense::Plus, 0.0).expect("on the curve");
        // Where a bar enters the block two depths carry the same force.
        assert!((own.moment_knm - moment).abs() < 0.02 * most, "N = {axial}: {moment} against {}", own.moment_knm);
    }
    let gravity = section.strength(800.0, Sense::Plus, 0.0).expect("carried").moment_knm;
    assert_near("at gravity", curve.at_gravity_knm.expect("carried"), gravity, 1e-12);
    // At any force the moment is that of the section, not of a chord between two points of the curve.
    for axial in [-300.0, 137.0, 733.0, 800.0, 2500.0] {
        let own = section.strength(axial, Sense::Plus, 0.0).expect("carried").moment_knm;
        assert_near("at a force", curve.at_kn(axial).expect("carried"), own, 1e-12);
    }
    assert!(curve.at_kn(1.01 * at(Special::Squash)[1]).is_none());
}

/// Sizes by hand from the file: a jacket adds its thickness twice, wings their lengths, a wall spans
/// from column to column.
#[test]
fn pictures_have_the_sizes_of_the_file() {
    let project = clinic();
    let mut seen = [0; 3];
    for (index, own) in project.schemes.iter().enumerate() {
        for x in 0..project.building.x_lines.len() {
            for y in 0..project.building.y_lines.len() {
                let spot = Spot::Column { x, y, storey: 1 };
                for direction in Direction::BOTH {
                    let Some(view) = section_view(&project, scheme(index), spot, direction) else { continue };
                    let [from, to] = view.now.picture.bounds_mm();
                    let size = [to[0] - from[0], to[1] - from[1]];
                    let Some(before) = &view.before else { continue };
                    let [from, to] = before.picture.bounds_mm();
                    let old = [to[0] - from[0], to[1] - from[1]];
                    match &own.measures[0] {
                        Measure::Jacket(jacket) => {
                            seen[0] += 1;
                            for axis in 0..2 {
                                assert_near("jacketed", size[axis], old[axis] + 2.0 * jacket.thickness_mm, 1e-12);
                            }
                            assert!(view.now.laws.iter().all(|law| law.is_symmetric()));
                        }
                        Measure::WingWall(wings) => {
                            seen[1] += 1;
                            let added = size[0] - old[0] + size[1] - old[1];
                            let by = added / wings.length_mm;
                            assert!((by - by.round()).abs() < 1e-9 && (1.0..=2.0).contains(&by), "{added}");
                        }
                        _ => {}
                    }
                }
            }
        }
        for (place, measure) in own.measures.iter().enumerate() {
            let Measure::InfillWall(wall) = measure else { continue };
            let (direction, line) = project.building.line(&wall.line).expect("a line");
            let spot = Spot::Bay { direction, line, bay: wall.bays.first, storey: 1 };
            let view = section_view(&project, scheme(index), spot, direction).expect("a wall");
            seen[2] += 1;
            assert!(view.before.is_none(), "measure {place}: nothing of the kind stands there before");
            let new: f64 = view
                .now
                .picture
                .pieces
                .iter()
                .filter(|piece| piece.added)
                .map(|piece| piece.to_mm[1] - piece.from_mm[1])
                .fold(f64::INFINITY, f64::min);
            assert_near("thickness", new, wall.thickness_mm, 1e-12);
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
    // Where nothing is done the two states are one.
    let spot = Spot::Column { x: 1, y: 1, storey: 1 };
    let view = section_view(&project, OptionKind::AsItStands, spot, Direction::X).expect("a column");
    assert!(view.before.is_none() && view.now.laws.len() == 2);
    assert!(view.now.laws[0].block && !view.now.laws[1].block);
}

/// DERIVED: no end of a column carries more than its section at the gravity load, up to the little by
/// which a hinge hardens; where the push says a column yields by bending it is there. The moments come
/// from the push, the strengths from the section.
#[test]
fn what_acts_stays_within_what_the_section_carries() {
    let project = Project::from_json(include_str!("../../demo-scenarios/school.json")).expect("a valid demo");
    let study = evaluate::study(&project);
    let (mut at_strength, mut all) = (0, 0);
    for kind in [OptionKind::AsItStands, scheme(0)] {
        let option = study.options.iter().find(|option| option.kind == kind).expect("an option");
        let direction = Direction::X;
        let result = option.directions.iter().find(|result| result.along_x).expect("along x");
        let curve = result.capacity.as_ref().expect("pushed").governing();
        let push = (curve.curve.pattern, curve.curve.towards_higher);
        for y in 0..project.building.y_lines.len() {
            let spot = Spot::Column { x: 1, y, storey: 1 };
            let Some(view) = section_view(&project, kind, spot, direction) else { continue };
            let moments = end_moments(&project, kind, direction, view.upright, push, curve.point.roof_mm);
            let moments = moments.expect("a column of the line");
            let law = view.now.laws.iter().find(|law| law.key == project.rules.key()).expect("its own law");
            let both = [Some(moments.first_yield), moments.at_roof];
            for (stage, ends) in both.into_iter().enumerate().filter_map(|(stage, ends)| Some((stage, ends?))) {
                for (moment, sign) in ends.into_iter().zip([1.0, -1.0]) {
                    let sense = usize::from(sign * moment < 0.0);
                    let carried = law.senses[sense].at_gravity_knm.expect("it carries its load");
                    all += 1;
                    assert!(moment.abs() < 1.005 * carried, "{spot:?} {kind:?}: {moment} of {carried}");
                    at_strength += usize::from(stage == 1 && moment.abs() > 0.97 * carried);
                }
            }
        }
    }
    assert!(all >= 8 && at_strength > 0, "{at_strength} of {all}");
    // A place without a member of the kind has none.
    let nowhere = Upright::Wall { line: 0, bay: 1, storey: 1 };
    let none = end_moments(
        &project,
        OptionKind::AsItStands,
        Direction::X,
        nowhere,
        (sisterframe_core::pushover::Pattern::FirstMode, true),
        1.0,
    );
    let view = section_view(&project, OptionKind::AsItStands, Spot::Storey { storey: 1 }, Direction::X);
    assert!(none.is_none() && view.is_none());
    assert!(whole_option(&project, scheme(99), &study).is_none());
}

/// DERIVED: an envelope lets a foot that bends carry its own strength and no more than hardening adds. The corner columns
/// of a symmetric frame are pushed alike until the beams beside them yield, one sagging and one hogging.
#[test]
fn both_ends_of_a_frame_yield_at_their_own_strength() {
    let project = clinic();
    let kind = OptionKind::AsItStands;
    let study = evaluate::study(&project);
    let option = study.options.iter().find(|option| option.kind == kind).expect("an option");
    let result = option.directions.iter().find(|result| result.along_x).expect("along x");
    let curve = result.capacity.as_ref().expect("pushed").governing();
    let push = (curve.curve.pattern, curve.curve.towards_higher);
    for x in [0, project.building.x_lines.len() - 1] {
        let spot = Spot::Column { x, y: 0, storey: 1 };
        let view = section_view(&project, kind, spot, Direction::X).expect("a column");
        let moments = end_moments(&project, kind, Direction::X, view.upright, push, curve.point.roof_mm);
        let foot = moments.and_then(|own| own.at_roof).expect("the push goes so far")[0];
        let law = view.now.laws.iter().find(|law| law.key == project.rules.key()).expect("its own law");
        let carried = law.senses[usize::from(foot < 0.0)].at_gravity_knm.expect("it carries its load");
        assert_near("the foot at its strength", foot.abs(), carried, 5e-3);
    }
}

/// DERIVED: the least of a member's strengths one by one is its strength; a column's own bending is the moments the viewer
/// solves for its section at both ends over the clear height.
#[test]
fn strengths_one_by_one_are_those_of_the_section_and_the_least_governs() {
    let project = clinic();
    let study = evaluate::study(&project);
    let (mut columns, mut others) = (0, 0);
    for option in &study.options {
        let members = option.directions.iter().flat_map(|own| own.storeys.iter().map(move |row| (own.along_x, row)));
        for (along_x, row) in members {
            for member in row.members.iter().filter(|own| !own.ways.is_empty()) {
                let least = member.ways.iter().map(|way| way.reached_kn).fold(f64::INFINITY, f64::min);
                assert_near(&format!("{}", member.place), least, member.strength_kn, 1e-12);
                let shear = |own: &&Way| matches!(own.failure, Failure::Shear);
                let Some(shear) = member.ways.iter().find(shear) else {
                    others += 1;
                    continue;
                };
                assert_near("shear", shear.reached_kn, member.shear_capacity_kn, 1e-12);
                let Place::Column { x, y, storey } = &member.place else { panic!("{}", member.place) };
                let at =
                    |lines: &[GridLine], name: &str| lines.iter().position(|own| own.name == name).expect("a line");
                let spot = Spot::Column {
                    x: at(&project.building.x_lines, x),
                    y: at(&project.building.y_lines, y),
                    storey: *storey,
                };
                let direction = if along_x { Direction::X } else { Direction::Y };
                if option.kind != OptionKind::AsItStands || *storey > 2 {
                    continue;
                }
                let view = section_view(&project, option.kind, spot, direction).expect("a column");
                let law = view.now.laws.iter().find(|law| law.key == project.rules.key()).expect("its own law");
                let moments: f64 = law.senses.iter().filter_map(|curve| curve.at_gravity_knm).sum();
                assert_near("bending", member.ways[0].reached_kn, moments / member.clear_height_m, 1e-9);
                columns += 1;
            }
        }
    }
    assert!(columns > 40 && others > 4, "{columns} columns, {others} walls and frames");
}
