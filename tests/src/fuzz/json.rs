//! Files of Likeness itself, mutated as JSON: a value here and there is another, missing, or there twice. The check of
//! the smaller files is set right again, so that what lies behind it is reached. It knows nothing of what they mean.

use super::{Input, nasty, pick, seeds};
use likeness_core::numeric::hash::{fnv_1a, in_hexadecimal};
use likeness_core::numeric::random::Random;
use serde_json::{Value, json};

pub(super) fn file(input: Input, chance: &mut Random) -> Vec<u8> {
    let mut file: Value = pick(seeds::files(input), chance);
    for _ in 0..chance.below(4) {
        change(&mut file, chance);
    }
    if chance.below(10) != 0 {
        set_check(&mut file);
    }
    file.to_string().into_bytes()
}

/// Changes one value somewhere below, deeper ones as likely as upper ones.
fn change(value: &mut Value, chance: &mut Random) {
    match value {
        Value::Object(fields) if !fields.is_empty() && chance.below(6) != 0 => {
            let name = fields.keys().nth(chance.below(fields.len())).cloned().unwrap_or_default();
            if chance.below(12) == 0 {
                fields.remove(&name);
            } else if let Some(inner) = fields.get_mut(&name) {
                change(inner, chance);
            }
        }
        Value::Array(items) if !items.is_empty() && chance.below(6) != 0 => change_list(items, chance),
        other => *other = instead(other, chance),
    }
}

fn change_list(items: &mut Vec<Value>, chance: &mut Random) {
    let at = chance.below(items.len());
    match chance.below(10) {
        0 => _ = items.remove(at),
        1 => items.insert(at, items[chance.below(items.len())].clone()),
        2 => items.truncate(at),
        3 => {
            let other = chance.below(items.len());
            items.swap(at, other);
        }
        _ => change(&mut items[at], chance),
    }
}

fn instead(value: &Value, chance: &mut Random) -> Value {
    match value {
        Value::Number(number) if chance.below(4) != 0 => {
            let near = number.as_f64().unwrap_or(0.0);
            let other = [near + 1.0, near - 1.0, -near, near * 1000.0, 0.5, 1e18, -1.0, 0.0, 1e308, 4_294_967_296.0];
            let other = pick(&other, chance);
            if other.fract() == 0.0 && other.abs() < 9e15 { json!(other as i64) } else { json!(other) }
        }
        Value::String(_) if chance.below(4) != 0 => Value::String(nasty(chance)),
        Value::Bool(is) => Value::Bool(!is),
        _ => {
            pick(&[Value::Null, json!([]), json!({}), json!(""), json!(7), json!(-1), json!([[]]), json!(true)], chance)
        }
    }
}

/// The check over the part, as `plan::file_envelope` says it is made.
fn set_check(file: &mut Value) {
    let Some(fields) = file.as_object_mut() else { return };
    if !fields.contains_key("check") {
        return;
    }
    let known = ["format", "version", "program", "check"];
    let part = fields.iter().find(|(name, _)| !known.contains(&name.as_str())).map(|(_, part)| part.to_string());
    let check = in_hexadecimal(fnv_1a(part.unwrap_or_else(|| "null".to_owned()).as_bytes()));
    fields.insert("check".to_owned(), Value::String(check));
}
