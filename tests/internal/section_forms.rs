//! Closed forms and properties of the section engine.

use sisterframe_core::material::{Bar, ConcreteLaw, StrainLine};
use sisterframe_core::section::{PlacedBar, Rect, Section, Sense};
use sisterframe_core::section_shapes::{
    BeamBars, BeamShape, ColumnShape, CurtainBars, JacketedShape, PerimeterBars, WallShape, Wing, WingedShape,
};
use sisterframe_tests::approx::assert_near;

fn block(strength_mpa: f64) -> ConcreteLaw {
    ConcreteLaw::Block { strength_mpa, factor: 0.85, depth_ratio: 0.85, ultimate_strain: 0.003 }
}

fn parabola(strength_mpa: f64) -> ConcreteLaw {
    ConcreteLaw::Parabola { strength_mpa, peak_strain: 0.002, ultimate_strain: 0.0035, exponent: 2.0 }
}

/// DERIVED: integrating the n = 2 law over 0 … ε_cu gives 17/21 of f·c and a lever of 99/238 c
/// (0.80952 and 0.41597).
#[test]
fn parabola_resultant() {
    let c = 300.0;
    let strain = StrainLine { top: 0.0035, curvature_per_mm: 0.0035 / c };
    let (force, moment) = parabola(20.0).resultant(strain, 0.0, 500.0);
    assert_near("force", force, 17.0 / 21.0 * 20.0 * c, 1e-12);
    assert_near("lever", moment / force, 99.0 / 238.0 * c, 1e-12);
}

/// DERIVED: a higher-strength exponent, against 20 000 slices.
#[test]
fn parabola_with_another_exponent() {
    let law = ConcreteLaw::Parabola { strength_mpa: 40.0, peak_strain: 0.0023, ultimate_strain: 0.0029, exponent: 1.6 };
    let strain = StrainLine { top: 0.0029, curvature_per_mm: 0.0029 / 200.0 };
    let slices = 20_000;
    let step = 200.0 / f64::from(slices);
    let sum: f64 = (0..slices).map(|i| step * law.stress_mpa(strain, (f64::from(i) + 0.5) * step)).sum();
    assert_near("force", law.resultant(strain, 0.0, 200.0).0, sum, 2e-4);
}

/// DERIVED: singly reinforced beam, a = As fy/(0.85 f'c b), M = As fy (d − a/2).
#[test]
fn singly_reinforced_beam() {
    let beam = BeamShape {
        width_mm: 300.0,
        depth_mm: 500.0,
        flange_width_mm: 300.0,
        flange_thickness_mm: 0.0,
        concrete: block(25.0),
        top: BeamBars { area_mm2: 0.0, edge_mm: 50.0, yield_mpa: 420.0 },
        bottom: BeamBars { area_mm2: 1500.0, edge_mm: 60.0, yield_mpa: 420.0 },
    };
    let a = 1500.0 * 420.0 / (0.85 * 25.0 * 300.0);
    let m = 1500.0 * 420.0 * (440.0 - a / 2.0) / 1e6;
    let section = beam.section().expect("a beam");
    let sagging = section.strength(0.0, Sense::Plus, 0.0).expect("inside the range");
    assert_near("M sagging", sagging.moment_knm, m, 1e-9);
    assert_near("c", sagging.neutral_axis_mm, a / 0.85, 1e-9);
    // Hogging without top bars: no strength.
    let hogging = section.strength(0.0, Sense::Minus, 0.0).expect("inside the range");
    assert!(hogging.moment_knm.abs() < 0.1 * m, "{hogging:?}");
    // A flange wider than the block needs: the block stays inside the slab.
    let tee = BeamShape { flange_width_mm: 1200.0, flange_thickness_mm: 120.0, ..beam }.section().expect("a beam");
    let a = 1500.0 * 420.0 / (0.85 * 25.0 * 1200.0);
    let m = 1500.0 * 420.0 * (440.0 - a / 2.0) / 1e6;
    assert_near("M of the T beam", tee.strength(0.0, Sense::Plus, 0.0).expect("inside").moment_knm, m, 1e-9);
}

