//! A table of results, with its copy and save buttons.

use super::copy_and_save::CopyAndSave;
use super::follow::follow;
use super::numerals::{Numerals, readable_now};
use super::selection::Selection;
use super::verdict_icon::VerdictIcon;
use crate::browser::cells;
use crate::state::Shared;
use crate::tables::export;
use crate::tables::{Cell, Column, Content, Row, Table};
use crate::words;
use leptos::either::{Either, EitherOf4};
use leptos::html;
use leptos::prelude::*;
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
        Some(self.table.rows.get(cells::row_of(event)?)?.head.clone())
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
    let corner = table.corner.clone();
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

fn upper_heads(table: &Table, rows: &'static str) -> impl IntoView + use<> {
    let mut heads = Vec::new();
    let mut index = 0;
    while index < table.columns.len() {
        let column = &table.columns[index];
        let is_words = table.rows.first().and_then(|row| row.cells.get(index)).is_some_and(Cell::is_words);
        let class = if is_words { "words" } else { warning_class(column) };
        if column.group.is_empty() {
            let head = column.head.clone();
            heads.push(view! { <th scope="col" rowspan=rows class=class>{head}</th> }.into_any());
            index += 1;
            continue;
        }
        let same = table.columns[index..].iter().take_while(|other| other.group == column.group).count();
        let group = column.group.clone();
        heads.push(
            view! { <th scope="colgroup" colspan=same.to_string() class=format!("group {class}")>{group}</th> }
                .into_any(),
        );
        index += same;
    }
    heads.collect_view()
}

fn lower_head(column: &Column) -> impl IntoView + use<> {
    view! { <th scope="col" class=warning_class(column)>{column.head.clone()}</th> }
}

fn line(row: &Row, columns: &[Column], how: &Shown<'_>) -> impl IntoView + use<> {
    let selection = how.selection;
    let aside = row.aside.clone();
    let marked = row.head.clone();
    let is_marked = move || selection.is_some_and(|selection| selection.holds(&marked));
    let head = row_head(&row.head, selection);
    let cells = row.cells.iter().zip(columns);
    let cells = cells.map(|(cell, column)| cell_view(cell, column, &row.head, how)).collect_view();
    view! {
        <tr class:is-marked=is_marked>
            <th scope="row" class="row-head">
                {head}
                {(!aside.is_empty()).then(|| view! { <span class="aside">{aside}</span> })}
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

fn cell_view(cell: &Cell, column: &Column, attribute: &str, how: &Shown<'_>) -> impl IntoView + use<> {
    let marked = !cell.sample.is_empty() && how.selected_sample.as_ref() == Some(&cell.sample);
    let is_pressed = how.is_pressed;
    let (sample, field, attribute) = (cell.sample.clone(), cell.field, attribute.to_owned());
    let class = warning_class(column);
    let (class, value, content) = match &cell.content {
        Content::Number { value, shown, detail } => {
            let text = |text: &str| typeset(&(how.readable)(text));
            let detail = (!detail.is_empty()).then(|| view! { <span class="detail">{text(detail)}</span> });
            (format!("number {class}"), value.to_string(), EitherOf4::A((text(shown), detail)))
        }
        Content::Verdict(verdict) => {
            (class.to_owned(), verdict.word().to_owned(), EitherOf4::B(view! { <VerdictIcon verdict=*verdict/> }))
        }
        Content::Words(words) => ("words".to_owned(), String::new(), EitherOf4::C(words.clone())),
        Content::Missing { because } => {
            let because = because.clone();
            let why = format!("{}: {because}", words::NOT_DEFINED);
            (
                "missing".to_owned(),
                String::new(),
                EitherOf4::D(
                    view! { <abbr title=why><span aria-hidden="true">"\u{2013}"</span><span class="heard">{words::NOT_DEFINED}", "{because}</span></abbr> },
                ),
            )
        }
    };
    view! {
        <td class=class class:is-marked=marked tabindex=is_pressed.then_some("-1") data-test="number" data-attribute=attribute data-sample=sample data-field=field data-value=value>
            {content}
        </td>
    }
}

/// A true minus sign on the screen; files keep the plain hyphen.
pub fn typeset(number: &str) -> String {
    number.replace('-', "\u{2212}")
}

fn warning_class(column: &Column) -> &'static str {
    if column.is_warning { "is-warning" } else { "" }
}
