//! Forces that are estimated from the work to be done.

use super::Reader;
use crate::read::Pointer;
use crate::request::case_wire::PointSent;
use crate::request::context::Context;
use crate::request::force_wire::{
    AirBendingSent, BentSectionSent, EstimatedReactionSent, InterferenceFitSent, StraighteningSent, StrengthRangeSent,
};
use crate::request::words::InterferenceWord;
use crate::sent::{Modulus, Number, PoissonRatio, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::force::{
    AirBending, BentSection, ForceEstimate, InterferenceFit, Member, Straightening, Work, estimate,
};
use ramwright_engine::load::Task;
use ramwright_engine::remark::Caution;
use ramwright_units::{Length, Quantity, Range, Stress, Typed};

/// Steel of a hub or shaft of which nothing is said: the stiff end, which is the safe side.
const STEEL: Member = Member { modulus: Stress::from_mpa(210_000.0), poisson: 0.3 };
const OF_STEEL: Source = Source::published("steel, EN 1993-1-1, 3.2.6");
/// Tensile over yield strength of a bar whose tensile strength is not stated.
const HARDENING: f64 = 1.6;
const SAFE: Source = Source::definition("the safe side");
const MIDDLE: Source = Source::definition("middle of least and greatest");

impl Reader<'_> {
    /// The forces that are estimated, in the order of the points; those that are faulty are left out.
    pub(super) fn estimates(&self, context: &mut Context<'_>) -> Vec<ForceEstimate> {
        let task = self.sent.task.unwrap_or(Task::Raise);
        self.points
            .iter()
            .zip(self.order)
            .filter_map(|(point, index)| estimated(point, task, &self.point_at(*index), context))
            .collect()
    }
}

fn estimated(point: &PointSent, task: Task, here: &Pointer, context: &mut Context<'_>) -> Option<ForceEstimate> {
    let sent = point.estimated_reaction.as_ref()?;
    let at = here.field("estimated_reaction");
    if point.stated_reaction.is_some() {
        context.inconsistent(&at, "the reaction is stated as well", "state it, or give the work to estimate it from");
    }
    let (work, name) = work(sent, task, &at, context)?;
    match estimate(&point.id.0, &work) {
        Ok(found) => {
            let text = format!(
                "The force at point {} is an estimate: {}. The greatest of its range governs; watch the gauge, and stop and find out why where the pressure goes beyond it.",
                found.point, found.open
            );
            context.cautions.push(Caution::new("estimated_force", text));
            context.assume(
                &at,
                "the force is estimated from the work to be done; this is what is expected",
                found.force.expected,
                Source::definition("see the lines of the estimate"),
            );
            Some(found)
        }
        Err(error) => {
            context.inconsistent(&at.field(name), error.to_string(), "put the numbers right, or state the reaction");
            None
        }
    }
}

