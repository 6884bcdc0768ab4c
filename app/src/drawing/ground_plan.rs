//! Plan of a storey to scale.

use super::{Anchor, Drawing, FINGER_PX, Ink, Mark, Px, Target};
use sisterframe_core::fitting::Spot;
use sisterframe_core::model::{Column, Model, PanelOrigin};
use sisterframe_core::project::Direction;
use sisterframe_core::study::DirectionResult;
use sisterframe_core::units::{Dimension, System, show};
use std::fmt::Write;

/// Radius of a grid bubble, px.
const BUBBLE_PX: f64 = 11.0;
/// From the plan to its bubbles, px: columns beside a short bay are pointed at up to there.
const STAND_OFF_PX: f64 = 21.0;
/// Room for bubbles and dimensions on top, px.
const HEAD_PX: f64 = STAND_OFF_PX + 44.0;
/// Room for them on the left, px.
const SIDE_PX: f64 = STAND_OFF_PX + 64.0;
/// Room beyond the plan on the other sides, px.
const FOOT_PX: f64 = 26.0;
/// The narrowest part that still shows its hatch, px.
const HATCH_PX: f64 = 5.0;

/// Pixels a metre beyond which a plan is not drawn larger for the sake of a short bay.
const MOST_PX_M: f64 = 18.0;

/// Width of a small letter, px, on the safe side of most fonts.
pub(super) const WORD_PX: f64 = 7.5;
/// Height of a line of small words, px.
pub(super) const LINE_PX: f64 = 15.0;
/// A distance of the centres below which they are one, m: nobody measures a building closer.
const NO_DISTANCE_M: f64 = 0.005;

/// What a plan is asked to show.
#[derive(Clone, Copy, Debug)]
pub struct PlanLook {
    /// Storey, from 1: its columns and walls, and the beams over it.
    pub storey: u32,
    /// Width of the drawing, px.
    pub width: f64,
    /// Greatest height, px.
    pub height: f64,
    /// The least length of a bay, px, whatever size that makes the drawing; zero where it only
    /// has to fit.
    pub least_bay_px: f64,
    /// The line whose elevation is shown beside it; a plan that stands alone leaves lengths out.
    pub line: Option<(Direction, usize)>,
    /// Units of the dimensions.
    pub system: System,
}

impl PlanLook {
    /// The same, large enough for its shortest bay.
    pub(super) fn widened(self, model: &Model) -> Self {
        let [[x0, x1], [y0, y1]] = extent(model);
        let bays = [&model.x_lines, &model.y_lines].into_iter().flat_map(|lines| lines.windows(2));
        let shortest = bays.map(|pair| pair[1].at_m - pair[0].at_m).fold(f64::INFINITY, f64::min);
        let px_m = (self.least_bay_px / shortest).min(MOST_PX_M);
        let needed = |from: f64, to: f64, head: f64| ((to - from).max(1.0) + 1.0) * px_m + head + FOOT_PX;
        Self {
            width: self.width.max(needed(x0, x1, SIDE_PX)),
            height: self.height.max(needed(y0, y1, HEAD_PX)),
            ..self
        }
    }
}

/// Metres of the plan onto pixels, y up.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    pub(super) px_m: f64,
    left: f64,
    bottom: f64,
}

impl Scale {
    pub(super) fn at(self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.left + x * self.px_m, self.bottom - y * self.px_m]
    }

    /// A rectangle round an axis: along and across a direction.
    fn bar(
        self,
        drawing: &mut Drawing,
        ink: Ink,
        direction: Direction,
        [from, to]: [f64; 2],
        across: f64,
        half_m: f64,
    ) {
        let half = half_m.max(0.6 / self.px_m);
        let corner = |along: f64, across: f64| match direction {
            Direction::X => self.at([along, across]),
            Direction::Y => self.at([across, along]),
        };
        drawing.rect(ink, corner(from, across - half), corner(to, across + half));
    }
}

