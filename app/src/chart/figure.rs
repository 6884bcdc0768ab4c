//! The strength chart on the page: canvas, printed picture, words and table.

use super::draw::{Palette, draw, svg};
use super::fine::{ByAverage, FINE, Measure};
use super::strength::StrengthChart;
use crate::sheets::{Block, Html, direction_chooser, when};
use crate::view::View;
use leptos::html::{Canvas, Div};
use leptos::prelude::*;
use plotters_canvas::CanvasBackend;
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::Direction;
use sisterframe_core::units::grouped;
use std::cell::RefCell;
use std::collections::HashMap;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, ResizeObserver};

/// Size of the printed picture, px.
const PRINTED_PX: (u32, u32) = (680, 400);

/// Measures with the canvas itself, each text once.
struct ByCanvas<'a> {
    context: &'a CanvasRenderingContext2d,
    known: &'a RefCell<HashMap<(String, u64), f64>>,
}

impl Measure for ByCanvas<'_> {
    fn width_px(&self, text: &str, size_px: f64) -> f64 {
        let key = (text.to_owned(), size_px.to_bits());
        if let Some(width) = self.known.borrow().get(&key) {
            return *width;
        }
        self.context.set_font(&format!("{size_px}px system-ui"));
        let width = self.context.measure_text(text).map_or_else(|_| ByAverage.width_px(text, size_px), |it| it.width());
        self.known.borrow_mut().insert(key, width);
        width
    }
}

/// The colours the style sheet gives the canvas.
fn palette(canvas: &HtmlCanvasElement) -> Palette {
    let style = window().get_computed_style(canvas).ok().flatten();
    let color = |name: &str, otherwise: [u8; 3]| {
        let value = style.as_ref().and_then(|style| style.get_property_value(name).ok()).unwrap_or_default();
        hex(value.trim()).unwrap_or(otherwise)
    };
    let print = Palette::PRINT;
    Palette {
        ink: color("--ink", print.ink),
        muted: color("--muted", print.muted),
        hairline: color("--hairline", print.hairline),
        demand: color("--demand", print.demand),
        paper: color("--paper", print.paper),
    }
}

/// Reads a colour written `#rrggbb` or `#rgb`.
fn hex(text: &str) -> Option<[u8; 3]> {
    let digits = text.strip_prefix('#').filter(|digits| digits.is_ascii())?;
    let part = |from: usize, to: usize| digits.get(from..to).and_then(|part| u8::from_str_radix(part, 16).ok());
    match digits.len() {
        6 => Some([part(0, 2)?, part(2, 4)?, part(4, 6)?]),
        3 => Some([part(0, 1)? * 17, part(1, 2)? * 17, part(2, 3)? * 17]),
        _ => None,
    }
}

/// Draws the chart on a canvas, as sharp as the screen.
fn paint(canvas: &HtmlCanvasElement, chart: &StrengthChart, known: &RefCell<HashMap<(String, u64), f64>>) {
    let (width, height) = (canvas.client_width().max(0) as u32, canvas.client_height().max(0) as u32);
    if width < 40 || height < 40 {
        return;
    }
    let dense = window().device_pixel_ratio().clamp(0.5, 4.0);
    let true_size = (f64::from(width) * dense, f64::from(height) * dense);
    // Setting the size also empties the canvas.
    canvas.set_width(true_size.0.round() as u32);
    canvas.set_height(true_size.1.round() as u32);
    let context = canvas.get_context("2d").ok().flatten();
    let Some(context) = context.and_then(|context| context.dyn_into::<CanvasRenderingContext2d>().ok()) else { return };
    let measure = ByCanvas { context: &context, known };
    let scale = dense / f64::from(FINE);
    if context.set_transform(scale, 0.0, 0.0, scale, 0.0, 0.0).is_err() {
        return;
    }
    if let Some(backend) = CanvasBackend::with_canvas_object(canvas.clone()) {
        // A canvas that cannot be drawn on leaves the table, which says the same.
        let _ = draw(chart, backend, (width, height), &measure, palette(canvas));
    }
}

/// Storey strength against elastic demand, by option, with its table.
#[component]
pub fn StrengthFigure() -> impl IntoView {
    let view = View::of_page();
    let chart = Memo::new(move |_| {
        view.study.with(|study| StrengthChart::of(study, view.option.get(), view.direction.get(), view.system.get()))
    });
    let canvas = NodeRef::<Canvas>::new();
    let printed = NodeRef::<Div>::new();
    redraw_when_needed(canvas, chart);

    // The printed picture is made when it is needed: now, in case the page is being printed
    // already, and before every print.
    let fill = move || {
        if let Some(printed) = printed.get_untracked() {
            printed.set_inner_html(&chart.with_untracked(|chart| svg(chart, PRINTED_PX, &ByAverage)));
        }
    };
    printed.on_load(move |_| fill());
    let before = window_event_listener_untyped("beforeprint", move |_| fill());
    on_cleanup(move || before.remove());

    let head = Memo::new(move |_| head(view.direction.get()));
    let table = Memo::new(move |_| chart.with(numbers));
    let words = Signal::derive(move || chart.with(StrengthChart::words));
    view! {
        <Block html=head/>
        <div class="chart-body">
            <div class="chart-picture">
                <canvas node_ref=canvas role="img" aria-label=words></canvas>
                <div node_ref=printed class="printed" aria-hidden="true"></div>
                <p class="note">
                    "Heavy: the option chosen above, with its demand in rust. Thin rust lines are the demands \
                    on the other options, which differ with their weight and period. Where a strength lies \
                    left of its demand, that storey has to rely on ductility."
                </p>
            </div>
            <Block html=table class="chart-numbers"/>
        </div>
    }
}

