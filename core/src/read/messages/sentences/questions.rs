//! Questions and the words on their buttons.

use crate::notice::Place;
use crate::read::messages::note::{count, listed};
use crate::read::options::{Answer, Choice, ColumnRole, DecimalMark, DuplicateChoice, PartsMean, Question, StatedRole};

pub(in crate::read) fn ask_decimal_mark(example: &str, places: Vec<Place>) -> Question {
    let choices = vec![
        choice("Decimal point", Answer::Decimal(DecimalMark::Point)),
        choice("Decimal comma", Answer::Decimal(DecimalMark::Comma)),
    ];
    stops(format!("Which mark stands before the decimals in \"{example}\"?"), places, choices, "decimal")
}

/// `names` are the columns, from 0, that may name the assessor, with their headers.
pub(in crate::read) fn ask_roles(missing: &[&str], names: &[(usize, String)]) -> Question {
    let items: Vec<String> = missing.iter().map(|word| (*word).to_owned()).collect();
    let what = format!("Which column holds {}?", listed(&items, 5));
    let mut choices = vec![choice("Say what each column holds", Answer::StateRoles)];
    for (column, header) in names {
        let stated = StatedRole { header: header.clone(), column: *column, role: ColumnRole::Assessor };
        choices.push(choice(format!("\"{header}\" names the assessor"), Answer::Role(stated)));
    }
    if missing == ["the assessor"] {
        choices.push(choice("Nobody: these are means over a panel, for profile and map only", Answer::MeansOfPanel));
    }
    stops(what, Vec::new(), choices, "roles")
}

/// `column` from 0.
pub(in crate::read) fn ask_if_attribute(header: &str, column: usize, place: Place) -> Question {
    let role = |role| Answer::Role(StatedRole { header: header.to_owned(), column, role });
    let choices = vec![
        choice("No, leave it out", role(ColumnRole::Ignored)),
        choice("Yes, it holds scores of an attribute", role(ColumnRole::AttributeScores)),
    ];
    offers(format!("Is \"{header}\" an attribute that was scored?"), vec![place], choices, "roles")
}

pub(in crate::read) fn ask_scale(places: Vec<Place>, minimum: bool) -> Question {
    let (end, field) = if minimum { ("lowest", "scale_minimum") } else { ("highest", "scale_maximum") };
    let what = format!("What is the {end} score that the scale allows?");
    stops(what, places, vec![choice("State the ends of the scale", Answer::StateScale)], field)
}

pub(in crate::read) fn ask_conflicts(number: usize, places: Vec<Place>) -> Question {
    let what = format!("{} two different scores. Which one counts?", count(number, "cell has", "cells have"));
    stops(what, places, keep_choices(), "duplicates")
}

pub(in crate::read) fn ask_replicates(places: Vec<Place>) -> Question {
    let mut choices = vec![choice("Number the replicates by the order of rows", Answer::NumberReplicates)];
    choices.extend(keep_choices());
    let what = "Assessors scored samples more than once. Are these replicates in the order of rows?";
    stops(what.to_owned(), places, choices, "number_replicates_in_file_order")
}

pub(in crate::read) fn ask_fill_names(rows: usize, places: Vec<Place>) -> Question {
    let what = format!("{} no name. Does the name above hold for them?", count(rows, "row has", "rows have"));
    stops(what, places, vec![choice("Take the name above", Answer::FillNamesDown)], "fill_names_down")
}

pub(in crate::read) fn ask_missing_code(code: f64, cells: usize, inside: bool, places: Vec<Place>) -> Question {
    let mut choices = vec![choice(format!("{code} means no score"), Answer::Missing(code))];
    if inside {
        choices.push(choice(format!("{code} is a score"), Answer::Score(code)));
    }
    let what = format!("Does {code} mean \"no score\"? It stands in {}.", count(cells, "cell", "cells"));
    offers(what, places, choices, "missing_codes")
}

pub(in crate::read) fn ask_padding(codes: &[String]) -> Question {
    let what = format!("Did a spreadsheet drop zeros in front of codes? Then {}.", listed(codes, 20));
    offers(what, Vec::new(), vec![choice("Put the zeros back", Answer::PadCodes)], "pad_codes")
}

