//! Filled pages in the real page: two generated pages with known marks are dropped, the queue is worked through by
//! keyboard, and the scores of the study are where the generator drew them. Hostile files are refused by name.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use likeness_core::plan::data_entry::entry::Entry;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::scan_desk::desk::{RowPlace, ScanDesk};
use likeness_core::scan_desk::queue::Due;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES};
use likeness_tests::filled_pages::{TRUTH, desk, fixtures, go_to_pictures, page_with, plan, put_in, scans};

const ENTER: char = '\u{e007}';
const BACKSPACE: char = '\u{e003}';
const RIGHT: char = '\u{e014}';

fn truth_of(desk: &ScanDesk, place: RowPlace) -> Option<f64> {
    let truth = TRUTH.iter().find(|(name, _)| *name == desk.file_of(place.page)).expect("a fixture");
    truth.1[place.row]
}

/// Types where the mark is, as a person with a ruler would, or N where there is none.
fn answer(browser: &Browser, truth: Option<f64>) {
    match truth {
        Some(mark) => browser.press(&format!("{mark:.1}{ENTER}")),
        None => browser.press("n"),
    }
}

/// Works through all that is due, as a person who sees the truth: suggestions that are right are accepted.
fn work_through(browser: &Browser, plan: &TastingPlan) {
    for _ in 0..60 {
        let now = desk(browser, plan);
        match now.due() {
            Due::Doubtful(place) => {
                let (truth, suggested) = (truth_of(&now, place), now.row(place).and_then(|row| row.suggested_mm));
                match (truth, suggested) {
                    (Some(truth), Some(suggested)) if (truth - suggested).abs() < 0.5 => {
                        browser.press(&ENTER.to_string())
                    }
                    _ => answer(browser, truth),
                }
            }
            Due::Empty(places) => {
                assert!(places.iter().all(|place| truth_of(&now, *place).is_none()), "a mark was called empty");
                // Enter, which took the line before, must not confirm what nobody looked at.
                browser.press(&format!("{ENTER}e"));
            }
            Due::Again(place) => answer(browser, truth_of(&now, place)),
            Due::Differs(place) => panic!("{place:?} was read wrongly: {:?}", now.row(place)),
            Due::Nothing => return,
        }
        browser.wait_until("the next question", PATIENCE, || desk(browser, plan) != now);
    }
    panic!("the queue does not end");
}

/// The score of each row of a page, from the table that Scores saves.
fn scores_of_page(csv: &str, plan: &TastingPlan, desk: &ScanDesk, page: usize) -> Vec<Option<f64>> {
    let page = &desk.pages[page];
    let is_its_cup = |assessor: &str, code: &str| assessor == page.assessor && code == page.code;
    let servings = plan.servings();
    let serving = servings.iter().find(|one| is_its_cup(&plan.assessors[one.assessor], &one.code)).expect("a cup");
    let sample = &plan.brief.samples[serving.sample].name;
    let mut lines = csv.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let head = lines.next().expect("a head");
    let column = |name: &str| head.iter().position(|head| *head == name).unwrap_or_else(|| panic!("{name}: {head:?}"));
    let replicate = serving.replicate.to_string();
    let line = lines
        .find(|line| {
            line[column("assessor")] == page.assessor
                && line[column("sample")] == sample
                && line[column("rep.")] == replicate
        })
        .expect("the cup stands in the table");
    page.rows.iter().map(|row| line[column(&row.attribute)].parse().ok()).collect()
}

