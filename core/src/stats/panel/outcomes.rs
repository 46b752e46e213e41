//! What a test of one assessor says, in three ways: shown, fails, or too few cups to tell.
//!
//! Not being shown is no failing: with few samples a test misses sound assessors too. So a test *fails* somebody only where
//! it has the power to show a sound assessor (0.8 or more) and a sound one, even one who scatters half as much again as
//! the others, would do as badly in 5 cases of 100 at most. Sound means: sees the samples as the others see them, and
//! scatters as they do. What that is comes from the others alone: the spread of their means over samples with its noise
//! taken off, their assessor x sample scatter, and their scatter between replicates. Student's t and F with an effect
//! then say how a sound assessor would do.
//!
//! Whether somebody repeats is a test of scatter alone: it fails who is shown to scatter more than half as much again as
//! the others, and shows who is shown to scatter less than twice as much.
//!
//! Simulated with `cargo run --release -p likeness-core --example panel_rates -- --only performance`, result beside it: a
//! sound assessor fails in 2 tests of 100 at most, 4 to 8 samples, marks piled up at 0 and uneven scatter included.

pub use super::outcome_counts::{FALSE_FAILS, Outcome, OutcomeCounts, Outcomes};

use super::assessor::{AssessorOnAttribute, Cells, Squares};
use crate::numeric::describe::{mean, squares_about_mean};
use crate::numeric::noncentral::{noncentral_f_lower, noncentral_t_lower};
use crate::numeric::tails::{f_upper, t_quantile_upper};
use crate::stats::r#match::calibrated::f_quantile_lower;
use crate::stats::samples::profiles::{everyone_but, panel_means};

/// What a test must be able to show before anybody fails it.
const POWER_ASKED: f64 = 0.8;
/// A sound assessor may scatter so many times as widely as the others.
const SOUND_SCATTER: f64 = 1.5;
/// Scattering so many times as widely as the others would matter: excluding it shows that somebody repeats.
const SCATTER_THAT_MATTERS: f64 = 2.0;

/// The outcomes of one assessor, on an attribute on which the panel finds differences.
pub(in crate::stats) fn outcomes(cells: &Cells, assessor: usize, found: &AssessorOnAttribute, alpha: f64) -> Outcomes {
    let sound = Sound::of(cells, assessor);
    let told = found.fails_to_discriminate(alpha);
    let agrees = found.fails_to_agree(alpha);
    Outcomes {
        discrimination: told.map(|missed| judged(missed, || sound.fails_to_tell(cells, assessor, found, alpha))),
        repeatability: repeatability(found, alpha),
        agreement: agrees.map(|missed| judged(missed, || sound.fails_to_agree(cells, assessor, found, alpha))),
    }
}

fn judged(missed: bool, fails: impl FnOnce() -> Option<bool>) -> Outcome {
    match missed {
        false => Outcome::Shown,
        true if fails() == Some(true) => Outcome::Fails,
        true => Outcome::TooFewCups,
    }
}

/// Scattering more than a sound assessor may is shown by itself; scattering no more, by leaving out that it is twice as
/// much as the others.
fn repeatability(found: &AssessorOnAttribute, alpha: f64) -> Option<Outcome> {
    let test = found.repeatability.as_ref().ok()?.against_others?;
    let much = SCATTER_THAT_MATTERS * SCATTER_THAT_MATTERS;
    let below = 1.0 - f_upper(test.f / much, test.df1, test.df2)?;
    let above = f_upper(test.f / (SOUND_SCATTER * SOUND_SCATTER), test.df1, test.df2)?;
    Some(match (above < alpha, below <= FALSE_FAILS) {
        (true, _) => Outcome::Fails,
        (false, true) => Outcome::Shown,
        (false, false) => Outcome::TooFewCups,
    })
}

/// What the others say of a sound assessor. Variances in squared units of the scale.
struct Sound {
    /// Sum over samples of squared true differences from their mean, as the others see them.
    signal: f64,
    /// Of an assessor's mean of a sample about what the panel would have.
    cell: Option<f64>,
    /// Between replicates; 0 where there are none.
    error: f64,
}

