//! Every table: its heads in both profiles, its lines, and what hostile names do to it.

use super::Tables;
use ramwright_engine::catalogue::Money;
use ramwright_engine::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Status};
use ramwright_engine::circuit::{
    CircuitAssessment, OilBudget, RaiseTimes, RetractOutcome, Retraction, ReturnBy, ShutInOil, Stage, StageFlow,
};
use ramwright_engine::load::{LoadShares, Method, PointShare, Tipping};
use ramwright_engine::packing_lift::{
    PackingSequence, PieceCount, SequenceOutcome, Step, StepAt, StepKind, StepPressure,
};
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::ram::Action;
use ramwright_engine::size::{Assignment, ModelUsed, Objective, RamOption, Sizing};
use ramwright_engine::verify::{RamsAtPoint, Verdict, Verification};
use ramwright_units::Profile::{Metric, Us};
use ramwright_units::{Flow, Force, Length, OilPressure, OilVolume, PieceMass, Range, Temperature, Time};

const HOSTILE: &str = "=HYPERLINK(\"http://x\",\"a\")";
const GUARDED: &str = "'=HYPERLINK(\"http://x\",\"a\")";

const SHARES: &str = "point,least_kN,expected_kN,greatest_kN,any_equilibrium_least_kN,any_equilibrium_greatest_kN,method,tipping_margin_mm,tipping_ratio,verdict,governing_check,phase,phase_name,support,exactness,governs_least,governs_greatest,cost_of_centre_kN,cost_of_weight_kN,cost_of_level_kN,lost_rest_stands,lost_heaviest,lost_heaviest_share_kN";
const OPTIONS: &str = "rank,recommended,pareto,verdict,set,ram,family,action,lock_collar,rams_per_point,rams,capacity_kN,stroke_mm,closed_height_mm,packing_lifts,mass_kg,day_rate,hire_of_rams,pump,pumps,hose,hoses,cost,currency,time_s,utilisation,governing_check,governing_subject";
const CHECKS: &str = "check,subject,scenario,phase,status,demand,demand_unit,limit,limit_unit,utilisation,missing,note,hand_check,hand_check_unit,hand_check_ratio,would_pass,basis,basis_standing";
const STEPS: &str = "number,cycle,kind,who,done_at,text,points,soffit_least_mm,soffit_expected_mm,soffit_greatest_mm,extension_least_mm,extension_expected_mm,extension_greatest_mm,pressures_bar,base_stack,holding_stack,held_by,drop_mm,check,hold_point,pieces_moved,pieces_in_use,duration_s";

/// The lines of a table, read back, each cell under its head.
struct Read {
    heads: Vec<String>,
    lines: Vec<Vec<String>>,
}

impl Read {
    fn new(csv: &str) -> Self {
        let mut reader = csv::ReaderBuilder::new().from_reader(csv.as_bytes());
        let cells = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
        let heads = cells(reader.headers().unwrap());
        let lines = reader.records().map(|record| cells(&record.unwrap())).collect();
        Self { heads, lines }
    }

    fn cell(&self, line: usize, head: &str) -> &str {
        let column = self.heads.iter().position(|other| other == head).unwrap_or_else(|| panic!("no column {head}"));
        &self.lines[line][column]
    }
}

/// The heads in metric and US units; the CSV has CRLF line ends and no byte-order mark.
#[track_caller]
fn check_heads(result: &impl Tables, metric: &str, us_differs: &[(&str, &str)]) {
    let us = us_differs.iter().fold(metric.to_owned(), |heads, (from, to)| heads.replace(from, to));
    for (units, heads) in [(Metric, metric), (Us, us.as_str())] {
        let csv = result.csv(units);
        assert_eq!(csv.split("\r\n").next(), Some(heads));
        assert!(csv.ends_with("\r\n"));
    }
}

fn checked(id: CheckId, subject: &str, finding: Finding) -> Check {
    let place = Place { id, subject, scenario: Scenario::AsPlanned, phase: Phase::Raising };
    Check::new(&place, finding, Lines::default())
}

fn checks() -> Vec<Check> {
    let capacity = Finding::compare(Force::from_kn(100.0), Force::from_kn(200.0)).with_caution("near, by \"much\"");
    vec![
        checked(CheckId::Capacity, HOSTILE, capacity),
        checked(CheckId::SideLoad, "P2", Finding::missing(["rams/a/side_load_limit", "settings/guides"])),
        checked(CheckId::Action, "P2", Finding::judged(Status::Fail, "-12 mm short")),
    ]
}

