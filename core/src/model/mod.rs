//! The building with a scheme applied: every member with its place, size and weight.
//!
//! A model holds geometry and gravity only. Stiffness and strength come from it through a
//! rule set; drawings and quantities read it directly.

mod weight;

use crate::place::{Class, Place};
use crate::project::{
    BeamType, Building, ColumnType, Direction, ExternalFrame, Footing, GridLine, InfillWall, Jacket, Masonry, Opening,
    Scheme, Sides, Span, Wall, WingWall,
};

/// Unit weight of reinforced concrete, kN/m³ (common practice, no source).
pub const CONCRETE_KN_M3: f64 = 25.0;
/// Unit weight of plastered masonry, kN/m³ (common practice, no source).
pub const MASONRY_KN_M3: f64 = 18.0;

/// Plan rectangle, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lowest x.
    pub x0: f64,
    /// Highest x.
    pub x1: f64,
    /// Lowest y.
    pub y0: f64,
    /// Highest y.
    pub y1: f64,
}

impl Bounds {
    /// Extent across a direction, m: along y for x.
    pub fn across(&self, direction: Direction) -> f64 {
        match direction {
            Direction::X => self.y1 - self.y0,
            Direction::Y => self.x1 - self.x0,
        }
    }
}

/// The floor on top of a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// Storey height below it, m.
    pub height_m: f64,
    /// Its level above the base, m.
    pub level_m: f64,
    /// Slab thickness, mm.
    pub slab_mm: f64,
    /// Gravity load with its share of live load, kPa.
    pub load_kpa: f64,
    /// Area, m².
    pub area_m2: f64,
    /// Plan rectangle of its slab.
    pub bounds: Bounds,
    /// Seismic weight that moves with it, kN; external frames excluded.
    pub weight_kn: f64,
    /// Centre of that weight, m: x and y.
    pub centre_m: [f64; 2],
    /// Square of the radius of gyration of that weight about its centre, m².
    pub gyration_m2: f64,
}

/// A wing wall beside a column.
#[derive(Clone, Debug, PartialEq)]
pub struct Wings {
    /// The measure that adds it.
    pub spec: WingWall,
    /// Length towards lower ordinates, mm; zero if none.
    pub lower_mm: f64,
    /// Length towards higher ordinates, mm; zero if none.
    pub higher_mm: f64,
}

/// A column in a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Place of its line across x, from zero.
    pub ix: usize,
    /// Place of its line across y, from zero.
    pub iy: usize,
    /// Storey, from 1.
    pub storey: u32,
    /// Its type as built.
    pub kind: ColumnType,
    /// Jacket, if it gets one.
    pub jacket: Option<Jacket>,
    /// Wing walls, if it gets any.
    pub wings: Option<Wings>,
    /// Height over which a sill wall holds it, along x and along y, m; zero if free.
    pub sill_m: [f64; 2],
    /// Gap cut beside the sill that held it, mm, along x and along y.
    pub gap_mm: [Option<f64>; 2],
    /// Gravity load at its base, kN.
    pub axial_kn: f64,
}

impl Column {
    /// Its class.
    pub fn class(&self) -> Class {
        if self.jacket.is_some() || self.wings.is_some() { Class::Strengthened } else { Class::AsBuilt }
    }

    /// Extent along a direction with jacket and wings, mm: towards lower and towards
    /// higher ordinates from the grid line.
    pub fn reach_mm(&self, direction: Direction) -> [f64; 2] {
        let half = match direction {
            Direction::X => self.kind.x_mm,
            Direction::Y => self.kind.y_mm,
        } / 2.0;
        let skin = self.jacket.as_ref().map_or([0.0; 2], |jacket| jacket.skin(direction).along);
        let wings = match &self.wings {
            Some(wings) if wings.spec.direction == direction => [wings.lower_mm, wings.higher_mm],
            _ => [0.0; 2],
        };
        [half + skin[0] + wings[0], half + skin[1] + wings[1]]
    }
}

/// A beam in a bay over a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam {
    /// Direction of its line.
    pub direction: Direction,
    /// Place of its line among its like, from zero.
    pub line: usize,
    /// Bay, from 1.
    pub bay: u32,
    /// Storey below it, from 1.
    pub storey: u32,
    /// Its type.
    pub kind: BeamType,
}

