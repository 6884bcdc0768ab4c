//! A table of records that is edited as spreadsheets are: arrow keys, typing, blocks pasted
//! and filled.
//!
//! The table is written as markup; one cell at a time holds a field. It keeps its own marks
//! for the cell looked at and the cells chosen, so that moving about writes nothing anew.

use crate::bench::table_html::{Shown, cell_id, cell_of, editor, markup, refusals, shown_text};
use crate::live::{listen, on, part, value_of, whether, words};
use crate::state::App;
use crate::store::{Column, Command, Entry, List, Root, RowEdit, block_of, cell_value_of, text_of};
use leptos::ev::{ClipboardEvent, FocusEvent, KeyboardEvent, MouseEvent};
use leptos::html;
use leptos::prelude::*;
use sisterframe_core::project::Control;
use std::sync::Arc;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, HtmlInputElement};

/// A cell, by row and column.
type Spot = (usize, usize);

/// What a table is looked at with; not part of the project.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Look {
    /// The cell the keys go to.
    at: Spot,
    /// The other corner of the cells chosen.
    anchor: Spot,
    /// Whether the cell is being edited.
    editing: bool,
}

/// A table on the page.
#[derive(Clone, Copy)]
struct Grid {
    app: App,
    list: List,
    columns: StoredValue<Arc<Vec<Column>>>,
    shown: Memo<Shown>,
    look: StoredValue<Look>,
    rows_chosen: RwSignal<(usize, usize)>,
    place: NodeRef<html::Table>,
    tools: NodeRef<html::Div>,
}

/// The table of a list, with its tools.
pub fn table(app: App, list: List, label: &'static str) -> AnyView {
    let shown = Memo::new(move |_| Shown {
        list,
        rows: app.project.with(|project| list.rows(project)),
        drafts: app.document.with(|document| {
            let own = document.drafts().iter().filter(|(slot, _)| matches!(slot.root, Root::Row(of, _) if of == list));
            own.map(|(slot, draft)| (slot.clone(), draft.clone())).collect()
        }),
        system: app.system.get(),
    });
    let grid = Grid {
        app,
        list,
        columns: StoredValue::new(Arc::new(list.columns())),
        shown,
        look: StoredValue::new(Look::default()),
        rows_chosen: RwSignal::new((0, 0)),
        place: NodeRef::new(),
        tools: NodeRef::new(),
    };
    Effect::new(move |_| {
        shown.track();
        grid.write();
    });
    Effect::new(move |_| {
        if let Some(place) = grid.place.get() {
            let kinds = ["keydown", "mousedown", "dblclick", "focusin", "focusout", "copy", "paste"];
            listen(&place, &kinds, move |event| grid.happened(&event));
        }
    });
    let refused = move || {
        let html = shown.with(refusals);
        if html.is_empty() { ().into_any() } else { view! { <div role="alert" inner_html=html></div> }.into_any() }
    };
    let none = whether(move || shown.with(|shown| shown.rows.is_empty()));
    view! {
        <div class="table-box" hidden=none>
            <table
                node_ref=grid.place
                class="grid"
                role="grid"
                aria-label=label
                aria-multiselectable="true"
            ></table>
        </div>
        {part(refused)}
        {grid.tool_row()}
    }
    .into_any()
}

impl Grid {
    fn happened(self, event: &web_sys::Event) {
        match event.type_().as_str() {
            "keydown" => self.key(event.unchecked_ref()),
            "mousedown" => self.pressed(event.unchecked_ref()),
            "dblclick" if self.spot_of(event.target()).is_some() => self.edit(None),
            "focusin" => {
                if let Some(spot) = self.spot_of(event.target()) {
                    self.arrived(spot);
                }
            }
            "focusout" => self.left(event.unchecked_ref()),
            "copy" => self.copy(event.unchecked_ref()),
            "paste" => self.paste(event.unchecked_ref()),
            _ => {}
        }
    }

    fn rows(self) -> usize {
        self.shown.with_untracked(|shown| shown.rows.len())
    }

