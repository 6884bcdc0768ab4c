//! The jacket of a column as bending in a direction sees it.

use crate::project::{Direction, Jacket, JacketFaces};

/// Thickness added on each side of a column, mm, towards lower and towards higher ordinates.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Skin {
    /// On the faces the force is square to.
    pub along: [f64; 2],
    /// On the faces beside the force.
    pub across: [f64; 2],
}

impl Jacket {
    /// Thickness on the faces towards lower and higher x, lower and higher y, mm.
    pub fn added_mm(&self) -> [f64; 4] {
        let there = match self.faces {
            JacketFaces::All => [true; 4],
            JacketFaces::ThreeNotLowerX => [false, true, true, true],
            JacketFaces::ThreeNotHigherX => [true, false, true, true],
            JacketFaces::ThreeNotLowerY => [true, true, false, true],
            JacketFaces::ThreeNotHigherY => [true, true, true, false],
            JacketFaces::LowerX => [true, false, false, false],
            JacketFaces::HigherX => [false, true, false, false],
            JacketFaces::LowerY => [false, false, true, false],
            JacketFaces::HigherY => [false, false, false, true],
        };
        there.map(|there| if there { self.thickness_mm } else { 0.0 })
    }

    /// What bending in a direction sees of it.
    pub fn skin(&self, direction: Direction) -> Skin {
        let [x0, x1, y0, y1] = self.added_mm();
        match direction {
            Direction::X => Skin { along: [x0, x1], across: [y0, y1] },
            Direction::Y => Skin { along: [y0, y1], across: [x0, x1] },
        }
    }

    /// Whether it goes all round, so that its hoops close.
    pub fn closed(&self) -> bool {
        self.faces == JacketFaces::All
    }

    /// Whether it holds on to the column: its hoops close or are anchored in it.
    pub fn holds(&self) -> bool {
        self.closed() || self.hoop_embedment_mm.is_some()
    }

    /// Whether it bends with the column: it holds on to it and its bars go through the floors.
    pub fn acts(&self) -> bool {
        self.continuous && self.holds()
    }

    /// Whether it bears its part of the gravity load: it acts, and the column was relieved before it was cast.
    pub fn bears_gravity(&self) -> bool {
        self.relieved && self.acts()
    }

    /// On how many faces it is.
    pub fn face_count(&self) -> u32 {
        self.added_mm().iter().filter(|added| **added > 0.0).count() as u32
    }
}

impl Skin {
    /// Added to the depth along the force and to the width across it, mm.
    pub fn added_mm(&self) -> [f64; 2] {
        [self.along, self.across].map(|[lower, higher]| lower + higher)
    }

    /// Hoop legs along the force: one in the plane of each face beside it.
    pub fn legs(&self) -> u32 {
        self.across.iter().filter(|added| **added > 0.0).count() as u32
    }
}
