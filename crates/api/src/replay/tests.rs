//! Replays of answers as they were saved, edited, old, and of what is no answer.

use super::*;
use crate::catalogue::{CatalogueText, parse_catalogue};
use crate::operation::{Operation, PlanLift, Prepared, ShareLoad, SizeRamSet};
use crate::problem::FaultCode;
use serde_json::json;
use std::time::{Duration, Instant};

const REQUEST_LIMIT: usize = 1024 * 1024;

fn never() -> AtomicBool {
    AtomicBool::new(false)
}

/// What the service answers, byte for byte.
fn answered<O: Operation>(request: &Value) -> String {
    let prepared = Prepared::<O>::from_json(request.to_string().as_bytes(), &Catalogues::embedded().unwrap()).unwrap();
    String::from_utf8(prepared.compute(&never()).unwrap().to_json().unwrap()).unwrap()
}

fn shares(units: &str) -> String {
    let mut request: Value =
        serde_json::from_str(include_str!("../../../../openapi/examples/load_shares.json")).unwrap();
    request["units"] = json!(units);
    answered::<ShareLoad>(&request)
}

/// A saved answer with edits; its order of fields is lost, as in a program that sorts them.
fn edited(saved: &str, edit: impl FnOnce(&mut Value)) -> String {
    let mut answer: Value = serde_json::from_str(saved).unwrap();
    edit(&mut answer);
    answer.to_string()
}

fn again(saved: &str) -> Result<Replay, Problem> {
    replay(saved.as_bytes(), &Catalogues::embedded().unwrap(), REQUEST_LIMIT, &never())
}

fn replayed(saved: &str) -> Replay {
    again(saved).unwrap()
}

fn codes(replay: &Replay) -> Vec<ReasonCode> {
    replay.why.iter().map(|reason| reason.code).collect()
}

fn pointers(replay: &Replay) -> Vec<&str> {
    replay.differences.iter().map(|difference| difference.pointer.as_str()).collect()
}

fn faults(saved: &str) -> Vec<(String, FaultCode)> {
    let problem = again(saved).unwrap_err();
    assert_eq!(problem.code, ProblemCode::InvalidRequest, "{problem:?}");
    problem.errors.into_iter().map(|fault| (fault.pointer.unwrap(), fault.code)).collect()
}

/// Without its last digits a number says something else, and the same spelled otherwise does not.
#[test]
fn verify_a_saved_answer_is_the_same_however_its_file_was_written() {
    for units in ["metric", "us"] {
        let saved = shares(units);
        let sorted = edited(&saved, |_| ());
        let indented = serde_json::to_string_pretty(&serde_json::from_str::<Value>(&saved).unwrap()).unwrap();
        for text in [saved.clone(), sorted, indented, without_points(&saved)] {
            let replay = replayed(&text);
            assert_eq!((replay.outcome, replay.result_same), (Outcome::Same, Some(true)), "{units}: {replay:?}");
            assert_eq!(replay.saved, replay.now.unwrap(), "{units}");
            for check in [&replay.saved_request_digest, &replay.saved_result_digest] {
                assert_eq!(check.status, DigestStatus::Holds, "{units}: {check:?}");
            }
            assert!(replay.why.is_empty() && replay.differences.is_empty() && replay.left_off == 0);
        }
    }
}

/// As a program writes it that knows one kind of number only: `212` for `212.0`.
fn without_points(saved: &str) -> String {
    fn drop_points(value: &mut Value) {
        match value {
            Value::Number(number) => {
                let whole = number.as_f64().filter(|value| value.fract() == 0.0);
                *value = whole.map_or_else(|| value.clone(), |whole| format!("{whole}").parse().unwrap());
            }
            Value::Array(items) => items.iter_mut().for_each(drop_points),
            Value::Object(fields) => fields.values_mut().for_each(drop_points),
            _ => {}
        }
    }
    let written = edited(saved, drop_points);
    assert_ne!(written.len(), saved.len());
    written
}

