//! Rooms: how they lie on the grid, and rooms of the project's own (format 1).

use super::building::{MAX_LINES, MAX_STOREYS};
use super::fields::{Control, FieldError, Path, Span, Spec, Wire, choice, list_schema, read_list, record};
use super::{Building, Direction, Occupancy};
use serde_json::{Value, json};
use std::borrow::Cow;
use std::fmt;

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

    /// Hours in which such a room is usually in use (common practice, no source); none for ways out,
    /// which are in use as long as a room they serve.
    pub fn usual_hours(self) -> Option<UseHours> {
        let hours = |from: u16, to: u16| Some(UseHours { from: 60 * from, to: 60 * to });
        match self {
            Self::Classroom => hours(8, 16),
            Self::Ward => hours(0, 24),
            Self::Office | Self::Other => hours(8, 18),
            Self::Corridor | Self::Stair => None,
        }
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

choice! {
    /// Days on which a room is in use.
    pub enum RoomDays {
        /// When the building is, breaks taken out.
        Building = "building", "as the building";
        /// Monday to Friday but for breaks.
        Five = "five", "Monday to Friday";
        /// Monday to Saturday but for breaks.
        Six = "six", "Monday to Saturday";
        /// Every day of the week but for breaks.
        Seven = "seven", "every day but for breaks";
        /// Every day, breaks included.
        Always = "always", "every day, breaks too";
    }
}

/// Hours of the day in which a room is in use, minutes after midnight, written HH:MM-HH:MM on the
/// 24-hour clock; they may go on past midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UseHours {
    /// When use begins.
    pub from: u16,
    /// When it ends, another time than it begins, 24:00 at the latest.
    pub to: u16,
}

impl fmt::Display for UseHours {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}-{:02}:{:02}", self.from / 60, self.from % 60, self.to / 60, self.to % 60)
    }
}

impl UseHours {
    /// Reads two times with a dash between them, minutes where they are not full hours; none for
    /// anything else and for hours without length.
    ///
    /// ```
    /// use sisterframe_core::project::UseHours;
    /// assert_eq!(UseHours::parse("8-15:30").map(|own| own.to_string()).as_deref(), Some("08:00-15:30"));
    /// assert_eq!(UseHours::parse("22:00–06:00").map(|own| (own.from, own.to)), Some((1320, 360)));
    /// assert_eq!(UseHours::parse("8-25"), None);
    /// assert_eq!(UseHours::parse("8-8"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        let (from, to) = text.split_once(['-', '–'])?;
        let time = |text: &str| {
            let (hour, minute) = text.split_once(':').unwrap_or((text, "00"));
            let number = |text: &str, most: u16| {
                let digits = (1..=2).contains(&text.len()) && text.bytes().all(|letter| letter.is_ascii_digit());
                text.parse::<u16>().ok().filter(|own| digits && *own <= most)
            };
            Some(60 * number(hour, 24)? + number(minute, 59).filter(|_| minute.len() == 2)?)
                .filter(|time| *time <= 24 * 60)
        };
        let own = Self { from: time(from.trim())?, to: time(to.trim())? };
        (own.from != own.to && own.from < 24 * 60).then_some(own)
    }

    /// Hours of the clock in which a room is in use for a while, the lowest bit from midnight on.
    pub fn clock(self) -> u32 {
        let within = |from: u16, to: u16| {
            (0..24_u16).filter(|hour| 60 * hour < to && from < 60 * hour + 60).fold(0, |all, hour| all | 1 << hour)
        };
        if self.from < self.to { within(self.from, self.to) } else { within(self.from, 24 * 60) | within(0, self.to) }
    }
}

impl Wire for UseHours {
    const CONTROL: Control = Control::Text;
    fn read(value: &Value, at: &Path<'_>, _: &Spec) -> Result<Self, FieldError> {
        let problem = "two times of the 24-hour clock with a dash between them are needed here";
        value
            .as_str()
            .and_then(Self::parse)
            .ok_or_else(|| FieldError::new(at, value, problem, "such as 8-16 or 08:30-15:30, up to 00:00-24:00"))
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self.to_string()))
    }
    fn schema(spec: &Spec) -> Value {
        let time = "([01]?[0-9]|2[0-3])(:[0-5][0-9])?";
        json!({"type": "string", "pattern": format!("^{time} *[-–] *({time}|24(:00)?)$"), "title": spec.label})
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
        /// Days on which it is in use.
        days: RoomDays = Spec::of("Days of use").or("\"building\"");
        /// Hours in which it is in use; those usual for its kind where left out.
        hours: Option<UseHours> = Spec::of("Hours of use");
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

/// A project file as this build reads it: where a room is said to be in use every day or not, as
/// files had it before rooms had days of use, in their words. What is no such file is left to the reader.
pub(super) fn with_days_of_use(file: &Value) -> Cow<'_, Value> {
    const BEFORE: &str = "every_day";
    let own = |room: &Value| room.get(BEFORE).is_some_and(Value::is_boolean);
    let rooms = file.pointer("/building/rooms/own").and_then(Value::as_array);
    if !rooms.is_some_and(|rooms| rooms.iter().any(own)) {
        return Cow::Borrowed(file);
    }
    let mut file = file.clone();
    for room in file.pointer_mut("/building/rooms/own").and_then(Value::as_array_mut).into_iter().flatten() {
        let Some(room) = room.as_object_mut().filter(|room| room.get(BEFORE).is_some_and(Value::is_boolean)) else {
            continue;
        };
        if room.remove(BEFORE) == Some(json!(true)) {
            room.entry("days").or_insert(json!(RoomDays::Always.key()));
        }
    }
    Cow::Owned(file)
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
