//! Strengths of members: the mechanics behind [`crate::member::Strengths`].

use crate::anchorage::{self, Lap, confinement};
use crate::column::{Column as ColumnStrength, ColumnEnd, ColumnFailure, NodeCap};
use crate::finding::{Code, Finding};
use crate::footing;
use crate::framing::{FramedLine, Framing, WallGroup};
use crate::joint::{JointCapacity, NodeLimit, effective_width_mm, share_knm};
use crate::link;
use crate::masonry_panel::strut;
use crate::material::Bar;
use crate::math::pow;
use crate::member::{Carried, Member, MemberId, Strength, Strengths, in_order};
use crate::model::{Column, Model, Panel, PanelOrigin};
use crate::openings::panel_opening;
use crate::place::Place;
use crate::project::{Direction, Hooks, InfillWall, Materials};
use crate::response::Response;
use crate::rules::{
    BarAnchorage, BeamControl, BeamHinge, BeamShear, ColumnHinge, ColumnShear, Component, Hoops, InterfaceShear,
    JointPosition, JointShear, Ruled, Rules, Surface, WallShear,
};
use crate::sections::{Sections, across, both_senses, frame_axial_kn};
use crate::study::Failure;
use crate::wall::{WallAtStrength, WallFailure};

/// The two senses of a storey's drift.
const SENSES: [usize; 2] = [0, 1];

impl Strengths {
    /// Strengths of all members in a direction.
    ///
    /// `translated` is the response to the elastic forces with the plan kept from turning;
    /// its shears over its drifts are the secant stiffnesses members share a storey with.
    pub fn new(
        model: &Model,
        framing: &Framing,
        materials: &Materials,
        rules: &dyn Rules,
        direction: Direction,
        translated: &Response,
        forces_kn: &[f64],
    ) -> Ruled<Self> {
        let sections = Sections::new(model, materials, rules)?;
        let mut work =
            Work { sections, direction, levers_m: levers(model, forces_kn), found: short_beams(&sections, direction)? };
        let carried = in_order(model, framing, direction, translated);
        let lines: Vec<Option<LineStrengths>> = framing
            .lines
            .iter()
            .map(|line| (line.direction == direction).then(|| work.line(line)).transpose())
            .collect::<Ruled<_>>()?;
        let shears: Vec<f64> = (0..forces_kn.len()).map(|s| forces_kn[s..].iter().sum()).collect();
        let mut storeys = Vec::new();
        for (s, members) in carried.iter().enumerate() {
            let mut row = Vec::new();
            for member in members {
                let strength = match member.member {
                    MemberId::Column { line, end } => match &lines[line] {
                        Some(strengths) => work.column(&framing.lines[line], strengths, s, end, member)?,
                        None => None,
                    },
                    MemberId::Wall { line, wall } => Some(work.wall(&framing.lines[line], wall, &shears, member)?),
                    MemberId::Masonry { line, panel } => Some(work.masonry(&framing.lines[line], panel, member)?),
                    MemberId::Frame { frame } => Some(work.frame(frame, s, &shears, member)?),
                };
                row.extend(strength);
            }
            storeys.push(row);
        }
        Ok(Self { storeys, found: work.found })
    }

    /// What was found on the way.
    pub fn findings(&self) -> &[Finding] {
        &self.found
    }
}

/// Beams made short by wing walls that may shear before they bend: V = (M_sag + M_hog)/l_clear
/// with the gravity shear of half the floor on either side, against the clause's strength.
fn short_beams(sections: &Sections<'_>, direction: Direction) -> Ruled<Vec<Finding>> {
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

/// Height of the resultant of the lateral forces above each storey's foot, m.
pub(crate) fn levers(model: &Model, forces_kn: &[f64]) -> Vec<f64> {
    (0..forces_kn.len())
        .map(|s| {
            let foot = model.floors[s].level_m - model.floors[s].height_m;
            let shear: f64 = forces_kn[s..].iter().sum();
            let moment: f64 =
                model.floors.iter().zip(forces_kn).skip(s).map(|(floor, force)| force * (floor.level_m - foot)).sum();
            if shear > 0.0 { moment / shear } else { model.floors[s].height_m }
        })
        .collect()
}

/// Bending strengths of a line's columns and beams.
struct LineStrengths {
    /// By storey and place along the line: moments of the column in both senses, kNm.
    columns: Vec<Vec<Option<[f64; 2]>>>,
    /// By floor and place along the line: what beams and joint let columns have in both
    /// senses.
    joints: Vec<Vec<[Option<JointLimit>; 2]>>,
    /// By storey and place along the line: stress old bars carry where their lap is too
    /// short to reach yield, MPa.
    lap_mpa: Vec<Vec<Option<f64>>>,
}

/// What a joint lets the columns at it have.
#[derive(Clone, Copy, Debug, PartialEq)]
struct JointLimit {
    /// Sum of moments at its centre, kNm.
    moment_knm: f64,
    /// What sets it.
    limit: NodeLimit,
    /// Plastic rotations of what sets it: before strength and before support is lost.
    rotations: [f64; 2],
}

/// What the strengths of one direction need at hand.
struct Work<'a> {
    sections: Sections<'a>,
    direction: Direction,
    levers_m: Vec<f64>,
    found: Vec<Finding>,
}

