//! The detectors behind `form_faults`: each weighs marks as written against marks as suspected.

use super::form_fault_findings::{Evidence, FormFaultKind, Reading, Suspicion};
use super::form_pages::{Compared, Pages, robust_scale};
use super::form_shifts::{FEWEST_LINES, Shift, belongs, shifts};
use crate::numeric::describe::{line, mean};
use std::collections::BTreeMap;

/// A page shifted by one line from some line on; `alarm` is the chance of any false one among all pages.
pub(in crate::stats) fn shifted_page(pages: &Pages, index: usize, alarm: f64) -> Option<Suspicion> {
    let threshold = (pages.pages.len() as f64 / alarm).ln();
    let page = &pages.pages[index];
    let expected = pages.expected(page.assessor, page.sample, &[index]);
    let shifts = shifts(&page.marks, &expected, &pages.misfit[page.assessor]);
    // All ways in which the page may be shifted count alike, so their mean ratio keeps the bound on false alarms.
    let log_mean = log_mean_exp(shifts.iter().map(|shift| shift.log_ratio));
    let best = shifts.into_iter().max_by(|a, b| a.log_ratio.total_cmp(&b.log_ratio));
    let best = best.filter(|_| log_mean > threshold)?;
    let (written, suspected) = levelled_pairs(&best, &page.marks, &expected, &pages.misfit[page.assessor]);
    let evidence = evidence(&written, &suspected, log_mean, threshold);
    let first = pages.attributes[best.from].clone();
    let (where_to, way) = if best.kind == FormFaultKind::ShiftedDown { ("above", "low") } else { ("below", "high") };
    Some(Suspicion {
        sentence: format!(
            "{}, sample {}, replicate {}: from “{first}” on each mark seems to stand one line too {way} and to \
             belong to the attribute {where_to} it; over {} lines the typical misfit is {:.1} as written and {:.1} \
             when moved. Look at the sheet.",
            pages.assessors[page.assessor],
            pages.samples[page.sample],
            page.replicate,
            evidence.n_marks,
            evidence.as_written.typical_misfit,
            evidence.as_suspected.typical_misfit
        ),
        kind: best.kind,
        assessor: pages.assessors[page.assessor].clone(),
        samples: vec![pages.samples[page.sample].clone()],
        session: page.session.clone(),
        replicate: Some(page.replicate),
        attribute: Some(first),
        servings: vec![page.serving],
        evidence,
    })
}

/// Pairs of forms of one assessor from one session and replicate, which may stand under each other's sample.
pub(in crate::stats) fn pairs_of_forms(pages: &Pages) -> Vec<(usize, usize)> {
    let mut together: BTreeMap<(usize, u32, Option<&str>), Vec<usize>> = BTreeMap::new();
    for (index, page) in pages.pages.iter().enumerate() {
        together.entry((page.assessor, page.replicate, page.session.as_deref())).or_default().push(index);
    }
    let mut pairs = Vec::new();
    for group in together.values() {
        for (place, one) in group.iter().enumerate() {
            let others =
                group[place + 1..].iter().filter(|other| pages.pages[**other].sample != pages.pages[*one].sample);
            pairs.extend(others.map(|other| (*one, *other)));
        }
    }
    pairs.sort_unstable();
    pairs
}

