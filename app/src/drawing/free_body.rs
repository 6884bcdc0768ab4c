//! Free body of a floor: the floor cut loose with every force that acts on it.

use super::{Anchor, Drawing, Ink, Mark};
use sisterframe_core::place::Class;
use sisterframe_core::project::Direction;
use sisterframe_core::study::{DirectionResult, OptionResult};
use sisterframe_core::units::{Dimension, System, show};

/// From which side a force acts on a floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Inertia of the floor itself.
    Own,
    /// The storey above.
    Above,
    /// The storey below.
    Below,
    /// A connecting slab.
    Slab,
}

/// A force on a floor, kN, positive along the push.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// What it comes from.
    pub name: String,
    /// From which side.
    pub side: Side,
    /// The force.
    pub force_kn: f64,
}

/// A floor cut loose.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is.
    pub name: String,
    /// Whether it is the floor of an external frame.
    pub external: bool,
    /// Everything that acts on it.
    pub terms: Vec<Term>,
}

impl Body {
    /// What is left over, kN: nothing, if the floor is in balance.
    pub fn rest_kn(&self) -> f64 {
        self.terms.iter().map(|term| term.force_kn).sum()
    }

    /// Sum of the forces from one side, kN.
    fn side_kn(&self, side: Side) -> f64 {
        self.terms.iter().filter(|term| term.side == side).map(|term| term.force_kn).sum()
    }

    fn push(&mut self, name: impl Into<String>, side: Side, force_kn: f64) {
        self.terms.push(Term { name: name.into(), side, force_kn });
    }
}

/// The floor at a level of the building, then that of each external frame there.
pub fn bodies(option: &OptionResult, direction: Direction, level: u32) -> Vec<Body> {
    let along_x = direction == Direction::X;
    let Some(result) = option.directions.iter().find(|result| result.along_x == along_x) else { return Vec::new() };
    let Some(index) = (level as usize).checked_sub(1).filter(|index| *index < result.storeys.len()) else {
        return Vec::new();
    };
    let slabs: Vec<_> = option.slabs.iter().filter(|slab| slab.along_x == along_x && slab.level == level).collect();
    let own: f64 = slabs.iter().map(|slab| slab.own_inertia_kn).sum();
    let mut floor = Body { name: format!("Floor of the building, level {level}"), external: false, terms: Vec::new() };
    floor.push("Force on the floor", Side::Own, result.storeys[index].floor_force_kn - own);
    for (class, force) in Class::ALL.into_iter().zip(in_building(result, index + 1)) {
        if force != 0.0 {
            floor.push(format!("From storey {} above, {}", level + 1, words(class)), Side::Above, force);
        }
    }
    for (class, force) in Class::ALL.into_iter().zip(in_building(result, index)) {
        if force != 0.0 {
            floor.push(format!("Held by storey {level} below, {}", words(class)), Side::Below, -force);
        }
    }
    for slab in &slabs {
        floor.push(format!("Connecting slab on line {}", slab.face), Side::Slab, -slab.elastic_force_kn);
    }
    let mut bodies = vec![floor];
    for slab in slabs {
        let mut body = Body {
            name: format!("Floor of the external frame on line {}, level {level}", slab.face),
            external: true,
            terms: Vec::new(),
        };
        body.push(format!("Connecting slab on line {}", slab.face), Side::Slab, slab.elastic_force_kn);
        body.push("Force on the frame's own mass", Side::Own, slab.own_inertia_kn);
        if slab.shear_above_kn != 0.0 {
            body.push(format!("From the frame's storey {} above", level + 1), Side::Above, slab.shear_above_kn);
        }
        body.push(format!("Held by the frame's storey {level} below"), Side::Below, -slab.shear_below_kn);
        bodies.push(body);
    }
    bodies
}

const fn words(class: Class) -> &'static str {
    match class {
        Class::AsBuilt => "members as built",
        Class::Strengthened => "strengthened members",
        Class::New => "new walls",
    }
}

/// Storey shear of the building by class without external frames, kN; none above the roof.
fn in_building(result: &DirectionResult, index: usize) -> [f64; 3] {
    let Some(storey) = result.storeys.get(index) else { return [0.0; 3] };
    let external: f64 =
        result.lines.iter().filter(|line| line.external).filter_map(|line| line.shear_kn.get(index)).sum();
    let [as_built, strengthened, new] = storey.class_shear_kn;
    // New work in the building is what remains of its class; a rest of rounding is no wall.
    let walls = if (new - external).abs() <= 1e-6 * new.abs() { 0.0 } else { new - external };
    [as_built, strengthened, walls]
}

