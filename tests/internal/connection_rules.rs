//! Connections against figures worked out apart (DERIVED), to five printed digits unless said
//! otherwise.

use sisterframe_core::anchorage::{Lap, confinement, lap};
use sisterframe_core::footing::{Strip, gravity_only_moment_knm};
use sisterframe_core::link_slab::{
    BarRow, BondedSide, FactorChoice, LinkSlab, PeakChoice, SlabCheck, SlabPlace, StripStiffness,
};
use sisterframe_core::material::Bar;
use sisterframe_core::rules::{
    self, AnchorageLimit, BarAnchorage, Breakout, DiaphragmShear, InterfaceShear, Note, Rules, Surface,
};
use sisterframe_tests::approx::assert_near;

/// Nominal area of a deformed bar, mm² (JIS G 3112).
const D16: Bar = Bar { diameter_mm: 16.0, area_mm2: 198.6 };
const D10: Bar = Bar { diameter_mm: 10.0, area_mm2: 71.33 };

fn interface(surface: Surface, area_mm2: f64, steel_mm2: f64, concrete_mpa: f64) -> InterfaceShear {
    let bar_stress_mpa = 420.0;
    InterfaceShear { area_mm2, steel_mm2, bar_stress_mpa, surface, concrete_mpa, normal_kn: 0.0, lightweight: 1.0 }
}

/// ACI 318-19 22.9.4.
#[test]
fn interface_shear_by_the_clause() {
    let rows = [
        (interface(Surface::Plain, 1.08e6, 5958.0, 21.0), [1501.4, 4536.0, 1501.4]),
        (interface(Surface::Roughened, 1.08e6, 5958.0, 21.0), [2502.4, 4536.0, 2502.4]),
        (interface(Surface::Roughened, 0.3e6, 12_000.0, 17.5), [5040.0, 1050.0, 1050.0]),
        (interface(Surface::Monolithic, 0.3e6, 12_000.0, 28.0), [7056.0, 1662.0, 1662.0]),
    ];
    for (asked, [friction, cap, strength]) in rows {
        let got = rules::american().interface_shear(&asked).expect("answered");
        assert_near("friction", got.friction_kn, friction, 5e-5);
        assert_near("bound", got.cap_kn, cap, 5e-5);
        assert_near("strength", got.strength_kn, strength, 5e-5);
    }
    let base = interface(Surface::Roughened, 1.08e6, 5958.0, 21.0);
    let ask = |asked: &InterfaceShear| rules::american().interface_shear(asked).expect("answered");
    assert_near("200 kN pressed on", ask(&InterfaceShear { normal_kn: 200.0, ..base }).strength_kn, 2702.4, 5e-5);
    // Steel above 420 MPa does not count.
    assert_eq!(ask(&InterfaceShear { bar_stress_mpa: 550.0, ..base }).strength_kn, ask(&base).strength_kn);
    // Tension beyond the clamping leaves nothing.
    let open = ask(&InterfaceShear { normal_kn: -3000.0, ..base });
    assert_eq!(open.strength_kn, 0.0);
    assert!(open.notes.has(Note::ClampingLost));
}

/// EN 1992-1-1 6.2.5 with c = 0: rough, tension −0.3 MPa, ρ 0.008, C25: 2.2248 MPa, bound 4.5;
/// smooth and rough without normal force, ρ 0.0055, C20: ρ·f_yd·μ.
#[test]
fn european_interface_by_the_clause() {
    let fyd = 500.0 / 1.15;
    let ask = |surface, concrete_mpa, ratio: f64, normal_mpa: f64| {
        let asked = InterfaceShear {
            bar_stress_mpa: fyd,
            normal_kn: normal_mpa * 1e3,
            ..interface(surface, 1e6, ratio * 1e6, concrete_mpa)
        };
        rules::european().interface_shear(&asked).expect("answered")
    };
    let pulled = ask(Surface::Roughened, 25.0, 0.008, -0.3);
    assert_near("tension", pulled.strength_kn / 1e3, 2.2248, 5e-5);
    assert_near("bound", pulled.cap_kn / 1e3, 4.5, 5e-5);
    assert_near("smooth", ask(Surface::Plain, 20.0, 0.0055, 0.0).strength_kn / 1e3, 0.6 * 0.0055 * fyd, 1e-12);
    // With the cohesion the clause has without earthquakes, 0.2 and 0.4 of f_ctd 1.0315: 1.6411 and 2.0865.
    let with = |surface, cohesion: f64| ask(surface, 20.0, 0.0055, 0.0).strength_kn / 1e3 + cohesion * 1.0315;
    assert_near("smooth, held by cohesion too", with(Surface::Plain, 0.2), 1.6411, 5e-5);
    assert_near("rough, held by cohesion too", with(Surface::Roughened, 0.4), 2.0865, 5e-5);
    let rough = ask(Surface::Roughened, 20.0, 0.0055, 0.0);
    assert_near("rough", rough.strength_kn / 1e3, 0.7 * 0.0055 * fyd, 1e-12);
    assert_near("bound C20", rough.cap_kn / 1e3, 3.68, 5e-5);
}

