//! Checks across fields: references, spans, geometry, measures that exclude each other.

use super::combine::combination_problem;
use super::fields::{FieldError, Names, Span};
use super::fits::{jacket_bars_fit, wing_bars_fit};
use super::{Building, Direction, GridLine, Measure, Project, Scheme, WorkingTimes};
use crate::phrase::Phrase;
use crate::units::Dimension::{Gravity, Metres, Millimetres, Seconds};

/// Slack of comparisons between sums and differences of given lengths, so that a limit met
/// exactly is not missed by rounding.
const HAIR: f64 = 1e-6;

/// A refusal at a path written out.
pub(super) fn refuse(
    path: impl Into<String>,
    value: impl Into<String>,
    problem: impl Into<Phrase>,
    permitted: impl Into<Phrase>,
) -> FieldError {
    FieldError { path: path.into(), value: value.into(), problem: problem.into(), permitted: permitted.into() }
}

/// Names in a sentence.
fn listed<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

impl Building {
    /// The direction a grid line runs in and its place among its like, counted from zero.
    /// A line across y (at some y) runs along x.
    pub fn line(&self, name: &str) -> Option<(Direction, usize)> {
        let find = |lines: &[GridLine]| lines.iter().position(|line| line.name == name);
        find(&self.y_lines)
            .map(|index| (Direction::X, index))
            .or_else(|| find(&self.x_lines).map(|index| (Direction::Y, index)))
    }

    /// Bays along a line that runs in `direction`.
    pub fn bays(&self, direction: Direction) -> u32 {
        let lines = match direction {
            Direction::X => &self.x_lines,
            Direction::Y => &self.y_lines,
        };
        lines.len().saturating_sub(1) as u32
    }

    /// Storeys as a span.
    pub fn all_storeys(&self) -> Span {
        Span { first: 1, last: (self.storeys.len() as u32).max(1) }
    }

    fn line_names(&self) -> impl Iterator<Item = &str> {
        self.y_lines.iter().chain(&self.x_lines).map(|line| line.name.as_str())
    }

    fn check_names(&self, names: &Names, among: &[GridLine], path: &str) -> Result<(), FieldError> {
        for (index, name) in names.0.iter().enumerate() {
            if !among.iter().any(|line| line.name == *name) {
                return Err(refuse(
                    format!("{path}[{index}]"),
                    format!("“{name}”"),
                    "no such grid line here",
                    listed(among.iter().map(|line| line.name.as_str())),
                ));
            }
        }
        Ok(())
    }

    fn check_line(&self, name: &str, path: &str) -> Result<(Direction, usize), FieldError> {
        self.line(name).ok_or_else(|| refuse(path, format!("“{name}”"), "no such grid line", listed(self.line_names())))
    }

    fn check_span(span: Option<Span>, most: u32, what: &str, path: &str) -> Result<(), FieldError> {
        match span {
            Some(span) if span.last > most => Err(refuse(
                path,
                format!("[{}, {}]", span.first, span.last),
                format!("there are only {most} {what}"),
                format!("1 to {most}"),
            )),
            _ => Ok(()),
        }
    }

    fn check_storeys(&self, span: Option<Span>, path: &str) -> Result<(), FieldError> {
        Self::check_span(span, self.storeys.len() as u32, "storeys", path)
    }
}

/// Checks a whole project across its fields.
pub(super) fn references(project: &Project) -> Result<(), FieldError> {
    grid(&project.building)?;
    placings(&project.building)?;
    panels(&project.building)?;
    super::rooms::check(&project.building)?;
    spectrum(project)?;
    project.working_times.as_ref().map_or(Ok(()), WorkingTimes::check)?;
    super::works::check(project)?;
    clear_bays(&project.building, &[], "building.columns")?;
    for (index, scheme) in project.schemes.iter().enumerate() {
        let path = format!("schemes[{index}]");
        if project.schemes[..index].iter().any(|other| other.name == scheme.name) {
            return Err(refuse(
                format!("{path}.name"),
                format!("“{}”", scheme.name),
                "two schemes have this name",
                "a name of its own",
            ));
        }
        for (place, measure) in scheme.measures.iter().enumerate() {
            check_measure(&project.building, measure, &format!("{path}.measures[{place}]"))?;
        }
        if let Some((place, problem)) = combination_problem(&project.building, scheme) {
            return Err(refuse(format!("{path}.measures[{place}]"), "", problem, "measures that go together"));
        }
        clear_bays(&project.building, &scheme.measures, &format!("{path}.measures"))?;
    }
    Ok(())
}

