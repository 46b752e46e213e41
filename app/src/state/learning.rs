//! The page for learning and checking: opening and closing it, single keys, the decimal mark, computing the checks.

use super::actions;
use super::app_state::AppState;
use super::page::View;
use super::plan::planning;
use leptos::prelude::*;
use likeness_core::self_check::run;

pub fn open(app: AppState) {
    app.learning.is_open.set(true);
}

pub fn close(app: AppState) {
    app.learning.is_open.set(false);
}

pub fn switch_single_keys(app: AppState, on: bool) {
    app.learning.single_keys.set(on);
}

/// Shows numbers with a decimal comma, or with a point.
pub fn use_decimal_comma(app: AppState, on: bool) {
    app.learning.decimal_comma.set(on);
}

/// Computes every published figure anew.
pub fn run_checks(app: AppState) {
    app.learning.checks.set(Some(run()));
}

/// Does what a single key stands for; `false` where it stands for nothing.
pub fn press_single_key(app: AppState, key: &str) -> bool {
    if !app.learning.single_keys.get_untracked() {
        return false;
    }
    if key == "?" {
        app.learning.is_open.update(|open| *open = !*open);
        return true;
    }
    let here = View::ALL.iter().position(|view| *view == app.view.get_untracked()).unwrap_or(0);
    let wanted = match key {
        "[" => here.checked_sub(1),
        "]" => Some(here + 1),
        digit => digit.parse::<usize>().ok().and_then(|number| number.checked_sub(1)),
    };
    let Some(view) = wanted.and_then(|index| View::ALL.get(index).copied()) else { return false };
    go(app, view)
}

/// Goes to a view, as its button does; `false` where there is nothing to see in it.
fn go(app: AppState, view: View) -> bool {
    let has_study = app.study.with_untracked(Option::is_some);
    if !has_study && view != View::Plan {
        return false;
    }
    close(app);
    match view {
        View::Plan => planning::start(app),
        other => actions::look_at(app, other),
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::state::study::demos::{DEMOS, open_demo};

    fn app() -> (Owner, AppState) {
        let owner = Owner::new();
        owner.set();
        (owner, AppState::new(|| "2026-03-14 09:26".to_owned()))
    }

    #[test]
    fn single_keys_walk_through_the_views_and_can_be_switched_off() {
        let (_owner, app) = app();
        assert!(!press_single_key(app, "]"), "nothing is open");
        open_demo(app, &DEMOS[0]);
        let place = |view: View| View::ALL.iter().position(|other| *other == view);
        let start = place(app.view.get_untracked());
        assert!(press_single_key(app, "]"));
        assert_eq!(place(app.view.get_untracked()), start.map(|index| index + 1));
        assert!(press_single_key(app, "["));
        assert_eq!(place(app.view.get_untracked()), start);
        assert!(press_single_key(app, "2"));
        assert_eq!(place(app.view.get_untracked()), Some(1));
        assert!(!press_single_key(app, "9") && !press_single_key(app, "x"));
        assert!(press_single_key(app, "?") && app.learning.is_open.get_untracked());
        assert!(press_single_key(app, "3") && !app.learning.is_open.get_untracked());
        switch_single_keys(app, false);
        assert!(!press_single_key(app, "?"));
    }
}
