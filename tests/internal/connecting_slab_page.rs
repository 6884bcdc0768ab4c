//! The page that works one connecting slab out by hand: every step computed here from the data
//! below, set against the engine, and written to the page.

use sisterframe_core::link_slab::{BarRow, BondedSide, FactorChoice, LinkSlab, PeakChoice, SlabPlace, StripStiffness};
use sisterframe_core::material::Bar;
use sisterframe_core::rules::{self, Surface};
use sisterframe_tests::approx::assert_near;
use sisterframe_tests::pages::assert_page;
use std::fmt::Write;

/// The data of the example; invented.
const LENGTH_MM: f64 = 9000.0;
const GAP_MM: f64 = 1200.0;
const THICKNESS_MM: f64 = 180.0;
const NEW_BEAM_MM: f64 = 400.0;
const OLD_MPA: f64 = 15.0;
const NEW_MPA: f64 = 28.0;
const YIELD_MPA: f64 = 420.0;
const EMBEDMENT_MM: f64 = 220.0;
const SPACING_MM: f64 = 200.0;
/// Nominal areas of deformed bars, mm² (JIS G 3112).
const D16: Bar = Bar { diameter_mm: 16.0, area_mm2: 198.6 };
const D10: Bar = Bar { diameter_mm: 10.0, area_mm2: 71.33 };
/// Storey shears of the frame below and above, inertia of its own mass, pull across the joint, kN.
const BELOW_KN: f64 = 720.0;
const ABOVE_KN: f64 = 290.0;
const OWN_KN: f64 = 30.0;
const PULL_KN: f64 = 40.0;

const HEAD: &str = "# A connecting slab worked out by hand\n\n\
One floor of one external frame, every step with its figures. The example is invented; the steps are those the engine takes, \
and the test that writes this page computes each on its own and compares it with the engine to a millionth. Formulas are in \
mm, MPa and kN. Clauses are of ACI 318-19; those of 18.12.9 were read in listings by third parties, 21.2.4 and 18.10.4.3 are \
from memory: verify them. Not a design aid.\n\n";

fn example() -> LinkSlab {
    LinkSlab {
        length_mm: LENGTH_MM,
        thickness_mm: THICKNESS_MM,
        existing_contact_mm: THICKNESS_MM,
        existing_lever_mm: GAP_MM + NEW_BEAM_MM / 2.0,
        new_lever_mm: NEW_BEAM_MM / 2.0,
        existing: BondedSide {
            concrete_mpa: OLD_MPA,
            embedment_mm: EMBEDMENT_MM,
            confinement: (THICKNESS_MM / 2.0).min(SPACING_MM / 2.0) / D16.diameter_mm,
            surface: Surface::Roughened,
            edges_mm: None,
        },
        new_concrete_mpa: NEW_MPA,
        new_surface: Surface::Roughened,
        across: BarRow { bar: D16, spacing_mm: SPACING_MM, layers: 1, yield_mpa: YIELD_MPA },
        along: BarRow { bar: D10, spacing_mm: SPACING_MM, layers: 2, yield_mpa: YIELD_MPA },
        extra_chord_bars: false,
        force_kn: BELOW_KN - ABOVE_KN - OWN_KN,
        tension_kn: PULL_KN,
        capped_by_mechanism: true,
        factors: FactorChoice::ByClause,
        peak: PeakChoice::ByBehaviour,
        lightweight: 1.0,
    }
}

