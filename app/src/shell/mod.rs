//! What stands around the sheets: the bar, the list of sheets, the frame of a sheet, messages.

mod bar;
mod frame;
mod list;
mod messages;
mod page_foot;
mod projects;

pub use bar::{Bar, pick_file};
pub use frame::SheetFrame;
pub use list::SheetList;
pub use messages::Messages;
pub use page_foot::PageFoot;
