//! Results by the other rule set, which follow in the background while they are asked for.
//!
//! They are an ordinary study of the same project with the other set in its place, so all that
//! holds for pending options holds here too.

use crate::files::keep;
use crate::state::App;
use crate::store::{Due, due};
use leptos::prelude::*;
use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use std::sync::Arc;

/// The other set's study and the projects it belongs to.
#[derive(Clone, Copy)]
pub struct Beside {
    study: RwSignal<Option<Arc<Study>>>,
    of: StoredValue<Option<Judged>>,
}

/// The page's project and the same with the other set.
#[derive(Clone)]
struct Judged {
    own: Arc<Project>,
    other: Arc<Project>,
}

impl Beside {
    /// None yet.
    pub fn new() -> Self {
        Self { study: RwSignal::new(None), of: StoredValue::new(None) }
    }

    /// The results; `None` while they are not asked for or there is no other set.
    pub fn study(self) -> RwSignal<Option<Arc<Study>>> {
        self.study
    }

    /// Whether results are still to come, or have to go.
    pub fn is_due(self, app: App) -> bool {
        let is_wanted = app.selection.get_untracked().both_sets;
        if !is_wanted {
            return self.of.with_value(Option::is_some);
        }
        !self.is_of(&app.renewal.evaluated().get_untracked()) || self.next_pending(app).is_some()
    }

    fn is_of(self, project: &Arc<Project>) -> bool {
        self.of.with_value(|of| of.as_ref().is_some_and(|of| Arc::ptr_eq(&of.own, project)))
    }

    /// Does the next step towards what is asked for; whether there was one to do.
    pub fn renew_one(self, app: App) -> bool {
        if !app.selection.get_untracked().both_sets {
            let had = self.of.with_value(Option::is_some);
            if had {
                self.of.set_value(None);
                self.study.set(None);
            }
            return had;
        }
        let project = app.renewal.evaluated().get_untracked();
        if !self.is_of(&project) {
            self.outline(project);
            return true;
        }
        let (Some(kind), Some(of)) = (self.next_pending(app), self.of.get_value()) else { return false };
        let result = keep::watched(|| {
            self.study.with_untracked(|study| evaluate::whole_option(&of.other, kind, study.as_ref()?))
        });
        let found = result.is_some();
        self.put(result.into_iter().collect());
        found
    }

    /// Elastic results of the project as it is now; capacity curves of before stay until their own come.
    fn outline(self, own: Arc<Project>) {
        let Some(other) = evaluate::by_other_set(&own).map(Arc::new) else {
            // Noted, so that it is not asked for again.
            self.of.set_value(Some(Judged { other: own.clone(), own }));
            self.study.set(None);
            return;
        };
        let before = self.of.get_value();
        self.of.set_value(Some(Judged { own, other: other.clone() }));
        let earlier = self.study.get_untracked();
        match (before.map(|before| due(&before.other, &other)), earlier) {
            (Some(Due::Nothing | Due::Works), Some(_)) => {}
            (Some(Due::Schemes(schemes)), Some(study)) => {
                let kinds = schemes.into_iter().map(|index| OptionKind::Scheme { index });
                self.put(kinds.filter_map(|kind| evaluate::outline_option(&other, kind, &study)).collect());
            }
            (_, earlier) => {
                let mut study = keep::watched(|| evaluate::outline(&other));
                if let Some(earlier) = earlier.filter(|own| own.project == study.project && own.rules == study.rules) {
                    for (own, old) in study.options.iter_mut().zip(&earlier.options) {
                        own.keep_capacity(old);
                    }
                }
                self.study.set(Some(Arc::new(study)));
            }
        }
    }

    fn put(self, results: Vec<OptionResult>) {
        self.study.update(|study| {
            let Some(study) = study else { return };
            let options = &mut Arc::make_mut(study).options;
            for mut result in results {
                if let Some(own) = options.iter_mut().find(|own| own.kind == result.kind) {
                    result.keep_capacity(own);
                    *own = result;
                }
            }
        });
    }

    /// The option whose curves come next: the building as it stands, which strength gains are
    /// against, then the one looked at.
    fn next_pending(self, app: App) -> Option<OptionKind> {
        let looked_at = app.selection.get_untracked().option;
        self.study.with_untracked(|study| {
            let options = &study.as_ref()?.options;
            let pending = || options.iter().filter(|option| option.pending).map(|option| option.kind);
            pending()
                .find(|kind| *kind == OptionKind::AsItStands)
                .or_else(|| pending().find(|kind| *kind == looked_at))
                .or_else(|| pending().next())
        })
    }
}
