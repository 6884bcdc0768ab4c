//! Results follow edits: one animation-frame callback takes all edits since the last frame.

use crate::files::keep;
use crate::state::App;
use crate::store::{Due, due};
use leptos::prelude::*;
use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use sisterframe_core::study::{OptionKind, OptionResult};
use std::sync::Arc;
use std::time::Duration;

/// The longest a whole evaluation may take to be made in every frame of a drag, ms. A drag
/// that touches all options evaluates only the one looked at beyond that.
const FRAME_MS: f64 = 24.0;
/// How long after the last edit of such a drag the others follow.
const SETTLE: Duration = Duration::from_millis(250);

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
        }
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
        let project = app.project.get_untracked();
        let visiting = app.document.with_untracked(|document| document.visit().is_some());
        match due(&self.evaluated.get_untracked(), &project) {
            Due::Nothing => {}
            Due::Schemes(schemes) => {
                let results: Vec<OptionResult> = app.study.with_untracked(|study| {
                    schemes.iter().filter_map(|scheme| evaluate::option_beside(&project, *scheme, study)).collect()
                });
                put(app, results);
                self.evaluated.set(project);
            }
            Due::All if visiting && !settled && self.whole_ms.get_value() > FRAME_MS => {
                if let OptionKind::Scheme { index } = app.selection.get_untracked().option {
                    put(app, evaluate::option(&project, index).into_iter().collect());
                }
                self.settle_later(app);
            }
            Due::All => {
                let begun = now_ms();
                let study = evaluate::study(&project);
                self.whole_ms.set_value(now_ms() - begun);
                app.study.set(Arc::new(study));
                self.evaluated.set(project);
            }
        }
        self.measure();
        keep::soon(app);
    }

    fn settle_later(self, app: App) {
        if let Some(handle) = self.settling.get_value() {
            handle.clear();
        }
        self.settling.set_value(set_timeout_with_handle(move || self.renew(app, true), SETTLE).ok());
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
        for result in results {
            if let Some(own) = study.options.iter_mut().find(|own| own.kind == result.kind) {
                *own = result;
            }
        }
    });
}

fn now_ms() -> f64 {
    window().performance().map_or(0.0, |performance| performance.now())
}
