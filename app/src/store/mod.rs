//! The page's state in plain Rust: the project with its history, entries that were refused,
//! what is looked at, and what has to be computed again. Nothing here knows a browser.

mod bays;
mod cell;
mod command;
mod demos;
mod document;
mod due;
mod entry;
mod lines;
mod list;
mod measures;
mod rates;
mod references;
mod room_edit;
mod rows;
mod schedule;
mod selection;
mod shelf;
mod slot;

pub use cell::{block_of, cell_text, cell_value_of, cells_of, text_of};
pub use command::Command;
pub use demos::{Demo, demos, read_demos};
pub use document::{Document, Done, Draft, Entered, Entry, Origin, State};
pub use due::{Due, due};
pub use entry::{digits, glanced, parse, shown, stop};
pub use lines::{Lines, lines_of};
pub use list::{Column, List};
pub use measures::{new_measure, starting_value};
pub use rates::{note as rate_note, unit as rate_unit};
pub use room_edit::RoomEdit;
pub use rows::{Cell, RowEdit, cell_slot, cell_value};
pub use schedule::Schedule;
pub use selection::{Choice, Selection, Sheet};
pub use shelf::{Kept, Shelf, file_name};
pub use slot::{Root, Slot};
