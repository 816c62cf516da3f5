//! Calculation, site sheet and drawings of a lift: that they say what the data say, and harm nobody.

use ramwright_api::problem::ProblemCode;
use ramwright_tests::{Reply, Service, examples};
use serde_json::{Value, json};

const PLANS: &str = "/v1/lift-plans";
/// The lifts of the demonstration.
const DEMO: [&str; 3] = ["transformer", "bedplate", "link_press"];
const SHEETS: [&str; 2] = ["calculation", "site_sheet"];

fn lift(name: &str) -> Value {
    let path = format!("{}/../openapi/examples/{name}.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// The page asks for nothing, and what it is sent with allows nothing but its own styles.
fn assert_stands_alone(reply: &Reply, what: &str) {
    let page = reply.text();
    // A name of a standard is no address, and a hatch is found in the drawing itself.
    let asks = page.replace("http://www.w3.org/", "").replace("url(#", "");
    for word in [
        "http:",
        "https:",
        " src=",
        "@import",
        "url(",
        " style=",
        "<script",
        "<link",
        "<iframe",
        "<object",
        "javascript:",
    ] {
        assert!(!asks.contains(word), "{what} has {word}");
    }
    assert_allows_its_own_styles_only(reply, what);
}

fn assert_allows_its_own_styles_only(reply: &Reply, what: &str) {
    let (page, policy) = (reply.text(), reply.header("content-security-policy"));
    // Who may frame it is said in the header only: a page cannot.
    let policy = policy.strip_suffix("; frame-ancestors 'none'").unwrap_or_else(|| panic!("{what}: {policy}"));
    assert!(
        policy.starts_with("default-src 'none'; style-src 'sha256-") && !policy.contains("unsafe"),
        "{what}: {policy}"
    );
    assert!(
        page.contains(&format!("content=\"{}\"", policy.replace('\'', "&#39;"))),
        "{what}: its own policy is another"
    );
}

pub(crate) async fn verify_the_demo_lifts_are_sheets(service: &'static Service) {
    for name in DEMO {
        let body = lift(name);
        let answer = service.post(PLANS, &body).await.answer();
        for sheet in SHEETS {
            let reply = service.post(&format!("{PLANS}?view={sheet}"), &body).await;
            assert_eq!(
                (reply.status, reply.header("content-type")),
                (200, "text/html; charset=utf-8"),
                "{name} {sheet}"
            );
            assert_stands_alone(&reply, name);
            let page = reply.text();
            for digest in ["request_digest", "result_digest"] {
                assert!(page.contains(answer[digest].as_str().unwrap()), "{name} {sheet} has no {digest}");
            }
            for caution in answer["cautions"].as_array().unwrap() {
                let text = escaped(caution["text"].as_str().unwrap());
                assert!(page.contains(&text), "{name} {sheet} has not the caution {text}");
            }
            let again = service.post(&format!("{PLANS}?format=html&view={sheet}"), &body).await;
            assert_eq!(again.body, reply.body, "{name} {sheet} is not the same twice");
        }
        let plain = service.post(&format!("{PLANS}?format=html"), &body).await;
        assert_eq!(plain.body, service.post(&format!("{PLANS}?view=calculation"), &body).await.body);
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;").replace('\'', "&#39;")
}

/// The texts of the cells of every row of the tables of a class.
fn rows(page: &str, class: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for table in page.split(&format!("<table class=\"{class}\">")).skip(1) {
        let body = table.split("<tbody>").nth(1).unwrap().split("</tbody>").next().unwrap();
        for row in body.split("<tr>").skip(1) {
            let cells = row.split("<td").skip(1).map(|cell| {
                let text = cell.split_once('>').unwrap().1.split("</td>").next().unwrap();
                text.replace("&gt;", ">")
                    .replace("&lt;", "<")
                    .replace("&#39;", "'")
                    .replace("&quot;", "\"")
                    .replace("&amp;", "&")
            });
            rows.push(cells.collect());
        }
    }
    rows
}

/// The number that a reader takes from a printed quantity, the worth of its last digit, and its unit.
fn printed(text: &str, mark: char) -> (f64, f64, String) {
    let plain: String = text.chars().filter(|c| *c != '\u{202f}').collect();
    let (number, unit) =
        plain.split_once('\u{a0}').unwrap_or_else(|| plain.split_at(plain.find('°').unwrap_or(plain.len())));
    let number = number.replace('\u{2212}', "-").replace(mark, ".");
    let (mantissa, power) = number.split_once("×10").unwrap_or((&number, ""));
    let digit = |c: char| match c {
        '⁻' => '-',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        c => char::from(b'0' + u8::try_from(u32::from(c) - 0x2070).unwrap()),
    };
    let power: i32 = if power.is_empty() { 0 } else { power.chars().map(digit).collect::<String>().parse().unwrap() };
    let decimals = mantissa.split_once('.').map_or(0, |(_, part)| i32::try_from(part.len()).unwrap());
    let value: f64 = format!("{mantissa}e{power}").parse().unwrap_or_else(|_| panic!("{text}"));
    (value, 10f64.powi(power - decimals), unit.to_owned())
}

/// Whether a cell shows this quantity to its last digit.
fn shows(cell: &str, quantity: &Value, mark: char) -> bool {
    let Some(value) = quantity["value"].as_f64() else { return cell == "–" };
    let (read, last, _) = printed(cell, mark);
    (read - value).abs() <= 0.5 * last + 1e-9 * value.abs()
}

fn checks(answer: &Value) -> Vec<&Value> {
    let result = &answer["result"];
    let parts =
        [&result["verification"]["checks"], &result["circuit"]["checks"], &result["open_checks"], &result["checks"]];
    parts.iter().filter_map(|part| part.as_array()).flatten().collect()
}

fn named(check: &Value) -> String {
    let name = check["id"].as_str().unwrap().replace('_', " ");
    name[..1].to_uppercase() + &name[1..]
}

pub(crate) async fn verify_the_same_figures_in_json_table_and_sheet(service: &'static Service) {
    for (name, units, mark) in [("transformer", "metric", '.'), ("bedplate", "us", ','), ("link_press", "metric", ',')]
    {
        let mut body = lift(name);
        body["units"] = json!(units);
        let decimal = if mark == ',' { "&decimal=comma" } else { "" };
        let answer = service.post(PLANS, &body).await.answer();
        let table = service.post(&format!("{PLANS}?format=csv"), &body).await;
        let sheet = service.post(&format!("{PLANS}?view=calculation{decimal}"), &body).await;
        let all = checks(&answer);
        let shown = rows(sheet.text(), "utilisation");
        assert!(10 < shown.len(), "{name}");
        for row in &shown {
            let used: f64 = row[4].replace(mark, ".").parse().unwrap();
            let held = |check: &&&Value| {
                let exact = check["utilisation"].as_f64().unwrap_or(f64::NAN);
                named(check) == row[0]
                    && shows(&row[2], &check["demand"], mark)
                    && shows(&row[3], &check["limit"], mark)
                    && exact - 1e-9 <= used
                    && used < exact + 0.01
            };
            let check = all.iter().find(held).unwrap_or_else(|| panic!("{name}: no check is {row:?}"));
            let has = |line: &str, number: &Value| {
                let exact = number["value"].as_f64();
                line.split(',').any(|cell| cell.parse::<f64>().ok() == exact)
            };
            let same = |line: &&str| has(line, &check["demand"]) && has(line, &check["limit"]);
            assert!(table.text().lines().any(|line| same(&line)), "{name}: the table has no line for {row:?}");
        }
        // Every kind of check stands in it, worked.
        for check in &all {
            let id = check["id"].as_str().unwrap();
            assert!(sheet.text().contains(&format!("data-check=\"{id}\"")), "{name}: {id} is not worked");
        }
        for share in answer["result"]["verification"]["load_shares"]["points"].as_array().unwrap() {
            let told = rows(sheet.text(), "shares");
            let row = told.iter().find(|row| share["point"] == json!(row[0])).unwrap();
            for (cell, part) in row[1..4].iter().zip(["least", "expected", "greatest"]) {
                assert!(shows(cell, &json!({"value": share["share"][part]}), mark), "{name}: {part} {cell}");
            }
        }
    }
}

pub(crate) async fn verify_what_was_not_checked_is_as_large_as_the_verdict(service: &'static Service) {
    let mut body = lift("transformer");
    body.as_object_mut().unwrap().remove("line_of_force");
    let answer = service.post(PLANS, &body).await.answer();
    let open: Vec<_> = checks(&answer).into_iter().filter(|check| check["status"] == "not_checked").collect();
    assert!(3 < open.len());
    let page = service.post(&format!("{PLANS}?view=calculation"), &body).await;
    let list = page.text().split("<ul class=\"large\">").nth(1).unwrap().split("</ul>").next().unwrap();
    for check in open {
        assert!(list.contains(&named(check)), "{} is not listed", check["id"]);
    }
    let crew = service.post(&format!("{PLANS}?view=site_sheet"), &body).await;
    assert!(crew.text().contains("Do not lift yet"), "the crew is not warned");
}

pub(crate) async fn verify_one_word_opens_another_view(service: &'static Service) {
    let body = lift("bedplate");
    let answer = service.post(PLANS, &body).await.answer();
    let link = answer["permalink"].as_str().unwrap();
    for (query, kind) in [
        ("", "application/json"),
        ("?format=json", "application/json"),
        ("?format=csv", "text/csv"),
        ("?format=html", "text/html"),
        ("?view=calculation", "text/html"),
        ("?view=site_sheet", "text/html"),
        ("?format=svg", "image/svg+xml"),
        ("?view=plan", "image/svg+xml"),
        ("?view=elevation&theme=dark", "image/svg+xml"),
        ("?view=steps&theme=print&decimal=comma", "image/svg+xml"),
        ("?view=calculation&paper=letter", "text/html"),
    ] {
        let got = service.get(&format!("{link}{query}")).await;
        assert_eq!((got.status, got.media_type().as_str()), (200, kind), "{query}");
        let posted = service.post(&format!("{PLANS}{query}"), &body).await;
        assert_eq!(got.body, posted.body, "{query}");
        let known = service.get_with(&format!("{link}{query}"), &[("if-none-match", got.header("etag"))]).await;
        assert_eq!(known.status, 304, "{query}");
    }
    let browser = [("accept", "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8")];
    assert_eq!(service.get_with(link, &browser).await.media_type(), "text/html", "a browser sees a page");
}

pub(crate) async fn verify_words_that_no_view_takes_are_refused(service: &'static Service) {
    let body = lift("link_press");
    for (query, parameter, code) in [
        ("view=calculatoin", "view", "unknown_value"),
        ("view=plan&theme=darc", "theme", "unknown_value"),
        ("view=calculation&paper=a5", "paper", "unknown_value"),
        ("view=calculation&decimal=,", "decimal", "unknown_value"),
        ("format=json&theme=dark", "theme", "inconsistent"),
        ("view=calculation&theme=dark", "theme", "inconsistent"),
        ("view=plan&paper=a4", "paper", "inconsistent"),
        ("format=csv&decimal=comma", "decimal", "inconsistent"),
    ] {
        let reply = service.post(&format!("{PLANS}?{query}"), &body).await;
        let problem = reply.json();
        assert!([400, 422].contains(&reply.status), "{query}: {}", reply.status);
        assert_eq!(
            (&problem["errors"][0]["parameter"], &problem["errors"][0]["code"]),
            (&json!(parameter), &json!(code)),
            "{query}"
        );
    }
    for query in ["view=plan&format=html", "view=calculation&format=csv", "view=steps", "view=calculation&format=svg"] {
        service.post(&format!("{PLANS}?{query}"), &body).await.problem(406, ProblemCode::NotAcceptable);
    }
}

pub(crate) async fn verify_a_verification_is_a_sheet_too(service: &'static Service) {
    let mut body = examples::of("/v1/ram-sets/verify");
    body["papers"] = json!({"number": "C-014", "revision": "B", "date": "2026-11-25", "project": "Invented", "site": "Invented", "scope": "Lift only"});
    for sheet in SHEETS {
        let reply = service.post(&format!("/v1/ram-sets/verify?view={sheet}"), &body).await;
        assert_eq!(reply.status, 200);
        assert_stands_alone(&reply, sheet);
        assert!(reply.text().contains("No. C-014, rev. B, dated 2026-11-25"), "{sheet}");
    }
}

pub(crate) async fn verify_hostile_names_harm_no_sheet(service: &'static Service) {
    let names = [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "</title></style><b>",
        "=HYPERLINK(\"x\")",
        "\u{202e}desrever\u{202c}",
        "&amp;&lt;",
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd} 1",
        "]]>--><!--",
        "#eval(\"1\") $x$ \\ *bold*",
    ];
    for name in names.iter().map(ToString::to_string).chain(["x".repeat(10_000), "\u{202e}".repeat(200)]) {
        let mut body = lift("bedplate");
        body["title"] = json!(name);
        body["papers"] =
            json!({"number": name, "revision": name, "date": name, "project": name, "site": name, "scope": name});
        for (index, point) in body["load_case"]["points"].as_array_mut().unwrap().iter_mut().enumerate() {
            let short: String = name.chars().take(50).collect();
            point["id"] = json!(format!("{short}{index}"));
        }
        for sheet in SHEETS {
            let reply = service.post(&format!("{PLANS}?view={sheet}"), &body).await;
            if reply.status != 200 {
                // Some names are too long for the field that holds them, which is told.
                assert!([400, 422].contains(&reply.status), "{name:.40}: {}", reply.text());
                continue;
            }
            // What such a name asks for stands in the page as a text; no element does.
            assert_allows_its_own_styles_only(&reply, &name);
            let page = reply.text();
            for markup in ["<img", "<b>", "<script"] {
                assert!(!page.contains(markup), "{markup} of {name:.40}");
            }
            assert_eq!(page.matches("</title>").count(), 1 + svg_titles(page), "{name:.40}");
            assert!(!page.contains(['\u{202e}', '\u{202d}']), "{name:.40} turns what follows");
        }
    }
}

/// Titles that belong to drawings.
fn svg_titles(page: &str) -> usize {
    page.split("<svg").skip(1).map(|drawing| drawing.split("</svg>").next().unwrap().matches("</title>").count()).sum()
}
