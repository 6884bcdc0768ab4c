//! External frame: a frame line of its own outside one face, tied on by connecting slabs.

use super::{counted, storeys_in_words};
use crate::model::{Bounds, CONCRETE_KN_M3, Frame, Model, Slab};
use crate::phrase::Phrase;
use crate::project::{Building, Direction, ExternalFrame, Span};

/// Stands the frame in front of its face.
pub(super) fn apply(spec: &ExternalFrame, building: &Building, model: &mut Model) {
    let Some((direction, line)) = building.line(&spec.face) else { return };
    let outward = if line == 0 { -1.0 } else { 1.0 };
    let storeys = spec.storeys.unwrap_or(model.floors.len() as u32).min(model.floors.len() as u32);
    let ends = spec.bays.first as usize - 1..=spec.bays.last as usize;
    let along = model.along(direction);
    let along_m: Vec<f64> = ends.clone().map(|end| along[end].at_m).collect();
    let opposite = ends.map(|end| along[end].name.clone()).collect();
    let slabs: Vec<Option<Slab>> = (1..=storeys).map(|level| slab_at(spec, model, direction, line, level)).collect();
    // The frame is straight, so the widest edge beam sets its axis.
    let edge_mm = model
        .beams
        .iter()
        .filter(|beam| beam.direction == direction && beam.line == line && spec.bays.contains(beam.bay))
        .map(|beam| beam.kind.width_mm)
        .fold(0.0, f64::max);
    let lever_m = spec.gap_m + spec.beam_width_mm / 2000.0;
    let ordinate_m = model.lines(direction)[line].at_m + outward * (edge_mm / 2000.0 + lever_m);
    let weight_kn = (1..=storeys).map(|level| weight_at(spec, model, &along_m, &slabs, storeys, level)).collect();
    model.frames.push(Frame {
        spec: spec.clone(),
        direction,
        line,
        outward,
        ordinate_m,
        lever_m,
        along_m,
        opposite,
        storeys,
        slabs,
        weight_kn,
    });
}

/// The connecting slab of a level, if the face has edge beams there to bond to.
fn slab_at(spec: &ExternalFrame, model: &Model, direction: Direction, line: usize, level: u32) -> Option<Slab> {
    let mut slab =
        Slab { level, contact_m: 0.0, length_m: 0.0, beam_width_mm: f64::INFINITY, beam_depth_mm: f64::INFINITY };
    for bay in spec.bays.iter() {
        slab.length_m += model.bay_length_m(direction, bay);
        if let Some(beam) = model.beam_at(direction, line, bay, level) {
            let [clear, _] = model.clear_opening_m(direction, line, bay, level);
            slab.contact_m += clear;
            slab.beam_width_mm = slab.beam_width_mm.min(beam.kind.width_mm);
            slab.beam_depth_mm = slab.beam_depth_mm.min(beam.kind.depth_mm);
        }
    }
    slab.contact_m -= spec.slab_openings_m;
    (slab.contact_m > 0.0).then_some(slab)
}

/// Weight of beams, slab and the halves of columns that meet at a level, kN.
fn weight_at(
    spec: &ExternalFrame,
    model: &Model,
    along_m: &[f64],
    slabs: &[Option<Slab>],
    storeys: u32,
    level: u32,
) -> f64 {
    let below = model.floors[level as usize - 1].height_m;
    let above = if level < storeys { model.floors[level as usize].height_m } else { 0.0 };
    let columns = along_m.len() as f64 * spec.column_along_mm * spec.column_across_mm / 1e6 * (below + above) / 2.0;
    let length = along_m.last().unwrap_or(&0.0) - along_m.first().unwrap_or(&0.0);
    let beam = length * spec.beam_width_mm * spec.beam_depth_mm / 1e6;
    let slab =
        slabs[level as usize - 1].as_ref().map_or(0.0, |slab| slab.length_m * spec.gap_m * spec.slab_mm / 1000.0);
    (columns + beam + slab) * CONCRETE_KN_M3
}

/// The measure in a line.
pub(super) fn describe(spec: &ExternalFrame, building: &Building) -> Phrase {
    format!(
        "External frame on line {}, {}, {}",
        spec.face,
        counted(spec.bays.count() as usize, "bay", "bays"),
        storeys_in_words(building, spec.storeys.map(|last| Span { first: 1, last }))
    )
    .into()
}

impl Frame {
    /// Name of its line in tables.
    pub fn name(&self) -> String {
        format!("{}′", self.spec.face)
    }

    /// Plan rectangle of frame and slab, m.
    pub fn bounds(&self, building_edge_m: f64) -> Bounds {
        let half = self.spec.column_across_mm / 2000.0;
        let outer = self.ordinate_m + self.outward * half;
        let (low, high) = (building_edge_m.min(outer), building_edge_m.max(outer));
        let (first, last) = (self.along_m[0], self.along_m[self.along_m.len() - 1]);
        match self.direction {
            Direction::X => Bounds { x0: first, x1: last, y0: low, y1: high },
            Direction::Y => Bounds { x0: low, x1: high, y0: first, y1: last },
        }
    }
}
