//! What is said about a study once it is built: size, balance, positions, one assessor on another scale.

use crate::read::collect::scale::FoundScale;
use crate::read::grid::cell_values::is_same_number;
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::options::Counts;
use crate::study::{Assessor, Scale, Study};
use std::collections::BTreeMap;

/// How many of everything there are.
pub(in crate::read) fn counts_of(study: &Study, rows: usize) -> Counts {
    let scores = study.score_count();
    Counts {
        rows,
        assessors: study.assessors.len(),
        samples: study.samples.len(),
        attributes: study.attributes.len(),
        replicates: study.replicate_count() as usize,
        sessions: study.sessions.len(),
        servings: study.servings.len(),
        scores,
        missing: study.servings.len() * study.attributes.len() - scores,
    }
}

pub(in crate::read) fn tell_scale(found: &FoundScale, notes: &mut Notes) {
    let scale = &found.scale;
    notes.of_file(if crate::numeric::tolerance::is_same_number(scale.maximum, 100.0) {
        say::scale_hundred()
    } else {
        say::scale_guessed(found.highest, scale.minimum, scale.maximum)
    });
}

/// Size, positions, missing scores and balance.
pub(in crate::read) fn tell_size(study: &Study, counts: &Counts, notes: &mut Notes) {
    notes.of_file(say::size(counts));
    if study.servings.iter().all(|serving| serving.position.is_none()) {
        notes.of_file(say::no_positions());
    }
    if counts.missing > 0 {
        notes.of_file(say::missing_scores(counts.missing, counts.servings * counts.attributes));
    }
    for (number, what) in [(counts.assessors, "assessor"), (counts.samples, "sample")] {
        if number == 1 {
            notes.of_file(say::single(what));
        }
    }
    tell_balance(study, notes);
    tell_empty_and_constant(study, notes);
}

fn tell_balance(study: &Study, notes: &mut Notes) {
    let mut servings_of_pair: BTreeMap<(u32, u32), usize> = BTreeMap::new();
    let mut servings_of_assessor = vec![0_usize; study.assessors.len()];
    for serving in &study.servings {
        *servings_of_pair.entry((serving.assessor, serving.sample)).or_default() += 1;
        servings_of_assessor[serving.assessor as usize] += 1;
    }
    let replicates = servings_of_pair.values().copied().max().unwrap_or(0);
    let each = study.samples.len() * replicates;
    let expected = each * study.assessors.len();
    let fewest = (0..study.assessors.len()).min_by_key(|assessor| servings_of_assessor[*assessor]);
    if let (true, Some(fewest)) = (study.servings.len() < expected, fewest) {
        let name = &study.assessors[fewest].name;
        notes.of_file(say::unbalanced(study.servings.len(), expected, name, servings_of_assessor[fewest], each));
    }
    if replicates == 1 {
        notes.of_file(say::no_replicates());
    }
}

fn tell_empty_and_constant(study: &Study, notes: &mut Notes) {
    for (index, attribute) in study.attributes.iter().enumerate() {
        let mut scores = (0..study.servings.len()).filter_map(|serving| study.score(serving, index));
        match scores.next() {
            None => notes.of_file(say::empty_column(&attribute.name)),
            Some(first) if study.servings.len() > 1 && scores.all(|score| is_same_number(score, first)) => {
                notes.of_file(say::constant(&attribute.name, first));
            }
            Some(_) => {}
        }
    }
}

/// What one assessor's scores are like.
struct Marks {
    name: String,
    scores: usize,
    highest: f64,
    /// Scores above the end that is surveyed at.
    above: usize,
}

/// Ends of scales that somebody may use among others who use the 100 mm line.
const SHORT_SCALES: [f64; 4] = [9.0, 10.0, 15.0, 20.0];
const LONGEST_SHORT_SCALE: f64 = 20.0;
const FEWEST_SCORES: usize = 6;

/// Flags an assessor whose scores look as if given on a scale of their own. The person decides.
pub(in crate::read) fn tell_scale_of_one(study: &Study, scale: &Scale, notes: &mut Notes) {
    if study.assessors.len() < 2 || !crate::numeric::tolerance::is_same_number(scale.minimum, 0.0) {
        return;
    }
    if scale.maximum <= LONGEST_SHORT_SCALE {
        return tell_longer(&marks_by_assessor(study, scale.maximum), scale.maximum, notes);
    }
    let low = assessors_without_high_scores(study);
    if low.is_empty() {
        return;
    }
    let marks = marks_by_assessor(study, scale.maximum);
    if low.len() * 2 > marks.len() {
        return tell_longer(&marks_by_assessor(study, SHORT_SCALES[2]), SHORT_SCALES[2], notes);
    }
    for one in low.into_iter().filter(|one| marks[*one].scores >= FEWEST_SCORES) {
        let assessor = &marks[one];
        let others = median_of_others(study, one);
        if others > 2.0 * assessor.highest {
            let end = SHORT_SCALES.into_iter().find(|end| assessor.highest <= *end).unwrap_or(LONGEST_SHORT_SCALE);
            notes.of_file(say::scale_of_one(&assessor.name, assessor.scores, assessor.highest, others, end));
        }
    }
}

/// Assessors with no score above the longest of the short scales. Most are out at their first few scores.
fn assessors_without_high_scores(study: &Study) -> Vec<usize> {
    let mut low = vec![true; study.assessors.len()];
    for (serving, described) in study.servings.iter().enumerate() {
        let assessor = described.assessor as usize;
        let mut scores = (0..study.attributes.len()).filter_map(|attribute| study.score(serving, attribute));
        low[assessor] = low[assessor] && !scores.any(|score| score > LONGEST_SHORT_SCALE);
    }
    (0..low.len()).filter(|assessor| low[*assessor]).collect()
}

fn marks_by_assessor(study: &Study, end: f64) -> Vec<Marks> {
    let start = |assessor: &Assessor| Marks { name: assessor.name.clone(), scores: 0, highest: f64::MIN, above: 0 };
    let mut marks: Vec<Marks> = study.assessors.iter().map(start).collect();
    for attribute in 0..study.attributes.len() {
        for (serving, described) in study.servings.iter().enumerate() {
            let Some(score) = study.score(serving, attribute) else { continue };
            let one = &mut marks[described.assessor as usize];
            one.scores += 1;
            one.highest = one.highest.max(score);
            one.above += usize::from(score > end);
        }
    }
    marks
}

fn median_of_others(study: &Study, one: usize) -> f64 {
    let servings: Vec<usize> =
        (0..study.servings.len()).filter(|serving| study.servings[*serving].assessor as usize != one).collect();
    let attributes = 0..study.attributes.len();
    let mut scores: Vec<f64> = attributes
        .flat_map(|attribute| servings.iter().filter_map(move |serving| study.score(*serving, attribute)))
        .collect();
    let middle = scores.len() / 2;
    if scores.is_empty() { 0.0 } else { *scores.select_nth_unstable_by(middle, f64::total_cmp).1 }
}

/// Assessors with more than half of their scores above an end that hardly any other score exceeds.
fn tell_longer(marks: &[Marks], end: f64, notes: &mut Notes) {
    let all_above: usize = marks.iter().map(|one| one.above).sum();
    let all: usize = marks.iter().map(|one| one.scores).sum();
    for one in marks.iter().filter(|one| one.scores >= FEWEST_SCORES && one.above * 2 > one.scores) {
        if (all_above - one.above) * 20 <= all - one.scores {
            notes.of_file(say::scale_of_one_longer(&one.name, one.above, one.scores, end));
        }
    }
}
