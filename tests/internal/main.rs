//! Internal cross-checks: closed forms and solutions derived for this project, each marked DERIVED.

mod frame_stiffness;
mod linked_frames;
mod p_delta;
mod periods;
mod section_forms;
mod torsion;
mod works;
