//! What must hold of any input: no panic, every refusal a sentence with a place, and what is accepted comes back as it
//! was. It knows nothing of how inputs are made.

use super::Input;
use crate::studies::{ScoreName, named_scores};
use likeness_core::notice::{Notice, Severity};
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::pages::ballot_pages;
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::on_screen::ballot_file::OnScreenBallot;
use likeness_core::plan::on_screen::ballot_run::OnScreenRun;
use likeness_core::plan::on_screen::collect::{CollectedFile, collect};
use likeness_core::plan::on_screen::results_file::OnScreenResults;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::read::study_file::study_in;
use likeness_core::read::{ReadOptions, Reading, read_file};
use likeness_core::stats::analyse;
use likeness_core::study::Study;
use likeness_core::write::study_file::study_file_text;
use likeness_core::write::tidy::tidy_csv;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// What came of an input that held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It was opened, and what was opened came back when it was saved and opened again.
    Accepted,
    /// It was refused, or a question stands before it is opened.
    Refused,
}

/// Opens the input, and whatever opens is saved, opened again and, where `deep`, computed.
///
/// # Errors
/// What doesn't hold, in words.
pub fn hold(input: Input, bytes: &[u8], deep: bool) -> Result<Outcome, String> {
    let held = catch_unwind(AssertUnwindSafe(|| match input {
        Input::TextTable | Input::Xlsx | Input::Ods => table(input, bytes, deep),
        Input::StudyFile => study_file(bytes, deep),
        Input::PlanFile => plan_file(bytes),
        Input::OnScreenBallot => json_file(bytes, OnScreenBallot::from_text, |form| {
            for sheet in 0..form.sheets.len() {
                let _ = OnScreenRun::of_form(form, sheet);
            }
            form.to_text()
        }),
        Input::OnScreenResults => json_file(bytes, OnScreenResults::from_text, |results| {
            collected(results);
            results.to_text()
        }),
        Input::TypingFile => json_file(bytes, EntryFile::from_text, |typing| {
            typed_on(typing);
            typing.to_text()
        }),
    }));
    held.unwrap_or_else(|panic| Err(format!("it panicked: {}", message_of(panic.as_ref()))))
}

fn message_of(panic: &(dyn std::any::Any + Send)) -> String {
    let text = panic.downcast_ref::<String>().cloned();
    text.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned())).unwrap_or_default()
}

fn table(input: Input, bytes: &[u8], deep: bool) -> Result<Outcome, String> {
    let options = ReadOptions::default();
    let reading = read_file(input.file_name(), bytes, &options);
    notices_are_sound(&reading)?;
    // Whoever reads it answers what is asked, once with the first choice and once with the last.
    for question in &reading.questions {
        for choice in [question.choices.first(), question.choices.last()].into_iter().flatten() {
            let again = read_file(input.file_name(), bytes, &options.clone().answered(&choice.answer));
            notices_are_sound(&again)?;
            again.study.iter().try_for_each(comes_back)?;
        }
    }
    let Some(study) = &reading.study else { return Ok(Outcome::Refused) };
    comes_back(study)?;
    if deep {
        computes(study);
    }
    Ok(Outcome::Accepted)
}

fn notices_are_sound(reading: &Reading) -> Result<(), String> {
    let stops = reading.questions.iter().any(|question| question.stops);
    let refuses = reading.notices.iter().any(|notice| notice.severity == Severity::Refused);
    if reading.study.is_none() && !stops && !refuses {
        return Err(format!("nothing was opened and nothing says why: {:?}", reading.notices));
    }
    reading.notices.iter().try_for_each(notice_is_sound)?;
    reading.questions.iter().try_for_each(|question| {
        let is_sound = !question.what.is_empty() && !question.choices.is_empty();
        is_sound.then_some(()).ok_or_else(|| format!("a question without words or choices: {question:?}"))
    })
}

fn notice_is_sound(notice: &Notice) -> Result<(), String> {
    if !ends_as_sentence(&notice.what) {
        return Err(format!("no sentence: {:?}", notice.what));
    }
    // The line that counts the rest of many alike leaves what to do to those above it.
    let refused = notice.severity == Severity::Refused && !notice.what.starts_with("And ");
    if refused && (notice.hint.is_empty() || notice.place.file.is_none()) {
        return Err(format!("a refusal without a place or without what to do: {notice:?}"));
    }
    Ok(())
}

fn ends_as_sentence(text: &str) -> bool {
    text.trim_end().ends_with(['.', '?', '!', ':', '”', ')'])
}