/// Two forms under each other's sample; `alarm` is the chance of any false suspicion among all `n_pairs`.
pub(in crate::stats) fn swapped_forms(
    pages: &Pages,
    (a, b): (usize, usize),
    n_pairs: usize,
    alarm: f64,
) -> Option<Suspicion> {
    let threshold = (n_pairs as f64 / alarm).ln();
    let (one, two) = (&pages.pages[a], &pages.pages[b]);
    let expect = |sample: usize| pages.expected(one.assessor, sample, &[a, b]);
    let (of_one, of_two) = (expect(one.sample), expect(two.sample));
    let pick = |marks: &[Option<f64>], expected: &[Option<f64>]| -> Vec<Compared> {
        (0..marks.len())
            .filter_map(|line| compared(marks[line]?, expected[line], pages.misfit[one.assessor][line]))
            .collect()
    };
    let written = [pick(&one.marks, &of_one), pick(&two.marks, &of_two)].map(levelled);
    let suspected = [pick(&one.marks, &of_two), pick(&two.marks, &of_one)].map(levelled);
    if written[0].len() < FEWEST_LINES || written[1].len() < FEWEST_LINES {
        return None;
    }
    let (written, suspected) = (written.concat(), suspected.concat());
    let log_ratio = log_ratio(&written, &suspected);
    if log_ratio <= threshold {
        return None;
    }
    let evidence = evidence(&written, &suspected, log_ratio, threshold);
    let assessor = pages.assessors[one.assessor].clone();
    let samples = vec![pages.samples[one.sample].clone(), pages.samples[two.sample].clone()];
    Some(Suspicion {
        kind: FormFaultKind::SwappedForms,
        sentence: format!(
            "{assessor}, replicate {}: the forms of samples {} and {} seem to be swapped; over {} marks the typical \
             misfit is {:.1} as written and {:.1} when swapped. Look at the codes on the sheets.",
            one.replicate,
            samples[0],
            samples[1],
            evidence.n_marks,
            evidence.as_written.typical_misfit,
            evidence.as_suspected.typical_misfit
        ),
        assessor,
        samples,
        session: one.session.clone(),
        replicate: Some(one.replicate),
        attribute: None,
        servings: vec![one.serving, two.serving],
        evidence,
    })
}

/// One assessor's sample means on one attribute against the others', as written and turned round.
pub(in crate::stats) struct Turned {
    written: Vec<Compared>,
    suspected: Vec<Compared>,
    log_ratio: f64,
    correlation: Option<f64>,
}

/// Levels of one assessor and of the others on one attribute, and the deviations from them, sample by sample.
struct Levelled {
    own: f64,
    others: f64,
    deviations: Vec<(f64, f64)>,
}

/// Scales read the wrong way round: whole assessors first, then single attributes of the others. `by_attribute` holds
/// what `turned` gives for each attribute.
pub(in crate::stats) fn mirrored(pages: &Pages, by_attribute: &[Vec<Option<Turned>>], alarm: f64) -> Vec<Suspicion> {
    let (assessors, attributes) = (pages.assessors.len(), pages.attributes.len());
    let whole_threshold = (assessors as f64 / alarm).ln();
    let single_threshold = ((assessors * attributes) as f64 / alarm).ln();
    let mut found = Vec::new();
    for assessor in 0..assessors {
        let own: Vec<(usize, &Turned)> = by_attribute
            .iter()
            .enumerate()
            .filter_map(|(attribute, turned)| turned[assessor].as_ref().map(|one| (attribute, one)))
            .collect();
        let total: f64 = own.iter().map(|(_, one)| one.log_ratio).sum();
        let negative = own.iter().filter(|(_, one)| one.correlation.is_some_and(|r| r < 0.0)).count();
        if own.len() > 1 && 3 * negative >= 2 * own.len() && total > whole_threshold {
            found.push(whole_mirror(pages, assessor, &own, total, whole_threshold, negative));
            continue;
        }
        let suspicious =
            own.iter().filter(|(_, one)| one.correlation.is_some_and(|r| r < 0.0) && one.log_ratio > single_threshold);
        found.extend(suspicious.map(|(k, one)| single_mirror(pages, assessor, *k, one, single_threshold)));
    }
    found
}

