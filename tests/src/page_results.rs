//! What the page computed, as it stands in its report, and comparing it with what the engine says.

use crate::browser::{Browser, PATIENCE};
use serde_json::Value;

/// The hidden script in the report holds the results.
///
/// # Panics
/// When there are none.
#[must_use]
pub fn results(browser: &Browser) -> Value {
    browser.find("[data-test=view-report]").click();
    browser.wait_until("the place of the results", PATIENCE, || browser.has("[data-test=results-json]"));
    let text = || browser.find("[data-test=results-json]").script("return this_element.textContent", &[]);
    // Every method of the catalogue is computed first, in slices.
    browser.wait_until("the results", 4 * PATIENCE, || text().as_str().is_some_and(|text| !text.is_empty()));
    serde_json::from_str(text().as_str().expect("text")).expect("the page writes JSON")
}

/// Equal words, and numbers that differ by rounding only: the page runs as WebAssembly with a logarithm of its own.
///
/// # Panics
/// When they are not alike, naming the place.
pub fn assert_alike(got: &Value, expected: &Value, place: &str) {
    match (got, expected) {
        (Value::Number(got), Value::Number(expected)) => {
            let (got, expected) = (got.as_f64().unwrap(), expected.as_f64().unwrap());
            let close = (got - expected).abs() <= 1e-10 * expected.abs().max(1e-6);
            assert!(close, "{place}: the page says {got}, the engine {expected}");
        }
        (Value::Array(got), Value::Array(expected)) => {
            assert_eq!(got.len(), expected.len(), "{place}");
            for (index, (got, expected)) in got.iter().zip(expected).enumerate() {
                assert_alike(got, expected, &format!("{place}[{index}]"));
            }
        }
        (Value::Object(got), Value::Object(expected)) => {
            for (name, expected) in expected {
                assert_alike(&got[name], expected, &format!("{place}.{name}"));
            }
        }
        _ => assert_eq!(got, expected, "{place}"),
    }
}
