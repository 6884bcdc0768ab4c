//! Where something is in the building: the one key for findings, rows and selection.

use crate::project::Direction;
use serde::Serialize;
use std::fmt;

/// A place in the building. Storeys and levels count from 1; level n is the floor on top
/// of storey n; bays count from 1 along their line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Place {
    /// The whole building.
    Building,
    /// A storey.
    Storey {
        /// Its number.
        storey: u32,
    },
    /// A frame line through all storeys.
    Line {
        /// Its name.
        line: String,
    },
    /// A column at the crossing of two grid lines.
    Column {
        /// Line across x.
        x: String,
        /// Line across y.
        y: String,
        /// Its storey.
        storey: u32,
    },
    /// A beam in a bay of a line.
    Beam {
        /// The line it lies on.
        line: String,
        /// Its bay.
        bay: u32,
        /// The storey below it.
        storey: u32,
    },
    /// A wall or masonry panel in a bay of a line.
    Panel {
        /// The line it stands on.
        line: String,
        /// Its bay.
        bay: u32,
        /// Its storey.
        storey: u32,
    },
    /// A column of an external frame.
    FrameColumn {
        /// The face it stands in front of.
        face: String,
        /// The grid line it stands opposite.
        at: String,
        /// Its storey.
        storey: u32,
    },
    /// The connecting slab of a face at a level.
    Slab {
        /// The face.
        face: String,
        /// The level.
        level: u32,
    },
    /// A footing under a wall or an external frame.
    Footing {
        /// The line or face.
        line: String,
    },
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Building => write!(f, "building"),
            Self::Storey { storey } => write!(f, "storey {storey}"),
            Self::Line { line } => write!(f, "line {line}"),
            Self::Column { x, y, storey } => write!(f, "column {y}-{x}, storey {storey}"),
            Self::Beam { line, bay, storey } => write!(f, "beam on line {line}, bay {bay}, over storey {storey}"),
            Self::Panel { line, bay, storey } => write!(f, "panel on line {line}, bay {bay}, storey {storey}"),
            Self::FrameColumn { face, at, storey } => {
                write!(f, "external frame on {face}, column {at}, storey {storey}")
            }
            Self::Slab { face, level } => write!(f, "connecting slab on {face}, level {level}"),
            Self::Footing { line } => write!(f, "footing on {line}"),
        }
    }
}

/// Which of three classes a member belongs to wherever a share is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Class {
    /// As built.
    AsBuilt,
    /// Jacketed or winged: one composite member.
    Strengthened,
    /// New walls and external frames.
    New,
}

impl Class {
    /// All classes in the order they are shown.
    pub const ALL: [Self; 3] = [Self::AsBuilt, Self::Strengthened, Self::New];

    /// Its name on the page.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AsBuilt => "as built",
            Self::Strengthened => "strengthened",
            Self::New => "new",
        }
    }
}

/// A grid line and the direction it runs in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LineName {
    /// Its name.
    pub name: String,
    /// Whether it runs along x.
    pub along_x: bool,
}

impl LineName {
    /// The line `name` that runs in `direction`.
    pub fn new(name: &str, direction: Direction) -> Self {
        Self { name: name.to_owned(), along_x: direction == Direction::X }
    }
}
