//! One direction: periods, demand, forces, strengths, connecting slabs.

use super::{Analysis, Case, Found, Lateral};
use crate::assembly::{Assembly, FloorForce, Freedoms, Load};
use crate::connection::{self, Context, SlabContext};
use crate::frame_line::FrameLine;
use crate::framing::Framing;
use crate::hazard::{LateralSystem, MassShare};
use crate::member::{self, Strengths};
use crate::model::Model;
use crate::place::{Class, Place};
use crate::project::Direction;
use crate::response::Response;
use crate::rules::Ruled;
use crate::storey::{self, Spring};
use crate::storey_springs::{roof_stiffness_kn_m, storey_kn_m};
use crate::study::{DirectionResult, Failure, FloorMove, LineResult, MemberResult, StoreyResult};

impl Analysis<'_> {
    pub(super) fn direction(&self, case: &Case<'_>, mass: f64) -> Ruled<Option<Found>> {
        let (direction, period_s) = (case.direction, case.mode.period_s);
        let weights = self.level_weights();
        let levels: Vec<f64> = self.model.floors.iter().map(|floor| floor.level_m).collect();
        let weight: f64 = weights.iter().sum();
        let acceleration = self.rules.spectral_acceleration_g(case.motion, period_s)?;
        let has_walls = case.framing.lines.iter().any(|line| line.direction == direction && !line.walls.is_empty());
        let mass_share = self.rules.mass_share(&MassShare {
            storeys: levels.len() as u32,
            system: if has_walls { LateralSystem::ConcreteWall } else { LateralSystem::ConcreteFrame },
            period_s,
            corner_period_s: 0.0,
        })?;
        let base_shear = acceleration * weight * mass_share;
        let shares = self.rules.force_shares(&weights, &levels, period_s)?;
        let forces: Vec<f64> = shares.iter().map(|share| share * base_shear).collect();
        let storey_shear: Vec<f64> = (0..forces.len()).map(|s| forces[s..].iter().sum()).collect();

        let load = case.assembly.load_by_mass(direction, &forces);
        let response = case.factored.solve(&load);
        let accidental = self.accidental(case, &load, &forces)?;
        let held = Assembly { freedoms: Freedoms::translation(direction), ..case.assembly.clone() };
        let Ok(translated) = held.factor().map(|factored| factored.solve(&load)) else { return Ok(None) };
        let Ok(centre) = case.assembly.stiffness_centre(direction, &load) else { return Ok(None) };

        let strengths = Strengths::new(
            &self.model,
            case.framing,
            &case.project.building.materials,
            self.rules,
            direction,
            &translated,
            &forces,
        )?;
        let members = member_shears(&self.model, case.framing, direction, &response);
        let mut storeys = Vec::new();
        for s in 0..levels.len() {
            let drift = response.drift_at_centre(s, direction);
            let height = self.model.floors[s].height_m;
            let strength = self.storey_strength(&strengths, s);
            let mut class_shear = [0.0; 3];
            for (class, shear) in &members[s] {
                class_shear[Class::ALL.iter().position(|own| own == class).unwrap_or(0)] += shear;
            }
            let above: f64 = weights[s..].iter().sum();
            storeys.push(StoreyResult {
                storey: s as u32 + 1,
                floor_force_kn: forces[s],
                shear_kn: storey_shear[s],
                class_shear_kn: class_shear,
                drift_mm: 1000.0 * drift,
                drift_ratio: drift / height,
                stiffness_kn_m: if drift == 0.0 { 0.0 } else { storey_shear[s] / drift },
                strength_kn: strength.strength_kn,
                strength_drift_mm: strength.drift_mm,
                ratio: if storey_shear[s] > 0.0 { strength.strength_kn / storey_shear[s] } else { f64::MAX },
                failure: strength.failure,
                lost: strength.lost,
                p_delta: if storey_shear[s] > 0.0 { above * drift / (storey_shear[s] * height) } else { 0.0 },
                eccentricity_m: centre.eccentricity_m(s),
                sway: strengths.sways[s],
                floor: FloorMove {
                    weight_kn: self.model.floors[s].weight_kn,
                    centre_m: response.floors[s].centre_m,
                    moved_mm: [1000.0 * response.floors[s].x_m, 1000.0 * response.floors[s].y_m],
                    turned_mrad: 1000.0 * response.floors[s].rotation_rad,
                },
                members: strengths.storeys[s]
                    .iter()
                    .zip(&members[s])
                    .map(|(member, (_, shear))| {
                        let weaker = member.weaker();
                        MemberResult {
                            place: member.place.clone(),
                            class: member.class,
                            line: member.line.clone(),
                            axial_kn: member.axial_kn,
                            clear_height_m: member.clear_height_m,
                            shear_kn: *shear,
                            strength_kn: weaker.strength_kn,
                            flexural_kn: weaker.flexural_kn,
                            shear_capacity_kn: weaker.shear_kn,
                            failure: weaker.failure,
                            yield_drift_mm: weaker.yield_drift_mm,
                            limit_drift_mm: weaker.limit_drift_mm,
                            backbone: weaker.backbone,
                            checked_shear_kn: weaker.checked_shear_kn,
                            ways: weaker.ways.into_iter().flatten().collect(),
                            joint_ratio: member.joint_ratio,
                            overturning_kn: member.overturning_kn,
                        }
                    })
                    .collect(),
            });
        }
        let (index, ratio) = storeys
            .iter()
            .enumerate()
            .map(|(index, storey)| (index, storey.ratio))
            .fold((0, f64::INFINITY), |least, next| if next.1 < least.1 { next } else { least });
        let eccentricity = (0..levels.len())
            .filter_map(|s| centre.eccentricity_m(s))
            .fold(0.0_f64, |most, next| if next.abs() > most.abs() { next } else { most });
        let across = self.model.floors.iter().map(|floor| floor.bounds.across(direction)).fold(0.0, f64::max);
        let capacity = self.capacity(case, &strengths.hinges, mass_share)?;
        let at_slabs = SlabContext {
            model: &self.model,
            framing: case.framing,
            materials: &case.project.building.materials,
            rules: self.rules,
            direction,
            response: &response,
            accidental: &accidental,
            load: &load,
            forces_kn: &forces,
            acceleration_g: acceleration,
            plateau_g: self.plateau_g(case)?.max(acceleration),
            capacity: capacity.as_ref(),
        };
        let (slabs, connected) = connection::slabs(&at_slabs)?.into_iter().unzip();
        let connections = connection::connections(&Context::new(&at_slabs, &strengths), connected)?;
        let result = DirectionResult {
            along_x: direction == Direction::X,
            period_s,
            effective_mass: mass,
            acceleration_g: acceleration,
            weight_kn: weight,
            base_shear_kn: base_shear,
            strength_kn: ratio * base_shear,
            strength_storey: index as u32 + 1,
            eccentricity_m: eccentricity,
            eccentricity_share: if across > 0.0 { eccentricity.abs() / across } else { 0.0 },
            capacity,
            roof_stiffness_kn_m: roof_stiffness(case, &response, &storey_shear),
            storeys,
            lines: self.line_results(case, &response, &accidental),
            beams: strengths.beams.clone(),
        };
        Ok(Some(Found { lateral: Lateral { result, strengths }, slabs, connections }))
    }

    /// Largest ordinate of the spectrum up to a second, g.
    fn plateau_g(&self, case: &Case<'_>) -> Ruled<f64> {
        let mut most = 0.0_f64;
        for step in 0..=20 {
            most = most.max(self.rules.spectral_acceleration_g(case.motion, 0.05 * f64::from(step))?);
        }
        Ok(most)
    }

    /// Responses with the accidental eccentricity to either side, amplified where the plan
    /// turns too much.
    fn accidental(&self, case: &Case<'_>, load: &Load, forces: &[f64]) -> Ruled<Vec<Response>> {
        let direction = case.direction;
        let share = self.rules.accidental_eccentricity()?;
        let shifted = |sense: f64, amplification: &[f64]| {
            let mut load = load.clone();
            for (s, floor) in self.model.floors.iter().enumerate() {
                let offset = sense * share * floor.bounds.across(direction) * amplification[s];
                let mut turned = FloorForce::default();
                turned.push(direction, forces[s], offset);
                load.floors[s].moment_kn_m += turned.moment_kn_m;
            }
            case.factored.solve(&load)
        };
        let mut responses = Vec::new();
        for sense in [-1.0, 1.0] {
            let plain = shifted(sense, &vec![1.0; forces.len()]);
            let mut amplification = Vec::new();
            for (s, floor) in self.model.floors.iter().enumerate() {
                let edges = match direction {
                    Direction::X => [floor.bounds.y0, floor.bounds.y1],
                    Direction::Y => [floor.bounds.x0, floor.bounds.x1],
                };
                let [one, other] = edges.map(|edge| plain.floors[s].at(direction, edge));
                let mean = (one + other).abs() / 2.0;
                amplification.push(self.rules.torsion_amplification(one.abs().max(other.abs()), mean)?);
            }
            let amplified = amplification.iter().any(|factor| *factor != 1.0);
            responses.push(if amplified { shifted(sense, &amplification) } else { plain });
        }
        Ok(responses)
    }

    fn line_results(&self, case: &Case<'_>, response: &Response, accidental: &[Response]) -> Vec<LineResult> {
        let direction = case.direction;
        let storeys = self.model.floors.len();
        let mut lines = Vec::new();
        let largest = |shears: &dyn Fn(&Response) -> Vec<f64>| {
            let mut most = shears(response);
            for other in accidental {
                for (own, next) in most.iter_mut().zip(shears(other)) {
                    if next.abs() > own.abs() {
                        *own = next;
                    }
                }
            }
            most
        };
        for (index, line) in case.framing.lines.iter().enumerate().filter(|(_, line)| line.direction == direction) {
            let grid = &self.model.lines(direction)[line.line];
            lines.push(LineResult {
                name: grid.name.clone(),
                external: false,
                ordinate_m: grid.at_m,
                shear_kn: response.lines[index].storey_shear_kn.clone(),
                shear_with_accidental_kn: largest(&|response| response.lines[index].storey_shear_kn.clone()),
                drift_mm: (0..storeys).map(|s| 1000.0 * response.drift_at(s, direction, grid.at_m)).collect(),
            });
        }
        for (index, frame) in self.model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == direction) {
            let own = &response.linked[index];
            let mut below = 0.0;
            lines.push(LineResult {
                name: frame.name(),
                external: true,
                ordinate_m: frame.ordinate_m,
                shear_kn: own.storey_shear_kn.clone(),
                shear_with_accidental_kn: largest(&|response| response.linked[index].storey_shear_kn.clone()),
                drift_mm: own
                    .displacement_m
                    .iter()
                    .enumerate()
                    .map(|(level, displacement)| {
                        let drift = if level < frame.storeys as usize { displacement - below } else { 0.0 };
                        below = *displacement;
                        1000.0 * drift
                    })
                    .collect(),
            });
        }
        lines
    }

    /// Strength of a storey at compatible drift, in the weaker sense.
    fn storey_strength(&self, strengths: &Strengths, s: usize) -> StoreyStrength {
        let members = &strengths.storeys[s];
        let mut weaker: Option<StoreyStrength> = None;
        for sense in 0..2 {
            let springs: Vec<Spring> = members.iter().map(|member| member.spring(sense)).collect();
            let strength = storey::strength(&springs);
            // The way of failing that carries most of the strength names the storey's.
            let mut by_failure: Vec<(Failure, f64)> = Vec::new();
            for (index, member) in members.iter().enumerate() {
                let failure = member.senses[sense].failure;
                let carried = springs[index].force_kn(strength.drift_mm);
                match by_failure.iter_mut().find(|(own, _)| *own == failure) {
                    Some((_, sum)) => *sum += carried,
                    None => by_failure.push((failure, carried)),
                }
            }
            let failure = by_failure
                .iter()
                .fold((Failure::Flexure, f64::NEG_INFINITY), |most, next| if next.1 > most.1 { *next } else { most })
                .0;
            let lost = strength.lost.iter().map(|index| members[*index].place.clone()).collect();
            let next = StoreyStrength { strength_kn: strength.strength_kn, drift_mm: strength.drift_mm, failure, lost };
            if weaker.as_ref().is_none_or(|own| next.strength_kn < own.strength_kn) {
                weaker = Some(next);
            }
        }
        weaker.unwrap_or(StoreyStrength {
            strength_kn: 0.0,
            drift_mm: 0.0,
            failure: Failure::Flexure,
            lost: Vec::new(),
        })
    }
}

