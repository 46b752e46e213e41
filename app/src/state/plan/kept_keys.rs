//! What is stored of kept plans: which is open, the list of all, what is wished of them, and the keys they are kept under.
//! It must not know who changes it, nor where they lie.

use crate::words::plan::kept as say;
use leptos::prelude::RwSignal;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::tasting_plan::TastingPlan;
use serde::{Deserialize, Serialize};

/// How the keys of plans begin in the store that they share with studies.
const KEY_BEGINS: &str = "plan-";
/// The steps that can be undone lie in the same store.
pub const STEPS_KEY: &str = "plan-steps";

/// Everything that is stored of kept plans. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct KeptPlans {
    /// What the open plan is kept under; `None` before anybody planned.
    pub key: RwSignal<Option<String>>,
    /// Latest change first.
    pub list: RwSignal<Vec<KeptPlan>>,
    pub wish: RwSignal<Option<Wish>>,
    /// The plan that was deleted last, with its file, as long as it can be had back.
    pub deleted: RwSignal<Option<(KeptPlan, String)>>,
}

impl Default for KeptPlans {
    fn default() -> Self {
        KeptPlans {
            key: RwSignal::new(None),
            list: RwSignal::new(Vec::new()),
            wish: RwSignal::new(None),
            deleted: RwSignal::new(None),
        }
    }
}

/// What is told of a kept plan without opening it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct KeptPlan {
    /// Not part of the description.
    #[serde(skip)]
    pub key: String,
    pub title: String,
    /// Local date and time of the last change.
    pub when: String,
    pub samples: usize,
    pub assessors: usize,
    pub attributes: usize,
    /// When its orders and codes were laid out; `None` for a draft.
    pub made_at: Option<String>,
}

/// What the user wants of the kept plans; whoever knows where they lie does it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wish {
    Open(KeptPlan),
    Delete(KeptPlan),
    TakeBackDeleting,
}

impl KeptPlan {
    pub fn of(draft: &PlanDraft, plan: Option<&TastingPlan>, key: &str, when: &str) -> Self {
        KeptPlan {
            key: key.to_owned(),
            title: draft.brief.title.trim().to_owned(),
            when: when.to_owned(),
            samples: draft.brief.samples.iter().filter(|sample| !sample.name.trim().is_empty()).count(),
            assessors: draft.assessors().len(),
            attributes: draft.attributes.attributes.len(),
            made_at: plan.map(|plan| plan.made_at.clone()),
        }
    }

    /// Its title, or what stands for it.
    pub fn name(&self) -> String {
        if self.title.is_empty() { say::NO_TITLE.to_owned() } else { self.title.clone() }
    }

    /// What is in it, in one line.
    pub fn in_words(&self) -> String {
        say::about(self.samples, self.assessors, self.attributes, self.made_at.as_deref())
    }

    /// As it lies in the store.
    pub fn to_text(&self) -> String {
        // Names and counts can't fail to be written.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// From the store; a description that can't be read still lists its plan.
    pub fn from_text(key: &str, text: &str) -> Self {
        let read: Option<KeptPlan> = serde_json::from_str(text).ok();
        KeptPlan { key: key.to_owned(), ..read.unwrap_or_default() }
    }
}

/// Whether a key of the store is that of a plan.
pub fn is_plan_key(key: &str) -> bool {
    key.starts_with(KEY_BEGINS) && key != STEPS_KEY
}

/// Whether a key of the store belongs to plans at all, and to no study.
pub fn is_of_plans(key: &str) -> bool {
    key.starts_with(KEY_BEGINS)
}

/// A key that neither a kept plan nor the open one has, from a local date and time.
pub fn new_key(list: &[KeptPlan], open: Option<&str>, when: &str) -> String {
    let digits: String = when.chars().filter(char::is_ascii_digit).collect();
    let mut key = format!("{KEY_BEGINS}{digits}");
    let mut number = 1;
    while open == Some(key.as_str()) || list.iter().any(|plan| plan.key == key) {
        number += 1;
        key = format!("{KEY_BEGINS}{digits}-{number}");
    }
    key
}
