//! The desk from pictures to the study, without a picture: readings are made up row by row.

use super::desk::{Decision, PictureSays, RowPlace, ScanDesk};
use super::picture_file::{PictureFile, picture_file};
use super::queue::Due;
use super::strips::KeptStrips;
use super::taking::PictureName;
use crate::numeric::random::Random;
use crate::plan::brief::attributes::AttributeList;
use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::{PlannedSample, SampleRole};
use crate::plan::data_entry::entry::Entry;
use crate::plan::joining::JoinedScores;
use crate::plan::tasting_plan::TastingPlan;
use crate::scan::{Doubt, KnownPages, PageFound, RowReading, RowState, Turned};
use crate::study::HowRead;

/// Fourteen attributes, two assessors, two samples, two replicates: eight pages.
fn plan() -> TastingPlan {
    let mut draft = PlanDraft::default();
    draft.brief.title = "Mango nectar (invented)".to_owned();
    draft.brief.samples = vec![
        PlannedSample::named("Fresh mango", SampleRole::Target),
        PlannedSample::named("Candidate A", SampleRole::Candidate),
    ];
    draft.assessors_typed = "Ada\nBen\n".to_owned();
    draft.attributes = AttributeList::mango_nectar_example();
    draft.seed = 5;
    draft.make("2026-03-02 09:00").expect("a sound draft")
}

struct Table {
    plan: TastingPlan,
    known: KnownPages,
    desk: ScanDesk,
    strips: KeptStrips,
}

fn table() -> Table {
    let plan = plan();
    let known = KnownPages::of(&plan).expect("pages that can be printed");
    let desk = ScanDesk { who: "Cleo".to_owned(), ..ScanDesk::new(&plan.study_id(), 3) };
    Table { plan, known, desk, strips: KeptStrips::default() }
}

fn read(mark: f64) -> RowReading {
    RowReading { state: RowState::Read, score_mm: Some(mark), doubts: Vec::new() }
}

fn asked(mark: Option<f64>) -> RowReading {
    RowReading { state: RowState::Ask, score_mm: mark, doubts: vec![Doubt::SecondMark] }
}

fn empty() -> RowReading {
    RowReading { state: RowState::Empty, score_mm: None, doubts: Vec::new() }
}

/// Rows 10, 11, ... mm, all read.
fn plain() -> Vec<RowReading> {
    (0..14).map(|row| read(10.0 + f64::from(row))).collect()
}

fn with(changes: &[(usize, RowReading)]) -> Vec<RowReading> {
    let mut rows = plain();
    changes.iter().for_each(|(row, reading)| rows[*row] = reading.clone());
    rows
}

impl Table {
    fn put(&mut self, file: &str, found: &[PageFound]) -> &[PictureSays] {
        let name = PictureName { file: file.to_owned(), length_bytes: 9, fingerprint: file.to_owned() };
        self.desk.take_found(name, (&self.plan, &self.known), found, &mut self.strips);
        &self.desk.pictures.last().expect("a picture was put in").found
    }

    fn put_page(&mut self, file: &str, page: usize, rows: Vec<RowReading>) -> &[PictureSays] {
        self.put(file, &[PageFound::made_up(page, rows, Turned::Upright)])
    }

    /// Goes through the spot check and sees what was read.
    fn look_at_all_again(&mut self) {
        while let Due::Again(place) = self.desk.due() {
            let seen = self.desk.row(place).expect("a row is due").suggested_mm;
            self.desk.look_again(place, seen);
        }
    }

    fn joined(&self) -> JoinedScores {
        JoinedScores::new(vec![self.desk.source(&self.plan)], &[], 1.0)
    }
}

fn place(page: usize, row: usize) -> RowPlace {
    RowPlace { page, row }
}

