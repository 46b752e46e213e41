//! Discrimination, preference and ranking against printed and recomputed values.

use likeness_core::stats::tests::d_prime::{d_prime_of, share_of_d_prime};
use likeness_core::stats::tests::discrimination::DiscriminationTest::{
    DuoTrio, Paired, Preference, Tetrad, ThreeAfc, Triangle, TwoAfc, TwoOfFive,
};
use likeness_core::stats::tests::discrimination::{
    ALL_TESTS, DiscriminationOptions, DiscriminationTest, evaluate, maximum_correct_for_similarity, minimum_correct,
    p_value, power, required_number,
};
use likeness_core::stats::tests::ranking::{durbin, friedman, page, rank_sum_differences};
use likeness_tests::reference::rows;
use likeness_tests::studies::close;

fn options() -> DiscriminationOptions {
    DiscriminationOptions::default()
}

#[test]
fn minimum_counts_and_their_p_for_every_even_n() {
    // Exact binomial tails in R 4.2.2, n = 6 to 60 even: tests/reference/expected/binomial_even_n.csv.
    let table = rows("expected/binomial_even_n.csv");
    let mut compared = 0;
    for row in &table[1..] {
        let test = match row[0].as_str() {
            "triangle" => Triangle,
            "two_afc_or_duotrio_one_sided" => DuoTrio,
            "paired_preference_two_sided" => Preference,
            other => panic!("unknown test {other}"),
        };
        let n: u64 = row[1].parse().unwrap();
        for (alpha, column) in [(0.05, 3), (0.01, 5), (0.001, 7)] {
            let wanted: Option<u64> = row[column].parse().ok();
            assert_eq!(minimum_correct(test, n, alpha), wanted, "{test:?} n {n} alpha {alpha}");
            if let Some(count) = wanted {
                close(p_value(test, n, count) / row[column + 1].parse::<f64>().unwrap(), 1.0, 1e-12, "p");
                compared += 1;
            }
        }
    }
    assert!(compared > 240, "{compared}");
}

#[test]
fn minimum_counts_in_print() {
    // Triangle at 5, 1 and .1 %, and one-sided chance 1/2 at 5 %: recomputed in R 4.2.2, as in any published table.
    for (n, counts) in [(24, [13, 15, 16]), (30, [15, 17, 19]), (36, [18, 20, 22]), (60, [27, 30, 33])] {
        for (alpha, count) in [0.05, 0.01, 0.001].into_iter().zip(counts) {
            assert_eq!(minimum_correct(Triangle, n, alpha), Some(count), "{n} {alpha}");
        }
    }
    for (n, count) in [(24, 17), (30, 20), (36, 24), (60, 37)] {
        assert_eq!(minimum_correct(TwoAfc, n, 0.05), Some(count));
        assert_eq!(minimum_correct(DuoTrio, n, 0.05), Some(count));
    }
    // Chance 1/10: scipy 1.17.1, stats.binom.sf(k - 1, n, .1).
    for (n, count) in [(10, 4), (20, 5), (30, 7)] {
        assert_eq!(minimum_correct(TwoOfFive, n, 0.05), Some(count));
    }
    assert_eq!(minimum_correct(Triangle, 2, 0.05), None, "2 right of 2 have p = 1/9");
}

#[test]
fn distinguishers_as_in_iso_5495() {
    // ISO 5495:2005/Amd 1:2016, worked examples (seen in a public text): 21 of 30 one-sided .40, s .167, lower .125; 32
    // of 44 two-sided .19 to .71, printed from rounded steps.
    let one = evaluate(TwoAfc, 30, 21, options()).unwrap().distinguishers.unwrap();
    close(one.share, 0.40, 1e-12, "share");
    assert!((one.se - 0.167).abs() < 5e-4 && (one.lower_bound95 - 0.125).abs() < 1e-3, "{one:?}");
    let two = evaluate(Paired, 44, 32, options()).unwrap().distinguishers.unwrap();
    assert!((two.interval95.lower - 0.19).abs() < 0.01 && (two.interval95.upper - 0.71).abs() < 0.01, "{two:?}");
    assert!(evaluate(Preference, 44, 32, options()).unwrap().distinguishers.is_err());
}

#[test]
fn similarity_counts() {
    // R 4.2.2: largest k with pbinom(k, 60, pd + (1 - pd) / 3) <= .05.
    for (distinguishers, most) in [(0.1, 17), (0.2, 21), (0.3, 25), (0.4, 29), (0.5, 33)] {
        assert_eq!(maximum_correct_for_similarity(Triangle, 60, 0.05, distinguishers), Some(most));
    }
    assert_eq!(maximum_correct_for_similarity(Triangle, 3, 0.01, 0.1), None);
    let at = |correct| evaluate(Triangle, 60, correct, options()).unwrap().similarity.unwrap().similarity_shown;
    assert!(at(25) && !at(26));
}

