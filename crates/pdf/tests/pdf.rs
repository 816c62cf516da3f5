//! What becomes a PDF, what is in it, and what cannot break it.

#![expect(clippy::unwrap_used, reason = "a test stops at what it does not expect")]

mod support;

use ramwright_pdf::pdf;
use ramwright_report::document::{
    Block, CheckBlock, Column, Compared, Document, Figure, Meaning, Paper, StepRow, Table,
};
use ramwright_report::{Math, WorkedLine, calculation, site_sheet};

const HOSTILE: &str = "#eval(\"1\") $x^2$ *b* _i_ \\ `raw` <label> @ref [a] {b} // # = head\n- item\u{0}\u{7}\u{202e}abc \u{5d0}\u{5d1}\u{5d2} \u{627}\u{644}\u{633} \u{6f22}\u{5b57} e\u{301} \u{1f3d7} \u{e000} \u{200d} &lt;";

fn document(blocks: Vec<Block>) -> Document {
    Document {
        kind: "calculation",
        heading: "Lift calculation",
        title: HOSTILE.to_owned(),
        running_head: HOSTILE.to_owned(),
        running_foot: vec![HOSTILE.to_owned(), "W".repeat(400)],
        paper: Paper::A4,
        blocks,
    }
}

fn table(columns: usize, rows: usize, cell: &str) -> Table {
    let column = |index: usize| Column { head: format!("{cell} {index}"), numbers: index % 2 == 1 };
    Table {
        kind: "hostile",
        caption: cell.to_owned(),
        columns: (0..columns).map(column).collect(),
        rows: (0..rows).map(|row| vec![format!("{row} {cell}"); columns]).collect(),
    }
}

fn symbol(base: &str, below: Option<&str>) -> Math {
    Math::Symbol { base: base.to_owned(), below: below.map(str::to_owned) }
}

fn nested(depth: usize) -> Math {
    (0..depth).fold(symbol("x", None), |inner, _| Math::Root { of: Box::new(inner) })
}

fn line(formula: Math) -> WorkedLine {
    let result =
        Math::Quantity { text: HOSTILE.to_owned(), power: Some("\u{2212}12".to_owned()), unit: HOSTILE.to_owned() };
    WorkedLine {
        formula,
        substitution: Math::Row { items: Vec::new() },
        result,
        root: false,
        source: HOSTILE.to_owned(),
        standing: "published",
    }
}

fn hostile_blocks(text: &str) -> Vec<Block> {
    let hostile = || text.to_owned();
    let figure = Figure {
        name: hostile(),
        caption: hostile(),
        description: hostile(),
        svg: "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"20mm\" viewBox=\"0 0 40 20\" font-family=\"sans-serif\"><rect width=\"40\" height=\"20\" fill=\"none\" stroke=\"currentColor\"/><text x=\"2\" y=\"9\" font-size=\"4\">Drawn 123</text></svg>".to_owned(),
    };
    let check = CheckBlock {
        anchor: hostile(),
        id: hostile(),
        subject: hostile(),
        title: hostile(),
        asks: hostile(),
        status: "not_checked",
        status_word: "not checked",
        compared: Some(Compared { demand: hostile(), limit: hostile(), utilisation: hostile() }),
        basis: hostile(),
        lines: vec![line(symbol(text, Some(text))), line(Math::Row { items: Vec::new() })],
        symbols: vec![Meaning { symbol: symbol("", None), words: hostile() }],
        notes: vec![(hostile(), hostile())],
        others: Some(table(7, 2, text)),
    };
    let step = StepRow {
        number: hostile(),
        title: hostile(),
        text: hostile(),
        who: hostile(),
        check: hostile(),
        hold_point: true,
        figure: Some(figure.clone()),
        readings: table(10, 12, text),
        stands: vec![hostile()],
    };
    vec![
        Block::Heading { level: 9, id: hostile(), text: hostile() },
        Block::Paragraph { text: hostile() },
        Block::Banner { status: "fail", word: hostile(), text: hostile() },
        Block::Facts { rows: vec![(hostile(), hostile())] },
        Block::Facts { rows: Vec::new() },
        Block::Table(table(3, 3, text)),
        Block::Table(table(0, 3, text)),
        Block::Table(table(3, 0, text)),
        Block::List { large: true, items: vec![hostile()] },
        Block::List { large: false, items: Vec::new() },
        Block::Lines { lines: Vec::new(), symbols: Vec::new() },
        Block::Check(Box::new(check)),
        Block::Figure(figure),
        Block::Step(Box::new(step)),
        Block::SignOff { roles: vec![hostile()], fields: vec![hostile(), hostile()] },
        Block::SignOff { roles: Vec::new(), fields: Vec::new() },
        Block::PageBreak,
        Block::PageBreak,
    ]
}

fn pages(pdf: &[u8]) -> usize {
    assert!(pdf.starts_with(b"%PDF-"));
    let count = |needle: &[u8]| pdf.windows(needle.len()).filter(|window| *window == needle).count();
    count(b"/Type/Page\n") + count(b"/Type/Page/") + count(b"/Type /Page\n")
}

#[test]
fn verify_the_same_document_gives_the_same_bytes() {
    let [calculation, sheet] =
        support::with_material("bedplate", Paper::Letter, |material| [calculation(material), site_sheet(material)]);
    for document in [calculation, sheet] {
        let first = pdf(&document).unwrap();
        assert!(0 < pages(&first));
        assert!(first == pdf(&document).unwrap(), "{} differs", document.kind);
    }
}

#[test]
fn verify_an_empty_document_has_a_page() {
    assert_eq!(pages(&pdf(&document(Vec::new())).unwrap()), 1);
}

#[test]
fn verify_no_text_is_markup() {
    assert!(0 < pages(&pdf(&document(hostile_blocks(HOSTILE))).unwrap()));
    assert!(0 < pages(&pdf(&document(hostile_blocks(""))).unwrap()));
    assert!(0 < pages(&pdf(&document(hostile_blocks(&"W".repeat(300)))).unwrap()));
}

#[test]
fn verify_a_drawing_reaches_no_file() {
    for href in [
        "/etc/passwd",
        "drawing.svg",
        "file:///etc/passwd",
        "data:image/png;base64,iVBORw0KGgo=",
        "http://127.0.0.1/x.png",
    ] {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 9\"><image href=\"{href}\" width=\"5\" height=\"5\"/></svg>"
        );
        let figure = Figure { name: String::new(), caption: String::new(), description: String::new(), svg };
        assert!(pdf(&document(vec![Block::Figure(figure)])).is_err(), "{href}");
    }
}

#[test]
fn verify_a_long_table_breaks() {
    let blocks = vec![Block::Table(table(10, 5_000, "a b"))];
    assert!(50 < pages(&pdf(&document(blocks)).unwrap()));
}

#[test]
fn verify_mathematics_too_deep_is_an_error() {
    let lines = |depth| vec![Block::Lines { lines: vec![line(nested(depth))], symbols: Vec::new() }];
    assert!(pdf(&document(lines(10))).is_ok());
    assert!(pdf(&document(lines(100))).is_err());
}
