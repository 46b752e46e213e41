//! The assessor x replicate check: do assessors shift from replicate to replicate, and does it change a verdict?
//!
//! The usual model has no replicate terms, so such shifts swell its error within cells, and the assessor x sample
//! interaction can vanish in it. Here replicate (or session) is a fixed factor beside sample, and assessor, assessor x
//! sample and assessor x replicate are random. Samples are still tested on the interaction, which is pooled with the
//! rest only where it is smaller than that. Balanced data only: every assessor scores every sample once in every
//! replicate. Variances are differences of mean squares, cut at zero; they equal restricted maximum likelihood where
//! none is cut. It does not know the target.

use crate::stats::model::anova::{ModelOptions, fit};
use crate::stats::results::{AnovaLine, Defined, FTest, NotDefined};
use crate::study::{AttributeScores, Study};
use serde::Serialize;

/// What tells one round of tasting from another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Round {
    #[default]
    Replicate,
    Session,
}

/// What can be chosen about the check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReplicateOptions {
    pub round: Round,
    /// Level at which an effect counts as shown.
    pub alpha: f64,
}

/// The three-way analysis of one attribute and what it says about the usual one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReplicateAnalysis {
    pub round: Round,
    pub rounds: usize,
    pub lines: ThreeWayLines,
    /// Assessor x replicate on the rest: do assessors shift from replicate to replicate, each in their own way?
    pub assessor_by_round: FTest,
    /// Sample x replicate on the rest: do samples change from replicate to replicate for everybody alike?
    pub sample_by_round: FTest,
    /// Its p after Holm's correction over all attributes; nothing before they are counted together.
    pub sample_by_round_p_adjusted: Option<f64>,
    /// Replicate on assessor x replicate: does the whole panel shift?
    pub round_effect: FTest,
    /// Test of the samples with replicate terms in the model.
    pub sample_with: FTest,
    /// Test of the samples in the usual model without them.
    pub sample_without: Defined<FTest>,
    pub variances: RoundVariances,
    /// Standard error of the difference of two sample means, with its degrees of freedom, under this model.
    pub difference_se: f64,
    pub difference_df: f64,
    pub finding: RoundFinding,
    pub model: String,
}

/// Lines of the three-way table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ThreeWayLines {
    pub assessor: AnovaLine,
    pub sample: AnovaLine,
    pub round: AnovaLine,
    pub assessor_by_sample: AnovaLine,
    pub assessor_by_round: AnovaLine,
    pub sample_by_round: AnovaLine,
    pub rest: AnovaLine,
}

/// Variances of the model with replicate terms, in squared units of the scale.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RoundVariances {
    pub assessor: f64,
    pub interaction: f64,
    pub assessor_by_round: f64,
    pub error: f64,
}

/// What the check found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RoundFinding {
    /// Whether the samples differ is answered differently with replicate terms and without.
    ChangesVerdict,
    /// Assessors shift between replicates, and the answer on the samples stays.
    ShiftWithoutConsequence,
    /// No shift is shown, and the answer stays.
    NoShift,
}

impl Default for ReplicateOptions {
    fn default() -> Self {
        ReplicateOptions { round: Round::Replicate, alpha: 0.05 }
    }
}

impl ReplicateOptions {
    /// By the settings of a study: replicates where there are several, else sessions.
    pub fn of(study: &Study) -> Self {
        let by_session = study.replicate_count() <= 1 && study.sessions.len() >= 2;
        ReplicateOptions {
            round: if by_session { Round::Session } else { Round::Replicate },
            alpha: study.settings.alpha,
        }
    }
}

/// The check of one attribute, by its index, by the settings of the study.
///
/// # Errors
/// As `replicate_check`.
pub fn rounds_on(study: &Study, index: usize) -> Defined<ReplicateAnalysis> {
    replicate_check(&study.attribute_scores(index), &ReplicateOptions::of(study))
}

