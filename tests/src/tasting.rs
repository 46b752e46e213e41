//! An invented tasting for browser tests: a plan, and what each assessor would mark in each cup. Nobody tasted it. It
//! knows nothing of browsers.

use likeness_core::numeric::random::Random;
use likeness_core::plan::brief::attributes::{AttributeList, ListedAttribute};
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan, session_name};
use likeness_core::study::{Margin, Scale, ScoreAddress, Study, StudyBuilder};

/// A plan of three assessors, three samples, four attributes, one replicate, with a warm-up where it is wanted.
///
/// # Panics
/// When the plan can't be made, which is a failed test.
#[must_use]
pub fn small_plan(with_warm_up: bool) -> TastingPlan {
    let line = |(name, low_end, high_end): (&str, &str, &str)| ListedAttribute {
        name: name.to_owned(),
        definition: format!("how {name} it smells and tastes"),
        low_end: low_end.to_owned(),
        high_end: high_end.to_owned(),
        ..ListedAttribute::default()
    };
    let words =
        [("ripe", "none", "strong"), ("green", "none", "strong"), ("sweet", "not", "very"), ("sour", "not", "very")];
    let warm_up = PlannedSample::named("Shop nectar", SampleRole::Candidate);
    let target =
        PlannedSample { allergens: "sulphites".to_owned(), ..PlannedSample::named("Fresh mango", SampleRole::Target) };
    make_plan(PlanRequest {
        brief: Brief {
            title: "Invented mango tasting".to_owned(),
            samples: vec![
                target,
                PlannedSample::named("Candidate A", SampleRole::Candidate),
                PlannedSample::named("Candidate B", SampleRole::Candidate),
            ],
            warm_up: with_warm_up.then_some(warm_up),
            margin: Margin::of(10.0),
            ..Brief::default()
        },
        attributes: AttributeList { attributes: words.into_iter().map(line).collect(), ..AttributeList::default() },
        assessors: ["Anna", "Ben", "Cleo"].map(str::to_owned).to_vec(),
        scale: Scale::default(),
        replicates: 1,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 19,
        made_at: "2026-03-02 09:00".to_owned(),
    })
    .expect("a plan")
}

/// What would be marked: one line a cup in ballot order, whole millimetres. Ripe and sweet are alike in all samples,
/// Candidate B is greener and sourer.
#[must_use]
pub fn invented_marks(plan: &TastingPlan) -> Vec<Vec<f64>> {
    let mut chance = Random::seeded(4);
    let mark = |sample: usize, row: usize, noise: f64| {
        let level = [62.0, 25.0, 55.0, 30.0][row] + if sample == 2 && row % 2 == 1 { 26.0 } else { 0.0 };
        (level + 8.0 * (noise - 0.5)).round()
    };
    let rows = plan.attributes.attributes.len();
    plan.servings()
        .iter()
        .map(|serving| (0..rows).map(|row| mark(serving.sample, row, chance.unit())).collect())
        .collect()
}

/// The study that these marks are, put together by names and not by places.
///
/// # Panics
/// When two marks have one address, which is a failed test.
#[must_use]
pub fn study_of(plan: &TastingPlan, marks: &[Vec<f64>]) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    plan.brief.samples.iter().for_each(|sample| _ = builder.sample(&sample.name));
    for (serving, line) in plan.servings().iter().zip(marks) {
        for (attribute, mark) in plan.attributes.attributes.iter().zip(line) {
            let address = ScoreAddress {
                assessor: &plan.assessors[serving.assessor],
                sample: &plan.brief.samples[serving.sample].name,
                replicate: serving.replicate,
                session: Some(&session_name(serving.session)),
                position: Some(serving.position),
                label: None,
            };
            builder.add(address, &attribute.name, *mark).expect("each mark once");
        }
    }
    let mut study = builder.finish(&plan.brief.title);
    study.settings.target = Some("Fresh mango".to_owned());
    study
}
