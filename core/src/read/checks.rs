//! What is said about a study once it is built: scale, positions, missing scores, balance.

use super::ReadOptions;
use super::notes::Notes;
use super::scale::FoundScale;
use super::sentences as say;
use crate::study::Study;

pub(super) fn study(study: &Study, found: &FoundScale, options: &ReadOptions, notes: &mut Notes) {
    if options.scale_maximum.is_none() {
        let scale = &found.scale;
        let hundred = (scale.maximum - 100.0).abs() < 1e-9;
        let note = if hundred {
            say::scale_hundred()
        } else {
            say::scale_guessed(found.highest, scale.minimum, scale.maximum)
        };
        notes.of_file(note);
    }
    if study.servings.iter().all(|serving| serving.position.is_none()) {
        notes.of_file(say::no_positions());
    }
    let cells = study.servings.len() * study.attributes.len();
    let missing = cells - study.score_count();
    if missing > 0 {
        notes.of_file(say::missing_scores(missing, cells));
    }
}
