//! Results as JSON for programs. Quantities that are not defined are null, with the reason beside them.

use crate::catalogue::{JsonPlace, Results};
use crate::notice::Notice;
use crate::stats::r#match::calibrated::CalibratedVerdict;
use crate::stats::{
    Analysis, Anova, AttributeAnalysis, CandidateAnalysis, Defined, DifferenceTest, ModelVariances, SampleMean,
    TargetDifference,
};
use crate::tables::r#match::reasons::{bars, cautions};
use serde_json::{Map, Value, json};

/// The analysis as a JSON value. `notices` are those of reading; those of the analysis follow them.
pub fn analysis_json(analysis: &Analysis, notices: &[Notice]) -> Value {
    let all_notices: Vec<Value> = notices.iter().chain(&analysis.notices).map(notice_json).collect();
    json!({
        "target": analysis.target,
        "target_cups": analysis.cups,
        "margin": analysis.margin,
        "profile_share": analysis.profile_share,
        "alpha": analysis.alpha,
        "unit": analysis.unit,
        "scale_max": analysis.scale_maximum,
        "assessors": analysis.assessors,
        "samples": analysis.samples,
        "attributes": analysis.attributes.iter().map(attribute_json).collect::<Vec<_>>(),
        "candidates": analysis.candidates.iter().map(|one| candidate_json(analysis, one)).collect::<Vec<_>>(),
        "late_changes": analysis.late,
        "notices": all_notices,
    })
}

/// All results as a JSON value: the analysis, and what every entry of the catalogue found, each in its place. `notices`
/// are those of reading; those of the analysis follow them.
pub fn results_json(results: &Results, notices: &[Notice]) -> Value {
    let mut all = analysis_json(&results.given.analysis, notices);
    for (entry, found) in results.iter() {
        for part in entry.json(&results.given, found) {
            match (part.place, part.value) {
                (JsonPlace::Top(name), value) => all[name] = value,
                (JsonPlace::EachAttribute(name), Value::Array(values)) => put_in_each(&mut all, name, values),
                (JsonPlace::EachAttribute(_), _) => {}
            }
        }
    }
    all
}

/// Puts a value into each attribute, in their order.
fn put_in_each(all: &mut Value, name: &str, values: Vec<Value>) {
    let attributes = all.get_mut("attributes").and_then(Value::as_array_mut);
    for (attribute, value) in attributes.into_iter().flatten().zip(values) {
        attribute[name] = value;
    }
}

/// A notice with its place and its whole sentence.
pub fn notice_json(notice: &Notice) -> Value {
    json!({
        "severity": notice.severity,
        "file": notice.place.file,
        "row": notice.place.row,
        "column": notice.place.column,
        "column_name": notice.place.column_name,
        "what": notice.what,
        "hint": notice.hint,
        "text": notice.to_string(),
    })
}

/// Puts a quantity under `key`, or null there and the reason under `key_not_defined`.
pub fn put_defined<T>(into: &mut Map<String, Value>, key: &str, quantity: &Defined<T>, show: impl Fn(&T) -> Value) {
    match quantity {
        Ok(value) => {
            into.insert(key.to_owned(), show(value));
        }
        Err(reason) => {
            into.insert(key.to_owned(), Value::Null);
            into.insert(format!("{key}_not_defined"), json!(reason.because));
        }
    }
}

fn attribute_json(attribute: &AttributeAnalysis) -> Value {
    let mut object = Map::new();
    object.insert("attribute".into(), json!(attribute.attribute));
    object.insert("kind".into(), json!(attribute.kind));
    object.insert("deciding".into(), json!(attribute.deciding));
    object.insert("n_used".into(), json!(attribute.n_used));
    object.insert("n_dropped".into(), json!(attribute.n_dropped));
    put_defined(&mut object, "anova", &attribute.anova, anova_json);
    put_defined(&mut object, "model", &attribute.model, model_json);
    object.insert("means".into(), attribute.means.iter().map(mean_json).collect());
    object.insert("versus_target".into(), attribute.versus_target.iter().map(difference_json).collect());
    Value::Object(object)
}

fn anova_json(anova: &Anova) -> Value {
    let mut object = Map::new();
    object.insert("sample_df".into(), json!(anova.sample_df));
    object.insert("error_df".into(), json!(anova.error_df));
    object.insert("f".into(), json!(anova.f));
    object.insert("p".into(), json!(anova.p));
    object.insert("model".into(), json!(anova.model));
    let table = anova.table.as_ref();
    object.insert("ms_assessor".into(), json!(table.ok().map(|table| table.assessor.ms)));
    object.insert("ms_sample".into(), json!(table.ok().map(|table| table.sample.ms)));
    object.insert("ms_interaction".into(), json!(table.ok().map(|table| table.interaction.ms)));
    object.insert("ms_error".into(), json!(table.ok().and_then(|table| table.error.as_ref().ok()).map(|line| line.ms)));
    let wrong = table.ok().and_then(|table| table.f_on_error_wrong.as_ref().ok());
    object.insert("f_on_error_wrong".into(), json!(wrong));
    if let Err(reason) = &anova.table {
        object.insert("table_not_defined".into(), json!(reason.because));
    }
    Value::Object(object)
}

