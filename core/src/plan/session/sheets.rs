//! Sheets for the day as tables: kitchen, preparation, cup labels, key. A printed or saved sheet is made from these. It
//! knows nothing of ballots.

use crate::plan::brief::attributes::ListedAttribute;
use crate::plan::brief::study_brief::PlannedSample;
use crate::plan::orders::order_plan::{OrderRow, SessionKey};
use crate::plan::session::preparations::WHY_SEPARATE;
use crate::plan::sheet_table::{SheetTable, TICK_BOX};
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use std::collections::BTreeMap;

/// What the kitchen serves, by position: who gets which code. Samples are not named on it.
pub fn kitchen_sheet(plan: &TastingPlan, session: u32) -> SheetTable {
    let mut servings = servings_in(plan, session);
    servings.sort_by_key(|serving| (serving.position, serving.assessor));
    let preparation = plan.preparation_in(session);
    let line = |serving: PlannedServing| {
        let name = plan.assessors[serving.assessor].clone();
        let mut cells = vec![session.to_string(), serving.position.to_string(), name, serving.code];
        cells.extend(preparation.map(|number| number.to_string()));
        cells.push(String::new());
        cells
    };
    let warm_up = plan.orders.key(session).and_then(|key| key.warm_up_code.clone());
    let mut notes = vec!["Serve position by position. Tick each cup when it has been handed over.".to_owned()];
    notes.extend(
        warm_up.map(|code| format!("Before position 1 everybody gets the warm-up cup {code}; it is not scored.")),
    );
    notes.extend(preparation.map(served_from));
    let mut columns = texts(&["session", "position", "assessor", "code"]);
    columns.extend(preparation.map(|_| "preparation".to_owned()));
    columns.push("served".to_owned());
    SheetTable {
        title: format!("Serving sheet by position, session {session}"),
        confidential: false,
        notes,
        columns,
        rows: servings.into_iter().map(line).collect(),
    }
}

/// The same as a grid for who serves: one line an assessor, one column a position, in each cell a box to tick and the code.
pub fn serving_grid(plan: &TastingPlan, session: u32) -> SheetTable {
    let list = kitchen_sheet(plan, session);
    let servings = servings_in(plan, session);
    let last = servings.iter().map(|serving| serving.position).max().unwrap_or(0);
    let warm_up = plan.orders.key(session).and_then(|key| key.warm_up_code.clone());
    let mut lines: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for serving in &servings {
        let cells = lines.entry(serving.assessor).or_insert_with(|| vec![String::new(); last as usize]);
        cells[serving.position as usize - 1] = format!("{TICK_BOX} {}", serving.code);
    }
    let line = |(assessor, cups): (usize, Vec<String>)| {
        let first = [session.to_string(), plan.assessors[assessor].clone()];
        let warm_up = warm_up.iter().map(|code| format!("{TICK_BOX} {code}"));
        first.into_iter().chain(warm_up).chain(cups).collect()
    };
    let mut columns = texts(&["session", "assessor"]);
    columns.extend(warm_up.as_ref().map(|_| "warm-up".to_owned()));
    columns.extend((1..=last).map(|position| format!("cup {position}")));
    let (notes, rows) = (list.notes, lines.into_iter().map(line).collect());
    SheetTable { title: format!("Serving sheet, session {session}"), confidential: false, notes, columns, rows }
}

/// The cups of one session in the order of the ballot.
fn servings_in(plan: &TastingPlan, session: u32) -> Vec<PlannedServing> {
    plan.servings().into_iter().filter(|serving| serving.session == session).collect()
}

/// What the kitchen prepares: which sample under which code, how many cups. Names the samples.
pub fn preparation_sheet(plan: &TastingPlan, session: u32) -> SheetTable {
    let mut cups: BTreeMap<usize, usize> = BTreeMap::new();
    servings_in(plan, session).iter().for_each(|serving| *cups.entry(serving.sample).or_insert(0) += 1);
    let key = plan.orders.key(session);
    let code_of = |sample: usize| key.and_then(|key| key.codes.get(sample).cloned()).unwrap_or_default();
    let mut rows: Vec<Vec<String>> =
        cups.iter().map(|(sample, count)| prepared(&plan.brief.samples[*sample], code_of(*sample), *count)).collect();
    if let (Some(warm_up), Some(code)) = (&plan.brief.warm_up, key.and_then(|key| key.warm_up_code.clone())) {
        let people = plan.orders.rows.iter().filter(|row| row.session == session).count();
        rows.push(prepared(warm_up, code, people));
    }
    let mut notes = vec!["Names the samples: for the kitchen only, never in the tasting room.".to_owned()];
    let mut columns = texts(&["code", "sample", "lot", "base", "dose", "cups", "allergens", "note"]);
    if let Some(number) = plan.preparation_in(session) {
        notes.extend([served_from(number), WHY_SEPARATE.to_owned()]);
        columns.push("preparation".to_owned());
        rows.iter_mut().for_each(|row| row.push(number.to_string()));
    }
    SheetTable { title: format!("Preparation sheet, session {session}"), confidential: true, notes, columns, rows }
}

fn served_from(preparation: u32) -> String {
    format!("All cups of this session come from preparation {preparation} of each sample.")
}

