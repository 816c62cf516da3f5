//! What it costs, what a reader must know, and room for signatures.

use super::Material;
use super::parts::{list, paragraph, part};
use crate::document::{Block, Table};
use crate::glossary::function_definition;
use crate::words::{self, given, or_none};
use ramwright_engine::price::{Estimate, PriceItem};
use std::collections::BTreeSet;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    if let Some(estimate) = material.subject.estimate {
        blocks.extend(price(material, estimate));
    }
    blocks.extend(functions(material));
    blocks.push(part("cautions", "Cautions, and what is not covered"));
    blocks.push(list(material.envelope.cautions.iter().map(|caution| caution.text.to_string()).collect()));
    blocks.push(part("again", "To compute it again"));
    match material.envelope.permalink {
        Some(address) => blocks.push(Block::Address { text: address.to_owned() }),
        None => {
            blocks
                .push(paragraph("The request is too long for an address: send it again, or replay the saved answer."));
        }
    }
    blocks.push(part("sign-off", "Sign-off"));
    blocks.push(paragraph(
        "Left blank: whoever signs fills it in. The category of the design check is for the parties to agree; none is suggested \
         here. A change of any input makes another calculation with other digests.",
    ));
    let blank = ["Category of the design check", "Seal, where local law asks for one"];
    blocks.push(Block::Facts { rows: blank.map(|name| (name.to_owned(), "\u{a0}".to_owned())).into() });
    blocks.push(Block::SignOff {
        roles: ["Prepared", "Checked", "Approved"].map(str::to_owned).into(),
        fields: ["Name", "Organisation", "Date", "Signature"].map(str::to_owned).into(),
    });
    blocks
}

/// What the named functions in the lines compute, so that they can be worked out with a calculator.
fn functions(material: &Material<'_>) -> Vec<Block> {
    let of_shares = material.subject.load_shares().into_iter().flat_map(|shares| &shares.lines);
    let lines = material.subject.checks().flat_map(|check| &check.lines).chain(of_shares);
    let names: BTreeSet<&str> = lines.flat_map(|line| called(line.expression.as_str())).collect();
    let told: Vec<_> = names.into_iter().filter_map(function_definition).map(str::to_owned).collect();
    if told.is_empty() {
        Vec::new()
    } else {
        vec![part("functions", "Functions in the lines, in SI units"), list(told)]
    }
}

/// The names of functions in an expression that are printed by their names.
fn called(expression: &str) -> impl Iterator<Item = &str> {
    let word = |mark: char| mark.is_ascii_alphanumeric() || mark == '_';
    let parts = expression.split('(').map(move |part| part.rsplit(|mark| !word(mark)).next().unwrap_or_default());
    parts.filter(|name| !matches!(*name, "" | "stress_on" | "pressure_on" | "bending_in" | "side_of" | "pow4" | "sqrt"))
}

fn price(material: &Material<'_>, estimate: &Estimate) -> Vec<Block> {
    let style = material.style;
    let money = |amount: f64, currency: &str| format!("{}\u{a0}{}", style.fixed(amount, 2), given(currency));
    let mut blocks = vec![part("price", "Bill of items with price")];
    blocks.push(paragraph(format!(
        "{} days of hire; {} days are charged. It is no offer.",
        estimate.hire_days, estimate.days
    )));
    let name = |item: &PriceItem, id: Option<&str>| match id {
        Some(id) => format!("{} {}", words::plain(item), given(id)),
        None => words::plain(item),
    };
    let rows = estimate.rows.iter().map(|row| {
        vec![
            name(&row.item, row.id.as_deref()),
            row.text.to_string(),
            style.shortened(row.quantity, 6).text(),
            words::plain(&row.unit),
            style.shortened(row.unit_rate.amount, 8).text(),
            money(row.amount.amount, &row.amount.currency),
        ]
    });
    let table = Table::new("price", "Priced").texts(&["Item", "How"]).numbers(&["Quantity"]).texts(&["Unit"]);
    blocks.push(Block::Table(table.numbers(&["Rate", "Amount"]).rows(rows)));
    let total =
        estimate.total.as_ref().map_or_else(|| "no total".to_owned(), |total| money(total.amount, &total.currency));
    blocks.push(Block::Facts { rows: vec![("Total of what is priced".to_owned(), total)] });
    let rows = estimate.not_priced.iter().map(|item| {
        let field = or_none(item.field.as_ref().map(ToString::to_string));
        vec![name(&item.item, item.id.as_deref()), item.text.to_string(), field]
    });
    let table =
        Table::new("not-priced", "Not in the total").texts(&["Item", "Why", "Field that would price it"]).rows(rows);
    blocks.push(Block::Table(table));
    blocks
}
