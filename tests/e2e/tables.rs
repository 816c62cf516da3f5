//! Tables with one enquiry a row: the same answers as row by row, whatever is wrong with some of them.

use ramwright_api::problem::ProblemCode;
use ramwright_server::Config;
use ramwright_tests::{Reply, Service, socket};
use reqwest::Url;
use serde_json::json;
use tokio::io::{AsyncReadExt, AsyncWriteExt};

const SEARCH: &str = "/v1/quick/ram-set";
const CSV: (&str, &str) = ("content-type", "text/csv");

async fn send(service: &Service, path: &str, table: &str) -> Reply {
    service.send("POST", path, &[CSV], table.as_bytes().to_vec()).await
}

/// The lines of an answer as cells.
fn cells(reply: &Reply, separator: u8) -> Vec<Vec<String>> {
    assert_eq!((reply.status, reply.media_type().as_str()), (200, "text/csv"), "{}", reply.text());
    let text = reply.text();
    let mut reader = csv::ReaderBuilder::new().delimiter(separator).has_headers(false).from_reader(text.as_bytes());
    reader.records().map(|record| record.expect("a table").iter().map(str::to_owned).collect()).collect()
}

fn column(table: &[Vec<String>], head: &str) -> Vec<String> {
    let at = table[0].iter().position(|own| own == head).unwrap_or_else(|| panic!("{head} in {:?}", table[0]));
    table[1..].iter().map(|row| row[at].clone()).collect()
}

/// Work in a machine frame, for which a search is answered at once.
const FAST: &str = "duty,points,travel_mm,clearance_mm,rams_per_point";
const FAST_CELLS: &str = "press,2,60,400,2";

pub(crate) async fn verify_a_table_is_answered_row_by_row(service: &'static Service) {
    let table = format!(
        "note,load,load_unit,{FAST}\r\nfirst,96,t,{FAST_CELLS}\r\n\"=1+1, \"\"x\"\"\",96,ton,{FAST_CELLS}\r\n,,,,,,,\r\nlast,40,t,{FAST_CELLS}\r\n"
    );
    let reply = send(service, SEARCH, &table).await;
    assert_eq!(reply.header("cache-control"), "no-store");
    let answer = cells(&reply, b',');
    assert_eq!(answer.len(), 5);
    assert_eq!(answer[0][..8].join(","), format!("note,load,load_unit,{FAST}"));
    assert_eq!(column(&answer, "note"), ["first", "'=1+1, \"x\"", "", "last"]);
    assert_eq!(column(&answer, "status"), ["done", "problem", "blank", "done"]);
    let messages = column(&answer, "message");
    assert!(messages[1].starts_with("#ERROR load: `96 ton` may be 96 t"), "{}", messages[1]);
    assert_eq!((messages[0].as_str(), messages[2].as_str()), ("", ""));
    for (row, load) in [(0, "96 t"), (3, "40 t")] {
        for (head, name) in [
            ("answer", "answer"),
            ("verdict", "verdict"),
            ("governing_check", "governing_check"),
            ("rams", "rams"),
            ("ram_model", "ram"),
            ("utilisation", "utilisation"),
            ("lifts", "packing_lifts"),
            ("cost", "cost"),
            ("permalink", "permalink"),
        ] {
            let pairs = [
                ("load", load),
                ("duty", "press"),
                ("points", "2"),
                ("travel", "60 mm"),
                ("clearance", "400 mm"),
                ("rams_per_point", "2"),
                ("value", name),
            ];
            let url = Url::parse_with_params("http://x/v1/quick/ram-set", pairs).unwrap();
            let alone = service.get(&format!("{}?{}", url.path(), url.query().unwrap())).await;
            assert_eq!(column(&answer, head)[row], alone.text(), "{head} {load}");
        }
        let permalink = column(&answer, "permalink")[row].clone();
        let whole = service.get(&permalink).await.answer();
        assert_eq!(whole["request_digest"], column(&answer, "request_digest")[row].as_str());
        assert_eq!(whole["engine_version"], column(&answer, "engine_version")[row].as_str());
    }
    // A row that was not answered has nothing that could be taken for an answer.
    for head in ["verdict", "answer", "rams", "utilisation", "permalink"] {
        assert_eq!(column(&answer, head)[1..3], ["", ""], "{head}");
    }
    // Sent again as it came back, the answers are replaced.
    let again = send(service, SEARCH, reply.text()).await;
    assert_eq!(again.body, reply.body);
}

