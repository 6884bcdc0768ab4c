//! Fields of the project file: one description drives reading, validation, writing,
//! the JSON Schema, the bench's forms and the sliders.

use crate::phrase::Phrase;
use crate::units::{Dimension, System, plain_number};
use serde_json::{Map, Value, json};
use std::borrow::Cow;
use std::fmt;

/// A refused value: where, what, and what would be accepted.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldError {
    /// Path of the field, such as `building.storeys[1].height_m`; empty for the whole file.
    pub path: String,
    /// The value as found, shortened.
    pub value: String,
    /// What is wrong, in words.
    pub problem: Phrase,
    /// The permitted range with its unit, or the permitted words.
    pub permitted: Phrase,
}

impl fmt::Display for FieldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.told(&self.value, Phrase::to_string))
    }
}

impl std::error::Error for FieldError {}

impl FieldError {
    /// The refusal in the units shown. The file's own number is left out where they are not the
    /// file's.
    pub fn in_units(&self, system: System) -> String {
        let converted = system != System::Si && plain_number(&self.value).is_some();
        self.told(if converted { "" } else { &self.value }, |phrase| phrase.in_units(system))
    }

    fn told(&self, value: &str, words: impl Fn(&Phrase) -> String) -> String {
        let place = if self.path.is_empty() { "project file" } else { &self.path };
        let mut text = format!("{place}: {}", words(&self.problem));
        if !value.is_empty() {
            text.push_str(&format!(" (found {value})"));
        }
        if !self.permitted.is_empty() {
            text.push_str(&format!("; permitted: {}", words(&self.permitted)));
        }
        text
    }

    /// A refusal of `value` at `path`.
    pub fn new(path: &Path<'_>, value: &Value, problem: impl Into<Phrase>, permitted: impl Into<Phrase>) -> Self {
        Self { path: path.to_string(), value: shorten(value), problem: problem.into(), permitted: permitted.into() }
    }
}

/// Shows at most forty characters of a value.
fn shorten(value: &Value) -> String {
    let text = match value {
        Value::Null => "nothing".to_owned(),
        Value::Object(_) => "an object".to_owned(),
        Value::Array(items) => format!("a list of {}", items.len()),
        other => other.to_string(),
    };
    if text.chars().count() > 40 {
        let mut short: String = text.chars().take(37).collect();
        short.push('…');
        short
    } else {
        text
    }
}

/// Where a value stands in the file, built on the stack while reading.
#[derive(Clone, Copy, Debug)]
pub enum Path<'a> {
    /// The whole file.
    Root,
    /// A field of an object.
    Key(&'a Path<'a>, &'a str),
    /// An item of a list, counted from zero.
    Item(&'a Path<'a>, usize),
}

impl fmt::Display for Path<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Root => Ok(()),
            Self::Key(Path::Root, key) => write!(f, "{key}"),
            Self::Key(parent, key) => write!(f, "{parent}.{key}"),
            Self::Item(parent, index) => write!(f, "{parent}[{index}]"),
        }
    }
}

/// What a field accepts and how a form shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spec {
    /// Label on the bench.
    pub label: &'static str,
    /// What the number measures.
    pub dimension: Dimension,
    /// Smallest permitted number; for text and lists the smallest length.
    pub min: f64,
    /// Largest permitted number; for text and lists the largest length.
    pub max: f64,
    /// Step of a slider or of the arrow keys.
    pub step: f64,
    /// JSON text of the value taken when the field is missing; `None` if it must be given.
    pub default: Option<&'static str>,
    /// Whether the bench offers a slider for it.
    pub slider: bool,
}

impl Spec {
    /// A number between `min` and `max`.
    pub const fn number(label: &'static str, dimension: Dimension, min: f64, max: f64, step: f64) -> Self {
        Self { label, dimension, min, max, step, default: None, slider: false }
    }

    /// A whole number between `min` and `max`.
    pub const fn whole(label: &'static str, min: u32, max: u32) -> Self {
        Self::number(label, Dimension::Number, min as f64, max as f64, 1.0)
    }

