//! The panel as tables: each assessor over all attributes, and the panel on each attribute.

use crate::stats::panel::performance::{AssessorSummary, FailureShare, PanelAttribute, PanelPerformance};
use crate::stats::{Analysis, Defined};
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable};

/// One line an assessor.
pub fn assessors(analysis: &Analysis, panel: &PanelPerformance) -> ResultTable {
    let failures = |group: &str| {
        [
            ResultColumn::grouped(group, "failed on", ColumnKind::Count),
            ResultColumn::grouped(group, "of", ColumnKind::Count),
        ]
    };
    let mut columns = vec![ResultColumn::plain("assessor", ColumnKind::Words)];
    columns.push(ResultColumn::grouped("tells samples apart", "attributes", ColumnKind::Count));
    columns.extend(failures("tells samples apart"));
    columns.push(ResultColumn::grouped("repeats", &format!("scatter, {}", analysis.unit), ColumnKind::Score));
    columns.extend(failures("repeats"));
    columns.push(ResultColumn::grouped("agrees with the others", "mean r", ColumnKind::Fixed(2)));
    columns.extend(failures("agrees with the others"));
    ResultTable {
        caption: "Assessors, all attributes together".to_owned(),
        columns,
        rows: panel.assessors.iter().map(assessor_row).collect(),
        notes: vec![
            "Failures count only attributes on which the panel as a whole finds differences between samples. With many \
             tests some fail by chance. Nobody is left out for failing."
                .to_owned(),
        ],
        scale_maximum: analysis.scale_maximum,
    }
}

/// One line an attribute.
pub fn panel_attributes(analysis: &Analysis, panel: &PanelPerformance) -> ResultTable {
    ResultTable {
        caption: "The panel on each attribute".to_owned(),
        columns: vec![
            ResultColumn::plain("attribute", ColumnKind::Words),
            ResultColumn::plain("p, samples differ", ColumnKind::Probability),
            ResultColumn::grouped("disagreement", "F", ColumnKind::Fixed(2)),
            ResultColumn::grouped("disagreement", "p", ColumnKind::Probability),
            ResultColumn::plain(&format!("scatter between replicates, {}", analysis.unit), ColumnKind::Score),
            ResultColumn::plain("intraclass r, panel mean", ColumnKind::Fixed(2)),
        ],
        rows: panel.attributes.iter().map(attribute_row).collect(),
        notes: vec![
            "Disagreement: mean square of assessor × sample over that between replicates. The intraclass correlation is \
             that of the panel mean, differences of level forgiven."
                .to_owned(),
        ],
        scale_maximum: analysis.scale_maximum,
    }
}

fn assessor_row(assessor: &AssessorSummary) -> Vec<ResultCell> {
    let mut cells = vec![ResultCell::words(&assessor.assessor), ResultCell::Number(assessor.n_discriminating as f64)];
    cells.extend(failures(&assessor.fails_to_discriminate));
    cells.push(ResultCell::of(&assessor.repeatability_sd, |sd| *sd));
    cells.extend(failures(&assessor.fails_to_repeat));
    cells.push(ResultCell::of(&assessor.mean_correlation, |r| *r));
    cells.extend(failures(&assessor.fails_to_agree));
    cells
}

fn attribute_row(attribute: &PanelAttribute) -> Vec<ResultCell> {
    vec![
        ResultCell::words(&attribute.attribute),
        ResultCell::of(&attribute.sample_p, |p| *p),
        ResultCell::of(&attribute.interaction, |test| test.f),
        ResultCell::of(&attribute.interaction, |test| test.p),
        ResultCell::of(&attribute.repeatability, |pooled| pooled.sd),
        ResultCell::of(&attribute.intraclass, |found| found.consistency_mean),
    ]
}

fn failures(share: &Defined<FailureShare>) -> [ResultCell; 2] {
    [ResultCell::of(share, |share| share.failed as f64), ResultCell::of(share, |share| share.tested as f64)]
}
