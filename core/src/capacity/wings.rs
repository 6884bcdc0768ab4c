//! Columns with wing walls on the ground.

use super::{SENSES, Work};
use crate::finding::{Code, Finding};
use crate::framing::FramedLine;
use crate::model::Column;
use crate::place::Place;
use crate::rules::Ruled;
use crate::wing_foot::wing_foot;

impl Work<'_> {
    /// The most the foot of a column with wings can have in both senses, kNm; says where that is
    /// less than its section has, and where no footing is given.
    pub(super) fn wing_foot_knm(
        &mut self,
        line: &FramedLine,
        section_knm: Option<[f64; 2]>,
        column: &Column,
    ) -> Ruled<Option<[f64; 2]>> {
        let Some(foot) = wing_foot(&self.sections, self.direction, column)? else { return Ok(None) };
        let most = foot.most_knm();
        let name = self.model().lines(self.direction)[line.line].name.clone();
        let footing = Place::Footing { line: name.clone() };
        if column.wings.as_ref().is_some_and(|wings| wings.spec.footing.is_none()) {
            let detail = format!("the wing walls on line {name}");
            self.found_once(Finding::new(Code::FootingNotGiven, footing.clone(), detail));
        }
        if SENSES.iter().any(|sense| section_knm.is_some_and(|own| most[*sense] < own[*sense])) {
            let detail = format!("columns with wing walls on line {name}");
            self.found_once(Finding::new(Code::FootingUplift, footing, detail));
        }
        Ok(Some(most))
    }

    /// Says what holds for a line once, not for each of its columns.
    fn found_once(&mut self, finding: Finding) {
        if !self.found.contains(&finding) {
            self.found.push(finding);
        }
    }
}
