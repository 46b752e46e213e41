//! What hangs on one person: verdicts with everybody, and without each assessor.

use super::words;
use crate::stats::r#match::leave_one_out::{CandidateVerdict, Influence, WithoutAssessor};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words as common;

/// One row for everybody, then one an assessor set aside; one column a candidate, and how many attributes move.
pub fn leave_one_out(found: &Influence) -> Table {
    let candidates = found.everybody.iter().map(|one| Column::of(&one.sample, Format::Words, "verdict"));
    let columns = [Column::name(common::ASSESSOR)].into_iter().chain(candidates).chain([Column::of(
        words::ATTRIBUTES_CHANGED,
        Format::Count,
        "n_changed",
    )]);
    Table::new("influence", words::LEAVE_ONE_OUT, columns.collect(), ANY_SCALE)
        .with_rows([everybody(found)].into_iter().chain(found.without.iter().map(without)))
        .with_note(words::LEAVE_ONE_OUT_HOW)
}

fn everybody(found: &Influence) -> Vec<Cell> {
    row(Cell::words(words::EVERYBODY), &found.everybody, Cell::number(0.0))
}

fn without(one: &WithoutAssessor) -> Vec<Cell> {
    let mut names: Vec<String> = one.attributes.iter().map(|changed| changed.attribute.clone()).collect();
    names.sort();
    names.dedup();
    let aside = if one.changed.is_empty() { String::new() } else { words::verdict_changes(&one.changed) };
    let name = Cell::words(format!("{} {}", words::WITHOUT, one.assessor)).with_detail(aside);
    row(name, &one.candidates, Cell::number(names.len() as f64).with_detail(common::first_of(&names)))
}

fn row(name: Cell, candidates: &[CandidateVerdict], changed: Cell) -> Vec<Cell> {
    let verdicts = candidates.iter().map(|one| Cell::verdict(one.verdict).selecting(&one.sample));
    [name].into_iter().chain(verdicts).chain([changed]).collect()
}
