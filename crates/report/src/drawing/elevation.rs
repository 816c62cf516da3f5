//! One jacking point from the side, closed and extended, to scale and dimensioned.

use super::Drawing;
use super::look::{Look, Stroke, shown};
use super::scale::Scale;
use super::stacks::{State, level_between_foundations, states};
use super::station::{Drawn, Plates, cut_at_mm, foundation, plates, ram_on_stack, soffit, stack, widest_mm};
use super::svg::{Anchor, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::catalogue::Packing;
use ramwright_engine::check::CheckId;
use ramwright_engine::load::Task;
use ramwright_engine::ram::Ram;
use ramwright_units::{Kind, Length};

/// Room for what stands at the point: widths of ram and stack, and height.
const ROOM: (f64, f64) = (31.0, 84.0);
/// Where the foundation is on the sheet.
const GROUND: f64 = 108.0;
/// Both pictures, from left to right.
const LEFT: (f64, f64) = (13.0, 43.0);
const RIGHT: (f64, f64) = (71.0, 158.0);

/// The point with the greatest share, else the first.
pub(super) fn governing_point(subject: &Subject<'_>) -> Option<usize> {
    let heaviest = subject.load_shares().and_then(|shares| shares.heaviest());
    let found = heaviest.and_then(|share| subject.case.points.iter().position(|point| point.id == share.point));
    found.or_else(|| (!subject.case.points.is_empty()).then_some(0))
}

/// Whether there is a ram to be drawn.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    subject.set.as_ref().is_some_and(|set| governing_point(subject).is_some_and(|index| index < set.at_points.len()))
}

/// Both states of the point: as the rams are set, and at the greatest height of stack and ram.
struct Both<'a> {
    before: State<'a>,
    after: State<'a>,
    /// The step of the second.
    step: Option<u32>,
    /// Whether the extension is known; if not, the second is drawn at the whole stroke.
    known: bool,
}

fn both<'a>(subject: &Subject<'a>, index: usize) -> Option<Both<'a>> {
    let point = subject.case.points.get(index)?;
    let all = states(subject, &point.id);
    let reach = |state: &State<'_>| state.base_mm() + state.extension_mm;
    let highest = all.iter().reduce(|best, next| if reach(&best.1) < reach(&next.1) { next } else { best });
    if let (Some((_, first)), Some((step, last))) = (all.first(), highest) {
        return Some(Both { before: first.clone(), after: last.clone(), step: Some(step.number), known: true });
    }
    let needed = |check: &&ramwright_engine::check::Check| check.id == CheckId::Stroke && check.subject == point.id;
    let demand = subject.checks().find(needed).and_then(|check| check.demand);
    let needed = demand.filter(|demand| demand.kind == Kind::Length).map(|demand| demand.value_si * 1000.0);
    let stroke = subject.set.as_ref()?.at_points.get(index)?.ram.stroke.mm();
    let state = |extension_mm, soffit_mm| State {
        base: Vec::new(),
        holding: Vec::new(),
        extension_mm,
        soffit_mm,
        over_packing_mm: None,
    };
    let clearance = point.clearance.map(Length::mm);
    Some(Both {
        before: state(0.0, clearance),
        after: state(needed.unwrap_or(stroke), None),
        step: None,
        known: needed.is_some(),
    })
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let index = governing_point(subject)?;
    let point = subject.case.points.get(index)?;
    let ram = &subject.set.as_ref()?.at_points.get(index)?.ram;
    let both = both(subject, index)?;
    let plates = plates(subject, index);
    let title = format!("Elevation of point {}", shown(&point.id, 20.0));
    let description = format!(
        "The point that carries most, from the side: ram {} closed at the left, extended {} at the right, with stacks, plates and the load's underside.",
        shown(&ram.id, 20.0),
        look.quantity(Length::from_mm(both.after.extension_mm))
    );
    let mut sheet = Sheet::new(look, "elevation", (184.0, 150.0), title, description);
    let top = highest_mm(ram, plates, &both);
    let pieces: Vec<&Packing> =
        [&both.before, &both.after].iter().flat_map(|s| s.base.iter().chain(&s.holding)).copied().collect();
    let level = level_between_foundations(subject, &point.id);
    let Some(scale) = Scale::fitting((widest_mm(ram, &pieces), top + (-level).max(0.0)), ROOM) else {
        sheet.set_height(24.0);
        sheet.notes((6.0, 9.0), 168.0, &["The point cannot be drawn to scale with these heights.".to_owned()]);
        return Some(sheet.finish());
    };
    sheet.crop_top((GROUND - scale.on_sheet(top) - 20.0).max(0.0));
    closed(&mut sheet, scale, (ram, plates, &both.before), subject.case.task);
    extended(&mut sheet, scale, (ram, plates, &both.after), level);
    headings(&mut sheet, &both);
    let notes = notes(subject, look, index, &both, scale);
    let end = sheet.notes((6.0, GROUND + 16.0), 172.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn highest_mm(ram: &Ram, plates: Plates, both: &Both<'_>) -> f64 {
    let of = |state: &State<'_>| {
        let ram_top = state.base_mm() + plates.base_mm + ram.closed_height.mm() + state.extension_mm + plates.head_mm;
        ram_top.max(state.soffit_mm.unwrap_or(0.0)).max(state.holding_mm())
    };
    of(&both.before).max(of(&both.after))
}

