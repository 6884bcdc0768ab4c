//! What people do with the page: switch projects, edit, undo, open, save, come back.

use std::fs;
use std::thread::sleep;
use std::time::Duration;

use serde_json::Value;
use sisterframe_core::project::{Project, Units};

use crate::page::{Page, View, scratch};
use crate::part::Part;

const SCHOOL: &str = "Harbour Row School, Block B";
const CLINIC: &str = "Tern Lane Clinic";

/// A demo scenario as its file holds it.
fn demo(key: &str) -> Project {
    let path = format!("{}/../demo-scenarios/{key}.json", env!("CARGO_MANIFEST_DIR"));
    Project::from_json(&fs::read_to_string(&path).expect("a demo")).expect("a valid demo")
}

fn name(page: &Page) -> String {
    page.find("textbox", "Project name").value()
}

/// Waits until the last message holds these words.
fn told(page: &Page, role: &str, words: &str) {
    page.until(&format!("{role} says {words:?}"), |page| {
        page.all(role).iter().any(|region| region.text().contains(words))
    });
}

fn take_demo(page: &Page, name: &str) {
    page.find("button", "Projects").click();
    page.find_containing("button", name).click();
    told(page, "status", &format!("{name} is open"));
}

/// Opens the bench at the measures of a scheme.
fn open_measures(page: &Page, scheme: &str) {
    page.find("button", "Measures").click();
    page.until("the bench is open", |page| page.has("button", "Add scheme"));
    // The sheets have buttons of the same names; the bench comes before them.
    first_button(page, scheme).click();
}

/// The first button whose name begins like this.
fn first_button<'p>(page: &'p Page, beginning: &str) -> Part<'p> {
    let buttons = page.all("button").into_iter().find(|part| part.name().starts_with(beginning));
    buttons.unwrap_or_else(|| panic!("no button begins with {beginning:?}"))
}

/// Unfolds the first measure of a kind in the scheme on the bench.
fn unfold(page: &Page, measure: &str) {
    let head = first_button(page, &format!("{measure} "));
    if head.property("expanded") != true {
        head.click();
    }
}

fn scheme_rows(page: &Page) -> Vec<String> {
    let rows = page.script(
        "return [...document.querySelectorAll('#bench li button')].map((row) => row.innerText.replace(/\\s+/g, ' '))",
        &[],
    );
    rows.as_array().into_iter().flatten().filter_map(|row| row.as_str().map(str::to_owned)).collect()
}

/// The page's own text of the project it keeps.
fn kept(page: &Page) -> Option<Project> {
    let kept = page.script("return JSON.parse(localStorage.getItem('sisterframe.project') ?? '{}').state ?? ''", &[]);
    let state: Value = serde_json::from_str(kept.as_str()?).ok()?;
    Project::from_value(&state["project"]).ok()
}

fn thickness(project: &Project, scheme: usize) -> f64 {
    let measures = project.schemes[scheme].measures.iter();
    let own = measures.filter(|measure| measure.kind() == "jacket").find_map(|measure| measure.get("thickness_mm"));
    own.and_then(|value| value.as_f64()).expect("a jacket")
}

#[test]
fn demos_are_switched_and_undo_returns() {
    let page = Page::open(View::DESK);
    assert_eq!(name(&page), SCHOOL);
    take_demo(&page, CLINIC);
    assert_eq!(name(&page), CLINIC);
    assert!(page.text().contains(CLINIC), "the title block follows");
    page.press("ctrl+z");
    told(&page, "status", "Undone: opening Tern Lane Clinic");
    assert_eq!(name(&page), SCHOOL);
    page.press("ctrl+shift+z");
    page.until("the clinic is back", |page| name(page) == CLINIC);
}

#[test]
fn a_changed_demo_is_put_away_and_found_again() {
    let page = Page::open(View::DESK);
    page.find("textbox", "Project name").write("My own school");
    page.press("Enter");
    take_demo(&page, CLINIC);
    page.find("button", "Projects").click();
    page.find_containing("button", "My own school put away").click();
    page.until("the own project is back", |page| name(page) == "My own school");
}

