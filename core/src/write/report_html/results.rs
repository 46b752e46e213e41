//! What was found: verdicts first, then the method, the tables and the figures.

use super::html::Html;
use super::run::Known;
use super::stated;
use crate::figures::{
    DifferencesOptions, MeansOptions, PanelGridOptions, SampleMapOptions, SpiderOptions, ThemeKind,
    VerdictStripOptions, differences, means, panel_grid, sample_map, spider, verdict_strip,
};
use crate::stats::study_bootstrap::StudyBootstrap;
use crate::stats::{Analysis, CandidateAnalysis, StudyResults, Verdict};
use crate::study::{LogKind, ReportField, Study};
use crate::tables;
use crate::write::sentences::candidate_sentence;
use crate::write::study_words::{late_decisions, margin_origin, typed_number};

const LATE_CAUTION: &str =
    "These decisions were made when the scores were loaded or the verdict was seen. Weigh the verdicts accordingly.";
/// Width of the figures: the text width of A4 with these margins is 180 mm, or 680 CSS pixels.
const FIGURE_WIDTH_PX: f64 = 660.0;
/// More samples than this do not fit beside each other in a table of means on paper.
const SAMPLES_ABREAST: usize = 6;

/// The verdicts in sentences, before anything else.
pub(in crate::write) fn verdicts(html: &mut Html, study: &Study, found: &StudyResults) {
    let analysis = &found.analysis;
    html.section("Verdict", |html| {
        let Some(target) = &analysis.target else {
            return html.paragraph(if study.settings.target.is_some() && study.decided_at.is_none() {
                "Target, margin and deciding attributes are not settled yet. No verdict is shown before they are."
            } else {
                "No target is named in the study, so there is no verdict."
            });
        };
        html.paragraph(&format!("Target: {target}. {}", margin_line(study)));
        for candidate in most_alike_first(analysis) {
            let word = candidate.verdict.in_words();
            html.verdict(word, class_of(candidate.verdict), &candidate_sentence(analysis, candidate));
        }
        let late = late_decisions(study);
        if !late.is_empty() {
            html.heading("Decided late");
            html.paragraph(LATE_CAUTION);
            let lines: Vec<String> = late.iter().map(|entry| format!("{} {}", entry.when, entry.what)).collect();
            html.list(&lines);
        }
        html.figure(&verdict_strip(
            analysis,
            &VerdictStripOptions { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, ..Default::default() },
        ));
    });
}

/// How scores became verdicts.
pub(in crate::write) fn method(html: &mut Html, study: &Study, found: &StudyResults) {
    html.section("Data treatment", |html| {
        stated(html, study, ReportField::Treatment);
        html.paragraph("Scores are used as they are: nothing is standardised, rescaled or filled in. What is missing stays missing.");
    });
    html.section("Method", |html| {
        html.stated("Margin", Some(&margin_line(study)));
        html.stated("Settled", Some(&settled_line(study)));
        html.stated("Deciding attributes", Some(&deciding_line(study)));
        html.stated("Alpha", Some(&format!("{} for each test", typed_number(study.settings.alpha))));
        html.list(&method_lines(&found.analysis));
        let mut models: Vec<String> = Vec::new();
        for anova in found.analysis.attributes.iter().filter_map(|attribute| attribute.anova.as_ref().ok()) {
            if !models.contains(&anova.model) {
                models.push(anova.model.clone());
            }
        }
        if !models.is_empty() {
            html.heading("Model of the analysis of variance");
            html.list(&models);
        }
        html.stated("Seed of everything drawn by chance", Some(&study.settings.seed.to_string()));
    });
}

/// Differences to the target: all verdicts, how sure the distances are. Candidates follow one by one.
pub(in crate::write) fn differences_to_target(html: &mut Html, known: &Known<'_>) {
    let analysis = &known.found.analysis;
    html.section("Differences to the target", |html| {
        html.results(&tables::verdicts(analysis));
        match &known.bootstrap.distances {
            Ok(distances) => {
                html.results(&tables::closeness(analysis, distances));
                html.note(&distances.model);
            }
            Err(reason) => {
                html.paragraph(&format!("How sure the distances are is not defined, because {}.", reason.because));
            }
        }
    });
}

/// One candidate, by its place in the analysis.
pub(in crate::write) fn candidate(html: &mut Html, known: &Known<'_>, place: usize) {
    if let Some(candidate) = known.found.analysis.candidates.get(place) {
        html.part(|html| candidate_part(html, &known.found.analysis, candidate));
    }
}

/// Means as figures and tables.
pub(in crate::write) fn profiles(html: &mut Html, known: &Known<'_>) {
    let analysis = &known.found.analysis;
    html.section("Profiles", |html| {
        html.figure(&spider(
            analysis,
            &SpiderOptions { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, ..Default::default() },
        ));
        html.figure(&means(
            analysis,
            &MeansOptions { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, ..Default::default() },
        ));
        for samples in analysis.samples.chunks(SAMPLES_ABREAST) {
            html.results(&tables::means(analysis, samples));
        }
    });
}

/// Whether samples differ at all.
pub(in crate::write) fn variance(html: &mut Html, known: &Known<'_>) {
    html.part(|html| html.results(&tables::variance(&known.found.analysis)));
}

