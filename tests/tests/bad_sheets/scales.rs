//! Scales, and scores outside them.

use super::*;

fn on_scale(factor: f64) -> String {
    let mut input = String::from("assessor,sample,replicate,green,ripe\n");
    for (row, line) in PANEL.lines().enumerate().filter(|(row, _)| *row > 0) {
        let cells: Vec<&str> = line.split(',').collect();
        let scaled = |cell: &str| (cell.parse::<f64>().unwrap() * factor * 10.0).round() / 10.0;
        let (green, ripe) = (scaled(cells[3]), scaled(cells[4]));
        input.push_str(&format!("{},{},{},{green},{ripe}\n", cells[0], cells[1], cells[2]));
        assert!(row > 0);
    }
    input
}

#[test]
fn a_line_of_ten_or_fifteen_is_understood_from_the_scores() {
    let reading = check(&on_scale(0.1), &[]);
    understood(&reading, "The highest score is 8.8, so the scale was taken as 0 to 10 points.");
    let reading = check(&on_scale(0.15), &[]);
    understood(&reading, "The highest score is 13.2, so the scale was taken as 0 to 15 points.");
    let study = reading.study.unwrap();
    assert_eq!((study.scale.maximum, study.scale.unit.as_str()), (15.0, "points"));
    assert!((study.settings.margin.width_mm - 1.5).abs() < 1e-12);
}

#[test]
fn a_stated_scale_is_kept() {
    let reading = read_with(&on_scale(0.1), |options| options.scale_maximum = Some(100.0));
    assert_eq!(told(&reading), Vec::<String>::new());
    assert!((reading.study.unwrap().scale.maximum - 100.0).abs() < 1e-12);
}

#[test]
fn categories_from_one_to_nine_start_at_one() {
    let input = PANEL.lines().enumerate().map(|(row, line)| match row {
        0 => format!("{line}\n"),
        _ => format!("{},{},{}\n", line.rsplitn(3, ',').last().unwrap(), 1 + row % 8, 2 + row % 8),
    });
    let reading = check(&input.collect::<String>(), &[]);
    let scale = reading.study.unwrap().scale;
    assert_eq!((scale.minimum, scale.maximum), (1.0, 9.0));
}

#[test]
fn a_slip_does_not_stretch_a_short_scale() {
    let mut input = on_scale(0.1);
    for assessor in ["Ida", "Jo", "Kim"] {
        input.push_str(
            &on_scale(0.1)
                .lines()
                .skip(1)
                .filter(|line| line.starts_with("Anna"))
                .fold(String::new(), |text, line| text + &line.replace("Anna", assessor) + "\n"),
        );
    }
    let input = input.replacen("Anna,A,1,4.5", "Anna,A,1,45", 1);
    check(
        &input,
        &["row 2, column 4 (green): 45 is outside the scale 0 to 10; it was read as missing. Was 4.5 meant? Put the \
           score right in the file."],
    );
}

#[test]
fn one_assessor_on_a_shorter_scale_is_flagged_with_the_evidence() {
    let mut input = PANEL.to_owned();
    for line in on_scale(0.15).lines().filter(|line| line.starts_with("Ben")) {
        input.push_str(&format!("{}\n", line.replace("Ben", "Ida")));
    }
    check(
        &input,
        &[
            "All 8 scores of assessor Ida are 11.1 or less, while half of the others' are above 57: Ida may have used a \
           scale of 0 to 15. Ask, and put the scores right or exclude the assessor with that reason.",
        ],
    );
}

#[test]
fn many_scores_above_a_hundred_ask_for_the_scale() {
    let input = on_scale(1.4);
    let reading =
        refuse(&input, &["5 of 24 scores are above 100, the highest is 123.2. State the maximum of the scale."]);
    assert_eq!(reading.questions[0].what, "What is the highest score that the scale allows?");
    assert_eq!(reading.questions[0].field, "scale_maximum");
    let reading = read_with(&input, |options| options.scale_maximum = Some(150.0));
    assert_eq!(told(&reading), Vec::<String>::new());
}
