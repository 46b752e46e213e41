//! The words of the Profile view.
