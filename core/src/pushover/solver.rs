//! Event-to-event pushover of any elastic structure with plastic modes.
//!
//! The structure stays elastic; everything plastic sits in modes, each a pattern of stress-free
//! deformation with amplitude γ. The force that works on a mode is linear,
//!
//! Q = v·λ − Z·γ,
//!
//! with λ the load factor. Each mode has an envelope per sense; plastic deformation in a sense
//! never decreases. Between events all rates are constant, so every step is exact. An event is
//! one mode that changes: it begins to yield, or reaches the next piece of its envelope. The
//! rates after it solve a homogeneous complementarity problem,
//!
//! w = M·γ̇ − λ̇·v, γ̇ ≥ 0, w ≥ 0, γ̇·w = 0 on the modes at their limits, M = Z + H,
//!
//! found by driving the one mode from the old rates to the new along a family of rays, the
//! others leaving as their rate vanishes and entering as they reach their limits (principal
//! pivoting; DERIVED). The path is advanced by plastic deformation, never by load or
//! displacement, so snap-back of a storey or of the roof is followed like anything else. The
//! ray on which everything unloads is left out. Where the family leads back to no movement of
//! the mode, every set of modes at their limits is tried, if they are few. Where that finds
//! nothing either, no equilibrium path goes on but, at times, one that turns back up with the mode
//! unloading: the mode is lost at once.

use super::active::{Block, Elastic, Tangent};
use super::envelope::Envelope;
use crate::linear::Square;
use crate::order;

/// An elastic structure with plastic modes, as the solver sees it: unknowns u with a stiffness K, and
/// modes in blocks. Modes of different blocks act on each other through the unknowns only, so
/// that
///
/// Q = G·u + h·λ − L·γ,  K·u = p·λ + Gᵀ·γ,
///
/// with L one matrix per block, and v = G·K⁻¹·p + h, Z = L − G·K⁻¹·Gᵀ.
pub trait System {
    /// Number of modes.
    fn modes(&self) -> usize;
    /// Block of a mode; blocks are numbered from zero without gaps.
    fn block(&self, mode: usize) -> usize;
    /// Stiffness K of the unknowns.
    fn stiffness(&self) -> Square;
    /// Unknowns per unit of the load factor: K⁻¹·p.
    fn unit(&self) -> &[f64];
    /// Force on a mode per unit of every unknown: row of G.
    fn pull(&self, mode: usize) -> &[f64];
    /// Force on a mode per unit of the load factor with the unknowns held: h.
    fn held(&self, mode: usize) -> f64;
    /// A stiffness of the size of the mode's own, above zero; scales its rows only.
    fn own_stiffness(&self, mode: usize) -> f64;
    /// Writes what one unit of plastic deformation of `mode` takes from the modes `among`, all of its
    /// block, with the unknowns held: a column of L.
    fn local(&mut self, mode: usize, among: &[usize], column: &mut [f64]);
    /// Number of deformations watched.
    fn watched(&self) -> usize;
    /// A watched deformation as a sum of unknowns with factors.
    fn watch(&self, index: usize) -> &[(usize, f64)];
}

/// Why a path ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// A watched deformation reached its limit.
    LimitDrift {
        /// Which; `None` where the path goes on for ever without moving any.
        watched: Option<usize>,
    },
    /// The load has fallen to the part of its largest that was asked for.
    LeastLeft,
    /// The load has fallen to nothing.
    ZeroLoad,
    /// A mode loses its resistance faster than the rest can follow: no quasi-static path goes on.
    SuddenLoss {
        /// The mode.
        mode: usize,
    },
}

/// What happens at an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// The mode begins or resumes to yield, on the piece of its envelope given.
    Yields(usize),
    /// The mode reaches the piece of its envelope given.
    Reaches(usize),
}

/// An event on the path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// The point at which it happens.
    pub point: usize,
    /// The mode.
    pub mode: usize,
    /// The sense: 0 positive, 1 negative.
    pub sense: usize,
    /// What it does.
    pub change: Change,
}

