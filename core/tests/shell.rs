//! The shell program as a user calls it: what it prints and how it leaves.

use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn reference(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/reference").join(name)
}

fn likeness(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_likeness")).args(arguments).output().expect("the shell program runs")
}

#[test]
fn the_shell_prints_the_published_numbers_as_json() {
    let file = reference("data/machines_long.csv");
    let output = likeness(&["analyse", file.to_str().unwrap(), "--target", "A", "--margin", "2", "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let printed: Value = serde_json::from_slice(&output.stdout).expect("the shell prints JSON");
    let attribute = &printed["attributes"][0];
    let close = |got: &Value, expected: f64| {
        let got = got.as_f64().expect("a number");
        assert!((got - expected).abs() <= 1e-9 * expected.abs(), "got {got}, expected {expected}");
    };
    // Machines (Milliken & Johnson; Pinheiro & Bates 2000), R 4.2.2: aov(score ~ sample + Error(assessor/sample)) and
    // t.test on the differences of the workers' means.
    close(&attribute["anova"]["f"], 20.5760829640744);
    close(&attribute["anova"]["p"], 0.000285548485771284);
    close(&attribute["anova"]["ms_interaction"], 42.6530000000001);
    close(&attribute["anova"]["f_on_error_wrong"], 949.171039455236);
    close(&attribute["versus_target"][0]["difference"], 7.96666666666667);
    close(&attribute["versus_target"][0]["lower90"], 3.08853523223343);
    close(&attribute["versus_target"][0]["p_upper"], 0.971550333529169);
    // By hand: all six workers do better on C, so that of the 2^5 = 32 patterns of signs only the one seen reaches its mean.
    // On B one worker does worse; turning that one round reaches it too: 2/32, which is above .05.
    close(&attribute["versus_target"][1]["p_off"], 1.0 / 32.0);
    close(&attribute["versus_target"][0]["p_off"], 2.0 / 32.0);
    let verdict =
        |place: usize| (&attribute["versus_target"][place]["verdict"], &printed["candidates"][place]["verdict"]);
    assert_eq!(verdict(0), (&json!("not_shown"), &json!("not_shown")));
    assert_eq!(verdict(1), (&json!("off"), &json!("off")));
    // R 4.2.2 as above: the match interval of B ends at 3.08853523223343 below and as far above the mean.
    close(&printed["candidates"][0]["alike_within_mm"], 2.0 * 7.96666666666667 - 3.08853523223343);
    assert_eq!((attribute["n_used"].as_u64(), attribute["n_dropped"].as_u64()), (Some(54), Some(0)));
}

fn json_of(arguments: &[&str]) -> Value {
    let output = likeness(arguments);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("the shell prints JSON")
}

#[test]
fn a_triangle_is_judged_and_planned() {
    let judged = json_of(&["discriminate", "--test", "triangle", "--n", "30", "--correct", "15", "--json"]);
    // Exact binomial tail: R 4.2.2, pbinom(14, 30, 1/3, lower.tail = FALSE) = .04348; least count 15 of 30 at 5 %.
    assert!((judged["p"].as_f64().unwrap() - 0.04348).abs() < 5e-6);
    assert_eq!((judged["minimum_correct"].as_u64(), judged["difference_shown"].as_bool()), (Some(15), Some(true)));
    // Required n for power .80 at 5 % and 30 % distinguishers: 40, by summing exact binomials in R 4.2.2.
    let planned =
        json_of(&["discriminate", "--test", "triangle", "--power", "0.8", "--distinguishers", "0.3", "--json"]);
    assert_eq!(planned["n"].as_u64(), Some(40));
    assert_eq!(likeness(&["discriminate", "--test", "triangle", "--n", "5", "--correct", "9"]).status.code(), Some(2));
}

#[test]
fn power_of_a_true_match_is_printed() {
    let printed = json_of(&["power", "--assessors", "10", "--sd-interaction", "5", "--sd-error", "9", "--json"]);
    // Simulated in R 4.2.2 with 200,000 studies: .63 for 10 assessors, 2 replicates, margin 10, alpha 5 %; two decimals.
    assert!((printed["verdict"]["p_match"].as_f64().unwrap() - 0.63).abs() < 0.0075);
    assert_eq!(likeness(&["power", "--assessors", "1"]).status.code(), Some(2));
}

#[test]
fn similarity_is_planned_and_judged_by_people() {
    let planned = ["discriminate", "--test", "triangle", "--power", "0.95", "--similarity", "--json"];
    // scipy 1.17.1 by stats.binom.cdf: 66 judgements, 28 right at most, at alpha and beta .05 and .3 allowed.
    let printed = json_of(&planned);
    assert_eq!((printed["n"].as_u64(), printed["maximum_correct"].as_u64()), (Some(66), Some(28)));
    let judged = json_of(&["discriminate", "--test", "2-of-5", "--n", "40", "--correct", "7", "--json"]);
    // scipy 1.17.1: (stats.beta.ppf(.95, 8, 33) - .1) / .9.
    assert!((judged["similarity"]["most_distinguishers"].as_f64().unwrap() - 0.226_339_630_003_794).abs() < 1e-9);
    let by_people =
        json_of(&["discriminate", "--test", "triangle", "--n", "60", "--correct", "25", "--people", "30", "--json"]);
    assert_eq!(by_people["n_assessors"].as_u64(), Some(30));
    assert_eq!(by_people["similarity"]["similarity_shown"].as_bool(), Some(false));
    let too_many = likeness(&["discriminate", "--test", "triangle", "--n", "9", "--correct", "2", "--people", "10"]);
    assert_eq!(too_many.status.code(), Some(2));
}

#[test]
fn power_takes_the_scatter_of_a_difference_in_place_of_that_of_one_sample() {
    // 2 (5^2 + 9^2 / 2) = 131: the same panel said in both ways.
    let difference = 131.0_f64.sqrt().to_string();
    let one = json_of(&["power", "--sd-interaction", "5", "--json"]);
    let other = json_of(&["power", "--sd-difference", &difference, "--json"]);
    let p_match = |printed: &Value| printed["verdict"]["p_match"].as_f64().unwrap();
    assert!((p_match(&one) - p_match(&other)).abs() < 1e-9);
    assert_eq!(likeness(&["power", "--sd-difference", "11", "--sd-interaction", "5"]).status.code(), Some(2));
    let impossible = likeness(&["power", "--sd-difference", "6"]);
    assert!(String::from_utf8_lossy(&impossible.stderr).contains("one of the two can't be right"));
}

#[test]
fn power_tells_the_chances_of_the_whole_verdict_where_attributes_are_given() {
    let ask = ["power", "--assessors", "9", "--attributes", "5", "--studies", "20"];
    let printed = json_of(&[&ask[..], &["--json"]].concat());
    let at = printed["chances"]["at"].as_array().unwrap();
    let numbers: Vec<u64> = at.iter().map(|at| at["assessors"].as_u64().unwrap()).collect();
    assert_eq!(numbers, [8, 9, 10, 12, 14, 16, 18, 20, 22, 24]);
    for truth in at.iter().flat_map(|at| at["truths"].as_array().unwrap()) {
        let counts = ["off", "match_each_attribute", "match_profile", "not_shown"];
        assert_eq!(counts.iter().map(|count| truth[count].as_u64().unwrap()).sum::<u64>(), 20);
    }
    let text = String::from_utf8(likeness(&ask).stdout).unwrap();
    assert!(text.contains("With 9 assessors: a true duplicate is shown to match"), "{text}");
    assert!(text.contains("(an assumption)"), "{text}");
    assert_eq!(likeness(&["power", "--attributes", "0"]).status.code(), Some(2));
    assert!(json_of(&["power", "--json"]).get("chances").is_none());
}

#[test]
fn the_shell_says_what_is_wrong_and_leaves_with_two() {
    let file = reference("data/tvbo8_wide.csv");
    let wrong_target = likeness(&["analyse", file.to_str().unwrap(), "--target", "mango"]);
    assert_eq!(wrong_target.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong_target.stderr).contains("There is no sample called “mango”"));
    let no_file = likeness(&["analyse", "no-such-file.csv", "--target", "A"]);
    assert_eq!(no_file.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&no_file.stderr).contains("no-such-file.csv: the file cannot be opened"));
    let no_task = likeness(&["guess"]);
    assert_eq!(no_task.status.code(), Some(2));
}
