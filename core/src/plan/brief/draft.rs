//! A plan that is still being written: everything the leader typed, before orders and codes are laid out. It knows
//! nothing of the page that it is typed into.

use super::assumed_scatter::AssumedScatter;
use super::attributes::AttributeList;
use super::study_brief::Brief;
use crate::plan::PlanError;
use crate::plan::file_envelope::{FileKind, kind_of};
use crate::plan::orders::serving_orders::Coverage;
use crate::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan};
use crate::study::Scale;
use serde::{Deserialize, Serialize};

/// What the leader typed so far. Half of it may be missing: only `make` asks for all of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct PlanDraft {
    pub brief: Brief,
    pub attributes: AttributeList,
    /// Names as typed, one a line; blank lines count for nothing.
    pub assessors_typed: String,
    pub scale: Scale,
    pub replicates: usize,
    /// How many samples a session bears; `None` for all.
    pub samples_per_session: Option<usize>,
    pub coverage: Coverage,
    pub target_in_each_session: bool,
    /// Codes that were used before and can't come back, as typed, parted by anything that is no digit.
    pub used_codes_typed: String,
    /// 0 until the first use: the page fills it in from the clock.
    pub seed: u64,
    /// How much the panel is assumed to scatter.
    #[serde(flatten)]
    pub scatter: AssumedScatter,
}

/// The file of a plan that is not made yet: all that was typed of it.
pub const DRAFT_FILE: FileKind =
    FileKind { format: "likeness-plan-draft", version: 1, part: "draft", called: "plan draft" };

impl Default for PlanDraft {
    fn default() -> Self {
        PlanDraft {
            brief: Brief::default(),
            attributes: AttributeList { name: String::new(), version: 1, attributes: Vec::new() },
            assessors_typed: String::new(),
            scale: Scale::default(),
            replicates: 2,
            samples_per_session: None,
            coverage: Coverage::AllSamples,
            target_in_each_session: true,
            used_codes_typed: String::new(),
            seed: 0,
            scatter: AssumedScatter::default(),
        }
    }
}

impl PlanDraft {
    /// The draft that a plan was made from, so that it can be changed and made anew.
    pub fn of_plan(plan: &TastingPlan) -> Self {
        let request = &plan.orders.request;
        PlanDraft {
            brief: plan.brief.clone(),
            attributes: plan.attributes.clone(),
            assessors_typed: plan.assessors.join("\n"),
            scale: plan.scale.clone(),
            replicates: request.replicates,
            samples_per_session: request.samples_per_session,
            coverage: request.coverage,
            target_in_each_session: request.samples_per_session.is_none() || request.target_in_each_session.is_some(),
            used_codes_typed: request.used_codes.join(" "),
            seed: request.seed,
            ..PlanDraft::default()
        }
    }

    /// The text of a file that holds what was typed and, once it is made, the plan: a plan file, with the draft beside the
    /// plan where it was changed since. Older programs open the plan and leave the draft out.
    pub fn file_text(&self, plan: Option<&TastingPlan>) -> String {
        let Some(plan) = plan else { return DRAFT_FILE.text_of(self) };
        let mut text = plan.to_json();
        if self.differs_from(plan) {
            // Strings, numbers and lists can't fail to be written.
            let draft = serde_json::to_string(self).unwrap_or_default();
            text.truncate(text.trim_end().len() - 1);
            text.push_str(&format!(",\"draft\":{draft}}}"));
        }
        text
    }

    /// Opens what `file_text` wrote, or any plan file.
    ///
    /// # Errors
    /// Text that is neither, a file of a newer program, a damaged file.
    pub fn in_file(text: &str) -> Result<(PlanDraft, Option<TastingPlan>), PlanError> {
        #[derive(Deserialize)]
        struct Beside {
            draft: Option<PlanDraft>,
        }
        let text = text.trim_start_matches('\u{feff}');
        if kind_of(text.as_bytes(), &[DRAFT_FILE]).is_some() {
            return DRAFT_FILE.content_of(text).map(|draft| (draft, None));
        }
        let plan = TastingPlan::from_json(text)?;
        let beside = serde_json::from_str::<Beside>(text).ok().and_then(|beside| beside.draft);
        Ok((beside.unwrap_or_else(|| PlanDraft::of_plan(&plan)), Some(plan)))
    }

    /// Whether nothing was typed yet that would be missed.
    pub fn is_blank(&self) -> bool {
        let brief = &self.brief;
        let texts = [&brief.title, &brief.question, &brief.asked_by, &self.assessors_typed, &self.used_codes_typed];
        texts.iter().all(|text| text.trim().is_empty())
            && brief.warm_up.is_none()
            && brief.samples.iter().all(|sample| sample.name.trim().is_empty())
            && self.attributes.attributes.is_empty()
    }