/// Extent of everything that stands in plan, m: lowest and highest x and y.
fn extent(model: &Model) -> [[f64; 2]; 2] {
    let ends = |lines: &[sisterframe_core::project::GridLine]| {
        [lines.first().map_or(0.0, |line| line.at_m), lines.last().map_or(1.0, |line| line.at_m)]
    };
    let mut all = [ends(&model.x_lines), ends(&model.y_lines)];
    for frame in &model.frames {
        let across = &mut all[1 - frame.direction.index()];
        let half = frame.spec.column_across_mm / 2000.0;
        across[0] = across[0].min(frame.ordinate_m - half);
        across[1] = across[1].max(frame.ordinate_m + half);
    }
    all
}

pub(super) fn scale_to(model: &Model, width: f64, height: f64) -> (Scale, f64) {
    let [[x0, x1], [y0, y1]] = extent(model);
    // Columns reach beyond their lines.
    let (across, up) = ((x1 - x0).max(1.0) + 1.0, (y1 - y0).max(1.0) + 1.0);
    let px_m = ((width - SIDE_PX - FOOT_PX) / across).min((height - HEAD_PX - FOOT_PX) / up);
    let high = up * px_m + HEAD_PX + FOOT_PX;
    let left = SIDE_PX + (width - SIDE_PX - FOOT_PX - across * px_m) / 2.0;
    (Scale { px_m, left: left - (x0 - 0.5) * px_m, bottom: high - FOOT_PX + (y0 - 0.5) * px_m }, high)
}

/// Plan of a storey; `result` brings the centres of mass and of stiffness of its direction.
pub fn ground_plan(model: &Model, look: PlanLook, results: [Option<&DirectionResult>; 2]) -> Drawing {
    let look = look.widened(model);
    let (scale, height) = scale_to(model, look.width, look.height);
    let mut drawing = Drawing::new(look.width, height);
    draw_grid(&mut drawing, model, scale, look);
    draw_members(&mut drawing, model, scale, look.storey);
    let centres = draw_centres(&mut drawing, scale, look, results);
    drawing.words = words(model, look.storey, &centres);
    drawing.targets = targets(model, scale, look.storey);
    drawing
}

/// What stands in a storey.
pub(super) fn draw_members(drawing: &mut Drawing, model: &Model, scale: Scale, storey: u32) {
    draw_panels(drawing, model, scale, storey);
    draw_beams(drawing, model, scale, storey);
    draw_frames(drawing, model, scale, storey);
    for column in model.columns.iter().filter(|column| column.storey == storey) {
        draw_column(drawing, model, scale, column);
    }
}

/// Size of a column as built, px.
fn size_px(scale: Scale, column: &Column, along: Direction) -> f64 {
    scale.px_m / 1000.0
        * match along {
            Direction::X => column.kind.x_mm,
            Direction::Y => column.kind.y_mm,
        }
}

/// How far from its own middle a column is pointed at, px along a direction: away from a bay too short to leave a
/// finger's breadth between its columns, as far as the column itself stays in, and short of the bubbles.
fn aside_px(model: &Model, scale: Scale, column: &Column, along: Direction) -> f64 {
    let lines = model.along(along);
    let end = match along {
        Direction::X => column.ix,
        Direction::Y => column.iy,
    };
    let most = ((FINGER_PX - size_px(scale, column, along)) / 2.0).clamp(0.0, STAND_OFF_PX + BUBBLE_PX - FINGER_PX);
    let from_bay = |bay: Option<usize>| {
        let ends = bay.and_then(|bay| Some((lines.get(bay)?, lines.get(bay + 1)?)));
        ends.map_or(0.0, |(low, high)| {
            let short_px = 2.0 * FINGER_PX - (high.at_m - low.at_m) * scale.px_m;
            (short_px / 2.0).clamp(0.0, most)
        })
    };
    from_bay(end.checked_sub(1)) - from_bay(Some(end))
}

