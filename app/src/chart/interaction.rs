//! Section strength under axial force and bending as a drawing: the laws of all rule sets, before and
//! with a scheme, and what acts.

use super::fine::{ByAverage, Measure};
use super::strength::{dashed, parted, ticks};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::section_view::{Curve, SectionView, Special};
use sisterframe_core::units::{Dimension, System, grouped, show};

/// A moment that acts at the gravity load.
#[derive(Clone, Debug, PartialEq)]
pub struct Acting {
    /// Where: at the foot or the head.
    pub end: &'static str,
    /// At the performance point; otherwise where the first member of the building yields.
    pub at_demand: bool,
    /// Moment, kNm, positive where it compresses the side of higher ordinates.
    pub moment_knm: f64,
}

/// What the chart shows.
pub struct InteractionChart<'a> {
    /// Sections and strengths.
    pub view: &'a SectionView,
    /// What acts.
    pub acting: &'a [Acting],
    /// Least and most axial force as the frame is pushed over, kN; of a column.
    pub pushed_kn: Option<[f64; 2]>,
    /// Units.
    pub system: System,
}

const LABEL_PX: f64 = 13.0;
/// Dashes of the loads of a building pushed over.
const PUSHED: &[f64] = &[2.0, 4.0];
/// Dashes of the second rule set's curve.
const SECOND: &[f64] = &[7.0, 4.0];

/// A special place in words.
pub const fn special(own: Special) -> &'static str {
    match own {
        Special::Squash => "squash",
        Special::Balanced => "balanced",
        Special::Bending => "pure bending",
        Special::Tension => "tension",
    }
}

