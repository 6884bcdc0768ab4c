//! New concrete and reinforcement, from the geometry of the model.
//!
//! Bars are those the measures name, lengthened by a tenth for laps, hooks and bends
//! (common practice, no source). Concrete is the net volume: no waste.

use crate::model::{Column, Frame, Model, Panel, PanelOrigin, Slab, Wings};
use crate::project::{Direction, Footing, InfillWall, Jacket};
use std::f64::consts::PI;
use std::iter::Sum;
use std::ops::Add;

/// Density of steel, t/m³ (EN 1991-1-1 Table A.4 gives 77.0 to 78.5 kN/m³; MEMORY).
pub const STEEL_T_M3: f64 = 7.85;
/// Length of bars placed ÷ length drawn: laps, hooks and bends (common practice, no source).
pub const LAPS: f64 = 1.1;
/// Reinforcement of new footings, t per m³ of concrete (common practice, no source).
pub const FOOTING_STEEL_T_M3: f64 = 0.08;
/// Length a bonded bar stands out of old concrete, in bar diameters (common practice, no source).
pub const DOWEL_PROJECTION: f64 = 40.0;
/// Cover to the centre of hoops in new frames, m (common practice, no source).
const HOOP_COVER_M: f64 = 0.05;

/// New concrete and reinforcement.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Materials {
    /// Concrete, m³.
    pub concrete_m3: f64,
    /// Reinforcement, t.
    pub steel_t: f64,
}

impl Add for Materials {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { concrete_m3: self.concrete_m3 + other.concrete_m3, steel_t: self.steel_t + other.steel_t }
    }
}

impl Sum for Materials {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Self::add)
    }
}

/// New concrete and reinforcement of all measures with their footings.
pub fn materials(model: &Model) -> Materials {
    let columns = model.columns.iter().map(|column| {
        let jacket = column.jacket.as_ref().map(|jacket| jacket_materials(model, column, jacket));
        let wings = column.wings.as_ref().map(|wings| wing_materials(model, column, wings));
        let footing = column.wings.as_ref().and_then(|wings| wing_footing(column, wings));
        jacket.unwrap_or_default() + wings.unwrap_or_default() + footing_materials(footing)
    });
    let walls = model.panels.iter().filter_map(|panel| match &panel.origin {
        PanelOrigin::Existing(_) => None,
        PanelOrigin::Infill(infill) => {
            Some(infill_materials(model, panel, infill) + footing_materials(wall_footing(model, panel)))
        }
    });
    let frames = model.frames.iter().map(|frame| {
        let levels: Materials = (1..=frame.storeys).map(|level| frame_materials(model, frame, level)).sum();
        levels + footing_materials(pads(frame))
    });
    columns.chain(walls).chain(frames).sum()
}

/// Section of a bar, m².
fn bar_m2(bar_mm: f64) -> f64 {
    PI * bar_mm * bar_mm / 4e6
}

/// Bars set out over a length, the last at its end.
pub(super) fn bars_over(length_m: f64, spacing_mm: f64) -> f64 {
    // The allowance keeps a length that is a whole number of spacings from rounding up.
    (1000.0 * length_m / spacing_mm - 1e-9).ceil().max(0.0)
}

/// Height of a storey, m.
pub(super) fn storey_height_m(model: &Model, storey: u32) -> f64 {
    model.floors[storey as usize - 1].height_m
}

/// Concrete and bars of a jacket over the whole storey: its outline less the column, upright bars,
/// and hoops on its centre line, whose ends reach into the column where they do not close.
/// 25 kN/m³ × the section gives 25·4·t·(b + t) kN/m for a square column jacketed all round.
pub(super) fn jacket_materials(model: &Model, column: &Column, jacket: &Jacket) -> Materials {
    let (x, y, t) = (column.kind.x_mm / 1000.0, column.kind.y_mm / 1000.0, jacket.thickness_mm / 1000.0);
    let height = storey_height_m(model, column.storey);
    let [wider, deeper] = jacket.skin(Direction::X).added_mm().map(|mm| mm / 1000.0);
    let (faces, corners) = (jacket_faces_m(column, jacket), jacket_corners(jacket));
    let ends = if jacket.closed() { 0.0 } else { t + 2.0 * jacket.hoop_embedment_mm.unwrap_or(0.0) / 1000.0 };
    let hoop_m = faces + corners * t + ends;
    let bars_m3 = f64::from(jacket.bars) * bar_m2(jacket.bar_mm) * height
        + jacket_hoops(height, jacket) * hoop_m * bar_m2(jacket.hoop_mm);
    Materials { concrete_m3: ((x + wider) * (y + deeper) - x * y) * height, steel_t: bars_m3 * LAPS * STEEL_T_M3 }
}

/// Length in plan of the old faces a jacket covers, m.
pub(super) fn jacket_faces_m(column: &Column, jacket: &Jacket) -> f64 {
    let [x0, x1, y0, y1] = jacket.added_mm().map(|added| f64::from(u8::from(added > 0.0)));
    ((x0 + x1) * column.kind.y_mm + (y0 + y1) * column.kind.x_mm) / 1000.0
}

