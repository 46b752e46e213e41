//! Workbooks, mutated as tables, as XML inside the archive, and as archives. It knows nothing of reading.

use super::tables::{Grid, mutate};
use super::{Input, nasty, pick, seeds};
use crate::workbooks::{Cell, Sheet, ods_parts, xlsx_parts, zip};
use likeness_core::numeric::random::Random;

type Part = (String, String);

pub(super) fn workbook(input: Input, chance: &mut Random) -> Vec<u8> {
    let sheets: Vec<Sheet> = (0..=chance.below(3)).map(|number| sheet(number, chance)).collect();
    let mut parts = if input == Input::Xlsx { xlsx_parts(&sheets) } else { ods_parts(&sheets) };
    if chance.coin() {
        for _ in 0..=chance.below(3) {
            change_part(&mut parts, chance);
        }
    }
    let mut bytes = zip(&parts);
    if chance.below(6) == 0 {
        change_archive(&mut bytes, chance);
    }
    bytes
}

fn sheet(number: usize, chance: &mut Random) -> Sheet {
    let mut grid: Grid = pick(seeds::tables(), chance);
    // Sheets have at most twenty-six columns here: one letter names each.
    grid.truncate(40);
    grid.iter_mut().for_each(|row| row.truncate(24));
    mutate(&mut grid, chance);
    grid.iter_mut().for_each(|row| row.truncate(26));
    let cell = |text: &String, chance: &mut Random| match text.parse::<f64>() {
        _ if text.is_empty() => Cell::Blank,
        _ if chance.below(300) == 0 => odd_cell(chance),
        Ok(value) if value.is_finite() => Cell::Number(value),
        _ => Cell::Text(text.clone()),
    };
    Sheet {
        name: if chance.below(6) == 0 { nasty(chance) } else { format!("Day {}", number + 1) },
        is_hidden: chance.below(8) == 0,
        rows: grid.iter().map(|row| row.iter().map(|text| cell(text, chance)).collect()).collect(),
        merged: if chance.below(8) == 0 {
            vec![pick(&["A1:C1", "B2:B9", "A1:A1", "C3:XFD1048576"], chance)]
        } else {
            Vec::new()
        },
    }
}

fn odd_cell(chance: &mut Random) -> Cell {
    pick(
        &[
            Cell::Date(45_000.0),
            Cell::Date(-3.0),
            Cell::Error("#REF!"),
            Cell::Code(12),
            Cell::Formula(Some(31.0)),
            Cell::Formula(None),
        ],
        chance,
    )
}

/// Changes the text of one part: an attribute's value, a tag, a piece cut out or doubled, or the part as a whole.
fn change_part(parts: &mut Vec<Part>, chance: &mut Random) {
    if parts.is_empty() {
        return;
    }
    let index = chance.below(parts.len());
    let other = parts[chance.below(parts.len())].clone();
    let text = &mut parts[index].1;
    match chance.below(9) {
        0..=2 => change_attribute(text, chance),
        3 => change_tag(text, chance),
        4 => *text = cut(text, chance),
        5 => *text = doubled(text, chance),
        6 => *text = other.1,
        7 => _ = parts.remove(index),
        _ => parts.push((
            pick(&["../up.xml", "xl/worksheets/sheet1.xml", "content.xml", "C:\\x"], chance).to_owned(),
            other.1,
        )),
    }
}

fn boundaries(text: &str, letter: char) -> Vec<usize> {
    text.match_indices(letter).map(|(at, _)| at).collect()
}

/// Puts another value between two quotation marks.
fn change_attribute(text: &mut String, chance: &mut Random) {
    let marks = boundaries(text, '"');
    if marks.len() < 2 {
        return;
    }
    let first = chance.below(marks.len() / 2) * 2;
    let value = match chance.below(4) {
        0 => pick(&["XFD1048576", "A0", "1", "ZZZZ9", "A1", "s", "e", "b", "inlineStr", "d"], chance).to_owned(),
        1 => pick(&["1048576", "4294967295", "-1", "99999999999999999999", "0"], chance).to_owned(),
        2 => nasty(chance).replace(['"', '<', '&'], ""),
        _ => String::new(),
    };
    text.replace_range(marks[first] + 1..marks[first + 1], &value);
}

/// Puts another tag in front of a tag, or takes one away.
fn change_tag(text: &mut String, chance: &mut Random) {
    let tags = boundaries(text, '<');
    if tags.is_empty() {
        return;
    }
    let at = tags[chance.below(tags.len())];
    let tag = pick(
        &[
            "<c>",
            "</row>",
            "<row r=\"1\">",
            "<v>",
            "<![CDATA[",
            "<!--",
            "<!DOCTYPE x [<!ENTITY a \"b\">]>",
            "&a;",
            "<t>",
            "<is>",
        ],
        chance,
    );
    if chance.coin() {
        text.insert_str(at, tag);
    } else if let Some(end) = text[at..].find('>') {
        text.replace_range(at..=at + end, "");
    }
}

/// A range of whole letters somewhere in the text.
fn range(text: &str, chance: &mut Random) -> (usize, usize) {
    let floor = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = floor(chance.below(text.len() + 1));
    let end = floor((start + chance.below(200)).min(text.len()));
    (start, end.max(start))
}

fn cut(text: &str, chance: &mut Random) -> String {
    let (start, end) = range(text, chance);
    format!("{}{}", &text[..start], &text[end..])
}

fn doubled(text: &str, chance: &mut Random) -> String {
    let (start, end) = range(text, chance);
    format!("{}{}{}", &text[..end], text[start..end].repeat(1 + chance.below(20)), &text[end..])
}

/// Changes lengths, methods and offsets in the archive's own records.
fn change_archive(bytes: &mut [u8], chance: &mut Random) {
    let starts: Vec<usize> = bytes.windows(2).enumerate().filter(|(_, two)| *two == b"PK").map(|(at, _)| at).collect();
    for _ in 0..=chance.below(3) {
        let at = pick(&starts, chance) + 4 + chance.below(42);
        if let Some(byte) = bytes.get_mut(at) {
            *byte = pick(&[0, 1, 8, 9, 0x7f, 0xff], chance);
        }
    }
}