/// The work, and the name of its field.
fn work(
    sent: &EstimatedReactionSent,
    task: Task,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<(Work, &'static str)> {
    match (&sent.interference_fit, &sent.air_bending, &sent.straightening) {
        (Some(fit), None, None) => {
            let name = "interference_fit";
            Some((Work::InterferenceFit(read_fit(fit, task, &at.field(name), context)?), name))
        }
        (None, Some(bend), None) => {
            let name = "air_bending";
            Some((Work::AirBending(read_bend(bend, &at.field(name), context)?), name))
        }
        (None, None, Some(bar)) => {
            let name = "straightening";
            Some((Work::Straightening(read_bar(bar, &at.field(name), context)?), name))
        }
        _ => {
            let hint = "one of interference_fit, air_bending, straightening";
            context.inconsistent(at, "a force is estimated from exactly one kind of work", hint);
            None
        }
    }
}

fn read_fit(
    sent: &InterferenceFitSent,
    task: Task,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<InterferenceFit> {
    let given = &sent.interference;
    let (least, greatest) = (given.least.get(), given.greatest.get());
    let here = at.field("interference");
    let expected = given.expected.as_ref().map(Sent::get);
    let interference = quantities(least, expected, greatest, "interference", &here, context);
    let radial = match given.measure {
        InterferenceWord::Radial => 1.0,
        InterferenceWord::Diametral => 0.5,
    };
    let sent_friction = &sent.friction;
    let (least, greatest) = (sent_friction.least.get(), sent_friction.greatest.get());
    let expected = sent_friction.expected.as_ref().map(Number::get);
    let friction = in_range(least, expected, greatest, "friction", &at.field("friction"), context);
    let shaft_bore = sent.shaft_bore.as_ref().map(Sent::get);
    let shaft_bore = context.or_assumed(shaft_bore, &at.field("shaft_bore"), "the shaft is solid", Length::ZERO, SAFE);
    let hub = member((&sent.hub_modulus, "hub_modulus"), (&sent.hub_poisson_ratio, "hub_poisson_ratio"), at, context);
    let shaft = (&sent.shaft_modulus, "shaft_modulus");
    let shaft = member(shaft, (&sent.shaft_poisson_ratio, "shaft_poisson_ratio"), at, context);
    let after_service = after_service(sent, task, at, context);
    let interference = interference?;
    Some(InterferenceFit {
        joint_diameter: sent.joint_diameter.get(),
        joint_length: sent.joint_length.get(),
        hub_outside: sent.hub_outside_diameter.get(),
        shaft_bore,
        hub,
        shaft,
        hub_yield: sent.hub_yield.as_ref().map(Sent::get),
        radial_interference: Range::new(
            interference.least * radial,
            interference.expected * radial,
            interference.greatest * radial,
        ),
        friction: friction?,
        after_service,
    })
}

fn after_service(sent: &InterferenceFitSent, task: Task, at: &Pointer, context: &mut Context<'_>) -> f64 {
    let field = at.field("after_service_factor");
    match (&sent.after_service_factor, task) {
        (Some(factor), Task::Pull) => factor.get(),
        (Some(_), _) => {
            let hint = "leave it out, or use the task \"pull\"";
            context.inconsistent(&field, "a joint that is pressed together has not been in service", hint);
            1.0
        }
        (None, Task::Pull) => {
            let text = "the joint is no tighter than when it was made";
            context.assume(&field, text, 1.0, super::PRACTICE);
            let text = "A joint that has long been in service can take more to pull off than its fit says, by fretting and rust; no factor for it was stated, and none was taken.";
            context.cautions.push(Caution::new("after_service", text));
            1.0
        }
        (None, _) => 1.0,
    }
}

fn member(
    modulus: (&Option<Modulus>, &str),
    poisson: (&Option<PoissonRatio>, &str),
    at: &Pointer,
    context: &mut Context<'_>,
) -> Member {
    let text = "modulus of elasticity of steel, at the stiff end";
    let (sent, field) = (modulus.0.as_ref().map(Sent::get), at.field(modulus.1));
    let modulus = context.or_assumed(sent, &field, text, STEEL.modulus, OF_STEEL);
    let (sent, field) = (poisson.0.as_ref().map(Number::get), at.field(poisson.1));
    let poisson = context.or_assumed(sent, &field, "Poisson's ratio of steel", STEEL.poisson, OF_STEEL);
    Member { modulus, poisson }
}

fn read_bend(sent: &AirBendingSent, at: &Pointer, context: &mut Context<'_>) -> Option<AirBending> {
    let tensile_strength = strengths(&sent.tensile_strength, "tensile_strength", at, context)?;
    Some(AirBending {
        die: sent.die,
        die_opening: sent.die_opening.get(),
        width: sent.width.get(),
        thickness: sent.thickness.get(),
        tensile_strength,
    })
}

fn read_bar(sent: &StraighteningSent, at: &Pointer, context: &mut Context<'_>) -> Option<Straightening> {
    let section = read_section(&sent.section, &at.field("section"), context);
    let strength = strengths(&sent.yield_strength, "yield_strength", at, context);
    let (section, strength) = (section?, strength?);
    let field = at.field("tensile_strength");
    let greatest = match &sent.tensile_strength {
        Some(tensile) if tensile.get() < strength.greatest => {
            let hint = "give the greatest tensile strength that the bar can have";
            context.inconsistent(&field, "it is less than the greatest yield strength", hint);
            return None;
        }
        Some(tensile) => tensile.get(),
        None => {
            let tensile = strength.greatest * HARDENING;
            let text = "the bar may harden up to this strength: 1.6 times its greatest yield strength";
            context.assume(&field, text, tensile, Source::from_memory("structural steels: 1.4 to 1.6"));
            tensile
        }
    };
    let strength = Range::new(strength.least, strength.expected, greatest);
    Some(Straightening { span: sent.span.get(), section, strength })
}

fn read_section(sent: &BentSectionSent, at: &Pointer, context: &mut Context<'_>) -> Option<BentSection> {
    match (&sent.diameter, &sent.bore, &sent.width, &sent.height, &sent.plastic_modulus) {
        (Some(diameter), None, None, None, None) => Some(BentSection::Round { diameter: diameter.get() }),
        (Some(outside), Some(bore), None, None, None) => {
            Some(BentSection::Tube { outside: outside.get(), bore: bore.get() })
        }
        (None, None, Some(width), Some(height), None) => {
            Some(BentSection::Rectangle { width: width.get(), height: height.get() })
        }
        (None, None, None, Some(height), Some(modulus)) => {
            Some(BentSection::Stated { plastic_modulus_m3: modulus.get().m3(), depth: height.get() })
        }
        _ => {
            let hint = "diameter alone, diameter and bore, width and height, or plastic_modulus and height";
            context.inconsistent(at, "these fields together are no cross-section", hint);
            None
        }
    }
}

fn strengths(
    sent: &StrengthRangeSent,
    name: &'static str,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<Range<Stress>> {
    let expected = sent.expected.as_ref().map(Sent::get);
    quantities(sent.least.get(), expected, sent.greatest.get(), "strength", &at.field(name), context)
}

/// A range of quantities, the expected one in the middle where it is not given.
fn quantities<T: Typed>(
    least: T,
    expected: Option<T>,
    greatest: T,
    what: &str,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<Range<T>> {
    let middle = T::from_si(f64::midpoint(least.si(), greatest.si()));
    let range = Range::new(least, expected_or(expected, middle, what, at, context), greatest);
    rises([range.least.si(), range.expected.si(), range.greatest.si()], at, context).then_some(range)
}

/// The same of plain numbers.
fn in_range(
    least: f64,
    expected: Option<f64>,
    greatest: f64,
    what: &str,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<Range<f64>> {
    let expected = expected_or(expected, f64::midpoint(least, greatest), what, at, context);
    rises([least, expected, greatest], at, context).then(|| Range::new(least, expected, greatest))
}

fn expected_or<T: Copy + Into<Quantity>>(
    expected: Option<T>,
    middle: T,
    what: &str,
    at: &Pointer,
    context: &mut Context<'_>,
) -> T {
    let text = format!("expected {what}: the middle of its range");
    context.or_assumed(expected, &at.field("expected"), text, middle, MIDDLE)
}

/// Whether least, expected and greatest do not fall; a fault if they do.
fn rises([least, expected, greatest]: [f64; 3], at: &Pointer, context: &mut Context<'_>) -> bool {
    let rises = least <= expected && expected <= greatest;
    if !rises {
        context.inconsistent(at, "least, expected and greatest must not fall", "put them in order");
    }
    rises
}
