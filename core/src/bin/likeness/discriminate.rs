//! `likeness discriminate`: triangle, duo-trio, two cups, preference; and how many judgements a test needs.

use super::Outcome;
use super::show::{because, defined_line, json_text};
use clap::{Args, ValueEnum};
use likeness_core::stats::tests::discrimination::{
    DiscriminationOptions, DiscriminationResult, DiscriminationTest, RequiredNumber, evaluate, required_number,
};
use likeness_core::text::numbers::{fixed, p_value};
use likeness_core::text::plain_json::plain_json;

/// Exact tests on counts of right answers, or the number of judgements that a test needs.
///
/// Give --n and --correct to judge a result; give --power and --distinguishers to plan a test.
#[derive(Args)]
pub struct DiscriminateArguments {
    #[arg(long, value_enum)]
    test: TestName,
    /// Judgements made, one a person: repeated judgements of one person are not independent.
    #[arg(long, requires = "correct")]
    n: Option<u64>,
    /// Right answers; in paired and preference tests, answers for one of the two samples.
    #[arg(long, requires = "n")]
    correct: Option<u64>,
    /// Chance of claiming a difference that is not there.
    #[arg(long, default_value_t = 0.05)]
    alpha: f64,
    /// Chance of claiming similarity that is not there.
    #[arg(long, default_value_t = 0.05)]
    beta: f64,
    /// Share of people who may be able to tell and the samples still count as similar; when planning, the share to find.
    #[arg(long, value_name = "SHARE", default_value_t = 0.3)]
    distinguishers: f64,
    /// Plan: the number of judgements that finds this share of distinguishers with this chance.
    #[arg(long, value_name = "CHANCE", conflicts_with = "n")]
    power: Option<f64>,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum TestName {
    /// Three cups, one is different.
    Triangle,
    /// A reference and two cups, one is the reference.
    DuoTrio,
    /// Two cups, which has more of a character, the right answer known: one-sided.
    #[value(name = "two-afc", alias = "2-afc")]
    TwoAfc,
    /// Two cups, which has more of a character, no right answer known: two-sided.
    Paired,
    /// Two cups, which is preferred: two-sided.
    Preference,
}

impl From<TestName> for DiscriminationTest {
    fn from(name: TestName) -> Self {
        match name {
            TestName::Triangle => DiscriminationTest::Triangle,
            TestName::DuoTrio => DiscriminationTest::DuoTrio,
            TestName::TwoAfc => DiscriminationTest::TwoAfc,
            TestName::Paired => DiscriminationTest::Paired,
            TestName::Preference => DiscriminationTest::Preference,
        }
    }
}

pub fn run(arguments: &DiscriminateArguments) -> Outcome {
    let test = arguments.test.into();
    if let Some(power) = arguments.power {
        let needed = required_number(test, arguments.alpha, power, arguments.distinguishers)
            .map_err(|reason| because(&reason))?;
        return if arguments.json { json_text(&plain_json(&needed)) } else { Ok(planned_text(&needed, arguments)) };
    }
    let (Some(n), Some(correct)) = (arguments.n, arguments.correct) else {
        return Err("Give --n and --correct to judge a result, or --power to plan a test.".to_owned());
    };
    let options = DiscriminationOptions {
        alpha: arguments.alpha,
        beta: arguments.beta,
        distinguishers_allowed: arguments.distinguishers,
        ..DiscriminationOptions::default()
    };
    let result = evaluate(test, n, correct, options).map_err(|reason| because(&reason))?;
    if arguments.json { json_text(&plain_json(&result)) } else { Ok(result_text(&result)) }
}

fn planned_text(needed: &RequiredNumber, arguments: &DiscriminateArguments) -> String {
    format!(
        "{} judgements: {} right answers or more then show a difference at alpha {}, and a share of {} who can tell is \
         found with a chance of {}. From {} judgements on the chance never falls below what was asked.",
        needed.n,
        needed.minimum_correct,
        arguments.alpha,
        arguments.distinguishers,
        fixed(needed.power, 3),
        needed.n_for_certain
    )
}

fn result_text(result: &DiscriminationResult) -> String {
    let shown = if result.difference_shown { "A difference is shown" } else { "No difference is shown" };
    let mut lines = vec![
        format!("{shown}: {} of {}, p {} (alpha {}).", result.correct, result.n, p_value(result.p), result.alpha),
        defined_line("Fewest answers that show a difference", &result.minimum_correct, |count| count.to_string()),
        defined_line("Share who can tell", &result.distinguishers, |share| {
            format!(
                "{} (95 % interval {} to {})",
                fixed(share.share, 3),
                fixed(share.exact_interval95.lower, 3),
                fixed(share.exact_interval95.upper, 3)
            )
        }),
        defined_line("Similarity", &result.similarity, |similarity| {
            let word = if similarity.similarity_shown { "shown" } else { "not shown" };
            let most =
                similarity.maximum_correct.map_or("no count is small enough".to_owned(), |most| most.to_string());
            format!(
                "{word} at {} distinguishers allowed, beta {} (at most right: {most})",
                similarity.distinguishers_allowed, similarity.beta
            )
        }),
        defined_line("d'", &result.d_prime, |d_prime| {
            d_prime.value.map_or("no upper end, all were right".to_owned(), |value| fixed(value, 3))
        }),
    ];
    lines.push(result.model.clone());
    lines.join("\n")
}
