//! One entry of the catalogue: a method behind functions that know its result, so that faces need not.

use super::about::About;
use super::given::Given;
use crate::defined::Defined;
use crate::figures::{Scene, ThemeKind};
use crate::run::{Reached, Run};
use crate::table::Table;
use crate::text::plain_json::plain_json;
use serde::Serialize;
use serde_json::Value;
use std::any::Any;
use std::sync::Arc;

/// A method as the catalogue holds it.
pub trait Statistic: 'static {
    type Found: Serialize + Send + Sync + 'static;
    type Run: Run<Found = Self::Found>;

    const ABOUT: About;
    /// Where the result stands in the results as JSON; `None` where the analysis holds it already.
    const JSON: Option<JsonPlace>;

    /// Prepares the method by the study's own settings. What [`About::needs`] names has been found there.
    ///
    /// # Errors
    /// Why there is no result.
    fn start(given: &Given) -> Defined<Self::Run>;

    /// The tables that a reader sees.
    fn tables(given: &Given, found: &Self::Found) -> Vec<Table>;

    /// The tables for a workbook, where other programs read them.
    fn sheets(given: &Given, found: &Self::Found) -> Vec<Table> {
        Self::tables(given, found)
    }

    /// How many figures there are.
    fn figure_count(_given: &Given, _found: &Self::Found) -> usize {
        0
    }

    /// The figure at this place, from 0; `None` after the last. A table at the same place belongs to it.
    fn figure(_given: &Given, _found: &Self::Found, _frame: &Frame, _place: usize) -> Option<Scene> {
        None
    }

    /// What it comes to, in one sentence, where the rest is folded away; `None` where no sentence would do.
    fn conclusion(_given: &Given, _found: &Self::Found) -> Option<String> {
        None
    }

    /// What stands under the tables: models and cautions in words.
    fn notes(_given: &Given, _found: &Self::Found) -> Vec<String> {
        Vec::new()
    }

    /// The result as JSON, each part with its place.
    fn json(_given: &Given, found: Defined<&Self::Found>) -> Vec<JsonPart> {
        Self::JSON.map(|place| JsonPart { place, value: plain_json(&found) }).into_iter().collect()
    }
}

/// How a figure is framed on paper or screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    pub width_px: f64,
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
}

