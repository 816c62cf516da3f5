//! Rules of thumb that every engineer of the trade would hold an answer against. Common practice, no source.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use ramwright_engine::check::{CheckId, Scenario, Status};
use ramwright_engine::load::{LoadCase, Sharing, Task};
use ramwright_engine::ram::Ram;
use ramwright_engine::settings::Settings;
use ramwright_engine::size::{SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::VerifyInput;
use ramwright_units::{Area, Force, Length, LoadMass, OilPressure, Weight};
use support::{check, effort, exactly, kn, mm, placed, points, proposal, settings, verify, yard};

const POUND_KG: f64 = 0.453_592_37;
const INCH_MM: f64 = 25.4;

/// The weight of so many short tons of 2000 lb (exact by definition).
fn short_tons(tons: f64) -> Force {
    Weight::from_mass(LoadMass::from_kg(tons * 2000.0 * POUND_KG)).force
}

/// A ram whose area times rated pressure is this force.
fn ram_of(capacity: Force) -> Ram {
    let ram = yard::ram("made-to-measure", 100.0, 200.0, 210.0);
    Ram { effective_area: Area::from_m2(capacity.n() / ram.rated_pressure.pa()), ..ram }
}

fn capacity_status(case: &LoadCase, ram: &Ram) -> Status {
    let answer = verify(&proposal(case.clone(), ram, 1)).unwrap();
    let statuses =
        case.points.iter().map(|point| check(&answer.checks, CheckId::Capacity, &point.id, Scenario::AsPlanned).status);
    statuses.max().unwrap()
}

fn sized(case: &LoadCase, ram: &Ram, settings: &Settings) -> Sizing {
    let input = SizeInput {
        case: case.clone(),
        line: support::line::line(case.points.len()),
        settings: Settings { rams_per_point: 1, ..settings.clone() },
        rams: vec![std::sync::Arc::new(ram.clone())],
        packing: yard::pieces(),
        currency: "EUR".into(),
        price: ramwright_engine::defaults::PRICE_TERMS,
        search: support::every_set(),
        supply: None,
    };
    size_ram_set(&input, effort()).unwrap()
}

/// A frame that presses with this force.
fn press(force: Force, opening: Length, travel: Length) -> LoadCase {
    let mut case = LoadCase { task: Task::Press, travel, ..placed(force, &[(0.0, 0.0)], (0.0, 0.0)) };
    case.points[0].clearance = Some(opening);
    case
}

/// Holds ram by ram against a case: what is stated passes, the slightest bit less does not, for `verify` and `size`.
#[track_caller]
fn needs_just(case: &LoadCase, capacity: Force) {
    for (of_it, expected) in [(1.0, Status::Pass), (1.1, Status::Pass), (1.0 - 1e-6, Status::Fail), (0.9, Status::Fail)]
    {
        let ram = ram_of(capacity * of_it);
        assert_eq!(capacity_status(case, &ram), expected, "{of_it} of the capacity");
        let refused = sized(case, &ram, &settings()).refusals.iter().any(|refusal| refusal.check == CheckId::Capacity);
        assert_eq!(refused, expected == Status::Fail, "{of_it} of the capacity in a search");
    }
}

/// At most 80 % of the capacity is used: common practice, no source.
#[test]
fn verify_seventy_two_short_tons_need_ninety() {
    needs_just(&placed(short_tons(72.0), &[(0.0, 0.0)], (0.0, 0.0)), short_tons(90.0));
}

/// Common practice, no source.
#[test]
fn verify_four_equal_shares_need_a_quarter_each() {
    let each = exactly(short_tons(18.0));
    let case = LoadCase {
        sharing: Sharing::Stated(vec![each; 4]),
        points: points(4),
        ..placed(short_tons(72.0), &[(0.0, 0.0)], (0.0, 0.0))
    };
    needs_just(&case, short_tons(22.5));
}

/// At most 80 % of the stroke is used: common practice, no source.
#[test]
fn verify_six_inches_of_travel_need_seven_and_a_half_of_stroke() {
    let ram = yard::small_ram();
    let case = press(kn(100.0), ram.closed_height, mm(6.0 * INCH_MM));
    for (inches, expected) in [(7.5, Status::Pass), (7.499_99, Status::Fail), (7.0, Status::Fail), (8.0, Status::Pass)]
    {
        let ram = Ram { stroke: mm(inches * INCH_MM), ..ram.clone() };
        let flush = Settings { plates: Length::ZERO, ..settings() };
        let input = VerifyInput { settings: flush.clone(), ..proposal(case.clone(), &ram, 1) };
        let answer = verify(&input).unwrap();
        assert_eq!(check(&answer.checks, CheckId::Stroke, "1", Scenario::AsPlanned).status, expected, "{inches} in");
        let refused = sized(&case, &ram, &flush).refusals.iter().any(|refusal| refusal.check == CheckId::Stroke);
        assert_eq!(refused, expected == Status::Fail, "{inches} in, in a search");
    }
}

/// 35.0 cm2 at 680 bar are 238 kN, of which 80 % is 190.4 kN, whatever the label says. Common practice, no source.
#[test]
fn verify_the_nominal_class_counts_for_nothing() {
    for class in ["", "10", "25 t", "50", "1000 kN", "200 ton"] {
        let ram = Ram { nominal_class: class.into(), ..yard::small_ram() };
        assert!(((ram.rated_pressure * ram.effective_area).kn() - 238.0).abs() < 1e-9);
        for (force, expected) in
            [(190.0, Status::Pass), (190.4, Status::Pass), (191.0, Status::Fail), (238.0, Status::Fail)]
        {
            let case = press(kn(force), ram.closed_height + settings().plates, mm(100.0));
            assert_eq!(capacity_status(&case, &ram), expected, "{force} kN on class `{class}`");
        }
    }
}

/// Pulling uses the annulus, and a single-acting ram has none to pull with. Definition.
#[test]
fn verify_a_pull_counts_the_annulus() {
    use ramwright_engine::ram::Action;
    let ram = Ram { annulus_area: Some(Area::from_cm2(14.0)), ..yard::small_ram() };
    // 14.0 cm2 at 680 bar are 95.2 kN, of which 80 % is 76.16 kN.
    for (force, expected) in [(76.16, Status::Pass), (76.17, Status::Fail), (190.0, Status::Fail)] {
        let case = LoadCase { task: Task::Pull, ..press(kn(force), mm(300.0), mm(50.0)) };
        assert_eq!(capacity_status(&case, &ram), expected, "{force} kN");
        let single = Ram { action: Action::SingleActingSpringReturn, ..ram.clone() };
        assert_eq!(capacity_status(&case, &single), Status::Fail);
        let unknown = Ram { annulus_area: None, ..ram.clone() };
        assert_eq!(capacity_status(&case, &unknown), Status::NotChecked);
    }
}

/// A limit above 0.80 is a caution, however little is used of it; one below is not. Common practice, no source.
#[test]
fn verify_a_working_limit_above_practice_is_a_caution() {
    let ram = yard::small_ram();
    for (limit, expected) in [(0.8, Status::Pass), (0.5, Status::Pass), (0.81, Status::Caution), (1.0, Status::Caution)]
    {
        let case = press(kn(50.0), ram.closed_height + settings().plates, mm(50.0));
        let input =
            VerifyInput { settings: Settings { capacity_limit: limit, ..settings() }, ..proposal(case, &ram, 1) };
        let answer = verify(&input).unwrap();
        assert_eq!(check(&answer.checks, CheckId::Capacity, "1", Scenario::AsPlanned).status, expected, "{limit}");
        let heavier = check(&answer.checks, CheckId::Capacity, "1", Scenario::LoadHeavier);
        assert_eq!(heavier.status, Status::Pass, "an accidental scenario knows no working limit");
    }
}

/// 10 % heavier is held against the whole capacity, not the working limit. Common practice, no source.
#[test]
fn verify_the_heavier_load_may_use_the_whole_capacity() {
    let ram = Ram { rated_pressure: OilPressure::from_bar(680.0), ..yard::small_ram() };
    // 238 kN / 1.10 = 216.36 kN.
    for (force, expected) in [(216.3, Status::Pass), (216.4, Status::Fail)] {
        let answer = verify(&proposal(press(kn(force), mm(300.0), mm(50.0)), &ram, 1)).unwrap();
        assert_eq!(check(&answer.checks, CheckId::Capacity, "1", Scenario::LoadHeavier).status, expected, "{force} kN");
    }
}
