//! Static pushover, event to event.

mod active;
mod building;
mod curve;
mod ends;
mod envelope;
mod every_set;
mod inverse;
mod members;
mod network;
mod pivot;
mod read;
mod solver;
mod walk;

pub use building::{BuildingSystem, PlasticMode, State};
pub use curve::{
    CapacityCurve, CurveEnd, CurveEvent, CurvePoint, LimitKind, LimitReached, Mechanism, Pattern, Settings, Setup, What,
};
pub use ends::EndMoments;
pub use envelope::{Envelope, LEAST_HARDENING, Piece};
pub use members::{Grouping, MemberMode, member_modes};
pub use network::{Network, Spring};
pub use solver::{Change, End, Event, Limits, Path, Point, System, push};
pub use walk::{Step, acceleration_displacement};
