//! Formulas side by side, with the gaps that their signs ask for, on as many lines as they need.

use crate::PdfError;
use crate::layout::fonts::Face;
use crate::layout::lines::Piece;
use crate::layout::maths::{Press, append, piece};
use ramwright_report::Math;

/// The gaps around signs, in ems.
const AROUND_RELATION: f32 = 0.28;
const AROUND_OPERATOR: f32 = 0.2;
const AFTER_FUNCTION: f32 = 0.15;

/// What a piece of a row is to its neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    Thing,
    Function,
    Relation,
    Operator,
    /// A sign before what it belongs to.
    Prefix,
    Semicolon,
    /// A parenthesis of a row that is broken within.
    Open,
    Close,
}

struct Item {
    role: Role,
    piece: Piece,
}

/// A row on one line.
pub(crate) fn row(press: Press<'_>, math: &Math) -> Result<Piece, PdfError> {
    let mut items = Vec::new();
    flatten(press, math, None, &mut items)?;
    Ok(joined(press.size, items))
}

/// Formulas that follow one another, on lines no wider than the room.
pub(crate) fn lines(press: Press<'_>, parts: &[&Math], room: f32) -> Result<Vec<Piece>, PdfError> {
    let mut items = Vec::new();
    for math in parts {
        flatten(press, math, None, &mut items)?;
    }
    if width(press.size, &items) <= room {
        return Ok(vec![joined(press.size, items)]);
    }
    items.clear();
    for math in parts {
        flatten(press, math, Some(room), &mut items)?;
    }
    let groups = groups(items);
    let widest = groups.iter().map(|group| width(press.size, group)).fold(0.0, f32::max);
    if room < widest && 0.0 < room {
        // What no line holds is set smaller, not cut.
        return lines(Press { size: press.size * 0.98 * (room / widest).max(0.1), ..press.deeper()? }, parts, room);
    }
    Ok(filled(press.size, groups, room))
}

fn filled(size: f32, groups: Vec<Vec<Item>>, room: f32) -> Vec<Piece> {
    let mut lines = Vec::new();
    let mut line: Vec<Item> = Vec::new();
    for mut group in groups {
        let more = width(size, &line) + AROUND_RELATION * size + width(size, &group);
        if room < more && !line.is_empty() {
            lines.push(joined(size, std::mem::take(&mut line)));
        }
        line.append(&mut group);
    }
    if !line.is_empty() {
        lines.push(joined(size, line));
    }
    lines
}

/// A line may begin with a relation or an operator, and after a semicolon.
fn groups(items: Vec<Item>) -> Vec<Vec<Item>> {
    let mut groups: Vec<Vec<Item>> = Vec::new();
    let mut ends = true;
    for item in items {
        let begins = ends || matches!(item.role, Role::Relation | Role::Operator);
        ends = item.role == Role::Semicolon;
        match groups.last_mut() {
            Some(group) if !begins => group.push(item),
            _ => groups.push(vec![item]),
        }
    }
    groups
}

/// Rows within rows side by side; parentheses wider than the room, if any, are opened.
fn flatten(press: Press<'_>, math: &Math, room: Option<f32>, items: &mut Vec<Item>) -> Result<(), PdfError> {
    let press = press.deeper()?;
    match math {
        Math::Row { items: parts } => parts.iter().try_for_each(|part| flatten(press, part, room, items)),
        Math::Parentheses { of } => {
            let whole = piece(press, math)?;
            if room.is_none_or(|room| whole.width <= room / 2.0) {
                items.push(Item { role: Role::Thing, piece: whole });
                return Ok(());
            }
            items.push(Item { role: Role::Open, piece: press.text("(", Face::Regular) });
            flatten(press, of, room, items)?;
            items.push(Item { role: Role::Close, piece: press.text(")", Face::Regular) });
            Ok(())
        }
        _ => {
            let role = role(math, items.last().map(|item| item.role));
            items.push(Item { role, piece: piece(press, math)? });
            Ok(())
        }
    }
}

fn role(math: &Math, before: Option<Role>) -> Role {
    match math {
        Math::Function { .. } => Role::Function,
        Math::Sign { sign: ";" | "," } => Role::Semicolon,
        Math::Sign { sign: "=" | "<" | ">" | "\u{2264}" | "\u{2265}" | "\u{2248}" } => Role::Relation,
        Math::Sign { .. } => match before {
            Some(Role::Thing | Role::Close) => Role::Operator,
            _ => Role::Prefix,
        },
        _ => Role::Thing,
    }
}

