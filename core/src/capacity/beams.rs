//! Beams in shear while both their ends bend.

use super::LineStrengths;
use crate::finding::{Code, Finding};
use crate::hinge::{LEAST_DROP, Resistance};
use crate::material::Bar;
use crate::model::{self, Column, Model};
use crate::order;
use crate::place::Place;
use crate::project::Direction;
use crate::rules::{self, Hoops, PlasticRotations, Ruled};
use crate::sections::Sections;
use serde::Serialize;

/// Part of its shear strength a beam is left with for the drift at least: one that gravity uses up
/// would have no strength to lose (judgement, no source).
const LEAST_FOR_DRIFT: f64 = 0.01;

/// Shear of a beam with both its ends at their bending strengths, against its shear strength.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BeamShear {
    /// Where.
    pub place: Place,
    /// Whether a wing wall along it leaves it short.
    pub winged: bool,
    /// Between the faces of columns or wings, m.
    pub clear_m: f64,
    /// Shear with both ends at their strengths, (M_sag + M_hog)/l, kN.
    pub bends_kn: f64,
    /// Shear of gravity at the end where it is more, kN.
    pub gravity_kn: f64,
    /// Shear strength, kN.
    pub strength_kn: f64,
    /// Stirrup spacing over effective depth.
    pub spacing_ratio: f64,
}

impl BeamShear {
    /// Shear with both ends at their strengths and gravity over the shear strength.
    pub fn ratio(&self) -> f64 {
        (self.bends_kn + self.gravity_kn) / self.strength_kn.max(1e-9)
    }

