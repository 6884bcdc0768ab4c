//! Elevation of a frame line, to scale from the model.

use super::{Anchor, Drawing, FINGER_PX, Ink, Mark, Pick, Shape, Target, closed};
use sisterframe_core::fitting::Spot;
use sisterframe_core::model::{Column, Frame, Model, PanelOrigin};
use sisterframe_core::project::Direction;

/// The narrowest part that still shows its hatch, px.
const HATCH_PX: f64 = 5.0;

/// Room above an elevation for its grid, px.
pub const LINE_HEAD_PX: f64 = 52.0;
/// Room below it for the ground, px.
const LINE_FOOT_PX: f64 = 14.0;
/// Room beside it, px.
const LINE_SIDE_PX: f64 = 40.0;

/// Whether external frames are drawn in front of their face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frames {
    /// In front, as one sees them.
    InFront,
    /// Left out.
    LeftOut,
}

/// A frame line seen from the front.
#[derive(Clone, Copy, Debug)]
pub struct Elevation<'a> {
    /// The building with a scheme applied.
    pub model: &'a Model,
    /// Direction of the line.
    pub direction: Direction,
    /// Its place among its like.
    pub line: usize,
    /// Pixels a metre.
    pub scale: f64,
    /// Where ordinate zero along the line meets the ground, px.
    pub origin: [f64; 2],
}

