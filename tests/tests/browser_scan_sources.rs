//! Where filled pages come from besides pictures, in the real page: a scanner's PDF, the test page, the invented pages.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::test_page::{TEST_MARKS, test_page_svg};
use likeness_core::plan::data_entry::entry::Entry;
use likeness_core::scan::{demo_pages, demo_plan};
use likeness_core::scan_desk::desk::DeskRowState;
use likeness_core::scan_desk::picture_file::{PictureFile, picture_file};
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::filled_pages::{TRUTH, desk, go_to_pictures, page_with, plan, put_in, scans};
use likeness_tests::pdf_lines::{page_sizes_mm, printed_lines};
use serde_json::json;

/// A PDF as a scanner writes it: one JPEG picture a page, drawn over the whole of it. The last page has none.
fn pdf_of(pictures: &[Vec<u8>]) -> Vec<u8> {
    let mut pdf = b"%PDF-1.4\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj\n".to_vec();
    let pages: Vec<usize> = (0..=pictures.len()).map(|page| 3 + 3 * page).collect();
    let kids: String = pages.iter().map(|page| format!("{page} 0 R ")).collect();
    pdf.extend(format!("2 0 obj <</Type/Pages/Kids[{kids}]/Count {}>> endobj\n", pages.len()).bytes());
    for (page, jpeg) in pages.iter().zip(pictures) {
        let Ok(PictureFile::Picture { width, height }) = picture_file(jpeg) else { panic!("a fixture is a picture") };
        let (image, content) = (page + 1, page + 2);
        pdf.extend(
            format!(
                "{page} 0 obj <</Type/Page/Parent 2 0 R/Resources<</XObject<</P {image} 0 R>>>>/Contents {content} 0 R>> endobj\n\
                 {content} 0 obj <</Length 29>>stream\nq 595 0 0 842 0 0 cm /P Do Q \nendstream endobj\n\
                 {image} 0 obj <</Type/XObject/Subtype/Image/Width {width}/Height {height}/ColorSpace/DeviceGray\
                 /BitsPerComponent 8/Filter/DCTDecode/Length {}>>stream\n",
                jpeg.len()
            )
            .bytes(),
        );
        pdf.extend(jpeg);
        pdf.extend(b"\nendstream endobj\n");
    }
    let empty = pages[pictures.len()];
    pdf.extend(format!("{empty} 0 obj <</Type/Page/Parent 2 0 R>> endobj\ntrailer <</Root 1 0 R>>\n%%EOF\n").bytes());
    pdf
}

fn listed(browser: &Browser) -> String {
    browser.find("[data-test=pictures]").text()
}

