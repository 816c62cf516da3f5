//! That the committed descriptions are those of the types, and those that the service sends.

use ramwright_tests::Service;

const COMMITTED: [(&str, &str, &str); 2] = [
    ("3.1", "openapi/openapi.json", include_str!("../../openapi/openapi.json")),
    ("3.0", "openapi/openapi-3.0.json", include_str!("../../openapi/openapi-3.0.json")),
];

pub(crate) async fn verify_the_committed_descriptions_are_those_served(service: &'static Service) {
    for ((version, file, committed), path) in COMMITTED.into_iter().zip(["/openapi.json", "/openapi-3.0.json"]) {
        let served = service.get(path).await;
        served.answer();
        if let Some((number, old, new)) = first_difference(committed, served.text()) {
            panic!(
                "{file} is not what the service sends at {path}; from line {number} on it has\n- {old}\n+ {new}\n\
                 Put it right with: cargo run -p ramwright-server -- openapi --version {version} > {file}"
            );
        }
    }
}

/// The first line in which two texts differ, with both lines.
fn first_difference<'a>(a: &'a str, b: &'a str) -> Option<(usize, &'a str, &'a str)> {
    if a == b {
        return None;
    }
    let (mut old, mut new) = (a.split('\n'), b.split('\n'));
    for number in 1.. {
        match (old.next(), new.next()) {
            (None, None) => break,
            (one, other) if one == other => {}
            (one, other) => return Some((number, one.unwrap_or("(end)"), other.unwrap_or("(end)"))),
        }
    }
    unreachable!("two texts that differ, differ in a line")
}
