//! The entry on preparations: whether a candidate's difference from the target is the same in every round.

use super::entry::{JsonPart, JsonPlace, Statistic};
use super::r#match::where_there_is_a_target;
use super::{About, Cost, Given, Need, RestsOn, Topic, help};
use crate::defined::{Defined, NotDefined};
use crate::run::AtOnce;
use crate::stats::panel::round_shift::{RoundShift, difference_between_rounds};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use std::sync::Arc;

/// Differences to the target that shift between rounds.
pub struct RoundShifts;

impl Statistic for RoundShifts {
    type Found = Vec<RoundShift>;
    type Run = AtOnce<Vec<RoundShift>>;

    const ABOUT: About = About {
        id: "round-shifts",
        topic: Topic::Match,
        title: "Are the differences the same in every round?",
        doing: "Comparing the rounds:",
        needs: &[Need::Target],
        ask: "Compare the rounds",
        not_defined: "There is nothing to compare",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::POTS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("round_shifts"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let study = Arc::clone(&given.study);
        let target = study.settings.target.clone().ok_or_else(|| NotDefined::because("no target is named"))?;
        let candidates: Vec<String> = given.analysis.candidates.iter().map(|one| one.sample.clone()).collect();
        Ok(AtOnce::new(move || {
            Ok(candidates.iter().flat_map(|sample| difference_between_rounds(&study, sample, &target)).collect())
        }))
    }

    fn conclusion(_given: &Given, found: &Vec<RoundShift>) -> Option<String> {
        tables::r#match::shifts(found)
    }

    fn tables(given: &Given, found: &Vec<RoundShift>) -> Vec<Table> {
        vec![tables::panel::round_shifts(&given.analysis, found)]
    }

    fn json(given: &Given, found: Defined<&Vec<RoundShift>>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}