pub(crate) async fn verify_both_decimal_conventions_give_the_same(service: &'static Service) {
    let point = format!("load_t,capacity_limit,{FAST}\r\n96.5,0.75,{FAST_CELLS}\r\n");
    let comma = point.replace(',', ";").replace("96.5", "96,5").replace("0.75", "0,75");
    let one = cells(&send(service, SEARCH, &point).await, b',');
    let other = cells(&send(service, &format!("{SEARCH}?decimal=comma"), &comma).await, b';');
    assert_eq!(column(&one, "status"), ["done"]);
    for head in ["status", "rams", "answer", "request_digest"] {
        assert_eq!(column(&one, head), column(&other, head), "{head}");
    }
    assert_eq!(column(&other, "load_t"), ["96,5"]);
    assert_eq!(column(&other, "utilisation")[0], column(&one, "utilisation")[0].replace('.', ","));
    // Mixed in one row, that row is refused and the other done.
    let mixed = format!("{comma}96.5;0,75;{}\r\n", FAST_CELLS.replace(',', ";"));
    let mixed = cells(&send(service, &format!("{SEARCH}?decimal=comma"), &mixed).await, b';');
    assert_eq!(column(&mixed, "status"), ["done", "problem"]);
    // A wrong separator is one head that means nothing.
    let faults = send(service, SEARCH, &comma).await.faults(400);
    assert_eq!(faults[0].1, "unknown_field");
    let plain = send(service, &format!("{SEARCH}?dialect=plain"), &point).await;
    assert!(plain.text().is_ascii() && !plain.text().contains('"'));
    let widths: Vec<usize> = plain.text().trim_end().split("\r\n").map(|line| line.split(',').count()).collect();
    assert_eq!(widths, [one[0].len(), one[0].len()]);
}

pub(crate) async fn verify_every_enquiry_has_a_table(service: &'static Service) {
    let head = "load_t,points,travel_mm";
    for (path, table, heads) in [
        (
            "/v1/quick/load-share",
            format!("{head},length_m,width_m\n64,4,150,3.6,1.9\n64,4,150,3.6,\n"),
            ["greatest", "force_unit"],
        ),
        (
            "/v1/quick/verification",
            format!("{head},clearance_mm,ram\n96,4,60,290,willow-01\n96,4,60,290,x\n"),
            ["failed", "would_pass"],
        ),
        (
            "/v1/quick/packing-lifts",
            format!("{head},clearance_mm,ram\n40,4,60,290,willow-01\n40,4,60,290,x\n"),
            ["lifts", "pieces"],
        ),
    ] {
        let answer = cells(&send(service, path, &table).await, b',');
        assert_eq!(column(&answer, "status"), ["done", "problem"], "{path}");
        assert_ne!(column(&answer, "verdict")[0], "pass", "{path}");
        for head in heads {
            assert_ne!(column(&answer, head)[0], "", "{path} {head}");
        }
        let refused = send(service, path, "nonsense\n1\n").await.faults(400);
        assert_eq!(refused, [("nonsense".to_owned(), "unknown_field".to_owned())]);
    }
}

