//! Sheet 3, Capacity: where and how the building fails, and how far that is from the demand.

use super::capacity_html::{self as written, StoreyLook};
use super::lifts::Lifts;
use super::walk::{Group, STEPS, Walk, groups, members, states};
use super::{Block, Html, attribute, hatches, is_narrow, model_of, reading};
use crate::chart::{Axes, CapacityChart, ChartLook, Numbered, capacity_of, shown_mm};
use crate::drawing::{Drawing, MemberMark, Sway, sway, sway_lines};
use crate::live::{on, words};
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::evaluate::elastic_spectrum;
use sisterframe_core::project::Direction;
use sisterframe_core::pushover::Step;
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::plain_number;
use sisterframe_core::verdict::DirectionCapacity;

/// Size of the chart, px, with room and without.
const CHART_PX: [[f64; 2]; 2] = [[680.0, 400.0], [350.0, 380.0]];
/// Width of the drawing, px.
const SWAY_PX: f64 = 400.0;
/// Height of the row of the lowest storey, px.
const ROW_PX: f64 = 104.0;
/// Periods up to which the spectrum is drawn, s, and points of it.
const SPECTRUM: (f64, u32) = (4.0, 200);

/// What the sheet itself is asked to look at.
#[derive(Clone, Copy)]
struct Asked {
    axes: RwSignal<Axes>,
    beside: RwSignal<Vec<OptionKind>>,
    /// Place of the scrubber; none for the performance point.
    place: RwSignal<Option<f64>>,
    /// Event pointed at, and the one held.
    pointed: RwSignal<Option<u32>>,
    held: RwSignal<Option<u32>>,
    line: RwSignal<Option<usize>>,
}

/// What belongs to one curve and does not change along it.
#[derive(Clone, Debug, Default, PartialEq)]
struct Course {
    walk: Walk,
    groups: Vec<Group>,
    shown_mm: f64,
    /// First yield, performance point, first limit, peak, end.
    jumps: [Option<f64>; 5],
}

impl Course {
    fn of(capacity: &DirectionCapacity) -> Self {
        let own = capacity.governing();
        let curve = &own.curve;
        let shown_mm = shown_mm(capacity);
        let walk = Walk::of(curve, shown_mm);
        let place = |step: Step| walk.place(step);
        let at = |position, roof| place(curve.step_at(position, roof));
        let peak = curve.points.iter().position(|point| point.base_shear_kn >= curve.peak_kn);
        let jumps = [
            curve.events.first().map(|event| at(event.position, event.roof_mm)),
            curve.step_at_roof(own.point.roof_mm).map(place),
            capacity.limits.first().map(|limit| at(limit.reached.position, limit.reached.roof_mm)),
            peak.map(|before| place(Step { before, part: 0.0 })),
            Some(f64::from(STEPS)),
        ];
        let groups = groups(curve, shown_mm);
        Self { walk, groups, shown_mm, jumps }
    }

    /// Where the scrubber stands of itself.
    fn usual(&self) -> f64 {
        self.jumps[1].or(self.jumps[2]).unwrap_or(f64::from(STEPS))
    }
}

const JUMPS: [&str; 5] = ["First yield", "Performance point", "First limit", "Peak", "End"];

