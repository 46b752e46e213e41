//! Short tests: choosing one, laying it out, its sheets, ticking in answers, the result by the right test.

use super::fields::Typed;
use super::sheet_view::{SheetTools, SheetView};
use crate::state::AppContext;
use crate::state::plan::short_tests;
use crate::words::plan::short_tests as say;
use leptos::prelude::*;
use likeness_core::plan::tests::short_test::{ShortTest, is_rated};
use likeness_core::plan::tests::test_designs::{TestCup, TestKind, TestPlan, TestRow};
use likeness_core::planning::short_test_result::{ShortResult, chosen_most};

#[component]
pub fn ShortTests() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_made = Memo::new(move |_| context.app.short_test.with(|test| test.plan.is_some()));
    let laid_out =
        Memo::new(move |_| context.app.short_test.with(|test| test.plan.clone().filter(|_| !test.layout_is_void())));
    let void = Memo::new(move |_| context.app.short_test.with(short_tests::void_layout));
    view! {
        <div class="plan-words">
            <Request is_made/>
            {move || void.get().map(|said| view! { <p class="warning" role="status" data-test="short-void">{said}</p> })}
            {move || laid_out.get().map(|plan| view! { <LaidOut plan/> })}
        </div>
    }
}

/// What is typed of the test.
#[component]
fn Request(is_made: Memo<bool>) -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    let (refused, set_refused) = signal(None::<String>);
    let kind = Memo::new(move |_| app.short_test.with(|test| test.kind));
    let has_answers = move || app.short_test.with(|test| !test.answers.is_empty());
    let pick_kind = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        short_tests::type_into(app, |test| test.kind = say::KINDS.get(place).copied().unwrap_or(TestKind::Triangle));
    };
    let kinds = say::KINDS.into_iter().enumerate().map(|(place, one)| {
        view! { <option value=place.to_string() prop:selected=move || kind.get() == one>{say::kind(one)}</option> }
    });
    let make = move |_| set_refused.set(short_tests::make(app).err().map(|why| why.to_string()));
    view! {
        <section>
            <h1>{say::HEADING}</h1>
            <p class="lead">{say::INTRO}</p>
            <div class="fields">
                <label class="field">
                    <span>{say::KIND}</span>
                    <select data-test="short-kind" on:change=pick_kind>{kinds.collect_view()}</select>
                </label>
                {move || kind.get().asks_for_character().then(|| view! { <Direction kind=kind.get()/> })}
                {move || (kind.get() == TestKind::LabelStudy).then(|| view! {
                    <Text label=say::FIRST_LABEL hook="short-label-1" shows=|test| test.labels_typed[0].clone() set=|test, text| test.labels_typed[0] = text/>
                    <Text label=say::SECOND_LABEL hook="short-label-2" shows=|test| test.labels_typed[1].clone() set=|test, text| test.labels_typed[1] = text/>
                })}
            </div>
            <div class="fields">
                <Text rows="3" label=say::SAMPLES hook="short-samples" hint=say::SAMPLES_HINT shows=|test| test.samples_typed.clone() set=|test, text| test.samples_typed = text/>
                <Text rows="3" label=say::PEOPLE hook="short-people" hint=say::PEOPLE_HINT shows=|test| test.assessors_typed.clone() set=|test, text| test.assessors_typed = text/>
                <Number label=say::SETS hook="short-sets" shows=|test| test.sets.to_string() set=|test, number| test.sets = number as usize/>
                <Number label=say::SEED hook="short-seed" shows=|test| test.seed.to_string() set=|test, number| test.seed = number/>
            </div>
            <Similar/>
            {move || app.short_test.with(|test| test.sets > 1).then(|| view! { <p class="note">{say::SETS_WHY}</p> })}
            <div class="plan-tools">
                <button type="button" class="button is-main" data-test="short-make" on:click=make>
                    {move || if is_made.get() { say::MAKE_ANEW } else { say::MAKE }}
                </button>
                {move || has_answers().then(|| view! { <span class="is-warning">{say::ANEW_LOSES}</span> })}
            </div>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
        </section>
    }
}

