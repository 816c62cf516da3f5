//! Whether two answers say the same, quantities compared as quantities and not as digits.

use ramwright_units::in_unit;
use serde_json::{Map, Value};

/// How far two numbers may lie apart, relative to the greater of them.
const RELATIVE: f64 = 1e-9;

/// Where two answers differ; empty if they say the same. `absolute_si` is what two quantities may differ by in any case,
/// in SI: a sum that should be zero is so only to rounding.
pub fn differences(a: &Value, b: &Value, absolute_si: f64) -> Vec<String> {
    let mut found = Vec::new();
    compare(a, b, absolute_si, "", &mut found);
    found
}

fn compare(a: &Value, b: &Value, absolute_si: f64, at: &str, found: &mut Vec<String>) {
    match (a, b) {
        (Value::Object(a), Value::Object(b)) if has_unit(a) && has_unit(b) => quantities(a, b, absolute_si, at, found),
        (Value::Object(a), Value::Object(b)) => {
            if a.keys().ne(b.keys()) {
                found.push(format!("{at}: fields {:?} and {:?}", a.keys(), b.keys()));
            }
            for (name, member) in a {
                if let Some(other) = b.get(name) {
                    compare(member, other, absolute_si, &format!("{at}/{name}"), found);
                }
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            if a.len() != b.len() {
                found.push(format!("{at}: {} and {} items", a.len(), b.len()));
            }
            for (index, (item, other)) in a.iter().zip(b).enumerate() {
                compare(item, other, absolute_si, &format!("{at}/{index}"), found);
            }
        }
        (Value::Number(a), Value::Number(b)) => {
            let pair = (a.as_f64().expect("a number"), b.as_f64().expect("a number"));
            if !near(pair.0, pair.1, RELATIVE) {
                found.push(format!("{at}: {a} and {b}"));
            }
        }
        _ if a == b => {}
        _ => found.push(format!("{at}: {a} and {b}")),
    }
}

fn has_unit(members: &Map<String, Value>) -> bool {
    members.get("unit").is_some_and(Value::is_string)
        && members.iter().all(|(name, member)| name == "unit" || member.is_number())
}

fn quantities(a: &Map<String, Value>, b: &Map<String, Value>, absolute_si: f64, at: &str, found: &mut Vec<String>) {
    for (name, value) in a.iter().filter(|(name, _)| *name != "unit") {
        let other = b.get(name).and_then(Value::as_f64);
        let same = other.is_some_and(|other| {
            let value = value.as_f64().unwrap_or(f64::NAN);
            near(si(value, &a["unit"]), si(other, &b["unit"]), absolute_si)
        });
        if !same {
            found.push(format!("{at}/{name}: {a:?} and {b:?}"));
        }
    }
}

/// The value in SI; `1` marks a plain number, and units that only answers use are asked for by what they are made of.
fn si(value: f64, unit: &Value) -> f64 {
    const LBF_N: f64 = 4.448_221_615_260_5;
    const FT_M: f64 = 0.3048;
    const IN_M: f64 = 0.0254;
    match unit.as_str().expect("a unit is a text") {
        "1" => value,
        "kN.m" | "kPa" => value * 1e3,
        "lbf.ft" | "lbf.ft/rad" => value * LBF_N * FT_M,
        "psf" => value * LBF_N / (FT_M * FT_M),
        "cm4" => value * 1e-8,
        "in4" => value * (IN_M * IN_M) * (IN_M * IN_M),
        symbol => in_unit(value, symbol).unwrap_or_else(|error| panic!("{error}")).si(),
    }
}

fn near(a: f64, b: f64, absolute: f64) -> bool {
    (a - b).abs() <= (RELATIVE * a.abs().max(b.abs())).max(absolute)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn verify_the_same_in_other_units_is_the_same() {
        let a = json!({"x": {"value": 25.4, "unit": "mm"}, "r": {"least": 0.0, "expected": 1.0, "unit": "m"}, "n": 1});
        let b = json!({"x": {"value": 1.0, "unit": "in"}, "r": {"least": 0.0, "expected": 1.0, "unit": "m"}, "n": 1});
        assert_eq!(differences(&a, &b, 0.0), Vec::<String>::new());
    }

    #[test]
    fn verify_differences_are_found_where_they_are() {
        let of = |a: Value, b: Value| differences(&a, &b, 1e-12).len();
        assert_eq!(of(json!({"value": 25.4, "unit": "mm"}), json!({"value": 1.00001, "unit": "in"})), 1);
        assert_eq!(of(json!([1, 2]), json!([1, 2.1, 3])), 2);
        assert_eq!(of(json!({"a": "x"}), json!({"a": "y"})), 1);
        assert_eq!(of(json!({"a": null}), json!({"b": null})), 1);
        assert_eq!(of(json!({"least": 1.0, "unit": "m"}), json!({"unit": "m"})), 1);
    }
}