    /// Names of assessors, trimmed, in the order typed.
    pub fn assessors(&self) -> Vec<String> {
        self.assessors_typed.lines().map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned).collect()
    }

    /// Codes used before, in the order typed.
    pub fn used_codes(&self) -> Vec<String> {
        let parts = self.used_codes_typed.split(|letter: char| !letter.is_alphanumeric());
        parts.filter(|part| !part.is_empty()).map(str::to_owned).collect()
    }

    /// What the plan would be made from.
    pub fn request(&self, made_at: &str) -> PlanRequest {
        let mut brief = self.brief.clone();
        brief.written_at = made_at.to_owned();
        PlanRequest {
            brief,
            attributes: self.attributes.clone(),
            assessors: self.assessors(),
            scale: self.scale.clone(),
            replicates: self.replicates,
            samples_per_session: self.samples_per_session,
            coverage: self.coverage,
            target_in_each_session: self.target_in_each_session,
            used_codes: self.used_codes(),
            seed: self.seed,
            made_at: made_at.to_owned(),
        }
    }

    /// Lays out the plan, its brief dated now.
    ///
    /// # Errors
    /// What `make_plan` refuses.
    pub fn make(&self, made_at: &str) -> Result<TastingPlan, PlanError> {
        make_plan(self.request(made_at))
    }

    /// Whether a plan made from this draft would differ from `plan` in anything but its date.
    pub fn differs_from(&self, plan: &TastingPlan) -> bool {
        let request = &plan.orders.request;
        let mut brief = self.brief.clone();
        brief.written_at.clone_from(&plan.brief.written_at);
        // Somebody added late is in the plan's list and belongs into the draft's as well.
        brief != plan.brief
            || self.attributes != plan.attributes
            || self.assessors() != plan.assessors
            || self.replicates != request.replicates
            || self.samples_per_session != request.samples_per_session
            || (self.coverage != request.coverage && !request.is_complete())
            || self.seed != request.seed
            || self.used_codes() != request.used_codes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::study_brief::{PlannedSample, SampleRole};

    fn draft() -> PlanDraft {
        let mut draft = PlanDraft { seed: 7, assessors_typed: " Ada \n\nBen\n".to_owned(), ..PlanDraft::default() };
        draft.brief.samples = vec![
            PlannedSample::named("Fresh mango", SampleRole::Target),
            PlannedSample::named("Candidate A", SampleRole::Candidate),
        ];
        draft.attributes = AttributeList::mango_nectar_example();
        draft
    }

    #[test]
    fn a_draft_comes_back_from_its_plan() {
        let plan = draft().make("2026-03-02 09:00").expect("a sound draft");
        assert_eq!(plan.assessors, ["Ada", "Ben"]);
        assert_eq!(plan.brief.written_at, "2026-03-02 09:00");
        assert!(!draft().differs_from(&plan));
        let back = PlanDraft::of_plan(&plan);
        assert!(!back.differs_from(&plan));
        assert_eq!(back.make("2026-03-02 09:00").expect("the same draft"), plan);
    }

    #[test]
    fn a_change_is_told_from_none() {
        let plan = draft().make("2026-03-02 09:00").expect("a sound draft");
        let mut changed = draft();
        changed.replicates = 3;
        assert!(changed.differs_from(&plan));
        let mut later = draft();
        later.brief.written_at = "another day".to_owned();
        assert!(!later.differs_from(&plan));
    }

    #[test]
    fn a_file_holds_what_was_typed_at_any_time() {
        let typed = draft();
        assert_eq!(PlanDraft::in_file(&typed.file_text(None)), Ok((typed.clone(), None)));
        let plan = typed.make("2026-03-02 09:00").expect("a sound draft");
        let text = typed.file_text(Some(&plan));
        assert_eq!(text, plan.to_json(), "nothing is beside a plan that its draft still makes");
        assert_eq!(PlanDraft::in_file(&text), Ok((PlanDraft::of_plan(&plan), Some(plan.clone()))));
        let changed = PlanDraft { replicates: 3, ..typed };
        let text = changed.file_text(Some(&plan));
        assert_eq!(TastingPlan::from_json(&text).as_ref(), Ok(&plan), "an older program opens the plan");
        assert_eq!(PlanDraft::in_file(&text), Ok((changed, Some(plan))));
        assert!(PlanDraft::in_file(&draft().file_text(None)[..200]).is_err());
    }

    #[test]
    fn only_an_empty_draft_is_blank() {
        assert!(PlanDraft::default().is_blank());
        assert!(!draft().is_blank());
    }
}