#[test]
fn replicate_judgements_count_whole_people_in_every_claim_about_people() {
    let by = |people| DiscriminationOptions { n_assessors: Some(people), ..options() };
    let repeated = evaluate(Triangle, 60, 23, by(30)).unwrap();
    // 23 of 60 are 11.5 of 30 people: 11 where many are claimed, 12 where few are.
    let (fewer, more) =
        (evaluate(Triangle, 30, 11, options()).unwrap(), evaluate(Triangle, 30, 12, options()).unwrap());
    assert_eq!(repeated.share_interval95.lower, fewer.share_interval95.lower);
    assert_eq!(repeated.share_interval95.upper, more.share_interval95.upper);
    assert_eq!(repeated.similarity.unwrap().p, more.similarity.unwrap().p);
    // Guessing is guessing, however often: p is that of all judgements (Kunert and Meyners 1999).
    assert_eq!(repeated.p, p_value(Triangle, 60, 23));
    // Who holds to one side of a pair holds to it again: there p counts people too.
    assert_eq!(evaluate(Preference, 60, 45, by(30)).unwrap().p, p_value(Preference, 30, 22));
    assert!(repeated.model.contains("60 judgements by 30 people"), "{}", repeated.model);
}

#[test]
fn d_prime_and_its_inverse() {
    // R 4.2.2 prints .4180, .7602, .5825 at d' = 1; the digits are mpmath 1.3's: triangle
    // 2 int_0^inf (Phi(-z sqrt 3 + d sqrt(2/3)) + Phi(-z sqrt 3 - d sqrt(2/3))) phi(z) dz, duo-trio
    // 1 - a - b + 2 a b with a = Phi(d / sqrt 2), b = Phi(d / sqrt 6), 2-AFC a.
    let cases = [
        (0.5, 0.355834649628561, 0.522347000625066, 0.638163195084118),
        (1.0, 0.418046674714639, 0.582475444228876, 0.760249938906523),
        (2.0, 0.604806932772189, 0.746820245546069, 0.921350396474857),
        (3.0, 0.781427598596484, 0.876456704022415, 0.983052573237655),
    ];
    for (d, triangle, duo_trio, two_afc) in cases {
        for (test, share) in [(Triangle, triangle), (DuoTrio, duo_trio), (TwoAfc, two_afc)] {
            close(share_of_d_prime(test, d).unwrap(), share, 1e-13, "share");
            close(d_prime_of(test, share).unwrap(), d, 1e-10, "d'");
        }
    }
    // mpmath 1.4.1: tetrad 1 - 2 int (2 Phi(x) Phi(x - d) - Phi(x - d)^2) phi(x) dx (Ennis and others 1998, which prints .4938
    // at 1), 3-AFC int Phi(x)^2 phi(x - d) dx.
    for (d, tetrad, three_afc) in [
        (0.5, 0.377_718_703_243_142, 0.482_592_870_894_904),
        (1.0, 0.493_808_427_486_225_85, 0.633_702_045_778_079_8),
        (2.0, 0.777_667_116_639_9, 0.865_767_175_634_832_4),
        (3.0, 0.942_971_618_896_694_7, 0.968_795_477_961_829_1),
    ] {
        for (test, share) in [(Tetrad, tetrad), (ThreeAfc, three_afc)] {
            close(share_of_d_prime(test, d).unwrap(), share, 1e-12, "share");
            close(d_prime_of(test, share).unwrap(), d, 1e-9, "d'");
        }
    }
    assert_eq!((share_of_d_prime(TwoOfFive, 1.0), d_prime_of(TwoOfFive, 0.5)), (None, None));
    assert!(evaluate(TwoOfFive, 10, 5, options()).unwrap().d_prime.unwrap_err().because.contains("no model"));
    for test in [Triangle, DuoTrio, TwoAfc, Tetrad, ThreeAfc] {
        close(share_of_d_prime(test, 0.0).unwrap(), test.chance(), 1e-14, "no difference is chance");
        assert_eq!(d_prime_of(test, 0.2), Some(0.0));
        assert_eq!(d_prime_of(test, 1.0), None);
    }
    assert_eq!(share_of_d_prime(Preference, 1.0), None);
    let all_right = evaluate(Triangle, 10, 10, options()).unwrap().d_prime.unwrap();
    assert!(all_right.value.is_none() && all_right.upper95.is_none() && all_right.lower95 > 2.0, "{all_right:?}");
}

