//! What must not change an answer: names and order of the points, the origin, the units, left and right.
//!
//! No source is needed: none of these is part of the job.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use ramwright_engine::EngineError;
use ramwright_engine::check::{Check, Scenario};
use ramwright_engine::load::{Horizontal, LoadCase, Sharing, share_load};
use ramwright_engine::plan::{PlanInput, plan_lift};
use ramwright_engine::ram::Ram;
use ramwright_engine::settings::Settings;
use ramwright_engine::size::{SizeInput, size_ram_set};
use ramwright_engine::verify::VerifyInput;
use ramwright_units::{Angle, In, Length, Profile, Range, Typed};
use serde::Serialize;
use serde_json::Value;
use support::cases::{load_cases, proposals};
use support::{close, effort, in_order, m, plan_of, reordered, settings, verify, yard};

const SAME: f64 = 1e-9;
/// Greatest dimension of the plans in m.
const BASE_M: f64 = 6.4;

fn json<T: Serialize>(answer: Result<T, EngineError>) -> Value {
    match answer {
        Ok(answer) => serde_json::to_value(In(Profile::Metric, &answer)).unwrap(),
        Err(_) => Value::String("no answer".into()),
    }
}

/// How one answer is held against another.
struct Comparison<'a> {
    /// The weight in kN, to which forces count as rounding.
    weight_kn: f64,
    /// Takes a place of the second answer back to the first, in mm.
    back: &'a dyn Fn((f64, f64)) -> (f64, f64),
    /// Whether left and right are as they were; if not, another of equally good advices may come first, and words that
    /// name a direction differ.
    handed: bool,
}

impl Comparison<'_> {
    /// The first difference of two answers that is more than rounding: words are alike, numbers to nine digits.
    fn difference(&self, a: &Value, b: &Value, at: &str) -> Option<String> {
        let differ = || Some(format!("{at}: {a} and {b}"));
        match (a, b) {
            (Value::Object(x), Value::Object(y)) if x.keys().eq(y.keys()) => {
                let unit = x.get("unit").and_then(Value::as_str);
                x.iter().filter(|(key, _)| self.counts(key, a, b)).find_map(|(key, x)| {
                    match (x.as_f64(), y[key].as_f64()) {
                        (Some(x), Some(y)) if close(x, y, SAME, self.scale(unit)) => None,
                        _ => self.difference(x, &y[key], &format!("{at}/{key}")),
                    }
                })
            }
            (Value::Array(x), Value::Array(y)) if x.len() == y.len() => {
                let pairs = x.iter().zip(y).enumerate();
                pairs.into_iter().find_map(|(index, (x, y))| self.difference(x, y, &format!("{at}/{index}")))
            }
            (Value::Number(x), Value::Number(y)) if close(x.as_f64()?, y.as_f64()?, SAME, 1.0) => None,
            (Value::String(x), Value::String(y)) if same_words(x, y) => None,
            _ if a == b => None,
            _ => differ(),
        }
    }

    fn scale(&self, unit: Option<&str>) -> f64 {
        match unit {
            Some("kN") => self.weight_kn,
            Some("mm") => BASE_M * 1e3,
            _ => 1.0,
        }
    }

    /// Whether this part of two objects must be alike.
    fn counts(&self, key: &str, a: &Value, b: &Value) -> bool {
        match key {
            // Among combinations that give the same share any may be named; the share is compared.
            "governing" => !a[key].is_object(),
            // What small errors cost is that of the combination named.
            "sensitivity" => self.same_place(&a["governing"]["greatest"], &b["governing"]["greatest"]),
            "link" | "words" | "margins" => self.handed,
            "what" => self.handed || undirected(&a[key]) != undirected(&b[key]),
            _ => true,
        }
    }

    /// Whether two combinations are the same one, seen from both plans.
    fn same_place(&self, a: &Value, b: &Value) -> bool {
        let at = |of: &Value| Some((of["x"]["value"].as_f64()?, of["y"]["value"].as_f64()?));
        let near = |a: f64, b: f64| close(a, b, SAME, BASE_M * 1e3);
        let places = match (at(a), at(b).map(self.back)) {
            (Some(a), Some(b)) => near(a.0, b.0) && near(a.1, b.1),
            (a, b) => a.is_none() && b.is_none(),
        };
        places && ["vertical_load", "levels"].iter().all(|key| self.difference(&a[key], &b[key], "").is_none())
    }
}

