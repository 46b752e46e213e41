//! Numbers on the screen with the decimal mark that the reader chose. Files keep the point.

use crate::words::numerals::with_mark;
use leptos::prelude::*;
use likeness_core::figures::Scene;

/// Handed down from the page; where there is none, numbers have a point.
#[derive(Clone, Copy)]
pub struct Numerals {
    pub comma: RwSignal<bool>,
    /// Names that a person gave: what looks like a number in them is none.
    pub names: Memo<Vec<String>>,
}

impl Numerals {
    /// A text as it is to be read; reads signals.
    pub fn text(&self, text: &str) -> String {
        self.names.with(|names| with_mark(text, self.comma.get(), names))
    }

    /// A figure with all its texts as they are to be read; reads signals.
    pub fn scene(&self, mut scene: Scene) -> Scene {
        if self.comma.get() {
            scene.rewrite(|text| self.text(text));
        }
        scene
    }
}

/// The decimal mark of the reader at the moment it is asked for, for what is copied.
pub fn readable_now() -> impl Fn(&str) -> String + Clone + Send + Sync {
    let numerals = use_context::<Numerals>();
    move |text| untrack(|| numerals.map_or_else(|| text.to_owned(), |numerals| numerals.text(text)))
}

/// A text that follows how the reader of this page wants its numbers.
pub fn readable(text: impl Into<String>) -> impl Fn() -> String + Clone + Send + Sync {
    let numerals = use_context::<Numerals>();
    let text: String = text.into();
    move || numerals.map_or_else(|| text.clone(), |numerals| numerals.text(&text))
}
