//! What a path says: the points kept of it, its events, limits and mechanism.

use super::building::{BuildingSystem, State};
use super::curve::{
    CapacityCurve, CurveEnd, CurveEvent, CurvePoint, LimitKind, LimitReached, Mechanism, Pattern, Setup, What,
};
use super::members::MemberMode;
use super::solver::{Change, End, Path, Point};
use crate::failure::Failure;
use crate::hinge::Resistance;
use crate::order;
use crate::place::{Class, Place};
use crate::project::Direction;

/// Points kept of a curve, at most: those that change it least go first.
const MOST_POINTS: usize = 32;

impl Setup<'_> {
    #[expect(clippy::too_many_arguments, reason = "a path and what it was made from")]
    pub(super) fn read(
        &self,
        system: &BuildingSystem<'_>,
        path: &Path,
        modes: &[MemberMode],
        sense: f64,
        pattern: Pattern,
        shape: Vec<f64>,
        masses_t: Vec<f64>,
    ) -> CapacityCurve {
        let roofs: Vec<f64> = path
            .points
            .iter()
            .map(|point| {
                let floors = system.motions(point);
                floors.last().map_or(0.0, |floor| 1000.0 * sense * floor.along(self.direction))
            })
            .collect();
        let peak =
            (0..roofs.len()).fold(0, |most, k| if path.points[k].load > path.points[most].load { k } else { most });
        let history = History::new(path, modes.len());
        let events = self.events(path, &history, modes, &roofs);
        let limits = self.limits(path, &history, modes, &roofs, peak, &events);
        let at = limits.first().map_or(f64::INFINITY, |limit| limit.position);
        let known = path.points.iter().position(|point| point.accumulated >= at).unwrap_or(path.points.len() - 1);
        let mechanism = self.mechanism(&path.points[known], &system.state(&path.points[known]), modes, sense);
        // Balance is seen at the points kept: the forces of every point come from its totals.
        let mut imbalance = path.residual;
        let mut points = Vec::with_capacity(MOST_POINTS);
        // The elastic step ends at the first point, and the first limit is read between its neighbours.
        let staying = [peak, 1, known.saturating_sub(1), known];
        for k in thinned(&path.points, &roofs, &staying) {
            let (point, state) = (&path.points[k], system.state(&path.points[k]));
            imbalance = imbalance.max(system.imbalance(point, &state, self.direction));
            points.push(self.point(system, point, &state, roofs[k], sense));
        }
        let end = match path.end {
            End::LimitDrift { .. } => CurveEnd::LimitDrift,
            End::LeastLeft => CurveEnd::MostLost,
            End::ZeroLoad => CurveEnd::ZeroLoad,
            End::SuddenLoss { mode } => {
                let hinge = &self.hinges[modes[mode].hinges[0]];
                CurveEnd::SuddenLoss { place: hinge.place.clone(), failure: hinge.failure }
            }
        };
        CapacityCurve {
            along_x: self.direction == Direction::X,
            pattern,
            towards_higher: sense > 0.0,
            points,
            events,
            end,
            peak_kn: path.points[peak].load,
            peak_roof_mm: roofs[peak],
            limits,
            mechanism,
            shape,
            masses_t,
            imbalance,
            modes: modes.len() as u32,
        }
    }

    fn events(&self, path: &Path, history: &History, modes: &[MemberMode], roofs: &[f64]) -> Vec<CurveEvent> {
        let mut events = Vec::new();
        let mut yielded = vec![false; 2 * modes.len()];
        for event in &path.events {
            let mode = &modes[event.mode];
            let pieces = &mode.envelopes[event.sense].pieces;
            let loses = |piece: usize| pieces.get(piece).is_some_and(|piece| piece.slope < 0.0);
            let side = 2 * event.mode + event.sense;
            let what = match event.change {
                Change::Yields(piece) if !yielded[side] => {
                    yielded[side] = true;
                    if loses(piece) { What::LosesStrength } else { What::Yields }
                }
                Change::Reaches(piece) if loses(piece) => What::LosesStrength,
                _ => continue,
            };
            let hinge = &self.hinges[mode.hinges[0]];
            events.push(CurveEvent {
                what,
                failure: hinge.failure,
                place: hinge.place.clone(),
                places: numbers(mode),
                storey: hinge.storey,
                base_shear_kn: path.points[event.point].load,
                roof_mm: roofs[event.point],
                position: path.points[event.point].accumulated,
            });
        }
        for (index, mode) in modes.iter().enumerate() {
            let hinge = &self.hinges[mode.hinges[0]];
            for sense in 0..hinge.senses.len() {
                let loss = self.least(mode, sense, |it| it.loss);
                if !loss.is_finite() || !hinge.vertical {
                    continue;
                }
                let Some((k, part)) = history.passes(index, sense, loss) else { continue };
                let between = |values: &dyn Fn(usize) -> f64| values(k) + part * (values(k + 1) - values(k));
                events.push(CurveEvent {
                    what: What::LosesSupport,
                    failure: hinge.failure,
                    place: hinge.place.clone(),
                    places: numbers(mode),
                    storey: hinge.storey,
                    base_shear_kn: between(&|k| path.points[k].load),
                    roof_mm: between(&|k| roofs[k]),
                    position: between(&|k| path.points[k].accumulated),
                });
            }
        }
        order::sort_by(&mut events, |one, other| one.position.total_cmp(&other.position));
        events
    }

    /// Least figure of the hinges that deform together; infinite where they do not resist.
    fn least(&self, mode: &MemberMode, side: usize, pick: impl Fn(&Resistance) -> f64) -> f64 {
        let all = mode.hinges.iter().filter_map(|&hinge| self.hinges[hinge].senses[side].as_ref());
        all.map(pick).fold(f64::INFINITY, f64::min)
    }

    /// Limits in order; of members of one storey that fail the same way only the first.
    fn limits(
        &self,
        path: &Path,
        history: &History,
        modes: &[MemberMode],
        roofs: &[f64],
        peak: usize,
        events: &[CurveEvent],
    ) -> Vec<LimitReached> {
        let mut found: Vec<LimitReached> = Vec::new();
        let furthest: Vec<f64> = roofs
            .iter()
            .scan(0.0_f64, |most, &roof| {
                *most = most.max(roof);
                Some(*most)
            })
            .collect();
        let mut add = |limit, place: Place, storey, failure, (k, part): (usize, f64)| {
            let next = (k + 1).min(roofs.len() - 1);
            let between = |values: &dyn Fn(usize) -> f64| values(k) + part * (values(next) - values(k));
            found.push(LimitReached {
                limit,
                place,
                storey,
                failure,
                roof_mm: between(&|k| roofs[k]).max(furthest[k]),
                base_shear_kn: between(&|k| path.points[k].load),
                position: between(&|k| path.points[k].accumulated),
            });
        };
        for (index, mode) in modes.iter().enumerate() {
            let hinge = &self.hinges[mode.hinges[0]];
            if !hinge.vertical {
                continue;
            }
            for (side, resistance) in hinge.senses.iter().enumerate() {
                let Some(resistance) = resistance else { continue };
                let known = if hinge.class == Class::New { 1.0 } else { self.knowledge };
                let mut accepted = known * self.least(mode, side, |it| it.accepted[self.level]);
                let loss = self.least(mode, side, |it| it.loss);
                // A drift limit in all counts from rest, the plastic part from the elastic one.
                if resistance.onset[1] > 0.0 {
                    accepted = (accepted - resistance.strength / own_stiffness(mode)).max(0.0);
                }
                let kind = if loss < accepted { LimitKind::Support } else { LimitKind::Member };
                if let Some(at) = history.passes(index, side, accepted.min(loss)) {
                    add(kind, hinge.place.clone(), hinge.storey, hinge.failure, at);
                }
            }
        }
        // What the whole building's limits come from: the most members that had lost strength by then.
        let behind = |position: f64| {
            let losing = events.iter().filter(|event| event.what == What::LosesStrength && event.position <= position);
            let most = losing.max_by_key(|event| event.places.len());
            most.or_else(|| events.iter().rfind(|event| event.position <= position))
                .map_or((Place::Building, 0, Failure::Flexure), |event| {
                    (event.place.clone(), event.storey, event.failure)
                })
        };
        let most = path.points[peak].load;
        let fallen = (peak..path.points.len().saturating_sub(1)).find(|&k| path.points[k + 1].load < 0.8 * most);
        if let Some(k) = fallen {
            let (from, to) = (path.points[k].load, path.points[k + 1].load);
            let (place, storey, failure) = behind(path.points[k].accumulated);
            add(LimitKind::StrengthLoss, place, storey, failure, (k, (from - 0.8 * most) / (from - to)));
        }
        let last = path.points.len() - 1;
        let (place, storey, failure) = behind(path.points[last].accumulated);
        add(LimitKind::CurveEnd, place, storey, failure, (last, 0.0));
        order::sort_by(&mut found, |one, other| one.position.total_cmp(&other.position));
        let mut kept: Vec<LimitReached> = Vec::new();
        for limit in found {
            let key = |it: &LimitReached| (it.limit, it.storey, it.failure);
            if !kept.iter().any(|own| key(own) == key(&limit)) {
                kept.push(limit);
            }
        }
        kept
    }

    fn point(&self, system: &BuildingSystem<'_>, point: &Point, state: &State, roof_mm: f64, sense: f64) -> CurvePoint {
        let count = self.model.floors.len();
        let mut shear = vec![0.0; count];
        let mut class = vec![[0.0; 3]; count];
        let place = |class: Class| Class::ALL.iter().position(|own| *own == class).unwrap_or(0);
        let mut add = |s: usize, own: Class, value: f64| {
            shear[s] += sense * value;
            class[s][place(own)] += sense * value;
        };
        for (index, line) in self.framing.lines.iter().enumerate().filter(|(_, line)| line.direction == self.direction)
        {
            let shears = system.member_shears(index, point, state);
            for s in 0..count {
                for end in 0..self.model.along(self.direction).len() {
                    let inside = line.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
                    let column = self.model.column_on(self.direction, line.line, end, s as u32 + 1);
                    if let (Some(column), false) = (column, inside) {
                        add(s, column.class(), shears.column(s, end));
                    }
                }
            }
            for (wall, value) in line.walls.iter().zip(&shears.walls) {
                add(wall.storey as usize - 1, wall.class, *value);
            }
            for (&panel, value) in line.masonry.iter().zip(&shears.springs) {
                add(self.model.masonry[panel].storey as usize - 1, Class::AsBuilt, *value);
            }
        }
        for (k, frame) in self.model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == self.direction) {
            let own = &state.storey_shear_kn[self.framing.lines.len() + k];
            for (s, value) in own.iter().enumerate().take(frame.storeys as usize) {
                add(s, Class::New, *value);
            }
        }
        CurvePoint {
            base_shear_kn: point.load,
            roof_mm,
            position: point.accumulated,
            shear_kn: shear,
            drift_mm: drifts(state, self.direction, sense),
            class_shear_kn: class,
            slab_kn: state.slab_kn.iter().map(|row| row.iter().map(|force| sense * force).collect()).collect(),
        }
    }

    fn mechanism(&self, point: &Point, state: &State, modes: &[MemberMode], sense: f64) -> Mechanism {
        let count = self.model.floors.len();
        let drift = drifts(state, self.direction, sense);
        let roof: f64 = drift.iter().sum();
        let mut found = Mechanism {
            drift_share: drift.iter().map(|own| if roof == 0.0 { 0.0 } else { own / roof }).collect(),
            column_heads: vec![[0; 2]; count],
            column_feet: vec![[0; 2]; count],
            column_shears: vec![0; count],
            beam_ends: vec![[0; 2]; count],
            joints: vec![0; count],
            wall_feet: vec![0; count],
            wall_shears: vec![0; count],
            beam_shears: vec![0; count],
            slabs: vec![0; count],
            added: vec![0; count],
            floor_edges: vec![0; count],
            sliding: 0,
        };
        let mut moved = vec![false; modes.len()];
        for &(mode, amplitude) in &point.plastic {
            moved[mode] = amplitude != 0.0;
        }
        for (mode, moved) in modes.iter().zip(moved) {
            for &index in &mode.hinges {
                let hinge = &self.hinges[index];
                let s = hinge.storey as usize - 1;
                let yields = u32::from(moved);
                use crate::line_mode::Hinge::{BeamEnd, BeamShear, ColumnEnd, ColumnShear, WallFoot, WallShear};
                match (hinge.failure, hinge.hinges.first()) {
                    (Failure::Joint, _) => found.joints[s] += yields,
                    (Failure::Slab, _) => found.slabs[s] += yields,
                    (Failure::WingEdge | Failure::JacketFace, _) => found.added[s] += yields,
                    (Failure::FloorEdge | Failure::Collector, _) => found.floor_edges[s] += yields,
                    (Failure::Sliding, _) => found.sliding += yields,
                    (_, Some(ColumnEnd { top, .. })) => {
                        let ends = if *top { &mut found.column_heads[s] } else { &mut found.column_feet[s] };
                        ends[0] += yields;
                        ends[1] += 1;
                    }
                    (_, Some(ColumnShear { .. })) => found.column_shears[s] += yields,
                    (_, Some(BeamEnd { .. })) => {
                        found.beam_ends[s][0] += yields;
                        found.beam_ends[s][1] += 1;
                    }
                    (_, Some(BeamShear { .. })) => found.beam_shears[s] += yields,
                    (_, Some(WallFoot { .. })) => found.wall_feet[s] += yields,
                    (_, Some(WallShear { .. })) => found.wall_shears[s] += yields,
                    _ => {}
                }
            }
        }
        found
    }
}

