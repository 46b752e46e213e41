//! Fields that write into the draft as one types, and tell at once what can't be taken.

use crate::state::AppContext;
use crate::state::plan::planning;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;

/// What a field shows of the draft.
pub type Shows = fn(&PlanDraft) -> String;
/// How a field puts into the draft what was typed; text that can't be taken gives the reason and changes nothing.
pub type Takes = fn(&mut PlanDraft, &str) -> Result<(), String>;

/// A field of text, of one line or of several.
#[component]
pub fn Typed(
    label: &'static str,
    hook: &'static str,
    hint: &'static str,
    shown: Memo<String>,
    #[prop(into)] typed: Callback<String>,
    #[prop(optional)] class: &'static str,
    /// Lines that are seen; one line where nothing is said.
    #[prop(optional_no_strip)]
    rows: Option<&'static str>,
) -> impl IntoView {
    let typed = move |event| typed.run(event_target_value(&event));
    view! {
        <label class=format!("field {class}")>
            <span>{label}</span>
            {match rows {
                None => view! { <input type="text" data-test=hook placeholder=hint prop:value=shown on:input=typed/> }.into_any(),
                Some(rows) => {
                    view! { <textarea rows=rows data-test=hook placeholder=hint prop:value=shown on:input=typed></textarea> }.into_any()
                }
            }}
        </label>
    }
}

/// Text of the draft.
#[component]
pub fn TextField(
    label: &'static str,
    hook: &'static str,
    shows: Shows,
    set: fn(&mut PlanDraft, String),
    #[prop(optional)] hint: &'static str,
    #[prop(optional)] is_wide: bool,
    #[prop(optional)] rows: Option<&'static str>,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let shown = Memo::new(move |_| context.app.plan_draft.with(shows));
    let typed = move |text| planning::type_into_draft(context.app, |draft| set(draft, text));
    let class = match (rows, is_wide) {
        (Some(_), _) => "is-area",
        (None, true) => "is-wide",
        (None, false) => "",
    };
    view! { <Typed label hook hint shown typed class rows/> }
}

/// A number, with its unit behind it.
#[component]
pub fn NumberField(
    label: &'static str,
    hook: &'static str,
    shows: Shows,
    takes: Takes,
    #[prop(optional)] before: &'static str,
    #[prop(optional)] unit: &'static str,
    #[prop(optional)] hint: &'static str,
) -> impl IntoView {
    let (refused, set_refused) = signal(None::<String>);
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="with-unit">
                {before}
                <NumberInput hook shows takes hint refused set_refused/>
                {unit}
            </span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </label>
    }
}

#[component]
fn NumberInput(
    hook: &'static str,
    shows: Shows,
    takes: Takes,
    hint: &'static str,
    refused: ReadSignal<Option<String>>,
    set_refused: WriteSignal<Option<String>>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let shown = Memo::new(move |_| app.plan_draft.with(shows));
    let typed = move |event| {
        let text = event_target_value(&event);
        let mut outcome = Ok(());
        planning::type_into_draft(app, |draft| outcome = takes(draft, &text));
        set_refused.set(outcome.err());
    };
    let is_refused = move || refused.with(Option::is_some).to_string();
    view! {
        <input class="short" inputmode="decimal" data-test=hook placeholder=hint aria-invalid=is_refused prop:value=shown on:input=typed/>
    }
}

/// A choice among a few.
#[component]
pub fn ChoiceField(
    label: &'static str,
    hook: &'static str,
    choices: Vec<String>,
    /// Place of the choice that stands.
    stands: fn(&PlanDraft) -> usize,
    choose: fn(&mut PlanDraft, usize),
) -> impl IntoView {
    let context: AppContext = expect_context();
    let chosen = Memo::new(move |_| context.app.plan_draft.with(stands));
    let pick = move |event| {
        if let Ok(place) = event_target_value(&event).parse::<usize>() {
            planning::type_into_draft(context.app, |draft| choose(draft, place));
        }
    };
    let options = choices.into_iter().enumerate().map(|(place, text)| {
        view! { <option value=place.to_string() prop:selected=move || chosen.get() == place>{text}</option> }
    });
    view! {
        <label class="field">
            <span>{label}</span>
            <select data-test=hook on:change=pick>{options.collect_view()}</select>
        </label>
    }
}
