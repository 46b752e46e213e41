//! A table of any length of which only what is seen is drawn: rows of one height, columns of known widths, a few of
//! them held in place at the left. Read by mouse, touch and keyboard. It knows rows and columns, not what they mean.
//!
//! The focus of the page stays on the grid and a cursor moves through its cells: a cell that scrolls out of sight is
//! no longer in the page, and could not hold the focus.

use crate::browser::canvas;
use leptos::prelude::*;
use leptos::{ev, html};
use std::ops::Range;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// Height of a row, also in the stylesheet.
const ROW_PX: f64 = 28.0;
/// Rows drawn above and below what is seen, so that fast scrolling shows no gaps.
const SPARE_ROWS: usize = 8;
/// In a narrower grid only columns that must be are held in place.
const WIDE_PX: f64 = 560.0;
/// The cell under the cursor, for screen readers.
const CURSOR_ID: &str = "grid-cursor";

/// When a column is held in place at the left. Columns that are held must come first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    Always,
    WhenWide,
    Never,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GridColumn {
    pub head: String,
    pub width_px: u32,
    pub hold: Hold,
    /// Said after the head, such as "left out"; shown by the class.
    pub remark: &'static str,
    pub class: &'static str,
    /// `Some(true)` where the rows are sorted downwards by this column.
    pub sorted: Option<bool>,
}

/// One cell as it is drawn.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct GridCell {
    pub text: String,
    /// A sign before the text, so that colour is not needed.
    pub sign: &'static str,
    /// Heard, not seen: what the sign and the class mean.
    pub said: String,
    pub class: &'static str,
}

/// Where the cursor is. Row 0 is the head; the others count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cursor {
    pub row: usize,
    pub column: usize,
}

/// What the page shows of the grid.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Sight {
    top: f64,
    left: f64,
    width: f64,
    height: f64,
}

/// A row that is drawn. Equal rows are not drawn anew.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Row {
    /// From 1, under the head.
    number: usize,
    /// Column of the cursor, where it is in this row.
    cursor: Option<usize>,
    cells: Vec<(Slot, GridCell)>,
}

/// Where a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Slot {
    column: usize,
    left_px: u32,
    width_px: u32,
    is_held: bool,
}

/// Gives the cell of a row, counted from 0, and a column.
pub type CellOf = Callback<(usize, usize), GridCell>;

