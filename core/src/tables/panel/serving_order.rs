//! What the order of serving and labels did.

use super::words;
use crate::stats::panel::serving_order::{Effect, EffectGroup, LabelEffect, OrderEffects};
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::numbers::signed_score;

/// Drift, positions and samples before, one line an attribute; effects in units of the scale.
pub fn serving_order(analysis: &Analysis, found: &[OrderEffects]) -> Table {
    let size = |head: &str, group, field| Column::of(head, Format::Difference, field).under(group);
    let p = |head, group, field| Column::of(head, Format::Probability, field).under(group);
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        size(&analysis.unit, words::DRIFT, "drift"),
        p(common::P, words::DRIFT, "drift_p"),
        p(words::ADJUSTED, words::DRIFT, "drift_p_adjusted"),
        size(words::LARGEST, words::POSITION, "position"),
        p(words::ANY, words::POSITION, "position_p"),
        p(words::ADJUSTED, words::POSITION, "position_p_adjusted"),
        size(words::LARGEST, words::CARRY_OVER, "carry_over"),
        p(words::ANY, words::CARRY_OVER, "carry_over_p"),
        p(words::ADJUSTED, words::CARRY_OVER, "carry_over_p_adjusted"),
    ];
    Table::new("order", words::ORDER, columns, analysis.scale_maximum)
        .with_rows(found.iter().map(|one| row(one, analysis.scale_maximum)))
        .with_note(words::ORDER_HOW)
}

fn row(one: &OrderEffects, scale_maximum: f64) -> Vec<Cell> {
    let [position, position_p] = group(&one.position, scale_maximum);
    let [carry_over, carry_over_p] = group(&one.carry_over, scale_maximum);
    vec![
        Cell::words(&one.attribute),
        Cell::of(&one.drift, |drift| drift.estimate),
        Cell::of(&one.drift, |drift| drift.p),
        adjusted(one.drift_p_adjusted),
        position,
        position_p,
        adjusted(one.position_p_adjusted),
        carry_over,
        carry_over_p,
        adjusted(one.carry_over_p_adjusted),
    ]
}

/// A p that counts all attributes together, where there is one.
pub(super) fn adjusted(p: Option<f64>) -> Cell {
    p.map_or_else(|| Cell::not_defined(words::NOT_ADJUSTED), Cell::number)
}

/// The largest effect of a group with its name, and whether there is any at all.
fn group(found: &Defined<EffectGroup>, scale_maximum: f64) -> [Cell; 2] {
    let said = |effect: &Effect| {
        Cell::said(effect.estimate, format!("{} {}", effect.what, signed_score(effect.estimate, scale_maximum)))
    };
    let largest = |group: &EffectGroup| {
        let first = group.effects.iter().max_by(|a, b| a.estimate.abs().total_cmp(&b.estimate.abs()));
        first.map_or_else(|| Cell::not_defined(""), said)
    };
    [Cell::of_cell(found, largest), Cell::of(found, |group| group.p_any)]
}

/// What a label did to the same sample, one line an attribute and pair of labels.
pub fn labels(analysis: &Analysis, found: &[LabelEffect]) -> Table {
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        Column::of(common::DIFFERENCE, Format::Difference, "label_difference"),
        Column::of(common::P, Format::Probability, "label_p"),
    ];
    let row = |one: &LabelEffect| {
        vec![
            Cell::words(&one.attribute).with_detail(words::labels_against(&one.label, &one.against)),
            Cell::number(one.difference),
            Cell::of(&one.test, |test| test.p),
        ]
    };
    Table::new("labels", words::LABELS, columns, analysis.scale_maximum)
        .with_rows(found.iter().map(row))
        .with_note(words::LABELS_HOW)
}