    /// Text of at most `max` characters.
    pub const fn text(label: &'static str, max: u32) -> Self {
        Self::number(label, Dimension::Number, 0.0, max as f64, 1.0)
    }

    /// A list of `min` to `max` items.
    pub const fn list(label: &'static str, min: u32, max: u32) -> Self {
        Self::number(label, Dimension::Number, min as f64, max as f64, 1.0)
    }

    /// Something whose type says all: a record, a choice, a flag.
    pub const fn of(label: &'static str) -> Self {
        Self::number(label, Dimension::Number, 0.0, 0.0, 1.0)
    }

    /// The same field, taken as `json` where the file leaves it out.
    pub const fn or(mut self, json: &'static str) -> Self {
        self.default = Some(json);
        self
    }

    /// The same field, stepped by `step` from its least value on.
    pub const fn by(mut self, step: f64) -> Self {
        self.step = step;
        self
    }

    /// The same field, offered as a slider.
    pub const fn slider(mut self) -> Self {
        self.slider = true;
        self
    }

    /// Symbol of the unit the file holds the number in; empty for bare numbers. A share is held as
    /// a fraction of one, however it is shown.
    pub const fn unit(&self) -> &'static str {
        match self.dimension {
            Dimension::Share => "",
            dimension => dimension.unit(System::Si).symbol,
        }
    }

    /// The permitted range.
    pub fn range(&self) -> Phrase {
        Phrase::between(self.min, self.max, self.dimension)
    }
}

/// A named field of a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Key in the file.
    pub key: &'static str,
    /// What it accepts.
    pub spec: Spec,
    /// What kind of control shows it.
    pub control: Control,
    /// Whether it may be left out, which stands for something other than any value it can take.
    pub optional: bool,
}

/// The kind of control a field needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Control {
    /// A number, with a slider if the spec says so.
    Number,
    /// A whole number.
    Whole,
    /// A line of text.
    Text,
    /// Yes or no.
    Flag,
    /// One of some words: (key, label).
    Choice(&'static [(&'static str, &'static str)]),
    /// A first and last whole number.
    Span,
    /// Names of grid lines.
    Names,
    /// A record with fields of its own.
    Record(&'static [Field]),
    /// Anything larger: lists of records.
    Part,
}

/// A type that can stand in the project file.
pub trait Wire: Sized + Clone {
    /// The control that edits it.
    const CONTROL: Control;
    /// Whether a missing key means an empty value.
    const OPTIONAL: bool = false;
    /// Reads and checks a value.
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError>;
    /// Writes the value as the file holds it; `None` leaves the key out.
    fn write(&self) -> Option<Value>;
    /// JSON Schema of the value.
    fn schema(spec: &Spec) -> Value;
}

/// A record of the project file with its table of fields.
pub trait Record: Wire {
    /// The fields in file order.
    const FIELDS: &'static [Field];
    /// The value of a field, as the file holds it.
    fn get(&self, key: &str) -> Option<Value>;
    /// Replaces one field after checking it; the record is unchanged on error.
    fn set(&mut self, key: &str, value: &Value) -> Result<(), FieldError>;
}

/// The number behind a JSON value, refused in words if it is none or out of range.
fn read_number(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<f64, FieldError> {
    let Some(number) = value.as_f64() else {
        return Err(FieldError::new(at, value, "a number is needed here", spec.range()));
    };
    if number < spec.min {
        return Err(FieldError::new(at, value, "below the permitted range", spec.range()));
    }
    if number > spec.max || !number.is_finite() {
        return Err(FieldError::new(at, value, "above the permitted range", spec.range()));
    }
    Ok(number)
}

impl Wire for f64 {
    const CONTROL: Control = Control::Number;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        read_number(value, at, spec)
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self))
    }
    fn schema(spec: &Spec) -> Value {
        let Spec { min, max, label, .. } = spec;
        json!({"type": "number", "minimum": min, "maximum": max, "title": label, "x-unit": spec.unit()})
    }
}

