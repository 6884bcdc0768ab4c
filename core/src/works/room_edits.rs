//! Changing rooms on the plan: merged, divided, named, given another kind, made alike in every storey. Each gives the rooms as
//! the project would hold them; the project's own check has the last word.

use super::rooms::{Room, RoomPlan};
use crate::order;
use crate::project::{Direction, OwnRoom, RoomDays, Rooms, Span};

/// The longest name a room may have, letters.
const NAME_LETTERS: usize = 24;

impl RoomPlan<'_> {
    /// A room as the project would hold it as its own; none where there is no such room. What rooms of
    /// the project's own leave of a room of the grid is a run of bays in a strip, or several rooms.
    pub fn record(&self, room: Room) -> Option<OwnRoom> {
        if let Some(own) = self.own(room) {
            return Some(own.clone());
        }
        let [strips, bays] = self.extent(room)?.map(|[first, last]| Span { first, last });
        Some(OwnRoom {
            // Names of grid lines have at most four letters each.
            name: self.between(strips, bays).chars().take(NAME_LETTERS).collect(),
            kind: self.kind(room).unwrap_or(self.usual),
            storey: room.storey,
            strips,
            bays,
            zone: String::new(),
            days: RoomDays::Building,
            hours: None,
        })
    }

    /// Whether a record takes bays of the rooms given only.
    fn holds_only(&self, record: &OwnRoom, rooms: &[Room]) -> bool {
        record.strips.iter().all(|strip| {
            record.bays.iter().all(|bay| self.at(record.storey, strip, bay).is_none_or(|room| rooms.contains(&room)))
        })
    }

    /// The rooms with one changed; a room of the grid becomes the project's own. None where there
    /// is no such room.
    pub fn changed(&self, room: Room, change: impl FnOnce(&mut OwnRoom)) -> Option<Rooms> {
        let mut record = self.record(room)?;
        change(&mut record);
        Some(self.with(room, record))
    }

    /// The rooms with a record in place of that of a room.
    fn with(&self, room: Room, record: OwnRoom) -> Rooms {
        let mut rooms = self.rooms().clone();
        let known = self.own(room).and_then(|own| rooms.own.iter().position(|other| other == own));
        match known {
            Some(at) => rooms.own[at] = record,
            None => rooms.own.push(record),
        }
        rooms
    }

    /// The rooms with two of a storey made one, which keeps the name and kind of the first where the
    /// project gave it one, else of the second. None where they do not make a rectangle together.
    pub fn merged(&self, one: Room, other: Room) -> Option<Rooms> {
        let record = self.merged_record(one, other)?;
        let gone: Vec<&OwnRoom> = [one, other].into_iter().filter_map(|room| self.own(room)).collect();
        let mut rooms = self.rooms().clone();
        rooms.own.retain(|own| !gone.contains(&own));
        rooms.own.push(record);
        Some(rooms)
    }

    fn merged_record(&self, one: Room, other: Room) -> Option<OwnRoom> {
        if one.storey != other.storey || !self.adjoin(one, other) {
            return None;
        }
        let (first, second) = (self.record(one)?, self.record(other)?);
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
    pub fn neighbours(&self, room: Room) -> Vec<Room> {
        let mut others = self.all();
        others.extend(self.ways_out());
        others.retain(|other| self.merged_record(room, *other).is_some());
        others
    }

    /// Grid lines a room can be divided at: lines across x and across y that lie inside it, each by
    /// the direction it is met along and its place.
    pub fn cuts(&self, room: Room) -> Vec<(Direction, u32)> {
        let Some(record) = self.record(room) else { return Vec::new() };
        let inside = |way, span: Span| (span.first..span.last).map(move |line| (way, line));
        // With floor on both sides.
        let parts = |(way, line): &(Direction, u32)| {
            let beyond = |(strip, bay): (u32, u32)| if *way == Direction::X { bay > *line } else { strip > *line };
            self.bays(room).any(beyond) && !self.bays(room).all(beyond)
        };
        inside(Direction::X, record.bays).chain(inside(Direction::Y, record.strips)).filter(parts).collect()
    }

    /// The rooms with one made two at a grid line inside it, counted from 0 along a direction. The
    /// first keeps a name the project gave; the second takes a name like it. None where the line does
    /// not cross the room.
    pub fn divided(&self, room: Room, way: Direction, line: u32) -> Option<Rooms> {
        if !self.cuts(room).contains(&(way, line)) {
            return None;
        }
        let mut first = self.record(room)?;
        let mut second = first.clone();
        let (upto, from) = match way {
            Direction::X => (&mut first.bays, &mut second.bays),
            Direction::Y => (&mut first.strips, &mut second.strips),
        };
        (upto.last, from.first) = (line, line + 1);
        if self.own(room).is_none() {
            first.name = self.between(first.strips, first.bays);
            second.name = self.between(second.strips, second.bays);
        } else {
            let taken = |name: &str| self.rooms().own.iter().any(|own| own.storey == second.storey && own.name == name);
            let stem: String = second.name.chars().take(NAME_LETTERS - 4).collect();
            second.name = (2..).map(|number| format!("{stem} {number}")).find(|name| !taken(name))?;
        }
        let mut rooms = self.with(room, first);
        rooms.own.push(second);
        Some(rooms)
    }

    /// The rooms with one laid in every storey as in its own; storeys where it would lie over another
    /// room of the project's own, or where there is no floor for it, stay as they are. None where that
    /// changes nothing.
    pub fn in_every_storey(&self, room: Room) -> Option<Rooms> {
        let record = self.record(room)?;
        let mut rooms = self.with(room, record.clone());
        let mut storeys: Vec<u32> = self.all().into_iter().chain(self.ways_out()).map(|other| other.storey).collect();
        order::sort_by(&mut storeys, u32::cmp);
        storeys.dedup();
        for storey in storeys {
            let there = OwnRoom { storey, ..record.clone() };
            let floor =
                there.strips.iter().all(|strip| there.bays.iter().all(|bay| self.at(storey, strip, bay).is_some()));
            let same = |own: &OwnRoom| (own.storey, own.strips, own.bays) == (storey, there.strips, there.bays);
            let stands_apart =
                |own: &OwnRoom| !own.overlaps(&there) && (own.storey, &own.name) != (storey, &there.name);
            if floor && rooms.own.iter().all(|own| same(own) || stands_apart(own)) {
                rooms.own.retain(|own| !same(own));
                rooms.own.push(there);
            }
        }
        // The same rooms in another order are no change.
        (rooms.own.iter().any(|own| !self.rooms().own.contains(own))).then_some(rooms)
    }

    /// The rooms with a room of the project's own given back to the grid; none for rooms of the grid.
    pub fn split(&self, room: Room) -> Option<Rooms> {
        let own = self.own(room)?;
        let mut rooms = self.rooms().clone();
        rooms.own.retain(|other| other != own);
        Some(rooms)
    }
}
