//! The words of reading filled pages from pictures, and of joining all scores of a plan. Reasons to ask are made in the
//! engine.

use super::{counted, listed};
use likeness_core::plan::data_entry::entry::Entry;
use likeness_core::plan::joining::{PageProgress, ScoreSource};
use likeness_core::scan_desk::counts::{DeskCounts, RowCounts};
use likeness_core::scan_desk::queue::QueueCount;

pub const TITLE: &str = "Read filled pages";
pub const NEEDS_PLAN: &str =
    "Make or open the plan that the ballots were printed from: its pages are what pictures are compared with.";
pub const INTRO: &str = "Scan or photograph the filled ballots and put the pictures or the scanner's PDF in: several at once, in any order, lying any way. Each page is known by its square code; each line is read, asked about, or shown to you as empty. Nothing leaves this page.";
pub const HOW_TO_SCAN: &str = "Scanner: grey, 200 to 300 dpi, JPEG, PNG or PDF, the whole page. Phone: from straight above, the page filling the picture, all four corners in it, no shadow of the hand.";
pub const CHOOSE: &str = "Choose pictures or PDF";
pub const PHOTOGRAPH: &str = "Photograph a page";
pub const OR_DROP: &str = "or drop them anywhere on the page";
pub const KINDS: &str = "image/jpeg,image/png,image/webp,application/pdf";
pub const ANY_PICTURE: &str = "image/*";
pub const STOP: &str = "Stop";
pub const DECODING: &str = "is being opened";
pub const READING: &str = "is being read";

pub const TOO_MANY_BYTES: &str =
    "The file is larger than 100 MB: no picture of one page is so large. Scan with 300 dpi.";
pub const UNREADABLE: &str =
    "The browser could not read the file. Was it moved or is it open elsewhere? Choose it again.";
pub const NOT_DECODED: &str = "The browser could not open the picture: the file is damaged or cut off. Save it anew.";
pub const KEPT_BROKEN: &str = "What this browser had kept of reading filled pages can't be read.";
pub const KEPT_BROKEN_HINT: &str = "It is put aside and an empty desk is laid: put the pictures in again.";

// Invented pages, and the test page.
pub const TRY_DEMO: &str = "Try it with invented pages";
pub const DEMO_ABOUT: &str = "Opens an invented plan of mango nectar and twelve pages that this program draws and fills in itself: no hand, pen, printer or scanner had a part in them. The accuracy of the reading was measured on generated pages only.";
pub const DEMO_PLAN: &str = "Invented pages";
pub const DEMO_REST: &str = "the invented pages after it";
pub const DEMO_FAILED: &str = "Nothing was changed.";
pub const TEST_PAGE: &str = "test page";
pub const TEST_PAGE_OFFER: &str = "Print a test page for this printer and scanner";
pub const TEST_PAGE_ABOUT: &str = "A page with strokes printed at known places. Print it at 100 %, mark nothing, scan or photograph it as you do ballots, and put the picture in like any other: you are told how many of its strokes were read, and their mean and largest error. It tells of printer and scanner, not of pens and hands.";
pub const TEST_PAGE_PRINT: &str = "Print the test page";

// The list of pictures.
pub const PICTURES: &str = "Pictures and pages";
pub const FILE: &str = "file";
pub const PAGE: &str = "page";
pub const ROWS: &str = "lines";
pub const REMARK: &str = "to know";
pub const PUT_AWAY: &str = "Put away";
pub const NOT_READ: &str = "not read";
pub const AGAIN: &str = "came before";
pub const MISSING_PAGES: &str = "Pages that are still missing";
pub const NONE_MISSING: &str = "Every page of the plan is in.";
pub const TYPE_INSTEAD: &str = "A page that can't be read is typed under Typing; both ways make one study.";

