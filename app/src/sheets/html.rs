//! Markup written as text: what the tables, drawings and paragraphs of the sheets are made of.
//!
//! The sheets only show results, so they need no reactive tree of their own: a block is
//! written anew when what it shows has changed. That is natively testable and keeps the page
//! small. All text that is not ours is escaped here.

use super::block::{act, pick_code, picked};
use crate::drawing::{Drawing, Pick, Px, escaped};
use sisterframe_core::glossary::Figure;
use sisterframe_core::units::System;
use std::fmt::Write;

/// Pixels the drawings count to a root em, so that they grow with the reader's text.
const PX_PER_REM: f64 = 16.0;

/// A length of a drawing as the page takes it.
pub fn rem(px: f64) -> String {
    format!("{:.3}rem", px / PX_PER_REM)
}

/// Markup being written.
#[derive(Debug, Default)]
pub struct Html {
    text: String,
    system: System,
}

impl Html {
    /// Markup whose explanations name quantities, in the units shown.
    pub fn shown_in(system: System) -> Self {
        Self { system, ..Self::default() }
    }

    /// What has been written.
    pub fn finish(self) -> String {
        self.text
    }

    /// Markup of our own, taken as it is.
    pub fn raw(&mut self, markup: &str) {
        self.text.push_str(markup);
    }

    /// Text, escaped.
    pub fn words(&mut self, text: &str) {
        self.text.push_str(&escaped(text));
    }

    /// Begins an element; attributes without a name are left out.
    pub fn open(&mut self, tag: &str, attributes: &[(&str, &str)]) {
        self.text.push('<');
        self.text.push_str(tag);
        for (name, value) in attributes.iter().filter(|(name, _)| !name.is_empty()) {
            // Writing to a string does not fail.
            let _ = write!(self.text, " {name}=\"{}\"", escaped(value));
        }
        self.text.push('>');
    }

    /// Ends an element.
    pub fn close(&mut self, tag: &str) {
        let _ = write!(self.text, "</{tag}>");
    }

    /// An element that holds only text.
    pub fn leaf(&mut self, tag: &str, attributes: &[(&str, &str)], text: &str) {
        self.open(tag, attributes);
        self.words(text);
        self.close(tag);
    }

    /// A paragraph of secondary text.
    pub fn note(&mut self, text: &str) {
        self.leaf("span", &[("class", "note")], text);
    }

    /// A drawing at its own size, with its words.
    pub fn drawing(&mut self, drawing: &Drawing, class: &str) {
        self.svg(drawing, class, ("role", "img"), ("aria-label", &drawing.words));
    }

    /// A drawing whose places can be pointed at: one stop for the keyboard, from which arrow keys
    /// lead on. `chosen` is the place pointed at.
    pub fn map(&mut self, drawing: &Drawing, class: &str, chosen: Option<impl Into<Pick>>) {
        let chosen: Option<Pick> = chosen.map(Into::into);
        let frame = self.svg_open(drawing, class, ("role", "group"), ("aria-label", &drawing.words));
        self.raw(&drawing.markup());
        let stop = drawing.targets.iter().position(|own| Some(own.pick) == chosen).unwrap_or(0);
        for (place, target) in drawing.targets.iter().enumerate() {
            let is_chosen = Some(target.pick) == chosen;
            let code = pick_code(target.pick);
            let act = act(picked(target.pick, !is_chosen));
            let ([x, y], [w, h]) = (target.corner, target.size);
            let [x, y, w, h, r] = [x, y, w, h, if target.round { w / 2.0 } else { 0.0 }].map(|px| Px(px).to_string());
            self.open(
                "rect",
                &[
                    ("class", "spot-target"),
                    ("id", &format!("{class}-{code}")),
                    ("role", "button"),
                    ("tabindex", if place == stop { "0" } else { "-1" }),
                    ("aria-label", &target.name),
                    ("aria-pressed", if is_chosen { "true" } else { "false" }),
                    ("data-spot", &code),
                    ("data-act", &act),
                    ("x", &x),
                    ("y", &y),
                    ("width", &w),
                    ("height", &h),
                    when(target.round, "rx", &r),
                ],
            );
            self.close("rect");
        }
        self.close(frame);
    }

