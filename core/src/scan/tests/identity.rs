//! Whose page it is: of now, of before, of an older list of words, of nobody. Every expected page is the one drawn.

use super::{assert_read, found_in, known, marked, plan, seen};
use crate::plan::ballot::geometry::Paper;
use crate::plan::ballot::page_code::PageIdentity;
use crate::plan::ballot::pages::{CodeSquare, ballot_pages};
use crate::run::Run;
use crate::scan::drawn::{Drawn, View};
use crate::scan::known_pages::KnownPages;
use crate::scan::known_pages_run::KnownPagesRun;
use std::sync::Arc;

/// What is said of a page that bears a code.
fn said_of(known: &Arc<KnownPages>, square: &CodeSquare) -> String {
    let sheet = Drawn::with_code(&known.pages[0], square);
    let found = found_in(known, seen(&[&sheet], View::default()));
    assert_eq!((found.len(), found[0].page, found[0].rows.len()), (1, None, 0));
    found[0].fault.clone().expect("a page that isn't read has a reason")
}

#[test]
fn codes_of_a_plan_are_far_from_each_other() {
    let known = known("Shelf life");
    let of_page = |(page, known): (usize, &crate::scan::KnownPage)| {
        known.codes.iter().map(|code| (page, code.square.clone())).collect::<Vec<_>>()
    };
    let codes: Vec<(usize, CodeSquare)> = known.pages.iter().enumerate().flat_map(of_page).collect();
    let (mut same_page, mut other_page) = (f64::MAX, f64::MAX);
    for (index, (page, one)) in codes.iter().enumerate() {
        for (near, other) in codes[..index].iter().filter(|other| other.1.modules_a_side == one.modules_a_side) {
            let wrong = one.dark.iter().zip(&other.dark).filter(|(one, other)| one != other).count();
            let nearest = if near == page { &mut same_page } else { &mut other_page };
            *nearest = nearest.min(wrong as f64 / one.dark.len() as f64);
        }
    }
    // With a share p of misread modules the distance d to another code shrinks to (1 - 2 p) d. At p = .16, the most that is
    // taken, .06 must be left, so d >= .0882. Two papers of one page say all but the same and may come near that.
    assert!(same_page >= 0.0882 && other_page > 0.12, "{same_page} {other_page}");
}

#[test]
fn a_page_printed_before_is_read() {
    let known = known("Shelf life");
    let before = known.pages[3].codes.last().expect("a page has codes");
    assert!(before.text.starts_with("LK1:") && known.pages[3].codes[0].text.starts_with("LK3:"));
    let mut sheet = Drawn::with_code(&known.pages[3], &before.square);
    let scores: Vec<f64> = (0..known.pages[3].names.len()).map(|row| 4.0 + 7.0 * row as f64).collect();
    scores.iter().enumerate().for_each(|(row, score)| sheet.stroke(row, *score, (2.2, 2.0), 0.0, 30));
    let found = found_in(&known, seen(&[&sheet], View::default()));
    assert_eq!((found.len(), found[0].page, found[0].code), (1, Some(3), known.pages[3].codes.len() - 1));
    assert_read(&found[0], &scores);
}

#[test]
fn a_page_from_another_list_of_words_is_told() {
    let mut now = plan("Shelf life");
    let (sheet, _) = marked(&known("Shelf life"), 2);
    now.attributes.attributes.swap(0, 3);
    let now = Arc::new(KnownPages::of(&now).expect("the plan prints"));
    let found = found_in(&now, seen(&[&sheet], View::default()));
    assert_eq!((found.len(), found[0].page, found[0].rows.len()), (1, None, 0));
    let fault = found[0].fault.as_ref().expect("a reason");
    assert!(fault.contains("another list of words") && fault.contains("by hand"), "{fault}");
}

#[test]
fn a_page_of_this_plan_that_was_never_printed_is_told_as_such() {
    let known = known("Shelf life");
    let printed = PageIdentity::parse(&known.pages[0].codes[0].text).expect("a text of ours");
    let nobody = PageIdentity { assessor: 77, ..printed.clone() };
    let mut longer = printed.clone();
    longer.print.as_mut().expect("a page of paper").rows += 1;
    for identity in [nobody, longer] {
        let said = said_of(&known, &CodeSquare::of(&identity).expect("a short text"));
        assert!(said.contains("the plan prints no such page") && said.contains("by hand"), "{said}");
        assert!(said.contains(&format!("assessor {}", identity.assessor)), "{said}");
    }
    let newer = "LK9:3FA9C1:2:12:278:3:1:2:0000";
    let other = "4006381333931 MANGO NECTAR 1000 ML A";
    for (text, said) in [(newer, "newer program"), (other, "not of a ballot")] {
        let code = qrcode::QrCode::with_error_correction_level(text, qrcode::EcLevel::Q).expect("a short text");
        let dark = code.to_colors().into_iter().map(|color| color == qrcode::Color::Dark).collect();
        let square = CodeSquare { modules_a_side: code.width(), dark };
        assert!(said_of(&known, &square).contains(said), "{text}");
    }
}

#[test]
fn pages_made_a_cup_at_a_time_are_those_that_are_printed() {
    let plan = plan("Shelf life");
    let mut run = KnownPagesRun::new(Arc::new(plan.clone()));
    let mut steps = 0;
    while !run.is_done() {
        run.step();
        steps += 1;
    }
    // A step for each cup on each of two papers, and one for the test pages.
    assert_eq!(steps, 2 * plan.servings().len() + 1);
    let known = run.finish().expect("the plan prints");
    assert_eq!(Ok(&known), KnownPages::of(&plan).as_ref());
    for (place, paper) in [Paper::A4, Paper::Letter].into_iter().enumerate() {
        let printed = ballot_pages(&plan, paper).expect("the plan prints");
        assert_eq!(printed.len(), known.pages.len());
        for (printed, known) in printed.iter().zip(&known.pages) {
            assert_eq!((&known.layouts[place], known.codes[place].paper), (&printed.geometry, Some(paper)));
            assert_eq!(
                (&known.codes[place].text, &known.codes[place].square),
                (&printed.identity.to_text(), printed.code())
            );
        }
    }
}
