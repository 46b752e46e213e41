//! A plan of orders in sentences. It knows nothing of how orders are found.

use super::order_plan::{OrderPlan, OrderRequest};
use super::williams::williams_rows;
use crate::text::lists::{counted_regular as counted, times};

/// What kind of design this is, one sentence a line.
pub(in crate::plan) fn in_words(plan: &OrderPlan) -> Vec<String> {
    let request = &plan.request;
    let mut lines = Vec::new();
    match &plan.blocks {
        Some(blocks) => lines.push(blocks.in_words.clone()),
        None => lines.push(complete_in_words(request)),
    }
    lines.push(position_in_words(plan.balance.position_spread()));
    lines.push(predecessor_in_words(plan.balance.predecessor_spread()));
    if !plan.late_changes.is_empty() {
        lines.push(format!(
            "{}: what was served stayed as it was, the rest was laid out anew around it.",
            counted(plan.late_changes.len(), "late change")
        ));
    }
    lines.extend(plan.codes_lost.clone());
    lines
}

fn position_in_words(spread: u32) -> String {
    match spread {
        0 => "Each sample stands in each position equally often.".to_owned(),
        1 => "Positions are as even as these numbers allow: no count is more than one above another.".to_owned(),
        _ => format!(
            "Positions are not even: counts differ by up to {spread}. A number of assessors that is a multiple of the \
             number of samples helps."
        ),
    }
}

fn predecessor_in_words(spread: u32) -> String {
    match spread {
        0 => "Each sample follows each other one equally often.".to_owned(),
        1 => "What follows what is as even as these numbers allow: no count is more than one above another.".to_owned(),
        _ => format!(
            "What follows what is not even: counts differ by up to {spread}, so one cup may colour the next more for some \
             samples."
        ),
    }
}

fn complete_in_words(request: &OrderRequest) -> String {
    let rows = williams_rows(request.samples).len();
    let (whole, rest) = (request.assessors / rows, request.assessors % rows);
    let design = format!("Williams design for {} samples ({rows} orders)", request.samples);
    match (whole, rest) {
        (_, 0) => format!("{design}, each order {} in each replicate.", times(whole)),
        (0, _) => format!("{design}, the best-balanced {rest} of them in each replicate."),
        _ => format!("{design}, each order {} in each replicate and the best-balanced {rest} once more.", times(whole)),
    }
}
