//! Pushover of frame lines: plastic collapse loads of textbook frames by virtual work (DERIVED),
//! and agreement with the elastic engine where nothing yields.

use sisterframe_core::assembly::{Assembly, Floor, Freedoms, Line, Link, LinkedLine, Load};
use sisterframe_core::condensed_line::CondensedLine;
use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, StoreySpring, WallPanel};
use sisterframe_core::line_mode::Hinge;
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_core::pushover::{BuildingSystem, Envelope, Limits, Path, PlasticMode, Point, push};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::dice::Dice;

pub(super) fn column(ei: f64) -> Column {
    Column {
        flexural_rigidity_kn_m2: ei,
        shear_rigidity_kn: None,
        axial_rigidity_kn: None,
        rigid_bottom_m: 0.0,
        rigid_top_m: 0.0,
    }
}

pub(super) fn beam(ei: f64) -> Beam {
    Beam { flexural_rigidity_kn_m2: ei, shear_rigidity_kn: None, rigid_left_m: 0.0, rigid_right_m: 0.0 }
}

/// A plane building of one line.
pub(super) fn plane(line: &CondensedLine, heights: &[f64]) -> Assembly {
    let floors = heights
        .iter()
        .map(|&h| Floor { storey_height_m: h, x_m: 0.0, y_m: 0.0, mass_t: 1.0, gyration_m2: 1.0, weight_kn: 0.0 })
        .collect();
    let mut assembly = Assembly::new(floors);
    assembly.lines = vec![Line { direction: X, ordinate_m: 0.0, stiffness: line.stiffness().clone() }];
    assembly.freedoms = Freedoms::translation(X);
    assembly
}

/// Pushes a plane frame with plastic hinges of given moments to a large drift and returns the
/// collapse load factor, with the path.
fn collapse(
    line: &CondensedLine,
    heights: &[f64],
    forces_kn: &[f64],
    joint: Option<(usize, usize, f64)>,
    hinges: &[(Hinge, f64)],
) -> (f64, Path) {
    let assembly = plane(line, heights);
    let factored = assembly.factor().expect("stands");
    let mut load = assembly.no_load();
    for (floor, force) in load.floors.iter_mut().zip(forces_kn) {
        floor.x_kn = *force;
    }
    let modes: Vec<_> = hinges.iter().map(|(hinge, _)| line.mode(&[(*hinge, 1.0)]).expect("a member there")).collect();
    let envelopes: Vec<[Envelope; 2]> = modes
        .iter()
        .zip(hinges)
        .map(|(mode, &(_, moment))| {
            let mut envelope = Envelope::plateau(moment, mode.own_stiffness);
            // Enough to keep two plateaus apart, too little to see in the load.
            envelope.pieces[0].slope *= 1e-4;
            [envelope.clone(), envelope]
        })
        .collect();
    let modes = modes.into_iter().map(|mode| PlasticMode::Members(vec![(0, mode)])).collect();
    let mut system = BuildingSystem::new(&factored, vec![line], Vec::new(), &load, X, modes);
    if let Some((floor, column_line, force)) = joint {
        system.load_joint(0, floor, column_line, force);
    }
    let path = push(&mut system, &envelopes, &Limits { watched: vec![0.1; heights.len()], least_left: 0.0 });
    assert!(path.residual <= 1e-9, "residual {}", path.residual);
    // Collapse: where plastic deformation goes on at a load that stays.
    let stays = |pair: &[Point]| {
        let (rise, plastic) = (pair[1].load - pair[0].load, pair[1].accumulated - pair[0].accumulated);
        plastic > 0.0 && rise < 1e-5 * pair[0].load * plastic
    };
    let at = path.points.windows(2).position(stays).expect("a mechanism forms");
    let gap = system.imbalance(&path.points[at], &system.state(&path.points[at]), X);
    assert!(gap <= 1e-9, "imbalance {gap}");
    (path.points[at].load, path)
}

/// Fixed portal of one bay with a joint at mid-span: hinges at bases, knees and mid-span.
fn portal(h: f64, span: f64) -> CondensedLine {
    let mut line = FrameLine::new(&[0.0, span / 2.0, span], &[h]);
    for end in [0, 2] {
        line.set_column(0, end, column(20e3));
    }
    line.set_beam(0, 0, beam(30e3));
    line.set_beam(0, 1, beam(30e3));
    line.condense().expect("stands")
}

