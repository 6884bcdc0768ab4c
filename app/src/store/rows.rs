//! Changes of a list's rows.

use super::bays;
use super::list::List;
use super::measures::starting_record;
use super::references::follow;
use super::slot::{Root, Slot};
use serde_json::{Value, json};
use sisterframe_core::model::Model;
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Day, Direction, FieldError, Project, Scheme, Wire};
use sisterframe_core::works::RoomPlan;
use sisterframe_core::works::calendar::Date;

/// A value for a cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The row.
    pub row: usize,
    /// The keys of the column.
    pub keys: String,
    /// The value; null leaves an optional one out.
    pub value: Value,
}

/// A change of a list's rows.
#[derive(Clone, Debug, PartialEq)]
pub enum RowEdit {
    /// Puts a new row in.
    Add {
        /// Its place.
        at: usize,
    },
    /// Puts copies of some rows in after them.
    Duplicate {
        /// The first.
        first: usize,
        /// How many.
        count: usize,
    },
    /// Moves a row.
    Move {
        /// Its place.
        from: usize,
        /// Its place afterwards.
        to: usize,
    },
    /// Takes rows away.
    Delete {
        /// The first.
        first: usize,
        /// How many.
        count: usize,
    },
    /// Gives cells values, in new rows at the end too.
    Fill {
        /// How many rows are put in at the end first.
        grow: usize,
        /// The values.
        cells: Vec<Cell>,
    },
}

impl RowEdit {
    /// Where a row moves to, or `None` if it goes. `added` rows were put in, which matters
    /// where a list that was empty takes more than one.
    pub fn moved(&self, row: usize) -> Option<usize> {
        match self {
            Self::Add { at } => Some(row + usize::from(row >= *at)),
            Self::Duplicate { first, count } => Some(row + if row >= first + count { *count } else { 0 }),
            Self::Delete { first, count } if row >= first + count => Some(row - count),
            Self::Delete { first, .. } => (row < *first).then_some(row),
            Self::Move { from, to } if from == &row => Some(*to),
            Self::Move { from, to } => {
                let without = row - usize::from(row > *from);
                Some(without + usize::from(without >= *to))
            }
            Self::Fill { .. } => Some(row),
        }
    }

    /// What it does, in words.
    pub fn words(&self, list: List) -> String {
        let word = list.row_word();
        let rows = |count: usize| if count == 1 { word.to_owned() } else { format!("{count} {word}s") };
        match self {
            Self::Add { .. } => format!("new {word}"),
            Self::Duplicate { count, .. } => format!("copy of {}", rows(*count)),
            Self::Move { .. } => format!("moving {word}"),
            Self::Delete { count, .. } => format!("deleting {}", rows(*count)),
            Self::Fill { cells, .. } => match cells.as_slice() {
                [one] => {
                    let own = list.columns().into_iter().find(|column| column.keys == one.keys);
                    format!("{} of {word} {}", own.map_or("", |own| own.field.spec.label).to_lowercase(), one.row + 1)
                }
                more => format!("{} cells of {}", more.len(), list.field().spec.label.to_lowercase()),
            },
        }
    }

    /// Carries it out, with everything that refers to the rows.
    ///
    /// # Errors
    /// What a field refuses, too many rows, or a row that is still referred to. Contradictions
    /// across the project are for the caller to check.
    pub fn carry_out(&self, project: &mut Project, list: List) -> Result<(), FieldError> {
        let old = list.rows(project);
        let mut rows = old.clone();
        match self {
            Self::Add { at } => {
                let at = (*at).min(rows.len());
                for (step, row) in new_rows(project, list, at)?.into_iter().enumerate() {
                    rows.insert(at + step, row);
                }
            }
            Self::Duplicate { first, count } => {
                let sources: Vec<Value> = rows.get(*first..first + count).ok_or_else(|| gone(list))?.to_vec();
                for (step, source) in sources.into_iter().enumerate() {
                    let at = first + count + step;
                    let copy = fresh(project, list, &rows, source, at)?;
                    rows.insert(at, copy);
                }
            }
            Self::Move { from, to } => {
                if (*from).max(*to) >= rows.len() {
                    return Err(gone(list));
                }
                let row = rows.remove(*from);
                rows.insert(*to, row);
            }
            Self::Delete { first, count } => {
                if first + count > rows.len() {
                    return Err(gone(list));
                }
                rows.drain(*first..first + count);
            }
            Self::Fill { grow, cells } => {
                for _ in 0..*grow {
                    let at = rows.len();
                    let row = match rows.last() {
                        Some(last) => distinct(project, list, &rows, last.clone(), at),
                        None => new_rows(project, list, 0)?.swap_remove(0),
                    };
                    rows.push(row);
                }
                for cell in cells {
                    if cell.keys == bays::BAY {
                        bays::give(list, &mut rows, cell.row, &cell.value)?;
                        continue;
                    }
                    let row = rows.get_mut(cell.row).ok_or_else(|| gone(list))?;
                    give(project, list, cell, row);
                }
            }
        }
        let name = |row: &Value| row.get("name").and_then(Value::as_str).map(str::to_owned);
        let now: Vec<Option<(usize, Option<String>)>> = (0..old.len())
            .map(|row| {
                let place = self.moved(row)?;
                Some((place, name(rows.get(place)?)))
            })
            .collect();
        let mut trial = project.clone();
        follow(&mut trial, list, &now)?;
        list.write(&mut trial, rows)?;
        *project = trial;
        Ok(())
    }
}

