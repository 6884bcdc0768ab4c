//! Pointing at the places of a drawing: arrow keys lead from one to the next, Enter picks, Escape
//! lets go, and what is picked stays where it was on the screen.

use super::block::{clicked, room_code, spot_code};
use crate::store::{Choice, Sheet};
use crate::view::View;
use leptos::ev::KeyboardEvent;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// Room a panel must have at the foot of the window to be seen, px.
const SEEN_PX: f64 = 180.0;
/// Room left beside what is brought in from the side, px.
const MARGIN_PX: f64 = 14.0;
/// Room left above what is pointed at, px.
const ABOVE_PX: f64 = 64.0;

/// Panels of what is pointed at: places of the building, rooms.
const PANELS: &str = "#spot-panel, #room-panel";

/// The panel of what is pointed at on the sheet turned up.
fn panel_id(view: View) -> &'static str {
    if view.sheet.get_untracked() == Sheet::Works { "room-panel" } else { "spot-panel" }
}

/// What is pointed at on the sheet turned up, in markup, and the choice that lets it go.
fn pointed_at(view: View) -> Option<(String, Choice)> {
    if view.sheet.get_untracked() == Sheet::Works {
        return view.room.get_untracked().map(|room| (room_code(room), Choice::Room(None)));
    }
    view.spot.get_untracked().map(|spot| (spot_code(spot), Choice::Spot(None)))
}

/// Puts back what a field held where something was typed into it; false where nothing was.
fn typing_undone(target: &Element) -> bool {
    let Some(field) = target.dyn_ref::<HtmlInputElement>() else { return false };
    let typed = field.value() != field.default_value();
    field.set_value(&field.default_value());
    typed
}

/// Carries out a key pressed inside a block.
pub fn key(view: View, event: &KeyboardEvent) {
    let Some(target) = event.target().and_then(|target| target.dyn_into::<Element>().ok()) else { return };
    if event.ctrl_key() || event.meta_key() || event.alt_key() {
        return;
    }
    let nearest = |selector: &str| target.closest(selector).ok().flatten();
    let place = nearest("[data-spot]");
    match (event.key().as_str(), place) {
        ("ArrowLeft", Some(place)) => lead(&place, [-1.0, 0.0]),
        ("ArrowRight", Some(place)) => lead(&place, [1.0, 0.0]),
        ("ArrowUp", Some(place)) => lead(&place, [0.0, -1.0]),
        ("ArrowDown", Some(place)) => lead(&place, [0.0, 1.0]),
        ("Enter" | " ", Some(place)) => clicked(view, &place),
        ("Escape", None) if typing_undone(&target) => {}
        ("Escape", place) if place.is_some() || nearest(PANELS).is_some() => {
            // A note that is open closes first.
            let noted = document().query_selector(":popover-open").ok().flatten().is_some();
            let Some((code, let_go)) = pointed_at(view).filter(|_| !noted) else { return };
            if place.is_none() {
                focus_on(&format!("[data-spot=\"{code}\"]"));
            }
            view.choose.run(let_go);
        }
        _ => return,
    }
    event.prevent_default();
}

/// Gives the keyboard to the first element of a kind.
fn focus_on(selector: &str) {
    if let Ok(Some(element)) = document().query_selector(selector) {
        focus(&element);
    }
}

/// Gives the keyboard to an element; parts of a drawing take it as other elements do.
pub fn focus(element: &Element) {
    make_stop(element);
    let _ = element.unchecked_ref::<HtmlElement>().focus();
}

fn places(element: &Element) -> Vec<Element> {
    let svg = element.closest("svg").ok().flatten();
    let list = svg.and_then(|svg| svg.query_selector_all("[data-spot]").ok());
    let count = list.as_ref().map_or(0, web_sys::NodeList::length);
    (0..count).filter_map(|index| list.as_ref()?.get(index)?.dyn_into().ok()).collect()
}

/// Makes a place of a drawing the one the Tab key stops at.
fn make_stop(element: &Element) {
    if !element.has_attribute("data-spot") {
        return;
    }
    for other in places(element) {
        let _ = other.set_attribute("tabindex", if other == *element { "0" } else { "-1" });
    }
}

fn centre(element: &Element) -> [f64; 2] {
    let rect = element.get_bounding_client_rect();
    [rect.left() + rect.width() / 2.0, rect.top() + rect.height() / 2.0]
}

/// Leads the keyboard on to the next place in a direction.
fn lead(from: &Element, way: [f64; 2]) {
    let all = places(from);
    let centres: Vec<[f64; 2]> = all.iter().map(centre).collect();
    if let Some(next) = next_place(centre(from), &centres, way).and_then(|place| all.get(place)) {
        focus(next);
    }
}

/// The place met first in a direction: near ahead, and little to the side.
pub fn next_place(from: [f64; 2], all: &[[f64; 2]], way: [f64; 2]) -> Option<usize> {
    let mut best: Option<(f64, usize)> = None;
    for (index, to) in all.iter().enumerate() {
        let by = [to[0] - from[0], to[1] - from[1]];
        let ahead = by[0] * way[0] + by[1] * way[1];
        let aside = (by[0] * way[1]).abs() + (by[1] * way[0]).abs();
        // Less than a pixel is the same place.
        if ahead < 1.0 || aside > 1.5 * ahead {
            continue;
        }
        let far = ahead + 4.0 * aside;
        if best.is_none_or(|(own, _)| far < own) {
            best = Some((far, index));
        }
    }
    best.map(|(_, index)| index)
}

