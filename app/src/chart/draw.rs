//! Draws the strength chart on any backend.

use super::fine::{FINE, Fine, Measure};
use super::strength::{StrengthChart, dashed, parted, steps, ticks};
use plotters::prelude::{
    ChartBuilder, DrawingArea, DrawingAreaErrorKind, FontDesc, FontFamily, FontStyle, IntoDrawingArea, PathElement,
    RGBColor, Rectangle, SVGBackend, Text, TextStyle,
};
use plotters::style::Color;
use plotters_backend::DrawingBackend;
use plotters_backend::text_anchor::{HPos, Pos, VPos};
use sisterframe_core::units::grouped;

/// The colours of the sheet the chart is drawn on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Ink.
    pub ink: [u8; 3],
    /// Secondary text.
    pub muted: [u8; 3],
    /// Grid lines.
    pub hairline: [u8; 3],
    /// Demand.
    pub demand: [u8; 3],
    /// The paper, behind labels.
    pub paper: [u8; 3],
}

impl Palette {
    /// Ink on white paper.
    pub const PRINT: Self =
        Self { ink: [0, 0, 0], muted: [68, 75, 83], hairline: [207, 202, 189], demand: [179, 64, 42], paper: [255; 3] };
}

const LABEL_PX: f64 = 13.0;
const FAMILY: &str = "system-ui";

/// The lettering of the chart.
fn lettering(rgb: [u8; 3], h_pos: HPos, v_pos: VPos) -> TextStyle<'static> {
    TextStyle {
        font: FontDesc::new(FontFamily::Name(FAMILY), LABEL_PX * f64::from(FINE), FontStyle::Normal),
        color: RGBColor(rgb[0], rgb[1], rgb[2]).to_backend_color(),
        pos: Pos { h_pos, v_pos },
    }
}

/// Draws the chart on an area of the given size, px.
///
/// # Errors
/// What the backend cannot draw.
pub fn draw<B: DrawingBackend, M: Measure>(
    chart: &StrengthChart,
    backend: B,
    size_px: (u32, u32),
    measure: &M,
    palette: Palette,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let area = Fine::new(backend, size_px, measure).into_drawing_area();
    let color = |rgb: [u8; 3]| RGBColor(rgb[0], rgb[1], rgb[2]);
    let px = |length: f64| (length * f64::from(FINE)).round() as i32;
    let stroke = |rgb: [u8; 3], width: f64| color(rgb).stroke_width(px(width) as u32);
    let force = ticks(chart.most(), (size_px.0 / 110).clamp(3, 8) as usize);
    let top = chart.levels.last().copied().unwrap_or(1.0).max(1e-9);
    let height_width = chart
        .levels
        .iter()
        .map(|level| measure.width_px(&height_label(*level, chart.height_unit), LABEL_PX))
        .fold(0.0, f64::max);
    let mut builder = ChartBuilder::on(&area);
    let context = builder
        .margin_top(px(34.0))
        .margin_right(px(26.0))
        .x_label_area_size(px(44.0))
        .y_label_area_size(px(height_width + 12.0))
        .build_cartesian_2d(0.0..force[force.len() - 1], 0.0..top)?;
    let plot = context.plotting_area().clone();

    // Grid and axes of our own: round forces below, floors at their own levels.
    for tick in &force {
        let (x, base) = plot.map_coordinate(&(*tick, 0.0));
        let (_, high) = plot.map_coordinate(&(*tick, top));
        area.draw(&PathElement::new(vec![(x, high), (x, base + px(4.0))], stroke(palette.hairline, 1.0)))?;
        let text = grouped(*tick, usize::from(force[1] < 1.0));
        area.draw(&Text::new(text, (x, base + px(8.0)), lettering(palette.muted, HPos::Center, VPos::Top)))?;
    }
    for level in &chart.levels {
        let (left, y) = plot.map_coordinate(&(0.0, *level));
        let (right, _) = plot.map_coordinate(&(force[force.len() - 1], *level));
        let line = if *level == 0.0 { stroke(palette.ink, 1.2) } else { stroke(palette.hairline, 1.0) };
        area.draw(&PathElement::new(vec![(left, y), (right, y)], line))?;
        let text = height_label(*level, chart.height_unit);
        area.draw(&Text::new(text, (left - px(7.0), y), lettering(palette.muted, HPos::Right, VPos::Center)))?;
    }
    let (end, base) = plot.map_coordinate(&(force[force.len() - 1], 0.0));
    let axis = format!("storey shear, {}", chart.force_unit);
    area.draw(&Text::new(axis, (end, base + px(26.0)), lettering(palette.muted, HPos::Right, VPos::Top)))?;

    let corners = |values: &[f64]| -> Vec<(f64, f64)> {
        steps(&chart.levels, values)
            .into_iter()
            .map(|point| {
                let (x, y) = plot.map_coordinate(&point);
                (f64::from(x) / f64::from(FINE), f64::from(y) / f64::from(FINE))
            })
            .collect()
    };
    let curve = |points: &[(f64, f64)], rgb: [u8; 3], width: f64| {
        let points: Vec<(i32, i32)> = points.iter().map(|(x, y)| (px(*x), px(*y))).collect();
        PathElement::new(points, stroke(rgb, width))
    };
    let Some(chosen) = chart.profiles.get(chart.chosen) else { return area.present() };
    for profile in chart.profiles.iter().filter(|profile| profile.kind != chosen.kind) {
        area.draw(&curve(&corners(&profile.demand), palette.demand, 0.5))?;
    }
    for profile in chart.profiles.iter().filter(|profile| profile.kind != chosen.kind) {
        for dash in dashed(&corners(&profile.strength), profile.dashes) {
            area.draw(&curve(&dash, palette.ink, 1.3))?;
        }
    }
    area.draw(&curve(&corners(&chosen.demand), palette.demand, 2.6))?;
    area.draw(&curve(&corners(&chosen.strength), palette.ink, 3.2))?;
    draw_marks(chart, &area, &plot, measure, palette, size_px)?;
    area.present()
}