#[test]
fn a_person_goes_from_doubtful_rows_over_empty_ones_to_the_spot_check() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(2, asked(Some(40.0))), (5, empty()), (7, asked(None)), (9, asked(Some(3.0)))]));
    assert_eq!(table.desk.due(), Due::Doubtful(place(0, 2)));
    assert_eq!(table.desk.row(place(0, 2)).expect("a row").why, "there is more than one mark");
    table.desk.decide(place(0, 2), Decision::Accepted);
    assert_eq!(table.desk.due(), Due::Doubtful(place(0, 7)));
    // Nothing is suggested, so nothing can be accepted; a place beyond the line is none.
    table.desk.decide(place(0, 7), Decision::Accepted);
    table.desk.decide(place(0, 7), Decision::Put { mark_mm: 100.4 });
    assert_eq!(table.desk.due(), Due::Doubtful(place(0, 7)));
    table.desk.decide(place(0, 7), Decision::NoMark);
    table.desk.decide(place(0, 9), Decision::Put { mark_mm: 33.33 });
    assert_eq!(table.desk.due(), Due::Empty(vec![place(0, 5)]));
    table.desk.confirm_empty(&[place(0, 5)]);
    assert!(matches!(table.desk.due(), Due::Again(_)));
    table.look_at_all_again();
    assert_eq!(table.desk.due(), Due::Nothing);
    let standing: Vec<Entry> = [2, 5, 7, 9, 0].map(|row| table.desk.pages[0].rows[row].standing_mm()).to_vec();
    assert_eq!(standing, [Entry::Score(40.0), Entry::NoMark, Entry::NoMark, Entry::Score(33.3), Entry::Score(10.0)]);
    let record = table.desk.record(&table.plan);
    let counts = HowRead::ALL.map(|how| record.count(how));
    // 14 rows: 3 asked, 1 empty, 10 read.
    assert_eq!(counts, [10, 1, 1, 1, 1, 0, 0]);
    assert_eq!(record.people(), ["Cleo"]);
}

#[test]
fn every_step_can_be_taken_back() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(2, asked(Some(40.0))), (5, empty()), (6, empty())]));
    let start = table.desk.clone();
    table.desk.decide(place(0, 2), Decision::NoMark);
    table.desk.confirm_empty(&[place(0, 5), place(0, 6)]);
    let Due::Again(again) = table.desk.due() else { panic!("{:?}", table.desk.due()) };
    table.desk.look_again(again, Some(50.0));
    assert!(table.desk.back());
    assert_eq!(table.desk.due(), Due::Again(again));
    assert!(table.desk.back() && table.desk.back());
    assert_eq!(table.desk, start);
    assert!(!table.desk.back());
}

#[test]
fn an_empty_row_that_a_person_doubts_is_asked_about() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(5, empty())]));
    table.desk.doubt_empty(place(0, 5));
    table.desk.doubt_empty(place(0, 6));
    assert_eq!(table.desk.due(), Due::Doubtful(place(0, 5)));
    table.desk.decide(place(0, 5), Decision::Put { mark_mm: 0.4 });
    assert_eq!(table.desk.pages[0].rows[5].standing_mm(), Entry::Score(0.4));
}

#[test]
fn the_spot_check_finds_every_error_that_it_looks_at_and_states_an_exact_limit() {
    let mut table = table();
    table.put_page("a.jpg", 0, plain());
    table.put_page("b.jpg", 1, plain());
    let drawn = table.desk.spot_rows();
    // 28 rows: a twentieth is 2, so the least number counts, 10.
    assert_eq!(drawn.len(), 10);
    let (wrong, slipped) = (drawn[3], drawn[6]);
    while let Due::Again(place) = table.desk.due() {
        let seen = table.desk.row(place).and_then(|row| row.suggested_mm).expect("it was read");
        // 2.0 mm off is no difference, 2.1 mm is.
        let off = if place == wrong || place == slipped { 2.1 } else { 2.0 };
        table.desk.look_again(place, Some(seen + off));
        if let Due::Differs(differs) = table.desk.due() {
            assert_eq!(table.desk.spot_check().errors, usize::from(differs == slipped) + 1);
            table.desk.settle_spot(differs, differs == wrong);
        }
    }
    let spot = table.desk.spot_check();
    assert_eq!((spot.looked_at, spot.errors, spot.slips), (10, 1, 1));
    // Clopper & Pearson, one-sided 95 %, 1 of 10: the p with (1 - p)^10 + 10 p (1 - p)^9 = .05.
    let limit = spot.error_limit().expect("rows were looked at");
    let by_hand = (1.0 - limit).powi(10) + 10.0 * limit * (1.0 - limit).powi(9);
    assert!((by_hand - 0.05).abs() < 1e-9);
    // What a person found wrong takes the person's place; a slip leaves what was read.
    let read_there = |at: RowPlace| table.desk.row(at).and_then(|row| row.suggested_mm).expect("it was read");
    assert_eq!(table.desk.row(wrong).expect("a row").standing_mm(), Entry::Score(read_there(wrong) + 2.1));
    assert_eq!(table.desk.row(slipped).expect("a row").standing_mm(), Entry::Score(read_there(slipped)));
    assert_eq!(table.desk.record(&table.plan).count(HowRead::FoundWrong), 1);
}