pub(crate) async fn verify_a_table_that_is_none_is_refused(service: &'static Service) {
    for (table, name, code) in [
        ("laod_t,points\n1,4\n", "laod_t", "unknown_field"),
        ("load,load_t\n1 t,1\n", "load_t", "duplicate_field"),
        ("ram\nx\n", "ram", "unknown_field"),
    ] {
        let faults = send(service, SEARCH, table).await.faults(400);
        assert_eq!(faults, [(name.to_owned(), code.to_owned())], "{table}");
    }
    for table in ["", "load\n\"1 t\n"] {
        let problem = send(service, SEARCH, table).await.problem(400, ProblemCode::InvalidRequest);
        assert_eq!(problem.errors[0].code.as_str(), "malformed_table");
    }
    let latin = service.send("POST", SEARCH, &[CSV], b"note\n\xe9\n".to_vec()).await;
    latin.problem(400, ProblemCode::InvalidRequest);
    let most = service.get("/v1/limits").await.answer()["table_rows"].as_u64().unwrap();
    let rows = |count: u64| format!("note\n{}", "x\n".repeat(usize::try_from(count).unwrap()));
    let all = cells(&send(service, SEARCH, &rows(most)).await, b',');
    assert_eq!(all.len(), usize::try_from(most).unwrap() + 1);
    send(service, SEARCH, &rows(most + 1)).await.problem(422, ProblemCode::InvalidRequest);
    service.post(SEARCH, &json!({})).await.problem(415, ProblemCode::UnsupportedMediaType);
    let json = [CSV, ("accept", "application/json")];
    let refused = service.send("POST", SEARCH, &json, b"note\n".to_vec()).await;
    refused.problem(406, ProblemCode::NotAcceptable);
    assert_eq!(send(service, &format!("{SEARCH}?value=ram"), "note\n").await.status, 400);
    // A macro reads what is wrong as text, with a status that it is let see.
    let line = send(service, &format!("{SEARCH}?errors=cell"), "laod_t\n1\n").await;
    assert_eq!((line.status, line.media_type().as_str()), (200, "text/plain"));
    assert!(line.text().starts_with("#ERROR laod_t: "), "{}", line.text());
}

pub(crate) async fn verify_five_hundred_rows_are_answered(service: &'static Service) {
    let rows = (0..500).map(|row| format!("{row},{},4,150,3.6,1.9\n", if row % 50 == 7 { 0 } else { 20 + row }));
    let table = format!("note,load_t,points,travel_mm,length_m,width_m\n{}", rows.collect::<String>());
    let answer = cells(&send(service, "/v1/quick/load-share", &table).await, b',');
    assert_eq!(answer.len(), 501);
    let notes: Vec<String> = (0..500).map(|row| row.to_string()).collect();
    assert_eq!(column(&answer, "note"), notes);
    let status = column(&answer, "status");
    assert_eq!(status.iter().filter(|status| *status == "problem").count(), 10);
    assert_eq!(status.iter().filter(|status| *status == "done").count(), 490);
}

pub(crate) async fn verify_the_page_writes_a_formula_that_asks_this_service(service: &'static Service) {
    let page = service.get("/spreadsheet").await;
    let policy = page.header("content-security-policy");
    assert!(
        policy.starts_with("default-src 'none'") && policy.contains("form-action 'self'") && !policy.contains("unsafe")
    );
    assert!(
        page.text().contains(&format!("WEBSERVICE(&quot;{}/v1/quick/ram-set", service.base_url())),
        "{}",
        page.text()
    );
    let hostile = service
        .get("/spreadsheet?enquiry=verification&load=%22%3E%3Cscript%3E&address=%22%3E%3Cscript%3E&ram=A7")
        .await;
    assert!(!hostile.text().contains("<script>") && hostile.text().contains("ENCODEURL(A7)"));
    for enquiry in ["ram-set", "verification", "load-share", "packing-lifts"] {
        let page = service
            .get(&format!("/spreadsheet?enquiry={enquiry}&points=4&load=96%20t&decimal=comma&value=answer"))
            .await;
        let start = format!(
            "{}/v1/quick/{enquiry}?errors=cell&amp;value=answer&amp;decimal=comma&amp;load=96%20t",
            service.base_url()
        );
        assert!(page.text().contains(&start), "{enquiry}");
    }
    let mut files = 0;
    for part in page.text().split("href=\"spreadsheet/").skip(1) {
        let file = service.get(&format!("/spreadsheet/{}", part.split('"').next().unwrap())).await;
        assert_eq!(file.status, 200);
        if file.media_type() == "text/plain" {
            assert!(file.text().contains(&format!("\"{}\"", service.base_url())) && !file.text().contains("{{address"));
        } else {
            assert_eq!(file.body[..2], *b"PK");
        }
        files += 1;
    }
    assert_eq!(files, 7);
    service.get("/spreadsheet/other.bas").await.problem(404, ProblemCode::NotFound);
}

