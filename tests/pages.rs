//! Pages of the documentation that tests write.

use std::path::Path;

/// Rewrites the pages instead of comparing them.
const REWRITE: &str = "SISTERFRAME_WRITE_PAGES";

/// Asserts that a page of the documentation is what a test makes of it now.
pub fn assert_page(name: &str, page: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/docs").join(name);
    if std::env::var_os(REWRITE).is_some() {
        let written = std::fs::write(&path, page);
        assert!(written.is_ok(), "{name} cannot be written: {written:?}");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(committed == page, "{name} has changed: run the tests once with {REWRITE}=1 and commit the page");
}
