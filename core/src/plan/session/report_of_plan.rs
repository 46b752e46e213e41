//! What a plan tells a report, so that nobody types it twice: who asked what, lots, bases and doses, the design, the days.
//! It states only what was given or drawn, and knows nothing of scores.

use crate::plan::brief::study_brief::PlannedSample;
use crate::plan::tasting_plan::{PlannedSession, TastingPlan};
use crate::study::{ReportDetails, ReportField};
use crate::text::lists::counted_regular as counted;

impl TastingPlan {
    /// What the report of its study says without being asked again.
    pub fn report_details(&self) -> ReportDetails {
        let mut details = ReportDetails::default();
        for (field, text) in [
            (ReportField::Purpose, self.purpose()),
            (ReportField::Samples, self.of_samples(|sample| sample.note.trim().to_owned())),
            (ReportField::Preparation, self.preparation()),
            (ReportField::Serving, self.serving()),
            (ReportField::Vocabulary, self.vocabulary()),
            (ReportField::Design, self.design()),
            (ReportField::Dates, self.dates()),
        ] {
            details.state(field, &text);
        }
        for sample in &self.brief.samples {
            details.state_lot(&sample.name, &sample.lot);
        }
        for attribute in &self.attributes.attributes {
            details.state_reference(&attribute.name, &attribute.reference);
        }
        details
    }

    /// The question in the words of who asked, and who that was.
    fn purpose(&self) -> String {
        let (question, asked_by) = (self.brief.question.trim(), self.brief.asked_by.trim());
        let by = if asked_by.is_empty() { String::new() } else { format!("Asked by {asked_by}.") };
        [question, &by].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n")
    }

    /// One line a sample of which something is said.
    fn of_samples(&self, say: impl Fn(&PlannedSample) -> String) -> String {
        let said = self.brief.samples.iter().map(|sample| (sample, say(sample)));
        let lines: Vec<String> = said
            .filter(|(_, said)| !said.is_empty())
            .map(|(sample, said)| format!("{}: {said}", sample.name))
            .collect();
        lines.join("\n")
    }

    /// Base and dose of each sample, and how often each was prepared where that was more than once.
    fn preparation(&self) -> String {
        let made = self.of_samples(|sample| match (sample.dose.trim(), sample.base.trim()) {
            ("", "") => String::new(),
            (dose, "") => format!("dose {dose}"),
            ("", base) => format!("in {base}"),
            (dose, base) => format!("dose {dose}, in {base}"),
        });
        let often = match self.brief.preparations {
            0 | 1 => String::new(),
            several => format!("{} of each sample took turns.", counted(several, "preparation")),
        };
        [made, often].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n")
    }

    fn serving(&self) -> String {
        let warm_up = self.brief.warm_up.as_ref().map(|sample| sample.name.trim()).filter(|name| !name.is_empty());
        warm_up.map_or_else(String::new, |name| format!("First cup of each session, not scored: {name}."))
    }

    fn vocabulary(&self) -> String {
        let list = &self.attributes;
        match list.name.trim() {
            "" => String::new(),
            name => format!("Attribute list \u{201c}{name}\u{201d}, version {}.", list.version),
        }
    }

    /// Size and balance of the orders, and the seed that they were drawn by.
    fn design(&self) -> String {
        let request = &self.orders.request;
        let size = format!(
            "{}, {}, {} in {}; planned {} with seed {}.",
            counted(self.assessors.len(), "assessor"),
            counted(self.brief.samples.len(), "sample"),
            counted(request.replicates, "replicate"),
            counted(self.sessions.len(), "session"),
            self.made_at,
            request.seed
        );
        [size].into_iter().chain(self.orders.in_words.iter().cloned()).collect::<Vec<_>>().join("\n")
    }

    /// One line a session of which day or place was set.
    fn dates(&self) -> String {
        let line = |session: &PlannedSession| {
            let set: Vec<&str> =
                [session.when.trim(), session.place.trim()].into_iter().filter(|text| !text.is_empty()).collect();
            (!set.is_empty()).then(|| format!("Session {}: {}", session.number, set.join(", ")))
        };
        self.sessions.iter().filter_map(line).collect::<Vec<_>>().join("\n")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::attributes::AttributeList;
    use crate::plan::brief::draft::PlanDraft;
    use crate::plan::brief::study_brief::SampleRole;
    use crate::study::{Margin, MarginOrigin};

    fn draft() -> PlanDraft {
        let mut draft = PlanDraft { seed: 7, assessors_typed: "Ada\nBen".to_owned(), ..PlanDraft::default() };
        draft.brief.title = "Mango".to_owned();
        let target = PlannedSample { lot: "N7".to_owned(), ..PlannedSample::named("Fresh mango", SampleRole::Target) };
        let candidate = PlannedSample {
            dose: "0.05 %".to_owned(),
            base: "nectar base".to_owned(),
            ..PlannedSample::named("Candidate A", SampleRole::Candidate)
        };
        draft.brief.samples = vec![target, candidate];
        draft.attributes = AttributeList::mango_nectar_example();
        draft
    }

    #[test]
    fn what_the_brief_says_arrives_with_the_study() {
        let mut draft = draft();
        draft.brief.add_blind_duplicate();
        draft.brief.question = "Does A match?".to_owned();
        draft.brief.asked_by = "Dana".to_owned();
        draft.brief.margin = Margin { origin: MarginOrigin::BlindDuplicate, ..Margin::of(8.0) };
        draft.brief.deciding = vec![draft.attributes.attributes[0].name.clone()];
        let mut plan = draft.make("2026-03-02 09:00").expect("a sound draft");
        plan.sessions[0].when = "Monday 9:00".to_owned();
        let study = plan.study_skeleton("2026-03-03 12:00");
        let settings = &study.settings;
        assert_eq!(settings.target.as_deref(), Some("Fresh mango"));
        assert_eq!(settings.blind_duplicate.as_deref(), Some("Fresh mango (blind duplicate)"));
        assert_eq!(
            (settings.margin.clone(), settings.deciding.clone()),
            (plan.brief.margin.clone(), plan.brief.deciding.clone())
        );
        let text = |field| study.report.text(field).unwrap_or_default().to_owned();
        assert_eq!(text(ReportField::Purpose), "Does A match?\nAsked by Dana.");
        assert_eq!(text(ReportField::Preparation), "Candidate A: dose 0.05 %, in nectar base");
        assert_eq!(text(ReportField::Dates), "Session 1: Monday 9:00");
        assert!(text(ReportField::Design).starts_with("2 assessors, 3 samples, 2 replicates in 2 sessions;"));
        assert_eq!(study.report.lots.get("Fresh mango").map(String::as_str), Some("N7"));
        assert!(!study.report.lots.contains_key("Candidate A"), "nothing is stated that was not given");
        let references = plan.attributes.attributes.iter().filter(|one| !one.reference.trim().is_empty()).count();
        assert_eq!(study.report.references.len(), references);
    }

    #[test]
    fn what_nobody_gave_is_not_stated() {
        let mut draft = draft();
        draft.brief.samples.iter_mut().for_each(|sample| *sample = PlannedSample::named(&sample.name, sample.role));
        draft.attributes.name = String::new();
        let details = draft.make("2026-03-02 09:00").expect("a sound draft").report_details();
        assert_eq!(details.texts.keys().collect::<Vec<_>>(), [&ReportField::Design]);
        assert!(details.lots.is_empty());
    }
}
