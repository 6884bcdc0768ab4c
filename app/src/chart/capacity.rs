//! Capacity curves over each other and over the demand, as a drawing.

use super::fine::{ByAverage, Measure};
use super::strength::{DASHES, dashed, parted, ticks};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::evaluate::SpectrumPoint;
use sisterframe_core::project::Direction;
use sisterframe_core::pushover::acceleration_displacement;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::{Dimension, System, grouped, show};
use sisterframe_core::verdict::{Assessed, DirectionCapacity};

/// What the axes of the chart are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axes {
    /// Base shear against roof displacement.
    Roof,
    /// Spectral acceleration against spectral displacement.
    Spectral,
}

/// A curve on the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Which option's.
    pub kind: OptionKind,
    /// What it is marked with.
    pub mark: String,
    /// Its points in the units of the axes.
    pub points: Vec<[f64; 2]>,
    dashes: &'static [f64],
}

/// A numbered place on the curve looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Numbered {
    /// Its number.
    pub number: u32,
    /// Roof displacement, mm, and base shear, kN.
    pub at: [f64; 2],
}

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CapacityChart {
    axes: Axes,
    system: System,
    /// Height of the roof, m.
    height_m: f64,
    /// [m*, Γ] of the curve looked at.
    equivalent: [f64; 2],
    /// The option looked at first.
    pub curves: Vec<Curve>,
    /// Largest values shown.
    shown: [f64; 2],
    demand: f64,
    demand_words: String,
    limit: f64,
    limit_words: String,
    idealised: Vec<[f64; 2]>,
    spectrum: Vec<SpectrumPoint>,
}

/// The capacity of an option in a direction.
pub fn capacity_of(option: &OptionResult, direction: Direction) -> Option<&DirectionCapacity> {
    let along_x = direction == Direction::X;
    option.directions.iter().find(|result| result.along_x == along_x)?.capacity.as_ref()
}

/// How far the chart shows the curve looked at, mm of roof displacement: beyond the demand, the
/// peak and the limits told.
pub fn shown_mm(capacity: &DirectionCapacity) -> f64 {
    let own = capacity.governing();
    let limits = capacity.limits.iter().take(2).map(|limit| limit.reached.roof_mm);
    let most = limits.fold(own.point.roof_mm.max(own.curve.peak_roof_mm), f64::max);
    let end = own.curve.points.iter().map(|point| point.roof_mm).fold(0.0, f64::max);
    1.3 * most.min(end.max(own.point.roof_mm))
}

/// What is looked at on the chart.
#[derive(Clone, Copy, Debug)]
pub struct ChartLook<'a> {
    /// The option drawn heavily.
    pub chosen: OptionKind,
    /// Others drawn beside it.
    pub beside: &'a [OptionKind],
    /// The direction.
    pub direction: Direction,
    /// The axes.
    pub axes: Axes,
    /// The elastic spectrum.
    pub spectrum: &'a [SpectrumPoint],
    /// Units.
    pub system: System,
}

impl CapacityChart {
    /// Picks the curves out of a study; nothing if the option looked at has none.
    pub fn of(study: &Study, look: ChartLook<'_>) -> Option<Self> {
        let option = |kind: OptionKind| study.options.iter().find(|option| option.kind == kind);
        let capacity = capacity_of(option(look.chosen)?, look.direction)?;
        let own = capacity.governing();
        let mut chart = Self {
            axes: look.axes,
            system: look.system,
            height_m: study.storeys.last().map_or(1.0, |storey| storey.level_m),
            equivalent: own.point.equivalent,
            curves: Vec::new(),
            shown: [0.0; 2],
            demand: 0.0,
            demand_words: String::new(),
            limit: 0.0,
            limit_words: String::new(),
            idealised: Vec::new(),
            spectrum: Vec::new(),
        };
        let kinds = std::iter::once(look.chosen).chain(look.beside.iter().copied().filter(|kind| *kind != look.chosen));
        for kind in kinds {
            let Some(option) = option(kind) else { continue };
            let Some(assessed) = capacity_of(option, look.direction).map(DirectionCapacity::governing) else {
                continue;
            };
            let (mark, dashes): (_, &'static [f64]) = match kind {
                OptionKind::Scheme { index } => (option.letter.clone(), DASHES[index % DASHES.len()]),
                _ => ("as it stands".to_owned(), &[]),
            };
            chart.curves.push(Curve { kind, mark, points: chart.points_of(assessed), dashes });
        }
        let right = chart.map([shown_mm(capacity), 0.0])[0];
        chart.demand = chart.map([own.point.roof_mm, 0.0])[0];
        let length = |mm: f64| show(mm, Dimension::Millimetres, look.system);
        let spectral = |mm: f64| if look.axes == Axes::Roof { mm } else { mm / own.point.equivalent[1] };
        let beyond = if own.point.reached { "" } else { ", beyond the method" };
        chart.demand_words = format!("demand {}{beyond}", length(spectral(own.point.roof_mm)));
        if let Some(first) = capacity.limits.first() {
            chart.limit = chart.map([first.reached.roof_mm, 0.0])[0];
            chart.limit_words = format!("first limit {}", length(spectral(first.reached.roof_mm)));
        }
        chart.idealised =
            [[0.0, 0.0], own.point.corner, own.point.end].into_iter().map(|point| chart.map(point)).collect();
        let top = chart.curves.iter().flat_map(|curve| &curve.points).filter(|point| point[0] <= right);
        let mut high = top.map(|point| point[1]).fold(0.0, f64::max);
        if look.axes == Axes::Spectral {
            chart.spectrum = look.spectrum.to_vec();
            high = look.spectrum.iter().map(|point| point.acceleration_g).fold(high, f64::max);
        }
        chart.shown = [right, high * 1.04];
        Some(chart)
    }

