//! The quick forms of shares, verification and packing lifts: the same answers as the calculations, and dialects of all.

use ramwright_api::problem::ProblemCode;
use ramwright_api::quick::{Enquiry, parameters_of};
use ramwright_tests::{Reply, Service};
use reqwest::Url;
use serde_json::{Value, json};

const SHARE: &str = "/v1/quick/load-share";
const VERIFY: &str = "/v1/quick/verification";
const PACKING: &str = "/v1/quick/packing-lifts";
const SEARCH: &str = "/v1/quick/ram-set";

const PLACED: [(&str, &str); 7] = [
    ("load", "64 t"),
    ("points", "4"),
    ("travel", "150 mm"),
    ("length", "3.6 m"),
    ("width", "1.9 m"),
    ("centre_x", "1.95 m"),
    ("centre_y", "0.88 m"),
];
const RAMS: [(&str, &str); 2] = [("clearance", "290 mm"), ("ram", "willow-01")];
/// Work in a machine frame, for which a search is answered at once.
const FAST: [(&str, &str); 6] = [
    ("duty", "press"),
    ("load", "500 kN"),
    ("points", "2"),
    ("travel", "60 mm"),
    ("clearance", "400 mm"),
    ("rams_per_point", "2"),
];

fn address(path: &str, parameters: &[&[(&str, &str)]]) -> String {
    let url = Url::parse_with_params(&format!("http://x{path}"), parameters.concat()).expect("an address");
    format!("{}?{}", url.path(), url.query().unwrap_or_default())
}

async fn get(service: &Service, path: &str, parameters: &[&[(&str, &str)]]) -> Reply {
    service.get(&address(path, parameters)).await
}

async fn value(service: &Service, path: &str, parameters: &[&[(&str, &str)]], name: &str) -> String {
    let reply = get(service, path, &[&parameters.concat(), &[("value", name)]]).await;
    assert_eq!((reply.status, reply.header("content-type")), (200, "text/plain; charset=utf-8"), "{}", reply.text());
    assert!(!reply.text().contains(['\n', '\r', '\u{feff}']));
    reply.text().to_owned()
}

fn request(with_rams: bool) -> Value {
    let places = [("0 m", "0 m"), ("3.6 m", "0 m"), ("3.6 m", "1.9 m"), ("0 m", "1.9 m")];
    let points = places.iter().zip(1..).map(|((x, y), number)| {
        let mut point = json!({"id": number.to_string(), "x": x, "y": y});
        if with_rams {
            point["clearance"] = json!("290 mm");
        }
        point
    });
    let mut body = json!({"load_case": {
        "weight": "64 t", "travel": "150 mm", "centre_of_gravity": {"x": "1.95 m", "y": "0.88 m"},
        "points": points.collect::<Vec<_>>()
    }});
    if with_rams {
        body["ram_set"] = json!({"everywhere": {"ram": "willow-01"}});
    }
    body
}

pub(crate) async fn verify_each_form_answers_as_its_calculation(service: &'static Service) {
    for (path, calculation, with_rams) in [
        (SHARE, "/v1/load-shares", false),
        (VERIFY, "/v1/ram-sets/verify", true),
        (PACKING, "/v1/packing-lifts/sequence", true),
    ] {
        let parameters: &[&[(&str, &str)]] = if with_rams { &[&PLACED, &RAMS] } else { &[&PLACED] };
        let posted = service.post(calculation, &request(with_rams)).await;
        let quick = get(service, path, &[&parameters.concat(), &[("format", "json")]]).await;
        assert_eq!(quick.answer(), posted.answer());
        let table = service.post(&format!("{calculation}?format=csv"), &request(with_rams)).await;
        assert_eq!(get(service, path, parameters).await.body, table.body);
        let permalink = value(service, path, parameters, "permalink").await;
        assert_eq!(service.get(&permalink).await.answer(), posted.answer());
        // A head computes nothing and says what the answer would.
        let asked = address(path, parameters);
        let head = service.send("HEAD", &asked, &[], Vec::new()).await;
        assert_eq!((head.status, head.body.len()), (200, 0));
        let tag = head.header("etag").to_owned();
        assert_eq!(service.get_with(&asked, &[("if-none-match", &tag)]).await.status, 304);
    }
}

