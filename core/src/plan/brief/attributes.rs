//! The list of attributes a panel works with: names, definitions, end words, references, and what is doubtful about
//! them. It knows nothing of scores.

use super::attribute_checks::{edit_distance, folded, hedonic_word};
use crate::notice::{Notice, Place, Severity};
use crate::plan::sheet_table::{csv_text, plain_cell};
use crate::study::{Attribute, AttributeKind};
use serde::{Deserialize, Serialize};

/// A list of attributes under a version, so that a study can say which list its panel used.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct AttributeList {
    pub name: String,
    /// From 1; one more each time the list changes.
    pub version: u32,
    /// In the order of the ballot.
    pub attributes: Vec<ListedAttribute>,
}

/// One line of the ballot with all that a panel needs to agree on it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ListedAttribute {
    pub name: String,
    pub definition: String,
    /// Word at the left end of the line.
    pub low_end: String,
    /// Word at the right end of the line.
    pub high_end: String,
    /// What the panel tastes to learn the word, as a recipe.
    pub reference: String,
    /// When it is perceived, from 1; equal numbers are perceived together.
    pub order: u32,
    pub kind: AttributeKind,
}

/// A list as it was understood from a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AttributeReading {
    pub list: AttributeList,
    pub notices: Vec<Notice>,
}

impl AttributeList {
    /// What should be looked at before the list is used. Rows count from 1 in the order of the list.
    pub fn warnings(&self) -> Vec<Notice> {
        let mut notices = Vec::new();
        if self.attributes.is_empty() {
            let what = "The list has no attributes.".to_owned();
            notices.push(check(Place::default(), what, "Add the words the panel uses."));
        }
        for (index, attribute) in self.attributes.iter().enumerate() {
            let place = Place::default().row(index as u32 + 1);
            notices.extend(attribute.warnings(&place));
            notices.extend(self.attributes[..index].iter().filter_map(|one| near_duplicate(one, attribute, &place)));
        }
        notices
    }

    /// The list as the study keeps it.
    pub fn study_attributes(&self) -> Vec<Attribute> {
        let of_study = |attribute: &ListedAttribute| Attribute {
            name: attribute.name.clone(),
            definition: attribute.definition.clone(),
            low_end: attribute.low_end.clone(),
            high_end: attribute.high_end.clone(),
            kind: attribute.kind,
        };
        self.attributes.iter().map(of_study).collect()
    }

    /// The list as CSV that `read_csv` reads back as it was, but for its name and version.
    pub fn to_csv(&self) -> String {
        let columns: Vec<String> = COLUMNS.iter().map(|column| column.heading.to_owned()).collect();
        let row = |attribute: &ListedAttribute| {
            vec![
                attribute.name.clone(),
                attribute.definition.clone(),
                attribute.low_end.clone(),
                attribute.high_end.clone(),
                attribute.reference.clone(),
                attribute.order.to_string(),
                kind_in_words(attribute.kind).to_owned(),
            ]
        };
        csv_text(&columns, &self.attributes.iter().map(row).collect::<Vec<_>>())
    }

    /// Reads a list from CSV with a header line; `,` `;` and tab are told apart by the header. Only the name column
    /// has to be there. A row that can't be used is left out and listed; nothing else is changed.
    pub fn read_csv(text: &str, file: &str) -> AttributeReading {
        let text = text.trim_start_matches('\u{feff}');
        let mut builder = csv::ReaderBuilder::new();
        builder.delimiter(separator_of(text.lines().next().unwrap_or_default())).has_headers(false).flexible(true);
        let list = AttributeList { name: file_stem(file).to_owned(), version: 1, attributes: Vec::new() };
        let mut reading = AttributeReading { list, notices: Vec::new() };
        let mut columns: Option<Vec<Option<usize>>> = None;
        for record in builder.from_reader(text.as_bytes()).records() {
            match record {
                Ok(record) => reading.add_record(&record, file, &mut columns),
                Err(error) => reading.notices.push(unreadable_line(&error, file)),
            }
        }
        if columns.is_none() {
            let what = "The file is empty.".to_owned();
            let hint = "Give a header line and one line an attribute.";
            reading.notices.push(refused(Place::file(file), what, hint));
        }
        reading
    }
}

