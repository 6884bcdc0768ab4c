//! Rooms: which there are, which a member touches, which lie beside each other.
//!
//! A room is a set of bays of a storey that are roofed by a floor. Rooms of the project's own come
//! first; the rest is laid out by the grid, some bays along x of a strip between two lines across
//! y. Corridors and stairs are ways out: they are laid out like rooms, but never shut.

use crate::model::{Column, Model};
use crate::order;
use crate::project::{Building, Direction, GridLine, OwnRoom, RoomKind, Rooms, Span};
use serde::Serialize;

/// A room or a way out, by its first bay: the lowest strip, and in it the lowest bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Room {
    /// Storey, from 1.
    pub storey: u32,
    /// Strip between lines across y, from 1.
    pub strip: u32,
    /// Bay along x, from 1.
    pub bay: u32,
}

/// A room with its bays.
#[derive(Clone, Debug)]
struct Laid {
    room: Room,
    cells: Vec<Cell>,
    /// The corridor of a strip, or what the project says of its own room.
    kind: Option<RoomKind>,
    /// Its place in the project's list of own rooms.
    own: Option<usize>,
}

/// The rooms of a building.
#[derive(Clone, Debug)]
pub struct RoomPlan<'a> {
    model: &'a Model,
    rooms: &'a Rooms,
    /// What rooms of the grid are for.
    pub(super) usual: RoomKind,
    /// In the order of rooms.
    laid: Vec<Laid>,
    /// By storey, strip and bay: the place in `laid`.
    of: Vec<Vec<Vec<Option<usize>>>>,
}

impl<'a> RoomPlan<'a> {
    /// Lays rooms on the bays of a model.
    pub fn new(model: &'a Model, building: &'a Building) -> Self {
        let (rooms, usual) = (&building.rooms, RoomKind::usual(building.occupancy));
        let mut plan = Self { model, rooms, usual, laid: Vec::new(), of: Vec::with_capacity(model.cells.len()) };
        for (storey, strips) in (1..).zip(&model.cells) {
            let of = strips.iter().enumerate().map(|(strip, bays)| plan.lay(storey, strip, bays)).collect();
            plan.of.push(of);
        }
        plan
    }

    /// Lays out a strip of a storey; bays that carry a floor are marked.
    fn lay(&mut self, storey: u32, strip: usize, floors: &[bool]) -> Vec<Option<usize>> {
        let per_room = self.rooms.bays_per_room.max(1) as usize;
        let corridor = self.rooms.corridor_strips.0.contains(&(strip as u32 + 1));
        let mut row: Vec<Option<usize>> = Vec::with_capacity(floors.len());
        for (bay, floor) in floors.iter().enumerate() {
            let own = self.rooms.own.iter().position(|own| own.covers(storey, strip as u32 + 1, bay as u32 + 1));
            let known = match own {
                Some(_) => self.laid.iter().rposition(|laid| laid.own == own),
                // A room of the grid goes on from the bay before it.
                None if corridor || bay % per_room > 0 => {
                    row.last().copied().flatten().filter(|at| self.laid[*at].own.is_none())
                }
                None => None,
            };
            if !floor {
                row.push(None);
                continue;
            }
            let at = known.unwrap_or_else(|| {
                let room = Room { storey, strip: strip as u32 + 1, bay: bay as u32 + 1 };
                let kind = own.map(|own| self.rooms.own[own].kind).or(corridor.then_some(RoomKind::Corridor));
                self.laid.push(Laid { room, cells: Vec::new(), kind, own });
                self.laid.len() - 1
            });
            self.laid[at].cells.push((strip, bay));
            row.push(Some(at));
        }
        row
    }

    /// Every room that can be shut, in their order.
    pub fn all(&self) -> Vec<Room> {
        self.laid.iter().filter(|laid| !laid.is_way_out()).map(|laid| laid.room).collect()
    }

    /// Every corridor and stair.
    pub fn ways_out(&self) -> Vec<Room> {
        self.laid.iter().filter(|laid| laid.is_way_out()).map(|laid| laid.room).collect()
    }

