//! What the leader states for the report, as fields. What is half typed stays in the field.

use crate::state::AppContext;
use crate::state::study::report_details;
use crate::state::study::report_details::AttributeText;
use crate::words::report as own;
use leptos::prelude::*;
use likeness_core::study::ReportField;

const ATTRIBUTE_TEXTS: [AttributeText; 4] =
    [AttributeText::Definition, AttributeText::Reference, AttributeText::LowEnd, AttributeText::HighEnd];

#[component]
pub fn Details() -> impl IntoView {
    let context: AppContext = expect_context();
    let stated =
        Memo::new(move |_| context.app.study.with(|study| study.as_ref().map_or(0, |study| study.report.texts.len())));
    view! {
        <details class="report-details" data-test="report-details">
            <summary>{own::STATE_MORE}" ("{move || own::stated_of(stated.get(), ReportField::ALL.len())}")"</summary>
            <p class="note">{own::STATE_HOW}</p>
            <div class="stated-fields">
                <Title/>
                {ReportField::ALL.into_iter().map(|field| view! { <Field field/> }).collect_view()}
            </div>
            <ByNumber/>
            <Lots/>
            <Vocabulary/>
        </details>
    }
}

#[component]
fn Title() -> impl IntoView {
    let context: AppContext = expect_context();
    let title = move || context.app.study.with(|study| study.as_ref().map(|study| study.title.clone()));
    view! {
        <label class="field">
            <span>{own::TITLE}</span>
            <input
                data-test="report-title"
                prop:value=title
                on:change=move |event| report_details::rename_study(context.app, &event_target_value(&event))
            />
        </label>
    }
}

#[component]
fn Field(field: ReportField) -> impl IntoView {
    let context: AppContext = expect_context();
    let text = Memo::new(move |_| {
        context.app.study.with(|study| study.as_ref().and_then(|study| study.report.text(field).map(str::to_owned)))
    });
    let text = move || text.get().unwrap_or_default();
    let hook = format!("report-{}", field.in_words().to_lowercase().replace(' ', "-"));
    let changed = move |event| report_details::state_text(context.app, field, &event_target_value(&event));
    view! {
        <label class="field">
            <span>{field.in_words()}</span>
            {if own::is_long(field) {
                view! { <textarea rows="2" data-test=hook placeholder=own::field_hint(field) prop:value=text on:change=changed></textarea> }.into_any()
            } else {
                view! { <input data-test=hook placeholder=own::field_hint(field) prop:value=text on:change=changed/> }.into_any()
            }}
        </label>
    }
}

#[component]
fn ByNumber() -> impl IntoView {
    let context: AppContext = expect_context();
    let by_number =
        move || context.app.study.with(|study| study.as_ref().is_some_and(|study| study.report.assessors_as_numbers));
    view! {
        <div>
            <label class="check">
                <input
                    type="checkbox"
                    data-test="assessors-as-numbers"
                    prop:checked=by_number
                    on:change=move |event| report_details::number_assessors(context.app, event_target_checked(&event))
                />
                <span>{own::BY_NUMBER}</span>
            </label>
            <p class="note">{own::BY_NUMBER_WHY}</p>
        </div>
    }
}

#[component]
fn Lots() -> impl IntoView {
    let context: AppContext = expect_context();
    let samples = Memo::new(move |_| {
        let names = |study: &likeness_core::study::Study| {
            study.samples.iter().map(|sample| sample.name.clone()).collect::<Vec<_>>()
        };
        context.app.study.with(|study| study.as_ref().map(names)).unwrap_or_default()
    });
    let one = move |sample: String| {
        let (for_value, for_change) = (sample.clone(), sample.clone());
        let value = move || {
            context
                .app
                .study
                .with(|study| study.as_ref().and_then(|study| study.report.lots.get(&for_value).cloned()))
                .unwrap_or_default()
        };
        view! {
            <label class="field">
                <span>{sample}</span>
                <input
                    prop:value=value
                    on:change=move |event| report_details::state_lot(context.app, &for_change, &event_target_value(&event))
                />
            </label>
        }
    };
    view! {
        <fieldset class="lots">
            <legend>{own::SAMPLES}</legend>
            <div class="fields">{move || samples.get().into_iter().map(one).collect_view()}</div>
        </fieldset>
    }
}

#[component]
fn Vocabulary() -> impl IntoView {
    let context: AppContext = expect_context();
    let names = Memo::new(move |_| {
        let names = |study: &likeness_core::study::Study| {
            study.attributes.iter().map(|attribute| attribute.name.clone()).collect::<Vec<_>>()
        };
        context.app.study.with(|study| study.as_ref().map(names)).unwrap_or_default()
    });
    let line = move |name: String| {
        let cells =
            ATTRIBUTE_TEXTS.into_iter().map(|which| view! { <td><AttributeField name=name.clone() which/></td> });
        view! { <tr><th scope="row">{name.clone()}</th>{cells.collect_view()}</tr> }
    };
    let heads = ATTRIBUTE_TEXTS.into_iter().map(|which| view! { <th scope="col">{own::attribute_text(which)}</th> });
    view! {
        <div class="table-place" tabindex="0" role="region" aria-label=own::ATTRIBUTES>
            <table class="results vocabulary">
                <caption>{own::ATTRIBUTES}</caption>
                <thead><tr><th scope="col">{own::ATTRIBUTE}</th>{heads.collect_view()}</tr></thead>
                <tbody>{move || names.get().into_iter().map(line).collect_view()}</tbody>
            </table>
        </div>
    }
}

#[component]
fn AttributeField(name: String, which: AttributeText) -> impl IntoView {
    let context: AppContext = expect_context();
    let (for_value, for_change) = (name.clone(), name.clone());
    let value = move || {
        context.app.study.with(|study| {
            let study = study.as_ref()?;
            let attribute = &study.attributes[study.attribute_index(&for_value)?];
            Some(match which {
                AttributeText::Definition => attribute.definition.clone(),
                AttributeText::LowEnd => attribute.low_end.clone(),
                AttributeText::HighEnd => attribute.high_end.clone(),
                AttributeText::Reference => study.report.references.get(&for_value).cloned().unwrap_or_default(),
            })
        })
    };
    let changed = move |event| {
        report_details::state_attribute(context.app, &for_change, which, &event_target_value(&event));
    };
    view! {
        <input aria-label=own::attribute_text_of(&name, which) prop:value=move || value().unwrap_or_default() on:change=changed/>
    }
}
