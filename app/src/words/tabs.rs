//! The words about one study, plan or sheet in two tabs.

pub const ELSEWHERE_HINT: &str = "Nothing is overwritten: where both are changed, the tab that comes second keeps a version of its own under another name.";
pub const STUDY_BESIDE: &str = "This study was changed in another tab meanwhile.";
pub const PLAN_BESIDE: &str = "This plan was changed in another tab meanwhile.";
pub const TYPING_BESIDE: &str = "Scores were typed in another tab meanwhile.";
pub const TYPING_BESIDE_HINT: &str = "Both are kept. This tab goes on with what was typed here; the next time the page is opened, it stands there as typing that was put aside.";
pub const SHEET_ELSEWHERE: &str = "This sheet is open in another tab too. Go on in one of them only: where both are marked, both are kept, side by side.";
pub const SHEET_BESIDE: &str = "This sheet was marked in another tab meanwhile. Both are kept: the list of names shows them side by side, with their times.";

/// What else has it open; `study` and `plan` say which, at least one.
pub fn elsewhere(study: bool, plan: bool) -> String {
    let what = match (study, plan) {
        (true, true) => "This study and this plan are",
        (true, false) => "This study is",
        _ => "This plan is",
    };
    format!("{what} open in another tab too.")
}

/// "Nectar (other version, 14:05)"; one that has such an ending already gets the new one in its place.
pub fn other_version(title: &str, when: &str) -> String {
    let time = when.rsplit(' ').next().unwrap_or(when);
    let bare = title.split(" (other version, ").next().unwrap_or(title);
    format!("{bare} (other version, {time})")
}

pub fn beside_hint(title: &str) -> String {
    format!("Both are kept. What you see is now \u{201c}{title}\u{201d}; the other one keeps its name.")
}

/// Of a sheet on the list of names: when its second version was begun.
pub fn version_of(when: &str) -> String {
    format!("other version, {when}")
}