/// What can be pointed at: columns, the bays between them, and the bubbles of the lines.
fn targets(model: &Model, scale: Scale, storey: u32) -> Vec<Target> {
    let (x_lines, y_lines) = (&model.x_lines, &model.y_lines);
    let target =
        |spot: Spot, at: [f64; 2], size: [f64; 2]| Target::round_point(spot, spot.name(x_lines, y_lines), at, size);
    let (mut columns, mut bays) = (Vec::new(), Vec::new());
    for column in model.columns.iter().filter(|column| column.storey == storey) {
        let spot = Spot::Column { x: column.ix, y: column.iy, storey };
        let [x, y] = scale.at([x_lines[column.ix].at_m, y_lines[column.iy].at_m]);
        let at = [x + aside_px(model, scale, column, Direction::X), y - aside_px(model, scale, column, Direction::Y)];
        columns.push(target(spot, at, Direction::BOTH.map(|along| size_px(scale, column, along))));
    }
    for direction in Direction::BOTH {
        let along = model.along(direction);
        for line in 0..model.lines(direction).len() {
            let across = model.lines(direction)[line].at_m;
            for (pair, bay) in along.windows(2).zip(1..) {
                let Some([lower, higher]) = model.bay_columns(direction, line, bay, storey) else { continue };
                // What its columns leave of it.
                let half = |column| size_px(scale, column, direction).max(FINGER_PX) / 2.0;
                let from = pair[0].at_m * scale.px_m + aside_px(model, scale, lower, direction) + half(lower);
                let to = pair[1].at_m * scale.px_m + aside_px(model, scale, higher, direction) - half(higher);
                let (middle, long) = ((from + to) / 2.0 / scale.px_m, to - from);
                let (at, size) = match direction {
                    Direction::X => ([middle, across], [long, FINGER_PX]),
                    Direction::Y => ([across, middle], [FINGER_PX, long]),
                };
                bays.push(target(Spot::Bay { direction, line, bay, storey }, scale.at(at), size));
            }
        }
    }
    let [[x0, _], [y0, y1]] = extent(model);
    let (left, top) = (scale.at([x0, y0])[0], scale.at([x0, y1])[1]);
    let mut bubbles = Vec::new();
    for direction in Direction::BOTH {
        for (line, own) in model.lines(direction).iter().enumerate() {
            let at = match direction {
                Direction::X => [left - STAND_OFF_PX - BUBBLE_PX, scale.at([x0, own.at_m])[1]],
                Direction::Y => [scale.at([own.at_m, y0])[0], top - STAND_OFF_PX - BUBBLE_PX],
            };
            let own = target(Spot::Line { direction, line }, at, [FINGER_PX; 2]);
            // Beside the plan a button of the line's plain name has it drawn from the front.
            let name = format!("{}: what fits there", own.name);
            bubbles.push(Target { round: true, name, ..own });
        }
    }
    // Columns lie over bays where those are short; the first takes the keyboard first.
    let first = (!columns.is_empty()).then(|| columns.remove(0));
    first.into_iter().chain(bays).chain(bubbles).chain(columns).collect()
}

/// Grid lines with their bubbles, and the distances between them.
pub(super) fn draw_grid(drawing: &mut Drawing, model: &Model, scale: Scale, look: PlanLook) {
    let [[x0, x1], [y0, y1]] = extent(model);
    let (left, top) = (scale.at([x0, y0])[0], scale.at([x0, y1])[1]);
    let (right, bottom) = (scale.at([x1, y0])[0], scale.at([x0, y0])[1]);
    let bubble = |drawing: &mut Drawing, at: [f64; 2], radius: f64, name: &str, chosen: bool| {
        let [x, y] = at;
        let ring = format!("M{} {}a{radius} {radius} 0 1 0 0.01 0Z", Px(x), Px(y - radius), radius = Px(radius));
        drawing.put(if chosen { Ink::Plain } else { Ink::Thin }, Mark::Path(ring));
        let ink = if chosen { Ink::OnPlain } else { Ink::Text };
        drawing.text(ink, [x, y + 4.5], Anchor::Middle, name);
    };
    let length = |metres: f64| show(metres, Dimension::Metres, look.system);
    for (direction, lines) in [(Direction::Y, &model.x_lines), (Direction::X, &model.y_lines)] {
        let along_x = direction == Direction::Y;
        let mut before: Option<f64> = None;
        // Bubbles of lines close together are drawn smaller, so that they stay apart.
        let closest = lines.windows(2).map(|pair| pair[1].at_m - pair[0].at_m).fold(f64::INFINITY, f64::min);
        let radius = (closest * scale.px_m / 2.0 - 1.5).clamp(6.0, BUBBLE_PX);
        for (index, line) in lines.iter().enumerate() {
            let chosen = look.line == Some((direction, index));
            let at = if along_x { scale.at([line.at_m, y0])[0] } else { scale.at([x0, line.at_m])[1] };
            let (from, to, centre) = if along_x {
                ([at, top - STAND_OFF_PX], [at, bottom + 12.0], [at, top - STAND_OFF_PX - BUBBLE_PX])
            } else {
                ([left - STAND_OFF_PX, at], [right + 12.0, at], [left - STAND_OFF_PX - BUBBLE_PX, at])
            };
            drawing.line(Ink::Axis, from, to);
            bubble(drawing, centre, radius, &line.name, chosen);
            if let Some(before) = before.filter(|_| look.line.is_some()) {
                let wide = (at - before).abs();
                let text = length(line.at_m - lines[index - 1].at_m);
                let middle = (at + before) / 2.0;
                // A dimension that does not fit between two bubbles is left to the bench's table.
                if along_x && wide > 7.5 * text.chars().count() as f64 {
                    drawing.text(Ink::Small, [middle, top - STAND_OFF_PX - 28.0], Anchor::Middle, text);
                } else if !along_x && wide > 18.0 {
                    drawing.text(Ink::Small, [left - STAND_OFF_PX - 16.0, middle + 4.0], Anchor::End, text);
                }
            }
            before = Some(at);
        }
    }
}

