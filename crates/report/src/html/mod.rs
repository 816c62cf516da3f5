//! A document as one HTML page that needs nothing else: styles and drawings stand in it, and it asks nobody for anything.

mod blocks;
mod element;
mod math;

use crate::document::{Document, Paper};
use element::Page;

/// The styles of every page; they never change with its contents.
const STYLES: &str = include_str!("page.css");

/// A page, and the styles that a content policy must let through.
#[derive(Clone, Debug, PartialEq)]
pub struct HtmlPage {
    /// The page.
    pub text: String,
    /// The contents of each `<style>` element in it.
    pub styles: Vec<String>,
}

/// Writes a document as HTML.
pub fn html(document: &Document) -> HtmlPage {
    let styles = vec![STYLES.to_owned(), page_styles(document)];
    let mut page = Page::with_capacity(256 * 1024);
    page.raw("<!DOCTYPE html>\n").open("html", &[("lang", "en")]).open("head", &[]);
    page.raw("<meta charset=\"utf-8\">");
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
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
    HtmlPage { text: page.finish(), styles }
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
        css_text(&format!("{}  {}", document.heading, document.running_head)),
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
            written.push_str(&format!("\\{:x} ", u32::from(mark)));
        }
    }
    written.push('"');
    written
}
