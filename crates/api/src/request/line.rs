//! What stands over and under the rams: what was sent, and the defaults of the design basis.

use super::case_wire::LoadCaseSent;
use super::context::Context;
use super::line_wire::{
    AllowableSent, DesignBasisSent, FoundationSent, GroundSent, LineEverywhereSent, LineOfForceSent, PlateSent,
    PointLineSent, RestraintSent, SoffitSent,
};
use super::sections::Section;
use super::words::{
    DesignRules, FoundationWord, HandlingWord, HoldingValveWord, RestraintWord, ReturnLineWord, SoffitWord,
};
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::{Number, NumberBound, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::defaults::{ACI_LOAD_FACTOR, EUROCODE_ALPHA_CC, EUROCODE_LOAD_FACTOR};
use ramwright_engine::load::point_order;
use ramwright_engine::ram::ReturnLine;
use ramwright_engine::support::stack::{Restraint, RestraintKind};
use ramwright_engine::support::{
    Allowable, ConcreteFoundation, DesignBasis, Duration, Eurocode, Foundation, Ground, Handling, HoldingValve,
    LineOfForce, Nds, PointLine, ServiceClass, Soffit, SteelPlate, Timber,
};
use ramwright_units::{Force, Length};

const MEMORY: Source = Source::from_memory("from memory");

/// What stands over and under the rams, in the order of the points; nothing if it was sent and could not be read.
pub(crate) fn parse_line(
    section: &Section<LineOfForceSent>,
    case: Option<&LoadCaseSent>,
    context: &mut Context<'_>,
) -> Option<LineOfForce> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => return Some(LineOfForce::default()),
        Section::Sent(sent) => sent,
    };
    let at = Pointer::default().field("line_of_force");
    let basis = match &sent.design_basis {
        Some(basis) => Some(design_basis(basis, &at.field("design_basis"), context)?),
        None => None,
    };
    let at_points = points(sent, case, &at, context)?;
    Some(LineOfForce {
        basis,
        at_points,
        restraint: sent.restraint.as_ref().map(restraint),
        holding_valve: sent.holding_valve.map(|word| match word {
            HoldingValveWord::AtEachRam => HoldingValve::AtEachRam,
            HoldingValveWord::Elsewhere => HoldingValve::Elsewhere,
        }),
        oil_temperature_rise_k: number(sent.oil_temperature_rise_k.as_ref()),
        thermal_relief: sent.thermal_relief.as_ref().map(Sent::get),
        return_line: return_line(sent, &at, context),
        handling: handling(sent, &at, context),
    })
}

fn number<B: NumberBound>(sent: Option<&Number<B>>) -> Option<f64> {
    sent.map(Number::get)
}

fn return_line(sent: &LineOfForceSent, at: &Pointer, context: &mut Context<'_>) -> Option<ReturnLine> {
    match (sent.return_line, &sent.return_relief) {
        (Some(ReturnLineWord::Relief), Some(relief)) => Some(ReturnLine::Relief(relief.get())),
        (Some(ReturnLineWord::Relief), None) => {
            context.inconsistent(&at.field("return_relief"), "a relief valve needs its setting", "state the setting");
            None
        }
        (_, Some(_)) => {
            context.inconsistent(
                &at.field("return_relief"),
                "a setting is stated of a relief valve that is not",
                "use the return_line \"relief\", or leave the setting out",
            );
            None
        }
        (Some(ReturnLineWord::Open), None) => Some(ReturnLine::Open),
        (Some(ReturnLineWord::CanBeBlocked), None) => Some(ReturnLine::Blocked),
        (None, None) => None,
    }
}

fn handling(sent: &LineOfForceSent, at: &Pointer, context: &mut Context<'_>) -> Option<Handling> {
    match (sent.handling, &sent.persons) {
        (Some(HandlingWord::ByHand), Some(persons)) => Some(Handling::ByHand(persons.count())),
        (Some(HandlingWord::ByHand), None) => {
            context.assume(&at.field("persons"), "one person carries a ram", 1.0, Source::definition("the safe side"));
            Some(Handling::ByHand(1))
        }
        (Some(HandlingWord::LiftingGear), None) => Some(Handling::LiftingGear),
        (None, None) => None,
        (_, Some(_)) => {
            let hint = "use the handling \"by_hand\", or leave them out";
            context.inconsistent(&at.field("persons"), "persons count only where rams are carried by hand", hint);
            None
        }
    }
}

fn restraint(sent: &RestraintSent) -> Restraint {
    Restraint {
        kind: match sent.kind {
            RestraintWord::None => RestraintKind::None,
            RestraintWord::Guides => RestraintKind::Guides,
            RestraintWord::Bracing => RestraintKind::Bracing,
            RestraintWord::Chocks => RestraintKind::Chocks,
            RestraintWord::Lashings => RestraintKind::Lashings,
        },
        capacity: sent.capacity.as_ref().map(Sent::get),
        play: sent.play.as_ref().map(Sent::get),
    }
}

