//! Moments at the ends of one column or wall while the building is pushed.

use super::curve::{Pattern, Setup};
use crate::line_mode::Hinge;

/// Moments of a column or wall at its foot and head, kNm, positive where they resist a drift towards
/// higher ordinates in double curvature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndMoments {
    /// Where the first member of the building yields.
    pub first_yield: [f64; 2],
    /// At the roof displacement asked for; `None` where the push ends before it.
    pub at_roof: Option<[f64; 2]>,
}

impl Setup<'_> {
    /// Pushes the model and reads the moments at the ends of the member a hinge is in, on a framed line
    /// by its place among the lines; `None` where there is no such member or nothing yields.
    pub fn end_moments(
        &self,
        (pattern, towards_higher): (Pattern, bool),
        (line, hinge): (usize, Hinge),
        roof_mm: f64,
    ) -> Option<EndMoments> {
        self.pushed(pattern, towards_higher, |run| {
            let points = &run.path.points;
            let at = |k: usize| run.system.end_moments(line, hinge, points.get(k)?);
            let roof = |k: usize| {
                let floors = run.system.motions(&points[k]);
                floors.last().map_or(0.0, |floor| 1000.0 * run.sense * floor.along(self.direction))
            };
            let first_yield = at(1)?;
            let mut before = roof(0);
            let mut at_roof = None;
            for k in 1..points.len() {
                let here = roof(k);
                if before <= roof_mm && roof_mm <= here {
                    let part = if here > before { (roof_mm - before) / (here - before) } else { 1.0 };
                    let (from, to) = (at(k - 1)?, at(k)?);
                    at_roof = Some(std::array::from_fn(|end| from[end] + part * (to[end] - from[end])));
                    break;
                }
                before = here;
            }
            Some(EndMoments { first_yield, at_roof })
        })
    }
}
