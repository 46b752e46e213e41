//! One source of scores, laid out as the plan is: a line a cup, an entry an attribute. It knows no other source.

use crate::notice::Notice;
use crate::plan::data_entry::entry::{DataEntry, Entry};
use crate::plan::on_screen::collect::{Collected, CollectedFile};
use crate::plan::tasting_plan::TastingPlan;
use serde::{Deserialize, Serialize};

/// Where scores come from. Where sources agree, the score of the first one that has it stands: a screen measures itself,
/// a picture is measured to a tenth of a millimetre, a ruler is read by eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ScoreSource {
    Screens,
    Pictures,
    Typed,
}

/// The scores of one source.
#[derive(Clone, Debug, PartialEq)]
pub struct SourceScores {
    pub source: ScoreSource,
    /// One line a serving of the plan, one entry an attribute, in units of its scale.
    pub entries: Vec<Vec<Entry>>,
    /// What came from it, for the log of the study.
    pub log: String,
    /// What is to be known of it, but for what is missing.
    pub notices: Vec<Notice>,
}

impl ScoreSource {
    pub const ALL: [ScoreSource; 3] = [ScoreSource::Screens, ScoreSource::Pictures, ScoreSource::Typed];

    /// "typed from paper".
    pub fn in_words(self) -> &'static str {
        match self {
            ScoreSource::Screens => "made on screens",
            ScoreSource::Pictures => "read from pictures",
            ScoreSource::Typed => "typed from paper",
        }
    }
}

/// A line a serving of the plan, an entry an attribute, none typed.
pub fn blank_entries(plan: &TastingPlan) -> Vec<Vec<Entry>> {
    vec![vec![Entry::NotTyped; plan.attributes.attributes.len()]; plan.servings().len()]
}

impl SourceScores {
    /// How many entries it has, lines without a mark among them.
    pub fn entry_count(&self) -> usize {
        self.entries.iter().flatten().filter(|entry| **entry != Entry::NotTyped).count()
    }

    pub fn entry(&self, serving: usize, attribute: usize) -> Entry {
        self.entries.get(serving).and_then(|line| line.get(attribute)).copied().unwrap_or_default()
    }
}

impl DataEntry {
    /// What was typed, as a source; it must come from the same plan, unchanged since.
    pub fn source(&self, plan: &TastingPlan, tolerance: f64) -> SourceScores {
        let mut entries = blank_entries(plan);
        for (page, line) in entries.iter_mut().enumerate() {
            line.iter_mut().enumerate().for_each(|(row, entry)| *entry = self.standing(page, row));
        }
        let typed = self.typing_in_words(tolerance);
        SourceScores { source: ScoreSource::Typed, entries, log: typed.log, notices: typed.notices }
    }
}

impl Collected {
    /// What was made on screens, as a source. `files` are those that were collected.
    pub fn source(&self, plan: &TastingPlan, files: &[CollectedFile]) -> SourceScores {
        let mut entries = blank_entries(plan);
        for (serving, attribute, entry) in self.placed_entries(plan, files) {
            if let Some(place) = entries.get_mut(serving).and_then(|line| line.get_mut(attribute)) {
                *place = entry;
            }
        }
        let (log, notices) = (self.in_words(), self.notices.clone());
        SourceScores { source: ScoreSource::Screens, entries, log, notices }
    }
}