#[test]
fn a_slider_is_moved_by_keys_and_results_follow() {
    let page = Page::open(View::DESK);
    open_measures(&page, "A Jackets");
    unfold(&page, "Column jackets");
    let slider = page.find("slider", "Jacket thickness");
    let outcome = |page: &Page| {
        page.script("return document.querySelector('.outcome').innerText", &[]).as_str().unwrap_or_default().to_owned()
    };
    let before = outcome(&page);
    assert_eq!(slider.value(), "100");
    slider.focus();
    for _ in 0..6 {
        page.press("ArrowRight");
    }
    assert_eq!(slider.value(), "160");
    assert_eq!(slider.attribute("aria-valuetext").as_deref(), Some("160\u{a0}mm"));
    page.until("the outcome changes", |page| outcome(page) != before);
    assert!(page.text().contains("was 100"), "the value before stays in sight");
    page.assert_readable("while a slider is moved");

    page.press("Escape");
    page.until("the outcome is back", |page| outcome(page) == before);
    assert_eq!(slider.value(), "100");
    assert_eq!(page.find("button", "Undo").property("disabled"), true, "called off, it is no step");

    page.press("ArrowRight");
    page.press("ArrowRight");
    page.press("Tab");
    assert_eq!(slider.value(), "120");
    page.press("ctrl+z");
    page.until("both keys are undone in one step", |_| slider.value() == "100");
    page.press("ctrl+shift+z");
    page.until("and redone", |_| slider.value() == "120");

    // A drag by the pointer is one step too.
    slider.drag_to("180");
    slider.drag_to("200");
    slider.set("203.4");
    page.until("it stops at multiples of its step", |_| slider.value() == "200");
    page.press("ctrl+z");
    page.until("the drag is undone in one step", |_| slider.value() == "120");

    for measure in ["sisterframe edit to result", "sisterframe edit to paint"] {
        let ms = page.script(
            "return performance.getEntriesByName(arguments[0]).map((entry) => Math.round(entry.duration))",
            &[measure.into()],
        );
        println!("{measure}, ms: {ms}");
        assert!(ms.as_array().is_some_and(|all| !all.is_empty()));
    }
}

#[test]
fn a_refused_number_stays_in_its_field_with_the_reason() {
    let page = Page::open(View::DESK);
    open_measures(&page, "A Jackets");
    unfold(&page, "Column jackets");
    let field = page.find("textbox", "Jacket thickness in mm");
    field.write("9999");
    page.press("Enter");
    page.until("the reason is told", |page| {
        let field = page.find("textbox", "Jacket thickness in mm");
        field.description().contains("60 to 300 mm") && field.property("invalid") == "true"
    });
    assert_eq!(field.value(), "9999");
    assert!(page.text().contains("One entry on the bench is not accepted"), "the sheet says what it shows");
    page.assert_readable("with a refused entry");
    page.press("Escape");
    page.until("the accepted value is back", |_| field.value() == "100");
    field.write("14x");
    page.press("Tab");
    page.until("words are refused too", |page| {
        page.find("textbox", "Jacket thickness in mm").description().contains("“x” is no unit for this")
    });
    field.write("140");
    page.press("Enter");
    page.until("a good number is taken", |page| !page.text().contains("not accepted"));
    page.until("and kept", |page| kept(page).is_some_and(|project| thickness(&project, 0) == 140.0));
}

