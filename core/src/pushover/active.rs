//! The yielding modes, block by block, and the unknowns they act on each other through.
//!
//! With the active sides of a block on their envelopes, B·γ̇ = G·u̇ + h·λ̇ (B = L + H), so they take
//! Gᵀ·B⁻¹·[G, h] from stiffness and load of the unknowns. B⁻¹ and B⁻¹·[G, h] are kept by block, the
//! tangent of the unknowns once; a side that comes or goes changes its own block, and the tangent by
//! one product (DERIVED, block elimination).

use super::inverse::Inverse;
use super::solver::{Side, System, sign};
use crate::linear::{Square, dot};
use std::ops::Range;

/// What stays the same along the path, in scaled modes and unknowns.
pub(super) struct Elastic {
    /// Scale of each unknown: u = scale·u'.
    scale: Vec<f64>,
    stiffness: Square,
    /// Inverse of the stiffness.
    compliance: Inverse,
    /// Unknowns per unit of load.
    pub(super) unit: Vec<f64>,
    load: Vec<f64>,
    /// Rows of [G, h], mode by mode.
    rows: Vec<f64>,
    /// The same by columns.
    columns: Vec<f64>,
    /// Force on every mode per unit of load.
    per_load: Vec<f64>,
    /// Columns of L over the modes of the block; empty until asked for.
    local: Vec<Vec<f64>>,
}

impl Elastic {
    pub(super) fn new(system: &dyn System, modes: &[usize], mode_scale: &[f64]) -> Self {
        let own = system.stiffness();
        let size = own.size();
        let scale: Vec<f64> = (0..size).map(|i| 1.0 / own.at(i, i).abs().sqrt()).collect();
        let mut stiffness = Square::zero(size);
        for i in 0..size {
            for j in 0..size {
                stiffness.add(i, j, own.at(i, j) * scale[i] * scale[j]);
            }
        }
        let unit: Vec<f64> = system.unit().iter().zip(&scale).map(|(unit, scale)| unit / scale).collect();
        let width = size + 1;
        let mut rows = Vec::with_capacity(modes.len() * width);
        for (&mode, factor) in modes.iter().zip(mode_scale) {
            rows.extend(system.pull(mode).iter().zip(&scale).map(|(pull, scale)| pull * scale * factor));
            rows.push(system.held(mode) * factor);
        }
        let mut columns = vec![0.0; rows.len()];
        for (slot, row) in rows.chunks_exact(width).enumerate() {
            for (i, entry) in row.iter().enumerate() {
                columns[i * modes.len() + slot] = *entry;
            }
        }
        let per_load = rows.chunks_exact(width).map(|row| dot(&row[..size], &unit) + row[size]).collect();
        Self {
            load: stiffness.times(&unit),
            compliance: Inverse::of(size, |i, j| stiffness.at(i, j)),
            scale,
            stiffness,
            unit,
            rows,
            columns,
            per_load,
            local: vec![Vec::new(); modes.len()],
        }
    }

    /// A factor on an unknown, on the scaled one; none where the unknown is not there.
    pub(super) fn scaled(&self, place: usize, factor: f64) -> Option<(usize, f64)> {
        self.scale.get(place).map(|scale| (place, factor * scale))
    }

    /// Width of the rows of [G, h].
    fn width(&self) -> usize {
        self.unit.len() + 1
    }

    /// Row of [G, h] of a side.
    pub(super) fn row(&self, side: Side) -> impl Iterator<Item = f64> + '_ {
        let (mode, width) = (side / 2, self.width());
        self.rows[mode * width..(mode + 1) * width].iter().map(move |entry| sign(side) * entry)
    }

    /// Force on a side per unit of load.
    pub(super) fn drive(&self, side: Side) -> f64 {
        sign(side) * self.per_load[side / 2]
    }

    /// Entry of L between two sides of a block, the column of `other` at hand.
    pub(super) fn entry(&self, block: &Block, side: Side, other: Side) -> f64 {
        sign(side) * sign(other) * self.local[other / 2][side / 2 - block.modes.start]
    }

    /// Diagonal entry of L.
    pub(super) fn own(&self, block: &Block, side: Side) -> f64 {
        self.entry(block, side, side)
    }

    /// Makes sure the column of a mode is at hand.
    pub(super) fn fetch(
        &mut self,
        system: &mut dyn System,
        modes: &[usize],
        scale: &[f64],
        block: &Block,
        mode: usize,
    ) {
        if !self.local[mode].is_empty() {
            return;
        }
        let among = block.modes.clone();
        let mut column = vec![0.0; among.len()];
        system.local(modes[mode], &modes[among.clone()], &mut column);
        for (entry, other) in column.iter_mut().zip(&scale[among]) {
            *entry *= other * scale[mode];
        }
        self.local[mode] = column;
    }

    /// Writes the forces on all modes for a load and plastic deformations (net, by mode) whose columns
    /// are at hand, and returns the unknowns.
    pub(super) fn forces(
        &self,
        blocks: &[Block],
        block_of: &[usize],
        load: f64,
        plastic: impl Iterator<Item = (usize, f64)> + Clone,
        forces: &mut [f64],
    ) -> Vec<f64> {
        let (size, width) = (self.unit.len(), self.width());
        let mut held = vec![0.0; size];
        for (mode, amount) in plastic.clone() {
            add(&mut held, &self.rows[mode * width..mode * width + size], amount);
        }
        let mut unknowns = self.compliance.times(&held);
        add(&mut unknowns, &self.unit, load);
        let count = forces.len();
        forces.fill(0.0);
        for (column, factor) in self.columns.chunks_exact(count.max(1)).zip(unknowns.iter().chain([&load])) {
            add(forces, column, *factor);
        }
        for (mode, amount) in plastic {
            add(&mut forces[blocks[block_of[mode]].modes.clone()], &self.local[mode], -amount);
        }
        unknowns
    }

    /// Unknowns that follow a unit of plastic deformation of a side.
    pub(super) fn follow(&self, side: Side) -> Vec<f64> {
        let mut row: Vec<f64> = self.row(side).collect();
        row.pop();
        self.compliance.times(&row)
    }

    /// The tangent with nothing yielding.
    pub(super) fn tangent(&self) -> Tangent {
        let width = self.width();
        let mut entries = Vec::with_capacity(self.unit.len() * width);
        for (i, load) in self.load.iter().enumerate() {
            entries.extend_from_slice(self.stiffness.row(i));
            entries.push(-load);
        }
        Tangent { width, entries }
    }
}

