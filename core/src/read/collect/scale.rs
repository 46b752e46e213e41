//! The scale of a study from its scores, the scores outside it, and numbers that may mean "no score".

use crate::notice::Place;
use crate::read::grid::cell_values::is_same_number;
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::options::{Question, ReadOptions};
use crate::study::{Origin, Scale, Study};

/// High ends of scales in use besides the 100 mm line (common practice): lines, and categories.
const LINES: [f64; 3] = [10.0, 15.0, 20.0];
const CATEGORIES: [f64; 6] = [5.0, 7.0, 9.0, 10.0, 15.0, 20.0];

/// Double of the highest of them.
const FAR_ABOVE: f64 = 40.0;

/// Numbers in use for "no score" (common practice).
const NO_SCORE: [f64; 5] = [99.0, 999.0, -1.0, -9.0, -99.0];

/// Places shown with a question.
const QUESTION_PLACES: usize = 20;

/// One score with where it stands.
#[derive(Clone, Copy, Debug)]
pub(in crate::read) struct Placed {
    pub score: f64,
    pub serving: usize,
    pub attribute: usize,
    pub origin: Origin,
}

/// What a scale was found to be, with what speaks for it.
pub(in crate::read) struct FoundScale {
    pub scale: Scale,
    pub highest: f64,
    pub lowest: f64,
    pub scores: usize,
    /// Scores outside the scale, codes for "no score" left aside.
    pub outside: Vec<Placed>,
    /// Scores that equal a code for "no score", by the order of `NO_SCORE`.
    coded: Vec<Vec<Placed>>,
    /// Scores in the upper tenth of the scale that are no such code.
    high: usize,
}

/// The stated scale, or the one that the scores speak for: 100 where more than a few exceed 20.
pub(in crate::read) fn find(study: &Study, options: &ReadOptions) -> FoundScale {
    let stated = options.scale_maximum.filter(|top| top.is_finite() && *top > options.scale_minimum.unwrap_or(0.0));
    let tally = Tally::of(study);
    let mut scale = Scale::up_to(stated.unwrap_or_else(|| tally.maximum()));
    scale.minimum = match options.scale_minimum.filter(|low| low.is_finite() && *low < scale.maximum) {
        Some(low) => low,
        None if stated.is_none() && tally.starts_at_one(scale.maximum) => 1.0,
        None => 0.0,
    };
    let mut found = FoundScale {
        highest: tally.highest,
        lowest: tally.lowest,
        scores: tally.scores,
        outside: Vec::new(),
        coded: vec![Vec::new(); NO_SCORE.len()],
        high: 0,
        scale,
    };
    let all_inside = tally.scores > 0 && found.scale.contains(tally.highest) && found.scale.contains(tally.lowest);
    if tally.counted < tally.scores || !all_inside {
        found.go_through(study);
    }
    found
}

impl FoundScale {
    fn go_through(&mut self, study: &Study) {
        let upper_tenth = self.scale.maximum - 0.1 * (self.scale.maximum - self.scale.minimum);
        for attribute in 0..study.attributes.len() {
            for serving in 0..study.servings.len() {
                let Some(score) = study.score(serving, attribute) else { continue };
                let origin = || study.origin(serving, attribute).unwrap_or_default();
                match code_of(score) {
                    Some(code) => self.coded[code].push(Placed { score, serving, attribute, origin: origin() }),
                    None if self.scale.contains(score) => self.high += usize::from(score >= upper_tenth),
                    None => self.outside.push(Placed { score, serving, attribute, origin: origin() }),
                }
            }
        }
        let in_file_order = |placed: &Placed| (placed.origin.row, placed.origin.column);
        self.outside.sort_by_key(in_file_order);
        self.coded.iter_mut().for_each(|places| places.sort_by_key(in_file_order));
    }

    /// Whether so many scores lie outside that the scale must be another one; told and asked.
    pub fn is_unclear(&self, options: &ReadOptions, notes: &mut Notes) -> Option<Question> {
        let many = |number: usize| number >= 5 && number * 50 > self.scores;
        let is_above = |placed: &&Placed| placed.score > self.scale.maximum;
        let is_below = |placed: &&Placed| placed.score < self.scale.minimum;
        let above = self.outside.iter().filter(is_above).count();
        let below = self.outside.iter().filter(is_below).count();
        if options.scale_maximum.is_none() && many(above) {
            notes.of_file(say::many_above(above, self.scores, self.highest));
            return Some(say::ask_scale(places_of(self.outside.iter().filter(is_above), notes), false));
        }
        if options.scale_minimum.is_none() && many(below) {
            notes.of_file(say::many_below(below, self.scores, self.lowest));
            return Some(say::ask_scale(places_of(self.outside.iter().filter(is_below), notes), true));
        }
        None
    }