impl AttributeReading {
    /// The first record is the header; each other one is an attribute.
    fn add_record(&mut self, record: &csv::StringRecord, file: &str, columns: &mut Option<Vec<Option<usize>>>) {
        let row = record.position().map_or(0, csv::Position::line) as u32;
        let cells: Vec<&str> = record.iter().map(|cell| plain_cell(cell.trim())).collect();
        let place = Place::file(file).row(row);
        match columns {
            None => *columns = Some(understood_columns(&cells, &place, &mut self.notices)),
            Some(columns) => {
                let row = Row { cells: &cells, columns, place: &place };
                let attribute = row.attribute(self.list.attributes.len(), &mut self.notices);
                self.list.attributes.extend(attribute);
            }
        }
    }
}

fn unreadable_line(error: &csv::Error, file: &str) -> Notice {
    let row = error.position().map_or(0, csv::Position::line) as u32;
    let what = format!("A line can't be read as cells and was left out ({error}).");
    Notice::new(Severity::Repaired, Place::file(file).row(row), what, "Look at its quotes.")
}

impl ListedAttribute {
    /// A word of liking in its name or at an end of its line.
    fn word_of_liking(&self) -> Option<&'static str> {
        [&self.name, &self.low_end, &self.high_end].into_iter().find_map(|text| hedonic_word(text))
    }

    fn warnings(&self, place: &Place) -> Vec<Notice> {
        let name = &self.name;
        if name.trim().is_empty() {
            return vec![check(place.clone(), "An attribute has no name.".to_owned(), "Name it or take it out.")];
        }
        let hedonic = self.word_of_liking().map(|word| {
            let what =
                format!("“{name}” uses “{word}”, and hedonic words ask for liking, which a trained panel isn't asked.");
            (what, "Name the character that is tasted instead.")
        });
        let undefined = self
            .definition
            .trim()
            .is_empty()
            .then(|| (format!("“{name}” has no definition."), "Write what the panel agreed that the word means."));
        let endless = (self.low_end.trim().is_empty() || self.high_end.trim().is_empty()).then(|| {
            let what = format!("“{name}” lacks a word at an end of its line.");
            (what, "Give both ends a word, such as “none” and “strong”.")
        });
        let found = [hedonic, undefined, endless].into_iter().flatten();
        found.map(|(what, hint)| check(place.clone(), what, hint)).collect()
    }
}

struct Column {
    heading: &'static str,
    other_headings: &'static [&'static str],
}

const COLUMNS: [Column; 7] = [
    Column { heading: "attribute", other_headings: &["name", "word", "descriptor"] },
    Column { heading: "definition", other_headings: &["meaning", "description"] },
    Column { heading: "low end", other_headings: &["low", "low_end", "left", "left end"] },
    Column { heading: "high end", other_headings: &["high", "high_end", "right", "right end"] },
    Column { heading: "reference", other_headings: &["reference standard", "recipe", "standard"] },
    Column { heading: "order", other_headings: &["order of perception", "position"] },
    Column { heading: "kind", other_headings: &["type"] },
];

fn understood_columns(cells: &[&str], place: &Place, notices: &mut Vec<Notice>) -> Vec<Option<usize>> {
    let folded_cells: Vec<String> = cells.iter().map(|cell| folded(cell)).collect();
    let column_of = |column: &Column| {
        folded_cells.iter().position(|cell| cell == column.heading || column.other_headings.contains(&cell.as_str()))
    };
    let found: Vec<Option<usize>> = COLUMNS.iter().map(column_of).collect();
    if found[0].is_none() {
        let what = "There is no column “attribute” in the header.".to_owned();
        notices.push(refused(place.clone(), what, "Name the column with the names of the attributes “attribute”."));
    }
    let unused = cells.iter().enumerate().filter(|(index, cell)| !found.contains(&Some(*index)) && !cell.is_empty());
    notices.extend(unused.map(|(index, cell)| {
        let place = place.clone().column(index as u32 + 1, cell);
        Notice::new(Severity::Understood, place, "This column is not used.", "")
    }));
    found
}

/// One row of the file under the columns of its header.
struct Row<'r> {
    cells: &'r [&'r str],
    columns: &'r [Option<usize>],
    place: &'r Place,
}

/// Places of the columns in `COLUMNS`.
const NAME: usize = 0;
const DEFINITION: usize = 1;
const LOW_END: usize = 2;
const HIGH_END: usize = 3;
const REFERENCE: usize = 4;
const ORDER: usize = 5;
const KIND: usize = 6;

