//! Whether a study hangs together: a study that comes out of a file may have been edited by hand.

use super::{ExclusionScope, Study};

impl Study {
    /// Everything that would make the study unsafe to compute with, in words; empty when it is sound.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        self.check_scale(&mut faults);
        self.check_settings(&mut faults);
        self.check_servings(&mut faults);
        self.check_columns(&mut faults);
        self.check_exclusions(&mut faults);
        self.check_edits(&mut faults);
        self.check_record(&mut faults);
        self.check_pictures(&mut faults);
        faults
    }

    fn check_scale(&self, faults: &mut Vec<String>) {
        let scale = &self.scale;
        if !(scale.minimum.is_finite() && scale.maximum.is_finite() && scale.maximum > scale.minimum) {
            faults.push(format!("the scale runs from {} to {}", scale.minimum, scale.maximum));
        }
    }

    fn check_settings(&self, faults: &mut Vec<String>) {
        let settings = &self.settings;
        let margins = settings.margin.by_attribute.values().chain([&settings.margin.width_mm]);
        for margin in margins.filter(|margin| !(margin.is_finite() && **margin > 0.0)) {
            faults.push(format!("a margin is {margin}, and a margin must be above zero"));
        }
        if !(settings.profile_share.is_finite() && settings.profile_share > 0.0) {
            faults.push(format!(
                "the profile margin is {} of the margins, and must be above zero",
                settings.profile_share
            ));
        }
        if !(settings.alpha > 0.0 && settings.alpha < 0.5) {
            faults.push(format!("alpha is {}, and must lie between 0 and 0.5", settings.alpha));
        }
    }

    fn check_servings(&self, faults: &mut Vec<String>) {
        let sessions = self.sessions.len();
        for (number, serving) in self.servings.iter().enumerate() {
            let known = (serving.assessor as usize) < self.assessors.len()
                && (serving.sample as usize) < self.samples.len()
                && serving.session.is_none_or(|session| (session as usize) < sessions);
            if !known {
                faults.push(format!("serving {} names an assessor, sample or session that is not listed", number + 1));
            }
        }
    }

    fn check_columns(&self, faults: &mut Vec<String>) {
        if self.columns.len() != self.attributes.len() {
            faults.push(format!("{} attributes have {} columns", self.attributes.len(), self.columns.len()));
        }
        for (attribute, column) in self.attributes.iter().zip(&self.columns) {
            let lengths = (column.scores.len(), column.origins.len());
            if lengths != (self.servings.len(), self.servings.len()) {
                faults.push(format!(
                    "{} has {} scores for {} servings",
                    attribute.name,
                    lengths.0,
                    self.servings.len()
                ));
            }
            if column.scores.iter().flatten().any(|score| !score.is_finite()) {
                faults.push(format!("{} has a score that is no number", attribute.name));
            }
        }
    }

    fn check_exclusions(&self, faults: &mut Vec<String>) {
        for exclusion in &self.exclusions {
            let known = match exclusion.scope {
                ExclusionScope::Assessor(index) => index < self.assessors.len(),
                ExclusionScope::Sample(index) => index < self.samples.len(),
                ExclusionScope::Attribute(index) => index < self.attributes.len(),
                ExclusionScope::Serving(index) => index < self.servings.len(),
                ExclusionScope::Score { serving, attribute } => {
                    serving < self.servings.len() && attribute < self.attributes.len()
                }
            };
            if !known {
                faults
                    .push(format!("an exclusion ({}) points at something that is not in the study", exclusion.reason));
            }
        }
    }

    fn check_edits(&self, faults: &mut Vec<String>) {
        for edit in &self.edits {
            if edit.serving >= self.servings.len() || edit.attribute >= self.attributes.len() {
                faults.push(format!("a correction ({}) points at a score that is not in the study", edit.reason));
            }
            if edit.before.iter().chain(&edit.after).any(|score| !score.is_finite()) {
                faults.push(format!("a correction ({}) holds a score that is no number", edit.reason));
            }
        }
    }

    fn check_record(&self, faults: &mut Vec<String>) {
        for event in &self.record {
            let known = event.assessor.is_none_or(|index| index < self.assessors.len())
                && event.serving.is_none_or(|index| index < self.servings.len());
            if !known {
                faults.push(format!("a line of the record ({}) names somebody who is not in the study", event.what));
            }
        }
    }

    fn check_pictures(&self, faults: &mut Vec<String>) {
        for page in self.from_pictures.iter().flat_map(|record| &record.pages) {
            let known =
                page.serving < self.servings.len() && page.rows.iter().all(|row| row.attribute < self.attributes.len());
            if !known {
                faults.push(format!("a page read from {} points at a score that is not in the study", page.file));
            }
        }
    }
}
