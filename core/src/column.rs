//! A column between two floors, in one direction and sense: how it fails, at what shear, at what
//! drift.

use crate::hinge::LEAST_DROP;
use crate::joint::NodeLimit;
use crate::rules::{ColumnHinge, ColumnShear, ColumnShearStrength, EndDetail, Notes, PlasticRotations, Ruled, Rules};
use serde::Serialize;

/// How a column fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ColumnFailure {
    /// Bending.
    Flexure,
    /// Bending first, then shear as ductility wears the shear strength down.
    FlexureShear,
    /// Shear before bending.
    Shear,
    /// The lap of its bars.
    Splice,
    /// The beams yield first.
    Beam,
    /// A beam shears first.
    BeamShear,
    /// The beam–column joint.
    Joint,
}

/// What a node lets this column reach at one end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodeCap {
    /// Moment at the end of the clear height, kNm.
    pub moment_knm: f64,
    /// What gives.
    pub limit: NodeLimit,
    /// Storey drift ratio beyond yield that the beams or the joint bear before strength is lost.
    pub capping_ratio: f64,
    /// Part of the strength left after that.
    pub residual: f64,
}

/// One end of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnEnd {
    /// Section strength, kNm; zero at a pinned base.
    pub section_knm: f64,
    /// That strength is with bars at the stress a short lap in the hinge allows.
    pub short_lap: bool,
    /// What the node allows; none at a foundation.
    pub node: Option<NodeCap>,
}

/// What limits an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndLimit {
    /// The section.
    Section,
    /// The lap.
    Splice,
    /// Beams or joint.
    Node(NodeLimit),
}

impl ColumnEnd {
    /// Moment the end reaches and what limits it.
    pub fn moment(&self) -> (f64, EndLimit) {
        // A hair of slack: a node that passes just what the section has does not limit it.
        match self.node.filter(|node| node.moment_knm < self.section_knm * (1.0 - 1e-9)) {
            Some(node) => (node.moment_knm, EndLimit::Node(node.limit)),
            None if self.short_lap => (self.section_knm, EndLimit::Splice),
            None => (self.section_knm, EndLimit::Section),
        }
    }
}

/// A column in one direction and sense.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Clear height, m: from floor or sill to the soffit of the beam.
    pub clear_height_m: f64,
    /// Storey height, m.
    pub storey_height_m: f64,
    /// Top and bottom.
    pub ends: [ColumnEnd; 2],
    /// Storey shear over storey drift it adds while elastic, kN/m.
    pub stiffness_kn_m: f64,
    /// Its shear strength; `shear_span_mm` and `ductility` are set here.
    pub shear: ColumnShear,
    /// On the shear strength (a jacket's monolithicity); 1 otherwise.
    pub shear_factor: f64,
    /// Shear strength its wings add, kN; zero without wings.
    pub added_shear_kn: f64,
    /// Its rotations; `shear_ratio`, shear span and yield rotation are set here.
    pub hinge: ColumnHinge,
}

/// How a column answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnResponse {
    /// How it fails.
    pub failure: ColumnFailure,
    /// Shear it reaches, kN.
    pub strength_kn: f64,
    /// Shear at its bending mechanism, as limited at both ends, kN.
    pub flexural_kn: f64,
    /// Shear strength at low ductility, kN.
    pub shear_kn: f64,
    /// Moments at top and bottom in the bending mechanism, kNm.
    pub moments_knm: [f64; 2],
    /// What limits them.
    pub limits: [EndLimit; 2],
    /// Storey drift at which the strength is reached, m.
    pub yield_drift_m: f64,
    /// Storey drift up to which it is kept, m.
    pub limit_drift_m: f64,
    /// Part of the strength left beyond it.
    pub residual: f64,
    /// Storey drift at which the column loses its axial load, m; infinite without compression.
    pub loss_drift_m: f64,
    /// Rotations of its own ends.
    pub rotations: PlasticRotations,
    /// What its shear strength was asked with.
    pub asked: ColumnShear,
    /// Parts of its shear strength.
    pub shear: ColumnShearStrength,
    /// Remarks.
    pub notes: Notes,
}

/// A corner of a line of shear over storey drift.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Corner {
    /// Storey drift, mm.
    pub drift_mm: f64,
    /// Shear, kN.
    pub shear_kn: f64,
}

/// A column's line of shear over storey drift, straight from nothing to its first corner and from corner to corner.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Backbone {
    /// It reaches its strength.
    pub yields: Corner,
    /// It begins to lose it.
    pub capping: Corner,
    /// Its lateral strength is lost, to what is left.
    pub lateral_loss: Corner,
    /// It loses its axial load; none where it carries none.
    pub axial_loss: Option<Corner>,
}

impl ColumnResponse {
    /// The whole line in a storey of a height: strength is lost over [`LEAST_DROP`] of it, but by the time the axial load
    /// is.
    pub fn backbone(&self, storey_height_m: f64) -> Backbone {
        let at = |drift_m: f64, shear_kn: f64| Corner { drift_mm: 1000.0 * drift_m, shear_kn };
        let left_kn = self.residual.clamp(0.0, 1.0) * self.strength_kn;
        let lost_m = (self.limit_drift_m + LEAST_DROP * storey_height_m).min(self.loss_drift_m);
        Backbone {
            yields: at(self.yield_drift_m, self.strength_kn),
            capping: at(self.limit_drift_m, self.strength_kn),
            lateral_loss: at(lost_m, left_kn),
            axial_loss: self.loss_drift_m.is_finite().then(|| at(self.loss_drift_m, left_kn)),
        }
    }
}