/// A point of the path.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Load factor.
    pub load: f64,
    /// Net plastic deformation of the modes that have any.
    pub plastic: Vec<(usize, f64)>,
    /// All plastic deformation so far, both senses, each over the deformation its mode yields at
    /// (strength over own stiffness); never falls.
    pub accumulated: f64,
    /// Watched deformations.
    pub watched: Vec<f64>,
}

/// A whole path.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// The origin, then one point for every event that moves, then the end.
    pub points: Vec<Point>,
    /// Events in order.
    pub events: Vec<Event>,
    /// Why it ends.
    pub end: End,
    /// Largest distance of a yielding mode from its envelope, recomputed from the totals at
    /// every point, as a part of the mode's strength.
    pub residual: f64,
}

/// When to stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Largest size of every watched deformation.
    pub watched: Vec<f64>,
    /// Part of the largest load at which the path ends once the load has fallen that far, at the first
    /// point below it; zero to follow it to the end.
    pub least_left: f64,
}

/// A mode at its limit counts as touching it within this part of its strength.
pub(super) const TOUCH: f64 = 1e-10;
/// Rates below this part of the largest count as zero.
pub(super) const STILL: f64 = 1e-12;

/// Plastic deformation of a mode over its yield deformation beyond which nothing real is left.
const FURTHEST: f64 = 1e6;

/// Follows the path of a structure under one load pattern, from rest.
///
/// `envelopes` holds the positive and the negative sense of every mode. The number of events is
/// held to a hundred times the number of modes.
pub fn push(system: &mut dyn System, envelopes: &[[Envelope; 2]], limits: &Limits) -> Path {
    Runner::new(system, envelopes).run(limits)
}

/// Steps that differ by this part count as equal.
const TIE: f64 = 1e-12;

/// Distance of a yielding side from its envelope, as a part of its strength, from which on it is
/// put back.
const OFF: f64 = 1e-13;

/// No place.
pub(super) const NOWHERE: usize = usize::MAX;

/// One mode in one sense: 2·mode + sense.
pub(super) type Side = usize;

pub(super) fn sign(side: Side) -> f64 {
    if side.is_multiple_of(2) { 1.0 } else { -1.0 }
}

pub(super) struct Runner<'a> {
    pub(super) system: &'a mut dyn System,
    envelopes: &'a [[Envelope; 2]],
    /// Modes in the order they are kept here, block by block; everything below counts by it.
    pub(super) modes: Vec<usize>,
    /// Scale of each mode: γ = scale·γ', Q' = scale·Q; makes own stiffnesses about one.
    pub(super) scale: Vec<f64>,
    pub(super) elastic: Elastic,
    /// Watched deformations on the scaled unknowns.
    watched: Vec<Vec<(usize, f64)>>,
    /// Watched deformations at the last point; zero-length events do not move them.
    watched_now: Vec<f64>,
    /// By side; all scaled.
    pub(super) state: Vec<SideState>,
    /// Present resistance by side; infinite where it never yields.
    caps: Vec<f64>,
    pub(super) load: f64,
    /// Forces on the modes, scaled.
    pub(super) force: Vec<f64>,
    /// Rates of the forces and of the unknowns along the present ray, scaled.
    pub(super) rates: Vec<f64>,
    unknown_rates: Vec<f64>,
    pub(super) blocks: Vec<Block>,
    /// Block of each mode.
    pub(super) block_of: Vec<usize>,
    /// Place of each side among the active ones of its block, or [`NOWHERE`].
    pub(super) place: Vec<usize>,
    /// Stiffness of the unknowns with the active sides yielding, and the load on them.
    pub(super) tangent: Tangent,
    /// Modes that have moved at some time, in order.
    moved: Vec<usize>,
    residual: f64,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct SideState {
    pub(super) strength: f64,
    pub(super) base: f64,
    pub(super) slope: f64,
    pub(super) plastic: f64,
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) piece: usize,
    /// Moved at some time.
    pub(super) touched: bool,
}

