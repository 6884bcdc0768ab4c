//! What a plastic mode resists, as a function of its plastic deformation.

/// One straight piece of an envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Plastic deformation it lasts for; infinite for the last one.
    pub length: f64,
    /// Force per plastic deformation: positive hardens, negative softens.
    pub slope: f64,
}

/// Resistance of a mode in one sense: where it yields, and how its resistance changes with the
/// plastic deformation γ in that sense. Unloading is elastic through the present γ.
///
/// Force and deformation are those of the mode: kN and m for slips, kNm and rad for rotations.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// Force at which plastic deformation begins.
    pub yield_force: f64,
    /// Pieces in order of γ; the last one has no end.
    pub pieces: Vec<Piece>,
}

/// Least slope of a plateau and of a residual, as a part of the elastic stiffness: two level
/// plateaus at once would leave the load undetermined. Adds less than 1 % to a force at a
/// hundred times the yield deformation.
pub const LEAST_HARDENING: f64 = 1e-4;

impl Envelope {
    /// Yields at `force` and keeps it; `stiffness` is the elastic stiffness of the mode.
    pub fn plateau(force: f64, stiffness: f64) -> Self {
        Self { yield_force: force, pieces: vec![Piece { length: f64::INFINITY, slope: LEAST_HARDENING * stiffness }] }
    }

    /// Never yields.
    pub fn elastic() -> Self {
        Self { yield_force: f64::INFINITY, pieces: vec![Piece { length: f64::INFINITY, slope: 0.0 }] }
    }

    /// From the corners (deformation, force) of a member's backbone and its elastic stiffness.
    ///
    /// The first corner ends the elastic part. Beyond, each piece of force change ΔV over Δd has
    /// the plastic length Δd − ΔV/k₀ and the slope ΔV over that length (so H = k₀·k_t/(k₀ − k_t)).
    /// After the last corner the force stays, but for the least hardening. A piece as steep as
    /// the elastic line gets the least length that keeps it finite; a drop may not be steeper
    /// than straight down (Δd ≥ 0).
    pub fn from_backbone(corners: &[[f64; 2]], stiffness: f64) -> Self {
        let Some(first) = corners.first() else { return Self::elastic() };
        let mut pieces = Vec::with_capacity(corners.len());
        for pair in corners.windows(2) {
            let [[d0, v0], [d1, v1]] = [pair[0], pair[1]];
            let change = v1 - v0;
            let length = (d1 - d0).max(0.0) - change / stiffness;
            // Nothing happens in a piece that follows the elastic line.
            if length <= 1e-12 * d0.abs().max(d1.abs()) {
                continue;
            }
            pieces.push(Piece { length, slope: (change / length).max(-stiffness) });
        }
        pieces.push(Piece { length: f64::INFINITY, slope: LEAST_HARDENING * stiffness });
        for piece in &mut pieces {
            if piece.slope.abs() < LEAST_HARDENING * stiffness {
                piece.slope = LEAST_HARDENING * stiffness;
            }
        }
        Self { yield_force: first[1], pieces }
    }

    /// Resistance at a plastic deformation.
    pub fn force(&self, plastic: f64) -> f64 {
        let mut force = self.yield_force;
        let mut left = plastic;
        for piece in &self.pieces {
            if left <= piece.length {
                return force + piece.slope * left;
            }
            force += piece.slope * piece.length;
            left -= piece.length;
        }
        force
    }

    /// Plastic deformation at which piece `index` begins.
    pub fn start_of(&self, index: usize) -> f64 {
        self.pieces.iter().take(index).map(|piece| piece.length).sum()
    }
}
