//! Serving orders keep their promises for every number of samples and assessors a panel can have. Counts are made here
//! anew from the rows, not taken from the plan.

use likeness_core::plan::orders::serving_orders::{Coverage, OrderPlan, OrderRequest, OrderRow, plan_orders};
use likeness_core::plan::orders::williams::williams_rows;
use likeness_core::plan::session::late_changes::LateChange;
use std::collections::BTreeSet;

fn request(samples: usize, assessors: usize, replicates: usize, seed: u64) -> OrderRequest {
    OrderRequest { samples, assessors, replicates, seed, ..OrderRequest::default() }
}

fn planned(request: &OrderRequest) -> OrderPlan {
    plan_orders(request).unwrap_or_else(|error| panic!("{request:?}: {error}"))
}

struct Counted {
    position_spread: u32,
    predecessor_spread: u32,
}

fn counted<'a>(rows: impl Iterator<Item = &'a OrderRow>, samples: usize, positions: usize) -> Counted {
    let mut position = vec![0_u32; samples * positions];
    let mut predecessor = vec![0_u32; samples * samples];
    for row in rows {
        row.order.iter().enumerate().for_each(|(place, sample)| position[sample * positions + place] += 1);
        row.order.windows(2).for_each(|pair| predecessor[pair[0] * samples + pair[1]] += 1);
    }
    let off_diagonal: Vec<u32> =
        (0..samples * samples).filter(|cell| cell / samples != cell % samples).map(|cell| predecessor[cell]).collect();
    Counted { position_spread: spread(&position), predecessor_spread: spread(&off_diagonal) }
}

fn spread(counts: &[u32]) -> u32 {
    counts.iter().max().unwrap_or(&0) - counts.iter().min().unwrap_or(&0)
}

fn assert_whole_order(row: &OrderRow, samples: usize) {
    let distinct: BTreeSet<usize> = row.order.iter().copied().collect();
    assert_eq!(distinct, (0..samples).collect(), "{row:?}");
}

#[test]
fn every_panel_of_two_to_forty_is_balanced_in_every_replicate() {
    for samples in 2..=12 {
        let design = williams_rows(samples).len();
        for assessors in 2..=40 {
            let plan = planned(&request(samples, assessors, 2, (samples * 100 + assessors) as u64));
            assert_eq!(plan.rows.len(), 2 * assessors);
            for replicate in 1..=2 {
                let rows = || plan.rows.iter().filter(|row| row.replicate == replicate);
                rows().for_each(|row| assert_whole_order(row, samples));
                let people: BTreeSet<usize> = rows().map(|row| row.assessor).collect();
                assert_eq!(people.len(), assessors);
                let counts = counted(rows(), samples, samples);
                let what = format!("{samples} samples, {assessors} assessors, replicate {replicate}");
                let even_positions = u32::from(assessors % samples != 0);
                assert_eq!(counts.position_spread, even_positions, "positions: {what}");
                if assessors % design == 0 {
                    assert_eq!(counts.predecessor_spread, 0, "predecessors: {what}");
                } else if samples % 2 == 0 {
                    assert_eq!(counts.predecessor_spread, 1, "predecessors: {what}");
                } else {
                    // One square of an odd design repeats each neighbour twice, so 2 is reached where I = J.
                    assert!(counts.predecessor_spread <= 2, "predecessors: {what}");
                }
            }
        }
    }
}

#[test]
fn positions_are_even_over_both_replicates_together() {
    for samples in 2..=12 {
        let mut worst = (0, 0);
        for assessors in 2..=40 {
            let plan = planned(&request(samples, assessors, 2, 11));
            let counts = counted(plan.rows.iter(), samples, samples);
            let what = format!("{samples} samples, {assessors} assessors");
            assert!(counts.position_spread <= 1, "positions: {what}: {}", counts.position_spread);
            // Rows of one odd square share neighbours, rows of its two squares share a position: where both can't be
            // even, positions are.
            let allowed = if samples % 2 == 0 { 1 } else { 4 };
            assert!(counts.predecessor_spread <= allowed, "predecessors: {what}: {}", counts.predecessor_spread);
            worst = (worst.0.max(counts.position_spread), worst.1.max(counts.predecessor_spread));
        }
        println!("{samples} samples, 2 to 40 assessors, 2 replicates together: worst spreads {worst:?}");
    }
}

