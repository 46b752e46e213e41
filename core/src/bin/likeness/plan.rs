//! `likeness plan`: its parts, and serving orders and codes of a study as text or JSON.

use super::Outcome;
use super::plan_ballots::{self, BallotsArguments};
use super::plan_demo::{self, DemoArguments, TestPageArguments};
use super::plan_draft::{self, DraftArguments};
use clap::{Args, Subcommand};
use likeness_core::plan::orders::serving_orders::{Coverage, OrderPlan, OrderRequest, plan_orders};
use serde_json::{Value, json};

/// Plans a tasting before there are data.
#[derive(Args)]
pub struct PlanArguments {
    #[command(subcommand)]
    part: Part,
}

#[derive(Subcommand)]
enum Part {
    Orders(OrdersArguments),
    Draft(DraftArguments),
    Ballots(BallotsArguments),
    TestPage(TestPageArguments),
    DemoPages(DemoArguments),
}

/// Serving orders and codes.
///
/// Williams designs where a session bears all samples, balanced incomplete blocks where it does not. Samples, assessors,
/// replicates and sessions are numbered from 1. The same seed gives the same plan.
#[derive(Args)]
struct OrdersArguments {
    #[arg(long, value_name = "J")]
    samples: usize,
    #[arg(long, value_name = "I")]
    assessors: usize,
    #[arg(long, value_name = "R", default_value_t = 1)]
    replicates: usize,
    /// Samples that a session bears, a target in each session included [default: all].
    #[arg(long, value_name = "K")]
    per_session: Option<usize>,
    /// Give each assessor all samples over several sessions, not one session with a part of them.
    #[arg(long, requires = "per_session")]
    all_samples: bool,
    /// Number of the sample to serve in each session.
    #[arg(long, value_name = "SAMPLE", requires = "per_session")]
    target: Option<usize>,
    /// Begin each session with a warm-up cup under a code of its own.
    #[arg(long)]
    warm_up: bool,
    /// Codes that were used before in the study, separated by commas.
    #[arg(long, value_name = "CODES", value_delimiter = ',')]
    used_codes: Vec<String>,
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &PlanArguments) -> Outcome {
    match &arguments.part {
        Part::Orders(orders) => run_orders(orders),
        Part::Draft(draft) => plan_draft::run(draft),
        Part::Ballots(ballots) => plan_ballots::run(ballots),
        Part::TestPage(page) => plan_demo::test_page(page),
        Part::DemoPages(demo) => plan_demo::demo_pages_in(demo),
    }
}

fn run_orders(orders: &OrdersArguments) -> Outcome {
    let plan = plan_orders(&request(orders)?).map_err(|error| error.to_string())?;
    if orders.json {
        return serde_json::to_string_pretty(&plan_json(&plan)).map_err(|error| error.to_string());
    }
    Ok(plan_text(&plan))
}

fn request(orders: &OrdersArguments) -> Result<OrderRequest, String> {
    let target = match orders.target {
        Some(number) => {
            let index = number.checked_sub(1).ok_or("There is no sample 0. Samples are numbered from 1.")?;
            Some(index)
        }
        None => None,
    };
    Ok(OrderRequest {
        samples: orders.samples,
        assessors: orders.assessors,
        replicates: orders.replicates,
        samples_per_session: orders.per_session,
        coverage: if orders.all_samples { Coverage::AllSamples } else { Coverage::OneSession },
        target_in_each_session: target,
        warm_up: orders.warm_up,
        used_codes: orders.used_codes.clone(),
        seed: orders.seed,
    })
}

/// `position_counts` has one line a sample and one column a position; `predecessor_counts` one line the sample before
/// and one column the sample after.
fn plan_json(plan: &OrderPlan) -> Value {
    let rows: Vec<Value> = plan
        .rows
        .iter()
        .map(|row| {
            json!({
                "assessor": row.assessor + 1,
                "replicate": row.replicate,
                "session": row.session,
                "order": row.order.iter().map(|sample| sample + 1).collect::<Vec<_>>(),
                "codes": row.codes,
            })
        })
        .collect();
    let keys: Vec<Value> = plan
        .keys
        .iter()
        .map(|key| {
            json!({
                "session": key.session,
                "replicate": key.replicate,
                "codes": key.codes,
                "warm_up_code": key.warm_up_code,
            })
        })
        .collect();
    json!({
        "samples": plan.request.samples,
        "assessors": plan.request.assessors,
        "replicates": plan.request.replicates,
        "seed": plan.request.seed,
        "rows": rows,
        "position_counts": plan.balance.position_counts,
        "predecessor_counts": plan.balance.predecessor_counts,
        "by_replicate": plan.balance_by_replicate,
        "key": keys,
        "codes_check_themselves": plan.codes_check_themselves,
        "concurrence_counts": plan.blocks.as_ref().map(|blocks| &blocks.concurrence_counts),
        "in_words": plan.in_words,
    })
}

fn plan_text(plan: &OrderPlan) -> String {
    let mut lines = plan.in_words.clone();
    lines.push(String::new());
    lines.push("session  replicate  assessor  order (sample:code)".to_owned());
    for row in &plan.rows {
        let cups: Vec<String> =
            row.order.iter().zip(&row.codes).map(|(sample, code)| format!("{}:{code}", sample + 1)).collect();
        lines.push(format!("{:>7}  {:>9}  {:>8}  {}", row.session, row.replicate, row.assessor + 1, cups.join("  ")));
    }
    lines.push(String::new());
    lines.push("times in each position (a line a sample)".to_owned());
    lines.extend(table(&plan.balance.position_counts));
    lines.push(String::new());
    lines.push("times served after another (a line the sample before, a column the sample after)".to_owned());
    lines.extend(table(&plan.balance.predecessor_counts));
    let warm_ups: Vec<String> = plan
        .keys
        .iter()
        .filter_map(|key| key.warm_up_code.as_ref().map(|code| format!("session {}: {code}", key.session)))
        .collect();
    if !warm_ups.is_empty() {
        lines.push(String::new());
        lines.push(format!("warm-up codes: {}", warm_ups.join(", ")));
    }
    lines.join("\n")
}

fn table(counts: &[Vec<u32>]) -> Vec<String> {
    let line = |(index, cells): (usize, &Vec<u32>)| {
        let cells: Vec<String> = cells.iter().map(|cell| format!("{cell:>4}")).collect();
        format!("{:>4} {}", index + 1, cells.join(""))
    };
    counts.iter().enumerate().map(line).collect()
}
