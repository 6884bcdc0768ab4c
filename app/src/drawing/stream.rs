//! Force stream: lateral force drawn as bands whose width is force, from the floors into
//! the building's own frames and, across the connecting slabs, into the external frames and
//! down to the footings.
//!
//! An external frame stands in front of the building; it is drawn unfolded, beside it.
//! Where the balance of a band turns round, the band is outlined and its arrow points up.

use super::{Anchor, Drawing, Flow, FlowStorey, Ink, Mark, Px, Rows, Shape, closed};
use sisterframe_core::model::Model;
use sisterframe_core::place::Class;
use sisterframe_core::project::Direction;
use sisterframe_core::units::{Dimension, System, number, show};

/// How a stream is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// The direction.
    pub direction: Direction,
    /// Width of the drawing, px.
    pub width: f64,
    /// Whether units are named once instead of with every figure, for large letters on a
    /// small drawing.
    pub compact: bool,
    /// The floor picked.
    pub chosen: Option<u32>,
    /// Units of the figures.
    pub system: System,
}

impl Look {
    /// A force as it is written on the drawing.
    fn force(self, force_kn: f64) -> String {
        if self.compact {
            number(force_kn, Dimension::Kilonewtons, self.system)
        } else {
            show(force_kn, Dimension::Kilonewtons, self.system)
        }
    }
}

/// Radius of the inner bend of a band, px.
const BEND_PX: f64 = 5.0;
/// Where the force arrows begin and the building stands, px.
const LEFT_PX: f64 = 94.0;
/// Width of the connecting slab, px.
const SLAB_PX: f64 = 66.0;
/// Room for the name of a force right of a band, px.
const LABEL_PX: f64 = 66.0;

/// Horizontal places and the scale of force.
struct Stage {
    /// Left and right side of the building.
    building: [f64; 2],
    /// Left and right side of the external frames.
    frames: [f64; 2],
    /// Pixels a kilonewton.
    scale: f64,
}

/// Left and right edges of a band in each storey, from the ground up.
type Edges = Vec<[f64; 2]>;

/// Everything the parts of the drawing look up.
struct Scene<'a> {
    flow: &'a Flow,
    rows: &'a Rows,
    stage: Stage,
    building: Edges,
    frames: Edges,
    look: Look,
}

/// Draws the stream beside rows of that height.
pub fn stream(flow: &Flow, model: &Model, rows: &Rows, look: Look) -> Drawing {
    let mut drawing = Drawing::new(look.width, rows.height_px());
    let has_frames = !flow.frames.is_empty();
    let frame_width = if has_frames { (look.width - LEFT_PX) * 0.36 } else { 0.0 };
    let right = look.width - 6.0;
    let building_right = if has_frames { right - frame_width - SLAB_PX } else { right };
    let mut stage = Stage { building: [LEFT_PX, building_right], frames: [right - frame_width, right], scale: 0.0 };
    stage.scale = scale_of(flow, &stage, rows);
    let (building, frames) = (building_edges(flow, &stage), frame_edges(flow, &stage));
    let scene = Scene { flow, rows, stage, building, frames, look };

    draw_building(&mut drawing, model, &scene);
    if has_frames {
        draw_frames(&mut drawing, model, &scene);
    }
    for index in (0..flow.storeys.len()).rev() {
        draw_storey(&mut drawing, &scene, index);
    }
    for index in (0..flow.storeys.len()).rev() {
        draw_floor(&mut drawing, &scene, index);
    }
    label_storeys(&mut drawing, &scene);
    draw_foot(&mut drawing, &scene);
    for storey in &flow.storeys {
        let y = rows.level_px(storey.storey as usize) - rows.floor_px / 2.0;
        let mark = Mark::Rect { x: 0.0, y, w: look.width, h: rows.floor_px };
        // The floor picked is outlined by the same shape.
        let ink = if look.chosen == Some(storey.storey) { Ink::Touched } else { Ink::Touch };
        drawing.shapes.push(Shape { ink, mark, floor: Some(storey.storey), event: None });
    }
    drawing.words = flow.words(look.system);
    drawing
}

