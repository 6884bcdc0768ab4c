//! Members by the European set against figures worked out apart (DERIVED from EN 1998-3:2005 Annex A and
//! EN 1992-1-1:2004, both MEMORY: from memory, verify), to five printed digits unless said otherwise.

use sisterframe_core::axial_loss::axial_loss_drift;
use sisterframe_core::math::pow;
use sisterframe_core::rules::{
    self, BeamControl, BeamHinge, BeamShear, ColumnHinge, ColumnShear, DiaphragmShear, EndDetail, Hoops, JointPosition,
    JointShear, MasonryPanel, Note, Splice, WallDeformation, WallLimits, WallShear,
};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::members::COLUMN_END;

/// 400 mm square, d 340, d' 60, f_c 20, hoops of 157.1 mm² and 300 MPa at 150, 640 kN, x 110 mm, ρ_tot 0.0143.
fn column(shear_span_mm: f64, hoops_mm2: f64, ductility: f64) -> ColumnShear {
    let hoops = Hoops { area_mm2: hoops_mm2, spacing_mm: 150.0, yield_mpa: 300.0, effective_depth_mm: 340.0 };
    ColumnShear {
        width_mm: 400.0,
        depth_mm: 400.0,
        effective_depth_mm: 340.0,
        lever_mm: 280.0,
        compression_mm: 110.0,
        bar_ratio: 0.0143,
        concrete_mpa: 20.0,
        hoops: [hoops, Hoops::NONE],
        axial_kn: 640.0,
        shear_span_mm,
        ductility,
        lightweight: 1.0,
    }
}

/// Eq. A.12 at plastic ductility 0 and 5, Eq. A.16 in a short column (A_c = b_w·d in both); printed with γ_el = 1.15.
#[test]
fn column_shear() {
    let ask = |asked: &ColumnShear| rules::european().column_shear(asked).expect("answered");
    for (ductility, strength) in [(0.0, 178.70), (1.0, 178.70), (6.0, 147.47), (9.0, 147.47)] {
        assert_near("V_R", ask(&column(1500.0, 157.1, ductility)).strength_kn / 1.15, strength, 5e-5);
    }
    let short = ask(&column(600.0, 400.0, 0.0));
    assert_near("V_R,max", short.strength_kn / 1.15, 323.38, 5e-5);
    assert!(short.notes.has(Note::CapGoverns));
    // Tension presses no strut.
    let pulled = ask(&ColumnShear { axial_kn: -200.0, ..column(1500.0, 157.1, 0.0) });
    let free = ask(&ColumnShear { axial_kn: 0.0, ..column(1500.0, 157.1, 0.0) });
    assert_eq!(pulled.strength_kn, free.strength_kn);
    // Where the falling strength meets a shear.
    let it = ask(&column(1500.0, 157.1, 0.0));
    let meets = it.ductility_at(1.15 * 163.085).expect("it falls so far");
    assert_near("half-way", meets, 3.5, 1e-3);
}

fn hinge(axial_ratio: f64, anchored_hoops: bool, detail: EndDetail) -> ColumnHinge {
    ColumnHinge {
        axial_ratio,
        hoop_ratio: 0.0025,
        bar_ratio: 0.0143,
        shear_ratio: 0.5,
        concrete_mpa: 20.0,
        hoop_yield_mpa: 300.0,
        bar_yield_mpa: 330.0,
        short_splice: false,
        anchored_hoops,
        detail,
    }
}

