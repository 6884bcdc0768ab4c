//! What owners ask, answered from the results by rule, or with what would have to be known first.

use super::works::{breaks, site_closed};
use super::{capitalised, list, percent};
use crate::connection::ConnectionKind;
use crate::finding::Code;
use crate::project::{Knowledge, Project};
use crate::study::{OptionKind, OptionResult, Programmed, Study};
use crate::units::{Dimension, System, grouped, show};
use crate::works::Basis;
use crate::works::calendar::in_words;
use crate::works::cost::{ASKED_FROM, ASKED_TO, decant_share};
use crate::works::programme::Figures;

/// A question with its answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// What is asked.
    pub question: &'static str,
    /// In sentences; where it is not known, what it would take.
    pub answer: String,
    /// Whether the results answer it.
    pub known: bool,
}

/// What an answer is drawn from.
struct Asked<'a> {
    study: &'a Study,
    project: &'a Project,
    option: &'a OptionResult,
    system: System,
}

/// The questions an owner asks of an option, with their answers.
pub fn questions(study: &Study, project: &Project, option: &OptionResult, system: System) -> Vec<Answer> {
    let asked = Asked { study, project, option, system };
    vec![
        asked.safe_meanwhile(),
        asked.safer_after(),
        asked.rooms(),
        asked.in_the_break(),
        asked.loud(),
        asked.split(),
        asked.cost(),
        asked.rebuild(),
        asked.foundations(),
        asked.darker(),
        asked.hidden(),
        asked.carbon(),
        asked.needed(),
    ]
}

fn known(question: &'static str, answer: String) -> Answer {
    Answer { question, answer, known: true }
}

fn unknown(question: &'static str, what: &str) -> Answer {
    Answer { question, answer: format!("Not known: {what}."), known: false }
}

fn ratio(option: &OptionResult) -> Option<f64> {
    option.capacity_to_demand.map(|headline| headline.ratio)
}

fn counted(count: u32, one: &str, many: &str) -> String {
    if count == 1 { format!("one {one}") } else { format!("{} {many}", grouped(f64::from(count), 0)) }
}