/// Where a value stands in the results as JSON.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JsonPlace {
    /// Under this name, at the top.
    Top(&'static str),
    /// Under this name, in each attribute; the value is a list with an item for each.
    EachAttribute(&'static str),
}

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct JsonPart {
    pub place: JsonPlace,
    pub value: Value,
}

/// What an entry found, whatever it is. Copies are handles to the same.
#[derive(Clone)]
pub struct AnyFinding(Arc<dyn Any + Send + Sync>);

/// An entry under way, whatever it computes.
pub struct EntryRun(Box<dyn AnyRun>);

/// A method behind functions that know its result.
pub struct Entry {
    pub about: &'static About,
    start: fn(&Given) -> Defined<EntryRun>,
    tables: fn(&Given, &AnyFinding) -> Vec<Table>,
    sheets: fn(&Given, &AnyFinding) -> Vec<Table>,
    figure_count: fn(&Given, &AnyFinding) -> usize,
    figure: fn(&Given, &AnyFinding, &Frame, usize) -> Option<Scene>,
    conclusion: fn(&Given, &AnyFinding) -> Option<String>,
    notes: fn(&Given, &AnyFinding) -> Vec<String>,
    json: fn(&Given, &Defined<AnyFinding>) -> Vec<JsonPart>,
}

impl Entry {
    pub(super) const fn of<S: Statistic>() -> Self {
        Entry {
            about: &S::ABOUT,
            start: start::<S>,
            tables: |given, found| found.get().map_or_else(Vec::new, |found| S::tables(given, found)),
            sheets: |given, found| found.get().map_or_else(Vec::new, |found| S::sheets(given, found)),
            figure_count: |given, found| found.get().map_or(0, |found| S::figure_count(given, found)),
            figure: |given, found, frame, place| S::figure(given, found.get()?, frame, place),
            conclusion: |given, found| S::conclusion(given, found.get()?),
            notes: |given, found| found.get().map_or_else(Vec::new, |found| S::notes(given, found)),
            json: json::<S>,
        }
    }

    /// Prepares the method on what it is given.
    ///
    /// # Errors
    /// What the study lacks, or why the method has no result.
    pub fn start(&self, given: &Given) -> Defined<EntryRun> {
        for need in self.about.needs {
            need.met_by(&given.study)?;
        }
        (self.start)(given)
    }

    /// The tables that a reader sees.
    pub fn tables(&self, given: &Given, found: &AnyFinding) -> Vec<Table> {
        (self.tables)(given, found)
    }

    /// The tables for a workbook.
    pub fn sheets(&self, given: &Given, found: &AnyFinding) -> Vec<Table> {
        (self.sheets)(given, found)
    }

    /// How many figures there are.
    pub fn figure_count(&self, given: &Given, found: &AnyFinding) -> usize {
        (self.figure_count)(given, found)
    }

    /// The figure at this place, from 0; `None` after the last.
    pub fn figure(&self, given: &Given, found: &AnyFinding, frame: &Frame, place: usize) -> Option<Scene> {
        (self.figure)(given, found, frame, place)
    }

    /// What it comes to, in one sentence.
    pub fn conclusion(&self, given: &Given, found: &AnyFinding) -> Option<String> {
        (self.conclusion)(given, found)
    }

    /// Models and cautions in words.
    pub fn notes(&self, given: &Given, found: &AnyFinding) -> Vec<String> {
        (self.notes)(given, found)
    }

    /// The result as JSON, each part with its place.
    pub fn json(&self, given: &Given, found: &Defined<AnyFinding>) -> Vec<JsonPart> {
        (self.json)(given, found)
    }
}

fn start<S: Statistic>(given: &Given) -> Defined<EntryRun> {
    S::start(given).map(|run| EntryRun(Box::new(run)))
}

fn json<S: Statistic>(given: &Given, found: &Defined<AnyFinding>) -> Vec<JsonPart> {
    match found {
        Ok(found) => found.get::<S::Found>().map_or_else(Vec::new, |found| S::json(given, Ok(found))),
        Err(reason) => S::json(given, Err(reason.clone())),
    }
}

impl AnyFinding {
    pub fn new(found: impl Send + Sync + 'static) -> Self {
        AnyFinding(Arc::new(found))
    }

    /// The result as what it is; `None` where it is of another kind.
    pub fn get<T: 'static>(&self) -> Option<&T> {
        self.0.downcast_ref()
    }

    /// The same as `get`, as a handle.
    pub fn shared<T: Send + Sync + 'static>(&self) -> Option<Arc<T>> {
        Arc::clone(&self.0).downcast().ok()
    }
}

/// A run whose result is of any kind.
trait AnyRun {
    fn step(&mut self);
    fn reached(&self) -> Reached;
    fn is_done(&self) -> bool;
    fn finish(self: Box<Self>) -> Defined<AnyFinding>;
}

impl<R: Run> AnyRun for R {
    fn step(&mut self) {
        Run::step(self);
    }

    fn reached(&self) -> Reached {
        Run::reached(self)
    }

    fn is_done(&self) -> bool {
        Run::is_done(self)
    }

    fn finish(self: Box<Self>) -> Defined<AnyFinding> {
        Run::finish(*self).map(AnyFinding::new)
    }
}

impl Run for EntryRun {
    type Found = AnyFinding;

    fn step(&mut self) {
        self.0.step();
    }

    fn reached(&self) -> Reached {
        self.0.reached()
    }

    fn is_done(&self) -> bool {
        self.0.is_done()
    }

    fn finish(self) -> Defined<AnyFinding> {
        self.0.finish()
    }
}
