//! Sections of the model's members, as the section engine takes them.

use crate::anchorage::{Lap, lap};
use crate::framing::{WallGroup, depth_along};
use crate::material::{Bar, STEEL_MODULUS_MPA};
use crate::model::{Beam, Column, Frame, Model, PanelOrigin};
use crate::project::{Direction, ExternalFrame, Jacket, Materials};
use crate::rules::{ExpectedFactors, Ruled, Rules};
use crate::section::{Section, Sense};
use crate::section_shapes::{
    BeamBars, BeamShape, ColumnShape, CurtainBars, JacketedShape, PerimeterBars, WallShape, Wing, WingedShape,
};
use crate::skin::Skin;

/// Cover of new work, mm (common practice, no source).
pub(crate) const NEW_COVER_MM: f64 = 40.0;

/// From the face of a jacket to the middle of its upright bars, mm; a thin jacket keeps them at
/// mid-thickness.
pub(crate) fn jacket_edge_mm(jacket: &Jacket) -> f64 {
    (jacket.thickness_mm / 2.0).min(NEW_COVER_MM + jacket.hoop_mm + jacket.bar_mm / 2.0)
}

/// Builds sections with the expected strengths of a rule set.
#[derive(Clone, Copy)]
pub struct Sections<'a> {
    /// The model.
    pub model: &'a Model,
    /// Materials of the existing building.
    pub materials: &'a Materials,
    /// Rule set.
    pub rules: &'a dyn Rules,
    factors: ExpectedFactors,
}

impl<'a> Sections<'a> {
    /// Sections of a model by a rule set.
    pub fn new(model: &'a Model, materials: &'a Materials, rules: &'a dyn Rules) -> Ruled<Self> {
        Ok(Self { model, materials, rules, factors: rules.expected_factors()? })
    }

    /// Expected strength of concrete given at its lower bound, MPa.
    pub fn concrete_mpa(&self, lower_bound_mpa: f64) -> f64 {
        self.factors.concrete_mpa(lower_bound_mpa)
    }

    /// Expected yield strength of steel given at its lower bound, MPa.
    pub fn steel_mpa(&self, lower_bound_mpa: f64) -> f64 {
        self.factors.steel * lower_bound_mpa
    }

    /// Expected strength of the existing concrete, MPa.
    pub fn old_concrete_mpa(&self) -> f64 {
        self.concrete_mpa(self.materials.concrete_mpa)
    }

    /// Expected yield strength of the existing bars, MPa.
    pub fn old_steel_mpa(&self) -> f64 {
        self.steel_mpa(self.materials.steel_mpa)
    }

    /// Stress old bars can carry at their lap, where it is too short to reach yield.
    pub fn lap_mpa(&self, column: &Column) -> Ruled<Option<f64>> {
        let Some(provided_mm) = column.kind.lap_mm else { return Ok(None) };
        let kind = &column.kind;
        let edge_mm = kind.cover_mm + kind.hoop_mm + kind.bar_mm / 2.0;
        // As if the bars stood evenly round the perimeter.
        let perimeter = 2.0 * (kind.x_mm + kind.y_mm - 4.0 * edge_mm);
        let strength = lap(
            self.rules,
            &Lap {
                bar: Bar::round(kind.bar_mm),
                yield_mpa: self.old_steel_mpa(),
                concrete_mpa: self.old_concrete_mpa(),
                provided_mm,
                edge_mm,
                spacing_mm: perimeter / f64::from(kind.bars),
            },
        )?;
        Ok(strength.short.then_some(strength.stress_mpa))
    }

    /// The column as built, bending in a direction; `bar_mpa` is what its bars can carry.
    pub fn plain(&self, column: &Column, direction: Direction, bar_mpa: f64) -> Ruled<ColumnShape> {
        let kind = &column.kind;
        let (depth, width) = across(column, direction);
        Ok(ColumnShape {
            width_mm: width,
            depth_mm: depth,
            concrete: self.rules.concrete_law(self.old_concrete_mpa())?,
            bars: PerimeterBars {
                count: kind.bars,
                bar: Bar::round(kind.bar_mm),
                cover_mm: kind.cover_mm,
                hoop_diameter_mm: kind.hoop_mm,
                yield_mpa: bar_mpa,
            },
        })
    }

