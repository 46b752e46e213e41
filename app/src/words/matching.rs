//! The words of the Match view: what is decided, when, and what the figures beside the verdict say.

use super::{kind, listed, number, origin};
use likeness_core::study::{AttributeKind, LogEntry, MarginOrigin, Settings, Study};
use likeness_core::text::numbers::percent;

pub use likeness_core::tables::words::TARGET_AGAIN as TARGET_AGAIN_MARK;

// Before the verdict is shown.
pub const DECIDE_HEADING: &str = "How near is near enough?";
pub const DECIDE_INTRO: &str = "Settle this before you see the verdict. What you choose now stands in the record as decided beforehand; you can change it later, and then the change is shown beside the verdict.";
pub const WHAT_STANDS: &str = "What stands now:";
pub const SHOW_VERDICT: &str = "Show the verdict";
pub const SHOW_VERDICT_NOTE: &str = "The moment is written into the log.";
pub const NEEDS_TARGET: &str = "Choose the target first.";
pub const NO_VERDICT_YET: &str =
    "The verdict has not been asked for yet. Until then nothing here is compared with the target.";
pub const TO_DECISIONS: &str = "Settle target and margin";

// Beside the verdict.
pub const CHANGE: &str = "change";
pub const LATE_HEADING: &str = "Changed after the verdict was seen";
const AFTER_VERDICT: &str = "after the verdict was seen";
const BEFORE_VERDICT: &str = "before the verdict was seen";
pub const TARGET_AGAIN: &str = "The target again is";
pub const NO_TARGET_AGAIN: &str = "no sample";

pub const PROFILE_MARGIN: &str = "As a whole";
pub const BOTH_CUPS: &str = "both cups of the target make its mean";
pub const TOGETHER: &str = "one chance of error over all candidates";
pub const TO_REPORT: &str = "Write the report";
pub const DIFFERENCES_FOLDED: &str = "Attribute by attribute, as a table";
pub const SHAPE_FOLDED: &str = "The shape of the profile";
pub const INTEGRATED_FOLDED: &str = "What words for the whole go with:";
pub const CHANCES_HEADING: &str = "What can this panel tell?";

pub const MARKED: &str = "Marked:";
pub const UNMARK: &str = "unmark";
pub const BRIEF_FILE: &str = "brief.txt";
pub const BRIEF_COPY_REFUSED: &str = "The browser refused the clipboard: the brief was saved as a file instead.";

pub fn brief_heading(sample: &str) -> String {
    format!("What to tell the flavourist about {sample}")
}

/// What is judged, in one line.
pub fn decided_line(study: &Study, decides: usize, attributes: usize) -> String {
    let settings = &study.settings;
    let own = match settings.margin.by_attribute.len() {
        0 => String::new(),
        1 => ", 1 of its own".to_owned(),
        count => format!(", {count} of their own"),
    };
    format!(
        "Target {} \u{b7} margin \u{b1}{} {}{own}, {} \u{b7} as a whole {} of the margins \u{b7} {} decide \u{b7} wrong claims {} at most",
        settings.target.as_deref().unwrap_or("not named"),
        number(settings.margin.width_mm),
        study.scale.unit,
        origin(&settings.margin.origin),
        number(settings.profile_share),
        if decides == attributes {
            format!("all {attributes} attributes")
        } else {
            format!("{decides} of {attributes} attributes")
        },
        percent(settings.alpha),
    )
}

/// When it was settled; `None` while it is not.
pub fn decided_when(study: &Study) -> Option<String> {
    let changed = study.log.iter().any(LogEntry::is_late_decision);
    Some(match (study.decided_at.as_deref()?, changed) {
        ("", _) => "settled before this program kept the time".to_owned(),
        (when, false) => format!("settled before the verdict was seen, {when}"),
        (when, true) => format!("first settled {when}, changed after the verdict was seen"),
    })
}

pub fn log_shown(settings: &Settings, unit: &str) -> String {
    let deciding = match settings.deciding.as_slice() {
        [] => "all".to_owned(),
        names => listed(names),
    };
    format!(
        "Verdict shown for the first time. Settled until then: target {}, margin {} {unit} ({}), as a whole {} of the margins, deciding attributes {deciding}, alpha {}.",
        settings.target.as_deref().unwrap_or_default(),
        number(settings.margin.width_mm),
        origin(&settings.margin.origin),
        number(settings.profile_share),
        number(settings.alpha)
    )
}

