//! What the ground lets the foot of a column with wing walls bear.

use crate::footing::gravity_only_moment_knm;
use crate::link::ground;
use crate::model::Column;
use crate::project::{Base, Direction};
use crate::rules::Ruled;
use crate::sections::{Sections, both_senses};

/// Moments of the foot in the two senses of the drift, kNm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WingFoot {
    /// Where the footing, or without one the edge of the wing, turns on the ground.
    pub rocks_knm: [f64; 2],
    /// What the old column alone brings down, and the old footing is taken to hold, as it is for the
    /// building as it stands.
    pub bare_knm: [f64; 2],
}

impl WingFoot {
    /// The most the foot can have.
    pub fn most_knm(&self) -> [f64; 2] {
        [0, 1].map(|sense| self.rocks_knm[sense].max(self.bare_knm[sense]))
    }
}

/// The foot of a column with wings along a direction in the lowest storey; none for others, and for
/// pinned bases, which have no moment.
///
/// A new footing is centred on the column's axis. Where none is given only the weight on the column
/// holds it down, turning about the tip of the wing it is pressed on: never more.
pub fn wing_foot(sections: &Sections<'_>, direction: Direction, column: &Column) -> Ruled<Option<WingFoot>> {
    let wings = column.wings.as_ref().filter(|wings| wings.spec.direction == direction);
    let Some(wings) = wings.filter(|_| column.storey == 1 && column.kind.base == Base::Fixed) else {
        return Ok(None);
    };
    let rocks_knm = match &wings.spec.footing {
        Some(footing) => [ground(footing).rocking_moment_knm(column.axial_kn); 2],
        None => {
            let [lower, higher] = column.reach_mm(direction);
            [higher, lower].map(|reach| gravity_only_moment_knm(column.axial_kn, 2.0 * reach / 1000.0))
        }
    };
    let old = sections.plain(column, direction, sections.old_steel_mpa())?.section();
    Ok(Some(WingFoot { rocks_knm, bare_knm: both_senses(old.as_ref(), column.axial_kn, 0.0) }))
}
