//! The panel of the place pointed at, with its measures tried one after the other.

use super::spot_html::{self as written, Panel};
use super::{attribute, model_of};
use crate::view::View;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::fitting::{self, Capacity, Fit, Gain, Reach, Spot, fits};
use sisterframe_core::reading;
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use std::time::Duration;

/// How long the page has to be at rest before what was tried is tried anew, or curves are pushed.
const REST: Duration = Duration::from_millis(300);

/// What has been tried so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tried {
    /// Measures to try.
    pub fits: Vec<Fit>,
    /// What they bring, in their order; `None` where it is withheld or the measure does not fit.
    pub gains: Vec<Option<Gain>>,
    /// The same for capacity ÷ demand.
    pub capacities: Vec<Option<Capacity>>,
    /// Whether the project has changed since.
    pub is_stale: bool,
}

/// What is asked: a place, a reach and an option.
type Question = (Spot, Reach, OptionKind);

/// The panel's state; cheap to copy.
#[derive(Clone, Copy)]
pub struct Pointing {
    view: View,
    reach: RwSignal<usize>,
    tried: RwSignal<Option<Tried>>,
    /// Counts the questions asked; an answer to an older one is dropped.
    asked: StoredValue<u32>,
}

impl Pointing {
    /// State that follows what is pointed at.
    pub fn new(view: View) -> Self {
        let own = Self { view, reach: RwSignal::new(0), tried: RwSignal::new(None), asked: StoredValue::new(0) };
        // Another kind of place has other reaches.
        Effect::new(move |before: Option<Option<std::mem::Discriminant<Spot>>>| {
            let kind = view.spot.get().map(|spot| std::mem::discriminant(&spot));
            if before.is_some_and(|before| before != kind) {
                own.reach.set(0);
            }
            kind
        });
        Effect::new(move |before: Option<Option<Question>>| {
            view.project.track();
            let question = own.question();
            own.asked.update_value(|count| *count = count.wrapping_add(1));
            let asked = own.asked.get_value();
            if before == Some(question) {
                own.tried.update(|tried| {
                    if let Some(tried) = tried {
                        tried.is_stale = true;
                    }
                });
                set_timeout(move || own.begin(asked), REST);
            } else {
                own.tried.set(None);
                request_animation_frame(move || own.begin(asked));
            }
            question
        });
        own
    }

    fn question(self) -> Option<Question> {
        let spot = self.view.spot.get()?;
        let reaches = self.view.project.with(|project| spot.reaches(&project.building));
        let reach = reaches.get(self.reach.get()).or(reaches.first()).copied()?;
        Some((spot, reach, self.view.option.get()))
    }

    fn is_current(self, asked: u32) -> bool {
        // The sheet may be gone by the time a frame comes.
        self.asked.try_get_value() == Some(asked)
    }

    fn begin(self, asked: u32) {
        if !self.is_current(asked) {
            return;
        }
        let Some((spot, reach, option)) = untrack(|| self.question()) else { return };
        let fits = self
            .view
            .project
            .with_untracked(|project| fits(project, option, spot, reach, self.view.system.get_untracked()));
        self.tried.set(Some(Tried { fits, ..Tried::default() }));
        self.next(asked, (spot, reach, option));
    }

    /// Tries one measure and makes room for the page before the next.
    fn next(self, asked: u32, question: Question) {
        request_animation_frame(move || {
            if !self.is_current(asked) {
                return;
            }
            let (spot, _, option) = question;
            let step = self.tried.with_untracked(|tried| {
                let tried = tried.as_ref()?;
                let for_gain = tried.gains.len() < tried.fits.len();
                let place = if for_gain { tried.gains.len() } else { tried.capacities.len() };
                let fit = tried.fits.get(place)?;
                Some((for_gain, fit.problem.is_none().then(|| fit.measure.clone())))
            });
            let Some((for_gain, measure)) = step else { return };
            let pending = |study: &Study| study.options.iter().any(|option| option.pending);
            if !for_gain && self.view.study.with_untracked(|study| pending(study)) {
                // The options' own curves come first.
                set_timeout(move || self.next(asked, question), REST);
                return;
            }
            let (project, study) = (self.view.project.get_untracked(), self.view.study.get_untracked());
            let gain = |measure| fitting::gain(&project, option, spot, measure, &study);
            let capacity = |measure| fitting::capacity(&project, option, measure, &study);
            if for_gain {
                let gain = measure.as_ref().and_then(gain);
                self.tried.update(|tried| tried.iter_mut().for_each(|tried| tried.gains.push(gain)));
            } else {
                let capacity = measure.as_ref().and_then(capacity);
                self.tried.update(|tried| tried.iter_mut().for_each(|tried| tried.capacities.push(capacity)));
            }
            // Results that are held here would be copied at the next edit.
            drop((project, study));
            set_timeout(move || self.next(asked, question), Duration::ZERO);
        });
    }

    /// The panel as markup; nothing while nothing is pointed at.
    pub fn html(self) -> String {
        let view = self.view;
        let Some((spot, reach, kind)) = self.question() else { return String::new() };
        let system = view.system.get();
        view.project.with(|project| {
            view.study.with(|study| {
                let model = model_of(project, kind);
                let shown = if kind == OptionKind::Rebuild { OptionKind::AsItStands } else { kind };
                let option = study.options.iter().enumerate().find(|(_, option)| option.kind == shown);
                let scheme = option
                    .filter(|(_, option)| option.kind != OptionKind::AsItStands)
                    .map(|(_, option): (usize, &OptionResult)| (option.letter.clone(), option.name.clone()));
                let words = reading::spot(spot, &project.building, &model, option.map(|own| own.1), system);
                self.tried.with(|tried| {
                    let tried = tried.as_ref();
                    written::panel(&Panel {
                        spot,
                        words,
                        building: &project.building,
                        option,
                        joint: view.joint.get(),
                        scheme,
                        reach,
                        tried,
                        system,
                    })
                })
            })
        })
    }

    /// What a click inside the panel asks for.
    pub fn clicked(self, event: &ev::MouseEvent) {
        let place = |name| attribute(event.target(), name).and_then(|place| place.parse::<usize>().ok());
        if let Some(reach) = place("data-reach") {
            self.reach.set(reach);
        } else if let Some(add) = place("data-add") {
            let fit = self.tried.with_untracked(|tried| tried.as_ref().and_then(|tried| tried.fits.get(add).cloned()));
            if let Some(fit) = fit.filter(|fit| fit.problem.is_none()) {
                self.view.add.run(fit.measure);
            }
        }
    }
}
