//! Unknowns of an assembly, and its stiffness, geometric stiffness and mass on them.

use crate::assembly::{Assembly, AssemblyError, Freedoms, Link, Movement};
use crate::linear::Square;
use crate::project::Direction;

/// Place of no unknown: held, or not there.
pub(crate) const NONE: usize = usize::MAX;

/// A displacement as a combination of at most three unknowns.
pub(crate) type Row = [(usize, f64); 3];

/// Where the unknowns stand: three per floor, then one slip per tied floor of each linked line.
#[derive(Clone, Debug)]
pub(crate) struct Layout {
    /// x, y, rotation of each floor.
    pub(crate) floors: Vec<[usize; 3]>,
    /// Slip δ − u_a of each linked line at each floor.
    pub(crate) slips: Vec<Vec<usize>>,
    pub(crate) size: usize,
}

impl Layout {
    pub(crate) fn new(assembly: &Assembly) -> Self {
        let mut size = 0;
        let mut take = |free: bool| {
            if free {
                size += 1;
                size - 1
            } else {
                NONE
            }
        };
        let Freedoms { x, y, rotation } = assembly.freedoms;
        let floors = assembly.floors.iter().map(|_| [x, y, rotation].map(&mut take)).collect();
        let slips = assembly
            .linked
            .iter()
            .map(|line| {
                (0..assembly.floors.len()).map(|i| take(line.reaches(i) && line.links[i] != Link::Rigid)).collect()
            })
            .collect();
        Self { floors, slips, size }
    }

    /// Displacement of floor `i` along `direction` at the `ordinate_m` of a line in that direction.
    pub(crate) fn row(&self, assembly: &Assembly, i: usize, direction: Direction, ordinate_m: f64) -> Row {
        let [x, y, rotation] = self.floors[i];
        let translation = [x, y][direction.index()];
        let arm = assembly.floors[i].arm(direction, ordinate_m);
        [(translation, 1.0), (rotation, arm), (NONE, 0.0)]
    }

    /// Displacement of floor `i` of linked line `k` along the line: u_a = δ − s.
    pub(crate) fn linked_row(&self, assembly: &Assembly, k: usize, i: usize) -> Row {
        let line = &assembly.linked[k];
        let mut row = self.row(assembly, i, line.direction, line.ordinate_m);
        row[2] = (self.slips[k][i], -1.0);
        row
    }

    pub(crate) fn stiffness(&self, assembly: &Assembly) -> Square {
        let floors = assembly.floors.len();
        let mut matrix = Square::zero(self.size);
        for line in &assembly.lines {
            let rows: Vec<Row> = (0..floors).map(|i| self.row(assembly, i, line.direction, line.ordinate_m)).collect();
            add_stiffness(&mut matrix, &rows, &line.stiffness);
        }
        for (k, line) in assembly.linked.iter().enumerate() {
            let rows: Vec<Row> = (0..floors).map(|i| self.linked_row(assembly, k, i)).collect();
            add_stiffness(&mut matrix, &rows, &line.stiffness);
            for (i, link) in line.links.iter().enumerate() {
                if let Link::Spring(stiffness) = link {
                    add_rank_one(&mut matrix, &[(self.slips[k][i], 1.0)], *stiffness);
                }
            }
        }
        if assembly.p_delta {
            self.add_geometric(assembly, &mut matrix);
        }
        matrix
    }

    /// Adds the (negative) geometric stiffness of the weights.
    ///
    /// A weight w at floor j passes down through every storey s ≤ j and does w/(2h)·Δ² of work
    /// on the drift Δ of the point it stands at. Spread over the floor with gyration r about its
    /// centre, this takes w/h from both drifts of the centre and w·r²/h from the twist of the
    /// storey. A linked line leans on its own drift along the line and on the diaphragm's across.
    /// DERIVED: second-order work of loads that stay vertical, small chord rotations.
    fn add_geometric(&self, assembly: &Assembly, matrix: &mut Square) {
        for (s, storey) in assembly.floors.iter().enumerate() {
            let drift = |at: &dyn Fn(usize) -> Row| {
                let mut terms = [(NONE, 0.0); 6];
                terms[..3].copy_from_slice(&at(s));
                if let Some(below) = s.checked_sub(1) {
                    let minus = at(below).map(|(unknown, factor)| (unknown, -factor));
                    terms[3..].copy_from_slice(&minus);
                }
                terms
            };
            let twist = drift(&|i| [(self.floors[i][2], 1.0), (NONE, 0.0), (NONE, 0.0)]);
            for floor in &assembly.floors[s..] {
                let factor = -floor.weight_kn / storey.storey_height_m;
                for (direction, ordinate) in [(Direction::X, floor.y_m), (Direction::Y, floor.x_m)] {
                    let centre = drift(&|i| self.row(assembly, i, direction, ordinate));
                    add_rank_one(matrix, &centre, factor);
                }
                add_rank_one(matrix, &twist, factor * floor.gyration_m2);
            }
            for (k, line) in assembly.linked.iter().enumerate() {
                let weight: f64 = line.weight_kn[s..].iter().sum();
                let factor = -weight / storey.storey_height_m;
                let own = drift(&|i| self.linked_row(assembly, k, i));
                add_rank_one(matrix, &own, factor);
                let across = line.direction.across();
                let carried = drift(&|i| self.row(assembly, i, across, line.middle_m));
                add_rank_one(matrix, &carried, factor);
                add_rank_one(matrix, &twist, factor * line.gyration_m2);
            }
        }
    }

