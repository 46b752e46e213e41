//! When panels are drawn again: once a view that shows it is looked at, and anew only where scores or target changed.

use super::Desk;
use crate::state::Shared;
use leptos::prelude::*;
use likeness_core::study::Study;

/// What was drawn holds for these scores, before or after it was settled what counts as a match.
type DrawnFor = (Option<Shared<Study>>, bool);

/// Calls `start` when the draws are wanted and there are none for the study as it is; a margin or a remark changes none.
pub fn keep(desk: Desk, is_wanted: Memo<bool>, start: impl Fn(Option<&Study>) + Send + Sync + 'static) {
    Effect::new(move |before: Option<Option<DrawnFor>>| {
        let drawn_for = before.flatten();
        if !is_wanted.get() {
            return drawn_for;
        }
        let now = (desk.derived.tasted.get(), desk.derived.is_settled.get());
        if drawn_for.as_ref() != Some(&now) {
            desk.ground.study.with_untracked(|study| start(study.as_ref()));
        }
        Some(now)
    });
}
