//! What must hold for any building, on random ones.

use crate::chance::{Building, building, frame_line, ordinates};
use sisterframe_core::assembly::{Assembly, Line, Link, Load};
use sisterframe_core::frame_line::{Base, FrameLine, Restraint};
use sisterframe_core::linear::Square;
use sisterframe_core::project::Direction::{self, X, Y};
use sisterframe_core::response::Response;
use sisterframe_tests::approx::is_near;
use sisterframe_tests::dice::Dice;

const SEEDS: u64 = 400;

fn each_building(check: impl Fn(u64, Building, &mut Dice)) {
    for seed in 0..SEEDS {
        let mut dice = Dice::new(seed);
        let building = building(&mut dice);
        check(seed, building, &mut dice);
    }
}

fn solve(assembly: &Assembly, load: &Load) -> Response {
    assembly.factor().expect("a random building stands").solve(load)
}

/// Σ F·u over everything that is loaded.
fn work(load: &Load, response: &Response) -> f64 {
    let floors = load.floors.iter().zip(&response.floors);
    let on_floors: f64 = floors.map(|(f, u)| f.x_kn * u.x_m + f.y_kn * u.y_m + f.moment_kn_m * u.rotation_rad).sum();
    let linked = load.linked_kn.iter().zip(&response.linked);
    let on_linked: f64 = linked.flat_map(|(f, u)| f.iter().zip(&u.displacement_m)).map(|(f, u)| f * u).sum();
    on_floors + on_linked
}

/// All forces of a load together, kN.
fn size(load: &Load) -> f64 {
    let floors: f64 = load.floors.iter().map(|force| force.x_kn.abs() + force.y_kn.abs()).sum();
    floors + load.linked_kn.iter().flatten().map(|force| force.abs()).sum::<f64>()
}

#[test]
fn every_storey_is_in_equilibrium() {
    each_building(|seed, it, _| {
        let response = solve(&it.assembly, &it.load);
        for s in 0..it.assembly.floors.len() {
            // Resisting and applied: force along x, along y, and moment about the origin.
            let mut resisting = [0.0; 3];
            let mut applied = [0.0; 3];
            let mut scale = [0.0_f64; 3];
            let mut add = |sums: &mut [f64; 3], direction: Direction, force: f64, ordinate: f64| {
                let arm = if direction == X { -ordinate } else { ordinate };
                sums[direction.index()] += force;
                sums[2] += force * arm;
                scale[direction.index()] += force.abs();
                scale[2] += (force * arm).abs();
            };
            for (line, found) in it.assembly.lines.iter().zip(&response.lines) {
                add(&mut resisting, line.direction, found.storey_shear_kn[s], line.ordinate_m);
            }
            for (line, found) in it.assembly.linked.iter().zip(&response.linked) {
                add(&mut resisting, line.direction, found.storey_shear_kn[s], line.ordinate_m);
            }
            for (i, floor) in it.assembly.floors.iter().enumerate().skip(s) {
                add(&mut applied, X, it.load.floors[i].x_kn, floor.y_m);
                add(&mut applied, Y, it.load.floors[i].y_kn, floor.x_m);
                applied[2] += it.load.floors[i].moment_kn_m;
                for (k, line) in it.assembly.linked.iter().enumerate() {
                    add(&mut applied, line.direction, it.load.linked_kn[k][i], line.ordinate_m);
                }
            }
            for k in 0..3 {
                let residual = (resisting[k] - applied[k]).abs();
                assert!(residual <= 1e-9 * scale[k], "seed {seed}, storey {s}: {resisting:?} {applied:?}");
            }
        }
    });
}

#[test]
fn link_forces_agree_with_the_balance_of_the_added_frame() {
    each_building(|seed, mut it, dice| {
        it.assembly.p_delta = dice.happens(0.3);
        let response = solve(&it.assembly, &it.load);
        for (k, linked) in response.linked.iter().enumerate() {
            let scale = size(&it.load);
            for (i, link) in it.assembly.linked[k].links.iter().enumerate() {
                let (force, balance) = (linked.link_force_kn[i], linked.link_balance_kn[i]);
                let close = (force - balance).abs() <= 1e-9 * scale;
                assert!(close, "seed {seed}, link {k} at floor {i}: {force} against {balance}");
                if let (Link::Spring(stiffness), false) = (link, it.assembly.p_delta) {
                    let line = &it.assembly.linked[k];
                    let slip = response.floors[i].at(line.direction, line.ordinate_m) - linked.displacement_m[i];
                    // Differences of displacements carry few figures across a stiff link.
                    let rounding = 1e-13 * stiffness * linked.displacement_m[i].abs();
                    assert!((force - stiffness * slip).abs() <= 1e-9 * scale + rounding, "seed {seed}");
                }
            }
        }
    });
}

