//! Quantities of every activity, member by member.
//!
//! Geometry gives what it can; the constants below give the rest and are common practice
//! without a source. Rules worth knowing:
//!
//! - A jacket is measured over the whole storey height; beams that frame in are not deducted.
//! - A bay has one window if it has a sill wall, or if floor lies on one side of it only
//!   (a façade) and no full-height masonry fills it. A filled or winged bay takes its
//!   window out; a winged bay, and a filled one with an opening, gets a new one.
//! - Wings that enter a bay from both ends share the window and the floor protection.
//! - Footings count where the project gives them.

use super::materials::{
    Footings, bars_over, dowels, frame_beams_m, frame_length_m, frame_materials, infill_materials, jacket_corners,
    jacket_faces_m, jacket_hoops, jacket_materials, joint_bars, pads, panel_area_m2, panel_size_m, storey_height_m,
    wall_footing, wing_footing, wing_height_m, wing_materials, wing_place, wing_verticals,
};
use super::rates::Task;
use super::rooms::{Room, RoomPlan, quarters, sides};
use crate::model::{Column, Frame, MasonryPanel, Model, Panel, PanelOrigin, Wings};
use crate::order;
use crate::place::Place;
use crate::project::{Building, Direction, InfillWall, Jacket, Masonry, Span, Surface};

/// Floor protected round a column, m² for each quarter of floor it touches.
const PROTECTED_M2_PER_QUARTER: f64 = 5.0;
/// Depth of floor protected along a wall on each side, m.
const PROTECTED_DEPTH_M: f64 = 3.0;
/// Service points at a jacketed column.
const POINTS_PER_JACKET: f64 = 3.0;
/// Service points at a winged column.
const POINTS_PER_WINGED_COLUMN: f64 = 2.5;
/// Service points at a filled bay.
const POINTS_PER_FILLED_BAY: f64 = 4.5;
/// Props round a jacketed column.
const PROPS_PER_JACKET: f64 = 6.0;
/// Bars bonded into the faces of a jacketed column, per m² of them.
const JACKET_CONNECTORS_PER_M2: f64 = 2.0;
/// Band of plaster taken off the beams and walls that meet a jacketed column, m.
const PLASTER_BAND_M: f64 = 0.3;
/// Plaster taken off each side of the joint of a wall, m.
const WALL_PLASTER_MARGIN_M: f64 = 0.1;
/// Floor and ceiling finish renewed round a jacket, m.
const FINISH_BAND_M: f64 = 0.5;
/// Ceiling taken down on each side of an infill wall, m.
const CEILING_STRIP_M: f64 = 1.0;
/// Masonry broken out beyond the face of a jacket, m.
const MASONRY_MARGIN_M: f64 = 0.2;
/// Floor protected at a sawn gap, m² on each side of the sill.
const PROTECTED_M2_AT_GAP: f64 = 2.0;
/// Plaster renewed on each side of a sawn gap, m.
const GAP_PLASTER_M: f64 = 0.3;
/// Band cleared on the face above and below a connecting slab, m.
const FACE_BAND_M: f64 = 0.15;
/// Working room round a footing, m.
const PIT_MARGIN_M: f64 = 0.3;
/// Depth of a footing's top below ground, m.
const FOOTING_COVER_M: f64 = 0.5;
/// Thickness of the ground slab, m.
const GROUND_SLAB_M: f64 = 0.15;
/// Bars bonded from an inside footing into the old ones.
const BARS_PER_FOOTING: f64 = 24.0;

/// The works at one member: quantities by activity, and the rooms they touch.
#[derive(Clone, Debug, PartialEq)]
pub struct MemberWorks {
    /// Where.
    pub place: Place,
    /// Quantities by activity, in the activity's unit.
    pub quantities: Vec<(Task, f64)>,
    /// Rooms the work stands in.
    pub rooms: Vec<Room>,
    /// Rooms on the other side of a slab that is cored.
    pub cored_rooms: Vec<Room>,
    /// Corridors and stairs the work stands in.
    pub ways_out: Vec<Room>,
}

