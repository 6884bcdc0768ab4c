//! Checks against outside sources, each named with its mark:
//! SEEN in the open text, MEMORY recalled, DERIVED computed by a named general-purpose library.

mod column_tests;
mod connections;
mod demand;
mod footings;
mod performance_published;
mod periods_textbooks;
mod random_sections;
mod reference_frames;
mod screening;
mod second_opinions;
mod sections;
mod storey_springs;
mod torsion_textbooks;
mod typed_units;
mod wall_and_frame;
mod work_rates;
