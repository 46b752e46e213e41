//! What a saved file is called: by the study and a day. It asks no clock: the day is handed in.

use crate::study::{ReportField, Study};

/// Letters of the title that a name takes at most.
const TITLE_AT_MOST: usize = 60;

/// "mango-nectar-round-2-2026-03-14-report.html": title, day, what it is. The day is the date of the report where it is stated as
/// one (2026-03-14), else the beginning of `now`, such as "2026-11-28 23:13".
pub fn file_name(study: &Study, now: &str, what: &str) -> String {
    let stated = study.report.text(ReportField::ReportDate).and_then(day_of);
    let day = stated.or_else(|| day_of(now)).unwrap_or_default();
    let title = plain(&study.title);
    let parts = [title.as_str(), day, what];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

/// Small letters and digits, everything else as one hyphen.
fn plain(title: &str) -> String {
    let mut out = String::new();
    for letter in title.chars().flat_map(char::to_lowercase).take(TITLE_AT_MOST) {
        if letter.is_alphanumeric() {
            out.push(letter);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    out.trim_end_matches('-').to_owned()
}

/// The day that a text begins with, as year-month-day in digits.
fn day_of(text: &str) -> Option<&str> {
    let day = text.trim().get(..10)?;
    let fits = |(at, letter): (usize, char)| if at == 4 || at == 7 { letter == '-' } else { letter.is_ascii_digit() };
    day.chars().enumerate().all(fits).then_some(day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Scale, StudyBuilder};

    #[test]
    fn a_file_is_named_by_title_and_day() {
        let mut study = StudyBuilder::new(Scale::default()).finish("Mango nectar, round 2 (r\u{fc}ck)/..");
        assert_eq!(
            file_name(&study, "2026-11-28 23:13", "report.html"),
            "mango-nectar-round-2-r\u{fc}ck-2026-11-28-report.html"
        );
        study.report.texts.insert(ReportField::ReportDate, "2026-03-14".to_owned());
        assert_eq!(
            file_name(&study, "2026-11-28 23:13", "scores.csv"),
            "mango-nectar-round-2-r\u{fc}ck-2026-03-14-scores.csv"
        );
        study.report.texts.insert(ReportField::ReportDate, "spring".to_owned());
        study.title.clear();
        assert_eq!(file_name(&study, "", "results.json"), "results.json");
    }
}
