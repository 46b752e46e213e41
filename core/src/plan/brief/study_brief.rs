//! The brief of a study, written before there are data: what is asked, of which samples, and what will decide. It knows
//! nothing of orders or scores.

use super::attribute_checks::folded;
use super::attributes::AttributeList;
use crate::notice::{Notice, Place, Severity};
use crate::study::{Margin, MarginOrigin, USUAL_PROFILE_SHARE};
use crate::text::numbers::typed;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What the study is to answer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum QuestionKind {
    /// Is there any difference?
    Difference,
    /// What is each sample like?
    Description,
    /// Does a candidate match the target, and where not?
    #[default]
    Match,
}

/// What a sample is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SampleRole {
    Target,
    #[default]
    Candidate,
    /// The target once more under another code: its distance from the target is the noise floor.
    BlindDuplicate,
}

/// One sample as it is made and served.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct PlannedSample {
    pub name: String,
    pub role: SampleRole,
    pub lot: String,
    /// What it is tasted in.
    pub base: String,
    /// Amount of flavour, with its unit.
    pub dose: String,
    pub allergens: String,
    pub note: String,
}

/// The brief.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Brief {
    pub title: String,
    pub kind: QuestionKind,
    /// The question in the words of who asked.
    pub question: String,
    pub asked_by: String,
    /// In the order of the key; target and blind duplicate included, warm-up left out.
    pub samples: Vec<PlannedSample>,
    /// What is served first in each session, unscored.
    pub warm_up: Option<PlannedSample>,
    pub margin: Margin,
    /// Profile margin, as a share of the margins: a sample whose typical difference over the deciding attributes is shown
    /// to stay within it matches as a profile. Above 0, 1 at most.
    #[serde(default = "usual_profile_share")]
    pub profile_share: f64,
    /// Separate preparations of each sample, 1 to the number of replicates, which take turns among them.
    #[serde(default = "one_preparation")]
    pub preparations: usize,
    /// Attributes that decide the verdict on a whole sample; empty means all.
    pub deciding: Vec<String>,
    pub alpha: f64,
    /// Local date and time as given by the caller, before there were data.
    pub written_at: String,
}

impl Default for Brief {
    fn default() -> Self {
        Brief {
            title: String::new(),
            kind: QuestionKind::Match,
            question: String::new(),
            asked_by: String::new(),
            samples: Vec::new(),
            warm_up: None,
            margin: Margin::of(10.0),
            profile_share: USUAL_PROFILE_SHARE,
            preparations: 1,
            deciding: Vec::new(),
            alpha: 0.05,
            written_at: String::new(),
        }
    }
}

impl PlannedSample {
    /// A sample of which no more is known.
    pub fn named(name: &str, role: SampleRole) -> Self {
        PlannedSample { name: name.to_owned(), role, ..PlannedSample::default() }
    }
}

impl Brief {
    /// Index of the target among the samples.
    pub fn target(&self) -> Option<usize> {
        self.samples.iter().position(|sample| sample.role == SampleRole::Target)
    }

    /// Puts the target in once more under another code, so that the study measures its own noise floor. Does nothing
    /// without a target or where the duplicate is there already.
    pub fn add_blind_duplicate(&mut self) {
        let there = self.samples.iter().any(|sample| sample.role == SampleRole::BlindDuplicate);
        if let (Some(target), false) = (self.target(), there) {
            let mut twin = self.samples[target].clone();
            twin.name = format!("{} (blind duplicate)", twin.name);
            twin.role = SampleRole::BlindDuplicate;
            self.samples.push(twin);
        }
    }

    /// The profile margin as a share, and in mm beside the margin that holds for all attributes.
    pub fn profile_margin_in_words(&self) -> String {
        let width = self.margin.width_mm;
        format!(
            "{} of the margins: a typical difference of {} mm beside a margin of {} mm",
            typed(self.profile_share),
            typed(self.profile_share * width),
            typed(width)
        )
    }

    /// What is missing or doubtful. Rows count samples from 1.
    pub fn check(&self, attributes: &AttributeList) -> Vec<Notice> {
        let mut notices = self.check_samples();
        notices.extend(self.check_question());
        let known: Vec<String> = attributes.attributes.iter().map(|attribute| folded(&attribute.name)).collect();
        for name in self.deciding.iter().chain(self.margin.by_attribute.keys()) {
            if !known.contains(&folded(name)) {
                notices.push(doubt(
                    Severity::Refused,
                    format!("“{name}” is not in the attribute list."),
                    "Correct the name, or add the attribute to the list.",
                ));
            }
        }
        notices
    }

