//! Every drawing of the examples: well-formed, self-contained, the same every time, legible, and unmoved by hostile names.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may panic")]

use ramwright_api::operation::PlanLift;
use ramwright_api::{Catalogues, Prepared};
use ramwright_report::Subject;
use ramwright_report::drawing::{Drawing, Look, Theme, drawing, names, step_elevation};
use ramwright_units::Profile;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::atomic::AtomicBool;

const PLANS: [&str; 6] = ["transformer", "bedplate", "link_press", "hub_pull", "two_levels", "girder"];

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../openapi/examples").join(format!("{name}.json"));
    std::fs::read_to_string(path).unwrap()
}

fn look(theme: Theme) -> Look {
    Look { theme, units: Profile::Metric, decimal_comma: false, prefix: "x7-".to_owned() }
}

/// Every drawing of a lift plan, those of its steps too.
fn all(request: &str, look: &Look) -> Vec<Drawing> {
    let prepared = Prepared::<PlanLift>::from_json(request.as_bytes(), &Catalogues::embedded().unwrap()).unwrap();
    let answer = prepared.compute(&AtomicBool::new(false)).unwrap();
    let subject = Subject::of_plan(prepared.input(), &answer.result);
    let steps = (1..=4).filter_map(|step| step_elevation(&subject, step, look));
    names(&subject).iter().map(|name| drawing(&subject, name, look).unwrap()).chain(steps).collect()
}

/// What holds for every drawing, whatever is drawn.
#[track_caller]
fn check_sound(drawing: &Drawing) {
    assert!(drawing.svg.len() < 300_000, "{}: {} bytes", drawing.name, drawing.svg.len());
    let document = roxmltree::Document::parse(&drawing.svg).unwrap();
    let root = document.root_element();
    assert_eq!((root.tag_name().name(), root.attribute("role")), ("svg", Some("img")));
    let first: Vec<_> =
        root.children().filter(roxmltree::Node::is_element).take(2).map(|n| n.tag_name().name()).collect();
    assert_eq!(first, ["title", "desc"]);
    let mut ids = BTreeSet::new();
    for node in root.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        let allowed = [
            "svg", "title", "desc", "defs", "pattern", "line", "rect", "circle", "polygon", "polyline", "path", "text",
        ];
        assert!(allowed.contains(&name), "{}: <{name}>", drawing.name);
        for attribute in node.attributes() {
            let (key, value) = (attribute.name(), attribute.value());
            assert!(!["style", "class", "href"].contains(&key) && !key.starts_with("on"), "{}: {key}", drawing.name);
            assert!(!value.contains("NaN") && !value.contains("inf"), "{}: {key}={value}", drawing.name);
            assert!(!value.contains("url(") || value.starts_with("url(#x7-"), "{value}");
        }
        if let Some(id) = node.attribute("id") {
            assert!(id.starts_with("x7-") && ids.insert(id), "{}: {id}", drawing.name);
        }
    }
    for id in root.attribute("aria-labelledby").unwrap().split(' ') {
        assert!(ids.contains(id));
    }
}

/// Left, top, right, bottom of every text, by 0.6 of its size a letter, more than a sans-serif takes.
fn boxes(svg: &str) -> Vec<(String, [f64; 4])> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let texts = document.descendants().filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "text")));
    texts
        .map(|node| {
            let number = |name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
            let text: String = node.children().filter(roxmltree::Node::is_text).filter_map(|n| n.text()).collect();
            let letters = text.chars().filter(|c| !('\u{2066}'..='\u{2069}').contains(c)).count();
            let (x, y, size) = (number("x"), number("y"), number("font-size"));
            assert!(2.2 <= size, "{text}: {size}");
            let long = f64::from(u32::try_from(letters).unwrap()) * size * 0.6;
            let before = match node.attribute("text-anchor").unwrap() {
                "start" => 0.0,
                "middle" => long / 2.0,
                _ => long,
            };
            let area = if node.has_attribute("transform") {
                [x - size * 0.75, y - long + before, x + size * 0.2, y + before]
            } else {
                [x - before, y - size * 0.75, x - before + long, y + size * 0.2]
            };
            (text, area)
        })
        .collect()
}

