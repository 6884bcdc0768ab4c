//! From the model to frame lines: every member with its effective stiffness, every line
//! condensed, the whole tied together in plan.

use crate::assembly::{Assembly, Floor, Freedoms, Line, Link, LinkedLine};
use crate::condensed_line::CondensedLine;
use crate::frame_line::{Base, Beam, Column, FrameLine, FrameLineError, Restraint, StoreySpring, WallPanel};
use crate::masonry_panel::strut;
use crate::material::GRAVITY_M_S2;
use crate::model::{self, Frame, Model, PanelOrigin};
use crate::openings::panel_opening;
use crate::order;
use crate::place::Class;
use crate::project::{Base as ColumnBase, Direction, Footing, Materials};
use crate::rules::{Component, NotAvailable, Ruled, Rules};
use crate::sections::{Sections, flange_mm};

/// Rectangular strips of one section, across the bending axis: modulus (MPa), width (mm),
/// lower and upper edge (mm).
type Strip = (f64, f64, f64, f64);

/// Uncracked rigidities of strips about their common centroid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rigidity {
    /// ΣEI, kNm².
    pub flexural_kn_m2: f64,
    /// ΣEA, kN.
    pub axial_kn: f64,
    /// Centroid, mm.
    pub centroid_mm: f64,
}

/// Rigidities of a section made of strips; a strip may have a negative modulus to take
/// away what another counts twice.
fn rigidity(strips: &[Strip]) -> Rigidity {
    let area = |&(modulus, width, from, to): &Strip| modulus * width * (to - from);
    let axial: f64 = strips.iter().map(area).sum();
    let first: f64 = strips.iter().map(|strip| area(strip) * (strip.2 + strip.3) / 2.0).sum();
    let centroid = first / axial;
    let flexural: f64 = strips
        .iter()
        .map(|strip| {
            let depth = strip.3 - strip.2;
            let arm = (strip.2 + strip.3) / 2.0 - centroid;
            area(strip) * (depth * depth / 12.0 + arm * arm)
        })
        .sum();
    Rigidity { flexural_kn_m2: flexural / 1e9, axial_kn: axial / 1e3, centroid_mm: centroid }
}

/// Panels side by side in one storey, acting as one wall with the columns at their edges.
#[derive(Clone, Debug, PartialEq)]
pub struct WallGroup {
    /// Storey, from 1.
    pub storey: u32,
    /// First bay, from 1.
    pub first_bay: u32,
    /// Last bay.
    pub last_bay: u32,
    /// Its class: strengthened where new panels continue old ones.
    pub class: Class,
    /// Place of the first of its panels in the model.
    pub panels: Vec<usize>,
    /// Ordinate of its axis along the line, m.
    pub axis_m: f64,
    /// Gravity load at its foot, kN.
    pub axial_kn: f64,
    /// Footing under it, if given.
    pub footing: Option<Footing>,
}

impl WallGroup {
    /// Whether a column line (from zero) stands in it.
    pub fn holds(&self, end: usize) -> bool {
        self.first_bay as usize - 1 <= end && end <= self.last_bay as usize
    }
}

/// A grid line as a frame.
#[derive(Clone, Debug)]
pub struct FramedLine {
    /// Direction it runs in.
    pub direction: Direction,
    /// Its place among its like, from zero.
    pub line: usize,
    /// Its frame as modelled.
    pub frame: FrameLine,
    /// The same condensed.
    pub condensed: CondensedLine,
    /// Walls, in the order of the frame's wall panels.
    pub walls: Vec<WallGroup>,
    /// Full-height masonry panels (by place in the model), in the order of the frame's
    /// storey springs.
    pub masonry: Vec<usize>,
}

/// An external frame with its condensed line.
#[derive(Clone, Debug)]
pub struct FramedFrame {
    /// Its frame as modelled.
    pub frame: FrameLine,
    /// The same condensed.
    pub condensed: CondensedLine,
    /// In-plane stiffness of the connecting slab of each level, kN/m.
    pub link_kn_m: Vec<Option<f64>>,
}