impl MemberWorks {
    fn new(place: Place, rooms: Vec<Room>) -> Self {
        Self { place, quantities: Vec::new(), rooms, cored_rooms: Vec::new(), ways_out: Vec::new() }
    }

    fn add(&mut self, task: Task, quantity: f64) {
        if quantity <= 0.0 {
            return;
        }
        match self.quantities.iter_mut().find(|(own, _)| *own == task) {
            Some((_, sum)) => *sum += quantity,
            None => self.quantities.push((task, quantity)),
        }
    }

    fn add_all(&mut self, quantities: &[(Task, f64)]) {
        for (task, quantity) in quantities {
            self.add(*task, *quantity);
        }
    }

    /// Work on both sides of a bay of a line.
    fn stands_beside(&mut self, plan: &RoomPlan<'_>, direction: Direction, line: usize, bay: u32, storey: u32) {
        self.rooms.extend(plan.beside(direction, line, bay, storey));
        self.ways_out.extend(plan.ways_beside(direction, line, bay, storey));
        for rooms in [&mut self.rooms, &mut self.ways_out] {
            order::sort_by(rooms, Room::cmp);
            rooms.dedup();
        }
    }

    /// A footing cast inside, joined to the old ones.
    fn add_footing(&mut self, footing: &Footings) {
        let area = footing.length_m * footing.width_m;
        self.add_all(&[
            (Task::BreakGroundSlab, pit_m2(footing) * GROUND_SLAB_M),
            (Task::DigInside, pit_m2(footing) * (footing.depth_m + FOOTING_COVER_M)),
            (Task::BondBars, if area > 0.0 { BARS_PER_FOOTING } else { 0.0 }),
            (Task::CastFooting, footing.concrete_m3()),
            (Task::PatchFloor, pit_m2(footing)),
        ]);
    }

    /// The quantity of an activity; zero if there is none.
    pub fn quantity(&self, task: Task) -> f64 {
        self.quantities.iter().find(|(own, _)| *own == task).map_or(0.0, |(_, quantity)| *quantity)
    }
}

/// Takes off the quantities of a scheme, member by member. Emptying rooms and handing
/// them back are not in it: they belong to rooms, not to members.
pub fn take_off(model: &Model, building: &Building) -> Vec<MemberWorks> {
    let plan = RoomPlan::new(model, building);
    let mut works = Vec::new();
    for column in &model.columns {
        works.extend(column.jacket.as_ref().map(|jacket| jacket_works(model, &plan, column, jacket)));
        works.extend(column.wings.as_ref().map(|wings| wing_works(model, &plan, column, wings)));
        works.extend(release_works(model, &plan, column));
    }
    for panel in &model.panels {
        if let PanelOrigin::Infill(infill) = &panel.origin {
            works.push(infill_works(model, building, &plan, panel, infill));
        }
    }
    works.extend(model.frames.iter().flat_map(|frame| frame_works(model, frame)));
    if !model.frames.is_empty() {
        let mut site = MemberWorks::new(Place::Building, Vec::new());
        site.add(Task::SetUpSite, 1.0);
        works.push(site);
    }
    works
}

/// Bays on both sides of a column along a direction.
fn bays_beside(model: &Model, column: &Column, direction: Direction) -> impl Iterator<Item = u32> {
    let end = match direction {
        Direction::X => column.ix,
        Direction::Y => column.iy,
    } as u32;
    let most = model.along(direction).len() as u32 - 1;
    [end, end + 1].into_iter().filter(move |bay| (1..=most).contains(bay))
}

/// Line of a column in a direction.
fn line_of(column: &Column, direction: Direction) -> usize {
    match direction {
        Direction::X => column.iy,
        Direction::Y => column.ix,
    }
}

