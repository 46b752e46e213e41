//! Which samples differ on each attribute: asked for, then worked out in slices, since many pairs take a while.

use crate::parts::disclosure::HelpOn;
use crate::parts::long_work::{LongWork, WorkInProgress};
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::study::match_work::CompareWork;
use crate::tables::comparisons::{AttributeComparisons, against_target, letters};
use crate::words;
use crate::words::profile as say;
use leptos::prelude::*;
use likeness_core::stats::NotDefined;

#[component]
pub fn Comparisons() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: LongWork<Vec<AttributeComparisons>> = LongWork::new();
    let start = move |()| {
        let asked = context.app.study.with_untracked(|study| study.as_ref().map(CompareWork::of));
        work.start(asked.ok_or_else(|| NotDefined::because("no study is open")));
    };
    // What was found for other scores or another target no longer holds.
    Effect::new(move |before: Option<()>| {
        context.derived.analysis.track();
        if before.is_some() {
            work.drop_result();
        }
    });
    let shown_letters = Signal::derive(move || {
        let found = work.found()?;
        let shown = context.app.shown_samples.get();
        context.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| letters(analysis, &found, &shown)))
    });
    let against = Signal::derive(move || {
        let found = work.found()?;
        context.derived.analysis.with(|analysis| against_target(analysis.as_ref()?, &found))
    });
    let pointed = Callback::new(move |attribute| crate::state::actions::point_at(context.app, attribute));
    view! {
        <section class="comparisons" data-test="comparisons">
            <h2>{say::WHICH_HEADING}</h2>
            <WorkInProgress
                work
                name="comparisons"
                doing=say::COMPARING
                not_defined=say::comparisons_not_defined
                start_words=say::COMPARE_START
                start
            />
            <TableView table=shown_letters pointed/>
            <TableView table=against pointed/>
            <HelpOn help=&words::help::COMPARISONS/>
        </section>
    }
}
