//! Where in a building a measure is usually tried first.

use crate::order;
use crate::project::{Building, Direction, GridLine, Span};

/// Bays of a line from the middle out, counted from 1.
pub fn from_middle(bays: u32) -> Vec<u32> {
    let mut order: Vec<u32> = (1..=bays).collect();
    order::sort_by_key(&mut order, |bay| (2 * bay).abs_diff(bays + 1));
    order
}

/// Bays to fill, by line and bay: the middle ones first, of the inner lines and then the outer.
pub fn panels(building: &Building) -> Vec<(String, u32)> {
    let mut lines: Vec<(bool, &GridLine, u32)> = Vec::new();
    for (own, direction) in [(&building.y_lines, Direction::X), (&building.x_lines, Direction::Y)] {
        let last = own.len().saturating_sub(1);
        lines.extend(
            own.iter().enumerate().map(|(place, line)| (place == 0 || place == last, line, building.bays(direction))),
        );
    }
    order::sort_by_key(&mut lines, |(outer, _, _)| *outer);
    let most = lines.iter().map(|(_, _, bays)| *bays).max().unwrap_or(0) as usize;
    let ordered = |rank: usize| {
        lines.iter().filter_map(move |(_, line, bays)| Some((line.name.clone(), *from_middle(*bays).get(rank)?)))
    };
    (0..most).flat_map(ordered).collect()
}

/// Outer lines with the direction they run in, the longer faces first.
pub fn faces(building: &Building) -> Vec<(&GridLine, Direction)> {
    let length = |lines: &[GridLine]| match (lines.first(), lines.last()) {
        (Some(first), Some(last)) => last.at_m - first.at_m,
        _ => 0.0,
    };
    let along_x = [building.y_lines.first(), building.y_lines.last()].map(|line| line.map(|line| (line, Direction::X)));
    let along_y = [building.x_lines.first(), building.x_lines.last()].map(|line| line.map(|line| (line, Direction::Y)));
    let mut all =
        if length(&building.x_lines) >= length(&building.y_lines) { [along_x, along_y] } else { [along_y, along_x] }
            .concat();
    all.dedup();
    all.into_iter().flatten().collect()
}

/// The bays of a face that an external frame stands before: the end bays stay free for stairs and
/// ways in where there are enough others.
pub fn usual_bays(bays: u32) -> Span {
    if bays >= 5 { Span { first: 2, last: bays - 1 } } else { Span { first: 1, last: bays } }
}
