//! Work that takes long, step by step: progress can be shown, it can be stopped between steps, any slicing gives the same
//! result. It knows no clock and nothing of what is worked on.

use crate::defined::{Defined, NotDefined};
use crate::study::Study;
use std::sync::Arc;

/// How far a run has come, in steps of its own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reached {
    pub done: usize,
    pub wanted: usize,
}

/// A computation under way. A step takes some milliseconds at most on a common study.
pub trait Run: 'static {
    type Found: Send + Sync + 'static;

    /// Does the next piece; nothing where all is done.
    fn step(&mut self);

    fn reached(&self) -> Reached;

    fn is_done(&self) -> bool {
        let reached = self.reached();
        reached.done >= reached.wanted
    }

    /// The result; what is not done yet is done first.
    ///
    /// # Errors
    /// Where the work shows that there is none.
    fn finish(self) -> Defined<Self::Found>;
}

/// Runs to the end at once.
///
/// # Errors
/// Those of the start and of the run.
pub fn to_the_end<R: Run>(started: Defined<R>) -> Defined<R::Found> {
    let mut run = started?;
    while !run.is_done() {
        run.step();
    }
    run.finish()
}

/// What is there already: no step is left to do.
pub struct AlreadyFound;

impl Run for AlreadyFound {
    type Found = ();

    fn step(&mut self) {}

    fn reached(&self) -> Reached {
        Reached { done: 1, wanted: 1 }
    }

    fn finish(self) -> Defined<()> {
        Ok(())
    }
}

/// What is computed in one step.
pub struct AtOnce<T> {
    compute: Option<Box<dyn FnOnce() -> Defined<T>>>,
    found: Option<Defined<T>>,
}

impl<T> AtOnce<T> {
    pub fn new(compute: impl FnOnce() -> Defined<T> + 'static) -> Self {
        AtOnce { compute: Some(Box::new(compute)), found: None }
    }
}

impl<T: Send + Sync + 'static> Run for AtOnce<T> {
    type Found = T;

    fn step(&mut self) {
        if let Some(compute) = self.compute.take() {
            self.found = Some(compute());
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: usize::from(self.found.is_some()), wanted: 1 }
    }

    fn finish(mut self) -> Defined<T> {
        self.step();
        self.found.unwrap_or_else(|| Err(NotDefined::because("it was not computed")))
    }
}

/// The same question asked of each attribute, or of each session, in turn; the answers stand in their order.
pub struct EachOf<T> {
    study: Arc<Study>,
    asked: Vec<usize>,
    ask: fn(&Study, usize) -> T,
    answers: Vec<T>,
}

impl<T> EachOf<T> {
    /// Asks of every attribute that counts, by its index in the study.
    pub fn attributes(study: Arc<Study>, ask: fn(&Study, usize) -> T) -> Self {
        EachOf { asked: study.active_attributes(), study, ask, answers: Vec::new() }
    }

    /// Asks of every session, by its index in the study.
    pub fn sessions(study: Arc<Study>, ask: fn(&Study, usize) -> T) -> Self {
        EachOf { asked: (0..study.sessions.len()).collect(), study, ask, answers: Vec::new() }
    }
}

impl<T: Send + Sync + 'static> Run for EachOf<T> {
    type Found = Vec<T>;

    fn step(&mut self) {
        if let Some(asked) = self.asked.get(self.answers.len()) {
            self.answers.push((self.ask)(&self.study, *asked));
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.answers.len(), wanted: self.asked.len() }
    }

    fn finish(mut self) -> Defined<Vec<T>> {
        while !self.is_done() {
            self.step();
        }
        if self.answers.is_empty() { Err(NotDefined::because("everything is left out")) } else { Ok(self.answers) }
    }
}

/// A run whose result is finished by a look at all of it, such as counting many tests together.
pub struct Then<R: Run> {
    run: R,
    finish: fn(&mut R::Found),
}

impl<R: Run> Then<R> {
    pub fn new(run: R, finish: fn(&mut R::Found)) -> Self {
        Then { run, finish }
    }
}

impl<R: Run> Run for Then<R> {
    type Found = R::Found;

    fn step(&mut self) {
        self.run.step();
    }

    fn reached(&self) -> Reached {
        self.run.reached()
    }

    fn is_done(&self) -> bool {
        self.run.is_done()
    }

    fn finish(self) -> Defined<R::Found> {
        let mut found = self.run.finish()?;
        (self.finish)(&mut found);
        Ok(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_computed_at_once_is_one_step() {
        let mut run = AtOnce::new(|| Ok(7));
        assert_eq!(run.reached(), Reached { done: 0, wanted: 1 });
        run.step();
        assert!(run.is_done());
        assert_eq!(run.finish(), Ok(7));
        assert_eq!(to_the_end(Ok(AtOnce::new(|| Ok(8)))), Ok(8));
    }
}
