//! Which candidate is closest: resampled in slices after the verdict stands on the screen.

use super::Desk;
use crate::parts::long_work::{LongWork, Progress};
use crate::parts::table::TableView;
use crate::tables;
use crate::words;
use leptos::prelude::*;
use likeness_core::stats::resampling::{DistanceResampling, DistanceRun, ResamplingOptions};

#[component]
pub fn Closeness() -> impl IntoView {
    let desk: Desk = expect_context();
    let work = LongWork::new();
    Effect::new(move |_| {
        desk.derived.analysis.track();
        start(desk, work);
    });
    let table = Signal::derive(move || {
        let found = work.found()?;
        desk.derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::closeness::closeness(analysis, &found)))
    });
    view! {
        <div class="closeness">
            {move || match work.progress() {
                Progress::Running(reached) => view! { <p class="quiet">{words::resampling(reached.done, reached.wanted)}</p> }.into_any(),
                Progress::NotDefined(reason) => view! { <p class="quiet">{words::closeness_not_defined(&reason.because)}</p> }.into_any(),
                _ => ().into_any(),
            }}
            <TableView table/>
        </div>
    }
}

fn start(desk: Desk, work: LongWork<DistanceResampling>) {
    let run = desk.ground.study.with_untracked(|study| {
        let study = study.as_ref()?;
        let target = study.settings.target.clone()?;
        let options = ResamplingOptions { seed: study.settings.seed, ..ResamplingOptions::default() };
        Some(DistanceRun::start(study, &target, options))
    });
    match run {
        None => work.drop_result(),
        Some(run) => work.start(run),
    }
}
