//! Entries on what a panel can tell: the chances of each verdict, margins for the next study, and what the mixed model says.

use super::entry::{JsonPart, JsonPlace, Statistic};
use super::r#match::where_there_is_a_target;
use super::samples::each;
use super::{About, Cost, Given, Need, RestsOn, Topic, help};
use crate::defined::Defined;
use crate::run::EachOf;
use crate::stats::r#match::calibrated::NextMargins;
use crate::stats::r#match::margins_to_come::MarginsToComeRun;
use crate::stats::r#match::panel_chances::{PanelChances, PanelChancesRun};
use crate::stats::r#match::second_opinion::{OpinionOnAttribute, opinion_on};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use std::sync::Arc;

/// How often each verdict comes about at this panel's scatter.
pub struct ChancesOfVerdicts;

/// What the target's second cup says about margins to come.
pub struct MarginsToCome;

/// Whether the mixed model shows the same matches.
pub struct SecondOpinion;

impl Statistic for ChancesOfVerdicts {
    type Found = PanelChances;
    type Run = PanelChancesRun;

    const ABOUT: About = About {
        id: "chances",
        topic: Topic::Match,
        title: "What this panel can tell",
        doing: "Simulating studies by this panel:",
        needs: &[Need::Target],
        ask: "Simulate studies by this panel",
        not_defined: "The chances of each verdict are not defined",
        cost: Cost::Draws,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::CHANCES],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("chances"));

    fn start(given: &Given) -> Defined<PanelChancesRun> {
        PanelChancesRun::start(&given.study)
    }

    fn conclusion(given: &Given, found: &PanelChances) -> Option<String> {
        Some(tables::r#match::chances_sentence(&given.analysis, found))
    }

    fn tables(given: &Given, found: &PanelChances) -> Vec<Table> {
        vec![tables::r#match::chances(&given.analysis, found)]
    }

    fn json(given: &Given, found: Defined<&PanelChances>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}

impl Statistic for MarginsToCome {
    type Found = NextMargins;
    type Run = MarginsToComeRun;

    const ABOUT: About = About {
        id: "next-margins",
        topic: Topic::Match,
        title: "Margins for the next study",
        doing: "Turning the two cups of the target round:",
        needs: &[Need::Target],
        ask: "Work them out",
        not_defined: "Margins for the next study can't be proposed",
        cost: Cost::Draws,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::NEXT_MARGINS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("next_margins"));

    fn start(given: &Given) -> Defined<MarginsToComeRun> {
        MarginsToComeRun::start(&given.study)
    }

    fn tables(given: &Given, found: &NextMargins) -> Vec<Table> {
        vec![tables::r#match::next_margins(&given.analysis, found)]
    }

    fn json(given: &Given, found: Defined<&NextMargins>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}

impl Statistic for SecondOpinion {
    type Found = Vec<OpinionOnAttribute>;
    type Run = EachOf<OpinionOnAttribute>;

    const ABOUT: About = About {
        id: "second-opinion",
        topic: Topic::Match,
        title: "A second opinion on the matches",
        doing: "Asking the mixed model:",
        needs: &[Need::Target],
        ask: "Ask the mixed model",
        not_defined: "There is no second opinion",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::SECOND_OPINION],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::EachAttribute("second_opinion"));

    fn start(given: &Given) -> Defined<Self::Run> {
        Ok(EachOf::attributes(Arc::clone(&given.study), opinion_on))
    }

    fn tables(given: &Given, found: &Vec<OpinionOnAttribute>) -> Vec<Table> {
        vec![tables::r#match::second_opinion(&given.analysis, found)]
    }

    fn sheets(given: &Given, found: &Vec<OpinionOnAttribute>) -> Vec<Table> {
        vec![tables::r#match::second_opinion_in_full(&given.analysis, found)]
    }

    fn json(_given: &Given, found: Defined<&Vec<OpinionOnAttribute>>) -> Vec<JsonPart> {
        let Ok(found) = found else { return Vec::new() };
        each(Self::JSON, found.iter().map(|one| plain_json(&one.candidates)).collect())
    }
}