/// One label a cup, in the order in which cups are set out. Samples are not named.
pub fn cup_labels(plan: &TastingPlan, session: u32) -> SheetTable {
    let preparation = plan.preparation_in(session);
    let line = |serving: PlannedServing| {
        let assessor = plan.assessors[serving.assessor].clone();
        let mut cells = vec![serving.code, assessor, session.to_string(), serving.position.to_string()];
        cells.extend(preparation.map(|number| number.to_string()));
        cells
    };
    let mut columns = texts(&["code", "assessor", "session", "position"]);
    columns.extend(preparation.map(|_| "preparation".to_owned()));
    SheetTable {
        title: format!("Cup labels, session {session}"),
        confidential: false,
        notes: vec!["The code large, the rest small. Stick labels on cups before filling.".to_owned()],
        columns,
        rows: servings_in(plan, session).into_iter().map(line).collect(),
    }
}

/// Who gets which codes in which order, one line an assessor and session. Samples are not named.
pub fn orders_sheet(plan: &TastingPlan) -> SheetTable {
    let most = plan.orders.rows.iter().map(|row| row.order.len()).max().unwrap_or(0);
    let row = |row: &OrderRow| {
        let mut cells = vec![row.session.to_string(), row.replicate.to_string(), plan.assessors[row.assessor].clone()];
        cells.extend((0..most).map(|cup| row.codes.get(cup).cloned().unwrap_or_default()));
        cells.push(row.served.to_string());
        cells
    };
    let mut columns = texts(&["session", "replicate", "assessor"]);
    columns.extend((1..=most).map(|cup| format!("cup {cup}")));
    columns.push("served".to_owned());
    SheetTable {
        title: "Serving orders".to_owned(),
        confidential: false,
        notes: vec!["Codes in the order in which each assessor gets them.".to_owned()],
        columns,
        rows: plan.orders.rows.iter().map(row).collect(),
    }
}

/// How often each sample stands in each position, over all sessions.
pub fn position_sheet(plan: &TastingPlan) -> SheetTable {
    let counts = &plan.orders.balance.position_counts;
    let positions = counts.first().map_or(0, Vec::len);
    let mut columns = texts(&["sample"]);
    columns.extend((1..=positions).map(|position| format!("cup {position}")));
    counted(plan, "How often each sample stands where", columns, counts)
}

/// How often each sample follows each other one directly, over all sessions.
pub fn predecessor_sheet(plan: &TastingPlan) -> SheetTable {
    let mut columns = texts(&["before / after"]);
    columns.extend(plan.brief.samples.iter().map(|sample| sample.name.clone()));
    counted(plan, "How often each sample follows which", columns, &plan.orders.balance.predecessor_counts)
}

/// The attribute list with definitions and references.
pub fn words_sheet(plan: &TastingPlan) -> SheetTable {
    let row = |line: &ListedAttribute| {
        let ends = format!("{} \u{2013} {}", line.low_end, line.high_end);
        vec![line.name.clone(), line.definition.clone(), ends, line.reference.clone()]
    };
    SheetTable {
        title: "Attribute list".to_owned(),
        confidential: false,
        notes: vec![format!("{}, version {}.", plan.attributes.name, plan.attributes.version)],
        columns: texts(&["attribute", "definition", "ends of the line", "reference"]),
        rows: plan.attributes.attributes.iter().map(row).collect(),
    }
}

fn counted(plan: &TastingPlan, title: &str, columns: Vec<String>, counts: &[Vec<u32>]) -> SheetTable {
    let line = |(sample, counts): (&PlannedSample, &Vec<u32>)| {
        std::iter::once(sample.name.clone()).chain(counts.iter().map(u32::to_string)).collect()
    };
    SheetTable {
        title: title.to_owned(),
        confidential: false,
        notes: Vec::new(),
        columns,
        rows: plan.brief.samples.iter().zip(counts).map(line).collect(),
    }
}

/// Which code is which sample, over the whole study.
pub fn key_sheet(plan: &TastingPlan) -> SheetTable {
    SheetTable {
        title: "Key of the study".to_owned(),
        confidential: true,
        notes: vec![
            "CONFIDENTIAL: keep away from assessors and servers until all scores are in.".to_owned(),
            format!("Seed {}, made {}.", plan.orders.request.seed, plan.made_at),
        ],
        columns: texts(&["session", "replicate", "code", "sample", "lot"]),
        rows: plan.orders.keys.iter().flat_map(|key| key_of_session(plan, key)).collect(),
    }
}

/// One line a sample, and one for the warm-up cup.
fn key_of_session(plan: &TastingPlan, key: &SessionKey) -> Vec<Vec<String>> {
    let line = |code: &String, name: &str, lot: &str| {
        vec![key.session.to_string(), key.replicate.to_string(), code.clone(), name.to_owned(), lot.to_owned()]
    };
    let samples = plan.brief.samples.iter().zip(&key.codes);
    let mut rows: Vec<Vec<String>> = samples.map(|(sample, code)| line(code, &sample.name, &sample.lot)).collect();
    if let (Some(code), Some(warm_up)) = (&key.warm_up_code, &plan.brief.warm_up) {
        rows.push(line(code, &format!("{} (warm-up, not scored)", warm_up.name), &warm_up.lot));
    }
    rows
}

fn prepared(sample: &PlannedSample, code: String, cups: usize) -> Vec<String> {
    vec![
        code,
        sample.name.clone(),
        sample.lot.clone(),
        sample.base.clone(),
        sample.dose.clone(),
        cups.to_string(),
        sample.allergens.clone(),
        sample.note.clone(),
    ]
}

fn texts(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}
