//! The rates that are claimed about the panel and on the map, on fewer made-up panels than the example
//! `panel_rates` takes: enough to see a claim broken, few enough to be quick. Its RESULT.md has the figures.

#[path = "../../core/examples/panel_rates/form_faults.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod form_faults;
#[path = "../../core/examples/panel_rates/map.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod map;
#[path = "../../core/examples/panel_rates/panels.rs"]
mod panels;
#[path = "../../core/examples/panel_rates/people.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod people;
#[path = "../../core/examples/panel_rates/performance.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod performance;
#[path = "../../core/examples/panel_rates/request.rs"]
#[allow(dead_code, reason = "the example reads its arguments, these tests do not")]
mod request;
#[path = "../../core/examples/panel_rates/rounds.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod rounds;
#[path = "../../core/examples/panel_rates/together.rs"]
#[allow(dead_code, reason = "the example prints every cell, these tests count a few")]
mod together;

use panels::{Panel, USUAL};
use request::Request;

/// Asserts that a share lies within three standard errors of these bounds.
fn holds(what: &str, held: request::Held, lower: f64, upper: f64) {
    let error = |share: f64| 3.0 * (share * (1.0 - share) / held.of as f64).sqrt();
    let share = held.share();
    assert!(lower - error(lower) <= share && share <= upper + error(upper), "{what}: {share} of {}", held.of);
}

#[test]
fn ellipses_hold_the_true_place_of_a_sample() {
    // Claimed: 94 to 96 of 100, and 90 to 97 for shares of axes. Samples of one study hang together, so their count is
    // taken as that of studies.
    for panel in [
        Panel { assessors: 8, samples: 4, on_the_line: false, sd_sample: 4.0, ..USUAL },
        Panel { assessors: 12, samples: 6, weak_share: 0.3, ..USUAL },
    ] {
        let [mut places, first, second] = map::cell(panel, &Request::of(60, 5));
        (places.held, places.of) = (places.held / panel.samples as u64, places.of / panel.samples as u64);
        holds("places", places, 0.94, 0.97);
        holds("share of axis 1", first, 0.90, 0.98);
        holds("share of axis 2", second, 0.90, 0.98);
    }
}

#[test]
fn clean_panels_of_any_shape_raise_few_suspicions() {
    // Promised: 5 of 100 at most, whatever the shape; every shape of the example, 20 studies each.
    for (name, panel) in form_faults::shapes() {
        let (any, _) = form_faults::false_alarms(&panel, &Request::of(20, 7));
        holds(name, any, 0.0, 0.05);
    }
}

#[test]
fn sound_assessors_seldom_fail() {
    // Claimed: 2 tests of 100 at most where 5 are meant; every shape of the example, 4 studies each.
    for (name, panel) in performance::shapes() {
        for counts in performance::counts(&panel, &Request::of(4, 11), |_, _| {}, None) {
            // Tests of one assessor and study hang together: taken as a quarter of their number.
            let held = request::Held { held: counts.fails as u64 / 4, of: counts.tested() as u64 / 4 };
            holds(&name, held, 0.0, 0.05);
        }
    }
}

#[test]
fn equal_people_are_seldom_called_unlike_and_poor_ones_are_found() {
    // Claimed: 1 panel of 100 at most names anybody, 2 to 6 where pages are moody (RESULT.md); every shape of the example, 3
    // studies each, all taken together.
    let mut named = request::Held::default();
    for (_, panel) in people::shapes() {
        let equal = people::found(&panel, &Request::of(3, 13), |_, _| {}, "");
        named.held += equal.others_named.held;
        named.of += equal.others_named.of;
    }
    assert!(named.share() <= 0.05, "{} of {} panels of equal people name somebody", named.held, named.of);
    // Found in 8 to 10 of 10 by RESULT.md: 12 people, 5 samples in 2 replicates, 12 attributes.
    let usual = Panel { assessors: 12, ..USUAL };
    let wild = people::found(&Panel { first_scatters: 3.0, ..usual }, &Request::of(20, 13), |_, _| {}, "J1");
    assert!(wild.poor_named.share() >= 0.7 && wild.others_named.share() <= 0.2, "{wild:?}");
    let blind = people::found(&usual, &Request::of(20, 13), performance::deal_out, "J2");
    assert!(blind.poor_named.share() >= 0.7 && blind.poor_called_alike.held <= 2, "{blind:?}");
    // One replicate says nothing of repeating: nobody is called like the others there.
    let once = people::found(&Panel { replicates: 1, ..usual }, &Request::of(6, 13), |_, _| {}, "J1");
    assert_eq!(once.poor_called_alike.held, 0, "{once:?}");
}

#[test]
fn words_unrelated_to_everything_are_seldom_called_steady() {
    for samples in [5, 8] {
        let panel = Panel { samples, attributes: 7, sd_mood: 0.0, weak_share: 0.5, ..USUAL };
        let [steady, _] = together::falsely_steady(&panel, &Request::of(30, 3));
        holds("steady", steady, 0.0, 0.05);
    }
}

#[test]
fn positions_and_pots_that_do_nothing_are_seldom_said_to_matter() {
    let panel = Panel { samples: 6, attributes: 6, ..USUAL };
    let [_, position, _, before, _, drift] = rounds::order_alarms(&panel, &Request::of(30, 3));
    for (what, held) in [("position", position), ("sample before", before), ("drift", drift)] {
        holds(what, held, 0.0, 0.05);
    }
    holds("pots", rounds::round_alarms(&panel, &Request::of(60, 3)), 0.0, 0.05);
    let differ = rounds::round_alarms(&Panel { sd_pot: 15.0, ..panel }, &Request::of(20, 3));
    assert!(differ.share() >= 0.5, "pots that differ by 15 mm are seen: {}", differ.share());
}