    fn columns(self) -> Arc<Vec<Column>> {
        self.columns.get_value()
    }

    /// The chosen cells: first and last row, first and last column.
    fn chosen(self) -> (Spot, Spot) {
        let Look { at, anchor, .. } = self.look.get_value();
        ((at.0.min(anchor.0), at.0.max(anchor.0)), (at.1.min(anchor.1), at.1.max(anchor.1)))
    }

    /// Writes the table anew; a cell that had the focus has it again.
    fn write(self) {
        let Some(place) = self.place.get_untracked() else { return };
        let had_focus = document().active_element().is_some_and(|active| place.contains(Some(&active)));
        self.look.update_value(|look| look.editing = false);
        place.set_inner_html(&self.shown.with_untracked(markup));
        let Look { at, anchor, .. } = self.look.get_value();
        let last = (self.rows().saturating_sub(1), self.columns().len().saturating_sub(1));
        let held = |spot: Spot| (spot.0.min(last.0), spot.1.min(last.1));
        self.go(held(at), held(anchor), had_focus);
    }

    fn cell(self, spot: Spot) -> Option<HtmlElement> {
        document().get_element_by_id(&cell_id(self.list, spot.0, spot.1))?.dyn_into().ok()
    }

    fn spot_of(self, target: Option<web_sys::EventTarget>) -> Option<Spot> {
        let element: Element = target?.dyn_into().ok()?;
        cell_of(self.list, &element.closest("[id]").ok()??.id())
    }

    /// Goes to a cell and chooses the cells from `anchor` to it.
    fn go(self, at: Spot, anchor: Spot, focus: bool) {
        let old = self.look.get_value();
        let each = |((first, last), (left, right)): (Spot, Spot), act: &dyn Fn(&HtmlElement)| {
            for row in first..=last {
                (left..=right).filter_map(|column| self.cell((row, column))).for_each(|cell| act(&cell));
            }
        };
        each(self.chosen(), &|cell| {
            let _ = cell.remove_attribute("aria-selected");
        });
        if let Some(cell) = self.cell(old.at) {
            let _ = cell.set_attribute("tabindex", "-1");
        }
        self.look.set_value(Look { at, anchor, editing: false });
        each(self.chosen(), &|cell| {
            let _ = cell.set_attribute("aria-selected", "true");
        });
        if let Some(cell) = self.cell(at) {
            let _ = cell.set_attribute("tabindex", "0");
            if focus {
                let _ = cell.focus();
                show_whole(&cell);
            }
        }
        let rows = self.chosen().0;
        if self.rows_chosen.get_untracked() != rows {
            self.rows_chosen.set(rows);
        }
    }

    fn arrived(self, spot: Spot) {
        let look = self.look.get_value();
        if look.at != spot && !look.editing {
            self.go(spot, spot, false);
        }
    }

    /// Leaving a field that is being edited enters what it holds.
    fn left(self, event: &FocusEvent) {
        let look = self.look.get_value();
        let stays = event
            .related_target()
            .and_then(|next| next.dyn_into::<Element>().ok())
            .is_some_and(|next| self.cell(look.at).is_some_and(|cell| cell.contains(Some(&next))));
        if look.editing && !stays {
            self.enter();
        }
    }

    fn pressed(self, event: &MouseEvent) {
        let look = self.look.get_value();
        let Some(spot) = self.spot_of(event.target()) else { return };
        if look.editing && look.at == spot {
            return;
        }
        event.prevent_default();
        if look.editing {
            self.enter();
        }
        // A second press on a cell edits it, so that a finger can.
        let again = look.at == spot && self.has_focus() && !event.shift_key();
        self.go(spot, if event.shift_key() { look.anchor } else { spot }, true);
        if again {
            self.edit(None);
        }
    }

    fn has_focus(self) -> bool {
        let active = document().active_element();
        self.place.get_untracked().is_some_and(|place| active.is_some_and(|active| place.contains(Some(&active))))
    }

