//! What is in sight follows a change at once, what is out of sight a paint later: a change is seen sooner, and nothing is
//! left behind.

use crate::browser::sight::SightWatch;
use crate::browser::slices;
use leptos::html::ElementType;
use leptos::prelude::*;
use send_wrapper::SendWrapper;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// What `now` gives, made anew when anything it reads changes: at once while `place` is in sight, else after the next
/// paint. What changed several times before that paint is made once. `None` until it was made for the first time.
pub fn follow<E, T>(place: NodeRef<E>, now: impl Fn() -> Option<T> + 'static) -> ReadSignal<Option<T>>
where
    E: ElementType + 'static,
    E::Output: JsCast + Clone + AsRef<Element> + 'static,
    T: Send + Sync + 'static,
{
    let is_in_sight = watch(place);
    follow_when(move || is_in_sight.get_value(), now)
}

/// The same for what takes longer to make than a frame: always after the next paint.
pub fn follow_later<T: Send + Sync + 'static>(now: impl Fn() -> Option<T> + 'static) -> ReadSignal<Option<T>> {
    follow_when(|| false, now)
}

fn follow_when<T: Send + Sync + 'static>(
    at_once: impl Fn() -> bool + 'static,
    now: impl Fn() -> Option<T> + 'static,
) -> ReadSignal<Option<T>> {
    let (made, set_made) = signal(None);
    let is_postponed = StoredValue::new(false);
    let due = Trigger::new();
    Effect::new(move |_| {
        due.track();
        if is_postponed.get_value() || at_once() {
            is_postponed.set_value(false);
            set_made.set(now());
            return;
        }
        // Nothing is read now, so that no further change comes here before the paint.
        is_postponed.set_value(true);
        slices::after_painting(move || {
            // The place may be gone by now.
            if is_postponed.try_get_value().is_some() {
                due.notify();
            }
        });
    });
    made
}

/// Whether an element is in sight; not before it is there.
fn watch<E>(place: NodeRef<E>) -> StoredValue<bool>
where
    E: ElementType + 'static,
    E::Output: JsCast + Clone + AsRef<Element> + 'static,
{
    let is_in_sight = StoredValue::new(false);
    Effect::new(move |_| {
        let Some(element) = place.get() else { return is_in_sight.set_value(false) };
        let told = move |is_seen| {
            is_in_sight.try_set_value(is_seen);
        };
        let watch = SendWrapper::new(SightWatch::of(element.as_ref(), told));
        on_cleanup(move || drop(watch));
    });
    is_in_sight
}
