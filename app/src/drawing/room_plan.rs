//! Plan of a storey with its rooms by name, each of which can be pointed at.

use super::ground_plan::{Scale, draw_grid, draw_members, scale_to};
use super::{Anchor, Drawing, FINGER_PX, Ink, PlanLook, Target};
use sisterframe_core::model::Model;
use sisterframe_core::project::Direction;
use sisterframe_core::works::{Room, RoomPlan};

/// Distance of what can be touched from the lines round a room, px.
const INSET_PX: f64 = 2.0;
/// Width of a letter of small text and height of a line of it, px.
const LETTER_PX: f64 = 6.9;
const LINE_PX: f64 = 14.0;
/// Room left beside a name, px.
const BESIDE_PX: f64 = 10.0;

/// The rooms of a storey at a width and at most a height, larger where a finger needs it.
pub fn room_plan(model: &Model, plan: &RoomPlan<'_>, look: PlanLook) -> Drawing {
    let look = PlanLook { least_bay_px: look.least_bay_px.max(FINGER_PX), ..look }.widened(model);
    let (scale, height) = scale_to(model, look.width, look.height);
    let mut drawing = Drawing::new(look.width, height);
    draw_grid(&mut drawing, model, scale, look);
    let mut rooms: Vec<Room> = plan.all().into_iter().chain(plan.ways_out()).collect();
    rooms.retain(|room| room.storey == look.storey);
    sisterframe_core::order::sort_by(&mut rooms, Room::cmp);
    for room in &rooms {
        draw_walls(&mut drawing, model, plan, scale, *room);
    }
    draw_members(&mut drawing, model, scale, look.storey);
    let mut told = Vec::with_capacity(rooms.len());
    for room in &rooms {
        let Some([low, high]) = widest(model, plan, scale, *room) else { continue };
        let (name, kind) = (plan.name(*room), plan.kind(*room).map(|kind| kind.label()));
        draw_name(&mut drawing, [low, high], plan.own(*room).is_some(), &name, kind);
        let size = [0, 1].map(|axis| high[axis] - low[axis] - 2.0 * INSET_PX);
        let corner = low.map(|at| at + INSET_PX);
        let words = kind.map_or_else(|| format!("Room {name}"), |kind| format!("Room {name}, {kind}"));
        drawing.targets.push(Target {
            pick: (*room).into(),
            name: format!("{words}, storey {}", room.storey),
            corner,
            size,
            round: false,
        });
        told.push(kind.map_or_else(|| name.clone(), |kind| format!("{name} ({kind})")));
    }
    drawing.words = format!("Rooms of storey {}: {}.", look.storey, told.join(", "));
    drawing
}

/// Corners of a bay, px: the upper left and the lower right.
pub(super) fn bay_corners(model: &Model, scale: Scale, (strip, bay): (u32, u32)) -> [[f64; 2]; 2] {
    let end = |way: Direction, at: u32| model.along(way).get(at as usize).map_or(0.0, |line| line.at_m);
    let corner = |bay: u32, strip: u32| scale.at([end(Direction::X, bay), end(Direction::Y, strip)]);
    [corner(bay - 1, strip), corner(bay, strip - 1)]
}

/// Lines where a room ends.
fn draw_walls(drawing: &mut Drawing, model: &Model, plan: &RoomPlan<'_>, scale: Scale, room: Room) {
    let own: Vec<(u32, u32)> = plan.bays(room).collect();
    for (strip, bay) in &own {
        let [[left, top], [right, bottom]] = bay_corners(model, scale, (*strip, *bay));
        for (beside, from, to) in [
            ((*strip, bay + 1), [right, top], [right, bottom]),
            ((strip + 1, *bay), [left, top], [right, top]),
            ((*strip, bay - 1), [left, top], [left, bottom]),
            ((strip - 1, *bay), [left, bottom], [right, bottom]),
        ] {
            if !own.contains(&beside) {
                drawing.line(Ink::Thin, from, to);
            }
        }
    }
}

/// The largest rectangle of a room that takes all its bays of some strips, px; the whole room where it
/// is a rectangle.
pub(super) fn widest(model: &Model, plan: &RoomPlan<'_>, scale: Scale, room: Room) -> Option<[[f64; 2]; 2]> {
    // Runs of bays in a strip, those above each other that are alike as one: strips, then bays.
    let mut runs: Vec<[[u32; 2]; 2]> = Vec::new();
    for (strip, bay) in plan.bays(room) {
        match runs.last_mut() {
            Some([[_, own], [_, last]]) if *own == strip && *last + 1 == bay => *last = bay,
            _ => runs.push([[strip; 2], [bay; 2]]),
        }
    }
    let mut joined: Vec<[[u32; 2]; 2]> = Vec::new();
    for run in runs {
        match joined.iter_mut().find(|own| own[1] == run[1] && own[0][1] + 1 == run[0][0]) {
            Some(own) => own[0][1] = run[0][1],
            None => joined.push(run),
        }
    }
    let boxes = joined.into_iter().map(|[strips, bays]| {
        let [[left, _], [_, bottom]] = bay_corners(model, scale, (strips[0], bays[0]));
        let [[_, top], [right, _]] = bay_corners(model, scale, (strips[1], bays[1]));
        [[left, top], [right, bottom]]
    });
    let area = |own: &[[f64; 2]; 2]| (own[1][0] - own[0][0]) * (own[1][1] - own[0][1]);
    boxes.max_by(|one, other| area(one).total_cmp(&area(other)))
}

