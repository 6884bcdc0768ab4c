//! Static pushover, event to event.

mod building;
mod envelope;
mod network;
mod pivot;
mod solver;

pub use building::{BuildingSystem, PlasticMode, State};
pub use envelope::{Envelope, LEAST_HARDENING, Piece};
pub use network::{Network, Spring};
pub use solver::{Change, End, Event, Limits, Path, Point, System, push};
