//! What may be settled beside target and margin: the profile margin, both cups of the target, one chance of error over all
//! candidates.

use crate::state::AppContext;
use crate::state::study::decisions;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::study::Settings;

/// How large the typical difference may be in a match as a whole.
#[component]
pub fn ProfileField(settings: Memo<Option<Settings>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (refused, set_refused) = signal(None::<String>);
    let shown = move || settings.with(|s| s.as_ref().map(|s| words::number(s.profile_share))).unwrap_or_default();
    let unit = move || {
        context.app.study.with(|study| study.as_ref().map(|study| study.scale.unit.clone())).unwrap_or_default()
    };
    let is = move || {
        settings.with(|s| s.as_ref().map(|s| say::profile_margin_is(s.profile_share, s.margin.width_mm, &unit())))
    };
    let changed =
        move |event| set_refused.set(decisions::set_profile_share(context.app, &event_target_value(&event)).err());
    view! {
        <label class="field">
            <span>{say::PROFILE_MARGIN}</span>
            <span class="with-unit">
                <input class="short" inputmode="decimal" data-test="profile-share" prop:value=shown on:change=changed/>
                {is}
            </span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </label>
    }
}

/// What may be asked for beyond the usual: both cups of the target, one chance of error over all candidates.
#[component]
pub fn Choices(settings: Memo<Option<Settings>>, samples: Memo<Vec<String>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let of = move |pick: fn(&Settings) -> bool| settings.with(|settings| settings.as_ref().is_some_and(pick));
    let served_twice = Memo::new(move |_| of(|settings| settings.blind_duplicate.is_some()));
    let several = Memo::new(move |_| samples.with(Vec::len) > if served_twice.get() { 3 } else { 2 });
    let both = move |event| decisions::set_both_cups(context.app, event_target_checked(&event));
    let together = move |event| decisions::set_together(context.app, event_target_checked(&event));
    view! {
        {move || served_twice.get().then(|| view! {
            <label class="check">
                <input type="checkbox" data-test="both-cups" prop:checked=move || of(|s| s.both_cups) on:change=both/>
                <span>{say::BOTH_CUPS}</span>
            </label>
        })}
        {move || several.get().then(|| view! {
            <label class="check">
                <input type="checkbox" data-test="together" prop:checked=move || of(|s| s.candidates_together) on:change=together/>
                <span>{say::TOGETHER}</span>
            </label>
        })}
    }
}
