//! The whole plan of a study as one document: brief, attributes, people, sessions, orders, codes, seed, and the study
//! that scores will land in. It knows nothing of ballots' looks or of results.
//!
//! Form of the file, version 3: `{"format": "likeness-plan", "version": 3, "program": "0.1.0", "plan": {...}}`, where
//! `plan` is `TastingPlan` as serde writes it; assessors and samples in its orders are indices from 0 into `assessors`
//! and `brief.samples`. It holds what the leader gave, what was drawn by seed, and what happened; the codes of each row,
//! the counts and the sentences about them follow from these and are computed on opening. Version 1 held them too;
//! version 2 had no profile margin (the usual one stands in), no preparations (one), and fewer origins of margins. Both
//! still open. A change that older programs can't read, or would lose, raises `PLAN_FILE_VERSION`.

use super::PlanError;
use super::ballot::geometry::Paper;
use super::ballot::printed_paper::PrintedPaper;
use super::brief::attribute_checks::folded;
use super::brief::attributes::AttributeList;
use super::brief::study_brief::Brief;
use super::orders::order_plan::{Coverage, LateChange, OrderPlan, OrderRequest, OrderRow, SessionKey};
use super::orders::serving_orders::plan_orders;
use super::session::session_record::RecordEntry;
use crate::numeric::hash::fnv_1a;
use crate::study::{LogEntry, LogKind, Scale};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Value of the field `format`.
pub const PLAN_FILE_FORMAT: &str = "likeness-plan";
/// Newest version that this program writes and opens.
pub const PLAN_FILE_VERSION: u32 = 3;

/// What a plan is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRequest {
    pub brief: Brief,
    pub attributes: AttributeList,
    pub assessors: Vec<String>,
    pub scale: Scale,
    pub replicates: usize,
    /// How many samples a session bears; `None` for all.
    pub samples_per_session: Option<usize>,
    pub coverage: Coverage,
    /// Whether the target is served in each session where sessions don't hold all samples.
    pub target_in_each_session: bool,
    pub used_codes: Vec<String>,
    pub seed: u64,
    /// Local date and time as given by the caller.
    pub made_at: String,
}

/// One sitting of the panel.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlannedSession {
    /// From 1.
    pub number: u32,
    pub replicate: u32,
    /// Date and time in the leader's words; empty until it is set.
    pub when: String,
    pub place: String,
}

/// The plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TastingPlan {
    pub brief: Brief,
    pub attributes: AttributeList,
    pub assessors: Vec<String>,
    pub scale: Scale,
    pub sessions: Vec<PlannedSession>,
    pub orders: OrderPlan,
    pub made_at: String,
    /// The sheet that its ballots are meant for, where that was settled. An older program asks at printing and loses no
    /// more than the answer, so the field raises no version.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<Paper>,
    /// Papers that were printed. An older program loses no more than the warning when they are out of date.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub printed: Vec<PrintedPaper>,
    /// What happened at the tasting.
    #[serde(default)]
    pub record: Vec<RecordEntry>,
    #[serde(default)]
    pub log: Vec<LogEntry>,
}

/// One cup on its way to one assessor: one page set of the ballot, one serving of the study.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlannedServing {
    /// Index into `TastingPlan::assessors`.
    pub assessor: usize,
    /// Index into `brief.samples`.
    pub sample: usize,
    pub replicate: u32,
    pub session: u32,
    /// From 1.
    pub position: u32,
    pub code: String,
}

/// Lays out a whole plan.
///
/// # Errors
/// Names that are missing or there twice; counts that can't be laid out; more codes than three digits carry.
pub fn make_plan(request: PlanRequest) -> Result<TastingPlan, PlanError> {
    check_names(&request)?;
    check_preparations(&request)?;
    let orders = plan_orders(&order_request(&request))?;
    let session = |key: &SessionKey| PlannedSession {
        number: key.session,
        replicate: key.replicate,
        ..PlannedSession::default()
    };
    Ok(TastingPlan {
        brief: request.brief,
        attributes: request.attributes,
        assessors: request.assessors,
        scale: request.scale,
        sessions: orders.keys.iter().map(session).collect(),
        log: vec![LogEntry::new(&request.made_at, LogKind::Planned, format!("Planned with seed {}.", request.seed))],
        orders,
        made_at: request.made_at,
        paper: None,
        printed: Vec::new(),
        record: Vec::new(),
    })
}