/// The name of a room, and what it is for where that is told, as far as there is room for them.
pub(super) fn draw_name(drawing: &mut Drawing, [low, high]: [[f64; 2]; 2], own: bool, name: &str, kind: Option<&str>) {
    let letters = ((high[0] - low[0] - BESIDE_PX) / LETTER_PX).max(0.0) as usize;
    let lines = ((high[1] - low[1] - 4.0) / LINE_PX).max(0.0) as usize;
    let mut text: Vec<(String, bool)> = wrapped(name, letters, lines).into_iter().map(|line| (line, own)).collect();
    if let Some(kind) = kind.filter(|kind| text.len() < lines && kind.len() <= letters && *kind != name) {
        text.push((kind.to_owned(), false));
    }
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let first = middle[1] - LINE_PX * (text.len() as f64 - 1.0) / 2.0 + 4.0;
    for ((line, own), at) in text.into_iter().zip(0..) {
        let ink = if own { Ink::Text } else { Ink::Small };
        drawing.text(ink, [middle[0], first + LINE_PX * f64::from(at)], Anchor::Middle, line);
    }
}

/// Words in at most so many lines of so many letters, cut where they do not fit.
fn wrapped(text: &str, letters: usize, lines: usize) -> Vec<String> {
    if letters < 3 || lines == 0 {
        return Vec::new();
    }
    let count = |text: &str| text.chars().count();
    let mut all: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match all.last_mut() {
            Some(line) if count(line) + 1 + count(word) <= letters => {
                line.push(' ');
                line.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
    }
    let more = all.len() > lines;
    all.truncate(lines);
    let last = all.len() - 1;
    for (at, line) in all.iter_mut().enumerate() {
        let is_cut = more && at == last;
        if count(line) > letters || (is_cut && count(line) == letters) {
            *line = line.chars().take(letters - 1).collect();
            line.push('…');
        } else if is_cut {
            line.push('…');
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Mark;
    use crate::sample;
    use sisterframe_core::project::{OwnRoom, RoomDays, RoomKind, Span};
    use sisterframe_core::units::System;

    fn look(storey: u32, width: f64) -> PlanLook {
        PlanLook { storey, width, height: 420.0, least_bay_px: 0.0, line: None, system: System::Si }
    }

    #[test]
    fn every_room_can_be_pointed_at_and_none_lies_over_another() {
        for text in [sample::CLINIC, include_str!("../../../demo-scenarios/school.json")] {
            let mut project = sample::project(text);
            project.building.rooms.own.push(OwnRoom {
                name: "Stair at the north end".to_owned(),
                kind: RoomKind::Stair,
                storey: 1,
                strips: Span { first: 1, last: 1 },
                bays: Span { first: 2, last: 2 },
                zone: String::new(),
                days: RoomDays::Building,
                hours: None,
            });
            assert_eq!(project.check(), Ok(()));
            let model = Model::new(&project.building, &sample::bare());
            let plan = RoomPlan::new(&model, &project.building);
            for (storey, width) in
                (1..=project.building.storeys.len() as u32).flat_map(|own| [(own, 540.0), (own, 330.0)])
            {
                let drawing = room_plan(&model, &plan, look(storey, width));
                let rooms = plan.all().into_iter().chain(plan.ways_out()).filter(|room| room.storey == storey).count();
                assert_eq!(drawing.targets.len(), rooms);
                assert!(storey > 1 || drawing.words.contains("Stair at the north end (stair)"));
                for (at, one) in drawing.targets.iter().enumerate() {
                    assert!(one.size.iter().all(|size| *size >= FINGER_PX - 2.0 * INSET_PX - 0.01), "{one:?}");
                    for other in &drawing.targets[..at] {
                        let apart = (0..2).any(|axis| {
                            one.corner[axis] + one.size[axis] <= other.corner[axis]
                                || other.corner[axis] + other.size[axis] <= one.corner[axis]
                        });
                        assert!(apart, "{} lies over {}", one.name, other.name);
                    }
                }
                for shape in &drawing.shapes {
                    if let Mark::Text { at, .. } = &shape.mark {
                        assert!((0.0..=drawing.width).contains(&at[0]) && (0.0..=drawing.height).contains(&at[1]));
                    }
                }
            }
        }
    }

    #[test]
    fn names_are_wrapped_and_cut() {
        assert_eq!(wrapped("A–B / 1–3", 12, 2), ["A–B / 1–3"]);
        assert_eq!(wrapped("A–B / 1–3", 6, 2), ["A–B /", "1–3"]);
        assert_eq!(wrapped("Physiotherapy", 6, 2), ["Physi…"]);
        assert_eq!(wrapped("Room of the first form", 8, 2), ["Room of", "the…"]);
        assert!(wrapped("Hall", 2, 2).is_empty());
    }
}