impl Wire for u32 {
    const CONTROL: Control = Control::Whole;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        let number = read_number(value, at, spec)?;
        if number.fract() != 0.0 {
            return Err(FieldError::new(at, value, "a whole number is needed here", spec.range()));
        }
        Ok(number as u32)
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self))
    }
    fn schema(spec: &Spec) -> Value {
        json!({"type": "integer", "minimum": spec.min as u32, "maximum": spec.max as u32, "title": spec.label})
    }
}

impl Wire for bool {
    const CONTROL: Control = Control::Flag;
    fn read(value: &Value, at: &Path<'_>, _: &Spec) -> Result<Self, FieldError> {
        value.as_bool().ok_or_else(|| FieldError::new(at, value, "true or false is needed here", "true, false"))
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self))
    }
    fn schema(spec: &Spec) -> Value {
        json!({"type": "boolean", "title": spec.label})
    }
}

impl Wire for String {
    const CONTROL: Control = Control::Text;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        let permitted = || format!("text of {} to {} characters", spec.min, spec.max);
        let Some(text) = value.as_str() else {
            return Err(FieldError::new(at, value, "text is needed here", permitted()));
        };
        let length = text.chars().count() as f64;
        if length < spec.min || length > spec.max {
            return Err(FieldError::new(at, value, "the text is too short or too long", permitted()));
        }
        Ok(text.to_owned())
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self))
    }
    fn schema(spec: &Spec) -> Value {
        json!({"type": "string", "minLength": spec.min as u32, "maxLength": spec.max as u32, "title": spec.label})
    }
}

impl<T: Wire> Wire for Option<T> {
    const CONTROL: Control = T::CONTROL;
    const OPTIONAL: bool = true;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        if value.is_null() { Ok(None) } else { T::read(value, at, spec).map(Some) }
    }
    fn write(&self) -> Option<Value> {
        self.as_ref().and_then(T::write)
    }
    fn schema(spec: &Spec) -> Value {
        T::schema(spec)
    }
}

/// Reads a list whose length the spec bounds and whose items `read` checks.
pub fn read_list<T>(
    value: &Value,
    at: &Path<'_>,
    spec: &Spec,
    read: impl Fn(&Value, &Path<'_>) -> Result<T, FieldError>,
) -> Result<Vec<T>, FieldError> {
    let permitted = || format!("a list of {} to {}", spec.min, spec.max);
    let Some(items) = value.as_array() else {
        return Err(FieldError::new(at, value, "a list is needed here", permitted()));
    };
    if (items.len() as f64) < spec.min || items.len() as f64 > spec.max {
        return Err(FieldError::new(at, value, "the list is too short or too long", permitted()));
    }
    items.iter().enumerate().map(|(index, item)| read(item, &Path::Item(at, index))).collect()
}

/// A list schema around an item's schema.
pub fn list_schema(spec: &Spec, items: Value) -> Value {
    let (least, most) = (spec.min as u32, spec.max as u32);
    json!({"type": "array", "minItems": least, "maxItems": most, "items": items, "title": spec.label})
}

/// Names of grid lines or of anything else, each of 1 to 24 characters.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names(pub Vec<String>);

impl Names {
    /// Whether `name` is meant: an empty list means all.
    pub fn covers(&self, name: &str) -> bool {
        self.0.is_empty() || self.0.iter().any(|own| own == name)
    }
}

/// What a name in a list of names may be.
pub const NAME: Spec = Spec { min: 1.0, ..Spec::text("Name", 24) };

impl Wire for Names {
    const CONTROL: Control = Control::Names;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        read_list(value, at, spec, |item, at| String::read(item, at, &NAME)).map(Self)
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self.0))
    }
    fn schema(spec: &Spec) -> Value {
        list_schema(spec, String::schema(&NAME))
    }
}

/// A first and a last whole number, both included, written `[first, last]`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// First, counted from 1.
    pub first: u32,
    /// Last, not before the first.
    pub last: u32,
}

impl Span {
    /// Whether `number` lies in the span.
    pub fn contains(self, number: u32) -> bool {
        self.first <= number && number <= self.last
    }

    /// The numbers from first to last.
    pub fn iter(self) -> impl Iterator<Item = u32> + Clone {
        self.first..=self.last
    }