/// One scale for every band, so that widths can be compared anywhere on the drawing.
fn scale_of(flow: &Flow, stage: &Stage, rows: &Rows) -> f64 {
    let most = |force: &dyn Fn(&FlowStorey) -> f64| flow.storeys.iter().map(force).fold(1e-9, f64::max);
    let thick = rows.floor_px.min(54.0) * 0.54;
    let building = (stage.building[1] - stage.building[0] - LABEL_PX) * 0.6;
    let mut scale = (building / most(&|storey| storey.building_kn.iter().map(|force| force.abs()).sum::<f64>()))
        .min(thick / most(&|storey| storey.floor_kn.abs()))
        .min(thick / most(&|storey| storey.link_kn.unwrap_or(0.0).abs()));
    if !flow.frames.is_empty() {
        scale =
            scale.min((stage.frames[1] - stage.frames[0] - LABEL_PX - 4.0) / most(&|storey| storey.frames_kn.abs()));
    }
    scale
}

/// The building as faint lines: every place along the direction where a column stands.
fn draw_building(drawing: &mut Drawing, model: &Model, scene: &Scene<'_>) {
    let Scene { rows, stage, look: Look { direction, .. }, .. } = scene;
    let direction = *direction;
    let along = model.along(direction);
    let (first, last) = (along[0].at_m, along[along.len() - 1].at_m);
    let x = |at: f64| {
        let share = (at - first) / (last - first);
        stage.building[0] + 4.0 + share * (stage.building[1] - stage.building[0] - 8.0)
    };
    for storey in 1..=model.floors.len() {
        let ends: Vec<usize> = (0..along.len())
            .filter(|end| {
                (0..model.lines(direction).len())
                    .any(|line| model.column_on(direction, line, *end, storey as u32).is_some())
            })
            .collect();
        let (top, base) = (rows.level_px(storey), rows.level_px(storey - 1));
        for end in &ends {
            let at = x(along[*end].at_m);
            drawing.rect(Ink::Faint, [at - 2.0, top], [at + 2.0, base]);
        }
        if let (Some(first), Some(last)) = (ends.first(), ends.last()) {
            drawing.rect(Ink::Faint, [x(along[*first].at_m) - 2.0, top - 2.0], [x(along[*last].at_m) + 2.0, top + 2.0]);
        }
    }
}

fn draw_frames(drawing: &mut Drawing, model: &Model, scene: &Scene<'_>) {
    let Scene { rows, stage, look: Look { direction, .. }, .. } = scene;
    let direction = *direction;
    let frames = || model.frames.iter().filter(|frame| frame.direction == direction);
    let storeys = frames().map(|frame| frame.storeys as usize).max().unwrap_or(0).min(model.floors.len());
    let columns = frames().map(|frame| frame.along_m.len()).max().unwrap_or(2).max(2);
    let [left, right] = stage.frames;
    let (top, base) = (rows.level_px(storeys), rows.level_px(0));
    for column in 0..columns {
        let at = left + 4.0 + (right - left - 8.0) * column as f64 / (columns - 1) as f64;
        drawing.rect(Ink::AddedFaint, [at - 3.0, top], [at + 3.0, base]);
    }
    for level in 1..=storeys {
        let y = rows.level_px(level);
        drawing.rect(Ink::AddedFaint, [left + 1.0, y - 3.0], [right - 1.0, y + 3.0]);
    }
}

/// Edges of the building's band: force that stays joins on the left, force that leaves for
/// the frames goes on the right, force that comes back joins on the right.
fn building_edges(flow: &Flow, stage: &Stage) -> Edges {
    let on_right = |storey: &FlowStorey| {
        let link = storey.link_kn.unwrap_or(0.0);
        let leaves_from_above = (link.max(0.0) - storey.floor_kn).max(0.0);
        (-link).max(0.0) - leaves_from_above
    };
    edges(flow, (stage.building[0] + stage.building[1]) / 2.0, stage.scale, on_right, FlowStorey::in_building_kn)
}

/// Edges of the frames' band: the slabs join and leave on the left, own mass on the right.
fn frame_edges(flow: &Flow, stage: &Stage) -> Edges {
    // Left of the middle, so that the figures find room on the right as in the building.
    let middle = (stage.frames[0] + stage.frames[1] - LABEL_PX) / 2.0 + 4.0;
    edges(flow, middle, stage.scale, |storey| storey.own_kn, |storey| storey.frames_kn)
}