#[test]
fn the_counts_of_the_plan_are_those_of_its_rows() {
    let plan = planned(&request(5, 12, 2, 7));
    let counts = counted(plan.rows.iter(), 5, 5);
    assert_eq!(plan.balance.position_spread(), counts.position_spread);
    assert_eq!(plan.balance.predecessor_spread(), counts.predecessor_spread);
    let in_position: u32 = plan.balance.position_counts.iter().flatten().sum();
    let in_pairs: u32 = plan.balance.predecessor_counts.iter().flatten().sum();
    assert_eq!((in_position, in_pairs), (24 * 5, 24 * 4));
}

#[test]
fn plans_are_the_published_squares_up_to_labels() {
    // Williams 1949 as listed for 3 to 6 samples; odd squares with every row reversed as well.
    let published: [(usize, &[&str]); 4] = [
        (3, &["123", "231", "312", "321", "132", "213"]),
        (4, &["1243", "2314", "3421", "4132"]),
        (5, &["12534", "23145", "34251", "45312", "51423", "43521", "54132", "15243", "21354", "32415"]),
        (6, &["126354", "231465", "342516", "453621", "564132", "615243"]),
    ];
    for (samples, rows) in published {
        let square: BTreeSet<Vec<usize>> =
            rows.iter().map(|row| row.bytes().map(|digit| (digit - b'1') as usize).collect()).collect();
        let canonical: BTreeSet<Vec<usize>> = williams_rows(samples).into_iter().collect();
        assert_eq!(canonical, square, "{samples} samples");
        for seed in 0..20 {
            let plan = planned(&request(samples, rows.len(), 1, seed));
            let orders: Vec<Vec<usize>> = plan.rows.into_iter().map(|row| row.order).collect();
            let same = permutations(samples).into_iter().any(|labels| {
                let back = |order: &Vec<usize>| order.iter().map(|sample| labels[*sample]).collect::<Vec<_>>();
                orders.iter().map(back).collect::<BTreeSet<_>>() == square
            });
            assert!(same, "{samples} samples, seed {seed}: {orders:?}");
        }
    }
}

fn permutations(of: usize) -> Vec<Vec<usize>> {
    if of == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for shorter in permutations(of - 1) {
        for place in 0..of {
            let mut longer = shorter.clone();
            longer.insert(place, of - 1);
            all.push(longer);
        }
    }
    all
}

#[test]
fn the_same_seed_gives_the_same_plan_and_another_seed_another() {
    let plan = |seed| planned(&request(6, 12, 2, seed));
    assert_eq!(plan(7), plan(7));
    assert_ne!(plan(7).rows, plan(8).rows);
}

#[test]
fn an_assessor_gets_another_order_in_the_second_replicate() {
    for samples in 2..=8 {
        for assessors in [2, 7, 12, 20] {
            let plan = planned(&request(samples, assessors, 2, 3));
            let order = |assessor, session| &plan.row(assessor, session).expect("row").order;
            let same = (0..assessors).filter(|assessor| order(*assessor, 1) == order(*assessor, 2)).count();
            assert_eq!(same, 0, "{samples} samples, {assessors} assessors");
        }
    }
}

#[test]
fn codes_are_fresh_in_each_replicate_and_never_used_before() {
    let used = vec!["278".to_owned(), "475".to_owned()];
    for seed in 0..30 {
        let plan = planned(&OrderRequest { warm_up: true, used_codes: used.clone(), ..request(9, 10, 4, seed) });
        let mut codes: Vec<String> = plan.keys.iter().flat_map(|key| key.codes.clone()).collect();
        codes.extend(plan.keys.iter().filter_map(|key| key.warm_up_code.clone()));
        let distinct: BTreeSet<String> = codes.iter().cloned().collect();
        assert_eq!((codes.len(), distinct.len()), (40, 40));
        assert!(plan.codes_check_themselves && used.iter().all(|code| !distinct.contains(code)));
        for row in &plan.rows {
            let key = plan.key(row.session).expect("key");
            let expected: Vec<&String> = row.order.iter().map(|sample| &key.codes[*sample]).collect();
            assert_eq!(row.codes.iter().collect::<Vec<_>>(), expected);
        }
    }
}

