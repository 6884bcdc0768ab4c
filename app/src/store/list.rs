//! The project's lists of records, as tables of values.

use super::bays;
use super::lines::{Lines, lines_of};
use super::rates;
use serde_json::{Value, json};
use sisterframe_core::project::{
    BeamPlacing, BeamType, BreakPeriod, Building, ColumnPlacing, ColumnType, Control, Field, FieldError, GroundMotion,
    Masonry, OwnRoom, OwnWorks, Project, Record, Rooms, SpectrumPoint, Storey, Wall, WorkingTimes,
};
use sisterframe_core::works::rates::Task;
use std::borrow::Cow;

/// A list of records that is edited as a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum List {
    /// Storeys from the ground up.
    Storeys,
    /// Grid lines across x.
    XLines,
    /// Grid lines across y.
    YLines,
    /// Column types.
    ColumnTypes,
    /// Beam types.
    BeamTypes,
    /// Where which column stands.
    Columns,
    /// Where which beam lies.
    Beams,
    /// Existing walls.
    Walls,
    /// Masonry panels.
    Masonry,
    /// Points of the spectrum.
    Spectrum,
    /// Rates of the works: one row for each activity.
    Rates,
    /// Breaks in the use of the building.
    Breaks,
    /// Rooms of the project's own.
    Rooms,
}

/// A column of a table: a field of the record, or of a record inside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The keys that lead to it, joined by dots.
    pub keys: String,
    /// Its description.
    pub field: Field,
    /// Whether its cell may be empty.
    pub optional: bool,
}

impl List {
    /// Every list.
    pub const ALL: [Self; 13] = [
        Self::Storeys,
        Self::XLines,
        Self::YLines,
        Self::ColumnTypes,
        Self::BeamTypes,
        Self::Columns,
        Self::Beams,
        Self::Walls,
        Self::Masonry,
        Self::Spectrum,
        Self::Rates,
        Self::Breaks,
        Self::Rooms,
    ];