fn gap(left: Role, right: Role) -> f32 {
    match (left, right) {
        (Role::Prefix | Role::Open, _) | (_, Role::Close | Role::Semicolon) => 0.0,
        (Role::Relation, _) | (_, Role::Relation) => AROUND_RELATION,
        (Role::Operator | Role::Semicolon, _) | (_, Role::Operator) => AROUND_OPERATOR,
        (_, Role::Function) => AFTER_FUNCTION,
        _ => 0.0,
    }
}

fn width(size: f32, items: &[Item]) -> f32 {
    let pieces: f32 = items.iter().map(|item| item.piece.width).sum();
    let gaps = items.windows(2).map(|pair| if let [left, right] = pair { gap(left.role, right.role) } else { 0.0 });
    pieces + gaps.sum::<f32>() * size
}

fn joined(size: f32, items: Vec<Item>) -> Piece {
    let mut whole = Piece::default();
    let mut before = None;
    for item in items {
        let space = before.map_or(0.0, |before| gap(before, item.role) * size);
        append(&mut whole, item.piece, space);
        before = Some(item.role);
    }
    whole
}

/// A formula in words on one line, for those who do not see it.
pub(crate) fn spoken(math: &Math) -> String {
    match math {
        Math::Row { items } => items.iter().map(spoken).collect::<Vec<_>>().join(" "),
        Math::Sign { sign } => (*sign).to_owned(),
        Math::Function { name } => name.clone(),
        Math::Symbol { base, below: Some(below) } => format!("{base}_{below}"),
        Math::Symbol { base, below: None } => base.clone(),
        Math::Number { text, power } => spoken_number(text, power.as_deref()),
        Math::Quantity { text, power, unit } => format!("{} {unit}", spoken_number(text, power.as_deref())),
        Math::Fraction { over, under } => format!("({}) / ({})", spoken(over), spoken(under)),
        Math::Parentheses { of } => format!("({})", spoken(of)),
        Math::Root { of } => format!("\u{221a}({})", spoken(of)),
        Math::Power { of, power } => format!("{}^{power}", spoken(of)),
    }
}

fn spoken_number(text: &str, power: Option<&str>) -> String {
    power.map_or_else(|| text.to_owned(), |power| format!("{text} \u{d7} 10^{power}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::desk::Desk;
    use crate::layout::tags::Tag;

    fn sum(count: usize) -> Math {
        let term = || Math::Quantity { text: "12.5".to_owned(), power: None, unit: "kN".to_owned() };
        let plus = || Math::Sign { sign: "+" };
        let items = (0..count).flat_map(|index| if index == 0 { vec![term()] } else { vec![plus(), term()] });
        Math::Row { items: items.collect() }
    }

    fn set(math: &Math, room: f32) -> Vec<Piece> {
        let desk = Desk::new();
        lines(Press { desk: &desk, tag: Tag::ARTIFACT, size: 10.0, depth: 0 }, &[math], room).unwrap()
    }

    #[test]
    fn verify_no_line_is_wider_than_the_room() {
        let parenthesised = Math::Parentheses { of: Box::new(sum(40)) };
        let fraction = Math::Fraction { over: Box::new(sum(40)), under: Box::new(sum(2)) };
        for math in [sum(1), sum(40), parenthesised, fraction, Math::Root { of: Box::new(sum(40)) }] {
            let lines = set(&math, 200.0);
            assert!(lines.iter().all(|line| line.width <= 200.1), "{}", spoken(&math));
            assert!(!lines.is_empty());
        }
        assert_eq!(set(&sum(2), 200.0).len(), 1);
        assert!(5 < set(&sum(40), 200.0).len());
    }

    #[test]
    fn verify_a_sign_before_a_thing_stands_close_to_it() {
        let minus = || Math::Sign { sign: "\u{2212}" };
        let x = || Math::Symbol { base: "x".to_owned(), below: None };
        let prefix = set(&Math::Row { items: vec![minus(), x(), x()] }, 500.0);
        let between = set(&Math::Row { items: vec![x(), minus(), x()] }, 500.0);
        assert!((between[0].width - prefix[0].width - 4.0).abs() < 0.01);
    }

    #[test]
    fn verify_formulas_are_put_into_words() {
        let math = Math::Fraction { over: Box::new(sum(2)), under: Box::new(Math::Root { of: Box::new(sum(1)) }) };
        assert_eq!(spoken(&math), "(12.5 kN + 12.5 kN) / (\u{221a}(12.5 kN))");
    }
}
