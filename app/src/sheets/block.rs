//! Puts written markup on the page and carries out what its buttons ask for.

use super::pointing;
use crate::drawing::Pick;
use crate::store::Choice;
use crate::view::View;
use leptos::ev::{KeyboardEvent, MouseEvent, PointerEvent};
use leptos::html::Div;
use leptos::prelude::*;
use sisterframe_core::fitting::Spot;
use sisterframe_core::project::Direction;
use sisterframe_core::study::OptionKind;
use sisterframe_core::works::Room;
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, HtmlElement};

/// The name of a choice in markup.
pub fn act(choice: Choice) -> String {
    match choice {
        Choice::Option(OptionKind::AsItStands) => "option:as-it-stands".to_owned(),
        Choice::Option(OptionKind::Scheme { index }) => format!("option:{index}"),
        Choice::Option(OptionKind::Rebuild) => "option:rebuild".to_owned(),
        Choice::Direction(Direction::X) => "direction:x".to_owned(),
        Choice::Direction(Direction::Y) => "direction:y".to_owned(),
        Choice::Floor(Some(floor)) => format!("floor:{floor}"),
        Choice::Floor(None) => "floor:none".to_owned(),
        Choice::Line(Direction::X, place) => format!("line-x:{place}"),
        Choice::Line(Direction::Y, place) => format!("line-y:{place}"),
        Choice::Spot(spot) => format!("spot:{}", spot.map_or_else(|| "none".to_owned(), spot_code)),
        Choice::Room(room) => format!("room:{}", room.map_or_else(|| "none".to_owned(), room_code)),
        Choice::Joint((option, place)) => format!("joint:{option}:{place}"),
        Choice::Sheet(sheet) => format!("sheet:{}", sheet.number()),
        Choice::BothSets(both) => format!("both-sets:{both}"),
    }
}

/// A place one can point at, in markup.
pub fn spot_code(spot: Spot) -> String {
    let way = |direction: Direction| if direction == Direction::X { "x" } else { "y" };
    match spot {
        Spot::Column { x, y, storey } => format!("column-{x}-{y}-{storey}"),
        Spot::Bay { direction, line, bay, storey } => format!("bay-{}-{line}-{bay}-{storey}", way(direction)),
        Spot::Line { direction, line } => format!("line-{}-{line}", way(direction)),
        Spot::Storey { storey } => format!("storey-{storey}"),
    }
}

/// A room, in markup.
pub fn room_code(room: Room) -> String {
    format!("room-{}-{}-{}", room.storey, room.strip, room.bay)
}

/// What a part of a drawing stands for, in markup.
pub fn pick_code(pick: Pick) -> String {
    match pick {
        Pick::Spot(spot) => spot_code(spot),
        Pick::Room(room) => room_code(room),
    }
}

/// The choice of what a part of a drawing stands for, or to let it go.
pub const fn picked(pick: Pick, wanted: bool) -> Choice {
    match pick {
        Pick::Spot(spot) => Choice::Spot(if wanted { Some(spot) } else { None }),
        Pick::Room(room) => Choice::Room(if wanted { Some(room) } else { None }),
    }
}

/// The room a code stands for.
fn room_of(code: &str) -> Option<Room> {
    match code.split('-').map(str::parse::<u32>).collect::<Vec<_>>()[..] {
        [Err(_), Ok(storey), Ok(strip), Ok(bay)] => Some(Room { storey, strip, bay }),
        _ => None,
    }
}

/// The place a code stands for.
fn spot_of(code: &str) -> Option<Spot> {
    let way = |direction: &str| match direction {
        "x" => Some(Direction::X),
        "y" => Some(Direction::Y),
        _ => None,
    };
    let place = |text: &str| text.parse::<usize>().ok();
    let number = |text: &str| text.parse::<u32>().ok();
    match code.split('-').collect::<Vec<_>>()[..] {
        ["column", x, y, storey] => Some(Spot::Column { x: place(x)?, y: place(y)?, storey: number(storey)? }),
        ["bay", direction, line, bay, storey] => Some(Spot::Bay {
            direction: way(direction)?,
            line: place(line)?,
            bay: number(bay)?,
            storey: number(storey)?,
        }),
        ["line", direction, line] => Some(Spot::Line { direction: way(direction)?, line: place(line)? }),
        ["storey", storey] => Some(Spot::Storey { storey: number(storey)? }),
        _ => None,
    }
}

