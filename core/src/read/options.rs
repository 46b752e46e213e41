//! What a caller may state beforehand, what reading asks back, and what it hands over.
//! Plain data: it knows nothing of bytes, separators or how a table is searched.

use crate::notice::{Notice, Place};
use crate::study::Study;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What one column of a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ColumnRole {
    Assessor,
    /// The name of the sample, or its code where the file has no name.
    Sample,
    /// The code under which the sample was served, beside a column with its name.
    Code,
    Replicate,
    Session,
    /// Serving position, from 1.
    Position,
    /// What the cup was called to the assessor.
    Label,
    /// Long tables: the name of the attribute.
    Attribute,
    /// Long tables: the score.
    Score,
    /// Wide tables: the scores of the attribute that the header names.
    AttributeScores,
    /// The scores of the assessor that the header names (sample and attribute stand in the row).
    AssessorScores,
    /// The scores of the sample that the header names (assessor and attribute stand in the row).
    SampleScores,
    /// The scores of the replicate that the header names (assessor, sample and attribute stand in the row).
    ReplicateScores,
    Ignored,
}

/// The role of every column, from the left. Columns beyond the list are ignored.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ColumnRoles {
    pub by_column: Vec<ColumnRole>,
}

/// The role that the person gave to one column, by which it is found again when its table is put together in another
/// way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StatedRole {
    /// Header of the column; empty where it has none.
    pub header: String,
    /// The column, from 0, as it was shown; it counts only where the header doesn't tell it from the others.
    pub column: usize,
    pub role: ColumnRole,
}

/// How scores lie in a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableShape {
    /// One score a row.
    Long,
    /// One serving a row, one column an attribute.
    Wide,
    /// One serving a column: the attributes run down the rows.
    Transposed,
    /// One column an assessor; sample and attribute stand in the row.
    AssessorsAcross,
    /// One column a sample; assessor and attribute stand in the row.
    SamplesAcross,
    /// One column a replicate; assessor, sample and attribute stand in the row.
    ReplicatesAcross,
}

/// The sign between whole units and their parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecimalMark {
    Point,
    Comma,
}

/// What to do where one cell of the study has two different scores.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DuplicateChoice {
    /// Ask, and load nothing until it is answered.
    #[default]
    Stop,
    KeepFirst,
    KeepLast,
}

/// What a sheet is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetUse {
    Scores,
    /// Tells which sample each code stood for.
    Key,
    LeftOut,
}

/// What tells one sheet (or file, or group of columns) from the next, where several hold scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartsMean {
    Samples,
    Assessors,
    Sessions,
    Replicates,
    /// Nothing: all of them are read as one table.
    Nothing,
}

/// One file as it was picked, dropped or named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GivenFile {
    /// Only for notices and the record.
    pub name: String,
    pub bytes: Arc<Vec<u8>>,
}

/// What the user states beforehand. `None` and empty lists mean: find out, and say so.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadOptions {
    /// All roles as they were last shown, with what the person changed; by column of the table shown.
    pub roles: Option<ColumnRoles>,
    /// What the person changed in `roles`.
    pub roles_by_hand: Vec<StatedRole>,
    /// What the person said of columns before an answer by which tables are put together anew: it stays said.
    pub roles_kept: Vec<StatedRole>,
    pub shape: Option<TableShape>,
    /// High end of the scale.
    pub scale_maximum: Option<f64>,
    /// Low end of the scale; 0 where nothing is said, or 1 for whole-number scales that start there.
    pub scale_minimum: Option<f64>,
    pub separator: Option<u8>,
    pub decimal: Option<DecimalMark>,
    /// Numbers that mean "no score", such as 99 or -1.
    pub missing_codes: Vec<f64>,
    /// Numbers that look like codes for "no score" and are scores all the same.
    pub kept_codes: Vec<f64>,
    /// Number the replicates by the order of rows where the file doesn't.
    pub number_replicates_in_file_order: bool,
    pub duplicates: DuplicateChoice,
    /// Put lost zeros back in front of codes: 12 among three-digit codes becomes 012.
    pub pad_codes: bool,
    /// Where a name is blank, take the one above it.
    pub fill_names_down: bool,
    /// Line of the header, from 1.
    pub header_line: Option<u32>,
    /// What sheets are used for where the reader's own choice is not wanted, by their index in `Preview::sheets`.
    pub sheet_uses: BTreeMap<usize, SheetUse>,
    /// What each sheet of a workbook stands for.
    pub sheets_mean: Option<PartsMean>,
    /// What each file stands for.
    pub files_mean: Option<PartsMean>,
    /// What the groups of an upper header row stand for.
    pub groups_mean: Option<PartsMean>,
    /// Join a key without sessions to scores of several sessions in which the same codes occur.
    pub codes_hold_in_every_session: bool,
    /// The table holds means over a panel, not scores of assessors: the panel's mean stands as its one assessor.
    pub means_of_panel: bool,
    /// Files longer than this are refused.
    pub longest_file_bytes: usize,
}