/// Picks a place. What is written anew above it does not move it on the screen, and its panel is
/// brought into sight.
pub fn pick(view: View, choice: Choice, element: &Element) {
    // A panel that closes gives the keyboard back to its place on the drawing.
    if let Some((code, _)) = pointed_at(view).filter(|own| own.1 == choice && !element.has_attribute("data-spot")) {
        focus_on(&format!("[data-spot=\"{code}\"]"));
    }
    let (id, before) = (element.id(), element.get_bounding_client_rect().top());
    view.choose.run(choice);
    request_animation_frame(move || {
        let top = |id: &str| document().get_element_by_id(id).map(|element| element.get_bounding_client_rect().top());
        let scroll = |by: f64| window().scroll_by_with_x_and_y(0.0, by);
        let Some(now) = top(&id) else { return };
        scroll(now - before);
        if let Some(element) = document().get_element_by_id(&id) {
            bring_in(&element);
        }
        let height = window_height();
        match top(panel_id(view)) {
            Some(panel) if panel > height - SEEN_PX => scroll((panel - 0.55 * height).min(before - ABOVE_PX).max(0.0)),
            Some(panel) if panel < 0.0 && before > 0.5 * height => {
                scroll((panel - ABOVE_PX).max(before - height + SEEN_PX))
            }
            _ => {}
        }
    });
}

fn window_height() -> f64 {
    window().inner_height().ok().and_then(|height| height.as_f64()).unwrap_or(0.0)
}

/// Gives the keyboard to what was turned to, in the upper part of the window.
pub fn arrive(selector: String) {
    request_animation_frame(move || {
        focus_on(&selector);
        bring_up(&selector, |_, _| true);
    });
}

/// Scrolls an element to the upper part of the window where its top, of a window so high, asks for it.
fn bring_up(selector: &str, wanted: impl Fn(f64, f64) -> bool) {
    let Ok(Some(element)) = document().query_selector(selector) else { return };
    let (top, height) = (element.get_bounding_client_rect().top(), window_height());
    if wanted(top, height) {
        window().scroll_by_with_x_and_y(0.0, top - (0.3 * height).min(4.0 * ABOVE_PX));
    }
}

/// Opens a connection: on its sheet the keyboard stays in the list, from elsewhere it goes to it.
pub fn open_joint(view: View, choice: Choice) {
    let from_elsewhere = view.sheet.get_untracked() != Sheet::Connections;
    view.choose.run(choice);
    if from_elsewhere {
        arrive("#joints-show".to_owned());
    } else {
        // Below the list it would not be seen.
        request_animation_frame(|| bring_up(".joint-detail", |top, height| top > height - SEEN_PX));
    }
}

/// Scrolls a wide drawing sideways until an element is whole.
fn bring_in(element: &Element) {
    let Some(scroller) = element.closest(".scroller").ok().flatten() else { return };
    let (inner, outer) = (element.get_bounding_client_rect(), scroller.get_bounding_client_rect());
    let past = (inner.right() + MARGIN_PX - outer.right()).max(0.0);
    let short = (outer.left() - inner.left() + MARGIN_PX).max(0.0);
    let by = if past > 0.0 { past } else { -short };
    scroller.set_scroll_left(scroller.scroll_left() + by.round() as i32);
}

#[cfg(test)]
mod tests {
    use super::next_place;
    use crate::drawing::{Drawing, PlanLook, ground_plan, line_elevation};
    use crate::sample;
    use sisterframe_core::model::Model;
    use sisterframe_core::project::Direction;
    use sisterframe_core::units::System;

    const WAYS: [[f64; 2]; 4] = [[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]];

    fn centres(drawing: &Drawing) -> Vec<[f64; 2]> {
        let all = drawing.targets.iter();
        all.map(|own| [own.corner[0] + own.size[0] / 2.0, own.corner[1] + own.size[1] / 2.0]).collect()
    }

    #[test]
    fn arrow_keys_lead_to_every_place_of_every_drawing() {
        for text in [
            include_str!("../../../demo-scenarios/school.json"),
            include_str!("../../../demo-scenarios/clinic.json"),
            include_str!("../../../demo-scenarios/office.json"),
            include_str!("../../../demo-scenarios/corner.json"),
        ] {
            let project = sample::project(text);
            let model = Model::new(&project.building, &sample::bare());
            let mut drawings = Vec::new();
            for (width, least) in [(620.0, 0.0), (340.0, 48.0)] {
                let line = Some((Direction::X, 0));
                let look = PlanLook { storey: 1, width, height: 470.0, least_bay_px: least, line, system: System::Si };
                drawings.push(ground_plan(&model, look, [None, None]));
            }
            for direction in Direction::BOTH {
                let lines = 0..model.lines(direction).len();
                drawings.extend(lines.map(|line| line_elevation(&model, direction, line, 14.0)));
            }
            for drawing in drawings {
                let all = centres(&drawing);
                assert!(all.len() > 6, "{}", all.len());
                let mut reached = vec![0];
                let mut at = 0;
                while let Some(&from) = reached.get(at) {
                    for next in WAYS.iter().filter_map(|way| next_place(all[from], &all, *way)) {
                        if !reached.contains(&next) {
                            reached.push(next);
                        }
                    }
                    at += 1;
                }
                assert_eq!(reached.len(), all.len(), "{}: {}", project.name, drawing.words);
            }
        }
    }

    #[test]
    fn a_key_goes_to_the_nearest_place_ahead() {
        let all = [[0.0, 0.0], [30.0, 0.0], [60.0, 0.0], [30.0, 20.0], [0.0, 50.0]];
        assert_eq!(next_place(all[0], &all, [1.0, 0.0]), Some(1));
        assert_eq!(next_place(all[0], &all, [0.0, 1.0]), Some(4));
        assert_eq!(next_place(all[0], &all, [-1.0, 0.0]), None);
    }
}
