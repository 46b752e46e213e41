//! Which candidate is closest, with intervals from resampled assessors.

use super::Table;
use likeness_core::stats::Analysis;
use likeness_core::stats::r#match::distance_bootstrap::DistanceResampling;
use likeness_core::tables;

/// The names of the numbers in the results as JSON, in the order of the columns.
const FIELDS: [&str; 8] = [
    "distance_adjusted",
    "distance_lower",
    "distance_upper",
    "distance",
    "share_closest",
    "closer_than_next",
    "sign_flip_p",
    "within_noise",
];

/// Candidates from close to far.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> Table {
    let mut table = Table::of_results("closeness", &tables::closeness(analysis, found), &FIELDS);
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    let again = floor.map(|floor| floor.duplicate.sample.as_str());
    for row in &mut table.rows {
        if again == Some(row.head.as_str()) {
            row.aside = tables::TARGET_AGAIN.to_owned();
        }
        row.cells.iter_mut().for_each(|cell| cell.sample.clone_from(&row.head));
    }
    table
}
