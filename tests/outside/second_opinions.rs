//! Closed forms of Japanese evaluation practice as second opinions on the engine's strengths.
//!
//! Source: Standard for Seismic Evaluation of Existing RC Buildings, 2001 (English edition 2005), supplement; bending
//! forms from MEMORY, the shear form and its limits SEEN in listings by third parties. The worked numbers are DERIVED
//! from the forms by a separate calculation.

use sisterframe_core::material::{Bar, ConcreteLaw};
use sisterframe_core::rules;
use sisterframe_core::second_opinion::ColumnForm;
use sisterframe_core::section::{PlacedBar, Rect, Section, Sense};
use sisterframe_tests::approx::assert_near;

/// A 400 mm column, 8 bars of 286.5 mm², F_c 18 MPa, 500 kN.
const COLUMN: ColumnForm = ColumnForm {
    width_mm: 400.0,
    depth_mm: 400.0,
    effective_depth_mm: 350.0,
    concrete_mpa: 18.0,
    tension_mm2: 859.5,
    bars_mm2: 2292.0,
    yield_mpa: 324.5,
    hoop_ratio: 0.00143,
    hoop_yield_mpa: 295.0,
    axial_kn: 500.0,
    shear_span_mm: 1300.0,
};

#[test]
fn forms_give_their_worked_numbers() {
    assert_near("bending", COLUMN.moment_knm(), 171.89, 3e-5);
    let [lower, mean] = COLUMN.shear_kn();
    assert_near("shear, lower bound", lower, 178.52, 3e-5);
    assert_near("shear, mean", mean, 197.72, 3e-5);
}

/// Beyond its parabola the bending form falls to nothing at the squash load, and it has no jump on the way.
#[test]
fn the_bending_form_is_continuous_and_ends() {
    let at = |axial_kn: f64| ColumnForm { axial_kn, ..COLUMN }.moment_knm();
    let (squash, bars) = (0.4 * 0.4 * 18e3, 2292.0 * 0.3245);
    for joint in [0.0, 0.4 * squash] {
        assert_near("joint", at(joint - 1e-6), at(joint + 1e-6), 1e-7);
    }
    assert!(at(squash + bars).abs() < 1e-9);
    assert!(at(squash + bars + 1.0) == 0.0 && at(-bars - 1.0) == 0.0);
    assert!(at(0.3 * squash) > at(0.0) && at(0.8 * squash) < at(0.4 * squash));
}

fn rect(width_mm: f64, y_min_mm: f64, y_max_mm: f64, concrete: ConcreteLaw) -> Rect {
    Rect { x_min_mm: -0.5 * width_mm, x_max_mm: 0.5 * width_mm, y_min_mm, y_max_mm, concrete }
}

/// Three rows of 3, 2 and 3 bars, 50 mm from the faces of a 400 mm column centred at `at`.
fn column_bars(at: f64, area_mm2: f64, yield_mpa: f64) -> Vec<PlacedBar> {
    let row = |y_mm: f64, xs: &[f64]| -> Vec<PlacedBar> {
        xs.iter().map(|&x_mm| PlacedBar { x_mm, y_mm: at + y_mm, area_mm2, yield_mpa }).collect()
    };
    [row(-150.0, &[-150.0, 0.0, 150.0]), row(0.0, &[-150.0, 150.0]), row(150.0, &[-150.0, 0.0, 150.0])].concat()
}