#[test]
fn two_dropped_pages_become_the_scores_that_were_drawn_by_keyboard_alone() {
    let plan = plan();
    let browser = page_with(&plan);
    browser.catch_saved_files();
    put_in(&browser, &fixtures(), 2);
    let so_far = browser.find("[data-test=pages-so-far]").text();
    assert!(so_far.starts_with("2 of ") && so_far.ends_with("read from 2 pictures."), "{so_far}");
    assert!(browser.has("[data-test=missing-pages]"));
    browser.screenshot("scan-queue");
    // A slip of the keyboard is told and changes nothing; a step goes back; an arrow is half a millimetre.
    let start = desk(&browser, &plan);
    assert!(matches!(start.due(), Due::Doubtful(_)), "{:?}", start.due());
    browser.find("[data-test=scan-type]").click();
    browser.press(&format!("470{ENTER}"));
    browser.wait_until("a refusal", PATIENCE, || {
        browser.find("[data-test=scan-refused]").text().contains("outside the line")
    });
    browser.press(&format!("{BACKSPACE}12{ENTER}"));
    browser.wait_until("a decision", PATIENCE, || desk(&browser, &plan).steps.len() == 1);
    browser.press(&BACKSPACE.to_string());
    browser.wait_until("the way back", PATIENCE, || desk(&browser, &plan) == start);
    // Closing the tab in the middle loses nothing that was decided.
    let Due::Doubtful(first) = start.due() else { unreachable!() };
    let suggested = start.row(first).and_then(|row| row.suggested_mm);
    if let Some(suggested) = suggested {
        browser.press(&RIGHT.to_string());
        let hairline = browser.find("[data-test=scan-type]").attribute("placeholder");
        assert_eq!(hairline, Some(format!("{:.1}", suggested + 0.5)));
    }
    answer(&browser, truth_of(&start, first));
    browser.wait_until("a decision", PATIENCE, || desk(&browser, &plan).steps.len() == 1);
    browser.reload();
    go_to_pictures(&browser);
    browser.wait_until("the queue", PATIENCE, || browser.has("[data-test=scan-type], [data-test=all-empty]"));
    assert_eq!(desk(&browser, &plan).steps.len(), 1);
    work_through(&browser, &plan);
    let spot = browser.find("[data-test=spot-check]").text();
    assert!(spot.contains(" 0 found wrong by more than 2 mm"), "{spot}");
    let kept = desk(&browser, &plan);
    assert!(browser.find("[data-test=joined-so-far]").text().starts_with("2 of 80 pages so far"));
    browser.find("[data-test=make-study]").click();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=view-scores]"));
    browser.find("[data-test=view-scores]").click();
    browser.wait_until("the table", PATIENCE, || browser.has("[data-test=marks-csv]"));
    browser.catch_saved_files();
    browser.find("[data-test=marks-csv]").click();
    let csv = browser.next_saved_file();
    assert_origin_on_the_card(&browser, &csv, &kept);
    for page in 0..2 {
        let file = kept.file_of(page);
        let truth = TRUTH.iter().find(|(name, _)| *name == file).expect("a fixture").1;
        let scores = scores_of_page(&csv, &plan, &kept, page);
        for (row, (score, truth)) in scores.iter().zip(truth).enumerate() {
            match (score, truth) {
                (Some(score), Some(truth)) => {
                    assert!((score - truth).abs() <= 0.5, "{file}, row {}: {score}, drawn at {truth}", row + 1)
                }
                (score, truth) => assert_eq!(*score, truth, "{file}, row {}", row + 1),
            }
        }
    }
    let marks = kept.rows().filter(|(_, row)| matches!(row.standing_mm(), Entry::Score(_))).count();
    // 21 of the 24 rows were marked.
    assert_eq!(marks, 21);
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn hostile_files_are_refused_by_name_and_a_page_that_comes_twice_is_told() {
    let plan = plan();
    let browser = page_with(&plan);
    // A PNG that claims 60,000 by 60,000 pixels: signature, IHDR with its CRC-32 left at 0, and nothing else.
    let mut bomb = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    bomb.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 0, 0, 0, 0, 0, 0, 0, 0]);
    let file = |name: &str, bytes: &[u8]| DroppedFile { name: name.to_owned(), bytes: bytes.to_vec() };
    let page = std::fs::read(scans().join(TRUTH[0].0)).expect("a fixture");
    let files = [
        file("bomb.png", &bomb),
        file("pages.tiff", b"II*\0"),
        file("pages.pdf", b"%PDF-1.7"),
        file("cut.jpg", &page[..page.len() / 3]),
        file("blank.png", &blank_png()),
        file("page.jpg", &page),
        file("copy.jpg", &page),
    ];
    put_in(&browser, &files, files.len());
    let list = browser.find("[data-test=pictures]").text();
    for said in [
        "60000 by 60000 pixels",
        "a TIFF picture",
        "The PDF has no page",
        "No ballot page was found",
        "the very same file as page.jpg",
    ] {
        assert!(list.contains(said), "{said}: {list}");
    }
    let desk = desk(&browser, &plan);
    // A picture that is cut off a third down is either not opened by the browser or read as no whole page.
    let names: Vec<&str> = desk.pages.iter().map(|page| desk.pictures[page.picture].file.as_str()).collect();
    assert_eq!(names, ["page.jpg"]);
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("scan-refused");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.assert_accessible("filled pages");
    browser.assert_nothing_outside();
}

