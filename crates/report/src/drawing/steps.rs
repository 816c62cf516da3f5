//! The packing lifts as a strip of small pictures, and one such picture by itself.

use super::Drawing;
use super::elevation::governing_point;
use super::look::{Look, Stroke, count, shown};
use super::scale::Scale;
use super::stacks::{State, at_point, level_between_foundations, states};
use super::station::{Plates, cut_at_mm, foundation, plates, ram_on_stack, soffit, stack, widest_mm};
use super::svg::{Anchor, At, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::packing_lift::{Step, StepKind};
use ramwright_engine::ram::Ram;
use ramwright_units::Length;

/// The size of one picture.
const CELL: (f64, f64) = (45.0, 37.0);
const IN_A_ROW: usize = 4;
const MOST: usize = 24;
/// Room in a picture for what stands there: one of two widths, and the height.
const ROOM: (f64, f64) = (17.5, 23.5);

/// Whether there are steps.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    subject.sequence().is_some_and(|sequence| !sequence.steps.is_empty())
        && super::elevation::has(subject)
        && governing_point(subject)
            .and_then(|index| subject.case.points.get(index))
            .is_some_and(|point| !states(subject, &point.id).is_empty())
}

/// What all pictures of one point share.
struct Strip<'a> {
    ram: &'a Ram,
    plates: Plates,
    level: f64,
    scale: Scale,
    states: Vec<(&'a Step, State<'a>)>,
}

fn strip<'a>(subject: &'a Subject<'a>, index: usize) -> Option<Strip<'a>> {
    let point = subject.case.points.get(index)?;
    let ram: &Ram = &subject.set.as_ref()?.at_points.get(index)?.ram;
    let plates = plates(subject, index);
    let states = states(subject, &point.id);
    let level = level_between_foundations(subject, &point.id);
    let reach = |state: &State<'_>| {
        let ram_top = state.base_mm() + plates.base_mm + ram.closed_height.mm() + state.extension_mm + plates.head_mm;
        ram_top.max(state.soffit_mm.unwrap_or(0.0))
    };
    let high = states.iter().map(|(_, state)| reach(state)).fold(0.0, f64::max) + (-level).max(0.0);
    let wide = states.iter().flat_map(|(_, state)| [&state.base, &state.holding]).map(|pieces| widest_mm(ram, pieces));
    let scale = Scale::sketch((wide.fold(0.0, f64::max), high), ROOM)?;
    Some(Strip { ram, plates, level, scale, states })
}

/// The kinds that are shown where not all steps can be.
fn is_key(kind: StepKind) -> bool {
    matches!(kind, StepKind::SetRams | StepKind::Raise | StepKind::Lower | StepKind::LowerToPause)
}

