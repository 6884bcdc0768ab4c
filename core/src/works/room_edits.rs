//! Changing rooms on the plan: merged, split, named, given another kind. Each gives the rooms as
//! the project would hold them; the project's own check has the last word.

use super::rooms::{Room, RoomPlan};
use crate::project::{OwnRoom, RoomKind, Rooms, Span};

impl RoomPlan<'_> {
    /// A room as the project would hold it as its own; none where it is no rectangle of bays.
    /// `usual` is what a room of the grid is for.
    pub fn record(&self, room: Room, usual: RoomKind) -> Option<OwnRoom> {
        if let Some(own) = self.own(room) {
            return Some(own.clone());
        }
        let [strips, bays] = self.extent(room)?;
        let kind = self.kind(room).unwrap_or(usual);
        let span = |[first, last]: [u32; 2]| Span { first, last };
        // Names of up to 24 characters are taken; grid lines have at most four.
        let name: String = self.name(room).chars().take(24).collect();
        let record = OwnRoom {
            name,
            kind,
            storey: room.storey,
            strips: span(strips),
            bays: span(bays),
            zone: String::new(),
            every_day: false,
        };
        self.holds_only(&record, &[room]).then_some(record)
    }

    /// Whether a record takes bays of the rooms given only.
    fn holds_only(&self, record: &OwnRoom, rooms: &[Room]) -> bool {
        record.strips.iter().all(|strip| {
            record.bays.iter().all(|bay| self.at(record.storey, strip, bay).is_none_or(|room| rooms.contains(&room)))
        })
    }

    /// The rooms with one changed; a room of the grid becomes the project's own. None where it is
    /// no rectangle of bays.
    pub fn changed(&self, room: Room, usual: RoomKind, change: impl FnOnce(&mut OwnRoom)) -> Option<Rooms> {
        let mut record = self.record(room, usual)?;
        change(&mut record);
        let mut rooms = self.rooms().clone();
        let known = self.own(room).and_then(|own| rooms.own.iter().position(|other| other == own));
        match known {
            Some(at) => rooms.own[at] = record,
            None => rooms.own.push(record),
        }
        Some(rooms)
    }

    /// The rooms with two of a storey made one, which keeps the name and kind of the first where the
    /// project gave it one, else of the second. None where they do not make a rectangle together.
    pub fn merged(&self, one: Room, other: Room, usual: RoomKind) -> Option<Rooms> {
        let record = self.merged_record(one, other, usual)?;
        let gone: Vec<&OwnRoom> = [one, other].into_iter().filter_map(|room| self.own(room)).collect();
        let mut rooms = self.rooms().clone();
        rooms.own.retain(|own| !gone.contains(&own));
        rooms.own.push(record);
        Some(rooms)
    }

    fn merged_record(&self, one: Room, other: Room, usual: RoomKind) -> Option<OwnRoom> {
        if one.storey != other.storey || !self.adjoin(one, other) {
            return None;
        }
        let (first, second) = (self.record(one, usual)?, self.record(other, usual)?);
        let wider = |one: Span, other: Span| Span { first: one.first.min(other.first), last: one.last.max(other.last) };
        let (strips, bays) = (wider(first.strips, second.strips), wider(first.bays, second.bays));
        let named = [(one, &first), (other, &second)].into_iter().find(|(room, _)| self.own(*room).is_some());
        let mut record = OwnRoom { strips, bays, ..named.map_or(&first, |(_, record)| record).clone() };
        if named.is_none() {
            record.name = self.between(strips, bays);
        }
        self.holds_only(&record, &[one, other]).then_some(record)
    }

    /// Rooms a room can be merged with.
    pub fn neighbours(&self, room: Room, usual: RoomKind) -> Vec<Room> {
        let mut others = self.all();
        others.extend(self.ways_out());
        others.retain(|other| self.merged_record(room, *other, usual).is_some());
        others
    }

    /// The rooms with a room of the project's own given back to the grid; none for rooms of the grid.
    pub fn split(&self, room: Room) -> Option<Rooms> {
        let own = self.own(room)?;
        let mut rooms = self.rooms().clone();
        rooms.own.retain(|other| other != own);
        Some(rooms)
    }
}