/// Walls and masonry of a storey, seen from above.
fn draw_panels(drawing: &mut Drawing, model: &Model, scale: Scale, storey: u32) {
    let span = |direction: Direction, bay: u32| {
        let along = model.along(direction);
        let end = |place: usize| along.get(place).map_or(0.0, |line| line.at_m);
        [end(bay as usize - 1), end(bay as usize)]
    };
    for panel in model.masonry.iter().filter(|panel| panel.storey == storey) {
        let across = model.lines(panel.direction)[panel.line].at_m;
        let half = panel.kind.thickness_mm / 2000.0;
        let [from, to] = span(panel.direction, panel.bay);
        // Full-height panels are filled, sills are an outline: one looks over them.
        let ink = if panel.kind.sill_mm.is_some() { Ink::Sill } else { Ink::Masonry };
        scale.bar(drawing, ink, panel.direction, [from, to], across, half.max(1.6 / scale.px_m));
    }
    for panel in model.panels.iter().filter(|panel| panel.storey == storey) {
        let across = model.lines(panel.direction)[panel.line].at_m;
        let half = panel.thickness_mm / 2000.0;
        let [from, to] = span(panel.direction, panel.bay);
        let ink = match panel.origin {
            PanelOrigin::Existing(_) => Ink::Wall,
            PanelOrigin::Infill(_) => added(scale, 2.0 * half),
        };
        scale.bar(drawing, ink, panel.direction, [from, to], across, half.max(1.4 / scale.px_m));
        if let Some(opening) = &panel.opening {
            let (middle, half_length) = ((from + to) / 2.0, opening.width_mm / 2000.0);
            let ends = [middle - half_length, middle + half_length];
            scale.bar(drawing, Ink::Opening, panel.direction, ends, across, half.max(1.4 / scale.px_m));
        }
    }
}

fn added(scale: Scale, extent_m: f64) -> Ink {
    if extent_m * scale.px_m < HATCH_PX { Ink::AddedThin } else { Ink::Added }
}

/// Beams over a storey as two thin edges.
fn draw_beams(drawing: &mut Drawing, model: &Model, scale: Scale, storey: u32) {
    for beam in model.beams.iter().filter(|beam| beam.storey == storey) {
        let Some([lower, higher]) = model.bay_columns(beam.direction, beam.line, beam.bay, storey) else { continue };
        let along = model.along(beam.direction);
        let half = beam.kind.width_mm / 2000.0;
        let from = along[beam.bay as usize - 1].at_m + lower.reach_mm(beam.direction)[1] / 1000.0;
        let to = along[beam.bay as usize].at_m - higher.reach_mm(beam.direction)[0] / 1000.0;
        let across = model.lines(beam.direction)[beam.line].at_m;
        for edge in [across - half, across + half] {
            let corner = |along: f64| match beam.direction {
                Direction::X => scale.at([along, edge]),
                Direction::Y => scale.at([edge, along]),
            };
            drawing.line(Ink::Edge, corner(from), corner(to));
        }
    }
}

