//! The bench: a drawer beside the sheets where the project is edited. Its forms come from
//! the project's tables of fields.

mod choices;
mod drawer;
mod field;
mod held;
mod lines;
mod measures;
mod motion;
mod number;
mod outcome;
mod schemes;

pub use drawer::BenchDrawer;
pub use held::Held;