#[test]
fn the_stated_limit_holds_for_95_of_100_made_up_houses() {
    // Seed 11; 4,000 houses with 28 to 400 rows read, of which a share of 0 to 12 % is wrong: the limit must lie at or
    // above the true share of the rows in at least 95 % of the houses. Drawing without replacement only makes it safer.
    let mut chance = Random::seeded(11);
    let (mut houses, mut held) = (0, 0);
    for _ in 0..4000 {
        let rows = 28 + chance.below(373);
        let share = 0.12 * chance.unit();
        let wrong: Vec<bool> = (0..rows).map(|_| chance.unit() < share).collect();
        let mut order: Vec<usize> = (0..rows).collect();
        chance.shuffle(&mut order);
        let drawn = rows.div_ceil(20).max(10).min(rows);
        let errors = order[..drawn].iter().filter(|row| wrong[**row]).count();
        let spot = super::spot_check::SpotCheck { rows_read: rows, drawn, looked_at: drawn, errors, slips: 0 };
        houses += 1;
        held += usize::from(spot.error_limit().expect("rows were looked at") >= share);
    }
    assert!(held as f64 >= 0.95 * f64::from(houses), "{held} of {houses}");
}

#[test]
fn a_later_page_leaves_the_draw_and_keeps_strips_of_what_is_shown() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(2, asked(Some(40.0))), (5, empty())]));
    let first = table.desk.spot_rows();
    for page in 1..8 {
        table.put_page(&format!("{page}.jpg"), page, plain());
    }
    // 12 + 7 x 14 = 110 rows read: a twentieth is 6, so 10 are drawn. Asked and empty rows are none of them.
    let drawn = table.desk.spot_rows();
    assert_eq!(drawn.len(), 10);
    assert!(!drawn.contains(&place(0, 2)) && !drawn.contains(&place(0, 5)) && first.len() == 10);
    let has = |at: RowPlace| {
        table.strips.has(&table.desk.pages[at.page].code_text, table.desk.row(at).expect("a row").number)
    };
    assert!(drawn.iter().all(|at| has(*at)) && has(place(0, 2)) && has(place(0, 5)));
    // The ten drawn, as many in reserve, and two rows that are asked about or empty.
    assert_eq!(table.strips.len(), 22);
}

