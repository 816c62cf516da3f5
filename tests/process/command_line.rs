//! Commands and settings.

use std::net::TcpListener;

use crate::support::{Serving, get, output};

const FILES: [(&str, &str, &str); 2] = [
    ("3.1", "openapi/openapi.json", include_str!("../../openapi/openapi.json")),
    ("3.0", "openapi/openapi-3.0.json", include_str!("../../openapi/openapi-3.0.json")),
];

#[test]
fn verify_openapi_prints_what_is_committed() {
    for (version, file, committed) in FILES {
        let printed = output(&["openapi", "--version", version], &[]);
        assert!(printed.status.success(), "{version}");
        let same = printed.stdout == committed.as_bytes();
        assert!(
            same,
            "{file} is out of date; run: cargo run -p ramwright-server -- openapi --version {version} > {file}"
        );
    }
    assert_eq!(output(&["openapi"], &[]).stdout, FILES[0].2.as_bytes(), "3.1 is what is printed if nothing is said");
    assert!(!output(&["openapi", "--version", "2.0"], &[]).status.success());
}

/// The table of checks in the contributors' documentation is the one that the program prints from its own list.
#[test]
fn verify_the_documented_checks_are_those_of_the_list() {
    let printed = output(&["basis"], &[]);
    assert!(printed.status.success());
    let table = String::from_utf8(printed.stdout).unwrap();
    let documented = include_str!("../../DEVELOPERS.md");
    let begin = documented.find("<!-- basis:begin -->\n").unwrap() + "<!-- basis:begin -->\n".len();
    let end = documented.find("<!-- basis:end -->").unwrap();
    assert!(
        documented[begin..end] == table,
        "DEVELOPERS.md is out of date; put what `cargo run -p ramwright-server -- basis` prints between its marks"
    );
}

#[test]
fn verify_healthcheck_tells_alive_from_dead() {
    let serving = Serving::start(&[]);
    let address = serving.address.to_string();
    assert_eq!(output(&["healthcheck"], &[("RAMWRIGHT_ADDRESS", &address)]).status.code(), Some(0));
    assert_eq!(output(&["healthcheck", "--address", &address], &[]).status.code(), Some(0));
    drop(serving);
    assert_eq!(output(&["healthcheck"], &[("RAMWRIGHT_ADDRESS", &address)]).status.code(), Some(1));
}

#[test]
fn verify_unknown_variables_are_refused_with_the_nearest_name() {
    for (variable, nearest) in [
        ("RAMWRIGHT_ADRESS", "RAMWRIGHT_ADDRESS"),
        ("RAMWRIGHT_CATALOGUE", "RAMWRIGHT_CATALOGUES"),
        ("RAMWRIGHT_CORS_ORIGIN", "RAMWRIGHT_CORS_ORIGINS"),
        ("RAMWRIGHT_BODY_LIMIT", "RAMWRIGHT_BODY_LIMIT_BYTES"),
    ] {
        let refused = output(&["serve"], &[(variable, "x")]);
        let said = String::from_utf8_lossy(&refused.stderr);
        assert_eq!(refused.status.code(), Some(2), "{said}");
        assert!(said.contains(&format!("{variable} is not a setting; the nearest is {nearest}")), "{said}");
    }
    assert_eq!(output(&["serve", "--adress", "127.0.0.1:0"], &[]).status.code(), Some(2));
}

#[test]
fn verify_bad_values_are_refused_with_their_variable() {
    for (variable, value) in [
        ("RAMWRIGHT_ADDRESS", "localhost"),
        ("RAMWRIGHT_LOG_FORMAT", "yaml"),
        ("RAMWRIGHT_LOG_FILTER", "ramwright=loud"),
        ("RAMWRIGHT_CALCULATION_THREADS", "0"),
        ("RAMWRIGHT_CALCULATION_QUEUE", "many"),
        ("RAMWRIGHT_CALCULATION_TIMEOUT_S", "-1"),
        ("RAMWRIGHT_HEADER_TIMEOUT_S", "0"),
        ("RAMWRIGHT_BODY_TIMEOUT_S", "NaN"),
        ("RAMWRIGHT_IDLE_TIMEOUT_S", "1e9"),
        ("RAMWRIGHT_BODY_LIMIT_BYTES", "1"),
        ("RAMWRIGHT_CONNECTIONS_MAX", "1.5"),
        ("RAMWRIGHT_REQUESTS_MAX", ""),
        ("RAMWRIGHT_CORS_ORIGINS", "portal.example"),
        ("RAMWRIGHT_CORS_ORIGINS", "https://portal.example/path"),
        ("RAMWRIGHT_DRAIN_TIMEOUT_S", "soon"),
    ] {
        let refused = output(&["serve"], &[(variable, value)]);
        let said = String::from_utf8_lossy(&refused.stderr);
        assert_eq!(refused.status.code(), Some(2), "{variable}={value}: {said}");
        assert!(said.contains(variable), "{variable}={value}: {said}");
    }
}

#[test]
fn verify_what_cannot_be_started_says_why() {
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    let refused = output(&["serve"], &[("RAMWRIGHT_ADDRESS", &address)]);
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(refused.status.code() == Some(1) && said.contains(&format!("cannot listen on {address}")), "{said}");
    let free = [("RAMWRIGHT_ADDRESS", "127.0.0.1:0"), ("RAMWRIGHT_CATALOGUES", "/nowhere/at/all")];
    let refused = output(&["serve"], &free);
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(refused.status.code() == Some(1) && said.contains("/nowhere/at/all"), "{said}");
}

#[test]
fn verify_the_log_tells_routes_and_never_what_was_asked() {
    let mut serving = Serving::start(&[]);
    assert!(get(serving.address, "/v1/units?secret_parameter=1").starts_with("HTTP/1.1 400"));
    assert!(get(serving.address, "/v1/catalogues/secret_name").starts_with("HTTP/1.1 404"));
    assert!(get(serving.address, "/secret_path").starts_with("HTTP/1.1 404"));
    for route in ["/v1/units", "/v1/catalogues/{name}", "unmatched"] {
        let line = serving.log_line("\"request\"");
        assert!(line.contains(&format!("\"route\":\"{route}\"")) && !line.contains("secret"), "{line}");
        assert!(line.contains("\"request_id\":\"") && line.contains("\"status\":4"), "{line}");
    }
}

#[test]
fn verify_help_names_every_setting_and_the_cautions() {
    let help = output(&["--help"], &[]);
    let text = String::from_utf8(help.stdout).unwrap();
    for part in [
        "RAMWRIGHT_ADDRESS",
        "RAMWRIGHT_DRAIN_TIMEOUT_S",
        "healthcheck",
        "replay",
        "demo",
        "oil alone",
        "competent engineer",
    ] {
        assert!(text.contains(part), "{part}");
    }
}