    /// How many numbers it spans.
    pub fn count(self) -> u32 {
        self.last + 1 - self.first
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.first == self.last { write!(f, "{}", self.first) } else { write!(f, "{}–{}", self.first, self.last) }
    }
}

impl Wire for Span {
    const CONTROL: Control = Control::Span;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        let pair = Spec { min: 2.0, max: 2.0, ..*spec };
        let ends = read_list(value, at, &pair, |item, at| u32::read(item, at, spec))?;
        let (first, last) = (ends[0], ends[1]);
        if last < first {
            return Err(FieldError::new(at, value, "the last comes before the first", "[first, last]"));
        }
        Ok(Self { first, last })
    }
    fn write(&self) -> Option<Value> {
        Some(json!([self.first, self.last]))
    }
    fn schema(spec: &Spec) -> Value {
        list_schema(&Spec { min: 2.0, max: 2.0, ..*spec }, u32::schema(spec))
    }
}

/// A point of a pasted spectrum: period in s, acceleration in g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpectrumPoint {
    /// Period, s.
    pub period_s: f64,
    /// Spectral acceleration, g.
    pub acceleration_g: f64,
}

const PERIOD: Spec = Spec::number("Period", Dimension::Seconds, 0.0, 10.0, 0.05);
/// Above zero, or a building of that period would have no demand to be compared with.
const ACCELERATION: Spec = Spec::number("Acceleration", Dimension::Gravity, 0.001, 6.0, 0.05);

impl SpectrumPoint {
    /// Its two columns; the file holds them as a pair.
    pub const FIELDS: &'static [Field] = &[
        Field { key: "period_s", spec: PERIOD, control: Control::Number, optional: false },
        Field { key: "acceleration_g", spec: ACCELERATION, control: Control::Number, optional: false },
    ];
}

impl Wire for SpectrumPoint {
    const CONTROL: Control = Control::Part;
    fn read(value: &Value, at: &Path<'_>, _: &Spec) -> Result<Self, FieldError> {
        let Some([period, acceleration]) = value.as_array().map(Vec::as_slice) else {
            return Err(FieldError::new(at, value, "a pair [period, acceleration] is needed here", "[s, g]"));
        };
        Ok(Self {
            period_s: f64::read(period, &Path::Item(at, 0), &PERIOD)?,
            acceleration_g: f64::read(acceleration, &Path::Item(at, 1), &ACCELERATION)?,
        })
    }
    fn write(&self) -> Option<Value> {
        Some(json!([self.period_s, self.acceleration_g]))
    }
    fn schema(_: &Spec) -> Value {
        json!({"type": "array", "prefixItems": [f64::schema(&PERIOD), f64::schema(&ACCELERATION)], "minItems": 2, "maxItems": 2})
    }
}

impl<T: Listed> Wire for Vec<T> {
    const CONTROL: Control = Control::Part;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        read_list(value, at, spec, |item, at| T::read(item, at, &Spec::of("")))
    }
    fn write(&self) -> Option<Value> {
        Some(Value::Array(self.iter().filter_map(T::write).collect()))
    }
    fn schema(spec: &Spec) -> Value {
        list_schema(spec, T::schema(&Spec::of("")))
    }
}

/// Types that stand in lists.
pub trait Listed: Wire {}
impl Listed for SpectrumPoint {}

/// The object behind a value, or words.
pub fn read_object<'v>(value: &'v Value, at: &Path<'_>) -> Result<&'v Map<String, Value>, FieldError> {
    value.as_object().ok_or_else(|| FieldError::new(at, value, "an object is needed here", "{ … }"))
}

/// Refuses keys that are not fields, naming the nearest that is.
pub fn refuse_unknown_keys<'k>(
    object: &Map<String, Value>,
    at: &Path<'_>,
    known: impl Iterator<Item = &'k str> + Clone,
) -> Result<(), FieldError> {
    for key in object.keys() {
        if !known.clone().any(|name| name == key) {
            let shown: String = key.chars().take(40).collect();
            let nearest = known.clone().min_by_key(|name| distance(name, &shown)).unwrap_or("");
            let path = Path::Key(at, &shown);
            return Err(FieldError {
                path: path.to_string(),
                value: String::new(),
                problem: format!("unknown key; the nearest known one is “{nearest}”").into(),
                permitted: known.collect::<Vec<_>>().join(", ").into(),
            });
        }
    }
    Ok(())
}

