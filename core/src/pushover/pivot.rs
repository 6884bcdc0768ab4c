//! The rates after an event: principal pivoting along a family of rays.

use super::inverse::Inverse;
use super::solver::{NOWHERE, Ray, Runner, STILL, Side, TOUCH, sign};
use crate::linear::dot;
use crate::order;

/// Largest distance of the inverse from solving its equations before it is built anew.
const DRIFT: f64 = 1e-10;

impl Runner<'_> {
    /// Makes sure the column of a mode is at hand.
    pub(super) fn fetch(&mut self, mode: usize) {
        if self.columns[mode].is_empty() {
            let mut column = vec![0.0; self.system.modes()];
            self.system.influence(mode, &mut column);
            for (entry, scale) in column.iter_mut().zip(&self.scale) {
                *entry *= scale * self.scale[mode];
            }
            self.columns[mode] = column;
            let mut watched = vec![0.0; self.system.watched()];
            self.system.watched_influence(mode, &mut watched);
            self.watched_columns[mode] = watched;
        }
    }

    /// Entry of M between two sides, one of them (`other`) with its column at hand.
    fn entry(&self, side: Side, other: Side) -> f64 {
        let coupling = self.columns[other / 2][side / 2];
        let own = if side == other { self.state[side].slope } else { 0.0 };
        sign(side) * sign(other) * coupling + own
    }

    /// Entries of M between a side whose column is at hand and the active ones.
    fn row(&self, side: Side) -> Vec<f64> {
        // The matrix is symmetric: one column serves them all.
        self.active.iter().map(|&other| self.entry(other, side)).collect()
    }

    fn drive(&self, side: Side) -> f64 {
        sign(side) * self.per_load[side / 2]
    }

    fn drives(&self) -> Vec<f64> {
        self.active.iter().map(|&side| self.drive(side)).collect()
    }

    /// Takes a side out of the active set.
    fn drop_side(&mut self, side: Side) {
        let k = self.place[side];
        if k == NOWHERE {
            return;
        }
        self.inverse.drop_row(k);
        self.active.remove(k);
        self.place[side] = NOWHERE;
        for &later in &self.active[k..] {
            self.place[later] -= 1;
        }
    }

    /// Adds a side whose column is at hand, with Schur complement `own` and `solved` = M⁻¹·M_q.
    fn add_side(&mut self, side: Side, solved: &[f64], own: f64) {
        self.inverse.add_row(solved, own);
        self.place[side] = self.active.len();
        self.active.push(side);
    }

    /// Builds the inverse anew where rounding has worn it, seen by how far the active sides leave
    /// their envelopes along a ray, and corrects the ray.
    pub(super) fn refresh(&mut self, ray: &mut Ray) {
        let worn = self.active.iter().zip(&ray.plastic).any(|(&side, &rate)| {
            let size = (self.columns[side / 2][side / 2] * rate).abs() + (self.per_load[side / 2] * ray.load).abs();
            let gap = self.state[side].slope * rate - sign(side) * self.rates[side / 2];
            gap.abs() > DRIFT * size || gap.is_nan()
        });
        if !worn || ray.load == 0.0 {
            return;
        }
        self.inverse = Inverse::of(self.active.len(), |i, j| self.entry(self.active[i], self.active[j]));
        let solved = self.inverse.times(&self.drives());
        ray.plastic = solved.iter().map(|rate| (rate * ray.load).max(0.0)).collect();
        self.find_rates(ray);
    }

    /// Rates after `driven` changed: it begins to yield (`old_slope` none) or its slope changes.
    ///
    /// `None` where no path goes on.
    pub(super) fn pivot(&mut self, driven: Side, old_slope: Option<f64>) -> Option<Ray> {
        self.fetch(driven / 2);
        if old_slope.is_some() {
            // The inverse holds the old slope: put it back while the side is taken out.
            let new = self.state[driven].slope;
            self.state[driven].slope = old_slope.unwrap_or(new);
            self.drop_side(driven);
            self.state[driven].slope = new;
        }
        // Sides at their limit that would not pass it: they may enter.
        let most = STILL * self.fastest();
        let mut waiting: Vec<Side> = (0..self.state.len())
            .filter(|&side| {
                let strength = self.state[side].strength;
                self.reserve(side) <= TOUCH * strength
                    && strength.is_finite()
                    && self.place[side] == NOWHERE
                    && side != driven
                    && sign(side) * self.rates[side / 2] <= most
            })
            .collect();
        for &side in &waiting {
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
                let (a, _) = family.of(side, self.place[side], &waiting)?;
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
                let row = self.row(side);
                let solved = self.inverse.times(&row);
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
        let row = self.row(driven);
        let [solved, moved] = self.inverse.times_both(&row, &self.drives());
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
                    let entry = self.entry(other, side);
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
    /// Of a side at a place among the active ones, or of one that waits.
    fn of(&self, side: Side, place: usize, waiting: &[Side]) -> Option<(f64, f64)> {
        let active = self.plastic.get(place).copied();
        active.or_else(|| waiting.iter().position(|own| *own == side).map(|k| self.reserve[k]))
    }
}
