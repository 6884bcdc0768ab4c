//! Text in a field and the value it stands for.

use serde_json::{Value, json};
use sisterframe_core::project::{Control, Field, FieldError};
use sisterframe_core::units::{Dimension, System};

/// The value a text stands for in a field, in the units shown. An empty text leaves an
/// optional value out.
///
/// # Errors
/// Where a number is needed and the text is none.
pub fn parse(field: &Field, text: &str, system: System) -> Result<Value, FieldError> {
    let text = text.trim();
    if text.is_empty() && field.optional {
        return Ok(Value::Null);
    }
    match field.control {
        Control::Number | Control::Whole => {
            let plain: String = text
                .chars()
                .filter(|c| !c.is_whitespace())
                .map(|c| match c {
                    ',' => '.',
                    '−' => '-',
                    other => other,
                })
                .collect();
            let refused = || FieldError {
                path: field.key.to_owned(),
                value: text.to_owned(),
                problem: "a number is needed here".to_owned(),
                permitted: field.spec.range(),
            };
            let shown: f64 = plain.parse().map_err(|_| refused())?;
            if !shown.is_finite() {
                return Err(refused());
            }
            Ok(json!(shown / field.spec.dimension.unit(system).factor))
        }
        _ => Ok(json!(text)),
    }
}

/// The text a field shows for a value: all its digits, in the units shown.
pub fn shown(value: &Value, dimension: Dimension, system: System) -> String {
    match value {
        Value::Null => String::new(),
        Value::Number(number) => digits(number.as_f64().unwrap_or(0.0) * dimension.unit(system).factor),
        Value::String(text) => text.clone(),
        Value::Bool(flag) => flag.to_string(),
        Value::Array(_) | Value::Object(_) => value.to_string(),
    }
}

/// A number with at most nine significant figures and no trailing zeros.
pub fn digits(number: f64) -> String {
    // Through the shortest decimal of nine figures, so that 0.07 × 100 reads 7.
    let rounded: f64 = format!("{number:.8e}").parse().unwrap_or(number);
    if rounded == 0.0 { "0".to_owned() } else { rounded.to_string() }
}

/// The nearest value a slider stops at: multiples of its step, and both ends.
pub fn stop(field: &Field, value: f64) -> f64 {
    let spec = &field.spec;
    let near = (value / spec.step).round() * spec.step;
    digits(near.clamp(spec.min, spec.max)).parse().unwrap_or(value)
}
