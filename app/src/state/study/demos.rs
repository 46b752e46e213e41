//! The invented studies that ship inside the page, and opening one with its decisions made.

use super::in_place::{apply_before, put_scores_in_place};
use crate::state::app_state::{AppState, DecidedBefore};
use crate::words::learning as say;
use crate::words::learning::Exercise;
use leptos::prelude::*;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::study::{AttributeKind, MarginOrigin, Study};

/// One invented study and what goes with it.
pub struct Demo {
    /// Names it in addresses and tests.
    pub key: &'static str,
    pub title: &'static str,
    pub about: &'static str,
    pub file_name: &'static str,
    bytes: &'static [u8],
    /// The attribute that sums up others, where there is one.
    integrated: Option<&'static str>,
    /// The target again under another code, where it was served twice.
    blind_duplicate: Option<&'static str>,
    pub exercises: &'static [Exercise],
}

pub static DEMOS: [Demo; 3] = [
    Demo {
        key: "twelve",
        title: say::TWELVE_TITLE,
        about: say::TWELVE_ABOUT,
        file_name: "invented-mango-nectar.csv",
        bytes: include_bytes!("../../../../public/demo/invented-mango-nectar.csv"),
        integrated: Some("true to fruit"),
        blind_duplicate: None,
        exercises: &say::TWELVE_EXERCISES,
    },
    Demo {
        key: "large",
        title: say::LARGE_TITLE,
        about: say::LARGE_ABOUT,
        file_name: "invented-mango-large-panel.csv",
        bytes: include_bytes!("../../../../public/demo/invented-mango-large-panel.csv"),
        integrated: None,
        blind_duplicate: Some("Fresh mango again"),
        exercises: &say::LARGE_EXERCISES,
    },
    Demo {
        key: "small",
        title: say::SMALL_TITLE,
        about: say::SMALL_ABOUT,
        file_name: "invented-mango-small-panel.csv",
        bytes: include_bytes!("../../../../public/demo/invented-mango-small-panel.csv"),
        integrated: None,
        blind_duplicate: None,
        exercises: &say::SMALL_EXERCISES,
    },
];

const TARGET: &str = "Fresh mango";
const MARGIN_MM: f64 = 10.0;

/// Opens an invented study, its target named, and lands on the verdict.
pub fn open_demo(app: AppState, demo: &Demo) {
    let Some(mut study) = demo.study() else { return };
    // Its decisions are part of it: the verdict is shown at once.
    study.decided_at = Some(app.now());
    app.opened.set(None);
    app.message.set(None);
    put_scores_in_place(app, study, demo.file_name);
}

impl Demo {
    /// The study with what is decided about it; `None` would mean that the shipped file can't be read.
    fn study(&self) -> Option<Study> {
        let mut study = read_text(self.file_name, self.bytes, &ReadOptions::default()).study?;
        let before = DecidedBefore {
            target: Some(TARGET.to_owned()),
            margin_width: Some(MARGIN_MM),
            margin_origin: MarginOrigin::Convention,
        };
        apply_before(&mut study, &before);
        study.title = self.title.to_owned();
        study.settings.blind_duplicate = self.blind_duplicate.map(str::to_owned);
        if let Some(index) = self.integrated.and_then(|name| study.attribute_index(name)) {
            study.attributes[index].kind = AttributeKind::Integrated;
            let names = study.attributes.iter().map(|attribute| attribute.name.clone());
            study.settings.deciding = names.filter(|name| Some(name.as_str()) != self.integrated).collect();
        }
        Some(study)
    }
}

#[cfg(test)]
mod tests {
    //! The answers to the exercises, computed.