fn column(law: ConcreteLaw, count: u32) -> ColumnShape {
    let bars = PerimeterBars {
        count,
        bar: Bar { diameter_mm: 19.0, area_mm2: 286.5 },
        cover_mm: 40.0,
        hoop_diameter_mm: 10.0,
        yield_mpa: 300.0,
    };
    ColumnShape { width_mm: 400.0, depth_mm: 500.0, concrete: law, bars }
}

fn curtain() -> CurtainBars {
    CurtainBars { bar: Bar::round(13.0), spacing_mm: 200.0, curtains: 2, edge_mm: 60.0, yield_mpa: 420.0 }
}

#[test]
fn perimeter_bars_follow_the_stated_rule() {
    let c = column(block(20.0), 12);
    let bars = c.bars.place(c.width_mm, c.depth_mm).expect("fits");
    assert_eq!(bars.len(), 12);
    let edge = c.bars.edge_mm();
    assert_near("edge", edge, 59.5, 1e-12);
    // 281 : 381 between corner bars, four pairs: 1.7 → 2 pairs along x, 2 along y.
    let top = bars.iter().filter(|b| (b.y_mm - (250.0 - edge)).abs() < 1e-9).count();
    assert_eq!(top, 4);
    let balance: f64 = bars.iter().map(|b| b.x_mm + b.y_mm).sum();
    assert!(balance.abs() < 1e-9);
    for bad in [3, 5, 13] {
        assert!(PerimeterBars { count: bad, ..c.bars }.place(400.0, 500.0).is_none());
    }
    assert!(c.bars.place(100.0, 500.0).is_none());
}

#[test]
fn symmetric_sections_are_equal_in_both_senses() {
    let wing = Wing { length_mm: 600.0, thickness_mm: 200.0, concrete: block(28.0), bars: curtain() };
    let both = WingedShape { column: column(block(15.0), 8), minus: Some(wing), plus: Some(wing) };
    let section = both.section().expect("fits");
    for axial in [0.0, 400.0, 1500.0] {
        let plus = section.strength(axial, Sense::Plus, 0.0).expect("inside");
        let minus = section.strength(axial, Sense::Minus, 0.0).expect("inside");
        assert_near("both senses", plus.moment_knm, minus.moment_knm, 1e-10);
    }
    let one = WingedShape { minus: None, ..both }.section().expect("fits");
    let mirrored = WingedShape { plus: None, ..both }.section().expect("fits");
    let about = one.centroid_mm();
    assert_near("centroid", about, -mirrored.centroid_mm(), 1e-12);
    let a = one.strength(600.0, Sense::Plus, about).expect("inside");
    let b = mirrored.strength(600.0, Sense::Minus, -about).expect("inside");
    assert_near("mirror image", a.moment_knm, b.moment_knm, 1e-10);
    // About the column centre instead: M changes by N times the distance.
    let shifted = one.strength(600.0, Sense::Plus, 0.0).expect("inside");
    assert_near("change of axis", shifted.moment_knm, a.moment_knm + 600.0 * about / 1e3, 1e-9);
}

#[test]
fn forces_outside_the_range_have_no_strength() {
    for law in [block(20.0), parabola(12.0)] {
        let section = column(law, 8).section().expect("fits");
        let (least, most) = section.axial_range_kn();
        assert!(section.strength(least - 1.0, Sense::Plus, 0.0).is_none());
        assert!(section.strength(most + 1.0, Sense::Plus, 0.0).is_none());
        assert!(section.strength(f64::NAN, Sense::Plus, 0.0).is_none());
        for end in [least, most] {
            let at = section.strength(end, Sense::Plus, 0.0).expect("the ends count");
            assert!(at.moment_knm.abs() < 1e-3, "{at:?}");
        }
    }
}

/// Any force in the range is found, through every jump, and never moves backwards by more than
/// a jump.
#[test]
fn every_force_in_the_range_is_found() {
    let wall = WallShape {
        web_length_mm: 4200.0,
        thickness_mm: 200.0,
        concrete: block(24.0),
        bars: curtain(),
        minus: Some(column(block(15.0), 8)),
        plus: Some(column(block(15.0), 8)),
    };
    let jacket = JacketedShape {
        core: column(block(12.0), 8),
        added_mm: [120.0, 120.0, 0.0, 150.0],
        concrete: block(45.0),
        bars: None,
        core_strain: 0.0,
    };
    let sections = [
        wall.section().expect("fits"),
        WallShape { minus: None, plus: None, ..wall }.section().expect("fits"),
        jacket.section().expect("fits"),
        column(parabola(14.0), 8).section().expect("fits"),
    ];
    for section in &sections {
        let (least, most) = section.axial_range_kn();
        for i in 0..=4000 {
            let axial = least + (most - least) * f64::from(i) / 4000.0;
            for sense in [Sense::Plus, Sense::Minus] {
                let got = section.strength(axial, sense, section.centroid_mm()).expect("in the range");
                assert!((got.axial_kn - axial).abs() <= 1e-9 * (most - least), "{axial} {got:?}");
                assert!(got.moment_knm.is_finite());
            }
        }
    }
}

