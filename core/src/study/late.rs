//! What was left out or corrected when the verdict had been seen, and the study as it was without that. It knows nothing of
//! verdicts.

use super::{Edit, Exclusion, ExclusionScope, Study};

impl Study {
    /// Leaves something out, late where the verdict has been seen. The caller writes the log.
    pub fn leave_out(&mut self, scope: ExclusionScope, reason: &str, when: &str) {
        let (reason, when, late) = (reason.to_owned(), when.to_owned(), self.decided_at.is_some());
        self.exclusions.push(Exclusion { scope, reason, when, late });
    }

    /// What was left out when the verdict had been seen.
    pub fn late_exclusions(&self) -> impl Iterator<Item = &Exclusion> {
        self.exclusions.iter().filter(|exclusion| exclusion.late)
    }

    /// Scores corrected when the verdict had been seen, oldest first.
    pub fn late_edits(&self) -> impl Iterator<Item = &Edit> {
        self.edits.iter().filter(|edit| edit.late)
    }

    /// The study with everything in that was left out late, and with scores as they stood before late corrections; `None`
    /// where nothing came late.
    pub fn before_late_changes(&self) -> Option<Study> {
        if self.late_exclusions().next().is_none() && self.late_edits().next().is_none() {
            return None;
        }
        let mut before = self.clone();
        before.exclusions.retain(|exclusion| !exclusion.late);
        // From the latest back, so that of several corrections of one score the first late one decides.
        for edit in self.edits.iter().rev().filter(|edit| edit.late) {
            before.set_score(edit.serving, edit.attribute, edit.before);
        }
        before.edits.retain(|edit| !edit.late);
        Some(before)
    }

    /// "assessor Anna", "the mark for green of Anna, A, replicate 1": what a scope hides.
    pub fn scope_in_words(&self, scope: ExclusionScope) -> String {
        let attribute = |index: usize| self.attributes.get(index).map_or("", |attribute| &attribute.name);
        match scope {
            ExclusionScope::Assessor(index) => named("assessor", self.assessor_name(index)),
            ExclusionScope::Sample(index) => named("sample", self.samples.get(index).map_or("", |sample| &sample.name)),
            ExclusionScope::Attribute(index) => named("attribute", attribute(index)),
            ExclusionScope::Serving(index) => format!("the page of {}", self.serving_in_words(index)),
            ExclusionScope::Score { serving, attribute: of } => {
                format!("the mark for {} of {}", attribute(of), self.serving_in_words(serving))
            }
        }
    }

    fn serving_in_words(&self, index: usize) -> String {
        self.servings.get(index).map_or_else(String::new, |serving| {
            let sample = self.samples.get(serving.sample as usize).map_or("", |sample| &sample.name);
            let assessor = self.assessor_name(serving.assessor as usize);
            format!("{assessor}, {sample}, replicate {}", serving.replicate)
        })
    }

    fn assessor_name(&self, index: usize) -> &str {
        self.assessors.get(index).map_or("", |assessor| &assessor.name)
    }
}

/// The word before the name, unless the name starts with it already.
fn named(word: &str, name: &str) -> String {
    let starts = name.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    if starts { name.to_owned() } else { format!("{word} {name}") }
}