fn design_basis(sent: &DesignBasisSent, at: &Pointer, context: &mut Context<'_>) -> Option<DesignBasis> {
    no_others(sent, at, context)?;
    Some(match sent.rules {
        DesignRules::NdsAsd => DesignBasis::NdsAsd(Nds {
            wet: sent.wet_timber.unwrap_or_else(|| {
                context.assume_choice(
                    &at.field("wet_timber"),
                    "the timber is wet in service",
                    Source::definition("the safe side"),
                );
                true
            }),
            concrete_load_factor: factor(
                sent.concrete_load_factor.as_ref(),
                ACI_LOAD_FACTOR,
                "load factor of ACI 318, that of a live load",
                &at.field("concrete_load_factor"),
                context,
            ),
        }),
        DesignRules::Eurocode => DesignBasis::Eurocode(Eurocode {
            load_factor: factor(
                sent.load_factor.as_ref(),
                EUROCODE_LOAD_FACTOR,
                "partial factor of EN 1990 for a variable action",
                &at.field("load_factor"),
                context,
            ),
            duration: sent.duration.unwrap_or_else(|| {
                let text = "the load acts on timber for up to six months (medium term)";
                context.assume_choice(&at.field("duration"), text, MEMORY);
                Duration::Medium
            }),
            service_class: service_class(sent, at, context),
            alpha_cc: factor(
                sent.alpha_cc.as_ref(),
                EUROCODE_ALPHA_CC,
                "coefficient alpha_cc, the lower of those in use",
                &at.field("alpha_cc"),
                context,
            ),
        }),
        DesignRules::Custom => DesignBasis::Custom(sent.allowable.as_ref().map_or_else(Allowable::default, allowable)),
    })
}

/// Refuses what belongs to other rules: it would be read and count for nothing.
fn no_others(sent: &DesignBasisSent, at: &Pointer, context: &mut Context<'_>) -> Option<()> {
    let of_rules = [
        (sent.wet_timber.is_some(), "wet_timber", DesignRules::NdsAsd),
        (sent.concrete_load_factor.is_some(), "concrete_load_factor", DesignRules::NdsAsd),
        (sent.load_factor.is_some(), "load_factor", DesignRules::Eurocode),
        (sent.duration.is_some(), "duration", DesignRules::Eurocode),
        (sent.service_class.is_some(), "service_class", DesignRules::Eurocode),
        (sent.alpha_cc.is_some(), "alpha_cc", DesignRules::Eurocode),
        (sent.allowable.is_some(), "allowable", DesignRules::Custom),
    ];
    let mut sound = true;
    for (_, name, _) in of_rules.iter().filter(|(given, _, rules)| *given && *rules != sent.rules) {
        sound = false;
        context.inconsistent(
            &at.field(name),
            "it belongs to other rules than those chosen",
            "leave it out, or choose its rules",
        );
    }
    sound.then_some(())
}

fn factor<B: NumberBound>(
    sent: Option<&Number<B>>,
    default: f64,
    text: &'static str,
    at: &Pointer,
    context: &mut Context<'_>,
) -> f64 {
    number(sent).unwrap_or_else(|| {
        context.assume(at, text, default, MEMORY);
        default
    })
}

fn service_class(sent: &DesignBasisSent, at: &Pointer, context: &mut Context<'_>) -> ServiceClass {
    match sent.service_class.as_ref().map(Number::count) {
        Some(1) => ServiceClass::One,
        Some(2) => ServiceClass::Two,
        Some(_) => ServiceClass::Three,
        None => {
            context.assume_choice(
                &at.field("service_class"),
                "the timber stands in the open (service class 3)",
                Source::definition("the safe side"),
            );
            ServiceClass::Three
        }
    }
}

fn allowable(sent: &AllowableSent) -> Allowable {
    Allowable {
        timber_across_grain: sent.timber_across_grain.as_ref().map(Sent::get),
        plate_bending: sent.plate_bending.as_ref().map(Sent::get),
        steel_bearing: sent.steel_bearing.as_ref().map(Sent::get),
        concrete_bearing: sent.concrete_bearing.as_ref().map(Sent::get),
        ground: sent.ground.as_ref().map(Sent::get),
    }
}

