//! Bay lengths beside the ordinates of grid lines: the file holds ordinates only, and a length that
//! is typed moves all lines beyond the bay.

use super::list::List;
use serde_json::{Value, json};
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Control, Field, FieldError, GridLine, Record, Spec};
use sisterframe_core::units::Dimension;

/// Key of the column.
pub const BAY: &str = "bay_m";

/// The bay from a line to the next; its range is that the reader of projects permits.
const SPEC: Spec = Spec::number("Bay to the next", Dimension::Metres, 1.0, 25.0, 0.05);

/// The columns of a table of grid lines.
pub const FIELDS: &[Field] = &[
    GridLine::FIELDS[0],
    GridLine::FIELDS[1],
    Field { key: BAY, spec: SPEC, control: Control::Number, optional: true },
];

/// Lengths are told and taken to a thousandth of a millimetre, without what sums leave behind.
fn tidy(length_m: f64) -> f64 {
    (length_m * 1e6).round() / 1e6
}

fn ordinate(row: Option<&Value>) -> Option<f64> {
    row?.get("at_m")?.as_f64()
}

/// The length of the bay after a line; none after the last.
fn bay_m(rows: &[Value], line: usize) -> Option<f64> {
    Some(tidy(ordinate(rows.get(line + 1))? - ordinate(rows.get(line))?))
}

/// Puts the bay lengths beside the ordinates.
pub fn put(rows: &mut [Value]) {
    for line in 0..rows.len() {
        if let Some(length) = bay_m(rows, line) {
            rows[line][BAY] = json!(length);
        }
    }
}

/// Takes them away again.
pub fn take(rows: &mut [Value]) {
    for row in rows.iter_mut().filter_map(Value::as_object_mut) {
        row.remove(BAY);
    }
}

/// Gives a bay a length: the lines beyond it move by the difference. An emptied length stays.
///
/// # Errors
/// Where the length is out of range, or the line is the last.
pub fn give(list: List, rows: &mut [Value], line: usize, value: &Value) -> Result<(), FieldError> {
    let refused = |problem: &str, permitted: Phrase| {
        Err(FieldError {
            path: format!("{}[{line}].{BAY}", list.path()),
            value: value.to_string(),
            problem: problem.into(),
            permitted,
        })
    };
    let Some(wanted) = value.as_f64() else { return Ok(()) };
    let Some(now) = bay_m(rows, line) else {
        return refused("there is no bay after the last line", Phrase::from("a line more"));
    };
    if !(SPEC.min..=SPEC.max).contains(&wanted) {
        let permitted = Phrase::between(SPEC.min, SPEC.max, SPEC.dimension);
        return refused("the bay is too short or too long", permitted);
    }
    if wanted == now {
        return Ok(());
    }
    let (from, to) = (ordinate(rows.get(line)).unwrap_or_default(), ordinate(rows.get(line + 1)).unwrap_or_default());
    let by = from + wanted - to;
    for row in rows.iter_mut().skip(line + 1) {
        if let Some(at) = ordinate(Some(row)) {
            row["at_m"] = json!(tidy(at + by));
        }
    }
    Ok(())
}
