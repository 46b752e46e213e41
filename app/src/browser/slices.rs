//! Long work in slices, so that the page stays alive: a slice, then the browser's turn, then the next.

use leptos::prelude::*;
use std::time::Duration;

/// Calls `slice` until it says that it is done.
pub fn run(mut slice: impl FnMut() -> bool + 'static) {
    if !slice() {
        set_timeout(move || run(slice), Duration::ZERO);
    }
}
