//! Rates and assumptions of the works on the bench.

use serde_json::{Value, json};
use sisterframe_app::store::{
    Command, Document, Due, List, Origin, Root, RowEdit, Slot, State, cell_slot, cell_text, cell_value_of, demos, due,
    rate_note, rate_unit,
};
use sisterframe_core::units::System;

fn rows(document: &mut Document, list: List, edit: RowEdit) -> Result<(), String> {
    document.apply(&Command::Rows { list, edit }).map(drop).map_err(|error| error.to_string())
}

#[test]
fn rates_are_kept_only_where_they_differ_and_emptied_cells_return_to_the_table() {
    let mut document = Document::new(State { project: demos()[0].project.clone(), origin: Origin::Own });
    let before = document.state().clone();
    let list = List::Rates;
    let columns = list.columns();
    let place = |keys: &str| columns.iter().position(|column| column.keys == keys).expect("a column");
    let row_of = |document: &Document, code: &str| {
        let rows = list.rows(document.project());
        let place = rows.iter().position(|row| row["activity"] == code).expect("an activity");
        (place, rows[place].clone())
    };
    let (row, table) = row_of(&document, "POUR_WALL");
    assert_eq!((&table["slow"], &table["usual"], &table["fast"]), (&json!(4.0), &json!(8.0), &json!(16.0)));
    let type_in = |document: &mut Document, keys: &str, text: &str| {
        let column = list.in_row(&columns[place(keys)], list.rows(document.project()).get(row)).into_owned();
        let value = cell_value_of(document.project(), list, &column, text, System::Si);
        document.enter(&cell_slot(list, row, keys), text, value)
    };
    assert!(type_in(&mut document, "usual", "10"));
    let own = document.project().works.clone().expect("kept");
    assert_eq!(own.rates.len(), 1);
    assert_eq!((own.rates[0].slow, own.rates[0].usual, own.rates[0].fast, own.rates[0].crew), (4.0, 10.0, 16.0, 4.0));
    let (_, changed) = row_of(&document, "POUR_WALL");
    assert_eq!(changed["mark"], "your own");
    assert_eq!(rate_note(&changed, System::Si), "table: 4, 8, 16; crew 4");

    // Out of order it stays in its cell; the next good entry lets it in.
    assert!(!type_in(&mut document, "slow", "12"));
    let (slot, draft) = document.drafts().iter().next().expect("a draft");
    assert_eq!(slot, &cell_slot(list, row, "slow"));
    assert!(draft.error.problem.to_string().contains("the usual value is below the slow one"), "{:?}", draft.error);
    assert!(type_in(&mut document, "usual", "14"), "12, 14, 16 is in order");
    assert!(document.drafts().is_empty());
    assert_eq!(row_of(&document, "POUR_WALL").1["slow"], 12.0);

    // A range is told in the unit of the activity.
    assert!(!type_in(&mut document, "fast", "99999"));
    assert_eq!(document.drafts()[&cell_slot(list, row, "fast")].error.permitted.to_string(), "0.001 to 10000 m³");
    document.forget_draft(&cell_slot(list, row, "fast"));

    for keys in ["slow", "usual"] {
        type_in(&mut document, keys, "");
    }
    assert_eq!(document.project().works, None, "as in the table is not kept");
    assert_eq!(document.project(), &before.project);
    for edit in [
        RowEdit::Add { at: 3 },
        RowEdit::Duplicate { first: 2, count: 1 },
        RowEdit::Delete { first: 0, count: 1 },
        RowEdit::Move { from: 0, to: 4 },
    ] {
        assert!(rows(&mut document, list, edit).is_err(), "its rows are those of the table");
    }
    // All back at once leaves no entry behind, and is one step.
    assert!(type_in(&mut document, "usual", "10") && !type_in(&mut document, "slow", "12"));
    let slot = Slot::new(Root::Project, "works");
    document.apply(&Command::Set { slot, value: Value::Null }).expect("the table is in order");
    assert!(document.drafts().is_empty() && document.project().works.is_none());
    document.undo();
    assert!(document.project().works.is_some());
    while document.undo().is_some() {}
    assert_eq!(document.state(), &before);
}

#[test]
fn rates_are_shown_in_the_units_of_their_activities() {
    let project = &demos()[0].project;
    let rows = List::Rates.rows(project);
    let columns = List::Rates.columns();
    let usual = columns.iter().find(|column| column.keys == "usual").expect("a column");
    let shown = |code: &str, system: System| {
        let row = rows.iter().find(|row| row["activity"] == code).expect("an activity");
        let column = List::Rates.in_row(usual, Some(row));
        (cell_text(&column, row.get("usual"), system), rate_unit(row, system))
    };
    // 8 m³ are 10.46 yd³, 100 m² 1 076 ft², 0.3 t 0.331 short tons (NIST SP 811).
    assert_eq!(shown("POUR_WALL", System::Si), ("8".to_owned(), "m³".to_owned()));
    let (yards, unit) = shown("POUR_WALL", System::Us);
    assert!((yards.parse::<f64>().expect("a number") - 10.463_6).abs() < 1e-3 && unit == "yd³", "{yards} {unit}");
    let (feet, unit) = shown("PREP_PROT", System::Us);
    assert!((feet.parse::<f64>().expect("a number") - 1_076.39).abs() < 0.01 && unit == "ft²", "{feet} {unit}");
    assert_eq!(shown("DRILL", System::Us), ("60".to_owned(), "bar".to_owned()));
}

#[test]
fn assumptions_of_the_works_are_kept_only_where_they_differ() {
    let mut document = Document::new(State { project: demos()[0].project.clone(), origin: Origin::Own });
    let slot = |key: &str| Slot::new(Root::Works, key);
    let held = |document: &Document, key: &str| slot(key).read(document.project()).and_then(|value| value.as_f64());
    assert_eq!(held(&document, "labour_mid"), Some(0.4));
    assert!(document.enter(&slot("labour_mid"), "45", Ok(json!(0.45))));
    assert_eq!(held(&document, "labour_mid"), Some(0.45));
    assert_eq!(document.project().works.as_ref().map(|own| own.labour_mid), Some(Some(0.45)));
    assert!(!document.enter(&slot("labour_high"), "40", Ok(json!(0.4))), "below the usual one");
    assert!(document.enter(&slot("labour_mid"), "40", Ok(json!(0.4))), "as in the table");
    assert_eq!(document.project().works, None);
    assert!(document.enter(&slot("days_per_month"), "20", Ok(json!(20))));
    assert!(document.enter(&slot("days_per_month"), "", Ok(Value::Null)), "emptied, it is the table's");
    assert_eq!((document.project().works.clone(), held(&document, "days_per_month")), (None, Some(21.0)));
}

#[test]
fn a_rate_of_one_s_own_renews_the_works_and_nothing_else() {
    let project = demos()[0].project.clone();
    let mut other = (*project).clone();
    Slot::new(Root::Works, "new_build_per_m2").write(&mut other, &json!(7)).expect("in range");
    assert_eq!(due(&project, &other), Due::Works);
    other.schemes[0].measures.clear();
    assert_eq!(due(&project, &other), Due::All);
}
