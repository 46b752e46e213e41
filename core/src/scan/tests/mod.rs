//! What the reading promises, on pages drawn here: what is read is where it was drawn, what is doubtful is asked, and
//! what is no page of the plan is told. Every expected place is the one that was drawn.

mod identity;
mod properties;

use super::answer::Answer;
use super::doubts::Doubt;
use super::drawn::{Drawn, View, grain};
use super::judge::{RowReading, RowState};
use super::known_pages::KnownPages;
use super::picture::{Picture, PictureFault, check_size};
use super::reading::{PageFound, PictureRun};
use crate::numeric::random::Random;
use crate::plan::brief::attributes::AttributeList;
use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::{PlannedSample, SampleRole};
use crate::plan::tasting_plan::TastingPlan;
use crate::run::{Run, to_the_end};
use std::sync::Arc;

/// A picture of sheets, of a size that is taken.
fn seen(sheets: &[&Drawn], view: View) -> Picture {
    super::drawn::seen(sheets, view).expect("a picture of a common size")
}

/// Nothing but noise.
fn noise_only(width: usize, height: usize, seed: u64) -> Picture {
    let mut chance = Random::seeded(seed);
    let luma = (0..width * height).map(|_| (128.0 + grain(&mut chance, 60.0)).clamp(0.0, 255.0) as u8).collect();
    Picture::new(width, height, luma).expect("a picture of a common size")
}

fn plan(title: &str) -> TastingPlan {
    let mut draft = PlanDraft {
        attributes: AttributeList::mango_nectar_example(),
        assessors_typed: "Ada\nBen\nCleo".to_owned(),
        seed: 7,
        ..PlanDraft::default()
    };
    draft.brief.title = title.to_owned();
    draft.brief.samples =
        ["Target", "One", "Two"].map(|name| PlannedSample::named(name, SampleRole::Candidate)).to_vec();
    draft.make("2026-03-02 09:00").expect("a sound draft")
}

fn known(title: &str) -> Arc<KnownPages> {
    Arc::new(KnownPages::of(&plan(title)).expect("the plan prints"))
}

fn found_in(known: &Arc<KnownPages>, picture: Picture) -> Vec<PageFound> {
    to_the_end(Ok(PictureRun::new(Arc::clone(known), picture))).expect("a reading always ends")
}

/// One stroke a row, each at another place and slant; and where they were drawn.
fn marked(known: &KnownPages, page: usize) -> (Drawn, Vec<f64>) {
    let mut sheet = Drawn::blank(&known.pages[page]);
    let rows = known.pages[page].names.len();
    let scores: Vec<f64> = (0..rows).map(|row| (row as f64 * 37.3 + 2.7 + page as f64 * 11.0) % 97.0 + 1.5).collect();
    for (row, score) in scores.iter().enumerate() {
        sheet.stroke(row, *score, (2.2, 2.0), [0.0, 0.25, -0.2][row % 3], 30);
    }
    (sheet, scores)
}

fn assert_read(page: &PageFound, scores: &[f64]) {
    assert_eq!(page.fault, None);
    assert_eq!(page.rows.len(), scores.len());
    for (row, score) in page.rows.iter().zip(scores) {
        assert_eq!(row.state, RowState::Read, "{:?}", row.doubts);
        let read = row.score_mm.expect("a row that is read has a score");
        assert!((read - score).abs() < 0.2, "drawn at {score}, read at {read}");
    }
}

/// The first row of a page whose other rows hold plain strokes.
fn first_row(known: &Arc<KnownPages>, mark: impl Fn(&mut Drawn)) -> RowReading {
    let mut sheet = Drawn::blank(&known.pages[0]);
    (1..known.pages[0].names.len()).for_each(|row| sheet.stroke(row, 5.0 + 6.0 * row as f64, (2.0, 2.0), 0.0, 30));
    mark(&mut sheet);
    found_in(known, seen(&[&sheet], View::default())).remove(0).rows.remove(0)
}

