//! The attribute list and the brief: what they warn of, and that a list comes back from CSV as it went.

use likeness_core::notice::Severity;
use likeness_core::plan::brief::attributes::{AttributeList, ListedAttribute};
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, QuestionKind, SampleRole};
use likeness_core::study::{AttributeKind, Margin, MarginOrigin};

fn list(names: &[&str]) -> AttributeList {
    let attribute = |name: &&str| ListedAttribute {
        name: (*name).to_owned(),
        definition: "agreed".to_owned(),
        low_end: "none".to_owned(),
        high_end: "strong".to_owned(),
        ..ListedAttribute::default()
    };
    AttributeList { name: "test".to_owned(), version: 1, attributes: names.iter().map(attribute).collect() }
}

fn warnings(names: &[&str]) -> Vec<String> {
    list(names).warnings().iter().map(ToString::to_string).collect()
}

#[test]
fn near_duplicates_and_hedonic_words_are_found() {
    let cases: &[(&[&str], &[&str])] = &[
        (&["green", "ripe", "peach"], &[]),
        (
            &["green", "Green "],
            &["row 2: “green” and “Green ” are the same word. Keep one, or say in the definitions how they differ."],
        ),
        (
            &["green", "green note"],
            &[
                "row 2: “green” and “green note” hold the same word. Keep one, or say in the definitions how they differ.",
            ],
        ),
        (
            &["floral", "florals"],
            &["row 2: “floral” and “florals” begin alike. Keep one, or say in the definitions how they differ."],
        ),
        (
            &["sulphury", "sulfury"],
            &[
                "row 2: “sulphury” and “sulfury” are spelled nearly alike. Keep one, or say in the definitions how they differ.",
            ],
        ),
        (
            &["pleasant fruit"],
            &[
                "row 1: “pleasant fruit” uses “pleasant”, and hedonic words ask for liking, which a trained panel isn't \
               asked. Name the character that is tasted instead.",
            ],
        ),
        (&["sour", "salt"], &[]),
        (&[], &["The list has no attributes. Add the words the panel uses."]),
    ];
    for (names, expected) in cases {
        assert_eq!(warnings(names), *expected, "{names:?}");
    }
}

#[test]
fn missing_definitions_and_end_words_are_found() {
    let bare = AttributeList {
        attributes: vec![ListedAttribute { name: "green".to_owned(), ..ListedAttribute::default() }],
        ..AttributeList::default()
    };
    let texts: Vec<String> = bare.warnings().iter().map(ToString::to_string).collect();
    assert_eq!(
        texts,
        [
            "row 1: “green” has no definition. Write what the panel agreed that the word means.",
            "row 1: “green” lacks a word at an end of its line. Give both ends a word, such as “none” and “strong”.",
        ]
    );
}

#[test]
fn the_example_list_has_nothing_to_warn_of() {
    let example = AttributeList::mango_nectar_example();
    assert_eq!(example.warnings(), []);
    assert!(example.name.contains("invented"));
    assert_eq!(example.attributes.iter().filter(|line| line.kind == AttributeKind::Integrated).count(), 2);
}

#[test]
fn a_list_comes_back_from_csv_as_it_went() {
    let mut original = AttributeList::mango_nectar_example();
    original.attributes[0].definition = "a, \"quoted\"; text\nover two lines".to_owned();
    original.attributes[1].name = "=1+2".to_owned();
    original.attributes[2].reference = "'+x".to_owned();
    let text = original.to_csv();
    assert!(text.contains("\n'=1+2,"));
    let reading = AttributeList::read_csv(&text, "list.csv");
    assert_eq!(reading.notices, []);
    assert_eq!(reading.list.attributes, original.attributes);
    assert_eq!(reading.list.name, "list");
}

#[test]
fn a_bad_list_says_what_is_wrong_and_where() {
    let cases = [
        ("", "list.csv: The file is empty. Give a header line and one line an attribute."),
        (
            "a;b\n1;2\n",
            "list.csv, row 1: There is no column “attribute” in the header. Name the column with the names of the \
             attributes “attribute”.",
        ),
        (
            "attribute;order\ngreen;first\n",
            "list.csv, row 2, column 2 (order): “first” is no order of perception; 1, the place in the list, is used. \
             Give a whole number from 1.",
        ),
        (
            "name\tkind\ngreen\thedonic\n",
            "list.csv, row 2, column 2 (kind): “hedonic” is no kind of attribute; “analytic” is used. Write “analytic” or \
             “integrated”.",
        ),
        (
            "attribute,definition\n,something\n",
            "list.csv, row 2, column 1 (attribute): This row has no attribute name and was left out. Give it a name, or \
             delete the row.",
        ),
        ("attribute,colour\ngreen,red\n", "list.csv, row 1, column 2 (colour): This column is not used."),
    ];
    for (text, expected) in cases {
        let reading = AttributeList::read_csv(text, "list.csv");
        let texts: Vec<String> = reading.notices.iter().map(ToString::to_string).collect();
        assert!(texts.contains(&expected.to_owned()), "{text:?}: {texts:#?}");
    }
}

