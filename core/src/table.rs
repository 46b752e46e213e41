//! A table of results as a value: page, report, workbook, CSV, clipboard and text are written from the same one.
//! A cell holds the number as computed; how it is shown follows from its column. It knows no method and no format of files.

use crate::defined::Defined;
use crate::stats::Verdict;
use crate::text::numbers::{fixed, p_value, score, signed_score, statistic, typed};

/// A table with a name for its file, a caption, and notes that belong under it.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Stem of the file name when it is saved, and hook for tests.
    pub name: &'static str,
    /// Name of its sheet in a workbook, where that is not made from `name`.
    sheet: &'static str,
    pub caption: String,
    /// The first column names the rows.
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    pub notes: Vec<String>,
    /// High end of the scale, in its unit: decides how many decimals a score shows.
    pub scale_maximum: f64,
}

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub head: String,
    /// What stands over several neighbouring columns; empty where nothing does.
    pub group: String,
    /// Unit of its numbers, such as "mm"; empty where they have none or the head says it.
    pub unit: String,
    pub format: Format,
    pub role: Role,
    /// The name of its numbers in the results as JSON; empty where they have none.
    pub field: &'static str,
}

/// What a column is to the reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Names the row.
    Name,
    Result,
    /// Must not be mistaken for a result: shown as teaching only.
    Warning,
}

/// What a column holds, and so how it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    Words,
    /// A score, mean or standard error, in units of the scale.
    Score,
    /// The same with its sign.
    Difference,
    Probability,
    /// Whole where whole, else this many decimals.
    Statistic(usize),
    /// Always this many decimals.
    Fixed(usize),
    Count,
    /// A share, as a count of a hundred.
    OfHundred,
    /// A share, as a percentage with this many decimals.
    Percent(usize),
    /// As a person would type it: three decimals at most, no zeros at the end.
    Typed,
    /// All digits that the number has.
    AsGiven,
}

/// One row: a cell for each column, and what it stands for, so that a page can select it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    pub cells: Vec<Cell>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    pub value: Value,
    /// Said small beside or below the value; empty where there is nothing to add.
    pub detail: String,
    /// The sample or assessor that the cell belongs to and selects; empty where it belongs to all.
    pub selects: String,
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Number(f64),
    /// A number that its column's format does not show as it should be read, such as "3 of 8".
    Said {
        value: f64,
        shown: String,
    },
    Words(String),
    Verdict(Verdict),
    /// No number, and why.
    NotDefined(String),
}

impl Table {
    /// A table without rows and notes.
    pub fn new(name: &'static str, caption: impl Into<String>, columns: Vec<Column>, scale_maximum: f64) -> Self {
        Table { name, sheet: "", caption: caption.into(), columns, rows: Vec::new(), notes: Vec::new(), scale_maximum }
    }

    /// The same table with these rows, one cell a column each.
    pub fn with_rows(mut self, rows: impl IntoIterator<Item = Vec<Cell>>) -> Self {
        self.rows = rows.into_iter().map(|cells| Row { cells }).collect();
        self
    }

    /// The same table with a note under it; an empty one is left out.
    pub fn with_note(mut self, note: impl Into<String>) -> Self {
        let note = note.into();
        self.notes.extend(Some(note).filter(|note| !note.is_empty()));
        self
    }

    /// The name of its sheet in a workbook: what is given, else the table's own with a capital and blanks.
    pub fn sheet(&self) -> String {
        if !self.sheet.is_empty() {
            return self.sheet.to_owned();
        }
        let words = self.name.replace('-', " ");
        let mut letters = words.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    }

    /// The same table under a name of its own in a workbook.
    pub fn in_sheet(self, sheet: &'static str) -> Self {
        Table { sheet, ..self }
    }

    /// The place of the column whose numbers have this name in the results as JSON.
    pub fn place_of(&self, field: &str) -> Option<usize> {
        self.columns.iter().position(|column| column.field == field)
    }

    /// The cell of a row in that column.
    pub fn cell(&self, row: usize, field: &str) -> Option<&Cell> {
        self.rows.get(row)?.cells.get(self.place_of(field)?)
    }

    /// Whether any cell of a column has something small beside it.
    pub fn has_details(&self, column: usize) -> bool {
        self.rows.iter().filter_map(|row| row.cells.get(column)).any(|cell| !cell.detail.is_empty())
    }

    /// A cell as it is printed; a dash where nothing is defined, and empty outside the table.
    pub fn shown(&self, row: usize, column: usize) -> String {
        let cell = self.rows.get(row).and_then(|row| row.cells.get(column));
        match (cell, self.columns.get(column)) {
            (Some(cell), Some(column)) => cell.shown(column.format, self.scale_maximum),
            _ => String::new(),
        }
    }

    /// Why cells of this table are not defined, each reason once, in the order of the table.
    pub fn reasons(&self) -> Vec<&str> {
        let mut reasons: Vec<&str> = Vec::new();
        for cell in self.rows.iter().flat_map(|row| &row.cells) {
            if let Value::NotDefined(because) = &cell.value
                && !because.is_empty()
                && !reasons.contains(&because.as_str())
            {
                reasons.push(because);
            }
        }
        reasons
    }
}

impl Row {
    /// What the row is called: the words of its first cell.
    pub fn name(&self) -> &str {
        match self.cells.first().map(|cell| &cell.value) {
            Some(Value::Words(words)) => words,
            _ => "",
        }
    }
}

impl Format {
    /// Whether it shows numbers, which stand to the right and have a true minus sign.
    pub fn is_number(self) -> bool {
        self != Format::Words
    }
}

