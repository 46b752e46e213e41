//! The words of the on-screen ballot, for assessors and for the leader. Nothing an assessor reads names a sample.

pub const NEEDS_PLAN: &str = "Make or open a plan first: the forms follow from it.";

// The leader's side.
pub const TITLE: &str = "Forms on a screen";
pub const INTRO: &str = "Save a booth file, bring it to each tablet or booth computer together with this page, and open it there: the page becomes the tasting form and works without a network. A booth file holds codes and words, never the name of a sample.";
pub const FILES: &str = "Booth files";
pub const REST: &str = "Rest between cups";
pub const REST_UNIT: &str = "seconds";
pub const BEFORE: &str = "What assessors read before the first cup (one sentence a line)";
pub const FOR_ASSESSOR: &str = "For";
pub const EVERYBODY: &str = "everybody";
pub const IN_SESSION: &str = "In";
pub const ALL_SESSIONS: &str = "all sessions";
pub const SAVE: &str = "Save the booth file";
pub const COLLECT: &str = "What came back";
pub const COLLECT_ABOUT: &str =
    "Drop one or many results files anywhere on this page, or open them with the button above.";
pub const USE: &str = "Use these scores";
pub const MISSING: &str = "missing";
pub const UNFINISHED: &str = "not finished";
pub const COMPLETE: &str = "complete";
pub const SHEETS: &str = "Sheets by assessor and session";
pub const ASSESSOR: &str = "Assessor";
pub const FILES_THAT_CAME: &str = "Files";
pub const PUT_AWAY: &str = "Put away";
pub const REFUSED: &str = "Not opened";
pub const FORGET_REFUSED: &str = "Clear this list";
pub const COLLECTED_BROKEN: &str = "The results files that this browser had kept can't be read.";
pub const COLLECTED_BROKEN_HINT: &str = "Open the files again.";
pub const COLLECTED_NEED_PLAN: &str = "Results files are here, and no plan is open. Open the plan that they belong to.";
pub const BALLOT_FILE_HINT: &str = "Save the booth file again from the plan.";

pub const SAVED_SCORES: &str = "Marks kept on this device";
pub const SAVED_SCORES_ABOUT: &str = "A tablet keeps the marks of each form until they are removed here, so that nothing is lost. They are personal data: remove them once the leader has the results files.";
pub const REMOVE_SCORES: &str = "Remove these marks";
pub const REMOVE: &str = "Remove";
pub const KEEP: &str = "Keep";

// The form.
pub const WHO: &str = "Who are you?";
pub const BEFORE_TASTING: &str = "Before you taste";
pub const CAUTIONS: [&str; 3] = [
    "Do not taste if you are allergic to, or must avoid, anything that may be in the cups. Ask the leader first.",
    "Don't swallow what the leader asks you to spit out.",
    "Your marks are kept under your name on this device and go to the leader only.",
];
pub const CONSENT: &str = "I have read this, I take part of my own will, and I know that I may stop at any time.";
pub const BEGIN: &str = "Agree and begin";
pub const NOT_ME: &str = "Not me: back to the names";
pub const WARM_UP: &str = "First cup, to get used to it";
pub const WARM_UP_ABOUT: &str = "Taste this cup. Nothing is marked.";
pub const WARM_UP_DONE: &str = "I have tasted it";
pub const SAMPLE: &str = "Sample";
pub const HOW: &str =
    "Touch or click each line where the sample belongs. You can move a mark until you finish the sample.";
pub const HOW_KEYS: &str =
    "With keys: Tab to a line, arrows move the mark, Shift with an arrow moves it further, Delete takes it away.";
pub const NOT_MARKED: &str = "not marked";
pub const MARKED: &str = "marked";
pub const TAKE_AWAY: &str = "Take the mark away";
pub const FINISH: &str = "Finish this sample";
pub const REST_TITLE: &str = "Rest";
pub const REST_ABOUT: &str = "Rinse your mouth and wait until the time is over.";
pub const REST_OVER: &str = "The rest is over.";
pub const GO_ON: &str = "Go on";
pub const GO_ON_EARLY: &str = "Go on now: it is noted that the rest was shorter";
pub const NEXT_SAMPLE: &str = "Next sample";
pub const DONE: &str = "Thank you, that was the last sample";
pub const DONE_ABOUT: &str = "Your results were saved as a file in the download folder of this device:";
pub const SAVE_FIRST: &str = "Save the results";
pub const SAVE_AGAIN: &str = "Save the results again";
pub const HAND_OVER: &str = "Tell the leader that you are finished and leave the device as it is.";
pub const NEXT_PERSON: &str = "Next person";
pub const NOT_SAVED: &str = "This device keeps nothing: don't close this page before the results are saved.";
pub const LEAVE: &str = "Leave the form";
pub const LEAVE_SURE: &str = "For the leader: the marks stay on this device. Leave the form?";
pub const STAY: &str = "Stay";