fn shares() -> LoadShares {
    let range = Range::new(Force::from_kn(1.0), Force::from_kn(2.0), Force::from_kn(3.5));
    let point = |point: &str, any_equilibrium| PointShare {
        point: point.into(),
        share: range,
        any_equilibrium,
        governing_phase: None,
        held: None,
    };
    LoadShares {
        method: Method::WorstEquilibrium,
        why: "asked for".into(),
        weight: range,
        vertical_load: range,
        horizontal_force: Force::ZERO,
        points: vec![point(HOSTILE, Some(range)), point("P2", None)],
        tipping: Some(Tipping {
            from: "P1".into(),
            to: "P2".into(),
            distance: Length::from_mm(10.0),
            reach: Length::from_mm(12.0),
            margin: Length::from_mm(-2.0),
            ratio: -0.2,
        }),
        phases: Vec::new(),
        losses: Vec::new(),
        advice: Vec::new(),
        lines: Vec::new(),
        weighed: None,
        estimates: Vec::new(),
        checks: vec![checked(CheckId::Tipping, "load", Finding::compare(Length::from_mm(12.0), Length::from_mm(10.0)))],
    }
}

fn option(rank: u32, ram: &str, day_rate: Option<Money>) -> RamOption {
    RamOption {
        rank,
        recommended: rank == 1,
        pareto: true,
        set: format!("8 x {ram}"),
        models: vec![ModelUsed {
            ram: ram.into(),
            rams: 8,
            family: "@family".into(),
            action: Action::SingleActingSpringReturn,
            lock_collar: false,
            capacity: Force::from_kn(500.0),
            stroke: Length::from_mm(150.0),
            closed_height: Length::from_mm(250.0),
        }],
        at_points: ["1", "2", "3", "4"]
            .map(|point| RamsAtPoint { point: point.into(), ram: ram.into(), count: 2 })
            .into(),
        rams: 8,
        packing_lifts: day_rate.as_ref().map(|_| 3),
        mass: day_rate.as_ref().map(|_| PieceMass::from_kg(96.0)),
        day_rate,
        hire: None,
        circuit: None,
        circuit_missing: None,
        cost: None,
        time: None,
        utilisation: 0.5,
        verdict: Verdict::of(&checks()),
        checks: Vec::new(),
    }
}

fn sizing() -> Sizing {
    let rate = Money { amount: 120.5, currency: "EUR".into() };
    Sizing {
        load_shares: shares(),
        assignment: Assignment::Uniform,
        objectives: vec![Objective::Rams],
        models: 5,
        models_refused: 3,
        found: 2,
        passed_over: 1,
        complete: true,
        reason: None,
        options: vec![option(1, "+ram", Some(rate)), option(2, "ram", None)],
        refusals: Vec::new(),
    }
}

fn step(number: u32, holding_stack: Vec<PieceCount>, drop: Option<Length>) -> Step {
    let range = Range::new(Length::from_mm(190.0), Length::from_mm(195.0), Length::from_mm(200.0));
    Step {
        number,
        cycle: 1,
        kind: StepKind::Raise,
        who: "pump operator".into(),
        points: vec!["1".into(), "2".into()],
        text: "Raise, and pause.".into(),
        at: vec![StepAt {
            points: vec!["1".into(), "2".into()],
            soffit: range,
            extension: range,
            base_stack: Vec::new(),
            holding_stack,
            held_by: "the rams".into(),
            pressures: vec![StepPressure {
                point: "1".into(),
                expected: Range::new(
                    OilPressure::from_bar(90.2),
                    OilPressure::from_bar(100.4),
                    OilPressure::from_bar(120.0),
                ),
                stop: OilPressure::from_bar(132.0),
            }],
        }],
        drop,
        check: "levels".into(),
        hold_point: number == 1,
        pieces_moved: 2,
        pieces_in_use: Vec::new(),
        duration: Time::from_s(60.0),
    }
}

fn sequence(steps: Vec<Step>) -> PackingSequence {
    PackingSequence {
        outcome: SequenceOutcome::Optimal,
        optimal: true,
        why: "proven".into(),
        cycles: Some(1),
        lower_bound: 1,
        gap: Some(0),
        ending: None,
        groups: Vec::new(),
        rams: 4,
        ram_moves: 0,
        ram_utilisation: 0.5,
        totals: None,
        tilted: Vec::new(),
        stacks: 4,
        pieces_handled: 0,
        mass_handled: PieceMass::ZERO,
        greatest_stack: Length::ZERO,
        greatest_base_stack: Length::ZERO,
        greatest_extension: Length::ZERO,
        pieces: Vec::new(),
        left_out: Vec::new(),
        steps,
        reason: None,
    }
}