#[test]
fn seven_samples_by_three_are_a_balanced_design_with_even_positions() {
    let plan = planned(&OrderRequest { samples_per_session: Some(3), ..request(7, 7, 1, 5) });
    let blocks = plan.blocks.as_ref().expect("incomplete");
    assert!(blocks.balanced, "{}", blocks.in_words);
    assert!(blocks.served.iter().all(|count| *count == 3));
    assert_eq!(counted(plan.rows.iter(), 7, 3).position_spread, 0);
}

#[test]
fn incomplete_plans_are_even_in_serving_and_position() {
    for (samples, size) in [(6, 3), (7, 3), (7, 4), (8, 4), (8, 3), (9, 3), (10, 4), (12, 5), (15, 6)] {
        for assessors in [6, 9, 12, 20] {
            let plan = planned(&OrderRequest { samples_per_session: Some(size), ..request(samples, assessors, 2, 5) });
            let what = format!("{samples} by {size}, {assessors} assessors: {:?}", plan.in_words);
            assert!(plan.rows.iter().all(|row| row.order.len() == size), "{what}");
            let served = &plan.blocks.as_ref().expect("incomplete").served;
            assert!(spread(served) <= 1, "{what}: {served:?}");
            assert!(plan.balance.position_spread() <= 1, "{what}: {:?}", plan.balance.position_counts);
            assert!(plan.balance.predecessor_spread() <= 4, "{what}: {:?}", plan.balance.predecessor_counts);
        }
    }
}

#[test]
fn the_target_is_in_each_session_on_request() {
    let with_target = OrderRequest {
        samples_per_session: Some(4),
        target_in_each_session: Some(2),
        coverage: Coverage::OneSession,
        ..request(7, 10, 2, 5)
    };
    let plan = planned(&with_target);
    assert!(plan.rows.iter().all(|row| row.order.contains(&2) && row.order.len() == 4));
    // Six candidates by three in twenty sessions: (6, 20, 10, 3, 4) exists.
    assert!(plan.blocks.as_ref().is_some_and(|blocks| blocks.balanced), "{:?}", plan.in_words);

    let everything = OrderRequest { coverage: Coverage::AllSamples, ..with_target };
    let plan = planned(&everything);
    assert_eq!(everything.sessions_per_replicate(), 2);
    for assessor in 0..10 {
        for replicate in 1..=2 {
            let mut tasted: Vec<usize> = plan
                .rows
                .iter()
                .filter(|row| row.assessor == assessor && row.replicate == replicate)
                .flat_map(|row| row.order.clone())
                .collect();
            tasted.sort_unstable();
            assert_eq!(tasted, [0, 1, 2, 2, 3, 4, 5, 6]);
        }
    }
    // The target comes back under a new code in each session.
    let target_codes: BTreeSet<&String> = plan.keys.iter().map(|key| &key.codes[2]).collect();
    assert_eq!(target_codes.len(), 4);
}

#[test]
fn somebody_absent_keeps_what_was_served_and_the_rest_is_even_again() {
    let mut plan = planned(&request(5, 10, 2, 7));
    for assessor in 0..10 {
        plan.mark_served(assessor, 1, 5).expect("served");
    }
    let before: Vec<OrderRow> = plan.rows.iter().filter(|row| row.session == 1).cloned().collect();
    let after = plan.with_late_change(&LateChange::Absent { assessor: 3, from_session: 2 }, 99).expect("changed");
    let kept: Vec<OrderRow> = after.rows.iter().filter(|row| row.session == 1).cloned().collect();
    assert_eq!(kept, before);
    assert_eq!(after.keys, plan.keys);
    let second: Vec<&OrderRow> = after.rows.iter().filter(|row| row.session == 2).collect();
    assert_eq!(second.len(), 9);
    assert!(second.iter().all(|row| row.assessor != 3));
    assert_eq!(counted(second.into_iter(), 5, 5).position_spread, 1);
}

