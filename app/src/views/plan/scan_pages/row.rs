//! One line that is asked about: its strip with the hairline, the reason, and the field that takes what is typed. Made for
//! the keyboard; a finger or mouse drags the hairline.

use crate::browser::events;
use crate::state::session::scan_desk::{self, AskedKind, AskedRow, NUDGE_MM};
use crate::state::{AppContext, AppState};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::scan::SmallStrip;

/// With Shift an arrow goes so many times as far.
const SHIFTED: f64 = 10.0;

#[component]
pub fn AskedLine(kind: AskedKind) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let asked = Memo::new(move |_| {
        app.scanning.desk.with(|desk| app.scanning.strips.with(|strips| scan_desk::asked(desk.as_ref()?, strips)))
    });
    let mark = Memo::new(move |_| asked.with(|asked| scan_desk::hairline(asked.as_ref()?, app.scanning.moved.get())));
    let heading = match kind {
        AskedKind::Doubtful => None,
        AskedKind::Again => Some((say::SPOT_TITLE, say::SPOT_ABOUT)),
        AskedKind::Differs => Some((say::DIFFERS_TITLE, say::DIFFERS_ABOUT)),
    };
    view! {
        <div class="asked-line" data-test="asked-line" on:keydown=move |event| arrow_pressed(app, &event)>
            {heading.map(|(title, about)| view! { <h3>{title}</h3><p class="quiet">{about}</p> })}
            {move || asked.get().map(identity)}
            <StripOf asked mark/>
            {move || asked.get().map(|asked| about(&asked))}
            {if kind == AskedKind::Differs { view! { <WhoWasRight/> }.into_any() } else { view! { <Answer kind mark/> }.into_any() }}
            <p class="refused" role="alert" data-test="scan-refused">{move || app.scanning.refused.get()}</p>
            {(kind != AskedKind::Differs).then(|| view! { <p class="keys quiet">{say::KEYS}</p> })}
        </div>
    }
}

/// Whose line it is.
fn identity(asked: AskedRow) -> impl IntoView {
    view! {
        <p class="asked-identity" data-test="asked-identity">
            <strong>{say::row_name(asked.row.number, &asked.row.attribute)}</strong>
            <span>{say::page(&asked.assessor, asked.session, &asked.code)}</span>
            <span class="quiet">{asked.file}</span>
        </p>
    }
}

/// Why it is asked, and what is suggested; in the spot check nothing is told before the look.
fn about(asked: &AskedRow) -> AnyView {
    match asked.kind {
        AskedKind::Again => ().into_any(),
        AskedKind::Doubtful => {
            let suggested = match asked.row.suggested_mm {
                Some(mark) => format!("{}: {}.", say::SUGGESTED, say::place(Some(mark))),
                None => say::NO_SUGGESTION.to_owned(),
            };
            view! {
                <p class="asked-why" data-test="asked-why">{say::WHY}": "<strong>{asked.row.why.clone()}</strong>". "{suggested}</p>
            }
            .into_any()
        }
        AskedKind::Differs => {
            let seen = asked.row.looked_again.as_ref().and_then(|looked| looked.mark_mm);
            view! {
                <dl class="mark-facts">
                    <dt>{say::YOU}</dt><dd>{say::place(seen)}</dd>
                    <dt>{say::READER}</dt><dd>{say::place(asked.row.suggested_mm)}</dd>
                </dl>
            }
            .into_any()
        }
    }
}

/// The whole line, and closer where the hairline stands.
#[component]
fn StripOf(asked: Memo<Option<AskedRow>>, mark: Memo<Option<f64>>) -> impl IntoView {
    let address = Memo::new(move |_| asked.with(|asked| asked.as_ref().and_then(|asked| asked.strip.clone())));
    let reader = Memo::new(move |_| {
        asked.with(|asked| {
            asked.as_ref().filter(|asked| asked.kind == AskedKind::Differs).and_then(|asked| asked.row.suggested_mm)
        })
    });
    let is_put = Memo::new(move |_| mark.with(Option::is_some));
    let closer = Memo::new(move |before: Option<&Shown>| {
        mark.get().map_or_else(SmallStrip::across_mm, |mark| scan_desk::closer(mark, before.copied()))
    });
    view! {
        {move || match address.get() {
            Some(address) => view! {
                <Strip address=address.clone() asked mark reader shown=Signal::derive(SmallStrip::across_mm) class="strip"/>
                {move || is_put.get().then(|| view! {
                    <p class="heard">{say::CLOSER}</p>
                    <Strip address=address.clone() asked mark reader shown=closer.into() class="strip is-closer"/>
                })}
            }.into_any(),
            None => view! { <p class="is-warning">{say::NO_STRIP}</p> }.into_any(),
        }}
    }
}

/// What part of a strip is shown: left end and length along the line, in mm.
type Shown = (f64, f64);

