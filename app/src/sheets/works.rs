//! Sheet 6, Works: which rooms are shut, when, how loud it is, what it takes.

use super::stages::{CUTS, Staged, Stages};
use super::works_files as files;
use super::works_html as written;
use super::works_labour::labour;
use super::works_rooms::{Rooms, Shut};
use super::works_week as week_of;
use super::{Block, Html, Questions, attribute, hatches, holds, is_narrow, model_of, reading};
use crate::drawing::room_calendar;
use crate::files::keep;
use crate::files::save::download;
use crate::live::value_of;
use crate::renew::now_ms;
use crate::view::View;
use leptos::ev::{Event, MouseEvent};
use leptos::prelude::*;
use sisterframe_core::project::{Measure, Project, Scheme, WorkingTimes};
use sisterframe_core::study::{OptionKind, WorksResult};
use sisterframe_core::works::calendar::in_words;
use sisterframe_core::works::presets::of_project;
use sisterframe_core::works::programme::{Alternative, Pace, Programme, of_scheme};
use sisterframe_core::works::stages::{by_programme, by_storey};
use sisterframe_core::works::{Basis, RoomPlan, added_per_floor_kn};
use std::sync::Arc;
use std::time::Duration;

/// How long the page has to be at rest before programmes are drawn up.
const REST: Duration = Duration::from_millis(150);
/// How long a print may wait for other ways to run the works, ms.
const FOR_PRINT_MS: f64 = 1500.0;
/// Width of the calendar, px: with room, on a tablet or beside the bench, on a phone.
const CALENDAR_PX: [f64; 3] = [1120.0, 720.0, 330.0];
/// Width and greatest height of the plan of a storey there, px.
const PLAN_PX: [[f64; 2]; 3] = [[540.0, 300.0], [350.0, 260.0], [330.0, 260.0]];

/// Programmes of an option, one line for each way to run the works.
#[derive(Clone, Debug, PartialEq)]
struct Drawn {
    project: Arc<Project>,
    option: OptionKind,
    times: WorkingTimes,
    /// Lines in their order; those not yet drawn up hold nothing.
    lines: Vec<(Alternative, Option<Vec<Programme>>)>,
}

impl Drawn {
    fn new(project: Arc<Project>, option: OptionKind) -> Self {
        let times = times(&project);
        let lines = match scheme(&project, option) {
            Some(scheme) => {
                let sensible = |own: &Alternative| own.of(&times).is_some() && concerns(*own, scheme);
                Alternative::ALL.into_iter().filter(sensible).map(|own| (own, None)).collect()
            }
            None => Vec::new(),
        };
        Self { project, option, times, lines }
    }

    fn of(&self, wanted: Alternative) -> Option<&[Programme]> {
        self.lines.iter().find(|(own, _)| *own == wanted)?.1.as_deref()
    }

    /// Draws up the next line that is missing; false where there is none.
    fn next(&mut self) -> bool {
        let Some(scheme) = scheme(&self.project, self.option) else { return false };
        let Some((own, missing)) = self.lines.iter_mut().find(|(_, programmes)| programmes.is_none()) else {
            return false;
        };
        let times = own.of(&self.times).unwrap_or_else(|| self.times.clone());
        *missing = Some(of_scheme(&self.project, scheme, &times));
        true
    }
}

/// Whether a scheme has works that another way of running them is about.
fn concerns(alternative: Alternative, scheme: &Scheme) -> bool {
    let outside = |measure: &Measure| matches!(measure, Measure::ExternalFrame(_));
    let (any, all) = (scheme.measures.iter().any(outside), scheme.measures.iter().all(outside));
    match alternative {
        Alternative::AsSet | Alternative::OneGangMore | Alternative::QuietDrilling => true,
        Alternative::WholeStoreys | Alternative::AnyDay => !all,
        Alternative::OutsideFirst => any && !all,
        Alternative::LoudInBreaks => any,
    }
}

fn scheme(project: &Project, option: OptionKind) -> Option<&Scheme> {
    match option {
        OptionKind::Scheme { index } => project.schemes.get(index),
        OptionKind::AsItStands | OptionKind::Rebuild => None,
    }
}

/// The project's working times, or those usual for its use from the next first of January on.
fn times(project: &Project) -> WorkingTimes {
    of_project(project, keep::next_new_year()).0
}

