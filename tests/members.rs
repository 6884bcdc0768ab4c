//! A column's end to ask rule sets about.

use sisterframe_core::rules::EndDetail;

/// The end of a column 400 mm square with eight 19 mm bars, hoops at 150 mm, L_V 1500 mm; nothing lapped.
pub const COLUMN_END: EndDetail = EndDetail {
    depth_mm: 400.0,
    gross_area_mm2: 160_000.0,
    shear_span_mm: 1500.0,
    bar_mm: 19.0,
    tension_ratio: 0.009,
    compression_ratio: 0.009,
    hoop_area_mm2: 150.0,
    hoop_spacing_mm: 150.0,
    core_mm: [330.0; 2],
    restrained_mm2: 8.0 * 140.0 * 140.0,
    lap_mm: None,
    yield_rotation: 0.005,
};