    /// Scores outside the scale become missing, each of them told.
    pub fn leave_out(&self, study: &mut Study, notes: &mut Notes) {
        for placed in &self.outside {
            study.set_score(placed.serving, placed.attribute, None);
            let place = notes.origin(placed.origin);
            notes.at(place, say::out_of_scale(placed.score, self.scale.minimum, self.scale.maximum));
        }
    }

    /// Numbers that may mean "no score": outside the scale they become missing, inside they stay; both are asked.
    pub fn ask_codes(&self, study: &mut Study, options: &ReadOptions, notes: &mut Notes) -> Vec<Question> {
        let mut questions = Vec::new();
        for (code, placed) in NO_SCORE.iter().zip(&self.coded) {
            let Some(first) = placed.first() else { continue };
            let inside = self.scale.contains(*code);
            if inside && !self.is_suspicious(*code, placed.len(), options) {
                continue;
            }
            let note = if inside {
                say::missing_code_inside(*code, placed.len())
            } else {
                placed.iter().for_each(|one| study.set_score(one.serving, one.attribute, None));
                say::missing_code_outside(*code, placed.len())
            };
            notes.at(notes.origin(first.origin), note);
            questions.push(say::ask_missing_code(*code, placed.len(), inside, places_of(placed.iter(), notes)));
        }
        questions
    }

    /// Whether a number inside the scale stands so often, and other high scores so seldom, that it may be a code.
    fn is_suspicious(&self, code: f64, times: usize, options: &ReadOptions) -> bool {
        let settled = options.kept_codes.iter().any(|kept| is_same_number(*kept, code));
        !settled && times >= 3 && self.high * 4 <= times
    }
}

/// Where the first twenty of them stand.
fn places_of<'p>(placed: impl Iterator<Item = &'p Placed>, notes: &Notes) -> Vec<Place> {
    placed.take(QUESTION_PLACES).map(|one| notes.origin(one.origin)).collect()
}

/// Which code for "no score" a number is, if any.
fn code_of(score: f64) -> Option<usize> {
    // Nearly all scores lie between the codes, so that one look is enough.
    if score > -0.5 && score < 98.5 { None } else { NO_SCORE.iter().position(|code| is_same_number(*code, score)) }
}

/// What all scores say, codes for "no score" left aside.
#[derive(Default)]
struct Tally {
    /// How many scores there are, codes included.
    scores: usize,
    counted: usize,
    highest: f64,
    lowest: f64,
    whole: bool,
    /// For each end of `CATEGORIES`: scores above it.
    above: [usize; 6],
    /// Those of them not above its double.
    just_above: [usize; 6],
    /// Scores above the double of the last end: above all of them, and just above none.
    far_above: usize,
}

impl Tally {
    fn of(study: &Study) -> Self {
        let (highest, lowest) = (f64::NEG_INFINITY, f64::INFINITY);
        let mut tally = Tally { highest, lowest, whole: true, ..Tally::default() };
        for attribute in 0..study.attributes.len() {
            for score in (0..study.servings.len()).filter_map(|serving| study.score(serving, attribute)) {
                tally.scores += 1;
                if code_of(score).is_none() {
                    tally.add(score);
                }
            }
        }
        tally
    }

    fn add(&mut self, score: f64) {
        self.counted += 1;
        self.highest = self.highest.max(score);
        self.lowest = self.lowest.min(score);
        self.whole = self.whole && score.fract().abs() < crate::numeric::tolerance::SAME_NUMBER;
        if score > FAR_ABOVE {
            self.far_above += 1;
            return;
        }
        for (end, (above, just_above)) in CATEGORIES.iter().zip(self.above.iter_mut().zip(&mut self.just_above)) {
            *above += usize::from(score > *end);
            *just_above += usize::from(score > *end && score <= 2.0 * end);
        }
    }

    /// The smallest usual maximum with no score between it and its double: what lies beyond that is a slip of the
    /// pen, and these strays are few (one, or one in a hundred).
    fn maximum(&self) -> f64 {
        let strays = (self.counted / 100).max(usize::from(self.counted >= 30));
        let is_usual = |end: &f64| self.whole || LINES.iter().any(|line| is_same_number(*line, *end));
        let fits = |index: &usize| self.above[*index] + self.far_above <= strays && self.just_above[*index] == 0;
        let found = (0..CATEGORIES.len()).filter(|index| is_usual(&CATEGORIES[*index])).find(fits);
        found.map_or(100.0, |index| CATEGORIES[index])
    }

    /// Whole numbers from 1 up to an odd maximum are categories counted from 1.
    fn starts_at_one(&self, maximum: f64) -> bool {
        [5.0, 7.0, 9.0].iter().any(|odd| is_same_number(*odd, maximum)) && self.whole && self.lowest >= 1.0
    }
}