fn grid(building: &Building) -> Result<(), FieldError> {
    let mut seen: Vec<&str> = Vec::new();
    for (key, lines) in [("x_lines", &building.x_lines), ("y_lines", &building.y_lines)] {
        for (index, line) in lines.iter().enumerate() {
            let path = format!("building.{key}[{index}]");
            if seen.contains(&line.name.as_str()) {
                return Err(refuse(
                    format!("{path}.name"),
                    format!("“{}”", line.name),
                    "two grid lines have this name",
                    "a name of its own",
                ));
            }
            seen.push(&line.name);
            if index > 0 {
                let gap = line.at_m - lines[index - 1].at_m;
                if !(1.0 - HAIR..=25.0 + HAIR).contains(&gap) {
                    return Err(refuse(
                        format!("{path}.at_m"),
                        line.at_m.to_string(),
                        "the bay before this line is too short or too long",
                        Phrase::between(lines[index - 1].at_m + 1.0, lines[index - 1].at_m + 25.0, Metres),
                    ));
                }
            }
        }
    }
    Ok(())
}

fn unique<'a>(names: impl Iterator<Item = &'a str>, list: &str) -> Result<Vec<&'a str>, FieldError> {
    let mut seen = Vec::new();
    for (index, name) in names.enumerate() {
        if seen.contains(&name) || name == NONE {
            return Err(refuse(
                format!("building.{list}[{index}].name"),
                format!("“{name}”"),
                "the name is taken",
                "a name of its own",
            ));
        }
        seen.push(name);
    }
    Ok(seen)
}

/// The word that stands for no column or no beam in a placing.
pub(super) const NONE: &str = "none";

fn placings(building: &Building) -> Result<(), FieldError> {
    let columns = unique(building.column_types.iter().map(|column| column.name.as_str()), "column_types")?;
    let beams = unique(building.beam_types.iter().map(|beam| beam.name.as_str()), "beam_types")?;
    for (index, placing) in building.columns.iter().enumerate() {
        let path = format!("building.columns[{index}]");
        if placing.column != NONE && !columns.contains(&placing.column.as_str()) {
            return Err(refuse(
                format!("{path}.column"),
                format!("“{}”", placing.column),
                "no such column type",
                format!("{}, {NONE}", listed(columns.iter().copied())),
            ));
        }
        building.check_names(&placing.x, &building.x_lines, &format!("{path}.x"))?;
        building.check_names(&placing.y, &building.y_lines, &format!("{path}.y"))?;
        building.check_storeys(placing.storeys, &format!("{path}.storeys"))?;
    }
    for (index, placing) in building.beams.iter().enumerate() {
        let path = format!("building.beams[{index}]");
        if placing.beam != NONE && !beams.contains(&placing.beam.as_str()) {
            return Err(refuse(
                format!("{path}.beam"),
                format!("“{}”", placing.beam),
                "no such beam type",
                format!("{}, {NONE}", listed(beams.iter().copied())),
            ));
        }
        check_lines_and_bays(building, &placing.lines, placing.bays, &path)?;
        building.check_storeys(placing.storeys, &format!("{path}.storeys"))?;
    }
    for (index, beam) in building.beam_types.iter().enumerate() {
        for (storey, floor) in building.storeys.iter().enumerate() {
            if beam.depth_mm < floor.slab_mm {
                return Err(refuse(
                    format!("building.beam_types[{index}].depth_mm"),
                    beam.depth_mm.to_string(),
                    format!("the slab of storey {} is thicker than the beam", storey + 1),
                    Phrase::between(floor.slab_mm, 2000.0, Millimetres),
                ));
            }
            if beam.depth_mm / 1000.0 > 0.5 * floor.height_m {
                return Err(refuse(
                    format!("building.beam_types[{index}].depth_mm"),
                    beam.depth_mm.to_string(),
                    format!("the beam is deeper than half the height of storey {}", storey + 1),
                    Phrase::most("up to", 500.0 * floor.height_m, Millimetres),
                ));
            }
        }
    }
    for (index, column) in building.column_types.iter().enumerate() {
        let needed = 2.0 * (column.cover_mm + column.hoop_mm) + 2.0 * column.bar_mm;
        if column.x_mm.min(column.y_mm) <= needed {
            return Err(refuse(
                format!("building.column_types[{index}].cover_mm"),
                column.cover_mm.to_string(),
                "cover, hoops and bars do not fit into the section",
                Phrase::most("less than", column.x_mm.min(column.y_mm), Millimetres).and(" in all"),
            ));
        }
        if column.bars % 2 != 0 {
            return Err(refuse(
                format!("building.column_types[{index}].bars"),
                column.bars.to_string(),
                "an even number is needed",
                "4, 6, 8 …",
            ));
        }
    }
    standing_columns(building)
}

