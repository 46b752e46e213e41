//! When panels are drawn again: once a view that shows it is looked at, and anew only where scores or target changed.

use crate::parts::long_work::LongWork;
use crate::state::AppContext;
use crate::state::Shared;
use leptos::prelude::*;
use likeness_core::study::Study;

/// What was drawn holds for these scores, before or after it was settled what counts as a match.
type DrawnFor = (Option<Shared<Study>>, bool);

/// Draws that go on while other views are looked at. Copies are handles to the same.
pub struct BootstrapWork<T: Send + Sync + 'static> {
    pub work: LongWork<T>,
    /// Whether the draws, or those that are being made, are those of the study as it is.
    holds: Memo<bool>,
}

impl<T: Send + Sync + 'static> BootstrapWork<T> {
    /// Calls `start` when the draws are wanted and there are none for the study as it is; a margin or a remark changes
    /// none.
    pub fn keep(
        context: AppContext,
        is_wanted: Memo<bool>,
        start: impl Fn(LongWork<T>, &Study) + Send + Sync + 'static,
    ) -> Self {
        let work = LongWork::new();
        let now = Memo::new(move |_| (context.derived.tasted.get(), context.derived.is_settled.get()));
        let drawn_for = RwSignal::new(None::<DrawnFor>);
        Effect::new(move |_| {
            if !is_wanted.get() {
                return;
            }
            let now = now.get();
            if drawn_for.with_untracked(|drawn_for| drawn_for.as_ref() == Some(&now)) {
                return;
            }
            context.app.study.with_untracked(|study| match study {
                Some(study) => start(work, study),
                None => work.drop_result(),
            });
            drawn_for.set(Some(now));
        });
        let holds = Memo::new(move |_| now.with(|now| drawn_for.with(|drawn_for| drawn_for.as_ref() == Some(now))));
        BootstrapWork { work, holds }
    }

    /// What was drawn for the study as it is: never what was drawn for other scores, not even until the new draws start.
    pub fn found(self) -> Option<Shared<T>> {
        if self.holds.get() { self.work.found() } else { None }
    }
}

impl<T: Send + Sync + 'static> Clone for BootstrapWork<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> Copy for BootstrapWork<T> {}
