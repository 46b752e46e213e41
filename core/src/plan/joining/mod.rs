//! Scores of one plan from several sources, joined into one study: typed from paper, read from pictures, made on screens.
//! Where two sources differ, a person decides; nothing is overwritten silently.

mod compare;
mod source;
mod study;
#[cfg(test)]
mod tests;

pub use compare::{JoinDecision, SourceDifference};
pub use source::{ScoreSource, SourceScores, blank_entries};
pub use study::{JoinedScores, PageProgress};
