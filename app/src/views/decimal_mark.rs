//! The decimal mark that the reader chose: where it is chosen, and handed down to every number.

use crate::parts::numerals::Numerals;
use crate::state::AppContext;
use crate::state::{AppState, learning};
use crate::words::learning as say;
use leptos::prelude::*;
use likeness_core::study::Study;

const COMMA: &str = "comma";
const POINT: &str = "point";

/// Hands the choice down to all parts.
pub fn provide(app: AppState) {
    let comma = app.learning.decimal_comma;
    let names = Memo::new(move |_| app.study.with(|study| study.as_ref().map(names_of).unwrap_or_default()));
    provide_context(Numerals { comma, names });
}

/// Where it is chosen.
#[component]
pub fn DecimalMark() -> impl IntoView {
    let context: AppContext = expect_context();
    let comma = context.app.learning.decimal_comma;
    view! {
        <label class="decimal-mark">
            <span>{say::NUMBERS_READ}</span>
            <select
                data-test="decimal-mark"
                on:change=move |event| learning::use_decimal_comma(context.app, event_target_value(&event) == COMMA)
            >
                <option value=POINT prop:selected=move || !comma.get()>{say::WITH_POINT}</option>
                <option value=COMMA prop:selected=move || comma.get()>{say::WITH_COMMA}</option>
            </select>
        </label>
    }
}

fn names_of(study: &Study) -> Vec<String> {
    let assessors = study.assessors.iter().map(|assessor| &assessor.name);
    let samples = study.samples.iter().map(|sample| &sample.name);
    let attributes = study.attributes.iter().map(|attribute| &attribute.name);
    assessors.chain(samples).chain(attributes).filter(|name| name.contains('.')).cloned().collect()
}