    /// Puts a field into the cell looked at, with its text or with what is typed over it.
    fn edit(self, typed: Option<&str>) {
        let look = self.look.get_value();
        let (Some(cell), Some(column)) = (self.cell(look.at), self.columns().get(look.at.1).cloned()) else { return };
        if look.editing || !self.list.is_open(&column.keys) {
            return;
        }
        let held = self.shown.with_untracked(|shown| shown_text(shown, look.at.0, &column));
        let options = self.options(&column);
        // A letter typed over a choice leads to the first one that begins with it.
        let begun = typed.and_then(|typed| {
            let begins = |name: &&str| name.to_lowercase().starts_with(&typed.to_lowercase());
            options.iter().map(String::as_str).find(begins)
        });
        let text = match typed {
            Some(typed) if options.is_empty() => typed,
            _ => begun.unwrap_or(&held),
        };
        let list = self.list;
        let row = self.shown.with_untracked(|shown| {
            shown.rows.get(look.at.0).map_or_else(String::new, |row| list.row_name(row, look.at.0, shown.rows.len()))
        });
        let label = format!("{}, {} {row}", column.field.spec.label, list.row_word());
        self.look.update_value(|look| look.editing = true);
        cell.set_inner_html(&editor(&options, text, &label));
        if let Some(field) = self.field() {
            let _ = field.focus();
            if let Some(input) = field.dyn_ref::<HtmlInputElement>()
                && typed.is_none()
            {
                input.select();
            } else if let Some(input) = field.dyn_ref::<HtmlInputElement>() {
                let end = input.value().len() as u32;
                let _ = input.set_selection_range(end, end);
            }
        }
    }

    /// The words a cell offers to choose from.
    fn options(self, column: &Column) -> Vec<String> {
        match column.field.control {
            Control::Choice(options) => options.iter().map(|(_, label)| (*label).to_owned()).collect(),
            Control::Flag => vec!["yes".to_owned(), "no".to_owned()],
            Control::Text => self.app.project.with_untracked(|project| self.list.offered(project, &column.keys)),
            _ => Vec::new(),
        }
    }

    /// The field in the cell that is being edited.
    fn field(self) -> Option<HtmlElement> {
        self.cell(self.look.get_value().at)?.first_element_child()?.dyn_into().ok()
    }

    /// Enters what the field holds and takes the field away.
    fn enter(self) {
        let look = self.look.get_value();
        let Some(field) = self.field().filter(|_| look.editing) else { return };
        let text = value_of(&field);
        self.look.update_value(|look| look.editing = false);
        let Some(column) = self.columns().get(look.at.1).cloned() else { return };
        let held = self.shown.with_untracked(|shown| shown_text(shown, look.at.0, &column));
        if text != held {
            let value = self.value(look.at.0, &column, &text);
            self.app.enter(&crate::store::cell_slot(self.list, look.at.0, &column.keys), &text, value);
        }
        self.write();
    }

    fn value(
        self,
        row: usize,
        column: &Column,
        text: &str,
    ) -> Result<serde_json::Value, sisterframe_core::project::FieldError> {
        let system = self.app.system.get_untracked();
        let column = self.shown.with_untracked(|shown| self.list.in_row(column, shown.rows.get(row)).into_owned());
        self.app.project.with_untracked(|project| cell_value_of(project, self.list, &column, text, system))
    }

    fn key(self, event: &KeyboardEvent) {
        if event.is_composing() {
            return;
        }
        let done = if self.look.get_value().editing { self.key_in_field(event) } else { self.key_in_table(event) };
        if done {
            event.prevent_default();
            event.stop_propagation();
        }
    }

    /// Keys while a cell is edited; what is left belongs to its field.
    fn key_in_field(self, event: &KeyboardEvent) -> bool {
        let Look { at, .. } = self.look.get_value();
        let in_text = self.field().is_some_and(|field| field.tag_name() == "INPUT");
        match event.key().as_str() {
            "Escape" => {
                self.look.update_value(|look| look.editing = false);
                self.write();
                self.go(at, at, true);
            }
            "Enter" => self.enter_and_go(if event.shift_key() { -1 } else { 1 }, 0),
            "Tab" => {
                self.enter();
                self.go(at, at, true);
                return self.tab(event.shift_key());
            }
            "ArrowUp" if in_text => self.enter_and_go(-1, 0),
            "ArrowDown" if in_text => self.enter_and_go(1, 0),
            _ => {
                // What is typed has its own undo, and page keys their use in it.
                event.stop_propagation();
                return false;
            }
        }
        true
    }

