//! Places of plastic deformation with their strengths and limits: what a pushover needs of members.

use crate::failure::Failure;
use crate::line_mode::Hinge;
use crate::place::{Class, Place};
use crate::rules::PlasticRotations;

/// The structure a hinge belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum At {
    /// A framed line, by its place among [`crate::framing::Framing::lines`].
    Line(usize),
    /// An external frame, by its place among the model's frames.
    Frame(usize),
    /// An external frame turning about its base as a whole; no hinges of its own.
    Rocking(usize),
    /// An external frame sliding on the ground as a whole; no hinges of its own.
    Sliding(usize),
    /// A floor slipping past a framed line at a level, from zero; no hinges of its own.
    Floor(usize, usize),
    /// The connecting slab of a frame at a level, from zero; no hinges of its own.
    Slab(usize, usize),
}

/// Resistance in one sense. Moments in kNm with rotations in rad, forces in kN with slips in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Full strength.
    pub strength: f64,
    /// Where plastic deformation begins, and how much of it goes by until full strength; equal
    /// to the strength, and none, for most.
    pub onset: [f64; 2],
    /// Plastic deformation at which strength begins to be lost; infinite where it is not.
    pub capping: f64,
    /// Plastic deformation at which gravity support is lost; infinite where it is not.
    pub loss: f64,
    /// Part of the strength left after the loss.
    pub residual: f64,
    /// Plastic deformation over which strength is lost, at least.
    pub drop: f64,
    /// Plastic deformation accepted for immediate use, life safety and near collapse.
    pub accepted: [f64; 3],
}

impl Resistance {
    /// A hinge by the rotations of a rule set.
    pub fn rotating(strength: f64, rotations: &PlasticRotations) -> Self {
        Self {
            strength,
            onset: [strength, 0.0],
            capping: rotations.capping,
            loss: rotations.loss,
            residual: rotations.residual,
            drop: LEAST_DROP,
            accepted: rotations.accepted,
        }
    }

    /// Strength that stays whatever the deformation.
    pub fn lasting(strength: f64) -> Self {
        let without = f64::INFINITY;
        Self {
            strength,
            onset: [strength, 0.0],
            capping: without,
            loss: without,
            residual: 1.0,
            drop: LEAST_DROP,
            accepted: [without; 3],
        }
    }
}

/// Least rotation, or drift ratio, over which strength is lost: a drop straight down is a fiction
/// of the model (judgement, no source).
pub const LEAST_DROP: f64 = 0.002;

/// One place of plastic deformation.
#[derive(Clone, Debug, PartialEq)]
pub struct HingeStrength {
    /// The structure.
    pub at: At,
    /// Where in it; several that deform together.
    pub hinges: Vec<Hinge>,
    /// Where in the building.
    pub place: Place,
    /// Class of the member.
    pub class: Class,
    /// Storey, from 1: of a beam or slab the one below it.
    pub storey: u32,
    /// What it is when it yields.
    pub failure: Failure,
    /// Whether its limits count for the verdict: columns, walls, brittle slabs, beams that shear.
    pub vertical: bool,
    /// Resistance to drift towards higher ordinates and towards lower; none where it does not
    /// yield that way.
    pub senses: [Option<Resistance>; 2],
}