/// Analyses an attribute with replicate (or session) terms and compares the test of the samples with the usual one.
pub fn replicate_check(scores: &AttributeScores, options: &ReplicateOptions) -> Defined<ReplicateAnalysis> {
    let cube = Cube::of(scores, options.round)?;
    let lines = cube.lines();
    let rounding = crate::numeric::tolerance::reading_error(cube.largest_score);
    if lines.rest.ss <= cube.values.len() as f64 * rounding * rounding {
        return Err(NotDefined::because("nothing is left to test against once all terms are taken off"));
    }
    let interaction = pooled_with_rest(&lines.assessor_by_sample, &lines.rest);
    let test = |line: &AnovaLine, on: &AnovaLine| FTest::of(line.ms / on.ms, line.df, on.df);
    let sample_with = test(&lines.sample, &interaction)?;
    let usual = fit(scores, &ModelOptions::default()).anova;
    let sample_without = usual.and_then(|anova| FTest::of(anova.f, anova.sample_df, anova.error_df));
    let assessor_by_round = test(&lines.assessor_by_round, &lines.rest)?;
    let variance = 2.0 * interaction.ms / (cube.assessors * cube.rounds) as f64;
    Ok(ReplicateAnalysis {
        round: options.round,
        rounds: cube.rounds,
        lines,
        assessor_by_round,
        sample_by_round: test(&lines.sample_by_round, &lines.rest)?,
        sample_by_round_p_adjusted: None,
        round_effect: test(&lines.round, &lines.assessor_by_round)?,
        sample_with,
        finding: finding(&sample_with, &sample_without, &assessor_by_round, options.alpha),
        sample_without,
        variances: cube.variances(&lines, &interaction),
        difference_se: variance.sqrt(),
        difference_df: interaction.df,
        model: in_words(options.round, interaction.df > lines.assessor_by_sample.df),
    })
}

impl RoundFinding {
    /// The finding as a sentence.
    pub fn in_words(self) -> &'static str {
        match self {
            RoundFinding::ChangesVerdict => {
                "Whether the samples differ is answered differently once shifts of assessors between replicates are \
                 taken off the error."
            }
            RoundFinding::ShiftWithoutConsequence => {
                "Assessors shift between replicates; whether the samples differ is answered the same with and without it."
            }
            RoundFinding::NoShift => "No shift of assessors between replicates is shown.",
        }
    }
}

fn finding(with: &FTest, without: &Defined<FTest>, shift: &FTest, alpha: f64) -> RoundFinding {
    let changes = without.as_ref().is_ok_and(|without| (without.p < alpha) != (with.p < alpha));
    match (changes, shift.p < alpha) {
        (true, _) => RoundFinding::ChangesVerdict,
        (false, true) => RoundFinding::ShiftWithoutConsequence,
        (false, false) => RoundFinding::NoShift,
    }
}

fn pooled_with_rest(line: &AnovaLine, rest: &AnovaLine) -> AnovaLine {
    if line.ms < rest.ms { AnovaLine::new(line.df + rest.df, line.ss + rest.ss) } else { *line }
}

fn in_words(round: Round, pooled: bool) -> String {
    let word = match round {
        Round::Replicate => "replicate",
        Round::Session => "session",
    };
    let pooling = if pooled { ", pooled with the rest since the interaction variance is zero" } else { "" };
    format!(
        "score = sample + {word} + sample x {word} + assessor (random) + assessor x sample (random) + assessor x {word} \
         (random) + error; F = MS sample / MS assessor x sample{pooling}"
    )
}

/// Scores by assessor, sample and round, less their mean.
struct Cube {
    assessors: usize,
    samples: usize,
    rounds: usize,
    values: Vec<f64>,
    largest_score: f64,
}

