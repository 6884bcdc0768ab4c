//! The storey-spring idealisation of hand calculations, for comparison with the frame analysis.
//!
//! Every storey is one spring, its members side by side: columns by the D-value method, walls as if
//! held against rotation at both ends, masonry by its strut. Nothing of how a wall turns over the
//! height, or of footings that turn, is in it; that is its known error.

use crate::frame_line::{FrameLine, Restraint};

/// Part of its height over which a column must be held to count as shorter.
const CAPTIVE: f64 = 0.2;

/// Lateral stiffness of a column of a frame by the D-value method, kN/m: D = a·12·E·I/h³ with
/// K̄ = Σk_b/(2·k_c) and a = K̄/(2 + K̄) in general; K̄ = Σk_b/k_c and a = (0.5 + K̄)/(2 + K̄) above
/// a fixed base, a = 0.5·K̄/(1 + 2·K̄) above a pinned one; k = E·I over the length between axes,
/// shear deformation and rigid ends left out. A base on a spring counts as fixed; a column that a
/// sill holds over more than a fifth of its height counts with what is free of it.
///
/// Source: Muto, "Aseismic design analysis of buildings", 1974 (MEMORY).
pub fn d_value_kn_m(frame: &FrameLine, storey: usize, line: usize) -> Option<f64> {
    let column = frame.column(storey, line)?;
    let height = *frame.storey_heights_m.get(storey)?;
    let height = if column.rigid_bottom_m > CAPTIVE * height { height - column.rigid_bottom_m } else { height };
    let beside = |floor: usize| -> f64 {
        let bays = [line.checked_sub(1), Some(line)];
        let stiffness = |bay: usize| {
            let beam = frame.beam(floor, bay)?;
            let length = frame.ordinates_m.get(bay + 1)? - frame.ordinates_m.get(bay)?;
            Some(beam.flexural_rigidity_kn_m2 / length)
        };
        bays.into_iter().flatten().filter_map(stiffness).sum()
    };
    let own = column.flexural_rigidity_kn_m2 / height;
    let above = beside(storey);
    let part = match storey.checked_sub(1) {
        Some(floor) => {
            let ratio = (above + beside(floor)) / (2.0 * own);
            ratio / (2.0 + ratio)
        }
        None => {
            let ratio = above / own;
            let pinned = frame.bases.get(line).is_some_and(|base| base.rotation == Restraint::Free);
            if pinned { 0.5 * ratio / (1.0 + 2.0 * ratio) } else { (0.5 + ratio) / (2.0 + ratio) }
        }
    };
    Some(part * 12.0 * own / (height * height))
}

/// Stiffness of a storey of a frame line, kN/m: D-values, walls with 1/k = h³/(12·E·I) + h/(G·A),
/// masonry struts.
pub fn storey_kn_m(frame: &FrameLine, storey: usize) -> f64 {
    let columns: f64 = (0..frame.lines()).filter_map(|line| d_value_kn_m(frame, storey, line)).sum();
    let height = frame.storey_heights_m[storey];
    let walls = frame.walls.iter().filter(|wall| wall.storey == storey).map(|wall| {
        let bending = height * height * height / (12.0 * wall.flexural_rigidity_kn_m2);
        let shear = wall.shear_rigidity_kn.map_or(0.0, |rigidity| height / rigidity);
        1.0 / (bending + shear)
    });
    let masonry = frame.storey_springs.iter().filter(|spring| spring.storey == storey);
    columns + walls.sum::<f64>() + masonry.map(|spring| spring.stiffness_kn_per_m).sum::<f64>()
}

/// Base shear over roof displacement of springs one above the other, kN/m, under storey shears from
/// the ground up.
pub fn roof_stiffness_kn_m(storeys_kn_m: &[f64], shear_kn: &[f64]) -> f64 {
    let roof: f64 = shear_kn.iter().zip(storeys_kn_m).map(|(shear, stiffness)| shear / stiffness).sum();
    shear_kn.first().map_or(0.0, |base| base / roof)
}
