//! Plan of a storey in a week of the works: which rooms are shut, handed back or hear the work, where
//! work goes on, what of the scheme stands.

use super::ground_plan::{Scale, draw_grid, draw_members, scale_to};
use super::room_plan::{bay_corners, draw_name, widest};
use super::{Drawing, Ink, PlanLook};
use sisterframe_core::model::Model;
use sisterframe_core::place::Place;
use sisterframe_core::project::Direction;
use sisterframe_core::units::System;
use sisterframe_core::works::RoomPlan;
use sisterframe_core::works::programme::{RoomState, Week};

/// Distance of a mark from the lines round its room, px.
const INSET_PX: f64 = 4.0;
/// Distance between the lines of a room that hears the work, px.
const NOISE_PX: f64 = 7.0;
/// Distance of the line of work outside from the face, m.
const OUTSIDE_M: f64 = 0.6;

/// A week of the works in plan.
#[derive(Clone, Copy, Debug)]
pub struct WeekPlan<'a> {
    /// The building with what of the scheme stands at the end of the week.
    pub standing: &'a Model,
    /// The building with the whole scheme, which the drawing leaves room for.
    pub whole: &'a Model,
    /// Its rooms.
    pub rooms: &'a RoomPlan<'a>,
    /// The week.
    pub week: &'a Week,
    /// Members worked at inside.
    pub inside: &'a [Place],
}

impl WeekPlan<'_> {
    /// The storey at a width and at most a height, px.
    pub fn storey(&self, storey: u32, width: f64, height: f64) -> Drawing {
        let (scale, high) = scale_to(self.whole, width, height);
        let look = PlanLook { storey, width, height, least_bay_px: 0.0, line: None, system: System::Si };
        let mut drawing = Drawing::new(width, high);
        draw_grid(&mut drawing, self.whole, scale, look);
        for (room, state) in self.week.rooms.iter().filter(|(room, _)| room.storey == storey) {
            let bays: Vec<[[f64; 2]; 2]> =
                self.rooms.bays(*room).map(|bay| bay_corners(self.whole, scale, bay)).collect();
            draw_room(&mut drawing, &bays, *state);
        }
        draw_members(&mut drawing, self.standing, scale, storey);
        for place in self.inside {
            if let Some(at) = self.middle(place, storey) {
                drawing.circle(Ink::Ring, scale.at(at), 4.0);
            }
        }
        self.draw_outside(&mut drawing, scale, storey);
        // Rooms of the grid are called by the lines round them, which are there to read.
        let named = self.week.rooms.iter().filter(|(room, _)| room.storey == storey && self.rooms.own(*room).is_some());
        for (room, _) in named {
            if let Some(corners) = widest(self.whole, self.rooms, scale, *room) {
                draw_name(&mut drawing, corners, true, &self.rooms.name(*room), None);
            }
        }
        drawing.words = format!("Plan of storey {storey}: {}", self.words(storey));
        drawing
    }

    /// How the rooms of a storey stand and where work goes on, in words.
    pub fn words(&self, storey: u32) -> String {
        let mut parts = Vec::new();
        for (state, what) in [
            (RoomState::Shut, "shut"),
            (RoomState::HandedBack, "handed back this week"),
            (RoomState::GivenBack, "worked in out of its hours"),
            (RoomState::Noisy, "in use beside the work"),
        ] {
            let own = self.week.rooms.iter().filter(|(room, own)| room.storey == storey && *own == state);
            let names: Vec<String> = own.map(|(room, _)| self.rooms.name(*room)).collect();
            if !names.is_empty() {
                parts.push(format!("{what} {}", names.join(", ")));
            }
        }
        let members = self.inside.iter().filter(|place| self.middle(place, storey).is_some()).count();
        match members {
            0 => {}
            1 => parts.push("work at one member inside".to_owned()),
            count => parts.push(format!("work at {count} members inside")),
        }
        let faces = self.faces(storey);
        if !faces.is_empty() {
            parts.push(format!("work outside on {}", faces.join(" and ")));
        }
        if parts.is_empty() { "in use as ever.".to_owned() } else { format!("{}.", parts.join("; ")) }
    }

    /// The middle of a column or panel of a storey, m.
    fn middle(&self, place: &Place, of: u32) -> Option<[f64; 2]> {
        let model = self.whole;
        match place {
            Place::Column { x, y, storey } if *storey == of => {
                let at = |lines: &[sisterframe_core::project::GridLine], name: &str| {
                    lines.iter().find(|line| line.name == name).map(|line| line.at_m)
                };
                Some([at(&model.x_lines, x)?, at(&model.y_lines, y)?])
            }
            Place::Panel { line, bay, storey } if *storey == of => Direction::BOTH.into_iter().find_map(|way| {
                let across = model.lines(way).iter().find(|own| own.name == *line)?.at_m;
                let along = model.along(way);
                let end = |at: u32| along.get(at as usize).map(|line| line.at_m);
                let middle = (end(bay.checked_sub(1)?)? + end(*bay)?) / 2.0;
                Some(if way == Direction::X { [middle, across] } else { [across, middle] })
            }),
            _ => None,
        }
    }

    /// Faces with work outside at a storey; footings count to the lowest.
    fn faces(&self, storey: u32) -> Vec<&str> {
        let mut faces: Vec<&str> = Vec::new();
        for place in &self.week.outside {
            let face = match place {
                Place::Slab { face, level } if *level == storey => face,
                Place::Footing { line } if storey == 1 => line,
                _ => continue,
            };
            if !faces.contains(&face.as_str()) {
                faces.push(face);
            }
        }
        faces
    }

    /// A dotted line beyond the frame that is being built.
    fn draw_outside(&self, drawing: &mut Drawing, scale: Scale, storey: u32) {
        let faces = self.faces(storey);
        for frame in self.whole.frames.iter().filter(|frame| faces.contains(&frame.spec.face.as_str())) {
            let (Some(&from), Some(&to)) = (frame.along_m.first(), frame.along_m.last()) else { continue };
            let across = frame.ordinate_m + frame.outward * (frame.spec.column_across_mm / 2000.0 + OUTSIDE_M);
            let [from, to] = [from, to].map(|along| match frame.direction {
                Direction::X => scale.at([along, across]),
                Direction::Y => scale.at([across, along]),
            });
            drawing.line(Ink::Dotted, from, to);
        }
    }
}