fn gone(list: List) -> FieldError {
    FieldError {
        path: list.path(),
        value: String::new(),
        problem: "there is no such row".into(),
        permitted: Phrase::default(),
    }
}

/// Puts a cell's value into its row. A value in a record that was left out brings the record
/// with it; one that the record needs takes the record away when it is emptied.
fn give(project: &Project, list: List, cell: &Cell, row: &mut Value) {
    let Some((head, inner)) = cell.keys.split_once('.') else {
        super::slot::place_within(row, &cell.keys, &cell.value);
        return;
    };
    let column = list.columns().into_iter().find(|column| column.keys == cell.keys);
    let inner_optional = column.is_some_and(|column| column.field.optional || column.field.spec.default.is_some());
    let Some(object) = row.as_object_mut() else { return };
    match (cell.value.is_null(), object.contains_key(head)) {
        (true, false) => return,
        (true, true) if !inner_optional => {
            object.remove(head);
            return;
        }
        (false, false) => {
            let record = starting_record(project, head, &Value::Object(object.clone()));
            object.insert(head.to_owned(), record);
        }
        _ => {}
    }
    if let Some(Value::Object(record)) = object.get_mut(head) {
        if cell.value.is_null() {
            record.remove(inner);
        } else {
            record.insert(inner.to_owned(), cell.value.clone());
        }
    }
}

/// The rows a list gets where one is asked for before the row at `at`.
fn new_rows(project: &Project, list: List, at: usize) -> Result<Vec<Value>, FieldError> {
    let rows = list.rows(project);
    let source = at.checked_sub(1).and_then(|before| rows.get(before)).or(rows.first());
    if let Some(source) = source {
        return Ok(vec![fresh(project, list, &rows, source.clone(), at)?]);
    }
    let first_line = || project.building.y_lines.first().map_or("", |line| line.name.as_str()).to_owned();
    match list {
        List::Walls => {
            let wall = json!({
                "line": first_line(), "bay": 1, "storeys": [1, project.building.storeys.len()],
                "thickness_mm": 150, "bar_mm": 10, "bar_spacing_mm": 200, "curtains": 1,
            });
            Ok(vec![fresh(project, list, &rows, wall, 0)?])
        }
        List::Masonry => Ok(vec![json!({ "lines": [first_line()], "thickness_mm": 200 })]),
        List::Spectrum => {
            // The design spectrum's own two corners, to be replaced by the pasted ones.
            let motion = &project.ground_motion;
            let corner = motion.sx1_g / motion.sxs_g;
            let point = |period: f64, acceleration: f64| json!({"period_s": period, "acceleration_g": acceleration});
            Ok(vec![point(corner, motion.sxs_g), point(2.0 * corner, motion.sx1_g / (2.0 * corner))])
        }
        List::Breaks => {
            let times = project.working_times.as_ref().ok_or_else(|| gone(list))?;
            Ok(vec![a_week(json!({ "name": "Break 1", "long": false }), times.start)])
        }
        List::Rooms => Ok(vec![free_room(project, &rows, None)?]),
        _ => Err(gone(list)),
    }
}

/// A break of a week, four weeks after a day.
fn a_week(mut row: Value, after: Day) -> Value {
    let day = |days: i32| Date::from_julian_day(after.0.to_julian_day() + days).map(|date| Day(date).to_string());
    if let (Ok(first), Ok(last)) = (day(28), day(34)) {
        row["first"] = json!(first);
        row["last"] = json!(last);
    }
    row
}

/// A copy of a row that may stand beside the others.
fn fresh(project: &Project, list: List, rows: &[Value], row: Value, at: usize) -> Result<Value, FieldError> {
    match list {
        List::Walls => free_wall(project, rows, row),
        List::Rooms => free_room(project, rows, Some(&row)),
        _ => Ok(distinct(project, list, rows, row, at)),
    }
}

