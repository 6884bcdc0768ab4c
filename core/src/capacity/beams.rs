//! Beams beside wing walls.

use crate::finding::{Code, Finding};
use crate::hinge::{LEAST_DROP, Resistance};
use crate::material::Bar;
use crate::model::{self, Column};
use crate::place::Place;
use crate::project::Direction;
use crate::rules::{BeamShear, Hoops, PlasticRotations, Ruled};
use crate::sections::Sections;

/// Part of its shear strength a beam is left with for the drift at least: one that gravity uses up
/// would have no strength to lose (judgement, no source).
const LEAST_FOR_DRIFT: f64 = 0.01;

/// A beam that wing walls leave short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ShortBeam {
    /// Between the faces, m.
    pub clear_m: f64,
    /// Shear with both ends at their strengths, (M_sag + M_hog)/l, kN.
    pub bends_kn: f64,
    /// Shear of gravity at its ends, kN.
    pub gravity_kn: f64,
    /// Shear strength, kN.
    pub strength_kn: f64,
    /// Stirrup spacing over effective depth.
    pub spacing_ratio: f64,
}

impl ShortBeam {
    /// Shear with both ends at their strengths and gravity over the shear strength.
    fn ratio(&self) -> f64 {
        (self.bends_kn + self.gravity_kn) / self.strength_kn.max(1e-9)
    }

    /// What gravity leaves of its shear strength, where it shears before both ends bend, kN.
    pub(super) fn sway_kn(&self) -> Option<f64> {
        let left = (self.strength_kn - self.gravity_kn).max(LEAST_FOR_DRIFT * self.strength_kn);
        (left < self.bends_kn).then_some(left)
    }

    /// The part of the moments at its ends that its shear lets it have.
    pub(super) fn part(&self) -> f64 {
        self.sway_kn().map_or(1.0, |left| left / self.bends_kn)
    }

    /// Its resistance to slipping in shear by the rotations of a beam that shears; nothing goes by and nothing is
    /// accepted where shear is brittle.
    pub(super) fn slips(&self, rotations: &PlasticRotations, brittle: bool) -> Option<Resistance> {
        let strength = self.sway_kn()?;
        let slip = |rotation: f64| rotation * self.clear_m;
        Some(Resistance {
            strength,
            onset: [strength, 0.0],
            capping: if brittle { 0.0 } else { slip(rotations.capping) },
            loss: slip(rotations.loss),
            residual: rotations.residual,
            drop: slip(LEAST_DROP),
            accepted: rotations.accepted.map(|rotation| if brittle { 0.0 } else { slip(rotation) }),
        })
    }
}

/// A beam beside a wing wall along it; none for others.
///
/// Of the floor halfway to the next lines half hangs on it, half on the beams across (common practice, no source).
pub(super) fn short_beam(sections: &Sections<'_>, beam: &model::Beam) -> Ruled<Option<ShortBeam>> {
    let (model, direction) = (sections.model, beam.direction);
    let Some(columns) = model.bay_columns(direction, beam.line, beam.bay, beam.storey) else { return Ok(None) };
    let winged = |column: &Column| column.wings.as_ref().is_some_and(|wings| wings.spec.direction == direction);
    if !columns.iter().any(|column| winged(column)) {
        return Ok(None);
    }
    let reach = (columns[0].reach_mm(direction)[1] + columns[1].reach_mm(direction)[0]) / 1000.0;
    let clear_m = model.bay_length_m(direction, beam.bay) - reach;
    let [sag, hog] = sections.beam_knm(beam)?;
    let lines = model.lines(direction);
    let strip = |one: usize, other: usize| (lines[other].at_m - lines[one].at_m) / 4.0;
    let before = beam.line.checked_sub(1).map_or(0.0, |other| strip(other, beam.line));
    let after = if beam.line + 1 < lines.len() { strip(beam.line, beam.line + 1) } else { 0.0 };
    let gravity_kn = model.floors[beam.storey as usize - 1].load_kpa * (before + after) * clear_m / 2.0;
    let kind = &beam.kind;
    let depth = kind.depth_mm - kind.cover_mm - kind.stirrup_mm - kind.top_bar_mm / 2.0;
    let strength = sections.rules.beam_shear(&BeamShear {
        width_mm: kind.width_mm,
        effective_depth_mm: depth,
        concrete_mpa: sections.old_concrete_mpa(),
        stirrups: Hoops {
            area_mm2: 2.0 * Bar::round(kind.stirrup_mm).area_mm2,
            spacing_mm: kind.stirrup_spacing_mm,
            yield_mpa: sections.steel_mpa(sections.materials.hoop_steel_mpa),
            effective_depth_mm: depth,
        },
        tension_ratio: f64::from(kind.top_bars) * Bar::round(kind.top_bar_mm).area_mm2 / (kind.width_mm * depth),
    })?;
    Ok(Some(ShortBeam {
        clear_m,
        bends_kn: (sag + hog) / clear_m,
        gravity_kn,
        strength_kn: strength.strength_kn,
        spacing_ratio: kind.stirrup_spacing_mm / depth,
    }))
}

/// The beam beside wing walls that its shear holds back most.
pub(super) fn short_beams(sections: &Sections<'_>, direction: Direction) -> Ruled<Vec<Finding>> {
    let model = sections.model;
    let mut worst: Option<(f64, Place)> = None;
    for beam in model.beams.iter().filter(|beam| beam.direction == direction) {
        let Some(short) = short_beam(sections, beam)? else { continue };
        let ratio = short.ratio();
        if short.sway_kn().is_some() && worst.as_ref().is_none_or(|(own, _)| ratio > *own) {
            let line = model.lines(direction)[beam.line].name.clone();
            worst = Some((ratio, Place::Beam { line, bay: beam.bay, storey: beam.storey }));
        }
    }
    Ok(worst
        .map(|(ratio, place)| {
            let detail = format!("{place}, {:.0} % of its strength", 100.0 * ratio);
            Finding::new(Code::BeamShearAfterWing, place, detail)
        })
        .into_iter()
        .collect())
}