/// The sheet.
#[component]
pub fn Works() -> impl IntoView {
    let view = View::of_page();
    let (narrow, middling) = (is_narrow(), holds("(max-width: 75rem)"));
    let drawn = RwSignal::new(None::<Drawn>);
    let pace = RwSignal::new(Pace::Usual);
    let alternative = RwSignal::new(Alternative::AsSet);
    // Counted from zero; the busiest until one is turned to.
    let turned = RwSignal::new(None::<usize>);
    // Counts the questions asked; work for an older one is dropped.
    let asked = StoredValue::new(0_u32);
    Effect::new(move |before: Option<OptionKind>| {
        let (project, option) = (view.project.get(), view.option.get());
        let own = asked.get_value().wrapping_add(1);
        asked.set_value(own);
        let mut fresh = Drawn::new(project, option);
        if before.is_none() {
            // A sheet laid out for the printer is printed before anything else can be drawn up.
            let begun = now_ms();
            while fresh.next() && view.printing.get_untracked() && now_ms() - begun < FOR_PRINT_MS {}
        }
        let (wait, coming) = if before == Some(option) {
            // While the bench is at work what was drawn up before stays, so that nothing jumps.
            (REST, Some(fresh))
        } else {
            drawn.set(Some(fresh));
            alternative.set(Alternative::AsSet);
            turned.set(None);
            (Duration::ZERO, None)
        };
        set_timeout(move || begin((drawn, alternative), coming, asked, own), wait);
        option
    });

    let head = Memo::new(move |_| {
        let mut html = Html::default();
        hatches(&mut html);
        let (wanted, chosen) = (alternative.get(), pace.get());
        view.study.with(|study| html.raw(&written::choosers(study, view.option.get(), chosen)));
        drawn.with(|drawn| {
            if let Some(drawn) = drawn {
                let assumed = drawn.project.working_times.is_none();
                let times = wanted.of(&drawn.times).unwrap_or_else(|| drawn.times.clone());
                html.raw(&written::lead(&told(&times), assumed, wanted));
            }
        });
        html.finish()
    });
    let added = Memo::new(move |_| {
        let all = view.with_option(|option| option.added)?;
        let floors = view
            .project
            .with(|project| scheme(project, view.option.get()).map(|scheme| added_per_floor_kn(project, scheme)));
        Some((all, floors?))
    });
    let strip = Memo::new(move |_| {
        let labour = view.with_option(|option| option.works.as_ref().map(|works| works.man_days)).flatten();
        drawn.with(|drawn| {
            let programmes = drawn.as_ref().and_then(|drawn| drawn.of(alternative.get()));
            added.with(|added| {
                programmes
                    .map_or_else(String::new, |all| written::strip(all, labour, added.as_ref(), view.system.get()))
            })
        })
    });
    let calendar = Memo::new(move |_| {
        let width = CALENDAR_PX[usize::from(middling.get()) + usize::from(narrow.get())];
        let (wanted, chosen) = (alternative.get(), pace.get());
        drawn
            .with(|drawn| {
                let drawn = drawn.as_ref()?;
                let programme = chosen_of(drawn, wanted, chosen)?;
                let times = wanted.of(&drawn.times)?;
                let week = week(programme, turned.get());
                // A phone has no room for hours beside the names.
                let name = |own: written::NamedRoom| match own.hours.is_empty() || narrow.get() {
                    true => own.name,
                    false => format!("{}, {}", own.name, own.hours),
                };
                let names: Vec<String> = named(drawn, programme).into_iter().map(name).collect();
                let drawing = room_calendar(programme, &names, &times.calendar().ok()?, week, width);
                Some(written::calendar(&drawing, programme, wanted))
            })
            .unwrap_or_default()
    });
    let weeks = Memo::new(move |_| {
        drawn
            .with(|drawn| {
                let programme = chosen_of(drawn.as_ref()?, alternative.get(), pace.get())?;
                // Written anew the slider would slip from under a hand that drags it.
                Some(week_of::control(programme, week(programme, turned.get_untracked())))
            })
            .unwrap_or_default()
    });
    let plans = Memo::new(move |_| {
        let size = PLAN_PX[usize::from(middling.get()) + usize::from(narrow.get())];
        drawn
            .with(|drawn| {
                let drawn = drawn.as_ref()?;
                let programme = chosen_of(drawn, alternative.get(), pace.get())?;
                let scheme = scheme(&drawn.project, drawn.option)?;
                let times = alternative.get().of(&drawn.times)?;
                week_of::plans(&drawn.project, scheme, programme, &times, week(programme, turned.get()), size)
            })
            .unwrap_or_default()
    });
    let turn = move |to: &dyn Fn(usize) -> usize| {
        let (wanted, chosen) = (alternative.get_untracked(), pace.get_untracked());
        drawn.with_untracked(|drawn| {
            let Some(programme) = drawn.as_ref().and_then(|drawn| chosen_of(drawn, wanted, chosen)) else { return };
            let own = week(programme, Some(to(week(programme, turned.get_untracked()))));
            turned.set(Some(own));
            if let Some(slider) = document().get_element_by_id(week_of::SLIDER) {
                let _ = js_sys::Reflect::set(&slider, &"value".into(), &(own + 1).to_string().into());
                let _ = slider.set_attribute("aria-valuetext", &week_of::told(programme, own));
            }
        });
    };
    let rebuild = Memo::new(move |_| {
        view.study.with(|study| {
            let own = study.options.iter().find(|own| own.kind == OptionKind::Rebuild)?;
            own.works.as_ref()?.closed.clone()
        })
    });
    let text = Memo::new(move |_| {
        let mut html = Html::default();
        drawn.with(|drawn| {
            let Some(drawn) = drawn else { return };
            let assumed = drawn.project.working_times.is_none();
            match drawn.of(alternative.get()) {
                Some(all) => reading(&mut html, &sisterframe_core::reading::works(all, assumed)),
                None if drawn.option == OptionKind::Rebuild => {
                    rebuild.with(|closed| reading(&mut html, &sisterframe_core::reading::rebuilt(closed.as_ref())));
                }
                None if drawn.lines.is_empty() => reading(&mut html, &sisterframe_core::reading::works(&[], assumed)),
                None => html.raw("<p class=\"note\" role=\"status\">The programme is being drawn up.</p>"),
            }
        });
        html.finish()
    });
    let otherwise = Memo::new(move |_| {
        let chosen = (alternative.get(), pace.get());
        drawn.with(|drawn| match drawn {
            Some(drawn) if !drawn.lines.is_empty() => {
                rebuild.with(|rebuild| written::alternatives(&drawn.lines, chosen, rebuild.as_ref()))
            }
            _ => String::new(),
        })
    });
    let dates = Memo::new(move |_| {
        drawn
            .with(|drawn| {
                let drawn = drawn.as_ref()?;
                let programme = chosen_of(drawn, alternative.get(), pace.get())?;
                Some(written::dates(programme, &named(drawn, programme)))
            })
            .unwrap_or_default()
    });
    let shut = Memo::new(move |_| {
        drawn.with(|drawn| {
            let programme = chosen_of(drawn.as_ref()?, alternative.get(), pace.get())?;
            let closures = programme.closures.iter().map(|own| (programme.rooms[own.room], own.clone()));
            Some(Shut { pace: programme.pace, closures: closures.collect() })
        })
    });
    let sums = Memo::new(move |_| {
        let system = view.system.get();
        let sums = |works: &WorksResult| {
            let by_activity = view.project.with(|project| labour(works, Basis::of(project), &times(project), system));
            written::sums(works, system) + &by_activity
        };
        view.with_option(|option| option.works.as_ref().map_or_else(String::new, sums)).unwrap_or_default()
    });
    let input: Box<dyn FnMut(Event)> = Box::new(move |event| {
        if attribute(event.target(), "id").as_deref() == Some(week_of::SLIDER)
            && let Some(number) = event.target().and_then(|slider| value_of(&slider).parse::<usize>().ok())
        {
            turn(&|_| number.saturating_sub(1));
        }
    });
    let cut = RwSignal::new(CUTS[0].0);
    let staged = Memo::new(move |_| {
        let (wanted, chosen, by_storeys) = (alternative.get(), pace.get(), cut.get() == CUTS[1].0);
        drawn.with(|drawn| {
            let drawn = drawn.as_ref()?;
            let scheme = scheme(&drawn.project, drawn.option)?;
            let stages = if by_storeys {
                by_storey(&drawn.project, scheme)
            } else {
                let calendar = wanted.of(&drawn.times)?.calendar().ok()?;
                by_programme(&drawn.project, scheme, chosen_of(drawn, wanted, chosen)?, &calendar)
            };
            (!stages.is_empty()).then(|| Staged { project: drawn.project.clone(), stages })
        })
    });
    let click: Box<dyn FnMut(MouseEvent)> = Box::new(move |event| {
        if let Some(own) = attribute(event.target(), "data-event").and_then(|own| own.parse::<usize>().ok()) {
            turn(&|_| own);
        }
        let asked = attribute(event.target(), "data-act").unwrap_or_default();
        match asked.split_once(':') {
            Some(("pace", name)) => {
                if let Some(own) = written::PACES.into_iter().find(|own| written::pace(*own) == name) {
                    pace.set(own);
                }
            }
            Some(("otherwise", key)) => {
                if let Some(own) = Alternative::ALL.into_iter().find(|own| format!("{own:?}") == key) {
                    alternative.set(own);
                }
            }
            Some(("week", "before")) => turn(&|week| week.saturating_sub(1)),
            Some(("week", _)) => turn(&|week| week + 1),
            Some(("cut", key)) => {
                if let Some((own, _)) = CUTS.into_iter().find(|(own, _)| *own == key) {
                    cut.set(own);
                }
            }
            Some(("save", kind)) => {
                save(&drawn.get_untracked(), alternative.get_untracked(), pace.get_untracked(), kind)
            }
            _ => {}
        }
    });
    view! {
        <div on:click=click on:input=input>
            <Block html=head/>
            <Block html=strip/>
            <Block html=text/>
            <Questions sheet="works"/>
            <Block html=sums class="works-sums"/>
            <Block html=calendar class="works-calendar"/>
            <Block html=otherwise class="works-otherwise"/>
            <div class="works-week">
                <Block html=weeks/>
                <Block html=plans/>
            </div>
            <Stages staged=staged cut=cut/>
            <Rooms shut=shut/>
            <Block html=dates class="works-dates"/>
        </div>
    }
}