// The queue.
pub const TO_DECIDE: &str = "To decide";
pub const WHO: &str = "Who decides";
pub const WHO_HINT: &str = "name or initials";
pub const LINE: &str = "Line";
pub const WHY: &str = "Asked because";
pub const SUGGESTED: &str = "Suggested";
pub const NO_SUGGESTION: &str = "Nothing is suggested.";
pub const MILLIMETRES: &str = "mm from the left end";
pub const TAKE: &str = "Take it";
pub const NO_MARK: &str = "No mark";
pub const BACK: &str = "One step back";
pub const STRIP_LABEL: &str = "The line as it was filled in";
pub const CLOSER: &str = "Closer";
pub const NO_STRIP: &str = "The picture of this line was not kept: look at the paper.";
pub const NOT_PUT: &str = "not put yet";
pub const KEYS: &str = "Enter: take it. Digits: millimetres. Arrows: half a millimetre (with Shift five). N: no mark. Backspace: one step back. Or drag the hairline.";
pub const EMPTY_TITLE: &str = "Lines in which no mark was found";
pub const EMPTY_ABOUT: &str =
    "Look at the ends first: a faint stroke on an end tick is the likeliest thing to be missed.";
pub const EMPTY_KEYS: &str = "E: all of these are empty. Backspace: one step back.";
pub const HAS_MARK: &str = "There is a mark";
pub const SPOT_TITLE: &str = "Spot check";
pub const SPOT_ABOUT: &str = "Drawn by chance from the lines that were taken without asking. You aren't told what was read: put the hairline where the stroke crosses the line, or type the millimetres.";
pub const DIFFERS_TITLE: &str = "Your look and the reader differ";
pub const DIFFERS_ABOUT: &str = "Look once more, at the paper if need be. What you choose stands as the score.";
pub const YOU: &str = "You";
pub const READER: &str = "Reader";
pub const READER_WRONG: &str = "The reader was wrong";
pub const I_SLIPPED: &str = "I had slipped";
pub const CHOOSE_WHICH: &str = "Say first which of the two is right.";
pub const NOTHING_PUT: &str = "Put the hairline on the mark, type the millimetres, or press N where there is no mark.";
pub const NOTHING_DUE: &str = "Nothing is left to decide.";
pub const PUT_PICTURES_IN: &str = "Nothing to decide yet: put pictures in.";

// The record, and the study.
pub const RECORD: &str = "Record of reading";
pub const HOW: &str = "how";
pub const PRINT_RECORD: &str = "Print the record";
pub const DECIDED_BY: &str = "Decided by";
pub const TYPE_SAMPLE: &str = "Let a second reader type these pages from paper";
pub const TYPE_SAMPLE_ABOUT: &str = "Drawn by chance from the pages read. What is typed is compared with what was read, line by line, and differences are shown below.";
pub const SAVED: &str = "Decisions are kept in this browser at each step. The pictures are not; of lines that you are shown a small strip is kept.";
pub const NOT_SAVED: &str = "This browser doesn't keep what you decide: make the study before you close the page.";
pub const STRIPS_NOT_SAVED: &str = "This browser has no room for the strips: after closing the page, put the same pictures in again to see them. What you decided is kept.";

pub const JOINED: &str = "All scores of this plan";
pub const JOINED_ABOUT: &str = "Typed, read from pictures and made on screens: one study. Where two of them have the same line and lie more than 1 apart, you decide; until then the line has no score.";
pub const DIFFERENCES: &str = "Where sources differ";
pub const DECIDED: &str = "decided";
pub const OPEN: &str = "open: no score yet";
pub const MAKE_STUDY: &str = "Make the study";
pub const NO_SCORES: &str = "No scores are in yet.";

// On the score card.
pub const READ_FROM: &str = "read from a picture";
pub const DECISION: &str = "how it was decided";
pub const READ_AS: &str = "read as";
pub const STRIP: &str = "the line";

pub fn same_file(other: &str) -> String {
    format!("It is the very same file as {other}, which was put in before; it counts once.")
}

pub fn reading(file: &str, place: usize, of: usize, is_decoding: bool) -> String {
    format!("{file} ({place} of {of}) {}", if is_decoding { DECODING } else { READING })
}

/// "scan.pdf, page 3".
pub fn pdf_page(file: &str, number: usize) -> String {
    format!("{file}, page {number}")
}

/// "scan.pdf, pages 4 to 10".
pub fn pdf_rest(file: &str, first: usize, last: usize) -> String {
    format!("{file}, pages {first} to {last}")
}

/// "invented page-003.png".
pub fn demo_page(name: &str) -> String {
    format!("invented {name}")
}

pub fn pictures_need_plan(files: &[String]) -> String {
    format!(
        "{}: pictures of filled pages are read against the plan that they were printed from, and no plan is open.",
        listed(files)
    )
}

