//! Scores that stand twice, and replicates.

use super::*;

#[test]
fn the_same_score_twice_counts_once() {
    let reading = check(
        &format!("{PANEL}Ben,A,1,51,58\n"),
        &[
            "row 14, column 4 (green): The same score, 51, stands in row 6 already; it was counted once.",
            "row 14, column 5 (ripe): The same score, 58, stands in row 6 already; it was counted once.",
        ],
    );
    assert_eq!(reading.preview.counts.scores, 24);
    assert_eq!(reading.study.unwrap().log[0].what, "On reading, 2 repeated scores counted once.");
}

#[test]
fn two_different_scores_for_one_cell_stop_and_show_both() {
    let input = format!("{PANEL}Ben,A,1,15,58\n");
    let reading = read(&input);
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading)[0],
        "row 14, column 4 (green): Assessor Ben, sample A, replicate 1, green has two scores: 51 in row 6 and 15 in \
         row 14. Say which of them counts."
    );
    let question = &reading.questions[0];
    assert_eq!(question.what, "1 cell has two different scores. Which one counts?");
    let rows: Vec<Option<u32>> = question.places.iter().map(|place| place.row).collect();
    assert_eq!((rows, question.field, question.stops), (vec![Some(6), Some(14)], "duplicates", true));
    for (choice, expected) in [(DuplicateChoice::KeepFirst, 51.0), (DuplicateChoice::KeepLast, 15.0)] {
        let reading = read_with(&input, |options| options.duplicates = choice);
        score(&reading, 4, 0, Some(expected));
        assert!(told(&reading)[0].ends_with(&format!("15 in row 14. {expected} was kept.")), "{:?}", told(&reading));
    }
}

#[test]
fn replicates_without_numbers_are_counted_in_file_order_after_asking() {
    let input = PANEL.replace("replicate,", "").replace(",1,", ",").replace(",2,", ",");
    let reading = refuse(
        &input,
        &["row 2, column 3 (green): 12 cells of assessor, sample and attribute are scored more than once, and no \
           column numbers the replicates. Have them numbered by the order of rows, or say which score counts."],
    );
    assert_eq!(reading.questions[0].field, "number_replicates_in_file_order");
    let answered = ReadOptions::default().answered(&reading.questions[0].choices[0].answer);
    let reading = read_text("panel.csv", input.as_bytes(), &answered);
    assert_eq!(told(&reading), ["The replicates were numbered by the order of rows in the file."]);
    assert_eq!(reading.study.as_ref().unwrap().servings, check(PANEL, &[]).study.unwrap().servings);
}

#[test]
fn sessions_count_as_replicates_where_nothing_else_does() {
    let reading = check(&PANEL.replace("replicate", "session"), &[]);
    understood(
        &reading,
        "No column numbers the replicates, so the sessions of each assessor and sample were counted as such.",
    );
    assert_eq!((reading.preview.counts.replicates, reading.preview.counts.sessions), (2, 2));
}

#[test]
fn replicates_may_be_words() {
    let reading = check(&PANEL.replace(",1,", ",R1,").replace(",2,", ",R2,"), &[]);
    assert_eq!(reading.preview.counts.replicates, 2);
    let reading = check(&PANEL.replace(",1,", ",first,").replace(",2,", ",second,"), &[]);
    assert_eq!(reading.preview.counts.replicates, 2);
    understood(&reading, "\"second\" was read as replicate 2.");
}

#[test]
fn a_blank_replicate_leaves_its_row_out() {
    let reading = check(
        &PANEL.replace("Ben,A,1", "Ben,A,"),
        &["row 6, column 3 (replicate): The row names no replicate and was left out. Fill in the number of the \
           replicate."],
    );
    assert_eq!(reading.preview.counts.scores, 22);
}

#[test]
fn positions_are_kept_where_the_file_gives_them() {
    let input = PANEL.replace("replicate,", "replicate,position,").replace(",1,", ",1,3,").replace(",2,", ",2,4,");
    let reading = check(&input, &[]);
    assert!(!reading.notices.iter().any(|notice| notice.what.contains("serving positions")));
    assert_eq!(reading.study.unwrap().servings[1].position, Some(4));
}
