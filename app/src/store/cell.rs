//! Text in a cell of a table and the value it stands for.

use super::entry::{parse, shown};
use super::list::{Column, List};
use serde_json::{Value, json};
use sisterframe_core::order::sort_by_key;
use sisterframe_core::project::{Control, FieldError, Project};
use sisterframe_core::units::System;

/// Words that stand for everything where a cell may name a part.
const ALL: [&str; 4] = ["all", "", "–", "-"];

/// The text a cell shows for a value.
pub fn cell_text(column: &Column, value: Option<&Value>, system: System) -> String {
    let all = || if column.optional { "all".to_owned() } else { String::new() };
    match (column.field.control, value) {
        (Control::Span, None) => all(),
        (_, None) => String::new(),
        (Control::Span, Some(value)) => {
            let end = |place: usize| value.get(place).map_or_else(String::new, Value::to_string);
            if end(0) == end(1) { end(0) } else { format!("{}–{}", end(0), end(1)) }
        }
        (Control::Names, Some(value)) => {
            let names: Vec<&str> = value.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
            if names.is_empty() { "all".to_owned() } else { names.join(", ") }
        }
        (Control::Choice(options), Some(value)) => {
            let own = options.iter().find(|(key, _)| value.as_str() == Some(key));
            own.map_or_else(String::new, |(_, label)| (*label).to_owned())
        }
        (Control::Flag, Some(value)) => if value == &json!(true) { "yes" } else { "no" }.to_owned(),
        (_, Some(value)) => shown(value, column.field.spec.dimension, system),
    }
}

/// The value a text stands for in a cell, in the units shown unless a unit follows it.
///
/// # Errors
/// Where the text is none of what the cell takes.
pub fn cell_value_of(
    project: &Project,
    list: List,
    column: &Column,
    text: &str,
    system: System,
) -> Result<Value, FieldError> {
    let text = text.trim();
    let low = text.to_lowercase();
    let all = ALL.contains(&low.as_str());
    let refused = |problem: &str, permitted: String| {
        Err(FieldError {
            path: column.keys.clone(),
            value: text.to_owned(),
            problem: problem.into(),
            permitted: permitted.into(),
        })
    };
    match column.field.control {
        Control::Span if all && column.optional => Ok(Value::Null),
        Control::Span => match span(&low) {
            Some(ends) => Ok(json!(ends)),
            None => refused("a number, or a first and a last, is needed here", "2, or 1–3".to_owned()),
        },
        Control::Names if all => Ok(json!([])),
        Control::Names => {
            let offered = list.offered(project, &column.keys);
            let names = line_names(&offered, text);
            names
                .map(|names| json!(names))
                .or_else(|name| refused(&format!("“{name}” is no line here"), format!("{} or all", offered.join(", "))))
        }
        Control::Choice(options) => {
            let fits = |(key, label): &&(&str, &str)| *key == low || label.to_lowercase() == low;
            let begins = |(_, label): &&(&str, &str)| !low.is_empty() && label.to_lowercase().starts_with(&low);
            let mut near = options.iter().filter(begins);
            match (options.iter().find(fits), near.next(), near.next()) {
                (Some((key, _)), ..) | (None, Some((key, _)), None) => Ok(json!(key)),
                _ => refused(
                    "not one of the permitted words",
                    options.iter().map(|(_, label)| *label).collect::<Vec<_>>().join(", "),
                ),
            }
        }
        Control::Flag => match low.as_str() {
            "yes" | "y" | "true" | "1" | "x" => Ok(json!(true)),
            "no" | "n" | "false" | "0" | "" => Ok(json!(false)),
            _ => refused("yes or no is needed here", "yes, no".to_owned()),
        },
        Control::Text => {
            if text.is_empty() && column.optional {
                return Ok(Value::Null);
            }
            // A name typed in other letters is the name meant.
            let offered = list.offered(project, &column.keys);
            let meant =
                offered.iter().find(|name| *name == text).or(offered.iter().find(|name| name.to_lowercase() == low));
            Ok(json!(meant.map_or(text, String::as_str)))
        }
        _ if text.is_empty() && column.optional => Ok(Value::Null),
        _ if text.is_empty() && column.field.spec.default.is_some() => {
            Ok(column.field.spec.default.and_then(|text| serde_json::from_str(text).ok()).unwrap_or(Value::Null))
        }
        _ => parse(&column.field, text, system),
    }
}

/// A first and a last whole number, or one that is both.
fn span(text: &str) -> Option<[u32; 2]> {
    let text = text.replace(" to ", "-").replace(['–', '—', '…'], "-").replace("..", "-");
    let mut ends = text.trim_matches(['[', ']']).split(['-', ',']).map(|end| end.trim().parse::<u32>());
    let first = ends.next()?.ok()?;
    let last = match ends.next() {
        Some(last) => last.ok()?,
        None => first,
    };
    ends.next().is_none().then_some([first, last])
}

/// Names parted by commas or spaces, and runs of them such as 2–5; the first that is none.
fn line_names(offered: &[String], text: &str) -> Result<Vec<String>, String> {
    let find = |name: &str| {
        let same = |own: &&String| own.to_lowercase() == name.to_lowercase();
        offered.iter().position(|own| own == name).or_else(|| offered.iter().position(|own| same(&own)))
    };
    let mut places: Vec<usize> = Vec::new();
    for part in text.split([',', ';', ' ', '/']).map(str::trim).filter(|part| !part.is_empty()) {
        if let Some(place) = find(part) {
            places.push(place);
            continue;
        }
        let ends = part.split_once(['-', '–', '—']).and_then(|(first, last)| find(first.trim()).zip(find(last.trim())));
        let (first, last) = ends.ok_or_else(|| part.to_owned())?;
        places.extend(first.min(last)..=first.max(last));
    }
    sort_by_key(&mut places, |place| *place);
    places.dedup();
    Ok(places.into_iter().map(|place| offered[place].clone()).collect())
}

/// A block of text from a spreadsheet, cell by cell: rows by line breaks, cells by tabs, and
/// cells with breaks or tabs of their own in double quotes.
pub fn block_of(text: &str) -> Vec<Vec<String>> {
    cells_of(text, '\t')
}

/// The cells of a text whose rows end with line breaks (RFC 4180, with any separator).
pub fn cells_of(text: &str, separator: char) -> Vec<Vec<String>> {
    let mut rows = vec![Vec::new()];
    let mut cell = String::new();
    let mut quoted = false;
    let mut letters = text.trim_start_matches('\u{feff}').chars().peekable();
    let end = |rows: &mut Vec<Vec<String>>, cell: &mut String| {
        if let Some(row) = rows.last_mut() {
            row.push(std::mem::take(cell));
        }
    };
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if quoted => quoted = false,
            // Only a cell that begins with one is quoted: 12" is twelve inches.
            '"' if cell.is_empty() => quoted = true,
            _ if quoted => cell.push(letter),
            '\r' => {}
            '\n' => {
                end(&mut rows, &mut cell);
                rows.push(Vec::new());
            }
            _ if letter == separator => end(&mut rows, &mut cell),
            _ => cell.push(letter),
        }
    }
    end(&mut rows, &mut cell);
    if rows.last().is_some_and(|row| row.len() == 1 && row[0].is_empty()) {
        rows.pop();
    }
    rows
}

/// A block of cells as text for a spreadsheet.
pub fn text_of(rows: &[Vec<String>]) -> String {
    let cell = |text: &String| {
        if text.contains(['\t', '\n', '"']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.clone() }
    };
    rows.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>().join("\t")).collect::<Vec<_>>().join("\n")
}