/// Every storey needs columns, and a column needs one below it.
fn standing_columns(building: &Building) -> Result<(), FieldError> {
    let mut below: Option<Vec<bool>> = None;
    for storey in building.all_storeys().iter() {
        let mut here = Vec::new();
        for y in &building.y_lines {
            for x in &building.x_lines {
                let name = building.column_at(&x.name, &y.name, storey);
                here.push(name.is_some());
                let place = here.len() - 1;
                if let (Some(name), Some(below)) = (name, &below)
                    && !below[place]
                {
                    return Err(refuse(
                        "building.columns",
                        format!("{name} at {}-{} in storey {storey}", y.name, x.name),
                        "the column has none below it",
                        "columns that stand on columns or on the ground",
                    ));
                }
            }
        }
        if here.iter().filter(|column| **column).count() < 2 {
            return Err(refuse(
                "building.columns",
                format!("storey {storey}"),
                "the storey has fewer than two columns",
                "at least two columns in every storey",
            ));
        }
        below = Some(here);
    }
    Ok(())
}

impl Building {
    /// The type of the column at a crossing in a storey (counted from 1), by the last
    /// placing that covers it.
    pub fn column_at(&self, x: &str, y: &str, storey: u32) -> Option<&str> {
        self.columns
            .iter()
            .rev()
            .find(|placing| {
                placing.x.covers(x) && placing.y.covers(y) && placing.storeys.is_none_or(|span| span.contains(storey))
            })
            .map(|placing| placing.column.as_str())
            .filter(|name| *name != NONE)
    }

    /// The type of the beam on a line in a bay (counted from 1) over a storey.
    pub fn beam_at(&self, line: &str, bay: u32, storey: u32) -> Option<&str> {
        self.beams
            .iter()
            .rev()
            .find(|placing| {
                placing.lines.covers(line)
                    && placing.bays.is_none_or(|span| span.contains(bay))
                    && placing.storeys.is_none_or(|span| span.contains(storey))
            })
            .map(|placing| placing.beam.as_str())
            .filter(|name| *name != NONE)
    }
}

fn check_lines_and_bays(building: &Building, names: &Names, bays: Option<Span>, path: &str) -> Result<(), FieldError> {
    for (index, name) in names.0.iter().enumerate() {
        let (direction, _) = building.check_line(name, &format!("{path}.lines[{index}]"))?;
        Building::check_span(bays, building.bays(direction), "bays on this line", &format!("{path}.bays"))?;
    }
    let most = building.bays(Direction::X).max(building.bays(Direction::Y));
    Building::check_span(bays, most, "bays", &format!("{path}.bays"))
}

/// Whether columns stand at both ends of a bay in a storey.
fn bay_has_columns(building: &Building, line: &str, bay: u32, storey: u32) -> bool {
    let Some((direction, index)) = building.line(line) else {
        return false;
    };
    [bay as usize - 1, bay as usize].iter().all(|end| {
        let (x, y) = match direction {
            Direction::X => (building.x_lines.get(*end), building.y_lines.get(index)),
            Direction::Y => (building.x_lines.get(index), building.y_lines.get(*end)),
        };
        matches!((x, y), (Some(x), Some(y)) if building.column_at(&x.name, &y.name, storey).is_some())
    })
}

