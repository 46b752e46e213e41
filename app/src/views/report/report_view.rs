//! Report: what the leader states, and the one document that is read here, printed and saved.

use super::details::Details;
use crate::browser::{download, events, page, slices};
use crate::parts::run_progress::RunProgress;
use crate::state::long_run::LongRun;
use crate::state::study::opening;
use crate::state::{AppContext, Message, Shared, View, actions};
use crate::views::findings::standing;
use crate::words;
use crate::words::report as own;
use leptos::prelude::*;
use likeness_core::catalogue::Results;
use likeness_core::write::file_name::file_name;
use likeness_core::write::json::results_json;
use likeness_core::write::report_html::{REPORT_STYLE, Report as Written, ReportRun};
use likeness_core::write::tidy::tidy_csv;
use likeness_core::write::workbook::workbook_bytes;

/// What the report is made of: each is kept until what it follows from changes.
#[derive(Clone, Copy)]
struct Making {
    /// All results of the study as it is shown on paper.
    results: LongRun<Results>,
    /// The document itself.
    written: LongRun<Written>,
    /// Whether the study or the results have changed since the document was begun.
    is_stale: RwSignal<bool>,
}

impl Making {
    /// The document of the study as it is.
    fn found(self) -> Option<Shared<Written>> {
        if self.is_stale.get() { None } else { self.written.found() }
    }
}

/// Computes all results once Report is looked at, then writes the document; and again what no longer holds.
pub fn make_always(context: AppContext) {
    let is_wanted = Memo::new(move |_| context.app.view.get() == View::Report);
    let results = context.findings.printed;
    let written = LongRun::new(context.findings.in_slices());
    let making = Making { results, written, is_stale: RwSignal::new(true) };
    Effect::new(move |_| {
        let has_study = context.app.study.with(Option::is_some);
        if is_wanted.get() && has_study && results.is_idle() {
            context.findings.start_printed();
        }
    });
    Effect::new(move |_| {
        context.app.study.track();
        results.found();
        making.is_stale.set(true);
    });
    Effect::new(move |_| {
        let (is_wanted, is_stale) = (is_wanted.get(), making.is_stale.get());
        let Some(found) = results.found() else { return making.written.drop_result() };
        if is_wanted && is_stale {
            let run = |study: &_| ReportRun::start(study, (*found).clone());
            if let Some(run) = context.app.study.with_untracked(|study| study.as_ref().map(run)) {
                making.written.start(Ok(run));
                making.is_stale.set(false);
            }
        }
    });
    provide_context(making);
}

#[component]
pub fn Report() -> impl IntoView {
    view! {
        <div class="report">
            <Saving/>
            <Details/>
            <Document/>
        </div>
    }
}

/// Printing and saving.
#[component]
fn Saving() -> impl IntoView {
    let context: AppContext = expect_context();
    let making: Making = expect_context();
    let waits = Signal::derive(move || making.found().is_none());
    // By title and day; the day is that of the page's clock where the study states none.
    let named = move |what: &str| {
        let of = |study: &_| file_name(study, &context.app.now(), what);
        context.app.study.with_untracked(|study| study.as_ref().map_or_else(|| what.to_owned(), of))
    };
    let save_report = move |_| {
        if let Some(report) = untrack(|| making.found()) {
            download::save_text(&named(own::REPORT_FILE), "text/html", &report.document());
        }
    };
    let save_study = move |_| {
        if let Some(text) = context.app.study.with_untracked(|study| study.as_ref().map(opening::text_to_keep)) {
            download::save_text(&named(words::STUDY_FILE_NAME), "application/json", &text);
        }
    };
    let save_workbook = move |_| {
        let Some(results) = untrack(|| making.results.found()) else { return };
        let made =
            context.app.study.with_untracked(|study| study.as_ref().map(|study| workbook_bytes(study, &results)));
        match made {
            Some(Ok(bytes)) => download::save_bytes(&named(own::WORKBOOK_FILE), own::WORKBOOK_KIND, &bytes),
            Some(Err(why)) => actions::say(context.app, Message::refused(why, own::WORKBOOK_HINT)),
            None => {}
        }
    };
    let save_scores = move |_| {
        if let Some(text) = context.app.study.with_untracked(|study| study.as_ref().map(tidy_csv)) {
            download::save_text(&named(own::SCORES_FILE), "text/csv", &text);
        }
    };
    let save_json = move |_| {
        if let Some(text) = untrack(json_text(context, making)) {
            download::save_text(&named(words::JSON_FILE_NAME), "application/json", &text);
        }
    };
    let json = json_text(context, making);
    view! {
        <div class="saving">
            <p>{own::INTRO}</p>
            <div class="tools">
                <button type="button" class="button is-main" disabled=waits on:click=move |_| page::print()>{words::PRINT}</button>
                <details class="save-menu" data-test="fold-save">
                    <summary class="button">{own::SAVE}</summary>
                    <div class="save-choices">
                <button type="button" class="button" disabled=waits on:click=save_report data-test="save-report">{own::SAVE_REPORT}</button>
                <button type="button" class="button" disabled=waits on:click=save_workbook data-test="save-workbook">{own::SAVE_WORKBOOK}</button>
                <button type="button" class="button" on:click=save_scores data-test="save-scores">{own::SAVE_SCORES}</button>
                <button type="button" class="button" on:click=save_study data-test="save-study">{words::SAVE_STUDY}</button>
                <button type="button" class="button" disabled=waits on:click=save_json data-test="save-json">{words::SAVE_JSON}</button>
                    </div>
                </details>
            </div>
            // For programs that read the page: the same text that the button saves.
            <script type="application/json" data-test="results-json">{json}</script>
        </div>
    }
}

