//! The Likeness page: one reactive page over likeness-core. This file only starts it.
//!
//! `state` holds what the user gave and what follows from it, `views` and `parts` show it, `browser` touches the
//! browser, `tables` are results as values, `words` is all the text. Nothing here computes statistics.

mod bench;
mod browser;
mod parts;
mod persistence;
mod shared;
mod state;
mod views;
mod words;

use leptos::prelude::*;

fn main() {
    browser::panic::show_panics();
    if browser::page::fragment() == "bench" {
        mount_to_body(bench::Bench);
    } else {
        mount_to_body(views::App);
    }
}