#[test]
fn member_forces_balance_the_line() {
    each_building(|seed, it, _| {
        let response = solve(&it.assembly, &it.load);
        let lines = it.frames.iter().zip(response.lines.iter().map(|line| &line.displacement_m));
        let linked = it.linked_frames.iter().zip(response.linked.iter().map(|line| &line.displacement_m));
        for (frame, u) in lines.chain(linked) {
            check_member_forces(seed, frame, u, size(&it.load));
        }
    });
}

fn check_member_forces(seed: u64, frame: &FrameLine, u: &[f64], scale: f64) {
    let condensed = frame.condense().expect("a random frame is sound");
    let forces = condensed.recover(u);
    let shears = condensed.storey_shears_kn(u);
    for (members, line) in forces.storey_shear_kn.iter().zip(&shears) {
        assert!((members - line).abs() <= 1e-9 * scale, "seed {seed}: {members} against {line}");
    }

    // Overturning: what the floors push is what the feet carry.
    let mut level = 0.0;
    let mut pushed = 0.0;
    for (storey, height) in frame.storey_heights_m.iter().enumerate() {
        level += height;
        pushed += (shears[storey] - shears.get(storey + 1).copied().unwrap_or(0.0)) * level;
    }
    // A storey spring pushes on the ground at the base and carries no moment.
    let spring_moment: f64 = frame
        .storey_springs
        .iter()
        .zip(&forces.storey_springs_kn)
        .map(|(spring, force)| force * frame.storey_heights_m[spring.storey])
        .sum();
    let carried: f64 = forces.bases.iter().map(|foot| foot.moment_kn_m + foot.compression_kn * foot.ordinate_m).sum();
    let tolerance = if has_rigid_columns(frame) { 1e-7 } else { 1e-9 };
    assert!(
        (pushed - spring_moment - carried).abs() <= tolerance * (scale * level),
        "seed {seed}: overturning {pushed} − {spring_moment} against {carried}"
    );
    let lifted: f64 = forces.bases.iter().map(|foot| foot.compression_kn).sum();
    assert!(lifted.abs() <= tolerance * scale, "seed {seed}: vertical forces leave {lifted}");
}

fn has_rigid_columns(frame: &FrameLine) -> bool {
    let columns = (0..frame.floors()).flat_map(|s| (0..frame.lines()).map(move |j| (s, j)));
    columns.filter_map(|(s, j)| frame.column(s, j)).any(|column| column.axial_rigidity_kn.is_none())
}

/// Clapeyron's compliance Σ F·u under one load never rises when stiffness is added. (A roof
/// displacement may: a stiff spine can drag the roof along.)
#[test]
fn added_stiffness_never_raises_the_compliance() {
    each_building(|seed, it, dice| {
        let before = work(&it.load, &solve(&it.assembly, &it.load));
        assert!(before > 0.0, "seed {seed}");
        let mut after = it.assembly.clone();
        match dice.whole(0, 3) {
            0 => {
                // A wall or frame more, anywhere in plan.
                let heights: Vec<f64> = after.floors.iter().map(|floor| floor.storey_height_m).collect();
                let along = ordinates(dice, 3);
                let frame = frame_line(dice, &along, &heights, heights.len());
                let stiffness = frame.condense().expect("a random frame is sound").stiffness().clone();
                let direction = if dice.happens(0.5) { X } else { Y };
                after.lines.push(Line { direction, ordinate_m: dice.within(-3.0, 25.0), stiffness });
            }
            1 => {
                // One member of one line stiffer.
                let k = dice.whole(0, it.frames.len() - 1);
                let mut frame = it.frames[k].clone();
                for j in 0..frame.lines() {
                    if let Some(mut column) = frame.column(0, j).copied() {
                        column.flexural_rigidity_kn_m2 *= dice.within(1.0, 5.0);
                        column.rigid_top_m *= dice.within(1.0, 1.5);
                        frame.set_column(0, j, column);
                    }
                }
                frame.bases.fill(Base::FIXED);
                after.lines[k].stiffness = frame.condense().expect("still sound").stiffness().clone();
            }
            2 => {
                for link in after.linked.iter_mut().flat_map(|line| &mut line.links) {
                    *link = match *link {
                        Link::Spring(stiffness) if dice.happens(0.7) => Link::Spring(stiffness * 3.0),
                        Link::Spring(_) => Link::Rigid,
                        other => other,
                    };
                }
            }
            _ => {
                let mut mass = Square::zero(after.floors.len());
                let storey = dice.whole(0, after.floors.len() - 1);
                let k = dice.within(1e3, 1e6);
                mass.add(storey, storey, k);
                if storey > 0 {
                    mass.add(storey - 1, storey - 1, k);
                    mass.add(storey, storey - 1, -k);
                    mass.add(storey - 1, storey, -k);
                }
                after.lines.push(Line { direction: X, ordinate_m: dice.within(0.0, 20.0), stiffness: mass });
            }
        }
        let found = work(&it.load, &solve(&after, &it.load));
        assert!(found <= before * (1.0 + 1e-10), "seed {seed}: {before} → {found}");
    });
}

