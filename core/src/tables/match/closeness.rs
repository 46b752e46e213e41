//! Which candidate is closest, with intervals from resampled assessors.

use crate::stats::r#match::distance_bootstrap::{CandidateDistance, DistanceResampling, NoiseFloor, Ranked};
use crate::stats::{Analysis, Defined};
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable, percent, score};

/// What stands in place of a share of draws for the target under another code.
pub const TARGET_AGAIN: &str = "the target again";

/// Candidates from close to far.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> ResultTable {
    let interval = format!("{} interval", percent(found.level));
    let mut columns = vec![
        ResultColumn::plain("candidate", ColumnKind::Words),
        ResultColumn::plain("distance, noise off", ColumnKind::Score),
        ResultColumn::grouped(&interval, "from", ColumnKind::Score),
        ResultColumn::grouped(&interval, "to", ColumnKind::Score),
        ResultColumn::plain("distance, noise in", ColumnKind::Score),
        ResultColumn::plain("closest in", ColumnKind::OfHundred),
        ResultColumn::plain("closer than the next in", ColumnKind::OfHundred),
        ResultColumn::plain("p, whole profile alike", ColumnKind::Probability),
    ];
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    columns.extend(floor.map(|_| ResultColumn::plain("no farther than the target again in", ColumnKind::OfHundred)));
    let rows = found.ranking.iter().filter_map(|ranked| {
        let distance = found.candidates.iter().find(|distance| distance.sample == ranked.sample)?;
        Some(row(found, floor, ranked, distance))
    });
    ResultTable {
        caption: format!("Closeness to {}, in {}; closest first", found.target, analysis.unit),
        columns,
        rows: rows.collect(),
        notes: vec![noise_floor(analysis, found), target_against_itself(analysis, found), how(found)],
        scale_maximum: analysis.scale_maximum,
    }
}

fn row(
    found: &DistanceResampling,
    floor: Option<&NoiseFloor>,
    ranked: &Ranked,
    distance: &CandidateDistance,
) -> Vec<ResultCell> {
    let sample = &ranked.sample;
    let share = |share: &Defined<f64>| ResultCell::of(share, |share| *share);
    let next = found.ranking.iter().find(|other| other.rank == ranked.rank + 1);
    let closer = next.and_then(|next| found.closer.iter().find(|one| one.sample == *sample && one.than == next.sample));
    let mut cells = vec![
        ResultCell::words(sample),
        ResultCell::Number(distance.distance_adjusted),
        ResultCell::of(&distance.interval, |interval| interval.lower),
        ResultCell::of(&distance.interval, |interval| interval.upper),
        ResultCell::Number(distance.distance),
        share(&ranked.share_closest),
        closer.map_or_else(
            || ResultCell::NotDefined("no candidate is farther from the target".to_owned()),
            |closer| share(&closer.share),
        ),
        ResultCell::of(&distance.sign_flip, |test| test.p),
    ];
    cells.extend(floor.map(|floor| match floor.within_noise.iter().find(|one| one.sample == *sample) {
        Some(within) => share(&within.share),
        None => ResultCell::NotDefined(TARGET_AGAIN.to_owned()),
    }));
    cells
}

/// Where noise ends, in words: by the target tasted again, else by the scatter between assessors.
fn noise_floor(analysis: &Analysis, found: &DistanceResampling) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    let unit = &analysis.unit;
    match &found.noise_floor {
        Some(Ok(floor)) => {
            let again = &floor.duplicate;
            let interval = again.interval.as_ref().map_or_else(
                |_| String::new(),
                |ends| format!(" ({} interval {} to {})", percent(found.level), size(ends.lower), size(ends.upper)),
            );
            format!(
                "Noise floor: {} is the target again and lies {} {unit} from it{interval}. A candidate no farther than \
                 that can't be told from the target by its distance.",
                again.sample,
                size(again.distance_adjusted)
            )
        }
        Some(Err(reason)) => format!("Noise floor not defined, because {}.", reason.because),
        None => {
            let noise = analysis.candidates.iter().filter_map(|one| one.distance.as_ref().ok());
            let mut noise: Vec<f64> = noise.map(|distance| distance.distance_of_noise).collect();
            noise.sort_by(f64::total_cmp);
            match noise.as_slice() {
                [] => "Noise floor not defined, because no candidate has a distance.".to_owned(),
                [least, .., most] if size(*least) != size(*most) => {
                    by_scatter(&format!("{} to {}", size(*least), size(*most)), unit)
                }
                [least, ..] => by_scatter(&size(*least), unit),
            }
        }
    }
}

fn by_scatter(size: &str, unit: &str) -> String {
    format!(
        "Noise floor: the scatter between assessors alone would give a distance of {size} {unit} where there is no \
         difference at all; it is taken off in the first column. Tasting the target twice under two codes would show the \
         floor itself."
    )
}

/// The target's own replicates against each other.
fn target_against_itself(analysis: &Analysis, found: &DistanceResampling) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    let unit = &analysis.unit;
    match &found.target_replicates {
        Err(reason) => format!("The target can't be held against itself, because {}.", reason.because),
        Ok(floor) => {
            let halves = if floor.n_replicates == 2 {
                "its first cups against its second"
            } else {
                "its odd cups against its even ones"
            };
            format!(
                "The target against itself, {halves}: {} {unit} with the noise in; averaged over all replicates, as the \
                 distances above are, that makes {} {unit}. A candidate that lies no farther, noise in, is as near as the \
                 target is to itself.",
                size(floor.distance),
                size(floor.distance_of_means)
            )
        }
    }
}

fn how(found: &DistanceResampling) -> String {
    format!(
        "From {} panels drawn with replacement from the {} assessors (seed {}), the same draws for all candidates; \
         intervals bias-corrected and accelerated. The p-value flips the signs of whole assessors.",
        found.draws, found.n_assessors, found.seed
    )
}