impl Column {
    /// Compares bending, shear, laps and nodes.
    ///
    /// V_flex = (M_top + M_bottom)/h₀; shear before bending when V_flex exceeds the shear strength
    /// at low ductility; bending then shear when it exceeds the strength left at high ductility.
    /// Drift limits: the strength over the stiffness plus the plastic rotation times the clear
    /// height (times the storey height for beams and joints); in shear none beyond the strength;
    /// in bending then shear not beyond the ductility at which the two meet.
    ///
    /// A column without stiffness never reaches its strength: its drifts are then infinite and the
    /// caller should leave it out.
    pub fn response(&self, rules: &dyn Rules) -> Ruled<ColumnResponse> {
        let ends = self.ends.map(|end| end.moment());
        let moments_knm = ends.map(|(moment, _)| moment.max(0.0));
        let limits = ends.map(|(_, limit)| limit);
        let sum = moments_knm[0] + moments_knm[1];
        let flexural_kn = sum / self.clear_height_m;
        let largest = moments_knm[0].max(moments_knm[1]);
        // A column that takes no moment has no shear span; its clear height stands in.
        let span_m = if flexural_kn > 0.0 { largest / flexural_kn } else { self.clear_height_m };

        let asked = ColumnShear { shear_span_mm: span_m * 1e3, ductility: 0.0, ..self.shear };
        let shear = rules.column_shear(&asked)?;
        let shear_kn = self.shear_factor * shear.undamaged_kn + self.added_shear_kn;
        let ratio = flexural_kn / shear_kn;
        let strength_kn = flexural_kn.min(shear_kn);
        let yield_drift_m = strength_kn / self.stiffness_kn_m;
        let yield_rotation = yield_drift_m / self.clear_height_m;
        let detail = EndDetail { shear_span_mm: span_m * 1e3, yield_rotation, ..self.hinge.detail };
        let rotations = rules.column_rotations(&ColumnHinge { shear_ratio: ratio, detail, ..self.hinge })?;
        let mut notes = shear.notes;
        notes.merge(rotations.notes);

        let own_capping = yield_drift_m + rotations.capping * self.clear_height_m;
        let own_loss = yield_drift_m + rotations.loss * self.clear_height_m;

        let node_drift = |pick: fn(&NodeCap) -> f64| {
            self.ends
                .iter()
                .zip(limits)
                .filter(|(_, limit)| matches!(limit, EndLimit::Node(_)))
                .filter_map(|(end, _)| end.node.as_ref().map(pick))
                .fold(f64::INFINITY, f64::min)
                * self.storey_height_m
                + yield_drift_m
        };
        let has = |wanted: EndLimit| limits.contains(&wanted);
        let shears = has(EndLimit::Node(NodeLimit::BeamShear));
        let by_beams = || if shears { ColumnFailure::BeamShear } else { ColumnFailure::Beam };
        let both_nodes = limits.iter().all(|limit| matches!(limit, EndLimit::Node(_)));

        let (failure, limit_drift_m) = if flexural_kn > shear_kn {
            (ColumnFailure::Shear, yield_drift_m)
        } else if has(EndLimit::Splice) {
            (ColumnFailure::Splice, own_capping.min(node_drift(|n| n.capping_ratio)))
        } else if has(EndLimit::Node(NodeLimit::Joint)) {
            let own = if both_nodes { f64::INFINITY } else { own_capping };
            (ColumnFailure::Joint, node_drift(|n| n.capping_ratio).min(own))
        } else if both_nodes {
            (by_beams(), node_drift(|n| n.capping_ratio))
        } else {
            // At least one end of the column itself bends, so its shear strength wears.
            let meets = shear.ductility_at(ratio * shear.undamaged_kn);
            let worn = meets.map_or(f64::INFINITY, |ductility| ductility.max(1.0) * yield_drift_m);
            let failure = if limits.iter().any(|limit| matches!(limit, EndLimit::Node(_))) {
                by_beams()
            } else if meets.is_some() {
                ColumnFailure::FlexureShear
            } else {
                ColumnFailure::Flexure
            };
            (failure, own_capping.min(worn).min(node_drift(|n| n.capping_ratio)))
        };
        // Where beams or joint give and the column does not, it is their strength that is lost.
        let by_nodes = || {
            let nodes = self.ends.iter().zip(limits).filter(|(_, limit)| matches!(limit, EndLimit::Node(_)));
            nodes.filter_map(|(end, _)| end.node.map(|node| node.residual)).fold(f64::INFINITY, f64::min)
        };
        let residual = match failure {
            ColumnFailure::Joint | ColumnFailure::Beam | ColumnFailure::BeamShear if both_nodes => by_nodes(),
            _ => rotations.residual,
        };
        Ok(ColumnResponse {
            failure,
            strength_kn,
            flexural_kn,
            shear_kn,
            moments_knm,
            limits,
            yield_drift_m,
            limit_drift_m,
            residual,
            loss_drift_m: own_loss.max(limit_drift_m),
            rotations,
            asked,
            shear,
            notes,
        })
    }
}
