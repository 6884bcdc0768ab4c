//! The page's state: commands, history, refused entries, what is kept between visits.

use proptest::prelude::*;
use serde_json::{Value, json};
use sisterframe_app::store::{
    Choice, Command, Document, Due, Origin, Root, Selection, Shelf, Slot, State, demos, due, file_name, parse,
    read_demos, starting_value,
};
use sisterframe_core::fitting::{Reach, Spot, fits};
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Control, Direction, Field, FieldError, Footing, Measure, Project, Record};
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::System;
use std::sync::Arc;

fn demo(key: &str) -> State {
    let demo = demos().iter().find(|demo| demo.key == key).expect("a demo of this key");
    State { project: demo.project.clone(), origin: Origin::Demo(key.to_owned()) }
}

fn school() -> Document {
    Document::new(demo("school"))
}

/// The first measure of a kind: its root.
fn first(project: &Project, kind: &str) -> Root {
    let of_kind = |measure: &Measure| measure.kind() == kind;
    let (scheme, place) = project
        .schemes
        .iter()
        .enumerate()
        .find_map(|(index, scheme)| Some((index, scheme.measures.iter().position(of_kind)?)))
        .expect("a measure of this kind");
    Root::Measure(scheme, place)
}

fn refusal(problem: &str) -> FieldError {
    FieldError { path: String::new(), value: String::new(), problem: problem.into(), permitted: Phrase::default() }
}

#[test]
fn every_demo_is_valid() {
    let demos = read_demos().expect("valid demos");
    assert_eq!(demos.len(), 4);
}

#[test]
fn every_kind_of_measure_can_be_added_to_every_demo_until_no_place_is_left() {
    for (demo, system) in demos().iter().flat_map(|demo| [(demo, System::Si), (demo, System::Us)]) {
        for (kind, _) in Measure::KINDS {
            let mut document = Document::new(State { project: demo.project.clone(), origin: Origin::Own });
            document.apply(&Command::AddScheme).expect("room for a scheme");
            let scheme = document.project().schemes.len() - 1;
            let add = Command::AddMeasure { scheme, kind: (*kind).to_owned(), system };
            document.apply(&add).unwrap_or_else(|error| panic!("{} in {}: {error}", kind, demo.key));
            let mut added = 1;
            let refused = loop {
                match document.apply(&add) {
                    Ok(_) => added += 1,
                    Err(error) => break error,
                }
                assert!(added <= 24, "{kind} in {}", demo.key);
            };
            assert_eq!(document.project().schemes[scheme].measures.len(), added);
            assert_round(&document.project().schemes[scheme].measures[0], system);
            assert!(!refused.problem.is_empty(), "{kind}");
        }
    }
}

/// Whether the numbers of a measure are those its sliders stop at in the units shown.
fn assert_round(measure: &Measure, system: System) {
    let footing = measure.get("footing").unwrap_or(Value::Null);
    let of_footing = Footing::FIELDS.iter().filter_map(|field| Some((field, footing.get(field.key)?.clone())));
    let own = measure.fields().iter().filter_map(|field| Some((field, measure.get(field.key)?)));
    for (field, value) in own.chain(of_footing).filter(|(field, _)| field.control == Control::Number) {
        let value = value.as_f64().expect("a number");
        let near = field.spec.near(value, system);
        assert!((near - value).abs() < 1e-9 * near.abs().max(1.0), "{}: {value}, not {near}", field.key);
    }
}

