//! What this panel could have shown: worked out in slices after the verdict stands on the screen.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::views::findings::EntryProgress;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::Power as Method;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::stats::r#match::panel_power::PanelPower;
use likeness_core::stats::r#match::power::PowerReached;
use likeness_core::tables;
use likeness_core::tables::r#match::sentences::power_sentence;

#[component]
pub fn Power() -> impl IntoView {
    let context: AppContext = expect_context();
    let table = Signal::derive(move || {
        let found = context.findings.found::<Method>()?;
        context.derived.analysis.with(|analysis| Some(tables::r#match::power(analysis.as_ref()?, &found)))
    });
    let pointed = Callback::new(move |attribute| crate::state::actions::point_at(context.app, attribute));
    let sentence = Signal::derive(move || context.findings.found::<Method>().and_then(|found| said(&found)));
    let Some(entry) = Entry::named(Method::ABOUT.id) else { return ().into_any() };
    Effect::new(move |_| context.findings.start_unasked(entry));
    view! {
        <section class="power" data-test="power" data-entry=Method::ABOUT.id>
            <Folded summary=say::POWER_HEADING hook="power" conclusion=sentence>
                <EntryProgress entry/>
                <TableView table pointed/>
                <HelpOn help=&words::help::POWER/>
            </Folded>
        </section>
    }
    .into_any()
}

/// The attribute that was hardest to show.
fn said(found: &PanelPower) -> Option<String> {
    let reached = found.attributes.iter().filter_map(|one| one.reached.as_ref().ok());
    let chance = |one: &&PowerReached| one.p_match;
    reached.filter(|one| one.deciding).min_by(|a, b| chance(a).total_cmp(&chance(b))).map(power_sentence)
}
