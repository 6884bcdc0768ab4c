//! Small bars on a common scale.

use super::{Drawing, Ink};
use sisterframe_core::place::Class;

/// Height of a bar, px.
const BAR_PX: f64 = 9.0;

/// A value against a tick of demand, on a scale that runs from nothing to `most`.
pub fn ratio_bar(value: f64, tick: f64, most: f64, width: f64) -> Drawing {
    let mut drawing = size_bar(value, most, width);
    let at = position(tick, most, width);
    drawing.rect(Ink::Demand, [at - 1.0, 0.0], [at + 1.0, drawing.height]);
    drawing
}

/// A value on a scale that runs from nothing to `most`.
pub fn size_bar(value: f64, most: f64, width: f64) -> Drawing {
    let mut drawing = Drawing::new(width, BAR_PX + 4.0);
    let (top, bottom) = (2.0, BAR_PX + 2.0);
    drawing.rect(Ink::Track, [0.0, top + 2.5], [width, bottom - 2.5]);
    drawing.rect(Ink::Plain, [0.0, top], [position(value, most, width), bottom]);
    drawing
}

/// A range from low to high with the usual value as a bar; two lines mark a span of the scale.
pub fn range_bar([low, usual, high]: [f64; 3], [from, to]: [f64; 2], most: f64, width: f64) -> Drawing {
    let mut drawing = size_bar(usual, most, width);
    let middle = drawing.height / 2.0;
    let x = |value: f64| position(value, most, width);
    for at in [x(from), x(to)] {
        drawing.line(Ink::Thin, [at, 0.0], [at, drawing.height]);
    }
    drawing.line(Ink::Thin, [x(low), middle], [x(high), middle]);
    for at in [x(low), x(high)] {
        drawing.line(Ink::Thin, [at, middle - 3.0], [at, middle + 3.0]);
    }
    drawing
}

fn position(value: f64, most: f64, width: f64) -> f64 {
    if most > 0.0 { (value / most).clamp(0.0, 1.0) * width } else { 0.0 }
}

/// Shares of the three classes; what is negative stands left of the zero line.
pub fn share_bar(shares: [f64; 3], width: f64) -> Drawing {
    let mut drawing = Drawing::new(width, BAR_PX + 4.0);
    let below: f64 = shares.iter().filter(|share| **share < 0.0).sum();
    let above: f64 = shares.iter().filter(|share| **share > 0.0).sum();
    let span = (above - below).max(1.0);
    let x = |share: f64| (share - below) / span * width;
    let (top, bottom) = (2.0, BAR_PX + 2.0);
    let (mut left, mut right) = (0.0, 0.0);
    for (class, share) in Class::ALL.into_iter().zip(shares) {
        let ink = match class {
            Class::AsBuilt => Ink::Standing,
            Class::Strengthened => Ink::Strengthened,
            Class::New => Ink::Added,
        };
        if share > 0.0 {
            drawing.rect(ink, [x(right), top], [x(right + share), bottom]);
            right += share;
        } else if share < 0.0 {
            drawing.rect(ink, [x(left + share), top], [x(left), bottom]);
            drawing.rect(Ink::Reversed, [x(left + share), top], [x(left), bottom]);
            left += share;
        }
    }
    if below < 0.0 {
        drawing.line(Ink::Thin, [x(0.0), 0.0], [x(0.0), drawing.height]);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::super::Mark;
    use super::*;

    fn rects(drawing: &Drawing, ink: Ink) -> Vec<(f64, f64)> {
        drawing
            .shapes
            .iter()
            .filter_map(|shape| match shape.mark {
                Mark::Rect { x, w, .. } if shape.ink == ink => Some((x, w)),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn the_demand_tick_stands_at_one_on_the_common_scale() {
        let bar = ratio_bar(0.8, 1.0, 1.6, 160.0);
        assert_eq!(rects(&bar, Ink::Demand), [(99.0, 2.0)]);
        assert_eq!(rects(&bar, Ink::Plain), [(0.0, 80.0)]);
    }

    #[test]
    fn shares_fill_the_bar_and_negative_ones_stand_left_of_zero() {
        let bar = share_bar([0.4, 0.0, 0.6], 100.0);
        assert_eq!(rects(&bar, Ink::Standing), [(0.0, 40.0)]);
        assert_eq!(rects(&bar, Ink::Added), [(40.0, 60.0)]);
        let bar = share_bar([1.25, 0.0, -0.25], 150.0);
        assert_eq!(rects(&bar, Ink::Standing), [(25.0, 125.0)]);
        assert_eq!(rects(&bar, Ink::Added), [(0.0, 25.0)]);
        assert_eq!(rects(&bar, Ink::Reversed), [(0.0, 25.0)]);
    }

    #[test]
    fn nothing_to_compare_with_gives_an_empty_bar() {
        assert!(rects(&size_bar(3.0, 0.0, 100.0), Ink::Plain).is_empty());
    }
}
