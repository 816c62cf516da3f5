//! The pieces of a document as HTML.

use super::element::Page;
use super::math;
use crate::document::{Block, CheckBlock, Figure, Meaning, StepRow, Table};
use crate::formula::WorkedLine;

pub(super) fn write(page: &mut Page, blocks: &[Block]) {
    let mut lines = 0;
    for block in blocks {
        piece(page, block, &mut lines);
    }
}

fn piece(page: &mut Page, block: &Block, number: &mut u32) {
    match block {
        Block::Heading { level, id, text } => {
            let name = if *level <= 2 { "h2" } else { "h3" };
            page.leaf(name, &[("id", id)], text);
        }
        Block::Paragraph { text } => {
            page.leaf("p", &[], text);
        }
        Block::Banner { status, word, text } => {
            page.open("div", &[("class", &format!("banner {status}"))]);
            page.leaf("p", &[("class", "word")], word).leaf("p", &[], text).close("div");
        }
        Block::Facts { rows } => facts(page, rows),
        Block::Table(content) => table(page, content),
        Block::List { large, items } => list(page, *large, items),
        Block::Lines { lines, symbols } => {
            worked(page, lines, number);
            meanings(page, symbols);
        }
        Block::Check(content) => check(page, content, number),
        Block::Figure(content) => figure(page, content),
        Block::Step(content) => step(page, content),
        Block::Address { text } => {
            page.leaf("p", &[("class", "address")], text);
        }
        Block::SignOff { roles, fields } => sign_off(page, roles, fields),
        Block::PageBreak => {
            page.raw("<div class=\"break\"></div>");
        }
    }
}

fn facts(page: &mut Page, rows: &[(String, String)]) {
    page.open("dl", &[]);
    for (name, value) in rows {
        page.open("div", &[]).leaf("dt", &[], name).leaf("dd", &[], value).close("div");
    }
    page.close("dl");
}

fn list(page: &mut Page, large: bool, items: &[String]) {
    page.open("ul", if large { &[("class", "large")] } else { &[] });
    for item in items {
        page.leaf("li", &[], item);
    }
    page.close("ul");
}

fn table(page: &mut Page, table: &Table) {
    page.open(
        "div",
        &[
            ("class", &format!("wide {}", table.kind)),
            ("tabindex", "0"),
            ("role", "group"),
            ("aria-label", &table.caption),
        ],
    );
    page.open("table", &[("class", table.kind)]);
    if !table.caption.is_empty() {
        page.leaf("caption", &[], &table.caption);
    }
    page.open("thead", &[]).open("tr", &[]);
    for column in &table.columns {
        page.leaf("th", &[("scope", "col"), ("class", class_of(column.numbers))], &column.head);
    }
    page.close("tr").close("thead").open("tbody", &[]);
    for row in &table.rows {
        page.open("tr", &[]);
        for (cell, column) in row.iter().zip(&table.columns) {
            page.leaf("td", &[("class", class_of(column.numbers))], cell);
        }
        page.close("tr");
    }
    page.close("tbody").close("table").close("div");
}

const fn class_of(numbers: bool) -> &'static str {
    if numbers { "n" } else { "t" }
}

fn worked(page: &mut Page, lines: &[WorkedLine], number: &mut u32) {
    for line in lines {
        *number += 1;
        let class = if line.root { "line root" } else { "line" };
        page.open("div", &[("class", class), ("id", &format!("line-{number}"))]);
        page.leaf("span", &[("class", "number")], &format!("({number})"));
        math::write(page, "formula", &line.formula);
        math::write(page, "substitution", &line.substitution);
        math::write(page, "result", &line.result);
        page.leaf("span", &[("class", "source")], &format!("{} ({})", line.source, line.standing)).close("div");
    }
}

fn meanings(page: &mut Page, symbols: &[Meaning]) {
    if symbols.is_empty() {
        return;
    }
    page.raw("<p class=\"symbols\">");
    for (index, meaning) in symbols.iter().enumerate() {
        if index > 0 {
            page.text("; ");
        }
        math::write(page, "symbol", &meaning.symbol);
        page.text(" ").text(&meaning.words);
    }
    page.raw("</p>");
}

fn check(page: &mut Page, check: &CheckBlock, number: &mut u32) {
    page.open(
        "section",
        &[("class", "check"), ("id", &check.anchor), ("data-check", &check.id), ("data-subject", &check.subject)],
    );
    page.open("h3", &[]).text(&check.title).text(" ");
    page.leaf("span", &[("class", &format!("status {}", check.status))], check.status_word).close("h3");
    page.leaf("p", &[("class", "asks")], &check.asks);
    if let Some(compared) = &check.compared {
        let text =
            format!("Demand {}, limit {}, utilisation {}.", compared.demand, compared.limit, compared.utilisation);
        page.leaf("p", &[("class", "compared")], &text);
    }
    worked(page, &check.lines, number);
    meanings(page, &check.symbols);
    page.leaf("p", &[("class", "basis")], &check.basis);
    for (name, text) in &check.notes {
        page.raw("<p class=\"note\">").leaf("strong", &[], name).text(" ").text(text).raw("</p>");
    }
    if let Some(others) = &check.others {
        table(page, others);
    }
    page.close("section");
}

fn figure(page: &mut Page, figure: &Figure) {
    page.open("figure", &[("class", &figure.name)]);
    page.raw(&figure.svg).leaf("figcaption", &[], &figure.caption).close("figure");
}

fn step(page: &mut Page, step: &StepRow) {
    let class = if step.hold_point { "step hold" } else { "step" };
    page.open("section", &[("class", class), ("id", &format!("step-{}", step.number))]);
    page.open("h3", &[])
        .leaf("span", &[("class", "step-number")], &step.number)
        .text(" ")
        .text(&step.title)
        .close("h3");
    page.raw("<div class=\"step-body\">");
    if let Some(drawing) = &step.figure {
        figure(page, drawing);
    }
    page.raw("<div class=\"step-text\">").leaf("p", &[("class", "do")], &step.text);
    page.leaf("p", &[("class", "who")], &step.who).leaf("p", &[("class", "look")], &step.check);
    page.raw("</div></div>");
    table(page, &step.readings);
    for line in &step.stands {
        page.leaf("p", &[("class", "stands")], line);
    }
    if step.hold_point {
        page.raw("<p class=\"release\"><strong>Hold point.</strong> Go on only when released. Name <span class=\"blank\"></span> Time <span class=\"blank short\"></span> Signature <span class=\"blank\"></span></p>");
    }
    page.close("section");
}

fn sign_off(page: &mut Page, roles: &[String], fields: &[String]) {
    page.raw("<div class=\"wide\"><table class=\"sign\"><thead><tr>").raw("<th scope=\"col\"></th>");
    for field in fields {
        page.leaf("th", &[("scope", "col")], field);
    }
    page.raw("</tr></thead><tbody>");
    for role in roles {
        page.raw("<tr>").leaf("th", &[("scope", "row")], role);
        for _ in fields {
            page.raw("<td></td>");
        }
        page.raw("</tr>");
    }
    page.raw("</tbody></table></div>");
}
