//! The numbers of a study, by their place in it.

use serde::Serialize;
use serde_json::Value;

/// Every number, with where it stands, in order.
pub fn numbers(of: &impl Serialize) -> Vec<(String, f64)> {
    let mut found = Vec::new();
    walk(&value(of), &mut String::new(), &mut |path, leaf| {
        if let Value::Number(number) = leaf {
            found.push((path.to_owned(), number.as_f64().unwrap_or(f64::NAN)));
        }
    });
    found
}

/// A result as the JSON it is exported as.
pub fn value(of: &impl Serialize) -> Value {
    serde_json::to_value(of).unwrap_or(Value::Null)
}

/// Visits every leaf with its path.
pub fn walk(value: &Value, path: &mut String, visit: &mut impl FnMut(&str, &Value)) {
    let length = path.len();
    match value {
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                path.push_str(&format!("[{index}]"));
                walk(item, path, visit);
                path.truncate(length);
            }
        }
        Value::Object(fields) => {
            for (key, field) in fields {
                path.push('.');
                path.push_str(key);
                walk(field, path, visit);
                path.truncate(length);
            }
        }
        leaf => visit(path, leaf),
    }
}

/// Keys whose value may be withheld. Everything else is a number, a word or a list: a `null`
/// there is a number that is none, which is how JSON writes NaN and infinity.
const MAY_BE_WITHHELD: &[&str] = &[
    "strength_gain",
    "backbone",
    "axial_loss",
    "checked_shear_kn",
    "joint_ratio",
    "overturning_kn",
    "sway",
    "strength_to_demand",
    "ductility_needed",
    "weakest",
    "first",
    "works",
    "capacity",
    "capacity_to_demand",
    "largest_ratio",
    "eccentricity_m",
    "governing",
    "programme",
    "closed",
    "usual",
];

/// Keys that hold the largest number for "no limit".
const MAY_BE_UNLIMITED: &[&str] = &["ratio", "utilisation"];

fn key(path: &str) -> &str {
    path.rsplit('.').next().unwrap_or(path)
}

/// Fails where an exported number is none: `null`, or larger than anything that is built.
#[track_caller]
pub fn assert_every_number_is_one(which: &str, of: &impl Serialize) {
    walk(&value(of), &mut String::new(), &mut |path, leaf| match leaf {
        Value::Null => assert!(MAY_BE_WITHHELD.contains(&key(path)), "{which}: {path} is no number"),
        Value::Number(number) => {
            let size = number.as_f64().unwrap_or(f64::NAN).abs();
            let sane = size < 1e15 || MAY_BE_UNLIMITED.contains(&key(path));
            assert!(sane, "{which}: {path} is {number}");
        }
        _ => {}
    });
}
