//! The small curve under a slider: what its whole range would give, and where it passes.

use crate::sheets::Html;
use crate::store::{digits, glanced};
use serde_json::json;
use sisterframe_core::evaluate::{Foreseen, Foresight, PassLine, Passing};
use sisterframe_core::project::Spec;
use sisterframe_core::study::Headline;
use sisterframe_core::units::{Dimension, System, number};
use std::fmt::Write;

/// Width and height of the curve in its own units; the page stretches it over the slider's track.
const WIDTH: f64 = 100.0;
const HEIGHT: f64 = 32.0;
/// The least difference of ratios the upright scale is fitted to, so that next to nothing looks flat.
const LEAST_SPREAD: f64 = 0.3;

/// A value of the slider with its outcome, if that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The value.
    pub value: f64,
    /// Capacity ÷ demand with it.
    pub ratio: Option<f64>,
}

/// What the curve shows.
#[derive(Clone, Copy, Debug)]
pub struct SliderCurve<'a> {
    /// Description of the number.
    pub spec: &'a Spec,
    /// What is foreseen so far.
    pub foresight: &'a Foresight,
    /// The value now.
    pub now: Option<Standing>,
    /// The value before the drag.
    pub was: Option<Standing>,
    /// Something else has changed since it was foreseen.
    pub is_old: bool,
    /// Units shown.
    pub system: System,
}

