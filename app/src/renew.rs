//! Results follow edits: one animation-frame callback takes all edits since the last frame.
//!
//! Elastic results come with the frame. Capacity curves cost far more, so they follow option by
//! option once edits rest, each in a task of its own; until then the last ones stay, marked as such.

use crate::beside::Beside;
use crate::files::keep;
use crate::state::App;
use crate::store::{Due, due};
use leptos::prelude::*;
use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use sisterframe_core::study::{OptionKind, OptionResult};
use sisterframe_core::works::presets::of_project;
use std::sync::Arc;
use std::time::Duration;

/// The longest a whole evaluation may take to be made in every frame of a drag, ms. A drag
/// that touches all options evaluates only the one looked at beyond that.
const FRAME_MS: f64 = 24.0;
/// How long after the last edit of such a drag the others follow.
const SETTLE: Duration = Duration::from_millis(250);

/// How long edits rest before capacity curves follow.
const REST: Duration = Duration::from_millis(150);
/// The longest the last curves of an option may have taken for the next to come with the frame, ms.
const AT_ONCE_MS: f64 = 6.0;

/// Name of the browser's measure from an edit to the frame that shows it.
pub const EDIT_TO_PAINT: &str = "sisterframe edit to paint";
/// Name of the browser's measure from an edit to its results.
pub const EDIT_TO_RESULT: &str = "sisterframe edit to result";
/// Measures kept for whoever asks the browser for them.
const MAX_MEASURES: u32 = 500;

/// Which project the results on the page belong to, and whether a frame was asked for.
#[derive(Clone, Copy)]
pub struct Renewal {
    evaluated: RwSignal<Arc<Project>>,
    asked: StoredValue<bool>,
    edited: StoredValue<bool>,
    edits: StoredValue<u32>,
    whole_ms: StoredValue<f64>,
    settling: StoredValue<Option<TimeoutHandle>>,
    /// Capacity curves to follow.
    pushing: StoredValue<Option<TimeoutHandle>>,
    /// How long those of an option took last, ms.
    push_ms: StoredValue<f64>,
    /// Results by the other rule set.
    beside: Beside,
}

impl Renewal {
    /// Results belong to this project.
    pub fn new(evaluated: Arc<Project>) -> Self {
        Self {
            evaluated: RwSignal::new(evaluated),
            asked: StoredValue::new(false),
            edited: StoredValue::new(false),
            edits: StoredValue::new(0),
            whole_ms: StoredValue::new(0.0),
            settling: StoredValue::new(None),
            pushing: StoredValue::new(None),
            push_ms: StoredValue::new(f64::INFINITY),
            beside: Beside::new(),
        }
    }

    /// Results by the other rule set.
    pub fn beside(self) -> Beside {
        self.beside
    }

    /// The project the results belong to: one whose evaluation came to its end.
    pub fn evaluated(self) -> RwSignal<Arc<Project>> {
        self.evaluated
    }

    /// Notes the moment of an edit, unless one since the last frame was noted.
    pub fn mark_edit(self) {
        if let Some(performance) = window().performance()
            && !self.edited.get_value()
        {
            self.edits.update_value(|count| *count += 1);
            let _ = performance.mark(&self.mark());
            self.edited.set_value(true);
        }
    }

    fn mark(self) -> String {
        format!("sisterframe edit {}", self.edits.get_value())
    }

    /// Asks for results with the next frame.
    pub fn ask(self, app: App) {
        if !self.asked.get_value() {
            self.asked.set_value(true);
            request_animation_frame(move || self.renew(app, false));
        }
    }

    fn renew(self, app: App, settled: bool) {
        self.asked.set_value(false);
        app.foresights.note_edit(app);
        let project = app.project.get_untracked();
        let visiting = app.document.with_untracked(|document| document.visit().is_some());
        match due(&self.evaluated.get_untracked(), &project) {
            // A remark changes no result, but it is kept with the project results belong to.
            Due::Nothing => self.evaluated.set(project),
            Due::Works => {
                app.study.update(|study| evaluate::renew_works(&project, Arc::make_mut(study)));
                self.evaluated.set(project);
            }
            Due::Schemes(schemes) => {
                let at_once = schemes.len() == 1 && self.push_ms.get_value() < AT_ONCE_MS;
                let evaluated = if at_once { evaluate::whole_option } else { evaluate::outline_option };
                let results: Vec<OptionResult> = app.study.with_untracked(|study| {
                    let kinds = schemes.iter().map(|scheme| OptionKind::Scheme { index: *scheme });
                    kinds.filter_map(|kind| evaluated(&project, kind, study)).collect()
                });
                put(app, results);
                self.evaluated.set(project);
            }
            Due::All if visiting && !settled && self.whole_ms.get_value() > FRAME_MS => {
                for kind in [OptionKind::AsItStands, app.selection.get_untracked().option] {
                    let result = app.study.with_untracked(|study| evaluate::outline_option(&project, kind, study));
                    put(app, result.into_iter().collect());
                }
                self.settle_later(app);
            }
            Due::All => {
                let begun = now_ms();
                let mut study = evaluate::outline(&project);
                self.whole_ms.set_value(now_ms() - begun);
                app.study.with_untracked(|earlier| {
                    // Of another building the earlier curves say nothing.
                    if earlier.project == study.project {
                        for (own, old) in study.options.iter_mut().zip(&earlier.options) {
                            own.keep_capacity(old);
                            own.keep_programme(old);
                        }
                    }
                });
                app.study.set(Arc::new(study));
                self.evaluated.set(project);
            }
        }
        self.follow(app, REST);
        self.measure();
        keep::soon(app);
    }

