//! Walls and masonry: shear, bending, rocking, the bars round an infill.

use super::beams::beam_shear;
use super::{SENSES, Work, least, secant};
use crate::anchorage::drillable_mm;
use crate::failure::{Failure, Way};
use crate::finding::{Code, Finding};
use crate::footing;
use crate::framing::{FramedLine, WallGroup, depth_along};
use crate::link;
use crate::material::Bar;
use crate::math::whole_spaces;
use crate::member::{Carried, Member, Strength};
use crate::model::{Panel, PanelOrigin};
use crate::openings::panel_opening;
use crate::place::{Class, Place};
use crate::project::InfillWall;
use crate::rules::{
    AnchorageLimit, AnchorageStrength, ColumnShear, InterfaceShear, InterfaceStrength, Ruled, Surface, WallShear,
};
use crate::sections::both_senses;
use crate::wall::{WallAtStrength, WallFailure};

/// The joints of a wall with new panels in a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct WallJoints {
    /// Its line among the framed lines.
    pub line: usize,
    /// Its place among the walls of the line.
    pub index: usize,
    /// The bars round its new panels.
    pub perimeter: Option<Perimeter>,
    /// The most it could take were those bars strong enough, in the stronger sense, kN.
    pub otherwise_kn: f64,
    /// Whether bending or rocking sets that.
    pub bends: bool,
    /// Bending strength of its foot, in the stronger sense, kNm.
    pub moment_knm: f64,
    /// Moment at which its footing rocks, in the lowest storey, kNm.
    pub rocks_knm: f64,
}

/// The bars round the new panels of a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Perimeter {
    /// The measure of its first new panel.
    pub spec: InfillWall,
    /// Joint under the beam, all new panels together.
    pub top: InterfaceStrength,
    /// Joint with one column, the weakest.
    pub side: InterfaceStrength,
    /// Bars in the joint under the beam.
    pub bars: f64,
    /// Clear length of the new panels, m.
    pub length_m: f64,
    /// Clear height of the highest, m.
    pub height_m: f64,
    /// Shear the columns at the ends pass, kN.
    pub columns_kn: f64,
    /// Shear old panels in the same wall pass, kN.
    pub old_panels_kn: f64,
    /// How deep the bars reach into the old members, mm: as given, or what there is room for.
    pub embedment_mm: f64,
    /// Whether the bars can yield.
    pub anchored: bool,
    /// Length that would develop them, mm.
    pub required_mm: f64,
}

impl Perimeter {
    /// The shear it passes, kN.
    pub fn strength_kn(&self) -> f64 {
        self.top.strength_kn + self.columns_kn + self.old_panels_kn
    }
}

