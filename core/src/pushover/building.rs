//! A building of frame lines and connecting slabs with plastic modes.

use super::solver::{Point, System};
use crate::assembly::{Assembly, Link, Load};
use crate::condensed_line::CondensedLine;
use crate::line_mode::{Hinge, LineMode};
use crate::linear::Square;
use crate::plan_matrix::{Row, value};
use crate::project::Direction;
use crate::response::{Factored, FloorMotion};

/// A plastic mode of a building.
#[derive(Clone, Debug)]
pub enum PlasticMode {
    /// In frame lines, each with its part: lines fixed to the diaphragms in the order of
    /// [`Assembly::lines`], then linked ones in the order of [`Assembly::linked`].
    Members(Vec<(usize, LineMode)>),
    /// Slip of a connecting slab beyond its elastic deformation; works with its force.
    Slab {
        /// The linked line.
        linked: usize,
        /// The floor.
        floor: usize,
    },
}

/// A building under one load pattern, ready to be pushed.
pub struct BuildingSystem<'a> {
    factored: &'a Factored<'a>,
    lines: Vec<&'a CondensedLine>,
    linked: Vec<&'a CondensedLine>,
    modes: Vec<PlasticMode>,
    /// Mode by mode: its elastic force per unit of each unknown, which is also what holds a unit of
    /// it back.
    pulls: Vec<f64>,
    unit: Vec<f64>,
    /// Rows of the displacement of each floor of each line, fixed ones first.
    rows: Vec<Vec<Row>>,
    watched: Vec<Vec<(usize, f64)>>,
    /// Block of each mode: what acts on each other within its lines.
    blocks: Vec<usize>,
    /// Force on each mode per unit of load with the unknowns held.
    held: Vec<f64>,
    /// Of the modes that moved: hidden displacements of the lines of the mode, in its order.
    hidden: Vec<Option<Vec<Vec<f64>>>>,
    load: Load,
    joint_loads: Vec<JointLoad>,
}

/// A vertical load on a joint that grows with the lateral one.
struct JointLoad {
    line: usize,
    floor_forces: Vec<f64>,
}

/// State of a building at a point of its path.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Movement of each diaphragm.
    pub floors: Vec<FloorMotion>,
    /// Displacement of each floor of each line (fixed lines, then linked ones), m.
    pub displacement_m: Vec<Vec<f64>>,
    /// Storey shears of each line in the same order, kN.
    pub storey_shear_kn: Vec<Vec<f64>>,
    /// Force in the connecting slab of each floor of each linked line, kN.
    pub slab_kn: Vec<Vec<f64>>,
}

impl<'a> BuildingSystem<'a> {
    /// A building with the condensed lines its assembly was made of, in the same order.
    /// Watched are the drifts along `direction` of every storey of the lines in that direction,
    /// fixed and linked, over the storey height.
    pub fn new(
        factored: &'a Factored<'a>,
        lines: Vec<&'a CondensedLine>,
        linked: Vec<&'a CondensedLine>,
        load: &Load,
        direction: Direction,
        modes: Vec<PlasticMode>,
    ) -> Self {
        let assembly = factored.assembly();
        let layout = &factored.layout;
        let count = assembly.floors.len();
        let fixed = assembly.lines.iter().map(|line| {
            (0..count).map(|i| layout.row(assembly, i, line.direction, line.ordinate_m)).collect::<Vec<Row>>()
        });
        let tied = (0..assembly.linked.len())
            .map(|k| (0..count).map(|i| layout.linked_row(assembly, k, i)).collect::<Vec<Row>>());
        let rows: Vec<Vec<Row>> = fixed.chain(tied).collect();
        let mut watched = Vec::new();
        let directions = assembly
            .lines
            .iter()
            .map(|line| (line.direction, count))
            .chain(assembly.linked.iter().map(|line| (line.direction, line.floors)));
        for (own, (along, floors)) in rows.iter().zip(directions) {
            if along != direction {
                continue;
            }
            for s in 0..floors {
                let height = assembly.floors[s].storey_height_m;
                let mut terms: Vec<(usize, f64)> = own[s].iter().map(|&(place, f)| (place, f / height)).collect();
                if s > 0 {
                    terms.extend(own[s - 1].iter().map(|&(place, f)| (place, -f / height)));
                }
                watched.push(terms);
            }
        }
        let mut unit = factored.right_hand_side(load);
        factored.factor.solve(&mut unit);
        let mut system = Self {
            factored,
            lines,
            linked,
            pulls: vec![0.0; modes.len() * layout.size],
            hidden: vec![None; modes.len()],
            blocks: blocks(&modes, rows.len()),
            held: vec![0.0; modes.len()],
            modes,
            unit,
            rows,
            watched,
            load: load.clone(),
            joint_loads: Vec::new(),
        };
        system.find_pulls();
        system
    }

