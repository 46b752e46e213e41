//! What was found: verdicts first, then the method, the tables and the figures.

use super::html::Html;
use super::stated::stated;
use crate::catalogue::{AnyFinding, Entry, Frame, Given};
use crate::defined::Defined;
use crate::figures::ThemeKind;
use crate::stats::{Analysis, CandidateAnalysis, Verdict};
use crate::study::{LogKind, ReportField, Study};
use crate::tables::r#match::late_sentence;
use crate::tables::r#match::reasons::{bars, cautions, cups_sentence, share_of_margins};
use crate::tables::r#match::sentences::candidate_sentence;
use crate::tables::r#match::words::{off_test, whole_rule};
use crate::tables::words::percent;
use crate::write::study_words::{late_decisions, margin_origin, typed_number};

const LATE_CAUTION: &str =
    "These decisions were made when the scores were loaded or the verdict was seen. Weigh the verdicts accordingly.";
/// Width of the figures: the text width of A4 with these margins is 180 mm, or 680 CSS pixels.
const FIGURE_WIDTH_PX: f64 = 660.0;

/// The verdicts in sentences, before anything else.
pub(in crate::write) fn verdicts(html: &mut Html, study: &Study, analysis: &Analysis) {
    html.section("Verdict", |html| {
        let Some(target) = &analysis.target else {
            return html.paragraph(if study.settings.target.is_some() && study.decided_at.is_none() {
                "Target, margin and deciding attributes are not settled yet. No verdict is shown before they are."
            } else {
                "No target is named in the study, so there is no verdict."
            });
        };
        html.paragraph(&format!("Target: {target}. {} {}", margin_line(study), profile_line(analysis)));
        for sentence in late_sentence(analysis).into_iter().chain(cups_sentence(analysis)) {
            html.paragraph(&sentence);
        }
        for candidate in analysis.most_alike_first() {
            verdict(html, analysis, candidate);
        }
        let late = late_decisions(study);
        if !late.is_empty() {
            html.heading("Decided late");
            html.paragraph(LATE_CAUTION);
            let lines: Vec<String> = late.iter().map(|entry| format!("{} {}", entry.when, entry.what)).collect();
            html.list(&lines);
        }
    });
}

fn verdict(html: &mut Html, analysis: &Analysis, candidate: &CandidateAnalysis) {
    let sentence = candidate_sentence(analysis, candidate);
    html.verdict(candidate.verdict.in_words(), class_of(candidate.verdict), &sentence);
    let asides: Vec<String> = bars(analysis, candidate).into_iter().chain(cautions(analysis, candidate)).collect();
    if !asides.is_empty() {
        html.list(&asides);
    }
}

/// How scores became verdicts.
pub(in crate::write) fn method(html: &mut Html, study: &Study, analysis: &Analysis) {
    html.section("Data treatment", |html| {
        stated(html, study, ReportField::Treatment);
        html.paragraph("Scores are used as they are: nothing is standardised, rescaled or filled in. What is missing stays missing.");
    });
    html.section("Method", |html| {
        html.stated("Margin", Some(&margin_line(study)));
        html.stated("As a whole", Some(&profile_line(analysis)));
        html.stated("Settled", Some(&settled_line(study)));
        html.stated("Deciding attributes", Some(&deciding_line(study)));
        html.stated("Alpha", Some(&alpha_line(study)));
        html.list(&method_lines(analysis));
        let mut models: Vec<String> = Vec::new();
        for anova in analysis.attributes.iter().filter_map(|attribute| attribute.anova.as_ref().ok()) {
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

/// A part of one entry of the catalogue: the figure and the table at a place, after the last of them what is said in
/// words. `heading` opens a topic. Says whether there is more of the entry.
pub(in crate::write) fn entry(
    html: &mut Html,
    entry: &Entry,
    given: &Given,
    found: &Defined<AnyFinding>,
    (place, heading): (usize, Option<&str>),
) -> bool {
    let mut goes_on = false;
    let body = |html: &mut Html| match found {
        Ok(found) => goes_on = entry_part(html, entry, (given, found), place),
        Err(reason) => {
            html.heading(entry.about.title);
            html.paragraph(&entry.about.why_not(&reason.because));
        }
    };
    match heading {
        Some(heading) => html.section(heading, body),
        None => html.part(body),
    }
    goes_on
}

/// The figure and the table at a place, the heading of the entry on the page of its first figure.
fn entry_part(html: &mut Html, entry: &Entry, (given, found): (&Given, &AnyFinding), place: usize) -> bool {
    let frame = Frame { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, heading: true };
    html.kept_together(|html| {
        if place == 0 {
            html.heading(entry.about.title);
        }
        if let Some(figure) = entry.figure(given, found, &frame, place) {
            html.figure(&figure);
        }
    });
    let tables = entry.tables(given, found);
    if let Some(table) = tables.get(place) {
        html.results(table);
    }
    let goes_on = place + 1 < tables.len().max(entry.figure_count(given, found));
    if !goes_on {
        entry.notes(given, found).iter().for_each(|note| html.note(note));
    }
    goes_on
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
        Some(when) if late_decisions(study).is_empty() => format!("{when}, before the verdict was shown"),
        Some(when) => format!("first {when}, before the verdict was shown; changed when it had been seen"),
    }
}

fn deciding_line(study: &Study) -> String {
    match study.settings.deciding.as_slice() {
        [] => "all".to_owned(),
        names => names.join(", "),
    }
}

/// The profile margin, said beside the margin.
fn profile_line(analysis: &Analysis) -> String {
    format!(
        "A match as a whole asks for a typical difference of at most {}.",
        share_of_margins(analysis, analysis.profile_share)
    )
}

/// What alpha is the chance of.
fn alpha_line(study: &Study) -> String {
    let over = match study.settings.candidates_together {
        true => "all deciding attributes of all candidates together",
        false => "all deciding attributes of a candidate together",
    };
    format!(
        "{}, for calling anything off over {over}, and for each claim of a match",
        typed_number(study.settings.alpha)
    )
}

fn method_lines(analysis: &Analysis) -> Vec<String> {
    vec![
        "Difference of a candidate: each assessor's mean for it minus the same assessor's mean for the target, from the \
         sessions in which both were served, then the mean over assessors; intervals by Student's t with assessors less \
         one degrees of freedom, each attribute by itself."
            .to_owned(),
        format!(
            "One attribute matches where its {} interval lies inside the margin (two one-sided tests, Schuirmann 1987).",
            percent(1.0 - 2.0 * analysis.alpha)
        ),
        off_test(analysis),
        whole_rule(analysis),
        "Typical difference: root mean square of the true differences over the deciding attributes. Its upper bound joins \
         the noise along the differences with the lower end of the remaining noise (Satterthwaite 1946, Zou and Donner \
         2008). The chances of error of all this were simulated: DEVELOPERS.md of the program says where the figures are."
            .to_owned(),
        "Samples are tested against assessor × sample, assessors random: mean squares in balanced data, restricted \
         maximum likelihood with Satterthwaite's degrees of freedom in any other. The p-values over attributes are also \
         given as adjusted by Holm (1979) and by Benjamini and Hochberg (1995)."
            .to_owned(),
    ]
}

fn class_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Match => "is-match",
        Verdict::Off => "is-off",
        Verdict::NotShown => "is-not-shown",
    }
}
