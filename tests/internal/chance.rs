//! Random frame lines and buildings for the property tests.

use sisterframe_core::assembly::{Assembly, Floor, Line, Link, LinkedLine, Load};
use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, Restraint, StoreySpring, WallPanel};
use sisterframe_core::project::Direction;
use sisterframe_tests::dice::Dice;

const MODULUS: f64 = 22e6;

fn foot(dice: &mut Dice) -> Base {
    let rotation = match dice.whole(0, 3) {
        0 => Restraint::Free,
        1 => Restraint::Spring(dice.within(1e3, 1e6)),
        _ => Restraint::Fixed,
    };
    let vertical = if dice.happens(0.3) { Restraint::Spring(dice.within(5e4, 2e6)) } else { Restraint::Fixed };
    Base { rotation, vertical }
}

fn column(dice: &mut Dice, height: f64, shortens: bool) -> Column {
    let (b, h) = (dice.within(0.25, 0.7), dice.within(0.25, 0.7));
    Column {
        flexural_rigidity_kn_m2: 0.5 * MODULUS * b * h * h * h / 12.0,
        shear_rigidity_kn: dice.happens(0.7).then_some(0.4 * MODULUS * b * h / 1.2),
        axial_rigidity_kn: shortens.then_some(MODULUS * b * h),
        rigid_bottom_m: if dice.happens(0.2) { dice.within(0.0, 0.4 * height) } else { 0.0 },
        rigid_top_m: dice.within(0.0, 0.15 * height),
    }
}

fn beam(dice: &mut Dice) -> Beam {
    let (b, h) = (dice.within(0.2, 0.4), dice.within(0.35, 0.8));
    Beam {
        flexural_rigidity_kn_m2: 0.35 * MODULUS * b * h * h * h / 12.0,
        shear_rigidity_kn: dice.happens(0.5).then_some(0.4 * MODULUS * b * h / 1.2),
        rigid_left_m: dice.within(0.0, 0.35),
        rigid_right_m: dice.within(0.0, 0.35),
    }
}

/// Walls in one bay or two from the base up, the columns they take in removed.
fn add_walls(dice: &mut Dice, line: &mut FrameLine) {
    let lines = line.lines();
    let first_line = dice.whole(0, lines - 2);
    let last_line = dice.whole(first_line + 1, (first_line + 2).min(lines - 1));
    let (left, right) = (line.ordinates_m[first_line], line.ordinates_m[last_line]);
    let axis_m = left + (right - left) * dice.within(0.35, 0.65);
    let (thickness, length) = (dice.within(0.12, 0.3), right - left);
    let base = foot(dice);
    for storey in 0..dice.whole(1, line.floors()) {
        line.walls.push(WallPanel {
            storey,
            first_line,
            last_line,
            axis_m,
            flexural_rigidity_kn_m2: 0.5 * MODULUS * thickness * length * length * length / 12.0,
            shear_rigidity_kn: Some(0.4 * MODULUS * thickness * length / 1.2),
            axial_rigidity_kn: Some(0.5 * MODULUS * thickness * length),
            base,
        });
        for column_line in first_line..=last_line {
            line.set_column(storey, column_line, None);
        }
    }
}

/// A frame line over `ordinates`, up to `top` storeys of `heights`, with whatever comes up: set-back
/// columns, captive columns, walls, struts, footings that turn and settle.
pub fn frame_line(dice: &mut Dice, ordinates: &[f64], heights: &[f64], top: usize) -> FrameLine {
    let mut line = FrameLine::new(ordinates, heights);
    let lines = ordinates.len();
    for base in &mut line.bases {
        *base = foot(dice);
    }
    // Now and then a line of columns called rigid, all or some of them.
    let rigid_share = if dice.happens(0.1) { dice.within(0.0, 1.0) } else { 0.0 };
    // The first line and its neighbour always go up to the top, the others may stop.
    let ends: Vec<usize> =
        (0..lines).map(|j| if j < 2 || dice.happens(0.7) { top } else { dice.whole(0, top) }).collect();
    for (storey, &height) in heights.iter().enumerate().take(top) {
        for (j, &end) in ends.iter().enumerate() {
            if storey < end {
                let shortens = !dice.happens(rigid_share);
                line.set_column(storey, j, column(dice, height, shortens));
            }
        }
        for bay in 0..lines - 1 {
            if storey < ends[bay] && storey < ends[bay + 1] {
                line.set_beam(storey, bay, beam(dice));
            }
        }
        if dice.happens(0.2) {
            line.storey_springs.push(StoreySpring { storey, stiffness_kn_per_m: dice.within(1e3, 1e5) });
        }
    }
    if top == heights.len() && dice.happens(0.4) {
        add_walls(dice, &mut line);
    }
    line
}

