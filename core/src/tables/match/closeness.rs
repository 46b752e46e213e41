//! Which candidate is closest, with intervals from resampled assessors.

use super::words::CLOSEST_OF_ALL;
use crate::stats::r#match::distance_bootstrap::{CandidateDistance, DistanceResampling, NoiseFloor, Ranked};
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words::{CANDIDATE, FROM, TARGET_AGAIN, TO, percent};
use crate::text::numbers::score;

/// Candidates from close to far, the target under another code last; each is weighed against the candidate below it.
/// Distances in units of the scale, shares of draws between 0 and 1.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> Table {
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    let caption = format!("Closeness to {}, in {}; closest first", found.target, analysis.unit);
    Table::new("closeness", caption, columns(found.level, floor), analysis.scale_maximum)
        .with_rows(rows(found, floor))
        .with_note(noise_floor(analysis, found))
        .with_note(target_against_itself(analysis, found))
        .with_note(how(found))
}

fn columns(level: f64, floor: Option<&NoiseFloor>) -> Vec<Column> {
    let interval = format!("{} interval", percent(level));
    let mut columns = vec![
        Column::name(CANDIDATE),
        Column::of("distance, noise off", Format::Score, "distance_adjusted"),
        Column::of(FROM, Format::Score, "distance_lower").under(&interval),
        Column::of(TO, Format::Score, "distance_upper").under(&interval),
        Column::of("distance, noise in", Format::Score, "distance"),
        Column::of("closest in", Format::OfHundred, "share_closest"),
        Column::of("closer than the next in", Format::OfHundred, "closer_than_next"),
        Column::of("p, whole profile alike", Format::Probability, "sign_flip_p"),
    ];
    columns.extend(floor.map(|_| Column::of("no farther than the target again in", Format::OfHundred, "within_noise")));
    columns
}

fn rows(found: &DistanceResampling, floor: Option<&NoiseFloor>) -> Vec<Vec<Cell>> {
    let is_again = |one: &Ranked| floor.is_some_and(|floor| floor.duplicate.sample == one.sample);
    let (again, candidates): (Vec<&Ranked>, Vec<&Ranked>) = found.ranking.iter().partition(|one| is_again(one));
    let row = |(place, ranked): (usize, &&Ranked)| {
        let next = candidates.get(place + 1).map(|next| next.sample.as_str());
        row(found, floor, ranked, closer_than(found, &ranked.sample, next))
    };
    let last = |ranked: &&Ranked| row_of_again(found, floor, ranked);
    candidates.iter().enumerate().filter_map(row).chain(again.iter().filter_map(last)).collect()
}

/// The target under another code, which nobody asks to be close.
fn row_of_again(found: &DistanceResampling, floor: Option<&NoiseFloor>, ranked: &Ranked) -> Option<Vec<Cell>> {
    let mut cells = row(found, floor, ranked, Cell::not_defined(TARGET_AGAIN))?;
    cells[0].detail = TARGET_AGAIN.to_owned();
    Some(cells)
}

/// Share of draws in which a candidate is closer than the next.
fn closer_than(found: &DistanceResampling, sample: &str, next: Option<&str>) -> Cell {
    let share = next.and_then(|next| found.closer.iter().find(|one| one.sample == sample && one.than == next));
    share.map_or_else(|| Cell::not_defined(CLOSEST_OF_ALL), |closer| of_share(&closer.share))
}

/// `None` where the ranking names what has no distance.
fn row(
    found: &DistanceResampling,
    floor: Option<&NoiseFloor>,
    ranked: &Ranked,
    closer_than_next: Cell,
) -> Option<Vec<Cell>> {
    let sample = ranked.sample.as_str();
    let distance: &CandidateDistance = found.candidates.iter().find(|distance| distance.sample == sample)?;
    let results = [
        Cell::number(distance.distance_adjusted),
        Cell::of(&distance.interval, |interval| interval.lower),
        Cell::of(&distance.interval, |interval| interval.upper),
        Cell::number(distance.distance),
        of_share(&ranked.share_closest),
        closer_than_next,
        Cell::of(&distance.sign_flip, |test| test.p),
    ];
    let within = floor.map(|floor| match floor.within_noise.iter().find(|one| one.sample == sample) {
        Some(within) => of_share(&within.share),
        None => Cell::not_defined(TARGET_AGAIN),
    });
    let results = results.into_iter().chain(within).map(|cell| cell.selecting(sample));
    Some([Cell::words(sample)].into_iter().chain(results).collect())
}

fn of_share(share: &Defined<f64>) -> Cell {
    Cell::of(share, |share| *share)
}

/// Where noise ends, in words: by the target tasted again, else by the scatter between assessors.
fn noise_floor(analysis: &Analysis, found: &DistanceResampling) -> String {
    match &found.noise_floor {
        Some(Ok(floor)) => by_target_again(analysis, found.level, &floor.duplicate),
        Some(Err(reason)) => format!("Noise floor not defined, because {}.", reason.because),
        None => by_scatter(analysis),
    }
}

fn by_target_again(analysis: &Analysis, level: f64, again: &CandidateDistance) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    let interval = again.interval.as_ref().map_or_else(
        |_| String::new(),
        |ends| format!(" ({} interval {} to {})", percent(level), size(ends.lower), size(ends.upper)),
    );
    format!(
        "Noise floor: {} is the target again and lies {} {} from it{interval}. A candidate no farther than that can't be \
         told from the target by its distance.",
        again.sample,
        size(again.distance_adjusted),
        analysis.unit
    )
}

fn by_scatter(analysis: &Analysis) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    let noise = analysis.candidates.iter().filter_map(|one| one.distance.as_ref().ok());
    let mut noise: Vec<f64> = noise.map(|distance| distance.distance_of_noise).collect();
    noise.sort_by(f64::total_cmp);
    let sizes = match noise.as_slice() {
        [] => return "Noise floor not defined, because no candidate has a distance.".to_owned(),
        [least, .., most] if size(*least) != size(*most) => format!("{} to {}", size(*least), size(*most)),
        [least, ..] => size(*least),
    };
    format!(
        "Noise floor: the scatter between assessors alone would give a distance of {sizes} {} where there is no \
         difference at all; it is taken off in the first column. Tasting the target twice under two codes would show the \
         floor itself.",
        analysis.unit
    )
}

/// The target's own replicates against each other.
fn target_against_itself(analysis: &Analysis, found: &DistanceResampling) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    let unit = &analysis.unit;
    let floor = match &found.target_replicates {
        Err(reason) => return format!("The target can't be held against itself, because {}.", reason.because),
        Ok(floor) => floor,
    };
    let halves = match floor.n_replicates {
        2 => "its first cups against its second",
        _ => "its odd cups against its even ones",
    };
    format!(
        "The target against itself, {halves}: {} {unit} with the noise in; averaged over all replicates, as the distances \
         above are, that makes {} {unit}. A candidate that lies no farther, noise in, is as near as the target is to \
         itself.",
        size(floor.distance),
        size(floor.distance_of_means)
    )
}

fn how(found: &DistanceResampling) -> String {
    format!(
        "From {} panels drawn with replacement from the {} assessors (seed {}), the same draws for all candidates; \
         intervals bias-corrected and accelerated. The p-value flips the signs of whole assessors.",
        found.draws, found.n_assessors, found.seed
    )
}