#[test]
fn schemes_are_added_copied_renamed_moved_and_deleted() {
    let page = Page::open(View::DESK);
    page.find("button", "Measures").click();
    let start = scheme_rows(&page);
    page.find("button", "Add scheme").click();
    page.until("there is one more", |page| scheme_rows(page).len() == start.len() + 1);
    page.find("textbox", "Name").write("Try out");
    page.press("Enter");
    page.until("it is renamed", |page| scheme_rows(page).last().is_some_and(|row| row.ends_with("Try out")));
    for (_, label) in sisterframe_core::project::Measure::KINDS.iter().filter(|(kind, _)| *kind != "wing_wall") {
        page.find("button", label).click();
    }
    page.until("measures are in it", |page| {
        page.all("button").iter().filter(|part| part.name().starts_with("Take out")).count() == 4
    });
    page.assert_readable("a scheme with every measure");
    size_frame(&page);
    page.find("button", "Duplicate scheme").click();
    page.until("it is copied", |page| scheme_rows(page).last().is_some_and(|row| row.ends_with("Try out 1")));
    for _ in 0..3 {
        page.find("button", "Move scheme up").click();
    }
    let place = start.len() - 2;
    page.until("it is moved", |page| scheme_rows(page)[place].ends_with("Try out 1"));
    page.find("button", "Delete scheme").click();
    told(&page, "status", "Undo brings it back");
    page.until("it is deleted", |page| scheme_rows(page).len() == start.len() + 1);
    page.press("ctrl+z");
    page.until("it is back", |page| scheme_rows(page).len() == start.len() + 2);
}

/// Has sizes proposed for the external frame of the last scheme, takes them and takes them back, by keys.
fn size_frame(page: &Page) {
    let depth = |page: &Page| {
        let schemes = kept(page).expect("a project").schemes;
        let mut measures = schemes.last().expect("a scheme").measures.iter();
        measures.find_map(|own| own.get("beam_depth_mm")).and_then(|value| value.as_f64())
    };
    unfold(page, "External frame");
    let fold =
        page.script("const fold = document.querySelector('.aid'); fold.firstChild.focus(); return fold.open", &[]);
    assert_eq!(fold, false);
    page.press("Enter");
    for place in ["button About proposed sizes of an external frame", "combobox Along the face, at least"] {
        page.press("Tab");
        page.until("it has the focus", |page| page.focused() == place);
    }
    page.press("Tab");
    page.press("ctrl+a");
    page.type_text("120");
    page.press("Enter");
    page.until("a share beyond its range is refused", |page| {
        let field = page.find("textbox", "Share of the base shear");
        field.description().contains("1 to 95") && field.value() == "120"
    });
    page.press("ctrl+a");
    page.type_text("10");
    page.press("Enter");
    page.until("sizes are proposed", |page| page.has("button", "Use these sizes"));
    page.assert_readable("with sizes proposed");
    let before = depth(page);
    page.find("button", "Use these sizes").focus();
    page.press("Enter");
    page.until("they are in use", |page| depth(page) != before && page.focused() == "button Propose sizes");
    page.press("ctrl+z");
    told(page, "status", "Undone: proposed sizes in Try out");
    page.until("they are taken back", |page| depth(page) == before);
}

#[test]
fn a_measure_that_has_no_place_left_says_so() {
    let page = Page::open(View::DESK);
    open_measures(&page, "A Jackets");
    // Line C has no jackets yet; then every column has one.
    page.find("button", "Column jackets").click();
    page.find("button", "Column jackets").click();
    told(&page, "alert", "no place is left for column jackets");
    page.assert_readable("with a refusal");
    page.find("button", "Put this message away").click();
    page.until("it is gone", |page| !page.text().contains("no place is left"));
}

