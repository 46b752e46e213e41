//! The decimal mark that the reader chose, in the browser's own store.

use crate::browser::local_storage;
use crate::state::{AppState, learning};
use leptos::prelude::*;

const SAVED_AS: &str = "likeness-decimal-mark";
const COMMA: &str = "comma";
const POINT: &str = "point";

/// Brings the choice back and saves it whenever it changes.
pub fn start(app: AppState) {
    let comma = app.learning.decimal_comma;
    if local_storage::kept(SAVED_AS).as_deref() == Some(COMMA) {
        learning::use_decimal_comma(app, true);
    }
    Effect::new(move |before: Option<()>| {
        let chosen = if comma.get() { COMMA } else { POINT };
        if before.is_some() {
            // A browser that saves nothing asks again next time: no harm done.
            local_storage::keep(SAVED_AS, chosen);
        }
    });
}
