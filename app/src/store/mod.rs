//! The page's state in plain Rust: the project with its history, entries that were refused,
//! what is looked at, and what has to be computed again. Nothing here knows a browser.

mod command;
mod demos;
mod document;
mod due;
mod entry;
mod measures;
mod selection;
mod shelf;
mod slot;

pub use command::Command;
pub use demos::{Demo, demos, read_demos};
pub use document::{Document, Done, Draft, Origin, State};
pub use due::{Due, due};
pub use entry::{digits, number, parse, shown, stop};
pub use measures::{new_measure, starting_value};
pub use selection::{Choice, SHEETS_IN_SET, Selection, Sheet};
pub use shelf::{Kept, Shelf, file_name};
pub use slot::{Root, Slot};
