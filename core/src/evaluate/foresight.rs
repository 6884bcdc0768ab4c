//! Foresight: what the whole range of one dimension of a measure would give, before it is changed.
//!
//! A slider has stops; some are put through the whole evaluation, and where one passes and the next
//! tried does not, the stops between are halved until the two are neighbours. So the value at which a
//! pass line is crossed is a stop that was evaluated, never one read off between two others. What
//! happens between two stops that both pass, or both fail, is not known.

use super::{Analysis, Depth, rule_set};
use crate::project::{Control, Field, FieldError, Measure, Project, Spec};
use crate::study::Headline;
use crate::units::System;
use serde_json::json;

/// Parts the range is cut into at first.
const PARTS: usize = 4;
/// Stops tried at most before halving between what passes and what does not.
const MOST_TRIED: usize = 11;
/// A difference of neighbours' ratios beyond which the stops between are tried too.
const STEEP: f64 = 0.15;

/// What a value gives.
#[derive(Clone, Debug, PartialEq)]
pub enum Foreseen {
    /// The scheme's verdict with it.
    Given {
        /// Capacity ÷ demand in the lesser direction.
        capacity: Headline,
        /// Least strength ÷ demand of the measure's connecting slabs, if it has any.
        slab: Option<f64>,
    },
    /// It does not go with the rest of the project.
    Refused(FieldError),
    /// The verdict is withheld.
    Withheld,
}

impl Foreseen {
    /// The ratio whose pass line is one.
    pub fn ratio(&self, of: PassLine) -> Option<f64> {
        match (self, of) {
            (Self::Given { capacity, .. }, PassLine::Capacity) => Some(capacity.ratio),
            (Self::Given { slab, .. }, PassLine::Slab) => *slab,
            _ => None,
        }
    }
}

/// A ratio that passes from one on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PassLine {
    /// Capacity ÷ demand of the scheme.
    Capacity,
    /// Strength ÷ demand of the measure's connecting slabs.
    Slab,
}

impl PassLine {
    const BOTH: [Self; 2] = [Self::Capacity, Self::Slab];
}

/// A dimension of a measure: the scheme and the measure by their places, and the keys that lead to
/// the field, as in `footing.length_m`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dial {
    /// The scheme.
    pub scheme: usize,
    /// The measure in it.
    pub measure: usize,
    /// The keys, joined by dots.
    pub keys: String,
}

impl Dial {
    /// The project with another value there; `None` if the project has no such field.
    fn turned(&self, project: &Project, value: f64) -> Option<Result<Project, FieldError>> {
        let mut own = project.clone();
        let measure = own.schemes.get_mut(self.scheme)?.measures.get_mut(self.measure)?;
        let set = set_within(measure, &self.keys, value)?;
        Some(set.and_then(|()| own.check()).map(|()| own))
    }

    /// What a value gives; `None` if the project has no such field.
    pub fn foreseen(&self, project: &Project, value: f64) -> Option<Foreseen> {
        let own = match self.turned(project, value)? {
            Ok(own) => own,
            Err(error) => return Some(Foreseen::Refused(error)),
        };
        let scheme = own.schemes.get(self.scheme)?;
        let analysis = Analysis::new(&own, Some(scheme), rule_set(&own), Depth::Whole);
        let Some(capacity) = analysis.capacity_to_demand() else { return Some(Foreseen::Withheld) };
        let face = match scheme.measures.get(self.measure) {
            Some(Measure::ExternalFrame(frame)) => Some(frame.face.as_str()),
            _ => None,
        };
        let slabs = analysis.slabs.iter().filter(|slab| Some(slab.face.as_str()) == face && slab.demand_kn > 0.0);
        let slab = slabs.map(|slab| slab.strength_kn / slab.demand_kn).reduce(f64::min);
        Some(Foreseen::Given { capacity, slab })
    }

    /// Whether two projects differ in nothing that what is foreseen here rests on: they may differ
    /// in the value itself, in names and remarks, and in other schemes.
    pub fn is_alike(&self, one: &Project, other: &Project) -> bool {
        let measures = |project: &Project| {
            let mut measures = project.schemes.get(self.scheme)?.measures.clone();
            let own = measures.get_mut(self.measure)?;
            let blank = self.field(own)?.spec.min;
            set_within(own, &self.keys, blank)?.ok()?;
            Some(measures)
        };
        one.building == other.building
            && one.ground_motion == other.ground_motion
            && one.rules == other.rules
            && measures(one).is_some_and(|own| Some(own) == measures(other))
    }

    fn field(&self, measure: &Measure) -> Option<Field> {
        let mut fields = measure.fields();
        let mut found = None;
        for key in self.keys.split('.') {
            let field = *fields.iter().find(|field| field.key == key)?;
            fields = match field.control {
                Control::Record(inner) => inner,
                _ => &[],
            };
            found = Some(field);
        }
        found
    }
}

/// Gives a field of a measure, or of a record in it, a number; `None` if there is no such field.
fn set_within(measure: &mut Measure, keys: &str, number: f64) -> Option<Result<(), FieldError>> {
    let (head, inner) = keys.split_once('.').unwrap_or((keys, ""));
    let mut value = measure.get(head)?;
    match inner {
        "" => value = json!(number),
        key => *value.get_mut(key)? = json!(number),
    }
    Some(measure.set(head, &value))
}

