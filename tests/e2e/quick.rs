//! The quick form of the search for ram sets: the same answers as the search, by plain parameters.

use std::collections::BTreeMap;

use ramwright_api::problem::ProblemCode;
use ramwright_client::{Client, ClientError};
use ramwright_tests::{Reply, Service};
use reqwest::Url;
use serde_json::{Value, json};

const SEARCH: &str = "/v1/ram-sets/size";

/// A lift that is answered fast: one stroke must do.
const LIFT: [(&str, &str); 6] = [
    ("load", "96 t"),
    ("points", "4"),
    ("travel", "60 mm"),
    ("clearance", "290 mm"),
    ("packing_lifts", "not_allowed"),
    ("rams_per_point", "2"),
];

/// Everything else that the search asks of it.
const COMPLETE: [(&str, &str); 11] = [
    ("length", "3.6 m"),
    ("width", "2.1 m"),
    ("centre_x", "1.7 m"),
    ("centre_y", "1.1 m"),
    ("centre_z", "1.4 m"),
    ("centre_tolerance", "50 mm"),
    ("pad_length", "600 mm"),
    ("pad_width", "500 mm"),
    ("base", "concrete"),
    ("limit", "1500 kN"),
    ("foundation_limit", "1600 kN"),
];

/// Work in a machine frame, which is answered at once.
const PRESS: [(&str, &str); 6] = [
    ("duty", "press"),
    ("load", "500 kN"),
    ("points", "2"),
    ("travel", "60 mm"),
    ("clearance", "400 mm"),
    ("rams_per_point", "2"),
];

/// Everything else that the search asks of it.
const FRAME: [(&str, &str); 5] = [
    ("pad_length", "600 mm"),
    ("pad_width", "500 mm"),
    ("base", "concrete"),
    ("limit", "1500 kN"),
    ("foundation_limit", "1600 kN"),
];

/// The address with these parameters, encoded.
fn address(parameters: &[(&str, &str)]) -> String {
    let url = Url::parse_with_params("http://x/v1/quick/ram-set", parameters).expect("an address");
    format!("{}?{}", url.path(), url.query().unwrap_or_default())
}

/// Parameters with more of them; one that is there already is replaced.
fn with<'a>(some: &[(&'a str, &'a str)], more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let stays = |(name, _): &&(&str, &str)| !more.iter().any(|(other, _)| other == name);
    some.iter().filter(stays).chain(more).copied().collect()
}

async fn get(service: &Service, more: &[(&str, &str)]) -> Reply {
    service.get(&address(&with(&LIFT, more))).await
}

async fn press(service: &Service, more: &[(&str, &str)]) -> Reply {
    service.get(&address(&with(&PRESS, more))).await
}

/// One value of the lift's answer.
async fn value(service: &Service, more: &[(&str, &str)], name: &str) -> String {
    text(&get(service, &[more, &[("value", name)]].concat()).await)
}

/// The text of a value.
fn text(reply: &Reply) -> String {
    assert_eq!((reply.status, reply.header("content-type")), (200, "text/plain; charset=utf-8"), "{}", reply.text());
    assert!(!reply.text().contains(['\n', '\r', '\u{feff}']), "{:?}", reply.text());
    reply.text().to_owned()
}

/// What the search is sent for [`LIFT`], written by hand.
fn request() -> Value {
    let point = |id: &str| json!({"id": id, "clearance": "290 mm"});
    json!({
        "load_case": {"weight": "96 t", "travel": "60 mm", "points": [point("1"), point("2"), point("3"), point("4")]},
        "settings": {"packing_lifts": "not_allowed", "rams_per_point": 2},
    })
}