/// The results as the shell program prints them, once they are there.
fn json_text(context: AppContext, making: Making) -> impl Fn() -> Option<String> + Copy {
    move || {
        let results = making.results.found()?;
        let notices = context.app.study.with(|study| study.as_ref().map(|study| study.notices.clone()))?;
        serde_json::to_string_pretty(&results_json(&results, &notices)).ok()
    }
}

/// The document itself, the same that is saved.
#[component]
fn Document() -> impl IntoView {
    let context: AppContext = expect_context();
    let making: Making = expect_context();
    let compute_again = move |()| context.findings.start_printed();
    let write_again = move |()| making.is_stale.set(true);
    let shown = follow_making(making);
    let parts_in_sight = show_bit_by_bit(shown);
    let is_whole = Memo::new(move |_| {
        let parts = shown.with(|shown| shown.as_ref().map_or(0, |written| written.parts().len()));
        making.found().is_some() && parts_in_sight.get() >= parts
    });
    let part = |text: &String| view! { <div inner_html=text.clone()></div> };
    let parts = move || {
        let wanted = parts_in_sight.get();
        shown.with(|shown| shown.as_ref().map(|written| written.parts().iter().take(wanted).map(part).collect_view()))
    };
    let is_missing = move || making.results.found().is_some() && shown.with(Option::is_none);
    // The document brings a heading of its own.
    let heading =
        move || shown.with(Option::is_none).then(|| view! { <h1 class="heard">{words::views::REPORT.name}</h1> });
    view! {
        {heading}
        <style>{REPORT_STYLE}</style>
        <RunProgress
            standing=Signal::derive(move || standing(making.results, own::draws_not_defined))
            name="report"
            doing=own::DRAWING
            ask=own::DRAW_AGAIN
            start=compute_again
            stop=move |()| making.results.stop()
        />
        {move || is_missing().then(|| view! {
            <RunProgress
                standing=Signal::derive(move || standing(making.written, own::draws_not_defined))
                name="writing"
                doing=own::WRITING
                ask=own::DRAW_AGAIN
                start=write_again
                stop=move |()| making.written.stop()
            />
        })}
        {move || shown.with(Option::is_some).then(|| view! {
            <section
                class="report-sheet"
                tabindex="0"
                aria-label=own::PREVIEW
                aria-busy=move || (!is_whole.get()).to_string()
                data-test="report"
            >
                // All text in it was escaped where it was written.
                <article class="likeness-report">{parts}</article>
            </section>
        })}
    }
}

/// The document that is shown: while something is typed it stays as it was until it is written anew.
fn follow_making(making: Making) -> RwSignal<Option<Shared<Written>>> {
    let shown = RwSignal::new(None);
    Effect::new(move |_| match (making.results.found(), making.found()) {
        (None, _) => shown.set(None),
        (_, Some(written)) => shown.set(Some(written)),
        (Some(_), None) => {}
    });
    shown
}

/// How many parts of the document stand on the page: one more after each paint, since a large one takes the browser
/// longer than a frame to lay out. A printer gets all of them.
fn show_bit_by_bit(shown: RwSignal<Option<Shared<Written>>>) -> ReadSignal<usize> {
    let (count, set_count) = signal(0);
    let wanted = move || shown.with(|shown| shown.as_ref().map_or(0, |written| written.parts().len()));
    Effect::new(move |_| {
        if count.get() < wanted() {
            slices::after_painting(move || {
                // The view may be gone by now.
                let _ = set_count.try_update(|count| *count += 1);
            });
        } else if wanted() == 0 && count.get() > 0 {
            set_count.set(0);
        }
    });
    events::when("beforeprint", move || {
        set_count.set(count.get_untracked().max(untrack(wanted)));
    });
    count
}
