//! Project files: opening, saving, and what the browser keeps between visits.

pub mod keep;
pub mod open;
pub mod save;