/// All frames of a model.
#[derive(Clone, Debug)]
pub struct Framing {
    /// Grid lines that carry columns, those along x first.
    pub lines: Vec<FramedLine>,
    /// External frames in the order of the model.
    pub frames: Vec<FramedFrame>,
}

/// Why a model cannot be framed.
#[derive(Clone, Debug, PartialEq)]
pub enum Unframed {
    /// A line whose members do not make a stable frame.
    Line {
        /// Its name.
        line: String,
        /// Why.
        error: FrameLineError,
    },
    /// A question the rule set does not answer.
    Rules(NotAvailable),
}

impl From<NotAvailable> for Unframed {
    fn from(missing: NotAvailable) -> Self {
        Self::Rules(missing)
    }
}

impl Framing {
    /// Frames a model with the stiffnesses of a rule set.
    ///
    /// # Errors
    /// As [`Unframed`].
    pub fn new(model: &Model, materials: &Materials, rules: &dyn Rules) -> Result<Self, Unframed> {
        let framer = Framer::new(Sections::new(model, materials, rules)?)?;
        let mut lines = Vec::new();
        for direction in Direction::BOTH {
            for line in 0..model.lines(direction).len() {
                let stands =
                    (0..model.along(direction).len()).any(|end| model.column_on(direction, line, end, 1).is_some());
                if stands {
                    lines.push(framer.line(direction, line)?);
                }
            }
        }
        let frames = model.frames.iter().map(|frame| framer.external(frame)).collect::<Result<_, _>>()?;
        Ok(Self { lines, frames })
    }

    /// Puts the frames together in plan.
    pub fn assembly(&self, model: &Model) -> Assembly {
        let floors = model
            .floors
            .iter()
            .map(|floor| Floor {
                storey_height_m: floor.height_m,
                x_m: floor.centre_m[0],
                y_m: floor.centre_m[1],
                mass_t: floor.weight_kn / GRAVITY_M_S2,
                gyration_m2: floor.gyration_m2,
                weight_kn: floor.weight_kn,
            })
            .collect();
        let mut assembly = Assembly::new(floors);
        assembly.freedoms = Freedoms::ALL;
        assembly.lines = self
            .lines
            .iter()
            .map(|line| Line {
                direction: line.direction,
                ordinate_m: model.lines(line.direction)[line.line].at_m,
                stiffness: line.condensed.stiffness().clone(),
            })
            .collect();
        assembly.linked =
            model.frames.iter().zip(&self.frames).map(|(frame, framed)| linked(model, frame, framed)).collect();
        assembly
    }
}

/// An external frame as the assembly sees it, with rows for every floor of the building.
fn linked(model: &Model, frame: &Frame, framed: &FramedFrame) -> LinkedLine {
    let floors = model.floors.len();
    let own = framed.condensed.stiffness();
    let mut stiffness = crate::linear::Square::zero(floors);
    for row in 0..own.size() {
        for column in 0..own.size() {
            stiffness.add(row, column, own.at(row, column));
        }
    }
    let weight = |level: usize| frame.weight_kn.get(level).copied().unwrap_or(0.0);
    let (first, last) = (frame.along_m[0], frame.along_m[frame.along_m.len() - 1]);
    LinkedLine {
        direction: frame.direction,
        ordinate_m: frame.ordinate_m,
        middle_m: (first + last) / 2.0,
        floors: frame.storeys as usize,
        gyration_m2: (last - first) * (last - first) / 12.0,
        stiffness,
        links: (0..floors)
            .map(|level| framed.link_kn_m.get(level).copied().flatten().map_or(Link::Absent, Link::Spring))
            .collect(),
        mass_t: (0..floors).map(|level| weight(level) / GRAVITY_M_S2).collect(),
        weight_kn: (0..floors).map(weight).collect(),
    }
}

/// What framing a line needs at hand.
struct Framer<'a> {
    sections: Sections<'a>,
    model: &'a Model,
    rules: &'a dyn Rules,
    /// Modulus of the existing concrete, MPa.
    old_modulus: f64,
    groups: Vec<(Direction, usize, WallGroup)>,
}

