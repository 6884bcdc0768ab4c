//! Short paragraphs written from the results by rule: what they show, what to watch for,
//! how sure one may be. Nothing is computed here; values are picked and put into words.

mod building;
mod capacity;
mod connections;
mod load_path;
mod questions;
mod sets;
mod sizing;
mod spot;
mod works;

pub use building::{building, how_sure};
pub use capacity::{capacity, limit_in_words, mechanism};
pub use connections::connections;
pub use load_path::load_path;
pub use questions::{Answer, questions};
pub use sets::{Judged, sets_differ};
pub use sizing::{SizingRow, sizing, sizing_rows};
pub use spot::{BackboneWords, Fact, Failing, SpotWords, WayRow, WayWords, spot};
pub use works::{drivers, longest, rebuilt, works};

use crate::connection::{Check, ConnectionKind};
use crate::finding::{Code, Severity};
use crate::place::Place;
use crate::project::Direction;
use crate::study::{Headline, OptionKind, OptionResult, SlabResult, Study};
use crate::units::{Dimension, System, grouped, number, show};
use crate::verdict::DirectionCapacity;

/// What the comparison of options shows.
pub fn options(study: &Study) -> String {
    let mut text = Vec::new();
    text.extend(study.options.iter().find(|option| option.kind == OptionKind::AsItStands).and_then(as_it_stands));
    let schemes: Vec<&OptionResult> =
        study.options.iter().filter(|option| matches!(option.kind, OptionKind::Scheme { .. })).collect();
    text.extend(who_reaches(&schemes));
    let standing = study.options.iter().find(|option| option.kind == OptionKind::AsItStands);
    text.extend(strength_is_not_safety(standing, &schemes));
    text.extend(force_is_not_movement(standing, &schemes));
    text.extend(what_it_costs(&schemes));
    text.extend(what_stops_them(&schemes));
    text.join(" ")
}

/// Where the building itself stands.
fn as_it_stands(option: &OptionResult) -> Option<String> {
    let headline = option.capacity_to_demand?;
    let capacity = weaker(option, headline)?;
    let (way, _) = way(headline);
    let what = capacity
        .limits
        .first()
        .map_or_else(String::new, |limit| limit_in_words(&limit.reached, &capacity.governing().curve.end));
    Some(if headline.ratio >= 1.0 {
        format!(
            "As it stands, the building could bear {} times the ground motion for this objective; {way} is its weaker direction, \
             where {what}.",
            grouped(headline.ratio, 2)
        )
    } else {
        format!("As it stands, the building bears {} of the ground motion {way}: {what}.", percent(headline.ratio))
    })
}

/// The direction of a headline in words.
fn way(headline: Headline) -> (&'static str, Direction) {
    let direction = if headline.along_x { Direction::X } else { Direction::Y };
    (direction.label(), direction)
}

/// Capacity in the direction of a headline.
fn weaker(option: &OptionResult, headline: Headline) -> Option<&DirectionCapacity> {
    option.directions.iter().find(|result| result.along_x == headline.along_x)?.capacity.as_ref()
}

/// Which schemes bear the ground motion and which fall short.
fn who_reaches(schemes: &[&OptionResult]) -> Option<String> {
    let judged: Vec<(&OptionResult, f64)> = schemes
        .iter()
        .filter_map(|option| option.capacity_to_demand.map(|headline| (*option, headline.ratio)))
        .collect();
    let (bear, short): (Vec<_>, Vec<_>) = judged.iter().partition(|(_, ratio)| *ratio >= 1.0);
    let best = judged.iter().fold(None, |best: Option<(&OptionResult, f64)>, next| match best {
        Some(best) if best.1 >= next.1 => Some(best),
        _ => Some(*next),
    })?;
    Some(if bear.is_empty() {
        let subject = if judged.len() == 1 {
            format!("{} bears", named(&[best.0]))
        } else {
            format!("No scheme bears the whole ground motion; {} comes closest with", best.0.letter)
        };
        format!("{subject} {} of it.", percent(best.1))
    } else {
        let those: Vec<&OptionResult> = bear.iter().map(|(option, _)| *option).collect();
        let verb = if those.len() == 1 { "bears" } else { "bear" };
        let most = if judged.len() > 1 {
            format!(", {} the most at {} times", best.0.letter, grouped(best.1, 2))
        } else {
            format!(", up to {} times", grouped(best.1, 2))
        };
        let rest = match short.as_slice() {
            [] => String::new(),
            [(option, ratio)] => format!("; {} only {} of it", option.letter, percent(*ratio)),
            many => {
                let options: Vec<&OptionResult> = many.iter().map(|(option, _)| *option).collect();
                format!("; {} do not", letters(&options))
            }
        };
        format!("{} {verb} it{most}{rest}.", named(&those))
    })
}

