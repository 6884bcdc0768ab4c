//! The columns at the edges of a wall, pulled and pressed by its bending.

use super::{SENSES, Work};
use crate::finding::{Code, Finding};
use crate::framing::{FramedLine, WallGroup};
use crate::material::Bar;
use crate::member::Strength;
use crate::phrase::Phrase;
use crate::place::Place;
use crate::rules::{ColumnAxial, Ruled};
use crate::units::Dimension;

impl Work<'_> {
    /// Says where the column on the pressed side of a wall's foot has more to carry, by gravity and the wall's moment over
    /// its length, than the rule set lets a column carry, and where short laps leave the pulled side less. What pulls is in
    /// the section's bending; what presses is shared with the web there, so this check of the column alone is the stricter.
    pub(super) fn boundary(&mut self, line: &FramedLine, wall: &WallGroup, senses: &[Strength; 2]) -> Ruled<()> {
        let model = self.sections.model;
        let s = wall.storey as usize - 1;
        let length_m: f64 = (wall.first_bay..=wall.last_bay).map(|bay| model.bay_length_m(self.direction, bay)).sum();
        let name = &model.lines(self.direction)[line.line].name;
        let place = Place::Panel { line: name.clone(), bay: wall.first_bay, storey: wall.storey };
        let mut worst: Option<[f64; 2]> = None;
        let mut lapped = false;
        for sense in SENSES {
            let moment_knm =
                (senses[sense].strength_kn * self.levers_m[s] - self.coupling_knm(line, wall, sense)?).max(0.0);
            // Towards higher ordinates the edge there is pressed.
            let ends = [wall.last_bay as usize, wall.first_bay as usize - 1];
            let Some(column) = model.column_on(self.direction, line.line, ends[sense], wall.storey) else { continue };
            lapped |= self.sections.lap_mpa(column)?.is_some();
            let kind = &column.kind;
            let limit_kn = self.rules().column_axial_kn(&ColumnAxial {
                gross_mm2: kind.x_mm * kind.y_mm,
                bars_mm2: f64::from(kind.bars) * Bar::round(kind.bar_mm).area_mm2,
                concrete_mpa: self.sections.materials.concrete_mpa,
                steel_mpa: self.sections.materials.steel_mpa,
            })?;
            let pressed_kn = column.axial_kn + moment_knm / length_m;
            if pressed_kn > limit_kn && worst.is_none_or(|[most, of]| pressed_kn * of > most * limit_kn) {
                worst = Some([pressed_kn, limit_kn]);
            }
        }
        let here = format!("line {name}, storey {}", wall.storey);
        if let Some([pressed_kn, limit_kn]) = worst {
            let detail = Phrase::from(format!("{here}, "))
                .show(pressed_kn, Dimension::Kilonewtons)
                .and(" of ")
                .show(limit_kn, Dimension::Kilonewtons);
            self.found.push(Finding::new(Code::EdgeColumnPressed, place.clone(), detail));
        }
        if lapped {
            self.found.push(Finding::new(Code::SpliceGoverns, place, format!("edges of the wall on {here}")));
        }
        Ok(())
    }
}