fn masonry_at(model: &Model, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<&MasonryPanel> {
    model
        .masonry
        .iter()
        .find(|panel| (panel.direction, panel.line, panel.bay, panel.storey) == (direction, line, bay, storey))
}

/// Height of masonry in a bay of a clear height, m.
fn masonry_height_m(kind: &Masonry, clear_m: f64) -> f64 {
    kind.sill_mm.map_or(clear_m, |sill| (sill / 1000.0).min(clear_m))
}

/// Windows of a bay, by the rule at the top of this file.
fn windows(model: &Model, masonry: Option<&Masonry>, direction: Direction, line: usize, bay: u32, storey: u32) -> f64 {
    let facade = sides(model, direction, line, bay, storey) == 1;
    let window = match masonry {
        Some(kind) => kind.sill_mm.is_some(),
        None => facade,
    };
    f64::from(u8::from(window))
}

fn jacket_works(model: &Model, plan: &RoomPlan<'_>, column: &Column, jacket: &Jacket) -> MemberWorks {
    let [x, y] = [column.kind.x_mm / 1000.0, column.kind.y_mm / 1000.0];
    let skin = jacket.skin(Direction::X).added_mm().map(|mm| mm / 1000.0);
    let height = storey_height_m(model, column.storey);
    let faces_m = jacket_faces_m(column, jacket);
    // Round each corner the outside is longer by twice the thickness; an open end shows it once.
    let open_ends = if jacket.closed() { 0.0 } else { 2.0 };
    let outer_m = faces_m + (2.0 * jacket_corners(jacket) + open_ends) * jacket.thickness_mm / 1000.0;
    let (old_m2, new_m2) = (faces_m * height, outer_m * height);
    let floor_quarters = quarters(model, column);
    let (w, h) = (x + skin[0], y + skin[1]);
    let finish_m2 = ((w + 2.0 * FINISH_BAND_M) * (h + 2.0 * FINISH_BAND_M) - w * h) * floor_quarters / 4.0;
    let materials = jacket_materials(model, column, jacket);
    let roughened_m2 = if jacket.surface == Surface::Roughened { old_m2 } else { 0.0 };
    let anchors = if jacket.hoop_embedment_mm.is_some() && !jacket.closed() {
        2.0 * jacket_hoops(height, jacket).ceil()
    } else {
        0.0
    };
    let props = if jacket.relieved { 2.0 * PROPS_PER_JACKET } else { PROPS_PER_JACKET };
    let masonry_m2: f64 = Direction::BOTH.iter().map(|direction| abutting_m2(model, column, jacket, *direction)).sum();

    let mut works = MemberWorks::new(model.column_place(column), plan.round(column, column.storey));
    works.ways_out = plan.ways_round(column);
    works.add_all(&[
        (Task::Protect, PROTECTED_M2_PER_QUARTER * floor_quarters),
        (Task::Survey, 1.0),
        (Task::CutServices, POINTS_PER_JACKET),
        (Task::StripPlaster, old_m2 + PLASTER_BAND_M * faces_m),
        (Task::TakeDownCeiling, finish_m2),
        (Task::BreakMasonry, masonry_m2),
        (Task::Prop, props),
        (Task::Roughen, roughened_m2),
        (Task::BondBars, (JACKET_CONNECTORS_PER_M2 * old_m2).ceil() + anchors),
        (Task::FixJacketBars, materials.steel_t),
        (Task::FormJacket, new_m2),
        (Task::PourJacket, materials.concrete_m3),
        (Task::Plaster, new_m2),
        (Task::Paint, new_m2),
        (Task::RehangCeiling, finish_m2),
        (Task::ReconnectServices, POINTS_PER_JACKET),
        (Task::PatchFloor, finish_m2),
    ]);
    if jacket.continuous {
        pass_floors(model, plan, column, jacket, &mut works);
    }
    works
}

/// Masonry broken out where a panel meets a jacketed column, m².
fn abutting_m2(model: &Model, column: &Column, jacket: &Jacket, direction: Direction) -> f64 {
    let skin = jacket.skin(direction);
    let line = line_of(column, direction);
    let end = match direction {
        Direction::X => column.ix,
        Direction::Y => column.iy,
    };
    bays_beside(model, column, direction)
        .filter_map(|bay| masonry_at(model, direction, line, bay, column.storey))
        .map(|panel| {
            let added = skin.along[usize::from(panel.bay as usize > end)];
            let width = if added > 0.0 { added / 1000.0 + MASONRY_MARGIN_M } else { 0.0 };
            let [_, clear] = model.clear_opening_m(direction, line, panel.bay, column.storey);
            width * masonry_height_m(&panel.kind, clear)
        })
        .sum()
}

/// Bars that pass floors: the slab on top is cored where the column goes on; the slab
/// below is cored where the jacket begins above ground; at the ground the bars are bonded
/// into the footing. A jacket on the outer face alone meets no slab.
fn pass_floors(model: &Model, plan: &RoomPlan<'_>, column: &Column, jacket: &Jacket, works: &mut MemberWorks) {
    let bars = f64::from(jacket.bars);
    let at = |storey: u32| model.column_on(Direction::X, column.iy, column.ix, storey);
    let meets_slabs = quarters(model, column) > 0.0;
    if meets_slabs && at(column.storey + 1).is_some() {
        works.add(Task::CoreSlab, bars);
        works.cored_rooms.extend(plan.round(column, column.storey + 1));
    }
    if column.storey == 1 {
        works.add(Task::BondBars, bars);
    } else if meets_slabs && at(column.storey - 1).is_some_and(|below| below.jacket.is_none()) {
        works.add(Task::CoreSlab, bars);
        works.cored_rooms.extend(plan.round(column, column.storey - 1));
    }
}

fn wing_works(model: &Model, plan: &RoomPlan<'_>, column: &Column, wings: &Wings) -> MemberWorks {
    let (direction, line, end) = wing_place(column, wings);
    let materials = wing_materials(model, column, wings);
    let mut works = MemberWorks::new(model.column_place(column), Vec::new());
    works.add_all(&[
        (Task::Survey, 1.0),
        (Task::CutServices, POINTS_PER_WINGED_COLUMN),
        (Task::FixWallBars, materials.steel_t),
        (Task::PourWall, materials.concrete_m3),
        (Task::ReconnectServices, POINTS_PER_WINGED_COLUMN),
    ]);
    for (bay, length_mm) in [(end as u32, wings.lower_mm), (end as u32 + 1, wings.higher_mm)] {
        if length_mm > 0.0 {
            one_wing(model, column, wings, bay, length_mm, &mut works);
            works.stands_beside(plan, direction, line, bay, column.storey);
        }
    }
    if let Some(footing) = wing_footing(column, wings) {
        works.add_footing(&footing);
    }
    works
}

/// The quantities of one wing that depend on its bay.
fn one_wing(model: &Model, column: &Column, wings: &Wings, bay: u32, length_mm: f64, works: &mut MemberWorks) {
    let (direction, line, _) = wing_place(column, wings);
    let (length, thickness) = (length_mm / 1000.0, wings.spec.thickness_mm / 1000.0);
    let height = wing_height_m(model, column, wings);
    let masonry = masonry_at(model, direction, line, bay, column.storey).map(|panel| &panel.kind);
    let share = 1.0 / wings_in_bay(model, direction, line, bay, column.storey).max(1.0);
    let window = share * windows(model, masonry, direction, line, bay, column.storey);
    let floors = f64::from(sides(model, direction, line, bay, column.storey));
    let joint_m = height + 2.0 * length;
    let ends = if wings.spec.embedment_mm > 0.0 { 2.0 } else { 0.0 };
    let bars = 2.0 * bars_over(height, wings.spec.bar_spacing_mm) + ends * wing_verticals(wings, length_mm);
    let faces_m2 = (2.0 * length + thickness) * height;
    works.add_all(&[
        (Task::Protect, share * PROTECTED_DEPTH_M * model.bay_length_m(direction, bay) * floors),
        (Task::TakeOutWindow, window),
        (Task::BreakMasonry, masonry.map_or(0.0, |kind| length * masonry_height_m(kind, height))),
        (Task::StripPlaster, (thickness + 2.0 * WALL_PLASTER_MARGIN_M) * joint_m),
        (Task::Roughen, thickness * joint_m),
        (Task::BondBars, bars),
        (Task::FormWall, faces_m2),
        (Task::GroutTop, length),
        (Task::FitWindow, window),
        (Task::Plaster, faces_m2),
        (Task::Paint, faces_m2),
    ]);
}

/// How many wings enter a bay: 0, 1 or 2.
fn wings_in_bay(model: &Model, direction: Direction, line: usize, bay: u32, storey: u32) -> f64 {
    let enters = |end: usize, length: fn(&Wings) -> f64| {
        model
            .column_on(direction, line, end, storey)
            .and_then(|column| column.wings.as_ref())
            .is_some_and(|wings| wings.spec.direction == direction && length(wings) > 0.0)
    };
    let lower = enters(bay as usize - 1, |wings| wings.higher_mm);
    let higher = enters(bay as usize, |wings| wings.lower_mm);
    f64::from(u8::from(lower) + u8::from(higher))
}

/// Masonry the project puts into a bay and storey: the last description of it holds.
fn masonry_as_built<'a>(building: &'a Building, panel: &Panel) -> Option<&'a Masonry> {
    let lines = match panel.direction {
        Direction::X => &building.y_lines,
        Direction::Y => &building.x_lines,
    };
    let within = |span: Option<Span>, number: u32| span.is_none_or(|span| span.contains(number));
    building.masonry.iter().rev().find(|kind| {
        kind.lines.0.contains(&lines[panel.line].name)
            && within(kind.bays, panel.bay)
            && within(kind.storeys, panel.storey)
    })
}

