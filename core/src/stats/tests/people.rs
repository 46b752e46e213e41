//! Several judgements of one person are not so many people: how a count is read where assessors did a test more than once.
//!
//! Where nobody can tell, every answer is a guess of its own, and the test against guessing is exact however often each
//! person guessed (Kunert and Meyners 1999, Food Quality and Preference 10, 477-482). Any claim about people is another
//! thing: who can tell tells again, so answers of one person go together. Such a claim counts whole people: as many
//! judgements as there are people, and the share of right answers among all, rounded to a whole person against the claim.
//! Answers of one person can't go together more than fully, so that errs on the safe side.
//!
//! Simulated (`core/examples/repeated_judgements`, seed 11, 20,000 panels a cell, 12 to 60 people with 2 to 4 sets, answers
//! of one person from independent to the same; see RESULT.md there): similarity claimed where the allowed share can tell in
//! 4.7 of 100 at most, by every judgement counted in up to 23.6 of 100; a difference claimed where all guess in 4.8 at most.

/// A count of right answers in terms of people.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counted {
    /// Judgements as they were made.
    pub n: u64,
    /// People who made them; as many as judgements where each made one.
    pub people: u64,
    /// Right answers in terms of people, rounded down: for claims that many can tell.
    pub least: u64,
    /// The same rounded up: for claims that few can tell.
    pub most: u64,
}

impl Counted {
    /// One judgement a person.
    #[must_use]
    pub fn once_each(n: u64, correct: u64) -> Self {
        Counted { n, people: n, least: correct, most: correct }
    }

    /// `correct` right out of `n` judgements by so many people; more people than judgements are as many as judgements.
    #[must_use]
    pub fn by_people(n: u64, correct: u64, people: Option<u64>) -> Self {
        let people = people.map_or(n, |people| people.clamp(1, n.max(1)));
        let share = correct * people;
        Counted { n, people, least: share / n.max(1), most: share.div_ceil(n.max(1)) }
    }

    /// Whether somebody judged more than once.
    #[must_use]
    pub fn is_repeated(&self) -> bool {
        self.people < self.n
    }

    /// The most right answers that still count as so many people.
    #[must_use]
    pub fn most_answers(&self, people: u64) -> u64 {
        people * self.n / self.people.max(1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;
    use crate::stats::tests::similarity::maximum_correct_for_similarity;
    use crate::stats::tests::test_kind::DiscriminationTest::Triangle;

    #[test]
    fn a_count_is_rounded_to_whole_people_against_the_claim() {
        // By hand: 11 of 30 by 15 people are 5.5 people.
        let counted = Counted::by_people(30, 11, Some(15));
        assert_eq!((counted.least, counted.most), (5, 6));
        // 6 people are up to 12 answers, and 13 would be 7.
        assert_eq!(counted.most_answers(6), 12);
        assert_eq!(Counted::by_people(30, 13, Some(15)).most, 7);
        for people in [None, Some(30), Some(99)] {
            assert_eq!(Counted::by_people(30, 11, people), Counted::once_each(30, 11));
        }
        assert!(counted.is_repeated() && !Counted::once_each(30, 11).is_repeated());
    }

    /// How often similarity is claimed at a limit of .3, where exactly that share of people always tells and the rest
    /// guess: by whole people, and by every judgement.
    fn claims(people: u64, sets: u64, panels: u64) -> (f64, f64) {
        let mut random = Random::seeded_for(11, "repeated judgements");
        let (mut whole, mut every) = (0, 0);
        let most = |n| maximum_correct_for_similarity(Triangle, n, 0.05, 0.3);
        let (of_people, of_all) = (most(people), most(people * sets));
        for _ in 0..panels {
            let mut right = 0;
            for _ in 0..people {
                let tells = random.below(10) < 3;
                right += (0..sets).filter(|_| tells || random.below(3) == 0).count() as u64;
            }
            let counted = Counted::by_people(people * sets, right, Some(people));
            whole += u32::from(of_people.is_some_and(|most| counted.most <= most));
            every += u32::from(of_all.is_some_and(|most| right <= most));
        }
        (f64::from(whole) / panels as f64, f64::from(every) / panels as f64)
    }

    #[test]
    fn similarity_is_claimed_wrongly_no_more_often_than_beta() {
        for (people, sets) in [(12, 2), (24, 3), (40, 4)] {
            let (whole, every) = claims(people, sets, 4_000);
            // Standard error at .05: .0034; four of them.
            assert!(whole <= 0.05 + 0.014, "{people} people, {sets} sets: {whole}");
            // What the rule is for: every judgement counted claims it too often.
            assert!(sets < 3 || every > 0.06, "{people} people, {sets} sets: {every}");
        }
    }
}