/// Draws up the first line of what comes in place of what was, and then the others.
fn begin(
    (drawn, alternative): (RwSignal<Option<Drawn>>, RwSignal<Alternative>),
    coming: Option<Drawn>,
    asked: StoredValue<u32>,
    own: u32,
) {
    if asked.try_get_value() != Some(own) {
        return;
    }
    if let Some(mut coming) = coming {
        coming.next();
        drawn.set(Some(coming));
        alternative.set(Alternative::AsSet);
    }
    next(drawn, asked, own);
}

/// Draws up one line and makes room for the page before the next.
fn next(drawn: RwSignal<Option<Drawn>>, asked: StoredValue<u32>, own: u32) {
    // The sheet may be gone, or another question asked, meanwhile.
    if asked.try_get_value() != Some(own) {
        return;
    }
    let mut more = false;
    drawn.update(|drawn| more = drawn.as_mut().is_some_and(Drawn::next));
    if more {
        set_timeout(move || next(drawn, asked, own), Duration::from_millis(15));
    }
}

fn chosen_of(drawn: &Drawn, alternative: Alternative, pace: Pace) -> Option<&Programme> {
    drawn.of(alternative)?.iter().find(|programme| programme.pace == pace)
}

/// The week turned to, as far as the programme has it, or else the busiest.
fn week(programme: &Programme, turned: Option<usize>) -> usize {
    turned.map_or_else(|| week_of::busiest(programme), |own| own.min(programme.week_count() - 1))
}

