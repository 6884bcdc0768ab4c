//! The walk along a capacity curve that the scrubber takes, and what happens on the way.

use crate::drawing::{MemberMark, MemberState};
use sisterframe_core::order;
use sisterframe_core::place::Place;
use sisterframe_core::pushover::{CapacityCurve, CurveEvent, Step, What};
use sisterframe_core::study::Failure;

/// Steps of the scrubber.
pub const STEPS: u32 = 300;
/// What is beyond the chart takes this part of the room on the scrubber.
const BEYOND: f64 = 0.15;
/// Groups of events that are numbered on the curve, at most.
const MOST_GROUPS: usize = 8;

/// The length of a curve as it is drawn, from point to point, so that the scrubber moves evenly.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Walk {
    /// Part of the whole walk up to each point.
    parts: Vec<f64>,
}

impl Walk {
    /// The walk along a curve that is drawn up to a roof displacement, mm.
    pub fn of(curve: &CapacityCurve, shown_mm: f64) -> Self {
        let (wide, high) = (shown_mm.max(1e-9), curve.peak_kn.max(1e-9));
        let mut parts = vec![0.0];
        let mut done = 0.0;
        for pair in curve.points.windows(2) {
            let across = (pair[1].roof_mm - pair[0].roof_mm) / wide;
            let up = (pair[1].base_shear_kn - pair[0].base_shear_kn) / high;
            let beyond = pair[0].roof_mm.min(pair[1].roof_mm) >= shown_mm;
            done += (across * across + 0.3 * up * up).sqrt() * if beyond { BEYOND } else { 1.0 };
            parts.push(done);
        }
        parts.iter_mut().for_each(|part| *part /= done.max(1e-12));
        Self { parts }
    }

    /// The step at a place of the scrubber.
    pub fn step(&self, place: f64) -> Step {
        let wanted = place / f64::from(STEPS);
        let last = self.parts.len() - 1;
        let before = self.parts.windows(2).position(|pair| wanted <= pair[1]).unwrap_or(last);
        match self.parts.get(before + 1) {
            Some(next) if *next > self.parts[before] => {
                Step { before, part: ((wanted - self.parts[before]) / (next - self.parts[before])).clamp(0.0, 1.0) }
            }
            Some(_) => Step { before, part: 1.0 },
            None => Step { before: last, part: 0.0 },
        }
    }

    /// The place of the scrubber at a step.
    pub fn place(&self, step: Step) -> f64 {
        let from = self.parts.get(step.before).copied().unwrap_or(1.0);
        let to = self.parts.get(step.before + 1).copied().unwrap_or(from);
        f64::from(STEPS) * (from + step.part * (to - from))
    }
}

/// Events close together, with one number on the curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its number, from 1.
    pub number: u32,
    /// Its events, by their numbers in the curve.
    pub events: Vec<usize>,
}

/// Gathers the events up to a roof displacement so that no more groups are left than can be
/// numbered.
pub fn groups(curve: &CapacityCurve, shown_mm: f64) -> Vec<Group> {
    let shown: Vec<usize> = (0..curve.events.len()).filter(|k| curve.events[*k].roof_mm <= shown_mm).collect();
    let apart = |a: usize, b: usize| {
        let (a, b) = (&curve.events[a], &curve.events[b]);
        let across = (a.roof_mm - b.roof_mm) / shown_mm.max(1e-9);
        let up = 0.55 * (a.base_shear_kn - b.base_shear_kn) / curve.peak_kn.max(1e-9);
        (across * across + up * up).sqrt()
    };
    let mut room = 0.042;
    loop {
        let mut groups: Vec<Group> = Vec::new();
        for &event in &shown {
            match groups.last_mut() {
                Some(group) if apart(group.events[0], event) < room => group.events.push(event),
                _ => groups.push(Group { number: groups.len() as u32 + 1, events: vec![event] }),
            }
        }
        if groups.len() <= MOST_GROUPS {
            return groups;
        }
        room *= 1.15;
    }
}

const fn state_of(what: What) -> MemberState {
    match what {
        What::Yields => MemberState::Yielded,
        What::LosesStrength => MemberState::Losing,
        What::LosesSupport => MemberState::Lost,
    }
}

/// A member's part that deforms: columns have joints and two ends that share one place.
type Part = (Place, Failure);

