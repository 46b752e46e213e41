//! Two texts for one place, by the width of the screen. It must not know what they say.

use leptos::prelude::*;

/// The longer of two texts where there is room, the shorter on a phone.
pub fn by_width<T: IntoView + 'static>([long, short]: [T; 2]) -> impl IntoView {
    view! { <span class="where-wide">{long}</span><span class="where-narrow">{short}</span> }
}
