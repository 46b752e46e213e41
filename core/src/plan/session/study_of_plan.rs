//! The study that the scores of a plan land in, with what was noted at the tasting. It knows nothing of marks.

use super::session_record::RecordEntry;
use crate::notice::{Notice, Place, Severity};
use crate::plan::brief::study_brief::{Brief, SampleRole};
use crate::plan::tasting_plan::{PlannedServing, TastingPlan, session_name};
use crate::study::{LogKind, RecordedEvent, ScoreAddress, Settings, Study, StudyBuilder, recorded_line};

impl TastingPlan {
    /// The study that scores land in without any mapping: one serving a cup in the order of `servings`, no scores yet.
    /// Times come from `when`.
    pub fn study_skeleton(&self, when: &str) -> Study {
        let mut study = self.study_without_settings();
        study.settings = self.settings_of_brief(study.settings);
        study.decided_at = study.settings.target.is_some().then(|| self.made_at.clone());
        study.report = self.report_details();
        study.log = self.log.clone();
        study.record = self.study_record();
        study.notices = self.record_notices();
        let what = format!("Opened from the plan of {}; settings are those of its brief.", self.made_at);
        study.note_in_log(when, LogKind::Opened, what);
        study
    }

    /// Whether a study holds the scores of this plan: the same samples under the same codes.
    pub fn is_plan_of(&self, study: &Study) -> bool {
        let samples = &self.brief.samples;
        samples.len() == study.samples.len()
            && (0..samples.len()).all(|index| {
                let of_study = &study.samples[index];
                of_study.name == samples[index].name && of_study.codes == self.codes_of(index)
            })
    }

    /// What the brief decided, in the settings of the study: the one place where a brief becomes settings.
    fn settings_of_brief(&self, settings: Settings) -> Settings {
        let Brief { margin, deciding, alpha, profile_share, .. } = self.brief.clone();
        let named = |role: SampleRole| {
            self.brief.samples.iter().find(|sample| sample.role == role).map(|sample| sample.name.clone())
        };
        // Without a target there is nothing that a sample could be once more.
        let target = named(SampleRole::Target);
        let blind_duplicate = named(SampleRole::BlindDuplicate).filter(|_| target.is_some());
        let seed = self.orders.request.seed;
        Settings { target, blind_duplicate, margin, deciding, alpha, profile_share, seed, ..settings }
    }

    /// People, samples with their codes, attributes and cups.
    fn study_without_settings(&self) -> Study {
        let mut builder = StudyBuilder::new(self.scale.clone());
        self.assessors.iter().for_each(|name| _ = builder.assessor(name));
        self.brief.samples.iter().for_each(|sample| _ = builder.sample(&sample.name));
        self.attributes.attributes.iter().for_each(|attribute| _ = builder.attribute(&attribute.name));
        for serving in self.servings() {
            builder.serving(ScoreAddress {
                assessor: &self.assessors[serving.assessor],
                sample: &self.brief.samples[serving.sample].name,
                replicate: serving.replicate,
                session: Some(&session_name(serving.session)),
                position: Some(serving.position),
                label: None,
            });
        }
        let mut study = builder.finish(&self.brief.title);
        study.attributes = self.attributes.study_attributes();
        (0..).zip(&mut study.samples).for_each(|(index, sample)| sample.codes = self.codes_of(index));
        study
    }

    /// The codes of a sample over all sessions, each once.
    fn codes_of(&self, sample: usize) -> Vec<String> {
        let mut codes: Vec<String> = Vec::new();
        for code in self.orders.keys.iter().filter_map(|key| key.codes.get(sample)) {
            if !codes.contains(code) {
                codes.push(code.clone());
            }
        }
        codes
    }

    /// The record as the study keeps it. An entry about a code is about that cup of its assessor, in the order of
    /// `servings`.
    pub fn study_record(&self) -> Vec<RecordedEvent> {
        let servings = self.servings();
        self.record.iter().map(|entry| recorded(entry, &servings)).collect()
    }

    /// What of the record bears on scores, as notices that print with the report.
    pub fn record_notices(&self) -> Vec<Notice> {
        let about_scores = self.record.iter().filter(|entry| entry.is_about_scores());
        about_scores.map(|entry| self.record_notice(entry)).collect()
    }

    /// An entry as people read it: who, what, when.
    pub fn record_in_words(&self, entry: &RecordEntry) -> String {
        let who = entry.assessor.and_then(|index| self.assessors.get(index)).map(String::as_str);
        recorded_line(entry.session, who, entry.code.as_deref(), entry.kind.in_words(), &entry.note)
    }

    fn record_notice(&self, entry: &RecordEntry) -> Notice {
        let what = format!("Noted at the tasting, {}: {}.", entry.when, self.record_in_words(entry));
        Notice::new(Severity::Check, Place::default(), what, "Decide whether its marks count; the note is the reason.")
    }
}

fn recorded(entry: &RecordEntry, servings: &[PlannedServing]) -> RecordedEvent {
    let of_cup = |serving: &PlannedServing| {
        Some(serving.assessor) == entry.assessor
            && serving.session == entry.session
            && Some(&serving.code) == entry.code.as_ref()
    };
    RecordedEvent {
        when: entry.when.clone(),
        session: entry.session,
        what: entry.kind.in_words().to_owned(),
        assessor: entry.assessor,
        serving: servings.iter().position(of_cup),
        code: entry.code.clone(),
        note: entry.note.clone(),
        exclusion_reason: entry.exclusion_reason(),
    }
}