/// Schemes that are stronger than the building as it stands and yet bear less, and the other way
/// round.
fn strength_is_not_safety(standing: Option<&OptionResult>, schemes: &[&OptionResult]) -> Option<String> {
    let before = standing?.capacity_to_demand?.ratio;
    let those: Vec<&OptionResult> = schemes
        .iter()
        .filter(|option| {
            let stronger = option.strength_gain.is_some_and(|gain| gain.ratio > 1.05);
            stronger && option.capacity_to_demand.is_some_and(|headline| headline.ratio < before)
        })
        .copied()
        .collect();
    let softer: Vec<&OptionResult> = schemes
        .iter()
        .filter(|option| {
            let weaker = option.strength_gain.is_some_and(|gain| gain.ratio < 0.95);
            weaker && option.capacity_to_demand.is_some_and(|headline| headline.ratio > 1.05 * before)
        })
        .copied()
        .collect();
    let mut parts = Vec::new();
    if !softer.is_empty() {
        let gives = if softer.len() == 1 { "gives" } else { "give" };
        let bears = if softer.len() == 1 { "bears" } else { "bear" };
        parts.push(format!("{} {gives} up strength and yet {bears} more, since less breaks early.", named(&softer)));
    }
    if those.is_empty() {
        return parts.pop();
    }
    let verb = if those.len() == 1 { "is" } else { "are" };
    let bear = if those.len() == 1 { "bears" } else { "bear" };
    parts.push(format!(
        "{} {verb} stronger than the building as it stands and yet {bear} less shaking: strength bought with brittle \
         or overstrained parts is not safety.",
        named(&those)
    ));
    Some(parts.join(" "))
}

/// Schemes that take less of the elastic force than the building as it stands and yet bear more shaking.
fn force_is_not_movement(standing: Option<&OptionResult>, schemes: &[&OptionResult]) -> Option<String> {
    let (force, shaking) = (standing?.strength_to_demand?.ratio, standing?.capacity_to_demand?.ratio);
    let those: Vec<&OptionResult> = schemes
        .iter()
        .filter(|option| {
            option.strength_to_demand.is_some_and(|own| own.ratio < 0.995 * force)
                && option.capacity_to_demand.is_some_and(|own| own.ratio > 1.005 * shaking)
        })
        .copied()
        .collect();
    let (takes, bears, it, moves) =
        if those.len() == 1 { ("takes", "bears", "it is", "moves") } else { ("take", "bear", "they are", "move") };
    (!those.is_empty()).then(|| {
        format!(
            "{} {takes} a smaller part of the elastic force than the building as it stands and yet {bears} more \
             shaking: stiffer, {it} asked for more force but {moves} less; and that ratio looks at one storey at a \
             time, where the capacity curve counts columns that hold several together.",
            named(&those)
        )
    })
}