    /// Its key in the record it belongs to.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Storeys => "storeys",
            Self::XLines => "x_lines",
            Self::YLines => "y_lines",
            Self::ColumnTypes => "column_types",
            Self::BeamTypes => "beam_types",
            Self::Columns => "columns",
            Self::Beams => "beams",
            Self::Walls => "walls",
            Self::Masonry => "masonry",
            Self::Spectrum => "table",
            Self::Rates => "rates",
            Self::Breaks => "breaks",
            Self::Rooms => "own",
        }
    }

    /// What one of its rows is, in words.
    pub const fn row_word(self) -> &'static str {
        match self {
            Self::Storeys => "storey",
            Self::XLines | Self::YLines => "line",
            Self::ColumnTypes => "column type",
            Self::BeamTypes => "beam type",
            Self::Columns | Self::Beams => "row",
            Self::Walls => "wall",
            Self::Masonry => "panel",
            Self::Spectrum => "point",
            Self::Rates => "activity",
            Self::Breaks => "break",
            Self::Rooms => "room",
        }
    }

    /// The key of the record it belongs to.
    const fn head(self) -> &'static str {
        match self {
            Self::Spectrum => "ground_motion",
            Self::Rates => "works",
            Self::Breaks => "working_times",
            Self::Rooms => "building.rooms",
            _ => "building",
        }
    }

    /// Where it stands in the file.
    pub fn path(self) -> String {
        format!("{}.{}", self.head(), self.key())
    }

    /// Its description in the table of fields of the record it belongs to.
    pub fn field(self) -> &'static Field {
        let all = match self {
            Self::Spectrum => GroundMotion::FIELDS,
            Self::Rates => OwnWorks::FIELDS,
            Self::Breaks => WorkingTimes::FIELDS,
            Self::Rooms => Rooms::FIELDS,
            _ => Building::FIELDS,
        };
        let own = all.iter().find(|field| field.key == self.key());
        own.unwrap_or(&all[0])
    }

    /// The fields of a row.
    pub fn fields(self) -> &'static [Field] {
        match self {
            Self::Storeys => Storey::FIELDS,
            Self::XLines | Self::YLines => bays::FIELDS,
            Self::ColumnTypes => ColumnType::FIELDS,
            Self::BeamTypes => BeamType::FIELDS,
            Self::Columns => ColumnPlacing::FIELDS,
            Self::Beams => BeamPlacing::FIELDS,
            Self::Walls => Wall::FIELDS,
            Self::Masonry => Masonry::FIELDS,
            Self::Spectrum => SpectrumPoint::FIELDS,
            Self::Rates => rates::FIELDS,
            Self::Breaks => BreakPeriod::FIELDS,
            Self::Rooms => OwnRoom::FIELDS,
        }
    }

    /// The columns of its table: records inside a row have one for each of their fields.
    pub fn columns(self) -> Vec<Column> {
        let mut columns = Vec::new();
        for field in self.fields() {
            match field.control {
                Control::Record(inner) => columns.extend(inner.iter().map(|own| Column {
                    keys: format!("{}.{}", field.key, own.key),
                    field: *own,
                    optional: field.optional || own.optional,
                })),
                _ => columns.push(Column { keys: field.key.to_owned(), field: *field, optional: field.optional }),
            }
        }
        columns
    }

    /// Whether a column may be changed.
    pub fn is_open(self, keys: &str) -> bool {
        self != Self::Rates || rates::is_figure(keys)
    }

    /// A column as it is in a row: rates are in the unit of their activity.
    pub fn in_row<'c>(self, column: &'c Column, row: Option<&Value>) -> Cow<'c, Column> {
        let (Self::Rates, Some(row)) = (self, row) else { return Cow::Borrowed(column) };
        let mut own = column.clone();
        own.field.spec.dimension = rates::dimension(row, &column.keys);
        Cow::Owned(own)
    }

    /// The fewest and the most rows.
    pub fn limits(self) -> (usize, usize) {
        let spec = self.field().spec;
        (spec.min as usize, spec.max as usize)
    }

    /// How many rows it has.
    pub fn count(self, project: &Project) -> usize {
        let building = &project.building;
        match self {
            Self::Storeys => building.storeys.len(),
            Self::XLines => building.x_lines.len(),
            Self::YLines => building.y_lines.len(),
            Self::ColumnTypes => building.column_types.len(),
            Self::BeamTypes => building.beam_types.len(),
            Self::Columns => building.columns.len(),
            Self::Beams => building.beams.len(),
            Self::Walls => building.walls.len(),
            Self::Masonry => building.masonry.len(),
            Self::Spectrum => project.ground_motion.table.len(),
            Self::Rates => Task::ALL.len(),
            Self::Breaks => project.working_times.as_ref().map_or(0, |own| own.breaks.len()),
            Self::Rooms => building.rooms.own.len(),
        }
    }

    /// Its rows, each an object. The pairs of a spectrum become objects too.
    pub fn rows(self, project: &Project) -> Vec<Value> {
        if self == Self::Rates {
            return rates::rows(project);
        }
        let held = match self {
            Self::Spectrum => project.ground_motion.get("table"),
            Self::Breaks => project.working_times.as_ref().and_then(|own| own.get("breaks")),
            Self::Rooms => project.building.rooms.get("own"),
            _ => project.building.get(self.key()),
        };
        let Some(Value::Array(mut rows)) = held else { return Vec::new() };
        if matches!(self, Self::XLines | Self::YLines) {
            bays::put(&mut rows);
        }
        if self == Self::Spectrum {
            for row in &mut rows {
                let end = |place: usize| row.get(place).cloned().unwrap_or(Value::Null);
                *row = json!({ "period_s": end(0), "acceleration_g": end(1) });
            }
        }
        rows
    }

    /// Replaces its rows after checking each field; the project is unchanged on error.
    ///
    /// # Errors
    /// The first refusal, with its path in the whole file.
    pub fn write(self, project: &mut Project, mut rows: Vec<Value>) -> Result<(), FieldError> {
        if self == Self::Rates {
            return rates::write(project, &rows);
        }
        if matches!(self, Self::XLines | Self::YLines) {
            bays::take(&mut rows);
        }
        let written = match self {
            Self::Spectrum => {
                let pairs = rows.iter().map(|row| json!([row.get("period_s"), row.get("acceleration_g")])).collect();
                project.ground_motion.set("table", &Value::Array(pairs))
            }
            Self::Breaks => match &mut project.working_times {
                Some(own) => own.set("breaks", &Value::Array(rows)),
                None => Err(FieldError {
                    path: self.key().to_owned(),
                    value: String::new(),
                    problem: "no working times are set yet".into(),
                    permitted: "working times of the project's own first".into(),
                }),
            },
            Self::Rooms => project.building.rooms.set("own", &Value::Array(rows)),
            _ => project.building.set(self.key(), &Value::Array(rows)),
        };
        let head = self.head();
        written.map_err(|error| FieldError { path: self.path_in_rows(&format!("{head}.{}", error.path)), ..error })
    }

    /// The path of a refusal with the columns of a spectrum by their names.
    fn path_in_rows(self, path: &str) -> String {
        match path
            .strip_suffix("][0]")
            .map(|head| (head, "period_s"))
            .or(path.strip_suffix("][1]").map(|head| (head, "acceleration_g")))
        {
            Some((head, key)) if self == Self::Spectrum => format!("{head}].{key}"),
            _ => path.to_owned(),
        }
    }

    /// The names a cell offers: types, grid lines, or nothing.
    pub fn offered(self, project: &Project, key: &str) -> Vec<String> {
        let none = || std::iter::once("none".to_owned());
        let building = &project.building;
        match (self, key) {
            (Self::Columns, "column") => {
                building.column_types.iter().map(|own| own.name.clone()).chain(none()).collect()
            }
            (Self::Beams, "beam") => building.beam_types.iter().map(|own| own.name.clone()).chain(none()).collect(),
            (Self::Columns | Self::Beams | Self::Walls | Self::Masonry, _) => {
                lines_of(key).map_or_else(Vec::new, |lines: Lines| lines.names(project))
            }
            _ => Vec::new(),
        }
    }

    /// What a row is called: by its name where it has one, else by its number.
    pub fn row_name(self, row: &Value, place: usize, count: usize) -> String {
        match (self, row.get("name").and_then(Value::as_str)) {
            (_, Some(name)) => name.to_owned(),
            (Self::Storeys, _) => match place {
                0 => "1, lowest".to_owned(),
                _ if place + 1 == count => format!("{count}, top"),
                _ => (place + 1).to_string(),
            },
            _ => (place + 1).to_string(),
        }
    }
}