/// Where a wall panel comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum PanelOrigin {
    /// An existing wall.
    Existing(Wall),
    /// An infill wall of a scheme.
    Infill(InfillWall),
}

/// A reinforced-concrete wall in a bay and storey, with the columns at its edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Direction of its line.
    pub direction: Direction,
    /// Place of its line among its like, from zero.
    pub line: usize,
    /// Bay, from 1.
    pub bay: u32,
    /// Storey, from 1.
    pub storey: u32,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Opening, if any.
    pub opening: Option<Opening>,
    /// Footing, if given.
    pub footing: Option<Footing>,
    /// Where it comes from.
    pub origin: PanelOrigin,
}

impl Panel {
    /// Its class.
    pub fn class(&self) -> Class {
        match self.origin {
            PanelOrigin::Existing(_) => Class::AsBuilt,
            PanelOrigin::Infill(_) => Class::New,
        }
    }
}

/// A masonry panel in a bay and storey.
#[derive(Clone, Debug, PartialEq)]
pub struct MasonryPanel {
    /// Direction of its line.
    pub direction: Direction,
    /// Place of its line among its like, from zero.
    pub line: usize,
    /// Bay, from 1.
    pub bay: u32,
    /// Storey, from 1.
    pub storey: u32,
    /// What it is made of.
    pub kind: Masonry,
}

/// A connecting slab at one level of an external frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Slab {
    /// Level, from 1.
    pub level: u32,
    /// Length in contact with existing edge beams between columns, m.
    pub contact_m: f64,
    /// Length in plan, m.
    pub length_m: f64,
    /// Narrowest existing edge beam along it, mm.
    pub beam_width_mm: f64,
    /// Shallowest existing edge beam along it, mm.
    pub beam_depth_mm: f64,
}

/// An external frame where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// The measure.
    pub spec: ExternalFrame,
    /// Direction of the frame.
    pub direction: Direction,
    /// Place of the face among its like, from zero.
    pub line: usize,
    /// Outward sense across the face: −1 or +1.
    pub outward: f64,
    /// Ordinate of the frame's own axis, m.
    pub ordinate_m: f64,
    /// Distance from the frame's axis to the existing edge beam's side, m.
    pub lever_m: f64,
    /// Ordinates of its columns along the face, m.
    pub along_m: Vec<f64>,
    /// Names of the grid lines opposite its columns.
    pub opposite: Vec<String>,
    /// Storeys it rises.
    pub storeys: u32,
    /// Connecting slab of each level; `None` where the face has no edge beam.
    pub slabs: Vec<Option<Slab>>,
    /// Weight of frame and slab at each level, kN.
    pub weight_kn: Vec<f64>,
}

/// The building with a scheme applied.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// Lines across x.
    pub x_lines: Vec<GridLine>,
    /// Lines across y.
    pub y_lines: Vec<GridLine>,
    /// Floors from the ground up.
    pub floors: Vec<Floor>,
    /// Columns by storey, line across y, line across x.
    pub columns: Vec<Column>,
    /// Beams by storey, direction, line, bay.
    pub beams: Vec<Beam>,
    /// Wall panels.
    pub panels: Vec<Panel>,
    /// Masonry.
    pub masonry: Vec<MasonryPanel>,
    /// Whether masonry of full height carries load; it weighs and stands in any case.
    pub masonry_counts: bool,
    /// External frames.
    pub frames: Vec<Frame>,
    /// Bays of floor, by storey, strip and bay along x.
    pub cells: Vec<Vec<Vec<bool>>>,
    /// Weight added by the scheme, net of masonry taken out, kN.
    pub added_kn: f64,
    column_index: Vec<Option<usize>>,
    beam_index: [Vec<Option<usize>>; 2],
}

impl Model {
    /// Applies a scheme to a checked building.
    pub fn new(building: &Building, scheme: &Scheme) -> Self {
        let before = Self::as_built(building).concrete_and_masonry_kn();
        let mut model = Self::unweighed(building, scheme);
        let frames: f64 = model.frames.iter().flat_map(|frame| &frame.weight_kn).sum();
        model.added_kn =
            if scheme.measures.is_empty() { 0.0 } else { model.concrete_and_masonry_kn() - before + frames };
        model.weigh();
        model
    }

