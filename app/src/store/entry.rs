//! Text in a field and the value it stands for.

use serde_json::{Value, json};
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Control, Field, FieldError};
use sisterframe_core::units::{Dimension, System, TypedError, plain_number, typed, typed_units};

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
            let refused = |problem: Phrase, permitted: Phrase| FieldError {
                path: field.key.to_owned(),
                value: text.to_owned(),
                problem,
                permitted,
            };
            match typed(text, field.spec.dimension, system) {
                Ok(value) => Ok(json!(value)),
                Err(TypedError::NoNumber) => Err(refused("a number is needed here".into(), field.spec.range())),
                Err(TypedError::OtherUnit(unit)) => {
                    let units = typed_units(field.spec.dimension);
                    let permitted = if units.is_empty() { "a number without a unit".to_owned() } else { units };
                    Err(refused(format!("“{unit}” is no unit for this").into(), permitted.into()))
                }
            }
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

/// The text a field shows while nobody types in it: five figures where the unit is converted,
/// since a size given in millimetres is seldom a round number of inches.
pub fn glanced(value: &Value, dimension: Dimension, system: System) -> String {
    let factor = dimension.unit(system).factor;
    match value.as_f64() {
        Some(number) if factor != 1.0 && dimension != Dimension::Share => {
            let shown = number * factor;
            digits(plain_number(&format!("{shown:.4e}")).unwrap_or(shown))
        }
        _ => shown(value, dimension, system),
    }
}

/// A number with at most nine significant figures and no trailing zeros.
pub fn digits(number: f64) -> String {
    // Through the shortest decimal of nine figures, so that 0.07 × 100 reads 7.
    let rounded = plain_number(&format!("{number:.8e}")).unwrap_or(number);
    if rounded == 0.0 { "0".to_owned() } else { rounded.to_string() }
}

/// The nearest value a slider stops at in the units shown.
pub fn stop(field: &Field, value: f64, system: System) -> f64 {
    plain_number(&digits(field.spec.near(value, system))).unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use sisterframe_core::units::plain_number as number;

    #[test]
    fn reads_every_number_as_the_standard_library_does() {
        let texts = [
            "0",
            "-0",
            "7",
            "007",
            "-2.5",
            ".5",
            "-.5",
            "5.",
            "+3",
            "1e3",
            "1.e3",
            ".5E-2",
            "00.070",
            "1e+2",
            "0.1",
            "123456789.123456789",
            "1.7976931348623157e308",
            "4.9e-324",
            "0.30000000000000004",
        ];
        for text in texts {
            assert_eq!(number(text).map(f64::to_bits), text.parse().ok().map(f64::to_bits), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_finite_number() {
        for text in
            ["", ".", "-", "+", "e3", "--1", "+-1", "1.2.3", "1e", "1 2", "inf", "NaN", "1e999", "0x10", "[1]", "1,2"]
        {
            assert_eq!(number(text), None, "{text}");
        }
    }
}
