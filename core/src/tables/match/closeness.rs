//! Which candidate is closest, with intervals from resampled assessors.

use super::words::{CLOSEST_OF_ALL, DRAWN_AGAIN, TYPICAL_GROUP};
use crate::stats::r#match::distance_bootstrap::{CandidateDistance, DistanceResampling, NoiseFloor, Ranked};
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words::{CANDIDATE, TARGET_AGAIN};
use crate::text::numbers::score;

/// Candidates from close to far, the target under another code last; each is weighed against the candidate below it.
/// Distances in units of the scale, shares of draws between 0 and 1.
pub fn closeness(analysis: &Analysis, found: &DistanceResampling) -> Table {
    let floor = found.noise_floor.as_ref().and_then(|floor| floor.as_ref().ok());
    let caption = format!("Closeness to {}, in {}; closest first", found.target, analysis.unit);
    Table::new("closeness", caption, columns(floor), analysis.scale_maximum)
        .with_rows(rows(analysis, found, floor))
        .with_note(noise_floor(analysis, found))
        .with_note(target_against_itself(analysis, found))
        .with_note(how(found))
}

fn columns(floor: Option<&NoiseFloor>) -> Vec<Column> {
    let mut columns = vec![
        Column::name(CANDIDATE),
        Column::of("distance, scatter taken off", Format::Score, "distance_adjusted"),
        Column::of("distance as measured", Format::Score, "distance"),
        Column::of("at most", Format::Score, "typical_bound").under(TYPICAL_GROUP),
        Column::of("closest in", Format::OfHundred, "share_closest").under(DRAWN_AGAIN),
        Column::of("closer than the next in", Format::OfHundred, "closer_than_next").under(DRAWN_AGAIN),
        Column::of("closer in another panel, about", Format::OfHundred, "another_panel"),
        Column::of("p of no difference", Format::Probability, "sign_flip_p"),
    ];
    columns.extend(floor.map(|_| Column::of("no farther than the target again in", Format::OfHundred, "within_noise")));
    columns
}

fn rows(analysis: &Analysis, found: &DistanceResampling, floor: Option<&NoiseFloor>) -> Vec<Vec<Cell>> {
    let is_again = |one: &Ranked| floor.is_some_and(|floor| floor.duplicate.sample == one.sample);
    let (again, candidates): (Vec<&Ranked>, Vec<&Ranked>) = found.ranking.iter().partition(|one| is_again(one));
    let row = |(place, ranked): (usize, &&Ranked)| {
        let next = candidates.get(place + 1).map(|next| next.sample.as_str());
        row(analysis, found, floor, (ranked, closer_than(found, &ranked.sample, next)))
    };
    let last = |ranked: &&Ranked| row_of_again(analysis, found, floor, ranked);
    candidates.iter().enumerate().filter_map(row).chain(again.iter().filter_map(last)).collect()
}

/// The target under another code, which nobody asks to be close.
fn row_of_again(
    analysis: &Analysis,
    found: &DistanceResampling,
    floor: Option<&NoiseFloor>,
    ranked: &Ranked,
) -> Option<Vec<Cell>> {
    let nobody_asks = || Cell::not_defined(TARGET_AGAIN);
    let mut cells = row(analysis, found, floor, (ranked, [nobody_asks(), nobody_asks()]))?;
    cells[0].detail = TARGET_AGAIN.to_owned();
    Some(cells)
}

/// How often a candidate is closer than the next: share of draws, and of other panels.
fn closer_than(found: &DistanceResampling, sample: &str, next: Option<&str>) -> [Cell; 2] {
    let closer = next.and_then(|next| found.closer.iter().find(|one| one.sample == sample && one.than == next));
    match closer {
        Some(closer) => [of_share(&closer.share), of_share(&closer.another_panel)],
        None => [Cell::not_defined(CLOSEST_OF_ALL), Cell::not_defined(CLOSEST_OF_ALL)],
    }
}

/// `None` where the ranking names what has no distance.
fn row(
    analysis: &Analysis,
    found: &DistanceResampling,
    floor: Option<&NoiseFloor>,
    (ranked, [closer, another_panel]): (&Ranked, [Cell; 2]),
) -> Option<Vec<Cell>> {
    let sample = ranked.sample.as_str();
    let distance: &CandidateDistance = found.candidates.iter().find(|distance| distance.sample == sample)?;
    let judged = analysis.candidates.iter().find(|candidate| candidate.sample == sample).map(|one| &one.judged);
    let typical = match judged {
        Some(judged) => Cell::of(&judged.clone().and_then(|judged| judged.typical), |typical| typical.bound),
        None => Cell::not_defined("it was not judged"),
    };
    let results = [
        Cell::number(distance.distance_adjusted),
        Cell::number(distance.distance),
        typical,
        of_share(&ranked.share_closest),
        closer,
        another_panel,
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
        Some(Ok(floor)) => by_target_again(analysis, &floor.duplicate),
        Some(Err(reason)) => format!("Noise floor not defined, because {}.", reason.because),
        None => by_scatter(analysis),
    }
}

fn by_target_again(analysis: &Analysis, again: &CandidateDistance) -> String {
    let size = |value: f64| score(value, analysis.scale_maximum);
    format!(
        "Noise floor: {} is the target again and lies {} {} from it, scatter taken off ({} as measured): what this panel \
         makes of no difference. One cup is one cup: another pair would lie nearer or farther.",
        again.sample,
        size(again.distance_adjusted),
        analysis.unit,
        size(again.distance)
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
        "The target against itself, {halves}, what changed for all samples between the rounds taken off: {} {unit} as \
         measured; averaged over all replicates, as the distances above are, that makes {} {unit}. A candidate that lies \
         no farther, as measured, is as near as the target is to itself.",
        size(floor.distance),
        size(floor.distance_of_means)
    )
}

fn how(found: &DistanceResampling) -> String {
    format!(
        "From {} panels drawn with replacement from the {} assessors (seed {}), the same draws for all candidates. Another \
         panel has scatter of its own, and so agrees less often. The p-value turns the signs of whole assessors round.",
        found.draws, found.n_assessors, found.seed
    )
}