/// How far a sheet is on this device.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Progress {
    NotBegun,
    Begun { finished: usize, cups: usize },
    Done,
    Saved,
}

pub fn progress(progress: Progress) -> String {
    match progress {
        Progress::NotBegun => String::new(),
        Progress::Begun { finished, cups } => format!("{finished} of {cups} samples finished"),
        Progress::Done => "finished, not saved yet".to_owned(),
        Progress::Saved => "finished and saved".to_owned(),
    }
}

pub fn remove_sure(sheets: usize, unsaved: usize) -> String {
    let what = if sheets == 1 { "one sheet".to_owned() } else { format!("{sheets} sheets") };
    let unsaved = match unsaved {
        0 => String::new(),
        count if count == sheets => " None of them was saved as a results file.".to_owned(),
        count => format!(" {count} of them were never saved as a results file."),
    };
    format!("Remove {what} of marks? They can't be had back; results files that were saved stay.{unsaved}")
}

pub fn session(number: u32) -> String {
    format!("Session {number}")
}

pub fn who_and_session(name: &str, session: u32) -> String {
    format!("{name}, session {session}")
}

pub fn sample_of(position: u32, cups: usize) -> String {
    format!("Sample {position} of {cups}")
}

pub fn unmarked(names: &[String]) -> String {
    let lines = if names.len() == 1 { "One line has no mark" } else { "These lines have no mark" };
    format!("{lines}: {}.", names.join(", "))
}

/// The way back to the first line without a mark.
pub fn go_back(name: &str) -> String {
    format!("Back to the line \u{201c}{name}\u{201d}")
}

pub fn go_on_without(names: &[String]) -> String {
    format!("Go on without a mark on {}", names.join(", "))
}

/// "0:05", "1:30".
pub fn minutes(seconds: u64) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// Where a mark lies, for those who hear the form: words, since a number would anchor the next mark.
pub fn place_in_words(tenths: u16, low_end: &str, high_end: &str) -> String {
    let (low, high) = (end_or(low_end, "the left end"), end_or(high_end, "the right end"));
    match tenths {
        0..=20 => format!("at {low}"),
        21..=150 => format!("near {low}"),
        151..=350 => format!("towards {low}"),
        351..=470 => format!("a little towards {low}"),
        471..=529 => "in the middle".to_owned(),
        530..=649 => format!("a little towards {high}"),
        650..=849 => format!("towards {high}"),
        850..=979 => format!("near {high}"),
        _ => format!("at {high}"),
    }
}

pub fn line_name(name: &str, low_end: &str, high_end: &str) -> String {
    format!("{name}, from {} to {}", end_or(low_end, "left"), end_or(high_end, "right"))
}

pub fn log_collected(marks: usize) -> String {
    format!("Opened {marks} marks made on screen.")
}

pub fn refused_rest(typed: &str) -> String {
    format!("“{typed}” is no rest. Give whole seconds, such as 60, or 0 for none.")
}

pub fn arrived(marks: usize, lines: usize) -> String {
    format!("{marks} of {lines} marks")
}

pub fn came_back(arrived: usize, sheets: usize, marks: usize) -> String {
    format!("{arrived} of {sheets} sheets, {marks} marks")
}

pub fn on_screen_file_name(study: &str, assessor: Option<usize>, session: Option<u32>) -> String {
    let who = assessor.map(|index| format!("-assessor-{}", index + 1)).unwrap_or_default();
    let when = session.map(|number| format!("-session-{number}")).unwrap_or_default();
    format!("booth-{study}{who}{when}.likeness-booth.json")
}

fn end_or<'a>(end: &'a str, otherwise: &'a str) -> &'a str {
    if end.trim().is_empty() { otherwise } else { end }
}
