//! The command `replay`.

use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Output, Stdio};

use crate::support::{output, program};

const SAVED: &str = include_str!("../../openapi/examples/replay.json");

/// A file that is gone when the test ends.
struct Saved(PathBuf);

impl Saved {
    fn new(name: &str, text: &str) -> Self {
        let path = std::env::temp_dir().join(format!("ramwright-replay-{name}-{}", std::process::id()));
        fs::write(&path, text).unwrap();
        Self(path)
    }

    fn replayed(&self, variables: &[(&str, &str)]) -> (Option<i32>, String, String) {
        said(&output(&["replay", &self.0.to_string_lossy()], variables))
    }
}

impl Drop for Saved {
    fn drop(&mut self) {
        // It may be gone already.
        let _ = fs::remove_file(&self.0);
    }
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn verify_a_saved_answer_is_the_same() {
    let (code, told, complained) = Saved::new("same", SAVED).replayed(&[]);
    assert_eq!((code, complained.as_str()), (Some(0), ""), "{told}");
    assert!(told.starts_with("same: share_load\n") && told.contains("sha256:"), "{told}");
    let mut child = program().args(["replay", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(SAVED.as_bytes()).unwrap();
    let piped = child.wait_with_output().unwrap();
    assert_eq!((piped.status.code(), String::from_utf8(piped.stdout).unwrap()), (Some(0), told));
}

#[test]
fn verify_what_differs_is_shown_with_both_values() {
    let edited = SAVED.replacen("\"verdict\":{\"status\":\"pass\"", "\"verdict\":{\"status\":\"\\u001b[2J\"", 1);
    assert_ne!(edited, SAVED);
    let (code, told, _) = Saved::new("edited", &edited).replayed(&[]);
    assert_eq!(code, Some(1), "{told}");
    assert!(told.starts_with("differs: share_load, in result or verdict\n"), "{told}");
    assert!(
        told.contains("\n#/verdict/status\n  saved          \"\\u001b[2J\"\n  now            \"pass\"\n"),
        "{told}"
    );
    assert!(told.contains("  why            this version gives another verdict"), "{told}");
    let version = SAVED.replacen("\"engine_version\":\"", "\"engine_version\":\"0.0.", 1);
    let (code, told, _) = Saved::new("older", &version).replayed(&[]);
    assert!(code == Some(1) && told.contains("but result and verdict are the same"), "{told}");
}

#[test]
fn verify_a_request_that_is_refused_now_is_shown_with_its_faults() {
    let saved = r#"{"operation": "size_ram_set", "request": {"catalogue": "north_yard"}, "catalogue": {"name": "north_yard", "digest": "x"}}"#;
    let (code, told, _) = Saved::new("refused", saved).replayed(&[]);
    assert_eq!(code, Some(1), "{told}");
    assert!(told.starts_with("refused: ") && told.contains("the catalogue north_yard is not here"), "{told}");
    assert!(told.contains("\n  #/request/load_case: this field is required"), "{told}");
}

#[test]
fn verify_what_cannot_be_replayed_says_why() {
    let (code, told, complained) = said(&output(&["replay", "/nowhere/at/all.json"], &[]));
    assert!(
        code == Some(2) && told.is_empty() && complained.contains("cannot read /nowhere/at/all.json"),
        "{complained}"
    );
    let (code, _, complained) = Saved::new("cut", SAVED.split_at(900).0).replayed(&[]);
    assert!(code == Some(2) && complained.contains("not JSON"), "{complained}");
    let (code, _, complained) = Saved::new("none", r#"{"operation": "plan_lifts", "reqest": {}}"#).replayed(&[]);
    assert_eq!(code, Some(2), "{complained}");
    for part in
        ["#/operation: `plan_lifts` is no calculation", "#/request: this field is required", "was `reqest` meant"]
    {
        assert!(complained.contains(part), "{complained}");
    }
    let small = [("RAMWRIGHT_BODY_LIMIT_BYTES", "1024")];
    let (code, _, complained) = Saved::new("large", SAVED).replayed(&small);
    assert!(code == Some(2) && complained.contains("larger than 4096 bytes"), "{complained}");
    let (code, _, complained) = Saved::new("yard", SAVED).replayed(&[("RAMWRIGHT_CATALOGUES", "/nowhere/at/all")]);
    assert!(code == Some(2) && complained.contains("/nowhere/at/all"), "{complained}");
    assert_eq!(output(&["replay"], &[]).status.code(), Some(2));
}