impl Cube {
    /// Not defined unless every assessor scored every sample exactly once in every round, two rounds or more.
    fn of(scores: &AttributeScores, round: Round) -> Defined<Cube> {
        let mut labels = Vec::with_capacity(scores.observations.len());
        for observation in &scores.observations {
            let label = match round {
                Round::Replicate => Some(observation.replicate),
                Round::Session => observation.session,
            };
            labels.push(label.ok_or_else(|| NotDefined::because("some scores carry no session"))?);
        }
        let assessors = Levels::of(scores.observations.iter().map(|o| o.assessor));
        let samples = Levels::of(scores.observations.iter().map(|o| o.sample));
        let rounds = Levels::of(labels.iter().copied());
        let (height, width, depth) = (assessors.count(), samples.count(), rounds.count());
        if depth < 2 || height < 2 || width < 2 {
            return Err(NotDefined::because("it takes two assessors, two samples and two replicates at least"));
        }
        let uneven = || NotDefined::because("some assessor did not score some sample exactly once in every replicate");
        if scores.observations.len() != height * width * depth {
            return Err(uneven());
        }
        let mut values = vec![None; height * width * depth];
        let shift = scores.observations[0].score;
        for (observation, label) in scores.observations.iter().zip(&labels) {
            let row = assessors.place(observation.assessor) * width + samples.place(observation.sample);
            let slot = &mut values[row * depth + rounds.place(*label)];
            if slot.replace(observation.score - shift).is_some() {
                return Err(uneven());
            }
        }
        let mut values = values.into_iter().collect::<Option<Vec<_>>>().ok_or_else(uneven)?;
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        values.iter_mut().for_each(|value| *value -= mean);
        let largest_score = scores.observations.iter().map(|o| o.score.abs()).fold(0.0, f64::max);
        Ok(Cube { assessors: height, samples: width, rounds: depth, values, largest_score })
    }

    fn lines(&self) -> ThreeWayLines {
        let (height, width, depth) = (self.assessors, self.samples, self.rounds);
        let of = |a: bool, s: bool, r: bool| self.margin(a, s, r);
        let (by_a, by_s, by_r) = (of(true, false, false), of(false, true, false), of(false, false, true));
        let (by_as, by_ar, by_sr) = (of(true, true, false), of(true, false, true), of(false, true, true));
        let mut squares = [0.0; 7];
        for (index, value) in self.values.iter().enumerate() {
            let (a, s, r) = (index / (width * depth), index / depth % width, index % depth);
            let (ma, ms, mr) = (by_a[a], by_s[s], by_r[r]);
            let (mas, mar, msr) = (by_as[a * width + s], by_ar[a * depth + r], by_sr[s * depth + r]);
            let effects =
                [ma, ms, mr, mas - ma - ms, mar - ma - mr, msr - ms - mr, value - mas - mar - msr + ma + ms + mr];
            for (square, effect) in squares.iter_mut().zip(effects) {
                *square += effect * effect;
            }
        }
        let (da, ds, dr) = ((height - 1) as f64, (width - 1) as f64, (depth - 1) as f64);
        ThreeWayLines {
            assessor: AnovaLine::new(da, squares[0]),
            sample: AnovaLine::new(ds, squares[1]),
            round: AnovaLine::new(dr, squares[2]),
            assessor_by_sample: AnovaLine::new(da * ds, squares[3]),
            assessor_by_round: AnovaLine::new(da * dr, squares[4]),
            sample_by_round: AnovaLine::new(ds * dr, squares[5]),
            rest: AnovaLine::new(da * ds * dr, squares[6]),
        }
    }

    /// Means over the factors that are not kept, in the order assessor, sample, round.
    fn margin(&self, assessor: bool, sample: bool, round: bool) -> Vec<f64> {
        let size = |kept: bool, count: usize| if kept { count } else { 1 };
        let (width, depth) = (size(sample, self.samples), size(round, self.rounds));
        let mut sums = vec![0.0; size(assessor, self.assessors) * width * depth];
        for (index, value) in self.values.iter().enumerate() {
            let a = if assessor { index / (self.samples * self.rounds) } else { 0 };
            let s = if sample { index / self.rounds % self.samples } else { 0 };
            let r = if round { index % self.rounds } else { 0 };
            sums[(a * width + s) * depth + r] += value;
        }
        let each = self.values.len() as f64 / sums.len() as f64;
        sums.iter().map(|sum| sum / each).collect()
    }

    fn variances(&self, lines: &ThreeWayLines, interaction: &AnovaLine) -> RoundVariances {
        let (samples, rounds) = (self.samples as f64, self.rounds as f64);
        let pooled = interaction.df > lines.assessor_by_sample.df;
        let error = if pooled { interaction.ms } else { lines.rest.ms };
        let by_round = lines.assessor_by_round.ms;
        RoundVariances {
            assessor: ((lines.assessor.ms - interaction.ms - by_round + error) / (samples * rounds)).max(0.0),
            interaction: ((interaction.ms - error) / rounds).max(0.0),
            assessor_by_round: ((by_round - error) / samples).max(0.0),
            error,
        }
    }
}

