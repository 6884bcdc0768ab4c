//! Foresight follows: while the page is at rest, the range of every slider of an open measure is tried,
//! one value a task, so that typing and dragging never wait for it.

use crate::files::keep;
use crate::state::App;
use leptos::html;
use leptos::prelude::*;
use sisterframe_core::evaluate::{Dial, Foresight};
use sisterframe_core::project::{Project, Spec};
use sisterframe_core::units::System;
use std::sync::Arc;
use std::time::Duration;

/// How long the page has to be at rest before anything is tried.
const REST: Duration = Duration::from_millis(350);

/// What is foreseen over the range of one slider.
#[derive(Clone, Debug)]
pub struct Ahead {
    /// The project it was begun with.
    of: Arc<Project>,
    /// The units whose round numbers are tried.
    system: System,
    /// What is foreseen so far.
    pub foresight: Foresight,
    /// Something it rests on has changed since.
    pub is_old: bool,
}

/// A slider on the page.
#[derive(Clone)]
struct Slider {
    dial: Dial,
    spec: Spec,
    ahead: RwSignal<Option<Ahead>>,
    place: NodeRef<html::Div>,
}

/// The sliders on the page, and when the next value is tried; cheap to copy.
#[derive(Clone, Copy)]
pub struct Foresights {
    sliders: StoredValue<Vec<Slider>>,
    waiting: StoredValue<Option<TimeoutHandle>>,
}

impl Foresights {
    /// None yet.
    pub fn new() -> Self {
        Self { sliders: StoredValue::new(Vec::new()), waiting: StoredValue::new(None) }
    }

    /// Looks ahead over a slider's range as long as the component this is called in stands, once
    /// `place` can be seen.
    pub fn of_slider(self, app: App, dial: Dial, spec: Spec, place: NodeRef<html::Div>) -> RwSignal<Option<Ahead>> {
        let ahead = RwSignal::new(None);
        self.sliders.update_value(|sliders| sliders.push(Slider { dial, spec, ahead, place }));
        on_cleanup(move || {
            let _ = self.sliders.try_update_value(|sliders| sliders.retain(|slider| slider.ahead != ahead));
        });
        self.wake(app);
        ahead
    }

    /// An edit: what rested on what has changed is marked, and nothing more is tried for a while.
    pub fn note_edit(self, app: App) {
        self.wait(None);
        let project = app.project.get_untracked();
        self.sliders.with_value(|sliders| {
            for slider in sliders {
                let is_old = slider
                    .ahead
                    .with_untracked(|ahead| ahead.as_ref().map(|own| !slider.dial.is_alike(&own.of, &project)));
                let marked = slider.ahead.with_untracked(|ahead| ahead.as_ref().map(|own| own.is_old));
                if is_old != marked {
                    slider.ahead.update(|ahead| {
                        if let (Some(own), Some(is_old)) = (ahead, is_old) {
                            own.is_old = is_old;
                        }
                    });
                }
            }
        });
    }

    /// Goes on trying once the page has been at rest.
    pub fn wake(self, app: App) {
        if self.sliders.with_value(|sliders| !sliders.is_empty()) {
            self.wait(set_timeout_with_handle(move || self.step(app), REST).ok());
        }
    }

    fn wait(self, next: Option<TimeoutHandle>) {
        if let Some(handle) = self.waiting.get_value() {
            handle.clear();
        }
        self.waiting.set_value(next);
    }

    /// Tries one value and makes room for the page before the next.
    fn step(self, app: App) {
        let project = app.renewal.evaluated().get_untracked();
        // An edit that came in between brings its own; capacity curves go first.
        if !Arc::ptr_eq(&project, &app.project.get_untracked()) || app.renewal.is_behind(app) {
            return;
        }
        let system = app.system.get_untracked();
        let Some((slider, value)) = self.next(app, &project) else { return };
        let foreseen = keep::watched(|| slider.dial.foreseen(&project, value));
        let Some(foreseen) = foreseen else { return };
        slider.ahead.update(|ahead| {
            let alike =
                ahead.as_ref().is_some_and(|own| own.system == system && slider.dial.is_alike(&own.of, &project));
            let mut own = match ahead.take() {
                Some(own) if alike => own,
                _ => Ahead {
                    of: project.clone(),
                    system,
                    foresight: Foresight::new(&slider.spec, system),
                    is_old: false,
                },
            };
            own.is_old = false;
            own.foresight.put(value, foreseen);
            *ahead = Some(own);
        });
        self.wait(set_timeout_with_handle(move || self.step(app), Duration::ZERO).ok());
    }

    /// The slider that is looked at next with the value to try: the one in use first, then those that
    /// can be seen, from the top.
    fn next(self, app: App, project: &Project) -> Option<(Slider, f64)> {
        let system = app.system.get_untracked();
        let in_use = app.document.with_untracked(|document| document.visit().map(|(slot, _)| slot.path()));
        let wanted = |slider: &Slider| {
            let value = slider.ahead.with_untracked(|ahead| match ahead {
                Some(own) if own.system == system && slider.dial.is_alike(&own.of, project) => own.foresight.next(),
                _ => Foresight::new(&slider.spec, system).next(),
            });
            Some((slider.clone(), value?))
        };
        self.sliders.with_value(|sliders| {
            let seen = || sliders.iter().filter(|slider| is_unfolded(slider.place));
            seen()
                .filter(|slider| in_use.as_ref().is_some_and(|path| path.ends_with(slider.dial.keys.as_str())))
                .chain(seen())
                .find_map(wanted)
        })
    }
}

/// Whether an element stands on the page outside details that are folded away.
fn is_unfolded(place: NodeRef<html::Div>) -> bool {
    place.get_untracked().is_some_and(|place| matches!(place.closest("details:not([open])"), Ok(None)))
}
