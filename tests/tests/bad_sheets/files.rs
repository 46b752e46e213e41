//! Files that are no tables, and encodings.

use super::*;

#[track_caller]
fn refuse_bytes(bytes: &[u8], expected: &str) {
    let reading = read_text("panel.csv", bytes, &ReadOptions::default());
    assert_eq!(told(&reading), [format!("{expected} {READABLE}")]);
    assert!(reading.study.is_none());
}

#[test]
fn files_that_are_no_text_tables_say_what_they_are_and_what_can_be_read() {
    refuse_bytes(b"", "The file is empty.");
    refuse_bytes(b" \r\n\n", "The file is empty.");
    refuse_bytes(
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        "By its content this is an image, not a table of scores. Type the scores into a table first.",
    );
    refuse_bytes(
        b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0\0",
        "By its content this is an old binary document (.xls, .doc), not a table of scores. Open it in a spreadsheet \
         program and save it as .xlsx or .ods.",
    );
    refuse_bytes(
        b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0\0E\0n\0c\0r\0y\0p\0t\0e\0d\0P\0a\0c\0k\0a\0g\0e\0",
        "By its content this is a workbook locked by a password, not a table of scores. Open it with the password, take \
         the password off, and save it.",
    );
    refuse_bytes(
        b"%PDF-1.7\n",
        "By its content this is a PDF document, not a table of scores. Open the table that it was made from.",
    );
    refuse_bytes(b"\x00\x01\x02\x03\x04\x05", "By its content this is a binary file, not a table of scores.");
    refuse_bytes(b"hello\nworld\n", "No separator was found: every line is one single cell. Save the sheet as CSV.");
}

#[test]
fn a_file_of_fifty_megabytes_gets_a_clear_message() {
    let bytes = vec![b'1'; 50_000_001];
    refuse_bytes(
        &bytes,
        "The file is 50.0 MB long; files of up to 50 MB are read. Leave out what is no score, or split it by session.",
    );
}

#[test]
fn encodings_are_found_and_told() {
    let text = PANEL.replace("Eva", "Zoé").replace("green", "grün");
    let utf16 = |bytes: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(bytes).collect::<Vec<u8>>();
    let latin: Vec<u8> = text.chars().map(|c| c as u8).collect();
    let marked = |mark: &[u8], rest: &[u8]| [mark, rest].concat();
    let cases = [
        (text.as_bytes().to_vec(), "UTF-8", false),
        (marked(b"\xEF\xBB\xBF", text.as_bytes()), "UTF-8", false),
        (marked(b"\xFF\xFE", &utf16(u16::to_le_bytes)), "UTF-16LE", false),
        (marked(b"\xFE\xFF", &utf16(u16::to_be_bytes)), "UTF-16BE", false),
        (utf16(u16::to_le_bytes), "UTF-16LE", true),
        (utf16(u16::to_be_bytes), "UTF-16BE", true),
        (latin, "Windows-1252", true),
    ];
    for (bytes, encoding, is_told) in cases {
        let reading = read_text("panel.csv", &bytes, &ReadOptions::default());
        assert_eq!(reading.preview.encoding, encoding);
        let study = reading.study.as_ref().expect(encoding);
        assert_eq!((study.assessors[2].name.as_str(), study.attributes[0].name.as_str()), ("Zoé", "grün"));
        let sentence = format!("The file is not in UTF-8 and was read as {encoding}.");
        assert_eq!(reading.notices.iter().any(|notice| notice.what == sentence), is_told, "{encoding}");
    }
}

#[test]
fn a_header_alone_has_no_rows() {
    refuse(
        "assessor,sample,replicate,green\n",
        &["There is not one row under the header. Check that the right file was saved."],
    );
}

#[test]
fn a_table_without_one_usable_score_says_so() {
    refuse(
        "assessor,sample,attribute,score\nAnna,A,green,\nBen,A,green,NA\n",
        &[
            "No column was found for the scores. A table of panel scores has a column that names the assessor, one that \
           names the sample, and either one column per attribute or an attribute column beside a score column.",
        ],
    );
}