/// What stands at each point, in the order in which the engine has them.
fn points(
    sent: &LineOfForceSent,
    case: Option<&LoadCaseSent>,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<Vec<PointLine>> {
    let faults = context.faults.count();
    let blank = LineEverywhereSent {
        soffit: None,
        soffit_angle: None,
        off_centre: None,
        lean: None,
        head_plate: None,
        base_plate: None,
        contacts_loaded: None,
        foundation: None,
    };
    let everywhere = sent.everywhere.as_ref().unwrap_or(&blank);
    let own: &[PointLineSent] = sent.at_points.as_ref().map_or(&[], |points| &points.0);
    known_points(own, case, &at.field("at_points"), context);
    let here = at.field("everywhere");
    let common = point_line(everywhere, &here, context);
    let mut ids: Vec<&str> = case?.points.0.iter().map(|point| point.id.0.as_str()).collect();
    ids.sort_by(|a, b| point_order(a, b));
    let mut lines = Vec::new();
    for id in ids {
        let differs = own.iter().enumerate().find(|(_, point)| point.point.0 == id);
        let line = match differs {
            None => common,
            Some((index, point)) => {
                let read = point_line(&as_everywhere(point), &at.field("at_points").item(index), context);
                over(&read, &common)
            }
        };
        lines.push(line);
    }
    (context.faults.count() == faults).then_some(lines)
}

fn as_everywhere(point: &PointLineSent) -> LineEverywhereSent {
    LineEverywhereSent {
        soffit: point.soffit.clone(),
        soffit_angle: point.soffit_angle.clone(),
        off_centre: point.off_centre.clone(),
        lean: point.lean.clone(),
        head_plate: point.head_plate.clone(),
        base_plate: point.base_plate.clone(),
        contacts_loaded: point.contacts_loaded.clone(),
        foundation: point.foundation.clone(),
    }
}

/// What one point states, and for the rest what stands everywhere.
fn over(own: &PointLine, common: &PointLine) -> PointLine {
    PointLine {
        soffit: own.soffit.or(common.soffit),
        soffit_angle: own.soffit_angle.or(common.soffit_angle),
        off_centre: own.off_centre.or(common.off_centre),
        lean: own.lean.or(common.lean),
        head_plate: own.head_plate.or(common.head_plate),
        base_plate: own.base_plate.or(common.base_plate),
        contacts_loaded: own.contacts_loaded.or(common.contacts_loaded),
        foundation: own.foundation.or(common.foundation),
    }
}

fn known_points(own: &[PointLineSent], case: Option<&LoadCaseSent>, at: &Pointer, context: &mut Context<'_>) {
    let ids: Vec<&str> = case.map_or_else(Vec::new, |case| case.points.0.iter().map(|p| p.id.0.as_str()).collect());
    for (index, point) in own.iter().enumerate() {
        let here = at.item(index).field("point");
        let id = point.point.0.as_str();
        if own.iter().take(index).any(|earlier| earlier.point == point.point) {
            context.faults.push(here.fault(FaultCode::DuplicateId, format!("the point `{id}` is given twice")));
        }
        if case.is_some() && !ids.contains(&id) {
            let near = crate::read::nearest(id, ids.iter().copied());
            let fault = here.fault(FaultCode::UnknownId, format!("the load case has no point `{id}`"));
            context.faults.push(fault.with_given(id).with_nearest(near));
        }
    }
}

fn point_line(sent: &LineEverywhereSent, at: &Pointer, context: &mut Context<'_>) -> PointLine {
    PointLine {
        soffit: sent.soffit.as_ref().and_then(|soffit| read_soffit(soffit, &at.field("soffit"), context)),
        soffit_angle: sent.soffit_angle.as_ref().map(Sent::get),
        off_centre: sent.off_centre.as_ref().map(Sent::get),
        lean: sent.lean.as_ref().map(Sent::get),
        head_plate: sent.head_plate.as_ref().map(plate),
        base_plate: sent.base_plate.as_ref().map(plate),
        contacts_loaded: sent.contacts_loaded.as_ref().map(Number::count),
        foundation: sent
            .foundation
            .as_ref()
            .and_then(|foundation| read_foundation(foundation, &at.field("foundation"), context)),
    }
}

fn plate(sent: &PlateSent) -> SteelPlate {
    SteelPlate {
        length: sent.length.get(),
        width: sent.width.get(),
        thickness: sent.thickness.get(),
        yield_strength: sent.yield_strength.as_ref().map(Sent::get),
    }
}

/// Faults for fields that mean nothing for the material chosen.
fn only(fields: &[(bool, &str)], at: &Pointer, context: &mut Context<'_>) -> bool {
    let given: Vec<&str> = fields.iter().filter(|(given, _)| *given).map(|(_, name)| *name).collect();
    for name in &given {
        context.inconsistent(&at.field(name), "it means nothing for this material", "leave it out");
    }
    given.is_empty()
}

fn read_soffit(sent: &SoffitSent, at: &Pointer, context: &mut Context<'_>) -> Option<Soffit> {
    let steel = (sent.yield_strength.is_some(), "yield_strength");
    let concrete = (sent.concrete_strength.is_some(), "concrete_strength");
    let timber = [(sent.nds_species.is_some(), "nds_species"), (sent.en338_class.is_some(), "en338_class")];
    match sent.material {
        SoffitWord::Steel => only(&[concrete, timber[0], timber[1]], at, context)
            .then(|| Soffit::Steel(sent.yield_strength.as_ref().map(Sent::get))),
        SoffitWord::Concrete => only(&[steel, timber[0], timber[1]], at, context)
            .then(|| Soffit::Concrete(sent.concrete_strength.as_ref().map(Sent::get))),
        SoffitWord::Timber => only(&[steel, concrete], at, context)
            .then_some(Soffit::Timber(Timber { nds: sent.nds_species, en338: sent.en338_class })),
    }
}

fn read_foundation(sent: &FoundationSent, at: &Pointer, context: &mut Context<'_>) -> Option<Foundation> {
    let of_concrete = [
        (sent.concrete_strength.is_some(), "concrete_strength"),
        (sent.room_length.is_some(), "room_length"),
        (sent.room_width.is_some(), "room_width"),
        (sent.depth.is_some(), "depth"),
        (sent.punching_resistance.is_some(), "punching_resistance"),
    ];
    let of_steel = [(sent.yield_strength.is_some(), "yield_strength")];
    let ground = sent.ground.as_ref().and_then(|ground| read_ground(ground, &at.field("ground"), context));
    match sent.material {
        FoundationWord::ConcreteBlock | FoundationWord::ConcreteSlab => {
            let slab = sent.material == FoundationWord::ConcreteSlab;
            let sound = only(&of_steel, at, context) && (slab || only(&of_concrete[4..], at, context));
            let room = match (&sent.room_length, &sent.room_width) {
                (Some(length), Some(width)) => Some((length.get(), width.get())),
                (None, None) => None,
                _ => {
                    context.inconsistent(
                        &at.field("room_length"),
                        "the room about a force has two sides",
                        "give both or neither",
                    );
                    return None;
                }
            };
            sound.then(|| {
                let concrete = ConcreteFoundation {
                    strength: sent.concrete_strength.as_ref().map(Sent::get),
                    room,
                    depth: sent.depth.as_ref().map(Sent::get),
                    slab,
                    punching_resistance: sent.punching_resistance.as_ref().map(Sent::get),
                };
                Foundation::Concrete(concrete, ground)
            })
        }
        FoundationWord::Steelwork => {
            let of_ground = [(sent.ground.is_some(), "ground")];
            let sound = only(&of_concrete, at, context) && only(&of_ground, at, context);
            sound.then(|| Foundation::Steelwork(sent.yield_strength.as_ref().map(Sent::get)))
        }
        FoundationWord::Ground => {
            let strength = [of_concrete[0], of_concrete[1], of_concrete[2], of_concrete[4]];
            let sound = only(&strength, at, context) && only(&of_steel, at, context);
            sound.then(|| Foundation::Ground(ground, sent.depth.as_ref().map(Sent::get)))
        }
    }
}

fn read_ground(sent: &GroundSent, at: &Pointer, context: &mut Context<'_>) -> Option<Ground> {
    if sent.allowable.is_some() && sent.class.is_some() {
        context.inconsistent(&at.field("class"), "an allowable pressure is stated as well", "give one of them");
        return None;
    }
    if sent.off_centre.is_none() {
        context.assume(
            &at.field("off_centre"),
            "the force stands in the middle of the area in which it bears on the ground",
            Length::ZERO,
            Source::common_practice("common practice, no source"),
        );
    }
    let own_weight = sent.own_weight.as_ref().map_or(Force::ZERO, Sent::get);
    Some(Ground {
        length: sent.length.get(),
        width: sent.width.get(),
        allowable: sent.allowable.as_ref().map(Sent::get),
        class: sent.class,
        off_centre: sent.off_centre.as_ref().map_or(Length::ZERO, Sent::get),
        own_weight,
    })
}

/// Total thickness of head plate and base plate, if plates are stated; every point must have the same.
pub(crate) fn plates_of(line: &LineOfForce, context: &mut Context<'_>) -> Option<Length> {
    let thickness = |point: &PointLine| {
        [point.head_plate, point.base_plate].into_iter().flatten().map(|plate| plate.thickness).sum::<Length>()
    };
    let heights: Vec<Length> = line.at_points.iter().map(thickness).collect();
    let first = heights.first().copied()?;
    if heights.iter().any(|height| 1e-9 < (*height - first).m().abs()) {
        let at = Pointer::default().field("line_of_force");
        let detail = "head and base plate together differ in thickness from point to point";
        context.inconsistent(&at, detail, "use plates of one total thickness");
    }
    (Length::ZERO < first).then_some(first)
}