    /// The room or way out at a bay, strip and bay counted from 1; none where there is no floor.
    pub fn at(&self, storey: u32, strip: u32, bay: u32) -> Option<Room> {
        let cell = (strip.checked_sub(1)? as usize, bay.checked_sub(1)? as usize);
        self.laid_at(storey, cell).map(|laid| laid.room)
    }

    /// Bays of a room, each with its strip, counted from 1.
    pub fn bays(&self, room: Room) -> impl Iterator<Item = (u32, u32)> + '_ {
        self.find(room)
            .into_iter()
            .flat_map(|laid| &laid.cells)
            .map(|(strip, bay)| (*strip as u32 + 1, *bay as u32 + 1))
    }

    /// Floor of a room, m².
    pub fn area_m2(&self, room: Room) -> f64 {
        let size = |way, at| self.model.bay_length_m(way, at);
        self.bays(room).map(|(strip, bay)| size(Direction::Y, strip) * size(Direction::X, bay)).sum()
    }

    /// What a room is for; none for rooms of the grid, which are what the building is for.
    pub fn kind(&self, room: Room) -> Option<RoomKind> {
        self.find(room)?.kind
    }

    /// The zone a room is shut with; empty where it has none.
    pub fn zone(&self, room: Room) -> &'a str {
        self.own(room).map_or("", |own| own.zone.as_str())
    }

    /// The project's own record of a room; none for rooms of the grid.
    pub fn own(&self, room: Room) -> Option<&'a OwnRoom> {
        self.rooms.own.get(self.find(room)?.own?)
    }

    /// Its own name, or the grid lines it lies between, such as A–B / 1–3.
    pub fn name(&self, room: Room) -> String {
        if let Some(own) = self.own(room) {
            return own.name.clone();
        }
        let span = |[first, last]: [u32; 2]| Span { first, last };
        self.extent(room).map_or(String::new(), |[strips, bays]| self.between(span(strips), span(bays)))
    }

    /// The grid lines a rectangle of bays lies between.
    pub(super) fn between(&self, strips: Span, bays: Span) -> String {
        let named = |way: Direction, span: Span| {
            let lines: &[GridLine] = self.model.along(way);
            let name = |at: u32| lines.get(at as usize).map_or("", |line| line.name.as_str());
            format!("{}–{}", name(span.first - 1), name(span.last))
        };
        format!("{} / {}", named(Direction::Y, strips), named(Direction::X, bays))
    }

    /// First and last strip, first and last bay of a room, counted from 1.
    pub(super) fn extent(&self, room: Room) -> Option<[[u32; 2]; 2]> {
        let mut bays = self.bays(room);
        let (strip, bay) = bays.next()?;
        let wider = |[from, to]: [u32; 2], at: u32| [from.min(at), to.max(at)];
        Some(bays.fold([[strip; 2], [bay; 2]], |[strips, own], (strip, bay)| [wider(strips, strip), wider(own, bay)]))
    }

    /// The rooms as the project has them.
    pub(super) const fn rooms(&self) -> &'a Rooms {
        self.rooms
    }

    /// Whether sound passes from one room to the other through a wall or a floor.
    pub fn adjoin(&self, one: Room, other: Room) -> bool {
        let storeys = one.storey.abs_diff(other.storey);
        let apart = if storeys == 0 { 1 } else { 0 };
        let beside =
            |(strip, bay): (u32, u32)| self.bays(other).any(|(of, at)| strip.abs_diff(of) + bay.abs_diff(at) == apart);
        one != other && storeys <= 1 && self.bays(one).any(beside)
    }

    /// Rooms round a column in a storey, usually its own; ways out are left out.
    pub fn round(&self, column: &Column, storey: u32) -> Vec<Room> {
        self.distinct(storey, &cells_round(column), false)
    }

    /// Rooms on both sides of a bay of a line; ways out are left out.
    pub fn beside(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Vec<Room> {
        self.distinct(storey, &cells_beside(direction, line, bay), false)
    }

    /// Corridors and stairs round a column of a storey.
    pub fn ways_round(&self, column: &Column) -> Vec<Room> {
        self.distinct(column.storey, &cells_round(column), true)
    }

    /// Corridors and stairs beside a bay of a line.
    pub fn ways_beside(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Vec<Room> {
        self.distinct(storey, &cells_beside(direction, line, bay), true)
    }

    /// The way out a bay of a line lies across, with it on both sides.
    pub fn way_across(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<Room> {
        let sides = cells_beside(direction, line, bay).map(|cell| cell.and_then(|cell| self.laid_at(storey, cell)));
        match sides {
            [Some(one), Some(other)] if one.is_way_out() && other.is_way_out() => Some(one.room),
            _ => None,
        }
    }

    fn distinct(&self, storey: u32, cells: &[Option<Cell>], ways_out: bool) -> Vec<Room> {
        let laid = cells.iter().flatten().filter_map(|cell| self.laid_at(storey, *cell));
        let mut rooms: Vec<Room> = laid.filter(|laid| laid.is_way_out() == ways_out).map(|laid| laid.room).collect();
        order::sort_by(&mut rooms, Room::cmp);
        rooms.dedup();
        rooms
    }

    fn laid_at(&self, storey: u32, (strip, bay): Cell) -> Option<&Laid> {
        let storey = (storey as usize).checked_sub(1)?;
        self.laid.get((*self.of.get(storey)?.get(strip)?.get(bay)?)?)
    }

    fn find(&self, room: Room) -> Option<&Laid> {
        let at = self.laid.binary_search_by_key(&room, |laid| laid.room).ok()?;
        Some(&self.laid[at])
    }
}

impl Laid {
    fn is_way_out(&self) -> bool {
        self.kind.is_some_and(RoomKind::is_way_out)
    }
}

/// Strip and bay along x, from zero.
type Cell = (usize, usize);

/// Whether a bay of a storey is roofed by a floor.
fn has_floor(model: &Model, storey: u32, (strip, bay): Cell) -> bool {
    let strips = (storey as usize).checked_sub(1).and_then(|s| model.cells.get(s));
    strips.and_then(|strips| strips.get(strip)?.get(bay)).copied().unwrap_or(false)
}

/// The bays that meet at a column, towards lower and higher y, in each towards lower and higher x;
/// of a column with a jacket those that a jacketed face looks into.
fn cells_round(column: &Column) -> [Option<Cell>; 4] {
    let below = |at: usize| at.checked_sub(1);
    let pair = |strip: Option<usize>, bay: Option<usize>| strip.zip(bay);
    let (strips, bays) = ([below(column.iy), Some(column.iy)], [below(column.ix), Some(column.ix)]);
    let [x0, x1, y0, y1] =
        column.jacket.as_ref().map_or([true; 4], |jacket| jacket.added_mm().map(|added| added > 0.0));
    let met = |touched: bool, strip: usize, bay: usize| pair(strips[strip], bays[bay]).filter(|_| touched);
    [met(y0 || x0, 0, 0), met(y0 || x1, 0, 1), met(y1 || x0, 1, 0), met(y1 || x1, 1, 1)]
}

fn cells_beside(direction: Direction, line: usize, bay: u32) -> [Option<Cell>; 2] {
    let bay = bay as usize - 1;
    [line.checked_sub(1), Some(line)].map(|side| {
        side.map(|side| match direction {
            Direction::X => (side, bay),
            Direction::Y => (bay, side),
        })
    })
}

/// Quarters round a column that are roofed by a floor, 0 to 4.
pub(super) fn quarters(model: &Model, column: &Column) -> f64 {
    cells_round(column).iter().flatten().filter(|cell| has_floor(model, column.storey, **cell)).count() as f64
}

/// Sides of a bay that are roofed by a floor, 0 to 2; one makes it a façade bay.
pub(super) fn sides(model: &Model, direction: Direction, line: usize, bay: u32, storey: u32) -> u32 {
    cells_beside(direction, line, bay).iter().flatten().filter(|cell| has_floor(model, storey, **cell)).count() as u32
}
