//! The rates after an event: principal pivoting along a family of rays.

use super::active::add;
use super::inverse::Inverse;
use super::solver::{NOWHERE, Ray, Runner, STILL, Side, TOUCH, sign};
use crate::linear::dot;
use crate::order;

/// Largest distance of the active sides from their envelopes along a ray before the inverses are
/// built anew.
const DRIFT: f64 = 1e-10;

/// A side that is about to come in, seen from its block.
pub(super) struct Coming {
    /// B⁻¹ times its column.
    solved: Vec<f64>,
    /// Its Schur complement in the block.
    own: f64,
    /// What is left of its row of [G, h].
    row: Vec<f64>,
}

impl Runner<'_> {
    pub(super) fn fetch(&mut self, side: Side) {
        let mode = side / 2;
        let block = &self.blocks[self.block_of[mode]];
        self.elastic.fetch(self.system, &self.modes, &self.scale, block, mode);
    }

    /// A side whose column is at hand beside the active ones of its block.
    pub(super) fn coming(&self, side: Side) -> Coming {
        let block = &self.blocks[self.block_of[side / 2]];
        let column: Vec<f64> = block.active.iter().map(|&other| self.elastic.entry(block, other, side)).collect();
        let solved = block.inverse.times(&column);
        let own = self.elastic.own(block, side) + self.state[side].slope - dot(&column, &solved);
        let mut row: Vec<f64> = self.elastic.row(side).collect();
        for (carried, entry) in block.carried.chunks_exact(row.len()).zip(&column) {
            add(&mut row, carried, -entry);
        }
        Coming { solved, own, row }
    }

    /// Adds a side to the active ones.
    pub(super) fn add_side(&mut self, side: Side, coming: &Coming) {
        let block = &mut self.blocks[self.block_of[side / 2]];
        let own = if coming.own == 0.0 { f64::EPSILON } else { coming.own };
        for (carried, solved) in block.carried.chunks_exact_mut(coming.row.len()).zip(&coming.solved) {
            add(carried, &coming.row, -solved / own);
        }
        block.carried.extend(coming.row.iter().map(|entry| entry / own));
        block.inverse.add_row(&coming.solved, own);
        self.place[side] = block.active.len();
        block.active.push(side);
        self.tangent.add(&coming.row, -1.0 / own);
    }

    /// Takes a side out of the active ones.
    pub(super) fn drop_side(&mut self, side: Side) {
        let k = self.place[side];
        if k == NOWHERE {
            return;
        }
        let width = self.elastic.unit.len() + 1;
        let block = &mut self.blocks[self.block_of[side / 2]];
        let own: Vec<f64> = block.carried.drain(k * width..(k + 1) * width).collect();
        let (column, pivot) = block.inverse.drop_row(k);
        for (carried, entry) in block.carried.chunks_exact_mut(width).zip(&column) {
            add(carried, &own, -entry / pivot);
        }
        self.tangent.add(&own, 1.0 / pivot);
        block.active.remove(k);
        self.place[side] = NOWHERE;
        for &later in &block.active[k..] {
            self.place[later] -= 1;
        }
    }

    /// M⁻¹ times forces on the active sides.
    pub(super) fn solve(&self, forces: &[f64]) -> Vec<f64> {
        let size = self.elastic.unit.len();
        let mut answer = Vec::with_capacity(forces.len());
        let mut held = vec![0.0; size];
        let mut rest = forces;
        for block in &self.blocks {
            let (own, later) = rest.split_at(block.active.len());
            rest = later;
            answer.extend(block.inverse.times(own));
            for (carried, force) in block.carried.chunks_exact(size + 1).zip(own) {
                add(&mut held, &carried[..size], *force);
            }
        }
        let [_, unknowns] = self.tangent.solve(&held);
        let carried = self.blocks.iter().flat_map(|block| block.carried.chunks_exact(size + 1));
        for (answer, carried) in answer.iter_mut().zip(carried) {
            *answer += dot(&carried[..size], &unknowns);
        }
        answer
    }

    /// Builds the inverses anew where rounding has worn them, seen by how far the active sides leave
    /// their envelopes along a ray, and corrects the ray.
    pub(super) fn refresh(&mut self, ray: &mut Ray) {
        if ray.load == 0.0 || !self.worn(ray) {
            return;
        }
        self.rebuild();
        let size = self.elastic.unit.len();
        let [unknowns, _] = self.tangent.solve(&vec![0.0; size]);
        let along = |carried: &[f64]| dot(&carried[..size], &unknowns) + carried[size];
        let carried = self.blocks.iter().flat_map(|block| block.carried.chunks_exact(size + 1));
        let plastic: Vec<f64> = carried.map(along).collect();
        self.correct(ray, &plastic);
        if self.worn(ray) {
            // A block on the verge of a mechanism of its own: all of them together.
            let plastic = self.solve_together();
            self.correct(ray, &plastic);
        }
    }

    fn correct(&mut self, ray: &mut Ray, plastic: &[f64]) {
        let load = ray.load;
        ray.plastic = self.active().zip(plastic).map(|(side, rate)| (side, (rate * load).max(0.0))).collect();
        self.find_rates(ray);
    }

    fn worn(&self, ray: &Ray) -> bool {
        ray.plastic.iter().any(|&(side, rate)| {
            let own = self.elastic.own(&self.blocks[self.block_of[side / 2]], side);
            let size = (own * rate).abs() + (self.elastic.drive(side) * ray.load).abs();
            let gap = self.state[side].slope * rate - sign(side) * self.rates[side / 2];
            gap.abs() > DRIFT * size || gap.is_nan()
        })
    }

    fn rebuild(&mut self) {
        self.tangent = self.elastic.tangent();
        let width = self.elastic.unit.len() + 1;
        for index in 0..self.blocks.len() {
            let block = &self.blocks[index];
            let sides = &block.active;
            let inverse = Inverse::of(sides.len(), |i, j| {
                let slope = if i == j { self.state[sides[i]].slope } else { 0.0 };
                self.elastic.entry(block, sides[i], sides[j]) + slope
            });
            let rows: Vec<f64> = sides.iter().flat_map(|&side| self.elastic.row(side)).collect();
            let mut carried = vec![0.0; rows.len()];
            for (k, to) in carried.chunks_exact_mut(width).enumerate() {
                for (row, factor) in rows.chunks_exact(width).zip(inverse.row(k)) {
                    add(to, row, *factor);
                }
            }
            for (row, carried) in rows.chunks_exact(width).zip(carried.chunks_exact(width)) {
                self.tangent.take(row, carried);
            }
            let block = &mut self.blocks[index];
            (block.inverse, block.carried) = (inverse, carried);
        }
    }

    /// Rates of the active sides per unit of load from the whole of M.
    fn solve_together(&self) -> Vec<f64> {
        let sides: Vec<Side> = self.active().collect();
        let entries = self.together(&sides);
        let whole = Inverse::of(sides.len(), |i, j| entries[i * sides.len() + j]);
        let drives: Vec<f64> = sides.iter().map(|&side| self.elastic.drive(side)).collect();
        (0..sides.len()).map(|i| dot(whole.row(i), &drives)).collect()
    }

    /// M of some sides, row by row.
    pub(super) fn together(&self, sides: &[Side]) -> Vec<f64> {
        let through: Vec<Vec<f64>> = sides.iter().map(|&side| self.elastic.follow(side)).collect();
        let mut entries = Vec::with_capacity(sides.len() * sides.len());
        for &one in sides {
            let block = &self.blocks[self.block_of[one / 2]];
            for (&other, through) in sides.iter().zip(&through) {
                let same = self.block_of[one / 2] == self.block_of[other / 2];
                let local = if same { self.elastic.entry(block, one, other) } else { 0.0 };
                let slope = if one == other { self.state[one].slope } else { 0.0 };
                let pulled: f64 = self.elastic.row(one).zip(through).map(|(row, unit)| row * unit).sum();
                entries.push(local + slope - pulled);
            }
        }
        entries
    }

    /// Rates after `driven` changed: it begins to yield (`old_slope` none) or its slope changes.
    ///
    /// `None` where no path goes on.
    pub(super) fn pivot(&mut self, driven: Side, old_slope: Option<f64>) -> Option<Ray> {
        self.drive(driven, old_slope).or_else(|| self.try_every_set(driven))
    }

    fn drive(&mut self, driven: Side, old_slope: Option<f64>) -> Option<Ray> {
        self.fetch(driven);
        // The inverse holds the old slope, if it holds the side at all.
        self.drop_side(driven);
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
            self.fetch(side);
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
        let count = self.active().count();
        for _ in 0..(200 + 4 * count) {
            let family = self.family(driven, &waiting)?;
            if let Some(side) = exchanged {
                // Go to where the variable just freed grows.
                let (a, _) = family.of(side)?;
                towards = if a > 0.0 { 0.0 } else { far };
            }
            // First variable to vanish on the way.
            let mut first: Option<(f64, Side)> = None;
            for &(side, (a, b)) in family.plastic.iter().chain(&family.reserve) {
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
                let coming = self.coming(side);
                self.add_side(side, &coming);
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
        let size = self.elastic.unit.len();
        let coming = self.coming(driven);
        let (row, held) = coming.row.split_at(size);
        let [unit, turned] = self.tangent.solve(row);
        let own = coming.own - dot(row, &turned);
        let push = dot(row, &unit) + held[0];
        if push == 0.0 || !push.is_finite() || !own.is_finite() {
            return None;
        }
        let load = (own / push, -1.0 / push);
        // Unknowns and load of the two rays.
        let mut one: Vec<f64> = unit.iter().zip(&turned).map(|(unit, turned)| unit * load.0 + turned).collect();
        one.push(load.0);
        let mut other: Vec<f64> = unit.iter().map(|unit| unit * load.1).collect();
        other.push(load.1);
        let home = self.block_of[driven / 2];
        let mut plastic: Vec<(Side, (f64, f64))> = Vec::new();
        let mut starts = Vec::with_capacity(self.blocks.len());
        for (index, block) in self.blocks.iter().enumerate() {
            let first = plastic.len();
            starts.push(first);
            let rates = block.carried.chunks_exact(size + 1).map(|carried| (dot(carried, &one), dot(carried, &other)));
            plastic.extend(block.active.iter().copied().zip(rates));
            if index == home {
                for ((_, (a, _)), solved) in plastic[first..].iter_mut().zip(&coming.solved) {
                    *a -= solved;
                }
            }
        }
        let reserve = waiting
            .iter()
            .map(|&side| {
                let index = self.block_of[side / 2];
                let block = &self.blocks[index];
                let mut sum = (0.0, 0.0);
                for ((entry, a), b) in self.elastic.row(side).zip(&one).zip(&other) {
                    sum.0 -= entry * a;
                    sum.1 -= entry * b;
                }
                if index == home {
                    sum.0 += self.elastic.entry(block, side, driven);
                }
                for &(active, (a, b)) in &plastic[starts[index]..starts[index] + block.active.len()] {
                    let entry = self.elastic.entry(block, side, active);
                    sum.0 += entry * a;
                    sum.1 += entry * b;
                }
                (side, sum)
            })
            .collect();
        Some(Family { load, plastic, reserve, coming })
    }

    fn arrive(&mut self, driven: Side, end: f64, family: &Family) -> Option<Ray> {
        if end < 0.0 {
            return None;
        }
        if end == 0.0 {
            let mut plastic: Vec<(Side, f64)> =
                family.plastic.iter().map(|&(side, (a, _))| (side, a.max(0.0))).collect();
            plastic.push((driven, 1.0));
            self.add_side(driven, &family.coming);
            return Some(Ray { load: family.load.0, plastic });
        }
        // The driven side unloads; all the others with it would be the trivial ray.
        let plastic: Vec<(Side, f64)> = family.plastic.iter().map(|&(side, (_, b))| (side, b.max(0.0))).collect();
        let load = family.load.1;
        (load > 0.0 || plastic.iter().any(|(_, rate)| *rate > 0.0)).then_some(Ray { load, plastic })
    }
}

/// Rates as a·γ̇_q + b·w_q: of the load, of the active sides, and of the reserves of those waiting.
struct Family {
    load: (f64, f64),
    plastic: Vec<(Side, (f64, f64))>,
    reserve: Vec<(Side, (f64, f64))>,
    coming: Coming,
}

impl Family {
    fn of(&self, side: Side) -> Option<(f64, f64)> {
        self.plastic.iter().chain(&self.reserve).find(|(own, _)| *own == side).map(|(_, rates)| *rates)
    }
}
