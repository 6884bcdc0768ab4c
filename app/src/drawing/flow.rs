//! The forces of one direction of an option, as the stream draws them.

use sisterframe_core::project::Direction;
use sisterframe_core::study::OptionResult;
use sisterframe_core::units::{Dimension, System, show};

/// Force that travels through a storey and the floor on top of it, kN.
#[derive(Clone, Debug, PartialEq)]
pub struct FlowStorey {
    /// Number, from 1.
    pub storey: u32,
    /// On the building's floor.
    pub floor_kn: f64,
    /// On the external frames' own mass at that floor.
    pub own_kn: f64,
    /// Across the connecting slabs, positive into the frames; `None` without a slab there.
    pub link_kn: Option<f64>,
    /// In the building below that floor: as built, strengthened, new walls.
    pub building_kn: [f64; 3],
    /// In the external frames below that floor.
    pub frames_kn: f64,
}

impl FlowStorey {
    /// Storey shear of the building alone.
    pub fn in_building_kn(&self) -> f64 {
        self.building_kn.iter().sum()
    }
}

/// The forces of one direction of an option.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flow {
    /// Storeys from the ground up.
    pub storeys: Vec<FlowStorey>,
    /// Names of the external frames.
    pub frames: Vec<String>,
}

impl Flow {
    /// Picks the forces out of a result; nothing if the direction is withheld.
    pub fn of(option: &OptionResult, direction: Direction) -> Option<Self> {
        let along_x = direction == Direction::X;
        let result = option.directions.iter().find(|result| result.along_x == along_x)?;
        let external = || result.lines.iter().filter(|line| line.external);
        let storeys = result
            .storeys
            .iter()
            .enumerate()
            .map(|(index, storey)| {
                let slabs =
                    || option.slabs.iter().filter(|slab| slab.along_x == along_x && slab.level == storey.storey);
                let frames_kn: f64 = external().filter_map(|line| line.shear_kn.get(index)).sum();
                let own_kn: f64 = slabs().map(|slab| slab.own_inertia_kn).sum();
                let [as_built, strengthened, new] = storey.class_shear_kn;
                FlowStorey {
                    storey: storey.storey,
                    floor_kn: storey.floor_force_kn - own_kn,
                    own_kn,
                    link_kn: slabs().next().map(|_| slabs().map(|slab| slab.elastic_force_kn).sum()),
                    building_kn: [as_built, strengthened, new - frames_kn],
                    frames_kn,
                }
            })
            .collect();
        Some(Self { storeys, frames: external().map(|line| line.name.clone()).collect() })
    }

    /// Shear of the building and the frames together under a floor.
    pub(super) fn total_kn(&self, index: usize) -> f64 {
        self.storeys[index].in_building_kn() + self.storeys[index].frames_kn
    }

    /// The stream in words, from the roof down.
    pub(super) fn words(&self, system: System) -> String {
        let flow = self;
        let force = |value: f64| show(value, Dimension::Kilonewtons, system);
        let mut text = String::from("Force stream, from the roof down. ");
        for storey in flow.storeys.iter().rev() {
            text.push_str(&format!("Level {}: {} arrive", storey.storey, force(storey.floor_kn)));
            match storey.link_kn {
                Some(link) if link < 0.0 => {
                    text.push_str(&format!(", the external frame pushes back {}", force(-link)))
                }
                Some(link) => text.push_str(&format!(", {} cross the connecting slab", force(link))),
                None => {}
            }
            text.push_str(&format!("; storey {}: {} in the building", storey.storey, force(storey.in_building_kn())));
            if !flow.frames.is_empty() {
                text.push_str(&format!(", {} in the external frame", force(storey.frames_kn)));
            }
            text.push_str(". ");
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn what_arrives_at_a_floor_leaves_it() {
        for scheme in 0..5 {
            let study = sample::study(&sample::project(sample::CLINIC));
            let flow = Flow::of(&study.options[scheme + 1], Direction::X).expect("both directions are there");
            for index in 0..flow.storeys.len() {
                let storey = &flow.storeys[index];
                let above = flow.storeys.get(index + 1);
                let link = storey.link_kn.unwrap_or(0.0);
                let building = above.map_or(0.0, FlowStorey::in_building_kn) + storey.floor_kn - link;
                assert!((building - storey.in_building_kn()).abs() < 1e-9 * building.abs().max(1.0));
                let frames = above.map_or(0.0, |above| above.frames_kn) + storey.own_kn + link;
                assert!((frames - storey.frames_kn).abs() < 1e-9 * frames.abs().max(1.0));
            }
        }
    }
}
