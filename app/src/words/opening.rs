//! The words of opening: what is said while a file becomes the study, and when it does not.

pub const PASTED_NAME: &str = "pasted table";
pub const PASTE_EMPTY: &str = "There was no text in what you pasted.";
pub const PASTE_EMPTY_HINT: &str = "Copy the cells of the table, header row included, and paste again.";
pub const FILE_UNREADABLE_BY_BROWSER: &str = "The browser could not read the file.";
pub const FILE_UNREADABLE_HINT: &str =
    "Check that it is still there and not open in another program, and open it again.";
pub const NOT_OPENED: &str = "was not opened.";
pub const OPEN_STUDY_UNTOUCHED: &str = "The study you had open is as it was.";
pub const UNDERSTOOD: &str = "What was understood";
pub const UNDERSTOOD_INTRO: &str =
    "Check this before the scores are used. A column that was taken for the wrong thing can be changed in the table.";
pub const HOW_READ: &str = "How the file was read:";
pub const FIRST_ROWS: &str = "First rows of the file";
pub const LINE: &str = "line";
pub const QUESTIONS: &str = "Please decide";
pub const OFFERS: &str = "You may also";
pub const BEFORE_LOOKING: &str = "Before you look";
pub const BEFORE_LOOKING_INTRO: &str =
    "Target and margin decided now stand in the record as decided before the verdict was seen.";
pub const USE_SCORES: &str = "Use these scores";
pub const USE_NOT_YET: &str = "These scores can't be used yet: see the questions and notices.";
pub const KEEP_OPEN_STUDY: &str = "Keep the open study instead";
pub const BACK_TO_START: &str = "Back to the start";
pub const FILE: &str = "File";
pub const ENCODING: &str = "Encoding";
pub const SEPARATOR: &str = "Separator";
pub const DECIMAL: &str = "Decimal mark";
pub const SHAPE: &str = "Shape";
pub const SCALE: &str = "Scale";
pub const SCALE_TO: &str = "0 to";
pub const UNKNOWN: &str = "not known";
