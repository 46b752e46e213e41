//! What was noted at the tasting, carried into the study, so that what is left out later can have a reason that is older
//! than the result. It knows nothing of plans.

use super::Study;
use serde::{Deserialize, Serialize};

/// One line of the fair-test record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RecordedEvent {
    /// Local date and time at which it was noted.
    pub when: String,
    /// Number of the session, from 1.
    pub session: u32,
    /// What happened, such as "blocked nose".
    pub what: String,
    /// Index into `Study::assessors`, where it concerns one.
    pub assessor: Option<usize>,
    /// Index into `Study::servings`, where it concerns one cup of one assessor.
    pub serving: Option<usize>,
    /// Code of the cup, where one was named.
    pub code: Option<String>,
    pub note: String,
    /// The reason to offer when the assessor or the cup is left out; none where the event is about no score.
    pub exclusion_reason: Option<String>,
}

impl Study {
    /// A line of the record as people read it.
    pub fn recorded_in_words(&self, event: &RecordedEvent) -> String {
        let who = event.assessor.and_then(|index| self.assessors.get(index)).map(|assessor| assessor.name.as_str());
        recorded_line(event.session, who, event.code.as_deref(), &event.what, &event.note)
    }
}

/// "Session 1, Anna, cup 278: sample spilt (half of it)".
pub fn recorded_line(session: u32, who: Option<&str>, code: Option<&str>, what: &str, note: &str) -> String {
    let cup = code.map(|code| format!("cup {code}"));
    let about: Vec<String> = who.map(str::to_owned).into_iter().chain(cup).collect();
    let about = if about.is_empty() { String::new() } else { format!("{}: ", about.join(", ")) };
    let note = if note.is_empty() { String::new() } else { format!(" ({note})") };
    format!("Session {session}, {about}{what}{note}")
}
