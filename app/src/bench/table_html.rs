//! The markup of a table of records.

use crate::bench::held::{capitalised, refusal_words};
use crate::sheets::{Html, NONE, when};
use crate::store::{Column, Draft, List, Root, Slot, cell_slot, cell_text, cell_value, glanced, rate_note, rate_unit};
use serde_json::Value;
use sisterframe_core::project::Control;
use sisterframe_core::units::System;

/// What a table shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// Which list.
    pub list: List,
    /// Its rows.
    pub rows: Vec<Value>,
    /// Entries of its cells that were refused.
    pub drafts: Vec<(Slot, Draft)>,
    /// Units numbers are shown in.
    pub system: System,
}

/// Identifier of a cell in the page.
pub fn cell_id(list: List, row: usize, column: usize) -> String {
    format!("{}-{row}-{column}", list.key())
}

/// Row and column of a cell by its identifier.
pub fn cell_of(list: List, id: &str) -> Option<(usize, usize)> {
    let (row, column) = id.strip_prefix(list.key())?.strip_prefix('-')?.split_once('-')?;
    Some((row.parse().ok()?, column.parse().ok()?))
}

/// The text a cell shows: the refused entry, or the value.
pub fn shown_text(shown: &Shown, row: usize, column: &Column) -> String {
    match draft_of(shown, row, column) {
        Some(draft) => draft.text.clone(),
        None => {
            let own = shown.rows.get(row);
            if let (List::Rates, Some(own)) = (shown.list, own) {
                match column.keys.as_str() {
                    "unit" => return rate_unit(own, shown.system),
                    "note" => return rate_note(own, shown.system),
                    _ => {}
                }
            }
            cell_text(&shown.list.in_row(column, own), own.and_then(|own| cell_value(own, &column.keys)), shown.system)
        }
    }
}

/// The text a cell is drawn with while nobody types in it.
fn drawn_text(shown: &Shown, row: usize, column: &Column) -> String {
    let own = shown.rows.get(row);
    let value = own.and_then(|own| cell_value(own, &column.keys));
    match value.filter(|value| value.is_number() && draft_of(shown, row, column).is_none()) {
        Some(value) => glanced(value, shown.list.in_row(column, own).field.spec.dimension, shown.system),
        None => shown_text(shown, row, column),
    }
}

/// The refused entry of a cell.
fn draft_of<'s>(shown: &'s Shown, row: usize, column: &Column) -> Option<&'s Draft> {
    let slot = cell_slot(shown.list, row, &column.keys);
    shown.drafts.iter().find(|(own, _)| *own == slot).map(|(_, draft)| draft)
}

/// The head of a column with its unit.
pub fn head(column: &Column, system: System) -> String {
    match column.field.spec.dimension.unit(system).symbol {
        "" => column.field.spec.label.to_owned(),
        unit => format!("{}, {unit}", column.field.spec.label),
    }
}

/// The whole table. A row that has a name is headed by it; others by their number.
pub fn markup(shown: &Shown) -> String {
    let list = shown.list;
    let columns = list.columns();
    let named = columns.first().is_some_and(|column| column.keys == "name");
    let mut html = Html::default();
    html.open("thead", &[]);
    html.open("tr", &[]);
    if !named {
        html.leaf("th", &[("scope", "col")], capitalised(list.row_word()).as_str());
    }
    for column in &columns {
        html.leaf("th", &[("scope", "col")], &head(column, shown.system));
    }
    html.close("tr");
    html.close("thead");
    html.open("tbody", &[]);
    for (place, row) in shown.rows.iter().enumerate() {
        html.open("tr", &[]);
        if !named {
            html.leaf("th", &[("scope", "row")], &list.row_name(row, place, shown.rows.len()));
        }
        for (number, column) in columns.iter().enumerate() {
            let is_head = named && number == 0;
            let draft = draft_of(shown, place, column).is_some();
            let id = cell_id(list, place, number);
            let error = error_id(&id);
            let numeric = matches!(column.field.control, Control::Number | Control::Whole);
            let class = match (numeric, list.is_open(&column.keys)) {
                (true, _) => "figure",
                (false, false) if column.keys == "unit" => "told",
                (false, false) => "told long",
                (false, true) => "",
            };
            let tag = if is_head { "th" } else { "td" };
            html.open(
                tag,
                &[
                    ("id", &id),
                    ("tabindex", "-1"),
                    when(is_head, "scope", "row"),
                    when(!class.is_empty(), "class", class),
                    when(!list.is_open(&column.keys), "aria-readonly", "true"),
                    when(draft, "aria-invalid", "true"),
                    if draft { ("aria-describedby", error.as_str()) } else { NONE },
                ],
            );
            html.words(&drawn_text(shown, place, column));
            html.close(tag);
        }
        html.close("tr");
    }
    html.close("tbody");
    html.finish()
}