/// The members whose state has changed up to a step, each with its gravest state and the number of
/// the group that brought it there.
pub fn states(curve: &CapacityCurve, places: &[Place], groups: &[Group], step: Step) -> Vec<MemberMark> {
    let mut found: Vec<(Part, MemberState, u32)> = Vec::new();
    for (k, event) in curve.events.iter().enumerate().filter(|(_, event)| curve.has_happened(event, step)) {
        let number = groups.iter().find(|group| group.events.contains(&k)).map_or(0, |group| group.number);
        let state = state_of(event.what);
        for place in event.places.iter().filter_map(|place| places.get(*place as usize)) {
            match found.iter_mut().find(|((own, failure), ..)| own == place && *failure == event.failure) {
                Some((_, own, group)) if *own < state => (*own, *group) = (state, number),
                Some(_) => {}
                None => found.push(((place.clone(), event.failure), state, number)),
            }
        }
    }
    let mark =
        |((place, failure), state, event)| MemberMark { place, failure, state: Some(state), event, pointed: false };
    found.into_iter().map(mark).collect()
}

/// Distinct members of some events.
pub fn members<'a>(events: impl Iterator<Item = &'a CurveEvent>, places: &[Place]) -> Vec<(Place, Failure)> {
    let mut found = Vec::new();
    for event in events {
        for place in event.places.iter().filter_map(|place| places.get(*place as usize)) {
            let own = (place.clone(), event.failure);
            if !found.contains(&own) {
                found.push(own);
            }
        }
    }
    found
}

/// What a group of events says, a line for each storey.
pub fn lines_of(curve: &CapacityCurve, places: &[Place], group: &Group) -> Vec<String> {
    type Kind = (u32, &'static str, &'static str);
    let mut kinds: Vec<(Kind, Vec<Place>)> = Vec::new();
    for event in group.events.iter().filter_map(|k| curve.events.get(*k)) {
        let kind = (event.storey, noun(&event.place, event.failure), verb(event.what, event.failure));
        let at = kinds.iter().position(|(other, _)| *other == kind).unwrap_or_else(|| {
            kinds.push((kind, Vec::new()));
            kinds.len() - 1
        });
        for place in event.places.iter().filter_map(|place| places.get(*place as usize)) {
            if !kinds[at].1.contains(place) {
                kinds[at].1.push(place.clone());
            }
        }
    }
    order::sort_by_key(&mut kinds, |((storey, ..), _)| *storey);
    let mut lines: Vec<(u32, String)> = Vec::new();
    for ((storey, noun, verb), members) in kinds {
        let text = happening(noun, &members, verb);
        match lines.last_mut() {
            Some((own, line)) if *own == storey => line.push_str(&format!(", {text}")),
            _ => lines.push((storey, format!("Storey {storey}: {text}"))),
        }
    }
    lines.into_iter().map(|(_, line)| line).collect()
}

/// "4 columns yield in bending", or the one member by its name.
fn happening(noun: &str, members: &[Place], verb: &str) -> String {
    match members {
        [one] => {
            let name = short(one);
            let joint = if noun == "joint" { "joint at " } else { "" };
            format!("{joint}{name} {}", verb.replace('~', "s"))
        }
        many => format!("{} {noun}s {}", many.len(), verb.replace('~', "")),
    }
}

/// A place without its storey.
pub fn short(place: &Place) -> String {
    let text = place.to_string();
    let cut = text.find(", storey ").or_else(|| text.find(", over storey ")).or_else(|| text.find(", level "));
    text[..cut.unwrap_or(text.len())].to_owned()
}

/// What a member is called.
const fn noun(place: &Place, failure: Failure) -> &'static str {
    match (place, failure) {
        (Place::Column { .. }, Failure::Joint) => "joint",
        (Place::Column { .. }, _) => "column",
        (Place::Beam { .. }, _) => "beam",
        (Place::Panel { .. }, Failure::Masonry) => "masonry panel",
        (Place::Panel { .. }, _) => "wall",
        (Place::FrameColumn { .. }, Failure::Beam) => "added beam",
        (Place::FrameColumn { .. }, _) => "added column",
        (Place::Slab { .. }, _) => "connecting slab",
        (Place::Footing { .. }, _) => "footing",
        (Place::Line { .. }, _) => "line",
        _ => "member",
    }
}

