//! Entries on the verdict: which candidates match, and by how much each attribute differs.

use super::entry::{Frame, JsonPlace, Statistic};
use super::{About, Cost, Given, Need, RestsOn, Topic, help};
use crate::defined::Defined;
use crate::figures::{DifferencesOptions, Scene, VerdictStripOptions, differences, verdict_strip};
use crate::run::AlreadyFound;
use crate::table::Table;
use crate::tables;

/// The verdict on each candidate. It stands in the analysis that everything else starts from.
pub struct Verdicts;

/// Differences to the target, candidate by candidate. They stand in the analysis as well.
pub struct Differences;

impl Statistic for Verdicts {
    type Found = ();
    type Run = AlreadyFound;

    const ABOUT: About = About {
        id: "verdicts",
        topic: Topic::Match,
        title: "Verdicts",
        doing: "Judging the candidates:",
        needs: &[Need::Target],
        ask: "Judge the candidates",
        not_defined: "There is no verdict",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::VERDICT],
    };
    const JSON: Option<JsonPlace> = None;

    fn start(_given: &Given) -> Defined<AlreadyFound> {
        Ok(AlreadyFound)
    }

    fn tables(given: &Given, (): &()) -> Vec<Table> {
        vec![tables::r#match::verdicts(&given.analysis)]
    }

    fn sheets(given: &Given, (): &()) -> Vec<Table> {
        vec![tables::r#match::verdicts_in_words(&given.analysis)]
    }

    fn figure_count(_given: &Given, (): &()) -> usize {
        1
    }

    fn figure(given: &Given, (): &(), frame: &Frame, place: usize) -> Option<Scene> {
        let options = VerdictStripOptions {
            width_px: frame.width_px,
            theme: frame.theme,
            heading: frame.heading,
            ..Default::default()
        };
        (place == 0).then(|| verdict_strip(&given.analysis, &options))
    }
}

impl Statistic for Differences {
    type Found = ();
    type Run = AlreadyFound;

    const ABOUT: About = About {
        id: "differences",
        topic: Topic::Match,
        title: "Attribute by attribute",
        doing: "Comparing with the target:",
        needs: &[Need::Target],
        ask: "Compare with the target",
        not_defined: "There is nothing to compare with",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::DIFFERENCES],
    };
    const JSON: Option<JsonPlace> = None;

    fn start(_given: &Given) -> Defined<AlreadyFound> {
        Ok(AlreadyFound)
    }

    fn tables(given: &Given, (): &()) -> Vec<Table> {
        let candidates = given.analysis.candidates.iter();
        candidates.map(|candidate| tables::r#match::differences(&given.analysis, &candidate.sample)).collect()
    }

    fn sheets(given: &Given, (): &()) -> Vec<Table> {
        vec![tables::r#match::all_differences(&given.analysis)]
    }

    fn figure_count(given: &Given, (): &()) -> usize {
        given.analysis.candidates.len()
    }

    fn figure(given: &Given, (): &(), frame: &Frame, place: usize) -> Option<Scene> {
        let candidate = given.analysis.candidates.get(place)?;
        let options = DifferencesOptions {
            width_px: frame.width_px,
            theme: frame.theme,
            heading: frame.heading,
            candidates: Some(vec![candidate.sample.clone()]),
            ..Default::default()
        };
        Some(differences(&given.analysis, &options))
    }
}