/// The choice a name stands for.
fn choice(act: &str) -> Option<Choice> {
    let (what, which) = act.split_once(':')?;
    match (what, which) {
        ("option", "as-it-stands") => Some(Choice::Option(OptionKind::AsItStands)),
        ("option", "rebuild") => Some(Choice::Option(OptionKind::Rebuild)),
        ("option", index) => Some(Choice::Option(OptionKind::Scheme { index: index.parse().ok()? })),
        ("direction", "x") => Some(Choice::Direction(Direction::X)),
        ("direction", "y") => Some(Choice::Direction(Direction::Y)),
        ("floor", "none") => Some(Choice::Floor(None)),
        ("floor", floor) => Some(Choice::Floor(Some(floor.parse().ok()?))),
        ("spot", "none") => Some(Choice::Spot(None)),
        ("spot", code) => Some(Choice::Spot(Some(spot_of(code)?))),
        ("room", "none") => Some(Choice::Room(None)),
        ("room", code) => Some(Choice::Room(Some(room_of(code)?))),
        ("joint", key) => {
            let (option, place) = key.split_once(':')?;
            Some(Choice::Joint((option.parse().ok()?, place.parse().ok()?)))
        }
        ("both-sets", both) => Some(Choice::BothSets(both.parse().ok()?)),
        ("line-x", place) => Some(Choice::Line(Direction::X, place.parse().ok()?)),
        ("line-y", place) => Some(Choice::Line(Direction::Y, place.parse().ok()?)),
        _ => None,
    }
}

/// A block of written markup. When it is written anew, the focus, open details, an open note and
/// sideways scrolling of parts with an id stay where they were; while it is pressed it waits.
#[component]
pub fn Block(
    /// The markup.
    html: Memo<String>,
    /// Class of the block.
    #[prop(optional)]
    class: &'static str,
) -> impl IntoView {
    let view = View::of_page();
    let place = NodeRef::<Div>::new();
    // A part written anew between press and release would never get its click.
    let (pressed, due) = (StoredValue::new(false), StoredValue::new(false));
    Effect::new(move |_| {
        let Some(place) = place.get() else { return };
        html.with(|html| match pressed.get_value() {
            true => due.set_value(true),
            false => write(&place, html),
        });
    });
    let let_go = move || {
        // The sheet may be gone meanwhile.
        if pressed.try_set_value(false).is_none() && due.get_value() {
            due.set_value(false);
            if let Some(place) = place.get_untracked() {
                html.with_untracked(|html| write(&place, html));
            }
        }
    };
    // The click comes after the release, so it waits for its turn.
    let released = move || {
        if pressed.try_get_value() == Some(true) {
            set_timeout(let_go, Duration::ZERO);
        }
    };
    let ends = [
        window_event_listener_untyped("pointerup", move |_| released()),
        window_event_listener_untyped("pointercancel", move |_| released()),
        window_event_listener_untyped("blur", move |_| released()),
    ];
    on_cleanup(move || ends.into_iter().for_each(|own| own.remove()));
    let press: Box<dyn FnMut(PointerEvent)> = Box::new(move |_| pressed.set_value(true));
    let click: Box<dyn FnMut(MouseEvent)> = Box::new(move |event| {
        let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        if let Some(target) = target {
            clicked(view, &target);
        }
    });
    let key: Box<dyn FnMut(KeyboardEvent)> = Box::new(move |event| pointing::key(view, &event));
    view! { <div node_ref=place class=class on:pointerdown=press on:click=click on:keydown=key></div> }
}

/// What a click on a part of a block does.
pub fn clicked(view: View, target: &Element) {
    let nearest = |selector: &str| target.closest(selector).ok().flatten();
    if let Some(button) = nearest(".ask") {
        place_note(&button);
    } else if let Some(part) = nearest("[data-act]") {
        match part.get_attribute("data-act").as_deref().and_then(choice) {
            Some(choice @ (Choice::Spot(_) | Choice::Room(_))) => pointing::pick(view, choice, &part),
            Some(choice @ Choice::Joint(_)) => pointing::open_joint(view, choice),
            Some(choice) => view.choose.run(choice),
            None => {}
        }
    } else if let Some(floor) = nearest("[data-floor]").and_then(|part| part.get_attribute("data-floor")) {
        let floor = floor.parse().ok();
        // A second click on a floor lets it go.
        view.choose_floor(floor.filter(|_| floor != view.floor.get_untracked()));
    }
}

