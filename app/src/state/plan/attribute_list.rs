//! What a leader does to the attribute list of the draft.

use super::planning::{change_draft, type_into_draft};
use crate::state::app_state::AppState;
use crate::words::plan::attributes as say;
use leptos::prelude::WithUntracked;
use likeness_core::notice::{Notice, Place, Severity};
use likeness_core::plan::brief::attributes::{AttributeList, ListedAttribute};
use likeness_core::plan::brief::draft::PlanDraft;

/// Adds an empty line at the end, with end words as on the line before.
pub fn add(app: AppState) {
    type_into_draft(app, |draft| {
        let lines = &mut draft.attributes.attributes;
        let ends = lines.last().map(|line| (line.low_end.clone(), line.high_end.clone())).unwrap_or_default();
        let order = lines.iter().map(|line| line.order).max().unwrap_or(0) + 1;
        lines.push(ListedAttribute { low_end: ends.0, high_end: ends.1, order, ..ListedAttribute::default() });
    });
}

pub fn remove(app: AppState, row: usize) {
    let name = app.plan_draft.with_untracked(|draft| line_name(draft, row));
    change_draft(app, &say::step_removed(&name), |draft| {
        if row < draft.attributes.attributes.len() {
            let gone = draft.attributes.attributes.remove(row);
            draft.brief.deciding.retain(|name| *name != gone.name);
        }
    });
}

/// Moves a line up or down; says where it is now.
pub fn move_line(app: AppState, row: usize, is_up: bool) -> usize {
    let mut now = row;
    change_draft(app, say::STEP_MOVED, |draft| {
        let lines = &mut draft.attributes.attributes;
        let other = if is_up { row.checked_sub(1) } else { row.checked_add(1) };
        if let Some(other) = other.filter(|other| *other < lines.len() && row < lines.len()) {
            lines.swap(row, other);
            now = other;
        }
    });
    now
}

/// Changes a line as one types. A deciding attribute that gets another name goes on deciding.
pub fn type_into_line(app: AppState, row: usize, change: impl FnOnce(&mut ListedAttribute)) {
    type_into_draft(app, |draft| {
        let Some(line) = draft.attributes.attributes.get_mut(row) else { return };
        let before = line.name.clone();
        change(line);
        let after = line.name.clone();
        if before != after {
            draft.brief.deciding.iter_mut().filter(|name| **name == before).for_each(|name| name.clone_from(&after));
        }
    });
}

/// Puts the invented example in place of the list.
pub fn use_example(app: AppState) {
    change_draft(app, say::STEP_EXAMPLE, |draft| draft.attributes = AttributeList::mango_nectar_example());
}

/// Reads a list from a file and puts it in place of the one before; a file without a single usable line changes
/// nothing. Gives what was understood, repaired and refused.
pub fn import(app: AppState, name: &str, bytes: &[u8]) -> Vec<Notice> {
    let Some(text) = likeness_core::read::text_in(bytes) else {
        return vec![Notice::new(Severity::Refused, Place::file(name), say::NO_TEXT, say::NO_TEXT_HINT)];
    };
    let reading = AttributeList::read_csv(&text, name);
    let is_refused = reading.notices.iter().any(|notice| notice.severity == Severity::Refused);
    if !reading.list.attributes.is_empty() && !is_refused {
        change_draft(app, say::STEP_IMPORT, |draft| draft.attributes = reading.list);
    }
    reading.notices
}

/// Adds the words of a pasted text to the list. Says how many it gained, and which it had.
pub fn paste(app: AppState, text: &str) -> String {
    let pasted = app.plan_draft.with_untracked(|draft| draft.attributes.pasted(text));
    let said = say::pasted(pasted.new.len(), &pasted.known);
    change_draft(app, say::STEP_PASTED, |draft| draft.attributes.attributes.extend(pasted.new));
    said
}

fn line_name(draft: &PlanDraft, row: usize) -> String {
    draft.attributes.attributes.get(row).map(|line| line.name.clone()).unwrap_or_default()
}
