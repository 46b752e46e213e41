//! likeness-core.
