//! Workbooks that are damaged, locked or meant to hurt: always a notice, never a panic, never other scores.

use super::*;
use likeness_tests::workbooks::{Sheet, ods, ods_parts, xlsx, xlsx_parts, zip};

const DAMAGED: &str = "panel.xlsx: The workbook is damaged: a part of it is missing or was changed. Open it in the program \
     that wrote it, save it again, or fetch it again from where it came.";
const TOO_LARGE: &str = "panel.xlsx: The workbook unpacks to more cells than can be read: 3 million filled cells, or 300 MB \
     in all. Copy the scores alone into a new workbook, or save their sheet as CSV.";
const LOCKED: &str =
    "panel.xlsx: The workbook is locked by a password. Open it with the password, take the password off, and save it.";

fn book() -> [Vec<u8>; 2] {
    let sheets = [Sheet::of("Scores", PANEL), Sheet::of("Notes", "a,b\n1,2\n")];
    [xlsx(&sheets), ods(&sheets)]
}

/// The parts of a workbook with one of them changed.
fn changed(parts: Vec<(String, String)>, name: &str, change: impl Fn(&str) -> String) -> Vec<u8> {
    let change = |(own, text): (String, String)| if own.ends_with(name) { (own, change(&text)) } else { (own, text) };
    zip(&parts.into_iter().map(change).collect::<Vec<_>>())
}

#[test]
fn every_damaged_workbook_ends_with_a_notice_and_never_with_other_scores() {
    for whole in book() {
        let scores = |reading: &Reading| {
            let study = reading.study.as_ref()?;
            Some(
                (0..study.servings.len())
                    .map(|index| [study.score(index, 0), study.score(index, 1)])
                    .collect::<Vec<_>>(),
            )
        };
        let expected = scores(&read(&whole)).expect("the whole one loads");
        let mut state = 0x5eed_u64;
        let mut next = |below: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize % below
        };
        for round in 0..600 {
            let mut bytes = whole.clone();
            match round % 3 {
                0 => bytes.truncate(next(whole.len())),
                1 => (0..=next(4)).for_each(|_| bytes[next(whole.len())] ^= 1 << next(8)),
                _ => {
                    let at = next(whole.len());
                    bytes.splice(
                        at..(at + next(40)).min(whole.len()),
                        (0..next(40)).map(|byte| byte as u8).collect::<Vec<_>>(),
                    );
                }
            }
            let reading = read(&bytes);
            match scores(&reading) {
                // The checksum holds every part: what loads is what was saved.
                Some(found) => assert_eq!(found, expected, "round {round}"),
                None => assert!(reading.notices.iter().any(|one| one.severity == Severity::Refused), "round {round}"),
            }
        }
    }
}

#[test]
fn a_workbook_cut_off_is_called_damaged() {
    for whole in book() {
        refuse(read(&whole[..whole.len() / 2]), &[DAMAGED]);
    }
}

#[test]
fn parts_that_are_cut_off_or_missing_are_damage() {
    let sheets = [Sheet::of("Scores", PANEL)];
    let half = |text: &str| text[..text.len() / 2].to_owned();
    refuse(read(&changed(xlsx_parts(&sheets), "sheet1.xml", half)), &[DAMAGED]);
    refuse(read(&changed(ods_parts(&sheets), "content.xml", half)), &[DAMAGED]);
    refuse(read(&changed(xlsx_parts(&sheets), "sharedStrings.xml", half)), &[DAMAGED]);
    let without: Vec<_> = xlsx_parts(&sheets).into_iter().filter(|(name, _)| !name.ends_with("sheet1.xml")).collect();
    refuse(read(&zip(&without)), &[DAMAGED]);
}

#[test]
fn a_tag_that_is_not_closed_is_damage_in_every_part() {
    let sheets = [Sheet::of("Scores", PANEL)];
    let open = |text: &str| format!("{text}<open>");
    for part in [".rels", "workbook.xml.rels", "workbook.xml", "sharedStrings.xml", "styles.xml", "sheet1.xml"] {
        refuse(read(&changed(xlsx_parts(&sheets), part, open)), &[DAMAGED]);
    }
    for part in ["manifest.xml", "content.xml"] {
        refuse(read(&changed(ods_parts(&sheets), part, open)), &[DAMAGED]);
    }
    // A cell left open takes no score from the next one.
    let cell = |text: &str| text.replacen("</c>", "", 1);
    refuse(read(&changed(xlsx_parts(&sheets), "sheet1.xml", cell)), &[DAMAGED]);
}

