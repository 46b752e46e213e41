//! Builds a study score by score. It keeps the order in which names first appear and refuses to overwrite silently.

use super::{Assessor, Attribute, Margin, Origin, Sample, Scale, ScoreColumn, Serving, Settings, SourceFile, Study};
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
    serving_by_key: HashMap<(u32, u32, u32, u32), u32>,
    columns: Vec<ScoreColumn>,
}

#[derive(Debug, Default)]
struct Names {
    list: Vec<String>,
    by_name: HashMap<String, u32>,
    latest: u32,
}

impl StudyBuilder {
    pub fn new(scale: Scale) -> Self {
        StudyBuilder { scale, ..StudyBuilder::default() }
    }

    /// Registers a file and returns its index for `Origin::file`.
    pub fn file(&mut self, file: SourceFile) -> u16 {
        self.files.push(file);
        (self.files.len() - 1) as u16
    }

    /// Index of the attribute, made when new.
    pub fn attribute(&mut self, name: &str) -> usize {
        let index = self.attributes.index_of(name) as usize;
        while self.columns.len() <= index {
            self.columns.push(ScoreColumn::filled(self.servings.len()));
        }
        index
    }

    /// Index of the serving, made when new. Two servings differ by assessor, sample, replicate or session.
    pub fn serving(&mut self, address: ScoreAddress<'_>) -> usize {
        let assessor = self.assessors.index_of(address.assessor);
        let sample = self.samples.index_of(address.sample);
        let session = address.session.map(|name| self.sessions.index_of(name));
        let key = (assessor, sample, address.replicate, session.map_or(u32::MAX, |index| index));
        let next = self.servings.len() as u32;
        let index = *self.serving_by_key.entry(key).or_insert(next);
        if index == next {
            self.servings.push(Serving {
                assessor,
                sample,
                replicate: address.replicate,
                session,
                position: address.position,
                label: address.label.map(str::to_owned),
            });
            for column in &mut self.columns {
                column.scores.push(None);
                column.origins.push(Origin::default());
            }
        }
        index as usize
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
    pub fn finish(self, title: &str) -> Study {
        let margin = Margin::of(0.1 * (self.scale.maximum - self.scale.minimum));
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
            settings: Settings { margin, ..Settings::default() },
            log: Vec::new(),
            notices: Vec::new(),
            columns: self.columns,
        }
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
    fn filled(servings: usize) -> Self {
        ScoreColumn { scores: vec![None; servings], origins: vec![Origin::default(); servings] }
    }
}