/// Base shear over roof displacement, by the frames and by storey springs, kN/m.
fn roof_stiffness(case: &Case<'_>, response: &Response, shear_kn: &[f64]) -> [f64; 2] {
    let direction = case.direction;
    let roof = response.floors.last().map_or(0.0, |floor| floor.along(direction));
    let base = shear_kn.first().copied().unwrap_or(0.0);
    let lines = case.framing.lines.iter().filter(|line| line.direction == direction).map(|line| &line.frame);
    let linked = case.framing.frames.iter().zip(&case.assembly.linked);
    let frames = linked.filter(|(_, own)| own.direction == direction).map(|(frame, _)| &frame.frame);
    let all: Vec<&FrameLine> = lines.chain(frames).collect();
    let springs: Vec<f64> = (0..shear_kn.len())
        .map(|s| all.iter().filter(|frame| s < frame.floors()).map(|frame| storey_kn_m(frame, s)).sum())
        .collect();
    [if roof == 0.0 { 0.0 } else { base / roof }, roof_stiffness_kn_m(&springs, shear_kn)]
}

struct StoreyStrength {
    strength_kn: f64,
    drift_mm: f64,
    failure: Failure,
    lost: Vec<Place>,
}

/// Shear of every member by storey under a response, in the order of [`Strengths`].
fn member_shears(
    model: &Model,
    framing: &Framing,
    direction: Direction,
    response: &Response,
) -> Vec<Vec<(Class, f64)>> {
    member::in_order(model, framing, direction, response)
        .into_iter()
        .map(|storey| storey.into_iter().map(|carried| (carried.class, carried.shear_kn)).collect())
        .collect()
}
