//! This tab beside the other tabs that show the same page: a name of its own, and notes that all of them hear. A note is a text in
//! the browser's store whose change the browser tells every other tab, also from a file on disk and while they are hidden,
//! when timers are slow. What a note says is not known here.

use super::{clock, events, local_storage};
use web_sys::StorageEvent;

const NOTE: &str = "likeness-tabs";

/// A name that no other tab has, from clock and chance.
pub fn new_name() -> String {
    format!("{:x}-{:x}", clock::epoch_milliseconds(), (js_sys::Math::random() * 1e9) as u64)
}

/// Writes a note that every other tab hears, if it differs from the one before. A browser that keeps nothing has no notes,
/// and nothing that another tab could overwrite.
pub fn tell_others(note: &str) {
    local_storage::keep(NOTE, note);
}

/// Hears the notes of other tabs until the part of the page that asked for it is gone.
pub fn hear_others(heard: impl Fn(&str) + 'static) {
    events::on_window("storage", move |event: &StorageEvent| {
        if let (Some(NOTE), Some(note)) = (event.key().as_deref(), event.new_value()) {
            heard(&note);
        }
    });
}
