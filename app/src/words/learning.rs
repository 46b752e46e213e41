//! Words of the page for learning: the invented studies, exercises with their answers, keys, checks.
//!
//! What the answers say is computed anew by the tests of `state::demos`.

use super::number;

pub const LEARN: &str = "Learn and check";
pub const LEARN_SHORT: &str = "Learn";
pub const LEARN_INTRO: &str =
    "Invented studies to explore, the keys of this page, and a check that this machine computes what was published.";
pub const BACK: &str = "Back";
pub const EXPLORE: &str = "Three invented studies";
pub const EXPLORE_INTRO: &str =
    "Nobody tasted them: a program made the numbers up from a seed, so the truth behind each is known.";
pub const OPEN_DEMO: &str = "Open this study";
pub const EXERCISES: &str = "Exercises";
pub const ANSWER: &str = "Compare with what you saw";

pub const KEYS: &str = "Keys";
pub const KEYS_SWITCH: &str = "Single keys on";
pub const KEYS_SWITCH_ABOUT: &str =
    "Switch them off if you speak to your computer or keys are pressed by accident. Undo and redo stay.";
pub const NUMBERS_READ: &str = "Numbers read";
pub const WITH_POINT: &str = "12.3";
pub const WITH_COMMA: &str = "12,3";
pub const KEY: &str = "Key";
pub const DOES: &str = "What it does";
/// Keys and what they do, in the order of the sheet.
pub const KEY_SHEET: [(&str, &str); 11] = [
    ("Tab, Shift+Tab", "Go to the next or the previous thing that can be used."),
    ("Enter, Space", "Press the button, tick the box, open what is folded."),
    ("Ctrl+Z, Ctrl+Shift+Z", "Undo the last step, do it again. Every step is in the record."),
    ("Ctrl+V", "Paste a table of scores anywhere on the page."),
    ("[ and ]", "The view before, the view after."),
    ("1 to 7", "The first to the seventh view."),
    ("?", "This page, and back."),
    ("Arrow keys in a figure", "Read its values one by one; Escape stops."),
    (
        "Arrow keys in a table",
        "Move from cell to cell where cells can be edited or lead to marks, as in Scores and Panel; Enter presses the cell. In other tables, scroll.",
    ),
    ("Ctrl+P", "Print what is open; the record of what was done prints with it."),
    ("Escape", "Leave a field as it was."),
];

pub const CHECKS: &str = "Does this machine compute what was published?";
pub const CHECKS_INTRO: &str = "Each figure is computed now, in this browser, by the code that judges your study, and stands beside the printed one.";
pub const RUN_CHECKS: &str = "Compute them now";
pub const RUN_AGAIN: &str = "Compute them again";
pub const COMPUTING: &str = "Computing.";
pub const EXPECTED: &str = "Expected";
pub const GOT: &str = "Computed here";
pub const TOLERANCE: &str = "May differ by";
pub const AGREES: &str = "Agrees";
pub const YES: &str = "yes";
pub const NO: &str = "NO";
pub const NOTHING_CAME: &str = "nothing";
pub const FIGURE: &str = "Figure";

/// One thing to find out by looking.
pub struct Exercise {
    pub question: &'static str,
    pub answer: &'static str,
}

pub static TWELVE_EXERCISES: [Exercise; 4] = [
    Exercise {
        question: "Match: which candidate may stand in for fresh mango, and which one misses by a single character?",
        answer: "Candidate A matches on all fourteen deciding attributes. Candidate D is off by \u{201c}resinous\u{201d} alone: about 14 mm too much, thirteen others match.",
    },
    Exercise {
        question: "Match: set the margin to 6 mm. What becomes of candidate A, and did the scores change? Undo, and look at the record in Report.",
        answer: "A still matches, but as a whole only: its typical difference is shown to be small, while \u{201c}peach\u{201d} could differ by up to 9.4 mm. Only the margin changed, and the record says when.",
    },
    Exercise {
        question: "Profile: open the analysis of variance of \u{201c}bitter\u{201d}. Do the samples differ? What would the wrong denominator say?",
        answer: "Against assessor \u{d7} sample p is 0.16: not shown. Divided by the error between replicates F nearly doubles to 3.4, and one would claim a difference that rests on the same people tasting twice.",
    },
    Exercise {
        question: "Map: which two candidates lie on opposite sides of the target, and along which attributes?",
        answer: "B lies towards cooked and sweet, C towards green mango and sour. Equal distances can hide opposite faults.",
    },
];

