//! The table of rates of the works as a table of the bench: a row for each activity, with the
//! project's own figures in place of the table's.

use super::entry::glanced;
use serde_json::{Value, json};
use sisterframe_core::project::{Control, Field, FieldError, OwnRate, OwnWorks, Path, Project, Record, Spec, Wire};
use sisterframe_core::units::{Dimension, System};
use sisterframe_core::works::Basis;
use sisterframe_core::works::rates::{Activity, Mark, Rate, Task};

const fn words(key: &'static str, label: &'static str) -> Field {
    Field { key, spec: Spec::text(label, 400), control: Control::Text, optional: false }
}

/// Left empty, a figure is the table's.
const fn figure(field: Field) -> Field {
    Field { optional: true, ..field }
}

/// The columns.
pub const FIELDS: &[Field] = &[
    words("name", "Activity"),
    figure(OwnRate::FIELDS[1]),
    figure(OwnRate::FIELDS[2]),
    figure(OwnRate::FIELDS[3]),
    words("unit", "Unit"),
    figure(OwnRate::FIELDS[4]),
    words("mark", "Where from"),
    words("note", "Note"),
];

/// Whether a column holds figures that may be changed.
pub fn is_figure(keys: &str) -> bool {
    FIELDS.iter().any(|field| field.key == keys && field.control == Control::Number)
}

/// Every activity with its figures.
pub fn rows(project: &Project) -> Vec<Value> {
    let basis = Basis::of(project);
    Task::ALL
        .iter()
        .map(|task| {
            let mut row = row(&basis.activity(*task));
            row["note"] = json!(task.activity().note);
            row
        })
        .collect()
}

fn row(activity: &Activity) -> Value {
    let rate = activity.rate;
    json!({
        "activity": activity.code, "name": activity.name, "unit": activity.unit, "mark": activity.mark.label(),
        "slow": rate.slow, "usual": rate.usual, "fast": rate.fast, "crew": activity.crew,
    })
}

/// Takes the figures of all rows; what is as in the table, or left out, is not kept.
///
/// # Errors
/// What a figure refuses, by its row, or rows that are not those of the table.
pub fn write(project: &mut Project, rows: &[Value]) -> Result<(), FieldError> {
    let as_in_table = rows.len() == Task::ALL.len()
        && Task::ALL.iter().zip(rows).all(|(task, own)| own.get("activity") == Some(&json!(task.activity().code)));
    if !as_in_table {
        return Err(FieldError {
            path: "works.rates".to_owned(),
            value: String::new(),
            problem: "the table of rates has one row for each activity".into(),
            permitted: "other figures".into(),
        });
    }
    let mut rates = Vec::new();
    for (place, (task, own)) in Task::ALL.iter().zip(rows).enumerate() {
        let table = row(task.activity());
        let mut rate = json!({ "activity": table["activity"] });
        for key in ["slow", "usual", "fast", "crew"] {
            rate[key] = own.get(key).filter(|value| !value.is_null()).unwrap_or(&table[key]).clone();
        }
        let works = Path::Key(&Path::Root, "works");
        let list = Path::Key(&works, "rates");
        let at = Path::Item(&list, place);
        let read = OwnRate::read(&rate, &at, &Spec::of("")).map_err(|error| in_unit(error, task.activity()))?;
        read.check_order().map_err(|error| FieldError { path: format!("{at}.{}", error.path), ..error })?;
        if read != of_table(task.activity()) {
            rates.push(read);
        }
    }
    let works = project.works.take().unwrap_or(OwnWorks::table());
    project.works = OwnWorks { rates, ..works }.held();
    Ok(())
}

/// What the table has for an activity.
fn of_table(activity: &Activity) -> OwnRate {
    let rate = activity.rate;
    OwnRate {
        activity: activity.code.to_owned(),
        slow: rate.slow,
        usual: rate.usual,
        fast: rate.fast,
        crew: activity.crew,
    }
}

/// A refused figure's range with the unit of its activity.
fn in_unit(error: FieldError, activity: &Activity) -> FieldError {
    let own =
        OwnRate::FIELDS.iter().find(|field| error.path.ends_with(field.key) && error.permitted == field.spec.range());
    match own {
        Some(field) if field.key != "crew" => {
            FieldError { permitted: Spec { dimension: activity.dimension(), ..field.spec }.range(), ..error }
        }
        _ => error,
    }
}

/// What a figure of a row measures: rates are in the unit of their activity.
pub fn dimension(row: &Value, keys: &str) -> Dimension {
    match keys {
        "slow" | "usual" | "fast" => of_row(row).map_or(Dimension::Number, |task| task.activity().dimension()),
        _ => Dimension::Number,
    }
}

/// The note of a row: what the table has, in the unit of the row, where the figures are the project's own.
pub fn note(row: &Value, system: System) -> String {
    match of_row(row).map(Task::activity) {
        Some(table) if row["mark"] == Mark::Own.label() => {
            let Rate { slow, usual, fast } = table.rate;
            let [slow, usual, fast] = [slow, usual, fast].map(|own| glanced(&json!(own), table.dimension(), system));
            format!("table: {slow}, {usual}, {fast}; crew {}", table.crew)
        }
        _ => row["note"].as_str().unwrap_or_default().to_owned(),
    }
}

/// The unit of a row in the system shown.
pub fn unit(row: &Value, system: System) -> String {
    let Some(task) = of_row(row) else { return String::new() };
    let symbol = task.activity().dimension().unit(system).symbol;
    if symbol.is_empty() { task.activity().unit.to_owned() } else { symbol.to_owned() }
}

fn of_row(row: &Value) -> Option<Task> {
    Task::by_code(row.get("activity")?.as_str()?)
}