/// Corners a jacket goes round.
pub(super) fn jacket_corners(jacket: &Jacket) -> f64 {
    if jacket.closed() { 4.0 } else { f64::from(jacket.face_count()) - 1.0 }
}

/// Hoops of a jacket over a height.
pub(super) fn jacket_hoops(height_m: f64, jacket: &Jacket) -> f64 {
    1000.0 * height_m / jacket.hoop_spacing_mm
}

/// Direction, line and place along the line of a column that has wings.
pub(super) fn wing_place(column: &Column, wings: &Wings) -> (Direction, usize, usize) {
    match wings.spec.direction {
        Direction::X => (Direction::X, column.iy, column.ix),
        Direction::Y => (Direction::Y, column.ix, column.iy),
    }
}

/// Clear height of wings, from the floor to the beam's soffit, m.
pub(super) fn wing_height_m(model: &Model, column: &Column, wings: &Wings) -> f64 {
    let (direction, line, end) = wing_place(column, wings);
    storey_height_m(model, column.storey) - model.beam_depth_over_m(direction, line, end, column.storey)
}

/// Vertical bars of a wing of a length, in two curtains.
pub(super) fn wing_verticals(wings: &Wings, length_mm: f64) -> f64 {
    2.0 * bars_over(length_mm / 1000.0, wings.spec.bar_spacing_mm)
}

/// Volume of bars in two curtains both ways, m³ per m² of wall.
fn mesh_m(bar_mm: f64, spacing_mm: f64) -> f64 {
    4.0 * bar_m2(bar_mm) * 1000.0 / spacing_mm
}

/// Concrete and bars of the wings of a column.
pub(super) fn wing_materials(model: &Model, column: &Column, wings: &Wings) -> Materials {
    let spec = &wings.spec;
    let area = (wings.lower_mm + wings.higher_mm) / 1000.0 * wing_height_m(model, column, wings);
    let verticals = wing_verticals(wings, wings.lower_mm) + wing_verticals(wings, wings.higher_mm);
    let embedded_m3 = verticals * 2.0 * spec.embedment_mm / 1000.0 * bar_m2(spec.bar_mm);
    Materials {
        concrete_m3: area * spec.thickness_mm / 1000.0,
        steel_t: (mesh_m(spec.bar_mm, spec.bar_spacing_mm) * area * LAPS + embedded_m3) * STEEL_T_M3,
    }
}

/// Clear length and height of a wall panel, m; both zero where columns leave no room.
pub(super) fn panel_size_m(model: &Model, panel: &Panel) -> [f64; 2] {
    let [length, height] = model.panel_clear_m(panel);
    if length > 0.0 && height > 0.0 { [length, height] } else { [0.0; 2] }
}

/// Area of a wall panel net of its opening, m².
pub(super) fn panel_area_m2(model: &Model, panel: &Panel) -> f64 {
    let [length, height] = panel_size_m(model, panel);
    let hole = panel.opening.as_ref().map_or(0.0, |opening| opening.width_mm * opening.height_mm / 1e6);
    (length * height - hole).max(0.0)
}

/// Bars bonded round a wall panel into its columns and beams, in one row.
pub(super) fn dowels(model: &Model, panel: &Panel, infill: &InfillWall) -> f64 {
    panel_size_m(model, panel).iter().map(|side| 2.0 * bars_over(*side, infill.dowel_spacing_mm)).sum()
}

/// Concrete and bars of an infill wall panel.
pub(super) fn infill_materials(model: &Model, panel: &Panel, infill: &InfillWall) -> Materials {
    let area = panel_area_m2(model, panel);
    let dowel_m = (infill.dowel_embedment_mm + DOWEL_PROJECTION * infill.dowel_mm) / 1000.0;
    let dowels_m3 = dowels(model, panel, infill) * dowel_m * bar_m2(infill.dowel_mm);
    Materials {
        concrete_m3: area * panel.thickness_mm / 1000.0,
        steel_t: (mesh_m(infill.bar_mm, infill.bar_spacing_mm) * area * LAPS + dowels_m3) * STEEL_T_M3,
    }
}

/// Footings of one size.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Footings {
    /// How many.
    pub number: f64,
    /// Length of each, m.
    pub length_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Depth, m.
    pub depth_m: f64,
}

impl Footings {
    fn new(number: usize, footing: &Footing) -> Self {
        Self { number: number as f64, length_m: footing.length_m, width_m: footing.width_m, depth_m: footing.depth_m }
    }

    /// Concrete, m³.
    pub fn concrete_m3(&self) -> f64 {
        self.number * self.length_m * self.width_m * self.depth_m
    }
}

/// Concrete and bars of footings.
fn footing_materials(footings: Option<Footings>) -> Materials {
    let concrete_m3 = footings.map_or(0.0, |footings| footings.concrete_m3());
    Materials { concrete_m3, steel_t: FOOTING_STEEL_T_M3 * concrete_m3 }
}