    /// Members with a scheme applied, not yet weighed.
    pub(crate) fn unweighed(building: &Building, scheme: &Scheme) -> Self {
        let mut model = Self::as_built(building);
        for measure in &scheme.measures {
            crate::measure::apply(measure, building, &mut model);
        }
        model
    }

    /// Members of the building as it stands, not yet weighed.
    fn as_built(building: &Building) -> Self {
        let mut level = 0.0;
        let floors = building
            .storeys
            .iter()
            .map(|storey| {
                level += storey.height_m;
                Floor {
                    height_m: storey.height_m,
                    level_m: level,
                    slab_mm: storey.slab_mm,
                    load_kpa: storey.slab_mm / 1000.0 * CONCRETE_KN_M3
                        + storey.finishes_kpa
                        + building.live_share * storey.live_kpa,
                    area_m2: 0.0,
                    bounds: Bounds { x0: 0.0, x1: 0.0, y0: 0.0, y1: 0.0 },
                    weight_kn: 0.0,
                    centre_m: [0.0; 2],
                    gyration_m2: 0.0,
                }
            })
            .collect();
        let mut model = Self {
            x_lines: building.x_lines.clone(),
            y_lines: building.y_lines.clone(),
            floors,
            columns: Vec::new(),
            beams: Vec::new(),
            panels: Vec::new(),
            masonry: Vec::new(),
            masonry_counts: building.masonry_counts,
            frames: Vec::new(),
            cells: Vec::new(),
            added_kn: 0.0,
            column_index: Vec::new(),
            beam_index: [Vec::new(), Vec::new()],
        };
        model.place_columns(building);
        model.place_beams(building);
        for wall in &building.walls {
            if let Some((direction, line)) = building.line(&wall.line) {
                model.panels.extend(wall.storeys.iter().map(|storey| Panel {
                    direction,
                    line,
                    bay: wall.bay,
                    storey,
                    thickness_mm: wall.thickness_mm,
                    opening: wall.opening.clone(),
                    footing: wall.footing.clone(),
                    origin: PanelOrigin::Existing(wall.clone()),
                }));
            }
        }
        model.place_masonry(building);
        model.hold_columns();
        model.lay_floors();
        model
    }

    fn place_columns(&mut self, building: &Building) {
        self.column_index = vec![None; self.floors.len() * self.y_lines.len() * self.x_lines.len()];
        for storey in building.all_storeys().iter() {
            for (iy, y) in building.y_lines.iter().enumerate() {
                for (ix, x) in building.x_lines.iter().enumerate() {
                    let kind = building
                        .column_at(&x.name, &y.name, storey)
                        .and_then(|name| building.column_types.iter().find(|kind| kind.name == name));
                    if let Some(kind) = kind {
                        let index = self.column_slot(ix, iy, storey);
                        self.column_index[index] = Some(self.columns.len());
                        self.columns.push(Column {
                            ix,
                            iy,
                            storey,
                            kind: kind.clone(),
                            jacket: None,
                            wings: None,
                            sill_m: [0.0; 2],
                            gap_mm: [None; 2],
                            axial_kn: 0.0,
                        });
                    }
                }
            }
        }
    }

    fn place_beams(&mut self, building: &Building) {
        for direction in Direction::BOTH {
            let slots = self.floors.len() * self.lines(direction).len() * self.along(direction).len();
            self.beam_index[direction.index()] = vec![None; slots];
        }
        for storey in building.all_storeys().iter() {
            for direction in Direction::BOTH {
                for line in 0..self.lines(direction).len() {
                    for bay in 1..=building.bays(direction) {
                        let name = &self.lines(direction)[line].name;
                        let kind = building
                            .beam_at(name, bay, storey)
                            .and_then(|name| building.beam_types.iter().find(|kind| kind.name == name));
                        if let Some(kind) = kind
                            && self.bay_columns(direction, line, bay, storey).is_some()
                        {
                            let index = self.beam_slot(direction, line, bay, storey);
                            self.beam_index[direction.index()][index] = Some(self.beams.len());
                            self.beams.push(Beam { direction, line, bay, storey, kind: kind.clone() });
                        }
                    }
                }
            }
        }
    }

