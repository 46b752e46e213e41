//! Headers that are missing, doubled or unclear, and the shapes that tables come in.

use super::*;

#[test]
fn a_missing_header_is_told_and_roles_can_be_stated() {
    let input = PANEL.split_once('\n').unwrap().1;
    let reading = refuse(
        input,
        &["The first row looks like data: there is no row with the names of the columns. Add a first row such as \
           assessor, sample, replicate and the names of the attributes, or say what each column holds."],
    );
    assert_eq!(reading.preview.rows.len(), 12);
    use ColumnRole::{Assessor, AttributeScores, Replicate, Sample};
    let by_column = vec![Assessor, Sample, Replicate, AttributeScores, AttributeScores];
    let reading = read_with(input, |options| options.roles = Some(ColumnRoles { by_column }));
    let study = reading.study.unwrap();
    assert_eq!(study.attributes[0].name, "column 4");
    assert_eq!(study.score_count(), 24);
}

#[test]
fn headers_that_repeat_stay_apart() {
    let reading = check(
        &PANEL.replace("green,ripe", "green,Green"),
        &["column 5 (Green): \"Green\" heads an earlier column as well; this one is called \"Green (column 5)\". \
           Give each column a name of its own."],
    );
    assert_eq!(reading.study.unwrap().attributes[1].name, "Green (column 5)");
}

#[test]
fn headers_in_german_french_and_spanish_are_known() {
    for header in [
        "Prüfer,Probe,Wiederholung",
        "Juge,Produit,Répétition",
        "Evaluador,Muestra,Repetición",
        "Panelist no.,Product,Rep.",
    ] {
        let reading = check(&PANEL.replace("assessor,sample,replicate", header), &[]);
        assert_eq!(reading.preview.counts.replicates, 2);
    }
}

#[test]
fn a_column_known_by_its_content_alone_asks_for_confirmation() {
    let reading = check(
        &PANEL.replace("sample,", "mango,"),
        &["column 2 (mango): The column was taken for the sample by its content alone. Confirm it, or say what the \
           column holds."],
    );
    assert_eq!(reading.preview.counts.samples, 2);
}

#[test]
fn a_table_without_assessors_says_what_a_table_must_have() {
    let reading = refuse(
        "sample,green,ripe\nA,45,62\nB,21,80\nC,30,70\n",
        &[&format!("No column was found for the assessor. {ROLES_HINT}")],
    );
    assert_eq!(reading.questions[0].what, "Which column holds the assessor?");
    assert_eq!(reading.preview.header, ["sample", "green", "ripe"]);
}

#[test]
fn a_second_header_row_of_units_is_left_out() {
    let reading = check(
        &PANEL.replace("green,ripe\n", "green,ripe\n,,,mm,mm\n"),
        &["row 2: \"mm mm\" stands under the header without a score and was taken for a second header row."],
    );
    assert_eq!(reading.preview.counts.scores, 24);
}

#[test]
fn groups_above_names_that_repeat_are_put_in_front() {
    for groups in [",,,odour,flavour\n", ",,,odour,flavour,,\n"] {
        let reading = check(&format!("{groups}{}", PANEL.replace("green,ripe", "ripe,ripe")), &[]);
        understood(&reading, "Headers repeat, so the groups on line 1 were put in front of them.");
        let names: Vec<String> = reading.study.unwrap().attributes.into_iter().map(|one| one.name).collect();
        assert_eq!(names, ["odour ripe", "flavour ripe"]);
    }
}

#[test]
fn names_in_the_second_header_row_are_found() {
    let input = PANEL.replace("green,ripe\n", "odour,\n,,,green,ripe\n");
    let reading = check(
        &input,
        &["row 2: \"green ripe\" stands under the header without a score and was taken for a second header row."],
    );
    assert_eq!(reading.study.unwrap().attributes[1].name, "ripe");
}

#[test]
fn samples_above_attributes_are_read_and_the_other_meanings_offered() {
    let input = ",A,A,B,B\nassessor,green,ripe,green,ripe\nAnna,45,62,21,80\nBen,51,58,30,71\nEva,40,66,18,83\n";
    let reading = check(
        input,
        &[
            "row 1: There are two header rows; the groups of the upper one were read as samples. Confirm it, or say what \
           the upper row names.",
        ],
    );
    let counts = reading.preview.counts;
    assert_eq!((counts.assessors, counts.samples, counts.attributes, counts.scores), (3, 2, 2, 12));
    let study = reading.study.as_ref().unwrap();
    assert_eq!((study.samples[1].name.as_str(), study.attributes[0].name.as_str()), ("B", "green"));
    assert_eq!((study.origin(3, 0).unwrap().row, study.origin(3, 0).unwrap().column), (3, 4));
    assert_eq!(reading.questions[0].what, "What does the upper header row name?");
    let answered = ReadOptions::default().answered(&Answer::GroupsMean(PartsMean::Nothing));
    let reading = read_text("panel.csv", input.as_bytes(), &answered);
    assert_eq!(
        told(&reading),
        [
            "There are two header rows: the upper one seems to name samples, the lower one attributes. Put each sample of \
          an assessor on a row of its own, with the name of the sample in one column."
        ]
    );
}

#[test]
fn replicates_above_attributes_are_replicates() {
    let input = ",,rep 1,,rep 2,\nassessor,sample,green,ripe,green,ripe\nAnna,A,45,62,47,60\nAnna,B,21,80,25,78\n\
                 Ben,A,51,58,55,57\nBen,B,30,71,33,74\nEva,A,40,66,44,61\nEva,B,18,83,22,88\n";
    let reading = check(
        input,
        &["row 1: There are two header rows; the groups of the upper one were read as replicates. Confirm it, or say \
           what the upper row names."],
    );
    let (study, whole) = (reading.study.unwrap(), check(PANEL, &[]).study.unwrap());
    assert_eq!((study.score_count(), study.replicate_count()), (whole.score_count(), 2));
    for (index, serving) in study.servings.iter().enumerate() {
        let same = whole.servings.iter().position(|other| other == serving).expect("the same servings");
        assert_eq!((study.score(index, 0), study.score(index, 1)), (whole.score(same, 0), whole.score(same, 1)));
    }
}

#[test]
fn row_names_without_a_header_are_passed_over() {
    let mut lines = PANEL.lines();
    let mut input = format!("{}\n", lines.next().unwrap());
    lines.enumerate().for_each(|(number, line)| input.push_str(&format!("{},{line}\n", number + 1)));
    let reading = check(&input, &[]);
    understood(
        &reading,
        "The header has one name fewer than the rows have cells, so the first column was taken for row names.",
    );
    score(&reading, 0, 0, Some(45.0));
}

#[test]
fn a_numbered_first_column_is_no_attribute() {
    let mut input = String::new();
    PANEL.lines().enumerate().for_each(|(number, line)| match number {
        0 => input.push_str(&format!(",{line}\n")),
        _ => input.push_str(&format!("{number},{line}\n")),
    });
    let reading = check(&input, &[]);
    understood(&reading, "Not used: column 1.");
    assert_eq!(reading.preview.counts.attributes, 2);
}
