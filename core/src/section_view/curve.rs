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
    /// The section with its sense and the factor on its moments.
    of: (Section, Sense, f64),
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
    let mut curve = Curve { points, named, at_gravity_knm: None, of: (section.clone(), sense, factor) };
    curve.at_gravity_knm = curve.at_kn(gravity_kn);
    curve
}

impl Curve {
    /// Moment it carries at an axial force, kNm; `None` where it cannot carry that force.
    ///
    /// Solved at that force as member strengths are, so that nothing differs from them by what lies between two points.
    pub fn at_kn(&self, axial_kn: f64) -> Option<f64> {
        let (section, sense, factor) = &self.of;
        section.strength(axial_kn, *sense, 0.0).map(|strength| factor * strength.moment_knm)
    }
}
