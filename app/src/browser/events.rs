//! What happens to the window: keys pressed anywhere, its size, the colours that the system prefers, anything else by
//! its name. It knows no action that follows.

use gloo::events::{EventListener, EventListenerOptions};
use gloo::utils::window;
use leptos::prelude::{GetUntracked, ReadSignal, Set, on_cleanup, signal, untrack};
use send_wrapper::SendWrapper;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement, KeyboardEvent, PointerEvent};

/// Calls `then` at each event of a name on the window, until the part of the page that asked for it is gone.
pub fn when(name: &'static str, then: impl Fn() + 'static) {
    on_window(name, move |_: &Event| then());
}

/// Listens on the window for events of a name, until the part of the page that asked for it is gone. What is heard may
/// keep the browser from its own answer; nothing that is read then is tracked. Events of another kind are passed over:
/// browsers that fill in forms send keys that are none.
pub(super) fn on_window<E: JsCast>(name: &'static str, heard: impl Fn(&E) + 'static) {
    let options = EventListenerOptions::enable_prevent_default();
    let listener = EventListener::new_with_options(&window(), name, options, move |event| {
        if let Some(event) = event.dyn_ref::<E>() {
            untrack(|| heard(event));
        }
    });
    let listener = SendWrapper::new(listener);
    on_cleanup(move || drop(listener));
}

/// Listens for undo and redo outside fields, which undo their own typing.
pub fn listen_for_undo(undo: impl Fn() + 'static, redo: impl Fn() + 'static) {
    on_window("keydown", move |event: &KeyboardEvent| {
        let command = event.ctrl_key() || event.meta_key();
        let target = event.target().and_then(|target| target.dyn_into::<HtmlElement>().ok());
        if !command || event.alt_key() || target.is_some_and(|element| takes_typing(&element)) {
            return;
        }
        match (event.key().to_lowercase().as_str(), event.shift_key()) {
            ("z", false) => undo(),
            ("z", true) | ("y", false) => redo(),
            _ => return,
        }
        event.prevent_default();
    });
}

/// Listens for single keys outside whatever uses keys itself; `press` says whether the key stood for something.
pub fn listen_for_single_keys(press: impl Fn(&str) -> bool + 'static) {
    on_window("keydown", move |event: &KeyboardEvent| {
        let target = event.target().and_then(|target| target.dyn_into::<HtmlElement>().ok());
        let is_command = event.ctrl_key() || event.meta_key() || event.alt_key();
        if is_command || event.default_prevented() || target.is_some_and(|element| takes_keys(&element)) {
            return;
        }
        if press(&event.key()) {
            event.prevent_default();
        }
    });
}

/// Whether the system prefers dark, kept up to date.
pub fn prefers_dark() -> ReadSignal<bool> {
    meets("(prefers-color-scheme: dark)")
}

/// Whether the window is as narrow as a phone's, kept up to date; the stylesheet has the same width.
pub fn is_narrow() -> ReadSignal<bool> {
    meets("(max-width: 40rem)")
}

/// Where a pointer stands across the element that listens to it, as a share of its width from the left.
pub fn share_along(event: &PointerEvent) -> Option<f64> {
    let place = event.current_target()?.dyn_into::<Element>().ok()?.get_bounding_client_rect();
    (place.width() > 0.0).then(|| (f64::from(event.client_x()) - place.left()) / place.width())
}

/// The element that listens goes on hearing a pointer that leaves it.
pub fn hold_pointer(event: &PointerEvent) {
    let element = event.current_target().and_then(|element| element.dyn_into::<Element>().ok());
    if let Some(element) = element {
        let _ = element.set_pointer_capture(event.pointer_id());
    }
}

fn meets(query: &str) -> ReadSignal<bool> {
    let query = window().match_media(query).ok().flatten();
    let (is_met, set_is_met) = signal(query.as_ref().is_some_and(|query| query.matches()));
    if let Some(query) = query {
        let asked = query.clone();
        // The page asks for as long as it lives.
        EventListener::new(&query, "change", move |_| set_is_met.set(asked.matches())).forget();
    }
    is_met
}

/// Device pixels a CSS pixel, kept up to date when the page is zoomed or moves to another screen.
pub fn pixel_ratio() -> ReadSignal<f64> {
    let (ratio, set_ratio) = signal(window().device_pixel_ratio());
    // Zooming resizes the window in CSS pixels, so this one event covers both.
    when("resize", move || {
        let now = window().device_pixel_ratio();
        if (ratio.get_untracked() - now).abs() > 1e-9 {
            set_ratio.set(now);
        }
    });
    ratio
}

fn takes_typing(element: &HtmlElement) -> bool {
    let kind = element.get_attribute("type").unwrap_or_default();
    match element.tag_name().as_str() {
        "TEXTAREA" => true,
        "INPUT" => !matches!(kind.as_str(), "checkbox" | "radio" | "file" | "button"),
        _ => false,
    }
}

/// Whether an element, or what holds it, uses single keys itself: fields, lists, figures, grids, sliders.
fn takes_keys(element: &HtmlElement) -> bool {
    let users = "input:not([type=checkbox]):not([type=radio]):not([type=file]), textarea, select, canvas, \
        [role=grid], [role=slider], [contenteditable=true], [data-takes-keys]";
    element.closest(users).ok().flatten().is_some()
}