/// The rooms of a programme in words.
fn named(drawn: &Drawn, programme: &Programme) -> Vec<written::NamedRoom> {
    let model = model_of(&drawn.project, drawn.option);
    let plan = RoomPlan::new(&model, &drawn.project.building);
    written::NamedRoom::all(&plan, programme)
}

/// The working times in words.
fn told(times: &WorkingTimes) -> String {
    let gangs = if times.gangs == 1 { "one gang".to_owned() } else { format!("{} gangs", times.gangs) };
    let breaks = match times.breaks.len() {
        0 => "no breaks".to_owned(),
        1 => "one break".to_owned(),
        count => format!("{count} breaks"),
    };
    let outside = if times.loud_in_breaks {
        "quiet work outside on any working day, loud work outside in breaks"
    } else {
        "work outside on any working day"
    };
    let begins = times.begins.map_or(String::new(), |hour| format!(" from {hour}:00 on"));
    let back = if times.given_back { ", rooms given back after each shift" } else { "" };
    format!(
        "Work may begin on {}, {}; building in use {}; {breaks}; rooms shut {}; work inside {}{begins}{back}; {outside}; {gangs} of each trade.",
        in_words(times.start.0),
        times.week.label(),
        times.in_use.label(),
        times.shut.label(),
        times.hours.label()
    )
}

/// Gives the user what is shown as a file.
fn save(drawn: &Option<Drawn>, alternative: Alternative, pace: Pace, kind: &str) {
    let Some(drawn) = drawn else { return };
    let (Some(programme), Some(scheme)) = (chosen_of(drawn, alternative, pace), scheme(&drawn.project, drawn.option))
    else {
        return;
    };
    let rooms = named(drawn, programme);
    let of = files::Of { project: &drawn.project.name, scheme: &scheme.name, alternative };
    let stem = crate::store::file_name(&drawn.project);
    let stem = stem.trim_end_matches(".sisterframe.json");
    // A browser that refuses has told the user so itself.
    let _ = match kind {
        "ics" => {
            let stamp = format!("{}T000000Z", keep::today().replace('-', ""));
            let Some(text) = files::ics(programme, &rooms, of, &stamp) else { return };
            download(&format!("{stem}-closures.ics"), "text/calendar", &text)
        }
        _ => {
            // Spreadsheets take a file for UTF-8 where it begins with the mark.
            let text = format!("\u{feff}{}", files::csv(programme, &rooms, of));
            download(&format!("{stem}-works.csv"), "text/csv", &text)
        }
    };
}