#[component]
pub fn Grid(
    /// Hook for tests, and the id by which the grid is focused.
    id: &'static str,
    label: &'static str,
    columns: Memo<Vec<GridColumn>>,
    row_count: Memo<usize>,
    cell: CellOf,
    cursor: Memo<Option<Cursor>>,
    #[prop(into)] moved: Callback<Cursor>,
    /// Enter or a click on a head; Enter or a double click on a cell.
    #[prop(into)]
    chosen: Callback<Cursor>,
) -> impl IntoView {
    let place: NodeRef<html::Div> = NodeRef::new();
    let sight = RwSignal::new(Sight::default());
    follow_sight(place, sight);
    let slots = Memo::new(move |_| columns.with(|columns| slots_of(columns, sight.with(|sight| sight.width))));
    let total_px = Memo::new(move |_| slots.with(|slots| slots.last().map_or(0, |slot| slot.left_px + slot.width_px)));
    let seen_rows = Memo::new(move |_| rows_in_sight(&sight.get(), row_count.get()));
    let seen_columns = Memo::new(move |_| slots.with(|slots| slots_in_sight(slots, &sight.get())));
    let rows = Memo::new(move |_| {
        let cursor = cursor.get();
        seen_columns.with(|slots| seen_rows.get().map(|row| row_of(row, slots, cell, cursor)).collect::<Vec<Row>>())
    });
    Effect::new(move |_| {
        if let (Some(place), Some(cursor)) = (place.get(), cursor.get()) {
            slots.with_untracked(|slots| bring_into_sight(&place, slots, cursor));
        }
    });
    let pressed = move |event: ev::KeyboardEvent| {
        let last =
            Cursor { row: row_count.get_untracked(), column: columns.with_untracked(Vec::len).saturating_sub(1) };
        let Some(now) = cursor.get_untracked() else {
            if event.key().starts_with("Arrow") || event.key() == "Enter" {
                event.prevent_default();
                moved.run(Cursor { row: last.row.min(1), column: 0 });
            }
            return;
        };
        if event.key() == "Enter" {
            event.prevent_default();
            chosen.run(now);
        } else if let Some(next) = led_to(&event, now, last, sight.with_untracked(rows_a_page)) {
            event.prevent_default();
            moved.run(next);
        }
    };
    let clicked = move |event: ev::MouseEvent| {
        let Some(at) = cursor_at(&event) else { return };
        moved.run(at);
        if at.row == 0 {
            chosen.run(at);
        }
    };
    let double_clicked = move |event: ev::MouseEvent| {
        if let Some(at) = cursor_at(&event).filter(|at| at.row > 0) {
            chosen.run(at);
        }
    };
    view! {
        <div
            node_ref=place
            id=id
            class="grid"
            data-test=id
            role="grid"
            tabindex="0"
            aria-label=label
            aria-rowcount=move || (row_count.get() + 1).to_string()
            aria-colcount=move || columns.with(Vec::len).to_string()
            aria-activedescendant=move || cursor.get().map(|_| CURSOR_ID)
            on:scroll=move |_| look_again(place, sight)
            on:keydown=pressed
            on:click=clicked
            on:dblclick=double_clicked
        >
            <div class="grid-whole" role="rowgroup" style=move || format!("width:{}px;height:{}px", total_px.get(), ROW_PX * (row_count.get() + 1) as f64)>
                <div class="grid-row grid-head" role="row" aria-rowindex="1">
                    {move || seen_columns.get().into_iter().map(|slot| columns.with(|columns| head(slot, columns.get(slot.column), cursor))).collect_view()}
                </div>
                <For each=move || rows.get() key=|row| row.clone() children=row_view/>
            </div>
        </div>
    }
}

fn head(slot: Slot, column: Option<&GridColumn>, cursor: Memo<Option<Cursor>>) -> impl IntoView + use<> {
    let column = column.cloned()?;
    let title = column.head.clone();
    let own = Cursor { row: 0, column: slot.column };
    let is_cursor = Memo::new(move |_| cursor.get() == Some(own));
    let (sort, arrow) = match column.sorted {
        Some(true) => ("descending", " \u{2193}"),
        Some(false) => ("ascending", " \u{2191}"),
        None => ("none", ""),
    };
    Some(view! {
        <div
            role="columnheader"
            class=format!("grid-cell {} {}", held(slot), column.class)
            class:is-cursor=is_cursor
            id=move || is_cursor.get().then_some(CURSOR_ID)
            style=style_of(slot)
            title=title
            aria-colindex=(slot.column + 1).to_string()
            aria-sort=sort
            data-row="0"
            data-column=slot.column.to_string()
        >
            <span class="grid-text">{column.head}</span>
            <span aria-hidden="true">{arrow}</span>
            {(!column.remark.is_empty()).then(|| view! { <span class="heard">{column.remark}</span> })}
        </div>
    })
}

