//! Which candidate is closest, with intervals from resampled assessors.

use super::{Cell, Column, Row, Table};
use crate::words::matching as say;
use crate::words::tables as words;
use likeness_core::stats::resampling::{CandidateDistance, DistanceResampling, Ranked};
use likeness_core::stats::{Analysis, Defined};
use likeness_core::write::numbers::{p_value, score, statistic};

/// Candidates from close to far.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> Table {
    let rows = found.ranking.iter().filter_map(|ranked| {
        let distance = found.candidates.iter().find(|distance| distance.sample == ranked.sample)?;
        Some(row(analysis, found, ranked, distance))
    });
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    let mut columns = vec![
        Column::plain(words::DISTANCE_ADJUSTED),
        Column::grouped(words::interval_at(found.level), words::FROM),
        Column::grouped(words::interval_at(found.level), words::TO),
        Column::plain(say::DISTANCE_RAW),
        Column::plain(words::SHARE_CLOSEST),
        Column::plain(say::CLOSER_THAN_NEXT),
        Column::plain(words::P_PROFILE),
    ];
    columns.extend(floor.map(|_| Column::plain(say::WITHIN_NOISE)));
    Table {
        name: "closeness",
        caption: words::closeness(&found.target, &analysis.unit),
        corner: words::CANDIDATE.to_owned(),
        columns,
        rows: rows.collect(),
        notes: vec![noise_floor(analysis, found), words::closeness_how(found.draws, found.n_assessors, found.seed)],
    }
}

/// Where noise ends, in words: by the target tasted again, else by the scatter between assessors.
fn noise_floor(analysis: &Analysis, found: &DistanceResampling) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    match &found.noise_floor {
        Some(Ok(floor)) => {
            let again = &floor.duplicate;
            let ends = again.interval.as_ref().ok().map(|interval| (size(interval.lower), size(interval.upper)));
            let ends = ends.as_ref().map(|(lower, upper)| (lower.as_str(), upper.as_str()));
            say::floor_by_duplicate(&again.sample, &size(again.distance_adjusted), ends, &analysis.unit)
        }
        Some(Err(reason)) => say::floor_not_defined(&reason.because),
        None => {
            let noise = analysis.candidates.iter().filter_map(|one| one.distance.as_ref().ok());
            let mut noise: Vec<f64> = noise.map(|distance| distance.distance_of_noise).collect();
            noise.sort_by(f64::total_cmp);
            match noise.as_slice() {
                [] => say::floor_not_defined(say::NO_DISTANCE),
                [least, ..] => say::floor_by_scatter(&size(*least), &size(noise[noise.len() - 1]), &analysis.unit),
            }
        }
    }
}

fn row(analysis: &Analysis, found: &DistanceResampling, ranked: &Ranked, distance: &CandidateDistance) -> Row {
    let sample = ranked.sample.as_str();
    let size = |field, value: f64| Cell::number(sample, field, value, score(value, analysis.scale_maximum));
    let (lower, upper) = match &distance.interval {
        Ok(interval) => (size("distance_lower", interval.lower), size("distance_upper", interval.upper)),
        Err(reason) => (
            Cell::missing(sample, "distance_lower", &reason.because),
            Cell::missing(sample, "distance_upper", &reason.because),
        ),
    };
    let share_of = |field, share: &Defined<f64>| match share {
        Ok(share) => Cell::number(sample, field, *share, words::in_a_hundred(&statistic(100.0 * share, 0))),
        Err(reason) => Cell::missing(sample, field, &reason.because),
    };
    let closest = share_of("share_closest", &ranked.share_closest);
    let next = found.ranking.iter().find(|other| other.rank == ranked.rank + 1);
    let closer = next.and_then(|next| found.closer.iter().find(|one| one.sample == sample && one.than == next.sample));
    let closer = match closer {
        Some(closer) => share_of("closer_than_next", &closer.share),
        None => Cell::missing(sample, "closer_than_next", say::NONE_FARTHER),
    };
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    let within = floor.map(|floor| match floor.within_noise.iter().find(|one| one.sample == sample) {
        Some(within) => share_of("within_noise", &within.share),
        None => Cell::missing(sample, "within_noise", say::TARGET_AGAIN_MARK),
    });
    let profile = match &distance.sign_flip {
        Ok(test) => Cell::number(sample, "sign_flip_p", test.p, p_value(test.p)),
        Err(reason) => Cell::missing(sample, "sign_flip_p", &reason.because),
    };
    let is_again = floor.is_some_and(|floor| floor.duplicate.sample == sample);
    let aside = if is_again { say::TARGET_AGAIN_MARK.to_owned() } else { String::new() };
    let raw = size("distance", distance.distance);
    let mut cells =
        vec![size("distance_adjusted", distance.distance_adjusted), lower, upper, raw, closest, closer, profile];
    cells.extend(within);
    Row { head: sample.to_owned(), aside, cells }
}
