//! Places one can point at on a drawing, and how far from there a measure may reach.

use crate::project::{Building, Direction, GridLine};

/// Something one can point at. Lines count from zero among their like, bays and storeys from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// A column in a storey.
    Column {
        /// Its line across x.
        x: usize,
        /// Its line across y.
        y: usize,
        /// Its storey.
        storey: u32,
    },
    /// A bay between two columns of a line, in a storey.
    Bay {
        /// The direction its line runs in.
        direction: Direction,
        /// Its line.
        line: usize,
        /// The bay.
        bay: u32,
        /// Its storey.
        storey: u32,
    },
    /// A line through all storeys; an outer one is a face.
    Line {
        /// The direction it runs in.
        direction: Direction,
        /// The line.
        line: usize,
    },
    /// A storey.
    Storey {
        /// Its number.
        storey: u32,
    },
}

/// How far a measure reaches from the place pointed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Only there.
    Here,
    /// There in all storeys; from a storey, all of the building.
    AllStoreys,
    /// All of its line that runs in this direction, in the storey.
    Line(Direction),
    /// All of the storey.
    Everywhere,
    /// The line without its end bays.
    InnerBays,
    /// The middle bay of the line.
    MiddleBay,
    /// From the ground up to the storey.
    FromGround,
}

impl Spot {
    /// The storey it is in; none for a line.
    pub const fn storey(self) -> Option<u32> {
        match self {
            Self::Column { storey, .. } | Self::Bay { storey, .. } | Self::Storey { storey } => Some(storey),
            Self::Line { .. } => None,
        }
    }

    /// The same place in another storey; a line runs through all.
    #[must_use]
    pub const fn in_storey(self, storey: u32) -> Self {
        match self {
            Self::Column { x, y, .. } => Self::Column { x, y, storey },
            Self::Bay { direction, line, bay, .. } => Self::Bay { direction, line, bay, storey },
            Self::Line { .. } => self,
            Self::Storey { .. } => Self::Storey { storey },
        }
    }

    /// A line it lies on, by direction and place: for a column the one along x; none for a storey.
    pub const fn line(self) -> Option<(Direction, usize)> {
        match self {
            Self::Column { y, .. } => Some((Direction::X, y)),
            Self::Bay { direction, line, .. } | Self::Line { direction, line } => Some((direction, line)),
            Self::Storey { .. } => None,
        }
    }

    /// Whether it lies on a line; a storey is on all.
    pub fn is_on(self, line: (Direction, usize)) -> bool {
        match self {
            Self::Column { x, y, .. } => line == (Direction::X, y) || line == (Direction::Y, x),
            _ => self.line().is_none_or(|own| own == line),
        }
    }

    /// Whether a building has grid lines and a storey for it.
    pub fn is_in(self, building: &Building) -> bool {
        let (x, y) = (building.x_lines.len(), building.y_lines.len());
        let has = |direction: Direction, line: usize| line < if direction == Direction::X { y } else { x };
        let there = match self {
            Self::Column { x: own_x, y: own_y, .. } => own_x < x && own_y < y,
            Self::Bay { direction, line, bay, .. } => {
                has(direction, line) && (1..=building.bays(direction)).contains(&bay)
            }
            Self::Line { direction, line } => has(direction, line),
            Self::Storey { .. } => true,
        };
        there && self.storey().is_none_or(|storey| (1..=building.storeys.len() as u32).contains(&storey))
    }

    /// Its name, with the grid lines of the building.
    pub fn name(self, x_lines: &[GridLine], y_lines: &[GridLine]) -> String {
        let name = |lines: &[GridLine], place: usize| lines.get(place).map_or("", |line| line.name.as_str()).to_owned();
        let of = |direction: Direction| if direction == Direction::X { (y_lines, x_lines) } else { (x_lines, y_lines) };
        match self {
            Self::Column { x, y, storey } => {
                format!("Column {}-{}, storey {storey}", name(y_lines, y), name(x_lines, x))
            }
            Self::Bay { direction, line, bay, storey } => {
                let (lines, along) = of(direction);
                let ends = [bay as usize - 1, bay as usize].map(|end| name(along, end));
                format!("Bay {}–{} of line {}, storey {storey}", ends[0], ends[1], name(lines, line))
            }
            Self::Line { direction, line } => {
                let (lines, _) = of(direction);
                let outer = line == 0 || line + 1 == lines.len();
                format!("{} {}", if outer { "Face on line" } else { "Line" }, name(lines, line))
            }
            Self::Storey { storey } => format!("Storey {storey}"),
        }
    }

    /// How far a measure may reach from there, the narrowest first.
    pub fn reaches(self, building: &Building) -> Vec<Reach> {
        let many = building.storeys.len() > 1;
        let mut all = Vec::new();
        match self {
            Self::Column { .. } => {
                all.push(Reach::Here);
                all.extend(many.then_some(Reach::AllStoreys));
                all.extend([Reach::Line(Direction::X), Reach::Line(Direction::Y), Reach::Everywhere]);
            }
            Self::Bay { direction, .. } => {
                all.push(Reach::Here);
                all.extend(many.then_some(Reach::AllStoreys));
                all.extend((building.bays(direction) > 1).then_some(Reach::Line(direction)));
            }
            Self::Line { direction, .. } => {
                let bays = building.bays(direction);
                all.push(Reach::Here);
                all.extend((bays > 2).then_some(Reach::InnerBays));
                // Of three bays the inner one is the middle one.
                all.extend((bays == 2 || bays > 3).then_some(Reach::MiddleBay));
            }
            Self::Storey { storey } => {
                all.push(Reach::Here);
                let top = storey as usize == building.storeys.len();
                all.extend((storey > 1 && !top).then_some(Reach::FromGround));
                all.extend(many.then_some(Reach::AllStoreys));
            }
        }
        all
    }

    /// A reach from there in a few words.
    pub fn reach_in_words(self, reach: Reach, building: &Building) -> String {
        let line = |direction: Direction| {
            let place = match (self, direction) {
                (Self::Column { y, .. }, Direction::X) => building.y_lines.get(y),
                (Self::Column { x, .. }, Direction::Y) => building.x_lines.get(x),
                (Self::Bay { line, .. }, Direction::X) => building.y_lines.get(line),
                (Self::Bay { line, .. }, Direction::Y) => building.x_lines.get(line),
                (Self::Line { .. } | Self::Storey { .. }, _) => None,
            };
            place.map_or("", |line| line.name.as_str()).to_owned()
        };
        match (self, reach) {
            (_, Reach::Line(direction)) => format!("All of line {} in this storey", line(direction)),
            (_, Reach::Everywhere) => "The whole storey".to_owned(),
            (_, Reach::InnerBays) => "Its inner bays, all storeys".to_owned(),
            (_, Reach::MiddleBay) => "Its middle bay, all storeys".to_owned(),
            (_, Reach::FromGround) => "From the ground up to here".to_owned(),
            (Self::Storey { .. }, Reach::AllStoreys) => "All storeys".to_owned(),
            (Self::Column { .. }, Reach::AllStoreys) => "This column, all storeys".to_owned(),
            (_, Reach::AllStoreys) => "This bay, all storeys".to_owned(),
            (Self::Column { .. }, Reach::Here) => "This column".to_owned(),
            (Self::Bay { .. }, Reach::Here) => "This bay".to_owned(),
            (Self::Line { .. }, Reach::Here) => "All its bays, all storeys".to_owned(),
            (Self::Storey { .. }, Reach::Here) => "This storey".to_owned(),
        }
    }
}
