//! The bad-input table: one case a row, each with everything that is told beyond how the file was understood.
//! All panels here are invented.

use likeness_core::notice::Severity;
use likeness_core::read::{
    Answer, ColumnRole, ColumnRoles, DecimalMark, DuplicateChoice, ReadOptions, Reading, TableShape, read_text,
};

/// Three assessors, two samples, two replicates, two attributes.
const PANEL: &str = "\
assessor,sample,replicate,green,ripe
Anna,A,1,45,62
Anna,A,2,47,60
Anna,B,1,21,80
Anna,B,2,25,78
Ben,A,1,51,58
Ben,A,2,55,57
Ben,B,1,30,71
Ben,B,2,33,74
Eva,A,1,40,66
Eva,A,2,44,61
Eva,B,1,18,83
Eva,B,2,22,88
";

fn read(input: &str) -> Reading {
    read_text("panel.csv", input.as_bytes(), &ReadOptions::default())
}

fn read_with(input: &str, change: impl FnOnce(&mut ReadOptions)) -> Reading {
    let mut options = ReadOptions::default();
    change(&mut options);
    read_text("panel.csv", input.as_bytes(), &options)
}

/// Everything told that is more than how the file was understood, without the file's name.
fn told(reading: &Reading) -> Vec<String> {
    let told = reading.notices.iter().filter(|notice| notice.severity > Severity::Understood);
    told.map(|notice| notice.to_string().replacen("panel.csv, ", "", 1).replacen("panel.csv: ", "", 1)).collect()
}

/// The file loads, and exactly these things are told.
#[track_caller]
fn check(input: &str, expected: &[&str]) -> Reading {
    let reading = read(input);
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_some(), "{:?} {:?}", reading.notices, reading.questions);
    reading
}

/// Nothing is loaded, and exactly these things are told.
#[track_caller]
fn refuse(input: &str, expected: &[&str]) -> Reading {
    let reading = read(input);
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_none());
    reading
}

/// Among what was understood is this sentence.
#[track_caller]
fn understood(reading: &Reading, expected: &str) {
    let all: Vec<String> = reading.notices.iter().map(|notice| notice.what.clone()).collect();
    assert!(all.iter().any(|what| what == expected), "{all:#?}");
}

#[track_caller]
fn score(reading: &Reading, serving: usize, attribute: usize, expected: Option<f64>) {
    let study = reading.study.as_ref().expect("the file loads");
    let found = study.score(serving, attribute);
    let same = match (found, expected) {
        (Some(found), Some(expected)) => (found - expected).abs() < 1e-12,
        (found, expected) => found.is_none() && expected.is_none(),
    };
    assert!(same, "{found:?} is not {expected:?}");
}

const ROLES_HINT: &str = "A table of panel scores has a column that names the assessor, one that names the sample, \
     and either one column per attribute or an attribute column beside a score column. Means over assessors can't be \
     judged, since the spread between assessors is what tells a difference from chance.";
const READABLE: &str =
    "Likeness reads text tables: .csv, .tsv or .txt with a comma, semicolon, tab or bar between the cells.";

mod clean {
    use super::*;

    #[test]
    fn a_clean_panel_has_nothing_to_tell() {
        let reading = check(PANEL, &[]);
        understood(&reading, "Read as one serving a row, one column an attribute; comma between cells, decimal point.");
        understood(&reading, "3 assessors, 2 samples, 2 attributes, 2 replicates: 24 scores.");
        understood(&reading, "The scale was taken as 0 to 100 mm.");
        understood(
            &reading,
            "The file gives no serving positions, so effects of order and carry-over can't be checked.",
        );
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
}

mod separators_and_decimals {
    use super::*;

    #[test]
    fn a_decimal_comma_beside_semicolons_is_never_taken_away() {
        let input = PANEL.replace(',', ";").replace("45;62", "32,56;62");
        let reading = check(&input, &[]);
        score(&reading, 0, 0, Some(32.56));
        assert_eq!(reading.preview.decimal, Some(DecimalMark::Comma));
        understood(
            &reading,
            "Read as one serving a row, one column an attribute; semicolon between cells, decimal comma.",
        );
    }

    #[test]
    fn tabs_and_bars_separate_as_well() {
        for separator in ["\t", "|"] {
            let reading = check(&PANEL.replace(',', separator).replace("45", "45.5"), &[]);
            assert_eq!(reading.preview.separator, Some(separator.as_bytes()[0]));
            score(&reading, 0, 0, Some(45.5));
        }
    }