    fn enter_and_go(self, down: isize, right: isize) {
        let Look { at, .. } = self.look.get_value();
        self.enter();
        let next = self.stepped(at, down, right);
        self.go(next, next, true);
    }

    fn stepped(self, from: Spot, down: isize, right: isize) -> Spot {
        let step = |place: usize, by: isize, count: usize| place.saturating_add_signed(by).min(count.saturating_sub(1));
        (step(from.0, down, self.rows()), step(from.1, right, self.columns().len()))
    }

    /// Goes to the next cell, or to the one before; at the ends the key leaves the table.
    fn tab(self, back: bool) -> bool {
        let Look { at, .. } = self.look.get_value();
        let width = self.columns().len();
        let place = at.0 * width + at.1;
        let next = if back { place.checked_sub(1) } else { Some(place + 1) };
        let Some(next) = next.filter(|next| *next < self.rows() * width) else { return false };
        let next = (next / width, next % width);
        self.go(next, next, true);
        true
    }

    /// Keys while the table is moved about in.
    fn key_in_table(self, event: &KeyboardEvent) -> bool {
        let Look { at, anchor, .. } = self.look.get_value();
        let command = event.ctrl_key() || event.meta_key();
        let last = (self.rows().saturating_sub(1), self.columns().len().saturating_sub(1));
        let walk = |to: Spot| {
            self.go(to, if event.shift_key() { anchor } else { to }, true);
            true
        };
        let key = event.key();
        match (command, key.as_str()) {
            (false, "ArrowUp" | "ArrowDown") if event.alt_key() => {
                self.shift_row(if key == "ArrowUp" { -1 } else { 1 });
                true
            }
            (_, "ArrowUp") => walk(if command { (0, at.1) } else { self.stepped(at, -1, 0) }),
            (_, "ArrowDown") => walk(if command { (last.0, at.1) } else { self.stepped(at, 1, 0) }),
            (_, "ArrowLeft") => walk(if command { (at.0, 0) } else { self.stepped(at, 0, -1) }),
            (_, "ArrowRight") => walk(if command { (at.0, last.1) } else { self.stepped(at, 0, 1) }),
            (false, "Home") => walk((at.0, 0)),
            (false, "End") => walk((at.0, last.1)),
            (true, "Home") => walk((0, 0)),
            (true, "End") => walk(last),
            (false, "Tab") => self.tab(event.shift_key()),
            (true, "Enter") => {
                self.add();
                true
            }
            (false, "Enter" | "F2") => {
                self.edit(None);
                true
            }
            (false, "Delete" | "Backspace") => {
                self.fill(|_, _| String::new());
                true
            }
            (false, "Escape") => self.leave(),
            (true, "a" | "A") => {
                self.go(last, (0, 0), true);
                true
            }
            (true, "d" | "D") => {
                self.fill_down();
                true
            }
            (false, typed) if !event.alt_key() && typed.chars().count() == 1 => {
                self.edit(Some(typed));
                true
            }
            _ => false,
        }
    }

    /// Gives the focus to the tools under the table.
    fn leave(self) -> bool {
        let first = self.tools.get_untracked().and_then(|tools| tools.query_selector("button").ok().flatten());
        first.and_then(|first| first.dyn_into::<HtmlElement>().ok()).is_some_and(|first| first.focus().is_ok())
    }

