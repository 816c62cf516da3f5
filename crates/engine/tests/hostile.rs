//! Numbers that no request can carry past its parsing: nothing panics on them, and what cannot be computed does not pass.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use ramwright_engine::Effort;
use ramwright_engine::catalogue::{FlowPoint, Hose, Packing};
use ramwright_engine::check::{Check, CheckId, Phase, Status};
use ramwright_engine::circuit::{FlowDivision, assess_circuit};
use ramwright_engine::feed::{CircuitChoice, circuit_input};
use ramwright_engine::load::{
    Actions, Carrier, GirderLoad, GirderModel, GirderSection, Horizontal, LoadCase, LoadShares, OwnBearing, PhasePlan,
    Rule, Sharing, Slope, Task, Wind, share_load,
};
use ramwright_engine::packing_lift::{Direction, PieceCount};
use ramwright_engine::plan::{EndByEnd, HowItGoes, PlanInput, plan_lift, sequence_lift};
use ramwright_engine::ram::{Action, BaseFixity, Pad, Ram, ReturnLine};
use ramwright_engine::settings::{Settings, StrokeLimit};
use ramwright_engine::size::{SizeInput, size_ram_set};
use ramwright_engine::support::{
    ConcreteFoundation, DesignBasis, Foundation, Ground, Handling, LineOfForce, PointLine, Soffit,
};
use ramwright_engine::verify::{RamSet, VerifyInput, verify_ram_set};
use ramwright_units::{Length, Range, RotationalStiffness, Stiffness, Typed};
use std::sync::atomic::AtomicBool;
use support::{kn, mm, placed, plan_of, settings, yard};

const HOSTILE: [f64; 11] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    0.0,
    -0.0,
    -1.0,
    1e308,
    -1e308,
    f64::MIN_POSITIVE / 8.0,
    -f64::MIN_POSITIVE / 8.0,
    1e-300,
];

static NEVER: AtomicBool = AtomicBool::new(false);
const EFFORT: Effort<'static> = Effort { states: 300, stop: &NEVER };

/// All that a calculation is made from.
#[derive(Clone)]
struct All {
    case: LoadCase,
    ram: Ram,
    count: u32,
    settings: Settings,
    packing: Vec<Packing>,
    line: LineOfForce,
    circuit: CircuitChoice,
}