    fn points_of(&self, own: &Assessed) -> Vec<[f64; 2]> {
        // Every curve belongs to its own equivalent mass.
        let place = |roof: f64, force: f64| self.map_with(own.point.equivalent, [roof, force]);
        own.curve.points.iter().map(|point| place(point.roof_mm, point.base_shear_kn)).collect()
    }

    /// A roof displacement (mm) and base shear (kN) of the option looked at in the units of the axes.
    fn map(&self, at: [f64; 2]) -> [f64; 2] {
        self.map_with(self.equivalent, at)
    }

    fn map_with(&self, equivalent: [f64; 2], [roof_mm, base_shear_kn]: [f64; 2]) -> [f64; 2] {
        let length = Dimension::Millimetres.unit(self.system).factor;
        match self.axes {
            Axes::Roof => [roof_mm * length, base_shear_kn * Dimension::Kilonewtons.unit(self.system).factor],
            Axes::Spectral => {
                let [d, a] = acceleration_displacement(equivalent, roof_mm, base_shear_kn);
                [d * length, a]
            }
        }
    }

    /// What the chart shows, for those who do not see it.
    fn words(&self) -> String {
        let others: Vec<&str> = self.curves.iter().skip(1).map(|curve| curve.mark.as_str()).collect();
        let others = if others.is_empty() { String::new() } else { format!(" Beside it: {}.", others.join(", ")) };
        let first = self.curves.first().map_or("", |curve| curve.mark.as_str());
        format!(
            "Capacity curve of {first}, drawn heavily, with numbered events; {}; {}.{others} The table below has the numbers.",
            self.demand_words, self.limit_words
        )
    }
}

/// Where the chart's numbers are on a drawing.
struct Stage {
    left: f64,
    right: f64,
    top: f64,
    base: f64,
    most: [f64; 2],
}

impl Stage {
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.left + x / self.most[0] * (self.right - self.left), self.base - y / self.most[1] * (self.base - self.top)]
    }

    /// The pieces of a line that are on the chart.
    fn clipped(&self, points: &[[f64; 2]]) -> Vec<Vec<[f64; 2]>> {
        let edge = self.most[0];
        let mut pieces: Vec<Vec<[f64; 2]>> = vec![Vec::new()];
        let mut put = |point: [f64; 2], anew: bool| {
            if anew {
                pieces.push(Vec::new());
            }
            if let Some(piece) = pieces.last_mut() {
                piece.push(self.at(point));
            }
        };
        for (k, point) in points.iter().enumerate() {
            let inside = point[0] <= edge;
            if let Some(before) = k.checked_sub(1).map(|k| points[k])
                && (before[0] <= edge) != inside
            {
                let part = (edge - before[0]) / (point[0] - before[0]);
                put([edge, before[1] + part * (point[1] - before[1])], inside);
            }
            if inside {
                put(*point, false);
            }
        }
        pieces.retain(|piece| piece.len() > 1);
        pieces
    }
}

const LABEL_PX: f64 = 13.0;