impl Column {
    /// The column that names the rows.
    pub fn name(head: impl Into<String>) -> Self {
        Column { role: Role::Name, ..Column::of(head, Format::Words, "") }
    }

    /// A column of results under no group.
    pub fn of(head: impl Into<String>, format: Format, field: &'static str) -> Self {
        Column { head: head.into(), group: String::new(), unit: String::new(), format, role: Role::Result, field }
    }

    /// The same column under a group.
    pub fn under(self, group: impl Into<String>) -> Self {
        Column { group: group.into(), ..self }
    }

    /// The same column with the unit of its numbers.
    pub fn in_unit(self, unit: impl Into<String>) -> Self {
        Column { unit: unit.into(), ..self }
    }

    /// The same column, marked as one that must not be mistaken for a result.
    pub fn as_warning(self) -> Self {
        Column { role: Role::Warning, ..self }
    }

    /// Head with its unit.
    pub fn head_with_unit(&self) -> String {
        if self.unit.is_empty() { self.head.clone() } else { format!("{}, {}", self.head, self.unit) }
    }

    /// Group, head and unit in one line, for formats with one header row.
    pub fn full_head(&self) -> String {
        format!("{} {}", self.group, self.head_with_unit()).trim().to_owned()
    }
}

impl Cell {
    pub fn number(value: f64) -> Self {
        Cell::from(Value::Number(value))
    }

    /// A number that is read in its own words.
    pub fn said(value: f64, shown: impl Into<String>) -> Self {
        Cell::from(Value::Said { value, shown: shown.into() })
    }

    pub fn words(text: impl Into<String>) -> Self {
        Cell::from(Value::Words(text.into()))
    }

    pub fn verdict(verdict: Verdict) -> Self {
        Cell::from(Value::Verdict(verdict))
    }

    pub fn not_defined(because: impl Into<String>) -> Self {
        Cell::from(Value::NotDefined(because.into()))
    }

    /// A number of a quantity that may not be defined.
    pub fn of<T>(quantity: &Defined<T>, number: impl FnOnce(&T) -> f64) -> Self {
        Cell::of_cell(quantity, |value| Cell::number(number(value)))
    }

    /// A cell of a quantity that may not be defined.
    pub fn of_cell<T>(quantity: &Defined<T>, cell: impl FnOnce(&T) -> Cell) -> Self {
        match quantity {
            Ok(value) => cell(value),
            Err(reason) => Cell::not_defined(reason.because.clone()),
        }
    }

    /// The same cell with something small beside it.
    pub fn with_detail(self, detail: impl Into<String>) -> Self {
        Cell { detail: detail.into(), ..self }
    }

    /// The same cell, belonging to a sample or assessor.
    pub fn selecting(self, name: impl Into<String>) -> Self {
        Cell { selects: name.into(), ..self }
    }

    /// Whether it holds words rather than a number.
    pub fn is_words(&self) -> bool {
        matches!(self.value, Value::Verdict(_) | Value::Words(_))
    }

    /// The number as computed, where there is one.
    pub fn as_number(&self) -> Option<f64> {
        match self.value {
            Value::Number(value) | Value::Said { value, .. } => Some(value),
            _ => None,
        }
    }

    /// As it is read, without its detail.
    pub fn shown(&self, format: Format, scale_maximum: f64) -> String {
        match &self.value {
            Value::Number(value) => shown_number(*value, format, scale_maximum),
            Value::Said { shown, .. } => shown.clone(),
            Value::Words(words) => words.clone(),
            Value::Verdict(verdict) => verdict.in_words().to_owned(),
            Value::NotDefined(_) => "–".to_owned(),
        }
    }
}

impl From<Value> for Cell {
    fn from(value: Value) -> Self {
        Cell { value, detail: String::new(), selects: String::new() }
    }
}

fn shown_number(value: f64, format: Format, scale_maximum: f64) -> String {
    match format {
        Format::Score => score(value, scale_maximum),
        Format::Difference => signed_score(value, scale_maximum),
        Format::Probability => p_value(value),
        Format::Statistic(decimals) => statistic(value, decimals),
        Format::Fixed(decimals) => fixed(value, decimals),
        Format::OfHundred => format!("{} of 100", statistic(100.0 * value, 0)),
        Format::Percent(decimals) => format!("{} %", fixed(100.0 * value, decimals)),
        Format::Typed => typed(value),
        Format::AsGiven => value.to_string(),
        Format::Count | Format::Words => statistic(value, 3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::defined::NotDefined;

    #[test]
    fn a_cell_is_shown_by_its_column_and_a_reason_is_told_once() {
        let none: Defined<f64> = Err(NotDefined::because("one replicate"));
        let columns = vec![
            Column::name("attribute"),
            Column::of("difference", Format::Difference, "difference").in_unit("mm"),
            Column::of("p", Format::Probability, "p").under("samples"),
        ];
        let row = |name: &str| vec![Cell::words(name), Cell::number(12.34), Cell::of(&none, |value| *value)];
        let table = Table::new("made-up", "Made up", columns, 100.0).with_rows([row("green"), row("ripe")]);
        assert_eq!(table.shown(0, 1), "+12.3");
        assert_eq!(table.shown(1, 2), "–");
        assert_eq!(table.reasons(), ["one replicate"]);
        assert_eq!(table.rows[1].name(), "ripe");
        assert_eq!(table.columns[1].full_head(), "difference, mm");
        assert_eq!(table.columns[2].full_head(), "samples p");
    }
}