fn mango_brief() -> Brief {
    Brief {
        title: "Mango nectar, first round".to_owned(),
        kind: QuestionKind::Match,
        question: "Does a candidate match fresh mango?".to_owned(),
        asked_by: "the client (invented)".to_owned(),
        samples: vec![
            PlannedSample::named("Fresh mango", SampleRole::Target),
            PlannedSample::named("Candidate A", SampleRole::Candidate),
        ],
        margin: Margin { origin: MarginOrigin::JustNoticeable, ..Margin::of(10.0) },
        written_at: "2026-03-02 09:00".to_owned(),
        ..Brief::default()
    }
}

fn brief_notices(brief: &Brief) -> Vec<String> {
    brief.check(&list(&["green", "ripe"])).iter().map(ToString::to_string).collect()
}

#[test]
fn a_whole_brief_with_a_blind_duplicate_has_nothing_to_say() {
    let mut brief = mango_brief();
    assert_eq!(
        brief_notices(&brief),
        [
            "The target is served under one code only, so the study has no noise floor. Serve the target a second time under \
          another code."
        ]
    );
    brief.add_blind_duplicate();
    brief.add_blind_duplicate();
    assert_eq!(brief_notices(&brief), [""; 0]);
    assert_eq!(brief.samples.len(), 3);
    assert_eq!(brief.samples[2].name, "Fresh mango (blind duplicate)");
}

#[test]
fn a_brief_without_its_parts_is_refused_by_name() {
    let mut brief = mango_brief();
    brief.samples[0].role = SampleRole::Candidate;
    brief.samples.push(PlannedSample::named("candidate  a", SampleRole::Candidate));
    brief.deciding = vec!["citrus".to_owned()];
    brief.margin.width_mm = f64::NAN;
    let notices = brief.check(&list(&["green"]));
    let refused: Vec<String> =
        notices.iter().filter(|notice| notice.severity == Severity::Refused).map(ToString::to_string).collect();
    assert_eq!(
        refused,
        [
            "A match needs a target, and none is named. Say which sample is the target.",
            "row 3: “candidate  a” is the name of sample 2 too. Give each sample a name of its own.",
            "The margin is not above 0. Give the margin in mm.",
            "“citrus” is not in the attribute list. Correct the name, or add the attribute to the list.",
        ]
    );
}

#[test]
fn where_a_margin_comes_from_is_doubted_where_it_says_too_little() {
    let mut brief = mango_brief();
    brief.add_blind_duplicate();
    let doubted = [
        (MarginOrigin::Convention, "rests on convention alone"),
        (MarginOrigin::BlindDuplicate, "a lower limit, below which no margin makes sense, and never the margin itself"),
        (MarginOrigin::MultipleOfScatter, "grows with a careless panel"),
    ];
    for (origin, said) in doubted {
        brief.margin.origin = origin;
        let notices = brief_notices(&brief);
        assert!(notices.len() == 1 && notices[0].contains(said), "{notices:?}");
        assert!(notices[0].ends_with("how far lots of the target differ, a noticeable step, a customer's limit."));
    }
    for origin in [MarginOrigin::AnotherLot, MarginOrigin::CustomerLimit, MarginOrigin::Other("house rule".to_owned())]
    {
        brief.margin.origin = origin;
        assert_eq!(brief_notices(&brief), [""; 0]);
    }
    let offered = MarginOrigin::OFFERED.map(|origin| origin.in_words());
    assert_eq!(offered.iter().collect::<std::collections::BTreeSet<_>>().len(), offered.len());
}

#[test]
fn a_profile_margin_is_stated_and_a_brief_without_one_has_the_usual() {
    let mut brief = mango_brief();
    brief.add_blind_duplicate();
    let mut written = serde_json::to_value(&brief).unwrap();
    assert!(written.as_object_mut().unwrap().remove("profile_share").is_some());
    let older: Brief = serde_json::from_value(written).unwrap();
    assert_eq!(older, brief);
    assert_eq!(
        older.profile_margin_in_words(),
        "0.7 of the margins: a typical difference of 7 mm beside a margin of 10 mm"
    );
    for share in [0.0, -0.5, 1.2, f64::NAN] {
        brief.profile_share = share;
        let notices = brief.check(&list(&["green", "ripe"]));
        assert!(notices.iter().any(|notice| notice.severity == Severity::Refused), "{share}: {notices:?}");
    }
}
