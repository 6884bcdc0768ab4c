//! Wings and jackets where they meet the old column.

use super::{Figures, Forces, HEAD_PX, Scale, head, headed, length, measured, measured_row, named_bar, spaced};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{ConnectionKind, ConnectionResult, Symbol};
use sisterframe_core::material::Bar;
use sisterframe_core::section_shapes::{PerimeterBars, jacket_bars};
use sisterframe_core::units::System;

/// Cover kept free at the ends of the bars drawn, m.
const COVER_M: f64 = 0.04;

/// Column and wings from above with the bars across the joints.
pub fn wing_plan(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (longer, other, t) = (m(Symbol::Length), m(Symbol::OtherWing), m(Symbol::Thickness));
    let (deep, across) = (m(Symbol::ColumnDepth), m(Symbol::ColumnWidth));
    let (total, high) = (other + deep + longer, across.max(t));
    let embedded = m(Symbol::Embedment);
    let held = if embedded > 0.0 {
        format!("embedded {}", length(embedded, system))
    } else {
        "embedment not given".to_owned()
    };
    let bars = format!("{} {}, two layers", named_bar(m(Symbol::Bar), system), spaced(m(Symbol::Spacing), system));
    let lines = headed(&[bars.clone(), held.clone()], width - 16.0);
    let top = 13.0 + HEAD_PX * lines.len() as f64;
    let px_m = ((width - 110.0) / total).min(180.0 / high);
    let scale = Scale { left: (width - 40.0 - total * px_m) / 2.0, top: top + high * px_m / 2.0, px_m };
    let mut drawing = Drawing::new(width, top + high * px_m + 46.0);
    let (from, to) = (other, other + deep);
    scale.rect(&mut drawing, Ink::Standing, [from, -across / 2.0], [to, across / 2.0]);
    scale.rect(&mut drawing, Ink::Added, [0.0, -t / 2.0], [from, t / 2.0]);
    scale.rect(&mut drawing, Ink::Added, [to, -t / 2.0], [total, t / 2.0]);
    for y in [-1.0, 1.0].map(|side: f64| side * (t / 2.0 - COVER_M)) {
        if other > 0.0 {
            scale.line(&mut drawing, Ink::CurveMid, [COVER_M, y], [from + embedded, y]);
        }
        scale.line(&mut drawing, Ink::CurveMid, [to - embedded, y], [total - COVER_M, y]);
    }
    // The joint that is checked.
    scale.line(&mut drawing, Ink::Curve, [to, -t / 2.0 - 0.02], [to, t / 2.0 + 0.02]);
    head(&mut drawing, Ink::Figure, 8.0, &lines);
    let below = scale.at(0.0, high / 2.0)[1] + 16.0;
    measured_row(&mut drawing, &scale, &[0.0, from, to, total], below, system);
    let [beside, top] = scale.at(total, -t / 2.0);
    measured(&mut drawing, [beside + 8.0, top], [beside + 8.0, top + t * px_m], length(t, system));
    drawing.words = format!(
        "Section from above: old column {} along the force and {} across it, wings {} and {} long and {} thick. Bars {bars}, \
         {held} in the column.",
        length(deep, system),
        length(across, system),
        length(longer, system),
        length(other, system),
        length(t, system),
    );
    drawing
}

/// Thickness of a jacket before and beyond the column along the force and on its two sides, m.
fn skins(figures: &Figures<'_>) -> [f64; 4] {
    let all = figures.metres(Symbol::Thickness);
    let of = |symbol| if figures.0.figure(symbol).is_some() { figures.metres(symbol) } else { all };
    [Symbol::SkinBefore, Symbol::SkinBeyond, Symbol::SkinLower, Symbol::SkinHigher].map(of)
}