    /// What gravity leaves of its shear strength, where it shears before both ends bend, kN.
    pub fn sway_kn(&self) -> Option<f64> {
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

/// A beam in shear; none where a wall stands under or over it, with which it bends as one.
pub(super) fn beam_shear(
    sections: &Sections<'_>,
    beam: &model::Beam,
    [sag, hog]: [f64; 2],
) -> Ruled<Option<BeamShear>> {
    let (model, direction) = (sections.model, beam.direction);
    let in_wall = |storey: u32| model.panel_at(direction, beam.line, beam.bay, storey).is_some();
    let Some(columns) = model.bay_columns(direction, beam.line, beam.bay, beam.storey) else { return Ok(None) };
    if in_wall(beam.storey) || in_wall(beam.storey + 1) {
        return Ok(None);
    }
    let reach = [columns[0].reach_mm(direction)[1], columns[1].reach_mm(direction)[0]].map(|mm| mm / 1000.0);
    let clear_m = model.bay_length_m(direction, beam.bay) - reach[0] - reach[1];
    if clear_m <= 0.0 {
        return Ok(None);
    }
    let kind = &beam.kind;
    let depth = kind.depth_mm - kind.cover_mm - kind.stirrup_mm - kind.top_bar_mm / 2.0;
    let strength = sections.rules.beam_shear(&rules::BeamShear {
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
    let winged = |column: &Column| column.wings.as_ref().is_some_and(|wings| wings.spec.direction == direction);
    Ok(Some(BeamShear {
        place: Place::Beam { line: model.lines(direction)[beam.line].name.clone(), bay: beam.bay, storey: beam.storey },
        winged: columns.iter().any(|column| winged(column)),
        clear_m,
        bends_kn: (sag + hog) / clear_m,
        gravity_kn: gravity_kn(model, beam, reach),
        strength_kn: strength.strength_kn,
        spacing_ratio: kind.stirrup_spacing_mm / depth,
    }))
}

/// Shear of gravity at the end of a beam's clear length where it is more, kN: its own web, masonry that stands on it and
/// the floor on either side up to lines at 45° from beams across it and halfway to the next line (common practice, no
/// source), simply supported.
fn gravity_kn(model: &Model, beam: &model::Beam, reach_m: [f64; 2]) -> f64 {
    let direction = beam.direction;
    let span = model.bay_length_m(direction, beam.bay);
    let [from, to] = [reach_m[0], span - reach_m[1]];
    let clear = to - from;
    let floor = &model.floors[beam.storey as usize - 1];
    let lines = model.lines(direction);
    let web = (beam.kind.depth_mm - floor.slab_mm).max(0.0) * beam.kind.width_mm / 1e6 * model::CONCRETE_KN_M3;
    let even_kn = web * clear + model.masonry_on_kn(beam);
    let mut ends = [even_kn / 2.0; 2];
    let strips = [beam.line.checked_sub(1), (beam.line + 1 < lines.len()).then_some(beam.line)];
    for strip in strips.into_iter().flatten().filter(|strip| model.has_floor(direction, *strip, beam.bay, beam.storey))
    {
        let half = (lines[strip + 1].at_m - lines[strip].at_m) / 2.0;
        let across = [beam.bay as usize - 1, beam.bay as usize]
            .map(|end| model.beam_at(direction.across(), end, strip as u32 + 1, beam.storey).is_some());
        let width = |x: f64| {
            let near = if across[0] { x } else { half };
            half.min(near).min(if across[1] { span - x } else { half })
        };
        // Straight between these.
        let mut corners = [from, half, span / 2.0, span - half, to].map(|x| x.max(from).min(to));
        order::sort_by(&mut corners, f64::total_cmp);
        for pair in corners.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let middle = (a + b) / 2.0;
            // Exact for what is of the second degree.
            let over = |of: &dyn Fn(f64) -> f64| (b - a) / 6.0 * (of(a) + 4.0 * of(middle) + of(b)) * floor.load_kpa;
            ends[0] += over(&|x| width(x) * (to - x) / clear);
            ends[1] += over(&|x| width(x) * (x - from) / clear);
        }
    }
    ends[0].max(ends[1])
}

/// Beams in shear of the framed lines of a direction, by line, storey and bay.
pub(super) fn all(lines: &[Option<LineStrengths>]) -> Vec<BeamShear> {
    lines.iter().flatten().flat_map(|line| line.shears.iter().flatten().flatten().cloned()).collect()
}

/// What is to be said of them: of those that wings leave short the one held back most, of others those of a storey
/// together, and those that gravity alone asks too much of.
pub(super) fn findings(direction: Direction, beams: &[BeamShear], storeys: u32) -> Vec<Finding> {
    let way = direction.label();
    let mut found = Vec::new();
    let shears = |beam: &&BeamShear| beam.sway_kn().is_some();
    let winged = beams.iter().filter(|beam| beam.winged && shears(beam));
    if let Some(most) = winged.max_by(|one, other| one.ratio().total_cmp(&other.ratio())) {
        let detail = format!("{}, {:.0} % of its strength", most.place, 100.0 * most.ratio());
        found.push(Finding::new(Code::BeamShearAfterWing, most.place.clone(), detail));
    }
    for storey in 1..=storeys {
        let here = |beam: &&BeamShear| matches!(beam.place, Place::Beam { storey: own, .. } if own == storey);
        let all: Vec<&BeamShear> = beams.iter().filter(here).collect();
        let told = |code, weak: Vec<&BeamShear>, used: fn(&BeamShear) -> f64| {
            let mut lines: Vec<&str> = Vec::new();
            for beam in &weak {
                if let Place::Beam { line, .. } = &beam.place
                    && !lines.contains(&line.as_str())
                {
                    lines.push(line);
                }
            }
            let on = if lines.len() == 1 { "line" } else { "lines" };
            let most = 100.0 * weak.iter().map(|beam| used(beam)).fold(0.0, f64::max);
            let detail = format!(
                "{} of {} beams over storey {storey} {way} on {on} {}, up to {most:.0} % of their strength",
                weak.len(),
                all.len(),
                lines.join(", ")
            );
            (!weak.is_empty()).then(|| Finding::new(code, Place::Storey { storey }, detail))
        };
        let weak = all.iter().filter(|beam| !beam.winged && shears(beam)).copied().collect();
        found.extend(told(Code::BeamsShear, weak, BeamShear::ratio));
        let by_gravity = |beam: &BeamShear| beam.gravity_kn / beam.strength_kn.max(1e-9);
        let loaded = all.iter().filter(|beam| by_gravity(beam) > 1.0).copied().collect();
        found.extend(told(Code::BeamGravityShear, loaded, by_gravity));
    }
    found
}
