//! A footing with the pressure under it.

use super::{Figures, Scale, length, measured};
use crate::drawing::{Anchor, Drawing, Ink, Mark, Px};
use sisterframe_core::connection::{ConnectionResult, Part, Symbol, least_pressure_kpa};
use sisterframe_core::units::{Dimension, System, show};

/// A footing cut along the force with the pressure under it.
pub fn section(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (long, deep) = (m(Symbol::FootingLength), m(Symbol::FootingDepth));
    let bearing = of.check(Part::Bearing);
    let term = |symbol| bearing.and_then(|check| check.term(symbol)).unwrap_or(0.0);
    let (contact, load) = (term(Symbol::Contacted), term(Symbol::Compression));
    let pressure = bearing.map_or(0.0, |check| if check.strength > 0.0 { check.demand } else { 0.0 });
    let px_m = ((width - 110.0) / long).min(80.0);
    let scale = Scale { left: (width - long * px_m) / 2.0, top: 66.0, px_m };
    let mut drawing = Drawing::new(width, 66.0 + deep * px_m + 122.0);
    scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], [long, deep]);
    let [left, base] = scale.at(0.0, deep);
    let right = left + long * px_m;
    drawing.line(Ink::Ground, [left - 20.0, base], [right + 20.0, base]);
    // The load where it acts.
    let at = left + (long / 2.0 + term(Symbol::Eccentricity)) * px_m;
    drawing.arrow([at, 26.0], [at, 64.0], 3.0);
    let force = show(load, Dimension::Kilonewtons, system);
    let eccentric = length(term(Symbol::Eccentricity), system);
    drawing.text(Ink::DemandText, [8.0, 16.0], Anchor::Start, format!("{force}, {eccentric} off the middle"));
    if pressure > 0.0 {
        let most = 62.0;
        // Falls to nothing where the contact ends, or to what is left at the other edge.
        let least = least_pressure_kpa(of).unwrap_or(0.0);
        let far = right - contact * px_m;
        let depth = |value: f64| base + 4.0 + most * value / pressure;
        let outline = format!(
            "M{} {}L{} {}L{} {}L{} {}Z",
            Px(right),
            Px(base + 4.0),
            Px(right),
            Px(depth(pressure)),
            Px(far),
            Px(depth(least)),
            Px(far),
            Px(base + 4.0)
        );
        drawing.put(Ink::DemandTint, Mark::Path(outline));
        let words = show(pressure, Dimension::Kilopascals, system);
        drawing.text(Ink::DemandText, [right, depth(pressure) + 14.0], Anchor::End, words);
    }
    let below = base + 98.0;
    measured(
        &mut drawing,
        [left, below],
        [right, below],
        format!("{} × {} wide", length(long, system), length(m(Symbol::Width), system)),
    );
    drawing.words = format!(
        "Section of the footing, {} long and {} wide: {force} acts {eccentric} off its middle; it bears over {} with at most {}.",
        length(long, system),
        length(m(Symbol::Width), system),
        length(contact, system),
        show(pressure, Dimension::Kilopascals, system)
    );
    drawing
}
