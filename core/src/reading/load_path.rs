//! How the load travels, in sentences.

use super::{capitalised, list, overused_beyond, percent};
use crate::finding::Code;
use crate::order;
use crate::place::{Class, Place};
use crate::project::Direction;
use crate::study::{DirectionResult, ForceBound, OptionResult, SlabResult};
use crate::units::{Dimension, System, grouped, show};

/// How the load travels in one direction of an option.
pub fn load_path(option: &OptionResult, direction: Direction, system: System) -> String {
    let along_x = direction == Direction::X;
    let Some(result) = option.directions.iter().find(|result| result.along_x == along_x) else {
        return String::new();
    };
    let mut text = Vec::new();
    text.extend(who_carries(result, direction));
    let slabs: Vec<&SlabResult> = option.slabs.iter().filter(|slab| slab.along_x == along_x).collect();
    text.extend(what_crosses(&slabs, system));
    text.extend(what_is_behind(option, &slabs));
    text.extend(what_the_frame_withholds(&slabs));
    text.extend(what_comes_back(result, &slabs));
    text.extend(what_must_follow(result, system));
    let worse = option
        .findings
        .iter()
        .filter(|finding| match finding.code {
            // The finding names a line; only those of this direction belong here.
            Code::FarSideWorse => {
                matches!(&finding.place, Place::Line { line } if result.lines.iter().any(|own| own.name == *line))
            }
            code => code == Code::Unstable,
        })
        .map(|finding| format!("{}.", finding.text.in_units(system)));
    text.extend(worse);
    text.push(
        "How sure: shares follow stiffness before anything yields; once old columns are lost, the new work has to \
         carry their part as well."
            .to_owned(),
    );
    text.join(" ")
}

/// Who carries the base shear.
fn who_carries(result: &DirectionResult, direction: Direction) -> Option<String> {
    let base = result.storeys.first()?;
    let way = capitalised(direction.label());
    let external: f64 = result.lines.iter().filter(|line| line.external).filter_map(|line| line.shear_kn.first()).sum();
    let frames = result.lines.iter().filter(|line| line.external).count();
    let external = if base.shear_kn == 0.0 { 0.0 } else { external / base.shear_kn };
    let walls = base.share(Class::New) - external;
    let strengthened = base.share(Class::Strengthened);
    let mut parts = Vec::new();
    if frames > 0 {
        let noun = if frames == 1 { "the external frame takes" } else { "the external frames together take" };
        parts.push(format!("{noun} {}", percent(external)));
    }
    if walls.abs() > 0.005 {
        let verb = if parts.is_empty() { "new walls take" } else { "new walls" };
        parts.push(format!("{verb} {}", percent(walls)));
    }
    if strengthened.abs() > 0.005 {
        let verb = if parts.is_empty() { "strengthened columns take" } else { "strengthened columns" };
        parts.push(format!("{verb} {}", percent(strengthened)));
    }
    Some(if parts.is_empty() {
        format!("{way}, the members as built carry the whole base shear.")
    } else {
        format!(
            "{way}, {} of the base shear and members as built {}.",
            list(&parts),
            percent(base.share(Class::AsBuilt))
        )
    })
}

/// What crosses the connecting slabs.
fn what_crosses(slabs: &[&SlabResult], system: System) -> Option<String> {
    let most = slabs.iter().max_by(|a, b| a.demand_kn.total_cmp(&b.demand_kn))?;
    let worst = slabs.iter().max_by(|a, b| a.utilisation.total_cmp(&b.utilisation))?;
    let what = if worst.friction_governs { "shear friction at the old beam" } else { "shear of the strip itself" };
    let first = format!(
        "Of the connecting slabs, level {} on line {} must pass the most, {}",
        most.level,
        most.face,
        show(most.demand_kn, Dimension::Kilonewtons, system)
    );
    let same = (most.level, &most.face) == (worst.level, &worst.face);
    let place = if same { "it is".to_owned() } else { format!("level {} on line {} is", worst.level, worst.face) };
    Some(if worst.utilisation > 1.0 {
        format!(
            "{first}; {place} asked for {} times what it can carry, and {what} sets the limit.",
            grouped(worst.utilisation, 2)
        )
    } else {
        format!("{first}; {place} used to {} of its design strength, set by {what}.", grouped(worst.utilisation, 2))
    })
}

