//! Sheets of an .xlsx workbook (ECMA-376, SpreadsheetML). It reads values, formats, merged cells and hidden sheets,
//! and leaves formulas, charts and everything else alone.

use super::archive::Archive;
use super::formats::{self, NumberFormat};
use super::grid::{Allowance, CellKind, Grid, GridCell, Merged, number_text};
use super::xml::{Broken, Piece, Pieces, Tag};
use super::{WorkbookFault, optional_part, part};
use std::collections::BTreeMap;

/// What the sheets of a workbook share.
#[derive(Default)]
struct Shared {
    strings: Vec<String>,
    /// Format of each cell style.
    formats: Vec<NumberFormat>,
    from_1904: bool,
}

/// A sheet as the workbook lists it.
struct Listed {
    name: String,
    relation: String,
    is_hidden: bool,
}

/// What a relation of the workbook points at.
struct Relation {
    kind: String,
    path: String,
}

const MOST_MERGED: usize = 100_000;

pub(super) fn sheets(archive: &mut Archive<'_>) -> Result<Vec<Grid>, WorkbookFault> {
    let roots = relations(archive, "_rels/.rels", "")?;
    let main = roots.into_values().find(|relation| relation.kind == "officeDocument").map(|relation| relation.path);
    let main = main.filter(|path| archive.has(path)).ok_or(WorkbookFault::NoWorkbook)?;
    let (folder, file) = main.rsplit_once('/').unwrap_or(("", &main));
    let relations = relations(archive, &format!("{folder}/_rels/{file}.rels"), folder)?;
    let workbook = part(archive, &main)?;
    let (listed, from_1904) = listed_sheets(&workbook)?;
    if listed.is_empty() {
        return Err(if workbook.contains("sheets") { WorkbookFault::Damaged } else { WorkbookFault::NoWorkbook });
    }
    let shared = shared(archive, &relations, from_1904)?;
    let mut allowance = Allowance::default();
    let mut grids = Vec::new();
    for sheet in listed {
        let Some(relation) = relations.get(&sheet.relation) else { return Err(WorkbookFault::Damaged) };
        let mut grid = Grid::named(&sheet.name, sheet.is_hidden);
        // Sheets of charts and macros hold no cells.
        if relation.kind == "worksheet" {
            let xml = part(archive, &relation.path)?;
            SheetReader { shared: &shared, grid: &mut grid, allowance: &mut allowance }.read(&xml)?;
        }
        grids.push(grid);
    }
    Ok(grids)
}

/// The relations of a part by their names, with paths from the root of the archive.
fn relations(
    archive: &mut Archive<'_>,
    part_name: &str,
    folder: &str,
) -> Result<BTreeMap<String, Relation>, WorkbookFault> {
    let xml = part(archive, part_name)?;
    let mut relations = BTreeMap::new();
    let mut pieces = Pieces::of(&xml);
    for piece in pieces.by_ref() {
        let Piece::Start(tag) = piece else { continue };
        if let (Some(id), Some(kind), Some(target)) = (tag.get("Id"), tag.get("Type"), tag.get("Target")) {
            let kind = kind.rsplit('/').next().unwrap_or_default().to_owned();
            relations.insert(id.into_owned(), Relation { kind, path: path_from(folder, &target) });
        }
    }
    pieces.finish()?;
    Ok(relations)
}

/// A path that stands in a folder of the archive, from the archive's root.
fn path_from(folder: &str, target: &str) -> String {
    let mut steps: Vec<&str> = if target.starts_with('/') { Vec::new() } else { folder.split('/').collect() };
    for step in target.split('/') {
        match step {
            "" | "." => {}
            ".." => {
                steps.pop();
            }
            step => steps.push(step),
        }
    }
    steps.retain(|step| !step.is_empty());
    steps.join("/")
}

fn listed_sheets(workbook: &str) -> Result<(Vec<Listed>, bool), Broken> {
    let mut listed = Vec::new();
    let mut from_1904 = false;
    let mut pieces = Pieces::of(workbook);
    for piece in pieces.by_ref() {
        match piece {
            Piece::Start(tag) if tag.name() == "workbookPr" => {
                from_1904 = tag.get("date1904").is_some_and(|value| matches!(value.as_ref(), "1" | "true"));
            }
            Piece::Start(tag) if tag.name() == "sheet" => listed.push(Listed {
                name: tag.get("name").unwrap_or_default().into_owned(),
                relation: tag.get("id").unwrap_or_default().into_owned(),
                is_hidden: tag.get("state").is_some_and(|state| state.as_ref() != "visible"),
            }),
            _ => {}
        }
    }
    pieces.finish()?;
    Ok((listed, from_1904))
}