    /// Enters a block of texts at the cells they are given for, and says what came of it.
    fn enter_block(self, cells: Vec<(Spot, String)>, what: &str) {
        let columns = self.columns();
        let entry = |((row, column), text): (Spot, String)| {
            let column = columns.get(column).filter(|column| self.list.is_open(&column.keys))?;
            Some(Entry { row, keys: column.keys.clone(), value: self.value(row, column, &text), text })
        };
        let entries = cells.into_iter().filter_map(entry).collect();
        if let Some(entered) = self.app.enter_cells(self.list, entries) {
            let mut words = format!("{what}: {} cells", entered.taken);
            if entered.grown > 0 {
                words.push_str(&format!(" in {} new rows", entered.grown));
            }
            if entered.refused > 0 {
                words.push_str(&format!("; {} not accepted, told under the table", entered.refused));
            }
            self.app.tell(format!("{words}."));
        }
    }

    /// Gives every chosen cell a text.
    fn fill(self, text: impl Fn(usize, usize) -> String) {
        let ((first, last), (left, right)) = self.chosen();
        let cells = (first..=last).flat_map(|row| (left..=right).map(move |column| (row, column)));
        self.enter_block(cells.map(|(row, column)| ((row, column), text(row, column))).collect(), "Filled");
    }

    /// Fills the chosen cells from the first chosen row; a single row from the one above.
    fn fill_down(self) {
        let Look { at, anchor, .. } = self.look.get_value();
        let ((first, last), _) = self.chosen();
        let source = if first == last { first.checked_sub(1) } else { Some(first) };
        let Some(source) = source else { return };
        let columns = self.columns();
        self.fill(|_, column| {
            columns
                .get(column)
                .map_or_else(String::new, |column| self.shown.with_untracked(|shown| shown_text(shown, source, column)))
        });
        self.go(at, anchor, true);
    }

    /// Empties all figures of the chosen rows, which brings the table's back.
    fn go_back(self) {
        let ((first, last), _) = self.chosen();
        let width = self.columns().len();
        let cells = (first..=last).flat_map(|row| (0..width).map(move |column| ((row, column), String::new())));
        self.enter_block(cells.collect(), "Back to the table");
    }

    fn copy(self, event: &ClipboardEvent) {
        if self.look.get_value().editing {
            return;
        }
        let ((first, last), (left, right)) = self.chosen();
        let columns = self.columns();
        let text = self.shown.with_untracked(|shown| {
            let row = |row: usize| columns[left..=right].iter().map(|column| shown_text(shown, row, column)).collect();
            text_of(&(first..=last).map(row).collect::<Vec<_>>())
        });
        if let Some(data) = event.clipboard_data()
            && data.set_data("text/plain", &text).is_ok()
        {
            event.prevent_default();
        }
    }