fn check_panel(
    building: &Building,
    line: &str,
    bays: Span,
    storeys: Span,
    path: &str,
    bay_key: &str,
) -> Result<(), FieldError> {
    let (direction, _) = building.check_line(line, &format!("{path}.line"))?;
    Building::check_span(Some(bays), building.bays(direction), "bays on this line", &format!("{path}.{bay_key}"))?;
    building.check_storeys(Some(storeys), &format!("{path}.storeys"))?;
    for storey in storeys.iter() {
        for bay in bays.iter() {
            if !bay_has_columns(building, line, bay, storey) {
                return Err(refuse(
                    format!("{path}.{bay_key}"),
                    format!("bay {bay} of line {line} in storey {storey}"),
                    "the wall needs a column at each end of its bay",
                    "bays between two columns",
                ));
            }
        }
    }
    Ok(())
}

fn check_opening(
    building: &Building,
    line: &str,
    bays: Span,
    storeys: Span,
    opening: Option<&super::Opening>,
    path: &str,
) -> Result<(), FieldError> {
    let (Some(opening), Some((direction, _))) = (opening, building.line(line)) else {
        return Ok(());
    };
    let along = match direction {
        Direction::X => &building.x_lines,
        Direction::Y => &building.y_lines,
    };
    for bay in bays.iter() {
        let span = along[bay as usize].at_m - along[bay as usize - 1].at_m;
        if opening.width_mm > 800.0 * span + HAIR {
            return Err(refuse(
                format!("{path}.opening.width_mm"),
                opening.width_mm.to_string(),
                format!("the opening takes more than four fifths of bay {bay}; leave the bay out instead"),
                Phrase::between(200.0, (800.0 * span + HAIR).floor(), Millimetres),
            ));
        }
    }
    for storey in storeys.iter() {
        let height = building.storeys[storey as usize - 1].height_m;
        if opening.height_mm > 1000.0 * height + HAIR {
            return Err(refuse(
                format!("{path}.opening.height_mm"),
                opening.height_mm.to_string(),
                format!("the opening is higher than storey {storey}"),
                Phrase::between(200.0, 1000.0 * height, Millimetres),
            ));
        }
    }
    Ok(())
}

fn panels(building: &Building) -> Result<(), FieldError> {
    for (index, wall) in building.walls.iter().enumerate() {
        let path = format!("building.walls[{index}]");
        let bay = Span { first: wall.bay, last: wall.bay };
        check_panel(building, &wall.line, bay, wall.storeys, &path, "bay")?;
        check_opening(building, &wall.line, bay, wall.storeys, wall.opening.as_ref(), &path)?;
        let clash = building.walls[..index].iter().any(|other| {
            other.line == wall.line
                && other.bay == wall.bay
                && other.storeys.iter().any(|storey| wall.storeys.contains(storey))
        });
        if clash {
            return Err(refuse(
                format!("{path}.bay"),
                wall.bay.to_string(),
                "two walls stand in this place",
                "one wall to a panel",
            ));
        }
    }
    for (index, masonry) in building.masonry.iter().enumerate() {
        let path = format!("building.masonry[{index}]");
        check_lines_and_bays(building, &masonry.lines, masonry.bays, &path)?;
        building.check_storeys(masonry.storeys, &format!("{path}.storeys"))?;
        let lowest = masonry
            .storeys
            .unwrap_or_else(|| building.all_storeys())
            .iter()
            .map(|storey| building.storeys[storey as usize - 1].height_m)
            .fold(f64::INFINITY, f64::min);
        let deepest = building.beam_types.iter().map(|beam| beam.depth_mm).fold(0.0, f64::max);
        let slab = building.storeys.iter().map(|storey| storey.slab_mm).fold(0.0, f64::max);
        // At least 0.3 m of column must stay free for any of the formulas to mean something.
        let most = 1000.0 * lowest - deepest.max(slab) - 300.0;
        if let Some(sill) = masonry.sill_mm
            && sill > most + HAIR
        {
            return Err(refuse(
                format!("{path}.sill_mm"),
                sill.to_string(),
                "hardly any opening is left between sill and beam; give the panel as full height",
                Phrase::between(200.0, (most + HAIR).floor(), Millimetres),
            ));
        }
    }
    Ok(())
}