/// ACI 318-19 18.12.9.
#[test]
fn diaphragm_shear_by_the_clause() {
    let strip = |concrete_mpa, thickness_mm, length_mm, ratio| DiaphragmShear {
        concrete_mpa,
        thickness_mm,
        length_mm,
        parallel_ratio: ratio,
        across_ratio: ratio,
        yield_mpa: 420.0,
        lightweight: 1.0,
    };
    let ask = |asked: &DiaphragmShear| rules::american().diaphragm_shear(asked).expect("answered");
    let first = ask(&strip(21.0, 180.0, 6000.0, 0.0025));
    assert_near("strength", first.strength_kn, 1975.4, 5e-5);
    assert_near("bound", first.cap_kn, 3266.5, 5e-5);
    let second = ask(&strip(28.0, 150.0, 4000.0, 0.008));
    assert_near("formula", second.concrete_kn + second.steel_kn, 2555.7, 5e-5);
    assert_near("bound governs", second.strength_kn, 2095.4, 5e-5);
    // The lesser of the two directions counts.
    let poor = ask(&DiaphragmShear { parallel_ratio: 0.02, ..strip(21.0, 180.0, 6000.0, 0.0025) });
    assert_near("lesser steel", poor.strength_kn, 1975.4, 5e-5);
}

fn anchorage(bar: Bar, concrete_mpa: f64, confinement: f64, embedment_mm: f64) -> BarAnchorage {
    BarAnchorage {
        bar,
        yield_mpa: 420.0,
        concrete_mpa,
        embedment_mm,
        confinement,
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    }
}

/// ACI 318-19 25.4.2.4 and EN 1992-1-1 8.4.
#[test]
fn development_lengths_by_the_clauses() {
    let american = |asked: &BarAnchorage| rules::american().bar_anchorage(asked).expect("answered");
    assert_near("D16", american(&anchorage(D16, 21.0, 2.5, 500.0)).required_mm, 426.6, 5e-5);
    let thick = Bar::round(22.0);
    assert_near("D22", american(&anchorage(thick, 21.0, 1.5, 500.0)).required_mm, 1222.0, 5e-5);
    let thicker = Bar::round(25.0);
    assert_near("D25", american(&anchorage(thicker, 28.0, 2.0, 500.0)).required_mm, 901.96, 5e-5);
    assert_near("shortest", american(&anchorage(D10, 60.0, 2.5, 500.0)).required_mm, 300.0, 1e-12);
    let strong = BarAnchorage { yield_mpa: 550.0, ..anchorage(D16, 21.0, 2.5, 500.0) };
    assert_near("grade", american(&strong).required_mm, 426.6 * 550.0 / 420.0 * 1.15, 5e-5);

    let european = |bar, concrete_mpa, position_factor| {
        let asked = BarAnchorage { yield_mpa: 500.0, position_factor, ..anchorage(bar, concrete_mpa, 2.5, 300.0) };
        rules::european().bar_anchorage(&asked).expect("answered")
    };
    let good = european(Bar::round(16.0), 20.0, 1.0);
    assert_near("l_b,rqd", good.required_mm, 749.32, 5e-5);
    assert_near("stress", good.stress_mpa, 500.0 / 1.15 * 300.0 / 749.32, 5e-5);
    assert_near("poor bond", european(Bar::round(20.0), 25.0, 1.0 / 0.7).required_mm, 1153.1, 5e-5);
}

