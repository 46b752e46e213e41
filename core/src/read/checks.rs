//! What is said about a study once it is built: size, balance, positions, one assessor on another scale.

use super::Counts;
use super::notes::Notes;
use super::scale::FoundScale;
use super::sentences as say;
use crate::study::{Scale, Study};
use std::collections::BTreeMap;

/// How many of everything there are.
pub(super) fn counts_of(study: &Study, rows: usize) -> Counts {
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

pub(super) fn tell_scale(found: &FoundScale, notes: &mut Notes) {
    let scale = &found.scale;
    notes.of_file(if (scale.maximum - 100.0).abs() < 1e-9 {
        say::scale_hundred()
    } else {
        say::scale_guessed(found.highest, scale.minimum, scale.maximum)
    });
}

/// Size, positions, missing scores and balance.
pub(super) fn tell_size(study: &Study, counts: &Counts, notes: &mut Notes) {
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
            Some(first) if study.servings.len() > 1 && scores.all(|score| super::cells::same(score, first)) => {
                notes.of_file(say::constant(&attribute.name, first));
            }
            Some(_) => {}
        }
    }
}

/// Scores of one assessor, sorted.
struct Marks {
    name: String,
    sorted: Vec<f64>,
}

/// Ends of scales that somebody may use among others who use the 100 mm line.
const SHORT_SCALES: [f64; 4] = [9.0, 10.0, 15.0, 20.0];

/// Flags an assessor whose scores look as if given on a scale of their own. The person decides.
pub(super) fn tell_scale_of_one(study: &Study, scale: &Scale, notes: &mut Notes) {
    let marks = marks_by_assessor(study);
    if marks.len() < 2 || (scale.minimum - 0.0).abs() > 1e-9 {
        return;
    }
    let short: Vec<bool> = (0..marks.len()).map(|one| keeps_below_others(&marks, one)).collect();
    let flagged = short.iter().filter(|flag| **flag).count();
    if scale.maximum > 20.0 && flagged * 2 > marks.len() {
        return tell_longer(&marks, SHORT_SCALES[2], notes);
    }
    if scale.maximum <= 20.0 {
        return tell_longer(&marks, scale.maximum, notes);
    }
    for (one, assessor) in marks.iter().enumerate().filter(|(one, _)| short[*one]) {
        let highest = assessor.sorted.last().copied().unwrap_or(0.0);
        let maximum = SHORT_SCALES.into_iter().find(|end| highest <= *end).unwrap_or(SHORT_SCALES[3]);
        let others = median(&others(&marks, one));
        notes.of_file(say::scale_of_one(&assessor.name, assessor.sorted.len(), highest, others, maximum));
    }
}

fn marks_by_assessor(study: &Study) -> Vec<Marks> {
    let mut marks: Vec<Marks> =
        study.assessors.iter().map(|assessor| Marks { name: assessor.name.clone(), sorted: Vec::new() }).collect();
    for attribute in 0..study.attributes.len() {
        for (serving, described) in study.servings.iter().enumerate() {
            marks[described.assessor as usize].sorted.extend(study.score(serving, attribute));
        }
    }
    marks.iter_mut().for_each(|one| one.sorted.sort_by(f64::total_cmp));
    marks
}

fn others(marks: &[Marks], one: usize) -> Vec<f64> {
    let mut all: Vec<f64> = marks
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != one)
        .flat_map(|(_, marks)| marks.sorted.iter().copied())
        .collect();
    all.sort_by(f64::total_cmp);
    all
}

/// Six scores or more, none above 20, while half of the others' are above twice their highest.
fn keeps_below_others(marks: &[Marks], one: usize) -> bool {
    let highest = marks[one].sorted.last().copied().unwrap_or(f64::INFINITY);
    marks[one].sorted.len() >= 6 && highest <= SHORT_SCALES[3] && median(&others(marks, one)) > 2.0 * highest
}

/// Assessors with more than half of their scores above an end that hardly any other score exceeds.
fn tell_longer(marks: &[Marks], maximum: f64, notes: &mut Notes) {
    let above = |one: &Marks| one.sorted.iter().filter(|score| **score > maximum).count();
    let all_above: usize = marks.iter().map(above).sum();
    let all: usize = marks.iter().map(|one| one.sorted.len()).sum();
    for one in marks {
        let (own, others_above) = (above(one), all_above - above(one));
        let hardly_any = others_above * 20 <= all - one.sorted.len();
        if own * 2 > one.sorted.len() && one.sorted.len() >= 6 && hardly_any {
            notes.of_file(say::scale_of_one_longer(&one.name, own, one.sorted.len(), maximum));
        }
    }
}

fn median(sorted: &[f64]) -> f64 {
    sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)
}