#[test]
fn somebody_who_leaves_half_way_keeps_the_cups_that_were_served() {
    let mut plan = planned(&request(6, 8, 2, 7));
    plan.mark_served(0, 1, 4).expect("served");
    let begun = plan.row(0, 1).expect("row").clone();
    let after = plan.with_late_change(&LateChange::Absent { assessor: 0, from_session: 1 }, 1).expect("changed");
    let row = after.row(0, 1).expect("row");
    assert_eq!(row.order, begun.order[..4]);
    assert_eq!(row.codes, begun.codes[..4]);
    assert!(after.row(0, 2).is_none());
}

#[test]
fn somebody_added_gets_whole_orders_beside_what_was_served() {
    for samples in [4, 5, 7] {
        let mut plan = planned(&request(samples, 9, 3, 7));
        (0..9).for_each(|assessor| plan.mark_served(assessor, 1, samples).expect("served"));
        let after = plan.with_late_change(&LateChange::Added { assessor: 9, from_session: 2 }, 4).expect("changed");
        assert_eq!(after.request.assessors, 10);
        for session in 2..=3 {
            assert_whole_order(after.row(9, session).expect("row"), samples);
            let rows = after.rows.iter().filter(|row| row.session == session);
            assert!(counted(rows, samples, samples).position_spread <= 1);
        }
        let back = after
            .with_late_change(&LateChange::Absent { assessor: 9, from_session: 3 }, 5)
            .and_then(|plan| plan.with_late_change(&LateChange::Added { assessor: 9, from_session: 3 }, 6))
            .expect("went and came back");
        assert_whole_order(back.row(9, 3).expect("row"), samples);
        assert_eq!(back.row(0, 1), plan.row(0, 1));
    }
}

#[test]
fn late_changes_of_incomplete_plans_keep_begun_replicates() {
    for coverage in [Coverage::OneSession, Coverage::AllSamples] {
        let mut plan = planned(&OrderRequest { samples_per_session: Some(3), coverage, ..request(8, 6, 2, 7) });
        plan.mark_served(1, 1, 3).expect("served");
        let after = plan.with_late_change(&LateChange::Absent { assessor: 2, from_session: 1 }, 5).expect("changed");
        assert!(after.rows.iter().all(|row| row.assessor != 2));
        assert_eq!(after.row(1, 1), plan.row(1, 1));
        if coverage == Coverage::AllSamples {
            assert_eq!(after.row(1, 2), plan.row(1, 2));
            for assessor in [0, 1, 3, 4, 5] {
                let of_one = after.rows.iter().filter(|row| row.assessor == assessor && row.replicate == 2);
                let tasted: BTreeSet<usize> = of_one.flat_map(|row| row.order.clone()).collect();
                assert_eq!(tasted.len(), 8);
            }
        }
    }
}

#[test]
fn what_cannot_be_laid_out_says_why() {
    let cases = [
        (request(1, 5, 1, 0), "1 sample can't be ordered. Give 2 to 40 samples."),
        (request(5, 0, 1, 0), "0 assessors can't be planned for. Give 1 to 400 assessors."),
        (request(5, 5, 0, 0), "0 replicates can't be planned for. Give 1 to 20 replicates."),
        (
            OrderRequest { samples_per_session: Some(1), ..request(5, 5, 1, 0) },
            "A session of 1 sample is too small. Give 2 samples or more a session.",
        ),
        (
            OrderRequest { target_in_each_session: Some(5), ..request(5, 5, 1, 0) },
            "There is no sample 6. Samples are numbered from 1 to 5.",
        ),
        (
            request(40, 5, 20, 0),
            "800 codes are wanted and three digits leave only 604. Plan fewer samples or replicates in one study.",
        ),
    ];
    for (request, message) in cases {
        assert_eq!(plan_orders(&request).expect_err(message).to_string(), message);
    }
    let plan = planned(&request(5, 5, 2, 0));
    let absent = LateChange::Absent { assessor: 7, from_session: 1 };
    assert_eq!(
        plan.with_late_change(&absent, 0).expect_err("nobody").to_string(),
        "Assessor 8 has no cups from session 1 on. Check the assessor and the session against the plan."
    );
}
