//! Values typical of a time: taken in one step, noted, and given back.

use serde_json::json;
use sisterframe_app::store::{Command, Document, List, Origin, Root, RowEdit, Slot, State, demos};
use sisterframe_core::eras::{FEATURES, PRACTICES, assumed_in_words};
use sisterframe_core::project::{Feature, Practice};
use sisterframe_core::units::System;

fn state(key: &str) -> State {
    let demo = demos().iter().find(|demo| demo.key == key).expect("a demo of this key");
    State { project: demo.project.clone(), origin: Origin::Demo(key.to_owned()) }
}

fn school() -> Document {
    Document::new(state("school"))
}

/// Every feature typical of a time.
fn typical_of(practice: Practice, year: u32) -> Command {
    Command::TakeTypical { features: FEATURES.to_vec(), practice, year, system: System::Si }
}

#[test]
fn what_was_typical_is_taken_in_one_step_and_given_back_exactly() {
    for practice in PRACTICES {
        for demo in demos() {
            let mut document = Document::new(state(demo.key));
            let before = document.project().clone();
            document.apply(&typical_of(practice, 1958)).unwrap_or_else(|error| panic!("{practice:?}: {error}"));
            assert_ne!(*document.project(), before);
            assert!(!document.project().building.assumed.is_empty());
            document.undo();
            assert_eq!(*document.project(), before, "{practice:?}");
        }
    }
}

#[test]
fn a_value_of_ones_own_ends_what_was_assumed_of_it() {
    let mut document = school();
    document.apply(&typical_of(Practice::Japan, 1965)).expect("taken");
    let noted = |document: &Document, feature: Feature| {
        document.project().building.assumed.iter().any(|own| own.feature == feature)
    };
    // Typed anew, the same value is known.
    let concrete = Slot::new(Root::Building, "materials.concrete_mpa");
    assert!(noted(&document, Feature::Concrete));
    assert!(document.enter(&concrete, "18", Ok(json!(18.0))));
    assert!(!noted(&document, Feature::Concrete) && noted(&document, Feature::Steel));
    let rows = List::ColumnTypes.count(document.project());
    for row in 0..rows {
        assert!(noted(&document, Feature::HoopSpacing), "type {row} still has the value taken");
        assert!(document.enter(
            &Slot::new(Root::Row(List::ColumnTypes, row), "hoop_spacing_mm"),
            "150",
            Ok(json!(150))
        ));
    }
    assert!(!noted(&document, Feature::HoopSpacing));
    document.undo();
    assert!(noted(&document, Feature::HoopSpacing), "undo brings the note back");
    // A type named anew or copied stays assumed.
    document
        .apply(&Command::Rows { list: List::ColumnTypes, edit: RowEdit::Duplicate { first: 0, count: 1 } })
        .expect("copied");
    let words = assumed_in_words(&document.project().building, System::Si).join(" ");
    assert!(words.contains("hooks of hoops 90°;"), "{words}");
}

#[test]
fn an_entry_refused_goes_when_what_was_typical_takes_its_place() {
    let mut document = school();
    let spacing = Slot::new(Root::Row(List::ColumnTypes, 0), "hoop_spacing_mm");
    let top_bars = Slot::new(Root::Row(List::BeamTypes, 0), "top_bars");
    assert!(!document.enter(&spacing, "9", Ok(json!(9))) && !document.enter(&top_bars, "90", Ok(json!(90))));
    document.apply(&typical_of(Practice::Europe, 1965)).expect("taken");
    let left: Vec<&Slot> = document.drafts().keys().collect();
    assert_eq!(left, [&top_bars]);
}
