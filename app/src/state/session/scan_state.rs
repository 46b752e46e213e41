//! What is stored of reading filled pages: the desk of the open plan, strips that are kept, where the hairline was put. It
//! must not know the rest of the state, nor who changes it.

use leptos::prelude::RwSignal;
use likeness_core::plan::joining::JoinDecision;
use likeness_core::scan_desk::desk::{RowPlace, ScanDesk};
use likeness_core::scan_desk::strips::KeptStrips;

/// Everything that is stored of reading filled pages. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct ScanState {
    /// The desk of the open plan.
    pub desk: RwSignal<Option<ScanDesk>>,
    pub strips: RwSignal<KeptStrips>,
    /// Where a person put the hairline of a row, in mm along the line, before deciding.
    pub moved: RwSignal<Option<(RowPlace, f64)>>,
    /// Why the latest key or line was not taken.
    pub refused: RwSignal<Option<String>>,
    /// The file that is read now, and how many wait behind it.
    pub reading: RwSignal<Option<ReadingNow>>,
    /// Pictures that were not read because the person stopped.
    pub stopped: RwSignal<Vec<String>>,
    /// Differences between sources of the open plan that were decided.
    pub decisions: RwSignal<Vec<JoinDecision>>,
    /// Whether the browser keeps what was decided.
    pub is_saved: RwSignal<bool>,
    /// Whether the browser keeps the strips.
    pub strips_are_saved: RwSignal<bool>,
}

/// What is read at the moment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReadingNow {
    pub file: String,
    /// Its place among those that were put in together, from 1, and how many these are.
    pub place: usize,
    pub of: usize,
    /// The browser is still decoding it.
    pub is_decoding: bool,
}

impl Default for ScanState {
    fn default() -> Self {
        ScanState {
            desk: RwSignal::new(None),
            strips: RwSignal::new(KeptStrips::default()),
            moved: RwSignal::new(None),
            refused: RwSignal::new(None),
            reading: RwSignal::new(None),
            stopped: RwSignal::new(Vec::new()),
            decisions: RwSignal::new(Vec::new()),
            is_saved: RwSignal::new(true),
            strips_are_saved: RwSignal::new(true),
        }
    }
}