/// Column and jacket from above with the jacket's bars and hoops; the force goes to the right.
pub fn jacket_plan(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (deep, across, t) = (m(Symbol::ColumnDepth), m(Symbol::ColumnWidth), m(Symbol::Thickness));
    let [before, beyond, lower, higher] = skins(&figures);
    let closed = [before, beyond, lower, higher].iter().all(|added| *added > 0.0);
    let whole = [before + deep + beyond, lower + across + higher];
    let px_m = ((width - 150.0) / whole[0]).min(230.0 / whole[1]);
    let (bar, edge, hoop) = (m(Symbol::UprightBar), m(Symbol::BarEdge), m(Symbol::Bar));
    let count = of.figure(Symbol::UprightBars).unwrap_or(0.0);
    let embedded = m(Symbol::Embedment);
    let mut named = vec![format!("hoops {} {}", named_bar(hoop, system), spaced(m(Symbol::Spacing), system))];
    if !closed {
        named.push(format!("anchored {} in the column", length(embedded, system)));
    }
    named.push(format!("{count:.0} upright {}", named_bar(bar, system)));
    let lines = headed(&named, width - 16.0);
    let top = 13.0 + HEAD_PX * lines.len() as f64;
    let scale = Scale { left: (width - whole[0] * px_m) / 2.0, top, px_m };
    let mut drawing = Drawing::new(width, top + whole[1] * px_m + 46.0);
    scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], whole);
    scale.rect(&mut drawing, Ink::Standing, [before, lower], [before + deep, lower + across]);
    let middle = [before + deep / 2.0, lower + across / 2.0];
    let bars = PerimeterBars {
        count: count as u32,
        bar: Bar::round(1000.0 * bar),
        cover_mm: 1000.0 * (edge - bar / 2.0 - hoop),
        hoop_diameter_mm: 1000.0 * hoop,
        yield_mpa: 0.0,
    };
    let sizes = [1000.0 * deep, 1000.0 * across];
    let placed = jacket_bars(sizes, [before, beyond, lower, higher].map(|added| 1000.0 * added), &bars);
    let placed = placed.unwrap_or_default();
    let at = |x_mm: f64, y_mm: f64| [middle[0] + x_mm / 1000.0, middle[1] + y_mm / 1000.0];
    drawing.polyline(
        Ink::CurveMid,
        &[hoop_line(&scale, whole, [before, beyond, lower, higher], edge - bar / 2.0 - hoop / 2.0, embedded)],
    );
    for own in &placed {
        let [x, y] = at(own.x_mm, own.y_mm);
        drawing.circle(Ink::Plain, scale.at(x, y), (bar * px_m / 2.0).max(2.0));
    }
    // The face that is checked: its plane runs on through the jacket's sides. A jacket beside the
    // force hands over along its own face, on one side of mid-depth.
    if beyond > 0.0 {
        scale.line(&mut drawing, Ink::Curve, [before + deep, 0.0], [before + deep, whole[1]]);
    } else {
        let y = if lower > 0.0 { lower } else { across };
        scale.line(&mut drawing, Ink::Curve, [middle[0], y], [before + deep, y]);
    }
    head(&mut drawing, Ink::Figure, 8.0, &lines);
    let below = scale.at(0.0, whole[1])[1] + 16.0;
    let mut marks = vec![0.0];
    marks.extend([before, before + deep, whole[0]].into_iter().filter(|mark| *mark > 0.0));
    marks.dedup();
    measured_row(&mut drawing, &scale, &marks, below, system);
    let beside = scale.at(whole[0], 0.0)[0] + 10.0;
    let ends = [lower, lower + across].map(|y| [beside, scale.at(0.0, y)[1]]);
    measured(&mut drawing, ends[0], ends[1], length(across, system));
    drawing.words = format!(
        "Section from above: old column {} along the force and {} across it in a jacket {} thick{}; {}.",
        length(deep, system),
        length(across, system),
        length(t, system),
        if closed { "" } else { " on some of its faces" },
        named.join(", "),
    );
    drawing
}

