//! The part of `likeness power` that tells the chances of the whole verdict, over all deciding attributes at once.

use super::show::because;
use clap::Args;
use likeness_core::run::to_the_end;
use likeness_core::stats::r#match::calibrated::{Chances, Truth};
use likeness_core::stats::r#match::power::{PanelPlan, PlannedTest};
use likeness_core::stats::r#match::verdict_chances::{
    ASSUMED_CORRELATION, CURVE, PlannedVerdict, STUDIES, VerdictChances, VerdictChancesRun,
};
use likeness_core::text::numbers::fixed;

/// What the whole verdict rests on, beside panel and margin.
#[derive(Args)]
pub struct ChancesArguments {
    /// Deciding attributes: with them the chances of the whole verdict are simulated, for 8 to 24 assessors and the
    /// number planned, for a duplicate of the target, one attribute off by 15 and all off by 3 units of the scale.
    #[arg(long, value_name = "K")]
    attributes: Option<usize>,
    /// Profile margin as a share of the margin: 0.7 is 7 mm beside 10.
    #[arg(long, value_name = "SHARE", default_value_t = 0.7, requires = "attributes")]
    profile_share: f64,
    /// Correlation between the differences on any two attributes, 0 to 1. The default is an assumption.
    #[arg(long, value_name = "R", default_value_t = ASSUMED_CORRELATION, requires = "attributes")]
    correlation: f64,
    /// Made-up studies for each truth and number of assessors; the default leaves a standard error of 2 in 100 at most.
    #[arg(long, value_name = "COUNT", default_value_t = STUDIES, requires = "attributes")]
    studies: u64,
    /// Seed of the simulation.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "attributes")]
    seed: u64,
}

/// The most attributes that are simulated.
const MOST_ATTRIBUTES: usize = 200;

/// The chances, where attributes were given.
pub fn chances(
    arguments: &ChancesArguments,
    plan: &PanelPlan,
    test: PlannedTest,
) -> Result<Option<VerdictChances>, String> {
    let Some(attributes) = arguments.attributes else { return Ok(None) };
    if !(1..=MOST_ATTRIBUTES).contains(&attributes) {
        return Err(format!("--attributes {attributes} is not between 1 and {MOST_ATTRIBUTES}."));
    }
    let planned = PlannedVerdict {
        margins_mm: vec![test.margin; attributes],
        sd_of_difference_mm: plan.sd_of_difference(),
        correlation: arguments.correlation,
        profile_share: arguments.profile_share,
        alpha: test.alpha,
        seed: arguments.seed,
        studies: arguments.studies,
    };
    let numbers: Vec<usize> = std::iter::once(plan.assessors).chain(CURVE).collect();
    to_the_end(VerdictChancesRun::start(planned, &numbers)).map(Some).map_err(|reason| because(&reason))
}

/// A sentence for the planned number, a table over all, and what both stand on.
pub fn chances_text(found: &VerdictChances, assessors: usize) -> Vec<String> {
    let planned = &found.planned;
    let mut lines = vec![String::new(), "The whole verdict, times in 100".to_owned()];
    lines.extend(found.with(assessors).map(|at| {
        let said = at.truths.iter().map(said).collect::<Vec<_>>();
        format!("With {assessors} assessors: {}.", said.join("; "))
    }));
    let heads = ["assessors", "truth", "off", "match each", "match profile", "not shown"];
    lines.push(format!(
        "{:>10}  {:<28}{:>5}{:>12}{:>15}{:>11}",
        heads[0], heads[1], heads[2], heads[3], heads[4], heads[5]
    ));
    for at in &found.at {
        let mark = if at.assessors == assessors { "*" } else { " " };
        lines.extend(at.truths.iter().map(|chances| format!("{:>9}{mark}  {}", at.assessors, row(chances))));
    }
    lines.push(format!(
        "* the number planned. {} deciding attributes, profile margin {} of the margins, correlation {} between attributes \
         (an assumption), {} made-up studies each: standard error {} in 100 or less. Seed {}.",
        planned.margins_mm.len(),
        planned.profile_share,
        planned.correlation,
        planned.studies,
        fixed(100.0 * (0.25 / planned.studies as f64).sqrt(), 1),
        planned.seed
    ));
    lines
}

fn said(chances: &Chances) -> String {
    let what = chances.truth.in_words("mm");
    let (matched, off) = (in_100(chances.matched()), in_100(chances.share(chances.off)));
    match chances.truth {
        Truth::OneOff { .. } => format!("{what} is found {off} times in 100"),
        Truth::Duplicate => format!("{what} is shown to match {matched} times in 100 and called off {off} times"),
        Truth::AllOff { .. } => {
            format!("with {what} it is shown to match {matched} times in 100 and called off {off} times")
        }
    }
}

fn row(chances: &Chances) -> String {
    let counts = [chances.off, chances.match_each_attribute, chances.match_profile, chances.not_shown];
    let [off, each, profile, open] = counts.map(|count| in_100(chances.share(count)));
    format!("{:<28}{off:>5}{each:>12}{profile:>15}{open:>11}", chances.truth.in_words("mm"))
}

fn in_100(share: f64) -> String {
    fixed(100.0 * share, 0)
}