/// The same with [`COMPLETE`].
fn complete_request() -> Value {
    let mut body = request();
    let places = [("0 m", "0 m"), ("3.6 m", "0 m"), ("3.6 m", "2.1 m"), ("0 m", "2.1 m")];
    for (point, (x, y)) in body["load_case"]["points"].as_array_mut().unwrap().iter_mut().zip(places) {
        let more = json!({
            "x": x, "y": y, "pad": {"length": "600 mm", "width": "500 mm"}, "base": "concrete", "limit": "1500 kN",
            "foundation_limit": "1600 kN"
        });
        point.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    }
    body["load_case"]["centre_of_gravity"] = json!({"x": "1.7 m", "y": "1.1 m", "z": "1.4 m", "tolerance": "50 mm"});
    body
}

/// Work in a frame with all that the quick form can say of it.
fn press_request() -> Value {
    let point = |id: &str| {
        json!({
            "id": id, "clearance": "400 mm", "stated_reaction": {"expected": "500 kN"}, "base": "concrete",
            "pad": {"length": "600 mm", "width": "500 mm"}, "limit": "1500 kN", "foundation_limit": "1600 kN"
        })
    };
    json!({
        "title": "Invented: 50 % & more", "units": "us", "catalogue": "demo_yard",
        "load_case": {
            "task": "press", "weight_tolerance": 0.07, "origin": "weighed", "travel": "60 mm",
            "points": [point("1"), point("2")]
        },
        "settings": {
            "capacity_limit": 0.75, "stroke_limit": 0.7, "rams_per_point": 2, "level_tolerance": "4 mm",
            "packing_lifts": "allowed"
        },
        "price": {"hire_days": 3},
    })
}

/// What [`press_request`] has more than [`PRESS`] and [`FRAME`].
const REST: [(&str, &str); 10] = [
    ("title", "Invented: 50 % & more"),
    ("units", "us"),
    ("catalogue", "demo_yard"),
    ("weight_tolerance", "0.07"),
    ("origin", "weighed"),
    ("capacity_limit", "0.75"),
    ("stroke_limit", "0.7"),
    ("level_tolerance", "4 mm"),
    ("packing_lifts", "allowed"),
    ("hire_days", "3"),
];

pub(crate) async fn verify_the_answer_is_that_of_the_search(service: &'static Service) {
    for (parameters, body) in [
        (LIFT.to_vec(), request()),
        (with(&LIFT, &COMPLETE), complete_request()),
        ([&PRESS[..], &FRAME, &REST].concat(), press_request()),
    ] {
        let posted = service.post(SEARCH, &body).await;
        let json = service.get(&address(&with(&parameters, &[("format", "json")]))).await;
        assert_eq!(json.answer(), posted.answer());
        assert_eq!(json.body, posted.body);
        let table = service.post(&format!("{SEARCH}?format=csv"), &body).await;
        let quick = service.get(&address(&parameters)).await;
        assert_eq!((quick.media_type().as_str(), &quick.body), ("text/csv", &table.body));
    }
}

pub(crate) async fn verify_each_parameter_is_described_with_an_example(service: &'static Service) {
    let described = &service.description.document["paths"]["/v1/quick/ram-set"]["get"]["parameters"];
    let described = described.as_array().unwrap();
    let names: Vec<&str> = described.iter().map(|parameter| parameter["name"].as_str().unwrap()).collect();
    assert!(30 < names.len());
    for parameter in described {
        let texts = ["description", "example"].map(|text| parameter[text].is_null());
        assert_eq!(texts, [false, false], "{parameter}");
    }
}