impl<'a> Framer<'a> {
    fn new(sections: Sections<'a>) -> Ruled<Self> {
        let Sections { model, rules, .. } = sections;
        let old_modulus = rules.concrete_modulus_mpa(sections.old_concrete_mpa())?;
        Ok(Self { sections, model, rules, old_modulus, groups: wall_groups(model) })
    }

    fn new_modulus(&self, concrete_mpa: f64) -> Ruled<f64> {
        self.rules.concrete_modulus_mpa(self.sections.concrete_mpa(concrete_mpa))
    }

    fn error(&self, direction: Direction, line: usize) -> impl Fn(FrameLineError) -> Unframed {
        let name = self.model.lines(direction)[line].name.clone();
        move |error| Unframed::Line { line: name.clone(), error }
    }

    fn line(&self, direction: Direction, line: usize) -> Result<FramedLine, Unframed> {
        let model = self.model;
        let ordinates: Vec<f64> = model.along(direction).iter().map(|grid| grid.at_m).collect();
        let heights: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
        let mut frame = FrameLine::new(&ordinates, &heights);
        let walls: Vec<WallGroup> = self
            .groups
            .iter()
            .filter(|(along, index, _)| (*along, *index) == (direction, line))
            .map(|(_, _, group)| group.clone())
            .collect();
        for storey in 1..=model.floors.len() as u32 {
            let s = storey as usize - 1;
            for end in 0..ordinates.len() {
                let inside = walls.iter().any(|wall| wall.storey == storey && wall.holds(end));
                if let (Some(column), false) = (model.column_on(direction, line, end, storey), inside) {
                    frame.set_column(s, end, self.column(column, direction, line, end)?);
                    let wings = column.wings.as_ref().filter(|wings| wings.spec.direction == direction);
                    match wings.and_then(|wings| wings.spec.footing.as_ref()) {
                        _ if s > 0 => {}
                        _ if column.kind.base == ColumnBase::Pinned => frame.bases[end] = Base::PINNED,
                        Some(footing) => frame.bases[end] = footing_base(footing),
                        None => {}
                    }
                }
            }
            for bay in 1..ordinates.len() as u32 {
                if let Some(beam) = model.beam_at(direction, line, bay, storey) {
                    frame.set_beam(s, bay as usize - 1, self.beam(beam)?);
                }
            }
        }
        for wall in &walls {
            frame.walls.push(self.wall(direction, line, wall)?);
        }
        let mut masonry = Vec::new();
        for (index, panel) in model.masonry.iter().enumerate() {
            let carries = model.masonry_counts && panel.kind.sill_mm.is_none();
            if carries && (panel.direction, panel.line) == (direction, line) {
                let stiffness = strut(model, panel, self.old_modulus, self.rules)?.stiffness_kn_m;
                frame
                    .storey_springs
                    .push(StoreySpring { storey: panel.storey as usize - 1, stiffness_kn_per_m: stiffness });
                masonry.push(index);
            }
        }
        let condensed = frame.condense().map_err(self.error(direction, line))?;
        Ok(FramedLine { direction, line, frame, condensed, walls, masonry })
    }

    /// A column with its jacket or wings. A jacket whose bars stop at the floors leaves the
    /// stiffness as built, since its ends are open.
    fn column(&self, column: &model::Column, direction: Direction, line: usize, end: usize) -> Ruled<Column> {
        let Rigidity { flexural_kn_m2, axial_kn, .. } = self.column_rigidity(column, direction)?;
        let squash = self.squash_kn(column);
        // A jacket cast later is a little softer than one cast with the column.
        let jacket = column.jacket.as_ref().filter(|jacket| jacket.acts());
        let softer = match jacket {
            Some(jacket) => self.rules.jacket_factors(jacket.surface.into())?.yield_rotation,
            None => 1.0,
        };
        let factors = self.rules.effective_stiffness(Component::Column { axial_ratio: column.axial_kn / squash })?;
        let storey = column.storey;
        let over = self.model.beam_depth_over_m(direction, line, end, storey);
        let under = if storey > 1 { self.model.beam_depth_over_m(direction, line, end, storey - 1) } else { 0.0 };
        let sill = column.sill_m[direction.index()];
        // Joints lie at mid-depth of the beams; the base has none below it, so the first
        // storey keeps the whole beam above.
        let (bottom, top) = if storey > 1 { (under / 2.0 + sill, over - under / 2.0) } else { (sill, over) };
        Ok(Column {
            flexural_rigidity_kn_m2: factors.flexure * flexural_kn_m2 / softer,
            shear_rigidity_kn: Some(factors.shear * axial_kn),
            axial_rigidity_kn: Some(axial_kn),
            rigid_bottom_m: bottom.max(0.0),
            rigid_top_m: top.max(0.0),
        })
    }

