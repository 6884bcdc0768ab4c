//! Equilibrium of the results as they are exported.

use crate::{seeds, studied};
use sisterframe_core::place::Class;
use sisterframe_core::study::{DirectionResult, OptionResult};
use sisterframe_tests::approx::is_near;
use sisterframe_tests::projects::each_project;

/// Relative to the base shear: the largest force of the direction.
const TOLERANCE: f64 = 1e-9;

fn each_direction(mut check: impl FnMut(&str, &OptionResult, &DirectionResult)) {
    each_project(seeds(), |seed, _| {
        for option in &studied(seed).options {
            for direction in &option.directions {
                let along = if direction.along_x { "x" } else { "y" };
                check(&format!("seed {seed}, {}, along {along}", option.name), option, direction);
            }
        }
    });
}

#[test]
fn every_storey_is_in_equilibrium() {
    each_direction(|which, _, direction| {
        let slack = TOLERANCE * direction.base_shear_kn;
        for (s, storey) in direction.storeys.iter().enumerate() {
            let shear = storey.shear_kn;
            let forces: f64 = direction.storeys[s..].iter().map(|above| above.floor_force_kn).sum();
            let lines: f64 = direction.lines.iter().map(|line| line.shear_kn[s]).sum();
            let classes: f64 = storey.class_shear_kn.iter().sum();
            let members: f64 = storey.members.iter().map(|member| member.shear_kn).sum();
            for (what, sum) in [("forces", forces), ("lines", lines), ("classes", classes), ("members", members)] {
                assert!((sum - shear).abs() <= slack, "{which}, storey {}: {what} {sum}, shear {shear}", s + 1);
            }
            for class in Class::ALL {
                let of: f64 =
                    storey.members.iter().filter(|member| member.class == class).map(|member| member.shear_kn).sum();
                assert!((of - storey.share(class) * shear).abs() <= slack, "{which}, storey {}: {class:?}", s + 1);
            }
            let shares: f64 = Class::ALL.iter().map(|class| storey.share(*class)).sum();
            assert!((shares - 1.0).abs() <= TOLERANCE, "{which}, storey {}: shares sum to {shares}", s + 1);
        }
        assert!((direction.storeys[0].shear_kn - direction.base_shear_kn).abs() <= slack, "{which}: base shear");
    });
}

#[test]
fn members_of_a_line_make_up_its_shear() {
    each_direction(|which, _, direction| {
        let slack = TOLERANCE * direction.base_shear_kn;
        for line in &direction.lines {
            for (s, storey) in direction.storeys.iter().enumerate() {
                let own = storey.members.iter().filter(|member| member.line == line.name);
                let sum: f64 = own.map(|member| member.shear_kn).sum();
                let shear = line.shear_kn[s];
                assert!((sum - shear).abs() <= slack, "{which}, line {}, storey {}: {sum}, {shear}", line.name, s + 1);
                let accidental = line.shear_with_accidental_kn[s];
                assert!(accidental.abs() >= shear.abs(), "{which}, line {}: accidental {accidental}", line.name);
            }
        }
    });
}

/// N = V below − V above − F on the frame's own mass.
#[test]
fn slab_forces_balance_the_added_frame() {
    let mut slabs = 0;
    each_direction(|which, option, direction| {
        for slab in option.slabs.iter().filter(|slab| slab.along_x == direction.along_x) {
            slabs += 1;
            let balance = slab.shear_below_kn - slab.shear_above_kn - slab.own_inertia_kn;
            let close = (slab.elastic_force_kn - balance).abs() <= TOLERANCE * direction.base_shear_kn;
            assert!(close, "{which}, level {}: {} against {balance}", slab.level, slab.elastic_force_kn);
            let line = direction.lines.iter().find(|line| line.external && line.name.starts_with(&slab.face));
            let Some(line) = line else { panic!("{which}: no line for the frame on {}", slab.face) };
            assert_eq!(slab.shear_below_kn, line.shear_kn[slab.level as usize - 1], "{which}");
            assert_eq!(slab.strength_kn, (slab.friction_kn / slab.peak).min(slab.strip_kn), "{which}");
            // What is printed as demand and strength divides to what is printed as utilisation.
            let utilisation = if slab.strength_kn > 0.0 { slab.demand_kn / slab.strength_kn } else { f64::MAX };
            assert!(is_near(slab.utilisation, utilisation, 1e-9), "{which}: {} {utilisation}", slab.utilisation);
        }
    });
    assert!(slabs > 100, "only {slabs} slabs were drawn");
}

#[test]
fn the_weakest_storey_sets_the_strength() {
    each_direction(|which, option, direction| {
        let least = direction.storeys.iter().map(|storey| storey.ratio).fold(f64::INFINITY, f64::min);
        assert_eq!(direction.strength_kn, least * direction.base_shear_kn, "{which}");
        let named = &direction.storeys[direction.strength_storey as usize - 1];
        assert_eq!(named.ratio, least, "{which}");
        let headline = option.strength_to_demand.map_or(0.0, |headline| headline.ratio);
        assert!(headline <= least * (1.0 + 1e-12), "{which}: {headline} of {least}");
        for storey in &direction.storeys {
            let sum: f64 = storey.members.iter().map(|member| member.strength_kn).sum();
            // Each sense has its own sum; the weaker members of both bound neither from above.
            assert!(storey.strength_kn >= 0.0 && sum >= 0.0, "{which}");
            assert!(storey.lost.len() < storey.members.len().max(1), "{which}: everything is lost at the peak");
        }
    });
}