fn shared(
    archive: &mut Archive<'_>,
    relations: &BTreeMap<String, Relation>,
    from_1904: bool,
) -> Result<Shared, WorkbookFault> {
    let path_of = |kind: &str| relations.values().find(|relation| relation.kind == kind).map(|one| one.path.clone());
    let mut shared = Shared { from_1904, ..Shared::default() };
    if let Some(path) = path_of("sharedStrings") {
        shared.strings = shared_strings(&optional_part(archive, &path)?.unwrap_or_default())?;
    }
    if let Some(path) = path_of("styles") {
        shared.formats = cell_formats(&optional_part(archive, &path)?.unwrap_or_default())?;
    }
    Ok(shared)
}

fn shared_strings(xml: &str) -> Result<Vec<String>, Broken> {
    let mut strings = Vec::new();
    let mut pieces = Pieces::of(xml);
    while let Some(piece) = pieces.next() {
        if matches!(piece, Piece::Start(tag) if tag.name() == "si") {
            strings.push(string_inside(&mut pieces, "si"));
        }
    }
    pieces.finish()?;
    Ok(strings)
}

/// The text of a string item: its runs one after the other, without hints on how it is spoken.
fn string_inside(pieces: &mut Pieces<'_>, name: &str) -> String {
    let mut text = String::new();
    while let Some(piece) = pieces.next() {
        match piece {
            Piece::Start(tag) if tag.name() == "t" => text.push_str(&pieces.text_inside("t")),
            Piece::Start(tag) if tag.name() == "rPh" => {
                pieces.text_inside("rPh");
            }
            Piece::End(tag) if tag.name() == name => break,
            _ => {}
        }
    }
    text
}

fn cell_formats(xml: &str) -> Result<Vec<NumberFormat>, Broken> {
    let mut own: BTreeMap<u32, NumberFormat> = BTreeMap::new();
    let mut formats = Vec::new();
    let mut in_cell_styles = false;
    let mut pieces = Pieces::of(xml);
    for piece in pieces.by_ref() {
        match piece {
            Piece::Start(tag) if tag.name() == "numFmt" => {
                if let (Some(number), Some(code)) = (tag.number("numFmtId"), tag.get("formatCode")) {
                    own.insert(number, formats::by_code(&code));
                }
            }
            Piece::Start(tag) if tag.name() == "cellXfs" => in_cell_styles = true,
            Piece::End(tag) if tag.name() == "cellXfs" => in_cell_styles = false,
            Piece::Start(tag) if tag.name() == "xf" && in_cell_styles => {
                let number = tag.number("numFmtId").unwrap_or(0);
                formats.push(own.get(&number).copied().unwrap_or_else(|| formats::built_in(number)));
            }
            _ => {}
        }
    }
    pieces.finish()?;
    Ok(formats)
}

struct SheetReader<'s> {
    shared: &'s Shared,
    grid: &'s mut Grid,
    allowance: &'s mut Allowance,
}

impl SheetReader<'_> {
    fn read(&mut self, xml: &str) -> Result<(), WorkbookFault> {
        let mut pieces = Pieces::of(xml);
        let (mut next_row, mut row, mut next_column) = (0, 0, 0);
        let mut ended = false;
        while let Some(piece) = pieces.next() {
            match piece {
                Piece::Start(tag) if tag.name() == "row" => {
                    row = tag.number::<u32>("r").and_then(|row| row.checked_sub(1)).unwrap_or(next_row);
                    (next_row, next_column) = (row.saturating_add(1), 0);
                }
                Piece::Start(tag) if tag.name() == "c" => {
                    let place = tag.get("r").and_then(|name| place_of(&name));
                    let (cell_row, column) = place.unwrap_or((row, next_column));
                    next_column = column.saturating_add(1);
                    self.cell(&tag, &mut pieces, cell_row, column)?;
                }
                Piece::Start(tag) if tag.name() == "mergeCell" && self.grid.merged.len() < MOST_MERGED => {
                    self.grid.merged.extend(tag.get("ref").and_then(|range| merged_of(&range)));
                }
                Piece::End(tag) if tag.name() == "worksheet" => ended = true,
                _ => {}
            }
        }
        pieces.finish()?;
        if ended { Ok(()) } else { Err(WorkbookFault::Damaged) }
    }

    fn cell(&mut self, tag: &Tag<'_>, pieces: &mut Pieces<'_>, row: u32, column: u32) -> Result<(), WorkbookFault> {
        let (mut stored, mut inline, mut is_formula) = (None, None, false);
        while let Some(piece) = pieces.next() {
            match piece {
                Piece::Start(inner) if inner.name() == "v" => stored = Some(pieces.text_inside("v")),
                Piece::Start(inner) if inner.name() == "is" => inline = Some(string_inside(pieces, "is")),
                Piece::Start(inner) if inner.name() == "f" => {
                    is_formula = true;
                    pieces.text_inside("f");
                }
                Piece::End(tag) if tag.name() == "c" => break,
                _ => {}
            }
        }
        let kind = tag.get("t");
        let style = tag.number::<usize>("s").and_then(|style| self.shared.formats.get(style)).copied();
        let value = stored.as_deref().filter(|value| !value.is_empty());
        let (text, kind) = match (kind.as_deref(), value) {
            (Some("inlineStr"), _) => (inline.unwrap_or_default(), CellKind::Text),
            (_, None) if is_formula => (String::new(), CellKind::Unsaved),
            (_, None) => return Ok(()),
            (Some("s"), Some(index)) => {
                let string = index.trim().parse().ok().and_then(|index: usize| self.shared.strings.get(index));
                (string.ok_or(WorkbookFault::Damaged)?.clone(), CellKind::Text)
            }
            (Some("str"), Some(text)) => (text.to_owned(), CellKind::Text),
            (Some("e"), Some(error)) => (error.to_owned(), CellKind::Error),
            (Some("d"), Some(date)) => (date.replacen('T', " ", 1), CellKind::Date),
            (Some("b"), Some(truth)) => {
                (if truth.trim() == "1" { "TRUE" } else { "FALSE" }.to_owned(), CellKind::Truth)
            }
            (_, Some(number)) => number_cell(number, style.unwrap_or_default(), self.shared.from_1904),
        };
        Ok(self.grid.put(GridCell { row, column, text, kind, is_formula }, self.allowance)?)
    }
}

