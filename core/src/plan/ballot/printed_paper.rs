//! Papers that were printed, as the plan remembers them, and which of their pages no longer fit. It knows nothing of plans.

use super::geometry::Paper;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Fingerprints of pages by their names: FNV-1a with 64 bits (RFC 9923), in hexadecimal.
pub type Pages = BTreeMap<String, String>;

/// One printing of one kind of paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PrintedPaper {
    /// A short name of the kind of paper.
    pub kind: String,
    /// Local date and time as given by the caller.
    pub when: String,
    /// The session that was printed; `None` for all.
    pub session: Option<u32>,
    pub paper: Paper,
    pub pages: Pages,
}

impl PrintedPaper {
    /// Names of the printed pages that would not be printed so again: changed, or no longer part of the plan.
    pub fn out_of_date(&self, now: &Pages) -> Vec<&str> {
        let fits = |name: &String, fingerprint: &String| now.get(name) == Some(fingerprint);
        self.pages.iter().filter(|(name, print)| !fits(name, print)).map(|(name, _)| name.as_str()).collect()
    }
}
