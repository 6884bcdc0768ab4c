//! Internal cross-checks: closed forms and solutions derived for this project, each marked DERIVED.

mod frame_stiffness;
mod linked_frames;
mod section_forms;