/// Leaves out what small errors cost where a support can lift off: a share is then greatest just where another support
/// begins to touch, and rounding says whether that one does.
fn without_kinks(mut answer: Value) -> Value {
    match &mut answer {
        Value::Object(fields) => {
            let idle = |support: &Value| support["share"]["least"].as_f64().is_some_and(|least| least <= 0.0);
            let elastic = fields.get("method").is_some_and(|method| method == "elastic");
            if let Some(Value::Array(supports)) = fields.get_mut("supports").filter(|_| elastic)
                && supports.iter().any(idle)
            {
                supports.iter_mut().filter_map(Value::as_object_mut).for_each(|support| {
                    support.remove("sensitivity");
                });
            }
            for (_, field) in fields.iter_mut() {
                *field = without_kinks(field.take());
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| *item = without_kinks(item.take())),
        _ => {}
    }
    answer
}

/// Whether words are alike; a number in them that is not whole may be off by one in its last digit, where it is cut.
fn same_words(a: &str, b: &str) -> bool {
    let number = |word: &str| -> Option<(f64, f64)> {
        let digits = word.trim_matches(|c: char| !c.is_ascii_digit() && c != '-' && c != '+' && c != '.');
        let decimals = digits.split_once('.').filter(|(_, decimals)| !decimals.is_empty())?.1.len();
        Some((digits.parse().ok()?, libm::pow(0.1, f64::from(u32::try_from(decimals).ok()?))))
    };
    let same = |(a, b): (&str, &str)| match (number(a), number(b)) {
        (Some((x, step)), Some((y, _))) => (x - y).abs() <= 1.001 * step,
        _ => a == b,
    };
    a.split(' ').count() == b.split(' ').count() && a.split(' ').zip(b.split(' ')).all(same)
}

/// Words without the direction that they name.
fn undirected(words: &Value) -> Option<&str> {
    words.as_str()?.split(" towards (").next()
}

/// Holds the answers to a plan and to the same plan moved against each other.
#[track_caller]
fn same(a: &VerifyInput, b: &VerifyInput, back: &dyn Fn((f64, f64)) -> (f64, f64), handed: bool) {
    let comparison = Comparison { weight_kn: a.case.weight.greatest.kn(), back, handed };
    assert_eq!(comparison.difference(&without_kinks(answers(a)), &without_kinks(answers(b)), ""), None);
}

fn search(case: &LoadCase, settings: &Settings) -> SizeInput {
    SizeInput {
        case: case.clone(),
        line: support::line::line(case.points.len()),
        settings: Settings { rams_per_point: 2, ..settings.clone() },
        rams: yard::rams().into_iter().map(std::sync::Arc::new).collect(),
        packing: yard::pieces(),
        currency: "EUR".into(),
        price: ramwright_engine::defaults::PRICE_TERMS,
        search: support::every_set(),
        supply: None,
    }
}

/// All four operations on a proposal.
fn answers(input: &VerifyInput) -> Value {
    let plan = PlanInput {
        search: search(&input.case, &input.settings),
        proposed: Some(input.set.clone()),
        circuit: Some(yard::circuit()),
        site: input.site.clone(),
    };
    serde_json::json!({
        "shares": json(share_load(&input.case).map_err(EngineError::from)),
        "verification": json(verify(input)),
        "sizing": json(size_ram_set(&plan.search, effort())),
        "plan": json(plan_lift(&plan, effort())),
    })
}

fn moved(case: &LoadCase, to: impl Fn((Length, Length)) -> (Length, Length)) -> LoadCase {
    let mut case = case.clone();
    if let Sharing::Placed(placed) = &mut case.sharing {
        placed.positions.iter_mut().for_each(|position| *position = to(*position));
        let centre = &mut placed.centre;
        let ends = [
            to((centre.x.least, centre.y.least)),
            to((centre.x.expected, centre.y.expected)),
            to((centre.x.greatest, centre.y.greatest)),
        ];
        // A mirror turns the ends of a range about.
        let range = |of: fn(&(Length, Length)) -> Length| {
            let [a, expected, b] = [of(&ends[0]), of(&ends[1]), of(&ends[2])];
            if b < a { Range::new(b, expected, a) } else { Range::new(a, expected, b) }
        };
        (centre.x, centre.y) = (range(|at| at.0), range(|at| at.1));
        for own in placed.phases.iter_mut().flat_map(|plan| &mut plan.own_bearings) {
            (own.x, own.y) = to((own.x, own.y));
        }
    }
    for point in &mut case.points {
        point.packing_at = point.packing_at.map(&to);
    }
    // Directions go with the plan.
    let origin = to((Length::ZERO, Length::ZERO));
    let turned = |toward: Angle| {
        let (sine, cosine) = libm::sincos(toward.rad());
        let tip = to((m(cosine), m(sine)));
        Angle::from_rad(libm::atan2((tip.1 - origin.1).m(), (tip.0 - origin.0).m()))
    };
    if let Some(wind) = &mut case.actions.wind {
        wind.toward = wind.toward.map(turned);
    }
    if let Some(slope) = &mut case.actions.slope {
        slope.toward = slope.toward.map(turned);
    }
    case
}

/// A value that was divided by some unit's factor and multiplied by it again.
fn round<T: Typed>(value: T, factor: f64) -> T {
    T::from_si(value.si() / factor * factor)
}

fn round_range<T: Typed>(range: Range<T>, factor: f64) -> Range<T> {
    Range::new(round(range.least, factor), round(range.expected, factor), round(range.greatest, factor))
}

fn case_in_other_units(case: &LoadCase, factor: f64) -> LoadCase {
    let mut other = moved(case, |(x, y)| (round(x, factor), round(y, factor)));
    other.weight = round_range(case.weight, factor);
    other.travel = round(case.travel, factor);
    if let Horizontal::Stated(force) = case.actions.horizontal {
        other.actions.horizontal = Horizontal::Stated(round(force, factor));
    }
    if let Some(wind) = &mut other.actions.wind {
        (wind.pressure, wind.height) = (round(wind.pressure, factor), round(wind.height, factor));
        (wind.area, wind.toward) = (round(wind.area, factor), wind.toward.map(|toward| round(toward, factor)));
    }
    if let Some(slope) = &mut other.actions.slope {
        (slope.angle, slope.toward) = (round(slope.angle, factor), slope.toward.map(|toward| round(toward, factor)));
    }
    other.sharing = match other.sharing {
        Sharing::Stated(shares) => {
            Sharing::Stated(shares.into_iter().map(|share| round_range(share, factor)).collect())
        }
        Sharing::Placed(mut placed) => {
            placed.centre.z = placed.centre.z.map(|z| round(z, factor));
            placed.level_band = placed.level_band.map(|band| round(band, factor));
            placed.least_tipping_margin = placed.least_tipping_margin.map(|margin| round(margin, factor));
            Sharing::Placed(placed)
        }
        Sharing::Equal => Sharing::Equal,
    };
    for point in &mut other.points {
        point.clearance = point.clearance.map(|value| round(value, factor));
        point.limit = point.limit.map(|value| round(value, factor));
        point.stiffness = point.stiffness.map(|value| round(value, factor));
        point.held_stiffness = point.held_stiffness.map(|value| round(value, factor));
        point.ram_area = point.ram_area.map(|value| round(value, factor));
        point.level = round(point.level, factor);
        point.foundation_limit = point.foundation_limit.map(|value| round(value, factor));
        if let Some(pad) = &mut point.pad {
            (pad.length, pad.width) = (round(pad.length, factor), round(pad.width, factor));
        }
    }
    other
}

fn ram_in_other_units(ram: &Ram, factor: f64) -> Ram {
    Ram {
        effective_area: round(ram.effective_area, factor),
        annulus_area: ram.annulus_area.map(|value| round(value, factor)),
        rated_pressure: round(ram.rated_pressure, factor),
        stroke: round(ram.stroke, factor),
        closed_height: round(ram.closed_height, factor),
        body_diameter: ram.body_diameter.map(|value| round(value, factor)),
        base_diameter: ram.base_diameter.map(|value| round(value, factor)),
        plunger_diameter: ram.plunger_diameter.map(|value| round(value, factor)),
        ..ram.clone()
    }
}

fn in_other_units(input: &VerifyInput, factor: f64) -> VerifyInput {
    let mut other = input.clone();
    other.case = case_in_other_units(&input.case, factor);
    other.set.at_points.iter_mut().for_each(|placed| placed.ram = ram_in_other_units(&placed.ram, factor).into());
    other.settings.plates = round(input.settings.plates, factor);
    other.settings.entry_gap = round(input.settings.entry_gap, factor);
    other.settings.follow_up_gap = round(input.settings.follow_up_gap, factor);
    other.settings.packing_gap = round(input.settings.packing_gap, factor);
    for piece in &mut other.packing {
        piece.thickness = round(piece.thickness, factor);
        piece.settlement_greatest = round(piece.settlement_greatest, factor);
        (piece.length, piece.width) = (round(piece.length, factor), round(piece.width, factor));
    }
    other
}

/// The same points under other numbers.
fn renumbered(input: &VerifyInput, order: &[usize]) -> VerifyInput {
    let mut other = reordered(input, order);
    for (index, point) in other.case.points.iter_mut().enumerate() {
        point.id = (index + 1).to_string();
    }
    other
}

/// Inch, foot, pound-force, pounds per square inch and some that nobody uses.
fn factors() -> impl Strategy<Value = f64> {
    prop::sample::select(vec![0.0254, 0.3048, 4.448_221_615_260_5, 6_894.757_293_168_361, 0.1, 3.0, 9.806_65])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn verify_the_origin_changes_nothing(input in proposals(), dx in -500.0f64..500.0, dy in -500.0f64..500.0) {
        let far = VerifyInput { case: moved(&input.case, |(x, y)| (x + m(dx), y + m(dy))), ..input.clone() };
        same(&input, &far, &|(x, y)| (x - dx * 1e3, y - dy * 1e3), true);
    }

    #[test]
    fn verify_left_and_right_change_nothing(input in proposals()) {
        let mirrored = VerifyInput { case: moved(&input.case, |(x, y)| (-x, y)), ..input.clone() };
        same(&input, &mirrored, &|(x, y)| (-x, y), false);
        let turned = VerifyInput { case: moved(&input.case, |(x, y)| (-x, -y)), ..input.clone() };
        same(&input, &turned, &|(x, y)| (-x, -y), false);
    }

    #[test]
    fn verify_units_change_nothing(input in proposals(), factor in factors()) {
        same(&input, &in_other_units(&input, factor), &|at| at, true);
    }

    #[test]
    fn verify_the_order_of_the_list_changes_nothing(
        (input, order) in proposals().prop_flat_map(|input| {
            let order: Vec<usize> = (0..input.case.points.len()).collect();
            (Just(input), Just(order).prop_shuffle())
        })
    ) {
        let listed_otherwise = in_order(&reordered(&input, &order));
        prop_assert_eq!(&listed_otherwise, &input);
        prop_assert_eq!(answers(&listed_otherwise), answers(&input));
    }

    /// The same places under other numbers, and so summed in another order.
    #[test]
    fn verify_the_numbers_of_the_points_change_no_number(
        (input, order) in proposals().prop_flat_map(|input| {
            let order: Vec<usize> = (0..input.case.points.len()).collect();
            (Just(input), Just(order).prop_shuffle())
        })
    ) {
        let other = renumbered(&input, &order);
        let (one, two) = match (verify(&input), verify(&other)) {
            (Ok(one), Ok(two)) => (one, two),
            (one, two) => {
                prop_assert_eq!(one.is_err(), two.is_err());
                return Ok(());
            }
        };
        let scale = input.case.weight.greatest.n();
        prop_assert_eq!(one.verdict.status, two.verdict.status);
        let listed = |answer: &ramwright_engine::verify::Verification| {
            let mut all: Vec<_> = answer.checks.iter().map(|check| (check.id, check.scenario, check.phase, check.status)).collect();
            all.sort_by_key(|entry| format!("{entry:?}"));
            all
        };
        prop_assert_eq!(listed(&one), listed(&two));
        for (index, share) in two.load_shares.points.iter().enumerate() {
            let before = &one.load_shares.points[order[index]].share;
            for (a, b) in [(before.least, share.share.least), (before.expected, share.share.expected), (before.greatest, share.share.greatest)] {
                prop_assert!(close(a.n(), b.n(), SAME, scale), "{before:?} and {share:?}");
            }
        }
        for check in &two.checks {
            let at = other.case.points.iter().position(|point| point.id == check.subject);
            let subject = at.map_or(check.subject.clone(), |at| input.case.points[order[at]].id.clone());
            // In a scenario only the worst point is told of, and of equals the first.
            let scenario = |other: &&Check| (other.id, other.scenario, other.phase) == (check.id, check.scenario, check.phase);
            let mut alike = one.checks.iter().filter(scenario);
            let before = match (alike.next(), alike.next()) {
                (Some(only), None) if check.scenario != Scenario::AsPlanned => only,
                _ => support::check_in(&one.checks, check.id, &subject, check.scenario, check.phase),
            };
            prop_assert_eq!(before.status, check.status);
            let (a, b) = (before.utilisation.unwrap_or(0.0), check.utilisation.unwrap_or(0.0));
            prop_assert!(close(a, b, SAME, 1.0), "{:?} {a} and {b}", check.id);
        }
        // Pressures belong to the points, and so go with their numbers.
        let plan = |answer: &ramwright_engine::verify::Verification| {
            answer.sequence.as_ref().map(|sequence| {
                (
                    (sequence.outcome, sequence.cycles, sequence.lower_bound, sequence.reason.clone()),
                    (sequence.pieces_handled, sequence.pieces.clone(), sequence.greatest_stack, sequence.greatest_extension),
                )
            })
        };
        prop_assert_eq!(plan(&one), plan(&two));
    }

    #[test]
    fn verify_the_numbers_of_the_points_change_no_choice(
        (case, order) in load_cases().prop_flat_map(|case| {
            let order: Vec<usize> = (0..case.points.len()).collect();
            (Just(case), Just(order).prop_shuffle())
        })
    ) {
        let input = support::proposal(case, &yard::small_ram(), 1);
        let other = renumbered(&input, &order);
        let found = |case: &LoadCase| size_ram_set(&search(case, &settings()), effort()).ok().map(|sizing| {
            let words: Vec<_> = sizing.options.iter().map(|option| (option.set.clone(), option.rams_per_point(), option.verdict.status, option.pareto, option.packing_lifts)).collect();
            let refused: Vec<_> = sizing.refusals.iter().map(|refusal| (refusal.check, refusal.models, refusal.nearest.ram.clone())).collect();
            (words, refused)
        });
        prop_assert_eq!(found(&input.case), found(&other.case));
    }
}

/// The comparison itself sees a difference, and there is something to compare.
#[test]
fn verify_the_comparison_sees_what_differs() {
    let mut case = support::placed(support::kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    let one = answers(&support::proposal(case.clone(), &yard::rams()[3], 1));
    assert!(10_000 < one.to_string().len() && one["sizing"]["options"][0].is_object(), "{one}");
    plan_of(&mut case).centre.x = support::exactly(m(3.000_001));
    let two = answers(&support::proposal(case, &yard::rams()[3], 1));
    let comparison = Comparison { weight_kn: 600.0, back: &|at| at, handed: true };
    assert!(comparison.difference(&one, &two, "").is_some_and(|found| found.starts_with("/plan/")));
    assert_eq!(comparison.difference(&one, &one, ""), None);
    assert!(same_words("by 218.7 % from 2, towards (-1.000, -0.000)", "by 218.8 % from 2, towards (-1.000, +0.000)"));
    assert!(!same_words("by 218.7 % from 2", "by 218.7 % from 3") && !same_words("by 218.7 %", "by 218.9 %"));
}