impl Row<'_> {
    /// The attribute of the row; `None` where it has no name, which is told unless the row is blank.
    fn attribute(&self, so_far: usize, notices: &mut Vec<Notice>) -> Option<ListedAttribute> {
        self.columns[NAME]?;
        if self.cells.iter().all(|cell| cell.is_empty()) {
            return None;
        }
        if self.text(NAME).is_empty() {
            let what = "This row has no attribute name and was left out.".to_owned();
            let hint = "Give it a name, or delete the row.";
            notices.push(Notice::new(Severity::Repaired, self.at(NAME), what, hint));
            return None;
        }
        Some(ListedAttribute {
            name: self.text(NAME).to_owned(),
            definition: self.text(DEFINITION).to_owned(),
            low_end: self.text(LOW_END).to_owned(),
            high_end: self.text(HIGH_END).to_owned(),
            reference: self.text(REFERENCE).to_owned(),
            order: self.order(so_far as u32 + 1, notices),
            kind: self.kind(notices),
        })
    }

    /// The order of perception; `next`, the place in the list, where none is given.
    fn order(&self, next: u32, notices: &mut Vec<Notice>) -> u32 {
        let text = self.text(ORDER);
        if text.is_empty() {
            return next;
        }
        text.parse().unwrap_or_else(|_| {
            let what = format!("“{text}” is no order of perception; {next}, the place in the list, is used.");
            notices.push(check(self.at(ORDER), what, "Give a whole number from 1."));
            next
        })
    }

    fn kind(&self, notices: &mut Vec<Notice>) -> AttributeKind {
        let text = self.text(KIND);
        kind_of(text).unwrap_or_else(|| {
            let what = format!("“{text}” is no kind of attribute; “analytic” is used.");
            notices.push(check(self.at(KIND), what, "Write “analytic” or “integrated”."));
            AttributeKind::default()
        })
    }

    fn text(&self, column: usize) -> &str {
        self.columns[column].and_then(|index| self.cells.get(index)).copied().unwrap_or_default()
    }

    fn at(&self, column: usize) -> Place {
        match self.columns[column] {
            Some(index) => self.place.clone().column(index as u32 + 1, COLUMNS[column].heading),
            None => self.place.clone(),
        }
    }
}

fn kind_in_words(kind: AttributeKind) -> &'static str {
    match kind {
        AttributeKind::Analytic => "analytic",
        AttributeKind::Integrated => "integrated",
    }
}

fn kind_of(text: &str) -> Option<AttributeKind> {
    match folded(text).as_str() {
        "" | "analytic" => Some(AttributeKind::Analytic),
        "integrated" => Some(AttributeKind::Integrated),
        _ => None,
    }
}

fn near_duplicate(earlier: &ListedAttribute, later: &ListedAttribute, place: &Place) -> Option<Notice> {
    let because = likeness_of(&folded(&earlier.name), &folded(&later.name))?;
    Some(check(
        place.clone(),
        format!("“{}” and “{}” {because}.", earlier.name, later.name),
        "Keep one, or say in the definitions how they differ.",
    ))
}

/// In what two folded names are so alike that the panel may mix them up.
fn likeness_of(left: &str, right: &str) -> Option<&'static str> {
    if left.is_empty() || right.is_empty() {
        return None;
    }
    let (shorter, longer) = if left.chars().count() <= right.chars().count() { (left, right) } else { (right, left) };
    let letters = shorter.chars().count();
    let tolerated = if letters <= 5 { 1 } else { 2 };
    match () {
        () if left == right => Some("are the same word"),
        () if longer.split(' ').any(|word| word == shorter) => Some("hold the same word"),
        () if letters >= 4 && longer.starts_with(shorter) => Some("begin alike"),
        () if letters >= 4 && edit_distance(left, right) <= tolerated => Some("are spelled nearly alike"),
        () => None,
    }
}

fn separator_of(header: &str) -> u8 {
    let count = |separator: char| header.matches(separator).count();
    [(count('\t'), b'\t'), (count(';'), b';'), (count(','), b',')]
        .into_iter()
        .max_by_key(|(count, _)| *count)
        .map_or(b',', |(count, separator)| if count == 0 { b',' } else { separator })
}

fn file_stem(file: &str) -> &str {
    file.rsplit_once('.').map_or(file, |(stem, _)| stem)
}

fn check(place: Place, what: String, hint: &str) -> Notice {
    Notice::new(Severity::Check, place, what, hint)
}

fn refused(place: Place, what: String, hint: &str) -> Notice {
    Notice::new(Severity::Refused, place, what, hint)
}