impl SideState {
    fn cap(&self) -> f64 {
        self.base + self.slope * (self.plastic - self.from)
    }
}

/// Rates along a ray: of the load and of the active sides, block by block.
#[derive(Clone, Debug)]
pub(super) struct Ray {
    pub(super) load: f64,
    pub(super) plastic: Vec<(Side, f64)>,
}

/// What happens next along a ray.
#[derive(Clone, Copy, Debug)]
enum Next {
    Yields(Side),
    Reaches(Side),
    Zero,
    Limit(Option<usize>),
}

impl<'a> Runner<'a> {
    fn new(system: &'a mut dyn System, envelopes: &'a [[Envelope; 2]]) -> Self {
        let count = system.modes();
        let mut modes: Vec<usize> = (0..count).collect();
        order::sort_by_key(&mut modes, |&mode| system.block(mode));
        let scale: Vec<f64> = modes.iter().map(|&mode| 1.0 / system.own_stiffness(mode).sqrt()).collect();
        let state: Vec<SideState> = (0..2 * count)
            .map(|side| {
                let (envelope, scale) = (&envelopes[modes[side / 2]][side % 2], scale[side / 2]);
                let piece = envelope.pieces[0];
                SideState {
                    strength: envelope.yield_force * scale,
                    base: envelope.yield_force * scale,
                    slope: piece.slope * scale * scale,
                    plastic: 0.0,
                    from: 0.0,
                    to: piece.length / scale,
                    piece: 0,
                    touched: false,
                }
            })
            .collect();
        let elastic = Elastic::new(&*system, &modes, &scale);
        let block_of: Vec<usize> = modes.iter().map(|&mode| system.block(mode)).collect();
        let mut blocks: Vec<Block> = Vec::new();
        for (slot, &block) in block_of.iter().enumerate() {
            while blocks.len() <= block {
                blocks.push(Block::new(slot));
            }
            blocks[block].modes.end = slot + 1;
        }
        let watched = (0..system.watched())
            .map(|index| {
                system.watch(index).iter().filter_map(|&(place, factor)| elastic.scaled(place, factor)).collect()
            })
            .collect();
        Self {
            envelopes,
            modes,
            watched,
            watched_now: vec![0.0; system.watched()],
            tangent: elastic.tangent(),
            unknown_rates: vec![0.0; elastic.unit.len()],
            elastic,
            force: vec![0.0; count],
            rates: vec![0.0; count],
            system,
            place: vec![NOWHERE; 2 * count],
            moved: Vec::new(),
            caps: state.iter().map(|side| side.strength).collect(),
            state,
            load: 0.0,
            blocks,
            block_of,
            scale,
            residual: 0.0,
        }
    }

    fn run(mut self, limits: &Limits) -> Path {
        let mut points = vec![self.point()];
        let mut events: Vec<Event> = Vec::new();
        let most = 100 * self.modes.len().max(1);
        let mut ray = Ray { load: 1.0, plastic: Vec::new() };
        let mut last = None;
        let mut most_load = 0.0_f64;
        loop {
            self.find_rates(&ray);
            self.refresh(&mut ray);
            let (step, next) = self.next(&ray, limits);
            self.advance(&ray, step);
            if step > 0.0 || matches!(next, Next::Zero | Next::Limit(_)) {
                self.recompute();
                points.push(self.point());
            }
            let end = match next {
                Next::Zero => Some(End::ZeroLoad),
                Next::Limit(watched) => Some(End::LimitDrift { watched }),
                Next::Yields(side) | Next::Reaches(side) => {
                    let change = if let Next::Reaches(_) = next {
                        self.enter_piece(side);
                        Change::Reaches(self.state[side].piece)
                    } else {
                        Change::Yields(self.state[side].piece)
                    };
                    events.push(Event { point: points.len() - 1, mode: self.modes[side / 2], sense: side % 2, change });
                    let old = matches!(next, Next::Reaches(_)).then(|| self.previous_slope(side));
                    last = Some(side);
                    match self.pivot(side, old) {
                        Some(found) => {
                            ray = found;
                            None
                        }
                        None => Some(End::SuddenLoss { mode: self.modes[side / 2] }),
                    }
                }
            };
            most_load = most_load.max(self.load);
            let fallen = self.load > 0.0 && self.load < limits.least_left * most_load;
            let end = end.or_else(|| fallen.then_some(End::LeastLeft));
            let end = end.or_else(|| {
                (events.len() >= most).then_some(End::SuddenLoss { mode: last.map_or(0, |side| self.modes[side / 2]) })
            });
            if let Some(end) = end {
                return Path { points, events, end, residual: self.residual };
            }
        }
    }

