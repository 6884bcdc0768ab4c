//! The bench: a drawer beside the sheets where the project is edited. Its forms come from
//! the project's tables of fields.

mod assistant;
mod building;
mod choices;
mod drawer;
mod eras;
mod field;
mod foresight;
mod held;
mod lines;
mod measures;
mod motion;
mod number;
mod outcome;
mod schedule;
mod schemes;
mod size_frame;
mod table;
mod table_html;
mod works;

pub use assistant::Assistant;
pub use drawer::BenchDrawer;
pub use held::{Held, refusal_words};
pub use measures::measure_id;