/// The sheet.
#[component]
pub fn Capacity() -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let asked = Asked {
        axes: RwSignal::new(Axes::Roof),
        beside: RwSignal::new(vec![OptionKind::AsItStands]),
        place: RwSignal::new(None),
        pointed: RwSignal::new(None),
        held: RwSignal::new(None),
        line: RwSignal::new(None),
    };
    // Another option or direction is another walk.
    Effect::new(move |before: Option<(OptionKind, Direction)>| {
        let now = (view.option.get(), view.direction.get());
        if before.is_some_and(|before| before != now) {
            asked.place.set(None);
            asked.held.set(None);
            asked.pointed.set(None);
            asked.line.set(None);
        }
        now
    });
    let course = Memo::new(move |_| with_capacity(view, Course::of));
    let place = Memo::new(move |_| {
        course.with(|course| course.as_ref().map(|course| asked.place.get().unwrap_or_else(|| course.usual())))
    });
    let pointed = Memo::new(move |_| asked.pointed.get().or(asked.held.get()));

    let intro = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        let (direction, system) = (view.direction.get(), view.system.get());
        view.study.with(|study| {
            if let Some(option) = study.options.iter().find(|option| option.kind == view.option.get()) {
                written::intro(&mut html, study, option, direction);
                written::verdict(&mut html, option, direction, system);
            }
        });
        html.finish()
    });
    let text = Memo::new(move |_| {
        let mut html = Html::default();
        let (direction, system) = (view.direction.get(), view.system.get());
        if let Some(text) = view.with_option(|option| sisterframe_core::reading::capacity(option, direction, system))
            && !text.is_empty()
        {
            reading(&mut html, &text);
        }
        html.finish()
    });
    let head = Memo::new(move |_| {
        if course.with(Option::is_none) {
            return String::new();
        }
        let (chosen, direction) = (view.option.get(), view.direction.get());
        let axes = asked.axes.get();
        view.study.with(|study| asked.beside.with(|beside| written::chart_head(study, chosen, direction, beside, axes)))
    });
    let spectrum = Memo::new(move |_| view.project.with(|project| elastic_spectrum(project, SPECTRUM.0, SPECTRUM.1)));
    let chart = Memo::new(move |_| {
        let (chosen, direction, axes, system) =
            (view.option.get(), view.direction.get(), asked.axes.get(), view.system.get());
        view.study.with(|study| {
            spectrum.with(|spectrum| {
                asked.beside.with(|beside| {
                    CapacityChart::of(study, ChartLook { chosen, beside, direction, axes, spectrum, system })
                })
            })
        })
    });
    let size = move || CHART_PX[usize::from(narrow.get())];
    let curves = Memo::new(move |_| {
        let numbered = numbered(view, course);
        chart.with(|chart| {
            let mut html = Html::default();
            if let Some(chart) = chart {
                html.drawing(&chart.draw(size(), narrow.get(), &numbered), "curves");
            }
            html.finish()
        })
    });
    let overlay = Memo::new(move |_| {
        let mut html = Html::default();
        let number = pointed.get();
        let mark = numbered(view, course).into_iter().find(|own| Some(own.number) == number).map(|own| own.at);
        if let Some(at) = here(view, course, place, |_, _, point| [point.roof_mm, point.base_shear_kn]) {
            chart.with(|chart| {
                if let Some(chart) = chart {
                    html.bar(&chart.overlay(size(), narrow.get(), at, mark));
                }
            });
        }
        html.finish()
    });
    let marks = Memo::new(move |_| {
        let number = pointed.get();
        here(view, course, place, |capacity, course, _| member_marks(capacity, course, place.get(), number))
            .unwrap_or_default()
    });
    let told = Memo::new(move |_| {
        let system = view.system.get();
        let height = view.study.with(|study| study.storeys.last().map_or(1.0, |storey| storey.level_m));
        let weight = weight_kn(view);
        here(view, course, place, |_, _, point| marks.with(|marks| written::here(point, marks, height, weight, system)))
            .unwrap_or_default()
    });
    let jumps = Memo::new(move |_| {
        course.with(|course| {
            course.as_ref().map_or_else(String::new, |course| {
                let places: Vec<_> = JUMPS.into_iter().zip(course.jumps).collect();
                written::jumps(&places)
            })
        })
    });
    let events = Memo::new(move |_| {
        let (number, system) = (pointed.get(), view.system.get());
        with_capacity(view, |capacity| {
            course.with(|course| {
                course
                    .as_ref()
                    .map_or_else(String::new, |course| written::events(capacity, &course.groups, number, system))
            })
        })
        .unwrap_or_default()
    });
    let ledger = Memo::new(move |_| ledger(view, asked, course, place, marks));
    let listed = Memo::new(move |_| {
        if course.with(Option::is_none) { String::new() } else { marks.with(|marks| written::members(marks)) }
    });
    let data = Memo::new(move |_| {
        let system = view.system.get();
        let along_x = view.direction.get() == Direction::X;
        let mut html = with_capacity(view, |capacity| written::numbers(capacity, system)).unwrap_or_default();
        let by_hand = view.with_option(|option| {
            let result = option.directions.iter().find(|result| result.along_x == along_x)?;
            Some(written::by_hand(result, system))
        });
        html.push_str(&by_hand.flatten().unwrap_or_default());
        html
    });

    let dragged = move |event: ev::Event| {
        asked.place.set(plain_number(&event_target_value(&event)));
    };
    let focused = StoredValue::new(String::new());
    let value = words(move || place.get().unwrap_or(0.0).to_string());
    let has_curve = Memo::new(move |_| course.with(Option::is_some));
    let told_words = words(move || told.get());
    let scrubber = move || {
        if !has_curve.get() {
            return ().into_any();
        }
        view! {
            <div class="slider scrubber">
                <label for="scrubber">"Along the curve"</label>
                <input
                    id="scrubber"
                    type="range"
                    min="0"
                    max=STEPS.to_string()
                    step="1"
                    prop:value=value
                    aria-valuetext=told_words
                    on:input=on(dragged)
                />
                <p class="told" aria-hidden="true">{told_words}</p>
            </div>
        }
        .into_any()
    };
    view! {
        <div
            class="capacity"
            on:click=on(move |event: ev::MouseEvent| clicked(view, asked, course, event.target()))
            on:mouseover=on(move |event: ev::MouseEvent| pointed_at(asked, event.target()))
            on:focusin=on(move |event: ev::FocusEvent| {
                // A list written anew gives the focus back to the same button: that is no pointing.
                let name = attribute(event.target(), "id").unwrap_or_default();
                if focused.with_value(|own| *own != name) {
                    focused.set_value(name);
                    pointed_at(asked, event.target());
                }
            })
        >
            <Block html=intro/>
            <Block html=head/>
            <div class="curve-body">
                <div class="curve-picture">
                    <div class="layers">
                        <Block html=curves/>
                        <Block html=overlay class="overlay"/>
                    </div>
                    {crate::live::part(scrubber)}
                    <Block html=jumps/>
                    <Block html=text/>
                </div>
                <Block html=events class="curve-events"/>
            </div>
            <Block html=ledger class="pushed-storeys"/>
            <Block html=listed class="members-here"/>
            <Lifts/>
            <Block html=data class="curve-data"/>
        </div>
    }
}