fn circuit() -> CircuitAssessment {
    let flow = StageFlow { stage: Stage::Slow, flow: Flow::from_l_per_min(1.0) };
    let pressure = Finding::compare(OilPressure::from_bar(350.0), OilPressure::from_bar(700.0));
    CircuitAssessment {
        points: Vec::new(),
        lift_order: Vec::new(),
        unequal_pressures: None,
        at_temperatures: Vec::new(),
        hose_run: None,
        pump_pressure: None,
        mechanical_power: None,
        motor_power: None,
        relief_window: None,
        shut_in_oil: ShutInOil { gain_per_10_k: OilPressure::ZERO, rise_to_rating_k: 0.0, lines: Vec::new() },
        oil_per_raise: OilVolume::ZERO,
        oil: OilBudget {
            rams: OilVolume::ZERO,
            compression: OilVolume::ZERO,
            swelling: None,
            needed: OilVolume::ZERO,
            returns: OilVolume::ZERO,
            not_included: "".into(),
        },
        usable_oil: OilVolume::ZERO,
        times: RaiseTimes {
            approach_flow: flow,
            load_flow: flow,
            approach: Time::ZERO,
            under_load: Time::ZERO,
            total: Time::ZERO,
            lines: Vec::new(),
        },
        retract: retraction(),
        sequence_times: None,
        pump_strokes: None,
        advice: Vec::new(),
        bill: Vec::new(),
        checks: vec![checked(CheckId::PumpPressure, "pump", pressure)],
        cautions: Vec::new(),
    }
}

fn retraction() -> Retraction {
    Retraction {
        by: ReturnBy::Load,
        outcome: RetractOutcome::NotByThemselves,
        text: "".into(),
        from: Length::ZERO,
        temperature: Temperature::ZERO,
        time: None,
        slowest_at: None,
        stands_still_at: None,
        greatest_flow: None,
        least_flow: None,
        region: None,
        integration_error: None,
        missing: Vec::new(),
        lines: Vec::new(),
    }
}

fn verification() -> Verification {
    Verification {
        verdict: Verdict::of(&checks()),
        load_shares: shares(),
        checks: checks(),
        margins: Vec::new(),
        design_basis: None,
        sequence: None,
        site: None,
    }
}

fn plan(verification: Option<Verification>, circuit: Option<CircuitAssessment>) -> LiftPlan {
    LiftPlan {
        verdict: Verdict::of(&[]),
        ram_set: Vec::new(),
        sizing: None,
        verification,
        circuit_used: None,
        circuit,
        cycle: None,
        estimate: None,
        open_checks: Vec::new(),
    }
}

#[test]
fn verify_heads_in_both_profiles() {
    let lengths_and_forces = [("_kN", "_lbf"), ("_mm", "_in"), ("_kg", "_lb")];
    check_heads(&shares(), SHARES, &lengths_and_forces);
    check_heads(&sizing(), OPTIONS, &lengths_and_forces);
    check_heads(&sequence(vec![step(1, Vec::new(), None)]), STEPS, &[("_mm", "_in"), ("_bar", "_psi")]);
    check_heads(&verification(), CHECKS, &[]);
    check_heads(&circuit(), CHECKS, &[]);
    check_heads(&plan(Some(verification()), Some(circuit())), CHECKS, &[]);
}

#[test]
fn verify_a_table_without_lines_still_has_its_heads() {
    assert_eq!(Sizing { options: Vec::new(), ..sizing() }.csv(Metric), format!("{OPTIONS}\r\n"));
    assert_eq!(sequence(Vec::new()).csv(Metric), format!("{STEPS}\r\n"));
    assert_eq!(plan(None, None).csv(Metric), format!("{CHECKS}\r\n"));
}

#[test]
fn verify_load_shares() {
    let table = Read::new(&shares().csv(Metric));
    assert_eq!(table.lines.len(), 2);
    assert_eq!(table.cell(0, "point"), GUARDED);
    assert_eq!(table.cell(0, "greatest_kN"), "3.5");
    assert_eq!(table.cell(0, "any_equilibrium_greatest_kN"), "3.5");
    assert_eq!(table.cell(1, "any_equilibrium_greatest_kN"), "");
    for line in 0..2 {
        assert_eq!(table.cell(line, "method"), "worst_equilibrium");
        assert_eq!(table.cell(line, "tipping_margin_mm"), "-2");
        assert_eq!(table.cell(line, "verdict"), "fail");
        assert_eq!(table.cell(line, "governing_check"), "tipping");
    }
    // 3.5 kN in lbf, with 1 lbf = 4.4482216152605 N by definition (NIST SP 811, appendix B).
    let pounds: f64 = Read::new(&shares().csv(Us)).cell(0, "greatest_lbf").parse().unwrap();
    assert!((pounds / (3_500.0 / 4.448_221_615_260_5) - 1.0).abs() < 1e-15);
}

