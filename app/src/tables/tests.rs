//! What tables say and how they leave the page.

use super::export::{clipboard, clipboard_of_rows, csv, csv_of_rows};
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

#[test]
fn rows_as_they_stand_give_numbers_where_there_are_numbers() {
    let rows = || {
        let cells =
            [["sample", "difference"], ["=A", "\u{2212}1.5"], ["012", "+2"], ["-x", "+2 (1 to 3)"], ["a;b", "inf"]];
        cells.into_iter().map(|row| row.map(str::to_owned).to_vec())
    };
    let text = csv_of_rows(rows());
    assert_eq!(text, "sample,difference\r\n'=A,-1.5\r\n012,2\r\n'-x,'+2 (1 to 3)\r\n\"a;b\",inf\r\n");
    let comma = |text: &str| text.replace('.', ",");
    let text = clipboard_of_rows(rows(), &comma);
    assert_eq!(text, "sample\tdifference\r\n'=A\t-1,5\r\n012\t2\r\n'-x\t'+2 (1 to 3)\r\na;b\tinf\r\n");
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