    use super::*;
    use likeness_core::numeric::tails::f_upper;
    use likeness_core::stats::r#match::calibrated::MatchRule;
    use likeness_core::stats::panel::form_faults::suspected_form_faults;
    use likeness_core::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, Verdict, analyse};

    fn study(key: &str) -> Study {
        DEMOS.iter().find(|demo| demo.key == key).and_then(Demo::study).expect("a demo that can be read")
    }

    fn candidate<'a>(analysis: &'a Analysis, name: &str) -> &'a CandidateAnalysis {
        analysis.candidates.iter().find(|found| found.sample == name).expect("a candidate")
    }

    fn attribute<'a>(analysis: &'a Analysis, name: &str) -> &'a AttributeAnalysis {
        analysis.attributes.iter().find(|found| found.attribute == name).expect("an attribute")
    }

    #[test]
    fn one_candidate_hits_one_misses_by_a_single_character_and_a_small_margin_changes_that() {
        let mut study = study("twelve");
        let analysis = analyse(&study);
        let (a, d) = (candidate(&analysis, "Candidate A"), candidate(&analysis, "Candidate D"));
        assert_eq!((a.verdict, a.n_match), (Verdict::Match, 14));
        assert_eq!((d.verdict, d.n_match, d.n_off), (Verdict::Off, 13, 1));
        let resinous = attribute(&analysis, "resinous").difference_of("Candidate D").expect("scored");
        assert_eq!((resinous.verdict, resinous.difference.round()), (Verdict::Off, 14.0));
        study.settings.margin.width_mm = 6.0;
        let analysis = analyse(&study);
        let a = candidate(&analysis, "Candidate A");
        assert_eq!((a.verdict, a.rule()), (Verdict::Match, Some(MatchRule::Profile)));
        let widest = *a.judged.as_ref().expect("judged").alike_within_mm.as_ref().expect("defined");
        assert_eq!(analysis.deciding()[widest.attribute].attribute, "peach");
        assert_eq!(format!("{:.1}", widest.within), "9.4");
    }

    #[test]
    fn bitter_is_significant_only_on_the_wrong_denominator() {
        let analysis = analyse(&study("twelve"));
        let anova = attribute(&analysis, "bitter").anova.as_ref().expect("defined");
        assert_eq!(format!("{:.2}", anova.p), "0.16");
        let table = anova.table.as_ref().expect("balanced");
        let wrong = *table.f_on_error_wrong.as_ref().expect("replicates");
        assert_eq!(format!("{wrong:.1}"), "3.4");
        let error = table.error.as_ref().expect("replicates");
        assert!(f_upper(wrong, table.sample.df, error.df).expect("defined") < 0.05);
        assert!(wrong > 1.8 * anova.f);
    }

    #[test]
    fn the_target_again_is_as_far_as_noise_and_surely_a_little_sweeter() {
        let analysis = analyse(&study("large"));
        let again = candidate(&analysis, "Fresh mango again").distance.as_ref().expect("defined");
        let e = candidate(&analysis, "Candidate E").distance.as_ref().expect("defined");
        assert_eq!(format!("{:.1} {:.1}", again.distance, again.distance_adjusted), "5.7 0.0");
        assert_eq!(format!("{:.1}", e.distance), "3.5");
        let sweet = attribute(&analysis, "sweet").difference_of("Fresh mango again").expect("scored");
        assert!(sweet.test.as_ref().expect("defined").match_interval.excludes_zero());
        assert_eq!(format!("{:.2}", sweet.p_off.as_ref().expect("tested")), "0.20");
        assert_eq!(sweet.verdict, Verdict::Match);
    }

    #[test]
    fn a_margin_near_the_noise_leaves_the_target_alike_as_a_whole_only() {
        let mut study = study("large");
        study.settings.margin.width_mm = 6.0;
        let analysis = analyse(&study);
        let rule = |name: &str| candidate(&analysis, name).rule();
        assert_eq!(rule("Candidate E"), Some(MatchRule::EachAttribute));
        assert_eq!(rule("Fresh mango again"), Some(MatchRule::Profile));
        let again = candidate(&analysis, "Fresh mango again").judged.as_ref().expect("judged");
        let widest = *again.alike_within_mm.as_ref().expect("defined");
        assert_eq!(analysis.deciding()[widest.attribute].attribute, "sweet");
        assert_eq!(format!("{:.1}", widest.within), "8.1");
    }

    #[test]
    fn the_small_panel_settles_little_and_hides_one_slipped_page() {
        let study = study("small");
        let analysis = analyse(&study);
        let g = candidate(&analysis, "Candidate G");
        assert_eq!((g.verdict, g.n_match, g.n_not_shown), (Verdict::NotShown, 1, 11));
        let slips = suspected_form_faults(&study).suspicions;
        let page = slips.first().expect("the slipped page");
        let place = (page.assessor.as_str(), page.samples[0].as_str(), page.replicate, page.attribute.as_deref());
        assert_eq!(place, ("Dina", "Candidate G", Some(2), Some("green mango")));
        let ratio = page.evidence.as_written.typical_misfit / page.evidence.as_suspected.typical_misfit;
        assert!((2.5..3.7).contains(&ratio), "{ratio}");
    }
}