    /// A small bar whose figure stands beside it.
    pub fn bar(&mut self, drawing: &Drawing) {
        self.svg(drawing, "bar", ("aria-hidden", "true"), NONE);
    }

    fn svg(&mut self, drawing: &Drawing, class: &str, first: (&str, &str), second: (&str, &str)) {
        let frame = self.svg_open(drawing, class, first, second);
        self.raw(&drawing.markup());
        self.close(frame);
    }

    fn svg_open(&mut self, drawing: &Drawing, class: &str, first: (&str, &str), second: (&str, &str)) -> &'static str {
        let class = format!("picture {class}");
        let view_box = format!("0 0 {} {}", drawing.width, drawing.height);
        let (width, height) = (rem(drawing.width), rem(drawing.height));
        let size = [("viewBox", view_box.as_str()), ("width", &width), ("height", &height)];
        self.open("svg", &[("class", &class), first, second, size[0], size[1], size[2]]);
        "svg"
    }

    /// A button that chooses; what it does is told by `act`.
    pub fn choice(&mut self, id: &str, class: &str, act: &str, pressed: bool, letter: &str, name: &str) {
        let pressed = if pressed { "true" } else { "false" };
        let class = if class.is_empty() { NONE } else { ("class", class) };
        self.open("button", &[("type", "button"), ("id", id), class, ("data-act", act), ("aria-pressed", pressed)]);
        if !letter.is_empty() {
            self.leaf("b", &[("class", "letter")], letter);
            self.raw(" ");
        }
        self.words(name);
        self.close("button");
    }

    /// A button that says where a figure comes from. The texts are in the page once, and
    /// the button opens them.
    pub fn ask(&mut self, figure: Figure, within: &str) {
        let entry = figure.entry(self.system);
        let id = format!("about-{within}-{figure:?}");
        let label = format!("About {}", entry.title.to_lowercase());
        self.raw(" ");
        self.leaf(
            "button",
            &[
                ("type", "button"),
                ("class", "ask"),
                ("id", &format!("ask-{within}-{figure:?}")),
                ("popovertarget", &id),
                ("aria-label", &label),
            ],
            "?",
        );
        self.open("span", &[("id", &id), ("class", "about"), ("popover", "auto")]);
        for (class, text) in [
            ("about-title", entry.title),
            ("about-text", entry.meaning),
            ("about-text", entry.method),
            ("about-source", entry.source),
        ] {
            self.leaf("span", &[("class", class)], text);
        }
        self.close("span");
    }
}

/// A name as it stands inside a sentence.
pub fn lower_first(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// No attribute.
pub const NONE: (&str, &str) = ("", "");

/// An attribute that is there only if something holds.
pub fn when<'a>(holds: bool, name: &'a str, value: &'a str) -> (&'a str, &'a str) {
    if holds { (name, value) } else { NONE }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_cannot_break_out_of_text_or_attribute() {
        let mut html = Html::default();
        html.leaf("p", &[("title", "a\"><script>"), NONE, when(false, "hidden", "")], "<b>&");
        assert_eq!(html.finish(), "<p title=\"a&quot;&gt;&lt;script&gt;\">&lt;b&gt;&amp;</p>");
    }

    #[test]
    fn a_question_opens_the_texts_it_names() {
        let mut html = Html::default();
        html.ask(Figure::Shares, "ledger");
        let html = html.finish();
        assert!(html.contains("popovertarget=\"about-ledger-Shares\"") && html.contains("id=\"about-ledger-Shares\""));
        assert!(html.contains(Figure::Shares.entry(System::Si).meaning));
    }
}
