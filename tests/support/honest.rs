//! What must hold for the answer of every calculation, whatever was asked.

use serde_json::Value;

/// A utilisation that is above 1 by no more than this is at the limit.
const ROUNDING: f64 = 1e-9;

/// Where an answer says more than it may, or less than it must; empty if nowhere.
pub fn faults(answer: &Value) -> Vec<String> {
    let mut found = Vec::new();
    let codes: Vec<&str> =
        answer["cautions"].as_array().into_iter().flatten().filter_map(|one| one["code"].as_str()).collect();
    if !codes.starts_with(&["deference", "oil_alone"]) {
        found.push(format!("the standing cautions do not come first: {codes:?}"));
    }
    let counts = &answer["verdict"]["counts"];
    if counts["fail"].as_u64().is_none_or(|failed| 0 < failed) && answer["verdict"]["status"] != "fail" {
        found.push(format!("the verdict hides a failed check: {}", answer["verdict"]));
    }
    checks(&answer["result"], &mut found);
    found
}

/// Looks at every check inside a value.
fn checks(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(members) => {
            if members.contains_key("missing") && members.contains_key("status") {
                found.extend(fault(value).map(|fault| format!("{} of {}: {fault}", value["id"], value["subject"])));
            }
            members.values().for_each(|member| checks(member, found));
        }
        Value::Array(items) => items.iter().for_each(|item| checks(item, found)),
        _ => {}
    }
}

fn fault(check: &Value) -> Option<String> {
    let missing = check["missing"].as_array().is_some_and(|missing| !missing.is_empty());
    let utilisation = check["utilisation"].as_f64();
    match check["status"].as_str() {
        Some("pass" | "caution") if missing => Some(format!("decided although {} is missing", check["missing"])),
        Some("pass") if utilisation.is_some_and(|utilisation| 1.0 + ROUNDING < utilisation) => {
            Some(format!("passed at a utilisation of {}", check["utilisation"]))
        }
        Some("fail") if utilisation.is_some_and(|utilisation| utilisation < 1.0 - ROUNDING) => {
            Some(format!("failed at a utilisation of {}", check["utilisation"]))
        }
        Some("not_checked") if !missing && check["note"].is_null() => Some("does not say what is missing".to_owned()),
        Some("pass" | "caution" | "fail" | "not_checked") => None,
        other => Some(format!("the status {other:?} is none")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn answer(check: &Value, status: &str, failed: u32) -> Value {
        json!({
            "cautions": [{"code": "deference"}, {"code": "oil_alone"}], "result": {"checks": [check]},
            "verdict": {"status": status, "counts": {"fail": failed}},
        })
    }

    #[test]
    fn verify_what_may_not_be_said_is_found() {
        let good = json!({"id": "x", "subject": "1", "status": "pass", "utilisation": 1.0, "missing": []});
        assert_eq!(faults(&answer(&good, "pass", 0)), Vec::<String>::new());
        assert_eq!(faults(&answer(&good, "pass", 1)).len(), 1);
        for (name, value) in [
            ("utilisation", json!(1.1)),
            ("missing", json!(["pad"])),
            ("status", json!("not_checked")),
            ("status", json!("fine")),
        ] {
            let mut bad = good.clone();
            bad[name] = value;
            assert_eq!(faults(&answer(&bad, "pass", 0)).len(), 1, "{bad}");
        }
        let mut silent = answer(&good, "pass", 0);
        silent["cautions"] = json!([{"code": "oil_alone"}]);
        assert_eq!(faults(&silent).len(), 1);
    }
}