#[test]
fn a_locked_part_says_so() {
    let mut bytes = xlsx(&[Sheet::of("Scores", PANEL)]);
    let name = bytes.windows(15).rposition(|window| window == b"xl/workbook.xml").expect("listed");
    // The first flag of an entry in the directory: encrypted (PKWARE APPNOTE 6.3.10, 4.4.4).
    bytes[name - 46 + 8] |= 1;
    refuse(read(&bytes), &[LOCKED]);
}

#[test]
fn a_locked_ods_says_so() {
    let lock = |_: &str| {
        "<manifest:manifest><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></manifest:manifest>"
            .to_owned()
    };
    refuse(read(&changed(ods_parts(&[Sheet::of("Scores", PANEL)]), "manifest.xml", lock)), &[LOCKED]);
}

#[test]
fn documents_that_are_no_spreadsheet_say_what_they_are() {
    let letter = zip(&[
        ("[Content_Types].xml".to_owned(), "<Types/>".to_owned()),
        ("_rels/.rels".to_owned(), "<Relationships/>".to_owned()),
    ]);
    let said = told(&read(&letter)).join(" ");
    assert!(said.starts_with("panel.xlsx: By its content this is an office document without a sheet"), "{said}");
    let archive = zip(&[("scores.csv".to_owned(), PANEL.to_owned())]);
    let said = told(&read(&archive)).join(" ");
    assert!(
        said.starts_with("panel.xlsx: By its content this is a zip archive, not a table of scores. Unpack it"),
        "{said}"
    );
}

#[test]
fn a_sheet_that_claims_a_huge_size_is_read_by_what_is_in_it() {
    // A stray cell in the last row and column that a sheet can have costs one row, not a million.
    let stray = |text: &str| {
        text.replace("</sheetData>", "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row></sheetData>")
            .replace("<sheetData>", "<dimension ref=\"A1:XFD1048576\"/><sheetData>")
    };
    let reading = read(&changed(xlsx_parts(&[Sheet::of("Scores", PANEL)]), "sheet1.xml", stray));
    assert!(reading.notices.iter().any(|notice| notice.place.row == Some(1_048_576)), "{:#?}", reading.notices);
}

#[test]
fn bombs_are_refused_before_they_are_unpacked() {
    // One row of sixteen thousand filled cells, repeated a million times.
    let row = "<table:table-row table:number-rows-repeated=\"1048576\"><table:table-cell \
               table:number-columns-repeated=\"16384\" office:value-type=\"float\" office:value=\"1\"/></table:table-row>";
    let bomb = |text: &str| text.replace("</table:table>", &format!("{row}</table:table>"));
    refuse(read(&changed(ods_parts(&[Sheet::of("Scores", PANEL)]), "content.xml", bomb)), &[TOO_LARGE]);
    // One long text that millions of cells repeat.
    let long = "x".repeat(1_000_000);
    let cells: String =
        (1..=2000).map(|row| format!("<row r=\"{row}\"><c r=\"A{row}\" t=\"s\"><v>0</v></c></row>")).collect();
    let many = |text: &str| text.replace("</sheetData>", &format!("{cells}</sheetData>"));
    let parts = xlsx_parts(&[Sheet::of("Scores", "")]);
    let parts: Vec<_> = parts
        .into_iter()
        .map(|(name, text)| match name.as_str() {
            "xl/sharedStrings.xml" => (name, format!("<sst><si><t>{long}</t></si></sst>")),
            "xl/worksheets/sheet1.xml" => (name, many(&text)),
            _ => (name, text),
        })
        .collect();
    refuse(read(&zip(&parts)), &[TOO_LARGE]);
    // A part that unpacks to more than all limits: its size stands in the directory, and nothing is unpacked.
    let mut bytes = xlsx(&[Sheet::of("Scores", PANEL)]);
    let name = bytes.windows(15).rposition(|window| window == b"xl/workbook.xml").expect("listed");
    bytes[name - 46 + 24..name - 46 + 28].copy_from_slice(&u32::MAX.to_le_bytes());
    refuse(read(&bytes), &[TOO_LARGE]);
}

#[test]
fn nested_and_endless_markup_ends() {
    let endless = |text: &str| text.replace("<sheetData>", &format!("{}<sheetData>", "<!-- -->".repeat(50_000)));
    let reading = read(&changed(xlsx_parts(&[Sheet::of("Scores", PANEL)]), "sheet1.xml", endless));
    assert_eq!(reading.preview.counts.scores, 24);
    let entities = |text: &str| {
        text.replace("<worksheet>", "<!DOCTYPE x [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]><worksheet>")
    };
    let reading = read(&changed(xlsx_parts(&[Sheet::of("Scores", PANEL)]), "sheet1.xml", entities));
    assert_eq!(reading.preview.counts.scores, 24);
}
