//! Whose column it is: an assessor by its header or the person's word, never because nothing else is left.

use super::*;
use likeness_core::read::{GivenFile, StatedRole, read_files};
use std::sync::Arc;

/// Means of four samples from two suppliers; nobody's scores.
const MEANS: &str = "sample,supplier,batch,green,ripe\nA,North,L1,45,62\nB,North,L1,21,80\nC,South,L2,30,70\n\
     D,South,L2,33,71\n";

/// The same without a column headed as one of samples: batch is the weaker word for one.
const MEANS_BY_BATCH: &str =
    "supplier,batch,green,ripe\nNorth,L1,45,62\nNorth,L2,21,80\nSouth,L1,30,70\nSouth,L2,33,71\n";

fn files(texts: &[(&str, &str)]) -> Vec<GivenFile> {
    let given =
        |(name, text): &(&str, &str)| GivenFile { name: (*name).to_owned(), bytes: Arc::new(text.as_bytes().to_vec()) };
    texts.iter().map(given).collect()
}

fn answer_to(reading: &Reading, label: &str) -> Answer {
    let choices = reading.questions.iter().flat_map(|question| &question.choices);
    let labels: Vec<&str> = choices.clone().map(|choice| choice.label.as_str()).collect();
    choices.clone().find(|choice| choice.label == label).unwrap_or_else(|| panic!("{labels:?}")).answer.clone()
}

const NOBODY: &str = "Nobody: these are means over a panel, for profile and map only";

#[test]
fn a_supplier_is_no_assessor_and_means_are_asked_about() {
    for input in [MEANS, MEANS_BY_BATCH] {
        let reading = refuse(input, &[&format!("No column was found for the assessor. {ROLES_HINT}")]);
        assert_eq!(reading.preview.counts.assessors, 0);
        let labels: Vec<&str> = reading.questions[0].choices.iter().map(|choice| choice.label.as_str()).collect();
        assert!(labels.contains(&"\"supplier\" names the assessor") && labels.contains(&NOBODY), "{labels:?}");
        let means = ReadOptions::default().answered(&answer_to(&reading, NOBODY));
        // Each batch has two rows: whether these are replicates is another question.
        let means = means.answered(&Answer::NumberReplicates);
        let study = read_text("panel.csv", input.as_bytes(), &means).study.expect("means of samples");
        assert_eq!((study.assessors.len(), study.assessors[0].name.as_str()), (1, "mean of the panel"));
    }
}

#[test]
fn the_word_of_the_person_makes_a_column_the_assessor() {
    let reading = read(MEANS_BY_BATCH);
    let word = answer_to(&reading, "\"supplier\" names the assessor");
    let reading = read_with(MEANS_BY_BATCH, |options| *options = options.clone().answered(&word));
    assert_eq!((reading.preview.counts.assessors, reading.preview.counts.samples), (2, 2));
    assert_eq!(told(&reading), [""; 0]);
}

#[test]
fn a_column_set_to_not_used_stays_so_after_later_answers() {
    // A taster's name that is none: the laboratory's own word for who took the sample.
    let input = MEANS.replace("supplier", "taster");
    let first = read(&input);
    assert_eq!(first.preview.counts.assessors, 2, "by its header");
    let mut options = ReadOptions::default();
    options.state_role(&first.preview.header, &first.preview.roles, 1, ColumnRole::Ignored);
    let second = read_text("panel.csv", input.as_bytes(), &options);
    assert!(second.study.is_none() && second.preview.roles.get(1) == ColumnRole::Ignored);
    let labels: Vec<&str> = second.questions[0].choices.iter().map(|choice| choice.label.as_str()).collect();
    assert!(!labels.contains(&"\"taster\" names the assessor"), "that was answered: {labels:?}");
    let options = options.answered(&answer_to(&second, NOBODY));
    let third = read_text("panel.csv", input.as_bytes(), &options);
    let study = third.study.as_ref().expect("means of samples");
    assert_eq!((study.assessors.len(), study.samples.len(), study.attributes.len()), (1, 4, 2));
    let column = third.preview.header.iter().position(|header| header == "taster").expect("it is still shown");
    assert_eq!(third.preview.roles.get(column), ColumnRole::Ignored);
}

#[test]
fn a_role_stated_by_hand_is_found_again_by_header_or_by_column() {
    let mut options = ReadOptions::default();
    let headers = ["a", "", "", "b"].map(str::to_owned);
    let shown = ColumnRoles { by_column: vec![ColumnRole::AttributeScores; 4] };
    options.state_role(&headers, &shown, 2, ColumnRole::Session);
    options.state_role(&headers, &shown, 2, ColumnRole::Ignored);
    options.state_role(&headers, &shown, 3, ColumnRole::Label);
    options.find_roles_anew();
    let stated = |header: &str, column, role| StatedRole { header: header.to_owned(), column, role };
    assert_eq!(options.roles_kept, [stated("", 2, ColumnRole::Ignored), stated("b", 3, ColumnRole::Label)]);
    assert!(options.roles.is_none() && options.roles_by_hand.is_empty());
}