/// The distinct values of a factor, in rising order.
struct Levels(Vec<u32>);

impl Levels {
    fn of(values: impl Iterator<Item = u32>) -> Levels {
        let mut levels = values.collect::<Vec<_>>();
        levels.sort_unstable();
        levels.dedup();
        Levels(levels)
    }

    fn count(&self) -> usize {
        self.0.len()
    }

    /// Place of a value that is known to be among them.
    fn place(&self, value: u32) -> usize {
        self.0.partition_point(|level| *level < value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::full_table;

    fn because(scores: &AttributeScores, options: &ReplicateOptions) -> String {
        replicate_check(scores, options).expect_err("should not be defined").because
    }

    /// Everybody agrees on the samples, but each assessor drifts in an own direction between replicates.
    fn drifting() -> AttributeScores {
        full_table(6, 4, 2, |a, s, r| {
            let scatter = ((a * 37 + s * 61 + r * 89 + a * s * 13) % 29) as f64 / 10.0;
            let drift = if a % 2 == 0 { 25.0 } else { -25.0 };
            50.0 + 2.2 * s as f64 + scatter + drift * r as f64
        })
    }

    #[test]
    fn a_drift_of_assessors_hides_a_sample_effect_and_it_is_said() {
        let found = replicate_check(&drifting(), &ReplicateOptions::default()).unwrap();
        assert_eq!(found.finding, RoundFinding::ChangesVerdict);
        assert!(found.assessor_by_round.p < 1e-6);
        assert!(found.sample_with.p < 0.05 && found.sample_without.unwrap().p > 0.05);
        assert!(found.model.contains("assessor x replicate (random)"));
    }

    #[test]
    fn sums_of_squares_add_up() {
        let scores = drifting();
        let found = replicate_check(&scores, &ReplicateOptions::default()).unwrap().lines;
        let parts = [
            found.assessor,
            found.sample,
            found.round,
            found.assessor_by_sample,
            found.assessor_by_round,
            found.sample_by_round,
            found.rest,
        ];
        let mean = scores.observations.iter().map(|o| o.score).sum::<f64>() / 48.0;
        let total = scores.observations.iter().map(|o| (o.score - mean).powi(2)).sum::<f64>();
        assert!((parts.iter().map(|line| line.ss).sum::<f64>() - total).abs() < 1e-10 * total);
        assert!((parts.iter().map(|line| line.df).sum::<f64>() - 47.0).abs() < 1e-12);
    }

    #[test]
    fn sessions_serve_as_replicates_do() {
        let mut scores = drifting();
        let by_session = ReplicateOptions { round: Round::Session, ..ReplicateOptions::default() };
        assert_eq!(because(&scores, &by_session), "some scores carry no session");
        for observation in &mut scores.observations {
            observation.session = Some(observation.replicate + 6);
            observation.replicate = 1;
        }
        let found = replicate_check(&scores, &by_session).unwrap();
        let expected = replicate_check(&drifting(), &ReplicateOptions::default()).unwrap();
        assert_eq!(found.lines, expected.lines);
        assert!(found.model.contains("assessor x session (random)"));
    }

    #[test]
    fn what_the_check_cannot_do_is_said() {
        let plain = ReplicateOptions::default();
        let mut scores = drifting();
        scores.observations.pop();
        assert_eq!(because(&scores, &plain), "some assessor did not score some sample exactly once in every replicate");
        let mut scores = drifting();
        scores.observations[1].replicate = 1;
        assert_eq!(because(&scores, &plain), "some assessor did not score some sample exactly once in every replicate");
        let single = full_table(4, 3, 1, |a, s, _| (a * s) as f64);
        assert_eq!(because(&single, &plain), "it takes two assessors, two samples and two replicates at least");
        let exact = full_table(4, 3, 2, |a, s, r| (a + 2 * s + 3 * r) as f64);
        assert_eq!(because(&exact, &plain), "nothing is left to test against once all terms are taken off");
    }
}
