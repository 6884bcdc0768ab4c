//! A schedule from a spreadsheet or a file: which column of it holds which field, and what
//! each of its rows would give.

use super::cell::{cell_value_of, cells_of};
use super::document::Entry;
use super::list::{Column, List};
use sisterframe_core::project::{FieldError, Project};
use sisterframe_core::units::{Dimension, System, typed};

/// The most rows of a schedule that are read.
const MAX_ROWS: usize = 400;

/// A schedule as it was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// The heads of its columns.
    pub heads: Vec<String>,
    /// Its rows, as texts.
    pub rows: Vec<Vec<String>>,
}

impl Schedule {
    /// Reads a text: cells parted by tabs, semicolons or commas, whichever its first line has
    /// most of. The first line holds the heads.
    pub fn read(text: &str) -> Self {
        let first = text.lines().next().unwrap_or_default();
        let count = |sign: char| first.matches(sign).count();
        let separator = if count('\t') > 0 {
            '\t'
        } else if count(';') > 0 {
            ';'
        } else {
            ','
        };
        let mut rows =
            cells_of(text, separator).into_iter().filter(|row| row.iter().any(|cell| !cell.trim().is_empty()));
        let heads = rows.next().unwrap_or_default();
        Self { heads, rows: rows.take(MAX_ROWS).collect() }
    }

    /// For each field of a list the column that seems to hold it.
    pub fn guess(&self, list: List) -> Vec<Option<usize>> {
        let mut taken: Vec<usize> = Vec::new();
        let heads: Vec<Vec<String>> = self.heads.iter().map(|head| words_of(&split_unit(head).0)).collect();
        list.columns()
            .iter()
            .map(|column| {
                let mut best: Option<(usize, usize)> = None;
                for (place, head) in heads.iter().enumerate().filter(|(place, _)| !taken.contains(place)) {
                    let score = likeness(column, head);
                    if score > 0 && best.is_none_or(|(known, _)| score > known) {
                        best = Some((score, place));
                    }
                }
                let place = best?.1;
                taken.push(place);
                Some(place)
            })
            .collect()
    }

    /// The entries its rows give under a mapping. A row whose name the list has changes that
    /// row; others are put in at the end. A unit in a head holds for the numbers under it.
    pub fn entries(&self, project: &Project, list: List, fields: &[Option<usize>], system: System) -> Vec<Vec<Entry>> {
        let columns = list.columns();
        let named = columns.first().is_some_and(|column| column.keys == "name");
        let names: Vec<String> = list
            .rows(project)
            .iter()
            .map(|row| row.get("name").and_then(|name| name.as_str()).unwrap_or_default().to_lowercase())
            .collect();
        let mut next = names.len();
        let mut given: Vec<(String, usize)> = Vec::new();
        let mut all = Vec::new();
        for cells in &self.rows {
            let text_of = |place: usize| cells.get(place).map_or("", |cell| cell.trim()).to_owned();
            let name = fields.first().copied().flatten().filter(|_| named).map(|place| text_of(place).to_lowercase());
            let known = name.as_ref().and_then(|name| {
                let earlier = given.iter().find(|(own, _)| own == name).map(|(_, row)| *row);
                earlier.or_else(|| names.iter().position(|own| own == name))
            });
            let row = known.unwrap_or_else(|| {
                next += 1;
                next - 1
            });
            let twice = name.as_ref().is_some_and(|name| given.iter().any(|(own, _)| own == name));
            given.extend(name.map(|name| (name, row)));
            let mut entries = Vec::new();
            for (column, place) in columns.iter().zip(fields) {
                let Some(place) = place else { continue };
                let text = text_of(*place);
                let mut value = match self.heads.get(*place).and_then(|head| split_unit(head).1) {
                    Some(unit) => with_unit(project, list, column, &text, &unit, system),
                    None => cell_value_of(project, list, column, &text, system),
                };
                if twice && column.keys == "name" {
                    value = Err(FieldError {
                        path: column.keys.clone(),
                        value: text.clone(),
                        problem: "an earlier row of the schedule has this name".into(),
                        permitted: "a name of its own".into(),
                    });
                }
                entries.push(Entry { row, keys: column.keys.clone(), text, value });
            }
            all.push(entries);
        }
        all
    }
}