fn infill_works(
    model: &Model,
    building: &Building,
    plan: &RoomPlan<'_>,
    panel: &Panel,
    infill: &InfillWall,
) -> MemberWorks {
    let (direction, line, bay, storey) = (panel.direction, panel.line, panel.bay, panel.storey);
    let [length, height] = panel_size_m(model, panel);
    let thickness = panel.thickness_mm / 1000.0;
    let reveal_m2 =
        panel.opening.as_ref().map_or(0.0, |opening| 2.0 * (opening.width_mm + opening.height_mm) / 1000.0 * thickness);
    let faces_m2 = 2.0 * panel_area_m2(model, panel) + reveal_m2;
    let perimeter_m = 2.0 * (length + height);
    let floors = f64::from(sides(model, direction, line, bay, storey));
    let masonry = masonry_as_built(building, panel);
    let window = windows(model, masonry, direction, line, bay, storey);
    let materials = infill_materials(model, panel, infill);

    let mut works = MemberWorks::new(model.panel_place(direction, line, bay, storey), Vec::new());
    works.stands_beside(plan, direction, line, bay, storey);
    works.add_all(&[
        (Task::Protect, PROTECTED_DEPTH_M * model.bay_length_m(direction, bay) * floors),
        (Task::Survey, 1.0),
        (Task::CutServices, POINTS_PER_FILLED_BAY),
        (Task::StripPlaster, (thickness + 2.0 * WALL_PLASTER_MARGIN_M) * perimeter_m),
        (Task::TakeOutWindow, window),
        (Task::TakeDownCeiling, CEILING_STRIP_M * length * floors),
        (Task::BreakMasonry, masonry.map_or(0.0, |kind| length * masonry_height_m(kind, height))),
        (Task::Roughen, thickness * perimeter_m),
        (Task::BondBars, dowels(model, panel, infill)),
        (Task::FixWallBars, materials.steel_t),
        (Task::FormWall, faces_m2),
        (Task::PourWall, materials.concrete_m3),
        (Task::GroutTop, length),
        (Task::FitWindow, if panel.opening.is_some() { window } else { 0.0 }),
        (Task::Plaster, faces_m2),
        (Task::Paint, faces_m2),
        (Task::RehangCeiling, CEILING_STRIP_M * length * floors),
        (Task::ReconnectServices, POINTS_PER_FILLED_BAY),
    ]);
    if let Some(footing) = wall_footing(model, panel) {
        works.add_footing(&footing);
    }
    works
}

