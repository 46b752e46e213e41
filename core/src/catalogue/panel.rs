//! Entries on the panel: can it be believed, as a whole and one by one.

use super::entry::{Frame, JsonPart, JsonPlace, Statistic};
use super::samples::each;
use super::{About, Cost, Given, Need, RestsOn, Topic, help};
use crate::defined::Defined;
use crate::figures::{PanelGridOptions, Scene, panel_grid};
use crate::run::{AtOnce, EachOf, Then};
use crate::stats::panel::form_faults::{FormFaultReport, FormFaultSearch};
use crate::stats::panel::performance::{PanelPerformance, performance};
use crate::stats::panel::replicate_effect::{ReplicateAnalysis, rounds_on};
use crate::stats::panel::round_shift;
use crate::stats::panel::scale_use::{ScaleUse, scale_use_on};
use crate::stats::panel::serving_order::{self, LabelEffect, OrderEffects, label_effects, order_effects_on};
use crate::stats::panel::sessions::{SessionPerformance, session_performance};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use std::sync::Arc;

/// Discrimination, agreement and repeatability of each assessor and of the panel.
pub struct Performance;

/// Pages shifted by a line, scales read the wrong way round, forms swapped.
pub struct FormFaults;

/// The panel in each session by itself.
pub struct Sessions;

/// Shifts between replicates, or between sessions where there is one replicate.
pub struct Rounds;

/// What positions and samples before did.
pub struct ServingOrder;

/// What labels did.
pub struct Labels;

/// How far each assessor stretches or squeezes the line.
pub struct LineUse;

impl Statistic for Performance {
    type Found = PanelPerformance;
    type Run = AtOnce<PanelPerformance>;

    const ABOUT: About = About {
        id: "panel",
        topic: Topic::Panel,
        title: "Can this panel be believed?",
        doing: "Looking at each assessor:",
        needs: &[],
        ask: "Look at each assessor",
        not_defined: "The panel can't be looked at",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: true,
        help: &[&help::PANEL],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("panel"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let given = given.clone();
        // The panel is judged with the p of the mixed model, so that nobody ever sees two different ones.
        Ok(AtOnce::new(move || Ok(performance(&given.study, &given.analysis.sample_p()))))
    }

    fn conclusion(given: &Given, found: &PanelPerformance) -> Option<String> {
        Some(tables::panel::people::answer(&given.analysis, found, None))
    }

    fn tables(given: &Given, found: &PanelPerformance) -> Vec<Table> {
        let analysis = &given.analysis;
        vec![
            tables::panel::people(analysis, found),
            tables::panel::assessors(analysis, found),
            tables::panel::attributes(analysis, found),
            tables::panel::grid(analysis, found),
        ]
    }

    fn figure_count(_given: &Given, _found: &PanelPerformance) -> usize {
        1
    }

    fn figure(given: &Given, found: &PanelPerformance, frame: &Frame, place: usize) -> Option<Scene> {
        let options = PanelGridOptions {
            width_px: frame.width_px,
            theme: frame.theme,
            heading: frame.heading,
            unit: given.study.scale.unit.clone(),
            ..Default::default()
        };
        (place == 0).then(|| panel_grid(found, &options))
    }

    fn notes(_given: &Given, found: &PanelPerformance) -> Vec<String> {
        vec![found.model.clone()]
    }
}

impl Statistic for FormFaults {
    type Found = FormFaultReport;
    type Run = FormFaultSearch;

    const ABOUT: About = About {
        id: "form-faults",
        topic: Topic::Panel,
        title: "Who marks differently?",
        doing: "Looking for form faults:",
        needs: &[],
        ask: "Look for form faults",
        not_defined: "There is nothing to compare",
        cost: Cost::Search,
        rests_on: RestsOn::Scores,
        names_assessors: true,
        help: &[&help::FORM_FAULTS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("suspected_slips"));

    fn start(given: &Given) -> Defined<FormFaultSearch> {
        Ok(FormFaultSearch::start(&given.study))
    }

    fn conclusion(_given: &Given, found: &FormFaultReport) -> Option<String> {
        tables::panel::conclusions::form_faults(found)
    }

    fn tables(given: &Given, found: &FormFaultReport) -> Vec<Table> {
        vec![tables::panel::form_faults(&given.analysis, found)]
    }
}

impl Statistic for Sessions {
    type Found = Vec<SessionPerformance>;
    type Run = EachOf<SessionPerformance>;

    const ABOUT: About = About {
        id: "sessions",
        topic: Topic::Panel,
        title: "Session by session",
        doing: "Comparing the sessions:",
        needs: &[Need::Sessions],
        ask: "Compare the sessions",
        not_defined: "Sessions can't be compared",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::SESSIONS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("sessions"));

    fn start(given: &Given) -> Defined<Self::Run> {
        Ok(EachOf::sessions(Arc::clone(&given.study), session_performance))
    }

    fn conclusion(_given: &Given, found: &Vec<SessionPerformance>) -> Option<String> {
        tables::panel::conclusions::sessions(found)
    }

