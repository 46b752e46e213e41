//! What holds however a page lies and however large it is seen, on the pages of the demo. Every expected place is the one
//! that was drawn.

use super::{assert_read, found_in, known, marked, noise_only, seen};
use crate::plan::ballot::test_page::TEST_MARKS;
use crate::scan::answer::Answer;
use crate::scan::drawn::{Drawn, View};
use crate::scan::judge::RowState;
use crate::scan::known_pages::KnownPages;
use crate::scan::{demo_pages, demo_plan};
use std::sync::Arc;

#[test]
fn the_demo_is_read_as_it_was_drawn() {
    let known = Arc::new(KnownPages::of(&demo_plan(5).expect("a sound plan")).expect("the plan prints"));
    let pages = demo_pages(5).expect("a sound plan");
    assert_eq!(pages.len(), 12);
    let (mut rows, mut read) = (0, 0);
    for page in pages {
        let found = found_in(&known, page.picture.clone());
        assert_eq!((found.len(), found[0].page), (1, Some(page.page)), "{}", page.name);
        for (row, mark) in page.marks_mm.iter().enumerate() {
            let reading = &found[0].rows[row];
            rows += 1;
            match (reading.state, mark) {
                (RowState::Read, Some(mark)) => {
                    read += 1;
                    assert!(!page.struck.contains(&row), "{}, row {row} was struck out", page.name);
                    let off = reading.score_mm.expect("a row that is read has a score") - mark;
                    assert!(off.abs() < 0.3, "{}, row {row}: {off}", page.name);
                }
                (RowState::Empty, None) | (RowState::Ask, _) => (),
                other => panic!("{}, row {row}: {other:?}", page.name),
            }
        }
    }
    assert!(read * 100 >= rows * 88, "{read} of {rows} rows read");
}

#[test]
fn any_turn_and_common_scales_give_the_same_scores() {
    let known = known("Shelf life");
    let (sheet, scores) = marked(&known, 1);
    for step in 0..12 {
        // 150 dpi printed at 90, 95, 100 or 105 %.
        let px_per_mm = 150.0 / 25.4 * [0.90, 0.95, 1.0, 1.05][step % 4];
        let view = View { degrees: 30.0 * step as f64 + 1.5, px_per_mm, seed: step as u64 + 1, ..View::default() };
        let found = found_in(&known, seen(&[&sheet], view));
        assert_eq!((found.len(), found[0].page), (1, Some(1)), "{} degrees", view.degrees);
        assert_read(&found[0], &scores);
    }
}

#[test]
fn a_test_page_tells_how_far_off_its_strokes_are() {
    let known = known("Shelf life");
    let drawn = |off_mm: f64| {
        let mut sheet = Drawn::blank(&known.tests[0]);
        let in_middle = |mark: f64| (2.0..98.0).contains(&mark);
        TEST_MARKS.iter().enumerate().for_each(|(row, (mark, slant))| {
            let along = if in_middle(*mark) { mark + off_mm } else { *mark };
            sheet.stroke(row, along, (2.3, 2.3), *slant, 20);
        });
        let mut found = found_in(&known, seen(&[&sheet], View { degrees: 1.0, ..View::default() }));
        assert_eq!((found.len(), found[0].page, found[0].rows.len()), (1, None, 0));
        found.remove(0).test.expect("a test page")
    };
    let (straight, shifted) = (drawn(0.0), drawn(0.5));
    assert!(straight.read >= 13 && straight.largest_error_mm < 0.2, "{straight:?}");
    // All but the two strokes at the ends are drawn half a mm off.
    assert!((shifted.largest_error_mm - 0.5).abs() < 0.2 && shifted.mean_error_mm > 0.3, "{shifted:?}");
    let mut answer = Answer::default();
    let mut sheet = Drawn::blank(&known.tests[1]);
    TEST_MARKS.iter().enumerate().for_each(|(row, (mark, slant))| sheet.stroke(row, *mark, (2.3, 2.3), *slant, 20));
    answer.add("test.png", &known, found_in(&known, seen(&[&sheet], View::default())));
    assert_eq!((answer.pages[0].status, answer.counts()), ("test", [0; 5]));
    assert!(answer.pages[0].why.contains("15 printed strokes"), "{}", answer.pages[0].why);
}

#[test]
fn empty_pages_give_empty_rows_and_noise_gives_nothing() {
    let known = known("Shelf life");
    for step in 0..4 {
        let sheet = Drawn::blank(&known.pages[step]);
        let view = View { degrees: 90.0 * step as f64 + 2.0, px_per_mm: 7.9 + 0.4 * step as f64, ..View::default() };
        let found = found_in(&known, seen(&[&sheet], View { seed: 30 + step as u64, ..view }));
        assert_eq!((found.len(), found[0].page), (1, Some(step)));
        assert!(found[0].rows.iter().all(|row| row.state == RowState::Empty), "{} degrees", view.degrees);
        let nothing = found_in(&known, noise_only(700 + 200 * step, 900, 40 + step as u64));
        assert_eq!((nothing.len(), nothing[0].page, nothing[0].rows.len()), (1, None, 0));
    }
}
