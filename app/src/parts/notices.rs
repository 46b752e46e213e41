//! Notices: grouped by how much they matter, filtered on request, never in the way.

use crate::words;
use leptos::prelude::*;
use likeness_core::notice::{Notice, Severity};

/// Most notices that are shown at once; a file with a thousand flaws must not drown the page.
const SHOWN_AT_MOST: usize = 200;

const BY_WEIGHT: [Severity; 4] = [Severity::Refused, Severity::Check, Severity::Repaired, Severity::Understood];

/// The list with its filter. The heaviest come first. In a form (`is_form`) nothing was refused: it is still needed.
#[component]
pub fn NoticeList(#[prop(into)] notices: Signal<Vec<Notice>>, #[prop(optional)] is_form: bool) -> impl IntoView {
    let word = move |severity: Severity| match severity {
        Severity::Refused if is_form => words::STILL_NEEDED,
        other => words::severity(other),
    };
    let (wanted, set_wanted) = signal(None::<Severity>);
    let count = move |severity: Severity| {
        notices.with(|notices| notices.iter().filter(|notice| notice.severity == severity).count())
    };
    let filter = move |severity: Option<Severity>, label: String| {
        view! {
            <button
                type="button"
                class="chip"
                aria-pressed=move || (wanted.get() == severity).to_string()
                on:click=move |_| set_wanted.set(severity)
            >
                {label}
            </button>
        }
    };
    let filters = move || {
        let present: Vec<Severity> = BY_WEIGHT.into_iter().filter(|severity| count(*severity) > 0).collect();
        (present.len() > 1).then(|| {
            view! {
                <div class="chips" role="group" aria-label=words::NOTICES>
                    {filter(None, words::ALL_NOTICES.to_owned())}
                    {present.into_iter().map(|severity| {
                        filter(Some(severity), format!("{} {}", count(severity), word(severity)))
                    }).collect_view()}
                </div>
            }
        })
    };
    let chosen = move || {
        notices.with(|notices| {
            let mut chosen: Vec<Notice> = notices
                .iter()
                .filter(|notice| wanted.get().is_none_or(|one| one == notice.severity))
                .cloned()
                .collect();
            chosen.sort_by_key(|notice| std::cmp::Reverse(notice.severity));
            chosen
        })
    };
    view! {
        <div class="notices" data-test="notices">
            {filters}
            {move || {
                let chosen = chosen();
                let more = chosen.len().saturating_sub(SHOWN_AT_MOST);
                if chosen.is_empty() {
                    return view! { <p class="quiet">{words::NO_NOTICES}</p> }.into_any();
                }
                view! {
                    <ul tabindex="0" aria-label=words::NOTICES>{chosen.into_iter().take(SHOWN_AT_MOST).map(|notice| {
                        let word = word(notice.severity);
                        notice_line(notice, word)
                    }).collect_view()}</ul>
                    {(more > 0).then(|| view! { <p class="quiet">{words::and_more(more)}</p> })}
                }
                .into_any()
            }}
        </div>
    }
}

fn notice_line(notice: Notice, word: &'static str) -> impl IntoView {
    let class = match notice.severity {
        Severity::Refused => "notice is-refused",
        Severity::Check => "notice is-check",
        Severity::Repaired => "notice is-repaired",
        Severity::Understood => "notice",
    };
    let place = notice.place.to_string();
    view! {
        <li class=class data-severity=words::severity(notice.severity)>
            <span class="severity">{word}</span>
            <span class="notice-text">
                {(!place.is_empty()).then(|| view! { <span class="place">{place}</span> })}
                <span>{notice.what}</span>
                {(!notice.hint.is_empty()).then(|| view! { <span class="hint">{notice.hint}</span> })}
            </span>
        </li>
    }
}
