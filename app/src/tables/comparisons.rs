//! Which samples differ on each attribute: letters over all pairs, and every candidate against the target.

use super::{Cell, Column, Content, Row, Table};
use crate::words::profile as words;
use crate::words::tables::{ATTRIBUTE, target_head};
use likeness_core::stats::samples::comparisons::{ManyToOne, ManyToOneMethod, Pairwise};
use likeness_core::stats::{Analysis, Defined};
use likeness_core::text::numbers::{p_value, score, signed_score};

/// The comparisons of one attribute.
#[derive(Clone, Debug, PartialEq)]
pub struct AttributeComparisons {
    pub attribute: String,
    pub pairs: Defined<Pairwise>,
    /// `None` where no target is named.
    pub against_target: Option<Defined<ManyToOne>>,
}

/// Means with letters: samples that share a letter are not shown to differ.
pub fn letters(analysis: &Analysis, found: &[AttributeComparisons], shown: &[String]) -> Table {
    let samples: Vec<&String> =
        analysis.samples.iter().filter(|name| shown.is_empty() || shown.contains(name)).collect();
    let head = |name: &&String| {
        let is_target = analysis.target.as_ref() == Some(name);
        Column::plain(if is_target { target_head(name) } else { (*name).clone() })
    };
    let pairs = found.iter().find_map(|one| one.pairs.as_ref().ok());
    let method = pairs.map_or_else(String::new, |pairs| {
        words::letters_how(pairs.alpha, pairs.comparisons.len(), &pairs.tukey_method, found.len())
    });
    Table {
        name: "letters",
        caption: words::letters(&analysis.unit),
        corner: ATTRIBUTE.to_owned(),
        columns: samples.iter().map(head).collect(),
        rows: found.iter().map(|one| letters_row(analysis, one, &samples)).collect(),
        notes: vec![method, words::LETTERS_ARE_NO_MATCH.to_owned()],
    }
}

fn letters_row(analysis: &Analysis, found: &AttributeComparisons, samples: &[&String]) -> Row {
    let attribute = analysis.attributes.iter().find(|one| one.attribute == found.attribute);
    let cell = |sample: &&String| {
        let pairs = match &found.pairs {
            Ok(pairs) => pairs,
            Err(reason) => return Cell::missing(sample, "letters", &reason.because),
        };
        let letters = pairs.letters_tukey.iter().find(|one| one.sample == **sample);
        let mean = attribute.and_then(|attribute| attribute.mean_of(sample));
        let (Some(letters), Some(mean)) = (letters, mean) else {
            return Cell::missing(sample, "letters", crate::words::tables::NO_SCORES);
        };
        let content = Content::Number {
            value: mean,
            shown: score(mean, analysis.scale_maximum),
            detail: letters.letters.clone(),
        };
        Cell { content, sample: (*sample).clone(), field: "letters" }
    };
    Row { head: found.attribute.clone(), aside: String::new(), cells: samples.iter().map(cell).collect() }
}

/// Every candidate less the target, adjusted over the candidates of one attribute. `None` without a target.
pub fn against_target(analysis: &Analysis, found: &[AttributeComparisons]) -> Option<Table> {
    let target = analysis.target.as_ref()?;
    let one = found.iter().find_map(|one| one.against_target.as_ref()?.as_ref().ok())?;
    let candidates: Vec<&String> = analysis.samples.iter().filter(|name| *name != target).collect();
    let columns = candidates.iter().flat_map(|name| {
        [
            Column::grouped((*name).clone(), crate::words::tables::difference(&analysis.unit)),
            Column::grouped((*name).clone(), words::P_ADJUSTED),
        ]
    });
    let method = match one.method {
        ManyToOneMethod::Dunnett => words::DUNNETT,
        ManyToOneMethod::Holm => words::HOLM,
    };
    Some(Table {
        name: "against-target",
        caption: words::against_target(target),
        corner: ATTRIBUTE.to_owned(),
        columns: columns.collect(),
        rows: found.iter().map(|one| against_row(analysis, one, &candidates)).collect(),
        notes: vec![words::against_how(method, candidates.len(), one.alpha), words::LETTERS_ARE_NO_MATCH.to_owned()],
    })
}

fn against_row(analysis: &Analysis, found: &AttributeComparisons, candidates: &[&String]) -> Row {
    let cells = candidates.iter().flat_map(|sample| {
        let missing = |because: &str| {
            [Cell::missing(sample, "model_difference", because), Cell::missing(sample, "p_adjusted", because)]
        };
        let compared = match &found.against_target {
            Some(Ok(compared)) => compared,
            Some(Err(reason)) => return missing(&reason.because),
            None => return missing(crate::words::tables::NO_SCORES),
        };
        match compared.comparisons.iter().find(|one| one.sample == **sample) {
            Some(one) => {
                let shown = signed_score(one.difference, analysis.scale_maximum);
                [
                    Cell::number(sample, "model_difference", one.difference, shown),
                    Cell::number(sample, "p_adjusted", one.p_adjusted, p_value(one.p_adjusted)),
                ]
            }
            None => missing(crate::words::tables::NO_SCORES),
        }
    });
    Row { head: found.attribute.clone(), aside: String::new(), cells: cells.collect() }
}