#[test]
fn a_scanners_pdf_is_read_page_by_page_and_what_is_wrong_with_one_is_told_of_that_one() {
    let plan = plan();
    let browser = page_with(&plan);
    let jpegs = TRUTH.map(|(name, _)| std::fs::read(scans().join(name)).expect("a fixture"));
    let file = DroppedFile { name: "scan.pdf".to_owned(), bytes: pdf_of(&jpegs) };
    put_in(&browser, std::slice::from_ref(&file), 3);
    let kept = desk(&browser, &plan);
    let names: Vec<&str> = kept.pictures.iter().map(|picture| picture.file.as_str()).collect();
    assert_eq!(names, ["scan.pdf, page 1", "scan.pdf, page 2", "scan.pdf, page 3"]);
    assert!(listed(&browser).contains("holds no scanned picture"), "{}", listed(&browser));
    assert_eq!(kept.pages.len(), 2);
    for (place, row) in kept.rows() {
        let truth = TRUTH[place.page].1[place.row];
        match (row.state, row.suggested_mm) {
            (DeskRowState::Read, Some(mark)) => {
                let truth = truth.expect("a mark was drawn");
                assert!((mark - truth).abs() <= 0.5, "{place:?}: {mark}, drawn at {truth}");
            }
            (DeskRowState::Empty, _) => assert_eq!(truth, None, "{place:?}"),
            _ => {}
        }
    }
    // The very same file once more: each of its pages is told to have come, and the one without a picture again.
    put_in(&browser, &[file], 6);
    assert_eq!(listed(&browser).matches("the very same file as scan.pdf, page").count(), 2, "{}", listed(&browser));
    assert_eq!(desk(&browser, &plan).pages, kept.pages);
    browser.screenshot("scan-pdf");
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

/// The printed test page as a scanner of 200 dpi without any fault sees it.
fn scanned_test_page(browser: &Browser) -> DroppedFile {
    let svg = test_page_svg(Paper::A4).expect("the page prints");
    let draw = "
        const picture = new Image();
        picture.src = 'data:image/svg+xml;base64,' + arguments[0];
        await picture.decode();
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [1654, 2339];
        const context = canvas.getContext('2d');
        context.fillStyle = 'white';
        context.fillRect(0, 0, canvas.width, canvas.height);
        context.drawImage(picture, 0, 0, canvas.width, canvas.height);
        return canvas.toDataURL('image/png').split(',')[1];";
    let data = browser.script(draw, &[STANDARD.encode(svg).into()]);
    DroppedFile {
        name: "test.png".to_owned(),
        bytes: STANDARD.decode(data.as_str().expect("base 64")).expect("base 64"),
    }
}

#[test]
fn a_test_page_is_printed_and_what_comes_back_is_told() {
    let plan = plan();
    let browser = page_with(&plan);
    browser.script("window.printed = 0; window.print = () => { window.printed += 1; };", &[]);
    browser.find("[data-test=test-page] summary").click();
    browser.find("[data-test=print-test-page]").click();
    browser.wait_until("printing", PATIENCE, || browser.script("return window.printed", &[]) == json!(1));
    let answer = browser.cdp("Page.printToPDF", &json!({ "preferCSSPageSize": true, "printBackground": true }));
    let pdf = STANDARD.decode(answer["data"].as_str().expect("a PDF")).expect("base 64");
    assert_eq!(page_sizes_mm(&pdf).len(), 1, "the test page and nothing else is printed");
    // Every line for marks is 100 mm long (plan/ballot/geometry.rs), and so is the bar that checks the print.
    let long = printed_lines(&pdf).concat().iter().filter(|line| (line.length_mm() - 100.0).abs() < 0.2).count();
    assert!(long >= TEST_MARKS.len(), "{long} lines of 100 mm");
    browser.wait_until("the page again", PATIENCE, || !browser.has("[data-test=test-sheet]"));
    let file = scanned_test_page(&browser);
    put_in(&browser, &[file], 1);
    let said = listed(&browser);
    assert!(said.contains("This is the test page") && said.contains("mm on average"), "{said}");
    let so_far = browser.find("[data-test=pages-so-far]").text();
    assert!(so_far.starts_with("0 of ") && so_far.contains("1 test page"), "{so_far}");
    assert!(desk(&browser, &plan).pages.is_empty());
    println!("{said}");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("scan-test-page");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.assert_accessible("a test page that came back");
    browser.assert_quiet();
}

#[test]
fn invented_pages_are_read_as_they_were_drawn_without_a_plan_of_ones_own() {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=plan-a-tasting]").click();
    go_to_pictures(&browser);
    browser.screenshot("scan-offer");
    browser.find("[data-test=try-demo]").click();
    // The pages of the page's own seed, drawn here once more.
    let (plan, pages) = (demo_plan(1).expect("a sound plan"), demo_pages(1).expect("a sound plan"));
    let rows = || browser.script("return document.querySelectorAll('[data-test=pictures] tbody tr').length", &[]);
    browser.wait_until("all pages", 8 * PATIENCE, || rows().as_u64() == Some(pages.len() as u64));
    browser.wait_until("the end of reading", PATIENCE, || !browser.has("[data-test=stop-reading]"));
    let kept = desk(&browser, &plan);
    assert_eq!(kept.pages.len(), pages.len());
    let mut read = 0;
    for (place, row) in kept.rows() {
        let drawn = &pages[place.page];
        assert_eq!(kept.file_of(place.page), format!("invented {}", drawn.name));
        if let (DeskRowState::Read, Entry::Score(mark)) = (row.state, row.standing_mm()) {
            let truth = drawn.marks_mm[place.row].expect("a mark was drawn");
            assert!((mark - truth).abs() < 0.4, "{place:?}: {mark}, drawn at {truth}");
            read += 1;
        }
    }
    assert!(read * 100 >= 85 * kept.rows().count(), "{read} of {} lines", kept.rows().count());
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("scan-demo");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.assert_quiet();
    browser.assert_nothing_outside();
}