/// Levenshtein distance between two short names.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, to) in b.iter().enumerate() {
            let substituted = diagonal + usize::from(from != *to);
            diagonal = row[j + 1];
            row[j + 1] = substituted.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[b.len()]
}

/// The value an object gives a field, or the field's default.
fn given<'v>(object: &'v Map<String, Value>, at: &Path<'_>, field: &Field) -> Result<Cow<'v, Value>, FieldError> {
    match (object.get(field.key), field.spec.default) {
        (Some(value), _) => Ok(Cow::Borrowed(value)),
        (None, Some(text)) => Ok(Cow::Owned(serde_json::from_str(text).unwrap_or(Value::Null))),
        (None, None) if field.optional => Ok(Cow::Owned(Value::Null)),
        (None, None) => Err(FieldError {
            path: Path::Key(at, field.key).to_string(),
            value: String::new(),
            problem: "missing".into(),
            permitted: field.spec.range_or_label(),
        }),
    }
}

// The next three are called once for every field of every record: out of line, or the
// page's file grows by a tenth.

/// Reads the next field of an object, taking its default where it is missing.
#[inline(never)]
pub fn read_next<T: Wire>(
    object: &Map<String, Value>,
    at: &Path<'_>,
    fields: &mut std::slice::Iter<'_, Field>,
) -> Result<T, FieldError> {
    // The table and the struct are declared together, so they run in step.
    let Some(field) = fields.next() else { unreachable!("one field description per field") };
    T::read(&*given(object, at, field)?, &Path::Key(at, field.key), &field.spec)
}

/// Replaces a field's value after checking it.
#[inline(never)]
pub fn assign<T: Wire>(own: &mut T, value: &Value, fields: &[Field], key: &str) -> Result<(), FieldError> {
    if let Some(field) = fields.iter().find(|field| field.key == key) {
        *own = T::read(value, &Path::Key(&Path::Root, key), &field.spec)?;
    }
    Ok(())
}

/// Writes a field into an object, unless it is left out.
#[inline(never)]
pub fn put<T: Wire>(object: &mut Map<String, Value>, key: &str, own: &T) {
    if let Some(value) = own.write() {
        object.insert(key.to_owned(), value);
    }
}

impl Spec {
    /// The range for numbers, the label for everything else.
    fn range_or_label(&self) -> Phrase {
        if self.max > self.min { self.range() } else { self.label.into() }
    }
}

/// Schema of a record from its fields' schemas.
pub fn record_schema(fields: &[(Field, Value, bool)]) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for (field, schema, optional) in fields {
        let mut schema = schema.clone();
        match (field.spec.default, schema.as_object_mut()) {
            (Some(text), Some(object)) => {
                let value = serde_json::from_str(text).unwrap_or(Value::Null);
                object.insert("default".to_owned(), value);
            }
            (None, _) if !optional => required.push(json!(field.key)),
            _ => {}
        }
        properties.insert(field.key.to_owned(), schema);
    }
    json!({"type": "object", "properties": properties, "required": required, "additionalProperties": false})
}

