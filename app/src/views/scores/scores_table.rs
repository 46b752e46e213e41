//! The table of scores: the rows and columns that are wanted, handed to the grid cell by cell.

use super::score_card::{REASON_ID, VALUE_ID};
use crate::browser::page;
use crate::parts::copy_and_save::CopyAndSave;
use crate::parts::figure::Screen;
use crate::parts::grid::{Cursor, Grid, GridCell, GridColumn, Hold};
use crate::parts::numerals::{readable, readable_now};
use crate::state::study::score_rows;
use crate::state::study::score_rows::{Condition, Peculiar, ScoreColumn, ScorePlace, assessor_name, sample_name};
use crate::state::study::scores_shown::{look_at_place, sort_by};
use crate::state::{AppContext, AppState};
use crate::words;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::study::Study;
use likeness_core::tables::export;

/// The grid, for focus and tests.
pub const GRID_ID: &str = "marks-grid";

/// What is shown of the study, found once for a state of it.
#[derive(Clone, Copy)]
pub struct ShownScores {
    pub peculiar: Memo<Peculiar>,
    pub columns: Memo<Vec<ScoreColumn>>,
    pub servings: Memo<Vec<usize>>,
}

impl ShownScores {
    pub fn new(context: AppContext) -> Self {
        let study = context.app.study;
        let screen: Screen = expect_context();
        let peculiar = Memo::new(move |_| study.with(|study| study.as_ref().map(Peculiar::of).unwrap_or_default()));
        let filter = Memo::new(move |_| context.app.scores_shown.with(|shown| shown.filter));
        let order = Memo::new(move |_| context.app.scores_shown.with(|shown| shown.order));
        let columns = Memo::new(move |_| {
            let (filter, narrow) = (filter.get(), screen.narrow.get());
            study.with(|study| {
                study.as_ref().map(|study| score_rows::columns(study, &filter, narrow)).unwrap_or_default()
            })
        });
        let servings = Memo::new(move |_| {
            let (filter, order) = (filter.get(), order.get());
            peculiar.with(|peculiar| {
                let found = |study: &Study| score_rows::servings(study, peculiar, &filter, order);
                study.with(|study| study.as_ref().map(found).unwrap_or_default())
            })
        });
        ShownScores { peculiar, columns, servings }
    }
}

/// Copies and saves the scores that are shown, in the order in which they are shown.
#[component]
pub fn ScoreTools() -> impl IntoView {
    let context: AppContext = expect_context();
    let shown: ShownScores = expect_context();
    let readable = readable_now();
    let csv = move |()| export::csv_of_rows(rows_shown(context, shown).into_iter());
    let for_clipboard = move |()| export::clipboard_of_rows(rows_shown(context, shown).into_iter(), &readable);
    view! { <CopyAndSave name="marks".to_owned() csv for_clipboard/> }
}

/// Heads and cells as text, numbers in full; a score that is missing is an empty cell. The last column tells what of the
/// page is left out.
fn rows_shown(context: AppContext, shown: ShownScores) -> Vec<Vec<String>> {
    let columns = shown.columns.get_untracked();
    context.app.study.with_untracked(|study| {
        let Some(study) = study else { return Vec::new() };
        let row = |serving: &usize| {
            let cell = |column: &ScoreColumn| match column {
                ScoreColumn::Attribute(attribute) => {
                    study.score(*serving, *attribute).map(|score| score.to_string()).unwrap_or_default()
                }
                other => name_in(study, *serving, *other),
            };
            let left_out = shown.peculiar.with_untracked(|peculiar| left_out_of(study, peculiar, *serving));
            columns.iter().map(cell).chain([left_out]).collect::<Vec<_>>()
        };
        let left_out = say::IS_LEFT_OUT.to_owned();
        let heads = columns.iter().map(|column| column.head(study)).chain([left_out]).collect();
        let rows = shown.servings.with_untracked(|servings| servings.iter().map(row).collect::<Vec<_>>());
        std::iter::once(heads).chain(rows).collect()
    })
}

/// The attributes whose scores on a page are left out, or that all of them are.
fn left_out_of(study: &Study, peculiar: &Peculiar, serving: usize) -> String {
    if peculiar.page_is_left_out(study, serving) {
        return say::WHOLE_PAGE.to_owned();
    }
    let is_out = |attribute: &usize| peculiar.is_left_out(study, serving, *attribute);
    let names = (0..study.attributes.len()).filter(is_out).map(|index| study.attributes[index].name.as_str());
    names.collect::<Vec<_>>().join(", ")
}