/// The value of a number under a head with a unit, unless the number has a unit of its own.
fn with_unit(
    project: &Project,
    list: List,
    column: &Column,
    text: &str,
    unit: &str,
    system: System,
) -> Result<serde_json::Value, FieldError> {
    let bare = typed(text, Dimension::Number, system).is_ok();
    let measured = typed(&format!("1 {unit}"), column.field.spec.dimension, system).is_ok();
    let text = if bare && measured { format!("{text} {unit}") } else { text.to_owned() };
    cell_value_of(project, list, column, &text, system)
}

/// A head and the unit after it: `b [mm]`, `Width (in)` or `Cover, mm`.
fn split_unit(head: &str) -> (String, Option<String>) {
    let head = head.trim();
    let bracketed = |open: char, close: char| {
        let inner = head.strip_suffix(close)?;
        inner.rsplit_once(open)
    };
    let found = bracketed('[', ']').or_else(|| bracketed('(', ')')).or_else(|| head.rsplit_once(','));
    let is_unit = |unit: &str| {
        let known = [
            Dimension::Millimetres,
            Dimension::Megapascals,
            Dimension::Kilopascals,
            Dimension::Seconds,
            Dimension::Gravity,
        ];
        known.iter().any(|dimension| typed(&format!("1 {unit}"), *dimension, System::Si).is_ok())
    };
    match found {
        Some((name, unit)) if is_unit(unit.trim()) => (name.trim().to_owned(), Some(unit.trim().to_owned())),
        _ => (head.to_owned(), None),
    }
}

/// The words of a head, small, with usual abbreviations written out.
fn words_of(head: &str) -> Vec<String> {
    let small = head.to_lowercase();
    let parts = small.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    parts
        .map(|word| {
            match word {
                "mark" | "type" | "id" | "no" => "name",
                "dia" | "diam" | "ø" | "db" => "diameter",
                "b" | "bx" | "cx" | "width" => "width",
                "h" | "d" | "by" | "cy" | "depth" => "depth",
                "n" | "count" | "number" | "rebars" | "reinforcement" | "longitudinal" | "main" => "bars",
                "ties" | "tie" | "links" | "link" | "hoops" => "hoop",
                "stirrups" => "stirrup",
                "s" | "at" | "pitch" | "sp" => "spacing",
                "c" | "cov" => "cover",
                "splice" => "lap",
                "bar" => "bars",
                other => other,
            }
            .to_owned()
        })
        .collect()
}

/// How alike a field and the words of a head are; nothing if they are not.
fn likeness(column: &Column, head: &[String]) -> usize {
    let mut own = words_of(column.field.spec.label);
    own.extend(words_of(&column.keys.replace("_mm", "").replace("_m", "")));
    // What the cover is measured to tells nothing apart.
    let is_cover = own.iter().any(|word| word == "cover");
    let beside = |word: &str| is_cover && matches!(word, "hoop" | "stirrup");
    own.retain(|word| !beside(word));
    let head: Vec<&String> = head.iter().filter(|word| !beside(word)).collect();
    // Sizes of columns are called width and depth, or by their axis.
    match column.keys.as_str() {
        "x_mm" => own.push("width".to_owned()),
        "y_mm" => own.push("depth".to_owned()),
        _ => {}
    }
    let shared = head.iter().filter(|word| own.contains(**word)).count();
    let strange = head.len() - shared;
    // A head may be longer than the label, but what tells fields apart must not be missing.
    let telling = ["diameter", "spacing", "hoop", "stirrup", "legs", "cover", "lap", "top", "bottom", "y", "x"];
    let missing =
        telling.iter().filter(|word| head.iter().any(|own| *own == *word) != own.iter().any(|own| own == *word));
    let axis_only = missing.clone().all(|word| matches!(*word, "x" | "y"));
    if shared == 0 || !axis_only { 0 } else { (10 * shared + 1).saturating_sub(strange) }
}