#[test]
fn every_optional_field_can_be_switched_on_and_off() {
    for (demo, system) in demos().iter().zip([System::Si, System::Us].into_iter().cycle()) {
        let mut document = Document::new(State { project: demo.project.clone(), origin: Origin::Own });
        for (kind, _) in Measure::KINDS {
            document.apply(&Command::AddScheme).expect("room for a scheme");
            let scheme = document.project().schemes.len() - 1;
            document.apply(&Command::AddMeasure { scheme, kind: (*kind).to_owned(), system }).expect("a place");
            for slot in optional_slots(document.project(), Root::Measure(scheme, 0)) {
                let value = starting_value(document.project(), &slot, system);
                assert!(document.enter(&slot, "", Ok(Value::Null)), "{} off", slot.path());
                assert_eq!(slot.read(document.project()), None);
                assert!(document.enter(&slot, "", Ok(value)), "{} on: {:?}", slot.path(), document.drafts());
                assert!(slot.read(document.project()).is_some());
            }
        }
    }
}

/// Optional fields, those inside optional records included where the records are given.
fn optional_slots(project: &Project, root: Root) -> Vec<Slot> {
    fn walk(project: &Project, fields: &[Field], slot_of: &dyn Fn(&str) -> Slot, found: &mut Vec<Slot>) {
        for field in fields {
            let slot = slot_of(field.key);
            if let Control::Record(inner) = field.control
                && slot.read(project).is_some()
            {
                walk(project, inner, &|key| slot.within(key), found);
            }
            if field.optional {
                found.push(slot);
            }
        }
    }
    let mut found = Vec::new();
    walk(project, root.fields(project), &|key| Slot::new(root, key), &mut found);
    found
}

#[test]
fn a_refused_entry_stays_as_a_draft_and_leaves_the_project_alone() {
    let mut document = school();
    let before = document.state().clone();
    let slot = Slot::new(first(document.project(), "jacket"), "thickness_mm");
    assert!(!document.enter(&slot, "5000", Ok(json!(5000))));
    assert_eq!(document.state(), &before);
    let draft = &document.drafts()[&slot];
    assert_eq!(draft.text, "5000");
    assert_eq!(draft.error.problem.to_string(), "above the permitted range");
    assert_eq!(draft.error.permitted.to_string(), "60 to 300 mm");
    assert!(draft.error.path.ends_with(".thickness_mm") && draft.error.path.starts_with("schemes["));

    assert!(document.enter(&slot, "150", Ok(json!(150))));
    assert!(document.drafts().is_empty());
    assert_eq!(slot.read(document.project()), Some(json!(150.0)));
}

#[test]
fn what_only_the_whole_project_can_refuse_is_refused_too() {
    let mut document = school();
    let before = document.state().clone();
    let infill = first(document.project(), "infill_wall");
    // The wall's own field accepts any name; the building has no such line.
    let slot = Slot::new(infill, "line");
    assert!(!document.enter(&slot, "Z", Ok(json!("Z"))));
    assert_eq!(document.drafts()[&slot].error.problem.to_string(), "no such grid line");
    assert_eq!(document.state(), &before);
}

#[test]
fn a_drag_is_one_step_and_can_be_called_off() {
    let mut document = school();
    let slot = Slot::new(first(document.project(), "jacket"), "thickness_mm");
    let start = slot.read(document.project());
    document.begin_visit(&slot);
    for value in [110, 120, 130, 140] {
        assert!(document.enter(&slot, "", Ok(json!(value))));
    }
    assert_eq!(document.visit().and_then(|(slot, before)| slot.read(before)), start);
    document.end_visit();
    assert!(document.undo().is_some());
    assert_eq!(slot.read(document.project()), start);
    assert!(document.undo().is_none(), "one step only");

    // Called off, the drag leaves no trace: what was to be redone still can be.
    document.begin_visit(&slot);
    document.enter(&slot, "", Ok(json!(200)));
    document.enter(&slot, "900", Ok(json!(900)));
    assert_eq!(document.drafts().len(), 1);
    document.cancel_visit();
    assert_eq!(slot.read(document.project()), start);
    assert!(document.drafts().is_empty());
    assert!(document.redo().is_some());
    assert_eq!(slot.read(document.project()), Some(json!(140.0)));
}

