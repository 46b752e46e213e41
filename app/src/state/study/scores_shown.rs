//! Choosing which scores are shown in the view Scores, in what order, and which one is looked at.

pub use super::score_rows::{ScoreColumn, ScoreFilter, ScorePlace};

use super::score_rows::{ScoreOrder, ScoresShown};
use crate::state::app_state::AppState;
use crate::state::page::View;
use leptos::prelude::*;

/// Goes to the view Scores, with this filter alone, at this score.
pub fn look_at_marks(app: AppState, filter: ScoreFilter, place: Option<ScorePlace>) {
    app.scores_shown.set(ScoresShown { filter, order: None, place });
    app.view.set(View::Scores);
}

pub fn change_filter(app: AppState, change: impl FnOnce(&mut ScoreFilter)) {
    app.scores_shown.update(|shown| change(&mut shown.filter));
}

/// Sorts by a column: upwards first, then downwards, then as in the file again.
pub fn sort_by(app: AppState, column: ScoreColumn) {
    app.scores_shown.update(|shown| {
        shown.order = match shown.order {
            Some(order) if order.column == column && order.descending => None,
            Some(order) if order.column == column => Some(ScoreOrder { column, descending: true }),
            _ => Some(ScoreOrder { column, descending: false }),
        };
    });
}

pub fn look_at_place(app: AppState, place: ScorePlace) {
    app.scores_shown.update(|shown| shown.place = Some(place));
}
