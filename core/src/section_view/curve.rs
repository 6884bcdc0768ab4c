//! The strength of a section under axial force and bending as a curve.

use crate::section::{Section, SectionStrength, Sense};

/// A special place on the curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Special {
    /// The whole section at one compressive strain.
    Squash,
    /// The farthest bar just yields as the concrete reaches its ultimate strain.
    Balanced,
    /// No axial force.
    Bending,
    /// All bars yield in tension.
    Tension,
}

/// A special place with its forces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Named {
    /// Which.
    pub special: Special,
    /// Moment, kNm, and axial force, kN, compression positive.
    pub at: [f64; 2],
}

/// A curve of strength in one sense of bending.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Moment, kNm, and axial force, kN, compression positive, from all bars in tension to the whole
    /// section squeezed.
    pub points: Vec<[f64; 2]>,
    /// Special places, those that exist.
    pub named: Vec<Named>,
    /// Moment it carries at the gravity load, kNm; `None` where it cannot carry that load.
    pub at_gravity_knm: Option<f64>,
}

/// Neutral axes within the depth that are tried, and beyond it.
const WITHIN: u32 = 40;
const BEYOND: u32 = 12;

/// The curve of a section in a sense, moments about its origin and times a factor.
///
/// Neutral axes lie closer where they are shallow, so that the branch in tension is as smooth as the
/// rest.
pub fn interaction(section: &Section, sense: Sense, gravity_kn: f64, factor: f64) -> Curve {
    let depth = section.depth_mm();
    let at = |ratio: f64| section.at_neutral_axis(ratio * depth, sense, 0.0);
    let point = |strength: SectionStrength| [factor * strength.moment_knm, strength.axial_kn];
    let (least, _) = section.axial_range_kn();
    let mut points = vec![point(at(0.0))];
    for k in 1..=WITHIN {
        let part = f64::from(k) / f64::from(WITHIN);
        points.push(point(at(part * (0.35 + 0.65 * part))));
    }
    for k in 1..BEYOND {
        points.push(point(at(1.0 / (1.0 - f64::from(k) / f64::from(BEYOND)))));
    }
    let squash = point(at(f64::INFINITY));
    points.push(squash);
    let mut named = vec![Named { special: Special::Squash, at: squash }];
    let mut add = |special, strength: Option<SectionStrength>| {
        named.extend(strength.map(|strength| Named { special, at: point(strength) }));
    };
    add(Special::Balanced, section.balanced(sense, 0.0));
    add(Special::Bending, section.strength(0.0, sense, 0.0));
    // Without bars that pull there is no branch in tension.
    add(Special::Tension, (least < 0.0).then(|| at(0.0)));
    let at_gravity_knm = section.strength(gravity_kn, sense, 0.0).map(|strength| factor * strength.moment_knm);
    Curve { points, named, at_gravity_knm }
}

impl Curve {
    /// Moment it carries at an axial force, kNm, straight between its points; `None` where it cannot carry that force.
    pub fn at_kn(&self, axial_kn: f64) -> Option<f64> {
        self.points.windows(2).find_map(|pair| {
            let [[m0, n0], [m1, n1]] = [pair[0], pair[1]];
            let within = n0.min(n1) <= axial_kn && axial_kn <= n0.max(n1) && n0 != n1;
            within.then(|| m0 + (m1 - m0) * (axial_kn - n0) / (n1 - n0))
        })
    }
}