    #[test]
    fn a_column_of_thousands_with_decimals_is_read_by_its_own_marks() {
        let german = PANEL.replace(',', ";").replace("45;62", "1.234,5;62");
        let expected = "row 2, column 4 (green): 1234.5 is outside the scale 0 to 100; it was read as missing. \
                        Put the score right in the file, or leave it missing.";
        check(&german, &[expected]);
        let english = PANEL.replace("45,62", "\"1,234.5\",62");
        check(&english, &[expected]);
    }

    #[test]
    fn three_decimals_are_decimals_where_thousands_leave_the_scale() {
        let reading = check(&PANEL.replace(',', ";").replace("45;62", "45,123;62"), &[]);
        score(&reading, 0, 0, Some(45.123));
        let reading = check(&PANEL.replace(',', ";").replace("45;62", "45.123;62"), &[]);
        score(&reading, 0, 0, Some(45.123));
    }

    #[test]
    fn marks_that_nothing_explains_are_asked_by_column() {
        let input = PANEL.replace(',', ";").replace("45;62", "45,123;62").replace("47;60", "47.250;60");
        let reading = refuse(
            &input,
            &["column 4 (green): \"45,123\" may have decimals or thousands, and nothing in the column tells which. \
               Say which mark stands before the decimals."],
        );
        let question = &reading.questions[0];
        assert_eq!(question.what, "Which mark stands before the decimals in \"45,123\"?");
        assert_eq!((question.field, question.stops), ("decimal", true));
        let answered = ReadOptions::default().answered(&question.choices[1].answer);
        let reading = read_text("panel.csv", input.as_bytes(), &answered);
        score(&reading, 0, 0, Some(45.123));
        assert_eq!(
            told(&reading),
            ["row 3, column 4 (green): 47250 is outside the scale 0 to 100; it was read as missing. \
              Put the score right in the file, or leave it missing."]
        );
    }

    #[test]
    fn both_marks_in_one_column_are_read_cell_by_cell_and_told() {
        let reading = check(
            &PANEL.replace(',', ";").replace("45;62", "45,5;62").replace("47;60", "47.5;60"),
            &[
                "column 4 (green): The column has 1 score with a decimal point and 1 with a decimal comma; each was read \
               by its own mark.",
            ],
        );
        score(&reading, 0, 0, Some(45.5));
        score(&reading, 1, 0, Some(47.5));
    }

    #[test]
    fn separators_in_quotation_marks_stay_in_their_cell() {
        let input = PANEL.replace(",A,", ",\"Lot 3, fresh\",").replace("45,62", "\"45,5\",62");
        let reading = check(&input, &[]);
        assert_eq!(reading.study.as_ref().unwrap().samples[0].name, "Lot 3, fresh");
        score(&reading, 0, 0, Some(45.5));
        score(&reading, 0, 1, Some(62.0));
    }

    #[test]
    fn unquoted_decimal_commas_between_commas_are_refused_as_a_whole() {
        let rows = PANEL.lines().map(|line| match line.starts_with('a') {
            true => format!("{line}\n"),
            false => format!("{line},5\n"),
        });
        let reading = read(&rows.collect::<String>());
        assert!(reading.study.is_none());
        assert_eq!(
            told(&reading)[0],
            "12 of 12 rows have more than the 5 cells that the header names. Where scores have a decimal comma, the \
             cells must be separated by semicolons or tabs, or stand in quotation marks."
        );
    }

    #[test]
    fn a_quotation_mark_that_never_closes_swallows_nothing() {
        let reading = check(
            &PANEL.replace("Ben,A,1", "\"Ben,A,1"),
            &["row 6: A quotation mark opens here and never closes; all quotation marks were read as plain text. \
                 Take it out, or close it."],
        );
        assert_eq!(reading.preview.counts.scores, 24);
    }
}

mod rows {
    use super::*;

    #[test]
    fn blank_rows_are_passed_over_and_their_lines_told() {
        let input = PANEL.replace("Ben,A,1", "\n , ,,,\nBen,A,1");
        let reading = check(&input, &[]);
        understood(&reading, "Blank rows were passed over: lines 6 and 7.");
        assert_eq!(reading.study.unwrap().origin(4, 0).unwrap().row, 8);
    }