/// Reads the capacity of what is looked at.
fn with_capacity<T>(view: View, read: impl FnOnce(&DirectionCapacity) -> T) -> Option<T> {
    let direction = view.direction.get();
    view.with_option(|option| capacity_of(option, direction).map(read)).flatten()
}

fn weight_kn(view: View) -> f64 {
    let along_x = view.direction.get() == Direction::X;
    let weight = |option: &sisterframe_core::study::OptionResult| {
        option.directions.iter().find(|result| result.along_x == along_x).map(|result| result.weight_kn)
    };
    view.with_option(weight).flatten().unwrap_or(0.0)
}

/// Reads the state where the scrubber is.
fn here<T>(
    view: View,
    course: Memo<Option<Course>>,
    place: Memo<Option<f64>>,
    read: impl FnOnce(&DirectionCapacity, &Course, &sisterframe_core::pushover::CurvePoint) -> T,
) -> Option<T> {
    let place = place.get()?;
    with_capacity(view, |capacity| {
        course.with(|course| {
            let course = course.as_ref()?;
            let point = capacity.governing().curve.state(course.walk.step(place));
            Some(read(capacity, course, &point))
        })
    })
    .flatten()
}

/// The numbers on the curve.
fn numbered(view: View, course: Memo<Option<Course>>) -> Vec<Numbered> {
    with_capacity(view, |capacity| {
        let events = &capacity.governing().curve.events;
        course.with(|course| {
            let groups = course.as_ref().map(|course| course.groups.as_slice()).unwrap_or_default();
            let first = |group: &Group| {
                let event = events.get(*group.events.first()?)?;
                Some(Numbered { number: group.number, at: [event.roof_mm, event.base_shear_kn] })
            };
            groups.iter().filter_map(first).collect()
        })
    })
    .unwrap_or_default()
}

/// States of the members where the scrubber is, and the members of the event pointed at.
fn member_marks(
    capacity: &DirectionCapacity,
    course: &Course,
    place: Option<f64>,
    number: Option<u32>,
) -> Vec<MemberMark> {
    let curve = &capacity.governing().curve;
    let step = course.walk.step(place.unwrap_or(0.0));
    let mut marks = states(curve, &capacity.places, &course.groups, step);
    let Some(group) = course.groups.iter().find(|group| Some(group.number) == number) else { return marks };
    let events = group.events.iter().filter_map(|k| curve.events.get(*k));
    for (place, failure) in members(events, &capacity.places) {
        match marks.iter_mut().find(|mark| mark.place == place && mark.failure == failure) {
            Some(mark) => mark.pointed = true,
            None => marks.push(MemberMark { place, failure, state: None, event: group.number, pointed: true }),
        }
    }
    marks
}

