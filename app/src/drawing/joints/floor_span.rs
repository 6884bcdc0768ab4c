//! An old floor that bends in its plane between the lines that hold it.

use super::{Figures, Forces, Scale, length, measured};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{ConnectionResult, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// Breadth of the strip that stands for the load, px.
const LOAD_PX: f64 = 9.0;

/// Plan of the floor between two lines, half of it cut free.
pub fn plan(of: &ConnectionResult, width: f64, system: System) -> Option<Drawing> {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (span, deep, lever) = (m(Symbol::FloorSpan), m(Symbol::FloorDepth), m(Symbol::FloorLever));
    if span <= 0.0 || deep <= 0.0 {
        return None;
    }
    let px_m = ((width - 190.0) / span).min(190.0 / deep);
    let scale = Scale { left: (width - span * px_m) / 2.0 - 20.0, top: 74.0, px_m };
    let mut drawing = Drawing::new(width, 74.0 + deep * px_m + 84.0);
    let middle = span / 2.0;
    scale.rect(&mut drawing, Ink::Standing, [0.0, 0.0], [middle, deep]);
    scale.rect(&mut drawing, Ink::Faint, [middle, 0.0], [span, deep]);
    for x in [0.0, span] {
        scale.line(&mut drawing, Ink::Curve, [x, 0.0], [x, deep]);
    }
    let [left, top] = scale.at(0.0, 0.0);
    let [cut, foot] = scale.at(middle, deep);
    drawing.rect(Ink::DemandTint, [left, top - 4.0 - LOAD_PX], [cut, top - 4.0]);
    let body = of.free_body()?;
    // The load comes from behind, the line holds in front, the chords act at the cut.
    let at = |[x, y]: [f64; 2]| scale.at(x, deep / 2.0 + y);
    let mut acting = body.acting.clone();
    for own in &mut acting {
        if own.symbol == Symbol::Force {
            let edge = deep / 2.0 + 4.0 / px_m;
            own.at_m[1] = if own.force_kn[1] < 0.0 { edge } else { -edge - LOAD_PX / px_m };
        }
    }
    let piece = Some([(left + cut) / 2.0, (top + foot) / 2.0]);
    Forces { acting: &acting, at: &at, down: true, middle: piece }.draw(&mut drawing);
    let half = body.acting.iter().find(|own| own.symbol == Symbol::Force).map_or(0.0, |own| own.force_kn[1].abs());
    let force = show(half, Dimension::Kilonewtons, system);
    let (chord, load) = (figures.shown(Symbol::Chord, system), figures.shown(Symbol::FloorLoad, system));
    let [resultant, _] = scale.at(span / 4.0, 0.0);
    drawing.text(Ink::DemandText, [resultant + 9.0, top - 34.0], Anchor::Start, format!("{force}, {load}"));
    drawing.text(Ink::DemandText, [left + 9.0, foot + 40.0], Anchor::Start, format!("line holds {force}"));
    let right = scale.at(span, 0.0)[0] + 12.0;
    for y in [-lever / 2.0, lever / 2.0] {
        let y = at([middle, y])[1] + 4.0;
        drawing.text(Ink::DemandText, [right + 8.0, y], Anchor::Start, chord.clone());
    }
    measured(&mut drawing, [right, top], [right, foot], length(deep, system));
    let below = foot + 54.0;
    measured(&mut drawing, [left, below], [scale.at(span, 0.0)[0], below], length(span, system));
    drawing.words = format!(
        "Plan of the floor between two lines {} apart, {} deep along the force. Half of it is cut free: {load} of its own force, \
         {force} in all, is held by the line at its end; at the middle its edges pull and press with {chord}, {} apart.",
        length(span, system),
        length(deep, system),
        length(lever, system)
    );
    Some(drawing)
}
