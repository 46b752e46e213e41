//! Tables into sheets of an .xlsx file. It knows how cells are written, not what they say.

use crate::table::{self, Cell, Column, Role, Table, Value};
use rust_xlsxwriter::{Color, DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError};
use std::borrow::Cow;

/// The longest text that a cell holds (Office Open XML).
const LONGEST_TEXT: usize = 32_767;
/// Columns are as wide as their content between these, in characters.
const WIDTHS: (usize, usize) = (8, 60);

/// A workbook under way.
pub(in crate::write) struct Book {
    workbook: Workbook,
    /// Names that were asked for so far.
    names: Vec<String>,
    head: Format,
    words: Format,
    missing: Format,
}

impl Book {
    pub fn new(title: &str) -> Result<Self, String> {
        let mut workbook = Workbook::new();
        // A fixed date: the same study gives the same bytes on any day.
        let created = ExcelDateTime::from_ymd(2000, 1, 1).map_err(in_words)?;
        let program = format!("Likeness {}", env!("CARGO_PKG_VERSION"));
        let properties = DocProperties::new().set_title(title).set_author(program).set_creation_datetime(&created);
        workbook.set_properties(&properties);
        Ok(Book {
            workbook,
            names: Vec::new(),
            head: Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Bottom),
            words: Format::new().set_align(FormatAlign::Top),
            missing: Format::new().set_italic().set_align(FormatAlign::Right),
        })
    }

    /// Adds a table as a sheet of its own: one header row that stays in view and repeats on paper, notes below the rows.
    pub fn sheet(&mut self, name: &str, table: &Table) -> Result<(), String> {
        let table = with_words_beside(table);
        let formats: Vec<Format> = table.columns.iter().map(|column| format_of(column, table.scale_maximum)).collect();
        let sheet = self.workbook.add_worksheet();
        let look = Look { head: &self.head, words: &self.words, missing: &self.missing };
        sheet.set_name(own_name(name, &self.names)).map_err(in_words)?;
        self.names.push(name.to_owned());
        write_heads(sheet, &table, look.head).map_err(in_words)?;
        write_rows(sheet, &table, &formats, &look).map_err(in_words)?;
        write_notes(sheet, &table).map_err(in_words)?;
        set_for_paper(sheet).map_err(in_words)
    }

    pub fn into_bytes(mut self) -> Result<Vec<u8>, String> {
        self.workbook.save_to_buffer().map_err(in_words)
    }
}

/// How cells look.
struct Look<'b> {
    head: &'b Format,
    words: &'b Format,
    missing: &'b Format,
}

/// The same table with a column of words after each column that says more than its numbers or words do.
fn with_words_beside(table: &Table) -> Cow<'_, Table> {
    let says_more = |cell: &Cell| !cell.detail.is_empty() || matches!(cell.value, Value::Said { .. });
    let wanted = |place: &usize| table.rows.iter().any(|row| row.cells.get(*place).is_some_and(says_more));
    let places: Vec<usize> = (0..table.columns.len()).filter(wanted).collect();
    if places.is_empty() {
        return Cow::Borrowed(table);
    }
    let mut wider = table.clone();
    // From the last one on, so that places before it hold.
    for place in places.into_iter().rev() {
        let head = format!("{}: in words", table.columns[place].full_head());
        wider.columns.insert(place + 1, Column::of(head, table::Format::Words, ""));
        for row in &mut wider.rows {
            let words = row.cells.get(place).map(words_beside).unwrap_or_default();
            row.cells.insert(place + 1, Cell::words(words));
        }
    }
    Cow::Owned(wider)
}

/// "3 of 8 (9 to 76 %)", or the detail alone.
fn words_beside(cell: &Cell) -> String {
    match (&cell.value, cell.detail.as_str()) {
        (Value::Said { shown, .. }, "") => shown.clone(),
        (Value::Said { shown, .. }, detail) => format!("{shown} ({detail})"),
        (_, detail) => detail.to_owned(),
    }
}

fn write_heads(sheet: &mut Worksheet, table: &Table, head: &Format) -> Result<(), XlsxError> {
    for (index, column) in table.columns.iter().enumerate() {
        sheet.write_string_with_format(0, index as u16, fitting(&column.full_head()), head)?;
        sheet.set_column_width(index as u16, width_of(table, index))?;
    }
    Ok(())
}