    /// The column with its jacket or wings, bending in a direction; `None` where the parts
    /// make no section.
    pub fn column(
        &self,
        column: &Column,
        direction: Direction,
        bar_mpa: f64,
        wing_bar_mpa: f64,
    ) -> Ruled<Option<Section>> {
        let core = self.plain(column, direction, bar_mpa)?;
        Ok(match (&column.jacket, &column.wings) {
            (Some(jacket), _) if jacket.acts() => {
                let Skin { along, across } = jacket.skin(direction);
                JacketedShape {
                    core,
                    added_mm: [across[0], across[1], along[0], along[1]],
                    concrete: self.rules.concrete_law(self.concrete_mpa(jacket.concrete_mpa))?,
                    bars: Some(self.jacket_bars(jacket)),
                    core_strain: if jacket.relieved { 0.0 } else { self.strain_at_casting(column)? },
                }
                .section()
            }
            (None, Some(wings)) if wings.spec.direction == direction => {
                let spec = &wings.spec;
                let concrete = self.rules.concrete_law(self.concrete_mpa(spec.concrete_mpa))?;
                let wing = |length_mm: f64| {
                    (length_mm > 0.0).then_some(Wing {
                        length_mm,
                        thickness_mm: spec.thickness_mm,
                        concrete,
                        bars: CurtainBars {
                            bar: Bar::round(spec.bar_mm),
                            spacing_mm: spec.bar_spacing_mm,
                            curtains: 2,
                            edge_mm: NEW_COVER_MM + spec.bar_mm / 2.0,
                            yield_mpa: wing_bar_mpa,
                        },
                    })
                };
                WingedShape { column: core, minus: wing(wings.lower_mm), plus: wing(wings.higher_mm) }.section()
            }
            _ => core.section(),
        })
    }

    /// Elastic strain of a column under its gravity load, which stays on it where it was not
    /// relieved before something was cast round it (gross section and bars, without creep; DERIVED).
    fn strain_at_casting(&self, column: &Column) -> Ruled<f64> {
        let kind = &column.kind;
        let modulus = self.rules.concrete_modulus_mpa(self.old_concrete_mpa())?;
        let bars = f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2;
        let rigidity = modulus * (kind.x_mm * kind.y_mm - bars) + STEEL_MODULUS_MPA * bars;
        Ok((1000.0 * column.axial_kn / rigidity).max(0.0))
    }

    /// Longitudinal bars of a jacket.
    pub fn jacket_bars(&self, jacket: &Jacket) -> PerimeterBars {
        let edge = jacket_edge_mm(jacket);
        PerimeterBars {
            count: jacket.bars,
            bar: Bar::round(jacket.bar_mm),
            cover_mm: edge - jacket.hoop_mm - jacket.bar_mm / 2.0,
            hoop_diameter_mm: jacket.hoop_mm,
            yield_mpa: self.steel_mpa(jacket.steel_mpa),
        }
    }

    /// Sagging and hogging strength of a beam's end, kNm.
    pub fn beam_knm(&self, beam: &Beam) -> Ruled<[f64; 2]> {
        let kind = &beam.kind;
        let bars = |count: u32, diameter: f64| BeamBars {
            area_mm2: f64::from(count) * Bar::round(diameter).area_mm2,
            edge_mm: kind.cover_mm + kind.stirrup_mm + diameter / 2.0,
            yield_mpa: self.old_steel_mpa(),
        };
        let shape = BeamShape {
            width_mm: kind.width_mm,
            depth_mm: kind.depth_mm,
            flange_width_mm: flange_mm(self.model, beam),
            flange_thickness_mm: self.model.floors[beam.storey as usize - 1].slab_mm,
            concrete: self.rules.concrete_law(self.old_concrete_mpa())?,
            top: bars(kind.top_bars, kind.top_bar_mm),
            bottom: bars(kind.bottom_bars, kind.bottom_bar_mm),
        };
        Ok(both_senses(shape.section().as_ref(), 0.0, 0.0))
    }

    /// A wall with the columns at its ends, about the middle of its web. Its web is as thin and
    /// its concrete as weak as the least of its panels; its bars are those of the panel and carry
    /// the stress given. `None` where the parts do not make a section.
    pub fn wall(
        &self,
        direction: Direction,
        line: usize,
        wall: &WallGroup,
        panel: usize,
        web_bar_mpa: f64,
    ) -> Ruled<Option<Section>> {
        let (bar_mm, spacing_mm, curtains) = match &self.model.panels[panel].origin {
            PanelOrigin::Existing(own) => (own.bar_mm, own.bar_spacing_mm, own.curtains),
            PanelOrigin::Infill(own) => (own.bar_mm, own.bar_spacing_mm, 2),
        };
        let panels = || wall.panels.iter().map(|index| &self.model.panels[*index]);
        let thickness = panels().map(|panel| panel.thickness_mm).fold(f64::INFINITY, f64::min);
        let concrete_mpa = panels()
            .map(|panel| match &panel.origin {
                PanelOrigin::Existing(_) => self.materials.concrete_mpa,
                PanelOrigin::Infill(own) => own.concrete_mpa,
            })
            .fold(f64::INFINITY, f64::min);
        let ends = [wall.first_bay as usize - 1, wall.last_bay as usize];
        let [lower, higher] = ends.map(|end| self.model.column_on(direction, line, end, wall.storey));
        let (Some(lower), Some(higher)) = (lower, higher) else { return Ok(None) };
        let along = self.model.along(direction);
        let length = 1000.0 * (along[ends[1]].at_m - along[ends[0]].at_m);
        // The bars of an edge pull as far as their lap lets them.
        let edge = |column: &Column| {
            let bar_mpa = self.lap_mpa(column)?.unwrap_or(self.old_steel_mpa());
            self.plain(column, direction, bar_mpa).map(Some)
        };
        Ok(WallShape {
            web_length_mm: length - (depth_along(lower, direction) + depth_along(higher, direction)) / 2.0,
            thickness_mm: thickness,
            concrete: self.rules.concrete_law(self.concrete_mpa(concrete_mpa))?,
            bars: CurtainBars {
                bar: Bar::round(bar_mm),
                spacing_mm,
                curtains,
                edge_mm: NEW_COVER_MM + bar_mm / 2.0,
                yield_mpa: web_bar_mpa,
            },
            minus: edge(lower)?,
            plus: edge(higher)?,
        }
        .section())
    }

