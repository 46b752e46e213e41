//! Means and the analysis of variance as tables.

use crate::stats::samples::multiplicity::{AdjustedP, adjust_over_attributes};
use crate::stats::{Analysis, Anova, AttributeAnalysis, Defined, MeanSpread, ModelVariances, NotDefined};
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable};

/// Means and standard errors of some samples, one line an attribute, in the order of the ballot.
pub fn means(analysis: &Analysis, samples: &[String]) -> ResultTable {
    let mut columns = vec![ResultColumn::plain("attribute", ColumnKind::Words)];
    for sample in samples {
        columns.push(ResultColumn::grouped(sample, "mean", ColumnKind::Score));
        columns.push(ResultColumn::grouped(sample, "s.e.", ColumnKind::Score));
    }
    let row = |attribute: &AttributeAnalysis| {
        let mut cells = vec![ResultCell::words(&attribute.attribute)];
        cells.extend(samples.iter().flat_map(|sample| mean_cells(attribute, sample)));
        cells
    };
    ResultTable {
        caption: format!("Means and their standard errors, in {}", analysis.unit),
        columns,
        rows: analysis.attributes.iter().map(row).collect(),
        notes: vec![
            "The standard error is that of the one mean: it holds the spread between assessors and is more than it takes \
             to tell two samples apart. Judge differences by the tables of differences."
                .to_owned(),
        ],
        scale_maximum: analysis.scale_maximum,
    }
}

/// One line an attribute and sample, with the interval of the mean.
pub fn means_long(analysis: &Analysis) -> ResultTable {
    let mut rows = Vec::new();
    for attribute in &analysis.attributes {
        for mean in &attribute.means {
            let spread = |pick: fn(&MeanSpread) -> f64| ResultCell::of(&mean.spread, pick);
            rows.push(vec![
                ResultCell::words(&attribute.attribute),
                ResultCell::words(&mean.sample),
                ResultCell::Number(mean.n as f64),
                ResultCell::Number(mean.mean),
                spread(|spread| spread.se),
                spread(|spread| spread.df),
                spread(|spread| spread.lower),
                spread(|spread| spread.upper),
            ]);
        }
    }
    ResultTable {
        caption: format!("Means, in {}", analysis.unit),
        columns: vec![
            ResultColumn::plain("attribute", ColumnKind::Words),
            ResultColumn::plain("sample", ColumnKind::Words),
            ResultColumn::plain("scores", ColumnKind::Count),
            ResultColumn::plain("mean", ColumnKind::Score),
            ResultColumn::plain("standard error", ColumnKind::Score),
            ResultColumn::plain("df", ColumnKind::Statistic(1)),
            ResultColumn::grouped("95 % interval", "from", ColumnKind::Score),
            ResultColumn::grouped("95 % interval", "to", ColumnKind::Score),
        ],
        rows,
        notes: Vec::new(),
        scale_maximum: analysis.scale_maximum,
    }
}

/// The test of the sample effect and the variances, one line an attribute.
pub fn variance(analysis: &Analysis) -> ResultTable {
    let squares = ColumnKind::Fixed(if analysis.scale_maximum >= 50.0 { 1 } else { 3 });
    let adjusted = adjust_over_attributes(&analysis.sample_p());
    ResultTable {
        caption: "Do the samples differ? Analysis of variance, assessor random".to_owned(),
        columns: vec![
            ResultColumn::plain("attribute", ColumnKind::Words),
            ResultColumn::plain("F", ColumnKind::Fixed(2)),
            ResultColumn::grouped("degrees of freedom", "samples", ColumnKind::Statistic(1)),
            ResultColumn::grouped("degrees of freedom", "denominator", ColumnKind::Statistic(1)),
            ResultColumn::plain("p", ColumnKind::Probability),
            ResultColumn::grouped("p adjusted over attributes", "Holm", ColumnKind::Probability),
            ResultColumn::grouped("p adjusted over attributes", "Benjamini-Hochberg", ColumnKind::Probability),
            ResultColumn::grouped("variance", "assessor", squares),
            ResultColumn::grouped("variance", "assessor × sample", squares),
            ResultColumn::grouped("variance", "error", squares),
            ResultColumn::grouped("scores", "used", ColumnKind::Count),
            ResultColumn::grouped("scores", "missing or left out", ColumnKind::Count),
        ],
        rows: analysis.attributes.iter().zip(&adjusted).map(|(attribute, p)| variance_row(attribute, p)).collect(),
        notes: vec![
            "F tests the samples against assessor × sample: they must differ more than assessors disagree about them."
                .to_owned(),
        ],
        scale_maximum: analysis.scale_maximum,
    }
}

fn mean_cells(attribute: &AttributeAnalysis, sample: &str) -> [ResultCell; 2] {
    match attribute.sample_mean(sample) {
        Some(mean) => [ResultCell::Number(mean.mean), ResultCell::of(&mean.spread, |spread| spread.se)],
        None => [(); 2].map(|()| ResultCell::NotDefined("there are no scores".to_owned())),
    }
}

fn variance_row(attribute: &AttributeAnalysis, adjusted: &Defined<AdjustedP>) -> Vec<ResultCell> {
    let anova = |pick: fn(&Anova) -> f64| ResultCell::of(&attribute.anova, pick);
    let model = |pick: fn(&ModelVariances) -> f64| ResultCell::of(&attribute.model, pick);
    let interaction: Defined<f64> = match &attribute.model {
        Ok(model) => model.var_interaction.clone(),
        Err(reason) => Err(NotDefined::because(reason.because.clone())),
    };
    vec![
        ResultCell::words(&attribute.attribute),
        anova(|anova| anova.f),
        anova(|anova| anova.sample_df),
        anova(|anova| anova.error_df),
        anova(|anova| anova.p),
        ResultCell::of(adjusted, |adjusted| adjusted.holm),
        ResultCell::of(adjusted, |adjusted| adjusted.benjamini_hochberg),
        model(|model| model.var_assessor),
        ResultCell::of(&interaction, |value| *value),
        model(|model| model.var_error),
        ResultCell::Number(attribute.n_used as f64),
        ResultCell::Number(attribute.n_dropped as f64),
    ]
}
