//! A table of results of the engine, with its copy and save buttons. It knows no method: what a table says and holds
//! comes with it.

use super::copy_and_save::CopyAndSave;
use super::follow::follow;
use super::numerals::{Numerals, readable_now};
use super::selection::Selection;
use super::verdict_icon::VerdictIcon;
use crate::browser::cells;
use crate::shared::Shared;
use crate::words;
use leptos::either::{Either, EitherOf4};
use leptos::html;
use leptos::prelude::*;
use likeness_core::table::{Cell, Column, Role, Row, Table, Value};
use likeness_core::tables::export;
use web_sys::{Event, KeyboardEvent};

/// Shows a table; `None` shows nothing. `for_saving` replaces it when it is saved as a file.
#[component]
pub fn TableView(
    #[prop(into)] table: Signal<Option<Table>>,
    #[prop(optional)] for_saving: Option<Signal<Option<Table>>>,
    /// Is told the head of the row under the pointer, and nothing when the pointer leaves.
    #[prop(optional)]
    pointed: Option<Callback<Option<String>>>,
    /// Whether each number can be pressed, and so be reached by arrow keys.
    #[prop(optional)]
    is_pressed: bool,
) -> impl IntoView {
    let place: NodeRef<html::Section> = NodeRef::new();
    let table = follow(place, move || table.get().map(Shared::new));
    let (numerals, selection) = (use_context::<Numerals>(), use_context::<Selection>());
    move || {
        table.get().map(|table| {
            // Read once for the whole table: a signal for each cell would cost more than making the table anew.
            let how = Shown {
                readable: &|text| numerals.map_or_else(|| text.to_owned(), |numerals| numerals.text(text)),
                selected_sample: selection.and_then(|selection| selection.sample.get()),
                selection,
                is_pressed,
                scale_maximum: table.scale_maximum,
            };
            let name = table.name;
            let notes = table.notes.clone();
            let events = RowEvents { table: table.clone(), selection, pointed, is_pressed };
            view! {
                <section class="table-part" node_ref=place data-test=format!("{name}-table")>
                    <div class="part-head">
                        <h2>{table.caption.clone()}</h2>
                        <TableTools table=table.clone() for_saving/>
                    </div>
                    {place_of(grid(&table, &how), table.caption.clone(), events)}
                    {notes.into_iter().map(|note| view! { <p class="note">{note}</p> }).collect_view()}
                </section>
            }
        })
    }
}

/// What happens in the rows of a table: heard once for the whole table, since listeners of each row would cost more than
/// making the table anew.
#[derive(Clone)]
struct RowEvents {
    table: Shared<Table>,
    selection: Option<Selection>,
    pointed: Option<Callback<Option<String>>>,
    is_pressed: bool,
}

impl RowEvents {
    fn head_at(&self, event: &Event) -> Option<String> {
        Some(self.table.rows.get(cells::row_of(event)?)?.name().to_owned())
    }

    fn point(&self, head: Option<String>) {
        if let Some(pointed) = self.pointed {
            pointed.run(head);
        }
    }

    fn click(&self, event: &Event) {
        if let (true, Some(selection), Some(head)) =
            (cells::is_in(event, ".row-name"), self.selection, self.head_at(event))
        {
            selection.clicked.run(head);
        }
    }

    fn press(&self, event: &KeyboardEvent) {
        if self.is_pressed {
            cells::go_by_key(event);
        }
    }
}

/// The place in which a table is scrolled, with what happens in its rows.
fn place_of(grid: impl IntoView, caption: String, events: RowEvents) -> impl IntoView {
    let (pointing, leaving, clicking) = (events.clone(), events.clone(), events.clone());
    view! {
        <div
            class="table-place"
            tabindex="0"
            role="region"
            aria-label=caption
            on:keydown=move |event| events.press(&event)
            on:pointerover=move |event| pointing.point(pointing.head_at(&event))
            on:pointerleave=move |_| leaving.point(None)
            on:click=move |event| clicking.click(&event)
        >
            {grid}
        </div>
    }
}

/// How a table is shown.
struct Shown<'h> {
    /// Numbers with the decimal mark of the reader.
    readable: &'h dyn Fn(&str) -> String,
    selected_sample: Option<String>,
    selection: Option<Selection>,
    is_pressed: bool,
    /// Decides how many decimals a score shows.
    scale_maximum: f64,
}

/// Copy and save.
#[component]
fn TableTools(table: Shared<Table>, for_saving: Option<Signal<Option<Table>>>) -> impl IntoView {
    let readable = readable_now();
    let name = table.name.to_owned();
    let copied = table.clone();
    let for_clipboard = move |()| export::clipboard(&copied, &readable);
    let csv = move |()| {
        let other = for_saving.and_then(|other| other.get_untracked());
        export::csv(other.as_ref().unwrap_or(&table))
    };
    view! { <CopyAndSave name csv for_clipboard/> }
}

fn grid(table: &Table, how: &Shown<'_>) -> impl IntoView + use<> {
    let has_groups = table.columns.iter().any(|column| !column.group.is_empty());
    let corner_rows = if has_groups { "2" } else { "1" };
    let corner = table.columns.first().map(Column::head_with_unit);
    let lower = table.columns.iter().filter(|column| !column.group.is_empty()).map(lower_head).collect_view();
    view! {
        <table class="results" class:is-pressed=how.is_pressed>
            <thead>
                <tr>
                    <th scope="col" rowspan=corner_rows class="row-head">{corner}</th>
                    {upper_heads(table, corner_rows)}
                </tr>
                {has_groups.then(|| view! { <tr>{lower}</tr> })}
            </thead>
            <tbody>{table.rows.iter().map(|row| line(row, &table.columns, how)).collect_view()}</tbody>
        </table>
    }
}

