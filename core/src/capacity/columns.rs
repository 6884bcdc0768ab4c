//! Columns: bending as joints, beams and laps allow, shear, rotations.

use super::beams::beam_shear;
use super::{BeamShear, JointAsBuilt, JointLimit, LineStrengths, NodeJoint, SENSES, Work, secant};
use crate::anchorage::confinement;
use crate::column::{Column as ColumnStrength, ColumnEnd, ColumnFailure, ColumnResponse, EndLimit, NodeCap};
use crate::connection::hoop_anchorage;
use crate::failure::{Failure, Way};
use crate::framing::FramedLine;
use crate::joint::{JointCapacity, NodeLimit, effective_width_mm, share_knm};
use crate::material::Bar;
use crate::math::pow;
use crate::member::{Carried, Member, Strength};
use crate::model::Column;
use crate::project::{Direction, Hooks, Jacket};
use crate::rules::{
    AnchorageStrength, BarAnchorage, BeamControl, BeamHinge, ColumnHinge, ColumnShear, Component, EndDetail, Hoops,
    JacketFactors, JointPosition, JointShear, PlasticRotations, Ruled, WallShear,
};
use crate::section::{Section, Sense};
use crate::section_shapes::PerimeterBars;
use crate::sections::{across, both_senses};

impl Work<'_> {
    /// Bending strengths of a line's columns, beams and joints.
    pub(super) fn line(&mut self, line: &FramedLine) -> Ruled<LineStrengths> {
        let (storeys, ends) = (self.model().floors.len(), self.model().along(self.direction).len());
        let mut strengths = LineStrengths {
            columns: vec![vec![None; ends]; storeys],
            joints: vec![vec![[None; 2]; ends]; storeys],
            lap_mpa: vec![vec![None; ends]; storeys],
            beams: Vec::new(),
            shears: Vec::new(),
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
                    let acts = column.jacket.as_ref().is_some_and(Jacket::acts);
                    let factors = self.jacket_factors(&column)?.filter(|_| acts);
                    let factor = factors.map_or(1.0, |own| own.moment);
                    let moments = both_senses(section.as_ref(), column.axial_kn, 0.0).map(|moment| factor * moment);
                    self.overload(&column, moments)?;
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
        let shear = |(s, row): (usize, &Vec<Option<[f64; 2]>>)| {
            let of = |(bay, moments): (u32, &Option<[f64; 2]>)| {
                let beam = self.model().beam_at(self.direction, line.line, bay, s as u32 + 1);
                let both = beam.zip(*moments);
                Ok(both.map(|(beam, moments)| beam_shear(&self.sections, beam, moments)).transpose()?.flatten())
            };
            (1..).zip(row).map(of).collect::<Ruled<Vec<_>>>()
        };
        let shears: Vec<Vec<Option<BeamShear>>> = beams.iter().enumerate().map(shear).collect::<Ruled<_>>()?;
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
                    strengths.joints[s][end][sense] = self.joint(line.line, s, end, sense, (beams, &shears[s]))?;
                }
            }
        }
        (strengths.beams, strengths.shears) = (beams, shears);
        Ok(strengths)
    }

    /// What beams and joint let the columns at a joint have in a sense: with the storey
    /// drifting towards higher ordinates the beam before the joint hogs and the one after
    /// it sags there. A beam that shears first brings its part.
    fn joint(
        &self,
        line: usize,
        s: usize,
        end: usize,
        sense: usize,
        (beams, in_shear): (&[Option<[f64; 2]>], &[Option<BeamShear>]),
    ) -> Ruled<Option<JointLimit>> {
        let model = self.model();
        let storey = s as u32 + 1;
        let Some(column) = model.column_on(self.direction, line, end, storey) else { return Ok(None) };
        let shears = |bay: usize| in_shear.get(bay)?.as_ref().filter(|own| own.sway_kn().is_some());
        let part = |bay: usize| shears(bay).map_or(1.0, BeamShear::part);
        let at_centre =
            |bay: usize, sagging: bool| self.centred_beam_knm(line, [s, end, bay], sagging, (beams, in_shear));
        let before = end.checked_sub(1).and_then(|bay| at_centre(bay, sense == 1));
        let after = at_centre(end, sense == 0);
        let beams_knm = before.unwrap_or(0.0) + after.unwrap_or(0.0);
        let depth = model.beam_depth_over_m(self.direction, line, end, storey);
        let above = model.column_on(self.direction, line, end, storey + 1);
        let joint =
            self.joint_knm(column, above.is_some(), [before.is_some(), after.is_some()], line, end, depth, storey)?;
        let face = |bay: Option<usize>, sense: usize| {
            bay.and_then(|bay| (*beams.get(bay)?).map(|[sag, hog]| part(bay) * if sense == 0 { sag } else { hog }))
                .unwrap_or(0.0)
        };
        let faces = face(end.checked_sub(1), 1 - sense) + face(Some(end), sense);
        let at_faces = if beams_knm > 0.0 { faces / beams_knm } else { 1.0 };
        Ok(Some(match joint {
            Some(joint) if joint.moment_knm < beams_knm => JointLimit { at_faces, beams_knm, ..joint },
            _ => {
                let (limit, rotations) = match end.checked_sub(1).and_then(shears).or_else(|| shears(end)) {
                    Some(beam) => (NodeLimit::BeamShear, self.sheared_beam_rotations(beam)?),
                    None => (NodeLimit::Beams, self.beam_rotations()?),
                };
                let joint = joint.and_then(|own| own.joint);
                JointLimit { moment_knm: beams_knm, limit, rotations, at_faces, beams_knm, joint }
            }
        }))
    }

    /// Moment of a beam's end brought to the middle of the column it frames into, kNm, as far as its shear lets it.
    pub(super) fn centred_beam_knm(
        &self,
        line: usize,
        [s, end, bay]: [usize; 3],
        sagging: bool,
        (beams, in_shear): (&[Option<[f64; 2]>], &[Option<BeamShear>]),
    ) -> Option<f64> {
        let (model, storey) = (self.model(), s as u32 + 1);
        let [sag, hog] = (*beams.get(bay)?)?;
        let column = model.column_on(self.direction, line, end, storey)?;
        let span = model.bay_length_m(self.direction, bay as u32 + 1);
        let [lower, higher] = model.bay_columns(self.direction, line, bay as u32 + 1, storey)?;
        let reach = (lower.reach_mm(self.direction)[1] + higher.reach_mm(self.direction)[0]) / 1000.0;
        let clear = span - reach;
        let half = (column.reach_mm(self.direction).iter().sum::<f64>()) / 2000.0;
        let part = in_shear.get(bay)?.as_ref().map_or(1.0, BeamShear::part);
        // The moment at the face grows by the beam's shear times half the column.
        Some(part * ((if sagging { sag } else { hog }) + (sag + hog) / clear * half))
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
        let area_mm2 = along * effective + winged;
        let strength = self.rules().joint_shear(&JointShear {
            concrete_mpa: self.sections.old_concrete_mpa(),
            area_mm2,
            position,
            // Hoops are not shown inside the joints of existing frames.
            hoop_ratio: 0.0,
            hoop_yield_mpa: self.sections.steel_mpa(self.sections.materials.hoop_steel_mpa),
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
            rotations: strength.rotations,
            at_faces: 1.0,
            beams_knm: 0.0,
            joint: Some(JointAsBuilt { capacity, area_mm2, coefficient: strength.coefficient, beam_depth_m: depth_m }),
        }))
    }

    /// Joints over columns with wings along the direction or with jackets, by the sense that asks more.
    pub(super) fn strengthened_joints(&mut self, index: usize, line: &FramedLine, strengths: &LineStrengths) {
        let model = self.sections.model;
        for (s, row) in strengths.joints.iter().enumerate() {
            for (end, limits) in row.iter().enumerate() {
                let at = |s: usize| model.column_on(self.direction, line.line, end, s as u32 + 1);
                let touched = |column: &Column| {
                    column.jacket.is_some()
                        || column.wings.as_ref().is_some_and(|own| own.spec.direction == self.direction)
                };
                let Some(column) = at(s) else { continue };
                if !touched(column) && !at(s + 1).is_some_and(touched) {
                    continue;
                }
                let centred = |s: usize, side: usize| self.centred_knm(line, strengths, s, end, side).unwrap_or(0.0);
                let (depth, width) = across(column, self.direction);
                let asked = SENSES.into_iter().filter_map(|sense| {
                    let limit = limits[sense]?;
                    let joint = limit.joint?;
                    Some(NodeJoint {
                        line: index,
                        storey: s as u32 + 1,
                        end,
                        beams_knm: limit.beams_knm,
                        columns_knm: centred(s, 1 - sense) + centred(s + 1, sense),
                        capacity: joint.capacity,
                        area_mm2: joint.area_mm2,
                        coefficient: joint.coefficient,
                        concrete_mpa: self.sections.old_concrete_mpa(),
                        column_mm: [depth, width],
                        beam_depth_m: joint.beam_depth_m,
                    })
                });
                let moment = |node: &NodeJoint| node.beams_knm.min(node.columns_knm);
                let most = asked.fold(None, |most: Option<NodeJoint>, next| match most {
                    Some(own) if moment(&own) >= moment(&next) => Some(own),
                    _ => Some(next),
                });
                self.nodes.extend(most);
            }
        }
    }

    /// Stress old bars can carry at their lap, where it is too short to reach yield.
    pub(super) fn lap_mpa(&self, column: &Column) -> Ruled<Option<f64>> {
        self.sections.lap_mpa(column)
    }

    /// Stress the vertical bars of a wing can carry as they are embedded.
    pub(super) fn wing_bar_mpa(&self, column: &Column) -> Ruled<f64> {
        let Some(wings) = &column.wings else { return Ok(0.0) };
        let spec = &wings.spec;
        Ok(self.bonded(Bar::round(spec.bar_mm), spec.steel_mpa, spec.embedment_mm, spec.bar_spacing_mm)?.stress_mpa)
    }

    /// What a bar bonded into the existing concrete can carry.
    pub(super) fn bonded(
        &self,
        bar: Bar,
        yield_mpa: f64,
        embedment_mm: f64,
        spacing_mm: f64,
    ) -> Ruled<AnchorageStrength> {
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
        self.rules().bar_anchorage(&anchorage)
    }

    pub(super) fn column(
        &mut self,
        (index, line): (usize, &FramedLine),
        strengths: &LineStrengths,
        [s, end]: [usize; 2],
        overturning_kn: [f64; 2],
        carried: &Carried,
    ) -> Ruled<Option<Member>> {
        let model = self.sections.model;
        let storey = s as u32 + 1;
        let Some(column) = model.column_on(self.direction, line.line, end, storey) else { return Ok(None) };
        let clear = model.clear_height_m(column, self.direction);
        self.column_hinges(index, strengths, s, end, column, self.secant(carried, column, clear)?)?;
        let height = model.floors[s].height_m;
        let stiffness = self.secant(carried, column, clear)?;
        let ground = self.wing_foot_knm(line, strengths.columns[s][end], column)?;
        let strength = |sense| {
            let mut ends = self.column_ends(line, strengths, s, end, sense, column, clear);
            if let Some(most_knm) = ground {
                ends[1].section_knm = ends[1].section_knm.min(most_knm[sense]);
            }
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
            joint_ratio: self.joint_ratio(line, strengths, s, end),
            overturning_kn: Some(overturning_kn),
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
        let above = self.centred_knm(line, strengths, s + 1, end, sense);
        let below = s.checked_sub(1).and_then(|under| self.centred_knm(line, strengths, under, end, 1 - sense));
        let to_face = clear_m / model.floors[s].height_m;
        let short_lap = strengths.lap_mpa[s][end].is_some();
        let at = |section_knm: f64, other: Option<f64>, joint: Option<JointLimit>| ColumnEnd {
            section_knm,
            short_lap,
            node: joint.map(|joint| NodeCap {
                moment_knm: to_face * share_knm(joint.moment_knm, section_knm / to_face, other.unwrap_or(0.0)),
                limit: joint.limit,
                capping_ratio: joint.rotations.capping,
                residual: joint.rotations.residual,
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
        let response =
            self.column_response(column, short_lap, ends, [clear_height_m, storey_height_m], stiffness_kn_m)?;
        Ok(Strength {
            strength_kn: response.strength_kn,
            flexural_kn: response.flexural_kn,
            shear_kn: response.shear_kn,
            failure: failure(response.failure),
            cracking_kn: response.strength_kn,
            yield_drift_mm: 1000.0 * response.yield_drift_m,
            limit_drift_mm: 1000.0 * response.limit_drift_m,
            backbone: Some(response.backbone(storey_height_m)),
            checked_shear_kn: Some(self.checked_shear_kn(column, clear_height_m, &response)?),
            ways: ways(&ends, clear_height_m, &response),
        })
    }

    /// A column compared by itself or with its nodes.
    pub(super) fn column_response(
        &self,
        column: &Column,
        short_lap: bool,
        ends: [ColumnEnd; 2],
        [clear_height_m, storey_height_m]: [f64; 2],
        stiffness_kn_m: f64,
    ) -> Ruled<ColumnResponse> {
        let shear_factor = self.jacket_factors(column)?.map_or(1.0, |factors| factors.shear);
        ColumnStrength {
            clear_height_m,
            storey_height_m,
            ends,
            stiffness_kn_m,
            shear: self.column_shear(column)?,
            shear_factor,
            added_shear_kn: self.wing_shear_kn(column, clear_height_m)?,
            hinge: self.column_hinge(column, short_lap),
        }
        .response(self.rules())
    }

    /// Factors on a column for its jacket not being cast in one with it; none without a jacket that
    /// holds on to it.
    pub(super) fn jacket_factors(&self, column: &Column) -> Ruled<Option<JacketFactors>> {
        let jacket = column.jacket.as_ref().filter(|jacket| jacket.holds());
        jacket.map(|jacket| self.rules().jacket_factors(jacket.surface.into())).transpose()
    }

    /// A column with its jacket as the shear clause takes it; the shear span is left open.
    ///
    /// Hoops of a jacket on fewer than four faces count as far as they are anchored in the old
    /// column; where they are not, its concrete adds nothing either.
    pub(super) fn column_shear(&self, column: &Column) -> Ruled<ColumnShear> {
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
            width_mm: width,
            depth_mm: depth,
            effective_depth_mm: depth - edge,
            lever_mm: depth - 2.0 * edge,
            compression_mm: self.compression_mm(column)?,
            bar_ratio: f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2 / (depth * width),
            concrete_mpa: old,
            hoops: [old_hoops, Hoops::NONE],
            axial_kn: column.axial_kn,
            shear_span_mm: 0.0,
            ductility: 0.0,
            lightweight: 1.0,
        };
        if let Some(jacket) = &column.jacket {
            let skin = jacket.skin(self.direction);
            let yield_mpa = self.hoop_mpa(column, jacket)?;
            if yield_mpa > 0.0 {
                let [deeper, wider] = skin.added_mm();
                let (d, w) = (depth + deeper, width + wider);
                let new = self.sections.concrete_mpa(jacket.concrete_mpa);
                asked.bar_ratio = (asked.bar_ratio * depth * width
                    + f64::from(jacket.bars) * Bar::round(jacket.bar_mm).area_mm2)
                    / (d * w);
                (asked.width_mm, asked.depth_mm) = (w, d);
                // From the middle of what was added to that of the bars at the far side.
                let edges = skin.along.map(|added| if added > 0.0 { added / 2.0 } else { edge });
                asked.effective_depth_mm = d - edges[0].max(edges[1]);
                asked.lever_mm = d - edges[0] - edges[1];
                asked.concrete_mpa = (old * depth * width + new * (d * w - depth * width)) / (d * w);
                asked.hoops[1] = Hoops {
                    area_mm2: f64::from(skin.legs()) * Bar::round(jacket.hoop_mm).area_mm2,
                    spacing_mm: jacket.hoop_spacing_mm,
                    yield_mpa,
                    effective_depth_mm: asked.effective_depth_mm,
                };
            }
        }
        Ok(asked)
    }

    /// Stress the hoops of a jacket can carry, MPa: yield where they close round the column.
    fn hoop_mpa(&self, column: &Column, jacket: &Jacket) -> Ruled<f64> {
        let yield_mpa = self.sections.steel_mpa(jacket.steel_mpa);
        if jacket.closed() {
            return Ok(yield_mpa);
        }
        let anchored = hoop_anchorage(self.rules(), self.sections.materials, &column.kind, jacket, yield_mpa)?;
        Ok(anchored.map_or(0.0, |own| own.stress_mpa))
    }

    /// Depth of the compression zone under gravity as a column bends, wings left out, mm.
    fn compression_mm(&self, column: &Column) -> Ruled<f64> {
        let steel = self.sections.old_steel_mpa();
        let section = match &column.jacket {
            Some(_) => self.sections.column(column, self.direction, steel, 0.0)?,
            None => self.sections.plain(column, self.direction, steel)?.section(),
        };
        let depth = section.as_ref().map_or(0.0, Section::depth_mm);
        // A jacket that leaves faces free makes the two senses differ; the deeper zone leaves less shear.
        let strengths = section.iter().flat_map(|section| {
            [Sense::Plus, Sense::Minus].into_iter().filter_map(|sense| section.strength(column.axial_kn, sense, 0.0))
        });
        let deepest = strengths.map(|strength| strength.neutral_axis_mm).reduce(f64::max);
        Ok(deepest.map_or(depth, |deepest| deepest.min(depth)))
    }

    /// Shear strength a column's wings add in their direction, kN.
    pub(super) fn wing_shear_kn(&self, column: &Column, clear_m: f64) -> Ruled<f64> {
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
                shear_span_mm: 500.0 * clear_m,
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
            detail: self.end_detail(
                [width, depth],
                &PerimeterBars {
                    count: kind.bars,
                    bar: Bar::round(kind.bar_mm),
                    cover_mm: kind.cover_mm,
                    hoop_diameter_mm: kind.hoop_mm,
                    yield_mpa: self.sections.old_steel_mpa(),
                },
                kind.hoop_spacing_mm,
                [kind.hoop_legs_x, kind.hoop_legs_y],
                kind.lap_mm,
            ),
        };
        if let Some(jacket) = &column.jacket {
            let [deeper, wider] = jacket.skin(self.direction).added_mm();
            let (d, w) = (depth + deeper, width + wider);
            if jacket.relieved {
                // Otherwise what the column bore before stays on it.
                hinge.axial_ratio *= depth * width / (d * w);
            }
            if jacket.closed() {
                hinge.hoop_ratio = 2.0 * Bar::round(jacket.hoop_mm).area_mm2 / (w * jacket.hoop_spacing_mm);
                hinge.hoop_yield_mpa = self.sections.steel_mpa(jacket.steel_mpa);
                hinge.anchored_hoops = true;
                let bars = self.sections.jacket_bars(jacket);
                hinge.detail = self.end_detail([w, d], &bars, jacket.hoop_spacing_mm, [2, 2], None);
            } else {
                // Open hoops confine nothing: the old column's own are left, in a deeper section.
                hinge.detail.depth_mm = d;
            }
        }
        hinge
    }

    /// Geometry and bars of an end with so many hoop legs along x and y; shear span and yield rotation are left open.
    fn end_detail(
        &self,
        [width, depth]: [f64; 2],
        bars: &PerimeterBars,
        hoop_spacing_mm: f64,
        legs: [u32; 2],
        lap_mm: Option<f64>,
    ) -> EndDetail {
        let gross_area_mm2 = width * depth;
        let [compressed, all] =
            [bars.on_face(width, depth), bars.count].map(|count| f64::from(count) * bars.bar.area_mm2 / gross_area_mm2);
        let core = [width, depth].map(|size| size - 2.0 * bars.cover_mm - bars.hoop_diameter_mm);
        // Legs along a direction hold bars spread over the width across it, evenly.
        let (along, across) = match self.direction {
            Direction::X => (legs[0], legs[1]),
            Direction::Y => (legs[1], legs[0]),
        };
        let held = |core: f64, legs: u32| 2.0 * core * core / f64::from(legs.max(2) - 1);
        EndDetail {
            depth_mm: depth,
            gross_area_mm2,
            shear_span_mm: 0.0,
            bar_mm: bars.bar.diameter_mm,
            tension_ratio: all - compressed,
            compression_ratio: compressed,
            hoop_area_mm2: f64::from(along) * Bar::round(bars.hoop_diameter_mm).area_mm2,
            hoop_spacing_mm,
            core_mm: core,
            restrained_mm2: held(core[0], along) + held(core[1], across),
            lap_mm,
            yield_rotation: 0.0,
        }
    }

    /// Plastic rotations of old beams, as not confined.
    pub(super) fn beam_rotations(&self) -> Ruled<PlasticRotations> {
        self.old_beam_rotations(BeamControl::Flexure, 0.5)
    }

    /// Those of an old beam that shears before it bends.
    pub(super) fn sheared_beam_rotations(&self, beam: &BeamShear) -> Ruled<PlasticRotations> {
        self.old_beam_rotations(BeamControl::Shear, beam.spacing_ratio)
    }

    fn old_beam_rotations(&self, control: BeamControl, spacing_ratio: f64) -> Ruled<PlasticRotations> {
        let hinge = BeamHinge {
            control,
            steel_ratio: 0.25,
            confined: false,
            shear_stress: 0.25,
            spacing_ratio,
            compression_to_tension: 0.5,
            span_ratio: 5.0,
            concrete_mpa: self.sections.old_concrete_mpa(),
            yield_mpa: self.sections.old_steel_mpa(),
        };
        self.rules().beam_rotations(&hinge)
    }
}

/// Shear at which a column fails by its own ends, by what beams and joint let them have where that is less, and in shear.
fn ways(ends: &[ColumnEnd; 2], clear_height_m: f64, response: &ColumnResponse) -> [Option<Way>; 5] {
    let own = ends.iter().map(|end| end.section_knm.max(0.0)).sum::<f64>() / clear_height_m;
    let bends = if ends.iter().any(|end| end.short_lap) { Failure::Splice } else { Failure::Flexure };
    let holds = |limit: NodeLimit| response.limits.contains(&EndLimit::Node(limit));
    let held = [
        (NodeLimit::Joint, Failure::Joint),
        (NodeLimit::BeamShear, Failure::BeamShear),
        (NodeLimit::Beams, Failure::Beam),
    ];
    let held = held.into_iter().find(|(limit, _)| holds(*limit));
    [
        Way::bounded(bends, own),
        held.and_then(|(_, failure)| Way::bounded(failure, response.flexural_kn)),
        Way::bounded(Failure::Shear, response.shear_kn),
        None,
        None,
    ]
}

/// How a column fails, as the study names it.
pub(super) fn failure(failure: ColumnFailure) -> Failure {
    match failure {
        ColumnFailure::Flexure => Failure::Flexure,
        ColumnFailure::FlexureShear => Failure::FlexureShear,
        ColumnFailure::Shear => Failure::Shear,
        ColumnFailure::Splice => Failure::Splice,
        ColumnFailure::Beam => Failure::Beam,
        ColumnFailure::BeamShear => Failure::BeamShear,
        ColumnFailure::Joint => Failure::Joint,
    }
}
