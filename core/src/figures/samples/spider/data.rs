//! What a spider plot shows, taken from an analysis: values by spoke, words for people and machines, no places.

use super::options::SpiderOptions;
use crate::figures::parts;
use crate::figures::scene::layout::round_values;
use crate::figures::scene::primitives::{FigureColumn, FigureTable};
use crate::stats::{Analysis, Interval, TargetDifference, Verdict};
use crate::text::{lists, numbers};

/// Everything that the spider plot shows, and in which words.
pub struct SpiderData {
    /// Unit of the scale, as printed.
    pub unit: String,
    /// High end of the scale.
    pub scale_maximum: f64,
    /// One a spoke, clockwise from the top.
    pub attributes: Vec<SpokeEntry>,
    /// The target first, if there is one.
    pub series: Vec<Series>,
    decimals: usize,
}

/// One spoke.
pub struct SpokeEntry {
    /// Name of the attribute.
    pub name: String,
    /// Place on the ballot, from 1.
    pub number: usize,
    /// Whether a drawn candidate is off here.
    pub is_off: bool,
    /// How far the only drawn candidate is off, such as "+14".
    pub off_by: Option<String>,
}

/// One sample's profile.
pub struct Series {
    /// Name of the sample.
    pub sample: String,
    /// Whether it is the target.
    pub is_target: bool,
    /// One a spoke; absent where the sample has no mean.
    pub values: Vec<Option<SpokeValue>>,
}

/// What one sample has on one spoke.
pub struct SpokeValue {
    /// In the unit of the scale.
    pub mean: f64,
    /// 95 % interval of the mean; none where it is not defined.
    pub interval: Option<Interval>,
    /// The difference to the target; none for the target itself and where the two were not compared.
    pub versus_target: Option<TargetDifference>,
}

impl SpiderData {
    /// Everything that counts, in the order of the study.
    pub fn gather(analysis: &Analysis, options: &SpiderOptions) -> Self {
        let candidates = parts::chosen_candidates(analysis, options.candidates.as_deref());
        let target = analysis.target.iter().filter(|name| analysis.samples.contains(name));
        let samples = target.map(|name| (name.clone(), true)).chain(candidates.into_iter().map(|name| (name, false)));
        let series: Vec<Series> = samples
            .map(|(sample, is_target)| {
                let values = analysis.attributes.iter().map(|entry| SpokeValue::find(entry, &sample)).collect();
                Series { sample, is_target, values }
            })
            .collect();
        let mut data = SpiderData {
            unit: parts::unit_of(analysis, options.unit.as_ref()),
            scale_maximum: analysis.scale_maximum,
            attributes: Vec::new(),
            series,
            decimals: numbers::decimals_in_words(analysis.scale_maximum),
        };
        let names = analysis.attributes.iter().map(|entry| entry.attribute.clone());
        data.attributes = names.enumerate().map(|(spoke, name)| data.spoke_entry(spoke, name)).collect();
        data
    }

    fn spoke_entry(&self, spoke: usize, name: String) -> SpokeEntry {
        let is_off = self.series.iter().any(|series| series.verdict(spoke) == Some(Verdict::Off));
        let candidates: Vec<&Series> = self.candidates().collect();
        let off_by = match candidates[..] {
            [only] if is_off => {
                only.difference(spoke).map(|entry| numbers::shown_signed(entry.difference, self.decimals))
            }
            _ => None,
        };
        SpokeEntry { name, number: spoke + 1, is_off, off_by }
    }

    fn candidates(&self) -> impl Iterator<Item = &Series> {
        self.series.iter().filter(|series| !series.is_target)
    }

    fn target(&self) -> Option<&Series> {
        self.series.iter().find(|series| series.is_target)
    }

