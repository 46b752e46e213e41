//! One line to be marked by touch, mouse or keyboard. No mark stands before the first, and no number is shown.

use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::plan::on_screen::ballot_file::OnScreenAttribute;

/// A finger that moves less than this along the line, in CSS pixels, may still be scrolling the page.
const SLIPPED_PX: f64 = 6.0;

#[component]
pub fn Line(cup: usize, row: usize, attribute: OnScreenAttribute) -> impl IntoView {
    let run = expect_context::<AppContext>().app.on_screen.run;
    let mark = Memo::new(move |_| run.with(|run| run.as_ref()?.cups.get(cup)?.marks.get(row).copied().flatten()));
    view! {
        <li class="booth-row" class:is-marked=move || mark.get().is_some()>
            <p class="booth-row-head">
                <span><strong>{attribute.name.clone()}</strong>" "<span class="booth-definition">{attribute.definition.clone()}</span></span>
                <MarkState row mark/>
            </p>
            <Slider row mark attribute/>
        </li>
    }
}

/// Whether the line is marked, and taking the mark away.
#[component]
fn MarkState(row: usize, mark: Memo<Option<u16>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <span class="booth-state" data-test=format!("state-{}", row + 1)>
            {move || if mark.get().is_some() { format!("\u{2713} {}", say::MARKED) } else { say::NOT_MARKED.to_owned() }}
            {move || mark.get().is_some().then(|| view! {
                <button type="button" class="booth-link" aria-label=say::TAKE_AWAY title=say::TAKE_AWAY on:click=move |_| on_screen_ballot::take_mark_away(app, row)>"\u{d7}"</button>
            })}
        </span>
    }
}

/// The line itself with its ends: a slider for those who hear the form.
#[component]
fn Slider(row: usize, mark: Memo<Option<u16>>, attribute: OnScreenAttribute) -> impl IntoView {
    let context: AppContext = expect_context();
    let track: NodeRef<html::Div> = NodeRef::new();
    let press = Press::new(context, row, track);
    let name = say::line_name(&attribute.name, &attribute.low_end, &attribute.high_end);
    let ends = (attribute.low_end.clone(), attribute.high_end.clone());
    view! {
        <div
            class="booth-line"
            role="slider"
            tabindex="0"
            aria-label=name
            aria-valuemin="0"
            aria-valuemax="100"
            aria-valuenow=move || mark.get().map(|tenths| (tenths / 10).to_string())
            aria-valuetext=move || spoken(mark.get(), &ends)
            data-test=format!("line-{}", row + 1)
            on:keydown=move |event| key_pressed(context, row, &event)
            on:pointerdown=move |event| press.down(&event)
            on:pointermove=move |event| press.moved(&event)
            on:pointerup=move |event| press.up(&event)
            on:pointercancel=move |_| press.is_down.set_value(false)
        >
            <div class="booth-track" node_ref=track>{move || mark.get().map(mark_on_line)}</div>
            <p class="booth-ends"><span>{attribute.low_end}</span><span>{attribute.high_end}</span></p>
        </div>
    }
}

fn spoken(mark: Option<u16>, (low, high): &(String, String)) -> String {
    mark.map_or_else(|| say::NOT_MARKED.to_owned(), |tenths| say::place_in_words(tenths, low, high))
}

/// The mark, by tenths of a percent of the line.
fn mark_on_line(tenths: u16) -> impl IntoView {
    view! { <span class="booth-mark" style=format!("left:{}%", f64::from(tenths) / 10.0)></span> }
}

/// A finger or mouse button that is down on a line.
#[derive(Clone, Copy)]
struct Press {
    context: AppContext,
    row: usize,
    track: NodeRef<html::Div>,
    is_down: StoredValue<bool>,
    is_sliding: StoredValue<bool>,
    from_x: StoredValue<f64>,
}

impl Press {
    fn new(context: AppContext, row: usize, track: NodeRef<html::Div>) -> Self {
        let (is_down, is_sliding) = (StoredValue::new(false), StoredValue::new(false));
        Press { context, row, track, is_down, is_sliding, from_x: StoredValue::new(0.0) }
    }

    /// A mouse marks at once; a finger when it lifts or slides along, since it may also want to scroll.
    fn down(self, event: &ev::PointerEvent) {
        if event.button() > 0 {
            return;
        }
        if let Some(track) = self.track.get_untracked() {
            let _ = track.set_pointer_capture(event.pointer_id());
        }
        self.is_down.set_value(true);
        self.is_sliding.set_value(event.pointer_type() == "mouse");
        self.from_x.set_value(f64::from(event.client_x()));
        if self.is_sliding.get_value() {
            self.mark(event);
        }
    }

    fn moved(self, event: &ev::PointerEvent) {
        if !self.is_down.get_value() {
            return;
        }
        let way = (f64::from(event.client_x()) - self.from_x.get_value()).abs();
        if way > SLIPPED_PX {
            self.is_sliding.set_value(true);
        }
        if self.is_sliding.get_value() {
            self.mark(event);
        }
    }

    fn up(self, event: &ev::PointerEvent) {
        if self.is_down.get_value() {
            self.is_down.set_value(false);
            self.mark(event);
        }
    }

    fn mark(self, event: &ev::PointerEvent) {
        let Some(track) = self.track.get_untracked() else { return };
        let place = track.get_bounding_client_rect();
        if place.width() > 0.0 {
            let share = (f64::from(event.client_x()) - place.left()) / place.width();
            on_screen_ballot::mark_at(self.context.app, self.row, share);
        }
    }
}

/// Arrows move by 1 mm of the 100 mm line, with Shift or the page keys by 10.
fn key_pressed(context: AppContext, row: usize, event: &ev::KeyboardEvent) {
    let step = if event.shift_key() { 100 } else { 10 };
    match event.key().as_str() {
        "ArrowRight" | "ArrowUp" => on_screen_ballot::nudge(context.app, row, step),
        "ArrowLeft" | "ArrowDown" => on_screen_ballot::nudge(context.app, row, -step),
        "PageUp" => on_screen_ballot::nudge(context.app, row, 100),
        "PageDown" => on_screen_ballot::nudge(context.app, row, -100),
        "Home" => on_screen_ballot::mark_at(context.app, row, 0.0),
        "End" => on_screen_ballot::mark_at(context.app, row, 1.0),
        "Delete" | "Backspace" => on_screen_ballot::take_mark_away(context.app, row),
        _ => return,
    }
    event.prevent_default();
}