/// External frames with their connecting slabs.
fn draw_frames(drawing: &mut Drawing, model: &Model, scale: Scale, storey: u32) {
    for frame in model.frames.iter().filter(|frame| frame.storeys >= storey) {
        let face = model.lines(frame.direction)[frame.line].at_m;
        let (Some(&from), Some(&to)) = (frame.along_m.first(), frame.along_m.last()) else { continue };
        let half = frame.spec.beam_width_mm / 2000.0;
        let inner = frame.ordinate_m - frame.outward * half;
        scale.bar(
            drawing,
            Ink::AddedFaint,
            frame.direction,
            [from, to],
            (face + inner) / 2.0,
            (face - inner).abs() / 2.0,
        );
        scale.bar(drawing, added(scale, 2.0 * half), frame.direction, [from, to], frame.ordinate_m, half);
        for along in &frame.along_m {
            let reach = frame.spec.column_along_mm / 2000.0;
            let ends = [along - reach, along + reach];
            scale.bar(
                drawing,
                Ink::AddedThin,
                frame.direction,
                ends,
                frame.ordinate_m,
                frame.spec.column_across_mm / 2000.0,
            );
        }
    }
}

/// A column with what is cast round it.
fn draw_column(drawing: &mut Drawing, model: &Model, scale: Scale, column: &Column) {
    let (x, y) = (model.x_lines[column.ix].at_m, model.y_lines[column.iy].at_m);
    let half = [column.kind.x_mm / 2000.0, column.kind.y_mm / 2000.0];
    if let Some(wings) = &column.wings {
        let direction = wings.spec.direction;
        let (along, across) = if direction == Direction::X { (x, y) } else { (y, x) };
        let [lower, higher] = column.reach_mm(direction);
        let ends = [along - lower / 1000.0, along + higher / 1000.0];
        let thick = wings.spec.thickness_mm / 2000.0;
        scale.bar(drawing, added(scale, 2.0 * thick), direction, ends, across, thick.max(1.4 / scale.px_m));
    }
    if let Some(jacket) = &column.jacket {
        // A skin thinner than a line is still drawn as one.
        let shown = |added: f64| if added > 0.0 { (added / 1000.0).max(1.6 / scale.px_m) } else { 0.0 };
        let [x0, x1, y0, y1] = jacket.added_mm().map(shown);
        drawing.rect(
            Ink::Added,
            scale.at([x - half[0] - x0, y - half[1] - y0]),
            scale.at([x + half[0] + x1, y + half[1] + y1]),
        );
    }
    let least = 2.4 / scale.px_m;
    let (w, h) = (half[0].max(least), half[1].max(least));
    drawing.rect(Ink::Standing, scale.at([x - w, y - h]), scale.at([x + w, y + h]));
}