/// Title and direction of the chart.
fn head(direction: Direction) -> String {
    let mut html = Html::default();
    html.raw("<div class=\"chart-head\"><h2>Storey strength against elastic demand, ");
    html.words(direction.label());
    html.ask(Figure::StoreyStrength, "chart");
    html.close("h2");
    direction_chooser(&mut html, "Direction of the chart", "chart", direction);
    html.close("div");
    html.finish()
}

/// The table beside the chart.
fn numbers(chart: &StrengthChart) -> String {
    let mut html = Html::default();
    html.open(
        "div",
        &[
            ("class", "scroller"),
            ("id", "chart-region"),
            ("role", "region"),
            ("aria-label", "Numbers of the chart"),
            ("tabindex", "0"),
        ],
    );
    html.raw("<table class=\"numbers\">");
    let caption = format!("Storey strength, and below it the elastic demand, in {}", chart.force_unit);
    html.leaf("caption", &[], &caption);
    html.raw("<thead><tr><th scope=\"col\">Storey</th>");
    for (index, profile) in chart.profiles.iter().enumerate() {
        html.leaf("th", &[("scope", "col"), when(index == chart.chosen, "class", "chosen")], &profile.mark);
    }
    html.raw("</tr></thead><tbody>");
    for storey in (0..chart.levels.len().saturating_sub(1)).rev() {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], &format!("Storey {}", storey + 1));
        for (index, profile) in chart.profiles.iter().enumerate() {
            let of = |values: &[f64]| values.get(storey).copied().unwrap_or(f64::NAN);
            let (strength, demand) = (of(&profile.strength), of(&profile.demand));
            html.open("td", &[when(index == chart.chosen, "class", "chosen")]);
            html.leaf("b", &[], &grouped(strength, 0));
            html.raw(if strength >= demand { "\u{a0}✓" } else { "" });
            html.note(&format!("of {}", grouped(demand, 0)));
            html.close("td");
        }
        html.close("tr");
    }
    html.raw("</tbody></table></div>");
    html.finish()
}

/// Redraws the canvas when its chart, its size or the colours change, once a frame at most.
fn redraw_when_needed(canvas: NodeRef<Canvas>, chart: Memo<StrengthChart>) {
    let again = RwSignal::new(0_u32);
    let pending = StoredValue::new(false);
    let known = StoredValue::new_local(RefCell::new(HashMap::new()));
    Effect::new(move |_| {
        chart.track();
        again.track();
        canvas.track();
        if pending.get_value() {
            return;
        }
        pending.set_value(true);
        request_animation_frame(move || {
            // The sheet may be gone by the time the frame comes.
            if pending.try_set_value(false).is_some() {
                return;
            }
            let Some(canvas) = canvas.try_get_untracked().flatten() else { return };
            known.try_with_value(|known| chart.try_with_untracked(|chart| paint(&canvas, chart, known)));
        });
    });

    let nudge = move || {
        let _ = again.try_update(|count| *count = count.wrapping_add(1));
    };
    let resized = Closure::<dyn FnMut()>::new(nudge);
    let observer = ResizeObserver::new(resized.as_ref().unchecked_ref()).ok();
    let watch = StoredValue::new_local((observer, resized));
    canvas.on_load(move |canvas| {
        watch.try_with_value(|(observer, _)| {
            if let Some(observer) = observer {
                observer.observe(&canvas);
            }
        });
    });
    let dark = window().match_media("(prefers-color-scheme: dark)").ok().flatten();
    let recolored = Closure::<dyn FnMut()>::new(nudge);
    if let Some(dark) = &dark {
        let _ = dark.add_event_listener_with_callback("change", recolored.as_ref().unchecked_ref());
    }
    let colors = StoredValue::new_local((dark, recolored));
    on_cleanup(move || {
        watch.try_with_value(|(observer, _)| observer.as_ref().map(ResizeObserver::disconnect));
        colors.try_with_value(|(dark, listener)| {
            if let Some(dark) = dark {
                let _ = dark.remove_event_listener_with_callback("change", listener.as_ref().unchecked_ref());
            }
        });
    });
}

#[cfg(test)]
mod tests {
    use super::{hex, numbers};
    use crate::chart::StrengthChart;
    use crate::sample;
    use sisterframe_core::project::Direction;
    use sisterframe_core::study::OptionKind;
    use sisterframe_core::units::System;

    #[test]
    fn reads_colours_of_the_style_sheet() {
        assert_eq!(hex("#b3402a"), Some([179, 64, 42]));
        assert_eq!(hex("#fff"), Some([255, 255, 255]));
        assert_eq!(hex("rgb(1, 2, 3)"), None);
        assert_eq!(hex("#ééé"), None);
    }

    #[test]
    fn the_table_has_a_cell_for_every_storey_and_option() {
        let study = sample::study(&sample::project(sample::CLINIC));
        let chart = StrengthChart::of(&study, OptionKind::AsItStands, Direction::Y, System::Si);
        let html = numbers(&chart);
        assert_eq!(html.matches("<td").count(), 4 * 6);
        assert_eq!(html.matches("class=\"chosen\"").count(), 5, "a head and four storeys");
    }
}