pub fn log_decided_before(target: &str, margin: f64, unit: &str) -> String {
    format!("Decided before the verdict was seen: target {target}, margin {} {unit}.", number(margin))
}

pub fn log_target(before: Option<&str>, after: Option<&str>, seen: bool) -> String {
    match (before, after) {
        (None, Some(after)) => format!("Target named {}: {after}.", moment(seen)),
        (Some(before), Some(after)) => format!("Target changed {}: {before} to {after}.", moment(seen)),
        (_, None) => format!("Target taken away {}.", moment(seen)),
    }
}

pub fn log_blind_duplicate(after: Option<&str>, seen: bool) -> String {
    match after {
        Some(name) => format!("Said {} that {name} is the target again.", moment(seen)),
        None => format!("Said {} that no sample is the target again.", moment(seen)),
    }
}

pub fn log_margin(before: f64, after: f64, unit: &str, seen: bool) -> String {
    format!("Margin changed {}: {} to {} {unit}.", moment(seen), number(before), number(after))
}

pub fn log_profile_share(before: f64, after: f64, seen: bool) -> String {
    format!("Profile margin changed {}: {} to {} of the margins.", moment(seen), number(before), number(after))
}

pub fn log_both_cups(both: bool, seen: bool) -> String {
    let what = if both { "both cups make the target's mean" } else { "the target's first cup alone is compared with" };
    format!("Said {} that {what}.", moment(seen))
}

pub fn log_together(together: bool, seen: bool) -> String {
    let what = if together { "over all candidates together" } else { "for each candidate by itself" };
    format!("Chance of a wrong \u{201c}off\u{201d} to be held {what}, said {}.", moment(seen))
}

/// "of the margins: 7 mm" beside the field.
pub fn profile_margin_is(share: f64, margin_mm: f64, unit: &str) -> String {
    format!("of the margins: {} {unit}", number((share * margin_mm * 10.0).round() / 10.0))
}

pub fn log_attribute_margin(
    attribute: &str,
    before: Option<f64>,
    after: Option<f64>,
    unit: &str,
    seen: bool,
) -> String {
    let moment = moment(seen);
    match (before, after) {
        (None, Some(after)) => {
            format!("Margin of its own for {attribute}, given {moment}: {} {unit}.", number(after))
        }
        (Some(before), Some(after)) => {
            format!("Margin for {attribute} changed {moment}: {} to {} {unit}.", number(before), number(after))
        }
        (_, None) => format!("Margin of its own for {attribute} taken away {moment}."),
    }
}

pub fn log_margin_origin(to: &MarginOrigin, seen: bool) -> String {
    format!("Origin of the margin stated {}: {}.", moment(seen), origin(to))
}

pub fn log_deciding(attribute: &str, decides: bool, seen: bool) -> String {
    let verb = if decides { "added to" } else { "taken from" };
    format!("{attribute} {verb} the deciding attributes {}.", moment(seen))
}

pub fn log_alpha(before: f64, after: f64, seen: bool) -> String {
    format!("Alpha changed {}: {} to {}.", moment(seen), number(before), number(after))
}

pub fn log_kind(attribute: &str, to: AttributeKind) -> String {
    format!("Kind of {attribute}: {}.", kind(to))
}

fn moment(seen: bool) -> &'static str {
    if seen { AFTER_VERDICT } else { BEFORE_VERDICT }
}

pub const ATTRIBUTE_BY_ATTRIBUTE: &str = "Attribute by attribute";

// What this panel could show.
pub const POWER_HEADING: &str = "Which attribute was hardest to show?";

// Words for the whole.
pub const NONE_INTEGRATED: &str = "No attribute is marked as summing up several characters. If one is a word for the whole, such as true to fruit or balance, mark it in the line above under \u{201c}change\u{201d}.";
pub const NONE_STEADY: &str = "No single character goes with it steadily in this study.";

// Distances.
pub const CLOSENESS_HEADING: &str = "Which candidate is closest?";
