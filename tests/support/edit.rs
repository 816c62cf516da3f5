//! Changes to requests that must not change, or must change in a known way, what is answered.

use ramwright_units::{Measured, by_symbol, parse_quantity};
use serde_json::{Value, json};

/// Applies a change to every quantity of a request, in text form.
pub fn each_quantity(value: &mut Value, change: &impl Fn(Measured) -> Value) {
    match value {
        Value::String(text) => {
            if let Ok(measured) = parse_quantity(text) {
                *value = change(measured);
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| each_quantity(item, change)),
        Value::Object(members) => members.values_mut().for_each(|member| each_quantity(member, change)),
        _ => {}
    }
}

/// The same quantity as an object.
pub fn as_object(measured: Measured) -> Value {
    json!({"unit": measured.unit.symbol, "value": measured.value})
}

/// The same quantity in a unit of another system.
pub fn in_other_system(measured: Measured) -> Value {
    let other = match measured.unit.symbol {
        "t" => "lb",
        "ton_us" => "t",
        "kip" => "kN",
        "kN" => "lbf",
        "ft" => "m",
        "m" => "ft",
        "in" => "mm",
        "mm" => "in",
        "bar" => "psi",
        "degC" => "degF",
        "kN/mm" => "lbf/in",
        same => same,
    };
    let unit = by_symbol(other).expect("a known unit");
    json!({"unit": other, "value": (measured.si() - unit.offset) / unit.factor})
}

/// Moves the origin of a request's plan.
pub fn shift_origin(body: &mut Value, x_m: f64, y_m: f64) {
    let moved = |value: &Value, by_m: f64| {
        let measured = parse_quantity(value.as_str().expect("a text")).expect("a quantity");
        json!({"value": measured.si() + by_m, "unit": "m"})
    };
    let case = &mut body["load_case"];
    if case.get("centre_of_gravity").is_some_and(Value::is_object) {
        let centre = &mut case["centre_of_gravity"];
        centre["x"] = moved(&centre["x"], x_m);
        centre["y"] = moved(&centre["y"], y_m);
    }
    let mut places: Vec<&mut Value> = Vec::new();
    let (mut points, mut parts) = (case["points"].take(), case["parts"].take());
    places.extend(points.as_array_mut().expect("points"));
    places.extend(parts.as_array_mut().into_iter().flatten());
    for place in places {
        for (x, y) in [("x", "y"), ("packing_x", "packing_y")] {
            if place.get(x).is_some() {
                place[x] = moved(&place[x], x_m);
                place[y] = moved(&place[y], y_m);
            }
        }
    }
    case["points"] = points;
    if parts.is_array() {
        case["parts"] = parts;
    } else if let Some(case) = case.as_object_mut() {
        // Asking for it made it.
        case.remove("parts");
    }
}

/// The same JSON text with the fields of every object in the opposite order.
pub fn reversed(value: &Value) -> String {
    match value {
        Value::Object(members) => {
            let members = members.iter().rev();
            let written: Vec<String> =
                members.map(|(name, member)| format!("{}:{}", json!(name), reversed(member))).collect();
            format!("{{{}}}", written.join(","))
        }
        Value::Array(items) => format!("[{}]", items.iter().map(reversed).collect::<Vec<_>>().join(",")),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_reversing_changes_the_order_and_nothing_else() {
        let value = json!({"a": 1, "b": [{"c": "x", "d": null}]});
        let text = reversed(&value);
        assert_eq!(text, r#"{"b":[{"d":null,"c":"x"}],"a":1}"#);
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), value);
    }
}