#[test]
fn a_broken_file_leaves_the_project_untouched_and_says_why() {
    let page = Page::open(View::DESK);
    page.find("textbox", "Project name").write("Untouched");
    page.press("Enter");
    page.until("it is kept", |page| kept(page).is_some_and(|project| project.name == "Untouched"));
    let before = kept(&page);

    let path = scratch("broken").with_extension("json");
    let mut file = demo("clinic").to_value();
    file["building"]["storeys"][1]["height_m"] = 99.into();
    fs::write(&path, file.to_string()).expect("a scratch file");
    page.choose_file(&path);
    told(&page, "alert", "was not opened, and the project is as it was");
    told(&page, "alert", "Building.storeys[1].height_m: above the permitted range (found 99); permitted: 2 to 8 m");

    for (name, text, why) in [
        ("notes.json", "no JSON at all", "not a JSON file"),
        ("other.json", "{\"beams\": 3}", "this is not a Sisterframe project"),
        ("later.json", "{\"sisterframe\": 7}", "written by a newer version"),
    ] {
        page.drop_file(name, text);
        told(&page, "alert", name);
        told(&page, "alert", why);
    }
    assert_eq!(name(&page), "Untouched");
    sleep(Duration::from_millis(600));
    assert_eq!(kept(&page), before);
}

#[test]
fn projects_are_dropped_and_pasted() {
    let page = Page::open(View::DESK);
    page.drop_file("clinic.json", &demo("clinic").to_json());
    page.until("the dropped project is open", |page| name(page) == CLINIC);
    page.script("document.activeElement.blur()", &[]);
    page.paste(&demo("office").to_json());
    page.until("the pasted project is open", |page| name(page) == "Quarry Street Offices");
    // Text pasted into a field is the field's.
    page.find("textbox", "Project name").focus();
    page.paste(&demo("corner").to_json());
    sleep(Duration::from_millis(200));
    assert_eq!(name(&page), "Quarry Street Offices");
}

#[test]
fn a_saved_copy_opens_equal() {
    let page = Page::open(View::DESK);
    open_measures(&page, "A Jackets");
    page.find("button", "Save a copy").click();
    told(&page, "status", "It is a copy of the demo and now your own project");
    assert_eq!(name(&page), format!("{SCHOOL}, copy"));
    let saved = page.saved("harbour-row-school-block-b-copy.sisterframe.json");
    let saved = Project::from_json(&String::from_utf8_lossy(&saved)).expect("a valid file");
    let expected = Project { name: format!("{SCHOOL}, copy"), ..demo("school") };
    assert_eq!(saved, expected);

    let path = scratch("again").with_extension("json");
    fs::write(&path, saved.to_json()).expect("a scratch file");
    take_demo(&page, CLINIC);
    page.choose_file(&path);
    page.until("it is open again", |page| kept(page).as_ref() == Some(&expected));
    // Until the demo is kept in its turn, the store holds the copy from before.
    page.until("one's own project is saved, not copied", |page| page.has("button", "Save"));
    assert_eq!(name(&page), expected.name);
}

#[test]
fn a_closed_tab_is_found_again() {
    let page = Page::open(View::DESK);
    open_measures(&page, "A Jackets");
    page.find("textbox", "Name").write("Thick jackets");
    page.press("Enter");
    page.until("it is kept", |page| kept(page).is_some_and(|project| project.schemes[0].name == "Thick jackets"));
    let before = kept(&page);
    page.reopen();
    assert!(page.text().contains("Thick jackets"));
    assert_eq!(kept(&page), before);
}

#[test]
fn a_project_that_stopped_the_page_is_not_opened_again() {
    let page = Page::open(View::DESK);
    page.find("textbox", "Project name").write("Stops the page");
    page.press("Enter");
    page.until("it is kept", |page| kept(page).is_some_and(|project| project.name == "Stops the page"));
    // What a page leaves behind that stopped while it computed the project it had kept.
    page.script("localStorage.setItem('sisterframe.opening', '1')", &[]);
    page.reopen();
    told(&page, "alert", "Stops the page stopped the page when it was last opened");
    assert_eq!(name(&page), SCHOOL);
    page.find("button", "Projects").click();
    assert!(page.all("button").iter().any(|part| part.name().starts_with("Stops the page")));
}

#[test]
fn a_full_store_is_told_and_work_goes_on() {
    let page = Page::open(View::DESK);
    page.script("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }", &[]);
    page.find("textbox", "Project name").write("Not kept");
    page.press("Enter");
    told(&page, "alert", "refuses to keep the project");
    assert_eq!(name(&page), "Not kept");
}