pub(crate) async fn verify_a_guessed_centre_is_never_a_pass(service: &'static Service) {
    // Nothing is said of what stands over and under the rams, so that much is open in either case.
    assert_eq!(value(service, &COMPLETE, "verdict").await, "not_checked");
    assert!(!value(service, &COMPLETE, "answer").await.contains("guess"));
    let known = |name: &str| ["centre_x", "centre_y"].contains(&name);
    let guessed: Vec<_> = COMPLETE.into_iter().filter(|(name, _)| !known(name)).collect();
    let sentence = value(service, &guessed, "answer").await;
    assert!(sentence.contains("centre of gravity is a guess, not checked ("), "{sentence}");
    let answer = get(service, &[&guessed[..], &[("format", "json")]].concat()).await.answer();
    let has = |list: &str, key: &str, name: &str| answer[list].as_array().unwrap().iter().any(|one| one[key] == name);
    assert!(has("cautions", "code", "guessed_centre") && has("assumptions", "field", "load_case/centre_of_gravity"));
    let checks = answer["result"]["options"][0]["checks"].as_array().unwrap();
    let tolerances = checks.iter().find(|check| check["id"] == "tolerances").unwrap();
    assert_eq!(tolerances["status"], "caution");
    // The permalink says so too.
    let again = service.get(answer["permalink"].as_str().unwrap()).await.answer();
    assert_eq!(again, answer);
}

