//! One candidate against the target, attribute by attribute.

use super::{Cell, Column, Content, Row, Table};
use crate::words::tables as words;
use likeness_core::stats::{Analysis, AttributeAnalysis, DifferenceTest, TargetDifference};
use likeness_core::text::numbers::{p_value, score, signed_score, statistic};

/// The differences of a candidate to the target, largest first.
pub fn differences(analysis: &Analysis, sample: &str) -> Table {
    Table {
        name: "differences",
        caption: words::differences(sample, analysis.target.as_deref().unwrap_or_default(), &analysis.unit),
        corner: words::ATTRIBUTE.to_owned(),
        columns: columns(analysis),
        rows: analysis
            .differences_of(sample)
            .into_iter()
            .map(|(attribute, found)| row(analysis, attribute, found))
            .collect(),
        notes: notes(analysis),
    }
}

fn columns(analysis: &Analysis) -> Vec<Column> {
    let mut columns = vec![
        Column::plain(words::difference(&analysis.unit)),
        Column::grouped(words::INTERVAL_95, words::FROM),
        Column::grouped(words::INTERVAL_95, words::TO),
        Column::grouped(words::INTERVAL_90, words::FROM),
        Column::grouped(words::INTERVAL_90, words::TO),
        Column::plain(words::MARGIN),
        Column::plain(words::VERDICT),
        Column::plain(words::SE),
        Column::plain(words::DF),
        Column::grouped(words::P_GROUP, words::P_LOWER),
        Column::grouped(words::P_GROUP, words::P_UPPER),
        Column::grouped(words::P_GROUP, words::P_DIFFERENCE),
    ];
    if uses_own_alpha(analysis) {
        let verdict_intervals = words::verdict_intervals(analysis.alpha);
        for group in verdict_intervals {
            columns.push(Column::grouped(group.clone(), words::FROM));
            columns.push(Column::grouped(group, words::TO));
        }
    }
    columns
}

fn row(analysis: &Analysis, attribute: &AttributeAnalysis, difference: &TargetDifference) -> Row {
    let scale = analysis.scale_maximum;
    let sample = difference.sample.as_str();
    let test = difference.test.as_ref();
    let number = |field: &'static str, pick: fn(&DifferenceTest) -> f64, show: &dyn Fn(f64) -> String| match test {
        Ok(test) => Cell::number(sample, field, pick(test), show(pick(test))),
        Err(reason) => Cell::missing(sample, field, &reason.because),
    };
    let signed = |value: f64| signed_score(value, scale);
    let mut cells = vec![
        Cell::number(sample, "difference", difference.difference, signed(difference.difference)),
        number("lower95", |test| test.interval95.lower, &signed),
        number("upper95", |test| test.interval95.upper, &signed),
        number("lower90", |test| test.interval90.lower, &signed),
        number("upper90", |test| test.interval90.upper, &signed),
        Cell::number(sample, "margin", difference.margin, crate::words::number(difference.margin)),
        Cell { content: Content::Verdict(difference.verdict), sample: sample.to_owned(), field: "verdict" },
        number("se", |test| test.se, &|value| score(value, scale)),
        number("df", |test| test.df, &|value| statistic(value, 1)),
        number("p_lower", |test| test.p_lower, &p_value),
        number("p_upper", |test| test.p_upper, &p_value),
        number("p_difference", |test| test.p_difference, &p_value),
    ];
    if uses_own_alpha(analysis) {
        cells.push(number("difference_lower", |test| test.difference_interval.lower, &signed));
        cells.push(number("difference_upper", |test| test.difference_interval.upper, &signed));
        cells.push(number("match_lower", |test| test.match_interval.lower, &signed));
        cells.push(number("match_upper", |test| test.match_interval.upper, &signed));
    }
    let aside = if attribute.deciding { String::new() } else { words::NOT_DECIDING.to_owned() };
    Row { head: attribute.attribute.clone(), aside, cells }
}

fn notes(analysis: &Analysis) -> Vec<String> {
    vec![words::DIFFERENCES_HOW.to_owned(), words::verdict_rule(analysis.alpha)]
}

/// Whether the verdict stands on other intervals than the 95 % and 90 % ones that are always shown.
fn uses_own_alpha(analysis: &Analysis) -> bool {
    (analysis.alpha - 0.05).abs() > 1e-12
}
