//! How the floor of a storey moves, exaggerated.

use super::ground_plan::{LINE_PX, WORD_PX, scale_to};
use super::{Anchor, Drawing, Ink, Mark, closed};
use sisterframe_core::model::Model;
use sisterframe_core::order;
use sisterframe_core::project::Direction;
use sisterframe_core::study::FloorMove;
use sisterframe_core::units::{Dimension, System, show};

/// A line across the direction with what it carries in a storey, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct TwistLine {
    /// Name.
    pub name: String,
    /// Ordinate across the direction, m.
    pub at_m: f64,
    /// Its shear, and what it was before.
    pub words: String,
}

/// How a floor moves under the elastic demand, exaggerated: the plan as it is and as it would
/// stand, with the shear of each line.
pub fn twist(
    model: &Model,
    direction: Direction,
    moved: &FloorMove,
    lines: &[TwistLine],
    width: f64,
    height: f64,
    system: System,
) -> Drawing {
    // Words stand to the right, beside lines along x and in a list for lines along y.
    let (scale, plan_high) = scale_to(model, width - 150.0, height);
    let high = plan_high.max(LINE_PX * (lines.len() as f64 + 1.0));
    let [[x0, x1], [y0, y1]] = [
        [model.x_lines[0].at_m, model.x_lines[model.x_lines.len() - 1].at_m],
        [model.y_lines[0].at_m, model.y_lines[model.y_lines.len() - 1].at_m],
    ];
    let mut drawing = Drawing::new(width, high);
    // Millimetres and milliradians over metres.
    let shift = |[x, y]: [f64; 2]| {
        let (dx, dy) = (x - moved.centre_m[0], y - moved.centre_m[1]);
        [(moved.moved_mm[0] - moved.turned_mrad * dy) / 1000.0, (moved.moved_mm[1] + moved.turned_mrad * dx) / 1000.0]
    };
    let corners = [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
    let most = corners.iter().flat_map(|corner| shift(*corner)).fold(0.0_f64, |most, own| most.max(own.abs()));
    if most <= 0.0 {
        return drawing;
    }
    // A round factor that moves the furthest corner by a twelfth of the plan.
    let wanted = 0.085 * (x1 - x0).max(y1 - y0) / most;
    let factor = [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0]
        .into_iter()
        .find(|round| *round <= wanted)
        .unwrap_or(1.0);
    let stands = |point: [f64; 2]| {
        let [u, v] = shift(point);
        scale.at([point[0] + factor * u, point[1] + factor * v])
    };
    drawing.put(Ink::Outline, Mark::Path(closed(&corners.map(|corner| scale.at(corner)))));
    drawing.put(Ink::Moved, Mark::Path(closed(&corners.map(stands))));
    let mut last = f64::NEG_INFINITY;
    let mut lowest = f64::INFINITY;
    let beside = scale.at([x1 + 0.09 * (x1 - x0), 0.0])[0] + 10.0;
    let list = LINE_PX * lines.len() as f64;
    let mut listed = (scale.at([x0, y1])[1] + 4.0).min(high - list).max(LINE_PX);
    let mut ordered: Vec<&TwistLine> = lines.iter().collect();
    order::sort_by(&mut ordered, |one, other| one.at_m.total_cmp(&other.at_m));
    for line in ordered {
        let ends = match direction {
            Direction::X => [[x0, line.at_m], [x1, line.at_m]],
            Direction::Y => [[line.at_m, y0], [line.at_m, y1]],
        };
        let [from, to] = ends.map(stands);
        drawing.line(Ink::Thin, from, to);
        let [fx, fy] = scale.at(ends[1]);
        match direction {
            Direction::X => {
                // A frame stands close to its face: its words move up rather than run into each other.
                let fy = fy.min(lowest - LINE_PX);
                lowest = fy;
                drawing.text(Ink::Small, [beside, fy + 4.0], Anchor::Start, line.words.clone());
            }
            // Lines along y stand beside each other: only their names have room there.
            Direction::Y => {
                drawing.text(Ink::Small, [beside, listed], Anchor::Start, line.words.clone());
                listed += LINE_PX;
                if fx - last > WORD_PX * (line.name.chars().count() as f64 + 0.5) {
                    let above = fy - 0.09 * (x1 - x0).max(y1 - y0) * scale.px_m - 4.0;
                    drawing.text(Ink::Small, [fx, above.max(LINE_PX)], Anchor::Middle, line.name.clone());
                    last = fx;
                }
            }
        }
    }
    let far = corners.map(|corner| shift(corner)[direction.index()].abs() * 1000.0);
    let (least, largest) =
        far.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), own| (low.min(*own), high.max(*own)));
    let [least, largest] = [least, largest].map(|moved| show(moved, Dimension::Millimetres, system));
    drawing.words = if least == largest {
        format!("The whole floor moves {least} without turning, drawn {factor:.0} times larger.")
    } else {
        format!("The floor moves {least} at one side and {largest} at the other, drawn {factor:.0} times larger.")
    };
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use sisterframe_core::evaluate::outline;
    use sisterframe_core::project::Scheme;

    #[test]
    fn a_turning_floor_is_drawn_turned() {
        let project = sample::project(include_str!("../../../demo-scenarios/corner.json"));
        let study = outline(&project);
        let bare = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
        let model = Model::new(&project.building, &bare);
        let moved = &study.options[0].directions[0].storeys[0].floor;
        assert!(moved.turned_mrad.abs() > 0.1);
        let drawing = twist(&model, Direction::X, moved, &[], 500.0, 300.0, System::Si);
        assert!(drawing.words.contains("times larger"), "{}", drawing.words);
        assert!(drawing.shapes.len() >= 2);
    }
}
