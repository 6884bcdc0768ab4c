//! Corridors and stairs that works stand in, and walls across them.

use super::quantities::take_off;
use super::rooms::{Room, RoomPlan};
use crate::finding::{Code, Finding};
use crate::model::{Model, PanelOrigin};
use crate::place::Place;
use crate::project::Building;

/// What is to be said of ways out: work that stands in them for a time, and walls without an
/// opening that shut them for good.
pub fn ways_out(model: &Model, building: &Building) -> Vec<Finding> {
    let plan = RoomPlan::new(model, building);
    let mut findings = Vec::new();
    for panel in &model.panels {
        let walled = matches!(panel.origin, PanelOrigin::Infill(_)) && panel.opening.is_none();
        if !walled {
            continue;
        }
        if let Some(way) = plan.way_across(panel.direction, panel.line, panel.bay, panel.storey) {
            let place = model.panel_place(panel.direction, panel.line, panel.bay, panel.storey);
            let name = &model.lines(panel.direction)[panel.line].name;
            let detail = format!("line {name}, bay {}, across {} of storey {}", panel.bay, plan.name(way), way.storey);
            findings.push(Finding::new(Code::WayOutWalled, place, detail));
        }
    }
    let mut storeys: Vec<(String, Vec<u32>)> = Vec::new();
    let mut ways: Vec<Room> = take_off(model, building).into_iter().flat_map(|member| member.ways_out).collect();
    crate::order::sort_by(&mut ways, Room::cmp);
    ways.dedup();
    for way in ways {
        let name = plan.name(way);
        match storeys.iter_mut().find(|(own, _)| *own == name) {
            Some((_, of)) => of.push(way.storey),
            None => storeys.push((name, vec![way.storey])),
        }
    }
    for (name, of) in storeys {
        let word = if of.len() == 1 { "storey" } else { "storeys" };
        let of = of.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        findings.push(Finding::new(Code::WayOutWorkedIn, Place::Building, format!("{name}, {word} {of}")));
    }
    findings
}