/// Every value that the description names.
fn values_described(service: &'static Service) -> impl Iterator<Item = &'static str> {
    let parameters = &service.description.document["paths"]["/v1/quick/ram-set"]["get"]["parameters"];
    let value = parameters.as_array().unwrap().iter().find(|parameter| parameter["name"] == "value").unwrap();
    value["schema"]["enum"].as_array().unwrap().iter().map(|name| name.as_str().unwrap())
}

pub(crate) async fn verify_each_value_is_that_of_the_recommended_set(service: &'static Service) {
    for units in ["metric", "us"] {
        let all = [&FRAME[..], &[("units", units)]].concat();
        let answer = press(service, &with(&all, &[("format", "json")])).await.answer();
        let best = &answer["result"]["options"][0];
        assert_eq!(best["recommended"], true);
        let (rams, each) = (&best["rams"], &best["at_points"][0]["count"]);
        let ram = best["models"][0]["ram"].as_str().unwrap();
        let mut values = BTreeMap::new();
        for name in values_described(service) {
            values.insert(name, text(&press(service, &with(&all, &[("value", name)])).await));
        }
        assert_eq!(values.len(), 15);
        let number = |name: &str| values[name].parse::<f64>().unwrap();
        let close = |a: f64, b: &Value| (a - b.as_f64().unwrap()).abs() <= 1e-9 * a;
        assert!(close(number("mass"), &best["mass"]["value"]) && close(number("hire"), &best["hire"]["amount"]));
        let shown = values["utilisation"].clone();
        assert_eq!(shown.split_once('.').unwrap().1.len(), 3, "{shown}");
        assert!((0.0..0.001).contains(&(number("utilisation") - best["utilisation"].as_f64().unwrap())), "{shown}");
        let sentence = format!("{rams} x {ram}, {each} at each of 2 points, utilisation {shown}, not checked (stress)");
        let governing = &best["verdict"]["governing"]["check"];
        for (name, wanted) in [
            ("ram", ram.to_owned()),
            ("rams", rams.to_string()),
            ("rams_per_point", each.to_string()),
            // How far off the axis the force bears has no place in the address, so that the stress stays open.
            ("verdict", "not_checked".to_owned()),
            // In a frame there are none to count.
            ("packing_lifts", "unknown".to_owned()),
            ("governing_check", governing.as_str().unwrap().to_owned()),
            ("permalink", answer["permalink"].as_str().unwrap().to_owned()),
            ("answer", sentence.clone()),
        ] {
            assert_eq!(values[name], wanted, "{name}");
        }
        assert_eq!(text(&press(service, &with(&all, &[("format", "text")])).await), sentence);
    }
    assert_eq!(value(service, &COMPLETE, "packing_lifts").await, "1");
    let sentence = value(service, &COMPLETE, "answer").await;
    assert!(sentence.contains(" at each of 4 points, 1 packing lift, utilisation "), "{sentence}");
}

pub(crate) async fn verify_where_nothing_fits_the_values_say_so(service: &'static Service) {
    let heavy = [("load", "90 MN")];
    for name in ["ram", "rams", "rams_per_point", "utilisation", "packing_lifts", "mass", "hire", "governing_check"] {
        assert_eq!(text(&press(service, &[heavy[0], ("value", name)]).await), "none", "{name}");
    }
    assert_eq!(text(&press(service, &[heavy[0], ("value", "verdict")]).await), "fail");
    let answer = press(service, &[heavy[0], ("format", "json")]).await.answer();
    let refusal = &answer["result"]["refusals"][0];
    let sentence = text(&press(service, &[heavy[0], ("value", "answer")]).await);
    assert!(sentence.starts_with("none: no ram set fits; capacity refuses "), "{sentence}");
    assert!(sentence.ends_with(refusal["nearest"]["would_pass"].as_str().unwrap()), "{sentence}");
    assert!(sentence.contains(refusal["nearest"]["ram"].as_str().unwrap()), "{sentence}");
    // Two points in a line hold nothing across it, whatever the rams are.
    let tips = [("points", "2"), ("length", "4 m"), ("value", "answer")];
    assert_eq!(text(&get(service, &tips).await), "none: the load fails the check of tipping whatever the rams are");
}

pub(crate) async fn verify_equal_shares_are_called_a_guess(service: &'static Service) {
    assert!(value(service, &[], "answer").await.contains("equal shares are a guess, not checked (tipping)"));
    let codes = get(service, &[("format", "json")]).await.answer();
    assert!(codes["cautions"].as_array().unwrap().iter().any(|caution| caution["code"] == "equal_shares"));
}

pub(crate) async fn verify_faults_are_at_their_parameters(service: &'static Service) {
    let placed = [("length", "4 m"), ("width", "3 m")];
    for (more, status, wanted) in [
        (&[("load", "212 ton")][..], 400, &[("load", "ambiguous_unit")][..]),
        (&[("load", "212")], 400, &[("load", "bare_number")]),
        (&[("load", "212 t"), ("duty", "press"), ("travel", "x")], 400, &[("travel", "not_a_quantity")]),
        (&[("points", "four")], 400, &[("points", "wrong_type")]),
        (&[("points", "4.5")], 400, &[("points", "wrong_type")]),
        (&[("points", "0")], 422, &[("points", "out_of_range")]),
        (&[("points", "201")], 422, &[("points", "out_of_range")]),
        (&[("clearance", "0 mm")], 422, &[("clearance", "out_of_range")]),
        (&[("clearance", "")], 400, &[("clearance", "not_a_quantity")]),
        (&[("duty", "lift")], 400, &[("duty", "unknown_value")]),
        (&[("weight_tolerance", "nan")], 400, &[("weight_tolerance", "wrong_type")]),
        (&[("capacity_limit", "0,8")], 400, &[("capacity_limit", "wrong_type")]),
        (&[("rams_per_point", "99")], 422, &[("rams_per_point", "out_of_range")]),
        (&[("packing_lifts", "alowed")], 400, &[("packing_lifts", "unknown_value")]),
        (&[("catalogue", "demo_yrd")], 422, &[("catalogue", "unknown_id")]),
        (&[("units", "imperial")], 400, &[("units", "unknown_value")]),
        (&[("title", "a\tb")], 400, &[("title", "unknown_value")]),
        (&[("pad_length", "1 m")], 422, &[("pad_width", "inconsistent")]),
        (&[("length", "4 m")], 422, &[("width", "inconsistent")]),
        (&[("points", "2"), placed[0], placed[1]], 422, &[("width", "inconsistent")]),
        (&[("points", "5"), placed[0], placed[1]], 422, &[("points", "inconsistent")]),
        (&[("length", "0 m"), placed[1]], 422, &[("length", "out_of_range")]),
        (&[("length", "4 bar"), placed[1], ("support_stiffness", "80 kN/mm")], 400, &[("length", "wrong_dimension")]),
        (&[("centre_x", "1 m")], 422, &[("centre_x", "inconsistent")]),
        (&[placed[0], placed[1], ("centre_x", "1 m")], 422, &[("centre_y", "inconsistent")]),
        (&[("duty", "press"), ("load", "9 kN"), placed[0]], 422, &[("length", "inconsistent")]),
        (&[("horizontal_share", "0.1"), ("horizontal_force", "1 kN")], 422, &[("horizontal_force", "inconsistent")]),
        (&[("support_stiffness", "80 kN/mm")], 422, &[("support_stiffness", "inconsistent")]),
        (&[("value", "rom")], 400, &[("value", "unknown_value")]),
        (&[("errors", "sell")], 400, &[("errors", "unknown_value")]),
        (&[("format", "jsn")], 400, &[("format", "unknown_value")]),
        (&[("value", "ram"), ("format", "csv")], 422, &[("format", "inconsistent")]),
        (&[("laod", "1 t")], 400, &[("laod", "unknown_field")]),
    ] {
        let wanted: Vec<_> = wanted.iter().map(|(name, code)| ((*name).to_owned(), (*code).to_owned())).collect();
        assert_eq!(get(service, more).await.faults(status), wanted, "{more:?}");
    }
    let twice = service.get(&format!("{}&load=1+t", address(&LIFT))).await;
    assert_eq!(twice.faults(400), [("load".to_owned(), "duplicate_field".to_owned())]);
    let missing = service.get("/v1/quick/ram-set").await.faults(400);
    let names: Vec<&str> = missing.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["load", "points", "travel", "clearance"]);
    get(service, &[("format", "pdf")]).await.problem(406, ProblemCode::NotAcceptable);
    let outside = [placed[0], placed[1], ("centre_x", "9 m"), ("centre_y", "1 m")];
    get(service, &outside).await.problem(422, ProblemCode::NoEquilibrium);
}

