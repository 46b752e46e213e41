//! What an entry of the catalogue says about itself: topic, needs, cost, and what its result rests on.

use super::help::Help;
use crate::defined::{Defined, NotDefined};
use crate::stats::panel::serving_order::positions_known;
use crate::stats::panel::sessions::sessions_known;
use crate::study::{AttributeKind, Study};

/// What a method is about: the same folders on every floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    Match,
    Samples,
    Panel,
    Map,
}

/// What a method needs of a study, beyond scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A target, and that it is settled what counts as a match.
    Target,
    /// Serving positions in the file.
    Positions,
    /// Several sessions.
    Sessions,
    /// A word for the whole among the attributes that count.
    IntegratedAttribute,
}

/// What a method costs, and so whether a page computes it without being asked. All but the quick ones are done in steps
/// that are shown and can be stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cost {
    /// Some milliseconds on a common study.
    Quick,
    /// A pass through all scores for each assessor.
    Pass,
    /// A search through all scores for each attribute.
    Search,
    /// Panels drawn again: once what shows them is looked at.
    Draws,
    /// Asked for in any case.
    Asked,
}

/// What a result rests on: it holds until that changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestsOn {
    /// The scores that count.
    Scores,
    /// Scores, kinds of attributes, target, alpha and seed; no margin.
    Tasted,
    /// Scores and every setting.
    Settings,
}

/// Scores compared up to which a search starts by itself: about a second.
const SHORT_SEARCH: u64 = 3_000_000;
/// Scores passed through up to which a pass starts by itself.
const SHORT_PASS: u64 = 100_000;

/// What an entry says about itself.
#[derive(Debug)]
pub struct About {
    /// Unique; hook for tests and for the shell.
    pub id: &'static str,
    pub topic: Topic,
    /// What it answers, as a heading.
    pub title: &'static str,
    /// What is said while it runs.
    pub doing: &'static str,
    pub needs: &'static [Need],
    /// What the button says that starts it, where it does not start by itself.
    pub ask: &'static str,
    /// The beginning of the sentence that says why there is no result; the reason follows.
    pub not_defined: &'static str,
    pub cost: Cost,
    pub rests_on: RestsOn,
    /// Whether its result names assessors, so that it is computed anew for a report that shows them as numbers.
    pub names_assessors: bool,
    pub help: &'static [&'static Help],
}

impl Topic {
    pub const ALL: [Topic; 4] = [Topic::Match, Topic::Samples, Topic::Panel, Topic::Map];

    /// As a heading.
    pub fn title(self) -> &'static str {
        match self {
            Topic::Match => "Differences to the target",
            Topic::Samples => "Profiles",
            Topic::Panel => "The panel",
            Topic::Map => "Map",
        }
    }
}

impl Cost {
    /// Whether it starts without being asked on a study of this size.
    pub fn starts_unasked(self, study: &Study) -> bool {
        let scores = study.servings.len() as u64 * study.attributes.len() as u64;
        match self {
            Cost::Quick | Cost::Draws => true,
            Cost::Pass => scores * study.assessors.len() as u64 <= SHORT_PASS,
            Cost::Search => scores * study.attributes.len() as u64 <= SHORT_SEARCH,
            Cost::Asked => false,
        }
    }
}

impl About {
    /// Why there is no result, as a sentence.
    pub fn why_not(&self, because: &str) -> String {
        format!("{}, because {because}.", self.not_defined)
    }
}

impl Need {
    /// # Errors
    /// What the study lacks.
    pub fn met_by(self, study: &Study) -> Defined<()> {
        match self {
            Need::Target if study.settings.target.is_none() => Err(NotDefined::because("no target is named")),
            Need::Target => Ok(()),
            Need::Positions => positions_known(study),
            Need::Sessions => sessions_known(study),
            Need::IntegratedAttribute => {
                let mut active = study.active_attributes().into_iter();
                if active.any(|index| study.attributes[index].kind == AttributeKind::Integrated) {
                    return Ok(());
                }
                Err(NotDefined::because("no attribute is a word for the whole"))
            }
        }
    }
}