/// What the schemes ask of weight and of the people inside.
fn what_it_costs(schemes: &[&OptionResult]) -> Option<String> {
    let mut parts = Vec::new();
    // Only once every programme is drawn up.
    let days = |option: &OptionResult| match &option.programme {
        Some(own) => Some(f64::from(own.usual().room_days_in_use + own.usual().room_days_in_breaks)),
        None => (!option.programme_pending).then_some(0.0),
    };
    let closed: Option<Vec<(&OptionResult, f64)>> =
        schemes.iter().map(|option| days(option).map(|days| (*option, days))).collect();
    let closed = closed.unwrap_or_default();
    if closed.len() > 1 {
        let open: Vec<&OptionResult> =
            closed.iter().filter(|(_, days)| *days <= 0.0).map(|(option, _)| *option).collect();
        let most = closed.iter().fold(closed[0].1, |most, next| most.max(next.1));
        let least = closed.iter().fold(closed[0].1, |least, next| least.min(next.1));
        // Room-days are shown whole: what looks the same counts as a tie.
        let near = |days: f64| -> Vec<&OptionResult> {
            closed.iter().filter(|(_, own)| (own - days).abs() < 0.5).map(|(option, _)| *option).collect()
        };
        let (longest, shortest) = (near(most), near(least));
        if most - least >= 0.5 {
            let verb = if open.len() == 1 { "keeps" } else { "keep" };
            parts.push(if open.is_empty() {
                let verb = if shortest.len() == 1 { "closes" } else { "close" };
                format!(
                    "{} {verb} rooms for the shortest time and {} for the longest",
                    letters(&shortest),
                    letters(&longest)
                )
            } else {
                let closing = if longest.len() == 1 { "closes" } else { "close" };
                format!(
                    "{} {verb} every room open, while {} {closing} them for longest",
                    letters(&open),
                    letters(&longest)
                )
            });
        }
    }
    if schemes.len() > 1
        && let Some(heavy) = schemes.iter().max_by(|a, b| a.added.weight_share.total_cmp(&b.added.weight_share))
        && heavy.added.weight_share >= 0.02
    {
        parts.push(format!(
            "{} adds most weight, {} of the seismic weight",
            heavy.letter,
            percent(heavy.added.weight_share)
        ));
    }
    (!parts.is_empty()).then(|| format!("{}.", capitalised(&parts.join("; "))))
}

/// What keeps schemes from working as meant.
fn what_stops_them(schemes: &[&OptionResult]) -> Option<String> {
    let mut parts = Vec::new();
    let with = |test: &dyn Fn(&OptionResult) -> bool| -> Vec<&OptionResult> {
        schemes.iter().filter(|option| test(option)).copied().collect()
    };
    let weak =
        |option: &OptionResult, slab: &SlabResult| slab.utilisation > 1.0 || overused_beyond(option, slab).is_some();
    let slab = with(&|option| option.slabs.iter().any(|slab| weak(option, slab)));
    if !slab.is_empty() {
        parts.push(format!("the connecting slab of {} cannot carry its force as drawn", letters(&slab)));
    }
    let brittle = with(&|option| {
        option.capacity_to_demand.is_some_and(|headline| headline.ratio < 1.0)
            && option.weakest.as_ref().is_some_and(|weakest| weakest.failure.is_brittle())
    });
    if !brittle.is_empty() {
        parts.push(format!("the weakest storey of {} still gives way without warning", letters(&brittle)));
    }
    let moved = with(&|option| has(option, Code::WeakStoreyMoved));
    if !moved.is_empty() {
        let verb = if moved.len() == 1 { "moves" } else { "move" };
        parts.push(format!("{} {verb} the weak storey elsewhere", letters(&moved)));
    }
    let turned = with(&|option| has(option, Code::FarSideWorse));
    if !turned.is_empty() {
        let verb = if turned.len() == 1 { "makes" } else { "make" };
        parts.push(format!("{} {verb} a line on the far side carry more than before", letters(&turned)));
    }
    let withheld = with(&|option| {
        option.capacity_to_demand.is_none()
            || option
                .findings
                .iter()
                .any(|finding| finding.severity == Severity::Trouble && !matches!(finding.code, Code::SlabShort))
    });
    if !withheld.is_empty() {
        parts.push(format!("read the troubles listed under {} before its figures", letters(&withheld)));
    }
    (!parts.is_empty()).then(|| format!("Watch for this: {}.", parts.join("; ")))
}