/// Every assessor on one attribute; `None` where there is too little to compare.
pub(in crate::stats) fn turned(pages: &Pages, attribute: usize) -> Vec<Option<Turned>> {
    let parts: Vec<Option<Levelled>> =
        (0..pages.assessors.len()).map(|assessor| split_level(&own_and_others(pages, assessor, attribute))).collect();
    // Robust scales over the panel: of levels between assessors, of deviations within them.
    let floor = 0.02 * (pages.scale_maximum - pages.scale_minimum).abs();
    let spread = |values: Vec<f64>| robust_scale(values).max(floor).max(crate::numeric::tolerance::SMALLEST_LENGTH);
    let levels = spread(parts.iter().flatten().map(|part| (part.own - part.others).abs()).collect());
    let within =
        spread(parts.iter().flatten().flat_map(|part| part.deviations.iter().map(|(y, x)| (y - x).abs())).collect());
    let ends = pages.scale_minimum + pages.scale_maximum;
    let one = |(assessor, part): (usize, Option<Levelled>)| {
        let part = part?;
        let scale = within * pages.scatter[assessor];
        let level = |expected: f64| log_density((part.own - expected) / levels);
        Some(Turned::of(&part, scale, level(ends - part.others) - level(part.others)))
    };
    parts.into_iter().enumerate().map(one).collect()
}

impl Turned {
    /// `level_ratio`: what the level alone says, as a logarithm.
    fn of(part: &Levelled, scale: f64, level_ratio: f64) -> Self {
        let pick = |sign: f64| -> Vec<Compared> {
            part.deviations.iter().map(|(y, x)| Compared { mark: *y, expected: sign * x, scale }).collect()
        };
        let (written, suspected) = (pick(1.0), pick(-1.0));
        let log_ratio = log_ratio(&written, &suspected) + level_ratio;
        let correlation = correlation(&written);
        Turned { written, suspected, log_ratio, correlation }
    }
}

/// Own and the others' mean of every sample that both scored.
fn own_and_others(pages: &Pages, assessor: usize, attribute: usize) -> Vec<(f64, f64)> {
    let own = &pages.means[attribute][assessor];
    own.iter().zip(&pages.others[assessor][attribute]).filter_map(|(own, others)| Some(((*own)?, (*others)?))).collect()
}

/// Levels of both, and deviations from them; `None` for fewer than three samples.
fn split_level(pairs: &[(f64, f64)]) -> Option<Levelled> {
    if pairs.len() < 3 {
        return None;
    }
    let (own, others): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let (own, others) = (mean(&own)?, mean(&others)?);
    Some(Levelled { own, others, deviations: pairs.iter().map(|(y, x)| (y - own, x - others)).collect() })
}

fn single_mirror(pages: &Pages, assessor: usize, attribute: usize, one: &Turned, threshold: f64) -> Suspicion {
    let evidence = evidence(&one.written, &one.suspected, one.log_ratio, threshold);
    let (name, word) = (pages.assessors[assessor].clone(), pages.attributes[attribute].clone());
    Suspicion {
        kind: FormFaultKind::MirroredAttribute,
        sentence: format!(
            "{name} seems to read “{word}” the wrong way round: over {} samples the correlation with the others is \
             {:.2}. Ask which end of the line means what.",
            evidence.n_marks,
            one.correlation.unwrap_or(0.0)
        ),
        assessor: name,
        samples: Vec::new(),
        session: None,
        replicate: None,
        attribute: Some(word),
        servings: Vec::new(),
        evidence,
    }
}

fn whole_mirror(
    pages: &Pages,
    assessor: usize,
    own: &[(usize, &Turned)],
    log_ratio: f64,
    threshold: f64,
    negative: usize,
) -> Suspicion {
    let gather =
        |pick: &dyn Fn(&Turned) -> Vec<Compared>| own.iter().flat_map(|(_, one)| pick(one)).collect::<Vec<_>>();
    let (written, suspected) = (gather(&|one| one.written.clone()), gather(&|one| one.suspected.clone()));
    let name = pages.assessors[assessor].clone();
    Suspicion {
        kind: FormFaultKind::MirroredAssessor,
        sentence: format!(
            "{name} seems to read all lines the wrong way round: on {negative} of {} attributes the correlation with \
             the others is negative. Ask which end of the line means what.",
            own.len()
        ),
        assessor: name,
        samples: Vec::new(),
        session: None,
        replicate: None,
        attribute: None,
        servings: Vec::new(),
        evidence: evidence(&written, &suspected, log_ratio, threshold),
    }
}

