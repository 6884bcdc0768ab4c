//! A structure of springs: the smallest thing that can be pushed over.

use super::envelope::Envelope;
use super::solver::System;
use crate::linear::{Factor, NotPositive, Square, dot};

/// A spring whose deformation is a combination of the unknowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// Factor on each unknown.
    pub row: Vec<f64>,
    /// Stiffness.
    pub stiffness: f64,
    /// Envelope in each sense.
    pub envelopes: [Envelope; 2],
}

impl Spring {
    /// A spring with the same envelope both ways.
    pub fn new(row: &[f64], stiffness: f64, envelope: Envelope) -> Self {
        Self { row: row.to_vec(), stiffness, envelopes: [envelope.clone(), envelope] }
    }
}

/// Springs between unknowns, each with a plastic slip of its own: storey springs, links in
/// series with frames, walls that turn about their foot.
#[derive(Clone, Debug)]
pub struct Network {
    springs: Vec<Spring>,
    stiffness: Square,
    factor: Factor,
    unit: Vec<f64>,
    /// Force in each spring per unit of every unknown.
    pulls: Vec<Vec<f64>>,
    watched: Vec<Vec<(usize, f64)>>,
}

impl Network {
    /// Springs under a load pattern on the unknowns; `geometric` is added to the stiffness
    /// (P-Δ), `watched` are combinations of the unknowns.
    ///
    /// # Errors
    /// [`NotPositive`] where the elastic structure does not stand.
    pub fn new(
        springs: Vec<Spring>,
        load: &[f64],
        geometric: Option<&Square>,
        watched: Vec<Vec<f64>>,
    ) -> Result<Self, NotPositive> {
        let size = load.len();
        let mut stiffness = geometric.cloned().unwrap_or_else(|| Square::zero(size));
        for spring in &springs {
            for i in 0..size {
                for j in 0..size {
                    stiffness.add(i, j, spring.stiffness * spring.row[i] * spring.row[j]);
                }
            }
        }
        let factor = stiffness.factor()?;
        let mut unit = load.to_vec();
        factor.solve(&mut unit);
        let pulls = springs.iter().map(|it| it.row.iter().map(|factor| factor * it.stiffness).collect()).collect();
        let watched = watched.into_iter().map(|row| row.into_iter().enumerate().collect()).collect();
        Ok(Self { springs, stiffness, factor, unit, pulls, watched })
    }

    /// Envelopes of the springs, in order.
    pub fn envelopes(&self) -> Vec<[Envelope; 2]> {
        self.springs.iter().map(|spring| spring.envelopes.clone()).collect()
    }

    /// Unknowns for a load factor and slips.
    pub fn displacements(&self, load: f64, plastic: &[(usize, f64)]) -> Vec<f64> {
        let mut unknowns: Vec<f64> = self.unit.iter().map(|unit| unit * load).collect();
        for &(mode, slip) in plastic {
            for (sum, unit) in unknowns.iter_mut().zip(self.response(mode)) {
                *sum += unit * slip;
            }
        }
        unknowns
    }

    /// Force in a spring for a load factor and slips.
    pub fn force(&self, spring: usize, load: f64, plastic: &[(usize, f64)]) -> f64 {
        let own = plastic.iter().filter(|(mode, _)| *mode == spring).map(|(_, slip)| slip).sum::<f64>();
        let it = &self.springs[spring];
        it.stiffness * (dot(&it.row, &self.displacements(load, plastic)) - own)
    }

    /// Force in every spring per unit of the load factor.
    pub fn per_load(&self) -> Vec<f64> {
        self.pulls.iter().map(|pull| dot(pull, &self.unit)).collect()
    }

    /// What a unit of slip of one spring takes from the force in every spring.
    pub fn influence(&self, spring: usize) -> Vec<f64> {
        let response = self.response(spring);
        let mut column: Vec<f64> = self.pulls.iter().map(|pull| -dot(pull, &response)).collect();
        column[spring] += self.springs[spring].stiffness;
        column
    }

    fn response(&self, mode: usize) -> Vec<f64> {
        let mut response = self.pulls[mode].clone();
        self.factor.solve(&mut response);
        response
    }
}

impl System for Network {
    fn modes(&self) -> usize {
        self.springs.len()
    }

    fn block(&self, mode: usize) -> usize {
        mode
    }

    fn stiffness(&self) -> Square {
        self.stiffness.clone()
    }

    fn unit(&self) -> &[f64] {
        &self.unit
    }

    fn pull(&self, mode: usize) -> &[f64] {
        &self.pulls[mode]
    }

    fn held(&self, _: usize) -> f64 {
        0.0
    }

    fn own_stiffness(&self, mode: usize) -> f64 {
        self.springs[mode].stiffness
    }

    fn local(&mut self, mode: usize, _: &[usize], column: &mut [f64]) {
        column[0] = self.springs[mode].stiffness;
    }

    fn watched(&self) -> usize {
        self.watched.len()
    }

    fn watch(&self, index: usize) -> &[(usize, f64)] {
        &self.watched[index]
    }
}
