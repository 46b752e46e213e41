//! What the grid of differences shows, taken from an analysis: cells, order and words, no places.

use crate::figures::parts;
use crate::figures::scene::primitives::{FigureColumn, FigureTable};
use crate::stats::{Analysis, AttributeAnalysis, Verdict};
use crate::text::{lists, numbers};

/// What is drawn, largest difference on top.
pub struct Grid<'a> {
    /// Where all of it is taken from.
    pub analysis: &'a Analysis,
    /// Across.
    pub samples: Vec<String>,
    /// Down.
    pub rows: Vec<GridRow<'a>>,
    /// The largest size: the deepest shade.
    pub largest: f64,
    /// Decimals of scores in labels; the table has one more.
    pub decimals: usize,
}

/// One attribute.
pub struct GridRow<'a> {
    /// Which one.
    pub attribute: &'a AttributeAnalysis,
    /// One a sample.
    pub cells: Vec<Option<GridCell>>,
}

/// One difference.
#[derive(Clone, Copy)]
pub struct GridCell {
    /// In the unit of the scale.
    pub difference: f64,
    /// Where a target is named.
    pub verdict: Option<Verdict>,
}

impl GridRow<'_> {
    fn largest(&self) -> f64 {
        self.cells.iter().flatten().map(|cell| cell.difference.abs()).fold(0.0, f64::max)
    }
}

impl<'a> Grid<'a> {
    /// Everything that counts, or the samples asked for.
    pub fn gather(analysis: &'a Analysis, asked: Option<&[String]>) -> Self {
        let samples = parts::chosen_candidates(analysis, asked);
        let row = |attribute: &'a AttributeAnalysis| GridRow {
            attribute,
            cells: samples.iter().map(|sample| cell(analysis, attribute, sample)).collect(),
        };
        let mut rows: Vec<GridRow> = analysis.attributes.iter().map(row).collect();
        rows.sort_by(|a, b| b.largest().total_cmp(&a.largest()));
        let largest = rows.first().map_or(0.0, GridRow::largest);
        Grid { analysis, samples, rows, largest, decimals: numbers::decimals_in_words(analysis.scale_maximum) }
    }

    fn reference(&self) -> String {
        self.analysis
            .target
            .as_ref()
            .map_or_else(|| "the mean of all samples".to_owned(), |name| format!("the target {name}"))
    }

    /// What the figure is called.
    pub fn title(&self) -> String {
        format!("Differences to {}, attribute by attribute", self.reference())
    }

    /// What the figure shows, in one sentence.
    pub fn summary(&self) -> String {
        format!(
            "Differences of {} to {} on {}{}.",
            lists::counted(self.samples.len(), "sample", "samples"),
            self.reference(),
            lists::counted(self.rows.len(), "attribute", "attributes"),
            self.largest_in_words().unwrap_or_default()
        )
    }

    fn largest_in_words(&self) -> Option<String> {
        let row = self.rows.first()?;
        let cells = row.cells.iter().zip(&self.samples).filter_map(|(cell, sample)| Some(((*cell)?, sample)));
        let (cell, sample) = cells.max_by(|a, b| a.0.difference.abs().total_cmp(&b.0.difference.abs()))?;
        let size = numbers::shown_signed(cell.difference, self.decimals);
        Some(format!("; the largest is {sample} on {}, {size} {}", row.attribute.attribute, self.analysis.unit))
    }

    /// Sentences that belong above the figure.
    pub fn notes(&self) -> Vec<String> {
        let more = if self.analysis.target.is_some() { "the target" } else { "the mean" };
        vec![format!(
            "Differences of means in {}, without intervals, largest on top. The deeper the shade, the larger; + and warm: \
             more than {more}, \u{2212} and cool: less.",
            self.analysis.unit
        )]
    }

    /// The numbers behind the figure.
    pub fn table(&self) -> FigureTable {
        let mut columns = vec![FigureColumn { heading: "attribute".to_owned(), is_number: false }];
        for sample in &self.samples {
            columns.push(FigureColumn { heading: format!("{sample}, {}", self.analysis.unit), is_number: true });
            if self.analysis.target.is_some() {
                columns.push(FigureColumn { heading: format!("{sample}, verdict"), is_number: false });
            }
        }
        FigureTable { columns, rows: self.rows.iter().map(|row| self.table_row(row)).collect() }
    }

    fn table_row(&self, row: &GridRow) -> Vec<String> {
        let mut cells = vec![row.attribute.attribute.clone()];
        for cell in &row.cells {
            cells.push(cell.map(|cell| numbers::shown_signed(cell.difference, self.decimals + 1)).unwrap_or_default());
            if self.analysis.target.is_some() {
                let verdict = cell.and_then(|cell| cell.verdict);
                cells.push(verdict.map(|verdict| verdict.in_words().to_owned()).unwrap_or_default());
            }
        }
        cells
    }

    /// What is read out for one cell.
    pub fn lines(&self, attribute: &AttributeAnalysis, sample: &str, cell: Option<GridCell>) -> Vec<String> {
        let head = format!("{sample}, {}", attribute.attribute);
        let Some(cell) = cell else { return vec![head, "no scores to compare".to_owned()] };
        let size = format!("{} {}", numbers::shown_signed(cell.difference, self.decimals), self.analysis.unit);
        let test = attribute.difference_of(sample).and_then(|difference| difference.test.as_ref().ok());
        let size = match (cell.verdict, test) {
            (Some(verdict), Some(test)) => format!(
                "{size} ({} interval {}): {}",
                numbers::shown_percent(1.0 - self.analysis.alpha),
                parts::span(test.difference_interval, self.decimals),
                verdict.in_words()
            ),
            (Some(verdict), None) => format!("{size}: {}", verdict.in_words()),
            (None, _) => size,
        };
        vec![head, size]
    }
}

fn cell(analysis: &Analysis, attribute: &AttributeAnalysis, sample: &str) -> Option<GridCell> {
    if analysis.target.is_some() {
        let found = attribute.difference_of(sample).filter(|found| found.difference.is_finite())?;
        return Some(GridCell { difference: found.difference, verdict: Some(found.verdict) });
    }
    let mean = attribute.mean_of(sample).filter(|mean| mean.is_finite())?;
    let all: Vec<f64> = attribute.means.iter().map(|mean| mean.mean).filter(|mean| mean.is_finite()).collect();
    Some(GridCell { difference: mean - all.iter().sum::<f64>() / all.len() as f64, verdict: None })
}