fn portal_hinges(column_knm: f64, beam_knm: f64) -> Vec<(Hinge, f64)> {
    let mut hinges: Vec<(Hinge, f64)> = [0, 2]
        .into_iter()
        .flat_map(|line| [false, true].map(|top| (Hinge::ColumnEnd { storey: 0, line, top }, column_knm)))
        .collect();
    for bay in [0, 1] {
        hinges.extend([false, true].map(|right| (Hinge::BeamEnd { floor: 0, bay, right }, beam_knm)));
    }
    hinges
}

/// Portal of uniform M_p, H = λ·20 kN at the beam and V = λ·F at mid-span: the least of
/// sway 4M_p = H·h, beam 4M_p = V·L/2, combined 6M_p = H·h + V·L/2
/// (Baker and Heyman, *Plastic Design of Frames* 1, ch. 2, MEMORY; mechanisms by virtual work).
#[test]
fn fixed_portal_sways_sags_or_does_both() {
    let (h, span, moment) = (4.0, 6.0, 100.0);
    let line = portal(h, span);
    for (sideways, down) in [(20.0, 0.0), (20.0, 10.0), (20.0, 20.0), (20.0, 40.0), (5.0, 60.0)] {
        let sway = 4.0 * moment / (sideways * h);
        let sags = if down > 0.0 { 4.0 * moment / (down * span / 2.0) } else { f64::INFINITY };
        let both = 6.0 * moment / (sideways * h + down * span / 2.0);
        let (load, _) = collapse(&line, &[h], &[sideways], Some((0, 1, down)), &portal_hinges(moment, moment));
        assert_near(&format!("H {sideways}, V {down}"), load, sway.min(sags).min(both), 1e-5);
    }
}

/// Weaker beam: sway 2M_c + 2M_b = H·h, combined 2M_c + 4M_b = H·h + V·L/2.
#[test]
fn portal_with_a_weak_beam() {
    let (h, span, column, beam) = (3.5, 7.0, 140.0, 80.0);
    let line = portal(h, span);
    for (sideways, down) in [(30.0, 0.0), (30.0, 25.0)] {
        let sway = (2.0 * column + 2.0 * beam) / (sideways * h);
        let both = (2.0 * column + 4.0 * beam) / (sideways * h + down * span / 2.0);
        let (load, _) = collapse(&line, &[h], &[sideways], Some((0, 1, down)), &portal_hinges(column, beam));
        assert_near("collapse", load, sway.min(both), 1e-5);
    }
}

/// Two-storey frame of three columns: every mechanism of storeys and of beams by virtual work,
/// the least found by trying all of them.
#[test]
fn two_storey_frame_finds_the_least_mechanism() {
    let heights = [3.6, 3.2];
    for (column_knm, beam_knm) in [(100.0, 300.0), (200.0, 60.0), (110.0, 100.0)] {
        let mut line = FrameLine::new(&[0.0, 5.0, 11.0], &heights);
        let mut hinges = Vec::new();
        for s in 0..2 {
            for end in 0..3 {
                line.set_column(s, end, column(15e3 + 2e3 * end as f64));
                hinges.extend([false, true].map(|top| (Hinge::ColumnEnd { storey: s, line: end, top }, column_knm)));
            }
            for bay in 0..2 {
                line.set_beam(s, bay, beam(25e3));
                hinges.extend([false, true].map(|right| (Hinge::BeamEnd { floor: s, bay, right }, beam_knm)));
            }
        }
        let line = line.condense().expect("stands");
        let forces = [40.0, 80.0];
        // Rotations of the two storeys θ₁, θ₂ ∈ {0, 1}; each joint turns with the storey below or
        // above or not at all, whichever costs least.
        let mut least = f64::INFINITY;
        for (one, two) in [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0)] {
            let mut work = 3.0 * column_knm * one;
            let beams_at = [1.0, 2.0, 1.0];
            for ends in beams_at {
                let at_first = [0.0, 1.0].map(|turn: f64| {
                    column_knm * (one - turn).abs() + column_knm * (two - turn).abs() + ends * beam_knm * turn
                });
                let at_roof = [0.0, 1.0].map(|turn: f64| column_knm * (two - turn).abs() + ends * beam_knm * turn);
                work += at_first[0].min(at_first[1]) + at_roof[0].min(at_roof[1]);
            }
            let given = forces[0] * heights[0] * one + forces[1] * (heights[0] * one + heights[1] * two);
            least = least.min(work / given);
        }
        let (load, _) = collapse(&line, &heights, &forces, None, &hinges);
        assert_near(&format!("columns {column_knm}, beams {beam_knm}"), load, least, 1e-4);
    }
}

