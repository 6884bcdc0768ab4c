//! The rates after an event: principal pivoting along a family of rays.

use super::solver::{Ray, Runner, STILL, Side, TOUCH, sign};
use crate::linear::dot;
use crate::order;

/// Largest distance of the inverse from solving its equations before it is built anew.
const DRIFT: f64 = 1e-10;

impl Runner<'_> {
    /// Makes sure the column of a mode is at hand.
    pub(super) fn fetch(&mut self, mode: usize) {
        if self.columns[mode].is_none() {
            let mut column = vec![0.0; self.system.modes()];
            self.system.influence(mode, &mut column);
            for (entry, scale) in column.iter_mut().zip(&self.scale) {
                *entry *= scale * self.scale[mode];
            }
            self.columns[mode] = Some(column);
            let mut watched = vec![0.0; self.system.watched()];
            self.system.watched_influence(mode, &mut watched);
            self.watched_columns[mode] = Some(watched);
        }
    }

    /// Entry of M between two sides, one of them (`other`) with its column at hand.
    fn entry(&self, side: Side, other: Side) -> f64 {
        let coupling = self.columns[other / 2].as_ref().map_or(0.0, |column| column[side / 2]);
        let own = if side == other { self.state[side].slope } else { 0.0 };
        sign(side) * sign(other) * coupling + own
    }

    fn drive(&self, side: Side) -> f64 {
        sign(side) * self.per_load[side / 2]
    }

    pub(super) fn times_inverse(&self, vector: &[f64]) -> Vec<f64> {
        // Symmetric, so rows serve as columns; sums of rows go faster than scalar products.
        let n = self.active.len();
        let mut result = vec![0.0; n];
        for (row, factor) in self.inverse.chunks_exact(n.max(1)).zip(vector) {
            for (sum, entry) in result.iter_mut().zip(row) {
                *sum += entry * factor;
            }
        }
        result
    }

    /// Takes a side out of the active set.
    fn drop_side(&mut self, side: Side) {
        let Some(k) = self.active.iter().position(|own| *own == side) else { return };
        let n = self.active.len();
        let pivot = self.inverse[k * n + k];
        let row: Vec<f64> = self.inverse[k * n..(k + 1) * n].to_vec();
        let column: Vec<f64> = (0..n).map(|i| self.inverse[i * n + k]).collect();
        let mut smaller = Vec::with_capacity((n - 1) * (n - 1));
        for i in (0..n).filter(|i| *i != k) {
            let factor = column[i] / pivot;
            let own = &self.inverse[i * n..(i + 1) * n];
            smaller.extend(own[..k].iter().zip(&row[..k]).map(|(entry, other)| entry - factor * other));
            smaller.extend(own[k + 1..].iter().zip(&row[k + 1..]).map(|(entry, other)| entry - factor * other));
        }
        self.active.remove(k);
        self.inverse = smaller;
    }

    /// Adds a side whose column is at hand, with Schur complement `own` and `solved` = M⁻¹·M_q.
    fn add_side(&mut self, side: Side, solved: &[f64], own: f64) {
        let n = self.active.len();
        let mut larger = Vec::with_capacity((n + 1) * (n + 1));
        for i in 0..n {
            let factor = solved[i] / own;
            let row = &self.inverse[i * n..(i + 1) * n];
            larger.extend(row.iter().zip(solved).map(|(entry, other)| entry + factor * other));
            larger.push(-factor);
        }
        larger.extend(solved.iter().map(|value| -value / own));
        larger.push(1.0 / own);
        self.active.push(side);
        self.inverse = larger;
    }

    /// Builds the inverse anew where rounding has worn it, seen by how far the active sides leave
    /// their envelopes along a ray, and corrects the ray.
    pub(super) fn refresh(&mut self, ray: &mut Ray, rates: &mut Vec<f64>) {
        let worn = self.active.iter().zip(&ray.plastic).any(|(&side, &rate)| {
            let column = self.columns[side / 2].as_ref().map_or(1.0, |column| column[side / 2]);
            let size = (column * rate).abs() + (self.per_load[side / 2] * ray.load).abs();
            let gap = self.state[side].slope * rate - sign(side) * rates[side / 2];
            gap.abs() > DRIFT * size || gap.is_nan()
        });
        if !worn || ray.load == 0.0 {
            return;
        }
        self.rebuild();
        let drive: Vec<f64> = self.active.iter().map(|&side| self.drive(side)).collect();
        let solved = self.times_inverse(&drive);
        ray.plastic = solved.iter().map(|rate| (rate * ray.load).max(0.0)).collect();
        *rates = self.force_rates(ray);
    }

    /// Gauss–Jordan with row exchanges.
    fn rebuild(&mut self) {
        let n = self.active.len();
        let mut work: Vec<f64> = Vec::with_capacity(n * n);
        for &side in &self.active {
            work.extend(self.active.iter().map(|&other| self.entry(side, other)));
        }
        let mut inverse = vec![0.0; n * n];
        for i in 0..n {
            inverse[i * n + i] = 1.0;
        }
        for column in 0..n {
            let mut pivot = column;
            for row in column + 1..n {
                if work[row * n + column].abs() > work[pivot * n + column].abs() {
                    pivot = row;
                }
            }
            if pivot != column {
                for j in 0..n {
                    work.swap(pivot * n + j, column * n + j);
                    inverse.swap(pivot * n + j, column * n + j);
                }
            }
            let mut top = work[column * n + column];
            if top == 0.0 {
                // An exact mechanism without hardening: a hair keeps it solvable.
                top = f64::EPSILON;
                work[column * n + column] = top;
            }
            for j in 0..n {
                work[column * n + j] /= top;
                inverse[column * n + j] /= top;
            }
            for row in (0..n).filter(|row| *row != column) {
                let factor = work[row * n + column];
                if factor != 0.0 {
                    for j in 0..n {
                        work[row * n + j] -= factor * work[column * n + j];
                        inverse[row * n + j] -= factor * inverse[column * n + j];
                    }
                }
            }
        }
        self.inverse = inverse;
    }

    /// Rates after `driven` changed: it begins to yield (`old_slope` none) or its slope changes.
    ///
    /// `None` where no path goes on.
    pub(super) fn pivot(&mut self, driven: Side, old_slope: Option<f64>, rates: &[f64]) -> Option<Ray> {
        self.fetch(driven / 2);
        if old_slope.is_some() {
            // The inverse holds the old slope: put it back while the side is taken out.
            let new = self.state[driven].slope;
            self.state[driven].slope = old_slope.unwrap_or(new);
            self.drop_side(driven);
            self.state[driven].slope = new;
        }
        // Sides at their limit that would not pass it: they may enter.
        let fastest = rates.iter().fold(0.0_f64, |most, rate| most.max(rate.abs()));
        let mut is_active = vec![false; self.state.len()];
        for &side in &self.active {
            is_active[side] = true;
        }
        let mut waiting: Vec<Side> = (0..self.state.len())
            .filter(|&side| side != driven && !is_active[side])
            .filter(|&side| {
                let state = &self.state[side];
                state.strength.is_finite()
                    && self.reserve(side) <= TOUCH * state.strength
                    && sign(side) * rates[side / 2] <= STILL * fastest
            })
            .collect();
        for &side in &waiting.clone() {
            self.fetch(side / 2);
        }
        // Place on the quarter circle of (γ̇_q, w_q), by w/(|γ̇| + |w|).
        let start = match old_slope {
            None => -1.0,
            Some(old) => {
                let theta = self.state[driven].slope - old;
                theta / (1.0 + theta.abs())
            }
        };
        let mut place = start;
        let far = if start < 0.0 { -1.0 } else { 1.0 };
        let mut towards = 0.0;
        let mut exchanged: Option<Side> = None;
        for _ in 0..(200 + 4 * self.active.len()) {
            let family = self.family(driven, &waiting)?;
            if let Some(side) = exchanged {
                // Go to where the variable just freed grows.
                let (a, _) = family.of(side, &self.active, &waiting)?;
                towards = if a > 0.0 { 0.0 } else { far };
            }
            // First variable to vanish on the way.
            let mut first: Option<(f64, Side)> = None;
            let ids = self.active.iter().chain(&waiting).copied();
            for (side, &(a, b)) in ids.zip(family.plastic.iter().chain(&family.reserve)) {
                if Some(side) == exchanged {
                    continue;
                }
                let at_end = if towards == 0.0 { a } else { far * b };
                if at_end >= 0.0 {
                    continue;
                }
                let zero = if b == 0.0 { far } else { -a * b.signum() / (a.abs() + b.abs()) };
                // Never behind.
                let away = ((zero - place) * (towards - place).signum()).max(0.0);
                let earlier = first.is_none_or(|(least, own)| away < least || (away == least && side < own));
                if earlier {
                    first = Some((away, side));
                }
            }
            let Some((away, side)) = first.filter(|(away, _)| *away < (towards - place).abs()) else {
                return self.arrive(driven, towards, &family);
            };
            place += away * (towards - place).signum();
            if let Some(k) = waiting.iter().position(|own| *own == side) {
                waiting.remove(k);
                let row: Vec<f64> = self.active.iter().map(|&other| self.entry(side, other)).collect();
                let solved = self.times_inverse(&row);
                let own = self.entry(side, side) - dot(&row, &solved);
                self.add_side(side, &solved, own);
            } else {
                self.drop_side(side);
                waiting.push(side);
                order::sort_by_key(&mut waiting, |side| *side);
            }
            exchanged = Some(side);
        }
        None
    }

    /// The family of rays that keeps the active sides on their surfaces, by (γ̇_q, w_q).
    fn family(&self, driven: Side, waiting: &[Side]) -> Option<Family> {
        let row: Vec<f64> = self.active.iter().map(|&side| self.entry(side, driven)).collect();
        let drive: Vec<f64> = self.active.iter().map(|&side| self.drive(side)).collect();
        let solved = self.times_inverse(&row);
        let moved = self.times_inverse(&drive);
        let own = self.entry(driven, driven) - dot(&row, &solved);
        let push = self.drive(driven) - dot(&row, &moved);
        if push == 0.0 || !push.is_finite() || !own.is_finite() {
            return None;
        }
        let load = (own / push, -1.0 / push);
        let plastic: Vec<(f64, f64)> =
            moved.iter().zip(&solved).map(|(moved, solved)| (moved * load.0 - solved, moved * load.1)).collect();
        let reserve = waiting
            .iter()
            .map(|&side| {
                let mut sum = (self.entry(side, driven) - self.drive(side) * load.0, -self.drive(side) * load.1);
                for (&other, &(a, b)) in self.active.iter().zip(&plastic) {
                    let entry = self.entry(side, other);
                    sum.0 += entry * a;
                    sum.1 += entry * b;
                }
                sum
            })
            .collect();
        Some(Family { load, plastic, reserve, solved, own })
    }

    fn arrive(&mut self, driven: Side, end: f64, family: &Family) -> Option<Ray> {
        if end < 0.0 {
            return None;
        }
        if end == 0.0 {
            let mut plastic: Vec<f64> = family.plastic.iter().map(|(a, _)| a.max(0.0)).collect();
            plastic.push(1.0);
            let own = if family.own == 0.0 { f64::EPSILON } else { family.own };
            self.add_side(driven, &family.solved.clone(), own);
            return Some(Ray { load: family.load.0, plastic });
        }
        // The driven side unloads; all the others with it would be the trivial ray.
        let plastic: Vec<f64> = family.plastic.iter().map(|(_, b)| b.max(0.0)).collect();
        let load = family.load.1;
        (load > 0.0 || plastic.iter().any(|rate| *rate > 0.0)).then_some(Ray { load, plastic })
    }
}

/// Rates as a·γ̇_q + b·w_q: of the load, of the active sides, and of the reserves of those waiting.
struct Family {
    load: (f64, f64),
    plastic: Vec<(f64, f64)>,
    reserve: Vec<(f64, f64)>,
    solved: Vec<f64>,
    own: f64,
}

impl Family {
    fn of(&self, side: Side, active: &[Side], waiting: &[Side]) -> Option<(f64, f64)> {
        let active = active.iter().position(|own| *own == side).map(|k| self.plastic[k]);
        active.or_else(|| waiting.iter().position(|own| *own == side).map(|k| self.reserve[k]))
    }
}
