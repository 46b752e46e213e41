//! The shell program.
fn main() {}