impl SliderCurve<'_> {
    /// Curve and words as markup.
    pub fn html(&self) -> String {
        let mut html = Html::default();
        if self.foresight.tried().next().is_none() {
            html.leaf("p", &[("class", "foresight-words")], "The curve follows once the page is at rest.");
            return html.finish();
        }
        let class = if self.is_old { "foresight-curve old" } else { "foresight-curve" };
        html.open("div", &[("class", class)]);
        let pass = format!("top:{:.1}%", 100.0 * self.y(1.0) / HEIGHT);
        // The number of the pass line stands in the margin left for half the slider's thumb.
        html.leaf("span", &[("class", "pass-mark"), ("aria-hidden", "true"), ("style", &pass)], "1");
        let view_box = format!("0 0 {WIDTH} {HEIGHT}");
        html.open(
            "svg",
            &[
                ("viewBox", view_box.as_str()),
                ("preserveAspectRatio", "none"),
                ("role", "img"),
                ("aria-label", &self.aloud()),
            ],
        );
        self.lines(&mut html);
        html.close("svg");
        html.close("div");
        html.leaf("p", &[("class", "foresight-words")], &self.words());
        html.finish()
    }

    /// Bottom and top of the upright scale: the pass line is inside, and a curve well above nothing is
    /// not squeezed to the top.
    fn reach(&self) -> [f64; 2] {
        let known = [self.now, self.was].into_iter().flatten().filter_map(|standing| standing.ratio);
        let tried = self.foresight.tried().filter_map(|(_, found)| found.ratio(PassLine::Capacity));
        let [least, most] =
            tried.chain(known).fold([1.0_f64, 1.0], |[least, most], ratio| [least.min(ratio), most.max(ratio)]);
        let apart = (most - least).max(LEAST_SPREAD);
        [(least - 0.35 * apart).max(0.0), most + 0.15 * apart]
    }

    fn x(&self, value: f64) -> f64 {
        let share = (value - self.spec.min) / (self.spec.max - self.spec.min);
        WIDTH * share.clamp(0.0, 1.0)
    }

    fn y(&self, ratio: f64) -> f64 {
        let [bottom, top] = self.reach();
        HEIGHT * (top - ratio) / (top - bottom)
    }

    fn lines(&self, html: &mut Html) {
        let path = |html: &mut Html, class: &str, way: &str| html.leaf("path", &[("class", class), ("d", way)], "");
        path(html, "ahead-base", &format!("M0 {HEIGHT}H{WIDTH}"));
        path(html, "ahead-pass", &format!("M0 {:.2}H{WIDTH}", self.y(1.0)));
        if let Some(was) = self.was {
            self.standing(html, "ahead-was", was);
        }
        let mut ways = [String::new(), String::new()];
        let mut dots = String::new();
        let mut before: Option<(f64, Headline)> = None;
        for (value, found) in self.foresight.tried() {
            let Foreseen::Given { capacity, .. } = found else {
                // A value that cannot be made leaves a gap.
                before = None;
                continue;
            };
            let (x, y) = (self.x(value), self.y(capacity.ratio));
            // Writing to a string does not fail.
            let _ = write!(dots, "M{x:.2} {y:.2}h0");
            if let Some((last, from)) = before {
                let way = &mut ways[usize::from(!from.along_x)];
                let _ = write!(way, "M{:.2} {:.2}L{x:.2} {y:.2}", self.x(last), self.y(from.ratio));
            }
            before = Some((value, *capacity));
        }
        path(html, "ahead-x", &ways[0]);
        path(html, "ahead-y", &ways[1]);
        path(html, "ahead-dots", &dots);
        if let Some(now) = self.now {
            self.standing(html, "ahead-now", now);
        }
    }

    /// A tick at a value, with a dot where its outcome is known.
    fn standing(&self, html: &mut Html, class: &str, standing: Standing) {
        let x = self.x(standing.value);
        let top = standing.ratio.map_or(0.0, |ratio| self.y(ratio));
        html.leaf("path", &[("class", class), ("d", &format!("M{x:.2} {top:.2}V{HEIGHT}"))], "");
        if standing.ratio.is_some() {
            let dot = format!("{class}-dot");
            html.leaf("path", &[("class", &dot), ("d", &format!("M{x:.2} {top:.2}h0"))], "");
        }
    }

    /// A stop with its unit.
    fn shown(&self, value: f64) -> String {
        let unit = self.spec.dimension.unit(self.system);
        match unit.symbol {
            "" => digits(value),
            symbol => format!("{}\u{a0}{symbol}", glanced(&json!(value), self.spec.dimension, self.system)),
        }
    }

    /// Where it passes, what cannot be made, and which direction decides.
    pub fn words(&self) -> String {
        if self.is_old {
            return "As before the last change; the curve follows.".to_owned();
        }
        let refused = self.foresight.refused();
        let whole = refused.is_empty();
        let mut sentences = Vec::new();
        match self.foresight.passing(PassLine::Capacity) {
            Some(passing) => sentences.push(match self.stretches(&passing) {
                None if whole => "Does not pass within the range.".to_owned(),
                None => "Does not pass where it can be made.".to_owned(),
                Some(all) if all.is_empty() && whole => "Passes over the whole range.".to_owned(),
                Some(all) if all.is_empty() => "Passes wherever it can be made.".to_owned(),
                Some(all) => format!("Passes {all}."),
            }),
            None if self.foresight.next().is_some() => sentences.push("Being looked for …".to_owned()),
            None => sentences.push("The verdict is withheld.".to_owned()),
        }
        if let Some(passing) = self.foresight.passing(PassLine::Slab) {
            sentences.push(match self.stretches(&passing) {
                None => "The connecting slab is too weak throughout.".to_owned(),
                Some(all) if all.is_empty() => "The connecting slab is strong enough throughout.".to_owned(),
                Some(all) => format!("The connecting slab is strong enough {all}."),
            });
        }
        for ([first, last], reason) in refused {
            let reach = if first == last { self.shown(first) } else { self.between(first, last) };
            sentences
                .push(format!("Not possible {reach}: {}.", reason.problem.in_units(self.system).trim_end_matches('.')));
        }
        let decided = |along_x: bool| {
            self.foresight
                .tried()
                .any(|(_, found)| matches!(found, Foreseen::Given { capacity, .. } if capacity.along_x == along_x))
        };
        match (decided(true), decided(false)) {
            (true, false) => sentences.push("Decided along x.".to_owned()),
            (false, true) => sentences.push("Decided along y.".to_owned()),
            // Where both do in turn, the dashes say which.
            _ => {}
        }
        sentences.join(" ")
    }

    /// Stretches that pass; `None` if there are none, nothing if all do.
    fn stretches(&self, passing: &Passing) -> Option<String> {
        let runs: Vec<String> = passing
            .runs
            .iter()
            .map(|[first, last]| match (*first == passing.first, *last == passing.last) {
                (true, true) => String::new(),
                (true, false) => format!("up to {}", self.shown(*last)),
                (false, true) => format!("from {}", self.shown(*first)),
                (false, false) if first == last => format!("at {} only", self.shown(*first)),
                (false, false) => format!("from {} to {}", self.shown(*first), self.shown(*last)),
            })
            .collect();
        (!runs.is_empty()).then(|| runs.join(" and "))
    }

    fn between(&self, first: f64, last: f64) -> String {
        let mut tried = self.foresight.tried().map(|(value, _)| value);
        let is_first = tried.next() == Some(first);
        match (is_first, tried.last() == Some(last)) {
            (true, false) => format!("up to {}", self.shown(last)),
            (false, true) => format!("from {}", self.shown(first)),
            _ => format!("from {} to {}", self.shown(first), self.shown(last)),
        }
    }

    /// The curve for those who do not see it.
    fn aloud(&self) -> String {
        let mut all: Vec<String> = Vec::new();
        for (value, found) in self.foresight.tried() {
            let outcome = match found {
                Foreseen::Given { capacity, .. } => {
                    let way = if capacity.along_x { "x" } else { "y" };
                    format!("{} along {way}", number(capacity.ratio, Dimension::Number, System::Si))
                }
                Foreseen::Refused(_) => "not possible".to_owned(),
                Foreseen::Withheld => "withheld".to_owned(),
            };
            all.push(format!("{}: {outcome}", self.shown(value)));
        }
        format!("Capacity ÷ demand by {}. {}.", self.spec.label.to_lowercase(), all.join("; "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sisterframe_core::project::FieldError;

    const SPEC: Spec = Spec::number("Jacket thickness", Dimension::Millimetres, 60.0, 300.0, 10.0);

    /// All that is foreseen of a rule.
    fn foreseen(rule: impl Fn(f64) -> Foreseen) -> Foresight {
        foreseen_in(System::Si, rule)
    }

    fn foreseen_in(system: System, rule: impl Fn(f64) -> Foreseen) -> Foresight {
        let mut foresight = Foresight::new(&SPEC, system);
        while let Some(value) = foresight.next() {
            foresight.put(value, rule(value));
        }
        foresight
    }

    fn given(ratio: f64, along_x: bool, slab: Option<f64>) -> Foreseen {
        Foreseen::Given { capacity: Headline { ratio, along_x, storey: 1 }, slab }
    }

    fn curve(foresight: &Foresight, system: System) -> SliderCurve<'_> {
        SliderCurve { spec: &SPEC, foresight, now: None, was: None, is_old: false, system }
    }

    #[test]
    fn a_crossing_is_named_in_the_units_shown() {
        let foresight = foreseen(|value| given(value / 140.0, true, None));
        assert_eq!(curve(&foresight, System::Si).words(), "Passes from 140\u{a0}mm. Decided along x.");
        // 140 mm are 5.51 in, and 6 in the next half inch.
        let in_inches = foreseen_in(System::Us, |value| given(value / 140.0, true, None));
        assert_eq!(curve(&in_inches, System::Us).words(), "Passes from 6\u{a0}in. Decided along x.");
        let html = curve(&foresight, System::Si).html();
        assert!(html.contains("60\u{a0}mm: 0.43 along x; ") && html.contains("role=\"img\""), "{html}");
    }

    #[test]
    fn every_kind_of_range_has_its_words() {
        let words = |rule: &dyn Fn(f64) -> Foreseen| curve(&foreseen(rule), System::Si).words();
        assert!(words(&|_| given(0.9, false, None)).starts_with("Does not pass within the range. Decided along y."));
        assert!(words(&|_| given(1.0, true, None)).starts_with("Passes over the whole range."));
        assert!(words(&|value| given(200.0 / value, true, None)).starts_with("Passes up to 200\u{a0}mm."));
        let middle = |value: f64| given(if (100.0..=200.0).contains(&value) { 1.1 } else { 0.9 }, value < 150.0, None);
        assert_eq!(words(&middle), "Passes from 100\u{a0}mm to 200\u{a0}mm.");
        let outside = |value: f64| given(if (100.0..=200.0).contains(&value) { 0.9 } else { 1.1 }, true, None);
        assert!(words(&outside).starts_with("Passes up to 90\u{a0}mm and from 210\u{a0}mm."));
        let slab = |value: f64| given(1.2, true, Some(value / 150.0));
        assert!(words(&slab).contains("The connecting slab is strong enough from 150\u{a0}mm."), "{}", words(&slab));
        assert_eq!(words(&|_| Foreseen::Withheld), "The verdict is withheld.");
    }

    #[test]
    fn what_cannot_be_made_is_a_gap_with_its_reason() {
        let refused = || FieldError {
            path: "schemes[0]".to_owned(),
            value: String::new(),
            problem: "no room".into(),
            permitted: sisterframe_core::phrase::Phrase::default(),
        };
        let rule = |value: f64| if value > 200.0 { Foreseen::Refused(refused()) } else { given(1.1, true, None) };
        let foresight = foreseen(rule);
        let words = curve(&foresight, System::Si).words();
        assert!(
            words.starts_with("Passes wherever it can be made. Not possible from 210\u{a0}mm: no room."),
            "{words}"
        );
        let html = curve(&foresight, System::Si).html();
        assert!(html.contains("210\u{a0}mm: not possible"), "{html}");
        // 200 of 60…300 is the last place the curve reaches.
        let unbroken = html.split("ahead-x").nth(1).and_then(|rest| rest.split('>').next()).unwrap_or_default();
        assert!(unbroken.contains("L58.33") && !unbroken.contains("L100"), "{unbroken}");
    }

    #[test]
    fn the_value_now_and_the_one_before_stand_on_the_curve() {
        let foresight = foreseen(|value| given(value / 140.0, true, None));
        let now = Some(Standing { value: 180.0, ratio: Some(1.2857) });
        let was = Some(Standing { value: 120.0, ratio: None });
        let html = SliderCurve { now, was, ..curve(&foresight, System::Si) }.html();
        assert!(
            html.contains("class=\"ahead-now-dot\" d=\"M50.00")
                && html.contains("class=\"ahead-was\" d=\"M25.00 0.00V32")
        );
        assert!(!html.contains("ahead-was-dot"), "nothing is known of it");
        let old = SliderCurve { is_old: true, ..curve(&foresight, System::Si) };
        assert!(old.html().contains("foresight-curve old") && old.words().starts_with("As before"));
        let nothing = Foresight::new(&SPEC, System::Si);
        assert!(curve(&nothing, System::Si).html().contains("follows once the page is at rest"));
    }
}