fn model_json(model: &ModelVariances) -> Value {
    let mut object = Map::new();
    object.insert("method".into(), json!(model.method));
    object.insert("var_assessor".into(), json!(model.var_assessor));
    put_defined(&mut object, "var_interaction", &model.var_interaction, |value| json!(value));
    object.insert("var_error".into(), json!(model.var_error));
    Value::Object(object)
}

fn mean_json(mean: &SampleMean) -> Value {
    let spread = mean.spread.as_ref().ok();
    json!({
        "sample": mean.sample,
        "n": mean.n,
        "mean": mean.mean,
        "se": spread.map(|spread| spread.se),
        "df": spread.map(|spread| spread.df),
        "lower": spread.map(|spread| spread.lower),
        "upper": spread.map(|spread| spread.upper),
    })
}

fn difference_json(difference: &TargetDifference) -> Value {
    let mut object = Map::new();
    object.insert("sample".into(), json!(difference.sample));
    object.insert("difference".into(), json!(difference.difference));
    object.insert("n_assessors".into(), json!(difference.n_assessors));
    object.insert("margin".into(), json!(difference.margin));
    object.insert("verdict".into(), json!(difference.verdict.word()));
    let test = difference.test.as_ref().ok();
    let number = |pick: fn(&DifferenceTest) -> f64| json!(test.map(pick));
    object.insert("se".into(), number(|test| test.se));
    object.insert("df".into(), number(|test| test.df));
    object.insert("lower95".into(), number(|test| test.interval95.lower));
    object.insert("upper95".into(), number(|test| test.interval95.upper));
    object.insert("lower90".into(), number(|test| test.interval90.lower));
    object.insert("upper90".into(), number(|test| test.interval90.upper));
    object.insert("p_lower".into(), number(|test| test.p_lower));
    object.insert("p_upper".into(), number(|test| test.p_upper));
    object.insert("p_difference".into(), number(|test| test.p_difference));
    if let Err(reason) = &difference.test {
        object.insert("test_not_defined".into(), json!(reason.because));
    }
    put_defined(&mut object, "p_off", &difference.p_off, |p| json!(p));
    object.insert("beyond".into(), json!(difference.beyond));
    Value::Object(object)
}

fn candidate_json(analysis: &Analysis, candidate: &CandidateAnalysis) -> Value {
    let distance = candidate.distance.as_ref().ok();
    let mut object = Map::new();
    object.insert("sample".into(), json!(candidate.sample));
    object.insert("verdict".into(), json!(candidate.verdict.word()));
    object.insert("n_match".into(), json!(candidate.n_match));
    object.insert("n_off".into(), json!(candidate.n_off));
    object.insert("n_not_shown".into(), json!(candidate.n_not_shown));
    object.insert("distance".into(), json!(distance.map(|found| found.distance)));
    object.insert("distance_adjusted".into(), json!(distance.map(|found| found.distance_adjusted)));
    object.insert("distance_of_noise".into(), json!(distance.map(|found| found.distance_of_noise)));
    object.insert("typical_difference".into(), json!(distance.map(|found| found.typical_difference)));
    object.insert("overall_offset".into(), json!(distance.map(|found| found.overall_offset)));
    object.insert("shape_correlation".into(), json!(distance.and_then(|found| found.shape_correlation)));
    if let Err(reason) = &candidate.distance {
        object.insert("distance_not_defined".into(), json!(reason.because));
    }
    put_verdict(&mut object, analysis, candidate);
    Value::Object(object)
}

/// By which rule, within what, and what the reader must know.
fn put_verdict(object: &mut Map<String, Value>, analysis: &Analysis, candidate: &CandidateAnalysis) {
    let judged = &candidate.judged;
    object.insert("rule".into(), json!(candidate.rule()));
    let mut put = |name: &str, pick: fn(&CalibratedVerdict) -> Defined<f64>| {
        put_defined(object, name, &judged.as_ref().map_err(Clone::clone).and_then(pick), |value| json!(value));
    };
    put("alike_within_mm", |judged| judged.alike_within_mm.clone().map(|widest| widest.within));
    put("alike_within_margins", |judged| judged.alike_multiple.clone().map(|widest| widest.within));
    put("typical_bound_mm", |judged| judged.typical.clone().map(|typical| typical.bound));
    put("typical_estimate_mm", |judged| judged.typical.clone().map(|typical| typical.estimate));
    put("typical_bound_margins", |judged| judged.typical_of_margins.clone().map(|typical| typical.bound));
    object.insert("off_test".into(), json!(judged.as_ref().ok().map(|judged| &judged.test)));
    object.insert("not_shown_because".into(), json!(bars(analysis, candidate)));
    object.insert("cautions".into(), json!(cautions(analysis, candidate)));
    object.insert("is_target_again".into(), json!(analysis.is_target_again(&candidate.sample)));
}
