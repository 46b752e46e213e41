//! Printouts: ballots, sheets, labels, key and checklist, looked at on the screen and printed from the page at true size.

use super::sheet_view::{SheetTools, SheetView, sheet_table};
use crate::browser::{download, page};
use crate::state::AppContext;
use crate::state::plan::printed::PrintedState;
use crate::state::plan::{planning, printed};
use crate::state::{PlanPart, Shared};
use crate::words::plan::kept as words_kept;
use crate::words::plan::printouts as say;
use crate::words::plan::printouts::PrintoutKind;
use leptos::prelude::*;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::pages::{BallotPage, ballot_pages_where};
use likeness_core::plan::ballot::print_svg::{ballot_svg, print_document};
use likeness_core::plan::sheet_table::SheetTable;
use likeness_core::plan::tasting_plan::TastingPlan;

const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

/// What is chosen to be printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Choice {
    kind: PrintoutKind,
    paper: Paper,
    /// `None` for all sessions.
    session: Option<u32>,
}

#[component]
pub fn Printouts() -> impl IntoView {
    let context: AppContext = expect_context();
    // That papers were printed does not lay them out anew: what goes to the printer would vanish on its way.
    let unprinted = Memo::new(move |_| {
        context.app.plan.with(|plan| {
            let plan = plan.as_ref()?;
            Some(TastingPlan { printed: Vec::new(), log: Vec::new(), ..plan.clone() })
        })
    });
    let plan = Memo::new(move |_| unprinted.get().map(Shared::new));
    move || {
        match plan.get() {
        Some(plan) => view! { <OfPlan plan/> }.into_any(),
        None => view! {
            <div class="offer" data-test="papers-without-plan">
                <h1>{say::HEADING}</h1>
                <p>{say::NO_PLAN}</p>
                <div class="plan-tools">
                    <button type="button" class="button is-main" on:click=move |_| planning::look_at_part(context.app, PlanPart::Orders)>
                        {say::TO_ORDERS}
                    </button>
                </div>
            </div>
        }
        .into_any(),
    }
    }
}

/// What is chosen, its preview on the screen, and what the printer gets.
#[component]
fn OfPlan(plan: Shared<TastingPlan>) -> impl IntoView {
    let choice = RwSignal::new(Choice::default());
    // What is laid out for the printer; nothing until it is asked for, since ballots are many.
    let printed = RwSignal::new(None::<Choice>);
    Effect::new(move |_| {
        choice.track();
        printed.set(None);
    });
    let (for_preview, for_print) = (plan.clone(), plan.clone());
    view! {
        <div class="plan-papers" class:prints=move || printed.with(Option::is_some)>
            <div class="papers-screen">
                <Choosing choice at_printer=printed plan/>
                {move || view! { <Preview choice=choice.get() plan=for_preview.clone()/> }}
            </div>
            {move || printed.get().map(|choice| view! { <Printed choice plan=for_print.clone()/> })}
        </div>
    }
}

/// Which printout, on which paper, of which session; printing and saving it.
#[component]
fn Choosing(
    choice: RwSignal<Choice>,
    at_printer: RwSignal<Option<Choice>>,
    plan: Shared<TastingPlan>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let print = move |_| {
        let chosen = choice.get_untracked();
        at_printer.set(Some(chosen));
        printed::note(app, chosen.kind, chosen.paper, chosen.session);
        page::print_when_drawn();
    };
    view! {
        <section>
            <h1>{say::HEADING}</h1>
            <p class="lead">{say::INTRO}</p>
            <Kinds choice/>
            <p data-test="paper-about">{move || choice.get().kind.about()}</p>
            <div class="fields">
                <PaperSize pick=move |paper| choice.update(|choice| choice.paper = paper)/>
                <WhichSession choice plan=plan.clone()/>
                <button type="button" class="button is-main" data-test="print-paper" on:click=print>{say::PRINT}</button>
                {move || view! { <Saving choice=choice.get() plan=plan.clone()/> }}
            </div>
            <p class="note">{say::PRINT_NOTE}</p>
            <p>
                <button type="button" class="link" data-test="to-screen-forms" on:click=move |_| planning::look_at_part(app, PlanPart::OnScreen)>
                    {say::TO_SCREENS}
                </button>
            </p>
            <PrintedSoFar/>
        </section>
    }
}