    /// A block goes into the cells from the chosen ones' first corner; one value into all of them.
    fn paste(self, event: &ClipboardEvent) {
        event.stop_propagation();
        if self.look.get_value().editing {
            return;
        }
        let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok()).unwrap_or_default();
        let block = block_of(&text);
        if block.is_empty() {
            return;
        }
        event.prevent_default();
        let ((first, last), (left, right)) = self.chosen();
        if let [row] = block.as_slice()
            && let [only] = row.as_slice()
            && (first, left) != (last, right)
        {
            return self.fill(|_, _| only.clone());
        }
        let width = self.columns().len();
        let too_wide = block.iter().map(Vec::len).max().unwrap_or(0) > width - left;
        if too_wide {
            let words = format!("the block has more columns than the table has from here on, {}.", width - left);
            return self.app.warn(format!("Not pasted: {words}"));
        }
        let cells = block.into_iter().enumerate().flat_map(|(down, row)| {
            row.into_iter().enumerate().map(move |(across, text)| ((first + down, left + across), text))
        });
        self.enter_block(cells.collect(), "Pasted");
    }

    fn apply(self, edit: RowEdit) -> bool {
        self.app.apply(&Command::Rows { list: self.list, edit }).is_some()
    }

    /// Puts a row in after the one looked at.
    fn add(self) {
        let Look { at, .. } = self.look.get_value();
        let row = if self.rows() == 0 { 0 } else { at.0 + 1 };
        if self.apply(RowEdit::Add { at: row }) {
            self.look.update_value(|look| (look.at, look.anchor) = ((row, at.1), (row, at.1)));
            self.look_at_table();
        }
    }

    fn shift_row(self, by: isize) {
        let Look { at, .. } = self.look.get_value();
        let to = at.0.checked_add_signed(by).filter(|to| *to < self.rows());
        if let Some(to) = to
            && self.apply(RowEdit::Move { from: at.0, to })
        {
            self.look.update_value(|look| (look.at, look.anchor) = ((to, at.1), (to, at.1)));
        }
    }

    /// Gives the table the focus once it is written.
    fn look_at_table(self) {
        request_animation_frame(move || {
            let Look { at, anchor, .. } = self.look.get_value();
            self.go(at, anchor, true);
        });
    }

    fn tool_row(self) -> AnyView {
        let word = self.list.row_word();
        let tool = |name: String, words: &'static str, idle: Signal<bool>, act: Box<dyn Fn()>| {
            view! {
                <button type="button" aria-label=name disabled=idle on:click=on(move |_| act())>{words}</button>
            }
            .into_any()
        };
        let span = move || {
            let (first, last) = self.rows_chosen.get_untracked();
            (first, last + 1 - first)
        };
        let none = whether(move || self.shown.with(|shown| shown.rows.is_empty()));
        let ordered = matches!(self.list, List::XLines | List::YLines | List::Spectrum);
        let at_top = whether(move || self.rows_chosen.get().0 == 0);
        let at_end = whether(move || self.rows_chosen.get().1 + 1 >= self.shown.with(|shown| shown.rows.len()));
        let delete = move || {
            let (first, count) = span();
            if self.apply(RowEdit::Delete { first, count }) {
                self.app.tell(format!("Done: deleting {word}. Undo brings it back."));
            }
        };
        let duplicate = move || {
            let (first, count) = span();
            self.apply(RowEdit::Duplicate { first, count });
        };
        let chosen = words(move || {
            let (first, last) = self.rows_chosen.get();
            match self.shown.with(|shown| (shown.rows.len(), first == last)) {
                (0, _) => "none yet".to_owned(),
                (count, true) => format!("{} of {count}", first + 1),
                (count, false) => format!("{}–{} of {count}", first + 1, last + 1),
            }
        });
        let fill_down = tool(format!("Fill down: {word}"), "Fill down", none, Box::new(move || self.fill_down()));
        let mut tools = vec![
            tool(format!("Add {word}"), "Add", whether(|| false), Box::new(move || self.add())),
            tool(format!("Duplicate {word}"), "Duplicate", none, Box::new(duplicate)),
            tool(format!("Delete {word}"), "Delete", none, Box::new(delete)),
            fill_down,
        ];
        if self.list == List::Rates {
            // Its rows are those of the table; what may be done is to go back to it.
            let back = Box::new(move || self.go_back());
            tools.drain(..3);
            tools.push(tool("Back to the table: activities chosen".to_owned(), "Back to the table", none, back));
        } else if !ordered {
            tools.push(tool(format!("Move {word} up"), "↑", at_top, Box::new(move || self.shift_row(-1))));
            tools.push(tool(format!("Move {word} down"), "↓", at_end, Box::new(move || self.shift_row(1))));
        }
        view! {
            <div class="tool-row" role="group" aria-label=format!("Rows: {word}") node_ref=self.tools>
                {tools.into_iter().collect_view()}
                <span class="tool-count">{chosen}</span>
            </div>
        }
        .into_any()
    }
}

/// Scrolls the table's box sideways until a cell is clear of the column that stays.
fn show_whole(cell: &HtmlElement) {
    let frame = cell.closest(".table-box").ok().flatten();
    let (Some(frame), Some(row)) = (frame, cell.parent_element()) else { return };
    let Some(head) = row.first_element_child().filter(|head| !head.is_same_node(Some(cell))) else { return };
    let edge = head.get_bounding_client_rect().right();
    let left = cell.get_bounding_client_rect().left();
    if left < edge {
        frame.set_scroll_left(frame.scroll_left() - (edge - left).ceil() as i32);
    }
}