/// A white picture of 1000 by 1400 pixels, one bit a pixel: no ballot page.
fn blank_png() -> Vec<u8> {
    let chunk = |kind: &[u8], body: &[u8]| {
        let checked = [kind, body].concat();
        let length = (body.len() as u32).to_be_bytes();
        [&length, checked.as_slice(), &crc_32(&checked).to_be_bytes()].concat()
    };
    let head = [&1000_u32.to_be_bytes()[..], &1400_u32.to_be_bytes(), &[1, 0, 0, 0, 0]].concat();
    let line = [&[0_u8][..], &[0xff; 125]].concat();
    let pixels = miniz_oxide::deflate::compress_to_vec_zlib(&line.repeat(1400), 6);
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &head), chunk(b"IDAT", &pixels), chunk(b"IEND", b"")].concat()
}

/// CRC-32 of PNG (ISO/IEC 15948, annex D).
fn crc_32(bytes: &[u8]) -> u32 {
    let step = |crc: u32, byte: &u8| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 })
    };
    !bytes.iter().fold(u32::MAX, step)
}

#[test]
fn the_desk_fits_a_phone_and_reading_leaves_the_page_alive() {
    let plan = plan();
    let browser = page_with(&plan);
    watch_tasks(&browser);
    put_in(&browser, &fixtures(), 2);
    println!("two pictures of 150 dpi: {}", measured(&browser));
    for size in SIZES {
        browser.resize(size);
        bring(&browser, "scan-queue");
        browser.screenshot("scan-desk");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.assert_accessible("the queue of filled pages");
    browser.resize(SIZES[2]);
    while matches!(desk(&browser, &plan).due(), Due::Doubtful(_)) {
        let before = desk(&browser, &plan);
        browser.find("[data-test=scan-no-mark]").click();
        browser.wait_until("a decision", PATIENCE, || desk(&browser, &plan) != before);
    }
    browser.wait_until("the empty rows", PATIENCE, || browser.has("[data-test=empties]"));
    for size in SIZES {
        browser.resize(size);
        bring(&browser, "scan-queue");
        browser.screenshot("scan-empties");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.find("[data-test=has-mark]").click();
    browser.wait_until("a question", PATIENCE, || browser.has("[data-test=asked-why]"));
    assert!(browser.find("[data-test=asked-why]").text().contains("a person sees a mark"));
    browser.find("[data-test=step-back]").click();
    browser.assert_quiet();
}

/// Scrolls to what a picture is to be taken of.
fn bring(browser: &Browser, hook: &str) {
    browser
        .find(&format!("[data-test={hook}]"))
        .script("this_element.scrollIntoView({ block: 'start', behavior: 'instant' })", &[]);
}

/// The card of a score that was read says from which file, page and line, and how it was decided.
fn assert_origin_on_the_card(browser: &Browser, csv: &str, kept: &ScanDesk) {
    let page = &kept.pages[0];
    // The table holds the rows in sight only, so the assessor's pages alone are shown; its rows count from 1.
    browser.find("[data-test=filter-assessor]").choose(&page.assessor);
    let mut own = csv.lines().filter(|line| line.starts_with(&format!("{},", page.assessor)));
    let row = own.position(|line| line.contains(",49.")).expect("the page") + 1;
    browser
        .wait_until("one assessor", PATIENCE, || browser.has("[data-row=\"8\"]") && !browser.has("[data-row=\"9\"]"));
    let find = "return [...document.querySelectorAll('.grid-head [data-column]')].find((head) => head.title === arguments[0]).dataset.column";
    let column = browser.script(find, &[page.rows[0].attribute.clone().into()]);
    let cell = format!("[data-row=\"{row}\"][data-column=\"{}\"]", column.as_str().expect("a column"));
    browser.find(&cell).script("this_element.click()", &[]);
    browser.wait_until("the card", PATIENCE, || browser.has("[data-test=mark-picture]"));
    let origin = browser.find("[data-test=mark-picture]").text();
    assert_eq!(origin, format!("{}, line 1 of the page {}", kept.file_of(0), page.code_text));
    assert!(browser.find("[data-test=mark-how-read]").text().starts_with("read without asking"));
    browser.screenshot("scan-score-card");
}

/// A page as a phone takes it, by its size: a fixture drawn 2.4 times as large, some 12 million pixels, as JPEG.
fn large_picture(browser: &Browser) -> DroppedFile {
    let page = DroppedFile::from_disk(&scans().join(TRUTH[0].0));
    let enlarge = "
        const bytes = Uint8Array.from(atob(arguments[0]), (letter) => letter.charCodeAt(0));
        const small = await createImageBitmap(new Blob([bytes]));
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [Math.round(small.width * 2.4), Math.round(small.height * 2.4)];
        canvas.getContext('2d').drawImage(small, 0, 0, canvas.width, canvas.height);
        return canvas.toDataURL('image/jpeg', 0.9).split(',')[1];";
    let large = browser.script(enlarge, &[STANDARD.encode(&page.bytes).into()]);
    let bytes = STANDARD.decode(large.as_str().expect("base 64")).expect("base 64");
    DroppedFile { name: page.name, bytes }
}

/// Notes every task of more than 50 ms from now on, and the time.
fn watch_tasks(browser: &Browser) {
    browser.script(
        "window.longTasks = []; window.putIn = performance.now();
         new PerformanceObserver((list) => list.getEntries().forEach((one) => window.longTasks.push(one.duration)))
           .observe({ type: 'longtask' });",
        &[],
    );
}

fn measured(browser: &Browser) -> String {
    let script = "return `${Math.round(performance.now() - window.putIn)} ms from the drop to the list, tasks over 50 ms: ${window.longTasks.map(Math.round)}`";
    browser.script(script, &[]).as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_picture_of_twelve_megapixels_is_read_while_the_page_stays_alive() {
    let plan = plan();
    let browser = page_with(&plan);
    let picture = large_picture(&browser);
    watch_tasks(&browser);
    put_in(&browser, &[picture], 1);
    println!("a picture of 12 megapixels: {}", measured(&browser));
    let desk = desk(&browser, &plan);
    let read = desk.rows().filter(|(place, row)| match (row.standing_mm(), truth_of(&desk, *place)) {
        (Entry::Score(score), Some(truth)) => (score - truth).abs() <= 0.5,
        (Entry::Score(_), None) => panic!("{place:?}: a mark where none was drawn"),
        _ => false,
    });
    // 11 of its 12 rows were marked; most of them must be read without asking.
    assert!(read.count() >= 8, "{:?}", desk.counts());
    browser.assert_quiet();
}
