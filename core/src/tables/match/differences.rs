//! Candidates against the target, attribute by attribute: one candidate, or all below each other.

use super::words;
use crate::stats::{Analysis, AttributeAnalysis, DifferenceTest, TargetDifference};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// One row an attribute, the largest difference of the candidate first. In units of the scale.
pub fn differences(analysis: &Analysis, sample: &str) -> Table {
    let target = analysis.target.as_deref().unwrap_or_default();
    let caption = words::differences(sample, target, &analysis.unit);
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(columns(analysis)).collect();
    with_notes(Table::new("differences", caption, columns, analysis.scale_maximum), analysis)
        .with_rows(rows(analysis, sample))
}

/// The same for all candidates, in the order of the study; the first column names the candidate, the second the
/// attribute.
pub fn all_differences(analysis: &Analysis) -> Table {
    let caption = words::all_differences(analysis.target.as_deref().unwrap_or_default(), &analysis.unit);
    let names = [Column::name(common::CANDIDATE), Column::of(common::ATTRIBUTE, Format::Words, "attribute")];
    let columns = names.into_iter().chain(columns(analysis)).collect();
    let of_candidate = |sample: &String| -> Vec<Vec<Cell>> {
        let named = |cells: Vec<Cell>| [Cell::words(sample)].into_iter().chain(cells).collect();
        rows(analysis, sample).into_iter().map(named).collect()
    };
    let samples = analysis.candidates.iter().map(|candidate| &candidate.sample);
    with_notes(Table::new("all-differences", caption, columns, analysis.scale_maximum), analysis)
        .in_sheet("Differences")
        .with_rows(samples.flat_map(of_candidate))
}

fn with_notes(table: Table, analysis: &Analysis) -> Table {
    table
        .with_note(words::DIFFERENCES_HOW)
        .with_note(words::verdict_rule(analysis.alpha))
        .with_note(words::off_test(analysis))
}

/// All columns but those that name the row.
fn columns(analysis: &Analysis) -> Vec<Column> {
    let p = |head, field| Column::of(head, Format::Probability, field).under(words::P_GROUP);
    let [lower95, upper95] = interval(common::INTERVAL_95, ["lower95", "upper95"]);
    let [lower90, upper90] = interval(common::INTERVAL_90, ["lower90", "upper90"]);
    let mut columns = vec![
        Column::of(common::DIFFERENCE, Format::Difference, "difference").in_unit(&analysis.unit),
        lower95,
        upper95,
        lower90,
        upper90,
        Column::of(common::MARGIN, Format::Typed, "margin"),
        Column::of(common::VERDICT, Format::Words, "verdict"),
        Column::of(words::P_OFF, Format::Probability, "p_off"),
        Column::of(words::SE, Format::Score, "se"),
        Column::of(common::DF, Format::Statistic(1), "df"),
        p(words::P_LOWER, "p_lower"),
        p(words::P_UPPER, "p_upper"),
        p(words::P_DIFFERENCE, "p_difference"),
    ];
    if uses_own_alpha(analysis) {
        let [off, alike] = words::verdict_intervals(analysis.alpha);
        columns.extend(interval(&off, ["difference_lower", "difference_upper"]));
        columns.extend(interval(&alike, ["match_lower", "match_upper"]));
    }
    columns
}

fn interval(group: &str, [lower, upper]: [&'static str; 2]) -> [Column; 2] {
    [(common::FROM, lower), (common::TO, upper)]
        .map(|(head, field)| Column::of(head, Format::Difference, field).under(group))
}

/// Rows of one candidate that begin with the attribute.
fn rows(analysis: &Analysis, sample: &str) -> Vec<Vec<Cell>> {
    let row = |(attribute, found): (&AttributeAnalysis, &TargetDifference)| {
        let aside = if attribute.deciding { "" } else { common::NOT_DECIDING };
        let name = Cell::words(&attribute.attribute).with_detail(aside);
        [name].into_iter().chain(results(analysis, found).into_iter().map(|cell| cell.selecting(sample))).collect()
    };
    analysis.differences_of(sample).into_iter().map(row).collect()
}

fn results(analysis: &Analysis, found: &TargetDifference) -> Vec<Cell> {
    let test = |pick: fn(&DifferenceTest) -> f64| Cell::of(&found.test, pick);
    let mut cells = vec![
        Cell::number(found.difference),
        test(|test| test.interval95.lower),
        test(|test| test.interval95.upper),
        test(|test| test.interval90.lower),
        test(|test| test.interval90.upper),
        Cell::number(found.margin),
        Cell::verdict(found.verdict).with_detail(if found.beyond { words::BEYOND } else { "" }),
        Cell::of(&found.p_off, |p| *p),
        test(|test| test.se),
        test(|test| test.df),
        test(|test| test.p_lower),
        test(|test| test.p_upper),
        test(|test| test.p_difference),
    ];
    if uses_own_alpha(analysis) {
        cells.push(test(|test| test.difference_interval.lower));
        cells.push(test(|test| test.difference_interval.upper));
        cells.push(test(|test| test.match_interval.lower));
        cells.push(test(|test| test.match_interval.upper));
    }
    cells
}

/// Whether the verdict stands on other intervals than the 95 % and 90 % ones that are always shown.
fn uses_own_alpha(analysis: &Analysis) -> bool {
    !crate::numeric::tolerance::is_same_number(analysis.alpha, 0.05)
}
