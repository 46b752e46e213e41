//! The record: files, decisions, repairs, exclusions, what was done.

use crate::parts::follow::follow_later;
use crate::state::AppContext;
use crate::state::study::exclusions::scope_in_words;
use crate::words;
use crate::words::session_record::NOTED;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::study::{Edit, ExclusionScope, SourceFile, Study};

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
    let files: Vec<_> = study.files.iter().map(file_line).collect();
    let left_out = study.exclusions.iter().map(|exclusion| {
        view! { <li>{scope_in_words(study, exclusion.scope)}": "{exclusion.reason.clone()}</li> }.into_any()
    });
    let corrected = study.edits.iter().map(|edit| dated(&edit.when, correction_in_words(study, edit)).into_any());
    let repaired = study.notices.iter().filter(|notice| notice.severity > Severity::Understood);
    let repaired = repaired.map(|notice| view! { <li>{notice.to_string()}</li> }.into_any());
    let decided = words::decisions(study).into_iter().map(|line| view! { <li>{line}</li> });
    view! {
        <section class="record" data-test="record">
            <h2>{words::RECORD}</h2>
            <h3>{words::SOURCES}</h3>
            <ul>{files}</ul>
            <h3>{words::DECISIONS}</h3>
            <ul>{decided.collect_view()}</ul>
            <h3>{words::LEFT_OUT}</h3>
            {list_or(left_out.collect(), words::NOTHING_LEFT_OUT)}
            <h3>{words::scores::CORRECTED}</h3>
            {list_or(corrected.collect(), words::scores::NOTHING_CORRECTED)}
            {noted_in(study)}
            <h3>{words::REPAIRS}</h3>
            {list_or(repaired.collect(), words::NO_NOTICES)}
            <h3>{words::LOG}</h3>
            <ul data-test="log">{study.log.iter().map(|entry| dated(&entry.when, entry.what.clone())).collect_view()}</ul>
        </section>
    }
}

/// A list, or what is said where it is empty.
fn list_or(lines: Vec<AnyView>, nothing: &'static str) -> AnyView {
    if lines.is_empty() {
        return view! { <p>{nothing}</p> }.into_any();
    }
    view! { <ul>{lines}</ul> }.into_any()
}

fn file_line(file: &SourceFile) -> impl IntoView + use<> {
    let about = words::file_in_words(file.length_bytes, &file.fingerprint);
    view! { <li><strong>{file.name.clone()}</strong>" "{about}</li> }
}

fn dated(when: &str, what: String) -> impl IntoView + use<> {
    view! { <li><span class="when">{when.to_owned()}</span>" "{what}</li> }
}

fn correction_in_words(study: &Study, edit: &Edit) -> String {
    let scope = ExclusionScope::Score { serving: edit.serving, attribute: edit.attribute };
    words::scores::correction(&scope_in_words(study, scope), edit, &study.scale.unit)
}

/// What was noted at the tasting; nothing where nothing was.
fn noted_in(study: &Study) -> impl IntoView + use<> {
    let noted = study.record.iter().map(|event| dated(&event.when, study.recorded_in_words(event)));
    let noted = noted.collect_view();
    (!study.record.is_empty()).then(|| view! { <h3>{NOTED}</h3><ul data-test="noted">{noted}</ul> })
}
