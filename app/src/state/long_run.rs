//! The one adapter between the engine's runs and the page: a run goes on in slices, its progress is a signal, it stops on
//! request, its result is kept until it is dropped. It knows no method, and no clock: how slices are made is an input.

use super::Shared;
use leptos::prelude::*;
use likeness_core::run::{Reached, Run};
use likeness_core::stats::{Defined, NotDefined};
use std::cell::RefCell;
use std::rc::Rc;

/// Calls the first function again and again until it says that it is done, and the second after each slice that was not
/// the last; where that says stop, nothing more is called. In the browser the first slice comes after the next paint.
pub type InSlices = fn(step: Box<dyn FnMut() -> bool>, between: Box<dyn FnMut() -> bool>);

/// Where a run stands.
pub enum Progress<T> {
    /// Nothing was asked for, or what was found no longer holds.
    Nothing,
    Running(Reached),
    /// Stopped by the person.
    Stopped(Reached),
    Found(Shared<T>),
    NotDefined(NotDefined),
}

/// A place for one kind of run. What is newer takes over from what is older. Copies are handles to the same place.
pub struct LongRun<T: Send + Sync + 'static> {
    progress: RwSignal<Progress<T>>,
    /// Number of the latest run; a run that finds another number stops.
    latest: RwSignal<u64>,
    in_slices: InSlices,
}

/// Everything at once: for tests, which have no browser.
#[cfg(test)]
pub fn at_once(mut step: Box<dyn FnMut() -> bool>, _between: Box<dyn FnMut() -> bool>) {
    while !step() {}
}

impl<T: Send + Sync + 'static> LongRun<T> {
    pub fn new(in_slices: InSlices) -> Self {
        LongRun { progress: RwSignal::new(Progress::Nothing), latest: RwSignal::new(0), in_slices }
    }

    /// Starts a run in place of any other, or says why there is none.
    pub fn start<R: Run<Found = T>>(self, run: Defined<R>) {
        let this = self.take_over();
        match run {
            Ok(run) => self.go_on(run, this),
            Err(reason) => self.progress.set(Progress::NotDefined(reason)),
        }
    }

    /// Stops what is running.
    pub fn stop(self) {
        self.take_over();
        self.progress.update(|progress| {
            if let Progress::Running(reached) = progress {
                *progress = Progress::Stopped(*reached);
            }
        });
    }

    /// Stops what is running and forgets what was found.
    pub fn drop_result(self) {
        self.take_over();
        if !matches!(*self.progress.read_untracked(), Progress::Nothing) {
            self.progress.set(Progress::Nothing);
        }
    }

    pub fn progress(self) -> Progress<T> {
        self.progress.get()
    }

    /// Whether nothing was asked for yet.
    pub fn is_idle(self) -> bool {
        self.progress.with(|progress| matches!(progress, Progress::Nothing))
    }

    pub fn found(self) -> Option<Shared<T>> {
        self.progress.with(|progress| match progress {
            Progress::Found(found) => Some(found.clone()),
            _ => None,
        })
    }

    fn take_over(self) -> u64 {
        let this = self.latest.get_untracked() + 1;
        self.latest.set(this);
        this
    }

    /// Goes on until it is done or something newer is wanted. A place that is gone stops it too.
    fn go_on<R: Run<Found = T>>(self, run: R, this: u64) {
        self.progress.set(Progress::Running(run.reached()));
        let going = Rc::new(RefCell::new(Some(run)));
        let stepped = going.clone();
        let is_wanted = move || self.latest.try_get_untracked() == Some(this);
        let step = move || {
            let mut place = stepped.borrow_mut();
            let Some(run) = place.as_mut().filter(|_| is_wanted()) else { return true };
            if !run.is_done() {
                run.step();
                return false;
            }
            if let Some(run) = place.take() {
                self.progress
                    .set(run.finish().map_or_else(Progress::NotDefined, |found| Progress::Found(Shared::new(found))));
            }
            true
        };
        let between = move || {
            if let Some(run) = going.borrow().as_ref().filter(|_| is_wanted()) {
                self.progress.set(Progress::Running(run.reached()));
            }
            is_wanted()
        };
        (self.in_slices)(Box::new(step), Box::new(between));
    }
}

impl<T: Send + Sync + 'static> Clone for LongRun<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> Copy for LongRun<T> {}

impl<T> Clone for Progress<T> {
    fn clone(&self) -> Self {
        match self {
            Progress::Nothing => Progress::Nothing,
            Progress::Running(reached) => Progress::Running(*reached),
            Progress::Stopped(reached) => Progress::Stopped(*reached),
            Progress::Found(found) => Progress::Found(found.clone()),
            Progress::NotDefined(reason) => Progress::NotDefined(reason.clone()),
        }
    }
}
