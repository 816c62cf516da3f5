//! A document as one HTML page that needs nothing else: styles and drawings stand in it, and it asks nobody for anything.

mod blocks;
mod element;
mod math;

use crate::document::{Document, Paper};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use element::Page;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// The styles of every page; they never change with its contents.
const STYLES: &str = include_str!("page.css");

/// A page, and what a browser may do with it.
#[derive(Clone, Debug, PartialEq)]
pub struct HtmlPage {
    /// The page.
    pub text: String,
    /// The content policy that it carries and that it is to be sent with: its own styles, and nothing else.
    pub policy: String,
}

/// Writes a document as HTML.
pub fn html(document: &Document) -> HtmlPage {
    let styles = [STYLES.to_owned(), page_styles(document)];
    let policy = policy(&styles);
    let mut page = Page::with_capacity(256 * 1024);
    page.raw("<!DOCTYPE html>\n").open("html", &[("lang", "en")]).open("head", &[]);
    page.raw("<meta charset=\"utf-8\">");
    page.raw("<meta name=\"color-scheme\" content=\"light dark\">");
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
    page.open("meta", &[("http-equiv", "Content-Security-Policy"), ("content", &policy)]);
    page.leaf("title", &[], &format!("{}: {}", document.heading, document.title));
    for style in &styles {
        page.raw("<style>").raw(style).raw("</style>");
    }
    page.close("head").open("body", &[("class", document.kind)]).open("main", &[]);
    page.open("header", &[]).leaf("p", &[("class", "kind")], document.heading).leaf("h1", &[], &document.title);
    page.leaf("p", &[("class", "running")], &document.running_head).close("header");
    blocks::write(&mut page, &document.blocks);
    page.open("footer", &[]);
    for line in &document.running_foot {
        page.leaf("p", &[], line);
    }
    page.close("footer").close("main").close("body").close("html").raw("\n");
    HtmlPage { text: page.finish(), policy }
}

/// Lets these styles through, and no script, picture, font or request.
fn policy(styles: &[String]) -> String {
    let hashes = styles.iter().map(|style| format!(" 'sha256-{}'", STANDARD.encode(Sha256::digest(style.as_bytes()))));
    format!("default-src 'none'; style-src{}; base-uri 'none'; form-action 'none'", hashes.collect::<String>())
}

/// Size and margins of the printed pages, with what stands on each of them.
fn page_styles(document: &Document) -> String {
    let size = match document.paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let foot = document.running_foot.join("\n");
    format!(
        "@page{{size:{size};@top-left{{content:{}}}@bottom-left{{content:{}}}}}",
        css_text(&format!("{}: {}", document.heading, document.running_head)),
        css_text(&foot)
    )
}

/// A text as a string of CSS: everything but plain letters, digits and spaces as its code.
fn css_text(text: &str) -> String {
    let mut written = String::from("\"");
    for mark in text.chars() {
        if mark.is_ascii_alphanumeric() || mark == ' ' {
            written.push(mark);
        } else {
            // Writing to a string cannot fail.
            let _ = write!(written, "\\{:x} ", u32::from(mark));
        }
    }
    written.push('"');
    written
}
