//! `likeness discriminate`: triangle, duo-trio, tetrad, two or three cups, two of five, preference; and how many judgements a
//! test needs, to show a difference or to show that few can tell.

use super::Outcome;
use super::show::{because, defined_line, json_text};
use clap::{Args, ValueEnum};
use likeness_core::stats::tests::discrimination::{
    DiscriminationOptions, DiscriminationResult, DiscriminationTest, RequiredNumber, evaluate, required_number,
};
use likeness_core::stats::tests::similarity::{SimilarityAsked, similarity_number};
use likeness_core::text::numbers::{fixed, p_value};
use likeness_core::text::plain_json::plain_json;

/// Exact tests on counts of right answers, or the number of judgements that a test needs.
///
/// Give --n and --correct to judge a result; give --power and --distinguishers to plan a test.
#[derive(Args)]
pub struct DiscriminateArguments {
    #[arg(long, value_enum)]
    test: TestName,
    /// Judgements made.
    #[arg(long, requires = "correct")]
    n: Option<u64>,
    /// People who made them, where some judged more than once: their answers go together, so shares and similarity then
    /// count whole people [default: as many as judgements].
    #[arg(long, requires = "n", value_name = "COUNT")]
    people: Option<u64>,
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
    /// With --power: the number of judgements that shows, where nobody can tell, with this chance that fewer than the share
    /// of --distinguishers can; it is claimed wrongly with chance --beta.
    #[arg(long, requires = "power")]
    similarity: bool,
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
    /// Four cups, two of each: which belong together.
    Tetrad,
    /// Three cups, one has more of a character and is known beforehand: which.
    #[value(name = "three-afc", alias = "3-afc")]
    ThreeAfc,
    /// Five cups, two are different from the other three: which two.
    #[value(name = "two-of-five", alias = "2-of-5")]
    TwoOfFive,
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
            TestName::Tetrad => DiscriminationTest::Tetrad,
            TestName::ThreeAfc => DiscriminationTest::ThreeAfc,
            TestName::TwoOfFive => DiscriminationTest::TwoOfFive,
            TestName::TwoAfc => DiscriminationTest::TwoAfc,
            TestName::Paired => DiscriminationTest::Paired,
            TestName::Preference => DiscriminationTest::Preference,
        }
    }
}

pub fn run(arguments: &DiscriminateArguments) -> Outcome {
    let test = arguments.test.into();
    if let Some(power) = arguments.power.filter(|_| arguments.similarity) {
        return similarity_planned(test, arguments, power);
    }
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
        n_assessors: arguments.people,
    };
    if arguments.people.is_some_and(|people| people == 0 || people > n) {
        return Err(format!("--people must lie between 1 and the {n} judgements."));
    }
    let result = evaluate(test, n, correct, options).map_err(|reason| because(&reason))?;
    if arguments.json { json_text(&plain_json(&result)) } else { Ok(result_text(&result)) }
}

fn similarity_planned(test: DiscriminationTest, arguments: &DiscriminateArguments, power: f64) -> Outcome {
    let asked = SimilarityAsked { distinguishers_allowed: arguments.distinguishers, beta: arguments.beta, power };
    let needed = similarity_number(test, asked).map_err(|reason| because(&reason))?;
    if arguments.json {
        return json_text(&plain_json(&needed));
    }
    Ok(format!(
        "{} judgements, one a person: {} right answers or fewer then show that fewer than a share of {} can tell (beta {}), \
         and where nobody can, that comes about with a chance of {}. From {} judgements on the chance never falls below \
         what was asked.",
        needed.n,
        needed.maximum_correct,
        arguments.distinguishers,
        arguments.beta,
        fixed(needed.power, 3),
        needed.n_for_certain
    ))
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
                "{word} at {} distinguishers allowed, beta {} (at most right: {most}); at most a share of {} can tell",
                similarity.distinguishers_allowed,
                similarity.beta,
                fixed(similarity.most_distinguishers, 3)
            )
        }),
        defined_line("d'", &result.d_prime, |d_prime| {
            d_prime.value.map_or("no upper end, all were right".to_owned(), |value| fixed(value, 3))
        }),
    ];
    lines.push(result.model.clone());
    lines.join("\n")
}