/// What was printed when, and whether it still fits the plan.
#[component]
fn PrintedSoFar() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let papers =
        Memo::new(move |_| app.plan.with(|plan| plan.as_ref().map(printed::printed_papers)).unwrap_or_default());
    let line = |paper: PrintedState| {
        let is_old = !paper.out_of_date.is_empty();
        view! {
            <li>
                {paper.name}": "
                <span class:is-warning=is_old>{words_kept::fits(&paper.out_of_date, paper.pages)}</span>
            </li>
        }
    };
    move || {
        let papers = papers.get();
        (!papers.is_empty()).then(|| {
            view! {
                <h2>{say::PRINTED_SO_FAR}</h2>
                <ul class="printed-papers" data-test="printed-papers">{papers.into_iter().map(line).collect_view()}</ul>
            }
        })
    }
}

#[component]
fn Kinds(choice: RwSignal<Choice>) -> impl IntoView {
    let one = move |kind: PrintoutKind| {
        view! {
            <button
                type="button"
                class="chip"
                data-test=format!("paper-{}", kind.hook())
                aria-pressed=move || (choice.get().kind == kind).to_string()
                on:click=move |_| choice.update(|choice| choice.kind = kind)
            >
                {kind.name()}
            </button>
        }
    };
    view! { <div class="chips" role="group" aria-label=say::WHICH>{PrintoutKind::ALL.map(one).collect_view()}</div> }
}

/// The paper that is in the printer.
#[component]
pub fn PaperSize(pick: impl Fn(Paper) + 'static) -> impl IntoView {
    let picked = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        pick(PAPERS.get(place).copied().unwrap_or_default());
    };
    let sizes = say::PAPERS.into_iter().enumerate().map(|(place, name)| {
        view! { <option value=place.to_string()>{name}</option> }
    });
    view! {
        <label class="field">
            <span>{say::PAPER}</span>
            <select data-test="paper-size" on:change=picked>{sizes.collect_view()}</select>
        </label>
    }
}

#[component]
fn WhichSession(choice: RwSignal<Choice>, plan: Shared<TastingPlan>) -> impl IntoView {
    let pick = move |event| {
        let number = event_target_value(&event).parse::<u32>().ok();
        choice.update(|choice| choice.session = number);
    };
    let sessions = plan.sessions.iter().map(|session| {
        let number = session.number;
        view! { <option value=number.to_string()>{number}</option> }
    });
    view! {
        <label class="field">
            <span>{say::SESSION}</span>
            <select data-test="paper-session" on:change=pick>
                <option value="">{say::ALL_SESSIONS}</option>
                {sessions.collect_view()}
            </select>
        </label>
    }
}

/// Ballots as a file that prints elsewhere, sheets as CSV.
#[component]
fn Saving(choice: Choice, plan: Shared<TastingPlan>) -> impl IntoView {
    if choice.kind != PrintoutKind::Ballots {
        let sheet = joined(sheets_of(&plan, choice));
        return sheet.map(|sheet| view! { <SheetTools sheet hook=choice.kind.hook()/> }).into_any();
    }
    let save = move |_| {
        let pages = ballots_of(&plan, choice);
        let text = print_document(&plan.brief.title, choice.paper, &pages);
        download::save_text(say::SAVE_PRINT_NAME, "text/html", &text);
    };
    view! { <button type="button" class="button" data-test="save-print" on:click=save>{say::SAVE_PRINT}</button> }
        .into_any()
}

#[component]
fn Preview(choice: Choice, plan: Shared<TastingPlan>) -> impl IntoView {
    match choice.kind {
        PrintoutKind::Ballots => view! { <BallotPreview choice plan/> }.into_any(),
        PrintoutKind::Preparation | PrintoutKind::Key => view! { <p class="warning">{say::NOT_SHOWN}</p> }.into_any(),
        kind => {
            let sheets = sheets_of(&plan, choice).into_iter();
            sheets.map(|sheet| view! { <SheetView sheet hook=kind.hook()/> }).collect_view().into_any()
        }
    }
}

/// One cup's pages at a time.
#[component]
fn BallotPreview(choice: Choice, plan: Shared<TastingPlan>) -> impl IntoView {
    let is_wanted = |session: u32| choice.session.is_none_or(|wanted| wanted == session);
    let servings: Vec<_> = plan.servings().into_iter().filter(|serving| is_wanted(serving.session)).collect();
    let cups = servings.len();
    let place = RwSignal::new(0_usize);
    let pages = Memo::new(move |_| {
        let wanted = servings.get(place.get());
        let pages = ballot_pages_where(&plan, choice.paper, |serving| Some(serving) == wanted);
        pages.unwrap_or_default().iter().map(ballot_svg).collect::<Vec<String>>()
    });
    let preview = |svg: String| view! { <div class="paper-preview" inner_html=svg></div> };
    view! {
        <section>
            <div class="part-head">
                <h2>{say::PREVIEW}</h2>
                <CupTools place pages cups/>
            </div>
            <div class="paper-previews">{move || pages.get().into_iter().map(preview).collect_view()}</div>
        </section>
    }
}

