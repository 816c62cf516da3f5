#![allow(missing_docs, clippy::all, clippy::pedantic, clippy::unwrap_used, clippy::print_stdout, clippy::disallowed_methods, clippy::indexing_slicing, clippy::expect_used)]
#[path = "../tests/support/mod.rs"]
mod support;
use ramwright_report::document::Paper;
use ramwright_report::{calculation, site_sheet};
use std::time::Instant;
fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let out = args[0].clone();
    let tries: u32 = args.get(1).map_or(1, |n| n.parse().unwrap());
    let names: Vec<&str> = args.get(2).map_or(vec!["transformer", "bedplate", "link_press"], |n| vec![n.as_str()]);
    for name in names {
        for (paper, word) in [(Paper::A4, "a4"), (Paper::Letter, "letter")] {
            let docs = support::with_material(name, paper, |m| [calculation(m), site_sheet(m)]);
            for d in docs {
                let mut best = f64::INFINITY;
                let mut first = 0.0;
                let mut bytes = Vec::new();
                for i in 0..tries {
                    let start = Instant::now();
                    bytes = match ramwright_pdf::pdf(&d) { Ok(b) => b, Err(e) => { println!("{e}"); Vec::new() } };
                    let t = start.elapsed().as_secs_f64() * 1e3;
                    if i == 0 { first = t; }
                    best = best.min(t);
                }
                println!("{name} {} {word}: first {first:.1} best {best:.1} ms, {} bytes", d.kind, bytes.len());
                std::fs::write(format!("{out}/{name}-{}-{word}.pdf", d.kind), bytes).unwrap();
            }
        }
    }
}
