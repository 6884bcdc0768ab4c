//! Beams beside wing walls.

use crate::finding::{Code, Finding};
use crate::material::Bar;
use crate::model::Column;
use crate::place::Place;
use crate::project::Direction;
use crate::rules::{BeamShear, Hoops, Ruled};
use crate::sections::Sections;

/// Beams made short by wing walls that may shear before they bend: V = (M_sag + M_hog)/l_clear
/// with the gravity shear of half the floor on either side, against the clause's strength.
pub(super) fn short_beams(sections: &Sections<'_>, direction: Direction) -> Ruled<Vec<Finding>> {
    let model = sections.model;
    let mut worst: Option<(f64, Place)> = None;
    for beam in model.beams.iter().filter(|beam| beam.direction == direction) {
        let Some(columns) = model.bay_columns(direction, beam.line, beam.bay, beam.storey) else { continue };
        let winged = |column: &Column| column.wings.as_ref().is_some_and(|wings| wings.spec.direction == direction);
        if !columns.iter().any(|column| winged(column)) {
            continue;
        }
        let reach = (columns[0].reach_mm(direction)[1] + columns[1].reach_mm(direction)[0]) / 1000.0;
        let clear = model.bay_length_m(direction, beam.bay) - reach;
        let [sag, hog] = sections.beam_knm(beam)?;
        let lines = model.lines(direction);
        let strip = |one: usize, other: usize| (lines[other].at_m - lines[one].at_m) / 4.0;
        let before = beam.line.checked_sub(1).map_or(0.0, |other| strip(other, beam.line));
        let after = if beam.line + 1 < lines.len() { strip(beam.line, beam.line + 1) } else { 0.0 };
        let gravity = model.floors[beam.storey as usize - 1].load_kpa * (before + after) * clear / 2.0;
        let demand = (sag + hog) / clear + gravity;
        let kind = &beam.kind;
        let depth = kind.depth_mm - kind.cover_mm - kind.stirrup_mm - kind.top_bar_mm / 2.0;
        let strength = sections.rules.beam_shear(&BeamShear {
            width_mm: kind.width_mm,
            effective_depth_mm: depth,
            concrete_mpa: sections.old_concrete_mpa(),
            stirrups: Hoops {
                area_mm2: 2.0 * Bar::round(kind.stirrup_mm).area_mm2,
                spacing_mm: kind.stirrup_spacing_mm,
                yield_mpa: sections.steel_mpa(sections.materials.hoop_steel_mpa),
                effective_depth_mm: depth,
            },
            tension_ratio: f64::from(kind.top_bars) * Bar::round(kind.top_bar_mm).area_mm2 / (kind.width_mm * depth),
        })?;
        let ratio = demand / strength.strength_kn.max(1e-9);
        if ratio > 1.0 && worst.as_ref().is_none_or(|(own, _)| ratio > *own) {
            let line = lines[beam.line].name.clone();
            worst = Some((ratio, Place::Beam { line, bay: beam.bay, storey: beam.storey }));
        }
    }
    Ok(worst
        .map(|(ratio, place)| {
            let detail = format!("{place}, {:.0} % of its strength", 100.0 * ratio);
            Finding::new(Code::BeamShearAfterWing, place, detail)
        })
        .into_iter()
        .collect())
}