pub(crate) async fn verify_each_form_describes_what_it_takes(service: &'static Service) {
    let shapes = ["format", "value", "errors", "decimal", "dialect"];
    for (path, enquiry, more) in [
        (SEARCH, Enquiry::RamSet, &[][..]),
        (SHARE, Enquiry::LoadShare, &["point"][..]),
        (VERIFY, Enquiry::Verification, &[]),
        (PACKING, Enquiry::PackingLifts, &[]),
    ] {
        let described = service.description.document["paths"][path]["get"]["parameters"].as_array().unwrap();
        let names: Vec<&str> = described.iter().map(|one| one["name"].as_str().unwrap()).collect();
        let known = parameters_of(enquiry).map(|parameter| parameter.name);
        assert_eq!(names, known.chain(shapes).chain(more.iter().copied()).collect::<Vec<_>>());
        // Each value that is described is answered.
        let value = described.iter().find(|one| one["name"] == "value").unwrap();
        for name in value["schema"]["enum"].as_array().unwrap() {
            let name = name.as_str().unwrap();
            let parameters: &[&[(&str, &str)]] = match enquiry {
                Enquiry::RamSet => &[&FAST],
                Enquiry::LoadShare => &[&PLACED],
                _ => &[&PLACED, &RAMS],
            };
            assert!(!self::value(service, path, parameters, name).await.is_empty(), "{path} {name}");
        }
    }
}

pub(crate) async fn verify_values_are_those_of_the_answer(service: &'static Service) {
    let shares = service.post("/v1/load-shares", &request(false)).await.answer();
    let points = shares["result"]["points"].as_array().unwrap();
    let greatest = |point: &Value| point["share"]["greatest"].as_f64().unwrap();
    let worst = points.iter().max_by(|a, b| greatest(a).total_cmp(&greatest(b))).unwrap();
    let number = |text: String| text.parse::<f64>().unwrap();
    assert_eq!(value(service, SHARE, &[&PLACED], "point").await, worst["point"].as_str().unwrap());
    for (name, point, of) in
        [("greatest", None, worst), ("least", Some("1"), &points[0]), ("expected", Some("3"), &points[2])]
    {
        let point: Vec<_> = point.map(|point| ("point", point)).into_iter().collect();
        let shown = number(value(service, SHARE, &[&PLACED, &point], name).await);
        assert!((shown - of["share"][name].as_f64().unwrap()).abs() < 1e-9, "{name}");
    }
    assert_eq!(value(service, SHARE, &[&PLACED], "unit").await, "kN");
    let verification = service.post("/v1/ram-sets/verify", &request(true)).await.answer();
    let verdict = &verification["verdict"];
    let all: &[&[(&str, &str)]] = &[&PLACED, &RAMS];
    assert_eq!(value(service, VERIFY, all, "verdict").await, verdict["status"].as_str().unwrap());
    assert_eq!(value(service, VERIFY, all, "governing_check").await, verdict["governing"]["check"].as_str().unwrap());
    assert_eq!(value(service, VERIFY, all, "failed").await, verdict["counts"]["fail"].to_string());
    assert_eq!(value(service, VERIFY, all, "not_checked").await, verdict["counts"]["not_checked"].to_string());
    let sequence = service.post("/v1/packing-lifts/sequence", &request(true)).await.answer();
    assert_eq!(value(service, PACKING, all, "lifts").await, sequence["result"]["cycles"].to_string());
    assert_eq!(value(service, PACKING, all, "outcome").await, sequence["result"]["outcome"].as_str().unwrap());
}