impl CapacityChart {
    fn stage(&self, [width, height]: [f64; 2], compact: bool) -> (Stage, [Vec<f64>; 2]) {
        let ticks =
            [ticks(self.shown[0], if compact { 4 } else { 7 }), ticks(self.shown[1], if compact { 4 } else { 5 })];
        let most = [ticks[0][ticks[0].len() - 1], ticks[1][ticks[1].len() - 1]];
        let letter = if compact { 1.3 } else { 1.0 };
        let label = ByAverage.width_px(&grouped(most[1], decimals(most[1])), LABEL_PX * letter);
        let stage = Stage {
            left: label + 16.0,
            right: width - if compact { 60.0 } else { 92.0 },
            top: 62.0 * letter,
            base: height - 52.0 * letter,
            most,
        };
        (stage, ticks)
    }

    /// Draws the chart.
    pub fn draw(&self, size: [f64; 2], compact: bool, numbered: &[Numbered]) -> Drawing {
        let mut drawing = Drawing::new(size[0], size[1]);
        let (stage, ticks) = self.stage(size, compact);
        self.draw_axes(&mut drawing, &stage, &ticks, compact);
        if self.axes == Axes::Spectral {
            self.draw_spectrum(&mut drawing, &stage);
        }
        drawing.polyline(Ink::CurveThin, &stage.clipped(&self.idealised));
        let mut ends = Vec::new();
        for (k, curve) in self.curves.iter().enumerate().rev() {
            let pieces = stage.clipped(&curve.points);
            if let Some(end) = pieces.last().and_then(|piece| piece.last()) {
                ends.push((curve.mark.clone(), k == 0, *end));
            }
            if k == 0 {
                drawing.polyline(Ink::Curve, &pieces);
            } else {
                let pairs = |piece: Vec<[f64; 2]>| piece.into_iter().map(|[x, y]| (x, y)).collect::<Vec<_>>();
                let dashes: Vec<Vec<[f64; 2]>> = pieces
                    .into_iter()
                    .flat_map(|piece| dashed(&pairs(piece), curve.dashes))
                    .map(|dash| dash.into_iter().map(|(x, y)| [x, y]).collect())
                    .collect();
                drawing.polyline(Ink::CurveMid, &dashes);
            }
        }
        self.draw_lines(&mut drawing, &stage, size[0], compact);
        // A long name has no room beside a small chart: it stands above its curve.
        let above = |mark: &str| compact && mark.len() > 3;
        let room = |mark: &str| if above(mark) { 44.0 } else { 20.0 };
        let rooms: Vec<f64> = ends.iter().map(|(mark, ..)| if compact { room(mark) } else { 16.0 }).collect();
        let places: Vec<f64> = ends.iter().map(|(.., at)| at[1]).collect();
        let moved = parted(&places, &rooms, stage.top - 8.0, stage.base);
        for ((mark, heavy, [x, y]), place) in ends.into_iter().zip(moved) {
            // Labels stand clear of the numbers on the curve.
            let from = [x + 3.0, y];
            drawing.line(Ink::Thin, from, [x + 12.0, place]);
            let ink = if heavy { Ink::Figure } else { Ink::Text };
            if above(&mark) {
                drawing.text(ink, [x - 2.0, place - 9.0], Anchor::End, mark);
            } else {
                drawing.text(ink, [x + 15.0, place + 4.5], Anchor::Start, mark);
            }
        }
        for own in numbered {
            let at = stage.at(self.map(own.at));
            let first = drawing.shapes.len();
            drawing.circle(Ink::Ring, at, 9.0);
            drawing.text(Ink::Small, [at[0], at[1] + 4.2], Anchor::Middle, own.number.to_string());
            drawing.mark_event(first, own.number);
        }
        drawing.words = self.words();
        drawing
    }

    fn draw_axes(&self, drawing: &mut Drawing, stage: &Stage, ticks: &[Vec<f64>; 2], compact: bool) {
        let line = if compact { 19.0 } else { 15.0 };
        for tick in &ticks[0] {
            let [x, _] = stage.at([*tick, 0.0]);
            drawing.line(Ink::Hairline, [x, stage.top], [x, stage.base]);
            drawing.text(Ink::Small, [x, stage.base + line], Anchor::Middle, grouped(*tick, decimals(ticks[0][1])));
            if self.axes == Axes::Roof && *tick > 0.0 {
                let drift = tick / Dimension::Millimetres.unit(self.system).factor / 1000.0 / self.height_m;
                let text = format!("{}\u{a0}%", grouped(100.0 * drift, 2));
                if !compact || ticks[0].len() < 6 {
                    drawing.text(Ink::Small, [x, stage.base + 2.0 * line], Anchor::Middle, text);
                }
            }
        }
        for tick in &ticks[1] {
            let [_, y] = stage.at([0.0, *tick]);
            drawing.line(Ink::Hairline, [stage.left, y], [stage.right, y]);
            let text = grouped(*tick, decimals(ticks[1][1]));
            drawing.text(Ink::Small, [stage.left - 6.0, y + 4.0], Anchor::End, text);
        }
        drawing
            .polyline(Ink::Thin, &[vec![[stage.left, stage.top], [stage.left, stage.base], [stage.right, stage.base]]]);
        let length = Dimension::Millimetres.unit(self.system).symbol;
        let force = Dimension::Kilonewtons.unit(self.system).symbol;
        let (across, up) = match self.axes {
            Axes::Roof => {
                (format!("roof displacement, {length}; below it over the height"), format!("base shear, {force}"))
            }
            Axes::Spectral => (format!("spectral displacement, {length}"), "spectral acceleration, g".to_owned()),
        };
        drawing.text(Ink::Small, [stage.left - 6.0, line], Anchor::Start, up);
        drawing.text(Ink::Small, [stage.right, stage.base + 3.0 * line], Anchor::End, across);
    }

