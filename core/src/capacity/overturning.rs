//! Axial force in columns as their frame is pushed over: the shears of the beams that frame in above.

use super::{LineStrengths, SENSES, Work};
use crate::finding::{Code, Finding};
use crate::framing::FramedLine;
use crate::material::Bar;
use crate::model::Column;
use crate::phrase::Phrase;
use crate::place::Place;
use crate::project::{Direction, Jacket};
use crate::rules::{ColumnAxial, Ruled};
use crate::units::Dimension;

/// Change of axial force by storey and place along a line, in both senses, kN, compression positive.
pub(super) type Changes = Vec<Vec<[f64; 2]>>;

/// The column of a storey that is furthest beyond a limit.
struct Worst {
    count: usize,
    used: f64,
    place: Place,
    force_kn: f64,
    limit_kn: f64,
}

impl Work<'_> {
    /// What the beams of a line bring its columns as the frame sways in either sense.
    ///
    /// Every beam end has its moment, or at a joint where joint or columns can do less its part of that; the beam's
    /// shear, moments at the middles of its columns over the span, lifts the column it leaves and presses the other. Columns
    /// that shear first and storeys that stay elastic bring less, so this bounds the change.
    pub(super) fn overturning(&self, line: &FramedLine, strengths: &LineStrengths) -> Changes {
        let (storeys, ends) = (strengths.beams.len(), self.model().along(self.direction).len());
        let mut changes = vec![vec![[0.0; 2]; ends]; storeys];
        for sense in SENSES {
            let mut above = vec![0.0; ends];
            for s in (0..storeys).rev() {
                let rows = (strengths.beams[s].as_slice(), strengths.shears[s].as_slice());
                for bay in 0..ends.saturating_sub(1) {
                    // Over and under walls the beam goes with them.
                    if strengths.shears[s][bay].is_none() {
                        continue;
                    }
                    let end = |end: usize, sagging: bool| {
                        let moment = self.centred_beam_knm(line.line, [s, end, bay], sagging, rows)?;
                        Some(self.passed(line, strengths, [s, end, sense]) * moment)
                    };
                    let (Some(left), Some(right)) = (end(bay, sense == 0), end(bay + 1, sense == 1)) else { continue };
                    let shear = (left + right) / self.model().bay_length_m(self.direction, bay as u32 + 1);
                    let towards = if sense == 0 { shear } else { -shear };
                    above[bay] -= towards;
                    above[bay + 1] += towards;
                }
                for (end, change) in above.iter().enumerate() {
                    changes[s][end][sense] = *change;
                }
            }
        }
        changes
    }

    /// The part of the beams' moments that joint and columns let them have over a storey in a sense.
    fn passed(&self, line: &FramedLine, strengths: &LineStrengths, [s, end, sense]: [usize; 3]) -> f64 {
        let Some(limit) = strengths.joints[s][end][sense].filter(|limit| limit.beams_knm > 0.0) else { return 1.0 };
        let columns = self.at_joint(line, strengths, [s, end, sense], &limit).map_or(f64::INFINITY, |[own, _]| own);
        (limit.moment_knm.min(columns) / limit.beams_knm).min(1.0)
    }

    /// Says where a pressed column passes the rule set's axial limit, or a lifted one its bars, storey by storey.
    pub(super) fn pushed_over<'a>(
        &mut self,
        lines: impl Iterator<Item = (&'a FramedLine, &'a Changes)> + Clone,
    ) -> Ruled<()> {
        let model = self.sections.model;
        for s in 0..model.floors.len() {
            let mut all = 0;
            let mut worst: [Option<Worst>; 2] = [None, None];
            for (line, changes) in lines.clone() {
                for (end, change) in changes[s].iter().enumerate() {
                    let Some(column) = self.standing(line, s, end) else { continue };
                    all += 1;
                    let [least, most] = axial_range_kn(column.axial_kn, *change);
                    let limits = [self.pressed_limit_kn(column)?, self.lifted_limit_kn(column)?];
                    for ((found, force_kn), limit_kn) in worst.iter_mut().zip([most, -least]).zip(limits) {
                        // The gravity load alone is told apart.
                        if force_kn <= limit_kn || column.axial_kn > limits[0] {
                            continue;
                        }
                        let used = force_kn / limit_kn.max(1e-9);
                        let count = found.as_ref().map_or(0, |own| own.count) + 1;
                        match found {
                            Some(own) if own.used >= used => own.count = count,
                            _ => {
                                *found =
                                    Some(Worst { count, used, place: model.column_place(column), force_kn, limit_kn });
                            }
                        }
                    }
                }
            }
            let way = self.direction.label();
            for (found, code) in worst.into_iter().zip([Code::ColumnsPressed, Code::ColumnsLifted]) {
                let Some(most) = found else { continue };
                let words = format!("{} of {all} columns in storey {} {way}, most {}, ", most.count, s + 1, most.place);
                let detail = Phrase::from(words)
                    .show(most.force_kn, Dimension::Kilonewtons)
                    .and(" of ")
                    .show(most.limit_kn, Dimension::Kilonewtons);
                self.found.push(Finding::new(code, Place::Storey { storey: s as u32 + 1 }, detail));
            }
        }
        Ok(())
    }

    /// A column of a line that stands in no wall along it.
    fn standing(&self, line: &FramedLine, s: usize, end: usize) -> Option<&Column> {
        let inside = line.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
        self.sections.model.column_on(self.direction, line.line, end, s as u32 + 1).filter(|_| !inside)
    }

    /// What the rule set lets a column carry, kN; a jacket that goes through the floors shares what comes after it was cast.
    fn pressed_limit_kn(&self, column: &Column) -> Ruled<f64> {
        self.axial_limit_kn(column, column.jacket.as_ref().filter(|own| own.acts()))
    }

    /// What a column's bars carry in tension, kN: the old ones as far as their laps let them, those of a jacket that goes
    /// through the floors.
    fn lifted_limit_kn(&self, column: &Column) -> Ruled<f64> {
        let kind = &column.kind;
        let stress = self.lap_mpa(column)?.unwrap_or(self.sections.old_steel_mpa());
        let old = f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2 * stress;
        let jacket = column.jacket.as_ref().filter(|own| own.acts());
        let new = jacket.map_or(0.0, |own| {
            f64::from(own.bars) * Bar::round(own.bar_mm).area_mm2 * self.sections.steel_mpa(own.steel_mpa)
        });
        Ok((old + new) / 1000.0)
    }

    /// Axial limit of a column by the rule set, with a jacket where one counts, kN.
    pub(super) fn axial_limit_kn(&self, column: &Column, jacket: Option<&Jacket>) -> Ruled<f64> {
        let materials = self.sections.materials;
        let kind = &column.kind;
        let old_mm2 = kind.x_mm * kind.y_mm;
        let mut limit_kn = self.rules().column_axial_kn(&ColumnAxial {
            gross_mm2: old_mm2,
            bars_mm2: f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2,
            concrete_mpa: materials.concrete_mpa,
            steel_mpa: materials.steel_mpa,
        })?;
        if let Some(jacket) = jacket {
            let [wider, deeper] = jacket.skin(Direction::X).added_mm();
            limit_kn += self.rules().column_axial_kn(&ColumnAxial {
                gross_mm2: (kind.x_mm + wider) * (kind.y_mm + deeper) - old_mm2,
                bars_mm2: f64::from(jacket.bars) * Bar::round(jacket.bar_mm).area_mm2,
                concrete_mpa: jacket.concrete_mpa,
                steel_mpa: jacket.steel_mpa,
            })?;
        }
        Ok(limit_kn)
    }
}

/// Least and most axial force of a column with gravity and what the beams bring in either sense, kN, compression positive.
pub(crate) fn axial_range_kn(gravity_kn: f64, [one, other]: [f64; 2]) -> [f64; 2] {
    [gravity_kn + one.min(other).min(0.0), gravity_kn + one.max(other).max(0.0)]
}