#[test]
fn judgements_needed() {
    // R 4.2.2 and again scipy 1.17.1 (stats.binom.sf): smallest n with power .80 / .90 / .95 at 5 %, triangle, .3 of
    // distinguishers; from n_for_certain on the power stays above.
    for (wanted, n, certain) in [(0.80, 40, 42), (0.90, 53, 57), (0.95, 66, 73)] {
        let got = required_number(Triangle, 0.05, wanted, 0.3).unwrap();
        assert_eq!((got.n, got.n_for_certain), (n, certain));
        assert!(got.power >= wanted && power(Triangle, n - 1, 0.05, 0.3) < wanted);
        assert_eq!(Some(got.minimum_correct), minimum_correct(Triangle, n, 0.05));
    }
    assert!(required_number(Triangle, 0.05, 0.9, 0.001).unwrap_err().because.contains("20,000"));
    assert!(required_number(Triangle, 0.05, 0.9, 0.0).is_err());
}

#[test]
fn identities_of_counting_tests() {
    for test in ALL_TESTS {
        assert_eq!(DiscriminationTest::from_word(test.word()), Some(test));
        for n in [1_u64, 5, 12, 31, 100] {
            // Without distinguishers the power is the true level, which never exceeds alpha.
            assert!(power(test, n, 0.05, 0.0) <= 0.05 + 1e-12);
            for correct in 0..=n {
                let got = evaluate(test, n, correct, options()).unwrap();
                assert!(got.p > 0.0 && got.p <= 1.0);
                assert_eq!(got.difference_shown, got.minimum_correct.is_ok_and(|least| got.correct >= least));
                let (low, high) = (got.share_interval95.lower, got.share_interval95.upper);
                assert!(low <= got.share_correct && got.share_correct <= high);
                if test.is_two_sided() {
                    let mirrored = evaluate(test, n, n - correct, options()).unwrap();
                    assert_eq!(got.p, mirrored.p, "either side may be named first");
                }
            }
        }
    }
}

#[test]
fn impossible_counts_are_refused_in_words() {
    let because = |n, correct, options| evaluate(Triangle, n, correct, options).unwrap_err().because;
    assert_eq!(because(10, 11, options()), "11 right out of 10 can't be");
    assert_eq!(because(0, 0, options()), "there are no judgements");
    assert!(because(2_000_000, 1, options()).contains("million"));
    assert!(because(10, 5, DiscriminationOptions { alpha: 0.0, ..options() }).contains("between 0 and 1"));
}

#[test]
fn friedman_on_rounding_first_base() {
    // Hollander & Wolfe 1973, table 7.1 (22 players, three ways of rounding first base; the example of R's
    // friedman.test, typed from memory): 10.636 without, 11.143 with correction for ties; R prints p = .003805.
    let times = [
        [5.40, 5.50, 5.55],
        [5.85, 5.70, 5.75],
        [5.20, 5.60, 5.50],
        [5.55, 5.50, 5.40],
        [5.90, 5.85, 5.70],
        [5.45, 5.55, 5.60],
        [5.40, 5.40, 5.35],
        [5.45, 5.50, 5.35],
        [5.25, 5.15, 5.00],
        [5.85, 5.80, 5.70],
        [5.25, 5.20, 5.10],
        [5.65, 5.55, 5.45],
        [5.60, 5.35, 5.45],
        [5.05, 5.00, 4.95],
        [5.50, 5.50, 5.40],
        [5.45, 5.55, 5.50],
        [5.55, 5.55, 5.35],
        [5.45, 5.50, 5.55],
        [5.50, 5.45, 5.25],
        [5.65, 5.60, 5.40],
        [5.70, 5.65, 5.55],
        [6.30, 6.30, 6.25],
    ];
    let got = friedman(&times.map(Vec::from), 0.05).unwrap();
    assert!((got.statistic - 11.143).abs() < 5e-4, "{got:?}");
    assert!((got.statistic_without_tie_correction.unwrap() - 10.636).abs() < 5e-4);
    assert!((got.p - 0.003805).abs() < 5e-7);
    close(got.rank_sums.iter().sum::<f64>(), 22.0 * 6.0, 1e-12, "ranks add up");
}

#[test]
fn rank_sum_differences_for_ten_assessors() {
    // All pairs: R 4.2.2, qtukey(.95, k, Inf) * sqrt(n k (k + 1) / 12) is 10.481, 14.832, 19.288 (scipy 1.17.1 the
    // same): 11, 15, 20 in whole ranks. One pair: 1.959964 * sqrt(n k (k + 1) / 6) by hand.
    for (k, all, whole) in [(3, 10.481347660096482, 11), (4, 14.832311854364132, 15), (5, 19.288277551893117, 20)] {
        let got = rank_sum_differences(10, k, 0.05).unwrap();
        close(got.all_pairs, all, 1e-9, "all pairs");
        assert_eq!(got.all_pairs_whole, whole);
        let hand = 1.959963984540054 * (10.0 * (k * (k + 1)) as f64 / 6.0).sqrt();
        close(got.one_pair, hand, 1e-12, "one pair");
    }
    // With two samples there is one pair only.
    let two = rank_sum_differences(12, 2, 0.05).unwrap();
    close(two.all_pairs, two.one_pair, 1e-9, "two samples");
}