/// The drawing with the storeys beside it.
fn ledger(
    view: View,
    asked: Asked,
    course: Memo<Option<Course>>,
    place: Memo<Option<f64>>,
    marks: Memo<Vec<MemberMark>>,
) -> String {
    let (direction, system, option) = (view.direction.get(), view.system.get(), view.option.get());
    let model = view.project.with(|project| model_of(project, option));
    let lines = sway_lines(&model, direction);
    let drawn = here(view, course, place, |capacity, course, now| {
        let own = capacity.governing();
        let state = |place: Option<f64>| place.map(|place| own.curve.state(course.walk.step(place)));
        let (demand, limit) = (state(course.jumps[1]), state(course.jumps[2]));
        let limited = capacity.limits.first().and_then(|limit| Sway::line_of(&model, direction, &limit.reached.place));
        let line = asked.line.get().filter(|line| *line < lines.len()).or(limited).unwrap_or(0);
        let heights_m: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
        let lowest = heights_m.iter().copied().fold(f64::INFINITY, f64::min).max(0.5);
        let storey_px: Vec<f64> = heights_m.iter().map(|height| (height / lowest * ROW_PX).round()).collect();
        let sense = if own.curve.towards_higher { 1.0 } else { -1.0 };
        let mut floor = 0.0;
        let floors_m: Vec<f64> = now
            .drift_mm
            .iter()
            .map(|drift| {
                floor += sense * drift / 1000.0;
                floor
            })
            .collect();
        let factor = Sway::factor(&model, direction, SWAY_PX, course.shown_mm / 1000.0);
        let picture = marks.with(|marks| {
            sway(&Sway {
                model: &model,
                direction,
                line,
                floors_m: &floors_m,
                factor,
                storey_px: &storey_px,
                width: SWAY_PX,
                marks,
            })
        });
        let picture_head = written::picture_head(&lines, line, model.lines(direction).len(), factor);
        let faces: Vec<String> = model.frames.iter().map(|frame| frame.spec.face.clone()).collect();
        let write = |standing: Option<&DirectionCapacity>| {
            let look = StoreyLook {
                own,
                standing: standing.map(DirectionCapacity::governing),
                shown_mm: course.shown_mm,
                now,
                demand: demand.as_ref(),
                limit: limit.as_ref(),
                heights_m: &heights_m,
                storey_px: &storey_px,
                faces: &faces,
                system,
            };
            with_picture(&look, &picture, &picture_head)
        };
        view.study.with(|study| {
            let standing = study.options.iter().find(|own| own.kind == OptionKind::AsItStands && own.kind != option);
            write(standing.and_then(|own| capacity_of(own, direction)))
        })
    });
    drawn.unwrap_or_default()
}

/// The storeys with the drawing beside them, and the drawing for above them where there is no room.
fn with_picture(look: &StoreyLook<'_>, picture: &Drawing, head: &str) -> String {
    let mut html = Html::default();
    html.raw("<h2>Storey by storey where the scrubber is</h2><div class=\"sway-head\">");
    html.raw(head);
    html.raw("</div><div class=\"sway-alone\">");
    html.drawing(picture, "sway");
    html.close("div");
    html.raw(&written::storeys(look, picture));
    html.finish()
}

fn pointed_at(asked: Asked, target: Option<web_sys::EventTarget>) {
    let number = attribute(target, "data-event").and_then(|number| number.parse().ok()).filter(|number| *number > 0);
    if asked.pointed.get_untracked() != number {
        asked.pointed.set(number);
    }
}

/// Carries out what a button or mark of the sheet asks for.
fn clicked(view: View, asked: Asked, course: Memo<Option<Course>>, target: Option<web_sys::EventTarget>) {
    let act = attribute(target.clone(), "data-act").unwrap_or_default();
    let (what, which) = act.split_once(':').unwrap_or_default();
    let event = match what {
        "axes" => {
            asked.axes.set(if which == "spectral" { Axes::Spectral } else { Axes::Roof });
            None
        }
        "beside" => {
            let index = which.parse::<usize>().ok();
            let kind =
                index.and_then(|index| view.study.with_untracked(|study| study.options.get(index).map(|own| own.kind)));
            if let Some(kind) = kind {
                asked.beside.update(|beside| match beside.iter().position(|own| *own == kind) {
                    Some(place) => {
                        beside.remove(place);
                    }
                    None => beside.push(kind),
                });
            }
            None
        }
        "line" => {
            asked.line.set(which.parse().ok());
            None
        }
        "jump" => {
            asked.place.set(plain_number(which));
            None
        }
        "event" => which.parse().ok(),
        "" => attribute(target, "data-event").and_then(|number| number.parse().ok()),
        _ => None,
    };
    if let Some(number) = event {
        hold(view, asked, course, number);
    }
}

/// Holds an event: the scrubber goes there, and the drawing shows a line it happens on.
fn hold(view: View, asked: Asked, course: Memo<Option<Course>>, number: u32) {
    let direction = view.direction.get_untracked();
    let model = view.project.with_untracked(|project| model_of(project, view.option.get_untracked()));
    let found = untrack(|| {
        with_capacity(view, |capacity| {
            let curve = &capacity.governing().curve;
            course.with(|course| {
                let course = course.as_ref()?;
                let group = course.groups.iter().find(|group| group.number == number)?;
                let event = curve.events.get(*group.events.first()?)?;
                let place = course.walk.place(curve.step_at(event.position, event.roof_mm));
                Some((place, Sway::line_of(&model, direction, &event.place)))
            })
        })
    });
    if let Some((place, line)) = found.flatten() {
        asked.held.set(Some(number));
        asked.place.set(Some(place));
        if line.is_some() {
            asked.line.set(line);
        }
    }
}