#[test]
fn verify_a_changed_number_is_found_where_it_is() {
    for units in ["metric", "us"] {
        let saved = shares(units);
        let text = edited(&saved, |answer| {
            let greatest = &mut answer["result"]["points"][1]["share"]["greatest"];
            let last_digit = f64::from_bits(greatest.as_f64().unwrap().to_bits() + 1);
            *greatest = json!(last_digit);
        });
        let replay = replayed(&text);
        assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(false)));
        assert_eq!(pointers(&replay), ["#/result/points/1/share/greatest"]);
        assert_ne!(replay.differences[0].saved, replay.differences[0].now);
        assert_eq!(replay.saved_result_digest.status, DigestStatus::DoesNotHold, "{units}");
        assert_eq!(codes(&replay), [ReasonCode::EditedResult]);
    }
}

#[test]
fn verify_an_edited_request_is_told() {
    let text = edited(&shares("metric"), |answer| answer["request"]["load_case"]["weight"]["value"] = json!(213));
    let replay = replayed(&text);
    assert_eq!(replay.saved_request_digest.status, DigestStatus::DoesNotHold);
    assert_eq!(replay.saved_result_digest.status, DigestStatus::Holds);
    assert!(pointers(&replay).contains(&"#/request_digest"), "{replay:?}");
    assert_eq!(codes(&replay), [ReasonCode::EditedRequest]);
    // Spelled otherwise it says the same: what differs is the text alone.
    let spelled = edited(&shares("metric"), |answer| {
        let weight = answer["request"]["load_case"]["weight"].clone();
        answer["request"]["load_case"]["weight"] =
            json!(format!("{} {}", weight["value"], weight["unit"].as_str().unwrap()));
    });
    let replay = replayed(&spelled);
    assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(true)));
    assert_eq!(pointers(&replay), ["#/request/load_case/weight"]);
    assert_eq!(replay.saved_request_digest.status, DigestStatus::Holds);
}

#[test]
fn verify_a_changed_verdict_is_told() {
    let text = edited(&shares("us"), |answer| {
        let status = &mut answer["verdict"]["status"];
        *status = json!(if status == "pass" { "caution" } else { "pass" });
        answer["cautions"].as_array_mut().unwrap().pop();
    });
    let replay = replayed(&text);
    assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(false)));
    assert_eq!(codes(&replay), [ReasonCode::EditedAnswer]);
    assert!(pointers(&replay).contains(&"#/verdict/status"), "{replay:?}");
}

#[test]
fn verify_an_older_answer_is_told_from_another_result() {
    let text = edited(&shares("metric"), |answer| answer["engine_version"] = json!("0.0.9"));
    let replay = replayed(&text);
    assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(true)));
    assert_eq!(pointers(&replay), ["#/engine_version"]);
    assert_eq!(codes(&replay), [ReasonCode::OtherEngineVersion]);
    assert!(replay.why[0].text.as_str().contains("saved 0.0.9"));
    // An older result that was saved honestly: its digest is that of what it holds, in metric units.
    let older = |units: &str| {
        let mut answer: Value = serde_json::from_str(&shares(units)).unwrap();
        answer["engine_version"] = json!("0.0.9");
        answer["result"]["points"][0]["share"]["least"] = json!(1.5);
        let digest = crate::sha256(answer["result"].to_string().as_bytes());
        answer["result_digest"] = json!(digest);
        replayed(&answer.to_string())
    };
    let metric = older("metric");
    assert_eq!(metric.saved_result_digest.status, DigestStatus::Holds, "{metric:?}");
    assert_eq!(codes(&metric), [ReasonCode::OtherEngineVersion]);
    // In other units it is not known, and not called good.
    let us = older("us");
    assert_eq!(us.saved_result_digest.status, DigestStatus::NotChecked);
    assert_eq!(us.result_same, Some(false));
}

