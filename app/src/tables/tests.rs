//! What tables say and how they leave the page.

use super::export::{clipboard, csv};
use super::*;

#[test]
fn text_that_looks_like_a_formula_is_made_harmless_and_numbers_are_not_touched() {
    let table = small_table("=HYPERLINK(\"x\")");
    assert_eq!(csv(&table), "attribute,difference\r\n\"'=HYPERLINK(\"\"x\"\")\",-1.25\r\n");
}

#[test]
fn the_clipboard_gets_the_numbers_as_shown() {
    assert_eq!(clipboard(&small_table("green"), &str::to_owned), "attribute\tdifference\r\ngreen\t-1.3\r\n");
}

fn small_table(head: &str) -> Table {
    Table {
        name: "small",
        caption: String::new(),
        corner: "attribute".into(),
        columns: vec![Column::plain("difference")],
        rows: vec![Row {
            head: head.into(),
            aside: String::new(),
            cells: vec![Cell::number("A", "difference", -1.25, "-1.3".into())],
        }],
        notes: Vec::new(),
    }
}