    fn tables(given: &Given, found: &Vec<SessionPerformance>) -> Vec<Table> {
        vec![tables::panel::sessions(&given.analysis, found)]
    }
}

impl Statistic for Rounds {
    type Found = Vec<Defined<ReplicateAnalysis>>;
    type Run = Then<EachOf<Defined<ReplicateAnalysis>>>;

    const ABOUT: About = About {
        id: "rounds",
        topic: Topic::Panel,
        title: "Does the panel hold from round to round?",
        doing: "Comparing the rounds:",
        needs: &[],
        ask: "Compare the rounds",
        not_defined: "There is nothing to compare",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::ROUNDS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::EachAttribute("replicates"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let each = EachOf::attributes(Arc::clone(&given.study), rounds_on);
        Ok(Then::new(each, |found| round_shift::adjust_over_attributes(found)))
    }

    fn conclusion(given: &Given, found: &Vec<Defined<ReplicateAnalysis>>) -> Option<String> {
        tables::panel::conclusions::rounds(&given.attribute_names(), found)
    }

    fn tables(given: &Given, found: &Vec<Defined<ReplicateAnalysis>>) -> Vec<Table> {
        vec![tables::panel::rounds(&given.attribute_names(), found)]
    }

    fn json(_given: &Given, found: Defined<&Vec<Defined<ReplicateAnalysis>>>) -> Vec<JsonPart> {
        each(Self::JSON, found.map_or_else(|_| Vec::new(), |found| found.iter().map(plain_json).collect()))
    }
}

impl Statistic for ServingOrder {
    type Found = Vec<OrderEffects>;
    type Run = Then<EachOf<OrderEffects>>;

    const ABOUT: About = About {
        id: "order",
        topic: Topic::Panel,
        title: "Did the order of serving leave its mark?",
        doing: "Looking at positions and at samples before:",
        needs: &[Need::Positions],
        ask: "Look at the order of serving",
        not_defined: "The order of serving can't be looked at",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::SERVING_ORDER],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("order"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let each = EachOf::attributes(Arc::clone(&given.study), order_effects_on);
        Ok(Then::new(each, |found| serving_order::adjust_over_attributes(found)))
    }

    fn conclusion(given: &Given, found: &Vec<OrderEffects>) -> Option<String> {
        tables::panel::conclusions::serving_order(found, given.analysis.alpha)
    }

    fn tables(given: &Given, found: &Vec<OrderEffects>) -> Vec<Table> {
        vec![tables::panel::serving_order(&given.analysis, found)]
    }
}

impl Statistic for Labels {
    type Found = Vec<LabelEffect>;
    type Run = AtOnce<Vec<LabelEffect>>;

    const ABOUT: About = About {
        id: "labels",
        topic: Topic::Panel,
        title: "What did labels do?",
        doing: "Comparing the labels:",
        needs: &[],
        ask: "Compare the labels",
        not_defined: "Labels can't be compared",
        cost: Cost::Quick,
        rests_on: RestsOn::Settings,
        names_assessors: false,
        help: &[&help::LABELS],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("labels"));

    fn start(given: &Given) -> Defined<Self::Run> {
        let study = Arc::clone(&given.study);
        Ok(AtOnce::new(move || label_effects(&study)))
    }

    fn conclusion(given: &Given, found: &Vec<LabelEffect>) -> Option<String> {
        tables::panel::conclusions::labels(found, given.analysis.alpha)
    }

    fn tables(given: &Given, found: &Vec<LabelEffect>) -> Vec<Table> {
        vec![tables::panel::labels(&given.analysis, found)]
    }
}

impl Statistic for LineUse {
    type Found = Vec<Defined<ScaleUse>>;
    type Run = EachOf<Defined<ScaleUse>>;

    const ABOUT: About = About {
        id: "line-use",
        topic: Topic::Panel,
        title: "Who stretches or squeezes the line?",
        doing: "Comparing how the line is used:",
        needs: &[],
        ask: "Compare how the line is used",
        not_defined: "There is nothing to compare",
        cost: Cost::Pass,
        rests_on: RestsOn::Settings,
        names_assessors: true,
        help: &[&help::LINE_USE],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::EachAttribute("scale_use"));

    fn start(given: &Given) -> Defined<Self::Run> {
        Ok(EachOf::attributes(Arc::clone(&given.study), scale_use_on))
    }

    fn conclusion(_given: &Given, found: &Vec<Defined<ScaleUse>>) -> Option<String> {
        tables::panel::conclusions::line_use(found)
    }

    fn tables(given: &Given, found: &Vec<Defined<ScaleUse>>) -> Vec<Table> {
        vec![tables::panel::line_use(&given.analysis.assessors, &given.attribute_names(), found)]
    }

    fn json(_given: &Given, found: Defined<&Vec<Defined<ScaleUse>>>) -> Vec<JsonPart> {
        each(Self::JSON, found.map_or_else(|_| Vec::new(), |found| found.iter().map(plain_json).collect()))
    }
}