/// Marks the centre of mass and the centre of stiffness; what they are in words.
fn draw_centres(drawing: &mut Drawing, scale: Scale, look: PlanLook, results: [Option<&DirectionResult>; 2]) -> String {
    let [x, y] = results.map(|result| result?.storeys.get(look.storey as usize - 1));
    let Some(mass) = x.or(y).map(|storey| storey.floor.centre_m) else { return String::new() };
    // Along x the eccentricity lies in y.
    let off = [y, x].map(|storey| storey?.eccentricity_m);
    let [mx, my] = scale.at(mass);
    let cross = format!(
        "M{} {my}H{}M{mx} {}V{}",
        Px(mx - 7.0),
        Px(mx + 7.0),
        Px(my - 7.0),
        Px(my + 7.0),
        mx = Px(mx),
        my = Px(my)
    );
    drawing.put(Ink::Thin, Mark::Path(cross));
    let [Some(off_x), Some(off_y)] = off else {
        drawing.text(Ink::Small, [mx + 9.0, my - 6.0], Anchor::Start, "mass");
        return String::new();
    };
    let distance = (off_x * off_x + off_y * off_y).sqrt();
    let words = show(distance, Dimension::Metres, look.system);
    // The distances run from the centre of stiffness to the centre of mass.
    let stiff = [mass[0] - off_x, mass[1] - off_y];
    let [sx, sy] = scale.at(stiff);
    drawing.line(Ink::Axis, [mx, my], [sx, sy]);
    drawing.put(Ink::Thin, Mark::Path(format!("M{} {}a6 6 0 1 0 0.01 0Z", Px(sx), Px(sy - 6.0))));
    // Words that would run over the edge stand on the other side of their mark, or else over it.
    let mut put = |[left, right]: [f64; 2], y: f64, text: String| {
        let wide = WORD_PX * text.chars().count() as f64;
        let (x, anchor) = if right + wide <= look.width {
            (right, Anchor::Start)
        } else if left - wide >= SIDE_PX {
            (left, Anchor::End)
        } else {
            ((left + right) / 2.0, Anchor::Middle)
        };
        drawing.text(Ink::Small, [x, y], anchor, text);
    };
    if distance * scale.px_m > 26.0 {
        // The words of the mark below stand below, those of the one above above, clear of each other.
        let (mass_y, stiff_y) = if sy <= my + 1.0 { (my + 16.0, sy - 6.0) } else { (my - 6.0, sy + 16.0) };
        put([mx - 9.0, mx + 9.0], mass_y, "mass".to_owned());
        put([sx - 10.0, sx + 10.0], stiff_y, format!("stiffness, {words} off"));
    } else {
        let ends = [mx.min(sx) - 12.0, mx.max(sx) + 12.0];
        let words = if distance < NO_DISTANCE_M {
            "mass and stiffness".to_owned()
        } else {
            format!("mass and stiffness, {words} apart")
        };
        put(ends, my.min(sy) - 6.0, words);
    }
    if distance < NO_DISTANCE_M {
        return "The centre of stiffness lies at the centre of mass.".to_owned();
    }
    format!("The centre of stiffness lies {words} from the centre of mass.")
}

/// What the plan shows, in words.
fn words(model: &Model, storey: u32, centres: &str) -> String {
    let columns = model.columns.iter().filter(|column| column.storey == storey);
    let jackets = columns.clone().filter(|column| column.jacket.is_some()).count();
    let wings = columns.clone().filter(|column| column.wings.is_some()).count();
    let panels = model.panels.iter().filter(|panel| panel.storey == storey);
    let infills = panels.clone().filter(|panel| matches!(panel.origin, PanelOrigin::Infill(_))).count();
    let mut text = format!(
        "Plan of storey {storey}: {} columns on {} lines across x and {} across y",
        columns.count(),
        model.x_lines.len(),
        model.y_lines.len()
    );
    for (count, what) in [
        (panels.count() - infills, "existing concrete walls"),
        (model.masonry.iter().filter(|panel| panel.storey == storey).count(), "masonry panels"),
        (jackets, "jacketed columns"),
        (wings, "columns with wing walls"),
        (infills, "infill walls"),
        (model.frames.iter().filter(|frame| frame.storeys >= storey).count(), "external frames"),
    ] {
        if count > 0 {
            // Writing to a string does not fail.
            let _ = write!(text, ", {count} {what}");
        }
    }
    text.push_str(". ");
    text.push_str(centres);
    text
}

#[cfg(test)]
mod tests {
    use super::super::Pick;
    use super::*;
    use sisterframe_core::evaluate::study;
    use sisterframe_core::project::{Measure, Project, Scheme};

    fn demo(text: &str) -> Project {
        Project::from_json(text).expect("a valid demo")
    }

