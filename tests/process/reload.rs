//! Catalogues read again on SIGHUP, keys, and what the log says of a request.

use std::io::Write;
use std::path::PathBuf;
use std::process::Stdio;

use crate::support::{Serving, connect, get, output, program, read_all};

/// A folder of its own; removed when dropped.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("ramwright-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn catalogue(&self, name: &str, title: &str, rams: &str) {
        let folder = self.0.join(name);
        std::fs::create_dir_all(&folder).unwrap();
        let head = format!("name = \"{name}\"\ntitle = \"{title}\"\norigin = \"Invented.\"\ncurrency = \"EUR\"\n");
        std::fs::write(folder.join("catalogue.toml"), head).unwrap();
        std::fs::write(folder.join("rams.csv"), rams).unwrap();
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What is left over in the folder for such files harms nobody.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

#[test]
fn verify_catalogues_are_read_again_and_the_last_good_ones_stay() {
    let folder = Folder::new("reload");
    folder.catalogue("north_yard", "North yard", "");
    let path = folder.0.to_str().unwrap();
    let mut serving = Serving::start(&[("RAMWRIGHT_CATALOGUES", path), ("RAMWRIGHT_DRAIN_SETTLE_S", "0")]);
    assert!(get(serving.address, "/v1/catalogues").contains("north_yard"));
    folder.catalogue("south_yard", "South yard", "");
    assert!(!get(serving.address, "/v1/catalogues").contains("south_yard"), "nobody has asked for it yet");
    serving.signal("HUP");
    serving.log_line("have been read again");
    assert!(get(serving.address, "/v1/catalogues").contains("south_yard"));
    // Two faults: both are named, and the service goes on with what it has.
    folder.catalogue("south_yard", "South yard", "id,nonsense,rubbish\n");
    serving.signal("HUP");
    let line = serving.log_line("could not be read again");
    assert!(line.contains("nonsense") && line.contains("rubbish") && line.contains("south_yard"), "{line}");
    assert!(get(serving.address, "/v1/catalogues").contains("south_yard"));
    assert!(get(serving.address, "/health/ready").starts_with("HTTP/1.1 200"));
    folder.catalogue("south_yard", "South yard, mended", "");
    serving.signal("HUP");
    serving.log_line("have been read again");
    assert!(get(serving.address, "/v1/catalogues").contains("South yard, mended"));
    serving.signal("TERM");
    assert_eq!(serving.end().0.code(), Some(0));
}

#[test]
fn verify_no_request_is_dropped_while_catalogues_are_read_again() {
    let folder = Folder::new("reload-load");
    folder.catalogue("north_yard", "North yard", "");
    let mut serving = Serving::start(&[("RAMWRIGHT_CATALOGUES", folder.0.to_str().unwrap())]);
    let address = serving.address;
    let asking = std::thread::spawn(move || {
        (0..200).filter(|_| get(address, "/v1/catalogues/north_yard").starts_with("HTTP/1.1 200")).count()
    });
    for _ in 0..20 {
        serving.signal("HUP");
        serving.log_line("have been read again");
    }
    assert_eq!(asking.join().unwrap(), 200);
}

const KEY: &str = "an-invented-key-for-the-north-desk";

/// What `hash-key` prints for a key, and with which code it ends.
fn hashed(key: &str) -> (Option<i32>, String) {
    let mut command = program();
    command.arg("hash-key").stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    child.stdin.take().unwrap().write_all(key.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    (output.status.code(), String::from_utf8(output.stdout).unwrap())
}

#[test]
fn verify_a_hashed_key_opens_the_service_and_its_name_is_logged() {
    let (code, digest) = hashed(&format!("{KEY}\n"));
    assert_eq!(code, Some(0));
    assert_eq!(hashed("too short").0, Some(1));
    let folder = Folder::new("keys");
    let file = folder.0.join("keys");
    std::fs::write(&file, format!("north-desk {digest}")).unwrap();
    let mut serving = Serving::start(&[("RAMWRIGHT_API_KEYS_FILE", file.to_str().unwrap())]);
    assert!(get(serving.address, "/v1/units").starts_with("HTTP/1.1 401"));
    let body = r#"{"load_case":{"weight":"41.5 t","travel":"10 mm","points":[{"id":"hidden-name"},{"id":"2"}]}}"#;
    let mut stream = connect(serving.address);
    let head = format!(
        "POST /v1/load-shares?format=csv HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: application/json\r\n\
         Authorization: Bearer {KEY}\r\ntraceparent: 00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01\r\n"
    );
    write!(stream, "{head}Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
    assert!(read_all(stream).starts_with("HTTP/1.1 200"));
    let line = serving.log_line("\"share_load\"");
    for told in [
        "\"key\":\"north-desk\"",
        "\"trace_id\":\"4bf92f3577b34da6a3ce929d0e0e4736\"",
        "\"route\":\"/v1/load-shares\"",
        "\"verdict\":\"",
        "\"request_digest\":\"",
        "\"result_digest\":\"",
    ] {
        assert!(line.contains(told), "{told} is not in {line}");
    }
    for kept in [KEY, digest.trim(), "hidden-name", "41.5", "format=csv"] {
        assert!(!line.contains(kept), "{kept} is in {line}");
    }
}

#[test]
fn verify_a_faulty_file_of_keys_stops_the_start() {
    let folder = Folder::new("bad-keys");
    let file = folder.0.join("keys");
    std::fs::write(&file, "north nothing\nsouth\n").unwrap();
    let path = file.to_str().unwrap();
    let refused = output(&["serve", "--address", "127.0.0.1:0"], &[("RAMWRIGHT_API_KEYS_FILE", path)]);
    let said = String::from_utf8_lossy(&refused.stderr);
    assert_eq!(refused.status.code(), Some(1), "{said}");
    assert!(said.contains("line 1") && said.contains("line 2"), "{said}");
    let absent = output(&["serve"], &[("RAMWRIGHT_API_KEYS_FILE", "/nonexistent/keys")]);
    assert_eq!(absent.status.code(), Some(1));
}
