//! Tests of who may write what when a record is open in several tabs.

use super::*;
use std::collections::BTreeMap;

/// A store of records with revisions, as the browser's: what lies under each key, and whose text it is.
type Store = BTreeMap<String, (Revision, String)>;

/// What a tab does when it writes: over the record where it may, else under a key of its own.
fn write(store: &mut Store, tab: &mut Knowledge, key: &str, text: &str) {
    let key = tab.now_under(key);
    let there = store.get(&key).map(|(revision, _)| revision.clone());
    let (key, revision) = match tab.next_revision(&key, there.as_ref()) {
        Some(revision) => (key, revision),
        None => {
            let own = tab.go_on_beside(&key);
            (own.clone(), tab.next_revision(&own, None).expect("nothing lies there"))
        }
    };
    tab.note(&key, revision.clone());
    store.insert(key, (revision, text.to_owned()));
}

fn read(store: &Store, tab: &mut Knowledge, key: &str) {
    tab.note_read(key, store[key].0.clone());
}

fn texts(store: &Store) -> Vec<&str> {
    store.values().map(|(_, text)| text.as_str()).collect()
}

#[test]
fn two_tabs_that_both_write_lose_nothing_of_either() {
    let (mut one, mut two) = (Knowledge::of_tab("1"), Knowledge::of_tab("2"));
    let mut store = Store::new();
    write(&mut store, &mut one, "study-5", "begun");
    read(&store, &mut two, "study-5");
    write(&mut store, &mut one, "study-5", "changed in one");
    write(&mut store, &mut two, "study-5", "changed in two");
    write(&mut store, &mut one, "study-5", "changed again in one");
    write(&mut store, &mut two, "study-5", "changed again in two");
    assert_eq!(texts(&store), ["changed again in one", "changed again in two"]);
}

#[test]
fn a_tab_that_only_reads_moves_nobody_and_who_goes_on_alone_keeps_the_name() {
    let (mut one, mut two) = (Knowledge::of_tab("1"), Knowledge::of_tab("2"));
    let mut store = Store::new();
    write(&mut store, &mut one, "study-5", "begun");
    read(&store, &mut two, "study-5");
    write(&mut store, &mut two, "study-5", "gone on in two");
    write(&mut store, &mut two, "study-5", "and on");
    assert_eq!(texts(&store), ["and on"]);
}

#[test]
fn a_record_of_an_earlier_program_and_a_deleted_one_may_be_written() {
    let (mut one, mut two) = (Knowledge::of_tab("1"), Knowledge::of_tab("2"));
    let earlier = Revision::in_about("{\"title\":\"Nectar\"}");
    assert_eq!(earlier, Revision::default());
    one.note_read("k", earlier.clone());
    let next = one.next_revision("k", Some(&earlier)).expect("nobody wrote since");
    assert_eq!(next, Revision { number: 1, tab: "1".to_owned() });
    two.note_read("k", earlier);
    assert_eq!(two.next_revision("k", Some(&next)), None, "the first tab wrote since");
    assert!(two.next_revision("k", None).is_some(), "it was deleted");
}

#[test]
fn a_key_that_two_tabs_made_at_the_same_moment_is_written_by_one_of_them() {
    let there = Revision { number: 1, tab: "1".to_owned() };
    assert_eq!(Knowledge::of_tab("2").next_revision("plan-202603140926", Some(&there)), None);
}

#[test]
fn opening_a_record_again_goes_back_to_writing_it() {
    let mut two = Knowledge::of_tab("2");
    two.go_on_under("k", "k-2");
    assert_eq!(two.now_under("k"), "k-2");
    two.note_read("k", Revision { number: 7, tab: "1".to_owned() });
    assert_eq!(two.now_under("k"), "k");
    assert!(two.take_just_read(Some("k")), "what was just read need not be written");
    assert!(!two.take_just_read(Some("k")), "what comes after it must be");
}

#[test]
fn a_text_is_written_over_what_this_tab_knows_and_over_nothing_else() {
    let mut one = Knowledge::of_tab("1");
    assert!(one.may_write_text("sheet", None));
    assert!(!one.may_write_text("sheet", Some("of another tab")));
    one.note_text("sheet", "own");
    assert!(one.may_write_text("sheet", Some("own")));
    assert!(!one.may_write_text("sheet", Some("of another tab")));
    let name = one.version_name("sheet-1-1", "2026-03-14 09:26");
    assert_eq!(version_parts(&name), ("sheet-1-1", Some("2026-03-14 09:26")));
    assert_eq!(version_parts("sheet-1-1"), ("sheet-1-1", None));
    assert_eq!(version_parts(&one.version_name(&name, "2026-03-14 10:00")).1, Some("2026-03-14 10:00"));
}

