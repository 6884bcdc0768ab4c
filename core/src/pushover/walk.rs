//! Walking along a capacity curve: states between its points, and where something happens on it.

use super::curve::{CapacityCurve, CurveEvent, CurvePoint};
use crate::material::GRAVITY_M_S2;

/// A place on a curve: a point and the part of the way from it to the next.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Step {
    /// The point before, by its number.
    pub before: usize,
    /// Part of the way to the next, from 0 to 1.
    pub part: f64,
}

impl CapacityCurve {
    /// The state at a step. The curve is straight between its points, so everything it carries is
    /// interpolated alike and forces that balance at the points balance between them.
    pub fn state(&self, step: Step) -> CurvePoint {
        let last = self.points.len().saturating_sub(1);
        let (Some(from), Some(to)) =
            (self.points.get(step.before.min(last)), self.points.get((step.before + 1).min(last)))
        else {
            return CurvePoint::default();
        };
        let mix = |from: f64, to: f64| from + step.part * (to - from);
        let row = |from: &[f64], to: &[f64]| from.iter().zip(to).map(|(from, to)| mix(*from, *to)).collect();
        let classes = from.class_shear_kn.iter().zip(&to.class_shear_kn);
        CurvePoint {
            base_shear_kn: mix(from.base_shear_kn, to.base_shear_kn),
            roof_mm: mix(from.roof_mm, to.roof_mm),
            position: mix(from.position, to.position),
            shear_kn: row(&from.shear_kn, &to.shear_kn),
            drift_mm: row(&from.drift_mm, &to.drift_mm),
            class_shear_kn: classes.map(|(from, to)| std::array::from_fn(|i| mix(from[i], to[i]))).collect(),
            slab_kn: from.slab_kn.iter().zip(&to.slab_kn).map(|(from, to)| row(from, to)).collect(),
        }
    }

    /// Where the roof first gets as far as `roof_mm`; `None` if it never does.
    pub fn step_at_roof(&self, roof_mm: f64) -> Option<Step> {
        self.points.windows(2).enumerate().find_map(|(before, pair)| {
            let (from, to) = (pair[0].roof_mm, pair[1].roof_mm);
            let met = to >= roof_mm && from <= roof_mm;
            met.then(|| Step { before, part: if to > from { (roof_mm - from) / (to - from) } else { 1.0 } })
        })
    }

    /// Where something happens, by its position. Nothing is plastic yet in the first step, so there
    /// the roof says how far along it is.
    pub fn step_at(&self, position: f64, roof_mm: f64) -> Step {
        let last = self.points.len().saturating_sub(1);
        let before = self.points.iter().skip(1).position(|point| point.position >= position);
        let Some(before) = before else { return Step { before: last, part: 0.0 } };
        let part = |value: f64, from: f64, to: f64| if to > from { (value - from) / (to - from) } else { 1.0 };
        let (from, to) = (&self.points[before], &self.points[before + 1]);
        let part = match before {
            0 => part(roof_mm, from.roof_mm, to.roof_mm),
            _ => part(position, from.position, to.position),
        };
        Step { before, part: part.clamp(0.0, 1.0) }
    }

    /// Whether an event has happened at a step.
    pub fn has_happened(&self, event: &CurveEvent, step: Step) -> bool {
        let at = self.step_at(event.position, event.roof_mm);
        (at.before, at.part) <= (step.before, step.part + 1e-9)
            || (at.before == step.before + 1 && at.part == 0.0 && step.part >= 1.0)
    }
}

/// A roof displacement (mm) and base shear (kN) as spectral displacement (mm) and acceleration (g)
/// of the equivalent single mass: S_d = d/Γ, S_a = V/(Γ·m*).
///
/// `equivalent` is [m* in t, Γ], as in [`crate::verdict::PerformancePoint::equivalent`].
///
/// Source: EN 1998-1:2004 Annex B.2, Eq. B.4 and B.5 (MEMORY).
pub fn acceleration_displacement([mass_t, factor]: [f64; 2], roof_mm: f64, base_shear_kn: f64) -> [f64; 2] {
    [roof_mm / factor, base_shear_kn / (factor * mass_t * GRAVITY_M_S2)]
}

#[cfg(test)]
mod tests {
    use super::super::curve::{CurveEnd, Mechanism, Pattern, What};
    use super::*;
    use crate::failure::Failure;
    use crate::place::Place;

