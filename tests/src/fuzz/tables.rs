//! Text tables, mutated as tables: cells, rows, columns, separators, marks and encodings. It knows nothing of reading.

use super::{nasty, pick, seeds};
use likeness_core::numeric::random::Random;

/// Rows of cells.
pub(super) type Grid = Vec<Vec<String>>;

pub(super) fn text_table(chance: &mut Random) -> Vec<u8> {
    let mut grid = pick(seeds::tables(), chance);
    mutate(&mut grid, chance);
    let text = written(&grid, chance);
    encoded(&text, chance)
}

/// Changes a table in a few places, or not at all.
pub(super) fn mutate(grid: &mut Grid, chance: &mut Random) {
    for _ in 0..chance.below(6) {
        if grid.is_empty() {
            return;
        }
        let row = chance.below(grid.len());
        match chance.below(12) {
            0..=4 => change_cell(grid, row, chance),
            5 => _ = grid.remove(row),
            6 => grid.insert(row, grid[chance.below(grid.len())].clone()),
            7 => {
                let other = chance.below(grid.len());
                grid.swap(row, other);
            }
            8 => grid[row].truncate(chance.below(6)),
            9 => change_column(grid, chance),
            10 => grid.insert(row, vec![String::new(); chance.below(5)]),
            _ => {
                let width = 1 + chance.below(4);
                let cells = (0..width).map(|_| nasty(chance)).collect();
                grid.insert(row, cells);
            }
        }
    }
}

fn change_cell(grid: &mut Grid, row: usize, chance: &mut Random) {
    // Half of the changes meet the header, where they matter most.
    let row = if chance.coin() { row } else { 0 };
    if grid[row].is_empty() {
        return;
    }
    let column = chance.below(grid[row].len());
    let other = grid[chance.below(grid.len())].clone();
    grid[row][column] = match chance.below(4) {
        0 if !other.is_empty() => pick(&other, chance),
        1 => format!("{}{}", grid[row][column], nasty(chance)),
        2 => format!(" {} ", grid[row][column]),
        _ => nasty(chance),
    };
}

fn change_column(grid: &mut Grid, chance: &mut Random) {
    let width = grid[0].len();
    if width == 0 {
        return;
    }
    let (column, other) = (chance.below(width), chance.below(width));
    let change = chance.below(4);
    let filling = nasty(chance);
    for row in grid.iter_mut().filter(|row| row.len() > column.max(other)) {
        match change {
            0 => _ = row.remove(column),
            1 => row.swap(column, other),
            2 => row.insert(column, row[other].clone()),
            _ => row[column].clone_from(&filling),
        }
    }
}

fn written(grid: &Grid, chance: &mut Random) -> String {
    let separator = pick(&[",", ",", ",", ";", "\t", "|"], chance);
    let line_end = pick(&["\n", "\n", "\r\n", "\r"], chance);
    let comma = separator != "," && chance.coin();
    let quotes_all = chance.below(6) == 0;
    let cell = |text: &String| {
        let is_number = text.parse::<f64>().is_ok();
        let text = if comma && is_number { text.replace('.', ",") } else { text.clone() };
        let needs = text.contains([',', ';', '\t', '|', '"', '\n', '\r']) && !(comma && is_number);
        if needs || quotes_all { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
    };
    grid.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>().join(separator) + line_end).collect()
}

fn encoded(text: &str, chance: &mut Random) -> Vec<u8> {
    match chance.below(10) {
        0 => [&[0xff, 0xfe][..], &text.encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<_>>()].concat(),
        1 => [&[0xfe, 0xff][..], &text.encode_utf16().flat_map(u16::to_be_bytes).collect::<Vec<_>>()].concat(),
        2 => [&[0xef, 0xbb, 0xbf][..], text.as_bytes()].concat(),
        // One byte a letter, as old programs write; what has none becomes a question mark.
        3 => text.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap_or(b'?')).collect(),
        _ => text.as_bytes().to_vec(),
    }
}
