//! The checklist of a session: what to see to before, during and after a tasting. Text only.
//!
//! Common practice, written down from memory; the general guidance for rooms is ISO 8589, for assessors ISO 8586, for
//! profiles ISO 13299. Local rules and the responsible professional decide.

use crate::plan::sheet_table::{SheetTable, TICK_BOX};
use crate::plan::tasting_plan::TastingPlan;
use std::collections::BTreeSet;

/// One thing to see to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChecklistItem {
    pub area: &'static str,
    pub item: &'static str,
    pub because: &'static str,
}

/// The sentence that stands above the list.
pub const CHECKLIST_CAUTION: &str = "This list reminds and decides nothing: local rules on food, work, chemicals and \
    personal data, and the professional responsible for the tasting, come first.";

/// The checklist for one session of a plan, with what the plan itself says about allergens.
pub fn checklist(plan: &TastingPlan, session: u32) -> SheetTable {
    let row = |item: &ChecklistItem| {
        vec![item.area.to_owned(), item.item.to_owned(), item.because.to_owned(), TICK_BOX.to_owned()]
    };
    let mut rows: Vec<Vec<String>> = CHECKLIST.iter().map(row).collect();
    rows.push(["samples", &preparations_in_words(plan, session), POTS, TICK_BOX].map(str::to_owned).to_vec());
    let because = "an assessor may not know what is in a cup";
    rows.push(["people", &allergens_in_words(plan), because, TICK_BOX].map(str::to_owned).to_vec());
    SheetTable {
        title: format!("Checklist, session {session}"),
        confidential: false,
        notes: vec![CHECKLIST_CAUTION.to_owned()],
        columns: ["area", "see to", "because", "done"].map(str::to_owned).to_vec(),
        rows,
    }
}

/// What a pot of its own is good for.
const POTS: &str = "what sets one pot apart lies in every assessor's difference alike and in no interval";

fn preparations_in_words(plan: &TastingPlan, session: u32) -> String {
    match plan.preparation_in(session) {
        Some(number) => {
            format!("Preparation {number} of each sample was made anew, from weighing on, for this session.")
        }
        None => "One preparation of each sample serves all replicates: its making is written down.".to_owned(),
    }
}

fn allergens_in_words(plan: &TastingPlan) -> String {
    let samples = plan.brief.samples.iter().chain(&plan.brief.warm_up);
    let declared: BTreeSet<&str> =
        samples.map(|sample| sample.allergens.trim()).filter(|text| !text.is_empty()).collect();
    if declared.is_empty() {
        return "The plan names no allergens: ask the maker of each sample before serving.".to_owned();
    }
    format!("Allergens named in the plan: {}.", declared.into_iter().collect::<Vec<_>>().join("; "))
}

/// In the order of the day.
pub const CHECKLIST: &[ChecklistItem] = &[
    item("people", "Each assessor has given consent and knows that they may stop at any time.", "taking part is free"),
    item(
        "people",
        "Each assessor has been asked about allergies, intolerances, pregnancy and medicines since the last session.",
        "what was true last month may not be true today",
    ),
    item(
        "people",
        "Nobody has a cold, has smoked, drunk coffee or used perfume within the last hour.",
        "smell is dulled or masked",
    ),
    item(
        "samples",
        "Every flavouring is permitted for food here, and its dose in the cup is within what is permitted and customary.",
        "a trial dose can be above what a food may hold",
    ),
    item(
        "samples",
        "Samples that are smelled and not swallowed are marked so, and cups to spit into stand ready.",
        "not all that is tried may be eaten",
    ),
    item(
        "samples",
        "Neat aroma chemicals are opened and diluted under a hood, away from the tasting room, with gloves.",
        "their vapour is strong, can harm and fills the room",
    ),
    item("samples", "Lots, dates and storage of all samples are written down.", "a match is a match of these lots"),
    item(
        "samples",
        "All cups have the same volume and temperature; the temperature is measured and written down.",
        "aroma rises with warmth",
    ),
    item("samples", "Cups are alike and covered until served.", "aroma escapes"),
    item(
        "room",
        "The room is aired, odourless and quiet; the light masks differences of colour where colour isn't asked.",
        "the eye tells the nose what to find",
    ),
    item("room", "Booths are separate; nobody sees another's ballot.", "opinions spread"),
    item("codes", "The key is locked away; servers know codes only.", "a glance can unblind"),
    item(
        "codes",
        "Labels on cups were checked against the serving sheet by a second person.",
        "one swapped cup spoils two scores",
    ),
    item("ballots", "Ballots were printed at 100 %; the check bar measures 100 mm.", "another scale shifts every mark"),
    item("serving", "The warm-up cup comes first where one is planned.", "the first cup is always judged differently"),
    item(
        "serving",
        "Water and unsalted crackers, or the cleanser the panel agreed on, stand ready.",
        "one sample works on into the next",
    ),
    item(
        "serving",
        "The agreed rest is kept between cups, longer after strong or astringent ones.",
        "the mouth needs time",
    ),
    item("serving", "Deviations from the order, spilt cups and late arrivals are noted at once.", "later nobody knows"),
    item(
        "after",
        "Ballots are complete, counted and signed before assessors leave.",
        "a missing mark can still be made",
    ),
    item(
        "after",
        "Names and health data are kept apart from scores, only as long as needed.",
        "they are personal data",
    ),
    item("after", "Leftovers and chemicals are disposed of as the place requires.", "so the place requires"),
];

const fn item(area: &'static str, item: &'static str, because: &'static str) -> ChecklistItem {
    ChecklistItem { area, item, because }
}