#[test]
fn verify_a_result_that_nothing_explains_is_not_passed_over() {
    let text = edited(&shares("us"), |answer| {
        answer["result"]["points"][0]["share"]["least"] = json!(1.5);
        answer["result_digest"] = json!("sha256:00");
    });
    let replay = replayed(&text);
    assert_eq!(codes(&replay), [ReasonCode::NotExplained]);
    assert_eq!(replay.saved_result_digest.status, DigestStatus::NotChecked);
}

#[test]
fn verify_what_is_missing_or_unknown_is_a_difference() {
    let text = edited(&shares("metric"), |answer| {
        answer.as_object_mut().unwrap().remove("result_digest");
        answer["my_note"] = Value::Null;
        answer["result"]["points"].as_array_mut().unwrap().pop();
    });
    let replay = replayed(&text);
    assert_eq!(pointers(&replay)[0], "#/my_note");
    assert_eq!((&replay.differences[0].saved, &replay.differences[0].now), (&Some(Value::Null), &None));
    let last = replay.differences.last().unwrap();
    assert_eq!((last.pointer.as_str(), &last.saved), ("#/result_digest", &None));
    let popped = &replay.differences[1];
    assert!(
        popped.pointer.starts_with("#/result/points/") && popped.saved.is_none() && !popped.shortened,
        "{popped:?}"
    );
    // A `null` that was saved is still there when the replay itself is read.
    let written: Replay = serde_json::from_str(&serde_json::to_string(&replay).unwrap()).unwrap();
    assert_eq!(written, replay);
    // Only these two are needed.
    let bare = edited(&shares("metric"), |answer| {
        answer.as_object_mut().unwrap().retain(|name, _| ["operation", "request"].contains(&name.as_str()));
    });
    let replay = replayed(&bare);
    assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(false)));
    for check in [&replay.saved_request_digest, &replay.saved_result_digest] {
        assert_eq!(check.status, DigestStatus::NotChecked);
    }
}

#[test]
fn verify_differences_beyond_those_listed_are_counted() {
    let text = edited(&shares("metric"), |answer| answer["more"] = (0..1000).map(Value::from).collect());
    let replay = replayed(&text);
    assert_eq!(replay.differences.len(), 1);
    assert_eq!(replay.differences[0].saved, Some(json!("an array of 1000")));
    assert!(replay.differences[0].shortened);
    let text = edited(&shares("metric"), |answer| {
        answer["result"]["points"] = (0..1000).map(Value::from).collect();
    });
    let replay = replayed(&text);
    assert_eq!(replay.differences.len(), MOST_DIFFERENCES);
    assert_eq!(replay.left_off, 1000 - MOST_DIFFERENCES);
}

fn yard(name: &str, rams: &str) -> Catalogues {
    let toml = format!("name = \"{name}\"\ntitle = \"A yard\"\norigin = \"Invented.\"\ncurrency = \"EUR\"\n");
    let text = CatalogueText { name: name.into(), toml, rams: rams.into(), ..CatalogueText::default() };
    let mut catalogues = Catalogues::embedded().unwrap();
    catalogues.insert(parse_catalogue(&text).unwrap());
    catalogues
}