pub fn stopped(files: &[String]) -> String {
    format!("Stopped. Not read: {}. Choose them again when you go on.", listed(files))
}

/// "3 pages read from 4 pictures, 1 not read".
pub fn so_far(counts: &DeskCounts, of_pages: Option<usize>) -> String {
    let pages = match of_pages {
        Some(all) => format!("{} of {} read", counts.pages_read, counted(all, "page", "pages")),
        None => format!("{} read", counted(counts.pages_read, "page", "pages")),
    };
    let failed = if counts.failed > 0 { format!(", {} not read", counts.failed) } else { String::new() };
    let again = if counts.again > 0 { format!(", {} came twice", counts.again) } else { String::new() };
    let tests = if counts.tests > 0 {
        format!(", {}", counted(counts.tests, "test page", "test pages"))
    } else {
        String::new()
    };
    format!("{pages} from {}{failed}{again}{tests}.", counted(counts.pictures, "picture", "pictures"))
}

pub fn still_to_do(count: &QueueCount) -> String {
    let parts = [(count.doubtful, "asked about"), (count.empty, "empty to confirm"), (count.again, "to look at again")];
    let parts: Vec<String> =
        parts.into_iter().filter(|(lines, _)| *lines > 0).map(|(lines, what)| format!("{lines} {what}")).collect();
    if parts.is_empty() { NOTHING_DUE.to_owned() } else { format!("{}.", parts.join(", ")) }
}

/// "21 read, 2 asked about, 1 empty"; what there is none of is not said, for a phone has little room.
pub fn rows(rows: &RowCounts) -> String {
    let open = if rows.open > 0 { format!(" ({} open)", rows.open) } else { String::new() };
    let some = |count: usize, what: &str| if count > 0 { format!(", {count} {what}") } else { String::new() };
    format!("{} read{}{}{open}", rows.read, some(rows.asked, "asked about"), some(rows.empty, "empty"))
}

pub fn page(assessor: &str, session: u32, code: &str) -> String {
    format!("{assessor}, session {session}, {code}")
}

pub fn again(page: &str, differ: usize) -> String {
    let rest = match differ {
        0 => "both say the same".to_owned(),
        _ => format!("{} and asked about", counted(differ, "line differs", "lines differ")),
    };
    format!("{page}: {rest}; the first picture counts")
}

pub fn row_name(number: u32, attribute: &str) -> String {
    format!("{LINE} {number}: {attribute}")
}

pub fn place(mark: Option<f64>) -> String {
    mark.map_or_else(|| NO_MARK.to_owned(), |mark| format!("{mark:.1} mm"))
}

pub fn spoken(mark: Option<f64>) -> String {
    mark.map_or_else(|| NOT_PUT.to_owned(), |mark| format!("{mark:.1} {MILLIMETRES}"))
}

pub fn all_empty(count: usize) -> String {
    match count {
        1 => "It is empty".to_owned(),
        2 => "Both are empty".to_owned(),
        _ => format!("All {count} are empty"),
    }
}

pub fn missing(count: usize) -> String {
    format!("{MISSING_PAGES}: {count}")
}

/// "Anna: 572, 318 (page 2 of 2)".
pub fn missing_of(assessor: &str, codes: &[String]) -> String {
    format!("{assessor}: {}", codes.join(", "))
}

pub fn differences_open(open: usize, all: usize) -> String {
    format!("{DIFFERENCES}: {all}, of these {open} open")
}

pub fn says(source: ScoreSource, entry: Entry) -> String {
    format!("{}: {}", source.in_words(), super::data_entry::entry(entry))
}

pub fn given(source: ScoreSource, entries: usize) -> String {
    format!("{} {}", counted(entries, "line", "lines"), source.in_words())
}

/// "12 of 80 pages so far, 288 scores".
pub fn joined_so_far(progress: &PageProgress, scores: usize) -> String {
    format!("{} so far, {}.", progress.in_words(), counted(scores, "score", "scores"))
}

pub fn log_joined(scores: usize, pages: &str) -> String {
    format!("Opened {} of the plan, {pages} so far.", counted(scores, "score", "scores"))
}

/// "page.jpg, line 3 of the page LK1:...".
pub fn origin(file: &str, row: u32, code_text: &str) -> String {
    format!("{file}, line {row} of the page {code_text}")
}