pub(crate) async fn verify_what_is_not_given_is_never_a_pass(service: &'static Service) {
    let bare = [("load", "40 t"), ("points", "4"), ("travel", "20 mm"), ("clearance", "290 mm"), ("ram", "willow-01")];
    assert_eq!(value(service, VERIFY, &[&bare], "verdict").await, "not_checked");
    let sentence = value(service, VERIFY, &[&bare], "answer").await;
    assert!(sentence.starts_with("not checked") && sentence.contains("equal shares are a guess"), "{sentence}");
    assert_ne!(value(service, PACKING, &[&bare], "verdict").await, "pass");
    assert!(value(service, PACKING, &[&bare], "answer").await.contains("equal shares are a guess"));
    assert_ne!(value(service, SHARE, &[&bare[..3]], "verdict").await, "pass");
    // Too heavy for the rams that are named.
    let heavy = [&[("load", "900 t")], &bare[1..]].concat();
    assert_eq!(value(service, VERIFY, &[&heavy], "verdict").await, "fail");
    assert!(1.0 < value(service, VERIFY, &[&heavy], "utilisation").await.parse::<f64>().unwrap());
    assert_ne!(value(service, VERIFY, &[&heavy], "would_pass").await, "");
}

pub(crate) async fn verify_points_may_be_listed(service: &'static Service) {
    let listed = [
        ("load", "64 t"),
        ("points", "4"),
        ("travel", "150 mm"),
        ("at", "0 m/0 m;3.6 m/0 m; 3.6 m/1.9 m ;0 m/1.9 m"),
        ("centre_x", "1.95 m"),
        ("centre_y", "0.88 m"),
    ];
    for name in ["least", "greatest", "point", "tipping_margin"] {
        let of_list = value(service, SHARE, &[&listed], name).await;
        assert_eq!(of_list, value(service, SHARE, &[&PLACED], name).await, "{name}");
    }
    let guessed = get(service, SHARE, &[&listed[..4], &[("format", "json")]]).await.answer();
    let centre = &guessed["request"]["load_case"]["centre_of_gravity"];
    assert_eq!(centre["guessed"], true);
    assert!((centre["x"]["value"].as_f64().unwrap() - 1.8).abs() < 1e-12, "{centre}");
    for (at, name, code) in [
        ("0 m/0 m;1 m/0 m", "at", "inconsistent"),
        ("0 m;1 m/0 m;1 m/1 m;0 m/1 m", "at", "not_a_quantity"),
        ("0 m/0;1 m/0 m;1 m/1 m;0 m/1 m", "at", "bare_number"),
    ] {
        let faults = get(service, SHARE, &[&listed[..3], &[("at", at)]]).await;
        let faults = faults.faults(faults.status);
        assert_eq!(faults, [(name.to_owned(), code.to_owned())], "{at}");
    }
    let both = get(service, SHARE, &[&listed, &[("length", "4 m")]]).await.faults(422);
    assert_eq!(both, [("length".to_owned(), "inconsistent".to_owned())]);
}

pub(crate) async fn verify_faults_of_each_form_are_at_their_parameters(service: &'static Service) {
    for (path, more, status, name, code) in [
        (SHARE, ("clearance", "290 mm"), 400, "clearance", "unknown_field"),
        (SHARE, ("point", "5"), 422, "point", "unknown_id"),
        (SHARE, ("point", "x"), 400, "point", "wrong_type"),
        (SHARE, ("value", "ram"), 400, "value", "unknown_value"),
        (VERIFY, ("count", "99"), 422, "count", "out_of_range"),
        (VERIFY, ("count", "two"), 400, "count", "wrong_type"),
        (VERIFY, ("rams_per_point", "2"), 400, "rams_per_point", "unknown_field"),
        (PACKING, ("packing", "slate-02 slate-99"), 422, "packing", "unknown_id"),
        (PACKING, ("limit", "1 kN"), 400, "limit", "unknown_field"),
        (PACKING, ("decimal", "coma"), 400, "decimal", "unknown_value"),
    ] {
        let parameters: &[&[(&str, &str)]] = if path == SHARE { &[&PLACED] } else { &[&PLACED, &RAMS] };
        let reply = get(service, path, &[&parameters.concat(), &[more]]).await;
        assert_eq!(reply.faults(status), [(name.to_owned(), code.to_owned())], "{path} {more:?}");
    }
    let unknown = [RAMS[0], ("ram", "wilow-01")];
    let faults = get(service, VERIFY, &[&PLACED, &unknown]).await;
    assert_eq!(faults.faults(422), [("ram".to_owned(), "unknown_id".to_owned())]);
    let missing = get(service, VERIFY, &[]).await.faults(400);
    let names: Vec<&str> = missing.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["load", "points", "travel", "ram", "clearance"]);
    let line = get(service, VERIFY, &[&PLACED, &unknown, &[("errors", "cell")]]).await;
    assert!(line.status == 200 && line.text().starts_with("#ERROR ram: "), "{}", line.text());
    get(service, PACKING, &[&PLACED, &RAMS, &[("format", "pdf")]]).await.problem(406, ProblemCode::NotAcceptable);
}

