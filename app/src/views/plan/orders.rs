//! Orders and codes: making the plan, what is balanced, who gets what, late changes, the code box, the key on demand.

use super::fields::{NumberField, TextField};
use super::late::{Late, Sessions};
use super::sheet_view::SheetView;
use crate::browser::page;
use crate::parts::disclosure::HelpOn;
use crate::parts::notices::NoticeList;
use crate::state::AppContext;
use crate::state::plan::missing::missing_in;
use crate::state::plan::{late_changes, planning};
use crate::state::{PlanPart, Shared};
use crate::words::plan::orders as say;
use leptos::prelude::*;
use likeness_core::notice::{Notice, Severity};
use likeness_core::plan::orders::codes::check_code_in;
use likeness_core::plan::orders::serving_orders::OrderRow;
use likeness_core::plan::session::sheets::{key_sheet, orders_sheet, position_sheet, predecessor_sheet};
use likeness_core::plan::tasting_plan::TastingPlan;

#[component]
pub fn Orders() -> impl IntoView {
    let context: AppContext = expect_context();
    let plan = Memo::new(move |_| context.app.plan.get().map(Shared::new));
    view! {
        <div class="plan-orders">
            <Making plan/>
            {move || plan.get().map(|plan| view! { <Made plan/> })}
        </div>
    }
}

/// Seed, what is missing, and the button.
#[component]
fn Making(plan: Memo<Option<Shared<TastingPlan>>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let missing = Memo::new(move |_| app.plan_draft.with(missing_in));
    let differs = Memo::new(move |_| {
        plan.with(|plan| plan.as_ref().is_some_and(|plan| app.plan_draft.with(|draft| draft.differs_from(plan))))
    });
    let is_begun = move || plan.with(|plan| plan.as_ref().is_some_and(|plan| plan.orders.is_begun()));
    let (refused, set_refused) = signal(None::<String>);
    view! {
        <section>
            <h1>{say::HEADING}</h1>
            <p class="lead">{say::INTRO}</p>
            {move || plan.with(Option::is_none).then(|| view! { <Missing missing/> })}
            {move || differs.get().then(|| view! { <p class="warning" data-test="plan-differs">{say::DIFFERS}</p> })}
            {move || (differs.get() && is_begun()).then(|| view! { <p class="warning">{say::BEGUN}</p> })}
            <div class="plan-tools"><MakeButton plan differs set_refused/></div>
            <SeedAndUsedCodes/>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert" data-test="plan-refused">{why}</p> })}
            <HelpOn help=&say::ORDERS_HELP/>
        </section>
    }
}

/// What is seldom changed: the seed, and codes that were used before.
#[component]
fn SeedAndUsedCodes() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <details class="plan-more">
            <summary data-test="plan-more">{say::MORE}</summary>
            <div class="fields">
                <NumberField
                    label=say::SEED
                    hook="plan-seed"
                    shows=|draft| draft.seed.to_string()
                    takes=|draft, typed| {
                        draft.seed = typed.trim().parse().map_err(|_| say::refused_seed(typed))?;
                        Ok(())
                    }
                />
                <button type="button" class="button" on:click=move |_| planning::draw_seed(app)>{say::ANOTHER_SEED}</button>
                <TextField
                    label=say::USED_CODES
                    hook="used-codes"
                    hint=say::USED_CODES_HINT
                    is_wide=true
                    shows=|draft| draft.used_codes_typed.clone()
                    set=|draft, text| draft.used_codes_typed = text
                />
            </div>
        </details>
    }
}

/// Makes the plan, or makes it anew; it is the main thing to do only while that would change something.
#[component]
fn MakeButton(
    plan: Memo<Option<Shared<TastingPlan>>>,
    differs: Memo<bool>,
    set_refused: WriteSignal<Option<String>>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let make = move |_| set_refused.set(planning::make(app).err().map(|why| why.to_string()));
    view! {
        <button
            type="button"
            class="button"
            class:is-main=move || plan.with(Option::is_none) || differs.get()
            data-test="make-plan"
            on:click=make
        >
            {move || if plan.with(Option::is_some) { say::MAKE_ANEW } else { say::MAKE }}
        </button>
    }
}