impl Work<'_> {
    pub(super) fn wall(
        &mut self,
        (place_of_line, line): (usize, &FramedLine),
        index: usize,
        shears_kn: &[f64],
        carried: &Carried,
    ) -> Ruled<Member> {
        let model = self.sections.model;
        let wall = &line.walls[index];
        let s = wall.storey as usize - 1;
        let name = model.lines(self.direction)[line.line].name.clone();
        // The stack bends as one: no storey carries more than its share of what the foot does.
        let foot = line
            .walls
            .iter()
            .filter(|other| other.first_bay <= wall.last_bay && wall.first_bay <= other.last_bay)
            .min_by_key(|other| other.storey)
            .unwrap_or(wall);
        let at = foot.storey as usize - 1;
        let share = if shears_kn[at] > 0.0 { shears_kn[s] / shears_kn[at] } else { 1.0 };
        let own = self.wall_moments(line, wall)?;
        let below = self.wall_moments(line, foot)?;
        let shear = self.wall_shear_kn(line, index)?;
        let round = self.perimeter(line, index)?;
        let perimeter = round.as_ref().map_or(f64::INFINITY, Perimeter::strength_kn);
        let height = model.floors[s].height_m;
        let rocks = if s == 0 { self.rocking_knm(line, wall) } else { f64::INFINITY };
        let slides = link::wall_friction_kn(wall).unwrap_or(f64::INFINITY);
        self.wall_hinges((place_of_line, line), index, own, rocks, [shear, perimeter, slides])?;
        let stiffness = secant(carried, shear.max(1.0) / (0.004 * height));
        let mut senses = Vec::new();
        let mut otherwise = (0.0_f64, false);
        for sense in SENSES {
            let here = own[sense] + self.coupling_knm(line, wall, sense)?;
            let coupling = self.coupling_knm(line, foot, sense)?;
            let flexural = (here / self.levers_m[s]).min(share * (below[sense] + coupling) / self.levers_m[at]);
            let rocking = if at == 0 {
                share * (self.rocking_knm(line, foot) + coupling) / self.levers_m[0]
            } else {
                f64::INFINITY
            };
            let bends = flexural.min(rocking);
            if shear.min(bends) > otherwise.0 {
                otherwise = (shear.min(bends), bends < shear);
            }
            let all = [
                (shear, Failure::WallShear),
                (flexural, Failure::WallFlexure),
                (rocking, Failure::Rocking),
                (perimeter, Failure::Perimeter),
                (slides, Failure::Sliding),
            ];
            let (strength, failure) = least(all);
            let drifts = self.wall_at(line, index, strength, failure, stiffness).drifts(self.rules())?;
            senses.push(Strength {
                strength_kn: strength,
                flexural_kn: flexural.min(rocking),
                shear_kn: shear.min(perimeter).min(slides),
                failure,
                cracking_kn: drifts.cracking_kn,
                yield_drift_mm: 1000.0 * drifts.full_m,
                limit_drift_mm: 1000.0 * drifts.limit_m,
                backbone: None,
                checked_shear_kn: None,
                ways: all.map(|(reached_kn, failure)| Way::bounded(failure, reached_kn)),
            });
        }
        let senses = [senses[0], senses[1]];
        self.wall_findings(wall, &name, &senses);
        if foot.storey == wall.storey {
            self.boundary(line, wall, &senses)?;
        }
        if wall.class != Class::AsBuilt {
            self.joints.push(WallJoints {
                line: place_of_line,
                index,
                perimeter: round,
                otherwise_kn: otherwise.0,
                bends: otherwise.1,
                moment_knm: own[0].max(own[1]),
                rocks_knm: if s == 0 { self.rocking_knm(line, wall) } else { 0.0 },
            });
        }
        Ok(Member {
            place: model.panel_place(self.direction, line.line, wall.first_bay, wall.storey),
            class: wall.class,
            line: name,
            axial_kn: wall.axial_kn,
            clear_height_m: height,
            stiffness_kn_m: stiffness,
            senses,
            joint_ratio: None,
            overturning_kn: None,
        })
    }

    fn wall_findings(&mut self, wall: &WallGroup, name: &str, senses: &[Strength; 2]) {
        let fails = |failure| senses.iter().any(|sense| sense.failure == failure);
        let footing = Place::Footing { line: name.to_owned() };
        if wall.storey == 1 && wall.footing.is_none() {
            self.found.push(Finding::new(Code::FootingNotGiven, footing.clone(), format!("the wall on line {name}")));
        }
        if wall.storey == 1 && fails(Failure::Rocking) {
            self.found.push(Finding::new(Code::FootingUplift, footing, format!("wall on line {name}")));
        }
        if fails(Failure::Perimeter) {
            let place = Place::Panel { line: name.to_owned(), bay: wall.first_bay, storey: wall.storey };
            let detail = format!("line {name}, storey {}", wall.storey);
            self.found.push(Finding::new(Code::InfillConnectionGoverns, place, detail));
        }
    }

    /// Moments of a wall's section at its gravity load in both senses, kNm.
    fn wall_moments(&self, line: &FramedLine, wall: &WallGroup) -> Ruled<[f64; 2]> {
        let (panel, web_mpa) = self.web_bars(wall)?;
        let section = self.sections.wall(self.direction, line.line, wall, panel, web_mpa)?;
        Ok(both_senses(section.as_ref(), wall.axial_kn, 0.0))
    }

    /// Moment about a wall's axis that beams framing into its ends hold it back with, from
    /// its head up, kNm: at each end the beam's moment and its shear times half the wall
    /// (virtual work of the wall turning about its foot).
    pub(super) fn coupling_knm(&self, line: &FramedLine, wall: &WallGroup, sense: usize) -> Ruled<f64> {
        let model = self.model();
        let half =
            (wall.first_bay..=wall.last_bay).map(|bay| model.bay_length_m(self.direction, bay)).sum::<f64>() / 2.0;
        let mut sum = 0.0;
        for storey in wall.storey..=model.floors.len() as u32 {
            for (bay, before) in [(wall.first_bay - 1, true), (wall.last_bay + 1, false)] {
                let Some(beam) = model.beam_at(self.direction, line.line, bay, storey) else { continue };
                let Some([lower, higher]) = model.bay_columns(self.direction, line.line, bay, storey) else { continue };
                let beside = line.walls.iter().any(|other| {
                    (other.storey == storey || other.storey == storey + 1)
                        && other.first_bay <= bay
                        && bay <= other.last_bay
                });
                if beside {
                    continue;
                }
                let moments = self.sections.beam_knm(beam)?;
                let [sag, hog] = moments;
                let reach = (lower.reach_mm(self.direction)[1] + higher.reach_mm(self.direction)[0]) / 1000.0;
                let clear = model.bay_length_m(self.direction, bay) - reach;
                let at_wall = if before == (sense == 0) { hog } else { sag };
                let part = beam_shear(&self.sections, beam, moments)?.map_or(1.0, |own| own.part());
                sum += part * (at_wall + (sag + hog) / clear * half);
            }
        }
        Ok(sum)
    }

    /// Moment at which a wall rocks: on its footing if given, otherwise about its own edge
    /// with nothing but the gravity load on it, kNm.
    fn rocking_knm(&self, line: &FramedLine, wall: &WallGroup) -> f64 {
        match &wall.footing {
            Some(own) => link::ground(own).rocking_moment_knm(wall.axial_kn),
            None => {
                let bays = wall.first_bay..=wall.last_bay;
                let length: f64 = bays.map(|bay| self.model().bay_length_m(line.direction, bay)).sum();
                footing::gravity_only_moment_knm(wall.axial_kn, length)
            }
        }
    }

    /// Shear strength of a wall's panels together, kN.
    fn wall_shear_kn(&self, line: &FramedLine, index: usize) -> Ruled<f64> {
        let wall = &line.walls[index];
        let mut sum = 0.0;
        for &panel in &wall.panels {
            sum += self.panel_shear_kn(wall, &self.model().panels[panel])?;
        }
        Ok(sum)
    }

    /// From the foot of a storey to the roof, m.
    fn height_above_m(&self, storey: u32) -> f64 {
        let floors = &self.model().floors;
        let own = &floors[storey as usize - 1];
        floors.last().map_or(own.level_m, |floor| floor.level_m) - own.level_m + own.height_m
    }

    /// Moment over shear at the foot of a wall's storey, a cantilever under forces that grow with height (common
    /// practice, no source), m.
    fn wall_shear_span_m(&self, storey: u32) -> f64 {
        2.0 / 3.0 * self.height_above_m(storey)
    }

    /// Shear strength of one panel of a wall, kN.
    fn panel_shear_kn(&self, wall: &WallGroup, panel: &Panel) -> Ruled<f64> {
        let model = self.model();
        let (bar_mm, spacing, curtains, concrete, steel) = self.panel_steel(panel);
        let ratio = f64::from(curtains) * Bar::round(bar_mm).area_mm2 / (spacing * panel.thickness_mm);
        let asked = WallShear {
            concrete_mpa: self.sections.concrete_mpa(concrete),
            yield_mpa: self.sections.steel_mpa(steel),
            thickness_mm: panel.thickness_mm,
            length_mm: 1000.0 * model.bay_length_m(self.direction, panel.bay),
            height_mm: 1000.0 * self.height_above_m(panel.storey),
            shear_span_mm: 1000.0 * self.wall_shear_span_m(panel.storey),
            horizontal_ratio: ratio,
            vertical_ratio: ratio,
            axial_kn: wall.axial_kn / wall.panels.len() as f64,
            opening_factor: panel_opening(model, panel).strength,
            lightweight: 1.0,
        };
        Ok(self.rules().wall_shear(&asked)?.strength_kn)
    }

    /// Bars of a panel: diameter, spacing, curtains, concrete and steel strength as given.
    fn panel_steel(&self, panel: &Panel) -> (f64, f64, u32, f64, f64) {
        let materials = self.sections.materials;
        match &panel.origin {
            PanelOrigin::Existing(own) => {
                (own.bar_mm, own.bar_spacing_mm, own.curtains, materials.concrete_mpa, materials.steel_mpa)
            }
            PanelOrigin::Infill(own) => (own.bar_mm, own.bar_spacing_mm, 2, own.concrete_mpa, own.steel_mpa),
        }
    }

    /// The panel whose vertical bars can pull least for its length, which stands for the whole
    /// wall, and the stress they carry, MPa.
    pub(super) fn web_bars(&self, wall: &WallGroup) -> Ruled<(usize, f64)> {
        let mut weakest = (wall.panels[0], 0.0);
        let mut least = f64::INFINITY;
        for &index in &wall.panels {
            let panel = &self.model().panels[index];
            let (bar_mm, spacing, curtains, ..) = self.panel_steel(panel);
            let stress = self.web_bar_mpa(panel)?;
            let pull = stress * f64::from(curtains) * Bar::round(bar_mm).area_mm2 / spacing;
            if pull < least {
                (weakest, least) = ((index, stress), pull);
            }
        }
        Ok(weakest)
    }

    /// Stress the web's vertical bars carry: to yield in an existing wall cast with its
    /// footing, as far as the dowels are anchored in an infill.
    fn web_bar_mpa(&self, panel: &Panel) -> Ruled<f64> {
        let PanelOrigin::Infill(own) = &panel.origin else { return Ok(self.sections.old_steel_mpa()) };
        let per_length = |bar: f64, spacing: f64| Bar::round(bar).area_mm2 / spacing;
        // One row of dowels meets two curtains of bars.
        let passed = self.dowel(panel, own)?.stress_mpa * per_length(own.dowel_mm, own.dowel_spacing_mm)
            / (2.0 * per_length(own.bar_mm, own.bar_spacing_mm));
        Ok(passed.min(self.sections.steel_mpa(own.steel_mpa)))
    }

    fn dowel(&self, panel: &Panel, infill: &InfillWall) -> Ruled<AnchorageStrength> {
        let bar = Bar::round(infill.dowel_mm);
        self.bonded(bar, infill.steel_mpa, self.dowel_embedment_mm(panel, infill), infill.dowel_spacing_mm)
    }

    /// How deep the bars round an infill reach into the old members, mm: as given, but no further
    /// than the shallowest member round the panel has room for.
    fn dowel_embedment_mm(&self, panel: &Panel, infill: &InfillWall) -> f64 {
        let model = self.model();
        let at = |storey| model.beam_at(panel.direction, panel.line, panel.bay, storey);
        let beams = [at(panel.storey), at(panel.storey - 1)].into_iter().flatten().map(|beam| beam.kind.depth_mm);
        let columns = model.bay_columns(panel.direction, panel.line, panel.bay, panel.storey).into_iter().flatten();
        let depths = beams.chain(columns.map(|column| depth_along(column, panel.direction)));
        depths.fold(infill.dowel_embedment_mm, |least, depth| least.min(drillable_mm(depth)))
    }

    /// What the bars round an infill can bring in: friction along the beam's soffit with the columns
    /// at both ends, which pass their shear with the wall. Existing panels in the same wall, cast
    /// with their beams, bring in their own shear strength; a wall of nothing else has no such limit.
    fn perimeter(&self, line: &FramedLine, index: usize) -> Ruled<Option<Perimeter>> {
        let model = self.model();
        let wall = &line.walls[index];
        let mut found: Option<Perimeter> = None;
        let mut old_panels_kn = 0.0;
        for &panel in &wall.panels {
            let panel = &model.panels[panel];
            let PanelOrigin::Infill(own) = &panel.origin else {
                old_panels_kn += self.panel_shear_kn(wall, panel)?;
                continue;
            };
            let [length, height] = model.panel_clear_m(panel);
            let opening = panel.opening.as_ref().map_or(0.0, |opening| opening.width_mm);
            let net = (1000.0 * length - opening).max(0.0);
            let anchored = self.dowel(panel, own)?;
            let embedment_mm = self.dowel_embedment_mm(panel, own);
            let interface = |along_mm: f64| {
                self.rules().interface_shear(&InterfaceShear {
                    area_mm2: along_mm * panel.thickness_mm,
                    steel_mm2: whole_spaces(along_mm, own.dowel_spacing_mm) * Bar::round(own.dowel_mm).area_mm2,
                    bar_stress_mpa: anchored.stress_mpa,
                    surface: Surface::Roughened,
                    concrete_mpa: self.sections.materials.concrete_mpa.min(own.concrete_mpa),
                    normal_kn: 0.0,
                    lightweight: 1.0,
                })
            };
            let (top, side) = (interface(net)?, interface(1000.0 * height.max(0.0))?);
            let bars = whole_spaces(net, own.dowel_spacing_mm);
            let joined = found.get_or_insert_with(|| Perimeter {
                spec: own.clone(),
                top: InterfaceStrength { clamping_kn: 0.0, friction_kn: 0.0, cap_kn: 0.0, strength_kn: 0.0, ..top },
                side,
                bars: 0.0,
                length_m: 0.0,
                height_m: height,
                columns_kn: 0.0,
                old_panels_kn: 0.0,
                embedment_mm,
                anchored: true,
                required_mm: 0.0,
            });
            joined.embedment_mm = joined.embedment_mm.min(embedment_mm);
            joined.top.clamping_kn += top.clamping_kn;
            joined.top.friction_kn += top.friction_kn;
            joined.top.cap_kn += top.cap_kn;
            joined.top.strength_kn += top.strength_kn;
            joined.top.bar_stress_mpa = joined.top.bar_stress_mpa.min(top.bar_stress_mpa);
            if side.strength_kn < joined.side.strength_kn {
                joined.side = side;
            }
            joined.bars += bars;
            joined.length_m += length;
            joined.height_m = joined.height_m.max(height);
            joined.anchored &= anchored.limit == AnchorageLimit::Yield;
            joined.required_mm = joined.required_mm.max(anchored.required_mm);
        }
        let Some(joined) = &mut found else { return Ok(None) };
        joined.old_panels_kn = old_panels_kn;
        for end in [wall.first_bay as usize - 1, wall.last_bay as usize] {
            if let Some(column) = model.column_on(self.direction, line.line, end, wall.storey) {
                let clear = model.clear_height_m(column, self.direction);
                let asked = ColumnShear { shear_span_mm: 500.0 * clear, ..self.column_shear(column)? };
                joined.columns_kn +=
                    self.rules().column_shear(&asked)?.strength_kn + self.wing_shear_kn(column, clear)?;
            }
        }
        Ok(found)
    }

    /// A wall at its strength.
    pub(super) fn wall_at(
        &self,
        line: &FramedLine,
        index: usize,
        strength_kn: f64,
        failure: Failure,
        stiffness_kn_m: f64,
    ) -> WallAtStrength {
        let model = self.model();
        let wall = &line.walls[index];
        let panels = || wall.panels.iter().map(|index| &model.panels[*index]);
        let length_m: f64 = panels().map(|panel| model.bay_length_m(self.direction, panel.bay)).sum();
        let weakest_mpa = panels().map(|panel| self.panel_steel(panel).3).fold(f64::INFINITY, f64::min);
        WallAtStrength {
            failure: match failure {
                Failure::WallFlexure => WallFailure::Flexure,
                // A wall that slides keeps its strength as one that rocks does.
                Failure::Rocking | Failure::Sliding => WallFailure::Rocking,
                Failure::Perimeter => WallFailure::Perimeter,
                _ => WallFailure::Shear,
            },
            strength_kn,
            stiffness_kn_m,
            storey_height_m: model.floors[wall.storey as usize - 1].height_m,
            web_mm2: panels()
                .map(|panel| 1000.0 * model.bay_length_m(self.direction, panel.bay) * panel.thickness_mm)
                .sum(),
            concrete_mpa: self.sections.concrete_mpa(weakest_mpa),
            axial_kn: wall.axial_kn,
            confined: false,
            shear_span_ratio: self.wall_shear_span_m(wall.storey) / length_m,
            // Columns of the frame stand at its edges.
            yield_mpa: self.sections.old_steel_mpa(),
        }
    }
}
