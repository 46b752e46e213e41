//! How often similarity is claimed wrongly where assessors did a test several times: made-up panels in which exactly the
//! allowed share of people can tell, judged by whole people and by every judgement. It prints RESULT.md beside it.

use likeness_core::numeric::random::Random;
use likeness_core::stats::tests::discrimination::p_value;
use likeness_core::stats::tests::people::Counted;
use likeness_core::stats::tests::similarity::maximum_correct_for_similarity;
use likeness_core::stats::tests::test_kind::DiscriminationTest;

const SEED: u64 = 11;
const PANELS: u32 = 20_000;
const ALLOWED: f64 = 0.3;
const BETA: f64 = 0.05;

/// How answers of one person go together, the share of right answers being the same on average.
#[derive(Clone, Copy)]
enum People {
    /// The allowed share always tells, all others guess.
    Tellers,
    /// With this chance a person gives the same answer in all sets, else each answer is a draw of its own.
    Alike(f64),
    /// Nobody can tell.
    Guessing,
}

fn main() {
    println!("# Repeated judgements\n");
    println!(
        "{PANELS} panels a row, seed {SEED}, {} of 100 people can tell as allowed, beta {BETA}. Times in 100: similarity \
         claimed wrongly by whole people and by every judgement; a difference claimed at alpha .05 where nobody can tell, \
         by every judgement. Standard error .15 at 5 of 100.\n",
        100.0 * ALLOWED
    );
    println!("| test | people | sets | answers of one person | whole people | every judgement | difference |");
    println!("| --- | --- | --- | --- | --- | --- | --- |");
    let kinds = [
        (People::Tellers, "tell or guess"),
        (People::Alike(0.0), "independent"),
        (People::Alike(0.5), "half alike"),
        (People::Alike(1.0), "alike"),
    ];
    for test in [DiscriminationTest::Triangle, DiscriminationTest::TwoAfc, DiscriminationTest::TwoOfFive] {
        for (people, sets) in [(12, 2), (12, 4), (24, 2), (24, 3), (60, 2), (60, 4)] {
            for (kind, words) in kinds {
                let (whole, every) = claims(test, people, sets, kind);
                let difference = differences(test, people, sets);
                println!(
                    "| {} | {people} | {sets} | {words} | {whole:.1} | {every:.1} | {difference:.1} |",
                    test.word()
                );
            }
        }
    }
}

/// Similarity claimed by whole people and by every judgement, times in 100.
fn claims(test: DiscriminationTest, people: u64, sets: u64, kind: People) -> (f64, f64) {
    let mut random = Random::seeded_for(SEED, "claims of similarity");
    let most = |n| maximum_correct_for_similarity(test, n, BETA, ALLOWED);
    let (of_people, of_all) = (most(people), most(people * sets));
    let (mut whole, mut every) = (0, 0);
    for _ in 0..PANELS {
        let right = (0..people).map(|_| right_of_one(test, sets, kind, &mut random)).sum();
        let counted = Counted::by_people(people * sets, right, Some(people));
        whole += u32::from(of_people.is_some_and(|most| counted.most <= most));
        every += u32::from(of_all.is_some_and(|most| right <= most));
    }
    (in_100(whole), in_100(every))
}

/// A difference claimed where everybody guesses, times in 100.
fn differences(test: DiscriminationTest, people: u64, sets: u64) -> f64 {
    let mut random = Random::seeded_for(SEED, "claims of a difference");
    let n = people * sets;
    let claimed = (0..=n).map(|correct| p_value(test, n, correct) <= 0.05).collect::<Vec<_>>();
    let panel =
        |random: &mut Random| (0..people).map(|_| right_of_one(test, sets, People::Guessing, random)).sum::<u64>();
    in_100((0..PANELS).map(|_| u32::from(claimed[panel(&mut random) as usize])).sum())
}

fn right_of_one(test: DiscriminationTest, sets: u64, kind: People, random: &mut Random) -> u64 {
    let drawn = |chance: f64, random: &mut Random| u64::from(random.unit() < chance);
    let share = test.share_correct(ALLOWED);
    match kind {
        People::Guessing => (0..sets).map(|_| drawn(test.chance(), random)).sum(),
        People::Tellers if random.unit() < ALLOWED => sets,
        People::Tellers => (0..sets).map(|_| drawn(test.chance(), random)).sum(),
        People::Alike(rate) if random.unit() < rate => sets * drawn(share, random),
        People::Alike(_) => (0..sets).map(|_| drawn(share, random)).sum(),
    }
}

fn in_100(count: u32) -> f64 {
    100.0 * f64::from(count) / f64::from(PANELS)
}
