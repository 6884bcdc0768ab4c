//! The section at the place pointed at, with what acts on it following once curves are there.

use super::is_narrow;
use super::section_html::{self as written, Shown};
use crate::chart::{Acting, capacity_of};
use crate::view::View;
use leptos::prelude::*;
use sisterframe_core::evaluate::{self, Upright};
use sisterframe_core::fitting::Spot;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::pushover::EndMoments;
use sisterframe_core::section_view::section_view;
use sisterframe_core::study::{OptionKind, OptionResult};
use std::sync::Arc;
use std::time::Duration;

/// How long the page has to be at rest before the building is pushed for one member.
const REST: Duration = Duration::from_millis(250);

/// What is looked at: a place, a direction and an option.
type Question = (Spot, Direction, OptionKind);

/// Moments at the ends of what is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    /// Still to come.
    Coming,
    /// Nothing can be pushed.
    Withheld,
    /// Found.
    Moments(EndMoments),
}

/// The viewer's state; cheap to copy.
#[derive(Clone, Copy)]
pub struct Viewing {
    view: View,
    narrow: RwSignal<bool>,
    found: RwSignal<Found>,
    /// Counts the questions asked; an answer to an older one is dropped.
    asked: StoredValue<u32>,
}

impl Viewing {
    /// State that follows what is pointed at.
    pub fn new(view: View) -> Self {
        let own = Self { view, narrow: is_narrow(), found: RwSignal::new(Found::Coming), asked: StoredValue::new(0) };
        Effect::new(move |before: Option<(Option<Question>, Arc<Project>)>| {
            // Every new result asks anew: what acts follows from it.
            view.study.track();
            let (question, project) = (own.question(), view.project.get());
            own.asked.update_value(|count| *count = count.wrapping_add(1));
            let asked = own.asked.get_value();
            // Results that only come in one after the other leave what is found until they tell otherwise.
            if !before.is_some_and(|(own, of)| own == question && Arc::ptr_eq(&of, &project)) {
                own.found.set(Found::Coming);
            }
            if question.is_some() {
                set_timeout(move || own.push(asked), REST);
            }
            (question, project)
        });
        own
    }

    fn question(self) -> Option<Question> {
        let option = match self.view.option.get() {
            OptionKind::Rebuild => OptionKind::AsItStands,
            option => option,
        };
        let spot = self.view.spot.get()?;
        let direction = match spot {
            Spot::Bay { direction, .. } => direction,
            _ => self.view.direction.get(),
        };
        Some((spot, direction, option))
    }

    /// Pushes the option for the one member.
    fn push(self, asked: u32) {
        // The sheet may be gone, or something else looked at, by now.
        if self.asked.try_get_value() != Some(asked) {
            return;
        }
        let Some((spot, direction, kind)) = untrack(|| self.question()) else { return };
        let project = self.view.project.get_untracked();
        let push = self.view.study.with_untracked(|study| {
            let option = study.options.iter().find(|option| option.kind == kind)?;
            let curve = capacity_of(option, direction)?.governing();
            (!option.pending).then_some(((curve.curve.pattern, curve.curve.towards_higher), curve.point.roof_mm))
        });
        let pending =
            self.view.study.with_untracked(|study| study.options.iter().any(|own| own.kind == kind && own.pending));
        if pending {
            return;
        }
        let moments = push.and_then(|(push, roof_mm)| {
            let view = section_view(&project, kind, spot, direction)?;
            evaluate::end_moments(&project, kind, direction, view.upright, push, roof_mm)
        });
        self.found.set(moments.map_or(Found::Withheld, Found::Moments));
    }

    /// The viewer as markup; nothing where no column or wall is pointed at.
    pub fn html(self) -> String {
        let Some((spot, direction, kind)) = self.question() else { return String::new() };
        let view = self.view;
        view.project.with(|project| {
            let Some(section) = section_view(project, kind, spot, direction) else { return String::new() };
            let found = self.found.get();
            let letter = view.study.with(|study| {
                let option = study.options.iter().find(|option| option.kind == kind);
                option.map_or_else(String::new, |option| option.letter.clone())
            });
            let shown = Shown {
                view: &section,
                name: spot.name(&project.building.x_lines, &project.building.y_lines),
                is_bay: matches!(spot, Spot::Bay { .. }),
                letter,
                own_rules: project.rules.key(),
                acting: acting(found, section.upright),
                pushed_kn: view.study.with(|study| {
                    let option = study.options.iter().find(|option| option.kind == kind)?;
                    pushed_kn(option, project, direction, section.upright)
                }),
                found,
                system: view.system.get(),
                narrow: self.narrow.get(),
            };
            written::viewer(&shown)
        })
    }
}

/// Least and most axial force of a column as its frame is pushed over, kN.
fn pushed_kn(option: &OptionResult, project: &Project, direction: Direction, upright: Upright) -> Option<[f64; 2]> {
    let Upright::Column { line, end, storey } = upright else { return None };
    let (ix, iy) = if direction == Direction::X { (end, line) } else { (line, end) };
    let building = &project.building;
    let place =
        Place::Column { x: building.x_lines.get(ix)?.name.clone(), y: building.y_lines.get(iy)?.name.clone(), storey };
    let result = option.directions.iter().find(|own| own.along_x == (direction == Direction::X))?;
    let members = &result.storeys.get(storey as usize - 1)?.members;
    members.iter().find(|member| member.place == place)?.axial_range_kn()
}

/// Moments as the chart places them: at the foot what resists a drift towards higher ordinates
/// compresses that side, at the head the other. Of a wall only the foot is told: its head is held by
/// the wall above.
fn acting(found: Found, upright: Upright) -> Vec<Acting> {
    let Found::Moments(moments) = found else { return Vec::new() };
    let ends: &[(usize, &'static str, f64)] = match upright {
        Upright::Column { .. } => &[(0, "foot", 1.0), (1, "head", -1.0)],
        Upright::Wall { .. } => &[(0, "foot", 1.0)],
    };
    let of = |values: [f64; 2], at_demand: bool| {
        ends.iter().map(move |&(end, name, sign)| Acting { end: name, at_demand, moment_knm: sign * values[end] })
    };
    of(moments.first_yield, false).chain(moments.at_roof.into_iter().flat_map(|values| of(values, true))).collect()
}
