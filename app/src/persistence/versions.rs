//! Records that several tabs may have open, and texts without a description: read and written so that no tab overwrites what
//! another one wrote since. It knows where they lie, and neither studies nor plans.

use crate::browser::indexed_db::{self, DatabaseError};
use crate::browser::kept_texts;
use crate::state::AppState;
use crate::state::tabs::{Revision, know};

/// What became of a text that was to be kept in the browser's own store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextKept {
    Here,
    /// Under another name, since another tab wrote under this one; said when it happens first.
    BesideNow,
    Not,
}

/// Keeps a record unless another tab has written it since this one read it; whether it was kept.
pub async fn keep(app: AppState, key: &str, about: &str, text: &str) -> Result<bool, DatabaseError> {
    let mut next = None;
    let describe = |lies_there: Option<&str>| {
        let there = lies_there.map(Revision::in_about);
        next = know(app, |own| own.next_revision(key, there.as_ref()));
        next.as_ref().map(|revision| revision.put_in(about))
    };
    let is_kept = indexed_db::keep_if(key, text, describe).await?;
    if let (true, Some(revision)) = (is_kept, next) {
        know(app, |own| own.note(key, revision));
    }
    Ok(is_kept)
}

/// The text of a record, which is about to be shown.
pub async fn read(app: AppState, key: &str) -> Result<Option<String>, DatabaseError> {
    let (about, text) = indexed_db::record_of(key).await?;
    let revision = Revision::in_about(&about.unwrap_or_default());
    know(app, |own| own.note_read(key, revision));
    Ok(text)
}

/// Notes what lies under a key as what this tab goes on from.
pub async fn note(app: AppState, key: &str) {
    if let Ok((Some(about), _)) = indexed_db::record_of(key).await {
        know(app, |own| own.note(key, Revision::in_about(&about)));
    }
}

/// Notes the description of a record as what this tab goes on from, unless it has read or written that record before.
pub fn note_first(app: AppState, key: &str, about: &str) {
    know(app, |own| own.note_first(key, Revision::in_about(about)));
}

/// A text of the browser's own store, which is about to be shown.
pub fn read_text(app: AppState, name: &str) -> Option<String> {
    let text = kept_texts::kept(name)?;
    know(app, |own| own.note_text(name, &text));
    Some(text)
}

/// Keeps a text in the browser's own store, beside another tab's where that one has written under the name since.
pub fn keep_text(app: AppState, name: &str, text: &str) -> TextKept {
    let here = know(app, |own| own.now_under(name));
    let lies_there = kept_texts::kept(&here);
    if know(app, |own| own.may_write_text(&here, lies_there.as_deref())) {
        return if write_text(app, &here, text) { TextKept::Here } else { TextKept::Not };
    }
    let beside = know(app, |own| own.version_name(name, &app.now()));
    if !write_text(app, &beside, text) {
        return TextKept::Not;
    }
    know(app, |own| own.go_on_under(name, &beside));
    TextKept::BesideNow
}

fn write_text(app: AppState, name: &str, text: &str) -> bool {
    let is_kept = kept_texts::keep(name, text);
    if is_kept {
        know(app, |own| own.note_text(name, text));
    }
    is_kept
}