/// Proportion of the development length, nothing below twelve diameters, breakout where asked.
#[test]
fn short_bars_reach_less() {
    let ask = |asked: &BarAnchorage| rules::american().bar_anchorage(asked).expect("answered");
    let partial = ask(&anchorage(D16, 15.0, 2.5, 200.0));
    assert_eq!(partial.limit, AnchorageLimit::Length);
    assert_near("proportion", partial.stress_mpa / 420.0, 200.0 / 504.755, 1e-5);
    let stub = ask(&anchorage(D16, 15.0, 2.5, 191.0));
    assert_eq!((stub.limit, stub.stress_mpa), (AnchorageLimit::TooShort, 0.0));
    assert_eq!(ask(&anchorage(D16, 21.0, 2.5, 430.0)).limit, AnchorageLimit::Yield);
    assert_eq!(ask(&anchorage(D16, 0.0, 2.5, 430.0)).limit, AnchorageLimit::TooShort);

    // A bar far from everything: 7·√21·160^1.5 = 64.921 kN, times 0.75 for earthquake; 160 mm is
    // ten diameters, so a thinner bar stands in to be long enough.
    let lonely = BarAnchorage {
        bar: Bar { diameter_mm: 12.0, area_mm2: 2000.0 },
        breakout: Some(Breakout { spacing_mm: 1e4, edge_mm: 1e4, far_edge_mm: 1e4 }),
        ..anchorage(D16, 21.0, 2.5, 160.0)
    };
    let got = ask(&lonely);
    assert_near("breakout", got.breakout_kn.expect("checked"), 0.75 * 64.921, 5e-5);
    assert_eq!(got.limit, AnchorageLimit::Breakout);
    // A row 200 apart, mid-height of a 500 face, f'c 15: 7·√15·200^1.5·(200·500/360000) = 21.3 kN,
    // times 0.95 for the edges and 0.75.
    let row = |concrete_mpa| BarAnchorage {
        breakout: Some(Breakout { spacing_mm: 200.0, edge_mm: 250.0, far_edge_mm: 250.0 }),
        ..anchorage(D16, concrete_mpa, 2.5, 200.0)
    };
    let got = ask(&row(15.0));
    let single = 7.0 * 15.0_f64.sqrt() * 200.0 * 200.0_f64.sqrt() / 1e3;
    let expected = single * (200.0 * 500.0 / 360_000.0) * 0.95 * 0.75;
    assert_near("breakout of a row", got.breakout_kn.expect("checked"), expected, 1e-9);
    assert!(got.notes.has(Note::BreakoutOutOfRange) && got.notes.has(Note::BreakoutGoverns));
    // Weaker concrete never carries more.
    let strengths = [8.0, 12.0, 16.9, 17.1, 21.0, 35.0].map(|concrete_mpa| ask(&row(concrete_mpa)).stress_mpa);
    assert!(strengths.is_sorted(), "{strengths:?}");
    assert_near("confinement", confinement(D16, 60.0, 100.0), 50.0 / 16.0, 1e-12);
}

#[test]
fn short_laps_reach_less() {
    let old = Lap {
        bar: Bar::round(19.0),
        yield_mpa: 330.0,
        concrete_mpa: 15.0,
        provided_mm: 380.0,
        edge_mm: 50.0,
        spacing_mm: 140.0,
    };
    let got = lap(rules::american(), &old).expect("answered");
    // l_d = 330/(1.1·√15)·0.8/2.5·19 with (c/d) = 50/19 held at 2.5.
    assert_near("required", got.required_mm, 330.0 / (1.1 * 15.0_f64.sqrt()) * 0.8 / 2.5 * 19.0, 1e-12);
    assert!(!got.short);
    let short = lap(rules::american(), &Lap { provided_mm: 200.0, ..old }).expect("answered");
    assert!(short.short && short.stress_mpa < 330.0);
    // EN 1998-3 A.3.2.2(4): l_oy = 0.3·19·330/√15 = 485.7 mm (MEMORY).
    let european = lap(rules::european(), &old).expect("answered");
    assert_near("by the lap", european.stress_mpa, 330.0 * 380.0 / (0.3 * 19.0 * 330.0 / 15.0_f64.sqrt()), 1e-12);
}