fn spectrum(project: &Project) -> Result<(), FieldError> {
    let motion = &project.ground_motion;
    if motion.sx1_g > 2.5 * motion.sxs_g {
        return Err(refuse(
            "ground_motion.sx1_g",
            motion.sx1_g.to_string(),
            "more than 2.5 times the plateau",
            Phrase::most("up to", 2.5 * motion.sxs_g, Gravity),
        ));
    }
    for (index, pair) in motion.table.windows(2).enumerate() {
        if pair[1].period_s <= pair[0].period_s {
            return Err(refuse(
                format!("ground_motion.table[{}]", index + 1),
                pair[1].period_s.to_string(),
                "periods must rise from row to row",
                Phrase::most("above", pair[0].period_s, Seconds),
            ));
        }
    }
    if motion.table.len() == 1 {
        return Err(refuse(
            "ground_motion.table",
            "one row",
            "a spectrum table needs two rows or more",
            "0 or 2 to 400 rows",
        ));
    }
    Ok(())
}

fn check_measure(building: &Building, measure: &Measure, path: &str) -> Result<(), FieldError> {
    let places = |x: &Names, y: &Names, storeys: Option<Span>| {
        building.check_names(x, &building.x_lines, &format!("{path}.x"))?;
        building.check_names(y, &building.y_lines, &format!("{path}.y"))?;
        building.check_storeys(storeys, &format!("{path}.storeys"))
    };
    match measure {
        Measure::Jacket(jacket) => {
            if jacket.closed() && jacket.bars % 4 != 0 {
                return Err(refuse(
                    format!("{path}.bars"),
                    jacket.bars.to_string(),
                    "a multiple of four is needed, the same on each face",
                    "4, 8, 12 …",
                ));
            }
            places(&jacket.x, &jacket.y, jacket.storeys)?;
            jacket_bars_fit(building, jacket, path)
        }
        Measure::WingWall(wing) => {
            places(&wing.x, &wing.y, wing.storeys)?;
            wing_bars_fit(wing, path)?;
            wing_fits(building, wing, path)
        }
        Measure::Release(release) => places(&release.x, &release.y, release.storeys),
        Measure::InfillWall(infill) => {
            let storeys = infill.storeys.unwrap_or_else(|| building.all_storeys());
            check_panel(building, &infill.line, infill.bays, storeys, path, "bays")?;
            check_opening(building, &infill.line, infill.bays, storeys, infill.opening.as_ref(), path)?;
            for wall in building.walls.iter().filter(|wall| wall.line == infill.line && infill.bays.contains(wall.bay))
            {
                if storeys.iter().any(|storey| wall.storeys.contains(storey)) {
                    return Err(refuse(
                        format!("{path}.bays"),
                        format!("bay {}", wall.bay),
                        "a wall stands there already",
                        "bays without a wall",
                    ));
                }
            }
            Ok(())
        }
        Measure::ExternalFrame(frame) => {
            let (direction, index) = building.check_line(&frame.face, &format!("{path}.face"))?;
            let last = building.bays(direction.across()) as usize;
            if index != 0 && index != last {
                let lines = match direction {
                    Direction::X => &building.y_lines,
                    Direction::Y => &building.x_lines,
                };
                return Err(refuse(
                    format!("{path}.face"),
                    format!("“{}”", frame.face),
                    "an external frame stands in front of an outer line",
                    format!("{}, {}", lines[0].name, lines[last].name),
                ));
            }
            Building::check_span(
                Some(frame.bays),
                building.bays(direction),
                "bays on this face",
                &format!("{path}.bays"),
            )?;
            let top = frame.storeys.map(|last| Span { first: 1, last });
            building.check_storeys(top, &format!("{path}.storeys"))?;
            if frame.column_bars % 4 != 0 {
                return Err(refuse(
                    format!("{path}.column_bars"),
                    frame.column_bars.to_string(),
                    "a multiple of four is needed, the same on each face",
                    "4, 8, 12 …",
                ));
            }
            let lowest = building.storeys.iter().map(|storey| storey.height_m).fold(f64::INFINITY, f64::min);
            if frame.beam_depth_mm > 500.0 * lowest {
                return Err(refuse(
                    format!("{path}.beam_depth_mm"),
                    frame.beam_depth_mm.to_string(),
                    "deeper than half a storey",
                    Phrase::between(250.0, (500.0 * lowest).floor(), Millimetres),
                ));
            }
            if frame.slab_mm > frame.beam_depth_mm {
                return Err(refuse(
                    format!("{path}.slab_mm"),
                    frame.slab_mm.to_string(),
                    "thicker than the new beam is deep",
                    Phrase::between(120.0, frame.beam_depth_mm, Millimetres),
                ));
            }
            if frame.slab_drop_mm > frame.beam_depth_mm - frame.slab_mm {
                return Err(refuse(
                    format!("{path}.slab_drop_mm"),
                    frame.slab_drop_mm.to_string(),
                    "the slab would reach below the new beam",
                    Phrase::between(0.0, frame.beam_depth_mm - frame.slab_mm, Millimetres),
                ));
            }
            Ok(())
        }
    }
}

