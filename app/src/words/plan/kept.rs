//! The words about plans that this browser keeps, and about papers that are out of date.

use crate::words::counted;

pub const INTRO: &str = "Each plan is kept in this browser at every change, on this machine only. Beginning or opening another leaves it as it is.";
pub const NO_TITLE: &str = "Plan without a title";
pub const OPEN: &str = "Open";
pub const IS_OPEN: &str = "open now";
pub const DELETE: &str = "Delete";
pub const TAKE_BACK: &str = "Undo";
pub const GONE: &str = "The kept plan is no longer there.";
pub const GONE_HINT: &str = "Another window may have deleted it. Open its file instead.";
pub const CANNOT_OPEN_HINT: &str = "It stays kept as it is.";
pub const BEGUN_HINT: &str = "It is kept as it was: open it under Kept plans, or undo.";
pub const PRINT_AGAIN: &str = "Print these pages again, and take the old ones away.";
pub const NOT_YET: &str = "The printed pages still fit the plan as it was made. Undo the change to keep them.";

/// On a wide screen and on a narrow one.
pub fn kept_count(count: usize) -> [String; 2] {
    [format!("Kept plans ({count})"), format!("Plans ({count})")]
}

pub fn about(samples: usize, assessors: usize, attributes: usize, made_at: Option<&str>) -> String {
    let made = made_at.map_or_else(|| "not made yet".to_owned(), |when| format!("made {when}"));
    [
        counted(samples, "sample", "samples"),
        counted(assessors, "assessor", "assessors"),
        counted(attributes, "attribute", "attributes"),
        made,
    ]
    .join(" \u{b7} ")
}

pub fn changed(when: &str) -> String {
    format!("changed {when}")
}

pub fn step_opened(title: &str) -> String {
    format!("opening the kept plan {title}")
}

pub fn cannot_open(title: &str, why: &str) -> String {
    format!("The kept plan {title} was not opened. {why}")
}

pub fn deleted(title: &str) -> String {
    format!("Deleted: {title}.")
}

pub fn begun(before: &str) -> String {
    format!("Another plan is begun beside \u{201c}{before}\u{201d}.")
}

/// "Open Mango nectar": what a button does, for those who hear it alone.
pub fn button_label(what: &str, title: &str) -> String {
    format!("{what}: {title}")
}

/// "Ballots, all sessions, 2026-03-14 09:26".
pub fn printed(kind: &str, session: Option<u32>, when: &str) -> String {
    let of = session.map_or_else(|| "all sessions".to_owned(), |number| format!("session {number}"));
    format!("{kind}, {of}, {when}")
}

pub fn log_printed(what: &str) -> String {
    format!("Printed: {what}.")
}

/// Whether printed pages still fit; names of those that don't, of so many.
pub fn fits(out_of_date: &[String], of: usize) -> String {
    match out_of_date.len() {
        0 => "fits the plan".to_owned(),
        all if all == of => format!("out of date: all {}", counted(of, "page", "pages")),
        some => format!("out of date: {some} of {}: {}", counted(of, "page", "pages"), listed(out_of_date)),
    }
}

pub fn printed_out_of_date(pages: usize, of: usize) -> String {
    format!("Of {} that were printed, {pages} no longer fit the plan.", counted(of, "page", "pages"))
}

/// What making the plan anew would do to printed pages; `changed` are the things that were changed since.
pub fn would_be_out_of_date(pages: usize, changed: &[String]) -> String {
    let what = if changed.is_empty() { String::new() } else { format!(" ({})", listed(changed)) };
    format!(
        "Something was changed after printing{what}. Once the plan is made anew, all {} are out of date.",
        counted(pages, "printed page", "printed pages")
    )
}

/// The first few of a list, and how many more there are.
fn listed(names: &[String]) -> String {
    const SHOWN: usize = 6;
    let shown = names.iter().take(SHOWN).cloned().collect::<Vec<_>>().join("; ");
    match names.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}
