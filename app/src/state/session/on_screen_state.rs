//! What is stored of on-screen ballots: on a tablet the form that is open and the sheet that is being filled in, on the
//! leader's side the results files that came back. It must not know the rest of the state, nor who changes it.

use leptos::prelude::RwSignal;
use likeness_core::notice::Notice;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, USUAL_REST_SECONDS};
use likeness_core::plan::on_screen::ballot_run::OnScreenRun;
use likeness_core::plan::on_screen::collect::CollectedFile;

/// Everything that is stored of on-screen ballots. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct OnScreenState {
    /// An open form hides everything else on the page.
    pub form: RwSignal<Option<OnScreenBallot>>,
    /// The sheet that is being filled in.
    pub run: RwSignal<Option<OnScreenRun>>,
    /// Whether this device saves each score.
    pub is_saved: RwSignal<bool>,
    /// Results files that the leader opened.
    pub collected: RwSignal<Vec<CollectedFile>>,
    /// Results files that could not be opened, and why.
    pub refused: RwSignal<Vec<Notice>>,
    /// Rest between cups for the next ballot file, as typed.
    pub rest_typed: RwSignal<String>,
    /// What assessors read before the first cup, one sentence a line; `None` until the leader changes it.
    pub before_typed: RwSignal<Option<String>>,
}

impl Default for OnScreenState {
    fn default() -> Self {
        OnScreenState {
            form: RwSignal::new(None),
            run: RwSignal::new(None),
            is_saved: RwSignal::new(true),
            collected: RwSignal::new(Vec::new()),
            refused: RwSignal::new(Vec::new()),
            rest_typed: RwSignal::new(USUAL_REST_SECONDS.to_string()),
            before_typed: RwSignal::new(None),
        }
    }
}