pub(crate) async fn verify_rows_are_counted_like_any_calculation(_: &'static Service) {
    let service = Service::start_with(Config::on_loopback()).await;
    let table = format!("load_t,{FAST}\r\n40,{FAST_CELLS}\r\n41,{FAST_CELLS}\r\n0,{FAST_CELLS}\r\n");
    assert_eq!(column(&cells(&send(&service, SEARCH, &table).await, b','), "status"), ["done", "done", "problem"]);
    let metrics = service.get("/metrics").await;
    for line in [
        "ramwright_calculation_seconds_count{operation=\"size_ram_set\"} 2",
        "ramwright_problems_total{code=\"invalid_request\"} 1",
    ] {
        assert!(metrics.text().lines().any(|own| own == line), "{line}: {}", metrics.text());
    }
    service.shutdown().await;
}

/// A form with these parts, as a macro writes it.
async fn send_form(service: &Service, path: &str, parts: &[(&str, &str)]) -> Reply {
    const BOUNDARY: &str = "a-line-that-stands-in-no-table";
    let part = |(name, text): &(&str, &str)| {
        format!("--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n")
    };
    let body = format!("{}--{BOUNDARY}--\r\n", parts.iter().map(part).collect::<String>());
    let kind = format!("multipart/form-data; boundary={BOUNDARY}");
    service.send("POST", path, &[("content-type", &kind)], body).await
}

/// Invented rams.
const OWN_RAMS: &str = "id,action,material,lock_collar,effective_area_cm2,rated_pressure_bar,stroke_mm,closed_height_mm,stock\r\n\
                        own-1,double_acting,steel,no,120,700,250,330,4\r\n\
                        own-2,double_acting,steel,no,300,700,250,350,4\r\n";

pub(crate) async fn verify_a_table_is_answered_from_the_lists_sent_with_it(service: &'static Service) {
    let table = format!(
        "note,load_t,catalogue,{FAST}\r\nown alone,100,,{FAST_CELLS}\r\nbeside the yard,100,demo_yard,{FAST_CELLS}\r\n"
    );
    let parts = [("table", table.as_str()), ("rams", OWN_RAMS)];
    let answer = cells(&send_form(service, SEARCH, &parts).await, b',');
    assert_eq!(column(&answer, "status"), ["done", "done"], "{:?}", column(&answer, "message"));
    assert_eq!(column(&answer, "ram_model")[0], "own-2");
    // The permalink brings the list along, so that it gives the same on any copy.
    let whole = service.get(&column(&answer, "permalink")[0]).await.answer();
    assert_eq!(whole["request_digest"], column(&answer, "request_digest")[0].as_str());
    assert_eq!(whole["request"]["inline"]["rams"][1]["id"], "own-2");
    assert_eq!(whole["request"]["inline"]["rams"][0]["stroke"]["value"].as_f64(), Some(250.0));
    // Without the list, and with it where a catalogue is named, other requests are answered.
    let plain = cells(&send(service, SEARCH, &table).await, b',');
    let digests = [column(&answer, "request_digest"), column(&plain, "request_digest")];
    assert_ne!(digests[0], digests[1]);
    assert_ne!(digests[0][0], digests[0][1]);
    // The table alone as a form is the table alone.
    let form = send_form(service, SEARCH, &[("table", &table)]).await;
    assert_eq!(cells(&form, b','), plain);
}