#[test]
fn verify_sizing() {
    let table = Read::new(&sizing().csv(Metric));
    assert_eq!(table.lines.len(), 2);
    for (head, first, second) in [
        ("rank", "1", "2"),
        ("recommended", "true", "false"),
        ("verdict", "fail", "fail"),
        ("ram", "'+ram", "ram"),
        ("family", "'@family", "'@family"),
        ("action", "single_acting_spring_return", "single_acting_spring_return"),
        ("capacity_kN", "500", "500"),
        ("packing_lifts", "3", ""),
        ("mass_kg", "96", ""),
        ("day_rate", "120.5", ""),
        ("currency", "EUR", ""),
        ("utilisation", "0.5", "0.5"),
        ("governing_check", "action", "action"),
        ("governing_subject", "P2", "P2"),
    ] {
        assert_eq!((table.cell(0, head), table.cell(1, head)), (first, second), "{head}");
    }
}

#[test]
fn verify_checks() {
    let table = Read::new(&verification().csv(Metric));
    assert_eq!(table.lines.len(), 3);
    for (head, cells) in [
        ("check", ["capacity", "side_load", "action"]),
        ("subject", [GUARDED, "P2", "P2"]),
        ("scenario", ["as_planned", "as_planned", "as_planned"]),
        ("phase", ["raising", "raising", "raising"]),
        ("status", ["caution", "not_checked", "fail"]),
        ("demand", ["100", "", ""]),
        ("demand_unit", ["kN", "", ""]),
        ("limit", ["200", "", ""]),
        ("limit_unit", ["kN", "", ""]),
        ("utilisation", ["0.5", "", ""]),
        ("missing", ["", "rams/a/side_load_limit; settings/guides", ""]),
        ("note", ["near, by \"much\"", "", "'-12 mm short"]),
        ("basis_standing", ["common_practice", "stated", "definition"]),
    ] {
        assert_eq!([0, 1, 2].map(|line| table.cell(line, head)), cells, "{head}");
    }
    assert_eq!(table.cell(0, "basis"), CheckId::Capacity.basis().text.as_str());
}

#[test]
fn verify_a_plan_lists_the_checks_of_set_and_circuit() {
    let lines = |plan: &LiftPlan| Read::new(&plan.csv(Metric)).lines.len();
    assert_eq!(lines(&plan(Some(verification()), None)), 3);
    let both = plan(Some(verification()), Some(circuit()));
    assert_eq!(lines(&both), 4);
    let table = Read::new(&both.csv(Us));
    assert_eq!((table.cell(3, "check"), table.cell(3, "demand_unit")), ("pump_pressure", "psi"));
    assert_eq!(Read::new(&circuit().csv(Metric)).cell(0, "limit"), "700");
}

#[test]
fn verify_packing_sequence() {
    let pieces = |pairs: &[(u32, &str)]| -> Vec<PieceCount> {
        pairs.iter().map(|(count, piece)| PieceCount { piece: (*piece).into(), count: *count }).collect()
    };
    let steps = vec![
        step(1, pieces(&[(2, "oak-01"), (1, "slate-03")]), Some(Length::from_mm(25.0))),
        step(2, pieces(&[(1, HOSTILE)]), None),
    ];
    let table = Read::new(&sequence(steps).csv(Metric));
    assert_eq!(table.lines.len(), 2);
    for (head, first, second) in [
        ("number", "1", "2"),
        ("kind", "raise", "raise"),
        ("points", "1 2", "1 2"),
        ("pressures_bar", "1: 100 (90 to 120, stop 132)", "1: 100 (90 to 120, stop 132)"),
        ("text", "Raise, and pause.", "Raise, and pause."),
        ("soffit_least_mm", "190", "190"),
        ("extension_greatest_mm", "200", "200"),
        ("base_stack", "", ""),
        ("holding_stack", "2 x oak-01 + 1 x slate-03", "1 x =HYPERLINK(\"http://x\",\"a\")"),
        ("drop_mm", "25", ""),
        ("hold_point", "true", "false"),
    ] {
        assert_eq!((table.cell(0, head), table.cell(1, head)), (first, second), "{head}");
    }
}