#[test]
fn the_revision_stands_in_the_description_and_comes_back() {
    let revision = Revision { number: 3, tab: "b".to_owned() };
    let about = revision.put_in("{\"title\":\"Nectar\",\"scores\":4}");
    assert_eq!(Revision::in_about(&about), revision);
    assert!(about.contains("\"title\":\"Nectar\""));
    assert_eq!(revision.put_in("damaged"), "damaged");
    assert_eq!(Revision::in_about("damaged"), Revision::default());
}

#[test]
fn tabs_are_told_what_they_have_in_common_and_answer_once() {
    let owner = Owner::new();
    owner.with(|| {
        let app = AppState::new(|| "2026-03-14 09:26".to_owned());
        begin(app, "1");
        let held = |study: &str| Held { study: Some(study.to_owned()), ..Held::default() };
        let note = |held: Held, is_answer| TabNote { tab: "2".to_owned(), held, is_answer, number: 1 };
        assert!(!hear(app, &note(held("study-6"), false), &held("study-5")));
        assert!(app.message.get_untracked().is_none(), "nothing in common");
        assert!(hear(app, &note(held("study-5"), false), &held("study-5")));
        let said = app.message.get_untracked().expect("told at once");
        assert_eq!(said.what, "This study is open in another tab too.");
        assert!(!hear(app, &note(held("study-5"), true), &held("study-5")), "an answer is not answered");
        let own = note_of(app, held("study-5"), false);
        assert!(!hear(app, &own, &held("study-5")), "its own note tells nothing");
    });
}

#[test]
fn a_study_and_a_plan_go_on_under_another_key_and_name() {
    use crate::state::plan::kept_keys::KeptPlan;
    use crate::state::plan::kept_plans;
    use crate::state::study::demos::{DEMOS, open_demo};
    use crate::state::study::saved_studies::{SavedStudy, give_key, go_on_as_other_version};
    let owner = Owner::new();
    owner.with(|| {
        let app = AppState::new(|| "2026-03-14 09:26".to_owned());
        open_demo(app, &DEMOS[0]);
        give_key(app, "study-5".to_owned());
        let title = app.study.with_untracked(|study| study.as_ref().map(|study| study.title.clone())).expect("open");
        let about = SavedStudy { key: "study-5".to_owned(), title: title.clone(), ..SavedStudy::default() };
        let other = go_on_as_other_version(app, &about, "study-5-b");
        assert_eq!(other, format!("{title} (other version, 09:26)"));
        app.study.with_untracked(|study| {
            let study = study.as_ref().expect("still open");
            assert_eq!((study.kept_as.as_deref(), &study.title), (Some("study-5-b"), &other));
            assert!(study.log.last().is_some_and(|entry| entry.what.contains("other version")), "it is on record");
        });
        // One that is not open is named all the same, and the open one left alone.
        go_on_as_other_version(app, &SavedStudy { key: "study-6".to_owned(), ..about }, "study-6-b");
        assert_eq!(
            app.study.with_untracked(|study| study.as_ref().and_then(|study| study.kept_as.clone())).as_deref(),
            Some("study-5-b")
        );
        app.kept_plans.key.set(Some("plan-1".to_owned()));
        app.plan_draft.update(|draft| draft.brief.title = "Mango".to_owned());
        let text = app.plan_draft.with_untracked(|draft| draft.file_text(None));
        let about = KeptPlan { key: "plan-1".to_owned(), title: "Mango".to_owned(), ..KeptPlan::default() };
        let (about, text) = kept_plans::go_on_as_other_version(app, about, text, "plan-1-b");
        assert_eq!((about.key.as_str(), about.title.as_str()), ("plan-1-b", "Mango (other version, 09:26)"));
        assert!(text.contains("Mango (other version, 09:26)"));
        assert_eq!(app.kept_plans.key.get_untracked().as_deref(), Some("plan-1-b"));
    });
}

#[test]
fn what_was_listed_first_is_what_a_tab_goes_on_from() {
    let at = |number| Revision { number, tab: "1".to_owned() };
    let mut two = Knowledge::of_tab("2");
    two.note_first("plan-1", at(3));
    two.note_first("plan-1", at(4));
    assert!(two.next_revision("plan-1", Some(&at(3))).is_some(), "undo may go back to a plan of the last visit");
    assert_eq!(two.next_revision("plan-1", Some(&at(4))), None, "the other tab has written since");
}
