//! Going from cell to cell of a plain table by arrow keys. The focus itself is the place: nothing is remembered.

use gloo::utils::document;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement, HtmlTableRowElement, KeyboardEvent};

/// Moves the focus by an arrow key, Home or End, from the table's place to its first cell and from cell to cell; Enter
/// and Space press the cell. Other keys are left alone, and so are keys of anything that is used in the place.
pub fn go_by_key(event: &KeyboardEvent) {
    let place = event.current_target().and_then(|place| place.dyn_into::<Element>().ok());
    let (Some(place), Some(focused)) = (place, document().active_element()) else { return };
    let (row, column) = match focused.tag_name().as_str() {
        "TD" => (place_among_same(&focused.parent_element()), place_among_same(&Some(focused.clone()))),
        _ if focused == place => (0, 0),
        _ => return,
    };
    let wanted = match event.key().as_str() {
        "Enter" | " " if row > 0 => {
            event.prevent_default();
            return focused.unchecked_ref::<HtmlElement>().click();
        }
        "ArrowDown" => (row + 1, column.max(1)),
        "ArrowUp" => (row.saturating_sub(1), column),
        "ArrowRight" => (row.max(1), column + 1),
        // Column 0 would be the last.
        "ArrowLeft" if column < 2 => return,
        "ArrowLeft" => (row, column - 1),
        "Home" => (row, 1),
        "End" => (row, 0),
        _ => return,
    };
    if let Some(cell) = cell_at(&place, wanted) {
        event.prevent_default();
        let _ = cell.focus();
    }
}

/// The row of a table's body in which something happened, from 0.
pub fn row_of(event: &Event) -> Option<usize> {
    let row: HtmlTableRowElement = around(event, "tbody > tr")?.dyn_into().ok()?;
    usize::try_from(row.section_row_index()).ok()
}

/// Whether something happened in what the selector names.
pub fn is_in(event: &Event, selector: &str) -> bool {
    around(event, selector).is_some()
}

fn around(event: &Event, selector: &str) -> Option<Element> {
    event.target()?.dyn_into::<Element>().ok()?.closest(selector).ok()?
}

/// The number cell at a row and column, both from 1; column 0 is the last of the row.
fn cell_at(place: &Element, (row, column): (usize, usize)) -> Option<HtmlElement> {
    if row == 0 {
        return None;
    }
    let column = if column == 0 { "last-of-type".to_owned() } else { format!("nth-of-type({column})") };
    let cell = place.query_selector(&format!("tbody > tr:nth-of-type({row}) > td:{column}")).ok()??;
    cell.dyn_into().ok()
}

/// Place of an element among its siblings of the same kind, from 1; 0 where there is none.
fn place_among_same(element: &Option<Element>) -> usize {
    let Some(element) = element else { return 0 };
    let before = std::iter::successors(element.previous_element_sibling(), Element::previous_element_sibling);
    before.filter(|one| one.tag_name() == element.tag_name()).count() + 1
}
