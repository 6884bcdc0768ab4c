//! The project file: versioned, checked, always SI, kept apart from the engine's types.
//!
//! `Project::from_json` is total: any text gives a checked project or one error that
//! names the field, the value and what is permitted.

mod assumed;
mod building;
mod check;
mod combine;
mod fields;
mod fits;
mod measures;
mod rooms;
mod stops;
mod working_times;
mod works;

pub use assumed::{Assumed, Feature, Practice, Values};
pub use building::{
    Base, BeamPlacing, BeamType, Building, ColumnPlacing, ColumnType, Direction, Footing, GridLine, GroundAcceleration,
    GroundMotion, GroundType, Hooks, Knowledge, MAX_LINES, MAX_STOREYS, Masonry, Materials, Objective, Occupancy,
    Opening, SpectrumShape, Storey, Wall,
};
pub use combine::combination_problem;
pub use fields::{Control, Field, FieldError, Names, Path, Record, Span, Spec, SpectrumPoint, Wire};
pub use measures::{
    ExternalFrame, FrameLimit, InfillWall, Jacket, JacketFaces, Measure, Release, Scheme, Sides, Surface, WingWall,
};
pub use rooms::{Corridors, MAX_ROOMS, OwnRoom, RoomDays, RoomKind, Rooms, UseHours};
pub use working_times::{BreakPeriod, Day, HoursInside, ShutRooms, WeekInUse, WorkingTimes, WorkingWeek};
pub use works::{OwnRate, OwnWorks};

use fields::{choice, record};
use serde_json::{Value, json};

/// The version this build writes and the newest it reads.
pub const FORMAT: u32 = 1;

/// The most characters a project file may have.
pub const MAX_CHARS: usize = 2_000_000;

choice! {
    /// Units numbers are shown in.
    pub enum Units {
        /// International.
        Si = "si", "SI";
        /// US customary.
        Us = "us", "US";
    }
}

choice! {
    /// The rule set results are computed with.
    pub enum RuleSet {
        /// ASCE 7, ASCE 41 and ACI 318.
        American = "american", "American: ASCE 41, ACI 318";
        /// EN 1998 and EN 1992.
        European = "european", "European: EN 1998, EN 1992";
    }
}

impl RuleSet {
    /// The set a project is computed with where it names none.
    pub const USUAL: Self = Self::American;
}

record! {
    /// A whole project.
    pub struct Project {
        /// Format version.
        sisterframe: u32 = Spec::whole("Format version", 1, FORMAT);
        /// Name of the building.
        name: String = Spec { min: 1.0, ..Spec::text("Name", 80) };
        /// What it is or what it teaches.
        note: String = Spec::text("Remark", 800).or("\"\"");
        /// Rule set.
        rules: RuleSet = Spec::of("Rule set").or("\"american\"");
        /// Units to show.
        units: Units = Spec::of("Units").or("\"si\"");
        /// Ground motion.
        ground_motion: GroundMotion = Spec::of("Ground motion");
        /// The building as it stands.
        building: Building = Spec::of("Building");
        /// Retrofit schemes; the building as it stands and a rebuild are always compared too.
        schemes: Vec<Scheme> = Spec::list("Schemes", 0, 24).or("[]");
        /// When works may be done; without it works are counted in days only.
        working_times: Option<WorkingTimes> = Spec::of("Working times");
        /// Rates and assumptions of the works that differ from the table.
        works: Option<OwnWorks> = Spec::of("Works");
    }
}

impl Project {
    /// Reads and checks a project file.
    ///
    /// # Errors
    /// The first thing that is refused: not JSON, a newer format, an unknown key, a
    /// value out of range, a name that refers to nothing.
    pub fn from_json(text: &str) -> Result<Self, FieldError> {
        if text.len() > MAX_CHARS {
            return Err(FieldError {
                path: String::new(),
                value: format!("{} characters", text.len()),
                problem: "the file is too large".into(),
                permitted: format!("up to {MAX_CHARS} characters").into(),
            });
        }
        let value: Value = serde_json::from_str(text.trim_start_matches('\u{feff}')).map_err(|error| FieldError {
            path: String::new(),
            value: String::new(),
            problem: format!("not a JSON file: {error}").into(),
            permitted: "a Sisterframe project file".into(),
        })?;
        Self::from_value(&value)
    }

    /// Checks a project given as JSON.
    ///
    /// # Errors
    /// As [`Project::from_json`].
    pub fn from_value(value: &Value) -> Result<Self, FieldError> {
        let object = fields::read_object(value, &Path::Root)?;
        match object.get("sisterframe") {
            None => {
                return Err(FieldError {
                    path: "sisterframe".to_owned(),
                    value: String::new(),
                    problem: "missing: this is not a Sisterframe project".into(),
                    permitted: format!("format version 1 to {FORMAT}").into(),
                });
            }
            Some(version) if version.as_f64().is_some_and(|number| number > f64::from(FORMAT)) => {
                return Err(FieldError::new(
                    &Path::Key(&Path::Root, "sisterframe"),
                    version,
                    "above the permitted range: the file was written by a newer version",
                    format!("1 to {FORMAT}"),
                ));
            }
            Some(_) => {}
        }
        let value = rooms::with_days_of_use(value);
        let project = Self::read(&value, &Path::Root, &Spec::of("Project"))?;
        check::references(&project)?;
        Ok(project)
    }

    /// The project as the file holds it, every field written out in SI.
    pub fn to_value(&self) -> Value {
        self.write().unwrap_or(Value::Null)
    }

    /// The text of the project file.
    pub fn to_json(&self) -> String {
        let mut text = serde_json::to_string_pretty(&self.to_value()).unwrap_or_default();
        text.push('\n');
        text
    }

    /// Checks what single fields cannot: names that refer to nothing, spans beyond the
    /// building, measures that do not go together.
    ///
    /// # Errors
    /// The first contradiction, with its path.
    pub fn check(&self) -> Result<(), FieldError> {
        check::references(self)
    }
}

/// JSON Schema (2020-12) of the project file.
pub fn json_schema() -> Value {
    let mut schema = Project::schema(&Spec::of("Project"));
    if let Some(object) = schema.as_object_mut() {
        object.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
        object.insert("title".to_owned(), json!("Sisterframe project, format 1"));
    }
    schema
}