#[test]
fn a_page_that_comes_twice_is_compared_and_nothing_decided_is_overwritten() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(1, asked(Some(20.0))), (3, asked(Some(30.0)))]));
    table.desk.decide(place(0, 1), Decision::Accepted);
    // Row 0 lies 9 mm off, row 1 was decided, row 3 is plain this time, row 4 lies .9 mm off.
    let twin = with(&[(0, read(19.0)), (1, read(55.0)), (3, read(31.0)), (4, read(14.9))]);
    let says = table.put_page("twin.jpg", 0, twin).to_vec();
    assert_eq!(says, [PictureSays::Again { page: 0, differ: 1 }]);
    assert_eq!(table.desk.pages.len(), 1);
    assert_eq!(table.desk.due(), Due::Doubtful(place(0, 0)));
    let why = &table.desk.pages[0].rows[0].why;
    assert_eq!(why, "another picture of the page says 19.0 mm, the first (a.jpg) 10.0 mm");
    assert_eq!(table.desk.pages[0].rows[1].standing_mm(), Entry::Score(20.0));
    assert_eq!(table.desk.pages[0].rows[3].suggested_mm, Some(31.0));
    assert_eq!(table.desk.pages[0].rows[4].standing_mm(), Entry::Score(14.0));
    assert!(table.desk.picture_with("twin.jpg").is_some() && table.desk.picture_with("").is_none());
}

#[test]
fn what_failed_is_told_and_may_be_put_away_and_how_a_page_lies_is_told() {
    let mut table = table();
    let found = [PageFound::made_up_fault("No page."), PageFound::made_up(2, plain(), Turned::UpsideDown)];
    let says = table.put("two.jpg", &found).to_vec();
    assert_eq!(says[0], PictureSays::Failed { why: "No page.".to_owned() });
    assert_eq!(says[1], PictureSays::Read { page: 0, turned: Some("it stands upside down".to_owned()) });
    table.desk.take_refused(PictureName { file: "x.tif".to_owned(), ..PictureName::default() }, "a TIFF");
    table.put_page("c.jpg", 3, plain());
    table.desk.put_failed_away(0);
    assert_eq!(table.desk.pictures.len(), 3, "a picture with a page stays");
    table.desk.put_failed_away(1);
    assert_eq!(table.desk.file_of(1), "c.jpg");
    assert_eq!(table.desk.counts().failed, 1);
}

#[test]
fn a_test_page_is_told_gives_no_scores_and_is_no_failure() {
    let mut table = table();
    let says = table.put("test.png", &[PageFound::made_up_test()]).to_vec();
    assert!(matches!(&says[0], PictureSays::Test { said } if said.contains("test page")), "{says:?}");
    assert_eq!(ScanDesk::from_text(&table.desk.to_text()), Ok(table.desk.clone()));
    let counts = table.desk.counts();
    assert_eq!((counts.tests, counts.failed, counts.pages_read), (1, 0, 0));
    assert!(table.desk.record(&table.plan).failed.is_empty());
    table.desk.put_failed_away(0);
    assert!(table.desk.pictures.is_empty());
}

#[test]
fn scores_land_in_their_places_and_the_study_says_how_far_it_is() {
    let mut table = table();
    for page in [3, 0] {
        table.put_page(&format!("{page}.jpg"), page, with(&[(5, empty())]));
    }
    table.desk.confirm_empty(&[place(0, 5)]);
    let joined = table.joined();
    // Both pages are there, one row of the second is open.
    assert_eq!(joined.progress(&table.plan).in_words(), "1 of 8 pages and parts of 1 more");
    let mut study = joined.study(&table.plan, "2026-03-14 09:26");
    table.desk.put_record(&table.plan, &mut study);
    assert_eq!(study.score_count(), 26);
    let said: Vec<&str> = study.notices.iter().map(|notice| notice.what.as_str()).collect();
    assert!(said.contains(&"Scores of 1 of 8 pages and parts of 1 more so far."), "{said:?}");
    assert!(said.contains(&"1 row read from pictures not decided; their scores are missing."), "{said:?}");
    for (page, known) in [(0, 3), (1, 0)] {
        let (serving, attribute) = (table.known.pages[known].serving, table.known.pages[known].attributes[4]);
        assert_eq!(study.score(serving, attribute), Some(14.0), "page {page}");
        let (of_page, row) = study.picture_row(serving, attribute).expect("it was read");
        assert_eq!((of_page.file.as_str(), row.row, row.how), (format!("{known}.jpg").as_str(), 5, HowRead::Read));
    }
    assert_eq!(study.files.len(), 2);
    assert_eq!(study.faults(), Vec::<String>::new());
}