/// The first room of the grid as a room of the project's own, for the use another has.
fn free_room(project: &Project, rows: &[Value], like: Option<&Value>) -> Result<Value, FieldError> {
    let building = &project.building;
    let mut trial = project.clone();
    List::Rooms.write(&mut trial, rows.to_vec())?;
    let bare = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(building, &bare);
    let plan = RoomPlan::new(&model, &trial.building);
    let of_the_grid = plan.all().into_iter().filter(|room| plan.own(*room).is_none());
    let mut record = of_the_grid.filter_map(|room| plan.record(room)).next().ok_or_else(|| FieldError {
        path: List::Rooms.path(),
        value: String::new(),
        problem: "no room of the grid is left".into(),
        permitted: "rooms of its own made smaller first".into(),
    })?;
    let taken = |name: &str| trial.building.rooms.own.iter().any(|own| own.storey == record.storey && own.name == name);
    if taken(&record.name) {
        record.name = (1..).map(|number| format!("Room {number}")).find(|name| !taken(name)).unwrap_or_default();
    }
    let mut row = record.write().unwrap_or(Value::Null);
    for key in ["kind", "zone", "days", "hours"] {
        if let Some(value) = like.and_then(|like| like.get(key)) {
            row[key] = value.clone();
        }
    }
    Ok(row)
}

/// The first place on the grid where a wall like this one may stand.
fn free_wall(project: &Project, rows: &[Value], mut row: Value) -> Result<Value, FieldError> {
    let building = &project.building;
    let mut last = None;
    for (lines, direction) in [(&building.y_lines, Direction::X), (&building.x_lines, Direction::Y)] {
        for (line, bay) in lines.iter().flat_map(|line| (1..=building.bays(direction)).map(move |bay| (line, bay))) {
            row["line"] = json!(line.name);
            row["bay"] = json!(bay);
            let mut trial = project.clone();
            let all = rows.iter().cloned().chain([row.clone()]).collect();
            match List::Walls.write(&mut trial, all).and_then(|()| trial.check()) {
                Ok(()) => return Ok(row),
                Err(error) => last = Some(error),
            }
        }
    }
    Err(last.map_or_else(
        || gone(List::Walls),
        |error| {
            let mut problem = Phrase::from("no place is left for a wall: ");
            problem.extend([error.problem]);
            FieldError { problem, ..error }
        },
    ))
}

/// A copy of a row with a name, ordinate or period of its own.
fn distinct(project: &Project, list: List, rows: &[Value], mut row: Value, at: usize) -> Value {
    let number = |row: Option<&Value>, key: &str| row.and_then(|row| row.get(key)).and_then(Value::as_f64);
    let before = |steps: usize| at.checked_sub(steps).and_then(|place| rows.get(place));
    let between = |key: &str, usual: f64| match (number(before(1), key), number(rows.get(at), key)) {
        (Some(low), Some(high)) => 0.5 * (low + high),
        (Some(low), None) => low + number(before(2), key).map_or(usual, |earlier| (low - earlier).abs().max(0.01)),
        (None, Some(high)) => high - number(rows.get(at + 1), key).map_or(usual, |later| (later - high).abs()),
        (None, None) => 0.0,
    };
    match list {
        List::XLines | List::YLines => {
            let ordinate = between("at_m", 5.0);
            row["at_m"] = json!((ordinate * 1000.0).round() / 1000.0);
        }
        List::Breaks => {
            let last = |row: &Value| row.get("last").and_then(Value::as_str).and_then(Day::parse);
            if let Some(latest) = rows.iter().filter_map(last).max() {
                row = a_week(row, latest);
            }
        }
        List::Spectrum => row["period_s"] = json!((between("period_s", 0.1) * 1000.0).round() / 1000.0),
        _ => {}
    }
    if let Some(name) = row.get("name").and_then(Value::as_str) {
        let mut taken: Vec<String> =
            rows.iter().filter_map(|row| row.get("name").and_then(Value::as_str).map(str::to_owned)).collect();
        if matches!(list, List::XLines | List::YLines) {
            let building = &project.building;
            taken.extend(building.x_lines.iter().chain(&building.y_lines).map(|line| line.name.clone()));
        }
        let mut next = following(name);
        while taken.contains(&next) {
            next = following(&next);
        }
        row["name"] = json!(next);
    }
    row
}

/// The name after a name: 7 after 6, K3 after K2, B after A, AA after Z.
fn following(name: &str) -> String {
    let stem = name.trim_end_matches(|c: char| c.is_ascii_digit());
    if let Ok(number) = name[stem.len()..].parse::<u32>()
        && let Some(next) = number.checked_add(1)
    {
        return format!("{stem}{next}");
    }
    let mut letters: Vec<char> = name.chars().collect();
    if !letters.is_empty() && letters.len() <= 2 && letters.iter().all(char::is_ascii_uppercase) {
        for letter in letters.iter_mut().rev() {
            if *letter != 'Z' {
                *letter = char::from(*letter as u8 + 1);
                return letters.into_iter().collect();
            }
            *letter = 'A';
        }
        letters.insert(0, 'A');
        return letters.into_iter().collect();
    }
    format!("{}2", name.chars().take(22).collect::<String>())
}

/// The address of a cell.
pub fn cell_slot(list: List, row: usize, keys: &str) -> Slot {
    Slot::new(Root::Row(list, row), keys)
}

/// The value at dotted keys of a row.
pub fn cell_value<'v>(row: &'v Value, keys: &str) -> Option<&'v Value> {
    keys.split('.').try_fold(row, |value, key| value.get(key)).filter(|value| !value.is_null())
}