/// Cantilever wall on a base spring beside nothing: yields when Σf·z reaches the base moment, and
/// in a storey when its shear does.
#[test]
fn wall_yields_at_its_foot_or_in_shear() {
    let mut line = FrameLine::new(&[0.0, 5.0], &[3.0, 3.0]);
    for storey in 0..2 {
        line.walls.push(WallPanel {
            storey,
            first_line: 0,
            last_line: 1,
            axis_m: 2.5,
            flexural_rigidity_kn_m2: 5e6,
            shear_rigidity_kn: Some(1e6),
            axial_rigidity_kn: None,
            base: Base::rotating(2e6),
        });
    }
    let line = line.condense().expect("stands");
    let forces = [100.0, 200.0];
    let hinges = [(Hinge::WallFoot { index: 0 }, 3000.0), (Hinge::WallShear { index: 0 }, 1e4)];
    let (load, _) = collapse(&line, &[3.0, 3.0], &forces, None, &hinges);
    assert_near("foot", load, 3000.0 / 1500.0, 1e-5);
    let hinges = [(Hinge::WallFoot { index: 0 }, 3000.0), (Hinge::WallShear { index: 1 }, 380.0)];
    let (load, _) = collapse(&line, &[3.0, 3.0], &forces, None, &hinges);
    assert_near("shear", load, 380.0 / 200.0, 1e-5);
}

/// Columns that slip before they bend carry their shear strength and no more.
#[test]
fn columns_slip_and_struts_with_them() {
    let mut line = FrameLine::new(&[0.0, 4.0], &[3.0]);
    line.set_column(0, 0, column(20e3));
    line.set_column(0, 1, column(20e3));
    line.set_beam(0, 0, beam(40e3));
    line.storey_springs.push(StoreySpring { storey: 0, stiffness_kn_per_m: 20e3 });
    let line = line.condense().expect("stands");
    let hinges = [
        (Hinge::ColumnShear { storey: 0, line: 0 }, 50.0),
        (Hinge::ColumnShear { storey: 0, line: 1 }, 60.0),
        (Hinge::StoreySpring { index: 0 }, 90.0),
    ];
    let (load, _) = collapse(&line, &[3.0], &[10.0], None, &hinges);
    assert_near("sum of strengths, all ductile", 10.0 * load, 200.0, 1e-5);
}