/// The building seen in a mirror along x.
fn mirrored_frame(frame: &FrameLine) -> FrameLine {
    let lines = frame.lines();
    let ordinates: Vec<f64> = frame.ordinates_m.iter().rev().map(|x| -x).collect();
    let mut mirror = FrameLine::new(&ordinates, &frame.storey_heights_m);
    for storey in 0..frame.floors() {
        for j in 0..lines {
            mirror.set_column(storey, lines - 1 - j, frame.column(storey, j).copied());
        }
        for bay in 0..lines - 1 {
            let beam = frame.beam(storey, bay).map(|beam| {
                let mut turned = *beam;
                (turned.rigid_left_m, turned.rigid_right_m) = (beam.rigid_right_m, beam.rigid_left_m);
                turned
            });
            mirror.set_beam(storey, lines - 2 - bay, beam);
        }
    }
    mirror.bases = frame.bases.iter().rev().copied().collect();
    mirror.storey_springs.clone_from(&frame.storey_springs);
    mirror.walls = frame
        .walls
        .iter()
        .map(|wall| {
            let mut turned = *wall;
            turned.axis_m = -wall.axis_m;
            (turned.first_line, turned.last_line) = (lines - 1 - wall.last_line, lines - 1 - wall.first_line);
            turned
        })
        .collect();
    mirror
}

#[test]
fn a_mirrored_building_gives_mirrored_results() {
    each_building(|seed, it, _| {
        let mut mirror = it.assembly.clone();
        let mut load = it.load.clone();
        for (floor, force) in mirror.floors.iter_mut().zip(&mut load.floors) {
            floor.x_m = -floor.x_m;
            force.x_kn = -force.x_kn;
            force.moment_kn_m = -force.moment_kn_m;
        }
        for (line, frame) in mirror.lines.iter_mut().zip(&it.frames) {
            if line.direction == Y {
                line.ordinate_m = -line.ordinate_m;
            } else {
                line.stiffness = mirrored_frame(frame).condense().expect("sound both ways").stiffness().clone();
            }
        }
        for (k, line) in mirror.linked.iter_mut().enumerate() {
            if line.direction == Y {
                line.ordinate_m = -line.ordinate_m;
            } else {
                line.middle_m = -line.middle_m;
                let frame = mirrored_frame(&it.linked_frames[k]);
                line.stiffness = frame.condense().expect("sound both ways").stiffness().clone();
                for force in &mut load.linked_kn[k] {
                    *force = -*force;
                }
            }
        }
        let (one, other) = (solve(&it.assembly, &it.load), solve(&mirror, &load));
        let peak = one.floors.iter().fold(0.0_f64, |peak, u| peak.max(u.x_m.abs()).max(u.y_m.abs()));
        for (u, v) in one.floors.iter().zip(&other.floors) {
            let close = (u.x_m + v.x_m).abs() + (u.y_m - v.y_m).abs() + (u.rotation_rad + v.rotation_rad).abs();
            assert!(close <= 1e-8 * peak, "seed {seed}: {u:?} against {v:?}");
        }
        let (one, other) = (&it.assembly, &mirror);
        let modes = |it: &Assembly| it.factor().expect("stands").modes().expect("has mass").modes;
        for (one, other) in modes(one).iter().zip(modes(other)) {
            assert!(is_near(one.period_s, other.period_s, 1e-8), "seed {seed}");
        }
    });
}

