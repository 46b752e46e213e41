//! A value that is handed around without copying it. It knows nothing of what it holds.

use std::ops::Deref;
use std::sync::Arc;

/// A result that is handed around without copying it. Two are the same only if they are one.
#[derive(Debug)]
pub struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    pub fn new(value: T) -> Self {
        Shared(Arc::new(value))
    }
}

impl<T> Shared<T> {
    /// The same as a plain handle.
    pub fn to_arc(&self) -> Arc<T> {
        Arc::clone(&self.0)
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Shared(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}
