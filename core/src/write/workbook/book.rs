//! Tables into sheets of an .xlsx file. It knows how cells are written, not what they say.

use crate::tables::{ColumnKind, ResultCell, ResultTable};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError};

/// The longest text that a cell holds (Office Open XML).
const LONGEST_TEXT: usize = 32_767;
/// Columns are as wide as their content between these, in characters.
const WIDTHS: (usize, usize) = (8, 60);

/// A workbook under way.
pub(in crate::write) struct Book {
    workbook: Workbook,
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
            head: Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Bottom),
            words: Format::new().set_align(FormatAlign::Top),
            missing: Format::new().set_italic().set_align(FormatAlign::Right),
        })
    }

    /// Adds a table as a sheet of its own: one header row that stays in view and repeats on paper.
    pub fn sheet(&mut self, name: &str, table: &ResultTable) -> Result<(), String> {
        let formats: Vec<Format> = table
            .columns
            .iter()
            .map(|column| Format::new().set_num_format(number_format(column.kind, table.scale_maximum)))
            .collect();
        let sheet = self.workbook.add_worksheet();
        write_sheet(sheet, name, table, &formats, [&self.head, &self.words, &self.missing]).map_err(in_words)
    }

    pub fn into_bytes(mut self) -> Result<Vec<u8>, String> {
        self.workbook.save_to_buffer().map_err(in_words)
    }
}

fn write_sheet(
    sheet: &mut Worksheet,
    name: &str,
    table: &ResultTable,
    formats: &[Format],
    [head, words, missing]: [&Format; 3],
) -> Result<(), XlsxError> {
    sheet.set_name(name)?;
    for (index, column) in table.columns.iter().enumerate() {
        sheet.write_string_with_format(0, index as u16, fitting(&column.full_head()), head)?;
        sheet.set_column_width(index as u16, width_of(table, index))?;
    }
    for (number, row) in table.rows.iter().enumerate() {
        let line = number as u32 + 1;
        for (index, cell) in row.iter().enumerate() {
            let column = index as u16;
            match cell {
                ResultCell::Number(value) => {
                    sheet.write_number_with_format(line, column, twelve_digits(*value), &formats[index])?
                }
                // Written as text whatever it starts with: it never becomes a formula.
                ResultCell::Words(text) if !text.is_empty() => {
                    sheet.write_string_with_format(line, column, fitting(text), words)?
                }
                ResultCell::Words(_) => sheet,
                ResultCell::NotDefined(because) => sheet.write_string_with_format(
                    line,
                    column,
                    fitting(&format!("not defined: {because}")),
                    missing,
                )?,
            };
        }
    }
    let below = table.rows.len() as u32 + 2;
    for (number, note) in table.notes.iter().enumerate() {
        sheet.write_string(below + number as u32, 0, fitting(note))?;
    }
    sheet.set_freeze_panes(1, 1)?;
    sheet.set_repeat_rows(0, 0)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// Formats of Office Open XML, in its English form as files hold it.
fn number_format(kind: ColumnKind, scale_maximum: f64) -> String {
    let score = if scale_maximum >= 50.0 { "0.0" } else { "0.00" };
    match kind {
        ColumnKind::Score => score.to_owned(),
        ColumnKind::Difference => format!("+{score};-{score};{score}"),
        ColumnKind::Probability => "[<0.001]\"< 0.001\";0.000".to_owned(),
        ColumnKind::Statistic(_) => "0.##".to_owned(),
        ColumnKind::Fixed(decimals) => format!("0.{}", "0".repeat(decimals)),
        ColumnKind::Count => "0".to_owned(),
        ColumnKind::OfHundred => "0%".to_owned(),
        ColumnKind::Words | ColumnKind::AsGiven => "General".to_owned(),
    }
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
fn width_of(table: &ResultTable, column: usize) -> f64 {
    let head = table.columns[column].full_head().split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
    let longest = |row: &Vec<ResultCell>| match &row[column] {
        ResultCell::Words(text) => text.lines().map(|line| line.chars().count()).max().unwrap_or(0),
        _ => WIDTHS.0,
    };
    let below = table.rows.iter().take(500).map(longest).max().unwrap_or(0);
    (head.max(below) + 2).clamp(WIDTHS.0, WIDTHS.1) as f64
}

fn in_words(error: XlsxError) -> String {
    format!("The workbook could not be written ({error}).")
}
