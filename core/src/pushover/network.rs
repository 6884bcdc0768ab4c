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
    factor: Factor,
    unit: Vec<f64>,
    watched: Vec<Vec<f64>>,
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
        Ok(Self { springs, factor, unit, watched })
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

    fn response(&self, mode: usize) -> Vec<f64> {
        let spring = &self.springs[mode];
        let mut response: Vec<f64> = spring.row.iter().map(|factor| factor * spring.stiffness).collect();
        self.factor.solve(&mut response);
        response
    }
}

impl System for Network {
    fn modes(&self) -> usize {
        self.springs.len()
    }

    fn at_rest(&self) -> Vec<f64> {
        vec![0.0; self.springs.len()]
    }

    fn per_load(&self) -> Vec<f64> {
        self.springs.iter().map(|spring| spring.stiffness * dot(&spring.row, &self.unit)).collect()
    }

    fn own_stiffness(&self, mode: usize) -> f64 {
        self.springs[mode].stiffness
    }

    fn influence(&mut self, mode: usize, column: &mut [f64]) {
        let response = self.response(mode);
        for (spring, entry) in self.springs.iter().zip(column.iter_mut()) {
            *entry = -spring.stiffness * dot(&spring.row, &response);
        }
        column[mode] += self.springs[mode].stiffness;
    }

    fn watched(&self) -> usize {
        self.watched.len()
    }

    fn watched_per_load(&self) -> Vec<f64> {
        self.watched.iter().map(|row| dot(row, &self.unit)).collect()
    }

    fn watched_influence(&mut self, mode: usize, column: &mut [f64]) {
        let response = self.response(mode);
        for (row, entry) in self.watched.iter().zip(column.iter_mut()) {
            *entry = dot(row, &response);
        }
    }
}
