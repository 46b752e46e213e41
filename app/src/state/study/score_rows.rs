//! Which scores are shown in the view Scores, in what order, and what is peculiar about each. Pure functions of a study and
//! of what was chosen; it must not know the rest of the state, nor who chooses.

use crate::words;
use crate::words::scores as say;
use likeness_core::notice::{Notice, Severity};
use likeness_core::study::{ExclusionScope, Study};
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

/// A column of the table of scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ScoreColumn {
    Assessor,
    Sample,
    Replicate,
    Session,
    Position,
    Label,
    /// Index into `Study::attributes`.
    Attribute(usize),
}

/// What is peculiar about a score.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    /// A notice of the reading asks to check it.
    ToCheck,
    LeftOut,
    Corrected,
    Missing,
}

/// What is wanted to be seen; `None` wants everything. Indices are those of the study.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ScoreFilter {
    pub assessor: Option<usize>,
    pub sample: Option<usize>,
    pub replicate: Option<u32>,
    pub session: Option<usize>,
    pub attribute: Option<usize>,
    /// Only pages with such a score on an attribute that is shown.
    pub condition: Option<Condition>,
}

/// The order of the pages; the order of the file where no column is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScoreOrder {
    pub column: ScoreColumn,
    pub descending: bool,
}

/// What Scores shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ScoresShown {
    pub filter: ScoreFilter,
    pub order: Option<ScoreOrder>,
    /// The cell that is looked at.
    pub place: Option<ScorePlace>,
}

/// A cell of the table of scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScorePlace {
    Head(ScoreColumn),
    /// Index into `Study::servings`, and a column.
    Cell(usize, ScoreColumn),
}

/// What is peculiar about each score, found once for a state of the study.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Peculiar {
    /// Serving and attribute of scores that a notice asks to check.
    to_check: BTreeSet<(usize, usize)>,
    corrected: BTreeSet<(usize, usize)>,
    assessors_out: BTreeSet<usize>,
    samples_out: BTreeSet<usize>,
    attributes_out: BTreeSet<usize>,
    servings_out: BTreeSet<usize>,
    scores_out: BTreeSet<(usize, usize)>,
}

impl Condition {
    pub const ALL: [Condition; 4] = [Condition::ToCheck, Condition::LeftOut, Condition::Corrected, Condition::Missing];

    pub fn in_words(self) -> &'static str {
        match self {
            Condition::ToCheck => say::IS_TO_CHECK,
            Condition::LeftOut => say::IS_LEFT_OUT,
            Condition::Corrected => say::IS_CORRECTED,
            Condition::Missing => say::IS_MISSING,
        }
    }
}

impl ScoreColumn {
    /// What stands over the column: the name of its attribute where it holds scores.
    pub fn head(self, study: &Study) -> String {
        match self {
            ScoreColumn::Assessor => words::ASSESSOR.to_owned(),
            ScoreColumn::Sample => words::SAMPLE.to_owned(),
            ScoreColumn::Replicate => say::REPLICATE_SHORT.to_owned(),
            ScoreColumn::Session => words::SESSION.to_owned(),
            ScoreColumn::Position => say::POSITION_SHORT.to_owned(),
            ScoreColumn::Label => say::LABEL.to_owned(),
            ScoreColumn::Attribute(index) => {
                study.attributes.get(index).map_or_else(String::new, |attribute| attribute.name.clone())
            }
        }
    }
}

impl Peculiar {
    pub fn of(study: &Study) -> Self {
        let mut found = Peculiar {
            to_check: to_check(study),
            corrected: study.edits.iter().map(|edit| (edit.serving, edit.attribute)).collect(),
            ..Peculiar::default()
        };
        for exclusion in &study.exclusions {
            match exclusion.scope {
                ExclusionScope::Assessor(index) => found.assessors_out.insert(index),
                ExclusionScope::Sample(index) => found.samples_out.insert(index),
                ExclusionScope::Attribute(index) => found.attributes_out.insert(index),
                ExclusionScope::Serving(index) => found.servings_out.insert(index),
                ExclusionScope::Score { serving, attribute } => found.scores_out.insert((serving, attribute)),
            };
        }
        found
    }

