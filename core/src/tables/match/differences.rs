//! Verdicts and differences to the target as tables.

use crate::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, DifferenceTest, TargetDifference};
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable};

pub use crate::text::numbers::percent;

const INTERVAL_95: &str = "95 % interval";
const INTERVAL_90: &str = "90 % interval";
const P_AGAINST: &str = "p against";

/// One line a candidate: the verdict, what it stands on, how far the whole profile is.
pub fn verdicts(analysis: &Analysis) -> ResultTable {
    let unit = &analysis.unit;
    ResultTable {
        caption: format!("Verdicts; distances in {unit}"),
        columns: vec![
            ResultColumn::plain("candidate", ColumnKind::Words),
            ResultColumn::plain("verdict", ColumnKind::Words),
            ResultColumn::grouped("deciding attributes", "match", ColumnKind::Count),
            ResultColumn::grouped("deciding attributes", "off", ColumnKind::Count),
            ResultColumn::grouped("deciding attributes", "not shown", ColumnKind::Count),
            ResultColumn::grouped("distance of the profiles", "as measured", ColumnKind::Score),
            ResultColumn::grouped("distance of the profiles", "noise off", ColumnKind::Score),
            ResultColumn::grouped("distance of the profiles", "of noise alone", ColumnKind::Score),
            ResultColumn::plain("typical difference", ColumnKind::Score),
            ResultColumn::plain("overall offset", ColumnKind::Difference),
            ResultColumn::plain("shape r", ColumnKind::Fixed(2)),
        ],
        rows: analysis.candidates.iter().map(verdict_row).collect(),
        notes: vec![
            "Distance: root of the summed squared differences over all attributes for single characters. Noise off: the \
             summed squared standard errors are taken off first, because noise alone never shows a distance of zero. \
             Typical difference: distance over the root of the number of attributes. Offset: how much stronger overall. \
             Shape r: correlation of the two profiles."
                .to_owned(),
        ],
        scale_maximum: analysis.scale_maximum,
    }
}

/// Every attribute of one candidate, or of all candidates with a column that names them; largest difference first.
pub fn differences(analysis: &Analysis, only: Option<&str>) -> ResultTable {
    let mut columns = vec![
        ResultColumn::plain("attribute", ColumnKind::Words),
        ResultColumn::plain("decides", ColumnKind::Words),
        ResultColumn::plain("difference", ColumnKind::Difference),
        ResultColumn::grouped(INTERVAL_95, "from", ColumnKind::Difference),
        ResultColumn::grouped(INTERVAL_95, "to", ColumnKind::Difference),
        ResultColumn::grouped(INTERVAL_90, "from", ColumnKind::Difference),
        ResultColumn::grouped(INTERVAL_90, "to", ColumnKind::Difference),
        ResultColumn::plain("margin", ColumnKind::Statistic(2)),
        ResultColumn::plain("verdict", ColumnKind::Words),
        ResultColumn::plain("standard error", ColumnKind::Score),
        ResultColumn::plain("df", ColumnKind::Statistic(1)),
        ResultColumn::grouped(P_AGAINST, "too low", ColumnKind::Probability),
        ResultColumn::grouped(P_AGAINST, "too high", ColumnKind::Probability),
        ResultColumn::grouped(P_AGAINST, "no difference", ColumnKind::Probability),
    ];
    if uses_own_alpha(analysis) {
        for name in [percent(1.0 - analysis.alpha), percent(1.0 - 2.0 * analysis.alpha)] {
            let group = format!("{name} interval of the verdict");
            columns.push(ResultColumn::grouped(&group, "from", ColumnKind::Difference));
            columns.push(ResultColumn::grouped(&group, "to", ColumnKind::Difference));
        }
    }
    let wanted = analysis.candidates.iter().filter(|candidate| only.is_none_or(|name| candidate.sample == name));
    let mut rows = Vec::new();
    for candidate in wanted {
        rows.extend(difference_rows(analysis, &candidate.sample, only.is_none()));
    }
    if only.is_none() {
        columns.insert(0, ResultColumn::plain("candidate", ColumnKind::Words));
    }
    let target = analysis.target.as_deref().unwrap_or_default();
    ResultTable {
        caption: match only {
            Some(sample) => format!("{sample} minus {target}, in {}; largest difference first", analysis.unit),
            None => format!("Candidates minus {target}, in {}", analysis.unit),
        },
        columns,
        rows,
        notes: Vec::new(),
        scale_maximum: analysis.scale_maximum,
    }
}

fn verdict_row(candidate: &CandidateAnalysis) -> Vec<ResultCell> {
    let distance = |pick: fn(&crate::stats::ProfileDistance) -> f64| ResultCell::of(&candidate.distance, pick);
    let shape = match candidate.distance.as_ref().map(|found| found.shape_correlation) {
        Ok(Some(r)) => ResultCell::Number(r),
        Ok(None) => ResultCell::NotDefined("one of the profiles is flat".to_owned()),
        Err(reason) => ResultCell::NotDefined(reason.because.clone()),
    };
    vec![
        ResultCell::words(&candidate.sample),
        ResultCell::words(candidate.verdict.in_words()),
        ResultCell::Number(candidate.n_match as f64),
        ResultCell::Number(candidate.n_off as f64),
        ResultCell::Number(candidate.n_not_shown as f64),
        distance(|found| found.distance),
        distance(|found| found.distance_adjusted),
        distance(|found| found.distance_of_noise),
        distance(|found| found.typical_difference),
        distance(|found| found.overall_offset),
        shape,
    ]
}

fn difference_rows(analysis: &Analysis, sample: &str, named: bool) -> Vec<Vec<ResultCell>> {
    let row = |(attribute, difference): (&AttributeAnalysis, &TargetDifference)| {
        let mut cells = difference_row(analysis, attribute, difference);
        if named {
            cells.insert(0, ResultCell::words(sample));
        }
        cells
    };
    analysis.differences_of(sample).into_iter().map(row).collect()
}

fn difference_row(
    analysis: &Analysis,
    attribute: &AttributeAnalysis,
    difference: &TargetDifference,
) -> Vec<ResultCell> {
    let test = |pick: fn(&DifferenceTest) -> f64| ResultCell::of(&difference.test, pick);
    let mut cells = vec![
        ResultCell::words(&attribute.attribute),
        ResultCell::words(if attribute.deciding { "yes" } else { "no" }),
        ResultCell::Number(difference.difference),
        test(|test| test.interval95.lower),
        test(|test| test.interval95.upper),
        test(|test| test.interval90.lower),
        test(|test| test.interval90.upper),
        ResultCell::Number(difference.margin),
        ResultCell::words(difference.verdict.in_words()),
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
