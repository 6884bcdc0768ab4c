//! Small drawings of options, all to one scale, each of the line that shows most of it.

use super::{Drawing, Elevation, Frames};
use sisterframe_core::model::{Model, PanelOrigin};
use sisterframe_core::project::Direction;

/// Room below the ground and beside the building, px.
const MARGIN_PX: f64 = 6.0;

/// What to draw of an option.
#[derive(Clone, Copy, Debug)]
pub enum Thumbnail<'a> {
    /// A building, with or without measures.
    Building(&'a Model),
    /// A new building of the size of this one.
    Rebuilt(&'a Model),
}

/// Draws options to a common scale that fits all of them into a box; the drawings come as
/// high as the tallest needs.
pub fn thumbnails(options: &[Thumbnail<'_>], width: f64, height: f64) -> Vec<Drawing> {
    let lines: Vec<(&Model, Direction, usize)> = options
        .iter()
        .map(|option| match option {
            Thumbnail::Building(model) => {
                let (direction, line) = telling_line(model);
                (*model, direction, line)
            }
            Thumbnail::Rebuilt(model) => (*model, front(model), 0),
        })
        .collect();
    let scale = lines
        .iter()
        .map(|(model, direction, _)| {
            let along = (width - 2.0 * MARGIN_PX - 4.0) / length_m(model, *direction).max(1.0);
            let up = (height - 2.0 * MARGIN_PX) / model.floors.last().map_or(1.0, |floor| floor.level_m);
            along.min(up)
        })
        .fold(f64::INFINITY, f64::min);
    // No taller than the tallest of them, so that a long low building wastes no paper.
    let tallest = lines.iter().filter_map(|(model, ..)| model.floors.last()).map(|floor| floor.level_m);
    let height = tallest.fold(0.0, f64::max) * scale + 2.0 * MARGIN_PX;
    options
        .iter()
        .zip(lines)
        .map(|(option, (model, direction, line))| {
            let along = model.along(direction);
            let left = (width - length_m(model, direction) * scale) / 2.0 - along[0].at_m * scale;
            let elevation = Elevation { model, direction, line, scale, origin: [left, height - MARGIN_PX] };
            let mut drawing = Drawing::new(width, height);
            match option {
                Thumbnail::Building(_) => {
                    elevation.draw(&mut drawing, Frames::InFront);
                    drawing.words = words(&elevation);
                }
                Thumbnail::Rebuilt(_) => {
                    elevation.draw_rebuilt(&mut drawing);
                    drawing.words = format!("A new building of {} storeys in dashed outline.", model.floors.len());
                }
            }
            elevation.draw_ground(&mut drawing, MARGIN_PX);
            drawing
        })
        .collect()
}

fn length_m(model: &Model, direction: Direction) -> f64 {
    let along = model.along(direction);
    along[along.len() - 1].at_m - along[0].at_m
}

/// The direction of the longer side.
fn front(model: &Model) -> Direction {
    if length_m(model, Direction::Y) > length_m(model, Direction::X) { Direction::Y } else { Direction::X }
}

/// The line whose elevation shows most added work; the front where nothing is added.
fn telling_line(model: &Model) -> (Direction, usize) {
    let front = front(model);
    let mut best = (front, 0, 0.0);
    for direction in [front, front.across()] {
        for line in 0..model.lines(direction).len() {
            let shown = added_m2(model, direction, line);
            // The later line must show clearly more: of equal ones the first stands for all.
            if shown > best.2 * 1.001 + 1e-9 {
                best = (direction, line, shown);
            }
        }
    }
    (best.0, best.1)
}

/// Area of added work in the elevation of a line, m².
fn added_m2(model: &Model, direction: Direction, line: usize) -> f64 {
    let mut area = 0.0;
    for column in &model.columns {
        let on = match direction {
            Direction::X => column.iy,
            Direction::Y => column.ix,
        };
        if on != line {
            continue;
        }
        let height = model.floors[column.storey as usize - 1].height_m;
        if let Some(jacket) = &column.jacket {
            let seen: f64 = jacket.skin(direction).along.iter().sum();
            let across = sisterframe_core::sections::across(column, direction).0;
            area += if seen > 0.0 { seen } else { across } / 1000.0 * height;
        }
        if let Some(wings) = &column.wings
            && wings.spec.direction == direction
        {
            area += (wings.lower_mm + wings.higher_mm) / 1000.0 * height;
        }
        if column.gap_mm[direction.index()].is_some() {
            area += 0.1 * height;
        }
    }
    for panel in &model.panels {
        if panel.direction == direction && panel.line == line && matches!(panel.origin, PanelOrigin::Infill(_)) {
            let [length, clear] = model.panel_clear_m(panel);
            area += length * clear;
        }
    }
    for frame in &model.frames {
        if frame.direction == direction && frame.line == line {
            let top = model.floors[frame.storeys as usize - 1].level_m;
            let length = frame.along_m.last().unwrap_or(&0.0) - frame.along_m.first().unwrap_or(&0.0);
            area += frame.along_m.len() as f64 * frame.spec.column_along_mm / 1000.0 * top;
            area += f64::from(frame.storeys) * length * frame.spec.beam_depth_mm / 1000.0;
        }
    }
    area
}

/// What an elevation shows, in words.
fn words(elevation: &Elevation<'_>) -> String {
    let Elevation { model, direction, line, .. } = *elevation;
    let name = &model.lines(direction)[line].name;
    let mut parts = Vec::new();
    let on_line = || {
        model.columns.iter().filter(move |column| match direction {
            Direction::X => column.iy == line,
            Direction::Y => column.ix == line,
        })
    };
    let columns = on_line().filter(|column| column.storey == 1).count();
    let jackets = on_line().filter(|column| column.jacket.is_some());
    let wings = on_line().filter(|column| column.wings.as_ref().is_some_and(|own| own.spec.direction == direction));
    let gaps = on_line().filter(|column| column.gap_mm[direction.index()].is_some());
    parts.extend(spread(jackets.map(|column| column.storey), "jacketed column"));
    parts.extend(spread(wings.map(|column| column.storey), "column with wing walls"));
    parts.extend(spread(gaps.map(|column| column.storey), "column cut free of its sill"));
    let infill = model.panels.iter().filter(|panel| {
        panel.direction == direction && panel.line == line && matches!(panel.origin, PanelOrigin::Infill(_))
    });
    parts.extend(spread(infill.map(|panel| panel.storey), "bay filled with a wall"));
    for frame in elevation.frames() {
        parts.push(format!(
            "an external frame of {} columns over {} storeys in front",
            frame.along_m.len(),
            frame.storeys
        ));
    }
    let what = if parts.is_empty() { "nothing added".to_owned() } else { parts.join("; ") };
    format!("Elevation of line {name}, {columns} columns, {} storeys: {what}.", model.floors.len())
}

/// How many of something there are, by storey.
fn spread(storeys: impl Iterator<Item = u32>, one: &str) -> Option<String> {
    let storeys: Vec<u32> = storeys.collect();
    let (first, last) = (*storeys.iter().min()?, *storeys.iter().max()?);
    let count = storeys.len();
    let noun = if count == 1 { one.to_owned() } else { plural(one) };
    let place = if first == last { format!("storey {first}") } else { format!("storeys {first} to {last}") };
    Some(format!("{count} {noun} in {place}"))
}

/// Plural of a phrase whose noun is "column" or "bay", with what refers to it.
fn plural(one: &str) -> String {
    one.replace("column", "columns")
        .replace("bay", "bays")
        .replace(" its sill", " their sills")
        .replace("a wall", "walls")
}

#[cfg(test)]
mod tests {
    use super::super::{Ink, Mark};
    use super::*;
    use sisterframe_core::project::{Project, Scheme};

    const DEMOS: [&str; 4] = [
        include_str!("../../../demo-scenarios/school.json"),
        include_str!("../../../demo-scenarios/clinic.json"),
        include_str!("../../../demo-scenarios/office.json"),
        include_str!("../../../demo-scenarios/corner.json"),
    ];

    fn models(text: &str) -> (Project, Vec<Model>) {
        let project = Project::from_json(text).expect("demo opens");
        let bare = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
        let mut models = vec![Model::new(&project.building, &bare)];
        models.extend(project.schemes.iter().map(|scheme| Model::new(&project.building, scheme)));
        (project, models)
    }

    fn has(drawing: &Drawing, inks: &[Ink]) -> bool {
        drawing.shapes.iter().any(|shape| inks.contains(&shape.ink))
    }

    #[test]
    fn every_scheme_of_every_demo_shows_its_added_work_inside_the_box() {
        for text in DEMOS {
            let (project, models) = models(text);
            let options: Vec<Thumbnail> = models.iter().map(Thumbnail::Building).collect();
            let drawings = thumbnails(&options, 150.0, 100.0);
            assert!(!has(&drawings[0], &[Ink::Added, Ink::AddedThin]), "{}", project.name);
            for (drawing, scheme) in drawings[1..].iter().zip(&project.schemes) {
                assert!(has(drawing, &[Ink::Added, Ink::AddedThin]), "{}: {}", project.name, scheme.name);
                assert!(!drawing.words.contains("nothing added"), "{}", drawing.words);
                for shape in &drawing.shapes {
                    if let Mark::Rect { x, y, w, h } = shape.mark {
                        assert!(x >= 0.0 && y >= 0.0 && x + w <= 150.0 && y + h <= 100.0, "{}: {shape:?}", scheme.name);
                    }
                }
            }
        }
    }

    #[test]
    fn a_bay_is_drawn_as_long_as_it_is_on_every_thumbnail() {
        let (_, models) = models(DEMOS[1]);
        let options = [Thumbnail::Building(&models[0]), Thumbnail::Building(&models[1])];
        let drawings = thumbnails(&options, 150.0, 100.0);
        let widths: Vec<f64> = drawings
            .iter()
            .map(|drawing| {
                let columns: Vec<f64> = drawing
                    .shapes
                    .iter()
                    .filter_map(|shape| match (shape.ink, &shape.mark) {
                        (Ink::Standing, Mark::Rect { x, w, h, .. }) if h > w => Some(x + w / 2.0),
                        _ => None,
                    })
                    .collect();
                columns.iter().fold(0.0_f64, |most, x| most.max(*x))
                    - columns.iter().fold(1e9_f64, |least, x| least.min(*x))
            })
            .collect();
        // Seven lines 5.4 m apart: 32.4 m fill the box of 150 px less its margins.
        let scale = (150.0 - 16.0) / 32.4;
        for width in widths {
            assert!((width - 32.4 * scale).abs() < 1e-9, "{width}");
        }
    }

    #[test]
    fn an_external_frame_is_drawn_in_front_of_its_face() {
        let (project, models) = models(DEMOS[1]);
        let place = project.schemes.iter().position(|scheme| scheme.name == "Frame on A").expect("scheme of the demo");
        let drawing = &thumbnails(&[Thumbnail::Building(&models[place + 1])], 150.0, 100.0)[0];
        assert!(drawing.words.starts_with("Elevation of line A"), "{}", drawing.words);
        assert!(drawing.words.contains("external frame"), "{}", drawing.words);
        let last = drawing.shapes.iter().rposition(|shape| shape.ink == Ink::Standing).expect("old members");
        let first = drawing.shapes.iter().position(|shape| matches!(shape.ink, Ink::Added | Ink::AddedThin));
        assert!(first.is_some_and(|first| first > last));
    }

    #[test]
    fn a_rebuild_is_only_an_outline() {
        let (_, models) = models(DEMOS[0]);
        let drawing = &thumbnails(&[Thumbnail::Rebuilt(&models[0])], 150.0, 100.0)[0];
        assert!(has(drawing, &[Ink::Rebuilt]));
        assert!(!has(drawing, &[Ink::Standing, Ink::Masonry, Ink::Added]));
    }
}