fn headings(sheet: &mut Sheet<'_>, both: &Both<'_>) {
    let style = Style::new(TEXT, Anchor::Middle).bold();
    sheet.text((f64::midpoint(LEFT.0, LEFT.1), GROUND + 10.0), style, "Ram set, closed");
    let second = match both.step {
        Some(step) => format!("Ram extended, step {step}"),
        None if both.known => "Ram extended".to_owned(),
        None => "Ram at its whole stroke".to_owned(),
    };
    let x = if both.after.over_packing_mm.is_some() { f64::midpoint(RIGHT.0, RIGHT.1) } else { RIGHT.0 + 25.0 };
    sheet.text((x, GROUND + 10.0), style, &second);
}

type Standing<'a> = (&'a Ram, Plates, &'a State<'a>);

fn closed(sheet: &mut Sheet<'_>, scale: Scale, (ram, plates, state): Standing<'_>, task: Task) {
    let x = f64::midpoint(LEFT.0, LEFT.1);
    foundation(sheet, LEFT, GROUND, 4.0);
    let drawn = ram_on_stack(sheet, (x, GROUND), scale, (ram, plates, state), Stroke::Outline);
    if let Some(clearance) = state.soffit_mm {
        let y = GROUND - scale.on_sheet(clearance);
        soffit(sheet, LEFT, y, 5.0);
        let word = if task == Task::Raise { "clearance" } else { "opening" };
        let text = format!("{word} {}", sheet.look.value(Length::from_mm(clearance)));
        sheet.dimension_up((GROUND, y), (LEFT.0 + 1.0, LEFT.0 - 6.0), &text);
    }
    heights(sheet, (x + 15.5, LEFT.1 + 3.0), &drawn, (plates, state), "closed", ram.closed_height.mm());
}

