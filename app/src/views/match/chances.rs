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
use likeness_core::tables::r#match::{chances, chances_sentence};

#[component]
pub fn Chances() -> impl IntoView {
    let context: AppContext = expect_context();
    let table = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| Some(chances(analysis.as_ref()?, &found)))
    });
    let sentence = move || {
        let found = context.findings.found::<Method>()?;
        let said = context.derived.analysis.with(|analysis| Some(chances_sentence(analysis.as_ref()?, &found)))?;
        Some(view! { <p data-test="chances-said">{said}</p> })
    };
    view! {
        <section class="chances" data-test="chances" data-entry=Method::ABOUT.id>
            <h2>{say::CHANCES_HEADING}</h2>
            {Entry::named(Method::ABOUT.id).map(|entry| view! { <EntryProgress entry/> })}
            {sentence}
            <Folded summary=say::CHANCES_FOLDED>
                <TableView table/>
            </Folded>
            <HelpOn help=&words::help::CHANCES/>
        </section>
    }
}