/// Eq. A.3: θ_um^pl 0.033563 with α = 0.45382; undetailed, without confinement, 0.8 of what is left.
#[test]
fn column_rotations() {
    let ask = |hinge: &ColumnHinge| rules::european().column_rotations(hinge).expect("answered");
    let detail = EndDetail { yield_rotation: 0.006_571_5, ..COLUMN_END };
    let good = ask(&hinge(0.2, true, detail));
    assert_near("θ_um,pl", good.capping, 0.033_563, 5e-5);
    let plastic = 0.033_563 / 1.8;
    let damage = 0.75 * (0.006_571_5 + plastic) - 0.006_571_5;
    assert_all_near("accepted", &good.accepted, &[0.0, damage, plastic], 5e-5);
    // Eq. A.1, the other way of the clause, worked out apart for the same end: 0.041398 in all, for primary members
    // 0.027599, at significant damage 0.020699, where nothing was detailed 0.034153. The two ways part by a tenth at most.
    let elastic = 0.006_571_5;
    assert_near("A.1", elastic + good.capping, 0.041_398, 0.04);
    assert_near("A.1, primary", elastic + good.accepted[2], 0.027_599, 0.1);
    assert_near("A.1, significant damage", elastic + good.accepted[1], 0.020_699, 0.1);
    assert_near("A.1, not detailed", elastic + 0.8 * good.capping, 0.034_153, 0.04);
    // Open hooks confine nothing: 25^(0.45382·0.0025·300/20) is lost.
    let open = ask(&hinge(0.2, false, detail));
    let confined = pow(25.0, 0.453_82 * 0.0025 * 15.0);
    assert_near("not detailed", open.capping, 0.8 * 0.033_563 / confined, 5e-5);
    assert!(open.notes.has(Note::HooksOpen));
    // A lap of half the length (A.6) halves what doubled compression steel leaves.
    let needed = 19.0 * 330.0 / (1.05 * 20.0_f64.sqrt());
    let lapped = ask(&hinge(0.2, false, EndDetail { lap_mm: Some(0.5 * needed), ..detail }));
    assert_near("lapped", lapped.capping, 0.5 * pow(2.0, 0.3) * open.capping, 5e-5);
    // A longer span turns more, up to nine times the depth.
    let far = |span| ask(&hinge(0.2, true, EndDetail { shear_span_mm: span, ..detail })).capping;
    assert!(far(2400.0) > good.capping && far(4000.0) == far(3600.0));
}

/// Elwood & Moehle, Earthquake Spectra 21(1), 2005 (MEMORY), on the eleven columns of Lynn and of Sezen & Moehle worked
/// out apart (DERIVED): P kN, s, A_st, f_yt, d_c between the hoops; Δ_a/L to four digits.
#[test]
fn loss_of_axial_load() {
    let rows = [
        (503.0, [457.2, 141.76, 399.9, 371.5], 0.03095),
        (503.0, [457.2, 141.76, 399.9, 371.5], 0.03095),
        (1512.0, [457.2, 141.76, 399.9, 371.5], 0.01283),
        (1512.0, [457.2, 141.76, 399.9, 371.5], 0.01283),
        (1512.0, [304.8, 241.0, 399.9, 371.5], 0.02749),
        (503.0, [457.2, 141.76, 399.9, 371.5], 0.03095),
        (503.0, [457.2, 141.76, 399.9, 371.5], 0.03095),
        (1512.0, [304.8, 241.0, 399.9, 371.5], 0.02749),
        (667.0, [304.8, 241.0, 476.0, 365.2], 0.05081),
        (2669.0, [304.8, 241.0, 476.0, 365.2], 0.02),
        (667.0, [304.8, 241.0, 476.0, 365.2], 0.05081),
    ];
    for (axial, [spacing, area, fyt, core], drift) in rows {
        assert_near("Δa/L", axial_loss_drift(axial, area * fyt * core / spacing / 1e3), drift, 2e-3);
    }
    assert_eq!(axial_loss_drift(0.0, 100.0), f64::INFINITY);
    assert_eq!(axial_loss_drift(500.0, 0.0), 0.0);
}

/// Eq. A.15: b_w 200, z 3200, h 4000, f_c 20, N 1600 kN, ρ 0.004, L_V 3000: 3050.2 kN with γ_el = 1.15. Eq. A.12 by
/// hand: ν 0.1, ω 0.07; x = (0.17/0.94)·4000 = 723.4; 873.8 + 0.16·0.5·(1 − 0.12)·√20·800 + 0.0035·400·640.
#[test]
fn wall_shear() {
    let wall = WallShear {
        concrete_mpa: 20.0,
        yield_mpa: 400.0,
        thickness_mm: 200.0,
        length_mm: 4000.0,
        height_mm: 4500.0,
        shear_span_mm: 3000.0,
        horizontal_ratio: 0.0035,
        vertical_ratio: 0.0035,
        axial_kn: 1600.0,
        opening_factor: 1.0,
        lightweight: 1.0,
    };
    let got = rules::european().wall_shear(&wall).expect("answered");
    assert_near("V_R,max", got.cap_kn / 1.15, 3050.2, 5e-5);
    let hand =
        (4000.0 - 723.404) / 6000.0 * 1600.0 + 0.16 * 0.5 * 0.88 * 20.0_f64.sqrt() * 800.0 + 0.0035 * 400.0 * 640.0;
    assert_near("V_R", got.strength_kn, hand, 5e-5);
    let heavy = rules::european().wall_shear(&WallShear { horizontal_ratio: 0.02, ..wall }).expect("answered");
    assert!(heavy.strength_kn == heavy.cap_kn && heavy.notes.has(Note::CapGoverns));
}