#[component]
fn Missing(missing: Memo<Vec<Notice>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let to_samples = move |_| planning::look_at_part(context.app, PlanPart::Samples);
    move || {
        if missing.with(|missing| missing.iter().all(|notice| notice.severity < Severity::Check)) {
            return view! { <p class="quiet">{say::READY}</p> }.into_any();
        }
        view! {
            <p><strong>{say::NOT_MADE}</strong>" "{say::NOT_MADE_MORE}</p>
            <NoticeList notices=missing is_form=true/>
            <div class="plan-tools">
                <button type="button" class="button" on:click=to_samples>{say::TO_MISSING}</button>
            </div>
        }
        .into_any()
    }
}

/// Everything about a plan that was made.
#[component]
fn Made(plan: Shared<TastingPlan>) -> impl IntoView {
    view! {
        <MadeWhen plan=plan.clone()/>
        <Design plan=plan.clone()/>
        <CodeBox plan=plan.clone()/>
        <OrdersTable plan=plan.clone()/>
        <Sessions plan=plan.clone()/>
        <Late plan=plan.clone()/>
        <Key plan=plan.clone()/>
        <details>
            <summary>{say::LOG}</summary>
            <ul class="plan-log" data-test="plan-log">
                {plan.log.iter().map(|entry| view! {
                    <li><span class="when">{entry.when.clone()}</span>" "{entry.what.clone()}</li>
                }).collect_view()}
            </ul>
        </details>
    }
}

/// When the plan was made, with which seed, and the way to what is printed from it.
#[component]
fn MadeWhen(plan: Shared<TastingPlan>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let seed = plan.orders.request.seed;
    let made = say::made(&plan.made_at, seed, plan.assessors.len(), plan.sessions.len(), plan.servings().len());
    let to_printouts = move |_| planning::look_at_part(app, PlanPart::Printouts);
    view! {
        <section>
            <p data-test="plan-made"><strong>{made}</strong></p>
            <div class="plan-tools">
                <button type="button" class="button is-main" data-test="to-papers" on:click=to_printouts>{say::TO_PRINTOUTS}</button>
            </div>
        </section>
    }
}