/// A number as its format shows it: a date, a code with its zeros, or the number itself.
fn number_cell(stored: &str, format: NumberFormat, from_1904: bool) -> (String, CellKind) {
    let date = stored.trim().parse().ok().filter(|_| format.is_date);
    if let Some(date) = date.and_then(|serial| formats::date_text(serial, from_1904)) {
        return (date, CellKind::Date);
    }
    let text = number_text(stored);
    let is_whole = text.bytes().all(|byte| byte.is_ascii_digit());
    if is_whole && text.len() < format.digits {
        return (format!("{text:0>width$}", width = format.digits), CellKind::Number);
    }
    (text, CellKind::Number)
}

/// Row and column of a cell's name, from 0: "B3" is (2, 1).
fn place_of(name: &str) -> Option<(u32, u32)> {
    let name = name.trim();
    let letters = name.bytes().take_while(u8::is_ascii_alphabetic).count();
    if letters == 0 || letters > 3 {
        return None;
    }
    let value = |byte: u8| u32::from(byte.to_ascii_uppercase() - b'A') + 1;
    let column = name.bytes().take(letters).fold(0, |column, byte| column * 26 + value(byte));
    let row: u32 = name[letters..].parse().ok()?;
    Some((row.checked_sub(1)?, column - 1))
}

fn merged_of(range: &str) -> Option<Merged> {
    let (first, last) = range.split_once(':')?;
    let ((first_row, first_column), (last_row, last_column)) = (place_of(first)?, place_of(last)?);
    let is_range = first_row <= last_row && first_column <= last_column;
    is_range.then_some(Merged { first_row, first_column, last_row, last_column })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_found_by_their_names() {
        assert_eq!(place_of("A1"), Some((0, 0)));
        assert_eq!(place_of("AB12"), Some((11, 27)));
        assert_eq!(place_of("XFD1048576"), Some((1_048_575, 16_383)));
        for name in ["", "1", "A", "A0", "ABCD1", "A-1", "A99999999999"] {
            assert_eq!(place_of(name), None, "{name}");
        }
        let merged = Merged { first_row: 0, first_column: 1, last_row: 0, last_column: 3 };
        assert_eq!(merged_of("B1:D1"), Some(merged));
        assert_eq!(merged_of("D1:B1"), None);
    }

    #[test]
    fn paths_are_followed_from_their_folder() {
        assert_eq!(path_from("xl", "worksheets/sheet1.xml"), "xl/worksheets/sheet1.xml");
        assert_eq!(path_from("xl", "/xl/worksheets/sheet1.xml"), "xl/worksheets/sheet1.xml");
        assert_eq!(path_from("xl", "../docs/./a.xml"), "docs/a.xml");
        assert_eq!(path_from("", "../../a.xml"), "a.xml");
    }

    #[test]
    fn a_code_shown_with_zeros_keeps_them() {
        let zeros = NumberFormat { is_date: false, digits: 3 };
        assert_eq!(number_cell("12", zeros, false), ("012".to_owned(), CellKind::Number));
        assert_eq!(number_cell("4.5", zeros, false), ("4.5".to_owned(), CellKind::Number));
    }
}
