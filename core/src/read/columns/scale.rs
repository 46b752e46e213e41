//! The scale of a study from its scores, the scores outside it, and numbers that may mean "no score".

use crate::read::ReadOptions;
use crate::read::collect::score_cells::same;
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::study::{Origin, Scale, Study};

/// High ends of scales in use besides the 100 mm line (common practice): lines, and categories.
const LINES: [f64; 3] = [10.0, 15.0, 20.0];
const CATEGORIES: [f64; 6] = [5.0, 7.0, 9.0, 10.0, 15.0, 20.0];

/// Double of the highest of them.
const FAR_ABOVE: f64 = 40.0;

/// Numbers in use for "no score" (common practice).
const NO_SCORE: [f64; 5] = [99.0, 999.0, -1.0, -9.0, -99.0];

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
                let inside = self.scale.contains(score);
                let code = code_of(score);
                if inside && code.is_none() {
                    self.high += usize::from(score >= upper_tenth);
                    continue;
                }
                let origin = study.origin(serving, attribute).unwrap_or_default();
                let placed = Placed { score, serving, attribute, origin };
                match code {
                    Some(code) => self.coded[code].push(placed),
                    None => self.outside.push(placed),
                }
            }
        }
        let in_file_order = |placed: &Placed| (placed.origin.row, placed.origin.column);
        self.outside.sort_by_key(in_file_order);
        self.coded.iter_mut().for_each(|places| places.sort_by_key(in_file_order));
    }

    /// Whether so many scores lie outside that the scale must be another one; told and asked.
    pub fn is_unclear(&self, options: &ReadOptions, notes: &mut Notes) -> Option<crate::read::Question> {
        let many = |number: usize| number >= 5 && number * 50 > self.scores;
        let places = |side: &dyn Fn(&Placed) -> bool| {
            self.outside.iter().filter(|placed| side(placed)).take(20).map(|placed| placed.origin).collect::<Vec<_>>()
        };
        let (maximum, minimum) = (self.scale.maximum, self.scale.minimum);
        let above = self.outside.iter().filter(|placed| placed.score > maximum).count();
        let below = self.outside.iter().filter(|placed| placed.score < minimum).count();
        let (from_below, origins) = match () {
            () if options.scale_maximum.is_none() && many(above) => {
                notes.of_file(say::many_above(above, self.scores, self.highest));
                (false, places(&|placed| placed.score > maximum))
            }
            () if options.scale_minimum.is_none() && many(below) => {
                notes.of_file(say::many_below(below, self.scores, self.lowest));
                (true, places(&|placed| placed.score < minimum))
            }
            () => return None,
        };
        Some(say::ask_scale(origins.into_iter().map(|origin| notes.origin(origin)).collect(), from_below))
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
    pub fn ask_codes(&self, study: &mut Study, options: &ReadOptions, notes: &mut Notes) -> Vec<crate::read::Question> {
        let mut questions = Vec::new();
        for (code, placed) in NO_SCORE.iter().zip(&self.coded) {
            let Some(first) = placed.first() else { continue };
            let inside = self.scale.contains(*code);
            let settled = options.kept_codes.iter().any(|kept| same(*kept, *code));
            let suspicious = placed.len() >= 3 && self.high * 4 <= placed.len();
            if inside && (settled || !suspicious) {
                continue;
            }
            let place = notes.origin(first.origin);
            let note = if inside {
                say::missing_code_inside(*code, placed.len())
            } else {
                placed.iter().for_each(|one| study.set_score(one.serving, one.attribute, None));
                say::missing_code_outside(*code, placed.len())
            };
            notes.at(place, note);
            let places = placed.iter().take(20).map(|one| notes.origin(one.origin)).collect();
            questions.push(say::ask_missing_code(*code, placed.len(), inside, places));
        }
        questions
    }
}

/// Which code for "no score" a number is, if any.
fn code_of(score: f64) -> Option<usize> {
    // Nearly all scores lie between the codes, so that one look is enough.
    if score > -0.5 && score < 98.5 { None } else { NO_SCORE.iter().position(|code| same(*code, score)) }
}

/// What all scores say, codes for "no score" left aside.
struct Tally {
    /// How many scores there are, codes included.
    scores: usize,
    counted: usize,
    highest: f64,
    lowest: f64,
    whole: bool,
    /// For each end of `CATEGORIES`: scores above it, and those of them not above its double.
    above: [usize; 6],
    near: [usize; 6],
    /// Scores above the double of the last end: above all of them, and near none.
    far_above: usize,
}

impl Tally {
    fn of(study: &Study) -> Self {
        let mut tally = Tally {
            scores: 0,
            counted: 0,
            highest: f64::NEG_INFINITY,
            lowest: f64::INFINITY,
            whole: true,
            above: [0; 6],
            near: [0; 6],
            far_above: 0,
        };
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
        for (end, (above, near)) in CATEGORIES.iter().zip(self.above.iter_mut().zip(&mut self.near)) {
            *above += usize::from(score > *end);
            *near += usize::from(score > *end && score <= 2.0 * end);
        }
    }

    /// The smallest usual maximum with no score between it and its double: what lies beyond that is a slip of the
    /// pen, and slips are few (one, or one in a hundred).
    fn maximum(&self) -> f64 {
        let slips = (self.counted / 100).max(usize::from(self.counted >= 30));
        let is_usual = |end: &f64| self.whole || LINES.iter().any(|line| same(*line, *end));
        let fits = |index: &usize| self.above[*index] + self.far_above <= slips && self.near[*index] == 0;
        let found = (0..CATEGORIES.len()).filter(|index| is_usual(&CATEGORIES[*index])).find(fits);
        found.map_or(100.0, |index| CATEGORIES[index])
    }

    /// Whole numbers from 1 up to an odd maximum are categories counted from 1.
    fn starts_at_one(&self, maximum: f64) -> bool {
        [5.0, 7.0, 9.0].iter().any(|odd| same(*odd, maximum)) && self.whole && self.lowest >= 1.0
    }
}
