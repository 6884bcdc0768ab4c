//! Texts with quantities in them.
//!
//! What the engine says is put together once, in storage units; the quantities in it keep
//! their dimension, so that the page can print the same sentence in the units shown.

use crate::units::{Dimension, System, plain_number, show};
use serde::{Serialize, Serializer};
use std::fmt;

/// A text with quantities in it. Printed by `Display`, and written to JSON, as files hold
/// numbers: in SI, shares as fractions of one where a range of them is told.
///
/// ```
/// use sisterframe_core::phrase::Phrase;
/// use sisterframe_core::units::{Dimension::*, System};
/// let phrase = Phrase::from("line C in storey 4 (").show(100.0, Kilonewtons).and(")");
/// assert_eq!(phrase.to_string(), "line C in storey 4 (100\u{a0}kN)");
/// assert_eq!(phrase.in_units(System::Us), "line C in storey 4 (22.5\u{a0}kip)");
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phrase(Vec<Part>);

#[derive(Clone, Debug, PartialEq)]
enum Part {
    Words(String),
    Quantity { value: f64, dimension: Dimension, form: Form, unit: bool },
}

/// How a quantity is printed.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Form {
    /// As results are.
    Result,
    /// As it was given, to three figures where it has to be converted.
    Given,
    /// The least permitted: four figures, never rounded down.
    Least,
    /// The most permitted: four figures, never rounded up.
    Most,
}

impl Phrase {
    /// The same with words after it.
    pub fn and(mut self, words: impl Into<String>) -> Self {
        self.0.push(Part::Words(words.into()));
        self
    }

    /// The same with a result and its unit after it.
    pub fn show(self, value: f64, dimension: Dimension) -> Self {
        self.quantity(value, dimension, Form::Result, true)
    }

    /// The same with a size as it was given, with its unit, after it.
    pub fn size(self, value: f64, dimension: Dimension) -> Self {
        self.quantity(value, dimension, Form::Given, true)
    }

    /// The same with a size as it was given, without its unit, after it.
    pub fn bare(self, value: f64, dimension: Dimension) -> Self {
        self.quantity(value, dimension, Form::Given, false)
    }

    /// A permitted range.
    ///
    /// ```
    /// use sisterframe_core::phrase::Phrase;
    /// use sisterframe_core::units::{Dimension::*, System};
    /// let range = Phrase::between(150.0, 2000.0, Millimetres);
    /// assert_eq!(range.to_string(), "150 to 2000 mm");
    /// assert_eq!(range.in_units(System::Us), "5.906 to 78.74 in");
    /// ```
    pub fn between(least: f64, most: f64, dimension: Dimension) -> Self {
        let range = Self::default().quantity(least, dimension, Form::Least, false).and(" to ");
        range.quantity(most, dimension, Form::Most, true)
    }

    /// The most that is permitted, after words such as "up to".
    pub fn most(words: &str, most: f64, dimension: Dimension) -> Self {
        Self::from(format!("{words} ")).quantity(most, dimension, Form::Most, true)
    }

    /// The least that is permitted, with "or more".
    pub fn or_more(least: f64, dimension: Dimension) -> Self {
        Self::default().quantity(least, dimension, Form::Least, true).and(" or more")
    }

    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|part| matches!(part, Part::Words(words) if words.is_empty()))
    }

    /// The text with its quantities in the units shown.
    pub fn in_units(&self, system: System) -> String {
        self.printed(Some(system))
    }

    fn quantity(mut self, value: f64, dimension: Dimension, form: Form, unit: bool) -> Self {
        self.0.push(Part::Quantity { value, dimension, form, unit });
        self
    }

    /// The text in a system of units, or as files hold it.
    fn printed(&self, system: Option<System>) -> String {
        let mut text = String::new();
        for part in &self.0 {
            match part {
                Part::Words(words) => text.push_str(words),
                Part::Quantity { value, dimension, form, unit } => {
                    let shown_in = system.unwrap_or_default();
                    if *form == Form::Result {
                        text.push_str(&show(*value, *dimension, shown_in));
                        continue;
                    }
                    // A file holds a share as a fraction of one.
                    let as_held = system.is_none() && *dimension == Dimension::Share;
                    let own = dimension.unit(shown_in);
                    let (factor, symbol) = if as_held { (1.0, "") } else { (own.factor, own.symbol) };
                    text.push_str(&figures(*value, factor, *form));
                    if *unit && !symbol.is_empty() {
                        text.push(if *form == Form::Given { '\u{a0}' } else { ' ' });
                        text.push_str(symbol);
                    }
                }
            }
        }
        text
    }
}