/// Draws a floor with its forces, each arrow as long as its force.
pub fn free_body(body: &Body, most_kn: f64, system: System) -> Drawing {
    const WIDTH: f64 = 372.0;
    const HEIGHT: f64 = 158.0;
    const FLOOR: [f64; 4] = [130.0, 70.0, 242.0, 84.0];
    const LONGEST: f64 = 96.0;
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    let [left, top, right, bottom] = FLOOR;
    let middle = (left + right) / 2.0;
    let (above, below) = (body.side_kn(Side::Above), body.side_kn(Side::Below));
    let (faint, full) = if body.external { (Ink::AddedFaint, Ink::Added) } else { (Ink::Faint, Ink::Standing) };
    for x in [left + 10.0, right - 10.0] {
        drawing.rect(faint, [x - 4.0, bottom], [x + 4.0, bottom + 28.0]);
        if above != 0.0 {
            drawing.rect(faint, [x - 4.0, top - 28.0], [x + 4.0, top]);
        }
    }
    drawing.put(full, Mark::Rect { x: left, y: top, w: right - left, h: bottom - top });

    let length = |force: f64| if most_kn > 0.0 { (force.abs() / most_kn * LONGEST).max(9.0) } else { 9.0 };
    let value = |force: f64| show(force.abs(), Dimension::Kilonewtons, system);
    for (force, y, label_y, name) in
        [(above, top - 15.0, top - 36.0, "from above"), (below, bottom + 15.0, bottom + 46.0, "held below")]
    {
        if force != 0.0 {
            let half = length(force) / 2.0 * force.signum();
            drawing.arrow([middle - half, y], [middle + half, y], 3.0);
            drawing.text(Ink::DemandText, [middle, label_y], Anchor::Middle, format!("{} {name}", value(force)));
        }
    }
    // On the building its own force comes from the left and the slab lies on the right; on the
    // frame, which is drawn on the other side of the slab, it is the other way round.
    let y = (top + bottom) / 2.0;
    let ends = if body.external { [right, left] } else { [left, right] };
    for (side, end, name) in [(Side::Own, ends[0], "on its own mass"), (Side::Slab, ends[1], "at the slab")] {
        let force = body.side_kn(side);
        if force == 0.0 {
            continue;
        }
        let outward = if end == left { -1.0 } else { 1.0 };
        let (near, far) = (end + outward * 4.0, end + outward * (4.0 + length(force)));
        let (from, to) = if force * outward < 0.0 { (far, near) } else { (near, far) };
        drawing.arrow([from, y], [to, y], 3.0);
        let anchor = if outward < 0.0 { Anchor::End } else { Anchor::Start };
        drawing.text(Ink::DemandText, [end + outward * 8.0, y - 12.0], anchor, value(force));
        drawing.text(Ink::Small, [end + outward * 8.0, y + 22.0], anchor, name);
    }
    let terms: Vec<String> = body
        .terms
        .iter()
        .map(|term| format!("{} {}", term.name, show(term.force_kn, Dimension::Kilonewtons, system)))
        .collect();
    drawing.words = format!("{}: {}.", body.name, terms.join(", "));
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn forces_on_every_floor_of_building_and_frame_sum_to_nothing() {
        let study = sample::study(&sample::project(sample::CLINIC));
        let mut external = 0;
        for option in &study.options {
            for direction in Direction::BOTH {
                for level in 1..=4 {
                    for body in bodies(option, direction, level) {
                        external += usize::from(body.external);
                        let most = body.terms.iter().map(|term| term.force_kn.abs()).fold(1.0, f64::max);
                        assert!(body.rest_kn().abs() < 1e-9 * most, "{}: {}", body.name, body.rest_kn());
                    }
                }
            }
        }
        assert_eq!(external, 12, "one frame and then two, over four levels");
    }

    #[test]
    fn there_is_no_floor_below_the_first_or_above_the_roof() {
        let study = sample::study(&sample::project(sample::CLINIC));
        assert!(bodies(&study.options[0], Direction::X, 0).is_empty());
        assert!(bodies(&study.options[0], Direction::X, 5).is_empty());
    }

    #[test]
    fn an_arrow_is_as_long_as_its_force() {
        let body = Body {
            name: "Floor".to_owned(),
            external: false,
            terms: vec![
                Term { name: "a".to_owned(), side: Side::Own, force_kn: 100.0 },
                Term { name: "b".to_owned(), side: Side::Below, force_kn: -100.0 },
            ],
        };
        let drawing = free_body(&body, 200.0, System::Si);
        let arrows = drawing.shapes.iter().filter(|shape| shape.ink == Ink::Demand).count();
        assert_eq!(arrows, 2);
        assert!(drawing.words.contains("a 100\u{a0}kN, b −100\u{a0}kN"), "{}", drawing.words);
    }
}
