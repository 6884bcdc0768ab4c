//! Checks of a whole page: nothing overlaps or is cut off, and nothing stands in the way of a reader.

use std::fs;

use serde_json::{Value, json};

use crate::page::{Page, target};

impl Page {
    /// Texts that lie over each other or are cut off, and sideways scrolling of the whole page.
    #[track_caller]
    pub fn overlaps_and_clips(&self) -> Vec<String> {
        texts(&self.script(include_str!("layout.js"), &[]))
    }

    /// What axe-core finds against WCAG 2.2, levels A and AA.
    #[track_caller]
    pub fn axe(&self) -> Vec<String> {
        let source = target().join("axe/node_modules/axe-core/axe.min.js");
        let source = fs::read_to_string(&source)
            .unwrap_or_else(|e| panic!("{}: {e}; `cargo xtask test` fetches it", source.display()));
        self.script("if (!window.axe) (0, eval)(arguments[0])", &[json!(source)]);
        let found = self.script_later(
            "const done = arguments[arguments.length - 1];
             const values = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
             axe.run(document, { runOnly: { type: 'tag', values } }).then(
               (found) => done(found.violations.flatMap((rule) => rule.nodes.map(
                 (node) => `${rule.id}: ${node.failureSummary} ${node.html}`))),
               (error) => done(['axe-core failed: ' + error]));",
            &[],
        );
        texts(&found)
    }

    /// Panics when anything overlaps, is cut off, or breaks WCAG 2.2 AA.
    #[track_caller]
    pub fn assert_readable(&self, what: &str) {
        assert_eq!(self.overlaps_and_clips(), Vec::<String>::new(), "{what}: overlapping or clipped");
        assert_eq!(self.axe(), Vec::<String>::new(), "{what}: accessibility");
    }
}

fn texts(list: &Value) -> Vec<String> {
    let list = list.as_array().unwrap_or_else(|| panic!("a list is expected, not {list}"));
    list.iter().map(|text| text.as_str().unwrap_or_default().to_string()).collect()
}
