//! Connections to scale, with the forces on the piece that shows what they pass.

mod column;
mod floor_span;
mod footing;
mod line;
mod node;
mod panel;
mod slab;

use super::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{Acting, ConnectionKind, ConnectionResult, FreeBody, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// A scale with its origin, px to a metre.
struct Scale {
    left: f64,
    top: f64,
    px_m: f64,
}

impl Scale {
    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.px_m, self.top + y * self.px_m]
    }

    fn rect(&self, drawing: &mut Drawing, ink: Ink, [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) {
        drawing.rect(ink, self.at(x0, y0), self.at(x1, y1));
    }

    fn line(&self, drawing: &mut Drawing, ink: Ink, [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) {
        drawing.line(ink, self.at(x0, y0), self.at(x1, y1));
    }
}

/// Figures of a connection as drawings need them.
struct Figures<'a>(&'a ConnectionResult);

impl Figures<'_> {
    /// A length in metres, whatever it is kept in; nothing where it is not there.
    fn metres(&self, symbol: Symbol) -> f64 {
        let value = self.0.figure(symbol).unwrap_or(0.0);
        if symbol.dimension() == Dimension::Millimetres { value / 1000.0 } else { value }
    }

    /// A figure with its unit.
    fn shown(&self, symbol: Symbol, system: System) -> String {
        show(self.0.figure(symbol).unwrap_or(0.0), symbol.dimension(), system)
    }
}

fn length(value_m: f64, system: System) -> String {
    if value_m < 1.0 {
        show(1000.0 * value_m, Dimension::Millimetres, system)
    } else {
        show(value_m, Dimension::Metres, system)
    }
}

/// A dimension line with its figure, below or beside what it measures.
fn measured(drawing: &mut Drawing, from: [f64; 2], to: [f64; 2], text: String) {
    drawing.line(Ink::Thin, from, to);
    for end in [from, to] {
        drawing.line(Ink::Thin, [end[0] - 3.0, end[1] + 3.0], [end[0] + 3.0, end[1] - 3.0]);
    }
    if text.is_empty() {
        return;
    }
    if (from[1] - to[1]).abs() < 1.0 {
        drawing.text(Ink::Small, [(from[0] + to[0]) / 2.0, from[1] + 13.0], Anchor::Middle, text);
    } else {
        drawing.text(Ink::Small, [from[0] + 7.0, (from[1] + to[1]) / 2.0 + 4.0], Anchor::Start, text);
    }
}

/// Dimension lines from one ordinate to the next, in a row.
fn measured_row(drawing: &mut Drawing, scale: &Scale, ordinates: &[f64], y: f64, system: System) {
    for pair in ordinates.windows(2).filter(|pair| pair[1] > pair[0]) {
        let ends = [pair[0], pair[1]].map(|x| [scale.at(x, 0.0)[0], y]);
        measured(drawing, ends[0], ends[1], length(pair[1] - pair[0], system));
    }
}

/// The forces on a piece as arrows.
struct Forces<'a> {
    /// Every force.
    acting: &'a [Acting],
    /// From metres to px.
    at: &'a dyn Fn([f64; 2]) -> [f64; 2],
    /// Whether the second axis goes down the page.
    down: bool,
    /// The middle of the piece, px; that of the forces where it is not given.
    middle: Option<[f64; 2]>,
}

/// Shortest and longest arrow, px.
const ARROW_PX: [f64; 2] = [16.0, 40.0];

impl<'a> Forces<'a> {
    fn of(body: &'a FreeBody, at: &'a dyn Fn([f64; 2]) -> [f64; 2], down: bool) -> Self {
        Self { acting: &body.acting, at, down, middle: None }
    }

    /// Draws all of them: spread forces as a row of arrows beside the edge they act on, others as
    /// one arrow that starts or ends at their point. Length goes with force.
    fn draw(&self, drawing: &mut Drawing) {
        // Every force is parallel to an axis.
        let size = |own: &Acting| own.force_kn[0].abs() + own.force_kn[1].abs();
        let most = self.acting.iter().map(size).fold(0.0, f64::max);
        if most <= 0.0 {
            return;
        }
        let points = self.acting.len() as f64;
        let of_forces = self.acting.iter().fold([0.0, 0.0], |sum, own| {
            let [x, y] = (self.at)(own.at_m);
            [sum[0] + x / points, sum[1] + y / points]
        });
        let centre = self.middle.unwrap_or(of_forces);
        for own in self.acting {
            let force = size(own);
            // A force too small to see beside the others is left to the figures.
            if force < 1e-6 * most {
                continue;
            }
            let turn = if self.down { 1.0 } else { -1.0 };
            let way = [own.force_kn[0] / force, turn * own.force_kn[1] / force];
            let long = ARROW_PX[0] + (ARROW_PX[1] - ARROW_PX[0]) * force / most;
            let at = (self.at)(own.at_m);
            let out = [at[0] - centre[0], at[1] - centre[1]];
            let outwards = out[0] * way[0] + out[1] * way[1];
            if own.spread_m > 0.0 {
                self.spread(drawing, own, way, out);
            } else if outwards >= 0.0 {
                drawing.arrow(at, at.offset(way[0] * long, way[1] * long), 3.0);
            } else {
                drawing.arrow(at.offset(-way[0] * long, -way[1] * long), at, 3.0);
            }
        }
    }

