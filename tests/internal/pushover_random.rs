//! Ten thousand random buildings pushed over: every path ends in a way a path may end, in balance,
//! with plastic deformation that never falls, and with the work done on it accounted for.

use crate::chance::{Building, sized_building};
use crate::rays::{self, Critical, Way};
use sisterframe_core::assembly::{Link, Load};
use sisterframe_core::condensed_line::CondensedLine;
use sisterframe_core::frame_line::FrameLine;
use sisterframe_core::line_mode::{Hinge, LineMode};
use sisterframe_core::linear::dot;
use sisterframe_core::project::Direction::X;
use sisterframe_core::pushover::{BuildingSystem, End, Envelope, Limits, PlasticMode, Point, State, System, push};
use sisterframe_tests::dice::Dice;
use std::ops::AddAssign;

const BUILDINGS: u64 = 10_000;

/// What the generator came up with, and how the paths ended.
#[derive(Clone, Copy, Debug, Default)]
struct Coverage {
    buildings: usize,
    storeys: [usize; 8],
    walls: usize,
    struts: usize,
    slabs: usize,
    softening_slabs: usize,
    rocking: usize,
    sliding: usize,
    slipping: usize,
    second_order: usize,
    limit: usize,
    zero: usize,
    sudden: usize,
    unstable: usize,
    /// Sudden losses at which every way on was tried.
    tried: usize,
    /// Of these, where the only ways on turn back up with the lost mode unloading.
    turns_up: usize,
    /// The load fell below four fifths of its peak, or all at once.
    lost_strength: usize,
    snapped_back: usize,
    turned_back: usize,
    modes: usize,
    events: usize,
    most_events: usize,
    residual: f64,
    imbalance: f64,
    energy: f64,
}

impl AddAssign for Coverage {
    fn add_assign(&mut self, other: Self) {
        self.buildings += other.buildings;
        for (own, more) in self.storeys.iter_mut().zip(other.storeys) {
            *own += more;
        }
        for (own, more) in [
            (&mut self.walls, other.walls),
            (&mut self.struts, other.struts),
            (&mut self.slabs, other.slabs),
            (&mut self.softening_slabs, other.softening_slabs),
            (&mut self.rocking, other.rocking),
            (&mut self.sliding, other.sliding),
            (&mut self.slipping, other.slipping),
            (&mut self.second_order, other.second_order),
            (&mut self.limit, other.limit),
            (&mut self.zero, other.zero),
            (&mut self.sudden, other.sudden),
            (&mut self.unstable, other.unstable),
            (&mut self.tried, other.tried),
            (&mut self.turns_up, other.turns_up),
            (&mut self.lost_strength, other.lost_strength),
            (&mut self.snapped_back, other.snapped_back),
            (&mut self.turned_back, other.turned_back),
            (&mut self.modes, other.modes),
            (&mut self.events, other.events),
        ] {
            *own += more;
        }
        self.most_events = self.most_events.max(other.most_events);
        self.residual = self.residual.max(other.residual);
        self.imbalance = self.imbalance.max(other.imbalance);
        self.energy = self.energy.max(other.energy);
    }
}

/// Modes with their envelopes.
#[derive(Default)]
struct Plastic {
    modes: Vec<PlasticMode>,
    envelopes: Vec<[Envelope; 2]>,
}

/// An envelope of a strength on a stiffness: level, softening or both, now and then with cracks
/// before it.
fn envelope(dice: &mut Dice, stiffness: f64, strength: f64) -> Envelope {
    let yields = strength / stiffness;
    let mut corners = Vec::new();
    let mut at = [yields, strength];
    if dice.happens(0.15) {
        let cracks = dice.within(0.3, 0.8);
        corners.push([cracks * yields, cracks * strength]);
        at[0] += dice.within(0.2, 3.0) * yields;
    }
    corners.push(at);
    if dice.happens(0.15) {
        return Envelope::from_backbone(&corners, stiffness);
    }
    if dice.happens(0.8) {
        at = [at[0] + dice.within(0.5, 8.0) * yields, at[1] * dice.within(1.0, 1.1)];
        corners.push(at);
    }
    // Of ten one falls steeply.
    let steepest = if dice.happens(0.1) { 1.0 } else { 0.3 };
    let falls = dice.within(0.02, steepest) * stiffness;
    let left = at[1] * dice.within(0.01, 0.5);
    corners.push([at[0] + (at[1] - left) / falls, left]);
    Envelope::from_backbone(&corners, stiffness)
}

