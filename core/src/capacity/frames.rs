//! External frames: their own mechanism, their footings, their slabs.

use super::{Work, least, secant};
use crate::failure::{Failure, Way};
use crate::finding::{Code, Finding};
use crate::link;
use crate::member::{Carried, Member, Strength};
use crate::place::Place;
use crate::rules::{BeamControl, BeamHinge, PlasticRotations, Ruled};
use crate::sections::frame_axial_kn;

impl Work<'_> {
    /// An external frame in a storey: its own mechanism, its footings, its slabs.
    pub(super) fn frame(&mut self, index: usize, s: usize, shears_kn: &[f64], carried: &Carried) -> Ruled<Member> {
        let model = self.sections.model;
        let frame = &model.frames[index];
        let caps = link::frame_caps(&self.sections, frame, &self.levers_m, shears_kn)?;
        let cap = caps[s];
        let all =
            [(cap.mechanism_kn, Failure::Flexure), (cap.uplift_kn, Failure::Rocking), (cap.slabs_kn, Failure::Slab)];
        let (strength, failure) = least(all);
        let [bends, lifts, slab] = all.map(|(reached_kn, failure)| Way::bounded(failure, reached_kn));
        let ways = [bends, lifts, slab, None, None];
        let height = model.floors[s].height_m;
        let stiffness = secant(carried, cap.mechanism_kn.max(1.0) / (0.01 * height));
        let yields = 1000.0 * strength / stiffness;
        let plastic = match failure {
            Failure::Slab => 0.0,
            Failure::Rocking => 0.02,
            _ => self.new_beam_rotations()?.capping,
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
            backbone: None,
            checked_shear_kn: None,
            ways,
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
            joint_ratio: link::columns_over_beams(&self.sections, frame)?.get(s).copied(),
            overturning_kn: None,
        })
    }

    /// Plastic rotations of new beams, detailed to yield.
    pub(super) fn new_beam_rotations(&self) -> Ruled<PlasticRotations> {
        let hinge = BeamHinge {
            control: BeamControl::Flexure,
            steel_ratio: 0.0,
            confined: true,
            shear_stress: 0.25,
            spacing_ratio: 0.25,
            compression_to_tension: 1.0,
            span_ratio: 5.0,
            concrete_mpa: self.sections.old_concrete_mpa(),
            yield_mpa: self.sections.old_steel_mpa(),
        };
        self.rules().beam_rotations(&hinge)
    }
}
