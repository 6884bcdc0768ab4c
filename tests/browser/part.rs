//! A part of the page, found the way assistive technology finds it: by role and name.

use std::thread::sleep;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use thirtyfour::error::WebDriverErrorInner::{ElementClickIntercepted, StaleElementReference};
use thirtyfour::prelude::*;

use crate::driver::Session;
use crate::page::{PATIENCE, Page};

/// Scrolls to an element and waits until two looks find it in one place. The page may still move it before the pointer
/// comes down, so from here to [`END_AIM`] a press beside it is kept from the page.
const BRING_UP: &str = "
    const [part, done] = arguments;
    const kinds = ['pointerdown', 'mousedown', 'pointerup', 'mouseup', 'click'];
    const aim = { clicked: '' };
    const listen = (event) => {
        if (!event.isTrusted) return;
        const inside = event.composedPath().includes(part);
        if (!inside) {
            event.preventDefault();
            event.stopImmediatePropagation();
        }
        if (event.type === 'click') aim.clicked = inside ? 'inside' : 'beside';
    };
    for (const kind of kinds) window.addEventListener(kind, listen, true);
    aim.end = () => kinds.forEach((kind) => window.removeEventListener(kind, listen, true));
    window.aim?.end();
    window.aim = aim;
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

/// Where the click came down: `inside`, `beside` or nowhere yet. A page that was left has no more to say than that it
/// was clicked.
const VERDICT: &str = "return window.aim ? window.aim.clicked : 'inside'";

/// Lets presses pass again.
const END_AIM: &str = "window.aim?.end(); delete window.aim;";

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

    /// Acts on the element behind it. When the page has written the part anew meanwhile, its successor is the one part of
    /// the same role and name.
    #[track_caller]
    fn act<T>(&self, act: impl Fn(&Session, &WebElement) -> WebDriverResult<T>) -> T {
        let session = &self.page.session;
        let begun = Instant::now();
        let mut id = self.node.id.clone();
        loop {
            let reason = match element(session, &id) {
                Some(element) => match act(session, &element) {
                    Ok(value) => return value,
                    Err(reason) if matches!(*reason, StaleElementReference(_)) => reason.to_string(),
                    Err(reason) => panic!("{} {:?}: {reason}", self.role(), self.name()),
                },
                None => "it is no element any more".to_string(),
            };
            assert!(begun.elapsed() < PATIENCE, "{} {:?}: {reason}", self.role(), self.name());
            sleep(Duration::from_millis(30));
            let mut same = Part::with_role(self.page, self.role());
            same.retain(|part| part.name() == self.name());
            if let [one] = &same[..] {
                id = one.node.id.clone();
            }
        }
    }

    /// Clicks its middle, scrolling to it first, once it stands still; again when the page moved it under the pointer.
    #[track_caller]
    pub fn click(&self) {
        let begun = Instant::now();
        while !self.act(click) {
            assert!(begun.elapsed() < PATIENCE, "{} {:?} is not there to be clicked", self.role(), self.name());
        }
    }

    /// Gives it the focus.
    #[track_caller]
    pub fn focus(&self) {
        self.act(|session, element| session.attempt(element.focus()));
    }

    /// Its text as drawn.
    #[track_caller]
    pub fn text(&self) -> String {
        self.act(|session, element| session.attempt(element.text()))
    }

    /// What a field or slider holds.
    #[track_caller]
    pub fn value(&self) -> String {
        self.act(|session, element| session.attempt(element.value())).unwrap_or_default()
    }

    /// An attribute of its element.
    #[track_caller]
    pub fn attribute(&self, name: &str) -> Option<String> {
        self.act(|session, element| session.attempt(element.attr(name)))
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
        self.act(|session, element| {
            let mut arguments = vec![element.to_json()?];
            arguments.extend_from_slice(more);
            Ok(session.attempt(session.client().execute(text, arguments))?.json().clone())
        })
    }
}

/// The element with an id of the browser's protocol, if it is still in the document.
fn element(session: &Session, id: &Value) -> Option<WebElement> {
    let command = |method, parameters| session.attempt(session.client().cdp().send_raw(method, parameters)).ok();
    let node = command("DOM.resolveNode", json!({ "backendNodeId": id }))?;
    command(
        "Runtime.callFunctionOn",
        json!({ "objectId": node["object"]["objectId"], "functionDeclaration": "function() { window.foundPart = this; }" }),
    )?;
    let answer = session.client().execute("const it = window.foundPart; delete window.foundPart; return it;", []);
    session.attempt(answer).ok()?.element().ok()
}

/// Clicks an element once, and tells whether the click came down on it.
fn click(session: &Session, element: &WebElement) -> WebDriverResult<bool> {
    let client = session.client();
    session.attempt(client.execute_async(BRING_UP, vec![element.to_json()?]))?;
    let clicked = session.attempt(element.click());
    let begun = Instant::now();
    let verdict = loop {
        let answer = session.attempt(client.execute(VERDICT, []))?;
        let verdict = answer.json().as_str().unwrap_or_default().to_string();
        if clicked.is_err() || !verdict.is_empty() || begun.elapsed() > Duration::from_secs(2) {
            break verdict;
        }
        sleep(Duration::from_millis(10));
    };
    session.attempt(client.execute(END_AIM, []))?;
    match clicked {
        Err(reason) if matches!(*reason, ElementClickIntercepted(_)) => Ok(false),
        Err(reason) => Err(reason),
        Ok(()) => Ok(verdict == "inside"),
    }
}
