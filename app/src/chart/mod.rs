//! Charts: a model in plain numbers, one drawing routine, and two places to draw it on, the
//! canvas of the page and an SVG picture for print.

mod capacity;
mod draw;
mod figure;
mod fine;
mod foresight;
mod interaction;
mod strength;

pub use capacity::{Axes, CapacityChart, ChartLook, Numbered, capacity_of, shown_mm};
pub use draw::{Palette, draw, svg};
pub use figure::StrengthFigure;
pub use fine::{ByAverage, FINE, Measure};
pub use foresight::{SliderCurve, Standing};
pub use interaction::{Acting, InteractionChart, special};
pub use strength::{Profile, StrengthChart};