pub(crate) async fn verify_a_cell_shows_what_is_wrong(service: &'static Service) {
    let cell = ("errors", "cell");
    for (more, line) in [
        (&[("load", "212"), cell][..], "#ERROR load: `212` has no unit. a number and a unit, such as \"0.001 kN\"."),
        (&[("laod", "1 t"), cell], "#ERROR laod: There is no parameter \"laod\" here. did you mean `load`?"),
        (&[("points", "x"), ("units", "y"), cell], "#ERROR points: a whole number is wanted here. (1 of 2 faults)"),
        (
            &[("value", "ram"), ("format", "json"), cell],
            "#ERROR format: one value is answered as text only. leave format out, or leave value out.",
        ),
        (&[("format", "pdf"), cell], "#ERROR: This answer exists as csv, json, text only."),
    ] {
        let reply = press(service, more).await;
        let head = (reply.status, reply.header("content-type"), reply.header("cache-control"));
        assert_eq!(head, (200, "text/plain; charset=utf-8", "no-store"), "{more:?}");
        assert_eq!(reply.text(), line);
        assert!(!reply.header("problem-code").is_empty() && reply.header("etag").is_empty());
    }
    // What is right is answered as ever, and elsewhere there are no cells.
    let rams = [("value", "rams"), cell];
    assert_eq!(text(&press(service, &rams).await), text(&press(service, &rams[..1]).await));
    assert_eq!(service.get("/v1/units?errors=cell").await.status, 400);
    let put = service.send("PUT", &address(&with(&PRESS, &[cell])), &[], Vec::new()).await;
    put.problem(405, ProblemCode::MethodNotAllowed);
}