#[test]
fn sheets_are_turned_by_keys() {
    let page = Page::open(View::DESK);
    for sheet in ["Building", "Capacity", "Load path", "Connections", "Works"] {
        page.press("PageDown");
        page.until("the heading has the focus", |page| page.focused() == format!("heading {sheet}"));
        assert!(!page.has("heading", "Options"));
    }
    page.press("PageDown");
    assert!(page.has("heading", "Works"), "the last sheet stays");
    for sheet in ["Connections", "Load path", "Capacity", "Building", "Options"] {
        page.press("PageUp");
        page.until("the heading has the focus", |page| page.focused() == format!("heading {sheet}"));
    }
}

#[test]
fn the_bench_over_the_sheet_keeps_the_focus_and_gives_it_back() {
    let page = Page::open(View::PHONE);
    let link = page.find("button", "Ground motion");
    link.focus();
    page.press("Enter");
    page.until("the bench has the focus", |page| page.focused() == "button Close the bench");
    assert!(page.has("dialog", "Ground motion"));
    assert!(!page.has("button", "Undo"), "what lies under it is out of reach");
    page.assert_readable("the bench over the sheet");
    for _ in 0..12 {
        page.press("Tab");
        let inside = page.script("return document.activeElement === document.body || document.querySelector('#bench').contains(document.activeElement)", &[]);
        assert_eq!(inside, true);
    }
    page.find("slider", "Plateau S_XS").focus();
    page.press("ArrowRight");
    page.press("Escape");
    assert!(page.has("dialog", "Ground motion"), "the first Escape calls off the slider");
    page.press("Escape");
    page.until("the focus is back", |page| page.focused() == "button Ground motion");
    assert!(!page.has("dialog", "Ground motion"));
}

#[test]
fn everything_on_the_bench_is_reached_by_the_keyboard() {
    let page = Page::open(View::DESK);
    open_measures(&page, "D External frame");
    unfold(&page, "External frame");
    let controls = page.script(
        "return [...document.querySelectorAll('#bench :is(button, input, select, textarea, summary)')]
           .filter((part) => !part.disabled && part.checkVisibility()).length",
        &[],
    );
    page.find("button", "Close the bench").focus();
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..300 {
        let place = page.script(
            "const all = [...document.querySelectorAll('#bench :is(button, input, select, textarea, summary)')];
             return all.filter((part) => !part.disabled && part.checkVisibility()).indexOf(document.activeElement)",
            &[],
        );
        match place.as_i64() {
            Some(-1) | None => break,
            Some(place) => reached.insert(place),
        };
        page.press("Tab");
    }
    assert_eq!(Some(reached.len() as u64), controls.as_u64());
}

#[test]
fn scripts_evaluate_projects_and_are_told_what_is_refused() {
    let page = Page::open(View::DESK);
    let clinic = demo("clinic");
    let study = page.script("return window.sisterframe.evaluate(arguments[0])", &[clinic.to_value()]);
    assert_eq!(study["project"], CLINIC);
    assert_eq!(study["options"].as_array().map(Vec::len), Some(clinic.schemes.len() + 2));
    let as_text = page.script("return window.sisterframe.evaluate(arguments[0])", &[clinic.to_json().into()]);
    assert_eq!(as_text, study);
    let refused = page.script(
        "try { window.sisterframe.evaluate({ sisterframe: 1, name: 3 }) } catch (error) { return [error instanceof Error, error.message] }",
        &[],
    );
    assert_eq!(refused[0], true);
    let words = refused[1].as_str().unwrap_or_default();
    assert!(words.starts_with("name: text is needed here (found 3)"), "{words}");
}

