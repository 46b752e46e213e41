//! The list of pictures: which page each holds, how its lines were understood, what failed and why, what is still missing.

use crate::state::AppContext;
use crate::state::session::scan_desk;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::scan_desk::counts::RowCounts;
use likeness_core::scan_desk::desk::{PictureSays, ScanDesk};

/// One line of the list.
#[derive(Clone, PartialEq)]
struct Listed {
    picture: usize,
    file: String,
    page: String,
    rows: String,
    remark: String,
    is_failed: bool,
    /// No page of the plan is in the picture: it may be taken off the list.
    may_go: bool,
}

#[component]
pub fn Pages() -> impl IntoView {
    let context: AppContext = expect_context();
    let desk = context.app.scanning.desk;
    Effect::new(move |_| context.pictures.follow_plan());
    let listed = Memo::new(move |_| desk.with(|desk| desk.as_ref().map(listed_of)).unwrap_or_default());
    let summary = move || {
        let of_pages = context.pictures.known_pages().map(|known| known.pages.len());
        desk.with(|desk| desk.as_ref().map(|desk| say::so_far(&desk.counts(), of_pages)))
    };
    view! {
        <section class="pictures-in">
            <h2>{say::PICTURES}</h2>
            <p data-test="pages-so-far">{summary}</p>
            <div class="table-place" tabindex="0" role="region" aria-label=say::PICTURES>
                <table class="results" data-test="pictures">
                    <thead><tr>
                        <th scope="col" class="row-head">{say::FILE}</th>
                        <th scope="col" class="words">{say::PAGE}</th>
                        <th scope="col" class="words">{say::ROWS}</th>
                        <th scope="col" class="words">{say::REMARK}</th>
                    </tr></thead>
                    <tbody>{move || listed.get().into_iter().map(|line| view! { <Line line/> }).collect_view()}</tbody>
                </table>
            </div>
            <Missing/>
            <p class="quiet not-printed">{say::TYPE_INSTEAD}</p>
        </section>
    }
}

#[component]
fn Line(line: Listed) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let Listed { picture, file, page, rows, remark, is_failed, may_go } = line;
    let put_away = may_go.then(|| {
        view! {
            " "<button type="button" class="small not-printed" on:click=move |_| scan_desk::put_failed_away(app, picture)>
                {say::PUT_AWAY}<span class="heard">": "{file.clone()}</span>
            </button>
        }
    });
    view! {
        <tr class:is-failed=is_failed>
            <th scope="row" class="row-head">{file.clone()}</th>
            <td class="words">{page}</td>
            <td class="words">{rows}</td>
            <td class="words">{remark}{put_away}</td>
        </tr>
    }
}

fn listed_of(desk: &ScanDesk) -> Vec<Listed> {
    let of_picture = |(picture, taken): (usize, &likeness_core::scan_desk::desk::TakenPicture)| {
        let line = move |says: &PictureSays| {
            let (page, rows, remark) = in_words(desk, says);
            let is_failed = matches!(says, PictureSays::Failed { .. });
            Listed { picture, file: taken.file.clone(), page, rows, remark, is_failed, may_go: !taken.has_page() }
        };
        taken.found.iter().map(line).collect::<Vec<_>>()
    };
    desk.pictures.iter().enumerate().flat_map(of_picture).collect()
}

/// Page, lines and remark of a finding.
fn in_words(desk: &ScanDesk, says: &PictureSays) -> (String, String, String) {
    let page_in_words = |page: usize| {
        desk.pages.get(page).map_or_else(String::new, |page| say::page(&page.assessor, page.session, &page.code))
    };
    match says {
        PictureSays::Read { page, turned } => {
            let counts = desk.pages.get(*page).map(|page| RowCounts::of(page.rows.iter())).unwrap_or_default();
            (page_in_words(*page), say::rows(&counts), turned.clone().unwrap_or_default())
        }
        PictureSays::Again { page, differ } => {
            (say::AGAIN.to_owned(), String::new(), say::again(&page_in_words(*page), *differ))
        }
        PictureSays::Failed { why } => (say::NOT_READ.to_owned(), String::new(), why.clone()),
        PictureSays::Test { said } => (say::TEST_PAGE.to_owned(), String::new(), said.clone()),
    }
}

/// Pages of the plan that no picture holds, by assessor.
#[component]
fn Missing() -> impl IntoView {
    let context: AppContext = expect_context();
    let missing = Memo::new(move |_| {
        let known = context.pictures.known_pages()?;
        context.app.plan.with_untracked(|plan| {
            context.app.scanning.desk.with(|desk| Some(desk.as_ref()?.missing(plan.as_ref()?, &known)))
        })
    });
    move || {
        let missing = missing.get()?;
        let count: usize = missing.iter().map(|(_, codes)| codes.len()).sum();
        if count == 0 {
            return Some(view! { <p>{say::NONE_MISSING}</p> }.into_any());
        }
        let line = |(assessor, codes): &(String, Vec<String>)| view! { <li>{say::missing_of(assessor, codes)}</li> };
        let list = missing.iter().map(line).collect_view();
        Some(view! { <details data-test="missing-pages"><summary>{say::missing(count)}</summary><ul>{list}</ul></details> }.into_any())
    }
}