/// Refused entries in words, under the table.
pub fn refusals(shown: &Shown) -> String {
    let columns = shown.list.columns();
    let mut html = Html::default();
    for (slot, draft) in &shown.drafts {
        let Root::Row(_, row) = slot.root else { continue };
        let Some(number) = columns.iter().position(|column| column.keys == slot.keys) else { continue };
        let column = &columns[number];
        let name = shown.rows.get(row).map_or_else(String::new, |own| shown.list.row_name(own, row, shown.rows.len()));
        let words = format!(
            "{} {name}, {}, “{}”: {}",
            capitalised(shown.list.row_word()),
            column.field.spec.label.to_lowercase(),
            draft.text,
            refusal_words(&draft.error, shown.system)
        );
        html.leaf("p", &[("class", "error"), ("id", &error_id(&cell_id(shown.list, row, number)))], &words);
    }
    html.finish()
}

fn error_id(cell: &str) -> String {
    format!("{cell}-error")
}

/// The field a cell is edited in: a choice where its words are given, else a line of text.
pub fn editor(options: &[String], text: &str, label: &str) -> String {
    let mut html = Html::default();
    if options.is_empty() {
        let fixed = [("type", "text"), ("autocomplete", "off"), ("spellcheck", "false")];
        html.open("input", &[&fixed[..], &[("aria-label", label), ("value", text)]].concat());
        return html.finish();
    }
    html.open("select", &[("aria-label", label)]);
    // What was refused can be kept or changed.
    if !options.iter().any(|name| name == text) {
        html.leaf("option", &[("value", text), ("selected", "")], text);
    }
    for name in options {
        html.leaf("option", &[("value", name), when(name == text, "selected", "")], name);
    }
    html.close("select");
    html.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;
    use sisterframe_core::works::rates::Mark;

    #[test]
    fn a_row_is_headed_by_its_name_or_number_and_a_refused_cell_says_so() {
        let mut shown = Shown {
            list: List::XLines,
            rows: vec![json!({"name": "<1>", "at_m": 0}), json!({"name": "2", "at_m": 4.5})],
            drafts: Vec::new(),
            system: System::Us,
        };
        let error = sisterframe_core::project::FieldError {
            path: String::new(),
            value: String::new(),
            problem: "too short".into(),
            permitted: "1 to 25 m".into(),
        };
        let slot = cell_slot(List::XLines, 1, "at_m");
        shown.drafts.push((slot, Draft { text: "x\"".to_owned(), value: None, error }));
        let text = markup(&shown);
        assert!(text.contains("<th scope=\"col\">Ordinate, ft</th>"), "{text}");
        assert!(text.contains("<th id=\"x_lines-0-0\" tabindex=\"-1\" scope=\"row\">&lt;1&gt;</th>"), "{text}");
        assert!(text.contains("aria-invalid=\"true\" aria-describedby=\"x_lines-1-1-error\">x&quot;</td>"), "{text}");
        assert!(refusals(&shown).contains("Line 2, ordinate, “x&quot;”: Too short. Permitted: 1 to 25 m."));
        assert_eq!(cell_of(List::XLines, &cell_id(List::XLines, 12, 3)), Some((12, 3)));
        assert_eq!(cell_of(List::Beams, "beam_types-1-1"), None);
    }

    /// 8, 14 and 20 m² are 86.111, 150.69 and 215.28 ft², 14.864 m² are 160 ft² (NIST SP 811: 1 ft² is
    /// 0.092 903 04 m²). People and bars are counted, not converted.
    #[test]
    fn a_rate_and_the_table_beside_it_are_drawn_in_the_unit_of_the_row() {
        let rows = vec![
            json!({"activity": "ROUGH", "name": "Roughen", "unit": "m²", "mark": "common practice, no source",
                   "slow": 8.0, "usual": 14.0, "fast": 20.0, "crew": 2.0, "note": "wet"}),
            json!({"activity": "ROUGH", "name": "Roughen", "unit": "m²", "mark": Mark::Own.label(),
                   "slow": 8.0, "usual": 14.864_486_4, "fast": 20.0, "crew": 2.5, "note": ""}),
            json!({"activity": "DRILL", "name": "Drill", "unit": "bar", "mark": Mark::Own.label(),
                   "slow": 30.0, "usual": 61.0, "fast": 100.0, "crew": 2.0, "note": ""}),
        ];
        let mut shown = Shown { list: List::Rates, rows, drafts: Vec::new(), system: System::Us };
        let columns = List::Rates.columns();
        let cells = |shown: &Shown, row: usize| -> Vec<String> {
            columns[1..].iter().map(|column| drawn_text(shown, row, column)).collect()
        };
        let table = "common practice, no source";
        assert_eq!(cells(&shown, 0), ["86.111", "150.69", "215.28", "ft²", "2", table, "wet"]);
        let note = "table: 86.111, 150.69, 215.28; crew 2";
        assert_eq!(cells(&shown, 1), ["86.111", "160", "215.28", "ft²", "2.5", "your own", note]);
        let note = "table: 30, 60, 100; crew 2";
        assert_eq!(cells(&shown, 2), ["30", "61", "100", "bar", "2", "your own", note]);
        shown.system = System::Si;
        assert_eq!(cells(&shown, 0)[..4], ["8", "14", "20", "m²"]);
        assert_eq!(cells(&shown, 1)[6], "table: 8, 14, 20; crew 2");
    }
}
