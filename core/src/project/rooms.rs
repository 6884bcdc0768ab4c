//! Rooms: how they lie on the grid, and rooms of the project's own (format 1).

use super::building::{MAX_LINES, MAX_STOREYS};
use super::fields::{Control, FieldError, Path, Span, Spec, Wire, choice, list_schema, read_list, record};
use super::{Building, Direction, Occupancy};
use serde_json::{Value, json};

/// The most rooms of its own a project may have.
pub const MAX_ROOMS: u32 = 400;

const STRIP: Spec = Spec::whole("Bays", 1, MAX_LINES - 1);

choice! {
    /// What a room is for.
    pub enum RoomKind {
        /// Pupils are taught in it.
        Classroom = "classroom", "classroom";
        /// Patients lie or are treated in it.
        Ward = "ward", "ward";
        /// People work at desks in it.
        Office = "office", "office";
        /// A corridor, a way out.
        Corridor = "corridor", "corridor";
        /// A staircase, a way out.
        Stair = "stair", "stair";
        /// Another use.
        Other = "other", "other";
    }
}

impl RoomKind {
    /// Whether people leave the building through it. It is kept open, not shut.
    pub const fn is_way_out(self) -> bool {
        matches!(self, Self::Corridor | Self::Stair)
    }

    /// What rooms of a building are usually for.
    pub const fn usual(occupancy: Occupancy) -> Self {
        match occupancy {
            Occupancy::School => Self::Classroom,
            Occupancy::Clinic => Self::Ward,
            Occupancy::Office => Self::Office,
            Occupancy::Other => Self::Other,
        }
    }
}

record! {
    /// A room of the project's own: a rectangle of bays in a storey.
    pub struct OwnRoom {
        /// Its name.
        name: String = Spec { min: 1.0, ..Spec::text("Room", 24) };
        /// What it is for.
        kind: RoomKind = Spec::of("Kind").or("\"other\"");
        /// Storey, counted from 1.
        storey: u32 = Spec::whole("Storey", 1, MAX_STOREYS);
        /// First and last strip between lines across y, counted from 1.
        strips: Span = Spec::whole("Strips between lines across y", 1, MAX_LINES - 1);
        /// First and last bay along x, counted from 1.
        bays: Span = Spec::whole("Bays along x", 1, MAX_LINES - 1);
        /// Zone it is shut with; rooms of a storey with the same zone are shut together.
        zone: String = Spec::text("Zone shut as one", 24).or("\"\"");
        /// Whether it is in use on every day, breaks included.
        every_day: bool = Spec::of("In use every day, breaks too").or("false");
    }
}

record! {
    /// How rooms lie on the grid.
    pub struct Rooms {
        /// Bays along x that make one room.
        bays_per_room: u32 = Spec::whole("Bays per room", 1, MAX_LINES - 1).or("2");
        /// Strips between lines across y, counted from 1, that are corridors.
        corridor_strips: Corridors = Spec::list("Corridor strips", 0, MAX_LINES).or("[]");
        /// Rooms of the project's own, in place of the grid's where they lie.
        own: Vec<OwnRoom> = Spec::list("Rooms of its own", 0, MAX_ROOMS).or("[]");
    }
}

/// Strips between the lines across y that are corridors, counted from 1.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Corridors(pub Vec<u32>);

impl Wire for Corridors {
    const CONTROL: Control = Control::Part;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        read_list(value, at, spec, |item, at| u32::read(item, at, &STRIP)).map(Self)
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self.0))
    }
    fn schema(spec: &Spec) -> Value {
        list_schema(spec, u32::schema(&STRIP))
    }
}

impl OwnRoom {
    /// Whether a bay of a strip in a storey lies in it, all counted from 1.
    pub fn covers(&self, storey: u32, strip: u32, bay: u32) -> bool {
        self.storey == storey && self.strips.contains(strip) && self.bays.contains(bay)
    }

    /// Whether two rooms share a bay.
    pub fn overlaps(&self, other: &Self) -> bool {
        let share = |one: Span, two: Span| one.first <= two.last && two.first <= one.last;
        self.storey == other.storey && share(self.strips, other.strips) && share(self.bays, other.bays)
    }
}

/// Rooms that lie in the building, none over another.
pub(super) fn check(building: &Building) -> Result<(), FieldError> {
    let refuse = |path: String, value: String, problem: String, permitted: String| {
        Err(FieldError { path, value, problem: problem.into(), permitted: permitted.into() })
    };
    let strips = building.bays(Direction::Y);
    for (index, strip) in building.rooms.corridor_strips.0.iter().enumerate() {
        if *strip > strips {
            let path = format!("building.rooms.corridor_strips[{index}]");
            return refuse(path, strip.to_string(), "no such strip".to_owned(), format!("1 to {strips}"));
        }
    }
    let storeys = building.storeys.len() as u32;
    for (index, own) in building.rooms.own.iter().enumerate() {
        let path = |key: &str| format!("building.rooms.own[{index}].{key}");
        if own.storey > storeys {
            let permitted = format!("1 to {storeys}");
            return refuse(path("storey"), own.storey.to_string(), "no such storey".to_owned(), permitted);
        }
        for (key, span, most) in [("strips", own.strips, strips), ("bays", own.bays, building.bays(Direction::X))] {
            if span.last > most {
                let value = format!("[{}, {}]", span.first, span.last);
                let problem = "the room reaches beyond the last grid line".to_owned();
                return refuse(path(key), value, problem, format!("1 to {most}"));
            }
        }
        if let Some(other) = building.rooms.own[..index].iter().find(|other| other.overlaps(own)) {
            let problem = format!("the room lies over {}", other.name);
            return refuse(path("bays"), own.name.clone(), problem, "rooms that do not overlap".to_owned());
        }
        let same = |other: &&OwnRoom| other.storey == own.storey && other.name == own.name;
        if building.rooms.own[..index].iter().any(|other| same(&other)) {
            let problem = "two rooms of this storey have this name".to_owned();
            return refuse(path("name"), own.name.clone(), problem, "a name of its own".to_owned());
        }
    }
    Ok(())
}
