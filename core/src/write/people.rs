//! Assessors by name or by number. Names are personal data: where the leader wants numbers, no name may be left in any
//! table, figure, log line or remark of the report and the workbook.

use crate::study::Study;

/// The study as report and workbook show it: as it is, or with numbers for assessors everywhere.
pub fn as_shown(study: &Study) -> Study {
    let mut shown = study.clone();
    if !study.report.assessors_as_numbers {
        return shown;
    }
    let names = Names::of(study);
    for (index, assessor) in shown.assessors.iter_mut().enumerate() {
        assessor.name = numbered(index);
    }
    shown.title = names.replaced(&shown.title);
    shown.exclusions.iter_mut().for_each(|exclusion| exclusion.reason = names.replaced(&exclusion.reason));
    for event in &mut shown.record {
        event.what = names.replaced(&event.what);
        event.note = names.replaced(&event.note);
    }
    if let Some(record) = &mut shown.from_pictures {
        record.pages.iter_mut().for_each(|page| page.file = names.replaced(&page.file));
        record.failed.iter_mut().for_each(|failed| failed.file = names.replaced(&failed.file));
        record.pages.iter_mut().flat_map(|page| &mut page.rows).for_each(|row| row.who = names.replaced(&row.who));
    }
    shown.edits.iter_mut().for_each(|edit| edit.reason = names.replaced(&edit.reason));
    shown.log.iter_mut().for_each(|entry| entry.what = names.replaced(&entry.what));
    for notice in &mut shown.notices {
        notice.what = names.replaced(&notice.what);
        notice.hint = names.replaced(&notice.hint);
        // A wide table may carry names of assessors as headers.
        notice.place.column_name = notice.place.column_name.as_deref().map(|name| names.replaced(name));
        notice.place.sheet = notice.place.sheet.as_deref().map(|name| names.replaced(name));
    }
    for texts in [&mut shown.report.lots, &mut shown.report.references] {
        texts.values_mut().for_each(|text| *text = names.replaced(text));
    }
    shown.report.texts.values_mut().for_each(|text| *text = names.replaced(text));
    shown
}

/// "assessor 1".
fn numbered(index: usize) -> String {
    format!("assessor {}", index + 1)
}

/// Names to look for in running text, longest first, with what stands in their place.
struct Names {
    known: Vec<(String, String)>,
}

impl Names {
    /// Names of samples and attributes are known too, and stay: "Candidate A" is no place for assessor A.
    fn of(study: &Study) -> Self {
        let numbered = |(index, assessor): (usize, &crate::study::Assessor)| (assessor.name.clone(), numbered(index));
        let mut known: Vec<(String, String)> = study.assessors.iter().enumerate().map(numbered).collect();
        let samples = study.samples.iter().map(|sample| &sample.name);
        let attributes = study.attributes.iter().map(|attribute| &attribute.name);
        for name in samples.chain(attributes) {
            if !known.iter().any(|(other, _)| other == name) {
                known.push((name.clone(), name.clone()));
            }
        }
        known.retain(|(name, _)| !name.is_empty());
        known.sort_by(|a, b| b.0.len().cmp(&a.0.len()).then_with(|| a.0.cmp(&b.0)));
        Names { known }
    }

    /// The text with every name of an assessor that stands as a word of its own replaced.
    fn replaced(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        let mut before: Option<char> = None;
        while let Some(next) = rest.chars().next() {
            let at_word = before.is_none_or(|letter| !letter.is_alphanumeric());
            let found = self.known.iter().find(|(name, _)| at_word && starts_with_word(rest, name));
            let (length, put) = match found {
                Some((name, shown)) => (name.len(), without_doubled_word(&out, shown).to_owned()),
                None => (next.len_utf8(), next.to_string()),
            };
            out.push_str(&put);
            before = rest[..length].chars().next_back();
            rest = &rest[length..];
        }
        out
    }
}

fn starts_with_word(text: &str, name: &str) -> bool {
    text.strip_prefix(name).is_some_and(|after| !after.chars().next().is_some_and(char::is_alphanumeric))
}

/// "assessor " before a name and "assessor 1" in its place would say the word twice.
fn without_doubled_word<'a>(before: &str, shown: &'a str) -> &'a str {
    let already = before.to_lowercase().ends_with("assessor ");
    if already { shown.strip_prefix("assessor ").unwrap_or(shown) } else { shown }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Scale, ScoreAddress, StudyBuilder};

    #[test]
    fn names_leave_running_text_and_samples_keep_theirs() {
        let mut builder = StudyBuilder::new(Scale::default());
        for (assessor, sample) in [("Ann", "Candidate A"), ("Anna", "target"), ("A", "target")] {
            let address = ScoreAddress { assessor, sample, replicate: 1, ..ScoreAddress::default() };
            builder.add(address, "ripe", 1.0).expect("every cell is new");
        }
        let names = Names::of(&builder.finish("t"));
        let cases = [
            ("Left out assessor Anna: blocked nose.", "Left out assessor 2: blocked nose."),
            ("Ann's page, Candidate A, replicate 1", "assessor 1's page, Candidate A, replicate 1"),
            ("Annabel and A scored ripe", "Annabel and assessor 3 scored ripe"),
        ];
        for (given, expected) in cases {
            assert_eq!(names.replaced(given), expected);
        }
    }
}
