//! Pages of the score sheet with what the rest of the panel lets one expect on them: the ground under `form_faults`.

use crate::numeric::describe::median_in_place;
use crate::stats::samples::profiles::{everyone_but, panel_means};
use crate::study::Study;

/// All pages that count.
pub(in crate::stats) struct Pages {
    pub assessors: Vec<String>,
    pub samples: Vec<String>,
    /// Lines of the sheet, in order, attributes left out of the analysis included: they are on the sheet all the same.
    pub attributes: Vec<String>,
    pub pages: Vec<Page>,
    /// `[attribute][assessor][sample]`: own mean over replicates.
    pub means: Vec<Vec<Vec<Option<f64>>>>,
    /// `[assessor][attribute][sample]`: mean of the other assessors.
    pub others: Vec<Vec<Vec<Option<f64>>>>,
    /// `[assessor][attribute]`: marks less the others' mean, summed and counted.
    gaps: Vec<Vec<Gaps>>,
    /// `[assessor][attribute]`: scale of the misfit of one mark.
    pub misfit: Vec<Vec<f64>>,
    /// `[assessor]`: how many times as widely as the usual scale of the lines do this assessor's marks scatter, 1 or more.
    pub scatter: Vec<f64>,
    pub scale_minimum: f64,
    pub scale_maximum: f64,
}

/// One assessor, one sample, once.
pub(in crate::stats) struct Page {
    pub assessor: usize,
    pub sample: usize,
    pub session: Option<String>,
    pub replicate: u32,
    /// Index into `Study::servings`.
    pub serving: u32,
    /// One entry an attribute.
    pub marks: Vec<Option<f64>>,
}

#[derive(Clone, Copy, Default)]
struct Gaps {
    sum: f64,
    count: f64,
}

/// A mark with its expectation and the scale of its misfit.
#[derive(Clone, Copy)]
pub(in crate::stats) struct Compared {
    pub mark: f64,
    pub expected: f64,
    pub scale: f64,
}

impl Pages {
    pub fn of(study: &Study) -> Self {
        let all: Vec<_> = (0..study.attributes.len()).map(|index| study.attribute_scores(index)).collect();
        let mut page_of = vec![None; study.servings.len()];
        let mut pages: Vec<Page> = Vec::new();
        for (attribute, scores) in all.iter().enumerate() {
            for observation in &scores.observations {
                let place = &mut page_of[observation.serving as usize];
                let page = *place.get_or_insert_with(|| {
                    pages.push(Page {
                        assessor: observation.assessor as usize,
                        sample: observation.sample as usize,
                        session: observation.session.and_then(|index| study.sessions.get(index as usize).cloned()),
                        replicate: observation.replicate,
                        serving: observation.serving,
                        marks: vec![None; all.len()],
                    });
                    pages.len() - 1
                });
                pages[page].marks[attribute] = Some(observation.score);
            }
        }
        pages.sort_by_key(|page| page.serving);
        let first = all.first();
        let assessors = first.map_or_else(Vec::new, |scores| scores.assessors.clone());
        let means: Vec<_> = all.iter().map(crate::stats::r#match::differences::assessor_means).collect();
        let others: Vec<Vec<Vec<Option<f64>>>> = (0..assessors.len())
            .map(|out| means.iter().map(|m| panel_means(m, &everyone_but(assessors.len(), Some(out)))).collect())
            .collect();
        let others_len = others.len();
        let mut built = Pages {
            samples: first.map_or_else(Vec::new, |scores| scores.samples.clone()),
            attributes: all.iter().map(|scores| scores.attribute.clone()).collect(),
            assessors,
            gaps: vec![vec![Gaps::default(); all.len()]; others_len],
            pages,
            means,
            others,
            misfit: Vec::new(),
            scatter: Vec::new(),
            scale_minimum: study.scale.minimum,
            scale_maximum: study.scale.maximum,
        };
        for index in 0..built.pages.len() {
            for attribute in 0..built.attributes.len() {
                if let Some(gap) = built.gap(index, attribute) {
                    let gaps = &mut built.gaps[built.pages[index].assessor][attribute];
                    gaps.sum += gap;
                    gaps.count += 1.0;
                }
            }
        }
        (built.misfit, built.scatter) = built.misfits();
        built
    }

    /// A mark less the mean of the others for its sample.
    fn gap(&self, page: usize, attribute: usize) -> Option<f64> {
        let page = &self.pages[page];
        Some(page.marks[attribute]? - self.others[page.assessor][attribute][page.sample]?)
    }

    /// What the panel and this assessor's level let one expect of every line of a page for a sample. The level comes
    /// from the assessor's other pages; pages in `without`, all of this assessor, do not speak for themselves.
    pub fn expected(&self, assessor: usize, sample: usize, without: &[usize]) -> Vec<Option<f64>> {
        (0..self.attributes.len())
            .map(|attribute| {
                let all = self.gaps[assessor][attribute];
                let rest = without
                    .iter()
                    .filter_map(|page| self.gap(*page, attribute))
                    .fold(all, |rest, gap| Gaps { sum: rest.sum - gap, count: rest.count - 1.0 });
                let level = if rest.count > 0.5 { rest.sum / rest.count } else { 0.0 };
                self.others[assessor][attribute][sample].map(|panel| panel + level)
            })
            .collect()
    }

    /// Robust scales of what is left on each line, an assessor and an attribute each, and the assessors' part in them: the
    /// scale of the attribute over all assessors, times how much more widely this assessor scatters over all lines. Only
    /// factors above 1 count: an assessor who seems steady may be so by chance.
    fn misfits(&self) -> (Vec<Vec<f64>>, Vec<f64>) {
        let mut left = vec![vec![Vec::new(); self.attributes.len()]; self.assessors.len()];
        for (index, page) in self.pages.iter().enumerate() {
            let expected = self.expected(page.assessor, page.sample, &[index]);
            for (attribute, (mark, expected)) in page.marks.iter().zip(&expected).enumerate() {
                if let (Some(mark), Some(expected)) = (mark, expected) {
                    left[page.assessor][attribute].push((mark - expected).abs());
                }
            }
        }
        let floor = 0.005 * (self.scale_maximum - self.scale_minimum).abs();
        let common: Vec<f64> = (0..self.attributes.len())
            .map(|attribute| left.iter().flat_map(|own| own[attribute].iter().copied()).collect())
            .map(|list: Vec<f64>| robust_scale(list).max(floor).max(crate::numeric::tolerance::SMALLEST_LENGTH))
            .collect();
        left.iter().map(|own| own_scales(own, &common)).unzip()
    }
}

/// The common scale of each line, widened for one assessor's misfits `own[attribute]`, and how many times.
fn own_scales(own: &[Vec<f64>], common: &[f64]) -> (Vec<f64>, f64) {
    let all = own.iter().zip(common).flat_map(|(list, scale)| list.iter().map(move |misfit| misfit / scale));
    let factor = robust_scale(all.collect()).max(1.0);
    (common.iter().map(|scale| factor * scale).collect(), factor)
}

/// Median absolute misfit over that of Student's law with 5 degrees of freedom (its upper quartile, .7267). One page that
/// went wrong among many does not move it. 0 for no misfits.
pub(in crate::stats) fn robust_scale(mut misfits: Vec<f64>) -> f64 {
    robust_scale_in_place(&mut misfits)
}

/// The same of a list that may be put into another order.
pub(in crate::stats) fn robust_scale_in_place(misfits: &mut [f64]) -> f64 {
    median_in_place(misfits).unwrap_or(0.0) / 0.7267
}