pub static LARGE_EXERCISES: [Exercise; 3] = [
    Exercise {
        question: "\u{201c}Fresh mango again\u{201d} is the target under another code. How far from the target is it, and what does that say about candidate E?",
        answer: "Its profile lies 5.7 mm away, 0.0 with the scatter taken off: that much this panel makes of nothing. E, at 3.5 mm, is no farther than the target from itself.",
    },
    Exercise {
        question: "Match: \u{201c}sweet\u{201d} of \u{201c}Fresh mango again\u{201d} has an interval that leaves out zero. Why is there no alarm?",
        answer: "Among twelve attributes some do this by chance. Asked of all of them together, p is 0.20: the target does not differ from itself. And the interval lies inside the margin, so that it matches.",
    },
    Exercise {
        question: "Match: set the margin to 6 mm. Which candidate still matches on every attribute, and what becomes of the target served twice?",
        answer: "E still does. Of the target's second cup \u{201c}sweet\u{201d} could differ by up to 8.1 mm, so that it matches as a whole only: a margin near what a panel makes of one and the same food can hardly be shown on every attribute. What the two cups say about margins is for the next study.",
    },
];

pub static SMALL_EXERCISES: [Exercise; 3] = [
    Exercise {
        question: "Match: nothing about candidate G is off. Is it a match?",
        answer: "No: one attribute of twelve is shown to match, eleven are not shown either way. Six assessors who scatter this much leave intervals wider than the margin.",
    },
    Exercise {
        question: "Panel: one page slipped by a line. Whose, which sample, which replicate, and what is the evidence?",
        answer: "Dina, candidate G, second replicate, from \u{201c}green mango\u{201d} on: the marks fit the panel about three times better when each is moved up by one line.",
    },
    Exercise {
        question: "Scores: may Dina's page be left out? Write the reason, and see what changes.",
        answer: "Only after looking at the paper sheet, and with that as the reason. Leaving out someone because they disagree would make any panel look good.",
    },
];

pub const TWELVE_TITLE: &str = "Mango nectar (invented)";
pub const TWELVE_ABOUT: &str =
    "Twelve assessors, fresh mango as the target, four candidates: one that hits and three that miss.";
pub const LARGE_TITLE: &str = "A panel large enough (invented)";
pub const LARGE_ABOUT: &str =
    "Twenty-four assessors, the target served twice under two codes, a true match that can be shown to be one.";
pub const SMALL_TITLE: &str = "A panel too small (invented)";
pub const SMALL_ABOUT: &str = "Six assessors who scatter widely, and one page that slipped by a line.";

/// "38 of 38 figures agree."
pub fn checks_in_words(agree: usize, all: usize) -> String {
    if agree == all {
        format!("All {all} figures agree with what was published.")
    } else {
        format!(
            "{agree} of {all} figures agree. Don't use the results of this browser until it is known why; try another one."
        )
    }
}

/// A number with every digit that is known, as a check compares it.
pub fn exact_number(value: f64) -> String {
    let digits = format!("{value:.12}");
    let short = digits.trim_end_matches('0').trim_end_matches('.');
    let small = value.abs() < 1e-3 && value.abs() > 0.0;
    if small { format!("{value:.10e}") } else { short.to_owned() }
}

/// The size of a small number: "0.5 \u{d7} 10^-9" is too much for a table, "5e-10" is enough.
pub fn rough_number(value: f64) -> String {
    if value.abs() < 1e-3 && value.abs() > 0.0 { format!("{value:.0e}") } else { number(value) }
}
