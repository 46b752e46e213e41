//! The shell program writes the report and the study file that the engine makes, byte for byte.

use likeness_core::read::study_file::study_in;
use likeness_core::write::report_html::report_html;
use likeness_core::write::study_file::study_file_text;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn likeness(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_likeness")).args(arguments).output().expect("the shell program runs")
}

fn demo() -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../public/demo/invented-mango-nectar.csv").display().to_string()
}

fn place(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shell_report");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    folder.join(name)
}

#[test]
fn scores_give_a_study_file_and_the_study_file_gives_the_same_report() {
    let (report, saved, again) = (place("report.html"), place("study.likeness.json"), place("again.html"));
    let named = |path: &Path| path.display().to_string();
    let output = likeness(&[
        "report",
        &demo(),
        "--target",
        "Fresh mango",
        "--margin",
        "8",
        "--out",
        &named(&report),
        "--study-out",
        &named(&saved),
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let study = study_in(&std::fs::read_to_string(&saved).expect("it was written")).expect("it opens");
    assert!((study.settings.margin.width_mm - 8.0).abs() < 1e-12);
    assert_eq!(study.files[0].name, "invented-mango-nectar.csv", "no folder of this machine is in the record");
    let written = std::fs::read_to_string(&report).expect("it was written");
    assert!(written == report_html(&study), "the report differs from the engine's");
    let output = likeness(&["report", &named(&saved), "--out", &named(&again)]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(std::fs::read_to_string(&again).expect("it was written") == written, "through the study file it differs");
}

#[test]
fn save_writes_the_study_file_alone_and_analyse_opens_it() {
    let saved = place("saved.likeness.json");
    let name = saved.display().to_string();
    let output = likeness(&["save", &demo(), "--target", "Fresh mango", "--out", &name]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let text = std::fs::read_to_string(&saved).expect("it was written");
    assert_eq!(study_file_text(&study_in(&text).expect("it opens")), text);
    let analysed = likeness(&["analyse", &name]);
    assert!(String::from_utf8_lossy(&analysed.stdout).contains("Target: Fresh mango."));
}

#[test]
fn settings_changed_over_a_study_file_stand_in_its_log() {
    let (saved, changed) = (place("before.likeness.json"), place("after.likeness.json"));
    let named = |path: &Path| path.display().to_string();
    likeness(&["save", &demo(), "--target", "Fresh mango", "--out", &named(&saved)]);
    likeness(&["save", &named(&saved), "--margin", "5", "--out", &named(&changed)]);
    let log_of = |path: &Path| study_in(&std::fs::read_to_string(path).expect("written")).expect("opens").log;
    assert_eq!(log_of(&changed).len(), log_of(&saved).len() + 1);
    assert!(log_of(&changed).last().expect("a line").what.contains("after the scores were loaded"));
}

#[test]
fn what_cannot_be_opened_or_written_is_a_message() {
    let damaged = place("damaged.likeness.json");
    std::fs::write(&damaged, "{\"format\": \"likeness-study\",\n\"version\": 1").expect("a file");
    for (arguments, said) in [
        (vec!["report".to_owned(), damaged.display().to_string()], "damaged at line 2"),
        (vec!["report".to_owned(), demo(), "--target".to_owned(), "Nobody".to_owned()], "Choose one of"),
        (
            vec!["report".to_owned(), demo(), "--out".to_owned(), "/no/such/folder/r.html".to_owned()],
            "cannot be written",
        ),
    ] {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let output = likeness(&arguments);
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains(said), "{}", String::from_utf8_lossy(&output.stderr));
    }
}