/// What the panel did.
pub(in crate::write) fn panel(html: &mut Html, known: &Known<'_>) {
    let (analysis, panel) = (&known.found.analysis, &known.found.panel);
    html.section("The panel", |html| {
        html.figure(&panel_grid(
            panel,
            &PanelGridOptions {
                width_px: FIGURE_WIDTH_PX,
                theme: ThemeKind::Print,
                unit: known.study.scale.unit.clone(),
                ..Default::default()
            },
        ));
        html.results(&tables::assessors(analysis, panel));
        html.results(&tables::panel_attributes(analysis, panel));
        html.note(&panel.model);
    });
}

fn candidate_part(html: &mut Html, analysis: &Analysis, candidate: &CandidateAnalysis) {
    let options = DifferencesOptions {
        width_px: FIGURE_WIDTH_PX,
        theme: ThemeKind::Print,
        candidates: Some(vec![candidate.sample.clone()]),
        ..Default::default()
    };
    html.kept_together(|html| {
        html.heading(&candidate.sample);
        html.paragraph(&candidate_sentence(analysis, candidate));
        html.figure(&differences(analysis, &options));
    });
    html.results(&tables::differences(analysis, Some(&candidate.sample)));
}

pub(in crate::write) fn map(html: &mut Html, found: &StudyResults, bootstrap: &StudyBootstrap) {
    match &found.map {
        Ok(map) => {
            let options = SampleMapOptions { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, ..Default::default() };
            html.figure(&sample_map(&found.analysis, map, bootstrap.ellipses.as_ref().ok(), &options));
            html.note(&map.model);
            match &bootstrap.ellipses {
                Ok(ellipses) => html.note(&format!("{} draws. {}", ellipses.draws, ellipses.model)),
                Err(reason) => html.note(&format!("No ellipses, because {}.", reason.because)),
            }
            map.cautions.iter().for_each(|caution| html.note(caution));
            let left_out: Vec<String> = map
                .left_out
                .iter()
                .map(|item| format!("{} is left out, because {}.", item.what, item.because))
                .collect();
            left_out.iter().for_each(|line| html.note(line));
        }
        Err(reason) => html.paragraph(&format!("A map is not defined, because {}.", reason.because)),
    }
}

fn margin_line(study: &Study) -> String {
    let margin = &study.settings.margin;
    let unit = &study.scale.unit;
    let mut line = format!("Margin ±{} {unit}, from {}.", typed_number(margin.width_mm), margin_origin(&margin.origin));
    if !margin.by_attribute.is_empty() {
        let own: Vec<String> = margin
            .by_attribute
            .iter()
            .map(|(name, width)| format!("{name} ±{} {unit}", typed_number(*width)))
            .collect();
        line.push_str(&format!(" Margins of their own: {}.", own.join(", ")));
    }
    let changed = late_decisions(study).iter().any(|entry| entry.kind == LogKind::MarginDecided);
    line.push_str(if changed {
        " It was changed, or its origin stated, when the scores were loaded or the verdict was seen."
    } else {
        " No late change is on record."
    });
    line
}

/// When it was settled what counts as a match.
fn settled_line(study: &Study) -> String {
    match study.decided_at.as_deref() {
        None => "not yet".to_owned(),
        Some("") => "at a time that is not on record".to_owned(),
        Some(when) => format!("{when}, before the verdict was shown"),
    }
}

fn deciding_line(study: &Study) -> String {
    match study.settings.deciding.as_slice() {
        [] => "all".to_owned(),
        names => names.join(", "),
    }
}

fn method_lines(analysis: &Analysis) -> Vec<String> {
    let percent = |share: f64| tables::percent(share);
    vec![
        "Difference of a candidate: each assessor's mean for it minus the same assessor's mean for the target, then the \
         mean over assessors; intervals by Student's t with assessors less one degrees of freedom."
            .to_owned(),
        format!(
            "Match: the {} interval lies inside the margin (two one-sided tests, Schuirmann 1987). Off: the {} interval \
             excludes zero and the match is not shown. Not shown: anything else, which is not the same as different.",
            percent(1.0 - 2.0 * analysis.alpha),
            percent(1.0 - analysis.alpha)
        ),
        "A sample is off if a deciding attribute is off, a match if all of them match, else not shown. A match needs all \
         tests at once, each at alpha, and so needs no correction (intersection-union, Berger 1982); a single \
         attribute found off among many may be chance."
            .to_owned(),
        "Samples are tested against assessor × sample, assessors random: mean squares in balanced data, restricted \
         maximum likelihood with Satterthwaite's degrees of freedom in any other. The p-values over attributes are also \
         given as adjusted by Holm (1979) and by Benjamini and Hochberg (1995)."
            .to_owned(),
    ]
}

/// Matches, then what is not shown, then what is off; closest first in each.
fn most_alike_first(analysis: &Analysis) -> Vec<&CandidateAnalysis> {
    let order = |verdict: Verdict| match verdict {
        Verdict::Match => 0,
        Verdict::NotShown => 1,
        Verdict::Off => 2,
    };
    let distance = |candidate: &CandidateAnalysis| {
        candidate.distance.as_ref().map_or(f64::INFINITY, |found| found.distance_adjusted)
    };
    let mut sorted: Vec<&CandidateAnalysis> = analysis.candidates.iter().collect();
    sorted.sort_by(|a, b| order(a.verdict).cmp(&order(b.verdict)).then(distance(a).total_cmp(&distance(b))));
    sorted
}

fn class_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Match => "is-match",
        Verdict::Off => "is-off",
        Verdict::NotShown => "is-not-shown",
    }
}
