//! Saved studies: what the list says of each, and what is done to one that is not open. It must not know where they lie.

use super::study_file::study_in;
use crate::state::app_state::AppState;
use crate::state::tabs;
use crate::words::saved_studies as say;
use leptos::prelude::*;
use likeness_core::study::{LogKind, Study};
use likeness_core::write::study_file::study_file_text;
use serde::{Deserialize, Serialize};

/// What is told of a saved study without opening it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct SavedStudy {
    /// The key it is saved under; not part of the description.
    #[serde(skip)]
    pub key: String,
    pub title: String,
    pub target: Option<String>,
    /// Local date and time of the last change.
    pub when: String,
    pub assessors: usize,
    pub samples: usize,
    pub attributes: usize,
    pub scores: usize,
    pub bytes: usize,
}

/// A study that was deleted from the store and can still be had back.
#[derive(Clone, Debug, PartialEq)]
pub struct DeletedStudy {
    pub about: SavedStudy,
    /// Its study file, as it lay in the database.
    pub text: String,
}

impl SavedStudy {
    /// The description of a study whose file text has so many bytes.
    pub fn of(study: &Study, key: &str, when: &str, bytes: usize) -> Self {
        SavedStudy {
            key: key.to_owned(),
            title: study.title.clone(),
            target: study.settings.target.clone(),
            when: when.to_owned(),
            assessors: study.assessors.len(),
            samples: study.samples.len(),
            attributes: study.attributes.len(),
            scores: study.score_count(),
            bytes,
        }
    }

    /// What is in it, in one line.
    pub fn in_words(&self) -> String {
        say::about(self.target.as_deref(), self.assessors, self.samples, self.attributes, self.scores)
    }

    /// When it was changed last, and how much room it takes.
    pub fn when_and_size(&self) -> String {
        say::when_and_size(&self.when, self.bytes)
    }

    /// As it lies in the store.
    pub fn to_text(&self) -> String {
        // Names and counts cannot fail to be written.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// From the store; a description that can't be read still lists its study, under its key.
    pub fn from_text(key: &str, text: &str) -> Self {
        let read: Option<SavedStudy> = serde_json::from_str(text).ok();
        let mut saved = read.unwrap_or_else(|| SavedStudy { title: key.to_owned(), ..SavedStudy::default() });
        saved.key = key.to_owned();
        saved
    }
}

/// A key that none of these has, made from a clock's milliseconds.
pub fn new_key(saved: &[SavedStudy], milliseconds: u64) -> String {
    let key = |number: u64| format!("study-{number}");
    let mut number = milliseconds;
    while saved.iter().any(|study| study.key == key(number)) {
        number += 1;
    }
    key(number)
}

/// The list with one study put in its place: the latest change first.
pub fn with_saved(list: &[SavedStudy], study: SavedStudy) -> Vec<SavedStudy> {
    let mut list: Vec<SavedStudy> = list.iter().filter(|other| other.key != study.key).cloned().collect();
    list.push(study);
    sort(&mut list);
    list
}

/// Latest change first; by key where the clock says the same.
pub fn sort(list: &mut [SavedStudy]) {
    list.sort_by(|a, b| b.when.cmp(&a.when).then_with(|| b.key.cmp(&a.key)));
}

/// The text of a saved study under another title, with its description; or why it can't be renamed.
pub fn renamed(text: &str, key: &str, title: &str, when: &str) -> Result<(SavedStudy, String), String> {
    let mut study = study_in(text)?;
    let before = std::mem::replace(&mut study.title, title.trim().to_owned());
    study.note_in_log(when, LogKind::Stated, crate::words::report::log_renamed(&before, title.trim()));
    let text = study_file_text(&study);
    Ok((SavedStudy::of(&study, key, when, text.len()), text))
}

/// Tells the open study under which key it is saved. Nobody is told: nothing that is shown follows from it.
pub fn give_key(app: AppState, key: String) {
    app.study.update_untracked(|study| {
        if let Some(study) = study {
            study.kept_as = Some(key);
        }
    });
}

/// Notes that this tab goes on with another version of a study, since another tab has written it meanwhile: the open study, if
/// it is that one, gets the new key and name, and that is said. Gives the new name.
pub fn go_on_as_other_version(app: AppState, about: &SavedStudy, key: &str) -> String {
    let when = app.now();
    let title = crate::words::tabs::other_version(&about.title, &when);
    app.study.maybe_update(|study| {
        let Some(study) = study.as_mut().filter(|study| study.kept_as.as_ref() == Some(&about.key)) else {
            return false;
        };
        study.kept_as = Some(key.to_owned());
        let before = std::mem::replace(&mut study.title, title.clone());
        study.note_in_log(&when, LogKind::Stated, crate::words::report::log_renamed(&before, &title));
        true
    });
    tabs::say_beside(app, crate::words::tabs::STUDY_BESIDE, &title);
    title
}

#[cfg(test)]
mod tests {
    use super::*;

    fn saved(key: &str, when: &str) -> SavedStudy {
        SavedStudy { key: key.to_owned(), when: when.to_owned(), title: key.to_owned(), ..SavedStudy::default() }
    }

    #[test]
    fn a_new_key_is_new() {
        let list = [saved("study-5", ""), saved("study-6", "")];
        assert_eq!(new_key(&list, 4), "study-4");
        assert_eq!(new_key(&list, 5), "study-7");
    }

    #[test]
    fn the_list_holds_each_study_once_latest_first() {
        let list = with_saved(
            &[saved("a", "2026-01-01 08:00"), saved("b", "2026-01-02 08:00")],
            saved("a", "2026-01-03 08:00"),
        );
        let keys: Vec<&str> = list.iter().map(|study| study.key.as_str()).collect();
        assert_eq!(keys, ["a", "b"]);
        assert_eq!(list[0].when, "2026-01-03 08:00");
    }

    #[test]
    fn a_description_comes_back_and_a_broken_one_still_lists_its_study() {
        let mut one = saved("k", "2026-01-01 08:00");
        one.scores = 1800;
        one.target = Some("Fresh mango".to_owned());
        assert_eq!(SavedStudy::from_text("k", &one.to_text()), one);
        assert_eq!(SavedStudy::from_text("k", "not JSON").title, "k");
    }

    #[test]
    fn renaming_stands_in_the_log_and_a_damaged_study_is_left_alone() {
        let csv = b"assessor,sample,replicate,ripe\nAnna,target,1,60\nBen,target,1,70\n";
        let study = likeness_core::read::read_text("p.csv", csv, &Default::default()).study.expect("sound");
        let (about, text) = renamed(&study_file_text(&study), "k", " New ", "2026-01-01 08:00").expect("sound");
        let again = study_in(&text).expect("sound");
        assert_eq!((about.title.as_str(), again.title.as_str()), ("New", "New"));
        assert!(again.log.last().is_some_and(|entry| entry.what.contains("New")));
        assert!(renamed("{\"format\"", "k", "New", "").is_err());
    }
}