/// Lays a band out from the top: each floor moves its right edge by `on_right`, and it is
/// always as wide as `shear` says, so that the rest happens on its left.
fn edges(
    flow: &Flow,
    middle: f64,
    scale: f64,
    on_right: impl Fn(&FlowStorey) -> f64,
    shear: impl Fn(&FlowStorey) -> f64,
) -> Edges {
    let mut right = 0.0;
    let mut edges = vec![[0.0; 2]; flow.storeys.len()];
    for (index, storey) in flow.storeys.iter().enumerate().rev() {
        right += on_right(storey) * scale;
        edges[index] = [right - shear(storey) * scale, right];
    }
    let least = edges.iter().map(|edge| edge[0].min(edge[1])).fold(f64::INFINITY, f64::min);
    let most = edges.iter().map(|edge| edge[0].max(edge[1])).fold(f64::NEG_INFINITY, f64::max);
    let shift = middle - (least + most) / 2.0;
    edges.iter().map(|edge| [edge[0] + shift, edge[1] + shift]).collect()
}

/// Half the thickness of everything that arrives at a floor, px.
fn half_thickness(storey: &FlowStorey, stage: &Stage) -> f64 {
    (storey.floor_kn.abs().max(storey.link_kn.unwrap_or(0.0).abs()) * stage.scale).max(2.0) / 2.0
}

/// The bands of a storey, between the floor on top and the one below, and on through the
/// floor below as far as they belong to the next storey too.
fn draw_storey(drawing: &mut Drawing, scene: &Scene<'_>, index: usize) {
    let Scene { flow, rows, stage, building, frames, .. } = scene;
    let storey = &flow.storeys[index];
    // The corner where force turns down belongs to the bend, not to the band.
    let top = rows.level_px(index + 1) + half_thickness(storey, stage) + BEND_PX;
    let lower = index.checked_sub(1).map(|lower| (lower, half_thickness(&flow.storeys[lower], stage)));
    let base = lower.map_or(rows.level_px(0), |(_, half)| rows.level_px(index) - half);
    let common =
        |edges: &Edges, lower: usize| [edges[index][0].max(edges[lower][0]), edges[index][1].min(edges[lower][1])];
    draw_classes(drawing, storey, building[index], building[index], [top, base], stage.scale);
    if let Some((lower, half)) = lower {
        let through = [base, rows.level_px(index) + half + BEND_PX];
        draw_classes(drawing, storey, building[index], common(building, lower), through, stage.scale);
    }
    let [left, right] = frames[index];
    if storey.frames_kn > 0.0 {
        drawing.rect(Ink::Added, [left, top], [right, base]);
        if let Some((lower, half)) = lower {
            let [from, to] = common(frames, lower);
            if to > from {
                drawing.rect(Ink::Added, [from, base], [to, rows.level_px(index) + half + BEND_PX]);
            }
        }
    } else if storey.frames_kn < 0.0 {
        draw_reversed(drawing, [right, left], [top, base]);
    }
}

/// The classes side by side within the building's band, as far as `clip` reaches. What
/// pushes back is laid over the right end of what carries it, so that the band ends where
/// the balance does.
fn draw_classes(
    drawing: &mut Drawing,
    storey: &FlowStorey,
    [left, right]: [f64; 2],
    clip: [f64; 2],
    [top, base]: [f64; 2],
    scale: f64,
) {
    let whole = clip == [left, right];
    if storey.in_building_kn() < 0.0 {
        if whole {
            draw_reversed(drawing, [right, left], [top, base]);
        }
        return;
    }
    let mut at = left;
    for (class, force) in Class::ALL.into_iter().zip(storey.building_kn) {
        let ink = match class {
            Class::AsBuilt => Ink::Standing,
            Class::Strengthened => Ink::Strengthened,
            Class::New => Ink::Added,
        };
        if force > 0.0 {
            let (from, to) = (at.max(clip[0]), (at + force * scale).min(if whole { f64::INFINITY } else { clip[1] }));
            if to > from {
                drawing.rect(ink, [from, top], [to, base]);
            }
            at += force * scale;
        }
    }
    for force in storey.building_kn.into_iter().filter(|force| whole && force * scale < -0.5) {
        draw_reversed(drawing, [at + force * scale, at], [top, base]);
        at += force * scale;
    }
}

