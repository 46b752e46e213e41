//! What happens later, or again and again. Nothing that is read then is tracked. It knows no work that waits.

use gloo::timers::callback::Interval;
use gloo::timers::future::sleep;
use leptos::prelude::*;
use leptos::task::spawn_local;
use send_wrapper::SendWrapper;
use std::time::Duration;

/// Calls `then` after this time; after no time at all, once the browser has had its turn.
pub fn after(wait: Duration, then: impl FnOnce() + 'static) {
    // A future frees what it holds when it is through; a timeout that is forgotten never does.
    let waited = sleep(wait);
    spawn_local(async move {
        waited.await;
        untrack(then);
    });
}

/// Calls `step` again and again until the part of the page that asked for it is gone.
pub fn every(period: Duration, step: impl Fn() + 'static) {
    let period_ms = u32::try_from(period.as_millis()).unwrap_or(u32::MAX);
    let ticking = SendWrapper::new(Interval::new(period_ms, move || untrack(&step)));
    on_cleanup(move || drop(ticking));
}

/// Waits; after no time at all the browser has had its turn.
pub async fn turn(wait: Duration) {
    sleep(wait).await;
}