#[test]
fn strokes_are_read_where_they_were_drawn_however_the_sheet_lies() {
    let known = known("Shelf life");
    let (sheet, scores) = marked(&known, 4);
    for (degrees, px_per_mm) in [(0.0, 8.0), (3.0, 7.2), (-8.0, 8.4), (90.0, 8.0), (180.0, 7.0), (263.0, 9.0)] {
        let found = found_in(&known, seen(&[&sheet], View { degrees, px_per_mm, ..View::default() }));
        assert_eq!(found.len(), 1, "{degrees} degrees");
        assert_eq!(found[0].page, Some(4), "{degrees} degrees");
        assert_read(&found[0], &scores);
    }
}

#[test]
fn an_empty_page_gives_only_empty_rows() {
    let known = known("Shelf life");
    for noise in [0.0, 4.0] {
        let sheet = Drawn::blank(&known.pages[2]);
        let found = found_in(&known, seen(&[&sheet], View { noise, ..View::default() }));
        assert_eq!((found.len(), found[0].page), (1, Some(2)));
        assert!(found[0].rows.iter().all(|row| row.state == RowState::Empty && row.score_mm.is_none()));
    }
}

#[test]
fn noise_is_no_page() {
    let known = known("Shelf life");
    for seed in 1..=3 {
        let found = found_in(&known, noise_only(1200, 900, seed));
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].page, found[0].rows.len()), (None, 0));
        assert!(found[0].fault.as_ref().is_some_and(|fault| fault.starts_with("No ballot page")));
    }
}

#[test]
fn a_page_that_the_plan_does_not_print_is_told() {
    let (own, other) = (known("Shelf life"), known("Another study"));
    let (sheet, _) = marked(&other, 1);
    let found = found_in(&own, seen(&[&sheet], View::default()));
    assert_eq!((found.len(), found[0].page, found[0].rows.len()), (1, None, 0));
    assert!(found[0].fault.as_ref().is_some_and(|fault| fault.contains("no page that this plan prints")), "{found:?}");
}

#[test]
fn two_pages_in_one_picture_are_two_pages() {
    let known = known("Shelf life");
    let ((left, left_scores), (right, right_scores)) = (marked(&known, 1), marked(&known, 6));
    let mut found = found_in(&known, seen(&[&left, &right], View { degrees: 2.0, ..View::default() }));
    found.sort_by_key(|page| page.page);
    assert_eq!(found.iter().map(|page| page.page).collect::<Vec<_>>(), [Some(1), Some(6)]);
    assert_read(&found[0], &left_scores);
    assert_read(&found[1], &right_scores);
}

#[test]
fn a_page_that_comes_twice_is_told_and_rows_that_differ_are_asked() {
    let known = known("Shelf life");
    let (sheet, _) = marked(&known, 3);
    let mut answer = Answer::default();
    let again = View { degrees: 180.0, ..View::default() };
    answer.add("one.jpg", &known, found_in(&known, seen(&[&sheet], View::default())));
    answer.add("same.jpg", &known, found_in(&known, seen(&[&sheet], again)));
    let rows = known.pages[3].names.len();
    assert_eq!(answer.counts(), [1, rows, 0, 0, 1]);
    assert!(answer.pages[1].why.contains("read in one.jpg already"), "{}", answer.pages[1].why);
    assert!(answer.pages[1].why.contains("say the same"), "{}", answer.pages[1].why);
    let mut other = Drawn::blank(&known.pages[3]);
    other.stroke(0, 80.0, (2.0, 2.0), 0.0, 30);
    answer.add("other.jpg", &known, found_in(&known, seen(&[&other], View::default())));
    assert_eq!(answer.counts()[0], 1);
    assert!(answer.counts()[2] >= rows - 1, "{:?}", answer.counts());
    assert!(answer.pages[0].rows[1].why.contains("other.jpg"), "{}", answer.pages[0].rows[1].why);
}