/// Declares a record of the project file: the struct, its table of fields, its reader,
/// writer and schema.
macro_rules! record {
    ($(#[$meta:meta])* pub struct $name:ident { $( $(#[$fmeta:meta])* $field:ident : $type:ty = $spec:expr ; )* }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name { $( $(#[$fmeta])* pub $field: $type, )* }

        impl $crate::project::fields::Record for $name {
            const FIELDS: &'static [$crate::project::fields::Field] = &[ $(
                $crate::project::fields::Field {
                    key: stringify!($field),
                    spec: $spec,
                    control: <$type as $crate::project::fields::Wire>::CONTROL,
                    optional: <$type as $crate::project::fields::Wire>::OPTIONAL,
                },
            )* ];

            fn get(&self, key: &str) -> Option<serde_json::Value> {
                match key {
                    $( stringify!($field) => $crate::project::fields::Wire::write(&self.$field), )*
                    _ => None,
                }
            }

            fn set(&mut self, key: &str, value: &serde_json::Value) -> Result<(), $crate::project::fields::FieldError> {
                match key {
                    $( stringify!($field) => {
                        $crate::project::fields::assign(&mut self.$field, value, Self::FIELDS, key)
                    } )*
                    _ => {
                        let at = $crate::project::fields::Path::Key(&$crate::project::fields::Path::Root, key);
                        Err($crate::project::fields::FieldError::new(&at, value, "unknown key", ""))
                    }
                }
            }
        }

        impl $crate::project::fields::Wire for $name {
            const CONTROL: $crate::project::fields::Control =
                $crate::project::fields::Control::Record(<Self as $crate::project::fields::Record>::FIELDS);

            fn read(
                value: &serde_json::Value,
                at: &$crate::project::fields::Path<'_>,
                _: &$crate::project::fields::Spec,
            ) -> Result<Self, $crate::project::fields::FieldError> {
                use $crate::project::fields::Record;
                let object = $crate::project::fields::read_object(value, at)?;
                $crate::project::fields::refuse_unknown_keys(object, at, Self::FIELDS.iter().map(|field| field.key))?;
                let mut fields = Self::FIELDS.iter();
                $( let $field = $crate::project::fields::read_next::<$type>(object, at, &mut fields)?; )*
                Ok(Self { $( $field, )* })
            }

            fn write(&self) -> Option<serde_json::Value> {
                let mut object = serde_json::Map::new();
                $( $crate::project::fields::put(&mut object, stringify!($field), &self.$field); )*
                Some(serde_json::Value::Object(object))
            }

            fn schema(_: &$crate::project::fields::Spec) -> serde_json::Value {
                use $crate::project::fields::Record;
                let mut fields = Self::FIELDS.iter();
                let described = [ $( match fields.next() {
                    Some(field) => (
                        *field,
                        <$type as $crate::project::fields::Wire>::schema(&field.spec),
                        <$type as $crate::project::fields::Wire>::OPTIONAL,
                    ),
                    None => unreachable!("one field description per field"),
                } ),* ];
                $crate::project::fields::record_schema(&described)
            }
        }

        impl $crate::project::fields::Listed for $name {}
    };
}

/// Declares a choice among words of the project file.
macro_rules! choice {
    ($(#[$meta:meta])* pub enum $name:ident { $( $(#[$vmeta:meta])* $variant:ident = $key:literal, $label:literal; )* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $( $(#[$vmeta])* $variant, )* }

        impl $name {
            /// Every option: (key in the file, label on the page).
            pub const OPTIONS: &'static [(&'static str, &'static str)] = &[ $( ($key, $label), )* ];

            /// The key in the file.
            pub const fn key(self) -> &'static str {
                match self { $( Self::$variant => $key, )* }
            }

            /// The label on the page.
            pub const fn label(self) -> &'static str {
                match self { $( Self::$variant => $label, )* }
            }
        }

        impl $crate::project::fields::Wire for $name {
            const CONTROL: $crate::project::fields::Control = $crate::project::fields::Control::Choice(Self::OPTIONS);

            fn read(
                value: &serde_json::Value,
                at: &$crate::project::fields::Path<'_>,
                _: &$crate::project::fields::Spec,
            ) -> Result<Self, $crate::project::fields::FieldError> {
                match value.as_str() {
                    $( Some($key) => Ok(Self::$variant), )*
                    _ => Err($crate::project::fields::FieldError::new(
                        at, value, "not one of the permitted words", [ $( $key ),* ].join(", "),
                    )),
                }
            }

            fn write(&self) -> Option<serde_json::Value> {
                Some(serde_json::Value::from(self.key()))
            }

            fn schema(spec: &$crate::project::fields::Spec) -> serde_json::Value {
                serde_json::json!({"enum": [ $( $key ),* ], "title": spec.label})
            }
        }
    };
}

pub(crate) use {choice, record};
