//! Published and computed loads, limits and properties of the two-section column.

use super::*;
use proptest::prelude::*;

/// Published and independently computed loads, with source and status in the file.
const REFERENCE: &str = include_str!("../../../../../../tests/reference/stepped_column.toml");

fn section(rigidity_nm2: f64, length_m: f64) -> ColumnSection {
    ColumnSection { youngs_modulus_pa: rigidity_nm2, second_moment_m4: 1.0, length_m }
}

fn load_n(ei1: f64, l1: f64, ei2: f64, l2: f64, ends: ColumnEnds) -> f64 {
    critical_load(&section(ei1, l1), &section(ei2, l2), ends).unwrap().load_n
}

fn spring(rotational_stiffness_nm_per_rad: f64) -> ColumnEnds {
    ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad }
}

#[track_caller]
fn assert_near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "got {got}, want {want} within {tolerance:e}");
}

#[track_caller]
fn assert_relative(got: f64, want: f64, tolerance: f64) {
    assert_near(got, want, tolerance * want.abs());
}

fn reference() -> toml::Table {
    REFERENCE.parse().unwrap()
}

fn numbers(value: &toml::Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|v| v.as_float().unwrap()).collect()
}

fn check_table(name: &str, ends: ColumnEnds) {
    let reference = reference();
    let fractions = numbers(&reference["a_over_length"]);
    let rows = reference[name].as_array().unwrap();
    assert_eq!((rows.len(), fractions.len()), (13, 9));
    for row in rows {
        let ratio = row["i2_over_i1"].as_float().unwrap();
        let printed = numbers(&row["m"]);
        assert_eq!(printed.len(), fractions.len());
        for (a, m) in fractions.iter().zip(printed) {
            // Half of the last printed digit, and the rounding of the comparison.
            assert_near(load_n(1.0, *a, ratio, 1.0 - a, ends) / (PI * PI), m, 0.5e-5 + 1e-9);
        }
    }
}

/// Source: `stepped_column.toml`, computed independently by finite elements and finite differences.
#[test]
fn validate_fixed_free_table() {
    check_table("fixed_free", ColumnEnds::FixedFree);
}

/// Source: as for the fixed-free table.
#[test]
fn validate_pinned_pinned_table() {
    check_table("pinned_pinned", ColumnEnds::PinnedPinned);
}

/// Source: `stepped_column.toml`, computed independently by finite elements, to their stated 1e-4.
#[test]
fn validate_fixed_pinned_table() {
    let reference = reference();
    let table = &reference["fixed_pinned"];
    let fractions = numbers(&table["a_over_length"]);
    let rows = table["rows"].as_array().unwrap();
    assert_eq!((rows.len(), fractions.len()), (5, 5));
    for row in rows {
        let ratio = row["i2_over_i1"].as_float().unwrap();
        for (a, m) in fractions.iter().zip(numbers(&row["m"])) {
            let found = load_n(1.0, *a, ratio, 1.0 - a, ColumnEnds::FixedPinned) / (PI * PI);
            assert_near(found, m, 0.5e-4 + 1e-4 * m);
        }
    }
}

/// A uniform column, wherever it is cut: the first root of `tan u = u`; and every load lies between those of the column with
/// one hold less and of the stiffer section alone.
#[test]
fn verify_fixed_pinned_lies_between_its_neighbours() {
    for cut in [0.0, 0.1, 0.25, 0.5, 0.9, 1.0] {
        let uniform = load_n(2.0, cut, 2.0, 1.0 - cut, ColumnEnds::FixedPinned);
        assert_relative(uniform, 2.0 * 4.493_409_457_909_064 * 4.493_409_457_909_064, 1e-12);
    }
    for ratio in [1e-4, 0.01, 0.1, 0.7, 1.5, 20.0, 1e4] {
        for a in [0.01, 0.2, 0.5, 0.8, 0.99] {
            let load = |ends| load_n(1.0, a, ratio, 1.0 - a, ends);
            let clamped = load(ColumnEnds::FixedPinned);
            assert!(load(ColumnEnds::PinnedPinned) * (1.0 - 1e-12) <= clamped, "{ratio} {a}");
            assert!(load(ColumnEnds::FixedFree) <= clamped, "{ratio} {a}");
            let stiffer = f64::max(1.0, ratio) * 4.493_41 * 4.493_41;
            assert!(clamped <= stiffer * (1.0 + 1e-9), "{ratio} {a}");
            let found = critical_load(&section(1.0, a), &section(ratio, 1.0 - a), ColumnEnds::FixedPinned).unwrap();
            assert!(found.residual.abs() < 1e-6, "{ratio} {a}: {}", found.residual);
        }
    }
}

