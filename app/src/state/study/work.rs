//! Long work as the page does it: piece by piece. What is worked on lives in the engine; here it is only cut.

use crate::state::Shared;
use likeness_core::stats::map::ellipses::{EllipseRun, MapEllipses};
use likeness_core::stats::r#match::distance_bootstrap::{DistanceResampling, DistanceRun};
use likeness_core::stats::r#match::leave_one_out::{Influence, InfluenceRun};
use likeness_core::stats::panel::form_faults::{FormFaultReport, FormFaultSearch};
use likeness_core::stats::study_bootstrap::{StudyBootstrap, StudyBootstrapRun};
use likeness_core::stats::{Defined, NotDefined};
use likeness_core::study::Study;
use likeness_core::write::report_html::{Report, ReportRun};

/// Draws of panels between two looks at the clock.
const DISTANCE_DRAWS_A_STEP: usize = 20;
const ELLIPSE_DRAWS_A_STEP: usize = 10;

/// How far work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reached {
    pub done: usize,
    pub wanted: usize,
}

/// Work that can be done a step at a time. A step takes a few milliseconds at most.
pub trait Work: 'static {
    type Found: Send + Sync + 'static;

    fn step(&mut self);

    fn reached(&self) -> Reached;

    fn is_done(&self) -> bool {
        let reached = self.reached();
        reached.done >= reached.wanted
    }

    /// The result, once all steps are done.
    ///
    /// Errors: where the work shows that there is none.
    fn finish(self) -> Defined<Self::Found>;
}

/// Ellipses of the map, with the seed that stands beside them.
pub struct Ellipses {
    pub run: EllipseRun,
    pub wanted: usize,
    pub seed: u64,
}

/// The same question asked of each attribute, or of each session, in turn; the answers stand in their order.
pub struct EachOf<T> {
    study: Study,
    asked: Vec<usize>,
    ask: fn(&Study, usize) -> T,
    answers: Vec<T>,
}

impl<T> EachOf<T> {
    /// Asks of every attribute that counts.
    pub fn attributes(study: &Study, ask: fn(&Study, usize) -> T) -> Self {
        EachOf { asked: study.active_attributes(), study: study.clone(), ask, answers: Vec::new() }
    }

    /// Asks of every session.
    pub fn sessions(study: &Study, ask: fn(&Study, usize) -> T) -> Self {
        EachOf { asked: (0..study.sessions.len()).collect(), study: study.clone(), ask, answers: Vec::new() }
    }
}

impl<T: Send + Sync + 'static> Work for EachOf<T> {
    type Found = Vec<T>;

    fn step(&mut self) {
        if let Some(asked) = self.asked.get(self.answers.len()) {
            self.answers.push((self.ask)(&self.study, *asked));
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.answers.len(), wanted: self.asked.len() }
    }

    fn finish(self) -> Defined<Vec<T>> {
        if self.answers.is_empty() { Err(NotDefined::because("everything is left out")) } else { Ok(self.answers) }
    }
}

impl Work for FormFaultSearch {
    type Found = FormFaultReport;

    fn step(&mut self) {
        self.advance(1);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done(), wanted: self.wanted() }
    }

    fn finish(self) -> Defined<FormFaultReport> {
        Ok(FormFaultSearch::finish(self))
    }
}

impl Work for InfluenceRun {
    type Found = Influence;

    fn step(&mut self) {
        self.advance(1);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done(), wanted: self.wanted() }
    }

    fn finish(self) -> Defined<Influence> {
        Ok(InfluenceRun::finish(self))
    }
}

impl Work for DistanceRun {
    type Found = DistanceResampling;

    fn step(&mut self) {
        self.advance(DISTANCE_DRAWS_A_STEP);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.draws_done(), wanted: self.draws_wanted() }
    }

    /// After the draws each candidate takes a step of its own.
    fn is_done(&self) -> bool {
        DistanceRun::is_done(self)
    }

    fn finish(self) -> Defined<DistanceResampling> {
        Ok(DistanceRun::finish(self))
    }
}

impl Work for StudyBootstrapRun {
    type Found = StudyBootstrap;

    fn step(&mut self) {
        self.advance(ELLIPSE_DRAWS_A_STEP);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done(), wanted: self.wanted() }
    }

    /// Draws that could not be used count against a limit of their own.
    fn is_done(&self) -> bool {
        StudyBootstrapRun::is_done(self)
    }

    fn finish(self) -> Defined<StudyBootstrap> {
        Ok(StudyBootstrapRun::finish(self))
    }
}

/// The document, with the draws that it stands on.
pub struct ReportWriting {
    pub run: ReportRun,
    pub drawn: Shared<StudyBootstrap>,
}

impl Work for ReportWriting {
    type Found = Report;

    fn step(&mut self) {
        self.run.step(&self.drawn);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.run.done(), wanted: self.run.wanted() }
    }

    fn finish(self) -> Defined<Report> {
        Ok(self.run.finish(&self.drawn))
    }
}

impl Work for Ellipses {
    type Found = MapEllipses;

    fn step(&mut self) {
        self.run.advance(ELLIPSE_DRAWS_A_STEP);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.run.draws_done(), wanted: self.wanted }
    }

    /// Draws that could not be used count against a limit of their own.
    fn is_done(&self) -> bool {
        self.run.is_done()
    }

    fn finish(self) -> Defined<MapEllipses> {
        self.run.finish(self.seed)
    }
}