    /// Values of the rings, from zero; the last is the rim.
    pub fn rings(&self, options: &SpiderOptions, radius_px: f64) -> Vec<f64> {
        let drawn = self.series.iter().flat_map(|series| series.values.iter().flatten());
        // Means must fit; an interval may be cut at the end of the scale, where no score can lie.
        let reach = |value: &SpokeValue| match value.interval {
            Some(interval) if options.intervals => interval.upper.min(self.scale_maximum).max(value.mean),
            _ => value.mean,
        };
        let highest = drawn.map(reach).fold(0.0, f64::max);
        let outermost = if options.whole_scale || highest <= 0.0 { highest.max(self.scale_maximum) } else { highest };
        let outermost = if outermost.is_finite() && outermost > 0.0 { outermost } else { 1.0 };
        // Of the ring counts that have room, the one that leaves least of the figure empty; few rings before many.
        let most = ((radius_px / 26.0) as usize).clamp(3, 6);
        let choices = (3..=most).map(|wanted| round_values(0.0, outermost, wanted));
        let rim = |rings: &Vec<f64>| rings.last().copied().unwrap_or(f64::INFINITY);
        choices.min_by(|a, b| rim(a).total_cmp(&rim(b))).unwrap_or_else(|| vec![0.0, outermost])
    }

    /// What the figure is called.
    pub fn title(&self) -> String {
        let candidates: Vec<&Series> = self.candidates().collect();
        match (self.target(), &candidates[..]) {
            (Some(target), []) => format!("Profile of {}", target.sample),
            (Some(target), [only]) => format!("{} beside the target {}", only.sample, target.sample),
            (Some(target), several) => format!("{} candidates beside the target {}", several.len(), target.sample),
            (None, samples) => format!("Profiles of {}", lists::counted(samples.len(), "sample", "samples")),
        }
    }

    /// Sentences that belong above the figure.
    pub fn notes(&self, options: &SpiderOptions) -> Vec<String> {
        let mut note = format!("Means in {}, spokes in the order of the ballot", self.unit);
        if options.intervals {
            note.push_str("; bars along the spokes: 95\u{a0}% interval of each mean by the model");
        }
        note.push('.');
        if self.attributes.iter().any(|entry| entry.is_off) {
            note.push_str(" Bold name and mark outside the rim: off the target");
            note.push_str(if self.candidates().count() == 1 { ", by the figure given." } else { "." });
        }
        vec![note]
    }

    /// What the figure shows, in one sentence.
    pub fn summary(&self) -> String {
        let spokes = lists::counted(self.attributes.len(), "attribute", "attributes");
        let off: Vec<String> = self.candidates().filter_map(|series| self.off_in_words(series)).collect();
        let found = match off.is_empty() {
            true if self.target().is_some() => "no candidate is shown to be off on any attribute".to_owned(),
            true => "no target is named".to_owned(),
            false => off.join("; "),
        };
        format!("{} on {spokes}: {found}.", self.title())
    }

    /// "A is off on green +14 mm"; nothing where it is off on none.
    fn off_in_words(&self, series: &Series) -> Option<String> {
        let off = |spoke: usize| {
            let entry = series.difference(spoke).filter(|entry| entry.verdict == Verdict::Off)?;
            let by = numbers::shown_signed(entry.difference, self.decimals);
            Some(format!("{} {by} {}", self.attributes[spoke].name, self.unit))
        };
        let off: Vec<String> = (0..self.attributes.len()).filter_map(off).collect();
        (!off.is_empty()).then(|| format!("{} is off on {}", series.sample, lists::listed(&off)))
    }

    /// The numbers behind the figure.
    pub fn table(&self) -> FigureTable {
        let mut table = FigureTable::with_columns(&[("Attribute", false)]);
        let unit = &self.unit;
        for series in &self.series {
            let role = if series.is_target { " (target)" } else { "" };
            let headings = [
                format!("{}{role}, mean, {unit}", series.sample),
                format!("{}{role}, 95\u{a0}% interval of the mean, {unit}", series.sample),
            ];
            table.columns.extend(headings.map(|heading| FigureColumn { heading, is_number: true }));
        }
        table.rows = (0..self.attributes.len()).map(|spoke| self.table_row(spoke)).collect();
        table
    }

    fn table_row(&self, spoke: usize) -> Vec<String> {
        let mut row = vec![self.attributes[spoke].name.clone()];
        for series in &self.series {
            let value = series.values[spoke].as_ref();
            row.push(value.map_or("–".to_owned(), |value| numbers::shown(value.mean, self.decimals + 1)));
            let interval = value.and_then(|value| value.interval);
            row.push(interval.map_or("–".to_owned(), |found| parts::span(found, self.decimals + 1)));
        }
        row
    }

