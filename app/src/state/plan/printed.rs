//! Papers that were printed: noting them, and telling which of their pages no longer fit the plan. The rules are those of
//! `likeness_core::plan::ballot::printed`.

use crate::state::app_state::AppState;
use crate::words::plan::kept as say;
use crate::words::plan::printouts::PrintoutKind;
use leptos::prelude::*;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::printed::{ballots_now, is_of_session, sheets_now};
use likeness_core::plan::ballot::printed_paper::{Pages, PrintedPaper};
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::session::brief_sheet::brief_sheet;
use likeness_core::plan::session::checklist::checklist;
use likeness_core::plan::session::sheets::{cup_labels, key_sheet, preparation_sheet, serving_grid, words_sheet};
use likeness_core::plan::sheet_table::SheetTable;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::study::{LogEntry, LogKind};

/// One printing, as the list of papers shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedState {
    pub name: String,
    pub out_of_date: Vec<String>,
    pub pages: usize,
}

/// The sheets of one kind, of one session or of all; none for ballots, which are drawn.
pub fn sheets_of(plan: &TastingPlan, kind: PrintoutKind, session: Option<u32>) -> Vec<SheetTable> {
    let sessions = || {
        let numbers = plan.sessions.iter().map(|session| session.number);
        numbers.filter(move |number| session.is_none_or(|wanted| wanted == *number))
    };
    match kind {
        PrintoutKind::Ballots => Vec::new(),
        PrintoutKind::Serving => sessions().map(|session| serving_grid(plan, session)).collect(),
        PrintoutKind::Labels => sessions().map(|session| cup_labels(plan, session)).collect(),
        PrintoutKind::Preparation => sessions().map(|session| preparation_sheet(plan, session)).collect(),
        PrintoutKind::Key => vec![key_sheet(plan)],
        PrintoutKind::Checklist => sessions().map(|session| checklist(plan, session)).collect(),
        PrintoutKind::Words => vec![words_sheet(plan)],
        PrintoutKind::Brief => vec![brief_sheet(plan)],
    }
}

/// Notes that papers went to the printer. It is no step: undo does not take paper back.
pub fn note(app: AppState, kind: PrintoutKind, paper: Paper, session: Option<u32>) {
    let when = app.now();
    app.plan.update(|plan| {
        let Some(plan) = plan else { return };
        let pages = pages_now(plan, kind, paper, session);
        let what = say::log_printed(&say::printed(kind.name(), session, &when));
        plan.printed.push(PrintedPaper { kind: kind.hook().to_owned(), when: when.clone(), session, paper, pages });
        plan.log.push(LogEntry::new(&when, LogKind::Planned, what));
    });
}

/// Every printing of a plan, the latest first, with the pages that no longer fit.
pub fn printed_papers(plan: &TastingPlan) -> Vec<PrintedState> {
    let state = |printed: &PrintedPaper| {
        let kind = kind_of(printed);
        let now = kind.map(|kind| pages_now(plan, kind, printed.paper, printed.session)).unwrap_or_default();
        PrintedState {
            name: say::printed(kind.map_or(printed.kind.as_str(), |kind| kind.name()), printed.session, &printed.when),
            out_of_date: printed.out_of_date(&now).into_iter().map(str::to_owned).collect(),
            pages: printed.pages.len(),
        }
    };
    plan.printed.iter().rev().map(state).collect()
}

/// What to say where ballots were printed and something changed since: what it is, and what to do. Of pages that were
/// printed again the latest printing counts.
pub fn warning(draft: &PlanDraft, plan: &TastingPlan) -> Option<(String, &'static str)> {
    let latest = latest_ballots(plan)?;
    let gone = latest.out_of_date(&ballots_now(plan, latest.paper, None)).len();
    match gone {
        0 if draft.differs_from(plan) => {
            Some((say::would_be_out_of_date(latest.pages.len(), &changed(draft, plan)), say::NOT_YET))
        }
        0 => None,
        gone => Some((say::printed_out_of_date(gone, latest.pages.len()), say::PRINT_AGAIN)),
    }
}

/// The ballots that lie about, as one printing: those of a session that was printed again take the place of the earlier.
fn latest_ballots(plan: &TastingPlan) -> Option<PrintedPaper> {
    plan.printed.iter().filter(|printed| kind_of(printed) == Some(PrintoutKind::Ballots)).cloned().reduce(
        |mut all, next| {
            all.pages.retain(|name, _| next.session.is_some_and(|number| !is_of_session(name, number)));
            all.pages.extend(next.pages);
            all.paper = next.paper;
            all
        },
    )
}

/// What of words, samples and people differs between draft and plan, by names.
fn changed(draft: &PlanDraft, plan: &TastingPlan) -> Vec<String> {
    let (now, then) = (&draft.attributes.attributes, &plan.attributes.attributes);
    let words = now.iter().filter(|line| !then.contains(line)).map(|line| line.name.clone());
    let gone =
        then.iter().filter(|line| !now.iter().any(|other| other.name == line.name)).map(|line| line.name.clone());
    let samples = draft.brief.samples.iter().filter(|sample| !plan.brief.samples.contains(sample));
    let samples = samples.map(|sample| sample.name.clone());
    let people = draft.assessors().into_iter().filter(|name| !plan.assessors.contains(name));
    words.chain(gone).chain(samples).chain(people).filter(|name| !name.trim().is_empty()).collect()
}

fn pages_now(plan: &TastingPlan, kind: PrintoutKind, paper: Paper, session: Option<u32>) -> Pages {
    match kind {
        PrintoutKind::Ballots => ballots_now(plan, paper, session),
        kind => sheets_now(&sheets_of(plan, kind, session)),
    }
}

fn kind_of(printed: &PrintedPaper) -> Option<PrintoutKind> {
    PrintoutKind::ALL.into_iter().find(|kind| kind.hook() == printed.kind)
}
