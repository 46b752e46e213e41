//! `likeness scan` as a shell runs it: generated pages with known marks, and files that are no picture of a page.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PICTURES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/scans");

/// Where the generator drew the marks, in mm; nothing where it left the row empty.
const TRUTH: [(&str, [Option<f64>; 12]); 2] = [
    (
        "zeros_8_007.jpg",
        [
            Some(49.489),
            Some(72.127),
            Some(0.0),
            Some(0.0),
            Some(0.008),
            Some(24.236),
            None,
            Some(0.367),
            Some(13.584),
            Some(17.425),
            Some(77.339),
            Some(0.0),
        ],
    ),
    (
        "zeros_8_015.jpg",
        [
            Some(68.51),
            Some(0.012),
            Some(0.0),
            Some(0.0),
            Some(79.242),
            Some(15.641),
            Some(0.0),
            Some(92.459),
            None,
            Some(39.296),
            None,
            Some(0.0),
        ],
    ),
];

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

#[test]
fn files_that_are_no_picture_of_a_page_are_told() {
    let plan = plan("scan refused plan.json");
    // A PNG that claims 60,000 by 60,000 pixels: signature, IHDR with its CRC-32 left at 0, and nothing else.
    let mut bomb = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    bomb.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 0, 0, 0, 0, 0, 0, 0, 0]);
    let files: [(&str, &[u8], &str); 5] = [
        ("empty.png", b"", "empty"),
        ("letter.txt", b"Dear panel", "no picture"),
        ("pages.pdf", b"%PDF-1.7", "a PDF"),
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