    /// Strength of a column squeezed evenly with a jacket whose bars go through, kN.
    fn squash_kn(&self, column: &model::Column) -> f64 {
        let (x, y) = (column.kind.x_mm, column.kind.y_mm);
        let added = column.jacket.as_ref().filter(|jacket| jacket.acts()).map_or(0.0, |jacket| {
            let [wider, deeper] = jacket.skin(Direction::X).added_mm();
            ((x + wider) * (y + deeper) - x * y) * self.sections.concrete_mpa(jacket.concrete_mpa)
        });
        (x * y * self.sections.old_concrete_mpa() + added) / 1000.0
    }

    /// Uncracked rigidities of a column bending in a direction.
    fn column_rigidity(&self, column: &model::Column, direction: Direction) -> Ruled<Rigidity> {
        let (depth, width) = match direction {
            Direction::X => (column.kind.x_mm, column.kind.y_mm),
            Direction::Y => (column.kind.y_mm, column.kind.x_mm),
        };
        let mut strips = vec![(self.old_modulus, width, -depth / 2.0, depth / 2.0)];
        if let Some(jacket) = column.jacket.as_ref().filter(|jacket| jacket.acts()) {
            let modulus = self.new_modulus(jacket.concrete_mpa)?;
            let skin = jacket.skin(direction);
            let wide = width + skin.added_mm()[1];
            strips.push((modulus, wide, -depth / 2.0 - skin.along[0], depth / 2.0 + skin.along[1]));
            strips.push((-modulus, width, -depth / 2.0, depth / 2.0));
        }
        if let Some(wings) = &column.wings {
            let modulus = self.new_modulus(wings.spec.concrete_mpa)?;
            let thickness = wings.spec.thickness_mm;
            if wings.spec.direction == direction {
                strips.push((modulus, thickness, -depth / 2.0 - wings.lower_mm, -depth / 2.0));
                strips.push((modulus, thickness, depth / 2.0, depth / 2.0 + wings.higher_mm));
            } else {
                strips.push((modulus, wings.lower_mm + wings.higher_mm, -thickness / 2.0, thickness / 2.0));
            }
            strips.retain(|strip| strip.3 > strip.2 && strip.1 > 0.0);
        }
        Ok(rigidity(&strips))
    }

    fn beam(&self, beam: &model::Beam) -> Ruled<Beam> {
        let flange = flange_mm(self.model, beam);
        let slab = self.model.floors[beam.storey as usize - 1].slab_mm;
        let (width, depth) = (beam.kind.width_mm, beam.kind.depth_mm);
        let strips = [(self.old_modulus, width, 0.0, depth), (self.old_modulus, flange - width, depth - slab, depth)];
        let used = if flange > width { &strips[..] } else { &strips[..1] };
        let factors = self.rules.effective_stiffness(Component::Beam)?;
        let [left, right] = self
            .model
            .bay_columns(beam.direction, beam.line, beam.bay, beam.storey)
            .map_or([0.0; 2], |[lower, higher]| {
                [lower.reach_mm(beam.direction)[1] / 1000.0, higher.reach_mm(beam.direction)[0] / 1000.0]
            });
        Ok(Beam {
            flexural_rigidity_kn_m2: factors.flexure * rigidity(used).flexural_kn_m2,
            shear_rigidity_kn: Some(factors.shear * self.old_modulus * width * depth / 1000.0),
            rigid_left_m: left,
            rigid_right_m: right,
        })
    }

