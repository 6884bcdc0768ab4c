//! Connections and footings are in balance, and their utilisation is demand over design strength.

use crate::{seeds, studied};
use sisterframe_core::connection::{Check, ConnectionKind, ConnectionResult, Part, Remark, Symbol, listed};
use sisterframe_core::place::Place;
use sisterframe_core::study::OptionResult;
use sisterframe_tests::approx::is_near;
use sisterframe_tests::projects::each_project;

fn each_connection(mut check: impl FnMut(&str, &OptionResult, &ConnectionResult)) {
    each_project(seeds(), |seed, _| {
        for option in &studied(seed).options {
            for connection in &option.connections {
                let which = format!("seed {seed}, {}, {}, {}", option.name, connection.kind.label(), connection.place);
                check(&which, option, connection);
            }
        }
    });
}

#[track_caller]
fn assert_near(which: &str, what: &str, one: f64, other: f64) {
    assert!(is_near(one, other, 1e-9) || (one - other).abs() < 1e-9, "{which}: {what} {one}, {other}");
}

#[test]
fn utilisation_is_demand_over_design_strength() {
    let mut counts = [0; ConnectionKind::ALL.len()];
    let mut withheld = 0;
    each_connection(|which, option, connection| {
        counts[ConnectionKind::ALL.iter().position(|kind| *kind == connection.kind).unwrap_or(0)] += 1;
        for check in &connection.checks {
            let Check { part, demand, strength, factor, design, utilisation, .. } = check;
            assert!(*demand >= 0.0 && *strength >= 0.0 && (0.0..=1.0).contains(factor), "{which}: {check:?}");
            assert_eq!(*design, factor * strength, "{which}, {part:?}");
            if *design > 0.0 && *utilisation < f64::MAX {
                assert_eq!(*utilisation, demand / design, "{which}, {part:?}");
            }
        }
        match connection.utilisation() {
            Some(governing) => {
                let most = connection.checks.iter().map(|check| check.utilisation).fold(0.0, f64::max);
                assert_eq!(governing, most, "{which}");
            }
            None => {
                withheld += 1;
                assert!(!connection.remarks.is_empty(), "{which}: withheld without a word");
            }
        }
        assert!(!matches!(connection.place, Place::Building), "{which}: nowhere");
        let order: Vec<f64> = listed(&option.connections).iter().map(|own| own.utilisation().unwrap_or(-1.0)).collect();
        assert!(order.is_sorted_by(|one, other| one >= other), "{which}: {order:?}");
    });
    assert!(counts.iter().all(|count| *count > 20), "too few drawn: {counts:?}");
    assert!(withheld > 20, "{withheld}");
}