impl InteractionChart<'_> {
    /// Whether left and right differ, so that both are shown.
    pub fn is_two_sided(&self) -> bool {
        let all = self.view.before.iter().chain([&self.view.now]);
        !all.flat_map(|looked| &looked.laws).all(|law| law.is_symmetric())
    }

    /// A moment as it is placed: to either side, or without its sign where both sides are alike.
    fn placed(&self, moment: f64) -> f64 {
        if self.is_two_sided() { moment } else { moment.abs() }
    }

    /// Draws it.
    pub fn draw(&self, [width, height]: [f64; 2]) -> Drawing {
        let mut drawing = Drawing::new(width, height);
        let factors = [Dimension::KilonewtonMetres, Dimension::Kilonewtons].map(|own| own.unit(self.system));
        let two_sided = self.is_two_sided();
        let curves = |looked: &sisterframe_core::section_view::Looked| -> Vec<Vec<[f64; 2]>> {
            let shown = |curve: &Curve, sign: f64| -> Vec<[f64; 2]> {
                curve.points.iter().map(|[m, n]| [sign * m * factors[0].factor, n * factors[1].factor]).collect()
            };
            let law = |law: &sisterframe_core::section_view::Law| {
                let mut line = shown(&law.senses[0], 1.0);
                if two_sided {
                    // From squash down the other side to tension, so that one line goes round.
                    line.extend(shown(&law.senses[1], -1.0).into_iter().rev());
                }
                line
            };
            looked.laws.iter().map(law).collect()
        };
        let now = curves(&self.view.now);
        let before: Vec<Vec<[f64; 2]>> = self.view.before.iter().flat_map(curves).collect();
        let acting: Vec<(&Acting, f64)> =
            self.acting.iter().map(|own| (own, self.placed(own.moment_knm) * factors[0].factor)).collect();
        let gravity = self.view.now.axial_kn * factors[1].factor;
        let pushed: Vec<f64> = self.pushed_kn.into_iter().flatten().map(|force| force * factors[1].factor).collect();
        let all = || {
            let forces = pushed.iter().map(|force| [0.0, *force]);
            let curves = now.iter().chain(&before).flatten().copied();
            curves.chain(acting.iter().map(|own| [own.1, gravity])).chain(forces)
        };
        let extent = |axis: usize, sign: f64| all().map(|point| sign * point[axis]).fold(0.0, f64::max);
        let axis = |axis: usize, count: usize| {
            let (low, high) = (extent(axis, -1.0), extent(axis, 1.0));
            let step = ticks(low.max(high).max(1e-9), count).get(1).copied().unwrap_or(1.0);
            let [below, above] = [low, high].map(|most| (most / step - 1e-6).ceil().max(0.0));
            let first = -(below as i32);
            (first..=above as i32).map(|k| f64::from(k) * step).collect::<Vec<f64>>()
        };
        let moments = axis(0, if width < 420.0 || two_sided { 4 } else { 6 });
        let forces = axis(1, 6);
        let digits = |ticks: &[f64]| usize::from(ticks.windows(2).any(|pair| pair[1] - pair[0] < 0.99));
        let label = |value: f64, ticks: &[f64]| {
            let text = grouped(value.abs(), digits(ticks));
            if value < 0.0 { format!("−{text}") } else { text }
        };
        let wide = forces.iter().map(|force| ByAverage.width_px(&label(*force, &forces), LABEL_PX)).fold(0.0, f64::max);
        let (left, right, top, base) = (wide + 14.0, width - 98.0, 34.0, height - 46.0);
        let span = |ticks: &[f64]| (ticks[0], ticks[ticks.len() - 1]);
        let ((m0, m1), (n0, n1)) = (span(&moments), span(&forces));
        let at = |[m, n]: [f64; 2]| {
            [left + (m - m0) / (m1 - m0) * (right - left), base - (n - n0) / (n1 - n0) * (base - top)]
        };
        for &moment in &moments {
            let [x, _] = at([moment, 0.0]);
            drawing.line(Ink::Hairline, [x, top], [x, base + 4.0]);
            drawing.text(Ink::Small, [x, base + 17.0], Anchor::Middle, label(moment, &moments));
        }
        for &force in &forces {
            let [_, y] = at([0.0, force]);
            drawing.line(Ink::Hairline, [left - 4.0, y], [right, y]);
            drawing.text(Ink::Small, [left - 7.0, y + 4.0], Anchor::End, label(force, &forces));
        }
        drawing.line(Ink::Thin, at([0.0, n0]), at([0.0, n1]));
        drawing.line(Ink::Thin, at([m0, 0.0]), at([m1, 0.0]));
        drawing.text(
            Ink::Small,
            [left - 7.0, 14.0],
            Anchor::Start,
            format!("axial force, {}, compression up", factors[1].symbol),
        );
        let moment_axis = format!("moment, {}", factors[0].symbol);
        drawing.text(Ink::Small, [right, base + 36.0], Anchor::End, moment_axis);
        let put = |drawing: &mut Drawing, ink: Ink, index: usize, line: &[[f64; 2]]| {
            let points: Vec<[f64; 2]> = line.iter().map(|point| at(*point)).collect();
            if index == 0 {
                drawing.polyline(ink, &[points]);
                return;
            }
            let pairs: Vec<(f64, f64)> = points.into_iter().map(|[x, y]| (x, y)).collect();
            let pieces: Vec<Vec<[f64; 2]>> = dashed(&pairs, SECOND)
                .into_iter()
                .map(|dash| dash.into_iter().map(|(x, y)| [x, y]).collect())
                .collect();
            drawing.polyline(ink, &pieces);
        };
        for (index, line) in before.iter().enumerate() {
            put(&mut drawing, Ink::CurveThin, index, line);
        }
        for (index, line) in now.iter().enumerate() {
            put(&mut drawing, Ink::CurveMid, index, line);
        }
        self.draw_special(&mut drawing, &at, factors.map(|unit| unit.factor), right);
        let [_, y] = at([0.0, gravity]);
        drawing.line(Ink::DemandLine, [left, y], [right, y]);
        let load = show(self.view.now.axial_kn, Dimension::Kilonewtons, self.system);
        drawing.text(Ink::DemandText, [right - 3.0, y - 5.0], Anchor::End, format!("gravity {load}"));
        for force in &pushed {
            let [_, y] = at([0.0, *force]);
            let dashes = dashed(&[(left, y), (right, y)], PUSHED);
            let pieces: Vec<Vec<[f64; 2]>> =
                dashes.into_iter().map(|dash| dash.into_iter().map(|(x, y)| [x, y]).collect()).collect();
            drawing.polyline(Ink::DemandLine, &pieces);
        }
        for (own, moment) in &acting {
            let centre = at([*moment, gravity]);
            if own.at_demand {
                drawing.circle(Ink::Demand, centre, 4.5);
            } else {
                drawing.line(Ink::DemandLine, [centre[0], centre[1] - 6.0], [centre[0], centre[1] + 6.0]);
            }
        }
        self.name_ends(&mut drawing, &acting, |moment| at([moment, gravity]));
        drawing.words = self.words();
        drawing
    }

    /// Rings at the special places of the first law, named beside the chart with the loads of a frame pushed over.
    fn draw_special(&self, drawing: &mut Drawing, at: &impl Fn([f64; 2]) -> [f64; 2], factors: [f64; 2], right: f64) {
        let Some(law) = self.view.now.laws.first() else { return };
        let special = law.senses[0]
            .named
            .iter()
            .map(|own| (special(own.special), Ink::Small, at([own.at[0] * factors[0], own.at[1] * factors[1]])));
        let pushed = self.pushed_kn.into_iter().flat_map(|[least, most]| [("least", least), ("most", most)]);
        let pushed = pushed.map(|(name, force)| (name, Ink::DemandText, [right, at([0.0, force * factors[1]])[1]]));
        let named: Vec<(&str, Ink, [f64; 2])> = special.chain(pushed).collect();
        let places: Vec<f64> = named.iter().map(|(.., place)| place[1]).collect();
        let moved = parted(&places, &vec![16.0; places.len()], 10.0, drawing.height - 40.0);
        for ((words, ink, place), y) in named.into_iter().zip(moved) {
            let beside = ink == Ink::DemandText;
            drawing.line(Ink::Hairline, [if beside { right } else { place[0] + 4.5 }, place[1]], [right + 6.0, y]);
            if !beside {
                drawing.circle(Ink::Ring, place, 3.5);
            }
            drawing.text(ink, [right + 9.0, y + 4.0], Anchor::Start, words);
        }
    }

    /// Names the ends at the points of the performance point, or of the first yield where there is none.
    fn name_ends(&self, drawing: &mut Drawing, acting: &[(&Acting, f64)], at: impl Fn(f64) -> [f64; 2]) {
        let demanded = acting.iter().any(|(own, _)| own.at_demand);
        let shown: Vec<&(&Acting, f64)> = acting.iter().filter(|(own, _)| own.at_demand == demanded).collect();
        let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs() > 36.0;
        match shown[..] {
            [one, other] if !apart(at(one.1), at(other.1)) => {
                let [x, y] = at(one.1.max(other.1));
                drawing.text(Ink::DemandText, [x + 7.0, y + 15.0], Anchor::Start, "foot, head");
            }
            _ => {
                for (own, moment) in shown {
                    let [x, y] = at(*moment);
                    drawing.text(Ink::DemandText, [x, y + 17.0], Anchor::Middle, own.end);
                }
            }
        }
    }

    /// What the chart shows, for those who do not see it.
    fn words(&self) -> String {
        let titles: Vec<&str> = self.view.now.laws.iter().map(|law| law.title).collect();
        let before = if self.view.before.is_some() { "; thin, as it stands" } else { "" };
        let acting = if self.acting.is_empty() { "" } else { " Marked on it: the moments that act." };
        format!(
            "Chart of the axial force and moment the section carries together, by the laws of the rule sets {}{before}. \
             A line marks the gravity load.{acting} The table below has the numbers.",
            titles.join(" (unbroken) and ")
        )
    }
}
