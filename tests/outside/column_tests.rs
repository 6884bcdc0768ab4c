//! Column shear strength against tests.
//!
//! Source of the tests: PEER Structural Performance Database, 2004 (SEEN in an open copy), in
//! references/column_shear_tests.csv. Formulas: ASCE/SEI 41-17 Eq. 10-3 (SEEN in listings), EN 1998-3 Eq. A.12
//! (MEMORY).

use sisterframe_core::material::Bar;
use sisterframe_core::rules::{self, ColumnShear, Hoops, Rules};
use sisterframe_core::section::Sense;
use sisterframe_core::section_shapes::{ColumnShape, PerimeterBars};

struct Specimen {
    name: String,
    numbers: Vec<f64>,
}

fn specimens() -> Vec<Specimen> {
    let lines = include_str!("../references/column_shear_tests.csv").lines();
    lines
        .filter(|line| !line.starts_with('#') && !line.starts_with("specimen"))
        .map(|line| {
            let mut cells = line.split(';');
            let name = cells.next().expect("a name").to_owned();
            let numbers = cells.skip(1).map(|cell| cell.parse().expect("a number")).collect();
            Specimen { name, numbers }
        })
        .collect()
}

/// Test over the shear strength at low ductility, and over the lesser of that and bending, where the axial force is
/// one the section can carry.
fn ratios(set: &dyn Rules, specimen: &Specimen) -> (f64, Option<f64>) {
    let [width, depth, d, span, fc, fyl, fyt, bars, bar, area, spacing, axial, peak] = specimen.numbers[..] else {
        panic!("{}: thirteen numbers", specimen.name);
    };
    let shape = ColumnShape {
        width_mm: width,
        depth_mm: depth,
        concrete: set.concrete_law(fc).expect("answered"),
        bars: PerimeterBars {
            count: bars as u32,
            bar: Bar::round(bar),
            cover_mm: depth - d - 0.5 * bar,
            hoop_diameter_mm: 0.0,
            yield_mpa: fyl,
        },
    };
    let bending = shape.section().and_then(|section| section.strength(axial, Sense::Plus, 0.0));
    let shear = set
        .column_shear(&ColumnShear {
            width_mm: width,
            depth_mm: depth,
            effective_depth_mm: d,
            lever_mm: 2.0 * d - depth,
            compression_mm: bending.map_or(depth, |strength| strength.neutral_axis_mm.min(depth)),
            bar_ratio: bars * Bar::round(bar).area_mm2 / (width * depth),
            concrete_mpa: fc,
            hoops: [Hoops { area_mm2: area, spacing_mm: spacing, yield_mpa: fyt, effective_depth_mm: d }, Hoops::NONE],
            axial_kn: axial,
            shear_span_mm: span,
            ductility: 0.0,
            lightweight: 1.0,
        })
        .expect("answered");
    let flexural = bending.map(|strength| strength.moment_knm / span * 1e3);
    (peak / shear.undamaged_kn, flexural.map(|force| peak / force.min(shear.undamaged_kn)))
}

fn mean_and_cov(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (n - 1.0);
    (mean, variance.sqrt() / mean)
}

/// The eleven full-scale columns of Lynn and of Sezen & Moehle: old details, shear after or before
/// bending. Mean test/model within 1.15 … 1.40, coefficient of variation at most 0.25. The 18-inch
/// hoops of seven of them lose all of V_s by the clause, hence the conservative mean; the clause's
/// authors report about 1.05 and 0.15 on 51 columns without that taper (MEMORY).
#[test]
fn eleven_full_scale_columns() {
    let rows: Vec<Specimen> =
        specimens().into_iter().filter(|s| s.name.starts_with("Lynn") || s.name.starts_with("Sezen")).collect();
    assert_eq!(rows.len(), 11);
    println!("{:<28} test/V   test/min(V, V_flex)", "specimen");
    let mut shear = Vec::new();
    let mut least = Vec::new();
    for row in &rows {
        let (to_shear, to_least) = ratios(rules::american(), row);
        let to_least = to_least.expect("the section carries its axial force");
        println!("{:<28} {to_shear:.3}    {to_least:.3}", row.name);
        shear.push(to_shear);
        least.push(to_least);
    }
    let (mean, cov) = mean_and_cov(&shear);
    println!("mean {mean:.3}, coefficient of variation {cov:.3}");
    assert!((1.15..=1.40).contains(&mean), "mean {mean}");
    assert!(cov <= 0.25, "coefficient of variation {cov}");
    let (mean, cov) = mean_and_cov(&least);
    println!("with bending: mean {mean:.3}, coefficient of variation {cov:.3}");
    assert!((1.0..=1.45).contains(&mean) && cov <= 0.25, "with bending: {mean}, {cov}");
}

/// The same columns by EN 1998-3: the lesser of Eq. A.12 and bending, mean 0.95 … 1.20.
#[test]
fn eleven_full_scale_columns_by_the_european_set() {
    let full_scale = |s: &Specimen| s.name.starts_with("Lynn") || s.name.starts_with("Sezen");
    let rows: Vec<Specimen> = specimens().into_iter().filter(full_scale).collect();
    assert_eq!(rows.len(), 11);
    let mut least = Vec::new();
    for row in &rows {
        let (to_shear, to_least) = ratios(rules::european(), row);
        let to_least = to_least.expect("the section carries its axial force");
        println!("{:<28} {to_shear:.3}    {to_least:.3}", row.name);
        least.push(to_least);
    }
    let (mean, cov) = mean_and_cov(&least);
    println!("mean {mean:.3}, coefficient of variation {cov:.3}");
    assert!((0.95..=1.20).contains(&mean) && cov <= 0.20, "{mean}, {cov}");
}

/// The others are reported, not judged: small specimens, some with axial ratios above 0.6 where
/// bending governs and the shear formula alone is unsafe. Every figure is finite and positive.
#[test]
fn other_columns_are_reported() {
    let rows: Vec<Specimen> =
        specimens().into_iter().filter(|s| !(s.name.starts_with("Lynn") || s.name.starts_with("Sezen"))).collect();
    assert_eq!(rows.len(), 22);
    println!("{:<46} test/V   test/min(V, V_flex)", "specimen");
    let mut least = Vec::new();
    for row in &rows {
        let (to_shear, to_least) = ratios(rules::american(), row);
        assert!(to_shear.is_finite() && to_shear > 0.0, "{}", row.name);
        match to_least {
            Some(ratio) => {
                println!("{:<46} {to_shear:.3}    {ratio:.3}", row.name);
                least.push(ratio);
            }
            None => println!("{:<46} {to_shear:.3}    more axial force than the block carries", row.name),
        }
    }
    let (mean, cov) = mean_and_cov(&least);
    println!("with bending: {} columns, mean {mean:.3}, coefficient of variation {cov:.3}", least.len());
}
