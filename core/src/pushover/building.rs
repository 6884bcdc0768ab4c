//! A building of frame lines and connecting slabs with plastic modes.

use super::solver::{Point, System};
use crate::assembly::{Assembly, Link, Load};
use crate::condensed_line::CondensedLine;
use crate::line_mode::LineMode;
use crate::linear::dot;
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
    /// Of the modes that moved: unknowns and hidden displacements of their line per unit.
    responses: Vec<Option<Response>>,
    load: Load,
    joint_loads: Vec<JointLoad>,
}

/// A vertical load on a joint that grows with the lateral one.
struct JointLoad {
    line: usize,
    floor_forces: Vec<f64>,
    hidden: Vec<f64>,
}

struct Response {
    unknowns: Vec<f64>,
    /// Of the lines of the mode, in its order.
    hidden: Vec<Vec<f64>>,
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
            responses: modes.iter().map(|_| None).collect(),
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
        self.joint_loads.push(JointLoad { line, floor_forces, hidden });
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

    fn respond(&mut self, mode: usize) {
        if self.responses[mode].is_some() {
            return;
        }
        let size = self.factored.layout.size;
        let mut unknowns = self.pulls[mode * size..(mode + 1) * size].to_vec();
        self.factored.factor.solve(&mut unknowns);
        let hidden = match &self.modes[mode] {
            PlasticMode::Members(parts) => {
                parts.iter().map(|(line, own)| self.condensed(*line).hidden_response(own)).collect()
            }
            PlasticMode::Slab { .. } => Vec::new(),
        };
        self.responses[mode] = Some(Response { unknowns, hidden });
    }

    /// Forces on all modes for unknowns, everything elastic.
    fn elastic_forces(&self, unknowns: &[f64], forces: &mut [f64]) {
        for (pulls, force) in self.pulls.chunks_exact(unknowns.len().max(1)).zip(forces) {
            *force = dot(pulls, unknowns);
        }
    }

    /// Unknowns at a point.
    fn unknowns(&self, point: &Point) -> Vec<f64> {
        let mut unknowns: Vec<f64> = self.unit.iter().map(|unit| unit * point.load).collect();
        for &(mode, amplitude) in &point.plastic {
            if let Some(response) = &self.responses[mode] {
                for (sum, unit) in unknowns.iter_mut().zip(&response.unknowns) {
                    *sum += unit * amplitude;
                }
            }
        }
        unknowns
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

    /// Shears of the members of a line (fixed lines, then linked ones) at a point.
    pub fn member_shears(&self, line: usize, point: &Point, state: &State) -> crate::line_mode::LineShears {
        let mut modes: Vec<(&LineMode, &[f64], f64)> = Vec::new();
        for &(mode, amplitude) in &point.plastic {
            if let (PlasticMode::Members(parts), Some(response)) = (&self.modes[mode], &self.responses[mode]) {
                for ((own, line_mode), hidden) in parts.iter().zip(&response.hidden) {
                    if *own == line {
                        modes.push((line_mode, hidden, amplitude));
                    }
                }
            }
        }
        self.condensed(line).plastic_shears(&state.displacement_m[line], &modes)
    }

    /// Largest imbalance of a storey along a direction between what the lines resist and what is
    /// applied, second-order push included, as a part of the base shear and of the line shears.
    pub fn imbalance(&self, point: &Point, state: &State, direction: Direction) -> f64 {
        let assembly = self.assembly();
        let count = assembly.floors.len();
        let mut worst = 0.0_f64;
        for s in 0..count {
            let mut resisting = 0.0;
            let mut size = f64::MIN_POSITIVE;
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

    fn at_rest(&self) -> Vec<f64> {
        vec![0.0; self.modes.len()]
    }

    fn per_load(&self) -> Vec<f64> {
        let mut forces = vec![0.0; self.modes.len()];
        self.elastic_forces(&self.unit, &mut forces);
        for joint in &self.joint_loads {
            for (mode, force) in self.modes.iter().zip(&mut forces) {
                if let PlasticMode::Members(parts) = mode {
                    for (line, own) in parts.iter().filter(|(line, _)| *line == joint.line) {
                        *force += self.condensed(*line).mode_force_hidden(own, &joint.hidden);
                    }
                }
            }
        }
        forces
    }

    fn own_stiffness(&self, mode: usize) -> f64 {
        let own = match &self.modes[mode] {
            PlasticMode::Members(parts) => parts.iter().map(|(_, own)| own.own_stiffness).sum(),
            PlasticMode::Slab { linked, floor } => self.slab_stiffness(*linked, *floor),
        };
        if own > 0.0 { own } else { 1.0 }
    }

    fn influence(&mut self, mode: usize, column: &mut [f64]) {
        self.respond(mode);
        let Some(response) = &self.responses[mode] else { return };
        self.elastic_forces(&response.unknowns, column);
        match &self.modes[mode] {
            PlasticMode::Members(parts) => {
                for (other, force) in self.modes.iter().zip(column.iter_mut()) {
                    let PlasticMode::Members(others) = other else { continue };
                    for ((line, own), hidden) in parts.iter().zip(&response.hidden) {
                        for (_, other) in others.iter().filter(|(its, _)| its == line) {
                            *force += self.condensed(*line).coupling(other, own, hidden);
                        }
                    }
                }
            }
            PlasticMode::Slab { linked, floor } => column[mode] -= self.slab_stiffness(*linked, *floor),
        }
        for force in column {
            *force = -*force;
        }
    }

    fn watched(&self) -> usize {
        self.watched.len()
    }

    fn watched_per_load(&self) -> Vec<f64> {
        self.watched.iter().map(|row| sum(row, &self.unit)).collect()
    }

    fn watched_influence(&mut self, mode: usize, column: &mut [f64]) {
        self.respond(mode);
        if let Some(response) = &self.responses[mode] {
            for (row, entry) in self.watched.iter().zip(column) {
                *entry = sum(row, &response.unknowns);
            }
        }
    }
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

fn sum(terms: &[(usize, f64)], unknowns: &[f64]) -> f64 {
    terms.iter().map(|&(place, factor)| factor * unknowns.get(place).copied().unwrap_or(0.0)).sum()
}