    /// Mass matrix, t and t·m².
    pub(crate) fn mass(&self, assembly: &Assembly) -> Square {
        let mut matrix = Square::zero(self.size);
        for (i, floor) in assembly.floors.iter().enumerate() {
            let [x, y, rotation] = self.floors[i];
            add_rank_one(&mut matrix, &[(x, 1.0)], floor.mass_t);
            add_rank_one(&mut matrix, &[(y, 1.0)], floor.mass_t);
            let turning = floor.mass_t * floor.gyration_m2;
            add_rank_one(&mut matrix, &[(rotation, 1.0)], turning);
            for (k, line) in assembly.linked.iter().enumerate() {
                let mass = line.mass_t[i];
                add_rank_one(&mut matrix, &self.linked_row(assembly, k, i), mass);
                let across = line.direction.across();
                let carried = self.row(assembly, i, across, line.middle_m);
                add_rank_one(&mut matrix, &carried, mass);
                let turning = mass * line.gyration_m2;
                add_rank_one(&mut matrix, &[(rotation, 1.0)], turning);
            }
        }
        matrix
    }

    /// Where a stiffness that failed to factor at `row` gives way: the storey with the largest drift
    /// in the movement that meets no resistance.
    pub(crate) fn weakest(&self, assembly: &Assembly, stiffness: &Square, row: usize) -> AssemblyError {
        // The unknowns before `row` stand by themselves, so they follow a unit movement of it.
        let mut leading = Square::zero(row);
        let mut movement = vec![0.0; row];
        for (i, target) in movement.iter_mut().enumerate() {
            *target = -stiffness.at(i, row);
            for j in 0..row {
                leading.add(i, j, stiffness.at(i, j));
            }
        }
        if let Ok(factor) = leading.factor() {
            factor.solve(&mut movement);
        }
        movement.push(1.0);
        let at = |place: usize| movement.get(place).copied().unwrap_or(0.0);

        let mut worst = (0.0, AssemblyError::Unstable { floor: 0, movement: Movement::Rotation });
        let mut drift = |floor: usize, movement: Movement, of: &dyn Fn(usize) -> f64| {
            let size = (of(floor) - floor.checked_sub(1).map_or(0.0, of)).abs();
            if size > worst.0 {
                worst = (size, AssemblyError::Unstable { floor, movement });
            }
        };
        for (i, floor) in assembly.floors.iter().enumerate() {
            for direction in Direction::BOTH {
                drift(i, Movement::Translation(direction), &|i| at(self.floors[i][direction.index()]));
            }
            // A twist counts by what it does at the radius of gyration.
            let radius = floor.gyration_m2.sqrt().max(1.0);
            drift(i, Movement::Rotation, &|i| radius * at(self.floors[i][2]));
            for k in 0..assembly.linked.len() {
                // Alone, not carried along by the floor it is tied to.
                drift(i, Movement::Linked(k), &|i| at(self.slips[k][i]));
            }
        }
        worst.1
    }
}

/// Value of a displacement for given unknowns.
pub(crate) fn value(row: &Row, unknowns: &[f64]) -> f64 {
    row.iter().map(|&(unknown, factor)| factor * unknowns.get(unknown).copied().unwrap_or(0.0)).sum()
}

/// Adds BᵀKB for the displacements `rows` of a line.
fn add_stiffness(matrix: &mut Square, rows: &[Row], stiffness: &Square) {
    for (i, row) in rows.iter().enumerate() {
        for (j, column) in rows.iter().enumerate() {
            let entry = stiffness.at(i, j);
            if entry == 0.0 {
                continue;
            }
            add_product(matrix, row, column, entry);
        }
    }
}

/// Adds `factor`·bbᵀ for one displacement b.
fn add_rank_one(matrix: &mut Square, terms: &[(usize, f64)], factor: f64) {
    if factor != 0.0 {
        add_product(matrix, terms, terms, factor);
    }
}

fn add_product(matrix: &mut Square, one: &[(usize, f64)], other: &[(usize, f64)], factor: f64) {
    for &(row, left) in one {
        for &(column, right) in other {
            if row != NONE && column != NONE {
                matrix.add(row, column, factor * left * right);
            }
        }
    }
}