#[test]
fn verify_a_catalogue_that_changed_or_is_not_here_is_told() {
    let rams = include_str!("../../catalogues/demo_yard/rams.csv");
    let fewer: String = rams.split_inclusive('\n').take(4).collect();
    let (then, changed) = (yard("north_yard", rams), yard("north_yard", &fewer));
    let request = json!({ "catalogue": "north_yard", "load_case": {
        "weight": "60 t", "travel": "10 mm", "points": [{ "id": "1", "clearance": "400 mm" }, { "id": "2", "clearance": "400 mm" }],
    } });
    let prepared = Prepared::<SizeRamSet>::from_json(request.to_string().as_bytes(), &then).unwrap();
    let saved = prepared.compute(&never()).unwrap().to_json().unwrap();
    let on = |catalogues: &Catalogues| replay(&saved, catalogues, REQUEST_LIMIT, &never()).unwrap();
    assert_eq!(on(&then).outcome, Outcome::Same);
    let other = on(&changed);
    assert_eq!(other.outcome, Outcome::Differs);
    assert_eq!(codes(&other), [ReasonCode::OtherCatalogue]);
    assert_eq!(other.saved_result_digest.status, DigestStatus::Holds);
    assert!(pointers(&other).contains(&"#/catalogue/digest"));
    let gone = on(&Catalogues::embedded().unwrap());
    assert_eq!((gone.outcome, gone.result_same), (Outcome::Refused, None));
    assert_eq!(codes(&gone), [ReasonCode::CatalogueNotHere]);
    let problem = gone.problem.unwrap();
    assert_eq!(problem.errors[0].pointer.as_deref(), Some("#/request/catalogue"));
    assert!(gone.now.is_none() && gone.differences.is_empty());
}

