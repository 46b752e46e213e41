//! The calibrated verdict: whether a candidate matches its target, by a rule whose chances of error are known.
//!
//! It stands on plain tables of differences, one row an assessor and one column a deciding attribute, and knows no study.
//! Rule, constants and reference figures: the project's own specification of the verdict, worked out anew and simulated
//! (`tests/reference/verdict/reference.json`, `core/examples/operating_characteristics`).
//!
//! - [`Differences`]: what everything here stands on.
//! - [`VerdictRun`] and [`judge`]: the whole rule; [`ServedTwice`]: the same where the target came in two cups.
//! - [`typical_difference`]: upper bound of the root mean square difference.
//! - [`NextMarginsRun`]: margins for the next study out of a blind duplicate.
//! - [`ChancesRun`]: how often each verdict comes about at a panel's own scatter.

mod chances;
mod differences;
mod drawn_patterns;
mod f_quantile;
mod lanes;
mod next_margins;
mod off_test;
mod options;
mod outcome;
mod rule;
mod scatter;
mod served_twice;
mod step_down;
mod target_alarm;
mod tiles;
mod typical;
mod typical_parts;
mod verdict_run;

pub use chances::{Chances, ChancesOptions, ChancesRun, Truth};
pub use differences::{AttributeSummary, Differences};
pub use f_quantile::f_quantile_lower;
pub use next_margins::{NextMargins, NextMarginsRun};
pub use off_test::{OffTest, OffTestBy};
pub use options::VerdictOptions;
pub use outcome::{AttributeFigures, AttributeVerdict, CalibratedVerdict, Caution, MatchRule, NotShownBecause, Widest};
pub use scatter::Scatter;
pub use served_twice::ServedTwice;
pub use target_alarm::{TargetAlarm, target_alarm};
pub use typical::{TypicalDifference, typical_difference};
pub use typical_parts::BoundParts;
pub use verdict_run::{VerdictRun, judge};
