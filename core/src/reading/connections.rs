//! Connections and footings, in sentences.

use super::{capitalised, list};
use crate::connection::{ConnectionKind, ConnectionResult, Part, Remark, listed};
use crate::study::OptionResult;
use crate::units::grouped;

/// What the connections of an option come to.
pub fn connections(option: &OptionResult) -> String {
    let all = listed(&option.connections);
    let Some(worst) = all.first() else {
        return "This option makes no connection between old and new, so there is nothing to check here.".to_owned();
    };
    let mut text = Vec::new();
    let short: Vec<&ConnectionResult> =
        all.iter().copied().filter(|own| own.utilisation().is_some_and(|used| used > 1.0)).collect();
    let known = all.iter().filter(|own| own.utilisation().is_some()).count();
    match (short.len(), worst.governing()) {
        (_, None) => text.push("Nothing of it can be checked yet: what is missing is said beside each.".to_owned()),
        (0, Some(check)) => text.push(format!(
            "All {known} connections checked carry what is asked of them; the most used is the {} on line {}, to {} by its \
             {}.",
            worst.kind.label(),
            worst.line,
            grouped(check.utilisation, 2),
            check.part.label()
        )),
        (count, Some(_)) => {
            let kinds: Vec<String> = ConnectionKind::ALL
                .into_iter()
                .filter(|kind| short.iter().any(|own| own.kind == *kind))
                .map(|kind| kind.label().to_owned())
                .collect();
            let verb = if count == 1 { "is" } else { "are" };
            text.push(format!(
                "{} of {known} connections checked {verb} asked for more than they carry: {}.",
                capitalised(&counted(count)),
                list(&kinds)
            ));
        }
    }
    let governs = |part: Part| short.iter().any(|own| own.governing().is_some_and(|check| check.part == part));
    let says = |remark: Remark| all.iter().any(|own| own.remarks.contains(&remark));
    if governs(Part::Overturning) {
        text.push(
            "Where a footing lifts, the capacity curve already counts on its rocking; the figure says how far it is from \
             holding the wall or frame to its strength."
                .to_owned(),
        );
    }
    if governs(Part::Sliding) {
        text.push(
            "Where sliding governs, the footings must be tied to the old ones or borne against the ground.".to_owned(),
        );
    }
    if governs(Part::OldSlab) || governs(Part::BeamBars) {
        text.push("The old floor or its edge beam is the weak link there: new work alone does not mend it.".to_owned());
    }
    if says(Remark::AnchorageShort) || says(Remark::AnchorageNone) {
        text.push(
            "Bars bonded into the old concrete are too short to yield, so those joints give no warning.".to_owned(),
        );
    }
    let withheld = all.len() - known;
    if withheld > 0 {
        let noun = if withheld == 1 { "is" } else { "are" };
        text.push(format!("{} {noun} withheld for want of data.", capitalised(&counted(withheld))));
    }
    text.push(
        "How sure: bars and concrete of the old building are as given, unproven; ground values are coarse. Test before \
         relying on any of it."
            .to_owned(),
    );
    text.join(" ")
}

fn counted(count: usize) -> String {
    match count {
        1 => "one".to_owned(),
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        _ => count.to_string(),
    }
}