/// Scores by code, and a key to the codes with a lot beside each sample: text or a number, first or last.
#[test]
fn a_key_with_a_lot_joins_and_lists_what_it_does_not_use() {
    let mut scores = "assessor,code,green,ripe\n".to_owned();
    for assessor in ["Amara", "Bruno", "Chiyo"] {
        scores.push_str(&format!("{assessor},412,45,62\n{assessor},873,21,80\n"));
    }
    let keys = [
        "code,sample,lot\n412,A,N7\n873,B,N7\n",
        "lot,code,sample\nN7,412,A\nN7,873,B\n",
        "code,sample,lot\n412,A,2301\n873,B,2301\n",
        "code,lot,sample\n412,N7,A\n873,N8,B\n",
    ];
    for key in keys {
        let reading = read_files(&files(&[("panel.csv", &scores), ("key.csv", key)]), &ReadOptions::default());
        let names: Vec<String> = reading
            .study
            .as_ref()
            .unwrap_or_else(|| panic!("{key} {reading:#?}"))
            .samples
            .iter()
            .map(|one| one.name.clone())
            .collect();
        assert_eq!(names, ["A", "B"], "{key}");
        assert_eq!(told(&reading), [""; 0], "{key}");
        understood(&reading, "6 rows of scores were named by the key, which has 2 rows.");
        understood(&reading, "Not used of the key: \"lot\".");
    }
}

#[test]
fn a_code_of_another_session_is_told_once_and_not_as_unknown() {
    let scores = "assessor,session,code,green\nAmara,1,412,45\nBruno,1,412,44\nAmara,1,873,21\nBruno,1,873,20\n";
    let key = "code,sample,session\n412,A,1\n873,B,2\n";
    let reading = read_files(&files(&[("panel.csv", scores), ("key.csv", key)]), &ReadOptions::default());
    let told: Vec<String> = told(&reading);
    let about: Vec<&String> = told.iter().filter(|what| what.contains("873")).collect();
    assert_eq!(about.len(), 1, "{told:?}");
    assert!(about[0].contains("The key has the code 873 for session 2 only"), "{about:?}");
}

#[test]
fn what_is_known_of_persons_is_asked_about_and_not_averaged() {
    let mut input = "assessor,sample,sex,age,income,green,ripe\n".to_owned();
    for (assessor, of_person) in [("Amara", "1,31,42000"), ("Bruno", "2,54,38500"), ("Chiyo", "1,28,51000")] {
        input.push_str(&format!("{assessor},A,{of_person},45,62\n{assessor},B,{of_person},21,80\n"));
    }
    let reading = read(&input);
    assert_eq!(reading.preview.counts.attributes, 2);
    let asked: Vec<&str> = reading.questions.iter().map(|question| question.what.as_str()).collect();
    let expected = ["sex", "age", "income"].map(|name| format!("Is \"{name}\" an attribute that was scored?"));
    assert_eq!(asked, expected);
    assert_eq!(told(&reading).len(), 3);
    assert!(reading.study.as_ref().is_some_and(|study| (study.scale.maximum - 100.0).abs() < 1e-12));
    let out = answer_to(&reading, "No, leave it out");
    let answered = read_with(&input, |options| *options = options.clone().answered(&out));
    assert_eq!(answered.questions.len(), 2, "answered once: {:?}", answered.questions);
    let yes = answered.questions[0].choices[1].answer.clone();
    let both = read_with(&input, |options| *options = options.clone().answered(&out).answered(&yes));
    assert_eq!((both.questions.len(), both.preview.counts.attributes), (1, 3));
}

#[test]
fn whole_numbers_far_beyond_the_other_columns_are_asked_about() {
    let rows = |odd: &dyn Fn(usize) -> String| -> String {
        let mut input = "assessor,sample,green,ripe,odd\n".to_owned();
        for (row, assessor) in ["Amara", "Bruno", "Chiyo", "Dana"].into_iter().enumerate() {
            input.push_str(&format!("{assessor},A,45,62,{}\n{assessor},B,21,80,{}\n", odd(row), odd(row + 4)));
        }
        input
    };
    let years = read(&rows(&|row| (1960 + 5 * row).to_string()));
    assert_eq!(years.preview.counts.attributes, 2);
    assert_eq!(years.questions[0].what, "Is \"odd\" an attribute that was scored?");
    assert!(told(&years)[0].contains("mostly 1965 or more, where the other columns hardly go beyond 80"));
    // One slip of the pen, or an attribute that is strong everywhere, is no other kind of column.
    for fair in
        [rows(&|row| if row == 3 { "820".to_owned() } else { "82".to_owned() }), rows(&|row| (80 + row).to_string())]
    {
        let reading = read(&fair);
        assert!(!reading.questions.iter().any(|question| question.what.contains("odd")), "{:?}", reading.questions);
    }
}