/// The part of a connecting slab's force path, beyond its joint and strip, that is asked for more than it carries and is
/// used more than they are.
pub fn overused_beyond<'a>(option: &'a OptionResult, slab: &SlabResult) -> Option<&'a Check> {
    let place = Place::Slab { face: slab.face.clone(), level: slab.level };
    let whole =
        option.connections.iter().find(|own| own.kind == ConnectionKind::ConnectingSlab && own.place == place)?;
    whole.governing().filter(|check| check.utilisation > slab.utilisation.max(1.0))
}

/// Why strength over elastic demand is less than as it stands: how many times the force asked of the storey that sets it
/// and its strength are what they were. `None` where it is not less.
pub fn strength_lost(option: &OptionResult, standing: &OptionResult) -> Option<String> {
    let headline = option.strength_to_demand?;
    let before = standing.strength_to_demand.filter(|before| headline.ratio < 0.995 * before.ratio)?;
    let storey = |option: &OptionResult| {
        let result = option.directions.iter().find(|result| result.along_x == headline.along_x)?;
        let storey = result.storeys.get(headline.storey as usize - 1)?;
        Some([storey.shear_kn, storey.strength_kn])
    };
    let [[asked, strength], [asked_before, strength_before]] = [storey(option)?, storey(standing)?];
    let ratio = |value: f64| number(value, Dimension::Number, System::Si);
    Some(format!(
        "as it stands {}; here {}\u{202f}× the elastic force, {}\u{202f}× the strength",
        ratio(before.ratio),
        ratio(asked / asked_before),
        ratio(strength / strength_before)
    ))
}

fn has(option: &OptionResult, code: Code) -> bool {
    option.findings.iter().any(|finding| finding.code == code)
}

/// "Scheme A" or "Schemes A, B and C".
fn named(options: &[&OptionResult]) -> String {
    format!("{} {}", if options.len() == 1 { "Scheme" } else { "Schemes" }, letters(options))
}

fn letters(options: &[&OptionResult]) -> String {
    let letters: Vec<&str> = options.iter().map(|option| option.letter.as_str()).collect();
    list(&letters)
}

