//! Which pictures and forms a page's content draws, by name. It knows nothing of where they lie.

use super::objects::{Reader, Value};
use std::collections::HashSet;

/// Names before the word `Do`.
pub fn drawn_names(content: &[u8]) -> HashSet<String> {
    let mut names = HashSet::new();
    let mut reader = Reader::new(content, 0);
    let mut before: Option<String> = None;
    while reader.at < content.len() {
        let at = reader.at;
        match reader.value() {
            Some(Value::Word(word)) if word == "Do" => names.extend(before.take()),
            Some(Value::Name(name)) => before = Some(name),
            Some(_) => before = None,
            // What is no value is stepped over.
            None => reader = Reader::new(content, reader.at.max(at + 1)),
        }
    }
    names
}