/// Puts a note beside the button that opens it: below while there is room, else above.
fn place_note(button: &Element) {
    let note = button.get_attribute("popovertarget").and_then(|id| document().get_element_by_id(&id));
    let Some(note) = note.and_then(|note| note.dyn_into::<HtmlElement>().ok()) else { return };
    let number = |value: Result<JsValue, JsValue>| value.ok().and_then(|value| value.as_f64()).unwrap_or(0.0);
    let height = number(window().inner_height());
    let rect = button.get_bounding_client_rect();
    let below = rect.bottom() < height * 0.55;
    let set = |name: &str, value: String| {
        let _ = HtmlElement::style(&note).set_property(name, &value);
    };
    set("--about-left", format!("{}px", rect.left()));
    set("top", if below { format!("{}px", rect.bottom() + 6.0) } else { "auto".to_owned() });
    set("bottom", if below { "auto".to_owned() } else { format!("{}px", height - rect.top() + 6.0) });
}

/// Writes markup into its place and puts back what the reader had done to it.
pub fn write(place: &HtmlElement, html: &str) {
    let all = |selector: &str| {
        let list = place.query_selector_all(selector).ok();
        let count = list.as_ref().map_or(0, web_sys::NodeList::length);
        (0..count).filter_map(move |index| list.as_ref()?.get(index)?.dyn_into::<Element>().ok())
    };
    let focused =
        document().active_element().filter(|element| place.contains(Some(element))).map(|element| element.id());
    let open: Vec<String> = all("details[open][id]").map(|element| element.id()).collect();
    let scrolled: Vec<(String, i32)> = all(".scroller[id]")
        .map(|element| (element.id(), element.scroll_left()))
        .filter(|(_, left)| *left != 0)
        .collect();
    let noted = all(":popover-open").next().map(|note| (note.id(), note.get_attribute("style").unwrap_or_default()));
    place.set_inner_html(html);
    let by_id = |id: &str| document().get_element_by_id(id).filter(|element| place.contains(Some(element)));
    for element in open.iter().filter_map(|id| by_id(id)) {
        let _ = element.set_attribute("open", "");
    }
    if let Some((id, style)) = noted
        && let Some(note) = by_id(&id)
    {
        let _ = note.set_attribute("style", &style);
        let _ = note.unchecked_ref::<HtmlElement>().show_popover();
    }
    for (id, left) in scrolled {
        if let Some(element) = by_id(&id) {
            element.set_scroll_left(left);
        }
    }
    let focused = focused.filter(|id| !id.is_empty()).and_then(|id| by_id(&id));
    if let Some(element) = focused {
        pointing::focus(&element);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_choice_a_button_names_is_understood() {
        let options = [OptionKind::AsItStands, OptionKind::Scheme { index: 12 }, OptionKind::Rebuild];
        let choices = options
            .map(Choice::Option)
            .into_iter()
            .chain(Direction::BOTH.map(Choice::Direction))
            .chain([Choice::Floor(None), Choice::Floor(Some(7))])
            .chain(Direction::BOTH.map(|direction| Choice::Line(direction, 3)))
            .chain([Choice::Spot(None), Choice::Spot(Some(Spot::Storey { storey: 2 }))])
            .chain([Choice::Joint((3, 14)), Choice::BothSets(true), Choice::BothSets(false)])
            .chain([Choice::Room(None), Choice::Room(Some(Room { storey: 2, strip: 1, bay: 12 }))])
            .chain([Choice::Spot(Some(Spot::Column { x: 0, y: 12, storey: 3 }))])
            .chain(Direction::BOTH.map(|direction| Choice::Spot(Some(Spot::Line { direction, line: 1 }))))
            .chain(
                Direction::BOTH
                    .map(|direction| Choice::Spot(Some(Spot::Bay { direction, line: 4, bay: 11, storey: 5 }))),
            );
        for wanted in choices {
            assert_eq!(choice(&act(wanted)), Some(wanted));
        }
        assert_eq!(choice("option:x"), None);
        assert_eq!(choice("nothing"), None);
        assert_eq!(choice("spot:column-1-2"), None);
    }
}