#[test]
fn what_is_doubtful_is_asked_and_never_read() {
    let known = known("Shelf life");
    let plain = first_row(&known, |sheet| sheet.stroke(0, 40.0, (2.0, 2.0), 0.0, 30));
    assert_eq!(plain.state, RowState::Read, "{:?}", plain.doubts);
    let two = first_row(&known, |sheet| {
        sheet.stroke(0, 40.0, (2.0, 2.0), 0.0, 30);
        sheet.stroke(0, 60.0, (2.0, 2.0), 0.0, 30);
    });
    assert!(two.doubts.contains(&Doubt::SecondMark), "{two:?}");
    let beyond = first_row(&known, |sheet| sheet.stroke(0, 103.0, (2.0, 2.0), 0.0, 30));
    assert!(beyond.doubts.contains(&Doubt::BeyondTheEnd), "{beyond:?}");
    let faint = first_row(&known, |sheet| sheet.stroke(0, 40.0, (2.0, 2.0), 0.0, 200));
    assert_eq!(faint.state, RowState::Ask, "{faint:?}");
    let beside = first_row(&known, |sheet| sheet.stroke(0, 40.0, (-0.8, 1.8), 0.0, 30));
    assert_ne!(beside.state, RowState::Read, "{beside:?}");
    assert_ne!(beside.state, RowState::Empty, "{beside:?}");
}

#[test]
fn a_stroke_that_crosses_two_lines_is_asked_in_both() {
    let known = known("Shelf life");
    let mut sheet = Drawn::blank(&known.pages[0]);
    (2..known.pages[0].names.len()).for_each(|row| sheet.stroke(row, 5.0 + 6.0 * row as f64, (2.0, 2.0), 0.0, 30));
    sheet.stroke(0, 70.0, (2.0, 14.5), 0.02, 30);
    let found = found_in(&known, seen(&[&sheet], View::default())).remove(0);
    assert!(found.rows[..2].iter().all(|row| row.doubts.contains(&Doubt::RunsThrough)), "{:?}", &found.rows[..2]);
    assert!(found.rows[2..].iter().all(|row| row.state == RowState::Read));
}

#[test]
fn a_picture_that_cuts_the_lines_is_never_read_beyond_its_edge() {
    let known = known("Shelf life");
    let (sheet, scores) = marked(&known, 0);
    let whole = seen(&[&sheet], View::default());
    // The sheet's left 100 mm are cut off: the lines begin at 76 mm.
    let cut = 800;
    let luma = (0..whole.height()).flat_map(|y| whole.line(y)[cut..].to_vec()).collect();
    let picture = Picture::new(whole.width() - cut, whole.height(), luma).expect("a picture of a common size");
    for page in found_in(&known, picture) {
        for (row, score) in page.rows.iter().zip(&scores) {
            let right = row.score_mm.is_some_and(|read| (read - score).abs() < 0.2);
            assert!(row.state == RowState::Ask || (row.state == RowState::Read && right), "{row:?}");
        }
    }
}

#[test]
fn the_same_picture_gives_the_same_answer_step_by_step() {
    let known = known("Shelf life");
    let (sheet, _) = marked(&known, 0);
    let picture = seen(&[&sheet], View::default());
    let at_once = found_in(&known, picture.clone());
    let mut run = PictureRun::new(Arc::clone(&known), picture);
    let mut steps = 0;
    while !run.is_done() {
        assert!(run.reached().done < run.reached().wanted);
        run.step();
        steps += 1;
    }
    assert!(steps > 30, "{steps} steps");
    assert_eq!(run.finish(), Ok(at_once));
}

#[test]
fn sizes_that_hold_no_page_are_refused() {
    assert_eq!(check_size(2480, 3508), Ok(()));
    assert!(matches!(check_size(60_000, 60_000), Err(PictureFault::TooLarge { .. })));
    assert!(matches!(check_size(u64::MAX, u64::MAX), Err(PictureFault::TooLarge { .. })));
    assert!(matches!(check_size(300, 4000), Err(PictureFault::TooSmall { .. })));
    let short = Picture::new(600, 600, vec![0; 100]).map(|_| ());
    assert_eq!(short, Err(PictureFault::WrongLength { wanted: 360_000, got: 100 }));
}
