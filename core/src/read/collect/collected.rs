//! What comes out of the rows of a table before it is a study: names, scores, conflicts. It reads no cells.

use crate::read::columns::column_plan::ColumnPlan;
use crate::read::grid::spelling::folded;
use crate::read::join::names::NameTable;
use crate::read::options::ReadOptions;
use crate::study::{Origin, Scale, Study, StudyBuilder};

/// Everything that came out of the rows.
#[derive(Default)]
pub(in crate::read) struct Collected {
    pub builder: StudyBuilder,
    pub assessors: NameTable,
    pub samples: NameTable,
    pub attributes: NameTable,
    pub sessions: NameTable,
    /// Codes seen for each sample of the study, in order of appearance.
    pub codes: Vec<Vec<String>>,
    pub conflicts: Vec<Conflict>,
    pub conflict_count: usize,
    /// Cells that hold one of the codes for "no score" that the user named, by code.
    pub coded_missing: Vec<usize>,
    pub position_conflicts: usize,
    /// Rows of the table left out because a name is blank.
    pub nameless_rows: Vec<usize>,
    /// Whether sessions were counted as replicates.
    pub sessions_as_replicates: bool,
    /// Whether replicates were numbered by the order of rows.
    pub numbered: bool,
}

/// Two different scores for one cell of the study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::read) struct Conflict {
    pub first: Origin,
    pub first_score: f64,
    pub second: Origin,
    pub second_score: f64,
    pub serving: usize,
    pub attribute: usize,
}

impl Collected {
    /// Before the first row; `names` are the headers of all columns.
    pub fn for_columns(plan: &ColumnPlan, names: &[String], options: &ReadOptions) -> Self {
        let header = |column: Option<usize>| column.and_then(|column| names.get(column)).map(|name| folded(name));
        let pad_to = if options.pad_codes { 3 } else { 0 };
        Collected {
            builder: StudyBuilder::new(Scale::default()),
            assessors: NameTable::under(header(plan.assessor), 0),
            samples: NameTable::under(header(plan.sample), pad_to),
            attributes: NameTable::under(header(plan.attribute), 0),
            coded_missing: vec![0; options.missing_codes.len()],
            ..Collected::default()
        }
    }

    /// Gives every name in the study the spelling that the file uses most.
    pub fn name_all(&self, study: &mut Study) {
        for (index, name) in self.assessors.placed_names() {
            study.assessors[index].name = name;
        }
        for (index, name) in self.samples.placed_names() {
            study.samples[index].codes = self.codes.get(index).cloned().unwrap_or_default();
            study.samples[index].name = name;
        }
        for (index, name) in self.attributes.placed_names() {
            study.attributes[index].name = name;
        }
        for (index, name) in self.sessions.placed_names() {
            study.sessions[index] = name;
        }
    }
}