/// A study that was saved and opened is the same to the last byte; its tidy table holds the same scores.
fn comes_back(study: &Study) -> Result<(), String> {
    let saved = study_file_text(study);
    let opened = study_in(&saved).map_err(|why| format!("what was saved isn't opened: {why}"))?;
    if study_file_text(&opened) != saved {
        return Err("the study is another one after saving and opening".to_owned());
    }
    let tidy = tidy_csv(study);
    let reading = read_file("tidy.csv", tidy.as_bytes(), &tidy_options(study));
    let Some(again) = reading.study else {
        let asked: Vec<&str> = reading.questions.iter().map(|question| question.what.as_str()).collect();
        return Err(format!("the tidy table isn't read: {asked:?} {:?}\n{tidy}", reading.notices));
    };
    if scores_of(&again) == scores_of(study) {
        return Ok(());
    }
    Err(format!("the tidy table has other scores{}\n{tidy}", first_difference(&scores_of(study), &scores_of(&again))))
}

/// What a person knows who wrote the table: its scale, and that it says 99 where 99 was scored.
fn tidy_options(study: &Study) -> ReadOptions {
    let kept = [-9.0, -1.0, 9.0, 99.0, 999.0, 9999.0, -99.0, -999.0, -9999.0];
    ReadOptions {
        scale_minimum: Some(study.scale.minimum),
        scale_maximum: Some(study.scale.maximum),
        kept_codes: kept.to_vec(),
        ..ReadOptions::default()
    }
}

/// Every score that there is by what names it, in bits.
fn scores_of(study: &Study) -> BTreeMap<ScoreName, u64> {
    named_scores(study).into_iter().filter_map(|(name, score)| Some((name, score?.to_bits()))).collect()
}

fn first_difference(before: &BTreeMap<ScoreName, u64>, after: &BTreeMap<ScoreName, u64>) -> String {
    let lost = before.iter().find(|one| after.get(one.0) != Some(one.1));
    let came = after.iter().find(|one| before.get(one.0) != Some(one.1));
    format!(": {lost:?} became {came:?}")
}

/// Everything is computed as the page does on opening; small studies only, so that many cases are looked at.
fn computes(study: &Study) {
    if study.servings.len() * study.attributes.len() <= 600 {
        let _ = analyse(study);
    }
}

fn study_file(bytes: &[u8], deep: bool) -> Result<Outcome, String> {
    match study_in(&String::from_utf8_lossy(bytes)) {
        Err(why) => refusal(&why.to_string()),
        Ok(study) => {
            let saved = study_file_text(&study);
            let again = study_in(&saved).map_err(|why| format!("what was saved isn't opened: {why}"))?;
            if study_file_text(&again) != saved {
                return Err("the study is another one after saving and opening".to_owned());
            }
            let _ = tidy_csv(&study);
            if deep {
                computes(&study);
            }
            Ok(Outcome::Accepted)
        }
    }
}

fn refusal(why: &str) -> Result<Outcome, String> {
    if ends_as_sentence(why) { Ok(Outcome::Refused) } else { Err(format!("no sentence: {why:?}")) }
}

fn json_file<T: PartialEq, E: ToString>(
    bytes: &[u8],
    open: impl Fn(&str) -> Result<T, E>,
    save: impl Fn(&T) -> String,
) -> Result<Outcome, String> {
    match open(&String::from_utf8_lossy(bytes)) {
        Err(why) => refusal(&why.to_string()),
        Ok(opened) => {
            let saved = save(&opened);
            let again = open(&saved).map_err(|why| format!("what was saved isn't opened: {}", why.to_string()))?;
            if save(&again) == saved {
                return Ok(Outcome::Accepted);
            }
            Err("it is another one after saving and opening".to_owned())
        }
    }
}

fn plan_file(bytes: &[u8]) -> Result<Outcome, String> {
    json_file(bytes, TastingPlan::from_json, |plan| {
        let _ = plan.servings();
        let _ = plan.study_id();
        let _ = ballot_pages(plan, Paper::A4);
        plan.to_json()
    })
}

fn collected(results: &OnScreenResults) {
    let plan = crate::tasting::small_plan(false);
    let files = [CollectedFile { file: "results.json".to_owned(), length_bytes: 1, results: results.clone() }];
    let found = collect(&plan, &files);
    let _ = found.study(&plan, &files, "2026-03-02 11:00");
}

fn typed_on(typing: &EntryFile) {
    let plan = crate::tasting::small_plan(false);
    if typing.data_entry.fits(&plan) {
        let _ = typing.data_entry.keyed_study(&plan, 0.5, "2026-03-02 11:00");
    }
    let carried = typing.data_entry.carried_to(&plan);
    let _ = carried.data_entry.keyed_study(&plan, 0.5, "2026-03-02 11:00");
}
