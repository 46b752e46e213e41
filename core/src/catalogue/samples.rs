//! Entries on what samples are like and which of them differ.

use super::entry::{Frame, JsonPart, JsonPlace, Statistic};
use super::{About, Cost, Given, RestsOn, Topic, help};
use crate::defined::Defined;
use crate::figures::{MeansOptions, Scene, SpiderOptions, means, spider};
use crate::run::{AlreadyFound, AtOnce, EachOf};
use crate::stats::samples::each_attribute::{AttributeComparisons, compare_on};
use crate::stats::samples::multiplicity::{AdjustedP, adjust_over_attributes};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use serde_json::Value;
use std::sync::Arc;

/// Means of samples. They stand in the analysis that everything else starts from.
pub struct Means;

/// Whether samples differ at all, attribute by attribute, with p-values adjusted over attributes.
pub struct SampleEffect;

/// Which samples differ on each attribute.
pub struct Comparisons;

impl Statistic for Means {
    type Found = ();
    type Run = AlreadyFound;

    const ABOUT: About = About {
        id: "means",
        topic: Topic::Samples,
        title: "Means",
        doing: "Taking means:",
        needs: &[],
        ask: "Take means",
        not_defined: "There are no means",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::MEANS],
    };
    const JSON: Option<JsonPlace> = None;

    fn start(_given: &Given) -> Defined<AlreadyFound> {
        Ok(AlreadyFound)
    }

    fn tables(given: &Given, (): &()) -> Vec<Table> {
        vec![tables::samples::means(&given.analysis, &[])]
    }

    fn sheets(given: &Given, (): &()) -> Vec<Table> {
        vec![tables::samples::means_long(&given.analysis)]
    }

    fn figure_count(_given: &Given, (): &()) -> usize {
        2
    }

    fn figure(given: &Given, (): &(), frame: &Frame, place: usize) -> Option<Scene> {
        let Frame { width_px, theme, heading } = *frame;
        let analysis = &given.analysis;
        match place {
            0 => Some(spider(analysis, &SpiderOptions { width_px, theme, heading, ..Default::default() })),
            1 => Some(means(analysis, &MeansOptions { width_px, theme, heading, ..Default::default() })),
            _ => None,
        }
    }
}

impl Statistic for SampleEffect {
    type Found = Vec<Defined<AdjustedP>>;
    type Run = AtOnce<Vec<Defined<AdjustedP>>>;

    const ABOUT: About = About {
        id: "sample-effect",
        topic: Topic::Samples,
        title: "Do samples differ?",
        doing: "Testing the samples:",
        needs: &[],
        ask: "Test the samples",
        not_defined: "There is no test",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::ANOVA],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::EachAttribute("sample_effect_over_attributes"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let sample_p = given.analysis.sample_p();
        Ok(AtOnce::new(move || Ok(adjust_over_attributes(&sample_p))))
    }

    fn conclusion(given: &Given, _found: &Vec<Defined<AdjustedP>>) -> Option<String> {
        Some(tables::samples::samples_differ(&given.analysis))
    }

    fn tables(given: &Given, _found: &Vec<Defined<AdjustedP>>) -> Vec<Table> {
        vec![tables::samples::anova(&given.analysis)]
    }

    fn json(_given: &Given, found: Defined<&Vec<Defined<AdjustedP>>>) -> Vec<JsonPart> {
        each(Self::JSON, found.map_or_else(|_| Vec::new(), |found| found.iter().map(plain_json).collect()))
    }
}

impl Statistic for Comparisons {
    type Found = Vec<AttributeComparisons>;
    type Run = EachOf<AttributeComparisons>;

    const ABOUT: About = About {
        id: "comparisons",
        topic: Topic::Samples,
        title: "Which samples differ?",
        doing: "Comparing samples:",
        needs: &[],
        ask: "Compare the samples",
        not_defined: "There is nothing to compare",
        cost: Cost::Asked,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::COMPARISONS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::EachAttribute("pairwise"));

    fn start(given: &Given) -> Defined<Self::Run> {
        Ok(EachOf::attributes(Arc::clone(&given.study), compare_on))
    }

    fn tables(given: &Given, found: &Vec<AttributeComparisons>) -> Vec<Table> {
        let letters = tables::samples::letters(&given.analysis, found, &[]);
        [Some(letters), tables::samples::against_target(&given.analysis, found)].into_iter().flatten().collect()
    }

    fn json(_given: &Given, found: Defined<&Vec<AttributeComparisons>>) -> Vec<JsonPart> {
        let Ok(found) = found else { return Vec::new() };
        let mut parts = each(Self::JSON, found.iter().map(|one| plain_json(&one.pairs)).collect());
        if found.iter().any(|one| one.against_target.is_some()) {
            let against = found.iter().map(|one| one.against_target.as_ref().map_or(Value::Null, plain_json));
            parts.extend(each(Some(JsonPlace::EachAttribute("all_against_target")), against.collect()));
        }
        parts
    }
}

/// One value an attribute, in their order.
pub(super) fn each(place: Option<JsonPlace>, values: Vec<Value>) -> Vec<JsonPart> {
    place.map(|place| JsonPart { place, value: Value::Array(values) }).into_iter().collect()
}
