//! Entries on how sure a verdict is: closeness, power, what hangs on one person, what words for the whole rest on.

use super::entry::{JsonPart, JsonPlace, Statistic};
use super::{About, Cost, Given, Need, RestsOn, Topic, help};
use crate::defined::{Defined, NotDefined};
use crate::run::AtOnce;
use crate::stats::r#match::distance_bootstrap::{DistanceResampling, DistanceRun, ResamplingOptions};
use crate::stats::r#match::integrated_attributes::{IntegratedExplained, integrated_explained};
use crate::stats::r#match::leave_one_out::{Influence, InfluenceRun};
use crate::stats::r#match::panel_power::{PanelPower, PanelPowerRun};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use std::sync::Arc;

/// Which candidate is closest, with intervals from assessors drawn again.
pub struct Closeness;

/// What this panel could have shown.
pub struct Power;

/// Verdicts with everybody and without each assessor.
pub struct LeaveOneOut;

/// What words for the whole go together with.
pub struct IntegratedWords;

impl Statistic for Closeness {
    type Found = DistanceResampling;
    type Run = DistanceRun;

    const ABOUT: About = About {
        id: "closeness",
        topic: Topic::Match,
        title: "Closeness to the target",
        doing: "Drawing panels again:",
        needs: &[Need::Target],
        ask: "Draw panels again",
        not_defined: "Closeness is not defined",
        cost: Cost::Draws,
        rests_on: RestsOn::Tasted,
        names_assessors: false,
        help: &[&help::DISTANCE, &help::CLOSENESS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("distance"));

    fn start(given: &Given) -> Defined<DistanceRun> {
        let target = given.study.settings.target.as_ref().ok_or_else(|| NotDefined::because("no target is named"))?;
        let options = ResamplingOptions { draws: given.draws, ..ResamplingOptions::of(&given.study) };
        DistanceRun::start(&given.study, target, options)
    }

    fn conclusion(given: &Given, found: &DistanceResampling) -> Option<String> {
        tables::r#match::closest(&given.analysis, found)
    }

    fn tables(given: &Given, found: &DistanceResampling) -> Vec<Table> {
        vec![tables::r#match::closeness(&given.analysis, found)]
    }

    fn notes(_given: &Given, found: &DistanceResampling) -> Vec<String> {
        vec![found.model.clone()]
    }

    fn json(given: &Given, found: Defined<&DistanceResampling>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}

impl Statistic for Power {
    type Found = PanelPower;
    type Run = PanelPowerRun;

    const ABOUT: About = About {
        id: "power",
        topic: Topic::Match,
        title: "What this panel could have shown",
        doing: "Working out what the panel could have shown:",
        needs: &[Need::Target],
        ask: "Work it out",
        not_defined: "What the panel could have shown is not defined",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::POWER],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("power"));

    fn start(given: &Given) -> Defined<PanelPowerRun> {
        PanelPowerRun::start(Arc::clone(&given.analysis))
    }

    fn tables(given: &Given, found: &PanelPower) -> Vec<Table> {
        vec![tables::r#match::power(&given.analysis, found)]
    }

    fn json(given: &Given, found: Defined<&PanelPower>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}

impl Statistic for LeaveOneOut {
    type Found = Influence;
    type Run = InfluenceRun;

    const ABOUT: About = About {
        id: "influence",
        topic: Topic::Panel,
        title: "Does a verdict hang on one person?",
        doing: "Setting each assessor aside in turn:",
        needs: &[Need::Target],
        ask: "Set each assessor aside in turn",
        not_defined: "Setting aside shows nothing yet",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: true,
        help: &[&help::LEAVE_ONE_OUT],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("influence"));

    fn start(given: &Given) -> Defined<InfluenceRun> {
        InfluenceRun::start(&given.study)
    }

    fn conclusion(_given: &Given, found: &Influence) -> Option<String> {
        Some(tables::panel::conclusions::influence(found))
    }

    fn tables(_given: &Given, found: &Influence) -> Vec<Table> {
        vec![tables::r#match::leave_one_out(found)]
    }

    fn json(given: &Given, found: Defined<&Influence>) -> Vec<JsonPart> {
        where_there_is_a_target(given, Self::JSON, plain_json(&found))
    }
}

impl Statistic for IntegratedWords {
    type Found = Vec<IntegratedExplained>;
    type Run = AtOnce<Vec<IntegratedExplained>>;

    const ABOUT: About = About {
        id: "integrated",
        topic: Topic::Samples,
        title: "What words for the whole rest on",
        doing: "Comparing with words for the whole:",
        needs: &[],
        ask: "Compare with words for the whole",
        not_defined: "There is nothing to compare",
        cost: Cost::Quick,
        rests_on: RestsOn::Tasted,
        names_assessors: false,
        help: &[&help::INTEGRATED],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("integrated"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let study = Arc::clone(&given.study);
        Ok(AtOnce::new(move || integrated_explained(&study)))
    }

    fn tables(_given: &Given, found: &Vec<IntegratedExplained>) -> Vec<Table> {
        found.iter().map(tables::r#match::integrated).collect()
    }
}

/// Nothing at all is said of what compares with a target while there is none.
pub(super) fn where_there_is_a_target(
    given: &Given,
    place: Option<JsonPlace>,
    value: serde_json::Value,
) -> Vec<JsonPart> {
    let place = place.filter(|_| given.analysis.target.is_some());
    place.map(|place| JsonPart { place, value }).into_iter().collect()
}