/// A band that runs upwards: outlined, with an arrowhead.
fn draw_reversed(drawing: &mut Drawing, [left, right]: [f64; 2], [top, base]: [f64; 2]) {
    let (left, right) = if right - left < 6.0 {
        let middle = (left + right) / 2.0;
        (middle - 3.0, middle + 3.0)
    } else {
        (left, right)
    };
    drawing.rect(Ink::Reversed, [left, top], [right, base]);
    let (middle, half) = ((left + right) / 2.0, ((right - left) / 2.0).clamp(3.0, 7.0));
    let y = top + 0.25 * (base - top);
    drawing.put(
        Ink::Plain,
        Mark::Path(closed(&[[middle - half, y + half * 1.4], [middle, y], [middle + half, y + half * 1.4]])),
    );
}

/// Force that arrives at a floor, turns down there or goes on across the connecting slab.
fn draw_floor(drawing: &mut Drawing, scene: &Scene<'_>, index: usize) {
    let Scene { flow, rows, stage, building, frames, look } = scene;
    let storey = &flow.storeys[index];
    let y = rows.level_px(index + 1);
    let half = half_thickness(storey, stage);
    let scale = stage.scale;
    let link = storey.link_kn.unwrap_or(0.0);
    let [left, _] = building[index];
    let force = storey.floor_kn;

    // The force on the floor, as an arrow up to the building.
    let thick = (force.abs() * scale).max(2.0);
    let middle = y + half - thick / 2.0;
    let (from, to) = ([LEFT_PX - 34.0, middle], [LEFT_PX, middle]);
    if force >= 0.0 {
        drawing.arrow(from, to, thick)
    } else {
        drawing.arrow(to, from, thick)
    }
    let value = look.force(force);
    drawing.text(Ink::DemandText, [LEFT_PX - 38.0, middle + 4.0], Anchor::End, value);

    let across = link.max(0.0).min(force.max(0.0));
    let stays = force - across;
    if stays > 0.0 {
        // The lower part turns down into the building.
        turn_down(drawing, Ink::DemandTint, LEFT_PX, left, y + half - stays * scale, stays * scale);
    }
    if link > 0.0 {
        let thick = link * scale;
        let top = y - half;
        let slab = [stage.building[1], stage.frames[0]];
        if across > 0.0 {
            drawing.rect(Ink::DemandTint, [LEFT_PX, top], [slab[0], top + across * scale]);
        }
        let extra = link - across;
        if extra > 0.0 {
            // More leaves than arrives: the rest comes down from above and turns off to the right.
            let right = building.get(index + 1).map_or(building[index][1], |above| above[1]);
            drawing.rect(Ink::Standing, [right - extra * scale, top + across * scale], [slab[0], top + thick]);
        }
        drawing.rect(Ink::Added, [slab[0], top], [slab[1], top + thick.max(1.0)]);
        if storey.frames_kn > 0.0 {
            turn_down(drawing, Ink::Added, slab[1], frames[index][0], top, thick);
        }
        arrowhead(drawing, (slab[0] + slab[1]) / 2.0, top + thick / 2.0, 1.0);
    } else if link < 0.0 {
        let thick = (-link * scale).max(2.0);
        let top = y - thick / 2.0;
        let to = building[index][1] - thick;
        drawing.rect(Ink::Reversed, [stage.building[1], top], [stage.frames[0], top + thick]);
        turn_back(drawing, stage.building[1], to, top, thick);
        arrowhead(drawing, (stage.building[1] + stage.frames[0]) / 2.0, y, -1.0);
    }
    if let Some(link) = storey.link_kn {
        let x = (stage.building[1] + stage.frames[0]) / 2.0;
        drawing.text(Ink::Figure, [x, y - half - 6.0], Anchor::Middle, look.force(link));
    }
    if storey.own_kn.abs() * scale > 0.8 {
        // The frame's own mass pushes it the same way as the floor is pushed.
        let (near, far) = ([frames[index][1].max(frames[index][0]) + 4.0, y], [stage.frames[1], y]);
        let thick = (storey.own_kn.abs() * scale).clamp(1.5, 12.0);
        if storey.own_kn > 0.0 { drawing.arrow(near, far, thick) } else { drawing.arrow(far, near, thick) }
    }
}