impl Plastic {
    fn add(&mut self, dice: &mut Dice, mode: PlasticMode, stiffness: f64, strength: f64) {
        let one = envelope(dice, stiffness, strength);
        let other = match dice.whole(0, 9) {
            0 => Envelope::elastic(),
            1..=3 => {
                let weaker = strength * dice.within(0.5, 1.0);
                envelope(dice, stiffness, weaker)
            }
            _ => one.clone(),
        };
        self.modes.push(mode);
        self.envelopes.push(if dice.happens(0.5) { [one, other] } else { [other, one] });
    }

    fn member(&mut self, dice: &mut Dice, place: usize, line: &CondensedLine, hinge: Hinge, yields: [f64; 2]) {
        let Some(mode) = line.mode(&[(hinge, 1.0)]) else { return };
        let stiffness = mode.own_stiffness;
        if stiffness > 0.0 {
            let strength = stiffness * dice.within(yields[0], yields[1]);
            self.add(dice, PlasticMode::Members(vec![(place, mode)]), stiffness, strength);
        }
    }

    /// A movement of a whole line free of stress; one where the line resists it.
    fn free(&mut self, dice: &mut Dice, place: usize, mode: LineMode) -> usize {
        let stiffness = mode.own_stiffness;
        if stiffness <= 1.0 {
            return 0;
        }
        let strength = stiffness * dice.within(0.0005, 0.004);
        self.add(dice, PlasticMode::Members(vec![(place, mode)]), stiffness, strength);
        1
    }

    /// Whatever in a line may yield, with the probability given.
    fn line(&mut self, dice: &mut Dice, place: usize, frame: &FrameLine, line: &CondensedLine, share: f64) {
        let floors = frame.floors();
        for storey in 0..floors {
            for column in 0..frame.lines() {
                for top in [false, true] {
                    if dice.happens(share) {
                        let hinge = Hinge::ColumnEnd { storey, line: column, top };
                        self.member(dice, place, line, hinge, [0.002, 0.012]);
                    }
                }
                if dice.happens(0.2 * share) {
                    self.member(dice, place, line, Hinge::ColumnShear { storey, line: column }, [0.004, 0.03]);
                }
            }
            for bay in 0..frame.lines() - 1 {
                for right in [false, true] {
                    if dice.happens(share) {
                        self.member(dice, place, line, Hinge::BeamEnd { floor: storey, bay, right }, [0.002, 0.01]);
                    }
                }
            }
        }
        for (index, wall) in frame.walls.iter().enumerate() {
            if wall.storey == 0 || dice.happens(0.3) {
                self.member(dice, place, line, Hinge::WallFoot { index }, [0.0003, 0.003]);
            }
            if dice.happens(0.5) {
                self.member(dice, place, line, Hinge::WallShear { index }, [0.001, 0.01]);
            }
        }
        for index in 0..frame.storey_springs.len() {
            self.member(dice, place, line, Hinge::StoreySpring { index }, [0.002, 0.02]);
        }
    }
}