fn numbers(mode: &MemberMode) -> Vec<u32> {
    mode.hinges.iter().map(|&hinge| hinge as u32).collect()
}

fn own_stiffness(mode: &MemberMode) -> f64 {
    match &mode.mode {
        super::PlasticMode::Members(parts) => {
            parts.iter().map(|(_, own)| own.own_stiffness).sum::<f64>() / mode.hinges.len() as f64
        }
        super::PlasticMode::Slab { .. } => f64::INFINITY,
    }
}

fn drifts(state: &State, direction: Direction, sense: f64) -> Vec<f64> {
    let mut below = 0.0;
    state
        .floors
        .iter()
        .map(|floor| {
            let own = 1000.0 * sense * floor.along(direction);
            let drift = own - below;
            below = own;
            drift
        })
        .collect()
}

/// Plastic deformation of every mode, point by point where it has any.
struct History(Vec<Vec<(usize, f64)>>);

impl History {
    fn new(path: &Path, modes: usize) -> Self {
        let mut history = vec![Vec::new(); modes];
        for (k, point) in path.points.iter().enumerate() {
            for &(mode, amplitude) in &point.plastic {
                history[mode].push((k, amplitude));
            }
        }
        Self(history)
    }

    /// Where the deformation of a mode in a sense passes a limit for the first time: the point
    /// before and the part of the way to the next.
    fn passes(&self, mode: usize, sense: usize, limit: f64) -> Option<(usize, f64)> {
        let sign = if sense == 0 { 1.0 } else { -1.0 };
        let mut before = (0, 0.0);
        for &(k, amplitude) in &self.0[mode] {
            let now = sign * amplitude;
            // A mode that is not listed at a point is at rest there.
            let last = if k == before.0 + 1 { before.1 } else { 0.0 };
            if now > limit || (now == limit && limit > 0.0) {
                let part = if now > last { ((limit - last) / (now - last)).max(0.0) } else { 1.0 };
                return Some((k - 1, part));
            }
            before = (k, now);
        }
        None
    }
}

