//! The report document: everything that belongs into it, nothing that could run, the same bytes for the same study.

use likeness_core::catalogue::map::{Map, MapFound};
use likeness_core::catalogue::r#match::Closeness;
use likeness_core::catalogue::{AnyFinding, Given, Results, ResultsRun, Statistic};
use likeness_core::read::study_file::study_in;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::run::{Run, to_the_end};
use likeness_core::stats::{NotDefined, analyse};
use likeness_core::study::{Exclusion, ExclusionScope, LogKind, MarginOrigin, ReportField, Study};
use likeness_core::tables::r#match::sentences::candidate_sentence;
use likeness_core::write::report_html::{ReportRun, report_html, report_of as report_from};
use likeness_core::write::study_file::study_file_text;
use likeness_tests::studies::invented_nectar;

/// Every tag that the writer of the report and the painter of figures know.
const TAGS: &[&str] = &[
    "!doctype",
    "html",
    "head",
    "meta",
    "title",
    "style",
    "body",
    "article",
    "section",
    "h1",
    "h2",
    "h3",
    "p",
    "strong",
    "span",
    "em",
    "ul",
    "li",
    "dl",
    "dt",
    "dd",
    "div",
    "br",
    "figure",
    "figcaption",
    "table",
    "caption",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "svg",
    "desc",
    "rect",
    "line",
    "polyline",
    "polygon",
    "circle",
    "path",
    "text",
    "g",
];

fn hostile() -> Study {
    let csv = "assessor,sample,replicate,<script>alert(1)</script>,\"a\"\"b' & <i>c</i>\"\n\
        <img src=x onerror=alert(1)>,T&T,1,60,20\n<img src=x onerror=alert(1)>,</style><script>x</script>,1,61,41\n\
        Ben,T&T,1,70,25\nBen,</style><script>x</script>,1,69,47\nCleo,T&T,1,55,22\nCleo,</style><script>x</script>,1,57,40\n";
    let mut study =
        read_text("<b>panel</b>.csv", csv.as_bytes(), &ReadOptions::default()).study.expect("names may be anything");
    study.settings.target = Some("T&T".to_owned());
    study.decided_at = Some("<b>now</b>".to_owned());
    study.title = "</title><script>alert('title')</script>".to_owned();
    study.settings.margin.origin = MarginOrigin::Other("<u onclick=\"x\">felt</u>".to_owned());
    study.exclusions.push(Exclusion {
        scope: ExclusionScope::Assessor(2),
        reason: "\"><script>reason</script>".to_owned(),
        when: "2026-03-14 <s>09:26</s>".to_owned(),
        late: false,
    });
    study.note_in_log("<a href='javascript:1'>", LogKind::Stated, "<iframe src=x>");
    for field in ReportField::ALL {
        study.report.state(field, "line one\n<script>field</script> & \"more\"");
    }
    study.report.state_lot("T&T", "<object>");
    study.attributes[0].definition = "<embed>".to_owned();
    study
}

/// Names of all tags in the document, lower case, in order.
fn report_of(study: &Study) -> String {
    report_html(study)
}

fn tags(html: &str) -> Vec<String> {
    let name_of = |after: &str| -> String {
        let after = after.trim_start_matches('/');
        after.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '!').collect::<String>().to_lowercase()
    };
    html.split('<').skip(1).map(name_of).collect()
}

#[test]
fn nothing_that_was_typed_becomes_markup() {
    let html = report_of(&hostile());
    for tag in tags(&html) {
        assert!(TAGS.contains(&tag.as_str()), "<{tag}> stands in the report");
    }
    // Attributes are written by the report alone: none of them starts a script.
    for handler in [" onerror=", " onclick=", "javascript:"] {
        for (place, _) in html.match_indices(handler) {
            let before = &html[..place];
            let inside_a_tag = before.rfind('<') > before.rfind('>');
            let quoted = inside_a_tag && before[before.rfind('<').unwrap()..].matches('"').count() % 2 == 1;
            assert!(!inside_a_tag || quoted, "{handler} stands in a tag: {}", &before[before.len() - 80..]);
        }
    }
    assert!(html.contains("&lt;script&gt;alert(1)&lt;/script&gt;"), "the name itself is shown");
    assert!(html.contains("T&amp;T"));
    assert_eq!(html.matches("</style>").count(), 1);
    assert!(html.contains("line one<br>&lt;script&gt;field"), "line ends are kept");
}

