//! From quantities to man-days.

use super::rates::Activity;
use crate::study::Band;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul};

impl Add for Band {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, mid: self.mid + other.mid, high: self.high + other.high }
    }
}

impl AddAssign for Band {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Mul<f64> for Band {
    type Output = Self;

    fn mul(self, factor: f64) -> Self {
        Self { low: self.low * factor, mid: self.mid * factor, high: self.high * factor }
    }
}

impl Sum for Band {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Self::add)
    }
}

/// Labour of an activity: quantity ÷ rate × people in the crew, man-days.
pub fn man_days(activity: &Activity, quantity: f64) -> Band {
    activity.rate.crew_days(quantity) * activity.crew
}
