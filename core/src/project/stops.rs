//! Round numbers a field is stepped through, in the units shown.
//!
//! The file is always SI, so a step of 25 mm is an odd number of inches. Where inches are shown, sliders, arrow
//! keys and values the tool itself starts with go by whole and half inches, feet, ksi and psf instead, and by
//! the bars sold there; what a person types stays as typed.

use super::Spec;
use crate::units::{Dimension, System, numbered_bars};

/// Steps and ends are met to this part of a step, so that rounding takes nothing away.
const ALIKE: f64 = 1e-6;

/// A number without the rounding that many small steps gather.
fn tidy(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}

impl Spec {
    /// The step in the units shown, in storage units: the round number there that comes next to the file's own
    /// (common practice, no source).
    pub fn step_in(&self, system: System) -> f64 {
        let in_us_units = match self.dimension {
            Dimension::Millimetres if self.step > 25.0 => 2.0,
            Dimension::Millimetres if self.step > 10.0 => 1.0,
            Dimension::Millimetres if self.step > 5.0 => 0.5,
            Dimension::Millimetres => 0.25,
            Dimension::Metres if self.step < 0.1 => 0.25,
            Dimension::Metres => 0.5,
            Dimension::Megapascals if self.step < 5.0 => 0.25,
            Dimension::Megapascals => 5.0,
            Dimension::Kilopascals if self.step >= 10.0 => 500.0,
            Dimension::MeganewtonsPerCubicMetre => 5.0,
            _ => return self.step,
        };
        match system {
            System::Si => self.step,
            System::Us => in_us_units / self.dimension.unit(system).factor,
        }
    }

    /// Whether it is the diameter of a bar, which goes by the bars sold and not by steps: sizes in whole
    /// millimetres are.
    fn is_bar(&self) -> bool {
        self.dimension == Dimension::Millimetres && self.step == 1.0
    }

    /// The bars it goes by where it does.
    fn bars(&self, system: System) -> Option<Vec<f64>> {
        (system == System::Us && self.is_bar())
            .then(|| numbered_bars().filter(|bar| (self.min..=self.max).contains(bar)).collect())
    }

    /// First and last stop: in the file's own unit the ends themselves, else the round numbers between them.
    fn ends(&self, step: f64) -> (f64, f64) {
        if step == self.step {
            return (self.min, self.max);
        }
        ((self.min / step - ALIKE).ceil() * step, (self.max / step + ALIKE).floor() * step)
    }

    /// All values a slider stops at, rising: multiples of the step, with first and last of their own.
    pub fn stops(&self, system: System) -> Vec<f64> {
        if let Some(bars) = self.bars(system) {
            return bars;
        }
        let step = self.step_in(system);
        let (first, last) = self.ends(step);
        let places = (first / step + ALIKE).floor() as i64 + 1..=(last / step - ALIKE).ceil() as i64 - 1;
        let within = places.map(|place| tidy(place as f64 * step));
        std::iter::once(tidy(first)).chain(within).chain(std::iter::once(tidy(last))).collect()
    }

    /// The stop nearest to a value.
    pub fn near(&self, value: f64, system: System) -> f64 {
        if let Some(bars) = self.bars(system) {
            let nearer = |best: f64, next: f64| if (next - value).abs() < (best - value).abs() { next } else { best };
            return bars.into_iter().reduce(nearer).unwrap_or(value);
        }
        let step = self.step_in(system);
        let (first, last) = self.ends(step);
        tidy(((value / step).round() * step).clamp(first, last))
    }

    /// The last stop before a value, or at it.
    pub fn below(&self, value: f64, system: System) -> f64 {
        let step = self.step_in(system);
        let (first, last) = self.ends(step);
        tidy(((value / step + ALIKE).floor() * step).clamp(first, last))
    }

    /// The value so many stops up or down.
    pub fn moved(&self, value: f64, by: i32, system: System) -> f64 {
        let step = self.step_in(system);
        if let Some(bars) = self.bars(system) {
            let now = bars.iter().position(|bar| *bar >= value - ALIKE).unwrap_or(bars.len().saturating_sub(1));
            let next = now.saturating_add_signed(by as isize).min(bars.len().saturating_sub(1));
            return bars.get(next).copied().unwrap_or(value);
        }
        self.near(value + f64::from(by) * step, system)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_inches_a_slider_stops_at_whole_inches_inside_its_range() {
        let size = Spec::number("Column", Dimension::Millimetres, 300.0, 1500.0, 25.0);
        let stops = size.stops(System::Us);
        assert_eq!((stops.len(), stops[0], stops[47]), (48, 304.8, 1498.6));
        assert_eq!(size.near(300.0, System::Us), 304.8);
        assert_eq!(size.near(600.0, System::Us), 609.6);
        assert_eq!(size.near(1e9, System::Us), 1498.6);
        assert!(size.moved(600.0, 1, System::Us) == 635.0);
        assert!(size.below(605.0, System::Us) == 584.2);
    }

    #[test]
    fn in_inches_bars_go_by_their_numbers() {
        let bar = Spec::number("Bar", Dimension::Millimetres, 10.0, 36.0, 1.0);
        // ASTM A615 # 4 to # 11 (from memory).
        let sizes = [12.7, 15.875, 19.05, 22.225, 25.4, 28.65, 32.26, 35.81];
        assert_eq!(bar.stops(System::Us), sizes);
        assert_eq!(bar.near(19.0, System::Us), 19.05);
        assert_eq!(bar.moved(25.4, 1, System::Us), 28.65);
        assert_eq!(bar.moved(25.4, -9, System::Us), 12.7);
        assert_eq!(bar.moved(25.4, 9, System::Us), 35.81);
    }

    #[test]
    fn in_si_stops_are_multiples_of_the_step_and_both_ends() {
        let odd = Spec::number("Size", Dimension::Metres, 0.02, 0.31, 0.05);
        assert_eq!(odd.stops(System::Si), [0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.31]);
        assert_eq!(odd.near(0.3049, System::Si), 0.3);
        assert_eq!(odd.moved(0.3, 3, System::Si), 0.31);
        let strength = Spec::number("New concrete", Dimension::Megapascals, 17.0, 60.0, 1.0);
        let ksi = 6.894_757_293_168;
        assert!((strength.near(28.0, System::Us) - 4.0 * ksi).abs() < 1e-9);
        let steel = Spec::number("New bar yield strength", Dimension::Megapascals, 230.0, 600.0, 5.0);
        assert!((steel.near(420.0, System::Us) - 60.0 * ksi).abs() < 1e-9);
        let bearing = Spec::number("Allowable bearing", Dimension::Kilopascals, 30.0, 2000.0, 10.0);
        assert!(
            (bearing.near(150.0, System::Us) * Dimension::Kilopascals.unit(System::Us).factor - 3000.0).abs() < 1e-6
        );
    }
}