/// The strip between joint and frame: shear, moment and chords.
#[test]
fn a_connecting_slab_is_in_balance() {
    each_connection(|which, option, connection| {
        if connection.kind != ConnectionKind::ConnectingSlab {
            return;
        }
        let of = |symbol| connection.figure(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
        let slab = option.slabs.iter().find(|slab| {
            (slab.along_x, slab.level, &slab.face) == (connection.along_x, connection.storey, &connection.line)
        });
        let slab = slab.unwrap_or_else(|| panic!("{which}: no slab"));
        let balance = of(Symbol::ShearBelow) - of(Symbol::ShearAbove) - of(Symbol::OwnInertia);
        assert!((slab.elastic_force_kn - balance).abs() <= 1e-9 * option.directions[0].base_shear_kn, "{which}");
        // Moment about the frame's own axis is nothing, so all of it is at the joint.
        assert_near(which, "moment", of(Symbol::Moment), of(Symbol::Force) * of(Symbol::Lever));
        assert_near(which, "chord", of(Symbol::Chord) * of(Symbol::Arm), of(Symbol::Moment));
        // The force is the greatest of what it may be, within what the frame can deliver.
        let least = of(Symbol::DeliverableForce);
        let expected = match connection.figure(Symbol::PerformanceForce) {
            Some(performance) => of(Symbol::MechanismForce).max(of(Symbol::FloorForce)).min(least).max(performance),
            None => of(Symbol::ElasticForce).min(least),
        };
        assert_eq!(of(Symbol::Force), expected, "{which}");
        let joint = connection.check(Part::OldJoint).unwrap_or_else(|| panic!("{which}: no joint"));
        let term = |symbol| joint.term(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
        let over = joint.term(Symbol::Overstrength).unwrap_or(1.0);
        assert_near(which, "pull", term(Symbol::NetTension), over * (of(Symbol::DirectTension) + of(Symbol::Chord)));
        assert_near(which, "clamping", term(Symbol::Clamping), of(Symbol::Steel) * term(Symbol::BarStress) / 1e3);
        let friction = term(Symbol::Friction) * (term(Symbol::Clamping) - term(Symbol::NetTension)).max(0.0);
        assert_near(which, "friction", joint.strength, friction.min(term(Symbol::Cap)));
        assert_near(which, "demand", joint.demand, over * of(Symbol::Force) * term(Symbol::Peak));
    });
}

/// A panel cut along its edges does not turn; a wing's joint passes the flow of its section.
#[test]
fn panels_and_wings_are_in_balance() {
    each_connection(|which, _, connection| {
        let of = |symbol| connection.figure(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
        match connection.kind {
            ConnectionKind::Perimeter => {
                let turning = of(Symbol::PanelShear) * of(Symbol::Height);
                assert_near(which, "couple", turning, of(Symbol::UprightShear) * of(Symbol::Length));
                let top = connection.check(Part::TopJoint).unwrap_or_else(|| panic!("{which}: no joint"));
                let term = |symbol| top.term(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
                let through = of(Symbol::PanelShear) * top.strength;
                let own = top.strength - term(Symbol::ColumnShear) - term(Symbol::OldPanels);
                if top.strength > 0.0 {
                    assert_near(which, "part through the panel", through, of(Symbol::Shear) * own.max(0.0));
                }
            }
            ConnectionKind::WingEdge | ConnectionKind::JacketFace => {
                assert_near(which, "flow", of(Symbol::ShearFlow) * of(Symbol::InnerArm), of(Symbol::Shear));
                assert_near(which, "force", of(Symbol::ShearFlow) * of(Symbol::Height), of(Symbol::Force));
            }
            _ => {}
        }
    });
}

/// Along a line, what the floor brings and what is taken out leave nothing beyond its end; the
/// largest force where nothing takes it is the collector's.
#[test]
fn lines_pass_on_what_floors_bring() {
    let mut ends_bare = 0;
    each_connection(|which, _, connection| {
        if !matches!(connection.kind, ConnectionKind::Collector | ConnectionKind::FloorEdge) {
            return;
        }
        let of = |symbol| connection.figure(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
        let force = of(Symbol::Force);
        let slack = 1e-9 * force.max(1.0);
        let mut axial = 0.0;
        let mut most = 0.0_f64;
        for own in &connection.stretches {
            let sides = own.floor_beside.iter().filter(|there| **there).count() as f64;
            let brought = force * sides * own.length_m / of(Symbol::LineLength);
            assert_near(which, "brought", own.brought_kn, brought);
            assert!(own.takes == (own.taken_kn != 0.0) || force == 0.0, "{which}, bay {}", own.bay);
            assert!((own.axial_kn[0] - axial).abs() <= slack, "{which}, bay {}: a jump", own.bay);
            axial += own.brought_kn - own.taken_kn;
            assert!((own.axial_kn[1] - axial).abs() <= slack, "{which}, bay {}: not in balance", own.bay);
            if !own.takes {
                most = own.axial_kn.iter().fold(most, |most, force| most.max(force.abs()));
            }
        }
        assert!(axial.abs() <= slack, "{which}: {axial} left beyond the end");
        if connection.kind == ConnectionKind::Collector {
            assert_near(which, "collected", of(Symbol::CollectorForce), most);
            assert!(most <= force * (1.0 + 1e-12), "{which}: {most} of {force}");
            ends_bare += usize::from(connection.stretches.iter().any(|own| own.brought_kn == 0.0));
        }
    });
    assert!(ends_bare > 5, "{ends_bare} collectors pass bays without a floor");
}

/// Every force that a drawing shows, on the piece it shows it on.
#[test]
fn every_piece_drawn_is_in_balance() {
    let mut counts = [0; ConnectionKind::ALL.len()];
    each_connection(|which, _, connection| {
        let Some(body) = connection.free_body() else { return };
        let extent = body.acting.iter().flat_map(|own| own.at_m).fold(1.0, |most: f64, at| most.max(at.abs()));
        let forces = body.acting.iter().flat_map(|own| own.force_kn);
        let most = forces.fold(0.0, |most: f64, force| most.max(force.abs()));
        let residual = body.residual();
        assert!(
            residual[0].abs() <= 1e-9 * most && residual[1].abs() <= 1e-9 * most,
            "{which}: {residual:?} left of {body:?}"
        );
        assert!(residual[2].abs() <= 1e-9 * most * extent, "{which}: {residual:?} left of {body:?}");
        if most > 0.0 {
            counts[ConnectionKind::ALL.iter().position(|kind| *kind == connection.kind).unwrap_or(0)] += 1;
        }
    });
    assert!(counts.iter().all(|count| *count > 20), "too few cut free: {counts:?}");
}

#[test]
fn footings_are_in_balance() {
    let mut lifted = 0;
    each_connection(|which, _, connection| {
        if connection.kind != ConnectionKind::Footing || connection.checks.is_empty() {
            return;
        }
        let of = |symbol| connection.figure(symbol);
        let need = |symbol| of(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
        let whole = connection.check(Part::Overturning).unwrap_or_else(|| panic!("{which}: no overturning"));
        if let Some(couple) = of(Symbol::Couple) {
            // Both end columns together carry what stands on them; the couple and the pads turn the frame back.
            let (most, least) = (need(Symbol::Compression), need(Symbol::Uplift));
            assert_near(which, "couple", most - least, 2.0 * couple);
            assert_eq!(connection.remarks.contains(&Remark::PadPulled), least < 0.0, "{which}");
            if let (Some(hold), Some(more)) = (of(Symbol::HoldDown), of(Symbol::AddedWeight)) {
                lifted += 1;
                assert_near(which, "held down", whole.strength + hold * need(Symbol::Span), whole.demand);
                // Spread over the frame, its weight acts at half the length.
                assert_near(which, "weighed", whole.strength + more * need(Symbol::Span) / 2.0, whole.demand);
            }
        }
        if let Some(bearing) = connection.check(Part::Bearing).filter(|check| check.strength > 0.0) {
            let term = |symbol| bearing.term(symbol).unwrap_or_else(|| panic!("{which}: no {symbol:?}"));
            let (length, width) = (need(Symbol::FootingLength), need(Symbol::Width));
            let (load, contact) = (term(Symbol::Compression), term(Symbol::Contacted));
            // Volume of the pressure block and its place.
            let least = if contact < length { 0.0 } else { 2.0 * load / (width * length) - bearing.demand };
            assert_near(which, "pressure", (bearing.demand + least) / 2.0 * contact * width, load);
            let of_mean = load * (contact / 2.0);
            let centroid = width * contact * contact * (bearing.demand / 6.0 + least / 3.0);
            let eccentric = length / 2.0 - centroid / load;
            if load > 0.0 && of_mean > 0.0 {
                assert!(
                    (eccentric - term(Symbol::Eccentricity)).abs() < 1e-9 * length.max(1.0),
                    "{which}: load at {eccentric}, meant {}",
                    term(Symbol::Eccentricity)
                );
            }
        }
    });
    assert!(lifted > 5, "{lifted} frames lift");
}