/// The page, with every step held against the engine.
fn page() -> String {
    let slab = example();
    let got = slab.check(rules::american()).unwrap_or_else(|missing| panic!("{missing}"));
    let mut page = HEAD.to_owned();
    let mut step = |title: &str, lines: &[String]| {
        let _ = write!(page, "## {title}\n\n");
        for line in lines {
            let _ = writeln!(page, "- {line}");
        }
        page.push('\n');
    };
    step(
        "Given",
        &[
            format!(
                "joint {LENGTH_MM} mm long, strip {THICKNESS_MM} mm thick and {GAP_MM} mm wide, new beam {NEW_BEAM_MM} mm wide"
            ),
            format!("old concrete {OLD_MPA} MPa, new {NEW_MPA} MPa, bars of {YIELD_MPA} MPa"),
            format!(
                "across the joint D16 ({} mm²) at {SPACING_MM} mm in one layer, bonded {EMBEDMENT_MM} mm into the old beam, its side roughened to 6 mm",
                D16.area_mm2
            ),
            format!("along it D10 ({} mm²) at {SPACING_MM} mm in two layers", D10.area_mm2),
            format!(
                "frame shears at its mechanism: {BELOW_KN} kN below the floor, {ABOVE_KN} kN above; {OWN_KN} kN of inertia of its own mass; {PULL_KN} kN pull across the joint"
            ),
        ],
    );

    let force = BELOW_KN - ABOVE_KN - OWN_KN;
    let lever = GAP_MM + NEW_BEAM_MM / 2.0;
    let moment = force * lever / 1e3;
    let arm = 0.8 * LENGTH_MM;
    let chord = moment * 1e3 / arm;
    let tension = PULL_KN + chord;
    assert_near("moment", got.existing.moment_knm, moment, 1e-6);
    assert_near("chord", got.existing.chord_kn, chord, 1e-6);
    assert_near("tension", got.existing.net_tension_kn, tension, 1e-6);
    step(
        "What the slab must pass",
        &[
            format!("N = {BELOW_KN} − {ABOVE_KN} − {OWN_KN} = **{force:.0} kN** (equilibrium of the frame's floor)"),
            format!(
                "a frame in one plane takes no moment in plan, so the joint has all of it: M = {force:.0} · {lever:.0}/1000 = **{moment:.1} kNm**"
            ),
            format!(
                "chords 0.8·L = {arm:.0} mm apart (common practice): T_M = {moment:.1}/{:.1} = **{chord:.2} kN**",
                arm / 1e3
            ),
            format!(
                "taken off the clamping, with the pull: T = {PULL_KN} + {chord:.2} = **{tension:.2} kN** (22.9.4.6)"
            ),
        ],
    );

    let confinement = (THICKNESS_MM / 2.0 / D16.diameter_mm).min(2.5);
    let development = YIELD_MPA / (1.1 * OLD_MPA.sqrt()) * 0.8 / confinement * D16.diameter_mm;
    let stress = YIELD_MPA * EMBEDMENT_MM / development;
    assert_near("development", got.anchorage.required_mm, development, 1e-6);
    assert_near("stress", got.anchorage.stress_mpa, stress, 1e-6);
    step(
        "Bars bonded into the old beam",
        &[
            format!("(c_b + K_tr)/d_b = {:.0}/16 held at 2.5; ψ_s = 0.8 for bars up to No. 19", THICKNESS_MM / 2.0),
            format!("l_d = {YIELD_MPA}/(1.1·√{OLD_MPA}) · 0.8/{confinement} · 16 = **{development:.0} mm** (25.4.2.4)"),
            format!(
                "there are {EMBEDMENT_MM} mm, so f_s = {YIELD_MPA} · {EMBEDMENT_MM}/{development:.0} = **{stress:.1} MPa**, in proportion; such bars do not yield and the joint is brittle"
            ),
        ],
    );

    let bars = LENGTH_MM / SPACING_MM;
    let steel = bars * D16.area_mm2;
    let clamping = steel * stress / 1e3;
    let friction = 1.0 * (clamping - tension);
    let cap = (0.2 * OLD_MPA).min(3.3 + 0.08 * OLD_MPA).min(11.0) * THICKNESS_MM * LENGTH_MM / 1e3;
    let (phi, peak) = (0.60, 1.5);
    let design = phi * friction.min(cap);
    let demand = peak * force;
    assert_near("clamping", got.existing.strength.clamping_kn, clamping, 1e-6);
    assert_near("friction", got.existing.strength.friction_kn, friction, 1e-6);
    assert_near("cap", got.existing.strength.cap_kn, cap, 1e-6);
    assert_near("design", got.existing.design_kn, design, 1e-6);
    assert_near("utilisation", got.existing.utilisation, demand / design, 1e-6);
    step(
        "Joint with the old beam",
        &[
            format!("{bars:.0} bars, {steel:.0} mm²: C = {steel:.0} · {stress:.1}/1000 = **{clamping:.0} kN**"),
            format!(
                "μ = 1.0 on a roughened face: μ·(C − T) = {clamping:.0} − {tension:.1} = **{friction:.0} kN** (22.9.4.2)"
            ),
            format!(
                "upper bound with the weaker concrete: min(0.2·{OLD_MPA}, 3.3 + 0.08·{OLD_MPA}, 11) = {:.2} MPa on {THICKNESS_MM} × {LENGTH_MM} mm: {cap:.0} kN (22.9.4.4), does not bite",
                cap * 1e3 / (THICKNESS_MM * LENGTH_MM)
            ),
            format!("φ = {phi:.2}, since the bars do not yield (21.2.4): φV_n = **{design:.0} kN**"),
            format!(
                "nothing evens the shear out, so its peak counts, 1.5 times the mean: {peak} · {force:.0} = {demand:.0} kN"
            ),
            format!("used to {demand:.0}/{design:.0} = **{:.2}**", demand / design),
        ],
    );

    let area = THICKNESS_MM * LENGTH_MM;
    let ratio = (2.0 * D10.area_mm2).min(D16.area_mm2) / (SPACING_MM * THICKNESS_MM);
    let concrete = 0.17 * NEW_MPA.sqrt() * area / 1e3;
    let bars_part = ratio * YIELD_MPA * area / 1e3;
    let bound = 0.66 * NEW_MPA.sqrt() * area / 1e3;
    let strip = 0.75 * (concrete + bars_part).min(bound);
    assert_near("strip", got.strip.design_kn, strip, 1e-6);
    assert_near("strip's utilisation", got.strip.utilisation, force / strip, 1e-6);
    step(
        "The strip",
        &[
            format!(
                "the lesser steel of the two directions counts in a squat panel (compare 18.10.4.3): ρ = min(2·{}, {})/({SPACING_MM}·{THICKNESS_MM}) = {ratio:.5}",
                D10.area_mm2, D16.area_mm2
            ),
            format!(
                "V_c = 0.17·√{NEW_MPA}·{area:.0}/1000 = {concrete:.0} kN; V_s = ρ·{YIELD_MPA}·{area:.0}/1000 = {bars_part:.0} kN; bound 0.66·√{NEW_MPA}·A = {bound:.0} kN (18.12.9)"
            ),
            format!(
                "φ = 0.75, the frame's mechanism caps the force: φV_n = **{strip:.0} kN**, used to {:.2}",
                force / strip
            ),
        ],
    );

    let new_chord = force * NEW_BEAM_MM / 2.0 / arm;
    let new_friction = steel * YIELD_MPA / 1e3 - PULL_KN - new_chord;
    let new_cap = (0.2 * NEW_MPA).min(3.3 + 0.08 * NEW_MPA).min(11.0) * area / 1e3;
    let new_design = 0.75 * new_friction.min(new_cap);
    assert_near("new joint", got.new.design_kn, new_design, 1e-6);
    step(
        "Joint with the new beam",
        &[
            format!(
                "a construction joint, roughened; the bars yield: {:.0} − {PULL_KN} − {new_chord:.1} = {new_friction:.0} kN, bound {new_cap:.0} kN",
                steel * YIELD_MPA / 1e3
            ),
            format!(
                "φV_n = 0.75 · {:.0} = **{new_design:.0} kN**, used to {:.2}",
                new_friction.min(new_cap),
                force / new_design
            ),
        ],
    );

    let modulus = 4700.0 * NEW_MPA.sqrt();
    let strip_of = StripStiffness::usual(LENGTH_MM / 1e3, GAP_MM / 1e3, THICKNESS_MM / 1e3, modulus);
    let (length, gap, thickness): (f64, f64, f64) = (LENGTH_MM / 1e3, GAP_MM / 1e3, THICKNESS_MM / 1e3);
    let shear = 1.2 * gap / (0.4 * modulus * 1e3 * length * thickness);
    let bending = gap * gap * gap / (12.0 * modulus * 1e3 * 0.35 * thickness * length * length * length / 12.0);
    let stiffness = 1.0 / (shear + bending);
    assert_near("stiffness", strip_of.stiffness_kn_m(), stiffness, 1e-6);
    assert_eq!(got.governs, SlabPlace::ExistingJoint);
    assert_near("governs", got.utilisation, demand / design, 1e-6);
    step(
        "What comes of it",
        &[
            format!(
                "the joint with the old beam governs: **{:.2}**; with bars long enough to yield it would be {:.2}, so anchorage decides, not friction",
                got.utilisation,
                {
                    let long = LinkSlab { existing: BondedSide { embedment_mm: 600.0, ..slab.existing }, ..slab };
                    long.check(rules::american()).map_or(0.0, |own| own.existing.utilisation)
                }
            ),
            format!(
                "in the analysis the strip is a spring: 1/k = 1.2·g/(0.4·E·L·t) + g³/(12·E·0.35·t·L³/12) with E = 4700·√{NEW_MPA} MPa: k = **{:.2} million kN/m**",
                stiffness / 1e6
            ),
        ],
    );
    page
}

#[test]
fn the_page_is_what_the_steps_give() {
    assert_page("connecting-slab.md", &page());
}