    /// Arrows along an edge, a little outside it; their number goes with its length.
    fn spread(&self, drawing: &mut Drawing, own: &Acting, way: [f64; 2], out: [f64; 2]) {
        let upright = way[1].abs() > way[0].abs();
        let along = usize::from(upright);
        let mut ends = [own.at_m; 2];
        ends[0][along] -= own.spread_m / 2.0;
        ends[1][along] += own.spread_m / 2.0;
        let px = ((self.at)(ends[1])[along] - (self.at)(ends[0])[along]).abs();
        let count = (px / 70.0).round().clamp(1.0, 8.0);
        let beside = if upright { [8.0 * side(out[0]), 0.0] } else { [0.0, 8.0 * side(out[1])] };
        let long = (0.62 * px / count).min(44.0);
        for place in 0..count as usize {
            let part = (place as f64 + 0.5) / count - 0.5;
            let mut at = own.at_m;
            at[along] += part * own.spread_m;
            let middle = (self.at)(at).offset(beside[0], beside[1]);
            let half = [way[0] * long / 2.0, way[1] * long / 2.0];
            drawing.arrow(middle.offset(-half[0], -half[1]), middle.offset(half[0], half[1]), 2.5);
        }
    }
}

/// The side of the middle something lies on.
fn side(value: f64) -> f64 {
    if value < 0.0 { -1.0 } else { 1.0 }
}

fn titled(title: &'static str, drawing: Option<Drawing>) -> Vec<(&'static str, Drawing)> {
    drawing.map(|drawing| (title, drawing)).into_iter().collect()
}

/// The drawings of a connection; none where there is nothing to show to scale.
pub fn joint_drawings(of: &ConnectionResult, width: f64, system: System) -> Vec<(&'static str, Drawing)> {
    match of.kind {
        ConnectionKind::ConnectingSlab => vec![
            ("Section", slab::section(of, width, system)),
            ("Plan of a part of the strip", slab::part(of, width, system)),
            ("Plan of the strip with the forces on it", slab::whole(of, width, system)),
        ],
        ConnectionKind::Perimeter => vec![("Elevation with the forces on the panel", panel::round(of, width, system))],
        ConnectionKind::WingEdge => vec![
            ("Section from above", column::wing_plan(of, width, system)),
            ("Elevation with the forces on the wing", column::beyond(of, width, system)),
        ],
        // A jacket beside the force has no face across it to cut free.
        ConnectionKind::JacketFace if of.figure(Symbol::SkinBeyond) == Some(0.0) => {
            vec![("Section from above", column::jacket_plan(of, width, system))]
        }
        ConnectionKind::JacketFace => vec![
            ("Section from above", column::jacket_plan(of, width, system)),
            ("Elevation with the forces on the jacket beyond the face", column::beyond(of, width, system)),
        ],
        ConnectionKind::Collector => {
            titled("Elevation of the line, and the force along it", line::along(of, width, system))
        }
        ConnectionKind::FloorEdge => titled("Plan along the line", line::edge(of, width, system)),
        ConnectionKind::Footing if of.figure(Symbol::FootingLength).is_some() => {
            vec![("Section along the force", footing::section(of, width, system))]
        }
        ConnectionKind::Footing => Vec::new(),
        ConnectionKind::Joint => {
            titled("Elevation of the joint with the forces on it", node::elevation(of, width, system))
        }
        ConnectionKind::FloorSpan => titled("Plan with the forces on half of it", floor_span::plan(of, width, system)),
    }
}

/// A bar by its diameter.
fn named_bar(diameter_m: f64, system: System) -> String {
    match system {
        System::Si => format!("D{:.0}", 1000.0 * diameter_m),
        System::Us => format!("{} bars", show(1000.0 * diameter_m, Dimension::Millimetres, system)),
    }
}

/// Height of a line of a heading, px.
const HEAD_PX: f64 = 17.0;

/// Parts of a heading in as few lines as the width allows.
fn headed(parts: &[String], width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if 7.5 * (line.chars().count() + part.chars().count() + 2) as f64 <= width => {
                line.push_str(", ");
                line.push_str(part);
            }
            _ => lines.push(part.clone()),
        }
    }
    lines
}

/// Writes a heading from the top on.
fn head(drawing: &mut Drawing, ink: Ink, left: f64, lines: &[String]) {
    for (place, line) in lines.iter().enumerate() {
        drawing.text(ink, [left, HEAD_PX * (place as f64 + 1.0)], Anchor::Start, line.clone());
    }
}

fn spaced(spacing_m: f64, system: System) -> String {
    format!("at {}", show(1000.0 * spacing_m, Dimension::Millimetres, system))
}

/// A point moved a little.
trait Offset {
    fn offset(self, x: f64, y: f64) -> Self;
}

impl Offset for [f64; 2] {
    fn offset(self, x: f64, y: f64) -> Self {
        [self[0] + x, self[1] + y]
    }
}
