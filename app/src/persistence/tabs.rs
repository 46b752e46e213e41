//! Telling other tabs what this one has open, and hearing what they have: at once, by notes that they answer. It knows no view.

use super::on_screen_ballots;
use crate::browser::tab;
use crate::state::AppState;
use crate::state::tabs::{self, Held, TabNote};
use leptos::prelude::*;

/// Gives this tab a name. To be called before anything is read or written.
pub fn begin(app: AppState) {
    tabs::begin(app, &tab::new_name());
}

/// Tells what is open whenever it changes, and hears other tabs from now on.
pub fn start(app: AppState) {
    let held = Memo::new(move |_| held(app));
    Effect::new(move |_| {
        let held = held.get();
        if !held.is_nothing() {
            tell(app, held, false);
        }
    });
    tab::hear_others(move |note| {
        let Ok(note) = serde_json::from_str::<TabNote>(note) else { return };
        // The key of a study is given without telling anybody, so what is held is asked anew.
        let own = self::held(app);
        if tabs::hear(app, &note, &own) {
            tell(app, own, true);
        }
    });
}

fn held(app: AppState) -> Held {
    tabs::held(app, on_screen_ballots::open_sheet(app))
}

fn tell(app: AppState, held: Held, is_answer: bool) {
    let note = tabs::note_of(app, held, is_answer);
    if let Ok(text) = serde_json::to_string(&note) {
        tab::tell_others(&text);
    }
}
