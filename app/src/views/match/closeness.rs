//! Which candidate is closest: panels drawn again in slices after the verdict stands on the screen.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::long_run::Progress;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::Closeness as Method;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::tables;

#[component]
pub fn Closeness() -> impl IntoView {
    let context: AppContext = expect_context();
    Effect::new(move |_| {
        if let Some(entry) = Entry::named(Method::ABOUT.id).filter(|_| context.derived.is_settled.get()) {
            context.findings.start_unasked(entry);
        }
    });
    let table = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| Some(tables::r#match::closeness(analysis.as_ref()?, &found)))
    });
    let said = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| tables::r#match::closest(analysis.as_ref()?, &found))
    });
    let progress = move || match Entry::named(Method::ABOUT.id).map(|entry| context.findings.run_of(entry).progress()) {
        Some(Progress::Running(reached)) => {
            view! { <p class="quiet">{words::resampling(reached.done, reached.wanted)}</p> }.into_any()
        }
        Some(Progress::NotDefined(reason)) => {
            view! { <p class="quiet">{words::closeness_not_defined(&reason.because)}</p> }.into_any()
        }
        _ => ().into_any(),
    };
    view! {
        <section class="closeness" data-entry=Method::ABOUT.id>
            <Folded summary=say::CLOSENESS_HEADING hook="closeness" conclusion=said>
                {progress}
                <TableView table/>
                <div class="helps">
                    <HelpOn help=&words::help::DISTANCE/>
                    <HelpOn help=&words::help::CLOSENESS/>
                </div>
            </Folded>
        </section>
    }
}
