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
            notices.push(check(
                Place::default(),
                "The list has no attributes.".to_owned(),
                "Add the words the panel uses.",
            ));
        }
        for (index, attribute) in self.attributes.iter().enumerate() {
            let place = Place::default().row(index as u32 + 1);
            notices.extend(attribute.warnings(&place));
            for earlier in &self.attributes[..index] {
                notices.extend(near_duplicate(earlier, attribute, &place));
            }
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
        let mut list = AttributeList { name: file_stem(file).to_owned(), version: 1, attributes: Vec::new() };
        let mut notices = Vec::new();
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(separator_of(text.lines().next().unwrap_or_default()))
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let mut columns: Option<Vec<Option<usize>>> = None;
        for record in reader.records() {
            let record = match record {
                Ok(record) => record,
                Err(error) => {
                    let row = error.position().map_or(0, csv::Position::line) as u32;
                    let what = format!("A line can't be read as cells and was left out ({error}).");
                    notices.push(Notice::new(
                        Severity::Repaired,
                        Place::file(file).row(row),
                        what,
                        "Look at its quotes.",
                    ));
                    continue;
                }
            };
            let row = record.position().map_or(0, csv::Position::line) as u32;
            let cells: Vec<&str> = record.iter().map(|cell| plain_cell(cell.trim())).collect();
            let place = Place::file(file).row(row);
            match &columns {
                None => columns = Some(understood_columns(&cells, &place, &mut notices)),
                Some(columns) => {
                    list.attributes.extend(read_row(&cells, columns, list.attributes.len(), &place, &mut notices))
                }
            }
        }
        if columns.is_none() {
            let what = "The file is empty.".to_owned();
            notices.push(refused(Place::file(file), what, "Give a header line and one line an attribute."));
        }
        AttributeReading { list, notices }
    }

    /// An invented list for the mango nectar of the demo study. No panel made it.
    pub fn mango_nectar_example() -> AttributeList {
        crate::plan::brief::example_attributes::mango_nectar()
    }
}

impl ListedAttribute {
    fn warnings(&self, place: &Place) -> Vec<Notice> {
        let mut notices = Vec::new();
        let name = &self.name;
        if name.trim().is_empty() {
            notices.push(check(place.clone(), "An attribute has no name.".to_owned(), "Name it or take it out."));
            return notices;
        }
        if let Some(word) =
            hedonic_word(name).or_else(|| hedonic_word(&self.low_end)).or_else(|| hedonic_word(&self.high_end))
        {
            notices.push(check(
                place.clone(),
                format!("“{name}” uses “{word}”, and hedonic words ask for liking, which a trained panel isn't asked."),
                "Name the character that is tasted instead.",
            ));
        }
        if self.definition.trim().is_empty() {
            notices.push(check(
                place.clone(),
                format!("“{name}” has no definition."),
                "Write what the panel agreed that the word means.",
            ));
        }
        if self.low_end.trim().is_empty() || self.high_end.trim().is_empty() {
            notices.push(check(
                place.clone(),
                format!("“{name}” lacks a word at an end of its line."),
                "Give both ends a word, such as “none” and “strong”.",
            ));
        }
        notices
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
    for (index, cell) in cells.iter().enumerate().filter(|(index, _)| !found.contains(&Some(*index))) {
        if !cell.is_empty() {
            notices.push(Notice::new(
                Severity::Understood,
                place.clone().column(index as u32 + 1, cell),
                "This column is not used.",
                "",
            ));
        }
    }
    found
}

fn read_row(
    cells: &[&str],
    columns: &[Option<usize>],
    so_far: usize,
    place: &Place,
    notices: &mut Vec<Notice>,
) -> Option<ListedAttribute> {
    columns[0]?;
    let text = |column: usize| columns[column].and_then(|index| cells.get(index)).copied().unwrap_or_default();
    if cells.iter().all(|cell| cell.is_empty()) {
        return None;
    }
    let at = |column: usize| match columns[column] {
        Some(index) => place.clone().column(index as u32 + 1, COLUMNS[column].heading),
        None => place.clone(),
    };
    if text(0).is_empty() {
        let what = "This row has no attribute name and was left out.".to_owned();
        notices.push(Notice::new(Severity::Repaired, at(0), what, "Give it a name, or delete the row."));
        return None;
    }
    let next = so_far as u32 + 1;
    let order = if text(5).is_empty() { Some(next) } else { text(5).parse().ok() };
    if order.is_none() {
        let what = format!("“{}” is no order of perception; {next}, the place in the list, is used.", text(5));
        notices.push(check(at(5), what, "Give a whole number from 1."));
    }
    let kind = kind_of(text(6));
    if kind.is_none() {
        let what = format!("“{}” is no kind of attribute; “analytic” is used.", text(6));
        notices.push(check(at(6), what, "Write “analytic” or “integrated”."));
    }
    Some(ListedAttribute {
        name: text(0).to_owned(),
        definition: text(1).to_owned(),
        low_end: text(2).to_owned(),
        high_end: text(3).to_owned(),
        reference: text(4).to_owned(),
        order: order.unwrap_or(next),
        kind: kind.unwrap_or_default(),
    })
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
    let (left, right) = (folded(&earlier.name), folded(&later.name));
    if left.is_empty() || right.is_empty() {
        return None;
    }
    let (shorter, longer) =
        if left.chars().count() <= right.chars().count() { (&left, &right) } else { (&right, &left) };
    let tolerated = if shorter.chars().count() <= 5 { 1 } else { 2 };
    let because = if left == right {
        "are the same word"
    } else if longer.split(' ').any(|word| word == shorter) {
        "hold the same word"
    } else if shorter.chars().count() >= 4 && longer.starts_with(shorter.as_str()) {
        "begin alike"
    } else if shorter.chars().count() >= 4 && edit_distance(&left, &right) <= tolerated {
        "are spelled nearly alike"
    } else {
        return None;
    };
    Some(check(
        place.clone(),
        format!("“{}” and “{}” {because}.", earlier.name, later.name),
        "Keep one, or say in the definitions how they differ.",
    ))
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
