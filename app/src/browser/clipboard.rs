//! The clipboard: text that is pasted, text that is copied.

use super::events::on_window;
use gloo::utils::window;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{ClipboardEvent, Event, HtmlElement};

/// Listens for text pasted anywhere but into a field that takes text itself.
pub fn listen_for_paste(pasted: impl Fn(String) + 'static) {
    on_window("paste", move |event: &ClipboardEvent| {
        if goes_into_a_field(event) {
            return;
        }
        if let Some(text) = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok()) {
            event.prevent_default();
            pasted(text);
        }
    });
}

/// Puts text on the clipboard; says whether the browser allowed it (pages from disk are often refused).
pub fn copy(text: String, then: impl FnOnce(bool) + 'static) {
    spawn_local(async move {
        let navigator = window().navigator();
        // Outside secure pages the clipboard is not there at all, and touching it would throw.
        let there = js_sys::Reflect::get(&navigator, &"clipboard".into()).is_ok_and(|found| found.is_object());
        let copied = there && JsFuture::from(navigator.clipboard().write_text(&text)).await.is_ok();
        then(copied);
    });
}

/// Fields keep their paste, except the one that exists to take tables.
fn goes_into_a_field(event: &Event) -> bool {
    let Some(element) = event.target().and_then(|target| target.dyn_into::<HtmlElement>().ok()) else { return false };
    let takes_text = matches!(element.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT");
    takes_text && !element.has_attribute("data-takes-tables")
}
