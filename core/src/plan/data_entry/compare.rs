//! Two people typed the same paper: where do they differ, and what stands in the end. It knows nothing of typing.

use super::entry::{DataEntry, Entry, Resolution};
use crate::notice::{Notice, Place, Severity};
use crate::numeric::tolerance::SAME_NUMBER;
use crate::plan::tasting_plan::TastingPlan;
use crate::study::{LogKind, Study};
use crate::text::lists::counted_regular as counted;

/// Where the two entries of one mark differ.
#[derive(Clone, Debug, PartialEq)]
pub struct EntryDifference {
    pub page: usize,
    pub row: usize,
    pub assessor: String,
    pub code: String,
    pub attribute: String,
    pub first: Entry,
    pub second: Entry,
    /// What somebody decided by looking at the paper.
    pub resolved: Option<Entry>,
}

/// What data entry gave.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyedStudy {
    pub study: Study,
    /// Marks typed once only.
    pub typed_once: usize,
    /// Marks typed by nobody.
    pub not_typed: usize,
    /// Differences that nobody decided; the first entry stands.
    pub undecided: usize,
}

/// What was typed, for a study that has other sources too.
#[derive(Clone, Debug, PartialEq)]
pub struct TypingInWords {
    pub log: String,
    pub notices: Vec<Notice>,
}

/// How many marks were typed once, by nobody, differently, and of these not decided.
struct TypingCounts {
    typed_once: usize,
    not_typed: usize,
    differing: usize,
    undecided: usize,
}

impl TypingCounts {
    fn in_words(&self, scores: usize, tolerance: f64) -> String {
        let TypingCounts { typed_once, differing, undecided, .. } = self;
        format!(
            "{scores} scores typed from paper; {typed_once} typed by one person only, {differing} differed by more than \
             {tolerance} and {undecided} of these were not decided."
        )
    }
}

impl DataEntry {
    /// All marks that both people typed and that differ by more than `tolerance` units of the scale, or where one found
    /// no mark. A ruler read twice by eye differs by half a millimetre easily; 1 is a sensible tolerance.
    pub fn differences(&self, tolerance: f64) -> Vec<EntryDifference> {
        let mut found = Vec::new();
        for (page, (first, second)) in self.first.iter().zip(&self.second).enumerate() {
            for (row, (left, right)) in first.iter().zip(second).enumerate() {
                found.extend(differ(*left, *right, tolerance).then(|| self.difference(page, row, [*left, *right])));
            }
        }
        found
    }

    fn difference(&self, page: usize, row: usize, [first, second]: [Entry; 2]) -> EntryDifference {
        let (assessor, code) = (self.pages[page].assessor.clone(), self.pages[page].code.clone());
        let (attribute, resolved) = (self.attributes[row].clone(), self.resolution(page, row));
        EntryDifference { page, row, assessor, code, attribute, first, second, resolved }
    }

    /// Decides a difference after a look at the paper. Deciding again replaces the decision.
    pub fn resolve(&mut self, page: usize, row: usize, entry: Entry) {
        self.resolved.retain(|resolution| (resolution.page, resolution.row) != (page, row));
        if page < self.pages.len() && row < self.attributes.len() && entry != Entry::NotTyped {
            self.resolved.push(Resolution { page, row, entry });
        }
    }

    /// What stands for a mark: the decision, else the first entry, else the second.
    pub fn standing(&self, page: usize, row: usize) -> Entry {
        let typed =
            |entries: &[Vec<Entry>]| entries.get(page).and_then(|line| line.get(row)).copied().unwrap_or_default();
        let first = typed(&self.first);
        self.resolution(page, row).unwrap_or(if first == Entry::NotTyped { typed(&self.second) } else { first })
    }

    /// The study with all scores in their place. The data entry must come from the same plan, unchanged since.
    pub fn keyed_study(&self, plan: &TastingPlan, tolerance: f64, when: &str) -> KeyedStudy {
        let mut study = plan.study_skeleton(when);
        let scores = self.put_scores(&mut study);
        let counts = self.typing_counts(tolerance);
        study.note_in_log(when, LogKind::Opened, counts.in_words(scores, tolerance));
        let TypingCounts { typed_once, not_typed, undecided, .. } = counts;
        study.notices.extend(typing_notices(typed_once, not_typed, undecided));
        KeyedStudy { study, typed_once, not_typed, undecided }
    }

    /// What was typed in a line of the log, and what is to be known of it beside what is missing: that may come from elsewhere.
    pub fn typing_in_words(&self, tolerance: f64) -> TypingInWords {
        let counts = self.typing_counts(tolerance);
        let standing = (0..self.pages.len()).flat_map(|page| (0..self.attributes.len()).map(move |row| (page, row)));
        let scores = standing.filter(|(page, row)| matches!(self.standing(*page, *row), Entry::Score(_))).count();
        let notices = typing_notices(counts.typed_once, 0, counts.undecided);
        TypingInWords { log: counts.in_words(scores, tolerance), notices }
    }

    fn typing_counts(&self, tolerance: f64) -> TypingCounts {
        let blanks = || self.first.iter().flatten().zip(self.second.iter().flatten());
        let is_blank = |entry: &Entry| *entry == Entry::NotTyped;
        let differences = self.differences(tolerance);
        TypingCounts {
            typed_once: blanks().filter(|(first, second)| is_blank(first) != is_blank(second)).count(),
            not_typed: blanks().filter(|(first, second)| is_blank(first) && is_blank(second)).count(),
            differing: differences.len(),
            undecided: differences.iter().filter(|difference| difference.resolved.is_none()).count(),
        }
    }

    /// Puts every mark that stands in its place; how many there are.
    fn put_scores(&self, study: &mut Study) -> usize {
        let mut scores = 0;
        for page in 0..self.pages.len() {
            for row in 0..self.attributes.len() {
                if let Entry::Score(value) = self.standing(page, row) {
                    study.set_score(page, row, Some(value));
                    scores += 1;
                }
            }
        }
        scores
    }

    fn resolution(&self, page: usize, row: usize) -> Option<Entry> {
        let of_mark = |resolution: &&Resolution| (resolution.page, resolution.row) == (page, row);
        self.resolved.iter().find(of_mark).map(|resolution| resolution.entry)
    }
}

fn differ(left: Entry, right: Entry, tolerance: f64) -> bool {
    match (left, right) {
        (Entry::NotTyped, _) | (_, Entry::NotTyped) | (Entry::NoMark, Entry::NoMark) => false,
        // A hair's breadth is added, so that 47 and 48 don't differ by more than 1 in binary.
        (Entry::Score(left), Entry::Score(right)) => (left - right).abs() > tolerance + SAME_NUMBER,
        _ => true,
    }
}

/// What the report should say of the typing.
fn typing_notices(typed_once: usize, not_typed: usize, undecided: usize) -> Vec<Notice> {
    let say = |severity, count: usize, what: String, hint: &str| {
        (count > 0).then(|| Notice::new(severity, Place::default(), what, hint))
    };
    let of_marks = |count: usize| counted(count, "mark");
    let once = format!("{} typed from paper by one person only.", of_marks(typed_once));
    let blank = format!("{} not typed from paper and missing.", of_marks(not_typed));
    let open =
        format!("{} typed differently by two people and not decided; the first entry stands.", of_marks(undecided));
    [
        say(Severity::Check, not_typed, blank, "Finish typing, or leave them missing."),
        say(Severity::Check, undecided, open, "Look at the paper and decide."),
        say(Severity::Understood, typed_once, once, "A second person finds slips that no guard finds."),
    ]
    .into_iter()
    .flatten()
    .collect()
}