fn row_view(row: Row) -> impl IntoView {
    let number = row.number;
    let cells = row.cells.into_iter().map(|(slot, cell)| {
        let is_cursor = row.cursor == Some(slot.column);
        let class = format!("grid-cell {} {} {}", held(slot), cell.class, if is_cursor { "is-cursor" } else { "" });
        view! {
            <div
                role=if slot.column == 0 { "rowheader" } else { "gridcell" }
                class=class
                id=is_cursor.then_some(CURSOR_ID)
                style=style_of(slot)
                aria-colindex=(slot.column + 1).to_string()
                aria-selected=is_cursor.then_some("true")
                data-row=number.to_string()
                data-column=slot.column.to_string()
            >
                {(!cell.sign.is_empty()).then(|| view! { <span class="sign" aria-hidden="true">{cell.sign}</span> })}
                <span class="grid-text">{cell.text}</span>
                {(!cell.said.is_empty()).then(|| view! { <span class="heard">{cell.said}</span> })}
            </div>
        }
    });
    let cells = cells.collect_view();
    view! {
        <div class="grid-row" role="row" aria-rowindex=(number + 1).to_string() style=format!("top:{}px", ROW_PX * number as f64)>
            {cells}
        </div>
    }
}

fn row_of(row: usize, slots: &[Slot], cell: CellOf, cursor: Option<Cursor>) -> Row {
    let number = row + 1;
    Row {
        number,
        cursor: cursor.filter(|cursor| cursor.row == number).map(|cursor| cursor.column),
        cells: slots.iter().map(|slot| (*slot, cell.run((row, slot.column)))).collect(),
    }
}

fn held(slot: Slot) -> &'static str {
    if slot.is_held { "is-held" } else { "" }
}

fn style_of(slot: Slot) -> String {
    format!("left:{}px;width:{}px", slot.left_px, slot.width_px)
}

fn slots_of(columns: &[GridColumn], width_px: f64) -> Vec<Slot> {
    let mut left_px = 0;
    let slot = |(place, column): (usize, &GridColumn)| {
        let is_held = match column.hold {
            Hold::Always => true,
            Hold::WhenWide => width_px >= WIDE_PX,
            Hold::Never => false,
        };
        let slot = Slot { column: place, left_px, width_px: column.width_px, is_held };
        left_px += column.width_px;
        slot
    };
    columns.iter().enumerate().map(slot).collect()
}

/// Columns that are held, and those of which some part is seen.
fn slots_in_sight(slots: &[Slot], sight: &Sight) -> Vec<Slot> {
    let is_seen = |slot: &&Slot| {
        let (left, right) = (f64::from(slot.left_px), f64::from(slot.left_px + slot.width_px));
        slot.is_held || (right > sight.left && left < sight.left + sight.width)
    };
    slots.iter().filter(is_seen).copied().collect()
}

/// Rows, counted from 0, that are drawn.
fn rows_in_sight(sight: &Sight, count: usize) -> Range<usize> {
    let first = (sight.top / ROW_PX).floor().max(0.0) as usize;
    let seen = (sight.height / ROW_PX).ceil().max(0.0) as usize + 1;
    first.saturating_sub(SPARE_ROWS).min(count)..first.saturating_add(seen + SPARE_ROWS).min(count)
}

fn rows_a_page(sight: &Sight) -> usize {
    ((sight.height / ROW_PX).floor() as usize).saturating_sub(2).max(1)
}

/// Where a key leads; `None` for a key that leads nowhere.
fn led_to(event: &ev::KeyboardEvent, now: Cursor, last: Cursor, page: usize) -> Option<Cursor> {
    let far = event.ctrl_key() || event.meta_key();
    let Cursor { row, column } = now;
    let next = match (event.key().as_str(), far) {
        ("ArrowUp", false) => Cursor { row: row.saturating_sub(1), column },
        ("ArrowDown", false) => Cursor { row: row + 1, column },
        ("ArrowLeft", false) => Cursor { row, column: column.saturating_sub(1) },
        ("ArrowRight", false) => Cursor { row, column: column + 1 },
        ("PageUp", _) => Cursor { row: row.saturating_sub(page).max(1), column },
        ("PageDown", _) => Cursor { row: row + page, column },
        ("Home", false) => Cursor { row, column: 0 },
        ("End", false) => Cursor { row, column: last.column },
        ("Home", true) => Cursor { row: 1, column: 0 },
        ("End", true) => last,
        _ => return None,
    };
    Some(Cursor { row: next.row.min(last.row), column: next.column.min(last.column) })
}

