//! The page itself: its address, printing, going to the top.

use leptos::prelude::*;

/// What stands behind the # of the address, without it.
pub fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

pub fn print() {
    let _ = window().print();
}

/// Goes to the top, as a new page would.
pub fn scroll_to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}
