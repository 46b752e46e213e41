//! Which samples differ on each attribute: asked for, then worked out in slices, since many pairs take a while.

use crate::parts::disclosure::HelpOn;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::views::findings::EntryProgress;
use crate::words;
use crate::words::profile as say;
use leptos::prelude::*;
use likeness_core::catalogue::samples::Comparisons as Method;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::tables::samples::{against_target, letters};

#[component]
pub fn Comparisons() -> impl IntoView {
    let context: AppContext = expect_context();
    let shown_letters = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        let shown = context.app.shown_samples.get();
        context.derived.analysis.with(|analysis| Some(letters(analysis.as_ref()?, &found, &shown)))
    });
    let against = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| against_target(analysis.as_ref()?, &found))
    });
    let pointed = Callback::new(move |attribute| crate::state::actions::point_at(context.app, attribute));
    view! {
        <section class="comparisons" data-test="comparisons" data-entry=Method::ABOUT.id>
            <h2>{say::WHICH_HEADING}</h2>
            {Entry::named(Method::ABOUT.id).map(|entry| view! { <EntryProgress entry/> })}
            <TableView table=shown_letters pointed/>
            <TableView table=against pointed/>
            <HelpOn help=&words::help::COMPARISONS/>
        </section>
    }
}