#[test]
fn wall_limits() {
    let wall = WallLimits {
        shear_controls: false,
        compression_term: 0.1,
        shear_stress: 0.2,
        confined: true,
        axial_ratio: 0.1,
        shear_span_ratio: 2.0,
        concrete_mpa: 20.0,
        yield_mpa: 400.0,
    };
    let ask = |wall: &WallLimits| rules::european().wall_limits(wall).expect("answered");
    let WallDeformation::Flexure(bends) = ask(&wall) else { panic!("bending") };
    let hand = 0.6 * 0.0145 * pow(0.25, 0.1) * pow(20.0, 0.2) * pow(2.0, 0.35);
    assert_near("θ_um,pl", bends.capping, hand, 1e-12);
    // A.3.2.4: 0.75 and all of θ_y + θ_pl/1.8, less θ_y = 2·0.002·(2 + 0.8)/3 + 0.0013 = 0.0050333 (A.11b; MEMORY).
    assert_near("significant damage", bends.accepted[1], 0.75 * hand / 1.8 - 0.25 * 0.005_033_333, 1e-7);
    assert_near("near collapse", bends.accepted[2], hand / 1.8, 1e-12);
    assert_near("limited damage", bends.accepted[0], 0.0, 1e-12);
    let WallDeformation::Flexure(plain) = ask(&WallLimits { confined: false, ..wall }) else { panic!("bending") };
    assert_near("not detailed", plain.capping, 0.8 * hand, 1e-12);
    let WallDeformation::Shear { capping, yielding, notes, .. } = ask(&WallLimits { shear_controls: true, ..wall })
    else {
        panic!("shear")
    };
    assert!(capping == yielding && notes.has(Note::Borrowed), "nothing beyond the strength");
}

/// EN 1992-1-1 6.2.2: 300 × 500, d 440, f_c 20, ρ 0.01: k 1.6742, 0.18·k·20^⅓·132 = 107.98 kN; 6.2.3 with stirrups of
/// 157 mm² at 200: cot θ 2.5, 235.5·396·2.5 = 233.15 kN. Before they crush: no more than ν·f_c·b·z/2.
#[test]
fn beams() {
    let stirrups = |area_mm2| Hoops { area_mm2, spacing_mm: 200.0, yield_mpa: 300.0, effective_depth_mm: 440.0 };
    let beam = |area| BeamShear {
        width_mm: 300.0,
        effective_depth_mm: 440.0,
        concrete_mpa: 20.0,
        stirrups: stirrups(area),
        tension_ratio: 0.01,
    };
    let ask = |area| rules::european().beam_shear(&beam(area)).expect("answered");
    assert_near("V_Rc", ask(10.0).strength_kn, 107.98, 5e-5);
    assert_near("V_Rs", ask(157.0).strength_kn, 233.145, 5e-5);
    let most = 0.6 * (1.0 - 20.0 / 250.0) * 20.0 * 300.0 * 396.0 / 2.0 / 1e3;
    assert_near("V_R,max", ask(1e5).strength_kn, most, 1e-12);
    let hinge = |control, confined| BeamHinge {
        control,
        steel_ratio: 0.25,
        confined,
        shear_stress: 0.25,
        spacing_ratio: 0.5,
        compression_to_tension: 0.5,
        span_ratio: 5.0,
        concrete_mpa: 20.0,
        yield_mpa: 330.0,
    };
    let rotations = |control, confined| rules::european().beam_rotations(&hinge(control, confined)).expect("answered");
    let detailed = 0.0145 * pow(0.5, 0.3) * pow(20.0, 0.2) * pow(5.0, 0.35);
    assert_near("detailed", rotations(BeamControl::Flexure, true).capping, detailed, 1e-12);
    assert_near("not detailed", rotations(BeamControl::Flexure, false).capping, 0.8 * detailed, 1e-12);
    let shear = rotations(BeamControl::Shear, true);
    assert!(shear.capping < 0.25 * detailed && shear.notes.has(Note::Borrowed));
}