    fn previous_slope(&self, side: Side) -> f64 {
        let scale = self.scale[side / 2];
        let index = self.state[side].piece.saturating_sub(1);
        self.envelopes[self.modes[side / 2]][side % 2].pieces[index].slope * scale * scale
    }

    /// Moves a side to the next piece of its envelope.
    fn enter_piece(&mut self, side: Side) {
        let envelope = &self.envelopes[self.modes[side / 2]][side % 2];
        let scale = self.scale[side / 2];
        let state = &mut self.state[side];
        state.base += state.slope * (state.to - state.from);
        state.piece = (state.piece + 1).min(envelope.pieces.len() - 1);
        let piece = envelope.pieces[state.piece];
        state.from = state.to;
        state.plastic = state.to;
        state.slope = piece.slope * scale * scale;
        state.to = state.from + piece.length / scale;
        self.caps[side] = state.cap();
    }

    fn point(&self) -> Point {
        let mut plastic = Vec::with_capacity(self.moved.len());
        let mut accumulated = 0.0;
        for &mode in &self.moved {
            let [one, other] = [&self.state[2 * mode], &self.state[2 * mode + 1]];
            for side in [one, other] {
                if side.touched && side.strength > 0.0 {
                    accumulated += side.plastic / side.strength;
                }
            }
            let net = one.plastic - other.plastic;
            if net != 0.0 {
                plastic.push((self.modes[mode], net * self.scale[mode]));
            }
        }
        Point { load: self.load, plastic, accumulated, watched: self.watched_now.clone() }
    }

    /// Force rates of all modes along a ray.
    pub(super) fn find_rates(&mut self, ray: &Ray) {
        let plastic = ray.plastic.iter().map(|&(side, rate)| (side / 2, sign(side) * rate));
        self.unknown_rates = self.elastic.forces(&self.blocks, &self.block_of, ray.load, plastic, &mut self.rates);
    }

    /// Forces and watched deformations from the totals, never from running sums, and how far the
    /// yielding modes are from their envelopes by them.
    fn recompute(&mut self) {
        self.total();
        let gap = |it: &Self, side: Side| sign(side) * it.force[side / 2] - it.caps[side];
        let off = |side: Side| gap(self, side).abs() > OFF * self.state[side].strength;
        if self.active().any(off) {
            let gaps: Vec<f64> = self.active().map(|side| gap(self, side)).collect();
            self.put_back(&gaps);
        }
        for block in &self.blocks {
            for &side in &block.active {
                let state = &self.state[side];
                let own = self.elastic.own(block, side) * state.plastic;
                let gap = (sign(side) * self.force[side / 2] - self.caps[side]).abs();
                self.residual = self.residual.max(gap / state.strength.max(own.abs()).max(f64::MIN_POSITIVE));
            }
        }
    }

    fn total(&mut self) {
        let net = |&mode: &usize| (mode, self.state[2 * mode].plastic - self.state[2 * mode + 1].plastic);
        let plastic = self.moved.iter().map(net).filter(|(_, net)| *net != 0.0);
        let unknowns = self.elastic.forces(&self.blocks, &self.block_of, self.load, plastic, &mut self.force);
        for (now, row) in self.watched_now.iter_mut().zip(&self.watched) {
            *now = row.iter().map(|&(place, factor)| factor * unknowns[place]).sum();
        }
    }