    fn settle_later(self, app: App) {
        if let Some(handle) = self.settling.get_value() {
            handle.clear();
        }
        self.settling.set_value(set_timeout_with_handle(move || self.renew(app, true), SETTLE).ok());
    }

    /// Lets the capacity curves that are still to come follow after a while.
    pub fn follow(self, app: App, after: Duration) {
        if let Some(handle) = self.pushing.get_value() {
            handle.clear();
        }
        if self.is_due(app) {
            self.pushing.set_value(set_timeout_with_handle(move || self.push(app), after).ok());
        } else {
            app.foresights.wake(app);
        }
    }

    /// Whether anything is to follow the elastic results.
    fn is_due(self, app: App) -> bool {
        self.next_pending(app).is_some() || next_programme(app).is_some() || self.beside.is_due(app)
    }

    /// Whether results are still to come.
    pub fn is_behind(self, app: App) -> bool {
        self.asked.get_value() || self.next_pending(app).is_some()
    }

    /// The option whose curves come next: the building as it stands, which others are compared
    /// with, then the one looked at.
    fn next_pending(self, app: App) -> Option<OptionKind> {
        let looked_at = app.selection.get_untracked().option;
        app.study.with_untracked(|study| {
            let pending = || study.options.iter().filter(|option| option.pending).map(|option| option.kind);
            pending()
                .find(|kind| *kind == OptionKind::AsItStands)
                .or_else(|| pending().find(|kind| *kind == looked_at))
                .or_else(|| pending().next())
        })
    }

    /// Pushes one option over, then lets the next follow.
    fn push(self, app: App) {
        // An edit that came in between brings its own.
        if self.asked.get_value() {
            return;
        }
        self.one_more(app);
        self.follow(app, Duration::ZERO);
    }

    /// The next that is due, of each kind in turn; whether there was any.
    fn one_more(self, app: App) -> bool {
        self.push_one(app) || self.beside.renew_one(app) || self.draw_up_one(app)
    }

    fn push_one(self, app: App) -> bool {
        let Some(kind) = self.next_pending(app) else { return false };
        let project = self.evaluated.get_untracked();
        let begun = now_ms();
        let result = keep::watched(|| app.study.with_untracked(|study| evaluate::whole_option(&project, kind, study)));
        self.push_ms.set_value(now_ms() - begun);
        let found = result.is_some();
        put(app, result.into_iter().collect());
        found
    }

    /// Draws up the programme of one scheme.
    fn draw_up_one(self, app: App) -> bool {
        let Some(index) = next_programme(app) else { return false };
        let project = self.evaluated.get_untracked();
        let (times, _) = of_project(&project, keep::next_new_year());
        let programme = keep::watched(|| evaluate::programmed(&project, index, &times));
        app.study.update(|study| {
            let options = &mut Arc::make_mut(study).options;
            if let Some(own) = options.iter_mut().find(|own| own.kind == OptionKind::Scheme { index }) {
                own.programme = programme;
                own.programme_pending = false;
            }
        });
        true
    }

    /// Works out everything that is still to come, for paper.
    pub fn finish(self, app: App) {
        while self.one_more(app) {}
    }

    /// Notes how long it took from the edit to here, and to the frame being shown.
    fn measure(self) {
        if !self.edited.get_value() {
            return;
        }
        self.edited.set_value(false);
        let Some(performance) = window().performance() else { return };
        if self.edits.get_value().is_multiple_of(MAX_MEASURES) {
            performance.clear_measures_with_measure_name(EDIT_TO_RESULT);
            performance.clear_measures_with_measure_name(EDIT_TO_PAINT);
        }
        let mark = self.mark();
        let _ = performance.measure_with_start_mark(EDIT_TO_RESULT, &mark);
        // A task queued from a frame's callback runs once that frame is shown.
        set_timeout(
            move || {
                let _ = performance.measure_with_start_mark(EDIT_TO_PAINT, &mark);
                performance.clear_marks_with_mark_name(&mark);
            },
            Duration::ZERO,
        );
    }
}

/// Writes results into the study, each in the place of the one it renews.
fn put(app: App, results: Vec<OptionResult>) {
    app.study.update(|study| {
        let study = Arc::make_mut(study);
        for mut result in results {
            if let Some(own) = study.options.iter_mut().find(|own| own.kind == result.kind) {
                result.keep_capacity(own);
                result.keep_programme(own);
                *own = result;
            }
        }
    });
}

/// The scheme whose programme comes next: the one looked at first.
fn next_programme(app: App) -> Option<usize> {
    let looked_at = app.selection.get_untracked().option;
    app.study.with_untracked(|study| {
        let pending = || study.options.iter().filter(|option| option.programme_pending).map(|option| option.kind);
        match pending().find(|kind| *kind == looked_at).or_else(|| pending().next())? {
            OptionKind::Scheme { index } => Some(index),
            OptionKind::AsItStands | OptionKind::Rebuild => None,
        }
    })
}

/// Milliseconds since the page was opened.
pub fn now_ms() -> f64 {
    window().performance().map_or(0.0, |performance| performance.now())
}