pub(crate) async fn verify_decimal_commas_go_in_and_out(service: &'static Service) {
    let comma = ("decimal", "comma");
    let pointed = value(service, SEARCH, &[&FAST, &[("capacity_limit", "0.75")]], "utilisation").await;
    let commas = [("capacity_limit", "0,75"), comma];
    assert!(pointed.contains('.'));
    assert_eq!(value(service, SEARCH, &[&FAST, &commas], "utilisation").await, pointed.replace('.', ","));
    // A sentence is words, and stays.
    let sentence = value(service, SEARCH, &[&FAST, &commas], "answer").await;
    assert_eq!(sentence, value(service, SEARCH, &[&FAST, &[("capacity_limit", "0.75")]], "answer").await);
    let mixed = get(service, SEARCH, &[&FAST, &[("capacity_limit", "0.75"), comma]]).await.faults(422);
    assert_eq!(mixed, [("capacity_limit".to_owned(), "inconsistent".to_owned())]);
    let table = get(service, SEARCH, &[&FAST]).await;
    let semicolons = get(service, SEARCH, &[&FAST, &[comma]]).await;
    let cells = |text: &str, separator: u8| -> Vec<Vec<String>> {
        let mut reader = csv::ReaderBuilder::new().delimiter(separator).has_headers(false).from_reader(text.as_bytes());
        reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
    };
    let (one, other) = (cells(table.text(), b','), cells(semicolons.text(), b';'));
    assert_eq!((one.len(), one[0].len()), (other.len(), other[0].len()));
    let mut changed = 0;
    for (a, b) in one.iter().flatten().zip(other.iter().flatten()) {
        let is_number = a.contains('.') && a.parse::<f64>().is_ok();
        let wanted = if is_number { a.replace('.', ",") } else { a.clone() };
        assert_eq!(*b, wanted);
        changed += usize::from(is_number);
    }
    assert!(5 < changed);
    let json = get(service, SEARCH, &[&FAST, &commas, &[("format", "json")]]).await.answer();
    assert_eq!(json["request"]["settings"]["capacity_limit"], 0.75);
}

pub(crate) async fn verify_the_plain_dialect_can_be_split(service: &'static Service) {
    let parameters = [&PLACED[..], &RAMS].concat();
    let plain = get(service, PACKING, &[&parameters, &[("dialect", "plain")]]).await;
    let text = plain.text();
    assert!(text.is_ascii() && !text.contains('"') && text.ends_with("\r\n"));
    let lines: Vec<&str> = text.trim_end().split("\r\n").collect();
    let width = lines[0].split(',').count();
    assert!(1 < lines.len() && lines.iter().all(|line| line.split(',').count() == width));
    let full = get(service, PACKING, &[&parameters]).await;
    assert!(full.text().contains('"'), "the full table has what the plain one may not");
    let json = get(service, PACKING, &[&parameters, &[("dialect", "plain"), ("format", "json")]]).await.faults(422);
    assert_eq!(json, [("dialect".to_owned(), "inconsistent".to_owned())]);
    let sentence = value(service, PACKING, &[&parameters, &[("dialect", "plain")]], "answer").await;
    assert!(sentence.is_ascii() && !sentence.contains(','), "{sentence}");
}
