//! Internal cross-checks: closed forms and solutions derived for this project, each marked DERIVED,
//! and general-purpose solvers set against the engine.

mod assemblies;
mod assistant;
mod calendars;
mod chance;
mod connecting_slab_page;
mod connection_rules;
mod connections;
mod demand_rules;
mod european_members;
mod fitting;
mod foresight;
mod frame_lines;
mod frame_stiffness;
mod linear_algebra;
mod linked_frames;
mod member_response;
mod member_rules;
mod p_delta;
mod performance_points;
mod periods;
mod properties;
mod pushover_frames;
mod pushover_limit_loads;
mod pushover_models;
mod pushover_random;
mod pushover_springs;
mod rays;
mod rules_seam;
mod schedules;
mod section_forms;
mod storey_spring_page;
mod torsion;
mod trials;
mod weak_connections;
mod works;