impl Sound {
    fn of(cells: &Cells, out: usize) -> Sound {
        let others: Vec<usize> = (0..cells.means.len()).filter(|other| *other != out).collect();
        let panel = panel_means(&cells.means, &everyone_but(cells.means.len(), Some(out)));
        let error = others.iter().fold(Squares::default(), |sum, other| {
            let own = cells.within(*other);
            Squares { ss: sum.ss + own.ss, df: sum.df + own.df }
        });
        let rest = others.iter().fold(Squares::default(), |sum, other| {
            let own = about_panel(&cells.means[*other], &panel);
            Squares { ss: sum.ss + own.ss, df: sum.df + own.df }
        });
        // The others' own means hold each of them, which takes one assessor's worth of degrees of freedom.
        let n = others.len() as f64;
        let df = rest.df * (n - 1.0) / n;
        let cell = (df > 0.0).then(|| rest.ss / df);
        let known: Vec<f64> = panel.iter().flatten().copied().collect();
        let noise = cell.unwrap_or(0.0) / n * (known.len() as f64 - 1.0);
        Sound {
            signal: (squares_about_mean(&known) - noise).max(0.0),
            cell,
            error: if error.df > 0.0 { error.ss / error.df } else { 0.0 },
        }
    }

    /// Squared differences over the variance of a cell, for one who scatters so many times as widely.
    fn shift(&self, scatter: f64) -> Option<f64> {
        let cell = self.cell.filter(|cell| *cell > 0.0)?;
        Some((self.signal / cell).min(1e4) / (scatter * scatter))
    }

    fn fails_to_agree(&self, cells: &Cells, out: usize, found: &AssessorOnAttribute, alpha: f64) -> Option<bool> {
        // Who gives the same mark throughout has no correlation; for them 0 stands.
        let r = found.agreement.as_ref().map_or(0.0, |one| one.correlation);
        let df = cells.means[out].iter().flatten().count() as f64 - 2.0;
        let t = r * (df / ((1.0 - r) * (1.0 + r)).max(1e-12)).sqrt();
        let power = 1.0 - noncentral_t_lower(t_quantile_upper(alpha, df)?, df, self.shift(1.0)?.sqrt())?;
        let as_bad = noncentral_t_lower(t, df, self.shift(SOUND_SCATTER)?.sqrt())?;
        Some(power >= POWER_ASKED && as_bad <= FALSE_FAILS)
    }

    fn fails_to_tell(&self, cells: &Cells, out: usize, found: &AssessorOnAttribute, alpha: f64) -> Option<bool> {
        let filled = cells.scores[out].iter().filter(|cell| !cell.is_empty()).count() as f64;
        let within = cells.within(out).df;
        let replicates = found.n as f64 / filled;
        // Assessor x sample scatter enlarges the mean square between samples, of sound assessors too.
        if self.error <= 0.0 {
            return None;
        }
        let ratio = (replicates * self.cell?).max(self.error) / self.error;
        let f = found.discrimination.as_ref().map_or(0.0, |test| test.f);
        let df = filled - 1.0;
        let missed = |f: f64, scatter: f64| noncentral_f_lower(f / ratio, df, within, self.shift(scatter)?);
        let asked = 1.0 / f_quantile_lower(alpha, within, df)?;
        let power = 1.0 - missed(asked, 1.0)?;
        Some(power >= POWER_ASKED && missed(f, SOUND_SCATTER)? <= FALSE_FAILS)
    }
}

/// One assessor's means about the panel's, own level taken off.
fn about_panel(own: &[Option<f64>], panel: &[Option<f64>]) -> Squares {
    let gaps: Vec<f64> = own.iter().zip(panel).filter_map(|(own, panel)| Some((*own)? - (*panel)?)).collect();
    match mean(&gaps) {
        Some(_) => Squares { ss: squares_about_mean(&gaps), df: gaps.len() as f64 - 1.0 },
        None => Squares::default(),
    }
}