/// Which steps are shown, and what to say of the others.
fn chosen(all: usize, kinds: &[StepKind]) -> (Vec<usize>, Option<String>) {
    if all <= MOST {
        return ((0..all).collect(), None);
    }
    let key: Vec<usize> = kinds.iter().enumerate().filter(|(_, kind)| is_key(**kind)).map(|(place, _)| place).collect();
    let ends = key.len().saturating_sub(MOST / 2);
    let shown: Vec<usize> = key
        .iter()
        .enumerate()
        .filter(|(order, _)| key.len() <= MOST || *order < MOST / 2 || ends <= *order)
        .map(|(_, place)| *place)
        .collect();
    let which = if key.len() <= MOST {
        "setting, raising and lowering"
    } else {
        "the first and the last of setting, raising and lowering"
    };
    let note = format!(
        "{} of {all} steps are shown ({which}); {} more stand in the list of steps.",
        shown.len(),
        all - shown.len()
    );
    (shown, Some(note))
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let index = governing_point(subject)?;
    let point = subject.case.points.get(index)?;
    let title = "The packing lifts step by step".to_owned();
    let description = format!(
        "A row of small elevations of point {}, one for each step, with the height of the load's underside.",
        shown(&point.id, 20.0)
    );
    let mut sheet = Sheet::new(look, "steps", (184.0, 30.0), title, description);
    let Some(strip) = strip(subject, index) else {
        sheet.notes((6.0, 9.0), 168.0, &["The steps cannot be drawn to scale.".to_owned()]);
        return Some(sheet.finish());
    };
    let kinds: Vec<StepKind> = strip.states.iter().map(|(step, _)| step.kind).collect();
    let (shown_places, more) = chosen(strip.states.len(), &kinds);
    let rows = shown_places.len().div_ceil(IN_A_ROW);
    sheet.set_height(CELL.1 * count(rows) + 20.0);
    for (order, place) in shown_places.iter().enumerate() {
        let Some((step, state)) = strip.states.get(*place) else { continue };
        let at = (2.0 + CELL.0 * count(order % IN_A_ROW), 2.0 + CELL.1 * count(order / IN_A_ROW));
        cell(&mut sheet, at, &strip, step, state);
    }
    let mut notes = vec![format!(
        "Point {}; ram at the left, holding stack at the right of each picture, heights and widths to one scale of about {}; u: underside of the load over the foundation of the holding stack; e: extension. HOLD: somebody must release the next step. Dashed sides: a piece is wider than drawn.",
        shown(&point.id, 12.0),
        strip.scale.words()
    )];
    notes.extend(more);
    if subject.sequence().is_some_and(|sequence| 1 < sequence.groups.len()) {
        notes.push("Other points stand at other heights; the list of steps has them.".to_owned());
    }
    let end = sheet.notes((4.0, CELL.1 * count(rows) + 6.0), 174.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

/// The picture of one step, at the point that it is about.
pub(super) fn one(subject: &Subject<'_>, number: u32, look: &Look) -> Option<Drawing> {
    let step = subject.sequence()?.steps.iter().find(|step| step.number == number)?;
    let governing = governing_point(subject)?;
    let id = &subject.case.points.get(governing)?.id;
    let about = if step.points.is_empty() || step.points.contains(id) { Some(id) } else { step.points.first() };
    let about = about.filter(|id| at_point(step, id).is_some()).unwrap_or(id);
    let index = subject.case.points.iter().position(|point| point.id == *about)?;
    let strip = strip(subject, index)?;
    let (step, state) = strip.states.iter().find(|(step, _)| step.number == number)?;
    let title = format!("Step {number}: {}", words(step.kind));
    let description = format!("Point {} after step {number}.", shown(about, 20.0));
    let mut sheet = Sheet::new(look, &format!("step-{number}"), CELL, title, description);
    cell(&mut sheet, (0.0, 0.0), &strip, step, state);
    Some(sheet.finish())
}

fn words(kind: StepKind) -> &'static str {
    match kind {
        StepKind::MoveRams => "move the rams",
        StepKind::SetRams => "set the rams",
        StepKind::FreeLoad => "free the load",
        StepKind::ProveLift => "prove lift",
        StepKind::Raise => "raise",
        StepKind::AddPiece => "add a piece",
        StepKind::RemovePiece => "take a piece out",
        StepKind::LockCollars => "lock the collars",
        StepKind::SecondSupport => "second support",
        StepKind::RebuildStacks => "rebuild stacks",
        StepKind::LowerToPause => "lower to a pause",
        StepKind::Lower => "lower",
        StepKind::TakeOut => "take out",
    }
}

fn cell(sheet: &mut Sheet<'_>, (x, y): At, strip: &Strip<'_>, step: &Step, state: &State<'_>) {
    let (left, right) = (x + 1.5, x + CELL.0 - 1.5);
    let ground = y + 31.0 + strip.scale.on_sheet(strip.level.min(0.0));
    let other = ground - strip.scale.on_sheet(strip.level);
    let (ram_x, stack_x) = (x + 13.0, x + 32.0);
    let between = f64::midpoint(ram_x, stack_x);
    foundation(sheet, (left, between), ground, 1.6);
    foundation(sheet, (between, right), other, 1.6);
    ram_on_stack(sheet, (ram_x, ground), strip.scale, (strip.ram, strip.plates, state), Stroke::Medium);
    stack(sheet, (stack_x, other), strip.scale, (&state.holding, cut_at_mm(strip.ram)), Stroke::Medium);
    if let Some(height) = state.soffit_mm {
        soffit(sheet, (left, right), ground - strip.scale.on_sheet(height), 1.8);
    }
    sheet.text((left, y + 3.2), Style::new(TEXT, Anchor::Start).bold(), &format!("{}", step.number));
    sheet.text((left + 6.5, y + 3.2), Style::new(SMALL, Anchor::Start), words(step.kind));
    if step.hold_point {
        sheet.text((right, y + 3.2), Style::new(SMALL, Anchor::End).bold(), "HOLD");
    }
    let length = |mm: f64| sheet.look.value(Length::from_mm(mm));
    let unit = sheet.look.unit(ramwright_units::Kind::Length);
    let under = state.over_packing_mm.map_or_else(String::new, |height| format!("u {}  ", length(height)));
    let text = format!("{under}e {} {unit}", length(state.extension_mm));
    sheet.text((f64::midpoint(left, right), y + 35.6), Style::new(SMALL, Anchor::Middle), &text);
}