/// The cell under the pointer.
fn cursor_at(event: &ev::MouseEvent) -> Option<Cursor> {
    let target: Element = event.target()?.dyn_into().ok()?;
    let cell = target.closest("[data-column]").ok()??;
    let number = |name: &str| cell.get_attribute(name)?.parse().ok();
    Some(Cursor { row: number("data-row")?, column: number("data-column")? })
}

fn follow_sight(place: NodeRef<html::Div>, sight: RwSignal<Sight>) {
    Effect::new(move |_| {
        let Some(grid) = place.get() else { return };
        let observer = canvas::watch_width(&grid, move |_| look_again(place, sight));
        let observer = send_wrapper::SendWrapper::new(observer);
        on_cleanup(move || {
            if let Some(observer) = observer.take() {
                observer.disconnect();
            }
        });
    });
}

fn look_again(place: NodeRef<html::Div>, sight: RwSignal<Sight>) {
    let Some(grid) = place.try_get_untracked().flatten() else { return };
    let seen = Sight {
        top: f64::from(grid.scroll_top()),
        left: f64::from(grid.scroll_left()),
        width: f64::from(grid.client_width()),
        height: f64::from(grid.client_height()),
    };
    if sight.get_untracked() != seen {
        sight.set(seen);
    }
}

/// Scrolls so that the cell is seen beside the head and the columns that are held.
fn bring_into_sight(grid: &Element, slots: &[Slot], cursor: Cursor) {
    let (top, height) = (f64::from(grid.scroll_top()), f64::from(grid.client_height()));
    if cursor.row > 0 {
        let row = ROW_PX * (cursor.row - 1) as f64;
        if row < top {
            grid.set_scroll_top(row as i32);
        } else if row + 2.0 * ROW_PX > top + height {
            grid.set_scroll_top((row + 2.0 * ROW_PX - height).ceil() as i32);
        }
    }
    let held: u32 = slots.iter().filter(|slot| slot.is_held).map(|slot| slot.width_px).sum();
    let Some(slot) = slots.get(cursor.column).filter(|slot| !slot.is_held) else { return };
    let (left, width) = (f64::from(grid.scroll_left()), f64::from(grid.client_width()));
    let (from, to) = (f64::from(slot.left_px), f64::from(slot.left_px + slot.width_px));
    if from - f64::from(held) < left {
        grid.set_scroll_left((from - f64::from(held)).max(0.0) as i32);
    } else if to > left + width {
        grid.set_scroll_left((to - width).ceil() as i32);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_seen_is_drawn_at_any_length() {
        let sight = Sight { top: 28.0 * 50_000.0, left: 0.0, width: 900.0, height: 560.0 };
        // By hand: 20 rows fit, one more may be cut, eight spare ones on each side.
        assert_eq!(rows_in_sight(&sight, 100_000), 49_992..50_029);
        assert_eq!(rows_in_sight(&sight, 10), 10..10);
        assert_eq!(rows_in_sight(&Sight { top: 0.0, ..sight }, 10), 0..10);
    }

    #[test]
    fn columns_that_are_held_are_drawn_wherever_the_rest_is() {
        let column =
            |hold: Hold| GridColumn { head: String::new(), width_px: 100, hold, remark: "", class: "", sorted: None };
        let mut columns = vec![column(Hold::Always), column(Hold::WhenWide)];
        columns.extend((0..40).map(|_| column(Hold::Never)));
        let drawn = |width: f64, left: f64| -> Vec<usize> {
            let sight = Sight { left, width, ..Sight::default() };
            slots_in_sight(&slots_of(&columns, width), &sight).iter().map(|slot| slot.column).collect()
        };
        assert_eq!(drawn(600.0, 2000.0), [0, 1, 20, 21, 22, 23, 24, 25]);
        assert_eq!(drawn(350.0, 2050.0), [0, 20, 21, 22, 23]);
    }
}
