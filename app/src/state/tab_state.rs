//! What a tab knows of other tabs that show the same page: who wrote a record last, whether this tab may write it, and what is told.
//! Every record carries a revision; a tab writes over the revision that it knows and over no other, so that nothing of another
//! tab is overwritten. It must not know the rest of the state, where records lie, nor how notes travel.

use leptos::prelude::{RwSignal, StoredValue};
use likeness_core::numeric::hash::fnv_1a;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;

/// Where the revision stands in the description of a record.
const FIELD: &str = "revision";
/// What parts the name of a text from the time and the tab of its other version.
const VERSION_MARK: char = '~';

/// Which writing of a record it is, and whose. Records of earlier programs carry none: number 0 of nobody.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Revision {
    pub number: u64,
    pub tab: String,
}

/// What this tab knows of the records that it has read and written.
#[derive(Clone, Debug, Default)]
pub struct Knowledge {
    pub tab: String,
    /// The revision that was read or written last, by key.
    revisions: BTreeMap<String, Revision>,
    /// The fingerprint of what was read or written last, by the name of a text that has no description.
    texts: BTreeMap<String, u64>,
    /// Where this tab goes on writing what another tab had written since.
    moved: BTreeMap<String, String>,
    /// A record that was just read need not be written.
    just_read: Option<String>,
}

/// What a tab has open: the keys of study and plan, the name of the sheet that is being filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Held {
    pub study: Option<String>,
    pub plan: Option<String>,
    pub sheet: Option<String>,
}

/// What one tab tells all others: what it has open, and whether that answers another's note.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TabNote {
    pub tab: String,
    pub held: Held,
    pub is_answer: bool,
    /// So that no two notes are the same text.
    pub number: u64,
}

/// Everything that is stored about tabs. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct Tabs {
    pub knowledge: StoredValue<Knowledge>,
    /// What the person who fills in a sheet is told.
    pub of_sheet: RwSignal<Option<String>>,
    pub notes_told: StoredValue<u64>,
}

impl Revision {
    /// The revision in the description of a record; the first one where there is none.
    pub fn in_about(about: &str) -> Revision {
        let read: Option<Value> = serde_json::from_str(about).ok();
        read.and_then(|about| serde_json::from_value(about.get(FIELD)?.clone()).ok()).unwrap_or_default()
    }

    /// A description with this revision in it; one that is no JSON object stays as it is.
    pub fn put_in(&self, about: &str) -> String {
        match (serde_json::from_str(about), serde_json::to_value(self)) {
            (Ok(Value::Object(mut fields)), Ok(revision)) => {
                fields.insert(FIELD.to_owned(), revision);
                Value::Object(fields).to_string()
            }
            _ => about.to_owned(),
        }
    }
}

impl Knowledge {
    pub fn of_tab(tab: &str) -> Knowledge {
        Knowledge { tab: tab.to_owned(), ..Knowledge::default() }
    }

    /// The revision that this tab may write over what lies under a key; `None` where another tab has written since. What was
    /// deleted meanwhile may be written again.
    pub fn next_revision(&self, key: &str, lies_there: Option<&Revision>) -> Option<Revision> {
        let of_us = |there: &Revision| there.tab == self.tab || self.revisions.get(key) == Some(there);
        match lies_there {
            Some(there) if !of_us(there) => None,
            there => Some(Revision { number: there.map_or(0, |there| there.number) + 1, tab: self.tab.clone() }),
        }
    }

    /// Notes what lies under a key as this tab has read or written it.
    pub fn note(&mut self, key: &str, revision: Revision) {
        self.revisions.insert(key.to_owned(), revision);
    }

    /// Notes what lies under a key where this tab has not read or written it yet.
    pub fn note_first(&mut self, key: &str, revision: Revision) {
        self.revisions.entry(key.to_owned()).or_insert(revision);
    }

    /// Notes that a record was read and is about to be shown: from now on this tab writes there and nowhere else.
    pub fn note_read(&mut self, key: &str, revision: Revision) {
        self.note(key, revision);
        self.moved.remove(key);
        self.just_read = Some(key.to_owned());
    }

    /// Whether what is to be written under this key was just read; asked once after each reading.
    pub fn take_just_read(&mut self, key: Option<&str>) -> bool {
        let read = self.just_read.take();
        read.is_some() && read.as_deref() == key
    }

    /// Whether a text may be written over the one that lies under its name, or nothing lies there.
    pub fn may_write_text(&self, name: &str, lies_there: Option<&str>) -> bool {
        lies_there.is_none_or(|there| self.texts.get(name) == Some(&fnv_1a(there.as_bytes())))
    }

    pub fn note_text(&mut self, name: &str, text: &str) {
        self.texts.insert(name.to_owned(), fnv_1a(text.as_bytes()));
    }

    /// Where this tab writes what it has opened under a key.
    pub fn now_under(&self, key: &str) -> String {
        self.moved.get(key).map_or(key, String::as_str).to_owned()
    }

    /// From now on this tab writes under another key what it has opened under the first.
    pub fn go_on_under(&mut self, key: &str, other: &str) {
        self.moved.insert(key.to_owned(), other.to_owned());
    }

    /// From now on this tab writes under a key that no other tab uses, which is given back.
    pub fn go_on_beside(&mut self, key: &str) -> String {
        let own = self.own_key(key);
        self.go_on_under(key, &own);
        own
    }

    /// From now on this tab writes under the key itself.
    pub fn stay(&mut self, key: &str) {
        self.moved.remove(key);
    }

    /// A key that no other tab uses, for the other version of a record.
    fn own_key(&self, key: &str) -> String {
        let digits: String = self.tab.chars().filter(char::is_ascii_alphanumeric).collect();
        format!("{key}-{digits}-{}", self.moved.len() + 1)
    }

    /// The name of the other version of a text that has no description: the time stands in it.
    pub fn version_name(&self, name: &str, when: &str) -> String {
        let bare = version_parts(name).0;
        format!("{bare}{VERSION_MARK}{when}{VERSION_MARK}{}", self.tab)
    }
}

/// The name of a text without its version, and when that version was begun; `None` for the first one.
pub fn version_parts(name: &str) -> (&str, Option<&str>) {
    let mut parts = name.split(VERSION_MARK);
    (parts.next().unwrap_or(name), parts.next())
}

/// How the names of all other versions of a text begin.
pub fn versions_begin(name: &str) -> String {
    format!("{name}{VERSION_MARK}")
}

impl Held {
    /// What both have open.
    pub fn in_common(&self, other: &Held) -> Held {
        let both = |one: &Option<String>, other: &Option<String>| one.clone().filter(|_| one == other);
        Held {
            study: both(&self.study, &other.study),
            plan: both(&self.plan, &other.plan),
            sheet: both(&self.sheet, &other.sheet),
        }
    }

    pub fn is_nothing(&self) -> bool {
        *self == Held::default()
    }
}

impl Default for Tabs {
    fn default() -> Self {
        Tabs {
            knowledge: StoredValue::new(Knowledge::default()),
            of_sheet: RwSignal::new(None),
            notes_told: StoredValue::new(0),
        }
    }
}