/// Force on every mode, from the displacements of the lines and the slabs' forces.
fn forces(modes: &[PlasticMode], lines: &[&CondensedLine], point: &Point, state: &State) -> Vec<f64> {
    let hidden = |line: usize, own: &LineMode| lines[line].hidden_response(own);
    let responses: Vec<Vec<Vec<f64>>> = point
        .plastic
        .iter()
        .map(|&(mode, _)| match &modes[mode] {
            PlasticMode::Members(parts) => parts.iter().map(|(line, own)| hidden(*line, own)).collect(),
            PlasticMode::Slab { .. } => Vec::new(),
        })
        .collect();
    modes
        .iter()
        .map(|mode| {
            let parts = match mode {
                PlasticMode::Members(parts) => parts,
                PlasticMode::Slab { linked, floor } => return state.slab_kn[*linked][*floor],
            };
            let mut force = 0.0;
            for (line, own) in parts {
                force += lines[*line].mode_force(own, &state.displacement_m[*line]);
                for (&(other, amplitude), response) in point.plastic.iter().zip(&responses) {
                    let PlasticMode::Members(others) = &modes[other] else { continue };
                    for ((_, theirs), response) in others.iter().zip(response).filter(|((its, _), _)| its == line) {
                        force += amplitude * lines[*line].coupling(own, theirs, response);
                    }
                }
            }
            force
        })
        .collect()
}

/// Ways on from the end of a path, by trying everything; `None` where there is too
/// much to try. `moved` is the deformation of every mode in each sense.
fn ways_on(
    system: &mut BuildingSystem<'_>,
    envelopes: &[[Envelope; 2]],
    moved: &[[f64; 2]],
    forces: &[f64],
) -> Option<Vec<Way>> {
    let mut critical = Vec::new();
    for (mode, force) in forces.iter().enumerate() {
        for (sense, sign) in [(0, 1.0), (1, -1.0)] {
            let (envelope, own) = (&envelopes[mode][sense], moved[mode][sense]);
            let cap = envelope.force(own);
            if cap.is_finite() && cap - sign * force <= 1e-7 * envelope.yield_force {
                let mut end = 0.0;
                let piece = envelope.pieces.iter().find(|piece| {
                    end += piece.length;
                    own < end * (1.0 - 1e-9)
                });
                critical.push(Critical { mode, sign, slope: piece.expect("the last has no end").slope });
            }
        }
    }
    if critical.len() > rays::MOST {
        return None;
    }
    let count = system.modes();
    let factor = system.stiffness().factor().expect("stands");
    let mut columns = vec![Vec::new(); count];
    for own in &critical {
        let among: Vec<usize> = (0..count).filter(|&mode| system.block(mode) == system.block(own.mode)).collect();
        let mut local = vec![0.0; among.len()];
        system.local(own.mode, &among, &mut local);
        let mut follows = system.pull(own.mode).to_vec();
        factor.solve(&mut follows);
        let mut column: Vec<f64> = (0..count).map(|mode| -dot(system.pull(mode), &follows)).collect();
        for (mode, taken) in among.into_iter().zip(local) {
            column[mode] += taken;
        }
        columns[own.mode] = column;
    }
    let per_load: Vec<f64> = (0..count).map(|mode| dot(system.pull(mode), system.unit())).collect();
    rays::ways_on(&critical, |mode| columns[mode].clone(), &per_load)
}

/// Displacement that the load of factor one works on.
fn travel(load: &Load, fixed: usize, state: &State) -> f64 {
    let floors = load.floors.iter().zip(&state.floors);
    let diaphragms: f64 = floors.map(|(f, u)| f.x_kn * u.x_m + f.y_kn * u.y_m + f.moment_kn_m * u.rotation_rad).sum();
    let own = load.linked_kn.iter().zip(&state.displacement_m[fixed..]);
    diaphragms + own.flat_map(|(f, u)| f.iter().zip(u)).map(|(f, u)| f * u).sum::<f64>()
}

