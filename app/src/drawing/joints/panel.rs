//! A filled bay with the bars round it.

use super::{Figures, Forces, HEAD_PX, Scale, head, headed, length, named_bar, spaced};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{ConnectionResult, Symbol};
use sisterframe_core::units::System;

/// Elevation of the bay, with the shears along the panel's edges.
pub fn round(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (long, high, embedded) = (m(Symbol::Length), m(Symbol::Height), m(Symbol::Embedment));
    let spacing = m(Symbol::Spacing).max(0.03);
    let edge = 0.45;
    let px_m = ((width - 60.0) / (long + 2.0 * edge)).min(230.0 / (high + 2.0 * edge));
    let held = format!("embedded {}", length(embedded, system));
    let bars = format!("{} {}", named_bar(m(Symbol::Bar), system), spaced(spacing, system));
    let lines = headed(&[bars.clone(), held.clone()], width - 16.0);
    let top = 13.0 + HEAD_PX * lines.len() as f64;
    let scale = Scale { left: (width - long * px_m) / 2.0, top: top + edge * px_m, px_m };
    let mut drawing = Drawing::new(width, top + (high + 2.0 * edge) * px_m + 26.0);
    scale.rect(&mut drawing, Ink::Standing, [-edge, -edge], [long + edge, high + edge]);
    scale.rect(&mut drawing, Ink::Opening, [0.0, 0.0], [long, high]);
    scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], [long, high]);
    let inside = 0.3_f64.min(high / 4.0).min(long / 4.0);
    let mut x = spacing / 2.0;
    while x < long {
        scale.line(&mut drawing, Ink::CurveMid, [x, -embedded], [x, inside]);
        scale.line(&mut drawing, Ink::CurveMid, [x, high - inside], [x, high + embedded]);
        x += spacing;
    }
    let mut y = spacing / 2.0;
    while y < high {
        scale.line(&mut drawing, Ink::CurveMid, [-embedded, y], [inside, y]);
        scale.line(&mut drawing, Ink::CurveMid, [long - inside, y], [long + embedded, y]);
        y += spacing;
    }
    // Drawn inside the bars, on the part of the panel they leave.
    let [part_x, part_y] = [long, high].map(|whole| (whole - 2.0 * inside - 40.0 / px_m).max(whole / 4.0) / whole);
    if let Some(body) = of.free_body() {
        let at = |[x, y]: [f64; 2]| scale.at(long / 2.0 + x * part_x, high / 2.0 - y * part_y);
        Forces::of(&body, &at, false).draw(&mut drawing);
    }
    let (whole, along) = (figures.shown(Symbol::Shear, system), figures.shown(Symbol::PanelShear, system));
    let upright = figures.shown(Symbol::UprightShear, system);
    let [middle, centre] = scale.at(long / 2.0, high / 2.0);
    let shown = [format!("top and foot {along}"), format!("sides {upright}")];
    let half = 6.0 + 7.4 * shown.iter().map(|text| text.chars().count()).max().unwrap_or(0) as f64 / 2.0;
    drawing.rect(Ink::Opening, [middle - half, centre - 19.0], [middle + half, centre + 19.0]);
    for (text, y) in shown.into_iter().zip([-4.0, 13.0]) {
        drawing.text(Ink::DemandText, [middle, centre + y], Anchor::Middle, text);
    }
    head(&mut drawing, Ink::Figure, 8.0, &lines);
    let clear = format!("{} × {} clear", length(long, system), length(high, system));
    drawing.text(Ink::Small, [middle, drawing.height - 6.0], Anchor::Middle, clear.clone());
    drawing.words = format!(
        "Elevation of the filled bay, {clear}: bars {bars}, {held}, in beams and columns all round. Wall and columns pass {whole} from \
         floor to floor, {along} of it through the panel along its top and foot; {upright} along each side keeps it from turning."
    );
    drawing
}