/// sums += factor·column.
pub(super) fn add(sums: &mut [f64], column: &[f64], factor: f64) {
    for (sum, unit) in sums.iter_mut().zip(column) {
        *sum += unit * factor;
    }
}

/// A block of modes with its active sides.
#[derive(Clone, Debug)]
pub(super) struct Block {
    /// Its modes.
    pub(super) modes: Range<usize>,
    pub(super) active: Vec<Side>,
    /// B⁻¹ over the active sides.
    pub(super) inverse: Inverse,
    /// B⁻¹·[G, h], row by row.
    pub(super) carried: Vec<f64>,
}

impl Block {
    pub(super) fn new(first: usize) -> Self {
        Self { modes: first..first, active: Vec::new(), inverse: Inverse::default(), carried: Vec::new() }
    }
}

/// [K − Gᵀ·B⁻¹·G, −p − Gᵀ·B⁻¹·h], row by row.
#[derive(Clone, Debug)]
pub(super) struct Tangent {
    width: usize,
    entries: Vec<f64>,
}

impl Tangent {
    /// Adds factor·w·wᵀ, `row` the w of unknowns and load.
    pub(super) fn add(&mut self, row: &[f64], factor: f64) {
        for (own, left) in self.entries.chunks_exact_mut(self.width).zip(row) {
            add(own, row, left * factor);
        }
    }

    /// Takes off the product of a row of [G, h] and its row of B⁻¹·[G, h].
    pub(super) fn take(&mut self, row: &[f64], carried: &[f64]) {
        for (own, left) in self.entries.chunks_exact_mut(self.width).zip(row) {
            add(own, carried, -left);
        }
    }

    /// Unknowns per unit of load, and for forces on them, with the active sides yielding: Gauss with
    /// row exchanges, as the tangent need not be positive.
    pub(super) fn solve(&self, forces: &[f64]) -> [Vec<f64>; 2] {
        let size = self.width - 1;
        let stride = size + 2;
        let mut work = Vec::with_capacity(size * stride);
        for (row, force) in self.entries.chunks_exact(self.width).zip(forces) {
            work.extend_from_slice(&row[..size]);
            work.push(-row[size]);
            work.push(*force);
        }
        for k in 0..size {
            let mut pivot = k;
            for row in k + 1..size {
                if work[row * stride + k].abs() > work[pivot * stride + k].abs() {
                    pivot = row;
                }
            }
            if pivot != k {
                let (above, below) = work.split_at_mut(pivot * stride);
                above[k * stride..(k + 1) * stride].swap_with_slice(&mut below[..stride]);
            }
            if work[k * stride + k] == 0.0 {
                // An exact mechanism without hardening: a hair keeps it solvable.
                work[k * stride + k] = f64::EPSILON;
            }
            let (done, rest) = work.split_at_mut((k + 1) * stride);
            let top = &done[k * stride + k..];
            for row in rest.chunks_exact_mut(stride) {
                let factor = row[k] / top[0];
                if factor != 0.0 {
                    add(&mut row[k..], top, -factor);
                }
            }
        }
        let mut answers = [vec![0.0; size], vec![0.0; size]];
        for k in (0..size).rev() {
            let row = &work[k * stride..(k + 1) * stride];
            for (which, answer) in answers.iter_mut().enumerate() {
                let known = dot(&row[k + 1..size], &answer[k + 1..]);
                answer[k] = (row[size + which] - known) / row[k];
            }
        }
        answers
    }
}
