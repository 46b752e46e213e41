//! What the order of serving, labels and rounds did.

use super::{Cell, Column, Row, Table};
use crate::words::panel as say;
use crate::words::tables as words;
use likeness_core::stats::panel::replicate_effect::{ReplicateAnalysis, RoundFinding};
use likeness_core::stats::panel::serving_order::{Effect, EffectGroup, LabelEffect, OrderEffects};
use likeness_core::stats::panel::sessions::SessionPerformance;
use likeness_core::stats::{Analysis, Defined, FTest};
use likeness_core::text::numbers::{fixed, p_value, score, signed_score, statistic};

/// Drift, positions and samples before, one line an attribute.
pub fn order(analysis: &Analysis, found: &[OrderEffects]) -> Table {
    let scale = analysis.scale_maximum;
    let row = |one: &OrderEffects| {
        let mut cells = Vec::new();
        match &one.drift {
            Ok(drift) => {
                cells.push(Cell::number("", "drift", drift.estimate, signed_score(drift.estimate, scale)));
                cells.push(Cell::number("", "drift_p", drift.p, p_value(drift.p)));
            }
            Err(reason) => cells.extend(["drift", "drift_p"].map(|field| Cell::missing("", field, &reason.because))),
        }
        cells.extend(group(&one.position, ["position", "position_p"], scale));
        cells.extend(group(&one.carry_over, ["carry_over", "carry_over_p"], scale));
        Row { head: one.attribute.clone(), aside: String::new(), cells }
    };
    Table {
        name: "order",
        caption: say::ORDER_CAPTION.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: vec![
            Column::grouped(say::DRIFT, analysis.unit.clone()),
            Column::grouped(say::DRIFT, words::P),
            Column::grouped(say::POSITION, say::LARGEST),
            Column::grouped(say::POSITION, say::ANY),
            Column::grouped(say::CARRY_OVER, say::LARGEST),
            Column::grouped(say::CARRY_OVER, say::ANY),
        ],
        rows: found.iter().map(row).collect(),
        notes: vec![say::ORDER_HOW.to_owned()],
    }
}