/// What is foreseen over a slider's range, and what is to be tried next.
#[derive(Clone, Debug, PartialEq)]
pub struct Foresight {
    /// Every stop of the slider, rising, with what it gives if it was tried.
    stops: Vec<(f64, Option<Foreseen>)>,
}

impl Foresight {
    /// Nothing tried yet, for a number with this description in the units shown.
    pub fn new(spec: &Spec, system: System) -> Self {
        Self { stops: spec.stops(system).into_iter().map(|value| (value, None)).collect() }
    }

    /// The value to be tried next; `None` when all is known that is asked for.
    pub fn next(&self) -> Option<f64> {
        let last = self.stops.len() - 1;
        // The ends and the middle first, so that the curve is rough but whole at once.
        let coarse = [0, PARTS, PARTS / 2].into_iter().chain(0..=PARTS).map(|part| last * part / PARTS);
        let next = coarse.clone().find(|stop| self.stops[*stop].1.is_none());
        let stop = next.or_else(|| self.turning()).or_else(|| self.steep())?;
        Some(self.stops[stop].0)
    }

    /// A stop in the middle of two tried ones of which only one passes, or only one can be made.
    fn turning(&self) -> Option<usize> {
        let kind = |foreseen: &Foreseen| {
            let passes = PassLine::BOTH.map(|line| foreseen.ratio(line).map(|ratio| ratio >= 1.0));
            (std::mem::discriminant(foreseen), passes)
        };
        self.neighbours().find(|(_, one, _, other)| kind(one) != kind(other)).map(|(low, _, high, _)| (low + high) / 2)
    }

    /// A stop in the middle of the two tried ones whose ratios are furthest apart, if that is much.
    fn steep(&self) -> Option<usize> {
        if self.tried().count() >= MOST_TRIED {
            return None;
        }
        let mut steepest: Option<(f64, usize)> = None;
        for (low, one, high, other) in self.neighbours() {
            let ratio = |foreseen: &Foreseen| foreseen.ratio(PassLine::Capacity);
            let (Some(one), Some(other)) = (ratio(one), ratio(other)) else { continue };
            let apart = (one - other).abs();
            if apart > STEEP && steepest.is_none_or(|(most, _)| apart > most) {
                steepest = Some((apart, (low + high) / 2));
            }
        }
        steepest.map(|(_, stop)| stop)
    }

    /// Tried stops that follow each other with others between.
    fn neighbours(&self) -> impl Iterator<Item = (usize, &Foreseen, usize, &Foreseen)> {
        let tried = || self.stops.iter().enumerate().filter_map(|(stop, (_, found))| Some((stop, found.as_ref()?)));
        tried()
            .zip(tried().skip(1))
            .map(|((low, one), (high, other))| (low, one, high, other))
            .filter(|(low, _, high, _)| high - low > 1)
    }

    /// Takes what a stop gives.
    pub fn put(&mut self, value: f64, foreseen: Foreseen) {
        if let Some(own) = self.stops.iter_mut().find(|(stop, _)| *stop == value) {
            own.1 = Some(foreseen);
        }
    }

    /// Stops tried, rising.
    pub fn tried(&self) -> impl Iterator<Item = (f64, &Foreseen)> {
        self.stops.iter().filter_map(|(value, found)| Some((*value, found.as_ref()?)))
    }

    /// Where a pass line is crossed; `None` until all is tried that has to be, or where nothing has
    /// such a ratio.
    pub fn passing(&self, of: PassLine) -> Option<Passing> {
        let coarse_done = (0..=PARTS).all(|part| self.stops[(self.stops.len() - 1) * part / PARTS].1.is_some());
        if !coarse_done || self.turning().is_some() {
            return None;
        }
        let rated: Vec<(f64, bool)> =
            self.tried().filter_map(|(value, found)| Some((value, found.ratio(of)? >= 1.0))).collect();
        let (first, last) = (rated.first()?.0, rated.last()?.0);
        let mut runs: Vec<[f64; 2]> = Vec::new();
        let mut before = false;
        for (value, passes) in rated {
            match runs.last_mut() {
                Some(run) if passes && before => run[1] = value,
                _ if passes => runs.push([value, value]),
                _ => {}
            }
            before = passes;
        }
        Some(Passing { first, last, runs })
    }

    /// Values that cannot be made, with the reason: the first and last of those that follow each other.
    pub fn refused(&self) -> Vec<([f64; 2], &FieldError)> {
        let mut runs: Vec<([f64; 2], &FieldError)> = Vec::new();
        let mut before = false;
        for (value, found) in self.tried() {
            let Foreseen::Refused(error) = found else {
                before = false;
                continue;
            };
            match runs.last_mut() {
                Some((run, _)) if before => run[1] = value,
                _ => runs.push(([value, value], error)),
            }
            before = true;
        }
        runs
    }
}

/// Where a pass line is crossed, at stops that were evaluated.
#[derive(Clone, Debug, PartialEq)]
pub struct Passing {
    /// The first stop with a ratio.
    pub first: f64,
    /// The last stop with a ratio.
    pub last: f64,
    /// Stretches that pass, each by its first and last stop. The stop before and after each, within
    /// the range, was tried and does not pass.
    pub runs: Vec<[f64; 2]>,
}