/// EN 1998-1 5.5.3.3: f_c 20, ν 0.1, η 0.552; strut 9.990 MPa, cracking √(2.2104·4.2104) = 3.0507 MPa without hoops.
#[test]
fn joints_and_laps() {
    let joint = |position, hoop_ratio| JointShear {
        concrete_mpa: 20.0,
        area_mm2: 160_000.0,
        position,
        hoop_ratio,
        hoop_yield_mpa: 300.0,
        axial_ratio: 0.1,
        lightweight: 1.0,
    };
    let ask = |position, hoops| rules::european().joint_shear(&joint(position, hoops)).expect("answered");
    let interior = JointPosition::Interior { transverse_beams: false };
    assert_near("cracks", ask(interior, 0.0).strength_kn, 3.0507 * 160.0, 5e-5);
    assert_near("strut", ask(interior, 0.5).strength_kn, 9.990 * 160.0, 5e-5);
    assert_near("exterior", ask(JointPosition::Knee, 0.5).strength_kn, 0.8 * 9.990 * 160.0, 5e-5);
    let lap = |provided_mm| {
        let splice = Splice { provided_mm, required_mm: 800.0, bar_mm: 19.0, yield_mpa: 330.0, concrete_mpa: 20.0 };
        rules::european().splice_stress_mpa(&splice).expect("answered")
    };
    // l_oy = 0.3·19·330/√20 = 420.61 mm.
    assert_near("short", lap(210.305), 165.0, 5e-5);
    assert_eq!((lap(500.0), lap(0.0)), (330.0, 0.0));
}

/// Strut of 0.15 of the diagonal, E = 1000·f_k: 120 mm of 4.1 MPa, 4.6 × 2.6 m.
#[test]
fn masonry() {
    let panel = MasonryPanel {
        length_mm: 4600.0,
        height_mm: 2600.0,
        thickness_mm: 120.0,
        compressive_mpa: 4.1,
        shear_mpa: 0.25,
        column_height_mm: 3000.0,
        column_inertia_mm4: 2.1e9,
        column_modulus_mpa: 21_500.0,
    };
    let got = rules::european().masonry_strut(&panel).expect("answered");
    let diagonal = (4600.0_f64 * 4600.0 + 2600.0 * 2600.0).sqrt();
    assert_near("width", got.width_mm, 0.15 * diagonal, 1e-12);
    assert_near("along", got.axial_kn_mm, 0.15 * 120.0 * 4.1, 1e-12);
    assert_near("across", got.horizontal_kn_mm, got.axial_kn_mm * pow(4600.0 / diagonal, 2.0), 1e-9);
    assert_near("sliding", got.strength_kn, 0.25 * 120.0 * 4.6, 1e-12);
}

/// EN 1992-1-1 12.6.3 and 6.2.3: an old floor of C17, 130 mm by 22.5 m without bars: 0.8·0.21·17^⅔/1.5/1.5·2925; with bars
/// the truss carries, 0.0025·420/1.15·0.8·2925, but never more than its struts.
#[test]
fn floors() {
    let floor = |ratio: f64| DiaphragmShear {
        concrete_mpa: 17.0,
        thickness_mm: 130.0,
        length_mm: 22_500.0,
        parallel_ratio: ratio,
        across_ratio: ratio,
        yield_mpa: 420.0,
        lightweight: 1.0,
    };
    let ask = |ratio| rules::european().diaphragm_shear(&floor(ratio)).expect("answered");
    let plain = 0.8 * 0.21 * pow(17.0, 2.0 / 3.0) / 2.25 * 2925.0;
    assert_near("plain", ask(0.0).strength_kn, plain, 1e-12);
    assert_near("truss", ask(0.0025).strength_kn, 0.0025 * 420.0 / 1.15 * 0.8 * 2925.0, 1e-12);
    let struts = 0.6 * (1.0 - 17.0 / 250.0) * 17.0 / 1.5 * 0.8 * 2925.0 / 2.0;
    assert_near("struts", ask(0.05).strength_kn, struts, 1e-12);
}
