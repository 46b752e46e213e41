//! A quantity, or why there is none: methods return this instead of NaN. It knows nothing of what is computed.

use serde::Serialize;
use std::fmt;

/// A quantity that this study does not define, with the reason in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NotDefined {
    pub because: String,
}

/// A quantity, or why there is none. Methods return this instead of NaN.
pub type Defined<T> = Result<T, NotDefined>;

impl NotDefined {
    pub fn because(because: impl Into<String>) -> Self {
        NotDefined { because: because.into() }
    }
}

impl fmt::Display for NotDefined {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "not defined, because {}", self.because)
    }
}
