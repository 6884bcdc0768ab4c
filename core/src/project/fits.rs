//! Bars that cannot be placed: what no builder could cast is refused.

use super::check::refuse;
use super::fields::FieldError;
use super::{Building, Jacket, WingWall};
use crate::material::Bar;
use crate::phrase::Phrase;
use crate::section_shapes::{PerimeterBars, jacket_bars};
use crate::sections::jacket_edge_mm;
use crate::units::Dimension::Millimetres;

/// Cover left outside the hoops and clearance to the old concrete in the thinnest jacket that can be
/// cast, in all, mm (judgement, no source).
const LEAST_ROUND_BARS: f64 = 20.0;

/// Least clear distance between bars besides their own diameter, mm (EN 1992-1-1 8.2(2); MEMORY: from
/// memory, verify).
const LEAST_BETWEEN: f64 = 20.0;

/// Refuses a jacket too thin for its bars, or with so many that concrete cannot pass between them.
pub(super) fn jacket_bars_fit(building: &Building, jacket: &Jacket, path: &str) -> Result<(), FieldError> {
    let least = jacket.hoop_mm + jacket.bar_mm + LEAST_ROUND_BARS;
    if jacket.thickness_mm < least {
        return Err(refuse(
            format!("{path}.thickness_mm"),
            jacket.thickness_mm.to_string(),
            "hoop and bar with their cover do not fit into the jacket",
            Phrase::between(least, 300.0, Millimetres),
        ));
    }
    let edge = jacket_edge_mm(jacket);
    let bars = PerimeterBars {
        count: jacket.bars,
        bar: Bar::round(jacket.bar_mm),
        cover_mm: edge - jacket.hoop_mm - jacket.bar_mm / 2.0,
        hoop_diameter_mm: jacket.hoop_mm,
        yield_mpa: 0.0,
    };
    let clear = jacket.bar_mm.max(LEAST_BETWEEN);
    for kind in &building.column_types {
        let stands = |storey: u32| {
            building.y_lines.iter().filter(|line| jacket.y.covers(&line.name)).any(|y| {
                let on = building.x_lines.iter().filter(|line| jacket.x.covers(&line.name));
                on.into_iter().any(|x| building.column_at(&x.name, &y.name, storey) == Some(kind.name.as_str()))
            })
        };
        if !jacket.storeys.unwrap_or_else(|| building.all_storeys()).iter().any(stands) {
            continue;
        }
        let placed = jacket_bars([kind.x_mm, kind.y_mm], jacket.added_mm(), &bars);
        let fit = placed.is_some_and(|placed| {
            placed.iter().enumerate().all(|(place, one)| {
                placed[..place].iter().all(|other| {
                    let (dx, dy) = (one.x_mm - other.x_mm, one.y_mm - other.y_mm);
                    (dx * dx + dy * dy).sqrt() >= clear + jacket.bar_mm - 1e-6
                })
            })
        });
        if !fit {
            return Err(refuse(
                format!("{path}.bars"),
                jacket.bars.to_string(),
                format!("so many bars do not fit into the jacket of column {}", kind.name),
                Phrase::or_more(clear, Millimetres).and(" clear between bars"),
            ));
        }
    }
    Ok(())
}

/// Refuses a wing too thin for two curtains of its bars both ways.
pub(super) fn wing_bars_fit(wing: &WingWall, path: &str) -> Result<(), FieldError> {
    let least = 4.0 * wing.bar_mm + 2.0 * LEAST_BETWEEN;
    if wing.thickness_mm < least {
        return Err(refuse(
            format!("{path}.thickness_mm"),
            wing.thickness_mm.to_string(),
            "two curtains of bars with their cover do not fit into the wing",
            Phrase::between(least, 400.0, Millimetres),
        ));
    }
    Ok(())
}
