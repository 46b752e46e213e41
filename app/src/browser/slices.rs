//! Long work in slices, so that the page stays alive: a slice, then the browser's turn, then the next.

use super::{clock, timers};
use gloo::render::request_animation_frame;
use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;

/// Longest time for which the page is not listening: less than a frame of a 60 Hz screen.
const SLICE_MS: f64 = 12.0;

/// Calls `step` again and again until it says that it is done, and `between` after each slice that was not the last;
/// where `between` says stop, nothing more is called.
pub fn run(mut step: impl FnMut() -> bool + 'static, mut between: impl FnMut() -> bool + 'static) {
    let start = clock::milliseconds();
    while clock::milliseconds() - start < SLICE_MS {
        if step() {
            return;
        }
    }
    if between() {
        timers::after(Duration::ZERO, move || run(step, between));
    }
}

/// Calls `then` once the page as it now is has been painted.
pub fn after_painting(then: impl FnOnce() + 'static) {
    // Dropping the handle calls the frame off, so it is held until the frame has come.
    let held = Rc::new(Cell::new(None));
    let frame = held.clone();
    held.set(Some(request_animation_frame(move |_| {
        timers::after(Duration::ZERO, move || {
            frame.take();
            then();
        });
    })));
}

/// Calls `step` in slices as `run` does, the first one after the page has been painted, and only if `between` still
/// wants it then.
pub fn after_painting_in_slices(step: Box<dyn FnMut() -> bool>, mut between: Box<dyn FnMut() -> bool>) {
    after_painting(move || {
        if between() {
            run(step, between);
        }
    });
}
