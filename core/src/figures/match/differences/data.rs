//! What the figure of differences shows, taken from an analysis: rows, range, order and words, no places.

use super::options::{DifferenceOrder, DifferencesOptions};
use crate::figures::parts;
use crate::figures::scene::primitives::FigureTable;
use crate::stats::{Analysis, AttributeAnalysis, Defined, DifferenceTest, NotDefined, TargetDifference, Verdict};
use crate::text::{lists, numbers};
use std::ops::Range;

/// Everything that the figure shows, and in which words.
pub struct DifferencesData {
    /// Unit of the scale, as printed.
    pub unit: String,
    /// Decimals of scores in labels; the table has one more.
    pub decimals: usize,
    /// Range of every axis; holds zero, all margins and all intervals that are drawn.
    pub lower: f64,
    /// Upper end of the same range.
    pub upper: f64,
    /// Name of the target.
    pub target: String,
    /// Names of the candidates, in the order of the study.
    pub candidates: Vec<String>,
    /// In ballot order.
    pub rows: Vec<DifferenceRow>,
    /// The level of the interval inside which a match must lie: "90 %" at an alpha of 5 %.
    pub level: String,
    /// Where every difference without a test lacks it for the same reason, that reason is said once.
    pub shared_reason: Option<NotDefined>,
}

/// One attribute with the difference of each candidate.
pub struct DifferenceRow {
    /// Name of the attribute.
    pub attribute: String,
    /// Whether it decides about a verdict on the whole.
    pub deciding: bool,
    /// One a candidate; absent where the two were not compared.
    pub differences: Vec<Option<TargetDifference>>,
}

/// Candidates that share their rows, and the order of those.
pub struct Band {
    /// Places in `DifferencesData::candidates`.
    pub candidates: Vec<usize>,
    /// Places in `DifferencesData::rows`.
    pub rows: Vec<usize>,
}

impl DifferencesData {
    /// Errors: in words, why there is nothing to draw.
    pub fn gather(
        analysis: &Analysis,
        candidates: Option<&[String]>,
        unit: Option<&String>,
        intervals: bool,
    ) -> Result<Self, String> {
        let target = analysis.target.clone().ok_or("no target is named")?;
        let candidates = parts::chosen_candidates(analysis, candidates);
        if candidates.is_empty() {
            return Err("there is no candidate beside the target".to_owned());
        }
        if analysis.attributes.is_empty() {
            return Err("no attribute counts".to_owned());
        }
        let rows = analysis.attributes.iter().map(|entry| DifferenceRow::of(entry, &candidates)).collect();
        Ok(DifferencesData::of_rows(analysis, target, candidates, rows, parts::unit_of(analysis, unit), intervals))
    }

    fn of_rows(
        analysis: &Analysis,
        target: String,
        candidates: Vec<String>,
        rows: Vec<DifferenceRow>,
        unit: String,
        intervals: bool,
    ) -> Self {
        let (lower, upper) = range_of(&rows, analysis.margin, intervals);
        let shared_reason = shared_reason(&rows);
        let decimals = numbers::decimals_in_words(analysis.scale_maximum);
        let level = numbers::shown_percent(1.0 - 2.0 * analysis.alpha);
        DifferencesData { unit, decimals, lower, upper, target, candidates, rows, level, shared_reason }
    }

    /// The candidates of a range, with rows in the order asked for.
    pub fn band(&self, candidates: Range<usize>, options: &DifferencesOptions) -> Band {
        let named = options.order_by.as_ref().and_then(|name| self.candidates.iter().position(|entry| entry == name));
        let by = named.unwrap_or(candidates.start);
        let mut rows: Vec<usize> = (0..self.rows.len()).collect();
        let size = |row: usize| match self.rows[row].differences[by].as_ref().map(|entry| entry.difference) {
            Some(difference) if options.order == DifferenceOrder::LargestFirst => difference.abs(),
            Some(difference) => difference,
            None => f64::NEG_INFINITY,
        };
        if options.order != DifferenceOrder::Ballot {
            // Stable, so that equal differences keep the ballot's order.
            rows.sort_by(|&a, &b| size(b).total_cmp(&size(a)));
        }
        Band { candidates: candidates.collect(), rows }
    }