/// What is balanced, in words and in tables of counts.
#[component]
fn Design(plan: Shared<TastingPlan>) -> impl IntoView {
    let lines = plan.orders.in_words.clone();
    view! {
        <section>
            <h2>{say::DESIGN}</h2>
            <ul class="raises">{lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            <div class="count-tables">
                <SheetView sheet=position_sheet(&plan) hook="positions"/>
                <SheetView sheet=predecessor_sheet(&plan) hook="predecessors"/>
            </div>
        </section>
    }
}

#[component]
fn OrdersTable(plan: Shared<TastingPlan>) -> impl IntoView {
    let most = plan.orders.rows.iter().map(|row| row.order.len()).max().unwrap_or(0);
    let rows = plan.orders.rows.iter().enumerate();
    let rows: Vec<_> = rows.map(|(place, row)| order_line(&plan, place, row, most)).collect();
    view! {
        <section class="table-part" data-test="orders-table">
            <div class="part-head">
                <h2>{say::ORDERS}</h2>
                <super::sheet_view::SheetTools sheet=orders_sheet(&plan) hook="orders"/>
            </div>
            <p class="note">{say::ORDERS_NOTE}</p>
            <div class="table-place is-tall" tabindex="0" role="region" aria-label=say::ORDERS>
                <table class="results sheet">
                    {orders_head(most)}
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
}

fn orders_head(cups: usize) -> impl IntoView {
    let cup = |number| view! { <th scope="col" class="number">{say::cup(number)}</th> };
    view! {
        <thead>
            <tr>
                <th scope="col" class="number">{say::SESSION}</th>
                <th scope="col" class="words">{say::ASSESSOR}</th>
                {(1..=cups).map(cup).collect_view()}
                <th scope="col" class="words">{say::SERVED}</th>
            </tr>
        </thead>
    }
}

fn order_line(plan: &TastingPlan, place: usize, row: &OrderRow, most: usize) -> impl IntoView + use<> {
    let name = plan.assessors.get(row.assessor).cloned().unwrap_or_default();
    let cells = (0..most).map(|cup| {
        let code = row.codes.get(cup).cloned().unwrap_or_default();
        view! { <td class="number" class:is-served=cup < row.served>{code}</td> }
    });
    view! {
        <tr>
            <td class="number">{row.session}</td>
            <th scope="row" class="row-head">{name.clone()}</th>
            {cells.collect_view()}
            <td>{served_select(row, place, &name)}</td>
        </tr>
    }
}

/// How many cups of a row were served.
fn served_select(row: &OrderRow, place: usize, name: &str) -> impl IntoView + use<> {
    let app = expect_context::<AppContext>().app;
    let (assessor, session, all, served) = (row.assessor, row.session, row.order.len(), row.served);
    let changed = move |event| {
        if let Ok(cups) = event_target_value(&event).parse::<usize>() {
            late_changes::mark_served(app, assessor, session, cups);
            // The table is drawn anew; the keyboard goes on where it was.
            page::focus_at("[data-test='served']", place);
        }
    };
    let options = (0..=all).map(|cups| {
        view! { <option value=cups.to_string() selected=cups == served>{say::served_count(cups, all)}</option> }
    });
    view! {
        <select class="is-small" data-test="served" aria-label=say::served_of(name, session) on:change=changed>{options.collect_view()}</select>
    }
}

/// Says while one types whether a code can exist in this study.
#[component]
fn CodeBox(plan: Shared<TastingPlan>) -> impl IntoView {
    let set = plan.orders.code_set();
    let (typed, set_typed) = signal(String::new());
    let answer = Memo::new(move |_| {
        let text = typed.get();
        (text.trim().chars().count() >= 3).then(|| {
            let check = check_code_in(&text, &set);
            (check.can_exist(), say::code_answer(&check))
        })
    });
    view! {
        <section>
            <h2>{say::CODE_BOX}</h2>
            <p class="lead">{say::CODE_BOX_INTRO}</p>
            <p class="code-box">
                <input
                    class="short"
                    inputmode="numeric"
                    maxlength="8"
                    data-test="code-box"
                    aria-label=say::CODE_BOX
                    on:input=move |event| set_typed.set(event_target_value(&event))
                />
                <span role="status" data-test="code-answer">{move || code_answer(answer.get())}</span>
            </p>
        </section>
    }
}

fn code_answer(answer: Option<(bool, String)>) -> impl IntoView {
    let (class, sentence) = match answer {
        Some((true, sentence)) => ("is-match", sentence),
        Some((false, sentence)) => ("refused", sentence),
        None => ("quiet", say::CODE_BOX_EMPTY.to_owned()),
    };
    view! { <span class=class>{sentence}</span> }
}

/// Which code is which sample: hidden until it is asked for.
#[component]
fn Key(plan: Shared<TastingPlan>) -> impl IntoView {
    let (is_shown, set_shown) = signal(false);
    view! {
        <section data-test="key">
            <h2>{say::KEY}</h2>
            <p class="lead">{say::KEY_INTRO}</p>
            <div class="plan-tools">
                <button
                    type="button"
                    class="button"
                    data-test="show-key"
                    aria-expanded=move || is_shown.get().to_string()
                    on:click=move |_| set_shown.update(|shown| *shown = !*shown)
                >
                    {move || if is_shown.get() { say::HIDE_KEY } else { say::SHOW_KEY }}
                </button>
            </div>
            {move || is_shown.get().then(|| view! { <SheetView sheet=key_sheet(&plan) hook="key"/> })}
        </section>
    }
}
