//! Inputs made wrong on purpose, seeded so that each comes again: what Likeness opens, mutated along its own structure,
//! and what must hold of it whatever came out. It knows no test runner and no browser.

pub mod campaign;
mod hold;
mod json;
mod seeds;
mod tables;
mod zips;

pub use hold::{Outcome, hold};

use likeness_core::numeric::random::Random;

/// A kind of file that Likeness opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Input {
    TextTable,
    Xlsx,
    Ods,
    StudyFile,
    PlanFile,
    OnScreenBallot,
    OnScreenResults,
    TypingFile,
}

impl Input {
    pub const ALL: [Input; 8] = [
        Input::TextTable,
        Input::Xlsx,
        Input::Ods,
        Input::StudyFile,
        Input::PlanFile,
        Input::OnScreenBallot,
        Input::OnScreenResults,
        Input::TypingFile,
    ];

    /// The name of a file of this kind.
    #[must_use]
    pub fn file_name(self) -> &'static str {
        match self {
            Input::TextTable => "panel.csv",
            Input::Xlsx => "panel.xlsx",
            Input::Ods => "panel.ods",
            Input::StudyFile => "panel.likeness.json",
            Input::PlanFile => "tasting.plan.json",
            Input::OnScreenBallot => "ballot.json",
            Input::OnScreenResults => "results.json",
            Input::TypingFile => "typing.json",
        }
    }

    /// The input with this file name's kind, for files that are kept.
    #[must_use]
    pub fn of_file_name(name: &str) -> Option<Input> {
        Input::ALL.into_iter().find(|input| name.ends_with(input.file_name()))
    }
}

/// The input of this kind, seed and number: the same bytes each time.
#[must_use]
pub fn case(input: Input, seed: u64, number: u64) -> Vec<u8> {
    let mut chance = Random::seeded_for(seed ^ number.wrapping_mul(0x9e37_79b9_7f4a_7c15), input.file_name());
    let mut bytes = match input {
        Input::TextTable => tables::text_table(&mut chance),
        Input::Xlsx | Input::Ods => zips::workbook(input, &mut chance),
        _ => json::file(input, &mut chance),
    };
    // One in eight is also damaged without regard to what it means.
    if chance.below(8) == 0 {
        damage(&mut bytes, &mut chance);
    }
    bytes
}

/// Flips, cuts, doubles and inserts bytes.
fn damage(bytes: &mut Vec<u8>, chance: &mut Random) {
    for _ in 0..=chance.below(4) {
        if bytes.is_empty() {
            return;
        }
        let at = chance.below(bytes.len());
        match chance.below(5) {
            0 => bytes[at] ^= 1 << chance.below(8),
            1 => bytes[at] = chance.below(256) as u8,
            2 => bytes.truncate(at),
            3 => bytes.insert(at, pick(&[0, b'"', b'\r', 0xff, b'{', b'<'], chance)),
            _ => {
                let end = (at + 1 + chance.below(64)).min(bytes.len());
                let again = bytes[at..end].to_vec();
                bytes.splice(at..at, again);
            }
        }
    }
}

fn pick<T: Clone>(from: &[T], chance: &mut Random) -> T {
    from[chance.below(from.len())].clone()
}

/// Texts that files have been known to hold, and those that somebody might put there to do harm.
const NASTY: [&str; 44] = [
    "",
    " ",
    "0",
    "-0",
    "-1",
    "99",
    "100",
    "105",
    "1e308",
    "-1e999",
    "NaN",
    "inf",
    "1,5",
    "1.234,5",
    "1'234",
    "12 mm",
    "50 %",
    "007",
    "4294967296",
    "18446744073709551616",
    "9007199254740993",
    "\u{ff11}\u{ff12}",
    "\u{0661}\u{0662}",
    "=1+1",
    "=HYPERLINK(\"x\")",
    "'=x",
    "@sum",
    "+cmd",
    "<img src=x onerror=alert(1)>",
    "]]>",
    "javascript:alert(1)",
    "\u{202e}evil",
    "a\u{0}b",
    "A\u{301}nna",
    "\u{410}nna",
    "two\nlines",
    "a;b\tc,d",
    "\"quoted\"",
    "\u{feff}",
    "\u{1f96d}",
    "#REF!",
    "2026-03-29T02:30",
    "assessor",
    "sample",
];

/// One of the texts above, or, at times, a very long one.
fn nasty(chance: &mut Random) -> String {
    if chance.below(40) == 0 { "x\u{e9}".repeat(1 + chance.below(5_000)) } else { pick(&NASTY, chance).to_owned() }
}
