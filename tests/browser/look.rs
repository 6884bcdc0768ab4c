//! Pictures for people to look at; `cargo xtask look` runs this.

use crate::page::{Page, View};

#[test]
#[ignore = "writes pictures and checks nothing; cargo xtask look runs it"]
fn pictures() {
    let sheet = std::env::var("SISTERFRAME_SHEET").unwrap_or_default();
    let mut page = Page::open(View::DESK);
    for view in View::all() {
        page.resize(view);
        page.reload();
        if !sheet.is_empty() {
            page.turn_to(&sheet);
        }
        let name = if sheet.is_empty() { "page" } else { &sheet };
        println!("{}", page.picture(&format!("{}-{}", name.replace(' ', "-"), view.name())).display());
    }
}
