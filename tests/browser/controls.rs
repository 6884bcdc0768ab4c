//! Checks of the checks: each finds the fault it is there for, and leaves sound pages alone.

use crate::page::{Page, View};

fn show(body: &str) -> Page {
    Page::open_text(
        View::DESK,
        &format!("<!doctype html><html lang=en><title>Control</title><body>{body}</body></html>"),
    )
}

fn layout(body: &str) -> Vec<String> {
    show(body).overlaps_and_clips()
}

#[test]
fn a_request_is_seen() {
    let page = show("<img alt=x src='http://example.invalid/a.png'>");
    assert_eq!(page.requests(), ["http://example.invalid/a.png"]);
    assert!(!page.console().is_empty(), "a failed load is written to the console");
}

#[test]
fn the_network_is_off() {
    // The driver's own port answers on this machine, so only the switch can make this fail.
    let server = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = format!("http://{}/", server.local_addr().expect("its address"));
    let page = show("<p>Control</p>");
    let answer = page.script_later(
        "const done = arguments[1]; fetch(arguments[0], { mode: 'no-cors' }).then(() => done('reached'), () => done('refused'));",
        &[address.clone().into()],
    );
    assert_eq!(answer, "refused");
    assert_eq!(page.requests(), [address]);
    assert!(page.console().iter().any(|line| line.contains("ERR_INTERNET_DISCONNECTED")));
}

#[test]
fn a_console_line_is_seen() {
    let page = show("<script>console.log('hello')</script>");
    let lines = page.console();
    assert!(lines.len() == 1 && lines[0].contains("hello"), "{lines:?}");
}

#[test]
fn overlapping_text_is_found() {
    let found = layout("<p>First words</p><p style='margin-top:-28px'>Second words</p>");
    assert_eq!(found, ["overlap: \"First words\" and \"Second words\""]);
    let found = layout("<svg width=200 height=50><text x=5 y=20>One</text><text x=10 y=22>Two</text></svg>");
    assert_eq!(found, ["overlap: \"One\" and \"Two\""]);
}

#[test]
fn overlapping_text_below_the_window_is_found() {
    let found =
        layout("<div style='height:4000px'></div><p>First words</p><p style='margin-top:-28px'>Second words</p>");
    assert_eq!(found, ["overlap: \"First words\" and \"Second words\""]);
}

#[test]
fn text_cut_off_is_found() {
    let found =
        layout("<p class=tight style='width:40px;overflow:hidden;white-space:nowrap'>Many words in one line</p>");
    assert_eq!(found, ["cut off: \"Many words in one line\" by <p class=\"tight\">"]);
    let found = layout("<svg width=60 height=20><text x=5 y=15>Longer than the drawing</text></svg>");
    assert_eq!(found.len(), 1, "{found:?}");
    let found = layout("<label>Length <input size=3 value='12345678901234567890'></label>");
    assert_eq!(found, ["cut off: what <input> \"Length \" holds"]);
}

#[test]
fn sideways_scrolling_is_found() {
    let found = layout("<div style='width:3000px'>Wide</div>");
    assert_eq!(found, ["the page scrolls sideways: 3008 in 1440"]);
    let found = layout("<p style='position:absolute;left:-50px'>Outside</p>");
    assert_eq!(found, ["off the page: \"Outside\""]);
}

#[test]
fn sound_layouts_are_left_alone() {
    for body in [
        "<p style='line-height:1'>Tight lines that wrap, tight lines that wrap</p><p style='line-height:1;margin:0'>and follow</p>",
        "<div style='width:200px;overflow:auto'><p style='width:900px'>Wide, but it can be scrolled into view by anyone</p></div>",
        "<span style='position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)'>Read aloud only</span>",
        "<p>Below</p><div style='position:fixed;inset:0;background:#fff'><p>A sheet laid over it</p></div>",
        "<p style='visibility:hidden'>Not there</p><p style='margin-top:-30px'>There</p>",
    ] {
        assert_eq!(layout(body), Vec::<String>::new(), "{body}");
    }
}

#[test]
fn a_barrier_is_found() {
    let found = show("<p style='color:#bbb;background:#fff'>Pale words</p><input>").axe();
    assert!(found.iter().any(|text| text.starts_with("color-contrast")), "{found:?}");
    assert!(found.iter().any(|text| text.starts_with("label")), "{found:?}");
}

