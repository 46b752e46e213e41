//! Which candidate is closest: resampled in slices after the verdict stands on the screen.

use crate::parts::disclosure::HelpOn;
use crate::parts::long_work::Progress;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::View;
use crate::state::study::bootstrap_work::BootstrapWork;
use crate::tables;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::stats::r#match::distance_bootstrap::DistanceResampling;
use likeness_core::stats::study_bootstrap::start_distances;

/// Draws that go on while other views are looked at, and are kept until scores or target change.
#[derive(Clone, Copy)]
struct Distances(BootstrapWork<DistanceResampling>);

/// Draws panels once Match is looked at and settled.
pub fn keep_distances(context: AppContext) {
    let is_wanted = Memo::new(move |_| context.app.view.get() == View::Match && context.derived.is_settled.get());
    provide_context(Distances(BootstrapWork::keep(context, is_wanted, |work, study| {
        work.start(start_distances(study))
    })));
}

#[component]
pub fn Closeness() -> impl IntoView {
    let context: AppContext = expect_context();
    let Distances(draws) = expect_context();
    let table = Signal::derive(move || {
        let found = draws.found()?;
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::closeness::closeness(analysis, &found)))
    });
    view! {
        <section class="closeness">
            <h2>{say::CLOSENESS_HEADING}</h2>
            {move || match draws.work.progress() {
                Progress::Running(reached) => view! { <p class="quiet">{words::resampling(reached.done, reached.wanted)}</p> }.into_any(),
                Progress::NotDefined(reason) => view! { <p class="quiet">{words::closeness_not_defined(&reason.because)}</p> }.into_any(),
                _ => ().into_any(),
            }}
            <TableView table/>
            <div class="helps">
                <HelpOn help=&words::help::DISTANCE/>
                <HelpOn help=&words::help::CLOSENESS/>
            </div>
        </section>
    }
}