/// A room as it stands: shut with a frame and a cross, handed back with one stroke, dashed where it is
/// worked in out of its hours, upright lines
/// where the work is heard.
fn draw_room(drawing: &mut Drawing, bays: &[[[f64; 2]; 2]], state: RoomState) {
    let Some(first) = bays.first() else { return };
    let (mut low, mut high) = (first[0], first[1]);
    for [from, to] in bays {
        for axis in 0..2 {
            low[axis] = low[axis].min(from[axis]);
            high[axis] = high[axis].max(to[axis]);
        }
    }
    let (low, high) = (low.map(|at| at + INSET_PX), high.map(|at| at - INSET_PX));
    match state {
        RoomState::Open => {}
        RoomState::Noisy => {
            let mut x = low[0] + NOISE_PX / 2.0;
            while x < high[0] {
                drawing.line(Ink::Thin, [x, low[1]], [x, high[1]]);
                x += NOISE_PX;
            }
        }
        RoomState::GivenBack => drawing.rect(Ink::Moved, low, high),
        RoomState::HandedBack | RoomState::Shut => {
            for [from, to] in bays {
                drawing.rect(Ink::Track, *from, *to);
            }
            drawing.line(Ink::Thin, [low[0], high[1]], [high[0], low[1]]);
            if state == RoomState::Shut {
                drawing.line(Ink::Thin, low, high);
                drawing.rect(Ink::Pointed, low, high);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::ground_plan;
    use crate::sample;
    use sisterframe_core::project::Project;
    use sisterframe_core::works::programme::{Programme, of_scheme};
    use sisterframe_core::works::stages::done_by;

    fn count(drawing: &Drawing, wanted: Ink) -> usize {
        drawing.shapes.iter().filter(|shape| shape.ink == wanted).count()
    }

    /// Shapes of added work.
    fn added(drawing: &Drawing) -> usize {
        count(drawing, Ink::Added) + count(drawing, Ink::AddedThin)
    }

    /// Draws every storey in a week of a programme and gives it with the week.
    fn drawn(project: &Project, scheme: usize, programme: &Programme, week: usize) -> (Vec<Drawing>, Week) {
        let scheme = &project.schemes[scheme];
        let times = project.working_times.clone().expect("the school has a calendar");
        let whole = Model::new(&project.building, scheme);
        let rooms = RoomPlan::new(&whole, &project.building);
        let own = programme.week(week, &rooms, &times.calendar().expect("a calendar"), &times.rules());
        let standing = Model::new(&project.building, &done_by(&project.building, scheme, programme, own.last));
        let plan = WeekPlan { standing: &standing, whole: &whole, rooms: &rooms, week: &own, inside: &[] };
        let storeys = 1..=project.building.storeys.len() as u32;
        (storeys.map(|storey| plan.storey(storey, 540.0, 300.0)).collect(), own)
    }

    #[test]
    fn every_room_is_drawn_as_it_stands_and_added_work_once_it_is_done() {
        let project = sample::project(include_str!("../../../demo-scenarios/school.json"));
        let times = project.working_times.clone().expect("the school has a calendar");
        for scheme in 0..project.schemes.len() {
            let programme = of_scheme(&project, &project.schemes[scheme], &times).remove(1);
            let (mut before, mut seen) = (0, 0);
            for week in 0..programme.week_count() {
                let (drawings, own) = drawn(&project, scheme, &programme, week);
                let shut = own.rooms.iter().filter(|(_, state)| *state == RoomState::Shut).count();
                let framed: usize = drawings.iter().map(|drawing| count(drawing, Ink::Pointed)).sum();
                assert_eq!(framed, shut, "scheme {scheme}, week {week}");
                let added = drawings.iter().map(added).sum();
                assert!(added >= before, "what is done stays: scheme {scheme}, week {week}");
                (before, seen) = (added, seen + shut);
                for shape in drawings.iter().flat_map(|drawing| &drawing.shapes) {
                    if let super::super::Mark::Rect { x, y, w, h } = shape.mark {
                        assert!(x >= 0.0 && y >= 0.0 && x + w <= 540.0 && y + h <= 300.5, "{shape:?}");
                    }
                }
            }
            let (first, _) = drawn(&project, scheme, &programme, 0);
            assert_eq!(count(&first[0], Ink::Added), 0, "nothing is done in the first week of scheme {scheme}");
            // In the end it is the plan of the whole scheme; one that only cuts gaps adds nothing to it.
            let whole = Model::new(&project.building, &project.schemes[scheme]);
            let all: usize = (1..=project.building.storeys.len() as u32)
                .map(|storey| {
                    let look = PlanLook {
                        storey,
                        width: 540.0,
                        height: 300.0,
                        least_bay_px: 0.0,
                        line: None,
                        system: System::Si,
                    };
                    added(&ground_plan(&whole, look, [None, None]))
                })
                .sum();
            assert_eq!(before, all, "scheme {scheme}");
            assert!(seen > 0 || programme.closures.is_empty(), "scheme {scheme} shuts rooms");
        }
    }

    #[test]
    fn a_line_goes_along_the_face_that_is_worked_at_from_outside() {
        let project = sample::project(include_str!("../../../demo-scenarios/school.json"));
        let times = project.working_times.clone().expect("the school has a calendar");
        let scheme = project.schemes.iter().position(|own| !Model::new(&project.building, own).frames.is_empty());
        let scheme = scheme.expect("the school has a scheme with an external frame");
        let programme = of_scheme(&project, &project.schemes[scheme], &times).remove(1);
        let mut seen = 0;
        for week in 0..programme.week_count() {
            let (drawings, own) = drawn(&project, scheme, &programme, week);
            for (drawing, storey) in drawings.iter().zip(1..) {
                let at = |place: &Place| match place {
                    Place::Slab { level, .. } => *level == storey,
                    Place::Footing { .. } => storey == 1,
                    _ => false,
                };
                let outside = own.outside.iter().any(at);
                assert_eq!(count(drawing, Ink::Dotted) > 0, outside, "week {week}, storey {storey}");
                assert_eq!(drawing.words.contains("work outside"), outside);
                seen += usize::from(outside);
            }
        }
        assert!(seen > 0);
    }
}