#[test]
fn the_desk_comes_back_from_its_text_and_a_damaged_one_is_refused() {
    let mut table = table();
    table.put_page("a.jpg", 0, with(&[(1, asked(Some(20.0))), (5, empty())]));
    table.desk.decide(place(0, 1), Decision::Put { mark_mm: 21.0 });
    let Due::Empty(empty) = table.desk.due() else { panic!("{:?}", table.desk.due()) };
    table.desk.confirm_empty(&empty);
    table.look_at_all_again();
    let text = table.desk.to_text();
    assert_eq!(ScanDesk::from_text(&text), Ok(table.desk.clone()));
    assert!(ScanDesk::from_text(&text[..text.len() - 20]).is_err());
    assert!(ScanDesk::from_text(&text.replace("21.0", "12.0")).is_err(), "a changed place fails its check");
    table.desk.pages[0].rows[1].suggested_mm = Some(140.0);
    assert!(ScanDesk::from_text(&table.desk.to_text()).is_err(), "a place beyond the line");
}

#[test]
fn marks_are_typed_in_millimetres_with_point_or_comma() {
    assert_eq!(ScanDesk::mark_in(" 47,3 "), Ok(47.3));
    assert_eq!(ScanDesk::mark_in("100"), Ok(100.0));
    for refused in ["", "100.1", "-1", "4e1", "nan", "47 mm"] {
        assert!(ScanDesk::mark_in(refused).is_err(), "{refused}");
    }
}

/// A PNG that says its size: signature and IHDR; the check sum is not looked at.
fn png(width: u32, height: u32, after: &[u8]) -> Vec<u8> {
    let head: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
    [head, &width.to_be_bytes(), &height.to_be_bytes(), &[8, 0, 0, 0, 0, 0, 0, 0, 0], after].concat()
}

#[test]
fn files_are_told_by_their_first_bytes_and_huge_ones_are_refused_before_decoding() {
    let size = |width, height| Ok(PictureFile::Picture { width, height });
    assert_eq!(picture_file(&png(1240, 1754, b"")), size(1240, 1754));
    // T.81: SOI, APP0 of 16 bytes, SOF0 of 17: precision 8, 1754 lines of 1240 samples.
    let app0: &[u8] = &[[0xff, 0xe0, 0, 16].as_slice(), &[0; 14]].concat();
    let sof = [0xff, 0xc0, 0, 17, 8, 6, 218, 4, 216, 3];
    assert_eq!(picture_file(&[&[0xff, 0xd8], app0, &sof].concat()), size(1240, 1754));
    // WebP, VP8X: flags, three bytes, width - 1 and height - 1 in three bytes each.
    let webp =
        |flags: u8| [b"RIFF\0\0\0\0WEBPVP8X\x0a\0\0\0".as_slice(), &[flags, 0, 0, 0, 215, 4, 0, 217, 6, 0]].concat();
    assert_eq!(picture_file(&webp(0)), size(1240, 1754));
    assert_eq!(picture_file(b"%PDF-1.7"), Ok(PictureFile::Pdf));
    let refused: [(&[u8], &str); 9] = [
        (b"", "empty"),
        (&png(60_000, 60_000, b""), "60000 by 60000"),
        (&png(100, 100, b""), "too small"),
        (&png(1240, 1754, b"\0\0\0\x08acTL"), "a film"),
        (&webp(2), "a film"),
        (b"II*\0", "TIFF"),
        (b"\0\0\0\x18ftypheic", "HEIC"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "damaged"),
        (b"Dear panel", "no picture"),
    ];
    for (bytes, said) in refused {
        let why = picture_file(bytes).expect_err("refused");
        assert!(why.contains(said), "{why}");
    }
    // Whatever is cut off anywhere never panics.
    for bytes in [png(1240, 1754, b"\0\0\0\x08acTL"), [&[0xff, 0xd8], app0, &sof].concat(), webp(0)] {
        (0..bytes.len()).for_each(|length| _ = picture_file(&bytes[..length]));
    }
}