type Spoil = (&'static str, fn(&mut All, f64));

fn si<T: Typed>(value: f64) -> T {
    T::from_si(value)
}

fn range<T: Typed>(value: f64) -> Range<T> {
    Range::new(si(value), si(value), si(value))
}

fn stated(all: &mut All, change: impl Fn(&mut Range<ramwright_units::Force>)) {
    if let Sharing::Stated(shares) = &mut all.case.sharing {
        shares.iter_mut().take(1).for_each(change);
    }
}

fn in_plan(all: &mut All, change: impl Fn(&mut ramwright_engine::load::Placed)) {
    if let Sharing::Placed(placed) = &mut all.case.sharing {
        change(placed);
    }
}

fn in_girder(all: &mut All, change: impl Fn(&mut GirderModel)) {
    in_plan(all, |placed| {
        if let Rule::Girder(girder) = &mut placed.rule {
            change(girder);
        }
    });
}

fn own_bearing(all: &mut All, change: impl Fn(&mut OwnBearing)) {
    in_plan(all, |placed| placed.phases.iter_mut().flat_map(|plan| &mut plan.own_bearings).for_each(&change));
}

const OF_THE_SHARING: &[Spoil] = &[
    ("weight", |all, v| all.case.weight = range(v)),
    ("weight.least", |all, v| all.case.weight.least = si(v)),
    ("weight.expected", |all, v| all.case.weight.expected = si(v)),
    ("weight.greatest", |all, v| all.case.weight.greatest = si(v)),
    ("horizontal.share", |all, v| all.case.actions.horizontal = Horizontal::ShareOfWeight(v)),
    ("horizontal.stated", |all, v| all.case.actions.horizontal = Horizontal::Stated(si(v))),
    ("centre.x", |all, v| in_plan(all, |placed| placed.centre.x = range(v))),
    ("centre.y", |all, v| in_plan(all, |placed| placed.centre.y = range(v))),
    ("centre.z", |all, v| in_plan(all, |placed| placed.centre.z = Some(si(v)))),
    ("centre.x.least", |all, v| in_plan(all, |placed| placed.centre.x.least = si(v))),
    ("centre.y.greatest", |all, v| in_plan(all, |placed| placed.centre.y.greatest = si(v))),
    ("centre.x.greatest", |all, v| in_plan(all, |placed| placed.centre.x.greatest = si(v))),
    ("centre.y.least", |all, v| in_plan(all, |placed| placed.centre.y.least = si(v))),
    ("horizontal.at least", |all, v| all.case.actions.horizontal = Horizontal::AtLeast(v)),
    ("dynamic factor", |all, v| all.case.actions.dynamic_factor = v),
    ("wind.pressure", |all, v| {
        let sound = Wind { pressure: si(v), area: si(10.0), height: si(2.0), toward: None };
        all.case.actions.wind = Some(sound);
    }),
    ("wind.area", |all, v| {
        let sound = Wind { pressure: si(500.0), area: si(v), height: si(2.0), toward: Some(si(1.0)) };
        all.case.actions.wind = Some(sound);
    }),
    ("wind.height and direction", |all, v| {
        let sound = Wind { pressure: si(500.0), area: si(10.0), height: si(v), toward: Some(si(v)) };
        all.case.actions.wind = Some(sound);
    }),
    ("slope.angle", |all, v| all.case.actions.slope = Some(Slope { angle: si(v), toward: None })),
    ("slope.toward", |all, v| all.case.actions.slope = Some(Slope { angle: si(0.01), toward: Some(si(v)) })),
    ("stiffness", |all, v| all.case.points[0].stiffness = Some(si(v))),
    ("every held stiffness", |all, v| {
        all.case.points.iter_mut().for_each(|point| point.held_stiffness = Some(si(v)));
    }),
    ("held_stiffness", |all, v| all.case.points[0].held_stiffness = Some(si(v))),
    ("level", |all, v| all.case.points[0].level = si(v)),
    ("every level", |all, v| all.case.points.iter_mut().for_each(|point| point.level = si(v))),
    ("ram_area", |all, v| all.case.points[0].ram_area = Some(si(v))),
    ("every ram_area", |all, v| all.case.points.iter_mut().for_each(|point| point.ram_area = Some(si(v)))),
    ("packing_at.x", |all, v| all.case.points[0].packing_at = Some((si(v), mm(10.0)))),
    ("packing_at.y", |all, v| all.case.points[0].packing_at = Some((mm(10.0), si(v)))),
    ("every packing_at", |all, v| all.case.points.iter_mut().for_each(|point| point.packing_at = Some((si(v), si(v))))),
    ("level_band", |all, v| in_plan(all, |placed| placed.level_band = Some(si(v)))),
    ("least tipping margin", |all, v| in_plan(all, |placed| placed.least_tipping_margin = Some(si(v)))),
    ("position.x", |all, v| in_plan(all, |placed| placed.positions[0].0 = si(v))),
    ("position.y", |all, v| in_plan(all, |placed| placed.positions[0].1 = si(v))),
    ("every position", |all, v| in_plan(all, |placed| placed.positions.fill((si(v), si(v))))),
    ("level_band on springs", |all, v| {
        all.case.points.iter_mut().for_each(|point| point.stiffness = Some(Stiffness::from_n_per_m(5e7)));
        in_plan(all, |placed| (placed.rule, placed.level_band) = (Rule::Elastic, Some(si(v))));
    }),
    ("every stiffness", |all, v| {
        all.case.points.iter_mut().for_each(|point| point.stiffness = Some(si(v)));
        in_plan(all, |placed| (placed.rule, placed.level_band) = (Rule::Elastic, Some(mm(2.0))));
    }),
];

const OF_THE_POINTS: &[Spoil] = &[
    ("travel", |all, v| all.case.travel = si(v)),
    ("stated share", |all, v| stated(all, |share| *share = range(v))),
    ("stated greatest", |all, v| stated(all, |share| share.greatest = si(v))),
    ("clearance", |all, v| all.case.points[0].clearance = Some(si(v))),
    ("from_plumb", |all, v| all.case.points[0].from_plumb = si(v)),
    ("every clearance", |all, v| all.case.points.iter_mut().for_each(|point| point.clearance = Some(si(v)))),
    ("every packing clearance", |all, v| {
        all.case.points.iter_mut().for_each(|point| point.packing_clearance = Some(si(v)));
    }),
    ("limit", |all, v| all.case.points[0].limit = Some(si(v))),
    ("foundation_limit", |all, v| all.case.points[0].foundation_limit = Some(si(v))),
    ("pad.length", |all, v| all.case.points[0].pad = Some(Pad { length: si(v), width: mm(500.0) })),
    ("pad.width", |all, v| all.case.points[0].pad = Some(Pad { length: mm(500.0), width: si(v) })),
    ("base stiffness", |all, v| all.case.points[0].base = BaseFixity::Spring(RotationalStiffness::from_si(v))),
];

const OF_A_GIRDER: &[Spoil] = &[
    ("girder.from", |all, v| in_girder(all, |girder| girder.from = si(v))),
    ("girder.to", |all, v| in_girder(all, |girder| girder.to = si(v))),
    ("section.from", |all, v| in_girder(all, |girder| girder.sections[1].from = si(v))),
    ("section.modulus", |all, v| in_girder(all, |girder| girder.sections[0].modulus = si(v))),
    ("section.second_moment", |all, v| in_girder(all, |girder| girder.sections[1].second_moment = si(v))),
    ("point load.at", |all, v| {
        in_girder(all, |girder| girder.loads[0] = GirderLoad::Point { at: si(v), weight: kn(200.0) });
    }),
    ("point load.weight", |all, v| {
        in_girder(all, |girder| girder.loads[0] = GirderLoad::Point { at: si(6.0), weight: si(v) });
    }),
    ("uniform load.from", |all, v| {
        in_girder(all, |girder| girder.loads[1] = GirderLoad::Uniform { from: si(v), to: si(11.0), weight: kn(400.0) });
    }),
    ("uniform load.to", |all, v| {
        in_girder(all, |girder| girder.loads[1] = GirderLoad::Uniform { from: si(1.0), to: si(v), weight: kn(400.0) });
    }),
    ("uniform load.weight", |all, v| {
        in_girder(all, |girder| girder.loads[1] = GirderLoad::Uniform { from: si(1.0), to: si(11.0), weight: si(v) });
    }),
    ("own bearing.x", |all, v| own_bearing(all, |own| own.x = si(v))),
    ("own bearing.y", |all, v| own_bearing(all, |own| own.y = si(v))),
    ("own bearing.stiffness", |all, v| own_bearing(all, |own| own.stiffness = Some(si(v)))),
];

const OF_THE_RAM: &[Spoil] = &[
    ("effective_area", |all, v| all.ram.effective_area = si(v)),
    ("annulus_area", |all, v| all.ram.annulus_area = Some(si(v))),
    ("rated_pressure", |all, v| all.ram.rated_pressure = si(v)),
    ("stroke", |all, v| all.ram.stroke = si(v)),
    ("closed_height", |all, v| all.ram.closed_height = si(v)),
    ("body_diameter", |all, v| all.ram.body_diameter = Some(si(v))),
    ("base_diameter", |all, v| all.ram.base_diameter = Some(si(v))),
    ("plunger_diameter", |all, v| all.ram.plunger_diameter = Some(si(v))),
    ("plunger_bore", |all, v| all.ram.plunger_bore = Some(si(v))),
    ("plunger_yield", |all, v| all.ram.plunger_yield = Some(si(v))),
    ("saddle_diameter", |all, v| all.ram.saddle_diameter = Some(si(v))),
    ("saddle_tilt_limit", |all, v| all.ram.saddle_tilt_limit = Some(si(v))),
    ("side_load_limit_ratio", |all, v| all.ram.side_load_limit_ratio = Some(v)),
    ("return_force", |all, v| all.ram.return_force = Some(si(v))),
    ("mass", |all, v| all.ram.mass = Some(si(v))),
    ("day_rate", |all, v| all.ram.day_rate = Some(v)),
];

const OF_THE_SETTINGS: &[Spoil] = &[
    ("capacity_limit", |all, v| all.settings.capacity_limit = v),
    ("stroke_limit", |all, v| all.settings.stroke_limit = StrokeLimit::Share(v)),
    ("plates", |all, v| all.settings.plates = si(v)),
    ("entry_gap", |all, v| all.settings.entry_gap = si(v)),
    ("packing_gap", |all, v| all.settings.packing_gap = si(v)),
    ("follow_up_gap", |all, v| all.settings.follow_up_gap = si(v)),
    ("over_jack_allowance", |all, v| all.settings.over_jack_allowance = si(v)),
    ("side_by_side_spacing", |all, v| all.settings.side_by_side_spacing = si(v)),
    ("stability_factor", |all, v| all.settings.stability_factor = v),
    ("heavier_factor", |all, v| all.settings.heavier_factor = v),
];

const OF_THE_YARD: &[Spoil] = &[
    ("piece.thickness", |all, v| all.packing[0].thickness = si(v)),
    ("piece.length", |all, v| all.packing[0].length = si(v)),
    ("piece.width", |all, v| all.packing[0].width = si(v)),
    ("piece.mass", |all, v| all.packing[0].mass = si(v)),
    ("piece.settlement_least", |all, v| all.packing[0].settlement_least = si(v)),
    ("piece.settlement_greatest", |all, v| all.packing[0].settlement_greatest = si(v)),
    ("piece.yield_strength", |all, v| all.packing[0].yield_strength = Some(si(v))),
    ("piece.load_limit", |all, v| all.packing[0].load_limit = Some(si(v))),
    ("return_preload", |all, v| all.ram.return_preload = Some(si(v))),
    ("plunger_mass", |all, v| all.ram.plunger_mass = Some(si(v))),
    ("hose.swelling", |all, v| all.circuit.hose.as_mut().unwrap().swelling = Some(si(v))),
    ("pump.reservoir", |all, v| all.circuit.pump.reservoir = Some(si(v))),
    ("pump.stroke_volume_slow", |all, v| all.circuit.pump.stroke_volume_slow = Some(si(v))),
    ("pump.flow_curve.pressure", |all, v| curve(all).pressure = si(v)),
    ("pump.flow_curve.flow", |all, v| curve(all).flow = si(v)),
    ("oil.coldest", |all, v| all.circuit.oil.coldest = Some(si(v))),
    ("oil.bulk_modulus", |all, v| all.circuit.oil.bulk_modulus = Some(si(v))),
    ("fittings_k", |all, v| all.circuit.conditions.fittings_k = Some(v)),
    ("back_pressure", |all, v| all.circuit.conditions.back_pressure = si(v)),
    ("pump_efficiency", |all, v| all.circuit.conditions.pump_efficiency = v),
    ("split_error", |all, v| split(all, v, None)),
    ("levelled_every", |all, v| split(all, 0.04, Some(si(v)))),
    ("pump.rated_pressure", |all, v| all.circuit.pump.rated_pressure = si(v)),
    ("pump.flow_fast", |all, v| all.circuit.pump.flow_fast = si(v)),
    ("pump.changeover_pressure", |all, v| all.circuit.pump.changeover_pressure = Some(si(v))),
    ("pump.flow_slow", |all, v| all.circuit.pump.flow_slow = si(v)),
    ("pump.usable_oil", |all, v| all.circuit.pump.usable_oil = si(v)),
    ("pump.power", |all, v| all.circuit.pump.power = Some(si(v))),
    ("hose.bore", |all, v| all.circuit.hose.as_mut().unwrap().bore = si(v)),
    ("hose.length", |all, v| all.circuit.hose.as_mut().unwrap().length = si(v)),
    ("hose.rated_pressure", |all, v| all.circuit.hose.as_mut().unwrap().rated_pressure = si(v)),
    ("oil.viscosity_40", |all, v| all.circuit.oil.viscosity_40 = si(v)),
    ("oil.viscosity_100", |all, v| all.circuit.oil.viscosity_100 = si(v)),
    ("oil.temperature", |all, v| all.circuit.oil.temperature = si(v)),
    ("oil.density", |all, v| all.circuit.oil.density_kg_per_m3 = v),
];

/// The last point of a curve that the pump is given.
fn curve(all: &mut All) -> &mut FlowPoint {
    let pump = &mut all.circuit.pump;
    let end = |pressure, flow| FlowPoint { pressure, flow };
    pump.flow_curve = vec![end(si(0.0), pump.flow_fast), end(pump.rated_pressure, pump.flow_slow)];
    pump.flow_curve.last_mut().unwrap()
}

fn split(all: &mut All, error: f64, levelled_every: Option<Length>) {
    all.circuit.conditions.flow_division = Some(FlowDivision::SplitFlow { error, levelled_every });
}

/// Changes the first point's part of the line of force.
fn links(all: &mut All) -> &mut PointLine {
    &mut all.line.at_points[0]
}

fn concrete(all: &mut All, change: impl FnOnce(&mut ConcreteFoundation, &mut Ground)) {
    if let Some(Foundation::Concrete(concrete, Some(ground))) = &mut links(all).foundation {
        change(concrete, ground);
    }
}

const OF_THE_LINE: &[Spoil] = &[
    ("soffit", |all, v| links(all).soffit = Some(Soffit::Steel(Some(si(v))))),
    ("soffit of concrete", |all, v| links(all).soffit = Some(Soffit::Concrete(Some(si(v))))),
    ("soffit_angle", |all, v| links(all).soffit_angle = Some(si(v))),
    ("off_centre", |all, v| links(all).off_centre = Some(si(v))),
    ("lean", |all, v| links(all).lean = Some(si(v))),
    ("head_plate.length", |all, v| links(all).head_plate.as_mut().unwrap().length = si(v)),
    ("head_plate.width", |all, v| links(all).head_plate.as_mut().unwrap().width = si(v)),
    ("head_plate.thickness", |all, v| links(all).head_plate.as_mut().unwrap().thickness = si(v)),
    ("head_plate.yield", |all, v| links(all).head_plate.as_mut().unwrap().yield_strength = Some(si(v))),
    ("steelwork", |all, v| links(all).foundation = Some(Foundation::Steelwork(Some(si(v))))),
    ("concrete.strength", |all, v| concrete(all, |concrete, _| concrete.strength = Some(si(v)))),
    ("concrete.room", |all, v| concrete(all, |concrete, _| concrete.room = Some((si(v), mm(500.0))))),
    ("concrete.depth", |all, v| concrete(all, |concrete, _| concrete.depth = Some(si(v)))),
    ("concrete.punching", |all, v| {
        concrete(all, |concrete, _| (concrete.slab, concrete.punching_resistance) = (true, Some(si(v))));
    }),
    ("ground.length", |all, v| concrete(all, |_, ground| ground.length = si(v))),
    ("ground.width", |all, v| concrete(all, |_, ground| ground.width = si(v))),
    ("ground.allowable", |all, v| concrete(all, |_, ground| ground.allowable = Some(si(v)))),
    ("ground.off_centre", |all, v| concrete(all, |_, ground| ground.off_centre = si(v))),
    ("ground.own_weight", |all, v| concrete(all, |_, ground| ground.own_weight = si(v))),
    ("restraint.capacity", |all, v| all.line.restraint.as_mut().unwrap().capacity = Some(si(v))),
    ("restraint.play", |all, v| all.line.restraint.as_mut().unwrap().play = Some(si(v))),
    ("temperature", |all, v| all.line.oil_temperature_rise_k = Some(v)),
    ("thermal_relief", |all, v| all.line.thermal_relief = Some(si(v))),
    ("return_relief", |all, v| {
        all.ram.action = Action::DoubleActing;
        all.line.return_line = Some(ReturnLine::Relief(si(v)));
    }),
    ("persons", |all, v| all.line.handling = Some(Handling::ByHand(if 0.0 < v { u32::MAX } else { 0 }))),
    ("load_factor", |all, v| match &mut all.line.basis {
        Some(DesignBasis::Eurocode(eurocode)) => (eurocode.load_factor, eurocode.alpha_cc) = (v, v),
        Some(DesignBasis::NdsAsd(nds)) => nds.concrete_load_factor = v,
        _ => {}
    }),
    ("allowable", |all, v| {
        if let Some(DesignBasis::Custom(allowable)) = &mut all.line.basis {
            (allowable.plate_bending, allowable.steel_bearing) = (Some(si(v)), Some(si(v)));
            (allowable.concrete_bearing, allowable.timber_across_grain) = (Some(si(v)), Some(si(v)));
        }
    }),
];

const FIVE: [(f64, f64); 5] = [(-3.0, -2.0), (3.1, -2.0), (3.4, 2.2), (0.1, 3.0), (-2.7, 1.9)];

/// Sound calculations of every kind, to be spoilt one number at a time.
/// Pieces enough for two rams at each of four points.
fn plenty(pieces: Vec<Packing>) -> Vec<Packing> {
    pieces.into_iter().map(|piece| Packing { stock: 4 * piece.stock, ..piece }).collect()
}

/// Hoses enough for as many.
fn with_hoses(circuit: CircuitChoice) -> CircuitChoice {
    CircuitChoice { hose: circuit.hose.map(|hose| Hose { stock: Some(200), ..hose }), ..circuit }
}

fn sound() -> Vec<(&'static str, All)> {
    let all = |case: LoadCase, ram: Ram, count: u32| All {
        line: support::line::line(case.points.len()),
        case,
        ram,
        count,
        settings: Settings { rams_per_point: 2, ..settings() },
        packing: plenty(yard::pieces().into_iter().take(3).collect()),
        circuit: with_hoses(yard::circuit()),
    };
    let triangle = placed(kn(300.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    let mut four = placed(kn(500.0), &[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)], (2.0, 1.5));
    four.actions.horizontal = Horizontal::ShareOfWeight(0.025);
    let mut elastic = four.clone();
    plan_of(&mut elastic).rule = Rule::Elastic;
    let stated =
        LoadCase { sharing: Sharing::Stated(vec![Range::new(kn(90.0), kn(100.0), kn(110.0)); 3]), ..triangle.clone() };
    let mut press = LoadCase { task: Task::Press, ..placed(kn(100.0), &[(0.0, 0.0)], (0.0, 0.0)) };
    press.points[0].clearance = Some(mm(260.0));
    press.points[0].from_plumb = si(1.0);
    let pull = LoadCase { task: Task::Pull, weight: range(5e4), ..press.clone() };
    let mut flanged = press.clone();
    flanged.points[0].mounting = Some(ramwright_engine::ram::Mounting::FrontFlange);
    let rams = yard::rams();
    vec![
        ("triangle", all(triangle, rams[0].clone(), 1)),
        ("four", all(four, rams[3].clone(), 2)),
        ("elastic", all(elastic, rams[1].clone(), 1)),
        ("stated", all(stated, rams[2].clone(), 1)),
        ("press", all(press, rams[0].clone(), 1)),
        ("flanged", all(flanged, rams[0].clone(), 1)),
        ("pull", all(pull, rams[0].clone(), 1)),
    ]
}

/// The same for loads whose sharing takes more than statics; their rams, settings and yard are as everywhere.
fn sound_on_many() -> Vec<(&'static str, All)> {
    let all = |case: LoadCase| {
        let line = support::line::line(case.points.len());
        All { case, line, ram: yard::rams()[3].clone(), count: 1, ..triangle() }
    };
    vec![("on springs", all(on_springs())), ("linked", all(linked())), ("girder", all(girder()))]
}

/// Five points on springs of their own, at known levels in a band, in wind and on a slope; some can lift off.
fn on_springs() -> LoadCase {
    let mut case = placed(kn(900.0), &FIVE, (0.1, 0.3));
    let springs = [(40.0, 0.0), (50.0, 2.0), (60.0, -1.0), (70.0, 0.5), (80.0, -2.0)];
    for (point, (k, level_mm)) in case.points.iter_mut().zip(springs) {
        (point.stiffness, point.level) = (Some(Stiffness::from_n_per_m(k * 1e6)), mm(level_mm));
    }
    plan_of(&mut case).level_band = Some(mm(2.0));
    case.actions = Actions {
        horizontal: Horizontal::AtLeast(0.025),
        wind: Some(Wind { pressure: si(200.0), area: si(8.0), height: si(1.5), toward: Some(si(0.5)) }),
        slope: Some(Slope { angle: si(0.01), toward: Some(si(2.0)) }),
        dynamic_factor: 1.1,
    };
    case
}

/// Five points, two of them linked while the load is raised; then it rests on stacks beside the rams.
fn linked() -> LoadCase {
    let mut case = placed(kn(600.0), &FIVE, (0.1, 0.3));
    for (point, (x, y)) in case.points.iter_mut().zip(FIVE) {
        point.ram_area = Some(si(0.0140));
        point.packing_at = Some((si(x + 0.2), si(y)));
        (point.stiffness, point.held_stiffness) = (Some(si(5e7)), Some(si(8e7)));
    }
    let placed = plan_of(&mut case);
    placed.level_band = Some(mm(1.0));
    let carried_by = |phase, carrier| PhasePlan { carriers: vec![carrier; 5], ..PhasePlan::independent(phase, 5) };
    placed.phases = vec![
        PhasePlan { linked: vec![vec![0, 1]], ..PhasePlan::independent(Phase::Raising, 5) },
        carried_by(Phase::Pause, Carrier::Collar),
        carried_by(Phase::Holding, Carrier::Packing),
    ];
    case
}

/// A girder of two sections on three points, and on a bearing of its own while it is raised.
fn girder() -> LoadCase {
    let weight = kn(600.0);
    let mut case = placed(weight, &[(1.0, 0.0), (6.0, 0.0), (11.0, 0.0)], (6.0, 0.0));
    case.points.iter_mut().for_each(|point| point.stiffness = Some(si(8e7)));
    let section = |from| GirderSection { from, modulus: si(2e11), second_moment: si(0.005) };
    let placed = plan_of(&mut case);
    placed.level_band = Some(mm(1.0));
    placed.rule = Rule::Girder(GirderModel {
        from: si(0.0),
        to: si(12.0),
        sections: vec![section(si(0.0)), section(si(5.0))],
        loads: vec![
            GirderLoad::Point { at: si(6.0), weight: kn(200.0) },
            GirderLoad::Uniform { from: si(1.0), to: si(11.0), weight: kn(400.0) },
        ],
    });
    let own = OwnBearing { id: "shoe".into(), x: si(3.0), y: si(0.0), stiffness: Some(si(9e7)) };
    placed.phases = vec![PhasePlan { own_bearings: vec![own], ..PhasePlan::independent(Phase::Raising, 3) }];
    case
}

const UP: HowItGoes = HowItGoes { direction: Direction::Raise, end_by_end: None, second_support: None };

/// A load that goes down, one that goes up end by end, and one that a second support carries.
fn other_ways(all: &All, difference: Length) -> Vec<HowItGoes> {
    let ids: Vec<String> = all.case.points.iter().map(|point| point.id.clone()).collect();
    let stands_on = all.packing.iter().map(|piece| PieceCount { piece: piece.id.clone(), count: 2 }).collect();
    let ends = EndByEnd { ends: [ids[..1].to_vec(), ids[1..].to_vec()], greatest_difference: difference };
    vec![
        HowItGoes { direction: Direction::Lower { stands_on }, ..UP },
        HowItGoes { end_by_end: Some(ends), ..UP },
        HowItGoes { second_support: Some("a frame".into()), ..UP },
    ]
}

fn sequences(all: &All, verify: &VerifyInput, ways: &[HowItGoes]) {
    for how in ways {
        let Ok(groups) = how.groups(verify) else { continue };
        let Ok(sequence) = sequence_lift(verify, &all.ram, how, &groups, EFFORT) else { continue };
        if sequence.cycles.is_some() {
            let text = serde_json::to_string(&ramwright_units::In(ramwright_units::Profile::Metric, &sequence));
            assert!(text.is_ok(), "{how:?}: {text:?}");
        }
    }
}

fn verify_input(all: &All) -> VerifyInput {
    VerifyInput {
        case: all.case.clone(),
        set: RamSet::everywhere(&all.ram, all.count, all.case.points.len()),
        line: all.line.clone(),
        settings: all.settings.clone(),
        packing: all.packing.clone(),
        site: None,
    }
}

/// Every top-level function on one set of inputs; all checks that they make.
fn everything(all: &All) -> Vec<Check> {
    let mut checks = Vec::new();
    let verify = verify_input(all);
    let shares: Option<LoadShares> = share_load(&all.case).ok();
    let answer = verify_ram_set(&verify, EFFORT).ok();
    if let Some(answer) = &answer {
        checks.extend(answer.checks.iter().cloned());
        if answer.verdict.status == Status::Pass {
            assert!(answer.checks.iter().all(|check| check.status == Status::Pass));
        }
    }
    sequences(all, &verify, &[UP]);
    if let (Some(shares), Some(answer)) = (&shares, &answer) {
        let input = circuit_input(&verify, shares, answer.sequence.as_ref(), &all.circuit);
        checks.extend(input.into_iter().flat_map(|input| assess_circuit(&input).checks));
    }
    let search = SizeInput {
        case: all.case.clone(),
        line: all.line.clone(),
        settings: all.settings.clone(),
        rams: vec![std::sync::Arc::new(all.ram.clone())],
        packing: all.packing.clone(),
        currency: "EUR".into(),
        price: ramwright_engine::defaults::PRICE_TERMS,
        search: support::every_set(),
        supply: None,
    };
    let _ = size_ram_set(&search, EFFORT);
    let plan = PlanInput { search, proposed: Some(verify.set), circuit: Some(all.circuit.clone()), site: None };
    if let Ok(plan) = plan_lift(&plan, EFFORT) {
        checks.extend(plan.verification.into_iter().flat_map(|answer| answer.checks));
    }
    checks
}

#[track_caller]
fn withstand(fields: &[Spoil]) {
    withstand_each(sound(), fields);
}

#[track_caller]
fn withstand_each(all: Vec<(&'static str, All)>, fields: &[Spoil]) {
    for (of, sound) in all {
        for (field, spoil) in fields {
            for value in HOSTILE {
                let mut all = sound.clone();
                spoil(&mut all, value);
                for check in everything(&all) {
                    let passes = matches!(check.status, Status::Pass | Status::Caution);
                    let finite = [check.demand, check.limit].iter().flatten().all(|value| value.value_si.is_finite());
                    assert!(finite || !passes, "{of}, {field} = {value:e}: {check:#?}");
                    assert!(check.utilisation.is_none_or(f64::is_finite), "{of}, {field} = {value:e}: {check:#?}");
                }
            }
        }
    }
}

#[test]
fn verify_hostile_numbers_in_the_load_case() {
    withstand(OF_THE_SHARING);
    withstand(OF_THE_POINTS);
}

#[test]
fn verify_hostile_numbers_in_a_load_on_many_supports() {
    withstand_each(sound_on_many(), OF_THE_SHARING);
}

#[test]
fn verify_hostile_numbers_in_a_girder() {
    withstand_each(sound_on_many().into_iter().filter(|(of, _)| *of == "girder").collect(), OF_A_GIRDER);
}

#[test]
fn verify_hostile_numbers_in_the_ram() {
    withstand(OF_THE_RAM);
}

#[test]
fn verify_hostile_numbers_in_the_settings() {
    withstand(OF_THE_SETTINGS);
}

#[test]
fn verify_hostile_numbers_in_the_line_of_force() {
    withstand(OF_THE_LINE);
    // The other bases go other ways through the strengths alone: one lift is enough for them.
    for basis in [support::line::EUROCODE, support::line::own()] {
        let mut all: Vec<_> = sound().into_iter().filter(|(of, _)| *of == "triangle").collect();
        for (_, all) in &mut all {
            all.line.basis = Some(basis);
        }
        withstand_each(all, OF_THE_LINE);
    }
}

#[test]
fn verify_hostile_numbers_in_the_yard() {
    withstand(OF_THE_YARD);
}

/// The sound inputs are sound: most of their checks pass, so that spoiling one number is what is seen.
#[test]
fn verify_the_inputs_are_sound_before_they_are_spoilt() {
    for (of, sound) in sound().into_iter().chain(sound_on_many()) {
        let checks = everything(&sound);
        let fails: Vec<_> = checks.iter().filter(|check| check.status == Status::Fail).collect();
        assert!(fails.is_empty() && 10 < checks.len(), "{of}: {fails:#?}");
    }
}

fn triangle() -> All {
    sound().into_iter().find(|(of, _)| *of == "triangle").unwrap().1
}

/// Pieces whose limit is no number hold nothing up.
#[test]
fn verify_a_limit_that_is_no_number_carries_nothing() {
    let mut all = triangle();
    all.packing.iter_mut().for_each(|piece| piece.load_limit = Some(si(f64::NAN)));
    let holding: Vec<Check> = everything(&all).into_iter().filter(|check| check.id == CheckId::Holding).collect();
    assert!(!holding.is_empty() && holding.iter().all(|check| check.status == Status::Fail), "{holding:#?}");
}

/// No rams, and more than can be counted.
#[test]
fn verify_hostile_counts() {
    let sound = triangle();
    let none = everything(&All { count: 0, ..sound.clone() });
    let on_rams = none.iter().filter(|check| check.id == CheckId::Capacity);
    assert!(on_rams.clone().count() > 0 && on_rams.clone().all(|check| check.status == Status::Fail));
    assert_eq!(RamSet::everywhere(&sound.ram, u32::MAX, 3).rams(), u32::MAX);
    assert_eq!(RamSet::everywhere(&sound.ram, u32::MAX, 3).rams_of(&sound.ram.id), u32::MAX);
    let empty = LoadCase { points: Vec::new(), sharing: Sharing::Equal, ..sound.case.clone() };
    everything(&All { case: empty, ..sound });
    assert!(mm(f64::NAN).max(Length::ZERO).m().abs() < 1.0);
}

/// Hostile heights, gaps, pieces and tolerances where the load goes down, end by end, or on to a second support.
#[test]
fn verify_other_ways_withstand_hostile_numbers() {
    let fields: &[Spoil] = &[
        ("none", |_, _| {}),
        ("clearance", |all, v| all.case.points.iter_mut().for_each(|point| point.clearance = Some(si(v)))),
        ("packing clearance", |all, v| all.case.points[0].packing_clearance = Some(si(v))),
        ("travel", |all, v| all.case.travel = si(v)),
        ("level tolerance", |all, v| all.settings.level_tolerance = si(v)),
        ("pump flow", |all, v| all.settings.handling.flow = Some(si(v))),
        ("thickness", |all, v| all.packing.iter_mut().for_each(|piece| piece.thickness = si(v))),
        ("closed height", |all, v| all.ram.closed_height = si(v)),
        ("effective area", |all, v| all.ram.effective_area = si(v)),
    ];
    for (_, sound) in sound() {
        for (_, spoil) in fields {
            for value in HOSTILE {
                let mut all = sound.clone();
                spoil(&mut all, value);
                let verify = verify_input(&all);
                for difference in [si(0.05), si(value)] {
                    sequences(&all, &verify, &other_ways(&all, difference));
                }
            }
        }
    }
}