    fn find_pulls(&mut self) {
        let size = self.factored.layout.size;
        for (mode, pulls) in self.modes.iter().zip(self.pulls.chunks_exact_mut(size.max(1))) {
            match mode {
                PlasticMode::Members(parts) => {
                    for (line, own) in parts {
                        add_forces(pulls, &self.rows[*line], &own.floor_forces);
                    }
                }
                PlasticMode::Slab { linked, floor } => {
                    let stiffness = match self.factored.assembly().linked[*linked].links[*floor] {
                        Link::Spring(stiffness) => stiffness,
                        Link::Absent | Link::Rigid => 0.0,
                    };
                    if let Some(target) = pulls.get_mut(self.factored.layout.slips[*linked][*floor]) {
                        *target += stiffness;
                    }
                }
            }
        }
    }

    /// Adds a force down on the joint of a column line at a floor of a fixed line, in proportion
    /// to the lateral load; nothing where no joint stands there.
    pub fn load_joint(&mut self, line: usize, floor: usize, column_line: usize, force_kn: f64) {
        let Some((floor_forces, hidden)) = self.condensed(line).joint_load(floor, column_line, force_kn) else {
            return;
        };
        let mut unknowns = vec![0.0; self.factored.layout.size];
        add_forces(&mut unknowns, &self.rows[line], &floor_forces);
        self.factored.factor.solve(&mut unknowns);
        for (sum, more) in self.unit.iter_mut().zip(unknowns) {
            *sum += more;
        }
        for (mode, held) in self.modes.iter().zip(&mut self.held) {
            if let PlasticMode::Members(parts) = mode {
                for (_, own) in parts.iter().filter(|(its, _)| *its == line) {
                    *held += own.force_held(&hidden, &floor_forces);
                }
            }
        }
        self.joint_loads.push(JointLoad { line, floor_forces });
    }

    fn assembly(&self) -> &Assembly {
        self.factored.assembly()
    }

    /// The modes.
    pub fn plastic_modes(&self) -> &[PlasticMode] {
        &self.modes
    }

