//! Short tests: what a leader types, lays out and ticks in. The right test and its result come from the engine; here only
//! its refusals are put in words.

use super::planning::seed_from;
use crate::state::app_state::AppState;
use crate::state::page::{Message, PlanPart};
use crate::words::plan::short_tests as say;
use leptos::prelude::*;
use likeness_core::plan::PlanError;
use likeness_core::plan::tests::short_test::ShortTest;
use likeness_core::plan::tests::test_designs::TestKind;
use likeness_core::planning::short_test_result;
use likeness_core::planning::short_test_result::{NoShortResult, ShortResult};

/// Changes what is typed; a first one gets its seed from the clock.
pub fn type_into(app: AppState, change: impl FnOnce(&mut ShortTest)) {
    let now = app.now();
    app.short_test.update(|test| {
        if test.seed == 0 {
            test.seed = seed_from(&now);
        }
        change(test);
    });
}

/// Goes to the short tests, from wherever the page is.
pub fn start(app: AppState) {
    super::planning::start(app);
    app.plan_part.set(PlanPart::ShortTests);
}

/// What to say of a layout that is for another kind of test than the one chosen.
pub fn void_layout(test: &ShortTest) -> Option<String> {
    let plan = test.plan.as_ref().filter(|_| test.layout_is_void())?;
    Some(say::void_layout(&test.made_at, plan.request.kind, test.answers.len()))
}

/// Lays the test out.
///
/// # Errors
/// What the plan refuses.
pub fn make(app: AppState) -> Result<(), PlanError> {
    let mut test = app.short_test.get_untracked();
    if test.seed == 0 {
        test.seed = seed_from(&app.now());
    }
    test.make(&app.now())?;
    app.short_test.set(test);
    Ok(())
}

/// The test as text for the browser's store; `None` while nothing was typed.
pub fn text_to_save(test: &ShortTest) -> Option<String> {
    if *test == ShortTest::default() { None } else { serde_json::to_string(test).ok() }
}

/// Puts back what the browser had saved; a text that can't be read is left out with a message.
pub fn restore(app: AppState, text: Option<&str>) {
    match text.map(serde_json::from_str::<ShortTest>) {
        Some(Ok(test)) => app.short_test.set(test),
        Some(Err(_)) => app.message.set(Some(Message::refused(say::SAVED_BROKEN, say::SAVED_BROKEN_HINT))),
        None => {}
    }
}

/// Takes how many people of 100 may be able to tell.
///
/// # Errors
/// Anything but a whole number from 1 to 99; nothing changes then.
pub fn allow_in_100(app: AppState, typed: &str) -> Result<(), String> {
    let number = typed.trim().parse::<u32>().ok().filter(|number| (1..=99).contains(number));
    let allowed = number.ok_or_else(|| say::refused_allowed(typed))?;
    type_into(app, |test| test.allowed_in_100 = allowed);
    Ok(())
}

/// How many judgements show that few can tell; nothing for tests that can't show it.
pub fn similarity_needs(test: &ShortTest) -> Option<String> {
    if !(test.kind.has_right_cup() || test.kind == TestKind::PairedStronger) {
        return None;
    }
    Some(match short_test_result::similarity_number_for(test) {
        Ok(needed) => say::similarity_needs(test.allowed_in_100, &needed),
        Err(why) => say::similarity_needs_not(&why.because),
    })
}

/// The result of the answers so far.
///
/// # Errors
/// A sentence: no answers yet, or why there is no result.
pub fn result_of(test: &ShortTest) -> Result<ShortResult, String> {
    if let Some(void) = void_layout(test) {
        return Err(void);
    }
    short_test_result::result_of(test).map_err(|why| match why {
        NoShortResult::NoAnswers => say::NO_ANSWERS.to_owned(),
        NoShortResult::NotCounted(why) => why.to_string(),
        NoShortResult::NotDefined(why) => say::no_result(&why.because),
    })
}

#[cfg(test)]
mod tests {
    //! A change of kind after the test was laid out.

    use super::*;
    use crate::state::page::View;

    #[test]
    fn another_kind_makes_the_layout_void_and_says_so_until_it_is_chosen_again() {
        let owner = Owner::new();
        owner.set();
        let app = AppState::new(|| "2026-03-14 09:26".to_owned());
        start(app);
        assert_eq!((app.view.get(), app.plan_part.get()), (View::Plan, PlanPart::ShortTests));
        type_into(app, |test| {
            test.samples_typed = "Fresh mango\nCandidate A".to_owned();
            test.assessors_typed = "6".to_owned();
        });
        make(app).expect("a triangle");
        let row = app.short_test.with(|test| test.plan.as_ref().expect("laid out").rows[0].clone());
        type_into(app, |test| test.set_answer(row.assessor, row.set, &row.cups[0].code, None, true));
        assert!(app.short_test.with(|test| void_layout(test).is_none() && result_of(test).is_ok()));
        type_into(app, |test| test.kind = TestKind::Tetrad);
        let said = app.short_test.with(void_layout).expect("the layout is that of a triangle");
        assert!(said.contains("1 answer") && said.contains("2026-03-14 09:26"), "{said}");
        assert_eq!(app.short_test.with(result_of).err(), Some(said));
        type_into(app, |test| test.kind = TestKind::Triangle);
        assert!(app.short_test.with(|test| result_of(test).is_ok()), "nothing was lost");
    }
}
