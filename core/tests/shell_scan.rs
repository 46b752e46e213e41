//! `likeness scan` as a shell runs it: generated pages with known marks, and files that are no picture of a page.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PICTURES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/scans");

/// Where the generator drew the marks, in mm; nothing where it left the row empty.
const TRUTH: [(&str, [Option<f64>; 12]); 2] = include!("scans/truth.in");

fn likeness(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_likeness")).args(arguments).output().expect("the shell program runs")
}

fn in_tmp(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(name)
}

/// A plan of its own for each test, so that tests don't wait for each other.
fn plan(name: &str) -> String {
    let path = in_tmp(name).to_str().expect("a plain path").to_owned();
    let words = format!("{PICTURES}/words.csv");
    let made = "plan draft --assessors 10 --samples 4 --replicates 2 --paper a4 --seed 8 --attributes";
    let output = likeness(&made.split(' ').chain([words.as_str(), "--out", &path]).collect::<Vec<_>>());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    path
}

fn scanned(plan: &str, pictures: &[&str]) -> Value {
    let output = likeness(&[&["scan", plan, "--json"], pictures].concat());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

#[test]
fn generated_pages_are_read_where_they_were_marked() {
    let plan = plan("scan plan.json");
    let pictures = TRUTH.map(|(name, _)| format!("{PICTURES}/{name}"));
    let answer = scanned(&plan, &[&pictures[0], &pictures[1]]);
    let pages = answer["pages"].as_array().expect("pages");
    assert_eq!(pages.len(), 2);
    let mut read = 0;
    for (page, (name, truth)) in pages.iter().zip(&TRUTH) {
        assert_eq!((page["file"].as_str(), page["status"].as_str()), (Some(*name), Some("read")));
        let rows = page["rows"].as_array().expect("rows");
        assert_eq!(rows.len(), truth.len());
        for (row, truth) in rows.iter().zip(truth) {
            match (row["state"].as_str(), truth) {
                (Some("ask"), _) | (Some("empty"), None) => (),
                (Some("read"), Some(truth)) => {
                    read += 1;
                    assert!((row["score_mm"].as_f64().expect("a score") - truth).abs() < 0.6, "{name}: {row}");
                }
                _ => panic!("{name}: {row} where {truth:?} was drawn"),
            }
        }
    }
    // 21 of the 24 rows hold a mark; most of them must be read without asking.
    assert!(read >= 16, "{read} rows read");
}

/// A scanner's PDF with JPEG pictures, each a page.
fn pdf_of(jpegs: &[&str]) -> Vec<u8> {
    let kids: String = (0..jpegs.len()).map(|page| format!("{} 0 R ", 3 * page + 3)).collect();
    let mut pdf =
        format!("%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[{kids}]>>endobj\n")
            .into_bytes();
    for (page, jpeg) in jpegs.iter().enumerate() {
        let [number, content, image] = [3, 4, 5].map(|first| 3 * page + first);
        let data = std::fs::read(jpeg).expect("a picture of the tests");
        let head = format!(
            "{number} 0 obj<</Type/Page/Parent 2 0 R/Resources<</XObject<</Im {image} 0 R>>>>/Contents {content} 0 R>>endobj\n\
             {content} 0 obj<</Length 6>>stream\n/Im Do\nendstream endobj\n{image} 0 obj<</Subtype/Image/Width 1240/Height \
             1754/ColorSpace/DeviceGray/BitsPerComponent 8/Filter/DCTDecode/Length {}>>stream\n",
            data.len()
        );
        pdf.extend(head.into_bytes().into_iter().chain(data).chain(*b"\nendstream endobj\n"));
    }
    pdf.extend(b"trailer<</Root 1 0 R>>");
    pdf
}

#[test]
fn a_pdf_of_a_scanner_is_read_as_its_pictures_are() {
    let plan = plan("scan pdf plan.json");
    let pictures = TRUTH.map(|(name, _)| format!("{PICTURES}/{name}"));
    let pdf = in_tmp("both.pdf").to_str().expect("a plain path").to_owned();
    std::fs::write(&pdf, pdf_of(&[&pictures[0], &pictures[1]])).expect("a file can be written");
    let (as_pdf, as_pictures) = (scanned(&plan, &[&pdf]), scanned(&plan, &[&pictures[0], &pictures[1]]));
    for page in 0..2 {
        assert_eq!(as_pdf["pages"][page]["file"], format!("both.pdf, page {}", page + 1));
        assert_eq!(as_pdf["pages"][page]["rows"], as_pictures["pages"][page]["rows"]);
        assert_eq!(as_pdf["pages"][page]["status"], "read");
    }
}

#[test]
fn files_that_are_no_picture_of_a_page_are_told() {
    let plan = plan("scan refused plan.json");
    // A PNG that claims 60,000 by 60,000 pixels: signature, IHDR with its CRC-32 left at 0, and nothing else.
    let mut bomb = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    bomb.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 0, 0, 0, 0, 0, 0, 0, 0]);
    let files: [(&str, &[u8], &str); 8] = [
        ("empty.png", b"", "empty"),
        ("letter.txt", b"Dear panel", "no picture"),
        ("pages.pdf", b"%PDF-1.7", "The PDF"),
        ("pages.tif", b"II*\0 and so on", "a TIFF picture"),
        ("photo.heic", b"\0\0\0\x18ftypheic", "a HEIC picture"),
        ("photo.webp", b"RIFF\0\0\0\0WEBPVP8 ", "a WebP picture"),
        ("cut.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF", "damaged"),
        ("bomb.png", &bomb, "PNG"),
    ];
    let paths = files.map(|(name, bytes, _)| {
        let path = in_tmp(name);
        std::fs::write(&path, bytes).expect("a file can be written");
        path.to_str().expect("a plain path").to_owned()
    });
    let answer = scanned(&plan, &paths.iter().map(String::as_str).collect::<Vec<_>>());
    for (page, (name, _, said)) in answer["pages"].as_array().expect("pages").iter().zip(files) {
        assert_eq!((page["file"].as_str(), page["status"].as_str()), (Some(name), Some("failed")));
        assert!(page["why"].as_str().expect("a reason").contains(said), "{page}");
    }
}