    #[test]
    fn blank_rows_among_quoted_cells_keep_their_lines() {
        let input = PANEL.replace("Ben,A,1", "\n\n\"Ben\",A,1").replace('\n', "\r\n");
        let reading = check(&input, &[]);
        understood(&reading, "Blank rows were passed over: lines 6 and 7.");
        assert_eq!(reading.study.unwrap().origin(4, 0).unwrap().row, 8);
    }

    #[test]
    fn a_row_with_a_cell_too_many_is_left_out_whole() {
        let reading = check(
            &PANEL.replace("Ben,A,1,51,58", "Ben,A,1,51,5,58"),
            &[
                "row 6: The row has 6 cells under 5 columns and was left out, since any of them may be the one too many. \
               Look for a separator or a decimal comma inside a cell, and put that cell in quotation marks.",
            ],
        );
        assert_eq!(reading.preview.counts.scores, 22);
        understood(
            &reading,
            "The study is not balanced: 11 of 12 servings are there; assessor Ben has the fewest, 3 of 4.",
        );
        assert_eq!(reading.study.unwrap().log[0].what, "On reading, 1 row with too many cells left out.");
    }

    #[test]
    fn separators_at_the_end_of_rows_are_no_cells_too_many() {
        check(&PANEL.replace("45,62", "45,62,,,"), &[]);
    }

    #[test]
    fn a_short_row_is_read_from_the_left_and_told() {
        let reading = check(
            &PANEL.replace("Ben,A,1,51,58", "Ben,A,1,51"),
            &["row 6: The row has 4 cells under 5 columns; it was read from the left and the rest is missing. \
               Check that no cell was lost in the middle."],
        );
        score(&reading, 4, 0, Some(51.0));
        score(&reading, 4, 1, None);
        understood(&reading, "1 of 24 scores are missing.");
    }

    #[test]
    fn rows_of_totals_are_left_out_and_listed() {
        let input = format!("{PANEL}Mean,,,36,70\nSD,,,12,10\nAnna Total,,,138,280\n,Average,,36,70\n");
        let reading = check(
            &input,
            &[
                "row 14: The row \"Mean\" looks like totals and was left out.",
                "row 15: The row \"SD\" looks like totals and was left out.",
                "row 16: The row \"Anna Total\" looks like totals and was left out.",
                "row 17: The row \"Average\" looks like totals and was left out.",
            ],
        );
        assert_eq!(reading.preview.counts.assessors, 3);
        assert_eq!(reading.study.unwrap().log[0].what, "On reading, 4 rows of totals left out.");
    }

    #[test]
    fn an_assessor_may_be_called_max() {
        let reading = check(&PANEL.replace("Ben", "Max"), &[]);
        assert_eq!(reading.preview.counts.assessors, 3);
    }

    #[test]
    fn a_column_of_totals_is_no_attribute() {
        let input = PANEL.replace("ripe", "ripe,Mean").replace("62\n", "62,53\n");
        let reading = check(&input, &[]);
        understood(&reading, "Not used: \"Mean\".");
        assert_eq!(reading.preview.counts.attributes, 2);
    }

    #[test]
    fn lines_of_titles_above_the_header_are_left_out() {
        let reading = check(&format!("Mango nectar, invented\nroom 2\n\n{PANEL}"), &[]);
        understood(&reading, "The header was found on line 4; what stands above it was left out.");
        assert_eq!(reading.preview.header_line, Some(4));
        assert_eq!(reading.study.unwrap().origin(0, 0).unwrap().row, 5);
    }

    #[test]
    fn notes_under_the_table_are_left_out_and_listed() {
        check(
            &format!("{PANEL}0 = none to 100 = strong\n"),
            &["row 14: The row names no sample and was left out. Fill in the name."],
        );
    }

    #[test]
    fn a_header_repeated_further_down_is_left_out() {
        let input = format!("{PANEL}{}", PANEL.replace(",1,", ",3,").replace(",2,", ",4,"));
        let reading = check(&input, &["row 14: The header is repeated here; the row was left out."]);
        assert_eq!(reading.preview.counts.scores, 48);
    }

