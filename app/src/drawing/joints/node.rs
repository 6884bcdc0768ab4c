//! A beam–column joint with the columns above and below it.

use super::{Figures, Forces, HEAD_PX, Scale, head, headed, length, measured_row};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{ConnectionResult, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// Elevation of the joint between the turning points of its columns.
pub fn elevation(of: &ConnectionResult, width: f64, system: System) -> Option<Drawing> {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (deep, beam, high) = (m(Symbol::ColumnDepth), m(Symbol::BeamDepth), m(Symbol::StoreyHeight));
    if deep <= 0.0 || high <= 0.0 {
        return None;
    }
    let stub = 0.9;
    let shear = figures.shown(Symbol::Shear, system);
    let lines = headed(&[format!("shear in the joint {shear}")], width - 16.0);
    let px_m = (230.0 / high).min((width - 260.0) / (deep + 2.0 * stub));
    let top = 21.0 + HEAD_PX * lines.len() as f64;
    let scale = Scale { left: (width - (deep + 2.0 * stub) * px_m) / 2.0, top, px_m };
    let mut drawing = Drawing::new(width, top + high * px_m + 48.0);
    head(&mut drawing, Ink::DemandText, 8.0, &lines);
    let (from, to) = (stub, stub + deep);
    let (upper, lower) = (high / 2.0 - beam / 2.0, high / 2.0 + beam / 2.0);
    scale.rect(&mut drawing, Ink::Standing, [from, 0.0], [to, high]);
    scale.rect(&mut drawing, Ink::Standing, [0.0, upper], [2.0 * stub + deep, lower]);
    let corners = [[from, upper], [to, upper], [to, lower], [from, lower], [from, upper]];
    drawing.polyline(Ink::Curve, &[corners.iter().map(|&[x, y]| scale.at(x, y)).collect()]);
    let mut body = of.free_body()?;
    // Drawn beside the parts they act on, on their own lines of action.
    let out = 6.0 / px_m;
    for own in &mut body.acting {
        let half = if own.symbol == Symbol::Pull { deep / 2.0 + stub } else { deep / 2.0 };
        own.at_m[0] = if own.force_kn[0] > 0.0 { half + out } else { -half - out };
    }
    let at = |[x, y]: [f64; 2]| scale.at(stub + deep / 2.0 + x, high / 2.0 - y);
    Forces { acting: &body.acting, at: &at, down: false, middle: Some(at([0.0, 0.0])) }.draw(&mut drawing);
    for own in &body.acting {
        let force = show(own.force_kn[0].abs(), Dimension::Kilonewtons, system);
        let [x, y] = at(own.at_m);
        let (anchor, by) = if own.force_kn[0] > 0.0 { (Anchor::Start, 46.0) } else { (Anchor::End, -46.0) };
        drawing.text(Ink::DemandText, [x + by, y + 4.0], anchor, force);
    }
    let [_, foot] = scale.at(0.0, high);
    measured_row(&mut drawing, &scale, &[from, to], foot + 14.0, system);
    drawing.text(
        Ink::Small,
        [8.0, foot + 42.0],
        Anchor::Start,
        format!("{} from turning point to turning point", length(high, system)),
    );
    drawing.words = format!(
        "Elevation of the joint, column {} and beam {} deep, between the turning points of its columns, {} apart: the beams' bars \
         pull above on one side and below on the other, the columns' shears act against them; {shear} is left in the joint.",
        length(deep, system),
        length(beam, system),
        length(high, system)
    );
    Some(drawing)
}
