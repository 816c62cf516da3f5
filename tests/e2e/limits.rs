//! The limits that the service lists are those of the schema, and those that it keeps.

use std::collections::BTreeMap;

use ramwright_api::problem::ProblemCode;
use ramwright_server::Config;
use ramwright_tests::places::{body_with, places};
use ramwright_tests::{Service, examples};
use ramwright_units::{UNITS, by_symbol, in_unit};
use serde_json::{Value, json};

pub(crate) async fn verify_the_limits_are_those_of_the_schema(service: &'static Service) {
    let limits = service.get("/v1/limits").await.answer();
    let schemas = service.description.document["components"]["schemas"].as_object().unwrap();
    let schema = |name: &str| service.description.schema(name);
    let listed = |list: &str| -> BTreeMap<String, Value> {
        let entries = limits[list].as_array().unwrap().iter();
        entries.map(|entry| (entry["name"].as_str().unwrap().to_owned(), entry.clone())).collect()
    };
    let (quantities, numbers) = (listed("quantities"), listed("numbers"));
    for (name, schema) in schemas {
        if let (Some(kind), Some(range)) = (name.strip_suffix("Quantity"), schema.get("x-range")) {
            let entry = quantities.get(kind).unwrap_or_else(|| panic!("{kind} is not listed"));
            for part in ["least", "greatest"] {
                assert!(same(&entry[part], &range[part]), "{kind}: {entry} and {range}");
            }
            assert_eq!(entry["unit"], range["unit"], "{kind}");
        }
        if let Some(kind) = name.strip_suffix("Number") {
            let entry = numbers.get(kind).unwrap_or_else(|| panic!("{kind} is not listed"));
            assert!(same(&entry["least"], &schema["minimum"]), "{kind}");
            assert!(same(&entry["greatest"], &schema["maximum"]), "{kind}");
        }
    }
    for kind in quantities.keys() {
        assert!(schemas.contains_key(&format!("{kind}Quantity")), "{kind} is listed but nothing takes it");
    }
    for kind in numbers.keys() {
        assert!(schemas.contains_key(&format!("{kind}Number")), "{kind} is listed but nothing takes it");
    }
    assert_eq!(limits["points"], schema("PointSentList")["maxItems"]);
    assert_eq!(limits["site_readings"], schema("SiteReadingSentList")["maxItems"]);
    assert_eq!(limits["name_characters"], schema("Name")["maxLength"]);
    for list in ["rams", "pumps", "hoses", "packing"] {
        assert_eq!(limits["inline_entries"], schema("InlineCatalogue")["properties"][list]["maxItems"], "{list}");
    }
    let depth = usize::try_from(limits["json_depth"].as_u64().unwrap()).unwrap();
    let nested = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
    service.post_bytes("/v1/load-shares", nested(depth)).await.problem(400, ProblemCode::InvalidRequest);
    service.post_bytes("/v1/load-shares", nested(depth + 1)).await.problem(400, ProblemCode::MalformedJson);
    assert_eq!(limits["body_bytes"], Config::on_loopback().body_limit_bytes);
}

fn same(a: &Value, b: &Value) -> bool {
    a.as_f64().zip(b.as_f64()).is_some_and(|(a, b)| (a - b).abs() <= 0.0)
}

pub(crate) async fn verify_each_bound_is_inclusive(service: &'static Service) {
    let (operation, schema) =
        service.description.requests().find(|(operation, _)| operation.id == "plan_lift").unwrap();
    let ranged = places(&service.description, schema).into_iter().filter(|place| place.schema.get("x-range").is_some());
    let mut count = 0;
    for place in ranged {
        let range = &place.schema["x-range"];
        let own = range["unit"].as_str().unwrap();
        let (least, greatest) = (range["least"].as_f64().unwrap(), range["greatest"].as_f64().unwrap());
        let room = (greatest - least) * 1e-6;
        for (bound, outside) in [(least, least - room), (greatest, greatest + room)] {
            for unit in [own, other_unit(own)] {
                for (value, refused) in [(bound, false), (outside, true)] {
                    let quantity = json!({"value": converted(value, own, unit), "unit": unit});
                    let reply = service.post(&operation.path, &body_with(&place.pointer, quantity)).await;
                    let fault = (format!("#{}", place.pointer), "out_of_range".to_owned());
                    let told = reply.faults(reply.status).contains(&fault);
                    assert_eq!(told, refused, "{}: {value} {own} in {unit}", place.pointer);
                }
            }
        }
        count += 1;
    }
    assert!(40 < count, "{count} quantities");
    let numbered =
        places(&service.description, schema).into_iter().filter(|place| place.schema.get("minimum").is_some());
    for place in numbered {
        for (bound, step) in [("minimum", -1.0), ("maximum", 1.0)] {
            let bound = place.schema[bound].as_f64().unwrap();
            for (value, refused) in [(bound, false), (bound + step, true)] {
                let reply = service.post(&operation.path, &body_with(&place.pointer, json!(value))).await;
                let fault = (format!("#{}", place.pointer), "out_of_range".to_owned());
                assert_eq!(reply.faults(reply.status).contains(&fault), refused, "{}: {value}", place.pointer);
            }
        }
    }
    let many = |count: usize| {
        let mut body = examples::of("/v1/load-shares");
        body["load_case"] = json!({"weight": "100 t", "travel": "10 mm"});
        body["load_case"]["points"] = (0..count).map(|number| json!({"id": number.to_string()})).collect();
        body
    };
    service.post("/v1/load-shares", &many(200)).await.answer();
    for count in [0, 201] {
        assert_eq!(service.post("/v1/load-shares", &many(count)).await.faults(422).len(), 1, "{count}");
    }
}

/// Another unit of the same dimension, by its symbol.
fn other_unit(symbol: &str) -> &'static str {
    let unit = by_symbol(symbol).unwrap();
    let mut same = UNITS.iter().filter(|other| other.dimension == unit.dimension && other.symbol != unit.symbol);
    same.next_back().map_or(unit.symbol, |other| other.symbol)
}

fn converted(value: f64, from: &str, to: &str) -> f64 {
    let to = by_symbol(to).unwrap();
    (in_unit(value, from).unwrap().si() - to.offset) / to.factor
}
