//! Finds a connecting slab that carries the forces asked of it.

use super::Part;
use super::slab::{link_slab, pulled};
use crate::anchorage::drillable_mm;
use crate::link_slab::{LinkSlab, SlabPlace};
use crate::model::{Frame, Slab};
use crate::project::Materials;
use crate::rules::{Ruled, Rules};

/// Utilisation a proposal stays within.
pub const TARGET: f64 = 0.9;
/// Thicknesses tried, mm: from, to, step (common practice, no source).
const THICKNESS_MM: [f64; 3] = [150.0, 300.0, 10.0];
/// Least thickness for bars in two layers, mm (common practice, no source).
const TWO_LAYERS_MM: f64 = 200.0;
/// Diameters tried, mm.
const BARS_MM: [f64; 5] = [13.0, 16.0, 19.0, 22.0, 25.0];
/// Spacings of bonded bars tried, mm: the widest, the closest, step (common practice, no source).
const SPACING_MM: [f64; 3] = [300.0, 100.0, 10.0];
/// Bars along the joint tried, by growing steel: diameter and spacing, mm.
const ALONG_MM: [[f64; 2]; 8] = [
    [10.0, 250.0],
    [10.0, 200.0],
    [13.0, 250.0],
    [13.0, 200.0],
    [13.0, 150.0],
    [16.0, 150.0],
    [16.0, 125.0],
    [16.0, 100.0],
];

/// What a slab must carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Required<'a> {
    /// The slab as it is.
    pub slab: &'a Slab,
    /// Force, kN.
    pub force_kn: f64,
    /// Pull across the joint, kN.
    pub tension_kn: f64,
    /// Whether the frame's mechanism caps the force.
    pub capped_by_mechanism: bool,
}

/// A connecting slab, the same at every floor asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposal {
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Diameter of the bars across the joint, mm.
    pub across_bar_mm: f64,
    /// Their spacing, mm.
    pub across_spacing_mm: f64,
    /// Their layers.
    pub across_layers: u32,
    /// Their embedment, mm: what the narrowest old beam has room for.
    pub embedment_mm: f64,
    /// Diameter of the bars along the joint, mm.
    pub along_bar_mm: f64,
    /// Their spacing, mm.
    pub along_spacing_mm: f64,
    /// Largest utilisation at those floors.
    pub utilisation: f64,
}

impl Proposal {
    /// A frame with this slab.
    pub fn applied(&self, frame: &crate::project::ExternalFrame) -> crate::project::ExternalFrame {
        crate::project::ExternalFrame {
            slab_mm: self.thickness_mm,
            across_bar_mm: self.across_bar_mm,
            across_spacing_mm: self.across_spacing_mm,
            across_layers: self.across_layers,
            embedment_mm: self.embedment_mm,
            along_bar_mm: self.along_bar_mm,
            along_spacing_mm: self.along_spacing_mm,
            ..frame.clone()
        }
    }
}

/// Why there is no proposal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoSlab {
    /// The part that stays too weak in the best slab tried.
    pub part: Part,
    /// Its utilisation there.
    pub utilisation: f64,
}

/// The thinnest slab that carries what is required, with the fewest bonded bars among those of its
/// thickness: a wider spacing than the one proposed does not pass, or is the widest tried.
///
/// Deterministic; some thousand checks at most.
pub fn propose(
    rules: &dyn Rules,
    materials: &Materials,
    frame: &Frame,
    required: &[Required<'_>],
) -> Ruled<Result<Proposal, NoSlab>> {
    let depth = required.iter().map(|own| own.slab.beam_depth_mm).fold(frame.spec.beam_depth_mm, f64::min);
    let width = required.iter().map(|own| own.slab.beam_width_mm).fold(f64::INFINITY, f64::min);
    let embedment_mm = (10.0 * (drillable_mm(width) / 10.0).floor()).clamp(60.0, 900.0);
    let most = THICKNESS_MM[1].min(depth - frame.spec.slab_drop_mm);
    let mut best = NoSlab { part: Part::OldJoint, utilisation: f64::MAX };
    let mut thickness_mm = THICKNESS_MM[0];
    while thickness_mm <= most {
        for across_layers in 1..=if thickness_mm >= TWO_LAYERS_MM { 2 } else { 1 } {
            let mut found: Option<Proposal> = None;
            for across_bar_mm in BARS_MM {
                let mut across_spacing_mm = SPACING_MM[0];
                while across_spacing_mm >= SPACING_MM[1] {
                    // A spacing no wider than that of a thicker or earlier bar needs no look.
                    if found.is_some_and(|own| across_spacing_mm <= own.across_spacing_mm) {
                        break;
                    }
                    let tried = Proposal {
                        thickness_mm,
                        across_bar_mm,
                        across_spacing_mm,
                        across_layers,
                        embedment_mm,
                        along_bar_mm: 0.0,
                        along_spacing_mm: 0.0,
                        utilisation: 0.0,
                    };
                    match along(rules, materials, frame, required, &tried)? {
                        Ok(passes) => {
                            found = Some(passes);
                            break;
                        }
                        Err(short) if short.utilisation < best.utilisation => best = short,
                        Err(_) => {}
                    }
                    across_spacing_mm -= SPACING_MM[2];
                }
            }
            if let Some(found) = found {
                return Ok(Ok(found));
            }
        }
        thickness_mm += THICKNESS_MM[2];
    }
    Ok(Err(best))
}

/// Completes a slab with the least steel along the joint that passes.
fn along(
    rules: &dyn Rules,
    materials: &Materials,
    frame: &Frame,
    required: &[Required<'_>],
    tried: &Proposal,
) -> Ruled<Result<Proposal, NoSlab>> {
    let mut worst = NoSlab { part: Part::OldJoint, utilisation: 0.0 };
    for [along_bar_mm, along_spacing_mm] in ALONG_MM {
        let tried = Proposal { along_bar_mm, along_spacing_mm, ..*tried };
        worst = used(rules, materials, frame, required, &tried)?;
        if worst.utilisation <= TARGET {
            return Ok(Ok(Proposal { utilisation: worst.utilisation, ..tried }));
        }
        // Steel along the joint helps the strip alone.
        if worst.part != Part::Strip {
            break;
        }
    }
    Ok(Err(worst))
}

/// The most used part of a slab over the floors asked for.
pub fn used(
    rules: &dyn Rules,
    materials: &Materials,
    frame: &Frame,
    required: &[Required<'_>],
    proposal: &Proposal,
) -> Ruled<NoSlab> {
    let frame = Frame { spec: proposal.applied(&frame.spec), ..frame.clone() };
    let mut worst = NoSlab { part: Part::OldJoint, utilisation: 0.0 };
    for own in required {
        let asked = LinkSlab {
            force_kn: own.force_kn,
            tension_kn: own.tension_kn,
            capped_by_mechanism: own.capped_by_mechanism,
            ..link_slab(materials, &frame, own.slab)
        };
        let found = asked.check(rules)?;
        let part = match found.governs {
            SlabPlace::ExistingJoint => Part::OldJoint,
            SlabPlace::Strip => Part::Strip,
            SlabPlace::NewJoint => Part::NewJoint,
        };
        if found.utilisation > worst.utilisation {
            worst = NoSlab { part, utilisation: found.utilisation.min(f64::MAX) };
        }
        let pull = pulled(rules, own.slab, &asked, &found, &mut Vec::new())?;
        if let Some(pull) = pull.filter(|pull| pull.utilisation > worst.utilisation) {
            worst = NoSlab { part: Part::PulledBars, utilisation: pull.utilisation };
        }
    }
    Ok(worst)
}
