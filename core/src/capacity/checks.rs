//! What is checked of columns beside their strength: gravity load against its limit, shear with the strengths of
//! force-controlled actions, and whether columns or beams yield first at their joints.

use super::{JointLimit, LineStrengths, SENSES, Work};
use crate::column::ColumnResponse;
use crate::finding::{Code, Finding};
use crate::framing::FramedLine;
use crate::model::Column;
use crate::phrase::Phrase;
use crate::rules::{ColumnShear, ForceControlled, Hoops, Ruled};
use crate::units::Dimension;
use serde::Serialize;

/// Moments of columns against those of the beams at the joints of a floor, in the sense where they are fewer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sway {
    /// Sum of what the columns can carry over that of the beams.
    pub ratio: f64,
    /// Joints where beams frame in.
    pub joints: u32,
    /// Those of them at which the columns yield first.
    pub columns_first: u32,
}

/// Sums of moments at the centres of joints, kNm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Sums {
    pub columns_knm: f64,
    pub beams_knm: f64,
    pub joints: u32,
    pub columns_first: u32,
}

impl Sums {
    fn add(&mut self, columns_knm: f64, beams_knm: f64) {
        self.columns_knm += columns_knm;
        self.beams_knm += beams_knm;
        self.joints += 1;
        self.columns_first += u32::from(columns_knm < beams_knm);
    }
}

/// The sway of a floor, in the worse sense; none where no beams frame in.
pub(super) fn sway(senses: &[Sums; 2]) -> Option<Sway> {
    let of = |own: &Sums| {
        (own.beams_knm > 0.0).then(|| Sway {
            ratio: own.columns_knm / own.beams_knm,
            joints: own.joints,
            columns_first: own.columns_first,
        })
    };
    senses.iter().filter_map(of).min_by(|one, other| one.ratio.total_cmp(&other.ratio))
}

impl Work<'_> {
    /// Moment a column brings to the centre of the joint over or under it, kNm, from its section's at the face.
    pub(super) fn centred_knm(
        &self,
        line: &FramedLine,
        strengths: &LineStrengths,
        s: usize,
        end: usize,
        side: usize,
    ) -> Option<f64> {
        let model = self.model();
        let moments = strengths.columns.get(s)?[end]?;
        let column = model.column_on(self.direction, line.line, end, s as u32 + 1)?;
        Some(moments[side] * model.floors[s].height_m / model.clear_height_m(column, self.direction))
    }

    /// Moments of columns and of beams at the centre of a joint over a storey in a sense, kNm: the head of the column below
    /// and the foot of the one above, each at its gravity load.
    pub(super) fn at_joint(
        &self,
        line: &FramedLine,
        strengths: &LineStrengths,
        [s, end, sense]: [usize; 3],
        limit: &JointLimit,
    ) -> Option<[f64; 2]> {
        let below = self.centred_knm(line, strengths, s, end, 1 - sense)?;
        let above = self.centred_knm(line, strengths, s + 1, end, sense).unwrap_or(0.0);
        (limit.beams_knm > 0.0).then_some([below + above, limit.beams_knm])
    }

    /// Columns over beams at the joint over a column, the lesser of both senses; none without beams.
    pub(super) fn joint_ratio(
        &self,
        line: &FramedLine,
        strengths: &LineStrengths,
        s: usize,
        end: usize,
    ) -> Option<f64> {
        let ratio = |sense: usize| {
            let limit = strengths.joints[s][end][sense]?;
            let [columns, beams] = self.at_joint(line, strengths, [s, end, sense], &limit)?;
            Some(columns / beams)
        };
        SENSES.into_iter().filter_map(ratio).min_by(f64::total_cmp)
    }

    /// Adds the joints of a line to the sums of their floors.
    pub(super) fn add_sway(&self, line: &FramedLine, strengths: &LineStrengths, floors: &mut [[Sums; 2]]) {
        for (s, (row, sums)) in strengths.joints.iter().zip(floors).enumerate() {
            for (end, limits) in row.iter().enumerate() {
                for sense in SENSES {
                    let Some(limit) = &limits[sense] else { continue };
                    if let Some([columns, beams]) = self.at_joint(line, strengths, [s, end, sense], limit) {
                        sums[sense].add(columns, beams);
                    }
                }
            }
        }
    }

    /// Says where the gravity load is beyond what the rule set lets the section carry, or beyond what it carries at all. A
    /// jacket that goes through the floors shares the load of a column relieved before it was cast.
    pub(super) fn overload(&mut self, column: &Column, moments_knm: [f64; 2]) -> Ruled<()> {
        let relieved = column.jacket.as_ref().filter(|own| own.bears_gravity());
        let limit_kn = self.axial_limit_kn(column, relieved)?;
        if column.axial_kn > limit_kn || moments_knm == [0.0; 2] {
            let place = self.model().column_place(column);
            let detail = Phrase::from(format!("{place}, "))
                .show(column.axial_kn, Dimension::Kilonewtons)
                .and(" of ")
                .show(limit_kn, Dimension::Kilonewtons);
            self.found.push(Finding::new(Code::ColumnOverloaded, place, detail));
        }
        Ok(())
    }

    /// Shear strength of a column as its shear is checked where it is force-controlled, kN, at the shear span of its
    /// bending mechanism. Jackets, mixed with the old concrete, fall by the same part as that.
    pub(super) fn checked_shear_kn(&self, column: &Column, clear_m: f64, it: &ColumnResponse) -> Ruled<f64> {
        let materials = self.sections.materials;
        let ForceControlled { concrete, concrete_step_mpa, steel, strength, .. } =
            self.rules().force_controlled(materials.knowledge)?;
        let lowered = concrete * (materials.concrete_mpa + concrete_step_mpa) / self.sections.old_concrete_mpa();
        let on_steel = steel * materials.hoop_steel_mpa / self.sections.steel_mpa(materials.hoop_steel_mpa);
        let asked = ColumnShear {
            concrete_mpa: lowered * it.asked.concrete_mpa,
            hoops: it.asked.hoops.map(|hoops| Hoops { yield_mpa: on_steel * hoops.yield_mpa, ..hoops }),
            ..it.asked
        };
        let jacket = self.jacket_factors(column)?.map_or(1.0, |factors| factors.shear);
        let wings = lowered.sqrt() * self.wing_shear_kn(column, clear_m)?;
        Ok(strength * (jacket * self.rules().column_shear(&asked)?.undamaged_kn + wings))
    }
}