    /// What the figure is called.
    pub fn title(&self) -> String {
        match &self.candidates[..] {
            [only] => format!("Differences of {only} to the target {}", self.target),
            several => format!("Differences of {} candidates to the target {}", several.len(), self.target),
        }
    }

    /// Sentences that belong above the figure.
    pub fn notes(&self, options: &DifferencesOptions) -> Vec<String> {
        let mut notes = Vec::new();
        if options.intervals {
            notes.push(format!(
                "Candidate minus target in {}: point, and {} interval of each difference by itself. Shaded: the margin.",
                self.unit, self.level
            ));
        } else {
            notes.push(format!("Candidate minus target in {}. Shaded: the margin.", self.unit));
        }
        if let Some(reason) = &self.shared_reason {
            notes.push(format!("Hollow points: interval {reason}."));
        }
        notes
    }

    /// Sentences that belong below the figure.
    pub fn footnotes(&self) -> Vec<String> {
        let mut notes = vec![format!(
            "Match: the {} interval lies inside the margin. Off: shown to differ, all attributes tested together, and no \
             match. Not shown: anything else.",
            self.level
        )];
        if self.rows.iter().any(|row| !row.deciding) {
            notes.push("Grey name, verdict in brackets: not a deciding attribute.".to_owned());
        }
        notes
    }

    /// What the figure shows, in one sentence.
    pub fn summary(&self) -> String {
        let sentences: Vec<String> = (0..self.candidates.len()).map(|place| self.candidate_in_words(place)).collect();
        format!("Differences to the target {}. {}.", self.target, sentences.join(". "))
    }

    fn candidate_in_words(&self, place: usize) -> String {
        let with = |verdict: Verdict| {
            let found = self.rows.iter().filter_map(move |row| Some((row, row.differences[place].as_ref()?)));
            found.filter(move |(_, entry)| entry.verdict == verdict)
        };
        let in_words = |(row, entry): (&DifferenceRow, &TargetDifference)| {
            let by = numbers::shown_signed(entry.difference, self.decimals);
            format!("{} {by} {}", row.attribute, self.unit)
        };
        let off: Vec<String> = with(Verdict::Off).map(in_words).collect();
        let off = if off.is_empty() { "none".to_owned() } else { lists::listed(&off) };
        let (matches, open) = (with(Verdict::Match).count(), with(Verdict::NotShown).count());
        format!("{}: off on {off}; match on {matches}, not shown on {open}", self.candidates[place])
    }

    /// The numbers behind the figure.
    pub fn table(&self) -> FigureTable {
        let unit = &self.unit;
        let headings = [
            ("Candidate".to_owned(), false),
            ("Attribute".to_owned(), false),
            (format!("Difference, {unit}"), true),
            (format!("{} interval, {unit}", self.level), true),
            (format!("Margin, {unit}"), true),
            ("Verdict".to_owned(), false),
        ];
        let columns: Vec<(&str, bool)> =
            headings.iter().map(|(heading, is_number)| (heading.as_str(), *is_number)).collect();
        let mut table = FigureTable::with_columns(&columns);
        for (place, candidate) in self.candidates.iter().enumerate() {
            for row in &self.rows {
                table.rows.push(self.table_row(candidate, row, row.differences[place].as_ref()));
            }
        }
        table
    }

    fn table_row(&self, candidate: &str, row: &DifferenceRow, difference: Option<&TargetDifference>) -> Vec<String> {
        let decimals = self.decimals + 1;
        let mut cells = vec![candidate.to_owned(), row.attribute.clone()];
        match difference {
            None => cells.extend(["–", "–", "–", "not compared"].map(str::to_owned)),
            Some(entry) => {
                cells.push(numbers::shown_signed(entry.difference, decimals));
                cells.push(match &entry.test {
                    Ok(test) => parts::span(test.match_interval, decimals),
                    Err(reason) => reason.to_string(),
                });
                cells.push(numbers::shown(entry.margin, decimals));
                cells.push(verdict_words(entry.verdict, row.deciding));
            }
        }
        cells
    }