/// Source: Timoshenko & Gere, Theory of Elastic Stability, symmetric three-part bar, values from memory; and the same
/// cases computed independently. Half of that bar is the fixed-free column.
///
/// One remembered value, 0.270 against 0.27052 here and 0.2705 computed, is not the load rounded to three figures.
#[test]
fn validate_timoshenko_three_part_bar() {
    let reference = reference();
    let table = &reference["timoshenko_three_part"];
    let fractions = numbers(&table["a_over_length"]);
    let rows = table["rows"].as_array().unwrap();
    assert_eq!((rows.len(), fractions.len()), (6, 4));
    let mut rounded_otherwise = Vec::new();
    for row in rows {
        let ratio = row["i1_over_i2"].as_float().unwrap();
        let printed = numbers(&row["remembered"]).into_iter().zip(numbers(&row["computed"]));
        for (a, (remembered, computed)) in fractions.iter().zip(printed) {
            let m = load_n(1.0, a / 2.0, ratio, (1.0 - a) / 2.0, ColumnEnds::FixedFree);
            assert_near(m, computed, half_digit(computed, 4));
            assert_near(m, remembered, 2.0 * half_digit(remembered, 3));
            if half_digit(remembered, 3) < (m - remembered).abs() {
                rounded_otherwise.push((ratio, *a));
            }
        }
    }
    assert_eq!(rounded_otherwise, [(0.01, 0.4)]);
}

/// Half a unit of the last of `figures` printed figures.
fn half_digit(printed: f64, figures: i32) -> f64 {
    0.5 * libm::exp10(libm::floor(libm::log10(printed)) + 1.0 - f64::from(figures)) * (1.0 + 1e-9)
}

/// Source: `stepped_column.toml`, `end_to_end`: loads computed independently for invented dimensions.
#[test]
fn validate_body_and_plunger() {
    let reference = reference();
    let row = |key: &str| reference["end_to_end"][key].as_float().unwrap();
    let second_moment_m4 = |d: f64| PI * d * d * d * d / 64.0;
    let body = ColumnSection {
        youngs_modulus_pa: row("youngs_modulus_pa"),
        second_moment_m4: second_moment_m4(row("body_outside_diameter_m"))
            - second_moment_m4(row("body_inside_diameter_m")),
        length_m: row("body_length_m"),
    };
    let plunger = ColumnSection {
        second_moment_m4: second_moment_m4(row("plunger_diameter_m")),
        length_m: row("plunger_length_m"),
        ..body
    };
    let alone = ColumnSection { length_m: body.length_m + plunger.length_m, ..plunger };
    let nothing = ColumnSection { length_m: 0.0, ..body };
    for (ends, whole, rod) in [
        (ColumnEnds::FixedFree, "fixed_free_n", "plunger_alone_fixed_free_n"),
        (ColumnEnds::PinnedPinned, "pinned_pinned_n", "plunger_alone_pinned_pinned_n"),
    ] {
        assert_near(critical_load(&body, &plunger, ends).unwrap().load_n, row(whole), 5.0);
        assert_near(critical_load(&nothing, &alone, ends).unwrap().load_n, row(rod), 5.0);
    }
}

/// Source: roots of `x tan x = lambda`, Abramowitz & Stegun, table 4.20, from memory; a uniform column on a base
/// spring buckles at `u tan u = c L / (E I)`.
#[test]
fn validate_uniform_column_on_spring() {
    for (lambda, root) in [(0.5, 0.653_27), (1.0, 0.860_33), (10.0, 1.428_87)] {
        for l1 in [0.0, 0.3, 1.0] {
            assert_near(load_n(1.0, l1, 1.0, 1.0 - l1, spring(lambda)).sqrt(), root, 0.5e-5 + 1e-9);
        }
    }
}