#[test]
fn the_document_asks_for_nothing_and_runs_nothing() {
    let html = report_of(&invented_nectar());
    for word in ["<script", "http:", "https:", "src=", "href=", "@import", "url("] {
        let found: Vec<&str> =
            html.match_indices(word).map(|(place, _)| &html[place..(place + 60).min(html.len())]).collect();
        let others: Vec<&&str> = found.iter().filter(|text| !text.starts_with("http://www.w3.org/2000/svg")).collect();
        assert!(others.is_empty(), "{word}: {others:?}");
    }
    assert!(html.contains("default-src 'none'; style-src 'unsafe-inline'"));
    // One figure for the verdicts, which stands on the first page too, one a candidate, spider, means, panel and map: by
    // hand, 4 candidates.
    assert_eq!(html.matches("<svg ").count(), 10);
}

/// The one line that names what nobody stated; empty where there is none.
fn line_of_not_stated(html: &str) -> String {
    html.split_once("<h2>Not stated</h2>\n<p>")
        .and_then(|(_, rest)| rest.split_once("</p>"))
        .map(|(line, _)| line.to_owned())
        .unwrap_or_default()
}

#[test]
fn what_nobody_stated_stands_in_one_line_and_what_was_stated_is_printed() {
    let mut study = invented_nectar();
    let html = report_of(&study);
    let line = line_of_not_stated(&html);
    assert!(ReportField::ALL.iter().all(|field| line.contains(field.in_words())), "{line}");
    assert!(line.contains("lots of all samples"), "{line}");
    assert_eq!(html.matches("Not stated").count(), 1);
    assert_eq!(html.matches("not stated").count(), 0);
    let first = study.samples[0].name.clone();
    study.report.state_lot(&first, "N7");
    for (number, field) in ReportField::ALL.into_iter().enumerate() {
        study.report.state(field, &format!("statement {number} of fourteen"));
    }
    let html = report_of(&study);
    for number in 0..ReportField::ALL.len() {
        assert_eq!(html.matches(&format!("statement {number} of fourteen")).count(), 1, "statement {number}");
    }
    let line = line_of_not_stated(&html);
    assert!(!ReportField::ALL.iter().any(|field| line.contains(field.in_words())), "{line}");
    assert!(line.contains(&format!("lots of {}", study.samples[1].name)) && !line.contains(&first), "{line}");
}

#[test]
fn every_part_of_such_a_report_has_its_place() {
    let mut study = invented_nectar();
    for field in ReportField::ALL {
        study.report.state(field, "stated");
    }
    let html = report_of(&study);
    // The list of methods, section 14, in words: purpose, samples and lots, and so on to version and checksum.
    for heading in [
        "<h2>Verdict</h2>",
        "<dt>Purpose</dt>",
        "<h2>Samples and lots</h2>",
        "<h2>Preparation and serving</h2>",
        "<h2>Room and light</h2>",
        "<h2>Assessors</h2>",
        "<h2>Vocabulary</h2>",
        "<h2>Scale</h2>",
        "<h2>Design</h2>",
        "<h2>Sessions and dates</h2>",
        "<h2>Data treatment</h2>",
        "<h2>Method</h2>",
        "<h2>Differences to the target</h2>",
        "<h2>Profiles</h2>",
        "<h2>The panel</h2>",
        "<h2>Map</h2>",
        "<h2>Left out</h2>",
        "<h2>Corrected marks</h2>",
        "<h2>Repaired or flagged</h2>",
        "<h2>Deviations</h2>",
        "<h2>What was done</h2>",
        "<h2>Files and program</h2>",
        "<dt>Responsible</dt>",
        "<dt>Alpha</dt>",
        "<dt>Margin</dt>",
        "<dt>Seed of everything drawn by chance</dt>",
    ] {
        assert_eq!(html.matches(heading).count(), 1, "{heading}");
    }
    let study = invented_nectar();
    assert!(html.contains(&study.files[0].fingerprint) && html.contains("Likeness 0."));
    let analysis = analyse(&study);
    for candidate in &analysis.candidates {
        assert!(html.contains(&candidate_sentence(&analysis, candidate)), "{}", candidate.sample);
    }
}

