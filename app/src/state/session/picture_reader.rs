//! The one picture that is being read, against the pages of the open plan. It must not know how a picture was decoded, nor
//! what a person decides about it.

use crate::shared::Shared;
use crate::state::app_state::AppState;
use crate::state::long_run::{InSlices, LongRun, Progress};
use leptos::prelude::*;
use likeness_core::run::Reached;
use likeness_core::scan::{KnownPages, PageFound, Picture, PictureRun};

/// The reader. Copies are handles to the same.
#[derive(Clone, Copy)]
pub struct PictureReader {
    pub run: LongRun<Vec<PageFound>>,
    /// The pages that the open plan prints; made when a picture first asks for them.
    known: Memo<Option<Result<Shared<KnownPages>, String>>>,
}

/// How the reading of a picture stands.
#[derive(Clone, PartialEq)]
pub enum PictureProgress {
    Running,
    Stopped,
    Found(Shared<Vec<PageFound>>),
    Failed(String),
}

impl PictureReader {
    pub fn new(app: AppState, in_slices: InSlices) -> Self {
        let known = Memo::new(move |_| {
            app.plan.with(|plan| plan.as_ref().map(KnownPages::of)).map(|known| match known {
                Ok(known) => Ok(Shared::new(known)),
                Err(why) => Err(why.to_string()),
            })
        });
        PictureReader { run: LongRun::new(in_slices), known }
    }

    /// The pages that the open plan prints.
    ///
    /// # Errors
    /// Why there are none, in words.
    pub fn known_pages(self) -> Result<Shared<KnownPages>, String> {
        self.known.get_untracked().unwrap_or_else(|| Err(crate::words::scan_pages::NEEDS_PLAN.to_owned()))
    }

    /// Begins to read a picture.
    ///
    /// # Errors
    /// Why the pages of the plan are not known.
    pub fn begin(self, picture: Picture) -> Result<(), String> {
        let known = self.known_pages()?;
        self.run.start(Ok(PictureRun::new(known.to_arc(), picture)));
        Ok(())
    }

    /// How it stands; nothing is tracked.
    pub fn standing(self) -> PictureProgress {
        match untrack(|| self.run.progress()) {
            Progress::Found(found) => PictureProgress::Found(found),
            Progress::NotDefined(why) => PictureProgress::Failed(why.because),
            Progress::Stopped(_) | Progress::Nothing => PictureProgress::Stopped,
            Progress::Running(_) => PictureProgress::Running,
        }
    }

    /// How far it is, for showing.
    pub fn reached(self) -> Option<Reached> {
        match self.run.progress() {
            Progress::Running(reached) => Some(reached),
            _ => None,
        }
    }
}
