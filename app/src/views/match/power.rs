//! What this panel could have shown: worked out in slices after the verdict stands on the screen.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::long_work::{LongWork, WorkInProgress};
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::study::match_work::{PowerWork, all_at_once};
use crate::tables;
use crate::tables::power::AttributePower;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::stats::NotDefined;
use likeness_core::stats::r#match::power::PowerReached;
use likeness_core::text::numbers::fixed;
use likeness_core::write::sentences::power_sentence;

#[component]
pub fn Power() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: LongWork<Vec<AttributePower>> = LongWork::new();
    let start = move |()| {
        let analysis = context.derived.analysis.get_untracked();
        work.start(analysis.ok_or_else(|| NotDefined::because("no study is open")).and_then(PowerWork::of));
    };
    Effect::new(move |_| {
        context.derived.analysis.track();
        start(());
    });
    let table = Signal::derive(move || {
        let found = work.found()?;
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::power::power(analysis, &found)))
    });
    let pointed = Callback::new(move |attribute| crate::state::actions::point_at(context.app, attribute));
    view! {
        <section class="power" data-test="power">
            <h2>{say::POWER_HEADING}</h2>
            <WorkInProgress
                work
                name="power"
                doing=say::POWER_DOING
                not_defined=say::power_not_defined
                start_words=say::POWER_START
                start
            />
            {move || work.found().map(|found| view! { <p data-test="power-said">{said(context, &found)}</p> })}
            <Folded summary=say::ATTRIBUTE_BY_ATTRIBUTE>
                <TableView table pointed/>
            </Folded>
            <HelpOn help=&words::help::POWER/>
        </section>
    }
}

/// The attribute that was hardest to show, and all of them at once.
fn said(context: AppContext, found: &[AttributePower]) -> String {
    context.derived.analysis.with(|analysis| {
        let Some(analysis) = analysis else { return String::new() };
        let deciding = found.iter().filter_map(|(_, reached)| reached.as_ref().ok()).filter(|one| one.deciding);
        let chance = |one: &&PowerReached| one.p_match;
        let hardest = deciding.min_by(|a, b| chance(a).total_cmp(&chance(b))).map(power_sentence);
        let all = all_at_once(found, analysis).filter(|all| all.deciding > 1);
        let all = all.map(|all| say::power_of_all(all.deciding, &fixed(100.0 * all.p_match, 0)));
        hardest.into_iter().chain(all).collect::<Vec<_>>().join(" ")
    })
}