/// How few may be able to tell, and how many judgements it takes to show that.
#[component]
fn Similar() -> impl IntoView {
    let context: AppContext = expect_context();
    let needs = Memo::new(move |_| context.app.short_test.with(short_tests::similarity_needs));
    let (refused, set_refused) = signal(None::<String>);
    let shown = Memo::new(move |_| context.app.short_test.with(|test| test.allowed_in_100.to_string()));
    let typed = move |event| {
        set_refused.set(short_tests::allow_in_100(context.app, &event_target_value(&event)).err());
    };
    move || {
        needs.get().map(|said| view! {
        <div class="fields">
            <label class="field">
                <span>{say::ALLOWED}</span>
                <input class="short" inputmode="numeric" data-test="short-allowed" prop:value=shown on:input=typed/>
                {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
            </label>
        </div>
        <p class="quiet" data-test="short-needs">{said}</p>
    })
    }
}

/// The character of a paired test, and which sample was expected to have more of it.
#[component]
fn Direction(kind: TestKind) -> impl IntoView {
    view! {
        <Text label=say::CHARACTER hook="short-character" hint=say::CHARACTER_HINT shows=|test| test.character.clone() set=|test, text| test.character = text/>
        {if kind == TestKind::ThreeAfc {
            view! { <p class="note">{say::THREE_AFC_ORDER}</p> }.into_any()
        } else {
            view! { <Expected/> }.into_any()
        }}
    }
}

/// Which of two samples was expected to be stronger.
#[component]
fn Expected() -> impl IntoView {
    let context: AppContext = expect_context();
    let samples = Memo::new(move |_| context.app.short_test.with(ShortTest::samples));
    let expected = Memo::new(move |_| context.app.short_test.with(|test| test.expected_stronger));
    let pick = move |event| {
        let place = event_target_value(&event).parse::<usize>().ok();
        short_tests::type_into(context.app, |test| test.expected_stronger = place);
    };
    view! {
        <label class="field">
            <span>{say::EXPECTED}</span>
            <select data-test="short-expected" on:change=pick>
                <option value="" prop:selected=move || expected.with(Option::is_none)>{say::EXPECTED_NONE}</option>
                {move || samples.get().into_iter().take(2).enumerate().map(|(place, name)| view! {
                    <option value=place.to_string() prop:selected=move || expected.get() == Some(place)>{name}</option>
                }).collect_view()}
            </select>
        </label>
    }
}

#[component]
fn Text(
    label: &'static str,
    hook: &'static str,
    #[prop(optional)] hint: &'static str,
    shows: fn(&ShortTest) -> String,
    set: fn(&mut ShortTest, String),
    #[prop(optional)] rows: Option<&'static str>,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let shown = Memo::new(move |_| context.app.short_test.with(shows));
    let typed = move |text| short_tests::type_into(context.app, |test| set(test, text));
    view! { <Typed label hook hint shown typed rows/> }
}

#[component]
fn Number(
    label: &'static str,
    hook: &'static str,
    shows: fn(&ShortTest) -> String,
    set: fn(&mut ShortTest, u64),
) -> impl IntoView {
    let context: AppContext = expect_context();
    let shown = Memo::new(move |_| context.app.short_test.with(shows));
    let (refused, set_refused) = signal(None::<String>);
    let typed = move |event| {
        let text = event_target_value(&event);
        match text.trim().parse::<u64>() {
            Ok(number) => {
                set_refused.set(None);
                short_tests::type_into(context.app, |test| set(test, number));
            }
            Err(_) => set_refused.set(Some(crate::words::plan::orders::refused_seed(&text))),
        }
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <input class="short" inputmode="numeric" data-test=hook prop:value=shown on:input=typed/>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </label>
    }
}

/// Everything about a test that was laid out.
#[component]
fn LaidOut(plan: TestPlan) -> impl IntoView {
    let context: AppContext = expect_context();
    let (assessors, made_at) =
        context.app.short_test.with_untracked(|test| (test.assessors.clone(), test.made_at.clone()));
    let orders: Vec<String> = plan.order_counts.iter().map(|one| say::order_count(&one.order, one.count)).collect();
    let rated = is_rated(plan.request.kind);
    let said = say::laid_out(&made_at, assessors.len(), plan.request.seed);
    view! {
        <section data-test="short-laid-out">
            <p><strong>{said}</strong></p>
            <p>{say::TASK}": "{plan.task.clone()}</p>
            <p class="quiet">{say::ORDERS}": "{orders.join(", ")}</p>
            {plan.codes_lost.clone().map(|lost| view! { <p class="warning">{lost}</p> })}
        </section>
        <SheetView sheet=plan.serving_sheet(&assessors, false) hook="test-serving"/>
        <div class="plan-tools">
            <span>{say::WITH_KEY}</span>
            <SheetTools sheet=plan.serving_sheet(&assessors, true) hook="test-key"/>
        </div>
        {if rated { view! { <Rated/> }.into_any() } else { view! { <Answers plan=plan.clone()/> }.into_any() }}
        {(!plan.debrief.is_empty()).then(|| view! {
            <section>
                <h2>{say::DEBRIEF}</h2>
                <blockquote class="debrief">{plan.debrief.clone()}</blockquote>
                <p class="warning">{say::CAUTION}</p>
            </section>
        })}
        <p class="note">{say::METHOD}": "{plan.analysis.clone()}</p>
    }
}

/// Tests with ratings come back as a score file.
#[component]
fn Rated() -> impl IntoView {
    let context: AppContext = expect_context();
    let sheet = move || {
        let names: Vec<String> = context
            .app
            .plan_draft
            .with(|draft| draft.attributes.attributes.iter().map(|line| line.name.clone()).collect());
        context.app.short_test.with(|test| test.score_sheet(&names))
    };
    view! {
        <section>
            <h2>{say::SCORE_SHEET}</h2>
            <p class="lead">{say::RATED}</p>
            {move || sheet().map(|sheet| view! { <SheetTools sheet hook="test-scores"/> })}
        </section>
    }
}

/// Answers are ticked in; the result follows each of them.
#[component]
fn Answers(plan: TestPlan) -> impl IntoView {
    let context: AppContext = expect_context();
    let kind = plan.request.kind;
    let is_nose = kind == TestKind::NoseClip;
    let assessors = context.app.short_test.with_untracked(|test| test.assessors.clone());
    let rows: Vec<_> = plan
        .rows
        .iter()
        .map(|row| {
            let name = assessors.get(row.assessor).cloned().unwrap_or_default();
            if is_nose {
                nose_row(row, &name, &plan.request.samples).into_any()
            } else {
                choice_row(row, &name, kind).into_any()
            }
        })
        .collect();
    view! {
        <section>
            <h2>{say::ANSWERS}</h2>
            <p class="lead">{if is_nose { say::ANSWERS_NOSE } else { say::ANSWERS_INTRO }}</p>
            <div class="answered">
                <div class="table-place is-tall">
                    <table class="results sheet" data-test="short-answers">
                        <thead>
                            <tr>
                                <th scope="col" class="words">{say::ASSESSOR}</th>
                                <th scope="col" class="number">{say::SET}</th>
                                {(!is_nose).then(|| view! { <th scope="col" class="words">{say::CUPS}</th> })}
                                <th scope="col" class="words">{say::ANSWER}</th>
                            </tr>
                        </thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
                <ResultSaid plan/>
            </div>
        </section>
    }
}

fn choice_row(row: &TestRow, name: &str, kind: TestKind) -> impl IntoView + use<> {
    let context: AppContext = expect_context();
    let (assessor, set) = (row.assessor, row.set);
    let codes: Vec<String> = row.cups.iter().map(|cup| cup.code.clone()).collect();
    let choices = row.choices(kind);
    let own = row.clone();
    let given =
        Memo::new(move |_| context.app.short_test.with(|test| test.answer(&own, "").map(|answer| answer.code.clone())));
    let changed = move |event| {
        let code = event_target_value(&event);
        short_tests::type_into(context.app, |test| test.set_answer(assessor, set, &code, None, !code.is_empty()));
    };
    let options = choices.into_iter().map(|code| {
        let own = code.clone();
        view! { <option value=code.clone() prop:selected=move || given.with(|given| given.as_ref() == Some(&own))>{code.clone()}</option> }
    });
    view! {
        <tr>
            <th scope="row" class="row-head">{name.to_owned()}</th>
            <td class="number">{set}</td>
            <td>{codes.join("  ")}</td>
            <td>
                <select class="is-small" data-test="short-answer" aria-label=say::answer_of(name, set) on:change=changed>
                    <option value="">{say::NO_ANSWER}</option>
                    {options.collect_view()}
                </select>
            </td>
        </tr>
    }
}

/// With a nose clip each cup is named.
fn nose_row(row: &TestRow, name: &str, samples: &[String]) -> impl IntoView + use<> {
    let cups: Vec<_> = row.cups.iter().map(|cup| nose_cup(row, cup, name, samples)).collect();
    view! {
        <tr>
            <th scope="row" class="row-head">{name.to_owned()}</th>
            <td class="number">{row.set}</td>
            <td><span class="nose-cups">{cups}</span></td>
        </tr>
    }
}

fn nose_cup(row: &TestRow, cup: &TestCup, name: &str, samples: &[String]) -> impl IntoView + use<> {
    let context: AppContext = expect_context();
    let (assessor, set, code) = (row.assessor, row.set, cup.code.clone());
    let (own, own_code) = (row.clone(), code.clone());
    let given = Memo::new(move |_| {
        context.app.short_test.with(|test| test.answer(&own, &own_code).and_then(|answer| answer.said))
    });
    let of = code.clone();
    let changed = move |event| {
        let said = event_target_value(&event).parse::<usize>().ok();
        short_tests::type_into(context.app, |test| test.set_answer(assessor, set, &of, said, said.is_some()));
    };
    let options = samples.iter().cloned().enumerate().map(|(place, name)| {
        view! { <option value=place.to_string() prop:selected=move || given.get() == Some(place)>{name}</option> }
    });
    view! {
        <label class="field">
            <span>{say::cup(&code, &cup.condition)}</span>
            <select class="is-small" aria-label=say::said_of(name, &code) on:change=changed>
                <option value="">{say::NO_ANSWER}</option>
                {options.collect_view()}
            </select>
        </label>
    }
}

#[component]
fn ResultSaid(plan: TestPlan) -> impl IntoView {
    let context: AppContext = expect_context();
    let result = Memo::new(move |_| context.app.short_test.with(short_tests::result_of));
    let said = move || {
        context.app.short_test.with_untracked(|test| match result.get() {
            Ok(ShortResult::Count(result)) => {
                let stronger = chosen_most(test);
                (say::result(&result, &test.character, &plan.request.samples, &stronger), result.model.clone())
            }
            Ok(ShortResult::NoseClip { tally, changed }) => {
                let model = changed.as_ref().map(|changed| changed.model.clone()).unwrap_or_default();
                (say::nose_clip(&tally, changed.as_deref()), model)
            }
            Err(why) => (vec![why], String::new()),
        })
    };
    view! {
        <div data-test="short-result" aria-live="polite">
            <h3>{say::RESULT}</h3>
            {move || {
                let (lines, model) = said();
                view! {
                    {lines.into_iter().enumerate().map(|(place, line)| view! {
                        <p class=if place == 0 { "power-sentence" } else { "quiet" }>{line}</p>
                    }).collect_view()}
                    {(!model.is_empty()).then(|| view! { <p class="note">{say::METHOD}": "{model}</p> })}
                }
            }}
        </div>
    }
}