    fn condensed(&self, line: usize) -> &'a CondensedLine {
        match line.checked_sub(self.lines.len()) {
            None => self.lines[line],
            Some(k) => self.linked[k],
        }
    }

    fn slab_stiffness(&self, linked: usize, floor: usize) -> f64 {
        match self.assembly().linked[linked].links[floor] {
            Link::Spring(stiffness) => stiffness,
            Link::Absent | Link::Rigid => 0.0,
        }
    }

    fn floor_displacements(&self, line: usize, unknowns: &[f64]) -> Vec<f64> {
        let floors = self.condensed(line).floors();
        self.rows[line].iter().take(floors).map(|row| value(row, unknowns)).collect()
    }

    /// Unknowns at a point.
    fn unknowns(&self, point: &Point) -> Vec<f64> {
        let size = self.factored.layout.size;
        let mut unknowns = vec![0.0; size];
        for &(mode, amplitude) in &point.plastic {
            for (sum, pull) in unknowns.iter_mut().zip(&self.pulls[mode * size..]) {
                *sum += pull * amplitude;
            }
        }
        self.factored.factor.solve(&mut unknowns);
        for (sum, unit) in unknowns.iter_mut().zip(&self.unit) {
            *sum += unit * point.load;
        }
        unknowns
    }

    /// Movement of every diaphragm at a point.
    pub fn motions(&self, point: &Point) -> Vec<FloorMotion> {
        self.factored.motions(&self.unknowns(point))
    }

    /// Displacements, line shears and slab forces at a point of a path of this building.
    pub fn state(&self, point: &Point) -> State {
        let unknowns = self.unknowns(point);
        let displacement_m: Vec<Vec<f64>> =
            (0..self.rows.len()).map(|line| self.floor_displacements(line, &unknowns)).collect();
        let mut forces: Vec<Vec<f64>> =
            displacement_m.iter().enumerate().map(|(line, u)| self.condensed(line).stiffness().times(u)).collect();
        let mut slips: Vec<Vec<f64>> =
            self.assembly().linked.iter().map(|_| vec![0.0; self.assembly().floors.len()]).collect();
        for &(mode, amplitude) in &point.plastic {
            match &self.modes[mode] {
                PlasticMode::Members(parts) => {
                    for (line, own) in parts {
                        for (sum, force) in forces[*line].iter_mut().zip(&own.floor_forces) {
                            *sum -= force * amplitude;
                        }
                    }
                }
                PlasticMode::Slab { linked, floor } => slips[*linked][*floor] += amplitude,
            }
        }
        for joint in &self.joint_loads {
            for (sum, force) in forces[joint.line].iter_mut().zip(&joint.floor_forces) {
                *sum -= force * point.load;
            }
        }
        for line in &mut forces {
            for s in (1..line.len()).rev() {
                line[s - 1] += line[s];
            }
        }
        let slab_kn = slips
            .iter()
            .enumerate()
            .map(|(k, slips)| {
                slips
                    .iter()
                    .enumerate()
                    .map(|(floor, slip)| {
                        let place = self.factored.layout.slips[k][floor];
                        let total = unknowns.get(place).copied().unwrap_or(0.0);
                        self.slab_stiffness(k, floor) * (total - slip)
                    })
                    .collect()
            })
            .collect();
        State { floors: self.factored.motions(&unknowns), displacement_m, storey_shear_kn: forces, slab_kn }
    }

    /// Modes of a line (fixed lines, then linked ones) that have moved at a point, with their hidden
    /// responses and amplitudes.
    fn moved<'b>(&'b self, line: usize, point: &'b Point) -> Vec<(&'b LineMode, &'b [f64], f64)> {
        let mut modes: Vec<(&LineMode, &[f64], f64)> = Vec::new();
        for &(mode, amplitude) in &point.plastic {
            if let (PlasticMode::Members(parts), Some(hidden)) = (&self.modes[mode], &self.hidden[mode]) {
                for ((own, line_mode), hidden) in parts.iter().zip(hidden) {
                    if *own == line {
                        modes.push((line_mode, hidden, amplitude));
                    }
                }
            }
        }
        modes
    }

    /// Shears of the members of a line (fixed lines, then linked ones) at a point.
    pub fn member_shears(&self, line: usize, point: &Point, state: &State) -> crate::line_mode::LineShears {
        self.condensed(line).plastic_shears(&state.displacement_m[line], &self.moved(line, point))
    }

    /// Moments at the foot and the head of an upright member of a line at a point, kNm; `None` where
    /// there is no such member.
    pub fn end_moments(&self, line: usize, hinge: Hinge, point: &Point) -> Option<[f64; 2]> {
        let displacement_m = self.floor_displacements(line, &self.unknowns(point));
        self.condensed(line).plastic_end_moments(hinge, &displacement_m, &self.moved(line, point))
    }

    /// Largest imbalance of a storey along a direction between what the lines resist and what is
    /// applied, second-order push included, as a part of the shears there and of the largest one that
    /// any line carries: where the load has fallen to nothing lines may still hold each other.
    pub fn imbalance(&self, point: &Point, state: &State, direction: Direction) -> f64 {
        let assembly = self.assembly();
        let count = assembly.floors.len();
        let mut worst = 0.0_f64;
        let shears = state.storey_shear_kn.iter().flatten();
        let largest = shears.fold(f64::MIN_POSITIVE, |most, shear| most.max(shear.abs()));
        for s in 0..count {
            let mut resisting = 0.0;
            let mut size = largest;
            let directions =
                assembly.lines.iter().map(|l| l.direction).chain(assembly.linked.iter().map(|l| l.direction));
            for (along, shears) in directions.zip(&state.storey_shear_kn) {
                if along == direction {
                    let shear = shears.get(s).copied().unwrap_or(0.0);
                    resisting += shear;
                    size += shear.abs();
                }
            }
            let mut applied: f64 = self.load.floors.iter().skip(s).map(|f| f.along(direction)).sum();
            for (line, own) in assembly.linked.iter().zip(&self.load.linked_kn) {
                if line.direction == direction {
                    applied += own.iter().skip(s).sum::<f64>();
                }
            }
            applied *= point.load;
            if assembly.p_delta {
                let height = assembly.floors[s].storey_height_m;
                let drift = |of: &dyn Fn(usize) -> f64| (of(s) - s.checked_sub(1).map_or(0.0, of)) / height;
                for floor in &assembly.floors[s..] {
                    let across = match direction {
                        Direction::X => floor.y_m,
                        Direction::Y => floor.x_m,
                    };
                    applied += floor.weight_kn * drift(&|i| state.floors[i].at(direction, across));
                }
                for (k, line) in assembly.linked.iter().enumerate() {
                    let weight: f64 = line.weight_kn[s..].iter().sum();
                    if line.direction == direction {
                        let own = &state.displacement_m[self.lines.len() + k];
                        let at = |i: usize| {
                            own.get(i)
                                .copied()
                                .unwrap_or_else(|| value(&self.rows[self.lines.len() + k][i], &self.unknowns(point)))
                        };
                        applied += weight * drift(&at);
                    } else {
                        applied += weight * drift(&|i| state.floors[i].at(direction, line.middle_m));
                    }
                }
            }
            worst = worst.max((resisting - applied).abs() / size.max(applied.abs()));
        }
        worst
    }
}