    pub fn is_to_check(&self, serving: usize, attribute: usize) -> bool {
        self.to_check.contains(&(serving, attribute))
    }

    pub fn is_corrected(&self, serving: usize, attribute: usize) -> bool {
        self.corrected.contains(&(serving, attribute))
    }

    /// Whether the whole page is left out, by itself or with its assessor or sample.
    pub fn page_is_left_out(&self, study: &Study, serving: usize) -> bool {
        study.servings.get(serving).is_some_and(|page| {
            self.servings_out.contains(&serving)
                || self.assessors_out.contains(&(page.assessor as usize))
                || self.samples_out.contains(&(page.sample as usize))
        })
    }

    pub fn is_left_out(&self, study: &Study, serving: usize, attribute: usize) -> bool {
        self.attributes_out.contains(&attribute)
            || self.scores_out.contains(&(serving, attribute))
            || self.page_is_left_out(study, serving)
    }

    fn meets(&self, study: &Study, condition: Condition, serving: usize, attribute: usize) -> bool {
        match condition {
            Condition::ToCheck => self.is_to_check(serving, attribute),
            Condition::LeftOut => self.is_left_out(study, serving, attribute),
            Condition::Corrected => self.is_corrected(serving, attribute),
            Condition::Missing => study.score(serving, attribute).is_none(),
        }
    }
}

/// The columns that are shown. On a narrow screen scores stand before what names their page less: else none were in sight.
pub fn columns(study: &Study, filter: &ScoreFilter, narrow: bool) -> Vec<ScoreColumn> {
    let is_known = |column: &ScoreColumn| match column {
        ScoreColumn::Session => !study.sessions.is_empty(),
        ScoreColumn::Position => study.servings.iter().any(|serving| serving.position.is_some()),
        ScoreColumn::Label => study.servings.iter().any(|serving| serving.label.is_some()),
        _ => true,
    };
    let first = [ScoreColumn::Assessor, ScoreColumn::Sample];
    let then = [ScoreColumn::Replicate, ScoreColumn::Session, ScoreColumn::Position, ScoreColumn::Label];
    let then = then.into_iter().filter(is_known);
    let scores = attributes(study, filter).map(ScoreColumn::Attribute);
    if narrow {
        first.into_iter().chain(scores).chain(then).collect()
    } else {
        first.into_iter().chain(then).chain(scores).collect()
    }
}

/// Indices of the servings that are shown, in order.
pub fn servings(study: &Study, peculiar: &Peculiar, filter: &ScoreFilter, order: Option<ScoreOrder>) -> Vec<usize> {
    let shown: Vec<usize> = attributes(study, filter).collect();
    let is_wanted = |serving: &usize| {
        let page = &study.servings[*serving];
        filter.assessor.is_none_or(|wanted| wanted == page.assessor as usize)
            && filter.sample.is_none_or(|wanted| wanted == page.sample as usize)
            && filter.replicate.is_none_or(|wanted| wanted == page.replicate)
            && filter.session.is_none_or(|wanted| page.session == Some(wanted as u32))
            && filter.condition.is_none_or(|condition| {
                shown.iter().any(|attribute| peculiar.meets(study, condition, *serving, *attribute))
            })
    };
    let mut servings: Vec<usize> = (0..study.servings.len()).filter(is_wanted).collect();
    if let Some(order) = order {
        sort(study, &mut servings, order);
    }
    servings
}