pub(in crate::read) fn ask_sheets(names: &[String], indices: &[usize], may_be_samples: bool) -> Question {
    let mut choices = Vec::new();
    if may_be_samples {
        choices.push(choice("Each sheet is a sample", Answer::SheetsMean(PartsMean::Samples)));
    }
    choices.extend([
        choice("Each sheet is a session", Answer::SheetsMean(PartsMean::Sessions)),
        choice("Each sheet is a replicate", Answer::SheetsMean(PartsMean::Replicates)),
        choice("All sheets are one table", Answer::SheetsMean(PartsMean::Nothing)),
    ]);
    for (name, index) in names.iter().zip(indices).take(6) {
        let others = indices.iter().copied().filter(|other| other != index).collect();
        choices.push(choice(format!("Read only {name}"), Answer::OnlySheet { index: *index, others }));
    }
    stops("What tells one sheet from the next?".to_owned(), Vec::new(), choices, "sheets_mean")
}

pub(in crate::read) fn offer_sheets(meaning: PartsMean) -> Question {
    let choices = part_choices("sheet", "sheets", meaning, Answer::SheetsMean);
    offers("What does each sheet stand for?".to_owned(), Vec::new(), choices, "sheets_mean")
}

pub(in crate::read) fn offer_files(meaning: PartsMean) -> Question {
    let choices = part_choices("file", "files", meaning, Answer::FilesMean);
    offers("What does each file stand for?".to_owned(), Vec::new(), choices, "files_mean")
}

pub(in crate::read) fn offer_groups(meaning: PartsMean) -> Question {
    let mut choices = part_choices("group", "groups", meaning, Answer::GroupsMean);
    choices.pop();
    choices.push(choice("They are part of the attributes' names", Answer::GroupsMean(PartsMean::Nothing)));
    offers("What does the upper header row name?".to_owned(), Vec::new(), choices, "groups_mean")
}

pub(in crate::read) fn ask_key_padding(codes: &[String]) -> Question {
    let what = format!("Did a spreadsheet drop zeros in front of codes? By the key {}.", listed(codes, 20));
    stops(what, Vec::new(), vec![choice("Put the zeros back", Answer::PadCodes)], "pad_codes")
}

pub(in crate::read) fn ask_codes_across_sessions() -> Question {
    let what = "Did every code stand for the same sample in all sessions?";
    let choices = vec![choice("Yes, in all sessions", Answer::CodesHoldInEverySession)];
    stops(what.to_owned(), Vec::new(), choices, "codes_hold_in_every_session")
}

/// What parts may stand for; what they were taken for is confirmed by the first choice.
fn part_choices(one: &str, many: &str, taken: PartsMean, answer: impl Fn(PartsMean) -> Answer) -> Vec<Choice> {
    let named = [
        (PartsMean::Samples, "sample"),
        (PartsMean::Assessors, "assessor"),
        (PartsMean::Sessions, "session"),
        (PartsMean::Replicates, "replicate"),
    ];
    let (first, rest): (Vec<_>, Vec<_>) = named.into_iter().partition(|(meaning, _)| *meaning == taken);
    let mut choices: Vec<Choice> = first
        .into_iter()
        .map(|(meaning, word)| choice(format!("Yes, each {one} is one {word}"), answer(meaning)))
        .collect();
    choices
        .extend(rest.into_iter().map(|(meaning, word)| choice(format!("Each {one} is one {word}"), answer(meaning))));
    choices.push(choice(format!("All {many} are one table"), answer(PartsMean::Nothing)));
    choices
}

fn keep_choices() -> Vec<Choice> {
    vec![
        choice("Keep the first", Answer::Duplicates(DuplicateChoice::KeepFirst)),
        choice("Keep the last", Answer::Duplicates(DuplicateChoice::KeepLast)),
    ]
}

fn choice(label: impl Into<String>, answer: Answer) -> Choice {
    Choice { label: label.into(), answer }
}

fn stops(what: String, places: Vec<Place>, choices: Vec<Choice>, field: &'static str) -> Question {
    Question { what, places, choices, field, stops: true }
}

fn offers(what: String, places: Vec<Place>, choices: Vec<Choice>, field: &'static str) -> Question {
    Question { what, places, choices, field, stops: false }
}
