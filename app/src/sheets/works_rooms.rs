//! Rooms on the Works sheet: their plan, and the panel of the one chosen.

use super::works_rooms_html as written;
use super::{Block, attribute, is_narrow, model_of, pointing};
use crate::drawing::{FINGER_PX, PlanLook, room_plan};
use crate::live::{on, part_while, value_of, whether};
use crate::store::{Choice, RoomEdit};
use crate::view::View;
use leptos::ev::{Event, MouseEvent};
use leptos::prelude::*;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, RoomKind};
use sisterframe_core::works::programme::{Closure, Pace};
use sisterframe_core::works::{Room, RoomPlan};

/// Width and greatest height of the plan, px, with room and without.
const PLAN_PX: [[f64; 2]; 2] = [[560.0, 440.0], [340.0, 420.0]];
/// The least length of a bay on a narrow page, px: room for a finger and for a short name.
const LEAST_BAY_PX: [f64; 2] = [FINGER_PX, 34.0];

/// When rooms are shut at the pace looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Shut {
    /// The pace.
    pub pace: Pace,
    /// Rooms with their closures.
    pub closures: Vec<(Room, Closure)>,
}

/// A refused entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// Of which room.
    pub room: Room,
    /// The field it stands in.
    pub field: &'static str,
    /// As typed.
    pub text: String,
    /// Why.
    pub why: String,
}

/// The plan of rooms and the panel of the one chosen.
#[component]
pub fn Rooms(
    /// When rooms are shut; none where there is no programme.
    shut: Memo<Option<Shut>>,
) -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let model = Memo::new(move |_| view.project.with(|project| model_of(project, view.option.get())));
    let refused = RwSignal::new(None::<Refused>);
    // The room a bay pointed at lies in.
    let chosen = Memo::new(move |_| {
        let at = view.room.get()?;
        with_plan(view, model, |plan| plan.at(at.storey, at.strip, at.bay))
    });
    // Merged and divided rooms are called by another bay.
    Effect::new(move |_| {
        let own = chosen.get();
        if own.is_some() && own != view.room.get_untracked() {
            view.choose.run(Choice::Room(own));
        }
    });
    let plan = Memo::new(move |_| {
        let size = PLAN_PX[usize::from(narrow.get())];
        let storey = view.floor.get().unwrap_or(1);
        let look = PlanLook {
            storey,
            width: size[0],
            height: size[1],
            least_bay_px: LEAST_BAY_PX[usize::from(narrow.get())],
            line: None,
            system: view.system.get(),
        };
        let storeys = view.project.with(|project| project.building.storeys.len() as u32);
        let drawing = with_plan(view, model, |plan| model.with(|model| room_plan(model, plan, look)));
        written::plan(&drawing, storeys, storey, chosen.get())
    });
    let form = Memo::new(move |_| {
        let Some(room) = chosen.get() else { return String::new() };
        let refused = refused.get().filter(|own| own.room == room);
        with_plan(view, model, |plan| {
            model.with(|model| written::form(plan, model, room, refused.as_ref(), view.system.get()))
        })
    });
    let when = Memo::new(move |_| {
        let Some(room) = chosen.get() else { return String::new() };
        let is_way_out = with_plan(view, model, |plan| plan.kind(room).is_some_and(RoomKind::is_way_out));
        shut.with(|shut| written::when_shut(room, is_way_out, shut.as_ref()))
    });
    let edit = move |field: &'static str, text: String, edit: RoomEdit| {
        let Some(room) = chosen.get_untracked() else { return };
        match view.arrange.run((room, edit)) {
            Some(why) => refused.set(Some(Refused { room, field, text, why })),
            None => {
                refused.set(None);
                // What had the keyboard may be gone with what it did.
                request_animation_frame(|| {
                    request_animation_frame(|| {
                        let lost = document().active_element().is_none_or(|own| own.tag_name() == "BODY");
                        if let Some(head) = document().get_element_by_id(written::HEAD).filter(|_| lost) {
                            pointing::focus(&head);
                        }
                    });
                });
            }
        }
    };
    let changed = move |event: Event| {
        let Some(target) = event.target() else { return };
        let Some(id) = attribute(Some(target.clone()), "id") else { return };
        let text = value_of(&target).trim().to_owned();
        let Some(field) = written::FIELDS.into_iter().find(|field| *field == id) else { return };
        let wanted = match field {
            written::NAME => RoomEdit::Name(text.clone()),
            written::ZONE => RoomEdit::Zone(text.clone()),
            written::HOURS => RoomEdit::Hours(text.clone()),
            written::DAYS => match written::ALL_DAYS.into_iter().find(|days| days.key() == text) {
                Some(days) => RoomEdit::Days(days),
                None => return,
            },
            _ => match written::KINDS.into_iter().find(|kind| kind.key() == text) {
                Some(kind) => RoomEdit::Kind(kind),
                None => return,
            },
        };
        edit(field, text, wanted);
    };
    let clicked = move |event: MouseEvent| {
        let Some(asked) = attribute(event.target(), "data-room") else { return };
        let parts: Vec<&str> = asked.split(':').collect();
        let number = |text: &str| text.parse::<u32>().ok();
        let wanted = match parts[..] {
            ["merge", storey, strip, bay] => number(storey)
                .zip(number(strip))
                .zip(number(bay))
                .map(|((storey, strip), bay)| RoomEdit::Merge(Room { storey, strip, bay })),
            ["divide", way, line] => {
                let way = if way == "x" { Direction::X } else { Direction::Y };
                number(line).map(|line| RoomEdit::Divide(way, line))
            }
            ["every-storey"] => Some(RoomEdit::InEveryStorey),
            ["back"] => Some(RoomEdit::Back),
            _ => None,
        };
        if let Some(wanted) = wanted {
            edit(written::DOINGS, String::new(), wanted);
        }
    };
    let panel = move || {
        view! {
            <section id="room-panel" class="spot" aria-labelledby=written::HEAD>
                <Block html=form/>
                <Block html=when/>
            </section>
        }
        .into_any()
    };
    view! {
        <div class="works-rooms" on:click=on(clicked) on:change=on(changed)>
            <div class="side-by-side">
                <Block html=plan class="plan-of-rooms"/>
                <div class="spot-cell">{part_while(whether(move || chosen.get().is_some()), panel)}</div>
            </div>
        </div>
    }
}

/// Reads the plan of rooms of the project shown.
fn with_plan<T>(view: View, model: Memo<Model>, read: impl FnOnce(&RoomPlan<'_>) -> T) -> T {
    view.project.with(|project| model.with(|model| read(&RoomPlan::new(model, &project.building))))
}
