//! Which candidate is closest, with intervals from resampled assessors.

use super::{Cell, Column, Row, Table};
use crate::words::tables as words;
use likeness_core::stats::Analysis;
use likeness_core::stats::resampling::{CandidateDistance, DistanceResampling, Ranked};
use likeness_core::write::numbers::{p_value, score, statistic};

/// Candidates from close to far.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> Table {
    let rows = found.ranking.iter().filter_map(|ranked| {
        let distance = found.candidates.iter().find(|distance| distance.sample == ranked.sample)?;
        Some(row(analysis, ranked, distance))
    });
    Table {
        name: "closeness",
        caption: words::closeness(&found.target, &analysis.unit),
        corner: words::CANDIDATE.to_owned(),
        columns: vec![
            Column::plain(words::DISTANCE_ADJUSTED),
            Column::grouped(words::interval_at(found.level), words::FROM),
            Column::grouped(words::interval_at(found.level), words::TO),
            Column::plain(words::SHARE_CLOSEST),
            Column::plain(words::P_PROFILE),
        ],
        rows: rows.collect(),
        notes: vec![words::closeness_how(found.draws, found.n_assessors, found.seed)],
    }
}

fn row(analysis: &Analysis, ranked: &Ranked, distance: &CandidateDistance) -> Row {
    let sample = ranked.sample.as_str();
    let size = |field, value: f64| Cell::number(sample, field, value, score(value, analysis.scale_maximum));
    let (lower, upper) = match &distance.interval {
        Ok(interval) => (size("distance_lower", interval.lower), size("distance_upper", interval.upper)),
        Err(reason) => (
            Cell::missing(sample, "distance_lower", &reason.because),
            Cell::missing(sample, "distance_upper", &reason.because),
        ),
    };
    let closest = match &ranked.share_closest {
        Ok(share) => Cell::number(sample, "share_closest", *share, words::in_a_hundred(&statistic(100.0 * share, 0))),
        Err(reason) => Cell::missing(sample, "share_closest", &reason.because),
    };
    let profile = match &distance.sign_flip {
        Ok(test) => Cell::number(sample, "sign_flip_p", test.p, p_value(test.p)),
        Err(reason) => Cell::missing(sample, "sign_flip_p", &reason.because),
    };
    Row {
        head: sample.to_owned(),
        aside: String::new(),
        cells: vec![size("distance_adjusted", distance.distance_adjusted), lower, upper, closest, profile],
    }
}