/// Area under an envelope between two plastic deformations.
fn area(envelope: &Envelope, from: f64, to: f64) -> f64 {
    let (mut start, mut force, mut sum) = (0.0, envelope.yield_force, 0.0);
    for piece in &envelope.pieces {
        let end = start + piece.length;
        let (a, b) = (from.max(start), to.min(end));
        if b > a {
            sum += (b - a) * (force + piece.slope * (0.5 * (a + b) - start));
        }
        if to <= end {
            break;
        }
        force += piece.slope * piece.length;
        start = end;
    }
    sum
}

fn pushed(seed: u64) -> Coverage {
    let mut dice = Dice::new(0x5157_0000 + seed);
    let storeys = match dice.whole(0, 9) {
        0..=5 => [1, 3],
        6..=8 => [4, 5],
        _ => [6, 8],
    };
    let mut it: Building = sized_building(&mut dice, storeys, [3, 3]);
    let count = it.assembly.floors.len();
    let mut seen = Coverage { buildings: 1, ..Coverage::default() };
    seen.storeys[count - 1] = 1;
    it.assembly.p_delta = dice.happens(0.6);
    seen.second_order = usize::from(it.assembly.p_delta);
    let Ok(factored) = it.assembly.factor() else {
        seen.unstable = 1;
        return seen;
    };
    let fixed: Vec<CondensedLine> = it.frames.iter().map(|frame| frame.condense().expect("sound")).collect();
    let linked: Vec<CondensedLine> = it.linked_frames.iter().map(|frame| frame.condense().expect("sound")).collect();
    let frames = || it.frames.iter().chain(&it.linked_frames);
    seen.walls = usize::from(frames().any(|frame| !frame.walls.is_empty()));
    seen.struts = usize::from(frames().any(|frame| !frame.storey_springs.is_empty()));

    let share = dice.within(0.3, 1.0);
    let mut plastic = Plastic::default();
    for (place, (line, frame)) in fixed.iter().chain(&linked).zip(frames()).enumerate() {
        let direction = it
            .assembly
            .lines
            .get(place)
            .map_or_else(|| it.assembly.linked[place - fixed.len()].direction, |line| line.direction);
        // Lines across yield where the building turns.
        if direction == X || dice.happens(0.3) {
            plastic.line(&mut dice, place, frame, line, share);
        }
    }
    let mut levels = Vec::new();
    for floor in &it.assembly.floors {
        levels.push(levels.last().unwrap_or(&0.0) + floor.storey_height_m);
    }
    for (k, line) in it.assembly.linked.iter().enumerate() {
        for (floor, link) in line.links.iter().enumerate() {
            if let Link::Spring(stiffness) = *link {
                seen.slabs = 1;
                let before = plastic.modes.len();
                let strength = (stiffness * dice.within(0.0005, 0.004)).min(dice.within(50.0, 900.0));
                plastic.add(&mut dice, PlasticMode::Slab { linked: k, floor }, stiffness, strength);
                let softens = |envelope: &Envelope| envelope.pieces.iter().any(|piece| piece.slope < 0.0);
                seen.softening_slabs |= usize::from(plastic.envelopes[before].iter().any(softens));
            }
        }
        if dice.happens(0.4) {
            // A line on free hinges turns without resistance.
            seen.rocking |= plastic.free(&mut dice, fixed.len() + k, linked[k].turning(&levels));
        }
        if dice.happens(0.4) {
            seen.sliding |= plastic.free(&mut dice, fixed.len() + k, linked[k].sliding());
        }
    }
    // Floors that slip past lines along the push.
    for (place, line) in it.assembly.lines.iter().enumerate().filter(|(_, line)| line.direction == X) {
        if dice.happens(0.3) {
            for floor in 0..line.stiffness.size() {
                seen.slipping |= plastic.free(&mut dice, place, fixed[place].slipping(floor));
            }
        }
    }

    let sense = if dice.happens(0.5) { 1.0 } else { -1.0 };
    let uniform = dice.happens(0.3);
    let forces_kn: Vec<f64> = levels.iter().map(|level| sense * if uniform { 1.0 } else { *level }).collect();
    let load = it.assembly.load_by_mass(X, &forces_kn);
    let all: Vec<&CondensedLine> = fixed.iter().chain(&linked).collect();
    let modes = plastic.modes.clone();
    let mut system =
        BuildingSystem::new(&factored, fixed.iter().collect(), linked.iter().collect(), &load, X, plastic.modes);
    let limits = Limits { watched: vec![0.12; system.watched()], least_left: 0.0 };
    let path = push(&mut system, &plastic.envelopes, &limits);

    match path.end {
        End::LimitDrift { .. } => seen.limit = 1,
        End::ZeroLoad => seen.zero = 1,
        End::LeastLeft => panic!("seed {seed}: an end that was not asked for"),
        End::SuddenLoss { mode } => {
            assert!(mode < modes.len(), "seed {seed}: a member that is not there is lost");
            seen.sudden = 1;
        }
    }
    seen.modes = modes.len();
    seen.events = path.events.len();
    seen.most_events = path.events.len();
    assert!(path.events.len() < 100 * modes.len().max(1), "seed {seed}: {} events", path.events.len());
    let peak = path.points.iter().fold(0.0_f64, |most, point| most.max(point.load));
    let last = path.points.last().expect("the origin at least");
    seen.lost_strength = usize::from(last.load < 0.8 * peak || seen.sudden == 1);
    seen.residual = path.residual;
    assert!(path.residual <= 1e-9, "seed {seed}: residual {}", path.residual);

    // Work of the load, and of every mode by the area under its envelope, sense by sense.
    let states: Vec<State> = path.points.iter().map(|point| system.state(point)).collect();
    let (mut given, mut turnover, mut lost) = (0.0, 0.0_f64, 0.0);
    let mut net = vec![0.0; modes.len()];
    let mut moved = vec![[0.0; 2]; modes.len()];
    for (pair, state) in path.points.windows(2).zip(states.windows(2)) {
        assert!(pair[1].load >= 0.0 && pair[1].load.is_finite(), "seed {seed}: load {}", pair[1].load);
        assert!(
            pair[1].accumulated >= pair[0].accumulated * (1.0 - 1e-12),
            "seed {seed}: plastic deformation falls from {} to {}",
            pair[0].accumulated,
            pair[1].accumulated
        );
        let way = travel(&load, fixed.len(), &state[1]) - travel(&load, fixed.len(), &state[0]);
        let step = 0.5 * (pair[0].load + pair[1].load) * way;
        given += step;
        turnover += step.abs();
        seen.snapped_back |= usize::from(way < 0.0);
        let mut now = vec![0.0; modes.len()];
        for &(mode, amplitude) in &pair[1].plastic {
            now[mode] = amplitude;
        }
        for mode in 0..modes.len() {
            let change = now[mode] - net[mode];
            // Put back on its envelope by rounding: no movement.
            if change.abs() <= 1e-10 * (moved[mode][0] + moved[mode][1]) {
                continue;
            }
            let side = usize::from(change < 0.0);
            let from = moved[mode][side];
            if change != 0.0 {
                lost += area(&plastic.envelopes[mode][side], from, from + change.abs());
                moved[mode][side] = from + change.abs();
            }
        }
        net = now;
    }
    seen.turned_back = usize::from(moved.iter().any(|senses| senses.iter().all(|own| *own > 1e-7)));
    for (point, state) in path.points.iter().zip(&states) {
        let gap = system.imbalance(point, state, X);
        seen.imbalance = seen.imbalance.max(gap);
        assert!(gap <= 1e-9, "seed {seed}: imbalance {gap}");
    }
    // Elastic energy of a structure with stress-free deformation γ: (λ·p·u − Q·γ)/2.
    let state = states.last().expect("one");
    let on_modes = forces(&modes, &all, last, state);
    let locked: f64 = last.plastic.iter().map(|&(mode, own)| on_modes[mode] * own).sum();
    let stored = 0.5 * (last.load * travel(&load, fixed.len(), state) - locked);
    let gap = (given - stored - lost).abs() / (turnover + lost + stored.abs()).max(f64::MIN_POSITIVE);
    seen.energy = gap;
    if let (End::SuddenLoss { mode }, Some(ways)) =
        (path.end, ways_on(&mut system, &plastic.envelopes, &moved, &on_modes))
    {
        seen.tried = 1;
        seen.turns_up = usize::from(!ways.is_empty());
        let up = |way: &Way| way.rises && !way.modes.contains(&mode);
        assert!(ways.iter().all(up), "seed {seed}: {mode} is lost where a path goes on: {ways:?}");
    }
    assert!(gap <= 1e-6, "seed {seed}: {given} kNm given, {stored} stored, {lost} lost");
    seen
}

