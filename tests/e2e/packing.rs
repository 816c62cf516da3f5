//! Packing lifts of every kind, asked of the running service.

use ramwright_tests::Service;
use serde_json::{Value, json};

const PATH: &str = "/v1/packing-lifts/sequence";

const TWO_LEVELS: &str = include_str!("../../openapi/examples/two_levels.json");
const END_BY_END: &str = include_str!("../../openapi/examples/end_by_end.json");
const LOWER: &str = include_str!("../../openapi/examples/lower_to_skids.json");

fn example(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

fn mm(quantity: &Value) -> f64 {
    assert_eq!(quantity["unit"], "mm");
    quantity["value"].as_f64().unwrap()
}

/// Soffits of the groups after each step, least and greatest, above the packing clearance at the start.
fn rises(result: &Value) -> Vec<Vec<(f64, f64)>> {
    let clearances: Vec<f64> =
        result["groups"].as_array().unwrap().iter().map(|group| mm(&group["packing_clearance"])).collect();
    let of_step = |step: &Value| {
        let at = step["at"].as_array().unwrap().iter().zip(&clearances);
        at.map(|(at, clearance)| {
            let soffit = &at["soffit"];
            (soffit["least"].as_f64().unwrap() - clearance, soffit["greatest"].as_f64().unwrap() - clearance)
        })
        .collect()
    };
    result["steps"].as_array().unwrap().iter().map(of_step).collect()
}

pub(crate) async fn verify_points_that_differ_go_up_level(service: &'static Service) {
    let body = example(TWO_LEVELS);
    let answer = service.post(PATH, &body).await.answer();
    let result = &answer["result"];
    assert_eq!(result["groups"].as_array().unwrap().len(), 2);
    for rises in rises(result) {
        let low = rises.iter().map(|rise| rise.0).fold(f64::INFINITY, f64::min);
        let high = rises.iter().map(|rise| rise.1).fold(f64::NEG_INFINITY, f64::max);
        assert!(high - low <= 8.0 + 0.01, "{rises:?}");
    }
    let kinds: Vec<&str> =
        result["steps"].as_array().unwrap().iter().map(|step| step["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds[..4], ["set_rams", "set_rams", "free_load", "prove_lift"]);
    // Without any difference allowed the groups stand in each other's way, or more packing lifts are needed.
    let mut strict = body.clone();
    strict["settings"]["level_tolerance"] = json!("0 mm");
    let strict = service.post(PATH, &strict).await.answer();
    let cycles = |answer: &Value| answer["result"]["cycles"].as_u64().unwrap_or(u64::MAX);
    assert!(cycles(&answer) <= cycles(&strict));
    assert_ne!(strict["verdict"]["status"], "pass");
}

pub(crate) async fn verify_ends_in_turn_take_half_the_rams(service: &'static Service) {
    let answer = service.post(PATH, &example(END_BY_END)).await.answer();
    let result = &answer["result"];
    assert_eq!((&result["rams"], &result["stacks"]), (&json!(2), &json!(4)));
    assert!(1 <= result["ram_moves"].as_u64().unwrap());
    for rises in rises(result) {
        assert!(rises[0].1 - rises[1].0 <= 35.0 + 0.01 && rises[1].1 - rises[0].0 <= 35.0 + 0.01, "{rises:?}");
    }
    let tilted = result["tilted"].as_array().unwrap();
    assert_eq!(tilted.len() as u64, result["cycles"].as_u64().unwrap());
    for state in tilted {
        let shares = state["shares"].as_array().unwrap();
        let expected: f64 = shares.iter().map(|share| share["share"]["expected"].as_f64().unwrap()).sum();
        // 52 t.
        assert!((expected - 52.0 * 9.806_65).abs() < 0.01 * expected, "{state:#}");
        assert!(mm(&state["difference"]).abs() <= 35.01 && state["ram_utilisation"].as_f64().unwrap() < 1.0);
    }
    let totals = &result["totals"];
    assert!(totals["pump_time"]["value"].as_f64().unwrap() < totals["duration"]["value"].as_f64().unwrap());
    // Without the height of the centre of gravity nobody knows how it leans.
    let mut flat = example(END_BY_END);
    flat["load_case"]["centre_of_gravity"].as_object_mut().unwrap().remove("z");
    let flat = service.post(PATH, &flat).await.answer();
    assert_eq!(flat["verdict"]["status"], "not_checked");
    assert!(flat["cautions"].to_string().contains("tilt_not_checked"));
    // As CSV: a line for each step and end.
    let reply = service.post(&format!("{PATH}?format=csv"), &example(END_BY_END)).await;
    let lines = reply.text().lines().count();
    assert_eq!(lines, 1 + 2 * result["steps"].as_array().unwrap().len());
}

/// What the rams of one end carry is no less for the other end standing on its stacks: on three points all of it is known.
pub(crate) async fn verify_rams_at_rest_take_nothing_off_the_least_pressure(service: &'static Service) {
    let mut body = example(END_BY_END);
    body["ram_set"]["everywhere"]["count"] = json!(2);
    let points = body["load_case"]["points"].as_array_mut().unwrap();
    points.pop();
    points[2]["y"] = json!("0.9 m");
    body["sequence"]["end_by_end"]["ends"][1] = json!(["idle-1"]);
    let answer = service.post(PATH, &body).await.answer();
    let steps = answer["result"]["steps"].as_array().unwrap().iter();
    let at = steps.flat_map(|step| step["at"].as_array().unwrap());
    let pressures = at.filter_map(|at| at["pressures"].as_array()).flatten();
    let least: Vec<f64> = pressures.map(|pressure| pressure["expected"]["least"].as_f64().unwrap()).collect();
    assert!(!least.is_empty() && least.iter().all(|pressure| 0.0 < *pressure), "{least:?}");
}

/// While one end is raised the other stands on its stacks, and the load turns about those.
pub(crate) async fn verify_a_load_turns_about_the_stacks_of_the_end_that_stands(service: &'static Service) {
    let mut body = example(END_BY_END);
    for (point, (x, y)) in [(2, (3.0, 0.0)), (3, (3.0, 1.8))] {
        body["load_case"]["points"][point]["packing_x"] = json!(format!("{x} m"));
        body["load_case"]["points"][point]["packing_y"] = json!(format!("{y} m"));
    }
    let answer = service.post(PATH, &body).await.answer();
    let tilted = answer["result"]["tilted"].as_array().unwrap().clone();
    assert!(!tilted.is_empty());
    for state in tilted {
        assert_eq!(state["slope"]["unit"], "deg");
        let span = if state["raised"][0] == "drive-1" { 3.0e3 } else { 4.2e3 };
        let slope = (mm(&state["difference"]) / span).abs().atan().to_degrees();
        assert!((state["slope"]["value"].as_f64().unwrap() - slope).abs() < 1e-3 * slope, "{slope}: {state:#}");
    }
    // A stack that stands off the line of its end would let the load turn about a corner.
    body["load_case"]["points"][3]["packing_x"] = json!("3.4 m");
    let found = service.post(PATH, &body).await.faults(422);
    assert!(found.contains(&("#/load_case/points".to_owned(), "inconsistent".to_owned())), "{found:?}");
}

/// Nothing is known of what a request names as the second support, and the answer says so.
pub(crate) async fn verify_a_second_support_is_not_taken_for_checked(service: &'static Service) {
    let mut body = example(END_BY_END);
    let said = |answer: &Value| answer["cautions"].to_string().contains("second_support_not_checked");
    assert!(!said(&service.post(PATH, &body).await.answer()));
    body["sequence"]["second_support"] = json!("the climbing frame");
    let answer = service.post(PATH, &body).await.answer();
    assert!(answer["result"]["steps"].to_string().contains("second_support"), "{answer:#}");
    assert!(said(&answer));
    // Rams with lock collars need none, and then it is not used; and crews that nobody stated are listed.
    let mut body = example(TWO_LEVELS);
    body["sequence"]["second_support"] = json!("the climbing frame");
    let answer = service.post(PATH, &body).await.answer();
    assert!(!said(&answer));
    let assumed = answer["assumptions"].as_array().unwrap();
    for field in ["sequence/second_support", "settings/handling/crews"] {
        assert!(assumed.iter().any(|assumption| assumption["field"] == field), "{field}: {assumed:#?}");
    }
}

pub(crate) async fn verify_a_load_comes_down_on_to_its_skids(service: &'static Service) {
    let body = example(LOWER);
    let answer = service.post(PATH, &body).await.answer();
    let result = &answer["result"];
    assert_eq!(result["ending"], "on_final_bearing");
    let last = result["steps"].as_array().unwrap().last().unwrap();
    assert_eq!((&last["kind"], last["pieces_in_use"].as_array().unwrap().len()), (&json!("take_out"), 0));
    let soffit = last["at"][0]["soffit"]["greatest"].as_f64().unwrap();
    assert!((soffit - 220.0).abs() < 0.01, "{soffit}");
    for step in result["steps"].as_array().unwrap() {
        if step["drop"].is_object() {
            assert!(mm(&step["drop"]) <= 25.0, "{step:#}");
        }
    }
    // A stack of another height than the clearance says.
    let mut other = body.clone();
    other["sequence"]["stands_on"][0]["count"] = json!(4);
    let other = service.post(PATH, &other).await.answer();
    assert_eq!(other["result"]["reason"]["code"], "stack_of_another_height");
    assert_eq!(other["verdict"]["status"], "fail");
}

pub(crate) async fn verify_what_is_wrong_with_a_way_is_said(service: &'static Service) {
    let faults = |base: &str, change: &dyn Fn(&mut Value)| {
        let mut body = example(base);
        change(&mut body);
        body
    };
    let cases = [
        (
            faults(END_BY_END, &|body| body["sequence"]["end_by_end"]["ends"][1] = json!(["idle-1"])),
            vec![("#/sequence/end_by_end/ends", "inconsistent")],
        ),
        (
            faults(END_BY_END, &|body| {
                body["sequence"]["end_by_end"]["ends"] =
                    json!([["drive-1", "drive-2", "drive-1"], ["idle-1", "idel-2", "idle-2"]]);
            }),
            vec![("#/sequence/end_by_end/ends/0/2", "duplicate_id"), ("#/sequence/end_by_end/ends/1/1", "unknown_id")],
        ),
        (
            faults(LOWER, &|body| {
                body["sequence"]["stands_on"][0]["piece"] = json!("slate-7");
                body["sequence"]["stands_on"][2]["piece"] = json!("slate-06");
            }),
            vec![("#/sequence/stands_on/0/piece", "unknown_id"), ("#/sequence/stands_on/2/piece", "duplicate_id")],
        ),
        (
            faults(LOWER, &|body| body["sequence"]["stands_on"][2]["count"] = json!(0)),
            vec![("#/sequence/stands_on/2/count", "out_of_range")],
        ),
        (
            faults(END_BY_END, &|body| {
                body["sequence"]["end_by_end"]["ends"] = json!([["drive-1", "idle-2"], ["drive-2", "idle-1"]]);
            }),
            vec![("#/load_case/points", "inconsistent")],
        ),
        (
            faults(LOWER, &|body| body["load_case"]["travel"] = json!("360 mm")),
            vec![("#/load_case/travel", "inconsistent")],
        ),
        (
            faults(LOWER, &|body| body["sequence"] = json!({"direction": "down"})),
            vec![("#/sequence/direction", "inconsistent")],
        ),
        (
            faults(LOWER, &|body| body["load_case"]["points"][0]["clearance"] = json!("361 mm")),
            vec![("#/load_case/points", "inconsistent")],
        ),
    ];
    for (body, expected) in cases {
        let expected: Vec<(String, String)> =
            expected.into_iter().map(|(pointer, code)| (pointer.to_owned(), code.to_owned())).collect();
        let found = service.post(PATH, &body).await.faults(422);
        for pair in expected {
            assert!(found.contains(&pair), "{pair:?} not in {found:?}");
        }
    }
}

/// The strength of stacks is minded where the request says what they stand between, and a weak kind is left out by name.
pub(crate) async fn verify_a_weak_piece_is_left_out(service: &'static Service) {
    let plan: Value = example(include_str!("../../openapi/examples/transformer.json"));
    let mut body = json!({
        "catalogue": plan["catalogue"],
        "load_case": plan["load_case"],
        "line_of_force": plan["line_of_force"],
        "ram_set": {"everywhere": {"ram": "hazel-07", "count": 1}},
        "settings": {"packing": ["slate-02", "slate-03", "slate-06", "slate-08", "oak-05"], "follow_up_gap": "25 mm"}
    });
    body["line_of_force"]["design_basis"] = json!({
        "rules": "custom",
        "allowable": {"timber_across_grain": "0.5 MPa", "steel_bearing": "220 MPa", "concrete_bearing": "40 MPa"}
    });
    let answer = service.post(PATH, &body).await.answer();
    let left_out = answer["result"]["left_out"].as_array().unwrap().clone();
    assert!(left_out.iter().any(|left| left["piece"] == "oak-05"), "{left_out:?}");
    // Nothing is known of its strength without the basis, and then only its load limit counts.
    body.as_object_mut().unwrap().remove("line_of_force");
    let answer = service.post(PATH, &body).await.answer();
    assert_ne!(answer["result"]["cycles"], Value::Null);
}