    /// Demand and first limit, with their words in rows of their own above the chart.
    fn draw_lines(&self, drawing: &mut Drawing, stage: &Stage, width: f64, compact: bool) {
        let (line, letter) = if compact { (19.0, 1.3) } else { (16.0, 1.0) };
        let mut put = |value: f64, row: f64, text: &str, ink: Ink, letters: Ink| {
            let [x, _] = stage.at([value.min(stage.most[0]), 0.0]);
            let y = stage.top - 4.0 - row * line;
            drawing.line(ink, [x, y - 10.0], [x, stage.base]);
            // On the side with more room; words longer than that stay inside the chart.
            let wide = ByAverage.width_px(text, LABEL_PX * letter);
            let later = x > (stage.left + stage.right) / 2.0;
            let (at, anchor) = if later && x - 5.0 - wide > stage.left {
                (x - 5.0, Anchor::End)
            } else if !later && x + 5.0 + wide < width {
                (x + 5.0, Anchor::Start)
            } else {
                ((x + 5.0).min(width - wide - 4.0).max(stage.left + 4.0), Anchor::Start)
            };
            drawing.text(letters, [at, y], anchor, text);
        };
        if self.limit > 0.0 {
            put(self.limit, 0.0, &self.limit_words, Ink::Dotted, Ink::Text);
        }
        put(self.demand, 1.0, &self.demand_words, Ink::DemandLine, Ink::DemandText);
    }

    fn draw_spectrum(&self, drawing: &mut Drawing, stage: &Stage) {
        let length = Dimension::Millimetres.unit(self.system).factor;
        let at = |point: &SpectrumPoint| [point.displacement_mm * length, point.acceleration_g];
        for period in [0.2, 0.5, 1.0, 1.5, 2.0] {
            // Up to the spectrum, where the period is written.
            let Some(point) = self.spectrum.iter().find(|point| point.period_s >= period - 1e-9) else { continue };
            let end = at(point);
            let part = (stage.most[0] / end[0]).min(1.0);
            let to = stage.at([end[0] * part, end[1] * part]);
            drawing.line(Ink::Hairline, stage.at([0.0, 0.0]), to);
            if part >= 1.0 {
                let text = format!("{}\u{a0}s", grouped(period, 1));
                drawing.text(Ink::Small, [to[0] + 4.0, to[1] - 5.0], Anchor::Start, text);
            }
        }
        let points: Vec<[f64; 2]> = self.spectrum.iter().map(at).collect();
        drawing.polyline(Ink::DemandLine, &stage.clipped(&points));
    }

    /// Where the scrubber is, and what is pointed at, to be laid over the chart.
    pub fn overlay(&self, size: [f64; 2], compact: bool, at: [f64; 2], pointed: Option<[f64; 2]>) -> Drawing {
        let mut drawing = Drawing::new(size[0], size[1]);
        let (stage, _) = self.stage(size, compact);
        if let Some(pointed) = pointed {
            drawing.circle(Ink::Pointed, stage.at(self.map(pointed)), 13.0);
        }
        let value = self.map(at);
        // Beyond the chart it waits at the edge.
        let place = stage.at([value[0].min(stage.most[0]), value[1]]);
        drawing.line(Ink::Thin, [place[0], stage.base], place);
        drawing.circle(Ink::Plain, place, 5.5);
        drawing
    }
}

/// Decimals that tell ticks of this size apart.
fn decimals(step: f64) -> usize {
    if step >= 1.0 {
        0
    } else if step >= 0.1 {
        1
    } else {
        2
    }
}