fn order_request(request: &PlanRequest) -> OrderRequest {
    OrderRequest {
        samples: request.brief.samples.len(),
        assessors: request.assessors.len(),
        replicates: request.replicates,
        samples_per_session: request.samples_per_session,
        coverage: request.coverage,
        target_in_each_session: request.brief.target().filter(|_| request.target_in_each_session),
        warm_up: request.brief.warm_up.is_some(),
        used_codes: request.used_codes.clone(),
        seed: request.seed,
    }
}

impl TastingPlan {
    /// All cups in ballot order: by session, assessor, position. Warm-up cups are not among them.
    pub fn servings(&self) -> Vec<PlannedServing> {
        let cups = |row: &OrderRow| {
            let (assessor, replicate, session) = (row.assessor, row.replicate, row.session);
            let cup = move |(position, (sample, code)): (u32, (&usize, &String))| PlannedServing {
                assessor,
                sample: *sample,
                replicate,
                session,
                position,
                code: code.clone(),
            };
            (1..).zip(row.order.iter().zip(&row.codes)).map(cup).collect::<Vec<_>>()
        };
        self.orders.rows.iter().flat_map(cups).collect()
    }

    /// The cup that an assessor got under a code; codes are never used twice in a study.
    pub fn serving_of_code(&self, assessor: usize, code: &str) -> Option<PlannedServing> {
        self.servings().into_iter().find(|serving| serving.assessor == assessor && serving.code == code)
    }

    /// A short name that tells this plan's ballots from those of any other: letters and digits only.
    pub fn study_id(&self) -> String {
        let text = format!("{}\n{}\n{}", self.brief.title, self.made_at, self.orders.request.seed);
        let hash = fnv_1a(text.as_bytes());
        format!("{:06X}", (hash >> 40) ^ (hash & 0x00ff_ffff))
    }

    /// The plan without an assessor from a session on; what was served stays.
    ///
    /// # Errors
    /// Nobody of that name, or no cups from that session on.
    pub fn with_absent(&self, name: &str, from_session: u32, seed: u64, when: &str) -> Result<TastingPlan, PlanError> {
        let assessor = self.assessor_index(name).ok_or_else(|| PlanError::NoSuchAssessor { name: name.to_owned() })?;
        let what = format!("{name} is absent from session {from_session} on; the rest was laid out anew, seed {seed}.");
        self.changed(&LateChange::Absent { assessor, from_session }, seed, LogEntry::new(when, LogKind::Planned, what))
    }

    /// The plan with a new assessor, or one who comes back, from a session on; what was served stays.
    ///
    /// # Errors
    /// No name, somebody who takes part already, no such session.
    pub fn with_added(&self, name: &str, from_session: u32, seed: u64, when: &str) -> Result<TastingPlan, PlanError> {
        if name.trim().is_empty() {
            return Err(nameless("assessor"));
        }
        let mut plan = self.clone();
        let assessor = self.assessor_index(name).unwrap_or_else(|| {
            plan.assessors.push(name.trim().to_owned());
            plan.assessors.len() - 1
        });
        let what =
            format!("{name} takes part from session {from_session} on; the rest was laid out anew, seed {seed}.");
        plan.changed(&LateChange::Added { assessor, from_session }, seed, LogEntry::new(when, LogKind::Planned, what))
    }