#[test]
fn distances_stand_with_their_bounds_and_the_map_with_its_ellipses() {
    let study = invented_nectar();
    let results = Results::of(&study);
    let html = report_html(&study);
    let distances = results.get::<Closeness>().expect("a target is settled");
    assert!(html.contains(&format!("<caption>Closeness to {}, in mm; closest first</caption>", distances.target)));
    for candidate in &distances.candidates {
        let judged =
            results.given.analysis.candidates.iter().find(|one| one.sample == candidate.sample).expect("known");
        let typical =
            judged.judged.as_ref().and_then(|judged| judged.typical.as_ref()).expect("the panel is large enough");
        let cells = format!(
            "<td class=\"number\">{:.1}</td><td class=\"number\">{:.1}</td>",
            candidate.distance, typical.bound
        );
        assert!(html.contains(&cells), "{} {cells}", candidate.sample);
    }
    assert!(html.contains("The target against itself, its first cups against its second, what changed"));
    let drawn = results.get::<Map>().expect("a map is defined");
    let without = MapFound { ellipses: Err(NotDefined::because("nobody drew them")), ..drawn.clone() };
    let known = ResultsRun::start(Given::of(&study)).knowing(Map::ABOUT.id, Ok(AnyFinding::new(without)));
    let plain = report_from(&study, known.into_results());
    assert!(plain.contains("No ellipses, because nobody drew them."));
    let shapes = |html: &str| html.matches("<polygon").count() + html.matches("<polyline").count();
    assert!(shapes(&html) >= shapes(&plain) + study.samples.len(), "an ellipse for every sample");
}

#[test]
fn a_report_in_pieces_is_the_report() {
    let study = invented_nectar();
    let mut run = ReportRun::start(&study, Results::of(&study));
    let wanted = run.reached().wanted;
    let mut steps = 0;
    while !run.is_done() {
        run.step();
        steps += 1;
    }
    assert_eq!((run.reached().done, run.reached().wanted), (wanted, wanted));
    // Candidates are steps of their own.
    assert!(steps > wanted, "{steps} steps, {wanted} pieces");
    let report = to_the_end(Ok(run)).expect("a report is always defined");
    assert!(report.document() == report_html(&study));
}

#[test]
fn the_same_study_gives_the_same_bytes_also_through_its_file() {
    let study = invented_nectar();
    let html = report_of(&study);
    assert_eq!(report_of(&study), html);
    let again = study_in(&study_file_text(&study)).expect("a sound file");
    assert_eq!(report_of(&again), html);
}

#[test]
fn assessors_by_number_leave_no_name_behind() {
    let mut study = invented_nectar();
    let names: Vec<String> = study.assessors.iter().map(|assessor| assessor.name.clone()).collect();
    let scope = ExclusionScope::Assessor(3);
    study.exclusions.push(Exclusion {
        scope,
        reason: format!("{} had a cold", names[3]),
        when: String::new(),
        late: false,
    });
    study.note_in_log("", LogKind::Excluded, format!("Left out assessor {}: had a cold.", names[3]));
    study.report.state(ReportField::Deviations, &format!("{} came late.", names[5]));
    study.title = format!("Panel of {}", names[0]);
    assert!(names.iter().all(|name| report_of(&study).contains(name)));
    study.report.assessors_as_numbers = true;
    let html = report_of(&study);
    for name in &names {
        assert!(!html.contains(name), "{name} is in the report");
    }
    assert!(html.contains("<title>Panel of assessor 1</title>"));
    assert!(html.contains("Left out assessor 4: had a cold.") && html.contains("assessor 6 came late."));
}

#[test]
fn exclusions_repairs_and_late_decisions_are_told() {
    let mut study = invented_nectar();
    assert!(report_of(&study).contains("No late change is on record."));
    study.correct_score(7, 2, Some(33.5), "read <wrongly>", "2026-03-14 09:28").expect("a new score");
    study.exclusions.push(Exclusion {
        scope: ExclusionScope::Score { serving: 0, attribute: 0 },
        reason: "slipped by a line".to_owned(),
        when: "2026-03-14 09:26".to_owned(),
        late: false,
    });
    study.note_in_log(
        "2026-03-14 09:30",
        LogKind::MarginDecided,
        "Margin changed after the scores were loaded: 10 to 12 mm.",
    );
    let html = report_of(&study);
    let mark = format!("the mark for {} of {}", study.attributes[0].name, study.assessors[0].name);
    assert!(html.contains(&mark) && html.contains("slipped by a line"));
    assert!(html.contains("<h3>Decided late</h3>"));
    assert!(!html.contains("No late change is on record."));
    assert!(html.contains("<td>33.5</td><td>read &lt;wrongly&gt;</td>"));
}

#[test]
fn no_verdict_is_told_before_it_is_settled_what_counts_as_a_match() {
    let mut study = invented_nectar();
    study.decided_at = None;
    let html = report_of(&study);
    assert!(html.contains("No verdict is shown before they are."));
    for word in ["is off:", "matches the target", "is not shown to match", "Differences to the target"] {
        assert!(!html.contains(word), "{word}");
    }
    // Spider, means, panel and map are drawn.
    assert_eq!(html.matches("<svg ").count(), 4);
}