/// A band that comes from the left at height `top` and turns down at `x`.
fn turn_down(drawing: &mut Drawing, ink: Ink, from: f64, x: f64, top: f64, thick: f64) {
    if thick <= 0.0 || x < from {
        return;
    }
    let (bend, outer) = (BEND_PX.min(x - from), BEND_PX.min(x - from) + thick);
    let bottom = top + thick;
    drawing.put(
        ink,
        Mark::Path(format!(
            "M{} {}H{}A{outer} {outer} 0 0 1 {} {}V{}H{}V{}A{bend} {bend} 0 0 0 {} {}H{}Z",
            Px(from),
            Px(top),
            Px(x - bend),
            Px(x + thick),
            Px(top + outer),
            Px(bottom + BEND_PX),
            Px(x),
            Px(bottom + bend),
            Px(x - bend),
            Px(bottom),
            Px(from),
            outer = Px(outer),
            bend = Px(bend),
        )),
    );
}

/// A band that comes from the right at height `top` and turns down left of `from`.
fn turn_back(drawing: &mut Drawing, from: f64, x: f64, top: f64, thick: f64) {
    let right = x + thick;
    if from < right {
        return;
    }
    drawing.rect(Ink::Reversed, [right, top], [from, top + thick]);
    drawing.rect(Ink::Reversed, [x, top], [right, top + thick + BEND_PX]);
}

/// A small arrowhead on a horizontal band.
fn arrowhead(drawing: &mut Drawing, x: f64, y: f64, sense: f64) {
    drawing.put(
        Ink::Plain,
        Mark::Path(closed(&[[x - 4.0 * sense, y - 4.0], [x + 4.0 * sense, y], [x - 4.0 * sense, y + 4.0]])),
    );
}

fn label_storeys(drawing: &mut Drawing, scene: &Scene<'_>) {
    let Scene { flow, rows, stage, building, frames, look } = scene;
    for (index, storey) in flow.storeys.iter().enumerate() {
        let y = rows.storey_middle_px(index + 1) + 8.0;
        let total = flow.total_kn(index);
        // Writes a figure and gives where it begins.
        let mut label = |force: f64, [left, right]: [f64; 2], most: f64| {
            let text = look.force(force);
            let letter = if look.compact { 9.6 } else { 7.4 };
            let room = text.chars().count() as f64 * letter + 6.0;
            // A band that is wide enough carries its figure; a narrow one has it beside.
            let (x, anchor, begin) = if right - left > room {
                ((left + right) / 2.0, Anchor::Middle, left)
            } else if left.max(right) + room < most {
                (left.max(right) + 6.0, Anchor::Start, left)
            } else {
                (left.min(right) - 6.0, Anchor::End, left.min(right) - room)
            };
            drawing.text(Ink::Figure, [x, y - 2.0], anchor, text);
            if total != 0.0 && !flow.frames.is_empty() {
                drawing.text(Ink::Small, [x, y + 12.0], anchor, show(force / total, Dimension::Share, look.system));
            }
            begin
        };
        // The frame's figure first: where it needs the room over the slab, the building's goes to
        // the other side of its band.
        let mut most = stage.building[1] + SLAB_PX;
        if storey.frames_kn != 0.0 {
            most = most.min(label(storey.frames_kn, frames[index], stage.frames[1] + 6.0));
        }
        label(storey.in_building_kn(), building[index], most);
    }
}

