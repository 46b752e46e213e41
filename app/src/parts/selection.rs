//! What is marked in every figure and table: one sample, one attribute. Parts show it and report what was clicked; they
//! don't know what follows.

use leptos::prelude::*;

/// Handed down from the page; where there is none, nothing is marked.
#[derive(Clone, Copy)]
pub struct Selection {
    pub sample: Memo<Option<String>>,
    pub attribute: Memo<Option<String>>,
    /// Names that can be marked: samples and attributes.
    pub names: Memo<Vec<String>>,
    /// Is told the name of a sample or an attribute that was clicked in a table.
    pub clicked: Callback<String>,
    /// Is told the attribute of a value that was clicked in a figure.
    pub attribute_clicked: Callback<String>,
}

impl Selection {
    /// Whether a name is the marked sample or the marked attribute.
    pub fn holds(&self, name: &str) -> bool {
        let is = |marked: &Option<String>| marked.as_deref() == Some(name);
        self.sample.with(is) || self.attribute.with(is)
    }

    pub fn can_mark(&self, name: &str) -> bool {
        self.names.with_untracked(|names| names.iter().any(|known| known == name))
    }
}