/// Words joined by commas and a last "and".
fn list<T: AsRef<str>>(words: &[T]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn percent(share: f64) -> String {
    show(share, Dimension::Share, System::Si)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Finding;
    use crate::study::{
        Added, DirectionResult, Failure, ForceBound, Headline, LineResult, Programmed, StoreyResult, Weakest,
    };
    use crate::works::programme::Figures;

    fn scheme(index: usize, ratio: f64) -> OptionResult {
        OptionResult {
            kind: OptionKind::Scheme { index },
            letter: char::from(b'A' + index as u8).to_string(),
            name: String::new(),
            measures: Vec::new(),
            pending: false,
            directions: Vec::new(),
            strength_gain: Some(Headline { ratio: 1.5, along_x: false, storey: 1 }),
            strength_to_demand: None,
            ductility_needed: None,
            capacity_to_demand: Some(Headline { ratio, along_x: true, storey: 1 }),
            weakest: Some(Weakest { along_x: false, storey: 1, failure: Failure::Flexure, first: None }),
            added: Added::default(),
            works: None,
            programme: None,
            programme_pending: false,
            slabs: Vec::new(),
            connections: Vec::new(),
            findings: Vec::new(),
        }
    }

    fn as_is(ratio: f64) -> OptionResult {
        let mut option = scheme(0, ratio);
        option.kind = OptionKind::AsItStands;
        option.letter = String::new();
        let mut result = along_x(Vec::new(), None);
        result.capacity = Some(capacity::tests::capacity(ratio));
        option.directions = vec![result];
        option
    }

    fn study(options: Vec<OptionResult>) -> Study {
        Study {
            project: "Test".to_owned(),
            rules: String::new(),
            ground_motion: String::new(),
            weight_kn: 1000.0,
            floor_area_m2: 100.0,
            storeys: Vec::new(),
            options,
            cautions: Vec::new(),
        }
    }

    fn slab(level: u32, elastic: f64, demand: f64, friction: f64, strip: f64) -> SlabResult {
        SlabResult {
            face: "A".to_owned(),
            along_x: true,
            level,
            stiffness_kn_m: 1e6,
            elastic_force_kn: elastic,
            shear_above_kn: 0.0,
            shear_below_kn: elastic,
            own_inertia_kn: 0.0,
            demand_kn: demand,
            bound: ForceBound::ElasticSpectrum,
            friction_kn: friction,
            friction_capped: false,
            peak: 1.0,
            bar_stress_mpa: 300.0,
            anchorage_limited: false,
            strip_kn: strip,
            strip_capped: false,
            strength_kn: friction.min(strip),
            friction_governs: friction <= strip,
            phi: [0.75, 0.6],
            moment_kn_m: 0.0,
            chord_kn: 0.0,
            tension_kn: 0.0,
            utilisation: demand / friction.min(strip),
        }
    }

    fn storey(number: u32, classes: [f64; 3]) -> StoreyResult {
        let shear: f64 = classes.iter().sum();
        StoreyResult {
            storey: number,
            floor_force_kn: 0.0,
            shear_kn: shear,
            class_shear_kn: classes,
            drift_mm: 14.0 / f64::from(number),
            drift_ratio: 0.004 / f64::from(number),
            stiffness_kn_m: 1.0,
            strength_kn: 1.0,
            strength_drift_mm: 1.0,
            ratio: 1.0,
            failure: Failure::Flexure,
            lost: Vec::new(),
            p_delta: 0.0,
            eccentricity_m: None,
            sway: None,
            floor: crate::study::FloorMove::default(),
            members: Vec::new(),
        }
    }

    fn along_x(storeys: Vec<StoreyResult>, external: Option<Vec<f64>>) -> DirectionResult {
        DirectionResult {
            along_x: true,
            period_s: 0.5,
            effective_mass: 0.9,
            acceleration_g: 0.6,
            weight_kn: 1000.0,
            base_shear_kn: 600.0,
            strength_kn: 300.0,
            strength_storey: 1,
            eccentricity_m: 0.0,
            eccentricity_share: 0.0,
            capacity: None,
            roof_stiffness_kn_m: [1.0; 2],
            storeys,
            lines: external
                .map(|shear_kn| LineResult {
                    name: "A′".to_owned(),
                    external: true,
                    ordinate_m: 0.0,
                    shear_with_accidental_kn: shear_kn.clone(),
                    shear_kn,
                    drift_mm: Vec::new(),
                })
                .into_iter()
                .collect(),
            beams: Vec::new(),
        }
    }

    #[test]
    fn says_how_much_the_building_can_bear_and_what_decides() {
        let text = options(&study(vec![as_is(0.416)]));
        assert_eq!(
            text,
            "As it stands, the building bears 42\u{a0}% of the ground motion along x: column B-2, storey 1 can no \
             longer hold up its load (columns shear)."
        );
        let text = options(&study(vec![as_is(1.2)]));
        assert!(text.starts_with("As it stands, the building could bear 1.20 times the ground motion"), "{text}");
    }

    #[test]
    fn names_who_bears_the_ground_motion_and_who_does_not() {
        let text = options(&study(vec![as_is(0.4), scheme(0, 0.91), scheme(1, 1.07), scheme(2, 1.3)]));
        assert!(text.contains("Schemes B and C bear it, C the most at 1.30 times; A only 91\u{a0}% of it."), "{text}");
        let text = options(&study(vec![as_is(0.4), scheme(0, 0.75), scheme(1, 0.6)]));
        assert!(
            text.contains("No scheme bears the whole ground motion; A comes closest with 75\u{a0}% of it."),
            "{text}"
        );
        let text = options(&study(vec![as_is(0.4), scheme(0, 1.2)]));
        assert!(text.contains("Scheme A bears it, up to 1.20 times."), "{text}");
    }

    #[test]
    fn tells_of_strength_that_is_no_safety() {
        let text = options(&study(vec![as_is(0.8), scheme(0, 0.7), scheme(1, 1.3)]));
        let said = "Scheme A is stronger than the building as it stands and yet bears less shaking";
        assert!(text.contains(said), "{text}");
        let mut freed = scheme(0, 1.1);
        freed.strength_gain = Some(Headline { ratio: 0.8, along_x: true, storey: 1 });
        let text = options(&study(vec![as_is(0.8), freed]));
        assert!(text.contains("Scheme A gives up strength and yet bears more"), "{text}");
    }

    #[test]
    fn tells_of_less_of_the_force_and_more_shaking() {
        let ratio = |mut option: OptionResult, ratio| {
            option.strength_to_demand = Some(Headline { ratio, along_x: true, storey: 1 });
            option
        };
        let said =
            "Scheme A takes a smaller part of the elastic force than the building as it stands and yet bears more";
        let text = options(&study(vec![ratio(as_is(0.8), 0.6), ratio(scheme(0, 1.2), 0.4)]));
        assert!(text.contains(said), "{text}");
        for (force, shaking) in [(0.7, 1.2), (0.4, 0.7)] {
            let text = options(&study(vec![ratio(as_is(0.8), 0.6), ratio(scheme(0, shaking), force)]));
            assert!(!text.contains("smaller part of the elastic force"), "{text}");
        }
    }

    fn programmed(room_days_in_use: u32) -> Programmed {
        let own = Figures { room_days_in_use, ..Figures::default() };
        Programmed { paces: [own.clone(), own.clone(), own], spilled: [0; 3] }
    }

    #[test]
    fn weighs_closed_rooms_against_added_weight() {
        let mut jackets = scheme(0, 1.1);
        jackets.programme = Some(programmed(120));
        let mut frame = scheme(1, 1.2);
        frame.added.weight_share = 0.085;
        let text = options(&study(vec![as_is(0.4), jackets, frame]));
        assert!(text.contains("B keeps every room open, while A closes them for longest; B adds most weight, 8.5\u{a0}% of the seismic weight."), "{text}");
    }

    #[test]
    fn warns_of_slabs_brittle_storeys_and_far_lines() {
        let mut frame = scheme(0, 1.2);
        frame.slabs = vec![slab(1, 100.0, 500.0, 400.0, 450.0)];
        frame.findings = vec![Finding::new(Code::FarSideWorse, Place::Building, "C")];
        let mut jackets = scheme(1, 0.8);
        jackets.weakest = Some(Weakest { along_x: true, storey: 3, failure: Failure::Joint, first: None });
        jackets.findings = vec![Finding::new(Code::WeakStoreyMoved, Place::Building, "3")];
        let text = options(&study(vec![as_is(0.4), frame, jackets]));
        assert!(
            text.contains(
                "Watch for this: the connecting slab of A cannot carry its force as drawn; the weakest storey of B \
                 still gives way without warning; B moves the weak storey elsewhere; A makes a line on the far side \
                 carry more than before."
            ),
            "{text}"
        );
    }

    #[test]
    fn the_building_is_read_as_it_stands_and_says_so_beside_a_scheme() {
        let study = study(vec![as_is(0.4), scheme(0, 1.2)]);
        let [alone, beside] = [0, 1].map(|place| building(&study, &study.options[place], System::Si));
        assert_eq!(beside, format!("This is the building as it stands, without scheme A. {alone}"));
    }

    #[test]
    fn follows_the_load_into_the_frame_and_across_the_slabs() {
        let mut option = scheme(0, 1.2);
        option.directions = vec![along_x(vec![storey(1, [228.0, 0.0, 372.0])], Some(vec![372.0]))];
        option.slabs = vec![slab(1, 120.0, 160.0, 459.0, 529.0), slab(2, 250.0, 340.0, 405.0, 379.0)];
        let text = load_path(&option, Direction::X, System::Si);
        assert!(
            text.starts_with(
                "Along x, the external frame takes 62\u{a0}% of the base shear and members as built 38\u{a0}%. Of the \
                 connecting slabs, level 2 on line A must pass the most, 340\u{a0}kN; it is used to 0.90 of its design \
                 strength, set by shear of the strip itself. Every member in storey 1 has to follow a drift of \
                 14.0\u{a0}mm, one part in 250."
            ),
            "{text}"
        );
        assert_eq!(load_path(&option, Direction::Y, System::Si), "");
    }

    #[test]
    fn says_why_a_slab_is_checked_for_less_than_the_stream_shows() {
        let mut option = scheme(0, 1.2);
        option.directions = vec![along_x(vec![storey(1, [228.0, 0.0, 372.0])], Some(vec![372.0]))];
        let mut roof = slab(4, -900.0, 640.0, 800.0, 900.0);
        roof.bound = ForceBound::FootingUplift;
        // A bound that leaves more than the elastic force takes nothing off.
        let mut floor = slab(1, 120.0, 160.0, 459.0, 529.0);
        floor.bound = ForceBound::FootingUplift;
        option.slabs = vec![floor, roof.clone()];
        let text = load_path(&option, Direction::X, System::Si);
        let said = "The slab of level 4 on line A is checked for less than the elastic force drawn: its frame's \
                    footings lift before they can hold it back.";
        assert!(text.contains(said), "{text}");
        roof.bound = ForceBound::FrameMechanism;
        let mut other = roof.clone();
        other.face = "C".to_owned();
        option.slabs = vec![roof, other];
        let text = load_path(&option, Direction::X, System::Si);
        let said = "Each slab of level 4 on line A and level 4 on line C is checked for less than the elastic force \
                    drawn: its frame yields before it can take it.";
        assert!(text.contains(said), "{text}");
        option.slabs = vec![slab(4, 640.0, 640.0, 800.0, 900.0)];
        assert!(!load_path(&option, Direction::X, System::Si).contains("less than the elastic"));
    }

    #[test]
    fn names_all_that_close_rooms_as_long() {
        let with = |index: usize, days: u32| {
            let mut own = scheme(index, 1.1);
            own.programme = Some(programmed(days));
            own
        };
        let text = options(&study(vec![as_is(0.4), with(0, 449), with(1, 63), with(2, 63)]));
        assert!(text.contains("B and C close rooms for the shortest time and A for the longest."), "{text}");
        let text = options(&study(vec![as_is(0.4), with(0, 63), with(1, 63)]));
        assert!(!text.contains("close rooms"), "{text}");
        let text = options(&study(vec![as_is(0.4), with(0, 0), with(1, 63), with(2, 63)]));
        assert!(text.contains("A keeps every room open, while B and C close them for longest."), "{text}");
    }

    #[test]
    fn tells_when_the_frame_or_a_class_pushes_back() {
        let mut option = scheme(0, 1.2);
        option.directions = vec![along_x(vec![storey(1, [50.0, 0.0, 50.0]), storey(2, [60.0, 0.0, -10.0])], None)];
        let text = load_path(&option, Direction::X, System::Si);
        assert!(text.contains("new walls take 50\u{a0}%"), "{text}");
        assert!(text.contains("In storey 2 the new part pushes back: its share is negative."), "{text}");
        option.slabs = vec![slab(2, -12.0, 30.0, 100.0, 90.0)];
        let text = load_path(&option, Direction::X, System::Si);
        assert!(text.contains("At level 2 the frame pushes back into the building."), "{text}");
        let mut other = slab(2, -12.0, 30.0, 100.0, 90.0);
        other.face = "C".to_owned();
        option.slabs.push(other);
        let text = load_path(&option, Direction::X, System::Si);
        assert!(text.contains("At level 2 the frames push back into the building."), "{text}");
    }

    #[test]
    fn a_line_made_worse_is_told_in_its_own_direction_only() {
        let mut option = scheme(0, 1.2);
        let mut result = along_x(vec![storey(1, [50.0, 0.0, 50.0])], Some(vec![50.0]));
        result.lines[0].name = "C".to_owned();
        option.directions = vec![result];
        let worse = |line: &str| {
            Finding::new(Code::FarSideWorse, Place::Line { line: line.to_owned() }, format!("{line} in storey 1"))
        };
        option.findings = vec![worse("C"), worse("1")];
        let text = load_path(&option, Direction::X, System::Si);
        assert!(text.contains("More shear than in the building as it stands: line C in storey 1."), "{text}");
        assert!(!text.contains("line 1"), "{text}");
    }
}