#[test]
fn a_drag_that_returns_is_no_step() {
    let mut document = school();
    let slot = Slot::new(first(document.project(), "jacket"), "thickness_mm");
    let start = slot.read(document.project()).expect("a thickness");
    document.begin_visit(&slot);
    document.enter(&slot, "", Ok(json!(200)));
    document.enter(&slot, "", Ok(start));
    document.end_visit();
    assert!(document.undo_words().is_none());
}

#[test]
fn schemes_are_added_copied_renamed_moved_and_deleted() {
    let mut document = school();
    let names = |document: &Document| -> Vec<String> {
        document.project().schemes.iter().map(|scheme| scheme.name.clone()).collect()
    };
    let start = names(&document);
    let done = document.apply(&Command::AddScheme).expect("room");
    assert_eq!(done.scheme, Some(start.len()));
    assert_eq!(names(&document).last().map(String::as_str), Some("Scheme 1"));

    let done = document.apply(&Command::DuplicateScheme { scheme: 0 }).expect("room");
    assert_eq!(done.scheme, Some(1));
    assert_eq!(names(&document)[1], format!("{} 1", start[0]));
    assert_eq!(document.project().schemes[1].measures, document.project().schemes[0].measures);

    let name = Slot::new(Root::Scheme(1), "name");
    assert!(document.enter(&name, "Thicker", Ok(json!("Thicker"))));
    assert!(!document.enter(&name, &start[0], Ok(json!(start[0]))), "the name is taken");
    assert_eq!(document.drafts()[&name].error.problem.to_string(), "two schemes have this name");

    document.apply(&Command::MoveScheme { from: 1, to: 3 }).expect("a place");
    assert_eq!(names(&document)[3], "Thicker");
    let moved = Slot::new(Root::Scheme(3), "name");
    assert_eq!(document.drafts().keys().next(), Some(&moved), "the refused entry goes with its scheme");

    document.apply(&Command::DeleteScheme { scheme: 3 }).expect("there");
    assert!(document.drafts().is_empty());
    assert_eq!(names(&document)[..start.len()], start[..]);
    for _ in 0..5 {
        document.undo();
    }
    assert_eq!(names(&document), start);
}

#[test]
fn a_measure_moved_to_a_shorter_line_keeps_to_its_bays() {
    let mut document = school();
    let scheme = document.project().schemes.len();
    document.apply(&Command::AddScheme).expect("room");
    document
        .apply(&Command::AddMeasure { scheme, kind: "external_frame".to_owned(), system: System::Si })
        .expect("a face");
    let slot = |key: &str| Slot::new(Root::Measure(scheme, 0), key);
    let bays = |document: &Document| slot("bays").read(document.project());
    assert_eq!(bays(&document), Some(json!([2, 6])));
    // Lines 1 and 8 cross only three lines: two bays.
    assert!(document.enter(&slot("face"), "1", Ok(json!("1"))), "{:?}", document.drafts());
    assert_eq!(bays(&document), Some(json!([2, 2])));
}

#[test]
fn only_what_changed_is_due() {
    let project = demo("school").project;
    let with = |change: &dyn Fn(&mut Project)| {
        let mut changed = (*project).clone();
        change(&mut changed);
        due(&project, &changed)
    };
    assert_eq!(with(&|_| {}), Due::Nothing);
    assert_eq!(with(&|p| p.schemes[1].name = "Other".to_owned()), Due::Schemes(vec![1]));
    assert_eq!(with(&|p| p.ground_motion.sxs_g = 0.9), Due::All);
    assert_eq!(with(&|p| p.building.materials.concrete_mpa = 20.0), Due::All);
    assert_eq!(with(&|p| drop(p.schemes.pop())), Due::All);
    assert_eq!(with(&|p| p.schemes.swap(0, 2)), Due::Schemes(vec![0, 2]));
}