    #[test]
    fn names_written_once_are_asked_before_they_are_filled_down() {
        let input = PANEL.replace("Anna,A,2", ",,2").replace("Anna,B", ",B").replace("Ben,A,2", ",,2");
        let reading = read(&input);
        assert!(reading.study.is_none());
        assert_eq!(told(&reading)[0], "row 3: The row names no assessor and was left out. Fill in the name.");
        assert_eq!(reading.questions[0].what, "4 rows have no name. Does the name above hold for them?");
        let answered = ReadOptions::default().answered(&reading.questions[0].choices[0].answer);
        let reading = read_text("panel.csv", input.as_bytes(), &answered);
        assert_eq!(reading.preview.counts.scores, 24);
        assert_eq!(told(&reading)[0], "row 3, column 1 (assessor): The blank was filled in from above: \"Anna\".");
    }
}

mod headers {
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
            &[
                "column 2 (mango): The column was taken for the sample by its content alone. Confirm it, or say what the \
               column holds.",
            ],
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
    fn samples_above_attributes_get_a_clear_message() {
        refuse(
            ",A,A,B,B\nassessor,green,ripe,green,ripe\nAnna,45,62,21,80\nBen,51,58,30,71\nEva,40,66,18,83\n",
            &[
                "There are two header rows: the upper one seems to name samples, the lower one attributes. Put each sample \
               of an assessor on a row of its own, with the name of the sample in one column.",
            ],
        );
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
}

mod shapes {
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
        let input =
            "sample,attribute,Anna,Ben,Eva\nA,green,45,51,40\nA,ripe,62,58,66\nB,green,21,30,18\nB,ripe,80,71,83\n";
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
}

mod names_and_codes {
    use super::*;

    #[test]
    fn spellings_that_differ_in_blanks_and_capitals_are_one_name_and_told() {
        let input =
            PANEL.replace("Anna,A,2", "Anna ,A,2").replace("Anna,B,1", "anna,B,1").replace("Anna,B,2", " ANNA,B,2");
        let input = input.replace("Ben,A,1", "Ben,a,1");
        let reading = check(
            &input,
            &[
                "row 3, column 1 (assessor): \"Anna \" (1 row) was read as \"Anna\".",
                "row 4, column 1 (assessor): \"anna\" (1 row) was read as \"Anna\".",
                "row 5, column 1 (assessor): \" ANNA\" (1 row) was read as \"Anna\".",
                "row 6, column 2 (sample): \"a\" (1 row) was read as \"A\".",
            ],
        );
        assert_eq!(reading.preview.counts.assessors, 3);
        assert_eq!(reading.study.unwrap().log[0].what, "On reading, 4 names read as one with another spelling.");
    }

    #[test]
    fn names_one_letter_apart_are_suggested_and_never_merged() {
        let reading = check(
            &PANEL.replace("Anna,B,2", "Ana,B,2"),
            &["\"Ana\" (1 serving) and \"Anna\" (3 servings) differ by one letter and never meet: are they the same \
               assessor? If so, write the name one way in the file."],
        );
        assert_eq!(reading.preview.counts.assessors, 4);
    }

    #[test]
    fn two_people_with_names_one_letter_apart_are_not_suspected() {
        check(&PANEL.replace("Ben", "Ena"), &[]);
        check(&PANEL.replace("Ben", "Eve"), &[]);
    }

    #[test]
    fn codes_are_text_and_lost_zeros_are_offered() {
        let coded = PANEL.replace(",A,", ",012,").replace(",B,", ",347,");
        assert_eq!(check(&coded, &[]).study.unwrap().samples[0].name, "012");
        let input = format!("{}Eva,518,1,33,44\n", coded.replace(",012,", ",12,"));
        let reading = check(
            &input,
            &[
                "row 2, column 2 (sample): 12 stands among three-digit codes: a spreadsheet may have dropped the zeros of \
               012. Have the zeros put back, or write the code right in the file.",
            ],
        );
        let question = &reading.questions[0];
        assert_eq!(question.what, "Did a spreadsheet drop zeros in front of codes? Then 12 was 012.");
        assert!(!question.stops);
        let answered = ReadOptions::default().answered(&question.choices[0].answer);
        let reading = read_text("panel.csv", input.as_bytes(), &answered);
        assert_eq!(told(&reading), ["row 2, column 2 (sample): The code 12 was read as 012."]);
        assert_eq!(reading.study.unwrap().samples[0].name, "012");
    }

    #[test]
    fn a_code_with_an_exponent_is_pointed_out() {
        check(
            &PANEL.replace(",A,", ",1E+02,"),
            &[
                "row 2, column 2 (sample): 1E+02 looks like a code that a spreadsheet turned into a number. Write the code \
               right in the file; codes are text.",
            ],
        );
    }

