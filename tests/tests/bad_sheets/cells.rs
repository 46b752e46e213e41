//! Cells that hold no score.

use super::*;

#[test]
fn signs_for_no_score_are_missing() {
    for sign in ["", "-", ".", "NA", "n/a", "NaN", "null", "  "] {
        let reading = check(&PANEL.replace("45,62", &format!("{sign},62")), &[]);
        score(&reading, 0, 0, None);
        score(&reading, 0, 1, Some(62.0));
        understood(&reading, "1 of 24 scores are missing.");
    }
}

#[test]
fn scores_outside_the_scale_are_listed_and_never_averaged() {
    let input = PANEL.replace("45,62", "105,62").replace("47,60", "-3,60").replace("25,78", "250,78");
    let reading = check(
        &input,
        &[
            "row 2, column 4 (green): 105 is outside the scale 0 to 100; it was read as missing. Put the score right \
             in the file, or leave it missing.",
            "row 3, column 4 (green): -3 is outside the scale 0 to 100; it was read as missing. Put the score right \
             in the file, or leave it missing.",
            "row 5, column 4 (green): 250 is outside the scale 0 to 100; it was read as missing. Was 25.0 meant? Put \
             the score right in the file.",
        ],
    );
    assert_eq!(reading.preview.counts.missing, 3);
    assert_eq!(reading.study.unwrap().log[0].what, "On reading, 3 scores outside the scale read as missing.");
}

#[test]
fn dates_and_spreadsheet_errors_are_shown_and_missing() {
    let input = PANEL
        .replace("45,62", "05.12.2024,62")
        .replace("47,60", "#REF!,60")
        .replace("21,80", "12-May,80")
        .replace("51,58", "#N/A,58")
        .replace("25,78", "strong,78");
    let reading = check(
        &input,
        &[
            "row 2, column 4 (green): \"05.12.2024\" is a date, not a score; it was read as missing. A spreadsheet \
             may have turned a score such as 5.12 into a date: put the score back.",
            "row 4, column 4 (green): \"12-May\" is a date, not a score; it was read as missing. A spreadsheet may \
             have turned a score such as 5.12 into a date: put the score back.",
            "row 3, column 4 (green): \"#REF!\" is a spreadsheet error; it was read as missing. Put the score back.",
            "row 6, column 4 (green): \"#N/A\" is a spreadsheet error; it was read as missing. Put the score back.",
            "row 5, column 4 (green): \"strong\" is no number; it was read as missing. Write the number alone, or \
             leave the cell empty.",
        ],
    );
    assert_eq!(reading.preview.counts.missing, 5);
}

#[test]
fn many_alike_are_told_twenty_times_and_then_counted() {
    let mut input = String::from("assessor,sample,replicate,green,ripe\n");
    for assessor in 0..10 {
        for sample in 0..10 {
            let green = if sample < 3 { "#N/V".to_owned() } else { (40 + sample).to_string() };
            input.push_str(&format!("J{assessor},S{sample},1,{green},{}\n", 30 + assessor));
        }
    }
    let reading = read(&input);
    let told = told(&reading);
    assert_eq!(told.len(), 21);
    assert_eq!(told[20], "And 10 more like the 20 told one by one: 30 spreadsheet errors in score columns in all.");
    let log = &reading.study.unwrap().log;
    assert_eq!(log[0].what, "On reading, 30 spreadsheet errors in score columns read as missing.");
}

#[test]
fn minus_one_and_ninety_nine_are_asked() {
    let reading = check(
        &PANEL.replace("45,62", "-1,62").replace("47,60", "-1,60"),
        &[
            "row 2, column 4 (green): -1 stands in 2 cells and is outside the scale; read as missing. Say whether it is \
           the code for \"no score\".",
        ],
    );
    let question = &reading.questions[0];
    assert_eq!(question.what, "Does -1 mean \"no score\"? It stands in 2 cells.");
    assert_eq!((question.places.len(), question.stops, question.field), (2, false, "missing_codes"));
    let answered = ReadOptions::default().answered(&question.choices[0].answer);
    let reading = read_text("panel.csv", PANEL.replace("45,62", "-1,62").as_bytes(), &answered);
    assert_eq!(told(&reading), ["-1 was read as \"no score\" in 1 cell."]);
}

#[test]
fn ninety_nine_inside_the_scale_stays_until_the_person_says_otherwise() {
    let input = PANEL.replace("45,62", "99,62").replace("47,60", "99,60").replace("21,80", "99,80");
    let reading = check(
        &input,
        &["row 2, column 4 (green): 99 stands in 3 cells and hardly any other score is as high; it was kept as a \
           score. Say whether it is the code for \"no score\"."],
    );
    score(&reading, 0, 0, Some(99.0));
    let missing = ReadOptions::default().answered(&Answer::Missing(99.0));
    let reading = read_text("panel.csv", input.as_bytes(), &missing);
    score(&reading, 0, 0, None);
    let kept = ReadOptions::default().answered(&Answer::Score(99.0));
    assert_eq!(told(&read_text("panel.csv", input.as_bytes(), &kept)), Vec::<String>::new());
}