pub(crate) async fn verify_what_is_wrong_with_a_form_is_said(service: &'static Service) {
    let table = format!("load_t,{FAST}\r\n50,{FAST_CELLS}\r\n");
    let stone = OWN_RAMS.replacen("steel", "stone", 1);
    let faults = send_form(service, SEARCH, &[("table", &table), ("rams", &stone)]).await.faults(400);
    assert_eq!(faults, [("#/rams/1/material".to_owned(), "unknown_value".to_owned())]);
    let refused = send_form(service, &format!("{SEARCH}?errors=cell"), &[("table", &table), ("rams", &stone)]).await;
    assert!(refused.text().starts_with("#ERROR #/rams/1/material: `own-1` in line 2: "), "{}", refused.text());
    let faults = send_form(service, SEARCH, &[("table", &table), ("ram", OWN_RAMS)]).await.faults(400);
    assert_eq!(faults, [("#".to_owned(), "unknown_field".to_owned())]);
    send_form(service, SEARCH, &[("rams", OWN_RAMS)]).await.problem(400, ProblemCode::InvalidRequest);
    // An id that both lists have is the fault of its row only.
    let twice = OWN_RAMS.replacen("own-1", "willow-01", 1);
    let rows = format!("load_t,catalogue,{FAST}\r\n50,demo_yard,{FAST_CELLS}\r\n50,,{FAST_CELLS}\r\n");
    let answer = cells(&send_form(service, SEARCH, &[("table", &rows), ("rams", &twice)]).await, b',');
    assert_eq!(column(&answer, "status"), ["problem", "done"]);
    let message = column(&answer, "message")[0].clone();
    assert!(message.contains("willow-01"), "{message}");
    for kind in ["multipart/form-data", "multipart/mixed; boundary=x", "text/plain"] {
        let reply = service.send("POST", SEARCH, &[("content-type", kind)], table.clone()).await;
        reply.problem(415, ProblemCode::UnsupportedMediaType);
    }
}

pub(crate) async fn verify_as_many_tables_as_may_be_are_answered_at_once(_: &'static Service) {
    let service = Service::start_with(Config { calculation_queue: 1, ..Config::on_loopback() }).await;
    let row = format!("40,{FAST_CELLS}\r\n");
    let table = format!("load_t,{FAST}\r\n{}", row.repeat(1000));
    let head = format!(
        "POST {SEARCH} HTTP/1.1\r\nHost: x\r\nContent-Type: text/csv\r\nContent-Length: {}\r\n\r\n",
        table.len()
    );
    let mut first = socket::connect(service.address()).await;
    first.write_all(format!("{head}{table}").as_bytes()).await.unwrap();
    let mut begun = [0; 64];
    first.read_exact(&mut begun).await.unwrap();
    assert!(begun.starts_with(b"HTTP/1.1 200"), "{}", String::from_utf8_lossy(&begun));
    let small = format!("load_t,{FAST}\r\n{row}");
    let refused = send(&service, SEARCH, &small).await;
    refused.problem(503, ProblemCode::Overloaded);
    assert!(!refused.header("retry-after").is_empty());
    // Single calculations have their places all the while, and who leaves gives up the table's.
    assert_eq!(
        service
            .get(&format!("{SEARCH}?load=40%20t&duty=press&points=2&travel=60%20mm&clearance=400%20mm"))
            .await
            .status,
        200
    );
    drop(first);
    let begun = std::time::Instant::now();
    while send(&service, SEARCH, &small).await.status != 200 {
        assert!(begun.elapsed().as_secs() < 20, "the table's place stays taken");
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    service.shutdown().await;
}
