//! Suspected form faults, each with the evidence it rests on.

use super::words;
use crate::stats::Analysis;
use crate::stats::panel::form_faults::{FormFaultReport, Reading, Suspicion};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// One row a suspicion, the strongest evidence first: what may have happened, and how the marks fit as written and as
/// suspected. Misfits in units of the scale. Under it, which checks are off, and that nothing is suspected where that
/// is so.
pub fn form_faults(analysis: &Analysis, found: &FormFaultReport) -> Table {
    let table = Table::new("form-faults", words::FORM_FAULTS, columns(&analysis.unit), analysis.scale_maximum)
        .with_rows(found.suspicions.iter().map(row));
    let table = found.off.iter().fold(table, |table, why| table.with_note(why));
    let nothing = found.suspicions.is_empty() && found.n_pages > 0;
    let said = if nothing { words::no_slips(found.n_pages) } else { String::new() };
    table.with_note(said).with_note(words::FORCED).with_note(&found.model)
}

fn columns(unit: &str) -> Vec<Column> {
    let misfit = |head, field| Column::of(head, Format::Score, field).in_unit(unit).under(words::TYPICAL_MISFIT);
    let number = |head, decimals, field| Column::of(head, Format::Fixed(decimals), field);
    vec![
        Column::name(common::ASSESSOR),
        Column::of(words::SUSPECTED, Format::Words, "kind"),
        Column::of(words::IN_WORDS, Format::Words, "sentence"),
        Column::of(words::MARKS_COMPARED, Format::Count, "n_marks"),
        misfit(words::AS_WRITTEN, "misfit_as_written"),
        misfit(words::AS_SUSPECTED, "misfit_as_suspected"),
        number(words::AS_WRITTEN, 2, "correlation_as_written").under(words::CORRELATION_EXPECTED),
        number(words::AS_SUSPECTED, 2, "correlation_as_suspected").under(words::CORRELATION_EXPECTED),
        number(words::REACHED, 1, "log10_times_likelier").under(words::TIMES_LIKELIER),
        number(words::ASKED_FOR, 1, "log10_threshold").under(words::TIMES_LIKELIER),
    ]
}

fn row(suspicion: &Suspicion) -> Vec<Cell> {
    let evidence = &suspicion.evidence;
    vec![
        Cell::words(&suspicion.assessor),
        Cell::words(words::slip(suspicion.kind)),
        Cell::words(&suspicion.sentence),
        Cell::number(evidence.n_marks as f64),
        Cell::number(evidence.as_written.typical_misfit),
        Cell::number(evidence.as_suspected.typical_misfit),
        correlation(&evidence.as_written),
        correlation(&evidence.as_suspected),
        Cell::number(evidence.log10_times_likelier),
        Cell::number(evidence.log10_threshold),
    ]
}

fn correlation(reading: &Reading) -> Cell {
    reading.correlation.map_or_else(|| Cell::not_defined(words::DOES_NOT_VARY), Cell::number)
}