pub(crate) async fn verify_the_header_chooses_where_no_parameter_does(service: &'static Service) {
    for (more, accept, media_type) in [
        (&[][..], "*/*", "text/csv"),
        (&[], "application/json", "application/json"),
        (&[], "text/plain", "text/plain"),
        (&[("value", "ram")], "*/*", "text/plain"),
        (&[("value", "ram")], "text/*", "text/plain"),
        (&[("format", "json")], "text/csv", "application/json"),
    ] {
        let reply = service.get_with(&address(&with(&PRESS, more)), &[("accept", accept)]).await;
        assert_eq!((reply.status, reply.media_type().as_str()), (200, media_type), "{more:?} {accept}");
        assert!(reply.lists("vary", "accept"));
    }
    let json = [("accept", "application/json")];
    let refused = service.get_with(&address(&with(&PRESS, &[("value", "ram")])), &json).await;
    refused.problem(406, ProblemCode::NotAcceptable);
}

pub(crate) async fn verify_head_and_known_answers_compute_nothing(service: &'static Service) {
    let path = address(&with(&PRESS, &[("value", "ram")]));
    let got = service.get(&path).await;
    let head = service.send("HEAD", &path, &[], Vec::new()).await;
    assert_eq!((head.status, head.body.len()), (200, 0));
    for name in ["content-type", "etag", "cache-control", "vary"] {
        assert_eq!(head.header(name), got.header(name), "{name}");
    }
    let tag = got.header("etag");
    assert!(tag.starts_with("W/\""), "{tag}");
    assert_eq!(got.header("cache-control"), "private, no-cache");
    let again = service.get_with(&path, &[("if-none-match", tag)]).await;
    assert_eq!((again.status, again.body.len(), again.header("etag")), (304, 0, tag));
    // Another value, another load and another format are other answers.
    for more in [&[("value", "rams")][..], &[("value", "ram"), ("load", "450 kN")], &[]] {
        let other = service.get_with(&address(&with(&PRESS, more)), &[("if-none-match", tag)]).await;
        assert_eq!(other.status, 200, "{more:?}");
        assert_ne!(other.header("etag"), tag);
    }
    for (more, status) in [(&[("load", "95")][..], 400), (&[("load", "95"), ("errors", "cell")], 200)] {
        let bad = service.send("HEAD", &address(&with(&PRESS, more)), &[], Vec::new()).await;
        assert_eq!((bad.status, bad.header("problem-code"), bad.body.len()), (status, "invalid_request", 0));
    }
    // A load that tips is found by computing only.
    let outside = [
        ("duty", "raise"),
        ("points", "4"),
        ("load", "96 t"),
        ("length", "4 m"),
        ("width", "3 m"),
        ("centre_x", "9 m"),
        ("centre_y", "1 m"),
    ];
    assert_eq!(service.send("HEAD", &address(&with(&PRESS, &outside)), &[], Vec::new()).await.status, 200);
}

pub(crate) async fn verify_the_typed_client_asks_by_parameters(service: &'static Service) {
    let client = Client::new(&service.base_url()).unwrap();
    let answer = client.quick_ram_set(&PRESS).await.unwrap();
    let raw = press(service, &[("format", "json")]).await.answer();
    assert_eq!(answer.result_digest, raw["result_digest"]);
    let refused = client.quick_ram_set(&PRESS[2..]).await.unwrap_err();
    let ClientError::Problem(problem) = refused else { panic!("{refused}") };
    assert_eq!(problem.errors[0].parameter.as_deref(), Some("load"));
}

/// The README shows what the service answers.
pub(crate) async fn verify_the_readme_shows_real_cells(service: &'static Service) {
    let section = include_str!("../../README.md").split("### In a cell of a spreadsheet").nth(1).expect("the section");
    let section = section.split("\n### ").next().unwrap();
    let mut shown = 0;
    for block in section.split("```sh\ncurl -s 'http://127.0.0.1:8080").skip(1) {
        let (path, rest) = block.split_once('\'').unwrap();
        let text = rest.split("```text\n").nth(1).unwrap().split("\n```").next().unwrap();
        assert_eq!(service.get(path).await.text(), text, "{path}");
        shown += 1;
    }
    assert_eq!(shown, 2);
}