#[test]
fn entries_are_read_in_the_units_shown() {
    let document = school();
    let field = |key: &str| Slot::new(Root::Motion, key).field(document.project()).expect("a field");
    let si = |key: &str, text: &str| parse(&field(key), text, System::Si);
    assert_eq!(si("damping", "7"), Ok(json!(0.07)));
    assert_eq!(si("sxs_g", " 0,65 "), Ok(json!(0.65)));
    assert_eq!(si("sxs_g", "−1"), Ok(json!(-1.0)));
    for text in ["", "lots", "NaN", "inf", "1e999"] {
        let refused = si("sxs_g", text).expect_err(text);
        assert_eq!(
            (refused.problem.to_string(), refused.permitted.to_string()),
            ("a number is needed here".into(), "0.05 to 3 g".into())
        );
    }
    let gap = Slot::new(first(document.project(), "external_frame"), "slab_mm").field(document.project());
    assert_eq!(parse(&gap.expect("a field"), "8", System::Us), Ok(json!(8.0 * 25.4)));
}

#[test]
fn the_shelf_drops_the_oldest_by_name_and_gives_back_what_it_keeps() {
    let mut shelf = Shelf::default();
    for n in 0..14 {
        let mut project = (*demo("clinic").project).clone();
        project.name = format!("Building {n}");
        let dropped = shelf.put(format!("day {n}"), State { project: Arc::new(project), origin: Origin::Own });
        let expected: Vec<String> = if n < 12 { vec![] } else { vec![format!("Building {}", n - 12)] };
        assert_eq!(dropped, expected);
    }
    let mut back = Shelf::from_text(&shelf.to_text());
    assert_eq!(back, shelf);
    assert_eq!(back.take(0).map(|state| state.project.name.clone()).as_deref(), Some("Building 13"));
    assert_eq!(back.kept.len(), 11);
    assert_eq!(Shelf::from_text("[{\"when\":1}, 7]"), Shelf::default());
    assert_eq!(Shelf::from_text("nonsense"), Shelf::default());
}

#[test]
fn own_work_is_told_from_an_untouched_demo() {
    let mut document = school();
    assert!(!document.state().is_own_work());
    document.apply(&Command::AddScheme).expect("room");
    assert!(document.state().is_own_work());
    document.undo();
    assert!(!document.state().is_own_work());
    document.make_own();
    assert!(document.state().is_own_work());
}

#[test]
fn another_project_can_be_undone() {
    let mut document = school();
    document.apply(&Command::AddScheme).expect("room");
    let mine = document.state().clone();
    let slot = Slot::new(Root::Motion, "sxs_g");
    document.enter(&slot, "x", Err(refusal("a number is needed here")));
    document.apply(&Command::Replace(demo("office"))).expect("valid");
    assert!(document.drafts().is_empty());
    assert_eq!(document.undo().as_deref(), Some("opening Quarry Street Offices"));
    assert_eq!(document.state(), &mine);
}

#[test]
fn a_file_is_named_after_its_project() {
    let mut project = (*demo("school").project).clone();
    assert_eq!(file_name(&project), "harbour-row-school-block-b.sisterframe.json");
    project.name = "École / №5".to_owned();
    assert_eq!(file_name(&project), "école-5.sisterframe.json");
    project.name = "…".to_owned();
    assert_eq!(file_name(&project), "project.sisterframe.json");
}

#[test]
fn the_selection_stays_on_what_the_project_has() {
    let project = demo("clinic").project;
    let selection = Selection::of(&project);
    let framed = selection.scheme().expect("a scheme");
    assert!(project.schemes[framed].measures.iter().any(|measure| measure.kind() == "external_frame"));
    let mut smaller = (*project).clone();
    smaller.schemes.truncate(1);
    let far = Selection { option: OptionKind::Scheme { index: 9 }, floor: Some(40), ..selection };
    let fitted = far.fitted(&smaller);
    assert_eq!((fitted.option, fitted.floor), (OptionKind::Scheme { index: 0 }, None));
    smaller.schemes.clear();
    assert_eq!(far.fitted(&smaller).option, OptionKind::AsItStands);
}