/// Source: `stepped_column.toml`, `spring_free`: computed independently by finite elements.
#[test]
fn validate_spring_free_rows() {
    let reference = reference();
    let rows = reference["spring_free"].as_array().unwrap();
    assert_eq!(rows.len(), 9);
    for row in rows {
        let value = |key: &str| row[key].as_float().unwrap();
        let load = load_n(
            value("rigidity_1_nm2"),
            value("length_1_m"),
            value("rigidity_2_nm2"),
            value("length_2_m"),
            spring(value("rotational_stiffness_nm_per_rad")),
        );
        assert_near(load, value("critical_load_n"), 0.5e-6 + 1e-9);
    }
}

/// Euler's loads, either length zero, and equal sections.
#[test]
fn verify_single_section_is_euler() {
    let (ei, length) = (3.0e6, 1.7);
    for (ends, phase) in [(ColumnEnds::FixedFree, FRAC_PI_2), (ColumnEnds::PinnedPinned, PI)] {
        let euler_n = phase * phase * ei / (length * length);
        assert_relative(load_n(ei, length, 17.0, 0.0, ends), euler_n, 1e-14);
        assert_relative(load_n(17.0, 0.0, ei, length, ends), euler_n, 1e-14);
        assert_relative(load_n(ei, 0.4, ei, length - 0.4, ends), euler_n, 1e-14);
    }
}

#[test]
fn verify_spring_limits() {
    let fixed_n = load_n(5.0, 0.7, 0.8, 1.3, ColumnEnds::FixedFree);
    assert_relative(load_n(5.0, 0.7, 0.8, 1.3, spring(1e30)), fixed_n, 1e-13);
    // A soft spring under a rigid column: P -> c / L.
    assert_relative(load_n(5.0, 0.7, 0.8, 1.3, spring(1e-12)), 0.5e-12, 1e-11);
    // A rigid base section on a spring does not depend on which rigid value it has.
    let rigid = |ei1| load_n(ei1, 0.7, 0.8, 1.3, spring(2.0));
    assert_relative(rigid(1e20), rigid(1e24), 1e-12);
}

#[test]
fn verify_errors() {
    let good = section(1.0, 1.0);
    let result = |base: ColumnSection, ends| critical_load(&base, &good, ends);
    let fixed = ColumnEnds::FixedFree;
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(matches!(result(section(bad, 1.0), fixed), Err(ColumnError::NotFinite { .. })));
        assert!(matches!(result(section(1.0, bad), fixed), Err(ColumnError::NotFinite { .. })));
        assert!(matches!(result(good, spring(bad)), Err(ColumnError::NotFinite { .. })));
    }
    for bad in [0.0, -0.0, -1.0] {
        assert!(matches!(result(section(bad, 1.0), fixed), Err(ColumnError::NotPositive { .. })));
        assert!(matches!(result(good, spring(bad)), Err(ColumnError::NotPositive { .. })));
    }
    assert!(matches!(result(section(1.0, -1.0), fixed), Err(ColumnError::NotPositive { .. })));
    assert!(matches!(result(section(1.0, 1e-60), fixed), Err(ColumnError::OutsideComputable { .. })));
    assert!(matches!(result(section(1e60, 1.0), fixed), Err(ColumnError::OutsideComputable { .. })));
    let none = section(1.0, 0.0);
    assert_eq!(critical_load(&none, &none, fixed), Err(ColumnError::NoLength));
}

/// Least load of a tridiagonal problem `K v = P M v` with diagonal `mass`, by counting negative pivots (Sturm).
fn least_eigenvalue(diagonal: &[f64], coupling: &[f64], mass: &[f64]) -> f64 {
    let any_negative_pivot = |load: f64| {
        let mut pivot = 1.0;
        for (i, d) in diagonal.iter().enumerate() {
            let left = if i == 0 { 0.0 } else { coupling[i - 1] };
            pivot = d - load * mass[i] - left * left / pivot;
            if pivot <= 0.0 {
                return true;
            }
        }
        false
    };
    let (mut below, mut above) = (0.0, 1.0);
    while !any_negative_pivot(above) {
        above *= 2.0;
    }
    for _ in 0..100 {
        let middle = f64::midpoint(below, above);
        *(if any_negative_pivot(middle) { &mut above } else { &mut below }) = middle;
    }
    above
}