/// Marks every curve at the roof, moved apart where they are close, with a line to each.
fn draw_marks<B: DrawingBackend, M: Measure>(
    chart: &StrengthChart,
    area: &DrawingArea<Fine<'_, B, M>, plotters::coord::Shift>,
    plot: &DrawingArea<
        Fine<'_, B, M>,
        plotters::coord::cartesian::Cartesian2d<
            plotters::coord::types::RangedCoordf64,
            plotters::coord::types::RangedCoordf64,
        >,
    >,
    measure: &M,
    palette: Palette,
    size_px: (u32, u32),
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let fine = f64::from(FINE);
    let px = |length: f64| (length * fine).round() as i32;
    let color = |rgb: [u8; 3]| RGBColor(rgb[0], rgb[1], rgb[2]);
    let top = chart.levels.last().copied().unwrap_or(1.0);
    let at_roof = |values: &[f64]| {
        values.last().map(|value| {
            let (x, y) = plot.map_coordinate(&(*value, top));
            (f64::from(x) / fine, f64::from(y) / fine)
        })
    };
    let mut marks: Vec<(String, bool, bool, (f64, f64))> = Vec::new();
    for (index, profile) in chart.profiles.iter().enumerate() {
        if let Some(at) = at_roof(&profile.strength) {
            marks.push((profile.mark.clone(), index == chart.chosen, false, at));
        }
    }
    if let Some(at) = chart.profiles.get(chart.chosen).and_then(|chosen| at_roof(&chosen.demand)) {
        marks.push(("demand".to_owned(), false, true, at));
    }
    let rooms: Vec<f64> = marks.iter().map(|(mark, ..)| measure.width_px(mark, LABEL_PX) * 1.08 + 12.0).collect();
    let places: Vec<f64> = marks.iter().map(|(.., at)| at.0).collect();
    let moved = parted(&places, &rooms, 2.0, f64::from(size_px.0) - 2.0);
    for (((mark, heavy, demand, (x, y)), place), room) in marks.iter().zip(moved).zip(rooms) {
        let rgb = if *demand { palette.demand } else { palette.ink };
        let line = color(rgb).stroke_width(px(0.8) as u32);
        area.draw(&PathElement::new(vec![(px(*x), px(*y)), (px(place), px(y - 11.0))], line))?;
        if *heavy {
            let corners = [(px(place - room / 2.0 + 2.0), px(y - 30.0)), (px(place + room / 2.0 - 2.0), px(y - 11.0))];
            area.draw(&Rectangle::new(corners, color(rgb).filled()))?;
        }
        let rgb = if *heavy { palette.paper } else { rgb };
        let style = lettering(rgb, HPos::Center, VPos::Bottom);
        area.draw(&Text::new(mark.clone(), (px(place), px(y - 13.0)), style))?;
    }
    Ok(())
}

fn height_label(level: f64, unit: &str) -> String {
    format!("{}\u{a0}{unit}", grouped(level, 1))
}

/// The chart as a stand-alone SVG picture in the colours of print.
pub fn svg<M: Measure>(chart: &StrengthChart, size_px: (u32, u32), measure: &M) -> String {
    let mut text = String::new();
    let drawn = draw(
        chart,
        SVGBackend::with_string(&mut text, (size_px.0 * FINE, size_px.1 * FINE)),
        size_px,
        measure,
        Palette::PRINT,
    );
    if drawn.is_err() { String::new() } else { text }
}

#[cfg(test)]
mod tests {
    use super::super::fine::ByAverage;
    use super::*;
    use crate::sample;
    use sisterframe_core::project::Direction;
    use sisterframe_core::study::OptionKind;
    use sisterframe_core::units::System;

    fn chart() -> StrengthChart {
        let study = sample::study(&sample::project(sample::CLINIC));
        StrengthChart::of(&study, OptionKind::Scheme { index: 3 }, Direction::X, System::Si)
    }

    #[test]
    fn the_printed_chart_marks_every_option_and_the_demand() {
        let svg = svg(&chart(), (640, 420), &ByAverage);
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
        for mark in ["as it stands", "A", "B", "C", "D", "E", "demand", "storey shear, kN"] {
            assert!(svg.contains(&format!("\n{mark}\n")), "{mark} is missing");
        }
    }

    #[test]
    fn demand_alone_is_rust_and_curves_are_ink() {
        let svg = svg(&chart(), (640, 420), &ByAverage);
        // Six demands, one of them heavy, and the line to the word "demand".
        assert_eq!(svg.matches("stroke=\"#B3402A\"").count(), 7);
        assert!(svg.contains("stroke=\"#000000\""));
    }

    #[test]
    fn an_empty_chart_is_still_drawn() {
        let mut chart = chart();
        chart.profiles.clear();
        assert!(svg(&chart, (640, 420), &ByAverage).contains("storey shear"));
    }
}