/// What gives before a connecting slab: the old slab along the line, or the bonded bars.
fn what_is_behind(option: &OptionResult, slabs: &[&SlabResult]) -> Option<String> {
    let all = slabs.iter().filter_map(|slab| Some((slab, overused_beyond(option, slab)?)));
    let (slab, check) = all.max_by(|(_, one), (_, other)| one.utilisation.total_cmp(&other.utilisation))?;
    Some(format!(
        "Behind it the {} is asked for {} times what it carries at level {} on line {}.",
        check.part.label(),
        grouped(check.utilisation, 2),
        slab.level,
        slab.face
    ))
}

/// Slabs that need not carry the force the elastic stream shows, since their frame gives in before.
fn what_the_frame_withholds(slabs: &[&SlabResult]) -> Option<String> {
    let capped = |bound: ForceBound| -> Vec<String> {
        let own = slabs.iter().filter(|slab| slab.bound == bound && slab.demand_kn < slab.elastic_force_kn.abs());
        own.map(|slab| format!("level {} on line {}", slab.level, slab.face)).collect()
    };
    let ways = [
        (ForceBound::FootingUplift, "its frame's footings lift before they can hold it back"),
        (ForceBound::FrameMechanism, "its frame yields before it can take it"),
    ];
    let said = |(bound, why): (ForceBound, &str)| {
        let places = capped(bound);
        let subject = if places.len() == 1 { "the slab of" } else { "each slab of" };
        (!places.is_empty()).then(|| {
            capitalised(&format!(
                "{subject} {} is checked for less than the elastic force drawn: {why}.",
                list(&places)
            ))
        })
    };
    let text: Vec<String> = ways.into_iter().filter_map(said).collect();
    (!text.is_empty()).then(|| text.join(" "))
}

/// Where parts push back.
fn what_comes_back(result: &DirectionResult, slabs: &[&SlabResult]) -> Option<String> {
    let back = || slabs.iter().filter(|slab| slab.elastic_force_kn < 0.0);
    let mut levels: Vec<u32> = back().map(|slab| slab.level).collect();
    if let Some(first) = back().next() {
        order::sort_by_key(&mut levels, |level| *level);
        levels.dedup();
        let noun = if levels.len() == 1 { "level" } else { "levels" };
        let frames = if back().all(|slab| slab.face == first.face) { "the frame pushes" } else { "the frames push" };
        let levels: Vec<String> = levels.iter().map(u32::to_string).collect();
        return Some(format!("At {noun} {} {frames} back into the building.", list(&levels)));
    }
    let pushed = result.storeys.iter().find_map(|storey| {
        Class::ALL.iter().find(|class| storey.share(**class) < -0.005).map(|class| (storey.storey, *class))
    });
    pushed.map(|(storey, class)| {
        format!("In storey {storey} the {} part pushes back: its share is negative.", class.label())
    })
}

/// The drift everything has to follow.
fn what_must_follow(result: &DirectionResult, system: System) -> Option<String> {
    let worst = result.storeys.iter().max_by(|a, b| a.drift_ratio.abs().total_cmp(&b.drift_ratio.abs()))?;
    if worst.drift_ratio == 0.0 {
        return None;
    }
    let part = 1.0 / worst.drift_ratio.abs();
    Some(format!(
        "Every member in storey {} has to follow a drift of {}, one part in {}.",
        worst.storey,
        show(worst.drift_mm.abs(), Dimension::Millimetres, system),
        grouped(part, 0)
    ))
}