pub fn ordinates(dice: &mut Dice, count: usize) -> Vec<f64> {
    let mut ordinates = vec![0.0];
    for _ in 1..count {
        let last = ordinates[ordinates.len() - 1];
        ordinates.push(last + dice.within(2.5, 7.0));
    }
    ordinates
}

/// A building with frame lines both ways and up to two external frames.
pub struct Building {
    pub assembly: Assembly,
    /// Frame lines behind [`Assembly::lines`], in the same order.
    pub frames: Vec<FrameLine>,
    /// Frame lines behind [`Assembly::linked`].
    pub linked_frames: Vec<FrameLine>,
    pub load: Load,
}

pub fn building(dice: &mut Dice) -> Building {
    sized_building(dice, [1, 6], [5, 4])
}

/// A building with so many storeys, from and to, and at most so many lines each way.
pub fn sized_building(dice: &mut Dice, storeys: [usize; 2], most_lines: [usize; 2]) -> Building {
    let storeys = dice.whole(storeys[0], storeys[1]);
    let heights: Vec<f64> = (0..storeys).map(|_| dice.within(2.6, 4.6)).collect();
    let (along_x, along_y) = (dice.whole(2, most_lines[0]), dice.whole(2, most_lines[1]));
    let (xs, ys) = (ordinates(dice, along_x), ordinates(dice, along_y));
    let (length, width) = (xs[along_x - 1], ys[along_y - 1]);
    let floors: Vec<Floor> = heights
        .iter()
        .map(|&storey_height_m| Floor {
            storey_height_m,
            x_m: length * dice.within(0.4, 0.6),
            y_m: width * dice.within(0.4, 0.6),
            mass_t: length * width * dice.within(0.5, 1.2),
            gyration_m2: (length * length + width * width) / 12.0,
            weight_kn: length * width * dice.within(5.0, 12.0),
        })
        .collect();
    let mut assembly = Assembly::new(floors);
    let mut frames = Vec::new();
    let mut add = |dice: &mut Dice, direction, ordinate_m, along: &[f64], must_reach: bool| {
        let top = if must_reach || dice.happens(0.8) { storeys } else { dice.whole(1, storeys) };
        let frame = frame_line(dice, along, &heights, top);
        let stiffness = frame.condense().expect("a random frame is sound").stiffness().clone();
        assembly.lines.push(Line { direction, ordinate_m, stiffness });
        frames.push(frame);
    };
    for (j, &y) in ys.iter().enumerate() {
        add(dice, Direction::X, y, &xs, j < 2);
    }
    for (i, &x) in xs.iter().enumerate() {
        add(dice, Direction::Y, x, &ys, i < 2);
    }
    let mut linked_frames = Vec::new();
    for _ in 0..dice.whole(0, 2) {
        let direction = if dice.happens(0.5) { Direction::X } else { Direction::Y };
        let (face, span) = if direction == Direction::X { (width, &xs) } else { (length, &ys) };
        let ordinate_m = if dice.happens(0.5) { -dice.within(1.0, 3.0) } else { face + dice.within(1.0, 3.0) };
        let top = dice.whole(1, storeys);
        let frame = frame_line(dice, span, &heights, top);
        let reached = |i: usize| i < top;
        let links = (0..storeys)
            .map(|i| match dice.whole(0, 9) {
                _ if !reached(i) => Link::Absent,
                // The lowest floor is always tied: a wall on a hinge may need it.
                0 if i > 0 => Link::Absent,
                1 => Link::Rigid,
                k => Link::Spring([1e4, 1e5, 1e6, 1e7][k % 4] * dice.within(1.0, 9.0)),
            })
            .collect();
        let per_floor = |dice: &mut Dice, low: f64, high: f64| -> Vec<f64> {
            (0..storeys).map(|i| if reached(i) { dice.within(low, high) } else { 0.0 }).collect()
        };
        assembly.linked.push(LinkedLine {
            direction,
            ordinate_m,
            middle_m: span[span.len() - 1] / 2.0,
            gyration_m2: 8.0,
            floors: top,
            stiffness: frame.condense().expect("a random frame is sound").stiffness().clone(),
            links,
            mass_t: per_floor(dice, 10.0, 40.0),
            weight_kn: per_floor(dice, 100.0, 400.0),
        });
        linked_frames.push(frame);
    }
    let mut load = assembly.no_load();
    for floor in &mut load.floors {
        floor.x_kn = dice.within(-300.0, 900.0);
        floor.y_kn = dice.within(-300.0, 900.0);
        floor.moment_kn_m = dice.within(-600.0, 600.0);
    }
    for (forces, line) in load.linked_kn.iter_mut().zip(&assembly.linked) {
        for (force, mass) in forces.iter_mut().zip(&line.mass_t) {
            *force = 3.0 * mass;
        }
    }
    Building { assembly, frames, linked_frames, load }
}
