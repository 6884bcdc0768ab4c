//! What an opening leaves of a wall panel.

use crate::model::{Model, Panel};

/// Parts of stiffness and strength an opening leaves, and whether it still is a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpeningFactors {
    /// Root of opening over panel area, ξ = √(h₀·l₀/(h·l)).
    pub ratio: f64,
    /// Part of the stiffness, 1 − 1.25·ξ.
    pub stiffness: f64,
    /// Part of the shear strength, 1 − max(ξ, l₀/l).
    pub strength: f64,
    /// Whether ξ ≤ 0.4, up to which it counts as a wall; an opening that leaves nothing between itself and the beam over it
    /// makes two walls, which no factor tells of.
    pub is_wall: bool,
}

/// Largest root of the area ratio up to which a panel counts as a wall.
const LARGEST_RATIO: f64 = 0.4;

/// Part of the clear height from which an opening reaches the beam (judgement, no source).
const FULL_HEIGHT: f64 = 0.95;

/// Factors for an opening h₀ × l₀ in a panel h × l, mm.
///
/// ξ = √(h₀·l₀/(h·l)); stiffness 1 − 1.25·ξ; strength 1 − max(ξ, l₀/l); a wall while ξ ≤ 0.4.
/// Japanese 2001 standard for evaluation of existing RC buildings (MEMORY). Newer forms take 1.1·ξ, 1.1·l₀/l and a term of
/// the height; they are not taken.
///
/// ```
/// use sisterframe_core::openings::opening_factors;
/// let factors = opening_factors([1200.0, 1500.0], [3000.0, 5000.0]);
/// assert!((factors.ratio - 0.34641).abs() < 1e-5);
/// assert!((factors.stiffness - 0.56699).abs() < 1e-5);
/// ```
pub fn opening_factors([height, length]: [f64; 2], [panel_height, panel_length]: [f64; 2]) -> OpeningFactors {
    let ratio = (height * length / (panel_height * panel_length)).sqrt();
    OpeningFactors {
        ratio,
        stiffness: (1.0 - 1.25 * ratio).max(0.0),
        strength: (1.0 - ratio.max(length / panel_length)).max(0.0),
        is_wall: ratio <= LARGEST_RATIO,
    }
}

/// Factors of a panel of the model; ones without an opening.
pub fn panel_opening(model: &Model, panel: &Panel) -> OpeningFactors {
    match &panel.opening {
        Some(opening) => {
            let height = 1000.0 * model.floors[panel.storey as usize - 1].height_m;
            let length = 1000.0 * model.bay_length_m(panel.direction, panel.bay);
            let factors = opening_factors([opening.height_mm, opening.width_mm], [height, length]);
            let full = opening.height_mm >= FULL_HEIGHT * 1000.0 * model.panel_clear_m(panel)[1];
            OpeningFactors { is_wall: factors.is_wall && !full, ..factors }
        }
        None => OpeningFactors { ratio: 0.0, stiffness: 1.0, strength: 1.0, is_wall: true },
    }
}
