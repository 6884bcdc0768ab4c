//! The sections behind the bending strengths of columns and walls, with the stress their bars are counted at.

use super::Work;
use crate::framing::WallGroup;
use crate::model::Column;
use crate::project::{Direction, Jacket};
use crate::rules::Ruled;
use crate::section::Section;
use crate::sections::Sections;

/// A section as bending strength counts it.
#[derive(Clone, Debug)]
pub struct Counted {
    /// The section; `None` where its parts make none.
    pub section: Option<Section>,
    /// Gravity load on it, kN.
    pub axial_kn: f64,
    /// Stress the old bars are counted at, MPa: expected yield, or less where their lap is short.
    pub bar_mpa: f64,
    /// Whether a lap sets that.
    pub lap_governs: bool,
    /// On the moments of a section old and new make together (a jacket's monolithicity); 1 otherwise.
    pub moment_factor: f64,
    /// Stress the bars of wings or of a wall's web are counted at, MPa, as far as they are anchored.
    pub added_bar_mpa: Option<f64>,
}

/// A column with its jacket or wings, bending in a direction.
pub fn column_section(sections: Sections<'_>, direction: Direction, column: &Column) -> Ruled<Counted> {
    let work = Work::new(sections, direction);
    let lap = work.lap_mpa(column)?;
    let bar_mpa = lap.unwrap_or_else(|| sections.old_steel_mpa());
    let wing = work.wing_bar_mpa(column)?;
    let acts = column.jacket.as_ref().is_some_and(Jacket::acts);
    let factors = work.jacket_factors(column)?.filter(|_| acts);
    let winged = column.wings.as_ref().is_some_and(|wings| wings.spec.direction == direction);
    Ok(Counted {
        section: sections.column(column, direction, bar_mpa, wing)?,
        axial_kn: column.axial_kn,
        bar_mpa,
        lap_governs: lap.is_some(),
        moment_factor: factors.map_or(1.0, |own| own.moment),
        added_bar_mpa: winged.then_some(wing),
    })
}

/// A wall of a line with the columns at its ends.
pub fn wall_section(sections: Sections<'_>, direction: Direction, line: usize, wall: &WallGroup) -> Ruled<Counted> {
    let (panel, web_mpa) = Work::new(sections, direction).web_bars(wall)?;
    Ok(Counted {
        section: sections.wall(direction, line, wall, panel, web_mpa)?,
        axial_kn: wall.axial_kn,
        bar_mpa: sections.old_steel_mpa(),
        lap_governs: false,
        moment_factor: 1.0,
        added_bar_mpa: Some(web_mpa),
    })
}
