//! The catalogue: one entry a method. Page, shell text, shell JSON, report and workbook walk it and know no method by
//! name; what an entry computes, its tables, its figures and its help come from here and nowhere else.
//!
//! A new statistic is a file in `stats`, its tables in `tables`, an implementation of [`Statistic`] in the file of its
//! topic here, a line in [`CATALOGUE`], its help in [`help`], and a figure if it has one.

mod about;
pub mod chances;
mod entry;
pub mod given;
pub mod help;
pub mod map;
pub mod r#match;
pub mod panel;
pub mod pots;
mod results;
pub mod samples;
pub mod verdicts;

pub use about::{About, Cost, Need, RestsOn, Topic};
pub use entry::{AnyFinding, Entry, EntryRun, Frame, JsonPart, JsonPlace, Statistic};
pub use given::Given;
pub use results::{Results, ResultsRun};

/// Every method, in the order in which a reader meets them.
pub const CATALOGUE: &[Entry] = &[
    Entry::of::<verdicts::Verdicts>(),
    Entry::of::<verdicts::Differences>(),
    Entry::of::<r#match::Closeness>(),
    Entry::of::<chances::ChancesOfVerdicts>(),
    Entry::of::<r#match::Power>(),
    Entry::of::<pots::RoundShifts>(),
    Entry::of::<chances::SecondOpinion>(),
    Entry::of::<chances::MarginsToCome>(),
    Entry::of::<samples::Means>(),
    Entry::of::<samples::SampleEffect>(),
    Entry::of::<samples::Comparisons>(),
    Entry::of::<r#match::IntegratedWords>(),
    Entry::of::<panel::Performance>(),
    Entry::of::<panel::FormFaults>(),
    Entry::of::<r#match::LeaveOneOut>(),
    Entry::of::<panel::Sessions>(),
    Entry::of::<panel::Rounds>(),
    Entry::of::<panel::ServingOrder>(),
    Entry::of::<panel::Labels>(),
    Entry::of::<panel::LineUse>(),
    Entry::of::<map::Map>(),
];

impl Entry {
    /// The entry of this identity.
    pub fn named(id: &str) -> Option<&'static Entry> {
        CATALOGUE.iter().find(|entry| entry.about.id == id)
    }
}

/// The entries of one topic, in their order.
pub fn entries_on(topic: Topic) -> impl Iterator<Item = &'static Entry> {
    CATALOGUE.iter().filter(move |entry| entry.about.topic == topic)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_entry_has_a_name_of_its_own_and_says_what_it_is() {
        for (place, entry) in CATALOGUE.iter().enumerate() {
            let about = entry.about;
            assert!(!about.title.is_empty() && !about.doing.is_empty() && !about.help.is_empty(), "{}", about.id);
            assert!(CATALOGUE[..place].iter().all(|other| other.about.id != about.id), "{} stands twice", about.id);
        }
        let by_topic: usize = Topic::ALL.into_iter().map(|topic| entries_on(topic).count()).sum();
        assert_eq!(by_topic, CATALOGUE.len());
    }
}