/// Plan area of the pits of footings, m².
fn pit_m2(footings: &Footings) -> f64 {
    footings.number * (footings.length_m + 2.0 * PIT_MARGIN_M) * (footings.width_m + 2.0 * PIT_MARGIN_M)
}

/// An external frame is built from outside and stands in no room.
fn frame_works(model: &Model, frame: &Frame) -> Vec<MemberWorks> {
    let mut works: Vec<MemberWorks> =
        (1..=frame.storeys).map(|level| frame_storey_works(model, frame, level)).collect();
    if let Some(pads) = pads(frame) {
        let mut base = MemberWorks::new(Place::Footing { line: frame.spec.face.clone() }, Vec::new());
        base.add(Task::DigOutside, pit_m2(&pads) * (pads.depth_m + FOOTING_COVER_M));
        base.add(Task::CastFooting, pads.concrete_m3());
        works.push(base);
    }
    works
}

/// A storey of an external frame: columns, the beams and the connecting slab on top.
fn frame_storey_works(model: &Model, frame: &Frame, level: u32) -> MemberWorks {
    let spec = &frame.spec;
    let (width, depth, thickness) = (spec.beam_width_mm / 1000.0, spec.beam_depth_mm / 1000.0, spec.slab_mm / 1000.0);
    let height = storey_height_m(model, level);
    let slab = frame.slabs[level as usize - 1].as_ref();
    let column_m = 2.0 * (spec.column_along_mm + spec.column_across_mm) / 1000.0;
    let joined = slab.map_or(0.0, |_| thickness);
    let forms_m2 =
        frame.along_m.len() as f64 * height * column_m + frame_beams_m(frame) * (width + 2.0 * depth - joined);
    let soffit_m2 = slab.map_or(0.0, |slab| slab.length_m * spec.gap_m);
    let contact_m = slab.map_or(0.0, |slab| slab.contact_m);
    let roughened = if spec.surface == Surface::Roughened { contact_m * thickness } else { 0.0 };
    let materials = frame_materials(model, frame, level);

    let mut works = MemberWorks::new(Place::Slab { face: spec.face.clone(), level }, Vec::new());
    works.add_all(&[
        (Task::Scaffold, frame_length_m(frame) * height),
        (Task::StripFace, contact_m * (thickness + 2.0 * FACE_BAND_M)),
        (Task::Survey, slab.map_or(0.0, |_| f64::from(spec.bays.count()))),
        (Task::Roughen, roughened),
        (Task::BondBars, slab.map_or(0.0, |slab| joint_bars(frame, slab))),
        (Task::FixFrameBars, materials.steel_t),
        (Task::FormFrame, forms_m2),
        (Task::FormSoffit, soffit_m2),
        (Task::PourFrame, materials.concrete_m3),
        (Task::FinishFace, forms_m2 + soffit_m2),
    ]);
    works
}