#[test]
fn ten_thousand_random_buildings_end_in_balance() {
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let total = std::thread::scope(|scope| {
        let runs: Vec<_> = (0..threads)
            .map(|first| {
                scope.spawn(move || {
                    let mut sum = Coverage::default();
                    for seed in (first..BUILDINGS).step_by(threads as usize) {
                        if let Ok(own) = std::panic::catch_unwind(|| pushed(seed)) {
                            sum += own;
                        }
                    }
                    sum
                })
            })
            .collect();
        let mut total = Coverage::default();
        for run in runs {
            total += run.join().expect("no building fails");
        }
        total
    });
    let percent = |part: usize| 100.0 * part as f64 / total.buildings as f64;
    println!("{} buildings; storeys 1 to 8: {:?}", total.buildings, total.storeys);
    println!(
        "with walls {:.0} %, struts {:.0} %, connecting slabs {:.0} % (softening {:.0} %), rocking frames {:.0} %, sliding ones {:.0} %, slipping floors {:.0} %, second order {:.0} %",
        percent(total.walls),
        percent(total.struts),
        percent(total.slabs),
        percent(total.softening_slabs),
        percent(total.rocking),
        percent(total.sliding),
        percent(total.slipping),
        percent(total.second_order)
    );
    println!(
        "ends: drift limit {}, zero load {}, sudden loss {} (every way on tried at {}, only back up at {}), elastically unstable {}; strength lost {:.0} %, load went back {:.0} %, a mode turned back {:.0} %",
        total.limit,
        total.zero,
        total.sudden,
        total.tried,
        total.turns_up,
        total.unstable,
        percent(total.lost_strength),
        percent(total.snapped_back),
        percent(total.turned_back)
    );
    println!(
        "modes {:.0} and events {:.0} on average, most events {}; residual {:.1e}, imbalance {:.1e}, energy {:.1e}",
        total.modes as f64 / total.buildings as f64,
        total.events as f64 / total.buildings as f64,
        total.most_events,
        total.residual,
        total.imbalance,
        total.energy
    );
    assert_eq!(total.buildings as u64, BUILDINGS, "the rest fail, each named above");
    assert_eq!(total.limit + total.zero + total.sudden + total.unstable, total.buildings);
    assert!(2 * total.lost_strength >= total.buildings, "too few lose strength to prove anything");
    assert!(total.storeys.iter().all(|count| *count > 100), "storeys {:?}", total.storeys);
    for (what, part) in [
        ("walls", total.walls),
        ("struts", total.struts),
        ("connecting slabs", total.slabs),
        ("softening slabs", total.softening_slabs),
        ("rocking frames", total.rocking),
        ("sliding frames", total.sliding),
        ("slipping floors", total.slipping),
    ] {
        assert!(percent(part) >= 10.0, "{what} in {part} buildings only");
    }
    assert!(4 * total.tried > total.sudden, "too few sudden losses tried in every way");
    // A mode lost on the way down may leave the rest free to go back up a little.
    assert!(100 * total.turns_up <= total.tried, "a path turns up at {}", total.turns_up);
}