    /// A wall with the columns at its edges as one section.
    fn wall(&self, direction: Direction, line: usize, wall: &WallGroup) -> Ruled<WallPanel> {
        let model = self.model;
        let mut strips = Vec::new();
        let mut web = 0.0;
        for &index in &wall.panels {
            let panel = &model.panels[index];
            let modulus = match &panel.origin {
                PanelOrigin::Existing(_) => self.old_modulus,
                PanelOrigin::Infill(infill) => self.new_modulus(infill.concrete_mpa)?,
            };
            let loss = panel_opening(model, panel).stiffness;
            let along = model.along(direction);
            let (from, to) = (along[panel.bay as usize - 1].at_m, along[panel.bay as usize].at_m);
            let [lower, higher] = model
                .bay_columns(direction, line, panel.bay, panel.storey)
                .map_or([0.0; 2], |columns| columns.map(|column| depth_along(column, direction) / 2.0));
            strips.push((modulus * loss, panel.thickness_mm, 1000.0 * from + lower, 1000.0 * to - higher));
            web += modulus * loss * panel.thickness_mm * 1000.0 * (to - from) / 1000.0;
        }
        for end in wall.first_bay as usize - 1..=wall.last_bay as usize {
            if let Some(column) = model.column_on(direction, line, end, wall.storey) {
                let at = 1000.0 * model.along(direction)[end].at_m;
                let depth = depth_along(column, direction);
                let area = column.kind.x_mm * column.kind.y_mm;
                strips.push((self.old_modulus, area / depth, at - depth / 2.0, at + depth / 2.0));
            }
        }
        let Rigidity { flexural_kn_m2, axial_kn, .. } = rigidity(&strips);
        let factors = self.rules.effective_stiffness(Component::Wall)?;
        let base = match (&wall.footing, wall.storey) {
            (Some(footing), 1) => footing_base(footing),
            _ => Base::FIXED,
        };
        Ok(WallPanel {
            storey: wall.storey as usize - 1,
            first_line: wall.first_bay as usize - 1,
            last_line: wall.last_bay as usize,
            axis_m: wall.axis_m,
            flexural_rigidity_kn_m2: factors.flexure * flexural_kn_m2,
            shear_rigidity_kn: Some(factors.shear * web),
            axial_rigidity_kn: Some(axial_kn),
            base,
        })
    }

    fn external(&self, frame: &Frame) -> Result<FramedFrame, Unframed> {
        let spec = &frame.spec;
        let modulus = self.new_modulus(spec.concrete_mpa)?;
        let heights: Vec<f64> =
            self.model.floors.iter().take(frame.storeys as usize).map(|floor| floor.height_m).collect();
        let mut line = FrameLine::new(&frame.along_m, &heights);
        let (along, across) = (spec.column_along_mm, spec.column_across_mm);
        let column = rigidity(&[(modulus, across, -along / 2.0, along / 2.0)]);
        let beam = rigidity(&[(modulus, spec.beam_width_mm, 0.0, spec.beam_depth_mm)]);
        let squash = along * across * self.sections.concrete_mpa(spec.concrete_mpa) / 1000.0;
        let columns = frame.along_m.len() as f64;
        let beams = self.rules.effective_stiffness(Component::Beam)?;
        let depth = spec.beam_depth_mm / 1000.0;
        for storey in 0..heights.len() {
            let axial: f64 = frame.weight_kn[storey..].iter().sum::<f64>() / columns;
            let factors = self.rules.effective_stiffness(Component::Column { axial_ratio: axial / squash })?;
            for end in 0..frame.along_m.len() {
                let (bottom, top) = if storey > 0 { (depth / 2.0, depth / 2.0) } else { (0.0, depth) };
                line.set_column(
                    storey,
                    end,
                    Column {
                        flexural_rigidity_kn_m2: factors.flexure * column.flexural_kn_m2,
                        shear_rigidity_kn: Some(factors.shear * column.axial_kn),
                        axial_rigidity_kn: Some(column.axial_kn),
                        rigid_bottom_m: bottom,
                        rigid_top_m: top,
                    },
                );
            }
            for bay in 0..frame.along_m.len() - 1 {
                line.set_beam(
                    storey,
                    bay,
                    Beam {
                        flexural_rigidity_kn_m2: beams.flexure * beam.flexural_kn_m2,
                        shear_rigidity_kn: Some(beams.shear * beam.axial_kn),
                        rigid_left_m: along / 2000.0,
                        rigid_right_m: along / 2000.0,
                    },
                );
            }
        }
        if let Some(footing) = &spec.footing {
            line.bases.fill(footing_base(footing));
        }
        let condensed = line.condense().map_err(self.error(frame.direction, frame.line))?;
        let link_kn_m = frame
            .slabs
            .iter()
            .map(|slab| slab.as_ref().map(|slab| crate::link::strip_stiffness_kn_m(spec, slab, modulus)))
            .collect();
        Ok(FramedFrame { frame: line, condensed, link_kn_m })
    }
}

