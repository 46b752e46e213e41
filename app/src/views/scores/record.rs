//! The record: files, decisions, repairs, exclusions, what was done.

use crate::parts::follow::follow_later;
use crate::state::AppContext;
use crate::state::study::exclusions::scope_in_words;
use crate::words;
use crate::words::session_record::NOTED;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::study::{ExclusionScope, Study};

/// The record on the screen and on paper.
#[component]
pub fn Record() -> impl IntoView {
    let context: AppContext = expect_context();
    move || context.app.study.with(|study| study.as_ref().map(record_of))
}

/// The record at the end of another view, on paper only: it is made once what is seen on the screen stands there.
#[component]
pub fn RecordForPrint() -> impl IntoView {
    let context: AppContext = expect_context();
    let made = follow_later(move || {
        context.app.study.track();
        Some(())
    });
    let record = move || made.get().and_then(|()| untrack(|| context.app.study.with(|s| s.as_ref().map(record_of))));
    view! { <div class="print-only">{record}</div> }
}

fn record_of(study: &Study) -> impl IntoView + use<> {
    let files = study.files.iter().map(|file| {
        let about = words::file_in_words(file.length_bytes, &file.fingerprint);
        view! { <li><strong>{file.name.clone()}</strong>" "{about}</li> }
    });
    let decided = words::decisions(study);
    let repaired = study.notices.iter().filter(|notice| notice.severity > Severity::Understood);
    let repaired: Vec<String> = repaired.map(ToString::to_string).collect();
    let left_out = study.exclusions.iter().map(|exclusion| {
        view! { <li>{scope_in_words(study, exclusion.scope)}": "{exclusion.reason.clone()}</li> }
    });
    let corrected = study.edits.iter().map(|edit| {
        let scope = ExclusionScope::Score { serving: edit.serving, attribute: edit.attribute };
        let said = words::scores::correction(&scope_in_words(study, scope), edit, &study.scale.unit);
        view! { <li><span class="when">{edit.when.clone()}</span>" "{said}</li> }
    });
    let noted = study.record.iter().map(|event| {
        view! { <li><span class="when">{event.when.clone()}</span>" "{study.recorded_in_words(event)}</li> }
    });
    let noted =
        (!study.record.is_empty()).then(|| view! { <h3>{NOTED}</h3><ul data-test="noted">{noted.collect_view()}</ul> });
    let log = study.log.iter().map(|entry| {
        view! { <li><span class="when">{entry.when.clone()}</span>" "{entry.what.clone()}</li> }
    });
    view! {
        <section class="record" data-test="record">
            <h2>{words::RECORD}</h2>
            <h3>{words::SOURCES}</h3>
            <ul>{files.collect_view()}</ul>
            <h3>{words::DECISIONS}</h3>
            <ul>{decided.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            <h3>{words::LEFT_OUT}</h3>
            {if study.exclusions.is_empty() {
                view! { <p>{words::NOTHING_LEFT_OUT}</p> }.into_any()
            } else {
                view! { <ul>{left_out.collect_view()}</ul> }.into_any()
            }}
            <h3>{words::scores::CORRECTED}</h3>
            {if study.edits.is_empty() {
                view! { <p>{words::scores::NOTHING_CORRECTED}</p> }.into_any()
            } else {
                view! { <ul>{corrected.collect_view()}</ul> }.into_any()
            }}
            {noted}
            <h3>{words::REPAIRS}</h3>
            {if repaired.is_empty() {
                view! { <p>{words::NO_NOTICES}</p> }.into_any()
            } else {
                view! { <ul>{repaired.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul> }.into_any()
            }}
            <h3>{words::LOG}</h3>
            <ul data-test="log">{log.collect_view()}</ul>
        </section>
    }
}