impl Work<'_> {
    fn rules(&self) -> &dyn Rules {
        self.sections.rules
    }

    fn model(&self) -> &Model {
        self.sections.model
    }

    /// Bending strengths of a line's columns, beams and joints.
    fn line(&mut self, line: &FramedLine) -> Ruled<LineStrengths> {
        let (storeys, ends) = (self.model().floors.len(), self.model().along(self.direction).len());
        let mut strengths = LineStrengths {
            columns: vec![vec![None; ends]; storeys],
            joints: vec![vec![[None; 2]; ends]; storeys],
            lap_mpa: vec![vec![None; ends]; storeys],
        };
        for s in 0..storeys {
            for end in 0..ends {
                let inside = line.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
                let column = self.model().column_on(self.direction, line.line, end, s as u32 + 1).cloned();
                if let (Some(column), false) = (column, inside) {
                    let steel = self.sections.old_steel_mpa();
                    let lap = self.lap_mpa(&column)?;
                    strengths.lap_mpa[s][end] = lap;
                    let wing = self.wing_bar_mpa(&column)?;
                    let section = self.sections.column(&column, self.direction, lap.unwrap_or(steel), wing)?;
                    let moments = both_senses(section.as_ref(), column.axial_kn, 0.0);
                    if moments == [0.0; 2] {
                        let place = self.model().column_place(&column);
                        let detail = format!("{place}, {:.0} kN", column.axial_kn);
                        self.found.push(Finding::new(Code::ColumnOverloaded, place, detail));
                    }
                    strengths.columns[s][end] = Some(moments);
                }
            }
        }
        let beam = |s: usize, bay: u32| {
            let beam = self.model().beam_at(self.direction, line.line, bay, s as u32 + 1);
            beam.map(|beam| self.sections.beam_knm(beam)).transpose()
        };
        let beams: Vec<Vec<Option<[f64; 2]>>> =
            (0..storeys).map(|s| (1..ends as u32).map(|bay| beam(s, bay)).collect()).collect::<Ruled<_>>()?;
        for (s, beams) in beams.iter().enumerate() {
            for end in 0..ends {
                // A joint on a wall is held by the wall, not by beams.
                let on_wall = line
                    .walls
                    .iter()
                    .any(|wall| wall.holds(end) && (wall.storey as usize == s + 1 || wall.storey as usize == s + 2));
                if on_wall {
                    continue;
                }
                for sense in SENSES {
                    strengths.joints[s][end][sense] = self.joint(line.line, s, end, sense, beams)?;
                }
            }
        }
        Ok(strengths)
    }

    /// What beams and joint let the columns at a joint have in a sense: with the storey
    /// drifting towards higher ordinates the beam before the joint hogs and the one after
    /// it sags there.
    fn joint(
        &self,
        line: usize,
        s: usize,
        end: usize,
        sense: usize,
        beams: &[Option<[f64; 2]>],
    ) -> Ruled<Option<JointLimit>> {
        let model = self.model();
        let storey = s as u32 + 1;
        let Some(column) = model.column_on(self.direction, line, end, storey) else { return Ok(None) };
        let at_centre = |bay: usize, sagging: bool| {
            let [sag, hog] = (*beams.get(bay)?)?;
            let span = model.bay_length_m(self.direction, bay as u32 + 1);
            let [lower, higher] = model.bay_columns(self.direction, line, bay as u32 + 1, storey)?;
            let reach = (lower.reach_mm(self.direction)[1] + higher.reach_mm(self.direction)[0]) / 1000.0;
            let clear = span - reach;
            let half = (column.reach_mm(self.direction).iter().sum::<f64>()) / 2000.0;
            // The moment at the face grows by the beam's shear times half the column.
            Some((if sagging { sag } else { hog }) + (sag + hog) / clear * half)
        };
        let before = end.checked_sub(1).and_then(|bay| at_centre(bay, sense == 1));
        let after = at_centre(end, sense == 0);
        let beams_knm = before.unwrap_or(0.0) + after.unwrap_or(0.0);
        let depth = model.beam_depth_over_m(self.direction, line, end, storey);
        let above = model.column_on(self.direction, line, end, storey + 1);
        let joint =
            self.joint_knm(column, above.is_some(), [before.is_some(), after.is_some()], line, end, depth, storey)?;
        Ok(Some(match joint {
            Some(joint) if joint.moment_knm < beams_knm => joint,
            _ => JointLimit { moment_knm: beams_knm, limit: NodeLimit::Beams, rotations: self.beam_rotations()? },
        }))
    }

    /// Sum of beam moments a joint can pass; `None` where no beams frame in.
    #[expect(clippy::too_many_arguments, reason = "a joint is described by what meets there")]
    fn joint_knm(
        &self,
        column: &Column,
        goes_on: bool,
        sides: [bool; 2],
        line: usize,
        end: usize,
        depth_m: f64,
        storey: u32,
    ) -> Ruled<Option<JointLimit>> {
        let model = self.model();
        let transverse = {
            let across = self.direction.across();
            let count = [line.checked_sub(1), Some(line)]
                .into_iter()
                .flatten()
                .filter(|bay| model.beam_at(across, end, *bay as u32 + 1, storey).is_some())
                .count();
            count == 2
        };
        let position = match (sides, goes_on) {
            ([true, true], _) => JointPosition::Interior { transverse_beams: transverse },
            ([true, false] | [false, true], true) => JointPosition::Exterior { transverse_beams: transverse },
            ([true, false] | [false, true], false) => JointPosition::Knee,
            ([false, false], _) => return Ok(None),
        };
        let (along, width) = across(column, self.direction);
        // Wings above and below the beam lengthen the joint.
        let above = model.column_on(self.direction, line, end, storey + 1);
        let wings = |column: &Column| {
            column
                .wings
                .as_ref()
                .filter(|wings| wings.spec.direction == self.direction)
                .map_or(0.0, |wings| (wings.lower_mm + wings.higher_mm) * wings.spec.thickness_mm.min(width))
        };
        let winged = above.map_or(wings(column), |above| wings(above).min(wings(column)));
        let beams = end.checked_sub(1).into_iter().chain([end]).filter_map(|bay| {
            let beam = model.beam_at(self.direction, line, bay as u32 + 1, storey)?;
            Some(beam.kind.width_mm)
        });
        let effective = effective_width_mm(width, along, beams.fold(0.0, f64::max));
        let strength = self.rules().joint_shear(&JointShear {
            concrete_mpa: self.sections.old_concrete_mpa(),
            area_mm2: along * effective + winged,
            position,
            // Hoops are not shown inside the joints of existing frames.
            hoop_ratio: 0.0,
            axial_ratio: column.axial_kn * 1000.0 / (along * width * self.sections.old_concrete_mpa()),
            lightweight: 1.0,
        })?;
        let capacity = JointCapacity {
            strength_kn: strength.strength_kn,
            lever_m: 0.8 * depth_m,
            column_height_m: model.floors[storey as usize - 1].height_m,
        };
        Ok(Some(JointLimit {
            moment_knm: capacity.beam_moments_knm(),
            limit: NodeLimit::Joint,
            rotations: [strength.rotations.capping, strength.rotations.loss],
        }))
    }

    /// Stress old bars can carry at their lap, where it is too short to reach yield.
    fn lap_mpa(&self, column: &Column) -> Ruled<Option<f64>> {
        let Some(provided_mm) = column.kind.lap_mm else { return Ok(None) };
        let kind = &column.kind;
        let edge_mm = kind.cover_mm + kind.hoop_mm + kind.bar_mm / 2.0;
        // As if the bars stood evenly round the perimeter.
        let perimeter = 2.0 * (kind.x_mm + kind.y_mm - 4.0 * edge_mm);
        let strength = anchorage::lap(
            self.rules(),
            &Lap {
                bar: Bar::round(kind.bar_mm),
                yield_mpa: self.sections.old_steel_mpa(),
                concrete_mpa: self.sections.old_concrete_mpa(),
                provided_mm,
                edge_mm,
                spacing_mm: perimeter / f64::from(kind.bars),
            },
        )?;
        Ok(strength.short.then_some(strength.stress_mpa))
    }

    /// Stress the vertical bars of a wing can carry as they are embedded.
    fn wing_bar_mpa(&self, column: &Column) -> Ruled<f64> {
        let Some(wings) = &column.wings else { return Ok(0.0) };
        let spec = &wings.spec;
        self.bonded_mpa(Bar::round(spec.bar_mm), spec.steel_mpa, spec.embedment_mm, spec.bar_spacing_mm)
    }

    /// Stress a bar bonded into the existing concrete can carry, MPa.
    fn bonded_mpa(&self, bar: Bar, yield_mpa: f64, embedment_mm: f64, spacing_mm: f64) -> Ruled<f64> {
        let anchorage = BarAnchorage {
            bar,
            yield_mpa,
            concrete_mpa: self.sections.materials.concrete_mpa,
            embedment_mm,
            // The old member's own cover is not in the way: these bars stand in its middle.
            confinement: confinement(bar, f64::INFINITY, spacing_mm),
            position_factor: 1.0,
            breakout: None,
            lightweight: 1.0,
        };
        Ok(self.rules().bar_anchorage(&anchorage)?.stress_mpa)
    }

    fn column(
        &mut self,
        line: &FramedLine,
        strengths: &LineStrengths,
        s: usize,
        end: usize,
        carried: &Carried,
    ) -> Ruled<Option<Member>> {
        let model = self.sections.model;
        let storey = s as u32 + 1;
        let Some(column) = model.column_on(self.direction, line.line, end, storey) else { return Ok(None) };
        let clear = model.clear_height_m(column, self.direction);
        let height = model.floors[s].height_m;
        let stiffness = self.secant(carried, column, clear)?;
        let strength = |sense| {
            let ends = self.column_ends(line, strengths, s, end, sense, column, clear);
            self.column_strength(column, strengths.lap_mpa[s][end].is_some(), ends, [clear, height], stiffness)
        };
        let senses = [strength(0)?, strength(1)?];
        let place = model.column_place(column);
        Ok(Some(Member {
            place,
            class: column.class(),
            line: model.lines(self.direction)[line.line].name.clone(),
            axial_kn: column.axial_kn,
            clear_height_m: clear,
            stiffness_kn_m: stiffness,
            senses,
        }))
    }

    /// Secant stiffness in the storey: shear over drift of the elastic solution, or that of
    /// a column held at both ends where the solution has it push back.
    fn secant(&self, carried: &Carried, column: &Column, clear_m: f64) -> Ruled<f64> {
        let modulus = self.rules().concrete_modulus_mpa(self.sections.old_concrete_mpa())?;
        let (depth, width) = across(column, self.direction);
        let inertia = width * pow(depth, 3.0) / 12.0 / 1e12;
        let factors = self.rules().effective_stiffness(Component::Column { axial_ratio: 0.1 })?;
        let held = 12.0 * factors.flexure * modulus * 1000.0 * inertia / pow(clear_m, 3.0);
        Ok(secant(carried, held))
    }

    /// The column's head and foot in a sense, as its section, joints and beams allow.
    #[expect(clippy::too_many_arguments, reason = "an end is described by what meets there")]
    fn column_ends(
        &self,
        line: &FramedLine,
        strengths: &LineStrengths,
        s: usize,
        end: usize,
        sense: usize,
        column: &Column,
        clear_m: f64,
    ) -> [ColumnEnd; 2] {
        let model = self.model();
        let own = strengths.columns[s][end].unwrap_or([0.0; 2]);
        // Towards higher ordinates the foot is compressed on the far side, the head on the near one.
        let (foot, head) = (own[sense], own[1 - sense]);
        let centred = |moment: f64, storey: usize, clear: f64| moment * model.floors[storey].height_m / clear;
        let above = strengths.columns.get(s + 1).and_then(|row| row[end]).map(|moments| {
            let clear = model
                .column_on(self.direction, line.line, end, s as u32 + 2)
                .map_or(model.floors[s + 1].height_m, |column| model.clear_height_m(column, self.direction));
            centred(moments[sense], s + 1, clear)
        });
        let below = (s > 0).then(|| strengths.columns[s - 1][end]).flatten().map(|moments| {
            let clear = model
                .column_on(self.direction, line.line, end, s as u32)
                .map_or(model.floors[s - 1].height_m, |column| model.clear_height_m(column, self.direction));
            centred(moments[1 - sense], s - 1, clear)
        });
        let to_face = clear_m / model.floors[s].height_m;
        let short_lap = strengths.lap_mpa[s][end].is_some();
        let at = |section_knm: f64, other: Option<f64>, joint: Option<JointLimit>| ColumnEnd {
            section_knm,
            short_lap,
            node: joint.map(|joint| NodeCap {
                moment_knm: to_face
                    * share_knm(joint.moment_knm, centred(section_knm, s, clear_m), other.unwrap_or(0.0)),
                limit: joint.limit,
                capping_ratio: joint.rotations[0],
                loss_ratio: joint.rotations[1],
            }),
        };
        // A sill holds the foot; so does the base.
        let held = s == 0 || column.sill_m[self.direction.index()] > 0.0;
        let pinned = s == 0 && column.kind.base == crate::project::Base::Pinned;
        let foot = match (held, s.checked_sub(1)) {
            (false, Some(under)) => at(foot, below, strengths.joints[under][end][sense]),
            _ => at(if pinned { 0.0 } else { foot }, None, None),
        };
        [at(head, above, strengths.joints[s][end][sense]), foot]
    }

    fn column_strength(
        &self,
        column: &Column,
        short_lap: bool,
        ends: [ColumnEnd; 2],
        [clear_height_m, storey_height_m]: [f64; 2],
        stiffness_kn_m: f64,
    ) -> Ruled<Strength> {
        // A jacket roughened and cast against the old column, as good practice has it.
        let shear_factor = match &column.jacket {
            Some(_) => self.rules().jacket_factors(Surface::Roughened)?.shear,
            None => 1.0,
        };
        let response = ColumnStrength {
            clear_height_m,
            storey_height_m,
            ends,
            stiffness_kn_m,
            shear: self.column_shear(column),
            shear_factor,
            added_shear_kn: self.wing_shear_kn(column, clear_height_m)?,
            hinge: self.column_hinge(column, short_lap),
        }
        .response(self.rules())?;
        Ok(Strength {
            strength_kn: response.strength_kn,
            flexural_kn: response.flexural_kn,
            shear_kn: response.shear_kn,
            failure: match response.failure {
                ColumnFailure::Flexure => Failure::Flexure,
                ColumnFailure::FlexureShear => Failure::FlexureShear,
                ColumnFailure::Shear => Failure::Shear,
                ColumnFailure::Splice => Failure::Splice,
                ColumnFailure::Beam => Failure::Beam,
                ColumnFailure::Joint => Failure::Joint,
            },
            cracking_kn: response.strength_kn,
            yield_drift_mm: 1000.0 * response.yield_drift_m,
            limit_drift_mm: 1000.0 * response.limit_drift_m,
        })
    }

    /// A column with its jacket as the shear clause takes it; the shear span is left open.
    fn column_shear(&self, column: &Column) -> ColumnShear {
        let kind = &column.kind;
        let (depth, width) = across(column, self.direction);
        let legs = match self.direction {
            Direction::X => kind.hoop_legs_x,
            Direction::Y => kind.hoop_legs_y,
        };
        let edge = kind.cover_mm + kind.hoop_mm + kind.bar_mm / 2.0;
        let old_hoops = Hoops {
            area_mm2: f64::from(legs) * Bar::round(kind.hoop_mm).area_mm2,
            spacing_mm: kind.hoop_spacing_mm,
            yield_mpa: self.sections.steel_mpa(self.sections.materials.hoop_steel_mpa),
            effective_depth_mm: depth - edge,
        };
        let old = self.sections.old_concrete_mpa();
        let mut asked = ColumnShear {
            gross_area_mm2: depth * width,
            effective_depth_mm: depth - edge,
            concrete_mpa: old,
            hoops: [old_hoops, Hoops::NONE],
            axial_kn: column.axial_kn,
            shear_span_mm: 0.0,
            ductility: 0.0,
            lightweight: 1.0,
        };
        if let Some(jacket) = &column.jacket {
            let (d, w) = (depth + 2.0 * jacket.thickness_mm, width + 2.0 * jacket.thickness_mm);
            let new = self.sections.concrete_mpa(jacket.concrete_mpa);
            asked.gross_area_mm2 = d * w;
            asked.effective_depth_mm = d - jacket.thickness_mm / 2.0;
            asked.concrete_mpa = (old * depth * width + new * (d * w - depth * width)) / (d * w);
            asked.hoops[1] = Hoops {
                area_mm2: 2.0 * Bar::round(jacket.hoop_mm).area_mm2,
                spacing_mm: jacket.hoop_spacing_mm,
                yield_mpa: self.sections.steel_mpa(jacket.steel_mpa),
                effective_depth_mm: d - jacket.thickness_mm / 2.0,
            };
        }
        asked
    }

    /// Shear strength a column's wings add in their direction, kN.
    fn wing_shear_kn(&self, column: &Column, clear_m: f64) -> Ruled<f64> {
        let Some(wings) = column.wings.as_ref().filter(|wings| wings.spec.direction == self.direction) else {
            return Ok(0.0);
        };
        let spec = &wings.spec;
        let ratio = 2.0 * Bar::round(spec.bar_mm).area_mm2 / (spec.bar_spacing_mm * spec.thickness_mm);
        let mut shear = 0.0;
        for length in [wings.lower_mm, wings.higher_mm].into_iter().filter(|length| *length > 0.0) {
            let wing = WallShear {
                concrete_mpa: self.sections.concrete_mpa(spec.concrete_mpa),
                yield_mpa: self.sections.steel_mpa(spec.steel_mpa),
                thickness_mm: spec.thickness_mm,
                length_mm: length,
                height_mm: 1000.0 * clear_m,
                horizontal_ratio: ratio,
                vertical_ratio: ratio,
                axial_kn: 0.0,
                opening_factor: 1.0,
                lightweight: 1.0,
            };
            shear += self.rules().wall_shear(&wing)?.strength_kn;
        }
        Ok(shear)
    }

    /// A column with its jacket as the rotation table takes it; the shear ratio is left open.
    fn column_hinge(&self, column: &Column, short_lap: bool) -> ColumnHinge {
        let kind = &column.kind;
        let (depth, width) = across(column, self.direction);
        let legs = match self.direction {
            Direction::X => kind.hoop_legs_x,
            Direction::Y => kind.hoop_legs_y,
        };
        let old = self.sections.old_concrete_mpa();
        let mut hinge = ColumnHinge {
            axial_ratio: 1000.0 * column.axial_kn / (depth * width * old),
            hoop_ratio: f64::from(legs) * Bar::round(kind.hoop_mm).area_mm2 / (width * kind.hoop_spacing_mm),
            bar_ratio: f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2 / (depth * width),
            shear_ratio: 0.0,
            concrete_mpa: old,
            hoop_yield_mpa: self.sections.steel_mpa(self.sections.materials.hoop_steel_mpa),
            bar_yield_mpa: self.sections.old_steel_mpa(),
            short_splice: short_lap,
            anchored_hoops: kind.hooks == Hooks::Seismic,
        };
        if let Some(jacket) = &column.jacket {
            let (d, w) = (depth + 2.0 * jacket.thickness_mm, width + 2.0 * jacket.thickness_mm);
            hinge.axial_ratio *= depth * width / (d * w);
            hinge.hoop_ratio = 2.0 * Bar::round(jacket.hoop_mm).area_mm2 / (w * jacket.hoop_spacing_mm);
            hinge.hoop_yield_mpa = self.sections.steel_mpa(jacket.steel_mpa);
            hinge.anchored_hoops = true;
        }
        hinge
    }

    /// Plastic rotations of old beams, as not confined: before strength and before support is lost.
    fn beam_rotations(&self) -> Ruled<[f64; 2]> {
        let hinge = BeamHinge {
            control: BeamControl::Flexure,
            steel_ratio: 0.25,
            confined: false,
            shear_stress: 0.25,
            spacing_ratio: 0.5,
        };
        let rotations = self.rules().beam_rotations(&hinge)?;
        Ok([rotations.capping, rotations.loss])
    }

    fn wall(&mut self, line: &FramedLine, index: usize, shears_kn: &[f64], carried: &Carried) -> Ruled<Member> {
        let model = self.sections.model;
        let wall = &line.walls[index];
        let s = wall.storey as usize - 1;
        let name = model.lines(self.direction)[line.line].name.clone();
        // The stack bends as one: no storey carries more than its share of what the foot does.
        let foot = line
            .walls
            .iter()
            .filter(|other| other.first_bay <= wall.last_bay && wall.first_bay <= other.last_bay)
            .min_by_key(|other| other.storey)
            .unwrap_or(wall);
        let at = foot.storey as usize - 1;
        let share = if shears_kn[at] > 0.0 { shears_kn[s] / shears_kn[at] } else { 1.0 };
        let web_mpa = self.web_bar_mpa(line, index)?;
        let own = self.wall_moments(line, wall, web_mpa)?;
        let below = self.wall_moments(line, foot, web_mpa)?;
        let (shear, perimeter) = (self.wall_shear_kn(line, index)?, self.perimeter_kn(line, index)?);
        let height = model.floors[s].height_m;
        let stiffness = secant(carried, shear.max(1.0) / (0.004 * height));
        let mut senses = Vec::new();
        for sense in SENSES {
            let here = own[sense] + self.coupling_knm(line, wall, sense)?;
            let coupling = self.coupling_knm(line, foot, sense)?;
            let flexural = (here / self.levers_m[s]).min(share * (below[sense] + coupling) / self.levers_m[at]);
            let rocking = if at == 0 {
                share * (self.rocking_knm(line, foot) + coupling) / self.levers_m[0]
            } else {
                f64::INFINITY
            };
            let (strength, failure) = least([
                (shear, Failure::WallShear),
                (flexural, Failure::WallFlexure),
                (rocking, Failure::Rocking),
                (perimeter, Failure::Perimeter),
            ]);
            let drifts = self.wall_at(line, index, strength, failure, stiffness).drifts(self.rules())?;
            senses.push(Strength {
                strength_kn: strength,
                flexural_kn: flexural.min(rocking),
                shear_kn: shear.min(perimeter),
                failure,
                cracking_kn: drifts.cracking_kn,
                yield_drift_mm: 1000.0 * drifts.full_m,
                limit_drift_mm: 1000.0 * drifts.limit_m,
            });
        }
        let senses = [senses[0], senses[1]];
        self.wall_findings(wall, &name, &senses);
        Ok(Member {
            place: model.panel_place(self.direction, line.line, wall.first_bay, wall.storey),
            class: wall.class,
            line: name,
            axial_kn: wall.axial_kn,
            clear_height_m: height,
            stiffness_kn_m: stiffness,
            senses,
        })
    }

    fn wall_findings(&mut self, wall: &WallGroup, name: &str, senses: &[Strength; 2]) {
        let fails = |failure| senses.iter().any(|sense| sense.failure == failure);
        let footing = Place::Footing { line: name.to_owned() };
        if wall.storey == 1 && wall.footing.is_none() {
            self.found.push(Finding::new(Code::FootingNotGiven, footing.clone(), format!("the wall on line {name}")));
        }
        if wall.storey == 1 && fails(Failure::Rocking) {
            self.found.push(Finding::new(Code::FootingUplift, footing, format!("wall on line {name}")));
        }
        if fails(Failure::Perimeter) {
            let place = Place::Panel { line: name.to_owned(), bay: wall.first_bay, storey: wall.storey };
            let detail = format!("line {name}, storey {}", wall.storey);
            self.found.push(Finding::new(Code::InfillConnectionGoverns, place, detail));
        }
    }

    /// Moments of a wall's section at its gravity load in both senses, kNm.
    fn wall_moments(&self, line: &FramedLine, wall: &WallGroup, web_mpa: f64) -> Ruled<[f64; 2]> {
        let section = self.sections.wall(self.direction, line.line, wall, web_mpa)?;
        Ok(both_senses(section.as_ref(), wall.axial_kn, 0.0))
    }

    /// Moment about a wall's axis that beams framing into its ends hold it back with, from
    /// its head up, kNm: at each end the beam's moment and its shear times half the wall
    /// (virtual work of the wall turning about its foot).
    fn coupling_knm(&self, line: &FramedLine, wall: &WallGroup, sense: usize) -> Ruled<f64> {
        let model = self.model();
        let half =
            (wall.first_bay..=wall.last_bay).map(|bay| model.bay_length_m(self.direction, bay)).sum::<f64>() / 2.0;
        let mut sum = 0.0;
        for storey in wall.storey..=model.floors.len() as u32 {
            for (bay, before) in [(wall.first_bay - 1, true), (wall.last_bay + 1, false)] {
                let Some(beam) = model.beam_at(self.direction, line.line, bay, storey) else { continue };
                let Some([lower, higher]) = model.bay_columns(self.direction, line.line, bay, storey) else { continue };
                let beside = line.walls.iter().any(|other| {
                    (other.storey == storey || other.storey == storey + 1)
                        && other.first_bay <= bay
                        && bay <= other.last_bay
                });
                if beside {
                    continue;
                }
                let [sag, hog] = self.sections.beam_knm(beam)?;
                let reach = (lower.reach_mm(self.direction)[1] + higher.reach_mm(self.direction)[0]) / 1000.0;
                let clear = model.bay_length_m(self.direction, bay) - reach;
                let at_wall = if before == (sense == 0) { hog } else { sag };
                sum += at_wall + (sag + hog) / clear * half;
            }
        }
        Ok(sum)
    }

    /// Moment at which a wall rocks: on its footing if given, otherwise about its own edge
    /// with nothing but the gravity load on it, kNm.
    fn rocking_knm(&self, line: &FramedLine, wall: &WallGroup) -> f64 {
        match &wall.footing {
            Some(own) => link::ground(own).rocking_moment_knm(wall.axial_kn),
            None => {
                let bays = wall.first_bay..=wall.last_bay;
                let length: f64 = bays.map(|bay| self.model().bay_length_m(line.direction, bay)).sum();
                footing::gravity_only_moment_knm(wall.axial_kn, length)
            }
        }
    }

    /// Shear strength of a wall's panels together, kN.
    fn wall_shear_kn(&self, line: &FramedLine, index: usize) -> Ruled<f64> {
        let model = self.model();
        let wall = &line.walls[index];
        let own = &model.floors[wall.storey as usize - 1];
        let top = model.floors.last().map_or(own.level_m, |floor| floor.level_m);
        let height = 1000.0 * (top - own.level_m + own.height_m);
        let mut sum = 0.0;
        for &panel in &wall.panels {
            let panel = &model.panels[panel];
            let (bar_mm, spacing, curtains, concrete, steel) = self.panel_steel(panel);
            let ratio = f64::from(curtains) * Bar::round(bar_mm).area_mm2 / (spacing * panel.thickness_mm);
            let asked = WallShear {
                concrete_mpa: self.sections.concrete_mpa(concrete),
                yield_mpa: self.sections.steel_mpa(steel),
                thickness_mm: panel.thickness_mm,
                length_mm: 1000.0 * model.bay_length_m(self.direction, panel.bay),
                height_mm: height,
                horizontal_ratio: ratio,
                vertical_ratio: ratio,
                axial_kn: wall.axial_kn / wall.panels.len() as f64,
                opening_factor: panel_opening(model, panel).strength,
                lightweight: 1.0,
            };
            sum += self.rules().wall_shear(&asked)?.strength_kn;
        }
        Ok(sum)
    }

    /// Bars of a panel: diameter, spacing, curtains, concrete and steel strength as given.
    fn panel_steel(&self, panel: &Panel) -> (f64, f64, u32, f64, f64) {
        let materials = self.sections.materials;
        match &panel.origin {
            PanelOrigin::Existing(own) => {
                (own.bar_mm, own.bar_spacing_mm, own.curtains, materials.concrete_mpa, materials.steel_mpa)
            }
            PanelOrigin::Infill(own) => (own.bar_mm, own.bar_spacing_mm, 2, own.concrete_mpa, own.steel_mpa),
        }
    }

    /// Stress the web's vertical bars carry: to yield in an existing wall cast with its
    /// footing, as far as the dowels are anchored in an infill.
    fn web_bar_mpa(&self, line: &FramedLine, index: usize) -> Ruled<f64> {
        let panel = &self.model().panels[line.walls[index].panels[0]];
        let PanelOrigin::Infill(own) = &panel.origin else { return Ok(self.sections.old_steel_mpa()) };
        let per_length = |bar: f64, spacing: f64| Bar::round(bar).area_mm2 / spacing;
        // One row of dowels meets two curtains of bars.
        let passed = self.dowel_mpa(own)? * per_length(own.dowel_mm, own.dowel_spacing_mm)
            / (2.0 * per_length(own.bar_mm, own.bar_spacing_mm));
        Ok(passed.min(self.sections.steel_mpa(own.steel_mpa)))
    }

    fn dowel_mpa(&self, infill: &InfillWall) -> Ruled<f64> {
        let bar = Bar::round(infill.dowel_mm);
        self.bonded_mpa(bar, infill.steel_mpa, infill.dowel_embedment_mm, infill.dowel_spacing_mm)
    }

    /// Shear the bars round an infill can bring in: friction along the beam's soffit with
    /// the columns at both ends, kN; no limit for existing walls.
    fn perimeter_kn(&self, line: &FramedLine, index: usize) -> Ruled<f64> {
        let model = self.model();
        let wall = &line.walls[index];
        let mut strength = 0.0;
        for &panel in &wall.panels {
            let panel = &model.panels[panel];
            let PanelOrigin::Infill(own) = &panel.origin else { return Ok(f64::INFINITY) };
            let [length, _] = model.panel_clear_m(panel);
            let opening = panel.opening.as_ref().map_or(0.0, |opening| opening.width_mm);
            let net = (1000.0 * length - opening).max(0.0);
            let interface = InterfaceShear {
                area_mm2: net * panel.thickness_mm,
                steel_mm2: (net / own.dowel_spacing_mm).floor() * Bar::round(own.dowel_mm).area_mm2,
                bar_stress_mpa: self.dowel_mpa(own)?,
                surface: Surface::Roughened,
                concrete_mpa: self.sections.materials.concrete_mpa.min(own.concrete_mpa),
                normal_kn: 0.0,
                lightweight: 1.0,
            };
            strength += self.rules().interface_shear(&interface)?.strength_kn;
        }
        // The columns at the ends pass their shear with the wall.
        for end in [wall.first_bay as usize - 1, wall.last_bay as usize] {
            if let Some(column) = model.column_on(self.direction, line.line, end, wall.storey) {
                let clear = model.clear_height_m(column, self.direction);
                let asked = ColumnShear { shear_span_mm: 500.0 * clear, ..self.column_shear(column) };
                strength += self.rules().column_shear(&asked)?.strength_kn + self.wing_shear_kn(column, clear)?;
            }
        }
        Ok(strength)
    }

    /// A wall at its strength.
    fn wall_at(
        &self,
        line: &FramedLine,
        index: usize,
        strength_kn: f64,
        failure: Failure,
        stiffness_kn_m: f64,
    ) -> WallAtStrength {
        let model = self.model();
        let wall = &line.walls[index];
        let panel = &model.panels[wall.panels[0]];
        let (_, _, _, concrete, _) = self.panel_steel(panel);
        let length: f64 =
            (wall.first_bay..=wall.last_bay).map(|bay| 1000.0 * model.bay_length_m(self.direction, bay)).sum();
        WallAtStrength {
            failure: match failure {
                Failure::WallFlexure => WallFailure::Flexure,
                Failure::Rocking => WallFailure::Rocking,
                Failure::Perimeter => WallFailure::Perimeter,
                _ => WallFailure::Shear,
            },
            strength_kn,
            stiffness_kn_m,
            storey_height_m: model.floors[wall.storey as usize - 1].height_m,
            web_mm2: length * panel.thickness_mm,
            concrete_mpa: self.sections.concrete_mpa(concrete),
            axial_kn: wall.axial_kn,
            confined: false,
        }
    }

    fn masonry(&self, line: &FramedLine, index: usize, carried: &Carried) -> Ruled<Member> {
        let model = self.model();
        let panel = &model.masonry[line.masonry[index]];
        let modulus = self.rules().concrete_modulus_mpa(self.sections.old_concrete_mpa())?;
        let strut = strut(model, panel, modulus, self.rules())?;
        let stiffness = secant(carried, strut.stiffness_kn_m);
        let height = model.floors[panel.storey as usize - 1].height_m;
        let yields = 1000.0 * strut.strength_kn / stiffness;
        let strength = Strength {
            strength_kn: strut.strength_kn,
            flexural_kn: strut.strength_kn,
            shear_kn: strut.strength_kn,
            failure: Failure::Masonry,
            cracking_kn: strut.strength_kn,
            yield_drift_mm: yields,
            limit_drift_mm: yields.max(1000.0 * height * crate::masonry_panel::LIMIT_RATIO),
        };
        Ok(Member {
            place: model.panel_place(self.direction, line.line, panel.bay, panel.storey),
            class: carried.class,
            line: model.lines(self.direction)[line.line].name.clone(),
            axial_kn: 0.0,
            clear_height_m: height,
            stiffness_kn_m: stiffness,
            senses: [strength; 2],
        })
    }

    /// An external frame in a storey: its own mechanism, its footings, its slabs.
    fn frame(&mut self, index: usize, s: usize, shears_kn: &[f64], carried: &Carried) -> Ruled<Member> {
        let model = self.sections.model;
        let frame = &model.frames[index];
        let caps = link::frame_caps(&self.sections, frame, &self.levers_m, shears_kn)?;
        let cap = caps[s];
        let (strength, failure) = least([
            (cap.mechanism_kn, Failure::Flexure),
            (cap.uplift_kn, Failure::Rocking),
            (cap.slabs_kn, Failure::Slab),
        ]);
        let height = model.floors[s].height_m;
        let stiffness = secant(carried, cap.mechanism_kn.max(1.0) / (0.01 * height));
        let yields = 1000.0 * strength / stiffness;
        let plastic = match failure {
            Failure::Slab => 0.0,
            Failure::Rocking => 0.02,
            _ => self.new_beam_rotation()?,
        };
        if failure == Failure::Rocking && s == 0 {
            let name = frame.spec.face.clone();
            let detail = format!("external frame on {name}");
            self.found.push(Finding::new(Code::FootingUplift, Place::Footing { line: name }, detail));
        }
        if s == 0 && frame.spec.footing.is_none() {
            let name = frame.spec.face.clone();
            let detail = format!("the external frame on {name}");
            self.found.push(Finding::new(Code::FootingNotGiven, Place::Footing { line: name }, detail));
        }
        let strength = Strength {
            strength_kn: strength,
            flexural_kn: cap.mechanism_kn.min(cap.uplift_kn),
            shear_kn: cap.slabs_kn,
            failure,
            cracking_kn: strength,
            yield_drift_mm: yields,
            limit_drift_mm: yields + 1000.0 * height * plastic,
        };
        Ok(Member {
            place: Place::FrameColumn {
                face: frame.spec.face.clone(),
                at: frame.opposite[0].clone(),
                storey: s as u32 + 1,
            },
            class: carried.class,
            line: frame.name(),
            axial_kn: frame_axial_kn(frame, s),
            clear_height_m: height - frame.spec.beam_depth_mm / 1000.0,
            stiffness_kn_m: stiffness,
            senses: [strength; 2],
        })
    }

    /// Plastic rotation of new beams, detailed to yield.
    fn new_beam_rotation(&self) -> Ruled<f64> {
        let hinge = BeamHinge {
            control: BeamControl::Flexure,
            steel_ratio: 0.0,
            confined: true,
            shear_stress: 0.25,
            spacing_ratio: 0.25,
        };
        Ok(self.rules().beam_rotations(&hinge)?.capping)
    }
}

/// Shear over drift of the elastic solution where that is a stiffness, otherwise a stand-in.
fn secant(carried: &Carried, stand_in_kn_m: f64) -> f64 {
    let secant = if carried.drift_m > 0.0 { carried.shear_kn / carried.drift_m } else { 0.0 };
    if secant > 1e-3 * stand_in_kn_m { secant } else { stand_in_kn_m }
}

/// The least of some strengths with its name; ties go to the first.
fn least<const N: usize>(options: [(f64, Failure); N]) -> (f64, Failure) {
    options
        .into_iter()
        .fold((f64::INFINITY, Failure::Flexure), |least, next| if next.0 < least.0 { next } else { least })
}
