//! Column shear strength against tests.
//!
//! Source of the tests: PEER Structural Performance Database, 2004 (SEEN in an open copy), in
//! references/column_shear_tests.csv. Formulas: ASCE/SEI 41-17 Eq. 10-3 (SEEN in listings), EN 1998-3 Eq. A.12
//! (MEMORY).

use sisterframe_core::material::Bar;
use sisterframe_core::rules::{self, ColumnShear, Hoops, Rules};
use sisterframe_core::section::Sense;
use sisterframe_core::section_shapes::{ColumnShape, PerimeterBars};
use sisterframe_tests::pages::assert_page;
use std::fmt::Write;

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

impl Specimen {
    fn full_scale(&self) -> bool {
        self.name.starts_with("Lynn") || self.name.starts_with("Sezen")
    }
}

/// What a rule set gives a specimen.
struct Given {
    /// Shear strength at low ductility, kN.
    shear_kn: f64,
    /// Shear at its bending strength, kN, where the axial force is one the section can carry.
    bending_kn: Option<f64>,
    /// Peak of the test over the shear strength.
    to_shear: f64,
    /// And over the lesser of shear and bending.
    to_least: Option<f64>,
}

fn given(set: &dyn Rules, specimen: &Specimen) -> Given {
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
    let shear_kn = shear.undamaged_kn;
    let bending_kn = bending.map(|strength| strength.moment_knm / span * 1e3);
    Given {
        shear_kn,
        bending_kn,
        to_shear: peak / shear_kn,
        to_least: bending_kn.map(|force| peak / force.min(shear_kn)),
    }
}

fn mean_and_cov(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (n - 1.0);
    (mean, variance.sqrt() / mean)
}

/// Both sets with the name they have in the page.
fn sets() -> [(&'static str, &'static dyn Rules); 2] {
    [("American", rules::american()), ("European", rules::european())]
}

fn eleven() -> Vec<Specimen> {
    let rows: Vec<Specimen> = specimens().into_iter().filter(Specimen::full_scale).collect();
    assert_eq!(rows.len(), 11);
    rows
}

/// The eleven full-scale columns of Lynn and of Sezen & Moehle: old details, shear after or before
/// bending. Mean test/model within 1.15 … 1.40, coefficient of variation at most 0.25. The 18-inch
/// hoops of six of them lose all of V_s by the clause, hence the conservative mean; the clause's
/// authors report about 1.05 and 0.15 on 51 columns without that taper (MEMORY).
#[test]
fn eleven_full_scale_columns() {
    let all: Vec<Given> = eleven().iter().map(|row| given(rules::american(), row)).collect();
    let (mean, cov) = mean_and_cov(&all.iter().map(|own| own.to_shear).collect::<Vec<_>>());
    assert!((1.15..=1.40).contains(&mean) && cov <= 0.25, "{mean}, {cov}");
    let least: Vec<f64> = all.iter().map(|own| own.to_least.expect("the section carries its axial force")).collect();
    let (mean, cov) = mean_and_cov(&least);
    assert!((1.0..=1.45).contains(&mean) && cov <= 0.25, "with bending: {mean}, {cov}");
}

/// The same columns by EN 1998-3: the lesser of Eq. A.12 and bending, mean 0.95 … 1.20.
#[test]
fn eleven_full_scale_columns_by_the_european_set() {
    let all = eleven();
    let least: Vec<f64> =
        all.iter().map(|row| given(rules::european(), row).to_least.expect("the section carries its force")).collect();
    let (mean, cov) = mean_and_cov(&least);
    assert!((0.95..=1.20).contains(&mean) && cov <= 0.20, "{mean}, {cov}");
}

const HEAD: &str = "# Column shear strength and tests\n\n\
Peak shear of columns tested to shear failure, divided by what each rule set gives with the measured strengths and no \
factor: by its shear strength at low ductility, and by the lesser of that and the shear at which the section bends. \
Above 1 the clause is on the safe side.\n\n\
Source of the tests: PEER Structural Performance Database (Berry, Parrish and Eberhard, 2004). American: ASCE/SEI 41-17 \
Eq. 10-3 and the rectangular stress block; European: EN 1998-3:2005 Eq. A.12 (A.16 in short columns), γ_el = 1, and the \
parabola–rectangle.\n\n\
How to read it. The eleven full-scale columns have the details of old buildings. In six of them hoops stand 18 in \
apart, so far that the American clause counts none, hence its conservative mean. The European expression alone, at \
the ductility before yielding, lies on the unsafe side (mean below 1); beside bending it does not. It counts hoops over \
a truss of 45° however far apart they stand. The small specimens reach axial ratios above 0.6, where bending governs and a \
shear formula alone says little; where a section cannot carry the axial force of the test by its stress law, there is no \
figure for bending.\n\n\
Written by a test from the results; not a design aid.\n\n";

/// One table of specimens.
fn table(page: &mut String, rows: &[Specimen]) {
    page.push_str("| specimen | f_c, MPa | N/(A·f_c) | test, kN |");
    for (name, _) in sets() {
        let _ = write!(page, " {name}: shear, kN | bending, kN | test ÷ shear | test ÷ lesser |");
    }
    page.push_str("\n|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|\n");
    let mut ratios: [[Vec<f64>; 2]; 2] = Default::default();
    for row in rows {
        let [width, depth, fc, axial, peak] = [0, 1, 4, 11, 12].map(|at| row.numbers[at]);
        let share = 1e3 * axial / (width * depth * fc);
        let _ = write!(page, "| {} | {fc:.1} | {share:.2} | {peak:.1} |", row.name);
        for ((_, set), found) in sets().iter().zip(&mut ratios) {
            let it = given(*set, row);
            found[0].push(it.to_shear);
            found[1].extend(it.to_least);
            let shown =
                |value: Option<f64>, digits: usize| value.map_or("–".to_owned(), |own| format!("{own:.digits$}"));
            let (bending, least) = (shown(it.bending_kn, 1), shown(it.to_least, 3));
            let _ = write!(page, " {:.1} | {bending} | {:.3} | {least} |", it.shear_kn, it.to_shear);
        }
        page.push('\n');
    }
    for (what, pick) in [("mean", 0), ("coefficient of variation", 1)] {
        let _ = write!(page, "| **{what}** | | | |");
        for found in &ratios {
            let [shear, least] = [0, 1].map(|at| <[f64; 2]>::from(mean_and_cov(&found[at]))[pick]);
            let _ = write!(page, " | | **{shear:.3}** | **{least:.3}** |");
        }
        page.push('\n');
    }
    page.push('\n');
}

fn page() -> String {
    let mut page = HEAD.to_owned();
    let (full, small): (Vec<Specimen>, Vec<Specimen>) = specimens().into_iter().partition(Specimen::full_scale);
    assert_eq!((full.len(), small.len()), (11, 22));
    page.push_str("## Eleven full-scale columns\n\n");
    table(&mut page, &full);
    page.push_str("## Smaller columns\n\n");
    table(&mut page, &small);
    page
}

#[test]
fn the_page_is_what_the_tests_say() {
    assert_page("column-tests.md", &page());
}
