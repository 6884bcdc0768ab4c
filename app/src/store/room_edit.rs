//! Changes of a room chosen on the plan, each a step that can be undone.

use super::slot::{Root, Slot};
use serde_json::Value;
use sisterframe_core::model::Model;
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Direction, FieldError, OwnRoom, Project, Record, RoomDays, RoomKind, Scheme, Wire};
use sisterframe_core::works::{Room, RoomPlan};

/// A change of a room. A room of the grid becomes the project's own by it.
#[derive(Clone, Debug, PartialEq)]
pub enum RoomEdit {
    /// Another name.
    Name(String),
    /// Another kind.
    Kind(RoomKind),
    /// Another zone it is shut with.
    Zone(String),
    /// Other days of use.
    Days(RoomDays),
    /// Other hours of use, as typed; nothing for those usual for its kind.
    Hours(String),
    /// Made one with another room.
    Merge(Room),
    /// Made two at a grid line, by the direction that meets it and its place.
    Divide(Direction, u32),
    /// Laid alike in every storey.
    InEveryStorey,
    /// Given back to the grid.
    Back,
}

impl RoomEdit {
    /// What it does, in words.
    pub fn words(&self, project: &Project, room: Room) -> String {
        let model = bare(project);
        let plan = RoomPlan::new(&model, &project.building);
        let name = |room: Room| plan.at(room.storey, room.strip, room.bay).map_or(String::new(), |own| plan.name(own));
        let own = name(room);
        match self {
            Self::Name(wanted) => format!("room {own} named {wanted}"),
            Self::Kind(kind) => format!("room {own} made {}", kind.label()),
            Self::Zone(zone) if zone.is_empty() => format!("room {own} taken out of its zone"),
            Self::Zone(zone) => format!("room {own} put in zone {zone}"),
            Self::Days(days) => format!("room {own} in use {}", days.label()),
            Self::Hours(hours) if hours.is_empty() => format!("room {own} in use in the usual hours"),
            Self::Hours(hours) => format!("room {own} in use {hours}"),
            Self::Merge(other) => format!("rooms {own} and {} made one", name(*other)),
            Self::Divide(..) => format!("room {own} made two"),
            Self::InEveryStorey => format!("room {own} laid in every storey"),
            Self::Back => format!("room {own} given back to the grid"),
        }
    }

    /// Carries it out.
    ///
    /// # Errors
    /// What a field refuses, or a room that cannot be changed so. Contradictions across the project
    /// are for the caller to check.
    pub fn carry_out(&self, project: &mut Project, room: Room) -> Result<(), FieldError> {
        let refused = |problem: &str, permitted: &str| FieldError {
            path: "building.rooms".to_owned(),
            value: String::new(),
            problem: problem.into(),
            permitted: Phrase::from(permitted),
        };
        let model = bare(project);
        let plan = RoomPlan::new(&model, &project.building);
        let room = plan.at(room.storey, room.strip, room.bay).ok_or_else(|| refused("there is no such room", ""))?;
        let change = |change: &dyn Fn(&mut OwnRoom)| plan.changed(room, change);
        let rooms = match self {
            Self::Name(name) => change(&|own| own.name.clone_from(name)),
            Self::Kind(kind) => change(&|own| own.kind = *kind),
            Self::Zone(zone) => change(&|own| own.zone.clone_from(zone)),
            Self::Days(days) => change(&|own| own.days = *days),
            Self::Hours(text) => {
                let Some(mut own) = plan.record(room) else { return Ok(()) };
                own.set("hours", &if text.is_empty() { Value::Null } else { Value::from(text.as_str()) })?;
                change(&|other| other.hours = own.hours)
            }
            Self::Merge(other) => plan.merged(room, *other),
            Self::Divide(way, line) => plan.divided(room, *way, *line),
            Self::InEveryStorey => plan.in_every_storey(room),
            Self::Back => plan.split(room),
        };
        let rooms = rooms
            .ok_or_else(|| refused("this cannot be done with this room", "rooms of a storey that make a rectangle"))?;
        let rooms = rooms.write().unwrap_or(Value::Null);
        Slot::new(Root::Building, "rooms").write(project, &rooms)
    }
}

/// The building as it stands.
fn bare(project: &Project) -> Model {
    Model::new(&project.building, &Scheme { name: String::new(), note: String::new(), measures: Vec::new() })
}