/// The ground and what each part is.
fn draw_foot(drawing: &mut Drawing, scene: &Scene<'_>) {
    let Scene { flow, rows, stage, look, .. } = scene;
    let y = rows.level_px(0);
    let right = if flow.frames.is_empty() { stage.building[1] } else { stage.frames[1] };
    drawing.put(Ink::Ground, Mark::Path(format!("M{} {}H{}", Px(LEFT_PX - 14.0), Px(y), Px(right + 4.0))));
    let middle = (stage.building[0] + stage.building[1]) / 2.0;
    drawing.text(Ink::Text, [middle, y + 20.0], Anchor::Middle, "building");
    if look.compact {
        let unit = Dimension::Kilonewtons.unit(look.system).symbol;
        drawing.text(Ink::Small, [2.0, y + 20.0], Anchor::Start, format!("in {unit}"));
    }
    if !flow.frames.is_empty() {
        let noun = if flow.frames.len() == 1 { "frame" } else { "frames" };
        let x = (stage.frames[0] + stage.frames[1]) / 2.0;
        drawing.text(Ink::Text, [x, y + 20.0], Anchor::Middle, format!("{noun} {}", flow.frames.join(" + ")));
        let x = (stage.building[1] + stage.frames[0]) / 2.0;
        drawing.text(Ink::Small, [x, y + 20.0], Anchor::Middle, "slab");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn flow(scheme: usize, direction: Direction) -> (Flow, Model) {
        let project = sample::project(sample::CLINIC);
        let study = sample::study(&project);
        let model = Model::new(&project.building, &project.schemes[scheme]);
        (Flow::of(&study.options[scheme + 1], direction).expect("both directions are there"), model)
    }

    fn drawn(flow: &Flow, model: &Model) -> Drawing {
        let heights: Vec<f64> = model.floors.iter().map(|floor| floor.height_m).collect();
        let look = Look { direction: Direction::X, width: 460.0, compact: false, chosen: Some(2), system: System::Si };
        stream(flow, model, &Rows::of(&heights, 1), look)
    }

    #[test]
    fn bands_are_as_wide_as_their_force_on_one_scale() {
        let (flow, _) = flow(3, Direction::X);
        let stage = Stage { building: [84.0, 280.0], frames: [342.0, 454.0], scale: 0.05 };
        let (building, frames) = (building_edges(&flow, &stage), frame_edges(&flow, &stage));
        for (index, storey) in flow.storeys.iter().enumerate() {
            assert!((building[index][1] - building[index][0] - storey.in_building_kn() * 0.05).abs() < 1e-9);
            assert!((frames[index][1] - frames[index][0] - storey.frames_kn * 0.05).abs() < 1e-9);
        }
    }

    #[test]
    fn nothing_reaches_beyond_the_drawing() {
        for scheme in 0..5 {
            let (flow, model) = flow(scheme, Direction::X);
            let drawing = drawn(&flow, &model);
            for shape in &drawing.shapes {
                if let Mark::Rect { x, y, w, h } = shape.mark {
                    assert!(x >= 0.0 && y >= 0.0 && x + w <= drawing.width && y + h <= drawing.height, "{shape:?}");
                }
            }
        }
    }

    #[test]
    fn a_frame_that_pushes_back_is_outlined_and_said() {
        let (mut flow, model) = flow(3, Direction::X);
        let reversed = |drawing: &Drawing| drawing.shapes.iter().filter(|shape| shape.ink == Ink::Reversed).count();
        assert_eq!(reversed(&drawn(&flow, &model)), 0);
        // The frame gives 60 kN back at the roof and so runs upwards in the top storey.
        let top = flow.storeys.last_mut().expect("storeys");
        let change = 60.0 + top.link_kn.unwrap_or(0.0);
        top.link_kn = Some(-60.0);
        top.building_kn[0] += change;
        top.frames_kn -= change;
        let drawing = drawn(&flow, &model);
        assert!(reversed(&drawing) >= 2);
        assert!(drawing.words.contains("pushes back 60.0\u{a0}kN"), "{}", drawing.words);
    }

    #[test]
    fn a_class_that_pushes_back_is_laid_over_the_others() {
        let (flow, model) = flow(2, Direction::X);
        assert!(flow.storeys.last().expect("storeys").building_kn[2] < 0.0, "the sample has a wall pushing back");
        assert!(drawn(&flow, &model).shapes.iter().any(|shape| shape.ink == Ink::Reversed));
    }

    #[test]
    fn every_floor_can_be_touched() {
        let (flow, model) = flow(0, Direction::X);
        let floors: Vec<u32> = drawn(&flow, &model).shapes.iter().filter_map(|shape| shape.floor).collect();
        assert_eq!(floors, [1, 2, 3, 4]);
    }
}