    fn place_masonry(&mut self, building: &Building) {
        for kind in &building.masonry {
            for direction in Direction::BOTH {
                for line in 0..self.lines(direction).len() {
                    let name = self.lines(direction)[line].name.clone();
                    if !kind.lines.0.contains(&name) {
                        continue;
                    }
                    for storey in kind.storeys.unwrap_or_else(|| building.all_storeys()).iter() {
                        let most = building.bays(direction);
                        for bay in kind.bays.unwrap_or(Span { first: 1, last: most }).iter().filter(|bay| *bay <= most)
                        {
                            let taken = self.panel_at(direction, line, bay, storey).is_some();
                            if !taken && self.bay_columns(direction, line, bay, storey).is_some() {
                                // A later description of a bay replaces an earlier one.
                                self.masonry.retain(|panel| {
                                    (panel.direction, panel.line, panel.bay, panel.storey)
                                        != (direction, line, bay, storey)
                                });
                                self.masonry.push(MasonryPanel { direction, line, bay, storey, kind: kind.clone() });
                            }
                        }
                    }
                }
            }
        }
    }

    /// Lets sill walls hold the columns beside them.
    fn hold_columns(&mut self) {
        for panel in &self.masonry {
            let Some(sill) = panel.kind.sill_mm else { continue };
            for end in [panel.bay as usize - 1, panel.bay as usize] {
                let (ix, iy) = match panel.direction {
                    Direction::X => (end, panel.line),
                    Direction::Y => (panel.line, end),
                };
                let index = panel.direction.index();
                let slot = ((panel.storey as usize - 1) * self.y_lines.len() + iy) * self.x_lines.len() + ix;
                if let Some(column) = self.column_index[slot].and_then(|place| self.columns.get_mut(place)) {
                    column.sill_m[index] = column.sill_m[index].max(sill / 1000.0);
                }
            }
        }
    }

    /// A bay carries floor where columns stand at or beyond it in all four quadrants.
    fn lay_floors(&mut self) {
        let (nx, ny) = (self.x_lines.len(), self.y_lines.len());
        for storey in 1..=self.floors.len() as u32 {
            let mut stands = vec![vec![false; nx]; ny];
            for column in self.columns.iter().filter(|column| column.storey == storey) {
                stands[column.iy][column.ix] = true;
            }
            let any = |ys: std::ops::Range<usize>, xs: std::ops::Range<usize>| {
                ys.clone().any(|iy| xs.clone().any(|ix| stands[iy][ix]))
            };
            let strips: Vec<Vec<bool>> = (0..ny - 1)
                .map(|j| {
                    (0..nx - 1)
                        .map(|i| {
                            any(0..j + 1, 0..i + 1)
                                && any(0..j + 1, i + 1..nx)
                                && any(j + 1..ny, 0..i + 1)
                                && any(j + 1..ny, i + 1..nx)
                        })
                        .collect()
                })
                .collect();
            self.cells.push(strips);
        }
    }

    /// Grid lines that run in a direction: those across y run along x.
    pub fn lines(&self, direction: Direction) -> &[GridLine] {
        match direction {
            Direction::X => &self.y_lines,
            Direction::Y => &self.x_lines,
        }
    }

    /// Grid lines met when walking in a direction.
    pub fn along(&self, direction: Direction) -> &[GridLine] {
        self.lines(direction.across())
    }

    /// Length of a bay, m.
    pub fn bay_length_m(&self, direction: Direction, bay: u32) -> f64 {
        let along = self.along(direction);
        along[bay as usize].at_m - along[bay as usize - 1].at_m
    }

