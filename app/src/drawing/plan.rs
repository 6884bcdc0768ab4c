//! Plan strip: the connecting slab between the old edge beam and the added frame, seen from
//! above, with the shear it works in.

use super::{Anchor, Drawing, Ink, Mark, Px};
use sisterframe_core::model::{Frame, Model};
use sisterframe_core::study::SlabResult;
use sisterframe_core::units::{Dimension, System, show};

/// Draws the strip of a frame at a level. Lengths along the face are to scale; across it
/// everything is widened alike so that the slab can be seen, and the slab's own lines lean
/// as shear would make them.
pub fn slab_strip(model: &Model, frame: &Frame, slab: &SlabResult, width: f64, system: System) -> Drawing {
    const LEFT: f64 = 62.0;
    const ACROSS_PX: f64 = 150.0;
    let along = model.along(frame.direction);
    let (first, last) = (along[0].at_m, along[along.len() - 1].at_m);
    let scale = (width - 2.0 * LEFT) / (last - first).max(1e-6);
    let x = |at: f64| LEFT + (at - first) * scale;
    let line = &model.lines(frame.direction)[frame.line];

    // Depths across the face, m: old edge beam, slab, new beam.
    let old =
        frame.slabs.get(slab.level as usize - 1).and_then(Option::as_ref).map_or(0.3, |own| own.beam_width_mm / 1000.0);
    let new = frame.spec.beam_width_mm / 1000.0;
    let total = old + frame.spec.gap_m + new;
    let deep = (ACROSS_PX - 46.0) / total;
    let mut drawing = Drawing::new(width, ACROSS_PX + 44.0);
    let top = 24.0;
    let old_bottom = top + old * deep;
    let slab_bottom = old_bottom + frame.spec.gap_m * deep;
    let new_bottom = slab_bottom + new * deep;

    drawing.rect(Ink::Standing, [x(first), top], [x(last), old_bottom]);
    for (end, grid) in along.iter().enumerate() {
        if let Some(column) = model.column_on(frame.direction, frame.line, end, slab.level) {
            let half = column.reach_mm(frame.direction)[0] / 1000.0 * scale;
            let at = x(grid.at_m);
            drawing.rect(Ink::Standing, [at - half, top - 4.0], [at + half, old_bottom]);
        }
        drawing.text(Ink::Small, [x(grid.at_m), top - 9.0], Anchor::Middle, grid.name.clone());
    }
    let (from, to) = (frame.along_m[0], frame.along_m[frame.along_m.len() - 1]);
    drawing.rect(Ink::AddedFaint, [x(from), old_bottom], [x(to), slab_bottom]);
    // Lines square across the slab before the load lean with it.
    let lean = (slab_bottom - old_bottom) * 0.35 * slab.elastic_force_kn.signum();
    let count = ((x(to) - x(from)) / 26.0).floor().max(2.0) as usize;
    for step in 0..=count {
        let at = x(from) + (x(to) - x(from)) * step as f64 / count as f64;
        let (upper, lower) = (at + lean / 2.0, at - lean / 2.0);
        let clamp = |at: f64| at.clamp(x(from), x(to));
        drawing.put(
            Ink::Thin,
            Mark::Path(format!("M{} {}L{} {}", Px(clamp(upper)), Px(old_bottom), Px(clamp(lower)), Px(slab_bottom))),
        );
    }
    drawing.rect(Ink::Added, [x(from), slab_bottom], [x(to), new_bottom]);
    for at in &frame.along_m {
        let half = frame.spec.column_along_mm / 2000.0 * scale;
        drawing.rect(Ink::AddedThin, [x(*at) - half, slab_bottom], [x(*at) + half, new_bottom + 4.0]);
    }
    let sense = if slab.elastic_force_kn < 0.0 { -1.0 } else { 1.0 };
    let middle = (x(from) + x(to)) / 2.0;
    let half = ((x(to) - x(from)) * 0.22).clamp(20.0, 90.0);
    let inset = ((slab_bottom - old_bottom) * 0.22).min(9.0);
    drawing.arrow([middle - half * sense, old_bottom + inset], [middle + half * sense, old_bottom + inset], 3.0);
    drawing.arrow([middle + half * sense, slab_bottom - inset], [middle - half * sense, slab_bottom - inset], 3.0);

    let force = show(slab.elastic_force_kn.abs(), Dimension::Kilonewtons, system);
    drawing.text(Ink::Small, [LEFT - 15.0, (top + old_bottom) / 2.0 + 4.0], Anchor::End, format!("line {}", line.name));
    drawing.text(Ink::Small, [LEFT - 15.0, (old_bottom + slab_bottom) / 2.0 + 4.0], Anchor::End, "slab");
    drawing.text(Ink::Small, [LEFT - 15.0, (slab_bottom + new_bottom) / 2.0 + 4.0], Anchor::End, frame.name());
    let length = show(to - from, Dimension::Metres, system);
    let gap = show(frame.spec.gap_m, Dimension::Metres, system);
    drawing.text(
        Ink::Figure,
        [middle, new_bottom + 24.0],
        Anchor::Middle,
        format!("{force} over {length}, clear width {gap}"),
    );
    drawing.words = format!(
        "Plan of the connecting slab on line {} at level {}: between the old edge beam and the external frame it \
         passes {force} by shear in its own plane over a length of {length}; its clear width is {gap}. The frame \
         pushes back along its far edge with the same force.",
        line.name, slab.level
    );
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn edges_of_the_slab_are_pushed_opposite_ways_and_the_words_say_how_much() {
        let project = sample::project(sample::CLINIC);
        let study = sample::study(&project);
        let model = Model::new(&project.building, &project.schemes[3]);
        let slab = &study.options[4].slabs[1];
        let drawing = slab_strip(&model, &model.frames[0], slab, 500.0, System::Si);
        let arrows: Vec<&String> = drawing
            .shapes
            .iter()
            .filter_map(|shape| match &shape.mark {
                Mark::Path(d) if shape.ink == Ink::Demand => Some(d),
                _ => None,
            })
            .collect();
        assert_eq!(arrows.len(), 2);
        let start = |d: &str| d[1..].split(' ').next().and_then(|x| x.parse::<f64>().ok()).expect("a path");
        assert!(start(arrows[0]) < start(arrows[1]));
        let force = show(slab.elastic_force_kn, Dimension::Kilonewtons, System::Si);
        assert!(drawing.words.contains(&force), "{}", drawing.words);
    }
}