/// Rigid links joined by springs on a base spring, head free: unknowns are the rotations of the links. It uses the
/// energy of the deformed column and none of the formulas above.
fn link_model_n([ei1, l1, ei2, l2]: [f64; 4], base_flexibility: f64) -> f64 {
    let (h1, h2) = (l1 / 300.0, l2 / 300.0);
    let mut flexibility = vec![base_flexibility + h1 / 2.0 / ei1];
    flexibility.extend(vec![h1 / ei1; 299]);
    flexibility.push(h1 / 2.0 / ei1 + h2 / 2.0 / ei2);
    flexibility.extend(vec![h2 / ei2; 299]);
    let joint: Vec<f64> = flexibility.iter().map(|f| 1.0 / f).collect();
    let diagonal: Vec<f64> = (0..600).map(|i| joint[i] + joint.get(i + 1).unwrap_or(&0.0)).collect();
    let mass = [vec![h1; 300], vec![h2; 300]].concat();
    least_eigenvalue(&diagonal, &joint[1..], &mass)
}

/// `-w'' = P w / EI` between two pins by finite volumes.
fn volume_model_n([ei1, l1, ei2, l2]: [f64; 4]) -> f64 {
    let (h1, h2) = (l1 / 300.0, l2 / 300.0);
    let cell = |i: usize| if i < 300 { (h1, ei1) } else { (h2, ei2) };
    let node = |i: usize| (cell(i), cell(i + 1));
    let diagonal: Vec<f64> = (0..599).map(|i| 1.0 / node(i).0.0 + 1.0 / node(i).1.0).collect();
    let coupling: Vec<f64> = (0..598).map(|i| 1.0 / cell(i + 1).0).collect();
    let half = |(h, ei): (f64, f64)| h / 2.0 / ei;
    let mass: Vec<f64> = (0..599).map(|i| half(node(i).0) + half(node(i).1)).collect();
    least_eigenvalue(&diagonal, &coupling, &mass)
}

fn across(decades: core::ops::Range<f64>) -> impl Strategy<Value = f64> {
    decades.prop_map(libm::exp10)
}

fn any_ends() -> impl Strategy<Value = ColumnEnds> {
    prop_oneof![Just(ColumnEnds::FixedFree), Just(ColumnEnds::PinnedPinned), across(-6.0..6.0).prop_map(spring),]
}

