//! The context that every view and action is handed: the application state, what follows from it, what the browser saves.

use super::session::picture_reader::PictureReader;
use super::study::findings::Findings;
use super::study::saved_studies::{DeletedStudy, SavedStudy};
use super::{AppState, Derived};
use leptos::prelude::*;

/// The handles that every view needs.
#[derive(Clone, Copy)]
pub struct AppContext {
    pub app: AppState,
    pub derived: Derived,
    /// What the methods of the catalogue found for the open study.
    pub findings: Findings,
    /// Reads pictures of filled pages, one after the other.
    pub pictures: PictureReader,
    /// Whether the browser saves the open study.
    pub is_saved: RwSignal<bool>,
    /// Whether the browser saves the plan.
    pub plan_is_saved: RwSignal<bool>,
    /// Saved studies, the latest change first.
    pub saved: RwSignal<Vec<SavedStudy>>,
    /// The saved study that was deleted last and can be had back.
    pub deleted: RwSignal<Option<DeletedStudy>>,
}
