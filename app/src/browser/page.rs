//! The page itself: its address, printing, going to the top.

use super::timers;
use gloo::utils::{document, window};
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, ScrollIntoViewOptions, ScrollLogicalPosition};

/// What stands behind the # of the address, without it.
pub fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

pub fn print() {
    let _ = window().print();
}

/// Prints once the page has caught up with what was just put in it.
pub fn print_when_drawn() {
    timers::after(Duration::from_millis(50), print);
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

/// Puts the keyboard into the last element that the selector names, once the page has caught up.
pub fn focus_last(selector: &'static str) {
    focus_when_drawn(move |document| {
        let all = document.query_selector_all(selector).ok()?;
        all.item(all.length().checked_sub(1)?)
    });
}

/// Puts the keyboard into the element at this place among those that the selector names, once the page has caught up.
pub fn focus_at(selector: &'static str, place: usize) {
    focus_when_drawn(move |document| document.query_selector_all(selector).ok()?.item(place as u32));
}

fn focus_when_drawn(find: impl FnOnce(web_sys::Document) -> Option<web_sys::Node> + 'static) {
    timers::after(Duration::ZERO, move || {
        let found = find(document()).and_then(|node| node.dyn_into::<HtmlElement>().ok());
        if let Some(element) = found {
            let _ = element.focus();
        }
    });
}

/// Whether the keyboard is in the element with this hook for tests, which names what a field is for.
pub fn is_focused_on(hook: &str) -> bool {
    document().active_element().and_then(|element| element.get_attribute("data-test")).as_deref() == Some(hook)
}

/// Scrolls a strip that is wider than the screen to what the selector names, once the page has caught up.
pub fn show_in_strip(selector: &'static str) {
    timers::after(Duration::ZERO, move || {
        let Ok(Some(element)) = document().query_selector(selector) else { return };
        let options = ScrollIntoViewOptions::new();
        options.set_block(ScrollLogicalPosition::Nearest);
        options.set_inline(ScrollLogicalPosition::Nearest);
        element.scroll_into_view_with_scroll_into_view_options(&options);
    });
}

/// Scrolls to the element with this id.
pub fn bring(id: &str) {
    let Some(element) = document().get_element_by_id(id) else { return };
    element.scroll_into_view_with_bool(true);
}
