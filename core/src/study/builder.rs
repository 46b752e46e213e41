//! Builds a study score by score. It keeps the order in which names first appear and refuses to overwrite silently.

use super::{
    Assessor, Attribute, Margin, Origin, ReportDetails, Sample, Scale, ScoreColumn, Serving, Settings, SourceFile,
    Study,
};
use std::collections::HashMap;

/// Everything that tells one serving from another, by name as text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ScoreAddress<'a> {
    pub assessor: &'a str,
    pub sample: &'a str,
    /// From 1.
    pub replicate: u32,
    pub session: Option<&'a str>,
    pub position: Option<u32>,
    pub label: Option<&'a str>,
}

/// What tells one serving from another, by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ServingKey {
    pub assessor: u32,
    pub sample: u32,
    /// From 1.
    pub replicate: u32,
    pub session: Option<u32>,
}

/// A second score for a cell that already has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScoreConflict {
    pub kept: f64,
    pub kept_origin: Origin,
    pub refused: f64,
}

/// Collects scores; `finish` gives the study.
#[derive(Debug, Default)]
pub struct StudyBuilder {
    files: Vec<SourceFile>,
    scale: Scale,
    assessors: Names,
    samples: Names,
    sessions: Names,
    attributes: Names,
    servings: Vec<Serving>,
    serving_by_key: HashMap<ServingKey, u32>,
    /// For each serving the one that came after it last time: files repeat their order, and this saves the table.
    follows: Vec<u32>,
    latest: usize,
    columns: Vec<ScoreColumn>,
    /// For how many servings a new column has room at once.
    expected: usize,
}

#[derive(Debug, Default)]
struct Names {
    list: Vec<String>,
    by_name: HashMap<String, u32>,
    latest: u32,
}

impl StudyBuilder {
    /// A study without people, samples or scores.
    pub fn new(scale: Scale) -> Self {
        StudyBuilder { scale, ..StudyBuilder::default() }
    }

    /// Registers a file and returns its index for `Origin::file`.
    pub fn file(&mut self, file: SourceFile) -> u16 {
        self.files.push(file);
        (self.files.len() - 1) as u16
    }

    /// How many servings there will be at most: columns that grow step by step are moved again and again.
    pub fn expect_servings(&mut self, servings: usize) {
        self.expected = servings;
    }

    /// Index of the attribute, made when new.
    pub fn attribute(&mut self, name: &str) -> usize {
        let index = self.attributes.index_of(name) as usize;
        while self.columns.len() <= index {
            let (scores, origins) = (Vec::with_capacity(self.expected), Vec::with_capacity(self.expected));
            self.columns.push(ScoreColumn { scores, origins });
        }
        index
    }

    /// Index of the assessor, made when new.
    pub fn assessor(&mut self, name: &str) -> u32 {
        self.assessors.index_of(name)
    }

    /// Index of the sample, made when new.
    pub fn sample(&mut self, name: &str) -> u32 {
        self.samples.index_of(name)
    }

    /// Index of the session, made when new.
    pub fn session(&mut self, name: &str) -> u32 {
        self.sessions.index_of(name)
    }

    /// Index of the serving, made when new. Two servings differ by assessor, sample, replicate or session.
    pub fn serving(&mut self, address: ScoreAddress<'_>) -> usize {
        let key = ServingKey {
            assessor: self.assessor(address.assessor),
            sample: self.sample(address.sample),
            replicate: address.replicate,
            session: address.session.map(|name| self.session(name)),
        };
        let known = self.servings.len();
        let index = self.serving_at(key);
        if index == known {
            self.servings[index].position = address.position;
            self.servings[index].label = address.label.map(str::to_owned);
        }
        index
    }

    /// Index of the serving, made when new, by indices of this builder's names.
    #[inline]
    pub fn serving_at(&mut self, key: ServingKey) -> usize {
        let guess = self.follows.get(self.latest).copied().unwrap_or(0) as usize;
        let found = match self.servings.get(guess) {
            Some(serving) if serving.key() == key => guess,
            _ => self.look_up(key),
        };
        if let Some(follows) = self.follows.get_mut(self.latest) {
            *follows = found as u32;
        }
        self.latest = found;
        found
    }

    /// States the serving position; false, and nothing changed, where another one stands already.
    pub fn set_position(&mut self, serving: usize, position: u32) -> bool {
        *self.servings[serving].position.get_or_insert(position) == position
    }