/// A hoop on its centre line: closed, or from its anchor in the column round the jacketed faces to
/// the other.
fn hoop_line(
    scale: &Scale,
    whole: [f64; 2],
    [before, beyond, lower, higher]: [f64; 4],
    round: f64,
    embedded: f64,
) -> Vec<[f64; 2]> {
    let (x0, x1, y0, y1) = (round, whole[0] - round, round, whole[1] - round);
    let corners = [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
    // Each face runs from the corner of its own place; beyond it lies the way into the column.
    let faces = [lower, beyond, higher, before];
    let inwards = [[0.0, 1.0], [-1.0, 0.0], [0.0, -1.0], [1.0, 0.0]];
    let there = |face: usize| faces[face % 4] > 0.0;
    let Some(first) = (0..4).find(|face| there(*face) && !there(face + 3)) else {
        return corners.iter().chain([&corners[0]]).map(|&[x, y]| scale.at(x, y)).collect();
    };
    let count = (first..first + 4).take_while(|face| there(*face)).count();
    let anchored = |corner: usize, face: usize| {
        let ([x, y], [dx, dy]) = (corners[corner % 4], inwards[face % 4]);
        let reach = faces[face % 4] - round + embedded;
        [x + reach * dx, y + reach * dy]
    };
    let mut line = vec![anchored(first, first)];
    line.extend((first..=first + count).map(|corner| corners[corner % 4]));
    line.push(anchored(first + count, first + count - 1));
    line.into_iter().map(|[x, y]| scale.at(x, y)).collect()
}

/// Column in elevation, with what lies beyond the joint cut free.
pub fn beyond(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let wing = of.kind == ConnectionKind::WingEdge;
    let (deep, high) = (m(Symbol::ColumnDepth), m(Symbol::Height));
    let (piece, other) =
        if wing { (m(Symbol::Length), m(Symbol::OtherWing)) } else { (m(Symbol::Thickness), skins(&figures)[0]) };
    // The cut opens the joint.
    let cut = 30.0;
    let px_m = ((width - cut - 190.0) / (other + deep + piece)).min(210.0 / high);
    let top = 66.0;
    let left = 34.0_f64.max((width - 60.0 - cut - (other + deep + piece) * px_m) / 2.0 - 30.0);
    let scale = Scale { left, top, px_m };
    let mut drawing = Drawing::new(width, top + high * px_m + 66.0);
    if other > 0.0 {
        scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], [other, high]);
    }
    scale.rect(&mut drawing, Ink::Standing, [other, 0.0], [other + deep, high]);
    let beyond = Scale { left: left + (other + deep) * px_m + cut, top, px_m };
    beyond.rect(&mut drawing, Ink::Added, [0.0, 0.0], [piece, high]);
    if let Some(mut body) = of.free_body() {
        // Forces across are drawn at the far edge, on their own line of action.
        for own in body.acting.iter_mut().filter(|own| own.force_kn[0] != 0.0) {
            own.at_m[0] = piece + 4.0 / px_m;
        }
        Forces::of(&body, &|[x, y]| beyond.at(x, high - y), false).draw(&mut drawing);
    }
    let shown = |symbol| figures.shown(symbol, system);
    let half =
        sisterframe_core::units::show(of.figure(Symbol::Force).unwrap_or(0.0) / 2.0, Symbol::Force.dimension(), system);
    let [resultant, top] = beyond.at(m(Symbol::Resultant), 0.0);
    let foot = beyond.at(0.0, high)[1];
    let [edge, middle] = beyond.at(piece, high / 2.0);
    drawing.text(Ink::DemandText, [resultant + 8.0, top - 34.0], Anchor::Start, half.clone());
    drawing.text(Ink::DemandText, [resultant + 8.0, foot + 44.0], Anchor::Start, half.clone());
    drawing.text(Ink::DemandText, [edge + 46.0, top + 4.0], Anchor::Start, shown(Symbol::ShearBeyond));
    drawing.text(Ink::DemandText, [edge + 46.0, foot + 4.0], Anchor::Start, shown(Symbol::ShearBeyond));
    drawing.text(
        Ink::DemandText,
        [edge + 10.0, middle - 4.0],
        Anchor::Start,
        format!("joint {}", shown(Symbol::Force)),
    );
    drawing.text(Ink::Small, [edge + 10.0, middle + 13.0], Anchor::Start, shown(Symbol::ShearFlow));
    let whole =
        format!("{} with V = {}", if wing { "column and wings" } else { "column and jacket" }, shown(Symbol::Shear));
    drawing.text(Ink::Small, [8.0, 17.0], Anchor::Start, whole);
    let beside = scale.at(0.0, 0.0)[0] - 8.0;
    for y in [top, foot] {
        drawing.line(Ink::Thin, [beside - 3.0, y + 3.0], [beside + 3.0, y - 3.0]);
    }
    drawing.line(Ink::Thin, [beside, top], [beside, foot]);
    // Below the arrow at the foot, which stands close to a column that has nothing on its other side.
    drawing.text(Ink::Small, [beside - 6.0, foot + 44.0], Anchor::Start, format!("{} clear", length(high, system)));
    drawing.words = format!(
        "Elevation over the clear height, {}: the column with what is added carries {}. What lies beyond the joint is cut free: \
         the joint passes {} upwards, {} to each metre; bending presses {half} on its head and pulls {half} at its foot, and \
         {} of the shear passes through it.",
        length(high, system),
        shown(Symbol::Shear),
        shown(Symbol::Force),
        shown(Symbol::ShearFlow),
        shown(Symbol::ShearBeyond),
    );
    drawing
}
