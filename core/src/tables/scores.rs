//! What was loaded, in one sentence: how many scores, how many are wanting, who was absent.

use crate::study::Study;
use crate::tables::words::{first_of, grouped};
use crate::text::lists::{counted, plural};

/// "607 scores; 1 without a mark that can be used; Ivo absent in session 2."
pub fn answer(study: &Study) -> String {
    let scores = study.score_count();
    parts(study, format!("{} {}", grouped(scores), plural(scores, "score", "scores")))
}

/// "10 assessors × 4 samples × 8 attributes × 2; 1 without a mark that can be used; Ivo absent in session 2."
pub fn understood(study: &Study) -> String {
    let by = [
        counted(study.assessors.len(), "assessor", "assessors"),
        counted(study.samples.len(), "sample", "samples"),
        counted(study.attributes.len(), "attribute", "attributes"),
        counted(study.replicate_count() as usize, "replicate", "replicates"),
    ];
    parts(study, by.join(" \u{d7} "))
}

fn parts(study: &Study, first: String) -> String {
    let wanting = wanting(study);
    let wanting = (wanting > 0).then(|| match wanting {
        1 => "1 place without a usable score".to_owned(),
        count => format!("{} places without a usable score", grouped(count)),
    });
    let absent = absences(study);
    let absent = (!absent.is_empty()).then(|| first_of(&absent));
    let all: Vec<String> = [Some(first), wanting, absent].into_iter().flatten().collect();
    format!("{}.", all.join("; "))
}

/// Places of the score sheet without a score.
fn wanting(study: &Study) -> usize {
    let on = |attribute: usize| {
        (0..study.servings.len()).filter(|serving| study.score(*serving, attribute).is_none()).count()
    };
    (0..study.attributes.len()).map(on).sum()
}

/// Who has no page in a session, or where there are no sessions in a replicate, in which others have.
fn absences(study: &Study) -> Vec<String> {
    let by_session = study.sessions.len() > 1;
    let rounds: Vec<(u32, String)> = if by_session {
        study.sessions.iter().enumerate().map(|(at, name)| (at as u32, format!("session {name}"))).collect()
    } else {
        (1..=study.replicate_count()).map(|replicate| (replicate, format!("replicate {replicate}"))).collect()
    };
    let is_there = |assessor: usize, round: u32| {
        study.servings.iter().any(|page| {
            let own = if by_session { page.session == Some(round) } else { page.replicate == round };
            page.assessor as usize == assessor && own
        })
    };
    let anybody = |round: u32| (0..study.assessors.len()).any(|assessor| is_there(assessor, round));
    let mut all = Vec::new();
    for (round, name) in rounds.iter().filter(|(round, _)| anybody(*round)) {
        for assessor in (0..study.assessors.len()).filter(|assessor| !is_there(*assessor, *round)) {
            all.push(format!("{} absent in {name}", study.assessors[assessor].name));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Scale, ScoreAddress, StudyBuilder};

    #[test]
    fn what_is_wanting_and_who_was_absent_is_told() {
        let mut builder = StudyBuilder::new(Scale::default());
        for (assessor, session) in [("Ada", "1"), ("Ada", "2"), ("Ivo", "1")] {
            for attribute in ["cooked", "sweet"] {
                let replicate = session.parse().unwrap();
                let address = ScoreAddress {
                    assessor,
                    sample: "A",
                    replicate,
                    session: Some(session),
                    ..ScoreAddress::default()
                };
                builder.add(address, attribute, 12.0).unwrap();
            }
        }
        let mut study = builder.finish("small");
        assert_eq!(answer(&study), "6 scores; Ivo absent in session 2.");
        study.set_score(0, 1, None);
        assert_eq!(answer(&study), "5 scores; 1 place without a usable score; Ivo absent in session 2.");
        let said = "2 assessors \u{d7} 1 sample \u{d7} 2 attributes \u{d7} 2 replicates; 1 place without a usable score; \
                    Ivo absent in session 2.";
        assert_eq!(understood(&study), said);
    }
}
