//! Ways in which members and storeys fail.

use serde::Serialize;

/// How a storey fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Failure {
    /// Bending at the ends of the members.
    Flexure,
    /// Bending first, then shear.
    FlexureShear,
    /// Shear.
    Shear,
    /// The lap of the bars.
    Splice,
    /// Beams yield first.
    Beam,
    /// Shear of beams.
    BeamShear,
    /// The beam–column joints.
    Joint,
    /// Sliding or crushing of a wall.
    WallShear,
    /// Bending of a wall at its base.
    WallFlexure,
    /// Rocking on the footing.
    Rocking,
    /// The bars round an infill wall.
    Perimeter,
    /// A connecting slab.
    Slab,
    /// The joint of wing walls with their column.
    WingEdge,
    /// The face between a jacket and the old column.
    JacketFace,
    /// The old floor along a line.
    FloorEdge,
    /// An edge beam that collects the force of a floor.
    Collector,
    /// Sliding on the ground.
    Sliding,
    /// A masonry panel.
    Masonry,
}

/// A way of failing with the shear at which it comes if no other does before.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Way {
    /// How.
    pub failure: Failure,
    /// Shear of the storey it is reached at, kN.
    pub reached_kn: f64,
}

impl Way {
    /// A way, unless nothing bounds it.
    pub fn bounded(failure: Failure, reached_kn: f64) -> Option<Self> {
        reached_kn.is_finite().then_some(Self { failure, reached_kn })
    }
}

impl Failure {
    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Flexure => "columns bend",
            Self::FlexureShear => "columns bend, then shear",
            Self::Shear => "columns shear",
            Self::Splice => "bar laps slip",
            Self::Beam => "beams yield",
            Self::BeamShear => "beams shear",
            Self::Joint => "joints crack",
            Self::WallShear => "walls shear",
            Self::WallFlexure => "walls bend at the base",
            Self::Rocking => "footings rock",
            Self::Perimeter => "bars round the infill slip",
            Self::Slab => "connecting slabs give way",
            Self::WingEdge => "edges of wing walls slip",
            Self::JacketFace => "faces of jackets slip",
            Self::FloorEdge => "the old floor shears along its line",
            Self::Collector => "collector beams yield",
            Self::Sliding => "footings slide",
            Self::Masonry => "masonry cracks",
        }
    }

    /// What gives, of one member.
    pub const fn gives(self) -> &'static str {
        match self {
            Self::Flexure => "bends",
            Self::FlexureShear => "bends, then shears",
            Self::Shear | Self::WallShear => "shears",
            Self::Splice => "its bar laps slip",
            Self::Beam => "its beams yield",
            Self::BeamShear => "its beams shear",
            Self::Joint => "its joint cracks",
            Self::WallFlexure => "bends at the base",
            Self::Rocking => "rocks on its footing",
            Self::Perimeter => "bars round it slip",
            Self::Slab => "its connecting slab gives way",
            Self::WingEdge => "its wings slip along it",
            Self::JacketFace => "its jacket slips along it",
            Self::FloorEdge => "the floor shears along it",
            Self::Collector => "its collector beam yields",
            Self::Sliding => "slides on its footing",
            Self::Masonry => "cracks",
        }
    }

    /// Whether strength is lost soon after it is reached.
    pub const fn is_brittle(self) -> bool {
        matches!(
            self,
            Self::Shear
                | Self::Splice
                | Self::BeamShear
                | Self::Joint
                | Self::WallShear
                | Self::Perimeter
                | Self::Slab
                | Self::WingEdge
                | Self::JacketFace
                | Self::FloorEdge
                | Self::Masonry
        )
    }
}