/// What happens to it; `~` stands for the ending of one member's verb.
const fn verb(what: What, failure: Failure) -> &'static str {
    match (what, failure) {
        (What::LosesSupport, _) => "lose~ gravity support",
        (What::LosesStrength, Failure::Shear | Failure::FlexureShear | Failure::BeamShear | Failure::WallShear) => {
            "begin~ to lose strength in shear"
        }
        (What::LosesStrength, Failure::WingEdge) => "slip~ on the wings' edge",
        (What::LosesStrength, Failure::JacketFace) => "slip~ in the jacket",
        (What::LosesStrength, Failure::FloorEdge) => "part~ from the old floor",
        (What::LosesStrength, _) => "begin~ to lose strength",
        (What::Yields, Failure::Flexure | Failure::FlexureShear) => "yield~ in bending",
        (What::Yields, Failure::Shear | Failure::BeamShear) => "come~ up to shear strength",
        (What::Yields, Failure::Splice) => "slip~ at the bar laps",
        (What::Yields, Failure::Beam) => "yield~",
        (What::Yields, Failure::Joint | Failure::Masonry) => "crack~",
        (What::Yields, Failure::WallShear) => "come~ up to shear strength",
        (What::Yields, Failure::WallFlexure) => "yield~ at the foot",
        (What::Yields, Failure::Rocking) => "rock~ on the ground",
        (What::Yields, Failure::Perimeter) => "slip~ along the edge",
        (What::Yields, Failure::Slab) => "slip~",
        (What::Yields, Failure::WingEdge) => "slip~ on the wings' edge",
        (What::Yields, Failure::JacketFace) => "slip~ in the jacket",
        (What::Yields, Failure::FloorEdge) => "part~ from the old floor",
        (What::Yields, Failure::Collector) => "yield~ in tension",
        (What::Yields, Failure::Sliding) => "slide~ on the ground",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn real() -> (CapacityCurve, Vec<Place>) {
        let project = sample::project(sample::CLINIC);
        let option = sisterframe_core::evaluate::option(&project, 1).expect("a second scheme");
        let capacity = option.directions[0].capacity.clone().expect("a capacity");
        (capacity.governing().curve.clone(), capacity.places)
    }

    #[test]
    fn the_walk_goes_from_end_to_end_and_back_to_the_same_place() {
        let (curve, _) = real();
        let walk = Walk::of(&curve, 120.0);
        assert_eq!(walk.step(0.0), Step::default());
        assert_eq!(walk.step(f64::from(STEPS)).before + 1, curve.points.len() - 1);
        assert_eq!(walk.step(f64::from(STEPS)).part, 1.0);
        let mut last = -1.0;
        for place in (0..=STEPS).step_by(7) {
            let step = walk.step(f64::from(place));
            let position = step.before as f64 + step.part;
            assert!(position > last, "it never stands still or goes back");
            last = position;
            assert!((walk.place(step) - f64::from(place)).abs() < 1e-9);
        }
    }

    #[test]
    fn every_event_shown_has_one_number_and_there_are_not_too_many() {
        let (curve, places) = real();
        let groups = groups(&curve, 100.0);
        assert!((2..=MOST_GROUPS).contains(&groups.len()));
        let shown = curve.events.iter().filter(|event| event.roof_mm <= 100.0).count();
        assert_eq!(groups.iter().map(|group| group.events.len()).sum::<usize>(), shown);
        assert!(groups.iter().all(|group| !lines_of(&curve, &places, group).is_empty()));
    }

    #[test]
    fn states_only_grow_worse_along_the_walk() {
        let (curve, places) = real();
        let (walk, groups) = (Walk::of(&curve, 120.0), groups(&curve, 120.0));
        assert!(states(&curve, &places, &groups, Step::default()).is_empty());
        let mut before: Vec<MemberMark> = Vec::new();
        for place in (0..=STEPS).step_by(20) {
            let now = states(&curve, &places, &groups, walk.step(f64::from(place)));
            for old in &before {
                let new = now.iter().find(|new| new.place == old.place && new.failure == old.failure);
                assert!(new.is_some_and(|new| new.state >= old.state), "{old:?}");
            }
            before = now;
        }
        assert!(before.iter().any(|mark| mark.state == Some(MemberState::Losing)));
    }

    #[test]
    fn one_member_is_named_and_several_are_counted() {
        let column = |x: &str| Place::Column { x: x.to_owned(), y: "B".to_owned(), storey: 2 };
        let words = verb(What::Yields, Failure::Flexure);
        assert_eq!(happening("column", &[column("3")], words), "column B-3 yields in bending");
        assert_eq!(happening("column", &[column("3"), column("4")], words), "2 columns yield in bending");
        let cracks = verb(What::Yields, Failure::Joint);
        assert_eq!(happening("joint", &[column("3")], cracks), "joint at column B-3 cracks");
    }
}
