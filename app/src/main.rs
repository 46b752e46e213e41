//! The Likeness page.
fn main() {}
