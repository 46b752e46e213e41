//! A page with strokes at known places, printed for this printer and scanner. What comes back is told on the list of
//! pictures. It must not know what is on the page.

use crate::browser::{events, page};
use crate::views::plan::printouts::{PaperSize, sheet_class};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::test_page::test_page_svg;

/// The offer; `at_printer` is the paper that is printed at the moment.
#[component]
pub fn TestPage(at_printer: RwSignal<Option<Paper>>) -> impl IntoView {
    let paper = RwSignal::new(Paper::default());
    let print = move |_| {
        at_printer.set(Some(paper.get_untracked()));
        page::print_when_drawn();
    };
    events::when("afterprint", move || at_printer.set(None));
    view! {
        <details class="test-page not-printed" data-test="test-page">
            <summary>{say::TEST_PAGE_OFFER}</summary>
            <p class="quiet">{say::TEST_PAGE_ABOUT}</p>
            <div class="fields">
                <PaperSize pick=move |picked| paper.set(picked)/>
                <button type="button" class="button" data-test="print-test-page" on:click=print>{say::TEST_PAGE_PRINT}</button>
            </div>
        </details>
    }
}

/// What the printer gets.
#[component]
pub fn TestSheet(paper: Paper) -> impl IntoView {
    // The text of its code is short and always fits.
    let svg = test_page_svg(paper).unwrap_or_default();
    view! { <div class="print-sheets" data-test="test-sheet"><div class=sheet_class(paper) inner_html=svg></div></div> }
}
