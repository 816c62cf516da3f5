//! Prints the calculation and the site sheet of a committed example: `print transformer a4 FOLDER`, with how long each took.

#[path = "../tests/support/mod.rs"]
mod support;

use ramwright_report::document::Paper;
use ramwright_report::{calculation, site_sheet};
use std::time::Instant;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [example, paper, folder] = arguments.as_slice() else {
        eprintln!("print EXAMPLE a4|letter FOLDER");
        std::process::exit(2);
    };
    let paper = if paper == "letter" { Paper::Letter } else { Paper::A4 };
    let documents = support::with_material(example, paper, |material| [calculation(material), site_sheet(material)]);
    for document in documents {
        for round in ["first", "again"] {
            let start = Instant::now();
            let bytes = ramwright_pdf::pdf(&document).unwrap();
            eprintln!("{example} {} {round}: {:?}, {} bytes", document.kind, start.elapsed(), bytes.len());
            std::fs::write(format!("{folder}/{example}-{}.pdf", document.kind), bytes).unwrap();
        }
        std::fs::write(format!("{folder}/{example}-{}.html", document.kind), ramwright_report::html(&document).text)
            .unwrap();
        std::fs::write(format!("{folder}/{example}-{}.json", document.kind), serde_json::to_vec(&document).unwrap())
            .unwrap();
    }
}
