//! The one picture that is being read, against the pages of the open plan. It must not know how a picture was decoded, nor
//! what a person decides about it.

use crate::shared::Shared;
use crate::state::app_state::AppState;
use crate::state::long_run::{InSlices, LongRun, Progress};
use leptos::prelude::*;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::run::Reached;
use likeness_core::scan::{DemoPage, KnownPages, KnownPagesRun, PageFound, Picture, PictureRun};

/// The reader. Copies are handles to the same.
#[derive(Clone, Copy)]
pub struct PictureReader {
    /// The picture that is read.
    pub run: LongRun<Vec<PageFound>>,
    /// The invented page that is drawn.
    pub drawing: LongRun<DemoPage>,
    /// The pages that a plan prints, and that plan.
    known: LongRun<KnownPages>,
    known_of: RwSignal<Option<Shared<TastingPlan>>>,
    /// The open plan without what was printed or noted, which changes no page.
    plan: Memo<Option<Shared<TastingPlan>>>,
}

impl PictureReader {
    pub fn new(app: AppState, in_slices: InSlices) -> Self {
        let bare = Memo::new(move |_| {
            app.plan.with(|plan| {
                plan.as_ref().map(|plan| TastingPlan { printed: Vec::new(), log: Vec::new(), ..plan.clone() })
            })
        });
        PictureReader {
            run: LongRun::new(in_slices),
            drawing: LongRun::new(in_slices),
            known: LongRun::new(in_slices),
            known_of: RwSignal::new(None),
            plan: Memo::new(move |_| bare.get().map(Shared::new)),
        }
    }

    /// Begins to make the pages of the open plan, unless that was begun; the run that makes them, or nothing without a plan.
    pub fn make_known(self) -> Option<LongRun<KnownPages>> {
        let plan = self.plan.get_untracked()?;
        if self.known_of.get_untracked().as_ref() != Some(&plan) {
            self.known.start(Ok(KnownPagesRun::new(plan.to_arc())));
            self.known_of.set(Some(plan));
        }
        Some(self.known)
    }

    /// Makes them for this plan and for each that is opened after it.
    pub fn follow_plan(self) {
        self.plan.track();
        self.make_known();
    }

    /// The pages that the open plan prints; nothing as long as they are being made.
    pub fn known_pages(self) -> Option<Shared<KnownPages>> {
        let is_of_open_plan = self.known_of.get() == self.plan.get();
        self.known.found().filter(|_| is_of_open_plan)
    }

    /// Begins to read a picture against such pages.
    pub fn begin(self, known: &Shared<KnownPages>, picture: Picture) {
        self.run.start(Ok(PictureRun::new(known.to_arc(), picture)));
    }

    /// Stops what is read and what is drawn.
    pub fn stop(self) {
        self.run.stop();
        self.drawing.stop();
    }

    /// How far the picture is, for showing.
    pub fn reached(self) -> Option<Reached> {
        match self.run.progress() {
            Progress::Running(reached) => Some(reached),
            _ => None,
        }
    }
}
