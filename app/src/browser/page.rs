//! The page itself: its address, printing, moving the focus.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// What stands behind the # of the address, without it.
pub fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

pub fn print() {
    let _ = window().print();
}

/// Moves the focus, and with it the screen reader, to an element.
pub fn focus(id: &str) {
    let id = id.to_owned();
    request_animation_frame(move || {
        let found = document().get_element_by_id(&id);
        if let Some(element) = found.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
            let _ = element.focus();
        }
    });
}

pub fn scroll_to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}