    /// Strength of an external frame's column at an axial load, kNm.
    pub fn frame_column_knm(&self, spec: &ExternalFrame, axial_kn: f64) -> Ruled<f64> {
        let shape = ColumnShape {
            width_mm: spec.column_across_mm,
            depth_mm: spec.column_along_mm,
            concrete: self.rules.concrete_law(self.concrete_mpa(spec.concrete_mpa))?,
            bars: PerimeterBars {
                count: spec.column_bars,
                bar: Bar::round(spec.column_bar_mm),
                cover_mm: NEW_COVER_MM,
                hoop_diameter_mm: spec.hoop_mm,
                yield_mpa: self.steel_mpa(spec.steel_mpa),
            },
        };
        Ok(both_senses(shape.section().as_ref(), axial_kn, 0.0)[0])
    }

    /// Strength of an external frame's beam, kNm; the same either way.
    pub fn frame_beam_knm(&self, spec: &ExternalFrame) -> Ruled<f64> {
        let bars = BeamBars {
            area_mm2: f64::from(spec.beam_bars) * Bar::round(spec.beam_bar_mm).area_mm2,
            edge_mm: NEW_COVER_MM + spec.hoop_mm + spec.beam_bar_mm / 2.0,
            yield_mpa: self.steel_mpa(spec.steel_mpa),
        };
        let shape = BeamShape {
            width_mm: spec.beam_width_mm,
            depth_mm: spec.beam_depth_mm,
            flange_width_mm: spec.beam_width_mm,
            flange_thickness_mm: 0.0,
            concrete: self.rules.concrete_law(self.concrete_mpa(spec.concrete_mpa))?,
            top: bars,
            bottom: bars,
        };
        Ok(both_senses(shape.section().as_ref(), 0.0, 0.0)[0])
    }
}

/// Depth along and width across a direction of a column as built, mm.
pub fn across(column: &Column, direction: Direction) -> (f64, f64) {
    match direction {
        Direction::X => (column.kind.x_mm, column.kind.y_mm),
        Direction::Y => (column.kind.y_mm, column.kind.x_mm),
    }
}

/// Moments a section carries at an axial force in its two senses, kNm; zero where it cannot
/// carry the force at all.
pub fn both_senses(section: Option<&Section>, axial_kn: f64, about_mm: f64) -> [f64; 2] {
    let moment = |sense| {
        section
            .and_then(|section| section.strength(axial_kn, sense, about_mm))
            .map_or(0.0, |strength| strength.moment_knm)
    };
    [moment(Sense::Plus), moment(Sense::Minus)]
}

/// Effective flange width of a beam with the slab on either side of it, mm: on each side
/// not more than 8 slab thicknesses, a fifth of the span, and half the distance to the next
/// line (ASCE 41-17 10.3.1.3, MEMORY).
pub fn flange_mm(model: &Model, beam: &Beam) -> f64 {
    let slab = model.floors[beam.storey as usize - 1].slab_mm;
    let span = 1000.0 * model.bay_length_m(beam.direction, beam.bay);
    let lines = model.lines(beam.direction);
    let side = |strip: Option<usize>| match strip {
        Some(strip) if model.has_floor(beam.direction, strip, beam.bay, beam.storey) => {
            let free = 500.0 * (lines[strip + 1].at_m - lines[strip].at_m);
            (8.0 * slab).min(span / 5.0).min(free)
        }
        _ => 0.0,
    };
    beam.kind.width_mm + side(beam.line.checked_sub(1)) + side(Some(beam.line))
}

/// Gravity on one column of an external frame at a storey's base, kN.
pub fn frame_axial_kn(frame: &Frame, storey: usize) -> f64 {
    frame.weight_kn.get(storey..).map_or(0.0, |above| above.iter().sum::<f64>()) / frame.along_m.len() as f64
}