#[test]
fn a_project_is_saved_where_the_user_says() {
    let page = Page::open(View::DESK);
    // A browser without a window cannot show its own dialogue; this one stands in for it.
    page.script(
        "window.written = [];
         window.showSaveFilePicker = async (options) => {
             window.asked = options.suggestedName;
             if (window.callOff) throw new DOMException('called off', 'AbortError');
             return { name: 'mine.json', createWritable: async () => ({
                 write: async (text) => { window.written.push(text) },
                 close: async () => { window.isWritten = true },
             }) };
         };",
        &[],
    );
    page.script("window.callOff = true", &[]);
    page.find("button", "Save as …").click();
    told(&page, "status", "Nothing was saved");
    assert_eq!(name(&page), SCHOOL, "a demo called off stays a demo");
    page.script("window.callOff = false", &[]);
    page.find("button", "Save as …").click();
    told(&page, "status", "Saved as mine.json");
    assert_eq!(page.script("return window.asked", &[]), "harbour-row-school-block-b-copy.sisterframe.json");
    let text = page.script("return window.isWritten ? window.written.join('') : ''", &[]);
    let saved = Project::from_json(text.as_str().unwrap_or_default()).expect("a valid file");
    assert_eq!(saved, Project { name: format!("{SCHOOL}, copy"), ..demo("school") });
    assert_eq!(name(&page), saved.name);

    // Where the browser asks nobody, the file is downloaded, and entries refused are told.
    page.script("delete window.showSaveFilePicker; window.showSaveFilePicker = undefined", &[]);
    open_measures(&page, "A Jackets");
    unfold(&page, "Column jackets");
    page.find("textbox", "Jacket thickness in mm").write("9999");
    page.press("Enter");
    page.until("it is refused", |page| page.find("textbox", "Jacket thickness in mm").property("invalid") == "true");
    page.find("button", "Save as …").click();
    told(&page, "alert", "not the entry the bench refused");
    assert!(!page.saved("harbour-row-school-block-b-copy.sisterframe.json").is_empty());
}

#[test]
fn two_tabs_with_one_project_are_told_of_each_other() {
    let page = Page::open(View::DESK);
    page.find("textbox", "Project name").write("Seen twice");
    page.press("Enter");
    page.until("it is kept", |page| kept(page).is_some_and(|project| project.name == "Seen twice"));
    // What another tab leaves when it keeps its project.
    page.script(
        "const kept = JSON.parse(localStorage.getItem('sisterframe.project'));
         kept.tab = 'another';
         localStorage.setItem('sisterframe.project', JSON.stringify(kept));
         window.dispatchEvent(new StorageEvent('storage', { key: 'sisterframe.project' }))",
        &[],
    );
    told(&page, "alert", "Seen twice is open in another tab too");
    let heard = page.script("return localStorage.getItem('sisterframe.tabs') ?? ''", &[]);
    assert!(heard.as_str().is_some_and(|text| text.ends_with("Seen twice")), "the other tab hears of this one");
    page.find("button", "Put this message away").click();
    page.script("window.dispatchEvent(new StorageEvent('storage', { key: 'sisterframe.project' }))", &[]);
    sleep(Duration::from_millis(300));
    assert!(!page.text().contains("in another tab"), "once is enough");
}

#[test]
fn a_file_opens_in_the_units_it_was_saved_in_and_nothing_else_differs() {
    let page = Page::open(View::DESK);
    page.find("button", "US").click();
    page.find("button", "Save a copy").click();
    let file = "harbour-row-school-block-b-copy.sisterframe.json";
    let saved = Project::from_json(&String::from_utf8_lossy(&page.saved(file))).expect("a valid file");
    let expected = Project { name: format!("{SCHOOL}, copy"), units: Units::Us, ..demo("school") };
    assert_eq!(saved, expected);
    let path = scratch("us").with_extension("json");
    fs::write(&path, saved.to_json()).expect("a scratch file");
    page.find("button", "SI").click();
    page.choose_file(&path);
    page.until("it is shown in its units", |page| page.find("button", "US").property("pressed") == "true");
}