    /// The attribute's name and every drawn sample's value.
    pub fn lines_of_attribute(&self, spoke: usize) -> Vec<String> {
        let mut lines = vec![self.attributes[spoke].name.clone()];
        for series in &self.series {
            let role = if series.is_target { " (target)" } else { "" };
            let value = match &series.values[spoke] {
                Some(value) => format!("{} {}", numbers::shown(value.mean, self.decimals), self.unit),
                None => "no mean".to_owned(),
            };
            let verdict = series.difference(spoke).map(|entry| {
                format!(", {}: {}", numbers::shown_signed(entry.difference, self.decimals), entry.verdict.in_words())
            });
            lines.push(format!("{}{role} {value}{}", series.sample, verdict.unwrap_or_default()));
        }
        lines
    }

    /// One sample's value on one attribute.
    pub fn lines_of_value(&self, series: &Series, spoke: usize) -> Vec<String> {
        let Some(value) = &series.values[spoke] else { return Vec::new() };
        let role = if series.is_target { " (target)" } else { "" };
        let mut lines = vec![format!("{}{role}, {}", series.sample, self.attributes[spoke].name)];
        let mean = format!("mean {} {}", numbers::shown(value.mean, self.decimals), self.unit);
        lines.push(match value.interval {
            Some(interval) => format!("{mean} (95\u{a0}% interval {})", parts::span(interval, self.decimals)),
            None => mean,
        });
        if let Some(entry) = &value.versus_target {
            let by = numbers::shown_signed(entry.difference, self.decimals);
            let interval = entry.test.as_ref().map(|test| parts::span(test.interval95, self.decimals));
            let interval = interval.map(|words| format!(" (95\u{a0}% interval {words})")).unwrap_or_default();
            lines.push(format!("{by} {} against the target{interval}: {}", self.unit, entry.verdict.in_words()));
        }
        lines
    }
}

impl SpokeEntry {
    /// What stands beside the spoke where there is room.
    pub fn label_text(&self) -> String {
        match &self.off_by {
            Some(by) => format!("{} {by}", self.name),
            None => self.name.clone(),
        }
    }
}

impl Series {
    /// The difference to the target on a spoke.
    pub fn difference(&self, spoke: usize) -> Option<&TargetDifference> {
        self.values[spoke].as_ref()?.versus_target.as_ref()
    }

    /// The verdict on a spoke.
    pub fn verdict(&self, spoke: usize) -> Option<Verdict> {
        self.difference(spoke).map(|entry| entry.verdict)
    }

    /// Runs of neighbouring spokes that have a mean, closed around the top where all have one.
    pub fn unbroken_stretches(&self) -> Vec<Vec<(usize, f64)>> {
        let count = self.values.len();
        let mean = |spoke: usize| self.values[spoke % count].as_ref().map(|value| (spoke % count, value.mean));
        let Some(gap) = (0..count).find(|&spoke| self.values[spoke].is_none()) else {
            return vec![(0..=count).filter_map(mean).collect()];
        };
        let mut stretches = vec![Vec::new()];
        for spoke in gap..gap + count {
            match mean(spoke) {
                Some(point) => stretches.last_mut().into_iter().for_each(|run: &mut Vec<_>| run.push(point)),
                None => stretches.push(Vec::new()),
            }
        }
        stretches.retain(|run| run.len() > 1);
        stretches
    }
}

impl SpokeValue {
    /// Absent where there is no mean that is a number.
    fn find(entry: &crate::stats::AttributeAnalysis, sample: &str) -> Option<Self> {
        let found = entry.means.iter().find(|mean| mean.sample == sample).filter(|mean| mean.mean.is_finite())?;
        let interval = found.spread.as_ref().ok().map(|spread| Interval { lower: spread.lower, upper: spread.upper });
        Some(SpokeValue {
            mean: found.mean,
            interval: interval.filter(|interval| interval.lower.is_finite() && interval.upper.is_finite()),
            versus_target: entry.versus_target.iter().find(|difference| difference.sample == sample).cloned(),
        })
    }
}