/// Refuses wings that meet in a bay.
fn wing_fits(building: &Building, wing: &super::WingWall, path: &str) -> Result<(), FieldError> {
    let along = match wing.direction {
        Direction::X => &building.x_lines,
        Direction::Y => &building.y_lines,
    };
    let shortest = along.windows(2).map(|pair| pair[1].at_m - pair[0].at_m).fold(f64::INFINITY, f64::min);
    // Columns of up to half a metre on each side and 0.4 m of free beam must remain.
    let most = ((1000.0 * shortest - 900.0) / 2.0).max(200.0);
    if wing.length_mm > most + HAIR {
        return Err(refuse(
            format!("{path}.length_mm"),
            wing.length_mm.to_string(),
            "wings from both ends would close the shortest bay; use an infill wall there",
            Phrase::between(200.0, (most + HAIR).floor(), Millimetres),
        ));
    }
    Ok(())
}

/// Refuses columns that fill their bay, with the jackets and wings of a scheme.
fn clear_bays(building: &Building, measures: &[Measure], path: &str) -> Result<(), FieldError> {
    /// The shortest clear span a beam may keep, mm.
    const LEAST: f64 = 400.0;
    let scheme = Scheme { name: String::new(), note: String::new(), measures: measures.to_vec() };
    let model = crate::model::Model::unweighed(building, &scheme);
    for direction in Direction::BOTH {
        for line in 0..model.lines(direction).len() {
            for bay in 1..=building.bays(direction) {
                let length = 1000.0 * model.bay_length_m(direction, bay);
                for storey in building.all_storeys().iter() {
                    let Some([lower, higher]) = model.bay_columns(direction, line, bay, storey) else { continue };
                    if model.panel_at(direction, line, bay, storey).is_some() {
                        continue;
                    }
                    let clear = length - lower.reach_mm(direction)[1] - higher.reach_mm(direction)[0];
                    if clear < LEAST - HAIR {
                        let name = &model.lines(direction)[line].name;
                        return Err(refuse(
                            path,
                            format!("{} mm", clear.round()),
                            format!(
                                "too little is left between the columns in bay {bay} of line {name}, storey {storey}"
                            ),
                            Phrase::or_more(LEAST, Millimetres),
                        ));
                    }
                }
            }
        }
    }
    for frame in &model.frames {
        let shortest = frame.along_m.windows(2).map(|pair| 1000.0 * (pair[1] - pair[0])).fold(f64::INFINITY, f64::min);
        if shortest - frame.spec.column_along_mm < LEAST - HAIR {
            return Err(refuse(
                path,
                format!("{} mm", frame.spec.column_along_mm),
                Phrase::from("the external frame's columns fill its shortest bay of ").size(shortest, Millimetres),
                Phrase::most("columns along the face up to", shortest - LEAST, Millimetres),
            ));
        }
    }
    Ok(())
}
