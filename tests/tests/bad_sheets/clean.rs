//! A panel without a fault has nothing to tell.

use super::*;

#[test]
fn a_clean_panel_has_nothing_to_tell() {
    let reading = check(PANEL, &[]);
    understood(&reading, "Read as one serving a row, one column an attribute; comma between cells, decimal point.");
    understood(&reading, "3 assessors, 2 samples, 2 attributes, 2 replicates: 24 scores.");
    understood(&reading, "The scale was taken as 0 to 100 mm.");
    understood(&reading, "The file gives no serving positions, so effects of order and carry-over can't be checked.");
    score(&reading, 11, 1, Some(88.0));
    let study = reading.study.unwrap();
    assert_eq!(study.faults(), Vec::<String>::new());
    assert_eq!((study.origin(11, 1).unwrap().row, study.origin(11, 1).unwrap().column), (13, 5));
    assert_eq!(study.title, "panel");
    assert_eq!(study.notices, reading.notices);
}

#[test]
fn windows_and_old_mac_line_ends_make_no_difference() {
    let unix = check(PANEL, &[]).study.unwrap();
    for ends in ["\r\n", "\r"] {
        let mut other = check(&PANEL.replace('\n', ends), &[]).study.unwrap();
        other.files = unix.files.clone();
        assert_eq!(unix, other);
    }
}