impl System for BuildingSystem<'_> {
    fn modes(&self) -> usize {
        self.modes.len()
    }

    fn block(&self, mode: usize) -> usize {
        self.blocks[mode]
    }

    fn stiffness(&self) -> Square {
        self.factored.factor.product()
    }

    fn unit(&self) -> &[f64] {
        &self.unit
    }

    fn pull(&self, mode: usize) -> &[f64] {
        let size = self.factored.layout.size;
        &self.pulls[mode * size..(mode + 1) * size]
    }

    fn held(&self, mode: usize) -> f64 {
        self.held[mode]
    }

    fn own_stiffness(&self, mode: usize) -> f64 {
        let own = match &self.modes[mode] {
            PlasticMode::Members(parts) => parts.iter().map(|(_, own)| own.own_stiffness).sum(),
            PlasticMode::Slab { linked, floor } => self.slab_stiffness(*linked, *floor),
        };
        if own > 0.0 { own } else { 1.0 }
    }

    fn local(&mut self, mode: usize, among: &[usize], column: &mut [f64]) {
        let parts = match &self.modes[mode] {
            PlasticMode::Members(parts) => parts,
            PlasticMode::Slab { linked, floor } => {
                column.fill(self.slab_stiffness(*linked, *floor));
                return;
            }
        };
        let responses: Vec<Vec<f64>> =
            parts.iter().map(|(line, own)| self.condensed(*line).hidden_response(own)).collect();
        for (&other, taken) in among.iter().zip(column) {
            let PlasticMode::Members(others) = &self.modes[other] else { continue };
            for ((line, own), hidden) in parts.iter().zip(&responses) {
                for (_, other) in others.iter().filter(|(its, _)| its == line) {
                    *taken -= self.condensed(*line).coupling(other, own, hidden);
                }
            }
        }
        self.hidden[mode] = Some(responses);
    }

    fn watched(&self) -> usize {
        self.watched.len()
    }

    fn watch(&self, index: usize) -> &[(usize, f64)] {
        &self.watched[index]
    }
}

/// Blocks of modes: lines that share a mode count as one; a slab stands alone.
fn blocks(modes: &[PlasticMode], lines: usize) -> Vec<usize> {
    let mut leader: Vec<usize> = (0..lines).collect();
    for mode in modes {
        if let PlasticMode::Members(parts) = mode {
            for pair in parts.windows(2) {
                let (one, other) = (leader[pair[0].0], leader[pair[1].0]);
                let (first, later) = (one.min(other), one.max(other));
                leader.iter_mut().filter(|own| **own == later).for_each(|own| *own = first);
            }
        }
    }
    let mut number = vec![None; lines];
    let mut count = 0;
    let mut next = || {
        count += 1;
        count - 1
    };
    modes
        .iter()
        .map(|mode| match mode {
            PlasticMode::Members(parts) => match parts.first() {
                Some((line, _)) => *number[leader[*line]].get_or_insert_with(&mut next),
                None => next(),
            },
            PlasticMode::Slab { .. } => next(),
        })
        .collect()
}

/// Adds the forces on the floors of a line to those on the unknowns.
fn add_forces(unknowns: &mut [f64], rows: &[Row], floor_forces: &[f64]) {
    for (row, force) in rows.iter().zip(floor_forces) {
        for &(place, factor) in row {
            if let Some(target) = unknowns.get_mut(place) {
                *target += factor * force;
            }
        }
    }
}