/// Sills sawn free of a column: a cut over the sill's height in each bay beside it.
fn release_works(model: &Model, plan: &RoomPlan<'_>, column: &Column) -> Option<MemberWorks> {
    let mut works = MemberWorks::new(model.column_place(column), Vec::new());
    for direction in Direction::BOTH {
        let Some(gap_mm) = column.gap_mm[direction.index()] else { continue };
        let line = line_of(column, direction);
        for bay in bays_beside(model, column, direction) {
            let sill = masonry_at(model, direction, line, bay, column.storey).and_then(|panel| panel.kind.sill_mm);
            let Some(sill_m) = sill.map(|sill| sill / 1000.0) else { continue };
            let floors = f64::from(sides(model, direction, line, bay, column.storey));
            works.add_all(&[
                (Task::Protect, PROTECTED_M2_AT_GAP * floors),
                (Task::SawCut, sill_m),
                (Task::BreakMasonry, sill_m * gap_mm / 1000.0),
                (Task::Plaster, 2.0 * sill_m * GAP_PLASTER_M),
                (Task::Paint, 2.0 * sill_m * GAP_PLASTER_M),
            ]);
            works.stands_beside(plan, direction, line, bay, column.storey);
        }
    }
    if works.quantities.is_empty() {
        return None;
    }
    Some(works)
}