#[component]
pub fn ScoresTable() -> impl IntoView {
    let context: AppContext = expect_context();
    let shown: ShownScores = expect_context();
    let columns = Memo::new(move |_| heads_of(context, shown));
    let row_count = Memo::new(move |_| shown.servings.with(Vec::len));
    let cursor = Memo::new(move |_| cursor_at(shown, context.app.scores_shown.with(|shown| shown.place)?));
    let moved = move |cursor: Cursor| {
        if let Some(place) = place_of(shown, cursor) {
            look_at_place(context.app, place);
        }
    };
    let chosen = move |cursor: Cursor| choose(context.app, place_of(shown, cursor));
    let cell = Callback::new(move |(row, column)| cell_at(context, shown, row, column).unwrap_or_default());
    view! {
        <div class="marks-place">
            <Grid id=GRID_ID label=say::GRID_LABEL columns row_count cell cursor moved chosen/>
            {move || (row_count.get() == 0).then(|| view! { <p class="quiet">{say::NOTHING_FITS}</p> })}
            <p class="note signs">
                {say::KEY_TO_SIGNS.into_iter().map(|(sign, means)| view! { <span><span class="sign">{sign}</span>" "{means}</span> }).collect_view()}
            </p>
        </div>
    }
}

/// A head sorts; a cell leads to the field for a new score, or to the reason where it holds no score.
fn choose(app: AppState, place: Option<ScorePlace>) {
    match place {
        Some(ScorePlace::Head(column)) => sort_by(app, column),
        Some(ScorePlace::Cell(_, ScoreColumn::Attribute(_))) => page::focus(VALUE_ID),
        Some(ScorePlace::Cell(..)) => page::focus(REASON_ID),
        None => {}
    }
}

/// The heads of the columns that are shown, with the one that sorts.
fn heads_of(context: AppContext, shown: ShownScores) -> Vec<GridColumn> {
    let order = context.app.scores_shown.with(|shown| shown.order);
    context.app.study.with(|study| {
        let Some(study) = study else { return Vec::new() };
        let head = |column: &ScoreColumn| {
            let sorted = order.filter(|order| order.column == *column).map(|order| order.descending);
            grid_column(study, *column, sorted)
        };
        shown.columns.with(|columns| columns.iter().map(head).collect())
    })
}

/// Where a place of the table lies in the grid: its row 0 is the heads. `None` where it is not shown.
fn cursor_at(shown: ShownScores, place: ScorePlace) -> Option<Cursor> {
    let (row, column) = match place {
        ScorePlace::Head(column) => (0, column),
        ScorePlace::Cell(serving, column) => {
            (1 + shown.servings.with(|list| list.iter().position(|one| *one == serving))?, column)
        }
    };
    let column = shown.columns.with(|columns| columns.iter().position(|one| *one == column))?;
    Some(Cursor { row, column })
}

fn place_of(shown: ShownScores, cursor: Cursor) -> Option<ScorePlace> {
    let column = shown.columns.with_untracked(|columns| columns.get(cursor.column).copied())?;
    let Some(row) = cursor.row.checked_sub(1) else { return Some(ScorePlace::Head(column)) };
    let serving = shown.servings.with_untracked(|list| list.get(row).copied())?;
    Some(ScorePlace::Cell(serving, column))
}

fn cell_at(context: AppContext, shown: ShownScores, row: usize, column: usize) -> Option<GridCell> {
    let serving = shown.servings.with(|list| list.get(row).copied())?;
    let column = shown.columns.with(|columns| columns.get(column).copied())?;
    shown.peculiar.with(|peculiar| {
        context.app.study.with(|study| study.as_ref().map(|study| cell_of(study, peculiar, serving, column)))
    })
}

fn grid_column(study: &Study, column: ScoreColumn, sorted: Option<bool>) -> GridColumn {
    let (width_px, hold) = width_and_hold(study, column);
    let is_out = matches!(column, ScoreColumn::Attribute(index) if study.attribute_is_excluded(index));
    let is_number = matches!(column, ScoreColumn::Replicate | ScoreColumn::Position | ScoreColumn::Attribute(_));
    GridColumn {
        head: column.head(study),
        width_px,
        hold,
        remark: if is_out { say::IS_LEFT_OUT } else { "" },
        class: match (is_number, is_out) {
            (true, true) => "number is-hidden",
            (true, false) => "number",
            _ => "",
        },
        sorted,
    }
}