/// How many sheets there are, and going from cup to cup.
#[component]
fn CupTools(place: RwSignal<usize>, pages: Memo<Vec<String>>, cups: usize) -> impl IntoView {
    let total = move || pages.with(Vec::len) * cups;
    view! {
        <div class="tools">
            <span class="quiet" data-test="sheet-count">{move || say::sheets(total(), cups)}</span>
            <button
                type="button"
                class="small"
                disabled=move || place.get() == 0
                on:click=move |_| place.update(|place| *place = place.saturating_sub(1))
            >
                {say::EARLIER}
            </button>
            <span role="status">{move || say::cup_of(place.get() + 1, cups)}</span>
            <button
                type="button"
                class="small"
                data-test="later-cup"
                disabled=move || { place.get() + 1 >= cups }
                on:click=move |_| place.update(|place| *place += 1)
            >
                {say::LATER}
            </button>
        </div>
    }
}

fn size_of(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "letter",
    }
}

/// The class of a sheet that is one page at true size.
pub fn sheet_class(paper: Paper) -> String {
    format!("ballot-sheet is-{}", size_of(paper))
}

/// What the printer gets: nothing else of the page prints beside it.
#[component]
fn Printed(choice: Choice, plan: Shared<TastingPlan>) -> impl IntoView {
    let size = size_of(choice.paper);
    let body = match choice.kind {
        PrintoutKind::Ballots => {
            let pages = ballots_of(&plan, choice);
            let sheet = |page| view! { <div class=sheet_class(choice.paper) inner_html=ballot_svg(page)></div> };
            pages.iter().map(sheet).collect_view().into_any()
        }
        PrintoutKind::Labels => {
            sheets_of(&plan, choice).iter().map(|sheet| labels(sheet, size)).collect_view().into_any()
        }
        _ => {
            let title = plan.brief.title.clone();
            let sheets = sheets_of(&plan, choice).into_iter();
            sheets.map(|sheet| printed_sheet(&sheet, &title, size)).collect_view().into_any()
        }
    };
    view! { <div class="print-sheets" data-test="print-sheets">{body}</div> }
}

fn printed_sheet(sheet: &SheetTable, title: &str, size: &str) -> impl IntoView + use<> {
    view! {
        <div class=format!("table-sheet is-{size}")>
            <p class="sheet-study">{title.to_owned()}</p>
            <h2>{sheet.title.clone()}</h2>
            {sheet.notes.iter().map(|note| view! { <p>{note.clone()}</p> }).collect_view()}
            {sheet_table(sheet)}
        </div>
    }
}

/// One label a cup: the code large, the rest small.
fn labels(sheet: &SheetTable, size: &str) -> impl IntoView + use<> {
    let label = |row: &Vec<String>| {
        let cell = |column: usize| row.get(column).cloned().unwrap_or_default();
        view! {
            <div class="cup-label">
                <span class="cup-code">{cell(0)}</span>
                <span>{say::label_small(&cell(1), &cell(2), &cell(3), row.get(4).map(String::as_str))}</span>
            </div>
        }
    };
    view! {
        <div class=format!("table-sheet is-{size}")>
            <div class="cup-labels">{sheet.rows.iter().map(label).collect_view()}</div>
        </div>
    }
}

fn ballots_of(plan: &TastingPlan, choice: Choice) -> Vec<BallotPage> {
    let wanted = |session: u32| choice.session.is_none_or(|number| number == session);
    // The square code of a page holds a few dozen characters of fixed form and always fits.
    ballot_pages_where(plan, choice.paper, |serving| wanted(serving.session)).unwrap_or_default()
}

fn sheets_of(plan: &TastingPlan, choice: Choice) -> Vec<SheetTable> {
    printed::sheets_of(plan, choice.kind, choice.session)
}

/// Sheets of one kind as one table; each line names its session already.
fn joined(sheets: Vec<SheetTable>) -> Option<SheetTable> {
    sheets.into_iter().reduce(|mut all, next| {
        all.rows.extend(next.rows);
        all
    })
}