/// The builders give the bars the reference sections have.
#[test]
fn wall_bars_are_centred() {
    let wall = WallShape {
        web_length_mm: 4200.0,
        thickness_mm: 200.0,
        concrete: block(24.0),
        bars: curtain(),
        minus: Some(column(block(15.0), 8)),
        plus: Some(column(block(15.0), 8)),
    };
    assert_near("length", wall.length_mm(), 5200.0, 1e-12);
    let section = wall.section().expect("fits");
    let rows: Vec<f64> =
        section.bars().iter().filter(|b| b.x_mm == 0.0 && b.y_mm.abs() <= 2100.0).map(|b| b.y_mm).collect();
    assert_eq!(rows.len(), 21);
    assert_near("first row", rows[0], -2000.0, 1e-12);
    assert_near("last row", rows[20], 2000.0, 1e-12);
    assert_near("ratio", curtain().ratio(200.0), 2.0 * Bar::round(13.0).area_mm2 / 40_000.0, 1e-12);
}

#[test]
fn unsound_parts_are_refused() {
    let rect = Rect { x_min_mm: 0.0, x_max_mm: 0.0, y_min_mm: 0.0, y_max_mm: 1.0, concrete: block(20.0) };
    assert!(Section::new(vec![rect], vec![]).is_none());
    assert!(Section::new(vec![], vec![]).is_none());
    let plain = Rect { x_max_mm: 100.0, y_max_mm: 100.0, ..rect };
    let section = Section::new(vec![plain], vec![]).expect("plain concrete is a section");
    assert!(section.balanced(Sense::Plus, 50.0).is_none());
    let ghost = PlacedBar { x_mm: 50.0, y_mm: 50.0, area_mm2: 100.0, yield_mpa: 0.0 };
    let with = Section::new(vec![plain], vec![ghost]).expect("sound");
    assert!(with.axial_range_kn().1 <= section.axial_range_kn().1);
}

/// DERIVED: EN 1992-1-1 6.1(5), pivot C. Squeezed evenly, a section is at ε_c2 = 0.002, so bars of
/// 500 MPa reach 400; with the neutral axis at twice the depth the strain still is 0.002 at 3/7 of it.
#[test]
fn sections_wholly_in_compression() {
    let shape = column(parabola(12.0), 8);
    let strong = ColumnShape { bars: PerimeterBars { yield_mpa: 500.0, ..shape.bars }, ..shape };
    let section = strong.section().expect("fits");
    let steel = 8.0 * 286.5;
    let squash = 12.0 * (200_000.0 - steel) + steel * 400.0;
    assert_near("even strain", section.axial_range_kn().1, squash / 1e3, 1e-12);
    let even = section.strength(squash / 1e3, Sense::Plus, 0.0).expect("the end of the range");
    assert_near("strain of the far bar", -even.tension_strain, 0.002, 1e-9);
    let twice = section.at_neutral_axis(1000.0, Sense::Plus, 0.0);
    // ε_top·(1 − (3/7)/2) = 0.002; the far bars stand 440.5 mm down.
    let top = 0.002 / (1.0 - 3.0 / 14.0);
    assert_near("far bar", -twice.tension_strain, top * (1.0 - 440.5 / 1000.0), 1e-12);
    // The two ways of turning meet where the axis is at the far edge.
    let before = section.at_neutral_axis(500.0 * (1.0 - 1e-9), Sense::Plus, 0.0);
    let after = section.at_neutral_axis(500.0 * (1.0 + 1e-9), Sense::Plus, 0.0);
    assert_near("continuous", before.axial_kn, after.axial_kn, 1e-7);
}
