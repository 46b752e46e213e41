//! Work that takes a while: done in slices, its progress shown, stopped on request, its result kept until it is
//! dropped. It knows no study; what is worked on comes from outside.

use crate::browser::slices;
use crate::state::Shared;
use crate::state::study::work::{Reached, Work};
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::stats::{Defined, NotDefined};

/// Where work stands.
pub enum Progress<T> {
    /// Nothing was asked for, or what was found no longer holds.
    Nothing,
    Running(Reached),
    /// Stopped by the person.
    Stopped(Reached),
    Found(Shared<T>),
    NotDefined(NotDefined),
}

/// A place for one kind of work. What is newer takes over from what is older. Copies are handles to the same place.
pub struct LongWork<T: Send + Sync + 'static> {
    progress: RwSignal<Progress<T>>,
    /// Number of the latest work; work that finds another number stops.
    latest: RwSignal<u64>,
}

impl<T: Send + Sync + 'static> LongWork<T> {
    pub fn new() -> Self {
        LongWork { progress: RwSignal::new(Progress::Nothing), latest: RwSignal::new(0) }
    }

    /// Starts work in place of any other, or says why there is none.
    pub fn start<W: Work<Found = T>>(self, work: Defined<W>) {
        let this = self.take_over();
        match work {
            Ok(work) => self.go_on(work, this),
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
        self.progress.set(Progress::Nothing);
    }

    pub fn progress(self) -> Progress<T> {
        self.progress.get()
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
    fn go_on<W: Work<Found = T>>(self, work: W, this: u64) {
        self.progress.set(Progress::Running(work.reached()));
        let going = std::rc::Rc::new(std::cell::RefCell::new(Some(work)));
        let stepped = going.clone();
        let step = move || {
            let mut place = stepped.borrow_mut();
            let Some(work) = place.as_mut() else { return true };
            if !work.is_done() {
                work.step();
                return false;
            }
            if let Some(work) = place.take() {
                self.progress.set(match work.finish() {
                    Ok(found) => Progress::Found(Shared::new(found)),
                    Err(reason) => Progress::NotDefined(reason),
                });
            }
            true
        };
        let between = move || {
            let is_wanted = self.latest.try_get_untracked() == Some(this);
            if let Some(work) = going.borrow().as_ref().filter(|_| is_wanted) {
                self.progress.set(Progress::Running(work.reached()));
            }
            is_wanted
        };
        // What started the work is painted first: the first slice comes after the next frame.
        slices::after_painting(move || {
            if self.latest.try_get_untracked() == Some(this) {
                slices::run(step, between);
            }
        });
    }
}

impl<T: Send + Sync + 'static> Clone for LongWork<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> Copy for LongWork<T> {}

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

/// Shows how far work has come with a way to stop it, why there is none, or how to start it. Nothing once it is done.
#[component]
pub fn WorkInProgress<T: Send + Sync + 'static>(
    work: LongWork<T>,
    /// Hook for tests.
    name: &'static str,
    /// What is being done, such as "Looking for slips".
    doing: &'static str,
    /// Why the result is not defined, as a sentence.
    not_defined: fn(&str) -> String,
    /// What the button that starts says.
    start_words: &'static str,
    #[prop(into)] start: Callback<()>,
) -> impl IntoView {
    let state = Memo::new(move |_| match work.progress() {
        Progress::Running(_) => 1,
        Progress::NotDefined(_) => 2,
        Progress::Found(_) => 3,
        Progress::Nothing | Progress::Stopped(_) => 0,
    });
    let reached = move || match work.progress() {
        Progress::Running(reached) | Progress::Stopped(reached) => reached,
        _ => Reached { done: 0, wanted: 0 },
    };
    view! {
        <div class="long-work" data-test=format!("{name}-work")>
            {move || match state.get() {
                1 => view! {
                    <label class="running">
                        <span>{doing}" "{move || say::reached(reached())}</span>
                        <progress max=move || reached().wanted.to_string() value=move || reached().done.to_string()></progress>
                    </label>
                    <button type="button" class="small" data-test=format!("{name}-stop") on:click=move |_| work.stop()>{say::STOP}</button>
                    <p class="print-only">{doing}": "{say::UNFINISHED_IN_PRINT}</p>
                }
                .into_any(),
                2 => match work.progress() {
                    Progress::NotDefined(reason) => view! { <p class="quiet">{not_defined(&reason.because)}</p> }.into_any(),
                    _ => ().into_any(),
                },
                3 => ().into_any(),
                _ => view! {
                    <button type="button" class="small" data-test=format!("{name}-start") on:click=move |_| start.run(())>{start_words}</button>
                    {move || matches!(work.progress(), Progress::Stopped(_)).then(|| view! { <span class="quiet">{say::stopped(reached())}</span> })}
                }
                .into_any(),
            }}
        </div>
    }
}
