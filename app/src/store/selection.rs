//! What is looked at: sheet, option, direction, floor, line, and the place pointed at.

use sisterframe_core::fitting::Spot;
use sisterframe_core::project::{Direction, Measure, Project};
use sisterframe_core::study::OptionKind;
use sisterframe_core::works::Room;

/// A numbered sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sheet {
    /// Options side by side.
    Options,
    /// What the building is.
    Building,
    /// Capacity curves against the demand.
    Capacity,
    /// How old and new share the load.
    LoadPath,
    /// Whether every link is strong enough.
    Connections,
    /// Which rooms are shut, and when.
    Works,
}

impl Sheet {
    /// The sheets that exist, in order of their numbers.
    pub const ALL: &'static [Self] =
        &[Self::Options, Self::Building, Self::Capacity, Self::LoadPath, Self::Connections, Self::Works];

    /// Its number in the set.
    pub const fn number(self) -> u32 {
        match self {
            Self::Options => 1,
            Self::Building => 2,
            Self::Capacity => 3,
            Self::LoadPath => 4,
            Self::Connections => 5,
            Self::Works => 6,
        }
    }

    /// Its title.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Options => "Options",
            Self::Building => "Building",
            Self::Capacity => "Capacity",
            Self::LoadPath => "Load path",
            Self::Connections => "Connections",
            Self::Works => "Works",
        }
    }

    /// The sheet after it, or before it; itself at the ends.
    pub fn turned(self, forward: bool) -> Self {
        let place = Self::ALL.iter().position(|sheet| *sheet == self).unwrap_or(0);
        let next = if forward { place + 1 } else { place.saturating_sub(1) };
        Self::ALL.get(next).copied().unwrap_or(self)
    }
}

/// A change of what is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Another sheet.
    Sheet(Sheet),
    /// Another option.
    Option(OptionKind),
    /// Another direction.
    Direction(Direction),
    /// Another floor, or none.
    Floor(Option<u32>),
    /// Another frame line, by direction and place.
    Line(Direction, usize),
    /// A place pointed at on a drawing, or none.
    Spot(Option<Spot>),
    /// A connection to open, by its place among the options and among theirs.
    Joint((usize, usize)),
    /// Whether verdicts of the other rule set stand beside the project's own.
    BothSets(bool),
    /// A room, or none.
    Room(Option<Room>),
}

/// What is looked at; not part of the project and not undone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Selection {
    /// The sheet.
    pub sheet: Sheet,
    /// The option.
    pub option: OptionKind,
    /// The direction.
    pub direction: Direction,
    /// The floor, by the storey below it.
    pub floor: Option<u32>,
    /// The frame line drawn from the front, by direction and place.
    pub line: (Direction, usize),
    /// The column, bay, line or storey pointed at.
    pub spot: Option<Spot>,
    /// The connection opened, by its place among the options and among theirs.
    pub joint: Option<(usize, usize)>,
    /// Whether verdicts of the other rule set stand beside the project's own.
    pub both_sets: bool,
    /// The room pointed at, by one of its bays.
    pub room: Option<Room>,
}

impl Selection {
    /// Where to start with a project: its first scheme with an external frame, whose load
    /// path has most to show, or else its first scheme.
    pub fn of(project: &Project) -> Self {
        let framed = |measure: &Measure| matches!(measure, Measure::ExternalFrame(_));
        let option = project
            .schemes
            .iter()
            .position(|scheme| scheme.measures.iter().any(framed))
            .or((!project.schemes.is_empty()).then_some(0))
            .map_or(OptionKind::AsItStands, |index| OptionKind::Scheme { index });
        Self {
            sheet: Sheet::Options,
            option,
            direction: Direction::X,
            floor: None,
            line: (Direction::X, 0),
            spot: None,
            joint: None,
            both_sets: false,
            room: None,
        }
    }

    /// The same after a choice.
    pub fn chosen(mut self, choice: Choice) -> Self {
        match choice {
            Choice::Sheet(sheet) => self.sheet = sheet,
            Choice::Option(option) => {
                if option != self.option {
                    self.joint = None;
                }
                self.option = option;
            }
            Choice::Direction(direction) => self.direction = direction,
            Choice::BothSets(both) => self.both_sets = both,
            Choice::Joint(joint) => {
                self.joint = Some(joint);
                self.sheet = Sheet::Connections;
            }
            Choice::Floor(floor) => {
                self.floor = floor;
                // What is pointed at moves to the same place of that storey.
                if let Some(floor) = floor {
                    self.spot = self.spot.map(|spot| spot.in_storey(floor));
                    self.room = self.room.map(|room| Room { storey: floor, ..room });
                }
            }
            Choice::Line(direction, place) => self.line = (direction, place),
            Choice::Room(room) => {
                self.room = room;
                self.floor = room.map(|room| room.storey).or(self.floor);
            }
            Choice::Spot(spot) => {
                self.spot = spot;
                if let Some(spot) = spot {
                    // Plan and elevation show what is pointed at.
                    self.floor = spot.storey().or(self.floor);
                    if !spot.is_on(self.line) {
                        self.line = spot.line().unwrap_or(self.line);
                    }
                }
            }
        }
        self
    }

    /// The same, moved onto what the project has.
    pub fn fitted(mut self, project: &Project) -> Self {
        if let OptionKind::Scheme { index } = self.option
            && index >= project.schemes.len()
        {
            self.option = match project.schemes.len() {
                0 => OptionKind::AsItStands,
                count => OptionKind::Scheme { index: count - 1 },
            };
        }
        let storeys = project.building.storeys.len() as u32;
        let lines = match self.line.0 {
            Direction::X => project.building.y_lines.len(),
            Direction::Y => project.building.x_lines.len(),
        };
        self.line.1 = self.line.1.min(lines.saturating_sub(1));
        self.floor = self.floor.filter(|floor| (1..=storeys).contains(floor));
        self.spot = self.spot.filter(|spot| spot.is_in(&project.building));
        let bays = |way| project.building.bays(way);
        self.room = self.room.filter(|room| {
            room.storey <= storeys && room.strip <= bays(Direction::Y) && room.bay <= bays(Direction::X)
        });
        self
    }

    /// The scheme looked at, if it is one.
    pub fn scheme(self) -> Option<usize> {
        match self.option {
            OptionKind::Scheme { index } => Some(index),
            OptionKind::AsItStands | OptionKind::Rebuild => None,
        }
    }
}
