//! What the leader decides: target and its cups, margins, deciding attributes, alpha, seed.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Where a margin comes from. A margin without an origin convinces nobody.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MarginOrigin {
    /// The default of 10 mm: a convention, and a weak one.
    #[default]
    Convention,
    /// Differences seen between two blind cups of the target: a lower limit, never the margin itself.
    BlindDuplicate,
    /// Differences seen between lots of the target.
    AnotherLot,
    /// The smallest step that people can tell.
    JustNoticeable,
    /// A limit that the customer has set.
    CustomerLimit,
    /// So many times the panel's scatter: it grows with a careless panel.
    MultipleOfScatter,
    /// Anything else, in the leader's words.
    Other(String),
}

impl MarginOrigin {
    /// What is offered to choose from, the sound ones first.
    pub const OFFERED: [MarginOrigin; 7] = [
        MarginOrigin::AnotherLot,
        MarginOrigin::JustNoticeable,
        MarginOrigin::CustomerLimit,
        MarginOrigin::Other(String::new()),
        MarginOrigin::BlindDuplicate,
        MarginOrigin::MultipleOfScatter,
        MarginOrigin::Convention,
    ];

    /// Where the margin comes from, as it stands in briefs and reports.
    #[must_use]
    pub fn in_words(&self) -> String {
        let words: &str = match self {
            MarginOrigin::Convention => "convention (a tenth of the line; weak)",
            MarginOrigin::BlindDuplicate => "two blind cups of the target (a lower limit only)",
            MarginOrigin::AnotherLot => "how far lots of the target differ",
            MarginOrigin::JustNoticeable => "the smallest step that people can tell",
            MarginOrigin::CustomerLimit => "a limit set by the customer",
            MarginOrigin::MultipleOfScatter => "a multiple of the panel's scatter (weak)",
            MarginOrigin::Other(words) if words.is_empty() => "something else",
            MarginOrigin::Other(words) => words,
        };
        words.to_owned()
    }
}

/// How far a candidate may be from the target and still be called a match.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Margin {
    /// Half-width in units of the scale (mm on the 100 mm line), for every attribute not named below.
    pub width_mm: f64,
    /// Margins of their own, by the name of the attribute.
    pub by_attribute: BTreeMap<String, f64>,
    pub origin: MarginOrigin,
}

/// What the leader decides before looking at the verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Name of the target sample.
    pub target: Option<String>,
    /// Name of a sample that is the target again under another code: what lies between the two is noise.
    #[serde(default)]
    pub blind_duplicate: Option<String>,
    pub margin: Margin,
    /// Names of the attributes that decide the verdict on the whole sample; empty means all of them.
    pub deciding: Vec<String>,
    /// Chance of each kind of wrong claim: of calling anything off that is not, and of claiming a match that is none.
    pub alpha: f64,
    /// Seed of every resampling.
    pub seed: u64,
    /// Profile margin: how large the typical difference over the deciding attributes may be in a profile match, as a share
    /// of the margins.
    #[serde(default = "usual_profile_share")]
    pub profile_share: f64,
    /// Whether both cups of a target that was served twice make its mean.
    #[serde(default)]
    pub both_cups: bool,
    /// Whether the chance of calling any candidate wrongly off is held over all candidates together.
    #[serde(default)]
    pub candidates_together: bool,
}

/// 7 mm beside margins of 10 mm: within reach of twelve assessors, while half of the margins takes sixteen and more
/// (`core/examples/operating_characteristics`).
pub const USUAL_PROFILE_SHARE: f64 = 0.7;

fn usual_profile_share() -> f64 {
    USUAL_PROFILE_SHARE
}

impl Margin {
    /// A margin of this width for all attributes, by convention.
    pub fn of(width_mm: f64) -> Self {
        Margin { width_mm, by_attribute: BTreeMap::new(), origin: MarginOrigin::Convention }
    }

    /// The margin of an attribute, in units of the scale.
    pub fn for_attribute(&self, name: &str) -> f64 {
        self.by_attribute.get(name).copied().unwrap_or(self.width_mm)
    }
}

impl Default for Settings {
    /// No target yet; a tenth of the 100 mm line as margin (common practice, weak); alpha 0.05.
    fn default() -> Self {
        Settings {
            target: None,
            blind_duplicate: None,
            margin: Margin::of(10.0),
            deciding: Vec::new(),
            alpha: 0.05,
            seed: 20_260_101,
            profile_share: USUAL_PROFILE_SHARE,
            both_cups: false,
            candidates_together: false,
        }
    }
}