    /// The plan as the text of a plan file, the same bytes for the same plan.
    pub fn to_json(&self) -> String {
        #[derive(Serialize)]
        struct PlanFile<'a> {
            format: &'static str,
            version: u32,
            program: &'static str,
            plan: &'a TastingPlan,
        }
        let file = PlanFile {
            format: PLAN_FILE_FORMAT,
            version: PLAN_FILE_VERSION,
            program: env!("CARGO_PKG_VERSION"),
            plan: self,
        };
        // Strings, numbers and lists can't fail to be written; an empty text would be refused on opening.
        serde_json::to_string(&file).unwrap_or_default()
    }

    /// Opens the text of a plan file, and computes what follows from the rest.
    ///
    /// # Errors
    /// Text that is no plan file, a file of a newer program, a damaged file with the place of the damage.
    pub fn from_json(text: &str) -> Result<TastingPlan, PlanError> {
        #[derive(Deserialize)]
        struct Body {
            plan: TastingPlan,
        }
        check_head(text)?;
        let body: Body = serde_json::from_str(text).map_err(|error| damaged("The plan is damaged", &error))?;
        let mut plan = body.plan;
        plan.check_indices()?;
        plan.orders = plan.orders.with_counts();
        Ok(plan)
    }

    fn assessor_index(&self, name: &str) -> Option<usize> {
        self.assessors.iter().position(|known| folded(known) == folded(name))
    }

    fn changed(&self, change: &LateChange, seed: u64, entry: LogEntry) -> Result<TastingPlan, PlanError> {
        let orders = self.orders.with_late_change(change, seed)?;
        let mut plan = TastingPlan { orders, ..self.clone() };
        plan.log.push(entry);
        Ok(plan)
    }

    /// A file may be edited by hand: nothing in it may point outside its own lists, and a row that says its codes, as in
    /// version 1, must say those of the key.
    fn check_indices(&self) -> Result<(), PlanError> {
        let (samples, assessors) = (self.brief.samples.len(), self.assessors.len());
        let keys_fit = self.orders.keys.iter().all(|key| key.codes.len() == samples);
        let codes_fit =
            |row: &OrderRow| self.orders.codes_of(row).is_some_and(|codes| row.codes.is_empty() || row.codes == codes);
        let row_fits = |row: &OrderRow| {
            row.assessor < assessors
                && row.order.iter().all(|sample| *sample < samples)
                && row.order.iter().collect::<BTreeSet<_>>().len() == row.order.len()
                && row.served <= row.order.len()
                && codes_fit(row)
        };
        let counts_fit = self.orders.request.samples == samples && self.orders.request.assessors == assessors;
        if keys_fit && counts_fit && self.orders.rows.iter().all(row_fits) && self.orders.request.check().is_ok() {
            return Ok(());
        }
        let what = "The orders of the plan don't fit its samples and assessors.".to_owned();
        let hint = "The file was changed outside this program; open an older copy.".to_owned();
        Err(PlanError::Incomplete { what, hint })
    }
}

/// What a session is called in the study.
pub fn session_name(number: u32) -> String {
    format!("Session {number}")
}

/// Whether a text is a plan file that this program can read.
fn check_head(text: &str) -> Result<(), PlanError> {
    #[derive(Deserialize)]
    struct Head {
        format: String,
        version: u32,
    }
    let head: Head = serde_json::from_str(text).map_err(|error| damaged("The file is no plan", &error))?;
    let Head { format, version } = head;
    if format != PLAN_FILE_FORMAT {
        let what = format!("The file calls itself “{format}” and not “{PLAN_FILE_FORMAT}”.");
        return Err(PlanError::Incomplete { what, hint: "Open a plan that was saved here.".to_owned() });
    }
    if version > PLAN_FILE_VERSION {
        let what = format!("The plan was saved in version {version} and this program reads up to {PLAN_FILE_VERSION}.");
        return Err(PlanError::Incomplete { what, hint: "Open it with a newer program.".to_owned() });
    }
    Ok(())
}

fn check_preparations(request: &PlanRequest) -> Result<(), PlanError> {
    let (preparations, replicates) = (request.brief.preparations, request.replicates);
    if (1..=replicates.max(1)).contains(&preparations) {
        return Ok(());
    }
    Err(PlanError::Incomplete {
        what: format!("{preparations} preparations of each sample don't fit {replicates} replicates."),
        hint: "Give one preparation, or as many as replicates at most: a replicate is served from one.".to_owned(),
    })
}

fn check_names(request: &PlanRequest) -> Result<(), PlanError> {
    let samples: Vec<&str> = request.brief.samples.iter().map(|sample| sample.name.as_str()).collect();
    let attributes: Vec<&str> = request.attributes.attributes.iter().map(|line| line.name.as_str()).collect();
    let assessors: Vec<&str> = request.assessors.iter().map(String::as_str).collect();
    if attributes.is_empty() {
        return Err(PlanError::Incomplete {
            what: "The plan has no attributes.".to_owned(),
            hint: "Add the words the panel uses.".to_owned(),
        });
    }
    [("sample", samples), ("attribute", attributes), ("assessor", assessors)]
        .into_iter()
        .try_for_each(|(of, names)| check_apart(of, &names))
}

/// Whether names are there and all different.
fn check_apart(of: &'static str, names: &[&str]) -> Result<(), PlanError> {
    let mut seen = BTreeSet::new();
    for name in names {
        if name.trim().is_empty() {
            return Err(nameless(of));
        }
        if !seen.insert(folded(name)) {
            return Err(PlanError::NameTwice { of, name: (*name).to_owned() });
        }
    }
    Ok(())
}

fn nameless(of: &str) -> PlanError {
    PlanError::Incomplete { what: format!("One {of} has no name."), hint: "Name it or take it out.".to_owned() }
}

fn damaged(what: &str, error: &serde_json::Error) -> PlanError {
    PlanError::Incomplete {
        what: format!("{what} (line {}, column {}: {error}).", error.line(), error.column()),
        hint: "Open another copy of the file.".to_owned(),
    }
}