fn euler_n(ei: f64, length: f64, ends: ColumnEnds) -> f64 {
    load_n(ei, length, ei, 0.0, ends)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn verify_against_discrete_models(
        ei1 in across(-2.0..2.0), ei2 in across(-2.0..2.0), l1 in 0.05..1.0, l2 in 0.05..1.0, c in across(-2.0..2.0),
    ) {
        let column = [ei1, l1, ei2, l2];
        let exact = |ends| load_n(ei1, l1, ei2, l2, ends);
        assert_relative(link_model_n(column, 0.0), exact(ColumnEnds::FixedFree), 1e-4);
        assert_relative(link_model_n(column, 1.0 / c), exact(spring(c)), 1e-4);
        assert_relative(volume_model_n(column), exact(ColumnEnds::PinnedPinned), 1e-4);
    }

    #[test]
    fn verify_bounds_and_residual(
        ei1 in across(-6.0..6.0), ei2 in across(-6.0..6.0), l1 in across(-4.0..2.0), l2 in across(-4.0..2.0),
        c in across(-9.0..9.0),
    ) {
        let (weaker, stiffer, length) = (ei1.min(ei2), ei1.max(ei2), l1 + l2);
        for ends in [ColumnEnds::FixedFree, ColumnEnds::PinnedPinned] {
            let load = load_n(ei1, l1, ei2, l2, ends);
            prop_assert!(euler_n(weaker, length, ends) * (1.0 - 1e-13) <= load);
            prop_assert!(load <= euler_n(stiffer, length, ends) * (1.0 + 1e-13));
        }
        let fixed = load_n(ei1, l1, ei2, l2, ColumnEnds::FixedFree);
        let sprung = critical_load(&section(ei1, l1), &section(ei2, l2), spring(c)).unwrap();
        prop_assert!(sprung.load_n <= fixed * (1.0 + 1e-13));
        prop_assert!(sprung.load_n <= c / length * (1.0 + 1e-13));
        prop_assert!(1.0 / (1.0 / fixed + length / c) <= sprung.load_n * (1.0 + 1e-13));
        prop_assert!(sprung.residual.abs() <= 1e-14);
    }

    /// Scans every load below the answer: an earlier root would show as a sign change.
    #[test]
    fn verify_no_earlier_root(
        ei1 in across(-4.0..4.0), ei2 in across(-4.0..4.0), l1 in across(-3.0..1.0), l2 in across(-3.0..1.0),
        ends in any_ends(),
    ) {
        let column = Column::parse(&section(ei1, l1), &section(ei2, l2), ends).unwrap();
        let load = load_n(ei1, l1, ei2, l2, ends);
        for step in 1..2000 {
            prop_assert!(0.0 < column.characteristic(load * f64::from(step) / 2000.0));
        }
        prop_assert!(column.characteristic(load * (1.0 + 1e-9)) < 0.0);
    }

    #[test]
    fn verify_monotone(
        ei1 in across(-4.0..4.0), ei2 in across(-4.0..4.0), l1 in across(-3.0..1.0), l2 in across(-3.0..1.0),
        ends in any_ends(), factor in 1.001..3.0,
    ) {
        let load = load_n(ei1, l1, ei2, l2, ends);
        let slack = load * (1.0 + 1e-13);
        prop_assert!(load <= load_n(ei1 * factor, l1, ei2, l2, ends) * (1.0 + 1e-13));
        prop_assert!(load <= load_n(ei1, l1, ei2 * factor, l2, ends) * (1.0 + 1e-13));
        prop_assert!(load_n(ei1, l1 * factor, ei2, l2, ends) <= slack);
        prop_assert!(load_n(ei1, l1, ei2, l2 * factor, ends) <= slack);
        if let ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad: c } = ends {
            prop_assert!(load <= load_n(ei1, l1, ei2, l2, spring(c * factor)) * (1.0 + 1e-13));
        }
    }

    #[test]
    fn verify_pinned_ends_can_be_swapped(
        ei1 in across(-4.0..4.0), ei2 in across(-4.0..4.0), l1 in across(-3.0..1.0), l2 in across(-3.0..1.0),
    ) {
        let ends = ColumnEnds::PinnedPinned;
        assert_relative(load_n(ei2, l2, ei1, l1, ends), load_n(ei1, l1, ei2, l2, ends), 1e-12);
    }

    /// The corners of the computable range keep their bounds: nothing vanishes or overflows on the way.
    #[test]
    fn verify_extreme_scales(
        ei1 in across(-49.9..49.9), ei2 in across(-49.9..49.9), l1 in across(-49.9..49.9), l2 in across(-49.9..49.9),
        c in across(-49.9..49.9),
    ) {
        let fixed = load_n(ei1, l1, ei2, l2, ColumnEnds::FixedFree);
        let sprung = load_n(ei1, l1, ei2, l2, spring(c));
        let dunkerley = 1.0 / (1.0 / fixed + (l1 + l2) / c);
        prop_assert!(dunkerley * (1.0 - 1e-12) <= sprung && sprung <= fixed.min(c / (l1 + l2)) * (1.0 + 1e-12));
    }

    #[test]
    fn verify_any_float_gives_error_or_positive_load(
        v in any::<[f64; 6]>(), ends in any_ends(),
    ) {
        let base = ColumnSection { youngs_modulus_pa: v[0], second_moment_m4: v[1], length_m: v[2] };
        let head = ColumnSection { youngs_modulus_pa: v[3], second_moment_m4: v[4], length_m: v[5] };
        for (base, head) in [(base, head), (base, section(1.0, 1.0)), (section(1.0, 1.0), head)] {
            if let Ok(result) = critical_load(&base, &head, ends) {
                prop_assert!(result.load_n.is_normal() && 0.0 < result.load_n);
                prop_assert!(result.residual.abs() <= 1e-12);
            }
        }
    }
}