    /// "+14 (9 to 19)".
    pub fn value_words(&self, difference: &TargetDifference) -> String {
        let by = numbers::shown_signed(difference.difference, self.decimals);
        match &difference.test {
            Ok(test) => format!("{by} ({})", parts::span(test.match_interval, self.decimals)),
            Err(_) => by,
        }
    }

    /// What is read out for one point.
    pub fn lines_of(&self, candidate: usize, row: &DifferenceRow) -> Vec<String> {
        let mut lines = vec![format!("{}, {}", self.candidates[candidate], row.attribute)];
        let Some(entry) = &row.differences[candidate] else {
            lines.push("not compared with the target".to_owned());
            return lines;
        };
        let by = numbers::shown_signed(entry.difference, self.decimals);
        lines.push(format!("{by} {} against the target", self.unit));
        match &entry.test {
            Ok(test) => {
                lines.push(format!("{} interval {}", self.level, parts::span(test.match_interval, self.decimals)));
            }
            Err(reason) => lines.push(format!("interval {reason}")),
        }
        let margin = numbers::shown(entry.margin, self.decimals);
        let role = if row.deciding { "" } else { " (not a deciding attribute)" };
        let beyond = if entry.beyond { ", beyond the margin" } else { "" };
        lines.push(format!("{}{beyond}, margin ±{margin} {}{role}", entry.verdict.in_words(), self.unit));
        lines
    }
}

impl DifferenceRow {
    fn of(entry: &AttributeAnalysis, candidates: &[String]) -> Self {
        DifferenceRow {
            attribute: entry.attribute.clone(),
            deciding: entry.deciding,
            differences: candidates.iter().map(|name| find_difference(&entry.versus_target, name)).collect(),
        }
    }

    /// Whether any of these candidates is off.
    pub fn is_off(&self, candidates: &[usize]) -> bool {
        let is_off = |&place: &usize| self.differences[place].as_ref().is_some_and(|d| d.verdict == Verdict::Off);
        candidates.iter().any(is_off)
    }
}

/// "off", in brackets where the attribute does not decide.
pub fn verdict_words(verdict: Verdict, deciding: bool) -> String {
    if deciding { verdict.in_words().to_owned() } else { format!("({})", verdict.in_words()) }
}

/// A difference that can be drawn; what is not a number counts as not compared.
fn find_difference(entries: &[TargetDifference], sample: &str) -> Option<TargetDifference> {
    let found = entries.iter().find(|entry| entry.sample == sample)?;
    let all_finite = [found.difference, found.margin].iter().all(|value| value.is_finite());
    all_finite.then(|| TargetDifference { test: drawable(&found.test), ..found.clone() })
}

fn drawable(test: &Defined<DifferenceTest>) -> Defined<DifferenceTest> {
    let finite = |test: &DifferenceTest| test.match_interval.lower.is_finite() && test.match_interval.upper.is_finite();
    match test {
        Ok(test) if !finite(test) => Err(NotDefined::because("the interval has no bounds")),
        other => other.clone(),
    }
}

fn range_of(rows: &[DifferenceRow], margin: f64, intervals: bool) -> (f64, f64) {
    let margin = if margin.is_finite() && margin > 0.0 { margin } else { 1.0 };
    let (mut lower, mut upper) = (-margin, margin);
    for entry in rows.iter().flat_map(|row| row.differences.iter().flatten()) {
        let mut reach = vec![entry.difference, entry.margin, -entry.margin];
        if let (Ok(test), true) = (&entry.test, intervals) {
            reach.extend([test.match_interval.lower, test.match_interval.upper]);
        }
        lower = reach.iter().copied().fold(lower, f64::min);
        upper = reach.iter().copied().fold(upper, f64::max);
    }
    let room = (upper - lower) * 0.04;
    (lower - room, upper + room)
}

fn shared_reason(rows: &[DifferenceRow]) -> Option<NotDefined> {
    let all = rows.iter().flat_map(|row| row.differences.iter().flatten());
    let reasons: Vec<&NotDefined> = all.filter_map(|entry| entry.test.as_ref().err()).collect();
    let first = *reasons.first()?;
    (reasons.len() > 2 && reasons.iter().all(|reason| *reason == first)).then(|| first.clone())
}