/// A given value in another unit: all its digits where nothing is converted.
fn figures(value: f64, factor: f64, form: Form) -> String {
    let shown = value * factor;
    let rounded = |places: usize| {
        let text = format!("{shown:.places$e}");
        (plain_number(&text).unwrap_or(shown), text)
    };
    if factor == 1.0 {
        return value.to_string();
    }
    if form == Form::Given {
        return rounded(2).0.to_string();
    }
    let (near, text) = rounded(3);
    let power: i32 = text.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or(0);
    let last = plain_number(&format!("1e{}", power - 3)).unwrap_or(0.0);
    // What is within the last digits of the conversion counts as met.
    let hair = 1e-12 * shown.abs();
    let moved = match form {
        Form::Least if near < shown - hair => near + last,
        Form::Most if near > shown + hair => near - last,
        _ => near,
    };
    // Through text again: a sum of decimals is not a short decimal.
    plain_number(&format!("{moved:.3e}")).unwrap_or(moved).to_string()
}

impl From<&str> for Phrase {
    fn from(words: &str) -> Self {
        Self::default().and(words)
    }
}

impl From<String> for Phrase {
    fn from(words: String) -> Self {
        Self::default().and(words)
    }
}

impl From<&String> for Phrase {
    fn from(words: &String) -> Self {
        Self::default().and(words)
    }
}

impl Extend<Self> for Phrase {
    fn extend<T: IntoIterator<Item = Self>>(&mut self, phrases: T) {
        self.0.extend(phrases.into_iter().flat_map(|phrase| phrase.0));
    }
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.printed(None))
    }
}

impl Serialize for Phrase {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Dimension::{Megapascals, Metres, Millimetres, Share};
    use crate::units::typed;

    #[test]
    fn limits_in_other_units_are_never_beyond_the_limits_themselves() {
        for (least, most, dimension) in
            [(2.5, 10.0, Metres), (60.0, 300.0, Millimetres), (8.0, 40.0, Millimetres), (235.0, 600.0, Megapascals)]
        {
            let text = Phrase::between(least, most, dimension).in_units(System::Us);
            let (low, high) = text.split_once(" to ").expect("a range");
            let (low, high) = (typed(low, dimension, System::Us), typed(high, dimension, System::Us));
            assert!(low.expect("a number") >= least * (1.0 - 1e-9), "{text}");
            assert!(high.expect("a number") <= most * (1.0 + 1e-9), "{text}");
        }
    }

    #[test]
    fn a_share_is_a_fraction_in_files_and_per_cent_on_the_page() {
        let range = Phrase::between(0.0, 0.07, Share);
        assert_eq!(range.to_string(), "0 to 0.07");
        assert_eq!(range.in_units(System::Si), "0 to 7 %");
    }

    #[test]
    fn sizes_keep_their_digits_until_they_are_converted() {
        let size = Phrase::default().bare(75.0, Millimetres).and(" × ").size(112.5, Millimetres);
        assert_eq!(size.to_string(), "75 × 112.5\u{a0}mm");
        assert_eq!(size.in_units(System::Us), "2.95 × 4.43\u{a0}in");
        assert!(Phrase::default().is_empty() && Phrase::from("").is_empty() && !size.is_empty());
    }
}