#[test]
fn moving_the_origin_changes_nothing() {
    each_building(|seed, it, dice| {
        // Bays and lines sit on a millimetre grid in practice; the shift does too.
        let (dx, dy) = (dice.whole(1, 90_000) as f64 / 1000.0, -(dice.whole(1, 90_000) as f64) / 1000.0);
        let shift = |direction: Direction| if direction == X { dx } else { dy };
        let moved_frame = |frame: &FrameLine, direction: Direction| {
            let mut moved = frame.clone();
            moved.ordinates_m.iter_mut().for_each(|x| *x += shift(direction));
            moved.walls.iter_mut().for_each(|wall| wall.axis_m += shift(direction));
            moved.condense().expect("sound anywhere").stiffness().clone()
        };
        let mut moved = it.assembly.clone();
        for floor in &mut moved.floors {
            floor.x_m += dx;
            floor.y_m += dy;
        }
        for (line, frame) in moved.lines.iter_mut().zip(&it.frames) {
            line.ordinate_m += shift(line.direction.across());
            line.stiffness = moved_frame(frame, line.direction);
        }
        for (line, frame) in moved.linked.iter_mut().zip(&it.linked_frames) {
            line.ordinate_m += shift(line.direction.across());
            line.middle_m += shift(line.direction);
            line.stiffness = moved_frame(frame, line.direction);
        }
        // Members called rigid are very stiff ones, and cost figures.
        let rigid = it.frames.iter().chain(&it.linked_frames).any(has_rigid_columns);
        let tolerance = if rigid { 1e-8 } else { 1e-12 };
        let (one, other) = (solve(&it.assembly, &it.load), solve(&moved, &it.load));
        let peak = one.floors.iter().fold(0.0_f64, |peak, u| peak.max(u.x_m.abs()).max(u.y_m.abs()));
        for (u, v) in one.floors.iter().zip(&other.floors) {
            let apart = (u.x_m - v.x_m).abs().max((u.y_m - v.y_m).abs()).max((u.rotation_rad - v.rotation_rad).abs());
            assert!(apart <= tolerance * peak, "seed {seed}: {} apart", apart / peak);
        }
    });
}

#[test]
fn two_halves_of_a_frame_equal_the_whole() {
    for seed in 0..SEEDS {
        let mut dice = Dice::new(seed);
        let along = {
            let count = dice.whole(2, 5);
            ordinates(&mut dice, count)
        };
        let heights: Vec<f64> = (0..dice.whole(1, 6)).map(|_| dice.within(2.6, 4.6)).collect();
        let whole = frame_line(&mut dice, &along, &heights, heights.len());
        let mut half = whole.clone();
        for storey in 0..whole.floors() {
            for j in 0..whole.lines() {
                let column = whole.column(storey, j).map(|it| {
                    let mut part = *it;
                    part.flexural_rigidity_kn_m2 /= 2.0;
                    part.shear_rigidity_kn = it.shear_rigidity_kn.map(|value| value / 2.0);
                    part.axial_rigidity_kn = it.axial_rigidity_kn.map(|value| value / 2.0);
                    part
                });
                half.set_column(storey, j, column);
            }
            for bay in 0..whole.lines() - 1 {
                let beam = whole.beam(storey, bay).map(|it| {
                    let mut part = *it;
                    part.flexural_rigidity_kn_m2 /= 2.0;
                    part.shear_rigidity_kn = it.shear_rigidity_kn.map(|value| value / 2.0);
                    part
                });
                half.set_beam(storey, bay, beam);
            }
        }
        let halve = |base: &mut Base| {
            for restraint in [&mut base.rotation, &mut base.vertical] {
                if let Restraint::Spring(stiffness) = restraint {
                    *stiffness /= 2.0;
                }
            }
        };
        half.bases.iter_mut().for_each(halve);
        for wall in &mut half.walls {
            wall.flexural_rigidity_kn_m2 /= 2.0;
            wall.shear_rigidity_kn = wall.shear_rigidity_kn.map(|value| value / 2.0);
            wall.axial_rigidity_kn = wall.axial_rigidity_kn.map(|value| value / 2.0);
            halve(&mut wall.base);
        }
        half.storey_springs.iter_mut().for_each(|spring| spring.stiffness_kn_per_m /= 2.0);
        let condense = |line: &FrameLine| line.condense().expect("a random frame is sound").stiffness().clone();
        let (whole, half) = (condense(&whole), condense(&half));
        for i in 0..whole.size() {
            for j in 0..whole.size() {
                let apart = (whole.at(i, j) - 2.0 * half.at(i, j)).abs();
                let scale = (whole.at(i, i) * whole.at(j, j)).sqrt();
                assert!(apart <= 1e-12 * scale, "seed {seed}: {apart} of {scale}");
            }
        }
    }
}