#[test]
fn parts_are_found_and_used_by_role_and_name() {
    let page = show(
        "<button onclick=\"this.nextElementSibling.textContent='pressed'\">Press</button><p role=status></p>
         <div aria-hidden=true><button>Hidden</button></div>
         <label>Depth <input id=depth></label>
         <label>Share <input type=range min=0 max=10 value=3 oninput=\"this.title=this.value\"></label>
         <label>Rule set <select onchange=\"this.title='changed'\"><option>American<option>European</select></label>
         <button disabled style='position:absolute;left:300px;top:200px;width:120px;height:40px'>Redo</button>
         <p id=why>Must be whole</p><label>Bays <input aria-describedby=why aria-invalid=true></label>",
    );
    page.find("button", "Press").click();
    assert_eq!(page.find("status", "").text(), "pressed");
    assert!(!page.has("button", "Hidden"));

    let depth = page.find("textbox", "Depth");
    depth.write("350");
    depth.write("420");
    assert_eq!(depth.value(), "420");
    assert_eq!(page.focused(), "textbox Depth");
    page.press("Tab");
    assert_eq!(page.focused(), "slider Share");
    page.press("ArrowRight");
    assert_eq!(page.find("slider", "Share").value(), "4");
    page.find("slider", "Share").drag_to("7");
    assert_eq!(page.find("slider", "Share").attribute("title").as_deref(), Some("7"));

    let rules = page.find("combobox", "Rule set");
    rules.set("European");
    assert_eq!((rules.value().as_str(), rules.attribute("title").as_deref()), ("European", Some("changed")));
    let redo = page.find_containing("button", "Red");
    assert_eq!(redo.property("disabled"), true);
    assert_eq!(redo.rect(), [300.0, 200.0, 120.0, 40.0]);
    let bays = page.find("textbox", "Bays");
    assert_eq!((bays.description(), bays.property("invalid")), ("Must be whole", "true".into()));
}

#[test]
fn a_press_beside_a_part_that_moves_under_the_pointer_does_nothing_and_is_tried_again() {
    let page = show(
        "<div id=row><button style='display:block' onmouseover=\"if (row.children.length === 1) beside()\"
           onclick=\"out.textContent += ' wanted'\">Wanted</button></div>
         <p role=status id=out>clicked:</p>
         <script>
           function beside() {
             const other = document.createElement('button');
             other.style.display = 'block';
             other.textContent = 'Beside';
             other.onclick = () => out.textContent += ' beside';
             row.prepend(other);
           }
         </script>",
    );
    page.find("button", "Wanted").click();
    assert!(page.has("button", "Beside"), "the button was moved");
    assert_eq!(page.find("status", "").text(), "clicked: wanted");
    page.find("button", "Beside").click();
    assert_eq!(page.find("status", "").text(), "clicked: wanted beside");
}

#[test]
fn a_part_written_anew_is_still_the_same_part() {
    let page = show("<label id=own>Depth <input value=350></label>");
    let depth = page.find("textbox", "Depth");
    page.script("own.outerHTML = own.outerHTML.replace('350', '420')", &[]);
    assert_eq!(depth.value(), "420");
    page.script("own.remove()", &[]);
    page.script("document.body.innerHTML = '<button onclick=\"this.remove()\">Take out</button>'", &[]);
    page.find("button", "Take out").click();
    assert!(!page.has("button", "Take out"));
}

#[test]
fn files_are_given_and_taken() {
    let page = show(
        "<label>Project <input type=file hidden onchange=\"this.files[0].text().then(t => out.textContent = t)\"></label>
         <p role=status id=out></p>
         <a download=copy.txt href='data:text/plain,saved'>Save</a>
         <script>
           addEventListener('dragover', e => e.preventDefault());
           addEventListener('drop', e => { e.preventDefault(); e.dataTransfer.files[0].text().then(t => out.textContent = t); });
           addEventListener('paste', e => out.textContent = e.clipboardData.getData('text/plain'));
         </script>",
    );
    let out = |words: &'static str| {
        page.until(&format!("{words} is shown"), |page| page.find("status", "").text() == words);
    };
    let path = crate::page::scratch("given").with_extension("txt");
    std::fs::write(&path, "chosen").expect("a scratch file");
    page.choose_file(&path);
    out("chosen");
    page.drop_file("a.txt", "dropped");
    out("dropped");
    page.paste("pasted");
    out("pasted");
    page.find("link", "Save").click();
    assert_eq!(page.saved("copy.txt"), b"saved");
}

#[test]
fn settings_and_stored_text_survive_a_new_tab_and_a_link() {
    let page = Page::open(View::DESK.dark().still());
    let settings =
        "return ['(prefers-color-scheme: dark)', '(prefers-reduced-motion: reduce)'].map(q => matchMedia(q).matches)";
    page.script("localStorage.setItem('control', 'kept')", &[]);
    page.reopen();
    assert_eq!(page.script(settings, &[]), serde_json::json!([true, true]));
    assert_eq!(page.script("return innerWidth", &[]), 1440);
    assert_eq!(page.script("return localStorage.getItem('control')", &[]), "kept");
    page.open_link("a-project");
    assert_eq!(page.script("return location.hash", &[]), "#a-project");
}
