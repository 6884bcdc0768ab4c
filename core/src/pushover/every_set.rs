//! The rates after an event where pivoting finds none: every set of modes at their limits is tried.

use super::inverse::Inverse;
use super::solver::{NOWHERE, Ray, Runner, STILL, Side, TOUCH};
use crate::linear::dot;

/// Most sides at their limits of which every set is tried.
const MOST: usize = 9;

impl Runner<'_> {
    /// A ray on which any set of the sides at their limits deforms and the others stay within them.
    /// Of several the one whose load falls fastest for the plastic deformation; `None` where there
    /// is none, or too much to try.
    ///
    /// Rays on which the driven side unloads while the load rises are left out: they turn back up,
    /// nearly elastically.
    pub(super) fn try_every_set(&mut self, driven: Side) -> Option<Ray> {
        let sides: Vec<Side> = (0..self.state.len())
            .filter(|&side| {
                let strength = self.state[side].strength;
                let touches = strength.is_finite() && self.reserve(side) <= TOUCH * strength;
                touches || side == driven || self.place[side] != NOWHERE
            })
            .collect();
        if sides.len() > MOST {
            return None;
        }
        for &side in &sides {
            self.fetch(side);
        }
        let whole = self.together(&sides);
        let n = sides.len();
        let drives: Vec<f64> = sides.iter().map(|&side| self.elastic.drive(side)).collect();
        let mut best: Option<(f64, Ray)> = None;
        for set in 1_usize..1 << n {
            let own: Vec<usize> = (0..n).filter(|i| set >> i & 1 == 1).collect();
            let inverse = Inverse::of(own.len(), |i, j| whole[own[i] * n + own[j]]);
            let pushes: Vec<f64> = own.iter().map(|&i| drives[i]).collect();
            let unit: Vec<f64> = (0..own.len()).map(|i| dot(inverse.row(i), &pushes)).collect();
            let load = if unit[0] < 0.0 { -1.0 } else { 1.0 };
            let fits = |i: usize| {
                let mut size = drives[i].abs();
                let mut held = -drives[i];
                for (&j, rate) in own.iter().zip(&unit) {
                    held += whole[i * n + j] * rate;
                    size += (whole[i * n + j] * rate).abs();
                }
                own.contains(&i) || load * held >= -STILL * size
            };
            let turns_back = load > 0.0 && !own.iter().any(|&i| sides[i] == driven);
            if turns_back || !unit.iter().all(|rate| rate.is_finite() && load * rate > 0.0) || !(0..n).all(fits) {
                continue;
            }
            let speed: f64 = unit.iter().map(|rate| rate.abs()).sum();
            if best.as_ref().is_none_or(|(least, _)| load / speed < *least) {
                let plastic = own.iter().zip(&unit).map(|(&i, rate)| (sides[i], load * rate)).collect();
                best = Some((load / speed, Ray { load, plastic }));
            }
        }
        let (_, ray) = best?;
        let before: Vec<Side> = self.active().collect();
        for side in before {
            self.drop_side(side);
        }
        for &(side, _) in &ray.plastic {
            let coming = self.coming(side);
            self.add_side(side, &coming);
        }
        Some(ray)
    }
}