impl Elevation<'_> {
    /// A point of the line in pixels: ordinate along it and level, m.
    fn at(&self, along_m: f64, level_m: f64) -> [f64; 2] {
        [self.origin[0] + along_m * self.scale, self.origin[1] - level_m * self.scale]
    }

    /// Level under a storey, m.
    fn base_m(&self, storey: u32) -> f64 {
        let floor = &self.model.floors[storey as usize - 1];
        floor.level_m - floor.height_m
    }

    fn top_m(&self, storey: u32) -> f64 {
        self.model.floors[storey as usize - 1].level_m
    }

    fn ordinate(&self, end: usize) -> f64 {
        self.model.along(self.direction)[end].at_m
    }

    /// Place of a column along the line, if it stands on it.
    fn end_of(&self, column: &Column) -> Option<usize> {
        let (line, end) = match self.direction {
            Direction::X => (column.iy, column.ix),
            Direction::Y => (column.ix, column.iy),
        };
        (line == self.line).then_some(end)
    }

    /// Half the width of a column as built, m.
    fn half_m(&self, column: &Column) -> f64 {
        let width = match self.direction {
            Direction::X => column.kind.x_mm,
            Direction::Y => column.kind.y_mm,
        };
        width / 2000.0
    }

    /// Ink of an added part by its smaller extent on the drawing.
    fn added(&self, extent_m: f64) -> Ink {
        if extent_m * self.scale < HATCH_PX { Ink::AddedThin } else { Ink::Added }
    }

    /// Draws the line with everything on it.
    pub fn draw(&self, drawing: &mut Drawing, frames: Frames) {
        self.draw_masonry(drawing);
        self.draw_panels(drawing);
        self.draw_columns(drawing);
        self.draw_beams(drawing);
        if frames == Frames::InFront {
            for frame in self.frames() {
                self.draw_frame(drawing, frame);
            }
        }
    }

    /// External frames in front of the line.
    pub fn frames(&self) -> impl Iterator<Item = &Frame> {
        self.model.frames.iter().filter(|frame| frame.direction == self.direction && frame.line == self.line)
    }

    fn draw_masonry(&self, drawing: &mut Drawing) {
        for panel in &self.model.masonry {
            if panel.direction != self.direction || panel.line != self.line {
                continue;
            }
            let Some([lower, higher]) = self.model.bay_columns(self.direction, self.line, panel.bay, panel.storey)
            else {
                continue;
            };
            let [_, clear] = self.model.clear_opening_m(self.direction, self.line, panel.bay, panel.storey);
            let base = self.base_m(panel.storey);
            let height = panel.kind.sill_mm.map_or(clear, |sill| sill / 1000.0);
            let index = self.direction.index();
            // A gap of a few centimetres would vanish; it is drawn at least two pixels wide.
            let gap = |column: &Column| column.gap_mm[index].map_or(0.0, |gap| (gap / 1000.0).max(2.0 / self.scale));
            let reach = |column: &Column| column.reach_mm(self.direction);
            let left = self.ordinate(panel.bay as usize - 1) + reach(lower)[1] / 1000.0;
            let right = self.ordinate(panel.bay as usize) - reach(higher)[0] / 1000.0;
            let (cut_left, cut_right) = (left + gap(lower), right - gap(higher));
            drawing.rect(Ink::Masonry, self.at(cut_left, base), self.at(cut_right, base + height));
            for (from, to) in [(left, cut_left), (cut_right, right)] {
                if to > from {
                    drawing.rect(Ink::AddedThin, self.at(from, base), self.at(to, base + height));
                }
            }
        }
    }

    fn draw_panels(&self, drawing: &mut Drawing) {
        for panel in &self.model.panels {
            if panel.direction != self.direction || panel.line != self.line {
                continue;
            }
            let [length, clear] = self.model.panel_clear_m(panel);
            let Some([lower, _]) = self.model.bay_columns(self.direction, self.line, panel.bay, panel.storey) else {
                continue;
            };
            let base = self.base_m(panel.storey);
            let left = self.ordinate(panel.bay as usize - 1) + self.half_m(lower);
            let ink = match panel.origin {
                PanelOrigin::Existing(_) => Ink::Wall,
                PanelOrigin::Infill(_) => Ink::Added,
            };
            drawing.rect(ink, self.at(left, base), self.at(left + length, base + clear));
            if let Some(opening) = &panel.opening {
                let width = (opening.width_mm / 1000.0).min(length);
                let height = (opening.height_mm / 1000.0).min(clear);
                let middle = left + length / 2.0;
                // A tall opening is a door; a low one a window in the middle of the wall.
                let sill = if height > 0.6 * clear { 0.0 } else { (clear - height) / 2.0 };
                drawing.rect(
                    Ink::Opening,
                    self.at(middle - width / 2.0, base + sill),
                    self.at(middle + width / 2.0, base + sill + height),
                );
            }
        }
    }

    fn draw_columns(&self, drawing: &mut Drawing) {
        for column in &self.model.columns {
            let Some(end) = self.end_of(column) else { continue };
            let (base, top) = (self.base_m(column.storey), self.top_m(column.storey));
            let (middle, half) = (self.ordinate(end), self.half_m(column));
            let skin = column.jacket.as_ref().map(|jacket| jacket.skin(self.direction).along.map(|mm| mm / 1000.0));
            let soffit = top - self.model.beam_depth_over_m(self.direction, self.line, end, column.storey);
            if let Some(wings) = &column.wings
                && wings.spec.direction == self.direction
            {
                let [lower, higher] = column.reach_mm(self.direction).map(|reach| reach / 1000.0);
                let ink = self.added(wings.spec.length_mm / 1000.0);
                drawing.rect(ink, self.at(middle - lower, base), self.at(middle - half, soffit));
                drawing.rect(ink, self.at(middle + half, base), self.at(middle + higher, soffit));
            }
            drawing.rect(Ink::Standing, self.at(middle - half, base), self.at(middle + half, top));
            if let Some([lower, higher]) = skin {
                // Where the new bars stop short of the floor the jacket does too.
                let continuous = column.jacket.as_ref().is_some_and(|jacket| jacket.continuous);
                let stop = if continuous { top } else { soffit };
                for (side, skin) in [(-1.0, lower), (1.0, higher)].into_iter().filter(|(_, skin)| *skin > 0.0) {
                    // A skin thinner than a line is still drawn as one.
                    let shown = skin.max(1.6 / self.scale);
                    let (near, far) = (middle + side * half, middle + side * (half + shown));
                    drawing.rect(self.added(skin), self.at(near.min(far), base), self.at(near.max(far), stop));
                }
                if lower + higher == 0.0 {
                    // A jacket on a face beside the line lies in front of the column.
                    drawing.rect(self.added(half), self.at(middle - half, base), self.at(middle + half, stop));
                }
            }
        }
    }

    fn draw_beams(&self, drawing: &mut Drawing) {
        for beam in &self.model.beams {
            if beam.direction != self.direction || beam.line != self.line {
                continue;
            }
            let Some([lower, higher]) = self.model.bay_columns(self.direction, self.line, beam.bay, beam.storey) else {
                continue;
            };
            let top = self.top_m(beam.storey);
            let left = self.ordinate(beam.bay as usize - 1) - self.half_m(lower);
            let right = self.ordinate(beam.bay as usize) + self.half_m(higher);
            drawing.rect(Ink::Standing, self.at(left, top), self.at(right, top - beam.kind.depth_mm / 1000.0));
        }
    }

    fn draw_frame(&self, drawing: &mut Drawing, frame: &Frame) {
        let half = frame.spec.column_along_mm / 2000.0;
        let depth = frame.spec.beam_depth_mm / 1000.0;
        let top = self.top_m(frame.storeys);
        for along in &frame.along_m {
            let ink = self.added(2.0 * half);
            drawing.rect(ink, self.at(along - half, 0.0), self.at(along + half, top));
        }
        for bay in frame.along_m.windows(2) {
            for storey in 1..=frame.storeys {
                let level = self.top_m(storey);
                drawing.rect(self.added(depth), self.at(bay[0] + half, level), self.at(bay[1] - half, level - depth));
            }
        }
    }

    /// Outline of a new building of the same size, dashed.
    pub fn draw_rebuilt(&self, drawing: &mut Drawing) {
        for column in &self.model.columns {
            if let Some(end) = self.end_of(column) {
                let along = self.ordinate(end);
                drawing.line(
                    Ink::Rebuilt,
                    self.at(along, self.base_m(column.storey)),
                    self.at(along, self.top_m(column.storey)),
                );
            }
        }
        for beam in &self.model.beams {
            if beam.direction == self.direction && beam.line == self.line {
                let top = self.top_m(beam.storey);
                let (left, right) = (self.ordinate(beam.bay as usize - 1), self.ordinate(beam.bay as usize));
                drawing.line(Ink::Rebuilt, self.at(left, top), self.at(right, top));
            }
        }
    }

    /// What can be pointed at: columns, the bays between them, and the storeys on the left.
    pub fn targets(&self) -> Vec<Target> {
        let (x_lines, y_lines) = (&self.model.x_lines, &self.model.y_lines);
        let along = self.model.along(self.direction);
        let (mut columns, mut others) = (Vec::new(), Vec::new());
        let target = |spot: Spot, [left, right]: [f64; 2], storey: u32| {
            let [_, low] = self.at(0.0, self.base_m(storey));
            let [_, high] = self.at(0.0, self.top_m(storey));
            // The plan beside it has the same columns and bays under their plain names.
            let name = format!("{}, elevation", spot.name(x_lines, y_lines));
            Target::round_point(spot, name, [(left + right) / 2.0, (low + high) / 2.0], [right - left, low - high])
        };
        for storey in 1..=self.model.floors.len() as u32 {
            for end in 0..along.len() {
                let Some(column) = self.model.column_on(self.direction, self.line, end, storey) else { continue };
                let [x, _] = self.at(self.ordinate(end), 0.0);
                let half = (self.half_m(column) * self.scale).max(FINGER_PX / 2.0);
                columns.push(target(Spot::Column { x: column.ix, y: column.iy, storey }, [x - half, x + half], storey));
            }
            for bay in 1..along.len() as u32 {
                if self.model.bay_columns(self.direction, self.line, bay, storey).is_none() {
                    continue;
                }
                let [left, right] = [bay as usize - 1, bay as usize].map(|end| self.at(self.ordinate(end), 0.0)[0]);
                let spot = Spot::Bay { direction: self.direction, line: self.line, bay, storey };
                others.push(target(spot, [left + FINGER_PX / 2.0, right - FINGER_PX / 2.0], storey));
            }
            others.push(target(Spot::Storey { storey }, [1.0, 1.0 + FINGER_PX], storey));
        }
        // Columns lie over bays where those are short; the first takes the keyboard first.
        let first = (!columns.is_empty()).then(|| columns.remove(0));
        first.into_iter().chain(others).chain(columns).collect()
    }

    /// The ground with a little beyond the line on both sides.
    pub fn draw_ground(&self, drawing: &mut Drawing, beyond_px: f64) {
        let along = self.model.along(self.direction);
        let (first, last) = (along[0].at_m, along[along.len() - 1].at_m);
        let [left, y] = self.at(first, 0.0);
        let [right, _] = self.at(last, 0.0);
        drawing.put(
            Ink::Ground,
            Mark::Path(closed(&[[left - beyond_px, y], [right + beyond_px, y]]).trim_end_matches('Z').to_owned()),
        );
    }
}