impl Asked<'_> {
    fn standing(&self) -> Option<&OptionResult> {
        self.study.options.iter().find(|option| option.kind == OptionKind::AsItStands)
    }

    /// The name an answer calls the option by.
    fn name(&self) -> String {
        match self.option.kind {
            OptionKind::AsItStands => "the building as it stands".to_owned(),
            OptionKind::Rebuild => "rebuilding".to_owned(),
            OptionKind::Scheme { .. } => format!("scheme {}", self.option.letter),
        }
    }

    fn has_works(&self) -> bool {
        self.option.works.as_ref().is_some_and(|works| works.man_days.high > 0.0)
    }

    /// The programme of the option, or the answer that stands in its place.
    fn programme(&self, question: &'static str) -> Result<&Programmed, Answer> {
        match (&self.option.programme, self.option.kind) {
            (Some(own), _) => Ok(own),
            (None, OptionKind::Rebuild) => Err(known(question, self.site_closed())),
            (None, _) if self.option.programme_pending => {
                Err(unknown(question, "the programme is still being drawn up"))
            }
            (None, _) => Err(known(question, "Nothing is done, so nothing is closed.".to_owned())),
        }
    }

    /// For how long the site of a rebuild is closed.
    fn site_closed(&self) -> String {
        site_closed(self.option.works.as_ref().and_then(|works| works.closed.as_ref()))
    }

    /// Room-days in use it takes at the usual pace; none until its programme is drawn up.
    fn room_days_in_use(&self) -> Option<u32> {
        let closed = || self.option.works.as_ref()?.closed.as_ref().map(|own| own.room_days_in_use.mid.round() as u32);
        self.option.programme.as_ref().map(|own| own.usual().room_days_in_use).or_else(closed)
    }

    fn safe_meanwhile(&self) -> Answer {
        const Q: &str = "Is it safe to use meanwhile?";
        match self.standing().and_then(ratio) {
            Some(own) if own < 1.0 => known(
                Q,
                format!(
                    "As it stands the building bears {} times the ground motion of this objective, so it does not meet it. \
                     Whether it may be used until the works, and how, is for a licensed engineer and the authority to decide.",
                    grouped(own, 2)
                ),
            ),
            Some(own) => known(
                Q,
                format!(
                    "As it stands the building bears {} times the ground motion of this objective by these figures. That does \
                     not mean undamaged, and it rests on what is known of it; a licensed engineer has to confirm it.",
                    grouped(own, 2)
                ),
            ),
            None => unknown(Q, "the capacity of the building as it stands is withheld or still to come"),
        }
    }

    fn safer_after(&self) -> Answer {
        const Q: &str = "How much safer is it after each option?";
        let Some(before) = self.standing().and_then(ratio) else {
            return unknown(Q, "the capacity of the building as it stands is withheld or still to come");
        };
        let after: Vec<String> = self
            .study
            .options
            .iter()
            .filter(|option| matches!(option.kind, OptionKind::Scheme { .. }))
            .map(|option| match ratio(option) {
                Some(own) => format!("{} {}", option.letter, grouped(own, 2)),
                None => format!("{} not known yet", option.letter),
            })
            .collect();
        if after.is_empty() {
            return unknown(Q, "no scheme has been drawn up yet");
        }
        known(
            Q,
            format!(
                "Capacity ÷ demand is {} as it stands; after the works {}. From 1 on the objective is met; a new building meets \
                 the current code.",
                grouped(before, 2),
                list(&after)
            ),
        )
    }

    fn rooms(&self) -> Answer {
        const Q: &str = "Which rooms close, when and for how long?";
        let own = match self.programme(Q) {
            Ok(own) => own.usual(),
            Err(answer) => return answer,
        };
        if own.peak_rooms == 0 {
            return known(
                Q,
                format!("None: all work stands outside, from {} to {}.", in_words(own.first), in_words(own.last)),
            );
        }
        let mut answer = format!(
            "At the usual pace works run from {} to {}. At most {} of {} are shut at once, {} of their floor; together {} while \
             the building is in use",
            in_words(own.first),
            in_words(own.last),
            own.peak_rooms,
            counted(own.rooms, "room", "rooms"),
            percent(own.peak_share),
            counted(own.room_days_in_use, "room-day", "room-days"),
        );
        if own.room_days_in_breaks > 0 {
            answer.push_str(&format!(" and {} in breaks", counted(own.room_days_in_breaks, "room-day", "room-days")));
        }
        answer.push_str(". The calendar on the Works sheet names them week by week.");
        known(Q, answer)
    }

    fn in_the_break(&self) -> Answer {
        const Q: &str = "Can it all be done in the long break, and what if it overruns?";
        let own = match self.programme(Q) {
            Ok(own) => own,
            Err(answer) => return answer,
        };
        let (usual, slow) = (own.usual(), own.slow());
        // Each pace is less work than the next, so a break that is enough for one is for those before.
        let fits = |pace: usize| {
            let figures = &own.paces[pace];
            figures.breaks == [1, 0] && figures.room_days_in_use == 0 && own.spilled[pace] == 0
        };
        let in_use = |figures: &Figures| counted(figures.room_days_in_use, "room-day", "room-days");
        let told = |figures: &Figures| match (figures.breaks, figures.room_days_in_use) {
            ([0, 0], 0) => "only when they are not in use".to_owned(),
            ([0, 0], _) => format!("for {} in use", in_use(figures)),
            (used, 0) => format!("in {}", breaks(used)),
            (used, _) => format!("in {} and for {} in use", breaks(used), in_use(figures)),
        };
        let mut answer = if usual.peak_rooms == 0 {
            "No room is shut, so it needs no break.".to_owned()
        } else if fits(2) && usual.breaks == [1, 0] {
            "Yes, in one long break, at slow pace too.".to_owned()
        } else if fits(2) {
            format!(
                "Yes, one long break is enough, at slow pace too. At the usual pace the programme takes {}, as they come.",
                breaks(usual.breaks)
            )
        } else if fits(1) {
            format!("Yes at the usual pace, in one long break. At slow pace rooms are shut {}.", told(slow))
        } else if fits(0) {
            format!(
                "Only with fast work, in one long break. At the usual pace rooms are shut {}, at slow pace {}.",
                told(usual),
                told(slow)
            )
        } else {
            format!(
                "Not as it is planned: at the usual pace rooms are shut {}, at slow pace {}.",
                told(usual),
                told(slow)
            )
        };
        if own.spilled[1] > 0 {
            let groups = counted(own.spilled[1], "group of rooms fits", "groups of rooms fit");
            answer.push_str(&format!(" {} in no break of this calendar.", capitalised(&groups)));
        }
        known(Q, answer)
    }

    fn loud(&self) -> Answer {
        const Q: &str = "Which days are too loud for exams or patients?";
        let own = match self.programme(Q) {
            Ok(own) => own.usual(),
            Err(answer) => return answer,
        };
        known(
            Q,
            if own.loud_days_in_use == 0 {
                "None at the usual pace: what is heard through the block is done while nobody is inside.".to_owned()
            } else {
                format!(
                    "{} heard through the whole block while it is in use; the Works sheet shows which. Days of exams or clinics \
                     are not in the calendar yet: loud work can wait for breaks, or bars be drilled wet.",
                    counted(own.loud_days_in_use, "day is", "days are")
                )
            },
        )
    }

    fn split(&self) -> Answer {
        const Q: &str = "Can it be split over several budgets, and is each stage safe on its own?";
        let own = match self.programme(Q) {
            Ok(own) => own.usual(),
            Err(answer) => return answer,
        };
        let breaks = own.breaks[0] + own.breaks[1];
        let falls = if breaks > 1 { format!("the programme falls into {breaks} breaks, but ") } else { String::new() };
        unknown(
            Q,
            &format!(
                "{falls}a part of a scheme can be weaker than the building as it stands, where it moves the weak storey or turns the \
                 building. The stages on the Works sheet set each beside the building as it stands"
            ),
        )
    }

    fn cost(&self) -> Answer {
        const Q: &str = "What does it cost with finishes, and how wrong may that be?";
        let Some(cost) = self.option.works.as_ref().map(|works| &works.cost).filter(|cost| cost.share.high > 0.0)
        else {
            return known(Q, "No works, no cost; what the building is at risk of stays.".to_owned());
        };
        let mut answer = format!(
            "About {} of a new building of the same floor area, finishes and preliminaries included; from {} with fast work to {} with \
             slow. It is built up from quantities and price ratios, not a price: fees, taxes and what is found on site come on top.",
            percent(cost.share.mid),
            percent(cost.share.low),
            percent(cost.share.high)
        );
        if let Some(in_use) = self.room_days_in_use() {
            match decant_share(Basis::of(self.project), in_use, self.study.floor_area_m2) {
                Some(share) => answer.push_str(&format!(" Temporary rooms add {}.", percent(share))),
                None if in_use > 0 => {
                    answer.push_str(" Temporary rooms are not priced yet: the owner names a price a day.")
                }
                None => {}
            }
        }
        known(Q, answer)
    }

    fn rebuild(&self) -> Answer {
        const Q: &str = "When is rebuilding wiser?";
        let Some(cost) = self.option.works.as_ref().map(|works| &works.cost) else {
            return unknown(Q, "the works of this option are withheld");
        };
        let band = format!("{} to {}", percent(ASKED_FROM), percent(ASKED_TO));
        known(
            Q,
            match self.option.kind {
                OptionKind::Rebuild => format!(
                    "When strengthening costs about {band} of it, agencies ask; an age, a plan or services past use, or poor \
                     concrete weigh as much."
                ),
                _ if cost.share.mid >= ASKED_TO => {
                    format!(
                        "At {} of a new building it should be looked at before anything else.",
                        percent(cost.share.mid)
                    )
                }
                _ if cost.share.high >= ASKED_FROM => format!(
                    "{} may reach the {band} of a new building at which agencies begin to ask; age, plan and services decide then.",
                    capitalised(&self.name())
                ),
                _ => format!(
                    "Not for cost alone: {} stays below the {band} of a new building at which agencies begin to ask. Poor concrete \
                     or a plan past use may still decide.",
                    self.name()
                ),
            },
        )
    }

    fn foundations(&self) -> Answer {
        const Q: &str = "Do foundations need work?";
        if !self.has_works() || self.option.kind == OptionKind::Rebuild {
            return unknown(Q, "soil and existing footings have not been looked at");
        }
        let says = |code: Code| self.option.findings.iter().any(|finding| finding.code == code);
        let footings = || self.option.connections.iter().filter(|own| own.kind == ConnectionKind::Footing);
        let short = footings().filter(|own| own.utilisation().is_some_and(|used| used > 1.0)).count() as u32;
        let mut parts = Vec::new();
        if short > 0 {
            let carries = if short == 1 { "it carries" } else { "they carry" };
            let asked = counted(short, "footing is asked", "footings are asked");
            parts.push(format!("{asked} for more than {carries}"));
        }
        if says(Code::FootingUplift) {
            parts.push("a footing lifts before the new work reaches its strength".to_owned());
        }
        if says(Code::FootingNotGiven) {
            parts.push("a new wall or frame has no footing drawn yet".to_owned());
        }
        if says(Code::HeavierByTen) {
            parts.push("the added weight asks for a study of the ground".to_owned());
        }
        if parts.is_empty() {
            let tail = "Soil and existing footings have still to be looked at.";
            return if footings().count() > 0 {
                known(Q, format!("The new footings as drawn carry what is asked of them. {tail}"))
            } else {
                unknown(
                    Q,
                    "nothing new stands on the ground, but existing footings under strengthened columns are unverified",
                )
            };
        }
        known(Q, format!("Probably: {}. Soil and existing footings have still to be looked at.", list(&parts)))
    }

    fn darker(&self) -> Answer {
        const Q: &str = "Do rooms get darker or lose doors?";
        let lost = self.option.findings.iter().find(|finding| finding.code == Code::DaylightLost);
        known(
            Q,
            match lost {
                Some(finding) => format!(
                    "Yes: wing and infill walls take daylight and openings, {}. Doors and ways out have to be checked against \
                     the fire rules.",
                    finding.detail.in_units(self.system)
                ),
                None if self.option.kind == OptionKind::Rebuild => "That is for the new design.".to_owned(),
                None => "No wall is put into an opening. What stands in front of a face may shade it.".to_owned(),
            },
        )
    }

    fn hidden(&self) -> Answer {
        const Q: &str = "What may be hidden?";
        let materials = &self.project.building.materials;
        let concrete = show(materials.concrete_mpa, Dimension::Megapascals, self.system);
        let grounds = match materials.knowledge {
            Knowledge::Assumed => "taken from the practice of its time",
            Knowledge::Drawings => "taken from drawings and old reports",
            Knowledge::Tested => "checked on site and tested",
        };
        Answer {
            question: Q,
            answer: format!(
                "Concrete of {concrete} and bars are {grounds}. Not known: asbestos and lead, carbonation and corrosion, bars and laps as \
                 built, footings and soil."
            ),
            known: materials.knowledge == Knowledge::Tested,
        }
    }

    fn carbon(&self) -> Answer {
        const Q: &str = "How much carbon against rebuilding?";
        let Some(carbon) = self.option.works.as_ref().map(|works| &works.carbon).filter(|own| own.tonnes.high > 0.0)
        else {
            return known(Q, "None is emitted by building nothing.".to_owned());
        };
        let tonnes = |value: f64| show(value, Dimension::Tonnes, self.system);
        known(
            Q,
            if self.option.kind == OptionKind::Rebuild {
                format!(
                    "About {} CO₂e for demolition and a new building, from {} to {}.",
                    tonnes(carbon.tonnes.mid),
                    tonnes(carbon.tonnes.low),
                    tonnes(carbon.tonnes.high)
                )
            } else {
                format!(
                    "About {} CO₂e, {} of rebuilding; from {} to {}.",
                    tonnes(carbon.tonnes.mid),
                    percent(carbon.share),
                    tonnes(carbon.tonnes.low),
                    tonnes(carbon.tonnes.high)
                )
            },
        )
    }

    fn needed(&self) -> Answer {
        const Q: &str = "What do you need from us now?";
        let mut needs: Vec<&str> = Vec::new();
        if self.project.building.materials.knowledge != Knowledge::Tested {
            needs.push("cores and bars tested (firms up every strength)");
        }
        if self.project.working_times.is_none() {
            needs.push("the calendar and the days that must stay quiet (firms up rooms and weeks)");
        }
        if Basis::of(self.project).own_figures() == 0 {
            needs.push("local rates and prices (firms up cost and duration)");
        }
        if Basis::of(self.project).decant_per_room_day() == 0.0 {
            needs.push("where people go while rooms are shut, and its price");
        }
        needs.push("a survey for asbestos and lead");
        needs.push("soil and footings opened up (firms up the footings)");
        known(Q, format!("{}.", capitalised(&list(&needs))))
    }
}
