//! The built page in Chromium, opened from disk with the network off.
//!
//! A test opens a [`page::Page`] in a [`page::View`], finds [`part::Part`]s by role and name as a
//! reader of the page would, and acts on them. Closing a page checks that it made no request and
//! wrote nothing to the console. Run with `cargo xtask test --only browser`.

mod building;
mod capacity;
mod checks;
mod controls;
mod driver;
mod everywhere;
mod flows;
mod foresight;
mod look;
mod opening;
mod page;
mod paper;
mod parity;
mod part;
mod pointing;
mod rates;
mod sheets;
mod sketch;
mod units;
mod works;
