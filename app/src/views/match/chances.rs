//! What this panel can tell: studies simulated at its own scatter, in slices after the verdict stands on the screen.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::views::findings::EntryProgress;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::catalogue::chances::ChancesOfVerdicts as Method;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::stats::Verdict;
use likeness_core::tables::r#match::{chances, chances_sentence};

#[component]
pub fn Chances() -> impl IntoView {
    let context: AppContext = expect_context();
    let table = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| Some(chances(analysis.as_ref()?, &found)))
    });
    let Some(entry) = Entry::named(Method::ABOUT.id) else { return ().into_any() };
    Effect::new(move |_| context.findings.start_unasked(entry));
    // The chance to show a match is told where none is shown; else it stands with the rest, folded.
    let has_match = Memo::new(move |_| {
        context.derived.verdicts.with(|all| all.iter().any(|one| one.verdict == Verdict::Match && !one.is_target_again))
    });
    let sentence = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| Some(chances_sentence(analysis.as_ref()?, &found)))
    });
    let conclusion = Signal::derive(move || if has_match.get() { None } else { sentence.get() });
    view! {
        <section class="chances" data-test="chances" data-entry=Method::ABOUT.id>
            <Folded summary=say::CHANCES_HEADING hook="chances" conclusion>
                <EntryProgress entry/>
                <p data-test="chances-said">{sentence}</p>
                <TableView table/>
                <HelpOn help=&words::help::CHANCES/>
            </Folded>
        </section>
    }
    .into_any()
}
