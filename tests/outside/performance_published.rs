//! The four-storey frame of Fajfar, *A nonlinear analysis method for performance based seismic
//! design*, Earthquake Spectra 16(3), 2000 (MEMORY: figures recalled, recomputed to printing
//! precision).

use sisterframe_core::hazard::{GroundMotion, GroundType, Hazard, SpectrumShape};
use sisterframe_core::performance::{Pushed, equivalent};
use sisterframe_core::rules;
use sisterframe_tests::approx::assert_near;

#[test]
fn four_storey_frame() {
    let building = Pushed {
        // Yields at 830 kN and 61 mm.
        curve: vec![[0.0, 0.0], [0.061, 830.0], [0.40, 830.0]],
        masses_t: vec![87.0, 86.0, 86.0, 83.0],
        shape: vec![0.28, 0.52, 0.76, 1.0],
        period_s: 0.79,
        mass_share: 1.0,
        second_order: 0.0,
    };
    let [mass, factor] = equivalent(&building.masses_t, &building.shape);
    assert_near("m*", mass, 217.0, 0.01);
    assert_near("Γ", factor, 1.34, 0.01);
    for (ground, printed) in [(0.6, 0.237), (0.3, 0.119), (0.15, 0.059)] {
        // Plateau 2.5·a_g up to 0.6 s: ground C with its soil factor taken out.
        let hazard =
            Hazard::GroundAcceleration { rock_g: ground / 1.15, ground: GroundType::C, shape: SpectrumShape::Type1 };
        let motion = GroundMotion { hazard, damping: 0.05, importance: 1.0 };
        let found = rules::european().displacement_demand(&building, &motion).expect("answered");
        assert_near("T*", found.period_s, 0.79, 0.01);
        assert_near("roof", found.roof_m, printed, 0.01);
        if ground == 0.6 {
            assert_near("ratio", found.strength_ratio, 3.9, 0.01);
            assert_near("S_ae", found.acceleration_g, 1.14, 0.01);
        }
    }
}
