//! Which samples differ on each attribute: letters over all pairs, and every candidate against the target.

use super::sample_names::{sample_head, shown_samples};
use super::words;
use crate::stats::samples::comparisons::{ManyToOne, ManyToOneMethod, Pairwise};
use crate::stats::samples::each_attribute::AttributeComparisons;
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// Means with letters as detail: samples that share a letter are not shown to differ. All samples where none is named.
pub fn letters(analysis: &Analysis, found: &[AttributeComparisons], shown: &[String]) -> Table {
    let samples = shown_samples(analysis, shown);
    let heads = samples.iter().map(|name| Column::of(sample_head(analysis, name), Format::Score, "letters"));
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(heads).collect();
    let pairs = found.iter().find_map(|one| one.pairs.as_ref().ok());
    let method = pairs.map_or_else(String::new, |pairs| {
        words::letters_how(pairs.alpha, pairs.comparisons.len(), &pairs.tukey_method, found.len())
    });
    Table::new("letters", words::letters(&analysis.unit), columns, analysis.scale_maximum)
        .with_rows(found.iter().map(|one| letters_row(analysis, one, &samples)))
        .with_note(method)
        .with_note(words::LETTERS_ARE_NO_MATCH)
}

fn letters_row(analysis: &Analysis, found: &AttributeComparisons, samples: &[&String]) -> Vec<Cell> {
    let attribute = analysis.attributes.iter().find(|one| one.attribute == found.attribute);
    let cell = |sample: &&String| {
        let mean = attribute.and_then(|attribute| attribute.mean_of(sample));
        Cell::of_cell(&found.pairs, |pairs| letters_cell(pairs, sample, mean)).selecting(*sample)
    };
    [Cell::words(&found.attribute)].into_iter().chain(samples.iter().map(cell)).collect()
}

fn letters_cell(pairs: &Pairwise, sample: &str, mean: Option<f64>) -> Cell {
    match (pairs.letters_tukey.iter().find(|one| one.sample == sample), mean) {
        (Some(letters), Some(mean)) => Cell::number(mean).with_detail(&letters.letters),
        _ => Cell::not_defined(common::NO_SCORES),
    }
}

/// Every candidate less the target in units of the scale, with p adjusted over the candidates of one attribute. `None`
/// without a target, and where no attribute could be compared.
pub fn against_target(analysis: &Analysis, found: &[AttributeComparisons]) -> Option<Table> {
    let target = analysis.target.as_ref()?;
    let one = found.iter().find_map(|one| one.against_target.as_ref()?.as_ref().ok())?;
    let candidates: Vec<&String> = analysis.samples.iter().filter(|name| *name != target).collect();
    let heads = candidates.iter().flat_map(|name| against_columns(name, &analysis.unit));
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(heads).collect();
    let method = match one.method {
        ManyToOneMethod::Dunnett => words::DUNNETT,
        ManyToOneMethod::Holm => words::HOLM,
    };
    Some(
        Table::new("against-target", words::against_target(target), columns, analysis.scale_maximum)
            .with_rows(found.iter().map(|one| against_row(one, &candidates)))
            .with_note(words::against_how(method, candidates.len(), one.alpha))
            .with_note(words::LETTERS_ARE_NO_MATCH),
    )
}

fn against_columns(candidate: &str, unit: &str) -> [Column; 2] {
    [
        Column::of(common::DIFFERENCE, Format::Difference, "model_difference").in_unit(unit).under(candidate),
        Column::of(words::P_ADJUSTED, Format::Probability, "p_adjusted").under(candidate),
    ]
}

fn against_row(found: &AttributeComparisons, candidates: &[&String]) -> Vec<Cell> {
    let cells = candidates
        .iter()
        .flat_map(|sample| against_cells(found.against_target.as_ref(), sample).map(|cell| cell.selecting(*sample)));
    [Cell::words(&found.attribute)].into_iter().chain(cells).collect()
}

/// Difference and adjusted p of one candidate.
fn against_cells(compared: Option<&Defined<ManyToOne>>, sample: &str) -> [Cell; 2] {
    let missing = |because: &str| [Cell::not_defined(because), Cell::not_defined(because)];
    let compared = match compared {
        Some(Ok(compared)) => compared,
        Some(Err(reason)) => return missing(&reason.because),
        None => return missing(common::NO_SCORES),
    };
    match compared.comparisons.iter().find(|one| one.sample == sample) {
        Some(one) => [Cell::number(one.difference), Cell::number(one.p_adjusted)],
        None => missing(common::NO_SCORES),
    }
}