/// Notices of the reading that speak of one cell of a file, for the score that came from there.
pub fn notices_on(study: &Study, serving: usize, attribute: usize) -> Vec<&Notice> {
    let Some(origin) = study.origin(serving, attribute).filter(|origin| origin.row > 0) else { return Vec::new() };
    let file = study.files.get(usize::from(origin.file));
    let speaks_of_it = |notice: &&Notice| {
        let place = &notice.place;
        let is_file = study.files.len() == 1 || file.is_some_and(|file| place.file.is_some() && file.holds(place));
        let is_column = place.column.is_none_or(|column| column == u32::from(origin.column));
        is_file && place.row == Some(origin.row) && is_column
    };
    study.notices.iter().filter(speaks_of_it).collect()
}

fn attributes(study: &Study, filter: &ScoreFilter) -> impl Iterator<Item = usize> + use<> {
    let wanted = filter.attribute;
    (0..study.attributes.len()).filter(move |attribute| wanted.is_none_or(|wanted| wanted == *attribute))
}

/// Scores in whose very cell, or on whose row, a notice asks to check something.
fn to_check(study: &Study) -> BTreeSet<(usize, usize)> {
    let mut wanted: BTreeMap<(usize, u32), Vec<Option<u32>>> = BTreeMap::new();
    for notice in study.notices.iter().filter(|notice| notice.severity >= Severity::Check) {
        let file = study.files.iter().position(|known| known.holds(&notice.place));
        if let (Some(file), Some(row)) = (file, notice.place.row) {
            wanted.entry((file, row)).or_default().push(notice.place.column);
        }
    }
    let mut found = BTreeSet::new();
    if wanted.is_empty() {
        return found;
    }
    for serving in 0..study.servings.len() {
        for attribute in 0..study.attributes.len() {
            let Some(origin) = study.origin(serving, attribute) else { continue };
            let columns = wanted.get(&(usize::from(origin.file), origin.row));
            let is_meant = |column: &Option<u32>| column.is_none_or(|column| column == u32::from(origin.column));
            if columns.is_some_and(|columns| columns.iter().any(is_meant)) {
                found.insert((serving, attribute));
            }
        }
    }
    found
}

/// What is missing comes last, upwards and downwards; equal ones stay in the order of the file.
fn sort(study: &Study, servings: &mut [usize], order: ScoreOrder) {
    let turn = |compared: Ordering| if order.descending { compared.reverse() } else { compared };
    let by_number = |servings: &mut [usize], number: &dyn Fn(usize) -> Option<f64>| {
        servings.sort_by(|a, b| match (number(*a), number(*b)) {
            (Some(a), Some(b)) => turn(a.total_cmp(&b)),
            (one, other) => one.is_none().cmp(&other.is_none()),
        });
    };
    let whole = |number: u32| Some(f64::from(number));
    match order.column {
        ScoreColumn::Assessor => {
            servings.sort_by(|a, b| turn(assessor_name(study, *a).cmp(assessor_name(study, *b))));
        }
        ScoreColumn::Sample => servings.sort_by(|a, b| turn(sample_name(study, *a).cmp(sample_name(study, *b)))),
        ScoreColumn::Label => servings.sort_by(|a, b| turn(study.servings[*a].label.cmp(&study.servings[*b].label))),
        ScoreColumn::Replicate => by_number(servings, &|serving| whole(study.servings[serving].replicate)),
        ScoreColumn::Session => by_number(servings, &|serving| study.servings[serving].session.and_then(whole)),
        ScoreColumn::Position => by_number(servings, &|serving| study.servings[serving].position.and_then(whole)),
        ScoreColumn::Attribute(attribute) => by_number(servings, &|serving| study.score(serving, attribute)),
    }
}

pub fn assessor_name(study: &Study, serving: usize) -> &str {
    let index = study.servings.get(serving).map(|page| page.assessor as usize);
    index.and_then(|index| study.assessors.get(index)).map_or("", |assessor| &assessor.name)
}

pub fn sample_name(study: &Study, serving: usize) -> &str {
    let index = study.servings.get(serving).map(|page| page.sample as usize);
    index.and_then(|index| study.samples.get(index)).map_or("", |sample| &sample.name)
}
