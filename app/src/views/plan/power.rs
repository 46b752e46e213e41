//! What the panel that is being planned can show, recomputed as one types.

use super::chances::{ChancesRuns, ChancesSaid, Correlation, asks_for_match};
use super::fields::NumberField;
use crate::parts::disclosure::HelpOn;
use crate::state::AppContext;
use crate::state::plan::typed_numbers::{count_from, length_mm_from};
use crate::words;
use crate::words::plan::brief as say;
use crate::words::plan::chances;
use leptos::prelude::*;
use likeness_core::planning::draft_power::{PowerOfDraft, power_of};

const MOST_REPLICATES: usize = 20;

#[component]
pub fn Power(runs: ChancesRuns) -> impl IntoView {
    let context: AppContext = expect_context();
    let asks_for_match = asks_for_match(context);
    let power = Memo::new(move |_| context.app.plan_draft.with(power_of));
    view! {
        <aside class="plan-power" aria-label=say::POWER_HEADING>
            <h2>{say::POWER_HEADING}</h2>
            {move || asks_for_match.get().then(|| view! { <ChancesSaid runs/> })}
            <div aria-live="polite">
                {move || match power.get() {
                    Ok(power) => view! { <Said power/> }.into_any(),
                    Err(because) => view! { <p class="refused">{say::no_power(&because)}</p> }.into_any(),
                }}
            </div>
            <Scatter/>
            <HelpOn help=&say::POWER_HELP/>
        </aside>
    }
}

/// How much assessors are assumed to scatter.
#[component]
fn Scatter() -> impl IntoView {
    view! {
        <section>
            <h3>{say::SCATTER}</h3>
            <div class="fields">
                <NumberField
                    label=say::SCATTER_OF_DIFFERENCE
                    hook="plan-sd-difference"
                    unit="mm"
                    shows=|draft| words::number(draft.scatter.sd_difference_mm)
                    takes=|draft, typed| length_mm_from(typed).map(|sd| draft.scatter.sd_difference_mm = sd)
                />
                <NumberField
                    label=say::REPLICATES_BEHIND
                    hook="plan-replicates-behind"
                    shows=|draft| draft.scatter.replicates_behind.to_string()
                    takes=|draft, typed| {
                        count_from(typed, 1, MOST_REPLICATES).map(|count| draft.scatter.replicates_behind = count)
                    }
                />
                <NumberField
                    label=say::SCATTER_WITHIN
                    hook="plan-sd-within"
                    unit="mm"
                    shows=|draft| words::number(draft.scatter.sd_error_mm)
                    takes=|draft, typed| length_mm_from(typed).map(|sd| draft.scatter.sd_error_mm = sd)
                />
                <Correlation/>
            </div>
            <p class="note">{say::SCATTER_INTRO}" "{chances::CORRELATION_WHY}</p>
        </section>
    }
}

#[component]
fn Said(power: PowerOfDraft) -> impl IntoView {
    let kind = power.kind;
    view! {
        <p data-test="power">{say::power_sentence(&power)}</p>
        {say::power_more(&power).into_iter().map(|line| view! { <p class="quiet">{line}</p> }).collect_view()}
        <h3>{say::RAISED_BY}</h3>
        <ul class="raises">
            {power.raises.iter().map(|raise| view! { <li>{say::raise(raise.by, kind, raise.power)}</li> }).collect_view()}
        </ul>
    }
}