/// A strip as a picture that is drawn to scale, in mm, with the ends of the line and the hairline.
#[component]
fn Strip(
    address: String,
    asked: Memo<Option<AskedRow>>,
    mark: Memo<Option<f64>>,
    reader: Memo<Option<f64>>,
    shown: Signal<Shown>,
    class: &'static str,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_down = StoredValue::new(false);
    let put = move |event: &ev::PointerEvent| {
        let place = asked.with_untracked(|asked| asked.as_ref().map(|asked| asked.place));
        if let (Some(place), Some(share)) = (place, events::share_along(event)) {
            scan_desk::put_at(app, place, shown.get_untracked(), share);
        }
    };
    let (left, length) = SmallStrip::across_mm();
    let (top, height) = SmallStrip::down_mm();
    view! {
        <svg
            class=class
            role="img"
            aria-label=move || format!("{}, {}", say::STRIP_LABEL, say::spoken(mark.get()))
            viewBox=move || { let (from, long) = shown.get(); format!("{from} {top} {long} {height}") }
            data-test="strip"
            on:pointerdown=move |event| { is_down.set_value(true); events::hold_pointer(&event); put(&event); }
            on:pointermove=move |event| if is_down.get_value() { put(&event) }
            on:pointerup=move |_| is_down.set_value(false)
            on:pointercancel=move |_| is_down.set_value(false)
        >
            <image href=address x=left y=top width=length height=height preserveAspectRatio="none"/>
            {move || reader.get().map(|mark| hairline(mark, "hairline is-reader"))}
            {move || mark.get().map(|mark| hairline(mark, "hairline"))}
        </svg>
    }
}

fn hairline(mark: f64, class: &'static str) -> impl IntoView {
    let (top, height) = SmallStrip::down_mm();
    view! { <line class=class x1=mark x2=mark y1=top y2=top + height/> }
}

/// The field, and buttons that do what the keys do.
#[component]
fn Answer(kind: AskedKind, mark: Memo<Option<f64>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_narrow = events::is_narrow();
    let input: NodeRef<html::Input> = NodeRef::new();
    let enter = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let Some(input) = input.get_untracked() else { return };
        scan_desk::enter(app, &input.value());
        if app.scanning.refused.with_untracked(Option::is_none) { input.set_value("") } else { input.select() }
    };
    input.on_load(move |input| {
        // On a phone the keys would cover the strip.
        if !is_narrow.get_untracked() {
            let _ = input.focus();
        }
    });
    let placeholder = move || mark.get().map(|mark| format!("{mark:.1}"));
    let name = if kind == AskedKind::Again { say::SPOT_TITLE } else { say::TO_DECIDE };
    view! {
        <form class="asked-answer" aria-label=name on:submit=enter>
            <label class="with-unit">
                <input
                    class="type-here"
                    inputmode="decimal"
                    autocomplete="off"
                    data-test="scan-type"
                    aria-label=say::MILLIMETRES
                    placeholder=placeholder
                    node_ref=input
                    on:keydown=move |event| key_pressed(app, input, &event)
                />
                <span>{say::MILLIMETRES}</span>
            </label>
            <button type="submit" class="button is-main" data-test="scan-take">{say::TAKE}</button>
            <button type="button" class="button" data-test="scan-no-mark" on:click=move |_| scan_desk::no_mark(app)>{say::NO_MARK}</button>
            <button type="button" class="button" data-test="step-back" on:click=move |_| scan_desk::back(app)>{say::BACK}</button>
        </form>
    }
}

/// N is no mark; Backspace in an empty field takes a step back.
fn key_pressed(app: AppState, input: NodeRef<html::Input>, event: &ev::KeyboardEvent) {
    let is_empty = input.get_untracked().is_none_or(|input| input.value().is_empty());
    match event.key().as_str() {
        "n" | "N" => {
            scan_desk::no_mark(app);
            if let Some(input) = input.get_untracked() {
                input.set_value("");
            }
        }
        "Backspace" if is_empty => scan_desk::back(app),
        // A key that is held must not take one line after the other unseen.
        "Enter" if event.repeat() => {}
        _ => return,
    }
    event.prevent_default();
}

/// Arrows move the hairline wherever the keyboard is in the question.
fn arrow_pressed(app: AppState, event: &ev::KeyboardEvent) {
    let step = if event.shift_key() { SHIFTED * NUDGE_MM } else { NUDGE_MM };
    match event.key().as_str() {
        "ArrowRight" => scan_desk::nudge(app, step),
        "ArrowLeft" => scan_desk::nudge(app, -step),
        _ => return,
    }
    event.prevent_default();
}

/// Where a second look and the reader differ.
#[component]
fn WhoWasRight() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let place: NodeRef<html::Div> = NodeRef::new();
    // No button has the keyboard: Enter, which ended the look, must not choose.
    place.on_load(|place| _ = place.focus());
    view! {
        <div class="choices" tabindex="-1" node_ref=place>
            <button type="button" class="button" data-test="reader-wrong" on:click=move |_| scan_desk::settle_spot(app, true)>{say::READER_WRONG}</button>
            <button type="button" class="button" data-test="i-slipped" on:click=move |_| scan_desk::settle_spot(app, false)>{say::I_SLIPPED}</button>
            <button type="button" class="button" data-test="step-back" on:click=move |_| scan_desk::back(app)>{say::BACK}</button>
        </div>
    }
}
