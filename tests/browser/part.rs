//! A part of the page, found the way assistive technology finds it: by role and name.

use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::page::Page;

/// Scrolls to an element and waits until two looks find it in one place.
const STANDS_STILL: &str = "
    const [part, done] = arguments;
    part.scrollIntoView({ block: 'nearest', behavior: 'instant' });
    let before = '';
    const look = () => {
        const { x, y, width, height } = part.getBoundingClientRect();
        const now = [x, y, width, height].join();
        if (now === before) return done();
        before = now;
        setTimeout(look, 40);
    };
    look();";

/// A part of the page with its role and accessible name.
#[derive(Clone)]
pub struct Part<'p> {
    page: &'p Page,
    node: Node,
}

/// What the accessibility tree says about the part.
#[derive(Clone, Debug)]
struct Node {
    id: Value,
    role: String,
    name: String,
    facts: Value,
}

impl Node {
    fn read(node: &Value) -> Node {
        let text = |value: &Value| value["value"].as_str().unwrap_or_default().to_string();
        Node {
            id: node["backendDOMNodeId"].clone(),
            role: text(&node["role"]),
            name: text(&node["name"]),
            facts: node.clone(),
        }
    }
}

impl<'p> Part<'p> {
    /// Every part of a role.
    #[track_caller]
    pub(crate) fn with_role(page: &'p Page, role: &str) -> Vec<Part<'p>> {
        let document = page.session.command("Runtime.evaluate", json!({ "expression": "document" }));
        let nodes = page
            .session
            .command("Accessibility.queryAXTree", json!({ "objectId": document["result"]["objectId"], "role": role }));
        let nodes = nodes["nodes"].as_array().map(Vec::as_slice).unwrap_or_default();
        let there = nodes.iter().filter(|node| node["ignored"] != true);
        there.map(|node| Part { page, node: Node::read(node) }).collect()
    }

    /// The part that has the focus.
    #[track_caller]
    pub(crate) fn focused(page: &'p Page) -> Option<Part<'p>> {
        let active = page.session.command(
            "Runtime.evaluate",
            json!({ "expression": "document.activeElement === document.body ? null : document.activeElement" }),
        );
        let object = active["result"]["objectId"].as_str()?;
        let nodes = page
            .session
            .command("Accessibility.getPartialAXTree", json!({ "objectId": object, "fetchRelatives": false }));
        Some(Part { page, node: Node::read(&nodes["nodes"][0]) })
    }

    /// Its role.
    pub fn role(&self) -> &str {
        &self.node.role
    }

    /// Its accessible name.
    pub fn name(&self) -> &str {
        &self.node.name
    }

    /// A property as it was when found: `disabled`, `checked`, `expanded`, `selected`, `invalid`, `valuetext` …
    pub fn property(&self, name: &str) -> Value {
        let all = self.node.facts["properties"].as_array().map(Vec::as_slice).unwrap_or_default();
        let found = all.iter().find(|property| property["name"] == name);
        found.map(|property| property["value"]["value"].clone()).unwrap_or_default()
    }

    /// Its accessible description as it was when found.
    pub fn description(&self) -> &str {
        self.node.facts["description"]["value"].as_str().unwrap_or_default()
    }

    /// The element behind it.
    #[track_caller]
    fn element(&self) -> WebElement {
        let session = &self.page.session;
        let node = session.command("DOM.resolveNode", json!({ "backendNodeId": self.node.id }));
        session.command(
            "Runtime.callFunctionOn",
            json!({ "objectId": node["object"]["objectId"], "functionDeclaration": "function() { window.foundPart = this; }" }),
        );
        let answer = session.client().execute("const it = window.foundPart; delete window.foundPart; return it;", []);
        match session.wait(answer).element() {
            Ok(element) => element,
            Err(reason) => panic!("{} {:?} is no element any more: {reason}", self.role(), self.name()),
        }
    }

    /// Clicks its middle, scrolling to it first, once it stands still: while the page fills in above it, the pointer would
    /// come down beside it.
    #[track_caller]
    pub fn click(&self) {
        let element = self.element();
        let rest = element.to_json().map(|own| (STANDS_STILL, vec![own]));
        let session = &self.page.session;
        session.wait(async {
            let (script, arguments) = rest?;
            session.client().execute_async(script, arguments).await
        });
        session.wait(element.click());
    }

    /// Gives it the focus.
    #[track_caller]
    pub fn focus(&self) {
        self.page.session.wait(self.element().focus());
    }

    /// Its text as drawn.
    #[track_caller]
    pub fn text(&self) -> String {
        self.page.session.wait(self.element().text())
    }

    /// What a field or slider holds.
    #[track_caller]
    pub fn value(&self) -> String {
        self.page.session.wait(self.element().value()).unwrap_or_default()
    }

    /// An attribute of its element.
    #[track_caller]
    pub fn attribute(&self, name: &str) -> Option<String> {
        self.page.session.wait(self.element().attr(name))
    }

    /// Replaces what a text field holds, by the keyboard; the field keeps the focus.
    #[track_caller]
    pub fn write(&self, text: &str) {
        self.focus();
        self.page.press("ctrl+a");
        self.page.type_text(text);
    }

    /// Sets a slider while it is held, as during a drag: the browser tells of input, not yet of a change.
    #[track_caller]
    pub fn drag_to(&self, value: &str) {
        self.with_element(
            "const [it, value] = arguments;
             // The class's own setter, in case a framework put another over it.
             Object.getOwnPropertyDescriptor(Object.getPrototypeOf(it), 'value').set.call(it, value);
             it.dispatchEvent(new Event('input', { bubbles: true }));",
            &[json!(value)],
        );
    }

    /// Sets a field, slider or choice to a value and is done with it: input and change.
    #[track_caller]
    pub fn set(&self, value: &str) {
        self.drag_to(value);
        self.with_element("arguments[0].dispatchEvent(new Event('change', { bubbles: true }))", &[]);
    }

    /// Its box in the window: left, top, width, height in CSS pixels.
    #[track_caller]
    pub fn rect(&self) -> [f64; 4] {
        let rect = self.with_element(
            "const r = arguments[0].getBoundingClientRect(); return [r.left, r.top, r.width, r.height];",
            &[],
        );
        std::array::from_fn(|i| rect[i].as_f64().unwrap_or(f64::NAN))
    }

    /// Runs script with the element as its first argument.
    #[track_caller]
    pub fn with_element(&self, text: &str, more: &[Value]) -> Value {
        let mut arguments = vec![self.element().to_json().expect("an element")];
        arguments.extend_from_slice(more);
        self.page.script(text, &arguments)
    }
}