/// Random buildings of two lines each way and a linked frame, off centre: a path on which nothing
/// yields is the elastic solution, and one on which something does stays in balance storey by
/// storey, with and without P-Δ.
#[test]
fn off_centre_building_with_a_linked_frame() {
    let mut dice = Dice::new(77);
    for round in 0..60 {
        let storeys = dice.whole(1, 5);
        let heights: Vec<f64> = (0..storeys).map(|_| dice.within(2.8, 4.0)).collect();
        let frame = |dice: &mut Dice| {
            let mut line = FrameLine::new(&[0.0, 5.0, 10.0], &heights);
            for s in 0..storeys {
                for end in 0..3 {
                    let mut it = column(dice.within(1e4, 6e4));
                    it.rigid_top_m = 0.25;
                    it.axial_rigidity_kn = Some(3e6);
                    it.shear_rigidity_kn = Some(8e5);
                    line.set_column(s, end, it);
                }
                for bay in 0..2 {
                    line.set_beam(s, bay, beam(dice.within(1e4, 6e4)));
                }
            }
            line.condense().expect("stands")
        };
        let lines: Vec<CondensedLine> = (0..4).map(|_| frame(&mut dice)).collect();
        let added = frame(&mut dice);
        let floors = heights
            .iter()
            .map(|&h| Floor {
                storey_height_m: h,
                x_m: 5.0,
                y_m: 5.0,
                mass_t: 100.0,
                gyration_m2: 16.0,
                weight_kn: 900.0,
            })
            .collect();
        let mut assembly = Assembly::new(floors);
        assembly.p_delta = round % 2 == 1;
        assembly.lines = lines
            .iter()
            .zip([(X, 0.0), (X, 10.0), (Y, 0.0), (Y, 10.0)])
            .map(|(line, (direction, ordinate_m))| Line { direction, ordinate_m, stiffness: line.stiffness().clone() })
            .collect();
        assembly.linked = vec![LinkedLine {
            direction: X,
            ordinate_m: 12.0,
            middle_m: 5.0,
            gyration_m2: 8.0,
            floors: storeys,
            stiffness: added.stiffness().clone(),
            links: (0..storeys).map(|_| Link::Spring(dice.within(2e4, 4e5))).collect(),
            mass_t: vec![8.0; storeys],
            weight_kn: vec![78.0; storeys],
        }];
        let factored = assembly.factor().expect("stands");
        let forces: Vec<f64> = (1..=storeys).map(|s| 10.0 * s as f64).collect();
        let load: Load = assembly.load_by_mass(X, &forces);
        let run = |scale: f64| {
            let mut modes = Vec::new();
            let mut envelopes = Vec::new();
            let mut add = |mode: PlasticMode, stiffness: f64, force: f64| {
                let yields = force / stiffness;
                let corners = [[yields, force], [4.0 * yields, force], [9.0 * yields, 0.3 * force]];
                let envelope = Envelope::from_backbone(&corners, stiffness);
                envelopes.push([envelope.clone(), envelope]);
                modes.push(mode);
            };
            for s in 0..storeys {
                for end in 0..3 {
                    for (index, line) in lines.iter().enumerate() {
                        for top in [false, true] {
                            let hinge = Hinge::ColumnEnd { storey: s, line: end, top };
                            let mode = line.mode(&[(hinge, 1.0)]).expect("there");
                            let k = mode.own_stiffness;
                            add(PlasticMode::Members(vec![(index, mode)]), k, scale * (60.0 + 5.0 * end as f64));
                        }
                    }
                    let mode =
                        added.mode(&[(Hinge::ColumnEnd { storey: s, line: end, top: false }, 1.0)]).expect("there");
                    let k = mode.own_stiffness;
                    add(PlasticMode::Members(vec![(4, mode)]), k, scale * 80.0);
                }
                add(PlasticMode::Slab { linked: 0, floor: s }, 1e5, scale * 30.0);
            }
            let mut system = BuildingSystem::new(&factored, lines.iter().collect(), vec![&added], &load, X, modes);
            let limits = Limits { watched: vec![0.03; 3 * storeys], least_left: 0.0 };
            let path = push(&mut system, &envelopes, &limits);
            assert!(path.residual <= 1e-9, "round {round}: residual {}", path.residual);
            for point in &path.points {
                let state = system.state(point);
                let gap = system.imbalance(point, &state, X);
                assert!(gap <= 1e-9, "round {round}: imbalance {gap}");
                // Link force by its stiffness, and by balance of the added frame's own floors.
                for s in 0..storeys {
                    if assembly.p_delta {
                        continue;
                    }
                    let own = &state.storey_shear_kn[4];
                    let above = own.get(s + 1).copied().unwrap_or(0.0);
                    let balance = own[s] - above - point.load * load.linked_kn[0][s];
                    let size = own.iter().fold(1.0_f64, |most, v| most.max(v.abs()));
                    assert!((state.slab_kn[0][s] - balance).abs() <= 1e-8 * size);
                }
                // Column shears make up the line's storey shear.
                let shears = system.member_shears(1, point, &state);
                for s in 0..storeys {
                    let sum: f64 = (0..3).map(|end| shears.column(s, end)).sum();
                    assert!((sum - state.storey_shear_kn[1][s]).abs() <= 1e-8 * (1.0 + sum.abs()));
                }
            }
            let last = system.state(path.points.last().expect("one"));
            (path, last)
        };
        let (path, _) = run(1.0);
        assert!(!path.events.is_empty());
        let (path, last) = run(1e6);
        assert!(path.events.is_empty());
        let elastic = factored.solve(&load);
        let factor = path.points[1].load;
        for (line, response) in elastic.lines.iter().enumerate() {
            let scaled: Vec<f64> = response.storey_shear_kn.iter().map(|v| v * factor).collect();
            assert_all_near("line shears", &last.storey_shear_kn[line], &scaled, 1e-9);
            let scaled: Vec<f64> = response.displacement_m.iter().map(|v| v * factor).collect();
            assert_all_near("line displacements", &last.displacement_m[line], &scaled, 1e-9);
        }
        let scaled: Vec<f64> = elastic.linked[0].link_force_kn.iter().map(|v| v * factor).collect();
        assert_all_near("slab forces", &last.slab_kn[0], &scaled, 1e-9);
    }
}