    #[test]
    fn codes_beside_names_are_kept_and_shared_ones_told() {
        let mut input = PANEL.replace("sample,", "sample,code,").replace(",A,", ",A,275,").replace(",B,", ",B,816,");
        let reading = check(&input, &[]);
        assert_eq!(reading.study.unwrap().samples[0].codes, ["275"]);
        input = input.replace("Eva,B,816", "Eva,B,275");
        check(&input, &["The code 275 stands for more than one sample: A and B. Check the key."]);
    }
}

mod cells {
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
            .replace("25,78", "strong,78");
        let reading = check(
            &input,
            &[
                "row 2, column 4 (green): \"05.12.2024\" is a date, not a score; it was read as missing. A spreadsheet \
                 may have turned a score such as 5.12 into a date: put the score back.",
                "row 4, column 4 (green): \"12-May\" is a date, not a score; it was read as missing. A spreadsheet may \
                 have turned a score such as 5.12 into a date: put the score back.",
                "row 3, column 4 (green): \"#REF!\" is a spreadsheet error; it was read as missing. Put the score back.",
                "row 5, column 4 (green): \"strong\" is no number; it was read as missing. Write the number alone, or \
                 leave the cell empty.",
            ],
        );
        assert_eq!(reading.preview.counts.missing, 4);
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
}

mod duplicates_and_replicates {
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
            assert!(
                told(&reading)[0].ends_with(&format!("15 in row 14. {expected} was kept.")),
                "{:?}",
                told(&reading)
            );
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
}

mod scales {
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
            &[
                "row 2, column 4 (green): 45 is outside the scale 0 to 10; it was read as missing. Was 4.5 meant? Put the \
               score right in the file.",
            ],
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
}

mod files {
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
            "By its content this is an image, not a text table. Type the scores into a table first.",
        );
        refuse_bytes(
            b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0\0",
            "By its content this is an old binary workbook (.xls) or one locked by a password, not a text table. Open \
             it, unlock it where needed, and save the sheet as CSV.",
        );
        refuse_bytes(
            b"PK\x03\x04\x14\0\x06\0[Content_Types].xml",
            "By its content this is a spreadsheet workbook (.xlsx), not a text table. Open it and save the sheet as CSV.",
        );
        refuse_bytes(
            b"PK\x03\x04\x14\0mimetypeapplication/vnd.oasis.opendocument.spreadsheet",
            "By its content this is an OpenDocument file (.ods, .odt), not a text table. Open it and save the sheet as \
             CSV.",
        );
        refuse_bytes(
            b"%PDF-1.7\n",
            "By its content this is a PDF document, not a text table. Open the table that it was made from.",
        );
        refuse_bytes(b"\x00\x01\x02\x03\x04\x05", "By its content this is a binary file, not a text table.");
        refuse_bytes(
            b"hello\nworld\n",
            "No separator was found: every line is one single cell. Save the sheet as CSV.",
        );
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
}

mod small_studies {
    use super::*;

    #[test]
    fn what_can_be_computed_from_little_is_loaded() {
        let one_assessor: String = PANEL
            .lines()
            .filter(|line| !line.starts_with(['B', 'E']))
            .fold(String::new(), |text, line| text + line + "\n");
        check(&one_assessor, &["There is only one assessor, so nothing can be compared."]);
        let one_sample: String =
            PANEL.lines().filter(|line| !line.contains(",B,")).fold(String::new(), |text, line| text + line + "\n");
        check(&one_sample, &["There is only one sample, so nothing can be compared."]);
        let one_replicate: String =
            PANEL.lines().filter(|line| !line.contains(",2,")).fold(String::new(), |text, line| text + line + "\n");
        let reading = check(&one_replicate, &[]);
        understood(&reading, "Each assessor scored each sample once, so repeatability can't be told.");
    }

    #[test]
    fn a_constant_attribute_is_loaded_and_told() {
        let mut input = String::from("assessor,sample,green,ripe\n");
        for (assessor, sample, green) in [("Anna", "A", 30), ("Anna", "B", 45), ("Ben", "A", 31), ("Ben", "B", 60)] {
            input.push_str(&format!("{assessor},{sample},{green},50\n"));
        }
        let reading = check(&input, &[]);
        understood(&reading, "Every score of ripe is 50, so nothing can be told by it.");
    }

    #[test]
    fn a_lost_serving_is_counted() {
        let reading = check(&PANEL.replace("Ben,B,2,33,74\n", ""), &[]);
        understood(
            &reading,
            "The study is not balanced: 11 of 12 servings are there; assessor Ben has the fewest, 3 of 4.",
        );
    }
}