#[test]
fn the_demo_pages_are_written_and_read() {
    let folder = in_tmp("demo pages");
    let folder = folder.to_str().expect("a plain path");
    let output = likeness(&["plan", "demo-pages", "--out", folder, "--seed", "3"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let pictures = ["page-001.png", "page-007.png", "page-012.png"].map(|name| format!("{folder}/{name}"));
    let answer = scanned(&format!("{folder}/plan.json"), &pictures.each_ref().map(String::as_str));
    for page in answer["pages"].as_array().expect("pages") {
        assert_eq!(page["status"], "read", "{page}");
        let rows = page["rows"].as_array().expect("rows");
        // Of 100 rows that are drawn 95 hold one plain stroke.
        assert!(rows.iter().filter(|row| row["state"] == "read").count() * 10 >= rows.len() * 8, "{page}");
    }
}

#[test]
fn a_test_page_is_written_at_true_size_with_its_strokes() {
    let path = in_tmp("test page.svg");
    let output = likeness(&["plan", "test-page", "--paper", "letter", "--out", path.to_str().expect("a plain path")]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let svg = std::fs::read_to_string(&path).expect("the page");
    assert!(svg.contains("width=\"215.9mm\" height=\"279.4mm\""), "{}", &svg[..200]);
    // The first stroke is upright in the middle of the line, which ends 34 mm before the edge: 215.9 - 34 - 50 = 131.9.
    assert!(svg.contains("x1=\"131.9\"") && svg.contains("printed at 50.0 mm"), "no stroke in the middle");
}