/// The engine's section analysis beside the forms, by the concrete laws of both rule sets: no more than 6 % below
/// them and 10 % above (the forms leave out the bars between the faces and take full stress over the block).
#[test]
fn section_analysis_agrees_with_the_bending_forms() {
    for set in [rules::american(), rules::european()] {
        let law = set.concrete_law(18.0).expect("answered");
        let strength = |section: &Section, axial_kn: f64| {
            section.strength(axial_kn, Sense::Plus, 0.0).expect("inside the range").moment_knm
        };
        let bars = column_bars(0.0, 286.5, 324.5);
        let column = Section::new(vec![rect(400.0, -200.0, 200.0, law)], bars.clone()).expect("a section");
        let wings =
            vec![rect(400.0, -200.0, 200.0, law), rect(200.0, 200.0, 800.0, law), rect(200.0, -800.0, -200.0, law)];
        // The form counts the column's row in tension alone.
        let tension = bars.iter().filter(|bar| bar.y_mm < -100.0).copied().collect();
        let winged = Section::new(wings, tension).expect("a section");
        let wall_bars: Vec<PlacedBar> = (0..42)
            .map(|i| PlacedBar {
                x_mm: if i % 2 == 0 { -60.0 } else { 60.0 },
                y_mm: 200.0 * f64::from(i / 2 - 10),
                area_mm2: 126.7,
                yield_mpa: 360.0,
            })
            .collect();
        let edges = [column_bars(2300.0, 387.1, 324.5), column_bars(-2300.0, 387.1, 324.5), wall_bars].concat();
        let parts = vec![
            rect(400.0, 2100.0, 2500.0, law),
            rect(400.0, -2500.0, -2100.0, law),
            rect(200.0, -2100.0, 2100.0, law),
        ];
        let wall = Section::new(parts, edges).expect("a section");
        for (what, engine, form) in [
            ("column", strength(&column, 500.0), 171.89),
            // M = (0.9 + β)·a_t·σ_y·D + N·D·(1 + 2β)/2 − (N + a_t·σ_y)²/(2·t·F_c), β = 1.5 wings over D.
            ("winged column", strength(&winged, 500.0), 583.49),
            // M = (a_t·σ_y + Σ(a_w·σ_wy)/2 + N/2)·l_w.
            ("wall", strength(&wall, 2000.0), (3096.8 * 0.3245 + 0.5 * 1915.7 + 0.5 * 2000.0) * 4.6),
        ] {
            let ratio = engine / form;
            println!("{}, {what}: section analysis over form {ratio:.3}", set.key());
            assert!((0.94..1.10).contains(&ratio), "{}, {what}: {ratio}", set.key());
        }
    }
}

/// The forms on the eleven full-scale columns of Lynn and of Sezen and Moehle (see `column_tests`): none fails below
/// 0.95 of the lesser of bending and the shear form's lower bound, and the mean is right within a sixth.
#[test]
fn the_forms_agree_with_tests() {
    let lines = include_str!("../references/column_shear_tests.csv").lines();
    let mut ratios = Vec::new();
    for line in lines.filter(|line| line.starts_with("Lynn") || line.starts_with("Sezen")) {
        let mut cells = line.split(';');
        let name = cells.next().expect("a name");
        let numbers: Vec<f64> = cells.skip(1).map(|cell| cell.parse().expect("a number")).collect();
        let [width, depth, d, span, fc, fyl, fyt, bars, bar, area, spacing, axial, peak] = numbers[..] else {
            panic!("{name}: thirteen numbers");
        };
        let one = Bar::round(bar).area_mm2;
        let form = ColumnForm {
            width_mm: width,
            depth_mm: depth,
            effective_depth_mm: d,
            concrete_mpa: fc,
            // Eight bars stand three to a face.
            tension_mm2: 3.0 * one,
            bars_mm2: bars * one,
            yield_mpa: fyl,
            hoop_ratio: area / (width * spacing),
            hoop_yield_mpa: fyt,
            axial_kn: axial,
            shear_span_mm: span,
        };
        let bending = 1000.0 * form.moment_knm() / span;
        let [lower, mean] = form.shear_kn().map(|shear| peak / shear.min(bending));
        println!("{name}: test over form {lower:.2} lower bound, {mean:.2} mean");
        assert!(lower > 0.95, "{name}: {lower}");
        ratios.push(lower);
    }
    assert_eq!(ratios.len(), 11);
    let mean = ratios.iter().sum::<f64>() / 11.0;
    println!("mean {mean:.3}");
    assert!((1.0..1.0 + 1.0 / 6.0).contains(&mean), "{mean}");
}