fn write_rows(sheet: &mut Worksheet, table: &Table, formats: &[Format], look: &Look<'_>) -> Result<(), XlsxError> {
    for (number, row) in table.rows.iter().enumerate() {
        for (index, (cell, format)) in row.cells.iter().zip(formats).enumerate() {
            write_cell(sheet, (number as u32 + 1, index as u16), cell, format, look)?;
        }
    }
    Ok(())
}

fn write_cell(
    sheet: &mut Worksheet,
    (line, column): (u32, u16),
    cell: &Cell,
    format: &Format,
    look: &Look<'_>,
) -> Result<(), XlsxError> {
    let (text, look) = match &cell.value {
        Value::Number(value) | Value::Said { value, .. } => {
            return sheet.write_number_with_format(line, column, twelve_digits(*value), format).map(|_| ());
        }
        Value::Words(text) => (text.clone(), look.words),
        Value::Verdict(verdict) => (verdict.in_words().to_owned(), look.words),
        Value::NotDefined(because) => (format!("not defined: {because}"), look.missing),
    };
    if text.is_empty() {
        return Ok(());
    }
    // Written as text whatever it starts with: it never becomes a formula.
    sheet.write_string_with_format(line, column, fitting(&text), look).map(|_| ())
}

fn write_notes(sheet: &mut Worksheet, table: &Table) -> Result<(), XlsxError> {
    let below = table.rows.len() as u32 + 2;
    for (number, note) in table.notes.iter().enumerate() {
        sheet.write_string(below + number as u32, 0, fitting(note))?;
    }
    Ok(())
}

fn set_for_paper(sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.set_freeze_panes(1, 1)?;
    sheet.set_repeat_rows(0, 0)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// What must not be mistaken for a result is set apart.
fn format_of(column: &Column, scale_maximum: f64) -> Format {
    let format = Format::new().set_num_format(number_format(column.format, scale_maximum));
    match column.role {
        Role::Warning => format.set_italic().set_font_color(Color::Gray),
        Role::Name | Role::Result => format,
    }
}

/// Formats of Office Open XML, in its English form as files hold it.
fn number_format(format: table::Format, scale_maximum: f64) -> String {
    let score = if scale_maximum >= 50.0 { "0.0" } else { "0.00" };
    let decimals = |count: usize| if count == 0 { "0".to_owned() } else { format!("0.{}", "0".repeat(count)) };
    match format {
        table::Format::Score => score.to_owned(),
        table::Format::Difference => format!("+{score};-{score};{score}"),
        table::Format::Probability => "[<0.001]\"< 0.001\";0.000".to_owned(),
        table::Format::Statistic(_) => "0.##".to_owned(),
        table::Format::Fixed(count) => decimals(count),
        table::Format::Count => "0".to_owned(),
        table::Format::OfHundred => "0%".to_owned(),
        table::Format::Percent(count) => format!("{}%", decimals(count)),
        table::Format::Words | table::Format::Typed | table::Format::AsGiven => "General".to_owned(),
    }
}

/// The name of a sheet, with a number where several ask for it; 31 characters at most (Office Open XML).
fn own_name(name: &str, taken: &[String]) -> String {
    let before = taken.iter().filter(|other| *other == name).count();
    let name: String = name.chars().take(28).collect();
    if before == 0 { name } else { format!("{name} {}", before + 1) }
}

/// Twelve digits: more than any panel can tell, few enough that every machine writes the same ones.
fn twelve_digits(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

fn fitting(text: &str) -> String {
    if text.chars().count() <= LONGEST_TEXT {
        return text.to_owned();
    }
    text.chars().take(LONGEST_TEXT - 1).chain(Some('…')).collect()
}

/// Width in characters: of the longest word in the head and of what stands below.
fn width_of(table: &Table, column: usize) -> f64 {
    let head = table.columns[column].full_head().split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
    let longest = |cell: &Cell| match &cell.value {
        Value::Words(text) => text.lines().map(|line| line.chars().count()).max().unwrap_or(0),
        _ => WIDTHS.0,
    };
    let cells = table.rows.iter().take(500).filter_map(|row| row.cells.get(column));
    let below = cells.map(longest).max().unwrap_or(0);
    (head.max(below) + 2).clamp(WIDTHS.0, WIDTHS.1) as f64
}

fn in_words(error: XlsxError) -> String {
    format!("The workbook could not be written ({error}).")
}