    /// Puts yielding sides back on their envelopes, so that rounding never builds up.
    fn put_back(&mut self, gaps: &[f64]) {
        let correction = self.solve(gaps);
        let sound = correction.iter().zip(self.active()).all(|(change, side)| {
            let state = &self.state[side];
            change.abs() <= 1e-11 * (state.plastic + state.strength)
        });
        if !sound {
            return;
        }
        let sides: Vec<Side> = self.active().collect();
        for (&change, side) in correction.iter().zip(sides) {
            let state = &mut self.state[side];
            state.plastic = (state.plastic + change).max(0.0);
            self.caps[side] = state.cap();
        }
        self.total();
    }

    /// All active sides, block by block.
    pub(super) fn active(&self) -> impl Iterator<Item = Side> + '_ {
        self.blocks.iter().flat_map(|block| block.active.iter().copied())
    }

    /// Reserve of a side before it yields.
    pub(super) fn reserve(&self, side: Side) -> f64 {
        self.caps[side] - sign(side) * self.force[side / 2]
    }

    /// Largest force rate.
    pub(super) fn fastest(&self) -> f64 {
        self.rates.iter().fold(0.0_f64, |most, rate| most.max(rate.abs()))
    }

    fn next(&self, ray: &Ray, limits: &Limits) -> (f64, Next) {
        let mut best = (f64::INFINITY, usize::MAX, Next::Limit(None));
        // The lowest side wins a tie.
        let mut offer = |step: f64, side: Side, next: Next| {
            if step < best.0 * (1.0 - TIE) || (step <= best.0 * (1.0 + TIE) && side < best.1) {
                best = (step, side, next);
            }
        };
        for &(side, rate) in &ray.plastic {
            let state = &self.state[side];
            if rate > 0.0 {
                // A mechanism that moves nothing watched would go on for ever.
                let furthest = FURTHEST * state.strength;
                offer((furthest - state.plastic).max(0.0) / rate, side, Next::Limit(None));
                if state.to.is_finite() {
                    offer((state.to - state.plastic).max(0.0) / rate, side, Next::Reaches(side));
                }
            }
        }
        let least = STILL * self.fastest();
        for (mode, &rate) in self.rates.iter().enumerate() {
            let side = 2 * mode + usize::from(rate < 0.0);
            if rate.abs() > least && self.place[side] == NOWHERE && self.caps[side].is_finite() {
                let reserve = self.reserve(side);
                let reserve = if reserve <= TOUCH * self.state[side].strength { 0.0 } else { reserve };
                offer(reserve / rate.abs(), side, Next::Yields(side));
            }
        }
        if ray.load < 0.0 {
            offer(self.load.max(0.0) / -ray.load, Side::MAX, Next::Zero);
        }
        for (index, ((row, &now), &limit)) in
            self.watched.iter().zip(&self.watched_now).zip(&limits.watched).enumerate()
        {
            let speed: f64 = row.iter().map(|&(place, factor)| factor * self.unknown_rates[place]).sum();
            if speed != 0.0 {
                let left = if speed > 0.0 { limit - now } else { limit + now };
                offer(left.max(0.0) / speed.abs(), Side::MAX, Next::Limit(Some(index)));
            }
        }
        let (step, _, next) = best;
        if step.is_finite() { (step, next) } else { (0.0, Next::Limit(None)) }
    }

    fn advance(&mut self, ray: &Ray, step: f64) {
        self.load = (self.load + ray.load * step).max(0.0);
        for (force, rate) in self.force.iter_mut().zip(&self.rates) {
            *force += rate * step;
        }
        for &(side, rate) in &ray.plastic {
            let state = &mut self.state[side];
            if !state.touched {
                state.touched = true;
                if let Err(place) = self.moved.binary_search(&(side / 2)) {
                    self.moved.insert(place, side / 2);
                }
            }
            state.plastic = (state.plastic + rate * step).min(state.to);
            self.caps[side] = state.cap();
        }
    }
}
