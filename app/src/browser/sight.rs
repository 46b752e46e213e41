//! Whether an element is in sight.

use js_sys::Array;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, IntersectionObserver, IntersectionObserverEntry};

/// Watches an element until it is dropped.
pub struct SightWatch {
    observer: IntersectionObserver,
    _told: Closure<dyn FnMut(Array)>,
}

impl SightWatch {
    /// Tells now and at each change whether any of the element is in the window; `None` where the browser can't.
    pub fn of(element: &Element, mut told: impl FnMut(bool) + 'static) -> Option<Self> {
        let told = Closure::<dyn FnMut(Array)>::new(move |entries: Array| {
            // The latest entry is how it is.
            if let Ok(entry) = entries.pop().dyn_into::<IntersectionObserverEntry>() {
                told(entry.is_intersecting());
            }
        });
        let observer = IntersectionObserver::new(told.as_ref().unchecked_ref()).ok()?;
        observer.observe(element);
        Some(SightWatch { observer, _told: told })
    }
}

impl Drop for SightWatch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}