/// A 9 m strip, 180 thick, 45 D16 bonded 220 into concrete of 15 MPa, frame axis 1.4 m away,
/// 400 kN along and 40 kN across.
fn slab(european: bool) -> LinkSlab {
    LinkSlab {
        length_mm: 9000.0,
        thickness_mm: 180.0,
        existing_contact_mm: 180.0,
        existing_lever_mm: 1400.0,
        new_lever_mm: 200.0,
        existing: BondedSide {
            concrete_mpa: if european { 12.0 } else { 15.0 },
            embedment_mm: 220.0,
            confinement: 2.5,
            surface: Surface::Roughened,
            edges_mm: None,
        },
        new_concrete_mpa: 28.0,
        new_surface: Surface::Monolithic,
        across: BarRow { bar: D16, spacing_mm: 200.0, layers: 1, yield_mpa: 420.0 },
        along: BarRow { bar: D10, spacing_mm: 200.0, layers: 2, yield_mpa: 420.0 },
        extra_chord_bars: false,
        force_kn: 400.0,
        tension_kn: 40.0,
        capped_by_mechanism: true,
        factors: FactorChoice::Given {
            interface: if european { 1.0 } else { 0.75 },
            diaphragm: if european { 1.0 } else { 0.75 },
        },
        peak: PeakChoice::Given(1.0),
        lightweight: 1.0,
    }
}

fn check(slab: &LinkSlab, rules: &dyn Rules) -> SlabCheck {
    slab.check(rules).expect("answered")
}

/// Hand-checkable, 1e-5.
#[test]
fn connecting_slab_by_the_american_set() {
    let got = check(&slab(false), rules::american());
    assert_near("bars", got.bars, 45.0, 1e-12);
    assert_near("moment", got.existing.moment_knm, 560.0, 1e-5);
    assert_near("chord tension", got.existing.chord_kn, 77.7778, 1e-5);
    assert_near("l_d", got.anchorage.required_mm, 504.755, 1e-5);
    assert_near("bar stress", got.anchorage.stress_mpa, 183.059, 1e-5);
    assert_near("clamping", got.existing.strength.clamping_kn, 1636.0, 1e-5);
    assert_near("friction", got.existing.strength.friction_kn, 1518.22, 1e-5);
    assert_near("bound", got.existing.strength.cap_kn, 4860.0, 1e-5);
    assert_near("φVn", got.existing.design_kn, 1138.67, 1e-5);
    assert_near("utilisation", got.existing.utilisation, 0.351_288, 1e-5);
    assert_near("diaphragm", got.strip.strength.strength_kn, 4153.55, 1e-5);
    assert_near("diaphragm bound", got.strip.strength.cap_kn, 5657.67, 1e-5);
    assert_near("φVn diaphragm", got.strip.design_kn, 3115.17, 1e-5);
    assert_eq!(got.governs, SlabPlace::ExistingJoint);
    assert_near("governing", got.utilisation, 0.351_288, 1e-5);
    assert!(got.brittle);
}

/// The same slab, 1e-5: anchorage, not friction, decides between the sets.
#[test]
fn connecting_slab_by_the_european_set() {
    let got = check(&slab(true), rules::european());
    assert_near("l_b,rqd", got.anchorage.required_mm, 884.803, 1e-5);
    assert_near("bar stress", got.anchorage.stress_mpa, 90.8087, 1e-5);
    assert_near("V_Rd", got.existing.design_kn, 460.912, 1e-5);
    assert_near("bound", got.existing.strength.cap_kn, 3701.38, 1e-5);
    assert_near("demand", got.existing.demand_kn, 520.0, 1e-5);
    assert_near("utilisation", got.existing.utilisation, 1.1282, 1e-5);
}

#[test]
fn connecting_slab_behaves() {
    let set = rules::american();
    let base = slab(false);
    let got = check(&base, set);
    // At its capacity the slab is fully used.
    let full = check(&LinkSlab { force_kn: got.capacity_kn, ..base }, set);
    assert_near("fully used", full.utilisation, 1.0, 1e-9);
    // By the clause: bars that do not yield are brittle, φ 0.60 and a peak of 1.5.
    let clause = LinkSlab { factors: FactorChoice::ByClause, peak: PeakChoice::ByBehaviour, ..base };
    let brittle = check(&clause, set);
    assert_eq!((brittle.existing.factor, brittle.existing.peak), (0.60, 1.5));
    assert_eq!((brittle.new.factor, brittle.new.peak, brittle.strip.factor), (0.75, 1.0, 0.75));
    assert_near("brittle", brittle.utilisation, 0.351_288 * 1.5 * 0.75 / 0.60, 1e-5);
    let at = check(&LinkSlab { force_kn: brittle.capacity_kn, ..clause }, set);
    assert_near("brittle, fully used", at.utilisation, 1.0, 1e-9);
    // Long enough: ductile.
    let long = LinkSlab { existing: BondedSide { embedment_mm: 520.0, ..base.existing }, ..clause };
    let ductile = check(&long, set);
    assert_eq!((ductile.existing.factor, ductile.existing.peak, ductile.brittle), (0.75, 1.0, false));
    let uncapped = check(&LinkSlab { capped_by_mechanism: false, ..long }, set);
    assert_eq!((uncapped.existing.factor, uncapped.strip.factor), (0.60, 0.60));
    // Bars of its own for the chord leave the clamping alone.
    let extra = check(&LinkSlab { extra_chord_bars: true, ..base }, set);
    assert_near("extra chord bars", extra.existing.strength.friction_kn, 1518.22 + 77.7778, 1e-5);
    // The sense of the force does not matter; none is no use; none left is infinite.
    assert_eq!(check(&LinkSlab { force_kn: -400.0, ..base }, set), got);
    assert_eq!(check(&LinkSlab { force_kn: 0.0, ..base }, set).utilisation, 0.0);
    let cut = LinkSlab { existing: BondedSide { embedment_mm: 100.0, ..base.existing }, ..base };
    assert_eq!(check(&cut, set).utilisation, f64::INFINITY);
    assert_eq!(check(&cut, set).capacity_kn, 0.0);
}

