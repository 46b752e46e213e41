//! The results of every entry of the catalogue for one study, and the run that finds them entry by entry.

use super::{AnyFinding, CATALOGUE, Entry, EntryRun, Given, Statistic};
use crate::defined::{Defined, NotDefined};
use crate::run::{Reached, Run};
use crate::study::Study;

/// All results of a study by its own settings.
#[derive(Clone)]
pub struct Results {
    pub given: Given,
    /// In the order of the catalogue.
    found: Vec<Defined<AnyFinding>>,
}

/// All results under way; any slicing gives the same.
pub struct ResultsRun {
    given: Given,
    /// What was found elsewhere for the same study, by the identity of its entry.
    known: Vec<(&'static str, Defined<AnyFinding>)>,
    found: Vec<Defined<AnyFinding>>,
    under_way: Option<EntryRun>,
}

impl Results {
    /// All results at once. Never fails whole.
    pub fn of(study: &Study) -> Self {
        Results::of_given(Given::of(study))
    }

    /// The same from what entries are given.
    pub fn of_given(given: Given) -> Self {
        let mut run = ResultsRun::start(given);
        while !run.is_done() {
            run.step();
        }
        run.into_results()
    }

    /// Each entry with what it found.
    pub fn iter(&self) -> impl Iterator<Item = (&'static Entry, &Defined<AnyFinding>)> {
        CATALOGUE.iter().zip(&self.found)
    }

    /// What one method found.
    ///
    /// # Errors
    /// Why there is no result.
    pub fn get<S: Statistic>(&self) -> Defined<&S::Found> {
        let (_, found) = self
            .iter()
            .find(|(entry, _)| entry.about.id == S::ABOUT.id)
            .ok_or_else(|| NotDefined::because("the catalogue does not hold it"))?;
        let found = found.as_ref().map_err(Clone::clone)?;
        found.get().ok_or_else(|| NotDefined::because("another kind of result stands in its place"))
    }
}

impl ResultsRun {
    /// Nothing is computed yet.
    pub fn start(given: Given) -> Self {
        ResultsRun { given, known: Vec::new(), found: Vec::new(), under_way: None }
    }

    /// The same, with a result that was found elsewhere for the same study.
    pub fn knowing(mut self, id: &'static str, found: Defined<AnyFinding>) -> Self {
        self.known.push((id, found));
        self
    }

    /// The results; what is missing is computed first.
    pub fn into_results(mut self) -> Results {
        while !self.is_done() {
            self.step();
        }
        Results { given: self.given, found: self.found }
    }

    /// What is under way of this entry, what is known of it, or why there is nothing.
    fn begin(&mut self, entry: &Entry) {
        if let Some((_, known)) = self.known.iter().find(|(id, _)| *id == entry.about.id) {
            return self.found.push(known.clone());
        }
        match entry.start(&self.given) {
            Ok(run) => self.under_way = Some(run),
            Err(reason) => self.found.push(Err(reason)),
        }
    }
}

impl Run for ResultsRun {
    type Found = Results;

    fn step(&mut self) {
        match self.under_way.take() {
            Some(run) if run.is_done() => self.found.push(run.finish()),
            Some(mut run) => {
                run.step();
                self.under_way = Some(run);
            }
            None => {
                if let Some(entry) = CATALOGUE.get(self.found.len()) {
                    self.begin(entry);
                }
            }
        }
    }

    /// In entries of the catalogue.
    fn reached(&self) -> Reached {
        Reached { done: self.found.len(), wanted: CATALOGUE.len() }
    }

    fn finish(self) -> Defined<Results> {
        Ok(self.into_results())
    }
}