/// The largest effect of a group with its name, and whether there is any at all.
fn group(found: &Defined<EffectGroup>, fields: [&'static str; 2], scale: f64) -> Vec<Cell> {
    let largest = |group: &EffectGroup| -> Option<Effect> {
        group.effects.iter().max_by(|a, b| a.estimate.abs().total_cmp(&b.estimate.abs())).cloned()
    };
    match found {
        Ok(group) => {
            let first = largest(group).map_or_else(
                || Cell::missing("", fields[0], ""),
                |effect| {
                    let shown = format!("{} {}", effect.what, signed_score(effect.estimate, scale));
                    Cell::number("", fields[0], effect.estimate, shown)
                },
            );
            vec![first, Cell::number("", fields[1], group.p_any, p_value(group.p_any))]
        }
        Err(reason) => fields.iter().map(|field| Cell::missing("", field, &reason.because)).collect(),
    }
}

/// What a label did to the same sample, one line an attribute and pair of labels.
pub fn labels(analysis: &Analysis, found: &[LabelEffect]) -> Table {
    let row = |one: &LabelEffect| Row {
        head: one.attribute.clone(),
        aside: say::labels_against(&one.label, &one.against),
        cells: vec![
            Cell::number("", "label_difference", one.difference, signed_score(one.difference, analysis.scale_maximum)),
            match &one.test {
                Ok(test) => Cell::number("", "label_p", test.p, p_value(test.p)),
                Err(reason) => Cell::missing("", "label_p", &reason.because),
            },
        ],
    };
    Table {
        name: "labels",
        caption: say::LABELS_CAPTION.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: vec![Column::plain(say::LABEL_DIFFERENCE), Column::plain(words::P)],
        rows: found.iter().map(row).collect(),
        notes: vec![say::LABELS_HOW.to_owned()],
    }
}

/// Shifts between rounds, one line an attribute. `names` are the attributes in their order.
pub fn rounds(names: &[String], found: &[Defined<ReplicateAnalysis>]) -> Table {
    type Pick = fn(&ReplicateAnalysis) -> FTest;
    let tests: [(&'static str, &'static str, Pick); 3] = [
        ("round_f", "round_p", |one| one.round_effect),
        ("assessor_by_round_f", "assessor_by_round_p", |one| one.assessor_by_round),
        ("sample_by_round_f", "sample_by_round_p", |one| one.sample_by_round),
    ];
    let row = |(name, one): (&String, &Defined<ReplicateAnalysis>)| {
        let mut cells = Vec::new();
        for (f, p, pick) in tests {
            cells.extend(match one {
                Ok(one) => {
                    let test = pick(one);
                    [Cell::number("", f, test.f, statistic(test.f, 2)), Cell::number("", p, test.p, p_value(test.p))]
                }
                Err(reason) => [f, p].map(|field| Cell::missing("", field, &reason.because)),
            });
        }
        let p = |field, p: Defined<f64>| match p {
            Ok(p) => Cell::number("", field, p, p_value(p)),
            Err(reason) => Cell::missing("", field, &reason.because),
        };
        let of = |pick: fn(&ReplicateAnalysis) -> Defined<f64>| one.as_ref().map_err(Clone::clone).and_then(pick);
        cells.push(p("sample_p_with", of(|one| Ok(one.sample_with.p))));
        cells.push(p(
            "sample_p_without",
            of(|one| one.sample_without.as_ref().map(|test| test.p).map_err(Clone::clone)),
        ));
        let finding = one.as_ref().ok().map(|one| one.finding).filter(|finding| *finding != RoundFinding::NoShift);
        Row { head: name.clone(), aside: finding.map_or("", RoundFinding::in_words).to_owned(), cells }
    };
    let heads = [say::WHOLE_PANEL, say::ASSESSORS_SHIFT, say::SAMPLES_CHANGE];
    let columns = heads.iter().flat_map(|head| [Column::grouped(*head, words::F), Column::grouped(*head, words::P)]);
    let last = [say::P_WITH, say::P_WITHOUT].map(|head| Column::grouped(say::SAMPLES_DIFFER, head));
    Table {
        name: "rounds",
        caption: say::ROUNDS_CAPTION.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: columns.chain(last).collect(),
        rows: names.iter().zip(found).map(row).collect(),
        notes: vec![say::ROUNDS_HOW.to_owned()],
    }
}

/// The panel in each session, in the order of the sessions.
pub fn sessions(analysis: &Analysis, found: &[SessionPerformance]) -> Table {
    let scale = analysis.scale_maximum;
    let count = |field, count: usize| Cell::number("", field, count as f64, count.to_string());
    let maybe = |field, value: &Defined<f64>, show: &dyn Fn(f64) -> String| match value {
        Ok(value) => Cell::number("", field, *value, show(*value)),
        Err(reason) => Cell::missing("", field, &reason.because),
    };
    let row = |one: &SessionPerformance| Row {
        head: one.session.clone(),
        aside: String::new(),
        cells: vec![
            count("n_assessors", one.n_assessors),
            count("n_samples", one.n_samples),
            count("n_pages", one.n_pages),
            Cell::number(
                "",
                "n_discriminated",
                one.n_discriminated as f64,
                words::count_of(one.n_discriminated, one.n_tested),
            ),
            maybe("repeatability_sd", &one.repeatability_sd, &|sd| score(sd, scale)),
            maybe("mean_correlation", &one.mean_correlation, &|r| fixed(r, 2)),
            maybe("mean_score", &one.mean_score, &|mean| score(mean, scale)),
        ],
    };
    Table {
        name: "sessions",
        caption: say::SESSIONS_CAPTION.to_owned(),
        corner: say::SESSION.to_owned(),
        columns: vec![
            Column::plain(say::ASSESSORS),
            Column::plain(say::SAMPLES),
            Column::plain(say::PAGES),
            Column::plain(say::TOLD_APART_ON),
            Column::plain(words::repeatability(&analysis.unit)),
            Column::plain(say::AGREEMENT),
            Column::plain(say::mean_mark(&analysis.unit)),
        ],
        rows: found.iter().map(row).collect(),
        notes: vec![say::SESSIONS_HOW.to_owned()],
    }
}