/// One answer that a question takes.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Duplicates(DuplicateChoice),
    NumberReplicates,
    Missing(f64),
    Score(f64),
    Decimal(DecimalMark),
    PadCodes,
    FillNamesDown,
    SheetsMean(PartsMean),
    FilesMean(PartsMean),
    GroupsMean(PartsMean),
    /// Of the sheets that could hold scores only the one with this index in `Preview::sheets` is read.
    OnlySheet {
        index: usize,
        others: Vec<usize>,
    },
    CodesHoldInEverySession,
    MeansOfPanel,
    /// What one column holds.
    Role(StatedRole),
    /// The caller shows the columns and sends `ReadOptions::roles`.
    StateRoles,
    /// The caller asks for numbers and sends `ReadOptions::scale_maximum` or `scale_minimum`.
    StateScale,
}

/// An answer with the words on its button.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub label: String,
    pub answer: Answer,
}

/// Something only the person can decide.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    pub what: String,
    /// Where it shows, at most twenty places.
    pub places: Vec<Place>,
    pub choices: Vec<Choice>,
    /// The field of `ReadOptions` that answers it.
    pub field: &'static str,
    /// Whether nothing is loaded before it is answered. The others only offer something.
    pub stops: bool,
}

/// One row as it was taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewRow {
    /// Index into `Preview::sheets`.
    pub sheet: usize,
    /// Line in the file, from 1.
    pub line: u32,
    pub cells: Vec<String>,
}

/// One sheet of a workbook or one text file, and what it is used for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewSheet {
    pub file: String,
    /// `None` for a text file.
    pub sheet: Option<String>,
    pub is_hidden: bool,
    /// Rows with something in them.
    pub rows: usize,
    pub columns: usize,
    pub sheet_use: SheetUse,
    /// Why it is used so, as one sentence; empty where that needs no words.
    pub why: String,
}

/// How many of everything there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    pub rows: usize,
    pub assessors: usize,
    pub samples: usize,
    pub attributes: usize,
    pub replicates: usize,
    pub sessions: usize,
    pub servings: usize,
    pub scores: usize,
    /// Cells of servings x attributes without a score.
    pub missing: usize,
}

/// How the table was understood: what the page shows for confirmation.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Preview {
    /// Every table that was found, in the order of the files and of their sheets.
    pub sheets: Vec<PreviewSheet>,
    /// "UTF-8", "UTF-16LE", "Windows-1252"...; empty for workbooks and where files differ.
    pub encoding: String,
    pub separator: Option<u8>,
    pub decimal: Option<DecimalMark>,
    pub shape: Option<TableShape>,
    pub header_line: Option<u32>,
    pub header: Vec<String>,
    pub roles: ColumnRoles,
    /// The first rows under the header, at most twenty.
    pub rows: Vec<PreviewRow>,
    pub counts: Counts,
    pub scale_maximum: Option<f64>,
}

/// What reading hands over. It never fails whole: what could not be used stands in the notices.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    pub preview: Preview,
    /// There whenever something can be computed and no question stops.
    pub study: Option<Study>,
    pub notices: Vec<Notice>,
    pub questions: Vec<Question>,
}

impl Default for ReadOptions {
    fn default() -> Self {
        ReadOptions {
            roles: None,
            roles_by_hand: Vec::new(),
            roles_kept: Vec::new(),
            shape: None,
            scale_maximum: None,
            scale_minimum: None,
            separator: None,
            decimal: None,
            missing_codes: Vec::new(),
            kept_codes: Vec::new(),
            number_replicates_in_file_order: false,
            duplicates: DuplicateChoice::Stop,
            pad_codes: false,
            fill_names_down: false,
            header_line: None,
            sheet_uses: BTreeMap::new(),
            sheets_mean: None,
            files_mean: None,
            groups_mean: None,
            codes_hold_in_every_session: false,
            means_of_panel: false,
            longest_file_bytes: 50_000_000,
        }
    }
}

impl ColumnRoles {
    /// The role of a column counted from 0.
    pub fn get(&self, column: usize) -> ColumnRole {
        self.by_column.get(column).copied().unwrap_or(ColumnRole::Ignored)
    }

    /// The first column with this role, from 0.
    pub fn find(&self, role: ColumnRole) -> Option<usize> {
        self.by_column.iter().position(|candidate| *candidate == role)
    }

    /// All columns with this role, from 0.
    pub fn all(&self, role: ColumnRole) -> Vec<usize> {
        (0..self.by_column.len()).filter(|column| self.by_column[*column] == role).collect()
    }
}

impl ColumnRole {
    /// The role as the page and the shell name it.
    pub fn words(self) -> &'static str {
        match self {
            ColumnRole::Assessor => "assessor",
            ColumnRole::Sample => "sample",
            ColumnRole::Code => "code",
            ColumnRole::Replicate => "replicate",
            ColumnRole::Session => "session",
            ColumnRole::Position => "serving position",
            ColumnRole::Label => "label",
            ColumnRole::Attribute => "attribute",
            ColumnRole::Score => "score",
            ColumnRole::AttributeScores => "scores of one attribute",
            ColumnRole::AssessorScores => "scores of one assessor",
            ColumnRole::SampleScores => "scores of one sample",
            ColumnRole::ReplicateScores => "scores of one replicate",
            ColumnRole::Ignored => "not used",
        }
    }
}
