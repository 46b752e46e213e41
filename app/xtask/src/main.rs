//! The task runner behind `cargo xtask`.
fn main() {}