/// Elevation of a line with its grid, pixels a metre given, so that storeys stand beside rows of
/// a table that starts [`LINE_HEAD_PX`] lower.
pub fn line_elevation(model: &Model, direction: Direction, line: usize, scale: f64) -> Drawing {
    let along = model.along(direction);
    let (first, last) = (along[0].at_m, along[along.len() - 1].at_m);
    let top = model.floors.last().map_or(0.0, |floor| floor.level_m) * scale;
    let width = (last - first) * scale + 2.0 * LINE_SIDE_PX;
    let origin = [LINE_SIDE_PX - first * scale, LINE_HEAD_PX + top];
    let elevation = Elevation { model, direction, line, scale, origin };
    let mut drawing = Drawing::new(width, LINE_HEAD_PX + top + LINE_FOOT_PX);
    let mut named = f64::NEG_INFINITY;
    for grid in along {
        let [x, ground] = elevation.at(grid.at_m, 0.0);
        drawing.line(Ink::Axis, [x, LINE_HEAD_PX - 18.0], [x, ground]);
        // Names of lines that stand close would run into each other.
        if x - named > 20.0 {
            drawing.text(Ink::Text, [x, LINE_HEAD_PX - 24.0], Anchor::Middle, grid.name.clone());
            named = x;
        }
    }
    elevation.draw(&mut drawing, Frames::InFront);
    elevation.draw_ground(&mut drawing, 18.0);
    drawing.targets = elevation.targets();
    for target in &drawing.targets {
        if let Pick::Spot(Spot::Storey { storey }) = target.pick {
            let [x, y] = [target.corner[0] + target.size[0] / 2.0, target.corner[1] + target.size[1] / 2.0];
            let text = storey.to_string();
            drawing.shapes.push(Shape {
                ink: Ink::Small,
                mark: Mark::Text { at: [x, y + 4.0], anchor: Anchor::Middle, text },
                floor: None,
                event: None,
            });
        }
    }
    drawing
}