/// The chain of heights beside a ram, from its foundation up.
fn heights(
    sheet: &mut Sheet<'_>,
    (from, at): (f64, f64),
    drawn: &Drawn,
    (plates, state): (Plates, &State<'_>),
    word: &str,
    ram_mm: f64,
) {
    let ground = GROUND;
    let value = |sheet: &Sheet<'_>, mm: f64| sheet.look.value(Length::from_mm(mm));
    let base = format!("base {}", value(sheet, state.base_mm()));
    let of_ram = format!("{word} {}", value(sheet, ram_mm));
    let head = if plates.divided { "head" } else { "plates" };
    let head = format!("{head} {}", value(sheet, plates.head_mm));
    let under = format!("plate {}", value(sheet, plates.base_mm));
    let rows = [
        (0.0 < state.base_mm(), ground, drawn.on_stack, base),
        (true, drawn.on_plate, drawn.top, of_ram),
        (0.0 < plates.base_mm, drawn.on_stack, drawn.on_plate, under),
        (0.0 < plates.head_mm, drawn.top, drawn.plate_top, head),
    ];
    for (_, low, high, text) in rows.into_iter().filter(|row| row.0) {
        sheet.dimension_up((low, high), (from, at), &text);
    }
}

fn extended(sheet: &mut Sheet<'_>, scale: Scale, (ram, plates, state): Standing<'_>, level: f64) {
    let (x, stack_x) = (RIGHT.0 + 25.0, RIGHT.0 + 72.0);
    let other_ground = GROUND - scale.on_sheet(level);
    let between = stack_x - 15.0;
    let has_stack = state.over_packing_mm.is_some();
    foundation(sheet, (RIGHT.0, if has_stack { between } else { x + 16.0 }), GROUND, 4.0);
    let drawn = ram_on_stack(sheet, (x, GROUND), scale, (ram, plates, state), Stroke::Outline);
    let right = if has_stack { RIGHT.1 } else { x + 16.0 };
    let under_load = state.soffit_mm.map_or(drawn.plate_top, |soffit| GROUND - scale.on_sheet(soffit));
    soffit(sheet, (RIGHT.0, right), under_load, 5.0);
    if let Some(soffit) = state.soffit_mm {
        let text = format!("underside {}", sheet.look.value(Length::from_mm(soffit)));
        sheet.dimension_up((GROUND, under_load), (RIGHT.0 + 1.0, RIGHT.0 - 4.0), &text);
    }
    let text = format!("e {}", sheet.look.value(Length::from_mm(state.extension_mm)));
    if 0.0 < state.extension_mm {
        sheet.dimension_up((drawn.closed_top, drawn.top), (x - 14.0, x - 18.0), &text);
    }
    heights(sheet, (x + 14.0, x + 18.0), &drawn, (plates, state), "ram", ram.closed_height.mm() + state.extension_mm);
    if has_stack {
        foundation(sheet, (between, RIGHT.1), other_ground, 4.0);
        sheet.line((between, GROUND), (between, other_ground), Stroke::Outline);
        let top = stack(sheet, (stack_x, other_ground), scale, (&state.holding, cut_at_mm(ram)), Stroke::Medium);
        let beside = (stack_x + 14.5, stack_x + 18.0);
        if !state.holding.is_empty() {
            let text = format!("stack {}", sheet.look.value(Length::from_mm(state.holding_mm())));
            sheet.dimension_up((other_ground, top), beside, &text);
        }
        let gap = state.over_packing_mm.unwrap_or(0.0) - state.holding_mm();
        let text = format!("gap {}", sheet.look.value(Length::from_mm(gap)));
        sheet.dimension_up((top, under_load), beside, &text);
    }
}

fn named(pieces: &[&Packing]) -> String {
    let mut runs: Vec<(&str, u32)> = Vec::new();
    for piece in pieces {
        match runs.last_mut() {
            Some((id, number)) if *id == piece.id => *number += 1,
            _ => runs.push((&piece.id, 1)),
        }
    }
    let words: Vec<String> =
        runs.iter().take(12).map(|(id, number)| format!("{number} x {}", shown(id, 12.0))).collect();
    let more = if 12 < runs.len() { ", and more" } else { "" };
    if words.is_empty() { "none".to_owned() } else { format!("{}{more}", words.join(", ")) }
}

fn notes(subject: &Subject<'_>, look: &Look, index: usize, both: &Both<'_>, scale: Scale) -> Vec<String> {
    let Some(set) = &subject.set else { return Vec::new() };
    let Some(placed) = set.at_points.get(index) else { return Vec::new() };
    let ram = &placed.ram;
    let used = if both.known {
        format!("extension used {}", look.quantity(Length::from_mm(both.after.extension_mm)))
    } else {
        "extension not known: drawn at the whole stroke".to_owned()
    };
    let mut notes = vec![format!(
        "Scale {}, dimensions in {}. Ram {}: closed height {}, stroke {}, {}; {} at this point, one drawn.",
        scale.words(),
        look.unit(Kind::Length),
        shown(&ram.id, 20.0),
        look.quantity(ram.closed_height),
        look.quantity(ram.stroke),
        used,
        placed.count
    )];
    if subject.case.task == Task::Raise {
        notes.push(format!(
            "Base stack from below: {}. Holding stack from below: {}.",
            named(&both.after.base),
            named(&both.after.holding)
        ));
    }
    let mut form = "Heights and stated diameters are to scale, the form of body and saddle is a sketch; settlement of the stacks is not drawn. Dashed sides: a piece is wider than drawn.".to_owned();
    if !super::station::widths(ram).stated {
        form.push_str(" Dashed: diameter not stated.");
    }
    notes.push(form);
    notes.push(both.before.soffit_mm.map_or_else(
        || "The clearance is not stated.".to_owned(),
        |clearance| format!("Clearance {}; e: extension.", look.quantity(Length::from_mm(clearance))),
    ));
    if subject.case.task != Task::Raise {
        if subject.case.task == Task::Pull {
            notes.push("A pull begins with the ram extended and ends nearer to closed.".to_owned());
        }
        notes.push("Hatched: machine frame. The axis is drawn upright, whatever it is in the frame.".to_owned());
    }
    if !plates(subject, index).divided {
        notes.push(
            "How the plates are divided between head and base is not stated; all are drawn at the head.".to_owned(),
        );
    }
    notes
}
