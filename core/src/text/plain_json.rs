//! Any result as JSON: what is not defined becomes null, with the reason beside it.

use serde::Serialize;
use serde_json::{Map, Value, json};

/// A result as a JSON value. A quantity that is not defined is null and its reason stands under `NAME_not_defined`.
pub fn plain_json<T: Serialize>(result: &T) -> Value {
    // A result is made of numbers, words and lists; serde_json turns what is no finite number into null.
    serde_json::to_value(result).map_or(Value::Null, tidy)
}

/// Takes the wrapping that serde gives a `Result` away, at every depth.
fn tidy(value: Value) -> Value {
    match value {
        Value::Array(mut items) => {
            tidy_each(items.iter_mut());
            Value::Array(items)
        }
        Value::Object(fields) => match defined_or_reason(fields) {
            Found::Quantity(value) => tidy(value),
            Found::Reason(because) => json!({ "not_defined": because }),
            Found::Fields(fields) => Value::Object(tidy_fields(fields)),
        },
        other => other,
    }
}

/// Where they are: most lists are long and hold nothing that is wrapped.
fn tidy_each<'v>(values: impl Iterator<Item = &'v mut Value>) {
    for value in values.filter(|value| value.is_array() || value.is_object()) {
        *value = tidy(value.take());
    }
}

enum Found {
    Quantity(Value),
    Reason(Value),
    Fields(Map<String, Value>),
}

fn defined_or_reason(mut fields: Map<String, Value>) -> Found {
    if fields.len() == 1 {
        if let Some(value) = fields.remove("Ok") {
            return Found::Quantity(value);
        }
        if let Some(because) = fields.get("Err").and_then(|reason| reason.get("because")) {
            return Found::Reason(because.clone());
        }
    }
    Found::Fields(fields)
}

fn tidy_fields(mut fields: Map<String, Value>) -> Map<String, Value> {
    let reason = |value: &Value| value.get("Err").and_then(|reason| reason.get("because")).cloned();
    let reasons: Vec<(String, Value)> =
        fields.iter().filter_map(|(name, value)| Some((name.clone(), reason(value)?))).collect();
    for (name, because) in reasons {
        fields.insert(format!("{name}_not_defined"), because);
        fields.insert(name, Value::Null);
    }
    tidy_each(fields.values_mut());
    fields
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::defined::{Defined, NotDefined};

    #[derive(Serialize)]
    struct Shown {
        known: Defined<f64>,
        unknown: Defined<f64>,
        list: Vec<Defined<u8>>,
    }

    #[test]
    fn what_is_not_defined_is_null_with_its_reason() {
        let none = || NotDefined::because("one replicate");
        let shown = Shown { known: Ok(2.5), unknown: Err(none()), list: vec![Ok(1), Err(none())] };
        let expected = json!({
            "known": 2.5,
            "unknown": null,
            "unknown_not_defined": "one replicate",
            "list": [1, {"not_defined": "one replicate"}],
        });
        assert_eq!(plain_json(&shown), expected);
    }
}
