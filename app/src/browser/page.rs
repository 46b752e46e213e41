//! The page itself: its address, printing, going to the top.

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

/// Goes to the top, as a new page would.
pub fn scroll_to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// Moves the focus to the element with this id, and chooses the text of a field, ready to be typed over.
pub fn focus(id: &str) {
    let Some(element) = document().get_element_by_id(id) else { return };
    if let Some(field) = element.dyn_ref::<web_sys::HtmlInputElement>() {
        field.select();
    }
    if let Ok(element) = element.dyn_into::<HtmlElement>() {
        let _ = element.focus();
    }
}