/// A deed on a document, from numbers that any project can serve.
#[derive(Clone, Debug)]
enum Deed {
    Set { root: usize, field: usize, step: i32 },
    Text { root: usize, field: usize, text: String },
    Schemes { kind: usize, one: usize, other: usize },
    AddMeasure { scheme: usize, kind: usize },
    AddAt { scheme: usize, spot: usize, which: usize },
    RemoveMeasure { scheme: usize, place: usize },
    Switch { root: usize, which: usize, on: bool },
    Drag { root: usize, field: usize, steps: Vec<i32>, keep: bool },
    Demo(usize),
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let n = || 0..40usize;
    let deed = prop_oneof![
        4 => (n(), n(), -30..30i32).prop_map(|(root, field, step)| Deed::Set { root, field, step }),
        1 => (n(), n(), "[ -~]{0,6}").prop_map(|(root, field, text)| Deed::Text { root, field, text }),
        2 => (n(), n(), n()).prop_map(|(kind, one, other)| Deed::Schemes { kind, one, other }),
        2 => (n(), n()).prop_map(|(scheme, kind)| Deed::AddMeasure { scheme, kind }),
        1 => (n(), n(), n()).prop_map(|(scheme, spot, which)| Deed::AddAt { scheme, spot, which }),
        1 => (n(), n()).prop_map(|(scheme, place)| Deed::RemoveMeasure { scheme, place }),
        1 => (n(), n(), any::<bool>()).prop_map(|(root, which, on)| Deed::Switch { root, which, on }),
        2 => (n(), n(), prop::collection::vec(-30..30i32, 1..5), any::<bool>())
            .prop_map(|(root, field, steps, keep)| Deed::Drag { root, field, steps, keep }),
        1 => n().prop_map(Deed::Demo),
    ];
    prop::collection::vec(deed, 1..24)
}

fn roots(project: &Project) -> Vec<Root> {
    let mut roots = vec![Root::Project, Root::Motion, Root::Works];
    for (index, scheme) in project.schemes.iter().enumerate() {
        roots.push(Root::Scheme(index));
        roots.extend((0..scheme.measures.len()).map(|place| Root::Measure(index, place)));
    }
    roots
}

fn slot_of(project: &Project, root: usize, field: usize) -> Slot {
    let roots = roots(project);
    let root = roots[root % roots.len()];
    let fields = root.fields(project);
    Slot::new(root, fields[field % fields.len()].key)
}

/// The value some steps away from a field's own, whatever its kind.
fn stepped(project: &Project, slot: &Slot, step: i32) -> Value {
    let field = slot.field(project).expect("a field of the table");
    let own = slot.read(project);
    match (field.control, own) {
        (Control::Number | Control::Whole, Some(own)) => {
            json!(own.as_f64().unwrap_or(0.0) + f64::from(step) * field.spec.step)
        }
        (Control::Flag, Some(own)) => json!(!own.as_bool().unwrap_or(false)),
        (Control::Choice(options), _) => json!(options[step.unsigned_abs() as usize % options.len()].0),
        (Control::Span, _) => json!([1, 1 + step.unsigned_abs() % 4]),
        (_, own) => own.unwrap_or(Value::Null),
    }
}

