//! What a report shows of panels drawn again: how sure the distances are, and how firmly samples lie on the map.
//!
//! Runs in slices like the two runs that it is made of; any slicing gives the same result. Names of assessors,
//! margins and remarks play no part in it.

use super::map::ellipses::{EllipseRun, MapEllipses};
use super::map::product_map::{MapOptions, product_map};
use super::r#match::distance_bootstrap::{DistanceResampling, DistanceRun, ResamplingOptions};
use super::results::{Defined, NotDefined};
use crate::study::Study;

/// Draws for the ellipses of the map.
pub const ELLIPSE_DRAWS: usize = 1000;

/// What came out.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyBootstrap {
    pub distances: Defined<DistanceResampling>,
    pub ellipses: Defined<MapEllipses>,
}

/// A run that is under way.
pub struct StudyBootstrapRun {
    seed: u64,
    distances: Defined<DistanceRun>,
    ellipses: Defined<EllipseRun>,
}

impl StudyBootstrap {
    /// All draws at once, by the study's own settings. Never fails whole.
    pub fn of(study: &Study) -> Self {
        StudyBootstrapRun::start(study).finish()
    }
}

impl StudyBootstrapRun {
    /// Prepares both runs. While nobody has settled what counts as a match no distance is taken.
    pub fn start(study: &Study) -> Self {
        let seed = study.settings.seed;
        let map = product_map(study, MapOptions::default());
        StudyBootstrapRun {
            seed,
            distances: start_distances(study),
            ellipses: map.and_then(|map| EllipseRun::start(study, &map, ELLIPSE_DRAWS, seed)),
        }
    }

    /// Draws made, of both kinds.
    pub fn done(&self) -> usize {
        let distances = self.distances.as_ref().map_or(0, DistanceRun::draws_done);
        distances + self.ellipses.as_ref().map_or(0, EllipseRun::draws_done)
    }

    /// Draws wanted, of both kinds.
    pub fn wanted(&self) -> usize {
        let distances = self.distances.as_ref().map_or(0, DistanceRun::draws_wanted);
        distances + self.ellipses.as_ref().map_or(0, |_| ELLIPSE_DRAWS)
    }

    pub fn is_done(&self) -> bool {
        let distances = self.distances.as_ref().map_or(true, DistanceRun::is_done);
        distances && self.ellipses.as_ref().map_or(true, EllipseRun::is_done)
    }

    /// Makes up to `draws` more draws, distances first.
    pub fn advance(&mut self, draws: usize) {
        match (&mut self.distances, &mut self.ellipses) {
            (Ok(distances), _) if !distances.is_done() => distances.advance(draws),
            (_, Ok(ellipses)) => ellipses.advance(draws),
            _ => {}
        }
    }

    /// Runs to the end and sums up.
    pub fn finish(self) -> StudyBootstrap {
        let seed = self.seed;
        StudyBootstrap {
            distances: self.distances.map(DistanceRun::finish),
            ellipses: self.ellipses.and_then(|run| run.finish(seed)),
        }
    }
}

/// Prepares the draws for the distances by the study's own settings.
///
/// Errors: no target, or it is not settled yet what counts as a match; and those of `DistanceRun::start`.
pub fn start_distances(study: &Study) -> Defined<DistanceRun> {
    let settings = &study.settings;
    let target = settings.target.as_ref().ok_or_else(|| NotDefined::because("no target is named"))?;
    if study.decided_at.is_none() {
        return Err(NotDefined::because("it is not settled yet what counts as a match"));
    }
    let options = ResamplingOptions {
        seed: settings.seed,
        blind_duplicate: settings.blind_duplicate.clone(),
        ..ResamplingOptions::default()
    };
    DistanceRun::start(study, target, options)
}
