//! Whether an element is in sight.

use js_sys::Array;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, IntersectionObserver, IntersectionObserverEntry, IntersectionObserverInit};

/// Upper and lower part of the window that is not looked at, as a margin in the manner of CSS.
const EDGE: &str = "-12% 0px";

/// Watches an element until it is dropped.
pub struct SightWatch {
    observer: IntersectionObserver,
    _told: Closure<dyn FnMut(Array)>,
}

impl SightWatch {
    /// Tells now and at each change whether the element is in sight; `None` where the browser can't. What only shows at
    /// the upper or lower edge of the window is not.
    pub fn of(element: &Element, mut told: impl FnMut(bool) + 'static) -> Option<Self> {
        let told = Closure::<dyn FnMut(Array)>::new(move |entries: Array| {
            // The latest entry is how it is.
            if let Ok(entry) = entries.pop().dyn_into::<IntersectionObserverEntry>() {
                told(entry.is_intersecting());
            }
        });
        let how = IntersectionObserverInit::new();
        how.set_root_margin(EDGE);
        let observer = IntersectionObserver::new_with_options(told.as_ref().unchecked_ref(), &how).ok()?;
        observer.observe(element);
        Some(SightWatch { observer, _told: told })
    }
}

impl Drop for SightWatch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}
