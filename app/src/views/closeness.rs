//! Which candidate is closest: resampled in slices after the verdict stands on the screen.

use super::Desk;
use crate::browser::{clock, slices};
use crate::parts::table::TableView;
use crate::state::Shared;
use crate::tables;
use crate::words;
use leptos::prelude::*;
use likeness_core::stats::NotDefined;
use likeness_core::stats::resampling::{DistanceResampling, DistanceRun, ResamplingOptions};

/// Draws between two looks at the clock.
const DRAWS_A_STEP: usize = 20;
/// Longest time for which the page is not listening.
const SLICE_MS: f64 = 12.0;

#[derive(Clone)]
enum Progress {
    Nothing,
    Running { done: usize, wanted: usize },
    Found(Shared<DistanceResampling>),
    NotDefined(NotDefined),
}

#[component]
pub fn Closeness() -> impl IntoView {
    let desk: Desk = expect_context();
    let progress = RwSignal::new(Progress::Nothing);
    let latest = RwSignal::new(0_u64);
    Effect::new(move |_| {
        desk.derived.analysis.track();
        let this = latest.get_untracked() + 1;
        latest.set(this);
        start(desk, progress, latest, this);
    });
    let table = Signal::derive(move || match progress.get() {
        Progress::Found(found) => desk
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::closeness::closeness(analysis, &found))),
        _ => None,
    });
    view! {
        <div class="closeness">
            {move || match progress.get() {
                Progress::Running { done, wanted } => view! { <p class="quiet">{words::resampling(done, wanted)}</p> }.into_any(),
                Progress::NotDefined(reason) => view! { <p class="quiet">{words::closeness_not_defined(&reason.because)}</p> }.into_any(),
                _ => ().into_any(),
            }}
            <TableView table/>
        </div>
    }
}

fn start(desk: Desk, progress: RwSignal<Progress>, latest: RwSignal<u64>, this: u64) {
    let run = desk.ground.study.with_untracked(|study| {
        let study = study.as_ref()?;
        let target = study.settings.target.clone()?;
        let options = ResamplingOptions { seed: study.settings.seed, ..ResamplingOptions::default() };
        Some(DistanceRun::start(study, &target, options))
    });
    match run {
        None => progress.set(Progress::Nothing),
        Some(Err(reason)) => progress.set(Progress::NotDefined(reason)),
        Some(Ok(run)) => go_on(run, progress, latest, this),
    }
}

/// Goes on until it is done or something newer is wanted.
fn go_on(run: DistanceRun, progress: RwSignal<Progress>, latest: RwSignal<u64>, this: u64) {
    let mut run = Some(run);
    slices::run(move || {
        if latest.try_get_untracked() != Some(this) {
            return true;
        }
        let Some(mut going) = run.take() else { return true };
        let start = clock::milliseconds();
        while !going.is_done() && clock::milliseconds() - start < SLICE_MS {
            going.advance(DRAWS_A_STEP);
        }
        if going.is_done() {
            progress.set(Progress::Found(Shared::new(going.finish())));
            return true;
        }
        progress.set(Progress::Running { done: going.draws_done(), wanted: going.draws_wanted() });
        run = Some(going);
        false
    });
}