/// Texts that are cut or lie over another.
fn illegible(lift: &str, drawing: &Drawing) -> Vec<String> {
    let document = roxmltree::Document::parse(&drawing.svg).unwrap();
    let frame: Vec<f64> =
        document.root_element().attribute("viewBox").unwrap().split(' ').map(|part| part.parse().unwrap()).collect();
    let texts = boxes(&drawing.svg);
    let mut faults = Vec::new();
    for (place, (text, a)) in texts.iter().enumerate() {
        let inside = frame[0] <= a[0] && frame[1] <= a[1] && a[2] <= frame[0] + frame[2] && a[3] <= frame[1] + frame[3];
        if !inside {
            faults.push(format!("{text:?} is cut: {a:?} in {frame:?}"));
        }
        for (other, b) in &texts[place + 1..] {
            let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
            if !apart {
                faults.push(format!("{text:?} {a:?} over {other:?} {b:?}"));
            }
        }
    }
    faults.into_iter().map(|fault| format!("{lift} {}: {fault}", drawing.name)).collect()
}

#[test]
fn verify_every_drawing_of_the_examples() {
    let mut faults = Vec::new();
    for name in PLANS {
        let request = example(name);
        let light = all(&request, &look(Theme::Light));
        assert_eq!(light, all(&request, &look(Theme::Light)), "{name}: the same input, the same bytes");
        let us = Look { units: Profile::Us, decimal_comma: true, ..look(Theme::Print) };
        for drawing in light.iter().chain(&all(&request, &look(Theme::Dark))).chain(&all(&request, &us)) {
            check_sound(drawing);
            faults.extend(illegible(name, drawing));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn verify_which_drawings_there_are() {
    let of = |name: &str| -> Vec<String> {
        all(&example(name), &look(Theme::Light)).into_iter().map(|drawing| drawing.name).collect()
    };
    let every = ["plan", "free_body", "elevation", "steps", "circuit", "shares_chart", "heights_chart"];
    let transformer = of("transformer");
    assert_eq!(&transformer[..7], every);
    assert_eq!(&transformer[7..9], ["utilisation_chart", "pressure_chart"]);
    let press = of("link_press");
    assert!(!press.contains(&"plan".to_owned()) && !press.contains(&"steps".to_owned()));
}

#[test]
fn verify_hostile_names_do_nothing() {
    let hostile = format!("</text><script>alert(1)</script>&\u{1}\u{202e}\u{5e9}\u{2069}\"'{}", "W".repeat(150));
    let text = example("transformer");
    let catalogues = Catalogues::embedded().unwrap();
    // A request may not hold such a name; the drawings must stand it all the same.
    let prepared = Prepared::<PlanLift>::from_json(text.as_bytes(), &catalogues).unwrap();
    let mut input = prepared.input().clone();
    let answer = prepared.compute(&AtomicBool::new(false)).unwrap();
    let mut plan = answer.result;
    if let Some(point) = input.search.case.points.get_mut(1) {
        point.id.clone_from(&hostile);
    }
    let verification = plan.verification.as_mut().unwrap();
    verification.load_shares.points[1].point.clone_from(&hostile);
    for step in &mut verification.sequence.as_mut().unwrap().steps {
        for at in &mut step.at {
            at.points.push(hostile.clone());
        }
    }
    plan.circuit.as_mut().unwrap().points[1].point.clone_from(&hostile);
    plan.circuit_used.as_mut().unwrap().pump.clone_from(&hostile);
    let subject = Subject::of_plan(&input, &plan);
    for name in names(&subject) {
        let drawing = drawing(&subject, &name, &look(Theme::Light)).unwrap();
        check_sound(&drawing);
        assert_eq!(illegible("hostile", &drawing), [""; 0]);
        assert!(!drawing.svg.contains("<script"), "{name}");
    }
}

#[test]
fn verify_what_cannot_be_drawn_says_so() {
    let prepared =
        Prepared::<PlanLift>::from_json(example("transformer").as_bytes(), &Catalogues::embedded().unwrap()).unwrap();
    let answer = prepared.compute(&AtomicBool::new(false)).unwrap();
    for far in [1e300, 1e12, f64::NAN, f64::INFINITY] {
        let mut input = prepared.input().clone();
        input.search.case.travel = ramwright_units::Length::from_mm(far);
        if let ramwright_engine::load::Sharing::Placed(placed) = &mut input.search.case.sharing {
            placed.positions[0].0 = ramwright_units::Length::from_mm(far);
        }
        input.search.settings.plates = ramwright_units::Length::from_mm(far);
        let subject = Subject::of_plan(&input, &answer.result);
        for name in names(&subject) {
            let drawing = drawing(&subject, &name, &look(Theme::Light)).unwrap();
            check_sound(&drawing);
        }
        let plan = drawing(&subject, "plan", &look(Theme::Light)).unwrap();
        assert!(plan.svg.contains("cannot be drawn to scale"));
        let elevation = drawing(&subject, "elevation", &look(Theme::Light)).unwrap();
        assert!(elevation.svg.contains("cannot be drawn to scale"));
    }
}