#[test]
fn verify_a_request_that_is_refused_now_is_an_outcome() {
    let tips = edited(&shares("metric"), |answer| {
        answer["request"]["load_case"]["centre_of_gravity"]["x"] = json!({"value": 60.0, "unit": "m"});
    });
    let replay = replayed(&tips);
    assert_eq!(replay.outcome, Outcome::Refused);
    assert_eq!(replay.problem.unwrap().code, ProblemCode::NoEquilibrium);
    assert_eq!(replay.saved_request_digest.status, DigestStatus::NotChecked);
    let nonsense = replayed(r#"{"operation": "plan_lift", "request": {"x": 1}}"#);
    let problem = nonsense.problem.unwrap();
    assert_eq!((nonsense.outcome, problem.status), (Outcome::Refused, 400));
    assert_eq!(problem.errors[0].pointer.as_deref(), Some("#/request/x"));
    let large = super::replay(shares("metric").as_bytes(), &Catalogues::default(), 100, &never()).unwrap();
    assert_eq!(large.problem.unwrap().code, ProblemCode::PayloadTooLarge);
}

#[test]
fn verify_what_is_no_answer_is_a_problem_with_every_fault() {
    assert_eq!(faults("[]"), [("#".into(), FaultCode::WrongType)]);
    let missing = |name: &str| (format!("#/{name}"), FaultCode::MissingField);
    assert_eq!(faults("{}"), [missing("operation"), missing("request")]);
    let text = r#"{"verdict": [], "reqest": {}, "operation": "share_loads", "permalink": 1, "cautions": {}, "units": "metric", "a": [{"b": 1, "b": 1}]}"#;
    let problem = again(text).unwrap_err();
    assert_eq!(problem.status, 400);
    let told: Vec<_> = problem.errors.iter().map(|fault| (fault.pointer.as_deref().unwrap(), fault.code)).collect();
    assert_eq!(
        told,
        [
            ("#/verdict", FaultCode::WrongType),
            ("#/operation", FaultCode::UnknownValue),
            ("#/permalink", FaultCode::WrongType),
            ("#/cautions", FaultCode::WrongType),
            ("#/a/0/b", FaultCode::DuplicateField),
            ("#/request", FaultCode::MissingField),
        ]
    );
    assert_eq!(problem.errors[1].nearest.as_deref(), Some("share_load"));
    assert!(problem.errors[5].hint.as_ref().unwrap().contains("`reqest`"));
    let long = edited(&shares("metric"), |answer| answer["defaults"] = json!("x".repeat(LONGEST_SAVED_TEXT + 1)));
    assert_eq!(faults(&long), [("#/defaults".into(), FaultCode::TooLong)]);
    assert_eq!(again(&long).unwrap_err().status, 422);
}

#[test]
fn verify_an_answer_cut_short_anywhere_is_a_problem() {
    let saved = shares("metric");
    for length in (0..saved.len()).step_by(997) {
        let problem = again(saved.get(..length).unwrap_or_default()).unwrap_err();
        assert_eq!(problem.code, ProblemCode::MalformedJson, "{length}");
    }
}

/// Whatever value stands in place of another, there is an answer or a problem that is the sender's; and never `same`.
#[test]
fn verify_odd_values_anywhere_are_answered() {
    fn places(value: &Value, at: &str, found: &mut Vec<String>) {
        let mut inside = |name: String, member: &Value| {
            let place = format!("{at}/{name}");
            places(member, &place, found);
            found.push(place);
        };
        match value {
            Value::Object(members) => members.iter().for_each(|(name, member)| inside(name.clone(), member)),
            Value::Array(items) => items.iter().enumerate().for_each(|(index, item)| inside(index.to_string(), item)),
            _ => {}
        }
    }
    let saved: Value = serde_json::from_str(&shares("metric")).unwrap();
    let mut all = Vec::new();
    places(&saved, "", &mut all);
    let odd = [json!(1e308), Value::Null, json!([{}]), json!("\u{0}"), json!({"": []})];
    // Not every place, since that would take a minute.
    for (place, odd) in all.iter().step_by(11).zip(odd.iter().cycle()) {
        let mut answer = saved.clone();
        let there = answer.pointer_mut(place).unwrap();
        if there == odd {
            continue;
        }
        *there = odd.clone();
        match again(&answer.to_string()) {
            Ok(replay) => {
                // A field of the request that is null is one that was not sent.
                assert_ne!(replay.outcome, Outcome::Same, "{place} {odd}");
                assert_eq!(replay.differences.is_empty(), replay.outcome == Outcome::Refused, "{place} {odd}");
            }
            Err(problem) => assert!(problem.status < 500, "{place} {odd}: {problem:?}"),
        }
    }
}

#[test]
fn verify_hostile_sizes_end_soon() {
    let saved = shares("metric");
    let head = r#"{"operation":"share_load","request":{"load_case":{}},"#;
    let many = |item: &dyn Fn(usize) -> String| (0..200_000).map(item).collect::<Vec<_>>().join(",");
    let texts = [
        format!("{head}\"result\":{{{}}}}}", many(&|number| format!("\"a{number}\":1"))),
        format!("{head}\"result\":{{{}}}}}", many(&|_| "\"a\":1".to_owned())),
        format!("{head}\"cautions\":[{}]}}", many(&|_| "[]".to_owned())),
        format!(r#"{{"operation":"plan_lift","request":{{{}}}}}"#, many(&|number| format!("\"a{number}\":1"))),
        format!("{{{}}}", many(&|number| format!("\"a{number}\":1"))),
        edited(&saved, |answer| answer["verdict"]["status"] = json!("x".repeat(1_000_000))),
        format!(r#"{{"operation":"plan_lift","request":{}1{}}}"#, "{\"a\":".repeat(120), "}".repeat(120)),
    ];
    for text in texts {
        let begun = Instant::now();
        let size = match again(&text) {
            Ok(replay) => serde_json::to_string(&replay).unwrap().len(),
            Err(problem) => serde_json::to_string(&problem).unwrap().len(),
        };
        assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
        // Faults of the request are told one by one; all else is short.
        assert!(size < 100_000 || text.contains("plan_lift"), "{size}");
    }
    let deep = format!("{head}\"result\":{}{}}}", "[".repeat(200), "]".repeat(200));
    assert_eq!(again(&deep).unwrap_err().code, ProblemCode::MalformedJson);
}

#[test]
fn verify_a_stopped_replay_has_no_answer() {
    let request: Value = serde_json::from_str(include_str!("../../../../openapi/examples/transformer.json")).unwrap();
    let saved = answered::<PlanLift>(&request);
    let stopped =
        super::replay(saved.as_bytes(), &Catalogues::embedded().unwrap(), REQUEST_LIMIT, &AtomicBool::new(true));
    assert_eq!(stopped.unwrap_err().code, ProblemCode::CalculationTimeout);
}