    fn check_samples(&self) -> Vec<Notice> {
        let mut notices = Vec::new();
        let count = |role: SampleRole| self.samples.iter().filter(|sample| sample.role == role).count();
        if self.samples.len() < 2 {
            let what = format!("The brief has {} samples.", self.samples.len());
            notices.push(doubt(Severity::Refused, what, "Name two samples or more."));
        }
        let role_doubt = match (self.kind, count(SampleRole::Target)) {
            (QuestionKind::Match, 0) => Some(NO_TARGET),
            (_, 2..) => Some(TWO_TARGETS),
            (QuestionKind::Match, _) if count(SampleRole::BlindDuplicate) == 0 => Some(NO_DUPLICATE),
            _ => None,
        };
        notices.extend(role_doubt.map(|(severity, what, hint)| doubt(severity, what.to_owned(), hint)));
        notices.extend(self.check_names());
        notices
    }

    fn check_names(&self) -> Vec<Notice> {
        let mut notices = Vec::new();
        let mut first_row: BTreeMap<String, usize> = BTreeMap::new();
        for (index, sample) in self.samples.iter().enumerate() {
            let place = Place::default().row(index as u32 + 1);
            let name = folded(&sample.name);
            if name.is_empty() {
                let what = "A sample has no name.";
                notices.push(Notice::new(Severity::Refused, place, what, "Name it or take it out."));
            } else if let Some(first) = first_row.insert(name, index) {
                let what = format!("“{}” is the name of sample {} too.", sample.name, first + 1);
                notices.push(Notice::new(Severity::Refused, place, what, "Give each sample a name of its own."));
            }
        }
        notices
    }

    fn check_question(&self) -> Vec<Notice> {
        let mut notices = self.check_limits();
        for (text, what, hint) in [
            (&self.question, "The question is not written down.", "Write it in the words of who asked."),
            (&self.asked_by, "Nobody is named as having asked.", "Name who asked."),
            (&self.written_at, "The brief has no date.", "Date it before the tasting."),
        ] {
            if text.trim().is_empty() {
                notices.push(doubt(Severity::Check, what.to_owned(), hint));
            }
        }
        notices
    }

    /// Margin and alpha.
    fn check_limits(&self) -> Vec<Notice> {
        let mut notices = Vec::new();
        let width = self.margin.width_mm;
        if !(width.is_finite() && width > 0.0) {
            let what = "The margin is not above 0.".to_owned();
            notices.push(doubt(Severity::Refused, what, "Give the margin in mm."));
        } else if self.kind == QuestionKind::Match {
            let found = doubt_of_origin(&self.margin.origin);
            notices.extend(
                found.map(|(what, hint)| doubt(Severity::Check, format!("The margin of {width} mm {what}"), hint)),
            );
        }
        if !(self.profile_share > 0.0 && self.profile_share <= 1.0) {
            let what = "The profile margin is not a share of the margins above 0 and up to 1.".to_owned();
            notices.push(doubt(Severity::Refused, what, "Give a share such as 0.7."));
        }
        if !(self.alpha > 0.0 && self.alpha < 0.5) {
            let what = "Alpha is not between 0 and 0.5.".to_owned();
            notices.push(doubt(Severity::Refused, what, "Give a chance of a wrong claim such as 0.05."));
        }
        notices
    }
}

/// What is doubtful about where a margin comes from, and what to do.
fn doubt_of_origin(origin: &MarginOrigin) -> Option<(&'static str, &'static str)> {
    const STATE_IT: &str =
        "Say what it is for: how far lots of the target differ, a noticeable step, a customer's limit.";
    match origin {
        MarginOrigin::Convention => Some(("rests on convention alone.", STATE_IT)),
        MarginOrigin::BlindDuplicate => Some((
            "comes from two blind cups of the target. They show how far apart the panel sets the same thing: a lower limit, \
             below which no margin makes sense, and never the margin itself.",
            STATE_IT,
        )),
        MarginOrigin::MultipleOfScatter => Some((
            "is a multiple of the scatter. It grows with a careless panel: the worse the panel, the more counts as alike.",
            STATE_IT,
        )),
        _ => None,
    }
}

fn one_preparation() -> usize {
    1
}

fn usual_profile_share() -> f64 {
    USUAL_PROFILE_SHARE
}

/// What is doubtful about the roles of the samples: how grave it is, what it is, what to do.
type RoleDoubt = (Severity, &'static str, &'static str);

const NO_TARGET: RoleDoubt =
    (Severity::Refused, "A match needs a target, and none is named.", "Say which sample is the target.");
const TWO_TARGETS: RoleDoubt = (Severity::Refused, "More than one sample is named as the target.", "Keep one target.");
const NO_DUPLICATE: RoleDoubt = (
    Severity::Check,
    "The target is served under one code only, so the study has no noise floor.",
    "Serve the target a second time under another code.",
);

fn doubt(severity: Severity, what: String, hint: &str) -> Notice {
    Notice::new(severity, Place::default(), what, hint)
}
