//! What is stored of data entry: the file that is typed into, the answer to the last line, the pages to look at again. It
//! must not know the rest of the state, nor who changes it.

use leptos::prelude::RwSignal;
use likeness_core::plan::data_entry::entry_file::EntryFile;
use std::collections::BTreeSet;

/// Everything that is stored of data entry. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct DataEntryState {
    /// What was typed, with the plan that it belongs to.
    pub file: RwSignal<Option<EntryFile>>,
    /// What was typed here before another file of data entry was opened.
    pub before: RwSignal<Option<EntryFile>>,
    /// What the last line led to.
    pub answer: RwSignal<Option<Answer>>,
    /// Pages that the slip guard wants looked at again.
    pub alarms: RwSignal<Vec<PageAlarm>>,
    /// Alarms that a person looked into and found no fault behind.
    pub cleared: RwSignal<BTreeSet<(usize, String)>>,
    pub sounds: RwSignal<bool>,
    /// Whether the browser keeps what is typed.
    pub is_saved: RwSignal<bool>,
}

/// What the page says about the line that was typed last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    pub kind: AnswerKind,
    pub what: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerKind {
    Taken,
    /// A page, or all of them, is full.
    PageDone,
    Stopped,
}

/// A page that doesn't look right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageAlarm {
    pub page: usize,
    /// Where to look first, from 0.
    pub row: usize,
    pub sentence: String,
}

impl Default for DataEntryState {
    fn default() -> Self {
        DataEntryState {
            file: RwSignal::new(None),
            before: RwSignal::new(None),
            answer: RwSignal::new(None),
            alarms: RwSignal::new(Vec::new()),
            cleared: RwSignal::new(BTreeSet::new()),
            sounds: RwSignal::new(true),
            is_saved: RwSignal::new(true),
        }
    }
}
