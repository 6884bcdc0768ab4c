//! Coupled periods and mode shapes of an assembly.

use crate::assembly::Load;
use crate::linear::{NotPositive, Square, dot};
use crate::plan_matrix::{Row, value};
use crate::project::Direction;
use crate::response::{Factored, FloorMotion};

/// One natural mode, scaled to φᵀMφ = 1 (t, m).
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    /// Natural period, s.
    pub period_s: f64,
    /// Movement of each diaphragm, lowest first.
    pub floors: Vec<FloorMotion>,
    /// Movement of each linked line's floors along the line.
    pub linked: Vec<Vec<f64>>,
    /// L = φᵀM1 for ground motion along x and y, √t. The participation factor of a mode scaled
    /// to one at some point is this times the shape there.
    pub participation: [f64; 2],
}

impl Mode {
    /// Effective modal mass (φᵀM1)²/(φᵀMφ) for ground motion along `direction`, t.
    pub fn effective_mass_t(&self, direction: Direction) -> f64 {
        let participation = self.participation[direction.index()];
        participation * participation
    }
}

/// All natural modes of an assembly, longest period first.
///
/// There are as many as there are masses; movements without mass follow statically.
#[derive(Clone, Debug, PartialEq)]
pub struct Modes {
    /// The modes.
    pub modes: Vec<Mode>,
    /// Mass free to move along x and y, t.
    pub total_mass_t: [f64; 2],
}

impl Modes {
    /// The mode with the largest effective mass along `direction`; the longer period on a tie.
    ///
    /// Modes of one period count together, since any mixture of their shapes is a mode too; the
    /// first of them stands for all.
    pub fn governing(&self, direction: Direction) -> Option<&Mode> {
        self.governing_group(direction).first()
    }

    /// Effective mass of the governing mode, and of others with its period, over the whole mass
    /// along `direction`.
    pub fn governing_mass_ratio(&self, direction: Direction) -> Option<f64> {
        let group = self.governing_group(direction);
        (!group.is_empty()).then(|| mass_of(group, direction) / self.total_mass_t[direction.index()])
    }

    fn governing_group(&self, direction: Direction) -> &[Mode] {
        let mut best: &[Mode] = &[];
        for group in self.modes.chunk_by(|one, other| other.period_s > (1.0 - SAME_PERIOD) * one.period_s) {
            if mass_of(group, direction) > mass_of(best, direction) {
                best = group;
            }
        }
        best
    }
}

/// Periods this close, relative, are one; the shapes that belong to them are not told apart.
const SAME_PERIOD: f64 = 1e-6;

fn mass_of(modes: &[Mode], direction: Direction) -> f64 {
    modes.iter().map(|mode| mode.effective_mass_t(direction)).sum()
}

impl Factored<'_> {
    /// Natural modes: K·φ = ω²·M·φ.
    ///
    /// Solved from the flexible end. With M = LLᵀ, the eigenvalues of LᵀK⁻¹L are 1/ω², so the
    /// longest periods come out with the most figures, stiff ties do no harm, and a movement
    /// without mass drops out of L. Shapes are recovered as φ = ω²·K⁻¹·L·ψ.
    /// DERIVED; participation and effective mass as in UFC 3-310-03A Eq. 3-15 (SEEN).
    ///
    /// # Errors
    /// [`NotPositive`] where no mass can move.
    pub fn modes(&self) -> Result<Modes, NotPositive> {
        let mass = self.layout.mass(self.assembly);
        let size = mass.size();
        let root = mass_root(&mass);
        if root.is_empty() {
            return Err(NotPositive { row: 0 });
        }
        // Columns of K⁻¹L.
        let flexibility: Vec<Vec<f64>> = root
            .iter()
            .map(|column| {
                let mut solved = column.clone();
                self.factor.solve(&mut solved);
                solved
            })
            .collect();
        let mut dynamic = Square::zero(root.len());
        for (i, column) in root.iter().enumerate() {
            for (j, solved) in flexibility.iter().enumerate() {
                dynamic.add(i, j, dot(column, solved));
            }
        }
        dynamic.symmetrise();
        let pairs = dynamic.eigenpairs();
        let softest = pairs.first().map_or(0.0, |pair| pair.value);
        let ground = [Direction::X, Direction::Y].map(|direction| {
            let mut movement = vec![0.0; size];
            for places in &self.layout.floors {
                if let Some(target) = movement.get_mut(places[direction.index()]) {
                    *target = 1.0;
                }
            }
            movement
        });
        let inertia = ground.each_ref().map(|movement| mass.times(movement));
        let modes = pairs
            .iter()
            // Below this the period is rounding noise.
            .take_while(|pair| pair.value > 1e-14 * softest)
            .map(|pair| {
                let mut shape = vec![0.0; size];
                for (solved, factor) in flexibility.iter().zip(&pair.vector) {
                    for (target, unit) in shape.iter_mut().zip(solved) {
                        *target += unit * factor / pair.value;
                    }
                }
                self.mode(pair.value, &shape, &inertia)
            })
            .collect();
        let total = |k: usize| dot(&ground[k], &inertia[k]);
        Ok(Modes { modes, total_mass_t: [total(0), total(1)] })
    }

    /// Period by Rayleigh's quotient of the displacements under a load, turning and movement across
    /// included, s: 2π·√(uᵀMu/uᵀF); that of a mode for forces in its shape, otherwise not above the
    /// longest.
    pub fn rayleigh_period_s(&self, load: &Load) -> f64 {
        let force = self.right_hand_side(load);
        let mut moved = force.clone();
        self.factor.solve(&mut moved);
        let mass = self.layout.mass(self.assembly);
        let work = dot(&moved, &force);
        if work > 0.0 { 2.0 * core::f64::consts::PI * (dot(&moved, &mass.times(&moved)) / work).sqrt() } else { 0.0 }
    }

    fn mode(&self, flexibility: f64, shape: &[f64], inertia: &[Vec<f64>; 2]) -> Mode {
        let count = self.assembly.floors.len();
        let linked_row = |k: usize, i: usize| -> Row { self.layout.linked_row(self.assembly, k, i) };
        Mode {
            period_s: 2.0 * core::f64::consts::PI * flexibility.sqrt(),
            floors: self.motions(shape),
            linked: self
                .assembly
                .linked
                .iter()
                .enumerate()
                .map(|(k, line)| {
                    (0..count).map(|i| if line.reaches(i) { value(&linked_row(k, i), shape) } else { 0.0 }).collect()
                })
                .collect(),
            participation: [dot(shape, &inertia[0]), dot(shape, &inertia[1])],
        }
    }
}

/// Columns of L in M = LLᵀ for a positive semidefinite mass matrix, those of massless movements
/// left out.
fn mass_root(mass: &Square) -> Vec<Vec<f64>> {
    let size = mass.size();
    let mut columns: Vec<Vec<f64>> = Vec::with_capacity(size);
    for j in 0..size {
        let remaining = |i: usize| columns.iter().fold(mass.at(i, j), |sum, column| sum - column[i] * column[j]);
        let pivot = remaining(j);
        if pivot <= 1e-12 * mass.at(j, j) {
            continue;
        }
        let root = pivot.sqrt();
        let column = (0..size).map(|i| if i < j { 0.0 } else { remaining(i) / root }).collect();
        columns.push(column);
    }
    columns
}
