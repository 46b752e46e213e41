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
        Value::Array(items) => Value::Array(items.into_iter().map(tidy).collect()),
        Value::Object(fields) => match defined_or_reason(fields) {
            Found::Quantity(value) => tidy(value),
            Found::Reason(because) => json!({ "not_defined": because }),
            Found::Fields(fields) => Value::Object(tidy_fields(fields)),
        },
        other => other,
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

fn tidy_fields(fields: Map<String, Value>) -> Map<String, Value> {
    let mut tidied = Map::new();
    for (name, value) in fields {
        match value.get("Err").and_then(|reason| reason.get("because")).cloned() {
            Some(because) => {
                tidied.insert(name.clone(), Value::Null);
                tidied.insert(format!("{name}_not_defined"), because);
            }
            None => {
                tidied.insert(name, tidy(value));
            }
        }
    }
    tidied
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