/// The points that shape a curve, at most [`MOST_POINTS`]: the ones whose loss moves it least are
/// left out one after the other; the ends and those named stay.
fn thinned(points: &[Point], roofs: &[f64], staying: &[usize]) -> Vec<usize> {
    let load = points.iter().fold(f64::MIN_POSITIVE, |most, point| most.max(point.load));
    let width = roofs.iter().fold(f64::MIN_POSITIVE, |most, roof| most.max(roof.abs()));
    let at = |k: usize| (roofs[k] / width, points[k].load / load);
    let mut kept: Vec<usize> = (0..points.len()).collect();
    // Twice the area of the triangle a point makes with its neighbours; infinite where it stays.
    let area = |kept: &[usize], i: usize| {
        if i == 0 || i + 1 >= kept.len() || staying.contains(&kept[i]) {
            return f64::INFINITY;
        }
        let ((x0, y0), (x1, y1), (x2, y2)) = (at(kept[i - 1]), at(kept[i]), at(kept[i + 1]));
        ((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)).abs()
    };
    let mut areas: Vec<f64> = (0..kept.len()).map(|i| area(&kept, i)).collect();
    while kept.len() > MOST_POINTS {
        let least = (0..areas.len()).fold(0, |least, i| if areas[i] < areas[least] { i } else { least });
        if areas[least].is_infinite() {
            break;
        }
        kept.remove(least);
        areas.remove(least);
        for i in [least - 1, least] {
            areas[i] = area(&kept, i);
        }
    }
    kept
}