/// Bending in plane: 600 kN at 2 m over 6 m: 1200 kNm, 250 kN, 661.38 mm² (φ 0.9).
#[test]
fn chord_of_a_connecting_slab() {
    let slab =
        LinkSlab { length_mm: 6000.0, existing_lever_mm: 2000.0, force_kn: 600.0, tension_kn: 0.0, ..slab(false) };
    let got = check(&slab, rules::american());
    assert_near("moment", got.existing.moment_knm, 1200.0, 1e-12);
    assert_near("chord", got.existing.chord_kn, 250.0, 1e-12);
    assert_near("steel", got.chord_steel_mm2, 661.38, 5e-5);
}

/// A beam 1 m long and 9 m deep held at both ends: shear 7.4074e-8, bending 8.7098e-10 m/kN.
#[test]
fn stiffness_of_a_connecting_slab() {
    let strip = StripStiffness::usual(9.0, 1.0, 0.18, 25_000.0);
    let shear: f64 = 1.2 / (0.4 * 25e6 * 1.62);
    let bending: f64 = 1.0 / (12.0 * 25e6 * 0.35 * 0.18 * 729.0 / 12.0);
    assert_near("k", strip.stiffness_kn_m(), 1.0 / (shear + bending), 1e-12);
    let slipping = StripStiffness { slip_kn_m: Some(1e6), ..strip };
    assert_near("with slip", slipping.stiffness_kn_m(), 1.0 / (shear + bending + 1e-6), 1e-12);
    // Long and slender: bending only, 12·E·I/g³.
    let slender = StripStiffness { shear_form: 0.0, ..StripStiffness::usual(0.5, 6.0, 0.2, 25_000.0) };
    let inertia = 0.35 * 0.2 * 0.5_f64 * 0.5 * 0.5 / 12.0;
    assert_near("bending", slender.stiffness_kn_m(), 12.0 * 25e6 * inertia / 216.0, 1e-12);
}

/// Statics of footings.
#[test]
fn footings() {
    let pad = Strip { length_m: 3.0, width_m: 2.0, ultimate_kpa: 600.0, subgrade_mn_m3: 24.0 };
    assert_near("rocking", pad.rocking_moment_knm(800.0), 933.33, 5e-5);
    assert_eq!(pad.rocking_moment_knm(-10.0), 0.0);
    assert_eq!(pad.rocking_moment_knm(4000.0), 0.0);
    assert_near("rotation", pad.rotational_stiffness_knm(), 24_000.0 * 2.0 * 27.0 / 12.0, 1e-12);
    let strip = Strip { length_m: 8.0, width_m: 2.5, ultimate_kpa: 600.0, subgrade_mn_m3: 24.0 };
    assert_near("rocking of a strip", strip.rocking_moment_knm(1340.0), 4761.5, 5e-5);
    assert_near("settlement", strip.vertical_stiffness_kn_m(), 480_000.0, 1e-12);
    let known = Strip::from_allowable(3.0, 2.0, 200.0);
    assert_near("subgrade", known.subgrade_mn_m3, 24.0, 1e-12);
    assert_near("ultimate", known.ultimate_kpa, 600.0, 1e-12);
    assert_near("gravity only", gravity_only_moment_knm(800.0, 3.0), 1200.0, 1e-12);
}
