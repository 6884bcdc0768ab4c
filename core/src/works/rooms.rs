//! Rooms on the grid: which there are, and which a member touches.

use crate::model::{Column, Model};
use crate::order;
use crate::project::{Direction, GridLine, Rooms};
use serde::Serialize;

/// A room: some bays along x of a strip between two lines across y.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Room {
    /// Storey, from 1.
    pub storey: u32,
    /// Strip between lines across y, from 1.
    pub strip: u32,
    /// Place along the strip, from 1.
    pub number: u32,
}

/// The rooms of a building.
#[derive(Clone, Copy, Debug)]
pub struct RoomPlan<'a> {
    model: &'a Model,
    rooms: &'a Rooms,
}

impl Room {
    /// Whether sound passes from one room to the other through a wall or a floor.
    pub fn adjoins(&self, other: &Self) -> bool {
        let steps =
            [self.storey.abs_diff(other.storey), self.strip.abs_diff(other.strip), self.number.abs_diff(other.number)];
        steps.iter().sum::<u32>() == 1
    }
}

impl<'a> RoomPlan<'a> {
    /// Lays rooms of the given size on the bays of a model.
    pub fn new(model: &'a Model, rooms: &'a Rooms) -> Self {
        Self { model, rooms }
    }

    /// Every room: strips that are not corridors, wherever a bay is roofed by a floor.
    pub fn all(&self) -> Vec<Room> {
        let mut rooms = Vec::new();
        for (storey, strips) in (1..).zip(&self.model.cells) {
            for (strip, bays) in strips.iter().enumerate() {
                rooms.extend((0..bays.len()).filter_map(|bay| self.at(storey, (strip, bay))));
            }
        }
        rooms.dedup();
        rooms
    }

    /// Floor of a room, m².
    pub fn area_m2(&self, room: Room) -> f64 {
        let strips = (room.storey as usize).checked_sub(1).and_then(|storey| self.model.cells.get(storey));
        let Some(bays) = strips.and_then(|strips| strips.get(room.strip as usize - 1)) else { return 0.0 };
        let cells = (0..bays.len()).map(|bay| (room.strip as usize - 1, bay));
        let own = cells.filter(|cell| self.at(room.storey, *cell) == Some(room));
        own.map(|(strip, bay)| {
            let [across, along] = [(Direction::Y, strip), (Direction::X, bay)]
                .map(|(way, at)| self.model.bay_length_m(way, at as u32 + 1));
            across * along
        })
        .sum()
    }

    /// The grid lines a room lies between, such as A–B / 1–3.
    pub fn name(&self, room: Room) -> String {
        let per_room = self.rooms.bays_per_room.max(1);
        let [strips, bays] = [Direction::Y, Direction::X].map(|direction| self.model.along(direction));
        let line = |lines: &[GridLine], at: u32| lines.get(at as usize).map_or(String::new(), |line| line.name.clone());
        let (from, to) = ((room.number - 1) * per_room, (room.number * per_room).min(bays.len() as u32 - 1));
        let [low, high] = [room.strip - 1, room.strip].map(|at| line(strips, at));
        format!("{low}–{high} / {}–{}", line(bays, from), line(bays, to))
    }

    /// Rooms round a column in a storey, usually its own.
    pub fn round(&self, column: &Column, storey: u32) -> Vec<Room> {
        self.distinct(storey, &cells_round(column))
    }

    /// Rooms on both sides of a bay of a line.
    pub fn beside(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Vec<Room> {
        self.distinct(storey, &cells_beside(direction, line, bay))
    }

    fn distinct(&self, storey: u32, cells: &[Option<Cell>]) -> Vec<Room> {
        let mut rooms: Vec<Room> = cells.iter().flatten().filter_map(|cell| self.at(storey, *cell)).collect();
        order::sort_by(&mut rooms, Room::cmp);
        rooms.dedup();
        rooms
    }

    fn at(&self, storey: u32, cell: Cell) -> Option<Room> {
        let strip = cell.0 as u32 + 1;
        let number = cell.1 as u32 / self.rooms.bays_per_room.max(1) + 1;
        let corridor = self.rooms.corridor_strips.0.contains(&strip);
        (has_floor(self.model, storey, cell) && !corridor).then_some(Room { storey, strip, number })
    }
}

/// Strip and bay along x, from zero.
type Cell = (usize, usize);

/// Whether a bay of a storey is roofed by a floor.
fn has_floor(model: &Model, storey: u32, (strip, bay): Cell) -> bool {
    let strips = (storey as usize).checked_sub(1).and_then(|s| model.cells.get(s));
    strips.and_then(|strips| strips.get(strip)?.get(bay)).copied().unwrap_or(false)
}

fn cells_round(column: &Column) -> [Option<Cell>; 4] {
    let below = |at: usize| at.checked_sub(1);
    let pair = |strip: Option<usize>, bay: Option<usize>| strip.zip(bay);
    let (strips, bays) = ([below(column.iy), Some(column.iy)], [below(column.ix), Some(column.ix)]);
    [pair(strips[0], bays[0]), pair(strips[0], bays[1]), pair(strips[1], bays[0]), pair(strips[1], bays[1])]
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