/// Depth of a column as built along a direction, mm.
pub(crate) fn depth_along(column: &model::Column, direction: Direction) -> f64 {
    match direction {
        Direction::X => column.kind.x_mm,
        Direction::Y => column.kind.y_mm,
    }
}

/// Base of a wall or frame column on its footing: rotation and settlement.
pub fn footing_base(footing: &Footing) -> Base {
    let ground = crate::link::ground(footing);
    Base {
        rotation: Restraint::Spring(ground.rotational_stiffness_knm()),
        vertical: Restraint::Spring(ground.vertical_stiffness_kn_m()),
    }
}

/// One footing under panels side by side: those described alike are the same one, different
/// ones add their lengths on the narrowest width, the least depth and the weakest ground.
fn joined(model: &Model, panels: &[usize]) -> Option<Footing> {
    let mut parts: Vec<&Footing> = Vec::new();
    for footing in panels.iter().filter_map(|panel| model.panels[*panel].footing.as_ref()) {
        if !parts.contains(&footing) {
            parts.push(footing);
        }
    }
    let (first, others) = parts.split_first()?;
    let mut whole = (*first).clone();
    for other in others {
        whole.length_m += other.length_m;
        whole.width_m = whole.width_m.min(other.width_m);
        whole.depth_m = whole.depth_m.min(other.depth_m);
        whole.bearing_kpa = whole.bearing_kpa.min(other.bearing_kpa);
        whole.subgrade_mn_m3 = None;
    }
    Some(whole)
}

/// Gathers panels that stand side by side in a storey.
pub(crate) fn wall_groups(model: &Model) -> Vec<(Direction, usize, WallGroup)> {
    let mut groups: Vec<(Direction, usize, WallGroup)> = Vec::new();
    let mut order: Vec<usize> = (0..model.panels.len()).collect();
    order::sort_by_key(&mut order, |&index| {
        let panel = &model.panels[index];
        (panel.direction, panel.line, panel.storey, panel.bay)
    });
    for index in order {
        let panel = &model.panels[index];
        if !panel_opening(model, panel).is_wall {
            continue;
        }
        let class = panel.class();
        match groups.last_mut() {
            Some((direction, line, group))
                if (*direction, *line, group.storey) == (panel.direction, panel.line, panel.storey)
                    && group.last_bay + 1 == panel.bay =>
            {
                group.last_bay = panel.bay;
                group.panels.push(index);
                if group.class != class {
                    group.class = Class::Strengthened;
                }
            }
            _ => groups.push((
                panel.direction,
                panel.line,
                WallGroup {
                    storey: panel.storey,
                    first_bay: panel.bay,
                    last_bay: panel.bay,
                    class,
                    panels: vec![index],
                    axis_m: 0.0,
                    axial_kn: 0.0,
                    footing: None,
                },
            )),
        }
    }
    for (direction, line, group) in &mut groups {
        let along = model.along(*direction);
        let (from, to) = (along[group.first_bay as usize - 1].at_m, along[group.last_bay as usize].at_m);
        group.axis_m = (from + to) / 2.0;
        group.footing = joined(model, &group.panels);
        group.axial_kn = (group.first_bay as usize - 1..=group.last_bay as usize)
            .filter_map(|end| model.column_on(*direction, *line, end, group.storey))
            .map(|column| column.axial_kn)
            .sum();
    }
    groups
}