    #[test]
    fn every_demo_fits_its_plan() {
        for text in [
            include_str!("../../../demo-scenarios/school.json"),
            include_str!("../../../demo-scenarios/clinic.json"),
            include_str!("../../../demo-scenarios/office.json"),
            include_str!("../../../demo-scenarios/corner.json"),
        ] {
            let project = demo(text);
            let study = study(&project);
            for (index, scheme) in project.schemes.iter().enumerate() {
                let model = Model::new(&project.building, scheme);
                let results = &study.options[index + 1].directions;
                for storey in 1..=model.floors.len() as u32 {
                    let look = PlanLook {
                        storey,
                        width: 600.0,
                        height: 420.0,
                        least_bay_px: 0.0,
                        line: Some((Direction::X, 0)),
                        system: System::Si,
                    };
                    let drawing = ground_plan(&model, look, [results.first(), results.get(1)]);
                    assert!(drawing.height <= 420.5, "{}", drawing.height);
                    assert!(drawing.words.contains("columns"));
                    for shape in &drawing.shapes {
                        if let Mark::Rect { x, y, w, h } = shape.mark {
                            let inside = x >= 0.0 && y >= 0.0 && x + w <= 600.0 && y + h <= drawing.height;
                            assert!(inside, "{}: {shape:?}", project.name);
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn columns_are_to_scale_and_y_points_up() {
        let project = demo(include_str!("../../../demo-scenarios/school.json"));
        let bare = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
        let model = Model::new(&project.building, &bare);
        let (scale, _) = scale_to(&model, 600.0, 420.0);
        assert!(scale.at([0.0, 1.0])[1] < scale.at([0.0, 0.0])[1]);
        assert!((scale.at([1.0, 0.0])[0] - scale.at([0.0, 0.0])[0] - scale.px_m).abs() < 1e-9);
    }

    #[test]
    fn short_bays_leave_room_for_a_finger_between_their_columns() {
        let project = demo(include_str!("../../../demo-scenarios/school.json"));
        let bare = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
        let model = Model::new(&project.building, &bare);
        let look = PlanLook {
            storey: 1,
            width: 507.0,
            height: 470.0,
            least_bay_px: 0.0,
            line: Some((Direction::X, 0)),
            system: System::Si,
        };
        let drawing = ground_plan(&model, look, [None, None]);
        let spot = |own: &Target| match own.pick {
            Pick::Spot(spot) => spot,
            Pick::Room(_) => unreachable!("a plan of places"),
        };
        let (columns, others): (Vec<&Target>, Vec<&Target>) =
            drawing.targets.iter().partition(|own| matches!(spot(own), Spot::Column { .. }));
        // The shortest bay is 2.7 m between columns of half a metre; columns lie over all else.
        for own in others {
            let over = |column: &&&Target| {
                [0, 1].iter().all(|way| {
                    let middle = own.corner[*way] + own.size[*way] / 2.0;
                    let near = (column.corner[*way] + column.size[*way] / 2.0 - middle).abs();
                    near < (column.size[*way] + FINGER_PX) / 2.0 - 0.01
                })
            };
            assert_eq!(columns.iter().find(over), None, "over {}", own.name);
        }
        // Each column stays inside what points at it.
        for own in columns {
            let Spot::Column { x, y, .. } = spot(own) else { continue };
            let (scale, _) = scale_to(&model, 507.0, 470.0);
            let at = scale.at([model.x_lines[x].at_m, model.y_lines[y].at_m]);
            assert!((0..2).all(|way| own.corner[way] <= at[way] && at[way] <= own.corner[way] + own.size[way]));
        }
    }

    #[test]
    fn the_centre_of_stiffness_is_drawn_towards_the_stiff_line() {
        let mut project = demo(include_str!("../../../demo-scenarios/clinic.json"));
        let walls = |scheme: &Scheme| scheme.measures.iter().all(|own| matches!(own, Measure::InfillWall(_)));
        project.schemes.retain(walls);
        for (kept, higher) in [("A", false), ("C", true)] {
            let mut one_sided = project.clone();
            let on_line = |own: &Measure| matches!(own, Measure::InfillWall(wall) if wall.line == kept);
            one_sided.schemes[0].measures.retain(on_line);
            assert!(!one_sided.schemes[0].measures.is_empty());
            let results = study(&one_sided).options[1].directions.clone();
            let model = Model::new(&one_sided.building, &one_sided.schemes[0]);
            let look =
                PlanLook { storey: 1, width: 600.0, height: 420.0, least_bay_px: 0.0, line: None, system: System::Si };
            let drawing = ground_plan(&model, look, [results.first(), results.get(1)]);
            let height_of = |word: &str| {
                let is_it = |mark: &Mark| matches!(mark, Mark::Text { text, .. } if text.starts_with(word));
                let shape = drawing.shapes.iter().find(|shape| is_it(&shape.mark)).expect(word);
                let Mark::Text { at, .. } = shape.mark else { unreachable!("found as a text") };
                at[1]
            };
            // Downwards on the picture is towards smaller y, where line A is.
            assert_eq!(height_of("stiffness") < height_of("mass"), higher, "walls on line {kept}");
        }
    }
}