/// A column is as wide as its longest name needs, within bounds, in CSS pixels; what names a page stays in sight.
fn width_and_hold(study: &Study, column: ScoreColumn) -> (u32, Hold) {
    let for_letters = |letters: usize, least: u32, most: u32| (9 * letters as u32 + 26).clamp(least, most);
    let letters = longest_name(study, column);
    match column {
        ScoreColumn::Assessor => (for_letters(letters, 96, 160), Hold::Always),
        ScoreColumn::Sample => (for_letters(letters, 72, 170), Hold::WhenWide),
        ScoreColumn::Replicate => (58, Hold::WhenWide),
        ScoreColumn::Position => (58, Hold::Never),
        ScoreColumn::Session | ScoreColumn::Label => (96, Hold::Never),
        ScoreColumn::Attribute(_) => (for_letters(letters, 76, 170), Hold::Never),
    }
}

/// Letters of the longest name in a column of assessors or samples, or of the attribute over it.
fn longest_name(study: &Study, column: ScoreColumn) -> usize {
    let letters = |name: &String| name.chars().count();
    match column {
        ScoreColumn::Assessor => study.assessors.iter().map(|one| letters(&one.name)).max().unwrap_or(0),
        ScoreColumn::Sample => study.samples.iter().map(|one| letters(&one.name)).max().unwrap_or(0),
        ScoreColumn::Attribute(index) => study.attributes.get(index).map_or(0, |one| letters(&one.name)),
        _ => 0,
    }
}

fn cell_of(study: &Study, peculiar: &Peculiar, serving: usize, column: ScoreColumn) -> GridCell {
    if let ScoreColumn::Attribute(attribute) = column {
        return score_cell(study, peculiar, serving, attribute);
    }
    let text = name_in(study, serving, column);
    let is_number = matches!(column, ScoreColumn::Replicate | ScoreColumn::Position);
    let is_out = peculiar.page_is_left_out(study, serving);
    GridCell {
        text,
        sign: "",
        said: if is_out { format!(", {}", say::IS_LEFT_OUT) } else { String::new() },
        class: match (is_number, is_out) {
            (true, true) => "number is-hidden",
            (true, false) => "number",
            (false, true) => "is-hidden",
            (false, false) => "",
        },
    }
}

/// What names a page: nothing in a column of scores.
fn name_in(study: &Study, serving: usize, column: ScoreColumn) -> String {
    let page = &study.servings[serving];
    match column {
        ScoreColumn::Attribute(_) => String::new(),
        ScoreColumn::Assessor => assessor_name(study, serving).to_owned(),
        ScoreColumn::Sample => sample_name(study, serving).to_owned(),
        ScoreColumn::Replicate => page.replicate.to_string(),
        ScoreColumn::Session => {
            page.session.and_then(|session| study.sessions.get(session as usize)).cloned().unwrap_or_default()
        }
        ScoreColumn::Position => page.position.map(|position| position.to_string()).unwrap_or_default(),
        ScoreColumn::Label => page.label.clone().unwrap_or_default(),
    }
}

/// A score with signs for what is peculiar about it.
fn score_cell(study: &Study, peculiar: &Peculiar, serving: usize, attribute: usize) -> GridCell {
    let score = study.score(serving, attribute);
    let is_out = peculiar.is_left_out(study, serving, attribute);
    let is_corrected = peculiar.is_corrected(serving, attribute);
    let is_to_check = peculiar.is_to_check(serving, attribute);
    let said = said_of(study, peculiar, serving, attribute);
    GridCell {
        text: score.map_or_else(|| say::NONE.to_owned(), |score| readable(words::number(score))()),
        sign: match (is_corrected, is_out, is_to_check) {
            (true, _, _) => say::SIGN_CORRECTED,
            (_, true, _) => say::SIGN_LEFT_OUT,
            (_, _, true) => say::SIGN_TO_CHECK,
            _ => "",
        },
        said: if said.is_empty() { String::new() } else { format!(", {}", said.join(", ")) },
        class: match (is_out, is_corrected, is_to_check) {
            (true, true, _) => "number is-hidden is-corrected",
            (true, false, _) => "number is-hidden",
            (false, true, _) => "number is-corrected",
            (false, false, true) => "number is-to-check",
            (false, false, false) => "number",
        },
    }
}

/// What is said of a score to those who hear the table: each thing that is peculiar about it.
fn said_of(study: &Study, peculiar: &Peculiar, serving: usize, attribute: usize) -> Vec<String> {
    let mut said = Vec::new();
    if study.score(serving, attribute).is_none() {
        said.push(say::NO_SCORE.to_owned());
    }
    if peculiar.is_corrected(serving, attribute) {
        let before = say::score_with_unit(study.score_as_it_came(serving, attribute), &study.scale.unit);
        said.push(format!("{} {before}", say::AS_IT_CAME));
    }
    if peculiar.is_left_out(study, serving, attribute) {
        said.push(say::IS_LEFT_OUT.to_owned());
    }
    if peculiar.is_to_check(serving, attribute) {
        said.push(Condition::ToCheck.in_words().to_owned());
    }
    said
}
