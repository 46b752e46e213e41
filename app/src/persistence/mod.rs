//! What this browser keeps between visits: studies, the plan, data entry, filled pages, ballots on a screen. It knows no view.

pub mod data_entry;
pub mod decimal_mark;
mod kept_plans;
pub mod on_screen_ballots;
pub mod plan;
pub mod scan_desk;
pub mod studies;
pub mod tabs;
mod versions;

use crate::browser::{kept_texts, timers};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::time::Duration;

/// Longer than any sound database takes to answer; one that hangs must not keep the page from opening.
const LONGEST_WAIT: Duration = Duration::from_secs(2);

/// Calls `then` once what a browser lost that was ended at once is back in its store, in the name of the part of the page that
/// asked. Nothing may be read from the store before.
pub fn when_caught_up(then: impl FnOnce() + Send + Sync + 'static) {
    let (owner, waiting) = (Owner::current(), StoredValue::new(Some(then)));
    let is_waiting = move || waiting.with_value(Option::is_some);
    let begin = move || {
        let mut then = None;
        waiting.update_value(|waiting| then = waiting.take());
        match (then, &owner) {
            (Some(then), Some(owner)) => owner.with(then),
            (Some(then), None) => then(),
            (None, _) => {}
        }
    };
    let begin_anyway = begin.clone();
    spawn_local(async move {
        kept_texts::catch_up(is_waiting).await;
        untrack(begin);
    });
    timers::after(LONGEST_WAIT, begin_anyway);
}
