//! The brief as a sheet to be signed and filed before anybody tastes: what is asked, of which samples, and what will
//! decide. It knows nothing of orders or results.

use crate::plan::brief::study_brief::{QuestionKind, SampleRole};
use crate::plan::sheet_table::SheetTable;
use crate::plan::tasting_plan::TastingPlan;
use crate::text::numbers::typed;

/// What was decided beforehand, one line each. Names the samples.
pub fn brief_sheet(plan: &TastingPlan) -> SheetTable {
    let brief = &plan.brief;
    let mut rows = vec![
        line("study", &brief.title),
        line("question", &brief.question),
        line("asked by", &brief.asked_by),
        line("kind", kind(brief.kind)),
    ];
    rows.extend(brief.samples.iter().map(|sample| line(role(sample.role), &sample.name)));
    rows.push(line("deciding attributes", &deciding(plan)));
    rows.extend(margins(plan));
    rows.push(line("alpha", &typed(brief.alpha)));
    let sizes = [
        ("assessors", plan.assessors.len().to_string()),
        ("replicates", plan.orders.request.replicates.to_string()),
        ("preparations of each sample", brief.preparations.to_string()),
        ("written", brief.written_at.clone()),
    ];
    rows.extend(sizes.iter().map(|(what, text)| line(what, text)));
    SheetTable {
        title: "Brief".to_owned(),
        confidential: true,
        notes: vec!["Written before anybody tasted. Names the samples: not for assessors and servers.".to_owned()],
        columns: ["what", "decided"].map(str::to_owned).to_vec(),
        rows,
    }
}

/// The margins, where they come from, and the profile margin beside them.
fn margins(plan: &TastingPlan) -> Vec<Vec<String>> {
    let brief = &plan.brief;
    let margin = &brief.margin;
    let mut rows = vec![line("margin", &format!("\u{b1} {} mm", typed(margin.width_mm)))];
    rows.extend(
        margin.by_attribute.iter().map(|(name, width)| line("margin", &format!("{name}: \u{b1} {} mm", typed(*width)))),
    );
    rows.push(line("margin comes from", &margin.origin.in_words()));
    if brief.kind == QuestionKind::Match {
        rows.push(line("profile margin", &brief.profile_margin_in_words()));
    }
    rows
}

fn deciding(plan: &TastingPlan) -> String {
    if plan.brief.deciding.is_empty() { "all".to_owned() } else { plan.brief.deciding.join(", ") }
}

fn kind(kind: QuestionKind) -> &'static str {
    match kind {
        QuestionKind::Difference => "difference",
        QuestionKind::Description => "description",
        QuestionKind::Match => "match",
    }
}

fn role(role: SampleRole) -> &'static str {
    match role {
        SampleRole::Target => "target",
        SampleRole::Candidate => "candidate",
        SampleRole::BlindDuplicate => "target again (blind)",
    }
}

fn line(what: &str, decided: &str) -> Vec<String> {
    vec![what.to_owned(), decided.to_owned()]
}