/// The marks that a shift moves, as written and as suspected, each reading without its level.
fn levelled_pairs(
    shift: &Shift,
    marks: &[Option<f64>],
    expected: &[Option<f64>],
    misfit: &[f64],
) -> (Vec<Compared>, Vec<Compared>) {
    let pair = |line: usize| {
        let (mark, belongs) = (marks[line]?, belongs(shift.kind, line, marks.len())?);
        let written = compared(mark, expected[line], misfit[line])?;
        Some((written, compared(mark, expected[belongs], misfit[belongs])?))
    };
    let (written, suspected): (Vec<Compared>, Vec<Compared>) = (shift.from..marks.len()).filter_map(pair).unzip();
    (levelled(written), levelled(suspected))
}

fn compared(mark: f64, expected: Option<f64>, scale: f64) -> Option<Compared> {
    expected.map(|expected| Compared { mark, expected, scale })
}

/// The page's overall level taken off: a generous or stingy page is no fault.
fn levelled(list: Vec<Compared>) -> Vec<Compared> {
    let gaps: Vec<f64> = list.iter().map(|one| one.mark - one.expected).collect();
    let level = mean(&gaps).unwrap_or(0.0);
    list.into_iter().map(|one| Compared { expected: one.expected + level, ..one }).collect()
}

/// How much likelier the marks are as suspected, as a logarithm. A page that fits badly either way proves little, so the
/// scales of all its marks are widened until the suspected reading fits as marks of this assessor do.
fn log_ratio(written: &[Compared], suspected: &[Compared]) -> f64 {
    let misfits = suspected.iter().map(|one| ((one.mark - one.expected) / one.scale).abs()).collect();
    let wider = robust_scale(misfits).max(1.0);
    log_likelihood(suspected, wider) - log_likelihood(written, wider)
}

fn log_likelihood(list: &[Compared], wider: f64) -> f64 {
    list.iter().map(|one| log_density((one.mark - one.expected) / (wider * one.scale)) - one.scale.ln()).sum()
}

/// Logarithm of Student's density with 5 degrees of freedom, its constant left out.
fn log_density(z: f64) -> f64 {
    -3.0 * (z * z / 5.0).ln_1p()
}

fn log_mean_exp(values: impl Iterator<Item = f64>) -> f64 {
    let values: Vec<f64> = values.collect();
    let largest = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if values.is_empty() || largest == f64::NEG_INFINITY {
        return f64::NEG_INFINITY;
    }
    largest + (values.iter().map(|value| (value - largest).exp()).sum::<f64>() / values.len() as f64).ln()
}

fn evidence(written: &[Compared], suspected: &[Compared], log_ratio: f64, threshold: f64) -> Evidence {
    Evidence {
        n_marks: written.len(),
        as_written: reading(written),
        as_suspected: reading(suspected),
        log10_times_likelier: log_ratio / std::f64::consts::LN_10,
        log10_threshold: threshold / std::f64::consts::LN_10,
    }
}

fn reading(list: &[Compared]) -> Reading {
    let squares: f64 = list.iter().map(|one| (one.mark - one.expected) * (one.mark - one.expected)).sum();
    Reading { correlation: correlation(list), typical_misfit: (squares / list.len().max(1) as f64).sqrt() }
}

fn correlation(list: &[Compared]) -> Option<f64> {
    let (x, y): (Vec<f64>, Vec<f64>) = list.iter().map(|one| (one.expected, one.mark)).unzip();
    line(&x, &y).map(|line| line.correlation)
}
