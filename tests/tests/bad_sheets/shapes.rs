//! The shapes that tables come in.

use super::*;

#[test]
fn a_table_on_its_side_is_read_with_the_places_of_the_file() {
    let rows: Vec<Vec<&str>> = PANEL.lines().map(|line| line.split(',').collect()).collect();
    let mut input = String::from("Mango nectar\n");
    for column in 0..5 {
        let cells: Vec<&str> = rows.iter().map(|row| row[column]).collect();
        input.push_str(&format!("{}\n", cells.join(",")));
    }
    let input = input.replace("45,47", "145,47");
    let reading = check(
        &input,
        &["row 5, column 2: 145 is outside the scale 0 to 100; it was read as missing. Was 14.5 meant? Put the \
           score right in the file."],
    );
    assert_eq!(reading.preview.shape, Some(TableShape::Transposed));
    assert_eq!(reading.preview.counts.scores, 23);
    score(&reading, 11, 1, Some(88.0));
    understood(&reading, "Read as one serving a column, one row an attribute; comma between cells, decimal point.");
}

#[test]
fn one_column_an_assessor() {
    let input = "sample,attribute,Anna,Ben,Eva\nA,green,45,51,40\nA,ripe,62,58,66\nB,green,21,30,18\nB,ripe,80,71,83\n";
    let reading = check(input, &[]);
    assert_eq!(reading.preview.shape, Some(TableShape::AssessorsAcross));
    let counts = reading.preview.counts;
    assert_eq!((counts.assessors, counts.samples, counts.attributes, counts.scores), (3, 2, 2, 12));
    understood(&reading, "Each assessor scored each sample once, so repeatability can't be told.");
}

#[test]
fn one_column_a_sample_and_one_column_a_replicate() {
    let reading =
        check("assessor,attribute,A,B\nAnna,green,45,21\nAnna,ripe,62,80\nBen,green,51,30\nBen,ripe,58,71\n", &[]);
    assert_eq!(reading.preview.shape, Some(TableShape::SamplesAcross));
    assert_eq!(reading.study.unwrap().samples[1].name, "B");
    let reading = check(
        "assessor,sample,attribute,rep1,rep2\nAnna,A,green,45,47\nAnna,B,green,21,25\nBen,A,green,51,55\nBen,B,green,30,33\n",
        &[],
    );
    assert_eq!(reading.preview.shape, Some(TableShape::ReplicatesAcross));
    assert_eq!(reading.preview.counts.replicates, 2);
}
