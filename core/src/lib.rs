//! Mechanics of seismic retrofit schemes for existing low-rise reinforced-concrete buildings.
//!
//! Pure and total: no clock, no input or output, no randomness, no browser types.
//! Units are kN, m, s and t (kN·s²/m); MPa and mm only inside member-capacity formulas
//! that are empirical in MPa. Public names carry their unit.

pub mod anchorage;
pub mod assembly;
pub mod assistant;
pub mod axial_loss;
pub mod capacity;
pub mod column;
pub mod condensed_line;
pub mod connection;
pub mod eras;
pub mod evaluate;
pub mod failure;
pub mod finding;
pub mod fitting;
pub mod footing;
pub mod frame_line;
mod frame_mesh;
pub mod framing;
pub mod glossary;
pub mod hazard;
pub mod hinge;
pub mod joint;
pub mod line_mode;
pub mod linear;
pub mod link;
pub mod link_slab;
pub mod masonry;
pub mod masonry_panel;
pub mod material;
pub mod math;
pub mod measure;
pub mod member;
pub mod model;
pub mod modes;
pub mod openings;
pub mod order;
pub mod performance;
pub mod phrase;
pub mod place;
mod plan_matrix;
pub mod project;
pub mod pushover;
pub mod reading;
pub mod response;
pub mod rules;
pub mod screening;
pub mod second_opinion;
pub mod section;
pub mod section_shapes;
pub mod section_view;
pub mod sections;
pub mod skin;
pub mod storey;
pub mod storey_springs;
pub mod study;
pub mod timoshenko;
pub mod units;
pub mod verdict;
pub mod wall;
pub mod wing_foot;
pub mod works;
