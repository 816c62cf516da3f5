//! The rules of the workspace that no compiler checks: which crate may use which, and what a public formula says of itself.

use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// The platform that is built for: packages of others need not be here.
fn host() -> String {
    let output = Command::new("rustc").arg("-vV").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

fn metadata() -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--filter-platform", &host()])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Names of the normal dependencies of a package, resolved.
fn normal_dependencies(metadata: &Value, package: &str) -> BTreeSet<String> {
    let node =
        metadata["resolve"]["nodes"].as_array().unwrap().iter().find(|node| name_of(metadata, &node["id"]) == package);
    let normal =
        |dependency: &&Value| dependency["dep_kinds"].as_array().unwrap().iter().any(|kind| kind["kind"].is_null());
    node.unwrap()["deps"]
        .as_array()
        .unwrap()
        .iter()
        .filter(normal)
        .map(|dependency| name_of(metadata, &dependency["pkg"]))
        .collect()
}

fn name_of(metadata: &Value, id: &Value) -> String {
    let package = metadata["packages"].as_array().unwrap().iter().find(|package| package["id"] == *id);
    package.unwrap()["name"].as_str().unwrap().to_owned()
}

/// Every package that a package needs to run.
fn all_dependencies(metadata: &Value, package: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open = vec![package.to_owned()];
    while let Some(next) = open.pop() {
        for dependency in normal_dependencies(metadata, &next) {
            if found.insert(dependency.clone()) {
                open.push(dependency);
            }
        }
    }
    found
}

#[test]
fn verify_arrows_go_one_way() {
    let allowed: &[(&str, &[&str])] = &[
        ("ramwright-units", &[]),
        ("ramwright-engine", &["ramwright-units"]),
        ("ramwright-api", &["ramwright-engine", "ramwright-units"]),
        ("ramwright-report", &["ramwright-engine", "ramwright-units"]),
        ("ramwright-pdf", &["ramwright-report", "ramwright-units"]),
        ("ramwright-client", &["ramwright-api", "ramwright-engine", "ramwright-units"]),
        (
            "ramwright-server",
            &[
                "ramwright-api",
                "ramwright-client",
                "ramwright-engine",
                "ramwright-pdf",
                "ramwright-report",
                "ramwright-units",
            ],
        ),
    ];
    let metadata = metadata();
    for (package, may_use) in allowed {
        let own: BTreeSet<String> =
            normal_dependencies(&metadata, package).into_iter().filter(|name| name.starts_with("ramwright-")).collect();
        let wrong: Vec<_> = own.iter().filter(|name| !may_use.contains(&name.as_str())).collect();
        assert!(wrong.is_empty(), "{package} may not use {wrong:?}");
    }
}

#[test]
fn verify_the_engine_knows_no_network_and_no_async() {
    let dependencies = all_dependencies(&metadata(), "ramwright-engine");
    for banned in ["tokio", "axum", "hyper", "tower", "reqwest", "tracing", "rand"] {
        assert!(!dependencies.contains(banned), "the engine needs {banned}");
    }
}

/// The files of a folder, kernels left out: their items are private.
fn sources(folder: &Path, files: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            if path.file_name().is_none_or(|name| name != "kernel") {
                sources(&path, files);
            }
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
}

#[test]
fn verify_public_calculations_name_source_and_validity() {
    // What only orders, writes or names things has no source.
    const NOT_A_FORMULA: &[&str] =
        &["point_order", "standing_cautions", "without_point", "common_geometry", "circuit_input", "room_of_one"];
    let mut files = Vec::new();
    for folder in ["load", "ram", "circuit", "packing_lift", "size", "verify", "plan"] {
        sources(&root().join("crates/engine/src").join(folder), &mut files);
    }
    let mut seen = 0;
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        let mut comment = String::new();
        for line in text.lines() {
            if let Some(words) = line.strip_prefix("///") {
                comment.push_str(words);
                comment.push('\n');
            } else if let Some(rest) = line.strip_prefix("pub fn ") {
                let name = rest.split(['(', '<']).next().unwrap();
                seen += 1;
                if !NOT_A_FORMULA.contains(&name) {
                    for heading in [" # Source", " # Validity"] {
                        assert!(comment.contains(heading), "{}: `{name}` lacks{heading}", file.display());
                    }
                    if rest.contains("-> Result<")
                        || text.contains(&format!("pub fn {name}(\n")) && comment.contains("Err")
                    {
                        assert!(comment.contains(" # Errors"), "{}: `{name}` lacks # Errors", file.display());
                    }
                }
                comment.clear();
            } else if !line.starts_with("#[") {
                comment.clear();
            }
        }
    }
    assert!(15 < seen, "only {seen} public functions were found");
}

#[test]
fn verify_files_stay_readable() {
    const LONGEST: usize = 450;
    let mut files = Vec::new();
    for crate_name in ["units", "engine", "api", "report", "pdf", "server", "client"] {
        sources(&root().join("crates").join(crate_name).join("src"), &mut files);
    }
    for file in files {
        let lines = std::fs::read_to_string(&file).unwrap().lines().count();
        assert!(lines <= LONGEST, "{} has {lines} lines", file.display());
    }
}