    /// Elastic to 10 mm, on to 20 mm, back to 16 mm, away to 30 mm.
    fn curve() -> CapacityCurve {
        let point = |roof_mm: f64, base_shear_kn: f64, position: f64| CurvePoint {
            base_shear_kn,
            roof_mm,
            position,
            shear_kn: vec![base_shear_kn, 0.6 * base_shear_kn],
            drift_mm: vec![0.7 * roof_mm, 0.3 * roof_mm],
            class_shear_kn: vec![[0.5 * base_shear_kn, 0.0, 0.5 * base_shear_kn], [0.6 * base_shear_kn, 0.0, 0.0]],
            slab_kn: vec![vec![0.5 * base_shear_kn]],
        };
        CapacityCurve {
            along_x: true,
            pattern: Pattern::FirstMode,
            towards_higher: true,
            points: vec![
                point(0.0, 0.0, 0.0),
                point(10.0, 100.0, 0.0),
                point(20.0, 140.0, 8.0),
                point(16.0, 90.0, 12.0),
                point(30.0, 60.0, 30.0),
            ],
            events: Vec::new(),
            end: CurveEnd::ZeroLoad,
            peak_kn: 140.0,
            peak_roof_mm: 20.0,
            limits: Vec::new(),
            mechanism: Mechanism::default(),
            shape: vec![0.5, 1.0],
            masses_t: vec![10.0, 10.0],
            imbalance: 0.0,
            modes: 1,
        }
    }

    fn event(position: f64, roof_mm: f64) -> CurveEvent {
        CurveEvent {
            what: What::Yields,
            failure: Failure::Flexure,
            place: Place::Building,
            places: Vec::new(),
            storey: 1,
            base_shear_kn: 0.0,
            roof_mm,
            position,
        }
    }

    #[test]
    fn between_points_forces_still_add_up() {
        let curve = curve();
        for before in 0..4 {
            let state = curve.state(Step { before, part: 0.37 });
            for (shear, classes) in state.shear_kn.iter().zip(&state.class_shear_kn) {
                assert!((shear - classes.iter().sum::<f64>()).abs() < 1e-12 * state.base_shear_kn);
            }
            assert!((state.slab_kn[0][0] - state.class_shear_kn[0][2]).abs() < 1e-12 * state.base_shear_kn);
        }
        assert_eq!(curve.state(Step { before: 1, part: 0.5 }).base_shear_kn, 120.0);
        assert_eq!(curve.state(Step { before: 9, part: 0.0 }).roof_mm, 30.0);
    }

    #[test]
    fn a_roof_displacement_is_met_the_first_time() {
        let curve = curve();
        assert_eq!(curve.step_at_roof(5.0), Some(Step { before: 0, part: 0.5 }));
        assert_eq!(curve.step_at_roof(18.0), Some(Step { before: 1, part: 0.8 }));
        assert_eq!(curve.step_at_roof(23.0), Some(Step { before: 3, part: 0.5 }));
        assert_eq!(curve.step_at_roof(30.1), None);
    }

    #[test]
    fn positions_are_found_where_the_roof_goes_back_too() {
        let curve = curve();
        assert_eq!(curve.step_at(10.0, 18.0), Step { before: 2, part: 0.5 });
        assert_eq!(curve.step_at(0.0, 10.0), Step { before: 0, part: 1.0 });
        assert_eq!(curve.step_at(99.0, 30.0), Step { before: 4, part: 0.0 });
    }

    #[test]
    fn an_event_has_happened_from_its_place_on() {
        let curve = curve();
        let first = event(0.0, 10.0);
        assert!(!curve.has_happened(&first, Step { before: 0, part: 0.99 }));
        assert!(curve.has_happened(&first, Step { before: 0, part: 1.0 }));
        assert!(curve.has_happened(&first, Step { before: 1, part: 0.0 }));
        let back = event(10.0, 18.0);
        assert!(!curve.has_happened(&back, Step { before: 1, part: 0.9 }));
        assert!(!curve.has_happened(&back, Step { before: 2, part: 0.4 }));
        assert!(curve.has_happened(&back, Step { before: 3, part: 0.0 }));
    }

    #[test]
    fn a_single_mass_is_its_own_equivalent() {
        // One mass of 20 t, Γ = 1: half its weight is half of gravity.
        let [d, a] = acceleration_displacement([20.0, 1.0], 35.0, 10.0 * GRAVITY_M_S2);
        assert_eq!(d, 35.0);
        assert!((a - 0.5).abs() < 1e-12);
        // Two equal masses, straight shape: m* = 1.5·m, Γ = 1.5/1.25 = 1.2, so V = 0.9·W at 1 g.
        let masses = [10.0, 10.0];
        let equivalent = crate::performance::equivalent(&masses, &[0.5, 1.0]);
        let [d, a] = acceleration_displacement(equivalent, 60.0, 0.9 * 20.0 * GRAVITY_M_S2);
        assert!((d - 50.0).abs() < 1e-12 && (a - 1.0).abs() < 1e-12, "{d} {a}");
    }
}