    /// The column at the crossing of line `line` in `direction` with the `end`-th line
    /// along it.
    pub fn column_on(&self, direction: Direction, line: usize, end: usize, storey: u32) -> Option<&Column> {
        let (ix, iy) = match direction {
            Direction::X => (end, line),
            Direction::Y => (line, end),
        };
        if ix >= self.x_lines.len() || iy >= self.y_lines.len() || storey == 0 {
            return None;
        }
        let index = (*self.column_index.get(self.column_slot(ix, iy, storey))?)?;
        self.columns.get(index)
    }

    fn column_slot(&self, ix: usize, iy: usize, storey: u32) -> usize {
        ((storey as usize - 1) * self.y_lines.len() + iy) * self.x_lines.len() + ix
    }

    fn beam_slot(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> usize {
        ((storey as usize - 1) * self.lines(direction).len() + line) * self.along(direction).len() + bay as usize - 1
    }

    /// The columns at both ends of a bay.
    pub fn bay_columns(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<[&Column; 2]> {
        let lower = self.column_on(direction, line, bay as usize - 1, storey)?;
        let higher = self.column_on(direction, line, bay as usize, storey)?;
        Some([lower, higher])
    }

    /// The beam in a bay over a storey.
    pub fn beam_at(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<&Beam> {
        if bay == 0 || bay as usize >= self.along(direction).len() || storey == 0 {
            return None;
        }
        let slot = self.beam_slot(direction, line, bay, storey);
        let index = (*self.beam_index[direction.index()].get(slot)?)?;
        self.beams.get(index)
    }

    /// Whether there is a floor over a storey beside a bay, between a line of the direction and the next.
    pub fn has_floor(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> bool {
        let at = bay as usize - 1;
        let (row, place) = if direction == Direction::X { (line, at) } else { (at, line) };
        self.cells[storey as usize - 1].get(row).and_then(|cells| cells.get(place)).copied().unwrap_or(false)
    }

    /// Weight of the masonry that stands on a beam, kN.
    pub fn masonry_on_kn(&self, beam: &Beam) -> f64 {
        let place = (beam.direction, beam.line, beam.bay, beam.storey + 1);
        let stands = self.masonry.iter().filter(|own| (own.direction, own.line, own.bay, own.storey) == place);
        stands.map(|panel| self.masonry_kn(panel)).sum()
    }

    /// The wall panel in a bay and storey.
    pub fn panel_at(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<&Panel> {
        self.panels
            .iter()
            .find(|panel| (panel.direction, panel.line, panel.bay, panel.storey) == (direction, line, bay, storey))
    }

    /// Deepest beam that frames into a column from a direction over its storey, m; the
    /// slab's thickness where there is none.
    pub fn beam_depth_over_m(&self, direction: Direction, line: usize, end: usize, storey: u32) -> f64 {
        let slab = self.floors[storey as usize - 1].slab_mm;
        [end as u32, end as u32 + 1]
            .into_iter()
            .filter_map(|bay| self.beam_at(direction, line, bay, storey))
            .map(|beam| beam.kind.depth_mm)
            .fold(slab, f64::max)
            / 1000.0
    }

    /// Clear height of a column in a direction, m: from the floor or the sill that holds
    /// it to the beam's soffit.
    pub fn clear_height_m(&self, column: &Column, direction: Direction) -> f64 {
        let (line, end) = match direction {
            Direction::X => (column.iy, column.ix),
            Direction::Y => (column.ix, column.iy),
        };
        let beam = self.beam_depth_over_m(direction, line, end, column.storey);
        let height = self.floors[column.storey as usize - 1].height_m;
        height - beam - column.sill_m[direction.index()]
    }

    /// Where a column is.
    pub fn column_place(&self, column: &Column) -> Place {
        Place::Column {
            x: self.x_lines[column.ix].name.clone(),
            y: self.y_lines[column.iy].name.clone(),
            storey: column.storey,
        }
    }

    /// Where a panel is.
    pub fn panel_place(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Place {
        Place::Panel { line: self.lines(direction)[line].name.clone(), bay, storey }
    }

    /// Volume of a column with its jacket and wings, m³.
    pub fn column_volume_m3(&self, column: &Column) -> f64 {
        let height = self.floors[column.storey as usize - 1].height_m;
        let [skin_x, skin_y] = column.jacket.as_ref().map_or([0.0; 2], |jacket| jacket.skin(Direction::X).added_mm());
        let shaft = (column.kind.x_mm + skin_x) * (column.kind.y_mm + skin_y) / 1e6;
        let wings =
            column.wings.as_ref().map_or(0.0, |wings| (wings.lower_mm + wings.higher_mm) * wings.spec.thickness_mm)
                / 1e6;
        let (line, end, direction) = match column.wings.as_ref().map(|wings| wings.spec.direction) {
            Some(Direction::Y) => (column.ix, column.iy, Direction::Y),
            _ => (column.iy, column.ix, Direction::X),
        };
        let clear = height - self.beam_depth_over_m(direction, line, end, column.storey);
        shaft * height + wings * clear
    }

    /// Height of the sill walls beside a column in a direction, whether they hold it or not,
    /// m; zero where there are none.
    pub fn sill_beside_m(&self, column: &Column, direction: Direction) -> f64 {
        let (line, end) = match direction {
            Direction::X => (column.iy, column.ix as u32),
            Direction::Y => (column.ix, column.iy as u32),
        };
        self.masonry
            .iter()
            .filter(|panel| (panel.direction, panel.line, panel.storey) == (direction, line, column.storey))
            .filter(|panel| panel.bay == end || panel.bay == end + 1)
            .filter_map(|panel| panel.kind.sill_mm)
            .fold(0.0, f64::max)
            / 1000.0
    }

    /// Clear length and height of a wall panel between its columns and under its beam, m.
    pub fn panel_clear_m(&self, panel: &Panel) -> [f64; 2] {
        self.clear_opening_m(panel.direction, panel.line, panel.bay, panel.storey)
    }

    /// Clear length between columns and clear height under the beam of a bay, m.
    pub fn clear_opening_m(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> [f64; 2] {
        let length = self.bay_length_m(direction, bay);
        let taken = self.bay_columns(direction, line, bay, storey).map_or(0.0, |[lower, higher]| {
            let half = |column: &Column| match direction {
                Direction::X => column.kind.x_mm,
                Direction::Y => column.kind.y_mm,
            };
            (half(lower) + half(higher)) / 2000.0
        });
        let slab = self.floors[storey as usize - 1].slab_mm;
        let beam = self.beam_at(direction, line, bay, storey).map_or(slab, |beam| beam.kind.depth_mm) / 1000.0;
        [length - taken, self.floors[storey as usize - 1].height_m - beam]
    }

    fn panel_kn(&self, panel: &Panel) -> f64 {
        let [length, height] = self.panel_clear_m(panel);
        let hole = panel.opening.as_ref().map_or(0.0, |opening| opening.width_mm * opening.height_mm / 1e6);
        (length * height - hole).max(0.0) * panel.thickness_mm / 1000.0 * CONCRETE_KN_M3
    }

    fn masonry_kn(&self, panel: &MasonryPanel) -> f64 {
        let [length, clear] = self.clear_opening_m(panel.direction, panel.line, panel.bay, panel.storey);
        let height = panel.kind.sill_mm.map_or(clear, |sill| sill / 1000.0);
        length * height * panel.kind.thickness_mm / 1000.0 * MASONRY_KN_M3
    }

    /// Weight of columns, walls and masonry, kN.
    fn concrete_and_masonry_kn(&self) -> f64 {
        let columns: f64 = self.columns.iter().map(|column| self.column_volume_m3(column) * CONCRETE_KN_M3).sum();
        let panels: f64 = self.panels.iter().map(|panel| self.panel_kn(panel)).sum();
        let masonry: f64 = self.masonry.iter().map(|panel| self.masonry_kn(panel)).sum();
        columns + panels + masonry
    }
}

/// Which sides of a column get wings: lengths towards lower and higher ordinates, mm.
/// A wing needs a bay to stand in.
pub(crate) fn wing_lengths(spec: &WingWall, has_lower: bool, has_higher: bool) -> [f64; 2] {
    let lower = matches!(spec.sides, Sides::Both | Sides::Lower) && has_lower;
    let higher = matches!(spec.sides, Sides::Both | Sides::Higher) && has_higher;
    [lower, higher].map(|there| if there { spec.length_mm } else { 0.0 })
}