#[test]
fn page_on_the_strength_of_cotton() {
    // Hollander & Wolfe 1973, table 7.7 (five levels of potash, three blocks; from memory): L = 158. Page 1963 prints
    // 150, 155 and 160 as critical values at 5, 1 and .1 % for three rankings of five.
    let strength = [[7.46, 7.17, 7.76, 8.14, 7.63], [7.68, 7.57, 7.73, 8.15, 8.00], [7.21, 7.80, 7.74, 7.87, 7.93]];
    let got = page(&strength.map(Vec::from)).unwrap();
    close(got.l, 158.0, 1e-12, "L");
    assert!(got.exact && got.p <= 0.01 && got.p > 0.001, "{got:?}");
    // scipy 1.17.1: stats.page_trend_test([[1,3,2,4],[2,1,3,4],[1,2,4,3]], method='exact').
    let small = page(&[vec![1.0, 3.0, 2.0, 4.0], vec![2.0, 1.0, 3.0, 4.0], vec![1.0, 2.0, 4.0, 3.0]]).unwrap();
    close(small.l, 87.0, 1e-12, "L");
    close(small.p, 0.007016782407407407, 1e-12, "p");
}

#[test]
fn page_exact_and_approximate_agree_for_many_assessors() {
    let rows: Vec<Vec<f64>> =
        (0..40).map(|i| (0..4).map(|j| ((i * 7 + j * 5) % 11) as f64 + 0.4 * j as f64).collect()).collect();
    let exact = page(&rows).unwrap();
    // One tie in one row makes it the approximation.
    let mut tied = rows.clone();
    tied[0][1] = tied[0][0];
    let near = page(&tied).unwrap();
    assert!(exact.exact && !near.exact);
    assert!((exact.p - near.p).abs() < 0.05, "{} {}", exact.p, near.p);
}

#[test]
fn durbin_on_seven_ice_creams() {
    // Conover 1999, seven people each rank three of seven (from memory): statistic 12 on 6 degrees of freedom; by hand
    // 6 * 28 / 14 = 12. R's pchisq(12, 6, lower = FALSE) = exp(-6) * (1 + 6 + 18) = .0619688.
    let blocks = [
        ([1, 2, 4], [2.0, 3.0, 1.0]),
        ([2, 3, 5], [3.0, 1.0, 2.0]),
        ([3, 4, 6], [2.0, 1.0, 3.0]),
        ([4, 5, 7], [1.0, 2.0, 3.0]),
        ([1, 5, 6], [3.0, 1.0, 2.0]),
        ([2, 6, 7], [3.0, 1.0, 2.0]),
        ([1, 3, 7], [3.0, 1.0, 2.0]),
    ];
    let mut scores = vec![vec![None; 7]; 7];
    for (row, (samples, ranks)) in scores.iter_mut().zip(blocks) {
        for (sample, rank) in samples.into_iter().zip(ranks) {
            row[sample - 1] = Some(rank);
        }
    }
    let got = durbin(&scores).unwrap();
    close(got.statistic, 12.0, 1e-12, "statistic");
    close(got.p, 25.0 * (-6.0_f64).exp(), 1e-12, "p");
    scores[0][3] = None;
    scores[0][4] = Some(1.0);
    assert!(durbin(&scores).unwrap_err().because.contains("not balanced"));
}

#[test]
fn complete_blocks_make_durbin_and_friedman_equal() {
    let rows: Vec<Vec<f64>> = (0..9).map(|i| (0..4).map(|j| ((i * 5 + j * 3) % 7) as f64).collect()).collect();
    let whole: Vec<Vec<Option<f64>>> = rows.iter().map(|row| row.iter().map(|x| Some(*x)).collect()).collect();
    close(friedman(&rows, 0.05).unwrap().statistic, durbin(&whole).unwrap().statistic, 1e-12, "statistic");
    let turned: Vec<Vec<f64>> = rows.iter().rev().map(|row| row.iter().rev().copied().collect()).collect();
    close(friedman(&rows, 0.05).unwrap().statistic, friedman(&turned, 0.05).unwrap().statistic, 1e-12, "order");
    assert!(friedman(&[vec![1.0, 1.0], vec![2.0, 2.0]], 0.05).unwrap_err().because.contains("equal"));
    assert!(friedman(&[vec![1.0, 2.0]], 0.05).is_err());
    assert!(page(&[vec![1.0, 2.0], vec![1.0, 2.0]]).is_err());
    assert!(durbin(&[]).is_err());
}
