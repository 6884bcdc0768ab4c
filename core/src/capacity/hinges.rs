//! Every place of plastic deformation with its strengths and limits, for the capacity curve.

use super::columns::failure;
use super::{LineStrengths, Work};
use crate::column::{ColumnEnd, ColumnFailure};
use crate::connection::{ConnectionKind, Handed, added_joint, handed_to_frame, handed_to_walls};
use crate::failure::Failure;
use crate::framing::{FramedLine, Framing};
use crate::hinge::{At, HingeStrength, LEAST_DROP, Resistance};
use crate::joint::NodeLimit;
use crate::line_mode::Hinge;
use crate::link;
use crate::model::{Column, Frame, Slab};
use crate::place::{Class, Place};
use crate::project::Base;
use crate::rules::{PlasticRotations, Ruled, WallDeformation, WallLimits};
use crate::sections::{both_senses, frame_axial_kn};
use crate::wing_foot::wing_foot;

/// Part of its strength that a masonry panel, a connecting slab, or the bars round an infill keep
/// once they have slipped (judgement, no source).
pub(super) const LEFT_AFTER_SLIP: f64 = 0.2;

impl Work<'_> {
    /// Ends and shear of a column. Its rotations go with its own bending strength at both ends:
    /// what joints and beams keep from it is left to their own hinges.
    pub(super) fn column_hinges(
        &mut self,
        line: usize,
        strengths: &LineStrengths,
        s: usize,
        end: usize,
        column: &Column,
        stiffness_kn_m: f64,
    ) -> Ruled<()> {
        let model = self.sections.model;
        let clear = model.clear_height_m(column, self.direction);
        let height = model.floors[s].height_m;
        let own = strengths.columns[s][end].unwrap_or([0.0; 2]);
        let short_lap = strengths.lap_mpa[s][end].is_some();
        let pinned = s == 0 && column.kind.base == Base::Pinned;
        let mut ends: [[Option<Resistance>; 2]; 2] = [[None; 2]; 2];
        let mut slips = [None; 2];
        let mut fails = Failure::Flexure;
        let brittle = self.rules().force_controlled(self.sections.materials.knowledge)?.column_shear;
        let mut slipping = Failure::Shear;
        let added = added_joint(model, self.sections.materials, self.rules(), self.direction, column)?;
        let joint = added.as_ref().and_then(|joint| Some((joint, joint.shear_kn()?)));
        let friction = link::wing_friction_kn(column, self.direction);
        let alone = joint.is_some() || friction.is_some();
        let bare = if alone { self.bare_kn(column, short_lap, stiffness_kn_m)? } else { [0.0; 2] };
        let ground = wing_foot(&self.sections, self.direction, column)?.map(|own| own.most_knm());
        let rocks = |sense: usize| ground.is_some_and(|most| most[sense] < own[sense]);
        for sense in 0..2 {
            // Towards higher ordinates the foot is compressed on the far side, the head on the near one.
            let (foot, head) = (if pinned { 0.0 } else { own[sense] }, own[1 - sense]);
            let foot = ground.map_or(foot, |most| foot.min(most[sense]));
            let at = |section_knm| ColumnEnd { section_knm, short_lap, node: None };
            let it = self.column_response(column, short_lap, [at(head), at(foot)], [clear, height], stiffness_kn_m)?;
            let limits = &it.rotations;
            let mut capping = limits.capping;
            if it.failure == ColumnFailure::FlexureShear {
                // Where ductility has worn the shear strength down to what bending brings.
                capping = capping.min((it.limit_drift_m - it.yield_drift_m).max(0.0) / clear);
            }
            // Where shear is force-controlled nothing is accepted beyond it.
            let accepted =
                if brittle { limits.accepted.map(|rotation| rotation.min(capping)) } else { limits.accepted };
            let rotations = PlasticRotations { capping, accepted, ..*limits };
            ends[0][sense] = Some(Resistance::rotating(head, &rotations));
            let bends = Resistance::rotating(foot, &rotations);
            // A foot that rocks keeps its moment; the column's own limits are still asked of it.
            ends[1][sense] = Some(if rocks(sense) { Resistance { capping: f64::INFINITY, ..bends } } else { bends });
            if it.flexural_kn > it.shear_kn {
                slips[sense] = Some(Resistance {
                    strength: it.shear_kn,
                    onset: [it.shear_kn, 0.0],
                    capping: 0.0,
                    loss: limits.loss * clear,
                    residual: limits.residual,
                    drop: LEAST_DROP * height,
                    accepted: limits.accepted.map(|rotation| if brittle { 0.0 } else { rotation * clear }),
                });
            }
            // What the joint with the added part does not pass is left to the old column alone.
            if let Some((joint, passed_kn)) = &joint {
                let strength = passed_kn.max(bare[sense]);
                if strength < it.flexural_kn.min(it.shear_kn) {
                    let yields = joint.yields();
                    slipping =
                        if joint.kind == ConnectionKind::WingEdge { Failure::WingEdge } else { Failure::JacketFace };
                    slips[sense] = Some(Resistance {
                        strength,
                        onset: [strength, 0.0],
                        capping: if yields { limits.capping * clear } else { 0.0 },
                        loss: limits.loss * clear,
                        residual: if strength > 0.0 { bare[sense] / strength } else { 1.0 },
                        drop: LEAST_DROP * height,
                        accepted: if yields { limits.accepted.map(|rotation| rotation * clear) } else { [0.0; 3] },
                    });
                }
            }
            // What friction under the new footing does not hold is left to the old column on its own.
            let holds = friction.map_or(f64::INFINITY, |friction| friction.max(bare[sense]));
            if holds < slips[sense].map_or(it.flexural_kn.min(it.shear_kn), |own| own.strength) {
                slips[sense] = Some(Resistance::lasting(holds));
                slipping = Failure::Sliding;
            }
            fails = failure(it.failure);
        }
        let bends = if fails == Failure::Shear { Failure::Flexure } else { fails };
        let common = HingeStrength {
            at: At::Line(line),
            hinges: Vec::new(),
            place: model.column_place(column),
            class: column.class(),
            storey: s as u32 + 1,
            failure: bends,
            vertical: true,
            senses: [None; 2],
        };
        for (top, senses) in [(true, ends[0]), (false, ends[1])] {
            if top || !pinned {
                let hinges = vec![Hinge::ColumnEnd { storey: s, line: end, top }];
                let failure = if !top && (rocks(0) || rocks(1)) { Failure::Rocking } else { bends };
                self.hinges.push(HingeStrength { hinges, senses, failure, ..common.clone() });
            }
        }
        if slips.iter().any(Option::is_some) {
            let hinges = vec![Hinge::ColumnShear { storey: s, line: end }];
            self.hinges.push(HingeStrength { hinges, senses: slips, failure: slipping, ..common });
        }
        Ok(())
    }

    /// Shear of a column without what was added to it, held at both ends, in both senses, kN.
    fn bare_kn(&self, column: &Column, short_lap: bool, stiffness_kn_m: f64) -> Ruled<[f64; 2]> {
        let bare = Column { wings: None, jacket: None, ..column.clone() };
        let steel_mpa = self.lap_mpa(&bare)?.unwrap_or(self.sections.old_steel_mpa());
        let section = self.sections.column(&bare, self.direction, steel_mpa, 0.0)?;
        let moments = both_senses(section.as_ref(), bare.axial_kn, 0.0);
        let heights = [
            self.model().clear_height_m(&bare, self.direction),
            self.model().floors[bare.storey as usize - 1].height_m,
        ];
        let pinned = bare.storey == 1 && bare.kind.base == Base::Pinned;
        let strength = |sense: usize| -> Ruled<f64> {
            let at = |section_knm| ColumnEnd { section_knm, short_lap, node: None };
            let ends = [at(moments[1 - sense]), at(if pinned { 0.0 } else { moments[sense] })];
            Ok(self.column_response(&bare, short_lap, ends, heights, stiffness_kn_m)?.strength_kn)
        };
        Ok([strength(0)?, strength(1)?])
    }

    /// Ends of the beams of a line, and its joints where they are weaker than what frames in.
    pub(super) fn beam_hinges(&mut self, index: usize, line: &FramedLine, strengths: &LineStrengths) -> Ruled<()> {
        let model = self.sections.model;
        let rotations = self.beam_rotations()?;
        let brittle = self.rules().force_controlled(self.sections.materials.knowledge)?.column_shear;
        let name = &model.lines(self.direction)[line.line].name;
        for (s, beams) in strengths.beams.iter().enumerate() {
            for (bay, beam) in beams.iter().enumerate() {
                let Some([sag, hog]) = *beam else { continue };
                let common = HingeStrength {
                    at: At::Line(index),
                    hinges: Vec::new(),
                    place: Place::Beam { line: name.clone(), bay: bay as u32 + 1, storey: s as u32 + 1 },
                    class: Class::AsBuilt,
                    storey: s as u32 + 1,
                    failure: Failure::Beam,
                    vertical: false,
                    senses: [None; 2],
                };
                for (right, towards) in [(false, [sag, hog]), (true, [hog, sag])] {
                    self.hinges.push(HingeStrength {
                        hinges: vec![Hinge::BeamEnd { floor: s, bay, right }],
                        senses: towards.map(|moment| Some(Resistance::rotating(moment, &rotations))),
                        ..common.clone()
                    });
                }
                if let Some(shear) = &strengths.shears[s][bay]
                    && let Some(slips) = shear.slips(&self.sheared_beam_rotations(shear)?, brittle)
                {
                    // A beam that shears may drop the floor it carries.
                    self.hinges.push(HingeStrength {
                        hinges: vec![Hinge::BeamShear { floor: s, bay }],
                        failure: Failure::BeamShear,
                        vertical: true,
                        senses: [Some(slips); 2],
                        ..common
                    });
                }
            }
            for (end, limits) in strengths.joints[s].iter().enumerate() {
                let senses = limits.map(|limit| {
                    let limit = limit.filter(|limit| limit.limit == NodeLimit::Joint)?;
                    Some(Resistance::rotating(limit.moment_knm * limit.at_faces, &limit.rotations))
                });
                if senses == [None; 2] {
                    continue;
                }
                let before = end.checked_sub(1).map(|bay| Hinge::BeamEnd { floor: s, bay, right: true });
                let hinges = before
                    .into_iter()
                    .chain([Hinge::BeamEnd { floor: s, bay: end, right: false }])
                    .filter(|hinge| {
                        let Hinge::BeamEnd { bay, .. } = hinge else { return false };
                        beams.get(*bay).is_some_and(Option::is_some)
                    })
                    .collect();
                let Some(column) = model.column_on(self.direction, line.line, end, s as u32 + 1) else { continue };
                self.hinges.push(HingeStrength {
                    at: At::Line(index),
                    hinges,
                    place: model.column_place(column),
                    class: Class::AsBuilt,
                    storey: s as u32 + 1,
                    failure: Failure::Joint,
                    vertical: false,
                    senses,
                });
            }
        }
        Ok(())
    }

    /// Foot of a wall in a storey, and its shear. The beams that frame into it hold it back as
    /// members of the frame.
    pub(super) fn wall_hinges(
        &mut self,
        (line_index, line): (usize, &FramedLine),
        index: usize,
        moments: [f64; 2],
        rocks_knm: f64,
        [shear, perimeter, slides]: [f64; 3],
    ) -> Ruled<()> {
        let model = self.sections.model;
        let wall = &line.walls[index];
        let height = model.floors[wall.storey as usize - 1].height_m;
        let strength = shear.min(perimeter).min(slides);
        let at = self.wall_at(line, index, strength, Failure::WallShear, 1.0);
        let ratio = 1000.0 * at.axial_kn / (at.web_mm2 * at.concrete_mpa);
        let asked = WallLimits {
            shear_controls: false,
            compression_term: ratio,
            shear_stress: 1000.0 * strength / (at.web_mm2 * at.concrete_mpa.sqrt()),
            confined: at.confined,
            axial_ratio: ratio,
            shear_span_ratio: at.shear_span_ratio,
            concrete_mpa: at.concrete_mpa,
            yield_mpa: at.yield_mpa,
        };
        let common = HingeStrength {
            at: At::Line(line_index),
            hinges: Vec::new(),
            place: model.panel_place(self.direction, line.line, wall.first_bay, wall.storey),
            class: wall.class,
            storey: wall.storey,
            failure: Failure::WallFlexure,
            vertical: true,
            senses: [None; 2],
        };
        let mut rocking = false;
        if let WallDeformation::Flexure(rotations) = self.rules().wall_limits(&asked)? {
            let senses = moments.map(|moment| {
                rocking |= rocks_knm < moment;
                let bends = Resistance::rotating(moment.min(rocks_knm), &rotations);
                // A footing that rocks keeps its moment; the wall's own limits are still asked of it.
                Some(if rocks_knm < moment { Resistance { capping: f64::INFINITY, ..bends } } else { bends })
            });
            let failure = if rocking { Failure::Rocking } else { Failure::WallFlexure };
            let hinges = vec![Hinge::WallFoot { index }];
            self.hinges.push(HingeStrength { hinges, failure, senses, ..common.clone() });
        }
        // Through the foot of the wall and the joint above it goes the same shear: the least slips.
        let failure = if slides < shear.min(perimeter) {
            Failure::Sliding
        } else if perimeter < shear {
            Failure::Perimeter
        } else {
            Failure::WallShear
        };
        let slips = if failure == Failure::Sliding {
            Resistance::lasting(strength)
        } else if failure == Failure::Perimeter {
            Resistance {
                strength,
                onset: [strength, 0.0],
                capping: 0.0,
                loss: f64::INFINITY,
                residual: LEFT_AFTER_SLIP,
                drop: LEAST_DROP * height,
                accepted: [0.0; 3],
            }
        } else {
            match self.rules().wall_limits(&WallLimits { shear_controls: true, ..asked })? {
                WallDeformation::Shear { yielding, capping, loss, residual, cracking, accepted, .. } => Resistance {
                    strength,
                    onset: [cracking * strength, yielding * height],
                    capping: capping * height,
                    loss: loss * height,
                    residual,
                    drop: LEAST_DROP * height,
                    accepted: accepted.map(|drift| drift * height),
                },
                WallDeformation::Flexure(_) => return Ok(()),
            }
        };
        let hinges = vec![Hinge::WallShear { index }];
        self.hinges.push(HingeStrength { hinges, failure, senses: [Some(slips); 2], ..common });
        Ok(())
    }

    /// External frames: columns and beams detailed to yield, the frame lifting as a whole, the
    /// connecting slabs.
    pub(super) fn frame_hinges(&mut self) -> Ruled<()> {
        let (model, direction) = (self.sections.model, self.direction);
        for (index, frame) in model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == direction) {
            let rotations = self.new_beam_rotations()?;
            let beam = self.sections.frame_beam_knm(&frame.spec)?;
            let face = &frame.spec.face;
            let both = |moment: f64| [Some(Resistance::rotating(moment, &rotations)); 2];
            let common = HingeStrength {
                at: At::Frame(index),
                hinges: Vec::new(),
                place: Place::Building,
                class: Class::New,
                storey: 1,
                failure: Failure::Flexure,
                vertical: true,
                senses: [None; 2],
            };
            for s in 0..frame.storeys as usize {
                let column = self.sections.frame_column_knm(&frame.spec, frame_axial_kn(frame, s))?;
                let storey = s as u32 + 1;
                let place =
                    |end: usize| Place::FrameColumn { face: face.clone(), at: frame.opposite[end].clone(), storey };
                for end in 0..frame.along_m.len() {
                    for top in [false, true] {
                        let rocks = if s == 0 && !top { link::pad_knm(frame) } else { f64::INFINITY };
                        let hinges = vec![Hinge::ColumnEnd { storey: s, line: end, top }];
                        let (failure, senses) = if rocks < column {
                            (Failure::Rocking, [Some(Resistance::lasting(rocks)); 2])
                        } else {
                            (Failure::Flexure, both(column))
                        };
                        self.hinges.push(HingeStrength {
                            hinges,
                            place: place(end),
                            storey,
                            failure,
                            senses,
                            ..common.clone()
                        });
                    }
                }
                for bay in 0..frame.along_m.len() - 1 {
                    for right in [false, true] {
                        self.hinges.push(HingeStrength {
                            hinges: vec![Hinge::BeamEnd { floor: s, bay, right }],
                            place: place(bay),
                            storey,
                            failure: Failure::Beam,
                            vertical: false,
                            senses: both(beam),
                            ..common.clone()
                        });
                    }
                }
                if let Some(slab) = frame.slabs.get(s).and_then(Option::as_ref) {
                    self.slab_hinge(index, frame, slab)?;
                }
            }
            if let Some(strength) = link::sliding_kn(frame) {
                self.hinges.push(HingeStrength {
                    at: At::Sliding(index),
                    place: Place::Footing { line: face.clone() },
                    failure: Failure::Sliding,
                    vertical: false,
                    senses: [Some(Resistance::lasting(strength)); 2],
                    ..common.clone()
                });
            }
            let overturning = link::overturning_knm(&self.sections, frame)?;
            self.hinges.push(HingeStrength {
                at: At::Rocking(index),
                place: Place::Footing { line: face.clone() },
                failure: Failure::Rocking,
                vertical: false,
                senses: [Some(Resistance::lasting(overturning)); 2],
                ..common
            });
        }
        Ok(())
    }

    /// What brings a floor's force to an external frame: its slab, the old floor behind it, the beam
    /// that collects for it. The same force goes through all of them, so the weakest gives.
    fn slab_hinge(&mut self, index: usize, frame: &Frame, slab: &Slab) -> Ruled<()> {
        let (strength_kn, brittle) = link::slab_strength_kn(&self.sections, frame, slab)?;
        let place = Place::Slab { face: frame.spec.face.clone(), level: slab.level };
        let own = Handed { strength_kn, failure: Failure::Slab, place, brittle };
        let gives = match handed_to_frame(&self.sections, frame, slab.level)? {
            Some(floor) if floor.strength_kn < own.strength_kn => floor,
            _ => own,
        };
        self.hinges.push(handing(At::Slab(index, slab.level as usize - 1), slab.level, gives));
        Ok(())
    }

    /// Where an old floor hands its force to lines with new walls.
    pub(super) fn floor_hinges(&mut self, framing: &Framing) -> Ruled<()> {
        let lines = framing.lines.iter().enumerate().filter(|(_, line)| line.direction == self.direction);
        for (index, line) in lines {
            for level in 1..=self.model().floors.len() as u32 {
                if let Some(gives) = handed_to_walls(&self.sections, line, level)? {
                    self.hinges.push(handing(At::Floor(index, level as usize - 1), level, gives));
                }
            }
        }
        Ok(())
    }
}

/// A connection that hands on the force of a floor.
fn handing(at: At, level: u32, gives: Handed) -> HingeStrength {
    let slips = if gives.brittle {
        Resistance {
            capping: 0.0,
            residual: LEFT_AFTER_SLIP,
            drop: LEAST_SLAB_DROP_M,
            accepted: [0.0; 3],
            ..Resistance::lasting(gives.strength_kn)
        }
    } else {
        Resistance::lasting(gives.strength_kn)
    };
    HingeStrength {
        at,
        hinges: Vec::new(),
        place: gives.place,
        class: Class::New,
        storey: level,
        failure: gives.failure,
        vertical: gives.brittle,
        senses: [Some(slips); 2],
    }
}

/// Slip over which a brittle connection between a floor and a line loses its strength, at least, m
/// (judgement, no source).
const LEAST_SLAB_DROP_M: f64 = 0.002;