/// Heads of all columns but the one that names the rows; neighbours under one group share its head.
fn upper_heads(table: &Table, rows: &'static str) -> impl IntoView + use<> {
    let first = table.rows.first().map_or(&[][..], |row| &row.cells);
    let columns: Vec<(usize, &Column)> = table.columns.iter().enumerate().skip(1).collect();
    let head = |same: &[(usize, &Column)]| {
        let (place, column) = same[0];
        let class = if first.get(place).is_some_and(Cell::is_words) { "words" } else { warning_class(column) };
        if column.group.is_empty() {
            let head = column.head_with_unit();
            return view! { <th scope="col" rowspan=rows class=class>{head}</th> }.into_any();
        }
        let (count, group) = (same.len().to_string(), column.group.clone());
        view! { <th scope="colgroup" colspan=count class=format!("group {class}")>{group}</th> }.into_any()
    };
    columns.chunk_by(|(_, a), (_, b)| !a.group.is_empty() && a.group == b.group).map(head).collect_view()
}

fn lower_head(column: &Column) -> impl IntoView + use<> {
    view! { <th scope="col" class=warning_class(column)>{column.head_with_unit()}</th> }
}

fn line(row: &Row, columns: &[Column], how: &Shown<'_>) -> impl IntoView + use<> {
    let selection = how.selection;
    let aside = row.cells.first().map(|name| name.detail.clone()).filter(|aside| !aside.is_empty());
    let marked = row.name().to_owned();
    let is_marked = move || selection.is_some_and(|selection| selection.holds(&marked));
    let head = row_head(row.name(), selection);
    let cells = row.cells.iter().zip(columns).skip(1);
    let cells = cells.map(|(cell, column)| cell_view(cell, column, row.name(), how)).collect_view();
    view! {
        <tr class:is-marked=is_marked>
            <th scope="row" class="row-head">
                {head}
                {aside.map(|aside| view! { <span class="aside">{aside}</span> })}
            </th>
            {cells}
        </tr>
    }
}

/// The name of a row; a button where the page can mark what it names.
fn row_head(name: &str, selection: Option<Selection>) -> impl IntoView + use<> {
    let name = name.to_owned();
    let Some(selection) = selection.filter(|selection| selection.can_mark(&name)) else { return Either::Left(name) };
    let own = name.clone();
    Either::Right(view! {
        <button type="button" class="row-name" data-test="row-name" aria-pressed=move || selection.holds(&own).to_string()>
            {name}
        </button>
    })
}

fn cell_view(cell: &Cell, column: &Column, row: &str, how: &Shown<'_>) -> impl IntoView + use<> {
    let marked = !cell.selects.is_empty() && how.selected_sample.as_ref() == Some(&cell.selects);
    let is_pressed = how.is_pressed;
    let (sample, field, attribute) = (cell.selects.clone(), column.field, row.to_owned());
    let value = match &cell.value {
        Value::Verdict(verdict) => verdict.word().to_owned(),
        _ => cell.as_number().map(|value| value.to_string()).unwrap_or_default(),
    };
    view! {
        <td class=cell_class(cell, column) class:is-marked=marked tabindex=is_pressed.then_some("-1") data-test="number" data-attribute=attribute data-sample=sample data-field=field data-value=value>
            {content(cell, column, how)}
        </td>
    }
}

fn cell_class(cell: &Cell, column: &Column) -> String {
    let class = warning_class(column);
    match cell.value {
        Value::Number(_) | Value::Said { .. } => format!("number {class}"),
        Value::Verdict(_) => class.to_owned(),
        Value::Words(_) => "words".to_owned(),
        Value::NotDefined(_) => "missing".to_owned(),
    }
}

/// What a cell shows, and what is said small beside a number.
fn content(cell: &Cell, column: &Column, how: &Shown<'_>) -> impl IntoView + use<> {
    match &cell.value {
        Value::Number(_) | Value::Said { .. } => {
            let text = |text: &str| typeset(&(how.readable)(text));
            let shown = text(&cell.shown(column.format, how.scale_maximum));
            let detail = (!cell.detail.is_empty()).then(|| view! { <span class="detail">{text(&cell.detail)}</span> });
            EitherOf4::A((shown, detail))
        }
        Value::Verdict(verdict) => EitherOf4::B(view! { <VerdictIcon verdict=*verdict/> }),
        Value::Words(words) => EitherOf4::C(words.clone()),
        Value::NotDefined(because) => EitherOf4::D(missing(because.clone())),
    }
}

/// A dash that says why there is no number.
fn missing(because: String) -> impl IntoView {
    let why = format!("{}: {because}", words::NOT_DEFINED);
    view! {
        <abbr title=why>
            <span aria-hidden="true">"\u{2013}"</span>
            <span class="heard">{words::NOT_DEFINED}", "{because}</span>
        </abbr>
    }
}

/// A true minus sign on the screen; files keep the plain hyphen.
pub fn typeset(number: &str) -> String {
    number.replace('-', "\u{2212}")
}

fn warning_class(column: &Column) -> &'static str {
    if column.role == Role::Warning { "is-warning" } else { "" }
}