    /// States what the cup was called; the first label stays.
    pub fn set_label(&mut self, serving: usize, label: &str) {
        self.servings[serving].label.get_or_insert_with(|| label.to_owned());
    }

    /// Where a score was put; `None` where nothing was put yet, not even a missing mark.
    pub fn origin(&self, serving: usize, attribute: usize) -> Option<Origin> {
        self.columns.get(attribute)?.origins.get(serving).copied()
    }

    /// Puts a score in place of the one that stands there.
    pub fn replace(&mut self, serving: usize, attribute: usize, score: Option<f64>, origin: Origin) {
        let column = &mut self.columns[attribute];
        column.reach(serving + 1);
        column.scores[serving] = score.filter(|value| value.is_finite());
        column.origins[serving] = origin;
    }

    /// Writes a score, or says which score stands there already. Equal values conflict too: the caller counts them.
    pub fn put(
        &mut self,
        serving: usize,
        attribute: usize,
        score: Option<f64>,
        origin: Origin,
    ) -> Result<(), ScoreConflict> {
        let column = &mut self.columns[attribute];
        if column.scores.len() == serving {
            column.scores.push(score.filter(|value| value.is_finite()));
            column.origins.push(origin);
            return Ok(());
        }
        column.reach(serving + 1);
        if let (Some(kept), Some(refused)) = (column.scores[serving], score) {
            return Err(ScoreConflict { kept, kept_origin: column.origins[serving], refused });
        }
        if score.is_some() || column.scores[serving].is_none() {
            column.scores[serving] = score.filter(|value| value.is_finite());
            column.origins[serving] = origin;
        }
        Ok(())
    }

    /// One score by names: what tests and generators use. Panics never; conflicts keep the first score.
    pub fn add(&mut self, address: ScoreAddress<'_>, attribute: &str, score: f64) -> Result<(), ScoreConflict> {
        let attribute = self.attribute(attribute);
        let serving = self.serving(address);
        self.put(serving, attribute, Some(score), Origin::default())
    }

    /// The study, with a tenth of the scale as the margin until the leader says better (common practice, weak).
    pub fn finish(mut self, title: &str) -> Study {
        let margin = Margin::of(0.1 * (self.scale.maximum - self.scale.minimum));
        let servings = self.servings.len();
        self.columns.iter_mut().for_each(|column| column.reach(servings));
        Study {
            title: title.to_owned(),
            files: self.files,
            scale: self.scale,
            assessors: self.assessors.list.into_iter().map(|name| Assessor { name }).collect(),
            samples: self.samples.list.into_iter().map(|name| Sample { name, codes: Vec::new() }).collect(),
            attributes: self.attributes.list.iter().map(|name| Attribute::named(name)).collect(),
            sessions: self.sessions.list,
            servings: self.servings,
            exclusions: Vec::new(),
            edits: Vec::new(),
            settings: Settings { margin, ..Settings::default() },
            log: Vec::new(),
            decided_at: None,
            report: ReportDetails::default(),
            kept_as: None,
            notices: Vec::new(),
            record: Vec::new(),
            from_pictures: None,
            columns: self.columns,
        }
    }

    fn look_up(&mut self, key: ServingKey) -> usize {
        let next = self.servings.len() as u32;
        let index = *self.serving_by_key.entry(key).or_insert(next);
        if index == next {
            self.follows.push(next);
            self.servings.push(Serving {
                assessor: key.assessor,
                sample: key.sample,
                replicate: key.replicate,
                session: key.session,
                position: None,
                label: None,
            });
        }
        index as usize
    }
}

impl Serving {
    fn key(&self) -> ServingKey {
        ServingKey { assessor: self.assessor, sample: self.sample, replicate: self.replicate, session: self.session }
    }
}

impl Names {
    /// Files repeat a name for many rows, so the latest one is tried before the table.
    fn index_of(&mut self, name: &str) -> u32 {
        if self.list.get(self.latest as usize).is_some_and(|latest| latest == name) {
            return self.latest;
        }
        let next = self.list.len() as u32;
        self.latest = match self.by_name.get(name) {
            Some(index) => *index,
            None => {
                self.by_name.insert(name.to_owned(), next);
                self.list.push(name.to_owned());
                next
            }
        };
        self.latest
    }
}

impl ScoreColumn {
    /// Grows to this many servings, the new ones without a score: columns are filled out when they are written to.
    fn reach(&mut self, servings: usize) {
        if self.scores.len() < servings {
            self.scores.resize(servings, None);
            self.origins.resize(servings, Origin::default());
        }
    }
}
