//! What sheets, drawings and charts read, and how they choose what is looked at.
//!
//! Sheets read results and never write the project: everything here is a signal to read or
//! a setter of the selection.

use crate::store::{Choice, RoomEdit, Sheet};
use leptos::prelude::*;
use sisterframe_core::fitting::Spot;
use sisterframe_core::project::{Direction, Measure, Project};
use sisterframe_core::study::{OptionKind, OptionResult, Study};
use sisterframe_core::units::System;
use sisterframe_core::works::Room;
use std::sync::Arc;

/// The one context of all sheets; cheap to copy.
#[derive(Clone, Copy)]
pub struct View {
    /// The project the results belong to, always checked.
    pub project: Signal<Arc<Project>>,
    /// The last good results. During a drag only the edited option is renewed. Read it with
    /// `with` where a clone is not needed, so that results can be renewed in place.
    pub study: Signal<Arc<Study>>,
    /// The sheet that is turned up.
    pub sheet: Signal<Sheet>,
    /// The option looked at; always one the project has.
    pub option: Signal<OptionKind>,
    /// The direction looked at.
    pub direction: Signal<Direction>,
    /// The floor picked on a drawing or table, by the storey below it; `None` for no floor.
    pub floor: Signal<Option<u32>>,
    /// The frame line drawn from the front, by direction and place; always one the building has.
    pub line: Signal<(Direction, usize)>,
    /// The column, bay, line or storey pointed at; always one the building has.
    pub spot: Signal<Option<Spot>>,
    /// The connection opened, by its place among the options and among theirs; the study may not
    /// have it.
    pub joint: Signal<Option<(usize, usize)>>,
    /// Results by the other rule set, while they are to stand beside the project's own.
    pub beside: Signal<Option<Arc<Study>>>,
    /// Whether they are to.
    pub both_sets: Signal<bool>,
    /// The room pointed at, by one of its bays; there may be no floor.
    pub room: Signal<Option<Room>>,
    /// Units numbers are shown in.
    pub system: Signal<System>,
    /// Entries on the bench that are not accepted; results are of the last accepted values.
    pub refused: Signal<usize>,
    /// Whether the sheets are laid out for the printer, which waits for nothing that comes later.
    pub printing: Signal<bool>,
    /// Takes every choice.
    pub choose: Callback<Choice>,
    /// Takes a measure chosen on a drawing, as a step of the bench.
    pub add: Callback<Measure>,
    /// Takes a change of a room chosen on the plan, as a step of the bench, and gives the reason where
    /// it is refused. Sheets write nothing else.
    pub arrange: Callback<(Room, RoomEdit), Option<String>>,
}

impl View {
    /// The view of the page this component is part of.
    pub fn of_page() -> Self {
        expect_context()
    }

    /// Looks at another option.
    pub fn choose_option(self, option: OptionKind) {
        self.choose.run(Choice::Option(option));
    }

    /// Looks along another direction.
    pub fn choose_direction(self, direction: Direction) {
        self.choose.run(Choice::Direction(direction));
    }

    /// Picks a floor, or none.
    pub fn choose_floor(self, floor: Option<u32>) {
        self.choose.run(Choice::Floor(floor));
    }

    /// Turns up a sheet.
    pub fn choose_sheet(self, sheet: Sheet) {
        self.choose.run(Choice::Sheet(sheet));
    }

    /// Reads the result of the option looked at.
    pub fn with_option<T>(self, read: impl FnOnce(&OptionResult) -> T) -> Option<T> {
        let kind = self.option.get();
        self.study.with(|study| study.options.iter().find(|option| option.kind == kind).map(read))
    }
}