/// The new footing under an infill panel of the lowest storey, centred on its bay; where
/// it runs into the one under the filled bay before it, the common part counts there.
pub(super) fn wall_footing(model: &Model, panel: &Panel) -> Option<Footings> {
    let footing = panel.footing.as_ref().filter(|_| panel.storey == 1)?;
    let middle = |bay: u32| {
        let along = model.along(panel.direction);
        (along[bay as usize - 1].at_m + along[bay as usize].at_m) / 2.0
    };
    let before = (panel.bay > 1).then(|| model.panel_at(panel.direction, panel.line, panel.bay - 1, 1)).flatten();
    let before = before.filter(|other| matches!(other.origin, PanelOrigin::Infill(_)));
    let common = before.and_then(|other| Some((other, other.footing.as_ref()?))).map_or(0.0, |(other, under)| {
        let reach = (footing.length_m + under.length_m) / 2.0 - (middle(panel.bay) - middle(other.bay));
        // Of two sections that run into each other only the smaller is in both.
        let section = under.width_m.min(footing.width_m) * under.depth_m.min(footing.depth_m);
        let part = section / (footing.width_m * footing.depth_m);
        part * reach.clamp(0.0, footing.length_m.min(under.length_m))
    });
    let mut own = Footings::new(1, footing);
    own.length_m -= common;
    Some(own)
}

/// The new footing under a column with wings in the lowest storey.
pub(super) fn wing_footing(column: &Column, wings: &Wings) -> Option<Footings> {
    wings.spec.footing.as_ref().filter(|_| column.storey == 1).map(|footing| Footings::new(1, footing))
}

/// Pads under the columns of an external frame.
pub(super) fn pads(frame: &Frame) -> Option<Footings> {
    frame.spec.footing.as_ref().map(|footing| Footings::new(frame.along_m.len(), footing))
}

/// Clear length of the beams of one level of an external frame, m.
pub(super) fn frame_beams_m(frame: &Frame) -> f64 {
    let column = frame.spec.column_along_mm / 1000.0;
    frame.along_m.windows(2).map(|ends| (ends[1] - ends[0] - column).max(0.0)).sum()
}

/// Bars across the joint of a connecting slab.
pub(super) fn joint_bars(frame: &Frame, slab: &Slab) -> f64 {
    f64::from(frame.spec.across_layers) * bars_over(slab.contact_m, frame.spec.across_spacing_mm)
}

/// Length of an external frame between the axes of its end columns, m.
pub(super) fn frame_length_m(frame: &Frame) -> f64 {
    frame.along_m.windows(2).map(|ends| ends[1] - ends[0]).sum()
}

/// Concrete and bars of a storey of an external frame: its columns, the beams and the
/// connecting slab on top. Columns carry a hoop and a tie each way; beams carry stirrups
/// of the same bar and spacing, and their bars run through the columns.
pub(super) fn frame_materials(model: &Model, frame: &Frame, level: u32) -> Materials {
    let spec = &frame.spec;
    let (along, across) = (spec.column_along_mm / 1000.0, spec.column_across_mm / 1000.0);
    let (width, depth) = (spec.beam_width_mm / 1000.0, spec.beam_depth_mm / 1000.0);
    let inside = |side: f64| (side - 2.0 * HOOP_COVER_M).max(0.0);
    let hoops_m2 = bar_m2(spec.hoop_mm) * 1000.0 / spec.hoop_spacing_mm;
    let columns_m = frame.along_m.len() as f64 * storey_height_m(model, level);
    let column_bars_m2 = f64::from(spec.column_bars) * bar_m2(spec.column_bar_mm);
    let column_hoops_m2 = hoops_m2 * 3.0 * (inside(along) + inside(across));
    let beams_m = frame_beams_m(frame);
    let beam_bars_m3 = frame_length_m(frame) * 2.0 * f64::from(spec.beam_bars) * bar_m2(spec.beam_bar_mm);
    let stirrups_m3 = beams_m * hoops_m2 * 2.0 * (inside(width) + inside(depth));
    let bars_m3 = columns_m * (column_bars_m2 + column_hoops_m2) + beam_bars_m3 + stirrups_m3;
    let own = Materials {
        concrete_m3: columns_m * along * across + beams_m * width * depth,
        steel_t: bars_m3 * LAPS * STEEL_T_M3,
    };
    own + frame.slabs[level as usize - 1].as_ref().map_or_else(Materials::default, |slab| slab_materials(frame, slab))
}

/// Concrete and bars of a connecting slab. Bars across the joint reach from their
/// embedment to the far side of the new beam; bars along lie in two layers.
fn slab_materials(frame: &Frame, slab: &Slab) -> Materials {
    let spec = &frame.spec;
    let across_m = (spec.embedment_mm + spec.beam_width_mm) / 1000.0 + spec.gap_m;
    let across_m3 = joint_bars(frame, slab) * across_m * bar_m2(spec.across_bar_mm);
    let along_m2 = 2.0 * 1000.0 * spec.gap_m / spec.along_spacing_mm * bar_m2(spec.along_bar_mm);
    Materials {
        concrete_m3: slab.length_m * spec.gap_m * spec.slab_mm / 1000.0,
        steel_t: (across_m3 + along_m2 * slab.length_m * LAPS) * STEEL_T_M3,
    }
}
