//! A section to scale: old concrete grey, new hatched, bars as dots, hoops as lines, sizes beside it.

use super::{Anchor, Drawing, FINGER_PX, Ink};
use sisterframe_core::section_view::Picture;
use sisterframe_core::units::{Dimension, System, number, show};

/// Room for a row of sizes, px.
const ROW_PX: f64 = FINGER_PX;
/// The least radius of a bar, px: a dot one sees.
const LEAST_DOT_PX: f64 = 1.6;

/// Draws a section within a width and height.
pub fn section(picture: &Picture, [width, height]: [f64; 2], system: System) -> Drawing {
    let [from, to] = picture.bounds_mm();
    let rows = |across: bool| {
        let own = picture.sizes.iter().filter(|size| size.across == across).map(|size| f64::from(size.row) + 1.0);
        own.fold(0.0, f64::max) * ROW_PX + 6.0
    };
    // Sizes across stand below, sizes up the side on the left, where they are written lying.
    let (left, below) = (rows(false) + 34.0, rows(true) + 4.0);
    let size_mm = [to[0] - from[0], to[1] - from[1]];
    let scale = ((width - left - 8.0) / size_mm[0]).min((height - below - 8.0) / size_mm[1]);
    let mut drawing = Drawing::new(left + scale * size_mm[0] + 8.0, 8.0 + scale * size_mm[1] + below);
    let at = |[x, y]: [f64; 2]| [left + scale * (x - from[0]), 8.0 + scale * (to[1] - y)];
    for piece in &picture.pieces {
        let ink = if piece.added { Ink::Added } else { Ink::Standing };
        drawing.rect(ink, at(piece.from_mm), at(piece.to_mm));
    }
    for hoop in &picture.hoops {
        let (a, b) = (at(hoop.from_mm), at(hoop.to_mm));
        drawing.polyline(Ink::Thin, &[vec![a, [b[0], a[1]], b, [a[0], b[1]], a]]);
    }
    for bar in &picture.bars {
        drawing.circle(Ink::Plain, at(bar.at_mm), (scale * bar.diameter_mm / 2.0).max(LEAST_DOT_PX));
    }
    let mut told: Vec<String> = Vec::new();
    for size in &picture.sizes {
        let text = number(size.to_mm - size.from_mm, Dimension::Millimetres, system);
        let place = f64::from(size.row);
        if size.across {
            let y = 8.0 + scale * size_mm[1] + 12.0 + place * ROW_PX;
            let [a, b] = [size.from_mm, size.to_mm].map(|x| left + scale * (x - from[0]));
            drawing.line(Ink::Thin, [a, y], [b, y]);
            for x in [a, b] {
                drawing.line(Ink::Thin, [x - 3.0, y + 3.0], [x + 3.0, y - 3.0]);
            }
            drawing.text(Ink::Small, [(a + b) / 2.0, y + 13.0], Anchor::Middle, text);
        } else {
            let x = left - 10.0 - place * (ROW_PX + 12.0);
            let [a, b] = [size.from_mm, size.to_mm].map(|y| 8.0 + scale * (to[1] - y));
            drawing.line(Ink::Thin, [x, a], [x, b]);
            for y in [a, b] {
                drawing.line(Ink::Thin, [x - 3.0, y + 3.0], [x + 3.0, y - 3.0]);
            }
            drawing.text(Ink::Small, [x - 5.0, (a + b) / 2.0 + 4.0], Anchor::End, text);
        }
        told.push(show(size.to_mm - size.from_mm, Dimension::Millimetres, system));
    }
    let added = if picture.pieces.iter().any(|piece| piece.added) { "; new concrete is hatched" } else { "" };
    drawing.words = format!(
        "Section to scale with {} bars; sizes {}{added}. The text beside it has its bars and hoops.",
        picture.bars.len(),
        told.join(", ")
    );
    drawing
}