/// Does a deed; a refusal must leave the state as it was.
fn act(document: &mut Document, deed: &Deed) {
    let project = document.project().clone();
    let before = document.state().clone();
    let count = project.schemes.len();
    let command = |document: &mut Document, command: Command| {
        if document.apply(&command).is_err() {
            assert_eq!(document.state(), &before, "{command:?}");
        }
    };
    match deed {
        Deed::Set { root, field, step } => {
            let slot = slot_of(&project, *root, *field);
            let value = stepped(&project, &slot, *step);
            if !document.enter(&slot, "text", Ok(value)) {
                assert_eq!(document.state(), &before);
                assert!(document.drafts().contains_key(&slot));
            }
        }
        Deed::Text { root, field, text } => {
            let slot = slot_of(&project, *root, *field);
            let field = slot.field(&project).expect("a field of the table");
            document.enter(&slot, text, parse(&field, text, System::Si));
        }
        Deed::Schemes { kind, one, other } if count > 0 => {
            let (scheme, to) = (one % count, other % count);
            let wanted = match kind % 4 {
                0 => Command::AddScheme,
                1 => Command::DuplicateScheme { scheme },
                2 => Command::DeleteScheme { scheme },
                _ => Command::MoveScheme { from: scheme, to },
            };
            command(document, wanted);
        }
        Deed::Schemes { .. } => command(document, Command::AddScheme),
        Deed::AddMeasure { scheme, kind } => {
            let system = if kind % 2 == 0 { System::Si } else { System::Us };
            let kind = Measure::KINDS[kind % Measure::KINDS.len()].0.to_owned();
            command(document, Command::AddMeasure { scheme: scheme % count.max(1), kind, system });
        }
        Deed::AddAt { scheme, spot, which } => {
            // Every fifth goes to a new scheme.
            let scheme = (count > 0 && spot % 5 > 0).then(|| scheme % count.max(1));
            let option = scheme.map_or(OptionKind::AsItStands, |index| OptionKind::Scheme { index });
            let storeys = project.building.storeys.len();
            let system = if spot % 2 == 0 { System::Si } else { System::Us };
            let spot = Spot::Storey { storey: (spot % storeys) as u32 + 1 };
            let all = fits(&project, option, spot, Reach::Here, system);
            let measure = all[which % all.len()].measure.clone();
            command(document, Command::AddAt { scheme, measure });
        }
        Deed::RemoveMeasure { scheme, place } => {
            command(document, Command::RemoveMeasure { scheme: scheme % count.max(1), measure: place % 4 });
        }
        Deed::Switch { root, which, on } => {
            let roots = roots(&project);
            let slots = optional_slots(&project, roots[root % roots.len()]);
            if !slots.is_empty() {
                let slot = &slots[which % slots.len()];
                let value = if *on {
                    starting_value(&project, slot, if which % 2 == 0 { System::Si } else { System::Us })
                } else {
                    Value::Null
                };
                document.enter(slot, "", Ok(value));
            }
        }
        Deed::Drag { root, field, steps, keep } => {
            let slot = slot_of(&project, *root, *field);
            document.begin_visit(&slot);
            for step in steps {
                let value = stepped(&project, &slot, *step);
                document.enter(&slot, "text", Ok(value));
            }
            if *keep {
                document.end_visit();
            } else {
                document.cancel_visit();
                assert_eq!(document.state(), &before);
            }
        }
        Deed::Demo(which) => {
            let demo = &demos()[which % demos().len()];
            let state = State { project: demo.project.clone(), origin: Origin::Demo(demo.key.to_owned()) };
            command(document, Command::Replace(state));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, ..ProptestConfig::default() })]

    #[test]
    fn undo_takes_back_every_command_and_redo_brings_it_again(deeds in deeds()) {
        let mut document = school();
        let start = document.state().clone();
        let mut states = vec![start.clone()];
        for deed in &deeds {
            act(&mut document, deed);
            prop_assert_eq!(document.state().project.check(), Ok(()));
            if document.state() != states.last().expect("never empty") {
                states.push(document.state().clone());
            }
        }
        for earlier in states.iter().rev().skip(1) {
            prop_assert!(document.undo().is_some());
            prop_assert_eq!(document.state(), earlier);
        }
        prop_assert!(document.undo().is_none());
        for later in &states[1..] {
            prop_assert!(document.redo().is_some());
            prop_assert_eq!(document.state(), later);
        }
        prop_assert!(document.redo().is_none());
    }

    #[test]
    fn saved_and_opened_again_a_project_is_the_same(deeds in deeds()) {
        let mut document = school();
        for deed in &deeds {
            act(&mut document, deed);
        }
        let project = document.project();
        prop_assert_eq!(&Project::from_json(&project.to_json()), &Ok((**project).clone()));
        prop_assert_eq!(&State::from_text(&document.state().to_text()), &Some(document.state().clone()));
    }

    #[test]
    fn drafts_belong_to_fields_that_exist(deeds in deeds()) {
        let mut document = school();
        for deed in &deeds {
            act(&mut document, deed);
            for slot in document.drafts().keys() {
                prop_assert!(slot.field(document.project()).is_some(), "{}", slot.path());
            }
        }
    }
}

#[test]
fn a_measure_chosen_on_a_drawing_is_one_step_into_the_scheme_or_a_new_one() {
    for demo in demos() {
        let state = State { project: demo.project.clone(), origin: Origin::Own };
        for option in [OptionKind::AsItStands, OptionKind::Rebuild, OptionKind::Scheme { index: 0 }] {
            let spot = Spot::Column { x: 1, y: 0, storey: 1 };
            let before = demo.project.schemes.clone();
            for fit in fits(&demo.project, option, spot, Reach::AllStoreys, System::Us) {
                let mut document = Document::new(state.clone());
                let scheme = match option {
                    OptionKind::Scheme { index } => Some(index),
                    OptionKind::AsItStands | OptionKind::Rebuild => None,
                };
                let outcome = document.apply(&Command::AddAt { scheme, measure: fit.measure.clone() });
                // One that changes nothing is accepted by the format, but is not offered.
                if let Err(error) = &outcome {
                    let problem = fit.problem.expect("what is offered is accepted").to_string();
                    assert!(problem.starts_with(&error.problem.to_string()), "{problem} / {error}");
                    assert_eq!(document.project().schemes, before);
                    continue;
                }
                let at = outcome.expect("just seen").scheme.expect("a scheme to look at");
                assert_eq!(at, scheme.unwrap_or(before.len()), "{}", demo.key);
                assert_eq!(document.project().schemes[at].measures.last(), Some(&fit.measure));
                assert!(document.undo().is_some_and(|words| words.starts_with(&fit.measure.label().to_lowercase())));
                assert_eq!(document.state(), &state, "one undo takes it all back");
                assert_eq!(document.undo(), None);
                assert!(document.redo().is_some());
                assert_eq!(document.project().schemes[at].measures.last(), Some(&fit.measure));
            }
        }
    }
}

#[test]
fn what_is_pointed_at_follows_the_storey_and_goes_with_its_line() {
    let mut project = (*school().project().clone()).clone();
    let column = Spot::Column { x: 7, y: 2, storey: 3 };
    let selection = Selection::of(&project).chosen(Choice::Spot(Some(column))).fitted(&project);
    assert_eq!((selection.spot, selection.floor, selection.line), (Some(column), Some(3), (Direction::X, 2)));
    // The elevation stays where the column stands on its line anyway.
    let on_line_8 = Selection { line: (Direction::Y, 7), ..selection }.chosen(Choice::Spot(Some(column)));
    assert_eq!(on_line_8.line, (Direction::Y, 7));
    let lower = selection.chosen(Choice::Floor(Some(1)));
    assert_eq!(lower.spot, Some(Spot::Column { x: 7, y: 2, storey: 1 }));
    let bay = Spot::Bay { direction: Direction::Y, line: 4, bay: 2, storey: 2 };
    assert_eq!(lower.chosen(Choice::Spot(Some(bay))).line, (Direction::Y, 4));
    assert_eq!(lower.chosen(Choice::Spot(None)).spot, None);
    project.building.x_lines.truncate(7);
    assert_eq!(selection.fitted(&project).spot, None, "its line is gone");
}
